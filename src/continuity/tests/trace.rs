//! The way of single drops, followed by hand.

use super::{read, wall};
use crate::continuity::{Ending, GapFlow, Gate, InTheWay, Refused, StepKind, Trace};
use crate::geometry::{Place, Point};
use crate::model::{FaceId, Model};
use crate::plan::Plan;
use crate::units::Length;

const FACE: FaceId = FaceId(0);

fn follow(text: &str, x: i64, y: i64) -> Trace {
    let (model, plan) = read(text);
    let flow = GapFlow::find(&model, &plan);
    Trace::water(&model, &plan, &flow, FACE, Point::mm(x, y)).unwrap()
}

/// Kind and end of every step, in whole mm.
fn steps(trace: &Trace) -> Vec<(&'static str, i64, i64)> {
    let word = |kind: &StepKind| match kind {
        StepKind::Fall => "fall",
        StepKind::Land => "land",
        StepKind::Run => "run",
        StepKind::Leave(Gate::Slot { .. }) => "slot",
        StepKind::Leave(Gate::Pierced(_)) => "pierced",
        StepKind::Leave(Gate::Weep { .. }) => "weep",
        StepKind::Leave(Gate::LowEnd(_)) => "low end",
        StepKind::Leave(Gate::Flashing) => "flashing",
        StepKind::Pass => "pass",
    };
    let mm = |length: Length| length.as_mm().round() as i64;
    trace.steps.iter().map(|step| (word(&step.kind), mm(step.place.to.x), mm(step.place.to.y))).collect()
}

fn stops(trace: &Trace) -> (&str, Option<f64>) {
    match &trace.ending {
        Ending::Stops { why, depth } => (why, depth.map(|depth| (depth.as_mm() * 10.0).round() / 10.0)),
        other => panic!("{other:?}"),
    }
}

#[test]
fn an_open_base_lets_a_drop_straight_out() {
    let trace = follow(&wall("", ""), 100, 1320);
    assert_eq!(steps(&trace), [("fall", 100, 0), ("land", 100, 0), ("slot", 100, 0)]);
    assert_eq!(trace.ending, Ending::Daylight);
    assert_eq!((trace.bay.bay, trace.in_the_way), (0, None));
    assert_eq!(trace.steps[0].length(), Length::mm(1320));
    // The gap is 19 less 2 for bulges.
    let StepKind::Leave(Gate::Slot { clear, screen }) = &trace.steps[2].kind else { panic!("{:?}", trace.steps) };
    assert_eq!((*clear, screen.is_some()), (Some(Length::mm(17)), true));
}

const WINDOW: &str = "window pane frame 400mm x 300mm at (400mm, 900mm), detail frame_edge";

#[test]
fn a_drop_over_a_window_leaves_over_its_head() {
    let trace = follow(&wall("", WINDOW), 600, 2000);
    assert_eq!(steps(&trace), [("fall", 600, 1200), ("land", 600, 1200), ("slot", 600, 1200)]);
    assert_eq!(trace.ending, Ending::Daylight);
    let StepKind::Leave(Gate::Slot { clear, .. }) = trace.steps[2].kind else { panic!("{:?}", trace.steps) };
    assert_eq!(clear, Some(Length::mm(10)));
}

#[test]
fn a_drop_under_a_sill_or_beside_a_jamb_passes_the_window() {
    for (x, y) in [(600, 700), (200, 1000)] {
        let trace = follow(&wall("", WINDOW), x, y);
        assert_eq!(steps(&trace), [("fall", x, 0), ("land", x, 0), ("slot", x, 0)]);
        assert_eq!(trace.ending, Ending::Daylight);
    }
}

#[test]
fn a_drop_on_a_shut_head_runs_off_its_nearer_end() {
    let shut = "detail shut_edge {\n at window\n gap_end closed\n air seals to frame with tapes.acrylic_wide\n}\n";
    let small = "window pane frame 200mm x 300mm at (500mm, 900mm), detail shut_edge";
    let text = format!("{shut}{}", wall("", small));
    let left = [
        ("fall", 550, 1200),
        ("land", 550, 1200),
        ("run", 500, 1200),
        ("fall", 500, 0),
        ("land", 500, 0),
        ("slot", 500, 0),
    ];
    assert_eq!(steps(&follow(&text, 550, 2000)), left);
    let right = follow(&text, 660, 2000);
    assert_eq!(steps(&right)[2], ("run", 700, 1200));
    assert_eq!(right.ending, Ending::Daylight);
}

const RAKED: &str = "base to (1200mm, -60mm), detail closed_base";
const WEEPS: &str = "trim foot ledge along base {\n holes weep 8mm, leg floor, between furring\n}";

