//! The shape of a text: outline, folds, selections, colours, links, lines above declarations, formatting.

use serde_json::json;
use tower_lsp_server::ls_types::{
    CodeLens, Command, DocumentLink, DocumentSymbol, FoldingRange, FoldingRangeKind, Position, Range, SelectionRange,
    SemanticToken, SemanticTokenModifier, SemanticTokenType, SemanticTokens, SemanticTokensLegend, SymbolKind,
    TextEdit, Uri,
};
use wythe::ide::{self, Action, Edits, Entry, FoldKind, Kind, Lens, Target, Token, TokenKind};
use wythe::source::Span;

use crate::convert;
use crate::state::{Desk, State};

/// What a text holds.
pub fn outline(state: &mut State, uri: &Uri) -> Option<Vec<DocumentSymbol>> {
    let desk = state.quick_desk(uri)?;
    Some(ide::outline(desk.glance, desk.file).iter().map(|entry| symbol(&desk, entry)).collect())
}

fn symbol(desk: &Desk<'_>, entry: &Entry) -> DocumentSymbol {
    #[allow(deprecated)] // the field must be given
    DocumentSymbol {
        name: entry.name.clone(),
        detail: Some(entry.word.clone()).filter(|word| *word != entry.name),
        kind: symbol_kind(entry.kind),
        tags: None,
        deprecated: None,
        range: desk.paper.range(entry.whole),
        selection_range: desk.paper.range(entry.at),
        children: Some(entry.inside.iter().map(|inner| symbol(desk, inner)).collect()),
    }
}

/// The protocol's nearest kind.
pub fn symbol_kind(kind: Kind) -> SymbolKind {
    match kind {
        Kind::Face | Kind::Assembly => SymbolKind::CLASS,
        Kind::Line => SymbolKind::FIELD,
        Kind::Area => SymbolKind::NAMESPACE,
        Kind::Opening => SymbolKind::OBJECT,
        Kind::Service => SymbolKind::EVENT,
        Kind::Piece | Kind::Part => SymbolKind::PROPERTY,
        Kind::Layer => SymbolKind::ARRAY,
        Kind::Detail => SymbolKind::INTERFACE,
        Kind::Goods => SymbolKind::STRUCT,
        Kind::RuleSet => SymbolKind::ENUM,
        Kind::Limit => SymbolKind::CONSTANT,
        Kind::Rule => SymbolKind::FUNCTION,
        Kind::Work => SymbolKind::METHOD,
        Kind::Building => SymbolKind::PACKAGE,
        Kind::Facts | Kind::Record => SymbolKind::VARIABLE,
        Kind::File => SymbolKind::MODULE,
    }
}

/// What can be folded.
pub fn folds(state: &mut State, uri: &Uri) -> Option<Vec<FoldingRange>> {
    let desk = state.quick_desk(uri)?;
    let fold = |fold: &ide::Fold| {
        let range = desk.paper.range(fold.span);
        FoldingRange {
            start_line: range.start.line,
            end_line: range.end.line,
            kind: match fold.kind {
                FoldKind::Block => Some(FoldingRangeKind::Region),
                FoldKind::Uses => Some(FoldingRangeKind::Imports),
                FoldKind::Comment => Some(FoldingRangeKind::Comment),
            },
            ..FoldingRange::default()
        }
    };
    Some(ide::folds(desk.glance, desk.file).iter().map(fold).collect())
}

/// What a selection grows to, at each place.
pub fn selections(state: &mut State, uri: &Uri, places: &[Position]) -> Option<Vec<SelectionRange>> {
    let desk = state.quick_desk(uri)?;
    let grown = |place: &Position| {
        let spans = ide::selections(desk.glance, desk.file, desk.offset(*place));
        let wrap = |parent: Option<Box<SelectionRange>>, span: &Span| {
            Some(Box::new(SelectionRange { range: desk.paper.range(*span), parent }))
        };
        let here = Range { start: *place, end: *place };
        spans.iter().rev().fold(None, wrap).map_or(SelectionRange { range: here, parent: None }, |found| *found)
    };
    Some(places.iter().map(grown).collect())
}

/// The colours that [`colours`] counts by.
pub fn legend() -> SemanticTokensLegend {
    SemanticTokensLegend {
        token_types: vec![
            SemanticTokenType::KEYWORD,
            SemanticTokenType::METHOD,
            SemanticTokenType::OPERATOR,
            SemanticTokenType::ENUM_MEMBER,
            SemanticTokenType::CLASS,
            SemanticTokenType::TYPE,
            SemanticTokenType::VARIABLE,
            SemanticTokenType::NAMESPACE,
            SemanticTokenType::PARAMETER,
            SemanticTokenType::NUMBER,
            SemanticTokenType::new("unit"),
            SemanticTokenType::STRING,
            SemanticTokenType::COMMENT,
        ],
        token_modifiers: vec![
            SemanticTokenModifier::DECLARATION,
            SemanticTokenModifier::DEFAULT_LIBRARY,
            SemanticTokenModifier::DOCUMENTATION,
        ],
    }
}

