//! What stands whatever the wind: how deep fasteners bite, how far they stay from edges, what hangs on long screws and how far
//! they sag.

use super::{INDICATIVE, counts, figure, hundredths};
use crate::figures::{Figure, Found, Missing, Source, Value, What};
use crate::loads::{self, Fastening, bite, edge, of_layers, on_screw, strip_width, through_insulation};
use crate::model::{Assembly, Limit, Model, Sureness};
use crate::units::{Dimension, Keep, Length};

/// Cladding and strips.
pub static HUNG: What = What {
    key: "fastening.cladding_weight",
    title: "cladding and strips weigh",
    dimension: Dimension::SURFACE_MASS,
    keep: Keep::Significant(2),
};

/// What hangs on one screw through insulation.
pub static WEIGHT: What = What {
    key: "fastening.weight",
    title: "weight on a screw through insulation",
    dimension: Dimension::FORCE,
    keep: Keep::Significant(2),
};

/// What bends it as much as the proven case: light cladding on thin insulation.
pub static WEIGHT_PROVEN: What = What {
    key: "fastening.weight_proven",
    title: "proven weight on such a screw",
    dimension: Dimension::FORCE,
    keep: Keep::Significant(2),
};

/// The one by the other.
pub static WEIGHT_SHARE: What = What {
    key: "fastening.weight_share",
    title: "weight on a screw, of what is proven",
    dimension: Dimension::NUMBER,
    keep: Keep::Places(2),
};

/// From a head that the strip holds square to one that turns.
pub static SAGS: What = What {
    key: "fastening.sags",
    title: "a screw through insulation sags",
    dimension: Dimension::LENGTH,
    keep: Keep::Places(1),
};

/// Depth in what it goes into.
pub static BITE: What =
    What { key: "fastening.bite", title: "fasteners bite", dimension: Dimension::LENGTH, keep: Keep::Places(0) };

/// What the rule set asks.
pub static BITE_ASKED: What = What {
    key: "fastening.bite_asked",
    title: "fasteners are to bite",
    dimension: Dimension::LENGTH,
    keep: Keep::Places(0),
};

/// From the end of a piece or a strip, and from its long edge.
pub static EDGE: What =
    What { key: "fastening.edge", title: "fasteners stay off", dimension: Dimension::LENGTH, keep: Keep::Places(0) };

/// What the rule set asks.
pub static EDGE_ASKED: What = What {
    key: "fastening.edge_asked",
    title: "fasteners are to stay off",
    dimension: Dimension::LENGTH,
    keep: Keep::Places(0),
};

/// Of a strip with a screw through its middle.
pub static WIDTH: What = What {
    key: "fastening.strip_width",
    title: "strips are wide",
    dimension: Dimension::LENGTH,
    keep: Keep::Places(0),
};

/// What keeps it from splitting.
pub static WIDTH_ASKED: What = What {
    key: "fastening.strip_width_asked",
    title: "strips are to be wide, for their screws",
    dimension: Dimension::LENGTH,
    keep: Keep::Places(0),
};

const DECLARED: Source = Source { standard: "the wall as declared", edition: "", clause: "" };
const RULES: Source = Source { standard: "the rule set in force", edition: "", clause: "" };
const BY_AREA: Source = Source { standard: "weight of the cladding by wall for each screw", edition: "", clause: "" };
const PROVEN: Source =
    Source { standard: "bending against the proven case, light cladding on thin insulation", edition: "", clause: "" };
const CANTILEVER: Source =
    Source { standard: "cantilever, Fl³/3EI, a quarter where the head is held square", edition: "", clause: "" };

/// Figures of a wall by itself.
pub(super) fn figures(model: &Model, wall: &Assembly) -> Found {
    let mut found = Found::default();
    let held = of_layers(model, "", wall);
    hung(&mut found, model, wall, &held);
    for one in held.iter().filter(|one| counts(one)) {
        bites(&mut found, model, one);
        edges(&mut found, model, one);
    }
    found
}

