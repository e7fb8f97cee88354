//! What stands on a face: openings, services, blocks, trims, vents, nailers, fire stops; repeats expanded.

use super::goods::sourced_range;
use super::outline::{place_along, point};
use super::sections::trade;
use super::{Builder, problems};
use crate::eval::Bound;
use crate::geometry::Point;
use crate::model::{Block, Bracket, BracketRow, Face, FireStop, HoleRow, Ledger, Nailer, Opening, Service, Trim, Vent};
use crate::units::{Length, display};

/// No opening is wider or higher than this; a unit is wrong.
const LARGEST: Length = Length(200 * 1_000_000_000);
/// No row has more pieces than this.
const LONGEST_ROW: i64 = 10_000;

impl Builder<'_> {
    /// Adds what a clause of a face says; `suffix` is `.1`, `.2`, … inside `repeat`.
    pub(super) fn standing(&mut self, face: &mut Face, clause: &Bound, suffix: &str) {
        match clause.row.word {
            "window" | "door" | "opening" => face.openings.extend(self.opening(clause, suffix)),
            "repeat" => self.repeat(face, clause, suffix),
            "block" => self.block(face, clause, suffix),
            "trim" => face.trims.extend(self.trim(clause, suffix)),
            "vent" => face.vents.extend(self.vent(clause)),
            "nailer" => face.nailers.extend(self.nailer(clause, suffix)),
            "bracket" => face.brackets.extend(self.bracket(clause)),
            "ledger" => face.ledgers.extend(self.ledger(clause)),
            "bracket_row" => face.bracket_rows.extend(self.bracket_row(clause)),
            "fire_stop" => face.fire_stops.extend(self.fire_stop(clause)),
            _ if clause.row.body == "service" => {
                let service = self.service(clause, face.services.len(), suffix);
                face.services.extend(service);
            }
            _ => {}
        }
    }

    /// `repeat 5 every 1200mm` places five in all, named `.1` to `.5`.
    fn repeat(&mut self, face: &mut Face, bound: &Bound, suffix: &str) {
        let (Some(count), Some(spacing)) = (bound.integer("count"), bound.length("spacing")) else { return };
        if !(1..=LONGEST_ROW).contains(&count) || spacing <= Length::ZERO {
            self.problem(problems::row_size(bound.span, LONGEST_ROW));
            return;
        }
        for clause in bound.clauses.iter().filter(|clause| !stands_in_a_row(clause)) {
            self.problem(problems::not_in_a_row(clause.span, clause.row.word));
        }
        for number in 0..count {
            let mut row = Face::bare(&face.name, face.origin);
            for clause in bound.clauses.iter().filter(|clause| stands_in_a_row(clause)) {
                self.standing(&mut row, clause, &format!("{suffix}.{}", number + 1));
            }
            shift(&mut row, spacing * number, face.blocks.len());
            face.openings.append(&mut row.openings);
            face.services.append(&mut row.services);
            face.blocks.append(&mut row.blocks);
            face.trims.append(&mut row.trims);
            face.nailers.append(&mut row.nailers);
        }
    }

    fn opening(&mut self, bound: &Bound, suffix: &str) -> Option<Opening> {
        let name = format!("{}{suffix}", bound.name()?);
        let size = bound.lengths("size");
        let (&width, &height) = (size.first()?, size.get(1).or(size.first())?);
        for length in [width, height] {
            if length <= Length::ZERO {
                self.problem(problems::not_positive(bound.span_of("size"), "the size of an opening"));
                return None;
            }
            if length > LARGEST {
                let units = self.model.project.units;
                self.problem(problems::absurd(
                    bound.span_of("size"),
                    "an opening",
                    &display::length(length, units),
                    &display::length(LARGEST, units),
                ));
                return None;
            }
        }
        let at = match (bound.point("at"), bound.point("head_at")) {
            (Some(at), _) => point(at),
            (None, Some((x, y))) => Point { x, y: y - height },
            (None, None) => {
                if !bound.broken {
                    self.problem(problems::no_place(bound.span, &name));
                }
                return None;
            }
        };
        let length = |clause: &str, label: &str| bound.clause(clause).and_then(|clause| clause.length(label));
        let word = |clause: &str, label: &str| bound.clause(clause).and_then(|clause| clause.word(label));
        let trims = bound.clause("trims").and_then(|clause| Some((clause.length("width")?, clause.word("plane")?)));
        Some(Opening {
            name,
            kind: bound.row.word,
            measure: bound.word("measure"),
            at,
            width,
            height,
            detail: self.detail_of(bound),
            trims,
            head: word("head", "arrangement"),
            reveal: length("reveal", "length"),
            projects: length("projects", "length"),
            rough_gap: length("rough_gap", "gap"),
            seal: word("seal", "target"),
            frame_of: word("frame_of", "of"),
            opens: word("opens", "is").map(|word| word == "yes"),
            transmittance: sourced_range(bound, "transmittance"),
            by: trade(bound),
            origin: bound.span,
        })
    }

    fn service(&mut self, bound: &Bound, number: usize, suffix: &str) -> Option<Service> {
        let at = point(bound.point("at")?);
        let size = bound.lengths("size");
        let length = |clause: &str, label: &str| bound.clause(clause).and_then(|clause| clause.length(label));
        let word = |clause: &str, label: &str| bound.clause(clause).and_then(|clause| clause.word(label));
        let seal = bound.clause("seal").and_then(|clause| Some((clause.word("part")?, self.product_in(clause, "of"))));
        let name = bound.name().map_or_else(|| format!("{}_{}", bound.row.word, number + 1), str::to_owned);
        Some(Service {
            name: format!("{name}{suffix}"),
            kind: bound.row.word,
            at,
            width: size.first().copied(),
            height: size.get(1).or(size.first()).copied(),
            block: None,
            detail: self.detail_of(bound),
            fall: bound.clause("fall").and_then(|clause| clause.slope("slope")),
            sleeve: length("sleeve", "diameter"),
            stem: length("stem", "length"),
            seat: length("seat", "inside"),
            seal,
            sealed_to: word("sealed", "layer").unwrap_or("air"),
            flange: length("flange", "width"),
            recheck: bound.clause("recheck").and_then(|clause| clause.date("by")),
            owner: word("owner", "trade"),
            capped: bound.has("capped"),
            carries: word("carries", "what"),
            reaches: word("reaches", "to"),
            collar_length: length("collar_length", "length"),
            weight: bound.clause("weight").and_then(|clause| clause.number("mass")),
            clear: bound
                .all("clear")
                .filter_map(|clause| Some((clause.length("distance")?, clause.word("what")?, clause.span)))
                .collect(),
            removal: bound.all("removal").filter_map(|clause| clause.text("step")).collect(),
            by: trade(bound),
            origin: bound.span,
        })
    }

    fn block(&mut self, face: &mut Face, bound: &Bound, suffix: &str) {
        let (Some(name), Some(at)) = (bound.name(), bound.point("at").map(point)) else { return };
        let length = |clause: &str, label: &str| bound.clause(clause).and_then(|clause| clause.length(label));
        let word = |clause: &str, label: &str| bound.clause(clause).and_then(|clause| clause.word(label));
        let block = Block {
            name: format!("{name}{suffix}"),
            at,
            width: length("width", "width"),
            courses: bound.clause("courses").and_then(|clause| clause.integer("count")),
            height: length("height", "height"),
            thickness: length("thickness", "thickness"),
            on: word("on", "plane"),
            removable: bound.has("removable"),
            cut_from: bound.clause("cut_from").and_then(|clause| self.stuff(clause, "of")),
            flashing: bound.clause("flashing").and_then(|clause| self.part(clause, "cap")),
            bevel: bound.clause("bevel").and_then(|clause| clause.number("angle")).map(f64::to_degrees),
            side_gap: length("side_gap", "gap"),
            insulated: word("insulated", "is").map(|word| word == "yes"),
            drained: word("drained", "how").map(|word| word == "yes"),
            stands_off: length("stands_off", "space"),
            fasten: bound.clause("fasten").and_then(|clause| self.fasten(clause)),
            detail: self.detail_of(bound),
            by: trade(bound),
            origin: bound.span,
        };
        let index = face.blocks.len();
        for clause in bound.clauses.iter().filter(|clause| clause.row.body == "service") {
            if let Some(service) = self.service(clause, face.services.len(), suffix) {
                let place = Point { x: at.x + service.at.x, y: at.y + service.at.y };
                face.services.push(Service { at: place, block: Some(index), ..service });
            }
        }
        face.blocks.push(block);
    }

    fn trim(&mut self, bound: &Bound, suffix: &str) -> Option<Trim> {
        let length = |clause: &str, label: &str| bound.clause(clause).and_then(|clause| clause.length(label));
        let word = |clause: &str, label: &str| bound.clause(clause).and_then(|clause| clause.word(label));
        Some(Trim {
            name: format!("{}{suffix}", bound.name()?),
            product: self.product_in(bound, "of")?,
            along: bound.path("run")?,
            from: place_along(bound, "from"),
            to: place_along(bound, "to"),
            holes: bound.all("holes").filter_map(hole_row).collect(),
            fixed: bound.all("fixed").filter_map(|clause| place_along(clause, "where")).collect(),
            gap: length("gap", "gap"),
            lap: length("lap", "lap"),
            low_end: word("low_end", "state"),
            sag: length("sag", "depth"),
            set_at: bound.clause("set").and_then(|clause| clause.number("temperature")),
            isolated: bound.clause("isolated").and_then(|clause| self.stuff(clause, "with")),
            fasten: bound.clause("fasten").and_then(|clause| self.fasten(clause)),
            on: word("on", "plane"),
            by: trade(bound),
            mitred: bound.has("mitred"),
            origin: bound.span,
        })
    }

    fn vent(&mut self, bound: &Bound) -> Option<Vent> {
        Some(Vent {
            name: bound.name()?.to_owned(),
            slot: self.positive(bound, "slot", "the height of a slot")?,
            height: bound.length("height")?,
            from: place_along(bound, "from"),
            to: place_along(bound, "to"),
            gives: bound.clause("gives").map(|clause| clause.words("promises")).unwrap_or_default(),
            screen: bound.clause("screen").and_then(|clause| self.product_in(clause, "of")),
            flashing: bound.clause("flashing").and_then(|clause| self.part(clause, "flashing")),
            by: trade(bound),
            origin: bound.span,
        })
    }

    fn nailer(&mut self, bound: &Bound, suffix: &str) -> Option<Nailer> {
        let size = bound.lengths("size");
        Some(Nailer {
            name: format!("{}{suffix}", bound.name()?),
            depth: *size.first()?,
            height: *size.get(1).or(size.first())?,
            from: point(bound.point("from")?),
            to: bound.length("to")?,
            gaps: bound.clause("gaps").and_then(|clause| clause.length("gap")),
            fasten: bound.clause("fasten").and_then(|clause| self.fasten(clause)),
            origin: bound.span,
        })
    }

    fn bracket(&mut self, bound: &Bound) -> Option<Bracket> {
        Some(Bracket {
            name: bound.name()?.to_owned(),
            stuff: self.stuff(bound, "of"),
            at: point(bound.point("at")?),
            bears_on: bound.clause("bears").and_then(|clause| clause.word("plane")),
            spacer: bound.clause("spacer").and_then(|clause| self.stuff(clause, "of")),
            fasten: bound.clause("fasten").and_then(|clause| self.fasten(clause)),
            origin: bound.span,
        })
    }

    fn ledger(&mut self, bound: &Bound) -> Option<Ledger> {
        let size = bound.lengths("size");
        let (depth, height) = (*size.first()?, *size.get(1).or(size.first())?);
        if depth <= Length::ZERO || height <= Length::ZERO {
            self.problem(problems::not_positive(bound.span_of("size"), "the size of a ledger"));
            return None;
        }
        Some(Ledger {
            name: bound.name()?.to_owned(),
            depth,
            height,
            top: bound.length("height")?,
            from: place_along(bound, "from")?,
            to: place_along(bound, "to")?,
            stands_off: bound.clause("stands_off").and_then(|clause| clause.length("gap")),
            stuff: self.stuff(bound, "of").unwrap_or_default(),
            detail: self.detail_of(bound),
            fasten: bound.clause("fasten").and_then(|clause| self.fasten(clause)),
            origin: bound.span,
        })
    }

    fn bracket_row(&mut self, bound: &Bound) -> Option<BracketRow> {
        let every = bound.clause("every");
        let spacing = match every {
            Some(every) => Some(self.positive(every, "spacing", "the spacing of brackets")?),
            None => None,
        };
        Some(BracketRow {
            name: bound.name()?.to_owned(),
            stuff: self.stuff(bound, "of").unwrap_or_default(),
            height: bound.length("height")?,
            from: place_along(bound, "from"),
            to: place_along(bound, "to"),
            spacing,
            detail: self.detail_of(bound),
            fasten: bound.clause("fasten").and_then(|clause| self.fasten(clause)),
            origin: bound.span,
        })
    }

    fn fire_stop(&mut self, bound: &Bound) -> Option<FireStop> {
        Some(FireStop {
            name: bound.name()?.to_owned(),
            at: bound.length("height")?,
            from: place_along(bound, "from"),
            to: place_along(bound, "to"),
            open_state: bound.clause("kind").and_then(|clause| clause.word("kind")) == Some("open_state"),
            kind_said: bound.has("kind"),
            height: bound.clause("height").and_then(|clause| clause.length("height")),
            flashing: bound.clause("flashing").and_then(|clause| self.part(clause, "flashing")),
            fasten: bound.clause("fasten").and_then(|clause| self.fasten(clause)),
            origin: bound.span,
        })
    }
}

