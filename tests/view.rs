//! `wythe view` as a browser sees it: pages, sheets, and the word that a text was saved.
#![allow(missing_docs, clippy::unwrap_used)]

use std::io::{BufRead, BufReader, Read as _, Write as _};
use std::net::TcpStream;
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::Duration;

use tempfile::TempDir;

/// No answer takes longer, on a machine under load.
const LIMIT: Duration = Duration::from_secs(60);

/// A project that is shown.
struct Viewed {
    folder: TempDir,
    child: Child,
    /// `127.0.0.1:41234`.
    address: String,
}

impl Viewed {
    fn start() -> Self {
        let folder = TempDir::new().unwrap();
        let from = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/first-wall/wall.wythe");
        std::fs::copy(from, folder.path().join("wall.wythe")).unwrap();
        let mut command = Command::new(env!("CARGO_BIN_EXE_wythe"));
        command.args(["view", "."]).current_dir(folder.path()).stdout(Stdio::piped()).stderr(Stdio::null());
        let mut child = command.spawn().unwrap();
        let mut line = String::new();
        BufReader::new(child.stdout.take().unwrap()).read_line(&mut line).unwrap();
        let address = line.trim().strip_prefix("http://").unwrap().strip_suffix('/').unwrap().to_owned();
        assert!(address.starts_with("127.0.0.1:"), "{address}");
        Self { folder, child, address }
    }

    /// Sends a request as it is written.
    fn send(&self, request: &str) -> TcpStream {
        let mut stream = TcpStream::connect(&self.address).unwrap();
        stream.set_read_timeout(Some(LIMIT)).unwrap();
        stream.write_all(request.as_bytes()).unwrap();
        stream
    }

    /// All that is answered.
    fn raw(&self, request: &str) -> String {
        let mut answer = String::new();
        self.send(request).read_to_string(&mut answer).unwrap();
        answer
    }

    /// The status and the page at a path.
    fn get(&self, path: &str) -> (u16, String) {
        let answer = self.raw(&format!("GET {path} HTTP/1.1\r\nHost: {}\r\n\r\n", self.address));
        let (head, body) = answer.split_once("\r\n\r\n").unwrap();
        (head.split(' ').nth(1).unwrap().parse().unwrap(), body.to_owned())
    }

    fn edit(&self, from: &str, to: &str) {
        let path = self.folder.path().join("wall.wythe");
        let text = std::fs::read_to_string(&path).unwrap();
        assert!(text.contains(from));
        std::fs::write(path, text.replace(from, to)).unwrap();
    }
}

