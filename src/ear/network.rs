//! The two networks of the Moonshine model, run by ONNX Runtime: sound in, logits out.
//!
//! [`Network::encode`] turns a sound into features once. [`Network::start`] gives the first
//! logits; each [`Network::step`] adds one token to each hypothesis and gives the next ones. Which
//! tokens to add is for the search to say: the network knows no words.

use std::path::Path;
use std::sync::Mutex;

use ort::environment::Environment;
use ort::session::builder::AutoDevicePolicy;
use ort::session::{Session, SessionInputValue, SessionOutputs};
use ort::value::{DynValue, Tensor, TensorRef};

use super::moonshine::NAME;
use super::tokens::BEGIN;
use super::{EarError, Models, Sound};

/// Threads for one network. Utterances are short: two gained nothing when measured, and the other
/// core is better left to whatever else runs.
const THREADS: usize = 1;
/// Features of one frame of the encoder's output.
const FEATURES: usize = 288;
/// Layers of the decoder; each keeps four caches.
const LAYERS: usize = 6;
/// Attention heads of a layer.
const HEADS: usize = 8;
/// Features of an attention head.
const HEAD_FEATURES: usize = 36;
/// The shortest sound that the encoder takes, in samples (0.1 s). Shorter ones are padded.
const SHORTEST: usize = 1_600;
/// The longest sound that is heard, in samples (30 s); the rest is left out. The model was trained
/// on sounds up to this long, and the time it takes grows with the square of the length.
const LONGEST: usize = 480_000;

/// Logits so far below the greatest are left out of the sum: all tokens together less than 1 in 10,000.
const FAR_BELOW: f32 = 20.0;

/// ONNX Runtime's environment, of which a process may only ever make one.
static ENVIRONMENT: Mutex<Option<Environment>> = Mutex::new(None);

/// The encoder and the decoder, loaded.
pub struct Network {
    encoder: Session,
    decoder: Session,
    vocabulary: usize,
}

/// A sound as the encoder understands it. It doesn't change while it is decoded.
pub struct Encoded {
    frames: DynValue,
    samples: usize,
    seconds: f64,
}

impl Encoded {
    /// How much sound it stands for, in seconds: what was heard, without padding.
    pub fn seconds(&self) -> f64 {
        self.seconds
    }
}

/// Hypotheses under way over one sound: for each the network's memory, and its latest logits.
pub struct Hearing {
    /// The decoder's memory of the sound, shared by all hypotheses: key and value of each layer.
    sound_memory: Vec<DynValue>,
    /// The decoder's memory of the text of each hypothesis: key and value of each layer.
    text_memory: Vec<DynValue>,
    hypotheses: usize,
    vocabulary: usize,
    logits: Vec<f32>,
}

impl Hearing {
    /// How many hypotheses are under way.
    pub fn hypotheses(&self) -> usize {
        self.hypotheses
    }

    /// The logits of one hypothesis: for each token, how well it would follow. Empty if there is no
    /// such hypothesis.
    pub fn logits(&self, hypothesis: usize) -> &[f32] {
        let start = hypothesis.saturating_mul(self.vocabulary);
        self.logits
            .get(start..start.saturating_add(self.vocabulary))
            .unwrap_or_default()
    }

    /// What to subtract from a logit of this hypothesis to get the natural logarithm of its
    /// probability among all tokens: the logarithm of the sum of their exponentials.
    pub fn log_total(&self, hypothesis: usize) -> f32 {
        let logits = self.logits(hypothesis);
        let most = logits.iter().copied().fold(f32::NEG_INFINITY, f32::max);
        // Most tokens are far less likely, and their exponentials are what takes the time.
        let likely = logits.iter().filter(|logit| **logit > most - FAR_BELOW);
        most + likely.map(|logit| (logit - most).exp()).sum::<f32>().ln()
    }
}

impl Network {
    /// Loads both networks, for a vocabulary of as many tokens as given.
    ///
    /// # Errors
    /// [`EarError::NoModel`] if a file is missing, [`EarError::NoRuntime`] if the library can't be
    /// loaded, [`EarError::BadModel`] if a network can't, or the two and the vocabulary don't fit.
    pub fn load(models: &Models, vocabulary: usize) -> Result<Self, EarError> {
        let folder = models.moonshine()?;
        let environment = environment(&models.onnx_runtime()?)?;
        let load = |file: &str| {
            let path = folder.join(file);
            session(&environment, &path).map_err(|error| EarError::BadModel {
                recogniser: NAME,
                path,
                reason: first_line(&error),
            })
        };
        let mut network = Self {
            encoder: load("encoder_model.ort")?,
            decoder: load("decoder_model_merged.ort")?,
            vocabulary,
        };
        // A first try on a moment of silence tells files that don't belong together, and makes the
        // first utterance as fast as the next.
        let trial = network.encode(&Sound::default());
        let trial = trial.and_then(|silence| network.start(&silence));
        trial
            .and_then(|mut hearing| network.step(&mut hearing, &[0], &[BEGIN]))
            .map_err(|error| {
                let reason = match error {
                    EarError::Recognition { reason, .. } => reason,
                    other => other.to_string(),
                };
                EarError::BadModel {
                    recogniser: NAME,
                    path: folder.clone(),
                    reason,
                }
            })?;
        Ok(network)
    }

