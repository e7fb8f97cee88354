//! A walk over the statements of a declaration, each with the row the schema has for it where it stands.

use crate::schema::{self, Row};
use crate::syntax::Statement;

/// A statement as it is met.
pub struct Seen<'v, 'g> {
    /// The statement.
    pub statement: &'g Statement,
    /// Its row, where the schema knows it here.
    pub row: Option<&'static Row>,
    /// The statements in whose blocks it stands, outermost first.
    pub round: &'v [&'g Statement],
}

/// Meets a declaration and all clauses in it, in the order of the text.
pub fn visit<'g>(declaration: &'g Statement, meet: &mut dyn FnMut(&Seen<'_, 'g>)) {
    step(declaration, "file", &mut Vec::new(), meet);
}

fn step<'g>(
    statement: &'g Statement,
    context: &'static str,
    round: &mut Vec<&'g Statement>,
    meet: &mut dyn FnMut(&Seen<'_, 'g>),
) {
    let row = schema::find(context, &statement.keyword.text);
    meet(&Seen { statement, row, round });
    // A statement that takes no clauses passes what stands behind its commas to the block round it.
    let passes = row.is_some_and(|row| row.body.is_empty()) && statement.block.is_none();
    if passes {
        return statement.clauses.iter().for_each(|clause| step(clause, context, round, meet));
    }
    // `after` holds what may stand beside it.
    let inner = row.map_or("", |row| row.body);
    round.push(statement);
    statement.clauses.iter().for_each(|clause| step(clause, inner, round, meet));
    round.pop();
}
