//! Kills the program at random moments of editing and saving, repeatedly.
//!
//! Each round starts this test binary again as a separate program, which works on one file as a window does and reports
//! what it has done. It is killed without warning, and the files that it left are checked. `FALLWRIGHT_KILLS` is the
//! number of rounds.

use fallwright::edit::title;
use fallwright::evaluate::Evaluation;
use fallwright::file::{self, is_part};
use fallwright::session::{Entry, Options, Saved, Services, Session};
use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::{Arc, Mutex};
use std::thread;
use std::time::{Duration, Instant};

/// Where the program works that is to be killed.
const FOLDER: &str = "FALLWRIGHT_KILLED_IN";
/// Nothing older than this is lost.
const KEPT_WITHIN: Duration = Duration::from_secs(2);
/// The longest that a program is left alive.
const LONGEST_MS: u64 = 3500;

/// Solves nothing, so that all of the time goes into editing and saving.
fn idle() -> Services {
    Services {
        preview: Arc::new(|_, _| None),
        evaluate: Arc::new(|_, _| Evaluation::default()),
        cure: Arc::new(|_, evaluation, _| Some(evaluation.clone())),
        ..Services::default()
    }
}

fn window_in(folder: &Path) -> Session {
    let options = Options {
        settings: Some(folder.join("keep/recent.txt")),
        keep: Some(folder.join("keep")),
        ..Options::default()
    };
    Session::with_services(options, idle())
}

fn layout_in(folder: &Path) -> PathBuf {
    folder.join("layout.ron")
}

/// The number of the edit that a layout has come to.
fn number(title: &str) -> u64 {
    title.strip_prefix("Edit ").unwrap().parse().unwrap()
}

struct Dice(u64);

impl Dice {
    fn below(&mut self, most: u64) -> u64 {
        // Knuth's multiplier, by which the upper bits are random enough.
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % most
    }
}

#[test]
#[ignore = "it works until it is killed: the test below begins it"]
fn a_window_at_work() {
    let folder = PathBuf::from(std::env::var_os(FOLDER).expect("the folder to work in"));
    let say = |words: String| {
        let mut out = std::io::stdout().lock();
        // A line of its own, whatever stood there before.
        write!(out, "\n{words}\n").unwrap();
        out.flush().unwrap();
    };
    let mut session = window_in(&folder);
    session.find_left();
    if session.left().is_empty() {
        session.open(&layout_in(&folder)).unwrap();
    } else {
        session.take_up_left();
    }
    let mut dice = Dice(u64::from(std::process::id()));
    loop {
        let next = number(&session.layout().title) + 1;
        session
            .commit(title(session.layout(), &format!("Edit {next}")).unwrap())
            .unwrap();
        say(format!("edited {next}"));
        session.poll();
        if dice.below(6) == 0 {
            assert_eq!(session.save(), Ok(Saved::Done));
            say(format!("saved {next}"));
        }
        // In bursts, with rests between them.
        let pause = if dice.below(12) == 0 { 900 } else { 30 };
        thread::sleep(Duration::from_millis(dice.below(pause)));
    }
}

/// What a program said that it had done, and when that was heard.
type Said = Arc<Mutex<Vec<(Instant, String, u64)>>>;

fn begin(folder: &Path) -> (Child, Said, thread::JoinHandle<()>) {
    let name = "session::killed::a_window_at_work";
    let mut child = Command::new(std::env::current_exe().unwrap())
        .args([name, "--exact", "--ignored", "--nocapture"])
        .env(FOLDER, folder)
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let said = Said::default();
    let (lines, theirs) = (
        BufReader::new(child.stdout.take().unwrap()).lines(),
        said.clone(),
    );
    let listener = thread::spawn(move || {
        for line in lines.map_while(Result::ok) {
            if let Some((what, number)) = line.split_once(' ')
                && let Ok(number) = number.parse()
            {
                theirs
                    .lock()
                    .unwrap()
                    .push((Instant::now(), what.to_owned(), number));
            }
        }
    });
    (child, said, listener)
}

/// Kills it after a while; what it had said, and when it was killed.
fn killed(folder: &Path, dice: &mut Dice) -> (Vec<(Instant, String, u64)>, Instant) {
    let (mut child, said, listener) = begin(folder);
    thread::sleep(Duration::from_millis(50 + dice.below(LONGEST_MS)));
    assert_eq!(child.try_wait().unwrap(), None, "it ended by itself");
    let at = Instant::now();
    child.kill().unwrap();
    child.wait().unwrap();
    listener.join().unwrap();
    let said = said.lock().unwrap().clone();
    (said, at)
}

