//! Changes Heron Lane one edit at a time: what means the same gives the same findings, what harms the wall is found.
#![allow(missing_docs, clippy::expect_used, clippy::unwrap_used, clippy::print_stderr, clippy::type_complexity)]

#[path = "common/folder.rs"]
mod folder;

use std::collections::{BTreeMap, BTreeSet};

use rayon::prelude::*;
use wythe::eval::Date;
use wythe::session::{Settings, check};
use wythe::source::{MapWorld, World};

type Files = BTreeMap<String, String>;
/// Rule, subject, accepted, cannot tell.
type Key = (String, String, bool, bool);

/// One edit: what it does, and the house with it.
struct Mutation {
    name: String,
    files: Files,
    /// A name given anew, and the old one.
    renamed: Option<(String, String)>,
}

fn house() -> Files {
    let folder = folder::folder("examples/heron-lane");
    folder.list().into_iter().map(|name| (name.clone(), folder.read(&name).unwrap().to_string())).collect()
}

/// Mistakes of the text, and the findings, sorted.
fn findings(files: &Files) -> (Vec<String>, Vec<Key>) {
    let world = files.iter().fold(MapWorld::new(), |world, (name, text)| world.with(name, text));
    let settings = Settings { today: Some(Date { year: 2026, month: 12, day: 31 }), ..Settings::default() };
    let checked = check(&world, &["building.wythe".to_owned()], &settings);
    let mut keys: Vec<Key> = checked
        .findings
        .iter()
        .map(|one| {
            let finding = &one.finding;
            (finding.rule.to_owned(), finding.subject.clone(), one.accepted.is_some(), finding.missing.is_some())
        })
        .collect();
    keys.sort();
    (checked.problems.iter().map(|problem| problem.title.clone()).collect(), keys)
}

// ---------------------------------------------------------------- text

fn lines(text: &str) -> Vec<String> {
    text.lines().map(str::to_owned).collect()
}

fn text(lines: &[String]) -> String {
    lines.iter().map(|line| format!("{line}\n")).collect()
}

fn indent(line: &str) -> &str {
    &line[..line.len() - line.trim_start().len()]
}

fn first_word(line: &str) -> &str {
    line.split_whitespace().next().unwrap_or_default()
}

/// The part of a line before its comment; comments of this house stand on lines of their own.
fn is_comment(line: &str) -> bool {
    line.trim_start().starts_with("//")
}

/// Cuts at commas that stand in no quotes and no brackets.
fn cut_at_commas(line: &str) -> Vec<String> {
    let (mut depth, mut quoted, mut pieces) = (0, false, vec![String::new()]);
    for character in line.chars() {
        match character {
            '"' => quoted = !quoted,
            '(' if !quoted => depth += 1,
            ')' if !quoted => depth -= 1,
            ',' if !quoted && depth == 0 => {
                pieces.push(String::new());
                continue;
            }
            _ => {}
        }
        pieces.last_mut().unwrap().push(character);
    }
    pieces.iter().map(|piece| piece.trim().to_owned()).collect()
}

/// Replaces a whole word.
fn replace_word(text: &str, old: &str, new: &str) -> String {
    let word = |character: char| character.is_alphanumeric() || character == '_';
    let mut out = String::new();
    let mut rest = text;
    while let Some(at) = rest.find(old) {
        let before = rest[..at].chars().next_back().or(out.chars().next_back());
        let after = rest[at + old.len()..].chars().next();
        out.push_str(&rest[..at]);
        out.push_str(if before.is_some_and(word) || after.is_some_and(word) { old } else { new });
        rest = &rest[at + old.len()..];
    }
    out + rest
}

