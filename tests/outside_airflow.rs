//! Flows through gaps against scipy, an independent library. `tests/outside/airflow_scipy.py` makes the figures.

#![expect(clippy::expect_used, reason = "a malformed figures file should fail the test")]

use serde_json::Value;
use wythe::physics::airflow::{self, Channel};
use wythe::physics::airnet::{End, Law, Link, solve};

const FIGURES: &str = include_str!("outside/airflow_scipy.json");

fn number(value: &Value) -> f64 {
    value.as_f64().expect("a number")
}

fn end(value: &Value) -> End {
    match value["node"].as_u64() {
        Some(node) => End::Node(node as usize),
        None => End::Known(number(&value["known"])),
    }
}

fn link(value: &Value, air: &Value) -> Link {
    let (outside, gap) = (number(&air["outside"]), number(&air["gap"]));
    let inner = airflow::density(gap);
    let law = if value["kind"] == "channel" {
        Law::Plates(Channel {
            depth: number(&value["depth"]),
            width: number(&value["width"]),
            length: number(&value["length"]),
            density: inner,
            viscosity: airflow::viscosity(gap),
        })
    } else {
        let (area, open) = (number(&value["area"]), number(&value["open"]));
        let resistance =
            |density| airflow::slot_resistance(density, area) + airflow::screen_resistance(density, area, open);
        let outer = if value["outer"] == true { airflow::density(outside) } else { inner };
        Law::Square { forward: resistance(outer), back: resistance(inner) }
    };
    Link { from: end(&value["from"]), to: end(&value["to"]), drive: number(&value["drive"]), law }
}

#[test]
fn flows_agree_with_scipy() {
    let figures: Value = serde_json::from_str(FIGURES).expect("figures");
    assert!(figures["source"].as_str().is_some_and(|source| source.starts_with("scipy 1.")));
    let cases = figures["cases"].as_array().expect("cases");
    assert_eq!(cases.len(), 40);
    let (mut turbulent, mut backward) = (0, 0);
    for case in cases {
        let name = case["name"].as_str().expect("name");
        let links: Vec<Link> =
            case["links"].as_array().expect("links").iter().map(|value| link(value, &case["air"])).collect();
        let nodes = case["nodes"].as_u64().expect("nodes") as usize;
        let solved = solve(nodes, &links);
        assert!(solved.settled && solved.imbalance <= 1e-9, "{name}: {} {}", solved.imbalance, solved.mismatch);
        let wanted: Vec<f64> = case["flows"].as_array().expect("flows").iter().map(number).collect();
        assert_eq!(wanted.len(), solved.flows.len(), "{name}");
        for ((found, wanted), link) in solved.flows.iter().zip(wanted).zip(&links) {
            // A millionth, and a hundredth of a millilitre in a second for what hardly moves.
            assert!((found - wanted).abs() <= 1e-6 * wanted.abs() + 1e-8, "{name}: {found} is not {wanted}");
            if let Law::Plates(channel) = link.law {
                turbulent += usize::from(channel.reynolds(*found) > airflow::LAMINAR_UP_TO);
            }
            backward += usize::from(*found < 0.0);
        }
    }
    // The cases reach the whole of the law.
    assert!(turbulent >= 10 && backward >= 40, "{turbulent} turbulent, {backward} backward");
}
