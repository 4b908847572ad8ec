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


def test_a_part_that_a_rule_misses_is_fitted(base: RuleBase) -> None:
    for part, rule, demand in (
        ("vehicle.steering.pump", "chassis.steering-flow", "there"),
        ("vehicle.towbar", "mass.load-cases", "towbar.laden"),
    ):
        finding = found(base, {part: {"fitted": False}}, rule, demand)
        assert [one.field for one in finding.remedies] == [f"{part}.fitted"]


def test_a_pilot_bush_is_fitted_as_it_is_turned_to_crank_and_shaft(base: RuleBase) -> None:
    # 0.04 mm over a bore of 35 mm, and 0.06 mm of room for a nose of 17 mm once pressing in has closed it by 0.027 mm
    edits: dict[str, object] = {
        "driveline.pilot": {"fitted": False},
        "engine.crank.pilot_bore": "35 mm",
        "driveline.gearbox.nose_diameter": "17 mm",
    }
    (remedy,) = found(base, edits, "driveline.pilot-fit", "fitted").remedies
    assert dict(remedy.fits)["driveline.pilot.outer"] == "35.04 mm"
    assert dict(remedy.fits)["driveline.pilot.inner"] == "17.09 mm"


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
