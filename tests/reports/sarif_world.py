"""A small invented world for the tests of the SARIF report: packs, a spec, a data sheet, and their report."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from swaplint.api import (
    Build,
    Practice,
    Rule,
    Source,
    Verdict,
    all_of,
    at_least,
    at_most,
    book,
    cautions,
    does_not_apply,
    each_of,
    holds,
    informs,
    needs_review,
    or_practice,
    practice,
    rule,
    sheet,
)
from swaplint.host.packs import LoadedPack, RuleBase
from swaplint.inspecting.inspection import inspect
from swaplint.inspecting.results import Finding, Remedy, Report, Suppression
from swaplint.spec.loaded import LoadedSpec
from swaplint.spec.loading import load_spec

SHEET_NAME = "sheets/Bauer 100% #2 ä.toml"
SHEET = """\
model = "invented engine"

[document]
title = "Invented engine, installation data"
revision = "3"
date = 2026-01-31
invented = true

[speed]
rated = "2700 r/min"
governed_max = "2850 r/min"

[derate]
altitude_free = "900 m"
"""
SPEC = f"""\
# an invented build – with a first line that is a comment
[build]
format = 1
name = "Tënder {{0}} [see](1) № 7"
note = "a \\\\ backslash, 'quotes' and <b>angles</b>"

[vehicle.mass]
gvwr = "3,500 kg" # too much
gcwr = {{ value = "5200 kg", tol = "3 %", basis = "assumed" }}

[engine]
sheet = "{SHEET_NAME}"
[engine.speed]
rated = "2600 r/min"

[driveline.axles.front]
ratio = 4.1
[driveline.axles.rear]
ratio = 3.9

[driveline.tyres]
overall_diameter = "735 mm"
"""
DOC = """{question}

Computes: what it says, with a literal {{0}} and [a link](1) in it.
Limit: an invented limit.
Consequence: it wears out early.
Remedy: change it.
Cannot tell: anything else.
"""
BOOK = book("Invented handbook", "table 1", known="published")


def make(
    id: str,
    function: Callable[..., Any],
    *,
    question: str = "Is it as it should be?",
    sources: Sequence[Source] = (BOOK,),
    **more: Any,
) -> Rule:
    """A rule out of a plain function, with a docstring."""
    function.__doc__ = DOC.format(question=question)
    more = {"level": "error", "due": "quote", **more}
    return rule(id, sources=sources, **more)(function)


def _mass(build: Build) -> Verdict:
    return at_most(build.vehicle.mass.gvwr, 3000.0, "The vehicle is plated too heavy.")


def _combined(build: Build) -> Verdict:
    return at_most(build.vehicle.mass.gcwr, 5000.0)


def _governed(build: Build) -> Verdict:
    return at_least(build.engine.speed.governed_max, build.engine.speed.rated)


def _altitude(build: Build) -> Verdict:
    return holds(build.engine.derate.altitude_free > 1e3, "It loses power", on="engine.derate.altitude_free")


def _axle(build: Build, axle: Any) -> Verdict:
    return at_least(axle.ratio, 4.0, "The axle is too long.")


def _overspeed(build: Build) -> Verdict:
    return at_most(build.engine.speed.rated, build.engine.speed.overspeed_max)


def _fallback(build: Build) -> Verdict:
    grip = Practice("invented grip 0.8", 0.8, practice("invented practice"))
    return at_least(or_practice(lambda: build.driveline.drivetrain.traction_coefficient, grip), 0.7)


def _demands(build: Build) -> Verdict:
    return all_of(
        rated=at_most(build.engine.speed.rated, 250.0, "It turns too fast."),
        overspeed=lambda: at_least(build.engine.speed.overspeed_max, 300.0),
    )


def _owed(build: Build, axle: Any) -> Verdict:
    return at_least(axle.output_torque_rating, 1000.0)


def _hostile(build: Build) -> Verdict:
    return needs_review(f"Somebody must read\n{build.build.name}", on="no field, at all")


def _broken(build: Build) -> Verdict:
    raise RuntimeError(f"boom on {build.engine.speed.rated:.0f}")


OWN = [
    make("mass.plated", _mass, sources=[BOOK, sheet("vehicle.mass.gvwr")], adjust=["vehicle.mass.gvwr"]),
    make("mass.combined", _combined, level="warning", adjust=["vehicle.mass.gcwr"]),
    make("gearing.governed", _governed, about="engine.speed.governed_max", cautions=[cautions.ROTATING]),
    make("gearing.altitude", _altitude, about="engine.derate.altitude_free", level="note"),
    make("gearing.axles", _axle, each=lambda b: each_of(b.driveline.axles), adjust=["driveline.axles.*.ratio"]),
    make("gearing.overspeed", _overspeed, about="engine.speed.overspeed_max"),
    make("gearing.fallback", _fallback, about="driveline.drivetrain.traction_coefficient"),
    make("gearing.demands", _demands, about="engine.speed.rated", level="warning"),
    make("gearing.owed", _owed, each=lambda b: each_of(b.driveline.axles), due="plan", level="warning"),
    make("gearing.nothing", lambda build: does_not_apply("There is none."), about="engine"),
    make("gearing.tells", lambda build: informs("So it is.", found=2.5), about="engine.speed"),
    make("gearing.broken", _broken, about="engine.speed.rated"),
]
SHOP = [
    make("fuel.shop", _hostile, about="build.name", aliases=("fuel.shop-former",), cautions=[cautions.FUEL_FIRE]),
    make(
        "fuel.shop-tyres",
        lambda build: at_least(build.driveline.tyres.overall_diameter, 0.8, "They are too small."),
        about="driveline.tyres.overall_diameter",
        sources=[book("Other invented book", known="from memory")],
    ),
]


def packs() -> list[LoadedPack]:
    """A built-in pack, and two of somebody else's; one of those without a sound rule."""
    return [
        LoadedPack("own", "0.1.0", True, list(OWN)),
        LoadedPack("zz-empty", "1", False),
        LoadedPack("shop", "2.0", False, list(SHOP)),
    ]


