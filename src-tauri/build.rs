//! Tauri's own build step.

fn main() {
    tauri_build::build();
}
