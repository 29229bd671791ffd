//! Writes the TypeScript of the boundary into a folder: `cargo run --example types -- FOLDER`.

use std::path::PathBuf;

fn main() -> std::io::Result<()> {
    let Some(folder) = std::env::args_os().nth(1).map(PathBuf::from) else {
        return Err(std::io::Error::other("name the folder to write into"));
    };
    std::fs::create_dir_all(&folder)?;
    for (name, text) in fairfall_core::api::typescript() {
        std::fs::write(folder.join(name), text)?;
    }
    Ok(())
}
