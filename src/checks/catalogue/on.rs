//! The walls and places that a failure is about, so that a sheet asks only for what is there.

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
    /// Two or more things that pass through.
    Services,
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
    /// Cladding with a tannin (cedar, oak, larch and their like).
    Tannin,
    /// Something of cement, concrete or mortar.
    Cement,
    /// A site with de-icing salt or by the sea.
    Salt,
    /// A site where snow lies against the wall.
    Snow,
    /// A site under ember rules.
    Wildfire,
}
