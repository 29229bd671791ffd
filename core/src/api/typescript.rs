//! The TypeScript of the boundary, written from the Rust types.

use std::collections::BTreeMap;

use ts_rs::{Config, TS, TypeVisitor};

use super::requests_in_typescript;
use super::{requests, views};

/// Every type that crosses, by name.
struct Types<'a> {
    config: &'a Config,
    declared: BTreeMap<String, String>,
}

impl TypeVisitor for Types<'_> {
    fn visit<T: TS + 'static + ?Sized>(&mut self) {
        if T::output_path().is_none() || self.declared.contains_key(&T::ident(self.config)) {
            return;
        }
        let docs = T::docs().unwrap_or_default();
        let declared = format!("{docs}export {}\n", T::decl(self.config));
        self.declared.insert(T::ident(self.config), declared);
        T::visit_dependencies(self);
        T::visit_generics(self);
    }
}

const HEAD: &str = "// Generated from Rust by `make types`. Do not edit.\n";

/// The files of `ui/src/lib/generated`, by name.
pub fn typescript() -> BTreeMap<&'static str, String> {
    let config = Config::default();
    let mut types = Types { config: &config, declared: BTreeMap::new() };
    types.visit::<requests::OfJob>();
    super::visit_types(&mut types);
    types.visit::<views::DipAnswer>();
    let mut text = HEAD.to_owned();
    for declared in types.declared.values() {
        text.push('\n');
        text.push_str(declared);
    }
    let mut calls = format!(
        "{HEAD}\nimport type * as T from \"./types\";\n\n\
         /** Arguments and answer of every request, by name. */\nexport interface Requests {{\n"
    );
    for (name, arguments, answer) in requests_in_typescript(&config) {
        let [arguments, answer] = [arguments, answer].map(|t| qualified(&t, &types.declared));
        calls.push_str(&format!("  {name}: {{ arguments: {arguments}; answer: {answer} }};\n"));
    }
    calls.push_str("}\n");
    BTreeMap::from([("types.ts", text), ("requests.ts", calls)])
}

/// The type's name with our own names taken from the file of types.
fn qualified(name: &str, declared: &BTreeMap<String, String>) -> String {
    let bare = name.trim_end_matches(" | null").trim_start_matches("Array<").trim_end_matches('>');
    if declared.contains_key(bare) {
        name.replacen(bare, &format!("T.{bare}"), 1)
    } else {
        name.to_owned()
    }
}