/// Every length in millimetres outside quotes, given to a function that writes it anew.
fn map_millimetres(line: &str, write: &dyn Fn(f64) -> String) -> String {
    let mut out = String::new();
    for (index, piece) in line.split('"').enumerate() {
        if index > 0 {
            out.push('"');
        }
        if index % 2 == 1 {
            out.push_str(piece);
            continue;
        }
        let mut rest = piece;
        while let Some(at) = rest.find("mm") {
            let digits = rest[..at].bytes().rev().take_while(|byte| byte.is_ascii_digit() || *byte == b'.').count();
            let mut start = at - digits;
            // `130mm..140mm`: the dots are no part of the number
            while start < at && rest.as_bytes()[start] == b'.' {
                start += 1;
            }
            if start == at {
                out.push_str(&rest[..at + 2]);
            } else {
                out.push_str(&rest[..start]);
                out.push_str(&write(rest[start..at].parse().unwrap()));
            }
            rest = &rest[at + 2..];
        }
        out.push_str(rest);
    }
    out
}

/// First and last line of every block that holds no block.
fn innermost_blocks(lines: &[String]) -> Vec<(usize, usize)> {
    let mut found = Vec::new();
    let mut open = None;
    for (index, line) in lines.iter().enumerate() {
        if line.ends_with('{') {
            open = Some(index);
        } else if line.trim() == "}"
            && let Some(start) = open.take()
        {
            found.push((start, index));
        }
    }
    found
}

/// The house with one file given anew.
fn with(house: &Files, file: &str, name: String, text: String) -> Mutation {
    let mut files = house.clone();
    files.insert(file.to_owned(), text);
    Mutation { name: format!("{file}: {name}"), files, renamed: None }
}

// ---------------------------------------------------------------- harmless

/// The same lengths in other units, all of a file at once; an inch is 127/5 mm, so that the fraction is exact.
fn other_units(house: &Files, all: &mut Vec<Mutation>) {
    let units: [(&str, &dyn Fn(f64) -> String); 3] = [
        ("centimetres", &|value| format!("{}cm", ((value * 10.0).round() as i64) as f64 / 100.0)),
        ("metres", &|value| format!("{}m", ((value * 10.0).round() as i64) as f64 / 10_000.0)),
        ("inches", &|value| format!("{}/1270in", (value * 50.0).round() as i64)),
    ];
    for (file, source) in house {
        for (unit, write) in &units {
            let changed: Vec<String> = lines(source)
                .iter()
                .map(|line| if is_comment(line) { line.clone() } else { map_millimetres(line, write) })
                .collect();
            if text(&changed) != *source {
                all.push(with(house, file, format!("lengths in {unit}"), text(&changed)));
            }
        }
        if source.contains("16in") || source.contains("15-1/4in") {
            let changed = source.replace("15-1/4in", "387.35mm").replace("16in", "406.4mm");
            all.push(with(house, file, "inches in millimetres".to_owned(), changed));
        }
    }
}

/// Declarations of a file from last to first; comments go with what they stand above.
fn reversed_declarations(house: &Files, all: &mut Vec<Mutation>) {
    for (file, source) in house {
        let (mut head, mut chunks, mut waiting, mut depth) = (Vec::new(), Vec::<Vec<String>>::new(), Vec::new(), 0);
        for line in lines(source) {
            depth += line.matches(['{', '(']).count() as i32 - line.matches(['}', ')']).count() as i32;
            let opened = line.clone();
            waiting.push(line);
            if depth > 0 || opened.is_empty() || is_comment(&opened) {
                continue;
            }
            let declared =
                waiting.iter().find(|line| !line.is_empty() && !is_comment(line)).cloned().unwrap_or_default();
            let chunk = std::mem::take(&mut waiting);
            if first_word(&declared) == "wythe" { head = chunk } else { chunks.push(chunk) }
        }
        chunks.reverse();
        let changed: Vec<String> = head.into_iter().chain(chunks.into_iter().flatten()).chain(waiting).collect();
        if text(&changed) != *source {
            all.push(with(house, file, "declarations from last to first".to_owned(), text(&changed)));
        }
    }
}

