//! What walls are made of: materials, products, layers, and details with their parts.

use std::sync::Arc;

use super::{MaterialId, ProductId, Sourced};
use crate::eval::Date;
use crate::source::Span;
use crate::units::{Length, Range};

/// One material. Numbers are SI; absent ones were not declared.
#[derive(Clone, Debug)]
pub struct Material {
    /// Its name.
    pub name: String,
    /// The schema's word for what sort of stuff it is; empty if not declared.
    pub kind: &'static str,
    /// W/(m·K).
    pub conductivity: Option<Sourced<Range>>,
    /// Emissivity of its surface, 0…1.
    pub emissivity: Option<Sourced<Range>>,
    /// Share of the sun that its surface takes up, 0…1.
    pub absorptance: Option<Sourced<Range>>,
    /// Water absorption coefficient, kg/(m²·√s).
    pub water_absorption: Option<Sourced<f64>>,
    /// kg/m³.
    pub density: Option<Sourced<f64>>,
    /// J/(kg·K).
    pub heat_capacity: Option<Sourced<f64>>,
    /// Vapour resistance factor, dry and wet cup.
    pub vapour_factor: Option<Sourced<(f64, f64)>>,
    /// Water held at 80 % relative humidity and at free saturation, kg/m³.
    pub sorption: Option<Sourced<(f64, f64)>>,
    /// Equivalent air layer thickness, m.
    pub vapour_thickness: Option<Sourced<f64>>,
    /// kg/(Pa·s·m²), dry cup and wet cup; alike where one value is known.
    pub permeance: Option<Sourced<Range>>,
    /// m³/(s·m²) at 75 Pa.
    pub air_leakage: Option<Sourced<f64>>,
    /// 1/K.
    pub expansion: Option<Sourced<f64>>,
    /// Length by length for one percent of moisture content.
    pub moisture_movement: Option<Sourced<f64>>,
    /// V, gold at 0.
    pub galvanic_index: Option<Sourced<f64>>,
    /// Metal family, if it is a metal.
    pub metal: Option<&'static str>,
    /// Preservative: `copper`, `borate`, `none`.
    pub treated: Option<&'static str>,
    /// `ordinary` or `tannin`.
    pub species: Option<&'static str>,
    /// `no`, `little`, `much`.
    pub absorbs_water: Option<&'static str>,
    /// Burns.
    pub combustible: Option<bool>,
    /// Flame-spread rating.
    pub flame_spread: Option<f64>,
    /// Counts as a nail base.
    pub holds_fasteners: Option<bool>,
    /// A bracket would sink into it.
    pub compressible: Option<bool>,
    /// `light`, `mid`, `dark`.
    pub surface: Option<&'static str>,
    /// A metal that stands salt air and salted water.
    pub stands_salt: Option<bool>,
    /// Attacks aluminium while wet.
    pub cementitious: bool,
    /// Where it is declared.
    pub origin: Span,
}

