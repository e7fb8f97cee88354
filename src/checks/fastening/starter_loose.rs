//! The strip under the first course, held too seldom.

use crate::checks::pieces::{called, faces, pieces};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::loads::length;
use crate::model::Fasten;
use crate::source::Span;

/// `starter.loose`
pub struct StarterLoose;

static META: RuleMeta = RuleMeta {
    id: "starter.loose",
    catalogue: "FA-14",
    title: "a starter is fixed too seldom",
    grade: Grade::S3,
    before: "H4",
    limits: &["starter.spacing", "fastener.end_distance"],
    explain: "\
# What it checks
Starters (parts of details, and trims of a product named `starter`): spacing of their fasteners, and how far the
last one stays from the end.

# Why
Wind takes the first course, then the rest.

# Example
    part starter channels.starter {
        fasten screws.stainless_pan 4mm x 30mm, into furring, every 610mm, end_distance 100mm
    }

# Better
    part starter channels.starter {
        fasten screws.stainless_pan 4mm x 30mm, into furring, every 400mm, end_distance 50mm
    }

# Basis
400 mm, and 50 mm from each end: common practice. Follow the spacing of the cladding where it is closer.

# Known gaps
A starter that is cut from a board of the cladding is not known as one.
",
};

impl Rule for StarterLoose {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        let mut seen = std::collections::BTreeSet::new();
        for piece in pieces(context).iter().filter(|piece| piece.spec.kind == "starter") {
            // That it is held at all is asked by `fasten.missing`.
            let Some(fasten) = piece.spec.fasten.as_ref().filter(|_| seen.insert((piece.face, piece.spec.origin)))
            else {
                continue;
            };
            let finding = judge(context, &piece.name, called(piece.spec), fasten, fasten.origin);
            report.extend(finding.map(|finding| piece.on_wall(context, finding)));
        }
        for (_, face) in faces(context.model) {
            for trim in &face.trims {
                let starter = context.model.product(trim.product).is_some_and(|product| product.name == "starter");
                if let Some(fasten) = trim.fasten.as_ref().filter(|_| starter) {
                    let subject = format!("{}.{}", face.name, trim.name);
                    report.extend(judge(context, &subject, &trim.name, fasten, fasten.origin));
                }
            }
        }
    }
}

fn judge(context: &CheckContext<'_>, subject: &str, name: &str, fasten: &Fasten, at: Span) -> Option<Finding> {
    let unknown = |missing: String| Some(context.unknown(&META, subject, at, missing));
    let (spacing, end) =
        match (length(context.model, "starter.spacing"), length(context.model, "fastener.end_distance")) {
            (Ok(spacing), Ok(end)) => (spacing, end),
            (Err(missing), _) | (_, Err(missing)) => return unknown(missing),
        };
    let Some(every) = fasten.spacing else {
        return unknown(format!("spacing of the fasteners of `{name}` is not said (`every`)"));
    };
    let tell = |what: String, found, limit: (&crate::model::Limit, _)| {
        Some(
            context
                .fault(&META, subject, at, what)
                .against(limit.0)
                .measured(context.measure(found))
                .wanted(context.measure(limit.1))
                .help("add fasteners; follow the spacing of the cladding where it is closer"),
        )
    };
    if every > spacing.1 {
        let what =
            format!("`{name}` is fixed every {}; {} at the most", context.shown(every), context.shown(spacing.1));
        return tell(what, every, spacing);
    }
    match fasten.end_distance {
        None => {
            unknown(format!("how far the last fastener of `{name}` stays from its end is not said (`end_distance`)"))
        }
        Some(last) if last > end.1 => {
            let what = format!(
                "the end of `{name}` hangs free for {}; {} at the most",
                context.shown(last),
                context.shown(end.1)
            );
            tell(what, last, end)
        }
        Some(_) => None,
    }
}
