//! What a fix may ask: the finding, the statements it is about, the number that is wanted.

use super::draft::{Draft, Round, round, same};
use super::{BLANK, Mend};
use crate::checks::{Finding, rule};
use crate::diagnose::{Fix, Severity};
use crate::schema::{self, Element, SlotKind};
use crate::session::Glance;
use crate::source::Span;
use crate::syntax::{Item, ItemKind, Statement};
use crate::units::{Length, display};

/// A fact with more words to choose from is left to be said.
const MOST_WORDS: usize = 7;

/// A finding in its project.
pub(super) struct Ask<'g> {
    /// The project.
    pub glance: &'g Glance,
    /// What was found.
    pub finding: &'g Finding,
}

/// The statement that is changed.
#[derive(Clone, Copy, Debug)]
pub(super) enum On {
    /// The one the finding stands at.
    At,
    /// The nearest one round it with this keyword.
    Up(&'static str),
    /// The one a further place of the finding shows, by a piece of the words there.
    Other(&'static str),
    /// The detail that is named there; its head, jamb or sill where the finding is about that.
    Detail,
    /// The clause of that detail with this keyword.
    InDetail(&'static str),
    /// The gap of the assembly that the finding's area is built of.
    Gap,
    /// Its strips.
    Furring,
}

impl<'g> Ask<'g> {
    /// The statements round the one that is changed.
    pub fn round(&self, on: On) -> Option<Round<'g>> {
        let at = || round(self.glance, self.finding.at);
        match on {
            On::At => at(),
            On::Up(word) => up(at()?, word),
            On::Other(words) => {
                let (span, _) = self.finding.others.iter().find(|(_, text)| text.contains(words))?;
                round(self.glance, *span)
            }
            On::Detail => self.detail(),
            On::InDetail(word) => down(self.detail()?, word),
            On::Gap => self.gap(),
            On::Furring => down(self.gap()?, "furring"),
        }
    }

    /// The declaration of one kind that is named in a stretch of text.
    pub fn declared(&self, within: Span, kind: &str) -> Option<Round<'g>> {
        let project = &self.glance.project;
        let mut named =
            self.glance.evaluated.references.iter().filter(|one| {
                one.span.file == within.file && within.start <= one.span.start && one.span.end <= within.end
            });
        let id = named.find(|one| project.declaration(one.declaration).is_some_and(|one| one.kind == kind))?;
        let statement = project.statement(id.declaration)?;
        Some(vec![(statement, schema::find("file", &statement.keyword.text))])
    }

    fn detail(&self) -> Option<Round<'g>> {
        let (statement, _) = *round(self.glance, self.finding.at)?.last()?;
        let detail = self.declared(statement.span, "detail")?;
        let named = self.finding.message.split('`').skip(1).step_by(2);
        let mut places =
            [self.finding.subject.as_str()].into_iter().chain(named).filter_map(|name| name.rsplit('.').next());
        Some(places.find_map(|place| down(detail.clone(), place)).unwrap_or(detail))
    }

