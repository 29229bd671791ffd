//! How a command ends.

use std::io::Write as _;
use std::process::ExitCode;

use fairfall_core::api::Fault;
use fairfall_core::plan::Problem;
use serde_json::{Value, json};

/// A command that was done.
pub struct Outcome {
    /// The JSON answer; none where it was written line by line already.
    pub json: Option<Value>,
    /// The same for people.
    pub text: String,
    /// Whether something needs attention.
    pub attention: bool,
}

impl Outcome {
    /// Done, with nothing to attend to.
    pub fn done(json: Value, text: String) -> Self {
        Outcome { json: Some(json), text, attention: false }
    }

    /// Prints the answer and gives the exit status.
    pub fn print(self, as_json: bool) -> ExitCode {
        let printed = match &self.json {
            Some(json) if as_json => writeln!(std::io::stdout(), "{json}"),
            Some(_) => writeln!(std::io::stdout(), "{}", self.text.trim_end()),
            None => Ok(()),
        };
        match printed {
            // Whoever reads has closed the pipe: nothing is wrong with the answer.
            Err(error) if error.kind() == std::io::ErrorKind::BrokenPipe => {}
            Err(error) => {
                eprintln!("the answer could not be printed: {error}");
                return ExitCode::from(3);
            }
            Ok(()) => {}
        }
        ExitCode::from(u8::from(self.attention))
    }
}

/// A command that could not be done.
pub enum Trouble {
    /// The input is bad, each problem with its place.
    BadInput(Vec<Problem>),
    /// The machine failed.
    Machine(String),
}

impl Trouble {
    /// One problem with the input.
    pub fn input(at: &str, problem: impl Into<String>, right: impl Into<String>) -> Self {
        Trouble::BadInput(vec![Problem::new(at, problem, right)])
    }

    /// Prints what went wrong and gives the exit status.
    pub fn print(self, as_json: bool) -> ExitCode {
        match self {
            Trouble::BadInput(problems) => {
                if as_json {
                    println!("{}", json!({ "problems": problems }));
                } else {
                    for p in &problems {
                        let at = if p.at.is_empty() { "the input" } else { &p.at };
                        eprintln!("{at}: {}. Right would be: {}.", p.problem, p.right);
                    }
                }
                ExitCode::from(2)
            }
            Trouble::Machine(text) => {
                eprintln!("{text}");
                ExitCode::from(3)
            }
        }
    }
}

impl From<Fault> for Trouble {
    fn from(fault: Fault) -> Self {
        let text = || {
            let text = fault.details.get("text").and_then(Value::as_str);
            text.unwrap_or(fault.code).to_owned()
        };
        match fault.code {
            "bad_input" => {
                let problems = fault.details.get("problems").cloned().unwrap_or_default();
                Trouble::BadInput(serde_json::from_value(problems).unwrap_or_default())
            }
            "not_found" => Trouble::input("", text(), "one that is there: see `fairfall jobs`"),
            _ => Trouble::Machine(text()),
        }
    }
}

impl From<fairfall_core::store::StoreError> for Trouble {
    fn from(error: fairfall_core::store::StoreError) -> Self {
        Fault::from(error).into()
    }
}

impl From<Vec<Problem>> for Trouble {
    fn from(problems: Vec<Problem>) -> Self {
        Trouble::BadInput(problems)
    }
}

/// What was typed is no command: the first paragraph of what the parser says, in one line.
pub fn usage(error: &clap::Error) -> Trouble {
    let said = error.to_string();
    let said = said.split("\n\n").next().unwrap_or_default().trim_start_matches("error: ");
    let words: Vec<&str> = said.split_whitespace().collect();
    Trouble::input("", words.join(" "), "a command as `fairfall --help` shows")
}

/// Rows of text in columns, the first column left, the others right where they are numbers.
pub fn table(rows: &[[String; 2]]) -> String {
    let width = rows.iter().map(|[name, _]| name.chars().count()).max().unwrap_or(0);
    rows.iter().map(|[name, value]| format!("{name:width$}  {value}\n")).collect()
}
