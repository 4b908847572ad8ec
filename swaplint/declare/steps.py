"""Steps of the checklist: one thing to do or to measure, at one moment of the job.

    @step(
        "fuel.inlet-depression",
        moment="first-drive",
        instrument="vacuum gauge, ±1 kPa, on a tee at the pump's inlet",
        write="measured.fuel.inlet_depression",
        sources=[sheet("engine.fuel.max_inlet_restriction")],
        cautions=[FUEL_FIRE],
    )
    def inlet_depression(build: Build) -> Expected:
        '''Measure the depression at the fuel inlet at rated speed and full load.

        How: warm fuel, clean filter, a clear hose in the line so that air shows.
        Stop: air in the clear hose, or the engine loses power: ease off and find the leak.
        '''
        return expect(lambda: suction_pressure_loss(build), at_most=lambda: build.engine.fuel.max_inlet_restriction)

A step is a pure function of the build, as a rule is. It stands on the list of each build that has what it reads: where
a part is not fitted, there is nothing to do. What it lacks is named on the list; the step itself stays.
"""

from __future__ import annotations

import inspect
import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

from swaplint.declare.quantities import ID
from swaplint.declare.sources import Source
from swaplint.spec.job import Stage
from swaplint.spec.systems import SYSTEMS

Number = float | Callable[[], float]
"""A number, or a function that reads it: what that lacks leaves only itself unknown."""


class Moment(NamedTuple):
    """A point of the job at which steps are done together."""

    stage: Stage
    title: str


MOMENTS: Mapping[str, Moment] = {
    "before-lifting": Moment("build", "Before lifting"),
    "trial-fit": Moment("build", "Trial fit, before anything is welded for good"),
    "before-power": Moment("build", "Before the battery is connected"),
    "before-crank": Moment("commission", "Before the first crank"),
    "first-start": Moment("commission", "First start"),
    "first-hour": Moment("commission", "First hour, standing"),
    "first-drive": Moment("commission", "First drive"),
    "first-hundred-hours": Moment("commission", "First hundred hours"),
    "yearly": Moment("commission", "Every year"),
}
"""When steps are done, in working order."""


@dataclass(frozen=True, slots=True)
class Expected:
    """What a step should find: a number with its limits, or something to see."""

    says: str = ""
    """What is seen or felt where all is well, in words."""
    value: Number | None = None
    """The prediction, in SI."""
    at_least: Number | None = None
    at_most: Number | None = None
    unit: tuple[str, str] = ("", "")
    """The kind of quantity and the unit of its numbers, where neither they nor the field that takes the answer tell."""
    cautions: tuple[str, ...] = ()
    """Those of its own, where they hang on what the build has."""
    needed: bool = True
    """Whether this build has what the step is about."""


def expect(
    what: str | Number = "",
    says: str = "",
    *,
    at_least: Number | None = None,
    at_most: Number | None = None,
    unit: tuple[str, str] = ("", ""),
    cautions: Sequence[str] = (),
) -> Expected:
    """What a step should find: a prediction, mostly a quantity of the worksheet, or words for what is seen.

    `at_least` and `at_most` are the limits. Give what may not be known as a function: it is then said what is missing,
    and the rest stands. `unit` is (kind of quantity, unit shown), needed only where nothing else tells. `cautions` are
    those of this build, beside those that the step always has.

    >>> expect("no bubbles in the clear hose").says
    'no bubbles in the clear hose'
    >>> expect(12.0, at_most=20.0).at_most
    20.0
    """
    if isinstance(what, str):
        return Expected(f"{what} {says}".strip(), None, at_least, at_most, unit, tuple(cautions))
    return Expected(says, what, at_least, at_most, unit, tuple(cautions))


def not_needed(why: str) -> Expected:
    """The step is none for this build; `why` says so in a sentence.

    >>> not_needed("A pump feeds the engine.").needed
    False
    """
    return Expected(why, needed=False)


class StepError(ValueError):
    """A step that is not declared as the interface asks."""


@dataclass(frozen=True)
class Step:
    """A step as its pack declares it."""

    id: str
    moment: str
    function: Callable[..., Expected]
    instrument: str = ""
    """What it is measured with, and how closely that reads; empty where eyes and hands do."""
    write: str = ""
    """The field of the spec that takes what was found; `*` stands for the part in question. Empty where nothing is
    read: then `[measured.done]` takes the day on which it was done, under the step's name."""
    also: tuple[str, ...] = ()
    """Fields that are noted with it: the conditions, the day. What an earlier step notes is not asked again."""
    sources: tuple[Source, ...] = ()
    """Those of its limits, and of whatever else it says as a number."""
    cautions: tuple[str, ...] = ()
    after: tuple[str, ...] = ()
    """Steps of the same moment that go before it."""
    accuracy: float = 0.0
    """How far the prediction may be off with exact inputs, as a share of it; 0 where nobody knows."""
    each: Callable[[Any], Iterable[Any]] | None = None
    """The parts that it is done on one by one."""
    example: tuple[tuple[str, Any], ...] = ()
    """Edits to the sound spec with which it stands on the list, where it does not without."""

    @property
    def texts(self) -> tuple[str, dict[str, str]]:
        """What is to be done, and the labelled paragraphs of the docstring. Raises `StepError`."""
        return _read_docstring(self.id, self.function)

    @property
    def title(self) -> str:
        """What is to be done, in one line."""
        return self.texts[0]

    @property
    def system(self) -> str:
        """The system that the step belongs to."""
        return self.id.split(".", 1)[0]


