//! The page that opens first: how many faults, what to mend before which work, and a link to every sheet.
//! Black on white and large, so that it can be read on a wet screen in daylight; it needs nothing but itself.

use std::collections::BTreeSet;

use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::findings::not_checked::{Missing, counts, not_checked};
use super::findings::text::{acceptance, facts, hold_point};
use super::footer::{footer_line, found};
use super::head::head;
use super::{Emitter, Output, viewer};
use crate::checks::{Grade, Settled};
use crate::diagnose::{Diagnostic, Severity};
use crate::session::Checked;

const STYLE: &str = "
:root{color-scheme:only light}
body{background:#fff;color:#000;font:1.2rem/1.45 'Helvetica Neue',Arial,sans-serif;margin:0 auto;max-width:74rem;padding:1rem}
h1{font-size:1.6rem;margin:.2rem 0}h2{font-size:1.35rem;border-bottom:3px solid #000;margin:2.2rem 0 .6rem}
h3{font-size:1.15rem;margin:1.6rem 0 .4rem}p{margin:.35rem 0}
.count{font-size:2.4rem;font-weight:700;line-height:1.15;margin:.8rem 0 .4rem}.line{border:3px solid #000;padding:.6rem .8rem}
ul{list-style:none;margin:0;padding:0}li{margin:0;padding:.7rem 0 .7rem 2.6rem;position:relative;border-top:1px solid #000}
h2+ul>li:first-child{border-top:0}.plain li{padding-left:0}li>svg{position:absolute;left:.1rem;top:.75rem;width:1.9rem;height:1.9rem}
.what{font-weight:700}.small{font-size:1.05rem}
.sheets li{padding-left:0}.sheets a,.two a{display:inline-block;padding:.35rem 0}
a{color:#000;text-decoration:underline;text-decoration-thickness:2px;text-underline-offset:3px}
figure{margin:0 0 1.2rem}img{display:block;width:100%;height:auto;border:1px solid #000}
@media(min-width:60rem){.two{display:grid;grid-template-columns:3fr 2fr;gap:2rem;align-items:start}.two>aside{position:sticky;top:1rem}}
@media print{body{font-size:11pt}.two>aside{position:static}}
";

/// One stroke of chalk, as drawn on the wall beside what is to be mended.
const CHALK: &str = "<svg viewBox='0 0 20 20' aria-hidden='true'><path d='M4 17 9 9 16 3' fill='none' stroke='#000' \
stroke-width='2.6' stroke-linecap='round'/><path d='M5.2 17.3 10.5 9.3 16.6 4.4' fill='none' stroke='#000' \
stroke-width='.7'/></svg>";

/// Larger to touch, for a page that is served to a screen of glass.
const TOUCH: &str = "
.sheets li{border:0;padding:0 0 .6rem}.sheets a{display:flex;align-items:center;min-height:3.6rem;padding:.2rem .8rem;
border:3px solid #000;text-decoration:none;font-weight:700}
#ended{background:#000;color:#fff;font-weight:700;padding:.8rem;margin:0 0 .6rem}
";

/// From where the page is read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Shown<'v> {
    /// Beside its sheets in a folder.
    Folder,
    /// By `wythe view`, at this version of the texts.
    Served(&'v str),
}

impl Shown<'_> {
    /// Where a sheet is shown.
    fn address(self, output: &Output) -> String {
        match self {
            Shown::Folder => output.path.clone(),
            Shown::Served(_) => viewer::address(output),
        }
    }
}

/// The page. `groups` are the outputs of each emitter; all of them are linked.
pub(super) fn page(checked: &Checked, groups: &[(&dyn Emitter, Vec<Output>)], shown: Shown<'_>) -> Output {
    let project = &checked.model.project;
    let name = [&project.title, &project.name].into_iter().find(|name| !name.is_empty()).map_or("Wall", |name| name);
    let style = if shown == Shown::Folder { STYLE.to_owned() } else { format!("{STYLE}{TOUCH}") };
    let markup = html! {
        (DOCTYPE)
        html lang="en" {
            (head(name, &style))
            body {
                @if let Shown::Served(version) = shown { (viewer::live(version)) }
                h1 { (name) @if !project.revision.is_empty() { ", revision " (project.revision) } }
                p.count { (found(checked)) }
                p.line { (footer_line(checked)) }
                @if let Some(today) = checked.today { p { "Checked for " (today) "." } }
                (mistakes(checked))
                (to_mend(checked, groups, shown))
                (listed(checked, "Can't tell", |one| one.finding.severity == Severity::Unknown))
                (not_looked_at(checked, groups))
                (listed(checked, "Worth knowing", |one| one.finding.severity == Severity::Note))
                (accepted(checked))
                (sheets(groups, shown))
                p.line { (footer_line(checked)) }
            }
        }
    };
    let path = if shown == Shown::Folder { "index.html" } else { "" };
    Output::text(path, "First page", markup.into_string())
}

fn mistakes(checked: &Checked) -> Markup {
    html! {
        @if !checked.problems.is_empty() {
            h2 { "Mistakes in the text" }
            p { "What hangs on these places was not checked or drawn." }
            ul { @for problem in &checked.problems { (mistake(checked, problem)) } }
        }
    }
}

fn mistake(checked: &Checked, problem: &Diagnostic) -> Markup {
    html! {
        li {
            (PreEscaped(CHALK))
            p.what { (named(&problem.title)) }
            @for line in &problem.help { p { (named(line)) } }
            p.small { (place(checked, problem.main.span)) }
        }
    }
}

fn is_fault(settled: &Settled) -> bool {
    settled.accepted.is_none() && matches!(settled.finding.severity, Severity::Violation | Severity::Warning)
}

/// Faults under a heading for each grade and hold point, with the elevations beside them. The findings come sorted so.
fn to_mend(checked: &Checked, groups: &[(&dyn Emitter, Vec<Output>)], shown: Shown<'_>) -> Markup {
    let faults: Vec<&Settled> = checked.findings.iter().filter(|one| is_fault(one)).collect();
    let heading = |one: &&Settled| (one.finding.grade, one.finding.before);
    let parts = faults.chunk_by(|a, b| heading(a) == heading(b));
    let walls = walls(checked, &faults);
    let elevations = groups.iter().flat_map(|(_, outputs)| outputs).filter(|output| walls.contains(&output.path));
    html! {
        @if !faults.is_empty() {
            h2 { "To mend" }
            div.two {
                div {
                    @for part in parts {
                        @if let Some(first) = part.first() { h3 { (grade(first.finding.grade, first.finding.before)) } }
                        ul { @for one in part { (finding(checked, one)) } }
                    }
                }
                aside {
                    @for output in elevations {
                        figure {
                            a href=(shown.address(output)) { img src=(output.path) alt=(output.title); }
                            figcaption { a href=(shown.address(output)) { (output.title) } }
                        }
                    }
                }
            }
        }
    }
}

/// The elevations of the faces that these faults are about.
fn walls(checked: &Checked, faults: &[&Settled]) -> BTreeSet<String> {
    let stretches = faults.iter().filter_map(|one| one.finding.stretch.as_ref());
    let faces = stretches.filter_map(|stretch| checked.model.face(stretch.face));
    faces.map(|face| format!("elevations/{}.svg", face.name)).collect()
}

fn grade(grade: Grade, before: &str) -> String {
    format!("{} {}{}", grade.word(), grade.phrase(), hold_point(before))
}

fn listed(checked: &Checked, heading: &str, wanted: impl Fn(&Settled) -> bool) -> Markup {
    let found: Vec<&Settled> = checked.findings.iter().filter(|one| one.accepted.is_none() && wanted(one)).collect();
    html! {
        @if !found.is_empty() {
            h2 { (heading) }
            ul { @for one in found { (finding(checked, one)) } }
        }
    }
}

/// What was not checked, as loud as what was found.
fn not_looked_at(checked: &Checked, groups: &[(&dyn Emitter, Vec<Output>)]) -> Markup {
    let found = not_checked(checked);
    let lines = counts(&found);
    let full = groups.iter().flat_map(|(_, outputs)| outputs).find(|output| output.path == "not-checked.txt");
    let place = |one: &Missing| {
        let places: Vec<String> = one.places.iter().map(|spot| format!("{}, line {}", spot.file, spot.line)).collect();
        places.join("; ")
    };
    html! {
        @if !lines.is_empty() || !found.missing.is_empty() {
            h2 { "Not checked" }
            ul.plain {
                @for one in &found.missing {
                    li {
                        p.what { "missing: " (named(&one.fact)) @if one.stop { " (stop)" } }
                        p.small { (place(one)) }
                    }
                }
                @for line in &lines { li { p.what { (line) } } }
                @for row in &found.not_claimed { li { p { b { (row.id) } " " (row.title) } p.small { (row.why) } } }
            }
            @if let Some(full) = full { p { a href=(full.path) { "the whole list" } } }
        }
    }
}

fn accepted(checked: &Checked) -> Markup {
    let found: Vec<&Settled> = checked.findings.iter().filter(|one| one.accepted.is_some()).collect();
    html! {
        @if !found.is_empty() {
            h2 { "Knowingly accepted" }
            ul { @for one in found { (finding(checked, one)) } }
        }
    }
}

fn finding(checked: &Checked, settled: &Settled) -> Markup {
    let finding = &settled.finding;
    html! {
        li {
            (PreEscaped(CHALK))
            p.what { (named(&finding.message)) }
            @if let Some(line) = acceptance(checked, settled) { p { (line) } }
            @for line in facts(finding) { p { (named(&line)) } }
            @for line in &finding.help { p { (named(line)) } }
            p.small { (finding.rule) " · " (place(checked, finding.at)) }
        }
    }
}

/// `walls/north.wythe`, line 12.
fn place(checked: &Checked, span: crate::source::Span) -> String {
    let files = &checked.project.files;
    format!("{}, line {}", files.path(span.file), files.position(span.file, span.start).line)
}

fn sheets(groups: &[(&dyn Emitter, Vec<Output>)], shown: Shown<'_>) -> Markup {
    html! {
        h2 { "Sheets" }
        @for (emitter, outputs) in groups {
            @if !outputs.is_empty() {
                h3 { (emitter.title()) }
                ul.sheets { @for output in outputs { li { a href=(shown.address(output)) { (output.title) } } } }
            }
        }
    }
}

/// Names between backticks set in bold.
fn named(text: &str) -> Markup {
    let parts = text.split('`').enumerate();
    html! { @for (at, part) in parts { @if at % 2 == 1 { b { (part) } } @else { (part) } } }
}
