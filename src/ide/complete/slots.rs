//! What may stand in the next slot of a clause, in brackets, and in a call.

use super::{CompletionKind, Desk};
use crate::ide::form_at::Wanted;
use crate::resolve::{Lookup, resolve_path};
use crate::schema::{Element, Row, SlotKind};
use crate::syntax::{Entry, ItemKind, Statement, Word};
use crate::units;

/// A slot with its label.
type Slot = (&'static str, &'static SlotKind);

impl<'g> Desk<'g> {
    /// Offers small words at once; gives the slots that may stand next.
    pub(super) fn next_slots(&mut self, wanted: &Wanted) -> Vec<Slot> {
        let (replace, bare) = (self.whole_word(), self.pen.brackets.is_empty());
        let mut slots = Vec::new();
        for element in &wanted.next {
            match element {
                Element::Word(word) if bare => {
                    let order = if wanted.whole { 6 } else { 0 };
                    self.offer(*word, CompletionKind::Word, replace).order(order);
                }
                Element::Slot(label, kind) => slots.push((*label, kind)),
                Element::Word(_) | Element::Optional(_) => {}
            }
        }
        slots
    }

    /// What may stand in some slots of a row.
    pub(super) fn slots(&mut self, row: &'static Row, slots: &[Slot]) {
        for (label, kind) in slots {
            self.slot(row, label, kind);
        }
        if !slots.is_empty() && !matches!(slots, [(_, SlotKind::New)]) {
            self.parameters_of_fit(slots);
        }
    }

    fn slot(&mut self, row: &'static Row, label: &'static str, kind: &'static SlotKind) {
        let replace = self.whole_word();
        match kind {
            SlotKind::Choice(words) | SlotKind::Choices(words) => {
                for (at, word) in words.iter().enumerate() {
                    let order = if words.len() <= 8 { u8::from(at > 0) } else { 1 };
                    self.offer(*word, CompletionKind::Word, replace).detail(label.replace('_', " ")).order(order);
                }
            }
            SlotKind::Reference(kinds) | SlotKind::References(kinds) => {
                let own =
                    if row.word == "like" { self.declaration().map(|one| one.keyword.text.to_string()) } else { None };
                match own.and_then(|own| kinds.iter().copied().find(|kind| *kind == own)) {
                    Some(kind) => self.names(row, &[kind]),
                    None => self.names(row, kinds),
                }
            }
            SlotKind::Path | SlotKind::Paths => self.places(row, label),
            SlotKind::Where => {
                for word in ["left", "right", "centre"] {
                    self.offer(word, CompletionKind::Word, replace).detail("end of the edge or face").order(1);
                }
            }
            SlotKind::PointOrStart => {
                self.offer("start", CompletionKind::Word, replace).detail("closes the walk round the wall").order(1);
                self.hole(label, kind);
            }
            SlotKind::Date => {
                if let Some(today) = self.glance.today {
                    self.offer(today.to_string(), CompletionKind::Value, replace).detail("today").order(1);
                }
            }
            SlotKind::Point
            | SlotKind::Points
            | SlotKind::Size
            | SlotKind::Text
            | SlotKind::LengthTuple
            | SlotKind::Names => {
                self.hole(label, kind);
            }
            SlotKind::Any if row.word == "option" => self.places(row, label),
            _ => {}
        }
    }

    /// The shape of a slot to fill in.
    fn hole(&mut self, label: &str, kind: &SlotKind) {
        let text = super::statements::hole(label, kind, &mut 0);
        let shown = match kind {
            SlotKind::Size => "A x B",
            SlotKind::Text => "\"…\"",
            SlotKind::Names => "(names)",
            SlotKind::LengthTuple => "(lengths)",
            SlotKind::Points => "((x, y), …)",
            _ => "(x, y)",
        };
        let replace = self.whole_word();
        self.offer(shown, CompletionKind::Value, replace).detail(label.replace('_', " ")).snippet(text).order(3);
    }

