//! The Moonshine recogniser on real models: `./models-fetch.sh` fetches them.

use std::path::Path;

use tellshelf::ear::{
    END, EarError, Guide, Models, Moonshine, Network, Phrases, Recogniser, Sound, Tokens,
    read_recording,
};

fn models() -> Models {
    Models::in_folder(Path::new(env!("CARGO_MANIFEST_DIR")).join("models"))
}

fn moonshine() -> Moonshine {
    Moonshine::load(&models()).unwrap()
}

fn fixture(name: &str) -> Sound {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("audio-fixtures/commands");
    read_recording(&folder.join(name)).unwrap()
}

fn tokens() -> Tokens {
    let file = models().moonshine().unwrap().join("tokenizer.bin");
    Tokens::parse(&std::fs::read(file).unwrap()).unwrap()
}

/// A copy of the model whose files a test may damage.
fn copy_of_model() -> (tempfile::TempDir, Models) {
    let place = tempfile::tempdir().unwrap();
    let copy = Models::in_folder(place.path());
    let folder = place.path().join("moonshine-tiny-en");
    std::fs::create_dir_all(&folder).unwrap();
    for entry in std::fs::read_dir(models().moonshine().unwrap()).unwrap() {
        let entry = entry.unwrap();
        std::fs::copy(entry.path(), folder.join(entry.file_name())).unwrap();
    }
    std::os::unix::fs::symlink(models().folder().join("lib"), place.path().join("lib")).unwrap();
    (place, copy)
}

#[test]
fn clear_speech_is_written_down() {
    let mut moonshine = moonshine();
    for (name, wanted) in [
        (
            "rms-put-a-jar-of-honey-in-the-pantry.wav",
            "Put a jar of honey in the pantry.",
        ),
        (
            "rms-i-finished-the-peanut-butter.wav",
            "I finished the peanut butter.",
        ),
    ] {
        let heard = moonshine.hear(&fixture(name), Guide::Free).unwrap();
        assert_eq!(heard.len(), 1);
        assert_eq!(heard[0].text, wanted);
        assert_eq!(heard[0].by, "moonshine");
        assert!((-0.2..=0.0).contains(&heard[0].score), "{}", heard[0].score);
    }
}

#[test]
fn phrases_do_not_bind_it() {
    let mut moonshine = moonshine();
    let sound = fixture("rms-i-finished-the-peanut-butter.wav");
    let phrases = Phrases::new(["undo"]).unwrap();
    let bound = moonshine.hear(&sound, Guide::Phrases(&phrases)).unwrap();
    assert_eq!(bound, moonshine.hear(&sound, Guide::Free).unwrap());
}

#[test]
fn no_sound_gives_no_hypothesis() {
    assert!(
        moonshine()
            .hear(&Sound::default(), Guide::Free)
            .unwrap()
            .is_empty()
    );
}

#[test]
fn sounds_of_every_length_are_survived() {
    let mut moonshine = moonshine();
    for samples in [1, 127, 1_599, 1_600, 1_601, 200_000, 700_000] {
        let buzz = Sound::new((0..samples).map(|n| (n % 100) as f32 / 1_000.0).collect());
        moonshine.hear(&buzz, Guide::Free).unwrap();
    }
}

#[test]
fn speech_after_ten_seconds_is_heard() {
    let mut samples = fixture("rms-put-a-jar-of-honey-in-the-pantry.wav")
        .samples()
        .to_vec();
    let second = fixture("rms-i-finished-the-peanut-butter.wav");
    while samples.len() < 10 * 16_000 {
        samples.extend(second.samples());
    }
    let heard = moonshine().hear(&Sound::new(samples), Guide::Free).unwrap();
    assert!(
        heard[0].text.matches("peanut butter").count() >= 2,
        "{}",
        heard[0].text
    );
}

