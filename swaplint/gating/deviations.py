"""Departures that somebody signed for: which results they accept, which hold no more, and which are no good.

A deviation accepts one result, by rule, part and demand, up to a value, until a day or stage. What it accepts is listed
and counted in every report. It never hides that an answer is due, that a rule broke or that a result got worse.
"""

from __future__ import annotations

import math
import os
import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from swaplint.declare.rule import Rule
from swaplint.gating.gate import is_review_of_error_rule
from swaplint.gating.policy import Policy
from swaplint.host.packs import RuleBase
from swaplint.host.problems import Problem
from swaplint.inspecting.results import Finding, Inspection, Suppression
from swaplint.spec.deviations import DeviationsFile
from swaplint.spec.facts import nearest, shown_value
from swaplint.spec.job import STAGES, Stage
from swaplint.spec.loaded import LoadedSpec, SpecErrors
from swaplint.spec.renamed import path_today
from swaplint.spec.shape import standing_at
from swaplint.spec.side_files import load_side_file
from swaplint.spec.toml_source import Place, SpecError
from swaplint.units import KINDS, UnitError, read
from swaplint.units.output import in_unit, plain_number

NEEDED = ("rule", "reason", "by", "date", "until")
"""What every deviation states."""
PRINTED = 5e-4
"""A report prints four figures: what differs by less than half of the last is the same, relative to the value."""
MOST = 500
"""How many deviations of one file are read: keeps hostile specs quick."""
MOST_NAMED = 8
"""How many parts or demands a sentence names."""


@dataclass(frozen=True, slots=True)
class Deviation:
    """A departure as it was written: texts, empty where nothing is stated."""

    place: Place
    rule: str = ""
    part: str = ""
    demand: str = ""
    up_to: str = ""
    reason: str = ""
    by: str = ""
    date: str = ""
    until: str = ""
    spec: str = ""
    """The build spec that it is for, where it stands in a file of the shop's own; empty for any."""
    external: bool = False
    """Whether it stands there."""

    @property
    def signed(self) -> str:
        """Who signed and when, for a sentence."""
        return f"signed for by {self.by} on {self.date}"


@dataclass(frozen=True, slots=True)
class DeviationsRead:
    """The deviations of a file of the shop's own."""

    file: str
    sha256: str
    deviations: tuple[Deviation, ...]


def read_deviations(path: str) -> DeviationsRead:
    """Read a file of the shop's own. Raises `SpecErrors`."""
    file = load_side_file(path, DeviationsFile, "file of deviations")
    made = tuple(_as_written(file, external=True))
    folder = Path(path).parent
    lost = [number for number, one in enumerate(made) if one.spec and not os.path.isfile(folder / one.spec)]
    if lost:
        places = [(file.place_at(("deviations", number, "spec")), made[number].spec) for number in lost[:MOST]]
        raise SpecErrors(
            [
                SpecError(f"there is no build spec {shown_value(name)}, as seen from this file", *place[:3])
                for place, name in places
            ]
        )
    made = tuple(replace(one, spec=str((folder / one.spec).resolve()) if one.spec else "") for one in made)
    return DeviationsRead(path, file.file.sha256, made)


def _as_written(file: LoadedSpec, *, external: bool = False) -> Iterable[Deviation]:
    written: Any = standing_at(file.build, "deviations") or []
    for number, one in enumerate(written):
        stated = {name: str(value.value).strip() for name in type(one).model_fields if (value := getattr(one, name))}
        yield Deviation(place=file.place_at(("deviations", number)), external=external, **stated)


# -- what they make of an inspection -----------------------------------------------------------------------------------
def accept(
    inspection: Inspection, base: RuleBase, files: Sequence[DeviationsRead], on: str, policy: Policy | None = None
) -> list[Problem]:
    """Mark what somebody signed for. Returns what is wrong with deviations, each with its place.

    `on` is the day, year-month-day. `base` holds the rules that are loaded, whether they were asked for or not.
    """
    return _Judge(inspection, base, on, policy).judge(files)


class _Wrong(Exception):
    """Why a deviation is no good: the rest of a sentence that begins with 'this deviation'."""

    def __init__(self, what: str, *, of_spec: bool = True) -> None:
        """`of_spec` is whether that hangs on the spec."""
        super().__init__(what)
        self.of_spec = of_spec


