//! The field that cladding covers: an area without its openings, trims, blocks, slots and the gaps beside them, and the
//! lines at which cladding ends there.
//!
//! The choice of courses, the rule on slivers, the story pole and the cutting of pieces all read this one field, so that
//! none of them can take a board to end where another does not.

use super::courses::Cut;
use super::grid::{self, Grid};
use super::stack;
use crate::geometry::{Bounds, Point, Polygon, Region, Ring, Segment, high_points, low_points};
use crate::model::{Face, Layer, Model, Opening, PartSpec, Product, Where};
use crate::plan::{FacePlan, Run};
use crate::units::Length;

/// Gap beside a trim where neither layer nor product names one. Common practice, no source.
const GAP: Length = Length::mm(3);
/// Height above a flashing where the product names none. Common practice, no source.
const CLEAR: Length = Length::mm(6);
/// A shorter edge is a corner cut out of one piece rather than the end of a course. Common practice, no source.
const LEAST_CUT: Length = Length::mm(50);
/// Surfaces on the hottest day by how dark they are, °C. Common practice, no source; limits of this name outrank them.
const HOTTEST: [(&str, f64); 3] = [("light", 50.0), ("mid", 60.0), ("dark", 70.0)];

/// Where cladding lies.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Field {
    /// What shows of it.
    pub region: Region,
    /// Left between two pieces, before anything for heat.
    pub joint: Length,
    /// Rectangles round which boards are cut: openings with their trims, blocks.
    pub stops: Vec<Stop>,
    /// Level lines, peaks and lowest corners at which it ends, from the lowest up.
    pub levels: Vec<EndLine>,
    /// Plumb lines at which it ends, from the left; `Over` is cladding to the right of the line.
    pub sides: Vec<EndLine>,
    /// Where boards that stand, or the columns of sheets, begin; none for level courses.
    pub columns: Option<Grid>,
    /// Where the rows of sheets begin.
    pub rows: Option<Grid>,
}

/// A line at which cladding ends: an edge of the field.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct EndLine {
    /// On which side of it cladding lies.
    pub cut: Cut,
    /// Its lower or left end first; one point for a peak or a lowest corner.
    pub along: Segment,
    /// What ends it there: `sill of`, `frieze`, `foot`.
    pub noun: &'static str,
    /// Its name: an opening, block or slot, else an edge of the wall.
    pub thing: String,
    /// It is a foot of the wall, where the first course begins.
    pub foot: bool,
    /// How many courses of a block lie below it that is measured in courses: it goes up with them.
    pub courses: i64,
}

/// Something cladding is cut round.
#[derive(Clone, Debug, PartialEq)]
pub struct Stop {
    /// Its name.
    pub name: String,
    /// Left, bottom, right, top of what cladding stays out of.
    pub shape: Polygon,
    /// What it is.
    kind: StopKind,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum StopKind {
    Opening,
    /// With its height in courses, if it is measured in them.
    Block(i64),
    Slot,
}

impl Stop {
    /// An opening with its trims.
    pub fn opening(name: &str, shape: Polygon) -> Self {
        Self { name: name.to_owned(), shape, kind: StopKind::Opening }
    }
}

impl EndLine {
    /// Height of a level line; of an upright one that of its lower end.
    pub fn height(&self) -> Length {
        self.along.from.y
    }

    /// As a person says it: "sill of `kitchen`", "frieze `main_eave`".
    pub fn what(&self) -> String {
        if self.noun == self.thing { self.noun.to_owned() } else { format!("{} `{}`", self.noun, self.thing) }
    }