fn colour(kind: TokenKind) -> u32 {
    match kind {
        TokenKind::Keyword => 0,
        TokenKind::Clause => 1,
        TokenKind::Small => 2,
        TokenKind::Choice => 3,
        TokenKind::Name(Kind::Face | Kind::Assembly | Kind::Detail | Kind::Building) => 4,
        TokenKind::Name(Kind::Goods | Kind::RuleSet | Kind::Rule | Kind::Limit | Kind::Facts) => 5,
        TokenKind::Name(Kind::File) => 7,
        TokenKind::Name(_) => 6,
        TokenKind::Parameter => 8,
        TokenKind::Number => 9,
        TokenKind::Unit => 10,
        TokenKind::Text => 11,
        TokenKind::Comment | TokenKind::Doc => 12,
    }
}

/// Words by their meaning; of a range, if one is given.
pub fn colours(state: &mut State, uri: &Uri, within: Option<Range>) -> Option<SemanticTokens> {
    let desk = state.quick_desk(uri)?;
    let mut last = Position { line: 0, character: 0 };
    let mut data = Vec::new();
    for Token { span, kind, declares, library } in ide::tokens(desk.glance, desk.file) {
        let range = desk.paper.range(span);
        if within.is_some_and(|within| range.end < within.start || range.start > within.end) {
            continue;
        }
        let delta_line = range.start.line - last.line;
        let before = if delta_line == 0 { last.character } else { 0 };
        let doc = u32::from(kind == TokenKind::Doc);
        data.push(SemanticToken {
            delta_line,
            delta_start: range.start.character - before,
            length: range.end.character - range.start.character,
            token_type: colour(kind),
            token_modifiers_bitset: u32::from(declares) | (u32::from(library) << 1) | (doc << 2),
        });
        last = range.start;
    }
    Some(SemanticTokens { result_id: None, data })
}

/// Words that lead to files.
pub fn links(state: &mut State, uri: &Uri) -> Option<Vec<DocumentLink>> {
    let desk = state.quick_desk(uri)?;
    let known = desk.glance.project.files.path(desk.file);
    let depth = std::path::Path::new(known).components().count();
    let root = convert::path(uri).and_then(|path| path.ancestors().nth(depth).map(std::path::Path::to_owned));
    let link = |link: ide::Link| {
        let target = match link.to {
            Target::Text(file) => desk.paper.uri(file),
            Target::Beside(path) => Uri::from_file_path(root.as_ref()?.join(path)),
        };
        Some(DocumentLink { range: desk.paper.range(link.span), target: Some(target?), tooltip: None, data: None })
    };
    Some(ide::links(desk.glance, desk.file).into_iter().filter_map(link).collect())
}

/// Lines above declarations.
pub fn lenses(state: &mut State, uri: &Uri) -> Option<Vec<CodeLens>> {
    let desk = state.desk(uri)?;
    let lens = |Lens { at, title, action }: Lens| {
        let range = desk.paper.range(at);
        let face = |face: String| Some(vec![json!({"uri": uri, "face": face, "position": range.start})]);
        let (command, arguments) = match action {
            Action::Findings(name) => ("wythe.findings", face(name)),
            Action::Draw(name) => ("wythe.draw", face(name)),
            Action::Trace(name) => ("wythe.trace", face(name)),
            Action::Uses(uses) => {
                let places: Vec<_> = uses.iter().filter_map(|one| desk.paper.location(one.at)).collect();
                ("wythe.uses", Some(vec![json!(uri), json!(range.start), json!(places)]))
            }
        };
        let command = Some(Command { title, command: command.to_owned(), arguments });
        CodeLens { range, command, data: None }
    };
    Some(ide::lenses(desk.glance, desk.file).into_iter().map(lens).collect())
}

fn text_edits(desk: &Desk<'_>, edits: &Edits) -> Vec<TextEdit> {
    edits.iter().map(|(span, text)| desk.paper.text_edit(*span, text)).collect()
}

/// Brings a text into its one form.
pub fn format(state: &mut State, uri: &Uri) -> Option<Vec<TextEdit>> {
    let desk = state.quick_desk(uri)?;
    Some(text_edits(&desk, &ide::format_document(desk.glance, desk.file)))
}

/// The same for the declarations that a range touches.
pub fn format_range(state: &mut State, uri: &Uri, range: Range) -> Option<Vec<TextEdit>> {
    let desk = state.quick_desk(uri)?;
    let (from, to) = (desk.offset(range.start), desk.offset(range.end));
    Some(text_edits(&desk, &ide::format_range(desk.glance, desk.file, from, to)))
}

/// The indent of the line in which something was typed.
pub fn format_typed(state: &mut State, uri: &Uri, place: Position) -> Option<Vec<TextEdit>> {
    let desk = state.quick_desk(uri)?;
    let offset = desk.offset(place);
    Some(text_edits(&desk, &ide::format_typed(desk.glance, desk.file, offset)))
}
