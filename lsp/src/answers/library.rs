//! Texts of the library, which the client shows in documents that can be read only.

use serde::{Deserialize, Serialize};
use tower_lsp_server::ls_types::Uri;

use crate::convert;

/// Which text.
#[derive(Debug, Deserialize, Serialize)]
pub struct TextParams {
    /// `wythe-std:/NAME.wythe`.
    pub uri: Uri,
}

/// A whole text.
#[derive(Debug, Deserialize, Serialize, PartialEq, Eq)]
pub struct TextResult {
    /// The text.
    pub text: String,
}

/// The text of a module of the library; `None` if there is no such module.
pub fn text(params: &TextParams) -> Option<TextResult> {
    let module = convert::library_module(&params.uri)?;
    wythe::resolve::library::text(&module).map(|text| TextResult { text: text.to_owned() })
}
