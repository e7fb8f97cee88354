//! The gable of the trade, and a whole house of which nothing is missing or double.

use super::*;
use crate::session::{Checked, Settings, check, heron_lane};
use crate::source::MapWorld;

fn wall(text: &str) -> Checked {
    check(&MapWorld::new().with("wall.wythe", text), &["wall.wythe".to_owned()], &Settings::default())
}

const GABLE: &str = "wythe 1
use std.boards
product plain board { size 10mm x 150mm, stock 20m, lap 0mm, joint_gap 0mm }
assembly bare { layer boards plain 10mm, controls rain, exposure 150mm..150mm }
face gable {
    measured to cladding
    outline from (0, 0) {
        base to (8530mm, 0)
        rake to (4265mm, 2487.9mm)
        rake to start
    }
    area all bare
}
";

#[test]
fn a_gable_of_7_in_12_has_the_courses_of_the_trade() {
    // Practice: gable 8.53 m wide, 7 in 12, exposure 150: 17 courses, bottom edges 8530, 8016, 7501, 6987 … 301;
    // sum 75.1 m. Each end is 257.1 shorter; the saw stands at 59.74° from square.
    let checked = wall(GABLE);
    let pieces = cut(&checked.model, &checked.plan, 20.0);
    assert_eq!(pieces.list.len(), 17, "{:?}", pieces.missing);
    let bottom = |piece: &Piece| {
        let [(from, to)] = piece.seen.x_intervals_at(piece.seen.bounds().bottom)[..] else { panic!() };
        (to - from).as_mm()
    };
    for (at, edge) in [(0, 8530.0), (1, 8016.0), (2, 7501.0), (3, 6987.0), (15, 816.0), (16, 301.0)] {
        assert!((bottom(&pieces.list[at]) - edge).abs() < 1.0, "{at}: {}", bottom(&pieces.list[at]));
    }
    let sum: f64 = pieces.list.iter().map(bottom).sum();
    assert!((sum / 1000.0 - 75.1).abs() < 0.05, "{sum}");
    let [left, right] = pieces.list[3].ends;
    assert!((left.from_square - 59.74).abs() < 0.01 && (right.from_square + 59.74).abs() < 0.01, "{left:?} {right:?}");
    assert_eq!((pieces.list[3].hand, pieces.list[3].mark.as_str()), (None, "G4-1"));
}

#[test]
fn pieces_and_gaps_fill_the_field() {
    let checked = heron_lane();
    let pieces = cut(&checked.model, &checked.plan, 20.0);
    assert!(pieces.missing.is_empty(), "{:?}", pieces.missing);
    for (face, stands_on) in checked.model.faces.iter().enumerate() {
        let id = FaceId(face as u32);
        for area in 0..stands_on.areas.len() {
            let cutting = Cutting::of(&checked.model, &checked.plan, id, area, 20.0).unwrap().unwrap();
            let own: Vec<&Piece> = pieces.list.iter().filter(|piece| piece.face == id && piece.area == area).collect();
            let seen: Region = own.iter().map(|piece| piece.seen.clone()).collect();
            // No piece lies on another: the union is as large as the sum.
            let sum: i128 = own.iter().map(|piece| piece.seen.doubled_area()).sum();
            assert_eq!(seen.doubled_area(), sum);
            assert!(cutting.field.region.covers(&seen));
            // What is not covered is joints, growth and splinters: under 1.5 % of the field.
            let (covered, field) = (seen.doubled_area() as f64, cutting.field.region.doubled_area() as f64);
            assert!(covered / field > 0.985, "{} {area}: {}", stands_on.name, covered / field);
        }
    }
    let marks: std::collections::BTreeSet<&str> = pieces.list.iter().map(|piece| piece.mark.as_str()).collect();
    assert_eq!(marks.len(), pieces.list.len(), "no two pieces share a mark");
}

