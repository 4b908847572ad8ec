"""A comparison as SARIF says it: a state for every result or for none, what is solved as what it was."""

from __future__ import annotations

from typing import Any

import pytest

from swaplint.api import Build, Rule, Verdict, at_most, each_of, holds, rule, standard
from swaplint.gating.comparison import compare_with_spec
from swaplint.gating.earlier import earlier_of
from swaplint.inspecting.results import Report
from swaplint.reports.sarif import Profile, sarif
from tests.core.tests_making import DOC
from tests.gating.comparing import base_of, inspected
from tests.reports.sarif_checks import check_log

SOURCE = standard("Invented standard", "4.2").giving("limit", "an invented one", known="published")


def made(id: str, function: Any, **more: Any) -> Rule:
    function.__doc__ = DOC
    return rule(id, **{"level": "error", "due": "plan", "sources": [SOURCE], "about": "engine", **more})(function)


def _axle(build: Build, axle: Any) -> Verdict:
    return at_most(axle.ratio, 4.0)


def _none(build: Build) -> Verdict:
    return holds(True)


BASE = base_of(
    [
        made("gearing.axles", _axle, each=lambda b: each_of(b.driveline.axles)),
        made("mass.gvwr", lambda b: at_most(b.vehicle.mass.gvwr, 3000.0), about="vehicle.mass.gvwr"),
        made("fit.none", _none),
    ]
)
OLD = """[vehicle.mass]
gvwr = "2900 kg"
[driveline.axles.gone]
ratio = 5.0
[driveline.axles.same]
ratio = 4.5
[driveline.axles.solved]
ratio = 4.4
[driveline.axles.moved]
ratio = 3.5
"""
NEW = """[driveline.axles.same]
ratio = 4.5
[driveline.axles.solved]
ratio = 3.9
[driveline.axles.moved]
ratio = 3.6
[driveline.axles.came]
ratio = 4.6
"""


def log(profile: Profile, *, compared: bool = True) -> Any:
    now, then = inspected(BASE, NEW), inspected(BASE, OLD, label="old.toml")
    now.baseline = compare_with_spec(BASE, now, earlier_of(then)) if compared else None
    made, _ = sarif(Report("0.1.0", BASE.packs, [now]), profile=profile)
    check_log(made)
    return made["runs"][0]  # type: ignore[index]


def states(run: Any) -> dict[tuple[str, str], list[str]]:
    out: dict[tuple[str, str], list[str]] = {}
    for result in run["results"]:
        id = result["ruleId"] if "ruleId" in result else result["rule"]["id"]
        part = result["properties"].get("part", "").rpartition(".")[2]
        out.setdefault((id, part), []).append(f"{result['baselineState']} {result['kind']}")
    return {key: sorted(value) for key, value in out.items()}


def test_every_result_has_a_state_and_what_is_solved_stands_as_it_was() -> None:
    assert states(log("whole")) == {
        ("gearing.axles", "same"): ["unchanged fail"],
        ("gearing.axles", "solved"): ["absent fail", "updated pass"],
        ("gearing.axles", "moved"): ["updated pass"],
        ("gearing.axles", "came"): ["new fail"],
        ("gearing.axles", "gone"): ["absent fail"],
        ("mass.gvwr", ""): ["new open"],
        ("fit.none", ""): ["unchanged pass"],
    }


def test_alerts_have_states_too_and_what_is_solved_is_none() -> None:
    assert states(log("code-scanning")) == {
        ("gearing.axles", "same"): ["unchanged fail"],
        ("gearing.axles", "came"): ["new fail"],
        ("mass.gvwr", ""): ["new fail"],  # the alert for an answer that is owed
    }


def test_without_an_earlier_inspection_there_is_no_state() -> None:
    assert not any("baselineState" in result for result in log("whole", compared=False)["results"])


@pytest.mark.parametrize("profile", ["whole", "code-scanning"])
def test_the_same_input_gives_the_same_log(profile: Profile) -> None:
    assert log(profile) == log(profile)
