//! Runs the command as people do: good and bad input, the folder it writes to, its exit codes, its two streams.
#![allow(missing_docs, clippy::unwrap_used)]

use std::fs;
use std::io::Read as _;
use std::path::Path;
use std::process::{Command, Output, Stdio};
use std::time::{Duration, Instant};

use tempfile::TempDir;

fn wythe(folder: &Path, arguments: &[&str]) -> Output {
    command(folder, arguments).output().unwrap()
}

fn command(folder: &Path, arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_wythe"));
    command.args(arguments).current_dir(folder).env_remove("NO_COLOR").env_remove("CLICOLOR_FORCE");
    command
}

fn out(output: &Output) -> String {
    String::from_utf8(output.stdout.clone()).unwrap()
}

fn talk(output: &Output) -> String {
    String::from_utf8(output.stderr.clone()).unwrap()
}

fn code(output: &Output) -> i32 {
    output.status.code().unwrap()
}

/// An empty folder with the small project in `lane`.
fn lane() -> TempDir {
    let folder = TempDir::new().unwrap();
    assert_eq!(code(&wythe(folder.path(), &["begin", "lane"])), 0);
    folder
}

/// A folder with one file, and what checking it gives.
fn check_bytes(bytes: &[u8]) -> Output {
    let folder = TempDir::new().unwrap();
    fs::write(folder.path().join("north.wythe"), bytes).unwrap();
    wythe(folder.path(), &["check", "north.wythe", "--today", "2026-11-25"])
}

// ── good input ─────────────────────────────────────────────────────────────

#[test]
fn the_small_project_has_no_fault_and_is_as_the_formatter_writes_it() {
    let folder = lane();
    let checked = wythe(folder.path(), &["check", "lane", "--fail-on", "unknown"]);
    assert_eq!(code(&checked), 0, "{}", out(&checked));
    assert!(out(&checked).starts_with("No fault found in what was declared · this is not approval · "));
    assert_eq!(talk(&checked), "");
    let formatted = wythe(folder.path(), &["format", "--check", "lane"]);
    assert_eq!(code(&formatted), 0, "{}", out(&formatted));
}

#[test]
fn begin_leaves_a_folder_that_holds_something() {
    let folder = TempDir::new().unwrap();
    fs::create_dir(folder.path().join("lane")).unwrap();
    fs::write(folder.path().join("lane/mine.txt"), "mine").unwrap();
    let refused = wythe(folder.path(), &["begin", "lane"]);
    assert_eq!(code(&refused), 2);
    assert!(talk(&refused).contains("is not empty"));
    assert_eq!(fs::read_dir(folder.path().join("lane")).unwrap().count(), 1);
}

#[test]
fn one_file_is_a_project_in_its_folder() {
    let folder = lane();
    let checked = wythe(folder.path(), &["check", "lane/wall.wythe"]);
    assert_eq!(code(&checked), 0, "{}", out(&checked));
    assert!(out(&checked).contains("(no face is declared)"), "{}", out(&checked));
}

#[test]
fn several_paths_are_several_projects() {
    let folder = lane();
    fs::create_dir(folder.path().join("bad")).unwrap();
    fs::write(folder.path().join("bad/a.wythe"), "wythe 1\nfase x {}\n").unwrap();
    let checked = wythe(folder.path(), &["check", "lane", "bad", "--report", "json"]);
    assert_eq!(code(&checked), 1);
    let list: serde_json::Value = serde_json::from_str(&out(&checked)).unwrap();
    assert_eq!(list[0]["summary"]["violations"], 0);
    assert_eq!(list[1]["findings"][0]["file"], "a.wythe");
}

#[test]
fn every_rule_is_explained_by_id_and_number() {
    let folder = TempDir::new().unwrap();
    let list = out(&wythe(folder.path(), &["explain"]));
    assert!(list.lines().count() > 10);
    for line in list.lines() {
        let id = line.split_whitespace().next().unwrap();
        let page = wythe(folder.path(), &["explain", id]);
        assert_eq!(code(&page), 0);
        assert!(out(&page).contains("# What it checks"), "{id}: {}", out(&page));
    }
    let wrong = wythe(folder.path(), &["explain", "gap.shalow"]);
    assert_eq!(code(&wrong), 2);
    assert!(talk(&wrong).contains("did you mean `gap.shallow`?"), "{}", talk(&wrong));
}

#[test]
fn every_command_shows_examples() {
    let folder = TempDir::new().unwrap();
    for command in ["check", "emit", "trace", "explain", "limits", "rules", "schema", "format", "begin", "completions"]
    {
        let help = wythe(folder.path(), &[command, "--help"]);
        assert_eq!(code(&help), 0);
        assert!(out(&help).contains(&format!("Examples:\n  wythe {command}")), "{command}");
    }
    assert_eq!(out(&wythe(folder.path(), &["--version"])), format!("wythe {}\n", env!("CARGO_PKG_VERSION")));
    assert!(out(&wythe(folder.path(), &["completions", "bash"])).contains("_wythe()"));
    assert!(out(&wythe(folder.path(), &["--help"])).contains("wythe begin heron-lane"));
}

