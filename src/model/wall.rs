//! Faces, what stands on them, and the building they make together.

use std::sync::Arc;

use super::{AssemblyId, DetailId, FaceId, Fasten, PartSpec, ProductId, RainFactor, Sourced, Stuff, Sureness};
use crate::eval::Date;
use crate::geometry::{Point, Ring, Segment};
use crate::source::Span;
use crate::units::{Length, Range};

/// One wall plane, seen from outside.
#[derive(Clone, Debug)]
pub struct Face {
    /// Its name.
    pub name: String,
    /// The way it looks, degrees clockwise from north.
    pub looks: Option<f64>,
    /// What it gets of the driving rain in the open, where it says so itself.
    pub rain_factors: Vec<RainFactor>,
    /// `frame`, `sheathing`, `cladding`; absent if not said.
    pub measured_to: Option<&'static str>,
    /// Its outline, anticlockwise; absent if it could not be made. Then nothing else of the face is checked.
    pub outline: Option<Ring>,
    /// Its edges, in the order of the walk.
    pub edges: Vec<Edge>,
    /// Ground lines.
    pub ground: Vec<Ground>,
    /// Roofs that touch it.
    pub roofs: Vec<Roof>,
    /// Decks that touch it.
    pub decks: Vec<Deck>,
    /// How far the eave stands out, and the height of its edge.
    pub overhang: Option<(Length, Option<Length>)>,
    /// Distance to the lot line.
    pub limiting_distance: Option<Length>,
    /// Distance to the nearest road or walk on which salt is strewn.
    pub salted: Option<Length>,
    /// Parts built one way each.
    pub areas: Vec<Area>,
    /// How areas meet.
    pub betweens: Vec<Between>,
    /// Floors.
    pub floor_lines: Vec<FloorLine>,
    /// Windows, doors and other openings, repeats expanded.
    pub openings: Vec<Opening>,
    /// Everything that passes through, in blocks or alone, repeats expanded.
    pub services: Vec<Service>,
    /// Pads.
    pub blocks: Vec<Block>,
    /// Profiles along edges.
    pub trims: Vec<Trim>,
    /// Rows of slots at mid-height.
    pub vents: Vec<Vent>,
    /// Boards that carry decks.
    pub ledgers: Vec<super::Ledger>,
    /// Rows of brackets.
    pub bracket_rows: Vec<super::BracketRow>,
    /// Loose horizontal pieces in the gap.
    pub nailers: Vec<Nailer>,
    /// Blocks against fire.
    pub fire_stops: Vec<FireStop>,
    /// Brackets and ledgers.
    pub brackets: Vec<Bracket>,
    /// Something in it could not be understood.
    pub broken: bool,
    /// Keyword and name.
    pub origin: Span,
}

impl Face {
    /// A face with nothing on it and no outline yet.
    pub fn bare(name: &str, origin: Span) -> Self {
        Self {
            name: name.to_owned(),
            looks: None,
            rain_factors: Vec::new(),
            measured_to: None,
            outline: None,
            edges: Vec::new(),
            ground: Vec::new(),
            roofs: Vec::new(),
            decks: Vec::new(),
            overhang: None,
            limiting_distance: None,
            salted: None,
            areas: Vec::new(),
            betweens: Vec::new(),
            floor_lines: Vec::new(),
            openings: Vec::new(),
            services: Vec::new(),
            blocks: Vec::new(),
            trims: Vec::new(),
            vents: Vec::new(),
            ledgers: Vec::new(),
            bracket_rows: Vec::new(),
            nailers: Vec::new(),
            fire_stops: Vec::new(),
            brackets: Vec::new(),
            broken: false,
            origin,
        }
    }
}

/// An edge of the outline. The wall is to the left of its direction.
#[derive(Clone, Debug)]
pub struct Edge {
    /// `base`, or `rake.1` and `rake.2` where there are several without names of their own.
    pub name: String,
    /// The schema's word: `base`, `top`, `rake`, `left`, `right`, `step`, `roof_line`, `deck_line`, `underside`, `parapet`.
    pub kind: &'static str,
    /// From where to where.
    pub segment: Segment,
    /// Details along it.
    pub details: Vec<Stretch>,
    /// The face at the other side.
    pub meets: Option<Corner>,
    /// Clearance of the cladding to what is below.
    pub keep: Option<Length>,
    /// What of the building the barrier joins here, if not the usual.
    pub joins: Option<&'static str>,
    /// How the point at its far end is built.
    pub point: Option<DetailId>,
    /// Its line.
    pub origin: Span,
}

