//! Matches a statement's arguments with the form of its row, and its clauses with the rows of its context.

use super::expand::{Node, written};
use super::{Bound, Evaluator, Scope, SlotValue, Value, problems};
use crate::schema::{self, Element, Row, SlotKind};
use crate::source::Span;
use crate::syntax::{Item, ItemKind, Statement};
use crate::units::{self, Dimension, Number};

/// Words that name an argument inside a statement and are never names.
pub const SMALL_WORDS: &[&str] = &[
    "at", "to", "from", "on", "into", "with", "by", "until", "along", "between", "under", "over", "below", "above",
    "behind", "for", "because", "like", "every", "and", "x",
];

/// Clauses deeper than this are not read; the parser has reported them.
const DEEPEST: usize = 64;

impl<'p> Evaluator<'p> {
    /// Binds a whole declaration.
    pub(super) fn bind_declaration(
        &mut self,
        statement: &'p Statement,
        nodes: Vec<Node<'p>>,
        scope: &Scope,
    ) -> Option<Bound> {
        let row = schema::find("file", &statement.keyword.text)?;
        let node = Node { statement, scope: scope.clone(), children: nodes };
        Some(self.bind(row, node, row, 0))
    }

    fn bind(&mut self, row: &'static Row, node: Node<'p>, owner: &'static Row, depth: usize) -> Bound {
        let statement = node.statement;
        let mut matcher = Matcher {
            row,
            owner,
            items: &statement.arguments,
            at: 0,
            scope: &node.scope,
            values: Vec::new(),
            broken: statement.broken,
        };
        matcher.statement(self, statement);
        let (values, mut broken) = (matcher.values, matcher.broken);
        let clauses =
            if depth < DEEPEST { self.clauses(row, statement, node.children, depth, &mut broken) } else { Vec::new() };
        Bound {
            row,
            span: statement.head_span(),
            whole: statement.span,
            doc: statement.doc.clone(),
            values,
            clauses,
            broken,
        }
    }

    fn clauses(
        &mut self,
        row: &'static Row,
        owner: &Statement,
        nodes: Vec<Node<'p>>,
        depth: usize,
        broken: &mut bool,
    ) -> Vec<Bound> {
        let mut bound: Vec<Bound> = Vec::new();
        let merged = nodes.iter().any(|node| &*node.statement.keyword.text == "like");
        for node in siblings(row, nodes) {
            let keyword = &node.statement.keyword;
            let Some(found) = schema::find(row.body, &keyword.text) else {
                *broken = true;
                if node.statement.broken {
                    continue;
                }
                self.problem(if row.body.is_empty() {
                    problems::takes_no_clauses(owner.head_span(), row.word, keyword)
                } else {
                    problems::unknown_clause(keyword, row.word, schema::context(row.body).keys().copied().collect())
                });
                continue;
            };
            if !found.many
                && let Some(first) = bound.iter().find(|other| std::ptr::eq(other.row, found))
            {
                let first = first.span;
                self.problem(problems::clause_twice(node.statement.head_span(), first, found.word));
                continue;
            }
            if matches!(found.word, "without" | "after") && !merged {
                self.problem(problems::needs_like(node.statement.head_span(), found.word, row.word));
                continue;
            }
            bound.push(self.bind(found, node, row, depth + 1));
        }
        bound
    }
}

/// A statement that takes no clauses passes what stands after its commas to the block it stands in:
/// `courses 3, width 16in` is two clauses of a block.
fn siblings<'p>(row: &'static Row, nodes: Vec<Node<'p>>) -> Vec<Node<'p>> {
    let mut flat = Vec::with_capacity(nodes.len());
    for mut node in nodes {
        let takes_none =
            schema::find(row.body, &node.statement.keyword.text).is_some_and(|found| found.body.is_empty());
        let passed =
            if takes_none && node.statement.block.is_none() { std::mem::take(&mut node.children) } else { Vec::new() };
        flat.push(node);
        flat.extend(passed);
    }
    flat
}

