//! How the gap ends along a stretch of edge: slots of details, floors of channels, holes of trims, and why there is nothing.

use super::flow::{ExitKind, Opening};
use crate::geometry::{Point, Segment, split_run};
use crate::layout::holes::{self, Hole};
use crate::model::{Detail, Face, FaceId, GapEnd, HoleRow, Model, Place, Product, Side, Trim};
use crate::plan::{Against, Plan, Run, RunId};
use crate::units::Length;

/// How far snapped ends of the same edge may lie apart: 10 µm, far under any saw cut.
pub(super) const NEAR: Length = Length(10_000);

/// A weep through the face still drains if its lower lip is no higher than this above the floor: 2 mm, common practice.
const LOW_LIP: Length = Length::mm(2);

/// One face with its trims set out.
pub(super) struct Scene<'s> {
    pub model: &'s Model,
    pub plan: &'s Plan,
    pub id: FaceId,
    pub face: &'s Face,
    trims: Vec<SetOut<'s>>,
}

/// A trim on its line, with its holes.
pub(super) struct SetOut<'s> {
    pub trim: &'s Trim,
    pub product: Option<&'s Product>,
    /// Left (or lower) end first.
    pub line: Segment,
    rows: Vec<(&'s HoleRow, Result<Vec<Hole>, String>)>,
}

/// Whether water leaves by an opening.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Drains {
    Yes,
    No(String),
    Unknown(String),
}

/// One opening of a stretch, with the places of its holes and whether water leaves by it.
pub(super) struct Way {
    pub opening: Opening,
    pub holes: Vec<Point>,
    pub drains: Drains,
    /// Made for air, whatever the detail promises.
    pub vent: bool,
}

/// All that is known of how the gap ends along one stretch.
#[derive(Default)]
pub(super) struct Ends<'s> {
    pub ways: Vec<Way>,
    /// Reasons why parts of it are closed.
    pub closed: Vec<String>,
    /// Facts that are missing to tell.
    pub missing: Vec<String>,
    pub inlet: bool,
    pub outlet: bool,
    /// There is no detail to promise anything.
    pub bare: bool,
    /// Its detail could not be understood: already reported.
    pub broken: bool,
    /// A channel along it.
    pub channel: Option<&'s SetOut<'s>>,
}

