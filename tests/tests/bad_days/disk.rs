//! A disk that is full: what was answered is there, what was not is not, and once there is room the
//! work goes on.

use std::io::Write as _;
use std::path::Path;
use std::process::{Command, Stdio};

use fairfall_acceptance::program::{Running, binary, feed, root};
use serde_json::{Value, json};
use tempfile::TempDir;

use super::{Site, ask, code, keep_photo, lines_of, text};

/// A way to have little room.
enum Little {
    /// A small disk of its own, mounted here; it goes when this goes.
    Disk(TempDir),
    /// No right to mount one: files are kept from growing instead.
    Files(TempDir),
}

impl Little {
    fn room(kilobytes: u32) -> Little {
        let folder = tempfile::tempdir().unwrap();
        let mounted = Command::new("mount")
            .args(["-t", "tmpfs", "-o", &format!("size={kilobytes}k"), "little"])
            .arg(folder.path())
            .stderr(Stdio::null())
            .status()
            .is_ok_and(|status| status.success());
        if mounted {
            return Little::Disk(folder);
        }
        eprintln!("no right to mount a small disk here: files are kept from growing instead");
        Little::Files(folder)
    }

    fn folder(&self) -> &Path {
        let (Little::Disk(folder) | Little::Files(folder)) = self;
        folder.path()
    }

    /// A command that has no more than this room; where it is files that are kept from growing, none
    /// past so many blocks of 512 bytes.
    fn within(&self, command: Command, blocks: u32) -> Command {
        let Little::Files(_) = self else { return command };
        let mut limited = Command::new("sh");
        limited
            .args(["-c", &format!("trap '' XFSZ; ulimit -f {blocks}; exec \"$0\" \"$@\"")])
            .arg(command.get_program())
            .args(command.get_args());
        limited
    }

    /// The fault that it makes: a file that may not grow is no full disk to the system.
    fn fault(&self) -> (&'static str, &'static str) {
        match self {
            Little::Disk(_) => ("disk_full", "the disk is full; nothing was written"),
            Little::Files(..) => ("machine", "could not be used"),
        }
    }
}

impl Drop for Little {
    fn drop(&mut self) {
        if let Little::Disk(folder) = self {
            let gone = Command::new("umount").arg("--lazy").arg(folder.path()).status();
            if !gone.is_ok_and(|status| status.success()) {
                eprintln!("still mounted: {}", folder.path().display());
            }
        }
    }
}

/// Both ways, or the one that is allowed here.
fn both_ways(kilobytes: u32) -> Vec<Little> {
    let files = Little::Files(tempfile::tempdir().unwrap());
    match Little::room(kilobytes) {
        disk @ Little::Disk(_) => vec![disk, files],
        Little::Files(..) => vec![files],
    }
}

#[test]
fn logging_stops_at_a_full_disk_and_goes_on_when_there_is_room() {
    for little in both_ways(900) {
        let site = Site::begin_in(little.folder()).unwrap();
        let ballast = little.folder().join("ballast");
        std::fs::write(&ballast, vec![0; 200_000]).unwrap();
        let long = "note ".repeat(600);
        let input = lines_of(&vec![long.as_str(); 700]);
        let log = little.within(site.fairfall.command(site.on_job("log")), 900);
        let full = feed(log, input.as_bytes()).unwrap();

        assert_eq!(full.status, Some(3), "{}", full.err);
        assert!(full.err.contains(little.fault().1), "{}", full.err);
        let answers = full.lines().unwrap();
        let mut answered: Vec<String> =
            answers.iter().map(|a| text(a, "id").unwrap().to_owned()).collect();
        assert!(answered.len() > 10, "{}", answered.len());

        // Once there is room, all of it is there, and more can be logged.
        std::fs::remove_file(&ballast).unwrap();
        assert_eq!(site.diary().unwrap()[1..], answered);
        answered.extend(site.log_notes(&["there is room again"]).unwrap());
        assert_eq!(site.diary().unwrap()[1..], answered);
    }
}

#[test]
fn a_photo_or_a_paper_that_has_no_room_leaves_nothing_behind() {
    // Room for a thumbnail but not for its photo, and on a disk of its own no room at all.
    let no_room = Some(Little::room(4000)).filter(|little| matches!(little, Little::Disk(_)));
    let ways = both_ways(4000).into_iter().map(|little| (little, 50));
    for (little, spare) in ways.chain(no_room.map(|little| (little, 0))) {
        let site = Site::begin_in(little.folder()).unwrap();
        let ballast = little.folder().join("ballast");
        fill(&little, &ballast, spare);
        let photo = std::fs::read(root().join("fixtures/demo/photos/stone.jpg")).unwrap();
        let record = json!({ "job": site.job, "issue": true, "paper": "a4" });
        let before = files_in(&site.store);
        {
            // Enough for the database that is there.
            let tight = little.within(Command::new(binary("bridge").unwrap()), 2 * spare);
            let (_bridge, url) = bridge(tight, &site.store);
            let answer = keep_photo(&url, &photo).unwrap();
            assert_eq!(code(&answer).unwrap(), little.fault().0);
            let answer = ask(&url, "make_record", &record).unwrap();
            assert_eq!(code(&answer).unwrap(), little.fault().0);
            // What is in the diary can still be read.
            let job = json!({ "request": "diary", "args": { "job": site.job } });
            assert_eq!(ask(&url, "ask", &job).unwrap().status, 200);
        }
        assert_eq!(files_in(&site.store), before);

        std::fs::remove_file(&ballast).unwrap();
        assert_eq!(site.diary().unwrap().len(), 1);
        let (_bridge, url) = bridge(Command::new(binary("bridge").unwrap()), &site.store);
        assert_eq!(keep_photo(&url, &photo).unwrap().status, 200);
        let answer = ask(&url, "make_record", &record).unwrap();
        let made: Value = serde_json::from_slice(&answer.body).unwrap();
        assert_eq!(made["number"], json!(1), "{made}");
        assert_eq!(site.diary().unwrap().len(), 2);
    }
}

/// Fills what is left of a disk, but for so many kilobytes.
fn fill(little: &Little, ballast: &Path, spare: u32) {
    let mut file = std::fs::File::create(ballast).unwrap();
    if let Little::Files(..) = little {
        return;
    }
    let spared = ballast.with_extension("spared");
    std::fs::write(&spared, vec![0; spare as usize * 1024]).unwrap();
    for size in [4096, 64] {
        while file.write_all(&vec![0; size]).is_ok() {}
    }
    std::fs::remove_file(spared).unwrap();
}

/// Every file with photos or papers in a store.
fn files_in(store: &Path) -> Vec<std::path::PathBuf> {
    let mut found = Vec::new();
    let mut folders = vec![store.to_owned()];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            let database = path.file_name().unwrap().to_string_lossy().starts_with("fairfall.db");
            match path.is_dir() {
                true => folders.push(path),
                false if !database => found.push(path),
                false => {}
            }
        }
    }
    found
}

/// Opens a bridge of its own process over a store.
fn bridge(mut command: Command, store: &Path) -> (Running, String) {
    let dist = root().join("ui/dist");
    command.arg(store).arg("0").arg(dist).stdin(Stdio::null()).stdout(Stdio::piped());
    let mut running = Running::start(&mut command).unwrap();
    let url = running.first_line().unwrap();
    (running, url)
}
