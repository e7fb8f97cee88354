//! A network of openings and channels between places of known pressure: the flows at which what comes in goes out everywhere.

use super::airflow::Channel;

/// One end of a link.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum End {
    /// A place whose pressure is to be found, by index.
    Node(usize),
    /// A place of known pressure, Pa.
    Known(f64),
}

/// How a link takes pressure from the air.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Law {
    /// Δp = R·Q·|Q|, Pa/(m³/s)²; another resistance each way where the air is not the same on both sides.
    Square {
        /// Along the link.
        forward: f64,
        /// Against it.
        back: f64,
    },
    /// Friction of a channel.
    Plates(Channel),
}

/// A way between two ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Link {
    /// Where it starts: flow is positive from here.
    pub from: End,
    /// Where it ends.
    pub to: End,
    /// Pressure that drives air along it besides the difference of its ends, Pa: the stack.
    pub drive: f64,
    /// What it takes.
    pub law: Law,
}

/// Flows and pressures of a network.
#[derive(Clone, Debug, Default)]
pub struct Solved {
    /// Of each link, m³/s.
    pub flows: Vec<f64>,
    /// Of each node, Pa; 0 for one in a dead end, or that no place of known pressure is joined to.
    pub pressures: Vec<f64>,
    /// Greatest sum of the flows at a node, by the greatest flow (by 1 mm³/s where all are less).
    pub imbalance: f64,
    /// Greatest difference between what drives a link and what it takes, by the greatest driving pressure.
    pub mismatch: f64,
    /// Steps taken.
    pub steps: usize,
    /// Both are below 1e-9.
    pub settled: bool,
}

/// Steps after which it is given up.
const MOST_STEPS: usize = 200;
/// Below this, relative, it is settled.
const SETTLED: f64 = 1e-9;
/// It goes on to this if it can.
const AIM: f64 = 1e-12;
/// Flows below this are no measure for others, m³/s: 1 mm³/s.
const STILL: f64 = 1e-9;
/// Least slope of a square law that is used to step with, of the slope at 1 Pa: at rest the true one is 0.
const LEAST_SLOPE: f64 = 1e-5;

impl Law {
    /// Whether anything passes.
    fn is_open(&self) -> bool {
        match self {
            Law::Square { forward, back } => [forward, back].iter().all(|r| r.is_finite() && **r > 0.0),
            Law::Plates(channel) => [channel.depth, channel.width, channel.length, channel.density, channel.viscosity]
                .iter()
                .all(|measure| measure.is_finite() && *measure > 0.0),
        }
    }

    /// What it takes at a flow, Pa.
    pub fn loss(&self, flow: f64) -> f64 {
        match *self {
            Law::Square { forward, back } => {
                let resistance = if flow < 0.0 { back } else { forward };
                resistance * flow * flow.abs()
            }
            Law::Plates(channel) => channel.loss(flow),
        }
    }

    /// Loss, and the slope to step with.
    fn loss_and_slope(&self, flow: f64) -> (f64, f64) {
        match *self {
            Law::Square { forward, back } => {
                let resistance = if flow < 0.0 { back } else { forward };
                let slope = 2.0 * resistance * flow.abs();
                (resistance * flow * flow.abs(), slope.max(LEAST_SLOPE * resistance.sqrt()))
            }
            Law::Plates(channel) => channel.loss_and_slope(flow),
        }
    }

    /// Pressure by flow near 1 Pa, to start with.
    fn start_slope(&self) -> f64 {
        match *self {
            Law::Square { forward, .. } => forward.sqrt(),
            Law::Plates(channel) => channel.loss_and_slope(0.0).1,
        }
    }
}

impl Link {
    /// What drives it apart from the pressures that are to be found.
    fn known(&self) -> f64 {
        let pressure = |end| match end {
            End::Known(pressure) => pressure,
            End::Node(_) => 0.0,
        };
        self.drive + pressure(self.from) - pressure(self.to)
    }

    /// What the pressures of its nodes add to that.
    fn between(&self, pressures: &[f64]) -> f64 {
        let found = |end| match end {
            End::Node(node) => pressures.get(node).copied().unwrap_or_default(),
            End::Known(_) => 0.0,
        };
        found(self.from) - found(self.to)
    }

    /// What drives it.
    fn driving(&self, pressures: &[f64]) -> f64 {
        self.known() + self.between(pressures)
    }
}

