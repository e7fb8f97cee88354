//! Files that get other names or places: the `use` lines that read them, and the words that go through these.

use std::collections::BTreeMap;

use super::names::{Names, Symbol};
use super::rename::{Edits, is_a_word};
use crate::resolve::{Module, ModuleId};
use crate::session::Glance;
use crate::source::Span;
use crate::syntax::{Item, ItemKind, Statement, Word};

/// What follows from files that get other names.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Moved {
    /// Edits in the texts as they are now, before the files move.
    pub edits: Edits,
    /// What cannot follow, with the reason.
    pub lost: Vec<(Span, String)>,
}

/// The edits for files, or whole folders, that move from one path below the project folder to another.
pub fn rename_files(glance: &Glance, moves: &[(String, String)]) -> Moved {
    let project = &glance.project;
    let paths: BTreeMap<ModuleId, String> = project
        .modules
        .iter()
        .enumerate()
        .filter(|(_, module)| !module.is_std)
        .map(|(at, module)| (ModuleId(at as u32), after(&module.path, moves)))
        .collect();
    let names = Names::of(glance);
    let mut moved = Moved::default();
    for (&id, path) in &paths {
        let Some(module) = project.module(id) else { continue };
        for statement in module.tree.statements.iter().filter(|one| &*one.keyword.text == "use") {
            let follow = Follow { glance, names: &names, module, path };
            follow.line(id, statement, &paths, &mut moved);
        }
    }
    moved.edits.sort();
    moved.edits.dedup();
    moved
}

/// A path when all has moved.
fn after(path: &str, moves: &[(String, String)]) -> String {
    for (old, new) in moves {
        let (old, new) = (old.trim_end_matches('/'), new.trim_end_matches('/'));
        match path.strip_prefix(old) {
            Some("") => return new.to_owned(),
            Some(rest) if rest.starts_with('/') => return format!("{new}{rest}"),
            _ => {}
        }
    }
    path.to_owned()
}

struct Follow<'f, 'g> {
    glance: &'g Glance,
    names: &'f Names<'g>,
    module: &'g Module,
    /// Where the file with the `use` line is afterwards.
    path: &'f str,
}

impl Follow<'_, '_> {
    fn line(&self, id: ModuleId, statement: &Statement, paths: &BTreeMap<ModuleId, String>, moved: &mut Moved) {
        let Some(Item { kind: ItemKind::Path(words), span }) = statement.arguments.first() else { return };
        let Some(used) = self.glance.project.module_used(id, words) else { return };
        let Some(target) = paths.get(&used) else { return };
        let written = words.iter().map(|word| &*word.text).collect::<Vec<_>>().join(".");
        let wanted = match words_to(self.path, target) {
            Ok(wanted) if wanted == written => return,
            Ok(wanted) => wanted,
            Err(why) => return moved.lost.push((*span, why)),
        };
        let alias = wanted.rsplit('.').next().unwrap_or_default();
        let old = words.last().map(|word| &*word.text).unwrap_or_default();
        let whole = statement.arguments.len() == 1;
        if whole && alias != old {
            if self.module.names.contains_key(alias) {
                let why = format!("`{alias}` is taken in {}: this line would bring it in twice", self.module.path);
                return moved.lost.push((*span, why));
            }
            moved.edits.extend(self.through(used, words).into_iter().map(|span| (span, alias.to_owned())));
        }
        moved.edits.push((*span, wanted));
    }

    /// Words that go through the file: `details` in `details.eave`.
    fn through(&self, used: ModuleId, line: &[Word]) -> Vec<Span> {
        let old = line.last().map(|word| &*word.text).unwrap_or_default();
        let lines = || self.module.tree.statements.iter().filter(|one| &*one.keyword.text == "use");
        let files = &self.glance.project.files;
        let all = self.names.in_file(self.module.file).into_iter();
        all.filter(|one| one.symbol == Symbol::Module(used) && files.slice(one.span) == old)
            .filter(|one| !lines().any(|line| line.span.touches(one.span.start)))
            .map(|one| one.span)
            .collect()
    }
}

/// What stands behind `use` in one file to read another: only files beside it and below have such words.
fn words_to(from: &str, to: &str) -> Result<String, String> {
    let folder = from.rsplit_once('/').map_or(String::new(), |(folder, _)| format!("{folder}/"));
    let Some(rest) = to.strip_prefix(&folder) else {
        return Err(format!("{to} is outside of the folder of {from}: a `use` line reads files beside it and below"));
    };
    let Some(rest) = rest.strip_suffix(".wythe") else {
        return Err(format!("{to} does not end in `.wythe`, so no `use` line can read it"));
    };
    for part in rest.split('/') {
        is_a_word(part).map_err(|why| format!("no `use` line can read {to}: {why}"))?;
    }
    Ok(rest.replace('/', "."))
}
