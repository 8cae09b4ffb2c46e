//! The Moonshine recogniser: English, small, and fast enough on one core.

use super::guided::{Decoded, Overlay, decode, together};
use super::network::{Encoded, Network};
use super::tokens::Tokens;
use super::{EarError, Guide, GuideFit, Hypothesis, Models, Recogniser, Sound};

/// The name of this recogniser.
pub(super) const NAME: &str = "moonshine";

/// Hears English with the Moonshine models, freely or guided by [`Guide::Grammar`]. It can't be
/// guided by [`Guide::Phrases`]: it then hears freely.
///
/// The small model hears everything. Where that leaves a doubt, the larger one, if it is there, hears the
/// same again, and what both find likely counts.
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
    larger: Result<Network, EarError>,
    tokens: Tokens,
    overlay: Overlay,
    /// What was heard last, for hearing it again.
    last: Option<(Encoded, Decoded)>,
}

impl Moonshine {
    /// Loads the models, in about 0.8 s and 170 MB of memory; a little longer the first time of all, when
    /// the larger one is made ready. It can be missing, or unfit.
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
        let larger = Network::load_base(models, tokens.len());
        let overlay = Overlay::new(&tokens);
        Ok(Self {
            network,
            larger,
            tokens,
            overlay,
            last: None,
        })
    }

    /// Whether the larger model is there, or why it isn't.
    ///
    /// # Errors
    /// As [`Network::load_base`].
    pub fn hears_again(&self) -> Result<(), &EarError> {
        self.larger.as_ref().map(|_| ())
    }

    fn hypotheses(&self, decoded: &Decoded) -> Vec<Hypothesis> {
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
        heard
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
        let heard = self.hypotheses(&decoded);
        self.last = Some((encoded, decoded));
        Ok(heard)
    }

    fn hear_again(
        &mut self,
        sound: &Sound,
        guide: Guide<'_>,
    ) -> Result<Option<Vec<Hypothesis>>, EarError> {
        let (Ok(larger), Guide::Grammar(acceptor)) = (&mut self.larger, guide) else {
            return Ok(None);
        };
        let Some((encoded, decoded)) = self.last.take() else {
            return Ok(None);
        };
        let again = larger.encode(sound)?;
        let overlay = &mut self.overlay;
        let other = decode(larger, &self.tokens, overlay, Some(acceptor), &again)?;
        let first = (&mut self.network, &encoded, decoded);
        let decoded = together(first, (larger, &again, other))?;
        Ok(Some(self.hypotheses(&decoded)))
    }
}
