"""How today's results stand to those of an earlier inspection of the build: data only; `swaplint.gating` makes it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, NamedTuple

State = Literal["new", "worse", "solved", "better", "unchanged", "added"]
"""`new`: fails, must be decided or is owed, and did not before. `solved`: no more so. `worse` and `better`: so then and
now, in kind, level or margin, or answered then and not now, or the other way round. `added`: nothing was said of it
then, and nothing is wrong with it now."""
Because = Literal["build", "rule", "both", "stage", "day", "unknown"]
"""What made a result another one: what the build states, the rule, both, the stage of the job, the day on which it is
judged; or what nobody can tell."""
Key = tuple[str, str, str]
"""Rule, part and demand."""

COUNTED: tuple[State, ...] = ("new", "worse", "solved", "better", "unchanged")
WORSE: tuple[State, ...] = ("new", "worse")
"""What an accepted report does not accept."""


class Was(NamedTuple):
    """A result of the earlier inspection, under today's names of rules, fields and parts."""

    rule: str
    part: str
    demand: str
    kind: str
    level: str | None
    rule_level: str
    due: bool
    found: float | None = None
    unit: str = ""
    margin: float | None = None
    subject: str = ""
    message: str = ""
    accepted: bool = False
    """Whether somebody had signed for it."""
    inputs: tuple[str, ...] = ()
    unknown: tuple[str, ...] = ()

    @property
    def key(self) -> Key:
        """What tells it from every other result about the same build."""
        return self.rule, self.part, self.demand

    @property
    def troubles(self) -> bool:
        """Whether it fails, must be decided by a person or is owed, and nobody signed for it."""
        return troubles(self.kind, self.due) and not self.accepted


def troubles(kind: str, due: bool) -> bool:
    """Whether a result of a kind asks somebody to do something."""
    return due or kind in ("fail", "review")


class Compared(NamedTuple):
    """How one of today's results stands to the earlier one about the same."""

    state: State
    was: Was | None = None
    found_before: float | None = None
    """What was found then, in SI, where it is another number now, as printed."""
    because: Because | None = None
    """Where anything of it is another."""
    fields: tuple[str, ...] = ()
    """The fields that it rests on and that are stated otherwise now."""
    notes: tuple[tuple[str, str], ...] = ()
    """What its rule's author says of changes of the rule since then: each version, and what changed."""

    @property
    def changed(self) -> bool:
        """Whether anything that a report shows of it is another."""
        return self.state not in ("unchanged", "added") or self.found_before is not None


class FieldChange(NamedTuple):
    """A field that is stated otherwise than before; an empty text where it is not stated."""

    field: str
    before: str
    now: str
    rules: tuple[str, ...] = ()
    """The rules with results that are others because of it."""


@dataclass(slots=True)
class Baseline:
    """How the results of a spec stand to an earlier inspection."""

    file: str
    """The file that was named."""
    spec: str
    """The spec in it; empty where it holds none that matches, so that everything is new."""
    stage: str = ""
    is_report: bool = True
    """Whether it is a report; else a spec, inspected as this one was."""
    accepts: bool = False
    """Whether what it holds is accepted, so that only what is new or worse shuts the gate."""
    partial: bool = False
    """Whether the report left out what neither failed, had to be decided nor was owed."""
    version: str = ""
    """The version of the tool that wrote the report."""
    compared: Mapping[Key, Compared] = field(default_factory=dict)
    solved: list[Was] = field(default_factory=list)
    """What is solved, whether or not its rule still says something of it."""
    gone: int = 0
    """How many results with nothing wrong are gone, with their parts."""
    not_judged: list[Was] = field(default_factory=list)
    """What failed, had to be decided or was owed, and whose rule is no more or did not run today."""
    fields: list[FieldChange] = field(default_factory=list)
    renamed: list[tuple[str, str]] = field(default_factory=list)
    """Parts that have another name or number now, and nothing else."""

    def state(self, key: Key) -> State:
        """How a result of today stands to the earlier one."""
        return self.compared[key].state if key in self.compared else "added"

    def takes(self, key: Key) -> bool:
        """Whether the accepted report holds a result at least as bad as this one of today."""
        return self.accepts and self.state(key) not in WORSE

    def counts(self) -> dict[str, int]:
        """How many results there are of each state that the contract names."""
        states = Counter(one.state for one in self.compared.values())
        return {state: len(self.solved) if state == "solved" else states[state] for state in COUNTED}