/// Something bought.
#[derive(Clone, Debug)]
pub struct Product {
    /// Its name.
    pub name: String,
    /// Module it comes from, such as `boards`; empty for the project's own.
    pub module: String,
    /// The schema's word for its kind.
    pub kind: &'static str,
    /// The material it is of.
    pub of: Option<MaterialId>,
    /// Cross-section, thickness first.
    pub size: Vec<Length>,
    /// Thickness, least and most.
    pub thickness: Option<(Length, Length)>,
    /// Face width.
    pub width: Option<Length>,
    /// Lengths it is sold in.
    pub stock: Vec<Length>,
    /// Sheet size.
    pub sheet: Vec<Length>,
    /// It has a grain that runs along its length; absent if not said.
    pub grain: Option<bool>,
    /// `one` or `both` of its faces may be seen; absent if not said.
    pub good_face: Option<&'static str>,
    /// Roll: width, length.
    pub roll: Vec<Length>,
    /// Lengths of a fastener.
    pub lengths: Vec<Length>,
    /// Shank diameter or bore.
    pub diameter: Option<Length>,
    /// `smooth`, `ring`, `screw`.
    pub shank: Option<&'static str>,
    /// Diameter of the head of a fastener.
    pub head: Option<Sourced<Length>>,
    /// What one fastener holds against being pulled out, N, as the maker allows it.
    pub pull_out: Option<Sourced<f64>>,
    /// Its flat face is broken by ribs, folds or returned edges.
    pub ribbed: Option<bool>,
    /// Height of a course that shows, least and most.
    pub exposure: Option<Sourced<(Length, Length)>>,
    /// Least lap.
    pub lap: Option<Sourced<Length>>,
    /// Narrowest strip that may be fixed.
    pub rip: Option<Sourced<Length>>,
    /// Least gap at a butt joint or end.
    pub joint_gap: Option<Sourced<Length>>,
    /// Least height above flashings and ledges.
    pub clearance: Option<Sourced<Length>>,
    /// Share that is open, new and aged.
    pub open: Option<Sourced<(f64, f64)>>,
    /// Size of one hole of a screen.
    pub opening: Option<Sourced<Length>>,
    /// Clear depth of a channel, or how far a trim covers from the sheathing.
    pub depth: Option<Length>,
    /// Legs of a profile from the wall outward.
    pub legs: Vec<Length>,
    /// Floor of a channel: pierced or not, and its free area in m² per m if said.
    pub floor: Option<(bool, Option<f64>)>,
    /// Base and snapped-on cover.
    pub two_part: bool,
    /// Has a chamber that can hold water or mice.
    pub hollow: Option<bool>,
    /// kg/m².
    pub weight: Option<Sourced<f64>>,
    /// kg/m.
    pub mass: Option<Sourced<f64>>,
    /// Surface finish.
    pub finish: Option<&'static str>,
    /// Adhesive or sealant family.
    pub family: Option<&'static str>,
    /// Kinds of material it sticks to bare.
    pub bonds: Vec<&'static str>,
    /// Kinds of material it sticks to over primer.
    pub primed: Vec<&'static str>,
    /// Coldest temperature at which it may be applied, °C.
    pub works_from: Option<Sourced<f64>>,
    /// How long it may lie in daylight, s.
    pub sunlight: Option<Sourced<f64>>,
    /// How far a joint of it may open and close, as a share of its width.
    pub moves: Option<Sourced<f64>>,
    /// Equivalent air layer thickness of a sheet, least and most, m.
    pub vapour_thickness: Option<Sourced<(f64, f64)>>,
    /// kg/(Pa·s·m²), dry cup and wet cup; alike where one value is known.
    pub permeance: Option<Sourced<Range>>,
    /// Emissivity of its surface towards the gap, 0…1.
    pub emissivity: Option<Sourced<Range>>,
    /// Share of the sun that its surface takes up, 0…1.
    pub absorptance: Option<Sourced<Range>>,
    /// Water absorption coefficient, kg/(m²·√s).
    pub water_absorption: Option<Sourced<f64>>,
    /// m³/(s·m²) at 75 Pa.
    pub air_leakage: Option<Sourced<f64>>,
    /// Grips the shank of a screw.
    pub self_sealing: Option<bool>,
    /// Control functions it can carry.
    pub serves: Vec<&'static str>,
    /// `light`, `mid`, `dark`.
    pub surface: Option<&'static str>,
    /// Pieces in a box.
    pub pack: Option<i64>,
    /// Length of bead that one tube gives, or of strip that is cut from one roll.
    pub yields: Option<Length>,
    /// Price and the unit it is for.
    pub price: Option<(f64, Option<&'static str>)>,
    /// Usual waste, 0…1.
    pub waste: Option<Sourced<f64>>,
    /// Which order it goes on.
    pub supplier: Option<Arc<str>>,
    /// Where it is declared.
    pub origin: Span,
}

/// What something is: a material, or a product and its material.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Stuff {
    /// The material; absent if the product does not say.
    pub material: Option<MaterialId>,
    /// The product, if one was named.
    pub product: Option<ProductId>,
    /// As shown to people: `larch`, `two_part`.
    pub name: String,
}

