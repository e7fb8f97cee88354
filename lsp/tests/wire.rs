//! The server as a process: framed messages over standard input and output.
#![allow(missing_docs, clippy::unwrap_used)]

mod support;

use std::path::{Path, PathBuf};

use serde_json::{Value, json};
use support::{Wire, at, uri};

/// A folder with files.
fn folder(files: &[(&str, &str)]) -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    for (name, text) in files {
        let path = folder.path().join(name);
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, text).unwrap();
    }
    let path = folder.path().to_owned();
    (folder, path)
}

fn codes(marks: &[Value]) -> Vec<&str> {
    marks.iter().map(|mark| mark["code"].as_str().unwrap()).collect()
}

#[test]
fn open_mend_and_close_over_the_wire() {
    let (_keep, home) = folder(&[]);
    let wall = home.join("wall.wythe");
    let mut wire = Wire::start();
    let answer = wire.ask("initialize", json!({"capabilities": {}, "processId": null}));
    assert_eq!(answer["result"]["capabilities"]["positionEncoding"], "utf-16");
    wire.tell("initialized", json!({}));
    wire.open(&wall, "wythe 1\nfase north {\n}\n");
    let marks = wire.marks(&wall, Some(1));
    assert_eq!(marks.len(), 1, "{marks:?}");
    assert_eq!(marks[0]["range"]["start"]["line"], 1);
    wire.change(&wall, 2, json!([{"text": "wythe 1\n"}]));
    assert!(wire.marks(&wall, Some(2)).is_empty());
    wire.change(&wall, 3, json!([{"text": "wythe 1\nfase north {\n}\n"}]));
    assert_eq!(wire.marks(&wall, Some(3)).len(), 1);
    wire.tell("textDocument/didClose", json!({"textDocument": {"uri": uri(&wall)}}));
    assert!(wire.marks(&wall, None).is_empty(), "what was never saved has no marks once it is closed");
    assert!(wire.ask("shutdown", Value::Null)["result"].is_null());
    wire.tell("exit", Value::Null);
    assert_eq!(wire.ends(), Some(0));
}

#[test]
fn edits_of_parts_count_columns_as_the_client_does() {
    for (encodings, x) in [(json!(["utf-16"]), 6), (json!(["utf-8", "utf-16"]), 9)] {
        let (_keep, home) = folder(&[]);
        let wall = home.join("wall.wythe");
        let mut wire = Wire::begin(json!({"general": {"positionEncodings": encodings}}), &[&home]);
        wire.open(&wall, "wythe 1\n//°𝄞x site here {\n");
        wire.marks(&wall, Some(1));
        // From inside of the comment to after it: what follows is a declaration now, and its mistake is told of.
        wire.change(&wall, 2, json!([at(1, x - 1, x, "\nsite here {\n    snow 2kPa\n} //")]));
        let marks = wire.marks(&wall, Some(2));
        assert_eq!(marks.len(), 1, "{marks:?}");
        assert_eq!(marks[0]["range"]["start"], json!({"line": 3, "character": 9}));
        wire.change(&wall, 3, json!([at(1, 0, 2, ""), at(1, 0, 0, "//"), at(3, 4, 13, "")]));
        assert!(wire.marks(&wall, Some(3)).is_empty());
    }
}

