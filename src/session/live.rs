//! A project checked again and again while it is being written: what an edit does not touch is not worked out anew.
//!
//! Files are read again by the piece, values are bound again by the declaration ([`eval::evaluate_again`]), and the rules run
//! for every *house*: faces no rule looks beyond ([`Model::houses`]). What they said is kept under the texts it rests on. So is
//! what they said of a plane cut: solving it costs more than judging a house, and it is solved again only when its text, its
//! materials or what all houses rest on changed.

use std::collections::{BTreeSet, HashMap};
use std::sync::{Arc, OnceLock};

use rayon::prelude::*;

use super::Settings;
use super::houses::{House, Told, judge_cut};
use super::places::{Places, hash};
use crate::checks::{self, CheckContext, RULES, Raw, Settled, Summary};
use crate::diagnose::Diagnostic;
use crate::eval::{self, Date, Evaluated, Reference};
use crate::model::{self, FaceId, HeatCut, Model};
use crate::plan::Plan;
use crate::resolve::{DeclarationId, Project};
use crate::source::{Span, World};
use crate::syntax::Trees;

/// Declarations that matter only to those that name them. All others matter to every house.
const BY_NAME: [&str; 11] = [
    "face", "building", "section", "assembly", "detail", "material", "product", "cutlist", "heat_cut", "accept",
    "evidence",
];
/// For how many checks what was said of a house is kept after it was last needed, so that taking an edit back is quick.
const KEPT_FOR: u64 = 16;

/// What is kept from one check to the next.
#[derive(Debug, Default)]
pub struct Live {
    trees: Trees,
    evaluated: eval::Before,
    built: model::Before,
    said: HashMap<u64, Said>,
    count: u64,
}

/// What the rules said of a house.
#[derive(Debug)]
struct Said {
    places: Arc<Places>,
    raw: Raw,
    last: u64,
}

/// A project as it stands after an edit.
#[derive(Debug)]
pub struct Glance {
    /// Texts and names.
    pub project: Project,
    /// Values.
    pub evaluated: Evaluated,
    /// The wall.
    pub model: Model,
    /// Mistakes of the text, from all stages; sorted.
    pub problems: Vec<Diagnostic>,
    /// Findings of all rules, sorted, with their acceptances.
    pub findings: Vec<Settled>,
    /// How many rules ran.
    pub rules_run: usize,
    /// The day it was checked for.
    pub today: Option<Date>,
    /// Counts; mistakes of the text count as violations.
    pub summary: Summary,
    houses: Vec<Place>,
    judged: bool,
}

/// A house in its project: its faces, and its plan and what was found on it once somebody asked for them.
#[derive(Debug)]
struct Place {
    faces: Vec<FaceId>,
    house: OnceLock<House>,
    findings: OnceLock<Vec<Settled>>,
}

impl Glance {
    /// Whether the rules have run. Before, it has no findings.
    pub fn is_judged(&self) -> bool {
        self.judged
    }

    /// The house of a face, planned when first asked for, with the id of the face in it.
    pub fn house(&self, face: FaceId) -> Option<(&House, FaceId)> {
        let (place, own) = self.place(face)?;
        Some((self.planned(place), own))
    }

    /// The same with what was found on it, by its own ids; nothing before the rules have run.
    pub(super) fn judged_house(&self, face: FaceId) -> Option<(&House, &[Settled], FaceId)> {
        let (place, own) = self.place(face)?;
        let found = || self.findings.iter().filter_map(|one| in_house(one, &place.faces)).collect();
        let findings: &[Settled] = if self.judged { place.findings.get_or_init(found) } else { &[] };
        Some((self.planned(place), findings, own))
    }

    fn place(&self, face: FaceId) -> Option<(&Place, FaceId)> {
        self.houses.iter().find_map(|place| Some((place, FaceId(place.faces.binary_search(&face).ok()? as u32))))
    }

    fn planned<'g>(&'g self, place: &'g Place) -> &'g House {
        place.house.get_or_init(|| House::of(&self.model, &place.faces))
    }
}

impl Place {
    fn of(faces: Vec<FaceId>) -> Self {
        Self { faces, house: OnceLock::new(), findings: OnceLock::new() }
    }
}

/// A finding with the id its face has in a house; `None` for one on another house.
fn in_house(settled: &Settled, faces: &[FaceId]) -> Option<Settled> {
    let mut own = settled.clone();
    if let Some(stretch) = &mut own.finding.stretch {
        stretch.face = FaceId(faces.binary_search(&stretch.face).ok()? as u32);
    }
    Some(own)
}