/// Control functions.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Functions {
    /// Sheds rain.
    pub rain: bool,
    /// Drainage plane.
    pub water: bool,
    /// Air barrier.
    pub air: bool,
    /// Vapour control.
    pub vapour: bool,
    /// Insulation.
    pub heat: bool,
}

impl Functions {
    /// From the schema's words.
    pub fn from_words(words: &[&str]) -> Self {
        let has = |word| words.contains(&word);
        Self { rain: has("rain"), water: has("water"), air: has("air"), vapour: has("vapour"), heat: has("heat") }
    }
}

/// Layers of a wall, outside to inside.
#[derive(Clone, Debug)]
pub struct Assembly {
    /// Its name.
    pub name: String,
    /// With the arguments it was given.
    pub label: String,
    /// Outside to inside.
    pub layers: Vec<Layer>,
    /// What the whole wall resists, m²·K/W, where it was tested or reckoned elsewhere.
    pub resists: Option<Sourced<Range>>,
    /// Something in it could not be understood.
    pub broken: bool,
    /// Where it is declared.
    pub origin: Span,
}

/// One layer.
#[derive(Clone, Debug)]
pub struct Layer {
    /// Its name.
    pub name: String,
    /// Solid, gap or frame.
    pub kind: LayerKind,
    /// What it is of; empty for a gap.
    pub stuff: Stuff,
    /// Thickness; absent for sheets, for what was not said, and for what is known only within bounds.
    pub thickness: Option<Length>,
    /// Least and most, where its thickness is known only within bounds.
    pub thickness_within: Option<(Length, Length)>,
    /// Strips in it, centre to centre.
    pub every: Option<Length>,
    /// `close`, `gaps`, `loose`: how insulation was fitted; absent if not said.
    pub fitted: Option<&'static str>,
    /// Control functions it is said to carry.
    pub controls: Functions,
    /// What holds it.
    pub fasten: Option<Fasten>,
    /// Height of a course that shows, least and most: its own or its product's.
    pub exposure: Option<(Length, Length)>,
    /// Boards run up the wall.
    pub runs_vertical: bool,
    /// Upper sheet over lower sheet.
    pub lap: Option<Length>,
    /// `upper_over_lower` or `lower_over_upper`.
    pub lapped: Option<&'static str>,
    /// Sheet over sheet at a vertical lap.
    pub end_lap: Option<Length>,
    /// What joins its sheets.
    pub seam: Option<ProductId>,
    /// Primed before taping.
    pub primer: Option<bool>,
    /// Temperature on the day it goes on, °C.
    pub applied: Option<f64>,
    /// How long it lies in daylight before it is covered, s.
    pub exposed: Option<f64>,
    /// What fills it between its strips.
    pub fill: Option<Stuff>,
    /// `none`, `pads`, `clips`; absent if not said.
    pub thermal_break: Option<&'static str>,
    /// How the joints of a cladding are: `lapped`, `closed`, `open`; absent if not said.
    pub joints: Option<&'static str>,
    /// Moisture content that was read, 0…1, and where it is written.
    pub reading: Option<(f64, Span)>,
    /// Cut ends are sealed.
    pub ends_sealed: Option<bool>,
    /// Gap left at butt joints and ends.
    pub joint_gap: Option<Length>,
    /// The trade that does it; the crew if left out.
    pub by: Option<&'static str>,
    /// Where it stands.
    pub origin: Span,
}

/// The kinds of layer.
#[derive(Clone, Debug)]
pub enum LayerKind {
    /// A board, sheet or fill.
    Solid,
    /// A solid layer that was there before.
    Existing,
    /// The drained space.
    Gap(Box<Gap>),
    /// Framing.
    Frame(Box<Frame>),
}

/// How the gap is open to the outside.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Openness {
    /// At the bottom only.
    Vented,
    /// At bottom and top.
    Ventilated,
}

