//! Completion, hover, forms in hand, and hints: what the library says of values, in the protocol's words.

use tower_lsp_server::ls_types::{
    CompletionItem, CompletionItemKind, CompletionItemLabelDetails, CompletionParams, CompletionResponse,
    CompletionTextEdit, Documentation, Hover, HoverContents, HoverParams, InlayHint, InlayHintKind, InlayHintLabel,
    InlayHintParams, InlayHintTooltip, InsertTextFormat, MarkupContent, MarkupKind, ParameterInformation,
    ParameterLabel, SignatureHelp, SignatureHelpParams, SignatureInformation,
};
use wythe::ide::{self, Completion, CompletionKind};

use super::drawing;
use crate::capabilities::ClientFacts;
use crate::state::{Desk, State};

/// What may be written at a place.
pub fn completion(state: &mut State, params: &CompletionParams) -> Option<CompletionResponse> {
    let facts = state.facts.clone();
    let place = &params.text_document_position;
    let desk = state.quick_desk(&place.text_document.uri)?;
    let found = ide::complete(desk.glance, desk.file, desk.offset(place.position));
    let items = found.into_iter().filter_map(|one| item(&facts, &desk, one)).collect();
    Some(CompletionResponse::Array(items))
}

fn item(facts: &ClientFacts, desk: &Desk<'_>, one: Completion) -> Option<CompletionItem> {
    let snippet = one.snippet && facts.snippets;
    let text = match (one.snippet, facts.snippets, one.kind) {
        (false, ..) | (true, true, _) => one.insert,
        // A client without places to fill in gets the word alone; what is nothing but places is no help to it.
        (true, false, CompletionKind::Statement | CompletionKind::Clause) => one.label.clone(),
        (true, false, CompletionKind::Parameter) => format!("{} = ", one.label),
        (true, false, _) => return None,
    };
    let further: Vec<_> = one.also.iter().map(|(span, text)| desk.paper.text_edit(*span, text)).collect();
    Some(CompletionItem {
        sort_text: Some(format!("{:02}{}", one.order, one.label)),
        filter_text: Some(one.label.clone()),
        label: one.label,
        label_details: (!one.detail.is_empty())
            .then(|| CompletionItemLabelDetails { detail: None, description: Some(one.detail.clone()) }),
        kind: Some(kind(one.kind)),
        detail: (!one.detail.is_empty()).then_some(one.detail),
        documentation: (!one.doc.is_empty()).then(|| Documentation::MarkupContent(markup(facts, one.doc))),
        insert_text_format: Some(if snippet { InsertTextFormat::SNIPPET } else { InsertTextFormat::PLAIN_TEXT }),
        text_edit: Some(CompletionTextEdit::Edit(desk.paper.text_edit(one.replace, &text))),
        additional_text_edits: (!further.is_empty()).then_some(further),
        ..CompletionItem::default()
    })
}

fn kind(kind: CompletionKind) -> CompletionItemKind {
    match kind {
        CompletionKind::Statement => CompletionItemKind::CLASS,
        CompletionKind::Clause => CompletionItemKind::PROPERTY,
        CompletionKind::Word => CompletionItemKind::ENUM_MEMBER,
        CompletionKind::Name => CompletionItemKind::CONSTANT,
        CompletionKind::Place => CompletionItemKind::REFERENCE,
        CompletionKind::Parameter => CompletionItemKind::VARIABLE,
        CompletionKind::Unit => CompletionItemKind::UNIT,
        CompletionKind::Module => CompletionItemKind::MODULE,
        CompletionKind::Rule => CompletionItemKind::EVENT,
        CompletionKind::Value => CompletionItemKind::VALUE,
        CompletionKind::Whole => CompletionItemKind::SNIPPET,
    }
}

/// Markdown for clients that show it; the same words without its marks for others.
fn markup(facts: &ClientFacts, text: String) -> MarkupContent {
    if facts.markdown {
        MarkupContent { kind: MarkupKind::Markdown, value: text }
    } else {
        MarkupContent { kind: MarkupKind::PlainText, value: text.replace("**", "").replace('`', "") }
    }
}

/// What there is to say about a place, under its small drawing where there is one and the client shows it.
pub fn hover(state: &mut State, params: &HoverParams) -> Option<Hover> {
    let facts = state.facts.clone();
    let drawn = facts.markdown && state.settings.hover_drawing;
    let place = &params.text_document_position_params;
    let desk = state.desk(&place.text_document.uri)?;
    let offset = desk.offset(place.position);
    let mut found = ide::hover(desk.glance, desk.file, offset)?;
    if let Some(image) = drawn.then(|| drawing::image(&desk, offset)).flatten() {
        found.text = format!("{image}\n\n{}", found.text);
    }
    let contents = HoverContents::Markup(markup(&facts, found.text));
    Some(Hover { contents, range: Some(desk.paper.range(found.span)) })
}

/// The form of the statement or call in hand.
pub fn signature(state: &mut State, params: &SignatureHelpParams) -> Option<SignatureHelp> {
    let facts = state.facts.clone();
    let place = &params.text_document_position_params;
    let desk = state.quick_desk(&place.text_document.uri)?;
    let found = ide::signature(desk.glance, desk.file, desk.offset(place.position))?;
    let units = |at: usize| found.label.get(..at).unwrap_or_default().encode_utf16().count() as u32;
    let parameters = found.parameters.iter().map(|range| ParameterInformation {
        label: ParameterLabel::LabelOffsets([units(range.start), units(range.end)]),
        documentation: None,
    });
    let active_parameter = found.active.map(|at| at as u32);
    let information = SignatureInformation {
        parameters: Some(parameters.collect()),
        documentation: Some(Documentation::MarkupContent(markup(&facts, found.doc))),
        label: found.label,
        active_parameter,
    };
    Some(SignatureHelp { signatures: vec![information], active_signature: Some(0), active_parameter })
}

/// Hints of the lines that are shown, but for groups that the user switched off.
pub fn hints(state: &mut State, params: &InlayHintParams) -> Option<Vec<InlayHint>> {
    let settings = state.settings.clone();
    let desk = state.quick_desk(&params.text_document.uri)?;
    let (from, to) = (desk.offset(params.range.start), desk.offset(params.range.end));
    let found = ide::hints(desk.glance, desk.file, from, to);
    let wanted = found.into_iter().filter(|hint| settings.shows_hints(hint.kind.word()));
    let lines = desk.paper.lines(desk.file);
    let shown = wanted.map(|hint| InlayHint {
        position: lines.position(hint.at as usize),
        label: InlayHintLabel::String(hint.text),
        kind: Some(InlayHintKind::TYPE),
        text_edits: None,
        tooltip: Some(InlayHintTooltip::String(hint.tip.to_owned())),
        padding_left: Some(true),
        padding_right: Some(false),
        data: None,
    });
    Some(shown.collect())
}
