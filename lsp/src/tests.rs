//! The loop driven as a client would drive it, without a wire; the wire itself is driven in `tests/wire.rs`.

use std::sync::Mutex;
use std::sync::mpsc::channel;

use tower_lsp_server::ls_types::{Position, TextDocumentContentChangeEvent, Uri};

use crate::actor::{Event, Message, run};
use crate::convert::{Encoding, Lines};

/// Sends events, waits until marks of the last version were published, and gives all that was.
fn drive(last: i32, events: Vec<Event>) -> Vec<Message> {
    let (sender, receiver) = channel();
    let published = Mutex::new(Vec::new());
    std::thread::scope(|scope| {
        let published = &published;
        let loop_thread = scope.spawn(move || run(&receiver, |message| published.lock().unwrap().push(message)));
        for event in events {
            sender.send(event).unwrap();
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
    let [Message::Publish(_, _, marks)] = messages.as_slice() else { panic!("{messages:?}") };
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