#[test]
fn no_piece_is_longer_than_its_stock_and_joints_lie_on_strips() {
    let checked = heron_lane();
    let pieces = cut(&checked.model, &checked.plan, 20.0);
    let longest =
        |piece: &Piece| checked.model.product(piece.product.unwrap()).unwrap().stock.iter().copied().max().unwrap();
    for pair in pieces.list.windows(2) {
        let (one, two) = (&pair[0], &pair[1]);
        assert!(one.length <= longest(one), "{} {:?}", one.mark, one.length);
        let gap = two.seen.bounds().left - one.seen.bounds().right;
        if (one.face, one.area, one.course) != (two.face, two.area, two.course) || gap > Length::mm(20) || gap.0 <= 0 {
            continue;
        }
        let middle = one.seen.bounds().right + Length(gap.0 / 2);
        let strips = joints::supports(&checked.plan.faces[one.face.0 as usize], one.area);
        assert!(strips.iter().any(|strip| (strip.x - middle).abs() <= Length::mm(2)), "{} | {}", one.mark, two.mark);
    }
}

#[test]
fn a_hotter_day_leaves_smaller_gaps() {
    let checked = heron_lane();
    let total =
        |surface| -> i64 { cut(&checked.model, &checked.plan, surface).list.iter().map(|piece| piece.length.0).sum() };
    assert!(total(35.0) > total(-10.0));
}

/// A wall of plain boards with no gaps, of which everything but these lines is the same.
fn plain(outline: &str, things: &str) -> Checked {
    wall(&format!(
        "wythe 1
product plain board {{ size 10mm x 150mm, stock 20m, lap 0mm, joint_gap 0mm, clearance 0mm }}
assembly bare {{ layer boards plain 10mm, controls rain, exposure 150mm..150mm }}
face south {{
    measured to cladding
    outline from (0, 0) {{
{outline}
    }}
    area all bare
{things}
}}
"
    ))
}

const SQUARE: &str = "base to (3000mm, 0)\nright to (3000mm, 1500mm)\ntop to (0, 1500mm)\nleft to start";

#[test]
fn a_pipe_in_the_middle_of_a_board_is_bored_and_one_at_its_edge_is_notched() {
    // Boards of 150 from 0: the second lies from 150 to 300. A pipe of 50 and 6 round it: 62.
    let checked = plain(SQUARE, "pipe middle 50mm at (1000mm, 225mm)\npipe edge 50mm at (2000mm, 300mm)");
    let pieces = cut(&checked.model, &checked.plan, 20.0);
    assert!(pieces.missing.is_empty(), "{:?} {:?}", pieces.missing, checked.problems);
    let cut: Vec<(&str, &Cutout)> =
        pieces.list.iter().flat_map(|piece| piece.cutouts.iter().map(|cut| (piece.mark.as_str(), cut))).collect();
    let [(bored, hole), (lower, under), (upper, over)] = cut[..] else { panic!("{cut:?}") };
    assert_eq!((bored, hole.round, hole.notch), ("S2-1", true, false));
    assert_eq!(hole.centre(), (Length::mm(1000), Length::mm(75)));
    assert_eq!(hole.along, (Length::mm(969), Length::mm(1031)));
    assert_eq!((lower, under.notch, under.up), ("S2-1", true, (Length::mm(119), Length::mm(150))));
    assert_eq!((upper, over.notch, over.up), ("S3-1", true, (Length::ZERO, Length::mm(31))));
}

#[test]
fn a_hole_with_too_little_board_beside_it_is_a_notch() {
    // 75 − 40 − 6 leaves 29 above and below, 225 + 15 leaves 14 above: less than 20.
    let checked = plain(SQUARE, "pipe high 80mm at (1000mm, 240mm)");
    let pieces = cut(&checked.model, &checked.plan, 20.0);
    let cut: Vec<&Cutout> = pieces.list.iter().flat_map(|piece| &piece.cutouts).collect();
    assert!(cut.len() == 1 && cut[0].notch && cut[0].up == (Length::mm(44), Length::mm(150)), "{cut:?}");
}

