//! What can be wrong with a wall whose words were understood.

use crate::diagnose::{Diagnostic, did_you_mean};
use crate::model::{DISPUTES, Dispute};
use crate::source::Span;

pub(super) fn no_such_face<'a>(at: Span, name: &str, known: impl Iterator<Item = &'a String>) -> Diagnostic {
    let mut problem = Diagnostic::error("name.unknown", at, format!("there is no face `{name}` in the project"));
    problem.help.extend(did_you_mean(name, known.map(String::as_str)));
    problem.help("a face in another file is brought in by checking the folder, or by `use`")
}

pub(super) fn no_such_area<'a>(at: Span, name: &str, face: &str, known: impl Iterator<Item = &'a str>) -> Diagnostic {
    let mut problem = Diagnostic::error("name.unknown", at, format!("`{face}` has no area `{name}`"));
    problem.help.extend(did_you_mean(name, known));
    problem
}

pub(super) fn no_such_run<'a>(at: Span, name: &str, face: &str, known: impl Iterator<Item = &'a str>) -> Diagnostic {
    let known: Vec<&str> = known.collect();
    let mut problem = Diagnostic::error("name.unknown", at, format!("`{face}` has no edge or opening `{name}`"));
    problem.help.extend(did_you_mean(name, known.iter().copied()));
    problem.help(format!("it has: {}", known.join(", ")))
}

pub(super) fn twice(at: Span, what: &str, name: &str, first: Span) -> Diagnostic {
    Diagnostic::error("name.twice", at, format!("{what} `{name}` is declared twice on this face"))
        .label("again here")
        .also(first, "first here")
}

pub(super) fn twice_in_project(at: Span, what: &str, name: &str, first: Span) -> Diagnostic {
    Diagnostic::error("name.twice", at, format!("{what} `{name}` is declared twice in this project"))
        .label("again here")
        .also(first, "first here")
        .help("give one of the two another name")
}

pub(super) fn layer_twice(at: Span, name: &str, first: Span) -> Diagnostic {
    Diagnostic::error("name.twice", at, format!("two layers of this assembly are called `{name}`"))
        .label("again here")
        .also(first, "first here")
        .help("give one of the two another name")
}

pub(super) fn area_outline(at: Span, name: &str) -> Diagnostic {
    Diagnostic::error("outline.fault", at, format!("the corners of area `{name}` enclose nothing, or its lines cross"))
        .help("name its corners in order, anticlockwise: `outline ((0, 0), (8ft, 0), (8ft, 9ft))`")
}

pub(super) fn area_upside_down(at: Span, name: &str) -> Diagnostic {
    Diagnostic::error("size.not_positive", at, format!("area `{name}` has no height: it ends below where it begins"))
        .help("`above` is its lower end, `below` its upper end")
}

pub(super) fn not_in_a_row(at: Span, word: &str) -> Diagnostic {
    Diagnostic::error("repeat.wrong_thing", at, format!("`{word}` cannot stand in a row"))
        .help("`repeat` places openings, services, blocks, trims and nailers")
}

pub(super) fn other_edition(at: Span, written: i64) -> Diagnostic {
    Diagnostic::error(
        "file.edition",
        at,
        format!("this file is in edition {written} of the language, edition 1 is read"),
    )
    .help("write `wythe 1`, or use a newer program")
}

pub(super) fn second(at: Span, what: &str, first: Span) -> Diagnostic {
    Diagnostic::error("project.second", at, format!("a second {what} is declared"))
        .also(first, "the first one")
        .help(format!("keep one {what}"))
}

pub(super) fn not_positive(at: Span, what: &str) -> Diagnostic {
    Diagnostic::error("size.not_positive", at, format!("{what} must be more than 0"))
        .help("write how much it is, with its unit: `19mm`, `3/4in`")
}

pub(super) fn thickness_within(at: Span, layer: &str, least: &str, most: &str) -> Diagnostic {
    let title = format!("`{layer}` is {least} to {most} thick: figures take the range, marks and cut lengths cannot");
    Diagnostic::warning("thickness.range", at, title)
        .help("what is set out from the thickness of this wall stays open until it has one figure")
}

pub(super) fn row_size(at: Span, most: i64) -> Diagnostic {
    Diagnostic::error("size.not_positive", at, format!("a row has 1 to {most} pieces, at a spacing of more than 0"))
        .help("write how many in all, and from one to the next: `repeat 5 every 1200mm`")
}

pub(super) fn absurd(at: Span, what: &str, shown: &str, most: &str) -> Diagnostic {
    Diagnostic::error("size.absurd", at, format!("{what} of {shown} is no size of a wall"))
        .help(format!("the most that is read is {most}; is the unit right?"))
}

