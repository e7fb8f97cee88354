//! Air in the gap as flows: bays as upright channels between their openings, joined where one opens into the next, driven by
//! warmth and wind.

use rayon::prelude::*;
use std::collections::BTreeMap;

use super::flow::{BayFlow, BayId, GapFlow, Opening};
use crate::geometry::Segment;
use crate::model::{Face, Gap, Model};
use crate::physics::airflow::{self, Channel};
use crate::physics::airnet::{self, End, Law, Link};
use crate::plan::{Against, Plan};
use crate::units::Length;

/// Weather, and how warm the gap is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Conditions {
    /// °C.
    pub outside: f64,
    /// °C, the same in the whole gap.
    pub gap: f64,
    /// m/s, at the height of the building.
    pub wind: f64,
    /// Where the wind comes from, degrees clockwise from north. `None`: it stands on no face more than on another.
    pub direction: Option<f64>,
    /// Nobody gave them: they are [`Conditions::default`].
    pub assumed: bool,
}

impl Default for Conditions {
    /// 0 °C outside, 5 °C in the gap, wind of 2 m/s from nowhere in particular: a still, dull winter day, made for comparing
    /// walls with each other.
    fn default() -> Self {
        Self { outside: 0.0, gap: 5.0, wind: 2.0, direction: None, assumed: true }
    }
}

/// What the sums take for granted, to be shown with them.
pub const ASSUMPTIONS: [&str; 6] = [
    "the air of the whole gap has one temperature, and flows are counted as it is there",
    "a bay is an upright channel of its net depth and its mean width; bends round openings in the wall take nothing",
    "strips that lie across upright ones do not narrow the gap",
    "the wind pressure coefficient of a face falls by 0.1 from its lowest to its highest point; made for this sum",
    "coefficients of faces are those of a low house half sheltered by its neighbours, from memory",
    "spaces under roofs have the mean coefficient of the four sides, subfloors and garages have none, and all have outside air",
];

/// Fall of the wind pressure coefficient from foot to head of a face: the worked cases of the reference values have it.
const FALL: f64 = 0.1;
/// Coefficient by angle between the wind and the way the face looks, every 45°: tables for low buildings half sheltered, from
/// memory, medium to low.
const SIDES: [f64; 5] = [0.4, 0.1, -0.3, -0.35, -0.2];
/// Mean of the four sides at 0, 90, 90 and 180°.
const ROOF: f64 = -0.1;
/// Openings whose heights differ by less are at one height, m.
const LEVEL: f64 = 0.001;
/// With less air changes an hour than this nothing moves: a hundredth is what is left of rounding, made for this sum.
const LEAST_CHANGES: f64 = 0.01;

/// What passes through a bay.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct AirRate {
    /// m³/s, all that comes in.
    pub flow: f64,
    /// An hour.
    pub changes: f64,
}

impl AirRate {
    /// L/s.
    pub fn litres(&self) -> f64 {
        self.flow * 1000.0
    }
}

/// Flow and loss at one state of the screens.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Passing {
    /// m³/s into the bay; negative: out of it.
    pub flow: f64,
    /// What it takes from the air, Pa, never negative.
    pub loss: f64,
}

/// An opening of a bay with what passes.
#[derive(Clone, Debug)]
pub struct AirOpening {
    /// The opening.
    pub opening: Opening,
    /// Height of its middle above the datum, m.
    pub height: f64,
    /// With screens new.
    pub clean: Passing,
    /// With screens aged.
    pub aged: Passing,
}

/// A way from one bay into another.
#[derive(Clone, Debug)]
pub struct AirPass {
    /// The other bay.
    pub to: BayId,
    /// Stretch of the strip they share.
    pub segment: Segment,
    /// Free area, m²; `None` where it cannot be told.
    pub area: Option<f64>,
    /// Height at this bay, m.
    pub height: f64,
    /// With screens new; positive into this bay.
    pub clean: Passing,
    /// With screens aged.
    pub aged: Passing,
}

