"""Axles that no propshaft drives: behind a chain, a belt, motors, or with the final drive in the gearbox's housing.

By hand: a wheel of 45 teeth at a pitch of 25.4 mm has 25.4/(2·sin 4°) = 182.06 mm of radius for a chain,
45·25.4/(2π) = 181.91 mm for a toothed belt.
"""

from __future__ import annotations

from typing import Any

import pytest
from told import Row, by_trial, says

from swaplint.kit.trial import trial, value

REAR = "driveline.axles.rear"
NONE = "driveline.shafts.rear = {'fitted': False}"
WHEEL = f"{REAR}.final_chain = {{'teeth': 45, 'pitch': '25.4 mm', 'pull_max': '80 kN'}}"
CHAIN = f"{REAR}.driven_through = chain; {WHEEL}; {NONE}"

ROWS: list[Row] = [
    # a shaft that is left out: where nobody says what else drives the axle, and where a shaft is said to
    ("driveline.housing-match @rear.input_flange", f"{NONE}; {REAR}.integral = None", "open", "driven_through is not"),
    ("driveline.housing-match joined @rear.input_flange", NONE, "fail error", "no shaft drives"),
    (
        "driveline.housing-match joined @rear.input_flange",
        f"{NONE}; {REAR}.integral = None; {REAR}.driven_through = shaft",
        "fail error",
        "no shaft drives",
    ),
    # a shaft that drives nothing of the build has its name wrong: no other drive is asked for
    (
        "driveline.housing-match joined @axles.rear.input_flange",
        f"driveline.shafts.rear.drives = Rear; {REAR}.integral = None",
        "fail error",
        "no shaft drives",
    ),
    ("driveline.chain-pull", "", "notApplicable", ""),
    ("driveline.chain-pull @rear", CHAIN, "pass", "pull at the chain, which bears 80 000 N"),
    ("driveline.chain-pull @rear", f"{CHAIN}; {REAR}.final_chain.pull_max = 33 kN", "fail error", "Fit a stronger one"),
    ("driveline.chain-pull @rear", f"{CHAIN}; {REAR}.final_chain.pull_max = None", "open", "pull_max is not stated"),
    ("driveline.chain-pull @rear", f"{REAR}.driven_through = belt; {NONE}", "open", "final_chain.teeth"),
    ("driveline.chain-pull @rear", f"{CHAIN}; {REAR}.final_chain.teeth = 5", "review", "no chain or belt runs"),
    # motors have no ratio: nothing that hangs on one is passed or failed
    ("gearing.startability solo", f"{REAR}.driven_through = hydraulic; {NONE}", "review", "ratio is not fixed"),
    ("driveline.axle-torque torque @rear", f"{REAR}.driven_through = electric; {NONE}", "review", "electric motors"),
    # at the unit a chain pulls; behind a transfer case that stands by itself it does not
    ("mounts.torque-reaction @rear_left", CHAIN, "review", "a chain at the unit"),
]


@pytest.mark.parametrize(("rule", "edits", "rows"), by_trial(ROWS))
def test_what_is_said(rule: str, edits: str, rows: tuple[Row, ...]) -> None:
    pack = rule.split(".")[0]
    says(pack, edits, [(row[0].partition(".")[2], row[1], row[2], row[3]) for row in rows])


@pytest.mark.parametrize(("through", "radius"), [("chain", 0.18206), ("belt", 0.18191)])
def test_the_pull_of_a_chain_and_of_a_belt(through: str, radius: float) -> None:
    edits: dict[str, Any] = {
        f"{REAR}.driven_through": through,
        f"{REAR}.final_chain": {"teeth": 45, "pitch": "25.4 mm", "pull_max": "80 kN"},
        "driveline.shafts.rear": {"fitted": False},
    }
    torque = value("driveline.axle-torque", edits, part="rear")
    assert value("driveline.chain-pull", edits, part="rear") == pytest.approx(torque / radius, rel=1e-4)
    # a reduction in the hubs takes the chain's share of the torque down
    edits |= {f"{REAR}.hub_reduction": 2.0, f"{REAR}.ring_teeth": None, f"{REAR}.pinion_teeth": None}
    assert value("driveline.chain-pull", edits, part="rear") == pytest.approx(torque / radius / 2.0, rel=1e-4)


@pytest.mark.parametrize("through", ["chain", "belt", "hydraulic", "electric"])
def test_no_shaft_is_missed_where_something_else_drives(through: str) -> None:
    edits: dict[str, Any] = {f"{REAR}.driven_through": through, "driveline.shafts.rear": {"fitted": False}}
    found = trial("driveline.housing-match", edits)
    assert not [finding for finding in found if f"{REAR}." in finding.part or finding.kind != "pass"]
