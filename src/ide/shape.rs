//! The shape of a text: what folds, and what a growing selection takes in.

use crate::session::Glance;
use crate::source::{FileId, Span};
use crate::syntax::{Entry, Item, ItemKind, Statement, Tree};

/// What a fold hides.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum FoldKind {
    /// The lines of a block, or of long brackets.
    Block,
    /// `use` lines.
    Uses,
    /// Comment lines.
    Comment,
}

/// Lines that may be hidden: those behind the first one, up to the last.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Fold {
    /// From inside the first line to the end of the last.
    pub span: Span,
    /// What is hidden.
    pub kind: FoldKind,
}

/// All folds of a file, sorted.
pub fn folds(glance: &Glance, file: FileId) -> Vec<Fold> {
    let Some(tree) = tree(glance, file) else { return Vec::new() };
    let text = glance.project.files.text(file);
    let mut folds = Vec::new();
    tree.statements.iter().for_each(|statement| blocks(text, statement, &mut folds));
    use_lines(text, tree, &mut folds);
    comment_lines(text, file, &mut folds);
    folds.retain(|fold| text.get(fold.span.range()).is_some_and(|hidden| hidden.contains('\n')));
    folds.sort_unstable();
    folds.dedup();
    folds
}

fn tree(glance: &Glance, file: FileId) -> Option<&Tree> {
    glance.project.modules.iter().find(|module| module.file == file).map(|module| &*module.tree)
}

/// The lines between the brackets, so that the closing one stays in sight.
fn blocks(text: &str, statement: &Statement, folds: &mut Vec<Fold>) {
    if let Some(block) = statement.block {
        folds.push(Fold { span: between(text, block), kind: FoldKind::Block });
    }
    for item in &statement.arguments {
        if let ItemKind::Tuple(_) | ItemKind::Call(..) = item.kind {
            folds.push(Fold { span: between(text, item.span), kind: FoldKind::Block });
        }
    }
    statement.clauses.iter().for_each(|clause| blocks(text, clause, folds));
}

/// From behind the first letter to the end of the line above the closing bracket; a block left open folds whole.
fn between(text: &str, span: Span) -> Span {
    let inside = text.get(span.range()).unwrap_or_default();
    let closed = inside.ends_with(['}', ')']);
    let end = if closed { inside.rfind('\n').unwrap_or(0) } else { inside.trim_end().len() };
    let end = inside.get(..end).map_or(end, |kept| kept.trim_end_matches('\r').len());
    Span {
        start: (span.start + 1).min(span.end),
        end: (span.start + end as u32).max(span.start + 1).min(span.end),
        ..span
    }
}

fn use_lines(text: &str, tree: &Tree, folds: &mut Vec<Fold>) {
    let mut run: Option<Span> = None;
    for statement in &tree.statements {
        let is_use = &*statement.keyword.text == "use";
        let gap = run.and_then(|run| text.get(run.end as usize..statement.span.start as usize));
        let goes_on = is_use && gap.is_some_and(|gap| gap.trim().is_empty());
        match run {
            Some(known) if goes_on => run = Some(known.to(statement.span)),
            known => {
                folds.extend(known.map(|span| Fold { span, kind: FoldKind::Uses }));
                run = is_use.then_some(statement.span);
            }
        }
    }
    folds.extend(run.map(|span| Fold { span, kind: FoldKind::Uses }));
}

/// Lines that hold nothing but a comment, two or more below one another; `///` lines count.
fn comment_lines(text: &str, file: FileId, folds: &mut Vec<Fold>) {
    let mut run: Option<(usize, usize)> = None;
    let mut at = 0;
    for line in text.split_inclusive('\n') {
        let (start, end) = (at + line.len() - line.trim_start().len(), at + line.trim_end().len());
        at += line.len();
        if line.trim_start().starts_with("//") {
            run = Some((run.map_or(start, |(from, _)| from), end));
        } else if let Some((from, to)) = run.take() {
            folds.push(Fold { span: Span::new(file, from, to), kind: FoldKind::Comment });
        }
    }
    folds.extend(run.map(|(from, to)| Fold { span: Span::new(file, from, to), kind: FoldKind::Comment }));
}