/// What `repeat` can place. A row of rows could be without end.
fn stands_in_a_row(clause: &Bound) -> bool {
    matches!(clause.row.word, "window" | "door" | "opening" | "block" | "trim" | "nailer")
        || clause.row.body == "service"
}

fn hole_row(bound: &Bound) -> Option<HoleRow> {
    let size = bound.lengths("size");
    let length = |clause: &str, label: &str| bound.clause(clause).and_then(|clause| clause.length(label));
    let word = |clause: &str, label: &str| bound.clause(clause).and_then(|clause| clause.word(label));
    Some(HoleRow {
        purpose: bound.word("purpose")?,
        height: *size.first()?,
        slot: size.get(1).copied(),
        leg: word("leg", "leg"),
        on: word("on", "what"),
        between: word("between", "what"),
        spacing: length("every", "spacing"),
        first: length("first", "mark"),
        end_distance: length("end_distance", "min"),
        drilled: word("drilled", "where"),
        lip: length("lip", "height"),
        origin: bound.span,
    })
}

/// Moves one turn of a row to its place. Blocks are counted from `first_block` on.
fn shift(row: &mut Face, by: Length, first_block: usize) {
    for opening in &mut row.openings {
        opening.at.x += by;
    }
    for service in &mut row.services {
        service.at.x += by;
        service.block = service.block.map(|block| block + first_block);
    }
    for block in &mut row.blocks {
        block.at.x += by;
    }
    for nailer in &mut row.nailers {
        nailer.from.x += by;
        nailer.to += by;
    }
}
