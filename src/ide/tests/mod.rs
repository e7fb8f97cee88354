//! What an editor asks about names and the shape of a text, with the cursor at `$0`.

mod broken;
mod drawing;
mod find;
mod formatting;
mod rename;
mod rename_file;
mod shape;
mod uses;

use std::collections::BTreeMap;

use super::Edits;
use super::testing::Desk;
use crate::session::{Glance, Live, Settings};
use crate::source::{MapWorld, Span, World};

/// `path:line:column text` of a place, for people.
fn shown(desk: &Desk, span: Span) -> String {
    let files = &desk.glance.project.files;
    let at = files.position(span.file, span.start);
    format!("{}:{}:{} {}", files.path(span.file), at.line, at.column, files.slice(span).lines().next().unwrap_or(""))
}

/// The texts of a project after some edits, by path.
fn edited(glance: &Glance, edits: &Edits) -> BTreeMap<String, String> {
    let files = &glance.project.files;
    let own = files.ids().filter(|id| !files.is_std(*id));
    let mut texts: BTreeMap<String, String> =
        own.map(|id| (files.path(id).to_owned(), files.text(id).to_owned())).collect();
    for (span, new) in edits.iter().rev() {
        texts.get_mut(files.path(span.file)).unwrap().replace_range(span.range(), new);
    }
    texts
}

fn world(texts: &BTreeMap<String, String>) -> MapWorld {
    texts.iter().fold(MapWorld::new(), |world, (path, text)| world.with(path, text))
}

fn checked(world: &MapWorld) -> Glance {
    Live::default().check(world, &world.list(), &Settings::default())
}
