//! Cladding or furring that a gust pulls off, in the field or in the zone at the corners.

use std::collections::BTreeSet;

use super::fastenings;
use super::worst::{newtons, pressure, worst_of_faces};
use crate::checks::{CheckContext, Finding, Grade, Measure, Remedy, Rule, RuleMeta};
use crate::loads::{Fastening, Pull, SetBy, Suction, Tributary, pull, site_wind};
use crate::model::FaceId;
use crate::physics::fastening;
use crate::units::Length;

/// `fastening.too_sparse_for_wind`
pub struct FasteningTooSparseForWind;

static META: RuleMeta = RuleMeta {
    id: "fastening.too_sparse_for_wind",
    catalogue: "FA-06",
    title: "the fasteners stand too far apart for the wind",
    grade: Grade::S1,
    before: "H4",
    limits: &["wind.importance", "wind.suction_field", "wind.suction_corner", "wind.inside", "fastener.load_duration"],
    explain: "\
# What it checks
For cladding and for furring: suction of the wind on the face, in the field and in the zone at its corners, times
the piece of wall that one fastener holds, against what that fastener holds in the wood it goes into (or at its
head). Indicative: an engineer confirms.

# Why
Wind does not push cladding on, it pulls it off, and most at the corners. People stand below.

# Example
    gap cavity 19mm ventilated {
        furring furring.spruce 19mm x 64mm, every 24in on centre, vertical
        fasten  nails.galvanised_smooth 3.3mm x 83mm, into studs, every 600mm
    }

# Better
    gap cavity 19mm ventilated {
        furring furring.spruce 19mm x 64mm, every 16in on centre, vertical
        fasten  screws.structural 6mm x 140mm, into studs, every 300mm, corner_every 200mm
    }

# Basis
Static procedure of NBC 4.1.7, formula on a public code site, shape factors from memory; specified, not factored.
Withdrawal of the NDS, public pages: allowable, times 1.6 for a gust. Both are loads in service: no load factor is
mixed with an allowable value. A maker's `pull_out` wins.

# Known gaps
The narrowest side of the building is taken as wide as the face. No relief for air behind the cladding, no weight
of snow, no fatigue. A ring-shank nail counts as smooth. Heads are judged in wood only, and only where `head` is
said. Clips, brackets and cladding of masonry are not known.
",
};

impl Rule for FasteningTooSparseForWind {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        if let Err(missing) = site_wind(context.model) {
            let held = fastenings(context).iter().any(|one| one.is_cladding || one.is_furring);
            let at = context.model.site.as_ref().map(|site| (site.name.as_str(), site.origin));
            let first = context.model.faces.first().map(|face| (face.name.as_str(), face.origin));
            if let Some((subject, at)) = at.or(first).filter(|_| held) {
                report.push(context.unknown(&META, subject, at, missing));
            }
            return;
        }
        // What is missing of a face is missing for its boards and for its strips: it is asked for once.
        let mut asked = BTreeSet::new();
        let found = worst_of_faces(context, judge);
        report.extend(
            found.into_iter().filter(|finding| finding.missing.as_ref().is_none_or(|fact| asked.insert(fact.clone()))),
        );
    }
}

/// How much more than it holds a fastener is asked for, and the finding.
fn judge(context: &CheckContext<'_>, id: FaceId, one: &Fastening<'_>) -> Option<(f64, Finding)> {
    let unknown = |missing: String| {
        Some((f64::INFINITY, context.unknown(&META, one.subject.clone(), one.fasten.origin, missing)))
    };
    // What it goes into is asked by `fasten.missing`.
    one.fasten.into?;
    let pull = match pull(context.model, context.plan, id, one) {
        Ok(pull) => pull,
        Err(missing) => return unknown(missing),
    };
    let [field, corner] = pull.newtons();
    let Pull { wind, hold, holds } = pull;
    let (is_field, asked, pull) = match () {
        () if field > hold.newtons => (true, field, wind.field),
        () if corner > hold.newtons => (false, corner, wind.corner),
        () => return None,
    };
    let where_it_is = if is_field { "in the field" } else { "at the corners" };
    let (along, across) = if is_field { holds.field } else { holds.corner };
    let message = format!(
        "each fastener of {} has {} to hold {where_it_is} and holds {}: {}",
        one.what,
        newtons(context, asked),
        newtons(context, hold.newtons),
        hold.by
    );
    let force = |value: f64| Measure { value: Some(value), shown: newtons(context, value) };
    let (advice, spacing) = advice(context, &wind, &holds, hold.newtons, is_field);
    let finding = context
        .fault(&META, one.subject.clone(), one.fasten.origin, message)
        .against(wind.limit)
        .measured(force(asked))
        .wanted(force(hold.newtons))
        .help(format!(
            "{} of suction on {} x {}",
            pressure_words(context, &wind, pull),
            context.shown(along),
            context.shown(across)
        ))
        .advise(advice, spacing);
    let bounds = context.plan.face(id)?.outline.bounds()?;
    let left = crate::geometry::Point::new(bounds.left, bounds.bottom);
    let width = if is_field { bounds.width() } else { wind.zone.min(bounds.width()) };
    let right = crate::geometry::Point::new(bounds.left + width, bounds.bottom);
    Some((asked / hold.newtons.max(1e-9), context.on_face(finding, id, "wall", left, right)))
}

fn pressure_words(context: &CheckContext<'_>, wind: &Suction<'_>, pull: f64) -> String {
    format!(
        "{} (indicative, an engineer confirms; corner zone {} wide)",
        pressure(context, pull),
        context.shown(wind.zone)
    )
}

/// What to set closer.
fn closer_by(set_by: SetBy) -> &'static str {
    match set_by {
        SetBy::Strips => "space the screws of the strips closer (`every`, `corner_every`)",
        SetBy::Panels => "space the screws closer (`every`, `corner_every`)",
        SetBy::Courses => "set the strips, or two rows (`rows 2`), closer",
    }
}

fn advice(
    context: &CheckContext<'_>,
    wind: &Suction<'_>,
    holds: &Tributary,
    newtons: f64,
    is_field: bool,
) -> (String, Option<Remedy>) {
    let closer = |(along, across): (Length, Length), pull: f64| {
        let most = fastening::spacing(newtons, pull, across.as_m())?;
        Some(Length::snap_m((most.min(along.as_m()) * 100.0).floor() / 100.0))
    };
    let (field, corner) = (closer(holds.field, wind.field).filter(|_| is_field), closer(holds.corner, wind.corner));
    let shown = |most: Option<Length>| most.map_or_else(String::new, |most| context.shown(most));
    let (at_corner, zone) = (shown(corner), context.shown(wind.zone));
    let advice = match field {
        Some(_) => format!(
            "{}: {} in the field and {at_corner} in the outer {zone}, or take a fastener that holds more",
            closer_by(holds.set_by),
            shown(field)
        ),
        None => {
            format!("{}: {at_corner} in the outer {zone}, or take a fastener that holds more", closer_by(holds.set_by))
        }
    };
    (advice, (holds.set_by != SetBy::Courses).then_some(Remedy::Spacing { field, corner }))
}