impl<'s> Scene<'s> {
    pub fn new(model: &'s Model, plan: &'s Plan, id: FaceId, face: &'s Face) -> Self {
        let runs: Vec<&Run> = plan.runs_of(id).map(|(_, run)| run).collect();
        let set_out = |trim: &'s Trim| {
            let line = holes::trim_line(face, &runs, trim)?;
            let rows = trim.holes.iter().map(|row| (row, holes::holes(model, plan, id, trim, row))).collect();
            Some(SetOut { trim, product: model.product(trim.product), line, rows })
        };
        let trims = face.trims.iter().filter_map(set_out).collect();
        Self { model, plan, id, face, trims }
    }

    /// How the gap of an area ends along a stretch of a run.
    pub fn ends(&'s self, id: RunId, run: &Run, area: usize, stretch: Segment) -> Ends<'s> {
        let detail = run.detail.and_then(|detail| self.model.detail(detail));
        let side = side_of(run, area, stretch);
        let mut ends =
            Ends { bare: detail.is_none(), broken: detail.is_some_and(|detail| detail.broken), ..Ends::default() };
        let place = detail.map(|detail| detail.place(run.kind));
        ends.inlet = place.is_some_and(|place| promises(place, "inlet", side));
        ends.outlet = place.is_some_and(|place| promises(place, "outlet", side));
        let lines: Vec<Segment> = self.channels().map(|channel| channel.line).collect();
        for piece in split_run(stretch, &lines, NEAR) {
            match piece.over.and_then(|index| self.channels().nth(index)) {
                Some(channel) => {
                    self.channel_ends(channel, detail, side, (id, run), piece.part, &mut ends);
                    ends.channel = Some(channel);
                }
                None => self.slot_ends(detail, side, (id, run), piece.part, &mut ends),
            }
        }
        for trim in self.trims.iter().filter(|trim| !closes(trim)) {
            if let Some(part) = stretch.overlap_near(trim.line, NEAR) {
                trim.hole_ways(Against::Run(id), part, &mut ends);
            }
        }
        ends
    }

    /// The trim on whose line a point lies: one whose floor closes the gap before any other.
    pub fn trim_at(&'s self, at: Point) -> Option<&'s SetOut<'s>> {
        let here = || self.trims.iter().filter(|trim| lies_on(trim.line, at));
        here().find(|trim| closes(trim)).or_else(|| here().next())
    }

    /// All trims of the face.
    pub fn trims(&self) -> &[SetOut<'s>] {
        &self.trims
    }

    /// All trims that lie along a stretch, wholly or in part.
    pub fn trims_along(&'s self, stretch: Segment) -> impl Iterator<Item = &'s SetOut<'s>> {
        self.trims.iter().filter(move |trim| stretch.overlap_near(trim.line, NEAR).is_some())
    }

    /// Trims whose floor closes the gap unless it is pierced.
    fn channels(&'s self) -> impl Iterator<Item = &'s SetOut<'s>> {
        self.trims.iter().filter(|trim| closes(trim))
    }

    /// The slot a detail leaves.
    fn slot_ends(&self, detail: Option<&Detail>, side: Side, at: (RunId, &Run), part: Segment, ends: &mut Ends) {
        let (id, run) = at;
        let Some(detail) = detail else {
            ends.missing.push(format!("how the {} is built: `{}` has no detail", noun(run.kind), run.name));
            return;
        };
        let place = detail.place(run.kind);
        let Some(end) = gap_end(place, side) else {
            ends.missing
                .push(format!("how the gap ends at `{}`: `{}` says neither open nor closed", run.name, detail.name));
            return;
        };
        if !end.open {
            ends.closed.push(format!("`{}` closes the gap at `{}`", detail.name, run.name));
            return;
        }
        let drains = if promises(place, "exit", side) {
            Drains::Yes
        } else {
            Drains::No(format!("`{}` gives no exit at `{}`", detail.name, run.name))
        };
        let opening = self.slot(end, Against::Run(id), run, part);
        ends.ways.push(Way { opening, holes: Vec::new(), drains, vent: false });
    }

    /// The slot of a gap end along a stretch: height × length × open share of its screen.
    fn slot(&self, end: &GapEnd, with: Against, run: &Run, part: Segment) -> Opening {
        let height = end.slot.or_else(|| self.net_depth(run));
        let full = height.map(|height| height.as_m() * part.length().as_m());
        let missing = full.is_none().then(|| format!("depth of the gap at `{}`", run.name));
        self.screened(part, with, full.ok_or(missing), end.screen, end.joins)
    }

    /// An opening behind a screen; an area that cannot be told comes with the missing fact.
    pub fn screened(
        &self,
        segment: Segment,
        with: Against,
        full: Result<f64, Option<String>>,
        screen: Option<crate::model::ProductId>,
        joins: &'static str,
    ) -> Opening {
        let screen = screen.and_then(|id| self.model.product(id));
        let share = match screen {
            None => Ok((1.0, 1.0)),
            Some(screen) => screen
                .open
                .as_ref()
                .map(|open| open.value)
                .ok_or_else(|| Some(format!("open share of the screen `{}`", screen.name))),
        };
        let told = screen.and(share.as_ref().ok().copied());
        let (area, aged_area, missing) = match (full, share) {
            (Ok(full), Ok((new, aged))) => (Some(full * new), Some(full * aged), None),
            (Err(missing), _) | (_, Err(missing)) => (None, None, missing),
        };
        Opening { segment, with, kind: ExitKind::Slot, area, aged_area, share: told, missing, joins }
    }

    /// Net depth of the gap of the area a run bounds; the shallower one where it bounds two.
    pub fn net_depth(&self, run: &Run) -> Option<Length> {
        let depth = |area: usize| {
            let assembly = self.model.assembly(self.face.areas.get(area)?.assembly)?;
            Some(assembly.gap()?.1.net_depth())
        };
        [run.area, run.other].into_iter().flatten().filter_map(depth).min()
    }

    /// The floor of a channel: pierced, holed, or shut.
    fn channel_ends(
        &self,
        channel: &SetOut,
        detail: Option<&Detail>,
        side: Side,
        at: (RunId, &Run),
        part: Segment,
        ends: &mut Ends,
    ) {
        let with = Against::Run(at.0);
        let holes = channel.hole_ways(with, part, ends);
        match channel.product.and_then(|product| product.floor) {
            Some((true, free)) => {
                let name = &channel.trim.name;
                let missing = free.is_none().then(|| format!("free area of the floor of `{name}`"));
                let full = free.map(|free| free * part.length().as_m());
                let floor = self.screened(part, with, full.ok_or(missing), None, "outside");
                let end = detail.and_then(|detail| gap_end(detail.place(at.1.kind), side)).filter(|end| end.open);
                let opening = match end {
                    Some(end) => narrower(floor, self.slot(end, with, at.1, part)),
                    None => floor,
                };
                ends.ways.push(Way { opening, holes: Vec::new(), drains: Drains::Yes, vent: false });
            }
            Some((false, _)) if !holes => {
                ends.closed
                    .push(format!("`{}` closes the gap: its floor is solid, and no weep lies here", channel.trim.name));
            }
            None if !holes => ends.missing.push(format!("whether the floor of `{}` is pierced", channel.trim.name)),
            Some((false, _)) | None => {}
        }
    }
}