/// The drained space.
#[derive(Clone, Debug)]
pub struct Gap {
    /// Least and greatest depth declared.
    pub depth: (Length, Length),
    /// Absent if not declared.
    pub openness: Option<Openness>,
    /// How much of the depth may be taken by wrinkles and the like.
    pub bulge: Option<Length>,
    /// Strips; the outermost first.
    pub furring: Vec<Furring>,
    /// A drainage mat.
    pub mat: Option<(Stuff, Option<Length>)>,
    /// What is left of the mat where the cladding is fastened through it.
    pub pressed: Option<Length>,
    /// Where it stands.
    pub origin: Span,
}

/// Which way strips run.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Direction {
    /// Up the wall.
    Vertical,
    /// Along the wall.
    Horizontal,
    /// At an angle to the horizontal, radians.
    Diagonal(f64),
}

/// Strips that make the gap.
#[derive(Clone, Debug)]
pub struct Furring {
    /// What they are of.
    pub stuff: Stuff,
    /// Out from the wall.
    pub thickness: Length,
    /// Along the wall; absent if only one size was given.
    pub width: Option<Length>,
    /// Absent if not declared.
    pub direction: Option<Direction>,
    /// Centre to centre.
    pub spacing: Option<Length>,
    /// First mark from the left end of the face: near edge of the second strip, as framers hook their tape.
    pub first: Option<Length>,
    /// Measured centres; replaces spacing and first.
    pub marks: Vec<Length>,
    /// Extra strips at corners.
    pub at_corners: bool,
    /// Extra strips at jambs.
    pub at_jambs: bool,
    /// Extra strips at joints.
    pub at_joints: bool,
    /// Extra strips around blocks.
    pub at_blocks: bool,
    /// How far strips stop short of heads and sills.
    pub stops: Option<Length>,
    /// Above the base line.
    pub held_up: Option<Length>,
    /// Below the top line.
    pub held_down: Option<Length>,
    /// Gap, and how often.
    pub cross_gap: Option<(Length, Length)>,
    /// Fall of horizontal strips, rise over run.
    pub falls: Option<f64>,
    /// Gap between strips in one line.
    pub splice_gap: Option<Length>,
    /// `none`, `pads`, `clips`; absent if not said.
    pub thermal_break: Option<&'static str>,
    /// What keeps its preservative from the metal on it.
    pub isolated: Option<Stuff>,
    /// Vertical strips behind horizontal ones.
    pub counter: Option<(Stuff, Length)>,
    /// Their width along the wall.
    pub counter_width: Option<Length>,
    /// What holds them: of the gap.
    pub fasten: Option<Fasten>,
    /// Where it stands.
    pub origin: Span,
}

/// Studs or other framing.
#[derive(Clone, Debug)]
pub struct Frame {
    /// Depth through the wall.
    pub depth: Length,
    /// Width along the wall.
    pub width: Length,
    /// Centre to centre.
    pub spacing: Option<Length>,
    /// First mark, near edge of the second stud.
    pub first: Option<Length>,
    /// Measured centres.
    pub marks: Vec<Length>,
    /// What fills it.
    pub fill: Option<Stuff>,
    /// Share of its area that is wood, 0…1: studs, plates, lintels; counted where it was not said.
    pub wood_share: Option<Sourced<Range>>,
    /// `wood`, `steel`, `concrete_form`, `masonry`; absent if not said.
    pub kind: Option<&'static str>,
}

/// What holds a thing.
#[derive(Clone, Debug)]
pub struct Fasten {
    /// The fastener.
    pub product: ProductId,
    /// Shank diameter.
    pub diameter: Option<Length>,
    /// Length.
    pub length: Option<Length>,
    /// The leg of a folded part it goes through: `upstand`, `ledge`, `face`; absent if not said.
    pub through: Option<&'static str>,
    /// What it holds in; absent if not said.
    pub into: Option<&'static str>,
    /// Centre to centre.
    pub spacing: Option<Length>,
    /// To the end of the piece.
    pub end_distance: Option<Length>,
    /// To the long edge of the piece.
    pub edge_distance: Option<Length>,
    /// In the height of one piece.
    pub rows: Option<i64>,
    /// Centre to centre within the corner zone of the wind.
    pub corner_spacing: Option<Length>,
    /// Length of the slots it sits in.
    pub slots: Option<Length>,
    /// Where it stands.
    pub origin: Span,
}

