//! The tables of the layout: one piece, one strip, one height, one hole a row.

use crate::emit::table::{Cell, Kind, Table, column};
use crate::layout::story_pole::Pole;
use crate::layout::trims::{Cut, Mark, Template, TrimPiece, Trims};
use crate::layout::{base_line, furring_map};
use crate::model::FaceId;
use crate::plan::StripPurpose;
use crate::session::Checked;
use crate::units::{Length, System, display};

/// To 0.5 mm, each mark for itself: what a pencil can do.
pub(super) fn marked(length: Length) -> Length {
    Length(500_000) * length.scale(1, 500_000).0
}

/// A mark in both units, the leading one first: millimetres to 0.5, inches to 1/16, each rounded for itself.
pub(super) fn figures(length: Length, lead: System) -> (String, String) {
    let (metric, inches) = (display::mm_figure(marked(length)), display::feet_inches(length, display::Tape::Sixteenth));
    match lead {
        System::Metric => (metric, inches),
        System::Imperial => (inches, metric),
    }
}

/// The mark with its hand, as it is written on the piece.
pub(super) fn mark(piece: &TrimPiece) -> String {
    format!("{}{}", piece.mark, piece.hand.map_or("", |hand| hand.letter()))
}

/// `square`, `plumb 2.9°`, `mitre 45°`.
pub(super) fn cut(cut: Cut) -> String {
    match cut {
        Cut::Square => "square".to_owned(),
        Cut::Plumb(angle) => format!("plumb {angle:.1}°"),
        Cut::Mitre(angle) => format!("mitre {angle:.1}°"),
        Cut::Bevel(angle) => format!("bevel {angle:.1}° round the corner"),
    }
}

fn face_name(checked: &Checked, face: FaceId) -> String {
    checked.model.face(face).map_or_else(String::new, |face| face.name.clone())
}

/// Lengths of trim of a face.
pub(super) fn trims(checked: &Checked, made: &Trims, face: FaceId) -> Table {
    let name = face_name(checked, face);
    let columns = vec![
        column("done", "cut", Kind::Tick),
        column("mark", "mark", Kind::Mark),
        column("length", "length", Kind::Length),
        column("left_end", "left or lower end", Kind::Text),
        column("right_end", "right or upper end", Kind::Text),
        column("what", "what, from", Kind::Text),
        column("place", "on", Kind::Text),
    ];
    let mut table =
        Table::new(format!("trims_{name}"), format!("Trims to cut, {} wall", name.replace('_', " ")), columns)
            .note("lengths to the long point, left and right as seen from outside, angles from a square cut")
            .note(format!(
                "gaps are left for {:.0} °C unless a trim says its own day; see the card of gaps for others",
                made.surface
            ));
    for piece in made.list.iter().filter(|piece| piece.face == face) {
        table.row([
            Cell::Nothing,
            mark(piece).into(),
            marked(piece.length).into(),
            cut(piece.ends[0].cut).into(),
            cut(piece.ends[1].cut).into(),
            format!("{}, {}", piece.role.words(), piece.item).into(),
            piece.run.split_once('.').map_or(piece.run.as_str(), |(_, place)| place).into(),
        ]);
    }
    table
}

/// `round 4.5`, `slot 4.5 × 9`, with what else to know.
pub(super) fn hole_words(size: Length, slot: Option<Length>, mark: &Mark) -> String {
    let shape = match mark.slot.or(slot) {
        Some(slot) => format!("slot {} × {}", display::mm_figure(size), display::mm_figure(slot)),
        None => format!("round {}", display::mm_figure(size)),
    };
    let fixed = if mark.fixed { ", fixed point" } else { "" };
    format!("{shape}{fixed}{}", if mark.paired { ", drill both lengths" } else { "" })
}

/// Every hole of every piece.
pub(super) fn holes(made: &Trims) -> Table {
    let columns = vec![
        column("mark", "mark", Kind::Mark),
        column("row", "row", Kind::Text),
        column("leg", "leg", Kind::Text),
        column("number", "number", Kind::Count),
        column("at", "from left or lower end", Kind::Length),
        column("hole", "hole", Kind::Text),
    ];
    let mut table = Table::new("holes", "Holes of all trims", columns)
        .note("from the left (or lower) end of each piece, to the long point; every mark is rounded for itself");
    for piece in &made.list {
        for row in &piece.rows {
            for (at, hole) in row.marks.iter().enumerate() {
                table.row([
                    mark(piece).into(),
                    row.purpose.into(),
                    row.leg.unwrap_or("").into(),
                    (at as u64 + 1).into(),
                    marked(hole.at).into(),
                    hole_words(row.size, row.slot, hole).into(),
                ]);
            }
        }
    }
    table
}

