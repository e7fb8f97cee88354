//! Air in the gap: the openings of a bay through which it comes in low and goes out high, as promised by what bounds it.

use super::ends::{Ends, Scene};
use super::flow::{ExitKind, Opening};
use crate::geometry::Segment;
use crate::model::Vent;
use crate::plan::{Against, Bay, Contact};

/// Openings for air of one bay.
#[derive(Default)]
pub(super) struct Breath {
    pub inlets: Vec<Opening>,
    pub outlets: Vec<Opening>,
}

/// Goes round a bay, and through the rows of slots that open into it.
pub(super) fn breathe(scene: &Scene, area: usize, bay: &Bay) -> Breath {
    let mut breath = Breath::default();
    for contact in &bay.contacts {
        match contact.with {
            Against::Run(id) => {
                if let Some(run) = scene.plan.run(id) {
                    breath.along_run(contact, scene.ends(id, run, area, contact.segment));
                }
            }
            Against::Vent(index) if contact.segment.is_floor() => {
                if let Some(vent) = scene.face.vents.get(index) {
                    breath.over_flashing(scene, (index, vent), contact.segment);
                }
            }
            _ => {}
        }
    }
    for &(index, stretch) in &bay.vents {
        if let Some(vent) = scene.face.vents.get(index) {
            breath.under_flashing(scene, (index, vent), stretch);
        }
    }
    breath
}

impl Breath {
    /// What an edge gives: its slots and holes where its detail promises them to the air, vent holes in any case.
    fn along_run(&mut self, contact: &Contact, ends: Ends) {
        if ends.broken || ends.bare && ends.ways.is_empty() {
            let fact = if ends.broken { None } else { ends.missing.first().cloned() };
            self.put(&cannot_tell(contact, fact), contact.segment.is_floor(), contact.segment.is_ceiling());
            return;
        }
        let (inlet, outlet) = (ends.inlet, ends.outlet);
        for way in &ends.ways {
            let free = way.vent && !inlet && !outlet;
            let low = inlet || free && contact.segment.is_floor();
            let high = outlet || free && contact.segment.is_ceiling();
            self.put(&way.opening, low, high);
        }
        if let (true, Some(fact)) = (inlet || outlet, ends.missing.first()) {
            self.put(&cannot_tell(contact, Some(fact.clone())), inlet, outlet);
        }
    }

    fn put(&mut self, opening: &Opening, low: bool, high: bool) {
        if low {
            self.inlets.push(opening.clone());
        }
        if high {
            self.outlets.push(opening.clone());
        }
    }

    /// A row of slots that opens into a bay: air goes out there where a flashing closes the bay above it, and both ways where
    /// there is none.
    fn under_flashing(&mut self, scene: &Scene, vent: (usize, &Vent), stretch: Segment) {
        let gives = |promise| vent.1.gives.contains(&promise);
        let opening = slots(scene, vent, stretch);
        self.put(&opening, gives("inlet") && vent.1.flashing.is_none(), gives("outlet"));
    }

    /// The bay above the flashing of a row of slots takes its air in over it.
    fn over_flashing(&mut self, scene: &Scene, vent: (usize, &Vent), stretch: Segment) {
        let opening = slots(scene, vent, stretch);
        self.put(&opening, vent.1.gives.contains(&"inlet"), false);
    }
}

/// What a row of slots gives along a stretch. Where a flashing parts two bays and both breathe through one slot, each has half.
fn slots(scene: &Scene, (index, vent): (usize, &Vent), stretch: Segment) -> Opening {
    let shared = vent.flashing.is_some() && vent.gives.contains(&"inlet") && vent.gives.contains(&"outlet");
    let full = vent.slot.as_m() * stretch.length().as_m() * if shared { 0.5 } else { 1.0 };
    scene.screened(stretch, Against::Vent(index), Ok(full), vent.screen, "outside")
}

/// An opening that may or may not be there.
fn cannot_tell(contact: &Contact, missing: Option<String>) -> Opening {
    Opening {
        segment: contact.segment,
        with: contact.with,
        kind: ExitKind::Slot,
        area: None,
        aged_area: None,
        share: None,
        missing,
        joins: "outside",
    }
}