    /// Encodes a sound. One shorter than 0.1 s is padded with silence; of one longer than 30 s, the
    /// first 30 s are taken.
    ///
    /// # Errors
    /// [`EarError::Recognition`] if the network fails.
    pub fn encode(&mut self, sound: &Sound) -> Result<Encoded, EarError> {
        let mut samples = sound.samples().to_vec();
        samples.truncate(LONGEST);
        let seconds = Sound::new(samples.clone()).seconds();
        samples.resize(samples.len().max(SHORTEST), 0.0);
        let mut run = || -> ort::Result<DynValue> {
            let mut outputs = self.encoder.run(ort::inputs![
                "input_values" => TensorRef::from_array_view(([1, samples.len()], samples.as_slice()))?,
                "attention_mask" => Tensor::from_array(([1, samples.len()], vec![1i64; samples.len()]))?,
            ])?;
            taken(&mut outputs, "last_hidden_state")
        };
        let frames = run().map_err(fault)?;
        Ok(Encoded {
            frames,
            samples: samples.len(),
            seconds,
        })
    }

    /// Starts decoding with one hypothesis: the empty text.
    ///
    /// # Errors
    /// [`EarError::Recognition`] if the network fails.
    pub fn start(&mut self, encoded: &Encoded) -> Result<Hearing, EarError> {
        let vocabulary = self.vocabulary;
        let mut run = || -> ort::Result<Hearing> {
            let mut inputs = Inputs::new();
            inputs.add(
                "input_ids",
                Tensor::from_array(([1, 1], vec![i64::from(BEGIN)]))?,
            );
            inputs.add("encoder_hidden_states", encoded.frames.view());
            // As long as the samples, not the frames: the decoder scales it down itself, and one
            // as long as the frames fails above 9.2 s of sound.
            let mask = vec![1i64; encoded.samples];
            inputs.add(
                "encoder_attention_mask",
                Tensor::from_array(([1, mask.len()], mask))?,
            );
            inputs.add("use_cache_branch", Tensor::from_array(([1], vec![false]))?);
            for name in TEXT_MEMORY
                .names("past_key_values")
                .chain(SOUND_MEMORY.names("past_key_values"))
            {
                inputs.add(name, no_memory()?);
            }
            let mut outputs = self.decoder.run(inputs.0)?;
            Ok(Hearing {
                logits: logits(&mut outputs, 1, vocabulary)?,
                sound_memory: SOUND_MEMORY.take(&mut outputs)?,
                text_memory: TEXT_MEMORY.take(&mut outputs)?,
                hypotheses: 1,
                vocabulary,
            })
        };
        run().map_err(fault)
    }

    /// Replaces the hypotheses by new ones: number `i` is the former hypothesis `parents[i]` with
    /// `tokens[i]` added. A parent may be used any number of times, or not at all.
    ///
    /// The memory is copied only if hypotheses change places, so greedy search never copies.
    ///
    /// # Errors
    /// [`EarError::Recognition`] if the network fails, or `parents` and `tokens` are empty, differ
    /// in length, or name a hypothesis that isn't there.
    pub fn step(
        &mut self,
        hearing: &mut Hearing,
        parents: &[usize],
        tokens: &[u32],
    ) -> Result<(), EarError> {
        let known = |parent: &usize| *parent < hearing.hypotheses;
        if parents.is_empty() || parents.len() != tokens.len() || !parents.iter().all(known) {
            return Err(fault("a step over hypotheses that don't exist"));
        }
        let vocabulary = self.vocabulary;
        let batch = tokens.len();
        let mut run = || -> ort::Result<()> {
            if !parents.iter().copied().eq(0..hearing.hypotheses) {
                for memory in &mut hearing.text_memory {
                    *memory = gathered(memory, parents)?;
                }
            }
            let ids = tokens
                .iter()
                .map(|token| i64::from(*token))
                .collect::<Vec<_>>();
            let mut inputs = Inputs::new();
            inputs.add("input_ids", Tensor::from_array(([batch, 1], ids))?);
            // The sound is in the memory by now, so these two only have to have the right rank.
            let no_frames = vec![0f32; FEATURES];
            inputs.add(
                "encoder_hidden_states",
                Tensor::from_array(([1, 1, FEATURES], no_frames))?,
            );
            inputs.add(
                "encoder_attention_mask",
                Tensor::from_array(([1, 1], vec![1i64]))?,
            );
            inputs.add("use_cache_branch", Tensor::from_array(([1], vec![true]))?);
            let memories = hearing.text_memory.iter().chain(&hearing.sound_memory);
            let names = TEXT_MEMORY
                .names("past_key_values")
                .chain(SOUND_MEMORY.names("past_key_values"));
            for (name, memory) in names.zip(memories) {
                inputs.add(name, memory.view());
            }
            let mut outputs = self.decoder.run(inputs.0)?;
            let logits = logits(&mut outputs, batch, vocabulary)?;
            let text_memory = TEXT_MEMORY.take(&mut outputs)?;
            drop(outputs);
            hearing.logits = logits;
            hearing.text_memory = text_memory;
            hearing.hypotheses = batch;
            Ok(())
        };
        run().map_err(fault)
    }
}

