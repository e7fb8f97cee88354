//! How far the longest boards and trims of each face move between the coldest and the hottest day, and from the day they go on;
//! and how far the frame behind it settles.

use std::collections::BTreeMap;

use super::{Figure, Found, Missing, Scene, Source, Study, Value, WallFigures, What};
use crate::layout::{stack, trims};
use crate::loads::settling::of_floor;
use crate::model::{Face, FaceId, Model, Product, ProductId, Sureness};
use crate::physics::movement::{self, Travel};
use crate::units::{Dimension, Keep, System, display};

/// Movement.
pub struct Movement;

/// From the coldest to the hottest day.
pub static ALL: What = What {
    key: "movement.all",
    title: "moves, coldest to hottest day",
    dimension: Dimension::LENGTH,
    keep: Keep::Places(1),
};

/// From the day it goes on.
pub static LENGTHENS: What = What {
    key: "movement.lengthens",
    title: "longer than when fixed",
    dimension: Dimension::LENGTH,
    keep: Keep::Places(1),
};

/// From the day it goes on.
pub static SHORTENS: What = What {
    key: "movement.shortens",
    title: "shorter than when fixed",
    dimension: Dimension::LENGTH,
    keep: Keep::Places(1),
};

/// All floors together.
pub static SETTLES: What =
    What { key: "movement.settles", title: "the frame settles", dimension: Dimension::LENGTH, keep: Keep::Places(1) };

const BY_HEAT: Source = Source { standard: "length × expansion × degrees", edition: "", clause: "" };
const BY_DRYING: Source = Source { standard: "note to 9.27.3.8 (4) of the Canadian code", edition: "2020", clause: "" };

impl Study for Movement {
    fn id(&self) -> &'static str {
        "movement"
    }

    fn title(&self) -> &'static str {
        "movement"
    }

    fn of_face(&self, scene: &Scene<'_>, face: FaceId, walls: &[WallFigures]) -> Found {
        let mut found = Found::default();
        let Some(own) = scene.model.face(face) else { return found };
        for (product, set) in longest(scene.model, own, walls) {
            if let Some(product) = scene.model.product(product) {
                piece(scene.model, product, set, &mut found);
            }
        }
        settles(scene, own, &mut found);
        found
    }
}

/// What is cut from lengths on a face, with the temperature at which it goes on where all pieces have one.
fn longest(model: &Model, face: &Face, walls: &[WallFigures]) -> BTreeMap<ProductId, Option<f64>> {
    let boards = walls.iter().filter_map(|own| {
        let wall = own.wall.assembly(model)?;
        let layer = wall.layers.get(stack::cladding(wall)?)?;
        Some((layer.stuff.product?, layer.applied))
    });
    let trims = face.trims.iter().map(|trim| (trim.product, trim.set_at));
    let mut found: BTreeMap<ProductId, Option<f64>> = BTreeMap::new();
    for (product, set) in boards.chain(trims) {
        found.entry(product).and_modify(|known| *known = known.filter(|known| Some(*known) == set)).or_insert(set);
    }
    found
}

/// What a product in its longest stock length does; nothing for one that comes in no lengths.
fn piece(model: &Model, product: &Product, set: Option<f64>, found: &mut Found) {
    let Some(length) = product.stock.iter().copied().max() else { return };
    let of = format!("{} of {}", product.name.replace('_', " "), display::length(length, System::Metric));
    let Some(expansion) = trims::expansion(model, product) else {
        let fact = format!("how `{}` grows with heat (`expansion` of its material)", product.name);
        found.missing.push(Missing { what: &ALL, of, fact });
        return;
    };
    let sureness = product.of.and_then(|id| model.material(id)?.expansion.as_ref()).map(|value| value.sure);
    let sure = sureness.unwrap_or(Sureness::Memory).max(Sureness::Memory);
    let (coldest, hottest) = trims::range(model, product);
    let mut tell = |what: &'static What, metres: f64| {
        let doubt = format!(
            "surface from {coldest:.0} to {hottest:.0} °C ({:.0} to {:.0} °F); moisture not counted",
            coldest * 1.8 + 32.0,
            hottest * 1.8 + 32.0
        );
        let value = Value::Number(tenths(metres).into());
        found.figures.push(Figure { what, of: of.clone(), value, source: BY_HEAT, sure, doubt });
    };
    tell(&ALL, movement::travel(expansion, length.as_m(), coldest, coldest, hottest).lengthens);
    if let Some(set) = set {
        let Travel { shortens, lengthens } = movement::travel(expansion, length.as_m(), set, coldest, hottest);
        tell(&LENGTHENS, lengthens);
        tell(&SHORTENS, shortens);
    }
}

/// How far the frame settles over all floors of a face; nothing for a face without floors.
fn settles(scene: &Scene<'_>, face: &Face, found: &mut Found) {
    if face.floor_lines.is_empty() {
        return;
    }
    let all: Result<f64, String> = face.floor_lines.iter().map(|line| of_floor(scene.model, line)).sum();
    let told = all.map(|metres| (Value::Number(tenths(metres).into()), Sureness::Memory, String::new()));
    found.tell(&SETTLES, BY_DRYING, told);
}

/// To a tenth of a millimetre.
fn tenths(metres: f64) -> f64 {
    libm::round(metres * 1e4) / 1e4
}
