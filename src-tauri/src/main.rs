//! The desktop app.

fn main() {
    fairfall_app::run();
}
