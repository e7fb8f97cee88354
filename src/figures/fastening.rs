//! What wind asks of the fasteners of each face, in the field and at the corners, and what one of them holds.

use super::wind_and_rain::INDICATIVE;
use super::{Figure, Found, Missing, Scene, Source, Study, Value, WallFigures, What};
use crate::loads::{of_layers, pull};
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

/// Wind by area.
const WIND: Source = Source { standard: "NBC, static procedure", edition: "2015, 2020", clause: "4.1.7" };
/// Withdrawal and pull-through, allowable, for the time a gust lasts; a product's own number where it has one.
const WITHDRAWAL: Source =
    Source { standard: "NDS, withdrawal and pull-through, or the product's own", edition: "", clause: "" };

impl Study for Fastening {
    fn id(&self) -> &'static str {
        "fastening"
    }

    fn title(&self) -> &'static str {
        "fastening"
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
            let held = of_layers(scene.model, "", wall).into_iter();
            for one in held.filter(|one| (one.is_cladding || one.is_furring) && one.fasten.into.is_some()) {
                match pull(scene.model, scene.plan, face, &one) {
                    Ok(pull) => {
                        let [field, corner] = pull.newtons();
                        let rows =
                            [(&FIELD, WIND, field), (&CORNER, WIND, corner), (&HOLDS, WITHDRAWAL, pull.hold.newtons)];
                        found.figures.extend(
                            rows.map(|(what, source, newtons)| figure(what, source, named(&one.what), newtons)),
                        );
                    }
                    Err(fact) => found.missing.push(Missing { what: &FIELD, of: named(&one.what), fact }),
                }
            }
        }
        found
    }
}

fn figure(what: &'static What, source: Source, of: String, newtons: f64) -> Figure {
    // Whole newtons: no more is known.
    let value = Value::Number(libm::round(newtons).into());
    Figure { what, of, value, source, sure: Sureness::Memory, doubt: INDICATIVE.to_owned() }
}
