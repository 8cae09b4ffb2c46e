//! The Moonshine recogniser: English, small, and fast enough on one core.

use super::guided::{Overlay, decode};
use super::network::{Encoded, Hearing, Network};
use super::tokens::{END, Tokens};
use super::{EarError, Guide, GuideFit, Hypothesis, Models, Recogniser, Sound};

/// The name of this recogniser.
pub(super) const NAME: &str = "moonshine";
/// The most tokens that a second of sound can hold: the publisher's own limit. Without it, noise
/// can make the model repeat itself for ever.
const TOKENS_A_SECOND: f64 = 6.5;
/// Tokens on top of that, so that a very short sound can still be a word.
const TOKENS_ANYWAY: usize = 6;

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

    /// Takes the best next token again and again.
    fn greedy(&mut self, encoded: &Encoded) -> Result<(Hypothesis, f32), EarError> {
        let most = (encoded.seconds() * TOKENS_A_SECOND).ceil() as usize + TOKENS_ANYWAY;
        let mut hearing = self.network.start(encoded)?;
        let mut said = Vec::new();
        let mut log_probability = 0.0;
        let mut choices = 0;
        loop {
            let (token, log) = best(&hearing);
            log_probability += log;
            choices += 1;
            if token == END {
                break;
            }
            said.push(token);
            if said.len() == most {
                break;
            }
            self.network.step(&mut hearing, &[0], &[token])?;
        }
        let hypothesis = Hypothesis {
            text: self.tokens.text(&said),
            score: log_probability / choices as f32,
            fit: None,
            by: NAME,
        };
        Ok((hypothesis, log_probability))
    }
}

/// The best next token of the only hypothesis, with the natural logarithm of its probability.
fn best(hearing: &Hearing) -> (u32, f32) {
    let numbered = hearing.logits(0).iter().zip(0u32..);
    let (logit, token) = numbered
        .max_by(|a, b| a.0.total_cmp(b.0))
        .map_or((0.0, END), |(logit, token)| (*logit, token));
    (token, logit - hearing.log_total(0))
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
        let (free, log_free) = self.greedy(&encoded)?;
        let mut heard = Vec::new();
        if let Guide::Grammar(acceptor) = guide {
            let (network, overlay) = (&mut self.network, &mut self.overlay);
            for text in decode(network, &self.tokens, overlay, acceptor, &encoded)? {
                heard.push(Hypothesis {
                    text: self.tokens.text(&text.tokens),
                    score: text.score(),
                    fit: Some(GuideFit {
                        against_free: text.against(log_free),
                        tokens: text.choices(),
                    }),
                    by: NAME,
                });
            }
        }
        if !free.text.is_empty() {
            heard.push(free);
        }
        Ok(heard)
    }
}
