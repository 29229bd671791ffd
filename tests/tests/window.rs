//! The real window: the built app under a display of its own, driven through WebKitWebDriver as a
//! person at a desk would, and its store read afterwards.
#![cfg(test)]

use std::net::TcpListener;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Duration;

use fairfall_acceptance::program::{Fairfall, Running, Trouble, binary, root};
use fantoccini::wd::Capabilities;
use fantoccini::{Client, ClientBuilder, Locator};
use serde_json::{Value, json};

/// How long an element may take to come. The machine may be busy with other tests.
const PATIENCE: Duration = Duration::from_secs(60);

/// A display that nobody looks at. It finds a free number for itself and writes it down.
fn display() -> Result<(Running, String), Trouble> {
    let mut command = Command::new("Xvfb");
    command
        .args(["-displayfd", "1", "-screen", "0", "420x900x24", "-nolisten", "tcp"])
        .stdout(Stdio::piped())
        .stderr(Stdio::null());
    let mut running = Running::start(&mut command)?;
    let number = running.first_line()?;
    Ok((running, format!(":{}", number.trim())))
}

fn free_port() -> Result<u16, Trouble> {
    Ok(TcpListener::bind("127.0.0.1:0")?.local_addr()?.port())
}

fn driver(display: &str, home: &Path, port: u16) -> Result<Running, Trouble> {
    let mut command = Command::new("WebKitWebDriver");
    command
        .arg(format!("--port={port}"))
        .env("DISPLAY", display)
        .env("HOME", home)
        .env("TAURI_AUTOMATION", "true")
        .env("TAURI_WEBVIEW_AUTOMATION", "true")
        .env_remove("WAYLAND_DISPLAY")
        .env_remove("XDG_CONFIG_HOME")
        .env_remove("XDG_DATA_HOME")
        .stdout(Stdio::null())
        .stderr(Stdio::null());
    Running::start(&mut command)
}

/// The app's window, once the driver listens.
async fn window(port: u16, app: &Path, store: &Path) -> Result<Client, Trouble> {
    let options = json!({ "binary": app, "args": [store] });
    let mut capabilities = Capabilities::new();
    capabilities.insert("webkitgtk:browserOptions".to_owned(), options);
    let listening = async {
        while tokio::net::TcpStream::connect(("127.0.0.1", port)).await.is_err() {
            tokio::task::yield_now().await;
        }
    };
    tokio::time::timeout(PATIENCE, listening).await.map_err(|_| "the driver never listened")?;
    let mut builder = ClientBuilder::rustls()?;
    builder.capabilities(capabilities);
    Ok(builder.connect(&format!("http://127.0.0.1:{port}")).await?)
}

/// A person at the window.
struct Hand<'a>(&'a Client);

impl Hand<'_> {
    async fn the(&self, test: &str) -> Result<fantoccini::elements::Element, Trouble> {
        let css = format!("[data-test='{test}']");
        let wait = self.0.wait().at_most(PATIENCE);
        wait.for_element(Locator::Css(&css)).await.map_err(|e| format!("{test}: {e}").into())
    }

    async fn tap(&self, test: &str) -> Result<(), Trouble> {
        let element = self.the(test).await?;
        element.click().await.map_err(|e| format!("{test}: {e}").into())
    }

    /// Waits until a thing is there no more.
    async fn gone(&self, test: &str) -> Result<(), Trouble> {
        let css = format!("[data-test='{test}']");
        let waiting = async {
            while !self.0.find_all(Locator::Css(&css)).await?.is_empty() {
                tokio::task::yield_now().await;
            }
            Ok::<(), Trouble>(())
        };
        tokio::time::timeout(PATIENCE, waiting).await.map_err(|_| format!("{test} stays"))?
    }

    async fn types(&self, test: &str, text: &str) -> Result<(), Trouble> {
        let element = self.the(test).await?;
        element.clear().await?;
        Ok(element.send_keys(text).await?)
    }

    /// Gives a file to an input that may be hidden.
    async fn gives(&self, test: &str, file: &Path) -> Result<(), Trouble> {
        let element = self.the(test).await?;
        Ok(element.send_keys(&file.to_string_lossy()).await?)
    }

    async fn look(&self, name: &str) -> Result<(), Trouble> {
        let folder = root().join("out/screens");
        std::fs::create_dir_all(&folder)?;
        Ok(std::fs::write(folder.join(format!("window-{name}.png")), self.0.screenshot().await?)?)
    }
}

