"""Values as people type them: read where they have one meaning, else refused with the right way named."""

from __future__ import annotations

import re
import string
import time
from pathlib import Path

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from swaplint.spec.facts import FieldFacts
from swaplint.spec.loaded import SpecErrors
from swaplint.spec.loading import load_text
from swaplint.units import KINDS, UnitError, read, read_tolerance, to_unit
from swaplint.units.number import clear_decimals

IN = 0.0254


def says(text: str, kind: str) -> str:
    with pytest.raises(UnitError) as caught:
        read(text, KINDS[kind])
    message = str(caught.value)
    assert message.startswith(f'"{text[:20]}'), "what was found"
    assert f"this field takes {KINDS[kind].words} in " in message, "what is taken"
    assert message.endswith(f'for example "{KINDS[kind].example}"')
    return message.partition(": this field takes")[0]


# -- fractions -------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize("under", [2, 4, 8, 16, 32, 64])
def test_a_fraction_of_an_inch_is_a_number(under: int) -> None:
    for over in range(1, under):
        assert read(f"{over}/{under} in", KINDS["length"]) == pytest.approx(over / under * IN, rel=1e-12)
        assert read(f"3 {over}/{under} in", KINDS["length"]) == pytest.approx((3 + over / under) * IN, rel=1e-12)


@pytest.mark.parametrize(
    ("text", "kind", "words"),
    [
        ("20/30 deg", "angle", "may be 0.666667, or two values, 20 or 30"),
        ("12/14 A", "current", "may be 0.857143, or two values, 12 or 14"),
        ("8/10 mm", "length", "may be 0.8, or two values, 8 or 10"),
        ("96/130 L/h", "volume_flow", "may be 0.738462, or two values, 96 or 130"),
        ("5/4 in", "length", "may be 1.25, or two values, 5 or 4"),
        ("2/2 in", "length", "may be 1, or two values"),
        ("1/3 in", "length", "a fraction is a smaller number over 2, 4, 8, 16, 32 or 64"),
        ("1 3/7 in", "length", "may be 1.42857, or two values, 1 and 3 or 7"),
        ("10/100 kg", "mass", "two values, 10 or 100"),
        ("50/50 %", "share", "two values, 50 or 50"),
        ("0/5 kg", "mass", "two values, 0 or 5"),
        ("1 5/4 in", "length", "write 1 1/2 or 1.5"),
    ],
)
def test_two_numbers_with_a_stroke_are_asked_about(text: str, kind: str, words: str) -> None:
    assert words in says(text, kind)


def test_a_wire_gauge_is_no_fraction() -> None:
    for size in ("4/0", "3/0", "2/0", "1/0"):
        assert read(f"{size} AWG", KINDS["conductor"]) > 50e-6


# -- one mark and three digits ---------------------------------------------------------------------------------------
LEDGER = FieldFacts("measure", "mass of a part", KINDS["mass"], "kg", 40, (0.1, 3000))
GROSS = FieldFacts("measure", "gross rating", KINDS["mass"], "kg", 7500, (500, 40000))
TUBE = FieldFacts("measure", "tube", KINDS["length"], "mm", 57, (5, 200))
BASE = FieldFacts("measure", "wheelbase", KINDS["length"], "m", 3.2, (1, 9))
COLD = FieldFacts("measure", "temperature", KINDS["temperature"], "degC", 20, (-50, 2000), signed=True)


def refusal(facts: FieldFacts, text: str) -> str:
    with pytest.raises(ValueError, match=r".") as caught:
        facts.read(text)
    return str(caught.value)


@pytest.mark.parametrize(
    ("facts", "text", "small", "large"),
    [
        (LEDGER, "2.700 kg", "2.7 kg", "2700 kg"),
        (LEDGER, "2,700 kg", "2.7 kg", "2700 kg"),
        (LEDGER, "1.234 kg", "1.2340 kg", "1234 kg"),
        (LEDGER, "-1.500 kg", "", ""),
        (COLD, "1.500 degC", "1.5 degC", "1500 degC"),
    ],
)
def test_a_number_of_two_plausible_readings_is_refused_with_both(
    facts: FieldFacts, text: str, small: str, large: str
) -> None:
    message = refusal(facts, text)
    if not small:
        assert "is negative" in message
        return
    assert f"can be read in two ways, as {small} or as {large}: write the one that is meant" in message
    apart = float(facts.read(large).value) - float(facts.read(small).value)
    assert apart == pytest.approx(999.0 * float(small.split(" ")[0])), "each is read as it is suggested"