#[test]
fn a_client_that_asks_for_marks_is_told_none_unasked() {
    let (_keep, home) = folder(&[("other.wythe", "wythe 1\nfase south {\n}\n")]);
    let wall = home.join("wall.wythe");
    let mut wire = Wire::begin(json!({"textDocument": {"diagnostic": {}}}), &[&home]);
    wire.open(&wall, "wythe 1\nfase north {\n}\n");
    let ask = |wire: &mut Wire, before: Value| {
        let params = json!({"textDocument": {"uri": uri(&wall)}, "previousResultId": before});
        wire.ask("textDocument/diagnostic", params)["result"].clone()
    };
    let first = ask(&mut wire, Value::Null);
    assert_eq!((&first["kind"], first["items"].as_array().unwrap().len()), (&json!("full"), 1), "{first}");
    let again = ask(&mut wire, first["resultId"].clone());
    assert_eq!(again, json!({"kind": "unchanged", "resultId": first["resultId"]}));
    let all = wire.ask("workspace/diagnostic", json!({"previousResultIds": []}));
    let items = all["result"]["items"].as_array().unwrap();
    let counts: Vec<(&Value, usize)> =
        items.iter().map(|one| (&one["uri"], one["items"].as_array().unwrap().len())).collect();
    assert_eq!(counts, [(&json!(uri(&home.join("other.wythe"))), 1), (&json!(uri(&wall)), 1)]);
    wire.change(&wall, 2, json!([{"text": "wythe 1\n"}]));
    assert!(ask(&mut wire, first["resultId"].clone())["items"].as_array().unwrap().is_empty());
    assert!(wire.seen.iter().all(|message| message["method"] != "textDocument/publishDiagnostics"), "{:?}", wire.seen);
}

#[test]
fn two_projects_are_open_at_once() {
    let site = "wythe 1\n\nsite here {\n    snow 2kPa\n}\n";
    let (_keep, one) = folder(&[("site.wythe", site)]);
    let (_keep_too, other) = folder(&[("deep/house/site.wythe", site), ("deep/house/walls/north.wythe", "fase\n")]);
    let mut wire = Wire::begin(json!({}), &[&one, &other]);
    wire.open(&one.join("site.wythe"), site);
    assert_eq!(wire.marks(&one.join("site.wythe"), Some(1)).len(), 1);
    let north = other.join("deep/house/walls/north.wythe");
    wire.open(&north, "wythe 1\nfase north {\n}\n");
    assert_eq!(wire.marks(&north, Some(1)).len(), 1);
    let outer = wire.marks(&other.join("deep/house/site.wythe"), None);
    assert_eq!(outer.len(), 1, "the project of a text is the outermost folder with texts: {outer:?}");
    wire.change(&north, 2, json!([{"text": "wythe 1\n"}]));
    assert!(wire.marks(&north, Some(2)).is_empty());
    assert!(wire.seen.iter().all(|message| message["params"]["uri"] != uri(&one.join("site.wythe"))), "one stays");
}

#[test]
fn files_that_go_or_move_take_their_marks_along() {
    let broken = "wythe 1\nfase north {\n}\n";
    let (_keep, home) = folder(&[("wall.wythe", "wythe 1\n"), ("gone.wythe", broken), ("open.wythe", broken)]);
    let (wall, gone, open) = (home.join("wall.wythe"), home.join("gone.wythe"), home.join("open.wythe"));
    let dynamic = json!({"workspace": {"didChangeWatchedFiles": {"dynamicRegistration": true}}});
    let mut wire = Wire::begin(dynamic, &[&home]);
    let registered = wire.until(|message| message["method"] == "client/registerCapability");
    let watchers = &registered["params"]["registrations"][0]["registerOptions"]["watchers"];
    assert_eq!(watchers[0]["globPattern"], "**/*.wythe");
    wire.open(&wall, "wythe 1\n");
    assert_eq!(wire.marks(&gone, None).len(), 1);
    assert_eq!(wire.marks(&open, None).len(), 1);
    wire.open(&open, broken);
    assert_eq!(wire.marks(&open, Some(1)).len(), 1);

    std::fs::remove_file(&gone).unwrap();
    std::fs::remove_file(&open).unwrap();
    let deleted = |path: &Path| json!({"uri": uri(path), "type": 3});
    wire.tell("workspace/didChangeWatchedFiles", json!({"changes": [deleted(&gone), deleted(&open)]}));
    assert!(wire.marks(&gone, None).is_empty());
    wire.change(&open, 2, json!([at(1, 0, 4, "fice")]));
    assert_eq!(wire.marks(&open, Some(2)).len(), 1, "what is open is there, deleted or not");

    // The client moves it: it closes the old path and opens the new one.
    let moved = home.join("moved.wythe");
    wire.tell("textDocument/didClose", json!({"textDocument": {"uri": uri(&open)}}));
    wire.open(&moved, broken);
    assert!(wire.marks(&open, None).is_empty());
    assert_eq!(wire.marks(&moved, Some(1)).len(), 1);
}

