//! A project folder on disk. Paths that leave it, by name or by link, are refused.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::source::{ReadError, World};

/// Folders below this depth are not searched for walls.
const DEEPEST_FOLDER: usize = 16;

/// Reads the files below one folder.
#[derive(Clone, Debug)]
pub struct DiskWorld {
    root: PathBuf,
}

impl DiskWorld {
    /// A world below `root`.
    pub fn new(root: &Path) -> Self {
        Self { root: root.to_owned() }
    }

    /// The folder.
    pub fn root(&self) -> &Path {
        &self.root
    }
}

impl World for DiskWorld {
    fn read(&self, path: &str) -> Result<Arc<str>, ReadError> {
        let other = |error: std::io::Error| match error.kind() {
            std::io::ErrorKind::NotFound => ReadError::Missing,
            _ => ReadError::Other(error.to_string()),
        };
        let full = fs::canonicalize(self.root.join(path)).map_err(other)?;
        let root = fs::canonicalize(&self.root).map_err(other)?;
        if !full.starts_with(&root) {
            return Err(ReadError::Other("it lies outside the project folder".into()));
        }
        let bytes = fs::read(full).map_err(other)?;
        match String::from_utf8(bytes) {
            Ok(text) => Ok(Arc::from(text)),
            Err(error) => Err(ReadError::NotUtf8(error.utf8_error().valid_up_to())),
        }
    }

    fn list(&self) -> Vec<String> {
        let mut found = Vec::new();
        collect(&self.root, "", 0, &mut found);
        found.sort();
        found
    }
}

/// Adds the `.wythe` files of a folder and the folders in it; hidden folders and build output are passed over.
fn collect(folder: &Path, prefix: &str, depth: usize, found: &mut Vec<String>) {
    let Ok(entries) = fs::read_dir(folder) else { return };
    for entry in entries.flatten() {
        let Ok(name) = entry.file_name().into_string() else { continue };
        let Ok(kind) = entry.file_type() else { continue };
        if kind.is_dir() {
            if depth < DEEPEST_FOLDER && !name.starts_with('.') && name != "target" && name != "out" {
                collect(&entry.path(), &format!("{prefix}{name}/"), depth + 1, found);
            }
        } else if name.ends_with(".wythe") && !name.starts_with('.') {
            found.push(format!("{prefix}{name}"));
        }
    }
}
