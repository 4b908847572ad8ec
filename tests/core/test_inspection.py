"""Running rules over a spec: what a missing input, a fallback, a broken rule makes of it, and in which order."""

from __future__ import annotations

import itertools
import time
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from tests_making import SOURCE, base_of, inspected, made

from swaplint.api import (
    Build,
    ImpossibleInput,
    OutsideRange,
    Practice,
    Verdict,
    all_of,
    at_least,
    at_most,
    does_not_apply,
    each_of,
    given,
    holds,
    informs,
    needs_review,
    or_practice,
    practice,
    quantity,
)
from swaplint.declare.verdicts import LEVELS
from swaplint.inspecting.inspection import inspect
from swaplint.inspecting.results import Finding, Inspection, Suppression
from swaplint.inspecting.running import run_rule
from swaplint.spec.job import Stage
from swaplint.spec.loading import load_text
from swaplint.spec.model import Build as Model
from swaplint.spec.shape import facts_at

SPEC = """\
[engine]
cylinders = 4
speed.idle = "750 r/min"

[driveline.transfer]
fitted = false

[driveline.axles.front]
ratio = 4.1
[driveline.axles.rear]
driven = true
[driveline.axles.tag]
fitted = false
"""


def findings(toml: str, rule: Any, stage: Stage | None = None) -> list[Finding]:
    inspection, problems = inspected(toml, rule, stage=stage)
    assert not problems
    return inspection.findings


def finding(toml: str, function: Callable[..., Any], stage: Stage | None = None, **declared: Any) -> Finding:
    (only,) = findings(toml, made("fit.made-up", function, **declared), stage)
    return only


# -- what a rule rests on ------------------------------------------------------------------------------------
def test_a_finding_cites_what_was_read_in_order_with_its_line() -> None:
    def read(build: Build) -> Verdict:
        return at_least(build.engine.speed.idle, 10.0 * build.engine.cylinders)

    inspection, _ = inspected(SPEC, made("fit.made-up", read))
    (found,) = inspection.findings
    assert found.kind == "pass"
    assert found.inputs == ("engine.speed.idle", "engine.cylinders")
    places = [inspection.spec.place(path) for path in found.inputs]
    assert [(place.file, place.line, place.column) for place in places] == [("s.toml", 3, 14), ("s.toml", 2, 13)]
    facts = inspection.facts_of("engine.speed.idle")
    assert facts is not None
    assert facts.unit == "r/min"


# -- unknown -------------------------------------------------------------------------------------------------
def missing(build: Build) -> Verdict:
    return at_most(build.engine.strokes * build.engine.cylinders * build.vehicle.mass.gvwr, build.vehicle.mass.gcwr)


@pytest.mark.parametrize(
    ("due", "stage", "owed"),
    [
        ("plan", "idea", False),
        ("plan", "plan", True),
        ("quote", "plan", False),
        ("quote", "quote", True),
        ("quote", "build", True),
        ("build", "quote", False),
        ("commission", "build", False),
        ("commission", "commission", True),
    ],
)
def test_unknown_is_open_at_every_stage_and_owed_from_the_due_stage_on(due: Stage, stage: Stage, owed: bool) -> None:
    found = finding(SPEC, missing, stage, due=due, level="warning")
    assert (found.kind, found.level, found.due) == ("open", None, owed)
    assert found.unknown == ("engine.strokes", "vehicle.mass.gvwr", "vehicle.mass.gcwr")
    assert found.found is None
    assert found.limit is None
    assert found.margin is None
    assert "engine.strokes, vehicle.mass.gvwr, vehicle.mass.gcwr are not stated" in found.message
    assert (f"due from the {due} stage" in found.message) == owed
    assert found.inputs == ("engine.cylinders",)


def test_the_stage_comes_from_the_spec_unless_the_caller_names_one() -> None:
    assert finding('build.stage = "build"', missing).due
    assert not finding('build.stage = "build"', missing, "plan").due
    assert finding("", missing, "build").due


