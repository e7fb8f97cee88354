//! A project folder as an editor sees it: open texts over the files of the disk, and the project they make.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use wythe::cli::DiskWorld;
use wythe::session::{Glance, Live, Settings};
use wythe::source::{ReadError, World};

/// A folder that holds one project.
#[derive(Debug)]
pub struct Folder {
    /// Its path.
    pub root: PathBuf,
    disk: DiskWorld,
    /// What was read from the disk, by path below the folder. Forgotten when files change there.
    read: Option<BTreeMap<String, Result<Arc<str>, ReadError>>>,
    live: Live,
    glance: Option<Glance>,
}

impl Folder {
    /// A folder that was not looked at yet.
    pub fn new(root: &Path) -> Self {
        Self { root: root.to_owned(), disk: DiskWorld::new(root), read: None, live: Live::default(), glance: None }
    }

    /// The project, if it was checked since its texts changed.
    pub fn glance(&self) -> Option<&Glance> {
        self.glance.as_ref()
    }

    /// A text of it changed in the editor.
    pub fn touched(&mut self) {
        self.glance = None;
    }

    /// Files changed on the disk.
    pub fn disk_changed(&mut self) {
        self.read = None;
        self.glance = None;
    }

    /// Reads it, unless it was read since its texts changed. `open` are texts of the editor, by path.
    pub fn read<'t>(
        &mut self,
        open: impl Iterator<Item = (&'t Path, &'t Arc<str>)>,
        settings: &Settings,
    ) -> &mut Glance {
        let disk = &self.disk;
        let read = || disk.list().into_iter().map(|path| (path.clone(), disk.read(&path))).collect();
        let read: &mut BTreeMap<_, _> = self.read.get_or_insert_with(read);
        let (live, root) = (&mut self.live, &self.root);
        self.glance.get_or_insert_with(|| {
            let mut texts = read.clone();
            texts.extend(open.filter_map(|(path, text)| Some((relative(root, path)?, Ok(text.clone())))));
            let world = Texts(texts);
            live.read(&world, &world.list(), settings)
        })
    }

    /// Lets the rules run over what was read, unless they have. Gives `false` if it was told to `stop` between two houses.
    pub fn judge(&mut self, stop: &(dyn Fn() -> bool + Sync)) -> bool {
        self.glance.as_mut().is_some_and(|glance| self.live.judge(glance, stop))
    }
}

/// `details.wythe` or `shared/corners.wythe`, with `/` on every system.
pub fn relative(folder: &Path, path: &Path) -> Option<String> {
    let names: Option<Vec<&str>> =
        path.strip_prefix(folder).ok()?.components().map(|name| name.as_os_str().to_str()).collect();
    names.map(|names| names.join("/"))
}

/// Whether a folder holds a text of the language directly, on the disk.
pub fn holds_texts(folder: &Path) -> bool {
    let entries = std::fs::read_dir(folder).into_iter().flatten().flatten();
    entries.map(|entry| entry.path()).any(|path| path.extension().is_some_and(|extension| extension == "wythe"))
}

struct Texts(BTreeMap<String, Result<Arc<str>, ReadError>>);

impl World for Texts {
    fn read(&self, path: &str) -> Result<Arc<str>, ReadError> {
        self.0.get(path).cloned().unwrap_or(Err(ReadError::Missing))
    }

    fn list(&self) -> Vec<String> {
        self.0.keys().filter(|path| path.ends_with(".wythe")).cloned().collect()
    }
}