#[test]
fn settings_make_a_family_loud_or_silent() {
    let (_keep, home) = folder(&[]);
    let wall = home.join("wall.wythe");
    let mut wire = Wire::begin(json!({}), &[&home]);
    wire.open(&wall, "wythe 1\nfase north {\n}\n");
    let marks = wire.marks(&wall, Some(1));
    assert_eq!(marks[0]["severity"], 1);
    let code = codes(&marks)[0].to_owned();
    let set = |severity: Value| json!({"settings": {"wythe": {"severity": severity}}});
    wire.tell("workspace/didChangeConfiguration", set(json!({"text": "note"})));
    assert_eq!(wire.marks(&wall, Some(1))[0]["severity"], 3);
    wire.tell("workspace/didChangeConfiguration", set(json!({"text": "note", code: "off"})));
    assert!(wire.marks(&wall, Some(1)).is_empty());
    wire.tell("workspace/didChangeConfiguration", set(json!({"text": "thunderous"})));
    assert_eq!(wire.marks(&wall, Some(1))[0]["severity"], 1, "a word that is no loudness changes nothing");
}

/// Larch that stays 190 mm above the ground.
const WALL_NEAR_GROUND: &str = "wythe 1

use std.boards
use std.details (corner_boards, eave, screened_base)

assembly wall {
    layer boards boards.larch 20mm
    gap cavity 19mm ventilated
    layer sheathing plywood 12.5mm
    frame studs spruce 38mm x 140mm, every 16in on centre
}

face north {
    measured to sheathing
    base 0 from 0 to 4800mm, detail screened_base
    top 2700mm, detail eave
    left, detail corner_boards
    right, detail corner_boards
    ground at left -190mm, surface soil
    area all wall
}
";

#[test]
fn a_rule_set_of_the_user_is_asked_instead_of_the_project_s() {
    let (_keep, home) = folder(&[]);
    let path = home.join("wall.wythe");
    let mut wire = Wire::begin(json!({}), &[&home]);
    wire.open(&path, WALL_NEAR_GROUND);
    let near = |marks: &[Value]| marks.iter().find(|mark| mark["code"] == "base.near_ground").cloned();
    let set = |name: &str| json!({"settings": {"wythe": {"limits": name}}});
    // 190 mm is less than the 200 mm of common practice and of Canada, which is published, and more than New Zealand's 175 mm.
    let own = near(&wire.marks(&path, Some(1))).unwrap();
    wire.tell("workspace/didChangeConfiguration", set("canada_part9_2020"));
    let canada = near(&wire.marks(&path, Some(1))).unwrap();
    assert!(canada["message"].as_str().unwrap().contains("NBC Part 9"), "{canada}");
    assert_eq!((&own["severity"], &canada["severity"]), (&json!(2), &json!(1)));
    wire.tell("workspace/didChangeConfiguration", set("nz_e2_as1"));
    assert_eq!(near(&wire.marks(&path, Some(1))), None);
    wire.tell("workspace/didChangeConfiguration", set("nowhere"));
    assert_eq!(near(&wire.marks(&path, Some(1))), Some(own), "a name that is none changes nothing");
}

#[test]
fn a_text_that_was_never_saved_is_checked_alone() {
    let (_keep, home) = folder(&[("site.wythe", "wythe 1\n\nsite here {\n}\n")]);
    let mut wire = Wire::begin(json!({}), &[&home]);
    let uri = "untitled:Untitled-1%20new";
    let open = json!({"uri": uri, "languageId": "wythe", "version": 1, "text": "wythe 1\n\nsite here {\n}\n\nfase north {\n}\n"});
    wire.tell("textDocument/didOpen", json!({"textDocument": open}));
    let marks = |version: Option<i64>, wire: &mut Wire| {
        let published =
            wire.until(|message| message["params"]["uri"] == uri && message["params"]["version"].as_i64() == version);
        published["params"]["diagnostics"].as_array().unwrap().clone()
    };
    let found = marks(Some(1), &mut wire);
    assert_eq!(
        codes(&found),
        ["text.unknown_declaration"],
        "a second site would be told of if the folder was looked at"
    );
    let change = json!({"textDocument": {"uri": uri, "version": 2}, "contentChanges": [at(5, 0, 4, "face")]});
    wire.tell("textDocument/didChange", change);
    assert!(!codes(&marks(Some(2), &mut wire)).contains(&"text.unknown_declaration"));
    let outline = wire.ask("textDocument/documentSymbol", json!({"textDocument": {"uri": uri}}));
    assert_eq!(outline["result"][1]["name"], "north", "{outline}");
    wire.tell("textDocument/didClose", json!({"textDocument": {"uri": uri}}));
    assert!(marks(None, &mut wire).is_empty());
}

