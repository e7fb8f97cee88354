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
    /// What must be sent so that the client has these marks and no others: the edited file first and always, of the rest
    /// only what changed. An empty list clears a file.
    pub fn news(
        &mut self,
        marks: BTreeMap<PathBuf, Vec<Diagnostic>>,
        edited: Option<&Path>,
    ) -> Vec<(PathBuf, Vec<Diagnostic>)> {
        let gone = self.at.keys().filter(|path| !marks.contains_key(*path));
        let mut news: Vec<_> = gone.map(|path| (path.clone(), Vec::new())).collect();
        for (path, list) in &marks {
            let known = self.at.get(path).map_or(&[][..], Vec::as_slice);
            if Some(path.as_path()) == edited || known != list.as_slice() {
                news.push((path.clone(), list.clone()));
            }
        }
        self.at = marks.into_iter().filter(|(_, list)| !list.is_empty()).collect();
        news.sort_by_key(|(path, _)| Some(path.as_path()) != edited);
        news
    }
}
