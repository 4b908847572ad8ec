"""The record of what a rule or a quantity read."""

from __future__ import annotations

from typing import Any


class Reads:
    """What was read while a rule or a quantity ran, in order, each once."""

    __slots__ = (
        "all_stated",
        "anything",
        "fields",
        "listed",
        "optional",
        "own",
        "practices",
        "quantities",
        "unknown",
        "uses",
    )

    def __init__(self) -> None:
        self.fields: dict[str, None] = {}
        self.own: dict[str, None] = {}
        """Those of the fields that were read directly, and not only by a quantity that was used."""
        self.quantities: dict[str, None] = {}
        """Keys of the quantities that were used, see `swaplint.declare.quantities`."""
        self.uses: dict[str, Any] = {}
        """Those of the quantities that were used directly, each with its `Computed`."""
        self.unknown: dict[str, None] = {}
        """Fields that are not stated: what the rule lacks, or what a fallback stands in for."""
        self.optional: dict[str, None] = {}
        """Fields that the rule asked for and can do without."""
        self.practices: dict[str, Any] = {}
        """The common-practice fallbacks that stood in for a missing value, by name."""
        self.listed: dict[str, None] = {}
        """Fields that were listed with all that a system states, and on whose values the answer may rest, too."""
        self.all_stated = False
        """Whether it matters which fields are stated at all."""
        self.anything = False
        """Whether the answer may rest on any field, because it is not known what was read for it."""

    @classmethod
    def together(cls, first: Reads, then: Reads) -> Reads:
        """One record of what two hold, but for what only they read directly."""
        made = cls()
        made.fields = {**first.fields, **then.fields}
        made.quantities = {**first.quantities, **then.quantities}
        made.unknown = {**first.unknown, **then.unknown}
        made.optional = {**first.optional, **then.optional}
        made.practices = {**first.practices, **then.practices}
        made.listed = {**first.listed, **then.listed}
        made.all_stated = first.all_stated or then.all_stated
        made.anything = first.anything or then.anything
        return made

    def add(self, other: Reads) -> None:
        """Take over all that the record of a quantity holds, but for what only that one read directly."""
        self.fields.update(other.fields)
        if other.quantities:
            self.quantities.update(other.quantities)
        if other.unknown:
            self.unknown.update(other.unknown)
        if other.optional:
            self.optional.update(other.optional)
        if other.practices:
            self.practices.update(other.practices)
        if other.listed:
            self.listed.update(other.listed)
        if other.all_stated:
            self.all_stated = True
        if other.anything:
            self.anything = True

    def take_over(self, other: Reads) -> None:
        """Take over another record whole, as if all of it had been read here."""
        self.add(other)
        self.own.update(other.own)
        self.uses.update(other.uses)

    def add_as_optional(self, other: Reads) -> None:
        """The same for a quantity that has no value and that the rule can do without."""
        unknown = dict(self.unknown)
        self.add(other)
        self.unknown = unknown
        self.optional.update(other.unknown)
