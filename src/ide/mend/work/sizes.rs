//! Fixes that make something longer, deeper, wider or closer.

use super::super::Mend;
use super::super::ask::{Ask, On, last, lengths};
use super::super::draft::Draft;
use super::{length_of, written_like};
use crate::checks::Remedy;
use crate::ide::names::parameters;
use crate::syntax::{Item, ItemKind, Statement};
use crate::units::{Length, display};

/// Deepens a gap by what it lacks: where it says its depth, or where the area hands the depth in.
pub fn deepen(ask: &Ask<'_>) -> Vec<Mend> {
    let made = || {
        let lacks = ask.short_by()?;
        let gap = last(&ask.round(On::Gap)?)?;
        let depth = gap.arguments.get(1)?;
        let (place, old) = match &depth.kind {
            ItemKind::Path(_) => handed_in(ask, depth)?,
            _ => (None, length_of(depth)?),
        };
        let new = old + lacks;
        let title = format!("Deepen the gap to {}", ask.shown(new));
        if let Some((item, text)) = place {
            return ask.mend(title, Draft::new(ask.glance, item.span.file)?.cut(item.span, text(new)));
        }
        let mut draft = Draft::new(ask.glance, depth.span.file)?.cut(depth.span, written_like(depth, new));
        let strips = gap.all("furring").filter_map(|strips| lengths(&strips.arguments).into_iter().next());
        for thickness in strips.filter(|item| length_of(item) == Some(old)) {
            draft = draft.cut(thickness.span, written_like(thickness, new));
        }
        ask.mend(title, draft)
    };
    made().into_iter().collect()
}

type Text<'g> = Box<dyn Fn(Length) -> String + 'g>;

/// Where the area of a finding hands a parameter to its assembly, how a new value is written there, and the old one.
fn handed_in<'g>(ask: &Ask<'g>, parameter: &Item) -> Option<(Option<(&'g Item, Text<'g>)>, Length)> {
    let name = parameter.word()?.text.clone();
    let area = last(&ask.area()?)?;
    let of = area.arguments.get(1)?;
    if let ItemKind::Call(_, entries) = &of.kind
        && let Some(entry) = entries.iter().find(|entry| entry.name.as_ref().is_some_and(|word| word.text == name))
    {
        let item = &entry.value;
        return Some((Some((item, Box::new(move |new| written_like(item, new)))), length_of(item)?));
    }
    let assembly = last(&ask.assembly()?)?;
    let default = parameters(assembly).find(|(word, _)| word.text == name).map(|(_, entry)| &entry.value)?;
    let said = ask.glance.project.files.slice(of.span);
    let said = said.strip_suffix(')').map_or_else(|| format!("{said}("), |open| format!("{open}, "));
    let text = move |new| format!("{said}{name} = {})", written_like(default, new));
    Some((Some((of, Box::new(text))), length_of(default)?))
}

/// Sets fasteners closer, as far as the rule worked out.
pub fn closer(ask: &Ask<'_>) -> Vec<Mend> {
    let made = || {
        let Some(Remedy::Spacing { field, corner }) = ask.finding.remedy else { return None };
        let round = ask.round(On::At)?;
        let mut draft = Draft::new(ask.glance, last(&round)?.span.file)?;
        let mut said = Vec::new();
        for (word, spacing) in [("every", field), ("corner_every", corner)] {
            let Some(spacing) = spacing else { continue };
            draft = draft.put(&round, &format!("{word} {}", display::source(spacing, ask.glance.model.project.units)));
            said.push(ask.shown(spacing));
        }
        let title = match (field, corner) {
            (None, Some(_)) => format!("Fasten every {} near the corners", said.first()?),
            (Some(_), Some(_)) => format!("Fasten every {}, near the corners every {}", said.first()?, said.get(1)?),
            _ => format!("Fasten every {}", said.first()?),
        };
        ask.mend(title, draft)
    };
    made().into_iter().collect()
}

/// Bends a flashing until it still falls when the frame has shrunk.
pub fn steeper(ask: &Ask<'_>) -> Vec<Mend> {
    let made = || {
        let Some(Remedy::Slope(slope)) = ask.finding.remedy else { return None };
        let percent = (slope * 100.0).ceil();
        ask.say(On::At, &format!("slope {percent}%"), &format!("Bend it to {percent}%"))
    };
    made().into_iter().collect()
}

