//! Fixes that move something.

use super::super::Mend;
use super::super::ask::{Ask, On, last, lengths, up};
use super::super::draft::Draft;
use super::parts::is;
use super::{length_of, written_like};
use crate::checks::Remedy;
use crate::syntax::{Item, ItemKind, Statement};
use crate::units::Length;

/// The entries of the first point of a statement.
fn point(statement: &Statement) -> Option<(&Item, &Item)> {
    statement.arguments.iter().find_map(|item| match &item.kind {
        ItemKind::Tuple(entries) => Some((&entries.first()?.value, &entries.get(1)?.value)),
        _ => None,
    })
}

/// Moves a hole away from what it is too near to: along the wall, or up from the ground.
pub fn move_away(ask: &Ask<'_>) -> Vec<Mend> {
    let made = || {
        let by = ask.short_by()?;
        let here = last(&ask.round(On::At)?)?;
        let (x, y) = point(here)?;
        let other = last(&super::super::draft::round(ask.glance, ask.finding.others.first()?.0)?)?;
        let (item, new, way) = match point(other).map(|(x, _)| length_of(x)) {
            None => (y, length_of(y)? + by, "up"),
            Some(beside) if beside? > length_of(x)? => (x, length_of(x)? - by, "to the left"),
            Some(_) => (x, length_of(x)? + by, "to the right"),
        };
        let title = format!("Move it {} {way}", ask.shown(by));
        ask.mend(title, Draft::new(ask.glance, item.span.file)?.cut(item.span, written_like(item, new)))
    };
    made().into_iter().collect()
}

/// Takes the clauses with these keywords out of a statement.
fn without<'g>(draft: Draft<'g>, statement: &Statement, words: &[&str]) -> Draft<'g> {
    let out = statement.clauses.iter().filter(|one| words.contains(&&*one.keyword.text));
    out.fold(draft, |draft, clause| draft.take_out(statement, clause))
}

/// Sets fixing holes out on the strips.
pub fn onto_strips(ask: &Ask<'_>) -> Vec<Mend> {
    holes(ask, "on furring", &["every", "first", "between"], "Set the holes out on the strips")
}

/// Sets weeps out in the middle of their bays, or shifts their row.
pub fn weeps_off_strips(ask: &Ask<'_>) -> Vec<Mend> {
    let title = "Let each hole find the middle of its bay";
    let mut found = holes(ask, "between furring", &["every", "first", "on"], title);
    found.extend(shift_row(ask));
    found
}

fn holes(ask: &Ask<'_>, clause: &str, out: &[&str], title: &str) -> Vec<Mend> {
    let made = || {
        let round = ask.round(On::At)?;
        let holes = last(&round)?;
        let draft = without(Draft::new(ask.glance, holes.span.file)?, holes, out);
        ask.mend(title, draft.put(&round, clause))
    };
    made().into_iter().collect()
}

/// Shifts a row of weeps by what the rule worked out.
fn shift_row(ask: &Ask<'_>) -> Option<Mend> {
    let Some(Remedy::ShiftRow(by)) = ask.finding.remedy else { return None };
    let holes = last(&ask.round(On::At)?)?;
    let first = holes.all("first").next()?.arguments.first()?;
    let new = length_of(first)? + by;
    let title = format!("Shift the row {} to the right", ask.shown(by));
    ask.mend(title, Draft::new(ask.glance, first.span.file)?.cut(first.span, written_like(first, new)))
}

/// Moves weeps down into the floor of their channel.
pub fn into_floor(ask: &Ask<'_>) -> Vec<Mend> {
    holes(ask, "leg floor", &["lip"], "Move the holes into the floor")
}

/// Gives strips the marks of the studs.
pub fn marks_of_studs(ask: &Ask<'_>) -> Vec<Mend> {
    let made = || {
        let strips = ask.round(On::Furring)?;
        let assembly = last(&up(strips.clone(), "assembly")?)?;
        let studs = assembly.all("frame").next()?;
        let mut draft = without(Draft::new(ask.glance, assembly.span.file)?, last(&strips)?, &["marks"]);
        for word in ["every", "first", "marks"] {
            for clause in studs.all(word) {
                draft = draft.put(&strips, ask.glance.project.files.slice(clause.span));
            }
        }
        ask.mend("Give the strips the marks of the studs", draft)
    };
    made().into_iter().collect()
}

