//! The loop driven as a client would drive it, without a wire; the wire itself is driven in `tests/wire.rs`.

use std::sync::{Arc, Mutex, OnceLock};
use std::time::Duration;

use proptest::prelude::*;
use tokio::io::{AsyncReadExt, AsyncWriteExt as _};
use tokio::sync::mpsc::unbounded_channel;
use tower_lsp_server::jsonrpc::{Error, ErrorCode};
use tower_lsp_server::ls_types::{
    DidChangeTextDocumentParams, DidOpenTextDocumentParams, InitializeParams, InitializeResult, Position, Range,
    TextDocumentContentChangeEvent, TextDocumentItem, Uri, VersionedTextDocumentIdentifier,
};
use tower_lsp_server::{LanguageServer, LspService, Server};

use crate::actor::{Event, Message, mailbox, run};
use crate::capabilities::ClientFacts;
use crate::convert::{Encoding, Lines};
use crate::server::Backend;
use crate::state::State;

/// Sends events, waits until marks of the last version were published, and gives all that was.
fn drive(last: i32, events: Vec<Event>) -> Vec<Message> {
    let (sender, inbox) = mailbox();
    let published = Mutex::new(Vec::new());
    std::thread::scope(|scope| {
        let published = &published;
        let loop_thread = scope.spawn(move || run(&inbox, |message| published.lock().unwrap().push(message)));
        for event in events {
            sender.send(event);
        }
        let is_last = |message: &Message| matches!(message, Message::Publish(_, Some(version), _) if *version == last);
        while !published.lock().unwrap().iter().any(is_last) {
            std::thread::sleep(std::time::Duration::from_millis(20));
        }
        drop(sender);
        loop_thread.join().unwrap();
    });
    published.into_inner().unwrap()
}

fn open(uri: &Uri, text: &str) -> Event {
    Event::Open(uri.clone(), 1, text.to_owned())
}

fn whole(uri: &Uri, version: i32, text: &str) -> Event {
    let change = TextDocumentContentChangeEvent { range: None, range_length: None, text: text.to_owned() };
    Event::Change(uri.clone(), version, vec![change])
}

#[test]
fn edits_are_taken_in_order() {
    let folder = tempfile::tempdir().unwrap();
    let uri = Uri::from_file_path(folder.path().join("wall.wythe")).unwrap();
    let mut events = vec![open(&uri, "fase north {\n}\n")];
    events.extend((2..200).map(|version| whole(&uri, version, "fase north {\n}\n")));
    events.push(whole(&uri, 200, "wythe 1\n"));
    let messages = drive(200, events);
    let Some(Message::Publish(_, version, marks)) = messages.last() else { panic!("{messages:?}") };
    assert_eq!(*version, Some(200));
    assert!(marks.is_empty(), "{marks:?}");
}

#[test]
fn a_mistake_is_marked_at_its_place() {
    let folder = tempfile::tempdir().unwrap();
    let uri = Uri::from_file_path(folder.path().join("wall.wythe")).unwrap();
    let messages = drive(1, vec![open(&uri, "wythe 1\n\nsite here {\n    snow 2kPa\n}\n")]);
    let [Message::Busy, Message::Idle, Message::Publish(_, _, marks)] = messages.as_slice() else {
        panic!("{messages:?}")
    };
    let [mark] = marks.as_slice() else { panic!("{marks:?}") };
    assert_eq!((mark.range.start.line, mark.range.start.character), (3, 9));
    assert!(mark.message.contains("pressure"), "{}", mark.message);
}

#[test]
fn columns_count_as_the_client_counts() {
    let text = "°𝄞x\nsecond";
    let (units, bytes) = (Lines::of(text, Encoding::Utf16), Lines::of(text, Encoding::Utf8));
    let x = text.find('x').unwrap();
    assert_eq!(units.position(x).character, 3);
    assert_eq!(bytes.position(x).character, 6);
    assert_eq!(bytes.position(1).character, 0);
    assert_eq!(bytes.position(999).line, 1);
    let at = |line, character| Position { line, character };
    assert_eq!(units.offset(at(0, 3)), x);
    assert_eq!(units.offset(at(0, 2)), 2, "half of a pair is none of it");
    assert_eq!(units.offset(at(0, 99)), x + 1, "the end of the line");
    assert_eq!(units.offset(at(7, 0)), text.len());
    assert_eq!(bytes.offset(at(0, 3)), 2);
    assert_eq!(Lines::of("a\r\nb\rc\n", Encoding::Utf16).position(5), at(2, 0));
}

