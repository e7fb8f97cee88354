//! The loop driven as a client would drive it, without a wire; the wire itself is driven in `tests/wire.rs`.

use std::sync::Mutex;
use std::sync::mpsc::channel;

use tower_lsp_server::ls_types::Uri;

use crate::actor::{Event, Message, run};
use crate::convert::position;

/// Sends events, lets the loop run dry, and gives what was published.
fn drive(events: Vec<Event>) -> Vec<Message> {
    let (sender, receiver) = channel();
    let published = Mutex::new(Vec::new());
    std::thread::scope(|scope| {
        let published = &published;
        let loop_thread = scope.spawn(move || run(&receiver, |messages| published.lock().unwrap().extend(messages)));
        for event in events {
            sender.send(event).unwrap();
        }
        while published.lock().unwrap().is_empty() {
            std::thread::sleep(std::time::Duration::from_millis(20));
        }
        drop(sender);
        loop_thread.join().unwrap();
    });
    published.into_inner().unwrap()
}

fn edit(uri: &Uri, version: i32, text: &str) -> Event {
    Event::Edit { uri: uri.clone(), version, text: text.to_owned() }
}

#[test]
fn edits_are_taken_in_order_and_answered_once() {
    let folder = tempfile::tempdir().unwrap();
    let uri = Uri::from_file_path(folder.path().join("wall.wythe")).unwrap();
    let mut events: Vec<Event> = (0..200).map(|version| edit(&uri, version, "fase north {\n}\n")).collect();
    events.push(edit(&uri, 200, "wythe 1\n"));
    let messages = drive(events);
    let [Message::Publish { version, marks, .. }] = messages.as_slice() else { panic!("{messages:?}") };
    assert_eq!(*version, Some(200));
    assert!(marks.is_empty(), "{marks:?}");
}

#[test]
fn a_mistake_is_marked_at_its_place() {
    let folder = tempfile::tempdir().unwrap();
    let uri = Uri::from_file_path(folder.path().join("wall.wythe")).unwrap();
    let messages = drive(vec![edit(&uri, 1, "wythe 1\n\nsite here {\n    snow 2kPa\n}\n")]);
    let [Message::Publish { marks, .. }] = messages.as_slice() else { panic!("{messages:?}") };
    let [mark] = marks.as_slice() else { panic!("{marks:?}") };
    assert_eq!((mark.range.start.line, mark.range.start.character), (3, 9));
    assert!(mark.message.contains("pressure"), "{}", mark.message);
}

#[test]
fn columns_count_as_the_client_counts() {
    let text = "°𝄞x\nsecond";
    let x = text.find('x').unwrap();
    assert_eq!(position(text, x, false).character, 3);
    assert_eq!(position(text, x, true).character, 6);
    assert_eq!(position(text, 1, true).character, 0);
    assert_eq!(position(text, 999, false).line, 1);
}
