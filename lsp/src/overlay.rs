//! The world as an editor sees it: open texts over the files of a folder.

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Arc;

use wythe::source::{ReadError, World};

/// Files below a folder, some of them replaced by what stands in the editor.
pub struct OverlayWorld {
    disk: wythe::cli::DiskWorld,
    open: BTreeMap<String, Arc<str>>,
}

impl OverlayWorld {
    /// A world below `folder`. Open texts outside it are left out.
    pub fn new<'t>(folder: &Path, open: impl Iterator<Item = (&'t Path, &'t str)>) -> Self {
        let open = open.filter_map(|(path, text)| Some((relative(folder, path)?, Arc::from(text)))).collect();
        Self { disk: wythe::cli::DiskWorld::new(folder), open }
    }
}

/// `details.wythe` or `shared/corners.wythe`, with `/` on every system.
fn relative(folder: &Path, path: &Path) -> Option<String> {
    let names: Option<Vec<&str>> =
        path.strip_prefix(folder).ok()?.components().map(|name| name.as_os_str().to_str()).collect();
    names.map(|names| names.join("/"))
}

impl World for OverlayWorld {
    fn read(&self, path: &str) -> Result<Arc<str>, ReadError> {
        self.open.get(path).cloned().map_or_else(|| self.disk.read(path), Ok)
    }

    fn list(&self) -> Vec<String> {
        let mut paths = self.disk.list();
        paths.extend(self.open.keys().filter(|path| path.ends_with(".wythe")).cloned());
        paths.sort();
        paths.dedup();
        paths
    }
}
