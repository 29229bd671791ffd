//! A phone can die at any moment. `fairfall log` is killed without warning while entries are being
//! written, again and again, and every entry it had acknowledged is in the store afterwards.
#![cfg(test)]

use std::collections::BTreeSet;
use std::hint::spin_loop;
use std::io::{BufRead as _, BufReader, Read as _, Write as _};
use std::path::Path;
use std::process::{ChildStdin, Stdio};

use fairfall_acceptance::outside::Dice;
use fairfall_acceptance::program::{Fairfall, Running, Trouble, root};
use fairfall_core::diary::check_chains;
use fairfall_core::job::fold;
use fairfall_core::store::{Store, entries_of};
use serde_json::{Value, json};

/// Stores that are worked on at the same time, and how often the writer of each is killed.
const STORES: u64 = 4;
const KILLS: u64 = 52;

/// Entries that a writer is given; it is killed long before the last.
const ENTRIES: u64 = 400;

/// The longest that a kill waits after the last answer it waited for, in turns of the processor's
/// idle loop: about the time in which two more entries are written.
const TURNS: u64 = 300_000;

#[test]
fn whatever_was_acknowledged_survives_a_kill() {
    let fairfall = Fairfall::built().unwrap();
    let acknowledged: u64 = std::thread::scope(|scope| {
        let fairfall = &fairfall;
        let work = |seed| scope.spawn(move || one_store(fairfall, seed).unwrap());
        let stores: Vec<_> = (0..STORES).map(work).collect();
        stores.into_iter().map(|store| store.join().unwrap()).sum()
    });
    println!("{} kills, {acknowledged} entries acknowledged and found", STORES * KILLS);
    // Kills that only ever hit idle moments would prove nothing.
    assert!(acknowledged > STORES * KILLS, "{acknowledged}");
}

/// Kills the writer of one store again and again; gives the number of entries acknowledged.
fn one_store(fairfall: &Fairfall, seed: u64) -> Result<u64, Trouble> {
    let folder = tempfile::tempdir()?;
    let store = folder.path().join("store");
    let job = fairfall.new_job(&store, &root().join("fixtures/demo/garden-path.json"))?;
    let mut dice = Dice::new(seed);
    let mut acknowledged = BTreeSet::new();
    let mut kept = 1;
    for round in 0..KILLS {
        let answers = killed_writer(fairfall, &store, &job, round, &mut dice)?;
        let fresh = answers.len();
        acknowledged.extend(answers);
        let entries =
            Store::open(&store)?.read(|c| entries_of(c, job.parse().unwrap_or_default()))?;
        let ids: BTreeSet<String> = entries.iter().map(|e| e.id.to_string()).collect();
        let lost: Vec<_> = acknowledged.difference(&ids).collect();
        assert_eq!(lost, Vec::<&String>::new(), "seed {seed}, round {round}");
        assert_eq!(check_chains(&entries), [], "seed {seed}, round {round}");
        assert!(fold(&entries).is_ok(), "seed {seed}, round {round}");
        // Besides those answered, at most the one that was on its way.
        let grown = entries.len() - kept;
        assert!((fresh..=fresh + 1).contains(&grown), "{fresh} answered, {grown} written");
        kept = entries.len();
    }
    let verified = fairfall.run(["verify".as_ref(), store.as_os_str(), "--json".as_ref()])?;
    assert_eq!(verified.status, Some(0), "{verified:?}");
    assert_eq!(verified.json()?.get("ok"), Some(&Value::Bool(true)), "{verified:?}");
    Ok(acknowledged.len() as u64)
}

/// Starts a writer, kills it at a moment that the dice choose, and gives the identities that it had
/// answered by then.
fn killed_writer(
    fairfall: &Fairfall,
    store: &Path,
    job: &str,
    round: u64,
    dice: &mut Dice,
) -> Result<Vec<String>, Trouble> {
    let mut log = fairfall.command(["log".as_ref(), store.as_os_str(), job.as_ref()]);
    log.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::null());
    let mut running = Running::start(&mut log)?;
    let input = running.process().stdin.take().ok_or("no standard input")?;
    let output = running.process().stdout.take().ok_or("no standard output")?;
    let writer = std::thread::spawn(move || write(input, round));
    let mut output = BufReader::new(output);
    let mut answers = String::new();
    for _ in 0..dice.below(14) {
        if output.read_line(&mut answers)? == 0 {
            return Err(format!("the writer ended by itself: {answers}").into());
        }
    }
    for _ in 0..dice.below(TURNS) {
        spin_loop();
    }
    running.process().kill()?;
    // What it had still printed by then counts; the end of a line is the end of an answer.
    output.read_to_string(&mut answers)?;
    writer.join().map_err(|_| "the writer broke off")??;
    let ended = running.process().wait()?;
    if ended.code().is_some() {
        return Err(format!("the writer ended by itself: {ended}").into());
    }
    answers.split_inclusive('\n').filter(|line| line.ends_with('\n')).map(identity).collect()
}

fn identity(line: &str) -> Result<String, Trouble> {
    let answer: Value = serde_json::from_str(line)?;
    let id = answer.get("id").and_then(Value::as_str);
    Ok(id.ok_or_else(|| format!("not taken: {line}"))?.to_owned())
}

/// Writes entries until nobody reads any more.
fn write(mut input: ChildStdin, round: u64) -> Result<(), std::io::Error> {
    for number in 0..ENTRIES {
        let entry = match number % 3 {
            0 => json!({ "kind": "dip", "body": {
                "layer": "formation", "from": "R1", "to": "F1", "at_m": 0.5, "raise_mm": 100,
                "reading_mm": 340 + number % 20,
            } }),
            1 => {
                json!({ "kind": "pass", "body": { "layer": "formation", "plant": "small plate" } })
            }
            _ => json!({ "kind": "note", "body": { "text": format!("round {round}, {number}") } }),
        };
        match writeln!(input, "{entry}") {
            Err(error) if error.kind() == std::io::ErrorKind::BrokenPipe => return Ok(()),
            written => written?,
        }
    }
    Ok(())
}
