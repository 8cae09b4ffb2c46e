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
/// Bound to phrases it forces any sound onto their words, often with full confidence, and it may
/// put words of several phrases together: it can't tell that something else was said.
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

    /// Hears freely. Scores: Vosk's own, as logarithm of the share of each hypothesis among those
    /// that it gives, so they tell the better from the worse but not the good from the bad.
    fn free(&self, sound: &Sound) -> Result<Vec<Hypothesis>, EarError> {
        let mut recognizer = Recognizer::new(&self.model, RATE as f32).ok_or_else(unmade)?;
        recognizer.set_max_alternatives(ALTERNATIVES);
        let parts = decoded(&mut recognizer, sound, |result| {
            let alternatives = result.multiple().map(|multiple| multiple.alternatives);
            let alternatives = alternatives.unwrap_or_default().into_iter();
            alternatives
                .map(|one| (one.text.to_owned(), one.confidence))
                .collect()
        })?;
        Ok(joined(parts))
    }

    /// Hears the words of phrases. Score: the mean natural logarithm of Vosk's confidence in each
    /// word.
    fn bound(&mut self, sound: &Sound, phrases: &Phrases) -> Result<Vec<Hypothesis>, EarError> {
        let unknown: Vec<&str> = phrases
            .words()
            .into_iter()
            .filter(|word| self.model.find_word(word).is_none())
            .collect();
        if !unknown.is_empty() {
            let words = unknown.into_iter().map(str::to_owned).collect();
            return Err(EarError::UnknownWords { words });
        }
        let made = Recognizer::new_with_grammar(&self.model, RATE as f32, phrases.as_slice());
        let mut recognizer = made.ok_or_else(unmade)?;
        recognizer.set_words(true);
        let parts = decoded(&mut recognizer, sound, |result| {
            let words = result
                .single()
                .map(|single| single.result)
                .unwrap_or_default();
            words
                .into_iter()
                .map(|word| (word.word.to_owned(), word.conf))
                .collect()
        })?;
        Ok(strung(parts.into_iter().flatten().collect()))
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

/// Feeds a sound and reads each result. There are several if the sound has pauses, because each is
/// given once only, in its place.
fn decoded(
    recognizer: &mut Recognizer,
    sound: &Sound,
    read: impl Fn(CompleteResult<'_>) -> Scored,
) -> Result<Vec<Scored>, EarError> {
    let failed = |reason: &str| EarError::Recognition {
        recogniser: NAME,
        reason: reason.into(),
    };
    let samples: Vec<i16> = sound
        .samples()
        .iter()
        .map(|sample| sixteen_bits(*sample))
        .collect();
    let mut parts = Vec::new();
    for piece in samples.chunks(PIECE) {
        match recognizer.accept_waveform(piece) {
            Ok(DecodingState::Finalized) => parts.push(read(recognizer.result())),
            Ok(DecodingState::Running) => {}
            Ok(DecodingState::Failed) => return Err(failed("it can't decode the sound")),
            Err(error) => return Err(failed(&error.to_string())),
        }
    }
    parts.push(read(recognizer.final_result()));
    Ok(parts)
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

/// The best ways to put one alternative of each part after the other.
fn joined(parts: Vec<Scored>) -> Vec<Hypothesis> {
    let mut whole = vec![(String::new(), 0.0)];
    for part in parts
        .into_iter()
        .map(shares)
        .filter(|part| !part.is_empty())
    {
        let mut longer: Scored = whole
            .iter()
            .flat_map(|(before, score)| {
                part.iter().map(move |(text, share)| {
                    (format!("{before} {text}").trim().to_owned(), score + share)
                })
            })
            .collect();
        longer.sort_by(|a, b| b.1.total_cmp(&a.1));
        longer.truncate(usize::from(ALTERNATIVES));
        whole = longer;
    }
    whole.retain(|(text, _)| !text.is_empty());
    whole
        .into_iter()
        .map(|(text, score)| Hypothesis {
            text,
            score,
            by: NAME,
        })
        .collect()
}

/// Turns Vosk's scores, which are logarithms up to an unknown constant, into logarithms of shares.
fn shares(part: Scored) -> Scored {
    let most = part
        .iter()
        .map(|(_, score)| *score)
        .fold(f32::NEG_INFINITY, f32::max);
    let total: f32 = part.iter().map(|(_, score)| (score - most).exp()).sum();
    part.into_iter()
        .map(|(text, score)| (text, score - most - total.ln()))
        .collect()
}

/// The words in order as one hypothesis; none if there are none.
fn strung(words: Scored) -> Vec<Hypothesis> {
    if words.is_empty() {
        return Vec::new();
    }
    // A confidence of 0 would make a score of minus infinity, which compares badly.
    let logs: f32 = words
        .iter()
        .map(|(_, confidence)| confidence.clamp(1e-6, 1.0).ln())
        .sum();
    let score = logs / words.len() as f32;
    let text = words
        .into_iter()
        .map(|(word, _)| word)
        .collect::<Vec<_>>()
        .join(" ");
    vec![Hypothesis {
        text,
        score,
        by: NAME,
    }]
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
        let texts: Vec<String> = joined(parts).into_iter().map(|one| one.text).collect();
        assert_eq!(texts, ["a c", "b c", "a d", "b d"]);
    }

    #[test]
    fn scores_are_logarithms_of_shares() {
        let heard = joined(vec![part(&[("a", 300.0), ("b", 300.0)])]);
        assert!((heard[0].score - 0.5f32.ln()).abs() < 1e-6);
    }

    #[test]
    fn a_silent_part_adds_nothing() {
        let heard = joined(vec![part(&[("a", 9.0)]), part(&[("", 40.0)]), Vec::new()]);
        assert_eq!(heard.len(), 1);
        assert_eq!((heard[0].text.as_str(), heard[0].score), ("a", 0.0));
    }

    #[test]
    fn silence_alone_gives_no_hypothesis() {
        assert!(joined(vec![part(&[("", 40.0)])]).is_empty());
        assert!(joined(Vec::new()).is_empty());
        assert!(strung(Vec::new()).is_empty());
    }

    #[test]
    fn a_long_pause_heavy_sound_keeps_the_list_short() {
        let names: Vec<(String, f32)> = (0..10).map(|n| (n.to_string(), 0.1 * n as f32)).collect();
        assert_eq!(joined(vec![names; 6]).len(), usize::from(ALTERNATIVES));
    }

    #[test]
    fn words_are_strung_with_the_mean_of_their_confidence() {
        let heard = strung(part(&[("a", 1.0), ("b", 0.25)]));
        assert_eq!(heard[0].text, "a b");
        assert!((heard[0].score - 0.5f32.ln()).abs() < 1e-6);
    }

    #[test]
    fn samples_that_are_no_numbers_are_silent_and_loud_ones_are_cut() {
        assert_eq!(
            [f32::NAN, 2.0, -2.0, 1.0].map(sixteen_bits),
            [0, 32_767, -32_768, 32_767]
        );
    }
}
