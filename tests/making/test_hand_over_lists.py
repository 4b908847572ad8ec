"""The lists of fluids, of what is changed when, and of what a vehicle is built for: each row by what the spec says."""

from __future__ import annotations

import pytest

from swaplint.declare.listings import Sheet
from swaplint.host.packs import RuleBase
from swaplint.inspecting.inspection import inspect
from swaplint.kit.trial import rule_base
from swaplint.making.takeoff import Row, take_off
from swaplint.spec.loading import load_text

SPEC = """
[driveline]
gearbox = { kind = "manual" }
transfer = { fitted = true, oil = { change_distance = "40000 km" } }
axles = { rear = { driven = true, oil = { change_time = "104 weeks" } } }
clutch = { worked_by = "hydraulics", fluid = { volume = "0.3 L", standards = ["DOT 4", "DOT 5.1"] } }
speed_limiter = { fitted = true, speed = "90 km/h" }
tyres = { designation = "235/85 R16", overall_diameter = "800 mm", pressure_front = "300 kPa" }
[vehicle]
mass = { gvwr = "2800 kg" }
brakes = { assist = "vacuum", fluid = { volume = "1 L", standards = ["DOT 4"], change_time = "104 weeks" } }
[vehicle.steering]
assist = "hydraulic"
fluid = { volume = "1.2 L", standards = ["ATF"], change_distance = "40000 km", change_time = "208 weeks" }
[plumbing.air_conditioning]
fitted = true
refrigerant = "R134a"
charge = "0.7 kg"
"""


def rows(name: str, changes: dict[str, str], sheet: Sheet = "hand-over") -> dict[str, Row]:
    """The rows of a list, by what they are called, of the spec with some of its text replaced."""
    text = SPEC
    for old, new in changes.items():
        assert old in text
        text = text.replace(old, new)
    base = rule_base()
    unjudged, _ = inspect(RuleBase([], [], base.model), load_text(text, model=base.model))
    made = take_off(base, unjudged, sheet)
    assert made.problems == []
    return {str(row.cells["what"].value): row for row in made.rows[name]}


FLUIDS = {"brake fluid", "clutch fluid", "steering fluid", "refrigerant"}
HYDRAULICS = 'worked_by = "hydraulics", '


@pytest.mark.parametrize(
    ("changes", "without", "with_"),
    [
        ({}, set(), set()),
        ({'"vacuum"': '"air"'}, {"brake fluid"}, set()),
        ({'"manual"': '"automatic"'}, {"clutch fluid"}, set()),
        ({'"hydraulics"': '"cable"'}, {"clutch fluid"}, set()),
        ({HYDRAULICS: ""}, {"clutch fluid"}, {"None"}),  # asked for: a cable would have none
        ({'"hydraulic"': '"electric"'}, {"steering fluid"}, set()),
        ({"fitted = true\nrefrigerant": "fitted = false\nrefrigerant"}, {"refrigerant"}, set()),
    ],
)
def test_fluids_that_a_build_has(changes: dict[str, str], without: set[str], with_: set[str]) -> None:
    found = rows("fluids", changes, "take-off")
    assert set(found) - {"coolant, mixed", "of it glycol", "engine oil", "gearbox oil", "transfer case oil",
                         "rear axle oil"} == FLUIDS - without | with_  # fmt: skip
    for name, litres in (("brake fluid", 1.0), ("clutch fluid", 0.3), ("steering fluid", 1.2)):
        if name in found:
            assert found[name].cells["to_buy"].value == pytest.approx(litres / 1000 * 1.05)
    if "clutch fluid" in found:
        assert found["clutch fluid"].cells["kind"].value == "DOT 4 or DOT 5.1"


def test_when_each_is_changed() -> None:
    found = {name: row.cells["interval"].value for name, row in rows("service", {}).items()}
    assert found == {
        "engine oil and its filter": None,
        "coolant": None,
        "gearbox oil": None,
        "transfer case oil": "changed every 40 000 km",
        "rear axle oil": "changed every 104 weeks",
        "brake fluid": "changed every 104 weeks",
        "clutch fluid": None,
        "steering fluid": "changed every 40 000 km or 208 weeks, whichever comes first",
        "air conditioning": "when it cools no more",
    }
    gone = rows("service", {"fitted = true\nrefrigerant": "fitted = false\nrefrigerant", "transfer = { fitted = true":
                            "transfer = { fitted = false"})  # fmt: skip
    assert set(found) - set(gone) == {"air conditioning", "transfer case oil"}


def test_what_it_is_built_for() -> None:
    found = rows("use", {})
    assert found["highest mass, laden"].cells["value"].value == 2800.0
    assert found["tyres"].cells["value"].value == "235/85 R16"
    assert found["front tyres, cold"].cells["value"].value == 300e3
    assert found["rear tyres, cold"].unknown == ("driveline.tyres.pressure_rear",)
    assert found["speed limiter set to"].cells["value"].value == pytest.approx(25.0)
    assert (found["hottest air"].cells["note"].value, found["tank"].cells["note"].value) == ("at full load", None)
    other = rows(
        "use",
        {'designation = "235/85 R16", ': "", "speed_limiter = { fitted = true": "speed_limiter = { fitted = false"},
    )
    assert other["tyres, over the tread"].cells["value"].value == pytest.approx(0.8)
    assert not {"tyres", "speed limiter set to"} & set(other)
