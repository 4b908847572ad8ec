"""Flows that divide between alike parts, an exhaust that hangs on rubber, a radiator away from the engine."""

from __future__ import annotations

from typing import Any

import pytest
from advising import advised

from swaplint.kit.trial import one, value

EXHAUST = "plumbing.exhaust"
INTAKE = "plumbing.intake"
RADIATOR = "plumbing.cooling.radiator"


# -- side by side ------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize("case", ["sea-level", "highest-place"])
def test_two_alike_pipes_take_what_one_takes_at_half_the_gas(case: str) -> None:
    twin = {f"{EXHAUST}.pipes.down.side_by_side": 2, f"{EXHAUST}.pipes.tail.side_by_side": 2}
    half = {"engine.exhaust.mass_flow": "0.071 kg/s"}  # of 0.142 kg/s
    assert value("exhaust.pipes-drop", twin, part=case) == pytest.approx(
        value("exhaust.pipes-drop", half, part=case), rel=1e-9
    )
    assert value("exhaust.gas-velocity", twin, part="tail") == pytest.approx(
        value("exhaust.gas-velocity", part="tail") / 2.0
    )


def test_a_twin_tail_behind_one_down_pipe() -> None:
    # turbulent: the tail's own share falls to about a quarter; the down pipe keeps its own
    one_tail, twin_tail = (
        value("exhaust.pipes-drop", {f"{EXHAUST}.pipes.tail.side_by_side": count}, part="sea-level") for count in (1, 2)
    )
    down = value("exhaust.pipes-drop", {f"{EXHAUST}.pipes.tail": {"fitted": False}}, part="sea-level")
    assert (twin_tail - down) / (one_tail - down) == pytest.approx(0.25, abs=0.05)


def test_two_silencers_share_the_gas() -> None:
    # at half the flow a silencer takes a quarter: 0.75 of its share is saved
    gone = value("exhaust.devices-drop", {f"{EXHAUST}.devices.silencer": {"fitted": False}}, part="sea-level")
    single = value("exhaust.devices-drop", part="sea-level") - gone
    twin = value("exhaust.devices-drop", {f"{EXHAUST}.devices.silencer.side_by_side": 2}, part="sea-level") - gone
    assert twin == pytest.approx(single / 4.0)


@pytest.mark.parametrize(
    ("outlets", "pipes", "outer", "kind"),
    [
        # outlet 70 mm; two pipes from one outlet: 70/√2 = 49.5 mm each, tube walls of 2 mm
        (1, 1, "73.9 mm", "fail"),
        (1, 2, "53.6 mm", "pass"),
        (1, 2, "53.4 mm", "fail"),
        # two outlets into two pipes: 70 mm each; two into one: 99 mm
        (2, 2, "73.9 mm", "fail"),
        (2, 2, "74.1 mm", "pass"),
        (2, 1, "102.9 mm", "fail"),
    ],
)
def test_first_pipes_against_the_outlets(outlets: int, pipes: int, outer: str, kind: str) -> None:
    edits = {
        "engine.exhaust.outlets": outlets,
        f"{EXHAUST}.pipes.down.side_by_side": pipes,
        f"{EXHAUST}.pipes.down.tube_outer": outer,
        "engine.exhaust.back_pressure_max": "60 kPa",
    }
    assert one("exhaust.back-pressure", edits, demand="first-pipe").kind == kind


def test_two_filters_and_two_ducts_share_the_air() -> None:
    twin = {f"{INTAKE}.filter.side_by_side": 2}
    assert value("intake.filter-load", twin, part="sea-level") == pytest.approx(
        value("intake.filter-load", part="sea-level") / 2.0
    )
    assert value("intake.filter-life", twin) == pytest.approx(2.0 * value("intake.filter-life"))
    ducts = {f"{INTAKE}.ducts.{name}.side_by_side": 2 for name in ("inlet", "filter_to_turbo")}
    half = {"engine.air.mass_flow": "0.068 kg/s"}  # of 0.136 kg/s
    assert value("intake.duct-drop", ducts, part="sea-level") == pytest.approx(
        value("intake.duct-drop", half, part="sea-level"), rel=1e-9
    )
    # everything twice is everything at half the air
    all_twice = {**ducts, **{f"{INTAKE}.{name}.side_by_side": 2 for name in ("hood", "precleaner", "filter")}}
    assert value("intake.restriction-clean", all_twice, part="sea-level") == pytest.approx(
        value("intake.restriction-clean", half, part="sea-level"), rel=1e-9
    )
    pipe = {"plumbing.charge_air.pipes.hot.side_by_side": 2}
    assert value("intake.charge-velocity", pipe, part="hot") == pytest.approx(
        value("intake.charge-velocity", part="hot") / 2.0
    )


