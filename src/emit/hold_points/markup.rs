//! The page itself: black on white, large, one column, so that it works on a wet phone and on paper in a sleeve. Each tick box
//! is 9 mm wide, and what is to be written has a ruled space.

use maud::{DOCTYPE, Markup, html};

use super::points::{Ask, Point};
use crate::checks::Settled;
use crate::checks::catalogue::{How, Piece, failures, fill, pieces};
use crate::emit::findings::text::{acceptance, facts, work};
use crate::emit::footer::{count, footer_line};
use crate::emit::head::head;
use crate::model::{Evidence, FaceId};
use crate::session::Checked;

const STYLE: &str = "
:root{color-scheme:only light}*{box-sizing:border-box}
body{background:#fff;color:#000;font:1.2rem/1.4 'Helvetica Neue',Arial,sans-serif;margin:0 auto;max-width:52rem;padding:1rem}
h1{font-size:1.7rem;margin:.2rem 0}h3{font-size:1.2rem;margin:1.2rem 0 .3rem}p{margin:.3rem 0}
h2{font-size:1.6rem;line-height:1.2;border-top:5px solid #000;padding-top:.6rem;margin:2.4rem 0 .3rem}
h2 b{border:3px solid #000;padding:0 .4rem;margin-right:.4rem}
.line{border:3px solid #000;padding:.5rem .7rem}.small{font-size:1rem}
nav{display:flex;flex-wrap:wrap;gap:.5rem;margin:.8rem 0}
nav a{border:3px solid #000;color:#000;font-weight:700;min-width:3.6rem;padding:.7rem;text-align:center;text-decoration:none}
ul{list-style:none;margin:0;padding:0}
li{border-top:1px solid #000;break-inside:avoid;padding:.6rem 0 .6rem 13mm;position:relative}
.box{border:.7mm solid #000;display:inline-block;height:9mm;width:9mm}
li>.box{left:0;position:absolute;top:.6rem}
.what .number{font-size:1.3em;white-space:nowrap}
.places{display:flex;flex-wrap:wrap;gap:.4rem 1.4rem;margin:.4rem 0}
.places span{align-items:center;display:flex;font-weight:700;gap:.5rem}
.write{display:grid;gap:.3rem .7rem;grid-template-columns:repeat(auto-fit,minmax(5.2rem,1fr));margin-top:.3rem}
.write span{border-bottom:2px solid #000;font-size:1rem;height:11mm;padding-top:.1rem}
.seen{border:3px solid #000;font-weight:700;padding:.5rem .7rem}
@media print{@page{margin:12mm}body{font-size:11pt;max-width:none;padding:0}nav{display:none}
section{break-before:page}section:first-of-type{break-before:auto}h3{break-after:avoid}}
";

/// The page with these hold points.
pub(super) fn page(checked: &Checked, face: Option<FaceId>, title: &str, points: &[Point<'_>]) -> Markup {
    let project = &checked.model.project;
    let total = |of: fn(&Point<'_>) -> usize| points.iter().map(of).sum::<usize>();
    let (mend, find_out, look) =
        (total(|point| point.mend.len()), total(|point| point.find_out.len()), total(|point| point.asks.len()));
    html! {
        (DOCTYPE)
        html lang="en" {
            (head(title, STYLE))
            body {
                p.small { (project.title) @if !project.revision.is_empty() { ", revision " (project.revision) } }
                h1 { (title) }
                p { b { (mend) " to mend, " (find_out) " to find out, " (look) " to look at" } }
                p.line { (footer_line(checked)) }
                nav { @for point in points { a href=(format!("#{}", point.code)) { (point.code) } } }
                @for point in points { (hold_point(checked, face, point)) }
                @if let Some(face) = face { (not_claimed(checked, face)) }
                p.line { (footer_line(checked)) }
            }
        }
    }
}

fn hold_point(checked: &Checked, face: Option<FaceId>, point: &Point<'_>) -> Markup {
    html! {
        section id=(point.code) {
            h2 { b { (point.code) } "before " (work(point.code).unwrap_or("it is covered")) }
            p { "Look at " (point.about) ". Proof: " (point.proof) "." }
            (recorded(checked, face, &point.seen))
            (findings(checked, "To mend first", &point.mend))
            (findings(checked, "To find out first", &point.find_out))
            @if !point.asks.is_empty() {
                h3 { "To look at" }
                ul { @for ask in &point.asks { (line(checked, ask)) } }
            }
            (findings(checked, "Knowingly accepted", &point.accepted))
            div.write { span { (point.code) " seen by" } span { "date" } span { "photos" } }
        }
    }
}

/// What is written in the text about this hold point; silence is "not yet seen".
fn recorded(checked: &Checked, face: Option<FaceId>, seen: &[&Evidence]) -> Markup {
    html! {
        @if seen.is_empty() && face.is_some() { p.seen { "Not yet seen." } }
        @for one in seen {
            p.seen { (of_evidence(checked, one)) }
            @for photo in &one.photos { p.small { "photo: " (photo) } }
            @for reading in &one.readings { p.small { "reading: " (reading) } }
            @if let Some(note) = &one.note { p.small { (note) } }
        }
    }
}

/// "`north.kitchen`: seen 2026-10-02 by crew lead, counts until 2026-12-01".
fn of_evidence(checked: &Checked, one: &Evidence) -> String {
    let when = one.seen.map_or_else(|| ", the day was not written down".to_owned(), |day| format!(" on {day}"));
    let until = match (one.until, checked.today) {
        (Some(until), Some(today)) if today > until => format!("; counted until {until}: look again"),
        (Some(until), _) => format!("; counts until {until}"),
        (None, _) => String::new(),
    };
    format!("{}: recorded as seen by {}{when}{until}", one.place, one.by)
}

fn findings(checked: &Checked, heading: &str, found: &[&Settled]) -> Markup {
    html! {
        @if !found.is_empty() {
            h3 { (heading) }
            ul { @for one in found { (finding(checked, one)) } }
        }
    }
}

fn finding(checked: &Checked, settled: &Settled) -> Markup {
    let finding = &settled.finding;
    html! {
        li {
            span.box {}
            p.what { (named(&finding.message)) }
            @if let Some(line) = acceptance(checked, settled) { p { (line) } }
            @for line in facts(finding) { p.small { (named(&line)) } }
            @for line in &finding.help { p { (named(line)) } }
            @if settled.accepted.is_none() { (write(&["mended by", "date"])) }
        }
    }
}

/// A line for eyes, with a tick for each place, and space for what is read.
fn line(checked: &Checked, ask: &Ask) -> Markup {
    let line = &ask.line;
    let has_number = pieces(line.text).iter().any(|piece| !matches!(piece, Piece::Words(_)));
    let mut fields = vec!["initials", "date"];
    if has_number {
        fields.insert(0, "reading");
    }
    if line.photo {
        fields.insert(0, "photo");
    }
    html! {
        li {
            @if ask.places.is_empty() { span.box {} }
            p.what { (with_numbers(checked, line.text)) }
            @if !ask.places.is_empty() {
                div.places { @for place in &ask.places { span { i.box {} (place) } } }
            }
            p.small { (small(checked, ask)) }
            (write(&fields))
        }
    }
}

/// Who looks, whether with a photograph, for which failure, and whose numbers these are.
fn small(checked: &Checked, ask: &Ask) -> String {
    let mut parts = vec![ask.line.who.to_owned()];
    if ask.line.photo {
        parts.push("photo".to_owned());
    }
    parts.push(format!("against {}: {}", ask.failure.id, ask.failure.title));
    for piece in pieces(ask.line.text) {
        let source = match piece {
            Piece::Words(_) => continue,
            Piece::Length(_) => "common practice".to_owned(),
            Piece::Limit(name) => checked.model.limit(name).map(|limit| limit.citation()).unwrap_or_default(),
        };
        if !source.is_empty() && !parts.contains(&source) {
            parts.push(source);
        }
    }
    parts.join(" · ")
}

fn write(fields: &[&str]) -> Markup {
    html! { div.write { @for field in fields { span { (field) } } } }
}

/// The line with its numbers large.
fn with_numbers(checked: &Checked, text: &str) -> Markup {
    html! {
        @for piece in pieces(text) {
            @match piece {
                Piece::Words(words) => { (words) }
                other => { b.number { (fill::shown(other, &checked.model)) } }
            }
        }
    }
}

/// What nothing looks for on this face.
fn not_claimed(checked: &Checked, face: FaceId) -> Markup {
    let rows = failures().filter_map(|row| match row.how {
        How::NotClaimed { why, on } => on.places(&checked.model, face).map(|_| (row, why)),
        _ => None,
    });
    let rows: Vec<_> = rows.collect();
    html! {
        @if !rows.is_empty() {
            section {
                h2 { "Not looked for" }
                p { (count(rows.len(), "way to fail", "ways to fail")) " on this wall that neither a check nor this sheet looks for." }
                ul { @for (row, why) in rows { li { p.what { (row.title) } p { (why) } p.small { (row.id) } } } }
            }
        }
    }
}

/// Names between backticks set in bold.
fn named(text: &str) -> Markup {
    let parts = text.split('`').enumerate();
    html! { @for (at, part) in parts { @if at % 2 == 1 { b { (part) } } @else { (part) } } }
}
