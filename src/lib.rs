//! Tellshelf: you tell the shelf, and the shelf tells you.
//!
//! Data walks one way through the rooms: [`ear`] (sound to hypotheses), `grammar` (hypotheses to
//! command), `talk` (command to what it means now), `stock` (the inventory core), `voice` (reply to
//! speech). Beside the way stands `measure` (spoken form to value and back). `main.rs` and `cli`
//! connect the rooms.
pub mod grammar;
pub mod measure;
