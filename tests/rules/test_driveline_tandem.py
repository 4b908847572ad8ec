"""A tandem whose second axle is driven through the first: what its shafts carry, worked out beside each test."""

from typing import Any

import pytest

from swaplint.kit.edits import edited_data
from swaplint.kit.trial import of_part, trial, value

D = "driveline"
FLANGE = {"pattern": "Sound flange 100 (invented)"}
SOUND = edited_data({})[D]
SECOND = {**SOUND["axles"]["rear"], "x": "3900 mm", "group_share": "50 %"}
BETWEEN = {k: v for k, v in SOUND["shafts"]["rear"].items() if k != "length_before"} | {
    "driven_by": "rear",
    "drives": "rear_two",
    "driven_x": "3494 mm",
    "driving_x": "2400 mm",
}
TANDEM: dict[str, Any] = {
    f"{D}.axles.front.x": "0 mm",
    f"{D}.axles.rear.x": "2900 mm",
    f"{D}.axles.rear.group_share": "50 %",
    f"{D}.axles.rear.through_output": FLANGE,
    f"{D}.axles.rear_two": SECOND,
    f"{D}.shafts.between": BETWEEN,
    f"{D}.axles.*.torque_share": "40 %",
    f"{D}.axles.*.rating": "1750 kg",
}
# Its first axle under a name that no shaft has, which the shaft behind it names.
NAMED = {
    **TANDEM,
    f"{D}.axles.rear": None,
    f"{D}.axles.rear_one": {
        **SECOND,
        "x": "2900 mm",
        "through_output": FLANGE,
        "rating": "1750 kg",
        "torque_share": "40 %",
    },
    f"{D}.shafts.rear.drives": "rear_one",
    f"{D}.shafts.between": {**BETWEEN, "driven_by": "rear_one"},
}


@pytest.mark.parametrize("edits", [TANDEM, NAMED])
def test_the_shaft_ahead_carries_what_both_axles_take(edits: dict[str, Any]) -> None:
    # 340 N·m · 4.3 · 96 % · 2.5 = 3508.8 N·m; 40 % can go to each axle, and 80 % pass the shaft ahead of both
    assert value("driveline.shaft-torque", edits, part="shafts.between") == pytest.approx(1403.52)
    assert value("driveline.shaft-torque", edits, part="shafts.rear") == pytest.approx(2807.04)


def test_no_more_than_all_of_it() -> None:
    # 60 % to each: both together cannot take more than the transfer case passes, where the tyres grip enough
    edits = {**TANDEM, f"{D}.axles.*.torque_share": "60 %", f"{D}.axles.*.rating": "2500 kg"}
    assert value("driveline.shaft-torque", edits, part="shafts.rear") == pytest.approx(3508.8)


def test_no_more_than_the_tyres_of_both_take() -> None:
    # 0.9 · 1750 kg · g · 0.39125 m/(4.3 · 0.9/0.96) = 1499.05 N·m for each
    edits = {**TANDEM, f"{D}.axles.*.torque_share": "60 %"}
    assert value("driveline.shaft-torque", edits, part="shafts.rear") == pytest.approx(2998.1, rel=1e-4)


@pytest.mark.parametrize("edits", [TANDEM, NAMED])
def test_the_chain_is_whole(edits: dict[str, Any]) -> None:
    assert {f.kind for f in trial(f"{D}.housing-match", edits)} == {"pass"}
    assert of_part("fit.shaft-length", "between", edits).kind == "pass"


def test_the_flange_in_between_is_asked_for() -> None:
    edits = {**NAMED, f"{D}.axles.rear_one.through_output": None}
    open_ones = [f for f in trial(f"{D}.housing-match", edits) if f.kind == "open"]
    assert [f.unknown for f in open_ones] == [(f"{D}.axles.rear_one.through_output.pattern",)]
    # where shaft and axle have one name, the shaft behind follows at a bearing unless the axle has that flange
    found = of_part(f"{D}.housing-match", "axles.rear.input_flange", {**TANDEM, f"{D}.axles.rear.through_output": None})
    assert "state its through_output" in found.message


def test_a_centre_bearing_is_no_axle() -> None:
    # a shaft that names nothing that it drives hands all on to the one behind it: what the tyres of the one axle take
    centre = {key: value for key, value in BETWEEN.items() if key != "drives"} | {"driven_by": "transfer-rear"}
    edits = {f"{D}.shafts.rear.driven_by": "centre", f"{D}.shafts.centre": centre}
    assert value("driveline.shaft-torque", edits, part="shafts.centre") == pytest.approx(1499.05, rel=1e-4)