/// Which of two areas a promise of a transition is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// The lower, or the only one.
    Lower,
    /// The upper.
    Upper,
    /// Both.
    Both,
}

/// How one kind of edge, point or hole is built.
#[derive(Clone, Debug)]
pub struct Detail {
    /// Its name.
    pub name: String,
    /// With the arguments it was given.
    pub label: String,
    /// The schema's words for what it is for.
    pub places: Vec<&'static str>,
    /// What it says of the edge as a whole.
    pub edge: Place,
    /// What it says of the head of an opening.
    pub head: Option<Place>,
    /// What it says of the jambs of an opening.
    pub jamb: Option<Place>,
    /// What it says of the sill of an opening.
    pub sill: Option<Place>,
    /// What it says of the side of a parapet that looks at the roof.
    pub roof_side: Option<Place>,
    /// Clearance to what is below.
    pub keep: Option<Length>,
    /// Heat lost along each metre beyond what both walls lose by their areas, W/(m·K).
    pub psi: Option<Sourced<Range>>,
    /// Of the openings set so that say none of their own, W/(m²·K).
    pub transmittance: Option<Sourced<Range>>,
    /// As printed.
    pub edition: String,
    /// Reasons, as printed.
    pub why: Vec<Arc<str>>,
    /// Steps, in the author's words.
    pub order: Vec<Arc<str>>,
    /// Something in it could not be understood.
    pub broken: bool,
    /// Where it is declared.
    pub origin: Span,
}

/// Needs, promises, parts and joints of one place of a detail.
#[derive(Clone, Debug)]
pub struct Place {
    /// What must be beside it.
    pub needs: Vec<Needs>,
    /// What it promises.
    pub gives: Vec<Gives>,
    /// How the gap ends here.
    pub gap_ends: Vec<GapEnd>,
    /// From inside to outside.
    pub parts: Vec<PartSpec>,
    /// Parts that carry the air barrier across.
    pub air: Vec<Joint>,
    /// `stopped`, `open_state`, `none`.
    pub fire: Option<&'static str>,
    /// How far the upper cladding laps the lower one.
    pub upper_laps: Option<Length>,
    /// Where it stands.
    pub origin: Span,
}

/// What must be beside a detail.
#[derive(Clone, Debug)]
pub struct Needs {
    /// `above`, `below`, ….
    pub side: &'static str,
    /// `foundation`, `water`, ….
    pub what: &'static str,
    /// Where it stands.
    pub origin: Span,
}

/// A promise: `exit`, `inlet`, `outlet`, or a plane of a control function.
#[derive(Clone, Debug)]
pub struct Gives {
    /// The promise.
    pub promise: &'static str,
    /// The side it is for.
    pub to: Side,
    /// Where it stands.
    pub origin: Span,
}

/// How the gap ends at an edge.
#[derive(Clone, Debug)]
pub struct GapEnd {
    /// Open or closed.
    pub open: bool,
    /// Height or width of the slot; the depth of the gap if left out.
    pub slot: Option<Length>,
    /// The side it is for.
    pub to: Side,
    /// What keeps pests out.
    pub screen: Option<ProductId>,
    /// How far that runs round a corner.
    pub wraps: Option<Length>,
    /// `down`, `out`, `up`, `sheltered`.
    pub faces: Option<&'static str>,
    /// The space air comes from or goes to: `outside` unless said.
    pub joins: &'static str,
    /// Where it stands.
    pub origin: Span,
}

