//! Whole faces from text, with numbers worked out by hand.

mod lines;

use super::*;
use crate::geometry::Bounds;
use crate::model::Model;
use crate::source::MapWorld;
use proptest::prelude::*;

/// 38.1 mm strips at 16 in on centre, as framers hook the tape; `EXTRA` adds clauses to the furring.
const HEAD: &str = "wythe 1

use std.boards

assembly wall {
    layer boards boards.larch 20mm, controls rain, exposure 130mm..140mm
    gap cavity 19mm ventilated {
        furring spruce 19mm x 1-1/2in {
            every 16in on centre
            first 15-1/4in
            vertical
            EXTRA
        }
    }
    layer sheathing plywood 12.5mm, controls water and air
    frame studs spruce 38mm x 140mm, every 16in on centre
}

assembly smooth {
    layer boards boards.larch 20mm, controls rain, exposure 130mm..140mm
    gap cavity 19mm ventilated {
        mat std.mats.drainage
    }
    layer sheathing plywood 12.5mm, controls water and air
}
";

/// The model and plan of files in memory.
fn planned(world: &MapWorld, root: &str) -> (Model, Plan) {
    let project = crate::resolve::load(world, &[root.to_owned()]);
    let evaluated = crate::eval::evaluate(&project);
    let model = crate::model::build(&project, &evaluated);
    let mut problems = [project.problems, evaluated.problems, model.problems.clone()].concat();
    problems.retain(|problem| problem.severity == crate::diagnose::Severity::Violation);
    let titles: Vec<String> = problems.into_iter().map(|problem| problem.title).collect();
    assert!(titles.is_empty(), "{titles:?}");
    let plan = build(&model);
    (model, plan)
}

/// One face under the assemblies of `HEAD`.
fn placed(extra: &str, face: &str) -> (Model, Plan) {
    let text = format!("{}\n{face}\n", HEAD.replace("            EXTRA\n", extra));
    planned(&MapWorld::new().with("house.wythe", &text), "house.wythe")
}

fn mm(value: f64) -> Length {
    Length::snap_mm(value)
}

fn rectangle(bounds: Bounds) -> [f64; 4] {
    [bounds.left, bounds.bottom, bounds.right, bounds.top].map(Length::as_mm)
}

fn bays(plan: &Plan, area: usize) -> Vec<[f64; 4]> {
    plan.faces[0].areas[area].bays.iter().map(|bay| rectangle(bay.shape.bounds())).collect()
}

/// Bays, strips, openings and whatever stands in the gap make up each area, to the square nanometre if upright.
fn adds_up(model: &Model, plan: &Plan, upright: bool) {
    for (at, (face, placed)) in model.faces.iter().zip(&plan.faces).enumerate() {
        let Some(scene) = Scene::new(model, FaceId(at as u32), face) else { continue };
        let runs: Vec<Run> = plan.runs_of(FaceId(at as u32)).map(|(_, run)| run.clone()).collect();
        for (index, area) in placed.areas.iter().enumerate().filter(|(_, area)| !area.bays.is_empty()) {
            let gap = gap::Obstacles::of(&scene, placed, &runs, index);
            let strips = area.strips.iter().map(|strip| &strip.shape);
            let taken: Region = strips.chain(gap.shapes()).cloned().collect();
            let bays: i128 = area.bays.iter().map(|bay| bay.shape.doubled_area()).sum();
            let sum = bays + taken.intersection(&area.whole).doubled_area();
            let off = (sum - area.whole.doubled_area()).unsigned_abs();
            // Oblique ends are snapped: a few nanometres on a few metres, 1 mm² in all is plenty.
            assert!(off == 0 || (!upright && off < 2_000_000_000_000), "{} {index}: {off}", face.name);
            for one in &area.bays {
                let whole: Length = one.contacts.iter().map(|contact| contact.segment.length()).sum();
                assert!((whole - one.shape.perimeter()).abs() < Length::MM, "contacts go all the way round");
            }
        }
    }
}

