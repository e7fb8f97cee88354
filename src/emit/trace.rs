//! The way of a drop in words: every step with what it lands on, and how it ends; and the way of the air of a bay.

use std::cmp::Ordering;
use std::fmt::Write as _;

use super::{footer_line, gap_air};
use crate::continuity::{
    ASSUMPTIONS, AirFlow, BayFlow, BayId, Ending, ExitKind, ExitLoad, Gate, InTheWay, Opening, RainLoads, Refused,
    SheetLap, Step, StepKind, Trace, Unfit, free_area,
};
use crate::geometry::Point;
use crate::model::{Face, FaceId, Model, PartSpec};
use crate::plan::{Against, Part, RunPlace};
use crate::session::Wall;
use crate::units::{Area, Keep, Length, System, decimal, display};

/// The whole answer as text: place, steps, end, what rain brings to the exit, the line of every output.
pub fn text(wall: Wall<'_>, trace: &Trace, loads: &RainLoads) -> String {
    let mut out = format!("{}\n", heading(wall, trace));
    if let Some(note) = note(wall, trace) {
        let _ = writeln!(out, "note: {note}");
    }
    out.push('\n');
    for (number, line) in lines(wall, trace).iter().enumerate() {
        let _ = writeln!(out, "{:>3}  {line}", number + 1);
    }
    let _ = writeln!(out, "\n{}", ending(wall, trace));
    if let Some(rain) = rain(wall, trace, loads) {
        let _ = writeln!(out, "{rain}");
    }
    let _ = writeln!(out, "\n{}", footer_line(wall.account));
    out
}

/// "arrives 0.41 L/h from 1.36 m², exit passes 35 L/h, margin ×85": what a heavy hour brings to the exit by which the drop
/// leaves, and what that passes when it has aged. `None` for a drop that does not leave.
pub fn rain(wall: Wall<'_>, trace: &Trace, loads: &RainLoads) -> Option<String> {
    let last = trace.steps.last().filter(|step| matches!(step.kind, StepKind::Leave(_)))?;
    let exit = loads.at(last.bay, last.with?, last.place.to)?;
    let from = display::area(Area((exit.catchment * 1e18).round() as i128), wall.model.project.units);
    let arrives = match (&loads.hour, exit.arrives) {
        (Ok(_), Some(arrives)) => format!("arrives {} L/h from {from}", litres(arrives)),
        (Err(missing), _) => return Some(format!("drains {from}; can't tell what arrives: {missing}")),
        _ => return None,
    };
    Some(match (exit.passes, exit.margin) {
        _ if !exit.fits() => format!("{arrives}, {}", unfit(wall, exit)),
        (Some(passes), Some(margin)) => {
            format!("{arrives}, exit passes {} L/h, margin ×{}", litres(passes), litres(margin))
        }
        _ => format!("{arrives}, exit has no size of its own"),
    })
}

/// Why no way out of an exit counts.
fn unfit(wall: Wall<'_>, exit: &ExitLoad) -> String {
    let size = |length: Length| display::length(length, wall.model.project.units);
    match exit.ways.iter().find_map(|way| way.unfit) {
        Some(Unfit::Film { size: own, wanted }) => {
            format!("exit of {} holds a film of water: {} is wanted", size(own), size(wanted))
        }
        Some(Unfit::Lip { lip, most }) => {
            format!("exit starts {} above the floor: {} is the most", size(lip), size(most))
        }
        None => "exit is not known".to_owned(),
    }
}

/// "water from (3.2 m, 2.4 m) on `north`".
pub fn heading(wall: Wall<'_>, trace: &Trace) -> String {
    let units = wall.model.project.units;
    let name = wall.model.face(trace.face).map_or("", |face| face.name.as_str());
    format!("water behind the cladding of `{name}` at ({}, {})", long(trace.asked.x, units), long(trace.asked.y, units))
}

