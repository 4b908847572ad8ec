"""The cooling of the example builds: hand values, planted items, and mistakes seeded into a copy."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from swaplint.inspecting.inspection import inspect
from swaplint.inspecting.results import Finding
from swaplint.kit.trial import rule_base
from swaplint.spec.loading import load_spec
from swaplint.units import KINDS, to_unit

SPECS = Path(__file__).parents[2] / "specs"
COOLING = "plumbing.cooling"


def inspected(path: Path) -> list[Finding]:
    inspection, problems = inspect(rule_base(), load_spec(str(path)))
    assert not problems
    return inspection.findings


def found_in(findings: list[Finding], rule: str, part: str = "", demand: str = "") -> Finding:
    """The finding of a rule about a part: in one of its demands, or in the worst of them, which stands first."""
    about = (f for f in findings if f.rule.id == rule and f.part.endswith(part))
    return next(f for f in about if not demand or f.demand == demand)


@pytest.fixture(scope="module")
def tender() -> list[Finding]:
    return inspected(SPECS / "tarnholt-tender.toml")


@pytest.fixture(scope="module")
def van() -> list[Finding]:
    return inspected(SPECS / "skerrivar-van.toml")


def in_unit(found: Finding) -> float:
    assert found.found is not None
    return to_unit(found.found, found.unit, KINDS[found.quantity])


def test_tender_by_hand(tender: list[Finding]) -> None:
    # top tank at 43 °C: 43 + 27/2.6156 + 78/(0.68·2.6156) = 97.2 °C; limiting ambient 43 + (105 − 97.2) = 50.8 °C
    ambient = found_in(tender, "cooling.ambient-capability", "rated", "sea-level")
    assert ambient.kind == "pass"
    assert "cools up to 50.82 °C" in ambient.message
    # boil margin at 1200 m: (87.7 + 100)/0.75542 = 248.5 kPa, 127.2 °C (steam tables) − 105 = 22 K
    boil = found_in(tender, "cooling.boil-margin", demand="boiling")
    assert boil.kind == "pass"
    assert "22.21 K above the 105 °C" in boil.message
    assert {f.kind for f in tender if f.rule.id == "cooling.radiator-capacity"} == {"pass"}


def test_tender_expansion_tank_is_too_small(tender: list[Finding]) -> None:
    # 31·(0.0580 + 0.10) = 4.90 L against 4.5 L: the planted narrow item
    found = found_in(tender, "cooling.expansion-volume")
    assert (found.kind, found.level, found.subject) == ("fail", "warning", f"{COOLING}.expansion_tank.volume")
    assert found.limit is not None
    assert found.limit.value == pytest.approx(4.90e-3, rel=2e-3)
    assert in_unit(found) == pytest.approx(4.5)
    assert [f.rule.id for f in tender if f.kind == "fail" and f.rule.id.startswith("cooling.")] == [found.rule.id]


def test_van_states_its_heat_at_rated_speed_only(van: list[Finding]) -> None:
    # rated: 0.62·1.4587·(110 − 35 − 11/1.4587) = 61.0 kW against 1.1·55 = 60.5 kW
    rated = found_in(van, "cooling.radiator-capacity", "rated")
    assert rated.kind == "pass"
    assert in_unit(rated) == pytest.approx(61.0, rel=2e-3)
    assert found_in(van, "cooling.radiator-capacity", "peak_torque").kind == "review"


@pytest.mark.parametrize(
    ("line", "wrong", "rule", "demand", "field"),
    [
        (
            'cap_pressure = "100 kPa"',
            'cap_pressure = "85 kPa"',
            "cooling.boil-margin",
            "least-cap",
            f"{COOLING}.cap_pressure",
        ),
        (
            'above_highest = "40 mm"',
            'above_highest = "-60 mm"',
            "cooling.fill-deaeration",
            "height",
            f"{COOLING}.expansion_tank.above_highest",
        ),
    ],
)
def test_seeded_mistakes_are_reported_once(
    tmp_path: Path, tender: list[Finding], line: str, wrong: str, rule: str, demand: str, field: str
) -> None:
    shutil.copytree(SPECS, tmp_path / "specs")
    path = tmp_path / "specs" / "tarnholt-tender.toml"
    text = path.read_text(encoding="utf-8")
    assert text.count(line) == 1
    path.write_text(text.replace(line, wrong), encoding="utf-8")
    before = {(f.rule.id, f.part, f.demand): (f.kind, f.level, f.subject) for f in tender}
    after = {(f.rule.id, f.part, f.demand): (f.kind, f.level, f.subject) for f in inspected(path)}
    changed = {key: after[key] for key in after if after[key] != before[key]}
    assert changed == {(rule, "", demand): ("fail", "error", field)}
    assert before.keys() == after.keys()
