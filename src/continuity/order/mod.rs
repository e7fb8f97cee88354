//! The order of work: every part and task of the house, what must be there before what and why, the crew's sections with
//! their stop lines, and the loops that cannot be built.
//!
//! One task stands for one part on one stretch of edge, one layer of one piece of wall, one opening, one service: never for
//! one board. The number of tasks and of ties grows with the runs, so a house of a thousand faces is sorted in a blink.

mod lanes;
mod parts;
mod sort;
mod stops;
mod things;
mod walls;

use std::collections::BTreeMap;

pub use lanes::{Lane, Lanes, along};
pub use sort::Loop;
pub use stops::{Dry, Stop};

use crate::geometry::{Point, Segment};
use crate::model::{DetailId, FaceId, Model};
use crate::plan::Plan;
use crate::source::Span;
use crate::units::Length;

/// One task, as an index into [`Order::tasks`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct TaskId(pub u32);

/// What a task is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// A roof that touches the wall.
    Roofing,
    /// A pipe, wire or duct brought to the wall, with its sleeve.
    RoughIn,
    /// A layer of the wall.
    Layer,
    /// The membrane of the wall, from below upward.
    Membrane,
    /// The membrane of the wall, folded down over what lies under it.
    Fold,
    /// A part of a detail.
    Part,
    /// A window or door is set.
    Set,
    /// The frame of an opening is sealed to the air barrier.
    Seal,
    /// A sleeve is sealed to the air barrier.
    Collar,
    /// Strips that make the gap.
    Furring,
    /// What keeps pests out of the gap.
    Screen,
    /// A pad.
    Block,
    /// A profile along an edge.
    Trim,
    /// Boards, sheets or shingles.
    Cladding,
    /// A lamp, hood, tap or cover is put on.
    Fixture,
    /// The top edge of the day's work is closed against the night's rain.
    DryIn,
    /// Somebody looks, and signs: `H1` to `H7`.
    Hold(&'static str),
}

/// Stages of the work as a crew speaks of them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Phase {
    /// What others must have done.
    Others,
    /// Membrane, openings, sleeves: the barrier, until it is tested.
    Barrier,
    /// Section by section: furring, trims, courses.
    Sections,
    /// Lamps, hoods, taps.
    SecondFix,
    /// The lift leaves.
    Leaving,
}

/// One task.
#[derive(Clone, Debug)]
pub struct Task {
    /// What it is.
    pub kind: Kind,
    /// Its name as people say it: `head_flap`, `boards`.
    pub name: String,
    /// Dotted name: `north.kitchen.head.head_flap`.
    pub subject: String,
    /// What it belongs to, without the face: `kitchen`, `base`.
    pub owner: String,
    /// The face.
    pub face: FaceId,
    /// Index of its lane in [`Order::lanes`]; none for work that is not done by sections.
    pub lane: Option<usize>,
    /// Stage of the work.
    pub phase: Phase,
    /// The trade that does it.
    pub by: &'static str,
    /// Where it lies on the face.
    pub segment: Segment,
    /// The detail it comes from.
    pub detail: Option<DetailId>,
    /// Where it is declared.
    pub origin: Span,
    /// It sticks, and can be fitted later than what it covers.
    pub adhered: bool,
    key: Key,
}

/// Of tasks that may both come next, the one with the smaller key does: phase, lift, face, lane, stage, height, place.
type Key = (Phase, usize, FaceId, i64, u8, i64, i64, usize);

/// Why one task comes before another.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Why {
    /// The later one is said to lap over the earlier one.
    Over,
    /// The earlier one is said to lie under the later one.
    Under,
    /// The earlier one lies behind the later one.
    Behind,
    /// The later one is fastened to the earlier one.
    Held,
    /// The later one stands in or on the earlier one.
    Stands,
    /// The later one is cut to the earlier one.
    Fitted,
    /// The barrier is looked at, and tested, before it is covered.
    Tested,
    /// The crew works upward.
    Upward,
}

/// One tie between two tasks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Tie {
    /// This one first.
    pub first: TaskId,
    /// Then this one.
    pub then: TaskId,
    /// Why.
    pub why: Why,
}

/// The order of work of everything that was declared.
#[derive(Debug, Default)]
pub struct Order {
    /// All tasks.
    pub tasks: Vec<Task>,
    /// All ties, sorted.
    pub ties: Vec<Tie>,
    /// Tasks in an order that keeps every tie, as far as there is one.
    pub sequence: Vec<TaskId>,
    /// Loops that no order builds.
    pub loops: Vec<Loop>,
    /// Lanes of all faces.
    pub lanes: Vec<Lane>,
    /// What the sections of each face leave out and do twice.
    pub faces: BTreeMap<FaceId, Lanes>,
    /// Stop lines of the declared sections, in the order of the files.
    pub stops: Vec<Stop>,
}