@pytest.mark.parametrize(
    ("facts", "text", "si"),
    [
        (GROSS, "7,500 kg", 7500.0),
        (GROSS, "4,000 lb", 4000 * 0.45359237),
        (TUBE, "2.125 in", 2.125 * IN),
        (TUBE, "50.800 mm", 0.0508),
        (BASE, "3.200 m", 3.2),
        (BASE, "3,200 mm", 3.2),
        (LEDGER, "0.125 kg", 0.125),
        (LEDGER, "2.70 kg", 2.7),
        (LEDGER, "2.7000 kg", 2.7),
        (LEDGER, "1,234.5 kg", 1234.5),
        (LEDGER, "1.234e1 kg", 12.34),
        (LEDGER, "1234.567 kg", 1234.567),
        (LEDGER, "2 700 kg", 2700.0),
    ],
)
def test_a_number_of_one_plausible_reading_is_read(facts: FieldFacts, text: str, si: float) -> None:
    assert facts.read(text).value == pytest.approx(si, rel=1e-12)


@pytest.mark.parametrize(
    ("facts", "text", "words"),
    [
        (TUBE, "57,150 mm", "has a comma where a decimal point belongs (write 57.15 mm)"),
        (TUBE, "9,525 mm", "has a comma where a decimal point belongs (write 9.5250 mm)"),
        (GROSS, "7.500 kg", "has a point between its thousands (write 7500 kg)"),
        (BASE, "3.200 mm", "has a point between its thousands (write 3200 mm)"),
    ],
)
def test_where_the_other_reading_is_the_plausible_one_it_is_suggested(facts: FieldFacts, text: str, words: str) -> None:
    assert words in refusal(facts, text)
    facts.read(words.partition("(write ")[2].rstrip(")"))


def test_a_tolerance_of_two_readings_is_asked_about_too() -> None:
    with pytest.raises(UnitError, match=r"as 1\.5 kg or as 1500 kg"):
        read_tolerance("1.500 kg", KINDS["mass"], 2000.0)
    assert read_tolerance("1.500 kg", KINDS["mass"], 100.0) == 1.5
    with pytest.raises(UnitError, match=r"write 1\.5 kg"):
        read_tolerance("1,500 kg", KINDS["mass"], 100.0)


def test_the_refusal_names_file_line_and_column() -> None:
    with pytest.raises(SpecErrors) as caught:
        load_text('[vehicle.mass]\ngvwr = "7500 kg"\n\n[vehicle.ledger.winch]\nmass = "1.250 kg"\n', label="my.toml")
    (error,) = caught.value.errors
    assert (error.file, error.line, error.column) == ("my.toml", 5, 8)
    assert "as 1.25 kg or as 1250 kg" in error.what


@given(st.floats(1e-3, 1e6))
def test_what_the_tool_writes_is_never_asked_about(number: float) -> None:
    text = clear_decimals(number)
    assert float(text) == pytest.approx(number, rel=1e-9)
    assert LEDGER.read(f"{text} kg").value == pytest.approx(number, rel=1e-9)


# -- units that mean two things, or nothing here ---------------------------------------------------------------------
@pytest.mark.parametrize(
    ("text", "kind", "words"),
    [
        ("250 kb/s", "bit_rate", "may be bits or bytes (write kbit/s or kB/s)"),
        ("250 Kb/s", "bit_rate", "write kbit/s or kB/s"),
        ("1 Mb/s", "bit_rate", "write Mbit/s or MB/s"),
        ("10 gal", "volume", "may be US or imperial (write US gal or imp gal)"),
        ("10 gallons", "volume", "write US gal or imp gal"),
        ("2 gph", "volume_flow", "write US gph or imp gph"),
        ("2 GPM", "volume_flow", "write US gpm or imp gpm"),
        ("2 gal/min", "volume_flow", "write US gal or imp gal"),
        ("4 gal/100 mi", "distance_consumption", "write US gal or imp gal"),
        ("6 qt", "volume", "write US qt or imp qt"),
        ("6 quarts", "volume", "write US qt or imp qt"),
        ("3 pt", "volume", "write US pt or imp pt"),
        ("3 pint", "volume", "write US pt or imp pt"),
        ("8 fl oz", "volume", "write US fl oz or imp fl oz"),
        ("100 kVA", "power", "volt-amperes"),
        ("100 V A", "power", "volt-amperes"),
        ("3 stone", "mass", "no workshop weighs (write kg or lb)"),
        ("3 cwt", "mass", "write kg or lb"),
        ("5 tons", "mass", "short ton"),
        ("120 CV", "power", "write PS"),
        ("120 ch", "power", "write PS"),
        ("29.92 Hg", "pressure", "write inHg or mmHg"),
        ("2 atü", "gauge_pressure", "write kgf/cm2"),
        ("4 ga", "conductor", "write AWG, or SAE"),
        ("28 mpg", "distance_consumption", "write L/100 km"),
    ],
)
def test_a_unit_that_may_mean_two_things_is_asked_about(text: str, kind: str, words: str) -> None:
    assert words in says(text, kind)