/// Every file is whole, and the newest edit that is anywhere.
fn judge(folder: &Path, (said, at): (&[(Instant, String, u64)], Instant)) -> u64 {
    let saved = number(&file::read(&layout_in(folder)).unwrap().title);
    let before = file::version_before(&layout_in(folder));
    if before.exists() {
        let text = std::fs::read_to_string(before).unwrap();
        assert!(number(&file::parse(&text, file::Format::Ron).unwrap().title) <= saved);
    }
    for entry in walkdir::WalkDir::new(folder.join("keep/journal"))
        .into_iter()
        .flatten()
    {
        if entry
            .path()
            .extension()
            .is_some_and(|ending| ending == "ron")
        {
            Entry::read(&std::fs::read_to_string(entry.path()).unwrap()).unwrap();
        }
    }
    let last = |what: &str, before: Instant| {
        let of = said.iter().filter(|one| one.1 == what && one.0 <= before);
        of.map(|one| one.2).max().unwrap_or_default()
    };
    assert!(
        saved >= last("saved", at),
        "{saved} is in the file, saved was {}",
        last("saved", at)
    );
    let mut next = window_in(folder);
    next.find_left();
    let left = next
        .left()
        .iter()
        .map(|left| number(&left.entry.layout.title));
    let newest = left.max().unwrap_or_default().max(saved);
    let wanted = at
        .checked_sub(KEPT_WITHIN)
        .map_or(0, |before| last("edited", before));
    assert!(
        newest >= wanted,
        "{newest} is left of {wanted}, which was made 2 s before"
    );
    // The edit that was under way may be there too.
    assert!(newest <= last("edited", at).max(saved) + 1);
    newest
}

/// Rounds in one folder, each going on where the one before was killed; how many edits there were.
fn rounds(count: u64, seed: u64) -> u64 {
    let folder = tempfile::tempdir().unwrap();
    let folder = folder.path();
    let mut demo = fallwright::session::demo().unwrap();
    demo.title = "Edit 0".to_owned();
    file::write(&demo, &layout_in(folder)).unwrap();
    let (mut dice, mut newest) = (Dice(seed), 0);
    for round in 0..count {
        let (said, at) = killed(folder, &mut dice);
        let found = judge(folder, (&said, at));
        assert!(
            found >= newest,
            "round {round} of seed {seed}: {found} after {newest}"
        );
        newest = found;
    }
    // What was half written is told from what is being written by its age.
    thread::sleep(Duration::from_millis(2100));
    let mut last = window_in(folder);
    last.find_left();
    if last.left().is_empty() {
        last.open(&layout_in(folder)).unwrap();
    } else {
        last.take_up_left();
    }
    assert_eq!(number(&last.layout().title), newest);
    assert_eq!(last.save(), Ok(Saved::Done));
    drop(last);
    let files = walkdir::WalkDir::new(folder)
        .into_iter()
        .map(|file| file.unwrap().into_path());
    let left: Vec<PathBuf> = files
        .filter(|path| {
            is_part(path) || path.starts_with(folder.join("keep/journal/")) && path.is_file()
        })
        .collect();
    assert!(left.is_empty(), "{left:?}");
    newest
}

#[test]
fn killed_at_random_moments_nothing_older_than_two_seconds_is_lost() {
    let count = std::env::var("FALLWRIGHT_KILLS").ok();
    let count: u64 = count.map_or(10, |count| count.parse().expect("a number of rounds"));
    let seed = std::env::var("FALLWRIGHT_SEED").ok();
    let seed: u64 = seed.map_or(1, |seed| seed.parse().expect("a seed"));
    // Side by side: most of a round is waiting.
    let lanes = (count / 5).clamp(1, 6);
    let lanes: Vec<_> = (0..lanes)
        .map(|lane| {
            let share = count / lanes + u64::from(lane < count % lanes);
            thread::spawn(move || rounds(share, seed * 1000 + lane))
        })
        .collect();
    let edits: u64 = lanes.into_iter().map(|lane| lane.join().unwrap()).sum();
    println!("{count} kills, {edits} edits, nothing lost");
    assert!(edits > count, "hardly anything was done before each kill");
}