impl Order {
    /// Works out the order of everything on faces that were understood.
    pub fn find(model: &Model, plan: &Plan) -> Self {
        let mut draft = Draft { model, plan, tasks: Vec::new(), ties: Vec::new(), lanes: Vec::new() };
        let mut faces = BTreeMap::new();
        let tests = walls::tests(&mut draft);
        let sections = lanes::by_face(model);
        for (at, face) in model.faces.iter().enumerate() {
            let id = FaceId(at as u32);
            let (Some(placed), false) = (plan.face(id), face.broken) else { continue };
            let Some(bounds) = placed.outline.bounds() else { continue };
            let own = sections.get(&id).map_or(&[][..], Vec::as_slice);
            let lanes = Lanes::of(model, placed, id, bounds, own, &mut draft.lanes);
            let wall = walls::Wall::build(&mut draft, id, face, placed, &lanes, tests.get(&id).copied());
            parts::place(&mut draft, &wall);
            things::place(&mut draft, &wall);
            walls::close(&mut draft, &wall);
            faces.insert(id, lanes);
        }
        let Draft { tasks, mut ties, lanes, .. } = draft;
        ties.sort_unstable();
        ties.dedup_by_key(|tie| (tie.first, tie.then));
        let (sequence, loops) = sort::sort(&tasks, &ties);
        let stops = stops::find(model, plan, &lanes);
        Self { tasks, ties, sequence, loops, lanes, faces, stops }
    }

    /// A task by id.
    pub fn task(&self, id: TaskId) -> Option<&Task> {
        self.tasks.get(id.0 as usize)
    }

    /// The first task of a loop.
    pub fn first_of(&self, circle: &Loop) -> Option<&Task> {
        self.task(circle.ties.first()?.first)
    }

    /// The ties of a loop in words, one for each step: "`flap` laps over `flashing`". Parts of different places are named with
    /// theirs.
    pub fn reasons(&self, circle: &Loop) -> Vec<String> {
        let tasks = || circle.ties.iter().filter_map(|tie| self.task(tie.first));
        let (owner, face) = self.first_of(circle).map_or(("", None), |task| (&*task.owner, Some(task.face)));
        let mixed = tasks().any(|task| !task.owner.is_empty() && (task.owner != owner || Some(task.face) != face));
        let name = |id: TaskId| match self.task(id) {
            Some(task) if mixed && !task.owner.is_empty() && !matches!(task.kind, Kind::Hold(_)) => {
                format!("{}.{}", task.owner, task.name)
            }
            Some(task) => task.name.clone(),
            None => String::new(),
        };
        circle.ties.iter().map(|tie| reason(&name(tie.first), &name(tie.then), tie.why)).collect()
    }
}

/// Why one comes before the other, in words.
fn reason(first: &str, then: &str, why: Why) -> String {
    match why {
        Why::Over => format!("`{then}` laps over `{first}`"),
        Why::Under => format!("`{first}` is under `{then}`"),
        Why::Behind => format!("`{first}` is behind `{then}`"),
        Why::Held => format!("`{then}` is held by `{first}`"),
        Why::Stands => format!("`{then}` needs `{first}` in place"),
        Why::Fitted => format!("`{then}` is cut to `{first}`"),
        Why::Tested => format!("`{first}` comes before `{then}`"),
        Why::Upward => format!("`{then}` stands above `{first}`"),
    }
}

/// What is being worked out.
struct Draft<'m> {
    model: &'m Model,
    plan: &'m Plan,
    tasks: Vec<Task>,
    ties: Vec<Tie>,
    lanes: Vec<Lane>,
}

/// What every task says of itself; the rest follows.
struct Entry {
    kind: Kind,
    name: String,
    owner: String,
    face: FaceId,
    lane: Option<usize>,
    phase: Phase,
    /// Place among the tasks of one section.
    stage: u8,
    by: &'static str,
    segment: Segment,
    /// Where it is sorted: of an opening, its lower left for all of its parts.
    at: Point,
    rank: usize,
    detail: Option<DetailId>,
    origin: Span,
}

impl Draft<'_> {
    fn add(&mut self, entry: Entry) -> TaskId {
        let id = TaskId(self.tasks.len() as u32);
        let Entry { kind, name, owner, face, lane, phase, stage, by, segment, at, rank, detail, origin } = entry;
        let (lift, left) =
            lane.and_then(|at| self.lanes.get(at)).map_or((0, Length::ZERO), |lane| (lane.lift, lane.left));
        let wall = self.model.face(face).map_or("", |face| face.name.as_str());
        let words = [wall, owner.as_str(), name.as_str()];
        let subject = words.into_iter().filter(|word| !word.is_empty()).collect::<Vec<_>>().join(".");
        let key = (phase, lift, face, left.0, stage, at.y.0, at.x.0, rank);
        self.tasks.push(Task {
            kind,
            name,
            subject,
            owner,
            face,
            lane,
            phase,
            by,
            segment,
            detail,
            origin,
            adhered: false,
            key,
        });
        id
    }

    /// `first` before `then`. Nothing waits for itself.
    fn tie(&mut self, first: TaskId, then: TaskId, why: Why) {
        if first != then {
            self.ties.push(Tie { first, then, why });
        }
    }

    fn tie_all(&mut self, first: &[TaskId], then: &[TaskId], why: Why) {
        // The pieces of two parts that are split by the same sections go together one by one.
        if first.len() == then.len() {
            first.iter().zip(then).for_each(|(&first, &then)| self.tie(first, then, why));
            return;
        }
        for &first in first {
            then.iter().for_each(|&then| self.tie(first, then, why));
        }
    }
}