#[test]
fn the_last_triangle_of_a_gable_is_left_to_the_trim() {
    // 8530 wide and 2420 high: above the 16th course lie 20 mm, 70 wide: no room for two fasteners.
    // The pole is fixed at the foot; free to choose, the courses would begin where the peak is no sliver.
    let pole = "}\nbuilding house {\nfaces south\nstory_pole exposure 150mm..150mm start 0mm";
    let checked = plain("base to (8530mm, 0)\nrake to (4265mm, 2420mm)\nrake to start", pole);
    let pieces = cut(&checked.model, &checked.plan, 20.0);
    let small: Vec<&str> =
        pieces.list.iter().filter(|piece| piece.too_small).map(|piece| piece.mark.as_str()).collect();
    assert_eq!(small, ["S17-1"]);
    // That of the trade's example, 301 wide, is fixed.
    let gable = wall(GABLE);
    assert!(cut(&gable.model, &gable.plan, 20.0).list.iter().all(|piece| !piece.too_small));
}

#[test]
fn mirrored_pieces_are_of_the_other_hand() {
    let hand = |outline: &str| {
        let checked = plain(outline, "");
        let pieces = cut(&checked.model, &checked.plan, 20.0);
        pieces.list.iter().map(|piece| piece.hand).collect::<Vec<_>>()
    };
    let left = hand("base to (3000mm, 0)\nright to (3000mm, 1500mm)\nrake to start");
    let right = hand("base to (3000mm, 0)\nrake to (0, 1500mm)\nleft to start");
    assert!(left.iter().all(|hand| *hand == Some(Hand::Left)), "{left:?}");
    assert!(right.iter().all(|hand| *hand == Some(Hand::Right)), "{right:?}");
    assert!(hand(SQUARE).iter().all(Option::is_none));
}

/// Joints of one course of a wall of 9144 with strips every 406.4.
fn joined(turn: i64, below: &[Vec<Length>], stops: &[crate::layout::field::Stop]) -> Vec<Length> {
    let strip = |at: i64| Length(406_400_000 * at);
    let supports: Vec<joints::Support> =
        (0..=22).map(|at| joints::Support { x: strip(at), from: Length::ZERO, to: Length::mm(6000) }).collect();
    joints::choose(&joints::Course {
        left: Length::ZERO,
        right: Length(9_144_000_000),
        height: Length::mm(1075),
        longest: Length(3_657_600_000),
        supports: &supports,
        below,
        stops,
        band: (Length::mm(1000), Length::mm(1150)),
        turn,
    })
}

#[test]
fn joints_are_staggered_as_the_trade_staggers_them() {
    // Practice: stock 3657.6 (9 bays) on 9144: every joint on a strip, 2 bays (812.8) or more from those of the course below, the
    // pattern repeats after three courses or more, end pieces 1.5 bays (609.6) or more.
    let bay = Length(406_400_000);
    let mut below: Vec<Vec<Length>> = Vec::new();
    for turn in 0..9 {
        let joints = joined(turn, &below, &[]);
        let ends: Vec<Length> =
            [Length::ZERO].into_iter().chain(joints.iter().copied()).chain([Length(9_144_000_000)]).collect();
        for pair in ends.windows(2) {
            assert!(pair[1] - pair[0] <= Length(3_657_600_000) && pair[1] - pair[0] >= bay * 3 / 2, "{turn}: {ends:?}");
        }
        for joint in &joints {
            assert_eq!(joint.0 % bay.0, 0, "{turn}: {joints:?}");
            let near = below.first().into_iter().flatten().map(|other| (*other - *joint).abs()).min();
            assert!(near.is_none_or(|near| near >= bay * 2), "{turn}: {joints:?} over {below:?}");
        }
        assert!(below.iter().all(|other| *other != joints), "{turn}: three courses or more until it repeats");
        below.insert(0, joints);
        below.truncate(joints::BACK);
    }
}