/// The air of one bay.
#[derive(Clone, Debug)]
pub struct BayAir {
    /// Which bay.
    pub id: BayId,
    /// Net depth, m.
    pub depth: f64,
    /// Area by height, m.
    pub width: f64,
    /// Volume, m³.
    pub volume: f64,
    /// Each once, inlets first.
    pub openings: Vec<AirOpening>,
    /// Ways into other bays.
    pub passes: Vec<AirPass>,
    /// With screens new; `None` if it cannot be told.
    pub clean: Option<AirRate>,
    /// With screens aged.
    pub aged: Option<AirRate>,
    /// Friction along the bay with screens new: the greatest of its stretches, Pa.
    pub friction: f64,
    /// The fact that is missing to tell. None, and no rate: a mistake of the text that is already reported.
    pub missing: Option<String>,
    /// Why nothing moves in it.
    pub dead: Option<&'static str>,
    /// The opening that takes most of the pressure with screens aged, by index; `None` where nothing moves.
    pub governs: Option<usize>,
}

/// The air of all bays.
#[derive(Debug, Default)]
pub struct AirFlow {
    /// For what weather.
    pub conditions: Conditions,
    /// In the order of [`GapFlow::bays`].
    pub bays: Vec<BayAir>,
}

impl AirFlow {
    /// Works the air of all bays out. Bays that are not joined know nothing of each other.
    pub fn find(model: &Model, plan: &Plan, flow: &GapFlow, conditions: &Conditions) -> Self {
        let weather = Weather::of(conditions);
        let mut bays: Vec<BayAir> = flow.bays.par_iter().map(|bay| start(model, bay)).collect();
        let parts = joined(model, plan, flow, &mut bays);
        let mut grouped: Vec<Vec<BayAir>> = vec![Vec::new(); parts.iter().map(|part| part + 1).max().unwrap_or(0)];
        for (bay, &part) in bays.into_iter().zip(&parts) {
            if let Some(group) = grouped.get_mut(part) {
                group.push(bay);
            }
        }
        grouped.par_iter_mut().for_each(|group| settle(model, plan, &weather, group));
        let mut bays: Vec<BayAir> = grouped.into_iter().flatten().collect();
        bays.sort_by_key(|bay| bay.id);
        Self { conditions: *conditions, bays }
    }

    /// The air of one bay.
    pub fn bay(&self, id: BayId) -> Option<&BayAir> {
        let at = self.bays.binary_search_by_key(&id, |bay| bay.id).ok()?;
        self.bays.get(at)
    }
}

/// Everything that is the same for all bays.
struct Weather {
    outside: f64,
    gap: f64,
    viscosity: f64,
    /// Pressure at a coefficient of 1, Pa.
    wind: f64,
    direction: Option<f64>,
}

impl Weather {
    fn of(conditions: &Conditions) -> Self {
        let outside = airflow::density(conditions.outside);
        Self {
            outside,
            gap: airflow::density(conditions.gap),
            viscosity: airflow::viscosity(conditions.gap),
            wind: airflow::wind_pressure(1.0, outside, conditions.wind),
            direction: conditions.direction,
        }
    }

    /// Pressure at an opening above that of still outside air at its height, Pa.
    fn pressure(&self, face: &Face, heights: (f64, f64), joins: &str, height: f64) -> f64 {
        let up = ((height - heights.0) / (heights.1 - heights.0).max(LEVEL)).clamp(0.0, 1.0);
        let turned = self.direction.zip(face.looks).map(|(wind, looks)| wind - looks);
        let side = turned.map_or(0.0, side_coefficient) - FALL * up;
        let coefficient = match joins {
            "subfloor" | "garage" => 0.0,
            "roof" if turned.is_some() => ROOF,
            _ => side,
        };
        coefficient * self.wind
    }

