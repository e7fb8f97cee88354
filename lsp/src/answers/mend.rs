//! Edits that mend what is marked under the cursor, in the protocol's words.

use tower_lsp_server::ls_types::{
    CodeAction, CodeActionKind, CodeActionOrCommand, CodeActionParams, CodeActionResponse, Diagnostic,
};
use wythe::ide::{self, BLANK, Edits};

use crate::state::{Desk, State};

/// Every edit that mends a mark the range touches, tied to the mark as the client has it.
pub fn actions(state: &mut State, params: &CodeActionParams) -> Option<CodeActionResponse> {
    let only = params.context.only.as_ref();
    let wanted = |kind: &CodeActionKind| kind.as_str().is_empty() || *kind == CodeActionKind::QUICKFIX;
    if only.is_some_and(|only| !only.iter().any(wanted)) {
        return None;
    }
    let desk = state.desk(&params.text_document.uri)?;
    let (from, to) = (desk.offset(params.range.start), desk.offset(params.range.end));
    let mut found: CodeActionResponse = Vec::new();
    for (mark, mends) in ide::mends(desk.glance, desk.file, from, to) {
        let range = desk.paper.range(mark.span);
        let shown = params.context.diagnostics.iter().filter(|shown| shown.range == range);
        let shown: Vec<Diagnostic> = shown.filter(|shown| mark.message.starts_with(&shown.message)).cloned().collect();
        let alone = mends.iter().filter(|mend| !mend.blanks).count() == 1;
        for mend in mends {
            let preferred = alone && !mend.blanks;
            found.extend(action(&desk, &mend.fix.title, mend.fix.edits, preferred, shown.clone()));
        }
    }
    Some(found)
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