const PLAIN: &str = "face north {
    measured to sheathing
    base 0 from 0 to 1300mm
    top 2400mm
    left
    right
    area all wall
}";

#[test]
fn bays_lie_between_strips_as_framers_mark_them() {
    let (model, plan) = placed("", PLAIN);
    let face = &plan.faces[0];
    let strips: Vec<f64> = face.areas[0].strips.iter().map(|strip| strip.shape.bounds().left.as_inches()).collect();
    // Near edges 0, 15-1/4, 31-1/4, 47-1/4 in (common practice, no source).
    assert_eq!(strips, [0.0, 15.25, 31.25, 47.25]);
    assert!(face.areas[0].strips.iter().all(|strip| strip.axis.length() == Length::mm(2400)));
    // Near edge to near edge less one strip: 15-1/4 − 1-1/2 = 13-3/4, then 16 − 1-1/2 = 14-1/2; the last is what is left.
    let widths: Vec<f64> = face.areas[0].bays.iter().map(|bay| bay.shape.bounds().width().as_inches()).collect();
    assert_eq!(widths[..3], [13.75, 14.5, 14.5]);
    assert_eq!(face.areas[0].bays[3].shape.bounds().width(), mm(1300.0) - mm(48.75 * 25.4));
    adds_up(&model, &plan, true);
    let contacts: Vec<(&'static str, bool)> = face.areas[0].bays[0]
        .contacts
        .iter()
        .map(|contact| match contact.with {
            Against::Run(run) => (plan.run(run).map_or("", |run| run.kind), contact.segment.is_floor()),
            Against::Strip(_) => ("strip", false),
            _ => ("?", false),
        })
        .collect();
    assert_eq!(contacts, [("base", true), ("strip", false), ("top", false), ("strip", false)]);
}

#[test]
fn a_window_makes_pockets_and_stops_open_them() {
    let face = |extra: &str| {
        let text = PLAIN.replace("area all wall", "area all wall\n    window w frame 810mm x 1000mm at (400mm, 900mm)");
        placed(extra, &text)
    };
    let (model, plan) = face("");
    adds_up(&model, &plan, true);
    // Strips at 0–38.1, 387.35–425.45, 793.75–831.85, 1200.15–1238.25; the window from 400 to 1210
    // cuts all but the first.
    let found = bays(&plan, 0);
    // Left of the window nothing is open from bay to bay: the second strip leaves 387.35–400 beside it.
    assert!(found.contains(&[38.1, 0.0, 387.35, 2400.0]), "{found:?}");
    assert!(found.contains(&[425.45, 0.0, 793.75, 900.0]), "{found:?}");
    assert!(found.contains(&[831.85, 1900.0, 1200.15, 2400.0]), "{found:?}");
    let pocket = plan.faces[0].areas[0].bays.iter().find(|bay| bay.shape.bounds().top == mm(900.0)).expect("pocket");
    let over: Vec<&str> = pocket
        .contacts
        .iter()
        .filter(|contact| contact.segment.is_ceiling())
        .filter_map(|contact| if let Against::Run(run) = contact.with { plan.run(run) } else { None })
        .map(|run| run.kind)
        .collect();
    assert_eq!(over, ["sill"]);
    assert_eq!(found.len(), 6);
    // Stopped short by 25 mm, the two pockets under the window are one, and the two over it.
    let (model, plan) = face("            stops 25mm\n");
    adds_up(&model, &plan, true);
    let found = bays(&plan, 0);
    assert!(!found.contains(&[425.45, 0.0, 793.75, 900.0]), "{found:?}");
    assert_eq!(plan.faces[0].areas[0].bays.len(), 4);
    let strip = plan.faces[0].areas[0].strips.iter().find(|strip| strip.centre == mm(812.8)).expect("under the window");
    assert_eq!(strip.axis.to.y, mm(875.0));
}

#[test]
fn a_jamb_strip_runs_the_height_of_the_opening_and_takes_the_place_of_a_near_one() {
    let text = PLAIN.replace("area all wall", "area all wall\n    window w frame 700mm x 1000mm at (500mm, 900mm)");
    let (model, plan) = placed("            also at jambs\n", &text);
    adds_up(&model, &plan, true);
    let jambs: Vec<[f64; 4]> = plan.faces[0].areas[0]
        .strips
        .iter()
        .filter(|strip| strip.purpose == StripPurpose::Jamb)
        .map(|strip| rectangle(strip.shape.bounds()))
        .collect();
    // Left: 461.9–500, clear of the mark at 387.35–425.45. Right: 1200–1238.1, on the mark at 1200.15: full height.
    assert_eq!(jambs, [[461.9, 900.0, 500.0, 1900.0], [1200.0, 0.0, 1238.1, 2400.0]]);
    assert_eq!(plan.faces[0].areas[0].strips.iter().filter(|strip| strip.purpose == StripPurpose::Regular).count(), 4);
}

#[test]
fn a_sloping_base_cuts_strips_on_the_slope() {
    let text = "face north {
    measured to sheathing
    outline from (0, 0) {
        base to (4000mm, 200mm), keep 200mm
        right to (4000mm, 2400mm)
        top to (0, 2400mm)
        left to start
    }
    area all wall
}";
    let (model, plan) = placed("            held_up 10mm\n            held_down 15mm\n", text);
    adds_up(&model, &plan, false);
    let strips = &plan.faces[0].areas[0].strips;
    // 5 % over 406.4 mm: 20.32 mm (common practice, no source).
    let feet: Vec<Length> = strips.iter().map(|strip| strip.axis.from.y).collect();
    assert!(feet[1..].windows(2).all(|pair| (pair[1] - pair[0] - mm(20.32)).abs() <= Length(2)), "{feet:?}");
    assert_eq!(feet[1], mm(20.32 + 10.0));
    assert!(strips.iter().all(|strip| strip.axis.to.y == mm(2385.0)));
    // The cut is sloped: its right corner is 5 % of the width higher.
    let low = strips[1].shape.outline().points().iter().map(|at| at.y).min().expect("corners");
    assert_eq!(low, mm(387.35 * 0.05 + 10.0) + Length(0));
    // Held up, all bays are one at their feet.
    assert_eq!(plan.faces[0].areas[0].bays.len(), 1);
}