#[test]
fn marks_point_at_other_files() {
    let site = "wythe 1\n\nsite here {\n}\n";
    let (_keep, home) = folder(&[("one.wythe", site), ("two.wythe", site)]);
    let related = json!({"textDocument": {"publishDiagnostics": {"relatedInformation": true}}});
    let mut wire = Wire::begin(related, &[&home]);
    let two = home.join("two.wythe");
    wire.open(&two, site);
    let marks = wire.marks(&two, Some(1));
    let there = &marks[0]["relatedInformation"][0]["location"];
    assert_eq!(there["uri"], uri(&home.join("one.wythe")), "{marks:?}");
    assert_eq!(there["range"]["start"]["line"], 2);
}

#[test]
fn the_library_can_be_read() {
    let mut wire = Wire::begin(json!({}), &[]);
    let answer = wire.ask("wythe/text", json!({"uri": "wythe-std:/boards.wythe"}));
    assert!(answer["result"]["text"].as_str().unwrap().contains("larch"), "{answer}");
    assert!(wire.ask("wythe/text", json!({"uri": "wythe-std:/nothing.wythe"}))["result"].is_null());
    assert!(wire.ask("wythe/text", json!({"uri": "file:///etc/hostname"}))["result"].is_null());
}

#[test]
fn what_is_not_understood_is_refused_and_the_next_works() {
    let mut wire = Wire::begin(json!({}), &[]);
    assert_eq!(wire.ask("wythe/nonsense", json!({}))["error"]["code"], -32601);
    assert_eq!(wire.ask("wythe/text", json!({"wrong": 1}))["error"]["code"], -32602);
    wire.tell("wythe/nonsense", json!({}));
    wire.change(Path::new("/never/opened.wythe"), 3, json!([at(9, 9, 9, "x")]));
    assert!(wire.ask("wythe/text", json!({"uri": "wythe-std:/boards.wythe"}))["result"].is_object());
}

#[test]
fn a_client_that_hangs_up_leaves_no_process() {
    let mut wire = Wire::begin(json!({}), &[]);
    wire.hang_up();
    assert_eq!(wire.ends(), Some(1));
    let mut wire = Wire::begin(json!({}), &[]);
    wire.tell("exit", Value::Null);
    assert_eq!(wire.ends(), Some(1), "it left without asking to shut down");
}

#[test]
fn a_client_that_dies_leaves_no_process() {
    let mut parent = std::process::Command::new("sleep").arg("600").spawn().unwrap();
    let mut wire = Wire::start();
    wire.ask("initialize", json!({"capabilities": {}, "processId": parent.id()}));
    assert!(wire.child.try_wait().unwrap().is_none());
    parent.kill().unwrap();
    assert_eq!(wire.ends(), Some(1), "not even buried, it counts as gone");
    parent.wait().unwrap();
}

