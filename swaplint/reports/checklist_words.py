"""The words of a step of the checklist, the same in text, Markdown and tables."""

from __future__ import annotations

from typing import NamedTuple

from swaplint.inspecting.results import Inspection
from swaplint.making.checklist import Checklist
from swaplint.making.steps import Entry, Figure, Noted
from swaplint.reports.naming import citations, listed, packs_words, part_words, place_words
from swaplint.reports.questions import takes_words
from swaplint.reports.takeoff_words import few
from swaplint.reports.values import indicated, limit_phrase, stated_words
from swaplint.spec.job import STAGES
from swaplint.units.prose import told


class Words(NamedTuple):
    """What a step says. Each may be empty but the first."""

    title: str
    part: str
    instrument: str
    how: str
    expected: str
    limit: str
    whose: str
    """Whose limit it is."""
    stop: str
    unsure: str


class Place(NamedTuple):
    """A field that takes what is found."""

    field: str
    what: str
    """What the field is; empty for the answer itself, which its step describes."""
    takes: str
    """What it takes: a unit, 'yes or no', a date."""
    answered: str
    """What the spec states already, and where."""


def inspected(made: Checklist) -> Inspection:
    """What the spec states, in the shape that the words for values and sources take."""
    return Inspection(made.spec, STAGES[0])


def words_of(stated: Inspection, entry: Entry) -> Words:
    """The words of a step."""
    title, paragraphs = entry.step.texts
    about = entry.step.id
    return Words(
        title=told(title.removesuffix("."), about),
        part=part_words(entry.part) if entry.part else "",
        instrument=told(entry.step.instrument, about),
        how=told(paragraphs["How"], about),
        expected=_expected(entry),
        limit=_limit(entry),
        whose="; ".join(citations(stated, entry.limit_sources, about)) if entry.limit is not None else "",
        stop=told(paragraphs.get("Stop", ""), about),
        unsure=f"only if the build has it: {_fields(entry.unsure)} not stated" if entry.unsure else "",
    )


def stage_words(made: Checklist) -> str:
    """The stages whose steps the list holds."""
    return f"the {listed(list(made.stages))} {'stage' if len(made.stages) == 1 else 'stages'}"


def head_words(made: Checklist) -> tuple[str, str]:
    """What the list is of."""
    name = made.spec.stated("build.name")
    return (
        str(name.value) if name is not None else "Build without a name",
        f"Checklist of {made.spec.label} for {stage_words(made)}, computed with {packs_words(made.packs)}",
    )


# -- numbers -------------------------------------------------------------------------------------------------------
def _expected(entry: Entry) -> str:
    pieces = [] if entry.expected is None else [_predicted(entry, entry.expected)]
    return "; ".join([*pieces, *([told(entry.says, entry.step.id)] if entry.says else [])])


def _predicted(entry: Entry, figure: Figure) -> str:
    if figure.value is None:
        return f"not known yet: {_missing(figure)}"
    says = _number(entry, figure.value)
    if entry.low is not None and entry.high is not None:
        low, high = _number(entry, entry.low), _number(entry, entry.high)
        says += f", between {low} and {high}" if low != high else ""
    if figure.about:
        says += f" ({figure.about})"
    if figure.rests_on:
        says += f"; rests on {few(figure.rests_on)}"
    return says


def _number(entry: Entry, value: float) -> str:
    return indicated(value, entry.kind, entry.unit, entry.about)


def _limit(entry: Entry) -> str:
    """What is allowed, and what of it is not known."""
    pieces = []
    if entry.limit is not None:
        pieces.append(limit_phrase(entry.limit, entry.kind, entry.unit, entry.about))
    for figure, words in ((entry.least, "at least"), (entry.most, "at most")):
        if figure is not None and figure.no_limit:
            pieces.append(f"{words}: its maker states no limit ({figure.about})")
        elif figure is not None and figure.value is None:
            pieces.append(f"{words}: not known yet: {_missing(figure)}")
    return "; ".join(pieces)


def _missing(figure: Figure) -> str:
    return figure.why.removesuffix(".") if figure.why else f"{_fields(figure.unknown)} not stated"


def _fields(paths: tuple[str, ...]) -> str:
    return f"{few(paths)} {'is' if len(paths) == 1 else 'are'}"


def places_of(stated: Inspection, entry: Entry) -> list[Place]:
    """The fields that take what a step finds: the answer first, then what is noted with it."""
    found, *also = (
        _place(stated, noted, "" if noted is entry.found else _what(noted)) for noted in (entry.found, *entry.also)
    )
    return [found._replace(answered=f"{found.answered}: beyond the limit") if entry.beyond else found, *also]


def _what(noted: Noted) -> str:
    return told(noted.facts.description, noted.field) if noted.facts is not None else ""


def _place(stated: Inspection, noted: Noted, what: str) -> Place:
    answered = ""
    if noted.answer is not None:
        at = stated.spec.place(noted.field)
        answered = f"{stated_words(stated, noted.field)} ({place_words(stated.spec, at.file, at.line)})"
    return Place(noted.field, what, takes_words(stated, noted.field)[0], answered)


NO_RANGE = "A prediction without a range rests on values without a tolerance: how far it may be off is not known."


class Cautions:
    """The cautions of a list, each said once and then referred to by its number."""

    def __init__(self) -> None:
        self._numbers: dict[str, int] = {}

    def new_in(self, entry: Entry) -> list[tuple[int, str]]:
        """Those that a step has and none before it had, each with its number."""
        new = [text for text in entry.cautions if text not in self._numbers]
        for text in new:
            self._numbers[text] = len(self._numbers) + 1
        return [(self._numbers[text], text) for text in new]

    def numbers(self, entry: Entry) -> str:
        """The numbers of all that a step has; empty for none."""
        return listed([str(self._numbers[text]) for text in entry.cautions])