/// Why the drop does not start where it was asked for.
pub fn note(wall: Wall<'_>, trace: &Trace) -> Option<String> {
    let what = in_the_way(wall.model.face(trace.face)?, trace.in_the_way?);
    let units = wall.model.project.units;
    let (across, up) = (trace.start.x - trace.asked.x, trace.start.y - trace.asked.y);
    let (far, way) = match (across.cmp(&Length::ZERO), up.cmp(&Length::ZERO)) {
        (Ordering::Less, _) => (across, "to the left"),
        (Ordering::Greater, _) => (across, "to the right"),
        (_, Ordering::Less) => (up, "below"),
        _ => (up, "above"),
    };
    let bay = bay_name(wall, trace.bay);
    Some(format!("{what} there, no gap; followed from {bay}, {} {way}", display::length(far.abs(), units)))
}

fn in_the_way(face: &Face, what: InTheWay) -> String {
    let named = |kind: &str, name: Option<&str>| format!("{kind} `{}` stands", name.unwrap_or_default());
    match what {
        InTheWay::Opening(at) => {
            let opening = face.openings.get(at);
            format!(
                "the {} `{}` is",
                opening.map_or("opening", |opening| opening.kind),
                opening.map_or("", |o| &o.name)
            )
        }
        InTheWay::Block(at) => named("block", face.blocks.get(at).map(|block| block.name.as_str())),
        InTheWay::Nailer(at) => named("nailer", face.nailers.get(at).map(|nailer| nailer.name.as_str())),
        InTheWay::FireStop(at) => named("fire stop", face.fire_stops.get(at).map(|stop| stop.name.as_str())),
        InTheWay::Strip(..) => "a strip of furring stands".to_owned(),
        InTheWay::Other => "the edge of a bay lies".to_owned(),
    }
}

/// Why no drop can be followed from a place, and what to do.
pub fn refusal(wall: Wall<'_>, id: FaceId, at: Point, refused: Refused) -> (String, String) {
    let face = wall.model.face(id);
    let name = face.map_or("", |face| face.name.as_str());
    let units = wall.model.project.units;
    let place = format!("({}, {})", display::length(at.x, units), display::length(at.y, units));
    match refused {
        Refused::NoOutline => {
            (format!("`{name}` has no outline"), "`wythe check` says what is wrong with it".to_owned())
        }
        Refused::Outside => {
            let bounds = face.and_then(|face| face.outline.as_ref()?.bounds());
            let help = bounds.map(|bounds| {
                let size = |length| display::length(length, units);
                format!(
                    "it reaches from ({}, {}) to ({}, {})",
                    size(bounds.left),
                    size(bounds.bottom),
                    size(bounds.right),
                    size(bounds.top)
                )
            });
            (format!("{place} lies outside of `{name}`"), help.unwrap_or_default())
        }
        Refused::Bare => (format!("no area of `{name}` covers {place}"), "give the place an area".to_owned()),
        Refused::NoGap(area) => {
            let area = face.and_then(|face| face.areas.get(area)).map_or("", |area| area.name.as_str());
            (format!("`{area}` of `{name}` has no gap"), "water is followed in a drained gap only".to_owned())
        }
    }
}

/// One line for each step, and one for where it stands.
pub fn lines(wall: Wall<'_>, trace: &Trace) -> Vec<String> {
    let words = Words { wall, model: wall.model, trace, units: wall.model.project.units };
    let mut lines: Vec<String> = trace.steps.iter().map(|step| words.step(step)).collect();
    match &trace.ending {
        Ending::Stops { why, depth } => lines.push(words.stops(why, *depth)),
        Ending::CannotTell(fact) => lines.push(format!("not known: {fact}")),
        Ending::Daylight => {}
    }
    lines
}