    /// Whether pieces end along it or in its peak; what is shorter is a corner cut out of one piece.
    pub fn is_cut(&self) -> bool {
        self.along.from == self.along.to || self.along.length() >= LEAST_CUT
    }
}

/// The hottest the surface of a product gets, °C.
pub(in crate::layout) fn hottest(model: &Model, product: &Product) -> f64 {
    let shade = product.surface.unwrap_or("dark");
    let ours = HOTTEST.iter().find(|(name, _)| *name == shade).map_or(70.0, |(_, hottest)| *hottest);
    model.limit(&format!("temperature.{shade}")).and_then(|limit| limit.number()).unwrap_or(ours)
}

/// The field of an area: what its rain layer covers. `None` where nothing is known of the wall there.
pub fn field(model: &Model, face: &Face, placed: &FacePlan, runs: &[Run], area: usize) -> Option<Field> {
    let layer = stack::shedding(model.assembly(face.areas.get(area)?.assembly)?)?;
    let product = model.product_of(&layer.stuff);
    let whole = &placed.areas.get(area)?.net;
    let joint = layer.joint_gap.or(product.and_then(|p| Some(p.joint_gap.as_ref()?.value))).unwrap_or(GAP);
    let clear = product.and_then(|product| product.clearance.as_ref()).map_or(CLEAR, |clear| clear.value);
    let mut limits: Vec<Limit> = Vec::new();
    for run in runs {
        let Some(depth) = set_back(model, run, area, joint, clear) else { continue };
        // Upright edges are followed a little past their ends, where a sloping base or rake leaves a corner.
        let upright = matches!(run.kind, "corner" | "left" | "right");
        let line = if upright { longer(run.segment, depth) } else { run.segment };
        let place = run.name.split_once('.').map_or(run.name.as_str(), |(_, place)| place);
        let foot = matches!(run.kind, "base" | "roof_line" | "deck_line" | "underside" | "transition");
        let (noun, thing) = (edge_noun(run.kind, depth), place.to_owned());
        limits.push(Limit { noun, thing, strip: beside(line, depth), line: run.segment, depth, foot });
    }
    let stops = stops(model, face, placed, whole.bounds()?, (joint, clear));
    let strips = limits.iter().flat_map(|limit| limit.strip.clone());
    let taken: Region = strips.chain(stops.iter().map(|stop| stop.shape.clone())).collect();
    let region = whole.difference(&taken);
    let (mut levels, mut sides) = (Vec::new(), Vec::new());
    for (_, edge) in region.edges() {
        let (from, to) = (edge.segment.from, edge.segment.to);
        let along = Segment::new(from.min(to), from.max(to));
        // The cladding lies to the left of the edge.
        if edge.segment.is_horizontal() {
            levels.push(named(along, if edge.segment.is_ceiling() { Cut::Under } else { Cut::Over }, &stops, &limits));
        } else if edge.segment.is_vertical() {
            sides.push(named(along, if to.y > from.y { Cut::Under } else { Cut::Over }, &stops, &limits));
        }
    }
    for polygon in region.polygons() {
        let corners = |points: Vec<crate::geometry::LevelPoint>, cut: Cut| {
            let mere = points.into_iter().filter(|point| point.level.is_empty());
            mere.map(move |point| (Segment::new(point.at, point.at), cut)).collect::<Vec<_>>()
        };
        let peaks = [corners(high_points(polygon), Cut::Under), corners(low_points(polygon), Cut::Over)].concat();
        levels.extend(peaks.into_iter().map(|(along, cut)| named(along, cut, &stops, &limits)));
    }
    levels.sort_by_key(|line| (line.along.from.y, line.along.from.x, line.cut));
    sides.sort_by_key(|line| (line.along.from.x, line.along.from.y, line.cut));
    let [columns, rows] = grids(layer, product, joint, &levels, &sides);
    Some(Field { region, joint, stops, levels, sides, columns, rows })
}

/// Columns of boards that stand; columns and rows of sheets, which lie or stand as the layer runs.
fn grids(
    layer: &Layer,
    product: Option<&Product>,
    joint: Length,
    levels: &[EndLine],
    sides: &[EndLine],
) -> [Option<Grid>; 2] {
    if product.is_some_and(|product| product.kind == "panel") {
        let Some(&[one, two]) = product.map(|product| product.sheet.as_slice()) else { return [None; 2] };
        let (wide, high) =
            if layer.runs_vertical { (one.min(two), one.max(two)) } else { (one.max(two), one.min(two)) };
        let least = product.and_then(|product| Some(product.rip.as_ref()?.value));
        let across: Vec<(Cut, Length)> = sides.iter().map(|side| (side.cut, side.along.from.x)).collect();
        let up: Vec<(Cut, Length)> = levels.iter().map(|level| (level.cut, level.height())).collect();
        return [(wide, across), (high, up)]
            .map(|(sheet, lines)| (sheet.0 > 0).then(|| grid::sheets(&lines, sheet, joint, least)));
    }
    if !layer.runs_vertical {
        return [None; 2];
    }
    let wide = product.and_then(board_width).or(layer.exposure.map(|(_, most)| most));
    let range = wide.map(|wide| layer.exposure.map_or((wide, wide), |(least, most)| (least.min(wide), most.min(wide))));
    [range.and_then(|range| grid::boards(sides, range)), None]
}

/// Height of a board itself as it is bought: its face width.
pub(in crate::layout) fn board_width(product: &Product) -> Option<Length> {
    product.width.or(product.size.get(1).copied())
}

/// A stretch of the area's own edge with what it takes off the field.
struct Limit {
    noun: &'static str,
    thing: String,
    strip: Vec<Polygon>,
    line: Segment,
    depth: Length,
    foot: bool,
}

impl Limit {
    /// Whether the edge of its strip passes a point of the field's edge, but for snapping.
    fn ends_at(&self, point: Point) -> bool {
        let (along, out) = (self.line.vector(), Segment::new(self.line.from, point).vector());
        let long = self.line.length_mm();
        let share = (along.dot(out) as f64 / 1e12 / (long * long).max(1e-9)).clamp(0.0, 1.0);
        let (dx, dy) = (out.dx.as_mm() - along.dx.as_mm() * share, out.dy.as_mm() - along.dy.as_mm() * share);
        (libm::hypot(dx, dy) - self.depth.as_mm()).abs() < 0.5
    }
}

/// What a stretch is called where cladding ends at it.
fn edge_noun(kind: &str, depth: Length) -> &'static str {
    match kind {
        "base" | "step" => "foot",
        "top" | "parapet" if depth.0 > 0 => "frieze",
        "rake" => "rake",
        "top" | "parapet" => "top",
        "roof_line" => "roof line",
        "deck_line" => "deck line",
        "transition" => "shelf",
        "corner" | "left" | "right" | "side" => "side",
        _ => "edge",
    }
}

