//! What the library declares, read from its texts line by line, so that it can be offered before anything names it.

use std::sync::OnceLock;

use crate::resolve::library;
use crate::schema;

/// One declaration of the library.
#[derive(Clone, Debug)]
pub struct Entry {
    /// Its module: `boards`.
    pub module: &'static str,
    /// Keyword of the declaration.
    pub kind: &'static str,
    /// Its name.
    pub name: &'static str,
    /// What stands behind the name: `board of materials.larch_wood`.
    pub head: &'static str,
    /// Its `///` lines.
    pub doc: String,
    /// Its values in a few words, as written.
    pub facts: String,
}

/// Clauses shown beside a name, by kind of declaration.
const SHOWN: [(&str, &[&str]); 5] = [
    ("material", &["kind", "conductivity", "density", "vapour_factor", "vapour_thickness", "permeance"]),
    ("product", &["size", "thickness", "width", "roll", "exposure", "vapour_thickness", "permeance", "lengths"]),
    ("detail", &["at"]),
    ("limits", &["jurisdiction", "edition"]),
    ("climate", &["degree_days"]),
];

/// All declarations of the library.
pub fn entries() -> &'static [Entry] {
    static ENTRIES: OnceLock<Vec<Entry>> = OnceLock::new();
    ENTRIES.get_or_init(|| library::names().flat_map(module).collect())
}

fn module(module: &'static str) -> Vec<Entry> {
    let mut found: Vec<Entry> = Vec::new();
    let mut doc = Vec::new();
    for line in library::text(module).unwrap_or_default().lines() {
        if let Some(text) = line.strip_prefix("///") {
            doc.push(text.trim());
        } else if let Some(mut entry) = declaration(module, line) {
            entry.doc = doc.join(" ");
            doc.clear();
            found.push(entry);
        } else if let Some(clause) = line.strip_prefix("    ").filter(|rest| !rest.starts_with(' ')) {
            let base = clause.strip_prefix("like ").and_then(|base| base.split(['(', ' ']).next());
            let base =
                base.and_then(|base| found.iter().find(|entry| entry.name == base)).map(|base| base.facts.clone());
            if let Some(entry) = found.last_mut() {
                match base {
                    Some(facts) => entry.facts = facts,
                    None => add_fact(entry.kind, clause.trim_end_matches('{').trim_end(), &mut entry.facts),
                }
            }
        } else if !line.trim().is_empty() {
            doc.clear();
        }
    }
    found
}

fn declaration(module: &'static str, line: &'static str) -> Option<Entry> {
    let (word, rest) = line.split_once(' ')?;
    let row = schema::find("file", word).filter(|row| !matches!(row.word, "use" | "wythe"))?;
    let end = rest.find([' ', '(', ',', '{'])?;
    let (name, head) = rest.split_at_checked(end)?;
    let head = head.trim_end_matches('{').trim();
    Some(Entry { module, kind: row.word, name, head, doc: String::new(), facts: String::new() })
}

/// Adds a clause to the few words about a declaration, if it is one that is shown.
pub fn add_fact(kind: &str, clause: &str, facts: &mut String) {
    let shown = SHOWN.iter().find(|(known, _)| *known == kind).map_or(&[][..], |(_, words)| words);
    let mut words = clause.splitn(2, ' ');
    let (Some(word), Some(value)) = (words.next(), words.next()) else { return };
    if shown.contains(&word) {
        let value = value.split(", ").next().unwrap_or_default();
        let name = if word == "kind" || word == "at" { String::new() } else { format!("{} ", word.replace('_', " ")) };
        let between = if facts.is_empty() { "" } else { " · " };
        facts.push_str(&format!("{between}{name}{value}"));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_library_is_known_with_its_values() {
        let find = |module, name| entries().iter().find(|entry| entry.module == module && entry.name == name).unwrap();
        let larch = find("boards", "larch");
        assert_eq!(
            (larch.kind, larch.head, &*larch.doc),
            ("product", "board of materials.larch_wood", "Larch, shiplapped.")
        );
        assert_eq!(larch.facts, "size 20mm x 165mm · exposure 110mm..140mm");
        assert!(
            find("materials", "spruce").facts.contains("conductivity 0.1"),
            "{}",
            find("materials", "spruce").facts
        );
        assert_eq!(find("details", "screened_base").facts, "base");
    }

    /// Every name that the compiler finds in the library stands here.
    #[test]
    fn nothing_of_the_library_is_left_out() {
        for name in library::names() {
            let text = library::text(name).unwrap();
            let tree = crate::syntax::parse(crate::source::FileId::default(), text).tree;
            let declared = tree.statements.iter().filter(|one| !matches!(&*one.keyword.text, "use" | "wythe")).count();
            assert_eq!(entries().iter().filter(|entry| entry.module == name).count(), declared, "{name}");
        }
    }
}