struct Matcher<'p, 's> {
    row: &'static Row,
    /// The statement it is a clause of; a declaration is its own.
    owner: &'static Row,
    items: &'p [Item],
    at: usize,
    scope: &'s Scope,
    values: Vec<SlotValue>,
    broken: bool,
}

impl<'p> Matcher<'p, '_> {
    fn statement(&mut self, evaluator: &mut Evaluator<'p>, statement: &'p Statement) {
        let form = self.row.parsed();
        let matched = self.elements(evaluator, &form.elements, statement);
        if matched
            && let Some(item) = self.items.get(self.at)
            && !self.broken
        {
            let rest = self.items.last().map_or(item.span, |last| item.span.to(last.span));
            let text = evaluator.project.files.slice(rest).to_owned();
            evaluator.problem(problems::left_over(item, rest, self.row, &text));
            self.broken = true;
        }
    }

    /// Matches elements in order; runs of optional groups match in any order. False after a report.
    fn elements(
        &mut self,
        evaluator: &mut Evaluator<'p>,
        elements: &'static [Element],
        statement: &'p Statement,
    ) -> bool {
        let mut at = 0;
        while let Some(element) = elements.get(at) {
            if let Element::Optional(_) = element {
                let run = elements[at..].iter().take_while(|element| matches!(element, Element::Optional(_))).count();
                if !self.optionals(evaluator, &elements[at..at + run], statement) {
                    return false;
                }
                at += run;
            } else {
                if !self.required(evaluator, element, statement) {
                    return false;
                }
                at += 1;
            }
        }
        true
    }

    fn optionals(
        &mut self,
        evaluator: &mut Evaluator<'p>,
        groups: &'static [Element],
        statement: &'p Statement,
    ) -> bool {
        let mut used = vec![false; groups.len()];
        loop {
            let next = groups.iter().enumerate().position(|(at, group)| match group {
                Element::Optional(inner) => !used.get(at).copied().unwrap_or(true) && self.begins(inner),
                Element::Word(_) | Element::Slot(..) => false,
            });
            let Some(at) = next else { return true };
            if let Some(flag) = used.get_mut(at) {
                *flag = true;
            }
            if let Some(Element::Optional(inner)) = groups.get(at)
                && !self.elements(evaluator, inner, statement)
            {
                return false;
            }
        }
    }

    fn begins(&self, group: &[Element]) -> bool {
        let (Some(first), Some(item)) = (group.first(), self.items.get(self.at)) else { return false };
        match first {
            Element::Word(word) => is_word(item, word),
            Element::Slot(_, kind) => fits(kind, item, self.scope.parameter_at(item)),
            Element::Optional(inner) => self.begins(inner),
        }
    }

    fn required(&mut self, evaluator: &mut Evaluator<'p>, element: &'static Element, statement: &'p Statement) -> bool {
        let item = self.items.get(self.at);
        let problem = match (element, item) {
            (Element::Word(word), Some(item)) if is_word(item, word) => {
                self.at += 1;
                return true;
            }
            (Element::Slot(label, kind), Some(item)) if fits(kind, item, self.scope.parameter_at(item)) => {
                let start = item.span;
                let value = self.slot(evaluator, kind);
                self.broken |= value == Value::Broken;
                let end = self.items.get(self.at.saturating_sub(1)).map_or(start, |last| last.span);
                self.values.push(SlotValue { label, value, span: start.to(end) });
                return true;
            }
            (Element::Word(word), item) => {
                problems::missing_word(item.map_or(behind(statement), |item| item.span), self.row, word)
            }
            (Element::Slot(_, kind), Some(item)) => {
                let text = evaluator.project.files.slice(item.span).to_owned();
                problems::wrong_kind(item.span, &text, self.row, kind)
            }
            (Element::Slot(_, kind), None) => problems::missing(behind(statement), self.row, kind),
            (Element::Optional(_), _) => return true,
        };
        if !self.broken {
            evaluator.problem(problem);
        }
        self.broken = true;
        false
    }

    /// Takes the items of one slot. The first item fits.
    fn slot(&mut self, evaluator: &mut Evaluator<'p>, kind: &'static SlotKind) -> Value {
        let Some(item) = self.items.get(self.at) else { return Value::Broken };
        self.at += 1;
        if item.word().and_then(|word| self.scope.parameters.get(&word.text)) == Some(&Value::Broken) {
            return Value::Broken;
        }
        match kind {
            SlotKind::Reference(_) if self.row.word == "like" => {
                evaluator.reference(item, &[self.owner.word], self.scope).map_or(Value::Broken, Value::Instance)
            }
            SlotKind::Choices(words) => {
                let found = self
                    .list(item)
                    .into_iter()
                    .map(|item| evaluator.choice(item, words, self.row))
                    .collect::<Option<Vec<_>>>();
                found.map_or(Value::Broken, Value::Words)
            }
            SlotKind::References(kinds) => {
                let found = self
                    .list(item)
                    .into_iter()
                    .map(|item| evaluator.reference(item, kinds, self.scope))
                    .collect::<Option<Vec<_>>>();
                found.map_or(Value::Broken, Value::Instances)
            }
            SlotKind::Paths => Value::Paths(
                self.list(item)
                    .into_iter()
                    .filter_map(|item| if let ItemKind::Path(path) = &item.kind { Some(path.clone()) } else { None })
                    .collect(),
            ),
            SlotKind::Lengths => {
                let items = self.list(item);
                evaluator.lengths(items.into_iter(), self.scope)
            }
            _ => evaluator.single(item, kind, self.row, self.scope),
        }
    }

    /// `first and second and third`.
    fn list(&mut self, first: &'p Item) -> Vec<&'p Item> {
        let mut items = vec![first];
        while let (Some(and), Some(next)) = (self.items.get(self.at), self.items.get(self.at + 1)) {
            if !is_word(and, "and") {
                break;
            }
            items.push(next);
            self.at += 2;
        }
        items
    }
}

