//! Looks a dotted name up in a file: own names and imports first, then the library, then the common materials.

use super::{Binding, DeclarationId, ModuleId, Project};
use crate::syntax::Word;

/// What a lookup gave.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Lookup {
    /// A declaration.
    Found(DeclarationId),
    /// A whole file, where a declaration is wanted.
    Module(ModuleId),
    /// The word at this index of the path is not known; the names that were to choose from.
    Unknown(usize, Vec<String>),
}

/// Finds what a path stands for in a module. The path has at least one word.
pub fn resolve_path(project: &Project, module: ModuleId, path: &[Word]) -> Lookup {
    let Some((first, rest)) = path.split_first() else { return Lookup::Unknown(0, Vec::new()) };
    let names = project.module(module).map(|module| &module.names);
    let start = match names.and_then(|names| names.get(&first.text)) {
        Some(&(binding, _)) => Some(binding),
        None if &*first.text == "std" && !rest.is_empty() => return in_library(project, rest),
        None => project.prelude.get(&first.text).map(|&id| Binding::Declaration(id)),
    };
    match (start, rest) {
        (Some(Binding::Declaration(id)), []) => Lookup::Found(id),
        (Some(Binding::Declaration(_)), _) => Lookup::Unknown(1, Vec::new()),
        (Some(Binding::Module(found)), rest) => in_module(project, found, rest, 1),
        (None, _) => {
            let own = names.into_iter().flat_map(|names| names.keys());
            Lookup::Unknown(0, own.chain(project.prelude.keys()).map(|name| name.to_string()).collect())
        }
    }
}

fn in_library(project: &Project, rest: &[Word]) -> Lookup {
    let Some((name, rest)) = rest.split_first() else { return Lookup::Unknown(0, Vec::new()) };
    match project.module_at(&format!("std/{}.wythe", name.text)) {
        Some(module) => in_module(project, module, rest, 2),
        None => Lookup::Unknown(1, super::library::names().map(str::to_owned).collect()),
    }
}

fn in_module(project: &Project, found: ModuleId, rest: &[Word], at: usize) -> Lookup {
    let Some(module) = project.module(found) else { return Lookup::Unknown(at, Vec::new()) };
    match rest {
        [] => Lookup::Module(found),
        [name] => match module.own.get(&name.text) {
            Some(&id) => Lookup::Found(id),
            None => Lookup::Unknown(at, module.own.keys().map(|name| name.to_string()).collect()),
        },
        [_, ..] => Lookup::Unknown(at + 1, Vec::new()),
    }
}