/// Which pieces each template serves.
pub(super) fn bench(_: &Checked, made: &Trims, templates: &[Template]) -> Vec<Table> {
    let columns = vec![
        column("done", "drilled", Kind::Tick),
        column("template", "template", Kind::Mark),
        column("piece", "piece", Kind::Mark),
        column("start", "its left end at", Kind::Length),
        column("end", "its right end at", Kind::Length),
        column("holes", "holes", Kind::Count),
        column("item", "of", Kind::Text),
    ];
    let mut table = Table::new("bench_templates", "Bench templates", columns)
        .note("a template is one piece with its marks: lay the others on it with their left (or lower) end where the row says")
        .note("drill only what lies on the piece; fixed points and slots are in the sheet of holes");
    for template in templates.iter().filter(|template| template.serves.len() > 1) {
        let Some(base) = made.list.get(template.base) else { continue };
        for &(at, start) in &template.serves {
            let Some(piece) = made.list.get(at) else { continue };
            table.row([
                Cell::Nothing,
                mark(base).into(),
                mark(piece).into(),
                marked(start).into(),
                marked(start + piece.length).into(),
                (piece.hole_count() as u64).into(),
                piece.item.clone().into(),
            ]);
        }
    }
    vec![table]
}

/// Strips of a face.
pub(super) fn furring(checked: &Checked, face: FaceId) -> Table {
    let name = face_name(checked, face);
    let columns = vec![
        column("done", "up", Kind::Tick),
        column("mark", "mark", Kind::Mark),
        column("centre", "middle at", Kind::Length),
        column("length", "length", Kind::Length),
        column("foot", "foot at", Kind::Length),
        column("ends", "ends°", Kind::Text),
        column("note", "note", Kind::Text),
    ];
    let title = format!("Furring, {} wall", name.replace('_', " "));
    let mut table = Table::new(format!("furring_{name}"), title, columns)
        .note("middles from the left end of the wall as seen from outside (from the foot, for strips that lie); feet above the datum");
    table.notes.extend(studs_and_screws(checked, face));
    for piece in furring_map::of_face(&checked.model, &checked.plan, face) {
        let ends = piece.ends.map(|end| end.from_square.abs());
        let ends = if ends.iter().all(|angle| *angle < 0.05) {
            "square".to_owned()
        } else {
            format!("{:.1}, {:.1}", ends[0], ends[1])
        };
        table.row([
            Cell::Nothing,
            piece.mark.clone().into(),
            marked(piece.centre).into(),
            marked(piece.length).into(),
            marked(piece.from).into(),
            ends.into(),
            notes(&piece).into(),
        ]);
    }
    table
}

fn notes(piece: &furring_map::FurringPiece) -> String {
    let why = match piece.purpose {
        StripPurpose::Regular => "",
        StripPurpose::Corner => "corner",
        StripPurpose::Jamb => "jamb",
        StripPurpose::Joint => "joint",
        StripPurpose::Block => "block",
    };
    let spliced: Vec<String> = piece.spliced.iter().map(|length| display::mm_figure(*length)).collect();
    let mut words = vec![why.to_owned()];
    if piece.doubled {
        words.push("double".to_owned());
    }
    if !spliced.is_empty() {
        words.push(format!("splice {}", spliced.join(" + ")));
    }
    words.retain(|word| !word.is_empty());
    words.join(", ")
}

/// Where the studs start, which screws, and shims.
pub(super) fn studs_and_screws(checked: &Checked, face: FaceId) -> Vec<String> {
    let model = &checked.model;
    let mut words: Vec<String> = Vec::new();
    let areas = model.face(face).map(|face| face.areas.as_slice()).unwrap_or_default();
    for assembly in areas.iter().filter_map(|area| model.assembly(area.assembly)) {
        let stud = match assembly.frame() {
            Some((_, frame)) => match (frame.marks.is_empty(), frame.first) {
                (false, _) => "studs where they were measured".to_owned(),
                (true, Some(first)) => format!(
                    "studs: near edge of the second at {} from the left end",
                    display::both(first, model.project.units)
                ),
                (true, None) => {
                    "where the first stud stands is not said: find it before you trust these marks".to_owned()
                }
            },
            None => "no frame is said".to_owned(),
        };
        words.push(stud);
        words.extend(screws(checked, assembly));
    }
    words.push(
        "shim at each screw until the straightedge lies flat; the gap that is left must stay as deep as it was drawn"
            .to_owned(),
    );
    let mut seen = std::collections::BTreeSet::new();
    words.retain(|word| seen.insert(word.clone()));
    words
}

