//! `wythe view`: shows a project in a browser on this machine, and again whenever a text of it is saved.
//!
//! It listens on the loopback address only and serves nothing but pages it has made itself; no path leads to a file.

use std::collections::BTreeMap;
use std::hash::{DefaultHasher, Hash as _, Hasher as _};
use std::io::{BufRead as _, BufReader, ErrorKind, Read as _, Write as _};
use std::net::{Ipv4Addr, TcpListener, TcpStream};
use std::path::Path;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Arc, Condvar, Mutex, PoisonError};
use std::time::{Duration, SystemTime};

use super::args::View;
use super::place::Place;
use super::talk::{print, talk};
use super::{Ending, Outer, clock};
use crate::emit::{footer_line, viewer};
use crate::session::Settings;
use crate::source::World as _;

/// From one look at the texts to the next.
const LOOK: Duration = Duration::from_millis(200);
/// How long a browser may take over its request, and over what it is sent.
const PATIENCE: Duration = Duration::from_secs(5);
/// How often a page that listens is told that nothing changed, so that one that went away is noticed.
const BEAT: Duration = Duration::from_secs(10);
/// The longest request; a browser's has about a thousand bytes.
const LONGEST: u64 = 16 << 10;
/// Most browsers and pages at once.
const MOST: usize = 64;

pub(super) fn run(given: &View) -> Result<Ending, Outer> {
    let (today, units) = (Some(clock::today(given.today.as_deref())?), given.units.map(Into::into));
    let settings = Settings { today, units, ..Settings::default() };
    let mut stamps = stamps(&Place::find(&given.path)?);
    let site = Arc::new(Site::new(pages(&given.path, &settings)?));
    let failed = |error| Outer::Listen { port: given.port, error };
    let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, given.port)).map_err(failed)?;
    let address = listener.local_addr().map_err(failed)?;
    // Where no signal can be heard, Ctrl-C ends the run as ever.
    let _ = ctrlc::set_handler(|| std::process::exit(0));
    print(&format!("http://{address}/\n"))?;
    talk("open this in a browser; it is drawn again when a text is saved, and Ctrl-C ends it");
    let own = site.clone();
    std::thread::spawn(move || listen(&listener, &own));
    loop {
        std::thread::sleep(LOOK);
        // A folder that is being moved or written is looked at again next time.
        let Ok(place) = Place::find(&given.path) else { continue };
        let now = self::stamps(&place);
        if now != stamps {
            stamps = now;
            if let Ok(pages) = pages(&given.path, &settings) {
                talk(&pages.line);
                site.publish(pages);
            }
        }
    }
}

/// When each text was written last, and how long it is.
fn stamps(place: &Place) -> Vec<(String, Option<SystemTime>, u64)> {
    let stamp = |path: String| {
        let facts = std::fs::metadata(place.world.root().join(&path)).ok();
        let (time, long) = facts.map_or((None, 0), |facts| (facts.modified().ok(), facts.len()));
        (path, time, long)
    };
    place.world.list().into_iter().map(stamp).collect()
}

/// All that is served of one state of the texts.
#[derive(Debug)]
struct Pages {
    /// Changes with the texts.
    version: String,
    /// The line every output carries.
    line: String,
    /// By path, without the first slash.
    files: BTreeMap<String, (&'static str, Vec<u8>)>,
}

fn pages(path: &Path, settings: &Settings) -> Result<Pages, Outer> {
    let place = Place::find(path)?;
    let checked = crate::session::check(&place.world, &place.roots, settings);
    let mut hasher = DefaultHasher::new();
    let texts = &checked.project.files;
    texts.ids().for_each(|file| (texts.path(file), texts.text(file)).hash(&mut hasher));
    let version = format!("{:016x}", hasher.finish());
    let made = viewer::pages(&checked, &version).into_iter();
    let files = made.map(|output| (output.path.clone(), (kind(&output.path), output.bytes))).collect();
    Ok(Pages { version, line: footer_line(&checked), files })
}

fn kind(path: &str) -> &'static str {
    match path.rsplit_once('.') {
        Some((_, "svg")) => "image/svg+xml",
        Some((_, "js")) => "text/javascript; charset=utf-8",
        _ => "text/html; charset=utf-8",
    }
}

