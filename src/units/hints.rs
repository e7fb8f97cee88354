//! What a builder probably meant by a unit that is not in the table.

use super::problem::UnitProblem;
use super::unit::{ATOMS, Atom, Slip, readable};
use crate::diagnose::did_you_mean;

/// Written by habit, and the unit that is meant.
const HABITS: &[(&str, &str)] = &[
    ("'", "ft"),
    ("′", "ft"),
    ("’", "ft"),
    ("‘", "ft"),
    ("foot", "ft"),
    ("feet", "ft"),
    ("\"", "in"),
    ("″", "in"),
    ("”", "in"),
    ("“", "in"),
    ("''", "in"),
    ("inch", "in"),
    ("inches", "in"),
    ("ins", "in"),
    ("yard", "yd"),
    ("yards", "yd"),
    ("yds", "yd"),
    ("millimetre", "mm"),
    ("millimetres", "mm"),
    ("millimeter", "mm"),
    ("millimeters", "mm"),
    ("mms", "mm"),
    ("centimetres", "cm"),
    ("centimeters", "cm"),
    ("metre", "m"),
    ("metres", "m"),
    ("meter", "m"),
    ("meters", "m"),
    ("micron", "um"),
    ("microns", "um"),
    ("c", "degC"),
    ("°c", "degC"),
    ("℃", "degC"),
    ("celsius", "degC"),
    ("centigrade", "degC"),
    ("f", "degF"),
    ("°f", "degF"),
    ("℉", "degF"),
    ("fahrenheit", "degF"),
    ("°", "deg"),
    ("º", "deg"),
    ("degree", "deg"),
    ("degrees", "deg"),
    ("percent", "%"),
    ("pct", "%"),
    ("lbs", "lb"),
    ("pound", "lb"),
    ("pounds", "lb"),
    ("#", "lb"),
    ("sec", "s"),
    ("secs", "s"),
    ("mins", "min"),
    ("hr", "h"),
    ("hrs", "h"),
    ("hour", "h"),
    ("hours", "h"),
    ("d", "day"),
    ("days", "day"),
    ("y", "a"),
    ("yr", "a"),
    ("yrs", "a"),
    ("year", "a"),
    ("years", "a"),
    ("sqft", "ft2"),
    ("sf", "ft2"),
    ("sqm", "m2"),
    ("perms", "perm"),
    ("volt", "V"),
    ("volts", "V"),
    ("lbs/ft2", "lb/ft2"),
];

/// Not units at all, with what to write instead.
const STRANGERS: &[(&str, &str)] = &[
    ("o.c.", "say it in words after the spacing: `every 16in on centre`"),
    ("o.c", "say it in words after the spacing: `every 16in on centre`"),
    ("oc", "say it in words after the spacing: `every 16in on centre`"),
    ("mil", "a mil is a thousandth of an inch: write `0.006in` or `0.15mm` for 6 mil"),
    ("mils", "a mil is a thousandth of an inch: write `0.006in` or `0.15mm` for 6 mil"),
    ("ga", "a gauge is a different thickness in each metal: write it in `mm` or `in`"),
    ("gauge", "a gauge is a different thickness in each metal: write it in `mm` or `in`"),
    ("cfm", "write the flow in `L/s`; 1 cubic foot a minute is 0.4719 L/s"),
    ("d2", "a penny size is not a length: write it in `mm` or `in`"),
];

