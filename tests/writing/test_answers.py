"""Answers as people type them: what they put into a spec, and why others are refused."""

from __future__ import annotations

from typing import Any

import pytest

from swaplint.kit.trial import rule_base
from swaplint.spec.loading import load_text
from swaplint.spec.paths import path_text
from swaplint.writing.answers import RefusedError, changes_of

SPEC = """\
[driveline.axles.front]
[driveline.axles.rear]
ratio = 4.1
[driveline.gearbox]
ratios = [5.1, 2.8]
"""


def answer(field: str, text: str, spec: str = SPEC) -> dict[str, Any]:
    loaded = load_text(spec, model=rule_base().model)
    return {path_text(path): value for path, value in changes_of(loaded, field, text).items()}


def refused(field: str, text: str, spec: str = SPEC) -> str:
    with pytest.raises(RefusedError) as caught:
        answer(field, text, spec)
    return str(caught.value)


@pytest.mark.parametrize(
    ("field", "typed", "value"),
    [
        ("vehicle.wheelbase", "2900 mm", "2900 mm"),
        ("vehicle.wheelbase", ' "2900 mm" ', "2900 mm"),
        ("vehicle.wheelbase", "114 in", "114 in"),
        ("vehicle.wheelbase", "2900 mm ± 10 mm", {"value": "2900 mm", "tol": "10 mm"}),
        ("vehicle.wheelbase", "2900 mm +/- 1 %, measured", {"value": "2900 mm", "tol": "1 %", "basis": "measured"}),
        ("vehicle.wheelbase", "2900 mm assumed", {"value": "2900 mm", "basis": "assumed"}),
        ("vehicle.wheelbase", '{ value = "2900 mm", tol = "1 %" }', {"value": "2900 mm", "tol": "1 %"}),
        ("vehicle.aero.drag_coefficient", "0.45", 0.45),
        ("vehicle.aero.drag_coefficient", "0.45 ± 10 %", {"value": 0.45, "tol": "10 %"}),
        ("vehicle.aero.drag_coefficient", "0.45 ± 0.05", {"value": 0.45, "tol": 0.05}),
        ("driveline.axles.rear.ratio", "4", 4),
        ("engine.cylinders", "4", 4),
        ("driveline.axles.rear.driven", "Yes", True),
        ("driveline.axles.rear.driven", "n", False),
        ("engine.fuel_type", "diesel", "diesel"),
        ("vehicle.name", "the old van", "the old van"),
        ("engine.document.date", "2026-01-31", "2026-01-31"),
        ("driveline.gearbox.ratios", "5.1; 2.8; 1.6; 1", [5.1, 2.8, 1.6, 1]),
        ("driveline.gearbox.ratios", "5.1, 2.8, 1", [5.1, 2.8, 1]),
        ("driveline.gearbox.ratios", "5.1 2.8 1", [5.1, 2.8, 1]),
        ("driveline.gearbox.ratios", "[5.1, 2.8]", [5.1, 2.8]),
        ("driveline.gearbox.ratios[2]", "2.9", 2.9),
        ("engine.contains", "starter, alternator", ["starter", "alternator"]),
        (
            "engine.torque_curve",
            "700 r/min, 180 Nm; 2200 r/min, 340 Nm",
            [{"speed": "700 r/min", "torque": "180 Nm"}, {"speed": "2200 r/min", "torque": "340 Nm"}],
        ),
    ],
)
def test_a_value_is_taken_as_the_trade_writes_it(field: str, typed: str, value: object) -> None:
    found = answer(field, typed)
    assert found == {field: value}
    assert type(found[field]) is type(value)