/// Finds flows and pressures of a network of `nodes` nodes.
///
/// Newton's method on flows and pressures together: each step solves one linear network with the slopes of the last, so every
/// step balances, and is cut where it would go past the lowest point of the energy, which is convex. Links through which
/// nothing can pass, or that name a node that is not there, stay at 0.
pub fn solve(nodes: usize, links: &[Link]) -> Solved {
    let open = passable(nodes, links);
    let live: Vec<Link> = open.iter().filter_map(|&at| links.get(at).copied()).collect();
    let mut search = Search::new(nodes, live);
    let solved = search.run();
    let mut flows = vec![0.0; links.len()];
    for (&at, &flow) in open.iter().zip(&solved.flows) {
        if let Some(place) = flows.get_mut(at) {
            *place = flow;
        }
    }
    Solved { flows, ..solved }
}

/// Links that are open and part of a way through: not those of a dead end.
fn passable(nodes: usize, links: &[Link]) -> Vec<usize> {
    let there = |end| !matches!(end, End::Node(node) if node >= nodes);
    let mut open: Vec<usize> = (0..links.len())
        .filter(|&at| links.get(at).is_some_and(|link| link.law.is_open() && there(link.from) && there(link.to)))
        .collect();
    loop {
        let mut meet = vec![0usize; nodes];
        let ends = open.iter().filter_map(|&at| links.get(at)).flat_map(|link| [link.from, link.to]);
        for end in ends {
            if let End::Node(node) = end
                && let Some(count) = meet.get_mut(node)
            {
                *count += 1;
            }
        }
        let ends_dead = |end| matches!(end, End::Node(node) if meet.get(node) == Some(&1));
        let before = open.len();
        open.retain(|&at| links.get(at).is_some_and(|link| !ends_dead(link.from) && !ends_dead(link.to)));
        if open.len() == before {
            return open;
        }
    }
}

struct Search {
    links: Vec<Link>,
    matrix: Matrix,
    flows: Vec<f64>,
    pressures: Vec<f64>,
}

impl Search {
    fn new(nodes: usize, links: Vec<Link>) -> Self {
        let matrix = Matrix::new(nodes, &links);
        Self { flows: vec![0.0; links.len()], pressures: vec![0.0; nodes], links, matrix }
    }

    fn run(&mut self) -> Solved {
        let slopes: Vec<f64> = self.links.iter().map(|link| link.law.start_slope()).collect();
        let rest = vec![0.0; self.links.len()];
        let (flows, pressures) = self.linear(&rest, &rest, &slopes);
        (self.flows, self.pressures) = (flows, pressures);
        let mut best = self.judge(0);
        for step in 1..=MOST_STEPS {
            if best.imbalance <= AIM && best.mismatch <= AIM {
                break;
            }
            self.step();
            let now = self.judge(step);
            let worst = |solved: &Solved| solved.imbalance.max(solved.mismatch);
            // Settled, and rounding lets it come no nearer.
            let stuck = best.settled && worst(&now) >= 0.5 * worst(&best);
            if worst(&now) < worst(&best) {
                best = now;
            }
            if stuck {
                break;
            }
        }
        best
    }

    /// Flows and pressures of the network made straight at `flows`, where it loses `losses` and rises by `slopes`.
    fn linear(&mut self, flows: &[f64], losses: &[f64], slopes: &[f64]) -> (Vec<f64>, Vec<f64>) {
        let given: Vec<f64> = (self.links.iter().zip(flows).zip(losses.iter().zip(slopes)))
            .map(|((link, flow), (loss, slope))| flow + (link.known() - loss) / slope)
            .collect();
        self.matrix.fill(&self.links, slopes);
        let mut pressures = self.matrix.solve(self.matrix.surplus(&self.links, &given));
        let moved = |flows: &[f64], pressures: &[f64]| -> Vec<f64> {
            let each = self.links.iter().zip(flows).zip(slopes);
            each.map(|((link, flow), slope)| flow + link.between(pressures) / slope).collect()
        };
        let mut next = moved(&given, &pressures);
        // Once more for what rounding of the pressures left over.
        let rest = self.matrix.solve(self.matrix.surplus(&self.links, &next));
        next = moved(&next, &rest);
        pressures.iter_mut().zip(&rest).for_each(|(pressure, rest)| *pressure += rest);
        (next, pressures)
    }

