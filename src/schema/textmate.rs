//! The grammar by which editors colour a text before any server answers, made from the table so that it knows every keyword.

use std::collections::BTreeSet;

use serde_json::{Map, Value, json};

use super::{Element, Row, SPELLINGS, SlotKind, context, declaration_words, rows};
use crate::syntax::SMALL_WORDS;
use crate::units::ATOMS;

/// What may stand in a name, and what must not stand before or behind a word.
const NAME: &str = r"[\p{L}_][\p{L}\p{N}_]*";
const BEFORE: &str = r"(?<![\p{L}\p{N}_])(?<![\p{L}\p{N}_]\.)";
const BEHIND: &str = r"(?![\p{L}\p{N}_])";

/// The TextMate grammar as JSON. `grammar/wythe.tmLanguage.json` holds it; a test keeps the two the same.
pub fn textmate() -> String {
    let declarations: BTreeSet<&str> = declaration_words().collect();
    let grammar = json!({
        "name": "Wythe",
        "comment": "Made from the schema table (src/schema); do not edit.",
        "scopeName": "source.wythe",
        "fileTypes": ["wythe"],
        "patterns": includes(&["comment", "declaration", "named", "clause", "list", "argument"]),
        "repository": {
            "comment": { "patterns": [
                { "name": "comment.line.documentation.wythe", "match": "///(?!/).*$" },
                { "name": "comment.line.double-slash.wythe", "match": "//.*$" },
            ] },
            "declaration": {
                "match": format!("^({}){BEHIND}(?:[ \\t]+({}{NAME}))?", choice(&declarations), not_small()),
                "captures": scopes(&["keyword.control.declaration", "entity.name.type"]),
            },
            "named": {
                "match": format!("(?:^[ \\t]*|(,)[ \\t]*)({}){BEHIND}[ \\t]+({}{NAME}){BEHIND}", choice(&naming_words()), not_small()),
                "captures": scopes(&["punctuation.separator", "keyword.other.clause", "entity.name.tag"]),
            },
            "clause": {
                "match": format!("(?:^[ \\t]*|(,)[ \\t]*)({}){BEHIND}", choice(&clause_words())),
                "captures": scopes(&["punctuation.separator", "keyword.other.clause"]),
            },
            "list": {
                "begin": "\\(",
                // A declaration in the first column ends a list that was never closed, for the compiler too.
                "end": format!("\\)|(?=^(?:{}){BEHIND})", choice(&declarations)),
                "patterns": [
                    { "include": "#comment" },
                    { "match": format!("({NAME})[ \\t]*(=)"), "captures": scopes(&["variable.parameter", "keyword.operator"]) },
                    { "include": "#list" },
                    { "include": "#argument" },
                ],
            },
            "argument": { "patterns": arguments() },
        },
    });
    format!("{grammar:#}\n")
}

/// Everything that may follow a keyword, the longest reading first.
fn arguments() -> Value {
    let units: BTreeSet<&str> = ATOMS.iter().map(|atom| atom.name).collect();
    let unit = format!("(?:{})[23]?", choice(&units));
    let unit = format!(r"{unit}(?:/\({unit}(?:\.{unit})*\)|[./]{unit})*");
    let number = r"-?\d+(?:-\d+/\d+|\.\d+|/\d+)?";
    json!([
        { "name": "string.quoted.double.wythe", "begin": "\"", "end": "\"|$", "patterns": [
            { "name": "constant.character.escape.wythe", "match": "\\\\." },
        ] },
        { "name": "constant.numeric.date.wythe", "match": format!(r"{BEFORE}\d{{4}}-\d{{2}}-\d{{2}}{BEHIND}") },
        { "name": "constant.numeric.slope.wythe", "match": format!(r"{BEFORE}\d+(?:\.\d+)?:\d+(?:\.\d+)?{BEHIND}") },
        { "match": format!("{BEFORE}({number})[ \\t]?({unit}){BEHIND}"), "captures": scopes(&["constant.numeric", "keyword.other.unit"]) },
        { "name": "constant.numeric.wythe", "match": format!("{BEFORE}{number}{BEHIND}") },
        { "name": "keyword.operator.range.wythe", "match": r"\.\." },
        { "name": "keyword.operator.wythe", "match": format!("(?<=[ \\t])[-+*/x×=](?=[ \\t])") },
        { "name": "keyword.operator.word.wythe", "match": format!("{BEFORE}(?:{}){BEHIND}", choice(&joining_words())) },
        { "name": "support.constant.property-value.wythe", "match": format!(r"{BEFORE}(?:{}){BEHIND}(?![.(])", choice(&choice_words())) },
        { "match": format!(r"{BEFORE}({NAME})(\.)(?=[\p{{L}}_])"), "captures": scopes(&["entity.name.namespace", "punctuation.accessor"]) },
        { "name": "entity.name.function.wythe", "match": format!(r"{NAME}(?=\()") },
        { "name": "variable.other.wythe", "match": NAME },
    ])
}

