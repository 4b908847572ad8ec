"""A step as it stands on the checklist of one build: its numbers, or why there are none, and where its answer goes."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Any

from swaplint.declare.quantities import subject_text
from swaplint.declare.sources import Source
from swaplint.declare.steps import Step
from swaplint.declare.verdicts import Limit
from swaplint.host.packs import LoadedPack
from swaplint.spec.facts import FieldFacts, Stated


@dataclass(frozen=True, slots=True)
class Figure:
    """A number on the list, in SI, or why there is none."""

    value: float | None = None
    about: str = ""
    """The field or quantity that it is, where it is one."""
    kind: str = ""
    unit: str = ""
    unknown: tuple[str, ...] = ()
    """The fields that are not stated and that it takes."""
    why: str = ""
    """Why there is no number, where it is not for want of a field: a sentence."""
    not_fitted: bool = False
    """Whether it is one of a part that the build does not have."""
    no_limit: bool = False
    """Whether its maker states that there is no such limit."""
    rests_on: tuple[str, ...] = ()
    """What of it nobody stated: practices that stand in, estimates, assumed values."""
    sources: tuple[Source, ...] = ()
    """Those of the practices that stand in."""


@dataclass(frozen=True, slots=True)
class Noted:
    """A field that takes what is found, or what it depends on."""

    field: str
    facts: FieldFacts | None
    """What it takes; None for a part."""
    stated: Stated | None
    """What the spec states already."""

    @property
    def answer(self) -> Stated | None:
        """What was found already; what is stated elsewhere than among the measurements may only be planned."""
        planned = not self.field.startswith("measured.") and self.stated is not None and self.stated.basis != "measured"
        return None if planned else self.stated


@dataclass(frozen=True, slots=True)
class Entry:
    """A step on the list of one build."""

    pack: LoadedPack
    step: Step
    number: int
    part: str
    """The part's path or name, where the step is done on several."""
    found: Noted
    """Where the answer is written."""
    also: tuple[Noted, ...]
    """What is noted with it, without what an earlier step of the list takes."""
    kind: str
    unit: str
    """The kind of quantity of its numbers, and the unit that they are shown in; empty for pure numbers."""
    says: str = ""
    """What is seen where all is well."""
    cautions: tuple[str, ...] = ()
    expected: Figure | None = None
    low: float | None = None
    high: float | None = None
    """Within what the prediction lies, by the tolerances of what it rests on and its own accuracy; None where neither
    is known."""
    least: Figure | None = None
    most: Figure | None = None
    unsure: tuple[str, ...] = ()
    """Fields that are not stated and on which it hangs whether this build has what the step is about."""

    @property
    def field(self) -> str:
        """Where the answer is written."""
        return self.found.field

    @property
    def about(self) -> str:
        """What its numbers are about: the field that takes the answer, where that is a number of their kind."""
        return self.step.id if self.found.facts is None or not self.found.facts.unit else self.field

    @property
    def answered(self) -> bool:
        """Whether the spec states the answer already."""
        return self.found.answer is not None

    @property
    def about_nothing(self) -> bool:
        """Whether all that it measures is of parts that the build does not have."""
        figures = [figure for figure in (self.expected, self.least, self.most) if figure is not None]
        return bool(figures) and all(figure.not_fitted for figure in figures)

    @property
    def limit(self) -> Limit | None:
        """What is allowed, as far as it is known."""
        low = None if self.least is None else self.least.value
        high = None if self.most is None else self.most.value
        if low is not None and high is not None:
            return Limit("within", (low, high))
        if low is not None:
            return Limit("at least", low)
        return None if high is None else Limit("at most", high)

    @property
    def beyond(self) -> bool:
        """Whether what was found lies beyond the limit by more than its own tolerance.

        How it compares with the prediction is for the rules to say, which know the conditions.
        """
        answer = self.found.answer
        if answer is None or isinstance(answer.value, bool | str):
            return False
        least = None if self.least is None else self.least.value
        most = None if self.most is None else self.most.value
        above = most is not None and answer.value - answer.tol > most
        return above or (least is not None and answer.value + answer.tol < least)

    @property
    def limit_sources(self) -> tuple[Source, ...]:
        """Where the limit comes from."""
        own = tuple(source for source in self.step.sources if source.gives == "limit")
        stand_in = tuple(source for figure in (self.least, self.most) if figure for source in figure.sources)
        return tuple(dict.fromkeys((*own, *stand_in)))


def places_to_write(step: Step, arguments: tuple[Any, ...]) -> list[str]:
    """The field that takes the answer to a step, for the part that it is done on, and those that are noted with it.

    A step without a reading is noted as done on a day, under its own name.
    """
    part = subject_text(arguments[0]) if arguments else ""
    name = "-".join(re.findall(r"[A-Za-z0-9_]+", f"{step.id} {part.rsplit('.', 1)[-1]}"))
    named = (step.write or f"measured.done.{name}.date", *step.also)
    return [_of_part(path, part) if part else path for path in named]


def _of_part(pattern: str, part: str) -> str:
    """A pattern for a part: what stands in the part's own path at that place, elsewhere its name.

    >>> _of_part("build.places.*.noise.*.now", "build.places.state.noise.idle")
    'build.places.state.noise.idle.now'
    >>> _of_part("vehicle.clearances.*.gap", "fan")
    'vehicle.clearances.fan.gap'
    """
    pieces, own = pattern.split("."), part.split(".")
    out: list[str] = []
    for place, piece in enumerate(pieces):
        along = place < len(own) and out == own[:place]
        out.append(piece if piece != "*" else own[place] if along else own[-1])
    return ".".join(out)
