//! Flat patterns of what is folded one by one: kick-outs, saddles with their gussets, and the arms of corner pieces.
//!
//! A pattern lies weather face up, with its lower left corner at nought; marks run from its left end and its lower edge.

use super::Leg;
use crate::geometry::{Point, Segment};
use crate::units::Length;

/// A line the metal is bent along.
#[derive(Clone, Debug, PartialEq)]
pub struct Fold {
    /// From.
    pub from: Point,
    /// To.
    pub to: Point,
    /// Degrees, positive towards the weather face, negative to the opposite side.
    pub turn: f64,
}

/// A piece of metal with corners, folds and cuts of its own.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Pattern {
    /// Corners, against the clock.
    pub outline: Vec<Point>,
    /// Where it is bent, in the order of the work.
    pub folds: Vec<Fold>,
    /// Cuts within the outline.
    pub cuts: Vec<[Point; 2]>,
    /// What to do, in order.
    pub steps: Vec<String>,
}

impl Pattern {
    /// Left, right, bottom, top.
    fn edges(&self) -> [Length; 4] {
        let xs = || self.outline.iter().map(|point| point.x);
        let ys = || self.outline.iter().map(|point| point.y);
        [xs().min(), xs().max(), ys().min(), ys().max()].map(|edge| edge.unwrap_or_default())
    }

    /// Length and width of the rectangle it is cut from.
    pub fn blank(&self) -> (Length, Length) {
        let [left, right, bottom, top] = self.edges();
        (right - left, top - bottom)
    }

    /// With its lower left corner at nought; turned over about an upright line where `other_hand`.
    fn placed(mut self, other_hand: bool) -> Self {
        let [left, right, bottom, _] = self.edges();
        let moved = |point: Point| {
            let x = if other_hand { right - point.x } else { point.x - left };
            Point::new(x, point.y - bottom)
        };
        let map = |points: &mut Vec<Point>| points.iter_mut().for_each(|point| *point = moved(*point));
        map(&mut self.outline);
        if other_hand {
            self.outline.reverse();
        }
        for fold in &mut self.folds {
            (fold.from, fold.to) = (moved(fold.from), moved(fold.to));
        }
        for cut in &mut self.cuts {
            *cut = cut.map(moved);
        }
        self
    }
}

/// Sizes of a kick-out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct KickOut {
    /// Leg against the wall.
    pub upstand: Length,
    /// Leg on the roof.
    pub leg: Length,
    /// Up the roof, under the lowest step flashing.
    pub up_roof: Length,
    /// Length of the flare.
    pub flare: Length,
    /// How far the end of the flare stands out from the wall; less than the flare is long.
    pub stands_out: Length,
}

/// A kick-out from one piece, with no cut at its corner: the wall leg is turned out at the corner K, and what is too much of it
/// there, a wedge as wide as the turn, is doubled back behind the flare. `None` if the flare cannot stand out so far.
/// `low_left`: its low end is the left one, seen from outside.
pub fn kick_out(sizes: KickOut, low_left: bool) -> Option<Pattern> {
    let sine = sizes.stands_out.as_mm() / sizes.flare.as_mm().max(f64::MIN_POSITIVE);
    if !(sine > 0.0 && sine < 1.0) || sizes.stands_out > sizes.leg {
        return None;
    }
    let turn = libm::asin(sine);
    let (sin, cos) = (sine, libm::cos(turn));
    let along = |length: Length, by: f64| Length::snap_mm(length.as_mm() * by);
    let corner = Point::new(Length::ZERO, Length::ZERO);
    let (up, down, high) = (-sizes.up_roof, -sizes.leg, sizes.upstand);
    let tip = Point::new(along(sizes.flare, cos), -sizes.stands_out);
    let above = |point: Point| Point::new(point.x + along(high, sin), point.y + along(high, cos));
    let outline = vec![
        Point::new(up, down),
        Point::new(tip.x, down),
        tip,
        above(tip),
        above(corner),
        Point::new(Length::ZERO, high),
        Point::new(up, high),
    ];
    // The bisector ends on the straight upper edge of the wedge.
    let middle = Segment::new(above(corner), Point::new(Length::ZERO, high)).midpoint();
    let fold = |from, to, turn| Fold { from, to, turn };
    let degrees = turn.to_degrees();
    let folds = vec![
        fold(Point::new(up, Length::ZERO), corner, 90.0),
        fold(corner, tip, 90.0),
        fold(corner, Point::new(Length::ZERO, high), -90.0),
        fold(corner, above(corner), -90.0),
        fold(corner, middle, 180.0),
    ];
    let steps = vec![
        "start bends 1 and 2, along the roof leg on both sides of K, to about 45°".to_owned(),
        format!(
            "turn the flare out by {degrees:.0}° at K: 3 and 4 go back, the wedge between them is pressed together along 5"
        ),
        "lay the doubled wedge flat behind the flare; close 1 and 2 to 90°".to_owned(),
        "no cut at K: hold it to the light, nothing shows through".to_owned(),
    ];
    Some(Pattern { outline, folds, cuts: Vec::new(), steps }.placed(low_left))
}