/// Keywords that are no declarations, with their other spellings.
fn clause_words() -> BTreeSet<&'static str> {
    let rows = rows().filter(|row| row.within != "file");
    spelled(rows.flat_map(|row| std::iter::once(&row.word).chain(row.also)).copied().collect())
}

/// Clause keywords that a new name follows wherever they stand.
fn naming_words() -> BTreeSet<&'static str> {
    let names = |row: &Row| match row.parsed().elements.first() {
        Some(Element::Slot(_, kind)) => *kind == SlotKind::New,
        Some(Element::Optional(inner)) => matches!(inner.first(), Some(Element::Slot(_, SlotKind::New))),
        Some(Element::Word(_)) | None => false,
    };
    let always = |word: &str| rows().filter(|row| row.word == word || row.also.contains(&word)).all(names);
    clause_words()
        .into_iter()
        .filter(|word| !context("file").contains_key(word) && always(super::respell(word)))
        .collect()
}

/// Words that name an argument, and words of forms that stand for themselves, such as `centre`.
fn joining_words() -> BTreeSet<&'static str> {
    let mut words: BTreeSet<&str> = SMALL_WORDS.into_iter().collect();
    rows().for_each(|row| own_words(&row.parsed().elements, &mut words));
    spelled(words)
}

fn own_words(elements: &[Element], into: &mut BTreeSet<&'static str>) {
    for element in elements {
        match element {
            Element::Word(word) => {
                into.insert(word);
            }
            Element::Optional(inner) => own_words(inner, into),
            Element::Slot(..) => {}
        }
    }
}

/// Words of the closed choices: `outside`, `ventilated`.
fn choice_words() -> BTreeSet<&'static str> {
    let slots = rows().flat_map(|row| row.parsed().slots());
    let words = slots.filter_map(|(_, kind)| match kind {
        SlotKind::Choice(words) | SlotKind::Choices(words) => Some(words.iter().copied()),
        _ => None,
    });
    spelled(words.flatten().collect())
}

/// Adds the spellings of other regions.
fn spelled(mut words: BTreeSet<&'static str>) -> BTreeSet<&'static str> {
    let other: Vec<_> = SPELLINGS.iter().filter(|(_, own)| words.contains(own)).map(|(other, _)| *other).collect();
    words.extend(other);
    words
}

/// A place where no small word begins, so that `base to (…)` names nothing.
fn not_small() -> String {
    format!("(?!(?:{}|x){BEHIND})", SMALL_WORDS.join("|"))
}

/// Alternatives; a word never hides a longer one, because what stands behind it is always looked at.
fn choice(words: &BTreeSet<&str>) -> String {
    words.iter().copied().collect::<Vec<_>>().join("|")
}

fn includes(names: &[&str]) -> Value {
    names.iter().map(|name| json!({ "include": format!("#{name}") })).collect()
}

/// Scopes of the groups of a match, in order.
fn scopes(names: &[&str]) -> Value {
    let named =
        names.iter().enumerate().map(|(at, name)| ((at + 1).to_string(), json!({ "name": format!("{name}.wythe") })));
    Value::Object(named.collect::<Map<_, _>>())
}
