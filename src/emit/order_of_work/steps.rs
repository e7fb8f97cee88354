//! Tasks of the order of work gathered into steps: what one trade does at one place without a break.

use crate::continuity::{Dry, Kind, Order, Phase, Stop, Task, TaskId};
use crate::model::FaceId;
use crate::session::Checked;
use crate::units::{Length, display};

/// Steps under one heading.
pub(super) struct Group {
    /// The heading.
    pub title: String,
    /// Lines under it: platform, stop line, remarks.
    pub notes: Vec<String>,
    pub steps: Vec<Step>,
}

/// What one trade does at one place.
pub(super) struct Step {
    pub number: u64,
    /// `north.kitchen`.
    pub place: String,
    /// Tasks with their words.
    pub tasks: Vec<(TaskId, String)>,
    pub by: &'static str,
    /// It is a hold point.
    pub hold: Option<&'static str>,
    /// It is about the whole of the house.
    pub is_everywhere: bool,
}

/// Trades as people say them.
pub(super) fn trade(word: &str) -> &str {
    match word {
        "window_installer" => "window installer",
        "gas" => "gas fitter",
        "network" => "network installer",
        "ventilation" => "ventilation fitter",
        "heating" => "heating fitter",
        other => other,
    }
}

/// All steps, numbered through, in an order that keeps every tie.
pub(super) fn groups(checked: &Checked, order: &Order) -> Vec<Group> {
    let tasks: Vec<(TaskId, &Task)> = order.sequence.iter().filter_map(|&id| Some((id, order.task(id)?))).collect();
    let mut number = 0;
    let parts = tasks.chunk_by(|(_, one), (_, other)| heading(one) == heading(other));
    let mut found: Vec<Group> = Vec::new();
    for part in parts {
        let Some((_, first)) = part.first() else { continue };
        let mut steps: Vec<Step> = Vec::new();
        let same = |one: &Task, other: &Task| {
            one.face == other.face && one.by == other.by && place(one) == place(other) && hold(one) == hold(other)
        };
        for run in part.chunk_by(|(_, one), (_, other)| same(one, other)) {
            let Some((_, task)) = run.first() else { continue };
            number += 1;
            steps.push(Step {
                number,
                place: whole_place(checked, task),
                tasks: run.iter().map(|(id, task)| (*id, words(checked, order, task))).collect(),
                by: task.by,
                hold: hold(task),
                is_everywhere: checked.model.face(task.face).is_none(),
            });
        }
        let mut title = title(checked, order, first);
        if found.iter().any(|group| group.title == title) {
            title.push_str(", continued");
        }
        found.push(Group { title, notes: notes(checked, order, first), steps });
    }
    found
}

/// What stands under one heading: stage, face, section.
fn heading(task: &Task) -> (Phase, FaceId, Option<usize>) {
    match task.phase {
        Phase::Others => (task.phase, FaceId(0), None),
        Phase::Sections => (task.phase, task.face, task.lane),
        _ => (task.phase, task.face, None),
    }
}

fn hold(task: &Task) -> Option<&'static str> {
    match task.kind {
        Kind::Hold(point) => Some(point),
        _ => None,
    }
}

/// `kitchen` for everything round it.
fn place(task: &Task) -> &str {
    let sides = [".head", ".jamb", ".sill"];
    sides.iter().find_map(|side| task.owner.strip_suffix(side)).unwrap_or(&task.owner)
}

fn whole_place(checked: &Checked, task: &Task) -> String {
    let wall = checked.model.face(task.face).map_or("", |face| face.name.as_str());
    [wall, place(task)].into_iter().filter(|word| !word.is_empty()).collect::<Vec<_>>().join(".")
}

fn title(checked: &Checked, order: &Order, task: &Task) -> String {
    let wall = checked.model.face(task.face).map(|face| format!("{} wall", face.name.replace('_', " ")));
    let wall = wall.unwrap_or_else(|| "the whole house".to_owned());
    match task.phase {
        Phase::Others => "Before the crew: what others must have done".to_owned(),
        Phase::Barrier if checked.model.face(task.face).is_none() => "Before anything covers the barrier".to_owned(),
        Phase::Barrier => format!("Barrier and openings, {wall}"),
        Phase::Sections => {
            let lane = task.lane.and_then(|at| order.lanes.get(at));
            let section = lane.and_then(|lane| lane.section).and_then(|at| checked.model.sections.get(at));
            match (section, lane) {
                (Some(section), Some(lane)) => {
                    format!("Lift {}, {wall}: section {}", lane.lift + 1, section.name.replace('_', " "))
                }
                _ => format!("Cladding, {wall}"),
            }
        }
        Phase::SecondFix => format!("Second fix, {wall}"),
        Phase::Leaving => format!("Before the lift leaves, {wall}"),
    }
}

