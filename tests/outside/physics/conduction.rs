//! Sums of the block `conduction`: heat in two dimensions. Sizes in metres, `[left, low, right, high, …]`.

use serde_json::Value;
use wythe::physics::conduction::{Effort, Field, Film, Grid, Rect, Region, Section, Touch, settle, solve};

use super::super::sums::{Answer, Inputs, numbers};

/// Answers to one case; `None` where the sum is not one of these.
pub fn ours(sum: &str, given: Inputs<'_>) -> Option<Vec<Answer>> {
    let flow = |field: &Field| field.flows()[0];
    Some(match sum {
        "temperatures" => {
            let field = field(given);
            numbers(points(given).into_iter().map(|point| field.temperature(point).unwrap()))
        }
        "flow" => numbers([flow(&field(given))]),
        "transmittance" => {
            let films = section(given).films;
            let difference = films[0].temperature - films[1].temperature;
            numbers([flow(&field(given)) / given.number("height") / difference])
        }
        _ => return None,
    })
}

/// On the grid that the case names; one that names none is refined until it settles.
fn field(given: Inputs<'_>) -> Field {
    let section = section(given);
    let field = match given.0.get("parts").and_then(Value::as_u64) {
        Some(parts) => solve(&section, Grid::of(&section, parts as usize, 300_000).unwrap()).unwrap(),
        None => {
            let found = settle(&section, &points(given), Effort::default()).unwrap();
            assert!(found.settled, "it moved by {} and {} K", found.flow_moved, found.temperature_moved);
            found.field
        }
    };
    assert!(field.imbalance() < 1e-6, "{}", field.imbalance());
    field
}

fn rows(given: Inputs<'_>, key: &str) -> Vec<Vec<f64>> {
    let row = |row: &Value| row.as_array().unwrap().iter().map(|number| number.as_f64().unwrap()).collect();
    given.get(key).as_array().unwrap().iter().map(row).collect()
}

fn points(given: Inputs<'_>) -> Vec<(f64, f64)> {
    rows(given, "points").iter().map(|point| (point[0], point[1])).collect()
}

fn section(given: Inputs<'_>) -> Section {
    let rect = |row: &[f64]| Rect { left: row[0], low: row[1], right: row[2], high: row[3] };
    Section {
        regions: rows(given, "regions").iter().map(|row| Region { at: rect(row), conductivity: row[4] }).collect(),
        films: rows(given, "films").iter().map(|row| Film { temperature: row[0], resistance: row[1] }).collect(),
        touches: rows(given, "touches").iter().map(|row| Touch { at: rect(row), film: row[4] as usize }).collect(),
    }
}
