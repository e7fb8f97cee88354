//! The lines of trim of a face, and the lengths they are cut into.

use super::lengths;
use super::rows::{self, Clear, PieceRow, Place, Rule};
use super::split::{Join, split};
use super::{Cut, Role, TrimEnd, TrimPiece};
use crate::geometry::{Point, Segment};
use crate::layout::angles;
use crate::layout::gaps;
use crate::layout::holes::{self, Support};
use crate::layout::pieces::Hand;
use crate::model::{Edge, Face, FaceId, Fasten, HoleRow, Model, Opening, PartSpec, Product, ProductId, Trim, Where};
use crate::plan::{Plan, Run, RunPlace};
use crate::units::{Length, display};

/// Parts of details that are cut from lengths of profile or board.
const PROFILES: [&str; 6] = ["trim", "channel", "starter", "coping", "sill", "rail"];
/// From the end of a piece to its first fixing where nothing is said. Common practice, no source.
const END: Length = Length::mm(50);
/// An end that hangs free for longer wants a block where no limit `trim.end_fixing` is in force. Common practice, no source.
const LOOSE: Length = Length::mm(100);
/// Lines that rise less than this are level, degrees.
const LEVEL: f64 = 0.05;

/// A line of trim before it is cut.
struct Line<'m> {
    role: Role,
    product: Option<ProductId>,
    item: String,
    name: String,
    run: String,
    segment: Segment,
    ends: [TrimEnd; 2],
    basis: String,
    join: Join,
    end_gap: Length,
    rules: Vec<RowRule>,
    /// Where its ends are cut so that left and right are mirror images.
    hand: Option<Hand>,
    fixed: Vec<Length>,
    low_end: Option<&'static str>,
    set: f64,
    trim: Option<&'m Trim>,
}

/// A row of holes before the line is cut.
struct RowRule {
    row: PieceRow,
    rule: Rule,
    /// From the long edge to the row.
    across: Length,
    /// From the end of a piece to its first and last hole, at least.
    end: Length,
}

/// The lengths of the profiles that a face names, without those of its details. Marks are left empty.
pub fn of_profiles(model: &Model, plan: &Plan, id: FaceId, surface: f64) -> Vec<TrimPiece> {
    let Some(face) = model.face(id) else { return Vec::new() };
    let gather = Gather { model, plan, id, face, surface };
    let runs: Vec<&Run> = plan.runs_of(id).map(|(_, run)| run).collect();
    let lines: Vec<Line<'_>> = face.trims.iter().filter_map(|trim| gather.trim(&runs, trim)).collect();
    lines.into_iter().flat_map(|line| gather.cut(line)).collect()
}

/// All lengths of a face.
pub(super) fn of_face(model: &Model, plan: &Plan, id: FaceId, surface: f64) -> Vec<TrimPiece> {
    let Some(face) = model.face(id) else { return Vec::new() };
    let gather = Gather { model, plan, id, face, surface };
    let runs: Vec<&Run> = plan.runs_of(id).map(|(_, run)| run).collect();
    let mut lines: Vec<Line<'_>> = face.trims.iter().filter_map(|trim| gather.trim(&runs, trim)).collect();
    for run in &runs {
        if made_on_the_other_face(model, plan, run) {
            continue;
        }
        let parts = plan.parts_of(run).filter(|part| PROFILES.contains(&part.spec.kind));
        lines.extend(parts.map(|part| {
            let line = gather.plain(run, &part.name, (&part.spec).into(), part.segment);
            gather.part(line, &part.spec)
        }));
    }
    for (at, opening) in face.openings.iter().enumerate() {
        lines.extend(gather.casings(&runs, at, opening));
    }
    lines.into_iter().flat_map(|line| gather.cut(line)).collect()
}

/// A corner has one set of parts, cut and counted on one of its faces if both say the same detail: on the one whose right end it
/// is, seen from outside, so that going round a house each wall takes one corner whatever the order of the texts. Where both
/// say it is their right or both their left, on the one whose name comes first.
pub fn made_on_the_other_face(model: &Model, plan: &Plan, run: &Run) -> bool {
    let Some((face, edge, meets)) = corner_of(model, run) else { return false };
    let twins: Vec<(&Face, &Edge)> = plan
        .runs_of(meets)
        .filter(|(_, twin)| twin.detail == run.detail && run.detail.is_some())
        .filter_map(|(_, twin)| corner_of(model, twin))
        .filter(|(.., back)| *back == run.face)
        .map(|(face, edge, _)| (face, edge))
        .collect();
    let is_right_end = |edge: &Edge| edge.segment.to.y > edge.segment.from.y;
    if twins.iter().any(|(_, twin)| is_right_end(twin) != is_right_end(edge)) {
        return !is_right_end(edge);
    }
    twins.iter().any(|(other, _)| other.name < face.name)
}

