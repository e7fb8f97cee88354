//! Colours of a text as the client holds them, so that after an edit only what changed is sent.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use tower_lsp_server::ls_types::{
    SemanticToken, SemanticTokens, SemanticTokensDelta, SemanticTokensDeltaParams, SemanticTokensEdit,
    SemanticTokensFullDeltaResult, Uri,
};

use super::shape;
use crate::convert;
use crate::state::State;

/// Numbers that make up one word of a colour on the wire; edits count them.
const NUMBERS: usize = 5;

/// The colours that were given last of every text, each under a name of its own.
#[derive(Debug, Default)]
pub struct Painted {
    count: u64,
    given: BTreeMap<PathBuf, (String, Vec<SemanticToken>)>,
}

impl Painted {
    /// Forgets a text that is not shown any more.
    pub fn forget(&mut self, path: &Path) {
        self.given.remove(path);
    }

    /// What was given under a name, if that was the last.
    fn take(&mut self, uri: &Uri, name: &str) -> Option<Vec<SemanticToken>> {
        let (known, data) = self.given.remove(&convert::path(uri)?)?;
        (known == name).then_some(data)
    }

    fn keep(&mut self, uri: &Uri, data: &[SemanticToken]) -> Option<String> {
        self.count += 1;
        let name = self.count.to_string();
        self.given.insert(convert::path(uri)?, (name.clone(), data.to_vec()));
        Some(name)
    }
}

/// All colours of a text. Those of a text of the library never change and need no name.
pub fn whole(state: &mut State, uri: &Uri) -> Option<SemanticTokens> {
    let mut tokens = shape::colours(state, uri, None)?;
    tokens.result_id = state.painted.keep(uri, &tokens.data);
    Some(tokens)
}

/// What changed since the client was given colours last; all of them, if it holds others.
pub fn changed(state: &mut State, params: &SemanticTokensDeltaParams) -> Option<SemanticTokensFullDeltaResult> {
    let uri = &params.text_document.uri;
    let before = state.painted.take(uri, &params.previous_result_id);
    let tokens = whole(state, uri)?;
    Some(match before {
        None => tokens.into(),
        Some(before) => {
            let edits = edits(&before, &tokens.data).into_iter().collect();
            SemanticTokensDelta { result_id: tokens.result_id, edits }.into()
        }
    })
}

/// The one edit from one list to another; none if they are alike.
fn edits(before: &[SemanticToken], after: &[SemanticToken]) -> Option<SemanticTokensEdit> {
    let front = before.iter().zip(after).take_while(|(old, new)| old == new).count();
    let (old, new) = (before.get(front..)?, after.get(front..)?);
    let back = old.iter().rev().zip(new.iter().rev()).take_while(|(old, new)| old == new).count();
    let (gone, data) = (old.len() - back, new.get(..new.len() - back)?);
    (gone > 0 || !data.is_empty()).then(|| SemanticTokensEdit {
        start: (front * NUMBERS) as u32,
        delete_count: (gone * NUMBERS) as u32,
        data: Some(data.to_vec()),
    })
}
