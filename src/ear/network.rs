//! The two networks of the Moonshine model, run by ONNX Runtime: sound in, logits out.
//!
//! [`Network::encode`] turns a sound into features once. [`Network::start`] gives the first
//! logits; each [`Network::step`] adds one token to each hypothesis and gives the next ones. Which
//! tokens to add is for the search to say: the network knows no words.

use std::path::{Path, PathBuf};
use std::sync::Mutex;

use ort::environment::Environment;
use ort::ep::CPU;
use ort::session::builder::GraphOptimizationLevel;
use ort::session::{Session, SessionInputValue, SessionOutputs};
use ort::value::{DynValue, Tensor, TensorRef};

use super::eight_bit::{Attention, multiply_as_integers};
use super::moonshine::NAME;
use super::tokens::BEGIN;
use super::{EarError, Models, Sound};

/// Threads for one network. Utterances are short: two gained nothing when measured, and the other
/// core is better left to whatever else runs.
const THREADS: usize = 1;
/// The files of a model's networks, without their endings: the encoder and the decoder.
const PARTS: [&str; 2] = ["encoder_model", "decoder_model_merged"];

/// What the networks of a model look like.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Shape {
    /// Layers of the decoder; each keeps four caches.
    layers: usize,
    /// Attention heads of a layer.
    heads: usize,
    /// Features of an attention head.
    head_features: usize,
    /// Features of one frame of the encoder's output.
    features: usize,
    /// Whether both networks take a mask of what is sound and what is padding.
    masked: bool,
}

/// Moonshine tiny.
const TINY: Shape = Shape {
    layers: 6,
    heads: 8,
    head_features: 36,
    features: 288,
    masked: true,
};

/// Moonshine base.
const BASE: Shape = Shape {
    layers: 8,
    heads: 8,
    head_features: 52,
    features: 416,
    masked: false,
};

/// The shortest sound that the encoder takes, in samples (0.1 s). Shorter ones are padded.
const SHORTEST: usize = 1_600;
/// The longest sound that is heard, in samples (30 s); the rest is left out. The model was trained
/// on sounds up to this long, and the time it takes grows with the square of the length.
const LONGEST: usize = 480_000;

/// Logits so far below the greatest are left out of the sum: all tokens together less than 1 in 10,000.
const FAR_BELOW: f32 = 20.0;

/// ONNX Runtime's environment, of which a process may only ever make one.
static ENVIRONMENT: Mutex<Option<Environment>> = Mutex::new(None);

/// Held while the larger model is made ready.
static MAKING_READY: Mutex<()> = Mutex::new(());

/// The encoder and the decoder, loaded.
pub struct Network {
    encoder: Session,
    decoder: Session,
    shape: Shape,
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
    /// Loads the small model, for a vocabulary of as many tokens as given.
    ///
    /// # Errors
    /// [`EarError::NoModel`] if a file is missing, [`EarError::NoRuntime`] if the library can't be
    /// loaded, [`EarError::BadModel`] if a network can't, or the two and the vocabulary don't fit.
    pub fn load(models: &Models, vocabulary: usize) -> Result<Self, EarError> {
        let folder = models.moonshine()?;
        let environment = environment(&models.onnx_runtime()?)?;
        let [encoder, decoder] = PARTS.map(|part| folder.join(part).with_extension("ort"));
        Self::from_files(&environment, TINY, [encoder, decoder], vocabulary)
    }

    /// Loads the larger model, which hears better and takes about twice as long; both have the same
    /// tokens. The first time, it is made ready: see `eight_bit.rs`.
    ///
    /// # Errors
    /// As [`Network::load`]; [`EarError::BadModel`] also where the files can't be made ready.
    pub fn load_base(models: &Models, vocabulary: usize) -> Result<Self, EarError> {
        let folder = models.moonshine_base()?;
        let environment = environment(&models.onnx_runtime()?)?;
        let attention = Attention {
            heads: BASE.heads,
            head_features: BASE.head_features,
            vocabulary,
        };
        let ready = PARTS.map(|part| models.made_ready(&format!("moonshine-base-en.{part}.onnx")));
        // One at a time in this program, and whole for any other.
        let making = MAKING_READY
            .lock()
            .unwrap_or_else(|poisoned| poisoned.into_inner());
        for (part, ready) in PARTS.iter().zip(&ready) {
            let published = folder.join(part).with_extension("ort");
            if !ready.is_file() {
                make_ready(&environment, &published, ready, attention).map_err(|reason| {
                    EarError::BadModel {
                        recogniser: NAME,
                        path: published,
                        reason,
                    }
                })?;
            }
        }
        drop(making);
        let network = Self::from_files(&environment, BASE, ready.clone(), vocabulary);
        if network.is_err() {
            // Damaged, it may be: the next time, they are made anew.
            for file in ready {
                let _ = std::fs::remove_file(file);
            }
        }
        network
    }