    fn step(&mut self) {
        let flows = std::mem::take(&mut self.flows);
        let (losses, slopes): (Vec<f64>, Vec<f64>) =
            self.links.iter().zip(&flows).map(|(link, &flow)| link.law.loss_and_slope(flow)).unzip();
        let (next, pressures) = self.linear(&flows, &losses, &slopes);
        let way: Vec<f64> = next.iter().zip(&flows).map(|(next, flow)| next - flow).collect();
        let at = |share: f64| -> Vec<f64> { flows.iter().zip(&way).map(|(flow, way)| flow + share * way).collect() };
        // Slope of the energy along the way. The pressures of nodes drop out of it, as all flows on it balance; with them in it
        // there is less to round.
        let drives: Vec<f64> = self.links.iter().map(|link| link.driving(&pressures)).collect();
        let fall = |flows: &[f64]| -> f64 {
            let each = self.links.iter().zip(flows).zip(drives.iter().zip(&way));
            each.map(|((link, &flow), (drive, way))| (link.law.loss(flow) - drive) * way).sum()
        };
        let start = fall(&flows).abs();
        let mut share = 1.0;
        let mut reached = next;
        while share > 1e-3 && fall(&reached) > 0.5 * start {
            share *= 0.5;
            reached = at(share);
        }
        (self.flows, self.pressures) = (reached, pressures);
    }

    fn judge(&self, steps: usize) -> Solved {
        let largest = |values: &[f64]| values.iter().fold(0.0f64, |most, value| most.max(value.abs()));
        let drives: Vec<f64> = self.links.iter().map(|link| link.driving(&self.pressures)).collect();
        let known: Vec<f64> = self.links.iter().map(Link::known).collect();
        let misses: Vec<f64> = (self.links.iter().zip(&self.flows).zip(&drives))
            .map(|((link, &flow), drive)| link.law.loss(flow) - drive)
            .collect();
        let share = |part: f64, whole: f64| if part == 0.0 { 0.0 } else { part / whole.max(f64::MIN_POSITIVE) };
        let imbalance = share(largest(&self.matrix.surplus(&self.links, &self.flows)), largest(&self.flows).max(STILL));
        let mismatch = share(largest(&misses), largest(&known).max(1e-6));
        Solved {
            flows: self.flows.clone(),
            pressures: self.pressures.clone(),
            imbalance,
            mismatch,
            steps,
            settled: imbalance <= SETTLED && mismatch <= SETTLED,
        }
    }
}

/// Conductances between nodes, symmetric, of which each row is kept from its first entry to its diagonal.
struct Matrix {
    /// Row of each node.
    row_of: Vec<usize>,
    rows: Vec<Row>,
}

#[derive(Clone, Default)]
struct Row {
    first: usize,
    entries: Vec<f64>,
}

impl Row {
    fn get(&self, column: usize) -> f64 {
        column.checked_sub(self.first).and_then(|at| self.entries.get(at)).copied().unwrap_or_default()
    }

    fn add(&mut self, column: usize, value: f64) {
        if let Some(entry) = column.checked_sub(self.first).and_then(|at| self.entries.get_mut(at)) {
            *entry += value;
        }
    }
}

impl Matrix {
    fn new(nodes: usize, links: &[Link]) -> Self {
        let mut beside: Vec<Vec<usize>> = vec![Vec::new(); nodes];
        for link in links {
            if let (End::Node(one), End::Node(other)) = (link.from, link.to) {
                for (node, next) in [(one, other), (other, one)] {
                    if let Some(list) = beside.get_mut(node).filter(|list| node != next && !list.contains(&next)) {
                        list.push(next);
                    }
                }
            }
        }
        let mut row_of = vec![0; nodes];
        for (row, node) in narrow_order(&beside).into_iter().enumerate() {
            if let Some(place) = row_of.get_mut(node) {
                *place = row;
            }
        }
        let mut rows: Vec<Row> = (0..nodes).map(|row| Row { first: row, entries: Vec::new() }).collect();
        for (&row, next) in row_of.iter().zip(&beside) {
            let least = next.iter().filter_map(|&node| row_of.get(node)).copied().min().unwrap_or(row);
            if let Some(place) = rows.get_mut(row) {
                place.first = least.min(row);
                place.entries = vec![0.0; row + 1 - place.first];
            }
        }
        Self { row_of, rows }
    }

    fn row(&self, end: End) -> Option<usize> {
        match end {
            End::Node(node) => self.row_of.get(node).copied(),
            End::Known(_) => None,
        }
    }

    /// What comes in to each row's node less what goes out.
    fn surplus(&self, links: &[Link], flows: &[f64]) -> Vec<f64> {
        let mut sums = vec![0.0; self.rows.len()];
        for (link, flow) in links.iter().zip(flows) {
            for (end, flow) in [(link.from, -flow), (link.to, *flow)] {
                if let Some(sum) = self.row(end).and_then(|row| sums.get_mut(row)) {
                    *sum += flow;
                }
            }
        }
        sums
    }

