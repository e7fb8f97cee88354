//! Renames what a name stands for, wherever it is named; or says why it cannot be.

use super::names::{self, Names, Occurrence, Symbol};
use crate::eval::SMALL_WORDS;
use crate::resolve::{Binding, DeclarationId};
use crate::schema;
use crate::session::Glance;
use crate::source::{FileId, Span};
use crate::syntax::{DECLARATION_WORDS, parse};

/// Replacements in any files; none overlap; sorted by place.
pub type Edits = Vec<(Span, String)>;

/// A name that can be changed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Renamable {
    /// Where it stands under the cursor.
    pub span: Span,
    /// As it is now.
    pub name: String,
}

/// Whether the name at a place can be changed; the reason if it cannot.
pub fn prepare_rename(glance: &Glance, file: FileId, offset: u32) -> Result<Renamable, String> {
    let names = Names::of(glance);
    let here = named(glance, &names, file, offset)?;
    changeable(glance, &names, &here)?;
    Ok(Renamable { span: here.span, name: glance.project.files.slice(here.span).to_owned() })
}

/// The edits that give a thing another name everywhere; the reason if it cannot have it.
pub fn rename(glance: &Glance, file: FileId, offset: u32, new: &str) -> Result<Edits, String> {
    let names = Names::of(glance);
    let here = named(glance, &names, file, offset)?;
    changeable(glance, &names, &here)?;
    is_a_name(new)?;
    if glance.project.files.slice(here.span) == new {
        return Ok(Vec::new());
    }
    let places = names.places_of(&here.symbol);
    let case = Case { glance, names: &names, places: &places, new };
    case.clashes(&here.symbol)?;
    let mut edits: Edits = places.iter().map(|one| (one.span, new.to_owned())).collect();
    edits.sort();
    edits.dedup();
    Ok(edits)
}

fn named(glance: &Glance, names: &Names<'_>, file: FileId, offset: u32) -> Result<Occurrence, String> {
    let spot = super::Spot::at(glance, file, offset);
    let keyword = spot.statement().map(|statement| &statement.keyword).filter(|word| word.span.touches(offset));
    let word = keyword.or(spot.word).map(|word| &*word.text).unwrap_or_default();
    match (names.at(file, offset), keyword) {
        (Some(here), None) => Ok(here),
        (Some(here), Some(_)) if here.declares => Ok(here),
        (_, Some(_)) => Err(format!("`{word}` is a word of the language")),
        (None, None) if word.is_empty() => Err("there is no name here".to_owned()),
        (None, None) => Err(format!("`{word}` is a word of the language, or nothing that has a place in these files")),
    }
}

/// What no name can be given to.
fn changeable(glance: &Glance, names: &Names<'_>, here: &Occurrence) -> Result<(), String> {
    let project = &glance.project;
    let written = project.files.slice(here.span);
    let home = match &here.symbol {
        Symbol::Declaration(id) | Symbol::Parameter(id, _) => {
            project.declaration(*id).and_then(|one| project.module(one.module)).map(|module| module.file)
        }
        Symbol::Member(span) => Some(span.file),
        Symbol::Module(id) => {
            let module = project.module(*id);
            return Err(match module {
                Some(module) if !module.is_std => {
                    format!("`{written}` is the file {}: rename the file, and what uses it follows", module.path)
                }
                _ => format!("`{written}` is a part of the library, which is the same for everybody"),
            });
        }
        Symbol::Clause(_) => return Err(format!("`{written}` has no name of its own, only its keyword")),
        Symbol::Limit(_) => return Err(format!("rules read `{written}` by this name")),
        Symbol::Rule(_) => return Err(format!("`{written}` is a built-in rule")),
    };
    if home.is_none_or(|file| project.files.is_std(file)) {
        return Err(format!("`{written}` belongs to the library, which is the same for everybody"));
    }
    if let Symbol::Declaration(id) = &here.symbol
        && let Some(declaration) = project.declaration(*id)
        && let Some(other) = twin(names, declaration.kind, &declaration.name, *id)
    {
        let path = project.declaration(other).and_then(|one| project.module(one.module)).map(|module| &module.path);
        let path = path.map_or("", String::as_str);
        return Err(format!(
            "another {} is called `{written}` too, in {path}: rename one of them by hand",
            declaration.kind
        ));
    }
    Ok(())
}

/// Another declaration that the whole project would take for this one.
fn twin(names: &Names<'_>, kind: &'static str, name: &str, id: DeclarationId) -> Option<DeclarationId> {
    if !matches!(kind, "face" | "section" | "building" | "rule") {
        return None;
    }
    let all = names.project().declarations.iter().enumerate();
    let mut others = all.filter(|(at, one)| *at != id.0 as usize && one.kind == kind && &*one.name == name);
    others.next().map(|(at, _)| DeclarationId(at as u32))
}

/// Whether a text is a name that a declaration, or something in one, may have; the reason if not.
fn is_a_name(new: &str) -> Result<(), String> {
    if new == "std" || new == "office" {
        return Err(format!("`{new}` is a word of the language"));
    }
    if DECLARATION_WORDS.contains(&new) {
        return Err(format!("`{new}` starts a declaration"));
    }
    is_a_word(new)
}