/// What hangs on screws through insulation; nothing for a wall without them.
fn hung(found: &mut Found, model: &Model, wall: &Assembly, held: &[Fastening<'_>]) {
    let Some(one) = through_insulation(wall, held) else { return };
    let loads = match on_screw(model, wall, one, held) {
        Ok(loads) => loads,
        Err(fact) => return found.missing.push(Missing { what: &WEIGHT_SHARE, of: String::new(), fact }),
    };
    let (sure, proven) = (loads.sure.max(Sureness::Memory), loads.limit.sure.max(loads.sure).max(Sureness::Memory));
    let tenths = |newtons: f64| libm::round(newtons * 10.0) / 10.0;
    let rows = [
        (&HUNG, tenths(loads.hung), BY_AREA, sure),
        (&WEIGHT, tenths(loads.weight), BY_AREA, sure),
        (&WEIGHT_PROVEN, tenths(loads.may_carry()), PROVEN, proven),
        (&WEIGHT_SHARE, hundredths(loads.bending / loads.proven.max(1e-9)), PROVEN, proven),
    ];
    found.figures.extend(rows.map(|(what, value, source, sure)| figure(what, "", value, source, sure)));
    match one.fasten.diameter.and_then(|diameter| loads.sags(diameter)) {
        Some(sag) => {
            let value = Value::Number(sag.through(|metres| libm::round(metres * 1e4) / 1e4));
            let doubt = format!("{INDICATIVE}; as thick as its name, wood and friction not counted");
            let figure = Figure { what: &SAGS, of: String::new(), value, source: CANTILEVER, sure, doubt };
            found.figures.push(figure);
        }
        None => {
            let fact = format!("diameter of the fastener of {} is not said", one.what);
            found.missing.push(Missing { what: &SAGS, of: String::new(), fact });
        }
    }
}

fn bites(found: &mut Found, model: &Model, one: &Fastening<'_>) {
    match bite(model, one) {
        Ok(bite) => pair(found, of(one), (&BITE, bite.depth), (&BITE_ASKED, bite.limit, bite.wanted)),
        Err(fact) => miss(found, of(one), &BITE, fact),
    }
}

/// Ends and edges of the cladding, ends and width of strips.
fn edges(found: &mut Found, model: &Model, one: &Fastening<'_>) {
    let end = one.fasten.end_distance.ok_or_else(|| {
        format!("how far the last fastener of {} stays from the end is not said (`end_distance`)", one.what)
    });
    let end_of = format!("end of {}", of(one));
    if !one.is_furring {
        let asked = || edge(model, one.of, one.fasten.diameter, &one.what);
        tell(found, end_of, (&EDGE, end), (&EDGE_ASKED, asked()));
        // Of an edge nobody has to say anything.
        if let Some(far) = one.fasten.edge_distance {
            tell(found, format!("edge of {}", of(one)), (&EDGE, Ok(far)), (&EDGE_ASKED, asked()));
        }
        return;
    }
    // Of strips of wood: steel does not split.
    let wood = one.of.is_none_or(|material| matches!(material.kind, "wood" | "wood_board"));
    let furring = one.wall.gap().and_then(|(_, gap)| gap.furring.first());
    let Some(furring) = furring.filter(|_| wood) else { return };
    tell(found, end_of, (&EDGE, end), (&EDGE_ASKED, loads::length(model, "furring.end_distance")));
    let width = furring.width.ok_or_else(|| format!("width of {} is not said", one.what));
    tell(found, of(one), (&WIDTH, width), (&WIDTH_ASKED, strip_width(model, one)));
}

/// What is held, for a row.
fn of(one: &Fastening<'_>) -> String {
    one.what.replace('`', "")
}

fn tell(
    found: &mut Found,
    of: String,
    (what, had): (&'static What, Result<Length, String>),
    (asked, limit): (&'static What, Result<(&Limit, Length), String>),
) {
    match had.and_then(|had| Ok((had, limit?))) {
        Ok((had, (limit, least))) => pair(found, of, (what, had), (asked, limit, least)),
        Err(fact) => miss(found, of, what, fact),
    }
}

/// What there is and what is asked.
fn pair(
    found: &mut Found,
    of: String,
    (what, had): (&'static What, Length),
    (asked, limit, least): (&'static What, &Limit, Length),
) {
    found.figures.push(figure(what, &of, had.as_m(), DECLARED, Sureness::Verified));
    found.figures.push(Figure {
        what: asked,
        of,
        value: Value::Number(least.as_m().into()),
        source: RULES,
        sure: limit.sure,
        // Said once.
        doubt: if limit.source == limit.sure.phrase() { String::new() } else { limit.source.clone() },
    });
}

fn miss(found: &mut Found, of: String, what: &'static What, fact: String) {
    found.missing.push(Missing { what, of, fact });
}