#[test]
fn only_the_first_half_minute_is_heard() {
    let mut network = Network::load(&models(), tokens().len()).unwrap();
    let long = Sound::new(vec![0.01; 40 * 16_000]);
    assert_eq!(network.encode(&long).unwrap().seconds(), 30.0);
}

#[test]
fn hypotheses_side_by_side_go_as_they_would_alone() {
    let tokens = tokens();
    let mut network = Network::load(&models(), tokens.len()).unwrap();
    let encoded = network
        .encode(&fixture("rms-put-a-jar-of-honey-in-the-pantry.wav"))
        .unwrap();
    let token = |text: &str| {
        let mut all = 0..tokens.len() as u32;
        all.find(|token| tokens.spelling(*token) == Some(text.as_bytes()))
            .unwrap()
    };
    let (put, a, the) = (token(" Put"), token(" a"), token(" the"));

    let mut alone = network.start(&encoded).unwrap();
    network.step(&mut alone, &[0], &[put]).unwrap();
    network.step(&mut alone, &[0], &[a]).unwrap();

    let mut together = network.start(&encoded).unwrap();
    network
        .step(&mut together, &[0, 0, 0], &[the, put, a])
        .unwrap();
    network
        .step(&mut together, &[2, 1, 1], &[the, the, a])
        .unwrap();
    assert_eq!(together.hypotheses(), 3);

    let difference = |one: &[f32], other: &[f32]| {
        one.iter()
            .zip(other)
            .map(|(a, b)| (a - b).abs())
            .fold(0.0, f32::max)
    };
    let same = difference(together.logits(2), alone.logits(0));
    let other = difference(together.logits(1), alone.logits(0));
    // The network rounds to eight bits on a scale that all hypotheses share, so they do move each
    // other a little.
    assert!(same < 1.0, "{same}");
    assert!(other > 3.0, "{other}");
    assert!(together.logits(3).is_empty());

    let jar = token(" jar") as usize;
    let log = together.logits(2)[jar] - together.log_total(2);
    assert!((-1.0..0.0).contains(&log), "{log}");
}

#[test]
fn steps_over_hypotheses_that_do_not_exist_are_refused() {
    let mut network = Network::load(&models(), tokens().len()).unwrap();
    let encoded = network.encode(&Sound::new(vec![0.0; 16_000])).unwrap();
    let mut hearing = network.start(&encoded).unwrap();
    for (parents, tokens) in [(&[1][..], &[5][..]), (&[], &[]), (&[0], &[5, 6])] {
        let refused = network.step(&mut hearing, parents, tokens);
        assert!(matches!(refused, Err(EarError::Recognition { .. })));
    }
    network.step(&mut hearing, &[0], &[5]).unwrap();
}

#[test]
fn a_damaged_model_is_told_and_named() {
    for file in [
        "encoder_model.ort",
        "decoder_model_merged.ort",
        "tokenizer.bin",
    ] {
        let (place, copy) = copy_of_model();
        let path = place.path().join("moonshine-tiny-en").join(file);
        let whole = std::fs::read(&path).unwrap();
        for damaged in [&whole[..whole.len() / 2], b"this is no model", b""] {
            std::fs::write(&path, damaged).unwrap();
            let error = Moonshine::load(&copy).err().unwrap();
            assert!(
                matches!(error, EarError::BadModel { .. }),
                "{file}: {error}"
            );
        }
    }
}

#[test]
fn models_that_do_not_belong_together_are_told() {
    let (place, copy) = copy_of_model();
    let folder = place.path().join("moonshine-tiny-en");
    std::fs::copy(
        folder.join("encoder_model.ort"),
        folder.join("decoder_model_merged.ort"),
    )
    .unwrap();
    assert!(matches!(
        Moonshine::load(&copy),
        Err(EarError::BadModel { .. })
    ));
}

#[test]
fn too_few_tokens_for_the_network_are_told() {
    assert!(matches!(
        Network::load(&models(), 100),
        Err(EarError::BadModel { .. })
    ));
}

