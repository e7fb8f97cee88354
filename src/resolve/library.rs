//! The standard library, embedded in the program as text.

/// Modules of the library by name, sorted.
const MODULES: &[(&str, &str)] = include!(concat!(env!("OUT_DIR"), "/stdlib.rs"));

/// The text of one library module.
pub fn text(module: &str) -> Option<&'static str> {
    MODULES.binary_search_by(|(name, _)| (*name).cmp(module)).ok().and_then(|at| MODULES.get(at)).map(|(_, text)| *text)
}

/// Modules of the library that declare this name, sorted.
pub fn declaring(name: &str) -> Vec<&'static str> {
    let declares = |line: &str| {
        let mut words = line.split([' ', '(', ',']);
        !line.starts_with([' ', '/']) && words.next() != Some("use") && words.next() == Some(name)
    };
    MODULES.iter().filter(|(_, text)| text.lines().any(declares)).map(|(module, _)| *module).collect()
}

/// Names of all library modules, sorted.
pub fn names() -> impl Iterator<Item = &'static str> {
    MODULES.iter().map(|(name, _)| *name)
}