/// The face and the edge of a stretch that meets another face, and that face.
fn corner_of<'m>(model: &'m Model, run: &Run) -> Option<(&'m Face, &'m Edge, FaceId)> {
    let RunPlace::Edge(index) = run.place else { return None };
    let face = model.face(run.face)?;
    let edge = face.edges.get(index)?;
    Some((face, edge, edge.meets.as_ref()?.id?))
}

struct Gather<'m> {
    model: &'m Model,
    plan: &'m Plan,
    id: FaceId,
    face: &'m Face,
    surface: f64,
}

impl<'m> Gather<'m> {
    /// A profile named on the face.
    fn trim(&self, runs: &[&Run], trim: &'m Trim) -> Option<Line<'m>> {
        let segment = holes::trim_line(self.face, runs, trim)?;
        let product = self.model.product(trim.product);
        let set = trim.set_at.unwrap_or(self.surface);
        let kind = trim.along.rsplit('.').find(|word| word.parse::<u32>().is_err()).unwrap_or("");
        let edge = self.face.edges.iter().find(|edge| edge.name == trim.along);
        let kind = edge.map_or(kind, |edge| if edge.meets.is_some() { "corner" } else { edge.kind });
        let move_gap = gaps::of_day(self.model, product, set);
        let rules = trim.holes.iter().map(|row| self.trim_row(segment, trim, row, product)).collect();
        let place = |place: &Where| match *place {
            Where::Left => Length::ZERO,
            Where::Right => segment.length(),
            Where::Centre => segment.length() / 2,
            Where::At(at) => segment.length().scale(
                (at - along(segment, segment.from)).0,
                (along(segment, segment.to) - along(segment, segment.from)).0.max(1),
            ),
        };
        Some(Line {
            role: role("channel", kind),
            product: Some(trim.product),
            item: product.map_or_else(String::new, |product| product.name.replace('_', " ")),
            name: format!("{}.{}", self.face.name, trim.name),
            run: format!("{}.{}", self.face.name, trim.along),
            segment,
            ends: self.ends(segment, kind, trim.mitred),
            basis: "length of the edge it lies on, less the gaps at its ends".to_owned(),
            join: trim.lap.map_or(Join::Gap(trim.gap.unwrap_or(move_gap)), Join::Lap),
            end_gap: trim.gap.unwrap_or(Length::ZERO),
            rules,
            hand: None,
            fixed: trim.fixed.iter().map(place).collect(),
            low_end: trim.low_end,
            set,
            trim: Some(trim),
        })
    }

    /// A length on a stretch of edge, of which no more is known than its shape.
    fn plain(&self, run: &Run, name: &str, shape: lengths::Shape<'_>, segment: Segment) -> Line<'m> {
        let opening = match run.place {
            RunPlace::Opening(index) => self.face.openings.get(index),
            _ => None,
        };
        let (reach, basis) = lengths::reach(run.kind, shape, lengths::trim_and_reveal(opening));
        let segment = longer(holes::left_first(segment), reach);
        Line {
            role: role(shape.kind, run.kind),
            product: None,
            item: "casing, product not said".to_owned(),
            name: name.to_owned(),
            run: run.name.clone(),
            segment,
            ends: self.ends(segment, run.kind, shape.mitred),
            basis,
            join: Join::Gap(gaps::of_day(self.model, None, self.surface)),
            end_gap: Length::ZERO,
            rules: Vec::new(),
            hand: opening.filter(|_| shape.mitred && run.kind == "jamb").map(|opening| {
                let left = run.segment.from.x < opening.at.x + opening.width / 2;
                if left { Hand::Left } else { Hand::Right }
            }),
            fixed: Vec::new(),
            low_end: None,
            set: self.surface,
            trim: None,
        }
    }

    /// With what a detail says of the part.
    fn part(&self, line: Line<'m>, spec: &PartSpec) -> Line<'m> {
        let product = self.model.product_of(&spec.stuff);
        let rules = spec.fasten.iter().filter_map(|fasten| self.fasten_row(line.segment, fasten, product)).collect();
        Line {
            product: spec.stuff.product,
            item: product.map_or(spec.stuff.name.as_str(), |product| product.name.as_str()).replace('_', " "),
            join: Join::Gap(gaps::of_day(self.model, product, self.surface)),
            rules,
            ..line
        }
    }

    /// Head and two jambs round an opening whose detail has no trims of its own.
    fn casings(&self, runs: &[&Run], at: usize, opening: &Opening) -> Vec<Line<'m>> {
        let detail = opening.detail.and_then(|id| self.model.detail(id));
        let has =
            |kind: &str| detail.is_some_and(|detail| detail.place(kind).parts.iter().any(|part| part.kind == "trim"));
        if opening.trims.is_none() || has("head") || has("jamb") {
            return Vec::new();
        }
        let shape = lengths::Shape { kind: "trim", ..Default::default() };
        let round = runs.iter().filter(|run| run.place == RunPlace::Opening(at) && matches!(run.kind, "head" | "jamb"));
        round.map(|run| self.plain(run, &format!("{}.casing", run.name), shape, run.segment)).collect()
    }

    /// A row of a trim: its marks along the whole line.
    fn trim_row(&self, line: Segment, trim: &Trim, row: &HoleRow, product: Option<&Product>) -> RowRule {
        let mut piece = PieceRow {
            purpose: row.purpose,
            size: row.height,
            slot: row.slot,
            leg: row.leg,
            rule: rule_words(row),
            marks: Vec::new(),
            left_out: Vec::new(),
            lacks: None,
        };
        let (across, end) = (across(product, row.leg), row.end_distance.unwrap_or(Length::ZERO));
        if let (None, None, None, Some(spacing)) = (row.on, row.between, row.first, row.spacing) {
            return RowRule { row: piece, rule: Rule::BothEnds(spacing), across, end };
        }
        // Ends are kept clear piece by piece, so the line itself keeps none.
        let free = HoleRow { end_distance: Some(Length::ZERO), ..row.clone() };
        let carried = self.carried(line, row);
        let with_half = |at: Length| {
            let found = carried.iter().find(|place| (place.at - at).abs() <= Length::MM);
            Place { at, half: found.map_or(Length::ZERO, |place| place.half) }
        };
        let places = match holes::holes(self.model, self.plan, self.id, trim, &free) {
            Ok(found) => found.into_iter().map(|hole| with_half(hole.along)).collect(),
            Err(fact) => {
                piece.lacks = Some(fact);
                Vec::new()
            }
        };
        RowRule { row: piece, rule: Rule::Places(places), across, end }
    }

    /// What carries the holes of a row that asks for strips or studs.
    fn carried(&self, line: Segment, row: &HoleRow) -> Vec<Place> {
        let found = match row.on {
            Some("studs") => holes::studs_along(self.model, self.plan, self.id, line).unwrap_or_default(),
            Some(_) => holes::strips_along(self.plan, self.id, line),
            None => Vec::new(),
        };
        found.into_iter().map(|support| place_along(line, support)).collect()
    }

    /// Fasteners of a part: on strips or studs where it crosses them, else both ends alike.
    fn fasten_row(&self, line: Segment, fasten: &Fasten, product: Option<&Product>) -> Option<RowRule> {
        let spacing = fasten.spacing?;
        let size = fasten.diameter.or_else(|| self.model.product(fasten.product)?.diameter).unwrap_or(Length::mm(5));
        let crosses: Vec<Support> = match fasten.into {
            _ if line.is_vertical() => Vec::new(),
            Some("furring") => holes::strips_behind(self.plan, self.id, line),
            Some("studs") => holes::studs_along(self.model, self.plan, self.id, line).unwrap_or_default(),
            _ => Vec::new(),
        };
        let (from, to) = (along(line, line.from), along(line, line.to));
        let on: Vec<Place> = crosses
            .iter()
            .filter(|support| support.centre >= from - support.half && support.centre <= to + support.half)
            .map(|support| place_along(line, *support))
            .collect();
        let both = format!("both ends alike, at most {} apart", display::mm(spacing));
        let (rule, words) = if on.len() > 1 {
            (Rule::Places(on), format!("on {}", fasten.into.unwrap_or("supports")))
        } else {
            (Rule::BothEnds(spacing), both)
        };
        let row = PieceRow {
            purpose: "fix",
            size,
            slot: fasten.slots,
            leg: None,
            rule: words,
            marks: Vec::new(),
            left_out: Vec::new(),
            lacks: None,
        };
        let end = fasten.end_distance.unwrap_or(END);
        Some(RowRule { row, rule, across: across(product, None), end })
    }

    fn ends(&self, segment: Segment, kind: &str, mitred: bool) -> [TrimEnd; 2] {
        [segment.from, segment.to].map(|at| {
            let (cut, note) = self.cut_at(segment, kind, mitred, at);
            TrimEnd { cut, goes_to: self.goes_to(segment, kind, at) + note, bare: false }
        })
    }

    /// How one end of a line is cut, and what had to be taken for granted.
    fn cut_at(&self, own: Segment, kind: &str, mitred: bool, at: Point) -> (Cut, &'static str) {
        let slope = if own.is_vertical() { 0.0 } else { slope_of(own) };
        let plain = if slope > LEVEL { Cut::Plumb(slope) } else { Cut::Square };
        if !mitred {
            return (plain, "");
        }
        match kind {
            // Jambs stand on the sill: their feet are square, and so is what they stand on.
            "head" => return (Cut::Mitre(45.0), ""),
            "jamb" if at == own.to => return (Cut::Mitre(45.0), ""),
            "jamb" | "sill" => return (Cut::Square, ""),
            _ if own.is_vertical() => return (plain, ""),
            _ => {}
        }
        let Some(next) = self.next_edge(own, at) else { return (plain, "") };
        if !next.segment.is_vertical() {
            let turn = angles::turn(walked(own, at, false), walked(next.segment, at, true));
            return (Cut::Mitre(angles::mitre(180.0 - turn)), "");
        }
        // The next edge stands: a rake dies against it; all else goes on round the corner of the building.
        let Some(corner) = next.meets.as_ref().filter(|_| kind != "rake") else { return (plain, "") };
        let other = corner.id.and_then(|id| self.model.face(id)?.looks);
        match self.face.looks.zip(other) {
            Some((looks, other)) => (Cut::Bevel(angles::mitre(angles::corner(looks, other))), ""),
            None => (Cut::Bevel(45.0), ", a square corner taken for granted: `looks` is not said"),
        }
    }

    /// The edge that goes on where a line ends.
    fn next_edge(&self, own: Segment, at: Point) -> Option<&'m Edge> {
        let touches = |edge: &&Edge| {
            [edge.segment.from, edge.segment.to].contains(&at)
                && edge.segment.overlap(own).is_none_or(|shared| shared.from == shared.to)
        };
        self.face.edges.iter().find(touches)
    }

    fn goes_to(&self, own: Segment, kind: &str, at: Point) -> String {
        if matches!(kind, "head" | "sill" | "jamb") {
            let first = at == own.from;
            return match (own.is_vertical(), first) {
                (true, true) => "its foot",
                (true, false) => "its head",
                (false, true) => "the left jamb",
                (false, false) => "the right jamb",
            }
            .to_owned();
        }
        match self.next_edge(own, at) {
            Some(edge) => match edge.meets.as_ref().and_then(|corner| self.model.face(corner.id?)) {
                Some(other) => format!("the corner to {}", other.name.replace('_', " ")),
                None => format!("the {} edge", edge.name.replace(['_', '.'], " ")),
            },
            None if own.is_vertical() => if at == own.from { "its foot" } else { "its top" }.to_owned(),
            None => if at == own.from { "its left end" } else { "its right end" }.to_owned(),
        }
    }

    /// The lengths of a line.
    fn cut(&self, line: Line<'m>) -> Vec<TrimPiece> {
        let product = line.product.and_then(|id| self.model.product(id));
        // Sloping ends need room on the stock, so the lengths between joints are shorter by that.
        let lean = lengths::beyond_long_point(line.role, line.ends.each_ref().map(|end| end.cut), product);
        let stock = product.and_then(|product| product.stock.iter().max().copied()).map(|stock| stock - lean);
        let length = line.segment.length();
        let lands = self.supports(&line);
        let middles: Vec<Length> = lands.iter().map(|land| land.at).collect();
        let found = split(length, stock, line.join, [line.end_gap; 2], &middles);
        let slope = if line.segment.is_vertical() { 0.0 } else { slope_of(line.segment) };
        let loose = self.model.limit("trim.end_fixing").and_then(|limit| limit.length()).unwrap_or(LOOSE);
        let joint = if slope > LEVEL { Cut::Plumb(slope) } else { Cut::Square };
        let count = found.len();
        let lap = match line.join {
            Join::Lap(lap) => lap,
            Join::Gap(gap) => -gap,
        };
        let pieces = found.into_iter().enumerate().map(|(at, (start, length))| {
            let laps = [if at > 0 { lap } else { Length::ZERO }, if at + 1 < count { lap } else { Length::ZERO }];
            let square = |end: usize| (end == 0 && at > 0) || (end == 1 && at + 1 < count);
            let mut ends = line.ends.clone();
            for (end, own) in ends.iter_mut().enumerate() {
                // No joint in a mitre: lengths meet square, or plumb on a slope.
                if square(end) && matches!(own.cut, Cut::Mitre(_) | Cut::Bevel(_)) {
                    own.cut = joint;
                }
                let place = if end == 0 { start + lap / 2 } else { start + length - lap / 2 };
                let held = |land: &Place| (land.at - place).abs() <= land.half.max(Length::MM);
                own.bare = square(end) && !lands.is_empty() && !lands.iter().any(held);
            }
            let hand = line.hand.or(match [ends[0].cut.degrees(), ends[1].cut.degrees()] {
                [left, right] if left > 0.05 && right <= 0.05 => Some(Hand::Left),
                [left, right] if right > 0.05 && left <= 0.05 => Some(Hand::Right),
                _ if line.low_end.is_some() && line.segment.from.y < line.segment.to.y => Some(Hand::Left),
                _ if line.low_end.is_some() && line.segment.from.y > line.segment.to.y => Some(Hand::Right),
                _ => None,
            });
            let fixed =
                line.fixed.iter().map(|&at| at - start).find(|&at| at >= -line.end_gap && at <= length + line.end_gap);
            let fixed = fixed.map(|at| at.clamp(Length::ZERO, length));
            let low = if line.segment.from.y < line.segment.to.y { (0, at == 0) } else { (1, at + 1 == count) };
            let mut piece = TrimPiece {
                mark: String::new(),
                role: line.role,
                face: self.id,
                product: line.product,
                item: line.item.clone(),
                name: line.name.clone(),
                run: line.run.clone(),
                line: line.segment,
                start,
                length,
                ends,
                hand,
                place: (at + 1, count),
                laps,
                basis: line.basis.clone(),
                rows: Vec::new(),
                fixed,
                low_end: line.low_end.filter(|_| low.1).map(|made| (low.0, made)),
            };
            piece.rows = self.rows(&line, &piece, product);
            if let Some(free) = piece.free_ends() {
                piece.ends.iter_mut().zip(free).for_each(|(end, free)| end.bare |= free > loose);
            }
            piece
        });
        pieces.collect()
    }

    /// Places along a line where two lengths may meet: strips, else studs.
    fn supports(&self, line: &Line<'_>) -> Vec<Place> {
        let on_studs = line.trim.is_some_and(|trim| trim.holes.iter().any(|row| row.on == Some("studs")));
        let studs = || holes::studs_along(self.model, self.plan, self.id, line.segment).unwrap_or_default();
        let found = if on_studs && !line.segment.is_vertical() {
            studs()
        } else {
            holes::strips_behind(self.plan, self.id, line.segment)
        };
        found.into_iter().map(|support| place_along(line.segment, support)).collect()
    }

    /// The rows of holes of one length.
    fn rows(&self, line: &Line<'_>, piece: &TrimPiece, product: Option<&Product>) -> Vec<PieceRow> {
        let moves = product.and_then(|product| {
            let (coldest, hottest) = lengths::range(self.model, product);
            Some((lengths::expansion(self.model, product)?, (hottest - line.set).abs().max((line.set - coldest).abs())))
        });
        let thick = product.and_then(|product| product.thickness).map_or(Length::ZERO, |(_, most)| most);
        let rows = line.rules.iter().map(|RowRule { row, rule, across, end }| {
            let mut row = row.clone();
            let fixing = row.purpose == "fix";
            // A short piece of a detail keeps its holes in its middle third.
            let end = if line.trim.is_some() { *end } else { (*end).min(piece.length / 3) };
            let ends = [0, 1].map(|at: usize| match piece.ends[at].cut {
                Cut::Square => end,
                Cut::Bevel(angle) => end.max(rows::from_mitre(thick, angle, row.size)),
                cut => end.max(rows::from_mitre(*across, cut.degrees(), row.size)),
            });
            let laps = [0, 1].map(|at: usize| piece.laps[at].max(Length::ZERO));
            let (marks, left_out) = rows::on_piece(rule, piece.start, piece.length, Clear { ends, laps }, fixing);
            (row.marks, row.left_out) = (marks, left_out);
            if fixing {
                slots(&mut row, piece.fixed, moves);
            }
            row
        });
        rows.collect()
    }
}

/// The hole nearest to the fixed point stays round, all others become slots as long as they slide.
fn slots(row: &mut PieceRow, fixed: Option<Length>, moves: Option<(f64, f64)>) {
    let Some(fixed) = fixed else { return };
    let nearest = row.marks.iter().map(|mark| mark.at).min_by_key(|&at| ((at - fixed).abs(), at));
    let Some(nearest) = nearest else { return };
    for mark in &mut row.marks {
        mark.fixed = mark.at == nearest;
        let needed = moves.map(|(expansion, kelvins)| lengths::slot(row.size, expansion, mark.at - nearest, kelvins));
        mark.slot = if mark.fixed { None } else { needed };
    }
}

fn rule_words(row: &HoleRow) -> String {
    let end = row.end_distance.map_or_else(String::new, |end| format!(", {} from the ends at least", display::mm(end)));
    match (row.on, row.between, row.first, row.spacing) {
        (Some(what), ..) => format!("on {what}{end}"),
        (_, Some(what), ..) => format!("in the middle between {what}"),
        (_, _, Some(first), Some(spacing)) => {
            format!("first {} from the left end of the line, then every {}", display::mm(first), display::mm(spacing))
        }
        (_, _, _, Some(spacing)) => format!("both ends alike, at most {} apart{end}", display::mm(spacing)),
        _ => "spacing not said".to_owned(),
    }
}

/// From the long edge to the middle of a leg, or of the face width.
fn across(product: Option<&Product>, leg: Option<&str>) -> Length {
    let Some(product) = product else { return Length::ZERO };
    let of_leg = match leg {
        Some("back") => product.legs.first(),
        Some("floor") => product.legs.get(1),
        Some("face") => product.legs.get(2).or(product.legs.first()),
        _ => None,
    };
    of_leg.copied().or(product.width).map_or(Length::ZERO, |width| width / 2)
}

fn role(part: &str, run: &str) -> Role {
    match (part, run) {
        (_, "head") => Role::Head,
        (_, "jamb") => Role::Jamb,
        (_, "sill") => Role::Sill,
        (_, "rake") => Role::Rake,
        (_, "corner" | "left" | "right") => Role::Corner,
        ("coping", _) => Role::Coping,
        (_, "base" | "step") => Role::Base,
        (_, "top" | "underside") => Role::Frieze,
        _ => Role::Edge,
    }
}

/// Where a strip or stud crosses a line, along it.
fn place_along(line: Segment, support: Support) -> Place {
    let (from, to) = (along(line, line.from), along(line, line.to));
    let along = |length: Length| line.length().scale(length.0, (to - from).0.max(1));
    Place { at: along(support.centre - from), half: along(support.half) }
}

/// A line as it is walked: away from one of its ends, or up to it; in millimetres.
fn walked(line: Segment, at: Point, away: bool) -> (f64, f64) {
    let forward = (line.from == at) == away;
    let vector = if forward { line.vector() } else { line.reversed().vector() };
    (vector.dx.as_mm(), vector.dy.as_mm())
}

fn along(line: Segment, point: Point) -> Length {
    holes::along(line, point)
}

/// Degrees from level.
fn slope_of(line: Segment) -> f64 {
    let run = line.vector();
    libm::atan2(run.dy.abs().as_mm(), run.dx.abs().as_mm()).to_degrees()
}

/// Longer (or shorter) at both ends.
fn longer(line: Segment, by: [Length; 2]) -> Segment {
    let [first, last] = by;
    let length = line.length();
    if length <= Length::ZERO || (first == Length::ZERO && last == Length::ZERO) {
        return line;
    }
    let vector = line.vector();
    let step = |point: Point, by: Length| {
        Point::new(point.x + vector.dx.scale(by.0, length.0), point.y + vector.dy.scale(by.0, length.0))
    };
    Segment::new(step(line.from, -first), step(line.to, last))
}
