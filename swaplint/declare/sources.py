"""Where a number comes from: a limit, a formula, or what stands in for a value that nobody states.

Every rule and every quantity cites its sources. A source says what kind of document it is, which number it gives, and
how that number is known: read in the published document itself, read elsewhere, from the component's data sheet, common
practice of the trade, or from memory. A clause is given only by somebody who has the document open.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

SourceKind = Literal["standard", "regulation", "handbook", "data-sheet", "common-practice"]
Known = Literal["published", "second-hand", "data-sheet", "common-practice", "from memory"]
"""How a number is known. `published`: somebody read it in the document itself, or in a full copy. `second-hand`: it was
read in a summary, a catalogue or another text. `from memory` is all that was looked up nowhere."""
Gives = Literal["limit", "formula", "fallback"]
"""Which number a source gives: what is allowed, how it is computed, or what stands in for a value not stated."""


@dataclass(frozen=True, slots=True)
class Source:
    """A cited source."""

    kind: SourceKind
    title: str
    clause: str = ""
    known: Known = "from memory"
    field: str = ""
    """For a data sheet: the field whose limit it gives; the report names the sheet that this build uses."""
    gives: Gives | Literal[""] = ""
    """Empty for a document as such, before a rule says what it takes from it."""
    what: str = ""
    """The number or formula in a few words: 'viscosity of 2.0 to 4.5 mm²/s at 40 °C'."""
    demands: tuple[str, ...] = ()
    """The demands of the rule that the limit is that of, by name; empty for all that no other source names."""

    def giving(
        self, gives: Gives, what: str = "", *, known: Known | None = None, demands: Sequence[str] = ()
    ) -> Source:
        """The source as one of a number: what it gives here, and how that number is known where it differs.

        A rule that makes several demands says of a limit which `demands` it belongs to, where not all rest on it alike;
        `colour` is also every `colour.oil`.

        >>> book("A handbook of pipes").giving("formula", "pressure loss of pipe flow").gives
        'formula'
        """
        named = tuple(demands) or self.demands
        return replace(self, gives=gives, what=what or self.what, known=known or self.known, demands=named)

    def names(self, demand: str) -> bool:
        """Whether it is tied to a demand, by its name or by that of the one it belongs to."""
        return any(demand == name or demand.startswith(f"{name}.") for name in self.demands)


def standard(title: str, clause: str = "", *, known: Known = "from memory") -> Source:
    """A published standard: one of ISO, IEC, SAE, EN or the like."""
    return Source("standard", title, clause, known)


def regulation(title: str, clause: str = "", *, known: Known = "from memory") -> Source:
    """A law or regulation."""
    return Source("regulation", title, clause, known)


def book(title: str, clause: str = "", *, known: Known = "from memory") -> Source:
    """A handbook or textbook; `clause` is the chapter, table or equation."""
    return Source("handbook", title, clause, known)


def sheet(field: str) -> Source:
    """The data sheet of a component, for the limit in `field`: 'engine.fuel.max_inlet_restriction'."""
    return Source("data-sheet", "data sheet", "", "data-sheet", field, "limit")


def practice(what: str) -> Source:
    """Common practice: a fact of the trade with no published source known."""
    return Source("common-practice", what, "", "common-practice")


def owner(field: str) -> Source:
    """The owner's own target, as the spec states it in `field`."""
    return Source("data-sheet", "owner's target", "", "data-sheet", field, "limit")
