"""The shop's policy: what weighs how much in this shop, which packs must be there, who may sign for a departure."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import Any

from swaplint.declare.rule import Rule
from swaplint.declare.verdicts import LEVELS, Level
from swaplint.host.packs import RuleBase
from swaplint.inspecting.inspection import ask_next
from swaplint.inspecting.results import Finding, Inspection, PolicyCited, Reweighed
from swaplint.spec.facts import FieldFacts, facts_of, nearest, shown_value
from swaplint.spec.fields import DECISION, RECORD, Section, day, flag, items, text, word, words
from swaplint.spec.loaded import LoadedSpec, SpecErrors
from swaplint.spec.paths import path_text
from swaplint.spec.side_files import load_side_file
from swaplint.spec.systems import SYSTEMS
from swaplint.spec.toml_source import PathKey, SpecError


# -- as it is written ------------------------------------------------------------------------------------------------
class Raised(Section):
    """A rule, or all rules of a system, whose fails weigh more in this shop."""

    rule: str = text("a rule, by its id", typical="cooling.expansion-volume", where=DECISION)
    system: str = text("or a whole system", typical="cooling", where=DECISION)
    to: str = word("the least level of its fails", *LEVELS, typical="error", where=DECISION)


class Lowered(Section):
    """A rule, or all rules of a system, whose fails weigh less in this shop."""

    rule: str = text("a rule, by its id", typical="gearing.speedometer", where=DECISION)
    system: str = text("or a whole system", typical="gearing", where=DECISION)
    to: str = word("the greatest level of its fails", *LEVELS[1:], typical="note", where=DECISION)
    reason: str = text("why; every report prints it", typical="the instrument maker calibrates it", where=DECISION)


class PackWanted(Section):
    """A rule pack that must be there."""

    name: str = text("its name", typical="fuel", where=DECISION)
    version: str = text("the version that it must have; left out, any", typical="0.1.0", where=DECISION)
    at_least: str = text("or the earliest version that will do", typical="0.1.0", where=DECISION)


class Signer(Section):
    """Somebody who may sign for a departure."""

    name: str = text("as deviations name them in `by`", typical="A. Example, workshop manager", where=DECISION)
    levels: list[str] = words("for which levels they may sign", *LEVELS, typical="warning", where=DECISION)


class PolicyFile(Section):
    """A shop's policy."""

    name: str = text("what the policy is called; every report names it", typical="Example shop's gate", where=RECORD)
    revision: str = text("its revision", typical="3", where=RECORD)
    date: str = day("the date of that revision", typical="2026-05-01", where=RECORD)
    gate_on_reviews: bool = flag(
        "whether a review of an error-level rule shuts the gate, as its fail would", typical=True, where=DECISION
    )
    deviations_in_spec: bool = flag(
        "whether a spec may hold deviations itself; false where only those of the shop's own file count",
        typical=False,
        where=DECISION,
    )
    never_deviate: list[str] = words(
        "rules, by their ids, and whole systems that nobody may depart from", typical="chassis", where=DECISION
    )
    raised: list[Raised] = items("rules whose fails weigh more")
    lowered: list[Lowered] = items("rules whose fails weigh less, each with the reason")
    packs: list[PackWanted] = items("rule packs that must be there")
    signers: list[Signer] = items("who may sign for a departure; left out, anybody may")


# -- as it is used ---------------------------------------------------------------------------------------------------
@dataclass(frozen=True, slots=True)
class Change:
    """A level that the policy changes."""

    rule: str
    """By its id; empty for a whole system."""
    system: str
    to: Level
    raises: bool
    reason: str = ""