class _Judge:
    """Judges the deviations of one inspection, one after the other."""

    def __init__(self, inspection: Inspection, base: RuleBase, on: str, policy: Policy | None) -> None:
        self.inspection, self.base, self.on, self.policy = inspection, base, on, policy
        self.stage: Stage = inspection.stage
        self.problems: list[Problem] = []
        self.marked: dict[tuple[str, str, str], Finding] = {}
        self.idle: dict[tuple[str, str, str], list[Deviation]] = {}
        """Those of each result that do not hold, and that nothing is said of yet."""

    def judge(self, files: Sequence[DeviationsRead]) -> list[Problem]:
        """Judge all of them: those of the spec, then those of each file."""
        spec = self.inspection.spec
        label = str(Path(spec.label).resolve())
        filed = (one for file in files for one in file.deviations)
        deviations = [*_as_written(spec), *(one for one in filed if one.spec in ("", label))]
        counted: dict[str, int] = {}
        for deviation in deviations:
            counted[deviation.place.file] = number = counted.get(deviation.place.file, 0) + 1
            if number > MOST:
                if number == MOST + 1:
                    self._wrong(deviation, f"more than {MOST} deviations in one file are not read")
                continue
            try:
                self._judge(deviation)
            except _Wrong as wrong:
                # One of the shop's own may be meant for several specs: it is told of which it is no good for.
                spec_meant = f", for {spec.label}," if deviation.external and wrong.of_spec else ""
                self._wrong(deviation, f"this deviation{spec_meant} {wrong}")
        terms = self.inspection.terms
        terms.deviations_wrong = tuple(self.problems)
        terms.files = {file.file: file.sha256 for file in files}
        if deviations:
            terms.on = self.on
            self.inspection.findings = [self.marked.get(f.key, f) for f in self.inspection.findings]
        return self.problems

    def _wrong(self, deviation: Deviation, what: str) -> None:
        rule = self.base.find(deviation.rule)
        place = deviation.place
        id = rule.id if rule is not None else None
        self.problems.append(Problem(what, "gate", None, id, place.file, place.line, place.column))

    def _judge(self, deviation: Deviation) -> None:
        lacking = [name for name in NEEDED if not getattr(deviation, name)]
        if lacking:
            raise _Wrong(f"does not say {_listed(lacking)}: it accepts nothing without", of_spec=False)
        if self.policy is not None and not deviation.external and not self.policy.deviations_in_spec:
            raise _Wrong("stands in the spec: the policy takes those in the shop's own file alone (--deviations)")
        rule = self._rule(deviation)
        if rule is None:
            return
        finding = self._finding(deviation, rule)
        if self.marked.get(finding.key, finding).suppression is not None:
            raise _Wrong("accepts nothing: another accepts the same result; take one of them out")
        if not self._may_be_accepted(finding):
            raise _Wrong(f"accepts nothing: {self._not_failing(finding)}")
        wrong = self._not_allowed(deviation, finding) or _value_wrong(deviation, finding)
        why = wrong or self._not_in_force(deviation) or _exceeded(deviation, finding)
        if why:
            self.marked[finding.key] = replace(finding, not_accepted=f"{_capital(deviation.signed)}, but {why}.")
        else:
            self.marked[finding.key] = replace(finding, suppression=_suppression(deviation), not_accepted="")
            for other in self.idle.pop(finding.key, ()):
                self._wrong(other, "this deviation accepts nothing: another takes its place; take this one out")
        if wrong:
            raise _Wrong(f"accepts nothing: {wrong}")
        if why:
            self.idle.setdefault(finding.key, []).append(deviation)

    # -- which result it is for
    def _rule(self, deviation: Deviation) -> Rule | None:
        """The rule, by its id of today; None where it did not run, so that nothing can be said."""
        rule = self.base.find(deviation.rule)
        inspection = self.inspection
        if rule is None:
            left_out = [id for _, id in self.base.not_loaded]
            if None in left_out or deviation.rule in left_out:
                return None  # a pack that could not be loaded may hold it
            near = nearest(deviation.rule, [known.id for _, known in self.base.rules])
            hint = f"did you mean '{near}'?" if near else "'swaplint rulebook' lists them"
            raise _Wrong(f"names a rule that is not loaded, {shown_value(deviation.rule)}; {hint}", of_spec=False)
        ran = inspection.selection.takes(rule) and rule.id not in inspection.broken
        return rule if ran else None

    def _finding(self, deviation: Deviation, rule: Rule) -> Finding:
        """The one result that it is for."""
        found = [finding for finding in self.inspection.findings if finding.rule.id == rule.id]
        model = type(self.inspection.spec.build)
        part = " ".join(path_today(model, word) for word in deviation.part.split())
        found = _narrowed(found, "part", part, lambda finding: finding.part)
        found = _narrowed(found, "demand", deviation.demand, lambda finding: finding.demand)
        return found[0]

    # -- whether it may be accepted at all
    def _may_be_accepted(self, finding: Finding) -> bool:
        gated = self.inspection.terms.reviews_gate and is_review_of_error_rule(finding)
        return finding.kind == "fail" or gated

    def _not_failing(self, finding: Finding) -> str:
        if finding.kind == "open":
            owed = " and owed" if finding.due else ""
            return f"the result is open{owed}: a question is answered, not accepted"
        says = {
            "pass": "the result passes; take the deviation out",
            "review": "a person must decide on the result, and that shuts no gate",
            "notApplicable": "the rule does not apply; take the deviation out",
        }
        return says.get(finding.kind, "the result is for information only; take the deviation out")

    def _not_allowed(self, deviation: Deviation, finding: Finding) -> str:
        policy = self.policy
        if policy is None:
            return ""
        if policy.forbids(finding.rule):
            return "the policy lets nobody depart from this rule"
        level = finding.level or finding.rule_level
        if not policy.may_sign(deviation.by, level):
            an = "an" if level == "error" else "a"
            return f"the policy does not let {shown_value(deviation.by)} sign for {an} {level}"
        return ""

    # -- whether it holds now
    def _not_in_force(self, deviation: Deviation) -> str:
        if deviation.date > self.on:
            return f"that is after {self.on}, the day that this is judged on"
        if deviation.until in STAGES:
            if STAGES.index(self.stage) > STAGES.index(deviation.until):
                return f"only up to the {deviation.until} stage"
        elif self.on > deviation.until:
            return f"only until {deviation.until}"
        return ""


