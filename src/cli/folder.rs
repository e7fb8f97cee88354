//! Writes a set of files into a folder so that a run that fails leaves the old set whole, and so that files which were
//! not written here are neither changed nor removed.
//!
//! The new set is written beside the folder first. Then each old file is moved into the folder of the old and the new
//! one into its place; should that fail half-way, every move is undone. A list of what was written lies with it.

use std::collections::BTreeSet;
use std::fs;
use std::io;
use std::path::{Component, Path, PathBuf};

use serde::{Deserialize, Serialize};

use super::Outer;
use crate::emit::Output;

/// The list of what was written.
pub(super) const MANIFEST: &str = "wythe-manifest.json";

#[derive(Serialize, Deserialize)]
struct Manifest {
    schema: u32,
    files: BTreeSet<String>,
}

/// What a run did to the folder.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Written {
    /// Files in the new set, without the list.
    pub(super) files: usize,
    /// Files of an earlier run that are no longer made.
    pub(super) removed: usize,
}

/// Puts the outputs into `folder`.
pub(super) fn write(folder: &Path, outputs: &[Output]) -> Result<Written, Outer> {
    let failed = |path: &Path| {
        let path = path.to_owned();
        move |error| Outer::Write { path, error }
    };
    let target = Target::find(folder)?;
    let ours = target.manifest()?;
    let wanted: BTreeSet<String> = outputs.iter().map(|output| output.path.clone()).collect();
    for path in &wanted {
        target.refuse_foreign(path, &ours)?;
    }
    let fresh = Scratch::new(&target.folder, "new").map_err(failed(folder))?;
    for output in outputs {
        put(&fresh.0, &output.path, &output.bytes).map_err(failed(&folder.join(&output.path)))?;
    }
    let manifest = Manifest { schema: 1, files: wanted.clone() };
    let list = serde_json::to_string_pretty(&manifest).unwrap_or_default() + "\n";
    put(&fresh.0, MANIFEST, list.as_bytes()).map_err(failed(&folder.join(MANIFEST)))?;

    let stale: Vec<String> = ours.difference(&wanted).filter(|path| target.holds(path)).cloned().collect();
    let written = Written { files: outputs.len(), removed: stale.len() };
    if !target.exists {
        fs::rename(&fresh.0, &target.folder).map_err(failed(folder))?;
        return Ok(written);
    }
    let old = Scratch::new(&target.folder, "old").map_err(failed(folder))?;
    let mut moves = Moves::default();
    let swapped = swap(&target, &fresh.0, &old.0, &wanted, &stale, &mut moves);
    if let Err((path, error)) = swapped {
        if !moves.undo() {
            // What could not be put back is still in there, and must not be removed.
            std::mem::forget(old);
        }
        return Err(Outer::Write { path, error });
    }
    for path in &stale {
        target.remove_empty_folders(path);
    }
    Ok(written)
}

type Failed = (PathBuf, io::Error);

fn swap(
    target: &Target,
    fresh: &Path,
    old: &Path,
    wanted: &BTreeSet<String>,
    stale: &[String],
    moves: &mut Moves,
) -> Result<(), Failed> {
    for path in stale {
        moves.rename(&target.folder.join(path), &old.join(path))?;
    }
    for path in wanted.iter().map(String::as_str).chain([MANIFEST]) {
        let place = target.folder.join(path);
        if same(&place, &fresh.join(path)) {
            continue;
        }
        if place.symlink_metadata().is_ok() {
            moves.rename(&place, &old.join(path))?;
        }
        moves.rename(&fresh.join(path), &place)?;
    }
    Ok(())
}

/// Whether the file that is there already is the new one, so that it need not be touched.
fn same(there: &Path, fresh: &Path) -> bool {
    let size = |path: &Path| fs::symlink_metadata(path).ok().filter(fs::Metadata::is_file).map(|facts| facts.len());
    size(there).is_some() && size(there) == size(fresh) && fs::read(there).ok() == fs::read(fresh).ok()
}

/// The folder that is written to, by its canonical path.
struct Target {
    folder: PathBuf,
    exists: bool,
    given: PathBuf,
}

impl Target {
    fn find(given: &Path) -> Result<Self, Outer> {
        let failed = |error| Outer::Write { path: given.to_owned(), error };
        match fs::metadata(given) {
            Ok(facts) if facts.is_dir() => {
                let folder = given.canonicalize().map_err(failed)?;
                Ok(Self { folder, exists: true, given: given.to_owned() })
            }
            Ok(_) => Err(Outer::NotFolder(given.to_owned())),
            Err(error) if error.kind() == io::ErrorKind::NotFound => {
                let parent = given.parent().filter(|parent| !parent.as_os_str().is_empty()).unwrap_or(Path::new("."));
                let parent = parent.canonicalize().map_err(|error| match error.kind() {
                    io::ErrorKind::NotFound => Outer::NoParent(parent.to_owned()),
                    _ => failed(error),
                })?;
                let name = given.file_name().ok_or_else(|| Outer::NotFolder(given.to_owned()))?;
                Ok(Self { folder: parent.join(name), exists: false, given: given.to_owned() })
            }
            Err(error) => Err(failed(error)),
        }
    }

