//! Sums of the block `fastening`: what screws and nails hold and carry; lengths in millimetres, forces in newtons.

use wythe::physics::fastening::{self, Basis, Force, Shank};

use super::super::sums::{Answer, Inputs, numbers, word};

/// Pounds for an inch to newtons for a metre.
const POUND_AN_INCH: f64 = 4.448_221_615_260_5 / 0.0254;

/// Answers to one case; `None` where the sum is not one of these.
pub fn ours(sum: &str, given: Inputs<'_>) -> Option<Vec<Answer>> {
    holds(sum, given).or_else(|| carries(sum, given))
}

fn holds(sum: &str, given: Inputs<'_>) -> Option<Vec<Answer>> {
    let of = |key: &str| given.metres(key);
    let number = |key: &str| given.number(key);
    let shank = || if given.text("shank") == "screw" { Shank::Screw } else { Shank::Nail };
    Some(match sum {
        "withdrawal" => {
            let held = fastening::withdrawal(shank(), number("gravity"), of("diameter"), of("penetration"));
            numbers([held * number("factor")])
        }
        "withdrawal_each" => {
            let a_metre = fastening::withdrawal(shank(), number("gravity"), of("diameter"), 1.0);
            numbers([a_metre / POUND_AN_INCH, a_metre / 1e3])
        }
        "withdrawal_factored" => {
            let (diameter, depth) = (of("diameter"), of("penetration"));
            numbers([fastening::withdrawal_factored(shank(), number("gravity"), diameter, depth)])
        }
        "lag_withdrawal" => numbers([fastening::lag_withdrawal(number("gravity"), of("diameter"), of("penetration"))]),
        "pull_through" => numbers([fastening::pull_through(number("gravity"), of("head"), of("thickness"))]),
        "share" => {
            let force = |newtons: &str, basis: &str| Force {
                newtons: number(newtons),
                basis: if given.text(basis) == "factored" { Basis::Factored } else { Basis::Allowable },
            };
            let share = fastening::share(force("load", "load_basis"), force("holds", "holds_basis"));
            share.map_or_else(|| word("cannot tell"), |share| numbers([share]))
        }
        _ => return None,
    })
}

fn carries(sum: &str, given: Inputs<'_>) -> Option<Vec<Answer>> {
    let of = |key: &str| given.metres(key);
    let number = |key: &str| given.number(key);
    Some(match sum {
        "suction_on" => numbers([number("suction") * of("along") * of("across")]),
        "spacing_for" => numbers([fastening::spacing(number("force"), number("suction"), of("across"))? * 1e3]),
        "strip" => {
            let (load, modulus) = (number("load"), number("modulus") * 1e6);
            let found = fastening::continuous(load, of("span"), of("width"), of("thickness"), modulus)?;
            numbers([found.stress / 1e6, found.deflection * 1e3])
        }
        "on_screw" => numbers([fastening::weight_on_screw(number("weight"), number("screws"))?]),
        "edge" => numbers([fastening::edge_distance(of("diameter"), number("diameters"), of("least")) * 1e3]),
        "screw_bends" => {
            let moment = fastening::bending(number("load"), of("lever"));
            numbers([moment, fastening::shank_stress(moment, of("diameter"))? / 1e6])
        }
        "screw_sags" => {
            let sag = |square: bool| {
                let modulus = number("modulus") * 1e9;
                fastening::sag_of_screw(number("load"), of("lever"), of("diameter"), modulus, square)
            };
            numbers([sag(false)? * 1e3, sag(true)? * 1e3])
        }
        "strut" => numbers([fastening::strut(number("load"), of("lever"), of("arm"))?]),
        _ => return None,
    })
}