/// A question that breaks is answered with an error, and the next one is answered.
#[tokio::test(flavor = "current_thread")]
async fn a_question_that_breaks_costs_itself_only() {
    let (service, _socket) = LspService::new(|client| Backend::new(client, Arc::default()));
    let backend = service.inner();
    let broken: Result<(), _> = backend.ask(|_| panic!("on purpose")).await;
    assert_eq!(broken.unwrap_err().code, ErrorCode::InternalError);
    let folder = tempfile::tempdir().unwrap();
    let uri = Uri::from_file_path(folder.path().join("wall.wythe")).unwrap();
    let text_document = TextDocumentItem::new(uri.clone(), "wythe".to_owned(), 1, "wythe 1\n".to_owned());
    backend.did_open(DidOpenTextDocumentParams { text_document }).await;
    let seen = backend.ask(move |state| state.desk(&uri).map(|desk| desk.glance.is_judged())).await;
    assert_eq!(seen, Ok(Some(true)));
}

/// Every question sees the text as it was edited before it, whatever is edited after.
#[tokio::test(flavor = "current_thread")]
async fn a_question_sees_the_text_as_it_was_asked() {
    let (service, _socket) = LspService::new(|client| Backend::new(client, Arc::default()));
    let backend = service.inner();
    let folder = tempfile::tempdir().unwrap();
    let uri = Uri::from_file_path(folder.path().join("wall.wythe")).unwrap();
    let text_document = TextDocumentItem::new(uri.clone(), "wythe".to_owned(), 0, "wythe 1\n".to_owned());
    backend.did_open(DidOpenTextDocumentParams { text_document }).await;
    for version in 1..100 {
        let text_document = VersionedTextDocumentIdentifier { uri: uri.clone(), version };
        let start = Position { line: version as u32, character: 0 };
        let change = TextDocumentContentChangeEvent {
            range: Some(Range { start, end: start }),
            range_length: None,
            text: format!("// {version} 𝄞\n"),
        };
        backend.did_change(DidChangeTextDocumentParams { text_document, content_changes: vec![change] }).await;
        let uri = uri.clone();
        let seen =
            backend.ask(move |state| state.document(&uri).map(|one| (one.version, one.text.lines().count()))).await;
        assert_eq!(seen, Ok(Some((version, version as usize + 1))));
    }
}

/// What a text is after an edit, by plain counting: letters, lines, units of utf-16.
fn plain_position(text: &[char], at: usize) -> Position {
    let (mut line, mut character) = (0, 0);
    for (i, letter) in text.iter().enumerate().take(at) {
        if *letter == '\n' || (*letter == '\r' && text.get(i + 1) != Some(&'\n')) {
            (line, character) = (line + 1, 0);
        } else {
            character += letter.len_utf16() as u32;
        }
    }
    Position { line, character }
}