pub(super) fn outside_face(at: Span, what: &str, name: &str, face: &str) -> Diagnostic {
    Diagnostic::error("place.outside", at, format!("{what} `{name}` is not inside the outline of face `{face}`"))
        .help("places are measured from the face's own 0, x to the right seen from outside")
}

pub(super) fn overlap(at: Span, name: &str, other: &str, first: Span) -> Diagnostic {
    if at == first {
        return Diagnostic::error("place.overlap", at, format!("`{name}` overlaps `{other}`, both of one row"))
            .help("make the spacing behind `every` more than their width");
    }
    Diagnostic::error("place.overlap", at, format!("`{name}` overlaps `{other}`"))
        .also(first, "this one")
        .help("check `at` (the lower left corner) and the size, width first, of both")
}

pub(super) fn no_outline(at: Span, face: &str) -> Diagnostic {
    Diagnostic::error("face.no_outline", at, format!("face `{face}` has no outline")).help(
        "write `outline from (0, 0) {` and one line an edge, or for a rectangle `base 0 from 0 to 8m` and `top 2.4m`",
    )
}

pub(super) fn half_rectangle(at: Span, missing: &str) -> Diagnostic {
    Diagnostic::error("face.no_outline", at, format!("this face has no `{missing}`, so it is no rectangle")).help(
        "write both `base HEIGHT from LEFT to RIGHT` and `top HEIGHT`, or `outline from (0, 0) {` and one line an edge",
    )
}

pub(super) fn flat_rectangle(at: Span, upright: bool) -> Diagnostic {
    let title = if upright {
        "the top of this face is not above its base"
    } else {
        "the right end of this face is not right of its left end"
    };
    Diagnostic::error("outline.fault", at, title)
        .help("write `base HEIGHT from LEFT to RIGHT`, then `top HEIGHT`, all from the same datum")
}

pub(super) fn both_outlines(at: Span, outline: Span) -> Diagnostic {
    Diagnostic::error("face.two_outlines", at, "the shorthand for a rectangle stands beside an outline")
        .also(outline, "the outline")
        .help("keep the outline, and put the details on its lines")
}

pub(super) fn open_outline(at: Span) -> Diagnostic {
    Diagnostic::error("outline.open", at, "the walk does not come back to its start")
        .help("end the last edge with `to start`")
}

pub(super) fn outline_fault(at: Span, title: String) -> Diagnostic {
    Diagnostic::error("outline.fault", at, title)
        .help("write one line an edge, anticlockwise from the lower left, each ending where the next begins")
}

pub(super) fn clockwise(at: Span) -> Diagnostic {
    Diagnostic::error("outline.clockwise", at, "the walk goes round clockwise")
        .help("walk anticlockwise: along the base to the right, up, back along the top, and down the left")
}

pub(super) fn no_place(at: Span, name: &str) -> Diagnostic {
    Diagnostic::error("place.missing", at, format!("`{name}` has no place"))
        .help("write `at (x, y)` for its lower left, or `head_at (x, y)` for its upper left")
}

pub(super) fn wrong_detail(at: Span, detail: &str, is_for: &str, found: &str) -> Diagnostic {
    let title = format!("detail `{detail}` is for `{is_for}`, not for `{found}`");
    Diagnostic::error("detail.wrong_place", at, title)
        .help(format!("name a detail whose `at` has `{found}`, or add it to the `at` of `{detail}`"))
}

pub(super) fn no_gap_size(at: Span) -> Diagnostic {
    Diagnostic::error("furring.size", at, "a furring size has a thickness and a width")
        .help("write it as `19mm x 64mm`, thickness first")
}

pub(super) fn rule_says_nothing(at: Span, name: &str) -> Diagnostic {
    Diagnostic::error("rule.silent", at, format!("rule `{name}` has no message")).help("add `says \"…\"`")
}

pub(super) fn rule_wants_nothing(at: Span, name: &str) -> Diagnostic {
    Diagnostic::error("rule.empty", at, format!("rule `{name}` wants nothing"))
        .help("add a line such as `wants depth at_least 19mm`")
}

pub(super) fn no_such_property(at: Span, name: &str, subject: &str, known: &[&str]) -> Diagnostic {
    let mut problem = Diagnostic::error("rule.property", at, format!("a {subject} has no property `{name}`"));
    problem.help.extend(did_you_mean(name, known.iter().copied()));
    problem.help(format!("it has: {}", known.join(", ")))
}

