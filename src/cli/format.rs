//! `wythe format`: writes texts in the one way there is to write them.

use std::fs;
use std::path::Path;
use std::sync::Arc;

use super::args::Format;
use super::diff::diff;
use super::place::Place;
use super::talk::{print, talk};
use super::{Ending, Outer};
use crate::emit::findings::{Paint, text};
use crate::emit::footer::count;
use crate::source::{Files, ReadError, World as _};
use crate::syntax;

/// What became of the files.
#[derive(Default)]
struct Tally {
    seen: usize,
    changed: usize,
    broken: usize,
}

pub(super) fn run(given: &Format) -> Result<Ending, Outer> {
    let places = given.paths.iter().map(|path| Place::find(path)).collect::<Result<Vec<_>, _>>()?;
    let mut tally = Tally::default();
    for place in &places {
        for path in &place.roots {
            one(place, path, given.check, &mut tally)?;
        }
    }
    let word = if given.check { "to format" } else { "formatted" };
    let broken = match tally.broken {
        0 => String::new(),
        number => format!(", {} with mistakes left as they are", count(number, "file", "files")),
    };
    talk(&format!("{}, {} {word}{broken}", count(tally.seen, "file", "files"), tally.changed));
    let stops = tally.broken > 0 || (given.check && tally.changed > 0);
    Ok(if stops { Ending::Findings } else { Ending::Clean })
}

fn one(place: &Place, path: &str, check: bool, tally: &mut Tally) -> Result<(), Outer> {
    let full = place.world.root().join(path);
    let old = place.world.read(path).map_err(|error| match error {
        ReadError::Missing => Outer::Missing(full.clone()),
        ReadError::NotUtf8(at) => Outer::NotText { path: full.clone(), at },
        ReadError::Other(why) => Outer::Read { path: full.clone(), error: std::io::Error::other(why) },
    })?;
    tally.seen += 1;
    let Some(new) = syntax::format(&old) else {
        tally.broken += 1;
        return print(&mistakes(path, old));
    };
    if *old == *new {
        return Ok(());
    }
    tally.changed += 1;
    if check { print(&format!("{path}\n{}", diff(&old, &new))) } else { replace(&full, &new) }
}

fn mistakes(path: &str, old: Arc<str>) -> String {
    let mut files = Files::default();
    let file = files.add(path, old);
    let problems = syntax::parse(file, files.text(file)).problems;
    text::mistakes(&files, &problems, Paint::Terminal)
}

/// Writes beside the file and moves it into place, so that a full disk costs nothing. A link stays a link.
fn replace(path: &Path, text: &str) -> Result<(), Outer> {
    let failed = |error| Outer::Write { path: path.to_owned(), error };
    let real = path.canonicalize().map_err(failed)?;
    let name = real.file_name().unwrap_or_default().to_string_lossy();
    let fresh = real.with_file_name(format!(".{name}.wythe-new-{}", std::process::id()));
    let written = fs::metadata(&real)
        .and_then(|facts| fs::write(&fresh, text).and_then(|()| fs::set_permissions(&fresh, facts.permissions())))
        .and_then(|()| fs::rename(&fresh, &real));
    if written.is_err() {
        let _ = fs::remove_file(&fresh);
    }
    written.map_err(failed)
}
