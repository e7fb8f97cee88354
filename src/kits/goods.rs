//! What is used by the metre and by the box in each lane: the rows of the take-off, shared out by where they lie, nothing lost.

use std::collections::BTreeMap;

use super::mass;
use crate::continuity::{Lane, Order, Phase};
use crate::geometry::{Bounds, Region, Segment};
use crate::model::{FaceId, Model, ProductId};
use crate::plan::Plan;
use crate::quantities::{Amount, Group, Row, qualified, take_off};
use crate::units::{Area, Length};

/// One thing that is used in a section.
#[derive(Clone, Debug, PartialEq)]
pub struct Good {
    /// What sort of thing.
    pub group: Group,
    /// The product or material.
    pub item: String,
    /// Length and diameter of a fastener, width of a tape: as the take-off notes it.
    pub size: String,
    /// The metal of a fastener, or its finish; empty if not known.
    pub metal: String,
    /// How much.
    pub amount: Amount,
    /// Its mass, kg, where it can be told.
    pub mass: Option<f64>,
}

/// Group, item and size: what is one line of a kit.
type Key = (Group, String, String);

/// Goods by lane, sorted.
pub(super) fn by_lane(model: &Model, plan: &Plan, order: &Order) -> BTreeMap<usize, Vec<Good>> {
    let places = Places::of(model, plan, order);
    let mut sums: BTreeMap<usize, BTreeMap<Key, Amount>> = BTreeMap::new();
    for row in take_off(model, plan).iter().filter(|row| is_loose(row.group)) {
        let Some(amount) = row.laid.or(row.net) else { continue };
        let shares = places.shares(row);
        let parts = share_out(amount, &shares.iter().map(|(_, share)| *share).collect::<Vec<_>>());
        for ((lane, _), part) in shares.into_iter().zip(parts).filter(|(_, part)| part.si() > 0.0) {
            let key = (row.group, row.item.clone(), size_of(row));
            let here = sums.entry(lane).or_default();
            here.entry(key).and_modify(|sum| *sum = plus(*sum, part)).or_insert(part);
        }
    }
    let of = |((group, item, size), amount): ((Group, String, String), Amount)| {
        let found = model.products.iter().position(|product| qualified(product) == item);
        let id = found.map(|at| ProductId(at as u32));
        let mass = weigh(model, group, id, &size, amount);
        Good { group, metal: metal(model, id), item, size, amount, mass }
    };
    sums.into_iter().map(|(lane, goods)| (lane, goods.into_iter().map(of).collect())).collect()
}

/// What comes by the metre or by the box; boards, strips, trims and flashings are pieces of the kit.
fn is_loose(group: Group) -> bool {
    matches!(group, Group::Tapes | Group::Screens | Group::Fasteners | Group::Seals)
}

fn size_of(row: &Row) -> String {
    // A screen is one roll, whatever slot it closes.
    if row.group == Group::Fasteners { row.note.clone() } else { String::new() }
}

fn weigh(model: &Model, group: Group, id: Option<ProductId>, size: &str, amount: Amount) -> Option<f64> {
    match (group, amount) {
        (Group::Fasteners, Amount::Count(count)) => {
            let mut figures = size.trim_end_matches(" mm").split(" × ").map(|figure| figure.parse::<f64>().ok());
            let (first, second) = (figures.next().flatten(), figures.next().flatten());
            let of = |figure: Option<f64>| figure.map(Length::snap_mm);
            let measures = if second.is_some() { (of(first), of(second)) } else { (None, of(first)) };
            mass::of_fasteners(model, id, measures, count)
        }
        (_, Amount::Length(length)) => {
            let product = model.product(id?)?;
            let width = product.width.or(product.roll.first().copied());
            let by_length = product.mass.as_ref().map(|mass| mass.value * length.as_m());
            by_length.or_else(|| Some(product.weight.as_ref()?.value * width?.as_m() * length.as_m()))
        }
        (_, Amount::Area(area)) => Some(model.product(id?)?.weight.as_ref()?.value * area.as_m2()),
        _ => None,
    }
}

