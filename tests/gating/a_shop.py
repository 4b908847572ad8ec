"""An invented shop: a few rules, a spec that departs from them, and its files beside the spec."""

from __future__ import annotations

import functools
from pathlib import Path
from typing import Any

from swaplint.api import Build, Rule, Verdict, all_of, at_least, at_most, does_not_apply, holds, needs_review, within
from swaplint.gating.policy import Policy, read_policy
from swaplint.gating.terms import CallTerms, judge
from swaplint.host.packs import RuleBase
from swaplint.host.problems import Problem
from swaplint.inspecting.inspection import inspect
from swaplint.inspecting.results import Finding, Inspection
from swaplint.inspecting.selection import EVERYTHING, Selection
from swaplint.spec.job import Stage
from swaplint.spec.loading import load_text
from tests.core.tests_making import base_of, made

SPEC = """[build]
stage = "quote"
[vehicle]
wheelbase = "3000 mm"
track_front = "1500 mm"
[engine]
cylinders = 6
strokes = 2
[driveline.axles.front]
ratio = 4.1
[driveline.axles.rear]
ratio = 4.3
"""
ON = "2026-06-01"


@functools.cache
def rules() -> list[Rule]:
    """A rule of each sort; the spec above fails all but two of them."""

    def long(build: Build) -> Verdict:
        return at_most(build.vehicle.wheelbase, 2.9)

    def narrow(build: Build) -> Verdict:
        return at_least(build.vehicle.track_front, 1.6)

    def between(build: Build) -> Verdict:
        return within(build.vehicle.track_front, 1.6, 1.7)

    def each_axle(build: Build, axle: Any) -> Verdict:
        return at_most(axle.ratio, 4.0)

    def two(build: Build) -> Verdict:
        return all_of(
            length=lambda: at_most(build.vehicle.wheelbase, 2.9), shape=lambda: holds(build.engine.strokes > 3, "No.")
        )

    def word(build: Build) -> Verdict:
        return holds(build.engine.cylinders < 5, "Six.")

    def doubt(build: Build) -> Verdict:
        return needs_review("A person must look." if build.engine.cylinders else "")

    def passes(build: Build) -> Verdict:
        return holds(build.engine.cylinders > 5, "Six.")

    def lacks(build: Build) -> Verdict:
        return at_most(build.engine.displacement, 0.003)

    def elsewhere(build: Build) -> Verdict:
        return does_not_apply("Not here.")

    return [
        made("fit.long", long, level="warning", about="vehicle.wheelbase"),
        made("fit.narrow", narrow),
        made("fit.between", between),
        made("gearing.each-axle", each_axle, each=lambda b: b.driveline.axles.values(), aliases=["gearing.each-old"]),
        made("fit.two", two),
        made("fit.word", word),
        made("fit.doubt", doubt),
        made("fit.passes", passes),
        made("fit.lacks", lacks, due="quote"),
        made("fit.elsewhere", elsewhere),
    ]


def deviation(rule: str, **more: str) -> str:
    """A deviation as a spec or a file of the shop's holds it, signed as it must be; what is empty is left out."""
    stated = {
        "rule": rule,
        "reason": "the owner has seen it",
        "by": "A. Hollin",
        "date": "2026-05-01",
        "until": "2026-12-31",
        **more,
    }
    return "[[deviations]]\n" + "".join(f'{name} = "{value}"\n' for name, value in stated.items() if value)


def shop(
    *deviations: str,
    base: RuleBase | None = None,
    terms: CallTerms | None = None,
    stage: Stage | None = None,
    selection: Selection = EVERYTHING,
    spec: str = SPEC,
) -> tuple[Inspection, list[Problem]]:
    """The spec with deviations of its own, judged."""
    base = base or base_of(*rules())
    inspection, broken = inspect(
        base, load_text(spec + "".join(deviations), label="s.toml"), stage, selection=selection
    )
    assert not broken
    return inspection, judge(inspection, base, terms or CallTerms(ON))


def policy_of(folder: Path, text: str, base: RuleBase | None = None) -> Policy:
    """A policy out of a text, with the name, revision and date that each must have."""
    file = folder / "policy.toml"
    file.write_text(f'name = "Hollin gate"\nrevision = "4"\ndate = 2026-05-01\n{text}', encoding="utf-8")
    return read_policy(str(file), base or base_of(*rules()))


def found(inspection: Inspection, rule: str, part: str = "", demand: str = "") -> Finding:
    """The one result of a rule, part and demand."""
    (one,) = [f for f in inspection.findings if f.rule.id == rule and part in ("", f.part) and demand in ("", f.demand)]
    return one
