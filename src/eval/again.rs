//! Evaluation of a project that was evaluated before: a declaration is bound anew if its text changed, or that of one it takes
//! clauses or parameters from; what else it names, it knows only by number.
//!
//! This holds while the *frame* stands: the files, their declarations, and what every name in them stands for. Then numbers of
//! files and declarations mean what they meant. When a name comes, goes or is brought in, everything is bound anew.

use std::cell::Cell;
use std::collections::BTreeMap;
use std::sync::Arc;

use super::frame::{Frame, Place, places};
use super::value::{self, Bound, Value};
use super::{Arguments, Evaluator, InstanceId, Reference};
use crate::diagnose::Diagnostic;
use crate::resolve::{DeclarationId, Project};
use crate::source::Span;

/// What was evaluated last.
#[derive(Debug, Default)]
pub struct Before {
    frame: Frame,
    places: Vec<Place>,
    records: Vec<Arc<Record>>,
}

/// One instance, with all that was said and asked while it was made.
#[derive(Debug)]
pub(super) struct Record {
    pub declaration: DeclarationId,
    pub arguments: Arguments,
    pub bound: Arc<Bound>,
    pub notes: Notes,
}

/// What is noted while a declaration is bound.
#[derive(Clone, Debug, Default)]
pub(super) struct Notes {
    pub problems: Vec<Diagnostic>,
    pub references: Vec<Reference>,
    /// Instances that were asked for, in order, and from where.
    asked: Vec<(InstanceId, Span)>,
    /// Declarations whose texts it rests on.
    read: Vec<DeclarationId>,
    /// It rests on more than that, and is made anew each time.
    passing: bool,
}

impl Notes {
    /// It rests on the text of a declaration.
    pub fn reads(&mut self, id: DeclarationId) {
        if !self.read.contains(&id) {
            self.read.push(id);
        }
    }

    /// An instance was asked for. That there was none may be owed to what else was being made.
    pub fn asks(&mut self, answer: Option<InstanceId>, from: Span) {
        match answer {
            Some(id) if self.asked.iter().all(|(asked, _)| *asked != id) => self.asked.push((id, from)),
            Some(_) => {}
            None => self.passing = true,
        }
    }

    /// Whether all that was said is about the texts it rests on, so that it can be said again when they move.
    fn is_at_home(&self, places: &[Place]) -> bool {
        let away = Cell::new(false);
        let home = |span: Span| {
            away.set(away.get() || !self.read.iter().filter_map(|id| place(places, *id)).any(|one| one.holds(span)));
            span
        };
        self.problems.clone().iter_mut().for_each(|problem| problem.move_spans(&home));
        self.asked.iter().for_each(|(_, from)| {
            home(*from);
        });
        !away.get()
    }
}

/// What an evaluation may take from the one before it, and what it leaves to the next.
#[derive(Debug, Default)]
pub(super) struct Kept {
    was: Vec<Place>,
    records: Vec<Arc<Record>>,
    /// Records by declaration and arguments, but for arguments that are declarations themselves.
    by_key: BTreeMap<(DeclarationId, String), usize>,
    /// The numbers that instances of before have now.
    now: Vec<Option<InstanceId>>,
    next: Before,
}

impl Kept {
    /// Compares a project with the one that was evaluated before.
    pub fn of(project: &Project, before: &mut Before) -> Self {
        let Before { frame, places: was, records } = std::mem::take(before);
        let (frame, was, records) =
            if frame.stands(project) { (frame, was, records) } else { (Frame::of(project), Vec::new(), Vec::new()) };
        let next = Before { places: places(project, &frame, &was), frame: frame.read_as(project), records: Vec::new() };
        let plain = records.iter().enumerate().filter(|(_, one)| !one.arguments.values().any(Value::is_instance));
        let by_key = plain.map(|(at, one)| ((one.declaration, value::key(&one.arguments)), at)).collect();
        Self { now: vec![None; records.len()], was, records, by_key, next }
    }

    /// What is kept for the next time.
    pub fn leave(self, records: Vec<Arc<Record>>, before: &mut Before) {
        *before = Before { records, ..self.next };
    }

    /// The instance of before with this key, by its number then.
    pub fn known(&self, key: &(DeclarationId, String)) -> Option<usize> {
        self.by_key.get(key).copied()
    }

    /// An instance of before has this number now.
    pub fn is_now(&mut self, old: usize, new: InstanceId) {
        if let Some(now) = self.now.get_mut(old) {
            *now = Some(new);
        }
    }

    /// The parameters of a declaration were judged before, and its text is what it was.
    pub fn was_sound(&mut self, at: usize) -> bool {
        let (was, is) = (self.was.get(at), self.next.places.get_mut(at));
        was.zip(is).is_some_and(|(was, is)| {
            is.sound = was.sound && was.text == is.text;
            is.sound
        })
    }

    /// The parameters of a declaration make sense.
    pub fn is_sound(&mut self, at: usize) {
        if let Some(place) = self.next.places.get_mut(at) {
            place.sound = true;
        }
    }

    fn number_of(&self, old: InstanceId) -> Option<InstanceId> {
        self.now.get(old.0 as usize).copied().flatten()
    }

