"""Numbers in the units of an inch-pound workshop: factors, rounding, fractions, and that no number is left out."""

from __future__ import annotations

import ast
import json
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pint
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from swaplint.cli import main
from swaplint.cli.reading import load_one
from swaplint.kit.edits import sound_text
from swaplint.kit.trial import rule_base
from swaplint.reports.values import size_words, stated_words
from swaplint.solving.editing import EditedSpec
from swaplint.solving.what_if import short_numbers, stated_as, value_in_si, value_shown
from swaplint.solving.whole import inspect_whole
from swaplint.spec.facts import FieldFacts
from swaplint.spec.loading import load_text
from swaplint.spec.model import Build
from swaplint.spec.shape import every_field, facts_at
from swaplint.units import KINDS, read, to_unit
from swaplint.units.output import in_unit_shown, shown, unit_shown
from swaplint.units.showing import SHOWING, showing_in
from swaplint.units.unit_systems import (
    _BY_PATH,
    _NAMES,
    INCH_POUND,
    Instead,
    fraction_of,
    in_inch_pound,
    instead_of,
    is_same,
    number_in_inch_pound,
    sold_as,
    written_in_inch_pound,
)
from swaplint.units.value import Value
from swaplint.writing.draft import draft

ROOT = Path(__file__).parents[2]
TENDER = ROOT / "specs" / "tarnholt-tender.toml"
REGISTRY: Any = pint.UnitRegistry()
REGISTRY.define("Btu_ = british_thermal_unit")


@pytest.fixture(autouse=True)
def nobody_chose() -> Iterator[None]:
    """Each test begins and ends with no unit system chosen."""
    assert SHOWING.system is None
    yield
    assert SHOWING.system is None
    assert SHOWING.about == ""


# -- nothing is left out -----------------------------------------------------------------------------------------
def field_pairs() -> dict[tuple[str, str], str]:
    found = {}
    for path, member in every_field(rule_base().model):
        if member.facts is not None and member.facts.kind is not None:
            found[member.facts.kind_name, member.facts.unit] = path
    return found


def quantity_pairs() -> dict[tuple[str, str], str]:
    return {(quantity.kind, quantity.unit): quantity.id for _, quantity in rule_base().quantities if quantity.kind}


def pairs_in_rules() -> dict[tuple[str, str], str]:
    """The kinds and units that stand side by side in the text of the built-in rules."""
    found = {}
    for file in (ROOT / "rules").rglob("*.py"):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            inner = node.args if isinstance(node, ast.Call) else node.elts if isinstance(node, ast.Tuple) else []
            texts = [item.value if isinstance(item, ast.Constant) else None for item in inner]
            for kind, unit in zip(texts, texts[1:], strict=False):
                if isinstance(kind, str) and isinstance(unit, str) and kind in KINDS and unit not in KINDS:
                    found[kind, unit] = f"{file}:{node.lineno}"  # type: ignore[attr-defined]
    return found


def listed_pairs() -> dict[tuple[str, str], str]:
    """What a pack could show: every unit that a kind lists."""
    return {(kind.name, unit): "kinds.py" for kind in KINDS.values() for unit in kind.units if unit != "AWG"}


@pytest.mark.parametrize("pairs", [field_pairs, quantity_pairs, pairs_in_rules, listed_pairs])
def test_every_kind_and_unit_that_is_shown_has_its_place_in_one_of_the_tables(pairs: Any) -> None:
    found = pairs()
    assert len(found) > 20
    odd = {"°"} | {f"{unit}" for unit in ("rpm", "rad/s", "rad", "kcmil")}
    lost = {
        pair: where for pair, where in found.items() if is_same(*pair) == (pair in INCH_POUND) and pair[1] not in odd
    }
    assert lost == {}


def test_no_pair_of_the_table_is_of_a_kind_or_unit_that_nobody_knows() -> None:
    for kind, unit in [*INCH_POUND, *_BY_PATH]:
        to_unit(1.0, unit, KINDS[kind])
    assert set(_BY_PATH) <= set(INCH_POUND)