/// Whether a text is one word of the language that may name something.
pub(super) fn is_a_word(new: &str) -> Result<(), String> {
    if SMALL_WORDS.contains(&new) {
        return Err(format!("`{new}` is a word of the language"));
    }
    let parsed = parse(FileId(0), &format!("detail {new} {{\n}}\n"));
    let first = parsed.tree.statements.first().filter(|_| parsed.problems.is_empty() && !new.contains(['\n', '\r']));
    let word = first.and_then(|statement| statement.arguments.first()).and_then(|item| item.word());
    match word {
        Some(word) if &*word.text == new => Ok(()),
        _ => Err(format!(
            "`{new}` is no name: a name is one word of letters, figures and `_`, and begins with no figure"
        )),
    }
}

struct Case<'c, 'g> {
    glance: &'g Glance,
    names: &'c Names<'g>,
    places: &'c [Occurrence],
    new: &'c str,
}

impl Case<'_, '_> {
    fn clashes(&self, symbol: &Symbol) -> Result<(), String> {
        match symbol {
            Symbol::Declaration(id) => self.declaration(*id),
            Symbol::Parameter(id, _) => self.parameter(*id),
            Symbol::Member(span) => self.member(*span),
            Symbol::Module(_) | Symbol::Clause(_) | Symbol::Limit(_) | Symbol::Rule(_) => Ok(()),
        }
    }

    fn declaration(&self, id: DeclarationId) -> Result<(), String> {
        let project = &self.glance.project;
        let Some(declaration) = project.declaration(id) else { return Ok(()) };
        let new = self.new;
        if matches!(declaration.kind, "project" | "site" | "accept" | "evidence") {
            return Ok(());
        }
        if project.prelude.contains_key(new) || project.prelude.contains_key(schema::respell(new)) {
            return Err(format!("`{new}` is a material that every file knows"));
        }
        let knows = |binding: &Binding| *binding == Binding::Declaration(id);
        for module in &project.modules {
            let bound = module.names.values().any(|(binding, _)| knows(binding));
            if let Some((other, at)) = module.names.get(new).filter(|_| bound) {
                let there = match other {
                    Binding::Declaration(other) => project.declaration(*other).map(|one| one.name_span),
                    Binding::Module(_) => None,
                };
                return Err(self.taken(there.unwrap_or(*at)));
            }
        }
        if let Some(other) = twin(self.names, declaration.kind, new, id) {
            let at = project.declaration(other).map(|one| one.name_span).unwrap_or_default();
            return Err(self.taken(at));
        }
        if declaration.kind == "face" && self.names.on_face(id).contains_key(new) {
            return Err(format!("something on this face is called `{new}`, and a place could mean either"));
        }
        self.captured()
    }

    /// A use of the name that a parameter round it would take for itself.
    fn captured(&self) -> Result<(), String> {
        for place in self.places.iter().filter(|one| !one.declares) {
            let round = self.names.declaration_at(place.span).and_then(|id| self.glance.project.statement(id));
            let parameter = round.and_then(|one| names::parameters(one).find(|(word, _)| &*word.text == self.new));
            if let Some((word, _)) = parameter {
                return Err(self.taken(word.span));
            }
        }
        Ok(())
    }

    fn parameter(&self, id: DeclarationId) -> Result<(), String> {
        let project = &self.glance.project;
        let Some(statement) = project.statement(id) else { return Ok(()) };
        if let Some((word, _)) = names::parameters(statement).find(|(word, _)| &*word.text == self.new) {
            return Err(self.taken(word.span));
        }
        // What the declaration names in one word would be taken for the parameter.
        let all = self.names.in_file(statement.span.file);
        let inside = |one: &&Occurrence| statement.span.start < one.span.start && one.span.end <= statement.span.end;
        let same = |one: &&Occurrence| {
            matches!(one.symbol, Symbol::Declaration(_)) && project.files.slice(one.span) == self.new
        };
        match all.iter().filter(inside).find(same) {
            Some(other) => Err(self.taken(other.span)),
            None => Ok(()),
        }
    }

    fn member(&self, root: Span) -> Result<(), String> {
        let project = &self.glance.project;
        let Some(id) = self.names.declaration_at(root) else { return Ok(()) };
        let Some(declaration) = project.declaration(id) else { return Ok(()) };
        match declaration.kind {
            "face" => self.on_face(id, &declaration.name),
            "assembly" => self.layer(root),
            _ => Ok(()),
        }
    }

    fn on_face(&self, id: DeclarationId, face: &str) -> Result<(), String> {
        let new = self.new;
        if face == new {
            return Err(format!("the face itself is called `{new}`, and a place could mean either"));
        }
        if schema::context("outline").contains_key(new) {
            return Err(format!("an edge without a name of its own is called `{new}`"));
        }
        match self.names.on_face(id).get(new) {
            Some(other) => Err(self.taken(other.word)),
            None => Ok(()),
        }
    }

    /// A layer has one name in an assembly and in all that are `like` it.
    fn layer(&self, root: Span) -> Result<(), String> {
        let project = &self.glance.project;
        if schema::context("assembly").contains_key(self.new) {
            return Err(format!("`{}` is a word of the language, and `without {0}` could mean either", self.new));
        }
        let assemblies = project.declarations.iter().enumerate().filter(|(_, one)| one.kind == "assembly");
        for (at, _) in assemblies {
            let layers = names::named_in(project, DeclarationId(at as u32));
            let has = layers.iter().any(|layer| layer.root == root);
            if let Some(other) = layers.iter().find(|layer| has && &*layer.name == self.new) {
                return Err(self.taken(other.word));
            }
        }
        Ok(())
    }

    fn taken(&self, at: Span) -> String {
        let files = &self.glance.project.files;
        let place = files.position(at.file, at.start);
        format!("`{}` is taken: {}:{}:{}", self.new, files.path(at.file), place.line, place.column)
    }
}