@pytest.mark.parametrize(
    ("toml", "stage", "judged_as", "assumed"),
    [
        ("", None, "plan", True),
        ("", "quote", "quote", False),
        ('build.stage = "idea"', None, "idea", False),
        ('build.stage = "idea"', "build", "build", False),
    ],
)
def test_a_spec_without_a_stage_is_judged_as_a_plan_and_that_is_said(
    toml: str, stage: Stage | None, judged_as: Stage, assumed: bool
) -> None:
    inspection, _ = inspected(toml, made("fit.made-up", missing, due="plan"), stage=stage)
    assert (inspection.stage, inspection.assumed_stage) == (judged_as, assumed)
    assert inspection.findings[0].due == (judged_as != "idea")


@pytest.mark.parametrize("fail", [True, False])
def test_probing_never_decides(fail: bool) -> None:
    """A rule that goes on with typical values finds what it lacks, but no verdict of that run is ever seen."""

    def rule(build: Build) -> Verdict:
        return holds(build.engine.strokes < (0 if fail else 100), "a verdict on a typical value")

    found = finding("", rule)
    assert found.kind == "open"
    assert "typical" not in found.message


def test_probing_that_ends_in_trouble_costs_nothing() -> None:
    def rule(build: Build) -> Verdict:
        return at_most(1.0 / (build.engine.strokes - 4.0), 1.0)  # the typical number of strokes is four

    inspection, problems = inspected("", made("fit.made-up", rule))
    assert not problems
    assert inspection.findings[0].unknown == ("engine.strokes",)


def test_one_field_is_said_in_the_singular() -> None:
    found = finding("", lambda build: at_most(build.engine.strokes, 3.0))
    assert found.message == "Cannot be decided: engine.strokes is not stated."


@pytest.mark.parametrize(
    ("function", "foretold"),
    [
        (lambda build: at_most(build.engine.strokes, 4.0), True),  # four strokes are typical
        (lambda build: at_most(build.engine.strokes, 3.0), False),  # a foretold fail is right too seldom to be said
        (lambda build: holds(build.engine.strokes + build.engine.cylinders > 0.0), True),
        (lambda build: holds(build.engine.strokes + build.engine.cylinders + build.vehicle.mass.gvwr > 0.0), False),
        (lambda build: needs_review("look", found=build.engine.strokes), False),
        (lambda build: all_of(a=at_most(build.engine.strokes, 4.0), b=at_most(build.engine.strokes, 3.0)), False),
    ],
)
def test_where_few_fields_lack_and_typical_values_pass_that_is_said_and_decides_nothing(
    function: Callable[..., Any], foretold: bool
) -> None:
    found = finding("", function)
    assert (found.kind, found.usually_passes) == ("open", foretold)
    assert ("As things usually are this passes." in found.message) == foretold
    assert (found.found, found.limit, found.margin) == (None, None, None)


def test_a_finding_that_is_open_points_somewhere() -> None:
    found = finding(SPEC, lambda b, axle: at_most(axle.ratio, 4.0), each=lambda b: each_of(b.supply), about="")
    assert found.kind == "open"
    assert found.subject == "supply"


# -- not fitted ----------------------------------------------------------------------------------------------
def test_a_part_that_is_not_fitted_makes_the_rule_not_applicable() -> None:
    found = finding(SPEC, lambda b: at_most(b.driveline.transfer.low, 3.0), "commission")
    assert (found.kind, found.level) == ("notApplicable", None)
    assert found.message == "driveline.transfer is not fitted."
    assert found.inputs == ("driveline.transfer.fitted",)


def test_a_rule_that_finds_no_part_says_so() -> None:
    for toml in ("[driveline.shafts]\n", "driveline.shafts = {}\n"):
        found = finding(toml, lambda b, shaft: at_most(shaft.length, 4.0), each=lambda b: each_of(b.driveline.shafts))
        assert found.kind == "notApplicable"


