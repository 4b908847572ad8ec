"""What is measured on the finished vehicle: not asked before it is due, of no weight for a build with other parts."""

from __future__ import annotations

import pytest
from tests_making import base_of, made

from swaplint.api import Build, Verdict, as_stated, at_most, carried, within
from swaplint.build.view import View
from swaplint.inspecting.inspection import inspect
from swaplint.solving.what_if import WhatIf
from swaplint.solving.whole import inspect_whole
from swaplint.spec.facts import Stated
from swaplint.spec.job import Stage
from swaplint.spec.loading import load_text

SPEC = """
engine.cylinders = 4
[measured.cranking]
current = { value = "400 A", tol = "10 %", basis = "measured" }
feed_drop = "0.4 V"
"""


def loud(build: Build) -> Verdict:
    return at_most(build.measured.cranking.current * build.engine.cylinders, 1700.0)


def compared(build: Build) -> Verdict:
    trial = build.measured.cranking
    stated = as_stated(build, "measured.cranking.current")
    assert stated is not None
    return carried(within(trial.current, 430.0 - stated.tol, 430.0 + stated.tol, level="warning"))


def test_a_value_as_stated_has_its_tolerance_and_counts_as_read() -> None:
    def asking(build: Build) -> Verdict:
        assert as_stated(build, "measured.cranking.current") == Stated(400.0, 40.0, "measured", "400 A")
        assert as_stated(build, "measured.cranking.air") is None
        return at_most(1.0, 2.0)

    inspection, problems = inspect(base_of(made("commissioning.a", asking)), load_text(SPEC), "commission")
    assert not problems
    assert inspection.findings[0].inputs == ("measured.cranking.current",)
    assert inspection.findings[0].optional == ("measured.cranking.air",)


def test_tolerances_that_are_in_the_limit_are_not_carried_again() -> None:
    # 400 A ± 40 A against 430 A: inside 390 to 470 A. At 360 A it would not be, which is no news.
    rules = [made("commissioning.compared", compared), made("commissioning.loud", loud)]
    inspection, problems = inspect_whole(base_of(*rules), load_text(SPEC), stage="commission")
    assert not problems
    kinds = {finding.rule.id: finding.kind for finding in inspection.findings}
    # 400·4 = 1600 passes, 440·4 = 1760 does not: that one asks for a person
    assert kinds == {"commissioning.compared": "pass", "commissioning.loud": "review"}


def test_another_part_makes_another_vehicle() -> None:
    rules = [made("commissioning.loud", loud, due="commission"), made("power.loud", loud)]
    spec = load_text(SPEC)
    what_if = WhatIf(base_of(*rules), spec, "commission", View(spec.build))
    assert [rule.id for rule in what_if.rules_touched(["engine.cylinders"])] == ["power.loud"]
    touched = [rule.id for rule in what_if.rules_touched(["measured.cranking.current"])]
    assert touched == ["commissioning.loud", "power.loud"]


@pytest.mark.parametrize(("stage", "asked"), [("plan", []), ("build", []), ("commission", ["measured.cranking.air"])])
def test_nobody_is_asked_to_measure_on_a_vehicle_that_is_not_finished(stage: Stage, asked: list[str]) -> None:
    cold = made("commissioning.cold", lambda build: at_most(build.measured.cranking.air, 300.0), due="commission")
    inspection, problems = inspect(base_of(cold), load_text(SPEC), stage)
    assert not problems
    (finding,) = inspection.findings
    assert (finding.kind, finding.due) == ("open", stage == "commission")
    assert [ask.field for ask in inspection.ask_next] == asked