/// What a selection at a place grows to, smallest first: word, value, argument, statement, block, declaration, file.
pub fn selections(glance: &Glance, file: FileId, offset: u32) -> Vec<Span> {
    let text = glance.project.files.text(file);
    let mut spans = vec![Span::new(file, 0, text.len())];
    let mut statements: &[Statement] = tree(glance, file).map_or(&[], |tree| &tree.statements);
    while let Some(statement) = statements.iter().find(|one| one.span.touches(offset)) {
        spans.push(with_doc(text, statement));
        spans.push(statement.span);
        if let Some(block) = statement.block.filter(|block| block.start < offset && offset < block.end) {
            spans.push(block);
            let inside = text.get(block.start as usize + 1..(block.end as usize).saturating_sub(1)).unwrap_or("");
            let lead = inside.len() - inside.trim_start().len();
            let start = block.start as usize + 1 + lead;
            spans.push(Span::new(file, start, start + inside.trim().len()));
        }
        let head = statement.head_span();
        if head.touches(offset) {
            spans.push(head);
            spans.extend(Some(statement.keyword.span).filter(|keyword| keyword.touches(offset)));
            statement.arguments.iter().for_each(|item| grow(item, offset, &mut spans));
        }
        statements = &statement.clauses;
    }
    let mut kept: Vec<Span> = Vec::new();
    for span in spans {
        let holds =
            span.touches(offset) && kept.last().is_none_or(|last| last.start <= span.start && span.end <= last.end);
        if holds && kept.last() != Some(&span) {
            kept.push(span);
        }
    }
    kept.reverse();
    kept
}

/// A statement with the `///` lines above it.
fn with_doc(text: &str, statement: &Statement) -> Span {
    let mut start = statement.span.start as usize;
    if statement.doc.is_some() {
        let before = text.get(..start).unwrap_or_default();
        let above = before.trim_end_matches([' ', '\t']);
        let mut at = above.len();
        for line in above.split_inclusive('\n').rev() {
            if !line.trim_start().starts_with("//") {
                break;
            }
            at -= line.len();
            start = at + line.len() - line.trim_start().len();
        }
    }
    Span { start: start as u32, ..statement.span }
}

fn grow(item: &Item, offset: u32, spans: &mut Vec<Span>) {
    if !item.span.touches(offset) {
        return;
    }
    spans.push(item.span);
    let entries = |entries: &[Entry], spans: &mut Vec<Span>| {
        for entry in entries {
            let name = entry.name.as_ref().map(|name| name.span);
            let whole = name.map_or(entry.value.span, |name| name.to(entry.value.span));
            if whole.touches(offset) {
                spans.push(whole);
                spans.extend(name.filter(|name| name.touches(offset)));
                grow(&entry.value, offset, spans);
            }
        }
    };
    match &item.kind {
        ItemKind::Path(words) => spans.extend(words.iter().map(|word| word.span).filter(|span| span.touches(offset))),
        ItemKind::Call(words, inner) => {
            if let (Some(first), Some(last)) = (words.first(), words.last()) {
                spans.extend(Some(first.span.to(last.span)).filter(|span| span.touches(offset)));
            }
            spans.extend(words.iter().map(|word| word.span).filter(|span| span.touches(offset)));
            entries(inner, spans);
        }
        ItemKind::Tuple(inner) => entries(inner, spans),
        ItemKind::Size(items) => items.iter().for_each(|item| grow(item, offset, spans)),
        ItemKind::Range(low, high) => {
            grow(low, offset, spans);
            grow(high, offset, spans);
        }
        ItemKind::Sum(first, rest) => {
            grow(first, offset, spans);
            rest.iter().for_each(|(_, item)| grow(item, offset, spans));
        }
        ItemKind::Text(_)
        | ItemKind::Date(..)
        | ItemKind::Quantity(_)
        | ItemKind::FeetInches(..)
        | ItemKind::Pitch(..) => {}
    }
}