@pytest.mark.parametrize(
    ("text", "kind", "si"),
    [
        ("10 US gal", "volume", 37.85411784e-3),
        ("10 imp gal", "volume", 45.4609e-3),
        ("2 US gph", "volume_flow", 2 * 3.785411784e-3 / 3600),
        ("2 imp gpm", "volume_flow", 2 * 4.54609e-3 / 60),
        ("1500 KG", "mass", 1500.0),
        ("5 Kgs", "mass", 5.0),
        ("90 kmph", "speed", 25.0),
        ("200 mmWG", "pressure_difference", 200 * 9.80665),
        ("200 mm WC", "pressure_difference", 200 * 9.80665),
        ('5" H2O', "pressure_difference", 5 * 249.08891),
        ("5 inWG", "pressure_difference", 5 * 249.08891),
        ('20" Hg', "gauge_pressure", 20 * 3386.388640341),
        ("1800 U/min", "rotation", 188.495559215388),
        ("1800 tr/min", "rotation", 188.495559215388),
        ("1800 r.p.m.", "rotation", 188.495559215388),
        ("24 VDC", "voltage", 24.0),
        ("60 ltr", "volume", 0.06),
        ("300 cu. in.", "volume", 300 * IN**3),
        ("35 qmm", "conductor", 35e-6),
        ("3 mtrs", "length", 3.0),
        # signs
        ("–20 °C", "temperature", 253.15),
        ("−20 °C", "temperature", 253.15),
        ("‑20 °C", "temperature", 253.15),
        ("20 ℃", "temperature", 293.15),
        ("68 ℉", "temperature", 293.15),
        ("½ in", "length", IN / 2),
        ("1½ in", "length", 1.5 * IN),
        ("1 ⅜″", "length", 1.375 * IN),
        ("-¾ in", "length", -0.75 * IN),
        # as the tool prints them
        ("14 500 N", "force", 14500.0),
        ("14\u202f500 N", "force", 14500.0),
        ("1 234 567.5 Pa", "pressure", 1234567.5),
        ("67.43 mm²", "conductor", 67.43e-6),
        ("12.2 °F", "temperature", 262.15),
    ],
)
def test_what_has_one_meaning_is_read(text: str, kind: str, si: float) -> None:
    assert read(text, KINDS[kind], signed=True) == pytest.approx(si, rel=1e-9)


@pytest.mark.parametrize("text", ["2 AWG", "AWG 2", "AWG2", "awg-2", "AWG #2", "#2 AWG", "2AWG"])
def test_a_wire_gauge_is_read_however_it_is_written(text: str) -> None:
    # ASTM B258: d = 0.127 mm · 92^((36 − 2)/39) = 6.544 mm; π/4·d² = 33.63 mm²
    assert read(text, KINDS["conductor"]) == pytest.approx(33.63e-6, rel=1e-3)


@pytest.mark.parametrize("text", ["4 SAE", "SAE 4", "sae-4"])
def test_a_size_of_vehicle_cable_is_not_the_gauge_of_the_same_number(text: str) -> None:
    # SAE J1127 by a cable seller's table: 37 360 circular mils, 18.93 mm²; the gauge has 21.15 mm²
    assert read(text, KINDS["conductor"]) == pytest.approx(18.93e-6, rel=1e-3)
    assert read("4 AWG", KINDS["conductor"]) == pytest.approx(21.15e-6, rel=1e-3)


