//! The pages of `wythe view`: the first page, and one for every elevation, wall section and gap, which are loaded anew when a
//! text is saved. Large, black on white, for wet hands in gloves; they need nothing but each other.

use maud::{DOCTYPE, Markup, html};

use super::elevation::{Elevations, capital};
use super::figures::AirSheets;
use super::head::head;
use super::index::{self, Shown};
use super::wall_section::WallSections;
use super::{Emitter, Output, footer_line};
use crate::session::Checked;

/// A drawing is wider than a phone: it is moved about in its box, and its own page can be made larger.
const STYLE: &str = "
:root{color-scheme:only light}
body{background:#fff;color:#000;font:1.2rem/1.4 'Helvetica Neue',Arial,sans-serif;margin:0;padding:.6rem}
h1{font-size:1.5rem;margin:.8rem 0}
nav{display:flex;gap:.6rem}
nav a{flex:1;min-height:3.6rem;display:flex;align-items:center;justify-content:center;text-align:center;padding:.2rem .6rem;
border:3px solid #000;color:#000;text-decoration:none;font-weight:700}
.sheet{overflow:auto;border:1px solid #000}
.sheet img{display:block;width:100%;min-width:72rem;height:auto}
.line{border:3px solid #000;padding:.6rem .8rem}
#ended{background:#000;color:#fff;font-weight:700;padding:.8rem;margin:0 0 .6rem}
";

/// Keeps a page as new as its texts. It knows its own version from the name it was asked for by.
const SCRIPT: &str = "'use strict';
const own = document.currentScript.src.split('?')[1];
const ended = document.getElementById('ended');
const events = new EventSource('/events');
events.onopen = () => { ended.hidden = true; };
events.onerror = () => { ended.hidden = false; };
events.onmessage = (event) => { if (event.data !== own) location.reload(); };
";

/// Everything that is served; `version` names this state of the texts.
pub fn pages(checked: &Checked, version: &str) -> Vec<Output> {
    let emitters: [&dyn Emitter; 3] = [&Elevations, &WallSections, &AirSheets];
    let groups = emitters.map(|emitter| (emitter, emitter.emit(checked)));
    let drawings: Vec<&Output> = groups.iter().flat_map(|(_, outputs)| outputs).collect();
    let mut pages = vec![index::page(checked, &groups, Shown::Served(version))];
    for (at, drawing) in drawings.iter().enumerate() {
        let beside = |other: Option<usize>| other.and_then(|other| drawings.get(other)).copied();
        pages.push(page(checked, drawing, [beside(at.checked_sub(1)), beside(Some(at + 1))], version));
    }
    pages.push(Output::text("live.js", "", SCRIPT));
    pages.extend(groups.into_iter().flat_map(|(_, outputs)| outputs));
    pages
}

/// Where the page of a drawing is: `elevations/north` for `elevations/north.svg`.
pub(super) fn address(drawing: &Output) -> String {
    format!("/{}", drawing.path.trim_end_matches(".svg"))
}

/// Tells that the page is no longer kept new, and keeps it so while it is.
pub(super) fn live(version: &str) -> Markup {
    html! {
        p #ended hidden { "This page is no longer kept up to date: `wythe view` has ended, or cannot be reached." }
        script src={ "/live.js?" (version) } {}
    }
}

/// The page of one drawing, with the ways to those beside it.
fn page(checked: &Checked, drawing: &Output, [before, after]: [Option<&Output>; 2], version: &str) -> Output {
    let title = capital(&drawing.title);
    let markup = html! {
        (DOCTYPE)
        html lang="en" {
            (head(&title, STYLE))
            body {
                (live(version))
                nav {
                    @if let Some(before) = before { a href=(address(before)) title=(before.title) { "← before" } }
                    a href="/" { "all sheets" }
                    @if let Some(after) = after { a href=(address(after)) title=(after.title) { "next →" } }
                }
                h1 { (title) }
                div.sheet { img src={ "/" (drawing.path) } alt=(drawing.title); }
                nav { a href={ "/" (drawing.path) } { "the sheet alone, to enlarge or print" } }
                p.line { (footer_line(checked)) }
            }
        }
    };
    Output::text(address(drawing).trim_start_matches('/'), drawing.title.clone(), markup.into_string())
}