def test_the_paths_by_which_a_unit_is_chosen_begin_something_that_there_is() -> None:
    names = [path for path, _ in every_field(rule_base().model)]
    names += [quantity.id for _, quantity in rule_base().quantities] + [rule.id for _, rule in rule_base().rules]
    for choices in _BY_PATH.values():
        for _, starts in choices:
            for start in starts:
                assert any(name.startswith(start) for name in names), start


# -- the numbers -------------------------------------------------------------------------------------------------
PUBLISHED = [
    # NIST Special Publication 811, Appendix B, from memory: what one inch-pound unit is in SI
    ("length", "mm", "", 0.0254, 1.0),
    ("length", "m", "", 0.3048, 1.0),
    ("length", "km", "", 1609.344, 1.0),
    ("mass", "kg", "", 0.45359237, 1.0),
    ("mass", "g", "", 2.834952e-2, 1.0),
    ("force", "N", "", 4.448222, 1.0),
    ("torque", "N m", "", 1.355818, 1.0),
    ("energy", "kJ", "", 1055.056, 1.0),
    ("power", "kW", "", 745.6999, 1.0),
    ("power", "kW", "cooling.coolant-heat", 0.2930711, 1.0),
    ("gauge_pressure", "kPa", "", 6894.757, 1.0),
    ("pressure_difference", "kPa", "cooling.hose-drop", 6894.757, 1.0),
    ("pressure_difference", "kPa", "chassis.reserve-start", 3386.389, 1.0),
    ("pressure_difference", "kPa", "intake.duct-drop", 249.0889, 1.0),
    ("stress", "MPa", "", 6894757.0, 1.0),
    ("volume", "L", "fuel.usable", 3.785412e-3, 1.0),
    ("volume", "L", "cooling.system-volume", 9.463529e-4, 1.0),
    ("volume", "L", "engine.displacement", 1.638706e-5, 1.0),
    ("volume_flow", "L/h", "", 3.785412e-3 / 3600, 1.0),
    ("volume_flow", "L/min", "", 6.309020e-5, 1.0),
    ("volume_flow", "m3/h", "", 4.719474e-4, 1.0),
    ("speed", "km/h", "", 0.44704, 1.0),
    ("area", "cm2", "", 6.4516e-4, 1.0),
    ("area", "m2", "", 9.290304e-2, 1.0),
    ("stiffness", "N/mm", "", 175.1268, 1.0),
    ("density", "kg/m3", "", 16.01846, 1.0),
    ("inertia", "kg m2", "", 4.214011e-2, 1.0),
    ("mass_flow", "kg/s", "", 7.559873e-3, 1.0),
    ("temperature_difference", "K", "", 5 / 9, 1.0),
    ("temperature", "degC", "", 273.15, 32.0),
    ("temperature", "degC", "", 373.15, 212.0),
    ("temperature", "degC", "", 233.15, -40.0),
    ("specific_power", "kW/t", "", 745.6999 / 907.1847, 1.0),
]


@pytest.mark.parametrize(("kind", "unit", "about", "si", "expected"), PUBLISHED)
def test_the_numbers_agree_with_published_factors(kind: str, unit: str, about: str, si: float, expected: float) -> None:
    assert number_in_inch_pound(si, kind, unit, about) == pytest.approx(expected, rel=2e-6)