/// A stretch of an edge with its detail.
#[derive(Clone, Debug)]
pub struct Stretch {
    /// The detail.
    pub detail: DetailId,
    /// From; the start of the edge if left out.
    pub from: Option<Where>,
    /// To; the end of the edge if left out.
    pub to: Option<Where>,
    /// Its clause.
    pub origin: Span,
}

/// A place along an edge or a face.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Where {
    /// The left end (or the lower one of an upright edge).
    Left,
    /// The right end (or the upper one).
    Right,
    /// The middle.
    Centre,
    /// This far: x on the face for lying edges, y for upright ones.
    At(Length),
}

/// The face at the other side of a corner.
#[derive(Clone, Debug)]
pub struct Corner {
    /// Its name.
    pub face: String,
    /// Its id, if there is such a face.
    pub id: Option<FaceId>,
    /// `outside` or `inside`; absent if not said.
    pub kind: Option<&'static str>,
    /// Its clause.
    pub origin: Span,
}

/// A line of ground in front of a face.
#[derive(Clone, Debug)]
pub struct Ground {
    /// Measured places, sorted by x; between them it is straight, beyond them level, unless it falls.
    pub points: Vec<Point>,
    /// `soil`, `paved`, …; absent if not said.
    pub surface: Option<&'static str>,
    /// What will raise it.
    pub planned: Vec<Planned>,
    /// Its line.
    pub origin: Span,
}

/// What will raise the ground later.
#[derive(Clone, Debug)]
pub struct Planned {
    /// `paving`, `bed`, `gravel`.
    pub what: &'static str,
    /// How much it adds.
    pub depth: Length,
    /// From.
    pub from: Option<Where>,
    /// To.
    pub to: Option<Where>,
    /// Its clause.
    pub origin: Span,
}

/// A roof surface that touches the face along a line.
#[derive(Clone, Debug)]
pub struct Roof {
    /// Its name.
    pub name: String,
    /// Left end to right end.
    pub line: Segment,
    /// How the wall is built along it.
    pub detail: Option<DetailId>,
    /// Height and material of the diverter at its low end.
    pub kick_out: Option<(Length, Option<Stuff>, Span)>,
    /// Height of a course of its roofing, along the slope.
    pub course: Option<Length>,
    /// Its lower edge has a gutter.
    pub gutter: Option<bool>,
    /// `inside`, `at_corner`, `past`; absent if not said.
    pub low_end: Option<&'static str>,
    /// The trade that does it; the crew if left out.
    pub by: Option<&'static str>,
    /// Its line.
    pub origin: Span,
}

/// A deck that touches the face.
#[derive(Clone, Debug)]
pub struct Deck {
    /// Its name.
    pub name: String,
    /// Height of its surface.
    pub height: Length,
    /// From.
    pub from: Where,
    /// To.
    pub to: Where,
    /// How the wall is built along it.
    pub detail: Option<DetailId>,
    /// Drained space behind its ledger.
    pub stands_off: Option<Length>,
    /// Its joists run through the wall.
    pub joists_through: Option<bool>,
    /// The spaces between its joists are blocked and sealed at the wall.
    pub blocked: Option<bool>,
    /// The trade that does it; the crew if left out.
    pub by: Option<&'static str>,
    /// `ledger`, `standoffs`, `posts`; absent if not said.
    pub bears: Option<&'static str>,
    /// Its line.
    pub origin: Span,
}

/// The part of a face that is built one way.
#[derive(Clone, Debug)]
pub struct Area {
    /// Its name.
    pub name: String,
    /// How it is built.
    pub assembly: AssemblyId,
    /// Below this height.
    pub below: Option<Length>,
    /// Above this height.
    pub above: Option<Length>,
    /// From this x.
    pub from: Option<Where>,
    /// To this x.
    pub to: Option<Where>,
    /// Its corners, if it is no band.
    pub outline: Vec<Point>,
    /// Where boards meet end to end.
    pub joints: Vec<ButtJoints>,
    /// Its line.
    pub origin: Span,
}

