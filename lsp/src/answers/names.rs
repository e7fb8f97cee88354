//! Names: where they are given and used, new ones, what uses what, what follows a file that moves.

use std::path::{Path, PathBuf};
use std::str::FromStr as _;

use tower_lsp_server::ls_types::{
    CallHierarchyIncomingCall, CallHierarchyItem, CallHierarchyOutgoingCall, DocumentHighlight, DocumentHighlightKind,
    Location, Position, PrepareRenameResponse, RenameFilesParams, SymbolInformation, TextDocumentPositionParams, Uri,
    WorkspaceEdit,
};
use wythe::ide::{self, Match, Node, Tie};

use super::shape::symbol_kind;
use crate::convert;
use crate::state::{Desk, State};

fn at<'s>(state: &'s mut State, uri: &Uri, position: Position) -> Option<(Desk<'s>, u32)> {
    let desk = state.quick_desk(uri)?;
    let offset = desk.offset(position);
    Some((desk, offset))
}

/// Where the name at a place is given. Places in the library are in documents that can be read only.
pub fn definition(state: &mut State, place: &TextDocumentPositionParams) -> Option<Vec<Location>> {
    let (desk, offset) = at(state, &place.text_document.uri, place.position)?;
    let found = ide::definition(desk.glance, desk.file, offset)?;
    Some(found.to.iter().filter_map(|place| desk.paper.location(place.name)).collect())
}

/// Where it is used.
pub fn references(state: &mut State, place: &TextDocumentPositionParams, with: bool) -> Option<Vec<Location>> {
    let (desk, offset) = at(state, &place.text_document.uri, place.position)?;
    let found = ide::references(desk.glance, desk.file, offset, with);
    Some(found.into_iter().filter_map(|span| desk.paper.location(span)).collect())
}

/// Where it stands in this text.
pub fn highlights(state: &mut State, place: &TextDocumentPositionParams) -> Option<Vec<DocumentHighlight>> {
    let (desk, offset) = at(state, &place.text_document.uri, place.position)?;
    let found = ide::highlights(desk.glance, desk.file, offset);
    let kind = |declares| if declares { DocumentHighlightKind::WRITE } else { DocumentHighlightKind::READ };
    let one =
        |one: &ide::Highlight| DocumentHighlight { range: desk.paper.range(one.span), kind: Some(kind(one.declares)) };
    Some(found.iter().map(one).collect())
}

/// Whether it can have another name; the reason if not.
pub fn prepare_rename(
    state: &mut State,
    place: &TextDocumentPositionParams,
) -> Result<Option<PrepareRenameResponse>, String> {
    let Some((desk, offset)) = at(state, &place.text_document.uri, place.position) else { return Ok(None) };
    let found = ide::prepare_rename(desk.glance, desk.file, offset)?;
    let range = desk.paper.range(found.span);
    Ok(Some(PrepareRenameResponse::RangeWithPlaceholder { range, placeholder: found.name }))
}

/// Gives it another name everywhere; the reason if it cannot have it.
pub fn rename(
    state: &mut State,
    place: &TextDocumentPositionParams,
    new: &str,
) -> Result<Option<WorkspaceEdit>, String> {
    let Some((desk, offset)) = at(state, &place.text_document.uri, place.position) else { return Ok(None) };
    let edits = ide::rename(desk.glance, desk.file, offset, new)?;
    Ok(desk.paper.workspace_edit(&edits))
}

/// What follows from texts that get other names.
pub fn will_rename(state: &mut State, params: &RenameFilesParams) -> Option<WorkspaceEdit> {
    let path = |uri: &str| convert::path(&Uri::from_str(uri).ok()?);
    let first = params.files.first()?;
    let desk = state.quick_desk(&Uri::from_str(&first.old_uri).ok()?)?;
    let known = desk.glance.project.files.path(desk.file);
    let depth = Path::new(known).components().count();
    let root: PathBuf = path(&first.old_uri)?.ancestors().nth(depth)?.to_owned();
    let below = |uri: &str| crate::folder::relative(&root, &path(uri)?);
    let moves: Vec<(String, String)> =
        params.files.iter().filter_map(|one| Some((below(&one.old_uri)?, below(&one.new_uri)?))).collect();
    desk.paper.workspace_edit(&ide::rename_files(desk.glance, &moves).edits)
}

/// Everything of the project in hand whose name has these letters.
pub fn find_named(state: &mut State, query: &str) -> Option<Vec<SymbolInformation>> {
    // Every project has the common materials, so this text finds the one that was worked on last.
    let desk = state.quick_desk(&Uri::from_str("wythe-std:/materials.wythe").ok()?)?;
    let shown = |one: Match| {
        #[allow(deprecated)] // the field must be given
        Some(SymbolInformation {
            name: one.name,
            kind: symbol_kind(one.kind),
            tags: None,
            deprecated: None,
            location: desk.paper.location(one.at)?,
            container_name: Some(one.of).filter(|of| !of.is_empty()),
        })
    };
    Some(ide::find_named(desk.glance, query).into_iter().filter_map(shown).collect())
}

/// The declaration under the cursor, as the middle of what uses what.
pub fn prepare_calls(state: &mut State, place: &TextDocumentPositionParams) -> Option<Vec<CallHierarchyItem>> {
    let (desk, offset) = at(state, &place.text_document.uri, place.position)?;
    let node = ide::node_at(desk.glance, desk.file, offset)?;
    Some(item(&desk, &node).into_iter().collect())
}

fn item(desk: &Desk<'_>, node: &Node) -> Option<CallHierarchyItem> {
    Some(CallHierarchyItem {
        name: node.name.clone(),
        kind: symbol_kind(node.kind),
        tags: None,
        detail: Some(node.word.to_owned()),
        uri: desk.paper.uri(node.place.whole.file)?,
        range: desk.paper.range(node.place.whole),
        selection_range: desk.paper.range(node.place.name),
        data: None,
    })
}

/// What uses a declaration.
pub fn incoming(state: &mut State, of: &CallHierarchyItem) -> Option<Vec<CallHierarchyIncomingCall>> {
    let (desk, offset) = at(state, &of.uri, of.selection_range.start)?;
    let node = ide::node_at(desk.glance, desk.file, offset)?;
    let call = |tie: Tie| {
        let from_ranges = tie.at.iter().map(|span| desk.paper.range(*span)).collect();
        Some(CallHierarchyIncomingCall { from: item(&desk, &tie.node)?, from_ranges })
    };
    Some(ide::used_by(desk.glance, node.id).into_iter().filter_map(call).collect())
}

/// What a declaration uses.
pub fn outgoing(state: &mut State, of: &CallHierarchyItem) -> Option<Vec<CallHierarchyOutgoingCall>> {
    let (desk, offset) = at(state, &of.uri, of.selection_range.start)?;
    let node = ide::node_at(desk.glance, desk.file, offset)?;
    let call = |tie: Tie| {
        let from_ranges = tie.at.iter().map(|span| desk.paper.range(*span)).collect();
        Some(CallHierarchyOutgoingCall { to: item(&desk, &tie.node)?, from_ranges })
    };
    Some(ide::uses_of(desk.glance, node.id).into_iter().filter_map(call).collect())
}