    /// Sets it up for these slopes and factors it (Cholesky, within the rows as kept).
    fn fill(&mut self, links: &[Link], slopes: &[f64]) {
        self.rows.iter_mut().flat_map(|row| &mut row.entries).for_each(|entry| *entry = 0.0);
        for (link, slope) in links.iter().zip(slopes) {
            let ends = [self.row(link.from), self.row(link.to)];
            if ends[0] == ends[1] {
                continue;
            }
            for row in ends.into_iter().flatten() {
                if let Some(place) = self.rows.get_mut(row) {
                    place.add(row, 1.0 / slope);
                }
            }
            if let [Some(one), Some(other)] = ends
                && let Some(place) = self.rows.get_mut(one.max(other))
            {
                place.add(one.min(other), -1.0 / slope);
            }
        }
        self.factor();
    }

    fn factor(&mut self) {
        for at in 0..self.rows.len() {
            let Some(mut row) = self.rows.get_mut(at).map(std::mem::take) else { return };
            let whole = row.get(at);
            for column in row.first..at {
                let Some(other) = self.rows.get(column) else { return };
                let from = row.first.max(other.first);
                let known: f64 = (from..column).map(|k| row.get(k) * other.get(k)).sum();
                let value = (row.get(column) - known) / other.get(column);
                row.add(column, value - row.get(column));
            }
            let taken: f64 = (row.first..at).map(|k| row.get(k) * row.get(k)).sum();
            let pivot = whole - taken;
            // A node that floats: its pressure is held at 0.
            let root = if pivot > 1e-13 * whole { pivot.sqrt() } else { f64::INFINITY };
            row.add(at, root - whole);
            if let Some(place) = self.rows.get_mut(at) {
                *place = row;
            }
        }
    }

    /// Pressures of the nodes at which the given surplus leaves.
    fn solve(&self, mut values: Vec<f64>) -> Vec<f64> {
        for (at, row) in self.rows.iter().enumerate() {
            let known: f64 = (row.first..at).map(|k| row.get(k) * values.get(k).copied().unwrap_or_default()).sum();
            if let Some(value) = values.get_mut(at) {
                *value = (*value - known) / row.get(at);
            }
        }
        for (at, row) in self.rows.iter().enumerate().rev() {
            let Some(value) = values.get_mut(at) else { continue };
            *value /= row.get(at);
            let value = *value;
            for column in row.first..at {
                if let Some(earlier) = values.get_mut(column) {
                    *earlier -= row.get(column) * value;
                }
            }
        }
        self.row_of.iter().map(|&row| values.get(row).copied().unwrap_or_default()).collect()
    }
}