pub(super) fn no_such_option(at: Span, name: &str) -> Diagnostic {
    let mut problem = Diagnostic::error("option.unknown", at, format!("no rule reads an option `{name}`"));
    problem.help.extend(did_you_mean(name, DISPUTES.iter().map(|one| one.name)));
    problem.help(format!("there are: {}", DISPUTES.iter().map(|one| one.name).collect::<Vec<_>>().join(", ")))
}

pub(super) fn no_such_choice(at: Span, dispute: &Dispute) -> Diagnostic {
    Diagnostic::error("option.choice", at, format!("option `{}` does not take this", dispute.name))
        .help(format!("it takes one of: {}", dispute.choices.join(", ")))
}

pub(super) fn negative(at: Span, what: &str) -> Diagnostic {
    Diagnostic::error("size.negative", at, format!("{what} cannot be less than 0"))
        .help("write how much it is, without a sign; 0 for none")
}

pub(super) fn between_itself(at: Span, area: &str) -> Diagnostic {
    Diagnostic::error("between.itself", at, format!("area `{area}` does not meet itself"))
        .help("name two areas: `between lower and upper`")
}

pub(super) fn between_twice(at: Span, lower: &str, upper: &str, first: Span) -> Diagnostic {
    Diagnostic::error("between.twice", at, format!("how `{lower}` and `{upper}` meet is said twice"))
        .label("again here")
        .also(first, "first here")
        .help("keep one; several details of one line stand in it with `from` and `to`")
}

pub(super) fn in_opening(at: Span, what: &str, name: &str, opening: &str, there: Span) -> Diagnostic {
    Diagnostic::error("place.in_opening", at, format!("{what} `{name}` stands in the opening `{opening}`"))
        .also(there, "this opening")
        .help("move it beside the opening; `at` of a service is its centre, of a block its lower left corner")
}

pub(super) fn turned_round(at: Span, what: &str, name: &str) -> Diagnostic {
    Diagnostic::error(
        "size.not_positive",
        at,
        format!("{what} `{name}` has no width: it ends where it begins, or left of it"),
    )
    .help("`from` is its left end, `to` its right end, seen from outside")
}

pub(super) fn stretch_turned_round(at: Span) -> Diagnostic {
    Diagnostic::error("size.not_positive", at, "this stretch has no length: it ends where it begins, or before")
        .help("`from` is its left or lower end, `to` its right or upper one")
}

pub(super) fn two_details(at: Span, first: Span) -> Diagnostic {
    Diagnostic::error("detail.twice", at, "two details are named for one piece of this edge")
        .label("this one")
        .also(first, "and this one")
        .help("give each its stretch, `from … to …`, or let one lie wholly within the other")
}

pub(super) fn meets_itself(at: Span, face: &str) -> Diagnostic {
    Diagnostic::error("corner.itself", at, format!("face `{face}` does not meet itself"))
        .help("name the face at the other side of this corner")
}

pub(super) fn corner_unanswered(at: Span, face: &str, other: &str, there: Span) -> Diagnostic {
    Diagnostic::error("corner.unanswered", at, format!("`{other}` does not meet `{face}`: both its sides meet others"))
        .also(there, "it meets this one")
        .help(format!("name the face that is met here, or let an edge of `{other}` say `meets {face}`"))
}

pub(super) fn corner_kinds(at: Span, face: &str, other: &str, there: Span) -> Diagnostic {
    Diagnostic::error("corner.kinds", at, format!("`{face}` and `{other}` do not agree on the kind of their corner"))
        .also(there, "said here")
        .help("a corner is `outside` or `inside` for both of its faces")
}

pub(super) fn lap_both_ways(at: Span, what: &str, first: Span) -> Diagnostic {
    Diagnostic::error("lap.both_ways", at, format!("this part laps over and under the {what}"))
        .also(first, "the other way here")
        .help("a part lies outboard of what it laps over; keep one of the two")
}

pub(super) fn lap_with_itself(at: Span, what: &str) -> Diagnostic {
    Diagnostic::error("lap.itself", at, format!("this {what} laps itself: there is no other {what} here"))
        .help("name what it laps: `water`, `membrane`, `foundation`, `upper`, …; its own joints are not declared")
}

pub(super) fn exposure_outside(at: Span, product: &str, own: &str, range: &str) -> Diagnostic {
    Diagnostic::error("exposure.outside", at, format!("an exposure of {own} is outside that of `{product}`: {range}"))
        .help("stay within what its maker gives, or take another product")
}

pub(super) fn wrong_kind(at: Span, clause: &str, product: &str, kind: &str, wanted: &[&str]) -> Diagnostic {
    Diagnostic::error("product.wrong_kind", at, format!("`{clause}` does not take `{product}`, a {kind}"))
        .help(format!("it takes one of the kinds: {}", wanted.join(", ")))
}