IN_PINT = {
    # as the table writes it: in pint's words
    "US qt": "quart", "US fl oz": "fluid_ounce", "US gal": "gallon", "psia": "psi", "inHg": "inch_Hg",
    "inH2O": "inch_H2O", "in2": "inch**2", "in3": "inch**3", "in4": "inch**4", "ft2": "foot**2", "ft/s2": "foot/s**2",
    "lb": "pound", "lbf": "force_pound", "lb-ft": "force_pound*foot", "ft lb": "force_pound*foot", "Btu": "Btu_",
    "Btu/h": "Btu_/hour", "hp/short ton": "hp/short_ton", "lb/in": "force_pound/inch",
    "lb-ft/deg": "force_pound*foot/degree", "lb-ft/rad": "force_pound*foot/radian", "lb s/ft": "force_pound*s/foot",
    "lb s/in": "force_pound*s/inch", "lb ft2": "pound*foot**2", "lb in2": "pound*inch**2", "lb/ft": "pound/foot",
    "US gal/100 mi": "gallon/(100*mile)", "US gal/mi": "gallon/mile", "in3/rev": "inch**3/turn",
    "US gpm": "gallon/minute", "US gph": "gallon/hour", "cfm": "foot**3/minute", "lb/ft3": "pound/foot**3",
    "g/ft3": "gram/foot**3",
    "psi/ft": "psi/foot", "ksi": "kip_per_square_inch", "lb/min": "pound/minute", "lb/h": "pound/hour",
    "Btu/(h degF)": "Btu_/hour/delta_degF", "Btu/(h ft2 degF)": "Btu_/hour/foot**2/delta_degF",
    "Btu/(h ft degF)": "Btu_/hour/foot/delta_degF", "Btu/(lb degF)": "Btu_/pound/delta_degF",
    "Btu/lb": "Btu_/pound", "1/degF": "1/delta_degF", "%/degF": "percent/delta_degF", "ft/s": "foot/s",
    "lb/hp h": "pound/(hp*hour)", "ohm/1000 ft": "ohm/(1000*foot)", "pF/ft": "picofarad/foot", "in": "inch",
    "ft": "foot", "mi": "mile", "oz": "ounce", "mph": "mile/hour", "hp": "horsepower", "psi": "psi",
}  # fmt: skip
SI_IN_PINT = {
    "1": "dimensionless", "N m": "N*m", "W/kg": "W/kg", "N m/rad": "N*m/rad", "N s/m": "N*s/m", "kg m2": "kg*m**2",
    "m2": "m**2", "m3": "m**3", "m4": "m**4", "m/s2": "m/s**2", "m3/rad": "m**3/rad", "W/(m2 K)": "W/m**2/K",
    "W/(m K)": "W/m/K", "J/(kg K)": "J/kg/K", "m3/s": "m**3/s", "kg/m3": "kg/m**3", "m3/m": "m**3/m",
}  # fmt: skip
STEPS = ("temperature", "temperature_difference")


def all_choices() -> list[tuple[str, Instead]]:
    choices = {(kind, instead) for (kind, _), instead in INCH_POUND.items()}
    choices |= {(kind, instead) for (kind, _), several in _BY_PATH.items() for instead, _ in several}
    return sorted(choices, key=lambda choice: (choice[0], choice[1].unit))


@pytest.mark.parametrize(("kind", "instead"), all_choices(), ids=lambda value: getattr(value, "unit", value))
def test_each_inch_pound_unit_is_what_pint_says(kind: str, instead: Instead) -> None:
    si = KINDS[kind].si
    if kind in STEPS:
        expected = 9 / 5 * 100.0 if kind == "temperature_difference" else REGISTRY.Quantity(100.0, "K").to("degF").m
    else:
        metric = REGISTRY.parse_expression(SI_IN_PINT.get(si, si))
        one = REGISTRY.parse_expression(IN_PINT[instead.unit])
        expected = (100.0 * metric / one).to("dimensionless").magnitude
    assert to_unit(100.0, instead.unit, KINDS[kind]) == pytest.approx(expected, rel=1e-9)


@given(st.floats(1e-4, 1e5), st.sampled_from(sorted(INCH_POUND)), st.sampled_from([3, 4, 5]))
def test_a_shown_number_is_near_what_it_stands_for(number: float, pair: tuple[str, str], digits: int) -> None:
    kind, unit = pair
    if kind == "temperature":
        return
    si = number / to_unit(1.0, unit, KINDS[kind])
    words = in_inch_pound(si, kind, unit, digits)
    value = re.match(r"-?[0-9][0-9 ]*(?:\.[0-9]+)?(?:e[+-]?[0-9]+)?(?= )", words)
    assert value is not None, words
    instead = instead_of(kind, unit)
    assert instead is not None
    assert value.group() != "0", "a number is not shown as none"
    if "/" not in words.split(" in")[0]:  # no fraction
        off = abs(float(value.group().replace(" ", "")) - to_unit(si, instead.unit, KINDS[kind]))
        size = abs(to_unit(si, instead.unit, KINDS[kind]))
        assert off <= max(0.501 * 10.0 ** (1 - digits) * size, 0.5 * 10.0**-instead.decimals)