/// The answer in one line.
pub fn ending(wall: Wall<'_>, trace: &Trace) -> String {
    let units = wall.model.project.units;
    let place = trace.steps.last().map_or(trace.start, |step| step.place.to);
    let place = format!("({}, {})", long(place.x, units), long(place.y, units));
    match &trace.ending {
        Ending::Daylight => format!("reaches daylight at {place}"),
        Ending::Stops { .. } if leaves(trace) => "does not reach daylight".to_owned(),
        Ending::Stops { .. } => format!("stops at {place}: it does not reach daylight"),
        Ending::CannotTell(fact) => format!("can't tell: {fact}"),
    }
}

/// Whether its last step leads out of the gap.
fn leaves(trace: &Trace) -> bool {
    trace.steps.last().is_some_and(|step| matches!(step.kind, StepKind::Leave(_)))
}

/// "bay 5 of `all`".
fn bay_name(wall: Wall<'_>, bay: BayId) -> String {
    let area = wall.model.face(bay.face).and_then(|face| face.areas.get(bay.area));
    format!("bay {} of `{}`", bay.bay + 1, area.map_or("", |area| area.name.as_str()))
}

/// Metres from one metre on, millimetres below; feet and inches as crews say them.
fn long(length: Length, units: System) -> String {
    match units {
        System::Metric if length.abs() >= Length::mm(1000) => display::metres(length),
        _ => display::length(length, units),
    }
}

/// What all sentences read.
struct Words<'w> {
    wall: Wall<'w>,
    model: &'w Model,
    trace: &'w Trace,
    units: System,
}

