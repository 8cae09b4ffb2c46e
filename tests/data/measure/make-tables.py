#!/usr/bin/env python3
"""Asks reference libraries what they make of numbers, dates and units, and writes their answers as tables.

To install (Python 3.11):

    python3 -m venv VENV
    VENV/bin/pip install num2words==0.5.14 text2num==3.1.0 word2number==1.1 dateparser==1.5.0 \\
        python-dateutil==4.0.0 parsedatetime==2.6 Pint==0.25.3 python-stdnum==2.2 biip==5.2.0

To run: `VENV/bin/python make-tables.py`. It writes the .tsv files beside it; `tests/measure_libraries.rs` compares them with
what this crate makes of the same, and lists with their reasons the cases where it does something else.

A table holds what a library returned, right or wrong: never edit one by hand. `gs1-dates.tsv` depends on the year in which
it is made, because the century of a two-figure year does.
"""
import calendar
import datetime
import importlib.metadata
import pathlib
import random
from fractions import Fraction

import dateparser
import parsedatetime
import pint
from biip.gs1_messages import GS1Message
from dateutil import parser as dateutil_parser
from dateutil.relativedelta import FR, MO, SA, SU, TH, TU, WE, relativedelta
from num2words import num2words
from stdnum import gs1_128
from text_to_num import alpha2digit, text2num
from word2number import w2n

HERE = pathlib.Path(__file__).resolve().parent
TODAY = datetime.date.today().isoformat()
SEED = 20261125


def write(name, packages, columns, rows):
    with_versions = ", ".join(f"{p} {importlib.metadata.version(p)}" for p in packages)
    with open(HERE / name, "w", encoding="utf-8") as f:
        f.write(f"# Made by make-tables.py with {with_versions or 'the standard library of Python'} on {TODAY}.\n")
        f.write("# " + "\t".join(columns) + "\n")
        for row in rows:
            f.write("\t".join(str(cell) for cell in row) + "\n")


def tried(call, *wrong):
    """What a library returns, or "error": how it fails doesn't matter here."""
    try:
        answer = call()
    except Exception:
        return "error"
    return "none" if answer is None else answer


# ---- numbers ------------------------------------------------------------------------------------------------------------

def numbers_out():
    sample = random.Random(SEED)
    numbers = list(range(0, 1001)) + sorted(sample.sample(range(1001, 1_000_000), 1200)) + [1_000_000]
    rows = [(n, num2words(n), num2words(n, to="ordinal")) for n in numbers]
    write("numbers-num2words.tsv", ["num2words"], ["number", "cardinal", "ordinal"], rows)
    years = [(y, num2words(y, to="year")) for y in range(1950, 2150)]
    write("years-num2words.tsv", ["num2words"], ["year", "words"], years)


KITCHEN_NUMBERS = """
zero|one|two|three|five|seven|ten|eleven|twelve|thirteen|fourteen|fifteen|nineteen|twenty|twenty one|twenty five|thirty
thirty two|forty|forty four|fifty|fifty five|sixty|sixty three|seventy|seventy eight|eighty|eighty six|ninety|ninety nine
a hundred|one hundred|one hundred five|one hundred and five|a hundred and twenty|two hundred|two hundred fifty
two hundred and fifty|three hundred|three hundred sixty five|five hundred|five hundred and one|seven hundred fifty
nine hundred ninety nine|a thousand|one thousand|one thousand one|one thousand and one|twelve hundred|fifteen hundred
twenty five hundred|two thousand|two thousand five hundred|ten thousand|one hundred thousand|a million|one million
one point five|one point two|two point five|three point one four|zero point five|point five|point seven five|oh point five
twenty five point five|one hundred point two|ten point zero five|half|a half|one half|a third|one third|two thirds|a quarter
one quarter|three quarters|three fourths|an eighth|one eighth|three eighths|five eighths|seven eighths|two fifths
one and a half|two and a half|three and a half|one and one half|one and a quarter|two and three quarters|one and two thirds
ten and a half|twelve and a quarter|a hundred and a half|a dozen|one dozen|two dozen|half a dozen|a half dozen
a dozen and a half|one and a half dozen|three dozen|a couple|a couple of|five oh three|one two three|two oh two|nine one one
four five|one oh one|three twenty five|twelve fifty|twenty twenty seven|twenty eleven|hundred|thousand|five hundred thousand
two hundred thousand and five|nine hundred thousand nine hundred|six hundred six|eight hundred and eight|forty one thousand
seventeen hundred|nineteen hundred and fifty|eleven hundred and one|sixty six|eighty eight|ninety five point two
"""