impl Live {
    /// Checks the project as it stands now. Gives what [`super::check`] gives.
    pub fn check(&mut self, world: &dyn World, roots: &[String], settings: &Settings) -> Glance {
        let mut glance = self.read(world, roots, settings);
        self.judge(&mut glance, &|| false);
        glance
    }

    /// The same up to the rules: texts, names, values and the wall.
    pub fn read(&mut self, world: &dyn World, roots: &[String], settings: &Settings) -> Glance {
        self.count += 1;
        let project = crate::resolve::load_again(world, roots, &mut self.trees);
        self.trees.keep_only(&project.modules.iter().map(|module| module.path.as_str()).collect());
        let evaluated = eval::evaluate_again(&project, settings.limits.as_deref(), &mut self.evaluated);
        let mut model = model::build_again(&project, &evaluated, &mut self.built);
        model.project.units = settings.units.unwrap_or(model.project.units);
        let problems = super::problems(&project, &evaluated, &model);
        let houses = model.houses().into_iter().map(Place::of).collect();
        let (summary, rules_run) = (checks::summarise(&problems, &[]), RULES.len() + model.office_rules.len());
        let (today, findings) = (settings.today, Vec::new());
        Glance { project, evaluated, model, problems, findings, rules_run, today, summary, houses, judged: false }
    }

    /// Lets the rules say what they have to say of a project that was read last. Asks between houses whether to `stop`; then it
    /// gives `false`, the project has no findings yet, and what was said so far is not asked again next time.
    pub fn judge(&mut self, glance: &mut Glance, stop: &(dyn Fn() -> bool + Sync)) -> bool {
        if glance.judged {
            return true;
        }
        let Some(Raw { findings, silent }) = self.rules(glance, stop) else { return false };
        let nothing = Plan::default();
        let context = CheckContext::new(&glance.model, &nothing);
        glance.findings = checks::settle(&context, findings, &silent, glance.today);
        glance.summary = checks::summarise(&glance.problems, &glance.findings);
        glance.judged = true;
        true
    }

    /// How many houses and cuts were judged of late.
    #[cfg(test)]
    pub(super) fn kept(&self) -> usize {
        self.said.len()
    }

    /// What the rules say of every house and plane cut, said anew only where its texts changed.
    fn rules(&mut self, glance: &Glance, stop: &(dyn Fn() -> bool + Sync)) -> Option<Raw> {
        let places = Arc::new(Places::of(&glance.project));
        let needs = Needs::of(&glance.project, &glance.evaluated, &glance.model, &places);
        let houses = glance.houses.iter().map(Part::House);
        let parts: Vec<Part<'_>> = houses.chain((0..glance.model.heat_cuts.len()).map(Part::Cut)).collect();
        let marks: Vec<u64> = parts.iter().map(|part| part.mark(&needs)).collect();
        let known = |mark: &u64| self.said.get(mark).and_then(|said| said.again(&places));
        let again: Vec<Option<Raw>> = marks.iter().map(known).collect();
        let judge =
            |(part, again): (&Part<'_>, &Option<Raw>)| (again.is_none() && !stop()).then(|| part.judge(&glance.model));
        let anew: Vec<Option<Raw>> = parts.par_iter().zip(&again).map(judge).collect();
        let whole_project = again.iter().zip(&anew).all(|(again, anew)| again.is_some() || anew.is_some());
        let mut told = Told::default();
        for ((part, mark), (again, anew)) in parts.iter().zip(marks).zip(again.into_iter().zip(anew)) {
            if let Some(raw) = &anew {
                self.said.insert(mark, Said { places: places.clone(), raw: raw.clone(), last: self.count });
            } else if let Some(said) = self.said.get_mut(&mark) {
                said.last = self.count;
            }
            if let Some(raw) = again.or(anew) {
                told.take(raw, part.faces());
            }
        }
        let oldest = self.count.saturating_sub(KEPT_FOR);
        self.said.retain(|_, said| said.last >= oldest);
        whole_project.then(|| told.into_raw())
    }
}

/// What is judged by itself.
enum Part<'g> {
    House(&'g Place),
    /// A plane cut, by its index.
    Cut(usize),
}

impl Part<'_> {
    fn mark(&self, needs: &Needs<'_>) -> u64 {
        match self {
            Part::House(place) => needs.mark(&place.faces),
            Part::Cut(index) => needs.model.heat_cuts.get(*index).map_or(0, |cut| needs.mark_of_cut(cut)),
        }
    }

    fn judge(&self, model: &Model) -> Raw {
        match self {
            Part::House(place) => place.house.get_or_init(|| House::of(model, &place.faces)).judge(),
            Part::Cut(index) => judge_cut(model, *index),
        }
    }

