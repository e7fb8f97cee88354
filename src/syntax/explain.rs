//! Says in people's words what stands at the place where the grammar stopped, and what could stand there.

use super::advice;
use super::grammar::{Refusal, Rule};
use super::lines::is_word_char;
use crate::diagnose::Diagnostic;
use crate::source::{FileId, Span};

/// Longest piece of the user's text that is quoted in a message, in characters.
const QUOTED: usize = 30;

/// What is wrong with a clause that begins at byte `base` of the file.
pub(super) fn clause(file: FileId, base: usize, text: &str, refusal: &Refusal) -> Diagnostic {
    let at = behind_blanks(text, floor(text, refusal.at));
    if refusal.expected.is_empty() {
        let span = Span::new(file, base, base + text.len());
        return Diagnostic::error("text.too_deep", span, "this is too much for one line")
            .help("write it in smaller parts");
    }
    if let Some(problem) = advice::advise(file, base, text, at) {
        return problem;
    }
    let (start, end) = token(text, at);
    let span = Span::new(file, base + start, base + end);
    let before = text.get(..at).unwrap_or("");
    let in_brackets = before.matches('(').count() > before.matches(')').count();
    let found = match text.get(at..end) {
        Some(token) if !token.is_empty() => quoted(token),
        _ => "the end of the line".to_owned(),
    };
    Diagnostic::error(
        "text.expected",
        span,
        format!("found {found}, expected {}", wanted(&refusal.expected, in_brackets)),
    )
}

fn floor(text: &str, at: usize) -> usize {
    let mut at = at.min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

/// What is wrong stands behind the blanks, if anything does.
fn behind_blanks(text: &str, at: usize) -> usize {
    let rest = text.get(at..).unwrap_or("");
    let seen = rest.trim_start_matches([' ', '\t', '\r', '\n']);
    if seen.is_empty() { at } else { text.len() - seen.len() }
}

/// The token at `at`: a word, a number with what is glued to it, a text, or one character. At the end of the text
/// it is the last character, so that there is something to underline.
fn token(text: &str, at: usize) -> (usize, usize) {
    let rest = text.get(at..).unwrap_or("");
    let Some(first) = rest.chars().next() else {
        let last = text.char_indices().next_back().map_or(0, |(last, _)| last);
        return (last, text.len());
    };
    let glued = |character: char| is_word_char(character) || matches!(character, '.' | '/' | '\'' | '"' | '°' | '%');
    let length = if first == '"' {
        rest.get(1..).and_then(|inside| inside.find('"')).map_or(rest.len(), |inside| inside + 2)
    } else if is_word_char(first) {
        rest.find(|character| !glued(character)).unwrap_or(rest.len())
    } else {
        first.len_utf8()
    };
    (at, at + length)
}

/// The text in backticks, shortened; characters that cannot be seen by their number.
fn quoted(token: &str) -> String {
    let mut shown = String::new();
    for (count, character) in token.chars().enumerate() {
        if count == QUOTED {
            shown.push('…');
            break;
        }
        if character.is_control() || character.is_whitespace() && character != ' ' {
            return format!("a character that cannot be seen (U+{:04X})", character as u32);
        }
        shown.push(character);
    }
    format!("`{shown}`")
}

/// "a value, a comma or the end of the line".
fn wanted(rules: &[Rule], in_brackets: bool) -> String {
    let mut words: Vec<(u8, &str)> = rules.iter().filter_map(|&rule| words_for(rule)).collect();
    if in_brackets && !words.iter().any(|&(order, _)| order == 2) {
        words.extend([(3, "a comma"), (4, "`)`")]);
    }
    words.sort_unstable();
    words.dedup();
    let words: Vec<&str> = words.into_iter().map(|(_, word)| word).collect();
    match words.split_last() {
        None => "the end of the line".to_owned(),
        Some((last, [])) => (*last).to_owned(),
        Some((last, first)) => format!("{} or {last}", first.join(", ")),
    }
}

/// The words for a rule, behind a number that orders them. No wildcard: a new rule does not compile without words.
fn words_for(rule: Rule) -> Option<(u8, &'static str)> {
    Some(match rule {
        Rule::keyword | Rule::clause | Rule::statement | Rule::line | Rule::one_clause | Rule::good_start => {
            (0, "a word that says what this is")
        }
        Rule::name | Rule::label => (1, "a name"),
        Rule::path | Rule::item | Rule::value | Rule::measure | Rule::date | Rule::text => (2, "a value"),
        Rule::tuple | Rule::entry => (2, "a value"),
        Rule::more_sides | Rule::times | Rule::upper_end => return None,
        Rule::operator => (5, "a sign such as `+` between blanks"),
        Rule::parameters | Rule::list => return None,
        Rule::comma => (6, "a comma"),
        Rule::open | Rule::block => (7, "`{`"),
        Rule::close => (7, "`}`"),
        Rule::EOI | Rule::end => (8, "the end of the clause"),
        Rule::file | Rule::declaration | Rule::declaration_word | Rule::cut => (0, "a declaration"),
        Rule::doc | Rule::blank | Rule::sp | Rule::gap | Rule::newline | Rule::comment | Rule::rest => return None,
        Rule::word_char | Rule::plain | Rule::part | Rule::feet | Rule::unit | Rule::unit_word | Rule::known => {
            return None;
        }
    })
}
