"""The table against pint, and properties that hold for every unit and every text."""

import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from random import Random
from typing import Any

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

import swaplint.units.table as table
from swaplint.units import KINDS, Kind, UnitError, read, read_tolerance, to_unit
from swaplint.units.registry import BASE_UNITS, table_text, trade_units, unit_in_full
from swaplint.units.table import TABLE

PINT: Any = pint.UnitRegistry()  # in floats, unlike the one that wrote the table
UNITS = trade_units()


def pint_value(expression: str, number: float = 1.0) -> tuple[float, dict[str, int]]:
    if expression.isidentifier():
        quantity = PINT.Quantity(number, expression)
    else:
        quantity = number * PINT.Quantity(1.0, "dimensionless") * PINT.parse_expression(expression)
    base = quantity.to_base_units()
    return float(base.magnitude), {name: int(power) for name, power in base.unit_items() if name != "count"}


@pytest.mark.parametrize("token", sorted(TABLE))
def test_entry_equals_pint(token: str) -> None:
    factor, offset, dimension = TABLE[token]
    one, units = pint_value(UNITS[token])
    assert factor + offset == pytest.approx(one, rel=1e-12)
    assert units == {name: power for name, power in zip(BASE_UNITS, dimension, strict=True) if power}
    if offset:
        assert offset == pytest.approx(pint_value(UNITS[token], 0.0)[0], rel=1e-12)


def test_table_is_what_the_registry_writes() -> None:
    assert Path(table.__file__).read_text(encoding="utf-8") == table_text()


def kinds_of(token: str) -> list[Kind]:
    _, offset, dimension = TABLE[token]
    return [
        kind
        for kind in KINDS.values()
        if kind.dimension == dimension and token not in kind.refused and (not offset or kind.name == "temperature")
    ]


ORIGIN_TOKENS = {"psig", "psia", "psid", "barg", "bara", "mbarg", "mbara"}
SLIPS = {"Mm", "Mg", "Ms", "ML", "Ml", "MA", "MV", "MN", "Mbar"}
PAIRS = [
    (token, kind)
    for token in sorted(TABLE)
    if token not in ORIGIN_TOKENS | SLIPS and not token[0].isdigit()  # `100 km` stands below the line only
    for kind in kinds_of(token)
    if token.lower() not in kind.hints
]


PARTS_ONLY = {"B", "kB", "MB", "bit", "bits", "kbit", "Mbit", "kilobit", "kilobits", "megabit", "megabits",
              "pp", "percentage point", "percentage points", "F", "C"}  # fmt: skip


def test_every_unit_is_used() -> None:
    """A unit that no kind takes by itself is a part of others, or is refused with a hint."""
    alone = {token for token, _ in PAIRS}
    rest = {token for token in set(TABLE) - alone - ORIGIN_TOKENS - SLIPS if not token[0].isdigit()}
    assert rest <= PARTS_ONLY


def number_texts() -> st.SearchStrategy[tuple[str, float]]:
    """Every way of writing a number, with what it is worth."""
    whole = st.integers(1, 9_999_999)
    fraction = st.tuples(st.integers(0, 99), st.integers(1, 63)).map(lambda pair: (*pair, 64))
    return st.one_of(
        whole.map(lambda n: (str(n), float(n))),
        whole.map(lambda n: (f"{n:,}", float(n))),
        st.floats(1e-6, 1e9).map(lambda x: (repr(x), x)),
        st.floats(1e-6, 1e9).map(lambda x: (f"{x:.15e}", float(f"{x:.15e}"))),
        fraction.map(lambda f: (f"{f[1]}/{f[2]}", f[1] / f[2])),
        fraction.map(lambda f: (f"{f[0]} {f[1]}/{f[2]}", f[0] + f[1] / f[2])),
        fraction.map(lambda f: (f"{f[0]}-{f[1]}/{f[2]}", f[0] + f[1] / f[2])),
    )


@settings(max_examples=300, deadline=None)
@given(number=number_texts(), pair=st.sampled_from(PAIRS), space=st.sampled_from(["", " ", "\u00a0", "\u202f", "  "]))
def test_every_number_in_every_unit_is_pints(number: tuple[str, float], pair: tuple[str, Kind], space: str) -> None:
    (text, value), (token, kind) = number, pair
    assert read(text + space + token, kind) == pytest.approx(pint_value(UNITS[token], value)[0], rel=1e-12)


