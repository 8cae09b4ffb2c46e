//! One automaton for what can be said outside any mode, and one for each mode.
//!
//! They are whole automata and not one with parts switched off: what a recogniser is guided by, the list of words and
//! the number of states then speak of what can be said now and of nothing else. All are compiled when the file is read,
//! so that no fault in it is found in the middle of a conversation.

use std::sync::Arc;

use super::error::GrammarError;
use super::file::GrammarFile;
use super::network::Network;

/// The automata of a grammar file.
#[derive(Debug)]
pub(super) struct Modes {
    outside: Arc<Network>,
    inside: Vec<(String, Arc<Network>)>,
}

impl Modes {
    /// Compiles a file, once for each of its modes and once for outside them.
    pub fn compile(file: &GrammarFile) -> Result<Self, GrammarError> {
        let outside = Arc::new(Network::compile(file, None)?);
        let inside = file.modes.iter().map(|mode| {
            let network = Network::compile(file, Some(mode))?;
            Ok((mode.name.clone(), Arc::new(network)))
        });
        Ok(Self {
            outside,
            inside: inside.collect::<Result<_, _>>()?,
        })
    }

    /// What can be said outside any mode.
    pub fn outside(&self) -> Arc<Network> {
        Arc::clone(&self.outside)
    }

    /// What can be said in a mode, if the file has it.
    pub fn inside(&self, mode: &str) -> Option<Arc<Network>> {
        let (_, network) = self.inside.iter().find(|(name, _)| name == mode)?;
        Some(Arc::clone(network))
    }
}
