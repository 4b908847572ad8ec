"""Tolerances carried: does a verdict hold everywhere inside what its inputs may be?

A rule is run as stated, at both ends of each toleranced input alone, and at the worst and the best corner of the box
that they span, by each input's own direction. An estimate that stands in for a field is an input too: it is off from
what the others make of it. Where the verdict turns there, that is the answer. Where the margin stays
further from zero than it moves between these, a few points inside the box stand for the rest; else the rule is run at
all corners (for up to five inputs), at more points along each input, and at points spread inside the box. What passes
as stated but not at every one of these points asks for a person, and names the inputs that decide, the most influential
first, with the value at which the verdict turns. A fail stays a fail whatever is found: one that is far from passing is
looked at less, and fewer points stand for the inside of its box, for they decide on a remark.

What the method cannot see: a dip between the points that it tries. Rules are smooth in their inputs but for steps in
tables, so this takes a rule that turns twice within one tolerance.
"""

from __future__ import annotations

import functools
import itertools
from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass, replace

from swaplint.build.reads import Reads
from swaplint.declare.rule import Rule
from swaplint.inspecting.findings import few_of
from swaplint.inspecting.kept import Carried, Kept
from swaplint.inspecting.results import Finding, Inspection
from swaplint.solving.what_if import Changes, WhatIf, facts_for
from swaplint.spec.facts import Stated
from swaplint.spec.job import STAGES
from swaplint.units.output import shown

ALL_CORNERS = 5
"""Up to this many toleranced inputs every corner of the box is tried: 32 of them."""
INSIDE_POINTS = {"pass": 16, "fail": 4}
"""How many points inside the box are tried, for a finding that passes and for one that fails."""
FEW_POINTS = {"pass": 4, "fail": 2}
"""The same where the margin stays further from zero than it moves."""
CLOSING_IN = 14
"""How often the stretch between passing and failing is halved: beyond the digits that are shown."""
MOST_TOLERANCED = 100
"""How many uncertain inputs of a result are looked through."""
MOST_DECIDING = 5
"""How many of them are named where there are more."""
ENDS = (-1.0, 1.0)
ALONG_POINTS = (-1.0, -0.5, 0.5, 1.0)
_PRIMES = (2, 3, 5, 7, 11, 13, 17, 19, 23, 29, 31, 37)

Point = tuple[float, ...]
"""Where in the box: one number from -1 to 1 for each toleranced input."""


@dataclass(slots=True)
class _Input:
    path: str
    stated: Stated
    low: float
    high: float
    share: float = 0.0
    """Of an estimate: half-width of its tolerance as a share of what is estimated, which moves with its own inputs."""
    worse: float = 0.0
    """The direction, -1 or 1, in which the margin falls; 0 where it does not matter."""
    influence: float = 0.0

    def at(self, where: float) -> Stated:
        centre = float(self.stated.value)
        value = centre + where * (self.high - centre if where > 0 else centre - self.low)
        return Stated(value, 0.0, self.stated.basis, self.stated.written)


def carry_tolerances(what_if: WhatIf, inspection: Inspection, kept: Kept | None = None) -> None:
    """Judge every finding of an inspection again inside the tolerances of its inputs."""
    carried, afresh = [], []
    to_keep: list[Carried] = []
    for finding in inspection.findings:
        before = None if kept is None else kept.carried_before(finding)
        if before is None:
            afresh.append(finding)
        else:
            carried.append(before)
    # Those that rest on the same inputs ask about the same points one after another: what is worked out there is kept.
    afresh.sort(key=lambda finding: (what_if.spec.toleranced_among(finding.inputs), finding.key))
    for finding in afresh:
        reads = None if kept is None else Reads()
        carried.append(_carried(what_if, finding, reads))
        if reads is not None:
            to_keep.append(Carried(finding, carried[-1], reads))
    if kept is not None:
        kept.keep_carried(to_keep)
    inspection.findings = sorted(carried, key=lambda finding: finding.sort_key)


def stays_a_pass(what_if: WhatIf, finding: Finding, changes: Changes) -> bool:
    """Whether a finding that passes does so everywhere inside the tolerances, on a build with some fields changed.

    A changed value has the tolerance that it is given with.
    """
    inputs = _toleranced(what_if, finding, changes)
    if len(inputs) > MOST_TOLERANCED:
        return False  # nobody has looked
    return not inputs or _Box(what_if, finding, inputs, changes).stays_a_pass()