/// Inputs of a network by name.
struct Inputs<'v>(Vec<(String, SessionInputValue<'v>)>);

impl<'v> Inputs<'v> {
    fn new() -> Self {
        Self(Vec::new())
    }

    fn add(&mut self, name: impl Into<String>, value: impl Into<SessionInputValue<'v>>) {
        self.0.push((name.into(), value.into()));
    }
}

/// One of the two kinds of decoder memory: its part of the tensors' names.
struct Memory(&'static str);

/// What the decoder remembers of the text so far.
const TEXT_MEMORY: Memory = Memory("decoder");
/// What the decoder remembers of the sound.
const SOUND_MEMORY: Memory = Memory("encoder");

impl Memory {
    /// The names of its tensors: key and value of each layer, `past_key_values` as inputs and
    /// `present` as outputs.
    fn names(&self, side: &'static str) -> impl Iterator<Item = String> {
        let kind = self.0;
        (0..LAYERS).flat_map(move |layer| {
            ["key", "value"].map(|part| format!("{side}.{layer}.{kind}.{part}"))
        })
    }

    fn take(&self, outputs: &mut SessionOutputs<'_>) -> ort::Result<Vec<DynValue>> {
        self.names("present")
            .map(|name| taken(outputs, &name))
            .collect()
    }
}

/// The environment, made at the first call. The library of the first call stays in use.
fn environment(library: &Path) -> Result<Environment, EarError> {
    let no_runtime = |reason: String| EarError::NoRuntime {
        path: library.to_owned(),
        reason,
    };
    // Nothing inside can leave it half done, so a panic elsewhere doesn't spoil it.
    let mut kept = ENVIRONMENT
        .lock()
        .unwrap_or_else(|poisoned| poisoned.into_inner());
    if let Some(environment) = &*kept {
        return Ok(environment.clone());
    }
    let made = ort::init_from(library)
        .map_err(|error| no_runtime(first_line(&error)))?
        .with_telemetry(false)
        .build()
        .map_err(|error| no_runtime(first_line(&error)))?;
    Ok(kept.insert(made).clone())
}

fn session(environment: &Environment, path: &Path) -> ort::Result<Session> {
    Session::builder(environment)?
        .with_auto_device(AutoDevicePolicy::PreferCPU)?
        .with_intra_threads(THREADS)?
        .with_inter_threads(THREADS)?
        .commit_from_file(path)
}

fn taken(outputs: &mut SessionOutputs<'_>, name: &str) -> ort::Result<DynValue> {
    outputs
        .remove(name)
        .ok_or_else(|| ort::Error::new(format!("the model gives no {name}")))
}

fn logits(
    outputs: &mut SessionOutputs<'_>,
    batch: usize,
    vocabulary: usize,
) -> ort::Result<Vec<f32>> {
    let value = taken(outputs, "logits")?;
    let (shape, logits) = value.try_extract_tensor::<f32>()?;
    if logits.len() != batch * vocabulary {
        return Err(ort::Error::new(format!(
            "the model gives logits of shape {shape:?}, which doesn't fit {vocabulary} tokens"
        )));
    }
    Ok(logits.to_vec())
}

fn no_memory() -> ort::Result<DynValue> {
    let allocator = ort::memory::Allocator::default();
    Ok(Tensor::<f32>::new(&allocator, [1, HEADS, 0, HEAD_FEATURES])?.into_dyn())
}

/// A memory for new hypotheses, each a copy of its parent's.
fn gathered(memory: &DynValue, parents: &[usize]) -> ort::Result<DynValue> {
    let (shape, values) = memory.try_extract_tensor::<f32>()?;
    let length = values.len() / (shape[0].max(1) as usize);
    let mut gathered = Vec::with_capacity(length * parents.len());
    for parent in parents {
        let row = values.get(parent * length..(parent + 1) * length);
        gathered.extend_from_slice(row.ok_or_else(|| ort::Error::new("a memory is too short"))?);
    }
    let mut shape = shape.to_vec();
    shape[0] = parents.len() as i64;
    Ok(Tensor::from_array((shape, gathered))?.into_dyn())
}

fn fault(error: impl std::fmt::Display) -> EarError {
    EarError::Recognition {
        recogniser: NAME,
        reason: first_line(&error),
    }
}

/// The first line of a message: the rest of ONNX Runtime's messages is for its own developers.
fn first_line(error: &impl std::fmt::Display) -> String {
    error
        .to_string()
        .lines()
        .next()
        .unwrap_or_default()
        .trim()
        .to_owned()
}