impl SetOut<'_> {
    /// Adds the holes that lie on a stretch; whether any row has holes there, or may have.
    fn hole_ways(&self, with: Against, part: Segment, ends: &mut Ends) -> bool {
        let mut any = false;
        for (row, holes) in self.rows.iter().filter(|(row, _)| row.purpose != "fix") {
            let holes = match holes {
                Ok(holes) => holes,
                Err(missing) => {
                    ends.missing.push(missing.clone());
                    any = true;
                    continue;
                }
            };
            let here: Vec<Point> = holes.iter().map(|hole| hole.at).filter(|&at| lies_on(part, at)).collect();
            if here.is_empty() {
                continue;
            }
            any = true;
            let area = hole_area(row) * here.len() as f64;
            let opening = Opening {
                segment: part,
                with,
                kind: ExitKind::Holes,
                area: Some(area),
                aged_area: Some(area),
                share: None,
                missing: None,
                joins: "outside",
            };
            ends.ways.push(Way { opening, holes: here, drains: self.row_drains(row), vent: row.purpose == "vent" });
        }
        any
    }

    /// Whether water leaves by the holes of a row: through the floor, or through the face right above it.
    fn row_drains(&self, row: &HoleRow) -> Drains {
        let name = &self.trim.name;
        match (row.purpose, row.leg, row.lip) {
            ("weep", Some("floor"), _) => Drains::Yes,
            ("weep", Some("face"), Some(lip)) if lip <= LOW_LIP => Drains::Yes,
            ("weep", Some("face"), None) => {
                Drains::Unknown(format!("how high the lower lip of the weeps of `{name}` is above its floor"))
            }
            ("weep", Some("face"), _) => Drains::No(format!("the weeps of `{name}` lie above its floor")),
            ("weep", None, _) => Drains::Unknown(format!("which leg the weeps of `{name}` go through")),
            ("weep", ..) => Drains::No(format!("the weeps of `{name}` go through its back")),
            _ => Drains::No(format!("`{name}` has holes for air only")),
        }
    }

    /// The lower of its two ends, if it slopes.
    pub fn low_end(&self) -> Option<Point> {
        (self.line.from.y != self.line.to.y).then(|| self.line.lower_end())
    }

    /// Its floor is pierced along its whole length.
    pub fn is_pierced(&self) -> bool {
        self.product.and_then(|product| product.floor).is_some_and(|(pierced, _)| pierced)
    }

    /// Its rows of weeps with the places of their holes, those through its back left out.
    pub fn weeps(&self) -> impl Iterator<Item = (&HoleRow, Vec<Point>)> {
        let rows = self.rows.iter().filter(|(row, _)| row.purpose == "weep" && row.leg != Some("back"));
        rows.filter_map(|(row, holes)| {
            let holes = holes.as_ref().ok()?;
            Some((*row, holes.iter().map(|hole| hole.at).collect()))
        })
    }

    /// Its holes that drain, on its whole length.
    pub fn drain_holes(&self) -> impl Iterator<Item = Point> {
        let drain = self.rows.iter().filter(|(row, _)| self.row_drains(row) == Drains::Yes);
        drain.filter_map(|(_, holes)| holes.as_ref().ok()).flatten().map(|hole| hole.at)
    }
}