def worst_corner(what_if: WhatIf, finding: Finding, fixed: Collection[str]) -> dict[str, Stated | None]:
    """The values inside the tolerances at which a finding comes out worst, by each input's own direction.

    `fixed` names fields that are given other values anyway.
    """
    key = _worst_key(finding)
    if key not in what_if.view.kept:
        # The finding may have become a review since: as it is stated decides which way is worse.
        stated = what_if.judgement(finding, {}) or finding
        inputs = _toleranced(what_if, finding, {})
        if len(inputs) > MOST_TOLERANCED:
            return {}
        _Box(what_if, stated, inputs).look_at_ends()
    worst: dict[str, Stated | None] = what_if.view.kept[key]
    return {path: stated for path, stated in worst.items() if path not in fixed}


def _worst_key(finding: Finding) -> tuple[str, ...]:
    return "worst corner", *finding.key


def _carried(what_if: WhatIf, finding: Finding, reads: Reads | None = None) -> Finding:
    """A finding with tolerances carried; what is read for it is added to `reads`."""
    if finding.kind not in ("pass", "fail") or finding.carried:
        return finding
    inputs = _toleranced(what_if, finding, {})
    if len(inputs) > MOST_TOLERANCED:
        return _not_looked_through(finding, inputs)
    return _with_assumptions(what_if, _Box(what_if, finding, inputs, reads=reads).judged() if inputs else finding)


def _not_looked_through(finding: Finding, inputs: Sequence[_Input]) -> Finding:
    """What passes as stated asks for a person where it rests on too many uncertain values to try them all."""
    if finding.kind != "pass":
        return finding
    says = (
        f"Passes as stated. {len(inputs)} of the values that it rests on have a tolerance, more than the "
        f"{MOST_TOLERANCED} that are looked through: whether it passes everywhere inside them is not known."
    )
    widest = sorted(inputs, key=lambda one: -(one.high - one.low) / max(1e-12, abs(float(one.stated.value))))
    deciding = tuple(one.path for one in widest[:MOST_DECIDING])
    message = _joined(finding.message, says)
    return replace(finding, kind="review", level=None, message=message, deciding=deciding)


def _toleranced(what_if: WhatIf, finding: Finding, changes: Changes) -> list[_Input]:
    """What a finding rests on and may be otherwise: stated values with a tolerance, and estimates."""
    out = []
    for path in finding.inputs if changes else what_if.spec.toleranced_among(finding.inputs):
        stated = changes[path] if path in changes else what_if.spec.stated(path)
        if stated is None or not stated.tol or isinstance(stated.value, bool | str):
            continue
        low, high = stated.value - stated.tol, stated.value + stated.tol
        facts = facts_for(what_if.base, path)
        if facts is not None and not facts.signed and low <= 0 < stated.value:
            low = 1e-3 * stated.value  # a tolerance never makes a length or mass negative
        out.append(_Input(path, stated, low, high))
    for one in finding.estimates:
        if changes.get(one.field) is None:
            stated = Stated(one.value, one.tol, "calculated")
            out.append(_Input(one.field, stated, one.value - one.tol, one.value + one.tol, one.by.tolerance))
    return out


