//! Values of single items: numbers, sums, references, calls.

use super::expand::written;
use super::{Date, Evaluator, InstanceId, Reference, Scope, Value, problems};
use crate::diagnose::Diagnostic;
use crate::resolve::{DeclarationId, Lookup, resolve_path};
use crate::schema;
use crate::source::Span;
use crate::syntax::{Entry, Item, ItemKind, Literal, Operator, Word};
use crate::units::{self, Number, UnitProblem};

impl<'p> Evaluator<'p> {
    /// The value of an item whose kind the item itself decides: an argument, a default, the value of a limit.
    pub(super) fn value(&mut self, item: &'p Item, scope: &Scope) -> Value {
        match &item.kind {
            ItemKind::Text(text) => Value::Text(text.as_ref().into()),
            ItemKind::Date(year, month, day) => self.date(*year, *month, *day, item.span),
            ItemKind::Path(path) => match self.parameter(path, scope) {
                Some(value) => value,
                None => self.named(path, &[], item.span, scope),
            },
            ItemKind::Call(path, entries) => self.named(path, entries, item.span, scope),
            ItemKind::Range(low, high) => self.range(low, high, item.span, scope),
            ItemKind::Size(parts) => self.lengths(parts.iter(), scope),
            ItemKind::Tuple(entries) if entries.len() != 1 => self.tuple(entries, scope),
            _ => match self.number(item, scope) {
                Some(number) => Value::Number(number),
                None => Value::Broken,
            },
        }
    }

    /// A parameter seen in this scope.
    pub(super) fn parameter(&self, path: &[Word], scope: &Scope) -> Option<Value> {
        let [word] = path else { return None };
        scope.parameters.get(&word.text).cloned()
    }

    /// A number: literal, sum, bracketed value, or a parameter that is one. `None` after a report.
    pub(super) fn number(&mut self, item: &'p Item, scope: &Scope) -> Option<Number> {
        let (result, unit_span) = match &item.kind {
            ItemKind::Quantity(literal) => (units::evaluate(literal), literal.unit_span),
            ItemKind::FeetInches(feet, inches) => (units::feet_inches(feet, inches), inches.unit_span),
            ItemKind::Pitch(rise, run) => (units::pitch(rise, run), item.span),
            ItemKind::Sum(first, rest) => return self.sum(first, rest, scope),
            ItemKind::Tuple(entries) => match entries.as_slice() {
                [Entry { name: None, value }] => return self.number(value, scope),
                _ => return self.no_number(item),
            },
            ItemKind::Path(path) => match self.parameter(path, scope) {
                Some(Value::Number(number)) => return Some(number),
                Some(Value::Broken) => return None,
                Some(_) => return self.no_number(item),
                None => return self.unknown_number(path, scope),
            },
            _ => return self.no_number(item),
        };
        result.map_err(|problem| self.problem(problem.at(item.span, unit_span))).ok()
    }

    fn no_number(&mut self, item: &Item) -> Option<Number> {
        let written = self.project.files.slice(item.span).to_owned();
        self.problem(
            Diagnostic::error("text.wrong_kind", item.span, format!("`{written}` is not a number, one is wanted here"))
                .help("write a number with its unit, such as `19mm`, or a parameter that is one"),
        );
        None
    }

    fn unknown_number(&mut self, path: &[Word], scope: &Scope) -> Option<Number> {
        let known: Vec<String> = scope.parameters.keys().map(|name| name.to_string()).collect();
        if let Some(word) = path.first() {
            self.problem(
                problems::unknown_name(word, &known).help("a number, or a parameter of this declaration, is wanted"),
            );
        }
        None
    }

    fn sum(&mut self, first: &'p Item, rest: &'p [(Operator, Item)], scope: &Scope) -> Option<Number> {
        let mut total = self.number(first, scope)?;
        for (operator, item) in rest {
            let next = self.number(item, scope)?;
            let report = |problem: UnitProblem| problem.at(first.span.to(item.span), item.span);
            total = total.apply(*operator, next).map_err(|problem| self.problem(report(problem))).ok()?;
        }
        Some(total)
    }

    pub(super) fn range(&mut self, low: &'p Item, high: &'p Item, span: Span, scope: &Scope) -> Value {
        let high_item = high;
        let unit = borrowed_unit(low, high);
        let low_number = match &unit {
            Some(literal) => match units::evaluate(literal) {
                Ok(number) => Some(number),
                Err(problem) => {
                    self.problem(problem.at(low.span, high.span));
                    None
                }
            },
            None => self.number(low, scope),
        };
        let (Some(low), Some(high)) = (low_number, self.number(high, scope)) else { return Value::Broken };
        if low.dimension() != high.dimension() {
            let written = self.project.files.slice(high_item.span).to_owned();
            self.problem(units::mismatch(&written, high, low.dimension()).at(high_item.span, high_item.span));
            return Value::Broken;
        }
        if low.si() > high.si() {
            self.problem(problems::range_backward(span));
            return Value::Broken;
        }
        Value::Range(low, high)
    }