    /// The law of an opening at one state of its screen; `None` if it is shut. It runs into the bay.
    fn opening(&self, opening: &Opening, aged: bool) -> Option<Law> {
        let area = if aged { opening.aged_area? } else { opening.area? };
        let share = opening.share.map(|(new, old)| if aged { old } else { new });
        if area <= 0.0 || share.is_some_and(|share| share <= 0.0) || opening.joins == "none" {
            return None;
        }
        // The area is given behind the screen: the slot itself is larger.
        let full = share.map_or(area, |share| area / share);
        let law = |density| {
            let screen = share.map_or(0.0, |share| airflow::screen_resistance(density, full, share));
            airflow::slot_resistance(density, full) + screen
        };
        Some(Law::Square { forward: law(self.outside), back: law(self.gap) })
    }
}

/// Wind pressure coefficient of a side by the angle between the wind and the way it looks, degrees.
fn side_coefficient(angle: f64) -> f64 {
    let turned = angle.rem_euclid(360.0);
    let place = turned.min(360.0 - turned) / 45.0;
    let below = (place.floor() as usize).min(SIDES.len() - 2);
    match (SIDES.get(below), SIDES.get(below + 1)) {
        (Some(one), Some(next)) => one + (next - one) * (place - below as f64),
        _ => 0.0,
    }
}

/// A bay before anything moves.
fn start(model: &Model, bay: &BayFlow) -> BayAir {
    let depth = gap_of(model, bay.id).map_or(0.0, |gap| gap.net_depth().as_m());
    let height = bay.height.as_m();
    let mut openings: Vec<AirOpening> = Vec::new();
    for opening in bay.inlets.iter().chain(&bay.outlets) {
        let same = |known: &AirOpening| {
            let known = &known.opening;
            known.segment == opening.segment && known.with == opening.with && known.kind == opening.kind
        };
        if !openings.iter().any(same) {
            let height = middle(opening.segment);
            let (clean, aged) = Default::default();
            openings.push(AirOpening { opening: opening.clone(), height, clean, aged });
        }
    }
    let unknown = openings.iter().find(|one| one.opening.area.is_none() || one.opening.aged_area.is_none());
    let missing = unknown.and_then(|one| one.opening.missing.clone());
    BayAir {
        id: bay.id,
        depth,
        width: if height > 0.0 { bay.area / height } else { 0.0 },
        volume: bay.area * depth,
        openings,
        passes: Vec::new(),
        clean: None,
        aged: None,
        friction: 0.0,
        missing,
        dead: None,
        governs: None,
    }
}

fn gap_of(model: &Model, id: BayId) -> Option<&Gap> {
    let area = model.face(id.face)?.areas.get(id.area)?;
    Some(model.assembly(area.assembly)?.gap()?.1)
}

fn middle(segment: Segment) -> f64 {
    0.5 * (segment.from.y.as_m() + segment.to.y.as_m())
}

/// Finds the ways from bay to bay, and numbers the parts that hang together, in the order of their first bays.
fn joined(model: &Model, plan: &Plan, flow: &GapFlow, bays: &mut [BayAir]) -> Vec<usize> {
    let mut parent: Vec<usize> = (0..bays.len()).collect();
    // Undersides of strips by the place they have, so that each upper bay finds those below it.
    let mut under: BTreeMap<(BayId, usize), Vec<(usize, Segment)>> = BTreeMap::new();
    let mut over: Vec<(usize, usize, Segment)> = Vec::new();
    for (at, bay) in flow.bays.iter().enumerate() {
        if gap_of(model, bay.id).is_none_or(|gap| !is_held_off(gap)) {
            continue;
        }
        for contact in contacts(plan, bay.id) {
            let Against::Strip(strip) = contact.with else { continue };
            if contact.segment.is_ceiling() {
                under.entry((of_area(bay.id), strip)).or_default().push((at, contact.segment));
            } else if bay.exits.iter().any(|way| way.joins == "gap" && way.segment == contact.segment) {
                over.push((at, strip, contact.segment));
            }
        }
    }
    for (upper, strip, floor) in over {
        let Some(id) = bays.get(upper).map(|bay| bay.id) else { continue };
        for &(lower, ceiling) in under.get(&(of_area(id), strip)).into_iter().flatten() {
            if let Some(segment) = shared(floor, ceiling) {
                join(model, bays, (upper, floor), (lower, ceiling), segment);
                let (one, other) = (root(&mut parent, upper), root(&mut parent, lower));
                if let Some(place) = parent.get_mut(one.max(other)) {
                    *place = one.min(other);
                }
            }
        }
    }
    let mut numbers: BTreeMap<usize, usize> = BTreeMap::new();
    (0..bays.len())
        .map(|at| {
            let next = numbers.len();
            *numbers.entry(root(&mut parent, at)).or_insert(next)
        })
        .collect()
}

