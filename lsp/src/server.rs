//! The wire: each message becomes an event for the one thread that owns all state. No handler awaits before it has sent.

use std::sync::mpsc::Sender;

use tower_lsp_server::jsonrpc::Result;
use tower_lsp_server::ls_types::{
    DidChangeTextDocumentParams, DidChangeWatchedFilesParams, DidCloseTextDocumentParams, DidOpenTextDocumentParams,
    InitializeParams, InitializeResult, PositionEncodingKind, ServerCapabilities, ServerInfo,
    TextDocumentSyncCapability, TextDocumentSyncKind,
};
use tower_lsp_server::{Client, LanguageServer};

use crate::actor::{self, Event};

/// Holds nothing but the way to the owner thread.
#[derive(Debug)]
pub struct Backend {
    events: Sender<Event>,
}

impl Backend {
    /// Starts the owner thread.
    pub fn new(client: Client) -> Self {
        Self { events: actor::start(client) }
    }

    fn send(&self, event: Event) {
        // The owner thread ends only with the server; a message after that has no reader and is dropped.
        let _ = self.events.send(event);
    }
}

/// utf-8 if the client offers it; utf-16, which every client speaks, otherwise.
fn encoding(params: &InitializeParams) -> PositionEncodingKind {
    let offered = params.capabilities.general.as_ref().and_then(|general| general.position_encodings.as_ref());
    let utf8 = offered.is_some_and(|offered| offered.contains(&PositionEncodingKind::UTF8));
    if utf8 { PositionEncodingKind::UTF8 } else { PositionEncodingKind::UTF16 }
}

impl LanguageServer for Backend {
    async fn initialize(&self, params: InitializeParams) -> Result<InitializeResult> {
        let encoding = encoding(&params);
        self.send(Event::Encoding(encoding == PositionEncodingKind::UTF8));
        Ok(InitializeResult {
            server_info: Some(ServerInfo { name: "wythe-lsp".into(), version: Some(env!("CARGO_PKG_VERSION").into()) }),
            capabilities: ServerCapabilities {
                position_encoding: Some(encoding),
                text_document_sync: Some(TextDocumentSyncCapability::Kind(TextDocumentSyncKind::FULL)),
                ..ServerCapabilities::default()
            },
            ..InitializeResult::default()
        })
    }

    async fn shutdown(&self) -> Result<()> {
        Ok(())
    }

    async fn did_open(&self, params: DidOpenTextDocumentParams) {
        let document = params.text_document;
        self.send(Event::Edit { uri: document.uri, version: document.version, text: document.text });
    }

    async fn did_change(&self, mut params: DidChangeTextDocumentParams) {
        // Full text sync: the last change holds the whole text.
        if let Some(change) = params.content_changes.pop() {
            let document = params.text_document;
            self.send(Event::Edit { uri: document.uri, version: document.version, text: change.text });
        }
    }

    async fn did_close(&self, params: DidCloseTextDocumentParams) {
        self.send(Event::Close(params.text_document.uri));
    }

    async fn did_change_watched_files(&self, _: DidChangeWatchedFilesParams) {
        self.send(Event::FilesChanged);
    }
}
