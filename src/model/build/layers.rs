//! Assemblies: layers, gap, furring, frame, and what holds them.

use super::again::Asked;
use super::goods::sourced_range;
use super::sections::trade;
use super::{Builder, problems};
use crate::eval::{Bound, InstanceId};
use crate::model::{
    Assembly, AssemblyId, Direction, Fasten, Frame, Functions, Furring, Gap, Layer, LayerKind, Openness, Stuff,
};
use crate::units::{Length, display};

impl Builder<'_> {
    pub(super) fn assembly(&mut self, id: InstanceId) -> Option<AssemblyId> {
        let made = match self.assemblies.get(&id) {
            Some(&known) => known,
            None => self.new_assembly(id)?,
        };
        self.asked.push(Asked::Assembly(id, made));
        Some(made)
    }

    fn new_assembly(&mut self, id: InstanceId) -> Option<AssemblyId> {
        let instance = self.evaluated.instance(id)?;
        let bound = &instance.bound;
        let mut layers = Vec::new();
        for clause in &bound.clauses {
            match clause.row.word {
                "layer" => layers.push(self.layer(clause, LayerKind::Solid)),
                "existing" => layers.push(self.layer(clause, LayerKind::Existing)),
                "gap" => layers.extend(self.gap(clause)),
                "frame" => layers.extend(self.frame(clause)),
                "accept" => self.accept(clause, &instance.name),
                _ => {}
            }
        }
        self.layers_once(&layers);
        self.sizes_make_sense(bound);
        let assembly = Assembly {
            name: instance.name.to_string(),
            label: instance.label.clone(),
            layers,
            resists: sourced_range(bound, "resists"),
            broken: any_broken(bound),
            origin: bound.span,
        };
        let made = AssemblyId(self.model.assemblies.len() as u32);
        self.model.assemblies.push(assembly);
        self.assemblies.insert(id, made);
        Some(made)
    }

    fn layers_once(&mut self, layers: &[Layer]) {
        for (at, layer) in layers.iter().enumerate() {
            let first = layers.iter().take(at).find(|other| other.name == layer.name && !layer.name.is_empty());
            if let Some(first) = first {
                self.problem(problems::layer_twice(layer.origin, &layer.name, first.origin));
            }
        }
    }

    fn layer(&mut self, bound: &Bound, kind: LayerKind) -> Layer {
        let stuff = self.stuff(bound, "of").unwrap_or_default();
        let product = self.model.product_of(&stuff);
        let from_product =
            product.and_then(|product| product.size.first().copied().or(product.thickness.map(|(low, _)| low)));
        let bought = product.and_then(|product| product.thickness).filter(|(least, most)| least < most);
        let exposure = product.and_then(|product| product.exposure.as_ref()).map(|exposure| exposure.value);
        let own_exposure = bound.clause("exposure").and_then(|clause| clause.range("range"));
        if let (Some(own), Some(range), Some(product)) = (own_exposure, exposure, product)
            && (own.0 < range.0 || own.1 > range.1)
        {
            let units = self.model.project.units;
            let shown = |(low, high): (Length, Length)| {
                let (low, high) = (display::length(low, units), display::length(high, units));
                if low == high { low } else { format!("{low} to {high}") }
            };
            let at = bound.clause("exposure").map_or(bound.span, |clause| clause.span);
            let problem = problems::exposure_outside(at, &product.name, &shown(own), &shown(range));
            self.problem(problem);
        }
        let word = |clause: &str, label: &str| bound.clause(clause).and_then(|clause| clause.word(label));
        let length = |clause: &str, label: &str| bound.clause(clause).and_then(|clause| clause.length(label));
        let own = bound.range("thickness").filter(|(least, most)| least < most);
        let thickness = self.positive(bound, "thickness", "the thickness of a layer");
        let thickness_within = if thickness.is_none() { bought } else { own };
        if let Some(range) = own {
            let units = self.model.project.units;
            let (least, most) = (display::length(range.0, units), display::length(range.1, units));
            let name = bound.name().unwrap_or_default();
            self.problem(problems::thickness_within(bound.span_of("thickness"), name, &least, &most));
        }
        let thickness = thickness.filter(|_| own.is_none()).or(from_product.filter(|_| own.is_none()));
        Layer {
            name: bound.name().unwrap_or_default().to_owned(),
            thickness,
            thickness_within,
            every: bound.clause("every").and_then(|clause| self.positive(clause, "spacing", "a spacing")),
            fitted: word("fitted", "how"),
            controls: functions(bound),
            fasten: bound.clause("fasten").and_then(|clause| self.fasten(clause)),
            exposure: own_exposure.or(exposure),
            runs_vertical: word("runs", "direction") == Some("vertical"),
            lap: length("lap", "length"),
            lapped: word("lapped", "order"),
            end_lap: length("end_lap", "length"),
            seam: bound.clause("seam").and_then(|clause| self.product_in(clause, "tape")),
            primer: word("primer", "is").map(|word| word == "yes"),
            applied: bound.clause("applied").and_then(|clause| clause.number("temperature")),
            exposed: bound.clause("exposed").and_then(|clause| clause.number("days")),
            fill: bound.clause("fill").and_then(|clause| self.stuff(clause, "of")),
            thermal_break: word("thermal_break", "how"),
            joints: word("joints", "how"),
            reading: bound.clause("reading").and_then(|clause| Some((clause.number("moisture")?, clause.span))),
            ends_sealed: word("ends", "how").map(|word| word == "sealed"),
            joint_gap: length("joint_gap", "gap"),
            by: trade(bound),
            stuff,
            kind,
            origin: bound.span,
        }
    }

    fn gap(&mut self, bound: &Bound) -> Option<Layer> {
        let (low, high) = bound.range("depth")?;
        if low <= Length::ZERO {
            self.problem(problems::not_positive(bound.span_of("depth"), "the depth of a gap"));
        }
        let openness = match bound.word("openness") {
            Some("vented") => Some(Openness::Vented),
            Some("ventilated") => Some(Openness::Ventilated),
            _ => None,
        };
        let fasten = bound.clause("fasten").and_then(|clause| self.fasten(clause));
        let furring = bound.all("furring").filter_map(|clause| self.furring(clause, fasten.clone())).collect();
        let mat = bound.clause("mat").and_then(|clause| Some((self.stuff(clause, "of")?, clause.length("thickness"))));
        let gap = Gap {
            depth: (low, high),
            openness,
            bulge: bound.clause("bulge").and_then(|clause| clause.length("allowance")),
            furring,
            mat,
            pressed: bound.clause("pressed").and_then(|clause| clause.length("thickness")),
            origin: bound.span,
        };
        Some(self.bare_layer(bound, LayerKind::Gap(Box::new(gap)), Some(low), Stuff::default(), fasten))
    }

    fn frame(&mut self, bound: &Bound) -> Option<Layer> {
        let stuff = self.stuff(bound, "of").unwrap_or_default();
        let size = bound.lengths("size");
        let (&width, &depth) = (size.first()?, size.get(1).or(size.first())?);
        let every = bound.clause("every").and_then(|clause| self.positive(clause, "spacing", "a spacing"));
        let frame = Frame {
            depth,
            width,
            spacing: every,
            first: bound.clause("first").and_then(|clause| clause.length("mark")),
            marks: bound.clause("marks").map(|clause| clause.lengths("at")).unwrap_or_default(),
            fill: bound.clause("fill").and_then(|clause| self.stuff(clause, "of")),
            wood_share: sourced_range(bound, "wood_share"),
            kind: bound.clause("kind").and_then(|clause| clause.word("kind")),
        };
        Some(self.bare_layer(bound, LayerKind::Frame(Box::new(frame)), Some(depth), stuff, None))
    }

    fn bare_layer(
        &mut self,
        bound: &Bound,
        kind: LayerKind,
        thickness: Option<Length>,
        stuff: Stuff,
        fasten: Option<Fasten>,
    ) -> Layer {
        Layer {
            name: bound.name().unwrap_or_default().to_owned(),
            kind,
            stuff,
            thickness,
            thickness_within: None,
            every: None,
            fitted: bound.clause("fitted").and_then(|clause| clause.word("how")),
            controls: functions(bound),
            fasten,
            exposure: None,
            runs_vertical: false,
            lap: None,
            lapped: None,
            end_lap: None,
            seam: None,
            primer: None,
            applied: None,
            exposed: None,
            fill: None,
            thermal_break: None,
            joints: None,
            reading: None,
            ends_sealed: None,
            joint_gap: None,
            by: trade(bound),
            origin: bound.span,
        }
    }

    fn furring(&mut self, bound: &Bound, fasten: Option<Fasten>) -> Option<Furring> {
        let stuff = self.stuff(bound, "of").unwrap_or_default();
        let size = bound.lengths("size");
        let &thickness = size.first()?;
        if size.len() < 2 {
            self.problem(problems::no_gap_size(bound.span_of("size")));
        }
        let places = bound.clause("also").map(|clause| clause.words("places")).unwrap_or_default();
        let length = |clause: &str, label: &str| bound.clause(clause).and_then(|clause| clause.length(label));
        let direction = if bound.has("horizontal") {
            Some(Direction::Horizontal)
        } else if let Some(diagonal) = bound.clause("diagonal") {
            diagonal.number("angle").map(Direction::Diagonal)
        } else {
            bound.has("vertical").then_some(Direction::Vertical)
        };
        let cross_gap =
            bound.clause("cross_gap").and_then(|clause| Some((clause.length("length")?, clause.length("spacing")?)));
        let counter = bound.clause("counter").and_then(|clause| {
            let stuff = self.stuff(clause, "of")?;
            Some((stuff, clause.lengths("size").first().copied()?))
        });
        let counter_width = bound.clause("counter").and_then(|clause| clause.lengths("size").get(1).copied());
        let spacing = bound.clause("every").and_then(|clause| self.positive(clause, "spacing", "a spacing"));
        Some(Furring {
            stuff,
            thickness,
            width: size.get(1).copied().filter(|width| *width > Length::ZERO),
            direction,
            spacing,
            first: length("first", "mark"),
            marks: bound.clause("marks").map(|clause| clause.lengths("at")).unwrap_or_default(),
            at_corners: places.contains(&"corners"),
            at_jambs: places.contains(&"jambs"),
            at_joints: places.contains(&"joints"),
            at_blocks: places.contains(&"blocks"),
            stops: length("stops", "length"),
            held_up: length("held_up", "length"),
            held_down: length("held_down", "length"),
            cross_gap,
            falls: bound.clause("falls").and_then(|clause| clause.slope("slope")),
            splice_gap: length("splice_gap", "length"),
            thermal_break: bound.clause("thermal_break").and_then(|clause| clause.word("how")),
            isolated: bound.clause("isolated").and_then(|clause| self.stuff(clause, "with")),
            counter,
            counter_width: counter_width.filter(|width| *width > Length::ZERO),
            fasten,
            origin: bound.span,
        })
    }

    pub(super) fn fasten(&mut self, bound: &Bound) -> Option<Fasten> {
        let product = self.product_in(bound, "product")?;
        let size = bound.lengths("size");
        let (diameter, length) = match size.as_slice() {
            [diameter, length, ..] => (Some(*diameter), Some(*length)),
            [length] => (self.model.product(product).and_then(|product| product.diameter), Some(*length)),
            [] => (self.model.product(product).and_then(|product| product.diameter), None),
        };
        let clause_length = |clause: &str, label: &str| bound.clause(clause).and_then(|clause| clause.length(label));
        let only = self
            .model
            .product(product)
            .filter(|product| product.lengths.len() == 1)
            .and_then(|product| product.lengths.first().copied());
        Some(Fasten {
            product,
            diameter,
            length: length.or(only),
            through: bound.clause("through").and_then(|clause| clause.word("leg")),
            into: bound.clause("into").and_then(|clause| clause.word("target")),
            spacing: bound.clause("every").and_then(|clause| self.positive(clause, "spacing", "a spacing")),
            end_distance: clause_length("end_distance", "min"),
            edge_distance: clause_length("edge_distance", "min"),
            rows: bound.clause("rows").and_then(|clause| clause.integer("count")),
            corner_spacing: bound
                .clause("corner_every")
                .and_then(|clause| self.positive(clause, "spacing", "a spacing")),
            slots: clause_length("slots", "length"),
            origin: bound.span,
        })
    }

    /// A length that must be more than 0; reports and drops one that is not.
    pub(super) fn positive(&mut self, bound: &Bound, label: &str, what: &str) -> Option<Length> {
        let length = bound.length(label)?;
        if length <= Length::ZERO {
            self.problem(problems::not_positive(bound.span_of(label), what));
            return None;
        }
        Some(length)
    }
}

pub(super) fn functions(bound: &Bound) -> Functions {
    let words = bound.clause("controls").map(|clause| clause.words("functions")).unwrap_or_default();
    Functions::from_words(&words)
}

/// Whether anything in a declaration could not be understood.
pub(super) fn any_broken(bound: &Bound) -> bool {
    bound.broken || bound.clauses.iter().any(any_broken)
}
