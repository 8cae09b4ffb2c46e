//! The Vosk recogniser: any language that has a model.

use std::path::Path;
use std::sync::Once;

use ::vosk::{CompleteResult, DecodingState, LogLevel, Model, Recognizer};

use super::models::language_of;
use super::{EarError, Guide, Hypothesis, Models, Phrases, RATE, Recogniser, Sound};

/// The name of this recogniser.
pub(super) const NAME: &str = "vosk";
/// How many hypotheses free hearing gives at most. More cost next to nothing, but beyond ten they
/// differ from better ones by words that nobody hears.
const ALTERNATIVES: u16 = 10;
/// How many samples are fed at once (0.25 s).
const PIECE: usize = 4_000;
/// The folders that every Vosk model has.
const FOLDERS: [&str; 3] = ["am", "conf", "graph"];

/// Hears the language of its model, freely or bound to phrases.
///
/// Heard freely, the score of a hypothesis is the natural logarithm of its share among those that
/// are given: it tells the better from the worse, but not the good from the bad.
///
/// Bound to phrases it forces any sound onto their words, and it may put words of several phrases
/// together: each hypothesis still has to be checked against the phrases. What its score tells is
/// how well the phrases fit at all, because the sound is heard freely too, and the score compares
/// the two: natural logarithm of the ratio of likelihoods for each second, 0 at best. Of synthetic
/// Korean speech, eight commands had 0 to -10, and five sentences of other words -11 to -22.
///
/// ```no_run
/// use tellshelf::ear::{Guide, Models, Phrases, Recogniser, Vosk, read_recording};
/// let mut vosk = Vosk::load(&Models::find(), "ko-KR")?;
/// let sound = read_recording("milk.wav".as_ref())?;
/// let phrases = Phrases::new(["우유 두 개"])?;
/// println!("{:?}", vosk.hear(&sound, Guide::Free)?);
/// println!("{:?}", vosk.hear(&sound, Guide::Phrases(&phrases))?);
/// # Ok::<(), tellshelf::ear::EarError>(())
/// ```
pub struct Vosk {
    model: Model,
    language: String,
    takes_phrases: bool,
}

impl Vosk {
    /// Loads the model for a language tag such as `ko-KR`.
    ///
    /// # Errors
    /// [`EarError::NoModel`] if there is none, [`EarError::BadModel`] if it doesn't load.
    pub fn load(models: &Models, language_tag: &str) -> Result<Self, EarError> {
        silence_once();
        let folder = models.vosk(language_tag)?;
        let damaged = |reason: &str| EarError::BadModel {
            recogniser: NAME,
            path: folder.clone(),
            reason: reason.to_owned(),
        };
        if !FOLDERS.iter().all(|part| folder.join(part).is_dir()) {
            return Err(damaged("a folder of it is missing"));
        }
        let path = folder
            .to_str()
            .ok_or_else(|| damaged("its name isn't Unicode"))?;
        let model = Model::new(path).ok_or_else(|| damaged("Vosk can't load it"))?;
        let takes_phrases = has_graph_in_parts(&folder);
        Ok(Self {
            model,
            language: language_of(language_tag),
            takes_phrases,
        })
    }

    /// Whether the model knows a word, written as the model writes it.
    pub fn knows(&mut self, word: &str) -> bool {
        self.model.find_word(word).is_some()
    }

    /// Hears freely. Scores: the logarithm of the share of each hypothesis among those that are
    /// given, so they tell the better from the worse but not the good from the bad.
    fn free(&self, sound: &Sound) -> Result<Vec<Hypothesis>, EarError> {
        let mut recognizer = Recognizer::new(&self.model, RATE as f32).ok_or_else(unmade)?;
        let heard = joined(decoded(&mut recognizer, sound)?);
        let total = log_total(&heard);
        Ok(hypotheses(heard, |score| score - total))
    }

    /// Hears the words of phrases. Scores: how much less likely each hypothesis is than the best
    /// free one, as logarithm of the ratio for each second of sound.
    fn bound(&mut self, sound: &Sound, phrases: &Phrases) -> Result<Vec<Hypothesis>, EarError> {
        let words = phrases.words().into_iter();
        let unknown: Vec<String> = words
            .filter(|word| !self.knows(word))
            .map(str::to_owned)
            .collect();
        if !unknown.is_empty() {
            return Err(EarError::UnknownWords { words: unknown });
        }
        let made = Recognizer::new_with_grammar(&self.model, RATE as f32, phrases.as_slice());
        let heard = joined(decoded(&mut made.ok_or_else(unmade)?, sound)?);
        if heard.iter().all(|(text, _)| text.is_empty()) {
            return Ok(Vec::new());
        }
        let mut recognizer = Recognizer::new(&self.model, RATE as f32).ok_or_else(unmade)?;
        let free = joined(decoded(&mut recognizer, sound)?);
        let best = free.first().map_or(0.0, |(_, score)| *score);
        let seconds = sound.seconds() as f32;
        Ok(hypotheses(heard, |score| {
            ((score - best) / seconds).min(0.0)
        }))
    }
}

impl Recogniser for Vosk {
    fn name(&self) -> &'static str {
        NAME
    }

    fn language(&self) -> &str {
        &self.language
    }

    fn hear(&mut self, sound: &Sound, guide: Guide<'_>) -> Result<Vec<Hypothesis>, EarError> {
        match guide {
            Guide::Phrases(phrases) if self.takes_phrases => self.bound(sound, phrases),
            _ => self.free(sound),
        }
    }
}

