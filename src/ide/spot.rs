//! What lies under a place of a text: the statements round it, their rows of the schema, the argument and the word.

use crate::eval::Reference;
use crate::resolve::DeclarationId;
use crate::schema::{self, Row};
use crate::session::Glance;
use crate::source::{FileId, Span};
use crate::syntax::{Entry, Item, ItemKind, Statement, Word};

/// One place of one file.
#[derive(Clone, Debug)]
pub struct Spot<'g> {
    /// The file.
    pub file: FileId,
    /// Byte offset into it.
    pub offset: u32,
    /// Statements round the place, outermost first, each with its row where the schema knows it there.
    pub round: Vec<(&'g Statement, Option<&'static Row>)>,
    /// The argument of the innermost statement under the place.
    pub item: Option<&'g Item>,
    /// The word under the place, or that ends at it.
    pub word: Option<&'g Word>,
    /// What the name under the place stands for.
    pub names: Option<Reference>,
}

impl<'g> Spot<'g> {
    /// What lies at a byte offset of a file.
    pub fn at(glance: &'g Glance, file: FileId, offset: u32) -> Self {
        let mut spot = Self { file, offset, round: Vec::new(), item: None, word: None, names: None };
        let module = glance.project.modules.iter().find(|module| module.file == file);
        let mut statements: &[Statement] = module.map_or(&[], |module| &module.tree.statements);
        let mut context = "file";
        while let Some(statement) = statements.iter().find(|statement| statement.span.touches(offset)) {
            let row = schema::find(context, &statement.keyword.text);
            spot.round.push((statement, row));
            context = row.map_or("", |row| row.body);
            statements = &statement.clauses;
        }
        if let Some((statement, _)) = spot.round.last() {
            spot.item = statement.arguments.iter().find_map(|item| innermost(item, offset));
            let keyword = Some(&statement.keyword).filter(|word| word.span.touches(offset));
            spot.word = keyword.or_else(|| spot.item.and_then(|item| word_of(item, offset)));
        }
        spot.names = named(glance, file, offset);
        spot
    }

    /// The innermost statement.
    pub fn statement(&self) -> Option<&'g Statement> {
        self.round.last().map(|(statement, _)| *statement)
    }

    /// Its row.
    pub fn row(&self) -> Option<&'static Row> {
        self.round.last().and_then(|(_, row)| *row)
    }

    /// The context in which a clause written at this place would stand: `file` outside of all blocks. A place inside the
    /// block of a statement is in its body.
    pub fn context(&self) -> &'static str {
        let inside = self.round.iter().rev().find(|(statement, row)| {
            let block = statement.block.is_some_and(|block| block.start < self.offset && self.offset <= block.end);
            block && row.is_some_and(|row| !row.body.is_empty())
        });
        inside.and_then(|(_, row)| row.map(|row| row.body)).unwrap_or("file")
    }

    /// The declaration round the place.
    pub fn declaration(&self, glance: &Glance) -> Option<DeclarationId> {
        let (outermost, _) = self.round.first()?;
        let all = glance.project.declarations.iter().enumerate();
        let mut here = all.filter(|(at, _)| {
            glance.project.statement(DeclarationId(*at as u32)).is_some_and(|one| std::ptr::eq(one, *outermost))
        });
        here.next().map(|(at, _)| DeclarationId(at as u32))
    }
}

/// The name used at a place.
fn named(glance: &Glance, file: FileId, offset: u32) -> Option<Reference> {
    let references = &glance.evaluated.references;
    let next = references.partition_point(|one| (one.span.file, one.span.start) <= (file, offset));
    let before = references.get(..next)?.iter().rev();
    before.take(4).find(|one| one.span.file == file && one.span.touches(offset)).copied()
}

/// The innermost argument at a place.
fn innermost(item: &Item, offset: u32) -> Option<&Item> {
    if !item.span.touches(offset) {
        return None;
    }
    let within =
        |entries: &'_ [Entry]| -> Option<usize> { entries.iter().position(|entry| entry.value.span.touches(offset)) };
    let inner = match &item.kind {
        ItemKind::Tuple(entries) | ItemKind::Call(_, entries) => {
            within(entries).and_then(|at| innermost(&entries.get(at)?.value, offset))
        }
        ItemKind::Size(items) => items.iter().find_map(|item| innermost(item, offset)),
        ItemKind::Range(low, high) => innermost(low, offset).or_else(|| innermost(high, offset)),
        ItemKind::Sum(first, rest) => {
            innermost(first, offset).or_else(|| rest.iter().find_map(|(_, item)| innermost(item, offset)))
        }
        ItemKind::Path(_)
        | ItemKind::Text(_)
        | ItemKind::Date(..)
        | ItemKind::Quantity(_)
        | ItemKind::FeetInches(..)
        | ItemKind::Pitch(..) => None,
    };
    Some(inner.unwrap_or(item))
}

fn word_of(item: &Item, offset: u32) -> Option<&Word> {
    let (ItemKind::Path(words) | ItemKind::Call(words, _)) = &item.kind else { return None };
    words.iter().find(|word| word.span.touches(offset))
}

/// The text of a file around a place that is a word, for a place the tree does not know: broken text.
pub fn word_before(text: &str, offset: u32) -> &str {
    let before = text.get(..offset as usize).unwrap_or_default();
    let start = before
        .rfind(|letter: char| !(letter.is_alphanumeric() || letter == '_'))
        .map_or(0, |at| at + before.get(at..).and_then(|rest| rest.chars().next()).map_or(0, char::len_utf8));
    before.get(start..).unwrap_or_default()
}

/// Where a declaration's name stands, or its keyword if it has none.
pub fn name_span(glance: &Glance, id: DeclarationId) -> Option<Span> {
    glance.project.declaration(id).map(|declaration| declaration.name_span)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ide::testing::{desk, heron_lane};

    #[test]
    fn a_place_knows_what_stands_round_it() {
        let desk = heron_lane("south.wythe", "face south", "detail house_base");
        let spot = Spot::at(&desk.glance, desk.file, desk.offset + 8);
        let words: Vec<&str> = spot.round.iter().map(|(statement, _)| &*statement.keyword.text).collect();
        assert_eq!(words, ["face", "outline", "base", "detail"]);
        assert_eq!(spot.word.map(|word| &*word.text), Some("house_base"));
        let named = spot.names.and_then(|named| desk.glance.project.declaration(named.declaration)).unwrap();
        assert_eq!((named.kind, &*named.name), ("detail", "house_base"));
        assert_eq!(spot.row().map(|row| row.word), Some("detail"));
    }

    #[test]
    fn an_empty_line_is_in_the_block_round_it() {
        let desk = desk(&[("wall.wythe", "wythe 1\n\nface north {\n    $0\n}\n")]);
        assert_eq!(Spot::at(&desk.glance, desk.file, desk.offset).context(), "face");
        let outside = Spot::at(&desk.glance, desk.file, 8);
        assert_eq!(outside.context(), "file");
    }

    #[test]
    fn the_word_before_a_place_is_found_in_any_text() {
        assert_eq!(word_before("layer boa", 9), "boa");
        assert_eq!(word_before("é°wall_", 9), "wall_");
        assert_eq!(word_before("trims ", 6), "");
    }
}
