//! What is wrong with one source file, by the table.

use super::paths::{Named, named};
use super::table::{BANS, ENDS_THE_PROGRAM, MACROS_THAT_END, MACROS_THAT_SPEAK, ROOMS};

/// Every breach in `code`, the file of module `module`, in plain words.
pub fn breaches(code: &str, module: &[&str]) -> Vec<String> {
    let names = match named(code, module) {
        Ok(names) => names,
        Err(error) => return vec![format!("does not parse: {error}")],
    };
    let room = module.first().copied().unwrap_or("lib");
    let mut found = imports(&names, room);
    found.extend(outside(&names, room));
    found.extend(habits(&names));
    found.sort();
    found.dedup();
    found
}

/// Whether `path` is `prefix` or lies under it.
fn under(path: &[String], prefix: &str) -> bool {
    let mut parts = path.iter();
    prefix
        .split("::")
        .all(|part| parts.next().is_some_and(|p| p == part))
}

fn imports(names: &Named, room: &str) -> Vec<String> {
    let may = ROOMS
        .iter()
        .find(|known| known.name == room)
        .map_or(&[][..], |known| known.may_import);
    let allowed = |path: &[String]| {
        path.first().is_some_and(|first| first == room)
            || may.iter().any(|prefix| under(path, prefix))
    };
    let bad = |path: &&Vec<String>| match path.as_slice() {
        [] => false,
        // Names at the root are modules; macros and the root itself are named with no room.
        [first, ..] if first == "*" => true,
        path => !allowed(path),
    };
    let text = |path: &Vec<String>| format!("{room} may not import {}", path.join("::"));
    names.inside.iter().filter(bad).map(text).collect()
}

fn outside(names: &Named, room: &str) -> Vec<String> {
    let mut found = Vec::new();
    for path in &names.outside {
        // The whole of `std`, by glob or under another name, would hide what is taken from it.
        if let [first, second] = path.as_slice()
            && first == "std"
            && second == "*"
        {
            found.push("std is not imported whole".to_string());
        }
        for ban in BANS {
            if under(path, ban.path) && !ban.except.contains(&room) {
                found.push(format!("{room} may not use {}", ban.path));
            }
        }
    }
    found
}

fn habits(names: &Named) -> Vec<String> {
    let called = names
        .methods
        .iter()
        .filter(|name| ENDS_THE_PROGRAM.contains(&name.as_str()));
    let ending = names
        .macros
        .iter()
        .filter(|name| MACROS_THAT_END.contains(&name.as_str()));
    let speaking = names
        .macros
        .iter()
        .filter(|name| MACROS_THAT_SPEAK.contains(&name.as_str()));
    called
        .map(|name| format!("{name}() ends the program"))
        .chain(ending.map(|name| format!("{name}! ends the program")))
        .chain(speaking.map(|name| format!("{name}! speaks past the command line")))
        .collect()
}
