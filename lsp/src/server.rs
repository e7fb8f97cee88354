//! The wire: each message becomes an event for the one thread that owns all state. No handler awaits before it has sent.

use std::path::PathBuf;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, OnceLock};

use tokio::io::{AsyncRead, AsyncWrite};
use tokio::sync::{mpsc::unbounded_channel, oneshot};
use tower_lsp_server::jsonrpc::{Error, ErrorCode, Result};
use tower_lsp_server::ls_types::{
    ConfigurationItem, DeleteFilesParams, DidChangeConfigurationParams, DidChangeTextDocumentParams,
    DidChangeWatchedFilesParams, DidChangeWatchedFilesRegistrationOptions, DidChangeWorkspaceFoldersParams,
    DidCloseTextDocumentParams, DidOpenTextDocumentParams, DidSaveTextDocumentParams, DocumentDiagnosticParams,
    DocumentDiagnosticReportResult, FileSystemWatcher, GlobPattern, InitializeParams, InitializeResult,
    InitializedParams, Registration, RenameFilesParams, ServerInfo, WorkspaceDiagnosticParams,
    WorkspaceDiagnosticReportResult, WorkspaceFolder,
};
use tower_lsp_server::{Client, LanguageServer, LspService, Server};

use crate::actor::{self, Ask, Event, Mailbox};
use crate::answers::library::{self, TextParams, TextResult};
use crate::answers::marks;
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
}
