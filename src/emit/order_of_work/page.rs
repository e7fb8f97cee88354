//! The page: black on white, boxes of 6 mm to tick with a cold hand, one heading a section.

use maud::{DOCTYPE, Markup, html};

use super::steps::{Group, Step, stop_words, trade};
use crate::continuity::{Crossing, Order, Removal, removals};
use crate::emit::footer_line;
use crate::emit::head::head;
use crate::session::Checked;

const STYLE: &str = "
:root{color-scheme:only light}
body{background:#fff;color:#000;font:1.1rem/1.4 'Helvetica Neue',Arial,sans-serif;margin:0 auto;max-width:60rem;padding:1rem}
h1{font-size:1.6rem;margin:.2rem 0}h2{font-size:1.3rem;border-bottom:3px solid #000;margin:2rem 0 .5rem;break-after:avoid}
p{margin:.3rem 0}.line{border:3px solid #000;padding:.6rem .8rem}.small{font-size:1rem}
table{border-collapse:collapse;width:100%}td{border-top:1px solid #000;padding:.45rem .5rem .45rem 0;vertical-align:top}
tr{break-inside:avoid}.no{width:2.6rem;text-align:right;font-weight:700}.who{width:9rem}.box{width:11mm}
.tick{display:inline-block;width:6mm;height:6mm;border:.5mm solid #000;box-sizing:border-box}
.hold td{border-top:3px solid #000;border-bottom:3px solid #000;font-weight:700}
a{color:#000}
@media print{body{font-size:10.5pt;max-width:none}}
";

/// The whole page.
pub(super) fn page(checked: &Checked, order: &Order, groups: &[Group]) -> String {
    let project = &checked.model.project;
    let name = [&project.title, &project.name].into_iter().find(|name| !name.is_empty()).map_or("Wall", |name| name);
    let markup = html! {
        (DOCTYPE)
        html lang="en" {
            (head(&format!("Order of work: {name}"), STYLE))
            body {
                h1 { "Order of work: " (name) @if !project.revision.is_empty() { ", revision " (project.revision) } }
                p.line { (footer_line(checked)) }
                @if let Some(today) = checked.today { p { "Checked for " (today) "." } }
                (circles(order))
                p.small { "Every step comes after all that it laps over, is fastened to or covers. A thick box is a hold point: somebody looks, and signs, before the next step." }
                @for group in groups { (section(group)) }
                (stops(checked, order))
                (services(checked))
                (authors(checked))
                p.line { (footer_line(checked)) }
            }
        }
    };
    markup.into_string()
}

fn circles(order: &Order) -> Markup {
    html! {
        @if !order.loops.is_empty() {
            h2 { "No order builds this" }
            @for circle in &order.loops { p.line { (named(&order.reasons(circle).join("; "))) } }
            p { "The steps below break these circles where they can: do not build from them before the circles are mended." }
        }
    }
}

fn section(group: &Group) -> Markup {
    html! {
        h2 { (group.title) }
        @for note in &group.notes { p.small { (named(note)) } }
        table { @for step in &group.steps { (row(step)) } }
    }
}

fn row(step: &Step) -> Markup {
    let words = counted(step);
    html! {
        tr class=[step.hold.map(|_| "hold")] {
            td.box { span.tick {} }
            td.no { (step.number) }
            td { @if !step.place.is_empty() { b { (step.place) } ": " } @if let Some(point) = step.hold { (point) ", " } (named(&words.join(" · "))) }
            td.who { (trade(step.by)) }
        }
    }
}

/// What is done in a step, in order; what comes several times is counted where it comes first.
fn counted(step: &Step) -> Vec<String> {
    let mut found: Vec<(&str, usize)> = Vec::new();
    for (_, words) in &step.tasks {
        match found.iter_mut().find(|(known, _)| known == words) {
            Some((_, count)) => *count += 1,
            None => found.push((words, 1)),
        }
    }
    found
        .into_iter()
        .map(|(words, count)| if count == 1 { words.to_owned() } else { format!("{count} × {words}") })
        .collect()
}

fn stops(checked: &Checked, order: &Order) -> Markup {
    html! {
        @if order.stops.iter().any(|stop| !stop.last) {
            h2 { "Stop lines and tonight's rain" }
            table {
                @for stop in order.stops.iter().filter(|stop| !stop.last) {
                    @if let Some(section) = checked.model.sections.get(stop.section) {
                        tr { td { b { (section.on.0) "." (section.name) } } td { (named(&stop_words(checked, stop))) } }
                    }
                }
            }
        }
    }
}

fn services(checked: &Checked) -> Markup {
    let ways = removals(&checked.model, &checked.plan);
    html! {
        @if !ways.is_empty() {
            h2 { "How each service comes out again" }
            table { @for way in &ways { (service(checked, way)) } }
        }
    }
}

fn service(checked: &Checked, way: &Removal) -> Markup {
    let face = checked.model.face(way.face);
    let Some((face, service)) = face.and_then(|face| Some((face, face.services.get(way.service)?))) else {
        return html! {};
    };
    html! {
        tr {
            td { b { (face.dotted(service)) } }
            td {
                @for (number, step) in way.steps.iter().enumerate() { p { (number + 1) ". " (named(step)) } }
                @match barred(way) {
                    Some(words) => p { b { (named(&words)) } },
                    None if way.renew.is_empty() => p { "The air barrier stays whole." },
                    None => p { "Make new afterwards: " (named(&way.renew.join("; "))) "." },
                }
                @if !service.removal.is_empty() {
                    p.small { "As written: " (service.removal.iter().map(|step| &**step).collect::<Vec<_>>().join("; ")) "." }
                }
            }
        }
    }
}

fn barred(way: &Removal) -> Option<String> {
    let crossing = way.crosses.as_ref().map(|crossing| match crossing {
        Crossing::EndsBehind(cover) => format!("Barred: it ends behind {cover}."),
        Crossing::SealBehind(seal, cover) => format!("Barred: its {seal} lies behind {cover}."),
        Crossing::StaysOn(block) => format!("Barred: {block} does not come off."),
    });
    let hidden = way.hidden.as_ref().map(|cover| format!("Hidden behind {cover}."));
    crossing.or(hidden).or_else(|| way.untold.as_ref().map(|missing| format!("Can't tell: {missing}.")))
}

/// What the authors of details say of their order, once for each.
fn authors(checked: &Checked) -> Markup {
    let details: Vec<_> = checked.model.details.iter().filter(|detail| !detail.order.is_empty()).collect();
    html! {
        @if !details.is_empty() {
            h2 { "In the words of the details" }
            table {
                @for detail in details {
                    tr {
                        td { b { (detail.name) } }
                        td { @for step in &detail.order { p { (step) } } }
                    }
                }
            }
        }
    }
}

/// Names between backticks set in bold.
fn named(text: &str) -> Markup {
    let parts = text.split('`').enumerate();
    html! { @for (at, part) in parts { @if at % 2 == 1 { b { (part) } } @else { (part) } } }
}
