//! A pipe, duct or sleeve that lets water run into the wall.

use crate::checks::pieces::faces;
use crate::checks::{CheckContext, Finding, Grade, Measure, Rule, RuleMeta};
use crate::model::{Face, Service};
use crate::units::display;

/// `service.falls_in`
pub struct ServiceFallsIn;

static META: RuleMeta = RuleMeta {
    id: "service.falls_in",
    catalogue: "",
    title: "a pipe or duct does not fall to the outside",
    grade: Grade::S2,
    before: "H2",
    limits: &["service.fall"],
    explain: "\
# What it checks
Every `pipe`, `duct`, `hood`, `intake` and `spare` falls to the outside by the slope of the rule set or more.

# Why
Rain blown into an open end, and water that condenses in a cold duct, runs the way the pipe falls. To the inside it
runs past the seal, into the wall.

# Example
    intake fresh_air 150mm at (8500mm, 1620mm), fall -1%

# Better
    intake fresh_air 150mm at (8500mm, 1620mm), fall 2%

# Basis
Common practice: sleeves fall 2 to 6 percent.

# Known gaps
Boxes, lamps, cables and meters are not asked. Outside taps have a rule of their own.
",
};

impl Rule for ServiceFallsIn {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        for (id, face) in faces(context.model) {
            let asked = |service: &&Service| matches!(service.kind, "pipe" | "duct" | "hood" | "intake" | "spare");
            for service in face.services.iter().filter(asked) {
                let found = judge(context, face, service);
                report.extend(found.map(|found| context.on_face(found, id, &service.name, service.at, service.at)));
            }
        }
    }
}

fn judge(context: &CheckContext<'_>, face: &Face, service: &Service) -> Option<Finding> {
    let unknown = |missing: String| Some(context.unknown(&META, face.dotted(service), service.origin, missing));
    let Some((limit, least)) = context.limit("service.fall").and_then(|limit| Some((limit, limit.slope()?))) else {
        return unknown("no rule set in force has a limit `service.fall`".to_owned());
    };
    let Some(fall) = service.fall else {
        return unknown(format!("fall of `{}` is not said (`fall`)", service.name));
    };
    if fall >= least {
        return None;
    }
    let percent = display::slope_percent;
    let measure = |slope: f64| Measure { value: Some(slope), shown: percent(slope) };
    let message = if fall < 0.0 {
        format!("`{}` falls {} to the inside", service.name, percent(-fall))
    } else {
        format!("`{}` falls {} to the outside; {} is wanted", service.name, percent(fall), percent(least))
    };
    Some(
        context
            .fault(&META, face.dotted(service), service.origin, message)
            .against(limit)
            .measured(measure(fall))
            .wanted(measure(least))
            .help(format!("raise its inner end: {} mm in each metre of its length", (least * 1000.0).round())),
    )
}
