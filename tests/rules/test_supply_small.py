"""Small functions of the supply pack, asked directly."""

from __future__ import annotations

from typing import Any

import pytest
from swaplint_rules.supply import fluid_service  # type: ignore[import-not-found]
from told import edited

from swaplint.build.view import View
from swaplint.kit.edits import sound_spec
from swaplint.kit.trial import of_part, one, rule_base

BRAKE, CLUTCH, STEERING = "brake fluid", "clutch fluid", "steering fluid"


def build(edits: str = "") -> Any:
    return View(sound_spec(rule_base(), edited(edits)).build).build


@pytest.mark.parametrize(
    ("edits", "fluids"),
    [
        ("", [BRAKE, CLUTCH, STEERING]),
        ("driveline.clutch.worked_by = cable", [BRAKE, STEERING]),
        # where nobody says what works it, it may have one
        ("driveline.clutch.worked_by = None", [BRAKE, CLUTCH, STEERING]),
        ("driveline.gearbox.kind = automatic", [BRAKE, STEERING]),
        ("vehicle.steering.assist = none", [BRAKE, CLUTCH]),
        ("vehicle.brakes.assist = air", [CLUTCH, STEERING]),
    ],
)
def test_which_hydraulic_fluids_there_are(edits: str, fluids: list[str]) -> None:
    assert [name for name, _ in fluid_service.hydraulic_fluids(build(edits))] == fluids


@pytest.mark.parametrize(("by", "name"), [("hydraulics", CLUTCH), ("cable", "")])
def test_a_clutch_on_a_cable_has_no_fluid(by: str, name: str) -> None:
    assert fluid_service._clutch_fluid(build(f"driveline.clutch.worked_by = {by}")) == name


# -- the quote ---------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("offered", "kind"), [("50.04 mm2", "pass"), ("50.053 mm2", "fail"), ("49.96 mm2", "pass"), ("49.94 mm2", "fail")]
)
def test_what_is_offered_may_differ_by_the_last_digit_of_a_conversion(offered: str, kind: str) -> None:
    # a thousandth of 50 mm²
    edits = {"supply[13].offers": [{"field": "electrics.cables.starter.size", "value": offered}]}
    assert of_part("supply.quote-matches-spec", "supply[13]", edits).kind == kind


def test_a_part_that_is_needed_after_the_work_is_waited_for_by_its_last_step() -> None:
    # begun on 2026-09-30 after 3 + 4 + 10 + 10 + 2 + 3 days the last step begins on 2026-11-01; 22 weeks from
    # 2026-05-31 are that day
    edits = {"supply[5].needed_on": "2027-06-01", "supply[5].lead_time": "22 weeks"}
    assert "'battery' (0 days in hand, order by 2026-05-31)" in one("supply.end-date", edits).message


def test_the_likely_cause_where_a_line_has_several_pieces() -> None:
    # hoses: 4 of 155 less 5 % and with 20 % tax; two batteries of 180
    hoses = {"quote.total": 17984 - 4 * 155 * 0.95 * 1.2}
    assert "'hoses, pipes and ducts' had been left out" in one("supply.quote-arithmetic", hoses, demand="total").message
    pair = one("supply.quote-arithmetic", {"supply[5].quantity": 2}, demand="total")
    assert "'battery' had been counted once, not 2 times" in pair.message


def test_without_fuel_lines_no_washers_of_theirs_are_needed() -> None:
    parts = [str(name) for name in build().supply[13].small_parts]
    for lacks, lines, kind in (
        ("fuel-washers", True, "fail"),
        ("fuel-washers", False, "pass"),
        ("hose-clamps", True, "fail"),
        ("hose-clamps", False, "fail"),
    ):
        edits = {
            "supply[14].small_parts": [name for name in parts if name != lacks],
            "plumbing.fuel.supply.fitted": lines,
        }
        assert one("supply.consumables", edits, demand="small-parts").kind == kind, (lacks, lines)