@given(
    st.floats(0.1, 9000.0),
    st.floats(-0.01, 0.01),
    st.sampled_from([("torque", "N m"), ("gauge_pressure", "kPa"), ("mass", "kg"), ("power", "kW"), ("length", "m")]),
    st.sampled_from([3, 4, 5]),
)
def test_two_numbers_never_change_places(one: float, more: float, pair: tuple[str, str], digits: int) -> None:
    kind, unit = pair
    low, high = sorted((one, one * (1.0 + more)))
    words = [in_inch_pound(value / to_unit(1.0, unit, KINDS[kind]), kind, unit, digits) for value in (low, high)]
    numbers = [float(text.rsplit(" ", 1)[0].replace(" ", "")) for text in words]
    assert numbers[0] <= numbers[1]


# -- rounding as a person writes it ------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("text", "kind", "unit", "about", "words"),
    [
        ("0.127 mm", "length", "mm", "", "0.005 in"),
        ("0.02 mm", "length", "mm", "", "0.0008 in"),
        ("35 mm", "length", "mm", "", "1.378 in"),
        ("2900 mm", "length", "mm", "", "114.2 in"),
        ("409.575 mm", "length", "mm", "", "16.125 in"),
        ("3.7 m", "length", "m", "", "12.14 ft"),
        ("1000 m", "length", "m", "", "3281 ft"),
        ("400 km", "length", "km", "", "248.5 mi"),
        ("7500 kg", "mass", "kg", "", "16 535 lb"),
        ("650 N m", "torque", "N m", "", "479.4 lb-ft"),
        ("14500 N", "force", "N", "", "3260 lbf"),
        ("100 kPa", "gauge_pressure", "kPa", "", "14.5 psi"),
        ("101.325 kPa", "pressure", "kPa", "", "14.7 psia"),
        ("10 MPa", "gauge_pressure", "MPa", "", "1450 psi"),
        ("-10 kPa", "gauge_pressure", "kPa", "", "-1.45 psi"),
        ("6.2 kPa", "pressure_difference", "kPa", "engine.air.restriction_max_dirty", "24.89 inH2O"),
        ("0.5 kPa", "pressure_difference", "kPa", "engine.breather.restriction_max", "2.007 inH2O"),
        ("62 kPa", "pressure_difference", "kPa", "engine.vacuum.depression_idle", "18.31 inHg"),
        ("20 kPa", "pressure_difference", "kPa", "fuel.suction-loss", "5.906 inHg"),
        ("35 kPa", "pressure_difference", "kPa", "engine.coolant.external_restriction_max", "5.076 psi"),
        ("200 Pa", "pressure_difference", "Pa", "", "0.8029 inH2O"),
        ("139 L", "volume", "L", "plumbing.fuel.tank.capacity", "36.72 US gal"),
        ("8 L", "volume", "L", "engine.coolant.volume", "8.454 US qt"),
        ("2.8 L", "volume", "L", "engine.displacement", "170.9 in³"),
        ("130 L/h", "volume_flow", "L/h", "", "34.34 US gph"),
        ("190 L/min", "volume_flow", "L/min", "", "50.19 US gpm"),
        ("60 L/min", "volume_flow", "L/min", "engine.breather.flow", "2.119 cfm"),
        ("-40 degC", "temperature", "degC", "", "-40 °F"),
        ("-15 degC", "temperature", "degC", "", "5 °F"),
        ("105 degC", "temperature", "degC", "", "221 °F"),
        ("25 K", "temperature_difference", "K", "", "45 °F"),
        ("-5 K", "temperature_difference", "K", "", "-9 °F"),
        ("132 kW", "power", "kW", "gearing.cruise-road-power", "177 hp"),
        ("60 kW", "power", "kW", "engine.heat.rated.coolant", "204 700 Btu/h"),
        ("30 kW", "power", "kW", "engine.heat.standing.power", "40.23 hp"),
        ("240 W", "power", "W", "", "240 W"),
        ("165 N/mm", "stiffness", "N/mm", "", "942.2 lb/in"),
        ("90 km/h", "speed", "km/h", "", "55.92 mph"),
        ("14 L/100 km", "distance_consumption", "L/100 km", "", "5.952 US gal/100 mi"),
        ("24 V", "voltage", "V", "", "24 V"),
        ("1800 r/min", "rotation", "r/min", "", "1800 r/min"),
        ("5 µm", "length", "µm", "", "5 µm"),
    ],
)
def test_a_value_is_shown_as_the_workshop_writes_it(text: str, kind: str, unit: str, about: str, words: str) -> None:
    si = read(text, KINDS[kind], signed=True)
    with showing_in("inch-pound"):
        assert shown(si, kind, unit, about=about) == words
        assert unit_shown(kind, unit, about) in (words.split(" ", 1)[1].lstrip("0123456789 "), unit)


