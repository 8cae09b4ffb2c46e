//! Makes a model that multiplies its weights as 8-bit integers of one that turns them into floats first.
//!
//! The larger Moonshine model is published with 8-bit weights, each followed by `Cast`, `Mul` (its
//! scale) and `Add` (its offset). ONNX Runtime does that with all of them for every token, which takes
//! about ten times as long as the products themselves. Its offsets are whole multiples of the scales, so that the same
//! weights can be multiplied as they are: `MatMul` becomes `DynamicQuantizeLinear` and
//! `MatMulIntegerToFloat`, as in the small model. The weights stay exactly what they were; what they are
//! multiplied with is rounded to 8 bits. Source of the operators: the ONNX specification, and ONNX
//! Runtime's list of its own operators (`com.microsoft`).
//!
//! The decoder has two branches, with and without a memory of the text before. The second is cut down
//! to what it says of the sound, as the first begins just as well with an empty memory, and its weights
//! needn't be kept twice.

use std::collections::{HashMap, HashSet};

use super::messages::{Field, Message};

/// Numbers of fields, and of types, in `onnx.proto`.
mod field {
    pub const MODEL_GRAPH: u32 = 7;
    pub const GRAPH_NODE: u32 = 1;
    pub const GRAPH_NAME: u32 = 2;
    pub const GRAPH_INITIALIZER: u32 = 5;
    pub const GRAPH_OUTPUT: u32 = 12;
    pub const VALUE_NAME: u32 = 1;
    pub const NODE_INPUT: u32 = 1;
    pub const NODE_OUTPUT: u32 = 2;
    pub const NODE_NAME: u32 = 3;
    pub const NODE_OPERATOR: u32 = 4;
    pub const NODE_ATTRIBUTE: u32 = 5;
    pub const NODE_DOMAIN: u32 = 7;
    pub const ATTRIBUTE_NAME: u32 = 1;
    pub const ATTRIBUTE_GRAPH: u32 = 6;
    pub const TENSOR_SIZES: u32 = 1;
    pub const TENSOR_TYPE: u32 = 2;
    pub const TENSOR_NAME: u32 = 8;
    pub const TENSOR_RAW: u32 = 9;
    pub const FLOAT: u64 = 1;
    pub const UINT8: u64 = 2;
    pub const INT8: u64 = 3;
    pub const INT64: u64 = 7;
}

/// An 8-bit weight: each value is the scale times what the number is more than zero's.
struct Weight {
    numbers: String,
    scale: String,
    zero: u8,
}

impl Weight {
    /// The name of the constant that holds the number of zero.
    fn zero_name(&self) -> String {
        format!("{}_zero", self.numbers)
    }
}

/// Sizes of the attention, for the memory of the sound.
#[derive(Debug, Clone, Copy)]
pub(super) struct Attention {
    pub heads: usize,
    pub head_features: usize,
    pub vocabulary: usize,
}

/// Rewrites a model in ONNX's own format; `None` where it isn't built as it should be.
pub(super) fn multiply_as_integers(model: &[u8], attention: Attention) -> Option<Vec<u8>> {
    let mut model = Message::parse(model)?;
    let graph = Message::parse(model.all(field::MODEL_GRAPH).next()?)?;
    let origins = Origins::of(&graph)?;
    let weights = origins.weights();
    if weights.is_empty() {
        return None;
    }
    let mut rewriting = Rewriting {
        weights: &weights,
        used: HashSet::new(),
        attention,
    };
    let rewritten = rewriting.graph(&graph, "main")?;
    let graph = origins.without_floats(rewritten, &weights, &rewriting.used)?;
    model.set(field::MODEL_GRAPH, Field::Bytes(graph.bytes()));
    Some(model.bytes())
}

/// Where the values of a graph come from.
struct Origins {
    /// Constants of one float.
    scalars: HashMap<String, f32>,
    /// Constants of 8-bit integers.
    eight_bit: HashSet<String>,
    /// For each value, the operator that makes it and what it makes it of.
    made: HashMap<String, (String, Vec<String>)>,
}

