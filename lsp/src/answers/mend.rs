//! Edits that mend: those that the marks under the cursor carry.

use tower_lsp_server::ls_types::{
    CodeAction, CodeActionKind, CodeActionOrCommand, CodeActionParams, CodeActionResponse,
};
use wythe::ide;

use crate::state::State;

/// Every edit of a mark that the range touches, tied to the mark as the client has it.
pub fn actions(state: &mut State, params: &CodeActionParams) -> Option<CodeActionResponse> {
    let only = params.context.only.as_ref();
    let wanted = |kind: &CodeActionKind| kind.as_str().is_empty() || *kind == CodeActionKind::QUICKFIX;
    if only.is_some_and(|only| !only.iter().any(wanted)) {
        return None;
    }
    let desk = state.desk(&params.text_document.uri)?;
    let (from, to) = (desk.offset(params.range.start), desk.offset(params.range.end));
    let marks = ide::marks(desk.glance).remove(&desk.file).unwrap_or_default();
    let mut found: CodeActionResponse = Vec::new();
    for mark in marks.iter().filter(|mark| mark.span.start <= to && from <= mark.span.end) {
        let range = desk.paper.range(mark.span);
        let shown = params.context.diagnostics.iter().filter(|shown| shown.range == range);
        let shown: Vec<_> = shown.filter(|shown| mark.message.starts_with(&shown.message)).cloned().collect();
        for fix in &mark.fixes {
            let Some(edit) = desk.paper.workspace_edit(&fix.edits) else { continue };
            found.push(CodeActionOrCommand::CodeAction(CodeAction {
                title: fix.title.clone(),
                kind: Some(CodeActionKind::QUICKFIX),
                diagnostics: Some(shown.clone()),
                edit: Some(edit),
                is_preferred: Some(mark.fixes.len() == 1),
                ..CodeAction::default()
            }));
        }
    }
    Some(found)
}