def test_nothing_is_nothing_in_any_unit() -> None:
    for kind, unit in INCH_POUND:
        if kind != "temperature":
            assert in_inch_pound(0.0, kind, unit, 4).startswith("0 ")
    assert in_inch_pound(273.15, "temperature", "degC", 4) == "32 °F"


@given(st.floats(20.0, 500.0))
def test_a_pressure_is_never_shown_in_two_units_for_one_rule(kilopascals: float) -> None:
    for about, unit in (("intake.restriction", "inH2O"), ("chassis.vacuum-source", "inHg"), ("cooling.circuit", "psi")):
        assert in_inch_pound(kilopascals * 1e3, "pressure_difference", "kPa", 4, about).endswith(unit)


# -- fractions and sizes as they are sold ------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("7.9375 mm", "5/16 in"),
        ("9.525 mm", "3/8 in"),
        ("5/16 in", "5/16 in"),
        ("3/8 in", "3/8 in"),
        ("38.1 mm", "1 1/2 in"),
        ("25.4 mm", "1 in"),
        ("7/64 in", "7/64 in"),
        ("88.9 mm", "3 1/2 in"),
        ("8 mm", "0.315 in"),
        ("7.94 mm", "0.3126 in"),
        ("9.5 mm", "0.374 in"),
        ("9.5251 mm", "0.375 in"),
        ("1.515625 in", "1.516 in"),  # 1 33/64: past an inch, 64ths are no usual fraction
        ("14 1/2 in", "14.5 in"),
    ],
)
def test_a_usual_fraction_is_shown_as_one_and_nothing_else_is(text: str, words: str) -> None:
    assert in_inch_pound(read(text, KINDS["length"]), "length", "mm", 4) == words


@given(st.floats(0.1, 400.0))
def test_a_fraction_is_the_value_itself(millimetres: float) -> None:
    words = fraction_of(millimetres * 1e-3)
    if words:
        assert read(f"{words} in", KINDS["length"]) == pytest.approx(millimetres * 1e-3, rel=2e-7)


@given(st.integers(1, 64))
def test_every_sixty_fourth_of_an_inch_is_found(parts: int) -> None:
    words = fraction_of(parts / 64 * 0.0254)
    assert read(f"{words} in", KINDS["length"]) == pytest.approx(parts / 64 * 0.0254, rel=1e-12)
    assert "/64" not in words or parts % 2 == 1


def test_where_digits_matter_an_inch_is_shown_in_decimals() -> None:
    assert in_inch_pound(0.0127, "length", "mm", 5) == "0.5 in"


@pytest.mark.parametrize(("millimetres", "name"), _NAMES.items())
def test_a_size_goes_by_the_name_of_an_inch_size_only_where_the_two_are_one(millimetres: float, name: str) -> None:
    assert read(f"{name} in", KINDS["length"]) * 1e3 == pytest.approx(millimetres, rel=0.025)


