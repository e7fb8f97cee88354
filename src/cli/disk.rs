//! A project folder on a disk. Nothing outside of it is ever read.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::source::{ReadError, World};

/// Largest file that is read, in bytes; a wall of a thousand pages is far smaller.
const LARGEST: u64 = 64 << 20;
/// Folders that are not searched for texts, besides hidden ones: those where tools leave what they made.
const SKIPPED: [&str; 2] = ["target", "out"];

/// A project folder.
#[derive(Clone, Debug)]
pub struct DiskWorld {
    root: PathBuf,
}

impl DiskWorld {
    /// A world over a folder. If there is none, nothing can be read from it.
    pub fn new(root: &Path) -> Self {
        Self { root: root.to_owned() }
    }

    /// The folder, as given.
    pub fn root(&self) -> &Path {
        &self.root
    }
}

impl World for DiskWorld {
    fn read(&self, path: &str) -> Result<Arc<str>, ReadError> {
        let other = |error: io::Error| match error.kind() {
            io::ErrorKind::NotFound => ReadError::Missing,
            kind => ReadError::Other(kind.to_string()),
        };
        let real = self.root.join(path).canonicalize().map_err(other)?;
        let root = self.root.canonicalize().map_err(other)?;
        if !real.starts_with(&root) {
            return Err(ReadError::Other("it lies outside the project folder".to_owned()));
        }
        let facts = fs::metadata(&real).map_err(other)?;
        if !facts.is_file() {
            return Err(ReadError::Other("it is not a file".to_owned()));
        }
        if facts.len() > LARGEST {
            return Err(ReadError::Other(format!("it is larger than {} MB", LARGEST >> 20)));
        }
        let bytes = fs::read(&real).map_err(other)?;
        match String::from_utf8(bytes) {
            Ok(text) => Ok(Arc::from(text)),
            Err(error) => Err(ReadError::NotUtf8(error.utf8_error().valid_up_to())),
        }
    }

    fn list(&self) -> Vec<String> {
        let mut found = Vec::new();
        let mut waiting = vec![String::new()];
        while let Some(folder) = waiting.pop() {
            let Ok(entries) = fs::read_dir(self.root.join(&folder)) else { continue };
            for entry in entries.flatten() {
                let (Ok(name), Ok(kind)) = (entry.file_name().into_string(), entry.file_type()) else { continue };
                let path = if folder.is_empty() { name.clone() } else { format!("{folder}/{name}") };
                if name.starts_with('.') {
                    continue;
                }
                // A link to a folder is not followed: it could lead round in a circle.
                if kind.is_dir() && !SKIPPED.contains(&name.as_str()) {
                    waiting.push(path);
                } else if !kind.is_dir() && name.ends_with(".wythe") {
                    found.push(path);
                }
            }
        }
        found.sort();
        found
    }
}