/// The problem for a unit text that could not be read.
pub(super) fn explain(text: &str, slip: Slip<'_>) -> UnitProblem {
    let problem = UnitProblem::new("text.unknown_unit", format!("`{}` is not a unit", short(text)));
    let lower = text.to_lowercase();
    if let Some((_, advice)) = STRANGERS.iter().find(|(name, _)| *name == lower) {
        return problem.help(*advice);
    }
    if slip == Slip::Ambiguous {
        return ambiguous(text);
    }
    if let Some(right) = habit(text).or_else(|| respelt(text)) {
        return problem.help(format!("did you mean `{right}`?")).unit(right);
    }
    match slip {
        Slip::Unknown(name) if name != text => problem.help(
            guess(name)
                .unwrap_or_else(|| format!("`{}` is not a unit; a compound is written like `W/(m.K)`", short(name))),
        ),
        Slip::Unknown(name) => problem.help(guess(name).unwrap_or_else(|| {
            "lengths are in `mm`, `m`, `in` or `ft`; a compound is written like `W/(m.K)`".to_owned()
        })),
        Slip::Ambiguous | Slip::Shape => problem.help("a compound is written like `m2`, `kg/m3`, `W/(m.K)`"),
    }
}

/// A habit, a wrong case or a stray dot, for the whole text.
fn habit(text: &str) -> Option<String> {
    let bare = text.trim_end_matches('.');
    let lower = bare.to_lowercase();
    let known = HABITS.iter().find(|(name, _)| *name == lower).map(|&(_, right)| right);
    known
        .or_else(|| cased(bare))
        .map(str::to_owned)
        .or_else(|| (bare != text && readable(bare)).then(|| bare.to_owned()))
}

/// The atom that differs only by capitals.
fn cased(name: &str) -> Option<&'static str> {
    ATOMS.iter().map(|atom| atom.name).find(|right| right.eq_ignore_ascii_case(name))
}

/// The same text with raised figures, dots and Greek letters put as the language wants them, if that makes a unit;
/// then each name by habit or case.
fn respelt(text: &str) -> Option<String> {
    let plain: String = text
        .chars()
        .filter(|&mark| mark != '^' && mark != ' ')
        .map(|mark| match mark {
            '²' => '2',
            '³' => '3',
            '·' | '⋅' | '*' | '×' => '.',
            'µ' | 'μ' => 'u',
            other => other,
        })
        .collect();
    let named = by_name(&plain);
    let both = [bracketed(&plain), bracketed(&named)].into_iter().flatten();
    [plain.clone(), named.clone()]
        .into_iter()
        .chain(both)
        .find(|candidate| candidate != text && candidate.len() <= 40 && readable(candidate))
}

/// Every name in a compound by habit or case.
fn by_name(text: &str) -> String {
    let mut out = String::new();
    for part in text.split_inclusive(['.', '/', '(', ')']) {
        let name = part.trim_end_matches(['.', '/', '(', ')']);
        let base = name.trim_end_matches(['2', '3']);
        let right = Atom::named(base).map(|atom| atom.name);
        let right =
            right.or_else(|| HABITS.iter().find(|(slip, _)| *slip == base.to_lowercase()).map(|&(_, right)| right));
        out.push_str(right.or_else(|| cased(base)).unwrap_or(base));
        out.push_str(part.get(base.len()..).unwrap_or_default());
    }
    out
}

/// `W/m.K` as `W/(m.K)`.
fn bracketed(text: &str) -> Option<String> {
    text.split_once('/').map(|(above, below)| format!("{above}/({below})"))
}

fn ambiguous(text: &str) -> UnitProblem {
    let problem = UnitProblem::new("text.unknown_unit", format!("`{}` can be read two ways", short(text)));
    match bracketed(text).filter(|right| readable(right)) {
        Some(right) => problem.help(format!("write `{right}`")).unit(right),
        None => problem.help("put everything under the line in brackets: `W/(m.K)`"),
    }
}

fn guess(name: &str) -> Option<String> {
    // Longer than any unit: no use in measuring how far off it is.
    if name.len() > 24 {
        return None;
    }
    did_you_mean(name, ATOMS.iter().map(|atom| atom.name))
}

/// A long text cut short for a message.
fn short(text: &str) -> String {
    let mut cut: String = text.chars().take(24).collect();
    if cut.len() < text.len() {
        cut.push('…');
    }
    cut
}
