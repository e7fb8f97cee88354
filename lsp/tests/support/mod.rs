//! A client of the server: framed messages over its standard input and output, with a limit on every wait.
#![allow(dead_code)]

use std::io::{BufRead, BufReader, Write};
use std::path::Path;
use std::process::{Child, ChildStdin, Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::time::{Duration, Instant};

use serde_json::{Value, json};

/// No answer takes longer, on a machine under load.
const LIMIT: Duration = Duration::from_secs(60);

/// A running server.
pub struct Wire {
    pub child: Child,
    to: Option<ChildStdin>,
    from: Receiver<Value>,
    /// Messages that came while another was waited for.
    pub seen: Vec<Value>,
    last_id: i64,
}

impl Wire {
    /// Starts the server and says nothing yet.
    pub fn start() -> Self {
        let mut child =
            Command::new(env!("CARGO_BIN_EXE_wythe-lsp")).stdin(Stdio::piped()).stdout(Stdio::piped()).spawn().unwrap();
        let (to, output) = (child.stdin.take(), child.stdout.take().unwrap());
        let (sender, from) = channel();
        std::thread::spawn(move || {
            let mut output = BufReader::new(output);
            while let Some(message) = read(&mut output) {
                if sender.send(message).is_err() {
                    return;
                }
            }
        });
        Self { child, to, from, seen: Vec::new(), last_id: 0 }
    }

    /// Starts the server for a client that can do some things and has some folders open.
    pub fn begin(capabilities: Value, folders: &[&Path]) -> Self {
        let mut wire = Self::start();
        let folders: Vec<Value> = folders.iter().map(|path| json!({"uri": uri(path), "name": "folder"})).collect();
        let params = json!({"capabilities": capabilities, "processId": null, "workspaceFolders": folders});
        wire.ask("initialize", params);
        wire.tell("initialized", json!({}));
        wire
    }

    /// Sends any message.
    pub fn send(&mut self, message: &Value) {
        let body = message.to_string();
        let to = self.to.as_mut().unwrap();
        write!(to, "Content-Length: {}\r\n\r\n{body}", body.len()).unwrap();
        to.flush().unwrap();
    }

    /// Sends a notification.
    pub fn tell(&mut self, method: &str, params: Value) {
        self.send(&json!({"jsonrpc": "2.0", "method": method, "params": params}));
    }

    /// Sends a request and gives its id.
    pub fn request(&mut self, method: &str, params: Value) -> i64 {
        self.last_id += 1;
        self.send(&json!({"jsonrpc": "2.0", "id": self.last_id, "method": method, "params": params}));
        self.last_id
    }

    /// Sends a request and waits for the answer, whole.
    pub fn ask(&mut self, method: &str, params: Value) -> Value {
        let id = self.request(method, params);
        self.answer(id)
    }

    /// Waits for the answer with an id.
    pub fn answer(&mut self, id: i64) -> Value {
        self.until(|message| message["id"] == id && message.get("method").is_none())
    }

    /// The first message that is wanted. Others are kept; requests of the server are answered with nothing.
    pub fn until(&mut self, wanted: impl Fn(&Value) -> bool) -> Value {
        if let Some(at) = self.seen.iter().position(&wanted) {
            return self.seen.remove(at);
        }
        let end = Instant::now() + LIMIT;
        loop {
            let left = end.saturating_duration_since(Instant::now());
            let message = self.from.recv_timeout(left).unwrap_or_else(|_| panic!("no answer; seen: {:#?}", self.seen));
            if message.get("method").is_some() && message.get("id").is_some() {
                let result = if message["method"] == "workspace/configuration" { json!([null]) } else { Value::Null };
                self.send(&json!({"jsonrpc": "2.0", "id": message["id"], "result": result}));
            }
            if wanted(&message) {
                return message;
            }
            self.seen.push(message);
        }
    }

    /// Marks published of a file at a version (or when closed, at none).
    pub fn marks(&mut self, path: &Path, version: Option<i64>) -> Vec<Value> {
        let uri = uri(path);
        let message = self.until(|message| {
            message["method"] == "textDocument/publishDiagnostics"
                && message["params"]["uri"] == uri.as_str()
                && message["params"]["version"].as_i64() == version
        });
        message["params"]["diagnostics"].as_array().unwrap().clone()
    }

    /// Opens a text at version 1.
    pub fn open(&mut self, path: &Path, text: &str) {
        let document = json!({"uri": uri(path), "languageId": "wythe", "version": 1, "text": text});
        self.tell("textDocument/didOpen", json!({"textDocument": document}));
    }

    /// Edits a text: changes as the protocol has them.
    pub fn change(&mut self, path: &Path, version: i64, changes: Value) {
        let document = json!({"uri": uri(path), "version": version});
        self.tell("textDocument/didChange", json!({"textDocument": document, "contentChanges": changes}));
    }

    /// Closes the pipe to the server without a word.
    pub fn hang_up(&mut self) {
        self.to = None;
    }

    /// The code with which the server ends; it must end soon.
    pub fn ends(&mut self) -> Option<i32> {
        let end = Instant::now() + LIMIT;
        while Instant::now() < end {
            if let Some(status) = self.child.try_wait().unwrap() {
                return status.code();
            }
            std::thread::sleep(Duration::from_millis(20));
        }
        panic!("the server goes on");
    }

    /// Memory the server holds, in kilobytes, where the system tells.
    pub fn memory(&self) -> Option<u64> {
        self.status("VmRSS:")
    }

    /// The most it ever held.
    pub fn peak_memory(&self) -> Option<u64> {
        self.status("VmHWM:")
    }

    fn status(&self, name: &str) -> Option<u64> {
        let status = std::fs::read_to_string(format!("/proc/{}/status", self.child.id())).ok()?;
        let line = status.lines().find(|line| line.starts_with(name))?;
        line.split_whitespace().nth(1)?.parse().ok()
    }
}

impl Drop for Wire {
    fn drop(&mut self) {
        // It may have ended by itself.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn read(from: &mut impl BufRead) -> Option<Value> {
    let mut length = 0;
    loop {
        let mut line = String::new();
        if from.read_line(&mut line).ok()? == 0 {
            return None;
        }
        match line.trim().split_once(": ") {
            Some(("Content-Length", count)) => length = count.parse().ok()?,
            Some(_) => {}
            None => break,
        }
    }
    let mut body = vec![0; length];
    from.read_exact(&mut body).ok()?;
    serde_json::from_slice(&body).ok()
}

/// The uri of a file.
pub fn uri(path: &Path) -> String {
    format!("file://{}", path.display())
}

/// A replacement of a range of one line.
pub fn at(line: u32, start: u32, end: u32, text: &str) -> Value {
    json!({"range": {"start": {"line": line, "character": start}, "end": {"line": line, "character": end}}, "text": text})
}
