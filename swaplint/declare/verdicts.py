"""What a rule says: a verdict, with what was found, what is allowed, and one convention for the margin.

The margin is relative to the limit and positive inside it: found 8 kPa where at most 10 kPa is allowed is +0.20.
Where relative to the limit makes no sense (a temperature, a limit of zero) the rule says what the margin is relative
to with `scale`.

A rule that makes several demands names them with `all_of`; each becomes a result of its own. What the builder should
choose instead is not told in words but given as `advice`: the host tries it on the whole build before it prints it.
"""

from __future__ import annotations

import functools
import math
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal, NamedTuple

from swaplint.declare.sources import Source
from swaplint.engineering import ImpossibleInput
from swaplint.spec.paths import path_key
from swaplint.units import KINDS, unit_factor
from swaplint.units.output import shown
from swaplint.units.value import Value

Kind = Literal["pass", "fail", "open", "review", "notApplicable", "informational"]
Level = Literal["error", "warning", "note"]
Relation = Literal["at most", "at least", "within"]

ROUNDING = 1e-12
"""How far, relative to the value, arithmetic alone may put it beyond a limit that it equals."""

LEVELS: tuple[Level, ...] = ("error", "warning", "note")


class Limit(NamedTuple):
    """What is allowed. `value` is a pair (low, high) where the relation is `within`."""

    relation: Relation
    value: float | tuple[float, float]


class Advice(NamedTuple):
    """A value that the builder could choose to make a failing demand pass; the host tries it before it prints it."""

    field: str
    value: float | bool | str
    """In SI; a word, a flag or a size of a series as the spec would state it."""
    beside: tuple[tuple[str, float], ...] = ()
    """Of a part that is fitted: what else is chosen for it, each field with its number in SI."""


Advised = Advice | Sequence[Advice | None] | None


@dataclass(slots=True)  # not frozen: a frozen one takes five times as long to make, and thousands are made
class Verdict:
    """The outcome of a rule on the build or on one of its parts."""

    kind: Literal["pass", "fail", "review", "notApplicable", "informational", "several"]
    """`several` says nothing itself: its demands do."""
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
    advice: tuple[Advice, ...] = ()
    """What the builder could choose instead."""
    demands: tuple[tuple[str, Verdict | Callable[[], Verdict]], ...] = ()
    """Several demands by name, each judged by itself."""
    carried: bool = False
    """Whether the tolerances of what it rests on are in its limit already."""
    cited: Source | None = None
    """Whose the limit is where only the build says so, as the sheet of a place does of its law, and how that is known:
    what was read elsewhere makes no fail, and what is known from memory is a question."""

    def citing(self, source: Source) -> Verdict:
        """The verdict with the source that the build names for its limit."""
        return replace(self, cited=source)


def advice(field: str, value: float | bool | str | None, beside: Mapping[str, float] | None = None) -> Advice | None:
    """A value that would make a demand pass, in SI; None where there is none to advise.

    Where a part is to be fitted, `beside` gives what is chosen for it by the rule rather than typical of such a part.

    >>> advice("plumbing.fuel.supply.bore", 0.012), advice("plumbing.fuel.supply.bore", None)
    (Advice(field='plumbing.fuel.supply.bore', value=0.012, beside=()), None)
    """
    if value is None:
        return None
    if isinstance(value, int | float) and not isinstance(value, bool):
        value = _number("the advised value", value)
    chosen = {path: _number("the value advised beside it", number) for path, number in (beside or {}).items()}
    return Advice(field, value, tuple(chosen.items()))


def _advised(given: Advised) -> tuple[Advice, ...]:
    if given is None or isinstance(given, Advice):
        return () if given is None else (given,)
    return tuple(one for one in given if one is not None)


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
    advised: Advised,
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
        _advised(advised),
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
    advice: Advised = None,
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
        advice,
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
    advice: Advised = None,
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
        advice,
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
    advice: Advised = None,
) -> Verdict:
    """`found` must lie between `low` and `high`; the margin is to the nearer end, relative to that end.

    >>> within(1600.0, 1500.0, 2200.0).kind
    'pass'
    """
    _number("found", found), _number("low", low), _number("high", high)
    if low > high + ROUNDING * abs(high):
        kind, shown_in = unit or _unit_of(low, high, found)
        ends = [shown(end, kind, shown_in) for end in (low, high)]
        raise ImpossibleInput(f"the low end {ends[0]} of what is allowed lies above the high end {ends[1]}")
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
        advice,
    )