#[test]
fn no_joint_lies_over_the_corner_of_an_opening() {
    // Practice: not within a bay of an opening's corner. A window from 2200 to 6000 in the course; without it joints lie there.
    let free = joined(0, &[], &[]);
    assert!(free.iter().any(|x| (*x - Length::mm(2200)).abs() <= Length::mm(406)), "{free:?}");
    let shape = Polygon::rectangle(Length::mm(2200), Length::mm(500), Length::mm(6000), Length::mm(1050));
    let stops = [crate::layout::field::Stop::opening("window", shape)];
    let kept = joined(0, &[], &stops);
    for corner in [2200, 6000] {
        assert!(kept.iter().all(|x| (*x - Length::mm(corner)).abs() >= Length::mm(406)), "{kept:?}");
    }
}

proptest::proptest! {
    #![proptest_config(proptest::prelude::ProptestConfig { failure_persistence: None, ..proptest::prelude::ProptestConfig::with_cases(24) })]
    /// Boards without gaps fill the wall to the last square nanometre, whatever its openings.
    #[test]
    fn boards_and_openings_fill_the_wall(
        wide in 300..900_i64, high in 250..600_i64, left in 50..100_i64, foot in 20..80_i64, w in 40..150_i64, h in 40..150_i64,
    ) {
        // Whole centimetres, so that no rest is thinner than a saw cut.
        let outline = format!(
            "base to ({0}mm, 0)\nright to ({0}mm, {1}mm)\ntop to (0, {1}mm)\nleft to start", wide * 10, high * 10
        );
        let opening = format!("opening hole {}mm x {}mm at ({}mm, {}mm)", w * 10, h * 10, left * 10, foot * 10);
        let checked = plain(&outline, &opening);
        let pieces = cut(&checked.model, &checked.plan, 20.0);
        proptest::prop_assert!(pieces.missing.is_empty(), "{:?} {:?}", pieces.missing, checked.problems);
        let sum: i128 = pieces.list.iter().map(|piece| piece.seen.doubled_area()).sum();
        let net = i128::from(wide * high - w * h) * 2 * 100 * 1_000_000_000_000;
        proptest::prop_assert_eq!(sum, net);
    }
}

#[test]
fn boards_meet_where_the_wall_says() {
    // Marks of 16 in bays on the third course; a stretch longer than the stock is joined once more.
    let text = |joints: &str| {
        format!(
            "wythe 1
use std.furring
product plain board {{ size 10mm x 150mm, stock 3660mm, lap 0mm, joint_gap 0mm }}
assembly bare {{
    layer boards plain 10mm, controls rain, exposure 150mm..150mm
    gap cavity 19mm ventilated {{
        furring furring.spruce 19mm x 64mm, every 400mm on centre, vertical
    }}
}}
face long {{
    measured to cladding
    outline from (0, 0) {{
        base to (9000mm, 0)
        right to (9000mm, 900mm)
        top to (0, 900mm)
        left to start
    }}
    area all bare {{
{joints}
    }}
}}
"
        )
    };
    let ends = |checked: &Checked, course: i64| -> Vec<Length> {
        let pieces = cut(&checked.model, &checked.plan, 70.0);
        let own = pieces.list.iter().filter(|piece| piece.course == course).map(|piece| piece.seen.bounds().right);
        own.collect()
    };
    let said = wall(&text("        joints at (1200mm, 4800mm) course 3"));
    assert_eq!(ends(&said, 3)[..2], [Length::mm(1200), Length::mm(4800)]);
    assert!(ends(&said, 3).len() >= 4, "4800 to 9000 is longer than 3660");
    assert!(!ends(&said, 2).contains(&Length::mm(1200)) || !ends(&said, 2).contains(&Length::mm(4800)));
    let every = wall(&text("        joints at (1200mm, 4800mm)"));
    assert!((1..=6).all(|course| ends(&every, course).contains(&Length::mm(4800))));
}