def test_a_table_that_every_build_needs_is_unknown_when_it_is_empty() -> None:
    for toml in ("[driveline.axles]\n", "driveline.axles = {}\n"):
        found = finding(toml, lambda b, axle: at_most(axle.ratio, 4.0), each=lambda b: each_of(b.driveline.axles))
        assert (found.kind, found.unknown) == ("open", ("driveline.axles",))
        assert found.message.startswith("Cannot be decided: driveline.axles is empty.")
    both = finding("driveline.axles = {}\n", lambda b: holds(len(b.driveline.axles) + b.engine.cylinders > 2.0))
    assert both.message.startswith("Cannot be decided: engine.cylinders is not stated and driveline.axles is empty.")


# -- several parts -------------------------------------------------------------------------------------------
def test_every_part_has_its_own_verdict() -> None:
    rule = made(
        "gearing.made-up",
        lambda b, axle: at_most(axle.ratio, 4.0),
        each=lambda b: each_of(b.driveline.axles),
        about="driveline.axles.*.ratio",
    )
    found = {f.part: f for f in findings(SPEC, rule)}
    assert {part: f.kind for part, f in found.items()} == {
        "driveline.axles.front": "fail",
        "driveline.axles.rear": "open",
        "driveline.axles.tag": "notApplicable",
    }
    assert all(f.subject == part for part, f in found.items())
    assert found["driveline.axles.rear"].unknown == ("driveline.axles.rear.ratio",)


def test_pairs_and_words_as_parts() -> None:
    rule = made(
        "gearing.made-up",
        lambda b, word, number: holds(True),
        each=lambda b: [("e.g. this", 1), ("a..b", 2), ("1.5", 3), ("", 4), ("engine.nothing", 5), ("engine.speed", 6)],
    )
    found = findings(SPEC, rule)
    assert len(found) == 6
    assert {f.part: f.subject for f in found}["engine.speed 6"] == "engine.speed"
    assert {f.subject for f in found} == {"engine", "engine.speed"}


def test_a_verdict_may_point_elsewhere() -> None:
    assert finding(SPEC, lambda b: holds(False, "no", on="engine.speed.idle")).subject == "engine.speed.idle"


# -- formulas that do not hold -------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("error", "words"),
    [(OutsideRange("too far"), "does not hold here: too far"), (ImpossibleInput("zero"), "do not fit together: zero")],
)
def test_a_formula_outside_its_range_asks_for_a_person(error: ValueError, words: str) -> None:
    @quantity("fit.made-up", formula="none", sources=[SOURCE])
    def out(build: Build) -> float:
        """An invented number."""
        raise error

    def direct(build: Build) -> Verdict:
        raise error

    def each(build: Build) -> Any:
        raise error

    for found in (
        finding(SPEC, direct, "commission"),
        finding(SPEC, lambda b: at_most(out(b), 1.0), "commission"),
        finding(SPEC, lambda b, part: holds(True), "commission", each=each),
    ):
        assert (found.kind, found.level) == ("review", None)
        assert words in found.message


# -- common practice -----------------------------------------------------------------------------------------
PRACTICE = Practice("invented limit of 5", 5.0, practice("an invented practice"))
STRICT = Practice("invented strict limit of 5", 5.0, practice("an invented practice"), review=True)


def with_fallback(fallback: Practice) -> Callable[[Build], Verdict]:
    return lambda b: at_most(b.engine.cylinders, or_practice(lambda: b.engine.strokes, fallback))


@pytest.mark.parametrize(
    ("fallback", "level", "stage", "kind"),
    [
        (PRACTICE, "error", "plan", "pass"),
        (PRACTICE, "error", "quote", "pass"),
        (PRACTICE, "error", "build", "review"),
        (PRACTICE, "error", "commission", "review"),
        (PRACTICE, "warning", "commission", "pass"),
        (PRACTICE, "note", "commission", "pass"),
        (STRICT, "error", "plan", "review"),
        (STRICT, "note", "plan", "review"),
    ],
)
def test_a_pass_on_a_fallback(fallback: Practice, level: str, stage: Stage, kind: str) -> None:
    found = finding(SPEC, with_fallback(fallback), stage, level=level)
    assert (found.kind, found.level) == (kind, None)
    assert found.practices == (fallback.name,)
    assert fallback.name in found.message
    assert found.unknown == ("engine.strokes",)
    assert fallback.source.giving("fallback", fallback.name) in found.sources
    assert [source.what for source in found.sources if source.gives == "fallback"] == [fallback.name]
    assert found.found == 4.0


