//! Marks for clients that ask for them, instead of being told: of one file, or of all.

use std::collections::BTreeMap;
use std::hash::{DefaultHasher, Hash as _, Hasher as _};
use std::path::PathBuf;

use tower_lsp_server::ls_types::{
    Diagnostic, DocumentDiagnosticParams, DocumentDiagnosticReport, DocumentDiagnosticReportResult,
    FullDocumentDiagnosticReport, RelatedFullDocumentDiagnosticReport, RelatedUnchangedDocumentDiagnosticReport,
    UnchangedDocumentDiagnosticReport, WorkspaceDiagnosticParams, WorkspaceDiagnosticReport,
    WorkspaceDiagnosticReportResult, WorkspaceDocumentDiagnosticReport, WorkspaceFullDocumentDiagnosticReport,
    WorkspaceUnchangedDocumentDiagnosticReport,
};

use crate::convert;
use crate::state::State;

/// Marks of one file, or word that they are as the client has them.
pub fn of_file(state: &State, params: &DocumentDiagnosticParams) -> DocumentDiagnosticReportResult {
    let path = convert::path(&params.text_document.uri).unwrap_or_default();
    let items = state.marks(&path).1;
    let id = name_of(items);
    let report = if params.previous_result_id.as_ref() == Some(&id) {
        let unchanged_document_diagnostic_report = UnchangedDocumentDiagnosticReport { result_id: id };
        DocumentDiagnosticReport::Unchanged(RelatedUnchangedDocumentDiagnosticReport {
            related_documents: None,
            unchanged_document_diagnostic_report,
        })
    } else {
        let full_document_diagnostic_report =
            FullDocumentDiagnosticReport { result_id: Some(id), items: items.to_vec() };
        DocumentDiagnosticReport::Full(RelatedFullDocumentDiagnosticReport {
            related_documents: None,
            full_document_diagnostic_report,
        })
    };
    DocumentDiagnosticReportResult::Report(report)
}

/// Marks of every file that has some, or had some when the client last asked.
pub fn of_all(state: &State, params: &WorkspaceDiagnosticParams) -> WorkspaceDiagnosticReportResult {
    let before = params.previous_result_ids.iter();
    let before: BTreeMap<PathBuf, &String> =
        before.filter_map(|one| Some((convert::path(&one.uri)?, &one.value))).collect();
    let mut paths = state.marked();
    paths.extend(before.keys().cloned());
    let report = |path: &PathBuf| {
        let (version, items) = state.marks(path);
        let (uri, version, id) = (convert::file_uri(path)?, version.map(i64::from), name_of(items));
        Some(if before.get(path) == Some(&&id) {
            let unchanged_document_diagnostic_report = UnchangedDocumentDiagnosticReport { result_id: id };
            WorkspaceDocumentDiagnosticReport::Unchanged(WorkspaceUnchangedDocumentDiagnosticReport {
                uri,
                version,
                unchanged_document_diagnostic_report,
            })
        } else {
            let full_document_diagnostic_report =
                FullDocumentDiagnosticReport { result_id: Some(id), items: items.to_vec() };
            WorkspaceDocumentDiagnosticReport::Full(WorkspaceFullDocumentDiagnosticReport {
                uri,
                version,
                full_document_diagnostic_report,
            })
        })
    };
    WorkspaceDiagnosticReportResult::Report(WorkspaceDiagnosticReport {
        items: paths.iter().filter_map(report).collect(),
    })
}

/// A name that changes with the marks.
fn name_of(items: &[Diagnostic]) -> String {
    let mut hasher = DefaultHasher::new();
    serde_json::to_string(items).unwrap_or_default().hash(&mut hasher);
    format!("{:016x}", hasher.finish())
}
