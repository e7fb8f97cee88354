//! Help for what builders type: feet and inch marks, nominal sizes, dashes for ranges, and other habits of the trade.

use super::lines::is_word_char;
use crate::diagnose::Diagnostic;
use crate::source::{FileId, Span};

/// Nominal lumber and the real size of the dressed piece in millimetres (common Canadian dressed sizes, from memory).
const NOMINAL: [(&str, &str); 14] = [
    ("1x2", "19mm x 38mm"),
    ("1x3", "19mm x 64mm"),
    ("1x4", "19mm x 89mm"),
    ("1x6", "19mm x 140mm"),
    ("2x2", "38mm x 38mm"),
    ("2x3", "38mm x 64mm"),
    ("2x4", "38mm x 89mm"),
    ("2x6", "38mm x 140mm"),
    ("2x8", "38mm x 184mm"),
    ("2x10", "38mm x 235mm"),
    ("2x12", "38mm x 286mm"),
    ("4x4", "89mm x 89mm"),
    ("4x6", "89mm x 140mm"),
    ("6x6", "140mm x 140mm"),
];

/// Fractions that have a character of their own.
const VULGAR: [(char, &str); 9] = [
    ('½', "1/2"),
    ('¼', "1/4"),
    ('¾', "3/4"),
    ('⅛', "1/8"),
    ('⅜', "3/8"),
    ('⅝', "5/8"),
    ('⅞', "7/8"),
    ('⅓', "1/3"),
    ('⅔', "2/3"),
];

/// `1,000mm` or `1 000mm`.
pub(super) fn thousands(span: Span, written: &str) -> Diagnostic {
    let joined: String = written.chars().filter(|character| !matches!(character, ',' | ' ' | '\t')).collect();
    Diagnostic::error("text.thousands", span, format!("`{written}` reads as two numbers"))
        .help(format!("a number is written without a mark between its thousands: `{joined}`"))
        .fix(format!("write `{joined}`"), span, joined)
}

/// `6 1/2in`.
pub(super) fn mixed_number(span: Span, whole: &str, fraction: &str) -> Diagnostic {
    let joined = format!("{whole}-{fraction}");
    Diagnostic::error("text.mixed_number", span, format!("`{whole} {fraction}` reads as two numbers"))
        .help(format!("join a whole number and its fraction with a dash: `{joined}`"))
        .fix(format!("write `{joined}`"), span, joined)
}

/// A run of glued characters around the place where the grammar stopped.
struct Place<'t> {
    file: FileId,
    base: usize,
    text: &'t str,
    at: usize,
    /// Where the run begins.
    start: usize,
    /// The run.
    run: &'t str,
}

impl Place<'_> {
    fn span(&self, start: usize, end: usize) -> Span {
        Span::new(self.file, self.base + start, self.base + end)
    }

    fn whole(&self) -> Span {
        self.span(self.start, self.start + self.run.len())
    }

    fn error(&self, code: &'static str, title: String) -> Diagnostic {
        Diagnostic::error(code, self.whole(), title)
    }

    fn instead(&self, code: &'static str, title: String, better: &str) -> Diagnostic {
        self.error(code, title).help(format!("write `{better}`")).fix(format!("write `{better}`"), self.whole(), better)
    }

    fn before(&self) -> &str {
        self.text.get(..self.at).unwrap_or("")
    }

    fn behind(&self) -> &str {
        self.text.get(self.at..).unwrap_or("")
    }
}

/// Tailored words for the mistake at byte `at` of a clause, if it is one of those that builders make.
pub(super) fn advise(file: FileId, base: usize, text: &str, at: usize) -> Option<Diagnostic> {
    let start = text.get(..at)?.rfind(is_run_end).map_or(0, |last| last + 1);
    let end = text.get(at..)?.find(is_run_end).map_or(text.len(), |length| at + length);
    let place = Place { file, base, text, at, start, run: text.get(start..end).unwrap_or("") };
    let by_run: [fn(&Place) -> Option<Diagnostic>; 12] = [
        semicolon,
        lone_x,
        inch_mark,
        vulgar,
        nominal_size,
        glued_size,
        leading_point,
        feet_dash,
        range_dash,
        quotes,
        signs,
        hyphen,
    ];
    by_run.iter().find_map(|advice| advice(&place)).or_else(|| by_character(&place))
}

fn semicolon(place: &Place) -> Option<Diagnostic> {
    if !place.behind().starts_with(';') {
        return None;
    }
    let span = place.span(place.at, place.at + 1);
    let problem = Diagnostic::error("text.semicolon", span, "a statement ends with its line, without `;`");
    let last = place.behind().trim_end().len() == 1;
    Some(if last { problem.fix("remove `;`", span, "") } else { problem.help("put what follows on its own line") })
}

/// `x` without a size on both sides.
fn lone_x(place: &Place) -> Option<Diagnostic> {
    matches!(place.run, "x" | "×").then(|| {
        place
            .error("text.lone_x", format!("`{}` joins the sides of a size and means nothing else", place.run))
            .help("a size is written `19mm x 64mm`; a name cannot be `x`")
    })
}