def write_spec(folder: Path, *, name: str = "spec.toml", text: str = SPEC) -> Path:
    """Write the spec and its sheet into a folder."""
    (folder / "sheets").mkdir(parents=True, exist_ok=True)
    (folder / SHEET_NAME).write_text(SHEET, encoding="utf-8", newline="")
    (folder / name).write_text(text, encoding="utf-8", newline="")
    return folder / name


def _signed_off(finding: Finding) -> Finding:
    if finding.rule.id == "mass.plated":
        return replace(
            finding,
            remedies=(Remedy("vehicle.mass.gvwr", 3500.0, 3000.0, "kg", "mass", ("fuel.shop",), (), "3000 kg"),),
        )
    if finding.rule.id == "mass.combined":
        return replace(
            finding, remedies=(Remedy("vehicle.mass.gcwr", 5200.0, 5000.0, "kg", "mass", written='"5000 kg"'),)
        )
    if finding.rule.id == "gearing.axles" and finding.kind == "fail":
        return replace(
            finding,
            remedies=(
                Remedy("driveline.axles.rear.ratio", 3.9, 4.1, "", "", written="4.1"),
                Remedy("engine.derate.altitude_free", 900.0, 1000.0, "m", "length", written="1000 m"),
            ),
        )
    if finding.rule.id == "fuel.shop-tyres":
        return replace(finding, suppression=Suppression("It never leaves the yard.", "the owner", "2027-01-31"))
    return finding


def report_of(*specs: LoadedSpec, packs_in: Sequence[LoadedPack] | None = None) -> Report:
    """Inspect specs with the packs of this world, and add remedies and a deviation."""
    base = RuleBase(packs=list(packs() if packs_in is None else packs_in))
    report = Report("0.1.0", base.packs)
    for spec in specs:
        inspection, problems = inspect(base, spec)
        inspection.findings = [_signed_off(finding) for finding in inspection.findings]
        report.inspections.append(inspection)
        report.problems.extend(problems)
    return report


def load(path: Path | str) -> LoadedSpec:
    """Load a spec as the command line would."""
    return load_spec(str(path))