@dataclass(frozen=True, slots=True)
class Policy:
    """A shop's policy, checked."""

    cited: PolicyCited
    gate_on_reviews: bool = False
    deviations_in_spec: bool = True
    never_deviate: tuple[str, ...] = ()
    """Rules by their ids of today, and systems."""
    changes: tuple[Change, ...] = ()
    packs_wanted: tuple[str, ...] = ()
    """What it asks of packs and is not so, in words."""
    signers: tuple[tuple[str, tuple[str, ...]], ...] | None = None
    """Who may sign, and for which levels; None where anybody may."""

    def change_of(self, rule: Rule) -> Change | None:
        """What it makes of the level of a rule: what is said of the rule itself goes before its system."""
        own = [change for change in self.changes if change.rule == rule.id]
        of_system = [change for change in self.changes if not change.rule and change.system == rule.system]
        return next(iter([*own, *of_system]), None)

    def forbids(self, rule: Rule) -> bool:
        """Whether nobody may depart from a rule."""
        return rule.id in self.never_deviate or rule.system in self.never_deviate

    def may_sign(self, name: str, level: Level) -> bool:
        """Whether somebody may sign for a departure of a level."""
        if self.signers is None:
            return True
        return any(_plain(who) == _plain(name) and level in levels for who, levels in self.signers)


def _plain(name: str) -> str:
    return " ".join(name.split()).casefold()


def read_policy(path: str, base: RuleBase) -> Policy:
    """Read a policy and check it against the rules that are loaded. Raises `SpecErrors`."""
    file = load_side_file(path, PolicyFile, "policy")
    reader = _Reader(file, base)
    policy = reader.policy()
    if reader.errors:
        raise SpecErrors(sorted(reader.errors, key=lambda error: (error.line, error.column)))
    return policy


class _Reader:
    """Checks what the model alone cannot know."""

    def __init__(self, file: LoadedSpec, base: RuleBase) -> None:
        self.file, self.base = file, base
        self.errors: list[SpecError] = []
        self._spoken_of: dict[tuple[str, str], int] = {}
        self._all_loaded = not base.not_loaded

    def policy(self) -> Policy:
        """The policy, as far as it can be read; what is wrong stands in `errors`."""
        written: Any = self.file.build
        name, revision, date = (self._needed(written, (), key) for key in ("name", "revision", "date"))
        packs = [self._pack(one, ("packs", number)) for number, one in enumerate(written.packs or ())]
        missing = tuple(words for words in packs if words)
        self._all_loaded = self._all_loaded and not missing
        changes = [self._change(one, ("raised", number)) for number, one in enumerate(written.raised or ())]
        changes += [self._change(one, ("lowered", number)) for number, one in enumerate(written.lowered or ())]
        never = enumerate(written.never_deviate or ())
        signers = None
        if written.signers is not None:
            signers = tuple(self._signer(one, ("signers", number)) for number, one in enumerate(written.signers))
        return Policy(
            PolicyCited(name, revision, date, self.file.label, self.file.file.sha256),
            written.gate_on_reviews is not None and bool(written.gate_on_reviews.value),
            written.deviations_in_spec is None or bool(written.deviations_in_spec.value),
            tuple(self._rule_or_system(str(one.value), ("never_deviate", number)) for number, one in never),
            tuple(changes),
            missing,
            signers,
        )

    def refuse(self, path: PathKey, what: str) -> None:
        """Keep an error at the place that it is about."""
        place = self.file.place_at(path)
        self.errors.append(SpecError(what, place.file, place.line, place.column))

    def _needed(self, table: Section, path: PathKey, name: str) -> str:
        """A text that must be stated, and not be empty."""
        words = _text(getattr(table, name))
        if not words:
            facts = facts_of(type(table), name)
            example = facts.example() if isinstance(facts, FieldFacts) else ""
            self.refuse((*path, name), f"{path_text(path) or 'the policy'} needs {name}, like {name} = {example}")
        return words

    def _change(self, one: Any, path: PathKey) -> Change:
        rule, system = _text(one.rule), _text(one.system)
        if bool(rule) == bool(system):
            self.refuse(path, f'{path_text(path)} takes a rule or a system, one of them, like system = "cooling"')
        elif rule in SYSTEMS:
            self.refuse((*path, "rule"), f'{path_text(path)}.rule: {rule} is a system: write system = "{rule}"')
        elif rule:
            rule = self._rule(rule, (*path, "rule"))
        else:
            self._system(system, (*path, "system"))
        line = self._spoken_of.setdefault((rule, system), self.file.place_at(path).line)
        if line != self.file.place_at(path).line:
            self.refuse(path, f"{rule or system} is spoken of twice, here and in line {line}: keep one of them")
        to = self._needed(one, path, "to")
        lowers = path[0] == "lowered"
        reason = self._needed(one, path, "reason") if lowers else ""
        return Change(rule, system, next((level for level in LEVELS if level == to), "note"), not lowers, reason)

    def _pack(self, one: PackWanted, path: PathKey) -> str:
        """What is missing of a pack that must be there, in words; empty where nothing is."""
        name = self._needed(one, path, "name")
        version, at_least = _text(one.version), _text(one.at_least)
        if version and at_least:
            self.refuse(path, f"{path_text(path)} takes version or at_least, not both")
        asked = f"{name} {version or at_least}".strip() + (" or later" if at_least else "")
        there = next((pack.version for pack in self.base.packs if pack.name == name), None)
        if there is None:
            return f"{asked} (not loaded)"
        fits = there == version if version else not at_least or _numbers(there) >= _numbers(at_least)
        return "" if fits else f"{asked} ({there or 'no version'} is loaded)"

    def _signer(self, one: Any, path: PathKey) -> tuple[str, tuple[str, ...]]:
        name = self._needed(one, path, "name")
        if one.levels is None:
            self.refuse(path, f'{path_text(path)} needs levels, like levels = ["warning", "note"]')
        return name, tuple(str(level.value) for level in one.levels or ())

    def _rule_or_system(self, name: str, path: PathKey) -> str:
        return name if name in SYSTEMS else self._rule(name, path)

    def _rule(self, id: str, path: PathKey) -> str:
        """Today's id of a rule."""
        rule = self.base.find(id)
        if rule is not None:
            return rule.id
        if self._all_loaded:
            near = nearest(id, [*(known.id for _, known in self.base.rules), *SYSTEMS])
            hint = f"did you mean '{near}'?" if near else "'swaplint rulebook' lists them"
            self.refuse(path, f"{path_text(path)}: no loaded rule is called {shown_value(id)}; {hint}")
        return id

    def _system(self, name: str, path: PathKey) -> None:
        if name not in SYSTEMS:
            near = nearest(name, SYSTEMS)
            hint = f"did you mean '{near}'?" if near else f"systems are {', '.join(SYSTEMS)}"
            self.refuse(path, f"{path_text(path)}: {shown_value(name)} is not a system; {hint}")