class _Box:
    """The box that a finding's toleranced inputs span, and what the rule says inside it."""

    def __init__(
        self,
        what_if: WhatIf,
        finding: Finding,
        inputs: list[_Input],
        changes: Changes | None = None,
        reads: Reads | None = None,
    ) -> None:
        self.changes, self.reads = dict(changes or {}), reads
        self.what_if, self.finding, self.inputs = what_if, finding, inputs
        self.rule: Rule = finding.rule
        self.seen: dict[Point, Finding | None] = {}

    def judged(self) -> Finding:
        """The finding as it stands when tolerances are carried."""
        if self.finding.kind == "fail" and self._fails_by_far():
            return self.finding
        self.look_at_ends()
        self._look_at_extremes()
        if not (self._bad() if self.finding.kind == "pass" else self._good()):
            self._look_closer()
        bad = self._bad()
        if self.finding.kind == "pass":
            return self._straddling(bad) if bad else self.finding
        if not self._good():
            return self.finding
        deciding = self._deciding()
        says = f"Within the stated tolerances it can pass; {few_of(deciding)} decides." if deciding else ""
        return replace(self.finding, message=_joined(self.finding.message, says), deciding=tuple(deciding))

    def stays_a_pass(self) -> bool:
        """Whether the finding passes at every point; ends at the first look that says no."""
        for look in (self.look_at_ends, self._look_at_extremes, self._look_closer):
            look()
            if self._bad():
                return False
        return True

    def _fails_by_far(self) -> bool:
        """Whether it fails by more than it moves, at one end of each input and at the corners that these point at."""
        centre = (0.0,) * len(self.inputs)
        first = [self._at((*centre[:index], 1.0, *centre[index + 1 :])) for index in range(len(self.inputs))]
        better = tuple(1.0 if _score(found) > _score(self.finding) else -1.0 for found in first)
        self._look_at([better, tuple(-way for way in better)])
        return self._far_from_turning()

    def look_at_ends(self) -> None:
        """Look at both ends of each input, and keep at which the build as it stands comes out worse."""
        self._look_along_each(ENDS)
        if not self.changes:
            worst = {one.path: one.at(one.worse) for one in self.inputs if one.worse}
            self.what_if.view.kept[_worst_key(self.finding)] = worst

    def _look_at_extremes(self) -> None:
        """Look at the worst and the best corner, by each input's own direction."""
        worst = tuple(one.worse for one in self.inputs)
        self._look_at([worst, tuple(-w for w in worst)])

    def _look_closer(self) -> None:
        if self._far_from_turning():
            self._look_at(self._inside()[: FEW_POINTS[self.finding.kind]])
        else:
            self._look_along_each(ALONG_POINTS)
            self._look_at([*self._corners(), *self._inside()[: INSIDE_POINTS[self.finding.kind]]])

    def _look_at(self, points: Iterable[Point]) -> None:
        for point in points:
            self._at(point)

    def _bad(self) -> list[Point]:
        return [p for p, f in self.seen.items() if f is None or f.kind not in ("pass", "informational")]

    def _good(self) -> list[Point]:
        return [p for p, f in self.seen.items() if f is not None and f.kind == "pass"]

    def _at(self, point: Point) -> Finding | None:
        if point not in self.seen:
            self.seen[point] = self.what_if.judgement(self.finding, self._changes_at(point), self.reads)
        return self.seen[point]

    def _changes_at(self, point: Point) -> Changes:
        """The values at a point. An estimate is off by its own tolerance from what the others make of it there."""
        changes = dict(self.changes)
        estimated = []
        for one, where in zip(self.inputs, point, strict=True):
            if not one.share:
                changes[one.path] = one.at(where)
            elif where:
                estimated.append((one, where))
        for one, where in estimated:
            value = self.what_if.estimated(one.path, changes, self.reads)
            if value is not None:
                changes[one.path] = Stated(value + where * one.share * abs(value), 0.0, "calculated")
        return changes

    def _look_along_each(self, places: Sequence[float]) -> None:
        """Look along each input by itself, and note which way it makes things worse and by how much."""
        centre = (0.0,) * len(self.inputs)
        for index, one in enumerate(self.inputs):
            margins = {}
            for where in places:
                found = self._at((*centre[:index], where, *centre[index + 1 :]))
                margins[where] = _score(found)
            lowest = min(margins, key=lambda w: (margins[w], -abs(w)))
            one.influence = max(margins.values()) - min(*margins.values(), _score(self.finding))
            one.worse = (1.0 if lowest > 0 else -1.0) if one.influence > 0 else 0.0

    def _far_from_turning(self) -> bool:
        """Whether the margin, everywhere so far, is on one side of zero and further from it than it moves in all."""
        margins = [f.margin for f in (self.finding, *self.seen.values()) if f is not None and f.margin is not None]
        if len(margins) <= len(self.seen) or len({_kind(f) for f in (self.finding, *self.seen.values())}) > 1:
            return False
        low, high = min(margins), max(margins)
        return low * high > 0 and min(abs(low), abs(high)) > high - low

    def _corners(self) -> list[Point]:
        moving = [i for i, one in enumerate(self.inputs) if one.influence > 0]
        corners = []
        if len(moving) <= ALL_CORNERS:
            for signs in itertools.product((-1.0, 1.0), repeat=len(moving)):
                corner = [0.0] * len(self.inputs)
                for index, sign in zip(moving, signs, strict=True):
                    corner[index] = sign
                corners.append(tuple(corner))
        return corners

    def _inside(self) -> Sequence[Point]:
        return _spread_inside(len(self.inputs))

    def _deciding(self) -> list[str]:
        """The inputs that can turn the verdict, the most influential first."""
        moving = sorted((one for one in self.inputs if one.influence > 0), key=lambda one: -one.influence)
        turning = [one for one in moving if self._turns_alone(one)]
        return [one.path for one in (turning or moving)]

    def _turns_alone(self, one: _Input) -> bool:
        index = self.inputs.index(one)
        centre = (0.0,) * len(self.inputs)
        return any(
            _kind(self._at((*centre[:index], where, *centre[index + 1 :]))) != self.finding.kind
            for where in ALONG_POINTS
        )

    def _straddling(self, bad: list[Point]) -> Finding:
        deciding = self._deciding()
        turns = [self._turning_value(one, bad) for one in self.inputs if one.path in deciding[:3]]
        says = "Passes as stated, but not everywhere inside the stated tolerances."
        says += "".join(f" {turn}" for turn in turns if turn)
        worst = min((self.seen[p] for p in bad), key=_score)
        if worst is not None and worst.found is not None and worst.kind == "fail":
            says += f" At worst {shown(worst.found, worst.quantity, worst.unit, about=worst.rule.id)}."
        return replace(
            self.finding,
            kind="review",
            level=None,
            message=_joined(self.finding.message, says),
            deciding=tuple(deciding),
        )

    def _turning_value(self, one: _Input, bad: list[Point]) -> str:
        """The value of one input at which the verdict turns: the others as stated, or else at the worst point found."""
        index = self.inputs.index(one)
        centre = (0.0,) * len(self.inputs)
        for others in (centre, min(bad, key=lambda p: _score(self.seen[p]))):
            here = (*others[:index], 0.0, *others[index + 1 :])
            if _kind(self._at(here)) != "pass":
                continue
            ends = [w for w in ALONG_POINTS if _kind(self._at((*others[:index], w, *others[index + 1 :]))) != "pass"]
            if not ends:
                continue
            low, high = 0.0, min(ends, key=abs)
            for _ in range(CLOSING_IN):
                middle = 0.5 * (low + high)
                passes = _kind(self._at((*others[:index], middle, *others[index + 1 :]))) == "pass"
                low, high = (middle, high) if passes else (low, middle)
            facts = facts_for(self.what_if.base, one.path)
            if facts is None:
                return ""
            turn = shown(float(one.at(low).value), facts.kind_name, facts.unit, about=one.path)
            rest = "" if others == centre else " with the other inputs at their worst"
            return f"It passes {'up to' if high > 0 else 'down to'} {one.path} = {turn}{rest}."
        return ""