def test_a_fail_on_a_fallback_stays_a_fail() -> None:
    found = finding("engine.cylinders = 6", with_fallback(STRICT), "commission")
    assert (found.kind, found.level) == ("fail", "error")


def test_a_stated_value_needs_no_fallback() -> None:
    found = finding("engine.cylinders = 3\nengine.strokes = 4", with_fallback(STRICT), "commission")
    assert found.kind == "pass"
    assert not found.practices
    assert not found.unknown


def test_what_is_optional_is_no_unknown() -> None:
    found = finding(SPEC, lambda b: holds(given(lambda: b.engine.strokes) is None), "commission")
    assert found.kind == "pass"
    assert found.optional == ("engine.strokes",)
    assert not found.unknown


# -- several demands -----------------------------------------------------------------------------------------
def demands(toml: str, function: Callable[..., Any], stage: Stage | None = None, **declared: Any) -> dict[str, Finding]:
    return {f.demand: f for f in findings(toml, made("fit.made-up", function, **declared), stage)}


def test_each_demand_is_a_finding_of_its_own() -> None:
    def rule(build: Build) -> Verdict:
        return all_of(
            height=at_most(build.engine.cylinders, 3.0, "too high"),
            side_gap=at_least(build.engine.cylinders, 2.0, "wide enough"),
            vents=holds(False, "no vents", level="note", on="engine.speed"),
        )

    found = demands(SPEC, rule)
    assert {name: (f.kind, f.level, f.message) for name, f in found.items()} == {
        "height": ("fail", "error", "too high"),
        "side-gap": ("pass", None, "wide enough"),
        "vents": ("fail", "note", "no vents"),
    }
    assert (found["height"].margin, found["side-gap"].margin) == (pytest.approx(-1 / 3), pytest.approx(1.0))
    assert (found["height"].subject, found["vents"].subject) == ("engine", "engine.speed")
    assert len({f.key for f in found.values()}) == 3


def test_a_demand_that_lacks_a_field_leaves_only_itself_open() -> None:
    def rule(build: Build) -> Verdict:
        cylinders = build.engine.cylinders
        return all_of(lacks=lambda: at_most(build.engine.strokes, cylinders - 1.0), fails=holds(False, "no"))

    found = demands(SPEC, rule, "build")
    assert (found["fails"].kind, found["fails"].message, found["fails"].unknown) == ("fail", "no", ())
    assert (found["lacks"].kind, found["lacks"].due) == ("open", True)
    assert found["lacks"].unknown == ("engine.strokes",)
    assert {f.inputs for f in found.values()} == {("engine.cylinders",)}


def test_each_demand_rests_on_what_the_rule_read_and_on_what_it_read_itself() -> None:
    def rule(build: Build) -> Verdict:
        idle = build.engine.speed.idle
        return all_of(
            practice=lambda: at_most(idle, or_practice(lambda: build.engine.strokes, STRICT) * 100.0),
            stated=lambda: at_least(build.engine.cylinders, 1.0),
            optional=lambda: holds(given(lambda: build.engine.strokes) is None),
        )

    found = demands(SPEC, rule)
    assert found["practice"].inputs == ("engine.speed.idle",)
    assert found["stated"].inputs == ("engine.speed.idle", "engine.cylinders")
    assert {name: f.kind for name, f in found.items()} == {"practice": "review", "stated": "pass", "optional": "pass"}
    assert [f.practices for f in found.values()].count((STRICT.name,)) == 1
    assert (found["optional"].optional, found["stated"].optional) == (("engine.strokes",), ())


