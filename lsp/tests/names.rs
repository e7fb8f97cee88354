//! Names over the wire: definition into the library, rename across files with versions, refusals, outline, formatting.
#![allow(missing_docs, clippy::unwrap_used)]

mod support;

use serde_json::{Value, json};
use support::{Wire, at as edit, uri};

const DETAILS: &str = "wythe 1\n\nuse std.details\n\ndetail house_base {\n    like details.screened_base\n}\n";
const NORTH: &str = "wythe 1\n\nuse details (house_base)\n\nface north {\n    outline from (0, 0) {\n        base to (4m, 0), detail house_base\n        right to (4m, 3m)\n        top to (0, 3m)\n        left to start\n    }\n}\n";

fn at(path: &std::path::Path, line: u32, character: u32) -> Value {
    json!({"textDocument": {"uri": uri(path)}, "position": {"line": line, "character": character}})
}

#[test]
fn names_and_shapes_over_the_wire() {
    let folder = tempfile::tempdir().unwrap();
    let (details, north) = (folder.path().join("details.wythe"), folder.path().join("north.wythe"));
    std::fs::write(&details, DETAILS).unwrap();
    std::fs::write(&north, NORTH).unwrap();
    let mut wire = Wire::begin(json!({"workspace": {"workspaceEdit": {"documentChanges": true}}}), &[folder.path()]);
    wire.open(&north, NORTH);

    // To another file, and from there into a text of the library that the server gives.
    let found = wire.ask("textDocument/definition", at(&north, 6, 36));
    assert_eq!(found["result"][0]["uri"], uri(&details));
    assert_eq!(found["result"][0]["range"]["start"], json!({"line": 4, "character": 7}));
    let found = wire.ask("textDocument/definition", at(&details, 5, 20));
    let library = found["result"][0]["uri"].as_str().unwrap().to_owned();
    assert_eq!(library, "wythe-std:/details.wythe");
    let line = found["result"][0]["range"]["start"]["line"].as_u64().unwrap() as usize;
    let text = wire.ask("wythe/text", json!({"uri": library}));
    assert!(text["result"]["text"].as_str().unwrap().lines().nth(line).unwrap().starts_with("detail screened_base"));

    // Rename: both files, the open one at its version; and what is refused says why.
    let ready = wire.ask("textDocument/prepareRename", at(&north, 6, 36));
    assert_eq!(ready["result"]["placeholder"], "house_base");
    let mut params = at(&north, 6, 36);
    params["newName"] = json!("foot");
    let edit = wire.ask("textDocument/rename", params.clone());
    let changes = edit["result"]["documentChanges"].as_array().unwrap();
    let counts: Vec<(String, Value, usize)> = changes
        .iter()
        .map(|one| {
            let document = &one["textDocument"];
            let count = one["edits"].as_array().unwrap().len();
            (document["uri"].as_str().unwrap().to_owned(), document["version"].clone(), count)
        })
        .collect();
    assert!(
        counts.contains(&(uri(&north), json!(1), 2)) && counts.contains(&(uri(&details), Value::Null, 1)),
        "{counts:?}"
    );
    params["newName"] = json!("2nd");
    let refused = wire.ask("textDocument/rename", params);
    assert!(refused["error"]["message"].as_str().unwrap().contains("is no name"), "{refused}");
    let refused = wire.ask("textDocument/prepareRename", at(&details, 5, 20));
    assert!(refused["error"]["message"].as_str().unwrap().contains("belongs to the library"), "{refused}");

    // A file that moves takes its `use` line along.
    let files = json!([{"oldUri": uri(&details), "newUri": uri(&folder.path().join("joints.wythe"))}]);
    let edit = wire.ask("workspace/willRenameFiles", json!({"files": files}));
    assert_eq!(edit["result"]["documentChanges"][0]["edits"][0]["newText"], "joints");

    // The shape of the text.
    let document = json!({"textDocument": {"uri": uri(&north)}});
    let outline = wire.ask("textDocument/documentSymbol", document.clone());
    assert_eq!(outline["result"][0]["name"], "north");
    assert_eq!(outline["result"][0]["children"].as_array().unwrap().len(), 4);
    let colours = wire.ask("textDocument/semanticTokens/full", document.clone());
    let data = colours["result"]["data"].as_array().unwrap();
    assert!(data.len() > 100 && data.len().is_multiple_of(5));
    assert_eq!(&data[..5], [json!(0), json!(0), json!(5), json!(0), json!(0)]);
    let lenses = wire.ask("textDocument/codeLens", document.clone());
    assert_eq!(lenses["result"][1]["command"]["command"], "wythe.draw");
    let folds = wire.ask("textDocument/foldingRange", document.clone());
    assert!(folds["result"].as_array().unwrap().iter().any(|fold| fold["startLine"] == 4 && fold["endLine"] == 10));
    let mut options = document;
    options["options"] = json!({"tabSize": 4, "insertSpaces": true});
    let edits = wire.ask("textDocument/formatting", options);
    assert_eq!(edits["result"], json!([]));
    let symbols = wire.ask("workspace/symbol", json!({"query": "hbase"}));
    assert_eq!(symbols["result"][0]["name"], "house_base");

    // What uses a detail.
    let items = wire.ask("textDocument/prepareCallHierarchy", at(&details, 4, 8));
    let calls = wire.ask("callHierarchy/incomingCalls", json!({"item": items["result"][0]}));
    assert_eq!(calls["result"][0]["from"]["name"], "north");
}

#[test]
fn after_an_edit_only_changed_colours_are_sent() {
    let home = tempfile::tempdir().unwrap();
    let path = home.path().join("details.wythe");
    let mut wire = Wire::begin(json!({}), &[home.path()]);
    wire.open(&path, "wythe 1\n\n/// A base.\ndetail foot {\n    keep 150mm\n}\n\ndetail other {\n    like foot\n}\n");
    let document = json!({"textDocument": {"uri": uri(&path)}});
    let first = wire.ask("textDocument/semanticTokens/full", document.clone())["result"].clone();
    let mut held = first["data"].as_array().unwrap().clone();
    let mut name = first["resultId"].clone();
    // A word, a line, nothing at all, a line taken out.
    let edits = [
        edit(4, 9, 12, "20"),
        edit(4, 4, 4, "// why\n    "),
        edit(0, 7, 7, ""),
        json!({"range": {"start": {"line": 4, "character": 0}, "end": {"line": 5, "character": 0}}, "text": ""}),
    ];
    for (count, change) in edits.into_iter().enumerate() {
        wire.change(&path, count as i64 + 2, json!([change]));
        let mut asked = document.clone();
        asked["previousResultId"] = name.clone();
        let delta = wire.ask("textDocument/semanticTokens/full/delta", asked.clone())["result"].clone();
        let edits = delta["edits"].as_array().unwrap_or_else(|| panic!("{delta}"));
        assert!(edits.len() <= 1);
        for edit in edits {
            let (start, gone) =
                (edit["start"].as_u64().unwrap() as usize, edit["deleteCount"].as_u64().unwrap() as usize);
            let data = edit["data"].as_array().cloned().unwrap_or_default();
            assert!(data.len() < held.len() / 2, "not all of it again: {edit}");
            held.splice(start..start + gone, data);
        }
        // What was asked with an old name is answered whole; that gives the name for the next edit.
        let whole = wire.ask("textDocument/semanticTokens/full/delta", asked)["result"].clone();
        assert_eq!(whole["data"].as_array(), Some(&held));
        name = whole["resultId"].clone();
    }
}