#[test]
fn limits_are_listed_with_their_source() {
    let folder = lane();
    let listed = out(&wythe(folder.path(), &["limits", "lane"]));
    assert!(
        listed.contains("  gap.depth  10 mm (3/8 in)  NBC Part 9, 9.27.2.2.(1)(a), 2020, read in a summary\n"),
        "{listed}"
    );
    assert!(listed.contains("  air_barrier.leakage  0.02 L/(s·m²)  "), "{listed}");
}

// ── the order ──────────────────────────────────────────────────────────────

#[test]
fn the_order_is_a_table_that_a_narrow_terminal_shows_whole() {
    let folder = lane();
    let run = wythe(folder.path(), &["takeoff", "lane", "--today", "2026-05-04"]);
    assert_eq!((code(&run), talk(&run).as_str()), (0, ""));
    let shown = out(&run);
    assert!(shown.lines().all(|line| line.chars().count() <= 80), "{shown}");
    insta::assert_snapshot!("takeoff_lane", shown);
}

/// 600 distinct lengths from three stocks: rounds enough that a person has time to think better of it.
#[cfg(unix)]
#[test]
fn control_c_ends_a_long_search_with_the_best_plan_so_far() {
    let folder = TempDir::new().unwrap();
    let pieces: String =
        (0..600_u64).map(|at| format!("    piece {}mm, count 7\n", 403 + (at * 7919) % 2711)).collect();
    let text =
        format!("wythe 1\n\ncutlist long {{\n    stock 3050mm and 4270mm and 6100mm\n    kerf 3mm\n{pieces}}}\n");
    fs::write(folder.path().join("long.wythe"), text).unwrap();
    let child = Command::new(env!("CARGO_BIN_EXE_wythe"))
        .current_dir(folder.path())
        .args(["takeoff", "long.wythe"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    std::thread::sleep(std::time::Duration::from_millis(1500));
    let asked = Command::new("kill").args(["-INT", &child.id().to_string()]).status().unwrap();
    assert!(asked.success(), "the search ended before it could be stopped");
    let ended = child.wait_with_output().unwrap();
    let (shown, said) = (String::from_utf8(ended.stdout).unwrap(), String::from_utf8(ended.stderr).unwrap());
    assert_eq!(ended.status.code(), Some(0), "{said}");
    assert!(said.contains("stopped: the cut plans are the best that were found so far"), "{said}");
    assert!(shown.contains("not proven, and over the least: long at most"), "{shown}");
}

// ── what ends a run with 1 ─────────────────────────────────────────────────

#[test]
fn fail_on_says_what_ends_the_run_with_one() {
    let folder = lane();
    let site = folder.path().join("lane/site.wythe");
    let text = fs::read_to_string(&site).unwrap();
    fs::write(&site, format!("{text}\nfase x {{}}\n")).unwrap();
    for (least, ending) in [("violation", 1), ("warning", 1), ("unknown", 1), ("never", 0)] {
        assert_eq!(code(&wythe(folder.path(), &["check", "lane", "--fail-on", least])), ending, "{least}");
    }
}

#[test]
fn what_was_typed_wrong_ends_with_two() {
    let folder = lane();
    let cases: [(&[&str], &str); 7] = [
        (&["check", "nowhere"], "there is no file or folder `nowhere`"),
        (&["check", "lane", "--today", "2027-02-29"], "`2027-02-29` is not a date"),
        (&["check", "empty"], "there is no `.wythe` file in `empty`"),
        (&["check", "notes.txt"], "`notes.txt` is not a `.wythe` file"),
        (&["emit", "lane", "--into", "no/such/out"], "there is no folder `no/such`"),
        (&["emit", "lane", "--into", "notes.txt"], "`notes.txt` is not a folder"),
        (&["check"], "required"),
    ];
    fs::create_dir(folder.path().join("empty")).unwrap();
    fs::write(folder.path().join("notes.txt"), "").unwrap();
    for (arguments, words) in cases {
        let refused = wythe(folder.path(), arguments);
        assert_eq!(code(&refused), 2, "{arguments:?}");
        assert!(talk(&refused).contains(words), "{arguments:?}: {}", talk(&refused));
        assert_eq!(out(&refused), "");
    }
}

#[test]
fn a_drop_is_followed_to_daylight_or_the_run_says_where_it_stops() {
    let folder = lane();
    let text =
        fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/first-wall/wall.wythe")).unwrap();
    fs::write(folder.path().join("wall.wythe"), &text).unwrap();
    let face =
        text.lines().find_map(|line| line.strip_prefix("face ")).and_then(|rest| rest.split(' ').next()).unwrap();
    let trace =
        |from: &str, more: &[&str]| wythe(folder.path(), &[&["trace", "wall.wythe", "--from", from], more].concat());
    let drop = trace(&format!("{face}@(0.3m, 2ft 6in)"), &["--into", "way.svg"]);
    assert_eq!(code(&drop), 0, "{}{}", out(&drop), talk(&drop));
    assert!(out(&drop).contains("\n  1  falls ") && out(&drop).contains("\nreaches daylight at ("), "{}", out(&drop));
    assert!(out(&drop).contains("this is not approval"));
    assert!(fs::read_to_string(folder.path().join("way.svg")).unwrap().contains("this is not approval"));
    let air = trace(&format!("{face}@(300mm, 1m)"), &["--air"]);
    assert!(out(&air).starts_with("air of bay ") && out(&air).contains("  in   "), "{}", out(&air));
    let round = |more: &[&str]| wythe(folder.path(), &[&["trace", "wall.wythe", "--barrier"], more].concat());
    let barrier = round(&["--leakage"]);
    assert_eq!(code(&barrier), 0, "{}{}", out(&barrier), talk(&barrier));
    for words in
        ["continuous: no hole found", "hold point H1", "L/(s·m²) at 75 Pa", "assumed: ", "this is not approval"]
    {
        assert!(out(&barrier).contains(words), "{words}: {}", out(&barrier));
    }
    assert!(!out(&round(&[])).contains("at 75 Pa"));
    fs::write(
        folder.path().join("wall.wythe"),
        text.replace("roof lean_to, air ceiling_membrane", "roof lean_to, air none"),
    )
    .unwrap();
    let open = round(&[]);
    assert_eq!(code(&open), 1, "{}", out(&open));
    assert!(
        out(&open).contains("open at 1 place, 4.8 m in all:") && out(&open).contains(" → nothing\n"),
        "{}",
        out(&open)
    );
    fs::write(folder.path().join("wall.wythe"), &text).unwrap();
    for (from, words) in [
        (format!("{face}s@(1m, 1m)"), format!("did you mean `{face}`?")),
        (format!("{face}@(1, 1)"), "is not a place on a face".to_owned()),
        (format!("{face}@(1m)"), "is not a place on a face".to_owned()),
        (format!("{face}@(1kg, 1m)"), "is not a place on a face".to_owned()),
        (format!("{face}@(1m, 1m"), "is not a place on a face".to_owned()),
        ("1m".to_owned(), "is not a place on a face".to_owned()),
        (format!("{face}@(900m, 1m)"), format!("lies outside of `{face}`")),
    ] {
        let refused = trace(&from, &[]);
        assert_eq!((code(&refused), out(&refused)), (2, String::new()), "{from}");
        assert!(talk(&refused).contains(&words), "{from}: {}", talk(&refused));
    }
}

// ── bad input ──────────────────────────────────────────────────────────────

#[test]
fn bytes_that_are_no_text_are_named_by_their_offset() {
    let checked = check_bytes(b"wythe 1\n// \xff\n");
    assert_eq!(code(&checked), 1);
    assert!(out(&checked).contains("mistake[file.not_utf8]: `north.wythe` is not text: byte 11 is not UTF-8"));
    assert_eq!(talk(&checked), "");
}

#[test]
fn a_byte_order_mark_and_other_line_ends_change_nothing() {
    let folder = lane();
    let plain = out(&wythe(folder.path(), &["check", "lane", "--today", "2026-11-25"]));
    for entry in fs::read_dir(folder.path().join("lane")).unwrap() {
        let path = entry.unwrap().path();
        let text = fs::read_to_string(&path).unwrap();
        fs::write(&path, format!("\u{feff}{}", text.replace('\n', "\r\n"))).unwrap();
    }
    assert_eq!(out(&wythe(folder.path(), &["check", "lane", "--today", "2026-11-25"])), plain);
}

#[test]
fn an_empty_file_declares_nothing() {
    let checked = check_bytes(b"");
    assert_eq!(code(&checked), 0, "{}", out(&checked));
    assert!(out(&checked).starts_with("No fault found in what was declared (no face is declared) · "));
}

#[test]
fn ten_megabytes_are_read_in_good_time() {
    let mut text = String::from("wythe 1\n");
    while text.len() < 10 << 20 {
        text.push_str("// a long note about the north wall, which is only a note and goes on for a whole line\n");
    }
    text.push_str("fase x {}\n");
    let began = Instant::now();
    let checked = check_bytes(text.as_bytes());
    assert_eq!(code(&checked), 1);
    assert!(out(&checked).contains("did you mean `face`?"));
    assert!(began.elapsed() < Duration::from_secs(60), "{:?}", began.elapsed());
}

#[test]
fn one_endless_line_is_named_and_not_shown() {
    let checked = check_bytes(format!("wythe 1\nfase {}\n", "x".repeat(1 << 20)).as_bytes());
    assert_eq!(code(&checked), 1);
    assert!(out(&checked).contains("in north.wythe, line 2, column 1"), "{:.500}", out(&checked));
    assert!(out(&checked).len() < 4000, "{} bytes", out(&checked).len());
}

#[test]
fn deep_nesting_is_a_mistake_and_not_the_end() {
    let nested = 100_000;
    for text in [
        format!("wythe 1\nface north {{\n    base at {}0{}\n}}\nfase x {{}}\n", "(".repeat(nested), ")".repeat(nested)),
        format!("wythe 1\n{}{}", "face north {\n".repeat(nested), "}\n".repeat(nested)),
    ] {
        let checked = check_bytes(text.as_bytes());
        assert_eq!(code(&checked), 1, "{}", talk(&checked));
        assert!(out(&checked).contains("mistake["));
    }
}

#[test]
fn a_text_cannot_steer_the_terminal() {
    let checked = check_bytes(b"wythe 1\nfase \x1b[2J\x07 {}\n");
    assert_eq!(code(&checked), 1);
    assert!(!out(&checked).contains(['\x1b', '\x07']), "{:?}", out(&checked));
}

#[test]
fn files_that_bring_each_other_in_are_told() {
    let folder = TempDir::new().unwrap();
    fs::write(folder.path().join("a.wythe"), "wythe 1\nuse b\n").unwrap();
    fs::write(folder.path().join("b.wythe"), "wythe 1\nuse a\n").unwrap();
    let checked = wythe(folder.path(), &["check", "."]);
    assert_eq!(code(&checked), 1);
    assert!(out(&checked).contains("a.wythe → b.wythe → a.wythe"), "{}", out(&checked));
}

#[cfg(unix)]
#[test]
fn links_that_leave_the_project_are_not_read() {
    let folder = TempDir::new().unwrap();
    let lane = folder.path().join("lane");
    fs::create_dir(&lane).unwrap();
    fs::write(folder.path().join("secret.wythe"), "wythe 1\nsecret words\n").unwrap();
    fs::write(lane.join("a.wythe"), "wythe 1\nuse door\n").unwrap();
    std::os::unix::fs::symlink("../secret.wythe", lane.join("door.wythe")).unwrap();
    std::os::unix::fs::symlink("..", lane.join("round")).unwrap();
    let checked = wythe(folder.path(), &["check", "lane"]);
    assert_eq!(code(&checked), 1);
    assert!(out(&checked).contains("it lies outside the project folder"), "{}", out(&checked));
    assert!(!out(&checked).contains("secret words"));
}

#[test]
fn hidden_folders_and_output_are_not_searched() {
    let folder = lane();
    for name in [".hidden", "target", "out"] {
        fs::create_dir(folder.path().join("lane").join(name)).unwrap();
        fs::write(folder.path().join("lane").join(name).join("bad.wythe"), "fase x {}\n").unwrap();
    }
    assert_eq!(code(&wythe(folder.path(), &["check", "lane"])), 0);
}

// ── the two streams ────────────────────────────────────────────────────────

#[test]
fn colour_is_for_terminals_and_no_color_is_respected() {
    let folder = TempDir::new().unwrap();
    fs::write(folder.path().join("a.wythe"), "wythe 1\nfase x {}\n").unwrap();
    let plain = out(&wythe(folder.path(), &["check", "."]));
    assert!(!plain.contains('\x1b'));
    let forced = command(folder.path(), &["check", "."]).env("CLICOLOR_FORCE", "1").output().unwrap();
    assert!(out(&forced).contains("\x1b[1;31mmistake[text.unknown_declaration]\x1b[0;1m: "), "{:?}", out(&forced));
    let refused = command(folder.path(), &["check", "."]).env("NO_COLOR", "1").output().unwrap();
    assert_eq!(out(&refused), plain);
}

#[test]
fn a_reader_who_leaves_early_is_no_fault() {
    let folder = TempDir::new().unwrap();
    fs::write(folder.path().join("a.wythe"), format!("wythe 1\n{}", "fase x {}\n".repeat(5000))).unwrap();
    let mut child = command(folder.path(), &["check", ".", "--report", "json"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut stream = child.stdout.take().unwrap();
    stream.read_exact(&mut [0; 16]).unwrap();
    drop(stream);
    let ended = child.wait_with_output().unwrap();
    assert_eq!(code(&ended), 0, "{}", talk(&ended));
    assert_eq!(talk(&ended), "");
}

// ── reports ────────────────────────────────────────────────────────────────

/// The small project with a shallow gap, one of them accepted, and a misspelt word.
fn faulty_lane() -> TempDir {
    let folder = lane();
    let wall = folder.path().join("lane/wall.wythe");
    let text = fs::read_to_string(&wall).unwrap().replace("depth = 19mm", "depth = 9mm");
    fs::write(&wall, text).unwrap();
    let shed = folder.path().join("lane/shed.wythe");
    let accept = "    area all shed_wall\n    accept gap.shallow on all because \"matches the old wall\" by \"site lead\" until 2027-05-01\n";
    let text = fs::read_to_string(&shed).unwrap().replacen("    area all shed_wall\n", accept, 1);
    fs::write(&shed, text + "\nfase x {}\n").unwrap();
    folder
}

#[test]
fn the_text_report_reads_as_before() {
    let folder = faulty_lane();
    let checked = wythe(folder.path(), &["check", "lane", "--today", "2026-11-25"]);
    assert_eq!(code(&checked), 1);
    // How many rules there are is told by another test; here it would change with each new one.
    let ran = format!("{} rules ran", wythe::checks::RULES.len());
    let report = out(&checked);
    assert!(report.contains(&ran), "{report}");
    // The same goes for the list of what was not checked.
    let (before, rest) = report.split_once("Not checked:\n").unwrap();
    let after = rest.split_once("\ntoday ").unwrap().1;
    let short = format!("{before}Not checked: …\ntoday {after}");
    insta::assert_snapshot!("text_report", short.replace(&ran, "all rules ran"));
}

#[test]
fn the_json_report_reads_as_before() {
    let folder = TempDir::new().unwrap();
    let text = "wythe 1\n\nassembly thin {\n    layer board gypsum 12.7mm\n}\n\nfase x {}\n";
    fs::write(folder.path().join("a.wythe"), text).unwrap();
    let checked = wythe(folder.path(), &["check", ".", "--report", "json", "--today", "2026-11-25"]);
    insta::assert_snapshot!("json_report", out(&checked));
}

#[test]
fn an_acceptance_ends_with_its_day() {
    let folder = faulty_lane();
    let accepted = |today| {
        let checked = wythe(folder.path(), &["check", "lane", "--today", today, "--report", "json"]);
        let report: serde_json::Value = serde_json::from_str(&out(&checked)).unwrap();
        assert_eq!(report["today"], today);
        report["summary"]["accepted"].as_u64().unwrap()
    };
    assert_eq!(accepted("2027-05-01"), 1);
    assert_eq!(accepted("2027-05-02"), 0);
}

#[test]
fn sarif_keeps_to_the_published_schema() {
    let folder = faulty_lane();
    let broken = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/heron-lane-broken");
    let checked = wythe(folder.path(), &["check", "lane", broken.to_str().unwrap(), "--report", "sarif"]);
    let log: serde_json::Value = serde_json::from_str(&out(&checked)).unwrap();
    let mut schema: serde_json::Value = serde_json::from_str(include_str!("outside/sarif-schema-2.1.0.json")).unwrap();
    // The published pattern of `language`, which is not written here, has a bracket that strict readers refuse.
    for part in ["run", "toolComponent"] {
        let language = schema["definitions"][part]["properties"]["language"].as_object_mut().unwrap();
        assert!(language.remove("pattern").is_some());
    }
    let validator = jsonschema::validator_for(&schema).unwrap();
    let faults: Vec<String> =
        validator.iter_errors(&log).map(|error| format!("{}: {error}", error.instance_path())).collect();
    assert!(faults.is_empty(), "{}", faults.join("\n"));

    let results = log["runs"][0]["results"].as_array().unwrap();
    assert!(results.len() > 3);
    for result in results {
        let place = &result["locations"][0]["physicalLocation"];
        assert!(place["artifactLocation"]["uri"].as_str().is_some_and(|uri| uri.ends_with(".wythe")), "{result}");
        assert!(place["region"]["startLine"].as_u64().is_some_and(|line| line > 0), "{result}");
        let rule = &log["runs"][0]["tool"]["driver"]["rules"][result["ruleIndex"].as_u64().unwrap() as usize];
        assert_eq!(rule["id"], result["ruleId"]);
        assert!(rule["help"]["text"].as_str().is_some_and(|help| !help.is_empty()));
    }
    let suppressed = results.iter().filter(|result| result["suppressions"].is_array()).collect::<Vec<_>>();
    assert_eq!(suppressed.len(), 1);
    let reason = suppressed[0]["suppressions"][0]["justification"].as_str().unwrap();
    assert!(reason.contains("matches the old wall"), "{reason}");
    assert!(!out(&checked).contains(env!("CARGO_MANIFEST_DIR")), "an absolute path");
}

#[test]
fn sarif_counts_columns_as_editors_do() {
    let folder = TempDir::new().unwrap();
    fs::write(folder.path().join("a b.wythe"), "wythe 1\nproject p {\n    title \"𝄞\" oops\n}\n").unwrap();
    let log: serde_json::Value =
        serde_json::from_str(&out(&wythe(folder.path(), &["check", ".", "--report", "sarif"]))).unwrap();
    let place = &log["runs"][0]["results"][0]["locations"][0]["physicalLocation"];
    assert_eq!(place["artifactLocation"]["uri"], "a%20b.wythe");
    assert_eq!(place["region"]["startLine"], 3);
    // four blanks, `title`, a blank, two quotes round a sign of two units, a blank
    assert_eq!(place["region"]["startColumn"], 16, "{}", log["runs"][0]["results"]);
}

// ── the output folder ──────────────────────────────────────────────────────

fn names(folder: &Path) -> Vec<String> {
    let mut names: Vec<String> =
        fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
    names.sort();
    names
}

#[test]
fn emit_writes_a_set_and_a_list_of_it() {
    let folder = lane();
    let emitted = wythe(folder.path(), &["emit", "lane", "--into", "sheets", "--only", "findings,index"]);
    assert_eq!(code(&emitted), 0, "{}", talk(&emitted));
    assert_eq!(talk(&emitted), "wrote 4 files to `sheets`\n");
    let set = ["findings.json", "findings.txt", "index.html", "not-checked.txt", "wythe-manifest.json"];
    assert_eq!(names(&folder.path().join("sheets")), set);
    assert_eq!(names(folder.path()), ["lane", "sheets"], "something was left beside the folder");
    let page = fs::read_to_string(folder.path().join("sheets/index.html")).unwrap();
    for words in ["No fault found in what was declared", "this is not approval", "href=\"findings.txt\""] {
        assert!(page.contains(words), "{words}");
    }
}

#[test]
fn the_same_input_gives_the_same_bytes() {
    let folder = faulty_lane();
    for into in ["one", "two"] {
        let emitted = wythe(folder.path(), &["emit", "lane", "--into", into, "--today", "2026-11-25"]);
        assert_eq!(code(&emitted), 1);
    }
    let list = fs::read_to_string(folder.path().join("one/wythe-manifest.json")).unwrap();
    let manifest: serde_json::Value = serde_json::from_str(&list).unwrap();
    let files: Vec<&str> = manifest["files"].as_array().unwrap().iter().map(|file| file.as_str().unwrap()).collect();
    assert!(files.contains(&"elevations/north.svg"), "{files:?}");
    for file in files.into_iter().chain(["wythe-manifest.json"]) {
        let read = |set: &str| fs::read(folder.path().join(set).join(file)).unwrap();
        assert!(read("one") == read("two"), "{file}");
    }
}

#[test]
fn the_first_page_leads_from_the_faults_to_the_walls() {
    let folder = faulty_lane();
    let emitted = wythe(folder.path(), &["emit", "lane", "--into", "sheets", "--today", "2026-11-25"]);
    assert_eq!(code(&emitted), 1);
    let page = fs::read_to_string(folder.path().join("sheets/index.html")).unwrap();
    let found = [
        "1 mistake in the text, 3 faults, 1 warning, 1 accepted",
        "Mistakes in the text",
        "To mend",
        "Knowingly accepted",
    ];
    let places: Vec<usize> = found.iter().map(|words| page.find(words).unwrap_or_else(|| panic!("{words}"))).collect();
    assert!(places.is_sorted(), "{places:?}");
    assert!(page.contains("<img src=\"elevations/east.svg\""));
    // what was accepted is not to be mended
    assert!(!page.contains("<img src=\"elevations/north.svg\""));
    for part in page.split("href=\"").skip(1) {
        let link = part.split('"').next().unwrap();
        assert!(folder.path().join("sheets").join(link).is_file(), "{link}");
    }
}

#[test]
fn foreign_files_are_kept_and_stale_ones_removed() {
    let folder = lane();
    let sheets = folder.path().join("sheets");
    assert_eq!(code(&wythe(folder.path(), &["emit", "lane", "--into", "sheets"])), 0);
    assert!(sheets.join("elevations/north.svg").is_file());
    fs::write(sheets.join("photo.jpg"), "mine").unwrap();
    let emitted = wythe(folder.path(), &["emit", "lane", "--into", "sheets", "--only", "index"]);
    assert_eq!(code(&emitted), 0, "{}", talk(&emitted));
    assert_eq!(names(&sheets), ["index.html", "photo.jpg", "wythe-manifest.json"]);
    assert_eq!(fs::read_to_string(sheets.join("photo.jpg")).unwrap(), "mine");
}

#[test]
fn a_foreign_file_in_the_way_stops_the_run_and_nothing_is_changed() {
    let folder = lane();
    let sheets = folder.path().join("sheets");
    fs::create_dir(&sheets).unwrap();
    fs::write(sheets.join("index.html"), "mine").unwrap();
    let refused = wythe(folder.path(), &["emit", "lane", "--into", "sheets"]);
    assert_eq!(code(&refused), 2);
    assert!(talk(&refused).contains("was not written by wythe"), "{}", talk(&refused));
    assert_eq!(names(&sheets), ["index.html"]);
    assert_eq!(fs::read_to_string(sheets.join("index.html")).unwrap(), "mine");
    assert_eq!(names(folder.path()), ["lane", "sheets"]);
}

#[test]
fn a_list_that_points_outside_is_not_believed() {
    let folder = lane();
    let sheets = folder.path().join("sheets");
    fs::create_dir(&sheets).unwrap();
    fs::write(folder.path().join("mine.txt"), "mine").unwrap();
    let forged = r#"{"schema": 1, "files": ["../mine.txt", "/etc/hosts", "lane/../../mine.txt"]}"#;
    fs::write(sheets.join("wythe-manifest.json"), forged).unwrap();
    let emitted = wythe(folder.path(), &["emit", "lane", "--into", "sheets"]);
    assert_eq!(code(&emitted), 0, "{}", talk(&emitted));
    assert_eq!(fs::read_to_string(folder.path().join("mine.txt")).unwrap(), "mine");
}

#[cfg(target_os = "linux")]
#[test]
fn a_folder_that_cannot_be_written_is_told() {
    let folder = lane();
    // not even root may make a folder there
    let refused = wythe(folder.path(), &["emit", "lane", "--into", "/proc/sheets"]);
    assert_eq!(code(&refused), 2);
    assert!(talk(&refused).contains("could not be written"), "{}", talk(&refused));
    assert_eq!(out(&refused), "");
}

#[cfg(unix)]
#[test]
fn a_read_only_folder_keeps_its_old_set() {
    use std::os::unix::fs::PermissionsExt as _;
    let folder = lane();
    let around = folder.path().join("around");
    fs::create_dir(&around).unwrap();
    assert_eq!(code(&wythe(folder.path(), &["emit", "lane", "--into", "around/sheets"])), 0);
    let before = fs::read(around.join("sheets/wythe-manifest.json")).unwrap();
    fs::set_permissions(&around, fs::Permissions::from_mode(0o555)).unwrap();
    let refused = wythe(folder.path(), &["emit", "lane", "--into", "around/sheets", "--only", "index"]);
    let writable_all_the_same = fs::write(around.join("probe"), "").is_ok(); // root is stopped by nothing
    fs::set_permissions(&around, fs::Permissions::from_mode(0o755)).unwrap();
    if writable_all_the_same {
        return;
    }
    assert_eq!(code(&refused), 2);
    assert_eq!(fs::read(around.join("sheets/wythe-manifest.json")).unwrap(), before);
}

// ── format ─────────────────────────────────────────────────────────────────

#[test]
fn format_writes_only_what_changes() {
    let folder = lane();
    let site = folder.path().join("lane/site.wythe");
    let wall = folder.path().join("lane/wall.wythe");
    let good = fs::read_to_string(&site).unwrap();
    fs::write(&site, good.replace("    units metric", "  units   metric")).unwrap();
    let untouched = fs::metadata(&wall).unwrap().modified().unwrap();

    let shown = wythe(folder.path(), &["format", "--check", "lane"]);
    assert_eq!(code(&shown), 1);
    assert!(out(&shown).contains("-   units   metric\n  +     units metric\n"), "{}", out(&shown));
    assert_ne!(fs::read_to_string(&site).unwrap(), good);

    assert_eq!(code(&wythe(folder.path(), &["format", "lane"])), 0);
    assert_eq!(fs::read_to_string(&site).unwrap(), good);
    assert_eq!(fs::metadata(&wall).unwrap().modified().unwrap(), untouched);
    assert_eq!(names(&folder.path().join("lane")), ["shed.wythe", "site.wythe", "wall.wythe"]);
}

#[test]
fn format_leaves_a_file_with_mistakes() {
    let folder = TempDir::new().unwrap();
    let text = "wythe 1\nface   north {\n";
    fs::write(folder.path().join("a.wythe"), text).unwrap();
    let refused = wythe(folder.path(), &["format", "."]);
    assert_eq!(code(&refused), 1);
    assert!(out(&refused).contains("mistake["), "{}", out(&refused));
    assert_eq!(fs::read_to_string(folder.path().join("a.wythe")).unwrap(), text);
}

// ── what was not checked, and the list of rules ────────────────────────────

#[test]
fn what_was_not_checked_stands_below_the_report_and_in_every_form() {
    let folder = lane();
    let text = out(&wythe(folder.path(), &["check", "lane", "--today", "2026-11-25"]));
    let block = text.split_once("Not checked:\n").unwrap().1;
    for words in ["that only eyes find", "not published: ", "from memory"] {
        assert!(block.contains(words), "{block}");
    }
    assert!(text.lines().count() < 20, "a clean wall is drowned in what was not checked:\n{text}");
    let json = out(&wythe(folder.path(), &["check", "lane", "--report", "json"]));
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    let list = &json["not_checked"];
    assert!(list["for_eyes"].as_array().unwrap().iter().any(|id| id == "AI-14"), "{list}");
    assert!(list["not_claimed"].as_array().unwrap().iter().all(|row| row["why"].is_string()), "{list}");
    assert!(list["values"].as_array().unwrap().iter().any(|value| value["how"] == "from memory"), "{list}");
    let sarif = out(&wythe(folder.path(), &["check", "lane", "--report", "sarif"]));
    let sarif: serde_json::Value = serde_json::from_str(&sarif).unwrap();
    assert_eq!(&sarif["runs"][0]["properties"]["notChecked"], list);
}

#[test]
fn a_missing_fact_is_named_with_the_line_where_it_belongs() {
    let folder = lane();
    let path = folder.path().join("lane/shed.wythe");
    let text = fs::read_to_string(&path).unwrap();
    fs::write(&path, text.replacen("    measured to sheathing\n", "", 1)).unwrap();
    let checked = wythe(folder.path(), &["check", "lane", "--report", "json"]);
    let report: serde_json::Value = serde_json::from_str(&out(&checked)).unwrap();
    let unknown = report["findings"].as_array().unwrap().iter().filter(|one| one["severity"] == "unknown");
    let wanted: Vec<(&str, u64)> =
        unknown.map(|one| (one["rule"].as_str().unwrap(), one["line"].as_u64().unwrap())).collect();
    let missing = report["not_checked"]["missing"].as_array().unwrap();
    for (rule, line) in &wanted {
        let named = missing.iter().any(|one| {
            let of_rule = one["rules"].as_array().unwrap().iter().any(|name| name == rule);
            of_rule && one["places"].as_array().unwrap().iter().any(|spot| spot["line"] == *line)
        });
        assert!(named, "{rule} at line {line} is not in {missing:?}");
    }
    assert!(!wanted.is_empty(), "{report}");
    assert!(out(&wythe(folder.path(), &["check", "lane"])).contains("missing that checks ask for:"));
}

/// The lines of one rule in a list.
fn of_rule(list: &str, id: &str) -> String {
    let found = list.split("\n\n").find(|block| block.split_whitespace().next() == Some(id));
    found.unwrap_or_else(|| panic!("no {id} in {list}")).to_owned()
}

#[test]
fn rules_are_listed_with_the_numbers_in_force() {
    let folder = lane();
    let habit = out(&wythe(folder.path(), &["rules"]));
    for id in wythe::checks::RULES.iter().map(|rule| rule.meta().id) {
        of_rule(&habit, id);
    }
    assert!(habit.lines().all(|line| line.chars().count() <= 80), "{habit}");
    insta::assert_snapshot!("rules_common_practice", of_rule(&habit, "base.near_ground"));
    let code = out(&wythe(folder.path(), &["rules", "--limits", "canada_part9_2020"]));
    insta::assert_snapshot!("rules_of_a_code", of_rule(&code, "base.near_ground"));
    assert_eq!(code, out(&wythe(folder.path(), &["rules", "--limits", "canada_part9_2020", "lane"])));
}

#[test]
fn a_rule_set_that_is_not_there_is_refused() {
    let folder = lane();
    let refused = wythe(folder.path(), &["rules", "--limits", "canada_part_2020"]);
    assert_eq!(code(&refused), 2);
    assert!(talk(&refused).contains("did you mean `canada_part9_2020`"), "{}", talk(&refused));
}

#[test]
fn rules_show_what_the_project_overrides_and_the_office_adds() {
    let folder = lane();
    let more = "wythe 1\n\nsite here {\n    limits ours and std.limits.canada_part9_2020\n}\n\nlimits ours {\n    title \"Ours\"\n    \
                limit clearance.ground 300mm, source \"deep snow\", sure habit\n}\n\nrule deep_gap for gap {\n    \
                wants depth at_least 25mm\n    says \"our gaps are 25 mm deep\"\n}\n";
    fs::create_dir(folder.path().join("own")).unwrap();
    fs::write(folder.path().join("own/site.wythe"), more).unwrap();
    let list = out(&wythe(folder.path(), &["rules", "own"]));
    insta::assert_snapshot!(
        "rules_of_a_project",
        format!(
            "{}\n\n{}",
            of_rule(&list, "base.near_ground"),
            list.split_once("\nOverridden").map_or("", |(_, rest)| rest)
        )
    );
    let json = out(&wythe(folder.path(), &["rules", "own", "--report", "json"]));
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!(json["overrides"][0]["name"], "clearance.ground");
    assert_eq!(json["overrides"][0]["si"], 0.3);
    assert_eq!(json["office_rules"][0]["id"], "office.deep_gap");
}
