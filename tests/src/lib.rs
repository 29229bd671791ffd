//! What the whole-program tests stand on: the program's own binaries, a clock and dice of their own,
//! journeys as case files, and a bridge that lets a browser be the phone.

pub mod bridge;
pub mod http;
pub mod journey;
pub mod outside;
pub mod phone;
pub mod program;