@pytest.mark.parametrize(
    ("field", "typed", "changes"),
    [
        ("driveline.transfer.low", "not fitted", {"driveline.transfer.fitted": False}),
        ("driveline.transfer", "not fitted", {"driveline.transfer.fitted": False}),
        ("driveline.transfer", "no", {"driveline.transfer.fitted": False}),
        ("driveline.transfer", "fitted", {"driveline.transfer.fitted": True}),
        ("driveline.transfer", "box.toml", {"driveline.transfer.sheet": "box.toml"}),
        ("driveline.transfer.fitted", "not fitted", {"driveline.transfer.fitted": False}),
        ("driveline.axles.front.ratio", "Not fitted", {"driveline.axles.front.fitted": False}),
        ("driveline.axles", "middle, rear", {"driveline.axles.middle": {}}),
        ("driveline.shafts", "front, rear", {"driveline.shafts.front": {}, "driveline.shafts.rear": {}}),
        ("driveline.shafts", "none", {"driveline.shafts": {}}),
        ("electrics.network.nodes.display.sends", "none", {"electrics.network.nodes.display.sends": []}),
    ],
)
def test_parts_are_there_or_not_and_have_names(field: str, typed: str, changes: dict[str, Any]) -> None:
    assert answer(field, typed) == changes


@pytest.mark.parametrize(
    ("field", "typed", "says"),
    [
        ("vehicle.wheelbase", "", "is empty"),
        ("vehicle.wheelbase", "2900", "has no unit"),
        ("vehicle.wheelbase", "2900 kg", "takes a length"),
        ("vehicle.wheelbase", "2,9 m", "write 2.9"),
        ("vehicle.wheelbase", "290 mm", "1500 mm to 7000 mm: put ! behind it"),
        ("vehicle.wheelbase", "2900 mm ± 3 kg", "tol"),
        ("driveline.axles.rear.ratio", "4,1", "write 4.1"),
        ("driveline.axles.rear.ratio", "4,125", "as 4.125 or as 4125"),
        ("driveline.axles.rear.ratio", "41", "1.5 to 15"),
        ("driveline.axles.rear.ratio", "four", "takes a number"),
        ("driveline.axles.rear.driven", "perhaps", "takes yes or no"),
        ("engine.fuel_type", "desel", "did you mean 'diesel'"),
        ("engine.fuel_type", "not fitted", "belongs to no part"),
        ("driveline.gearbox.ratios", "5,1", "may be 5.1 or two values"),
        ("driveline.gearbox.ratios", "5,1, 2,8", "may be 5.1 or two values"),
        ("driveline.gearbox.ratios", "5.1; x", "takes a number"),
        ("driveline.axles.reer.ratio", "4.1", "did you mean rear?"),
        ("driveline.axles", "rear", "has rear already"),
        ("driveline.axles", "none", "takes nothing away"),
        ("electrics.batteries", "none", "cannot be none, for every build has at least one (the batteries, each under"),
        ("supply", "none", "cannot be none"),
        ("driveline.axles.rear.ratio", "unknown", "is stated in the spec itself"),
        ("driveline.axles", "Unknown", "is stated in the spec itself"),
        ("driveline.gearbox.ratios[1]", "unknown", "is stated in the spec itself"),
        ("driveline.axles", "the rear", "is not a name for a part"),
        ("driveline.transfer", "sometimes", "takes fitted, not fitted"),
        ("vehicle", "yes", "name one of them"),
        ("engine.torque_curve", "700 r/min, 180 Nm, 3", "has 3 values"),
        ("engine.torque_curve", "700 r/min, 180 kg", "takes a torque"),
    ],
)
def test_what_cannot_stand_there_is_refused_with_the_reason(field: str, typed: str, says: str) -> None:
    assert says in refused(field, typed)


@pytest.mark.parametrize(
    "field",
    ["vehicle.wheelbase", "driveline.transfer", "driveline.axles.front.ratio", "electrics.batteries", "engine.model"],
)
def test_what_nobody_states_is_unknown_anyway(field: str) -> None:
    assert answer(field, "unknown") == {}
    said_so = SPEC + "[vehicle]\nwheelbase = { unknown = true }\n"
    assert answer("vehicle.wheelbase", "unknown", said_so) == {}


def test_a_text_in_quotes_is_what_it_says() -> None:
    assert answer("engine.model", '"unknown"') == {"engine.model": "unknown"}


def test_what_no_real_vehicle_has_is_taken_where_it_is_meant() -> None:
    assert answer("vehicle.wheelbase", "290 mm !") == {"vehicle.wheelbase": "290 mm"}


def test_an_item_of_a_list_that_a_sheet_states_is_not_stated_alone() -> None:
    assert "state driveline.gearbox.ratios whole" in refused("driveline.gearbox.ratios[2]", "2.9", "")
