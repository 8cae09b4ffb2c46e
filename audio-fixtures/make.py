#!/usr/bin/env python3
"""Makes every recording in this folder, and labels.json, from lines.json.

To install (Debian 12, Python 3.11; nothing else is needed):

    apt-get install flite espeak-ng            # flite 2.2, espeak-ng 1.51
    python3 -m venv VENV
    VENV/bin/pip install numpy==2.4.6 onnxruntime==1.23.2 hibari-tts==0.2.1

To run, from anywhere:

    VENV/bin/python make.py                    # makes all of it, beside this file
    VENV/bin/python make.py --only ko          # one of: demo commands measure answers round turns noisy ko not-for-us
    VENV/bin/python make.py --out OTHER        # into another folder, to compare

Every recording is 16 kHz, mono, 16 bit, peak 0.5, with 0.3 s of silence before the speech and 0.7 s after it (Korean:
0.6 s at both ends). Nothing is fetched: the `heart` voice is inside its package, and no other hibari voice is asked for.

The same versions on the same kind of processor give the same bytes: flite and espeak-ng have no chance in them, and the
noise of the neural voice and of the kitchen is seeded below. Another processor, NumPy or ONNX Runtime may round
differently; SciPy, if it is installed, changes the neural voice's last bits too.
"""
import argparse
import json
import pathlib
import random
import subprocess
import tempfile
import wave
import zlib

import numpy as np

HERE = pathlib.Path(__file__).resolve().parent
RATE = 16000
PEAK = 0.5
SEED = 20261125
FRAME = 2048          # samples in a frame of the mixing rule
SNRS = (15, 9)        # decibels


# ---- sound ------------------------------------------------------------------------------------------------------------

def read_wav(path):
    """-> (samples between -1 and 1, rate)"""
    with wave.open(str(path), "rb") as w:
        assert w.getnchannels() == 1 and w.getsampwidth() == 2, path
        return np.frombuffer(w.readframes(w.getnframes()), "<i2") / 32768.0, w.getframerate()


def write_wav(path, sound):
    path.parent.mkdir(parents=True, exist_ok=True)
    with wave.open(str(path), "wb") as w:
        w.setnchannels(1)
        w.setsampwidth(2)
        w.setframerate(RATE)
        w.writeframes(np.round(np.clip(sound, -1, 1) * 32767).astype("<i2").tobytes())


