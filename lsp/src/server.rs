//! The wire: each message becomes an event for the one thread that owns all state. No handler awaits before it has sent.

use std::path::PathBuf;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, OnceLock};

use tokio::io::{AsyncRead, AsyncWrite};
use tokio::sync::{mpsc::unbounded_channel, oneshot};
use tower_lsp_server::jsonrpc::{Error, ErrorCode, Result};
use tower_lsp_server::ls_types::{
    CallHierarchyIncomingCall, CallHierarchyIncomingCallsParams, CallHierarchyItem, CallHierarchyOutgoingCall,
    CallHierarchyOutgoingCallsParams, CallHierarchyPrepareParams, CodeActionParams, CodeActionResponse, CodeLens,
    CodeLensParams, CompletionParams, CompletionResponse, ConfigurationItem, DeleteFilesParams,
    DidChangeConfigurationParams, DidChangeTextDocumentParams, DidChangeWatchedFilesParams,
    DidChangeWatchedFilesRegistrationOptions, DidChangeWorkspaceFoldersParams, DidCloseTextDocumentParams,
    DidOpenTextDocumentParams, DidSaveTextDocumentParams, DocumentDiagnosticParams, DocumentDiagnosticReportResult,
    DocumentFormattingParams, DocumentHighlight, DocumentHighlightParams, DocumentLink, DocumentLinkParams,
    DocumentOnTypeFormattingParams, DocumentRangeFormattingParams, DocumentSymbolParams, DocumentSymbolResponse,
    ExecuteCommandParams, FileSystemWatcher, FoldingRange, FoldingRangeParams, GlobPattern, GotoDefinitionParams,
    GotoDefinitionResponse, Hover, HoverParams, InitializeParams, InitializeResult, InitializedParams, InlayHint,
    InlayHintParams, Location, PrepareRenameResponse, ReferenceParams, Registration, RenameFilesParams, RenameParams,
    SelectionRange, SelectionRangeParams, SemanticTokensDeltaParams, SemanticTokensFullDeltaResult,
    SemanticTokensParams, SemanticTokensRangeParams, SemanticTokensRangeResult, SemanticTokensResult, ServerInfo,
    SignatureHelp, SignatureHelpParams, TextDocumentPositionParams, TextEdit, WorkspaceDiagnosticParams,
    WorkspaceDiagnosticReportResult, WorkspaceEdit, WorkspaceFolder, WorkspaceSymbolParams, WorkspaceSymbolResponse,
};
use tower_lsp_server::{Client, LanguageServer, LspService, Server};

use crate::actor::{self, Ask, Event, Mailbox};
use crate::answers::drawing::{self, DrawingResult};
use crate::answers::library::{self, TextParams, TextResult};
use crate::answers::{colours, marks, mend, names, shape, values};
use crate::capabilities::{ClientFacts, offered};
use crate::convert;
use crate::parent;
use crate::settings::{SECTION, Settings};
use crate::state::State;

/// How many questions may wait for their answers, so that a cancellation behind them is heard.
const WAITING: usize = 64;

/// Holds nothing but the ways to the owner thread and to the client.
#[derive(Debug)]
pub struct Backend {
    client: Client,
    events: Mailbox,
    facts: Arc<OnceLock<ClientFacts>>,
    was_shut_down: Arc<AtomicBool>,
}

/// Serves one client until it is done. Gives whether it took its leave in order.
pub async fn serve(input: impl AsyncRead + Unpin, output: impl AsyncWrite) -> bool {
    let was_shut_down = Arc::new(AtomicBool::new(false));
    let (service, socket) = LspService::build(|client| Backend::new(client, was_shut_down.clone()))
        .custom_method("wythe/text", Backend::text)
        .custom_method("wythe/drawing", Backend::drawing)
        .finish();
    Server::new(input, output, socket).concurrency_level(WAITING).serve(service).await;
    was_shut_down.load(Ordering::Relaxed)
}

impl Backend {
    /// Starts the owner thread. Needs a runtime to carry its messages.
    pub fn new(client: Client, was_shut_down: Arc<AtomicBool>) -> Self {
        let (post, messages) = unbounded_channel();
        let facts = Arc::new(OnceLock::new());
        tokio::spawn(crate::post::carry(client.clone(), facts.clone(), messages));
        // A message without a reader is one for a client that is gone.
        let events = actor::start(move |message| drop(post.send(message)));
        Self { client, events, facts, was_shut_down }
    }