impl Words<'_> {
    fn step(&self, step: &Step) -> String {
        let far = long(step.length(), self.units);
        match &step.kind {
            StepKind::Fall => {
                let plane = step
                    .lap
                    .map_or_else(|| "nothing is said to keep water out".to_owned(), |lap| self.sheets(step, lap));
                format!("falls {far} down {} ({plane})", bay_name(self.wall, step.bay))
            }
            StepKind::Land => self.land(step),
            StepKind::Run => {
                let (from, to) = (step.place.from, step.place.to);
                let way = if to.x < from.x { "left" } else { "right" };
                let down = if to.y < from.y { "down the slope of" } else { "along" };
                format!("runs {far} {down} {} to the {way}", self.floor(step.with))
            }
            StepKind::Pass => "passes behind a strip that is held off the plane, into the bay below".to_owned(),
            StepKind::Leave(gate) => self.leave(step, gate),
        }
    }

    /// "stands on nailer `cleat`, 12 mm deep before it runs over: no way out, it dams the gap".
    fn stops(&self, why: &str, depth: Option<Length>) -> String {
        match self.trace.steps.last() {
            Some(_) if leaves(self.trace) => format!("and yet no daylight, {why}"),
            last => {
                let on = last.and_then(|step| step.with).map(|with| self.floor(Some(with))).unwrap_or_default();
                let why = match why.strip_prefix(on.as_str()) {
                    Some(rest) if !on.is_empty() => format!("it{rest}"),
                    _ => why.to_owned(),
                };
                let on = if on.is_empty() { on } else { format!(" on {on}") };
                let deep =
                    depth.map(|depth| format!(", {} deep before it runs over", display::length(depth, self.units)));
                format!("stands{on}{}: no way out, {why}", deep.unwrap_or_default())
            }
        }
    }

    /// "wall membrane `membrane`, upper sheet over lower sheet, 100 mm".
    fn sheets(&self, step: &Step, lap: SheetLap) -> String {
        let area = self.model.face(step.bay.face).and_then(|face| face.areas.get(step.bay.area));
        let assembly = area.and_then(|area| self.model.assembly(area.assembly));
        let Some(layer) = assembly.and_then(|assembly| assembly.layers.get(lap.layer)) else { return String::new() };
        let what = if self.model.is_membrane(&layer.stuff) { "wall membrane" } else { "drainage plane" };
        let order = match lap.lapped {
            Some("lower_over_upper") => ", lower sheet over upper sheet",
            Some(_) => ", upper sheet over lower sheet",
            None if self.model.is_membrane(&layer.stuff) => ", order of laps not said",
            None => "",
        };
        let by = lap.lap.map(|by| format!(", {}", display::length(by, self.units))).unwrap_or_default();
        format!("{what} `{}`{order}{by}", layer.name)
    }

    /// "lands on the head flashing of `kitchen`: falls 6% outward, upstand 75 mm under the membrane".
    fn land(&self, step: &Step) -> String {
        let part = step.part.and_then(|id| self.wall.plan.part(id));
        let spec = part.map(|part| &part.spec).or_else(|| self.flashing_of(step.with));
        let on = if part.is_some() { self.flashing_name(step.with) } else { self.floor(step.with) };
        let mut facts: Vec<String> = spec.map(|spec| self.facts(spec)).unwrap_or_default();
        facts.extend(part.into_iter().flat_map(|part| self.over(part)));
        let facts = if facts.is_empty() { String::new() } else { format!(": {}", facts.join(", ")) };
        format!("lands on {on}{facts}")
    }

    /// Fall, upstand and end dams of a flashing.
    fn facts(&self, spec: &PartSpec) -> Vec<String> {
        let size = |length: Length| display::length(length, self.units);
        let mut facts = Vec::new();
        if let Some(slope) = spec.slope {
            let way = if slope < 0.0 { "inward" } else { "outward" };
            facts.push(format!("falls {} {way}", display::slope_percent(slope.abs())));
        }
        let plane =
            |under: bool| spec.laps.iter().find(|lap| lap.under == under && matches!(lap.what, "water" | "membrane"));
        let lap = match (plane(true), plane(false)) {
            (Some(lap), _) => Some(("under", lap.by)),
            (None, Some(lap)) => Some(("over", lap.by)),
            (None, None) => None,
        };
        match (spec.upstand, lap) {
            (Some(upstand), Some((way, _))) => facts.push(format!("upstand {} {way} the membrane", size(upstand))),
            (Some(upstand), None) => facts.push(format!("upstand {}", size(upstand))),
            (None, Some((way, by))) => {
                facts.push(format!("{}{way} the membrane", by.map(|by| size(by) + " ").unwrap_or_default()));
            }
            (None, None) => {}
        }
        facts.extend(spec.taped.map(|_| "its upper edge taped".to_owned()));
        facts.extend(spec.end_dams.map(|dams| format!("end dams {}", size(dams))));
        facts
    }

    /// Other parts of the same edge that lap over the flashing.
    fn over(&self, part: &Part) -> Vec<String> {
        let run = part.run.and_then(|id| self.wall.plan.run(id));
        let others = run.into_iter().flat_map(|run| self.wall.plan.parts_of(run));
        let lapping = others.filter_map(|other| {
            let lap = other.spec.laps.iter().find(|lap| !lap.under && lap.what == "flashing")?;
            let by = lap.by.map(|by| format!(" by {}", display::length(by, self.units))).unwrap_or_default();
            Some(format!("`{}` over it{by}", other.spec.name.as_deref().unwrap_or(other.spec.kind)))
        });
        lapping.collect()
    }

    fn face(&self) -> Option<&Face> {
        self.model.face(self.trace.face)
    }

    /// The flashing over a block, fire stop or row of slots.
    fn flashing_of(&self, with: Option<Against>) -> Option<&PartSpec> {
        let face = self.face()?;
        match with? {
            Against::Block(at) => face.blocks.get(at)?.flashing.as_ref(),
            Against::FireStop(at) => face.fire_stops.get(at)?.flashing.as_ref(),
            Against::Vent(at) => face.vents.get(at)?.flashing.as_ref(),
            _ => None,
        }
    }

    /// "the head flashing of `kitchen`".
    fn flashing_name(&self, with: Option<Against>) -> String {
        let Some(Against::Run(id)) = with else { return self.floor(with) };
        let Some(run) = self.wall.plan.run(id) else { return self.floor(with) };
        let opening = match run.place {
            RunPlace::Opening(at) => self.face().and_then(|face| face.openings.get(at)),
            _ => None,
        };
        match opening {
            Some(opening) => format!("the {} flashing of `{}`", run.kind, opening.name),
            None => format!("the flashing of `{}`", run.name),
        }
    }

    /// What makes a floor.
    fn floor(&self, with: Option<Against>) -> String {
        let face = self.face();
        let named = |kind: &str, name: Option<&String>| format!("{kind} `{}`", name.map_or("", |name| name.as_str()));
        match with {
            Some(Against::Run(id)) => self.wall.plan.run(id).map_or_else(String::new, |run| match run.place {
                RunPlace::Opening(at) => {
                    named(&format!("the {} of", run.kind), face.and_then(|face| face.openings.get(at)).map(|o| &o.name))
                }
                _ => format!("`{}`", run.name),
            }),
            Some(Against::Strip(_)) => "a strip of furring".to_owned(),
            Some(Against::Block(at)) => {
                named("block", face.and_then(|face| face.blocks.get(at)).map(|block| &block.name))
            }
            Some(Against::Nailer(at)) => {
                named("nailer", face.and_then(|face| face.nailers.get(at)).map(|nailer| &nailer.name))
            }
            Some(Against::FireStop(at)) => {
                named("fire stop", face.and_then(|face| face.fire_stops.get(at)).map(|stop| &stop.name))
            }
            Some(Against::Vent(at)) => {
                named("the flashing of", face.and_then(|face| face.vents.get(at)).map(|vent| &vent.name))
            }
            Some(Against::Unknown) | None => "something that is not known".to_owned(),
        }
    }

    /// "leaves through the slot over its drip, 10 mm clear".
    fn leave(&self, step: &Step, gate: &Gate) -> String {
        let size = |length: Length| display::length(length, self.units);
        match gate {
            Gate::Slot { clear, screen } => {
                let clear = clear.map(|clear| format!(", {} clear", size(clear))).unwrap_or_default();
                let screen = screen.and_then(|id| self.model.product(id));
                let screen = screen.map(|screen| format!(", through the screen `{}`", screen.name)).unwrap_or_default();
                let drip = if self.has_drip(step.with) { " over its drip" } else { "" };
                format!("leaves through the slot of {}{drip}{clear}{screen}", self.floor(step.with))
            }
            Gate::Pierced(trim) => format!("leaves through the pierced floor of `{trim}`"),
            Gate::Weep { trim, from_left, backs_up } => {
                let trim = trim.as_ref().map(|trim| format!(" of `{trim}`")).unwrap_or_default();
                let up = if backs_up.0 > 0 { format!("backs up {} and ", size(*backs_up)) } else { String::new() };
                format!("{up}leaves through the weep{trim} at {} from its left end", long(*from_left, self.units))
            }
            Gate::LowEnd(trim) => format!("leaves by the open low end of `{trim}`"),
            Gate::Flashing => {
                let drip = self.flashing_of(step.with).and_then(|spec| spec.drip);
                let drip = drip.map(|(down, _)| format!(", over its drip of {}", size(down))).unwrap_or_default();
                format!("leaves over {}{drip}", self.floor(step.with))
            }
        }
    }

    /// Whether a flashing along a run has a drip.
    fn has_drip(&self, with: Option<Against>) -> bool {
        let Some(Against::Run(id)) = with else { return false };
        let run = self.wall.plan.run(id);
        let mut parts = run.into_iter().flat_map(|run| self.wall.plan.parts_of(run));
        parts.any(|part| part.spec.kind == "flashing" && part.spec.drip.is_some())
    }
}

