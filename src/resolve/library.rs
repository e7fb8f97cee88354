//! The standard library, embedded in the program as text.

/// Modules of the library by name, sorted.
const MODULES: &[(&str, &str)] = include!(concat!(env!("OUT_DIR"), "/stdlib.rs"));

/// The text of one library module.
pub fn text(module: &str) -> Option<&'static str> {
    MODULES.binary_search_by(|(name, _)| (*name).cmp(module)).ok().and_then(|at| MODULES.get(at)).map(|(_, text)| *text)
}

/// Names of all library modules, sorted.
pub fn names() -> impl Iterator<Item = &'static str> {
    MODULES.iter().map(|(name, _)| *name)
}
