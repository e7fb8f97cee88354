//! What the client can take, and what the server offers it.

use tower_lsp_server::ls_types::{
    CallHierarchyServerCapability, ClientCapabilities, CodeActionKind, CodeActionOptions, CodeActionProviderCapability,
    CodeLensOptions, CompletionOptions, DiagnosticOptions, DiagnosticServerCapabilities, DocumentLinkOptions,
    DocumentOnTypeFormattingOptions, ExecuteCommandOptions, FileOperationFilter, FileOperationPattern,
    FileOperationPatternKind, FileOperationRegistrationOptions, FoldingRangeProviderCapability,
    HoverProviderCapability, InitializeParams, MarkupKind, OneOf, PositionEncodingKind, RenameOptions, SaveOptions,
    SelectionRangeProviderCapability, SemanticTokensFullOptions, SemanticTokensOptions,
    SemanticTokensServerCapabilities, ServerCapabilities, SignatureHelpOptions, TextDocumentSyncCapability,
    TextDocumentSyncKind, TextDocumentSyncOptions, TextDocumentSyncSaveOptions, WorkDoneProgressOptions,
    WorkspaceFileOperationsServerCapabilities, WorkspaceFoldersServerCapabilities, WorkspaceServerCapabilities,
};

use crate::answers::drawing;
use crate::convert::Encoding;

/// What the client can take.
#[derive(Clone, Debug, Default)]
pub struct ClientFacts {
    /// What its columns count.
    pub encoding: Encoding,
    /// Messages may point at other places.
    pub related: bool,
    /// It asks for marks when it wants them, and is told none unasked.
    pub pulls: bool,
    /// It asks again for marks when told to.
    pub refreshes_marks: bool,
    /// It asks again for hints when told to.
    pub refreshes_hints: bool,
    /// It asks again for lenses when told to.
    pub refreshes_lenses: bool,
    /// Edits of many files may name the version they are meant for.
    pub document_changes: bool,
    /// It watches files when asked.
    pub watches: bool,
    /// It can be asked for settings.
    pub configuration: bool,
    /// It shows that work goes on.
    pub progress: bool,
    /// Hovers may be markdown.
    pub markdown: bool,
    /// Completions may be snippets with places to fill in.
    pub snippets: bool,
}

impl ClientFacts {
    /// Reads what the client said of itself.
    pub fn of(params: &InitializeParams) -> Self {
        let said: &ClientCapabilities = &params.capabilities;
        let (workspace, document) = (said.workspace.as_ref(), said.text_document.as_ref());
        let encodings = said.general.as_ref().and_then(|general| general.position_encodings.as_ref());
        let utf8 = encodings.is_some_and(|offered| offered.contains(&PositionEncodingKind::UTF8));
        let publish = document.and_then(|document| document.publish_diagnostics.as_ref());
        let edits = workspace.and_then(|workspace| workspace.workspace_edit.as_ref());
        let watched = workspace.and_then(|workspace| workspace.did_change_watched_files.as_ref());
        let hover = document.and_then(|document| document.hover.as_ref()?.content_format.as_ref());
        let item = document.and_then(|document| document.completion.as_ref()?.completion_item.as_ref());
        Self {
            encoding: if utf8 { Encoding::Utf8 } else { Encoding::Utf16 },
            related: publish.and_then(|publish| publish.related_information).unwrap_or(false),
            pulls: document.is_some_and(|document| document.diagnostic.is_some()),
            refreshes_marks: workspace
                .and_then(|workspace| workspace.diagnostics.as_ref()?.refresh_support)
                .unwrap_or(false),
            refreshes_hints: workspace
                .and_then(|workspace| workspace.inlay_hint.as_ref()?.refresh_support)
                .unwrap_or(false),
            refreshes_lenses: workspace
                .and_then(|workspace| workspace.code_lens.as_ref()?.refresh_support)
                .unwrap_or(false),
            document_changes: edits.and_then(|edits| edits.document_changes).unwrap_or(false),
            watches: watched.and_then(|watched| watched.dynamic_registration).unwrap_or(false),
            configuration: workspace.and_then(|workspace| workspace.configuration).unwrap_or(false),
            progress: said.window.as_ref().and_then(|window| window.work_done_progress).unwrap_or(false),
            markdown: hover.is_some_and(|formats| formats.contains(&MarkupKind::Markdown)),
            snippets: item.and_then(|item| item.snippet_support).unwrap_or(false),
        }
    }
}