def test_a_hose_is_shown_as_it_is_sold_with_its_inch_name_where_it_has_one() -> None:
    bore = Value.of(0.008, "length", "mm", "plumbing.fuel.supply.bore")
    with showing_in("inch-pound"):
        assert shown(bore) == "8 mm (5/16 in)"
        assert shown(Value.of(0.010, "length", "mm", "plumbing.fuel.supply.bore")) == "0.3937 in"
        assert shown(Value.of(0.008, "length", "mm", "vehicle.mounts.left.free_travel")) == "0.315 in"
    assert shown(bore) == "8 mm"
    assert sold_as(0.010, "length", "mm") == "10 mm (0.3937 in)"  # a 3/8 in hose is narrower


def test_every_series_of_the_model_can_be_shown_as_it_is_sold() -> None:
    shown_series = 0
    for path, member in every_field(Build):
        facts = member.facts
        if facts is None or facts.kind is None or not facts.series:
            continue
        shown_series += 1
        for size in facts.series:
            with showing_in("inch-pound"):
                words = size_words(read(f"{size} {facts.unit}", facts.kind), facts, path)
            if (facts.kind_name, facts.unit) == ("length", "mm"):
                assert words.startswith(f"{float(size):.12g} mm (")
    assert shown_series > 10


def test_a_conductor_names_the_wire_gauge_that_it_is_or_lies_between() -> None:
    # Areas of wire gauges: ASTM B258 geometry, 0.127 mm times 92 to the power (36 - n) / 39
    def area(gauge: int) -> float:
        return 0.25 * 3.141592653589793 * float(0.127 * 92.0 ** ((36 - gauge) / 39)) ** 2

    assert area(4) < 25 < area(2) < 35 < area(1)
    for size, words in ((25, "4 to 2"), (35, "2 to 1"), (10, "8 to 6"), (0.5, "22 to 20")):
        assert sold_as(size * 1e-6, "conductor", "mm2") == f"{size} mm² ({words} AWG)"
    assert sold_as(240e-6, "conductor", "mm2") == "240 mm² (over 4/0 AWG)"
    assert sold_as(0.2e-6, "conductor", "mm2") == "0.2 mm² (under 22 AWG)"
    assert sold_as(area(2) * 1e-6, "conductor", "mm2").endswith("(2 AWG)")


# -- what is written to be read again ----------------------------------------------------------------------------
def test_the_typical_value_of_every_field_reads_back_as_the_same_value() -> None:
    count = 0
    for path, member in every_field(rule_base().model):
        facts = member.facts
        if facts is None or facts.kind is None:
            continue
        count += 1
        typical = float(facts.typical_value())
        with showing_in("inch-pound"):
            text = facts.example(path).strip('"')
        back = read(text, facts.kind, signed=True)
        # A named size may be 2.5 % off, three digits half a per cent, a length half of the last decimal of an inch.
        near = {"temperature": 0.28, "length": 1.3e-6}.get(facts.kind_name, 0.0)
        assert back == pytest.approx(typical, rel=0.025 if path.endswith("bore") else 0.0051, abs=near), path
    assert count > 300


@pytest.mark.thorough
def test_a_draft_in_inch_pound_units_is_a_spec() -> None:
    with showing_in("inch-pound"):
        text, _ = draft(rule_base())
    data = tomllib.loads(text)
    assert data["build"]["units"] == "inch-pound"
    load_text(text, model=rule_base().model)
    whole = "".join(line.removeprefix("# ") for line in text.splitlines(keepends=True))
    assert load_text(whole, model=rule_base().model).stated("vehicle.wheelbase").written == "114 in"  # type: ignore[union-attr]
    examples = re.findall(r'^# ([a-z_.0-9]+) = "[0-9.]+ (.*?)"', text, re.MULTILINE)
    metric = {"mm", "m", "km", "kg", "kPa", "MPa", "N", "N m", "L", "L/h", "degC", "km/h", "kW", "cm2", "m2"}
    assert len(examples) > 300
    assert {name.rsplit(".", 1)[-1] for name, unit in examples if unit in metric} <= {"bore", "outlet_bore"}