    /// Paths that an earlier run wrote. Whatever else stands in the list is not believed.
    fn manifest(&self) -> Result<BTreeSet<String>, Outer> {
        let path = self.folder.join(MANIFEST);
        let text = match fs::read_to_string(&path) {
            Ok(text) => text,
            Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(BTreeSet::new()),
            Err(error) => return Err(Outer::Read { path: self.given.join(MANIFEST), error }),
        };
        let Ok(manifest) = serde_json::from_str::<Manifest>(&text) else {
            return Err(Outer::Foreign(self.given.join(MANIFEST)));
        };
        Ok(manifest.files.into_iter().filter(|path| is_inside(path)).collect())
    }

    /// Refuses to write over what an earlier run did not write.
    fn refuse_foreign(&self, path: &str, ours: &BTreeSet<String>) -> Result<(), Outer> {
        let foreign = |path: &str| Err(Outer::Foreign(self.given.join(path)));
        for (at, _) in path.match_indices('/') {
            let folder = path.get(..at).unwrap_or("");
            let facts = fs::symlink_metadata(self.folder.join(folder));
            if facts.is_ok_and(|facts| !facts.is_dir()) {
                return foreign(folder);
            }
        }
        match fs::symlink_metadata(self.folder.join(path)) {
            Ok(facts) if facts.is_dir() || !ours.contains(path) => foreign(path),
            _ => Ok(()),
        }
    }

    /// Whether a file of the list is still there, in a real folder within this one.
    fn holds(&self, path: &str) -> bool {
        let full = self.folder.join(path);
        let parent = full.parent().and_then(|parent| parent.canonicalize().ok());
        parent.is_some_and(|parent| parent.starts_with(&self.folder))
            && fs::symlink_metadata(&full).is_ok_and(|facts| !facts.is_dir())
    }

    /// Folders that a stale file leaves empty go with it.
    fn remove_empty_folders(&self, path: &str) {
        let mut folder = Path::new(path).parent();
        while let Some(inner) = folder.filter(|inner| !inner.as_os_str().is_empty()) {
            if fs::remove_dir(self.folder.join(inner)).is_err() {
                return;
            }
            folder = inner.parent();
        }
    }
}

/// A path that stays within the folder: names only.
fn is_inside(path: &str) -> bool {
    !path.is_empty() && Path::new(path).components().all(|part| matches!(part, Component::Normal(_)))
}

fn put(folder: &Path, path: &str, bytes: &[u8]) -> io::Result<()> {
    let full = folder.join(path);
    if let Some(parent) = full.parent() {
        fs::create_dir_all(parent)?;
    }
    fs::write(full, bytes)
}

/// A folder beside the target, removed when it is no longer needed.
struct Scratch(PathBuf);

impl Scratch {
    fn new(target: &Path, kind: &str) -> io::Result<Self> {
        let name = target.file_name().map_or_else(|| "wythe".into(), |name| name.to_string_lossy().into_owned());
        let parent = target.parent().unwrap_or(target);
        let folder = parent.join(format!(".{name}.wythe-{kind}-{}", std::process::id()));
        fs::create_dir(&folder)?;
        Ok(Self(folder))
    }
}

impl Drop for Scratch {
    fn drop(&mut self) {
        let _ = fs::remove_dir_all(&self.0);
    }
}

/// Moves that were made, so that they can be undone in reverse.
#[derive(Default)]
struct Moves(Vec<(PathBuf, PathBuf)>);

impl Moves {
    fn rename(&mut self, from: &Path, to: &Path) -> Result<(), Failed> {
        let made = to.parent().map_or(Ok(()), fs::create_dir_all).and_then(|()| fs::rename(from, to));
        made.map_err(|error| (to.to_owned(), error))?;
        self.0.push((from.to_owned(), to.to_owned()));
        Ok(())
    }

    /// Whether everything is back in its place.
    fn undo(self) -> bool {
        self.0.into_iter().rev().fold(true, |whole, (from, to)| fs::rename(to, from).is_ok() && whole)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_swap_that_fails_half_way_is_undone() {
        let around = tempfile::tempdir().unwrap();
        let (folder, fresh, old) = (around.path().join("out"), around.path().join("new"), around.path().join("old"));
        for (folder, words) in [(&folder, "old"), (&fresh, "new")] {
            put(folder, "a.txt", words.as_bytes()).unwrap();
            put(folder, "sub/b.txt", words.as_bytes()).unwrap();
        }
        put(&folder, "stale.txt", b"old").unwrap();
        fs::create_dir(&old).unwrap();
        let target = Target { folder: folder.clone(), exists: true, given: folder.clone() };
        // `z.txt` was never written beside, so its move fails after all others were made
        let wanted = ["a.txt", "sub/b.txt", "z.txt"].map(str::to_owned).into();
        let mut moves = Moves::default();
        let failed = swap(&target, &fresh, &old, &wanted, &["stale.txt".to_owned()], &mut moves);
        assert!(failed.is_err());
        assert_eq!(fs::read_to_string(folder.join("a.txt")).unwrap(), "new");
        assert!(!folder.join("stale.txt").exists());
        assert!(moves.undo());
        for path in ["a.txt", "sub/b.txt", "stale.txt"] {
            assert_eq!(fs::read_to_string(folder.join(path)).unwrap(), "old", "{path}");
        }
        assert!(!folder.join("z.txt").exists());
    }

    #[test]
    fn only_plain_names_are_inside() {
        assert!(is_inside("a.txt") && is_inside("sub/b.txt"));
        for outside in ["", "..", "../a", "/a", "sub/../../a", "./a"] {
            assert!(!is_inside(outside), "{outside}");
        }
    }
}
