//! Materials and products.

use std::sync::Arc;

use super::again::Asked;
use super::site::ends;
use super::{Builder, problems};
use crate::eval::{Bound, InstanceId};
use crate::model::{Material, MaterialId, Product, ProductId, Sourced, Stuff, Sureness};
use crate::resolve::DeclarationId;
use crate::units::{Length, Range};

/// What a value's source and sureness are when it does not say itself.
struct Defaults {
    source: Arc<str>,
    sure: Sureness,
}

impl Defaults {
    fn of(bound: &Bound) -> Self {
        let source = bound.clause("source").and_then(|clause| clause.text("text")).unwrap_or_default();
        let sure =
            bound.clause("sure").and_then(|clause| clause.word("how")).map_or(Sureness::Memory, Sureness::from_word);
        Self { source, sure }
    }

    fn sourced<T>(&self, clause: &Bound, value: T) -> Sourced<T> {
        let own = Defaults::of(clause);
        let sure = if clause.has("sure") { own.sure } else { self.sure };
        let source = if clause.has("source") { own.source } else { self.source.clone() };
        Sourced { value, source, sure, origin: clause.span }
    }

    fn number(&self, bound: &Bound, word: &str) -> Option<Sourced<f64>> {
        let clause = bound.clause(word)?;
        let (low, high) = ends(clause.get("value"))?;
        Some(self.sourced(clause, (low + high) / 2.0))
    }

    fn range(&self, bound: &Bound, word: &str) -> Option<Sourced<Range>> {
        let clause = bound.clause(word)?;
        let (low, high) = ends(clause.get("value"))?;
        Some(self.sourced(clause, Range::between(low, high)))
    }

    /// kg/(m²·√s); nothing where the time is none.
    fn absorption(&self, bound: &Bound) -> Option<Sourced<f64>> {
        let clause = bound.clause("water_absorption")?;
        let (amount, time) = (clause.number("amount")?, clause.number("time")?);
        (amount >= 0.0 && time > 0.0).then(|| self.sourced(clause, amount / time.sqrt()))
    }

    fn length(&self, bound: &Bound, word: &str, label: &str) -> Option<Sourced<Length>> {
        let clause = bound.clause(word)?;
        Some(self.sourced(clause, clause.length(label)?))
    }
}

/// A number or a range of a clause, with its source and how sure it is; from memory where it does not say.
pub(super) fn sourced_range(bound: &Bound, word: &str) -> Option<Sourced<Range>> {
    Defaults { source: Arc::default(), sure: Sureness::Memory }.range(bound, word)
}

/// The same of the clause itself.
pub(super) fn sourced_clause(clause: &Bound) -> Option<Sourced<Range>> {
    let (low, high) = ends(clause.get("value"))?;
    Some(Defaults { source: Arc::default(), sure: Sureness::Memory }.sourced(clause, Range::between(low, high)))
}

fn word(bound: &Bound, clause: &str, label: &str) -> Option<&'static str> {
    bound.clause(clause)?.word(label)
}

fn yes(bound: &Bound, clause: &str) -> Option<bool> {
    word(bound, clause, "is").map(|word| word == "yes")
}

/// Kinds of product that a clause takes, where it takes only some.
const KINDS: &[(&str, &[&str])] = &[
    ("fasten", &["fastener"]),
    ("seam", &["tape", "sealant", "liquid", "membrane"]),
    ("taped", &["tape", "membrane", "liquid"]),
    ("screen", &["screen"]),
    ("trim", &["trim", "channel", "corner", "flashing", "board"]),
];

