//! The screens in a touch browser, driven as a person with a phone would. The walks are in
//! `tests/phone`; pictures of each screen go to `out/screens`.
#![cfg(test)]

use std::process::{Command, Stdio};

use fairfall_acceptance::program::{Running, binary, root};

#[test]
fn a_person_with_a_phone() {
    let home = tempfile::tempdir().unwrap();
    let mut bridge = Command::new(binary("bridge").unwrap());
    bridge
        .arg(home.path().join("store"))
        .arg("0")
        .arg(root().join("ui/dist"))
        .stdin(Stdio::null())
        .stdout(Stdio::piped());
    let mut bridge = Running::start(&mut bridge).unwrap();
    let url = bridge.first_line().unwrap();
    let walked = Command::new("node")
        .arg(root().join("tests/phone/run.mjs"))
        .args([url, root().join("out/screens").to_string_lossy().into_owned()])
        .arg(home.path().join("phone"))
        .status()
        .unwrap();
    assert!(walked.success(), "the walks end with {walked}");
}
