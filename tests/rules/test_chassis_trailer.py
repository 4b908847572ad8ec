"""Brakes of a trailer. The numbers are worked out beside each row."""

from typing import Any

import pytest

from swaplint.kit.trial import of_part

CASE = "vehicle.load_cases.laden"


@pytest.mark.parametrize(
    ("brakes", "trailer", "edits", "kind"),
    [
        # half of 1780 + 78 kg is 929 kg: 750 kg is less
        ("none", "750 kg", {}, "pass"),
        ("none", "751 kg", {}, "fail"),
        # 700 + 400 + 78 kg empty: half is 589 kg
        ("none", "588 kg", {"vehicle.mass.kerb_front": "700 kg", "vehicle.mass.kerb_rear": "400 kg"}, "pass"),
        ("none", "590 kg", {"vehicle.mass.kerb_front": "700 kg", "vehicle.mass.kerb_rear": "400 kg"}, "fail"),
        ("overrun", "3500 kg", {}, "pass"),
        ("overrun", "3501 kg", {}, "fail"),
        ("from-vehicle", "3501 kg", {}, "pass"),
        (None, "800 kg", {}, "open"),
        (None, "0 kg", {}, "notApplicable"),
        (None, None, {"vehicle.towbar": {"fitted": False}}, "notApplicable"),
        (None, None, {}, "open"),
    ],
)
def test_brakes_of_a_trailer(brakes: str | None, trailer: str | None, edits: dict[str, Any], kind: str) -> None:
    stated = {**edits, f"{CASE}.trailer_brakes": brakes, f"{CASE}.trailer_mass": trailer}
    assert of_part("chassis.trailer-brakes", "laden", stated).kind == kind
