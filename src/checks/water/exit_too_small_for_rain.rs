//! Exits that pass less than the rain brings to them.

use std::collections::BTreeMap;

use crate::checks::bays;
use crate::checks::{CheckContext, Finding, Grade, Measure, Rule, RuleMeta};
use crate::continuity::{ExitLoad, WayOut};
use crate::model::{FaceId, Limit};
use crate::units::{Keep, decimal};

/// `exit.too_small_for_rain`
pub struct ExitTooSmallForRain;

static META: RuleMeta = RuleMeta {
    id: "exit.too_small_for_rain",
    catalogue: "DR-02",
    title: "an exit passes too little of the rain that comes to it",
    grade: Grade::S2,
    before: "H4",
    limits: &["rain.rate", "rain.leak", "exit.head", "exit.aged_share", "exit.margin"],
    explain: "\
# What it checks
For every slot and row of holes: the wall that drains there, times the driving rain of a heavy hour (`rain.rate`, with the
driving-rain wind of the site), times the share that gets behind the cladding (`rain.leak`), against what the exit passes with
`exit.head` of water over it once it has aged: its screen's aged share, or `exit.aged_share` of a bare hole. It passes
`exit.margin` times as much or more.

# Why
Holes that are right for one bay are too few where a channel on a slope, or a window, brings the water of many bays to one.

# Example
    trim foot_channel channels.solid along base, low_end closed {
        holes weep 8mm, leg floor, every 20m on centre, first 15990mm
    }

# Better
    trim foot_channel channels.solid along base, low_end open {
        holes weep 8mm, leg floor, between furring
    }

# Basis
Rain: ISO 15927-3, from memory: 2/9 v r^(8/9) on a face that meets the wind, without shelter. One percent behind the cladding:
ASHRAE 160, from memory. Orifice: 0.61 A root(2 g h). The rate, the head and the margin are made for this check.

# Known gaps
Holes too small for a film to leave pass nothing here, and `weep.too_small` and `weep.above_floor` tell them. Open low ends and
the edges of flashings have no size of their own. Water of a leaking window or a gutter above is not added, nor what runs down
behind the strips.
",
};

impl Rule for ExitTooSmallForRain {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let loads = context.rain();
        let holes = |load: &&ExitLoad| load.ways.iter().any(|way| matches!(way.what, WayOut::Holes { .. }));
        if let Err(missing) = &loads.hour {
            // Slots along a whole edge pass far more than any rain brings: only holes are asked about.
            if let Some(first) = loads.exits.iter().find(holes) {
                report.extend(unknown(context, first, missing));
            }
            return;
        }
        let Some((limit, least)) = context.number_limit(&META, "exit.margin", report) else { return };
        let small = |load: &&ExitLoad| load.fits() && load.margin.is_some_and(|margin| margin < least);
        let mut edges: BTreeMap<(FaceId, (u8, usize)), Vec<&ExitLoad>> = BTreeMap::new();
        for load in loads.exits.iter().filter(small) {
            if let Some(bay) = load.bays.first() {
                edges.entry((bay.face, bays::order(load.with))).or_default().push(load);
            }
        }
        for ((face, _), loads) in edges {
            report.extend(found(context, face, &loads, (limit, least)));
        }
    }
}

fn litres(value: f64) -> String {
    format!("{} L/h", decimal(value, Keep::Significant(2)))
}

/// "1 hole of 8 mm": what lets the water out.
fn called(context: &CheckContext<'_>, load: &ExitLoad) -> String {
    let words = load.ways.iter().map(|way| match &way.what {
        WayOut::Holes { trim, count, height, .. } => {
            let word = if *count == 1 { "hole" } else { "holes" };
            format!("{count} {word} of {} in `{trim}`", context.shown(*height))
        }
        WayOut::Pierced(trim) => format!("the pierced floor of `{trim}`"),
        WayOut::Slot => {
            way.clear.map_or("the slot".to_owned(), |clear| format!("the slot of {}", context.shown(clear)))
        }
        WayOut::LowEnd(trim) => format!("the low end of `{trim}`"),
        WayOut::Flashing => "the flashing".to_owned(),
    });
    words.collect::<Vec<_>>().join(" and ")
}

fn found(
    context: &CheckContext<'_>,
    face: FaceId,
    loads: &[&ExitLoad],
    (limit, least): (&Limit, f64),
) -> Option<Finding> {
    let worst = loads.iter().min_by(|a, b| a.margin.unwrap_or(f64::MAX).total_cmp(&b.margin.unwrap_or(f64::MAX)))?;
    let (margin, arrives, passes) = (worst.margin?, worst.arrives?, worst.passes?);
    let (name, at) = bays::boundary(context, face, worst.with)?;
    let times =
        |value: f64| Measure { value: Some(value), shown: format!("×{}", decimal(value, Keep::Significant(2))) };
    let message = format!(
        "{} at {name} passes {} when it has aged: {} arrive from {}",
        called(context, worst),
        litres(passes),
        litres(arrives),
        context.shown_area(worst.catchment)
    );
    let subject = name.split('`').nth(1).unwrap_or_default().to_owned();
    let mut finding =
        context.fault(&META, subject, at, message).against(limit).measured(times(margin)).wanted(times(least)).help(
            format!(
                "make it {} times as large, or give every bay exits of its own",
                decimal(least / margin, Keep::Significant(2))
            ),
        );
    if loads.len() > 1 {
        finding = finding.help(format!("the same at {} more exits of this edge", loads.len() - 1));
    }
    Some(context.on_face(finding, face, "exit", worst.segment.from, worst.segment.to))
}

fn unknown(context: &CheckContext<'_>, load: &ExitLoad, missing: &str) -> Option<Finding> {
    let face = load.bays.first()?.face;
    let declared = context.model.face(face)?;
    let site = context.model.site.as_ref();
    let (subject, at) = site.map_or((&declared.name, declared.origin), |site| (&site.name, site.origin));
    Some(context.unknown(&META, subject.as_str(), at, missing).help("add it to the site: `driving_rain 200Pa`"))
}