/// What the server offers: one line a feature.
pub fn offered(facts: &ClientFacts) -> ServerCapabilities {
    ServerCapabilities {
        position_encoding: Some(match facts.encoding {
            Encoding::Utf8 => PositionEncodingKind::UTF8,
            Encoding::Utf16 => PositionEncodingKind::UTF16,
        }),
        text_document_sync: Some(TextDocumentSyncCapability::Options(TextDocumentSyncOptions {
            open_close: Some(true),
            change: Some(TextDocumentSyncKind::INCREMENTAL),
            save: Some(TextDocumentSyncSaveOptions::SaveOptions(SaveOptions { include_text: Some(false) })),
            ..TextDocumentSyncOptions::default()
        })),
        diagnostic_provider: facts.pulls.then(|| {
            DiagnosticServerCapabilities::Options(DiagnosticOptions {
                identifier: Some("wythe".to_owned()),
                inter_file_dependencies: true,
                workspace_diagnostics: true,
                ..DiagnosticOptions::default()
            })
        }),
        definition_provider: Some(OneOf::Left(true)),
        references_provider: Some(OneOf::Left(true)),
        document_highlight_provider: Some(OneOf::Left(true)),
        rename_provider: Some(OneOf::Right(RenameOptions {
            prepare_provider: Some(true),
            work_done_progress_options: WorkDoneProgressOptions::default(),
        })),
        workspace_symbol_provider: Some(OneOf::Left(true)),
        call_hierarchy_provider: Some(CallHierarchyServerCapability::Simple(true)),
        document_symbol_provider: Some(OneOf::Left(true)),
        folding_range_provider: Some(FoldingRangeProviderCapability::Simple(true)),
        selection_range_provider: Some(SelectionRangeProviderCapability::Simple(true)),
        semantic_tokens_provider: Some(SemanticTokensServerCapabilities::SemanticTokensOptions(
            SemanticTokensOptions {
                work_done_progress_options: WorkDoneProgressOptions::default(),
                legend: crate::answers::shape::legend(),
                range: Some(true),
                full: Some(SemanticTokensFullOptions::Delta { delta: Some(true) }),
            },
        )),
        document_link_provider: Some(DocumentLinkOptions {
            resolve_provider: None,
            work_done_progress_options: WorkDoneProgressOptions::default(),
        }),
        code_lens_provider: Some(CodeLensOptions { resolve_provider: None }),
        document_formatting_provider: Some(OneOf::Left(true)),
        document_range_formatting_provider: Some(OneOf::Left(true)),
        document_on_type_formatting_provider: Some(DocumentOnTypeFormattingOptions {
            first_trigger_character: "\n".to_owned(),
            more_trigger_character: Some(vec!["}".to_owned()]),
        }),
        completion_provider: Some(CompletionOptions {
            trigger_characters: Some([".", " ", ",", "(", "="].map(str::to_owned).to_vec()),
            ..CompletionOptions::default()
        }),
        execute_command_provider: Some(ExecuteCommandOptions {
            commands: [drawing::DRAW, drawing::TRACE].map(str::to_owned).to_vec(),
            ..ExecuteCommandOptions::default()
        }),
        hover_provider: Some(HoverProviderCapability::Simple(true)),
        inlay_hint_provider: Some(OneOf::Left(true)),
        code_action_provider: Some(CodeActionProviderCapability::Options(CodeActionOptions {
            code_action_kinds: Some(vec![
                CodeActionKind::QUICKFIX,
                CodeActionKind::REFACTOR_REWRITE,
                CodeActionKind::REFACTOR_EXTRACT,
                CodeActionKind::REFACTOR_INLINE,
            ]),
            ..CodeActionOptions::default()
        })),
        signature_help_provider: Some(SignatureHelpOptions {
            trigger_characters: Some([" ", "(", "=", ","].map(str::to_owned).to_vec()),
            ..SignatureHelpOptions::default()
        }),
        workspace: Some(WorkspaceServerCapabilities {
            workspace_folders: Some(WorkspaceFoldersServerCapabilities {
                supported: Some(true),
                change_notifications: Some(OneOf::Left(true)),
            }),
            file_operations: Some(WorkspaceFileOperationsServerCapabilities {
                did_rename: Some(texts_moved()),
                will_rename: Some(texts_moved()),
                did_delete: Some(texts_moved()),
                ..WorkspaceFileOperationsServerCapabilities::default()
            }),
        }),
        ..ServerCapabilities::default()
    }
}

/// Moves of texts are of interest, moves of anything else are not.
fn texts_moved() -> FileOperationRegistrationOptions {
    let matches = Some(FileOperationPatternKind::File);
    let pattern = FileOperationPattern { glob: "**/*.wythe".to_owned(), matches, options: None };
    FileOperationRegistrationOptions { filters: vec![FileOperationFilter { scheme: Some("file".to_owned()), pattern }] }
}
