//! The owner thread: takes edits in order, answers what is asked, and checks when the hands rest. A panic costs one answer.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::time::{Duration, Instant};

use tower_lsp_server::ls_types::{Diagnostic, TextDocumentContentChangeEvent, Uri};

use crate::capabilities::ClientFacts;
use crate::convert;
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
    /// A question about marks: it waits until the newest texts are checked.
    AskForMarks(Ask),
}

/// What goes back to the client unasked.
#[derive(Debug, PartialEq)]
pub enum Message {
    /// Marks of one file, at the version it has if it is open; an empty list clears it.
    Publish(Uri, Option<i32>, Vec<Diagnostic>),
    /// Something went wrong inside.
    Log(String),
    /// Texts are being checked.
    Busy,
    /// They are, or somebody had something more urgent.
    Idle,
    /// Marks of files changed that the client does not ask for by itself.
    MarksChanged,
    /// Everything that is shown may have changed.
    AllChanged,
}

/// The way to the owner thread.
#[derive(Clone, Debug)]
pub struct Mailbox {
    events: Sender<Event>,
    waiting: Arc<AtomicUsize>,
}

/// Where the owner thread finds its events.
#[derive(Debug)]
pub struct Inbox {
    events: Receiver<Event>,
    waiting: Arc<AtomicUsize>,
}

/// Both ends of a way to the owner thread.
pub fn mailbox() -> (Mailbox, Inbox) {
    let (sender, receiver) = channel();
    let waiting = Arc::new(AtomicUsize::new(0));
    (Mailbox { events: sender, waiting: waiting.clone() }, Inbox { events: receiver, waiting })
}

impl Mailbox {
    /// Sends an event. The owner thread ends only with the server; an event after that has no reader and is dropped.
    pub fn send(&self, event: Event) {
        self.waiting.fetch_add(1, Ordering::SeqCst);
        let _ = self.events.send(event);
    }
}

impl Inbox {
    /// The next event, or nothing when none came for a pause, if one is given.
    fn next(&self, pause: Option<Duration>) -> Result<Event, RecvTimeoutError> {
        let event = match pause {
            Some(pause) => self.events.recv_timeout(pause)?,
            None => self.events.recv().map_err(|_| RecvTimeoutError::Disconnected)?,
        };
        self.waiting.fetch_sub(1, Ordering::SeqCst);
        Ok(event)
    }
}

/// Starts the owner thread and gives the way to it. It ends when the server is dropped.
pub fn start(post: impl Fn(Message) + Send + 'static) -> Mailbox {
    let (mailbox, inbox) = mailbox();
    // Without a thread there is no server; the sender then has no reader and every event is dropped.
    let _ = std::thread::Builder::new().name("analysis".into()).stack_size(STACK).spawn(move || run(&inbox, post));
    mailbox
}

/// The loop: events at once, checking when none came for the pause.
pub fn run(inbox: &Inbox, post: impl Fn(Message)) {
    let mut state = State::default();
    let mut pause = SHORTEST_PAUSE;
    let mut later: Vec<Ask> = Vec::new();
    loop {
        let wait = (state.is_dirty() || !later.is_empty()).then_some(pause);
        match inbox.next(wait) {
            Ok(Event::AskForMarks(ask)) => later.push(ask),
            Ok(event) => {
                let all = matches!(event, Event::DiskChanged | Event::Settings(_) | Event::Workspace(..));
                guarded(&mut state, &post, |state| take(state, event));
                if all {
                    post(Message::AllChanged);
                }
            }
            Err(RecvTimeoutError::Timeout) => {
                if state.is_dirty() {
                    let start = Instant::now();
                    if !check(&mut state, inbox, &post) {
                        continue;
                    }
                    pause = (start.elapsed() / 2).clamp(SHORTEST_PAUSE, LONGEST_PAUSE);
                }
                for ask in later.drain(..) {
                    guarded(&mut state, &post, ask);
                }
            }
            Err(RecvTimeoutError::Disconnected) => return,
        }
    }
}

/// Checks what changed and tells of it, unless an event comes that is more urgent: then it is not done.
fn check(state: &mut State, inbox: &Inbox, post: &impl Fn(Message)) -> bool {
    post(Message::Busy);
    let waiting = &inbox.waiting;
    let stop = || waiting.load(Ordering::SeqCst) > 0;
    let news = guarded(state, post, |state| state.check_all(&stop));
    post(Message::Idle);
    match news {
        Some(None) => return false,
        // It failed inside. The same texts would fail again.
        None => state.give_up(),
        Some(Some(news)) if state.facts.pulls => {
            if news.len() > 1 {
                post(Message::MarksChanged);
            }
        }
        Some(Some(news)) => {
            for path in news {
                let (version, marks) = state.marks(&path);
                if let Some(uri) = convert::file_uri(&path) {
                    post(Message::Publish(uri, version, marks.to_vec()));
                }
            }
        }
    }
    true
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
        Event::Ask(ask) | Event::AskForMarks(ask) => ask(state),
    }
}