/// A part as a detail describes it; geometry makes one [`crate::plan::Part`] of it for each stretch of edge.
#[derive(Clone, Debug)]
pub struct PartSpec {
    /// The schema's word, such as `flashing`.
    pub kind: &'static str,
    /// Its own name, where two are of one kind.
    pub name: Option<String>,
    /// What it is of.
    pub stuff: Stuff,
    /// Thickness.
    pub thickness: Option<Length>,
    /// Fall to the outside, rise over run; may be negative.
    pub slope: Option<f64>,
    /// Height of the leg against the plane.
    pub upstand: Option<Length>,
    /// Hangs down, stands off.
    pub drip: Option<(Length, Option<Length>)>,
    /// Folded edge.
    pub hem: Option<Length>,
    /// How far it runs past the trims, or past the opening where there are none, at each end.
    pub beyond: Option<Length>,
    /// How far two lengths of it lap, and what is between them.
    pub splice: Option<(Length, Option<Stuff>)>,
    /// Upturn at both ends.
    pub end_dams: Option<Length>,
    /// Upturn at the inside of a pan.
    pub back_dam: Option<Length>,
    /// How far it stands out.
    pub projects: Option<Length>,
    /// Width or girth.
    pub width: Option<Length>,
    /// Laps with neighbours.
    pub laps: Vec<Lap>,
    /// Tape over its upper edge.
    pub taped: Option<ProductId>,
    /// Which edges are sealed.
    pub sealed: Option<&'static str>,
    /// Control functions it carries.
    pub controls: Functions,
    /// Gap between it and what is above.
    pub holds_up: Option<Length>,
    /// What keeps it from unlike metal or cement.
    pub isolated: Option<Stuff>,
    /// What holds it.
    pub fasten: Option<Fasten>,
    /// How far it runs round a corner.
    pub wraps: Option<Length>,
    /// What it lies on.
    pub on: Option<&'static str>,
    /// Its surface is primed.
    pub primer: Option<bool>,
    /// Its ends are cut at half the angle.
    pub mitred: bool,
    /// Its inner edge rides down as the frame shrinks.
    pub shrinks_with_frame: bool,
    /// The trade that does it; the crew if left out.
    pub by: Option<&'static str>,
    /// Where it stands.
    pub origin: Span,
}

/// A lap of a part with a neighbour.
#[derive(Clone, Debug)]
pub struct Lap {
    /// The part lies under (inboard of) its neighbour.
    pub under: bool,
    /// The neighbour: `water`, `membrane`, `flashing`, ….
    pub what: &'static str,
    /// Length; absent if not said.
    pub by: Option<Length>,
    /// Where it stands.
    pub origin: Span,
}

/// The named part that carries the air barrier across an edge.
#[derive(Clone, Debug)]
pub struct Joint {
    /// What it seals to: `foundation`, `frame`, `roof`, ….
    pub target: &'static str,
    /// What it is; absent if not said.
    pub with: Option<Stuff>,
    /// Width of the bond on each side.
    pub width: Option<Length>,
    /// Primed.
    pub primer: Option<bool>,
    /// Temperature when applied, °C.
    pub at: Option<f64>,
    /// Depth of a bead.
    pub depth: Option<Length>,
    /// A bead has a backer behind it.
    pub backer: Option<bool>,
    /// Fold left in it.
    pub slack: Option<Length>,
    /// The day by which it is looked at again.
    pub recheck: Option<Date>,
    /// Where it stands.
    pub origin: Span,
}

impl Detail {
    /// The place for a kind of run: `head`, `jamb` and `sill` have their own where the detail gives one.
    pub fn place(&self, kind: &str) -> &Place {
        let own = match kind {
            "head" => self.head.as_ref(),
            "jamb" => self.jamb.as_ref(),
            "sill" => self.sill.as_ref(),
            _ => None,
        };
        own.unwrap_or(&self.edge)
    }

    /// Parts for a kind of run, from inside to outside; at a parapet those of the side of the roof come last.
    pub fn parts_at(&self, kind: &str) -> impl Iterator<Item = &PartSpec> {
        let roof_side = self.roof_side.as_ref().filter(|_| kind == "parapet");
        self.place(kind).parts.iter().chain(roof_side.into_iter().flat_map(|place| &place.parts))
    }

    /// Whether it says it is for this kind of edge, point or hole.
    pub fn is_for(&self, kinds: &[&str]) -> bool {
        self.places.iter().any(|place| kinds.contains(place))
    }
}
