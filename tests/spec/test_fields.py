"""Values as a spec states them: what each type of field takes, and what it says to anything else."""

from __future__ import annotations

import datetime
import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from swaplint.spec.facts import FieldFacts, ListOf, nearest, number_text, shown_value
from swaplint.spec.model import Build
from swaplint.spec.shape import every_field
from swaplint.units import KINDS

MASS = FieldFacts("measure", "mass", KINDS["mass"], "kg", 1810, (500, 40000), "a weighbridge")
WARMTH = FieldFacts("measure", "warmth", KINDS["temperature"], "degC", 40, (10, 60), signed=True)
RATIO = FieldFacts("number", "ratio", typical=4.1, plausible=(1, 15))
COUNT = FieldFacts("count", "cylinders", typical=4, plausible=(1, 16))
FLAG = FieldFacts("flag", "fitted", typical=True)
WORD = FieldFacts("word", "kind", typical="manual", options=("manual", "automatic"))
TEXT = FieldFacts("text", "name", typical="example")
DATE = FieldFacts("date", "date", typical="2026-01-31")


def refusal(facts: FieldFacts | ListOf, raw: Any) -> str:
    with pytest.raises(ValueError, match=r".") as caught:
        facts.read(raw)
    return str(caught.value)


# -- what is taken --------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("facts", "raw", "value"),
    [
        (MASS, "1810 kg", 1810.0),
        (MASS, "1 t", 1000.0),
        (WARMTH, "-15 degC", 258.15),
        (RATIO, 4, 4.0),
        (RATIO, 4.88, 4.88),
        (COUNT, 6, 6.0),
        (COUNT, 6.0, 6.0),
        (FLAG, False, False),
        (WORD, "automatic", "automatic"),
        (TEXT, "any text, 'quoted' – ü", "any text, 'quoted' – ü"),
        (DATE, datetime.date(2026, 1, 31), "2026-01-31"),
        (DATE, "2026-01-31", "2026-01-31"),
    ],
)
def test_value_is_read(facts: FieldFacts, raw: Any, value: Any) -> None:
    stated = facts.read(raw)
    assert stated.value == value
    assert type(stated.value) is type(value)
    assert (stated.tol, stated.basis) == (0.0, None)


@pytest.mark.parametrize(
    ("facts", "value", "tol", "width"),
    [
        (MASS, "1810 kg", "3 %", 54.3),
        (MASS, "1810 kg", "50 kg", 50.0),
        (MASS, "1810 kg", "0 kg", 0.0),
        (WARMTH, "40 degC", "5 K", 5.0),
        (WARMTH, "104 degF", "9 degF", None),  # a temperature where a step belongs
        (RATIO, 4.0, "2 %", 0.08),
        (RATIO, 4.0, 0.05, 0.05),
        (COUNT, 10, 1, 1.0),
    ],
)
def test_tolerance(facts: FieldFacts, value: Any, tol: Any, width: float | None) -> None:
    raw = {"value": value, "tol": tol, "basis": "assumed"}
    if width is None:
        assert "tol" in refusal(facts, raw)
        return
    stated = facts.read(raw)
    assert stated.tol == pytest.approx(width, rel=1e-12)
    assert stated.basis == "assumed"


@pytest.mark.parametrize("basis", ["assumed", "catalogue", "calculated", "measured"])
def test_basis(basis: str) -> None:
    assert MASS.read({"value": "1 kg", "basis": basis}).basis == basis


# -- what is refused ------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("facts", "raw", "parts"),
    [
        (MASS, 1810, ["1810 has no unit", "a mass", '"1810 kg"']),
        (MASS, 1810.5, ["no unit", '"1810 kg"']),
        (MASS, True, ["a mass with its unit", "True"]),
        (MASS, ["1 kg"], ["a mass with its unit"]),
        (MASS, "1810", ["no unit", "1810 kg"]),
        (MASS, "1810 mm", ["a mass", "1810 kg"]),
        (MASS, "1810 kgg", ["1810 kgg", "1810 kg"]),
        (MASS, "-5 kg", ["negative"]),
        (MASS, "0 kg", ["zero"]),
        (MASS, "nan kg", ["finite"]),
        (MASS, "1e400 kg", ["too large"]),
        (MASS, {}, ["value, tol and basis"]),
        (MASS, {"value": "1 kg", "tolerance": "1 %"}, ["value, tol and basis"]),
        (MASS, {"value": "1 kg", "basis": "guessed"}, ["guessed", "assumed, catalogue, calculated, measured"]),
        (MASS, {"value": "1 kg", "basis": ["assumed"]}, ["basis"]),
        (MASS, {"value": "1 kg", "tol": 3}, ["tol"]),
        (MASS, {"value": "1 kg", "tol": "3 mm"}, ["tol"]),
        (MASS, {"value": "1 kg", "tol": "-1 %"}, ["tol", "negative"]),
        (MASS, {"value": {"value": "1 kg"}}, ["a mass with its unit"]),
        (RATIO, "4.1", ["a number without a unit", "4.1"]),
        (RATIO, -4.1, ["negative"]),
        (RATIO, 0.0, ["zero"]),
        (RATIO, math.nan, ["number"]),
        (RATIO, math.inf, ["number"]),
        (RATIO, 9e299, ["9e+299 is too large or too small for any build"]),
        (RATIO, 1e-40, ["too small"]),
        (COUNT, 10**31, ["too large"]),
        (MASS, "1e31 kg", ["too large"]),
        (RATIO, True, ["number"]),
        (RATIO, {"value": 4.1, "tol": "1 kg"}, ["tol"]),
        (RATIO, {"value": 4.1, "tol": "3 pp"}, ["tol"]),
        (RATIO, {"value": 4.1, "tol": math.nan}, ["tol"]),
        (RATIO, {"value": 4.1, "tol": -1}, ["tol"]),
        (RATIO, {"value": 4.1, "tol": 1e31}, ["tol"]),
        (COUNT, 4.5, ["whole number"]),
        (FLAG, "yes", ["true or false"]),
        (FLAG, 1, ["true or false"]),
        (FLAG, {"value": True}, ["true or false, not a table"]),
        (WORD, "Manual", ["manual, automatic", "did you mean 'manual'?"]),
        (WORD, "automtic", ["did you mean 'automatic'?"]),
        (WORD, 3, ["one of manual, automatic"]),
        (TEXT, 3, ["a text"]),
        (TEXT, "x" * 501, ["500"]),
        (TEXT, "\x1b[31mred", ["control characters"]),
        (DATE, "31.1.2026", ["year-month-day", "2026-01-31"]),
        (DATE, datetime.datetime(2026, 1, 31, 12), ["year-month-day"]),
        (DATE, 20260131, ["year-month-day"]),
    ],
)
def test_refusal_says_what_the_field_takes(facts: FieldFacts, raw: Any, parts: list[str]) -> None:
    sentence = refusal(facts, raw)
    for piece in parts:
        assert piece in sentence
    assert len(sentence) < 400