@settings(max_examples=150, deadline=None)
@given(value=st.floats(1e-3, 1e6), first=st.sampled_from(PAIRS), pick=st.randoms(use_true_random=False))
def test_a_value_does_not_depend_on_its_unit(value: float, first: tuple[str, Kind], pick: Random) -> None:
    token, kind = first
    others = [other for other, its_kind in PAIRS if its_kind is kind]
    other = pick.choice(others)
    si = read(f"{value!r} {token}", kind)
    again = read(f"{to_unit(si, other, kind)!r} {other}", kind, signed=True)
    assert again == pytest.approx(si, rel=1e-12)


WORDS = st.sampled_from([*TABLE, *list("015eE.,/-+*^()²³⁻¹·\u200b\u00a0"), "12", "1/2", "1,000", "4,5", "1e5", "**",
                         "AWG", "per", "furlong", "nan", "inf"])  # fmt: skip
TEXTS = st.one_of(
    st.text(max_size=120),
    st.text(alphabet="0123456789,./-+eE ()^*·²³⁻¹°µΩ\"'kKmMgGNPasSlLbinft%", max_size=60),
    st.lists(WORDS, max_size=8).map("".join),
    st.lists(WORDS, max_size=8).map(" ".join),
    st.tuples(number_texts(), st.text(max_size=20)).map(lambda pair: f"{pair[0][0]} {pair[1]}"),
)


@settings(max_examples=400, deadline=None)
@given(text=TEXTS, name=st.sampled_from(sorted(KINDS)))
def test_any_text_is_a_finite_value_or_a_sentence(text: str, name: str) -> None:
    kind = KINDS[name]
    start = time.process_time()
    uses: list[Callable[[], float]] = [
        lambda: read(text, kind, signed=True),
        lambda: read_tolerance(text, kind, 1.0),
    ]
    for use in uses:
        value, refusal = 0.0, ""
        try:
            value = use()
        except UnitError as refused:
            refusal = str(refused)
        assert abs(value) <= 1e31
        assert refusal == "" or (refusal.isprintable() and kind.words in refusal and len(refusal) < 500)
    assert time.process_time() - start < 1.0  # the first unknown name of a run imports pint


@pytest.mark.parametrize(
    "text",
    [
        "1" * 10**6,
        "9**" * 10**5,
        "1 " + "m/" * 10**5,
        "1," * 10**5,
        "(" * 10**5,
        "1 1/" * 10**5,
        " " * 10**6,
        "é" * 10**6,
    ],
)
def test_long_texts_are_refused_at_once(text: str) -> None:
    start = time.process_time()
    with pytest.raises(UnitError, match="characters long"):
        read(text, KINDS["mass"])
    assert time.process_time() - start < 0.1


def test_hostile_units_of_full_length() -> None:
    start = time.process_time()
    for text in (
        "1 " + "m " * 49,
        "1 " + "pt-" * 32,
        "1 " + "M/" * 49,
        "1 " + "x" * 98,
        "1" * 99 + "x",
        "1 " * 50,
        "1-" * 50,
    ):
        with pytest.raises(UnitError):
            read(text, KINDS["volume"])
    assert time.process_time() - start < 0.5


@pytest.mark.parametrize(
    "name",
    [
        "petasiemens",
        "megafonzie",
        "decibel",
        "degree_reaumur",
        "__class__",
        "ton",
        "tons",
        "pint",
        "month",
        "",
        "kilofurlong",
    ],
)
def test_pint_is_not_asked_to_guess(name: str) -> None:
    assert unit_in_full(name) is None


def test_reading_needs_neither_pint_nor_pydantic() -> None:
    """Nor does a mistyped unit, unless it might be a name in full."""
    code = (
        "import sys; from swaplint.units import KINDS, read, UnitError\n"
        "read('260 lb-ft', KINDS['torque']); read('2/0 AWG', KINDS['conductor'])\n"
        "try: read('5 kgg', KINDS['mass'])\n"
        "except UnitError: pass\n"
        "else: raise SystemExit('5 kgg was read')\n"
        "print({'pint', 'pydantic', 'numpy'} & set(sys.modules))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert (done.stdout, done.stderr) == ("set()\n", "")
