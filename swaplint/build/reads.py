"""The record of what a rule or a quantity read."""

from __future__ import annotations

from typing import Any


class Reads:
    """What was read while a rule or a quantity ran, in order, each once."""

    __slots__ = (
        "all_stated",
        "anything",
        "circular",
        "estimates",
        "fields",
        "listed",
        "optional",
        "own",
        "practices",
        "quantities",
        "tried",
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
        self.estimates: dict[str, Any] = {}
        """The fields that an estimate stood in for, each with its `Estimated`, those that another rests on first."""
        self.tried: dict[str, None] = {}
        """What estimates that have no value asked for: whoever states it changes the answer."""
        self.circular: dict[str, None] = {}
        """Fields that count as unknown because they are being estimated: what was read so holds nowhere else."""
        self.listed: dict[str, None] = {}
        """Fields that were listed with all that a system states, and on whose values the answer may rest, too."""
        self.all_stated = False
        """Whether it matters which fields are stated at all."""
        self.anything = False
        """Whether the answer may rest on any field, because it is not known what was read for it."""

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
        if other.estimates:
            self.estimates.update(other.estimates)
        if other.tried:
            self.tried.update(other.tried)
        if other.circular:
            self.circular.update(other.circular)
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