/// A job's main path: a name, a job from a file, a dip, a pass, a photo, a stage closed, the diary, a
/// record issued and checked.
async fn work(hand: &Hand<'_>, store: &Path) -> Result<(), Trouble> {
    hand.types("person-name", "Mina Castle").await?;
    hand.tap("person-keep").await?;
    hand.tap("new-job").await?;
    hand.gives("plan-file", &root().join("fixtures/demo/car-standing.json")).await?;
    hand.tap("step-check").await?;
    hand.tap("plan-keep").await?;
    hand.the("next").await?;
    hand.look("today").await?;
    log_evidence(hand).await?;
    close_first_stage(hand).await?;
    hand.tap("place-diary").await?;
    hand.the("entry").await?;
    hand.look("diary").await?;
    issue_and_check(hand, store).await
}

/// A dip, a pass and a photo.
async fn log_evidence(hand: &Hand<'_>) -> Result<(), Trouble> {
    hand.tap("tool-dip").await?;
    hand.the("dip-target").await?;
    for key in ["key-3", "key-3", "key-0"] {
        hand.tap(key).await?;
    }
    hand.the("answer").await?;
    hand.look("dip").await?;
    hand.tap("key-keep").await?;
    hand.the("dip-kept").await?;
    hand.tap("back").await?;
    hand.tap("tool-pass").await?;
    hand.types("plant-name", "hired plate").await?;
    hand.tap("plant-keep").await?;
    hand.tap("add-pass").await?;
    hand.the("pass-last").await?;
    hand.look("pass").await?;
    hand.tap("back").await?;
    hand.tap("tool-photo").await?;
    hand.gives("gallery-input", &root().join("fixtures/demo/photos/formation.jpg")).await?;
    hand.tap("photo-keep").await?;
    hand.the("photo-taken").await?;
    hand.tap("back").await
}

/// The questions of the first stage answered, and the stage closed.
async fn close_first_stage(hand: &Hand<'_>) -> Result<(), Trouble> {
    hand.tap("next").await?;
    for check in ["services_marked", "materials_on_site", "strings_set"] {
        hand.tap(&format!("answer-{check}")).await?;
        hand.tap("answer-yes").await?;
        hand.gone("answer-yes").await?;
    }
    hand.look("stage").await?;
    hand.tap("stage-done").await?;
    hand.gone("stage-done").await?;
    hand.the("next").await.map(drop)
}

async fn issue_and_check(hand: &Hand<'_>, store: &Path) -> Result<(), Trouble> {
    hand.tap("place-papers").await?;
    hand.tap("paper-record").await?;
    hand.the("page").await?;
    hand.tap("issue").await?;
    hand.tap("issue-confirm").await?;
    hand.the("issued").await?;
    hand.look("papers").await?;
    hand.tap("back").await?;
    hand.tap("paper-check").await?;
    hand.gives("check-file", &record(store)?).await?;
    let verdict = hand.the("verdict").await?;
    hand.look("verdict").await?;
    match verdict.attr("data-ok").await?.as_deref() {
        Some("true") => Ok(()),
        other => Err(format!("the record does not hold: {other:?}").into()),
    }
}

/// The first completion record in a store.
fn record(store: &Path) -> Result<PathBuf, Trouble> {
    for entry in std::fs::read_dir(store.join("papers"))? {
        let path = entry?.path();
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        if name.starts_with("completion-record-") && name.ends_with("-1.pdf") {
            return Ok(path);
        }
    }
    Err("no record was issued".into())
}

#[tokio::test(flavor = "multi_thread")]
async fn a_person_at_a_desk() {
    let home = tempfile::tempdir().unwrap();
    let store = home.path().join("store");
    let app = binary("fairfall-app").unwrap();
    let (_display, name) = display().unwrap();
    let port = free_port().unwrap();
    let _driver = driver(&name, home.path(), port).unwrap();
    let client = window(port, &app, &store).await.unwrap();
    let hand = Hand(&client);
    let worked = work(&hand, &store).await;
    if worked.is_err() {
        let _seen_or_not = hand.look("where-it-stopped").await;
    }
    client.close().await.unwrap();
    worked.unwrap();

    let fairfall = Fairfall::built().unwrap();
    let store = store.to_string_lossy().into_owned();
    let ask = |arguments: &[&str]| fairfall.run(arguments).unwrap().json().unwrap();
    let jobs = ask(&["jobs", &store, "--json"]);
    let job = jobs["jobs"][0]["id"].as_str().unwrap();
    let diary = ask(&["diary", &store, job, "--json"]);
    let kinds: Vec<&Value> =
        diary["entries"].as_array().unwrap().iter().map(|entry| &entry["kind"]).collect();
    assert_eq!(
        kinds,
        ["plan", "dip", "pass", "photo", "check", "check", "check", "stage", "record"]
    );
    assert!(diary["entries"].as_array().unwrap().iter().skip(1).all(|e| e["who"] == "Mina Castle"));
    assert_eq!(ask(&["verify", &store, "--json"])["ok"], json!(true));
}
