//! What is wrong with an entry that cannot be read, in plain words. The reader's own words are for
//! programmers: it says "invalid type: string "a", expected f64".

use serde_json::{Value, json};
use serde_path_to_error::{Path, Segment};

use super::Body;

/// What is wrong with a body, and where.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Malformed {
    /// JSON pointer (RFC 6901) into the body.
    pub at: String,
    /// What is wrong.
    pub problem: String,
    /// What would be right.
    pub right: String,
}

/// What is wrong with a body that is not one of its kind; `reason` is what its first reading said.
pub(super) fn malformed(kind: &str, body: &Value, reason: &str) -> Malformed {
    // Read again with the kind first, so that the reader keeps the way to what it stumbled on.
    let text = format!("{{\"kind\":{},\"body\":{body}}}", json!(kind));
    let mut reader = serde_json::Deserializer::from_str(&text);
    let (at, reason) = match serde_path_to_error::deserialize::<_, Body>(&mut reader) {
        Err(error) => (pointer(error.path()), error.into_inner().to_string()),
        Ok(_) => (String::new(), reason.to_owned()),
    };
    // The reader adds where in the text it stood, which is no text that anybody wrote.
    let reason = reason.split(" at line ").next().unwrap_or_default();
    let (problem, right) = in_words(reason, kind);
    Malformed { at, problem, right }
}

fn pointer(path: &Path) -> String {
    let step = |segment: &Segment| match segment {
        Segment::Map { key } => Some(key.replace('~', "~0").replace('/', "~1")),
        Segment::Seq { index } => Some(index.to_string()),
        Segment::Enum { .. } | Segment::Unknown => None,
    };
    let steps: Vec<String> = path.iter().filter_map(step).collect();
    // The first step is "body" itself.
    steps.iter().skip(1).map(|step| format!("/{step}")).collect()
}

/// The reader's sentence as a problem and what is right.
fn in_words(reason: &str, kind: &str) -> (String, String) {
    let quoted: Vec<&str> = reason.split('`').skip(1).step_by(2).collect();
    if let [name, known @ ..] = quoted.as_slice() {
        let list = known.join(", ");
        if reason.starts_with("missing field") {
            return (format!("\"{name}\" is not given"), format!("\"{name}\" with a value"));
        }
        if reason.starts_with("unknown field") {
            return (format!("\"{name}\" is not known here"), format!("one of: {list}"));
        }
        if reason.starts_with("unknown variant") {
            return (format!("\"{name}\" is none of what it may be"), format!("one of: {list}"));
        }
    }
    let Some((found, wanted)) = reason.split_once(", expected ") else {
        let right = if reason.contains("UUID") {
            "an entry's id, as the diary gives it".to_owned()
        } else {
            format!("a body of the kind {kind}")
        };
        return ("this cannot be read".to_owned(), right);
    };
    let found = found.split_once(": ").map_or(found, |(_, found)| found);
    (format!("{} stands here", spoken(found)), spoken_wanted(wanted))
}

/// A value as the reader names it: `string "a"`, `floating point `1.5``, `null`.
fn spoken(found: &str) -> String {
    let plain = found
        .replace("floating point", "the number")
        .replace("integer", "the number")
        .replace("string", "the text")
        .replace("boolean", "the word")
        .replace("sequence", "a list")
        .replace('`', "");
    match plain.as_str() {
        length if length.starts_with("invalid length") => "a list of another length".to_owned(),
        "null" => "nothing".to_owned(),
        "map" => "an object".to_owned(),
        _ => plain,
    }
}

fn spoken_wanted(wanted: &str) -> String {
    match wanted {
        "f64" | "f32" => "a number",
        "u8" | "u16" | "u32" | "u64" | "usize" => "a whole number, 0 or more",
        "i8" | "i16" | "i32" | "i64" | "isize" => "a whole number",
        "a boolean" => "true or false",
        "a string" | "string or map" => "text in quotes",
        "a sequence" => "a list in [ ]",
        text if text.starts_with("an array") => "a list of two numbers",
        text if text.contains("UUID") => "an entry's id, as the diary gives it",
        _ => "an object in { } with the keys of this kind",
    }
    .to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn said(kind: &str, body: Value) -> [String; 3] {
        let reason = serde_json::from_value::<Body>(json!({ "kind": kind, "body": body }))
            .expect_err("a bad body")
            .to_string();
        let Malformed { at, problem, right } = malformed(kind, &body, &reason);
        [at, problem, right]
    }

    #[test]
    fn what_is_wrong_is_said_where_it_stands() {
        let dip = |key: &str, value: Value| {
            let mut body = json!({
                "layer": "formation", "from": "R1", "to": "F1", "at_m": 1.0, "reading_mm": 250.0,
            });
            body[key] = value;
            said("dip", body)
        };
        let words = |[a, b, c]: [&str; 3]| [a, b, c].map(str::to_owned);
        assert_eq!(
            dip("at_m", json!("1,2")),
            words(["/at_m", "the text \"1,2\" stands here", "a number"])
        );
        assert_eq!(dip("lift", json!(-1))[0], "/lift");
        assert_eq!(dip("lift", json!(-1))[2], "a whole number, 0 or more");
        let [at, problem, right] = dip("layer", json!("sand"));
        assert_eq!(
            (at.as_str(), problem.as_str()),
            ("/layer", "\"sand\" is none of what it may be")
        );
        assert!(right.starts_with("one of: ") && right.contains("formation"), "{right}");
        let [_, problem, right] = dip("depth", json!(1));
        assert_eq!(problem, "\"depth\" is not known here");
        assert!(right.contains("reading_mm"), "{right}");
        assert_eq!(said("note", json!({}))[1], "\"text\" is not given");
        assert_eq!(said("note", json!("rain"))[2], "an object in { } with the keys of this kind");
        let spot = said("soft_spot", json!({ "place": "R1" }));
        assert_eq!(spot[0], "/place");
        let struck = said("strike", json!({ "entry": "12", "reason": "typed wrong" }));
        assert_eq!(
            (struck[0].as_str(), struck[2].as_str()),
            ("/entry", "an entry's id, as the diary gives it")
        );
    }

    #[test]
    fn no_word_of_the_readers_language_is_left() {
        let bodies = [
            ("dip", json!([])),
            ("dip", Value::Null),
            ("dip", json!({ "layer": 3 })),
            (
                "signature",
                json!({ "paper": "change_note", "name": "n", "role": "layer", "strokes": [[[1]]] }),
            ),
            ("drop_round", json!({ "layer": "sub_base", "readings": {} })),
            ("stage", json!({ "stage": "lay", "done": "yes" })),
            ("change", json!({ "what": "w", "quantity": 1, "unit": "h", "rate_minor": 1.5 })),
        ];
        for (kind, body) in bodies {
            let all = said(kind, body).join(" ");
            for word in ["f64", "u32", "struct", "variant", "expected", "map", "invalid", "line"] {
                assert!(!all.contains(word), "{kind}: {all}");
            }
        }
    }
}