/// The way of the air of one bay: in, through, out, and what governs it.
pub fn air(wall: Wall<'_>, trace: &Trace, bay: &BayFlow, flow: &AirFlow) -> String {
    let units = wall.model.project.units;
    let words = Words { wall, model: wall.model, trace, units };
    let mut out = format!("air of {}, {} high\n", bay_name(wall, bay.id), long(bay.height, units));
    for (word, openings) in [("in", &bay.inlets), ("out", &bay.outlets)] {
        if openings.is_empty() {
            let _ = writeln!(out, "  {word:3}  nowhere");
        }
        for group in grouped(openings) {
            let _ = writeln!(out, "  {word:3}  {}", words.openings(&group));
        }
    }
    let Some(moving) = flow.bay(bay.id) else { return out };
    if let Some(governs) = moving.governs.and_then(|at| moving.openings.get(at)) {
        let _ = writeln!(out, "  governed, with aged screens, by {}", words.floor(Some(governs.opening.with)));
    }
    match (&moving.clean, &moving.aged, &moving.missing, moving.dead) {
        (_, _, Some(fact), _) => {
            let _ = writeln!(out, "  can't tell how much: {fact}");
        }
        (_, _, _, Some(why)) => {
            let _ = writeln!(out, "  nothing moves: {why}");
        }
        (Some(clean), aged, ..) => {
            let aged =
                aged.map(|aged| format!("; {} L/s with aged screens", litres(aged.litres()))).unwrap_or_default();
            let changes = decimal(clean.changes, Keep::Significant(2));
            let _ = writeln!(out, "  {} L/s, {changes} changes an hour{aged}", litres(clean.litres()));
            let _ = writeln!(out, "  for {}", gap_air::weather(&flow.conditions, units));
            out.push_str("taken for granted:\n");
            for assumption in ASSUMPTIONS {
                let _ = writeln!(out, "  - {assumption}");
            }
        }
        _ => {}
    }
    out
}