/// The newest pages, and a bell that rings when there are newer ones.
#[derive(Debug)]
struct Site {
    pages: Mutex<Arc<Pages>>,
    bell: Condvar,
    open: AtomicUsize,
}

impl Site {
    fn new(pages: Pages) -> Self {
        Self { pages: Mutex::new(Arc::new(pages)), bell: Condvar::new(), open: AtomicUsize::new(0) }
    }

    fn publish(&self, pages: Pages) {
        *self.pages.lock().unwrap_or_else(PoisonError::into_inner) = Arc::new(pages);
        self.bell.notify_all();
    }

    fn now(&self) -> Arc<Pages> {
        self.pages.lock().unwrap_or_else(PoisonError::into_inner).clone()
    }

    /// The pages once they are others than those of a version, or the same after a while.
    fn after(&self, version: &str) -> Arc<Pages> {
        let pages = self.pages.lock().unwrap_or_else(PoisonError::into_inner);
        let same = |pages: &mut Arc<Pages>| pages.version == version;
        let (pages, _) = self.bell.wait_timeout_while(pages, BEAT, same).unwrap_or_else(PoisonError::into_inner);
        pages.clone()
    }
}

fn listen(listener: &TcpListener, site: &Arc<Site>) {
    for stream in listener.incoming() {
        // A browser that went away before it was heard.
        let Ok(stream) = stream else { continue };
        if site.open.fetch_add(1, Ordering::SeqCst) >= MOST {
            site.open.fetch_sub(1, Ordering::SeqCst);
            continue;
        }
        let site = site.clone();
        std::thread::spawn(move || {
            // Nobody is left to tell when a browser hangs up.
            let _ = answer(&stream, &site);
            site.open.fetch_sub(1, Ordering::SeqCst);
        });
    }
}

/// One request, one answer; the connection ends with it.
fn answer(stream: &TcpStream, site: &Site) -> std::io::Result<()> {
    stream.set_read_timeout(Some(PATIENCE))?;
    stream.set_write_timeout(Some(PATIENCE))?;
    let Some(request) = Request::read(stream)? else { return refuse(stream, "400 Bad Request", "not understood") };
    if !request.is_for_this_machine() {
        return refuse(stream, "403 Forbidden", "this is answered on 127.0.0.1 and localhost only");
    }
    if request.method != "GET" {
        return refuse(stream, "405 Method Not Allowed", "there are pages to read here, and nothing else");
    }
    if request.path == "events" {
        return tell(stream, site);
    }
    match site.now().files.get(&request.path) {
        Some((kind, bytes)) => send(stream, "200 OK", kind, bytes),
        None => refuse(stream, "404 Not Found", "there is no such page; it may have had another name before"),
    }
}

/// What a browser asks for.
struct Request {
    method: String,
    /// Without the first slash; empty for the first page.
    path: String,
    host: Option<String>,
}

impl Request {
    /// `None` for what is no request.
    fn read(stream: &TcpStream) -> std::io::Result<Option<Self>> {
        let mut lines = BufReader::new(stream.take(LONGEST));
        let mut line = String::new();
        let mut next = || -> std::io::Result<Option<String>> {
            line.clear();
            let read = match lines.read_line(&mut line) {
                // Bytes that are no text.
                Err(error) if error.kind() == ErrorKind::InvalidData => return Ok(None),
                read => read?,
            };
            Ok((read > 0 && line.ends_with('\n')).then(|| line.trim_end().to_owned()))
        };
        let Some(first) = next()? else { return Ok(None) };
        let mut words = first.split(' ');
        let (Some(method), Some(target), Some("HTTP/1.1" | "HTTP/1.0"), None) =
            (words.next(), words.next(), words.next(), words.next())
        else {
            return Ok(None);
        };
        let path = target.split(['?', '#']).next().and_then(|path| path.strip_prefix('/')).and_then(decoded);
        let (method, Some(path)) = (method.to_owned(), path) else { return Ok(None) };
        let mut host = None;
        loop {
            match next()? {
                None => return Ok(None),
                Some(line) if line.is_empty() => return Ok(Some(Self { method, path, host })),
                Some(line) => match line.split_once(':') {
                    // Two hosts are one too many.
                    Some((name, _)) if name.eq_ignore_ascii_case("host") && host.is_some() => return Ok(None),
                    Some((name, value)) if name.eq_ignore_ascii_case("host") => host = Some(value.trim().to_owned()),
                    Some(_) => {}
                    None => return Ok(None),
                },
            }
        }
    }