/// Only a model whose graph comes in two parts can be bound to phrases: the library would silently
/// hear freely with any other.
fn has_graph_in_parts(folder: &Path) -> bool {
    ["HCLr.fst", "Gr.fst"]
        .iter()
        .all(|part| folder.join("graph").join(part).is_file())
}

/// Vosk writes its doings to standard error by default, where they would be in the way of captions.
fn silence_once() {
    static SILENCE: Once = Once::new();
    SILENCE.call_once(|| ::vosk::set_log_level(LogLevel::Error));
}

/// Texts with a score each.
type Scored = Vec<(String, f32)>;

/// Feeds a sound and reads the alternatives of each result. There are several results if the sound
/// has pauses, because each is given once only, in its place.
fn decoded(recognizer: &mut Recognizer, sound: &Sound) -> Result<Vec<Scored>, EarError> {
    let failed = |reason: &str| EarError::Recognition {
        recogniser: NAME,
        reason: reason.into(),
    };
    recognizer.set_max_alternatives(ALTERNATIVES);
    let samples: Vec<i16> = sound
        .samples()
        .iter()
        .map(|sample| sixteen_bits(*sample))
        .collect();
    let mut parts = Vec::new();
    for piece in samples.chunks(PIECE) {
        match recognizer.accept_waveform(piece) {
            Ok(DecodingState::Finalized) => parts.push(alternatives(recognizer.result())),
            Ok(DecodingState::Running) => {}
            Ok(DecodingState::Failed) => return Err(failed("it can't decode the sound")),
            Err(error) => return Err(failed(&error.to_string())),
        }
    }
    parts.push(alternatives(recognizer.final_result()));
    Ok(parts)
}

fn alternatives(result: CompleteResult<'_>) -> Scored {
    let alternatives = result.multiple().map(|multiple| multiple.alternatives);
    let alternatives = alternatives.unwrap_or_default().into_iter();
    alternatives
        .map(|one| (one.text.to_owned(), one.confidence))
        .collect()
}

fn sixteen_bits(sample: f32) -> i16 {
    // The cast saturates, and makes 0 of what isn't a number.
    (sample * 32_767.0).round() as i16
}

fn unmade() -> EarError {
    EarError::Recognition {
        recogniser: NAME,
        reason: "it doesn't start".into(),
    }
}

/// The best ways to put one alternative of each part after the other, best first. Scores are
/// logarithms of likelihoods, so they add up.
fn joined(parts: Vec<Scored>) -> Scored {
    let mut whole = vec![(String::new(), 0.0)];
    for part in parts.into_iter().filter(|part| !part.is_empty()) {
        let mut longer: Scored = whole
            .iter()
            .flat_map(|(before, score)| {
                part.iter().map(move |(text, more)| {
                    (format!("{before} {text}").trim().to_owned(), score + more)
                })
            })
            .collect();
        longer.sort_by(|a, b| b.1.total_cmp(&a.1));
        longer.truncate(usize::from(ALTERNATIVES));
        whole = longer;
    }
    whole
}

/// The logarithm of the sum of what the scores are logarithms of.
fn log_total(scored: &Scored) -> f32 {
    let most = scored
        .iter()
        .map(|(_, score)| *score)
        .fold(f32::NEG_INFINITY, f32::max);
    most + scored
        .iter()
        .map(|(_, score)| (score - most).exp())
        .sum::<f32>()
        .ln()
}

/// Those with words in them, with their scores made comparable.
fn hypotheses(scored: Scored, comparable: impl Fn(f32) -> f32) -> Vec<Hypothesis> {
    let with_words = scored.into_iter().filter(|(text, _)| !text.is_empty());
    with_words
        .map(|(text, score)| Hypothesis {
            text,
            score: comparable(score),
            fit: None,
            by: NAME,
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn part(alternatives: &[(&str, f32)]) -> Scored {
        alternatives
            .iter()
            .map(|(text, score)| ((*text).to_owned(), *score))
            .collect()
    }

    #[test]
    fn alternatives_of_two_parts_are_crossed_best_first() {
        let parts = vec![
            part(&[("a", 201.0), ("b", 200.0)]),
            part(&[("c", 50.0), ("d", 46.0)]),
        ];
        assert_eq!(
            joined(parts),
            part(&[
                ("a c", 251.0),
                ("b c", 250.0),
                ("a d", 247.0),
                ("b d", 246.0)
            ])
        );
    }

    #[test]
    fn a_silent_part_adds_no_words() {
        let heard = joined(vec![part(&[("a", 9.0)]), part(&[("", 40.0)]), Vec::new()]);
        assert_eq!(heard, part(&[("a", 49.0)]));
    }

    #[test]
    fn silence_alone_gives_no_hypothesis() {
        for parts in [vec![part(&[("", 40.0)])], Vec::new()] {
            assert!(hypotheses(joined(parts), |score| score).is_empty());
        }
    }

    #[test]
    fn a_sound_with_many_pauses_keeps_the_list_short() {
        let names: Scored = (0..10).map(|n| (n.to_string(), 0.1 * n as f32)).collect();
        assert_eq!(joined(vec![names; 6]).len(), usize::from(ALTERNATIVES));
    }

    #[test]
    fn a_total_is_the_logarithm_of_a_sum_even_of_large_scores() {
        let total = log_total(&part(&[("a", 300.0), ("b", 300.0)]));
        assert!((total - 300.0 - 2f32.ln()).abs() < 1e-4, "{total}");
    }

    #[test]
    fn samples_that_are_no_numbers_are_silent_and_loud_ones_are_cut() {
        assert_eq!(
            [f32::NAN, 2.0, -2.0, 1.0].map(sixteen_bits),
            [0, 32_767, -32_768, 32_767]
        );
    }
}