/// Where boards of a course meet end to end.
#[derive(Clone, Debug)]
pub struct ButtJoints {
    /// The course, counted from the lowest; every course if left out.
    pub course: Option<i64>,
    /// From the left end of the face.
    pub marks: Vec<Length>,
    /// Its clause.
    pub origin: Span,
}

/// A bracket, ledger or anchor whose load goes through the wall.
#[derive(Clone, Debug)]
pub struct Bracket {
    /// Its name.
    pub name: String,
    /// What it is, if said.
    pub stuff: Option<Stuff>,
    /// Where it is.
    pub at: Point,
    /// The surface its plate is drawn against.
    pub bears_on: Option<&'static str>,
    /// What is rigid between it and the frame.
    pub spacer: Option<Stuff>,
    /// What holds it.
    pub fasten: Option<Fasten>,
    /// Its line.
    pub origin: Span,
}

/// How two areas meet.
#[derive(Clone, Debug)]
pub struct Between {
    /// Name of the lower (or left) area.
    pub lower: String,
    /// Name of the upper (or right) area.
    pub upper: String,
    /// Details along it.
    pub details: Vec<Stretch>,
    /// The surface that runs through.
    pub flush: Option<&'static str>,
    /// Its line.
    pub origin: Span,
}

/// Where a floor meets the wall.
#[derive(Clone, Debug)]
pub struct FloorLine {
    /// Its name.
    pub name: String,
    /// Height.
    pub height: Length,
    /// Horizontal wood in the height of the floor.
    pub wood: Option<Length>,
    /// Moisture content when closed in, and in service, 0…1.
    pub moisture: Option<(f64, f64)>,
    /// How the wall crosses it.
    pub detail: Option<DetailId>,
    /// Its joists run through the wall.
    pub joists_through: Option<bool>,
    /// The spaces between its joists are blocked and sealed at the wall.
    pub blocked: Option<bool>,
    /// The trade that does it; the crew if left out.
    pub by: Option<&'static str>,
    /// Its line.
    pub origin: Span,
}