/// Free area of one hole, m²: π d²/4, or the length times the height of a slot.
pub(super) fn hole_area(row: &HoleRow) -> f64 {
    let height = row.height.as_m();
    row.slot.map_or(std::f64::consts::PI * height * height / 4.0, |length| length.as_m() * height)
}

/// Whether a trim shuts the gap unless its floor is pierced or holed.
fn closes(trim: &SetOut) -> bool {
    trim.product.is_some_and(|product| product.kind == "channel" || product.floor.is_some())
}

/// Of two openings in one line, the one that lets less through; one that cannot be told if either cannot.
fn narrower(one: Opening, other: Opening) -> Opening {
    match (one.area, other.area) {
        (Some(a), Some(b)) => {
            let aged = one.aged_area.zip(other.aged_area).map(|(a, b)| a.min(b));
            let share = if a <= b { one.share } else { other.share };
            Opening { area: Some(a.min(b)), aged_area: aged, share, ..other }
        }
        (None, _) => one,
        (_, None) => other,
    }
}

/// Whether a point lies between the ends of a stretch, snapped ends allowed for.
pub(super) fn lies_on(part: Segment, at: Point) -> bool {
    let within = |a: Length, b: Length, value: Length| a.min(b) - NEAR <= value && value <= a.max(b) + NEAR;
    let on_line = if part.from.x == part.to.x {
        (at.x - part.from.x).abs() <= NEAR
    } else {
        part.y_at(at.x.clamp(part.from.x.min(part.to.x), part.from.x.max(part.to.x)))
            .is_some_and(|y| (y - at.y).abs() <= NEAR)
    };
    on_line && within(part.from.x, part.to.x, at.x) && within(part.from.y, part.to.y, at.y)
}

/// The side of a run on which a bay lies: upper (or left) and lower (or right) where two areas meet, above or below a floor or a
/// ledger, the only one elsewhere. The bay lies to the left of its stretch.
pub(super) fn side_of(run: &Run, area: usize, stretch: Segment) -> Side {
    if run.place.divides() {
        return if stretch.vector().dot(run.segment.vector()) > 0 { Side::Upper } else { Side::Lower };
    }
    match run.other {
        None => Side::Both,
        Some(other) if other == area => Side::Lower,
        Some(_) => Side::Upper,
    }
}

/// Whether what is said for `said` holds for the side `wanted`; [`Side::Both`] is wanted where there is only one.
fn holds_for(said: Side, wanted: Side) -> bool {
    said == wanted || said == Side::Both || wanted == Side::Both
}

/// Whether a place makes a promise to a side.
pub(super) fn promises(place: &Place, promise: &str, side: Side) -> bool {
    place.gives.iter().any(|gives| gives.promise == promise && holds_for(gives.to, side))
}

/// How a place ends the gap of a side.
pub(super) fn gap_end(place: &Place, side: Side) -> Option<&GapEnd> {
    let own = |end: &&GapEnd| end.to == side;
    place.gap_ends.iter().find(own).or_else(|| place.gap_ends.iter().find(|end| holds_for(end.to, side)))
}

/// How people call an edge of a kind.
pub(super) fn noun(kind: &str) -> &str {
    match kind {
        "roof_line" => "edge along the roof",
        "deck_line" => "edge along the deck",
        "transition" => "joint between the two areas",
        "floor_line" => "break at the floor",
        "side" | "left" | "right" => "side",
        other => other,
    }
}
