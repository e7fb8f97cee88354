//! The list of all rules, in the order in which they run and are listed.

use super::Rule;

/// Every rule. A test holds that each file of a family is listed here and has its cases.
pub static RULES: &[&dyn Rule] = &[];

/// A rule by id or by its number in the catalogue.
pub fn rule(name: &str) -> Option<&'static dyn Rule> {
    RULES.iter().copied().find(|rule| rule.meta().id == name || rule.meta().catalogue.eq_ignore_ascii_case(name))
}