def test_a_demand_about_what_is_not_fitted_or_beyond_its_formula_stands_alone() -> None:
    def beyond() -> Verdict:
        raise OutsideRange("too far")

    found = demands(
        SPEC, lambda b: all_of(off=lambda: at_most(b.driveline.transfer.low, 1.0), far=beyond, ok=holds(True))
    )
    assert {name: f.kind for name, f in found.items()} == {"off": "notApplicable", "far": "review", "ok": "pass"}


def test_demands_of_demands_have_both_names() -> None:
    def inner(build: Build) -> Verdict:
        return all_of(bore=holds(True), wall=lambda: at_most(build.engine.strokes, 3.0))

    found = demands(SPEC, lambda b: all_of(supply=lambda: inner(b), back=inner(b), plain=holds(True)))
    assert {name: f.kind for name, f in found.items()} == {
        "supply.bore": "pass",
        "supply.wall": "open",
        "back.bore": "pass",
        "back.wall": "open",
        "plain": "pass",
    }


def test_a_rule_that_lacks_a_field_before_it_makes_its_demands_is_open_as_a_whole() -> None:
    found = demands(SPEC, lambda b: all_of(a=at_most(b.engine.strokes, 3.0), b=at_most(b.vehicle.mass.gvwr, 1.0)))
    assert list(found) == [""]
    assert found[""].unknown == ("engine.strokes", "vehicle.mass.gvwr")


def test_each_part_has_its_own_demands() -> None:
    rule = made(
        "gearing.made-up",
        lambda b, axle: all_of(tall=lambda: at_most(axle.ratio, 4.0), short=lambda: at_least(axle.ratio, 1.0)),
        each=lambda b: each_of(b.driveline.axles),
    )
    kinds = {(f.part.rsplit(".", 1)[-1], f.demand): f.kind for f in findings(SPEC, rule)}
    assert kinds == {
        ("front", "tall"): "fail",
        ("front", "short"): "pass",
        ("rear", "tall"): "open",
        ("rear", "short"): "open",
        ("tag", "tall"): "notApplicable",
        ("tag", "short"): "notApplicable",
    }


# -- rules that break ----------------------------------------------------------------------------------------
def endless(build: Build) -> Verdict:
    return endless(build)


def sleeping(build: Build) -> Verdict:
    time.sleep(60)
    return holds(True)


def busy(build: Build) -> Verdict:
    while True:
        pass


def swallowing(build: Build) -> Verdict:
    while True:
        try:
            while True:
                pass
        except Exception:
            pass


class Nasty(Exception):
    def __str__(self) -> str:
        raise RuntimeError("no words")


def raising(error: BaseException) -> Callable[[Build], Verdict]:
    def rule(build: Build) -> Verdict:
        raise error

    return rule


@quantity("fit.nan", formula="none", sources=[SOURCE])
def not_a_number(build: Build) -> float:
    """An invented number."""
    return float("nan")