/// A line with the name of what lies on its other side: an opening, block or slot before an edge of the wall.
fn named(along: Segment, cut: Cut, stops: &[Stop], limits: &[Limit]) -> EndLine {
    let middle = along.midpoint();
    let on = |bounds: Bounds| {
        let across = bounds.left <= middle.x && middle.x <= bounds.right;
        let up = bounds.bottom <= middle.y && middle.y <= bounds.top;
        across
            && up
            && (middle.y == bounds.bottom
                || middle.y == bounds.top
                || middle.x == bounds.left
                || middle.x == bounds.right)
    };
    if let Some(stop) = stops.iter().find(|stop| on(stop.shape.bounds())) {
        let noun = match (stop.kind, cut, along.is_vertical() && along.from != along.to) {
            (_, Cut::Over, true) => "right of",
            (_, Cut::Under, true) => "left of",
            (StopKind::Opening, Cut::Over, _) => "head of",
            (StopKind::Opening, Cut::Under, _) => "sill of",
            (StopKind::Block(_), Cut::Over, _) => "top of block",
            (StopKind::Block(_), Cut::Under, _) => "foot of block",
            (StopKind::Slot, Cut::Over, _) => "over slot",
            (StopKind::Slot, Cut::Under, _) => "under slot",
        };
        let courses = match stop.kind {
            StopKind::Block(courses) if cut == Cut::Over && middle.y == stop.shape.bounds().top => courses,
            _ => 0,
        };
        return EndLine { cut, along, noun, thing: stop.name.clone(), foot: false, courses };
    }
    let limit = limits.iter().find(|limit| limit.ends_at(middle));
    let (noun, thing) = limit.map_or(("edge of", "the area"), |limit| (limit.noun, limit.thing.as_str()));
    let foot = cut == Cut::Over && limit.is_some_and(|limit| limit.foot);
    EndLine { cut, along, noun, thing: thing.to_owned(), foot, courses: 0 }
}

/// How far cladding stays back from a stretch of the area's own edge; `None` for one it does not touch.
fn set_back(model: &Model, run: &Run, area: usize, joint: Length, clear: Length) -> Option<Length> {
    let upper = run.area == Some(area);
    if !upper && run.other != Some(area) {
        return None;
    }
    // An edge without a detail is a finding of its own; the cladding is taken to run up to it.
    let detail = run.detail.and_then(|id| model.detail(id));
    let Some(detail) = detail else { return Some(Length::ZERO) };
    let parts = &detail.place(run.kind).parts;
    let trim = parts.iter().rfind(|part| matches!(part.kind, "trim" | "corner"));
    let covered = |part: &PartSpec| {
        let width = part.width.or(model.product_of(&part.stuff).and_then(|product| product.width)).unwrap_or_default();
        if part.on == Some("cladding") { Length::ZERO } else { width }
    };
    let keep = detail.keep;
    Some(match run.kind {
        "corner" | "left" | "right" | "side" => trim.map_or(joint, |part| covered(part) + joint),
        "top" | "rake" | "parapet" => {
            let held = trim.and_then(|part| part.holds_up).unwrap_or_default();
            trim.map_or(clear, |part| covered(part) + held + joint)
        }
        "roof_line" | "deck_line" => keep.unwrap_or(clear),
        // Above a shelf the courses stay clear of its flashing; below it they run up to it.
        "transition" if upper => clear,
        "transition" => joint,
        "step" => joint,
        // Openings are cut round with their trims, see `stops`; the base line is the drip edge of the first course.
        _ => Length::ZERO,
    })
}

