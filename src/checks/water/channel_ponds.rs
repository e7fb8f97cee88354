//! Water that stays in a channel between its exits, and what it does there when it freezes.

use super::told_by_drain;
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::continuity::{Pond, PondPlace, ponds};
use crate::model::Limit;
use crate::units::Length;

/// `channel.ponds`
pub struct ChannelPonds;

static META: RuleMeta = RuleMeta {
    id: "channel.ponds",
    catalogue: "FR-01",
    title: "water stays in a channel and freezes there",
    grade: Grade::S2,
    before: "H4",
    limits: &["channel.sag", "channel.pond"],
    explain: "\
# What it checks
Each channel with a solid floor and holes in it: in the dips between its supports, where it hangs down by its `sag` (or
`channel.sag`) and no hole lies, and between the lowest hole and a low end that is closed or dammed, no more than
`channel.pond` of water stays. On a slope of 4 sag / span or more a dip holds nothing.

# Why
What stays in the channel freezes, and grows by a tenth. A cover that snaps onto its base comes off, and the ends of the boards
stand in ice.

# Example
    trim foot_channel channels.solid along base, sag 3mm {
        holes weep 8mm, leg floor, every 1200mm on centre, first 600mm
    }

# Better
    trim foot_channel channels.solid along base, sag 3mm {
        holes weep 8mm, leg floor, between furring
    }

# Basis
No storage is the aim; 2 mm and the sag are common practice. The depth is plane geometry of a parabola.

# Known gaps
It can always tell: a channel that does not say its sag is taken to hang by `channel.sag`. Weeps in the face of a channel are
judged by `weep.above_floor`, and where a bay has no other way out `drain.no_exit` tells it.
",
};

impl Rule for ChannelPonds {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        if context.model.faces.iter().all(|face| face.trims.is_empty()) {
            return;
        }
        let Some((_, sag)) = context.length_limit(&META, "channel.sag", report) else { return };
        let Some((limit, most)) = context.length_limit(&META, "channel.pond", report) else { return };
        let found = ponds(context.model, context.plan, sag);
        report.extend(found.iter().filter_map(|pond| judge(context, pond, (limit, most))));
    }
}

fn judge(context: &CheckContext<'_>, pond: &Pond, (limit, most): (&Limit, Length)) -> Option<Finding> {
    let face = context.model.face(pond.face)?;
    let trim = face.trims.get(pond.trim)?;
    let depth = Length::snap_m(pond.depth);
    if depth <= most || told_by_drain(context, pond.face, &trim.along) {
        return None;
    }
    let place = context.from_left(pond.face, pond.at.x);
    let (why, help) = match pond.place {
        PondPlace::Dip => (
            format!("it hangs {} between its supports, and no hole lies in the dip", context.shown(pond.sag)),
            "put a weep in the middle of every span (`between furring`), or support it so that it hangs less",
        ),
        PondPlace::LowEnd => (
            "its low end is shut below the lowest hole".to_owned(),
            "open the low end (`low_end open`), or drill a weep right beside it",
        ),
    };
    let two_part = context.model.product(trim.product).is_some_and(|product| product.two_part);
    let bursts = two_part && freezes(context);
    let then = if bursts { "; as ice it pushes the cover off" } else { "" };
    let message = format!("`{}` holds water {} deep {place}: {why}{then}", trim.name, context.shown(depth));
    let mut finding = context
        .fault(&META, format!("{}.{}", face.name, trim.name), trim.origin, message)
        .against(limit)
        .measured(context.measure(depth))
        .wanted(context.measure(most))
        .help(help);
    if bursts {
        finding.grade = Grade::S1;
    }
    Some(context.on_face(finding, pond.face, &trim.name, pond.at, pond.at))
}

/// Whether it freezes at the site.
fn freezes(context: &CheckContext<'_>) -> bool {
    let climate = context.model.site.as_ref().and_then(|site| site.climate.as_ref());
    climate.and_then(|climate| climate.extremes).is_some_and(|(coldest, _)| coldest < 0.0)
}
