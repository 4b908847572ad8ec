"""Where a limit or a formula comes from.

Every rule and every quantity cites its sources. A source says what kind of document it is and how the number in use
is known: read in the published document, from the component's data sheet, common practice of the trade, or from
memory. A clause is given only by somebody who has the document open.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

SourceKind = Literal["standard", "regulation", "handbook", "data-sheet", "common-practice"]
Known = Literal["published", "data-sheet", "common-practice", "from memory"]


@dataclass(frozen=True, slots=True)
class Source:
    """A cited source."""

    kind: SourceKind
    title: str
    clause: str = ""
    known: Known = "published"
    field: str = ""
    """For a data sheet: the field whose limit it gives; the report names the sheet that this build uses."""


def standard(title: str, clause: str = "", *, known: Known = "published") -> Source:
    """A published standard: one of ISO, IEC, SAE, EN or the like."""
    return Source("standard", title, clause, known)


def regulation(title: str, clause: str = "", *, known: Known = "published") -> Source:
    """A law or regulation."""
    return Source("regulation", title, clause, known)


def book(title: str, clause: str = "", *, known: Known = "published") -> Source:
    """A handbook or textbook; `clause` is the chapter, table or equation."""
    return Source("handbook", title, clause, known)


def sheet(field: str) -> Source:
    """The data sheet of a component, for the limit in `field`: 'engine.fuel.max_inlet_restriction'."""
    return Source("data-sheet", "data sheet", "", "data-sheet", field)


def practice(what: str) -> Source:
    """Common practice: a fact of the trade with no published source known."""
    return Source("common-practice", what, "", "common-practice")


def owner(field: str) -> Source:
    """The owner's own target, as the spec states it in `field`."""
    return Source("data-sheet", "owner's target", "", "data-sheet", field)