fn screws(checked: &Checked, assembly: &crate::model::Assembly) -> Option<String> {
    let model = &checked.model;
    let gap = assembly.layers.iter().position(|layer| matches!(layer.kind, crate::model::LayerKind::Gap(_)))?;
    let (layer, gap_of) = assembly.gap()?;
    let furring = gap_of.furring.first()?;
    let frame = assembly.frame()?.0;
    let behind = model.thickness_between(assembly, gap, frame)?;
    let fasten = furring.fasten.as_ref().or(layer.fasten.as_ref());
    let sold = fasten.and_then(|fasten| model.product(fasten.product)).map(|product| product.lengths.clone());
    let wanted = furring_map::screw(&[furring.thickness, behind], furring_map::PENETRATION, &sold.unwrap_or_default());
    let sum = format!(
        "{} furring + {} behind it + {} in the stud",
        display::mm_figure(furring.thickness),
        display::mm_figure(behind),
        display::mm_figure(furring_map::PENETRATION)
    );
    let wanted = wanted.map_or_else(|| "longer than any that is sold".to_owned(), display::mm);
    let said = fasten
        .and_then(|fasten| fasten.length)
        .map_or_else(String::new, |length| format!("; {} is said", display::mm(length)));
    Some(format!("screws: {sum}: {wanted}{said}"))
}

/// The base of a face.
pub(super) fn base(checked: &Checked, face: FaceId) -> Table {
    let name = face_name(checked, face);
    let columns = vec![
        column("done", "set", Kind::Tick),
        column("edge", "edge", Kind::Mark),
        column("along", "from left end", Kind::Length),
        column("height", "base line at", Kind::Length),
        column("grade", "ground at", Kind::Length),
        column("clear", "clear", Kind::Length),
    ];
    let title = format!("Base line, {} wall", name.replace('_', " "));
    let mut table = Table::new(format!("base_line_{name}"), title, columns)
        .note("heights above the datum, the ground as it will be in the end; places from the left end of the wall seen from outside");
    let Some(face) = checked.model.face(face) else { return table };
    for line in base_line::of_face(face) {
        let slope = match line.slope {
            None => "an upright step".to_owned(),
            Some(slope) if slope.abs() < 1e-9 => "level".to_owned(),
            Some(slope) => format!(
                "{} to the right: {:.1} mm in a metre, {}, {:.2} in 12, low end {}",
                if slope > 0.0 { "rises" } else { "falls" },
                slope.abs() * 1000.0,
                display::slope_degrees(slope.abs()),
                slope.abs() * 12.0,
                if slope > 0.0 { "left" } else { "right" }
            ),
        };
        let least = line.marks.iter().filter_map(|mark| mark.clear).min();
        let least = least.map_or_else(String::new, |least| {
            format!("; least clear {}", display::both(least, checked.model.project.units))
        });
        let keep = line
            .keep
            .map_or_else(String::new, |keep| format!(", to keep {}", display::both(keep, checked.model.project.units)));
        table.notes.push(format!("{}: {slope}{least}{keep}", line.name));
        for mark in &line.marks {
            table.row([
                Cell::Nothing,
                line.name.clone().into(),
                marked(mark.along).into(),
                marked(mark.height).into(),
                mark.grade.map(marked).into(),
                mark.clear.map(marked).into(),
            ]);
        }
    }
    for trim in face.trims.iter().filter(|trim| trim.low_end.is_some()) {
        table.notes.push(format!("low end of {}: {}", trim.name, trim.low_end.unwrap_or("")));
    }
    table
}