/// Clauses of a block from last to first, where their order says nothing.
fn reversed_clauses(house: &Files, all: &mut Vec<Mutation>) {
    let free = [
        "site", "project", "window", "door", "pipe", "intake", "hood", "lamp", "furring", "roof", "flashing", "section",
    ];
    let mut seen = BTreeSet::new();
    for (file, source) in house {
        let source = lines(source);
        for (start, end) in innermost_blocks(&source) {
            if !free.contains(&first_word(&source[start])) || !seen.insert(first_word(&source[start]).to_owned()) {
                continue;
            }
            let mut changed = source.clone();
            changed[start + 1..end].reverse();
            all.push(with(house, file, format!("clauses turned round in `{}`", source[start].trim()), text(&changed)));
        }
    }
}

/// Another name for each assembly and detail, through all uses.
fn new_names(house: &Files, all: &mut Vec<Mutation>) {
    for source in house.values() {
        for line in
            source.lines().filter(|line| ["assembly", "detail"].contains(&first_word(line)) && indent(line).is_empty())
        {
            let old: String = line.split_whitespace().nth(1).unwrap().chars().take_while(|one| *one != '(').collect();
            let new = format!("another_{old}");
            let files = house.iter().map(|(file, text)| (file.clone(), replace_word(text, &old, &new))).collect();
            all.push(Mutation { name: format!("`{old}` is called `{new}`"), files, renamed: Some((new, old)) });
        }
    }
}

/// Blocks folded into a line, and lines unfolded into a block.
fn folds(house: &Files, all: &mut Vec<Mutation>) {
    let unfold = [
        "layer",
        "floor_line",
        "base",
        "right",
        "left",
        "top",
        "rake",
        "roof_line",
        "step",
        "ground",
        "between",
        "fasten",
    ];
    let fold = [
        "window", "door", "pipe", "intake", "hood", "lamp", "hose_bib", "spare", "box", "furring", "layer", "roof",
        "site", "project",
    ];
    let (mut unfolded, mut folded) = (BTreeSet::new(), BTreeSet::new());
    for (file, source) in house {
        let source = lines(source);
        for (index, line) in source.iter().enumerate() {
            let pieces = cut_at_commas(line.trim());
            let whole = pieces.len() > 1 && !line.ends_with('{');
            if unfold.contains(&first_word(line)) && whole && unfolded.insert(first_word(line).to_owned()) {
                let space = indent(line);
                let mut changed = source.clone();
                let clauses: String = pieces[1..].iter().map(|piece| format!("{space}    {piece}\n")).collect();
                changed[index] = format!("{space}{} {{\n{clauses}{space}}}", pieces[0]);
                all.push(with(house, file, format!("`{}` as a block", line.trim()), text(&changed)));
            }
        }
        for (start, end) in innermost_blocks(&source) {
            // a clause with clauses of its own cannot stand on the line of another
            let plain = source[start + 1..end].iter().all(|line| is_comment(line) || cut_at_commas(line).len() == 1);
            if fold.contains(&first_word(&source[start]))
                && plain
                && folded.insert(first_word(&source[start]).to_owned())
            {
                let head = source[start].trim_end_matches(['{', ' ']).to_owned();
                let clauses = source[start + 1..end].iter().map(|line| line.trim()).filter(|line| !is_comment(line));
                let line = std::iter::once(head.as_str()).chain(clauses).collect::<Vec<_>>().join(", ");
                let mut changed = source.clone();
                changed.splice(start..=end, [line]);
                all.push(with(house, file, format!("`{}` on one line", source[start].trim()), text(&changed)));
            }
        }
    }
}

/// Comments, blank lines, other ends of lines, other indents. Words that describe a declaration stay next to it.
fn air_in_the_text(house: &Files, all: &mut Vec<Mutation>) {
    let windows = |line: &str| format!("{line}\r\n");
    let indents = |line: &str| format!("{}{line}\n", indent(line));
    let blank = |line: &str| format!("{line}\n{}", if line.starts_with("///") { "" } else { "\n" });
    let under = |line: &str| format!("{line}\n// {{ aside, }}\n");
    let after = |line: &str| {
        let aside = if line.is_empty() || is_comment(line) { "" } else { " // aside, {" };
        format!("{line}{aside}\n")
    };
    let each = |source: &str, change: &dyn Fn(&str) -> String| source.lines().map(change).collect::<String>();
    let everywhere: [(&str, &dyn Fn(&str) -> String); 5] = [
        ("lines ended by two characters", &windows),
        ("twice the indent", &indents),
        ("blank lines", &blank),
        ("a comment under each line", &under),
        ("a comment after each line", &after),
    ];
    for (name, change) in everywhere {
        let files = house.iter().map(|(file, source)| (file.clone(), each(source, change))).collect();
        all.push(Mutation { name: format!("everywhere: {name}"), files, renamed: None });
    }
}

