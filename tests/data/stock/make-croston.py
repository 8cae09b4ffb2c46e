#!/usr/bin/env python3
"""Asks statsforecast what it forecasts for intermittent series, and SciPy for quantiles of the gamma distribution.

To install (Python 3.11):

    python3 -m venv VENV
    VENV/bin/pip install statsforecast==2.1.1 numpy==2.4.6 scipy==1.17.1

To run: `VENV/bin/python make-croston.py`. It writes `croston.tsv` and `gamma.tsv` beside it; `tests/stock_forecast.rs` and
`src/stock/forecast.rs` compare them with what this crate makes of the same. Both libraries are free software
(statsforecast: Apache-2.0, SciPy: BSD-3-Clause); only their answers stand here. Never edit a table by hand.
"""
import importlib.metadata
import pathlib
import random

import numpy
from scipy.stats import gamma
from statsforecast.models import TSB, CrostonClassic, CrostonSBA

HERE = pathlib.Path(__file__).resolve().parent
SEED = 1972
# CrostonClassic and CrostonSBA have it fixed.
ALPHA = 0.1


def write(name, package, note, columns, rows):
    with open(HERE / name, "w", encoding="utf-8") as f:
        f.write(f"# Made by make-croston.py with {package} {importlib.metadata.version(package)}{note}.\n")
        f.write("# " + "\t".join(columns) + "\n")
        for row in rows:
            f.write("\t".join(str(cell) for cell in row) + "\n")


def series():
    # The monthly sales of a lubricant that stand as an example of Croston's method in R. J. Hyndman and G. Athanasopoulos,
    # Forecasting: Principles and Practice, 2nd edition, section 12.2 (there `productC`).
    yield "lubricant", [0, 2, 0, 1, 0, 11, 0, 0, 0, 0, 2, 0, 6, 3, 0, 0, 0, 0, 0, 7, 0, 0, 0, 0, 0, 0, 0, 3, 1, 0, 0, 1, 0, 1, 0, 0]
    yield "every day", [3] * 10
    yield "every other day", [0, 2] * 8
    yield "once", [0, 0, 0, 5, 0, 0]
    yield "on the first day only", [4, 0, 0, 0]
    yield "on the last day only", [0, 0, 0, 0.75]
    yield "no longer", [1, 0, 2, 1] + [0] * 60
    yield "never", [0] * 7
    draw = random.Random(SEED)
    kinds = [
        ("whole", lambda: draw.randint(1, 4)),
        ("spoons", lambda: draw.choice([0.25, 0.5, 1, 1.5])),
        ("grams", lambda: round(draw.uniform(5, 900), 1)),
        ("anything", lambda: draw.lognormvariate(0, 2)),
    ]
    for kind, size in kinds:
        for chance in (0.02, 0.1, 0.3, 0.5, 0.9):
            days = draw.randint(60, 240)
            yield f"{kind}, {chance}", [size() if draw.random() < chance else 0 for _ in range(days)]


def forecast(model, values):
    return repr(float(model.forecast(y=numpy.array(values, dtype=numpy.float64), h=1)["mean"][0]))


write(
    "croston.tsv",
    "statsforecast",
    f", alpha {ALPHA} (fixed, not optimised) throughout",
    ["series", "CrostonClassic", "CrostonSBA", "TSB", "used each day"],
    [
        [
            name,
            forecast(CrostonClassic(), values),
            forecast(CrostonSBA(), values),
            forecast(TSB(alpha_d=ALPHA, alpha_p=ALPHA), values),
            " ".join(repr(value) for value in values),
        ]
        for name, values in series()
    ],
)
write(
    "gamma.tsv",
    "scipy",
    ", of gamma distributions with the mean 1",
    ["shape", "10 % lie below", "90 % lie below"],
    [
        [shape, repr(float(gamma.ppf(0.1, shape, scale=1 / shape))), repr(float(gamma.ppf(0.9, shape, scale=1 / shape)))]
        for shape in (1, 1.5, 2, 3, 5, 10, 30, 100)
    ],
)
