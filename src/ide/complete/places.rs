//! Dotted places: faces and what stands on them, edges, rules, limits, files.

use super::{CompletionKind, Desk};
use crate::checks::{RULES, office_properties};
use crate::ide::pen::first_word;
use crate::model::{DISPUTES, Face};
use crate::resolve::{Lookup, resolve_path};
use crate::schema::{Row, find};
use crate::syntax::{ItemKind, Statement};

impl Desk<'_> {
    /// What a dotted name of a row may be.
    pub(super) fn places(&mut self, row: &'static Row, label: &str) {
        match (row.word, label) {
            ("use", _) => self.modules(),
            ("meets" | "faces" | "section" | "out_of_reach", _) => self.faces(),
            ("accept", "rule") => self.rules(),
            ("accept" | "evidence", _) => self.things(),
            ("between", _) => self.areas(),
            ("trim", _) => self.runs(),
            ("limit", _) => self.limits(),
            ("option", "name") => {
                for dispute in DISPUTES {
                    self.path(dispute.name, CompletionKind::Rule, dispute.says);
                }
            }
            ("option", _) => {
                let name = self.pen.clause().split_whitespace().nth(1).unwrap_or_default();
                let sides = DISPUTES.iter().filter(|dispute| dispute.name == name).flat_map(|dispute| dispute.choices);
                for side in sides {
                    self.path(side, CompletionKind::Word, "");
                }
            }
            ("where" | "wants", _) => self.properties(),
            ("without" | "after", _) => self.inherited(),
            _ => {}
        }
    }

    fn path(&mut self, label: &str, kind: CompletionKind, detail: &str) {
        let replace = self.whole_word();
        self.offer(label, kind, replace).detail(detail).order(1);
    }

    fn modules(&mut self) {
        if self.word().starts_with("std.") {
            return self.library_modules(&|_| true);
        }
        let Some((_, module)) = self.module else { return };
        let used: Vec<&str> = module
            .tree
            .statements
            .iter()
            .filter(|one| &*one.keyword.text == "use" && !one.span.touches(self.offset as u32))
            .map(|one| self.module_of(one))
            .collect();
        let mut offers: Vec<(String, String)> = Vec::new();
        for other in self.glance.project.modules.iter().filter(|other| !other.is_std && other.path != module.path) {
            if let Some(path) = super::names::path_from(&module.path, &other.path) {
                let names: Vec<&str> = other.own.keys().take(6).map(|name| &**name).collect();
                offers.push((path, names.join(", ")));
            }
        }
        for name in crate::resolve::library::names() {
            let all = crate::ide::library::entries().iter().filter(|entry| entry.module == name);
            let names: Vec<&str> = all.take(6).map(|entry| entry.name).collect();
            offers.push((format!("std.{name}"), names.join(", ")));
        }
        let fresh: Vec<_> = offers.into_iter().filter(|(path, _)| !used.contains(&path.as_str())).collect();
        for (path, names) in fresh {
            self.path(&path, CompletionKind::Module, &names);
        }
    }

    fn faces(&mut self) {
        let own = self.face();
        let typed = self.pen.clause().to_owned();
        for face in &self.glance.model.faces {
            let named = typed.split_whitespace().any(|word| word == face.name);
            if Some(face.name.as_str()) != own && !named {
                self.path(&face.name, CompletionKind::Place, "face");
            }
        }
    }

    fn own_face(&self) -> Option<&Face> {
        let id = self.glance.model.face_named(self.face()?)?;
        self.glance.model.face(id)
    }

    fn areas(&mut self) {
        let areas: Vec<String> =
            self.own_face().map(|face| face.areas.iter().map(|area| area.name.clone()).collect()).unwrap_or_default();
        let typed = self.pen.clause().to_owned();
        for area in areas.iter().filter(|area| !typed.split_whitespace().any(|word| word == area.as_str())) {
            self.path(area, CompletionKind::Place, "area");
        }
    }

    /// Edges of the face, and the sides of its openings, along which a trim can run.
    fn runs(&mut self) {
        let Some(face) = self.own_face() else { return };
        let edges = face.edges.iter().map(|edge| (edge.name.clone(), edge.kind.to_owned()));
        let sides = ["head", "jamb", "sill"];
        let openings = face.openings.iter().flat_map(|opening| {
            sides.iter().map(|side| (format!("{}.{side}", opening.name), format!("{side} of a {}", opening.kind)))
        });
        let all: Vec<_> = edges.chain(openings).collect();
        for (name, what) in all {
            self.path(&name, CompletionKind::Place, &what);
        }
    }

    /// Rules; those that found something come first.
    fn rules(&mut self) {
        let replace = self.whole_word();
        let found: std::collections::BTreeSet<&str> =
            self.glance.findings.iter().map(|settled| settled.finding.rule).collect();
        for meta in RULES.iter().map(|rule| rule.meta()) {
            let order = if found.contains(meta.id) { 0 } else { 2 };
            self.offer(meta.id, CompletionKind::Rule, replace).detail(meta.title).order(order);
        }
        for rule in &self.glance.model.office_rules {
            let label = format!("office.{}", rule.name);
            self.offer(label, CompletionKind::Rule, replace).detail(&*rule.says).order(1);
        }
    }

    /// Places of findings and all named things, from the face round the place or from the file.
    fn things(&mut self) {
        let own = self.face();
        let rule = self.pen.clause().split_whitespace().nth(1).unwrap_or_default().to_owned();
        let mut offers: Vec<(String, String, u8)> = Vec::new();
        let short = |subject: &str| match own {
            Some(face) => subject.strip_prefix(face).and_then(|rest| rest.strip_prefix('.')).map(str::to_owned),
            None => Some(subject.to_owned()),
        };
        for finding in
            self.glance.findings.iter().map(|settled| &settled.finding).filter(|finding| finding.rule == rule)
        {
            if let Some(place) = short(&finding.subject) {
                offers.push((place, finding.message.clone(), 0));
            }
        }
        for face in &self.glance.model.faces {
            if own.is_none() {
                offers.push((face.name.clone(), "face".to_owned(), 2));
            }
            for (name, what) in named(face) {
                offers.extend(short(&format!("{}.{name}", face.name)).map(|place| (place, what.to_owned(), 3)));
            }
        }
        let replace = self.whole_word();
        for (place, what, order) in offers {
            self.offer(place, CompletionKind::Place, replace).detail(what).order(order);
        }
    }

    fn limits(&mut self) {
        let units = self.glance.model.project.units;
        let mut seen = std::collections::BTreeSet::new();
        for set in &self.glance.model.rule_sets {
            for (name, limit) in &set.limits {
                if seen.insert(name) {
                    let said = format!("{} · {}", limit.shown(name, units), limit.citation());
                    self.path(name, CompletionKind::Rule, &said);
                }
            }
        }
    }

    /// Properties that a rule of the office may ask of its subject.
    fn properties(&mut self) {
        let head = self.pen.open.last().map_or("", |opened| opened.head);
        let subject = head.split_whitespace().skip_while(|word| *word != "for").nth(1).unwrap_or_default();
        for property in office_properties(subject) {
            self.path(property, CompletionKind::Word, subject);
        }
    }

    /// Statements of what the declaration round the place is like.
    fn inherited(&mut self) {
        let Some((id, _)) = self.module else { return };
        let Some(like) =
            self.declaration().and_then(|one| one.clauses.iter().find(|clause| &*clause.keyword.text == "like"))
        else {
            return;
        };
        let Some(ItemKind::Path(path) | ItemKind::Call(path, _)) = like.arguments.first().map(|item| &item.kind) else {
            return;
        };
        let Lookup::Found(base) = resolve_path(&self.glance.project, id, path) else { return };
        let clauses = self.glance.project.statement(base).map_or(&[][..], |base| &base.clauses);
        let kind = self.glance.project.declaration(base).map_or("", |declaration| declaration.kind);
        let names: Vec<(String, String)> = clauses
            .iter()
            .filter(|one| first_word(&one.keyword.text) != "like")
            .map(|one| (known_as(kind, one), one.keyword.text.to_string()))
            .collect();
        for (name, keyword) in names {
            self.path(&name, CompletionKind::Place, &keyword);
        }
    }
}