impl Origins {
    fn of(graph: &Message) -> Option<Self> {
        let mut origins = Self {
            scalars: HashMap::new(),
            eight_bit: HashSet::new(),
            made: HashMap::new(),
        };
        for tensor in graph.all(field::GRAPH_INITIALIZER) {
            let tensor = Message::parse(tensor)?;
            let name = tensor.text(field::TENSOR_NAME);
            let int8 = (field::TENSOR_TYPE, Field::Varint(field::INT8));
            if tensor.0.contains(&int8) {
                origins.eight_bit.insert(name);
            } else if let Some(raw) = tensor.all(field::TENSOR_RAW).next()
                && let Ok(scalar) = raw.try_into()
            {
                origins.scalars.insert(name, f32::from_le_bytes(scalar));
            }
        }
        for node in graph.all(field::GRAPH_NODE) {
            let node = Message::parse(node)?;
            for output in node.texts(field::NODE_OUTPUT) {
                let operator = node.text(field::NODE_OPERATOR);
                let inputs = node.texts(field::NODE_INPUT);
                origins.made.insert(output, (operator, inputs));
            }
        }
        Some(origins)
    }

    /// What a value is made of, if that is by this operator.
    fn inputs(&self, operator: &str, value: &str) -> Option<&[String]> {
        let (known, inputs) = self.made.get(value)?;
        (known == operator && !inputs.is_empty()).then_some(inputs)
    }

    /// The values that are 8-bit weights turned into floats.
    fn weights(&self) -> HashMap<String, Weight> {
        let weights = self.made.keys().filter_map(|name| {
            let [sum, offset] = self.inputs("Add", name)? else {
                return None;
            };
            let [product, scale] = self.inputs("Mul", sum)? else {
                return None;
            };
            let numbers = &self.inputs("Cast", product)?[0];
            let zero = -self.scalars.get(offset)? / self.scalars.get(scale)?;
            let is_whole = (zero - zero.round()).abs() < 1e-3;
            let is_byte = (-128.0..=127.0).contains(&zero.round());
            let weight = Weight {
                numbers: numbers.clone(),
                scale: scale.clone(),
                zero: unsigned(zero.round() as i8 as u8),
            };
            (self.eight_bit.contains(numbers) && is_whole && is_byte)
                .then_some((name.clone(), weight))
        });
        weights.collect()
    }

    /// Takes out what turned the weights into floats, and makes their numbers unsigned.
    fn without_floats(
        &self,
        graph: Message,
        weights: &HashMap<String, Weight>,
        used: &HashSet<String>,
    ) -> Option<Message> {
        let mut idle: HashSet<&str> = HashSet::new();
        let mut zeros: HashMap<&str, &Weight> = HashMap::new();
        for name in used {
            let sum = &self.inputs("Add", name)?[0];
            idle.extend([name.as_str(), sum, &self.inputs("Mul", sum)?[0]]);
            let weight = weights.get(name)?;
            zeros.insert(&weight.numbers, weight);
        }
        let mut kept = Message::default();
        for (number, value) in graph.0 {
            let Field::Bytes(bytes) = value else {
                continue;
            };
            if number == field::GRAPH_NODE {
                let outputs = Message::parse(&bytes)?.texts(field::NODE_OUTPUT);
                if outputs.iter().any(|output| idle.contains(output.as_str())) {
                    continue;
                }
            }
            if number != field::GRAPH_INITIALIZER {
                kept = kept.with(number, bytes);
                continue;
            }
            let mut constant = Message::parse(&bytes)?;
            if let Some(weight) = zeros.get(constant.text(field::TENSOR_NAME).as_str()) {
                let raw = constant.all(field::TENSOR_RAW).next()?;
                let raw = raw.iter().map(|byte| unsigned(*byte)).collect();
                constant.set(field::TENSOR_RAW, Field::Bytes(raw));
                constant.set(field::TENSOR_TYPE, Field::Varint(field::UINT8));
                let zero = tensor(&weight.zero_name(), field::UINT8, &[], &[weight.zero]);
                kept = kept.with(number, zero);
            }
            kept = kept.with(number, constant.bytes());
        }
        Some(kept)
    }
}