/// Laps two lengths of trim by what movement asks for.
pub fn wider_lap(ask: &Ask<'_>) -> Vec<Mend> {
    match ask.finding.remedy {
        Some(Remedy::Lap(length)) => set_to(ask, length, "lap", "Lap its lengths by"),
        _ => Vec::new(),
    }
}

/// Lays the boards at the exposure that leaves no sliver: on the story pole of the building, where it has one.
pub fn exposure(ask: &Ask<'_>) -> Vec<Mend> {
    let pole = || {
        let face = ask.finding.subject.split('.').next()?;
        let model = &ask.glance.model;
        let house = model.buildings.iter().find(|one| one.faces.iter().any(|(name, ..)| name == face))?;
        let pole = last(&ask.named("building", &house.name)?)?.all("story_pole").next()?;
        pole.arguments.iter().find(|item| !lengths(std::slice::from_ref(*item)).is_empty() || is_range(item))
    };
    let Some(Remedy::Exposure(length)) = ask.finding.remedy else { return Vec::new() };
    let Some(old) = pole() else { return set_to(ask, length, "exposure", "Lay the boards at") };
    let made = || {
        let said = display::source(length, ask.glance.model.project.units);
        let title = format!("Lay the boards of the house at {}", ask.shown(length));
        ask.mend(title, Draft::new(ask.glance, old.span.file)?.cut(old.span, format!("{said}..{said}")))
    };
    made().into_iter().collect()
}

fn is_range(item: &Item) -> bool {
    matches!(item.kind, ItemKind::Range(..))
}

/// Takes a tap whose seat is warm.
pub fn longer_stem(ask: &Ask<'_>) -> Vec<Mend> {
    if let Some(Remedy::Stem(length)) = ask.finding.remedy {
        return set_to(ask, length, "stem", "Take a stem of");
    }
    ask.number(On::At, "seat", false, "Take a tap whose seat lies {limit} inside").into_iter().collect()
}

fn set_to(ask: &Ask<'_>, length: Length, clause: &str, title: &str) -> Vec<Mend> {
    let said = display::source(length, ask.glance.model.project.units);
    ask.say(On::At, &format!("{clause} {said}"), &format!("{title} {}", ask.shown(length))).into_iter().collect()
}

/// Takes a kit up in as many loads as the platform carries.
pub fn loads(ask: &Ask<'_>) -> Vec<Mend> {
    let Some(Remedy::Loads(loads)) = ask.finding.remedy else { return Vec::new() };
    ask.say(On::At, &format!("loads {loads}"), &format!("Take it up in {loads} loads")).into_iter().collect()
}

/// Drills holes, or cuts slots, to the size that is wanted.
pub fn bore(ask: &Ask<'_>) -> Vec<Mend> {
    let made = || {
        let holes = last(&ask.round(On::At)?)?;
        let sizes = lengths(&holes.arguments);
        let long = ask.finding.message.contains("long:");
        let item = *if long { sizes.last()? } else { sizes.first()? };
        let title = format!("Make them {}{}", ask.wanted(true)?, if long { " long" } else { "" });
        ask.mend(title, Draft::new(ask.glance, item.span.file)?.cut(item.span, ask.wanted(false)?))
    };
    made().into_iter().collect()
}

/// Takes a trim deep enough to cover the ends of the cladding.
pub fn deeper_trim(ask: &Ask<'_>) -> Vec<Mend> {
    let made = || {
        let part: &Statement = last(&ask.round(On::At)?)?;
        let title = format!("Take a trim {} deep", ask.wanted(true)?);
        let handed = part.arguments.iter().find_map(|item| match &item.kind {
            ItemKind::Call(_, entries) => {
                entries.iter().find(|entry| entry.name.as_ref().is_some_and(|word| &*word.text == "depth"))
            }
            _ => None,
        });
        let depth = &handed?.value;
        ask.mend(title, Draft::new(ask.glance, depth.span.file)?.cut(depth.span, ask.wanted(false)?))
    };
    made().into_iter().collect()
}

/// Thickens an insulation until what is behind it stays warm.
pub fn thicker(ask: &Ask<'_>) -> Vec<Mend> {
    let made = || {
        let Some(Remedy::Thicken(more)) = ask.finding.remedy else { return None };
        let layer = last(&ask.round(On::At)?)?;
        let thickness = lengths(&layer.arguments).pop()?;
        let new = length_of(thickness)? + more;
        let title = format!("Make it {} thick", ask.shown(new));
        ask.mend(title, Draft::new(ask.glance, thickness.span.file)?.cut(thickness.span, written_like(thickness, new)))
    };
    made().into_iter().collect()
}