/// The strip on the wall side of a stretch. The wall lies to the left of it; for the lower area of a transition, to the right.
fn beside(segment: Segment, depth: Length) -> Vec<Polygon> {
    let (from, to) = (segment.from, segment.to);
    let length = segment.length();
    if length.0 <= 0 || depth.0 <= 0 {
        return Vec::new();
    }
    let across = |d: Length| Length::snap_mm(d.as_mm() * depth.as_mm() / length.as_mm());
    let (dx, dy) = (across(to.x - from.x), across(to.y - from.y));
    let shift = |point: Point, way: i64| Point::new(point.x - Length(dy.0 * way), point.y + Length(dx.0 * way));
    let ring = Ring::new(vec![from, to, shift(to, 1), shift(from, 1)]);
    let other = Ring::new(vec![from, shift(from, -1), shift(to, -1), to]);
    // A strip on each side: the one outside the area takes nothing from it.
    let both: Region = [Polygon::new(ring, Vec::new()), Polygon::new(other, Vec::new())].into_iter().collect();
    both.into_components()
}

/// An upright stretch, longer at both ends.
fn longer(segment: Segment, by: Length) -> Segment {
    let by = if segment.to.y > segment.from.y { by } else { Length(-by.0) };
    Segment::new(Point::new(segment.from.x, segment.from.y - by), Point::new(segment.to.x, segment.to.y + by))
}

/// Openings with their trims, and blocks, with the gaps round them; rows of slots.
fn stops(model: &Model, face: &Face, placed: &FacePlan, whole: Bounds, (joint, clear): (Length, Length)) -> Vec<Stop> {
    let mut stops = Vec::new();
    for (opening, frame) in face.openings.iter().zip(&placed.openings) {
        let bounds = frame.bounds();
        let [sides, above, below] = trims_round(model, opening);
        let shape = Polygon::rectangle(
            bounds.left - sides - joint,
            bounds.bottom - below - joint,
            bounds.right + sides + joint,
            bounds.top + above + clear,
        );
        stops.push(Stop::opening(&opening.name, shape));
    }
    for (block, shape) in face.blocks.iter().zip(&placed.blocks) {
        let Some(bounds) = shape.as_ref().map(|shape| shape.bounds()) else { continue };
        let gap = block.side_gap.unwrap_or(joint);
        let over = if block.flashing.is_some() { clear } else { gap };
        let shape = Polygon::rectangle(bounds.left - gap, bounds.bottom - gap, bounds.right + gap, bounds.top + over);
        let courses = if block.height.is_none() { block.courses.unwrap_or(0) } else { 0 };
        stops.push(Stop { name: block.name.clone(), shape, kind: StopKind::Block(courses) });
    }
    for vent in &face.vents {
        let end = |place: Option<Where>, side: Length| match place {
            Some(Where::At(x)) => x,
            Some(Where::Left) => whole.left,
            Some(Where::Right) => whole.right,
            Some(Where::Centre) => (whole.left + whole.right) / 2,
            None => side,
        };
        let (left, right) = (end(vent.from, whole.left), end(vent.to, whole.right));
        let shape = Polygon::rectangle(left, vent.height, right, vent.height + vent.slot);
        if left < right && vent.slot.0 > 0 {
            stops.push(Stop { name: vent.name.clone(), shape, kind: StopKind::Slot });
        }
    }
    stops
}

/// How far trims cover beside, above and below an opening. Where its detail names trims, those; else the `trims` clause, on
/// three sides. Trims that lie on the cladding cover it, so it runs on beneath them to the frame.
pub fn trims_round(model: &Model, opening: &Opening) -> [Length; 3] {
    let Some((width, on)) = opening.trims else { return [Length::ZERO; 3] };
    if on == "cladding" {
        return [Length::ZERO; 3];
    }
    let reveal = opening.reveal.unwrap_or_default();
    let detail = opening.detail.and_then(|id| model.detail(id));
    let has = |kind: &str| detail.is_some_and(|detail| detail.place(kind).parts.iter().any(|part| part.kind == "trim"));
    let any = ["head", "jamb", "sill"].into_iter().any(has);
    let covers = |kind: &str| if has(kind) || (!any && kind != "sill") { width + reveal } else { Length::ZERO };
    // A flashing over the head trim holds itself clear of the trim, and the cladding clear of the flashing.
    [covers("jamb"), covers("head"), covers("sill")]
}
