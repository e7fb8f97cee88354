//! What goes up to each section of work: its pieces in the order in which they are loaded, what else is used there, what it all
//! weighs on the platform, how long it takes, and in which order of sections the machine moves least.
//!
//! A piece belongs to the section in which its middle lies, or its foot if it stands: each piece to one kit, none to two.

mod gather;
mod goods;
mod hours;
mod load;
mod mass;
mod moves;
mod reach;
#[cfg(test)]
mod tests;

pub use goods::Good;
pub use hours::{Hours, kit_hours, moving};
pub use load::{Load, Verdict, load_of};
pub use moves::{Route, Work, propose, walk};

use crate::continuity::Order;
use crate::geometry::Bounds;
use crate::layout::made::Made;
use crate::model::{FaceId, Model, ProductId};
use crate::plan::Plan;
use crate::units::Length;

/// What a piece is, in the words in which the crew times itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum What {
    /// A strip of the gap.
    Furring,
    /// A length of trim or profile.
    Trim,
    /// Folded metal.
    Flashing,
    /// A board, shingle course or panel.
    Board,
}

impl What {
    /// As the schema writes it.
    pub fn word(self) -> &'static str {
        match self {
            What::Furring => "furring",
            What::Trim => "trim",
            What::Flashing => "flashing",
            What::Board => "board",
        }
    }
}

/// The list from which a piece comes, and its place there.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Source {
    /// In [`crate::layout::pieces::Pieces::list`].
    Board(usize),
    /// In [`crate::layout::trims::Trims::list`].
    Trim(usize),
    /// Strip of a face, and which of the lengths it is spliced from.
    Strip(FaceId, usize, usize),
    /// In the blanks of the fold sheets.
    Flashing(usize),
}

/// One piece of a kit.
#[derive(Clone, Debug, PartialEq)]
pub struct KitPiece {
    /// What it is.
    pub what: What,
    /// Where it comes from.
    pub source: Source,
    /// To write on it, with its hand.
    pub mark: String,
    /// What it is made of, in words.
    pub item: String,
    /// The product, if one is named.
    pub product: Option<ProductId>,
    /// Along it, to its long point.
    pub length: Length,
    /// What it is ripped to, if it is.
    pub rip: Option<Length>,
    /// Holes that are drilled before it goes up.
    pub holes: u64,
    /// Where it lies on its face.
    pub bounds: Bounds,
    /// Which comes first on the wall: strips, trims and flashings, boards, trims of the top.
    pub stage: u8,
    /// How far it goes past the line of its lane, to the left or right, if it does.
    pub past: Option<Length>,
    /// How far it goes past the stop line, if it does.
    pub above: Option<Length>,
    /// The place where the machine does not reach in which it lies, as an index into [`crate::model::Crew::out_of_reach`].
    pub unreached: Option<usize>,
    /// Its mass, kg; the missing fact where it cannot be told.
    pub mass: Result<f64, String>,
}

/// What goes up to one section, or to a face (or the rest of one) that has none.
#[derive(Clone, Debug)]
pub struct Kit {
    /// Index in [`Order::lanes`].
    pub lane: usize,
    /// Index of the section in the model; none for a face or the rest of one without sections.
    pub section: Option<usize>,
    /// The face.
    pub face: FaceId,
    /// `north_left`, or the name of the face.
    pub name: String,
    /// Pieces as they are fixed: the first is the first on the wall, and lies on top of the stack.
    pub pieces: Vec<KitPiece>,
    /// What is used by the metre and by the box.
    pub goods: Vec<Good>,
    /// What stands on the platform.
    pub load: Load,
}

/// The kits of a building.
#[derive(Debug, Default)]
pub struct Kits {
    /// As the sections are worked: the lead's order, or the one that moves the machine least; what has no section comes last.
    pub list: Vec<Kit>,
    /// What goes on with the air barrier, before the first section: it is in no kit.
    pub before: Vec<KitPiece>,
    /// How the machine goes round.
    pub route: Route,
}

impl Kits {
    /// The kits of everything that can be cut.
    pub fn find(model: &Model, plan: &Plan, order: &Order) -> Self {
        Self::of(model, plan, order, &Made::default())
    }

    /// The same with what is cut already.
    pub fn of(model: &Model, plan: &Plan, order: &Order, made: &Made) -> Self {
        let (mut kits, before) = loaded(model, plan, order, made);
        let works: Vec<Work> = kits.iter().filter_map(|kit| moves::work(model, plan, order, kit)).collect();
        let route = moves::route(model, &works);
        let place = |kit: &Kit| {
            let own = kit.section.and_then(|section| route.sequence.iter().position(|at| *at == section));
            (own.is_none(), own, kit.lane)
        };
        kits.sort_by_key(place);
        kits.retain(|kit| kit.section.is_some() || !kit.pieces.is_empty());
        Self { list: kits, before, route }
    }
}

/// The kits of everything that can be cut with what stands on the platform, by lane: for whoever does not ask how the
/// machine goes round.
pub fn loads(model: &Model, plan: &Plan, order: &Order) -> Vec<Kit> {
    loaded(model, plan, order, &Made::default()).0
}

/// The kits by lane, and what goes on before the first.
fn loaded(model: &Model, plan: &Plan, order: &Order, made: &Made) -> (Vec<Kit>, Vec<KitPiece>) {
    let mut kits: Vec<Kit> = (0..order.lanes.len()).filter_map(|lane| empty(model, order, lane)).collect();
    let mut before = Vec::new();
    for (lane, piece) in gather::all(model, plan, order, made) {
        match lane.and_then(|lane| kits.iter_mut().find(|kit| kit.lane == lane)) {
            Some(kit) => kit.pieces.push(piece),
            None => before.push(piece),
        }
    }
    let goods = goods::by_lane(model, plan, order);
    for kit in &mut kits {
        let key = |piece: &KitPiece| (piece.stage, piece.bounds.bottom, piece.bounds.left, piece.source);
        kit.pieces.sort_by_key(key);
        kit.goods = goods.get(&kit.lane).cloned().unwrap_or_default();
        kit.load = load::of(model, kit);
    }
    (kits, before)
}

fn empty(model: &Model, order: &Order, lane: usize) -> Option<Kit> {
    let of = order.lanes.get(lane)?;
    let section = of.section.and_then(|at| model.sections.get(at));
    let name = section.map(|section| section.name.clone()).or_else(|| Some(model.face(of.face)?.name.clone()))?;
    Some(Kit {
        lane,
        section: of.section,
        face: of.face,
        name,
        pieces: Vec::new(),
        goods: Vec::new(),
        load: Load::default(),
    })
}