    fn faces(&self) -> &[FaceId] {
        match self {
            Part::House(place) => &place.faces,
            Part::Cut(_) => &[],
        }
    }
}

impl Said {
    /// The same about texts that came after.
    fn again(&self, after: &Places) -> Option<Raw> {
        let findings = self.raw.findings.iter().map(|finding| self.places.finding(finding, after));
        Some(Raw { findings: findings.collect::<Option<_>>()?, silent: self.raw.silent.clone() })
    }
}

/// Which texts every house rests on.
struct Needs<'p> {
    evaluated: &'p Evaluated,
    project: &'p Project,
    model: &'p Model,
    places: &'p Places,
    everywhere: u64,
}

impl<'p> Needs<'p> {
    fn of(project: &'p Project, evaluated: &'p Evaluated, model: &'p Model, places: &'p Places) -> Self {
        let mut needs = Self { evaluated, project, model, places, everywhere: 0 };
        let all = project.declarations.iter().enumerate().filter(|(_, one)| !BY_NAME.contains(&one.kind));
        let all = needs.closure(all.map(|(at, _)| DeclarationId(at as u32)), &|_| true);
        let first = if model.site.is_some() { None } else { model.first_face().map(|(name, _)| name) };
        let sets: Vec<&str> = model.rule_sets.iter().map(|set| set.name.as_str()).collect();
        let told = (format!("{:?}", model.project.units), model.has_buildings(), first, sets);
        needs.everywhere = hash(&(needs.texts(&all), told));
        needs
    }

    /// A number that changes with any text on which the findings about some faces rest.
    fn mark(&self, faces: &[FaceId]) -> u64 {
        let has = |id: &Option<FaceId>| id.is_some_and(|id| faces.binary_search(&id).is_ok());
        let model = self.model;
        let own = faces.iter().filter_map(|&id| Some(model.face(id)?.origin));
        let buildings = model.buildings.iter().filter(|one| one.faces.iter().any(|(_, id, _)| has(id)));
        let sections = model.sections.iter().filter(|one| one.face.is_none() || has(&one.face));
        let starts = own.chain(buildings.map(|one| one.origin)).chain(sections.map(|one| one.origin));
        let all = self.closure(starts.filter_map(|span| self.places.holding(span)), &|_| true);
        hash(&(self.everywhere, self.texts(&all)))
    }

    /// A number that changes with any text on which the findings about a plane cut rest: its own and those of its materials. The
    /// wall beside it and the detail it stands for decide on its psi, which no rule asks for.
    fn mark_of_cut(&self, cut: &HeatCut) -> u64 {
        let own = self.places.holding(cut.origin).into_iter();
        let all = self.closure(own, &|kind| matches!(kind, "material" | "product"));
        hash(&("heat_cut", self.everywhere, self.texts(&all)))
    }

    /// Declarations with all that they name of the kinds to `follow`, and all that those name. The library never changes.
    fn closure(
        &self,
        starts: impl Iterator<Item = DeclarationId>,
        follow: &dyn Fn(&str) -> bool,
    ) -> BTreeSet<DeclarationId> {
        let mut found: BTreeSet<DeclarationId> = BTreeSet::new();
        let mut open: Vec<DeclarationId> = starts.collect();
        while let Some(id) = open.pop() {
            let Some(statement) = self.project.statement(id) else { continue };
            if self.project.files.is_std(statement.span.file) || !found.insert(id) {
                continue;
            }
            let named = self.named_in(statement.span).map(|one| one.declaration);
            open.extend(named.filter(|id| self.project.declaration(*id).is_some_and(|one| follow(one.kind))));
        }
        found
    }

    /// The names used in a stretch of text.
    fn named_in(&self, span: Span) -> impl Iterator<Item = &Reference> {
        let references = &self.evaluated.references;
        let from = references.partition_point(|one| one.span < span);
        references.iter().skip(from).take_while(move |one| one.span.file == span.file && one.span.start < span.end)
    }

    /// What declarations say, and what their names stand for: an import can change that and leave their texts alone.
    fn texts(&self, all: &BTreeSet<DeclarationId>) -> Vec<u64> {
        let target = |id: DeclarationId| {
            let declaration = self.project.declaration(id)?;
            Some((&self.project.module(declaration.module)?.path, declaration.kind, &declaration.name))
        };
        let text = |id: &DeclarationId| {
            let span = self.project.statement(*id)?.span;
            let named = self.named_in(span).map(|one| (one.span.start - span.start, target(one.declaration)));
            Some(hash(&(self.places.text_of(span)?, named.collect::<Vec<_>>())))
        };
        let mut texts: Vec<u64> = all.iter().filter_map(text).collect();
        texts.sort_unstable();
        texts
    }
}