/// A place that a client can name: not between the two letters of one line end.
fn nameable(text: &[char], at: usize) -> usize {
    let at = at % (text.len() + 1);
    let within = at > 0 && text.get(at - 1) == Some(&'\r') && text.get(at) == Some(&'\n');
    if within { at - 1 } else { at }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(200) })]

    /// Any edits of any text, told in utf-16, leave the server with the text the client has.
    #[test]
    fn no_edit_is_lost(
        start in "[ a-z°é𝄞{}\r\n]{0,40}",
        edits in prop::collection::vec((any::<prop::sample::Index>(), any::<prop::sample::Index>(), "[ a-z°é𝄞{}\r\n]{0,6}"), 1..40),
    ) {
        let uri = Uri::from_file_path("/house/wall.wythe").unwrap();
        let mut state = State::default();
        state.open(&uri, 0, &start);
        let mut plain: Vec<char> = start.chars().collect();
        for (version, (one, other, text)) in edits.iter().enumerate() {
            let (one, other) = (one.index(plain.len() + 1), other.index(plain.len() + 1));
            let (from, to) = (nameable(&plain, one.min(other)), nameable(&plain, one.max(other)));
            let range = Range { start: plain_position(&plain, from), end: plain_position(&plain, to) };
            let change = TextDocumentContentChangeEvent { range: Some(range), range_length: None, text: text.clone() };
            state.change(&uri, version as i32, &[change]);
            plain.splice(from..to, text.chars());
            let whole: String = plain.iter().collect();
            prop_assert_eq!(&*state.document(&uri).unwrap().text, whole.as_str());
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(12) })]

    /// Edits with any ranges, such as no client should send, and of any words of the language: nothing panics.
    #[test]
    fn no_edit_panics(
        edits in prop::collection::vec(
            ((0u32..12, 0u32..30), (0u32..12, 0u32..30), prop::sample::select(vec!["", "\n", "}", "{", "face", "𝄞", "2ft 3in", "\r", "use std.boards\n", "(", "\""])),
            1..12,
        ),
    ) {
        let folder = tempfile::tempdir().unwrap();
        let uri = Uri::from_file_path(folder.path().join("wall.wythe")).unwrap();
        let mut state = State::default();
        state.open(&uri, 0, include_str!("../../examples/heron-lane/sections.wythe"));
        for (version, ((a, b), (c, d), text)) in edits.iter().enumerate() {
            let range = Range { start: Position { line: *a, character: *b }, end: Position { line: *c, character: *d } };
            let change = TextDocumentContentChangeEvent { range: Some(range), range_length: None, text: (*text).to_owned() };
            state.change(&uri, version as i32, &[change]);
            prop_assert!(state.check_all(&|| false).is_some());
            prop_assert!(state.desk(&uri).is_some());
        }
    }
}

/// A client of [`crate::post::carry`] alone: what the server writes for it, until a word comes.
async fn written_until(word: &str, output: &mut (impl AsyncReadExt + Unpin), so_far: &mut String) {
    let mut buffer = [0; 4096];
    while !so_far.contains(word) {
        let read = tokio::time::timeout(Duration::from_secs(60), output.read(&mut buffer)).await;
        let count = read.unwrap_or_else(|_| panic!("no {word} in {so_far}")).unwrap();
        so_far.push_str(&String::from_utf8_lossy(&buffer[..count]));
    }
}

fn framed(body: &str) -> Vec<u8> {
    format!("Content-Length: {}\r\n\r\n{body}", body.len()).into_bytes()
}

/// Serves nothing.
struct Nothing;

impl LanguageServer for Nothing {
    async fn initialize(&self, _: InitializeParams) -> Result<InitializeResult, Error> {
        Ok(InitializeResult::default())
    }

    async fn shutdown(&self) -> Result<(), Error> {
        Ok(())
    }
}

/// Work that takes half a second is shown until it is done; work that is done before is not.
#[tokio::test(flavor = "current_thread")]
async fn long_work_is_shown() {
    let facts = Arc::new(OnceLock::new());
    facts.set(ClientFacts { progress: true, ..ClientFacts::default() }).unwrap();
    let (post, messages) = unbounded_channel();
    let (service, socket) = LspService::new(|client| {
        tokio::spawn(crate::post::carry(client, facts.clone(), messages));
        Nothing
    });
    let ((mut to, input), (output, mut from)) = (tokio::io::duplex(1 << 16), tokio::io::duplex(1 << 16));
    tokio::spawn(Server::new(input, output, socket).serve(service));
    to.write_all(&framed(r#"{"jsonrpc":"2.0","id":1,"method":"initialize","params":{"capabilities":{}}}"#))
        .await
        .unwrap();
    let mut seen = String::new();
    written_until("capabilities", &mut from, &mut seen).await;
    post.send(Message::Busy).unwrap();
    post.send(Message::Idle).unwrap();
    post.send(Message::Log("quick".to_owned())).unwrap();
    tokio::time::sleep(Duration::from_millis(700)).await;
    post.send(Message::Busy).unwrap();
    written_until("window/workDoneProgress/create", &mut from, &mut seen).await;
    assert_eq!(seen.matches("workDoneProgress/create").count(), 1, "{seen}");
    to.write_all(&framed(r#"{"jsonrpc":"2.0","id":0,"result":null}"#)).await.unwrap();
    written_until("begin", &mut from, &mut seen).await;
    post.send(Message::Idle).unwrap();
    written_until("\"end\"", &mut from, &mut seen).await;
}