    fn send(&self, event: Event) {
        self.events.send(event);
    }

    /// Asks something of the newest texts. A question that was cancelled meanwhile is not answered.
    pub async fn ask<T: Send + 'static>(&self, answer: impl FnOnce(&mut State) -> T + Send + 'static) -> Result<T> {
        self.put(Event::Ask, answer).await
    }

    /// Asks something about marks, once the newest texts are checked.
    async fn ask_for_marks<T: Send + 'static>(
        &self,
        answer: impl FnOnce(&mut State) -> T + Send + 'static,
    ) -> Result<T> {
        self.put(Event::AskForMarks, answer).await
    }

    async fn put<T: Send + 'static>(
        &self,
        as_event: fn(Ask) -> Event,
        answer: impl FnOnce(&mut State) -> T + Send + 'static,
    ) -> Result<T> {
        let (to, from) = oneshot::channel();
        self.send(as_event(Box::new(move |state| {
            if !to.is_closed() {
                // Nobody waits any more for an answer that cannot be sent.
                let _ = to.send(answer(state));
            }
        })));
        let message = "this question could not be answered: something failed inside".into();
        from.await.map_err(|_| Error { code: ErrorCode::InternalError, message, data: None })
    }

    /// Asks the client for our settings.
    async fn fetch_settings(&self) {
        let item = ConfigurationItem { scope_uri: None, section: Some(SECTION.to_owned()) };
        // A client that does not say keeps the settings it had.
        if let Ok(found) = self.client.configuration(vec![item]).await
            && let Some(value) = found.first().filter(|value| value.is_object())
        {
            self.send(Event::Settings(Settings::read(value)));
        }
    }

    async fn text(&self, params: TextParams) -> Result<Option<TextResult>> {
        Ok(library::text(&params))
    }

    /// Drawn once the hands rest and the newest texts are checked, so that no letter waits for a drawing.
    async fn drawing(&self, place: TextDocumentPositionParams) -> Result<DrawingResult> {
        self.ask_for_marks(move |state| drawing::drawing(state, &place)).await
    }

    /// Asks the client to tell when texts change on the disk.
    async fn watch(&self) {
        let watchers =
            vec![FileSystemWatcher { glob_pattern: GlobPattern::String("**/*.wythe".to_owned()), kind: None }];
        let options = serde_json::to_value(DidChangeWatchedFilesRegistrationOptions { watchers });
        let registration = Registration {
            id: "texts".to_owned(),
            method: "workspace/didChangeWatchedFiles".to_owned(),
            register_options: options.ok(),
        };
        // A client that refuses is one that cannot watch; saving and opening still read the disk again.
        let _ = self.client.register_capability(vec![registration]).await;
    }
}

/// The folders the client has open.
fn workspace(params: &InitializeParams) -> Vec<PathBuf> {
    match &params.workspace_folders {
        Some(folders) => paths(folders),
        None => {
            #[allow(deprecated)] // older clients say it only so
            let root = params.root_uri.as_ref();
            root.and_then(convert::path).into_iter().collect()
        }
    }
}

fn paths(folders: &[WorkspaceFolder]) -> Vec<PathBuf> {
    folders.iter().filter_map(|folder| convert::path(&folder.uri)).collect()
}

impl LanguageServer for Backend {
    async fn initialize(&self, params: InitializeParams) -> Result<InitializeResult> {
        let facts = ClientFacts::of(&params);
        let capabilities = offered(&facts);
        let settings = params.initialization_options.as_ref().map(Settings::read).unwrap_or_default();
        self.send(Event::Begin(Box::new(facts.clone()), workspace(&params), settings));
        let _ = self.facts.set(facts);
        if let Some(process) = params.process_id {
            parent::watch(process);
        }
        let version = Some(env!("CARGO_PKG_VERSION").into());
        Ok(InitializeResult {
            server_info: Some(ServerInfo { name: "wythe-lsp".into(), version }),
            capabilities,
            ..InitializeResult::default()
        })
    }

    async fn initialized(&self, _: InitializedParams) {
        if self.facts.get().is_some_and(|facts| facts.watches) {
            self.watch().await;
        }
        if self.facts.get().is_some_and(|facts| facts.configuration) {
            self.fetch_settings().await;
        }
    }