/// Level, stepped and raked base of a face, beside each other; no rows where its ground is level or not known.
pub(super) fn base_choices(checked: &Checked, face: FaceId) -> Table {
    let name = face_name(checked, face);
    let columns = vec![
        column("way", "base", Kind::Mark),
        column("left", "left end at", Kind::Length),
        column("right", "right end at", Kind::Length),
        column("least", "least clear", Kind::Length),
        column("most", "most clear", Kind::Length),
        column("what", "what it asks for", Kind::Text),
    ];
    let title = format!("Ways to build the base, {} wall", name.replace('_', " "));
    let mut table = Table::new(format!("base_choices_{name}"), title, columns)
        .note("each as low as the clearance allows over the ground as it will be in the end; heights above the datum");
    let Some((on, placed)) = checked.model.face(face).zip(checked.plan.face(face)) else { return table };
    let built: Vec<&str> = on.edges.iter().filter(|edge| edge.kind == "step").map(|_| "stepped").collect();
    let slopes = on.edges.iter().any(|edge| edge.kind == "base" && !edge.segment.is_horizontal());
    let built = if slopes { "raked" } else { built.first().copied().unwrap_or("level") };
    let width = placed.outline.bounds().map_or(Length::ZERO, |bounds| bounds.width());
    // Ground that falls less than a course over the wall asks for no step.
    let all = base_line::choices(on, placed.course_start.zip(placed.exposure));
    for choice in all.into_iter().filter(|choice| choice.way != "stepped" || choice.steps > 0) {
        let mut words = Vec::new();
        if choice.way == built {
            words.push("this way is declared".to_owned());
        }
        words.push(match (choice.way, choice.steps) {
            ("level", _) => "drains all along; foundation is seen where the ground falls".to_owned(),
            ("stepped", steps) => format!(
                "steps of one course: {steps}, each with an upright closure and an end dam; level lines that drain all along: {}",
                choice.outlets
            ),
            _ => "the low end open, an exit in every bay, strips cut on the slope".to_owned(),
        });
        if let Some((courses, long)) = choice.feathers {
            let long = if long < width {
                format!("{} long", display::both(long, checked.model.project.units))
            } else {
                "along the whole wall".to_owned()
            };
            words.push(format!("courses cut to a feather {long}: {courses}"));
        }
        table.row([
            choice.way.into(),
            marked(choice.ends[0]).into(),
            marked(choice.ends[1]).into(),
            marked(choice.clear[0]).into(),
            marked(choice.clear[1]).into(),
            words.join("; ").into(),
        ]);
    }
    table
}

/// The marks of a story pole.
pub(super) fn pole(checked: &Checked, pole: &Pole, at: usize) -> Table {
    let columns = vec![
        column("done", "marked", Kind::Tick),
        column("mark", "from foot of pole", Kind::Length),
        column("course", "course", Kind::Count),
        column("what", "what comes there", Kind::Text),
        column("height", "above datum", Kind::Length),
    ];
    let id = if at == 0 { "story_pole".to_owned() } else { format!("story_pole_{}", at + 1) };
    let mut table = Table::new(id, format!("Story pole, {}", walls(checked, pole)), columns);
    table.notes = pole_notes(checked, pole);
    for mark in &pole.marks {
        let course = mark.course.and_then(|course| u64::try_from(course).ok());
        let from = marked(pole.from_foot(mark.height));
        table.row([
            Cell::Nothing,
            from.into(),
            course.into(),
            mark.what.join(" · ").into(),
            marked(mark.height).into(),
        ]);
    }
    table
}

/// `all walls`, or their names.
pub(super) fn walls(checked: &Checked, pole: &Pole) -> String {
    if pole.faces.len() == checked.model.faces.len() {
        return "all walls".to_owned();
    }
    pole.faces.iter().map(|face| face.replace('_', " ")).collect::<Vec<_>>().join(", ")
}

/// How a pole is held and what its courses are.
pub(super) fn pole_notes(checked: &Checked, pole: &Pole) -> Vec<String> {
    let both = |length: Length| display::both(length, checked.model.project.units);
    let mut notes = vec![format!(
        "marks from the foot of the pole, {} the datum (foot of {}); each is rounded for itself, in both units",
        match pole.foot {
            foot if foot < Length::ZERO => format!("{} under", both(-foot)),
            foot if foot > Length::ZERO => format!("{} over", both(foot)),
            _ => "at".to_owned(),
        },
        pole.lowest.replace('_', " ")
    )];
    if let Some((start, exposure)) = pole.courses {
        notes.push(format!("courses of {}, a course line {} from the datum", both(exposure), both(start)));
    }
    notes.push(
        "hold it to the level line at every corner: marks that differ by more than 3 mm (1/8 in) are set out again"
            .to_owned(),
    );
    notes
}
