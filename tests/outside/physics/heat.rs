//! Sums of the block `heat`: heat through layers.

use serde_json::Value;
use wythe::physics::resistance::{
    DULL, Flow, Limits, MEAN, Piece, SURFACE_OUTSIDE, Screws, Ventilation, air_layer, limits, screw_loss,
    surface_inside, transmittance, ventilation, with_ventilation,
};
use wythe::physics::steel_studs;
use wythe::units::{System, display};

use super::super::sums::{Answer, Inputs, number, numbers, word};

/// Answers to one case; `None` where the sum is not one of these.
pub fn ours(sum: &str, given: Inputs<'_>) -> Option<Vec<Answer>> {
    let of = |key: &str| given.number(key);
    Some(match sum {
        "surfaces" => numbers([surface_inside(flow(given)), SURFACE_OUTSIDE]),
        "air_layer" => {
            let faces = given.list("emissivities");
            let faces = (number(&faces[0]), number(&faces[1]));
            numbers([air_layer(given.metres("depth"), faces, MEAN, flow(given)).unwrap()])
        }
        "air_layers" => {
            let each = |depth: &Value| air_layer(number(depth) / 1e3, (DULL, DULL), MEAN, flow(given)).unwrap();
            numbers(given.list("depths").iter().map(each))
        }
        "classes" => {
            let class = |opening: &Value| match ventilation(number(opening) / 1e6) {
                Ventilation::Unventilated => "still",
                Ventilation::Slightly => "slightly",
                Ventilation::Well => "well",
            };
            given.list("openings").iter().map(|opening| Answer::Word(class(opening).to_owned())).collect()
        }
        "ventilated" => {
            let whole = with_ventilation(of("opening") / 1e6, of("still"), of("open"));
            numbers([whole, 1.0 / whole])
        }
        "limits" => {
            let found = combined(given);
            numbers([found.upper, found.lower, found.total(), 1.0 / found.total()])
        }
        "error" => numbers([combined(given).error() * 100.0]),
        "bridged" => {
            let pieces = pieces_of(given.list("pieces"), of("depth"));
            numbers([1.0 / pieces.iter().map(|piece| piece.share / piece.resistance).sum::<f64>()])
        }
        "transmittances" => {
            let found = combined(given);
            numbers([1.0 / found.upper, 1.0 / found.lower, 1.0 / found.total()])
        }
        "screws" => {
            let screws =
                Screws { conductivity: of("conductivity"), diameter: given.metres("diameter"), per_area: of("number") };
            let added = screw_loss(screws, given.metres("depth"), of("layer"), of("wall")).unwrap();
            let whole = transmittance(of("wall"), added).unwrap();
            numbers([added, whole])
        }
        "steel_studs" => {
            let studs = given.list("studs").iter();
            let one = |stud: &Value| {
                let [depth, spacing, alone] = [0, 1, 2].map(|at| number(&stud[at]));
                steel_studs::share(depth / 1e3, spacing / 1e3, alone * 0.176_110_183_8).unwrap()
            };
            numbers(studs.map(one))
        }
        "shown" => word(&display::resistance(of("resistance"), System::Imperial)),
        _ => return None,
    })
}

fn flow(given: Inputs<'_>) -> Flow {
    match given.text("flow") {
        "up" => Flow::Up,
        "down" => Flow::Down,
        _ => Flow::Horizontal,
    }
}

/// Layers as `[thickness mm, conductivity]`, `[resistance]`, or `{ depth, pieces = [[share, conductivity], …] }`.
fn combined(given: Inputs<'_>) -> Limits {
    let layers: Vec<Vec<Piece>> = given.list("layers").iter().map(layer).collect();
    limits(&layers, given.number("outside"), given.number("inside")).unwrap()
}

fn layer(value: &Value) -> Vec<Piece> {
    if let Some(pieces) = value.get("pieces") {
        return pieces_of(pieces.as_array().unwrap(), number(&value["depth"]));
    }
    let resistance = match value.as_array().unwrap().as_slice() {
        [resistance] => number(resistance),
        [thickness, conductivity] => number(thickness) / 1e3 / number(conductivity),
        other => panic!("{other:?} is no layer"),
    };
    vec![Piece { share: 1.0, resistance }]
}

fn pieces_of(pieces: &[Value], depth: f64) -> Vec<Piece> {
    let piece = |piece: &Value| Piece { share: number(&piece[0]), resistance: depth / 1e3 / number(&piece[1]) };
    pieces.iter().map(piece).collect()
}