impl<'p> Evaluator<'p> {
    fn choice(&mut self, item: &Item, words: &[&'static str], row: &Row) -> Option<&'static str> {
        let text = item.word().map(|word| &*word.text).unwrap_or_default();
        let found = words.iter().copied().find(|word| *word == text || *word == schema::respell(text));
        if found.is_none() {
            let written = self.project.files.slice(item.span).to_owned();
            self.problem(problems::wrong_kind(item.span, &written, row, &SlotKind::Choice(words.to_vec())));
        }
        found
    }

    fn reference(&mut self, item: &'p Item, kinds: &[&'static str], scope: &Scope) -> Option<super::InstanceId> {
        let (path, entries) = match &item.kind {
            ItemKind::Path(path) => match self.parameter(path, scope) {
                Some(Value::Instance(id)) => return self.of_kind(id, item.span, &written(path), kinds),
                Some(Value::Broken) => return None,
                _ => (path, &[][..]),
            },
            ItemKind::Call(path, entries) => (path, &entries[..]),
            _ => return None,
        };
        let id = self.declaration(path, item.span, scope)?;
        let found = self.project.declaration(id)?.kind;
        if !kinds.contains(&found) {
            self.problem(problems::wrong_declaration(item.span, &written(path), found, kinds));
            return None;
        }
        self.instantiate(id, entries, item.span, scope)
    }

    fn of_kind(
        &mut self,
        id: super::InstanceId,
        at: Span,
        written: &str,
        kinds: &[&'static str],
    ) -> Option<super::InstanceId> {
        let found = self.done.instance(id)?.kind;
        if kinds.contains(&found) {
            return Some(id);
        }
        self.problem(problems::wrong_declaration(at, written, found, kinds));
        None
    }

    fn single(&mut self, item: &'p Item, kind: &'static SlotKind, row: &Row, scope: &Scope) -> Value {
        match (kind, &item.kind) {
            (SlotKind::New, ItemKind::Path(path) | ItemKind::Call(path, _)) => {
                path.first().map_or(Value::Broken, |word| Value::Name(word.text.clone()))
            }
            (SlotKind::Choice(words), _) => self.choice(item, words, row).map_or(Value::Broken, Value::Word),
            (SlotKind::Reference(kinds), _) => {
                self.reference(item, kinds, scope).map_or(Value::Broken, Value::Instance)
            }
            (SlotKind::Path, ItemKind::Path(path)) => Value::Path(path.clone()),
            (SlotKind::Names, ItemKind::Tuple(entries)) => {
                Value::Names(entries.iter().filter_map(|entry| entry.value.word().cloned()).collect())
            }
            (SlotKind::Text, ItemKind::Text(text)) => Value::Text(text.as_ref().into()),
            (SlotKind::Text, _) => self.value(item, scope),
            (SlotKind::Date, ItemKind::Date(year, month, day)) => self.date(*year, *month, *day, item.span),
            (SlotKind::Where, ItemKind::Path(path)) if self.parameter(path, scope).is_none() => {
                Value::Path(path.clone())
            }
            (SlotKind::PointOrStart, ItemKind::Path(path)) => Value::Path(path.clone()),
            (SlotKind::Point | SlotKind::PointOrStart, ItemKind::Tuple(entries)) => match entries.as_slice() {
                [x, y] => match (self.length(&x.value, scope), self.length(&y.value, scope)) {
                    (Some(x), Some(y)) => Value::Point(x, y),
                    _ => Value::Broken,
                },
                _ => self.wrong(item, row, kind),
            },
            (SlotKind::Points, ItemKind::Tuple(entries)) => self.points(item, entries, row, kind, scope),
            (SlotKind::LengthTuple, ItemKind::Tuple(entries)) => {
                self.lengths(entries.iter().map(|entry| &entry.value), scope)
            }
            (SlotKind::NumberTuple | SlotKind::QuantityTuple(_), ItemKind::Tuple(entries)) => {
                let wanted = if let SlotKind::QuantityTuple(name) = kind { dimension(name) } else { Dimension::NUMBER };
                let numbers = entries
                    .iter()
                    .map(|entry| self.in_dimension(&entry.value, wanted, scope))
                    .collect::<Option<Vec<_>>>();
                numbers.map_or(Value::Broken, Value::Numbers)
            }
            (SlotKind::Size, ItemKind::Size(parts)) => {
                let sizes = self.lengths(parts.iter(), scope);
                self.some_size(sizes, item, row)
            }
            (SlotKind::Size, _) => match self.length_or_sizes(item, scope) {
                Some(value) => self.some_size(value, item, row),
                None => Value::Broken,
            },
            (SlotKind::Range, ItemKind::Range(low, high)) => match self.range(low, high, item.span, scope) {
                Value::Range(low, high) => self.checked_range(item, low, high, Dimension::LENGTH),
                other => other,
            },
            (SlotKind::Quantity(name), ItemKind::Range(low, high)) => match self.range(low, high, item.span, scope) {
                Value::Range(low, high) => self.checked_range(item, low, high, dimension(name)),
                other => other,
            },
            (SlotKind::Range, ItemKind::Path(path))
                if matches!(self.parameter(path, scope), Some(Value::Range(..))) =>
            {
                self.parameter(path, scope).unwrap_or(Value::Broken)
            }
            (SlotKind::Length | SlotKind::Range | SlotKind::Where, _) => {
                self.length(item, scope).map_or(Value::Broken, |length| Value::Number(Number::Length(length)))
            }
            (SlotKind::Quantity(name), _) => {
                self.in_dimension(item, dimension(name), scope).map_or(Value::Broken, Value::Number)
            }
            (SlotKind::Number, _) => {
                self.in_dimension(item, Dimension::NUMBER, scope).map_or(Value::Broken, Value::Number)
            }
            (SlotKind::Integer, _) => match self.number(item, scope) {
                Some(number) if number.count().is_some() => Value::Number(number),
                Some(_) => self.wrong(item, row, kind),
                None => Value::Broken,
            },
            (SlotKind::Slope, _) => match self.number(item, scope) {
                Some(number) if number.slope().is_some() => Value::Number(number),
                Some(_) => self.wrong(item, row, kind),
                None => Value::Broken,
            },
            (SlotKind::Any, ItemKind::Path(path)) if self.parameter(path, scope).is_none() => Value::Path(path.clone()),
            (SlotKind::Any, _) => self.value(item, scope),
            _ => self.wrong(item, row, kind),
        }
    }

    fn length_or_sizes(&mut self, item: &'p Item, scope: &Scope) -> Option<Value> {
        if let ItemKind::Path(path) = &item.kind
            && let Some(Value::Lengths(lengths)) = self.parameter(path, scope)
        {
            return Some(Value::Lengths(lengths));
        }
        self.length(item, scope).map(|length| Value::Lengths(vec![length]))
    }

    /// A size of 0 or less is no size of anything.
    fn some_size(&mut self, value: Value, item: &Item, row: &Row) -> Value {
        if matches!(&value, Value::Lengths(lengths) if lengths.iter().any(|length| *length <= units::Length::ZERO)) {
            let written = self.project.files.slice(item.span).to_owned();
            self.problem(problems::no_size(item.span, &written, row));
            return Value::Broken;
        }
        value
    }

    fn wrong(&mut self, item: &Item, row: &Row, kind: &SlotKind) -> Value {
        let written = self.project.files.slice(item.span).to_owned();
        self.problem(problems::wrong_kind(item.span, &written, row, kind));
        Value::Broken
    }

    fn points(
        &mut self,
        item: &'p Item,
        entries: &'p [crate::syntax::Entry],
        row: &Row,
        kind: &SlotKind,
        scope: &Scope,
    ) -> Value {
        let mut points = Vec::new();
        for entry in entries {
            let ItemKind::Tuple(pair) = &entry.value.kind else { return self.wrong(item, row, kind) };
            let [x, y] = pair.as_slice() else { return self.wrong(item, row, kind) };
            match (self.length(&x.value, scope), self.length(&y.value, scope)) {
                (Some(x), Some(y)) => points.push((x, y)),
                _ => return Value::Broken,
            }
        }
        Value::Points(points)
    }

    fn in_dimension(&mut self, item: &'p Item, wanted: Dimension, scope: &Scope) -> Option<Number> {
        let number = self.number(item, scope)?;
        if number.in_dimension(wanted).is_some() {
            return Some(number);
        }
        let written = self.project.files.slice(item.span).to_owned();
        self.problem(units::mismatch(&written, number, wanted).at(item.span, item.span));
        None
    }

    fn checked_range(&mut self, item: &Item, low: Number, high: Number, wanted: Dimension) -> Value {
        if low.in_dimension(wanted).is_some() && high.in_dimension(wanted).is_some() {
            return Value::Range(low, high);
        }
        let written = self.project.files.slice(item.span).to_owned();
        self.problem(units::mismatch(&written, low, wanted).at(item.span, item.span));
        Value::Broken
    }
}

/// The dimension behind a name in the schema.
pub fn dimension(name: &str) -> Dimension {
    match name {
        "pressure" => Dimension::PRESSURE,
        "time" => Dimension::TIME,
        "temperature" => Dimension::TEMPERATURE,
        "speed" | "leakage" => Dimension::SPEED,
        "conductivity" => Dimension::CONDUCTIVITY,
        "transmittance" => Dimension::TRANSMITTANCE,
        "line_transmittance" => Dimension::CONDUCTIVITY,
        "resistance" => Dimension::RESISTANCE,
        "heat_flux" => Dimension::HEAT_FLUX,
        "density" => Dimension::DENSITY,
        "heat_capacity" => Dimension::HEAT_CAPACITY,
        "permeance" => Dimension::PERMEANCE,
        "expansion" => Dimension::EXPANSION,
        "voltage" => Dimension::VOLTAGE,
        "surface_mass" => Dimension::SURFACE_MASS,
        "line_mass" => Dimension::LINE_MASS,
        "mass" => Dimension::MASS,
        "force" => Dimension::FORCE,
        "angle" => Dimension::ANGLE,
        "area" => Dimension::AREA,
        "volume" => Dimension::VOLUME,
        "flow" => Dimension::FLOW,
        // mm²/m, which is a length once its units are taken together.
        "free_area" => Dimension::LENGTH,
        _ => Dimension::NUMBER,
    }
}

/// Whether an item has the look of a slot's kind; its value may still be refused. `parameter` is what the item stands for,
/// if it is a parameter; one that is broken fits anywhere.
pub fn fits(kind: &SlotKind, item: &Item, parameter: Option<&Value>) -> bool {
    if parameter == Some(&Value::Broken) {
        return true;
    }
    let numeric = match &item.kind {
        ItemKind::Quantity(_) | ItemKind::FeetInches(..) | ItemKind::Pitch(..) | ItemKind::Sum(..) => true,
        ItemKind::Tuple(entries) => entries.len() == 1,
        ItemKind::Path(_) => {
            matches!(parameter, Some(Value::Number(_) | Value::Range(..) | Value::Lengths(_)))
        }
        _ => false,
    };
    let range = matches!(item.kind, ItemKind::Range(..));
    let tuple = matches!(item.kind, ItemKind::Tuple(_));
    let named = matches!(&item.kind, ItemKind::Path(path) | ItemKind::Call(path, _) if path.len() > 1 || path.first().is_some_and(|word| !is_small(&word.text)));
    match kind {
        SlotKind::New => {
            named && matches!(&item.kind, ItemKind::Path(path) | ItemKind::Call(path, _) if path.len() == 1)
        }
        SlotKind::Choice(words) | SlotKind::Choices(words) => {
            item.word().is_some_and(|word| words.contains(&&*word.text) || words.contains(&schema::respell(&word.text)))
        }
        SlotKind::Reference(_) | SlotKind::References(_) => named && !numeric,
        SlotKind::Path | SlotKind::Paths => named && matches!(item.kind, ItemKind::Path(_)),
        SlotKind::Names
        | SlotKind::LengthTuple
        | SlotKind::Point
        | SlotKind::Points
        | SlotKind::NumberTuple
        | SlotKind::QuantityTuple(_) => tuple,
        SlotKind::Length | SlotKind::Lengths | SlotKind::Slope | SlotKind::Number | SlotKind::Integer => numeric,
        SlotKind::Range | SlotKind::Quantity(_) => numeric || range,
        SlotKind::Size => numeric || matches!(item.kind, ItemKind::Size(_)),
        SlotKind::Text => matches!(item.kind, ItemKind::Text(_)) || matches!(parameter, Some(Value::Text(_))),
        SlotKind::Date => matches!(item.kind, ItemKind::Date(..)),
        SlotKind::Where => {
            numeric
                || item.word().is_some_and(|word| {
                    matches!(&*word.text, "left" | "right" | "start" | "end" | "centre" | "center" | "top" | "bottom")
                })
        }
        SlotKind::PointOrStart => tuple || item.word().is_some_and(|word| &*word.text == "start"),
        SlotKind::Any => {
            named
                || numeric
                || range
                || tuple
                || matches!(item.kind, ItemKind::Text(_) | ItemKind::Date(..) | ItemKind::Size(_))
        }
    }
}

fn is_small(word: &str) -> bool {
    SMALL_WORDS.contains(&word)
}

fn is_word(item: &Item, wanted: &str) -> bool {
    item.word().is_some_and(|word| &*word.text == wanted || schema::respell(&word.text) == wanted)
}

/// The place just behind the last argument, where something is missing.
fn behind(statement: &Statement) -> Span {
    let last = statement.head_span();
    Span { start: last.end.saturating_sub(1).max(last.start), ..last }
}
