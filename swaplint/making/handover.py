"""What is handed over with the finished vehicle: to the owner, and to the engineer who signs for it.

What was departed from and who signed for that, what was measured and what the rules make of it, what is poured in and
fused, what must be looked at again, what hurts, what no spec can show, and the hashes of the files that say so. It
claims no approval: that is for whoever signs.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from swaplint.declare.verdicts import Kind
from swaplint.gating.gate import Gate, gate_of
from swaplint.host.packs import LoadedPack, RuleBase
from swaplint.host.problems import Problem
from swaplint.inspecting.results import KINDS, Finding, Inspection
from swaplint.making.checklist import Checklist, checklist
from swaplint.making.takeoff import TakeOff, take_off
from swaplint.spec.facts import FieldFacts, Stated
from swaplint.spec.fields import Section
from swaplint.spec.shape import Member, members, standing_at
from swaplint.spec.systems import SYSTEMS

MEASURED = "measured"
"""The section of a spec that holds what was measured."""
ABOUT = ("date", "by", "instrument", "conditions")
"""What a trial says of itself, besides its values."""
_JUDGED = ("fail", "review", "pass")
LATER = ("first-hundred-hours", "yearly")
"""The moments whose steps are left to the owner."""


class Judged(NamedTuple):
    """What a rule makes of a value that was measured."""

    kind: Kind
    rule: str


@dataclass(frozen=True, slots=True)
class Reading:
    """One value of a trial."""

    field: str
    facts: FieldFacts
    values: tuple[Stated, ...]
    """One, but for a list, which may be stated as empty."""
    judged: tuple[Judged, ...]
    """The worst that rules make of it; empty where none judges it."""
    part: str = ""
    """The part that it was read on, where the trial is made on several."""


@dataclass(frozen=True, slots=True)
class Trial:
    """What was measured together."""

    field: str
    what: str
    about: tuple[tuple[str, str], ...]
    """Who made it, when and with what, as far as it is stated."""
    readings: tuple[Reading, ...]


class Done(NamedTuple):
    """A step of the checklist that has no reading and was done."""

    step: str
    field: str
    about: tuple[tuple[str, str], ...]
    """When, by whom and what was seen, as far as it is stated."""


class Blind(NamedTuple):
    """What a rule that the build was judged by cannot tell."""

    rule: str
    system: str
    says: str


@dataclass(slots=True)
class HandOver:
    """All that is handed over with one vehicle."""

    inspection: Inspection
    packs: Sequence[LoadedPack]
    gate: Gate
    lists: TakeOff
    """Fluids, fuses and service, as packs list them."""
    later: Checklist
    """The steps of the checklist that are left to the owner."""
    trials: list[Trial] = field(default_factory=list)
    not_measured: list[Member] = field(default_factory=list)
    """The trials of which nothing is stated."""
    done: list[Done] = field(default_factory=list)
    standing: list[Finding] = field(default_factory=list)
    """What fails, what is left to a person, and what is still owed: none of it signed for."""
    cautions: list[str] = field(default_factory=list)
    blind: list[Blind] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)


def hand_over(base: RuleBase, inspection: Inspection) -> HandOver:
    """What is handed over with an inspected vehicle."""
    lists = take_off(base, inspection, "hand-over")
    later = checklist(base, inspection.spec)
    later.entries = [entry for entry in later.entries if entry.step.moment in LATER]
    made = HandOver(inspection, base.packs, gate_of(inspection, "error"), lists, later)
    made.problems = [*lists.problems, *later.problems]
    for member in _trials(type(inspection.spec.build)):
        trial = _trial(inspection, member)
        if trial is None:
            made.not_measured.append(member)
        else:
            made.trials.append(trial)
    made.done = list(_done(inspection))
    made.standing = [finding for finding in inspection.findings if _stands(finding)]
    applying = [finding for finding in inspection.findings if finding.kind != "notApplicable"]
    made.cautions = list(dict.fromkeys(caution for finding in applying for caution in finding.rule.cautions))
    made.blind = list(_blind(inspection))
    return made


def _stands(finding: Finding) -> bool:
    """Whether the engineer who signs must know of it: a note is no reason not to sign."""
    if finding.suppression is not None:
        return False
    if finding.kind == "fail":
        return finding.level != "note"
    return finding.due or (finding.kind == "review" and finding.rule_level == "error")


def _blind(inspection: Inspection) -> Iterator[Blind]:
    """What the rules of error level cannot tell that found something sound: it is sound as far as they can see."""
    passed = {f.rule.id: f.rule for f in inspection.findings if f.kind == "pass" and f.rule_level == "error"}
    for rule in sorted(passed.values(), key=lambda one: (SYSTEMS.index(one.system), one.id)):
        says = rule.texts[1].get("Cannot tell", "")
        if says:
            yield Blind(rule.id, rule.system, says)


# -- what was measured -----------------------------------------------------------------------------------------------
def _measured(model: type[Section]) -> type[Section]:
    section = members(model)[MEASURED].model
    assert section is not None
    return section


def _trials(model: type[Section]) -> list[Member]:
    return [member for member in members(_measured(model)).values() if member.role == "part"]


def _trial(inspection: Inspection, member: Member) -> Trial | None:
    """What is stated of a trial; None where that is nothing."""
    assert member.model is not None
    path = f"{MEASURED}.{member.name}"
    about: list[tuple[str, str]] = []
    readings: list[Reading] = []
    for name, inner in members(member.model).items():
        values = _stated(inspection, f"{path}.{name}", inner)
        none = inner.role == "plain-list" and standing_at(inspection.spec.build, f"{path}.{name}") == []
        if inner.role == "parts":
            readings += _on_parts(inspection, f"{path}.{name}", inner)
        if inner.facts is None or not (values or none):
            continue
        if name in ABOUT:
            about.append((name, str(values[0].value)))
        else:
            readings.append(Reading(f"{path}.{name}", inner.facts, values, _judged(inspection, f"{path}.{name}")))
    if not readings and not about:
        return None
    about.sort(key=lambda one: ABOUT.index(one[0]))
    return Trial(path, member.description, tuple(about), tuple(readings))


def _on_parts(inspection: Inspection, path: str, member: Member) -> Iterator[Reading]:
    """What was read on each of several parts."""
    assert member.model is not None
    named = standing_at(inspection.spec.build, path)
    for name in named if isinstance(named, dict) else ():
        for inner, facts in ((one.name, one.facts) for one in members(member.model).values()):
            field_path = f"{path}.{name}.{inner}"
            stated = inspection.stated(field_path)
            if facts is not None and stated is not None:
                yield Reading(field_path, facts, (stated,), _judged(inspection, field_path), name)


def _done(inspection: Inspection) -> Iterator[Done]:
    """The parts of the section that are no trials: steps that were done, each under its name."""
    for member in members(_measured(type(inspection.spec.build))).values():
        named = standing_at(inspection.spec.build, f"{MEASURED}.{member.name}") if member.role == "parts" else None
        for name in named if isinstance(named, dict) else ():
            path = f"{MEASURED}.{member.name}.{name}"
            assert member.model is not None
            said = ((inner, inspection.stated(f"{path}.{inner}")) for inner in members(member.model))
            yield Done(name, path, tuple((inner, str(one.value)) for inner, one in said if one is not None))


def _stated(inspection: Inspection, path: str, member: Member) -> tuple[Stated, ...]:
    if member.role == "plain":
        one = inspection.stated(path)
        return () if one is None else (one,)
    if member.role != "plain-list":
        return ()
    found: list[Stated] = []
    while (one := inspection.stated(f"{path}[{len(found) + 1}]")) is not None:
        found.append(one)
    return tuple(found)


def _judged(inspection: Inspection, path: str) -> tuple[Judged, ...]:
    """The worst that the rules make of a value which they point at, else of its trial as a whole; each rule once."""
    trial = path.rpartition(".")[0]
    about = [one for one in inspection.findings if one.subject == path and one.kind in (*_JUDGED, "open")]
    if not about:
        about = [
            one for one in inspection.findings if one.subject == trial and path in one.inputs and one.kind in _JUDGED
        ]
    worst = min((KINDS.index(finding.kind) for finding in about), default=-1)
    kind = KINDS[worst]
    return tuple(dict.fromkeys(Judged(kind, finding.rule.id) for finding in about if finding.kind == kind))