def numbers_in():
    words = [w for line in KITCHEN_NUMBERS.strip().splitlines() for w in line.split("|")]
    rows = []
    for phrase in words:
        rows.append((phrase, tried(lambda: text2num(phrase, "en")), tried(lambda: alpha2digit(phrase, "en")),
                     tried(lambda: w2n.word_to_num(phrase))))
    write("numbers-read.tsv", ["text2num", "word2number"], ["words", "text2num", "alpha2digit", "word2number"], rows)


# ---- dates --------------------------------------------------------------------------------------------------------------

MONTHS = [m.lower() for m in calendar.month_name[1:]]
ORDINALS = ["first", "second", "third", "fourth", "fifth", "eighth", "tenth", "twelfth", "fifteenth", "twentieth",
            "twenty first", "thirtieth"]


def phrases():
    yield from ["today", "tomorrow", "yesterday", "day after tomorrow", "the day after tomorrow",
                "the day before yesterday", "in three days", "in 3 days", "in a week", "in two weeks", "in a month",
                "in 6 months", "in two months", "in a year", "two weeks from today", "two weeks from now",
                "three days ago", "3 days ago", "a week ago", "two weeks ago", "a month ago", "6 months ago",
                "a year ago", "friday", "this friday", "next friday", "last friday", "on friday", "monday",
                "next monday", "last monday", "wednesday", "a week from friday", "two weeks from friday",
                "a week from today", "a week from tomorrow", "end of the month", "the end of the month",
                "end of next month", "end of march", "end of the year", "the first of next month",
                "the first of the month", "the fifteenth", "the third", "15th", "february 29", "february 30",
                "june 31", "april 31", "september 31", "02/30/2027", "02/29/2028", "ten fifteen", "march", "soon",
                "next week", "early march", "03/04", "10/15", "15/10", "12/3", "10/15/2027", "03/04/2027",
                "3/4/27", "13/1/2027", "2027-03-04", "2026-12-03", "friday december 4", "friday, december 4, 2026",
                "thursday december 4", "december 25th", "march 2027", "february 2028", "march of 2027",
                "december third twenty twenty six", "march third two thousand twenty seven"]
    for number, month in enumerate(MONTHS):
        day = 1 + (number * 7) % 28
        ordinal = ORDINALS[number]
        yield f"{month} {ordinal}"
        yield f"{ordinal} of {month}"
        yield f"{month} {day}"
        yield f"{day} {month}"
        yield f"{month[:3]} {day}"
        yield f"{month} {day}, 2027"
        yield f"{day} {month} 2028"
        yield f"the {day}{suffix(day)} of {month} 2029"
        yield f"{month} 2027"


def suffix(n):
    return "th" if 10 < n < 20 else {1: "st", 2: "nd", 3: "rd"}.get(n % 10, "th")


BASES = ["2026-11-25", "2026-12-31", "2027-01-01", "2028-02-29", "2026-03-10", "2027-02-27"]


