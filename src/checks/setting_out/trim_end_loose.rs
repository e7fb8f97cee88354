//! The end of a length of trim that nothing holds.

use crate::checks::trims::{Laid, judge_each};
use crate::checks::{CheckContext, Finding, Grade, Rule, RuleMeta};
use crate::layout::trims::{self, CUT_FOR, TrimPiece};

/// `trim.end_loose`
pub struct TrimEndLoose;

static META: RuleMeta = RuleMeta {
    id: "trim.end_loose",
    catalogue: "",
    title: "the end of a length of trim hangs loose",
    grade: Grade::S3,
    before: "H4",
    limits: &["trim.end_fixing"],
    explain: "\
# What it checks
Every length that a trim with rows of `fix` holes is cut into: how far its first and its last fixing lie from its ends.

# Why
An end that nothing holds lifts in the wind, rattles, opens at the lap and lets water in.

# Example
    trim base_channel channels.raked along base {
        holes fix 4.5mm, leg back, on studs, end_distance 50mm
    }

# Better
The stud at the corner is 19 mm from the end; so near to it a hole in metal may come.
    trim base_channel channels.raked along base {
        holes fix 4.5mm, leg back, on studs, end_distance 12mm
    }

# Basis
100 mm; lengths are cut so that their ends land near what carries: common practice.

# Known gaps
Trims that are parts of details are not judged: the sheet of holes says of such an end that a block belongs there.
",
};

impl Rule for TrimEndLoose {
    fn meta(&self) -> &'static RuleMeta {
        &META
    }

    fn run(&self, context: &CheckContext<'_>, report: &mut Vec<Finding>) {
        report.extend(judge_each(context, judge));
    }
}

fn judge(context: &CheckContext<'_>, laid: &Laid<'_>) -> Option<Finding> {
    let row = laid.trim.holes.iter().find(|row| row.purpose == "fix")?;
    let unknown = |missing: String| Some(context.unknown(&META, laid.subject.clone(), row.origin, missing));
    let Some((limit, most)) = context.limit("trim.end_fixing").and_then(|limit| Some((limit, limit.length()?))) else {
        return unknown("no rule set in force has a limit `trim.end_fixing`".to_owned());
    };
    let made = trims::of_profiles(context.model, context.plan, laid.face, CUT_FOR);
    let own: Vec<&TrimPiece> = made.iter().filter(|piece| piece.name == laid.subject).collect();
    if let Some(lacks) = own.iter().flat_map(|piece| &piece.rows).find_map(|row| row.lacks.clone()) {
        return unknown(format!("{lacks} is not said"));
    }
    let loose = own.iter().flat_map(|piece| {
        let free = piece.free_ends().into_iter().flatten();
        free.enumerate().map(|(end, length)| (length, end, *piece))
    });
    let (found, end, piece) =
        loose.max_by_key(|(length, end, piece)| (*length, std::cmp::Reverse((piece.place.0, *end))))?;
    if found <= most {
        return None;
    }
    let which = if piece.place.1 > 1 {
        format!("length {} of `{}`", piece.place.0, laid.trim.name)
    } else {
        format!("`{}`", laid.trim.name)
    };
    let end = match (piece.line.is_vertical(), end) {
        (false, 0) => "left",
        (false, _) => "right",
        (true, 0) => "lower",
        (true, _) => "upper",
    };
    let message = format!(
        "the {end} end of {which} hangs loose for {}; {} at the most",
        context.shown(found),
        context.shown(most)
    );
    Some(
        context
            .fault(&META, laid.subject.clone(), row.origin, message)
            .against(limit)
            .measured(context.measure(found))
            .wanted(context.measure(most))
            .help(
                "let holes come nearer to the end (`end_distance`), cut the lengths so that ends land near what carries, or \
                 back the end with a block and drill it there",
            ),
    )
}
