//! Details: needs, promises, parts and joints.

use super::Builder;
use super::again::Asked;
use super::goods::sourced_range;
use super::layers::{any_broken, functions};
use super::sections::trade;
use crate::eval::{Bound, InstanceId};
use crate::model::{Detail, DetailId, GapEnd, Gives, Joint, Lap, Needs, PartSpec, Place, Side};

fn side(word: Option<&str>) -> Side {
    match word {
        Some("upper") => Side::Upper,
        Some("both") => Side::Both,
        _ => Side::Lower,
    }
}

impl Builder<'_> {
    pub(super) fn detail(&mut self, id: InstanceId) -> Option<DetailId> {
        let made = match self.details.get(&id) {
            Some(&known) => known,
            None => self.new_detail(id)?,
        };
        self.asked.push(Asked::Detail(id, made));
        Some(made)
    }

    fn new_detail(&mut self, id: InstanceId) -> Option<DetailId> {
        let instance = self.evaluated.instance(id)?;
        let bound = &instance.bound;
        let edge = self.place(bound);
        let mut part = |word: &str| bound.clause(word).map(|clause| self.place(clause));
        let (head, jamb, sill, roof_side) = (part("head"), part("jamb"), part("sill"), part("roof_side"));
        let texts = |word: &str, label: &str| bound.all(word).filter_map(|clause| clause.text(label)).collect();
        let detail = Detail {
            name: instance.name.to_string(),
            label: instance.label.clone(),
            places: bound.clause("at").map(|clause| clause.words("places")).unwrap_or_default(),
            edge,
            head,
            jamb,
            sill,
            roof_side,
            keep: bound.clause("keep").and_then(|clause| clause.length("clearance")),
            psi: sourced_range(bound, "psi"),
            transmittance: sourced_range(bound, "transmittance"),
            edition: bound
                .clause("edition")
                .and_then(|clause| clause.text("text"))
                .map(|text| text.to_string())
                .unwrap_or_default(),
            why: texts("why", "text"),
            order: texts("order", "steps"),
            broken: any_broken(bound),
            origin: bound.span,
        };
        self.sizes_make_sense(bound);
        for place in [Some(&detail.edge), detail.head.as_ref(), detail.jamb.as_ref(), detail.sill.as_ref()] {
            self.laps_agree(place.map_or(&[], |place| &place.parts), &detail.places);
        }
        let made = DetailId(self.model.details.len() as u32);
        self.model.details.push(detail);
        self.details.insert(id, made);
        Some(made)
    }

    fn place(&mut self, bound: &Bound) -> Place {
        let needs = bound.all("needs").filter_map(|clause| {
            Some(Needs { side: clause.word("side")?, what: clause.word("what")?, origin: clause.span })
        });
        let gives = bound.all("gives").flat_map(|clause| {
            let to = side(clause.word("side"));
            clause.words("promises").into_iter().map(move |promise| Gives { promise, to, origin: clause.span })
        });
        let (needs, gives) = (needs.collect(), gives.collect());
        let gap_ends = bound.all("gap_end").filter_map(|clause| self.gap_end(clause)).collect();
        let parts = bound.all("part").filter_map(|clause| self.part(clause, clause.word("kind")?)).collect();
        let air = bound.all("air").filter_map(|clause| self.joint(clause)).collect();
        Place {
            needs,
            gives,
            gap_ends,
            parts,
            air,
            fire: bound.clause("fire").and_then(|clause| clause.word("state")),
            upper_laps: bound.clause("upper_laps").and_then(|clause| clause.length("length")),
            origin: bound.span,
        }
    }

    fn gap_end(&mut self, bound: &Bound) -> Option<GapEnd> {
        Some(GapEnd {
            open: bound.word("state")? == "open",
            slot: bound.length("slot"),
            to: side(bound.word("side")),
            screen: bound.clause("screen").and_then(|clause| self.product_in(clause, "of")),
            wraps: bound.clause("wraps").and_then(|clause| clause.length("length")),
            faces: bound.clause("faces").and_then(|clause| clause.word("way")),
            joins: bound.clause("joins").and_then(|clause| clause.word("space")).unwrap_or("outside"),
            origin: bound.span,
        })
    }

    /// A part of a detail, or the cap of a block, vent or fire stop.
    pub(super) fn part(&mut self, bound: &Bound, kind: &'static str) -> Option<PartSpec> {
        let length = |clause: &str, label: &str| bound.clause(clause).and_then(|clause| clause.length(label));
        let word = |clause: &str, label: &str| bound.clause(clause).and_then(|clause| clause.word(label));
        let laps = bound.all("laps").filter_map(|clause| {
            Some(Lap {
                under: clause.word("order")? == "under",
                what: clause.word("what")?,
                by: clause.length("by"),
                origin: clause.span,
            })
        });
        let laps = laps.collect();
        Some(PartSpec {
            kind,
            name: bound.clause("name").and_then(|clause| clause.name()).map(str::to_owned),
            stuff: self.stuff(bound, "of").unwrap_or_default(),
            thickness: bound.length("thickness"),
            slope: bound.clause("slope").and_then(|clause| clause.slope("slope")),
            upstand: length("upstand", "height"),
            drip: bound.clause("drip").and_then(|clause| Some((clause.length("down")?, clause.length("out")))),
            hem: length("hem", "length"),
            beyond: length("beyond", "length"),
            splice: bound.clause("splice").and_then(|clause| Some((clause.length("lap")?, self.stuff(clause, "with")))),
            end_dams: length("end_dams", "height"),
            back_dam: length("back_dam", "height"),
            projects: length("projects", "length"),
            width: length("width", "width"),
            laps,
            taped: bound.clause("taped").and_then(|clause| self.product_in(clause, "with")),
            sealed: word("sealed", "where"),
            controls: functions(bound),
            holds_up: length("holds_up", "length"),
            isolated: bound.clause("isolated").and_then(|clause| self.stuff(clause, "with")),
            fasten: bound.clause("fasten").and_then(|clause| self.fasten(clause)),
            wraps: length("wraps", "length"),
            on: word("on", "plane"),
            primer: word("primer", "is").map(|word| word == "yes"),
            mitred: bound.has("mitred"),
            shrinks_with_frame: word("shrinks", "what") == Some("frame"),
            by: trade(bound),
            origin: bound.span,
        })
    }

    fn joint(&mut self, bound: &Bound) -> Option<Joint> {
        Some(Joint {
            target: bound.word("target")?,
            with: self.stuff(bound, "by"),
            width: bound.clause("width").and_then(|clause| clause.length("width")),
            primer: bound.clause("primer").and_then(|clause| clause.word("is")).map(|word| word == "yes"),
            at: bound.clause("at").and_then(|clause| clause.number("temperature")),
            depth: bound.clause("depth").and_then(|clause| clause.length("depth")),
            backer: bound.clause("backer").and_then(|clause| clause.word("is")).map(|word| word == "yes"),
            slack: bound.clause("slack").and_then(|clause| clause.length("fold")),
            recheck: bound.clause("recheck").and_then(|clause| clause.date("by")),
            origin: bound.span,
        })
    }
}