/// An order of nodes in which neighbours lie near each other: outward from an end of each connected part, then turned round.
fn narrow_order(beside: &[Vec<usize>]) -> Vec<usize> {
    let degree = |node: usize| (beside.get(node).map_or(0, Vec::len), node);
    let mut starts: Vec<usize> = (0..beside.len()).collect();
    starts.sort_by_key(|&node| degree(node));
    let mut order = Vec::with_capacity(beside.len());
    let mut seen = vec![false; beside.len()];
    let mut visit = |node: usize, order: &mut Vec<usize>| {
        if let Some(seen) = seen.get_mut(node).filter(|seen| !**seen) {
            *seen = true;
            order.push(node);
        }
    };
    let mut head = 0;
    for start in starts {
        visit(start, &mut order);
        while let Some(&node) = order.get(head) {
            head += 1;
            let mut next = beside.get(node).cloned().unwrap_or_default();
            next.sort_by_key(|&node| degree(node));
            next.into_iter().for_each(|node| visit(node, &mut order));
        }
    }
    order.reverse();
    order
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::physics::airflow::{screen_resistance, slot_resistance};
    use proptest::prelude::*;

    fn hole(from: End, to: End, resistance: f64) -> Link {
        Link { from, to, drive: 0.0, law: Law::Square { forward: resistance, back: resistance } }
    }

    #[test]
    fn two_holes_in_line_share_the_pressure() {
        let solved = solve(1, &[hole(End::Known(3.0), End::Node(0), 4.0), hole(End::Node(0), End::Known(0.0), 8.0)]);
        assert!(solved.settled, "{solved:?}");
        assert!((solved.flows[0] - 0.5).abs() < 1e-12 && (solved.flows[1] - 0.5).abs() < 1e-12);
        assert!((solved.pressures[0] - 2.0).abs() < 1e-9);
    }

    #[test]
    fn what_hangs_in_the_air_or_leads_nowhere_stays_still() {
        let loose = hole(End::Node(0), End::Node(1), 1.0);
        let nowhere = hole(End::Node(7), End::Node(1), 1.0);
        let shut = hole(End::Known(5.0), End::Node(1), f64::INFINITY);
        let solved = solve(2, &[loose, nowhere, shut]);
        assert!(solved.settled && solved.flows == [0.0; 3], "{solved:?}");
        assert!(solve(0, &[]).settled);
    }

    fn links(nodes: usize) -> impl Strategy<Value = Vec<Link>> {
        let end = prop_oneof![3 => (0..nodes).prop_map(End::Node), 1 => (-2.0f64..2.0).prop_map(End::Known)];
        let square = (1.0f64..7.0).prop_map(|power| {
            let resistance = 10f64.powf(power);
            Law::Square { forward: resistance, back: resistance * 1.02 }
        });
        let plates = (0.003f64..0.05, 0.1f64..1.0, 0.01f64..5.0).prop_map(|(depth, width, length)| {
            Law::Plates(Channel { depth, width, length, density: 1.27, viscosity: 1.74e-5 })
        });
        let law = prop_oneof![square, plates];
        let link =
            (end.clone(), end, -0.5f64..0.5, law).prop_map(|(from, to, drive, law)| Link { from, to, drive, law });
        prop::collection::vec(link, 1..40)
    }

    proptest! {
        #[test]
        fn any_network_settles_and_balances(links in links(12)) {
            let solved = solve(12, &links);
            prop_assert!(solved.settled, "{} {} after {}", solved.imbalance, solved.mismatch, solved.steps);
        }

        #[test]
        fn nothing_moves_without_pressure_or_with_one_end_shut(gap in gaps()) {
            prop_assert_eq!(Gap { drive: 0.0, ..gap }.flow(), 0.0);
            prop_assert_eq!(Gap { low: 0.0, ..gap }.flow(), 0.0);
            prop_assert_eq!(Gap { high: 0.0, ..gap }.flow(), 0.0);
            prop_assert_eq!(Gap { open: 0.0, ..gap }.flow(), 0.0);
            prop_assert_eq!(Gap { depth: 0.0, ..gap }.flow(), 0.0);
        }

        #[test]
        fn more_room_never_takes_flow_away_and_a_screen_never_adds(gap in gaps(), more in 1.0f64..3.0, open in 0.05f64..1.0) {
            let flow = gap.flow();
            let slack = 1.0 + 1e-9;
            prop_assert!(flow > 0.0);
            let roomier = [
                Gap { depth: gap.depth * more, ..gap },
                Gap { low: gap.low * more, ..gap },
                Gap { high: gap.high * more, ..gap },
                Gap { drive: gap.drive * more, ..gap },
            ];
            for other in roomier {
                prop_assert!(other.flow() * slack >= flow, "{:?}", other);
            }
            let screened = Gap { open: gap.open * open, ..gap };
            prop_assert!(screened.flow() <= flow * slack, "{:?}", screened);
            let back = Gap { drive: -gap.drive, ..gap }.flow();
            prop_assert!((back + flow).abs() <= 1e-9 * flow, "{back} {flow}");
        }
    }

    /// A gap between two slots, the lower one behind a screen.
    #[derive(Clone, Copy, Debug)]
    struct Gap {
        depth: f64,
        low: f64,
        high: f64,
        open: f64,
        drive: f64,
    }

    impl Gap {
        fn flow(self) -> f64 {
            let channel = Channel { depth: self.depth, width: 0.4, length: 2.6, density: 1.27, viscosity: 1.74e-5 };
            let screen = screen_resistance(1.27, self.low, self.open);
            let links = [
                hole(End::Known(0.0), End::Node(0), slot_resistance(1.27, self.low) + screen),
                Link { from: End::Node(0), to: End::Node(1), drive: self.drive, law: Law::Plates(channel) },
                hole(End::Node(1), End::Known(0.0), slot_resistance(1.27, self.high)),
            ];
            let solved = solve(2, &links);
            assert!(solved.settled, "{self:?}: {} {}", solved.imbalance, solved.mismatch);
            solved.flows[0]
        }
    }

    fn gaps() -> impl Strategy<Value = Gap> {
        (0.003f64..0.05, 1e-5f64..0.02, 1e-5f64..0.02, 0.2f64..1.0, 1e-4f64..50.0)
            .prop_map(|(depth, low, high, open, drive)| Gap { depth, low, high, open, drive })
    }
}