/// The metal of a product, else its finish.
fn metal(model: &Model, id: Option<ProductId>) -> String {
    let product = id.and_then(|id| model.product(id));
    let metal = product.and_then(|product| model.material(product.of?)?.metal);
    metal.or(product.and_then(|product| product.finish)).unwrap_or("").replace('_', " ")
}

fn plus(one: Amount, other: Amount) -> Amount {
    match (one, other) {
        (Amount::Area(one), Amount::Area(two)) => Amount::Area(one + two),
        (Amount::Length(one), Amount::Length(two)) => Amount::Length(one + two),
        (Amount::Count(one), Amount::Count(two)) => Amount::Count(one.saturating_add(two)),
        (one, _) => one,
    }
}

/// An amount in shares that add up to it exactly: what rounding leaves goes to the first shares that are not nothing.
pub(super) fn share_out(amount: Amount, shares: &[i128]) -> Vec<Amount> {
    let total: i128 = shares.iter().sum();
    let whole: i128 = match amount {
        Amount::Area(area) => area.0,
        Amount::Length(length) => i128::from(length.0),
        Amount::Count(count) => i128::from(count),
    };
    if total <= 0 || whole <= 0 {
        return Vec::new();
    }
    // Shares of at most 2⁶² each keep the product within 128 bits.
    let bits = (128 - total.leading_zeros()).saturating_sub(40);
    let shares: Vec<i128> = shares.iter().map(|share| share >> bits).collect();
    let total: i128 = shares.iter().sum::<i128>().max(1);
    let mut parts: Vec<i128> =
        shares.iter().map(|share| whole / total * share + whole % total * share / total).collect();
    let mut rest = whole - parts.iter().sum::<i128>();
    let busy: Vec<usize> = (0..parts.len()).filter(|at| shares[*at] > 0).collect();
    for at in busy.iter().cycle().take(busy.len() * 2) {
        if rest == 0 {
            break;
        }
        parts[*at] += 1;
        rest -= 1;
    }
    if let Some(first) = busy.first() {
        parts[*first] += rest;
    }
    let made = |part: i128| match amount {
        Amount::Area(_) => Amount::Area(Area(part)),
        Amount::Length(_) => Amount::Length(Length(part as i64)),
        Amount::Count(_) => Amount::Count(part as u64),
    };
    parts.into_iter().map(made).collect()
}

/// Where everything that is done in sections lies.
struct Places<'m> {
    order: &'m Order,
    plan: &'m Plan,
    /// Lines by dotted name, each once.
    lines: BTreeMap<String, Vec<(FaceId, Segment)>>,
    /// Areas by dotted name.
    areas: BTreeMap<String, (FaceId, usize)>,
    /// Names of layers that are done in sections, with their area: `north.lower.boards`.
    layers: std::collections::BTreeSet<String>,
    model: &'m Model,
}

impl<'m> Places<'m> {
    fn of(model: &'m Model, plan: &'m Plan, order: &'m Order) -> Self {
        let mut lines: BTreeMap<String, Vec<(FaceId, Segment)>> = BTreeMap::new();
        let mut layers = std::collections::BTreeSet::new();
        for task in order.tasks.iter().filter(|task| task.phase == Phase::Sections) {
            layers.insert(task.subject.clone());
            let owner = model.face(task.face).map(|face| format!("{}.{}", face.name, task.owner)).unwrap_or_default();
            // A part, and the stretch whose screens and seals are counted under its own name.
            let names =
                [Some(task.subject.clone()), Some(owner).filter(|_| task.kind == crate::continuity::Kind::Screen)];
            for name in names.into_iter().flatten() {
                let known = lines.entry(name).or_default();
                if !known.contains(&(task.face, task.segment)) {
                    known.push((task.face, task.segment));
                }
            }
        }
        let mut areas = BTreeMap::new();
        for (at, face) in model.faces.iter().enumerate() {
            for (area, of) in face.areas.iter().enumerate() {
                areas.insert(format!("{}.{}", face.name, of.name), (FaceId(at as u32), area));
            }
        }
        Self { order, plan, lines, areas, layers, model }
    }