/// A signed byte as an unsigned one that is 128 more. Signed weights overflow in the integer products of
/// processors without VNNI (from memory), and the small model's are unsigned as well.
fn unsigned(byte: u8) -> u8 {
    byte ^ 0x80
}

/// A graph being rewritten, with the graphs inside it.
struct Rewriting<'w> {
    weights: &'w HashMap<String, Weight>,
    /// The weights that are now multiplied as integers.
    used: HashSet<String>,
    attention: Attention,
}

impl Rewriting<'_> {
    fn graph(&mut self, graph: &Message, name: &str) -> Option<Message> {
        let mut out = Message::default();
        // A weight that is transposed first, by the name of what comes of it.
        let mut transposed: HashMap<String, &Weight> = HashMap::new();
        let mut rounded = HashSet::new();
        for (number, value) in &graph.0 {
            let Field::Bytes(bytes) = value else {
                continue;
            };
            if *number != field::GRAPH_NODE {
                // ONNX Runtime writes inner graphs without their names, and then refuses to read them.
                if *number != field::GRAPH_NAME {
                    out = out.with(*number, bytes.clone());
                }
                continue;
            }
            let mut node = Message::parse(bytes)?;
            let inputs = node.texts(field::NODE_INPUT);
            let output = node.texts(field::NODE_OUTPUT).into_iter().next()?;
            let weight = |at: usize| Some(inputs.get(at)?).and_then(|i| self.weights.get(i));
            match (
                node.text(field::NODE_OPERATOR).as_str(),
                weight(0),
                weight(1),
            ) {
                ("Gather", Some(weight), _) => {
                    self.used.insert(inputs[0].clone());
                    let picked = format!("{output}_numbers");
                    node.0
                        .retain(|(n, _)| ![field::NODE_INPUT, field::NODE_OUTPUT].contains(n));
                    let node = node
                        .with(field::NODE_INPUT, weight.numbers.as_str())
                        .with(field::NODE_INPUT, inputs.get(1)?.as_str())
                        .with(field::NODE_OUTPUT, picked.as_str());
                    let of = [&picked, &weight.scale, &weight.zero_name()];
                    let floats = operator("DequantizeLinear", "", &of, &[&output]);
                    out = out.with(*number, node.bytes()).with(*number, floats);
                }
                ("Transpose", Some(weight), _) => {
                    self.used.insert(inputs[0].clone());
                    let numbers = weight.numbers.clone().into_bytes();
                    node.set(field::NODE_INPUT, Field::Bytes(numbers));
                    out = out.with(*number, node.bytes());
                    transposed.insert(output, weight);
                }
                ("MatMul", _, plain) => {
                    let turned = inputs.get(1).and_then(|name| transposed.get(name).copied());
                    let Some(weight) = plain.or(turned) else {
                        out = out.with(*number, bytes.clone());
                        continue;
                    };
                    let numbers = if plain.is_some() {
                        self.used.insert(inputs[1].clone());
                        &weight.numbers
                    } else {
                        &inputs[1]
                    };
                    let of = &inputs[0];
                    let [bytes, scale, zero] =
                        ["bytes", "scale", "zero"].map(|part| format!("{of}_as_{part}"));
                    if rounded.insert(of.clone()) {
                        let made = [&bytes, &scale, &zero];
                        let rounding = operator("DynamicQuantizeLinear", "", &[of], &made);
                        out = out.with(*number, rounding);
                    }
                    let product = [
                        &bytes,
                        numbers,
                        &scale,
                        &weight.scale,
                        &zero,
                        &weight.zero_name(),
                    ];
                    let name = "MatMulIntegerToFloat";
                    let product = operator(name, "com.microsoft", &product, &[&output]);
                    out = out.with(*number, product);
                }
                ("If", ..) => out = out.with(*number, self.branches(node)?.bytes()),
                _ => out = out.with(*number, bytes.clone()),
            }
        }
        Some(out.with(field::GRAPH_NAME, name))
    }

    fn branches(&mut self, mut node: Message) -> Option<Message> {
        for (number, value) in &mut node.0 {
            let Field::Bytes(bytes) = value else {
                continue;
            };
            if *number != field::NODE_ATTRIBUTE {
                continue;
            }
            let mut attribute = Message::parse(bytes)?;
            let Some(graph) = attribute.all(field::ATTRIBUTE_GRAPH).next() else {
                continue;
            };
            let branch = attribute.text(field::ATTRIBUTE_NAME);
            let mut graph = Message::parse(graph)?;
            if branch == "else_branch" {
                graph = only_sound(&graph, self.attention)?;
            }
            let graph = self.graph(&graph, &branch)?;
            attribute.set(field::ATTRIBUTE_GRAPH, Field::Bytes(graph.bytes()));
            *bytes = attribute.bytes();
        }
        Some(node)
    }
}

