"""What a rule says: a verdict, with what was found, what is allowed, and one convention for the margin.

The margin is relative to the limit and positive inside it: found 8 kPa where at most 10 kPa is allowed is +0.20.
Where relative to the limit makes no sense (a temperature, a limit of zero) the rule says what the margin is relative
to with `scale`.
"""

from __future__ import annotations

import functools
import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Literal

from swaplint.build.nodes import Unknown
from swaplint.engineering import ImpossibleInput
from swaplint.spec.paths import path_key
from swaplint.units import KINDS, unit_factor
from swaplint.units.value import Value

Kind = Literal["pass", "fail", "open", "review", "notApplicable", "informational"]
Level = Literal["error", "warning", "note"]
Relation = Literal["at most", "at least", "within"]

ROUNDING = 1e-12
"""How far, relative to the value, arithmetic alone may put it beyond a limit that it equals."""

LEVELS: tuple[Level, ...] = ("error", "warning", "note")


@dataclass(frozen=True, slots=True)
class Limit:
    """What is allowed. `value` is a pair (low, high) where the relation is `within`."""

    relation: Relation
    value: float | tuple[float, float]


@dataclass(frozen=True, slots=True)
class Verdict:
    """The outcome of a rule on the build or on one of its parts."""

    kind: Literal["pass", "fail", "review", "notApplicable", "informational"]
    says: str = ""
    """A sentence for the builder: what the numbers mean here, what to do. Numbers are shown beside it anyway."""
    found: float | None = None
    limit: Limit | None = None
    margin: float | None = None
    """Relative to the limit, positive inside; None where there is no number."""
    quantity: str = ""
    """The kind of quantity of found and limit; empty for a pure number."""
    unit: str = ""
    """The unit of the trade that found and limit are shown in; empty for a pure number."""
    level: Level | None = None
    """The level of a fail where it differs from the rule's own."""
    on: str = ""
    """The field that the verdict is about, where it differs from the rule's subject."""
    also: tuple[str, ...] = ()
    """What else failed, where a rule makes several demands."""


