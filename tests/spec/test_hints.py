"""What is said about a name that the build spec does not know, or about a table that is none."""

from __future__ import annotations

import pytest

from swaplint.spec.hints import fields_meant
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
        ("hose_id", "plumbing.cooling.hoses.NAME.bore"),
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