HUGE = int("f" * 6000, 16)  # longer than Python turns into decimal text


@pytest.mark.parametrize("facts", [MASS, RATIO, COUNT, FLAG, WORD, TEXT, DATE])
@pytest.mark.parametrize("wrap", [lambda v: v, lambda v: {"value": v}, lambda v: {"value": 1, "tol": v}, lambda v: [v]])
def test_an_integer_of_thousands_of_digits_is_refused_in_words(facts: FieldFacts, wrap: Any) -> None:
    assert "set_int_max_str_digits" not in refusal(facts, wrap(HUGE))


@given(st.text(max_size=200))
def test_hostile_text_is_shown_short_and_harmless(text: str) -> None:
    shown = shown_value(text)
    assert shown.isprintable()
    assert len(shown) <= 62


@pytest.mark.parametrize(
    "text", ["\x1b[2J", "a\u202eb", "\u2066x", "\x9b31m", "a\nb", "\ud800", "\x00", "\u2028", "\x07"]
)
def test_steering_characters_never_come_back(text: str) -> None:
    for facts in (MASS, WORD, DATE, FLAG, RATIO):
        assert refusal(facts, text).isprintable()


def test_list_names_the_item() -> None:
    ratios = ListOf(RATIO)
    assert [s.value for s in ratios.read([4.0, 2])] == [4.0, 2.0]
    assert "item 2: " in refusal(ratios, [4.0, "2.5"])
    assert "a list, like [4.1]" in refusal(ratios, 4.0)


# -- the facts of the model itself ------------------------------------------------------------------------------------
FIELDS = list(every_field(Build))


def test_a_list_of_values_has_one_at_least_and_a_list_of_names_may_have_none() -> None:
    ratio, name = (FieldFacts(type, "x", typical=typical) for type, typical in (("number", 3.5), ("text", "x")))
    with pytest.raises(ValueError, match=r"is an empty list; leave the field out .* like \[3\.5\]"):
        ListOf(ratio).read([])
    assert ListOf(name).read([]) == []


def test_every_field_reads_its_own_example_and_its_typical_value_is_plausible() -> None:
    import tomllib

    assert len(FIELDS) > 100
    for path, member in FIELDS:
        facts = member.facts
        assert facts is not None, path
        assert member.description, path
        assert facts.where, path
        stated = facts.read(tomllib.loads(f"x = {facts.example()}")["x"])
        typical = facts.typical_value()
        if isinstance(typical, float):
            assert stated.value == pytest.approx(typical, rel=1e-11), path
            bounds = facts.plausible_si()
            assert bounds is None or bounds[0] <= typical <= bounds[1], path
        else:
            assert stated.value == typical, path
        for size in facts.series:
            facts.read(size if facts.type != "measure" else size if isinstance(size, str) else f"{size} {facts.unit}")


# -- words ------------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("word", "known", "near"),
    [
        ("gearbx", ["gearbox", "transfer"], "gearbox"),
        ("Gearbox", ["gearbox", "transfer"], "gearbox"),
        ("GEARBOX", ["gearbox", "transfer"], "gearbox"),
        ("speed-limiter", ["speed_limiter", "speedometer"], "speed_limiter"),
        ("speedLimiter", ["speed_limiter", "speedometer"], "speed_limiter"),
        ("SPEED-LIMITER", ["speed_limiter", "speedometer"], "speed_limiter"),
        ("zzz", ["gearbox"], None),
        ("", ["gearbox"], None),
        ("x" * 100_000, ["gearbox"], None),
    ],
)
def test_nearest_known_word(word: str, known: list[str], near: str | None) -> None:
    assert nearest(word, known) == near


def test_number_text() -> None:
    assert [number_text(n) for n in (4.0, 0.35, 1e-7, 1234567.0)] == ["4", "0.35", "1e-07", "1234567"]
