//! Tellshelf: you tell the shelf, and the shelf tells you. An offline voice assistant for the
//! kitchen stock of people who don't use their eyes for it.
//!
//! Data walks through the rooms one way:
//!
//! | room | what comes in | what goes out |
//! |---|---|---|
//! | [`ear`] | a recording, or the microphone | utterances, and hypotheses of what was said |
//! | [`grammar`] | hypotheses, and the names this kitchen knows | a command, and how sure it is |
//! | [`talk`] | a command | what it means now, and a reply |
//! | [`stock`] | an event, or a question | what it did, on disk; or the answer |
//! | [`voice`] | a reply | speech and captions |
//!
//! Beside the way stand [`measure`]: numbers, quantities and dates, between words and values; [`guide`]: published
//! storage times; [`share`]: the list and tags in forms for others; and [`settings`]: how the person wants to be
//! listened to and spoken to.
//! [`cli`] reads arguments and connects the rooms. No arrow runs back: `stock` knows nothing of
//! speech, `ear` nothing of food, and only `talk` knows both words and stock.
//! A test (`tests/house.rs`) reads the `use` lines and sees to it.
#![warn(missing_docs)]

pub mod cli;
pub mod ear;
pub mod grammar;
pub mod guide;
pub mod measure;
pub mod settings;
pub mod share;
pub mod stock;
pub mod talk;
pub mod voice;