#[test]
fn on_a_raked_base_water_runs_down_to_the_next_weep() {
    // 5 %: at x = 100 the floor is 5 lower; the weep is in the middle of the bay, 184 from the left end, 9.2 lower.
    let trace = follow(&wall(RAKED, WEEPS), 100, 500);
    assert_eq!(steps(&trace), [("fall", 100, -5), ("land", 100, -5), ("run", 184, -9), ("weep", 184, -9)]);
    let StepKind::Leave(Gate::Weep { trim, from_left, backs_up }) = &trace.steps[3].kind else { panic!() };
    assert_eq!((trim.as_deref(), *backs_up), (Some("foot"), Length::ZERO));
    // Along the slope: 184 × √(1 + 0.05²) = 184.23.
    assert!((from_left.as_mm() - 184.23).abs() < 0.01, "{from_left:?}");
    // Beyond the weep it runs to the low end and stands as deep as the weep is higher.
    let trace = follow(&wall(RAKED, WEEPS), 300, 500);
    assert_eq!(steps(&trace), [("fall", 300, -15), ("land", 300, -15), ("run", 368, -18)]);
    assert_eq!(stops(&trace).1, Some(9.2));
    // An open slot along the slope lets it out at once.
    let trace = follow(&wall("base to (1200mm, -60mm), detail open_base", ""), 300, 500);
    assert_eq!(steps(&trace), [("fall", 300, -15), ("land", 300, -15), ("slot", 300, -15)]);
}

#[test]
fn a_raked_channel_carries_it_on_under_the_furring() {
    let channel = |end: &str| {
        wall(RAKED, &format!("trim foot shut along base {{\n holes weep 8mm, leg floor, between furring\n{end}}}"))
    };
    let trace = follow(&channel(" low_end open\n"), 300, 500);
    assert_eq!(steps(&trace)[2..4], [("run", 368, -18), ("run", 600, -30)]);
    assert_eq!(trace.ending, Ending::Daylight, "{trace:?}");
    let trace = follow(&channel(" low_end open\n"), 1190, 500);
    assert_eq!(steps(&trace)[2..], [("run", 1200, -60), ("low end", 1200, -60)]);
    assert!(stops(&follow(&channel(" low_end closed\n"), 1190, 500)).0.contains("low end of `foot` is closed"));
    let unsaid = follow(&channel(""), 1190, 500);
    assert_eq!(unsaid.ending, Ending::CannotTell("whether the low end of `foot` is open".to_owned()));
}

#[test]
fn a_drop_stands_on_a_tight_nailer() {
    let nailer = |gaps: &str| wall("", &format!("nailer cleat 19mm x 38mm from (0, 1000mm) to 1200mm{gaps}"));
    let trace = follow(&nailer(""), 100, 2000);
    assert_eq!(steps(&trace), [("fall", 100, 1038), ("land", 100, 1038)]);
    assert_eq!(stops(&trace).0, "nailer `cleat` dams the gap");
    // A gap at its left end: water runs there and falls on.
    let trace = follow(&nailer(", gaps 20mm"), 100, 2000);
    assert_eq!(steps(&trace)[2..4], [("run", 20, 1038), ("fall", 20, 0)]);
    assert_eq!(trace.ending, Ending::Daylight);
}

#[test]
fn a_base_without_detail_cannot_be_told() {
    let trace = follow(&wall("base to (1200mm, 0)", ""), 100, 1320);
    let fact = "how the base is built: `north.base` has no detail";
    assert_eq!(trace.ending, Ending::CannotTell(fact.to_owned()));
}

#[test]
fn sheets_lapped_the_wrong_way_are_no_way_out() {
    let lapped = |word: &str| {
        format!(
            "assembly lapped {{\n like wall\n layer membrane membranes.vapour_open {{\n controls water and air\n lap 100mm\n \
             lapped {word}\n }}\n}}\n{}",
            wall("", "").replace("area all wall", "area all lapped")
        )
    };
    let sound = follow(&lapped("upper_over_lower"), 100, 1320);
    assert_eq!(sound.ending, Ending::Daylight);
    assert_eq!(sound.steps[0].lap.and_then(|lap| lap.lap), Some(Length::mm(100)));
    let (why, _) = (stops(&follow(&lapped("lower_over_upper"), 100, 1320)).0.to_owned(), ());
    assert_eq!(why, "`membrane` laps lower sheet over upper sheet: water runs in behind it");
}

