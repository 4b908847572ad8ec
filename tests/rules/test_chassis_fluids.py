"""Fluids of brakes, clutch and steering, and seals that they ruin; each answer is worked out by hand."""

from __future__ import annotations

import pytest
from swaplint_rules.chassis.fluids import family_of
from told import Row, by_trial, says

from swaplint.kit.trial import of_part, trial

B, C, S = "vehicle.brakes.fluid", "driveline.clutch.fluid", "vehicle.steering.fluid"
MINERAL_CLUTCH = f"{C}.standards = ['mineral oil']; {C}.parts = {{'slave': {{'made_for': ['mineral oil']}}}}"
ROWS: list[Row] = [
    ("seals.master @brakes.fluid", "", "pass", "DOT 4"),
    # DOT 4 and DOT 5.1 are glycol both; DOT 5 is silicone
    ("seals.master @brakes.fluid", f"{B}.standards = ['DOT 5.1']", "pass", "both glycol"),
    ("seals.master @brakes.fluid", f"{B}.standards = ['DOT 5']", "fail error", "silicone ruins seals for glycol"),
    ("seals.wheels @brakes.fluid", f"{B}.standards = ['dot 5']", "fail error", "wheels: made for DOT 3 or DOT 4"),
    ("seals.master @brakes.fluid", f"{B}.parts.master.made_for = ['ISO 7308']", "fail error", "seals for mineral oil"),
    ("seals.servo @brakes.fluid", f"{B}.parts.servo = {{'made_for': ['ATF type A']}}", "fail error", "servo"),
    ("seals.master @brakes.fluid", f"{B}.parts.master.made_for = ['DOT 4', 'DOT 5']", "pass", ""),
    ("seals.master @brakes.fluid", f"{B}.standards = ['DOT 4', 'DOT 5']", "review", "do not mix"),
    ("seals.master @brakes.fluid", f"{B}.parts.master.made_for = ['Blue 7 (invented)']", "review", "Ask the part"),
    ("seals.master @brakes.fluid", f"{B}.parts.master.made_for = []", "review", "nothing that is named"),
    ("seals.master @brakes.fluid", f"{B}.parts.master.made_for = None", "open", "made_for"),
    # the sheet of the master cylinder asks for DOT 4
    ("grade @brakes.fluid", f"{B}.standards = ['DOT 3']", "fail warning", "boils later"),
    ("grade @brakes.fluid", f"{B}.standards = ['DOT 4']", "pass", ""),
    ("seals.slave @clutch.fluid", f"{C}.parts.slave.made_for = ['mineral oil']", "fail error", "glycol ruins seals"),
    ("one-reservoir @clutch.fluid", MINERAL_CLUTCH, "open", "filled_from"),
    ("one-reservoir @clutch.fluid", f"{MINERAL_CLUTCH}; driveline.clutch.filled_from = brakes", "fail error", "fills"),
    ("one-reservoir @clutch.fluid", f"{MINERAL_CLUTCH}; driveline.clutch.filled_from = own", "pass", "mark both lids"),
    ("seals.pump @steering.fluid", f"{S}.standards = ['DOT 4']", "fail error", "glycol ruins seals for mineral oil"),
    ("seals.pump @steering.fluid", f"{S}.standards = ['hydraulic oil HLP 32']", "pass", "both mineral oil"),
]


@pytest.mark.parametrize(("rule", "edits", "rows"), by_trial((f"hydraulic-fluid {a}", *b) for a, *b in ROWS))
def test_seals(rule: str, edits: str, rows: tuple[Row, ...]) -> None:
    says("chassis", edits, rows)


def test_a_clutch_of_the_same_fluid_is_not_asked_where_it_is_filled_from() -> None:
    assert all(f.demand != "one-reservoir" for f in trial("chassis.hydraulic-fluid"))


@pytest.mark.parametrize(
    ("part", "edits"),
    [
        ("brakes.fluid", {"vehicle.brakes.assist": "air"}),
        ("clutch.fluid", {"driveline.clutch.worked_by": "cable"}),
        ("clutch.fluid", {"driveline.gearbox.kind": "automatic"}),
        ("steering.fluid", {"vehicle.steering.assist": "electric"}),
    ],
)
def test_where_there_is_no_fluid_nothing_is_asked(part: str, edits: dict[str, str]) -> None:
    assert of_part("chassis.hydraulic-fluid", part, edits).kind == "notApplicable"


@pytest.mark.parametrize(
    ("name", "family"),
    [
        ("DOT 5", "silicone"),
        ("DOT 5.1", "glycol"),
        ("SAE J1703", "glycol"),
        ("SAE J1705", "silicone"),
        ("DOT 4 LV", "glycol"),
        ("ATF type A", "mineral oil"),
        ("Blue 7 (invented)", None),
        ("DOT 4 (silicone-free)", "glycol"),
        ("DOT 5.0", "silicone"),
        ("mineral oil, not DOT 4", None),
    ],
)
def test_what_a_fluid_is_made_of(name: str, family: str | None) -> None:
    assert family_of(name) == family