def resample(sound, rate, half=32):
    """Windowed-sinc interpolation to 16 kHz, band limited to the lower of the two rates."""
    if rate == RATE:
        return sound
    cut = min(1.0, RATE / rate) * 0.97                       # of the input's Nyquist frequency
    width = int(np.ceil(half / min(1.0, cut)))
    at = np.arange(len(sound) * RATE // rate) * (rate / RATE)
    first = np.floor(at).astype(int)
    padded = np.pad(sound, width)
    out = np.zeros(len(at))
    for k in range(-width + 1, width + 1):
        x = at - (first + k)
        out += padded[first + k + width] * cut * np.sinc(cut * x) * (0.5 + 0.5 * np.cos(np.pi * x / width))
    return out


def frame(sound, before, after):
    """The voice's own silence is cut off, ours is put around it, and the peak is set."""
    loud = np.flatnonzero(np.abs(sound) > 0.005 * np.abs(sound).max())
    margin = RATE // 50
    sound = sound[max(0, loud[0] - margin):loud[-1] + margin]
    sound = sound * (PEAK / np.abs(sound).max())
    return np.concatenate([np.zeros(int(before * RATE)), sound, np.zeros(int(after * RATE))])


# ---- voices -----------------------------------------------------------------------------------------------------------

def by_program(*command):
    with tempfile.TemporaryDirectory() as folder:
        path = pathlib.Path(folder) / "speech.wav"
        subprocess.run([part.format(out=path) for part in command], check=True, stdout=subprocess.DEVNULL)
        return read_wav(path)


def flite(voice):
    return lambda text, speed: by_program(
        "flite", "-voice", voice, "--setf", f"duration_stretch={1 / speed}", "-t", text, "-o", "{out}")


def espeak(voice, words_a_minute):
    return lambda text, speed: by_program(
        "espeak-ng", "-v", voice, "-s", str(round(words_a_minute * speed)), "-w", "{out}", text)


_heart = None


def heart(text, speed):
    global _heart
    if _heart is None:
        from hibari import Hibari
        _heart = Hibari(voice="heart")
    # The seed depends on the text alone, so that one line can be changed without changing the others.
    return _heart(text, speed=speed, seed=zlib.crc32(text.encode())).astype(float), _heart.sample_rate


VOICES = {
    "heart": heart,
    "rms": flite("rms"),
    "slt": flite("slt"),
    "kal": flite("kal"),
    "awb": flite("awb"),
    "espeak-us": espeak("en-us", 150),
    "espeak-gb": espeak("en-gb", 150),
    "espeak-ko": espeak("ko+f3", 110),
}


# ---- the kitchen's noise ----------------------------------------------------------------------------------------------

def coloured(rng, n, gain):
    """Gaussian noise whose spectrum is shaped by gain(frequency)."""
    spectrum = np.fft.rfft(rng.standard_normal(n))
    sound = np.fft.irfft(spectrum * gain(np.fft.rfftfreq(n, 1 / RATE)), n)
    return sound / np.sqrt(np.mean(sound ** 2))


def hum(rng, n):
    """Mains hum at 60 Hz and its overtones."""
    t = np.arange(n) / RATE
    return sum(np.sin(2 * np.pi * 60 * k * t + rng.uniform(0, 6.28)) / k for k in range(1, 7))


def strikes(rng, n, a_second, low, high, decay, partials):
    """Short ringing strokes at random times: crockery, or drops."""
    out = np.zeros(n)
    length = int(RATE * decay * 7)
    t = np.arange(length) / RATE
    for start in np.flatnonzero(rng.random(n) < a_second / RATE):
        ring = np.zeros(length)
        base = rng.uniform(low, high)
        for _ in range(partials):
            f = min(base * rng.uniform(1, 3.2), 7500)
            ring += rng.uniform(0.2, 1) * np.sin(2 * np.pi * f * t) * np.exp(-t / (decay * rng.uniform(0.4, 1)))
        ring *= rng.uniform(0.25, 1)
        end = min(n, start + length)
        out[start:end] += ring[:end - start]
    return out


def fan(rng, n):
    """An extractor fan: low rushing air that swells slowly, and hum."""
    air = coloured(rng, n, lambda f: 1 / (1 + (f / 350) ** 1.6))
    t = np.arange(n) / RATE
    return air * (1 + 0.15 * np.sin(2 * np.pi * 0.7 * t)) + 0.5 * hum(rng, n)


def tap(rng, n):
    """Water running into a sink: broad, bright noise, unsteady, and drops."""
    water = coloured(rng, n, lambda f: (f / (f + 600)) / (1 + (f / 3500) ** 2))
    unsteady = coloured(rng, n, lambda f: (f < 6).astype(float))
    return water * (1 + 0.25 * np.tanh(unsteady)) + strikes(rng, n, 9, 500, 1400, 0.015, 2) * 1.2


def dishes(rng, n):
    """Plates and cutlery over a refrigerator's hum."""
    room = coloured(rng, n, lambda f: 1 / (1 + (f / 500) ** 1.2))
    return 0.15 * room + 0.1 * hum(rng, n) + strikes(rng, n, 4, 1200, 3200, 0.05, 5)


NOISES = {"fan": fan, "tap": tap, "dishes": dishes}


def largest_frame(sound):
    whole = sound[:len(sound) // FRAME * FRAME].reshape(-1, FRAME)
    return float((whole ** 2).sum(axis=1).max())


def mix(speech, noise, snr, rng):
    """A random stretch of the noise, scaled so that the loudest frames of speech and noise are `snr` dB apart."""
    start = rng.randrange(len(noise) - len(speech))
    noise = noise[start:start + len(speech)]
    noise = noise * np.sqrt(largest_frame(speech) / (largest_frame(noise) * 10 ** (snr / 10)))
    both = speech + noise
    return both * (PEAK / np.abs(both).max())


# ---- all of it --------------------------------------------------------------------------------------------------------

def say(line, text):
    sound, rate = VOICES[line["voice"]](text, line.get("speed", 1.0))
    sound = resample(sound, rate)
    # Without the voice's own silence, so that the pauses of a slow speaker are as long as they are said to be.
    return frame(sound, 0, 0) * (np.abs(sound).max() / PEAK) if "pieces" in line else sound


def main():
    ask = argparse.ArgumentParser(description="Makes the recordings and labels.json from lines.json.")
    ask.add_argument("--out", type=pathlib.Path, default=HERE)
    ask.add_argument("--only", choices=["demo", "commands", "measure", "answers", "round", "turns", "noisy", "ko", "not-for-us"])
    ask = ask.parse_args()
    lines = json.loads((HERE / "lines.json").read_text(encoding="utf-8"))
    labels, by_name = {}, {}

    for part in ("demo", "commands", "measure", "answers", "round", "turns", "ko", "not-for-us"):
        for line in lines[part]:
            name = f"{part}/{line['file']}.wav"
            assert name not in labels, f"twice: {name}"
            labels[name] = {
                "text": line["text"],
                "voice": line["voice"],
                "language": "ko-KR" if part == "ko" else "en-US",
                "noise": None,
                "intent": line.get("intent"),
                "slots": line.get("slots", {}),
            }
            by_name[line["file"]] = labels[name]
            if part in ("round", "turns"):
                # What is right of these is told in tests/round/story.txt, and in tests/turns_by_sound.rs.
                del labels[name]
            if ask.only in (None, part):
                # `say` is the text as this voice must be given it to put its pauses right; `speed` 1 is its own.
                # A slow speaker's line comes in pieces, with so many seconds between them.
                pieces = [say(line, text) for text in line.get("pieces", [line.get("say", line["text"])])]
                gap = np.zeros(int(line.get("gap", 0) * RATE))
                sound = np.concatenate([part for piece in pieces for part in (piece, gap)][:-1])
                ends = (0.6, 0.6) if part == "ko" else (0.3, 0.7)
                write_wav(ask.out / name, frame(sound, *ends))

    noises = {}
    for line in lines["noisy"]:
        for snr in SNRS:
            kind = line["noise"]
            name = f"noisy/{line['file']}-{kind}-{snr}db.wav"
            labels[name] = {**by_name[line["file"]], "noise": {"kind": kind, "snr": snr}}
            if ask.only in (None, "noisy"):
                if kind not in noises:
                    seed = [SEED, zlib.crc32(kind.encode())]
                    noises[kind] = NOISES[kind](np.random.default_rng(seed), 40 * RATE)
                speech, _ = read_wav(ask.out / f"commands/{line['file']}.wav")
                write_wav(ask.out / name, mix(speech, noises[kind], snr, random.Random(f"{SEED} {name}")))

    rows = ",\n".join(f"{json.dumps(k)}: {json.dumps(v, ensure_ascii=False)}" for k, v in sorted(labels.items()))
    (ask.out / "labels.json").write_text("{\n" + rows + "\n}\n", encoding="utf-8")


if __name__ == "__main__":
    main()
