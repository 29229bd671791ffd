//! The commands that reach out of the window, on Tauri's mock runtime: what leaves the app, and photos
//! as an Android web view sends them. The phone is a folder.
#![cfg(test)]

use std::path::Path;

use fairfall_acceptance::bridge::Bridge;
use fairfall_acceptance::http::send;
use fairfall_acceptance::program::root;
use serde_json::{Value, json};

struct Phone {
    folder: tempfile::TempDir,
    bridge: Bridge,
}

impl Phone {
    fn new() -> Phone {
        let folder = tempfile::tempdir().unwrap();
        let store = folder.path().join("store");
        let bridge = Bridge::open(store, root().join("ui/dist"), 0).unwrap();
        Phone { folder, bridge }
    }

    fn file(&self, name: &str) -> std::path::PathBuf {
        self.folder.path().join("phone").join(name)
    }

    fn ask(&self, command: &str, arguments: &Value) -> (u16, Value) {
        let body = arguments.to_string();
        let path = format!("/ipc/{command}");
        let kind = ("application/json", body.as_bytes());
        let answer = send(&self.bridge.url(), "POST", &path, kind).unwrap();
        (answer.status, serde_json::from_slice(&answer.body).unwrap())
    }

    /// A draft of the sample job's record; the name of its file.
    fn draft(&self) -> String {
        let asks = |request: &str, args: Value| {
            self.ask("ask", &json!({ "request": request, "args": args })).1
        };
        asks("set_person", json!({ "name": "Mina Castle" }));
        let job = asks("start_sample", json!({}))["job"].clone();
        let (status, made) =
            self.ask("make_record", &json!({ "job": job, "issue": false, "paper": "a4" }));
        assert_eq!(status, 200, "{made}");
        made["file"].as_str().unwrap().to_owned()
    }
}

fn is_pdf(path: &Path) -> bool {
    std::fs::read(path).unwrap().starts_with(b"%PDF-")
}

fn demo_photo() -> Vec<u8> {
    std::fs::read(root().join("fixtures/demo/photos/stone.jpg")).unwrap()
}

#[test]
fn a_paper_goes_where_the_person_says_and_nowhere_where_they_say_nothing() {
    let phone = Phone::new();
    let file = phone.draft();
    let (status, saved) = phone.ask("save_paper", &json!({ "file": file }));
    assert_eq!(status, 200, "{saved}");
    assert!(is_pdf(Path::new(saved["path"].as_str().unwrap())));

    std::fs::remove_dir_all(phone.file("saved")).unwrap();
    std::fs::write(phone.file("no-place"), b"").unwrap();
    assert_eq!(phone.ask("save_paper", &json!({ "file": file })), (200, json!({ "path": null })));
    assert!(!phone.file("saved").exists());
}

#[test]
fn a_paper_is_shared_as_it_is() {
    let phone = Phone::new();
    let file = phone.draft();
    assert_eq!(phone.ask("can_share", &json!({})), (200, json!(true)));
    assert_eq!(phone.ask("share_paper", &json!({ "file": file })), (200, Value::Null));
    assert!(is_pdf(&phone.file("shared").join(&file)));
}

#[test]
fn only_papers_leave_the_app() {
    let phone = Phone::new();
    phone.draft();
    for name in ["../fairfall.db", "/etc/hostname", "no-such.pdf", "..", ""] {
        for command in ["save_paper", "share_paper"] {
            let (status, fault) = phone.ask(command, &json!({ "file": name }));
            assert_eq!((status, &fault["code"]), (400, &json!("not_found")), "{command} {name}");
        }
    }
    assert!(!phone.file("saved").exists() && !phone.file("shared").exists());
}

#[test]
fn a_copy_that_cannot_be_written_is_said_so() {
    let phone = Phone::new();
    let file = phone.draft();
    std::fs::create_dir_all(phone.file("saved").join(&file)).unwrap();
    let (status, fault) = phone.ask("save_paper", &json!({ "file": file }));
    assert_eq!((status, &fault["code"]), (400, &json!("machine")));
}

#[test]
fn a_photo_as_text_is_the_same_photo() {
    let phone = Phone::new();
    let bytes = demo_photo();
    let raw = ("application/octet-stream", bytes.as_slice());
    let answer = send(&phone.bridge.url(), "POST", "/ipc/keep_photo", raw).unwrap();
    let by_bytes: Value = serde_json::from_slice(&answer.body).unwrap();
    let base64 = base64::Engine::encode(&base64::engine::general_purpose::STANDARD, &bytes);
    let (status, by_text) = phone.ask("keep_photo", &json!({ "base64": base64 }));
    assert_eq!((status, &by_text), (200, &by_bytes));
}

#[test]
fn what_is_no_photo_is_refused_however_it_comes() {
    let phone = Phone::new();
    for body in
        [json!({}), json!({ "base64": 7 }), json!({ "base64": "not base64" }), json!([255, 216])]
    {
        let (status, fault) = phone.ask("keep_photo", &body);
        assert_eq!((status, &fault["code"]), (400, &json!("bad_input")), "{body}");
    }
    let (status, fault) = phone.ask("keep_photo", &json!({ "base64": "VHVlc2RheQ==" }));
    assert_eq!((status, &fault["code"]), (400, &json!("photo_unreadable")));
}

#[test]
fn a_photo_that_the_camera_left_is_kept_once() {
    let phone = Phone::new();
    assert_eq!(phone.ask("left_photo", &json!({})), (200, Value::Null));
    std::fs::create_dir_all(phone.file("Pictures")).unwrap();
    let left = phone.file("Pictures/JPEG_20260612_081500_1.jpg");
    std::fs::write(&left, demo_photo()).unwrap();
    let (status, kept) = phone.ask("left_photo", &json!({}));
    assert_eq!(status, 200, "{kept}");
    assert!(!left.exists());
    let body = json!({ "sha256": kept["sha256"], "thumb": false }).to_string();
    let kind = ("application/json", body.as_bytes());
    let shown = send(&phone.bridge.url(), "POST", "/ipc/photo", kind).unwrap();
    // How every JPEG begins, after the length of the first chunk on the wire.
    assert!(shown.body.windows(3).take(16).any(|start| start == [0xff, 0xd8, 0xff]));
    assert_eq!(phone.ask("left_photo", &json!({})), (200, Value::Null));
}

#[test]
fn a_photo_that_is_not_kept_stays_with_the_camera() {
    let phone = Phone::new();
    std::fs::create_dir_all(phone.file("Pictures")).unwrap();
    let left = phone.file("Pictures/JPEG_20260612_081500_1.jpg");
    std::fs::write(&left, &demo_photo()[..400]).unwrap();
    let (status, _) = phone.ask("left_photo", &json!({}));
    assert_eq!(status, 400);
    assert!(left.exists());
}

#[test]
fn the_screen_is_held_and_let_go() {
    let phone = Phone::new();
    assert_eq!(phone.ask("keep_awake", &json!({ "on": true })), (200, json!(true)));
    assert!(phone.file("awake").exists());
    assert_eq!(phone.ask("keep_awake", &json!({ "on": false })), (200, json!(true)));
    assert!(!phone.file("awake").exists());
}
