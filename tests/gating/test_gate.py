"""The gate: what shuts it at which level, and what never does."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from swaplint.api import Build, Rule, Verdict, all_of, at_most, does_not_apply, holds, informs, needs_review
from swaplint.gating.gate import GATE_LEVELS, Gate, GateLevel, gate_of, shuts
from swaplint.inspecting.results import Inspection, Suppression
from swaplint.spec.job import Stage
from tests.core.tests_making import inspected, made

LEVELS = ("error", "warning", "note")
SIGNED = Suppression("accepted by the owner", "an invented person")


def lacking(build: Build) -> Verdict:
    return at_most(build.engine.strokes, 3.0)


def failing(build: Build) -> Verdict:
    return holds(False, "no")


def broken(build: Build) -> Verdict:
    raise ZeroDivisionError


def made_of(*rules: Rule, stage: Stage = "quote") -> Inspection:
    return inspected("", *rules, stage=stage)[0]


def open_at(inspection: Inspection) -> dict[str, bool]:
    """Whether the gate is open, by its level."""
    return {level: gate_of(inspection, level).open for level in GATE_LEVELS}


SHUT_FROM = {
    "error": {"error": False, "warning": False, "note": False, "never": True},
    "warning": {"error": True, "warning": False, "note": False, "never": True},
    "note": {"error": True, "warning": True, "note": False, "never": True},
}


@pytest.mark.parametrize("level", LEVELS)
def test_a_fail_shuts_the_gate_at_its_level_and_below(level: Any) -> None:
    assert open_at(made_of(made("fit.a", failing, level=level))) == SHUT_FROM[level]


@pytest.mark.parametrize("level", LEVELS)
def test_what_is_due_shuts_the_gate_as_a_fail_of_its_rules_level(level: Any) -> None:
    assert open_at(made_of(made("fit.a", lacking, level=level, due="quote"))) == SHUT_FROM[level]


@pytest.mark.parametrize("level", LEVELS)
def test_what_is_open_and_not_due_yet_shuts_nothing(level: Any) -> None:
    inspection = made_of(made("fit.a", lacking, level=level, due="build"))
    assert [f.kind for f in inspection.findings] == ["open"]
    assert all(open_at(inspection).values())


def test_a_fail_weighs_as_its_verdict_says_and_what_is_due_as_its_rule_says() -> None:
    note = made_of(made("fit.a", lambda b: holds(False, level="note"), level="error"))
    assert open_at(note) == SHUT_FROM["note"]
    worse = made_of(made("fit.a", lambda b: holds(False, level="error"), level="note"))
    assert open_at(worse) == SHUT_FROM["error"]
    due = made_of(made("fit.a", lambda b: at_most(b.engine.strokes, 3.0, level="note"), level="error", due="plan"))
    assert open_at(due) == SHUT_FROM["error"]


@pytest.mark.parametrize(
    "verdict", [holds(True), does_not_apply("no"), informs("so"), needs_review("look")], ids=lambda v: v.kind
)
def test_nothing_else_shuts_it(verdict: Verdict) -> None:
    assert all(open_at(made_of(made("fit.a", lambda b: verdict))).values())


def test_one_demand_that_fails_is_enough_and_its_rule_is_named_once() -> None:
    rules = [
        made("fit.b", lambda b: all_of(one=holds(True), two=holds(False), three=holds(False))),
        made("fit.a", lambda b: holds(True)),
        made("fit.c", lacking, due="plan"),
    ]
    gate = gate_of(made_of(*rules), "error")
    assert (gate.open, gate.shut_by, gate.not_run) == (False, ("fit.b", "fit.c"), ())


@pytest.mark.parametrize("function", [failing, lacking])
def test_what_is_signed_off_shuts_nothing(function: Any) -> None:
    inspection = made_of(made("fit.a", function, due="plan"))
    assert not gate_of(inspection, "error").open
    inspection.findings = [replace(f, suppression=SIGNED) for f in inspection.findings]
    assert gate_of(inspection, "note") == Gate("note", (), (), 0, accepted=1)
    assert not any(shuts(f, level) for f in inspection.findings for level in GATE_LEVELS)


@pytest.mark.parametrize("level", GATE_LEVELS)
def test_a_rule_that_broke_shuts_it_whatever_the_level(level: GateLevel) -> None:
    """A gate is open only if every rule that was asked for ran."""
    gate = gate_of(made_of(made("fit.a", broken, level="note"), made("fit.b", lambda b: holds(True))), level)
    assert (gate.open, gate.shut_by, gate.not_run) == (False, (), ("fit.a",))


def test_reviews_of_error_rules_are_counted_beside_it() -> None:
    look = needs_review("look")
    rules = [
        made("fit.a", lambda b: look, level="error"),
        made("fit.b", lambda b: all_of(one=look, two=look), level="error"),
        made("fit.c", lambda b: look, level="warning"),
        made("fit.d", lambda b: look, level="note"),
    ]
    gate = gate_of(made_of(*rules), "error")
    assert (gate.open, gate.reviews) == (True, 3)