    /// The area the finding is about.
    pub fn area(&self) -> Option<Round<'g>> {
        let mut names = self.finding.subject.split('.');
        let (face, area) = (names.next()?, names.next()?);
        let of_face = self.named("face", face)?;
        let (statement, row) = *of_face.last()?;
        let row = schema::find(row?.body, "area");
        let area = statement
            .all("area")
            .find(|one| one.arguments.first().and_then(Item::word).is_some_and(|word| &*word.text == area))?;
        Some(vec![of_face.first().copied()?, (area, row)])
    }

    /// The assembly that area is built of.
    pub fn assembly(&self) -> Option<Round<'g>> {
        let (area, _) = *self.area()?.last()?;
        self.declared(area.span, "assembly")
    }

    fn gap(&self) -> Option<Round<'g>> {
        let near = [On::At, On::Up("gap"), On::Other("gap")];
        let is_gap = |round: &Round<'_>| round.last().is_some_and(|(one, _)| &*one.keyword.text == "gap");
        let shown = near.into_iter().filter_map(|on| self.round(on)).find(is_gap);
        shown.or_else(|| down(self.assembly()?, "gap"))
    }

    /// A declaration of the project's own by kind and name.
    pub fn named(&self, kind: &str, name: &str) -> Option<Round<'g>> {
        let project = &self.glance.project;
        let own = |module| project.module(module).is_some_and(|module| !module.is_std);
        let found =
            project.declarations.iter().find(|one| one.kind == kind && &*one.name == name && own(one.module))?;
        let statement = project.module(found.module)?.tree.statements.get(found.statement)?;
        Some(vec![(statement, schema::find("file", &statement.keyword.text))])
    }

    /// A fix that sets a clause.
    pub fn say(&self, on: On, clause: &str, title: &str) -> Option<Mend> {
        let round = self.round(on)?;
        let clause = self.filled(clause, &round, false)?;
        let title = self.filled(title, &round, true)?;
        self.mend(title, Draft::new(self.glance, last(&round)?.span.file)?.put(&round, &clause))
    }

    /// A fix out of a draft.
    pub fn mend(&self, title: impl Into<String>, draft: Draft<'_>) -> Option<Mend> {
        let edits = draft.edits()?;
        let blanks = edits.iter().any(|(_, text)| text.contains(BLANK));
        Some(Mend { rule: self.finding.rule, fix: Fix { title: title.into(), edits }, blanks })
    }

    /// Fixes that say a fact by its clause: one for each word it may have, or one with blanks where only the site knows.
    pub fn facts(&self, round: &Round<'g>, word: &str) -> Vec<Mend> {
        let Some(row) = round.last().and_then(|(_, row)| schema::find((*row)?.body, word)) else { return Vec::new() };
        let needed = row.parsed().elements.iter().filter(|element| !matches!(element, Element::Optional(_)));
        let needed: Vec<&Element> = needed.collect();
        let slots = needed.iter().filter(|element| matches!(element, Element::Slot(..))).count();
        let mut texts = vec![word.to_owned()];
        for element in needed {
            let ways: Vec<String> = match element {
                Element::Optional(_) => continue,
                Element::Word(word) => vec![(*word).to_owned()],
                Element::Slot(_, SlotKind::New | SlotKind::Point) => return Vec::new(),
                Element::Slot(_, SlotKind::Choice(words)) if slots == 1 && words.len() <= MOST_WORDS => {
                    words.iter().map(|word| (*word).to_owned()).collect()
                }
                Element::Slot(_, SlotKind::Text) => vec![format!("\"{BLANK}\"")],
                Element::Slot(_, SlotKind::LengthTuple | SlotKind::Points) => vec![format!("({BLANK})")],
                Element::Slot(..) => vec![BLANK.to_owned()],
            };
            texts = texts.iter().flat_map(|text| ways.iter().map(move |way| format!("{text} {way}"))).collect();
        }
        let help = row.help.split([',', ';', ':']).next().unwrap_or_default();
        texts.iter().filter_map(|text| self.said(round, text, help)).collect()
    }

    /// A fix that says a clause as it stands, blanks and all.
    pub fn said(&self, round: &Round<'g>, clause: &str, help: &str) -> Option<Mend> {
        let shown = clause.replace(&format!("\"{BLANK}\""), "…").replace(BLANK, "…");
        let draft = Draft::new(self.glance, last(round)?.span.file)?.put(round, clause);
        self.mend(format!("Say `{shown}`: {help}"), draft)
    }

    /// A text with its places filled: `{limit}` what is wanted, `{limit:NAME}` a number of the rule sets, `{std:NAME}` a name
    /// of the library as this file says it.
    fn filled(&self, text: &str, round: &Round<'_>, shown: bool) -> Option<String> {
        let mut done = String::new();
        let mut rest = text;
        while let Some((before, after)) = rest.split_once('{') {
            let (place, after) = after.split_once('}')?;
            done.push_str(before);
            match place.split_once(':') {
                Some(("std", name)) => done.push_str(&self.library_name(last(round)?.span, name)),
                Some(("limit", name)) => done.push_str(&self.number_of(name, shown)?),
                _ => done.push_str(&self.wanted(shown)?),
            }
            rest = after;
        }
        Some(done + rest)
    }

    /// What is wanted, as it is written or as it is shown: the finding's own number, else the first limit of its rule.
    pub fn wanted(&self, shown: bool) -> Option<String> {
        let units = self.glance.model.project.units;
        let Some(limit) = &self.finding.limit else {
            return self.number_of(rule(self.finding.rule)?.meta().limits.first()?, shown);
        };
        if shown {
            return Some(limit.shown.clone());
        }
        if let Some(number) = limit.shown.strip_suffix('°') {
            return Some(format!("{number}deg"));
        }
        if limit.shown.ends_with('%') {
            return Some(limit.shown.clone());
        }
        if !limit.shown.contains("mm") {
            return None;
        }
        let wanted = limit.value?;
        let least = self.finding.measured.as_ref().and_then(|one| one.value).is_none_or(|found| found < wanted);
        let length = Length::snap_m(wanted);
        let rounded = if least { display::gap_up(length, units) } else { display::cut_down(length, units) };
        Some(display::source(rounded, units))
    }

    /// A number of the rule sets in force.
    pub fn number_of(&self, name: &str, shown: bool) -> Option<String> {
        let model = &self.glance.model;
        let limit = model.limit(name)?;
        if shown {
            return Some(limit.shown(name, model.project.units));
        }
        match limit.length() {
            Some(length) => Some(display::source(length, model.project.units)),
            None => limit.slope().map(display::slope_percent),
        }
    }

    /// How a file says a name of the library: by what it imports, else in full.
    pub fn library_name(&self, within: Span, name: &str) -> String {
        let (module, short) = name.split_once('.').unwrap_or((name, ""));
        let file = self.glance.project.modules.iter().find(|one| one.file == within.file);
        let imported = file.is_some_and(|file| file.names.contains_key(module));
        if file.is_some_and(|file| file.names.contains_key(short)) {
            short.to_owned()
        } else if imported {
            name.to_owned()
        } else {
            format!("std.{name}")
        }
    }
}

