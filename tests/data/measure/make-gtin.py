#!/usr/bin/env python3
"""Asks reference libraries what they make of product codes, and writes their answers as `gtin.tsv`.

To install (Python 3.11):

    python3 -m venv VENV
    VENV/bin/pip install python-stdnum==2.2 biip==5.2.0

To run: `VENV/bin/python make-gtin.py`. It writes gtin.tsv beside it; `tests/measure_codes.rs` compares it with what this
crate makes of the same. The table holds what a library returned, right or wrong: never edit it by hand. The numbers are
the published examples below and others drawn by chance.
"""
import importlib.metadata
import pathlib
import random

from biip import ParseError
from biip.gtin import Gtin
from biip.rcn import Rcn
from biip.upc import Upc
from stdnum import ean
from stdnum.exceptions import ValidationError

HERE = pathlib.Path(__file__).resolve().parent
SAMPLE = random.Random(20261127)
PUBLISHED = ["6291041500213", "6291041500214", "036000291452", "96385074", "201234105992", "09506000134352"]
PUBLISHED_UPC_E = ["04252614"]
PREFIXES = ["02", "04", "20", "29", "03", "05", "19", "30", "00000", "000000", "0000000", "00001", "0"]


def drawn(length):
    return "".join(SAMPLE.choice("0123456789") for _ in range(length))


def with_check_digit(payload):
    return payload + ean.calc_check_digit(payload)


def numbers():
    yield from PUBLISHED
    for length in (8, 12, 13, 14):
        right = [with_check_digit(drawn(length - 1)) for _ in range(25)]
        yield from right
        for number in right[:8]:
            at = SAMPLE.randrange(length)
            other = SAMPLE.choice([d for d in "0123456789" if d != number[at]])
            yield number[:at] + other + number[at + 1:]
        for number in right[8:12]:
            at = SAMPLE.randrange(length - 1)
            yield number[:at] + number[at + 1] + number[at] + number[at + 2:]
        for number in right[12:14]:
            yield number[:3] + "x" + number[4:]
    for length in (8, 12, 13, 14):
        for prefix in PREFIXES:
            yield with_check_digit(prefix + drawn(length - 1 - len(prefix)))
    for first in "0123456789":
        yield with_check_digit(first + drawn(6))
    for length in (1, 6, 7, 9, 10, 11, 15, 18):
        yield drawn(length)


def shortened():
    yield from PUBLISHED_UPC_E
    for system in "012":
        for last in "0123456789":
            for _ in range(3):
                six = drawn(5) + last
                # The library makes the check digit; for another number system than 0 and 1 any will do.
                check = Upc.parse(f"{system}{six}").check_digit if system in "01" else 0
                yield f"{system}{six}{check}"
            yield f"{system}{six}{(check + 1) % 10}"
    yield from ["0425261", "425261", "042526144", "0425261x"]


def stdnum_of(number):
    try:
        return ean.validate(number).zfill(14)
    except ValidationError as wrong:
        return type(wrong).__name__


def biip_of(parse, number):
    """The GTIN-14, and whether it is for restricted circulation."""
    try:
        gtin = Gtin.parse(parse(number))
    except ParseError:
        return "error", "-"
    return gtin.as_gtin_14(), "restricted" if isinstance(gtin, Rcn) else "free"


def main():
    rows = [("number", n, stdnum_of(n), *biip_of(str, n)) for n in numbers()]
    rows += [("upc-e", n, "-", *biip_of(expanded, n)) for n in shortened()]
    versions = ", ".join(f"{p} {importlib.metadata.version(p)}" for p in ("python-stdnum", "biip"))
    with open(HERE / "gtin.tsv", "w", encoding="utf-8") as f:
        f.write(f"# Made by make-gtin.py with {versions}.\n")
        f.write("# read as\tcode\tstdnum\tbiip\tbiip: circulation\n")
        for row in rows:
            f.write("\t".join(row) + "\n")


def expanded(number):
    # biip also takes UPC-E with fewer digits, and what is UPC-A.
    if len(number) != 8:
        raise ParseError("not all the digits of a UPC-E")
    return Upc.parse(number).as_upc_a()


main()
