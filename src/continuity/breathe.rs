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
        let Against::Run(id) = contact.with else { continue };
        let Some(run) = scene.plan.run(id) else { continue };
        breath.along_run(contact, scene.ends(id, run, area, contact.segment));
    }
    for &(index, stretch) in &bay.vents {
        if let Some(vent) = scene.face.vents.get(index) {
            breath.through_vent(scene, bay, (index, vent), stretch);
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

    /// What a row of slots gives. Where its flashing cuts the gap, the bay above takes air in and the bay below lets it out,
    /// and one slot that serves both counts half for each.
    fn through_vent(&mut self, scene: &Scene, bay: &Bay, vent: (usize, &Vent), stretch: Segment) {
        let (index, vent) = vent;
        let cut = |test: fn(Segment) -> bool| {
            bay.contacts.iter().any(|contact| contact.with == Against::Vent(index) && test(contact.segment))
        };
        let (above, below) = (cut(Segment::is_floor), cut(Segment::is_ceiling));
        let gives = |promise| vent.gives.contains(&promise);
        let low = gives("inlet") && (above || !below);
        let high = gives("outlet") && (below || !above);
        let shared = (above || below) && gives("inlet") && gives("outlet");
        let full = vent.slot.as_m() * stretch.length().as_m() * if shared { 0.5 } else { 1.0 };
        let opening = scene.screened(stretch, Against::Vent(index), Ok(full), vent.screen, "outside");
        self.put(&opening, low, high);
    }
}

/// An opening that may or may not be there.
fn cannot_tell(contact: &Contact, missing: Option<String>) -> Opening {
    Opening {
        segment: contact.segment,
        with: contact.with,
        kind: ExitKind::Slot,
        area: None,
        aged_area: None,
        missing,
        joins: "outside",
    }
}
