//! The server as a process: framed messages over standard input and output.
#![allow(missing_docs, clippy::unwrap_used)]

use std::io::{BufRead, BufReader, Read, Write};
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};

use serde_json::{Value, json};

struct Wire {
    child: Child,
    to: ChildStdin,
    from: BufReader<ChildStdout>,
}

impl Wire {
    fn start() -> Self {
        let mut child =
            Command::new(env!("CARGO_BIN_EXE_wythe-lsp")).stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().unwrap();
        let (to, from) = (child.stdin.take().unwrap(), BufReader::new(child.stdout.take().unwrap()));
        Self { child, to, from }
    }

    fn send(&mut self, message: Value) {
        let body = message.to_string();
        write!(self.to, "Content-Length: {}\r\n\r\n{body}", body.len()).unwrap();
        self.to.flush().unwrap();
    }

    fn receive(&mut self) -> Value {
        let mut length = 0;
        loop {
            let mut line = String::new();
            assert!(self.from.read_line(&mut line).unwrap() > 0, "the server closed its output");
            match line.trim().split_once(": ") {
                Some(("Content-Length", count)) => length = count.parse().unwrap(),
                Some(_) => {}
                None => break,
            }
        }
        let mut body = vec![0; length];
        self.from.read_exact(&mut body).unwrap();
        serde_json::from_slice(&body).unwrap()
    }

    /// The next message with this method, or the answer with this id.
    fn until(&mut self, wanted: impl Fn(&Value) -> bool) -> Value {
        loop {
            let message = self.receive();
            if wanted(&message) {
                return message;
            }
        }
    }
}

#[test]
fn open_mend_and_close_over_the_wire() {
    let folder = tempfile::tempdir().unwrap();
    let uri = format!("file://{}/wall.wythe", folder.path().display());
    let mut wire = Wire::start();
    wire.send(
        json!({"jsonrpc": "2.0", "id": 1, "method": "initialize", "params": {"capabilities": {}, "processId": null}}),
    );
    let answer = wire.until(|message| message["id"] == 1);
    assert_eq!(answer["result"]["capabilities"]["positionEncoding"], "utf-16");
    wire.send(json!({"jsonrpc": "2.0", "method": "initialized", "params": {}}));

    let broken = "wythe 1\nfase north {\n}\n";
    wire.send(json!({"jsonrpc": "2.0", "method": "textDocument/didOpen", "params": {"textDocument":
        {"uri": uri, "languageId": "wythe", "version": 1, "text": broken}}}));
    let published = |message: &Value| message["method"] == "textDocument/publishDiagnostics";
    let marks = wire.until(published);
    assert_eq!(marks["params"]["uri"], uri.as_str());
    assert_eq!(marks["params"]["diagnostics"].as_array().unwrap().len(), 1, "{marks}");
    assert_eq!(marks["params"]["diagnostics"][0]["range"]["start"]["line"], 1);

    wire.send(json!({"jsonrpc": "2.0", "method": "textDocument/didChange", "params": {"textDocument":
        {"uri": uri, "version": 2}, "contentChanges": [{"text": "wythe 1\n"}]}}));
    let marks = wire.until(published);
    assert_eq!(marks["params"]["version"], 2);
    assert!(marks["params"]["diagnostics"].as_array().unwrap().is_empty(), "{marks}");

    wire.send(json!({"jsonrpc": "2.0", "id": 2, "method": "shutdown"}));
    wire.until(|message| message["id"] == 2);
    wire.send(json!({"jsonrpc": "2.0", "method": "exit"}));
    assert!(wire.child.wait().unwrap().success());
}
