//! Edits that mend what is marked, and edits that say the same otherwise, in the protocol's words.

use tower_lsp_server::ls_types::{
    CodeAction, CodeActionKind, CodeActionOrCommand, CodeActionParams, CodeActionResponse, Diagnostic,
};
use wythe::ide::{self, BLANK, Edits, ReworkKind};

use crate::state::{Desk, State};

/// Every edit that mends a mark the range touches, tied to the mark as the client has it; then what can be said otherwise at
/// its start. Only what is asked for is worked out.
pub fn actions(state: &mut State, params: &CodeActionParams) -> Option<CodeActionResponse> {
    let only = params.context.only.as_deref();
    let wanted = |kind: &CodeActionKind| {
        let within = |asked: &CodeActionKind| {
            let rest = kind.as_str().strip_prefix(asked.as_str());
            rest.is_some_and(|rest| asked.as_str().is_empty() || rest.is_empty() || rest.starts_with('.'))
        };
        only.is_none_or(|only| only.iter().any(within))
    };
    let mut found: CodeActionResponse = Vec::new();
    if wanted(&CodeActionKind::QUICKFIX) {
        mends(&state.desk(&params.text_document.uri)?, params, &mut found);
    }
    let kinds = [ReworkKind::Rewrite, ReworkKind::Extract, ReworkKind::Inline];
    if kinds.into_iter().any(|one| wanted(&kind(one))) {
        let desk = state.quick_desk(&params.text_document.uri)?;
        let reworks = ide::reworks(desk.glance, desk.file, desk.offset(params.range.start));
        for rework in reworks.into_iter().filter(|rework| wanted(&kind(rework.kind))) {
            let Some(edit) = desk.paper.workspace_edit(&rework.edits) else { continue };
            found.push(CodeActionOrCommand::CodeAction(CodeAction {
                title: rework.title,
                kind: Some(kind(rework.kind)),
                edit: Some(edit),
                ..CodeAction::default()
            }));
        }
    }
    Some(found)
}

fn kind(of: ReworkKind) -> CodeActionKind {
    match of {
        ReworkKind::Rewrite => CodeActionKind::REFACTOR_REWRITE,
        ReworkKind::Extract => CodeActionKind::REFACTOR_EXTRACT,
        ReworkKind::Inline => CodeActionKind::REFACTOR_INLINE,
    }
}

/// What mends the marks that the range touches.
fn mends(desk: &Desk<'_>, params: &CodeActionParams, found: &mut CodeActionResponse) {
    let (from, to) = (desk.offset(params.range.start), desk.offset(params.range.end));
    for (mark, mends) in ide::mends(desk.glance, desk.file, from, to) {
        let range = desk.paper.range(mark.span);
        let shown = params.context.diagnostics.iter().filter(|shown| shown.range == range);
        let shown: Vec<Diagnostic> = shown.filter(|shown| mark.message.starts_with(&shown.message)).cloned().collect();
        let alone = mends.iter().filter(|mend| !mend.blanks).count() == 1;
        for mend in mends {
            let preferred = alone && !mend.blanks;
            found.extend(action(desk, &mend.fix.title, mend.fix.edits, preferred, shown.clone()));
        }
    }
}

/// One edit. Its blanks are left out: the text then asks for what is missing, at its place.
fn action(
    desk: &Desk<'_>,
    title: &str,
    edits: Edits,
    preferred: bool,
    shown: Vec<Diagnostic>,
) -> Option<CodeActionOrCommand> {
    let without = |text: String| text.replace(&format!("\"{BLANK}\""), "").replace(BLANK, "");
    let edits: Edits = edits.into_iter().map(|(span, text)| (span, without(text))).collect();
    Some(CodeActionOrCommand::CodeAction(CodeAction {
        title: title.to_owned(),
        kind: Some(CodeActionKind::QUICKFIX),
        diagnostics: Some(shown),
        edit: Some(desk.paper.workspace_edit(&edits)?),
        is_preferred: Some(preferred),
        ..CodeAction::default()
    }))
}
