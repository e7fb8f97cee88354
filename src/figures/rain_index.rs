//! Driving rain of a year on a face, where the climate tells it by direction (ISO 15927-3): in the open, and on the wall.

use super::{Found, Scene, Source, Trust, Value, What};
use crate::layout::ground;
use crate::model::{Face, FaceId, RainFactor, Site, Sureness};
use crate::physics::rain::{Terrain, index_towards, roughness, wall_index};
use crate::units::{Dimension, Keep, Range};

/// Litres on each square metre are millimetres.
pub static INDEX: What = What {
    key: "rain.index",
    title: "driving rain in the open, its direction",
    dimension: Dimension::LENGTH,
    keep: Keep::Places(0),
};
/// With the factors of the wall.
pub static ON_WALL: What = What {
    key: "rain.on_wall",
    title: "driving rain on it, its direction",
    dimension: Dimension::LENGTH,
    keep: Keep::Places(0),
};

const ISO: Source = Source { standard: "form of ISO 15927-3", edition: "2009", clause: "" };

/// What a wall gets of the rain in the open, in the order of the standard: the word of its clause, and for people.
const FACTORS: [(&str, &str); 4] = [
    ("terrain", "the ground upwind"),
    ("hill", "the hill it stands on"),
    ("shelter", "what stands before it"),
    ("wall", "its own overhangs"),
];

/// Tells both of a face; nothing where the climate does not know its rain by direction.
pub(super) fn tell(found: &mut Found, scene: &Scene<'_>, id: FaceId) {
    let Some((site, face)) = scene.model.site.as_ref().zip(scene.model.face(id)) else { return };
    let Some(climate) = site.climate.as_ref().filter(|climate| !climate.rain_index.is_empty()) else { return };
    let eight = <[f64; 8]>::try_from(climate.rain_index.as_slice());
    let index = eight
        .map_err(|_| format!("driving rain of `{}` for eight directions (`rain_index`)", climate.name))
        .and_then(|eight| {
            let looks = face.looks.ok_or_else(|| format!("the way `{}` looks (`looks`)", face.name))?;
            Ok(index_towards(&eight, looks))
        });
    let memory = Trust::of(Sureness::Memory);
    // Millimetres, to two digits: no more is known.
    let millimetres = |value: f64| super::wind_and_rain::two_digits(value) / 1e3;
    found.tell(&INDEX, ISO, index.clone().map(|index| memory.with(Value::Number(millimetres(index).into()))));
    let Ok(index) = index else { return };
    let on_wall = factors(scene, site, id, face).map(|(factors, trust)| {
        let [ground, hill, shelter, wall] = factors;
        let at = |end: fn(&Range) -> f64| {
            millimetres(wall_index(index, end(&ground), end(&hill), end(&shelter), end(&wall)))
        };
        trust.with(Value::Number(Range::between(at(|range| range.low), at(|range| range.high))))
    });
    found.tell(&ON_WALL, ISO, on_wall);
}

/// The factors of a face, or those of the site where it says none; the error names what is missing.
fn factors(scene: &Scene<'_>, site: &Site, id: FaceId, face: &Face) -> Result<([Range; 4], Trust), String> {
    let mut trust = Trust::of(Sureness::Memory);
    let mut values = [Range::exactly(1.0); 4];
    let mut missing: Vec<String> = Vec::new();
    for ((word, of), value) in FACTORS.iter().zip(&mut values) {
        let said = |factors: &[RainFactor]| factors.iter().rfind(|factor| factor.of == *word).cloned();
        if let Some(factor) = said(&face.rain_factors).or_else(|| said(&site.rain_factors)) {
            trust.sourced(&factor.value, || format!("rain factor of {of}"));
            *value = factor.value.value;
        } else if let Some(found) = (*word == "terrain").then(|| ground_factor(scene, site, id, face)).flatten() {
            *value = found.into();
        } else {
            missing.push(format!("of {of} (`rain_factor … for {word}`)"));
        }
    }
    if missing.is_empty() { Ok((values, trust)) } else { Err(format!("rain factor {}", missing.join(", "))) }
}

