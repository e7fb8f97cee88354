//! What wind asks of the fasteners of each face, at its corners and away from them, what one of them holds and how much of that
//! is used, and how far strips span; and what stands whatever the wind, in `wall`.

mod wall;

use super::wind_and_rain::INDICATIVE;
use super::{Figure, Found, Missing, Scene, Source, Study, Value, WallFigures, WallType, What};
use crate::loads::{self, Pull, StripSpan, of_layers, pull, strip_span};
use crate::model::{FaceId, Sureness};
use crate::units::{Dimension, Keep};

/// Fastening.
pub struct Fastening;

/// Specified wind on the wall that hangs on one fastener.
pub static FIELD: What = What {
    key: "fastening.pull_field",
    title: "pull on a fastener, field",
    dimension: Dimension::FORCE,
    keep: Keep::Significant(2),
};

/// The same.
pub static CORNER: What = What {
    key: "fastening.pull_corner",
    title: "pull on a fastener, corners",
    dimension: Dimension::FORCE,
    keep: Keep::Significant(2),
};

/// Allowable, in a gust.
pub static HOLDS: What =
    What { key: "fastening.holds", title: "a fastener holds", dimension: Dimension::FORCE, keep: Keep::Significant(2) };

/// The pull at the corners by what a fastener holds.
pub static PULL_SHARE: What = What {
    key: "fastening.pull_share",
    title: "pull at corners, of what is held",
    dimension: Dimension::NUMBER,
    keep: Keep::Places(2),
};

/// Between two fasteners of a strip.
pub static SPAN: What =
    What { key: "fastening.span", title: "strips span", dimension: Dimension::LENGTH, keep: Keep::Places(0) };

/// The longest that keeps stress and deflection within the limits, in the wind of the corners.
pub static SPAN_LONGEST: What = What {
    key: "fastening.span_longest",
    title: "strips may span",
    dimension: Dimension::LENGTH,
    keep: Keep::Places(0),
};

/// The one by the other.
pub static SPAN_SHARE: What = What {
    key: "fastening.span_share",
    title: "span of strips, of the longest",
    dimension: Dimension::NUMBER,
    keep: Keep::Places(2),
};

/// How far a strip bends out between two fasteners.
pub static BENDS: What = What {
    key: "fastening.strip_bends",
    title: "strips bend out, corners",
    dimension: Dimension::LENGTH,
    keep: Keep::Places(1),
};

/// Wind by area.
const WIND: Source = Source { standard: "NBC, static procedure", edition: "2015, 2020", clause: "4.1.7" };
/// Withdrawal and pull-through, allowable, for the time a gust lasts; a product's own number where it has one.
const WITHDRAWAL: Source =
    Source { standard: "NDS, withdrawal and pull-through, or the product's own", edition: "", clause: "" };
/// The one by the other; both are loads in service.
const SHARE: Source =
    Source { standard: "wind by NBC 4.1.7, holding by NDS or the product's own", edition: "", clause: "" };
/// A strip over many fasteners.
const BEAM: Source = Source { standard: "continuous beam, wl²/10 and wl⁴/145EI", edition: "", clause: "" };

impl Study for Fastening {
    fn id(&self) -> &'static str {
        "fastening"
    }

    fn title(&self) -> &'static str {
        "fastening"
    }

    fn of_wall(&self, scene: &Scene<'_>, wall: &WallType) -> Found {
        wall.assembly(scene.model).map(|wall| wall::figures(scene.model, wall)).unwrap_or_default()
    }

    fn of_face(&self, scene: &Scene<'_>, face: FaceId, walls: &[WallFigures]) -> Found {
        let mut found = Found::default();
        for own in walls {
            let Some(wall) = own.wall.assembly(scene.model) else { continue };
            // Where a face is built in several ways each is named.
            let named = |what: &str| {
                let what = what.replace('`', "");
                if walls.len() > 1 { format!("{what} of {}", wall.label) } else { what }
            };
            let held = of_layers(scene.model, "", wall);
            for one in held.iter().filter(|one| counts(one)) {
                match pull(scene.model, scene.plan, face, one) {
                    Ok(pull) => pulled(&mut found, &named(&one.what), &pull),
                    Err(fact) => found.missing.push(Missing { what: &PULL_SHARE, of: named(&one.what), fact }),
                }
                // What is missing of the wind stands in the row before.
                let wind = loads::suction(scene.model, scene.plan, face).ok();
                match wind.and_then(|wind| strip_span(scene.model, &wind, one)) {
                    Some(Ok(strip)) => spans(&mut found, &named(&one.what), &strip),
                    Some(Err(fact)) => found.missing.push(Missing { what: &SPAN_SHARE, of: named(&one.what), fact }),
                    None => {}
                }
            }
        }
        found
    }
}

/// Fasteners of the cladding and of the furring whose hold is said; the others are asked for by a rule.
fn counts(one: &loads::Fastening<'_>) -> bool {
    (one.is_cladding || one.is_furring) && one.fasten.into.is_some()
}

fn pulled(found: &mut Found, of: &str, pull: &Pull<'_>) {
    let [field, corner] = pull.newtons();
    // Whole newtons: no more is known.
    let force = libm::round;
    let holds = pull.hold.newtons;
    let mut rows =
        vec![(&FIELD, WIND, force(field)), (&CORNER, WIND, force(corner)), (&HOLDS, WITHDRAWAL, force(holds))];
    if holds > 0.0 {
        rows.push((&PULL_SHARE, SHARE, hundredths(corner / holds)));
    }
    let rows = rows.into_iter().map(|(what, source, value)| figure(what, of, value, source, Sureness::Memory));
    found.figures.extend(rows);
}

fn spans(found: &mut Found, of: &str, strip: &StripSpan<'_>) {
    let span = strip.span.as_m();
    let sure = strip.strength.0.sure.max(Sureness::Memory);
    let mut tell = |what, value| found.figures.push(figure(what, of, value, BEAM, sure));
    tell(&SPAN, span);
    tell(&BENDS, libm::round(strip.bends * span * 1e4) / 1e4);
    if strip.longest.is_finite() && strip.longest > 0.0 {
        // Down to whole centimetres, as the rule asks for it.
        tell(&SPAN_LONGEST, libm::floor(strip.longest * 100.0) / 100.0);
        tell(&SPAN_SHARE, hundredths(span / strip.longest));
    }
}

/// Shares in whole percent: no more is known.
fn hundredths(share: f64) -> f64 {
    libm::round(share * 100.0) / 100.0
}

fn figure(what: &'static What, of: &str, value: f64, source: Source, sure: Sureness) -> Figure {
    let value = Value::Number(value.into());
    Figure { what, of: of.to_owned(), value, source, sure, doubt: INDICATIVE.to_owned() }
}