/// The first bay of the area of a bay: stands for the area.
fn of_area(id: BayId) -> BayId {
    BayId { bay: 0, ..id }
}

fn contacts(plan: &Plan, id: BayId) -> &[crate::plan::Contact] {
    let area = plan.face(id.face).and_then(|face| face.areas.get(id.area));
    area.and_then(|area| area.bays.get(id.bay)).map_or(&[], |bay| &bay.contacts)
}

fn root(parent: &mut [usize], mut at: usize) -> usize {
    while let Some(up) = parent.get(at).copied().filter(|&up| up != at) {
        let above = parent.get(up).copied().unwrap_or(up);
        if let Some(place) = parent.get_mut(at) {
            *place = above;
        }
        at = up;
    }
    at
}

/// Whether air passes behind strips that lie across the wall.
fn is_held_off(gap: &Gap) -> bool {
    gap.mat.is_some() || gap.furring.iter().any(|furring| furring.counter.is_some())
}

/// What two lying stretches share, seen from above.
fn shared(floor: Segment, ceiling: Segment) -> Option<Segment> {
    let ends = |segment: Segment| (segment.from.x.min(segment.to.x), segment.from.x.max(segment.to.x));
    let ((a, b), (c, d)) = (ends(floor), ends(ceiling));
    let (left, right) = (a.max(c), b.min(d));
    let at = |x: Length| floor.y_at(x).map(|y| crate::geometry::Point::new(x, y));
    if left < right { Some(Segment::new(at(left)?, at(right)?)) } else { None }
}

/// Joins two bays behind the strip between them.
fn join(
    model: &Model,
    bays: &mut [BayAir],
    (upper, floor): (usize, Segment),
    (lower, ceiling): (usize, Segment),
    segment: Segment,
) {
    let (Some(above), Some(below)) = (bays.get(upper).map(|bay| bay.id), bays.get(lower).map(|bay| bay.id)) else {
        return;
    };
    // Behind strips that others hold off there is the thickness of those; how freely a mat lets air through is not known.
    let depth = gap_of(model, above)
        .and_then(|gap| gap.furring.iter().filter_map(|furring| Some(furring.counter.as_ref()?.1)).min());
    let area = depth.map(|depth| depth.as_m() * segment.length().as_m());
    let (clean, aged) = Default::default();
    for (at, to, height) in [(upper, below, middle(floor)), (lower, above, middle(ceiling))] {
        if let Some(bay) = bays.get_mut(at) {
            bay.passes.push(AirPass { to, segment, area, height, clean, aged });
            if area.is_none() && bay.missing.is_none() {
                bay.missing = Some("how freely air passes the mat behind the strips".to_owned());
            }
        }
    }
}

