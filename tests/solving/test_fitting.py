"""A remedy that fits a part which the build does not have: tried on the whole build, with all that it takes."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from swaplint.host.packs import RuleBase, load_rule_base
from swaplint.inspecting.results import Finding
from swaplint.kit.edits import sound_spec
from swaplint.solving.whole import inspect_whole

sys.path.insert(0, str(Path(__file__).parents[1] / "bench"))

from remedies import SPECS, Case, faults_of

LIMITER = "driveline.speed_limiter"
COOLER = "plumbing.fuel.cooler"


@pytest.fixture(scope="module")
def base() -> RuleBase:
    return load_rule_base()


def found(base: RuleBase, edits: dict[str, object], rule: str, demand: str) -> Finding:
    inspection, _ = inspect_whole(base, sound_spec(base, edits))
    return next(f for f in inspection.findings if f.rule.id == rule and f.demand == demand)


def test_a_limiter_is_fitted_for_brakes_that_fade(base: RuleBase) -> None:
    # 1.1 times the energy at the mass that it was approved for: 110 km/h times √1.1 are 115.4 km/h
    edits: dict[str, object] = {LIMITER: {"fitted": False}, "vehicle.original.top_speed": "110 km/h"}
    finding = found(base, edits, "chassis.brake-duty", "energy")
    (remedy,) = [one for one in finding.remedies if one.field == f"{LIMITER}.speed"]
    assert remedy.fits == ((f"{LIMITER}.fitted", "true"),)
    assert remedy.before is None
    assert remedy.drops == ()


def test_what_else_a_part_takes_is_as_usual(base: RuleBase) -> None:
    hot: dict[str, object] = {COOLER: {"fitted": False}, "engine.fuel.inlet_temp_max": "45 degC"}
    finding = found(base, hot, "fuel.return-heating", "")
    assert finding.kind == "fail"
    (remedy,) = [one for one in finding.remedies if one.field == f"{COOLER}.duty"]
    assert remedy.fits == ((f"{COOLER}.fitted", "true"), (f"{COOLER}.drop", "2 kPa"))


@pytest.mark.thorough
def test_on_the_examples_it_mends_and_breaks_what_it_says(base: RuleBase) -> None:
    path = SPECS / "tarnholt-tender.toml"
    number, faults = faults_of(base, Case(path.name, path.read_text(encoding="utf-8"), SPECS))
    assert faults == []
    assert number > 10


def test_what_would_make_an_error_is_not_advised(base: RuleBase) -> None:
    """The tender's return line bears no cooler beside what it takes already: the sentence names it, no remedy does."""
    from remedies import loaded

    path = SPECS / "tarnholt-tender.toml"
    inspection, _ = inspect_whole(base, loaded(base, path.read_text(encoding="utf-8"), SPECS))
    finding = next(f for f in inspection.findings if f.rule.id == "fuel.return-heating")
    assert "A return cooler of" in finding.message
    assert not finding.remedies