const TWO: &str = "face north {
    measured to sheathing
    base 0 from 0 to 3000mm
    top 4800mm
    left
    right
    area lower wall below 2400mm
    area upper wall above 2400mm
    between lower and upper
    window stair frame 600mm x 1200mm at (1000mm, 1800mm)
    door garden rough 900mm x 2000mm at (1900mm, 0)
}";

#[test]
fn runs_are_split_by_areas_and_openings() {
    let (model, plan) = placed("", TWO);
    adds_up(&model, &plan, true);
    let rows: Vec<(String, f64, f64, f64, f64)> = plan
        .runs
        .iter()
        .map(|run| {
            let Segment { from, to } = run.segment;
            (run.name.clone(), from.x.as_mm(), from.y.as_mm(), to.x.as_mm(), to.y.as_mm())
        })
        .collect();
    let has = |name: &str, x0: f64, y0: f64, x1: f64, y1: f64| {
        assert!(rows.contains(&(name.to_owned(), x0, y0, x1, y1)), "{name} in {rows:#?}");
    };
    // The door stands on the base line: no base there.
    has("north.base", 0.0, 0.0, 1900.0, 0.0);
    has("north.base", 2800.0, 0.0, 3000.0, 0.0);
    has("north.right", 3000.0, 0.0, 3000.0, 2400.0);
    has("north.right", 3000.0, 2400.0, 3000.0, 4800.0);
    // The line between the areas is interrupted by the window.
    has("north.lower/upper", 0.0, 2400.0, 1000.0, 2400.0);
    has("north.lower/upper", 1600.0, 2400.0, 3000.0, 2400.0);
    has("north.stair.head", 1000.0, 3000.0, 1600.0, 3000.0);
    has("north.stair.sill", 1600.0, 1800.0, 1000.0, 1800.0);
    has("north.garden.jamb", 2800.0, 2000.0, 2800.0, 0.0);
    let between = plan.runs.iter().find(|run| run.kind == "transition").expect("a transition");
    assert_eq!((between.place, between.area, between.other), (RunPlace::Between(Some(0)), Some(1), Some(0)));
    let head = plan.runs.iter().find(|run| run.name == "north.stair.head").expect("a head");
    let sill = plan.runs.iter().find(|run| run.name == "north.stair.sill").expect("a sill");
    assert_eq!((head.area, sill.area), (Some(1), Some(0)));
    assert_eq!(plan.runs.iter().filter(|run| run.name == "north.base").count(), 2);
}

