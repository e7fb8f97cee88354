//! Fixes that add, change or take out a part.

use std::collections::BTreeSet;

use super::super::ask::{Ask, On, last, lengths};
use super::super::draft::{Draft, same};
use super::super::{BLANK, Mend};
use crate::checks::Remedy;
use crate::resolve::Module;
use crate::schema;
use crate::syntax::{Item, ItemKind, Statement};
use crate::units::display;

/// Lets a layer that keeps water out be the air barrier as well.
pub fn barrier(ask: &Ask<'_>) -> Vec<Mend> {
    let Some(round) = ask.round(On::At) else { return Vec::new() };
    let layers = last(&round).map(|assembly| assembly.all("layer").collect::<Vec<_>>()).unwrap_or_default();
    let made = |layer: &&Statement| {
        let controls = layer.all("controls").find(|one| one.arguments.iter().any(|item| is(item, "water")))?;
        let name = layer.arguments.first()?.word()?;
        let said = ask.glance.project.files.slice(controls.span);
        let title = format!("Let `{}` be the air barrier as well", name.text);
        ask.mend(title, Draft::new(ask.glance, controls.span.file)?.cut(controls.span, format!("{said} and air")))
    };
    layers.iter().filter_map(made).collect()
}

/// Names the part that joins the barrier to what is beside it: one that another detail of this file uses there, and one to
/// be named.
pub fn joint(ask: &Ask<'_>) -> Vec<Mend> {
    let target = match ask.finding.rule {
        "air.open_at_base" => "foundation",
        "air.open_at_floor" => "itself",
        "air.open_at_opening" => "frame",
        "air.open_at_top" => "ceiling",
        _ => "neighbour",
    };
    let Some(round) = ask.round(On::Detail) else { return super::detail(ask) };
    let Some(detail) = round.first().map(|(detail, _)| *detail) else { return Vec::new() };
    let file = ask.glance.project.modules.iter().find(|one| one.file == detail.span.file);
    let mut made = Vec::new();
    for product in file.map(|file| joining(ask, file, target)).unwrap_or_default() {
        let clause = format!("air seals to {target} with {product}");
        made.extend(ask.say(On::Detail, &clause, &format!("Seal it to the {target} with `{product}`, as elsewhere")));
    }
    let clause = format!("air seals to {target} with {BLANK}");
    made.extend(ask.say(
        On::Detail,
        &clause,
        &format!("Say what seals it to the {target}: `air seals to {target} with …`"),
    ));
    made
}

/// What joins the barrier to a target in the details of a file, at most two.
fn joining<'g>(ask: &Ask<'g>, file: &'g Module, target: &str) -> Vec<&'g str> {
    fn walk<'g>(statements: &'g [Statement], target: &str, into: &mut Vec<&'g Item>) {
        for one in statements {
            if &*one.keyword.text == "air" && one.arguments.iter().any(|item| is(item, target)) {
                let with = one.arguments.iter().position(|item| is(item, "with"));
                into.extend(with.and_then(|at| one.arguments.get(at + 1)));
            }
            walk(&one.clauses, target, into);
        }
    }
    let mut found = Vec::new();
    let details = file.tree.statements.iter().filter(|one| &*one.keyword.text == "detail");
    details.for_each(|detail| walk(&detail.clauses, target, &mut found));
    let mut seen = BTreeSet::new();
    let names = found.into_iter().map(|item| ask.glance.project.files.slice(item.span));
    names.filter(|name| seen.insert(*name)).take(2).collect()
}

/// Calls a gap vented, or ventilated, as its ends are to be.
pub fn openness(ask: &Ask<'_>) -> Vec<Mend> {
    let wanted: &[&str] = match (ask.finding.rule, ask.cannot_tell()) {
        (_, true) => &["vented", "ventilated"],
        ("gap.no_outlet", _) => &["vented"],
        ("gap.top_not_as_ruled", _) if ask.finding.remedy == Some(Remedy::Word("vented".to_owned())) => &["vented"],
        _ => &["ventilated"],
    };
    let Some(gap) = ask.round(On::Gap).and_then(|round| last(&round)) else { return Vec::new() };
    let old = gap.arguments.iter().find(|item| is(item, "vented") || is(item, "ventilated"));
    let made = |word: &&str| {
        let title = match *word {
            "vented" => "Call the gap `vented`: open at the bottom",
            _ => "Call the gap `ventilated`: open at bottom and top",
        };
        let draft = Draft::new(ask.glance, gap.span.file)?;
        let head = gap.head_span();
        let end = crate::source::Span { start: head.end, ..head };
        ask.mend(
            title,
            match old {
                Some(item) => draft.cut(item.span, *word),
                None => draft.cut(end, format!(" {word}")),
            },
        )
    };
    wanted.iter().filter_map(made).collect()
}

