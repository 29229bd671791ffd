//! The committed Android project, read as the system would: what the app may do, who may open it, and
//! what it hands out. Names are those of Android's manifest reference
//! (developer.android.com/guide/topics/manifest). An unpacked SDK is not needed.
#![cfg(test)]

use std::collections::BTreeSet;
use std::path::PathBuf;

use fairfall_acceptance::program::root;
use roxmltree::{Document, Node};
use serde_json::Value;

const ANDROID: &str = "http://schemas.android.com/apk/res/android";

fn project(file: &str) -> PathBuf {
    root().join("src-tauri/gen/android").join(file)
}

fn read(file: PathBuf) -> String {
    std::fs::read_to_string(&file).unwrap_or_else(|error| panic!("{}: {error}", file.display()))
}

fn manifest() -> String {
    read(project("app/src/main/AndroidManifest.xml"))
}

fn config() -> Value {
    serde_json::from_str(&read(root().join("src-tauri/tauri.conf.json"))).unwrap()
}

fn all<'a, 'i>(document: &'a Document<'i>, tag: &str) -> Vec<Node<'a, 'i>> {
    document.descendants().filter(|node| node.has_tag_name(tag)).collect()
}

fn of<'a>(node: &Node<'a, '_>, attribute: &str) -> Option<&'a str> {
    node.attribute((ANDROID, attribute))
}

fn names<'a>(document: &'a Document<'_>, tag: &str) -> BTreeSet<&'a str> {
    all(document, tag).iter().filter_map(|node| of(node, "name")).collect()
}

#[test]
fn the_app_asks_for_two_permissions_and_no_more() {
    let text = manifest();
    let document = Document::parse(&text).unwrap();
    let asked: BTreeSet<&str> = ["uses-permission", "uses-permission-sdk-23"]
        .iter()
        .flat_map(|t| names(&document, t))
        .collect();
    // Not the camera: declared, it would have to be asked for; the camera app holds it. No storage: the
    // system's own dialogs give what a person chose. No place: photos are stripped of it.
    assert_eq!(asked, ["android.permission.INTERNET", "android.permission.VIBRATE"].into());
}

#[test]
fn no_hardware_is_asked_for_that_a_phone_may_lack() {
    let text = manifest();
    let document = Document::parse(&text).unwrap();
    let features = all(&document, "uses-feature");
    let camera =
        features.iter().find(|f| of(f, "name") == Some("android.hardware.camera")).unwrap();
    assert_eq!(of(camera, "required"), Some("false"));
    assert!(features.iter().all(|feature| of(feature, "required") == Some("false")));
}

#[test]
fn the_camera_app_can_be_found() {
    let text = manifest();
    let document = Document::parse(&text).unwrap();
    let queries = all(&document, "queries");
    let asked: Vec<&str> = queries
        .iter()
        .flat_map(|queries| queries.descendants())
        .filter(|node| node.has_tag_name("action"))
        .filter_map(|action| action.attribute((ANDROID, "name")))
        .collect();
    assert_eq!(asked, ["android.media.action.IMAGE_CAPTURE"]);
}

#[test]
fn the_diary_goes_into_nobodys_backup_by_itself() {
    let text = manifest();
    let document = Document::parse(&text).unwrap();
    let [application] = all(&document, "application")[..] else { panic!("one application") };
    assert_eq!(of(&application, "allowBackup"), Some("false"));
    // Clear-text traffic is a matter of the debug build, which may read the screens from a dev server.
    assert_eq!(of(&application, "usesCleartextTraffic"), Some("${usesCleartextTraffic}"));
    let gradle = read(project("app/build.gradle.kts"));
    let (before_debug, _) = gradle.split_once("getByName(\"debug\")").unwrap();
    assert!(before_debug.contains("manifestPlaceholders[\"usesCleartextTraffic\"] = \"false\""));
}

#[test]
fn nothing_but_the_launcher_opens_the_app_and_nothing_else_of_it_is_open() {
    let text = manifest();
    let document = Document::parse(&text).unwrap();
    let [activity] = all(&document, "activity")[..] else { panic!("one activity") };
    assert_eq!(of(&activity, "name"), Some(".MainActivity"));
    let actions: Vec<&str> = activity
        .descendants()
        .filter(|node| node.has_tag_name("action"))
        .filter_map(|action| action.attribute((ANDROID, "name")))
        .collect();
    assert_eq!(actions, ["android.intent.action.MAIN"]);
    for tag in ["service", "receiver", "activity-alias"] {
        assert!(all(&document, tag).is_empty(), "{tag}");
    }
}

#[test]
fn the_file_provider_hands_out_one_file_at_a_time() {
    let text = manifest();
    let document = Document::parse(&text).unwrap();
    let [provider] = all(&document, "provider")[..] else { panic!("one provider") };
    let said = ["name", "authorities", "exported", "grantUriPermissions"].map(|a| of(&provider, a));
    let should =
        ["androidx.core.content.FileProvider", "${applicationId}.fileprovider", "false", "true"];
    assert_eq!(said, should.map(Some));
    let paths = read(project("app/src/main/res/xml/file_paths.xml"));
    // The camera's folder and the cache, which shared copies lie in; never the store.
    let document = Document::parse(&paths).unwrap();
    let roots: BTreeSet<&str> = document
        .root_element()
        .children()
        .filter(Node::is_element)
        .map(|n| n.tag_name().name())
        .collect();
    assert_eq!(roots, ["cache-path", "external-path"].into());
}

#[test]
fn one_name_everywhere() {
    let identifier = config()["identifier"].as_str().unwrap().to_owned();
    let gradle = read(project("app/build.gradle.kts"));
    for key in ["namespace", "applicationId"] {
        assert!(gradle.contains(&format!("{key} = \"{identifier}\"")), "{key}");
    }
    let sources = format!("app/src/main/java/{}", identifier.replace('.', "/"));
    for file in std::fs::read_dir(project(&sources)).unwrap() {
        let path = file.unwrap().path();
        let said = format!("package {identifier}\n");
        assert!(read(path.clone()).starts_with(&said), "{}", path.display());
    }
    // What Rust registers is what Kotlin has, by name.
    let rust = read(root().join("src-tauri/src/surroundings/mobile.rs"));
    let kotlin = read(project(&format!("{sources}/PhonePlugin.kt")));
    assert!(rust.contains(&format!("register_android_plugin(\"{identifier}\", \"PhonePlugin\")")));
    for command in ["share", "keepAwake"] {
        assert!(rust.contains(&format!("\"{command}\"")), "{command}");
        assert!(
            kotlin.contains(&format!("@Command\n  fun {command}(invoke: Invoke)")),
            "{command}"
        );
    }
}

#[test]
fn the_page_has_no_permission_of_a_plugin() {
    let capabilities = std::fs::read_dir(root().join("src-tauri/capabilities")).unwrap();
    let granted: Vec<Value> = capabilities
        .map(|file| serde_json::from_str(&read(file.unwrap().path())).unwrap())
        .map(|capability: Value| capability["permissions"].clone())
        .collect();
    assert_eq!(granted, [serde_json::json!(["core:event:default"])]);
}
