"""Which rules are asked for: all of them, those of some systems, or some by their ids."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from dataclasses import dataclass, replace

from swaplint.declare.rule import Rule
from swaplint.host.packs import RuleBase
from swaplint.spec.facts import nearest
from swaplint.spec.systems import SYSTEMS


@dataclass(frozen=True, slots=True)
class Selection:
    """Some systems and rules; a rule is taken that belongs to one of them. Empty takes all."""

    systems: tuple[str, ...] = ()
    rules: tuple[str, ...] = ()
    """By their ids of today."""

    def __bool__(self) -> bool:
        """Whether anything is selected, so that the rest is left out."""
        return bool(self.systems or self.rules)

    def takes(self, rule: Rule) -> bool:
        """Whether a rule is asked for."""
        return not self or rule.id in self.rules or rule.system in self.systems

    def takes_id(self, id: str) -> bool:
        """Whether something with an id of that form, such as a quantity, is asked for."""
        return not self or id in self.rules or id.split(".", 1)[0] in self.systems

    @property
    def words(self) -> str:
        """What is selected, for a sentence."""
        return ", ".join((*self.systems, *self.rules))


EVERYTHING = Selection()


def selection_of(base: RuleBase, systems: Collection[str], rules: Iterable[str]) -> Selection:
    """A selection by names as a person writes them. Raises `ValueError` with the nearest name that is known."""
    for name in systems:
        if name not in SYSTEMS:
            near = nearest(name, SYSTEMS)
            hint = f"did you mean '{near}'?" if near else f"systems are {', '.join(SYSTEMS)}"
            raise ValueError(f"'{name}' is not a system; {hint}")
    found = []
    for id in rules:
        rule = base.find(id)
        if rule is None:
            near = nearest(id, [known.id for _, known in base.rules])
            hint = f"did you mean '{near}'?" if near else "'swaplint rulebook' lists them"
            raise ValueError(f"no loaded rule is called '{id}'; {hint}")
        found.append(rule.id)
    return Selection(tuple(dict.fromkeys(systems)), tuple(dict.fromkeys(found)))


def selected(base: RuleBase, selection: Selection) -> RuleBase:
    """The packs with none but the rules that are asked for."""
    if not selection:
        return base
    packs = [replace(pack, rules=[rule for rule in pack.rules if selection.takes(rule)]) for pack in base.packs]
    return replace(base, packs=packs)