    pub(super) fn lengths(&mut self, items: impl Iterator<Item = &'p Item>, scope: &Scope) -> Value {
        let mut lengths = Vec::new();
        for item in items {
            match self.length(item, scope) {
                Some(length) => lengths.push(length),
                None => return Value::Broken,
            }
        }
        Value::Lengths(lengths)
    }

    /// A length, with a report that names both dimensions if it is something else.
    pub(super) fn length(&mut self, item: &'p Item, scope: &Scope) -> Option<crate::units::Length> {
        let number = self.number(item, scope)?;
        if number.length().is_none() {
            let written = self.project.files.slice(item.span).to_owned();
            self.problem(units::mismatch(&written, number, units::Dimension::LENGTH).at(item.span, item.span));
        }
        number.length()
    }

    fn tuple(&mut self, entries: &'p [Entry], scope: &Scope) -> Value {
        let mut numbers = Vec::new();
        for entry in entries {
            match self.number(&entry.value, scope) {
                Some(number) => numbers.push(number),
                None => return Value::Broken,
            }
        }
        match numbers.as_slice() {
            [x, y] if x.length().is_some() && y.length().is_some() => {
                Value::Point(x.length().unwrap_or_default(), y.length().unwrap_or_default())
            }
            _ => Value::Numbers(numbers),
        }
    }

    pub(super) fn date(&mut self, year: i32, month: u8, day: u8, span: Span) -> Value {
        const DAYS: [u8; 12] = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
        let leap = month == 2 && (year % 4 == 0 && year % 100 != 0 || year % 400 == 0);
        let days = DAYS.get(usize::from(month).wrapping_sub(1)).map(|days| days + u8::from(leap));
        if days.is_none_or(|days| day == 0 || day > days) {
            let written = self.project.files.slice(span).to_owned();
            self.problem(problems::bad_date(span, &written));
            return Value::Broken;
        }
        Value::Date(Date { year, month, day })
    }

    /// A declared thing of any kind, by its path.
    fn named(&mut self, path: &'p [Word], entries: &'p [Entry], span: Span, scope: &Scope) -> Value {
        match self.declaration(path, span, scope) {
            Some(id) => self.instantiate(id, entries, span, scope).map_or(Value::Broken, Value::Instance),
            None => Value::Broken,
        }
    }

    /// Looks a path up and notes the use; reports what is unknown.
    pub(super) fn declaration(&mut self, path: &[Word], span: Span, scope: &Scope) -> Option<DeclarationId> {
        match resolve_path(self.project, scope.module, path) {
            Lookup::Found(id) => {
                self.notes.references.push(Reference { span, declaration: id });
                Some(id)
            }
            Lookup::Module(_) => {
                self.problem(problems::a_file(span, &written(path)));
                None
            }
            // A part of the library that does not exist was reported when the files were read.
            Lookup::Unknown(1, _) if path.len() > 1 && path.first().is_some_and(|first| &*first.text == "std") => None,
            Lookup::Unknown(at, mut known) => {
                if let Some(id) = self.respelt(path, scope) {
                    self.notes.references.push(Reference { span, declaration: id });
                    return Some(id);
                }
                known.extend(scope.parameters.keys().map(|name| name.to_string()));
                if let Some(word) = path.get(at).or(path.last()) {
                    self.problem(problems::unknown_name(word, &known));
                }
                None
            }
        }
    }

    /// `aluminum` where only `aluminium` is declared: the spelling of another region.
    fn respelt(&self, path: &[Word], scope: &Scope) -> Option<DeclarationId> {
        let own: Vec<Word> =
            path.iter().map(|word| Word { text: schema::respell(&word.text).into(), span: word.span }).collect();
        match resolve_path(self.project, scope.module, &own) {
            Lookup::Found(id) => Some(id),
            Lookup::Module(_) | Lookup::Unknown(..) => None,
        }
    }

    pub(super) fn instantiate(
        &mut self,
        id: DeclarationId,
        entries: &'p [Entry],
        span: Span,
        scope: &Scope,
    ) -> Option<InstanceId> {
        let arguments = self.arguments(id, entries, scope);
        self.instance(id, arguments, span)
    }
}

/// `19..22mm`: the first number takes the unit of the second.
fn borrowed_unit(low: &Item, high: &Item) -> Option<Literal> {
    match (&low.kind, &high.kind) {
        (ItemKind::Quantity(low), ItemKind::Quantity(high))
            if low.unit.is_empty() && !high.unit.is_empty() && low.numerator != 0 =>
        {
            Some(Literal { unit: high.unit.clone(), ..low.clone() })
        }
        _ => None,
    }
}
