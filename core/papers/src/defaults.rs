//! Figures that the plan did not give, in words.

use fairfall_core::api::views::DefaultUsed;
use serde::Serialize;
use serde_json::Value;

/// A row of the table of defaults.
#[derive(Debug, Serialize)]
pub(crate) struct DefaultWords {
    name: String,
    value: String,
    source: String,
    status: String,
}

/// Endings of keys in the plan file, and the units they stand for, longest first.
const UNITS: [(&str, &str); 12] = [
    ("_t_per_m3", "t/m³"),
    ("_kg_per_m3", "kg/m³"),
    ("_percent", "%"),
    ("_m_s2", "m/s²"),
    ("_mm", "mm"),
    ("_m3", "m³"),
    ("_m2", "m²"),
    ("_kg", "kg"),
    ("_m", "m"),
    ("_t", "t"),
    ("_h", "h"),
    ("_l", "l"),
];

/// A default in words: "layers.bed_mm" with 40 reads "Layers: bed", "40 mm".
pub(crate) fn words(default: &DefaultUsed) -> DefaultWords {
    let (key, unit) = unit(&default.key);
    let value = value(&default.value);
    DefaultWords {
        name: name(&key),
        value: if unit.is_empty() { value } else { format!("{value} {unit}") },
        source: default.source.clone(),
        status: status(&default.status),
    }
}

/// A key without its unit, and the unit: at the end of any part of it, of the last one that has one.
fn unit(key: &str) -> (String, &'static str) {
    let mut parts: Vec<&str> = key.split(['.', '/']).collect();
    for part in parts.iter_mut().rev() {
        let found = UNITS.iter().find_map(|(end, unit)| Some((part.strip_suffix(end)?, *unit)));
        if let Some((rest, unit)) = found {
            *part = rest;
            return (parts.join("."), unit);
        }
    }
    (parts.join("."), "")
}

fn name(key: &str) -> String {
    let parts: Vec<String> = key
        .split(['.', '/'])
        .filter(|part| !part.is_empty())
        .map(|part| part.replace('_', " "))
        .collect();
    let text = parts.join(": ");
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

fn value(value: &Value) -> String {
    match value {
        Value::Null => "none".to_owned(),
        Value::Bool(true) => "yes".to_owned(),
        Value::Bool(false) => "no".to_owned(),
        // A whole number without a needless ".0".
        Value::Number(number) => {
            number.as_f64().map_or_else(|| number.to_string(), |value| value.to_string())
        }
        Value::String(text) => text.replace('_', " "),
        Value::Array(items) => {
            let all: Vec<String> = items.iter().map(self::value).collect();
            all.join(if all.len() == 2 { " to " } else { ", " })
        }
        Value::Object(fields) => {
            let all: Vec<String> =
                fields.iter().map(|(key, item)| format!("{key} {}", self::value(item))).collect();
            all.join(", ")
        }
    }
}

/// How well a figure is known, in words.
fn status(status: &str) -> String {
    match status {
        "seen" => "read in the document",
        "secondary" => "quoted by another source",
        "memory" => "from memory",
        "practice" => "common practice",
        "computed" => "worked out",
        other => other,
    }
    .to_owned()
}

#[cfg(test)]
mod tests {
    use serde_json::json;

    use super::*;

    fn row(key: &str, value: Value) -> (String, String) {
        let default = DefaultUsed {
            key: key.to_owned(),
            value,
            source: String::new(),
            status: "practice".to_owned(),
        };
        let words = words(&default);
        assert_eq!(words.status, "common practice");
        (words.name, words.value)
    }

    #[test]
    fn keys_and_units_become_words() {
        assert_eq!(row("layers.bed_mm", json!(40)), ("Layers: bed".into(), "40 mm".into()));
        assert_eq!(
            row("/allowances/swell_percent", json!([25.0, 30])),
            ("Allowances: swell".into(), "25 to 30 %".into())
        );
        assert_eq!(
            row("allowances.sub_base_t_per_m3", json!(2.2)),
            ("Allowances: sub base".into(), "2.2 t/m³".into())
        );
        assert_eq!(
            row("orders.allowance_percent.sub_base", json!(5)),
            ("Orders: allowance: sub base".into(), "5 %".into())
        );
        assert_eq!(row("bond.pattern", json!("herringbone_45")).1, "herringbone 45");
    }
}
