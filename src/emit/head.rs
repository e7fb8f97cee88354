//! What stands at the head of every page.

use maud::{Markup, PreEscaped, html};

/// The head of a page that needs nothing from elsewhere; its styles stand in it.
pub(super) fn head(title: &str, style: &str) -> Markup {
    html! {
        head {
            meta charset="utf-8";
            meta name="viewport" content="width=device-width, initial-scale=1";
            title { (title) }
            style { (PreEscaped(style)) }
        }
    }
}