#[test]
fn the_wall_lies_to_the_left_of_every_run() {
    let (_, plan) = placed("", TWO);
    for run in &plan.runs {
        let (middle, left) = (run.segment.midpoint(), run.segment.vector().left());
        let step = |length: Length| Length::MM * length.0.signum();
        let at = Point::new(middle.x + step(left.dx), middle.y + step(left.dy));
        let area = run.area.expect("every run of this face bounds an area");
        let shape = &plan.faces[0].areas[area].net;
        if run.name != "north.garden.sill" {
            assert_ne!(shape.place(at), crate::geometry::Place::Outside, "{run:?}");
        }
    }
}

#[test]
fn areas_that_overlap_and_wall_that_none_covers_are_told() {
    let text = PLAIN
        .replace("area all wall", "area low wall below 1000mm\n    area nook smooth above 900mm from left to 600mm");
    let (model, plan) = placed("", &text);
    let face = &plan.faces[0];
    assert_eq!(face.overlaps.len(), 1);
    // 600 × 100 mm shared; bare: 700 × 1400 mm at the upper right.
    assert_eq!(face.overlaps[0].2.area(), Length::mm(600) * Length::mm(100));
    assert_eq!(face.bare.area(), Length::mm(700) * Length::mm(1400));
    assert_eq!(model.faces[0].areas.len(), 2);
}

#[test]
fn what_stands_in_the_gap_cuts_it() {
    let text = PLAIN.replace(
        "area all wall",
        "area all smooth
    block pad at (200mm, 300mm) {
        width 300mm
        height 200mm
        on plane
    }
    block skin at (700mm, 300mm) {
        width 300mm
        height 200mm
        on cladding
    }
    nailer ledger 19mm x 64mm from (0, 1000mm) to 1300mm, gaps 20mm
    fire_stop middle at 1800mm {
        kind full
        height 40mm
    }
    vent row 10mm at 1500mm from 100mm to 900mm, gives outlet",
    );
    let (model, plan) = placed("", &text);
    adds_up(&model, &plan, true);
    let found = &plan.faces[0].areas[0].bays;
    let boxes = bays(&plan, 0);
    assert_eq!(boxes, [[0.0, 0.0, 1300.0, 1800.0], [0.0, 1840.0, 1300.0, 2400.0]]);
    // The pad is a hole of the bay, the pad on the cladding is not; the nailer is open 20 mm at both ends.
    assert_eq!(found[0].shape.holes().len(), 2);
    let with: Vec<Against> = found[0].contacts.iter().map(|contact| contact.with).collect();
    assert!(with.contains(&Against::Block(0)) && with.contains(&Against::Nailer(0)), "{with:?}");
    assert!(with.contains(&Against::FireStop(0)) && !with.contains(&Against::Block(1)), "{with:?}");
    assert!(!with.contains(&Against::Unknown), "{with:?}");
    let row = Segment::new(Point::mm(100, 1500), Point::mm(900, 1500));
    assert_eq!(found[0].vents, [(0, row)]);
    assert!(found[1].vents.is_empty());
}