    /// Where a place in the texts of a record is now; nothing if they changed or it is in none of them.
    fn moved(&self, read: &[DeclarationId], span: Span) -> Option<Span> {
        read.iter().find_map(|id| place(&self.was, *id)?.moved(place(&self.next.places, *id)?, span))
    }

    /// Whether the texts a record rests on are what they were.
    fn holds(&self, record: &Record) -> bool {
        let same = |id: &DeclarationId| {
            place(&self.was, *id).zip(place(&self.next.places, *id)).is_some_and(|(was, is)| was.text == is.text)
        };
        !record.notes.passing && record.notes.read.iter().all(same)
    }

    /// Whether all in a record is at its old place, under its old number.
    fn is_still(&self, record: &Record) -> bool {
        let still = |id: &DeclarationId| {
            place(&self.was, *id).map(|one| one.span) == place(&self.next.places, *id).map(|one| one.span)
        };
        let same = |id: &InstanceId| self.number_of(*id) == Some(*id);
        let given = record
            .arguments
            .values()
            .all(|value| !value.is_instance() || self.renumbered(value).as_ref() == Some(value));
        given && record.notes.read.iter().all(still) && record.notes.asked.iter().all(|(id, _)| same(id))
    }

    /// The same value with the numbers that instances have now.
    fn renumbered(&self, value: &Value) -> Option<Value> {
        Some(match value {
            Value::Instance(id) => Value::Instance(self.number_of(*id)?),
            Value::Instances(ids) => Value::Instances(ids.iter().map(|id| self.number_of(*id)).collect::<Option<_>>()?),
            other => other.clone(),
        })
    }

    /// Arguments of before, as they are given now.
    pub fn arguments(&self, old: usize) -> Option<(DeclarationId, Arguments)> {
        let record = self.records.get(old)?;
        let values = record.arguments.iter().map(|(name, value)| Some((name.clone(), self.renumbered(value)?)));
        let given = if record.arguments.is_empty() {
            record.arguments.clone()
        } else {
            Arc::new(values.collect::<Option<_>>()?)
        };
        Some((record.declaration, given))
    }

    /// A record with places and numbers as they are now.
    fn again(&self, record: &Arc<Record>, arguments: &Arguments) -> Option<Arc<Record>> {
        if self.is_still(record) {
            return Some(record.clone());
        }
        let lost = Cell::new(false);
        let to = |span: Span| {
            self.moved(&record.notes.read, span).unwrap_or_else(|| {
                lost.set(true);
                span
            })
        };
        let mut notes = record.notes.clone();
        notes.problems.iter_mut().for_each(|problem| problem.move_spans(&to));
        notes.references.iter_mut().for_each(|reference| reference.span = to(reference.span));
        for (id, from) in &mut notes.asked {
            (*id, *from) = (self.number_of(*id)?, to(*from));
        }
        let mut bound = Bound::clone(&record.bound);
        self.renew(&mut bound, &to)?;
        let made =
            Record { declaration: record.declaration, arguments: arguments.clone(), bound: Arc::new(bound), notes };
        (!lost.get()).then(|| Arc::new(made))
    }

    fn renew(&self, bound: &mut Bound, to: &dyn Fn(Span) -> Span) -> Option<()> {
        (bound.span, bound.whole) = (to(bound.span), to(bound.whole));
        for slot in &mut bound.values {
            slot.span = to(slot.span);
            match &mut slot.value {
                Value::Instance(id) => *id = self.number_of(*id)?,
                Value::Instances(ids) => {
                    for id in ids {
                        *id = self.number_of(*id)?;
                    }
                }
                Value::Names(words) | Value::Path(words) => words.iter_mut().for_each(|word| word.span = to(word.span)),
                Value::Paths(paths) => paths.iter_mut().flatten().for_each(|word| word.span = to(word.span)),
                _ => {}
            }
        }
        bound.clauses.iter_mut().try_for_each(|clause| self.renew(clause, to))
    }
}

impl Evaluator<'_> {
    /// An instance of before, if it may be kept. What it asked for is asked for again, in the same order.
    pub(super) fn again(&mut self, old: usize, arguments: &Arguments) -> Option<Arc<Record>> {
        let record = self.kept.records.get(old)?.clone();
        if !self.kept.holds(&record) {
            return None;
        }
        for (asked, from) in &record.notes.asked {
            let from = self.kept.moved(&record.notes.read, *from)?;
            let (id, given) = self.kept.arguments(asked.0 as usize)?;
            self.instance_like(id, given, from, Some(asked.0 as usize))?;
        }
        self.kept.again(&record, arguments)
    }

    /// What was just made, with what was noted meanwhile.
    pub(super) fn record(
        &self,
        declaration: DeclarationId,
        arguments: &Arguments,
        bound: Bound,
        mut notes: Notes,
    ) -> Arc<Record> {
        notes.passing |= !notes.is_at_home(&self.kept.next.places);
        Arc::new(Record { declaration, arguments: arguments.clone(), bound: Arc::new(bound), notes })
    }
}

fn place(places: &[Place], id: DeclarationId) -> Option<&Place> {
    places.get(id.0 as usize)
}
