"""How much of the mass stands on the steered axle. The expected numbers are worked out beside each test."""

from __future__ import annotations

from typing import Any

import pytest

from swaplint.kit.trial import trial

RULE = "mass.steering-axle-share"


def judged(category: str, front: float, *, trailer: bool, weight: str = "heavy") -> dict[str, str]:
    """What each demand says of a vehicle of 2000 kg with a share of it in front, nothing swapped, nothing in it."""
    nose = {"nose_load": "0 kg", "trailer_mass": "0 kg"}
    if trailer:
        # 100 kg at 2.9 m of wheelbase and 1.0 m of overhang: 134.5 kg come behind and 34.5 kg leave the front.
        nose = {"nose_load": "100 kg", "trailer_mass": "1000 kg"}
    edits: dict[str, Any] = {
        "vehicle.category": category,
        "vehicle.weight_class": weight,
        "vehicle.wheelbase": "2900 mm",
        "vehicle.towbar.overhang": "1000 mm",
        "vehicle.mass.kerb_front": f"{2000 * front} kg",
        "vehicle.mass.kerb_rear": f"{2000 * (1 - front)} kg",
        "vehicle.ledger": {"nothing": {"mass": "0 kg", "part": "other", "x": "0 mm", "y": "0 mm"}},
        "vehicle.load_cases": {"only": {"items": {}, **nose}},
    }
    found = trial(RULE, edits)
    assert len({f.demand for f in found}) == len(found)
    return {f.demand: f"{f.kind} {f.level}" if f.level else f.kind for f in found}


@pytest.mark.parametrize(
    ("front", "said"),
    [
        (0.301, {"lawful-share": "pass", "solo-share": "pass"}),
        (0.299, {"lawful-share": "pass", "solo-share": "fail error"}),
        (0.199, {"lawful-share": "fail error", "solo-share": "fail error"}),
    ],
)
def test_a_car_by_itself_keeps_thirty_per_cent(front: float, said: dict[str, str]) -> None:
    # Directive 92/21/EEC as quoted: vehicle and rear axle at their maximum, 30 % in front.
    assert judged("M1", front, trailer=False) == said


@pytest.mark.parametrize(("front", "said"), [(0.301, "pass"), (0.299, "open")])
def test_of_a_light_goods_vehicle_the_thirty_per_cent_are_from_memory(front: float, said: str) -> None:
    assert judged("N1", front, trailer=False) == {"lawful-share": "pass", "solo-share-goods": said}


@pytest.mark.parametrize("category", ["M1", "N1", "N2"])
@pytest.mark.parametrize(
    ("front", "said"),
    # (2000·s - 34.48)/2100 = 0.20 at s = 0.22724
    [(0.2275, "pass"), (0.2270, "fail error")],
)
def test_twenty_per_cent_with_a_trailer(category: str, front: float, said: str) -> None:
    # Regulation (EU) No 1230/2012, annex I, as quoted: with the mass at the coupling point, 20 % in front.
    assert judged(category, front, trailer=True) == {"lawful-share": said}


@pytest.mark.parametrize(("front", "said"), [(0.201, "pass"), (0.199, "fail error")])
def test_a_truck_keeps_twenty_per_cent_by_itself_too(front: float, said: str) -> None:
    assert judged("N2", front, trailer=False) == {"lawful-share": said}


@pytest.mark.parametrize(("front", "said"), [(0.251, "pass"), (0.249, "fail warning")])
def test_a_light_vehicle_keeps_a_quarter(front: float, said: str) -> None:
    assert judged("N2", front, trailer=False, weight="light")["usual-share"] == said