#[test]
fn a_roof_across_the_face_parts_the_gap() {
    let text =
        PLAIN.replace("area all wall", "area all smooth\n    roof porch from (300mm, 1000mm) to (900mm, 1200mm)");
    let (model, plan) = placed("", &text);
    adds_up(&model, &plan, false);
    let run = plan.runs.iter().find(|run| run.name == "north.porch").expect("a run along the roof");
    assert_eq!((run.kind, run.place, run.area), ("roof_line", RunPlace::Roof(0), Some(0)));
    let kinds: Vec<&str> = plan.nodes.iter().map(|node| node.kind).collect();
    assert_eq!(kinds, ["corner_foot", "corner_head", "corner_head", "corner_foot", "kick_out", "saddle"]);
    assert_eq!(plan.nodes[4].at, Point::mm(300, 1000));
    // Above the roof its run bounds the gap, 50 mm up; below nothing is known.
    let bay = &plan.faces[0].areas[0].bays[0];
    let floors: Vec<Against> =
        bay.contacts.iter().filter(|contact| contact.segment.is_oblique()).map(|contact| contact.with).collect();
    assert_eq!(floors.len(), 2);
    assert!(floors.contains(&Against::Unknown));
    assert!(floors.iter().any(|with| matches!(with, Against::Run(_))));
}

#[test]
fn horizontal_strips_dam_unless_counter_strips_carry_them() {
    let level = |counter: &str| {
        let head = HEAD.replace("vertical\n", &format!("horizontal\n{counter}")).replace("            EXTRA\n", "");
        planned(&MapWorld::new().with("house.wythe", &format!("{head}\n{PLAIN}\n")), "house.wythe")
    };
    let (model, plan) = level("");
    adds_up(&model, &plan, true);
    assert!(plan.faces[0].areas[0].strips.iter().all(|strip| strip.horizontal));
    // From the foot: 0–38.1, then near edges at 387.35, 793.75, …: the first bay is 349.25 high and as wide as the wall.
    assert_eq!(bays(&plan, 0)[0], [0.0, 38.1, 1300.0, 387.35]);
    let (_, plan) = level("            counter spruce 10mm x 1-1/2in\n");
    assert_eq!(bays(&plan, 0)[0], [38.1, 0.0, 387.35, 2400.0]);
    let strips = &plan.faces[0].areas[0].strips;
    assert_eq!(strips.iter().filter(|strip| strip.horizontal).count(), 6);
    assert_eq!(strips.iter().filter(|strip| !strip.horizontal).count(), 4);
}

#[test]
fn one_exposure_serves_the_house_and_gives_blocks_their_height() {
    let text = PLAIN.replace("area all wall", "area all wall\n    block pad at (200mm, 300mm), courses 3, width 300mm");
    let (_, plan) = placed("", &text);
    let face = &plan.faces[0];
    let (exposure, start) = (face.exposure.expect("a range"), face.course_start.expect("a base"));
    assert!(Length::mm(130) <= exposure && exposure <= Length::mm(140));
    let block = face.blocks[0].as_ref().expect("courses have a height");
    assert_eq!(block.bounds().height(), exposure * 3);
    // Begun at 0, no exposure of the range leaves 50 both at the top, 2400 mod E, and under the block, 297 mod E (37 to 20).
    // Begun 50 lower, 140 leaves 90 over the base, 2450 − 17 × 140 = 70, 347 − 2 × 140 = 67 and 3 × 140 − 353 = 67.
    assert_eq!((exposure, start), (mm(140.0), mm(-50.0)));
}

