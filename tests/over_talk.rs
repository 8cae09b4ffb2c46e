//! A call while a radio talks.

#[path = "common/kitchen.rs"]
mod kitchen;

use chrono::NaiveDate;
use tellshelf::cli::{Hearing, Listener, News, Settled};
use tellshelf::ear::{Models, RATE, read_recording};
use tellshelf::grammar::{Grammar, WakePhrase};
use tellshelf::settings::Patience;
use tellshelf::stock::Stock;
use tellshelf::talk::Session;

use kitchen::{project, recordings};

const SECOND: usize = RATE as usize;

/// The root of the mean square where a sound is loudest.
fn loudest(samples: &[f32]) -> f32 {
    let spans = samples.chunks(SECOND / 16);
    let power = spans.map(|span| span.iter().map(|s| s * s).sum::<f32>() / span.len() as f32);
    power.fold(0.0, f32::max).sqrt()
}

/// How loud the radio is, where it is loudest: so that nothing louder by 20 dB is more than full scale.
const RADIO: f32 = 0.02;

/// Half a minute of six voices that talk without a pause.
fn radio() -> Vec<f32> {
    let mut talk = Vec::new();
    for file in recordings("not-for-us") {
        let sound = read_recording(&file).unwrap();
        let samples = sound.samples();
        let spoken = |sample: &f32| sample.abs() > 0.01;
        let first = samples.iter().position(spoken).unwrap();
        let last = samples.iter().rposition(spoken).unwrap();
        let scale = RADIO / loudest(samples);
        talk.extend(samples[first..last].iter().map(|sample| sample * scale));
    }
    talk.repeat(2)
}

/// Somebody who speaks over the radio, so many decibels louder: three seconds after it began, and it goes on.
fn over_the_radio(recording: &str, decibels: f32) -> Vec<f32> {
    let call = read_recording(&project("audio-fixtures/turns").join(recording)).unwrap();
    let mut sound = radio();
    let scale = RADIO * 10_f32.powf(decibels / 20.0) / loudest(call.samples());
    for (sample, said) in sound[3 * SECOND..].iter_mut().zip(call.samples()) {
        *sample += said * scale;
    }
    sound
}

/// What comes of it to one who waits for the phrase, and when, in seconds.
fn news_of(sound: &[f32]) -> Vec<(News, f64)> {
    let grammar = Grammar::load(&project("grammars/en.yaml")).unwrap();
    let mut hearing = Hearing::open(&Models::find(), None, &grammar).unwrap();
    let mut session = Session::new(Stock::in_memory().unwrap(), grammar).unwrap();
    let phrase = WakePhrase::new("tell the shelf").unwrap();
    session.use_wake_phrase(phrase.clone()).unwrap();
    session.sleep();
    let mut listener = Listener::new(Patience::Usual, Some(&phrase)).unwrap();
    let now = NaiveDate::default().into();
    let mut all = Vec::new();
    for (number, piece) in sound.chunks(SECOND / 20).enumerate() {
        let news = listener.push(piece, &mut hearing, &mut session, now);
        let at = (number + 1) as f64 / 20.0;
        all.extend(news.unwrap().into_iter().map(|news| (news, at)));
    }
    all
}

/// The first command in it.
fn heard(sound: &[f32]) -> Option<(Settled, f64)> {
    // The phrase by itself may come before, with a breath behind it.
    news_of(sound)
        .into_iter()
        .find_map(|(news, at)| match news {
            News::Called => None,
            News::Said(settled) => Some((*settled, at)),
        })
}

#[test]
fn who_calls_over_a_radio_is_heard_and_the_end_of_what_they_say_as_well() {
    for (recording, intent) in [
        ("heart-tell-the-shelf-used-up-oats.wav", "used-up"),
        ("slt-tell-the-shelf-milk-on-the-list.wav", "list-add"),
        ("rms-tell-the-shelf-what-expires-this-week.wav", "expires"),
        ("awb-tell-the-shelf-read-the-list.wav", "list-read"),
    ] {
        let sound = over_the_radio(recording, 20.0);
        let (settled, at) = heard(&sound).expect(recording);
        let understood = settled.understanding;
        println!("{at} s: {}", understood.heard);
        assert_eq!(understood.command.unwrap().intent, intent, "{recording}");
        // Three seconds of radio before it, and no more than the longest pause behind it.
        let call = read_recording(&project("audio-fixtures/turns").join(recording)).unwrap();
        assert!(at < 3.0 + call.seconds() + 1.5, "{recording}: {at} s");
    }
}

#[test]
fn a_radio_alone_calls_nobody() {
    // Every other second and a half is a louder speaker.
    let mut radio = radio();
    for piece in radio.chunks_mut(3 * SECOND / 2).skip(1).step_by(2) {
        piece.iter_mut().for_each(|sample| *sample *= 4.0);
    }
    let news = news_of(&radio);
    assert!(news.is_empty(), "{news:?}");
}
