//! Small walls written in the language, worked out by hand.

mod barrier;
mod breath;
mod invariants;
mod network;
mod planes;
mod rain;
mod trace;
mod water;

use super::{AirBarrier, BayFlow, GapFlow};
use crate::model::Model;
use crate::plan::Plan;
use crate::source::MapWorld;

/// Goods and details of all cases. Two strips 64 wide at 400 and 800 make three bays of a wall 1200 wide: 368, 336, 368. The
/// gap is 19 less 2 for bulges: 17.
const KIT: &str = r#"
wythe 1
use std.materials
use std.membranes
use std.tapes

product mesh screen {
    open 0.6 aged 0.4
}
product blind_mesh screen {
    opening 1.5mm
}
product shut channel of materials.aluminium {
    floor solid
}
product pierced channel of materials.aluminium {
    floor perforated 5000mm2/m
}
product ledge trim of materials.aluminium {
    width 40mm
}
assembly wall {
    layer boards materials.larch_wood 20mm, controls rain
    gap cavity 19mm ventilated {
        furring spruce 19mm x 64mm, marks (400mm, 800mm), vertical
        bulge 2mm
    }
    layer membrane membranes.vapour_open, controls water and air
    layer sheathing plywood 12.5mm
    frame studs spruce 38mm x 140mm, every 16in on centre, first 15-1/4in
}
detail open_base {
    at base
    gap_end open, screen mesh
    air seals to foundation with membranes.self_adhered
    gives exit and inlet
}
detail closed_base {
    at base
    gap_end closed
    air seals to foundation with membranes.self_adhered
    gives exit and inlet
}
detail open_top {
    at top
    gap_end open 10mm, screen mesh
    air seals to ceiling with tapes.acrylic_wide
    gives outlet
}
detail side {
    at corner and left and right and step
    gap_end closed
    air seals to neighbour with tapes.acrylic
}
detail frame_edge {
    at window
    head {
        gap_end open 10mm, screen mesh
        air seals to frame with tapes.acrylic_wide
        gives exit and inlet
    }
    jamb {
        gap_end closed
        air seals to frame with tapes.acrylic_wide
    }
    sill {
        gap_end open 6mm
        air seals to frame with tapes.acrylic_wide
        gives outlet
    }
}
detail shelf {
    at transition
    gap_end open 10mm to lower
    gap_end open to upper
    air seals to neighbour with membranes.self_adhered
    gives outlet to lower
    gives exit and inlet to upper
}
"#;

/// A wall 1200 wide and 2400 high with this base and these other clauses.
fn wall(base: &str, rest: &str) -> String {
    face("base to (1200mm, 0), detail open_base", base, rest)
}

fn face(usual: &str, base: &str, rest: &str) -> String {
    let base = if base.is_empty() { usual } else { base };
    format!(
        "face north {{\n    outline from (0, 0) {{\n        {base}\n        right to (1200mm, 2400mm), detail side\n        \
         top to (0, 2400mm), detail open_top\n        left to start, detail side\n    }}\n    area all wall\n{rest}\n}}\n"
    )
}

/// Reads the kit and a text behind it.
fn read(text: &str) -> (Model, Plan) {
    let world = MapWorld::new().with("case.wythe", &format!("{}{text}", KIT.trim_start()));
    let project = crate::resolve::load(&world, &["case.wythe".to_owned()]);
    let evaluated = crate::eval::evaluate(&project);
    let model = crate::model::build(&project, &evaluated);
    let problems = project.problems.iter().chain(&evaluated.problems).chain(&model.problems);
    let said: Vec<String> = problems.map(|problem| format!("{} {:?}", problem.title, problem.help)).collect();
    assert!(said.is_empty(), "{}", said.join("\n"));
    let plan = crate::plan::build(&model);
    (model, plan)
}

fn flow(text: &str) -> Vec<BayFlow> {
    let (model, plan) = read(text);
    GapFlow::find(&model, &plan).bays
}

fn barrier(text: &str) -> AirBarrier {
    let (model, plan) = read(text);
    AirBarrier::find(&model, &plan)
}

/// m² as whole mm².
fn mm2(area: Option<f64>) -> Option<i64> {
    area.map(|area| (area * 1e6).round() as i64)
}

/// A tenth, rounded: shares of screens are given in tenths.
fn tenths(value: i64) -> i64 {
    (value + 5) / 10
}
