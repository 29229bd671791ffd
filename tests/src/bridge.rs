//! The app's commands over HTTP, so that a browser can be the phone.
//!
//! The built screens are served as files, and `POST /ipc/COMMAND` runs the very command that the
//! window runs, on Tauri's mock runtime. JSON arguments come as `application/json`, a photo's bytes
//! as `application/octet-stream`. A fault comes back as status 400 with its JSON.

use std::error::Error;
use std::net::{Ipv4Addr, SocketAddr};
use std::path::{Path, PathBuf};
use std::sync::{Arc, mpsc};
use std::thread::JoinHandle;

use fairfall_app::{Around, Office};
use serde_json::{Value, json};
use tauri::ipc::{CallbackFn, InvokeBody, InvokeError, InvokeResponse, InvokeResponseBody};
use tauri::test::{INVOKE_KEY, MockRuntime, mock_builder, mock_context, noop_assets};
use tauri::webview::InvokeRequest;
use tauri::{App, Manager as _, WebviewWindow, WebviewWindowBuilder};
use tiny_http::{Header, Method, Request, Response, Server};

use crate::phone::Folders;

/// What the app itself lets its pages load: the browser keeps to the same.
const APP_CONFIG: &str = include_str!("../../src-tauri/tauri.conf.json");

/// Requests answered at the same time.
const WORKERS: usize = 8;

/// Anything that keeps a bridge from opening.
pub type BridgeError = Box<dyn Error + Send + Sync>;

type Reply = Response<std::io::Cursor<Vec<u8>>>;

/// A bridge that is open until it is dropped.
pub struct Bridge {
    address: SocketAddr,
    server: Arc<Server>,
    workers: Vec<JoinHandle<()>>,
    // The commands live as long as their app.
    _app: App<MockRuntime>,
}

/// What every worker needs.
struct Counter {
    window: WebviewWindow<MockRuntime>,
    dist: PathBuf,
    policy: String,
}

impl Bridge {
    /// Opens a bridge on this machine alone, over a store's folder and the folder of built screens.
    /// Port 0 takes any that is free. The phone around the screens is the folder `phone` beside the
    /// store.
    ///
    /// # Errors
    /// Where the screens are not built, or the port is taken.
    pub fn open(store: PathBuf, dist: PathBuf, port: u16) -> Result<Bridge, BridgeError> {
        if !dist.join("index.html").is_file() {
            return Err(format!("no screens in {}: run `make ui` first", dist.display()).into());
        }
        let app = fairfall_app::build(mock_builder()).build(mock_context(noop_assets()))?;
        app.manage(Around::new(Folders::new(store.with_file_name("phone"))));
        app.manage(Office::new(store));
        let window = WebviewWindowBuilder::new(&app, "main", Default::default()).build()?;
        let server = Arc::new(Server::http((Ipv4Addr::LOCALHOST, port))?);
        let address = server.server_addr().to_ip().ok_or("the bridge has no address")?;
        let counter = Arc::new(Counter { window, dist, policy: policy()? });
        let workers = (0..WORKERS)
            .map(|_| {
                let (server, counter) = (Arc::clone(&server), Arc::clone(&counter));
                std::thread::spawn(move || counter.serve(&server))
            })
            .collect();
        Ok(Bridge { address, server, workers, _app: app })
    }

    /// Where the screens are.
    pub fn url(&self) -> String {
        format!("http://{}", self.address)
    }
}

impl Drop for Bridge {
    fn drop(&mut self) {
        for _ in &self.workers {
            self.server.unblock();
        }
        for worker in self.workers.drain(..) {
            if worker.join().is_err() {
                eprintln!("a worker of the bridge broke off");
            }
        }
    }
}

/// The content policy of the app's configuration.
fn policy() -> Result<String, BridgeError> {
    let config: Value = serde_json::from_str(APP_CONFIG)?;
    let policy = config.pointer("/app/security/csp").and_then(Value::as_str);
    Ok(policy.ok_or("the app has no content policy")?.to_owned())
}

impl Counter {
    fn serve(&self, server: &Server) {
        // An error means that the bridge is being closed.
        while let Ok(mut request) = server.recv() {
            let reply = self.answer(&mut request);
            // Whoever asked may have gone away; nothing is lost by that.
            let _gone = request.respond(reply);
        }
    }