#[test]
fn what_means_the_same_gives_the_same_findings() {
    let house = house();
    let base = findings(&house);
    let mut all = Vec::new();
    for make in [other_units, reversed_declarations, reversed_clauses, new_names, folds, air_in_the_text] {
        make(&house, &mut all);
    }
    let changed: Vec<String> = all
        .par_iter()
        .filter_map(|mutation| {
            let (problems, mut keys) = findings(&mutation.files);
            if let Some((new, old)) = &mutation.renamed {
                keys.iter_mut().for_each(|key| key.1 = replace_word(&key.1, new, old));
                keys.sort();
            }
            let more: Vec<&Key> = keys.iter().filter(|key| !base.1.contains(key)).collect();
            let less: Vec<&Key> = base.1.iter().filter(|key| !keys.contains(key)).collect();
            (problems != base.0 || keys != base.1)
                .then(|| format!("{}\n    problems {problems:?}\n    more {more:?}\n    less {less:?}", mutation.name))
        })
        .collect();
    eprintln!("{} harmless edits, {} of them changed the findings", all.len(), changed.len());
    assert!(all.len() >= 80, "only {} harmless edits", all.len());
    assert!(changed.is_empty(), "{}", changed.join("\n"));
}

// ---------------------------------------------------------------- harmful

/// Faces, walls and the building: each line that can be dropped or spoilt, with what it becomes; empty is dropped.
fn spoilt_lines(house: &Files, all: &mut Vec<Mutation>) {
    let dropped = [
        "point",
        "fasten",
        "end_dams",
        "drip",
        "also",
        "controls water",
        "seam",
        "holes weep",
        "lap",
        "lapped",
        "joint_gap",
        "ends",
        "applied",
        "stops",
        "held_up",
        "first",
        "fall",
        "stem",
        "measured",
        "low_end",
        "keep",
        "surface",
    ];
    let spoilt = [
        ("slope 15deg", "slope 1%"),
        ("lapped upper_over_lower", "lapped lower_over_upper"),
        ("lap 150mm", "lap 60mm"),
        ("screws.structural 6mm x 140mm", "screws.structural 6mm x 80mm"),
        ("screws.stainless_facade 4.8mm x 140mm", "screws.stainless_facade 4.8mm x 80mm"),
        ("screws.stainless_facade 4.8mm x 140mm, into studs", "screws.stainless_facade 4.8mm x 140mm, into sheathing"),
        ("every 16in on centre", "every 17in on centre"),
        ("every 16in on centre", "every 16in on centre, first 9in"),
        ("first 15-1/4in", "first 11in"),
        ("vertical", "horizontal"),
        ("gap cavity 19mm ventilated {", "gap cavity 4mm ventilated {"),
        ("stem 450mm", "stem 250mm"),
        ("gap 6mm", "gap 1mm"),
        ("measured to sheathing", "measured to frame"),
        ("seal to air", "seal to trim"),
        ("seal to air", "seal to cladding"),
        ("holes weep 8mm, leg floor, between furring", "holes weep 8mm, leg floor, every 16in on centre, first 420mm"),
        ("screws.stainless 4.5mm x 50mm, into furring", "screws.galvanised 4.5mm x 50mm, into furring"),
        ("screws.stainless_facade 4.8mm x 140mm, into studs", "screws.plated 4.5mm x 60mm, into furring"),
        ("gives exit and inlet and outlet", ""),
        ("fall 2%", "fall -2%"),
        ("seal collar", "seal none"),
        ("bulge 2mm", "bulge 15mm"),
        ("joint_gap 3mm", "joint_gap 0mm"),
        ("low_end open", "low_end closed"),
        (", air concrete", ""),
        (", air ceiling_membrane", ""),
    ];
    for (file, source) in house {
        let source = lines(source);
        for (index, line) in source.iter().enumerate().filter(|(_, line)| !indent(line).is_empty() && !is_comment(line))
        {
            let mut edit = |name: String, new: Option<String>| {
                // the frame says where its first stud stands already
                if name.contains("first 9in") && source.get(index + 1).is_some_and(|next| first_word(next) == "first") {
                    return;
                }
                let mut changed = source.clone();
                changed.splice(index..=index, new);
                all.push(with(house, file, format!("{}: {name}", index + 1), text(&changed)));
            };
            let plain = line.trim();
            if dropped.iter().any(|word| plain.strip_prefix(word).is_some_and(|rest| rest.starts_with(' ')))
                && !plain.ends_with('{')
            {
                edit(format!("no `{plain}`"), None);
            }
            for clause in
                cut_at_commas(plain).iter().skip(1).filter(|clause| ["detail", "point"].contains(&first_word(clause)))
            {
                edit(format!("`{plain}` without `{clause}`"), Some(line.replace(&format!(", {clause}"), "")));
            }
            for (old, new) in spoilt.iter().filter(|(old, _)| {
                old.starts_with(',') && plain.contains(old) || format!(" {plain}").contains(&format!(" {old}"))
            }) {
                edit(format!("`{old}` is `{new}`"), Some(line.replace(old, new)));
            }
        }
    }
}

