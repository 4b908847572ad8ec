"""The windows of a continuous field: none is missed between the values that are looked at first."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swaplint.api import Verdict, at_most, holds, practice, rule, within
from swaplint.build.view import View
from swaplint.declare.rule import Rule
from swaplint.engineering import OutsideRange
from swaplint.host.packs import LoadedPack, RuleBase
from swaplint.inspecting.inspection import inspect
from swaplint.inspecting.results import Remedy
from swaplint.kit.edits import sound_spec
from swaplint.kit.trial import rule_base
from swaplint.reports.judging import Judging
from swaplint.reports.layout import Sheet
from swaplint.reports.sizing import add_passes
from swaplint.solving.sizing import Sizing, size
from swaplint.solving.what_if import WhatIf
from swaplint.solving.whole import inspect_whole
from swaplint.solving.windows import LOOKED_AT

FIELD = "driveline.speedometer.calibrated_axle_ratio"
LOW, HIGH = 1.5, 15.0  # its plausible range
STEP = (HIGH - LOW) / LOOKED_AT


def made(verdict: Callable[[float], Verdict], id: str = "gearing.made-up") -> Rule:
    """A rule about the one field."""

    @rule(id, level="error", due="plan", sources=[practice("made up for this test")], adjust=[FIELD])
    def judge(build: object) -> Verdict:
        """Is it so?

        Computes: the field itself
        Limit: as given
        Remedy: change it
        Cannot tell: anything else
        """
        return verdict(float(build.driveline.speedometer.calibrated_axle_ratio))  # type: ignore[attr-defined]

    return judge


def sized(*rules: Rule) -> Sizing:
    """What `size` finds about the field when these are all the rules."""
    model = rule_base().model
    base = RuleBase([LoadedPack("made-up", "1", False, list(rules))], [], model)
    spec = sound_spec(base, {FIELD: 4.3})
    view = View(spec.build)
    inspection, problems = inspect(base, spec, None, view)
    assert not problems
    return size(WhatIf(base, spec, inspection.stage, view), inspection, FIELD)


@settings(max_examples=30)
@given(low=st.floats(LOW + 0.1, HIGH - 0.2), width=st.floats(1.001 * STEP, 1.0))
def test_a_window_as_wide_as_a_step_is_found(low: float, width: float) -> None:
    high = min(low + width, HIGH - 0.01)
    if high - low < 1.001 * STEP:
        return
    windows = sized(made(lambda value: within(value, low, high))).windows
    assert len(windows) == 1
    assert windows[0].low == pytest.approx(low, rel=1e-8)
    assert windows[0].high == pytest.approx(high, rel=1e-8)


EDGES: dict[str, Callable[[float, float], Verdict]] = {
    "a margin that jumps": lambda value, edge: at_most(3.0 if value <= edge else 50.0, 5.0),
    "one that jumps from next to zero": lambda value, edge: at_most(5.0 - 1e-12 if value <= edge else 9e9, 5.0),
    "one that bends": lambda value, edge: at_most(math.exp(4.0 * value), math.exp(4.0 * edge)),
    "one that lies flat at the edge": lambda value, edge: at_most((value - edge) ** 3, 0.0),
    "none": lambda value, edge: holds(value <= edge, "As it should be."),
    "one on the passing side alone": lambda value, edge: at_most(value, edge) if value <= edge else holds(False, "No."),
}


@pytest.mark.parametrize("margin", list(EDGES))
@settings(max_examples=12)
@given(edge=st.floats(LOW + 0.01, HIGH - 0.01))
def test_the_edge_of_a_window_is_found_whatever_the_margin_does_there(margin: str, edge: float) -> None:
    (window,) = sized(made(lambda value: EDGES[margin](value, edge))).windows
    assert window.low == LOW
    assert window.high == pytest.approx(edge, rel=1.1e-9)
    assert window.bound_high == "gearing.made-up"


@settings(max_examples=30)
@given(middle=st.floats(LOW + 0.2, HIGH - 0.2), half=st.floats(1.001 * STEP / 2, 0.15))
def test_a_stretch_that_fails_is_found_with_and_without_a_margin(middle: float, half: float) -> None:
    off = sized(made(lambda value: within(abs(value - middle), half, 99.0))).windows
    bare = sized(made(lambda value: holds(abs(value - middle) >= half, "As it should be."))).windows
    for windows in (off, bare):
        assert len(windows) == 2
        assert windows[0].high == pytest.approx(middle - half, rel=1e-8)
        assert windows[1].low == pytest.approx(middle + half, rel=1e-8)


@settings(max_examples=30)
@given(first=st.floats(3.0, 5.0), gap=st.floats(2.0 * STEP, 2.0))
def test_two_windows_stay_two(first: float, gap: float) -> None:
    # a comb: passes around `first` and again `gap` above it, a quarter of the gap to either side
    def comb(value: float) -> Verdict:
        return within(min(abs(value - first), abs(value - first - gap)), 0.0, gap / 4.0, scale=1.0)

    windows = sized(made(comb)).windows
    assert [w.low for w in windows] == pytest.approx([first - gap / 4, first + 3 * gap / 4], rel=1e-7)
    assert [w.high for w in windows] == pytest.approx([first + gap / 4, first + 5 * gap / 4], rel=1e-7)


def test_values_at_which_a_rule_cannot_judge_do_not_pass() -> None:
    def beyond_ten(value: float) -> Verdict:
        if value > 10.0:
            raise OutsideRange("it holds up to 10")
        return within(value, 2.0, 99.0)

    windows = sized(made(beyond_ten)).windows
    assert [(w.low, w.high) for w in windows] == [(pytest.approx(2.0), pytest.approx(10.0))]
    assert windows[0].bound_high == "gearing.made-up"


def test_a_rule_that_can_judge_at_no_value_stops_none() -> None:
    def never(value: float) -> Verdict:
        raise OutsideRange("it never holds")

    sizing = sized(made(never), made(lambda value: within(value, 2.0, 7.0), "gearing.other"))
    assert [(w.low, w.high) for w in sizing.windows] == [(pytest.approx(2.0), pytest.approx(7.0))]


def test_of_two_rules_each_end_names_the_one_that_binds() -> None:
    sizing = sized(
        made(lambda value: within(value, 3.0, 9.0), "gearing.lower"),
        made(lambda value: within(value, 1.0, 6.0), "gearing.upper"),
    )
    (window,) = sizing.windows
    assert (window.bound_low, window.bound_high) == ("gearing.lower", "gearing.upper")
    assert (window.low, window.high) == (pytest.approx(3.0, rel=1e-8), pytest.approx(6.0, rel=1e-8))
    assert dict(sizing.by_rule)["gearing.lower"][0].high == pytest.approx(9.0, rel=1e-8)
    assert math.isclose(float(sizing.best.value), 4.3) if sizing.best else False


# -- the same for remedies ----------------------------------------------------------------------------------------
def remedied(rule: Rule) -> list[Remedy]:
    """The remedies for the field when this is the only rule and 4.3 does not pass."""
    base = RuleBase([LoadedPack("made-up", "1", False, [rule])], [], rule_base().model)
    inspection, problems = inspect_whole(base, sound_spec(base, {FIELD: 4.3}))
    assert not problems
    (finding,) = inspection.findings
    assert finding.kind == "fail"
    return list(finding.remedies)


@settings(max_examples=30)
@given(low=st.floats(5.0, HIGH - 2.0), share=st.floats(1.01, 3.0))
def test_a_remedy_is_found_in_a_narrow_window(low: float, share: float) -> None:
    # Values looked at lie at 4.3 + (15 - 4.3)·(n/36)²: at most 2·n/36²·10.7 apart, n being that of the window.
    n = 36 * math.sqrt((low - 4.3) / 10.7)
    high = low + share * (2 * (n + 2) / 36**2) * 10.7
    (remedy,) = remedied(made(lambda value: within(value, low, high)))
    assert low - 1e-9 <= remedy.after <= min(high, 1.011 * low)  # as three digits write it


# -- where too much hangs on a field -------------------------------------------------------------------------------
@pytest.mark.parametrize("most", [4, 12, 30, 60])
def test_a_budget_that_is_spent_is_named_and_what_is_found_holds(most: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever is left out: each end named passes, and so does the answer."""
    monkeypatch.setattr("swaplint.solving.trial.MOST_JUDGED", most)
    rules = made(lambda x: within(x, 3.1234, 9.8765, "a")), made(lambda x: at_most(x, 7.777, "b"), "gearing.made-down")
    found = sized(*rules)
    assert found.cut_short
    assert 2 <= found.looked_at <= most
    assert found.windows
    for window in found.windows:
        assert 3.1234 <= window.low <= window.high <= 7.777
        assert (window.bound_low, window.bound_high) == ("gearing.made-up", "gearing.made-down")
    assert found.best is not None
    assert 3.1234 <= float(found.best.value) <= 7.777
    says = " ".join(word for line in text_of(found) for word in line.split())
    assert f"everywhere, {found.each_value} results at each value" in says
    assert f"{found.looked_at} values were looked at" in says


def test_an_ordinary_field_is_not_cut_short() -> None:
    found = sized(made(lambda x: within(x, 3.1234, 9.8765, "a")))
    assert not found.cut_short
    assert found.looked_at > 31
    (window,) = found.windows
    assert (window.low, window.high) == (pytest.approx(3.1234, rel=1e-6), pytest.approx(9.8765, rel=1e-6))
    assert "Too much" not in "".join(text_of(found))


def text_of(sizing: Sizing) -> list[str]:
    sheet = Sheet.of_width(100)
    add_passes(sheet, sizing, Judging(judging=sizing.rules))
    return ["".join(text for text, _ in line) for line in sheet.lines]
