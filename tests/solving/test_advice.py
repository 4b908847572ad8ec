"""Advice: what a rule's author would choose is printed only where it holds on the whole build as printed."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from swaplint.api import Build, Rule, Verdict, advice, all_of, at_least, at_most, each_of, given, holds
from swaplint.inspecting.results import Finding, Remedy
from swaplint.solving.whole import inspect_whole
from swaplint.spec.loading import load_text
from tests.core.tests_making import base_of, made

IDLE = "engine.speed.idle"
RPM = 0.10471975511965977  # rad/s
MM2 = 1e-6


def found(toml: str, *rules: Rule, stage: Any = "plan") -> dict[str, Finding]:
    """The findings about a spec with remedies tried, by rule."""
    inspection, problems = inspect_whole(base_of(*rules), load_text(toml), stage)
    assert problems == []
    return {f.rule.id: f for f in inspection.findings}


def advised(toml: str, *rules: Rule) -> tuple[Remedy, ...]:
    """The remedies of the first rule that its author advises."""
    return tuple(r for r in found(toml, *rules)[rules[0].id].remedies if r.advised)


def idle_rule(judge: Callable[..., Verdict], limit: float, value: float | None) -> Rule:
    def rule(build: Build) -> Verdict:
        return judge(build.engine.speed.idle, limit * RPM, advice=advice(IDLE, None if value is None else value * RPM))

    return made("fit.idle", rule)


AT_700 = 'engine.speed.idle = "700 r/min"'


# -- as printed -----------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("judge", "now", "limit", "written"),
    [
        (at_least, "700 r/min", 755.57, "756 r/min"),
        (at_most, "900 r/min", 755.57, "755 r/min"),
        (at_least, "700 r/min", 750.0, "750 r/min"),
        (at_least, "0.5 r/s", 755.57, "756 r/min"),
    ],
)
def test_an_advised_number_is_rounded_to_the_side_that_passes(judge: Any, now: str, limit: float, written: str) -> None:
    (remedy,) = advised(f'engine.speed.idle = "{now}"', idle_rule(judge, limit, limit))
    assert (remedy.field, remedy.written) == (IDLE, written)
    assert remedy.after == pytest.approx(float(written.split()[0]) * RPM, rel=1e-12)
    again = found(f'engine.speed.idle = "{remedy.written}"', idle_rule(judge, limit, limit))
    assert again["fit.idle"].kind == "pass"


def test_where_no_number_of_few_digits_passes_more_are_printed() -> None:
    def rule(build: Build) -> Verdict:
        inside = abs(build.engine.speed.idle / RPM - 755.57) < 0.02
        return holds(inside, advice=advice(IDLE, 755.57 * RPM))

    (remedy,) = advised(AT_700, made("fit.idle", rule))
    assert remedy.written == "755.57 r/min"


def test_advice_that_does_not_pass_is_not_printed() -> None:
    assert advised(AT_700, idle_rule(at_least, 800.0, 750.0)) == ()


def test_no_advice_is_none() -> None:
    rule = idle_rule(at_least, 800.0, None)
    finding = found(AT_700, rule)["fit.idle"]
    assert (finding.kind, finding.advice, finding.remedies) == ("fail", (), ())


def test_a_pass_needs_no_advice() -> None:
    finding = found('engine.speed.idle = "900 r/min"', idle_rule(at_least, 800.0, 800.0))["fit.idle"]
    assert (finding.kind, finding.advice, finding.remedies) == ("pass", (), ())


def test_the_tolerance_of_the_value_and_of_other_inputs_is_kept_clear_of() -> None:
    """An advised value keeps the tolerance that the field has; 800 r/min less 5 % would not do."""
    toml = '[engine.speed]\nidle = { value = "700 r/min", tol = "5 %" }'
    assert advised(toml, idle_rule(at_least, 800.0, 800.0)) == ()
    (remedy,) = advised(toml, idle_rule(at_least, 800.0, 850.0))
    assert remedy.written == "850 r/min"

    def other(build: Build) -> Verdict:
        return at_least(build.engine.speed.idle, build.engine.speed.cruise_low, advice=advice(IDLE, 1000.0 * RPM))

    loose = '[engine.speed]\nidle = "700 r/min"\ncruise_low = { value = "1000 r/min", tol = "3 %" }'
    assert advised(loose, made("fit.idle", other)) == ()
    firm = '[engine.speed]\nidle = "700 r/min"\ncruise_low = "1000 r/min"'
    assert [r.written for r in advised(firm, made("fit.idle", other))] == ["1000 r/min"]


def test_where_advice_holds_the_same_field_is_not_searched() -> None:
    def rule(value: float) -> Rule:
        def judge(build: Build) -> Verdict:
            return at_least(build.engine.speed.idle, 800.0 * RPM, advice=advice(IDLE, value * RPM))

        return made("fit.idle", judge, adjust=[IDLE])

    held = found(AT_700, rule(950.0))["fit.idle"].remedies
    assert [(r.written, r.advised) for r in held] == [("950 r/min", True)]
    searched = found(AT_700, rule(750.0))["fit.idle"].remedies
    assert [(r.written, r.advised) for r in searched] == [("800 r/min", False)]


def test_what_mends_one_demand_breaks_no_other_of_the_same_rule() -> None:
    """800 r/min is fast enough, and shakes: neither the search nor the author's own advice stops there."""

    def judged(value: float | None) -> Rule:
        def judge(build: Build) -> Verdict:
            idle = build.engine.speed.idle
            said = advice(IDLE, None if value is None else value * RPM)
            return all_of(
                fast=at_least(idle, 800.0 * RPM, advice=said),
                smooth=holds(not 790.0 * RPM < idle < 900.0 * RPM),
            )

        return made("fit.idle", judge, adjust=[IDLE])

    def remedies(value: float | None) -> list[tuple[str, bool]]:
        inspection, _ = inspect_whole(base_of(judged(value)), load_text(AT_700), "plan")
        (fast,) = (f for f in inspection.findings if f.demand == "fast")
        assert fast.kind == "fail"
        return [(r.written, r.advised) for r in fast.remedies]

    assert remedies(None) == [("900 r/min", False)]
    assert remedies(800.0) == [("900 r/min", False)]
    assert remedies(950.0) == [("950 r/min", True)]