/// By the height of the face over the ground and the country upwind: open as fields, rough as suburbs and woods.
fn ground_factor(scene: &Scene<'_>, site: &Site, id: FaceId, face: &Face) -> Option<f64> {
    let terrain = match site.terrain? {
        "rough" => Terrain::Suburb,
        _ => Terrain::Fields,
    };
    let top = scene.plan.face(id)?.outline.bounds()?.top;
    let lowest = ground::ground_line(face).iter().map(|point| point.y).min()?;
    Some(roughness((top - lowest).as_m(), terrain))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::session::{Settings, check};
    use crate::source::MapWorld;

    fn of_face(climate: &str, site: &str, face: &str) -> Found {
        let text = format!(
            "wythe 1\n\nclimate lake {{\n{climate}}}\nsite s {{\n    climate lake\n{site}}}\nassembly wall {{\n    layer boards std.materials.spruce 20mm, \
             controls rain\n}}\nface north {{\n    measured to cladding\n    base 0 from 0 to 3000mm\n    top 5000mm\n    left\n    right\n    \
             ground at left 0mm\n{face}    area all wall\n}}\n"
        );
        let checked =
            check(&MapWorld::new().with("house.wythe", &text), &["house.wythe".to_owned()], &Settings::default());
        assert!(checked.problems.is_empty(), "{:?}", checked.problems);
        let figures = checked.figures();
        figures.faces.first().and_then(|face| face.study("wind_and_rain")).cloned().unwrap_or_default()
    }

    const ROUND: &str = "    rain_index (100mm, 200mm, 300mm, 400mm, 500mm, 600mm, 700mm, 800mm)\n";

    /// By hand: 500 L/m² to the south; 5 m over fields has 0.19 · ln(5/0.05) = 0.875; 500 · 0.875 · 1 · 0.6 · 0.5 = 131.
    #[test]
    fn a_face_gets_the_rain_of_the_way_it_looks() {
        let factors = "    terrain open\n    rain_factor 1 for hill\n    rain_factor 0.6 for shelter\n    rain_factor 0.5 for wall\n";
        let found = of_face(ROUND, factors, "    looks 180deg\n");
        assert_eq!(found.number(INDEX.key), Some(Range::exactly(0.5)));
        let wall = found.number(ON_WALL.key).unwrap();
        assert!((wall.low - 0.13).abs() < 1e-9, "131 mm to two digits: {wall:?}");
        // What the face says stands before what the site says.
        let sheltered = of_face(ROUND, factors, "    looks 180deg\n    rain_factor 0.2 for wall\n");
        assert!(sheltered.number(ON_WALL.key).unwrap().low < wall.low);
        // Half-way between south and south-west.
        let between = of_face(ROUND, factors, "    looks 202.5deg\n");
        assert_eq!(between.number(INDEX.key), Some(Range::exactly(0.55)));
    }

    #[test]
    fn what_is_missing_is_named_and_nothing_is_told_without_directions() {
        let found = of_face(ROUND, "    rain_factor 1 for hill\n", "    looks 0deg\n");
        let fact = &found.missing(ON_WALL.key).unwrap().fact;
        for word in ["for terrain", "for shelter", "for wall"] {
            assert!(fact.contains(word), "{fact}");
        }
        assert!(!fact.contains("for hill"), "{fact}");
        assert!(of_face(ROUND, "", "").missing(INDEX.key).unwrap().fact.contains("`looks`"));
        let few = of_face("    rain_index (100mm, 200mm)\n", "", "    looks 0deg\n");
        assert!(few.missing(INDEX.key).unwrap().fact.contains("eight"));
        assert!(of_face("    rain (1mm, 2mm)\n", "", "    looks 0deg\n").missing(INDEX.key).is_none());
    }
}
