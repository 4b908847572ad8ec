"""What is said about a name that the build spec does not know, or about a table that is none."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swaplint.spec.hints import fields_meant, value_meant
from swaplint.spec.loaded import SpecErrors
from swaplint.spec.loading import load_text
from swaplint.spec.model import Build
from swaplint.spec.shape import facts_at
from swaplint.spec.sheet_files import what_it_is


@pytest.mark.parametrize(
    ("name", "field"),
    [
        ("axle_ratio", "driveline.axles.NAME.ratio"),
        ("axleRatio", "driveline.axles.NAME.ratio"),
        ("axle-ratios", "driveline.axles.NAME.ratio"),
        ("cruiserpm", "build.design.cruise_speed"),
        ("idle_rpm", "engine.speed.idle"),
        ("tire_diameter", "driveline.tyres.overall_diameter"),
        ("gvwr_kg", "vehicle.mass.gvwr"),
        ("battery_capcity", "electrics.batteries.NAME.capacity"),
        ("drag_coeff", "vehicle.aero.drag_coefficient"),
        ("hose_id", "plumbing.hoses.NAME.bore"),
    ],
)
def test_a_field_is_found_as_people_say_it(name: str, field: str) -> None:
    meant = fields_meant(Build, name)
    assert meant[0] == field
    assert len(meant) <= 3
    assert all(facts_at(Build, one.replace("NAME", "x")) is not None for one in meant)


@pytest.mark.parametrize(
    "name", ["foo", "", "of", "x" * 5000, "colour_of_the_seats", "\x1b[31m", "speed_of_light", "__"]
)
def test_nothing_is_guessed_where_nothing_is_near(name: str) -> None:
    assert fields_meant(Build, name) == []


def test_a_name_that_fits_very_many_fields_means_those_nearby() -> None:
    assert fields_meant(Build, "fitted") == []
    assert all(one.startswith("electrics.") for one in fields_meant(Build, "fitted", "electrics"))


def said(toml: str) -> list[str]:
    with pytest.raises(SpecErrors) as raised:
        load_text(toml, label="s.toml")
    return [f"{error.line}: {error.what}" for error in raised.value.errors]


@pytest.mark.parametrize(
    ("toml", "sentence"),
    [
        ("[engine]\nspede = 1\n", "2: engine has no field 'spede'; did you mean 'speed'?"),
        ("[vehicle]\nwheel_base = '3 m'\n", "2: vehicle has no field 'wheel_base'; did you mean 'wheelbase'?"),
        (
            "[engine]\ncruiserpm = 1\n",
            "2: engine has no field 'cruiserpm'; did you mean 'build.design.cruise_speed', "
            "'plumbing.air_conditioning.original.cruise_speed' or 'engine.speed.cruise_high'?",
        ),
        (
            "nonsense = 1\n",
            "1: the spec has no field 'nonsense'; it has build, vehicle, engine, driveline, electrics, ",
        ),
        # A header that is a comment still.
        (
            "[build]\nname = 'x'\n\n# [engine.speed]  # these\nidle = '800 r/min'\n",
            "5: build has no field 'idle': the header in line 4 is still commented out: '# [engine.speed]  # these'",
        ),
        (
            "[build]\n#[driveline.axles.rear]\n## the ratio\n# driven = true\nratio = 4.1\n",
            "5: build has no field 'ratio': the header in line 2 is still commented out: '#[driveline.axles.rear]'",
        ),
        (
            "[build]\n# [[supply]]\nitem = 'x'\n",
            "3: build has no field 'item': the header in line 2 is still commented out: '# [[supply]]'",
        ),
        (
            "[electrics.cables]\n# [electrics.cables.starter]\nsize = '2/0 AWG'\n",
            "3: electrics.cables.size takes a table, not '2/0 AWG': the header in line 2 is still commented out: ",
        ),
        # Of two, the one in which the field is known; none where a header stands between.
        (
            "[build]\n# [engine.speed]\n# [vehicle.aero]\nidle = '800 r/min'\n",
            "4: build has no field 'idle': the header in line 2 is still commented out: '# [engine.speed]'",
        ),
        ("# [engine.speed]\n[build]\nidle = '800 r/min'\n", "3: build has no field 'idle'; "),
        ("[build]\n# [no.such.table]\n# see [1]\nidle = '800 r/min'\n", "4: build has no field 'idle'; "),
        # Lists and tables that are none.
        ("electrics.cables = []\n", "1: electrics.cables takes a table, not []: write {} for none"),
        ("engine.speed = []\n", '1: engine.speed takes a table, not []: like { idle = "750 r/min" }'),
        ("engine = 3\n", "1: engine takes a table, not 3"),
        ("supply = {}\n", "1: supply takes a list, not {}: write [] for none"),
        ("driveline.axles.rear = []\n", "1: driveline.axles.rear takes a table, not []: like { "),
    ],
)
def test_what_is_said(toml: str, sentence: str) -> None:
    assert [one for one in said(toml) if one.startswith(sentence)], said(toml)


@pytest.mark.parametrize("name", ["cables", "batteries"])
def test_what_is_said_of_a_table_for_none_is_so(name: str) -> None:
    load_text(f"electrics.{name} = {{}}\n")


@pytest.mark.parametrize(
    ("data", "what"),
    [
        ({}, "spec"),
        ({"build": {}}, "spec"),
        ({"engine": {}, "nonsense": 1}, "spec"),
        ({"document": {}, "engine": {}}, "spec"),
        ({"document": {}, "speed": {}}, "sheet"),
        ({"document": {}, "nonsense": 1}, "sheet"),
        ({"ratios": [4, 2], "kind": "manual"}, "sheet"),
        ({"document": {}, "supply": {}}, "sheet"),
        ({"tool": {}}, "other"),
    ],
)
def test_what_a_file_is(data: dict[str, object], what: str) -> None:
    assert what_it_is(data, Build) == what


# -- values that stand otherwise than they should ------------------------------------------------------------------
@pytest.mark.parametrize(
    ("text", "says"),
    [
        ('driveline.gearbox.ratios = ["4.8, 2.6"]', "write each number by itself, without quotes: [4.8, 2.6]"),
        ('driveline.gearbox.ratios = "4.8 2.6"', "write each number by itself, without quotes: [4.8, 2.6]"),
        ('driveline.gearbox.ratios = ["4.8"]', "not '4.8': write 4.8, without quotes"),
        ("driveline.gearbox.ratios = 4.8", "takes a list, like [5], not 4.8: write [4.8]"),
        ('driveline.axles.rear.ratio = "4.1"', "not '4.1': write 4.1, without quotes"),
        ('driveline.axles.rear.ratio = "tall"', "not 'tall'"),
        ('engine.fuel = "diesel"', "engine.fuel takes a table, not 'diesel'; did you mean 'fuel_type'?"),
        ('driveline.gearbox = "manual"', "not 'manual'; did you mean 'driveline.gearbox.kind'?"),
        ("driveline.axles.ratio = 4.1", "not 4.1; did you mean 'driveline.axles.NAME.ratio'?"),
        ("driveline.axles.rear = 4.1", "not 4.1: it holds fields of its own, like driveline.axles.rear.ratio"),
        ('driveline.axles = ["rear"]', "not ['rear']: write one for each, [driveline.axles.NAME]"),
        ('vehicle.mass = "2900 kg"', "not '2900 kg': it holds fields of its own, like vehicle.mass.gvwr"),
    ],
)
def test_a_value_that_stands_otherwise_than_it_should(text: str, says: str) -> None:
    with pytest.raises(SpecErrors) as caught:
        load_text(text)
    assert [error.what.rstrip(".")[-len(says) :] for error in caught.value.errors] == [says]


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("weight_class = light", '; a word stands between quotes: "light"'),
        ("terrain = off-road  # mostly", '; a word stands between quotes: "off-road"'),
        ("gvwr = 2900 kg", '; a value with its unit stands between quotes: "2900 kg"'),
        ("frontal_area = 3.2 m2 # about", '; a value with its unit stands between quotes: "3.2 m2"'),
        ('gvwr = "2900 kg', "; the closing quote is missing"),
        ("ratio = 4,1", "; write 4.1"),
        ("fitted = Yes", "; write true"),
        ("fitted = FALSE", "; write false"),
        ("[driveline", ""),
        ("ratios = [4.8, 2.6", ""),
        ("ratio = 4.1", ""),
        ("x = \x1b[31m", ""),
        ("x = " + "a" * 100, ""),
    ],
)
def test_a_line_that_is_no_toml_says_what_it_should(line: str, says: str) -> None:
    assert value_meant(line) == says


@settings(deadline=None)
@given(st.text(max_size=80))
def test_a_hint_about_a_line_says_nothing_that_could_steer_a_terminal(line: str) -> None:
    assert value_meant(f"x = {line}").isprintable()
