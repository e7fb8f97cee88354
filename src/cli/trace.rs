//! `wythe trace`: where the water goes from a place behind the cladding, and how the air comes to it.

use std::path::Path;

use super::args::Trace as Given;
use super::place::Place;
use super::talk::{print, talk};
use super::{Ending, Outer, clock};
use crate::continuity::{self, AirBarrier, AirFlow, Conditions, GapFlow, Leakage, RainLoads, Trace};
use crate::diagnose::did_you_mean;
use crate::emit::{barrier, footer_line, trace};
use crate::geometry::Point;
use crate::model::{FaceId, Model};
use crate::session::{Checked, Settings};
use crate::source::FileId;
use crate::syntax::{ItemKind, parse};
use crate::units::{Number, evaluate, feet_inches};

pub(super) fn run(given: &Given) -> Result<Ending, Outer> {
    let today = Some(clock::today(given.today.as_deref())?);
    let settings = Settings { today, units: given.units.map(Into::into), ..Settings::default() };
    let place = Place::find(&given.path)?;
    let checked = crate::session::check(&place.world, &place.roots, &settings);
    let Some(from) = &given.from else { return barrier(given, &checked) };
    let (name, at) = read(from)?;
    let face = face(&checked.model, name)?;
    let flow = GapFlow::find(&checked.model, &checked.plan);
    let water = Trace::water(&checked.model, &checked.plan, &flow, face, at)
        .map_err(|refused| trace::refusal((&checked).into(), face, at, refused))
        .map_err(|(title, help)| Outer::NoTrace { title, help })?;
    let (shown, reached) = if given.air {
        air(&checked, &flow, &water)
    } else {
        let rain = RainLoads::find(&checked.model, &checked.plan, &flow);
        (trace::text((&checked).into(), &water, &rain), water.ending == continuity::Ending::Daylight)
    };
    if let Some(path) = &given.into {
        draw(path, &checked, &water)?;
    }
    print(&shown)?;
    Ok(if reached { Ending::Clean } else { Ending::Findings })
}

/// The air barrier all round, and how much it may let through where that is asked.
fn barrier(given: &Given, checked: &Checked) -> Result<Ending, Outer> {
    let air = AirBarrier::find(&checked.model, &checked.plan);
    let leakage = given.leakage.then(|| Leakage::estimate(&checked.model, &checked.plan, &air));
    print(&barrier::text(checked, &air, leakage.as_ref()))?;
    let closed = barrier::is_continuous(&air) && !checked.model.faces.is_empty();
    Ok(if closed { Ending::Clean } else { Ending::Findings })
}

/// The air of the bay, under the note of where it is, and whether it is known to move.
fn air(checked: &Checked, flow: &GapFlow, water: &Trace) -> (String, bool) {
    let moving = AirFlow::find(&checked.model, &checked.plan, flow, &Conditions::default());
    let note = trace::note(checked.into(), water).map(|note| format!("note: {note}\n")).unwrap_or_default();
    let air = flow.bay(water.bay).map(|bay| trace::air(checked.into(), water, bay, &moving)).unwrap_or_default();
    let moves = moving.bay(water.bay).is_some_and(|bay| bay.dead.is_none() && bay.clean.is_some());
    (format!("{note}{air}\n{}\n", footer_line(checked)), moves)
}

fn draw(path: &Path, checked: &Checked, water: &Trace) -> Result<(), Outer> {
    let Some(sheet) = crate::emit::elevation::traced(checked, water) else { return Ok(()) };
    std::fs::write(path, sheet.to_svg()).map_err(|error| Outer::Write { path: path.to_owned(), error })?;
    talk(&format!("wrote `{}`", path.display()));
    Ok(())
}

/// `north@(3.2m, 2.4m)`: a face, and lengths as the language writes them.
fn read(from: &str) -> Result<(&str, Point), Outer> {
    let wrong = || Outer::From { given: from.to_owned() };
    let (name, place) = from.split_once('@').ok_or_else(wrong)?;
    if place.contains(['\n', '\r', '{', '}']) {
        return Err(wrong());
    }
    let parsed = parse(FileId(0), &format!("face place {}", place.trim()));
    if let Some(problem) = parsed.problems.first() {
        return Err(Outer::FromLength { given: from.to_owned(), why: problem.title.clone() });
    }
    let entries =
        parsed.tree.statements.iter().flat_map(|statement| &statement.arguments).find_map(|item| match &item.kind {
            ItemKind::Tuple(entries) => Some(entries),
            _ => None,
        });
    let Some([x, y]) = entries.map(Vec::as_slice) else { return Err(wrong()) };
    let length = |kind: &ItemKind| {
        let number = match kind {
            ItemKind::Quantity(literal) => evaluate(literal),
            ItemKind::FeetInches(feet, inches) => feet_inches(feet, inches),
            _ => return Err(wrong()),
        };
        match number {
            Ok(Number::Length(length)) => Ok(length),
            Ok(Number::Bare(zero)) if zero.value() == 0.0 => Ok(crate::units::Length::ZERO),
            Ok(_) => Err(wrong()),
            Err(problem) => Err(Outer::FromLength { given: from.to_owned(), why: problem.title }),
        }
    };
    Ok((name.trim(), Point::new(length(&x.value.kind)?, length(&y.value.kind)?)))
}

fn face(model: &Model, name: &str) -> Result<FaceId, Outer> {
    model.face_named(name).ok_or_else(|| {
        let names = || model.faces.iter().map(|face| face.name.as_str());
        let help = did_you_mean(name, names()).unwrap_or_else(|| match names().next() {
            None => "no face is declared".to_owned(),
            Some(_) => format!("there are {}", names().map(|name| format!("`{name}`")).collect::<Vec<_>>().join(", ")),
        });
        Outer::UnknownFace { name: name.to_owned(), help }
    })
}