NOTHING: Mapping[str, Any] = {}


def step(
    id: str,
    *,
    moment: str,
    instrument: str = "",
    write: str = "",
    also: Sequence[str] = (),
    sources: Sequence[Source] = (),
    cautions: Sequence[str] = (),
    after: Sequence[str] = (),
    accuracy: float = 0.0,
    each: Callable[[Any], Iterable[Any]] | None = None,
    example: Mapping[str, Any] = NOTHING,
) -> Callable[[Callable[..., Expected]], Step]:
    """Declare a step of the checklist. The decorated function says what it should find, with `expect`.

    `moment` is when it is done, one of `MOMENTS`; within one, steps follow the order of the systems and of their
    declaration, and `after` names those of the same moment that go before. The docstring is the line that says what to
    do, and the paragraphs `How:` and, where something can go wrong, `Stop:`, which says when to stop at once.

    The function reads what the build must have for the step to make sense: a part that is not fitted takes the step off
    the list, as `not_needed("why")` does. A limit has a source in `sources`, as one of a rule has. `write` names the
    field that takes the answer, so that `swaplint fill` can put it there; without it `[measured.done]` takes the day on
    which the step was done, under its name. `also` names fields that are noted with it: conditions, the day. `accuracy`
    says how far the prediction may be off for reasons of its own, beside the tolerances of what it rests on: 0.2 for a
    fifth.
    """

    def declare(function: Callable[..., Expected]) -> Step:
        return Step(
            id,
            moment,
            function,
            instrument,
            write,
            tuple(also),
            tuple(sources),
            tuple(cautions),
            tuple(after),
            accuracy,
            each,
            tuple(example.items()),
        )

    return declare


PARAGRAPHS = ("How", "Stop")
LONGEST_TITLE = 110
"""What is to be done is said in one line, or in little more than one."""
_PARAGRAPH = re.compile(rf"({'|'.join(PARAGRAPHS)}):\s*(.*)")


def _read_docstring(id: str, function: Callable[..., Any]) -> tuple[str, dict[str, str]]:
    head, _, rest = (inspect.getdoc(function) or "").partition("\n\n")
    title = " ".join(head.split())
    paragraphs: dict[str, str] = {}
    label = ""
    for line in rest.splitlines():
        found = _PARAGRAPH.match(line)
        if found:
            label = found.group(1)
            paragraphs[label] = found.group(2)
        elif label:
            paragraphs[label] = f"{paragraphs[label]} {line.strip()}".strip()
    if not title.endswith(".") or len(title) > LONGEST_TITLE:
        raise StepError(f"{id}: the docstring starts with what is to be done: one line of at most {LONGEST_TITLE} "
                        "characters, with a full stop")  # fmt: skip
    if not paragraphs.get("How"):
        raise StepError(f"{id}: the docstring lacks the paragraph How:, which says how it is done")
    return title, paragraphs


def check_step(made: Step) -> None:
    """Check all that a step declares. Raises `StepError` with a sentence."""
    if not isinstance(made.id, str) or not ID.fullmatch(made.id):
        raise StepError(f"'{made.id}' is not the id of a step; one looks like fuel.inlet-depression")
    if made.system not in SYSTEMS:
        raise StepError(f"{made.id}: '{made.system}' is not a system; systems are {', '.join(SYSTEMS)}")
    if made.moment not in MOMENTS:
        raise StepError(f"{made.id}: '{made.moment}' is not a moment of the job; these are {', '.join(MOMENTS)}")
    if not isinstance(made.instrument, str) or not isinstance(made.write, str):
        raise StepError(f"{made.id}: the instrument is a text, and `write` the path of a field")
    if not all(isinstance(text, str) and text for text in (*made.cautions, *made.after, *made.also)):
        raise StepError(f"{made.id}: cautions are lines of text, `after` names steps by their ids, `also` fields")
    if not all(isinstance(source, Source) and source.gives for source in made.sources):
        raise StepError(f"{made.id}: a source says which number it gives, like .giving('limit', 'at most 20 kPa')")
    if not isinstance(made.accuracy, int | float) or not 0.0 <= made.accuracy < 1.0:
        raise StepError(f"{made.id}: the accuracy is a share from 0 to 1, like 0.2")
    if made.each is not None and not callable(made.each):
        raise StepError(f"{made.id}: `each` is a function of the build that lists the parts")
    _ = made.texts  # raises where the docstring lacks something
