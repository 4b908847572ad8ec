"""Remedies as they are printed, put into the file: they mend what they are for, and break what they name.

A sample of what `tests/bench/remedies.py` goes through whole.
"""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from swaplint.host.packs import RuleBase, load_rule_base
from swaplint.kit.edits import sound_spec
from swaplint.solving.whole import inspect_whole

sys.path.insert(0, str(Path(__file__).parents[1] / "bench"))

from remedies import Case, cases, faults_of

SAMPLE = 75
"""Each so-many-th case is looked at here."""


@pytest.fixture(scope="module")
def base() -> RuleBase:
    return load_rule_base()


@pytest.mark.thorough
def test_a_sample_of_all_remedies(base: RuleBase) -> None:
    number, faults = 0, []
    for case in list(cases(base))[3::SAMPLE]:
        more, wrong = faults_of(base, case)
        number, faults = number + more, faults + wrong
    assert faults == []
    assert number >= 3


@pytest.mark.parametrize("rule", ["gearing.cruise-rpm", "fuel.suction-loss", "power.circuit-drop"])
def test_remedies_of_a_rule(base: RuleBase, rule: str) -> None:
    number, faults = 0, []
    for case in cases(base, [rule]):
        more, wrong = faults_of(base, case)
        number, faults = number + more, faults + wrong
    assert faults == []
    assert number >= 1


def test_the_check_can_fail(base: RuleBase) -> None:
    """A remedy that mends nothing, or breaks what it does not name, is found."""
    (case, *_) = cases(base, ["fuel.suction-loss"])
    spoilt = Case(case.name, case.text, case.folder)
    assert faults_of(base, spoilt)[1] == []
    import remedies

    real = remedies._in_file
    try:
        remedies._in_file = lambda remedy: "1 mm" if remedy.unit == "mm" else real(remedy)
        assert any("fails still" in fault for fault in faults_of(base, spoilt)[1])
    finally:
        remedies._in_file = real


def test_another_final_drive_has_other_teeth(base: RuleBase) -> None:
    """With the old teeth beside it every ratio contradicted the sheet: they go, and the remedy says so."""
    edits = {"driveline.axles.*.ratio": 6.9}
    inspection, problems = inspect_whole(base, sound_spec(base, edits))
    assert not problems
    remedies = [
        remedy
        for finding in inspection.findings
        for remedy in finding.remedies
        if finding.rule.id == "gearing.cruise-rpm" and remedy.field == "driveline.axles.*.ratio"
    ]
    assert remedies
    for remedy in remedies:
        assert "driveline.axle-torque" not in remedy.breaks
        assert set(remedy.drops) == {
            f"driveline.axles.{axle}.{teeth}_teeth" for axle in ("front", "rear") for teeth in ("ring", "pinion")
        }
