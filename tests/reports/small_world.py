"""A small invented build with a data sheet and a few invented rules, for the tests of the text and JSON reports."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from swaplint.api import (
    Build,
    Practice,
    Rule,
    Verdict,
    all_of,
    at_least,
    at_most,
    book,
    cautions,
    does_not_apply,
    each_of,
    informs,
    needs_review,
    or_practice,
    practice,
    rule,
    sheet,
    within,
)
from swaplint.host.packs import LoadedPack, RuleBase
from swaplint.inspecting.inspection import inspect
from swaplint.inspecting.results import Report
from swaplint.spec.job import Stage
from swaplint.spec.loading import load_spec

SPEC = """\
[build]
name = "Small world (invented)"

[vehicle.mass]
gvwr = { value = "3100 kg", tol = "2 %", basis = "assumed" }

[engine]
sheet = "engine.toml"

[driveline.gearbox]
ratios = [4.3, 2.6, 1.6, 1.0]

[driveline.transfer]
fitted = false

[driveline.axles.front]
ratio = 4.1
[driveline.axles.rear]

[build.design]
ambient_max = { value = "40 degC", tol = "5 K", basis = "measured" }
"""
SHEET = """\
cylinders = 4
[document]
title = "Invented engine, data"
revision = "2"
[speed]
rated = "3400 r/min"
overspeed_max = "4400 r/min"
"""
DOC = """{question}

Computes: nothing of use.
Limit: an invented limit.
Consequence: nothing happens.
Remedy: change it.
Cannot tell: anything else.
"""
BOOK = book("Invented handbook", "table 1")
LIMIT = Practice("an invented limit of 50 °C", 323.15, practice("an invented practice"))


def made(id: str, question: str, function: Callable[..., Any], **more: Any) -> Rule:
    function.__doc__ = DOC.format(question=question)
    return rule(id, **{"level": "error", "due": "build", "sources": [BOOK], **more})(function)


def _ambient(build: Build) -> Verdict:
    limit = or_practice(lambda: build.build.design.ambient_min, LIMIT)
    return at_most(build.build.design.ambient_max, limit, "It gets warm.", scale=100.0)


RULES = [
    made(
        "mass.plate",
        "Is the vehicle light enough for its plate?",
        lambda b: at_most(b.vehicle.mass.gvwr, 3000.0, "Take something off."),
        about="vehicle.mass.gvwr",
        cautions=[cautions.CRUSHING] if hasattr(cautions, "CRUSHING") else ["Mind your hands."],
    ),
    made(
        "gearing.speeds",
        "Is the overspeed far enough above the rated speed?",
        lambda b: at_least(b.engine.speed.overspeed_max, b.engine.speed.rated),
        about="engine.speed.overspeed_max",
        sources=[sheet("engine.speed.overspeed_max")],
    ),
    made(
        "gearing.axles",
        "Is the axle short enough?",
        lambda b, axle: at_least(axle.ratio, 4.0),
        each=lambda b: each_of(b.driveline.axles),
    ),
    made(
        "gearing.ratios",
        "Is the spread right?",
        lambda b: within(b.driveline.gearbox.ratios[0] / b.driveline.gearbox.ratios[-1], 3.0, 4.0),
        about="driveline.gearbox.ratios",
        level="warning",
    ),
    made(
        "driveline.transfer",
        "Is the transfer case right?",
        lambda b: at_most(b.driveline.transfer.low, 3.0),
        about="driveline.transfer",
    ),
    made("cooling.ambient", "Is it cool enough?", _ambient, about="build.design.ambient_max"),
    made("fuel.look", "Has somebody looked?", lambda b: needs_review("Look at it."), about="plumbing"),
    made(
        "supply.count", "How many cylinders?", lambda b: informs("So many.", found=b.engine.cylinders), about="engine"
    ),
    made("fit.none", "Is there any?", lambda b: does_not_apply("There is none."), about="engine"),
]


def _demands(build: Build) -> Verdict:
    """Do its speeds suit the job?

    Computes: nothing of use.
    Limit: an invented limit.
    Consequence: it wears out early.
    Remedy: change it.
    Cannot tell: anything else.
    """
    return all_of(
        rated=at_most(build.engine.speed.rated, build.engine.speed.overspeed_max),
        idle_speed=lambda: at_least(build.engine.speed.idle, 60.0),
    )


DEMANDS = rule(
    "power.demands",
    level="warning",
    due="plan",
    sources=[BOOK.giving("limit", "least idle speed", known="second-hand")],
    about="engine.speed",
)(_demands)
"""A rule with two demands, one of which is due."""


def report(
    folder: Path, stage: Stage | None = None, spec: str = SPEC, name: str = "small.toml", more: Sequence[Rule] = ()
) -> Report:
    """The small world, inspected; with `more` rules. The current folder must be `folder`."""
    (folder / name).write_text(spec, encoding="utf-8")
    (folder / "engine.toml").write_text(SHEET, encoding="utf-8")
    packs = [LoadedPack("small", "7", True, [*RULES, *more]), LoadedPack("other", "7", False)]
    base = RuleBase(packs, [])
    inspection, problems = inspect(base, load_spec(name), stage)
    return Report("0.0", packs, [inspection], problems)


def with_finding(made: Report, index: int, **changes: Any) -> Report:
    """The same report with one finding changed."""
    inspection = made.inspections[0]
    inspection.findings[index] = replace(inspection.findings[index], **changes)
    return made
