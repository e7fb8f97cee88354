//! A long search for cut plans: how far it has come, and how a person stops it.

use std::io::{IsTerminal as _, Write as _};
use std::sync::Once;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use super::talk::talk;
use crate::layout::cutting::Go;
use crate::session::Checked;

/// A search shorter than this is not worth a word.
const QUIET: Duration = Duration::from_secs(1);
/// From one word on how far it has come to the next.
const EVERY: Duration = Duration::from_millis(500);
/// What a shell shows of a run that was interrupted.
const INTERRUPTED: i32 = 130;

static SEARCHING: AtomicBool = AtomicBool::new(false);
static STOP: AtomicBool = AtomicBool::new(false);
static LISTEN: Once = Once::new();

/// Works out all cut plans. Ctrl-C stops the search and keeps the best plans so far; a terminal is told how far it has come.
pub(super) fn search(checked: &Checked) {
    LISTEN.call_once(|| {
        // Where no signal can be heard, Ctrl-C ends the run as ever.
        let _ = ctrlc::set_handler(|| {
            if !SEARCHING.load(Ordering::SeqCst) || STOP.swap(true, Ordering::SeqCst) {
                std::process::exit(INTERRUPTED);
            }
        });
    });
    SEARCHING.store(true, Ordering::SeqCst);
    let terminal = std::io::stderr().is_terminal();
    let (began, mut told) = (Instant::now(), None::<Instant>);
    let mut watch = |best: i64, bound: i64| {
        let due = told.map_or(began.elapsed() > QUIET, |told| told.elapsed() > EVERY);
        if terminal && due {
            told = Some(Instant::now());
            tell(best, bound);
        }
        if STOP.load(Ordering::SeqCst) { Go::Stop } else { Go::On }
    };
    checked.made.search(&checked.model, &checked.plan, &mut watch);
    SEARCHING.store(false, Ordering::SeqCst);
    if told.is_some() {
        let _ = write!(anstream::stderr().lock(), "\r{:79}\r", "");
    }
    if STOP.load(Ordering::SeqCst) {
        talk("stopped: the cut plans are the best that were found so far, and each says what is proven of it");
    }
}

/// One line that is written over and over.
fn tell(best: i64, bound: i64) {
    let over = (best - bound) as f64 / bound.max(1) as f64 * 100.0;
    let words = format!("cutting: at most {over:.2} % over the least that can be; Ctrl-C takes this plan");
    let mut stream = anstream::stderr().lock();
    let _ = write!(stream, "\r{words:79}").and_then(|()| stream.flush());
}