/// Every other foot or inch mark behind byte `from` of a clause in which one mistake was found.
pub(super) fn more_marks(file: FileId, base: usize, text: &str, from: usize) -> Vec<Diagnostic> {
    let mut found = Vec::new();
    let rest = text.get(from..).unwrap_or("");
    let mut start = from;
    for run in rest.split(is_run_end) {
        let before = text.get(..start).and_then(|text| text.chars().next_back());
        if before.is_none_or(is_run_end) {
            found.extend(inch_mark(&Place { file, base, text, at: start, start, run }));
        }
        start += run.len() + 1;
    }
    found
}

fn is_run_end(character: char) -> bool {
    matches!(character, ' ' | '\t' | '\n' | ',' | '(' | ')')
}

/// `8'-6"`, `16"`, `8'`, also with the curly marks that editors make of them.
fn inch_mark(place: &Place) -> Option<Diagnostic> {
    let run = place.run;
    let is_foot = |character: char| matches!(character, '\'' | '’' | '′' | '‘');
    let is_inch = |character: char| matches!(character, '"' | '”' | '″' | '“');
    let digits = run.trim_start_matches('-').starts_with(|character: char| character.is_ascii_digit());
    if !digits || !run.contains(|character| is_foot(character) || is_inch(character)) {
        return None;
    }
    let (feet, inches) = match run.split_once(is_foot) {
        Some((feet, inches)) => (Some(feet), inches),
        None => (None, run),
    };
    let inches = inches.trim_start_matches('-').trim_end_matches(|character| is_inch(character) || is_foot(character));
    let is_number = |text: &str| text.chars().all(|character| matches!(character, '0'..='9' | '/' | '-' | '.'));
    let better = match feet {
        Some(feet) if inches.is_empty() => format!("{feet}ft"),
        Some(feet) => format!("{feet}ft {inches}in"),
        None => format!("{inches}in"),
    };
    let title = format!("`{run}` has marks where a unit belongs");
    if !is_number(feet.unwrap_or("")) || !is_number(inches) {
        return Some(place.error("text.inch_mark", title).help("feet are written `8ft`, inches `6in`, both `8ft 6in`"));
    }
    Some(place.instead("text.inch_mark", title, &better))
}

fn vulgar(place: &Place) -> Option<Diagnostic> {
    let (sign, written) = VULGAR.into_iter().find(|(sign, _)| place.run.contains(*sign))?;
    let (before, behind) = place.run.split_once(sign)?;
    let dash = if before.ends_with(|character: char| character.is_ascii_digit()) { "-" } else { "" };
    let better = format!("{before}{dash}{written}{behind}");
    Some(place.instead("text.fraction_sign", format!("`{sign}` is one character, not a fraction"), &better))
}

fn sides(run: &str) -> Option<(&str, &str)> {
    run.split_once(['x', '×', 'X']).filter(|(first, second)| {
        let digit = |text: &str| text.starts_with(|character: char| character.is_ascii_digit());
        digit(first) && digit(second)
    })
}

/// `2x4`
fn nominal_size(place: &Place) -> Option<Diagnostic> {
    let (first, second) = sides(place.run)?;
    let bare = |text: &str| text.len() <= 2 && text.bytes().all(|byte| byte.is_ascii_digit());
    if !bare(first) || !bare(second) {
        return None;
    }
    let title = format!("`{}` is a nominal size, not a size", place.run);
    let key = format!("{first}x{second}");
    Some(match NOMINAL.iter().find(|(nominal, _)| *nominal == key) {
        Some((_, real)) => place.instead("text.nominal_size", title, real),
        None => place.error("text.nominal_size", title).help("write the real size with units, such as `38mm x 89mm`"),
    })
}

/// `19mmx64mm`, `19x64mm`
fn glued_size(place: &Place) -> Option<Diagnostic> {
    let (first, second) = sides(place.run)?;
    let unit =
        second.trim_start_matches(|character: char| character.is_ascii_digit() || matches!(character, '.' | '/' | '-'));
    let bare = first.bytes().all(|byte| byte.is_ascii_digit());
    let better = if bare { format!("{first}{unit} x {second}") } else { format!("{first} x {second}") };
    Some(place.instead("text.size_blanks", "a size has a blank on both sides of its `x`".to_owned(), &better))
}

/// `.5in`
fn leading_point(place: &Place) -> Option<Diagnostic> {
    let bare = place.run.strip_prefix('-').unwrap_or(place.run);
    let sign = if bare.len() < place.run.len() { "-" } else { "" };
    bare.strip_prefix('.')?.chars().next().filter(char::is_ascii_digit)?;
    Some(place.instead(
        "text.leading_point",
        format!("`{}` has no digit before its point", place.run),
        &format!("{sign}0{bare}"),
    ))
}

/// A run of the form `10-15mm`: the part before the dash, the part behind it.
fn dashed(run: &str) -> Option<(&str, &str)> {
    let (low, high) = run.get(1..)?.split_once(['-', '–', '—']).map(|(rest, high)| (&run[..=rest.len()], high))?;
    let digit = |text: &str| text.starts_with(|character: char| character.is_ascii_digit());
    (digit(low.trim_start_matches('-')) && digit(high)).then_some((low, high))
}

