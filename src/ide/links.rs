//! Words that lead to a file: `use` lines, and photographs named in evidence.

use super::names::{Names, Symbol, visit};
use crate::session::Glance;
use crate::source::{FileId, Span};
use crate::syntax::ItemKind;

/// Endings of files that a photograph or a letter is kept in.
const ENDINGS: [&str; 8] = ["jpg", "jpeg", "png", "heic", "webp", "tif", "tiff", "pdf"];

/// Where a link leads.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Target {
    /// A text of the project or of the library.
    Text(FileId),
    /// A file beside the texts, by its path below the project folder. It may not be there.
    Beside(String),
}

/// A link.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Link {
    /// The words.
    pub span: Span,
    /// Where they lead.
    pub to: Target,
}

/// The links of a file, in order.
pub fn links(glance: &Glance, file: FileId) -> Vec<Link> {
    let names = Names::of(glance);
    let Some((_, module)) = names.module(file) else { return Vec::new() };
    let mut links = Vec::new();
    for statement in &module.tree.statements {
        if &*statement.keyword.text == "use"
            && let Some(path) = statement.arguments.first()
            && let Some(Symbol::Module(id)) = names.at(file, path.span.start).map(|one| one.symbol)
            && let Some(used) = glance.project.module(id)
        {
            links.push(Link { span: path.span, to: Target::Text(used.file) });
        }
        visit(statement, &mut |seen| {
            let clause = seen.statement;
            if let (Some(item), true) =
                (clause.arguments.first(), matches!(&*clause.keyword.text, "photo" | "reference"))
                && let ItemKind::Text(text) = &item.kind
                && let Some(path) = beside(&module.path, text)
            {
                links.push(Link { span: item.span, to: Target::Beside(path) });
            }
        });
    }
    links
}

/// The path of a file named in a text, below the project folder; nothing for a number, and nothing outside of it.
fn beside(module: &str, text: &str) -> Option<String> {
    let (_, ending) = text.rsplit_once('.')?;
    let known = ENDINGS.iter().any(|known| ending.eq_ignore_ascii_case(known));
    let inside = !text.starts_with('/') && !text.contains([':', '\\']) && text.split('/').all(|part| part != "..");
    let folder = module.rsplit_once('/').map_or(String::new(), |(folder, _)| format!("{folder}/"));
    (known && inside).then(|| format!("{folder}{text}"))
}