/// Openings and services: all that says how one of them is sealed, or brought out, is dropped.
fn spoilt_holes(house: &Files, all: &mut Vec<Mutation>) {
    let kinds = ["window", "door", "pipe", "intake", "hood", "lamp", "hose_bib", "spare", "box"];
    for (file, source) in house {
        let source = lines(source);
        for (start, end) in
            innermost_blocks(&source).into_iter().filter(|(start, _)| kinds.contains(&first_word(&source[*start])))
        {
            let opening = ["window", "door"].contains(&first_word(&source[start]));
            let drop = |words: &[&str]| {
                let mut changed = source.clone();
                let said = |line: &String| words.contains(&first_word(line));
                let kept: Vec<String> = source[start..end].iter().filter(|line| !said(line)).cloned().collect();
                changed.splice(start..end, kept);
                with(house, file, format!("`{}` without {words:?}", source[start].trim()), text(&changed))
            };
            if opening {
                all.push(drop(&["detail"]));
            } else {
                all.push(drop(&["detail", "seal"]));
                let mut changed = source.clone();
                changed.insert(end, "sealed to cladding".to_owned());
                all.push(with(
                    house,
                    file,
                    format!("`{}` sealed to the cladding", source[start].trim()),
                    text(&changed),
                ));
            }
            if source[start..end].iter().any(|line| first_word(line) == "collar_length") {
                all.push(drop(&["reaches", "collar_length"]));
            }
        }
    }
    let strip = |files: &mut Files, file: &str, old: &str, new: &str| {
        let source = files.get_mut(file).unwrap();
        assert!(source.contains(old), "{file} has no `{old}`");
        *source = source.replace(old, new);
    };
    // an opening is sealed by its own word and by its detail on each side: both have to go
    for (detail, like) in [("window", "flashed_window_on_furring"), ("door", "flashed_door_on_furring")] {
        let mut files = house.clone();
        let like = format!("like details.{like}(depth = 95mm)\n");
        let open = "without air\nhead {\nwithout air\n}\njamb {\nwithout air\n}\nsill {\nwithout air\n}\n";
        strip(&mut files, "details.wythe", &like, &format!("{like}{open}"));
        for source in files.values_mut() {
            *source = source.replace("seal to air\n", "\n");
        }
        all.push(Mutation { name: format!("no {detail} is sealed"), files, renamed: None });
    }
    // trims on the furring want two head flashings
    for detail in ["window", "door"] {
        let mut files = house.clone();
        strip(
            &mut files,
            "details.wythe",
            &format!("flashed_{detail}_on_furring(depth = 95mm)"),
            &format!("flashed_{detail}"),
        );
        all.push(Mutation { name: format!("one head flashing at each {detail}"), files, renamed: None });
    }
    // the diverter is said three times: by the roof, by the line and by the point
    let mut files = house.clone();
    strip(&mut files, "east.wythe", "kick_out flashings.aluminium_coil 120mm\n", "\n");
    strip(&mut files, "east.wythe", "            point lean_kick_out\n", "");
    strip(&mut files, "details.wythe", "(clear = 75mm)\n", "(clear = 75mm)\n    without kick_out\n");
    all.push(Mutation { name: "nothing turns the water of the lean roof out".to_owned(), files, renamed: None });
    // the top is shut, and the strips run through, so that no bay breathes sideways past the windows
    for (detail, like) in [("house_eave", "eave"), ("house_rake", "rake_outlet")] {
        let mut files = house.clone();
        let like = format!("like details.{like}\n");
        strip(
            &mut files,
            "details.wythe",
            &like,
            &format!("{like}    without gap_end\n    without gives\n    gap_end closed\n"),
        );
        strip(&mut files, "assemblies.wythe", "            stops 25mm\n", "");
        strip(&mut files, "assemblies.wythe", "            held_down 15mm\n", "");
        all.push(Mutation { name: format!("`{detail}` closed, strips unbroken"), files, renamed: None });
    }
}