# -- sizes of a series ----------------------------------------------------------------------------------------------
CABLES = '[electrics.cables.starter]\nsize = "10 mm2"\n'


def sized(id: str, least: float, value: float | None = None, *, most: float = 1e3, adjust: bool = True) -> Rule:
    """A rule about each cable's size, which must lie between two sizes in mm²."""

    def judge(build: Build, cable: Any) -> Verdict:
        one = advice("electrics.cables.starter.size", None if value is None else value * MM2)
        return holds(least * MM2 * 0.999 <= cable.size <= most * MM2 * 1.001, advice=one)

    pattern = ["electrics.cables.*.size"] if adjust else ["engine.speed.idle"]
    return made(id, judge, each=lambda b: each_of(b.electrics.cables), about="electrics.cables.*.size", adjust=pattern)


@pytest.mark.parametrize(("value", "written"), [(25.0, "25 mm2"), (24.0, "25 mm2"), (17.0, "25 mm2")])
def test_an_advised_size_is_one_of_the_series(value: float, written: str) -> None:
    (remedy,) = advised(CABLES, sized("power.drop", 17.0, value))
    assert remedy.written == written


def test_a_size_that_leaves_another_rule_on_that_field_failing_is_not_advised() -> None:
    """25 mm² mends the one rule; the other fails now and would go on failing with 25: so 35 is advised."""
    (remedy,) = advised(CABLES, sized("power.drop", 25.0, 25.0), sized("power.fuse", 35.0))
    assert remedy.written == "35 mm2"
    assert remedy.mends == ("power.fuse",)
    assert remedy.breaks == ()


def test_a_size_that_would_break_another_rule_is_not_advised_either() -> None:
    assert advised(CABLES, sized("power.drop", 25.0, 25.0), sized("power.lug", 1.0, most=16.0, adjust=False)) == ()


def test_a_rule_that_fails_anyway_and_that_the_field_does_not_mend_stands_in_no_ones_way() -> None:
    (remedy,) = advised(CABLES, sized("power.drop", 25.0, 25.0), sized("power.lug", 900.0, adjust=False))
    assert remedy.written == "25 mm2"


# -- fields that are not stated, words and flags --------------------------------------------------------------------
def test_advice_about_a_field_that_is_not_stated() -> None:
    def rule(build: Build) -> Verdict:
        low = given(lambda: build.engine.speed.cruise_low)
        return holds(low is not None and low >= 1000.0 * RPM, advice=advice("engine.speed.cruise_low", 1000.0 * RPM))

    (remedy,) = advised(AT_700, made("fit.cruise", rule))
    assert (remedy.field, remedy.before, remedy.written) == ("engine.speed.cruise_low", None, "1000 r/min")


def test_advice_about_a_part_that_is_not_there_is_not_printed() -> None:
    def rule(build: Build) -> Verdict:
        return holds(False, advice=advice("electrics.cables.starter.size", 25.0 * MM2))

    for field_not_there in (AT_700, '[electrics.cables.other]\nsize = "10 mm2"'):
        assert advised(field_not_there, made("fit.cable", rule)) == ()


def test_a_word_and_a_flag_as_advice() -> None:
    def word(build: Build) -> Verdict:
        return holds(build.driveline.gearbox.kind == "manual", advice=advice("driveline.gearbox.kind", "manual"))

    (remedy,) = advised('driveline.gearbox.kind = "automatic"', made("fit.box", word))
    assert (remedy.before, remedy.after) == ("automatic", "manual")

    def flag(build: Build) -> Verdict:
        sleeved = build.electrics.cables["starter"].sleeved
        return holds(bool(sleeved), advice=advice("electrics.cables.starter.sleeved", True))

    (remedy,) = advised("[electrics.cables.starter]\nsleeved = false", made("fit.sleeve", flag))
    assert (remedy.before, remedy.after, remedy.written) == ("false", "true", "true")