    async fn shutdown(&self) -> Result<()> {
        self.was_shut_down.store(true, Ordering::Relaxed);
        Ok(())
    }

    async fn did_open(&self, params: DidOpenTextDocumentParams) {
        let document = params.text_document;
        self.send(Event::Open(document.uri, document.version, document.text));
    }

    async fn did_change(&self, params: DidChangeTextDocumentParams) {
        let document = params.text_document;
        self.send(Event::Change(document.uri, document.version, params.content_changes));
    }

    async fn did_save(&self, _: DidSaveTextDocumentParams) {
        self.send(Event::DiskChanged);
    }

    async fn did_close(&self, params: DidCloseTextDocumentParams) {
        self.send(Event::Close(params.text_document.uri));
    }

    async fn did_change_watched_files(&self, _: DidChangeWatchedFilesParams) {
        self.send(Event::DiskChanged);
    }

    async fn did_change_workspace_folders(&self, params: DidChangeWorkspaceFoldersParams) {
        let (added, removed) = (paths(&params.event.added), paths(&params.event.removed));
        self.send(Event::Workspace(added, removed));
    }

    async fn did_change_configuration(&self, params: DidChangeConfigurationParams) {
        match self.facts.get() {
            Some(facts) if facts.configuration => self.fetch_settings().await,
            _ => self.send(Event::Settings(Settings::read(&params.settings))),
        }
    }

    async fn diagnostic(&self, params: DocumentDiagnosticParams) -> Result<DocumentDiagnosticReportResult> {
        self.ask_for_marks(move |state| marks::of_file(state, &params)).await
    }

    async fn workspace_diagnostic(&self, params: WorkspaceDiagnosticParams) -> Result<WorkspaceDiagnosticReportResult> {
        self.ask_for_marks(move |state| marks::of_all(state, &params)).await
    }

    async fn did_rename_files(&self, _: RenameFilesParams) {
        self.send(Event::DiskChanged);
    }

    async fn did_delete_files(&self, _: DeleteFilesParams) {
        self.send(Event::DiskChanged);
    }

    async fn goto_definition(&self, params: GotoDefinitionParams) -> Result<Option<GotoDefinitionResponse>> {
        let place = params.text_document_position_params;
        let found = self.ask(move |state| names::definition(state, &place)).await?;
        Ok(found.map(GotoDefinitionResponse::Array))
    }

    async fn references(&self, params: ReferenceParams) -> Result<Option<Vec<Location>>> {
        let (place, with) = (params.text_document_position, params.context.include_declaration);
        self.ask(move |state| names::references(state, &place, with)).await
    }

    async fn document_highlight(&self, params: DocumentHighlightParams) -> Result<Option<Vec<DocumentHighlight>>> {
        let place = params.text_document_position_params;
        self.ask(move |state| names::highlights(state, &place)).await
    }

    async fn prepare_rename(&self, place: TextDocumentPositionParams) -> Result<Option<PrepareRenameResponse>> {
        self.ask(move |state| names::prepare_rename(state, &place)).await?.map_err(refused)
    }

    async fn rename(&self, params: RenameParams) -> Result<Option<WorkspaceEdit>> {
        let (place, new) = (params.text_document_position, params.new_name);
        self.ask(move |state| names::rename(state, &place, &new)).await?.map_err(refused)
    }

    async fn will_rename_files(&self, params: RenameFilesParams) -> Result<Option<WorkspaceEdit>> {
        self.ask(move |state| names::will_rename(state, &params)).await
    }

    async fn symbol(&self, params: WorkspaceSymbolParams) -> Result<Option<WorkspaceSymbolResponse>> {
        let found = self.ask(move |state| names::find_named(state, &params.query)).await?;
        Ok(found.map(WorkspaceSymbolResponse::Flat))
    }

    async fn prepare_call_hierarchy(
        &self,
        params: CallHierarchyPrepareParams,
    ) -> Result<Option<Vec<CallHierarchyItem>>> {
        let place = params.text_document_position_params;
        self.ask(move |state| names::prepare_calls(state, &place)).await
    }

    async fn incoming_calls(
        &self,
        params: CallHierarchyIncomingCallsParams,
    ) -> Result<Option<Vec<CallHierarchyIncomingCall>>> {
        self.ask(move |state| names::incoming(state, &params.item)).await
    }