/// Coordinates `(x, y)` of a line of an outline.
fn corner(line: &str) -> Option<&str> {
    Some(&line[line.find('(')?..=line.find(')')?])
}

/// A corner 150 mm lower.
fn lowered(corner: &str) -> String {
    let (x, y) = corner.trim_matches(['(', ')']).split_once(", ").unwrap();
    format!("({x}, {}mm)", y.trim_end_matches("mm").parse::<i64>().unwrap() - 150)
}

/// Every base 150 mm lower, and the ground under every face 150 mm higher.
fn levels(house: &Files, all: &mut Vec<Mutation>) {
    for (file, source) in house.iter().filter(|(_, source)| source.contains("outline from")) {
        let source = lines(source);
        let is_base = |line: &&String| first_word(line) == "base" && line.contains(" to (");
        let bases: Vec<usize> = (0..source.len()).filter(|index| is_base(&&source[*index])).collect();
        for base in bases {
            let ends: Vec<&str> = [base - 1, base].iter().filter_map(|index| corner(&source[*index])).collect();
            let change = |line: &String| {
                let found = corner(line)
                    .filter(|corner| ends.contains(corner) && (line.contains(" to (") || line.contains("from (")));
                found.map_or(line.clone(), |corner| line.replacen(corner, &lowered(corner), 1))
            };
            let changed: Vec<String> = source.iter().map(change).collect();
            all.push(with(house, file, format!("`{}` is 150 mm lower", source[base].trim()), text(&changed)));
        }
        let mut changed = source.clone();
        let at = changed.iter().position(|line| first_word(line) == "ground").unwrap();
        let raise = |level: &str| format!("{}mm", level.trim_end_matches("mm").parse::<i64>().unwrap() + 150);
        for line in &mut changed[at..at + 2] {
            let levels: BTreeSet<String> = line
                .split([' ', '(', ')', ','])
                .filter(|word| word.starts_with('-') && word.ends_with("mm"))
                .map(str::to_owned)
                .collect();
            let marked = levels.iter().fold(line.clone(), |line, level| line.replace(level, &format!("@{level}")));
            *line = levels.iter().fold(marked, |line, level| line.replace(&format!("@{level}"), &raise(level)));
        }
        all.push(with(house, file, "the ground is 150 mm higher".to_owned(), text(&changed)));
    }
}