/// Completion, hover, form and hints of one small text.
#[test]
fn values_are_told_over_the_wire() {
    let folder = tempfile::tempdir().unwrap();
    let uri = format!("file://{}/wall.wythe", folder.path().display());
    let mut wire = Wire::start();
    let client = json!({"textDocument": {"hover": {"contentFormat": ["markdown"]},
        "completion": {"completionItem": {"snippetSupport": true}}}});
    wire.send(&json!({"jsonrpc": "2.0", "id": 1, "method": "initialize", "params":
        {"capabilities": client, "processId": null, "initializationOptions": {"hints": {"edge": false}}}}));
    let answer = wire.until(|message| message["id"] == 1);
    for offered in ["completionProvider", "hoverProvider", "inlayHintProvider", "signatureHelpProvider"] {
        assert!(!answer["result"]["capabilities"][offered].is_null(), "{offered}: {answer}");
    }
    wire.send(&json!({"jsonrpc": "2.0", "method": "initialized", "params": {}}));
    // The second line has letters of two bytes and of two units before the place that is asked.
    let text = "wythe 1\n// é𝄞\nface north {\n    window k frame 4ft x 5ft, trims 89mm on \n}\n";
    wire.send(&json!({"jsonrpc": "2.0", "method": "textDocument/didOpen", "params": {"textDocument":
        {"uri": uri, "languageId": "wythe", "version": 1, "text": text}}}));
    let mut ask = |id: u64, method: &str, line: u32, character: u32| {
        let place = json!({"textDocument": {"uri": uri}, "position": {"line": line, "character": character},
            "range": {"start": {"line": 0, "character": 0}, "end": {"line": 9, "character": 0}}});
        wire.send(&json!({"jsonrpc": "2.0", "id": id, "method": method, "params": place}));
        wire.until(|message| message["id"] == id)["result"].clone()
    };
    let offered = ask(2, "textDocument/completion", 3, 44);
    let labels: Vec<&str> = offered.as_array().unwrap().iter().map(|one| one["label"].as_str().unwrap()).collect();
    assert_eq!(labels, ["plane", "cladding", "furring"]);
    assert_eq!(offered[0]["textEdit"]["range"]["start"], json!({"line": 3, "character": 44}));
    let hover = ask(3, "textDocument/hover", 3, 20);
    assert!(hover["contents"]["value"].as_str().unwrap().starts_with("1219.2 mm (4 ft)"), "{hover}");
    let form = ask(4, "textDocument/signatureHelp", 3, 44);
    assert_eq!(
        (&form["signatures"][0]["label"], &form["activeParameter"]),
        (&json!("trims WIDTH on plane|furring|cladding"), &json!(2))
    );
    let hints = ask(5, "textDocument/inlayHint", 0, 0);
    let shown: Vec<&str> = hints.as_array().unwrap().iter().map(|one| one["label"].as_str().unwrap()).collect();
    assert_eq!(shown, ["1219.2 mm", "1524 mm"]);
}

#[test]
fn an_edit_that_mends_is_offered_with_its_mark() {
    let folder = tempfile::tempdir().unwrap();
    let uri = format!("file://{}/wall.wythe", folder.path().display());
    let mut wire = Wire::start();
    wire.send(
        &json!({"jsonrpc": "2.0", "id": 1, "method": "initialize", "params": {"capabilities": {}, "processId": null}}),
    );
    let answer = wire.until(|message| message["id"] == 1);
    assert!(!answer["result"]["capabilities"]["codeActionProvider"].is_null(), "{answer}");
    wire.send(&json!({"jsonrpc": "2.0", "method": "initialized", "params": {}}));
    wire.send(&json!({"jsonrpc": "2.0", "method": "textDocument/didOpen", "params": {"textDocument":
        {"uri": uri, "languageId": "wythe", "version": 1, "text": "wythe 1\nface north {\n    lokos 0deg\n}\n"}}}));
    let marks = wire.until(|message| message["method"] == "textDocument/publishDiagnostics");
    let marks = marks["params"]["diagnostics"].as_array().unwrap().clone();
    let mark = marks.iter().find(|mark| mark["code"] == "text.unknown_word").unwrap();
    let mut ask = |id: u64, range: &Value| {
        wire.send(&json!({"jsonrpc": "2.0", "id": id, "method": "textDocument/codeAction", "params":
            {"textDocument": {"uri": uri}, "range": range, "context": {"diagnostics": [mark]}}}));
        wire.until(|message| message["id"] == id)["result"].clone()
    };
    let offered = ask(2, &mark["range"]);
    let edits = &offered[0]["edit"]["changes"][uri.as_str()];
    assert_eq!(edits[0]["newText"], "looks", "{offered}");
    assert_eq!(edits[0]["range"], mark["range"], "{offered}");
    assert_eq!(offered[0]["diagnostics"][0]["code"], "text.unknown_word");
    let elsewhere = ask(3, &json!({"start": {"line": 0, "character": 0}, "end": {"line": 0, "character": 0}}));
    assert_eq!(elsewhere, json!([]));
}