    fn from_files(
        environment: &Environment,
        shape: Shape,
        files: [PathBuf; 2],
        vocabulary: usize,
    ) -> Result<Self, EarError> {
        let load = |path: &Path| {
            session(environment, path).map_err(|error| EarError::BadModel {
                recogniser: NAME,
                path: path.to_owned(),
                reason: first_line(&error),
            })
        };
        let [encoder, decoder] = &files;
        let mut network = Self {
            encoder: load(encoder)?,
            decoder: load(decoder)?,
            shape,
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
                    path: decoder.clone(),
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
            let mut inputs = Inputs::new();
            let size = [1, samples.len()];
            inputs.add(
                "input_values",
                TensorRef::from_array_view((size, samples.as_slice()))?,
            );
            if self.shape.masked {
                let mask = vec![1i64; samples.len()];
                inputs.add("attention_mask", Tensor::from_array((size, mask))?);
            }
            let mut outputs = self.encoder.run(inputs.0)?;
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
        let shape = self.shape;
        let mut run = || -> ort::Result<Hearing> {
            // First the memory of the sound, then the empty text, as any other: a decoder that was made
            // ready gives nothing else in the first run, and the logits are the same.
            let mut inputs = Inputs::new();
            inputs.add(
                "input_ids",
                Tensor::from_array(([1, 1], vec![i64::from(BEGIN)]))?,
            );
            inputs.add("encoder_hidden_states", encoded.frames.view());
            if shape.masked {
                // As long as the samples, not the frames: the decoder scales it down itself, and
                // one as long as the frames fails above 9.2 s of sound.
                let mask = vec![1i64; encoded.samples];
                inputs.add(
                    "encoder_attention_mask",
                    Tensor::from_array(([1, mask.len()], mask))?,
                );
            }
            inputs.add("use_cache_branch", Tensor::from_array(([1], vec![false]))?);
            for name in TEXT_MEMORY
                .names(shape, "past_key_values")
                .chain(SOUND_MEMORY.names(shape, "past_key_values"))
            {
                inputs.add(name, no_memory(shape)?);
            }
            let mut outputs = self.decoder.run(inputs.0)?;
            let sound_memory = SOUND_MEMORY.take(shape, &mut outputs)?;
            let no_text = (0..2 * shape.layers).map(|_| no_memory(shape));
            Ok(Hearing {
                sound_memory,
                text_memory: no_text.collect::<ort::Result<_>>()?,
                hypotheses: 1,
                vocabulary: self.vocabulary,
                logits: Vec::new(),
            })
        };
        let mut hearing = run().map_err(fault)?;
        self.step(&mut hearing, &[0], &[BEGIN])?;
        Ok(hearing)
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
        let (shape, vocabulary) = (self.shape, self.vocabulary);
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
            let no_frames = vec![0f32; shape.features];
            inputs.add(
                "encoder_hidden_states",
                Tensor::from_array(([1, 1, shape.features], no_frames))?,
            );
            if shape.masked {
                inputs.add(
                    "encoder_attention_mask",
                    Tensor::from_array(([1, 1], vec![1i64]))?,
                );
            }
            inputs.add("use_cache_branch", Tensor::from_array(([1], vec![true]))?);
            let memories = hearing.text_memory.iter().chain(&hearing.sound_memory);
            let names = TEXT_MEMORY
                .names(shape, "past_key_values")
                .chain(SOUND_MEMORY.names(shape, "past_key_values"));
            for (name, memory) in names.zip(memories) {
                inputs.add(name, memory.view());
            }
            let mut outputs = self.decoder.run(inputs.0)?;
            let logits = logits(&mut outputs, batch, vocabulary)?;
            let text_memory = TEXT_MEMORY.take(shape, &mut outputs)?;
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
    fn names(&self, shape: Shape, side: &'static str) -> impl Iterator<Item = String> {
        let kind = self.0;
        (0..shape.layers).flat_map(move |layer| {
            ["key", "value"].map(|part| format!("{side}.{layer}.{kind}.{part}"))
        })
    }

    fn take(&self, shape: Shape, outputs: &mut SessionOutputs<'_>) -> ort::Result<Vec<DynValue>> {
        self.names(shape, "present")
            .map(|name| taken(outputs, &name))
            .collect()
    }
}

/// Writes a published network as one that is fast: from ONNX Runtime's own format to the open one, and
/// that rewritten. Another program may do the same meanwhile, so the result is moved into its place whole.
fn make_ready(
    environment: &Environment,
    published: &Path,
    ready: &Path,
    attention: Attention,
) -> Result<(), String> {
    let beside = |ending: &str| ready.with_extension(format!("{}.{ending}", std::process::id()));
    let (open, done) = (beside("open"), beside("done"));
    let made = (|| {
        if let Some(folder) = ready.parent() {
            std::fs::create_dir_all(folder).map_err(|error| error.to_string())?;
        }
        let as_it_is = || -> ort::Result<()> {
            Session::builder(environment)?
                .with_intra_threads(THREADS)?
                .with_optimization_level(GraphOptimizationLevel::Disable)?
                .with_optimized_model_path(&open)?
                .commit_from_file(published)
                .map(drop)
        };
        as_it_is().map_err(|error| first_line(&error))?;
        let model = std::fs::read(&open).map_err(|error| error.to_string())?;
        let fast = multiply_as_integers(&model, attention)
            .ok_or("it isn't built as it should be".to_owned())?;
        std::fs::write(&done, fast)
            .and_then(|()| std::fs::rename(&done, ready))
            .map_err(|error| error.to_string())
    })();
    for left_over in [open, done] {
        // Gone already where all went well.
        let _ = std::fs::remove_file(left_over);
    }
    made
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
    // Without ORT's own pool of memory, which only grows, and the patterns it learns, which fit one length
    // of text each, two models take 297 MB instead of 345, and no more time.
    let processor = CPU::default().with_arena_allocator(false).build();
    Session::builder(environment)?
        .with_execution_providers([processor])?
        .with_intra_threads(THREADS)?
        .with_inter_threads(THREADS)?
        .with_memory_pattern(false)?
        .with_device_allocated_initializers()?
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

fn no_memory(shape: Shape) -> ort::Result<DynValue> {
    let allocator = ort::memory::Allocator::default();
    let size = [1, shape.heads, 0, shape.head_features];
    Ok(Tensor::<f32>::new(&allocator, size)?.into_dyn())
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