/// Heights of level edges of what shows of the pieces, without those of whole courses.
fn level_cuts(pieces: &Pieces, face: FaceId, area: usize) -> std::collections::BTreeSet<Length> {
    let own = pieces.list.iter().filter(|piece| piece.face == face && piece.area == area);
    let edges = own.flat_map(|piece| piece.seen.edges().map(|edge| edge.segment).collect::<Vec<_>>());
    edges.filter(|edge| edge.is_horizontal()).map(|edge| edge.from.y).collect()
}

/// Every level line of a field is an edge of a piece, and every level edge of a piece is such a line or a course line.
fn lines_are_edges(checked: &Checked) {
    let pieces = cut(&checked.model, &checked.plan, 20.0);
    assert!(!pieces.list.is_empty(), "{:?}", pieces.missing);
    for (at, placed) in checked.plan.faces.iter().enumerate() {
        let Some((start, exposure)) = placed.course_start.zip(placed.exposure) else { continue };
        for (area, plan) in placed.areas.iter().enumerate() {
            let Some(field) = &plan.field else { continue };
            let cuts = level_cuts(&pieces, FaceId(at as u32), area);
            let lines: std::collections::BTreeSet<Length> = field.levels.iter().map(|line| line.height()).collect();
            for &height in &cuts {
                let over = (height - start).0.rem_euclid(exposure.0);
                assert!(over == 0 || lines.contains(&height), "{} is cut at {height:?}", checked.model.faces[at].name);
            }
            for line in field.levels.iter().filter(|line| line.is_cut() && line.along.from != line.along.to) {
                let left = crate::layout::courses::strip(line.cut, line.height(), start, exposure).unwrap();
                let splinter = left < crate::layout::courses::SPLINTER;
                assert!(splinter || cuts.contains(&line.height()), "nothing is cut at {}: {left:?}", line.what());
            }
        }
    }
}

#[test]
fn the_lines_courses_are_chosen_by_are_where_pieces_are_cut() {
    lines_are_edges(&heron_lane());
}

proptest::proptest! {
    #![proptest_config(proptest::prelude::ProptestConfig { failure_persistence: None, cases: 40, ..Default::default() })]

    /// Random walls: openings with and without trims, on furring or cladding, a block in courses, a rake or a level top.
    #[test]
    fn on_random_walls_too(
        (wide, high, rise) in (3000_i64..9000, 2400_i64..6000, 0_i64..2000),
        windows in proptest::collection::vec((200_i64..6000, 200_i64..4000, 300_i64..1800, 300_i64..1600, 0..3_usize), 0..4),
        (block, courses) in ((200_i64..4000, 100_i64..2000), 1_i64..4),
        (least, most) in (110_i64..130, 130_i64..141),
    ) {
        let mut text = format!("wythe 1
use std.boards
use std.details (screened_base, eave, rake_outlet, corner_boards, flashed_window_on_furring)
detail foot {{
    like screened_base
}}
assembly clad {{ layer boards boards.larch 20mm, controls rain, exposure {least}mm..{most}mm }}
face wall {{
    measured to cladding
    outline from (0, 0) {{
        base to ({wide}mm, 0), detail foot
        right to ({wide}mm, {high}mm), detail corner_boards
        rake to ({}mm, {}mm), detail rake_outlet
        rake to (0, {high}mm), detail rake_outlet
        left to start, detail corner_boards
    }}
    area all clad
    block box at ({}mm, {}mm), courses {courses}, width 300mm
", wide / 2, high + rise + 100, block.0, block.1);
        for (at, (x, y, w, h, on)) in windows.iter().enumerate() {
            let trims = ["", ", trims 89mm on furring", ", trims 89mm on cladding"][*on];
            text += &format!("    window w{at} frame {w}mm x {h}mm at ({x}mm, {y}mm), detail flashed_window_on_furring{trims}\n");
        }
        text += "}\n";
        lines_are_edges(&wall(&text));
    }
}