/// Details of the house, each spoilt by a line under its `like`.
fn spoilt_details(house: &Files, all: &mut Vec<Mutation>) {
    let file = "details.wythe";
    let source =
        lines(&house[file].replace("use std.details\n", "use std.details\nuse std.flashings\nuse std.screws\n"));
    let mut spoil = |detail: &str, name: &str, more: &str| {
        let at = source.iter().position(|line| line == &format!("detail {detail} {{")).unwrap();
        let mut changed = source.clone();
        changed.insert(at + 2, more.to_owned());
        all.push(with(house, file, format!("`{detail}`: {name}"), text(&changed)));
    };
    for line in source.iter().filter(|line| first_word(line) == "detail") {
        let detail = line.split_whitespace().nth(1).unwrap();
        // what wraps or flaps carries the barrier by its laps as well: it goes too
        let more = match detail {
            "house_corner" | "garden_nook" | "step_point" | "lean_kick_out" | "lean_head" => "\n    without membrane",
            "lake_shelf" => "\n    without flap",
            // sealed by `seal` of the hole itself, or by the opening's: `spoilt_holes`
            "house_window" | "house_door" | "pipe_hole" | "box_hole" | "dryer_hole" | "intake_hole" | "tap_block" => {
                continue;
            }
            // the membrane outside the sheathing passes the floor without a joint
            "floor_joint" => continue,
            _ => "",
        };
        spoil(detail, &format!("no `air seals to`{}", more.replace("\n   ", ",")), &format!("    without air{more}"));
        if !more.is_empty() {
            spoil(detail, "no `air seals to` alone", "    without air");
        }
    }
    for detail in ["house_base", "sloping_base", "house_eave", "house_rake", "lean_roof"] {
        spoil(detail, "`gap_end closed`", "    without gap_end\n    gap_end closed");
        spoil(detail, "no way in or out", "    without gives\n    without gap_end\n    gap_end closed");
    }
    for detail in ["house_base", "sloping_base"] {
        spoil(detail, "boards bedded on the flashing", "    part flashing, holds_up 0mm");
        let knot = "    part membrane, laps over flashing by 50mm\n    part flashing, laps over membrane by 50mm";
        spoil(detail, "each laps over the other", knot);
    }
    for detail in ["house_eave", "house_rake"] {
        spoil(detail, "opens into the roof", "    without gap_end\n    gap_end open 10mm, joins roof");
    }
    for detail in ["lake_shelf", "floor_joint"] {
        spoil(
            detail,
            "`gap_end closed`",
            "    without gap_end\n    gap_end closed to lower\n    gap_end closed to upper",
        );
    }
    let copper =
        "part flashing flashings.copper {\nfasten screws.galvanised 4.5mm x 40mm, into sheathing, every 400mm\n}";
    for detail in ["house_base", "sloping_base", "lake_shelf", "floor_joint"] {
        spoil(detail, "slope 1 %", "    part flashing, slope 1%");
        spoil(detail, "no drip", "    part flashing, without drip");
        spoil(detail, "no end dams", "    part flashing, without end_dams");
        spoil(detail, "no `laps`", "    part flashing, without laps");
        spoil(detail, "over the membrane", "    part flashing, without laps, laps over water by 75mm");
        spoil(detail, "no `fasten`", "    part flashing, without fasten");
        spoil(detail, "zinc in copper", &format!("    {copper}"));
        spoil(detail, "no flashing", "    without flashing");
    }
    for detail in ["house_window", "house_door"] {
        for (name, more) in [
            ("head slope 1 %", "head {\n part flashing, slope 1%\n}"),
            ("head without drip", "head {\n part flashing, without drip\n}"),
            ("head without end dams", "head {\n part flashing, without end_dams\n}"),
            ("head without flashing", "head {\n without flashing\n}"),
            ("pan without back dam", "sill {\n part pan, without back_dam\n}"),
            ("pan without end dams", "sill {\n part pan, without end_dams\n}"),
            ("pan flat", "sill {\n part pan, slope 0%\n}"),
            ("no pan", "sill {\n without pan\n}"),
            ("jamb strip under the sill", "jamb {\n part membrane, without laps, laps under sill by 100mm\n}"),
        ] {
            spoil(detail, name, more);
        }
        spoil(detail, "zinc in a copper head", &format!("head {{\n{copper}\n}}"));
    }
}

