"""Verdicts: relations, the one convention for margins, and demands taken together."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from swaplint.api import (
    ImpossibleInput,
    advice,
    all_of,
    at_least,
    at_most,
    holds,
    informs,
    needs_review,
    within,
)
from swaplint.declare.verdicts import Advice, Limit, Verdict, wrong_with
from swaplint.units.value import Value

SIZES = st.floats(min_value=1e-6, max_value=1e6)


# -- relations and margins -----------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("verdict", "kind", "margin"),
    [
        (at_most(8.0, 10.0), "pass", 0.2),
        (at_most(10.0, 10.0), "pass", 0.0),
        (at_most(12.0, 10.0), "fail", -0.2),
        (at_least(12.0, 10.0), "pass", 0.2),
        (at_least(8.0, 10.0), "fail", -0.2),
        (within(16.0, 10.0, 20.0), "pass", 0.2),  # 4 below 20
        (within(11.0, 10.0, 20.0), "pass", 0.1),  # 1 above 10
        (within(9.0, 10.0, 20.0), "fail", -0.1),
        (within(22.0, 10.0, 20.0), "fail", -0.1),
        (within(10.0, 10.0, 10.0), "pass", 0.0),
        (at_most(-12.0, -10.0), "pass", 0.2),
        (at_most(270.0, 300.0, scale=100.0), "pass", 0.3),
        (at_most(-1.0, 0.0), "pass", None),
        (at_most(1.0, 0.0), "fail", None),
        (at_most(1.0, 0.0, scale=2.0), "fail", -0.5),
        (at_most(1.0, 1e-320), "fail", None),
        (at_least(1e199, -1e-150), "pass", None),
    ],
)
def test_relation_and_margin(verdict: Verdict, kind: str, margin: float | None) -> None:
    assert verdict.kind == kind
    assert verdict.margin == (None if margin is None else pytest.approx(margin))
    assert wrong_with(verdict) == ""


@given(SIZES, SIZES)
def test_the_margin_is_positive_inside_and_relative_to_the_limit(found: float, limit: float) -> None:
    assume(abs(found - limit) > 1e-9 * found)
    upper, lower = at_most(found, limit), at_least(found, limit)
    assert upper.margin is not None
    assert lower.margin is not None
    assert (upper.kind == "pass") == (upper.margin > 0) == (found < limit)
    assert upper.margin == pytest.approx(-lower.margin)
    assert upper.margin == pytest.approx((limit - found) / limit)


@given(SIZES, SIZES, st.floats(min_value=1e-3, max_value=1e3))
def test_the_margin_does_not_depend_on_the_unit(found: float, limit: float, factor: float) -> None:
    one, other = at_most(found, limit), at_most(found * factor, limit * factor)
    assert one.margin == pytest.approx(other.margin, rel=1e-9, abs=1e-9)


def test_a_value_that_equals_the_limit_but_for_rounding_passes() -> None:
    assert at_most(0.1 + 0.2, 0.3).kind == "pass"
    assert at_least(0.3, 0.1 + 0.2).kind == "pass"
    assert at_most(0.3 * (1 + 1e-9), 0.3).kind == "fail"


@pytest.mark.parametrize("nonsense", [math.nan, math.inf, -math.inf, True, "8", None])
def test_what_is_no_number_is_the_authors_mistake(nonsense: Any) -> None:
    calls: list[Callable[[], Verdict]] = [
        lambda: at_most(nonsense, 1.0),
        lambda: at_most(1.0, nonsense),
        lambda: at_least(nonsense, 1.0),
        lambda: within(nonsense, 0.0, 1.0),
        lambda: within(0.5, nonsense, 1.0),
        lambda: within(0.5, 0.0, nonsense),
    ]
    for call in calls:
        with pytest.raises(ValueError, match="finite number"):
            call()


def test_ends_the_wrong_way_round_are_impossible_input() -> None:
    with pytest.raises(ImpossibleInput):
        within(1.5, 2.0, 1.0)


def test_holds_takes_a_truth_value() -> None:
    assert holds(True).kind == "pass"
    assert holds(False, "no", level="note").level == "note"
    with pytest.raises(ValueError, match="True or False"):
        holds(1)  # type: ignore[arg-type]


def test_the_unit_comes_from_what_was_read() -> None:
    mass = Value.of(1000.0, "mass", "kg", "vehicle.mass.gvwr")
    for verdict in (at_most(mass, 1200.0), at_most(900.0, mass), within(1.0, 0.5, mass), needs_review("x", found=mass)):
        assert (verdict.quantity, verdict.unit) == ("mass", "kg")
    assert informs("x", found=2.0, unit=("length", "mm")).unit == "mm"
    assert at_most(1.0, 2.0).unit == ""
    assert type(at_most(mass, 1200.0).found) is float


# -- demands taken together ----------------------------------------------------------------------------------
def names_of(verdict: Verdict) -> list[str]:
    return [name for name, _ in verdict.demands]


def test_demands_stand_side_by_side_and_none_speaks_for_the_others() -> None:
    good, bad = at_most(1.0, 2.0, "good"), at_most(3.0, 2.0, "bad")
    verdict = all_of(height=good, side_gap=bad)
    assert (verdict.kind, verdict.says, verdict.found, verdict.margin) == ("several", "", None, None)
    assert verdict.demands == (("height", good), ("side-gap", bad))
    assert wrong_with(verdict) == ""


def test_a_demand_that_is_a_function_is_not_asked_here() -> None:
    def explode() -> Verdict:
        raise AssertionError("asked too early")

    verdict = all_of(later=explode, now=holds(True))
    assert verdict.demands[0] == ("later", explode)


def test_names_that_are_put_together_come_in_a_mapping() -> None:
    both = all_of({f"relay-{number}": holds(True) for number in (1, 2)}, rest=holds(True))
    assert names_of(both) == ["relay-1", "relay-2", "rest"]
    assert names_of(all_of({"supply.bore": holds(True)})) == ["supply.bore"]


@pytest.mark.parametrize("name", ["", " ", "Height", "two words", "1st", "a..b", ".a", "a.", "-a", "größe", "a" * 60])
def test_a_name_that_cannot_stand_in_a_report_for_ever_is_refused(name: Any) -> None:
    with pytest.raises(ValueError, match="not a name for a demand"):
        all_of({name: holds(True)})


def test_two_demands_do_not_share_a_name() -> None:
    with pytest.raises(ValueError, match="two demands are called 'side-gap'"):
        all_of({"side-gap": holds(True)}, side_gap=holds(True))


def test_no_demand_at_all_is_refused() -> None:
    for empty in (lambda: all_of(), lambda: all_of({})):
        with pytest.raises(ValueError, match="at least one demand"):
            empty()
    assert wrong_with(Verdict("several"))
    assert wrong_with(Verdict("several", demands=["a"]))  # type: ignore[arg-type]


# -- advice ---------------------------------------------------------------------------------------------------
def test_advice_names_a_field_and_a_value_or_is_none() -> None:
    assert advice("engine.speed.idle", 3) == Advice("engine.speed.idle", 3.0)
    assert advice("engine.cooling", "water") == Advice("engine.cooling", "water")
    assert advice("engine.turbocharged", False) == Advice("engine.turbocharged", False)
    assert advice("engine.speed.idle", None) is None
    for nonsense in (math.nan, math.inf):
        with pytest.raises(ValueError, match="finite number"):
            advice("engine.speed.idle", nonsense)


def test_a_verdict_carries_its_advice() -> None:
    one, other = advice("a.b", 1.0), advice("a.c", 2.0)
    for verdict in (at_most(3.0, 2.0, advice=one), holds(False, advice=one), needs_review("look", advice=one)):
        assert verdict.advice == (one,)
    assert at_least(3.0, 4.0, advice=[one, None, other]).advice == (one, other)
    assert within(3.0, 4.0, 5.0, advice=None).advice == ()


# -- what no report can show ---------------------------------------------------------------------------------
ADVICE = Advice("engine.speed.idle", 80.0)
SOUND = Verdict("fail", "says", 3.0, Limit("at most", 2.0), -0.5, "length", "mm", "error", "engine.speed", (ADVICE,))


@pytest.mark.parametrize(
    "changed",
    [
        {"kind": "open"},
        {"kind": "excellent"},
        {"kind": None},
        {"kind": ["pass"]},
        {"level": "fatal"},
        {"says": None},
        {"says": 3},
        {"advice": [ADVICE]},
        {"advice": (3,)},
        {"advice": (None,)},
        {"advice": (Advice(3, 80.0),)},  # type: ignore[arg-type]
        {"advice": (Advice("engine.speed.idle", math.nan),)},
        {"advice": (Advice("engine.speed.idle", None),)},  # type: ignore[arg-type]
        {"found": math.nan},
        {"found": "3"},
        {"found": True},
        {"found": 1e305},
        {"margin": math.inf},
        {"margin": "much"},
        {"limit": 2.0},
        {"limit": Limit("below", 2.0)},  # type: ignore[arg-type]
        {"limit": Limit("at most", math.nan)},
        {"limit": Limit("at most", (1.0, 2.0))},
        {"limit": Limit("within", 2.0)},
        {"limit": Limit("within", (1.0, math.inf))},
        {"limit": Limit("within", (1.0, 2.0, 3.0))},  # type: ignore[arg-type]
        {"quantity": "weight"},
        {"quantity": ""},
        {"unit": "kg"},
        {"unit": "no such unit"},
        {"unit": None},
        {"on": "a..b"},
        {"on": "ratios[0]"},
        {"on": None},
    ],
)
def test_nonsense_in_a_verdict_is_named(changed: dict[str, Any]) -> None:
    assert wrong_with(SOUND) == ""
    assert wrong_with(replace(SOUND, **changed))


@pytest.mark.parametrize("thing", [None, True, 3.0, "pass", (), object(), Verdict, float("nan")])
def test_what_is_no_verdict_is_named(thing: object) -> None:
    assert "instead of a verdict" in wrong_with(thing)
