//! The walls and places that a failure is about, so that a sheet asks only for what is there.

use super::things;
use crate::model::{FaceId, Model};

/// What must be on a face for a line to be asked of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum On {
    /// Every face.
    Wall,
    /// The base of the face.
    Base,
    /// Ground in front of it.
    Ground,
    /// A deck that touches it.
    Deck,
    /// A roof that touches it.
    Roof,
    /// The top of the face, level or raked.
    Top,
    /// A raked edge.
    Rake,
    /// A parapet.
    Parapet,
    /// A corner with another face.
    Corner,
    /// A window, door or other opening.
    Opening,
    /// Two areas that meet.
    Transition,
    /// A floor line.
    Floor,
    /// Anything that passes through.
    Service,
    /// A duct, hood or intake.
    Duct,
    /// An outside tap.
    HoseBib,
    /// A box, lamp, cable or meter.
    Electric,
    /// A mounting block.
    Block,
    /// A gap behind the cladding.
    Gap,
    /// Furring in the gap.
    Furring,
    /// Horizontal or diagonal furring.
    CrossFurring,
    /// A drainage mat.
    Mat,
    /// Insulation outboard of the frame.
    Insulation,
    /// A sheet that controls water or air.
    Membrane,
    /// Layers that were there before.
    Existing,
    /// A trim.
    Trim,
    /// A row of weep or vent holes.
    Weeps,
    /// A flashing.
    Flashing,
    /// A screen over an opening of the gap.
    Screen,
    /// A block against fire.
    FireStop,
    /// Cladding in courses.
    Courses,
    /// Cladding of wood or of something else that takes up water.
    Absorbs,
    /// Cladding of sheet metal.
    MetalCladding,
    /// Trims, flashings or cladding of metal.
    Metal,
    /// Wood treated with copper.
    Treated,
    /// Wood with a tannin (cedar, oak, larch and their like).
    Tannin,
    /// Something of cement, or a base on a foundation.
    Cement,
    /// A site with de-icing salt or by the sea.
    Salt,
    /// A site where snow lies against the wall.
    Snow,
    /// A site under ember rules.
    Wildfire,
}

impl On {
    /// Names of the things of a face that the line is about; none where it is about the face as a whole. `None` if the face has
    /// nothing of the sort.
    pub fn places(self, model: &Model, id: FaceId) -> Option<Vec<String>> {
        let face = model.face(id)?;
        let whole = |there: bool| there.then(Vec::new);
        let some = |names: Vec<String>| (!names.is_empty()).then_some(names);
        match self {
            On::Wall => whole(true),
            On::Base => whole(things::has_edge(face, &["base", "step"])),
            On::Ground => whole(!face.ground.is_empty()),
            On::Top => whole(things::has_edge(face, &["top", "rake"])),
            On::Parapet => whole(things::has_edge(face, &["parapet"])),
            On::Rake => some(things::edges(face, &["rake"])),
            On::Corner => some(things::corners(face)),
            On::Deck => things::or_edge(face, face.decks.iter().map(|deck| deck.name.clone()), "deck_line"),
            On::Roof => things::or_edge(face, face.roofs.iter().map(|roof| roof.name.clone()), "roof_line"),
            On::Opening => some(face.openings.iter().map(|opening| opening.name.clone()).collect()),
            On::Transition => {
                some(face.betweens.iter().map(|one| format!("{} and {}", one.lower, one.upper)).collect())
            }
            On::Floor => some(face.floor_lines.iter().map(|floor| floor.name.clone()).collect()),
            On::Block => some(face.blocks.iter().map(|block| block.name.clone()).collect()),
            On::Service => some(things::services(face, &[])),
            On::Duct => some(things::services(face, &["duct", "hood", "intake"])),
            On::HoseBib => some(things::services(face, &["hose_bib"])),
            On::Electric => some(things::services(face, &["box", "lamp", "cable", "meter"])),
            On::Weeps => some(things::with_holes(face)),
            On::Salt => whole(model.site.as_ref().and_then(|site| site.salt).is_some_and(|salt| salt != "none")),
            On::Snow => whole(model.site.as_ref().and_then(|site| site.snow).is_some_and(|depth| depth.0 > 0)),
            On::Wildfire => whole(model.site.as_ref().is_some_and(|site| site.wildfire)),
            _ => whole(self.is_built(model, id)),
        }
    }

    /// Whether layers, parts or trims of the face are of the sort.
    fn is_built(self, model: &Model, id: FaceId) -> bool {
        let built = things::Built::of(model, id);
        match self {
            On::Gap => built.gaps().next().is_some(),
            On::Furring => built.gaps().any(|gap| !gap.furring.is_empty()),
            On::CrossFurring => built.has_cross_furring(),
            On::Mat => built.gaps().any(|gap| gap.mat.is_some()),
            On::Insulation => built.has_insulation(),
            On::Membrane => built
                .layers()
                .any(|layer| (layer.controls.water || layer.controls.air) && (model.is_membrane(&layer.stuff))),
            On::Existing => built.layers().any(|layer| matches!(layer.kind, crate::model::LayerKind::Existing)),
            On::Trim => built.has_trims(),
            On::Flashing => built.has_part("flashing"),
            On::Screen => built.has_screen(),
            On::FireStop => built.has_fire_stop(),
            On::Courses => built.claddings().any(|layer| layer.exposure.is_some() && !layer.runs_vertical),
            On::Absorbs => built.claddings().any(|layer| built.absorbs(layer)),
            On::MetalCladding => built.claddings().any(|layer| built.is_metal(&layer.stuff)),
            On::Metal => built.stuffs().any(|stuff| built.is_metal(&stuff)),
            On::Treated => built.stuffs().any(|stuff| built.material(&stuff, |one| one.treated == Some("copper"))),
            On::Tannin => built.stuffs().any(|stuff| built.material(&stuff, |one| one.species == Some("tannin"))),
            On::Cement => {
                built.stuffs().any(|stuff| built.material(&stuff, |one| one.cementitious))
                    || On::Base.places(model, id).is_some()
            }
            _ => true,
        }
    }
}
