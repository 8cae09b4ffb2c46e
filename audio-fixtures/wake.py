#!/usr/bin/env python3
"""Makes what the wake phrase is measured on; nothing of it is committed. To install: what make.py needs.

    VENV/bin/python wake.py --calls DIR                     # 105 recordings that begin with the phrase, seven voices
    VENV/bin/python wake.py --other DIR --hours 2 TEXT...   # text files read aloud by the same voices in turn
    VENV/bin/python wake.py --radio DIR CALLS OTHER         # those calls while those texts are read, 20, 15 and 10 dB softer

A third of the calls are the phrase alone, at three speeds; behind the others stands a command. Any plain text will do for
the rest: it was measured on the quotations and stories of Debian's package `fortunes`. The benchmark is `cargo bench --bench waking`.
"""
import argparse
import multiprocessing
import pathlib
import random
import re

import numpy as np

import make

PHRASE = "Tell the shelf"
VOICES = ["heart", "rms", "slt", "awb", "kal", "espeak-us", "espeak-gb"]
COMMANDS = [
    "I used up the oats", "put milk on the list", "read the list", "what expires this week?", "undo",
    "add two cans of tomatoes to the pantry", "where is the flour?", "spent tags", "I'm going shopping", "what is running low?",
]
BELOW = [20, 15, 10]
SPEEDS = [0.85, 0.95, 1.0, 1.08, 1.15]


def spoken(voice, text, speed=1.0):
    sound, rate = make.VOICES[voice](text, speed)
    return make.frame(make.resample(sound, rate), 0.4, 0.6)


def call(job):
    out, voice, number, text, speed = job
    make.write_wav(out / voice / f"{number:02}.wav", spoken(voice, text, speed))


def paragraph(job):
    out, voice, number, text = job
    try:
        sound = spoken(voice, text)
    except Exception:  # a text that a voice can't say is left out
        return 0.0
    make.write_wav(out / f"{number:05}-{voice}.wav", sound)
    return len(sound) / make.RATE


def paragraphs(files):
    for file in files:
        for text in re.split(r"\n\s*%\s*\n|\n\s*\n", file.read_text(encoding="utf-8", errors="ignore")):
            words = re.sub(r"[^A-Za-z0-9,.;:?!' -]+", " ", text).split()
            if 8 <= len(words) <= 90:
                yield " ".join(words)


def active_level(sound):
    """The root of the mean square over the pieces of 20 ms that are within 20 dB of the loudest."""
    size = make.RATE // 50
    power = np.square(sound[: len(sound) // size * size].reshape(-1, size)).mean(axis=1)
    return np.sqrt(power[power > power.max() / 100].mean())


def over_radio(out, calls, other):
    """Four seconds of talk without a pause, a call over it, and three more seconds."""
    rng = random.Random(5)
    stations = [make.read_wav(f)[0] for f in rng.sample(sorted(other.rglob("*.wav")), 60)]
    # Without the quiet around each of them.
    talk = np.concatenate([s[int(0.3 * make.RATE):-make.RATE // 2] / active_level(s) for s in stations])
    for below in BELOW:
        for file in sorted(calls.rglob("*.wav")):
            call, _ = make.read_wav(file)
            sound = np.concatenate([np.zeros(4 * make.RATE), call, np.zeros(3 * make.RATE)])
            at = rng.randrange(len(talk) - len(sound))
            sound += talk[at:at + len(sound)] * active_level(call) * 10 ** (-below / 20)
            make.write_wav(out / f"{below}" / file.relative_to(calls), sound)


def main():
    ask = argparse.ArgumentParser(description="Makes what the wake phrase is measured on.")
    ask.add_argument("--calls", type=pathlib.Path)
    ask.add_argument("--other", type=pathlib.Path)
    ask.add_argument("--radio", type=pathlib.Path)
    ask.add_argument("--hours", type=float, default=2)
    ask.add_argument("texts", type=pathlib.Path, nargs="*")
    ask = ask.parse_args()
    if ask.radio:
        over_radio(ask.radio, *ask.texts)
    with multiprocessing.Pool(2) as pool:
        if ask.calls:
            jobs = []
            for voice in VOICES:
                jobs += [(ask.calls, voice, n, f"{PHRASE}.", speed) for n, speed in enumerate(SPEEDS)]
                jobs += [(ask.calls, voice, 5 + n, f"{PHRASE}, {c}", SPEEDS[n % 5]) for n, c in enumerate(COMMANDS)]
            pool.map(call, jobs)
        if ask.other:
            seconds = 0.0
            jobs = ((ask.other, VOICES[n % len(VOICES)], n, text) for n, text in enumerate(paragraphs(ask.texts)))
            for length in pool.imap_unordered(paragraph, jobs):
                seconds += length
                if seconds > ask.hours * 3600:
                    break
            pool.terminate()


if __name__ == "__main__":
    main()