/// A client that takes markdown, with a setting.
fn drawing_wire(hover_drawing: Value) -> (Wire, PathBuf, String) {
    let house = Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples/heron-lane").canonicalize().unwrap();
    let mut wire = Wire::start();
    let client = json!({"textDocument": {"hover": {"contentFormat": ["markdown"]}}});
    let settings = json!({"hover_drawing": hover_drawing});
    let answer =
        wire.ask("initialize", json!({"capabilities": client, "processId": null, "initializationOptions": settings}));
    let offered = &answer["result"]["capabilities"]["executeCommandProvider"]["commands"];
    assert_eq!(offered, &json!(["wythe.draw", "wythe.trace"]));
    wire.tell("initialized", json!({}));
    let north = house.join("north.wythe");
    let text = std::fs::read_to_string(&north).unwrap();
    wire.open(&north, &text);
    (wire, north, text)
}

fn place(path: &Path, text: &str, word: &str) -> Value {
    let before = &text[..text.find(word).unwrap()];
    let (line, column) = (before.matches('\n').count(), before.len() - before.rfind('\n').map_or(0, |at| at + 1));
    json!({"textDocument": {"uri": uri(path)}, "position": {"line": line, "character": column + 1}})
}

#[test]
fn what_is_under_the_cursor_is_drawn() {
    let (mut wire, north, text) = drawing_wire(json!(false));
    let window = place(&north, &text, "window hall");
    let drawn = wire.ask("wythe/drawing", window.clone())["result"].clone();
    assert_eq!(drawn["title"], "North wall, window hall");
    assert!(drawn["svg"].as_str().unwrap().starts_with("<svg "));
    let nothing = wire.ask("wythe/drawing", place(&north, &text, "use assemblies"))["result"].clone();
    assert!(nothing["note"].as_str().unwrap().starts_with("nothing to draw here") && nothing["svg"].is_null());
    let lenses = wire.ask("textDocument/codeLens", json!({"textDocument": {"uri": uri(&north)}}))["result"].clone();
    let mut run = |command: &str| {
        let lens = lenses.as_array().unwrap().iter().find(|lens| lens["command"]["command"] == command).unwrap();
        let asked = json!({"command": command, "arguments": lens["command"]["arguments"]});
        wire.ask("workspace/executeCommand", asked)["result"].clone()
    };
    assert_eq!(run("wythe.draw")["title"], "North wall, elevation");
    let water = run("wythe.trace");
    assert_eq!(water["title"], "North wall, way of the water");
    assert!(water["text"].as_str().unwrap().contains("reaches daylight"), "{water}");
    let wrong = wire.ask("workspace/executeCommand", json!({"command": "wythe.draw", "arguments": []}));
    assert_eq!(wrong["error"]["code"], -32602, "{wrong}");
    let hover = wire.ask("textDocument/hover", window)["result"]["contents"]["value"].clone();
    assert!(!hover.as_str().unwrap().contains("data:image"), "no picture unless it is asked for");
}

#[test]
fn a_hover_has_a_picture_where_it_is_asked_for() {
    let (mut wire, north, text) = drawing_wire(json!(true));
    let mut hover = |word: &str| {
        let answer = wire.ask("textDocument/hover", place(&north, &text, word));
        answer["result"]["contents"]["value"].as_str().unwrap().to_owned()
    };
    let window = hover("window hall");
    assert!(window.starts_with("![drawing](data:image/svg+xml;base64,PHN2Zy"), "{window}");
    assert!(window.contains("900 mm (2 ft 11-7/16 in) wide"), "the words stand below: {window}");
    assert!(!hover("area all").contains("data:image"));
}