#[test]
fn a_missing_model_says_how_to_fetch_it() {
    let error = Moonshine::load(&Models::in_folder("no-such-folder"))
        .err()
        .unwrap();
    assert!(matches!(
        error,
        EarError::NoModel {
            recogniser: "moonshine",
            ..
        }
    ));
    assert!(
        error.to_string().ends_with("Run ./models-fetch.sh"),
        "{error}"
    );
}

/// A folder of models of its own, with links to the fetched ones; of the larger model what is given.
fn linked(larger: &[(&str, Option<&[u8]>)]) -> (tempfile::TempDir, Models) {
    let folder = tempfile::tempdir().unwrap();
    let fetched = models();
    let link = |name: &str| {
        let link = folder.path().join(name);
        std::fs::create_dir_all(link.parent().unwrap()).unwrap();
        std::os::unix::fs::symlink(fetched.folder().join(name), link).unwrap();
    };
    link("moonshine-tiny-en");
    link("lib");
    for (name, content) in larger {
        let name = format!("moonshine-base-en/{name}");
        match content {
            None => link(&name),
            Some(bytes) => {
                let file = folder.path().join(&name);
                std::fs::create_dir_all(file.parent().unwrap()).unwrap();
                std::fs::write(file, bytes).unwrap();
            }
        }
    }
    let models = Models::in_folder(folder.path());
    (folder, models)
}

const ENCODER: &str = "encoder_model.ort";
const DECODER: &str = "decoder_model_merged.ort";

#[test]
fn the_larger_model_is_made_ready_once_and_hears() {
    let (folder, models) = linked(&[(ENCODER, None), (DECODER, None)]);
    let tokens = tokens();
    let sound = fixture("rms-put-a-jar-of-honey-in-the-pantry.wav");
    for _ in 0..2 {
        let mut network = Network::load_base(&models, tokens.len()).unwrap();
        let ready: Vec<_> = std::fs::read_dir(folder.path().join("ready"))
            .unwrap()
            .map(|entry| entry.unwrap().path())
            .collect();
        assert_eq!(ready.len(), 2, "and nothing half done: {ready:?}");
        // Greedily, by its own tokens.
        let encoded = network.encode(&sound).unwrap();
        let mut hearing = network.start(&encoded).unwrap();
        let mut text = Vec::new();
        while text.len() < 20 {
            let logits = hearing.logits(0).iter().zip(0u32..);
            let best = logits.max_by(|a, b| a.0.total_cmp(b.0)).unwrap().1;
            if best == END {
                break;
            }
            text.push(best);
            network.step(&mut hearing, &[0], &[best]).unwrap();
        }
        assert_eq!(tokens.text(&text), "Put a jar of honey in the pantry.");
    }
}

#[test]
fn without_the_larger_model_the_small_one_hears_alone() {
    for larger in [
        vec![],
        vec![(ENCODER, None), (DECODER, Some(b"not a model".as_slice()))],
    ] {
        let (_folder, models) = linked(&larger);
        let mut moonshine = Moonshine::load(&models).unwrap();
        assert!(moonshine.hears_again().is_err());
        let sound = fixture("rms-put-a-jar-of-honey-in-the-pantry.wav");
        let heard = moonshine.hear(&sound, Guide::Free).unwrap();
        assert!(heard[0].text.contains("honey"), "{}", heard[0].text);
        assert!(moonshine.hear_again(&sound, Guide::Free).unwrap().is_none());
    }
}

#[test]
fn a_damaged_file_that_was_made_ready_is_made_anew() {
    let (folder, models) = linked(&[(ENCODER, None), (DECODER, None)]);
    let tokens = tokens().len();
    Network::load_base(&models, tokens).unwrap();
    let decoder = folder
        .path()
        .join("ready/moonshine-base-en.decoder_model_merged.onnx");
    std::fs::write(&decoder, "damaged").unwrap();
    assert!(Network::load_base(&models, tokens).is_err());
    assert!(Network::load_base(&models, tokens).is_ok());
}
