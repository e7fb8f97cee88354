//! The form of the statement or call in hand, with the slot that is being written.

use std::ops::Range;

use super::complete::Desk;
use crate::schema::{Element, usage_parts};
use crate::session::Glance;
use crate::source::FileId;

/// A form with its slots.
#[derive(Clone, Debug, PartialEq)]
pub struct Signature {
    /// As a person would write it: `layer NAME MATERIAL [LENGTH]`.
    pub label: String,
    /// Its slots and words, as byte ranges of the label.
    pub parameters: Vec<Range<usize>>,
    /// The one that is being written.
    pub active: Option<usize>,
    /// One line of help, and the standard or practice behind it.
    pub doc: String,
}

/// The form round a byte offset; `None` where nothing is being filled in.
pub fn signature(glance: &Glance, file: FileId, offset: u32) -> Option<Signature> {
    let desk = Desk::at(glance, file, offset)?;
    match desk.pen.brackets.last().filter(|bracket| !bracket.name.is_empty()) {
        Some(bracket) => call(&desk, bracket.name, bracket.within).or_else(|| statement(&desk)),
        None => statement(&desk),
    }
}

fn statement(desk: &Desk<'_>) -> Option<Signature> {
    let row = desk.pen.row()?;
    let (label, parts) = usage_parts(row);
    let wanted = desk.wanted(row);
    let place = |element: &Element| parts.iter().position(|(part, _)| std::ptr::eq(*part, element));
    let active = wanted.next.first().or(wanted.last.as_ref()).and_then(|element| place(element));
    let basis = if row.basis.is_empty() { String::new() } else { format!("\n\n{}", row.basis) };
    let parameters = parts.into_iter().map(|(_, range)| range).collect();
    Some(Signature { label, parameters, active, doc: format!("{}{basis}", row.help) })
}

fn call(desk: &Desk<'_>, name: &str, within: &str) -> Option<Signature> {
    let entries = desk.call_parameters(name)?;
    let files = &desk.glance.project.files;
    let mut label = format!("{}(", name.rsplit('.').next().unwrap_or(name));
    let mut parameters = Vec::new();
    let mut names = Vec::new();
    for (at, entry) in entries.iter().enumerate() {
        if at > 0 {
            label.push_str(", ");
        }
        let start = label.len();
        match &entry.name {
            Some(word) => label.push_str(&format!("{} = {}", word.text, files.slice(entry.value.span))),
            None => label.push_str(files.slice(entry.value.span)),
        }
        names.push(entry.name.as_ref().or_else(|| entry.value.word()).map(|word| &*word.text));
        parameters.push(start..label.len());
    }
    label.push(')');
    let current = within.rsplit(',').next().unwrap_or_default();
    let written = current.split('=').next().unwrap_or_default().trim();
    let given: Vec<&str> = within.split(',').filter_map(|entry| Some(entry.split_once('=')?.0.trim())).collect();
    let named = names.iter().position(|name| *name == Some(written) && !written.is_empty());
    let open = || names.iter().position(|name| name.is_some_and(|name| !given.contains(&name)));
    let doc = desk.declared_doc(name).unwrap_or_default();
    Some(Signature { label, parameters, active: named.or_else(open), doc })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ide::testing::desk;

    /// The label and what of it is being written.
    fn shown(text: &str) -> Option<(String, String)> {
        let desk = desk(&[("wall.wythe", text)]);
        let found = signature(&desk.glance, desk.file, desk.offset)?;
        let active = found.active.map(|at| found.label[found.parameters[at].clone()].to_owned());
        Some((found.label, active.unwrap_or_default()))
    }

    #[test]
    fn the_slot_in_hand_is_told() {
        let window = "window NAME [frame|rough] A x B [at (X, Y)] [head_at (X, Y)]";
        let told = |text: &str, label: &str, active: &str| {
            assert_eq!(
                shown(&format!("face n {{\n    {text}\n}}\n")),
                Some((label.to_owned(), active.to_owned())),
                "{text}"
            );
        };
        told("window $0", window, "NAME");
        told("window kitchen frame $0", window, "A x B");
        told("window kitchen frame 4ft x $0", window, "A x B");
        told("window kitchen frame 4ft x 5ft at $0", window, "(X, Y)");
        told(
            "window k frame 4ft x 5ft, trims 89mm on $0",
            "trims WIDTH on plane|furring|cladding",
            "plane|furring|cladding",
        );
        assert_eq!(shown("face n {\n    $0\n}\n"), None);
    }

    #[test]
    fn a_call_tells_its_parameters() {
        let text =
            "assembly w(depth = 19mm, fill) {\n    gap cavity depth, mat fill\n}\nface n {\n    area all w($0)\n}\n";
        let told = |written: &str, active: &str| {
            let found = shown(&text.replace("$0", written));
            assert_eq!(found, Some(("w(depth = 19mm, fill)".to_owned(), active.to_owned())), "{written}");
        };
        told("$0", "depth = 19mm");
        told("depth = 1$0", "depth = 19mm");
        told("depth = 10mm, $0", "fill");
    }
}