def _number(name: str, value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        raise ValueError(f"{name} must be a finite number, not {value!r}")
    return float(value)


def _unit_of(*values: float | None) -> tuple[str, str]:
    for value in values:
        if isinstance(value, Value):
            return value.kind, value.unit
    return "", ""


def _judge(
    found: float,
    limit: Limit,
    inside: float,
    scale: float | None,
    unit: tuple[str, str],
    says: str,
    level: Level | None,
    on: str,
) -> Verdict:
    if abs(inside) <= ROUNDING * abs(found):
        inside = 0.0  # equal to the limit but for the last digits that arithmetic leaves
    margin: float | None = inside / abs(scale) if scale else None
    if margin is not None and not math.isfinite(margin):
        margin = None  # against a limit of next to nothing
    return Verdict(
        "pass" if inside >= 0.0 else "fail",
        says,
        float(found),
        limit,
        margin,
        unit[0],
        unit[1],
        level,
        on,
    )


def at_most(
    found: float,
    limit: float,
    says: str = "",
    *,
    level: Level | None = None,
    on: str = "",
    scale: float | None = None,
    unit: tuple[str, str] | None = None,
) -> Verdict:
    """`found` must not exceed `limit`.

    `unit` is (kind of quantity, unit shown) and needed only where neither number was read from a field or a quantity.

    >>> at_most(8.0, 10.0).kind, round(at_most(8.0, 10.0).margin, 3)
    ('pass', 0.2)
    """
    _number("found", found), _number("limit", limit)
    return _judge(
        found,
        Limit("at most", float(limit)),
        limit - found,
        scale or limit,
        unit or _unit_of(found, limit),
        says,
        level,
        on,
    )


def at_least(
    found: float,
    limit: float,
    says: str = "",
    *,
    level: Level | None = None,
    on: str = "",
    scale: float | None = None,
    unit: tuple[str, str] | None = None,
) -> Verdict:
    """`found` must reach `limit`.

    >>> at_least(8.0, 10.0).kind, round(at_least(8.0, 10.0).margin, 3)
    ('fail', -0.2)
    """
    _number("found", found), _number("limit", limit)
    return _judge(
        found,
        Limit("at least", float(limit)),
        found - limit,
        scale or limit,
        unit or _unit_of(found, limit),
        says,
        level,
        on,
    )


def within(
    found: float,
    low: float,
    high: float,
    says: str = "",
    *,
    level: Level | None = None,
    on: str = "",
    scale: float | None = None,
    unit: tuple[str, str] | None = None,
) -> Verdict:
    """`found` must lie between `low` and `high`; the margin is to the nearer end, relative to that end.

    >>> within(1600.0, 1500.0, 2200.0).kind
    'pass'
    """
    _number("found", found), _number("low", low), _number("high", high)
    if low > high:
        raise ImpossibleInput(f"the low end {low:.6g} of what is allowed lies above the high end {high:.6g} (SI)")
    nearer, end = min((found - low, low), (high - found, high))
    return _judge(
        found,
        Limit("within", (float(low), float(high))),
        nearer,
        scale or end,
        unit or _unit_of(found, low, high),
        says,
        level,
        on,
    )


def holds(truth: bool, says: str = "", *, level: Level | None = None, on: str = "") -> Verdict:
    """A demand without a number. `says` says what holds, or what does not and what to do about it."""
    if not isinstance(truth, bool):
        raise ValueError(f"holds takes True or False, not {truth!r}")
    return Verdict("pass" if truth else "fail", says, level=level, on=on)


def does_not_apply(why: str) -> Verdict:
    """The rule has nothing to judge in this build; `why` says so in a sentence."""
    return Verdict("notApplicable", why)


def needs_review(why: str, *, on: str = "", found: float | None = None) -> Verdict:
    """A person must decide; `why` says what and on what."""
    kind, unit = _unit_of(found)
    return Verdict("review", why, found=found, quantity=kind, unit=unit, on=on)


def informs(says: str, *, found: float | None = None, on: str = "", unit: tuple[str, str] | None = None) -> Verdict:
    """A number or fact worth knowing, with no limit."""
    quantity, shown = unit or _unit_of(found)
    return Verdict("informational", says, found=found, quantity=quantity, unit=shown, on=on)


_LARGEST = 1e200
_OUTCOMES = ("pass", "fail", "review", "notApplicable", "informational")
_RELATIONS = ("at most", "at least", "within")


def wrong_with(verdict: object) -> str:
    """What makes a verdict one that no report can show, as the end of a sentence; empty for a sound one.

    >>> wrong_with(holds(True)), wrong_with(None)
    ('', 'a NoneType instead of a verdict')
    """
    if not isinstance(verdict, Verdict):
        return f"a {type(verdict).__name__} instead of a verdict"
    for text in (verdict.says, verdict.quantity, verdict.unit, verdict.on):
        if not isinstance(text, str):
            return "a verdict whose texts are no texts"
    if not isinstance(verdict.also, tuple) or not all(isinstance(text, str) for text in verdict.also):
        return "a verdict whose texts are no texts"
    if verdict.kind not in _OUTCOMES:
        return f"a verdict of the unknown kind {verdict.kind!r:.40}"
    if verdict.level is not None and verdict.level not in LEVELS:
        return f"a verdict of the unknown level {verdict.level!r:.40}"
    limit = verdict.limit
    numbers: list[object] = [n for n in (verdict.found, verdict.margin) if n is not None]
    if limit is not None:
        if not isinstance(limit, Limit) or limit.relation not in _RELATIONS:
            return "a verdict with an unknown kind of limit"
        ends = limit.value if isinstance(limit.value, tuple) else (limit.value,)
        if len(ends) != (2 if limit.relation == "within" else 1):
            return f"a verdict with {len(ends)} ends of its limit"
        numbers += ends
    for number in numbers:
        if isinstance(number, bool) or not isinstance(number, int | float) or not math.isfinite(number):
            return f"a verdict with {number!r:.40} where a finite number belongs"
        if abs(number) > _LARGEST:
            return f"a verdict with {number:g} in it, beyond any unit"
    return _wrong_with_names(verdict.quantity, verdict.unit, verdict.on)


@functools.lru_cache(maxsize=1000)
def _wrong_with_names(quantity: str, unit: str, on: str) -> str:
    if quantity not in KINDS and (quantity or unit):
        return f"a verdict with the unknown kind of quantity {quantity!r:.40}"
    try:
        if quantity:
            unit_factor(unit, KINDS[quantity])
        if on:
            path_key(on)
    except ValueError as error:
        return f"a verdict that no report can show: {error}"
    return ""


_RANK = {"fail": 0, "review": 2, "pass": 3, "informational": 4, "notApplicable": 5}


def _rank(verdict: Verdict, default: Level) -> tuple[float, float]:
    rank: float = _RANK[verdict.kind]
    if verdict.kind == "fail":
        rank += LEVELS.index(verdict.level or default) / 10
    return rank, verdict.margin if verdict.margin is not None else (-9.0 if verdict.kind == "fail" else 9.0)


def all_of(*demands: Verdict | Callable[[], Verdict], default: Level = "error") -> Verdict:
    """Several demands in one verdict: the worst of them, naming the others that fail.

    A demand given as a function may turn out to be unknown: a demand that fails is then still said, and only where
    none fails is the rule open. `default` is the level of a fail whose verdict names none.
    """
    verdicts: list[Verdict] = []
    unknown: Unknown | None = None
    for demand in demands:
        try:
            verdicts.append(demand() if callable(demand) else demand)
        except Unknown as missing:
            unknown = unknown or missing
    verdicts.sort(key=lambda verdict: _rank(verdict, default))
    if unknown is not None and (not verdicts or verdicts[0].kind != "fail"):
        raise unknown
    worst = verdicts[0]
    others = tuple(v.says for v in verdicts[1:] if v.kind == "fail" and v.says and v.says != worst.says)
    return replace(worst, also=worst.also + others) if others else worst
