"""A remedy put into the spec: the first one that the report names for what fails."""

from __future__ import annotations

from typing import NamedTuple

from swaplint.host.packs import RuleBase
from swaplint.inspecting.results import Finding, Remedy
from swaplint.inspecting.selection import Selection
from swaplint.solving.what_if import facts_for
from swaplint.solving.whole import inspect_whole
from swaplint.spec.editing import REMOVED
from swaplint.spec.editing.values import value_in
from swaplint.spec.facts import nearest
from swaplint.spec.paths import path_key
from swaplint.writing.answers import Changes
from swaplint.writing.filling import Filling


class NoRemedyError(ValueError):
    """Says, as a sentence, why there is no one remedy to write."""


class Mending(NamedTuple):
    """What a remedy puts into the spec, and sentences that say what it does."""

    changes: Changes
    says: list[str]


def remedy_of(base: RuleBase, filling: Filling, rule: str, part: str = "", demand: str = "") -> Mending:
    """The first remedy of what fails of a rule. Raises `NoRemedyError` where no one remedy is meant."""
    known = base.find(rule)
    if known is None:
        near = nearest(rule, [one.id for _, one in base.rules])
        hint = f"did you mean '{near}'?" if near else "'swaplint rulebook' lists them"
        raise NoRemedyError(f"no loaded rule is called '{rule}'; {hint}")
    stage = filling.inspection.stage
    inspection, _ = inspect_whole(base, filling.spec, stage, selection=Selection((), (known.id,)))
    failing = [f for f in inspection.findings if f.kind in ("fail", "review")]
    meant = [f for f in failing if part in ("", f.part) and demand in ("", f.demand)]
    mended = [f for f in meant if f.remedies]
    if not failing:
        raise NoRemedyError(f"{known.id} does not fail here: there is nothing to mend")
    if not meant:
        raise NoRemedyError(f"{known.id} does not fail so here; what fails: {_names(failing)}")
    if not mended:
        raise NoRemedyError(f"no remedy was found for {known.id}; 'swaplint inspect' with --rule {known.id} shows why")
    if len({_same(f.remedies[0]) for f in mended}) > 1:
        raise NoRemedyError(f"{known.id} fails in several ways, name one with --part or --demand: {_names(mended)}")
    return _mending(base, filling, mended[0].remedies[0])


def _same(remedy: Remedy) -> tuple[object, ...]:
    return remedy.fields or (remedy.field,), remedy.written


def _names(findings: list[Finding]) -> str:
    names = [
        " ".join(filter(None, (f"--part '{f.part}'" if f.part else "", f"--demand {f.demand}" if f.demand else "")))
        for f in findings
    ]
    return "; ".join(filter(None, names)) or "the whole of it"


def _mending(base: RuleBase, filling: Filling, remedy: Remedy) -> Mending:
    changes: dict[tuple[str | int, ...], object] = {}
    says = []
    data = filling.spec.file.data
    for field in remedy.fields or (remedy.field,):
        keys = path_key(field)
        value = _as_toml(base, field, remedy.written)
        stated = filling.spec.stated(field)
        # A value that stands with its tolerance keeps it.
        with_tolerance = isinstance(value_in(data, keys), dict)
        changes[(*keys, "value") if with_tolerance else keys] = value
        says.append(f"{field} is {remedy.written} now" + (f", and was {stated.written}." if stated else "."))
    if remedy.other_part and not remedy.fits:
        says.append("That is another part: the one that was stated is not made for it.")
    for field, written in remedy.fits:  # the part was not fitted
        changes[path_key(field)] = _as_toml(base, field, written)
        says.append(f"{field} is {written}, too.")
    for field in remedy.drops:
        if value_in(data, path_key(field)) is not REMOVED:
            changes[path_key(field)] = REMOVED
            says.append(f"{field} was of what stood there before, and is taken out: state it anew.")
        else:
            says.append(f"{field}, which the data sheet states, is of what stood there before: state it anew.")
    if remedy.breaks:
        says.append(f"This newly breaks {', '.join(remedy.breaks)}.")
    return Mending(changes, says)


def _as_toml(base: RuleBase, field: str, written: str) -> object:
    facts = facts_for(base, field)
    if facts is None or facts.type in ("measure", "word", "text", "date"):
        return written
    if facts.type == "flag":
        return written == "true"
    return int(written) if facts.type == "count" or written.lstrip("-").isdigit() else float(written)
