//! All that the owner thread owns: open documents, projects, settings, and what the client was told.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::sync::Arc;

use tower_lsp_server::ls_types::{Diagnostic, Position, TextDocumentContentChangeEvent, Uri};
use wythe::ide;
use wythe::session::Glance;
use wythe::source::FileId;

use crate::answers::colours::Painted;
use crate::capabilities::ClientFacts;
use crate::convert::{self, Paper};
use crate::folder::{Folder, holds_texts};
use crate::published::Published;
use crate::settings::Settings;

/// A text open in the editor.
#[derive(Debug)]
pub struct Document {
    /// The client's count of its edits.
    pub version: i32,
    /// As it stands in the editor.
    pub text: Arc<str>,
}

/// What the owner thread owns.
#[derive(Debug, Default)]
pub struct State {
    /// What the client can take.
    pub facts: ClientFacts,
    /// What its user set.
    pub settings: Settings,
    /// Colours the client was given.
    pub painted: Painted,
    workspace: Vec<PathBuf>,
    documents: BTreeMap<PathBuf, Document>,
    folders: BTreeMap<PathBuf, Folder>,
    published: Published,
    edited: Option<PathBuf>,
    dirty: bool,
}

/// A text somebody asks about, in its project.
#[derive(Debug)]
pub struct Desk<'s> {
    /// The project, as the newest texts say.
    pub glance: &'s Glance,
    /// The text.
    pub file: FileId,
    /// Turns spans into places of the protocol.
    pub paper: Paper<'s>,
}

impl Desk<'_> {
    /// The byte offset of a position in the text.
    pub fn offset(&self, position: Position) -> u32 {
        self.paper.lines(self.file).offset(position) as u32
    }
}

impl State {
    /// The client said who it is.
    pub fn begin(&mut self, facts: ClientFacts, workspace: Vec<PathBuf>, settings: Settings) {
        (self.facts, self.workspace, self.settings) = (facts, workspace, settings);
    }

    /// A text was opened.
    pub fn open(&mut self, uri: &Uri, version: i32, text: &str) {
        let Some(path) = convert::path(uri) else { return };
        self.documents.insert(path.clone(), Document { version, text: Arc::from(text) });
        self.place_all();
        self.touched(&path);
    }

    /// A text was edited.
    pub fn change(&mut self, uri: &Uri, version: i32, changes: &[TextDocumentContentChangeEvent]) {
        let Some(path) = convert::path(uri) else { return };
        let Some(document) = self.documents.get_mut(&path) else { return };
        for change in changes {
            document.text = Arc::from(convert::edited(&document.text, change, self.facts.encoding));
        }
        document.version = version;
        self.touched(&path);
    }

    /// A text was closed: from now on the disk tells what it says.
    pub fn close(&mut self, uri: &Uri) {
        let Some(path) = convert::path(uri) else { return };
        if self.documents.remove(&path).is_none() {
            return;
        }
        self.painted.forget(&path);
        if let Some(folder) = self.root_of(&path).and_then(|root| self.folders.get_mut(&root)) {
            folder.disk_changed();
        }
        self.place_all();
        self.dirty = true;
    }

    /// Files changed on the disk.
    pub fn disk_changed(&mut self) {
        self.folders.values_mut().for_each(Folder::disk_changed);
        self.place_all();
        self.dirty = true;
    }

    /// The client has other folders open.
    pub fn workspace_changed(&mut self, added: Vec<PathBuf>, removed: &[PathBuf]) {
        self.workspace.retain(|folder| !removed.contains(folder));
        self.workspace.extend(added);
        self.place_all();
        self.dirty = true;
    }

    /// The user set something else.
    pub fn settings_changed(&mut self, settings: Settings) {
        self.settings = settings;
        self.folders.values_mut().for_each(Folder::touched);
        self.dirty = true;
    }

    /// Whether the client has not been told yet of what changed.
    pub fn is_dirty(&self) -> bool {
        self.dirty
    }

    /// The text of an open document.
    pub fn document(&self, uri: &Uri) -> Option<&Document> {
        self.documents.get(&convert::path(uri)?)
    }