/// Sizes of a saddle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Saddle {
    /// Width of the top of the parapet, with what the legs stand off.
    pub top: Length,
    /// Along the parapet, under its coping.
    pub along: Length,
    /// Legs down both faces of the parapet.
    pub leg: Length,
    /// Up the higher wall.
    pub upstand: Length,
    /// Lap of a gusset on the metal beside it.
    pub tab: Length,
    /// Fall of the top to the roof side, rise over run.
    pub slope: f64,
}

/// A saddle: the top of the parapet, a leg down each face, and an upstand on the higher wall that runs past both faces. Round each
/// lower corner of the upstand lie 450° of metal, and a flat sheet has 360: a gusset closes the rest.
pub fn saddle(sizes: Saddle) -> Pattern {
    let (wide, along, leg, high) = (sizes.top, sizes.along, sizes.leg, sizes.upstand);
    let at = Point::new;
    let zero = Length::ZERO;
    let outline = vec![
        at(-leg, zero),
        at(wide + leg, zero),
        at(wide + leg, along),
        at(wide + leg, along + high),
        at(-leg, along + high),
        at(-leg, along),
    ];
    let fold = |from, to, turn| Fold { from, to, turn };
    let folds = vec![
        fold(at(zero, zero), at(zero, along), -90.0),
        fold(at(wide, zero), at(wide, along), -90.0),
        fold(at(zero, along), at(wide, along), 90.0),
    ];
    let cuts = vec![[at(-leg, along), at(zero, along)], [at(wide, along), at(wide + leg, along)]];
    let fall = format!("{:.1}", libm::atan(sizes.slope).to_degrees());
    let steps = vec![
        "cut at both X lines, up to the corners K and not past them".to_owned(),
        "turn the upstand up, the two legs down; the ends of the upstand lie flat on the higher wall".to_owned(),
        format!(
            "close each K with a gusset: one tab behind the end of the upstand, one under the leg, riveted and soldered or \
             bedded in sealant over the patch; the top falls {fall}° to the roof"
        ),
    ];
    Pattern { outline, folds, cuts, steps }.placed(false)
}

/// The gusset below one corner of a saddle: against the higher wall beside the parapet, with a tab under the leg and a tab behind the
/// end of the upstand.
pub fn gusset(leg: Length, tab: Length) -> Pattern {
    let at = Point::new;
    let zero = Length::ZERO;
    let outline =
        vec![at(-tab, zero), at(leg, zero), at(leg, leg + tab), at(zero, leg + tab), at(zero, leg), at(-tab, leg)];
    let folds = vec![Fold { from: at(zero, zero), to: at(zero, leg), turn: 90.0 }];
    let steps = vec![
        "one of each pair is folded the other way: they are handed".to_owned(),
        "the upper tab stays flat and goes behind the end of the upstand".to_owned(),
    ];
    Pattern { outline, folds, cuts: Vec::new(), steps }.placed(false)
}

/// One arm of a corner piece: the profile of the flashings it laps, mitred where the two arms meet, with a tab of its upstand round the
/// corner. `lap`: over the flashing it joins. `inside`: the corner is an inside one. `right`: the corner is at its right end.
/// `None` where the profile has no ledge.
pub fn corner_arm(legs: &[Leg], lap: Length, tab: Length, inside: bool, right: bool) -> Option<Pattern> {
    let ledge = legs.iter().position(|leg| leg.what == "ledge")?;
    let girth: Length = legs.iter().map(|leg| leg.length).sum();
    let upstand: Length = legs.iter().take(ledge).map(|leg| leg.length).sum();
    let deep = legs.get(ledge)?.length;
    let level = level_of(legs, ledge);
    let at = Point::new;
    let zero = Length::ZERO;
    // x runs to the corner, which is at nought; y from the lower edge.
    let (bend, edge) = (girth - upstand, girth - upstand - deep);
    let reach = if inside { -level } else { level };
    let outline = vec![
        at(-lap, zero),
        at(reach, zero),
        at(reach, edge),
        at(zero, bend),
        at(tab, bend),
        at(tab, girth),
        at(-lap, girth),
    ];
    let mut folds = Vec::new();
    let mut mark = girth;
    for leg in legs {
        if leg.turn != 0.0 && mark < girth {
            let to = if mark == bend { zero } else { reach };
            folds.push(Fold { from: at(-lap, mark), to: at(to, mark), turn: leg.turn });
        }
        mark -= leg.length;
    }
    folds.push(Fold { from: at(zero, bend), to: at(zero, girth), turn: if inside { 90.0 } else { -90.0 } });
    let steps = vec![
        "bend the profile first, then the tab of the upstand round the corner".to_owned(),
        "the arm of the other hand meets it on the mitre: a strip behind it, riveted clear of the drip, and sealed"
            .to_owned(),
    ];
    Some(Pattern { outline, folds, cuts: Vec::new(), steps }.placed(!right))
}