/// Works out one part that hangs together.
fn settle(model: &Model, plan: &Plan, weather: &Weather, bays: &mut [BayAir]) {
    let unknown = bays.iter().any(|bay| {
        bay.openings.iter().any(|one| one.opening.area.is_none() || one.opening.aged_area.is_none())
            || bay.passes.iter().any(|pass| pass.area.is_none())
    });
    if unknown {
        let missing = bays.iter().find_map(|bay| bay.missing.clone());
        bays.iter_mut().for_each(|bay| bay.missing = missing.clone());
        return;
    }
    for aged in [false, true] {
        let net = Net::of(model, plan, weather, bays, aged);
        let solved = airnet::solve(net.nodes, &net.links);
        if solved.settled {
            net.give(&solved, bays, aged);
        } else {
            let why = "flows at which the air of this part of the gap balances: they were not found";
            bays.iter_mut().for_each(|bay| bay.missing = Some(why.to_owned()));
        }
    }
    let open = bays.iter().flat_map(|bay| &bay.openings).filter(|one| weather.opening(&one.opening, false).is_some());
    let mut heights: Vec<f64> = open.map(|one| one.height).collect();
    heights.sort_by(f64::total_cmp);
    for bay in bays.iter_mut() {
        bay.conclude(&heights);
    }
}

impl BayAir {
    /// Says what is dead, and which opening governs; `open` are the heights of all openings of its part.
    fn conclude(&mut self, open: &[f64]) {
        if self.clean.is_some_and(|rate| rate.changes < LEAST_CHANGES) {
            let one_level = open.first().zip(open.last()).is_some_and(|(low, high)| high - low < LEVEL);
            self.dead = Some(match open.len() {
                _ if self.depth <= 0.0 => "no depth is left of the gap",
                0 => "no opening lets air in or out",
                1 => "only one opening: air has no second way",
                _ if one_level => "all openings lie at one height",
                _ => "nothing drives air through it",
            });
            return;
        }
        let losses = self.openings.iter().enumerate().filter(|(_, one)| one.aged.loss > 0.0);
        self.governs =
            losses.max_by(|(i, a), (j, b)| a.aged.loss.total_cmp(&b.aged.loss).then(j.cmp(i))).map(|(i, _)| i);
    }
}

/// What a link stands for.
enum Stands {
    Opening(usize, usize),
    Stretch(usize),
    /// Bay and pass, and the bay and pass at the other end.
    Pass((usize, usize), (usize, usize)),
}

/// The network of one part.
struct Net {
    nodes: usize,
    links: Vec<Link>,
    stands: Vec<Stands>,
}

impl Net {
    fn of(model: &Model, plan: &Plan, weather: &Weather, bays: &[BayAir], aged: bool) -> Self {
        let mut net = Net { nodes: 0, links: Vec::new(), stands: Vec::new() };
        let levels: Vec<(usize, Vec<f64>)> =
            bays.iter().enumerate().map(|(at, bay)| net.channel(weather, at, bay)).collect();
        for (at, (bay, (first, levels))) in bays.iter().zip(&levels).enumerate() {
            let Some(face) = model.face(bay.id.face) else { continue };
            let heights = plan.face(bay.id.face).and_then(|plan| plan.outline.bounds());
            let heights = heights.map_or((0.0, 0.0), |bounds| (bounds.bottom.as_m(), bounds.top.as_m()));
            for (index, one) in bay.openings.iter().enumerate() {
                if let (Some(law), Some(level)) = (weather.opening(&one.opening, aged), level(levels, one.height)) {
                    let from = End::Known(weather.pressure(face, heights, one.opening.joins, one.height));
                    let to = End::Node(first + level);
                    net.push(Link { from, to, drive: 0.0, law }, Stands::Opening(at, index));
                }
            }
        }
        net.passes(weather, bays, &levels);
        net
    }

    fn push(&mut self, link: Link, stands: Stands) {
        self.links.push(link);
        self.stands.push(stands);
    }

    /// Nodes of a bay at the heights of its openings, and the channel between them; its first node, and their heights.
    fn channel(&mut self, weather: &Weather, at: usize, bay: &BayAir) -> (usize, Vec<f64>) {
        let openings = bay.openings.iter().map(|one| one.height);
        let mut levels: Vec<f64> = openings.chain(bay.passes.iter().map(|pass| pass.height)).collect();
        levels.sort_by(f64::total_cmp);
        levels.dedup_by(|next, kept| *next - *kept < LEVEL);
        let first = self.nodes;
        self.nodes += levels.len();
        for (node, pair) in levels.windows(2).enumerate() {
            let &[low, high] = pair else { continue };
            let channel = Channel {
                depth: bay.depth,
                width: bay.width,
                length: high - low,
                density: weather.gap,
                viscosity: weather.viscosity,
            };
            let drive = airflow::stack_pressure(weather.outside, weather.gap, high - low);
            let (from, to) = (End::Node(first + node), End::Node(first + node + 1));
            self.push(Link { from, to, drive, law: Law::Plates(channel) }, Stands::Stretch(at));
        }
        (first, levels)
    }

