//! Drawings: of what is under the cursor, of the way of water there, and small ones in hovers.

use serde::{Deserialize, Serialize};
use serde_json::Value;
use tower_lsp_server::ls_types::{ExecuteCommandParams, Position, TextDocumentPositionParams, Uri};
use wythe::ide::{self, Drawn};

use crate::state::{Desk, State};

/// The command of the lens that draws.
pub const DRAW: &str = "wythe.draw";
/// The command of the lens that follows water.
pub const TRACE: &str = "wythe.trace";

/// A sheet, or in `note` why there is none.
#[derive(Debug, Default, Serialize, PartialEq, Eq)]
pub struct DrawingResult {
    /// What it shows.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub title: Option<String>,
    /// The sheet.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub svg: Option<String>,
    /// The same in words, for the way of water.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub text: Option<String>,
    /// Why nothing is drawn.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub note: Option<String>,
}

impl From<Drawn> for DrawingResult {
    fn from(drawn: Drawn) -> Self {
        match drawn {
            Ok(drawing) => Self { title: Some(drawing.title), svg: Some(drawing.svg), text: drawing.text, note: None },
            Err(note) => Self { note: Some(note), ..Self::default() },
        }
    }
}

/// The first argument of the commands, as lenses give it.
#[derive(Debug, Deserialize)]
struct Place {
    uri: Uri,
    position: Position,
}

type Draw = fn(&Desk<'_>, u32) -> Drawn;

fn draw(state: &mut State, uri: &Uri, position: Position, with: Draw) -> DrawingResult {
    match state.desk(uri) {
        Some(desk) => with(&desk, desk.offset(position)).into(),
        None => DrawingResult { note: Some("this text lies in no open project".to_owned()), ..Default::default() },
    }
}

fn under_cursor(desk: &Desk<'_>, offset: u32) -> Drawn {
    ide::drawing(desk.glance, desk.file, offset)
}

fn water(desk: &Desk<'_>, offset: u32) -> Drawn {
    ide::traced(desk.glance, desk.file, offset)
}

/// The drawing of what is under the cursor.
pub fn drawing(state: &mut State, place: &TextDocumentPositionParams) -> DrawingResult {
    draw(state, &place.text_document.uri, place.position, under_cursor)
}

/// Does what a lens asks for; the reason if it cannot be understood.
pub fn run(state: &mut State, params: ExecuteCommandParams) -> Result<Option<Value>, String> {
    let with: Draw = match params.command.as_str() {
        DRAW => under_cursor,
        TRACE => water,
        other => return Err(format!("there is no command `{other}`")),
    };
    let place = params.arguments.into_iter().next().and_then(|first| serde_json::from_value::<Place>(first).ok());
    let Some(Place { uri, position }) = place else {
        return Err(format!("`{}` takes one argument: {{ uri, position }}", params.command));
    };
    Ok(serde_json::to_value(draw(state, &uri, position, with)).ok())
}

/// The small drawing of a place as an image in markdown.
pub fn image(desk: &Desk<'_>, offset: u32) -> Option<String> {
    let svg = ide::picture(desk.glance, desk.file, offset)?;
    Some(format!("![drawing](data:image/svg+xml;base64,{})", base64(svg.as_bytes())))
}

/// RFC 4648, section 4.
fn base64(bytes: &[u8]) -> String {
    const DIGITS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut out = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for chunk in bytes.chunks(3) {
        let byte = |at: usize| u32::from(chunk.get(at).copied().unwrap_or(0));
        let word = byte(0) << 16 | byte(1) << 8 | byte(2);
        for at in 0..4 {
            let digit = DIGITS.get((word >> (18 - 6 * at) & 63) as usize).copied();
            out.push(if at > chunk.len() { '=' } else { digit.map_or('=', char::from) });
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::base64;

    /// The vectors of RFC 4648, section 10.
    #[test]
    fn bytes_are_written_in_base_64() {
        let told = ["", "f", "fo", "foo", "foob", "fooba", "foobar"].map(|text| base64(text.as_bytes()));
        assert_eq!(told, ["", "Zg==", "Zm8=", "Zm9v", "Zm9vYg==", "Zm9vYmE=", "Zm9vYmFy"]);
    }
}
