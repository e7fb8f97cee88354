//! The wall as people speak of it: materials, layers, details, faces, and what stands on them; knows nothing of syntax.
//! Measures are exact lengths on the face (x to the right seen from outside, y up from the datum); physics is in SI.

mod build;
mod crew;
mod cut_list;
mod disputes;
mod fixed;
mod goods;
mod heat_cut;
mod hours;
mod houses;
mod queries;
mod section;
mod site;
mod wall;

pub use build::{Before, build, build_again};
pub use crew::{Crew, OutOfReach};
pub use cut_list::{Alike, CutList};
pub use disputes::{DISPUTES, Dispute};
pub use fixed::{BracketRow, Ledger};
pub use goods::{
    Assembly, Detail, Direction, Fasten, Frame, Functions, Furring, Gap, GapEnd, Gives, Joint, Lap, Layer, LayerKind,
    Material, Needs, Openness, PartSpec, Place, Product, Side, Stuff,
};
pub use heat_cut::{AirSide, Box2, CutAir, CutEdge, CutFlank, CutRegion, HeatCut};
pub use hours::{MeasuredHours, read_hours};
pub use houses::Whole;
pub use section::{DryIn, Section};
pub use site::{
    Accept, Authority, Climate, Condition, Evidence, Limit, OfficeRule, ProjectFacts, RainFactor, RuleSet, Site,
    Sourced, Sureness,
};
pub use wall::{
    Area, Between, Block, Bracket, Building, ButtJoints, Corner, Deck, Edge, Face, FireStop, FloorLine, Ground,
    HoleRow, LeakReading, Leaks, Nailer, Opening, Planned, Roof, Service, Stretch, Trim, Vent, Where,
};

use crate::diagnose::Diagnostic;
use crate::units::Range;

macro_rules! ids {
    ($($(#[$doc:meta])* $name:ident),* $(,)?) => {$(
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(pub u32);
    )*};
}

ids! {
    /// Index into [`Model::materials`].
    MaterialId,
    /// Index into [`Model::products`].
    ProductId,
    /// Index into [`Model::assemblies`].
    AssemblyId,
    /// Index into [`Model::details`].
    DetailId,
    /// Index into [`Model::faces`].
    FaceId,
}

/// Everything that was declared.
#[derive(Clone, Debug, Default)]
pub struct Model {
    /// Name, title, units.
    pub project: ProjectFacts,
    /// Where it stands; absent if no site is declared.
    pub site: Option<Site>,
    /// Rule sets in the order in which they are asked; the common-practice set of the library comes last if not named.
    pub rule_sets: Vec<RuleSet>,
    /// Materials in use.
    pub materials: Vec<Material>,
    /// Products in use.
    pub products: Vec<Product>,
    /// Assemblies in use, one for each set of arguments.
    pub assemblies: Vec<Assembly>,
    /// Details in use, one for each set of arguments.
    pub details: Vec<Detail>,
    /// Faces in the order of the files.
    pub faces: Vec<Face>,
    /// Buildings.
    pub buildings: Vec<Building>,
    /// The crew's units of work, in the order of the files.
    pub sections: Vec<Section>,
    /// Who does the work, and with what; absent if not declared.
    pub crew: Option<Crew>,
    /// Lists to cut that come from no wall, in the order of the files.
    pub cut_lists: Vec<CutList>,
    /// Plane cuts that heat is reckoned through, in the order of the files.
    pub heat_cuts: Vec<HeatCut>,
    /// Findings knowingly accepted.
    pub accepts: Vec<Accept>,
    /// What was seen at hold points, in the order of the files.
    pub evidence: Vec<Evidence>,
    /// Rules of the office, written in the language.
    pub office_rules: Vec<OfficeRule>,
    /// What was wrong with the wall as declared; sorted.
    pub problems: Vec<Diagnostic>,
    /// What this was cut out of by [`Model::only`]; absent for a whole project.
    pub cut_from: Option<Whole>,
}

impl Model {
    /// A material by id.
    pub fn material(&self, id: MaterialId) -> Option<&Material> {
        self.materials.get(id.0 as usize)
    }

    /// A product by id.
    pub fn product(&self, id: ProductId) -> Option<&Product> {
        self.products.get(id.0 as usize)
    }

    /// A product as people write it: `screws.stainless`.
    pub fn product_name(&self, id: ProductId) -> String {
        self.product(id).map_or_else(String::new, |product| match product.module.as_str() {
            "" => product.name.clone(),
            module => format!("{module}.{}", product.name),
        })
    }

    /// An assembly by id.
    pub fn assembly(&self, id: AssemblyId) -> Option<&Assembly> {
        self.assemblies.get(id.0 as usize)
    }

    /// A detail by id.
    pub fn detail(&self, id: DetailId) -> Option<&Detail> {
        self.details.get(id.0 as usize)
    }

    /// A face by id.
    pub fn face(&self, id: FaceId) -> Option<&Face> {
        self.faces.get(id.0 as usize)
    }

    /// A face by name.
    pub fn face_named(&self, name: &str) -> Option<FaceId> {
        self.faces.iter().position(|face| face.name == name).map(|at| FaceId(at as u32))
    }

    /// The material something is of: its own, or its product's.
    pub fn material_of(&self, stuff: &Stuff) -> Option<&Material> {
        stuff.material.and_then(|id| self.material(id))
    }

    /// The product something is, if it is one.
    pub fn product_of(&self, stuff: &Stuff) -> Option<&Product> {
        stuff.product.and_then(|id| self.product(id))
    }

    /// What an opening loses, glass and frame together, W/(m²·K): said of it, or of its detail.
    pub fn transmittance_of<'m>(&'m self, opening: &'m Opening) -> Option<&'m Sourced<Range>> {
        let by_detail = || self.detail(opening.detail?)?.transmittance.as_ref();
        opening.transmittance.as_ref().or_else(by_detail)
    }

    /// The limit in force under this name: the first rule set that has it.
    pub fn limit(&self, name: &str) -> Option<&Limit> {
        self.rule_sets.iter().find_map(|set| set.limits.get(name))
    }

    /// The limit for the degree-days of the site, of `bands` by the degree-days from which each counts, the least first; the
    /// error is the missing fact.
    pub fn limit_by_cold(&self, bands: &[(f64, &'static str)]) -> Result<(&Limit, f64), String> {
        let climate = self.site.as_ref().and_then(|site| site.climate.as_ref());
        let days = climate.and_then(|climate| climate.degree_days);
        let days = days.ok_or_else(|| "degree-days of the site's climate (`degree_days`)".to_owned())?;
        let band = bands.iter().rfind(|(from, _)| *from <= days).or(bands.first());
        let name = band.map_or("", |(_, name)| name);
        let found = self.limit(name).and_then(|limit| Some((limit, limit.number()?)));
        found.ok_or_else(|| format!("a limit `{name}`"))
    }

    /// The side taken in a dispute: by the first rule set that has the option.
    pub fn option(&self, name: &str) -> Option<&Limit> {
        self.rule_sets.iter().find_map(|set| set.options.get(name))
    }
}
