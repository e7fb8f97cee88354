//! Ends the server when the program that started it is gone without a word.

use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Duration;

/// How often it is looked after.
const EVERY: Duration = Duration::from_secs(2);

/// Looks after a process from now on, and ends this one when it is gone. Without a way to tell, input that ends does.
pub fn watch(process: u32) {
    // Without a thread nobody looks, and input that ends still ends the server.
    let _ = std::thread::Builder::new().name("parent".into()).spawn(move || {
        while is_there(process) {
            std::thread::sleep(EVERY);
        }
        std::process::exit(1);
    });
}

/// Whether a process is there. What cannot be told counts as there.
fn is_there(process: u32) -> bool {
    if Path::new("/proc/self/stat").exists() {
        let stat = std::fs::read_to_string(format!("/proc/{process}/stat")).unwrap_or_default();
        // The state follows the name, which stands in brackets and may hold any letter. `Z` is dead and not yet buried.
        return stat.rsplit_once(')').is_some_and(|(_, rest)| !rest.trim_start().starts_with('Z'));
    }
    if cfg!(unix) {
        let asked = Command::new("kill").args(["-0", &process.to_string()]).stderr(Stdio::null()).status();
        return asked.map_or(true, |status| status.success());
    }
    true
}