/// The innermost statement.
pub(super) fn last<'g>(round: &Round<'g>) -> Option<&'g Statement> {
    round.last().map(|(statement, _)| *statement)
}

/// Outward to a keyword.
pub(super) fn up<'g>(mut round: Round<'g>, word: &str) -> Option<Round<'g>> {
    while schema::canonical(&last(&round)?.keyword.text) != word {
        round.pop();
    }
    Some(round)
}

/// Into the first clause with a keyword.
pub(super) fn down<'g>(mut round: Round<'g>, word: &str) -> Option<Round<'g>> {
    let &(statement, row) = round.last()?;
    let row = schema::find(row?.body, word)?;
    let clause = statement.clauses.iter().find(|one| schema::canonical(&one.keyword.text) == row.word)?;
    round.push((clause, Some(row)));
    Some(round)
}

/// The lengths written in the arguments of a statement, sizes taken apart.
pub(super) fn lengths(items: &[Item]) -> Vec<&Item> {
    let mut found = Vec::new();
    for item in items {
        match &item.kind {
            ItemKind::Quantity(_) | ItemKind::FeetInches(..) => found.push(item),
            ItemKind::Size(parts) => found.extend(lengths(parts)),
            ItemKind::Tuple(entries) => {
                found.extend(entries.iter().flat_map(|one| lengths(std::slice::from_ref(&one.value))))
            }
            ItemKind::Path(_)
            | ItemKind::Call(..)
            | ItemKind::Text(_)
            | ItemKind::Date(..)
            | ItemKind::Pitch(..)
            | ItemKind::Range(..)
            | ItemKind::Sum(..) => {}
        }
    }
    found
}

impl Ask<'_> {
    /// Sets the first or the last length of a clause to what is wanted, or says the clause if it is not there.
    pub fn number(&self, on: On, clause: &str, from_end: bool, title: &str) -> Option<Mend> {
        let round = self.round(on)?;
        let &(statement, row) = round.last()?;
        let Some(old) = same(self.glance, statement, row, clause) else {
            return self.say(on, &format!("{clause} {{limit}}"), title);
        };
        let mut all = lengths(&old.arguments).into_iter();
        let item = if from_end { all.next_back()? } else { all.next()? };
        let draft = Draft::new(self.glance, item.span.file)?.cut(item.span, self.wanted(false)?);
        self.mend(self.filled(title, &round, true)?, draft)
    }

    /// Whether it could not be told.
    pub fn cannot_tell(&self) -> bool {
        self.finding.severity == Severity::Unknown
    }
}
