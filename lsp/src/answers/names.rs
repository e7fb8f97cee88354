//! Names and the shape of a text: where they are given and used, new names, outlines, folds, colours, lenses, formatting.

use std::path::Path;

use tower_lsp_server::ls_types::*;
use wythe::ide::{self, Action, Entry, Kind, Place, Target, TokenKind};
use wythe::resolve::DeclarationId;
use wythe::source::Span;

use crate::convert;
use crate::state::{Desk, State};

/// What was asked cannot be done, in words for the user.
pub type Refusal = String;

fn desk<'s>(state: &'s mut State, at: &TextDocumentPositionParams) -> Option<(Desk<'s>, u32)> {
    let desk = state.desk(&at.text_document.uri)?;
    let offset = desk.offset(at.position);
    Some((desk, offset))
}

/// Where the name under the cursor is given.
pub fn definition(state: &mut State, at: &TextDocumentPositionParams) -> Option<GotoDefinitionResponse> {
    let (desk, offset) = desk(state, at)?;
    let found = ide::definition(desk.glance, desk.file, offset)?;
    let link = |place: &Place| {
        Some(LocationLink {
            origin_selection_range: Some(desk.paper.range(found.from)),
            target_uri: desk.paper.uri(place.whole.file)?,
            target_range: desk.paper.range(place.whole),
            target_selection_range: desk.paper.range(place.name),
        })
    };
    if state_links(&desk) {
        return Some(GotoDefinitionResponse::Link(found.to.iter().filter_map(link).collect()));
    }
    let places = found.to.iter().filter_map(|place| desk.paper.location(place.name));
    Some(GotoDefinitionResponse::Array(places.collect()))
}

/// Links with ranges of their own are an addition of later clients; places serve all.
fn state_links(_: &Desk<'_>) -> bool {
    false
}
