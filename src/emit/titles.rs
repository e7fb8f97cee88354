//! The frame of every sheet: its title, whose it is, its revision, the line every output carries.

use super::drawing::TitleBlock;
use super::footer_line;
use crate::session::Account;

/// The texts of the frame for a sheet with this title.
pub fn block<'w>(of: impl Into<Account<'w>>, title: &str) -> TitleBlock {
    let account = of.into();
    let project = &account.model.project;
    let subtitle = if project.title.is_empty() { &project.name } else { &project.title };
    TitleBlock {
        title: title.to_owned(),
        subtitle: subtitle.clone(),
        footer: footer_line(account),
        revision: (!project.revision.is_empty()).then(|| project.revision.clone()),
        date: account.today.map(|today| today.to_string()),
        lead: project.units,
        ..TitleBlock::default()
    }
}
