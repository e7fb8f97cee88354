//! The gap of a wall on the faces where it is: net depth, free area, air changes.

use super::Desk;
use crate::continuity::{AirFlow, Conditions, GapFlow};
use crate::model::{Assembly, FaceId, Gap};
use crate::units::{Length, display};

/// What a gap comes to, on the first face that has this wall.
pub(super) fn lines(desk: &Desk<'_>, wall: &Assembly, gap: &Gap) -> Vec<String> {
    let net = gap.net_depth();
    let taken = match gap.bulge {
        Some(bulge) => format!("{} of it may be taken by wrinkles and tapes", display::both(bulge, desk.units)),
        None => "nothing taken off, since no `bulge` is said".to_owned(),
    };
    let mut lines = vec![format!("net depth {}; {taken}", display::both(net, desk.units))];
    let model = &desk.glance.model;
    let built = |area: &crate::model::Area| {
        model.assembly(area.assembly).is_some_and(|one| one.origin == wall.origin && one.label == wall.label)
    };
    let on = model
        .faces
        .iter()
        .enumerate()
        .find_map(|(at, face)| face.areas.iter().position(built).map(|area| (FaceId(at as u32), face, area)));
    match on {
        Some((id, face, area)) => {
            let name = face.areas.get(area).map_or("", |area| area.name.as_str());
            lines.extend(area_air(desk, id, area, &format!("{} of the {} wall", name, face.name)));
        }
        None => lines.push("free area and air changes: no face has this wall".to_owned()),
    }
    lines
}

/// Free area and air changes of the bays of one area.
pub(super) fn area_air(desk: &Desk<'_>, face: FaceId, area: usize, place: &str) -> Option<String> {
    let (house, own) = desk.glance.house(face)?;
    let flow = GapFlow::find(&house.model, &house.plan);
    let bays: Vec<_> = flow.bays.iter().filter(|bay| bay.id.face == own && bay.id.area == area).collect();
    if bays.is_empty() {
        return None;
    }
    let air = AirFlow::find(&house.model, &house.plan, &flow, &Conditions::default());
    let sum = |of: &dyn Fn(&crate::continuity::BayFlow) -> Option<crate::continuity::FreeArea>| {
        bays.iter().map(|bay| Some(of(bay)?.aged)).sum::<Option<f64>>()
    };
    let free = |value: Option<f64>| value.map_or("cannot tell".to_owned(), |value| cm2(value, desk.units));
    let (inlets, outlets) = (sum(&|bay| bay.inlet_area()), sum(&|bay| bay.outlet_area()));
    let mut rates: Vec<f64> = bays.iter().filter_map(|bay| Some(air.bay(bay.id)?.aged?.changes)).collect();
    rates.sort_by(f64::total_cmp);
    let untold = bays.len() - rates.len();
    let moved = match (rates.first(), rates.last()) {
        (Some(least), Some(most)) => format!("air changes {least:.0} to {most:.0} an hour"),
        _ => "air changes: cannot tell".to_owned(),
    };
    let rest = if untold > 0 && !rates.is_empty() { format!(", {untold} bays cannot tell") } else { String::new() };
    Some(format!(
        "{place}: {} bays; free area {} low, {} high, screens aged; {moved}{rest} on a still winter day, made for comparing",
        bays.len(),
        free(inlets),
        free(outlets)
    ))
}

/// A free area in both units.
fn cm2(square_metres: f64, units: crate::units::System) -> String {
    let metric = format!("{:.0} cm²", square_metres * 1e4);
    let inch = Length::INCH.as_m();
    let imperial = format!("{:.0} in²", square_metres / (inch * inch));
    match units {
        crate::units::System::Metric => format!("{metric} ({imperial})"),
        crate::units::System::Imperial => format!("{imperial} ({metric})"),
    }
}
