//! The machine's clock and chance, and the store on its disk.

use std::path::Path;

use chrono::{DateTime, FixedOffset};
use fairfall_core::api::{self, Desk};
use fairfall_core::outside::Outside;
use fairfall_core::store::Store;

use crate::outcome::Trouble;

/// The system clock and the operating system's random numbers.
pub struct System;

impl Outside for System {
    #[expect(clippy::disallowed_methods, reason = "here the command line hands the clock in")]
    fn now(&mut self) -> DateTime<FixedOffset> {
        chrono::Local::now().fixed_offset()
    }

    fn random(&mut self) -> [u8; 10] {
        let mut bytes = [0; 10];
        if let Err(error) = getrandom::fill(&mut bytes) {
            eprintln!("this machine gives no random numbers: {error}");
            std::process::exit(3);
        }
        bytes
    }

    fn secret(&mut self) -> Option<[u8; 32]> {
        let mut bytes = [0; 32];
        getrandom::fill(&mut bytes).ok().map(|()| bytes)
    }
}

/// Opens a store that is there.
pub fn open(folder: &Path) -> Result<Desk, Trouble> {
    let store = Store::open(folder)?;
    tell(&store);
    Ok(Desk { store, outside: Box::new(System) })
}

/// Opens a store, or begins one.
pub fn open_or_begin(folder: &Path) -> Result<Desk, Trouble> {
    let stamp = System.now().format("%Y%m%dT%H%M%S").to_string();
    let store = Store::open_or_begin(folder, &stamp)?;
    tell(&store);
    // The device's key is made at the first start; issuing a paper says so where it could not be.
    let _key_or_later = store.device_key(&mut System);
    Ok(Desk { store, outside: Box::new(System) })
}

fn tell(store: &Store) {
    for notice in store.notices() {
        eprintln!("{}", api::notice(notice).text);
    }
}