impl Drop for Viewed {
    fn drop(&mut self) {
        // It may have ended by itself.
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

/// Paths named in a page.
fn links(page: &str) -> Vec<&str> {
    let quoted = |mark: &'static str| page.split(mark).skip(1).filter_map(|rest| rest.split('"').next());
    quoted("href=\"").chain(quoted("src=\"")).collect()
}

const LINE: &str = "this is not approval";

#[test]
fn every_link_leads_to_a_page_and_every_page_has_the_line() {
    let viewed = Viewed::start();
    let (status, first) = viewed.get("/");
    assert_eq!(status, 200);
    let (mut waiting, mut seen) = (vec!["/".to_owned()], Vec::new());
    while let Some(path) = waiting.pop() {
        if seen.contains(&path) {
            continue;
        }
        let (status, page) = viewed.get(&path);
        assert_eq!(status, 200, "{path}");
        assert!(page.contains(LINE) || path.starts_with("/live.js"), "{path}");
        assert!(!page.replace("http://www.w3.org/", "").contains("://"), "{path} needs something from elsewhere");
        if page.starts_with("<!DOCTYPE html>") {
            waiting.extend(links(&page).into_iter().map(|link| format!("/{}", link.trim_start_matches('/'))));
        }
        seen.push(path);
    }
    for wanted in ["/elevations/north", "/elevations/north.svg", "/elevations/north-furring"] {
        assert!(seen.iter().any(|path| path == wanted), "{wanted}: {seen:?}");
    }
    assert!(seen.iter().any(|path| path.starts_with("/sections/")), "{seen:?}");
    assert!(first.contains("<h2>To mend</h2>"), "the fault of the first wall is told");
}

#[test]
fn only_pages_of_its_own_are_served_and_only_to_this_machine() {
    let viewed = Viewed::start();
    let host = format!("Host: {}", viewed.address);
    for path in ["/wall.wythe", "/../wall.wythe", "/%2e%2e/%2e%2e/etc/passwd", "//etc/passwd", "/elevations/"] {
        assert_eq!(viewed.get(path).0, 404, "{path}");
    }
    let status = |request: &str| viewed.raw(request).split(' ').nth(1).unwrap().to_owned();
    assert_eq!(status("GET / HTTP/1.1\r\nHost: wall.example\r\n\r\n"), "403", "another name for this machine");
    assert_eq!(status("GET / HTTP/1.1\r\n\r\n"), "403", "no name at all");
    assert_eq!(status(&format!("GET / HTTP/1.1\r\n{host}\r\nHost: wall.example\r\n\r\n")), "400");
    assert_eq!(status("GET /events HTTP/1.1\r\nHost: wall.example\r\n\r\n"), "403");
    assert_eq!(status(&format!("POST / HTTP/1.1\r\n{host}\r\n\r\n")), "405");
    assert_eq!(status("nonsense\r\n\r\n"), "400");
    assert_eq!(status(&format!("GET /%ff HTTP/1.1\r\n{host}\r\n\r\n")), "400");
    let head = viewed.raw(&format!("GET / HTTP/1.1\r\n{host}\r\n\r\n"));
    for line in ["default-src 'none'", "frame-ancestors 'none'", "nosniff", "no-store"] {
        assert!(head.contains(line), "{line}");
    }
    assert_eq!(viewed.get("/").0, 200, "it still answers");
}

#[test]
fn a_page_hears_that_a_text_was_saved_and_is_new_then() {
    let viewed = Viewed::start();
    let stream = viewed.send(&format!("GET /events HTTP/1.1\r\nHost: {}\r\n\r\n", viewed.address));
    let mut lines = BufReader::new(stream).lines().map(Result::unwrap);
    let mut next = || lines.find_map(|line| line.strip_prefix("data: ").map(str::to_owned)).unwrap();
    let before = next();
    assert!(viewed.get("/").1.contains(&format!("/live.js?{before}")), "a page knows its version");
    viewed.edit("face north {", "face sea_side {");
    let after = next();
    assert_ne!(before, after);
    let (_, first) = viewed.get("/");
    assert!(first.contains(&format!("/live.js?{after}")) && first.contains("/elevations/sea_side"));
    assert_eq!(viewed.get("/elevations/north").0, 404);
    viewed.edit("face sea_side {", "fase sea_side {");
    let broken = next();
    assert_ne!(broken, after);
    assert!(viewed.get("/").1.contains("Mistakes in the text"), "a text with mistakes is shown as such");
}

#[test]
fn what_cannot_be_shown_is_refused_in_words() {
    let run = |arguments: &[&str]| Command::new(env!("CARGO_BIN_EXE_wythe")).args(arguments).output().unwrap();
    let missing = run(&["view", "/nowhere/at/all"]);
    assert_eq!(missing.status.code(), Some(2));
    let taken = std::net::TcpListener::bind("127.0.0.1:0").unwrap();
    let port = taken.local_addr().unwrap().port().to_string();
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/first-wall");
    let refused = run(&["view", folder.to_str().unwrap(), "--port", &port]);
    assert_eq!(refused.status.code(), Some(2));
    let said = String::from_utf8(refused.stderr).unwrap();
    assert!(said.contains("could not be listened on") && said.contains("--port"), "{said}");
}