    /// The lanes a row of the take-off is used in, each with its share of the surface or the length; none for what is not done
    /// in sections.
    fn shares(&self, row: &Row) -> Vec<(usize, i128)> {
        if let Some(&(face, area)) = self.areas.get(&row.place) {
            let layer = row.what.strip_prefix("for ").unwrap_or_default();
            let done = self.layers.contains(&format!("{}.{layer}", row.place));
            return if done { self.of_area(face, area) } else { Vec::new() };
        }
        let lines = self.lines.get(&row.place).map(Vec::as_slice).unwrap_or_default();
        let screened = row.group == Group::Screens;
        let lines = if lines.is_empty() && screened { self.run_lines(&row.place) } else { lines.to_vec() };
        self.of_lines(&lines)
    }

    /// Stretches of edge by their own name: their screens go on with the section.
    fn run_lines(&self, name: &str) -> Vec<(FaceId, Segment)> {
        let runs = self.plan.runs().filter(|(_, run)| run.name == name).map(|(_, run)| (run.face, run.segment));
        let vents = self.model.faces.iter().enumerate().flat_map(|(at, face)| {
            let id = FaceId(at as u32);
            let bounds = self.plan.face(id).and_then(|plan| plan.outline.bounds()).unwrap_or_default();
            let own = face.vents.iter().filter(move |vent| format!("{}.{}", face.name, vent.name) == name);
            own.map(move |vent| {
                let at =
                    |place, end| crate::geometry::Point::new(crate::continuity::along(place, bounds, end), vent.height);
                (id, Segment::new(at(vent.from, bounds.left), at(vent.to, bounds.right)))
            })
        });
        runs.chain(vents).collect()
    }

    fn lanes(&self, face: FaceId) -> impl Iterator<Item = (usize, &Lane)> {
        let own = self.order.faces.get(&face).map(|lanes| lanes.own.as_slice()).unwrap_or_default();
        own.iter().filter_map(|&at| Some((at, self.order.lanes.get(at)?)))
    }

    fn of_area(&self, face: FaceId, area: usize) -> Vec<(usize, i128)> {
        let Some(net) = self.plan.face(face).and_then(|plan| plan.areas.get(area)).map(|area| &area.net) else {
            return Vec::new();
        };
        let left_out = self.order.faces.get(&face).map(|lanes| &lanes.left_out);
        let inside = |lane: &Lane| -> Region {
            let piece = net.clip_x(lane.left, lane.right).clip_y(lane.bottom, lane.top);
            match left_out.filter(|rest| lane.section.is_none() && !rest.is_empty()) {
                Some(rest) => piece.intersection(rest),
                None => piece,
            }
        };
        self.lanes(face).map(|(at, lane)| (at, inside(lane).area().0)).filter(|(_, share)| *share > 0).collect()
    }

    fn of_lines(&self, lines: &[(FaceId, Segment)]) -> Vec<(usize, i128)> {
        let mut shares: BTreeMap<usize, i128> = BTreeMap::new();
        for &(face, line) in lines {
            let mut rest = line.length();
            for (at, lane) in self.lanes(face) {
                let within = within(line, lane).min(rest);
                if within > Length::ZERO {
                    *shares.entry(at).or_default() += i128::from(within.0);
                    rest -= within;
                }
            }
        }
        shares.into_iter().collect()
    }
}

/// Length of a line inside a lane. A line along the stop line belongs to what is below it.
fn within(line: Segment, lane: &Lane) -> Length {
    let box_of = Bounds { left: lane.left, right: lane.right, bottom: lane.bottom, top: lane.top };
    let middle = line.midpoint();
    let clip = |low: Length, high: Length, from: Length, to: Length| (to.min(high) - from.max(low)).max(Length::ZERO);
    let (left, right) = (line.from.x.min(line.to.x), line.from.x.max(line.to.x));
    let (low, high) = (line.from.y.min(line.to.y), line.from.y.max(line.to.y));
    if line.is_vertical() {
        let inside = box_of.left <= middle.x && middle.x <= box_of.right;
        return if inside { clip(box_of.bottom, box_of.top, low, high) } else { Length::ZERO };
    }
    if low > box_of.top || high < box_of.bottom {
        return Length::ZERO;
    }
    // Of a sloping line the part above its lane belongs to another: shared out by its run.
    let run = clip(box_of.left, box_of.right, left, right);
    line.length().scale(run.0, (right - left).0.max(1))
}