/// A window, door or other opening.
#[derive(Clone, Debug)]
pub struct Opening {
    /// Its name; `kitchen.2` for a repeated one.
    pub name: String,
    /// `window`, `door`, `opening`.
    pub kind: &'static str,
    /// `frame` or `rough`; absent if not said.
    pub measure: Option<&'static str>,
    /// Lower left of what was measured.
    pub at: Point,
    /// Width.
    pub width: Length,
    /// Height.
    pub height: Length,
    /// How it is built.
    pub detail: Option<DetailId>,
    /// Width of the trims, and what they lie on: `plane`, `furring`, `cladding`.
    pub trims: Option<(Length, &'static str)>,
    /// `behind_membrane` or `taped`.
    pub head: Option<&'static str>,
    /// Margin of frame beside the trim.
    pub reveal: Option<Length>,
    /// How far the frame stands out.
    pub projects: Option<Length>,
    /// Space between frame and rough opening on each side.
    pub rough_gap: Option<Length>,
    /// What its frame is sealed to: `air`, `cladding`, `trim`.
    pub seal: Option<&'static str>,
    /// What its frame is of: `wood`, `plastic`, `metal`; absent if not said.
    pub frame_of: Option<&'static str>,
    /// Can be opened.
    pub opens: Option<bool>,
    /// Heat lost through glass and frame together, W/(m²·K).
    pub transmittance: Option<Sourced<Range>>,
    /// The trade that does it; the crew if left out.
    pub by: Option<&'static str>,
    /// Its line.
    pub origin: Span,
}

/// Anything that passes through the wall.
#[derive(Clone, Debug)]
pub struct Service {
    /// Its name; kind and number for one that has none.
    pub name: String,
    /// The schema's word: `pipe`, `hose_bib`, `spare`, ….
    pub kind: &'static str,
    /// Centre, on the face.
    pub at: Point,
    /// Width of what passes, or its diameter; absent if not said.
    pub width: Option<Length>,
    /// Height of what passes, or its diameter.
    pub height: Option<Length>,
    /// Index of the block it stands on.
    pub block: Option<usize>,
    /// How it passes.
    pub detail: Option<DetailId>,
    /// Slope to the outside, rise over run.
    pub fall: Option<f64>,
    /// Outside diameter of the sleeve.
    pub sleeve: Option<Length>,
    /// Length of a frost-proof stem.
    pub stem: Option<Length>,
    /// How far the seat is inside the warm side, if said.
    pub seat: Option<Length>,
    /// The part that seals it: `collar`, …, `none`; absent if not said.
    pub seal: Option<(&'static str, Option<ProductId>)>,
    /// What that part is sealed to: `air` unless said.
    pub sealed_to: &'static str,
    /// Width of the flange.
    pub flange: Option<Length>,
    /// The day by which its sealant is looked at again.
    pub recheck: Option<Date>,
    /// Whose it is.
    pub owner: Option<&'static str>,
    /// Closed until wanted.
    pub capped: bool,
    /// What passes through it.
    pub carries: Option<&'static str>,
    /// How far out its duct runs.
    pub reaches: Option<&'static str>,
    /// Length of the collar outboard of the sheathing.
    pub collar_length: Option<Length>,
    /// Mass of the fixture, kg.
    pub weight: Option<f64>,
    /// Distances it must keep, of what, and where that is written.
    pub clear: Vec<(Length, &'static str, Span)>,
    /// Steps of taking it out.
    pub removal: Vec<Arc<str>>,
    /// The trade that does it; the crew if left out.
    pub by: Option<&'static str>,
    /// Its line.
    pub origin: Span,
}

/// A pad on which fixtures stand.
#[derive(Clone, Debug)]
pub struct Block {
    /// Its name.
    pub name: String,
    /// Lower left.
    pub at: Point,
    /// Width; absent if not said.
    pub width: Option<Length>,
    /// Height in courses.
    pub courses: Option<i64>,
    /// Height, if not in courses.
    pub height: Option<Length>,
    /// Thickness.
    pub thickness: Option<Length>,
    /// `plane`, `furring`, `cladding`; absent if not said.
    pub on: Option<&'static str>,
    /// Comes off from outside.
    pub removable: bool,
    /// The sheet it is cut from.
    pub cut_from: Option<Stuff>,
    /// The cap that sheds water from its top.
    pub flashing: Option<PartSpec>,
    /// Slope of its top, degrees.
    pub bevel: Option<f64>,
    /// Gap at its sides.
    pub side_gap: Option<Length>,
    /// Insulation stands in or behind it.
    pub insulated: Option<bool>,
    /// Water in the gap can pass it.
    pub drained: Option<bool>,
    /// Drained space behind it.
    pub stands_off: Option<Length>,
    /// What holds it.
    pub fasten: Option<Fasten>,
    /// How it is built.
    pub detail: Option<DetailId>,
    /// The trade that does it; the crew if left out.
    pub by: Option<&'static str>,
    /// Its line.
    pub origin: Span,
}

/// A profile along an edge.
#[derive(Clone, Debug)]
pub struct Trim {
    /// Its name.
    pub name: String,
    /// What it is.
    pub product: ProductId,
    /// Dotted name of the run: `base`, `rake.1`, `kitchen.head`.
    pub along: String,
    /// From.
    pub from: Option<Where>,
    /// To.
    pub to: Option<Where>,
    /// Rows of holes.
    pub holes: Vec<HoleRow>,
    /// The one point that does not slide.
    pub fixed: Vec<Where>,
    /// Gap left at each end.
    pub gap: Option<Length>,
    /// Lap of two lengths.
    pub lap: Option<Length>,
    /// `open`, `closed`, `dammed`.
    pub low_end: Option<&'static str>,
    /// How far it hangs between two of its supports.
    pub sag: Option<Length>,
    /// Temperature when it goes on, °C.
    pub set_at: Option<f64>,
    /// What keeps it from unlike metal or cement.
    pub isolated: Option<Stuff>,
    /// What holds it.
    pub fasten: Option<Fasten>,
    /// What it lies on.
    pub on: Option<&'static str>,
    /// The trade that does it; the crew if left out.
    pub by: Option<&'static str>,
    /// Its ends are cut at half the angle.
    pub mitred: bool,
    /// Its line.
    pub origin: Span,
}

/// A row of holes.
#[derive(Clone, Debug)]
pub struct HoleRow {
    /// `fix`, `weep`, `vent`.
    pub purpose: &'static str,
    /// Diameter, or height of a slot.
    pub height: Length,
    /// Length of a slot; absent for a round hole.
    pub slot: Option<Length>,
    /// `face`, `floor`, `back`; absent if not said.
    pub leg: Option<&'static str>,
    /// Each lands on a strip (`furring`, `studs`).
    pub on: Option<&'static str>,
    /// Each lands in the middle of a bay.
    pub between: Option<&'static str>,
    /// Own spacing.
    pub spacing: Option<Length>,
    /// First mark from the left end of the trim.
    pub first: Option<Length>,
    /// Centre to the end of the piece.
    pub end_distance: Option<Length>,
    /// `bench` or `in_place`; absent if not said.
    pub drilled: Option<&'static str>,
    /// Height of the lower lip above the floor.
    pub lip: Option<Length>,
    /// Its clause.
    pub origin: Span,
}

/// A row of slots at mid-height.
#[derive(Clone, Debug)]
pub struct Vent {
    /// Its name.
    pub name: String,
    /// Height of the slot.
    pub slot: Length,
    /// Height on the wall.
    pub height: Length,
    /// From.
    pub from: Option<Where>,
    /// To.
    pub to: Option<Where>,
    /// `exit`, `inlet`, `outlet`.
    pub gives: Vec<&'static str>,
    /// What keeps pests out.
    pub screen: Option<ProductId>,
    /// The flashing above it: it cuts the gap and throws its water out.
    pub flashing: Option<PartSpec>,
    /// The trade that does it; the crew if left out.
    pub by: Option<&'static str>,
    /// Its line.
    pub origin: Span,
}

/// A loose horizontal piece in the gap.
#[derive(Clone, Debug)]
pub struct Nailer {
    /// Its name.
    pub name: String,
    /// Out from the wall.
    pub depth: Length,
    /// Up the wall.
    pub height: Length,
    /// Lower left.
    pub from: Point,
    /// Right end, x.
    pub to: Length,
    /// Open gaps at its ends and between its lengths.
    pub gaps: Option<Length>,
    /// What holds it.
    pub fasten: Option<Fasten>,
    /// Its line.
    pub origin: Span,
}

/// A block against fire.
#[derive(Clone, Debug)]
pub struct FireStop {
    /// Its name.
    pub name: String,
    /// Height on the wall.
    pub at: Length,
    /// From.
    pub from: Option<Where>,
    /// To.
    pub to: Option<Where>,
    /// Leaves the gap open until there is a fire.
    pub open_state: bool,
    /// It says whether it does.
    pub kind_said: bool,
    /// Its own height.
    pub height: Option<Length>,
    /// The flashing above it.
    pub flashing: Option<PartSpec>,
    /// What holds it.
    pub fasten: Option<Fasten>,
    /// Its line.
    pub origin: Span,
}

/// Faces with what closes them below and above.
#[derive(Clone, Debug)]
pub struct Building {
    /// Its name.
    pub name: String,
    /// Faces by name, with ids where there is such a face.
    pub faces: Vec<(String, Option<FaceId>, Span)>,
    /// Name, what is airtight, what keeps water out.
    pub foundation: Option<(String, Option<&'static str>, Option<&'static str>, Span)>,
    /// Name, what is airtight, whether it has a vented space.
    pub roof: Option<(String, Option<&'static str>, Option<bool>, Span)>,
    /// Height of a course that shows, least and most.
    pub exposure: Option<(Length, Length)>,
    /// First course line.
    pub course_start: Option<Length>,
    /// Sides deliberately left out.
    pub open_sides: Vec<Arc<str>>,
    /// Air inside, m³.
    pub volume: Option<Sourced<Range>>,
    /// All that stands between inside and outside air, m².
    pub envelope: Option<Sourced<Range>>,
    /// Readings of a blower door, in the order of the text: flows, then changes of air.
    pub leakage: Vec<LeakReading>,
    /// Keyword and name.
    pub origin: Span,
}

/// One reading of a blower door.
#[derive(Clone, Debug, PartialEq)]
pub struct LeakReading {
    /// What leaked.
    pub leaks: Leaks,
    /// Pressure across the envelope, Pa.
    pub pressure: f64,
    /// The day of the test; absent if not said.
    pub on: Option<Date>,
    /// Who or what says so; empty if not said.
    pub source: Arc<str>,
    /// How sure it is.
    pub sure: Sureness,
    /// Where it stands in the text.
    pub origin: Span,
}

/// How much leaked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Leaks {
    /// m³/s.
    Flow(Range),
    /// Changes of the air inside in an hour.
    Changes(Range),
}