/// How `without` and `after` call a statement: by the name it gives, a part by its kind, anything else by its keyword.
fn known_as(context: &str, statement: &Statement) -> String {
    let keyword = &statement.keyword.text;
    let gives_name = find(context, keyword).is_some_and(|row| row.form.starts_with("<name:new>") || row.word == "part");
    let first = statement.arguments.first().and_then(|item| item.word()).filter(|_| gives_name);
    first.map_or_else(|| keyword.to_string(), |word| word.text.to_string())
}

/// Named things of a face, each with what it is.
fn named(face: &Face) -> Vec<(&str, &'static str)> {
    let edges = face.edges.iter().map(|one| (one.name.as_str(), one.kind));
    let areas = face.areas.iter().map(|one| (one.name.as_str(), "area"));
    let openings = face.openings.iter().map(|one| (one.name.as_str(), one.kind));
    let services = face.services.iter().map(|one| (one.name.as_str(), one.kind));
    let blocks = face.blocks.iter().map(|one| (one.name.as_str(), "block"));
    let trims = face.trims.iter().map(|one| (one.name.as_str(), "trim"));
    let vents = face.vents.iter().map(|one| (one.name.as_str(), "vent"));
    let roofs = face.roofs.iter().map(|one| (one.name.as_str(), "roof"));
    let decks = face.decks.iter().map(|one| (one.name.as_str(), "deck"));
    edges
        .chain(areas)
        .chain(openings)
        .chain(services)
        .chain(blocks)
        .chain(trims)
        .chain(vents)
        .chain(roofs)
        .chain(decks)
        .collect()
}