def holds(truth: bool, says: str = "", *, level: Level | None = None, on: str = "", advice: Advised = None) -> Verdict:
    """A demand without a number. `says` says what holds, or what does not and what to do about it."""
    if not isinstance(truth, bool):
        raise ValueError(f"holds takes True or False, not {truth!r}")
    return Verdict("pass" if truth else "fail", says, level=level, on=on, advice=_advised(advice))


def does_not_apply(why: str) -> Verdict:
    """The rule has nothing to judge in this build; `why` says so in a sentence."""
    return Verdict("notApplicable", why)


def needs_review(why: str, *, on: str = "", found: float | None = None, advice: Advised = None) -> Verdict:
    """A person must decide; `why` says what and on what."""
    kind, unit = _unit_of(found)
    return Verdict("review", why, found=found, quantity=kind, unit=unit, on=on, advice=_advised(advice))


def all_of(
    *demands: Mapping[str, Verdict | Callable[[], Verdict]], **named: Verdict | Callable[[], Verdict]
) -> Verdict:
    """Several demands, each of which becomes a result of its own under its name.

    A name says what is demanded and never changes its meaning; underscores are shown as hyphens. Names that are put
    together while the rule runs come in a mapping. A demand given as a function is judged with a record of its own:
    what it lacks leaves it open, and the others stand. A demand may make several itself: they are named `outer.inner`.

    >>> [name for name, _ in all_of(bore=at_most(8.0, 10.0), bend_radius=lambda: at_least(80.0, 60.0)).demands]
    ['bore', 'bend-radius']
    """
    together: list[tuple[str, Verdict | Callable[[], Verdict]]] = []
    for group in demands:
        if not isinstance(group, Mapping):
            raise ValueError("every demand has a name: all_of(bore=at_most(…), reach=lambda: …)")
        together += group.items()
    together += [(name.replace("_", "-"), demand) for name, demand in named.items()]
    if not together:
        raise ValueError("all_of takes at least one demand")
    names = {name for name, _ in together}
    for name in names:
        if not is_demand_name(name):
            raise ValueError(f"{name!r:.60} is not a name for a demand: short words with hyphens, like bend-radius")
    if len(names) < len(together):
        twice = next(name for name in names if [other for other, _ in together].count(name) > 1)
        raise ValueError(f"two demands are called {twice!r:.60}")
    return Verdict("several", demands=tuple(together))


_DEMAND = re.compile(r"[a-z][a-z0-9-]{0,40}(\.[A-Za-z0-9_-]{1,60})*")


@functools.lru_cache(1024)
def is_demand_name(name: object) -> bool:
    """Whether a demand can be called so: short words with hyphens, a part's name behind a dot."""
    return isinstance(name, str) and _DEMAND.fullmatch(name) is not None


def carried(verdict: Verdict) -> Verdict:
    """The same verdict, with the tolerances of its inputs in its limit already: it is not tried inside them again.

    For a rule that compares two uncertain numbers and allows what both may be off. An assumed input is no doubt then:
    the comparison is what tests it.

    >>> carried(within(1.02, 0.95, 1.05)).carried
    True
    """
    return replace(verdict, carried=True)


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
    if not (verdict.cited is None or isinstance(verdict.cited, Source)):
        return "a verdict that cites no source"
    if verdict.kind == "several":
        return "" if isinstance(verdict.demands, tuple) and verdict.demands else "several demands, but none"
    if not isinstance(verdict.advice, tuple) or not all(_sound(one) for one in verdict.advice):
        return "a verdict whose advice names no field and value"
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


def _sound(advised: object) -> bool:
    if not isinstance(advised, Advice) or not isinstance(advised.field, str):
        return False
    value = advised.value
    if not all(isinstance(path, str) and isinstance(number, float) for path, number in advised.beside):
        return False
    return isinstance(value, bool | str) or (isinstance(value, int | float) and math.isfinite(value))


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