def _with_assumptions(what_if: WhatIf, finding: Finding) -> Finding:
    """From the build stage on, a pass that rests on an assumed value without a tolerance asks for a person."""
    if finding.kind != "pass" or STAGES.index(what_if.stage) < STAGES.index("build"):
        return finding
    assumed = what_if.spec.assumed_among(finding.inputs)
    if not assumed:
        return finding
    says = f"It rests on {few_of(assumed)}, which is only assumed: from the build stage on a person must accept that."
    return replace(
        finding,
        kind="review",
        message=_joined(finding.message, says),
        deciding=tuple(dict.fromkeys((*finding.deciding, *assumed))),
    )


def _kind(finding: Finding | None) -> str:
    return "review" if finding is None else finding.kind


def _score(finding: Finding | None) -> float:
    """How good a finding is, for finding the worst: its margin, or a step for what has none."""
    if finding is None:
        return -20.0
    step = {"pass": 0.0, "informational": 0.0, "review": -5.0, "open": -10.0}.get(finding.kind, 0.0)
    if finding.margin is not None:
        return step + max(-4.0, min(4.0, finding.margin))
    return step + (1.0 if finding.kind == "pass" else -1.0)


@functools.lru_cache(maxsize=128)
def _spread_inside(inputs: int) -> Sequence[Point]:
    """Points inside a box of so many inputs."""
    if inputs < 2:
        return (-0.25,), (0.75,), (0.25,), (-0.75,)
    return tuple(
        tuple(2.0 * _halton(n, _PRIMES[i % len(_PRIMES)]) - 1.0 for i in range(inputs))
        for n in range(1, INSIDE_POINTS["pass"] + 1)
    )


def _halton(index: int, base: int) -> float:
    """The points of a low-discrepancy sequence, spread evenly over 0 to 1 (Halton 1960)."""
    result, share = 0.0, 1.0
    while index:
        share /= base
        result += share * (index % base)
        index //= base
    return result


def _joined(*sentences: str) -> str:
    return " ".join(sentence for sentence in sentences if sentence)