/// Level depth of a sloping ledge: what it turns from the wall tells how it lies.
fn level_of(legs: &[Leg], ledge: usize) -> Length {
    legs.get(ledge)
        .map_or(Length::ZERO, |leg| Length::snap_mm(leg.length.as_mm() * libm::sin(leg.turn.abs().to_radians())))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn mm(value: f64) -> Length {
        Length::snap_mm(value)
    }

    fn long(from: Point, to: Point) -> f64 {
        libm::hypot((to.x - from.x).as_mm(), (to.y - from.y).as_mm())
    }

    proptest! {
        /// Folding keeps lengths and angles: round K the two edges of the wedge meet, so the flare closes against the wall leg; its
        /// far end stands out as said.
        #[test]
        fn a_kick_out_closes_at_its_corner(
            upstand in 100.0..200.0_f64, flare in 80.0..150.0_f64, share in 0.2..0.9_f64, left: bool,
        ) {
            let out = (flare * share).min(100.0);
            let sizes = KickOut {
                upstand: mm(upstand), leg: mm(100.0), up_roof: mm(200.0), flare: mm(flare), stands_out: mm(out),
            };
            let pattern = kick_out(sizes, left).unwrap();
            let [main, flared, first, second, wedge] = &pattern.folds[..] else { panic!() };
            // Both edges of the wedge are as long as the wall leg is high, and stand square on the folds of the roof leg.
            for (edge, fold) in [(first, main), (second, flared)] {
                prop_assert!((long(edge.from, edge.to) - upstand).abs() < 0.001);
                let dot = (edge.to.x - edge.from.x).as_mm() * (fold.to.x - fold.from.x).as_mm()
                    + (edge.to.y - edge.from.y).as_mm() * (fold.to.y - fold.from.y).as_mm();
                prop_assert!(dot.abs() < 0.01, "{dot}");
            }
            // Its middle line is as far from both, so one half lies on the other.
            prop_assert!((long(wedge.to, first.to) - long(wedge.to, second.to)).abs() < 0.001);
            prop_assert!((long(flared.from, flared.to) - flare).abs() < 0.001);
            prop_assert!(((main.from.y - flared.to.y).as_mm() - out).abs() < 0.001);
            let (length, width) = pattern.blank();
            let turn = libm::asin(out / flare);
            prop_assert!((length.as_mm() - (200.0 + flare * turn.cos() + upstand * turn.sin())).abs() < 0.01);
            prop_assert!((width.as_mm() - (upstand + 100.0)).abs() < 0.01);
        }
    }

    #[test]
    fn a_flare_cannot_stand_out_farther_than_it_is_long() {
        let sizes =
            KickOut { upstand: mm(120.0), leg: mm(100.0), up_roof: mm(200.0), flare: mm(60.0), stands_out: mm(70.0) };
        assert_eq!(kick_out(sizes, false), None);
    }

    #[test]
    fn the_two_hands_of_a_kick_out_are_mirror_images() {
        let sizes =
            KickOut { upstand: mm(120.0), leg: mm(100.0), up_roof: mm(200.0), flare: mm(100.0), stands_out: mm(70.0) };
        let [right, left] = [false, true].map(|left| kick_out(sizes, left).unwrap());
        let (length, _) = right.blank();
        let mut turned: Vec<Point> = right.outline.iter().map(|point| Point::new(length - point.x, point.y)).collect();
        turned.reverse();
        assert_eq!(turned, left.outline);
    }

    #[test]
    fn a_saddle_by_hand() {
        // Parapet 200 wide, legs 75, 150 under the coping, 100 up the wall: a blank of 350 by 250, two cuts of 75.
        let sizes =
            Saddle { top: mm(200.0), along: mm(150.0), leg: mm(75.0), upstand: mm(100.0), tab: mm(25.0), slope: 0.06 };
        let pattern = saddle(sizes);
        assert_eq!(pattern.blank(), (mm(350.0), mm(250.0)));
        assert!(pattern.cuts.iter().all(|[from, to]| long(*from, *to) == 75.0));
        // Each gusset: 75 each way and a tab of 25 on two sides.
        assert_eq!(gusset(mm(75.0), mm(25.0)).blank(), (mm(100.0), mm(100.0)));
    }

    #[test]
    fn arms_of_a_corner_meet_on_the_mitre() {
        // Ledge 39 deep at 6 %: it lies 39 past an outside corner and stops 39 short of an inside one (mitre of 90°: 45° each).
        let theta = libm::atan(0.06).to_degrees();
        let legs = [
            Leg { what: "upstand", length: mm(75.0), turn: 0.0 },
            Leg { what: "ledge", length: mm(39.0 * 1.0036_f64.sqrt()), turn: 90.0 - theta },
            Leg { what: "drip", length: mm(15.0), turn: theta - 90.0 },
        ];
        let (length, width) = corner_arm(&legs, mm(100.0), mm(25.0), false, true).unwrap().blank();
        assert!((length.as_mm() - 139.0).abs() < 0.01 && (width.as_mm() - 129.07).abs() < 0.01);
        let inside = corner_arm(&legs, mm(100.0), mm(25.0), true, true).unwrap();
        assert_eq!(inside.blank().0, mm(125.0));
        assert!(inside.folds.iter().any(|fold| fold.turn == 90.0));
        assert_eq!(corner_arm(&legs[..1], mm(100.0), mm(25.0), true, true), None);
    }
}
