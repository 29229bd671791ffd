//! Serves the screens to a browser: `bridge STORE PORT DIST`. Prints its address and stays until it
//! is ended. Port 0 takes any that is free.

use std::io::Write as _;
use std::path::PathBuf;
use std::process::ExitCode;

use fairfall_acceptance::bridge::{Bridge, BridgeError};

fn main() -> ExitCode {
    match open() {
        Ok(_bridge) => loop {
            std::thread::park();
        },
        Err(error) => {
            eprintln!("{error}");
            ExitCode::from(2)
        }
    }
}

fn open() -> Result<Bridge, BridgeError> {
    let mut arguments = std::env::args_os();
    let _this_program = arguments.next();
    let mut next = || arguments.next().ok_or("bridge STORE PORT DIST");
    let store = PathBuf::from(next()?);
    let port = next()?.to_string_lossy().parse()?;
    let dist = PathBuf::from(next()?);
    let bridge = Bridge::open(store, dist, port)?;
    let mut out = std::io::stdout();
    writeln!(out, "{}", bridge.url())?;
    out.flush()?;
    Ok(bridge)
}