impl Builder<'_> {
    pub(super) fn material(&mut self, id: InstanceId) -> Option<MaterialId> {
        let made = match self.materials.get(&id) {
            Some(&known) => known,
            None => self.new_material(id)?,
        };
        self.asked.push(Asked::Material(id, made));
        Some(made)
    }

    fn new_material(&mut self, id: InstanceId) -> Option<MaterialId> {
        let instance = self.evaluated.instance(id)?;
        let bound = &instance.bound;
        let defaults = Defaults::of(bound);
        let number = |word: &str| defaults.number(bound, word);
        let vapour_factor = bound.clause("vapour_factor").and_then(|clause| {
            let dry = clause.number("dry")?;
            Some(defaults.sourced(clause, (dry, clause.number("wet").unwrap_or(dry))))
        });
        let sorption = bound
            .clause("sorption")
            .and_then(|clause| Some(defaults.sourced(clause, (clause.number("at_80")?, clause.number("saturated")?))));
        let material = Material {
            name: instance.name.to_string(),
            kind: word(bound, "kind", "kind").unwrap_or_default(),
            conductivity: defaults.range(bound, "conductivity"),
            emissivity: defaults.range(bound, "emissivity"),
            absorptance: defaults.range(bound, "absorptance"),
            water_absorption: defaults.absorption(bound),
            density: number("density"),
            heat_capacity: number("heat_capacity"),
            vapour_factor,
            sorption,
            vapour_thickness: number("vapour_thickness"),
            permeance: defaults.range(bound, "permeance"),
            air_leakage: number("air_leakage"),
            expansion: number("expansion"),
            moisture_movement: number("moisture_movement"),
            galvanic_index: number("galvanic_index"),
            metal: word(bound, "metal", "family"),
            treated: word(bound, "treated", "with"),
            species: word(bound, "species", "acid"),
            absorbs_water: word(bound, "absorbs_water", "how"),
            combustible: yes(bound, "combustible"),
            flame_spread: bound.clause("flame_spread").and_then(|clause| clause.number("number")),
            holds_fasteners: yes(bound, "holds_fasteners"),
            compressible: yes(bound, "compressible"),
            surface: word(bound, "surface", "colour"),
            stands_salt: yes(bound, "stands_salt"),
            cementitious: yes(bound, "cementitious") == Some(true),
            origin: bound.span,
        };
        let made = MaterialId(self.model.materials.len() as u32);
        self.model.materials.push(material);
        self.materials.insert(id, made);
        Some(made)
    }

    pub(super) fn product(&mut self, id: InstanceId) -> Option<ProductId> {
        let made = match self.products.get(&id) {
            Some(&known) => known,
            None => self.new_product(id)?,
        };
        self.asked.push(Asked::Product(id, made));
        Some(made)
    }

    fn new_product(&mut self, id: InstanceId) -> Option<ProductId> {
        let instance = self.evaluated.instance(id)?;
        let bound = &instance.bound;
        let of = bound.instance("of").and_then(|of| self.material(of));
        let defaults = Defaults::of(bound);
        let lengths =
            |word: &str, label: &str| bound.clause(word).map(|clause| clause.lengths(label)).unwrap_or_default();
        let pair = |word: &str, first: &str, second: &str| {
            let clause = bound.clause(word)?;
            let first = clause.number(first)?;
            Some(defaults.sourced(clause, (first, clause.number(second).unwrap_or(first))))
        };
        let range = bound.clause("exposure").and_then(|clause| Some(defaults.sourced(clause, clause.range("range")?)));
        let single = |word: &str, label: &str| {
            let clause = bound.clause(word)?;
            Some(defaults.sourced(clause, clause.number(label)?))
        };
        let product = Product {
            name: instance.name.to_string(),
            module: self.module_of(instance.declaration),
            kind: bound.word("kind").unwrap_or_default(),
            of,
            size: lengths("size", "size"),
            thickness: bound.clause("thickness").and_then(|clause| clause.range("value")),
            width: bound.clause("width").and_then(|clause| clause.length("value")),
            stock: lengths("stock", "lengths"),
            sheet: lengths("sheet", "size"),
            grain: word(bound, "grain", "way").map(|way| way == "length"),
            good_face: word(bound, "good_face", "faces"),
            roll: lengths("roll", "size"),
            lengths: lengths("lengths", "lengths"),
            diameter: bound.clause("diameter").and_then(|clause| clause.length("value")),
            shank: word(bound, "shank", "kind"),
            head: defaults.length(bound, "head", "diameter"),
            pull_out: single("pull_out", "force"),
            ribbed: yes(bound, "ribbed"),
            exposure: range,
            lap: defaults.length(bound, "lap", "min"),
            rip: defaults.length(bound, "rip", "min"),
            joint_gap: defaults.length(bound, "joint_gap", "min"),
            clearance: defaults.length(bound, "clearance", "min"),
            open: pair("open", "share", "aged"),
            opening: defaults.length(bound, "opening", "size"),
            depth: bound.clause("depth").and_then(|clause| clause.length("value")),
            legs: lengths("legs", "lengths"),
            floor: bound
                .clause("floor")
                .map(|clause| (clause.word("holes") == Some("perforated"), clause.number("area"))),
            two_part: yes(bound, "two_part") == Some(true),
            hollow: yes(bound, "hollow"),
            weight: single("weight", "value"),
            mass: single("mass", "value"),
            finish: word(bound, "finish", "kind"),
            family: word(bound, "family", "kind"),
            bonds: bound.clause("bonds").map(|clause| clause.words("kinds")).unwrap_or_default(),
            primed: bound.clause("primed").map(|clause| clause.words("kinds")).unwrap_or_default(),
            works_from: single("works", "temperature"),
            sunlight: single("sunlight", "days"),
            moves: single("moves", "share"),
            vapour_thickness: bound
                .clause("vapour_thickness")
                .and_then(|clause| Some(defaults.sourced(clause, ends(clause.get("value"))?))),
            permeance: defaults.range(bound, "permeance"),
            emissivity: defaults.range(bound, "emissivity"),
            absorptance: defaults.range(bound, "absorptance"),
            water_absorption: defaults.absorption(bound),
            air_leakage: single("air_leakage", "value"),
            self_sealing: yes(bound, "self_sealing"),
            serves: bound.clause("serves").map(|clause| clause.words("functions")).unwrap_or_default(),
            surface: word(bound, "surface", "colour"),
            pack: bound.clause("pack").and_then(|clause| clause.integer("count")),
            yields: bound
                .clause("yields")
                .and_then(|clause| clause.length("length"))
                .filter(|length| *length > Length::ZERO),
            price: bound.clause("price").and_then(|clause| Some((clause.number("amount")?, clause.word("unit")))),
            waste: single("waste", "share"),
            supplier: bound.clause("supplier").and_then(|clause| clause.text("group")),
            origin: bound.span,
        };
        let made = ProductId(self.model.products.len() as u32);
        self.model.products.push(product);
        self.products.insert(id, made);
        Some(made)
    }

    /// `boards` for what comes from `std/boards.wythe`; empty for the project's own.
    fn module_of(&self, declaration: DeclarationId) -> String {
        let module =
            self.project.declaration(declaration).and_then(|declaration| self.project.module(declaration.module));
        let Some(module) = module.filter(|module| module.is_std) else { return String::new() };
        module.path.trim_start_matches("std/").trim_end_matches(".wythe").to_owned()
    }

    /// The material or product in a slot.
    pub(super) fn stuff(&mut self, bound: &Bound, label: &str) -> Option<Stuff> {
        let id = bound.instance(label)?;
        let instance = self.evaluated.instance(id)?;
        let name = instance.name.to_string();
        if instance.kind == "material" {
            return Some(Stuff { material: self.material(id), product: None, name });
        }
        let product = self.product(id)?;
        Some(Stuff {
            material: self.model.product(product).and_then(|product| product.of),
            product: Some(product),
            name,
        })
    }

    pub(super) fn product_in(&mut self, bound: &Bound, label: &str) -> Option<ProductId> {
        let id = bound.instance(label).and_then(|id| self.product(id))?;
        let wanted = KINDS.iter().find(|(word, _)| *word == bound.row.word).map(|(_, kinds)| *kinds);
        if let (Some(wanted), Some(product)) = (wanted, self.model.product(id))
            && !wanted.contains(&product.kind)
        {
            let problem =
                problems::wrong_kind(bound.span_of(label), bound.row.word, &product.name, product.kind, wanted);
            self.problem(problem);
        }
        Some(id)
    }
}