#[test]
fn examples_add_up() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/examples/heron-lane");
    let mut world = MapWorld::new();
    for entry in std::fs::read_dir(folder).expect("examples") {
        let path = entry.expect("an entry").path();
        if path.extension().is_some_and(|end| end == "wythe") {
            let name = path.file_name().expect("a name").to_string_lossy().into_owned();
            world = world.with(&name, &std::fs::read_to_string(&path).expect("text"));
        }
    }
    let (model, plan) = planned(&world, "building.wythe");
    adds_up(&model, &plan, false);
    let contacts =
        plan.faces.iter().flat_map(|face| &face.areas).flat_map(|area| &area.bays).flat_map(|bay| &bay.contacts);
    assert!(contacts.clone().count() > 500);
    assert!(contacts.clone().all(|contact| contact.with != Against::Unknown));
    assert!(plan.faces.iter().all(|face| face.bare.is_empty() && face.overlaps.is_empty()));
}

#[test]
fn details_hold_on_their_stretches_and_put_their_parts_there() {
    let text = format!(
        "{}\n{}",
        "detail open_foot {
    at base
    part flashing aluminium 0.6mm, slope 6deg, controls water
    part screen aluminium 0.6mm, name mouse_stop
}
detail door_foot {
    at base
    part closure aluminium 0.6mm
}",
        PLAIN
            .replace(
                "base 0 from 0 to 1300mm",
                "outline from (0, 0) {
        base to (1300mm, -130mm) {
            detail open_foot
            detail door_foot from 300mm to 700mm
        }
        right to (1300mm, 2400mm)
        top to (0, 2400mm)
        left to start
    }"
            )
            .replace("    top 2400mm\n    left\n    right\n", ""),
    );
    let (_, plan) = placed("", &text);
    let base: Vec<&Run> = plan.runs.iter().filter(|run| run.kind == "base").collect();
    let xs: Vec<(f64, f64)> = base.iter().map(|run| (run.segment.from.x.as_mm(), run.segment.to.x.as_mm())).collect();
    assert_eq!(xs, [(0.0, 300.0), (300.0, 700.0), (700.0, 1300.0)]);
    // 10 % down: −30 and −70.
    assert_eq!((base[1].segment.from.y, base[1].segment.to.y), (Length::mm(-30), Length::mm(-70)));
    let names: Vec<Vec<&str>> =
        base.iter().map(|run| plan.parts_of(run).map(|part| part.name.as_str()).collect()).collect();
    let outer = vec!["north.base.flashing", "north.base.mouse_stop"];
    assert_eq!(names, [outer.clone(), vec!["north.base.closure"], outer]);
    let flashing = plan.parts_of(base[2]).next().expect("a flashing");
    assert!(flashing.functions.water && flashing.rank == 0 && flashing.segment == base[2].segment);
    assert_eq!(flashing.run, Some(RunId(2)));
}

#[test]
fn ids_count_through_the_building() {
    let two = format!("{PLAIN}\n{}", PLAIN.replace("face north", "face south"));
    let (model, plan) = placed("", &two);
    adds_up(&model, &plan, true);
    for (face, placed) in plan.faces.iter().enumerate() {
        for contact in placed.areas.iter().flat_map(|area| &area.bays).flat_map(|bay| &bay.contacts) {
            if let Against::Run(id) = contact.with {
                assert_eq!(plan.run(id).map(|run| run.face.0 as usize), Some(face));
            }
        }
    }
    for node in &plan.nodes {
        assert!(node.runs.iter().all(|&run| plan.run(run).is_some_and(|run| run.face == node.face)));
    }
    assert_eq!(plan.runs_of(FaceId(1)).next().map(|(id, run)| (id, run.name.as_str())), Some((RunId(4), "south.base")));
}

