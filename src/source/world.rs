//! The door through which the compiler reads text. The core never touches a disk, a clock or the network.

use std::collections::BTreeMap;
use std::sync::Arc;

/// Why a path could not be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ReadError {
    /// There is no such file.
    Missing,
    /// The bytes are not UTF-8; the offset of the first bad byte is given.
    NotUtf8(usize),
    /// Anything else, in the words of the system.
    Other(String),
}

/// Gives the text of a project's files. Paths are relative to the project folder, with `/` between names.
pub trait World: Sync {
    /// The text of one file. A byte-order mark is stripped by the reader of this answer, not by the world.
    fn read(&self, path: &str) -> Result<Arc<str>, ReadError>;

    /// Every `.wythe` file of the project, sorted, folders included.
    fn list(&self) -> Vec<String>;
}

/// A world held in memory, for tests and for text that was never saved.
#[derive(Clone, Debug, Default)]
pub struct MapWorld {
    files: BTreeMap<String, Arc<str>>,
}

impl MapWorld {
    /// An empty world.
    pub fn new() -> Self {
        Self::default()
    }

    /// Adds or replaces a file.
    pub fn with(mut self, path: &str, text: &str) -> Self {
        self.files.insert(path.to_owned(), Arc::from(text));
        self
    }
}

impl World for MapWorld {
    fn read(&self, path: &str) -> Result<Arc<str>, ReadError> {
        self.files.get(path).cloned().ok_or(ReadError::Missing)
    }

    fn list(&self) -> Vec<String> {
        self.files.keys().filter(|path| path.ends_with(".wythe")).cloned().collect()
    }
}
