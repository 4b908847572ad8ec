"""Windows: the stretches of a continuous field's values in which rules pass.

Every rule is asked about values spread over the plausible range, and then halfway between two of them, and halfway
again, where its verdict could turn there: where it differs at the two ends or next to them, has no margin, or comes as
near to its limit as it moves there.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Collection, Mapping, Sequence
from typing import NamedTuple

from swaplint.declare.rule import Rule
from swaplint.solving.trial import Says, Trial
from swaplint.solving.turning import Judged, may_turn, moved
from swaplint.spec.facts import Stated

LOOKED_AT = 240
"""How many values of a continuous field are looked at over its plausible range, before closing in on the ends."""
STRIDE = 8
"""Every so many of them are looked at first."""
CLOSING_IN = 120
"""How often the stretch between failing and passing is narrowed at most."""
CLOSING_IN_ON_MUCH = 6
"""The same where so much hangs on the field that not all is looked at."""
CLOSE_ENOUGH = 1e-9
"""How narrow that stretch gets, relative to the value: far beyond the digits that a person writes."""


class Window(NamedTuple):
    """A stretch of values that pass, in SI, and the rules that end it; None where the plausible range does.

    Values at which a rule cannot judge, because its formula does not hold there, do not count as passing.
    """

    low: float
    high: float
    bound_low: str | None
    bound_high: str | None


class Range:
    """The plausible range of a field, and what each rule says of the values in it."""

    def __init__(self, trial: Trial, low: float, high: float, now: Stated | None) -> None:
        """`low` and `high` in SI; `now` is looked at, too, where it lies between them."""
        self.trial = trial
        self.values = [low + (high - low) * n / LOOKED_AT for n in range(LOOKED_AT + 1)]
        self._now = math.nan
        if now is not None and low < float(now.value) < high:
            self.values = sorted({*self.values, float(now.value)})
            self._now = float(now.value)
        self.spent = False
        """Whether more values would have been looked at, had less hung on each."""
        judged = self._judged()
        self.asked = sorted(set[int]().union(*judged.values()))
        """Which of the values between the ends of the range were looked at, counted from the lower end."""
        said = {rule.id: self._said(rule, judged[rule.id]) for rule in trial.rules}
        if self.spent:  # of a value between two that were looked at nothing is known
            self.values = [self.values[n] for n in self.asked]
            said = {id: [row[n] for n in self.asked] for id, row in said.items()}
        self.judging = {id for id, row in said.items() if not all(says.silent for says in row)}
        """The rules that judge at some value at least: where such a rule cannot, a value does not pass."""
        self.stopped: list[set[str]] = [
            {id for id, row in said.items() if self._stops(id, row[n])} for n in range(len(self.values))
        ]
        """For each value the rules that it does not pass."""

    def _stops(self, id: str, says: Says) -> bool:
        return says.fails or (says.silent and id in self.judging)

    def _judged(self) -> dict[str, dict[int, Judged]]:
        """What each rule says of the values that it was asked about, by where they stand among all.

        Each round asks about one value after the other, all rules that want it: so little is held at once.
        """
        judged: dict[str, dict[int, Judged]] = {rule.id: {} for rule in self.trial.rules}
        wanted = dict.fromkeys(self._first(), self.trial.rules)
        while wanted:
            for n in sorted(wanted):
                for rule in wanted[n]:
                    judged[rule.id][n] = self._asked(rule, self.values[n])
                self.trial.let_go(Stated(self.values[n]))
            wanted = {}
            for rule in self.trial.rules:
                for n in _where_it_could_turn(judged[rule.id]):
                    wanted.setdefault(n, []).append(rule)
            if wanted and self.trial.affords(len(wanted)) < len(wanted):
                self.spent = True
                break
        return judged

    def _first(self) -> list[int]:
        """The values to begin with: as many as leave room to look closer."""
        last = len(self.values) - 1
        stride = STRIDE
        while stride < last and 2 * (last // stride + 1) > self.trial.affords(last):
            stride *= 2
        self.spent = stride > STRIDE
        first = {*range(0, last, stride), last}
        return sorted(first | {n for n, value in enumerate(self.values) if self.spent and value == self._now})

    def _said(self, rule: Rule, judged: Mapping[int, Judged]) -> list[Says]:
        """What a rule says of each value: where it was not asked, what it says of the last one before."""
        out: list[Says] = []
        for here, there in itertools.pairwise([*sorted(judged), len(self.values)]):
            out += [self.trial.says(rule, Stated(self.values[here]))] * (there - here)
        return out

    def _asked(self, rule: Rule, value: float) -> Judged:
        return {f"{finding.part} {finding.demand}": finding for finding in self.trial.judgements(rule, Stated(value))}

    def not_passing(self, value: float, among: Sequence[Rule]) -> list[str]:
        """Those of some rules that a value does not pass: errors first, then those that can judge others but not it."""
        stated = Stated(value)
        stopping = [rule.id for rule in among if self._stops(rule.id, self.trial.says(rule, stated))]
        return list(dict.fromkeys([*self.trial.fails(stated, among), *stopping]))

    def windows(self, ignored: Collection[str] = (), only: str | None = None) -> list[Window]:
        """The stretches in which all rules pass but those ignored, or in which one does."""
        out: list[Window] = []
        start: int | None = None
        stopped = [row & {only} if only is not None else row.difference(ignored) for row in self.stopped]
        for index in range(len(self.values) + 1):
            passes = index < len(self.values) and not stopped[index]
            if passes and start is None:
                start = index
            elif not passes and start is not None:
                out.append(self._window(stopped, start, index - 1))
                start = None
        return out

    def _window(self, stopped: list[set[str]], first: int, last: int) -> Window:
        low, high = self.values[first], self.values[last]
        bound_low = bound_high = None
        if first > 0:
            low, bound_low = self._edge(stopped[first - 1], self.values[first - 1], low)
        if last < len(self.values) - 1:
            high, bound_high = self._edge(stopped[last + 1], self.values[last + 1], high)
        return Window(low, high, bound_low, bound_high)

    def _edge(self, stopping: set[str], failing: float, passing: float) -> tuple[float, str | None]:
        """Close in on the value where passing ends, and name the rule that ends it.

        The next value is where a straight line between the margins at both ends meets zero, with the margin of an end
        that stays halved each time (the Illinois method); every third time, and without margins, it is the middle.
        """
        rules = [rule for rule in self.trial.rules if rule.id in stopping]
        below, above = self._least_margin(rules, failing), self._least_margin(rules, passing)
        moved_failing: bool | None = None
        for step in range(1, (CLOSING_IN_ON_MUCH if self.spent else CLOSING_IN) + 1):
            if abs(failing - passing) <= CLOSE_ENOUGH * abs(passing):
                break
            if self.trial.spent:
                self.spent = True
                break
            by_line = below < 0.0 < above and step % 3
            value = passing + (failing - passing) * (above / (above - below) if by_line else 0.5)
            fails = any(self._stops(rule.id, self.trial.says(rule, Stated(value))) for rule in rules)
            if fails:
                failing, below = value, self._least_margin(rules, value)
                above *= 0.5 if moved_failing is True else 1.0
            else:
                passing, above = value, self._least_margin(rules, value)
                below *= 0.5 if moved_failing is False else 1.0
            moved_failing = fails
            self.trial.let_go(Stated(value))
        binding = self.not_passing(failing, rules)
        return passing, binding[0] if binding else None

    def _least_margin(self, rules: Sequence[Rule], value: float) -> float:
        """The least margin that some rules leave; no number where one judges without."""
        judged = [finding for rule in rules for finding in self.trial.judgements(rule, Stated(value))]
        margins = [finding.margin for finding in judged if finding.kind in ("pass", "fail")]
        known = [margin for margin in margins if margin is not None]
        return min(known) if known and len(known) == len(margins) else math.nan


def _where_it_could_turn(judged: Mapping[int, Judged]) -> list[int]:
    """Halfway between the neighbours among the values asked about between which a verdict could turn."""
    asked = sorted(judged)
    steps = [moved(judged[here], judged[there]) for here, there in itertools.pairwise(asked)]
    return [
        (here + there) // 2
        for n, (here, there) in enumerate(itertools.pairwise(asked))
        if there - here > 1 and may_turn(judged[here], judged[there], steps[max(0, n - 1) : n + 2])
    ]
