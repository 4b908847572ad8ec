"""What running a rule led to, before it is put into words: an outcome for each part and each demand."""

from __future__ import annotations

import functools
from collections.abc import Iterable
from dataclasses import dataclass

from swaplint.build.reads import Reads
from swaplint.declare.verdicts import LEVELS, Verdict
from swaplint.inspecting.results import Finding


@dataclass(slots=True)
class Outcome:
    """What a rule says of one part, or of the whole build, in one of its demands."""

    part: str
    """The part's path or name; empty for the whole build."""
    demand: str
    """Empty where the rule makes but one, or came to no demand."""
    verdict: Verdict | None
    """None where a field is unknown."""
    reads: Reads
    finding: Finding | None = None
    """What was made of it, once it has been put into words."""
    turned_by: tuple[str, ...] = ()
    """The fallbacks, by name, within what is found in practice of which an error is none, or a pass an error."""
    usually_passes: bool = False
    """Of an unknown: whether it passes with typical values for the few fields that it lacks."""

    @property
    def unknown(self) -> bool:
        """Whether a field is not stated that the answer hangs on."""
        return self.verdict is None


class Outcomes(list[Outcome]):
    """What a rule led to, on every part and for every demand. To be looked at only, once it is put into words."""

    @functools.cached_property
    def reads(self) -> Reads:
        """All that was read for them together: what touches nothing of that touches none of them."""
        return self[0].reads if len(self) == 1 else together(outcome.reads for outcome in self)

    @functools.cached_property
    def told_apart(self) -> bool:
        """Whether there is but one for each part and demand."""
        return len({(outcome.part, outcome.demand) for outcome in self}) == len(self)


def together(records: Iterable[Reads]) -> Reads:
    """All that several records hold, in one of its own."""
    made = Reads()
    for one in records:
        made.add(one)
    return made


def matching(outcomes: Iterable[Outcome], part: str, demand: str) -> Outcome | None:
    """What a rule says now of a part and demand that it judged before.

    Where it comes to no demand now, what it says of the part as a whole; where it came to none before, the worst of
    what it demands now. None where it has nothing more to say of it.
    """
    of_part = [outcome for outcome in outcomes if outcome.part == part]
    same = [outcome for outcome in of_part if outcome.demand == demand] or [o for o in of_part if not o.demand]
    if same or demand:
        return same[0] if same else None
    return min(of_part, key=_rank, default=None)


_KINDS = ("fail", "", "review", "pass", "informational", "notApplicable")


def _rank(outcome: Outcome) -> tuple[int, int, float]:
    verdict = outcome.verdict
    if verdict is None:
        return _KINDS.index(""), 0, 0.0
    level = LEVELS.index(verdict.level) if verdict.level is not None else 0
    return _KINDS.index(verdict.kind), level, verdict.margin if verdict.margin is not None else 0.0