def _text(stated: Any) -> str:
    """A stated text; empty where it is not stated, or is nothing but spaces."""
    return "" if stated is None else str(stated.value).strip()


def _numbers(version: str) -> tuple[int, ...]:
    """A version for comparing, by its numbers.

    >>> _numbers("2.10") > _numbers("2.9.1")
    True
    """
    return tuple(int(number) for number in re.findall(r"\d{1,9}", version))


# -- what it makes of an inspection ------------------------------------------------------------------------------------
def weigh(inspection: Inspection, policy: Policy) -> None:
    """Give each finding the weight that it has in this shop. Nothing else of it changes."""
    inspection.terms.policy = policy.cited
    inspection.terms.reviews_gate = policy.gate_on_reviews
    inspection.terms.packs_wanted = policy.packs_wanted
    inspection.findings = [_weighed(finding, policy.change_of(finding.rule)) for finding in inspection.findings]
    changed = [finding for finding in inspection.findings if finding.reweighed is not None]
    if not changed:
        return
    weighing = {f.rule.id: f.reweighed for f in changed if f.reweighed and (f.due or f.kind in ("fail", "review"))}
    by_rule = sorted(weighing.items())
    inspection.terms.lowered = tuple((id, one.to, one.reason) for id, one in by_rule if not one.raised)
    inspection.terms.raised = tuple((id, one.to) for id, one in by_rule if one.raised)
    inspection.findings.sort(key=lambda finding: finding.sort_key)
    inspection.ask_next = ask_next(inspection)


def _weighed(finding: Finding, change: Change | None) -> Finding:
    if change is None:
        return finding
    of_rule, level = _changed(finding.rule.level, change), finding.level and _changed(finding.level, change)
    if of_rule == finding.rule.level and level == finding.level:
        return finding
    made = Reweighed(finding.level or finding.rule.level, of_rule, change.to, change.raises, change.reason)
    return replace(finding, level=level, reweighed=made)


def _changed(level: Level, change: Change) -> Level:
    """A level as the policy has it: none is lowered by raising, or raised by lowering."""
    pick = min if change.raises else max
    return pick(level, change.to, key=LEVELS.index)