    fn answer(&self, request: &mut Request) -> Reply {
        let path = request.url().split(['?', '#']).next().unwrap_or_default().to_owned();
        match (request.method(), path.strip_prefix("/ipc/")) {
            (Method::Post, Some(command)) => self.command(command, request),
            (Method::Get, None) => self.file(&path),
            (_, _) => plain(405, "this is not asked for in this way"),
        }
    }

    /// A file of the built screens; the page itself where there is none of that name.
    fn file(&self, path: &str) -> Reply {
        let inside = path.split('/').all(|part| part != "..");
        let wanted = self.dist.join(path.trim_start_matches('/'));
        if !inside || (!wanted.is_file() && path != "/") {
            return plain(404, "there is no such file");
        }
        let file = if path == "/" { self.dist.join("index.html") } else { wanted };
        match std::fs::read(&file) {
            Ok(bytes) => with(
                Response::from_data(bytes),
                &[
                    ("Content-Type", type_of(&file)),
                    ("Content-Security-Policy", &self.policy),
                    ("Cache-Control", "no-store"),
                ],
            ),
            Err(error) => plain(500, &error.to_string()),
        }
    }

    fn command(&self, command: &str, request: &mut Request) -> Reply {
        let raw = request.headers().iter().any(|header| {
            header.field.equiv("Content-Type") && header.value == "application/octet-stream"
        });
        let mut bytes = Vec::new();
        if let Err(error) = request.as_reader().read_to_end(&mut bytes) {
            return plain(400, &error.to_string());
        }
        let body = if raw {
            InvokeBody::Raw(bytes)
        } else {
            match serde_json::from_slice(&bytes) {
                Ok(arguments) => InvokeBody::Json(arguments),
                Err(error) => return plain(400, &error.to_string()),
            }
        };
        let kind = match command {
            "photo" => "image/jpeg",
            "paper_page" => "image/svg+xml",
            _ => "application/octet-stream",
        };
        match self.invoke(command, body) {
            Ok(InvokeResponseBody::Json(text)) => json_reply(200, &text),
            Ok(InvokeResponseBody::Raw(bytes)) => {
                with(Response::from_data(bytes), &[("Content-Type", kind)])
            }
            Err(fault) => json_reply(400, &fault.to_string()),
        }
    }

    /// Runs a command as the window would.
    fn invoke(&self, command: &str, body: InvokeBody) -> Result<InvokeResponseBody, Value> {
        let broke = |why: &str| json!({ "code": "machine", "details": { "text": why } });
        let url = "tauri://localhost".parse().map_err(|_| broke("the page has no address"))?;
        let request = InvokeRequest {
            cmd: command.to_owned(),
            callback: CallbackFn(0),
            error: CallbackFn(1),
            url,
            body,
            headers: Default::default(),
            invoke_key: INVOKE_KEY.to_owned(),
        };
        let (tell, told) = mpsc::sync_channel(1);
        let answered = move |_, _, response, _, _| {
            // Nobody waits any more once the bridge is closing.
            let _closing = tell.send(response);
        };
        self.window.as_ref().clone().on_message(request, Box::new(answered));
        match told.recv() {
            Ok(InvokeResponse::Ok(body)) => Ok(body),
            Ok(InvokeResponse::Err(InvokeError(fault))) => Err(fault),
            Err(_) => Err(broke("the command broke off without an answer")),
        }
    }
}

fn type_of(file: &Path) -> &'static str {
    match file.extension().and_then(|e| e.to_str()) {
        Some("html") => "text/html; charset=utf-8",
        Some("js") => "text/javascript",
        Some("css") => "text/css",
        Some("svg") => "image/svg+xml",
        Some("woff2") => "font/woff2",
        _ => "application/octet-stream",
    }
}

fn plain(status: u16, text: &str) -> Reply {
    let reply = Response::from_string(text).with_status_code(status);
    with(reply, &[("Content-Type", "text/plain; charset=utf-8")])
}

fn json_reply(status: u16, text: &str) -> Reply {
    let reply = Response::from_data(text.as_bytes().to_vec()).with_status_code(status);
    with(reply, &[("Content-Type", "application/json")])
}

fn with(mut reply: Reply, headers: &[(&str, &str)]) -> Reply {
    for (name, value) in headers {
        if let Ok(header) = Header::from_bytes(name.as_bytes(), value.as_bytes()) {
            reply.add_header(header);
        }
    }
    reply
}
