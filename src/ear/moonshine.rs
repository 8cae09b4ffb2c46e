//! The Moonshine recogniser: English, small, and fast enough on one core.

use super::guided::{Overlay, decode};
use super::network::Network;
use super::tokens::Tokens;
use super::{EarError, Guide, GuideFit, Hypothesis, Models, Recogniser, Sound};

/// The name of this recogniser.
pub(super) const NAME: &str = "moonshine";

/// Hears English with the Moonshine tiny model, freely or guided by [`Guide::Grammar`]. It can't be
/// guided by [`Guide::Phrases`]: it then hears freely.
///
/// ```no_run
/// use tellshelf::ear::{Guide, Models, Moonshine, Recogniser, read_recording};
/// let mut moonshine = Moonshine::load(&Models::find())?;
/// let sound = read_recording("oats.wav".as_ref())?;
/// for heard in moonshine.hear(&sound, Guide::Free)? {
///     println!("{} ({})", heard.text, heard.score);
/// }
/// # Ok::<(), tellshelf::ear::EarError>(())
/// ```
pub struct Moonshine {
    network: Network,
    tokens: Tokens,
    overlay: Overlay,
}

impl Moonshine {
    /// Loads the model, in about 0.3 s and 105 MB of memory.
    ///
    /// # Errors
    /// [`EarError::NoModel`] if it isn't there, [`EarError::BadModel`] if it is damaged,
    /// [`EarError::NoRuntime`] if the ONNX Runtime library can't be loaded.
    pub fn load(models: &Models) -> Result<Self, EarError> {
        let path = models.moonshine()?.join("tokenizer.bin");
        let damaged = |reason: String| EarError::BadModel {
            recogniser: NAME,
            path: path.clone(),
            reason,
        };
        let file = std::fs::read(&path).map_err(|error| damaged(error.to_string()))?;
        let tokens = Tokens::parse(&file).map_err(damaged)?;
        let network = Network::load(models, tokens.len())?;
        let overlay = Overlay::new(&tokens);
        Ok(Self {
            network,
            tokens,
            overlay,
        })
    }
}

impl Recogniser for Moonshine {
    fn name(&self) -> &'static str {
        NAME
    }

    fn language(&self) -> &str {
        "en"
    }

    fn takes_grammar(&self) -> bool {
        true
    }

    fn hear(&mut self, sound: &Sound, guide: Guide<'_>) -> Result<Vec<Hypothesis>, EarError> {
        if sound.samples().is_empty() {
            return Ok(Vec::new());
        }
        let encoded = self.network.encode(sound)?;
        let (network, overlay) = (&mut self.network, &mut self.overlay);
        let acceptor = match guide {
            Guide::Grammar(acceptor) => Some(acceptor),
            Guide::Free | Guide::Phrases(_) => None,
        };
        let decoded = decode(network, &self.tokens, overlay, acceptor, &encoded)?;
        let mut heard = Vec::new();
        for text in &decoded.guided {
            heard.push(Hypothesis {
                text: self.tokens.text(&text.tokens),
                score: text.score(),
                fit: Some(GuideFit {
                    against_free: text.against(decoded.free.log),
                    cost: text.cost,
                    tokens: text.choices(),
                }),
                by: NAME,
            });
        }
        let free = Hypothesis {
            text: self.tokens.text(&decoded.free.tokens),
            score: decoded.free.score(),
            fit: None,
            by: NAME,
        };
        if !free.text.is_empty() {
            heard.push(free);
        }
        Ok(heard)
    }
}