@pytest.mark.parametrize(("rated", "kind"), [(0.51, "pass"), (0.49, "fail")])
def test_each_of_two_filters_takes_half(rated: float, kind: str) -> None:
    most = max(value("intake.volume-flow", part=case) for case in ("sea-level", "highest-place"))
    edits = {f"{INTAKE}.filter.side_by_side": 2, f"{INTAKE}.filter.rated_flow": f"{rated * most:.2f} m3/h"}
    assert one("intake.filter-capacity", edits, demand="flow").kind == kind


@pytest.mark.parametrize(("rated", "kind"), [("45.1 L/h", "pass"), ("44.9 L/h", "fail")])
def test_each_of_two_fuel_filters_passes_half(rated: str, kind: str) -> None:
    # 90 L/h through two
    edits = {"plumbing.fuel.filters.primary.side_by_side": 2, "plumbing.fuel.filters.primary.rated_flow": rated}
    assert one("fuel.filtration", edits, demand="flow.primary").kind == kind


def test_two_fuel_filters_take_half_the_drop() -> None:
    # one takes 2 kPa warm and 4 kPa cold; a filter's drop goes with its flow
    edits = {"plumbing.fuel.filters.primary.side_by_side": 2}
    assert value("fuel.filter-drop", edits, part="warm") == pytest.approx(1.0)
    assert value("fuel.filter-drop", edits, part="cold") == pytest.approx(2.0)


# -- an exhaust on rubber ----------------------------------------------------------------------------------------------
RUBBER: dict[str, Any] = {f"{EXHAUST}.flex": {"fitted": False}, f"{EXHAUST}.hangs_on": "rubber"}


def test_an_exhaust_that_hangs_on_rubber_needs_no_flexible_piece() -> None:
    assert one("exhaust.flex-section", {**RUBBER, f"{EXHAUST}.rubber_travel": "60 mm"}).kind == "pass"
    assert one("exhaust.flex-section", {**RUBBER, f"{EXHAUST}.hangs_on": "brackets"}).level == "error"
    assert one("exhaust.flex-section", {**RUBBER, f"{EXHAUST}.hangs_on": None}).kind == "open"


def test_the_rubber_lets_it_go_as_far_as_the_engine() -> None:
    moves = value("exhaust.engine-movement")
    for travel, kind in ((moves * 0.99, "fail"), (moves * 1.01, "pass")):
        found = one("exhaust.flex-section", {**RUBBER, f"{EXHAUST}.rubber_travel": f"{travel} mm"}, demand="hangers")
        assert found.kind == kind
        if kind == "fail":
            assert advised(found) == {f"{EXHAUST}.rubber_travel": pytest.approx(moves / 1e3)}
    assert one("exhaust.flex-section", RUBBER, demand="hangers").kind == "open"


# -- a radiator away from the engine -----------------------------------------------------------------------------------
REAR: dict[str, Any] = {
    f"{RADIATOR}.place": "rear",
    f"{RADIATOR}.wind_reaches": True,
    f"{RADIATOR}.runs_bleed": True,
    f"{RADIATOR}.runs_held": True,
    "plumbing.cooling.fan.drive": "electric",
}


def test_a_radiator_in_front_is_not_asked() -> None:
    assert one("cooling.remote-radiator").kind == "notApplicable"
    assert one("cooling.remote-radiator", {f"{RADIATOR}.place": None}).kind == "open"


@pytest.mark.parametrize(
    ("edits", "demand", "kind", "level"),
    [
        ({}, "fan", "pass", None),
        ({"plumbing.cooling.fan.drive": "viscous"}, "fan", "fail", "error"),
        ({"plumbing.cooling.fan": {"fitted": False}}, "fan", "fail", "error"),
        ({f"{RADIATOR}.wind_reaches": False}, "wind", "fail", "warning"),
        ({f"{RADIATOR}.wind_reaches": False, "plumbing.cooling.air.rated.fan_only": True}, "wind", "pass", None),
        ({f"{RADIATOR}.runs_bleed": False}, "bleed", "fail", "warning"),
        ({f"{RADIATOR}.runs_held": False}, "runs", "fail", "warning"),
        ({f"{RADIATOR}.runs_held": None}, "runs", "open", None),
    ],
)
def test_a_radiator_at_the_rear(edits: dict[str, Any], demand: str, kind: str, level: str | None) -> None:
    found = one("cooling.remote-radiator", {**REAR, **edits}, demand=demand)
    assert found.kind == kind
    if kind == "fail":
        assert found.level == level


def test_long_runs_are_in_the_external_circuit() -> None:
    # twelve times the length of the lower hose adds eleven times its friction
    short, long = (
        value("cooling.external-restriction", {"plumbing.cooling.hoses.lower.length": f"{length} m"})
        for length in (0.7, 8.4)
    )
    none = value("cooling.external-restriction", {"plumbing.cooling.hoses.lower.length": "0.07 m"})
    assert (long - short) / (short - none) == pytest.approx((8.4 - 0.7) / (0.7 - 0.07), rel=1e-6)
