"""The mass ledger takes masses from the parts that its items name; what is stated twice is compared."""

from __future__ import annotations

from typing import Any

import pytest

from swaplint.kit.trial import one, trial, value

LEDGER = "vehicle.ledger"


def changed(edits: dict[str, Any]) -> float:
    """What the edits add to the empty vehicle, kg."""
    return value("mass.empty", edits) - value("mass.empty")


def test_an_item_weighs_what_the_engine_s_sheet_says() -> None:
    # 235 kg by the ledger of the sound spec, 240 kg by the edited sheet
    edits = {f"{LEDGER}.engine.mass": None, f"{LEDGER}.engine.mass_of": ["engine"], "engine.mass.wet": "240 kg"}
    assert changed(edits) == pytest.approx(5.0)


def test_an_item_weighs_what_its_lines_of_the_scope_of_supply_say() -> None:
    # 12 kg by the ledger; two lines of 9 and 4.5 kg name the item, a third is there already
    edits = {
        f"{LEDGER}.mounts.mass": None,
        f"{LEDGER}.mounts.mass_of": ["supply"],
        "supply[1].ledger": "mounts",
        "supply[1].mass": "9 kg",
        "supply[2].ledger": "mounts",
        "supply[2].mass": "4.5 kg",
        "supply[3].ledger": "mounts",
        "supply[3].mass": "100 kg",
        "supply[3].by": "existing",
    }
    assert changed(edits) == pytest.approx(1.5)


def test_an_item_weighs_what_the_batteries_and_lines_say_together() -> None:
    # 26 kg by the ledger; a battery of 20 kg and a tray of 7 kg
    edits = {
        f"{LEDGER}.battery.mass": None,
        f"{LEDGER}.battery.mass_of": ["batteries", "supply"],
        "electrics.batteries.main.mass": "20 kg",
        "supply[5].mass": "7 kg",
    }
    assert changed(edits) == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("edits", "unknown"),
    [
        ({}, f"{LEDGER}.mounts.mass"),
        ({f"{LEDGER}.mounts.mass_of": ["supply"]}, f"{LEDGER}.mounts.mass"),  # no line names it
        (
            {f"{LEDGER}.mounts.mass_of": ["supply"], "supply[2].ledger": "mounts", "supply[2].mass": None},
            "supply[2].mass",
        ),
        ({f"{LEDGER}.mounts.mass_of": ["engine"], "engine.mass.wet": None}, "engine.mass.wet"),
    ],
)
def test_what_is_not_known_is_asked_for_where_it_belongs(edits: dict[str, Any], unknown: str) -> None:
    found = trial("mass.axle-rating", {f"{LEDGER}.mounts.mass": None, **edits})
    assert {one.kind for one in found} == {"open"}
    assert all(unknown in one.unknown for one in found)


def test_what_is_bolted_to_the_engine_weighs_what_its_item_does() -> None:
    # clutch 28 kg by the engine unit; sundries of 6 kg by the ledger
    clutch = "vehicle.engine_unit.attached.clutch"
    edits = {f"{clutch}.mass": None, f"{clutch}.ledger": "sundries"}
    assert value("mounts.unit-mass", edits) - value("mounts.unit-mass") == pytest.approx(-22.0)
    lost = one("mass.ledger-sense", {f"{clutch}.ledger": "gone"}, demand="one-mass")
    assert (lost.kind, lost.subject) == ("fail", f"{clutch}.ledger")
    assert "which the mass ledger lacks" in lost.message


def test_a_mass_in_two_places_is_the_same_within_a_twentieth() -> None:
    for wet, kind in (("235 kg", "pass"), ("240 kg", "pass"), ("250 kg", "fail")):
        found = one(
            "mass.ledger-sense", {f"{LEDGER}.engine.mass_of": ["engine"], "engine.mass.wet": wet}, demand="one-mass"
        )
        assert found.kind == kind, wet
    assert found.subject == f"{LEDGER}.engine.mass"
    assert "It is stated as 235 kg, and the parts that engine names weigh 250 kg: leave one out." in found.message


def test_of_two_masses_that_are_stated_twice_the_one_further_off_is_told() -> None:
    # 235 and 240 kg of the engine, 12 and 20 of the mounts
    edits = {
        f"{LEDGER}.engine.mass_of": ["engine"],
        "engine.mass.wet": "240 kg",
        f"{LEDGER}.mounts.mass_of": ["supply"],
        "supply[2].ledger": "mounts",
        "supply[2].mass": "20 kg",
    }
    found = one("mass.ledger-sense", edits, demand="one-mass")
    assert (found.kind, found.subject) == ("fail", f"{LEDGER}.mounts.mass")
    assert "It is stated as 12 kg, and the parts that mounts names weigh 20 kg: leave one out." in found.message
