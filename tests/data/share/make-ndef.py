#!/usr/bin/env python3
"""Asks ndeflib (ISC licence) for the bytes of NFC Text records, and writes them as `ndef.tsv`.

To install (Python 3.11):

    python3 -m venv VENV
    VENV/bin/pip install ndeflib==0.3.3

To run: `VENV/bin/python make-ndef.py`. It writes ndef.tsv beside it; `tests/share_ndef.rs` compares it with what this crate
writes. The table holds what the library returned: never edit it by hand. Texts stand there as UTF-8, in hexadecimal.
"""
import importlib.metadata
import pathlib

import ndef

HERE = pathlib.Path(__file__).resolve().parent
TEXTS = [
    "", "a", "7", " ", "é", "字", "🥫", "elephant", "café", "Oats.", "Crème fraîche", "jalapeño", "두유 한 팩", "牛乳", "молоко",
    "حليب", "e\u0301", "👩🏽‍🍳", "🇰🇷", "line one\nline two", "a tab\tin it", "\u0000", "\ufeffwith a mark", "½ cup, 165 °F",
    "Tomato soup. Use by March 15, 2027. Contains milk.",
    "Rice. 2 bags. Stir in one can of water. Heat for five minutes. And more.",
]
# Around the limits: 252 bytes with "en" make a payload of 255; 247 a message of 254.
LENGTHS = [33, 38, 113, 118, 129, 134, 246, 247, 248, 249, 250, 251, 252, 253, 254, 255, 256, 257, 481, 857]
LANGUAGES = ["en", "en-US", "ko", "de-CH-1996", "x" * 63]


def cases():
    for text in TEXTS:
        yield "en", text
    for length in LENGTHS:
        yield "en", "x" * length
    # The same limits with characters of two, three and four bytes, the last one over the limit.
    for character in ("é", "字", "🥫"):
        size = len(character.encode())
        for most in (252, 252 + size):
            count = most // size
            yield "en", character * count + "x" * (most - count * size)
    for language in LANGUAGES[1:]:
        most = 255 - 1 - len(language)
        for length in (0, 5, most, most + 1):
            yield language, "y" * length
        yield language, "두유"
    yield "en", "z" * 2025


def main():
    with open(HERE / "ndef.tsv", "w", encoding="utf-8") as f:
        f.write(f"# Made by make-ndef.py with ndeflib {importlib.metadata.version('ndeflib')}.\n")
        f.write("# language\ttext\tmessage\n")
        for language, text in cases():
            message = b"".join(ndef.message_encoder([ndef.TextRecord(text, language)]))
            f.write(f"{language}\t{text.encode().hex()}\t{message.hex()}\n")


main()