/// Keeps, of the branch without a memory, the memory of the sound; its other outputs come back empty.
fn only_sound(graph: &Message, attention: Attention) -> Option<Message> {
    let Attention {
        heads,
        head_features,
        vocabulary,
    } = attention;
    let outputs = graph.all(field::GRAPH_OUTPUT);
    let outputs = outputs.map(|output| Some(Message::parse(output)?.text(field::VALUE_NAME)));
    let outputs = outputs.collect::<Option<Vec<String>>>()?;
    let (sound, others): (Vec<String>, Vec<String>) = outputs
        .into_iter()
        .partition(|name| name.contains(".encoder."));
    let mut wanted: HashSet<String> = sound.into_iter().collect();
    let nodes = graph.all(field::GRAPH_NODE).map(Message::parse);
    let mut kept = Vec::new();
    for mut node in nodes.collect::<Option<Vec<Message>>>()?.into_iter().rev() {
        let outputs = node.texts(field::NODE_OUTPUT);
        if !outputs.iter().any(|output| wanted.contains(output)) {
            continue;
        }
        if node.text(field::NODE_OPERATOR) == "Reshape" {
            // Its shape was reckoned from the text, which isn't there any more.
            let of = node.texts(field::NODE_INPUT).into_iter().next()?;
            node.0.retain(|(number, _)| *number != field::NODE_INPUT);
            node = node
                .with(field::NODE_INPUT, of)
                .with(field::NODE_INPUT, "heads");
        }
        wanted.extend(node.texts(field::NODE_INPUT));
        kept.push((field::GRAPH_NODE, Field::Bytes(node.bytes())));
    }
    kept.reverse();
    let shape = [0, -1, heads as i64, head_features as i64];
    let shape: Vec<u8> = shape.iter().flat_map(|size| size.to_le_bytes()).collect();
    let heads_shape = tensor("heads", field::INT64, &[4], &shape);
    let mut out = Message(kept).with(field::GRAPH_INITIALIZER, heads_shape);
    for name in others {
        let empty: &[usize] = if name == "logits" {
            &[0, 1, vocabulary]
        } else {
            &[0, heads, 1, head_features]
        };
        let empty = tensor(&name, field::FLOAT, empty, &[]);
        out = out.with(field::GRAPH_INITIALIZER, empty);
    }
    let others = graph.0.iter().filter(|(n, _)| *n != field::GRAPH_NODE);
    out.0.extend(others.cloned());
    Some(out)
}

fn operator(name: &str, domain: &str, inputs: &[&String], outputs: &[&String]) -> Vec<u8> {
    let mut node = Message::default();
    for input in inputs {
        node = node.with(field::NODE_INPUT, input.as_str());
    }
    for output in outputs {
        node = node.with(field::NODE_OUTPUT, output.as_str());
    }
    node.with(field::NODE_NAME, format!("{}/{name}", outputs[0]))
        .with(field::NODE_OPERATOR, name)
        .with(field::NODE_DOMAIN, domain)
        .bytes()
}

fn tensor(name: &str, kind: u64, sizes: &[usize], raw: &[u8]) -> Vec<u8> {
    let mut tensor = Message::default()
        .with(field::TENSOR_NAME, name)
        .with(field::TENSOR_RAW, raw);
    tensor.set(field::TENSOR_TYPE, Field::Varint(kind));
    let sizes = sizes.iter().map(|size| Field::Varint(*size as u64));
    tensor
        .0
        .extend(sizes.map(|size| (field::TENSOR_SIZES, size)));
    tensor.bytes()
}