    /// Parameters of the declaration round the place whose defaults could stand in one of the slots.
    fn parameters_of_fit(&mut self, slots: &[Slot]) {
        let replace = self.whole_word();
        for entry in self.parameters() {
            let Some(word) = entry.name.as_ref().or_else(|| entry.value.word()) else { continue };
            let fits =
                entry.name.is_none() || slots.iter().any(|(_, kind)| crate::eval::fits(kind, &entry.value, None));
            if fits {
                let default = entry.name.as_ref().map(|_| self.glance.project.files.slice(entry.value.span).to_owned());
                let shown = default.map_or_else(String::new, |default| format!("parameter, {default} unless given"));
                self.offer(&*word.text, CompletionKind::Parameter, replace).detail(shown).order(0);
            }
        }
    }

    /// Inside brackets that are no call: names of a `use`, sections of an order, parameters of a new declaration.
    pub(super) fn in_brackets(&mut self, row: &'static Row, slots: &[Slot]) {
        if slots.iter().any(|(_, kind)| matches!(kind, SlotKind::Names)) {
            self.bracketed_names(row);
        }
    }

    /// Inside `name( … )`: the parameters that are not given yet, or values for the one in hand.
    pub(super) fn in_call(&mut self, name: &str, within: &str, number: bool) {
        let Some(parameters) = self.call_parameters(name) else { return };
        let current = within.rsplit(',').next().unwrap_or_default();
        let glance = self.glance;
        let files = &glance.project.files;
        if let Some((parameter, _)) = current.split_once('=') {
            let parameter = parameter.trim();
            let default =
                parameters.iter().find(|entry| entry.name.as_ref().is_some_and(|word| &*word.text == parameter));
            return self.value_like(default, number);
        }
        let given: Vec<&str> = within.split(',').filter_map(|entry| Some(entry.split_once('=')?.0.trim())).collect();
        let replace = self.whole_word();
        for (at, entry) in parameters.iter().enumerate() {
            let Some(word) = entry.name.as_ref().or_else(|| entry.value.word()) else { continue };
            if given.contains(&&*word.text) {
                continue;
            }
            let detail = match entry.name {
                Some(_) => format!("{} unless given", files.slice(entry.value.span)),
                None => "must be given".to_owned(),
            };
            let text = format!("{} = ${{1:{}}}", word.text, hole_text(files.slice(entry.value.span)));
            let order = if entry.name.is_none() { 0 } else { 1 + u8::from(at > 0) };
            self.offer(&*word.text, CompletionKind::Parameter, replace).detail(detail).snippet(text).order(order);
        }
    }

    /// Parameters of what a call names.
    pub fn call_parameters(&self, name: &str) -> Option<&'g [Entry]> {
        Some(crate::eval::parameters(Some(self.named(name)?))).filter(|all| !all.is_empty())
    }

    /// The `///` lines of what a dotted name stands for.
    pub fn declared_doc(&self, name: &str) -> Option<String> {
        self.named(name)?.doc.as_deref().map(str::to_owned)
    }

    fn named(&self, name: &str) -> Option<&'g Statement> {
        let (id, _) = self.module?;
        match resolve_path(&self.glance.project, id, &words(name)) {
            Lookup::Found(declaration) => self.glance.project.statement(declaration),
            _ => None,
        }
    }

    /// A value of the kind of a default.
    fn value_like(&mut self, default: Option<&Entry>, number: bool) {
        let Some(default) = default else { return };
        match &default.value.kind {
            ItemKind::Quantity(literal) if number => {
                let dimension = units::evaluate(literal).map(crate::units::Number::dimension);
                self.units(&dimension.into_iter().collect::<Vec<_>>(), false);
            }
            ItemKind::FeetInches(..) if number => self.units(&[units::Dimension::LENGTH], false),
            ItemKind::Path(path) | ItemKind::Call(path, _) if !number => {
                let declared = self.module.and_then(|(id, _)| match resolve_path(&self.glance.project, id, path) {
                    Lookup::Found(id) => self.glance.project.declaration(id),
                    _ => None,
                });
                match declared {
                    Some(declared) => self.names_of(&[declared.kind], &[]),
                    // Defaults of the library are named as the library sees them.
                    None => self.names_of(&["product", "material"], &[]),
                }
            }
            _ => {}
        }
    }
}

/// A dotted name as words, for a look-up.
pub(super) fn words(name: &str) -> Vec<Word> {
    name.split('.').map(|word| Word { text: word.into(), span: crate::source::Span::default() }).collect()
}

/// A text inside a place to fill in.
fn hole_text(text: &str) -> String {
    text.replace('\\', "\\\\").replace('$', "\\$").replace('}', "\\}")
}
