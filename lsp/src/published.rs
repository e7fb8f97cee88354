//! Which files have marks at the client, so that what is no more is cleared there.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use tower_lsp_server::ls_types::Diagnostic;

/// Marks as the client has them.
#[derive(Debug, Default)]
pub struct Published {
    at: BTreeMap<PathBuf, Vec<Diagnostic>>,
}

impl Published {
    /// The marks of a file.
    pub fn of(&self, path: &Path) -> &[Diagnostic] {
        self.at.get(path).map_or(&[], Vec::as_slice)
    }

    /// Files that have marks.
    pub fn paths(&self) -> impl Iterator<Item = &Path> {
        self.at.keys().map(PathBuf::as_path)
    }

    /// Takes what the marks are now, and gives the files of which the client must be told: the edited one first and always, of
    /// the rest only those whose marks changed.
    pub fn news(&mut self, marks: BTreeMap<PathBuf, Vec<Diagnostic>>, edited: Option<&Path>) -> Vec<PathBuf> {
        let gone = self.at.keys().filter(|path| !marks.contains_key(*path));
        let changed = marks.iter().filter(|(path, list)| self.of(path) != list.as_slice()).map(|(path, _)| path);
        let mut news: Vec<PathBuf> = gone.chain(changed).cloned().collect();
        if let Some(edited) = edited {
            news.retain(|path| path != edited);
            news.insert(0, edited.to_owned());
        }
        self.at = marks.into_iter().filter(|(_, list)| !list.is_empty()).collect();
        news
    }
}