def test_a_number_looked_for_is_short_in_the_unit_that_it_is_shown_in() -> None:
    facts = facts_at(Build, "vehicle.wheelbase")
    assert isinstance(facts, FieldFacts)
    with showing_in("inch-pound"):
        short = next(short_numbers(value_shown(2.9, facts), 3))
        assert short == 114.0
        stated = stated_as(value_in_si(short, facts), facts)
    assert float(stated.value) == pytest.approx(114 * 0.0254)
    assert stated.written == "114 in"


@given(st.floats(0.01, 5000.0), st.sampled_from(sorted(field_pairs())), st.integers(1, 3))
@example(1.25, ("temperature_difference", "K"), 3)
def test_a_short_number_is_printed_as_it_was_tried(number: float, pair: tuple[str, str], digits: int) -> None:
    kind, unit = pair
    facts = FieldFacts("measure", "invented", KINDS[kind], unit, 1.0)
    if kind in ("conductor", "temperature"):
        return
    with showing_in("inch-pound"):
        for short in short_numbers(number, digits):
            si = value_in_si(short, facts)
            assert in_unit_shown(si, kind, unit) == pytest.approx(short, rel=1e-5)
            words = shown(si, kind, unit)
            if "/" not in words.split(" ")[0] and not re.match(r"[0-9]+ [0-9]+/[0-9]+ in", words):
                assert float(re.match(r"[0-9. ]*[0-9](e[+-]?[0-9]+)?", words).group().replace(" ", "")) == (  # type: ignore[union-attr]
                    pytest.approx(short, rel=1e-9)
                ), words


def test_a_value_echoes_as_it_was_written_and_so_does_the_unit_of_its_tolerance() -> None:
    text = '[vehicle.towbar]\noverhang = { value = "40 in", tol = "0.5 in", basis = "measured" }\n'
    spec = load_text(text, model=rule_base().model)
    inspection, _ = inspect_whole(rule_base(), spec, remedies="none")
    with showing_in("inch-pound"):
        assert stated_words(inspection, "vehicle.towbar.overhang") == "40 in ± 0.5 in (measured)"
    assert stated_words(inspection, "vehicle.towbar.overhang") == "40 in ± 12.7 mm (measured)"


