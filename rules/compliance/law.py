"""What the rules about a place's law share: its facts with the documents that say so, and whom to ask."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from swaplint.api import (
    Build,
    ImpossibleInput,
    Source,
    Verdict,
    cautions,
    does_not_apply,
    given,
    holds,
    is_fitted,
    path_of,
    regulation,
    value_at,
)
from swaplint.spec.systems.compliance import ConditionalFact, Fact, Place

from ..needed import needed

NO_LEGAL_ADVICE = (
    "This is no legal advice. What a place asks changes, and its sheet may be wrong or leave something out: ask the "
    "authority that is named before money is spent, and have alterations judged by a licensed engineer."
)
ASKED = Source("data-sheet", "the sheet of the place", known="data-sheet")
"""What a place asks. A result on it cites the document that the sheet names for that fact instead."""
CAUTIONS = [cautions.LAW, NO_LEGAL_ADVICE]
OF_PLATE = "the plate's figure with what the place adds"
"""What the noise is held against in some places, in words."""

_ENERGIES = {"lpg": "LPG", "cng": "CNG", "lng": "LNG", "electric": "electricity"}
_HOW = {"older": ", in an older edition", "quoted": ", as another text quotes it"}


def places(build: Build) -> list[Place]:
    """The places whose rules the vehicle must meet."""
    return needed(build, "build.places", [place for place in build.build.places.values() if is_fitted(place)])


def each_asked(build: Build, name: str) -> Iterator[Any]:
    """What all places ask of one kind, such as their approvals; a place of which that is not known stands for itself.

    What one place leaves open keeps nobody from judging by the others.
    """
    for place in places(build):
        asked = given(lambda place=place: getattr(place, name))  # type: ignore[misc]
        yield from [place] if asked is None else asked.values()


def is_place(asked: object) -> bool:
    """Whether that is a place which does not say what it asks."""
    return path_of(asked).count(".") == 2


def ask_of(place: Any, name: str) -> Verdict:
    """The question that such a place leaves open: reading what it does not say ends the rule."""
    return (
        does_not_apply("Nothing is asked.") if not getattr(place, name) else holds(True, "It is known what is asked.")
    )


def place_of(build: Build, fact: object) -> Place:
    """The place that a fact, or a part of it, is of."""
    start = ".".join(path_of(fact).split(".")[:3])
    place: Place = value_at(build, start)
    return place


def by_law(place: Place, fact: Fact, verdict: Verdict) -> Verdict:
    """A verdict on what a place asks: with the document that says so, and, unless it passes, with whom to ask."""
    source, how = source_of(place, fact)
    if verdict.kind == "pass":
        return verdict.citing(source)
    remark = given(lambda: fact.remark)
    pieces = [verdict.says]
    if source.known != "from memory":
        pieces.append(f"See {source.title}{how}.")
    if remark:
        pieces.append(remark if remark.endswith(".") else f"{remark}.")
    verdict.says = " ".join([*pieces, f"Ask {place.authority}."])
    return verdict.citing(source)


def source_of(place: Place, fact: Fact) -> tuple[Source, str]:
    """The document behind a fact, and a word on how it is known where it was not read in it."""
    known = fact.known
    if known == "memory":
        return regulation(f"the law of {place.name}", known="from memory").giving("limit"), ""
    name = fact.document
    document = place.documents.get(name)
    if document is None:
        raise ImpossibleInput(f"{path_of(fact)} names the document '{name}', which its place does not list")
    edition = given(lambda: document.edition)
    title = document.title if edition is None else f"{document.title}, {edition}"
    if known == "invented":
        return Source("data-sheet", title, known="data-sheet", gives="limit"), ""
    read = regulation(title, known="published" if known == "read" else "second-hand")
    return read.giving("limit"), _HOW.get(str(known), "")


def of_another_drive(build: Build, fact: ConditionalFact) -> Verdict | None:
    """The verdict on what a place asks of vehicles with another drive only; None where it is asked of this one."""
    only = given(lambda: list(fact.for_energies))
    if not only or any(energy in only for energy in build.vehicle.other_energies):
        return None
    names = " or ".join(_ENERGIES.get(str(energy), str(energy)) for energy in only)
    return does_not_apply(f"{place_of(build, fact).name} asks this of vehicles driven by {names} only.")


def asks_nothing(place: Place, fact: Fact, of: str) -> Verdict:
    """The verdict where a place says that it asks nothing here."""
    return by_law(place, fact, Verdict("pass", f"{place.name} asks nothing of {of}."))
