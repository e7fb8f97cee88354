//! Where declarations stand in their files, so that what was said of one can be said again after text above it moved.

use std::collections::HashMap;
use std::hash::{DefaultHasher, Hash, Hasher};

use crate::checks::Finding;
use crate::resolve::{DeclarationId, Project};
use crate::source::{FileId, Span};

/// What tells a declaration from any other, wherever it stands: file, keyword, name, text, and its count among its likes.
type Key = (String, &'static str, Box<str>, u64, usize);

/// Every declaration of a project with its place.
#[derive(Debug, Default)]
pub(super) struct Places {
    files: Vec<File>,
    declarations: HashMap<Key, Span>,
}

#[derive(Debug)]
struct File {
    path: String,
    is_std: bool,
    /// Declarations in the order of the text.
    declarations: Vec<(Span, DeclarationId, Key)>,
}

impl Places {
    /// All places of a project.
    pub fn of(project: &Project) -> Self {
        let file = |id: FileId| File {
            path: project.files.path(id).to_owned(),
            is_std: project.files.is_std(id),
            declarations: Vec::new(),
        };
        let mut places = Self { files: project.files.ids().map(file).collect(), ..Self::default() };
        for (at, declaration) in project.declarations.iter().enumerate() {
            let id = DeclarationId(at as u32);
            let Some(statement) = project.statement(id) else { continue };
            let span = statement.span;
            let Some(file) = places.files.get_mut(span.file.0 as usize).filter(|file| !file.is_std) else { continue };
            let text = hash(&project.files.slice(span));
            let mut key = (file.path.clone(), declaration.kind, declaration.name.clone(), text, 0);
            while places.declarations.contains_key(&key) {
                key.4 += 1;
            }
            places.declarations.insert(key.clone(), span);
            file.declarations.push((span, id, key));
        }
        for file in &mut places.files {
            file.declarations.sort_unstable_by_key(|(span, ..)| *span);
        }
        places
    }

    /// The declaration of the project's own that holds a place.
    pub fn holding(&self, span: Span) -> Option<DeclarationId> {
        self.at(span).map(|(_, id, _)| *id)
    }

    /// A number that changes with the text of a declaration.
    pub fn text_of(&self, span: Span) -> Option<u64> {
        self.at(span).map(|(.., key)| hash(key))
    }

    fn at(&self, span: Span) -> Option<&(Span, DeclarationId, Key)> {
        let all = &self.files.get(span.file.0 as usize)?.declarations;
        let next = all.partition_point(|(whole, ..)| whole.start <= span.start);
        all.get(next.checked_sub(1)?).filter(|(whole, ..)| span.end <= whole.end)
    }

    /// Where a place of these texts is in those that came after; `None` if its declaration is not there any more.
    fn moved(&self, span: Span, after: &Places) -> Option<Span> {
        let file = self.files.get(span.file.0 as usize)?;
        if file.is_std {
            let at = after.files.iter().position(|later| later.path == file.path)?;
            return Some(Span { file: FileId(at as u32), ..span });
        }
        let (old, _, key) = self.at(span)?;
        let new = after.declarations.get(key)?;
        let shift = |at: u32| at - old.start + new.start;
        Some(Span { file: new.file, start: shift(span.start), end: shift(span.end) })
    }

    /// A finding about these texts as one about those that came after; `None` if any place in it is gone.
    pub fn finding(&self, finding: &Finding, after: &Places) -> Option<Finding> {
        let mut finding = finding.clone();
        let mut lost = false;
        finding.move_spans(&mut |span| {
            self.moved(span, after).unwrap_or_else(|| {
                lost = true;
                span
            })
        });
        (!lost).then_some(finding)
    }
}

/// A number for a text; the same in every run of one build of the program.
pub(super) fn hash(value: &impl Hash) -> u64 {
    let mut hasher = DefaultHasher::new();
    value.hash(&mut hasher);
    hasher.finish()
}