def dates():
    machine = parsedatetime.Calendar()
    rows = []
    for base in BASES:
        start = datetime.datetime.fromisoformat(base + "T12:00")
        for phrase in phrases():
            def read(prefer):
                found = dateparser.parse(phrase, languages=["en"], settings={
                    "RELATIVE_BASE": start, "PREFER_DATES_FROM": prefer, "PREFER_DAY_OF_MONTH": "last",
                    "DATE_ORDER": "MDY"})
                return found and found.date()

            def parsed():
                found, status = machine.parseDT(phrase, sourceTime=start)
                return found.date() if status in (1, 3) else None

            rows.append((base, phrase, tried(lambda: read("future")), tried(lambda: read("past")),
                         tried(lambda: dateutil_parser.parse(phrase, default=start).date()), tried(parsed)))
    write("dates.tsv", ["dateparser", "python-dateutil", "parsedatetime"],
          ["base", "phrase", "dateparser, future", "dateparser, past", "dateutil", "parsedatetime"], rows)


def arithmetic():
    sample = random.Random(SEED)
    first = datetime.date(2020, 1, 1).toordinal()
    days = [datetime.date.fromordinal(first + sample.randrange(12 * 365)) for _ in range(300)]
    days += [datetime.date(y, m, calendar.monthrange(y, m)[1]) for y in (2026, 2028) for m in range(1, 13)]
    rows = []
    for day in days:
        months = sample.randrange(1, 40)
        rows.append((day, months, day + relativedelta(months=months), day - relativedelta(months=months)))
    write("months-dateutil.tsv", ["python-dateutil"], ["day", "months", "after them", "before them"], rows)
    names = {"monday": MO, "tuesday": TU, "wednesday": WE, "thursday": TH, "friday": FR, "saturday": SA, "sunday": SU}
    rows = []
    for day in days[:60]:
        for name, weekday in names.items():
            after = day + relativedelta(days=1, weekday=weekday(1))
            before = day - relativedelta(days=1) + relativedelta(weekday=weekday(-1))
            rows.append((day, name, after, before))
    write("weekdays-dateutil.tsv", ["python-dateutil"], ["day", "weekday", "the next", "the last"], rows)


def gs1():
    sample = random.Random(SEED)
    codes = [f"{y:02}{m:02}00" for y in (24, 27, 28, 0) for m in range(1, 13)]
    codes += [f"{y:02}0615" for y in (0, 1, 25, 26, 27, 49, 50, 51, 74, 75, 76, 77, 78, 99)]
    codes += [f"{sample.randrange(100):02}{sample.randrange(1, 13):02}{sample.randrange(1, 32):02}" for _ in range(250)]
    codes += ["260230", "261301", "260431", "270229", "260001", "260132", "999999"]
    rows = []
    for code in codes:
        rows.append((code, tried(lambda: gs1_128.info("(17)" + code)["17"]),
                     tried(lambda: GS1Message.parse("17" + code).element_strings[0].date)))
    write("gs1-dates.tsv", ["python-stdnum", "biip"], ["YYMMDD", "stdnum", "biip"], rows)


def day_of_year():
    rows = []
    for year in (2025, 2026, 2027, 2028):
        for number in list(range(1, 366, 7)) + [59, 60, 61, 329, 364, 365, 366]:
            rows.append((year, number, tried(lambda: datetime.datetime.strptime(f"{year} {number:03}", "%Y %j").date())))
    write("day-of-year.tsv", [], ["year", "day of the year", "date"], rows)


# ---- units --------------------------------------------------------------------------------------------------------------

def units():
    registry = pint.UnitRegistry(non_int_type=Fraction)
    rows = []
    for family in (["milligram", "gram", "kilogram", "ounce", "pound"],
                   ["milliliter", "liter", "teaspoon", "tablespoon", "fluid_ounce", "cup", "pint", "quart", "gallon"]):
        for one in family:
            for other in family:
                ratio = registry.Quantity(Fraction(1), one).to(other).magnitude
                assert isinstance(ratio, Fraction), (one, other, ratio)
                rows.append((one, other, f"{ratio.numerator}/{ratio.denominator}"))
    write("units-pint.tsv", ["Pint"], ["unit", "in", "exactly"], rows)


if __name__ == "__main__":
    numbers_out()
    numbers_in()
    dates()
    arithmetic()
    gs1()
    day_of_year()
    units()