    /// A page of somebody else may have had its own name pointed at this machine: then it stands in the request.
    fn is_for_this_machine(&self) -> bool {
        let name = |host: &String| {
            let (name, port) = host.rsplit_once(':').unwrap_or((host, "80"));
            matches!(name, "127.0.0.1" | "localhost") && port.parse::<u16>().is_ok()
        };
        self.host.as_ref().is_some_and(name)
    }
}

/// A path with its `%41` read; `None` for what is no text then.
fn decoded(path: &str) -> Option<String> {
    let mut parts = path.split('%');
    let mut bytes = parts.next()?.as_bytes().to_vec();
    for part in parts {
        let (digits, rest) = part.split_at_checked(2)?;
        let digit = |at: usize| char::from(*digits.as_bytes().get(at)?).to_digit(16);
        bytes.push((digit(0)? * 16 + digit(1)?) as u8);
        bytes.extend(rest.as_bytes());
    }
    String::from_utf8(bytes).ok()
}

/// Tells the version of the pages, again whenever it changes, until the browser goes away.
fn tell(mut stream: &TcpStream, site: &Site) -> std::io::Result<()> {
    let head =
        "HTTP/1.1 200 OK\r\nContent-Type: text/event-stream\r\nCache-Control: no-store\r\nConnection: close\r\n\r\n";
    stream.write_all(head.as_bytes())?;
    let mut told = String::new();
    loop {
        let pages = site.after(&told);
        let word =
            if pages.version == told { ": still here\n\n".to_owned() } else { format!("data: {}\n\n", pages.version) };
        stream.write_all(word.as_bytes())?;
        told.clone_from(&pages.version);
    }
}

fn refuse(stream: &TcpStream, status: &str, words: &str) -> std::io::Result<()> {
    send(stream, status, "text/plain; charset=utf-8", format!("{words}\n").as_bytes())
}

/// The pages need nothing from elsewhere, and nobody else may read or frame them.
fn send(mut stream: &TcpStream, status: &str, kind: &str, bytes: &[u8]) -> std::io::Result<()> {
    let head = format!(
        "HTTP/1.1 {status}\r\nContent-Type: {kind}\r\nContent-Length: {}\r\nCache-Control: no-store\r\n\
         Content-Security-Policy: default-src 'none'; img-src 'self'; style-src 'unsafe-inline'; script-src 'self'; \
         connect-src 'self'; frame-ancestors 'none'; base-uri 'none'; form-action 'none'\r\n\
         X-Content-Type-Options: nosniff\r\nCross-Origin-Resource-Policy: same-origin\r\nReferrer-Policy: no-referrer\r\n\
         Connection: close\r\n\r\n",
        bytes.len()
    );
    stream.write_all(head.as_bytes())?;
    stream.write_all(bytes)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_this_machine_by_its_own_names_is_answered() {
        let asked = |host: Option<&str>| {
            Request { method: "GET".to_owned(), path: String::new(), host: host.map(str::to_owned) }
                .is_for_this_machine()
        };
        for host in ["127.0.0.1", "127.0.0.1:8000", "localhost:1"] {
            assert!(asked(Some(host)), "{host}");
        }
        for host in
            ["", "wall.example", "127.0.0.1.wall.example:80", "localhost:", "localhost:x", "0.0.0.0:80", "[::1]:80"]
        {
            assert!(!asked(Some(host)), "{host}");
        }
        assert!(!asked(None));
    }

    /// RFC 3986, section 2.1.
    #[test]
    fn percent_signs_in_paths_are_read() {
        assert_eq!(decoded("elevations/s%C3%BCd.svg").as_deref(), Some("elevations/süd.svg"));
        assert_eq!(decoded("a%2e%2E/b").as_deref(), Some("a../b"));
        for wrong in ["%", "%4", "%zz", "%ff", "%é"] {
            assert_eq!(decoded(wrong), None, "{wrong}");
        }
    }
}
