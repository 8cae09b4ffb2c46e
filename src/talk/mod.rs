//! Talk: one utterance in, one reply out.
//!
//! In: what was understood of an utterance ([`crate::grammar::Understanding`]), its time and source.
//! Out: a [`Turn`]: the reply to speak, and whether the stock changed. In between, the command
//! becomes a [`Request`], and the request an event or a question to the stock.
//! This is the only room that knows both words and stock.
mod answer;
mod attention;
mod help;
mod lesson;
mod manner;
mod notice;
mod question;
mod reading;
mod request;
mod scanned;
mod session;
mod steps;
mod turn;
mod walk;
mod walk_away;
mod wording;

pub use attention::{Attention, Completeness};
pub use manner::Manner;
pub use notice::Notice;
pub use question::Question;
pub use reading::Through;
pub use request::{Correction, Goods, Held, Request, Since, Span, State, Unclear, Which};
pub use session::Session;
pub use steps::Step;
pub use turn::{Effect, Turn};
