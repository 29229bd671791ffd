//! The `fairfall` command line: the same core as the phone, for the office, for scripts and for
//! checks. With `--json` a command prints one JSON object and nothing else on standard output.
//!
//! Exit status: 0 done, 1 done but something needs attention, 2 bad input, 3 the machine failed.

mod arguments;
mod demo;
mod jobs;
mod lay;
mod outcome;
mod papers;
mod plan;
mod sheets;
mod survey;
mod system;
mod tables;

use std::process::ExitCode;

use clap::Parser as _;

use arguments::{Arguments, Command};

fn main() -> ExitCode {
    let arguments = match Arguments::try_parse() {
        Ok(arguments) => arguments,
        Err(error) if error.use_stderr() && std::env::args_os().any(|a| a == "--json") => {
            return outcome::usage(&error).print(true);
        }
        Err(error) => error.exit(),
    };
    let json = arguments.json;
    let done = match arguments.command {
        Command::Plan { plan } => plan::plan(&plan),
        Command::SetOut { plan } => survey::set_out(&plan),
        Command::Lay { plan, svg, pieces } => lay::lay(&plan, svg.as_deref(), pieces.as_deref()),
        Command::Levels { book, start, close } => survey::levels(&book, start, close),
        Command::Arc { radius, chord, every } => survey::arc(radius, chord, every),
        Command::Volume { spots, formation, grid, cell_m } => {
            survey::volume(&spots, formation, grid, cell_m)
        }
        Command::Passes(asked) => tables::passes(asked),
        Command::Vibration { work } => tables::vibration(&work),
        Command::Demo { folder } => demo::demo(&folder),
        Command::Jobs { store } => jobs::jobs(&store),
        Command::New { store, plan } => jobs::new(&store, &plan),
        Command::Log { store, job } => jobs::log(&store, &job),
        Command::Diary { store, job } => jobs::diary(&store, &job),
        Command::State { store, job } => jobs::state(&store, &job),
        Command::Record { store, job, out, paper } => papers::record(&store, &job, &out, paper),
        Command::Sheet { plan, out, templates, paper } => {
            sheets::setting_out(&plan, &out, templates, paper)
        }
        Command::Care { store, job, out, paper } => sheets::care(&store, &job, &out, paper),
        Command::OrderList { store, job, out, paper } => {
            sheets::order_list(&store, &job, &out, paper)
        }
        Command::ChangeNote { store, job, number, out, paper } => {
            sheets::change_note(&store, &job, number, &out, paper)
        }
        Command::Data { store, job, out } => sheets::data(&store, &job, &out),
        Command::Verify { path, key } => papers::verify(&path, key.as_deref()),
    };
    match done {
        Ok(outcome) => outcome.print(json),
        Err(trouble) => trouble.print(json),
    }
}