    /// Links from bay to bay, each once: from the lower one up.
    fn passes(&mut self, weather: &Weather, bays: &[BayAir], levels: &[(usize, Vec<f64>)]) {
        let place = |id: BayId| bays.binary_search_by_key(&id, |bay| bay.id).ok();
        let node = |bay: usize, height: f64| {
            let (first, levels) = levels.get(bay)?;
            Some(first + level(levels, height)?)
        };
        for (upper, bay) in bays.iter().enumerate() {
            for (index, pass) in bay.passes.iter().enumerate() {
                let Some(lower) = place(pass.to) else { continue };
                let twin = bays.get(lower).and_then(|below| {
                    let same = |other: &AirPass| other.to == bay.id && other.segment == pass.segment;
                    below.passes.iter().position(|other| same(other) && other.height < pass.height)
                });
                let ends = twin.and_then(|twin| bays.get(lower)?.passes.get(twin).map(|other| (twin, other.height)));
                let (Some((twin, height)), Some(area)) = (ends, pass.area) else { continue };
                let (Some(from), Some(to)) = (node(lower, height), node(upper, pass.height)) else { continue };
                let resistance = airflow::slot_resistance(weather.gap, area);
                let law = Law::Square { forward: resistance, back: resistance };
                let drive = airflow::stack_pressure(weather.outside, weather.gap, pass.height - height);
                let link = Link { from: End::Node(from), to: End::Node(to), drive, law };
                self.push(link, Stands::Pass((upper, index), (lower, twin)));
            }
        }
    }

    /// Writes the flows found to the bays.
    fn give(&self, solved: &airnet::Solved, bays: &mut [BayAir], aged: bool) {
        let mut sums = vec![0.0; bays.len()];
        let mut take = |at: usize, flow: f64| {
            if let Some(sum) = sums.get_mut(at) {
                *sum += flow.max(0.0);
            }
        };
        for ((link, stands), &flow) in self.links.iter().zip(&self.stands).zip(&solved.flows) {
            let loss = link.law.loss(flow).abs();
            match *stands {
                Stands::Opening(at, index) => {
                    take(at, flow);
                    let one = bays.get_mut(at).and_then(|bay| bay.openings.get_mut(index));
                    if let Some(one) = one {
                        *if aged { &mut one.aged } else { &mut one.clean } = Passing { flow, loss };
                    }
                }
                Stands::Stretch(at) => {
                    if let Some(bay) = bays.get_mut(at).filter(|_| !aged) {
                        bay.friction = bay.friction.max(loss);
                    }
                }
                Stands::Pass(upper, lower) => {
                    for ((at, index), flow) in [(upper, flow), (lower, -flow)] {
                        take(at, flow);
                        if let Some(pass) = bays.get_mut(at).and_then(|bay| bay.passes.get_mut(index)) {
                            *if aged { &mut pass.aged } else { &mut pass.clean } = Passing { flow, loss };
                        }
                    }
                }
            }
        }
        for (bay, flow) in bays.iter_mut().zip(sums) {
            let changes = if bay.volume > 0.0 { flow * 3600.0 / bay.volume } else { 0.0 };
            *if aged { &mut bay.aged } else { &mut bay.clean } = Some(AirRate { flow, changes });
        }
    }
}

/// Which of these heights one belongs to.
fn level(levels: &[f64], height: f64) -> Option<usize> {
    levels.partition_point(|level| *level <= height).checked_sub(1)
}