#[test]
fn diagonal_strips_lie_at_their_angle() {
    let text = format!("{}\n{PLAIN}\n", HEAD.replace("            EXTRA\n", "").replace("vertical", "diagonal 45deg"));
    let (model, plan) = planned(&MapWorld::new().with("house.wythe", &text), "house.wythe");
    adds_up(&model, &plan, false);
    let strips = &plan.faces[0].areas[0].strips;
    assert!(strips.len() > 3);
    let middle = &strips[strips.len() / 2];
    let rise = middle.axis.vector();
    assert!((rise.dx - rise.dy).abs() < Length::MM, "{rise:?}");
}

#[test]
fn absurd_measures_end() {
    let text = PLAIN.replace("1300mm", "900000000mm").replace(
        "area all wall",
        "area all wall\n    window w frame 0mm x 0mm at (1mm, 1mm)\n    repeat 40 every 0mm {\n        window v frame 900mm x 900mm at (100mm, 100mm)\n    }",
    );
    let text = format!("{}\n{text}\n", HEAD.replace("EXTRA", "cross_gap 1mm every 1mm"));
    let world = MapWorld::new().with("house.wythe", &text);
    let project = crate::resolve::load(&world, &["house.wythe".to_owned()]);
    let model = crate::model::build(&project, &crate::eval::evaluate(&project));
    let plan = build(&model);
    assert_eq!(plan.faces.len(), 1);
}

/// A window, block or nothing somewhere near the wall, in tens of millimetres.
fn thing() -> impl Strategy<Value = String> {
    ((-5i64..60, -5i64..50), (1i64..30, 1i64..30), 0..3u8).prop_map(|((x, y), (width, height), sort)| {
        let (x, y, width, height) = (x * 50, y * 50, width * 50, height * 50);
        match sort {
            0 => format!("window NAME frame {width}mm x {height}mm at ({x}mm, {y}mm)"),
            1 => format!("block NAME at ({x}mm, {y}mm), width {width}mm, height {height}mm, on plane"),
            _ => format!("fire_stop NAME at {y}mm from {x}mm to {}mm, height 50mm, kind full", x + width),
        }
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, ..ProptestConfig::default() })]

    #[test]
    fn whatever_stands_on_a_face_its_areas_add_up(
        things in proptest::collection::vec(thing(), 0..6),
        stops in 0..3i64,
        held in 0..3i64,
        also in 0..4usize,
    ) {
        let also = ["", "also at corners", "also at corners and jambs and blocks", "also at jambs and joints"][also];
        let extra = format!(
            "            stops {}mm\n            held_up {}mm\n            held_down {}mm\n            {also}\n",
            stops * 25, held * 10, held * 15
        );
        let things: Vec<String> =
            things.iter().enumerate().map(|(at, thing)| thing.replace("NAME", &format!("n{at}"))).collect();
        let face = format!(
            "face north {{
    measured to sheathing
    outline from (0, 0) {{
        base to (1500mm, 0)
        step to (1500mm, 300mm)
        base to (3000mm, 300mm)
        right to (3000mm, 2400mm)
        top to (0, 2400mm)
        left to start
    }}
    area low wall below 1200mm
    area high smooth above 1200mm to 1800mm
    area side wall above 1200mm from 1800mm
    between low and high
    {}
}}",
            things.join("\n    ")
        );
        let text = format!("{}\n{face}\n", HEAD.replace("            EXTRA\n", &extra));
        let world = MapWorld::new().with("house.wythe", &text);
        let project = crate::resolve::load(&world, &["house.wythe".to_owned()]);
        let model = crate::model::build(&project, &crate::eval::evaluate(&project));
        let plan = build(&model);
        adds_up(&model, &plan, true);
        for bay in plan.faces.iter().flat_map(|face| &face.areas).flat_map(|area| &area.bays) {
            prop_assert!(bay.contacts.iter().all(|contact| contact.with != Against::Unknown), "{text}\n{:?}", bay.contacts);
        }
        let again = build(&model);
        prop_assert_eq!(format!("{plan:?}"), format!("{again:?}"));
    }
}
