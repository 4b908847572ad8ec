"""What is loaded: the packs, each with what of it is sound, and what went wrong on the way."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from swaplint.declare.figures import DeclaredFigure
from swaplint.declare.listings import LISTS, Listing
from swaplint.declare.quantities import Quantity
from swaplint.declare.rule import Edits, Rule
from swaplint.declare.steps import Step
from swaplint.host.problems import Problem, code_place
from swaplint.spec.fields import Section
from swaplint.spec.model import Build
from swaplint.spec.systems import SYSTEMS

Declared = Rule | Quantity[Any] | DeclaredFigure | Listing | Step
"""What a pack declares."""


@dataclass(slots=True)
class LoadedPack:
    """A pack that was found, with what of it is sound."""

    name: str
    version: str
    built_in: bool
    rules: list[Rule] = field(default_factory=list)
    quantities: list[Quantity[Any]] = field(default_factory=list)
    figures: list[DeclaredFigure] = field(default_factory=list)
    listings: list[Listing] = field(default_factory=list)
    section: type[Section] | None = None
    sound: Edits = field(default_factory=dict)
    steps: list[Step] = field(default_factory=list)
    sheets: Path | None = None
    """The folder of data sheets that it brings."""


@dataclass(slots=True)
class RuleBase:
    """All packs that are loaded, and what went wrong on the way."""

    packs: list[LoadedPack] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    model: type[Section] = Build
    unread: set[str] = field(default_factory=set)
    """Sections of packs that could not be loaded: passed over in a spec, for want of anybody who knows their fields."""
    not_loaded: list[tuple[str, str | None]] = field(default_factory=list)
    """Packs that could not be loaded, by name, and rules of the others that were left out, each with its pack."""

    @property
    def rules(self) -> list[tuple[LoadedPack, Rule]]:
        """Every rule with its pack, sorted by id."""
        return sorted(((p, r) for p in self.packs for r in p.rules), key=lambda entry: entry[1].id)

    @property
    def quantities(self) -> list[tuple[LoadedPack, Quantity[Any]]]:
        """Every quantity with its pack, sorted by id."""
        return sorted(((p, q) for p in self.packs for q in p.quantities), key=lambda entry: entry[1].id)

    @property
    def steps(self) -> list[tuple[LoadedPack, Step]]:
        """Every step of the checklist with its pack, as declared."""
        return [(pack, step) for pack in self.packs for step in pack.steps]

    @property
    def listings(self) -> list[tuple[LoadedPack, Listing]]:
        """Every listing with its pack, by the list that it adds to, then by system, as declared."""
        lists, systems = list(LISTS), {name: at for at, name in enumerate(SYSTEMS)}
        every = ((p, one) for p in self.packs for one in p.listings)
        return sorted(
            every, key=lambda entry: (lists.index(entry[1].list), systems.get(entry[1].id.split(".")[0], len(systems)))
        )

    def find(self, id: str) -> Rule | None:
        """The rule with an id, or that had it before."""
        every = (rule for pack in self.packs for rule in pack.rules)
        return next((rule for rule in every if rule.id == id or id in rule.aliases), None)


def problem_at(declared: Declared, what: str, pack: str) -> Problem:
    """A problem with what a pack declares, and where that stands."""
    return Problem(what, "rule", pack, str(declared.id), *code_place(declared.function))