/// Shifts a butt joint onto a strip.
pub fn shift_joint(ask: &Ask<'_>) -> Vec<Mend> {
    let made = || {
        let Some(Remedy::MoveJoint { from: old, to: new }) = ask.finding.remedy else { return None };
        let joints = last(&ask.round(On::At)?)?;
        let item = lengths(&joints.arguments).into_iter().find(|item| length_of(item) == Some(old))?;
        let title = format!("Shift that joint to {}", ask.shown(new));
        ask.mend(title, Draft::new(ask.glance, item.span.file)?.cut(item.span, written_like(item, new)))
    };
    made().into_iter().collect()
}

/// Sets slots lower, so that they do not lead round a fire stop.
pub fn lower_slots(ask: &Ask<'_>) -> Vec<Mend> {
    let made = || {
        let Some(Remedy::LowerSlots(by)) = ask.finding.remedy else { return None };
        let vent = last(&ask.round(On::At)?)?;
        let height = behind(vent, "at")?;
        let new = length_of(height)? - by;
        let title = format!("Set the slots {} lower", ask.shown(by));
        ask.mend(title, Draft::new(ask.glance, height.span.file)?.cut(height.span, written_like(height, new)))
    };
    made().into_iter().collect()
}

/// The argument behind a small word.
fn behind<'g>(statement: &'g Statement, word: &str) -> Option<&'g Item> {
    let at = statement.arguments.iter().position(|item| is(item, word))?;
    statement.arguments.get(at + 1)
}

/// Ends a section at the course line the rule names.
pub fn to_course_line(ask: &Ask<'_>) -> Vec<Mend> {
    let made = || {
        let Some(Remedy::EndSection { height, course: number }) = ask.finding.remedy else { return None };
        let round = ask.round(On::At)?;
        let section = last(&round)?;
        let top = behind(section, "up").filter(|item| is(item, "to")).and_then(|_| section.arguments.last())?;
        let mut draft = Draft::new(ask.glance, section.span.file)?;
        if length_of(top)? != height {
            draft = draft.cut(top.span, written_like(top, height));
        }
        if section.all("course").next().is_some() {
            draft = draft.put(&round, &format!("course {number}"));
        }
        ask.mend(format!("End it at {}, course line {number}", ask.shown(height)), draft)
    };
    made().into_iter().collect()
}

/// Lets an area begin where the other ends.
pub fn meet(ask: &Ask<'_>) -> Vec<Mend> {
    let made = || {
        let here = last(&ask.round(On::At)?)?;
        let other = last(&ask.round(On::Other("the other area"))?)?;
        let pair = [("above", "below"), ("below", "above"), ("from", "to"), ("to", "from")];
        let (mine, theirs) =
            pair.into_iter().find_map(|(mine, theirs)| Some((behind(here, mine)?, behind(other, theirs)?)))?;
        let text = ask.glance.project.files.slice(theirs.span);
        let names = [here, other].map(|one| one.arguments.first().and_then(Item::word).map(|word| word.text.clone()));
        let [Some(here_name), Some(other_name)] = names else { return None };
        let title = format!("Let `{here_name}` meet `{other_name}` at {text}");
        ask.mend(title, Draft::new(ask.glance, mine.span.file)?.cut(mine.span, text))
    };
    made().into_iter().collect()
}

/// Raises the base of a rectangle.
pub fn raise_base(ask: &Ask<'_>) -> Vec<Mend> {
    let made = || {
        let Some(Remedy::RaiseBase(by)) = ask.finding.remedy else { return None };
        let round = up(ask.round(On::At)?, "base")?;
        let [.., (outer, _), (base, _)] = round.as_slice() else { return None };
        let height = base.arguments.first().filter(|_| &*outer.keyword.text == "face")?;
        raised(ask, height, by, "Raise the base by")
    };
    made().into_iter().collect()
}

/// Holds a loose nailer up from the head below it.
pub fn raise_nailer(ask: &Ask<'_>) -> Vec<Mend> {
    let made = || {
        let (_, y) = point(last(&ask.round(On::At)?)?)?;
        raised(ask, y, ask.short_by()?, "Hold it up by another")
    };
    made().into_iter().collect()
}

fn raised(ask: &Ask<'_>, item: &Item, by: Length, title: &str) -> Option<Mend> {
    let new = length_of(item)? + by;
    let title = format!("{title} {}", ask.shown(by));
    ask.mend(title, Draft::new(ask.glance, item.span.file)?.cut(item.span, written_like(item, new)))
}