    async fn outgoing_calls(
        &self,
        params: CallHierarchyOutgoingCallsParams,
    ) -> Result<Option<Vec<CallHierarchyOutgoingCall>>> {
        self.ask(move |state| names::outgoing(state, &params.item)).await
    }

    async fn document_symbol(&self, params: DocumentSymbolParams) -> Result<Option<DocumentSymbolResponse>> {
        let found = self.ask(move |state| shape::outline(state, &params.text_document.uri)).await?;
        Ok(found.map(DocumentSymbolResponse::Nested))
    }

    async fn folding_range(&self, params: FoldingRangeParams) -> Result<Option<Vec<FoldingRange>>> {
        self.ask(move |state| shape::folds(state, &params.text_document.uri)).await
    }

    async fn selection_range(&self, params: SelectionRangeParams) -> Result<Option<Vec<SelectionRange>>> {
        self.ask(move |state| shape::selections(state, &params.text_document.uri, &params.positions)).await
    }

    async fn semantic_tokens_full(&self, params: SemanticTokensParams) -> Result<Option<SemanticTokensResult>> {
        let found = self.ask(move |state| colours::whole(state, &params.text_document.uri)).await?;
        Ok(found.map(SemanticTokensResult::Tokens))
    }

    async fn semantic_tokens_full_delta(
        &self,
        params: SemanticTokensDeltaParams,
    ) -> Result<Option<SemanticTokensFullDeltaResult>> {
        self.ask(move |state| colours::changed(state, &params)).await
    }

    async fn semantic_tokens_range(
        &self,
        params: SemanticTokensRangeParams,
    ) -> Result<Option<SemanticTokensRangeResult>> {
        let found = self.ask(move |state| shape::colours(state, &params.text_document.uri, Some(params.range))).await?;
        Ok(found.map(SemanticTokensRangeResult::Tokens))
    }

    async fn document_link(&self, params: DocumentLinkParams) -> Result<Option<Vec<DocumentLink>>> {
        self.ask(move |state| shape::links(state, &params.text_document.uri)).await
    }

    async fn code_lens(&self, params: CodeLensParams) -> Result<Option<Vec<CodeLens>>> {
        self.ask_for_marks(move |state| shape::lenses(state, &params.text_document.uri)).await
    }

    async fn formatting(&self, params: DocumentFormattingParams) -> Result<Option<Vec<TextEdit>>> {
        self.ask(move |state| shape::format(state, &params.text_document.uri)).await
    }

    async fn range_formatting(&self, params: DocumentRangeFormattingParams) -> Result<Option<Vec<TextEdit>>> {
        self.ask(move |state| shape::format_range(state, &params.text_document.uri, params.range)).await
    }

    async fn on_type_formatting(&self, params: DocumentOnTypeFormattingParams) -> Result<Option<Vec<TextEdit>>> {
        let place = params.text_document_position;
        self.ask(move |state| shape::format_typed(state, &place.text_document.uri, place.position)).await
    }

    async fn completion(&self, params: CompletionParams) -> Result<Option<CompletionResponse>> {
        self.ask(move |state| values::completion(state, &params)).await
    }

    async fn code_action(&self, params: CodeActionParams) -> Result<Option<CodeActionResponse>> {
        self.ask(move |state| mend::actions(state, &params)).await
    }

    async fn execute_command(&self, params: ExecuteCommandParams) -> Result<Option<serde_json::Value>> {
        self.ask_for_marks(move |state| drawing::run(state, params)).await?.map_err(refused)
    }

    async fn hover(&self, params: HoverParams) -> Result<Option<Hover>> {
        self.ask(move |state| values::hover(state, &params)).await
    }

    async fn signature_help(&self, params: SignatureHelpParams) -> Result<Option<SignatureHelp>> {
        self.ask(move |state| values::signature(state, &params)).await
    }

    async fn inlay_hint(&self, params: InlayHintParams) -> Result<Option<Vec<InlayHint>>> {
        self.ask(move |state| values::hints(state, &params)).await
    }
}

/// What was asked cannot be done, for the reason given.
fn refused(reason: String) -> Error {
    Error { code: ErrorCode::InvalidParams, message: reason.into(), data: None }
}