# -- what is no single value -----------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("text", "kind", "words"),
    [
        ("≈ 10 mm", "length", '{ value = "10 mm", tol = "5 %", basis = "assumed" }'),
        ("~10 mm", "length", '{ value = "10 mm", tol = "5 %", basis = "assumed" }'),
        ("ca. 10 mm", "length", '{ value = "10 mm", tol = "5 %", basis = "assumed" }'),
        ("10 mm approx.", "length", '{ value = "10 mm", tol = "5 %", basis = "assumed" }'),
        ("10 mm?", "length", '{ value = "10 mm", tol = "5 %", basis = "assumed" }'),
        ("± 5 kg", "mass", 'is a tolerance without a value (write { value = "1810 kg", tol = "5 kg" })'),
        ("10 ± 0.5 mm", "length", '{ value = "10 mm", tol = "0.5 mm" }'),
        ("10 mm +/- 5 %", "length", '{ value = "10 mm", tol = "5 %" }'),
        ("5-6 mm", "length", '{ value = "5.5 mm", tol = "0.5 mm" }'),
        ("5–6 mm", "length", '{ value = "5.5 mm", tol = "0.5 mm" }'),
        ("5..6 mm", "length", '{ value = "5.5 mm", tol = "0.5 mm" }'),
        ("5 to 6 mm", "length", '{ value = "5.5 mm", tol = "0.5 mm" }'),
        ("< 5 mm", "length", "is a limit and not a value"),
        ("5'3\"", "length", "is in feet and inches (write 63 in)"),
        ("5 ft 3 in", "length", "write 63 in"),
        ("5' 3 1/2\"", "length", "write 63.5 in"),
        ("4.27:1", "share", "is a ratio, a number without a unit (4.27)"),
        ("1:10", "grade", "is a ratio (write 10 %)"),
        ("1 in 10", "grade", "is a ratio (write 10 %)"),
        ("1'500 kg", "mass", "write 1500"),
        ("1_500 kg", "mass", "write 1500"),
        ("1.500.000 N", "force", "write 1500000"),
    ],
)
def test_the_right_way_is_named(text: str, kind: str, words: str) -> None:
    assert words in says(text, kind)


# -- any text at all -------------------------------------------------------------------------------------------------
SIGNS = "0123456789" * 3 + " .,/-–±≈½¼°'\"\u00a0²³·*:_%+~" + "kgmLNPahlbftincVAWsrevdKCFUS"


@given(st.text(alphabet=SIGNS, max_size=24), st.sampled_from(sorted(KINDS)))
@example("1.234 kg", "mass")
@example("1 234 567 890 N", "force")
@example("5'6\" 7'8\"", "length")
@example("± ± 5 mm", "length")
@example("1/" * 12, "length")
@example("-½ ½ in", "length")
@example("≈" * 24, "length")
@example("9" * 24 + ":1", "share")
@example("1e9:1e-9", "grade")
def test_any_text_is_a_value_that_prints_back_or_a_sentence(text: str, name: str) -> None:
    kind = KINDS[name]
    facts = FieldFacts("measure", "anything", kind, kind.units[0], 1, (0.001, 10000), signed=True)
    start, says, value = time.process_time(), "", 0.0
    try:
        value = float(facts.read(text).value)
    except ValueError as refused:
        says = str(refused)
    if says:
        assert len(says) > 20
        assert says.isprintable()
    else:
        unit = kind.units[0]
        again = read(f"{to_unit(value, unit, kind):.15g} {unit}", kind, signed=True)
        assert again == pytest.approx(value, rel=1e-12, abs=1e-300)
    assert time.process_time() - start < 0.05


@given(st.text(alphabet=string.printable + "½±–°µ", max_size=60))
def test_a_tolerance_is_read_or_refused_in_a_sentence(text: str) -> None:
    width, says = 0.0, ""
    try:
        width = read_tolerance(text, KINDS["length"], 1.0)
    except UnitError as refused:
        says = str(refused)
    assert width >= 0.0
    assert not says or "tolerance" in says


def test_the_contract_shows_each_of_these_in_its_own_words() -> None:
    """Nothing here is read by the tool's own way only: the typed words stand in the refusal, to be found again."""
    for text, kind in (("20/30 deg", "angle"), ("5 to 6 mm", "length"), ("10 gal", "volume")):
        assert re.search(re.escape(text), says(text, kind))


def test_examples_and_sheets_hold_no_value_that_is_asked_about() -> None:
    root = Path(__file__).parents[2] / "specs"
    marked = re.compile(r'"[1-9][0-9]{0,2}[.,][0-9]{3} [a-zA-Z]')
    assert [str(file) for file in root.rglob("*.toml") if marked.search(file.read_text(encoding="utf-8"))] == []
