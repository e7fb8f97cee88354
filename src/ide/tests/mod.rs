//! What an editor asks about names and the shape of a text, with the cursor at `$0`.

mod find;
mod rename;

use super::testing::Desk;
use crate::source::Span;

/// `path:line:column text` of a place, for people.
fn shown(desk: &Desk, span: Span) -> String {
    let files = &desk.glance.project.files;
    let at = files.position(span.file, span.start);
    format!("{}:{}:{} {}", files.path(span.file), at.line, at.column, files.slice(span).lines().next().unwrap_or(""))
}
