"""How tight bolts are, by hand, from the sound spec: M10 of class 8.8 with 45 N m."""

from typing import Any

import pytest

from swaplint.inspecting.results import Finding
from swaplint.kit.trial import of_part, one, value

LEFT = "vehicle.mounts.front_left.bolts"
ADAPTER = "driveline.adapter"
HOUSING = "engine.flywheel_housing.bolts"


def mount(edits: dict[str, Any], demand: str) -> Finding:
    return of_part(
        "mounts.bolt-tightening", "front_left", {f"{LEFT}.{name}": to for name, to in edits.items()}, demand=demand
    )


def test_preload() -> None:
    # F = 45/(0.2 · 0.010) = 22.5 kN. Stress area of M10 · 1.5: π/4 · (10 − 0.9382 · 1.5)² = 57.99 mm²: 388 MPa, which
    # is 61 % of the 640 MPa of class 8.8
    assert value("mounts.bolt-preload", part="front_left") == pytest.approx(22.5)
    assert value("driveline.bolt-preload", part="adapter") == pytest.approx(22.5)
    assert "61 % of their yield strength; 48 N m is usual" in mount({}, "tight-enough").message


@pytest.mark.parametrize(
    ("edits", "demand", "kind"),
    [
        # yield at 57.99 mm² · 640 MPa · 0.2 · 0.010 m = 74.2 N m: 29.7 N m are 40 %, 66.8 N m are 90 % of it
        ({"torque": "29.9 Nm"}, "tight-enough", "pass"),
        ({"torque": "29.5 Nm"}, "tight-enough", "fail"),
        ({"torque": "66.6 Nm"}, "not-stretched", "pass"),
        ({"torque": "67.0 Nm"}, "not-stretched", "fail"),
        # class 10.9: 900 MPa and 104.4 N m at yield, 40 % are 41.8
        ({"torque": "41.5 Nm", "property_class": "10.9"}, "tight-enough", "fail"),
        ({"engagement": "12.5 mm"}, "thread", "pass"),  # 1.25 diameters in cast iron
        ({"engagement": "12.4 mm"}, "thread", "fail"),
        ({"engagement": "19.9 mm", "threads_in": "aluminium"}, "thread", "fail"),
        ({"engagement": None, "threads_in": "nut"}, "thread", "notApplicable"),
    ],
)
def test_bolts_of_a_mount(edits: dict[str, Any], demand: str, kind: str) -> None:
    found = mount(edits, demand)
    assert (found.kind, found.level) == (kind, "warning" if kind == "fail" else None)


def test_a_gearbox_on_the_housing_itself() -> None:
    # M12 of class 10.9 in aluminium, 24 mm: 84.27 mm² · 900 MPa · 0.2 · 0.012 m = 182 N m at yield
    edits: dict[str, Any] = {
        f"{ADAPTER}.fitted": False,
        "driveline.adapter_pieces": {},
        f"{HOUSING}.diameter": "12 mm",
        f"{HOUSING}.property_class": "10.9",
        f"{HOUSING}.torque": "120 Nm",
        f"{HOUSING}.threads_in": "aluminium",
        f"{HOUSING}.engagement": "24 mm",
    }
    assert one("driveline.bolt-tightening", edits, demand="thread").kind == "pass"
    assert one("driveline.bolt-tightening", {**edits, f"{HOUSING}.engagement": "23 mm"}, demand="thread").kind == "fail"
    assert (
        one("driveline.bolt-tightening", {**edits, f"{HOUSING}.torque": "165 Nm"}, demand="not-stretched").kind
        == "fail"
    )
    unsaid = one("driveline.bolt-tightening", {**edits, f"{HOUSING}.torque": None})
    assert (unsaid.kind, unsaid.unknown, unsaid.due) == ("open", (f"{HOUSING}.torque",), True)