def _narrowed(found: list[Finding], what: str, named: str, of: Callable[[Finding], str]) -> list[Finding]:
    """The results of one part, or of one demand: the one that is named, or the only one that there is."""
    known = list(dict.fromkeys(of(finding) for finding in found))
    if named in known and named:
        return [finding for finding in found if of(finding) == named]
    unsaid = [finding for finding in found if not of(finding)]
    if named and unsaid and all(finding.kind in ("open", "notApplicable") for finding in unsaid):
        return unsaid  # it has not come so far as to tell them apart
    names = sorted((name for name in known if name), key=_as_counted)
    if named:
        hint = "the rule judges the build as a whole" if what == "part" else "the rule makes but one"
        if names:
            near = nearest(named, names)
            hint = f"did you mean '{near}'?" if near else f"the {what}s are {_some(names)}"
        raise _Wrong(f"names a {what} that the rule's results do not have, {shown_value(named)}; {hint}")
    if len(known) > 1:
        verb = "judges" if what == "part" else "makes"
        raise _Wrong(f"is too broad: it names no {what}, and the rule {verb} {len(known)}: {_some(names)}")
    return found


def _value_wrong(deviation: Deviation, finding: Finding) -> str:
    """What is wrong with the value up to which a result is accepted; empty where nothing is."""
    if finding.found is None:
        return f"it has up_to = {shown_value(deviation.up_to)}, and the result has no number" if deviation.up_to else ""
    if not deviation.up_to:
        now = f"{in_unit(finding.found, finding.quantity, finding.unit):.4g} {finding.unit}".strip()
        return f'it is too broad without the worst value that is accepted, like up_to = "{now}", which it is now'
    try:
        _bound(deviation, finding)
    except ValueError as error:
        return f"up_to: {error}"
    return ""


def _bound(deviation: Deviation, finding: Finding) -> float:
    """The worst value that is accepted, in the unit of the result. Raises `ValueError`."""
    if finding.quantity:
        bound = read(deviation.up_to, KINDS[finding.quantity], signed=True)
        return in_unit(bound, finding.quantity, finding.unit)
    try:
        bound = float(deviation.up_to)
    except ValueError:
        bound = math.nan
    if not math.isfinite(bound):
        raise UnitError(f"{shown_value(deviation.up_to)} is not a number without a unit, which the result is")
    return plain_number(bound)


def _exceeded(deviation: Deviation, finding: Finding) -> str:
    """Whether the result is worse than what was accepted, as the rest of a sentence."""
    if finding.found is None:
        return ""
    found = in_unit(finding.found, finding.quantity, finding.unit)
    bound = _bound(deviation, finding)
    beyond = found - bound
    limit = finding.limit
    if limit is None:
        worse = abs(beyond)
    elif limit.relation == "within":
        assert isinstance(limit.value, tuple)
        worse = beyond if finding.found > limit.value[1] else -beyond
    else:
        worse = beyond if limit.relation == "at most" else -beyond
    return f"only up to {deviation.up_to}, and this is worse" if worse > PRINTED * abs(found) else ""


def _suppression(deviation: Deviation) -> Suppression:
    return Suppression(
        deviation.reason,
        deviation.by,
        deviation.until,
        deviation.date,
        deviation.up_to,
        deviation.place,
        deviation.external,
    )


# -- words -------------------------------------------------------------------------------------------------------------
def _listed(words: Sequence[str]) -> str:
    return f"{', '.join(words[:-1])} and {words[-1]}" if len(words) > 1 else "".join(words)


def _as_counted(name: str) -> str:
    """A name as people put it in order: the second line of a list before the tenth."""
    return re.sub(r"[0-9]+", lambda digits: digits[0].zfill(9), name)


def _some(names: Sequence[str]) -> str:
    more = f" and {len(names) - MOST_NAMED} more" if len(names) > MOST_NAMED else ""
    return ", ".join(names[:MOST_NAMED]) + more


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
