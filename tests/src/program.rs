//! The program's own binaries, run as a person's shell would run them.

use std::collections::BTreeMap;
use std::ffi::OsStr;
use std::io::{Read as _, Write as _};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Output, Stdio};
use std::sync::Mutex;

use serde_json::Value;

/// Anything that keeps a test from doing its part.
pub type Trouble = Box<dyn std::error::Error + Send + Sync>;

/// The project's root.
pub fn root() -> PathBuf {
    let tests = Path::new(env!("CARGO_MANIFEST_DIR"));
    tests.parent().unwrap_or(tests).to_owned()
}

/// Binaries that this test has built already.
static BUILT: Mutex<BTreeMap<String, PathBuf>> = Mutex::new(BTreeMap::new());

/// A binary of the workspace as the sources stand now. Built in the one way that everything here is
/// built in, so that nothing is compiled twice.
///
/// # Errors
/// Where it does not build.
pub fn binary(name: &str) -> Result<PathBuf, Trouble> {
    let mut known = BUILT.lock().map_err(|_| "another test broke off while it built")?;
    if let Some(path) = known.get(name) {
        return Ok(path.clone());
    }
    let built = Command::new(env!("CARGO"))
        .args(["build", "--quiet", "--workspace", "--features", "fairfall-app/custom-protocol"])
        .args(["--bin", name])
        .current_dir(root())
        .status()?;
    if !built.success() {
        return Err(format!("{name} does not build").into());
    }
    // This test lies in the target folder's `debug/deps`.
    let test = std::env::current_exe()?;
    let debug = test.parent().and_then(Path::parent).ok_or("this test lies nowhere")?;
    let path = debug.join(name);
    known.insert(name.to_owned(), path.clone());
    Ok(path)
}

/// The `fairfall` command line.
pub struct Fairfall {
    binary: PathBuf,
}

/// How a command ended.
#[derive(Debug)]
pub struct Ended {
    /// Its exit status; none where a signal ended it.
    pub status: Option<i32>,
    /// What it wrote on standard output.
    pub out: String,
    /// What it wrote on standard error.
    pub err: String,
}

impl Ended {
    /// The one JSON object of a command's standard output.
    ///
    /// # Errors
    /// Where it is none.
    pub fn json(&self) -> Result<Value, Trouble> {
        serde_json::from_str(&self.out).map_err(|error| format!("{error}: {self:?}").into())
    }

    /// The JSON objects of a command that answers line by line.
    ///
    /// # Errors
    /// Where a line is none.
    pub fn lines(&self) -> Result<Vec<Value>, Trouble> {
        self.out.lines().map(|line| Ok(serde_json::from_str(line)?)).collect()
    }
}

impl From<Output> for Ended {
    fn from(output: Output) -> Self {
        Ended {
            status: output.status.code(),
            out: String::from_utf8_lossy(&output.stdout).into_owned(),
            err: String::from_utf8_lossy(&output.stderr).into_owned(),
        }
    }
}

impl Fairfall {
    /// The command line as the sources stand now.
    ///
    /// # Errors
    /// Where it does not build.
    pub fn built() -> Result<Fairfall, Trouble> {
        Ok(Fairfall { binary: binary("fairfall")? })
    }

    /// Where it lies.
    pub fn path(&self) -> &Path {
        &self.binary
    }

    /// A command of it, to be started.
    pub fn command<I: AsRef<OsStr>>(&self, arguments: impl IntoIterator<Item = I>) -> Command {
        let mut command = Command::new(&self.binary);
        command.args(arguments);
        command
    }

    /// Runs a command to its end.
    ///
    /// # Errors
    /// Where it cannot be started.
    pub fn run<I: AsRef<OsStr>>(
        &self,
        arguments: impl IntoIterator<Item = I>,
    ) -> Result<Ended, Trouble> {
        Ok(self.command(arguments).stdin(Stdio::null()).output()?.into())
    }

    /// Runs a command to its end with something on its standard input.
    ///
    /// # Errors
    /// Where it cannot be started.
    pub fn run_with<I: AsRef<OsStr>>(
        &self,
        arguments: impl IntoIterator<Item = I>,
        input: &[u8],
    ) -> Result<Ended, Trouble> {
        feed(self.command(arguments), input)
    }

    /// Starts a job in a store from a plan file and gives its identity.
    ///
    /// # Errors
    /// Where it is not started.
    pub fn new_job(&self, store: &Path, plan: &Path) -> Result<String, Trouble> {
        let arguments = ["new".as_ref(), store.as_os_str(), plan.as_os_str(), "--json".as_ref()];
        let ended = self.run(arguments)?;
        let answer = ended.json()?;
        let job = answer.get("job").and_then(Value::as_str);
        Ok(job.ok_or_else(|| format!("no job was started: {ended:?}"))?.to_owned())
    }
}

/// Runs a command to its end with something on its standard input. A command that ends before it
/// has read all of it is no trouble.
///
/// # Errors
/// Where it cannot be started.
pub fn feed(mut command: Command, input: &[u8]) -> Result<Ended, Trouble> {
    command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
    let mut child = command.spawn()?;
    let mut to_child = child.stdin.take().ok_or("no standard input")?;
    let input = input.to_vec();
    let writer = std::thread::spawn(move || to_child.write_all(&input));
    let ended = child.wait_with_output()?.into();
    let written = writer.join().map_err(|_| "the input's writer broke off")?;
    match written {
        Err(error) if error.kind() != std::io::ErrorKind::BrokenPipe => Err(error.into()),
        _ => Ok(ended),
    }
}

/// A process that ends with its owner.
pub struct Running(Child);

impl Running {
    /// Starts it.
    ///
    /// # Errors
    /// Where it cannot be started.
    pub fn start(command: &mut Command) -> Result<Running, Trouble> {
        let program = command.get_program().to_string_lossy().into_owned();
        let child = command.spawn().map_err(|error| format!("{program}: {error}"))?;
        Ok(Running(child))
    }

    /// The process itself.
    pub fn process(&mut self) -> &mut Child {
        &mut self.0
    }

    /// Its first line on standard output, once it is there.
    ///
    /// # Errors
    /// Where it ends without one, or standard output is not piped.
    pub fn first_line(&mut self) -> Result<String, Trouble> {
        let out = self.0.stdout.as_mut().ok_or("standard output is not piped")?;
        let mut line = Vec::new();
        let mut byte = [0];
        while out.read(&mut byte)? == 1 && byte != *b"\n" {
            line.extend(byte);
        }
        if line.is_empty() {
            return Err("it ended without a word".into());
        }
        Ok(String::from_utf8(line)?)
    }
}

impl Drop for Running {
    fn drop(&mut self) {
        // It may have ended by itself; either way it is gone and waited for.
        let _killed = self.0.kill();
        let _gone = self.0.wait();
    }
}