/// Opens the bottom of a gap, and says that it is an exit.
pub fn open_bottom(ask: &Ask<'_>) -> Vec<Mend> {
    let made = || {
        let round = ask.round(On::Detail)?;
        let draft = Draft::new(ask.glance, last(&round)?.span.file)?;
        let draft = draft.put(&round, "gap_end open").put(&round, "gives exit");
        ask.mend("Open the bottom of the gap along every bay", draft)
    };
    made().into_iter().collect()
}

/// Lays the strip at a jamb over the pan of the sill.
pub fn jamb_over_sill(ask: &Ask<'_>) -> Vec<Mend> {
    let made = || {
        let round = ask.round(On::At)?;
        let &(part, row) = round.last()?;
        let pan = ask.finding.subject.contains(".sill.");
        let (clause, title) = if pan {
            ("laps under jamb by", "Lay the pan first, under the strips of the jambs")
        } else {
            ("laps over sill by", "Lay the strip of the jamb over the pan")
        };
        let old = same(ask.glance, part, row, clause).and_then(|old| lengths(&old.arguments).pop());
        let by = old.map_or(BLANK, |item| ask.glance.project.files.slice(item.span));
        let title = if by == BLANK { format!("{title}: say by how much") } else { title.to_owned() };
        ask.say(On::At, &format!("{clause} {by}"), &title)
    };
    made().into_iter().collect()
}

/// The statement that says which fastener holds it.
fn fastener<'g>(ask: &Ask<'g>) -> Option<&'g Statement> {
    let places = [On::At, On::Other("the fastener")].into_iter();
    places.filter_map(|on| last(&ask.round(on)?)).find(|one| schema::canonical(&one.keyword.text) == "fasten")
}

/// Takes a fastener of stainless steel.
pub fn stainless(ask: &Ask<'_>) -> Vec<Mend> {
    let made = || {
        let product = fastener(ask)?.arguments.first()?;
        let name = ask.library_name(product.span, "screws.stainless");
        ask.mend("Take stainless screws", Draft::new(ask.glance, product.span.file)?.cut(product.span, name))
    };
    made().into_iter().collect()
}

/// Takes the length that reaches far enough.
pub fn longer(ask: &Ask<'_>) -> Vec<Mend> {
    let made = || {
        let Some(Remedy::FastenerLength(wanted)) = ask.finding.remedy else { return None };
        let size = lengths(&fastener(ask)?.arguments).pop()?;
        let said = display::source(wanted, ask.glance.model.project.units);
        let title = format!("Take the fastener of {}", ask.shown(wanted));
        ask.mend(title, Draft::new(ask.glance, size.span.file)?.cut(size.span, said))
    };
    made().into_iter().collect()
}

/// Lays a tape between two metals, or between metal and treated wood.
pub fn isolate(ask: &Ask<'_>) -> Vec<Mend> {
    let clause = "isolated with {std:tapes.isolating}";
    let on = if ask.round(On::Other("the strips")).is_some() { On::Other("the strips") } else { On::At };
    ask.say(on, clause, "Lay an isolating tape between").into_iter().collect()
}

/// Leaves one point of a length fixed.
pub fn one_fixed_point(ask: &Ask<'_>) -> Vec<Mend> {
    let Some(trim) = ask.round(On::At).and_then(|round| last(&round)) else { return Vec::new() };
    let fixed: Vec<&Statement> = trim.all("fixed").collect();
    let made = |keep: &&Statement| {
        let mut draft = Draft::new(ask.glance, trim.span.file)?;
        for other in fixed.iter().filter(|one| one.span != keep.span) {
            draft = draft.take_out(trim, other);
        }
        let at = ask.glance.project.files.slice(keep.arguments.last()?.span);
        ask.mend(format!("Hold it fast at `{at}` only"), draft)
    };
    fixed.iter().filter_map(made).collect()
}

/// Whether an argument is this word.
pub(super) fn is(item: &Item, word: &str) -> bool {
    matches!(&item.kind, ItemKind::Path(words) if words.len() == 1 && words.first().is_some_and(|one| &*one.text == word))
}