# -- one setting for all that is shown ---------------------------------------------------------------------------
def report(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    capsys.readouterr()
    main(list(words))
    return capsys.readouterr().out


@pytest.mark.thorough
def test_metric_is_the_same_before_and_after_an_inch_pound_report(capsys: pytest.CaptureFixture[str]) -> None:
    before = report(capsys, "inspect", str(TENDER), "--whole")
    other = report(capsys, "inspect", str(TENDER), "--whole", "--units", "inch-pound")
    assert before != other
    assert report(capsys, "inspect", str(TENDER), "--whole") == before
    assert report(capsys, "inspect", str(TENDER), "--whole", "--units", "metric") == before


@pytest.mark.parametrize("format", ["json", "sarif"])
def test_what_a_program_reads_is_metric(format: str, capsys: pytest.CaptureFixture[str]) -> None:
    plain = report(capsys, "inspect", str(TENDER), "--format", format)
    assert report(capsys, "inspect", str(TENDER), "--format", format, "--units", "inch-pound") == plain


@pytest.fixture
def asks_for_inch_pound(tmp_path: Path) -> Path:
    path = tmp_path / "inch.toml"
    path.write_text(sound_text().replace("[build]\n", '[build]\nunits = "inch-pound"\n', 1), encoding="utf-8")
    return path


def told_in_one(text: str) -> str:
    """A report without the second of two units in which a limit is handed down: `34 kPa (5 psi)`."""
    return re.sub(r"( kPa)\s+\([0-9.]+ psi\)", r"\1", text)


def test_a_spec_has_a_say_in_the_units_of_its_report(
    asks_for_inch_pound: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(asks_for_inch_pound.parent)  # short names stay on one line
    spec, some = asks_for_inch_pound.name, ("--system", "fuel", "--system", "cooling")
    own = report(capsys, "inspect", spec, "--whole", *some)
    assert " psi" in own
    assert report(capsys, "inspect", spec, "--whole", *some, "--units", "inch-pound") == own
    assert " lb-ft" in report(capsys, "worksheet", spec)
    assert " psi" not in told_in_one(report(capsys, "inspect", spec, "--whole", *some, "--units", "metric"))
    plain = asks_for_inch_pound.with_name("plain.toml")
    plain.write_text(sound_text(), encoding="utf-8")
    for cores in ("1", "2"):
        both_specs = ("inspect", spec, plain.name, "--whole", "--no-remedies", "--cores", cores, *some)
        two = report(capsys, *both_specs)
        first, second = two.split(plain.name, 1)
        assert " psi" in first
        assert " kPa" in second
        assert " psi" not in told_in_one(second), "each spec's sheet is in the units that it asks for"
        assert " psi" not in told_in_one(report(capsys, *both_specs, "--units", "metric"))
    told = json.loads(report(capsys, "inspect", spec, "--format", "json", *some))
    assert {r["found"]["unit"] for r in told["specs"][0]["results"] if r["found"]} & {"kPa", "mm"}


def test_specs_inspected_in_other_processes_follow(capsys: pytest.CaptureFixture[str]) -> None:
    specs = [str(TENDER), str(ROOT / "specs" / "skerrivar-van.toml")]
    words = ["inspect", *specs, "--whole", "--no-remedies", "--units", "inch-pound", "--system", "mass"]
    side_by_side = report(capsys, *words, "--cores", "2")
    assert side_by_side == report(capsys, *words, "--cores", "1")
    assert "10 037 lb" in side_by_side


def test_sentences_that_are_kept_between_edits_are_not_kept_from_one_system_to_the_other() -> None:
    edited = EditedSpec(rule_base())
    spec, _ = load_one(str(TENDER), [], rule_base())
    assert spec is not None
    before = {f.key: f.message for f in edited.inspect(spec)[0].findings}
    with showing_in("inch-pound"):
        between = {f.key: f.message for f in edited.inspect(spec)[0].findings}
    after = {f.key: f.message for f in edited.inspect(spec)[0].findings}
    assert before == after
    assert sum(before[key] != between[key] for key in before) > 50


METRIC = re.compile(
    r"(?:found|allowed at most|allowed at least) -?[0-9][0-9. ]* (mm|m|kPa|MPa|kg|N|N m|L|°C|K|kW|km/h|m/s)\b"
)


def test_no_found_or_allowed_number_of_the_tender_is_left_in_metric_units(capsys: pytest.CaptureFixture[str]) -> None:
    text = report(capsys, "inspect", str(TENDER), "--whole", "--units", "inch-pound")
    plain = " ".join(text.split())
    assert METRIC.findall(plain) == []
    assert len(METRIC.findall(" ".join(report(capsys, "inspect", str(TENDER), "--whole").split()))) > 200
    assert "nan" not in plain.lower().split()


def test_the_other_commands_follow(capsys: pytest.CaptureFixture[str]) -> None:
    units = ("--units", "inch-pound")
    bore = "plumbing.fuel.supply.bore"
    size = report(capsys, "size", str(TENDER), bore, *units)
    assert "13 mm (1/2 in)" in size
    assert "12 mm (0.4724 in)" in size
    study = ("study", str(TENDER), "--vary", f"{bore}=10 mm,3/8 in", "--show", "fuel.suction-loss", "--cores", "1")
    assert "3/8 in" in report(capsys, *study, *units)
    head, row, *_ = report(capsys, *study, *units, "--format", "csv").splitlines()
    assert head.startswith(f"{bore} [in],")
    assert "fuel.suction-loss [inHg]" in head.split(",")
    assert row.startswith("0.3937,")
    page = report(capsys, "rulebook", "fuel.suction-loss", *units)
    assert "25 mm (1 in)" in page
    assert "like 5.91 inHg" in page
    assert "2205 lb" in report(capsys, "draft", "-", "--system", "mass", *units)


def test_written_in_its_own_unit_where_the_field_takes_no_other() -> None:
    assert written_in_inch_pound(30.0, "temperature_difference", "K") == "30 K"