    /// A text in its project, with all that the rules say. `None` for a text that is no file and lies in no open project.
    pub fn desk(&mut self, uri: &Uri) -> Option<Desk<'_>> {
        let (root, name) = self.find(uri)?;
        self.read(&root)?.judge(&|| false);
        self.desk_in(&root, &name)
    }

    /// The same for questions about texts and values: the rules may still have to run.
    pub fn quick_desk(&mut self, uri: &Uri) -> Option<Desk<'_>> {
        let (root, name) = self.find(uri)?;
        self.read(&root)?;
        self.desk_in(&root, &name)
    }

    /// Every open project, as the newest texts say, without what the rules say.
    pub fn projects(&mut self) -> impl Iterator<Item = (&Glance, Paper<'_>)> {
        let roots: Vec<PathBuf> = self.folders.keys().cloned().collect();
        for root in &roots {
            self.read(root);
        }
        let state: &Self = self;
        state.folders.values().filter_map(|folder| {
            let glance = folder.glance()?;
            Some((glance, Paper::new(&glance.project.files, &folder.root, state.facts.encoding, state.versions())))
        })
    }

    fn read(&mut self, root: &Path) -> Option<&mut Folder> {
        let settings = self.settings.of_session();
        let folder = self.folders.get_mut(root)?;
        folder.read(self.documents.iter().map(|(path, document)| (path.as_path(), &document.text)), &settings);
        Some(folder)
    }

    /// The project a text lies in, and its path there.
    fn find(&self, uri: &Uri) -> Option<(PathBuf, String)> {
        if let Some(module) = convert::library_module(uri) {
            return Some((self.latest_root()?, format!("std/{module}.wythe")));
        }
        let path = convert::path(uri)?;
        let root = self.root_of(&path)?;
        let name = crate::folder::relative(&root, &path)?;
        Some((root, name))
    }

    fn desk_in(&self, root: &Path, name: &str) -> Option<Desk<'_>> {
        let folder = self.folders.get(root)?;
        let glance = folder.glance()?;
        let file = glance.project.files.find(name)?;
        let paper = Paper::new(&glance.project.files, &folder.root, self.facts.encoding, self.versions());
        Some(Desk { glance, file, paper })
    }

    /// Versions of open documents, for a client that wants them told in edits.
    fn versions(&self) -> Option<BTreeMap<&Path, i32>> {
        let versions = self.documents.iter().map(|(path, document)| (path.as_path(), document.version));
        self.facts.document_changes.then(|| versions.collect())
    }

    /// Something broke while a project was worked on: all of them start afresh.
    pub fn forget(&mut self) {
        let roots: Vec<PathBuf> = self.folders.keys().cloned().collect();
        self.folders = roots.into_iter().map(|root| (root.clone(), Folder::new(&root))).collect();
    }

    /// What changed cannot be checked; the next change may.
    pub fn give_up(&mut self) {
        self.dirty = false;
    }

    /// Checks every open project, the one that was edited last first, and gives the files whose marks are news, the edited
    /// one first. `None` if it was told to `stop`: then it is not done.
    pub fn check_all(&mut self, stop: &(dyn Fn() -> bool + Sync)) -> Option<Vec<PathBuf>> {
        let latest = self.latest_root();
        let mut roots: Vec<PathBuf> = self.folders.keys().cloned().collect();
        roots.sort_by_key(|root| Some(root) != latest.as_ref());
        let mut marks = BTreeMap::new();
        for root in roots {
            let Some(folder) = self.read(&root) else { continue };
            if stop() || !folder.judge(stop) {
                return None;
            }
            let Some(glance) = self.folders.get(&root).and_then(Folder::glance) else { continue };
            marks.extend(marks_of(glance, &root, &self.facts, &self.settings));
        }
        self.dirty = false;
        Some(self.published.news(marks, self.edited.as_deref()))
    }

    /// The marks of a file as last checked, with the version it has if it is open.
    pub fn marks(&self, path: &Path) -> (Option<i32>, &[Diagnostic]) {
        (self.documents.get(path).map(|document| document.version), self.published.of(path))
    }

    /// Files that have marks or are open.
    pub fn marked(&self) -> BTreeSet<PathBuf> {
        self.published.paths().map(Path::to_owned).chain(self.documents.keys().cloned()).collect()
    }

    fn touched(&mut self, path: &Path) {
        self.edited = Some(path.to_owned());
        self.dirty = true;
        if let Some(folder) = self.root_of(path).and_then(|root| self.folders.get_mut(&root)) {
            folder.touched();
        }
    }

    /// The open project a path lies in.
    fn root_of(&self, path: &Path) -> Option<PathBuf> {
        self.folders.keys().filter(|root| path.starts_with(root)).max_by_key(|root| root.as_os_str().len()).cloned()
    }

    /// The project that was worked on last.
    fn latest_root(&self) -> Option<PathBuf> {
        let edited = self.edited.as_deref().and_then(|path| self.root_of(path));
        edited.or_else(|| self.folders.keys().next().cloned())
    }

    /// Keeps a project for every folder that has an open text.
    fn place_all(&mut self) {
        let roots: BTreeSet<PathBuf> = self.documents.keys().filter_map(|path| self.home(path)).collect();
        self.folders.retain(|root, _| roots.contains(root));
        for root in roots {
            self.folders.entry(root.clone()).or_insert_with(|| Folder::new(&root));
        }
    }

    /// The folder of the project a text belongs to: the outermost one on the way down to it, from the folder the client has
    /// open, that holds texts itself. Without such a folder, its own.
    fn home(&self, path: &Path) -> Option<PathBuf> {
        let own = path.parent()?;
        let outer = self.workspace.iter().filter(|folder| own.starts_with(folder));
        let outer = outer.max_by_key(|folder| folder.as_os_str().len());
        let within = own.ancestors().take_while(|folder| outer.is_some_and(|outer| folder.starts_with(outer)));
        let holds =
            |folder: &Path| self.documents.keys().any(|open| open.parent() == Some(folder)) || holds_texts(folder);
        Some(within.filter(|folder| holds(folder)).last().unwrap_or(own).to_owned())
    }
}

/// The marks of every file of a project. Marks in the library are left out: nobody can mend them here.
fn marks_of(
    glance: &Glance,
    root: &Path,
    facts: &ClientFacts,
    settings: &Settings,
) -> BTreeMap<PathBuf, Vec<Diagnostic>> {
    let files = &glance.project.files;
    let paper = Paper::new(files, root, facts.encoding, None);
    let mut found = BTreeMap::new();
    for (file, list) in ide::marks(glance) {
        if files.is_std(file) || files.path(file).is_empty() {
            continue;
        }
        let shown = list.iter().filter_map(|mark| {
            let severity = settings.loudness(mark.code, mark.severity)?;
            Some(paper.diagnostic(mark, severity, facts.related))
        });
        found.insert(root.join(files.path(file)), shown.collect());
    }
    found
}