fn litres(value: f64) -> String {
    decimal(value, Keep::Significant(2))
}

/// Openings that one thing gives, in the order of the first of each.
fn grouped(openings: &[Opening]) -> Vec<Vec<&Opening>> {
    let mut groups: Vec<Vec<&Opening>> = Vec::new();
    for opening in openings {
        let same = |first: &&Opening| {
            (first.with, first.kind, first.joins, &first.missing)
                == (opening.with, opening.kind, opening.joins, &opening.missing)
                && first.share == opening.share
        };
        match groups.iter_mut().find(|group| group.first().is_some_and(same)) {
            Some(group) => group.push(opening),
            None => groups.push(vec![opening]),
        }
    }
    groups
}

impl Words<'_> {
    /// "slot of `north.base`, 368 mm long, 60% of it open behind a screen, 40% aged: free area 3754 mm², 2502 mm² aged".
    fn openings(&self, group: &[&Opening]) -> String {
        let Some(first) = group.first() else { return String::new() };
        let mm2 = |area: f64| match self.units {
            System::Metric => format!("{} mm²", decimal(area * 1e6, Keep::Places(0))),
            System::Imperial => format!("{} in²", decimal(area / 0.0254_f64.powi(2), Keep::Significant(3))),
        };
        let what = match first.kind {
            ExitKind::Slot => "slot",
            ExitKind::Holes => "holes",
        };
        let share = first.share.map(|(new, aged)| {
            format!(", {} of it open behind a screen, {} aged", display::percent(new), display::percent(aged))
        });
        let size = match (free_area(group.iter().copied()), &first.missing) {
            (Some(area), _) => {
                let aged = if area.aged < area.new { format!(", {} aged", mm2(area.aged)) } else { String::new() };
                format!(": free area {}{aged}", mm2(area.new))
            }
            (None, Some(fact)) => format!(": can't tell its size: {fact}"),
            (None, None) => String::new(),
        };
        let joins = if first.joins == "outside" { String::new() } else { format!(", to the {}", first.joins) };
        let long = long(group.iter().map(|opening| opening.segment.length()).sum(), self.units);
        let pieces = if group.len() > 1 { format!(" in {} pieces", group.len()) } else { String::new() };
        let of = self.floor(Some(first.with));
        format!("{what} of {of}, {long} long{pieces}{}{joins}{size}", share.unwrap_or_default())
    }
}
