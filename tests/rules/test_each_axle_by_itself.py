"""What is stated of one axle judges that axle, where the weight or the track of the other is not known.

What the vehicle weighed on one axle puts nothing on the other, so that nothing that is judged of the front axle alone
reads the rear weight, and so the other way round. What stands on both is open: the whole mass, shares of it.
"""

from __future__ import annotations

from typing import Any

import pytest

from swaplint.kit.trial import of_part, trial, value

LADEN = "vehicle.load_cases.laden"
ONE_SIDED = [
    # what is not stated, the end that is still judged, the end that is open
    ("vehicle.mass.kerb_rear", "front", "rear"),
    ("vehicle.mass.kerb_front", "rear", "front"),
]


@pytest.mark.parametrize(("missing", "judged", "other"), ONE_SIDED)
@pytest.mark.parametrize("rule", ["mass.axle-rating", "mass.tyre-load", "mass.side-balance"])
def test_the_weight_of_the_other_axle(rule: str, missing: str, judged: str, other: str) -> None:
    found, sound = (
        {finding.part: finding for finding in trial(rule, edits)} for edits in ({missing: None}, dict[str, Any]())
    )
    assert found.keys() == sound.keys()
    for part, finding in found.items():
        if part.endswith(judged):
            assert (
                (finding.kind, finding.message) == (sound[part].kind, sound[part].message) == ("pass", finding.message)
            )
        else:
            assert part.endswith(other)
            assert (finding.kind, list(finding.unknown)) == ("open", [missing])


@pytest.mark.parametrize(
    ("missing", "judged", "other"), [("vehicle.track_rear", "front", "rear"), ("vehicle.track_front", "rear", "front")]
)
def test_the_track_of_the_other_axle(missing: str, judged: str, other: str) -> None:
    found = trial("mass.side-balance", {missing: None})
    assert {f.kind for f in found if f.part.endswith(judged)} == {"pass"}
    assert {(f.kind, *f.unknown) for f in found if f.part.endswith(other)} == {("open", missing)}


def test_a_fail_is_told_of_the_axle_that_is_known() -> None:
    # 1005 kg weighed in front and 5 kg more in the ledger than a rating of 900 kg takes, whatever the rear weighs
    edits: dict[str, Any] = {"vehicle.mass.kerb_rear": None, "vehicle.mass.gawr_front": "900 kg"}
    assert of_part("mass.axle-rating", "laden front", edits).kind == "fail"


def test_the_sides_of_one_axle_by_hand() -> None:
    # 40 kg at the front axle, 0.5 m to the left, on a track of 1.5 m: 2·40·0.5/1.5 = 26.67 kg more on the left, over a
    # front load of mass.axle-load
    edits: dict[str, Any] = {"vehicle.track_rear": None, "vehicle.track_front": "1500 mm"}
    extra = {**edits, "vehicle.load_cases.laden.items.box": {"mass": "40 kg", "x": "0 mm", "y": "500 mm"}}
    load = [value("mass.axle-load", each, part="laden front") for each in (edits, extra)]
    assert load[1] - load[0] == pytest.approx(40.0)
    share = [value("mass.side-difference", each, part="laden front") / 100.0 for each in (edits, extra)]
    assert share[1] * load[1] - share[0] * load[0] == pytest.approx(80.0 * 0.5 / 1.5)


@pytest.mark.parametrize(
    ("rule", "part", "demand"),
    [
        ("mass.gross-rating", "laden", "vehicle"),
        ("mass.plate-sense", "", "empty"),
        ("mass.steering-axle-share", "laden", ""),
    ],
)
def test_what_stands_on_both_axles_is_open(rule: str, part: str, demand: str) -> None:
    assert of_part(rule, part, {"vehicle.mass.kerb_rear": None}, demand=demand).kind == "open"