#[test]
fn where_no_gap_is_the_nearest_bay_is_used() {
    // The strip at 400 reaches from 368 to 432.
    let trace = follow(&wall("", ""), 380, 500);
    assert_eq!((trace.in_the_way, trace.start), (Some(InTheWay::Strip(0, 0)), Point::mm(358, 500)));
    let trace = follow(&wall("", WINDOW), 420, 1000);
    assert_eq!(trace.in_the_way, Some(InTheWay::Opening(0)));
    assert_eq!(trace.ending, Ending::Daylight);
    let (model, plan) = read(&wall("", ""));
    let flow = GapFlow::find(&model, &plan);
    let refused = |x, y| Trace::water(&model, &plan, &flow, FACE, Point::mm(x, y)).err();
    assert_eq!(refused(1300, 10), Some(Refused::Outside));
    assert_eq!(refused(100, 2500), Some(Refused::Outside));
    assert_eq!(Trace::water(&model, &plan, &flow, FaceId(7), Point::mm(1, 1)).err(), Some(Refused::NoOutline));
    let solid = "assembly solid {\n layer boards materials.larch_wood 20mm\n layer sheathing plywood 12.5mm, controls water\n}\n";
    let (model, plan) = read(&format!("{solid}{}", wall("", "").replace("area all wall", "area all solid")));
    let flow = GapFlow::find(&model, &plan);
    assert_eq!(Trace::water(&model, &plan, &flow, FACE, Point::mm(1, 1)).err(), Some(Refused::NoGap(0)));
}

/// Follows a drop from places spread over every bay of every face. Water never rises, and a bay that is known to drain
/// everywhere, as all that lie below do, lets every drop out.
fn sound(model: &Model, plan: &Plan) -> usize {
    let flow = GapFlow::find(model, plan);
    let mut followed = 0;
    for bay in &flow.bays {
        let shape = &plan.face(bay.id.face).unwrap().areas[bay.id.area].bays[bay.id.bay].shape;
        let bounds = shape.bounds();
        for (across, up) in (0..21).flat_map(|across| (0..25).map(move |up| (across, up))) {
            let at = Point::new(
                bounds.left + bounds.width().scale(2 * across + 1, 42),
                bounds.bottom + bounds.height().scale(2 * up + 1, 50),
            );
            if shape.place(at) != Place::Inside {
                continue;
            }
            followed += 1;
            let trace = Trace::water(model, plan, &flow, bay.id.face, at).unwrap();
            let mut y = at.y;
            for step in &trace.steps {
                assert!(step.place.from.y <= y && step.place.to.y <= step.place.from.y, "{at:?}: {trace:#?}");
                y = step.place.to.y;
            }
            // Sheets lapped the wrong way are no trap of the bay, and yet no way out.
            let turned_in = trace.steps.iter().any(|step| step.reversed.is_some());
            if !turned_in && !bay.exits.is_empty() && bay.traps.is_empty() && bay.undecided.is_empty() {
                assert_eq!(trace.ending, Ending::Daylight, "{at:?}: {trace:#?}");
            }
            if trace.ending == Ending::Daylight {
                assert!(matches!(trace.steps.last().map(|step| &step.kind), Some(StepKind::Leave(_))));
            }
        }
    }
    followed
}

#[test]
fn every_drop_of_a_bay_that_drains_reaches_daylight() {
    let shut = "detail shut_edge {\n at window\n gap_end closed\n air seals to frame with tapes.acrylic_wide\n}\n";
    let lid = "window lid frame 260mm x 300mm at (470mm, 1500mm), detail shut_edge";
    let raked = "base to (1200mm, -60mm), detail open_base";
    for (base, rest) in [
        ("", ""),
        ("", WINDOW),
        ("", lid),
        (raked, WINDOW),
        (RAKED, WEEPS),
        (RAKED, "trim foot shut along base {\n holes weep 8mm, leg floor, between furring\n low_end open\n}"),
        ("", "trim foot shut along base to 500mm"),
        ("", "nailer cleat 19mm x 38mm from (0, 1000mm) to 1200mm, gaps 20mm"),
        ("", "vent belt 12mm at 1200mm {\n gives exit and inlet and outlet\n flashing aluminium 0.6mm\n}"),
        (
            "base a to (500mm, 0), detail open_base\n step b to (500mm, 200mm), detail side\n base c to (1200mm, 150mm), detail open_base",
            lid,
        ),
    ] {
        let (model, plan) = read(&format!("{shut}{}", wall(base, rest)));
        assert!(sound(&model, &plan) > 100, "{base} {rest}");
    }
}

#[test]
fn every_drop_of_the_examples_goes_down() {
    for name in ["heron-lane", "heron-lane-broken"] {
        let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(name);
        let mut world = crate::source::MapWorld::new();
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.extension().is_some_and(|end| end == "wythe") {
                let name = path.file_name().unwrap().to_str().unwrap().to_owned();
                world = world.with(&name, &std::fs::read_to_string(&path).unwrap());
            }
        }
        let project = crate::resolve::load(&world, &["building.wythe".to_owned()]);
        let evaluated = crate::eval::evaluate(&project);
        let model = crate::model::build(&project, &evaluated);
        let plan = crate::plan::build(&model);
        let followed = sound(&model, &plan);
        assert!(followed > 1000, "{name}: {followed}");
    }
}