/// Edits that do no harm where they stand, by a part of their name, each with the reason. Not counted.
const TRULY_HARMLESS: &[(&str, &str)] = &[
    ("140mm, into sheathing`", "the screw goes through the whole plywood, which holds it, and on into the stud"),
    (
        "`intake fresh_air 150mm at (8500mm, 1620mm) {` without [\"reaches\"",
        "its sleeve still stands out; its air is dry",
    ),
    ("`lake_shelf`: no `air seals to`, without flap", "one membrane on one sheathing passes behind the shelf"),
    ("`sloping_base`: `gap_end closed`", "the channel along it still has weeps in every bay and an open low end"),
    ("`sloping_base`: no way in or out", "the same channel"),
    (
        "`house_eave`: `gap_end closed`",
        "strips stop short, so that bays breathe sideways to the sills; unbroken ones are tried",
    ),
    ("`house_eave`: no way in or out", "the same"),
    ("`floor_joint`: `gap_end closed`", "each storey still has its own foot, top and openings to breathe by"),
    ("`sloping_base`: no flashing", "the channel along it throws the water clear"),
    ("heat_cuts.wythe: ", "a plane cut reckons heat and builds nothing: a point only asks for its temperature"),
];

/// Edits that no rule finds yet, by a part of their name, each with the reason. A new miss fails, and so does one found since.
const KNOWN_MISSES: &[(&str, &str)] = &[
    ("no `lapped upper_over_lower`", "its length stays; the order is asked only where neither is said"),
    ("no `joint_gap 3mm`", "the product says how wide its joints are; no rule wants it written on the layer"),
    ("no `stops 25mm`", "the bays have openings of their own at heads and sills; nothing wants the breathing sideways"),
    ("no `held_up 10mm`", "nothing wants the foot of a strip clear of the flashing where it is not said"),
    (
        "no `first 15-1/4in`",
        "without a first mark the studs are taken from the left end; nothing asks whether that is so",
    ),
    ("no `surface soil`", "clearances are the same on soil, and nothing asks what the ground is"),
    ("no `stem 450mm`", "its seat is said as well"),
    ("no `holes weep 8mm, leg floor, between furring, lip 0mm`", "the channel still has an open low end"),
    ("no `air seals to` alone", "a sheet of the detail goes round by its laps and carries the barrier as well"),
];

#[test]
fn what_harms_the_wall_is_found() {
    let house = house();
    let (base_problems, base) = findings(&house);
    assert!(base_problems.is_empty(), "{base_problems:?}");
    let mut all = Vec::new();
    for make in [spoilt_lines, spoilt_holes, levels, spoilt_details] {
        make(&house, &mut all);
    }
    let allowed = |name: &str| TRULY_HARMLESS.iter().any(|(part, _)| name.contains(part));
    let tried: Vec<&Mutation> = all.iter().filter(|mutation| !allowed(&mutation.name)).collect();
    let missed: Vec<String> = tried
        .par_iter()
        .filter_map(|mutation| {
            let (problems, keys) = findings(&mutation.files);
            let found = keys.iter().any(|key| !key.2 && !base.contains(key));
            assert!(problems.is_empty(), "{} is not understood: {problems:?}", mutation.name);
            (!found).then(|| mutation.name.clone())
        })
        .collect();
    let share = 100.0 * (tried.len() - missed.len()) as f64 / tried.len() as f64;
    eprintln!("{} harmful edits, {share:.1} % found; missed:\n{}", tried.len(), missed.join("\n"));
    assert!(tried.len() >= 60, "only {} harmful edits", tried.len());
    let known = |name: &String| KNOWN_MISSES.iter().any(|(part, _)| name.contains(part));
    let new: Vec<&String> = missed.iter().filter(|name| !known(name)).collect();
    assert!(new.is_empty(), "no rule finds:\n{new:#?}");
    let gone: Vec<&str> = KNOWN_MISSES
        .iter()
        .filter(|(part, _)| !missed.iter().any(|name| name.contains(part)))
        .map(|(part, _)| *part)
        .collect();
    assert!(gone.is_empty(), "found by now, take them off the list: {gone:#?}");
}
