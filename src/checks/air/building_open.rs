//! A building whose faces, foundation and roof do not close it.

use super::ends::{self, Words};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};

/// `building.open`
pub struct BuildingOpen;

static META: RuleMeta = RuleMeta {
    id: "building.open",
    catalogue: "",
    title: "the building is not closed",
    grade: Grade::S1,
    before: "H1",
    limits: &[],
    explain: "\
# What it checks
Every face of a building meets a neighbour at each side, and the building names what is airtight below and above its walls.

# Why
A barrier is as good as its weakest side. A face that was forgotten is a hole the size of a wall.

# Example
    building house {
        faces north and east and south      // and nothing in the west
    }

# Better
    building house {
        faces      north and east and south
        foundation slab_edge, air concrete
        roof       main, air ceiling_membrane
        open_side  \"west: the neighbour's wall, by the structural engineer\"
    }

# Basis
NBC 9.25.3, as read in a public copy of the text: one continuous barrier, joined to its neighbours.

# Known gaps
Whether the faces really stand where their corners say is not measured. `wythe trace PATH --barrier` goes round the whole
building and lists each hole with its length.
",
};

static WORDS: Words = Words {
    kind: "building",
    help: "name what closes it: the face that is met, `foundation`, `roof`, or say `open_side` and who answers for it",
};

impl Rule for BuildingOpen {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        ends::report(context, &META, &WORDS, report);
    }
}
