"""The checklist of a build: what is done and measured at which moment of the job, what to expect and what is allowed.

Each step of each pack is asked once for the build, or for each of its parts. A step about a part that is not fitted is
left out; one of which it is not known whether the build has its part stays, and says so.
"""

from __future__ import annotations

import graphlib
import itertools
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, field

from swaplint.declare.steps import MOMENTS, Step
from swaplint.host.packs import LoadedPack, RuleBase
from swaplint.host.problems import Problem
from swaplint.making.asking import Asking, StepBroke
from swaplint.making.steps import Entry
from swaplint.spec.job import Stage
from swaplint.spec.loaded import LoadedSpec
from swaplint.spec.systems import SYSTEMS


@dataclass(slots=True)
class Checklist:
    """The steps of one build, in working order."""

    spec: LoadedSpec
    packs: list[LoadedPack]
    stages: tuple[Stage, ...]
    """The stages whose steps it holds."""
    entries: list[Entry] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)

    def moments(self) -> Iterator[tuple[str, list[list[Entry]]]]:
        """The moments that have steps, in working order; the entries of one step together."""
        for moment in MOMENTS:
            found = [entry for entry in self.entries if entry.step.moment == moment]
            if found:
                yield moment, [list(group) for _, group in itertools.groupby(found, key=lambda entry: entry.step.id)]


STAGES_WITH_STEPS: tuple[Stage, ...] = tuple(dict.fromkeys(moment.stage for moment in MOMENTS.values()))


def checklist(base: RuleBase, spec: LoadedSpec, stages: Collection[Stage] = STAGES_WITH_STEPS) -> Checklist:
    """The steps that a build asks for at some stages of the job."""
    made = Checklist(spec, list(base.packs), tuple(stage for stage in STAGES_WITH_STEPS if stage in stages))
    asking = Asking(spec, base.model)
    for pack, step in in_working_order(base.steps):
        if MOMENTS[step.moment].stage in made.stages:
            try:
                for entry in asking.entries(pack, step, len(made.entries)):
                    made.entries.append(entry)
            except StepBroke as broke:
                what = f"the step {step.id} {broke.what}; the checklist of {spec.label} is without it"
                made.problems.append(Problem(what, "rule", pack.name, step.id, broke.file, broke.line))
    return made


def in_working_order(steps: Iterable[tuple[LoadedPack, Step]]) -> list[tuple[LoadedPack, Step]]:
    """Steps by moment; in one moment by system and as declared, but for those that go after others."""
    given = list(steps)
    moments = list(MOMENTS)
    given.sort(key=lambda one: (moments.index(one[1].moment), SYSTEMS.index(one[1].system)))
    moment_of = {step.id: step.moment for _, step in given}
    placed: dict[str, tuple[LoadedPack, Step]] = {}
    waiting = {step.id: (pack, step) for pack, step in given}

    def place(id: str, above: tuple[str, ...]) -> None:
        if id in placed or id in above:
            return
        pack, step = waiting[id]
        for before in step.after:
            if moment_of.get(before) == step.moment:
                place(before, (*above, id))
        placed[id] = pack, step

    for _, step in given:
        place(step.id, ())
    return list(placed.values())


def runs_in_circles(steps: Iterable[Step]) -> list[str]:
    """The ids of steps that go after each other in a circle; empty where there is none.

    >>> runs_in_circles([])
    []
    """
    try:
        graphlib.TopologicalSorter({step.id: step.after for step in steps}).prepare()
    except graphlib.CycleError as circle:
        return list(dict.fromkeys(circle.args[1]))
    return []