/// `8ft-6in`
fn feet_dash(place: &Place) -> Option<Diagnostic> {
    let (feet, inches) = dashed(place.run)?;
    if !feet.ends_with("ft") || !inches.ends_with("in") {
        return None;
    }
    Some(place.instead(
        "text.feet_dash",
        format!("`{}` has a dash between feet and inches", place.run),
        &format!("{feet} {inches}"),
    ))
}

/// `10-15mm`
fn range_dash(place: &Place) -> Option<Diagnostic> {
    let (low, high) = dashed(place.run)?;
    let number = |character: char| character.is_ascii_digit() || matches!(character, '.' | '/' | '-' | '–');
    let unit = high.trim_start_matches(number);
    let bare = low.trim_start_matches(number).is_empty();
    let better = if bare { format!("{low}{unit}..{high}") } else { format!("{low}..{high}") };
    Some(place.instead("text.range_dash", "a range is written with two points".to_owned(), &better))
}

/// Curly and single quotes.
fn quotes(place: &Place) -> Option<Diagnostic> {
    let first = place.behind().chars().next()?;
    let closing: &[char] = match first {
        '“' | '”' | '„' => &['”', '“'],
        '‘' | '’' => &['’', '‘'],
        '\'' => &['\''],
        '«' => &['»'],
        _ => return None,
    };
    let inside_at = place.at + first.len_utf8();
    let inside = place.text.get(inside_at..).unwrap_or("");
    let Some(length) = inside.find(closing) else {
        let span = place.span(place.at, inside_at);
        return Some(
            Diagnostic::error("text.quote", span, format!("`{first}` does not begin a text"))
                .help("a text stands between two `\"`"),
        );
    };
    let quote_end = inside.get(length..).and_then(|rest| rest.chars().next()).map_or(0, char::len_utf8);
    let span = place.span(place.at, inside_at + length + quote_end);
    let better = format!("\"{}\"", inside.get(..length).unwrap_or("").replace('"', "\\\""));
    Some(Diagnostic::error("text.quote", span, "a text stands between two straight `\"`").fix(
        "write straight quotes",
        span,
        better,
    ))
}

/// Signs that keyboards offer and the language does without.
fn signs(place: &Place) -> Option<Diagnostic> {
    let run = place.run;
    let better = if let Some((number, rest)) = run.split_once('°') {
        match rest {
            "C" | "F" => format!("{number}deg{rest}"),
            _ => format!("{number}deg"),
        }
    } else if run.contains(['²', '³']) {
        run.replace('²', "2").replace('³', "3")
    } else if run.contains('·') {
        run.replace('·', ".")
    } else if run.contains('\u{2212}') {
        run.replace('\u{2212}', "-")
    } else {
        return None;
    };
    Some(place.instead("text.sign", format!("`{run}` has a sign that the language does not use"), &better))
}

/// `cold-lake`
fn hyphen(place: &Place) -> Option<Diagnostic> {
    let run = place.run;
    let is_name = run.starts_with(|character: char| character.is_alphabetic())
        && run.contains('-')
        && run.chars().all(|character| is_word_char(character) || matches!(character, '-' | '.'));
    is_name
        .then(|| place.instead("text.hyphen", format!("`{run}` is no name: a name has no `-`"), &run.replace('-', "_")))
}

/// What a single character at the place gives away.
fn by_character(place: &Place) -> Option<Diagnostic> {
    let character = place.behind().chars().next()?;
    let span = place.span(place.at, place.at + character.len_utf8());
    let in_brackets = place.before().matches('(').count() > place.before().matches(')').count();
    let error = |code, title: &str| Some(Diagnostic::error(code, span, title));
    match character {
        '=' | ':' if !in_brackets => {
            error("text.equals", &format!("a word and its value stand side by side, without `{character}`"))
                .map(|problem| problem.fix(format!("remove `{character}`"), span, ""))
        }
        ')' if !in_brackets => {
            error("text.stray_bracket", "this `)` closes nothing").map(|problem| problem.fix("remove `)`", span, ""))
        }
        '&' => error("text.ampersand", "two values are joined by `and`")
            .map(|problem| problem.fix("write `and`", span, "and")),
        '+' | '*' | '/' | '-' if in_brackets => {
            error("text.operator_blanks", &format!("`{character}` needs a value and a blank on both sides"))
        }
        '+' | '*' | '/' | '-' => error("text.sum_outside", "sums stand inside `( )`").map(|problem| {
            problem.help("put brackets round the whole sum, with blanks round its signs: `(depth + 81mm)`")
        }),
        '#' => error("text.gauge", "`#` means nothing here")
            .map(|problem| problem.help("a screw is named by its diameter and length: `4.2mm x 50mm`")),
        '\u{A0}' | '\u{2009}' | '\u{202F}' | '\u{200B}' | '\u{FEFF}' | '\u{3000}' => {
            error("text.odd_blank", "this blank is not an ordinary blank")
                .map(|problem| problem.fix("write an ordinary blank", span, " "))
        }
        _ => None,
    }
}
