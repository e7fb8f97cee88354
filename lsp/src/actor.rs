//! The owner thread: takes edits in order, answers what is asked, and checks when the hands rest. A panic costs one answer.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::PathBuf;
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::time::{Duration, Instant};

use tower_lsp_server::ls_types::{Diagnostic, TextDocumentContentChangeEvent, Uri};

use crate::capabilities::ClientFacts;
use crate::settings::Settings;
use crate::state::State;

/// How long the hands must rest before the wall is checked: half as long as that took last, between these.
const SHORTEST_PAUSE: Duration = Duration::from_millis(2);
const LONGEST_PAUSE: Duration = Duration::from_millis(200);
/// The checker recurses by nesting; the default stack of a thread is small for it.
const STACK: usize = 8 << 20;

/// Something that is asked of the state. It sends its own answer.
pub type Ask = Box<dyn FnOnce(&mut State) + Send>;

/// What reaches the owner thread.
pub enum Event {
    /// The client said who it is: what it can take, its folders, its settings.
    Begin(Box<ClientFacts>, Vec<PathBuf>, Settings),
    /// A text was opened at a version.
    Open(Uri, i32, String),
    /// A text was edited, and has this version now.
    Change(Uri, i32, Vec<TextDocumentContentChangeEvent>),
    /// A text was closed.
    Close(Uri),
    /// Files changed on the disk.
    DiskChanged,
    /// The client opened folders, and closed others.
    Workspace(Vec<PathBuf>, Vec<PathBuf>),
    /// The user set something.
    Settings(Settings),
    /// A question about the newest texts.
    Ask(Ask),
}

/// What goes back to the client unasked.
#[derive(Debug, PartialEq)]
pub enum Message {
    /// Marks of one file, at the version it has if it is open; an empty list clears it.
    Publish(Uri, Option<i32>, Vec<Diagnostic>),
    /// Something went wrong inside.
    Log(String),
}

/// Starts the owner thread and gives the way to it. It ends when the server is dropped.
pub fn start(post: impl Fn(Message) + Send + 'static) -> Sender<Event> {
    let (sender, receiver) = channel();
    // Without a thread there is no server; the sender then has no reader and every event is dropped.
    let _ = std::thread::Builder::new().name("analysis".into()).stack_size(STACK).spawn(move || run(&receiver, post));
    sender
}

/// The loop: events at once, checking when none came for the pause.
pub fn run(events: &Receiver<Event>, post: impl Fn(Message)) {
    let mut state = State::default();
    let mut pause = SHORTEST_PAUSE;
    loop {
        let event = if state.is_dirty() {
            events.recv_timeout(pause)
        } else {
            events.recv().map_err(|_| RecvTimeoutError::Disconnected)
        };
        match event {
            Ok(event) => guarded(&mut state, &post, |state| take(state, event)).unwrap_or_default(),
            Err(RecvTimeoutError::Timeout) => {
                let start = Instant::now();
                for (uri, version, marks) in guarded(&mut state, &post, State::check_all).unwrap_or_default() {
                    post(Message::Publish(uri, version, marks));
                }
                pause = (start.elapsed() / 2).clamp(SHORTEST_PAUSE, LONGEST_PAUSE);
            }
            Err(RecvTimeoutError::Disconnected) => return,
        }
    }
}

/// What is done with the state, or nothing if it panics: then all that was worked out is worked out afresh.
fn guarded<T>(state: &mut State, post: &impl Fn(Message), work: impl FnOnce(&mut State) -> T) -> Option<T> {
    let done = catch_unwind(AssertUnwindSafe(|| work(&mut *state)));
    if done.is_err() {
        state.forget();
        post(Message::Log("something failed inside; the next edit or question starts afresh".to_owned()));
    }
    done.ok()
}

fn take(state: &mut State, event: Event) {
    match event {
        Event::Begin(facts, workspace, settings) => state.begin(*facts, workspace, settings),
        Event::Open(uri, version, text) => state.open(&uri, version, &text),
        Event::Change(uri, version, changes) => state.change(&uri, version, &changes),
        Event::Close(uri) => state.close(&uri),
        Event::DiskChanged => state.disk_changed(),
        Event::Workspace(added, removed) => state.workspace_changed(added, &removed),
        Event::Settings(settings) => state.settings_changed(settings),
        Event::Ask(ask) => ask(state),
    }
}