fn notes(checked: &Checked, order: &Order, task: &Task) -> Vec<String> {
    let Some(lane) = task.lane.filter(|_| task.phase == Phase::Sections).and_then(|at| order.lanes.get(at)) else {
        return Vec::new();
    };
    let Some((at, section)) = lane.section.and_then(|at| Some((at, checked.model.sections.get(at)?))) else {
        return Vec::new();
    };
    let shown = |length: Length| display::both(length, checked.model.project.units);
    let mut notes = vec![format!("from {} to {} along the wall", shown(lane.left), shown(lane.right))];
    if !section.decks.is_empty() {
        let decks: Vec<String> = section.decks.iter().map(|deck| shown(*deck)).collect();
        notes.push(format!("platform at {} above the datum", decks.join(", then at ")));
    }
    if let Some(rating) = section.platform {
        notes.push(format!("the platform carries {rating:.0} kg ({:.0} lb)", rating / 0.453_592_37));
    }
    if let Some(stop) = order.stops.iter().find(|stop| stop.section == at) {
        notes.push(stop_words(checked, stop));
    }
    notes.extend(section.note.iter().map(|note| note.to_string()));
    notes
}

/// Where the day ends, and what keeps its edge dry.
pub(in crate::emit) fn stop_words(checked: &Checked, stop: &Stop) -> String {
    let shown = |length: Length| display::both(length, checked.model.project.units);
    if stop.last {
        return "goes up to the top of the wall".to_owned();
    }
    let course = match stop.course {
        Some((number, off)) if off == Length::ZERO => format!(", course line {number}"),
        _ => String::new(),
    };
    format!("stop line at {}{course}: {}", shown(stop.line.from.y), dry_words(checked, &stop.dry))
}

fn dry_words(checked: &Checked, dry: &Dry) -> String {
    match dry {
        Dry::Top => "the wall ends here".to_owned(),
        Dry::Flashing(name) => format!("the flashing of `{name}` lies over it, under the membrane above"),
        Dry::NoGap => "no gap is open upward here".to_owned(),
        Dry::Flap(length) => {
            format!("turn a flap of {} out over it for the night", display::both(*length, checked.model.project.units))
        }
        Dry::Cover => "cover it for the night".to_owned(),
        Dry::Sealed => "seal it for the night".to_owned(),
        Dry::Open => "the gap is open upward: tonight's rain gets in".to_owned(),
        Dry::Untold(missing) => format!("can't tell whether rain gets in: {missing}"),
    }
}

/// One task in a few words.
fn words(checked: &Checked, order: &Order, task: &Task) -> String {
    let name = task.name.replace('_', " ");
    match task.kind {
        Kind::Membrane => format!("{name}, from below upward"),
        Kind::Cladding => format!("{name}, from below upward"),
        Kind::Set => format!("set the {name}"),
        Kind::Collar => format!("{name}, sealed to the barrier"),
        Kind::RoughIn => format!("{name} through the wall, falling outward"),
        Kind::Fixture => format!("{name} on"),
        Kind::Part if task.owner.ends_with(".jamb") => format!("{name}, {} side", side(checked, task)),
        Kind::DryIn => {
            let section = task.lane.and_then(|at| order.lanes.get(at)).and_then(|lane| lane.section);
            let stop = section.and_then(|at| order.stops.iter().find(|stop| stop.section == at));
            stop.map_or(name, |stop| format!("evening: {}", stop_words(checked, stop)))
        }
        _ => name,
    }
}

/// The side of its opening on which a jamb stands, seen from outside.
fn side(checked: &Checked, task: &Task) -> &'static str {
    let face = checked.model.face(task.face);
    let opening = face.and_then(|face| face.openings.iter().find(|opening| opening.name == place(task)));
    match opening {
        Some(opening) if task.segment.from.x > opening.at.x + opening.width / 2 => "right",
        _ => "left",
    }
}
