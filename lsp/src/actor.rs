//! The owner thread: applies edits in order, waits for a pause, checks, and publishes; a panic costs one answer only.

use std::collections::{BTreeMap, BTreeSet};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::time::Duration;

use tower_lsp_server::Client;
use tower_lsp_server::ls_types::{Diagnostic, MessageType, Uri};

use crate::convert;
use crate::overlay::OverlayWorld;

/// How long the hands must rest before the wall is checked.
const PAUSE: Duration = Duration::from_millis(100);
/// The checker recurses by nesting; the default stack of a thread is small for it.
const STACK: usize = 8 << 20;

/// What reaches the owner thread.
#[derive(Debug)]
pub enum Event {
    /// The client speaks utf-8 columns.
    Encoding(bool),
    /// A file was opened or edited: its whole text.
    Edit { uri: Uri, version: i32, text: String },
    /// A file was closed.
    Close(Uri),
    /// Files changed on disk.
    FilesChanged,
}

/// Starts the owner thread and gives the way to it. It ends when the server is dropped.
pub fn start(client: Client) -> Sender<Event> {
    let (sender, receiver) = channel();
    let runtime = tokio::runtime::Handle::try_current().ok();
    let publish = move |messages: Vec<Message>| {
        let Some(runtime) = &runtime else { return };
        for message in messages {
            let client = client.clone();
            runtime.block_on(async move {
                match message {
                    Message::Publish { uri, version, marks } => client.publish_diagnostics(uri, marks, version).await,
                    Message::Log(text) => client.log_message(MessageType::ERROR, text).await,
                }
            });
        }
    };
    // Without a thread there is no server; the sender then has no reader and every event is dropped.
    let _ =
        std::thread::Builder::new().name("analysis".into()).stack_size(STACK).spawn(move || run(&receiver, publish));
    sender
}

/// What goes back to the client.
#[derive(Debug, PartialEq)]
pub enum Message {
    /// Marks of one file; an empty list clears it.
    Publish { uri: Uri, version: Option<i32>, marks: Vec<Diagnostic> },
    /// Something went wrong inside.
    Log(String),
}

/// The loop: events at once, analysis when no event came for the pause.
pub fn run(events: &Receiver<Event>, publish: impl Fn(Vec<Message>)) {
    let mut state = State::default();
    loop {
        let event = if state.dirty {
            events.recv_timeout(PAUSE)
        } else {
            events.recv().map_err(|_| RecvTimeoutError::Disconnected)
        };
        match event {
            Ok(event) => state.apply(event),
            Err(RecvTimeoutError::Timeout) => publish(state.analyse()),
            Err(RecvTimeoutError::Disconnected) => return,
        }
    }
}

struct Document {
    version: i32,
    text: String,
}

#[derive(Default)]
struct State {
    utf8: bool,
    open: BTreeMap<PathBuf, Document>,
    /// Files that have marks at the client, to be cleared when they have none.
    published: BTreeSet<PathBuf>,
    last_edited: Option<PathBuf>,
    dirty: bool,
}

impl State {
    fn apply(&mut self, event: Event) {
        match event {
            Event::Encoding(utf8) => self.utf8 = utf8,
            Event::Edit { uri, version, text } => {
                let Some(path) = convert::path(&uri) else { return };
                self.last_edited = Some(path.clone());
                self.open.insert(path, Document { version, text });
                self.dirty = true;
            }
            Event::Close(uri) => {
                if let Some(path) = convert::path(&uri) {
                    self.open.remove(&path);
                    self.dirty = true;
                }
            }
            Event::FilesChanged => self.dirty = true,
        }
    }

    fn analyse(&mut self) -> Vec<Message> {
        self.dirty = false;
        match catch_unwind(AssertUnwindSafe(|| self.check_all())) {
            Ok(marks) => self.messages(marks),
            Err(_) => vec![Message::Log("checking failed inside; the next edit starts afresh".into())],
        }
    }

    /// Marks of every folder that has an open file.
    fn check_all(&self) -> BTreeMap<PathBuf, Vec<Diagnostic>> {
        let folders: BTreeSet<&Path> = self.open.keys().filter_map(|path| path.parent()).collect();
        let mut all = BTreeMap::new();
        for folder in folders {
            let texts = self
                .open
                .iter()
                .filter(|(path, _)| path.starts_with(folder))
                .map(|(path, document)| (path.as_path(), document.text.as_str()));
            let world = OverlayWorld::new(folder, texts);
            all.extend(convert::marks(&world, folder, self.utf8));
        }
        all
    }

    /// Publishes what there is, the edited file first, and clears what is no more.
    fn messages(&mut self, mut marks: BTreeMap<PathBuf, Vec<Diagnostic>>) -> Vec<Message> {
        for path in self.published.iter().chain(self.open.keys()) {
            marks.entry(path.clone()).or_default();
        }
        self.published = marks.iter().filter(|(_, marks)| !marks.is_empty()).map(|(path, _)| path.clone()).collect();
        let mut ordered: Vec<_> = marks.into_iter().collect();
        ordered.sort_by_key(|(path, _)| Some(path) != self.last_edited.as_ref());
        ordered
            .into_iter()
            .filter_map(|(path, marks)| {
                let version = self.open.get(&path).map(|document| document.version);
                Some(Message::Publish { uri: Uri::from_file_path(&path)?, version, marks })
            })
            .collect()
    }
}