BROKEN: dict[str, tuple[Callable[..., Any], str]] = {
    "raises": (raising(ZeroDivisionError("by zero")), "ZeroDivisionError: by zero"),
    "value-error": (raising(ValueError("odd")), "ValueError: odd"),
    "exits": (raising(SystemExit(0)), "SystemExit"),
    "generator-exit": (raising(GeneratorExit()), "GeneratorExit"),
    "stop-iteration": (raising(StopIteration()), "StopIteration"),
    "no-words": (raising(Nasty()), "Nasty"),
    "multi-line": (raising(KeyError("a\nb\x1b[31m")), "KeyError"),
    "memory": (raising(MemoryError()), "MemoryError"),
    "none": (lambda build: None, "a NoneType instead of a verdict"),
    "true": (lambda build: True, "a bool instead of a verdict"),
    "text": (lambda build: "pass", "a str instead of a verdict"),
    "nan": (lambda build: at_most(float("nan"), 1.0), "finite number"),
    "nan-verdict": (lambda build: Verdict("pass", found=float("nan")), "finite number"),
    "kind": (lambda build: Verdict("splendid"), "unknown kind"),  # type: ignore[arg-type]
    "level": (lambda build: holds(False, level="fatal"), "unknown level"),  # type: ignore[arg-type]
    "unit": (lambda build: at_most(1.0, 2.0, unit=("mass", "mm")), "no report can show"),
    "on": (lambda build: holds(False, on="no..path"), "no report can show"),
    "no-field": (lambda build: at_most(build.engine.cylindres, 1.0), "no field 'cylindres'"),
    "generator": (lambda build: (verdict for verdict in [holds(True)]), "a generator instead"),
    "recursion": (endless, "RecursionError"),
    "quantity-nan": (lambda build: at_most(not_a_number(build), 1.0), "quantity fit.nan returned nan"),
    "no-demands": (lambda build: all_of(), "all_of takes at least one demand"),
    "demand-none": (lambda build: all_of(a=lambda: None, b=holds(True)), "a NoneType instead of a verdict"),  # type: ignore[arg-type, return-value]
    "demand-raises": (lambda build: all_of(a=lambda: 1 / 0, b=holds(True)), "ZeroDivisionError"),  # type: ignore[arg-type, return-value]
    "demand-name": (lambda build: all_of({"Two Words": holds(True)}), "not a name for a demand"),
    "two-arguments": (lambda build, part: holds(True), "TypeError"),
    "not-callable": (lambda build: build.engine(), "TypeError"),
}
SLOW = {"sleeping": sleeping, "busy": busy, "swallowing": swallowing}
GOOD = made("fit.good", lambda build: holds(build.engine.cylinders == 4.0))
LAST = made("supply.last", lambda build: informs("still here", found=build.engine.cylinders))


@pytest.mark.parametrize("name", BROKEN)
def test_a_broken_rule_costs_only_itself(name: str) -> None:
    function, words = BROKEN[name]
    inspection, (problem,) = inspected(SPEC, LAST, made("fit.broken", function), GOOD)
    assert [f.rule.id for f in inspection.findings] == ["fit.good", "supply.last"]
    assert [f.kind for f in inspection.findings] == ["pass", "informational"]
    assert (problem.about, problem.pack, problem.rule) == ("rule", "made-up", "fit.broken")
    assert words in problem.what
    assert "its results for s.toml are missing" in problem.what
    assert problem.file == "test_inspection.py"
    assert problem.line is not None
    assert "\n" not in problem.what


@pytest.mark.parametrize("name", SLOW)
def test_a_rule_that_hangs_is_stopped(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(run_rule.__kwdefaults__, "seconds", 0.1)
    started = time.monotonic()
    inspection, (problem,) = inspected(SPEC, made("fit.broken", SLOW[name]), GOOD, LAST)
    assert time.monotonic() - started < 5.0
    assert "longer than 0.1 s" in problem.what
    assert [f.kind for f in inspection.findings] == ["pass", "informational"]


def test_parts_without_end_are_stopped(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(run_rule.__kwdefaults__, "seconds", 0.1)
    rule = made("fit.broken", lambda b, n: holds(True), each=lambda b: (None for _ in itertools.repeat(0)))
    inspection, (problem,) = inspected(SPEC, rule, GOOD)
    assert "lists more than 100000 parts" in problem.what
    assert len(inspection.findings) == 1


def test_a_person_can_stop_the_run() -> None:
    with pytest.raises(KeyboardInterrupt):
        inspected(SPEC, made("fit.broken", raising(KeyboardInterrupt())))


def test_the_line_of_a_problem_is_the_line_in_the_rule() -> None:
    def rule(build: Build) -> Verdict:
        numbers = {"a": 1.0}
        return at_most(numbers["b"], 1.0)

    _, (problem,) = inspected(SPEC, made("fit.broken", rule))
    assert problem.line == rule.__code__.co_firstlineno + 2


def test_what_a_rule_prints_goes_to_standard_error(capsys: pytest.CaptureFixture[str]) -> None:
    def rule(build: Build) -> Verdict:
        print("chatter")
        return holds(True)

    assert finding(SPEC, rule).kind == "pass"
    captured = capsys.readouterr()
    assert captured.out == ""
    assert "chatter" in captured.err


def test_a_rule_that_is_stopped_in_the_middle_leaves_nothing_behind(monkeypatch: pytest.MonkeyPatch) -> None:
    def stuck(build: Build) -> Verdict:
        given(lambda: busy(build))
        return holds(True)

    monkeypatch.setitem(run_rule.__kwdefaults__, "seconds", 0.1)
    after = made("supply.after", lambda b: at_most(b.engine.strokes, 1.0))
    inspection, problems = inspected(SPEC, made("fit.broken", stuck), after)
    assert len(problems) == 1
    assert inspection.findings[0].unknown == ("engine.strokes",)
    assert not inspection.findings[0].optional


# -- order and ranking ---------------------------------------------------------------------------------------
CALLS: list[str] = []


@quantity("fit.shared", formula="cylinders × strokes", sources=[SOURCE])
def shared(build: Build) -> float:
    """An invented number."""
    CALLS.append("shared")
    return build.engine.cylinders * build.engine.strokes


def test_the_order_of_rules_does_not_matter() -> None:
    rules = [
        made("fit.a", lambda b: at_most(shared(b), 1.0)),
        made("mass.b", lambda b: holds(given(lambda: shared(b)) is None)),
        made("fit.c", lambda b: at_most(or_practice(lambda: shared(b), PRACTICE), 9.0)),
        made("gearing.d", lambda b, a: at_most(a.ratio, shared(b)), each=lambda b: each_of(b.driveline.axles)),
    ]
    for toml in (SPEC, SPEC.replace("cylinders = 4", "cylinders = 4\nstrokes = 4")):
        outcomes = []
        for order in itertools.permutations(rules):
            CALLS.clear()
            inspection, problems = inspect(base_of(*order), load_text(toml), "quote")
            assert not problems
            outcomes.append(
                [(f.rule.id, f.part, f.kind, f.unknown, f.optional, f.message) for f in inspection.findings]
            )
            assert len(CALLS) <= 4  # once, and once more for each probing of it
        assert all(outcome == outcomes[0] for outcome in outcomes)


def test_findings_come_with_what_matters_most_first() -> None:
    rules = [
        made("supply.f", lambda b: holds(True)),
        made("mass.e", lambda b: does_not_apply("no")),
        made("mass.d", lambda b: needs_review("look")),
        made("mass.c", lambda b: holds(False), level="note"),
        made("supply.b", lambda b: at_most(3.0, 2.0)),
        made("mass.a", lambda b: at_most(3.0, 2.0)),
        made("mass.b", lambda b: at_most(9.0, 2.0)),
        made("mass.g", lambda b: at_most(b.engine.strokes, 2.0)),
    ]
    inspection, _ = inspected("", *rules)
    order = [f.rule.id for f in inspection.findings]
    assert order == ["mass.b", "mass.a", "supply.b", "mass.c", "mass.d", "mass.g", "supply.f", "mass.e"]


def test_what_differs_in_the_last_digits_of_arithmetic_stands_in_the_order_of_names() -> None:
    noise = {"fit.b": 1.0, "fit.c": 1.0 + 1e-15, "fit.a": 1.0 + 3e-15, "fit.d": 1.0 - 1e-6}

    def of(number: float) -> Callable[[Build], Verdict]:
        return lambda build: at_most(number, 0.5)

    inspection, _ = inspected(SPEC, *(made(id, of(number)) for id, number in noise.items()))
    assert [f.rule.id for f in inspection.findings] == ["fit.a", "fit.b", "fit.c", "fit.d"]


def asks(inspection: Inspection) -> list[tuple[str, tuple[str, ...]]]:
    return [(ask.field, ask.rules) for ask in inspection.ask_next]


def test_what_to_find_out_next_is_ranked_by_what_waits_for_it() -> None:
    rules = [
        made("fit.a", lambda b: at_most(b.engine.strokes, 1.0)),
        made("fit.b", lambda b: at_most(b.engine.strokes, 1.0), level="note"),
        made("fit.c", lambda b: at_most(b.vehicle.mass.gvwr, 1.0), level="warning"),
        made("fit.d", lambda b: at_most(b.vehicle.mass.gcwr, b.vehicle.mass.gvwr), level="note"),
        made("fit.e", lambda b: at_most(b.engine.displacement, 1.0), level="error"),
        made("fit.f", lambda b: holds(True)),
    ]
    inspection, _ = inspected("", *rules)
    assert asks(inspection) == [
        ("engine.strokes", ("fit.a", "fit.b")),  # 4 + 1
        ("engine.displacement", ("fit.e",)),  # 4
        ("vehicle.mass.gvwr", ("fit.c", "fit.d")),  # 2 + 1
        ("vehicle.mass.gcwr", ("fit.d",)),  # 1
    ]
    assert inspection.ask_next[0].where
    assert inspection.ask_next[0].description


def test_what_a_pass_did_without_is_not_asked_for() -> None:
    inspection, _ = inspected(SPEC, made("fit.a", with_fallback(PRACTICE)), stage="plan")
    assert asks(inspection) == []


def test_counts() -> None:
    rules = [
        made("fit.a", lambda b: holds(False), level="warning"),
        made("fit.b", lambda b: holds(False), level="note"),
        made("fit.c", lambda b: at_most(b.engine.strokes, 1.0)),
        made("fit.d", lambda b: all_of(one=holds(True), other=holds(True))),
        made("fit.e", lambda b: at_most(b.engine.strokes, 1.0), level="note", due="plan"),
    ]
    inspection, _ = inspected("", *rules)
    counts = inspection.counts()
    assert counts["fail"] == {"error": 0, "warning": 1, "note": 1}
    assert counts["due"] == {"error": 0, "warning": 0, "note": 1}
    assert (counts["open"], counts["pass"]) == (2, 2)  # what is due is open, too; each demand counts
    inspection.findings = [replace(f, suppression=Suppression("signed")) for f in inspection.findings]
    counts = inspection.counts()
    assert (counts["fail"], counts["due"]) == (dict.fromkeys(LEVELS, 0), dict.fromkeys(LEVELS, 0))
    assert (counts["open"], counts["pass"], counts["suppressed"]) == (0, 0, 6)


def test_what_is_owed_stands_before_what_is_only_open() -> None:
    rules = [
        made("fit.a", lambda b: at_most(b.engine.strokes, 1.0), due="commission"),
        made("fit.b", lambda b: at_most(b.engine.strokes, 1.0), due="plan", level="note"),
        made("fit.c", lambda b: at_most(b.engine.strokes, 1.0), due="plan", level="error"),
        made("supply.d", lambda b: at_most(b.engine.displacement, 1.0), due="plan", level="warning"),
    ]
    inspection, _ = inspected("", *rules)
    assert [f.rule.id for f in inspection.findings] == ["fit.c", "supply.d", "fit.b", "fit.a"]
    assert [(ask.field, ask.rules) for ask in inspection.ask_next] == [
        ("engine.strokes", ("fit.a", "fit.b", "fit.c")),
        ("engine.displacement", ("supply.d",)),
    ]


def test_what_is_due_is_asked_for_before_what_more_rules_wait_for() -> None:
    rules = [
        *(made(f"fit.{name}", lambda b: at_most(b.engine.strokes, 1.0), due="commission") for name in "abc"),
        made("fit.d", lambda b: at_most(b.engine.displacement, 1.0), due="plan", level="note"),
    ]
    inspection, _ = inspected("", *rules)
    assert [ask.field for ask in inspection.ask_next] == ["engine.displacement", "engine.strokes"]


def test_facts_of_paths() -> None:
    assert facts_at(Model, "driveline.axles.rear.ratio") is not None
    assert facts_at(Model, "driveline.gearbox.ratios[3]") is not None
    assert facts_at(Model, "engine.torque_curve[1].speed") is not None
    for path in ("engine", "driveline.axles", "driveline.axles.rear", "nothing.at.all", "engine.cylinders.more"):
        assert facts_at(Model, path) is None
