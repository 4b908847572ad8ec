"""Today's results beside those of an earlier inspection: what is new, solved, worse, better, and because of what.

A result is known again by its rule, part and demand, under whatever names these had.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from swaplint.declare.verdicts import LEVELS
from swaplint.declare.versions import version_key
from swaplint.gating.earlier import EarlierReport, EarlierSpec, Value, values_of, was_of
from swaplint.gating.renamed_parts import Renamed
from swaplint.host.packs import LoadedPack, RuleBase
from swaplint.inspecting.baseline import Baseline, Because, Compared, FieldChange, Key, State, Was, troubles
from swaplint.inspecting.results import Finding, Inspection
from swaplint.spec.fields import Section
from swaplint.spec.renamed import path_today
from swaplint.units import KINDS, UnitError, from_unit

PRINTED = 5e-4
"""A report prints four figures: numbers that differ by less than half of the last are the same."""


_DAY = "build.judged_on"
"""The day that a build is judged on: a fact of the call more than of the build."""


def compare_with_report(base: RuleBase, inspection: Inspection, report: EarlierReport) -> Baseline:
    """An inspection beside a report that was kept. What that holds of the same spec counts as accepted."""
    then, same = report.of(inspection.spec.label)
    if then is None:
        return Baseline(
            report.file,
            "",
            accepts=True,
            version=report.version,
            compared={f.key: Compared(_state(f, None)) for f in inspection.findings},
        )
    made = _Comparison(base, inspection, then, report).made()
    made.file, made.accepts = report.file, same
    return made


def compare_with_spec(base: RuleBase, inspection: Inspection, earlier: EarlierSpec) -> Baseline:
    """An inspection beside that of another spec, at the same stage. That accepts nothing."""
    made = _Comparison(base, inspection, earlier, None).made()
    made.file, made.is_report = earlier.label, False
    return made


class _Comparison:
    """Two inspections side by side."""

    def __init__(self, base: RuleBase, today: Inspection, then: EarlierSpec, report: EarlierReport | None) -> None:
        self.base, self.today, self.then, self.report = base, today, then, report
        self.model: type[Section] = base.model
        self.rules = {id: (pack, rule) for pack, rule in base.rules for id in (rule.id, *rule.aliases)}
        self.values = values_of(today.spec.build)
        before = {path_today(self.model, path): value for path, value in then.values.items()}
        self.renamed = Renamed(self.model, before, self.values, whole=then.whole)
        self.before = {self.renamed(path): value for path, value in before.items()}
        self.same_files = then.hashes == frozenset(file.sha256 for file in today.spec.files())
        self.was = {was.key: was for was in map(self._today, then.results)}
        self.changed = self._changed()
        self.other_day = self.changed.pop(_DAY, None) is not None

    def made(self) -> Baseline:
        """What comes of it."""
        compared: dict[Key, Compared] = {}
        used: set[Key] = set()
        for finding in self.today.findings:
            was = self._counterpart(finding.key)
            if was is not None:
                used.add(was.key)
            compared[finding.key] = self._compared(finding, was)
        out = Baseline("", self.then.label, self.then.stage, partial=self.then.partial)
        out.version = self.report.version if self.report is not None else ""
        out.renamed = self.renamed.pairs
        self._left_over([was for key, was in self.was.items() if key not in used], compared, out)
        self._half_solved(compared)
        solved = [one.was for one in compared.values() if one.state == "solved" and one.was is not None]
        out.solved = sorted({was.key: was for was in (*solved, *out.solved)}.values(), key=_weight)
        out.compared = compared
        out.fields = self._fields(compared, out.solved)
        return out

    # -- which was which ---------------------------------------------------------------------------------------------
    def _today(self, was: Was) -> Was:
        """An earlier result under the names of today."""
        known = self.rules.get(was.rule)
        return was._replace(
            rule=known[1].id if known is not None else was.rule,
            part=" ".join(map(self._path, was.part.split(" "))),
            subject=self._path(was.subject),
            inputs=tuple(map(self._path, was.inputs)),
            unknown=tuple(map(self._path, was.unknown)),
        )

    def _path(self, words: str) -> str:
        return self.renamed(path_today(self.model, words)) if "." in words or "[" in words else words

    def _counterpart(self, key: Key) -> Was | None:
        """The earlier result about the same; else the one without a pass that stood for all demands, or all parts."""
        rule, part, _ = key
        if key in self.was:
            return self.was[key]
        for wider in ((rule, part, ""), (rule, "", "")):
            was = self.was.get(wider)
            if was is not None and was.kind in _FOR_ALL:
                return was
        return None

    def _left_over(self, left: Iterable[Was], compared: dict[Key, Compared], out: Baseline) -> None:
        """What becomes of earlier results that none of today stands beside."""
        ran = {finding.rule.id for finding in self.today.findings}
        for_all = {finding.key: finding for finding in self.today.findings if finding.kind in _FOR_ALL}
        for was in left:
            if self.today.selection and not self.today.selection.takes_id(was.rule):
                continue
            if was.rule not in ran:
                if was.troubles:
                    out.not_judged.append(was)
                continue
            wider = next((k for k in ((was.rule, was.part, ""), (was.rule, "", "")) if k in for_all), None)
            if wider is not None:  # judged by itself then, and not any more: that solves nothing
                compared[wider] = self._not_by_itself(for_all[wider], compared[wider], was)
            elif was.troubles:
                out.solved.append(was)
            else:
                out.gone += 1
        out.not_judged.sort(key=_weight)

    def _half_solved(self, compared: dict[Key, Compared]) -> None:
        """What one earlier result said of all demands or parts is not solved while one of them is still in trouble."""
        left = {
            one.was.key
            for finding in self.today.findings
            if (one := compared[finding.key]).was is not None and troubles(finding.kind, finding.due)
        }
        for key, one in compared.items():
            if one.state == "solved" and one.was is not None and one.was.key in left:
                compared[key] = one._replace(state="better")

    def _not_by_itself(self, finding: Finding, so_far: Compared, was: Was) -> Compared:
        if so_far.was is not None and so_far.was.key == finding.key:
            return so_far
        worst = was if so_far.was is None else min(so_far.was, was, key=_weight)
        return self._compared(finding, worst)

    # -- how it stands -----------------------------------------------------------------------------------------------
    def _compared(self, finding: Finding, was: Was | None) -> Compared:
        state = _state(finding, was)
        if was is None and state == "added" and self.then.partial:
            return Compared("unchanged")  # what such a report leaves out had nothing wrong with it either
        before = _found_before(finding, was) if was is not None else None
        if state == "unchanged" and before is None:
            return Compared(state, was)
        cause = self._because(finding, was)
        notes = self._notes(finding.rule.id) if cause in ("rule", "both") else ()
        fields = () if self.same_files else tuple(sorted(self._reads(finding, was).intersection(self.changed)))
        return Compared(state, was, before, cause, fields, notes)

    def _reads(self, finding: Finding, was: Was | None) -> set[str]:
        """The fields that a result rests on, then or now, or would."""
        now = (*finding.inputs, *finding.unknown, *finding.optional)
        return {*now, *(() if was is None else (*was.inputs, *was.unknown))}

    def _because(self, finding: Finding, was: Was | None) -> Because:
        """What made a result another one, as far as that is certain."""
        if self.report is None:
            return "build"
        build = not self.same_files and not self._reads(finding, was).isdisjoint(self.changed)
        owed = finding.kind == "open" and (was is None or was.kind == "open")
        if owed and not build and self.then.stage != self.today.stage:
            return "stage"
        if not build and self.other_day and _DAY in self._reads(finding, was):
            return "day"
        if self._same_version(finding.rule.id):
            return "unknown" if self.same_files else "build"
        if self.same_files:
            return "rule"
        notes = self._notes(finding.rule.id)
        if build:
            return "both" if notes else "build"
        return "rule" if notes or was is not None else "unknown"

    def _pack(self, rule: str) -> LoadedPack | None:
        return self.rules[rule][0] if rule in self.rules else None

    def _same_version(self, rule: str) -> bool:
        pack = self._pack(rule)
        return self.report is not None and pack is not None and self.report.packs.get(pack.name) == pack.version

    def _notes(self, rule: str) -> tuple[tuple[str, str], ...]:
        """What changed of a rule since the version that the report was made with."""
        pack = self._pack(rule)
        if self.report is None or pack is None:
            return ()
        since = version_key(self.report.packs.get(pack.name, ""))
        notes = sorted(self.rules[rule][1].changed, key=lambda note: version_key(note[0]))
        return tuple(note for note in notes if version_key(note[0]) > since)

    # -- what the build states otherwise -----------------------------------------------------------------------------
    def _changed(self) -> dict[str, FieldChange]:
        """The fields that are stated otherwise; of a report those that it tells of."""
        asked = {path for was in self.was.values() for path in was.unknown}
        out: dict[str, FieldChange] = {}
        for path in sorted({*self.before, *self.values}):
            then, now = self.before.get(path), self.values.get(path)
            told = then is not None or self.then.whole or path in asked
            if told and not (then is not None and now is not None and then.same_as(now)):
                out[path] = FieldChange(path, _written(then), _written(now))
        return out

    def _fields(self, compared: Mapping[Key, Compared], solved: Iterable[Was]) -> list[FieldChange]:
        """The same with the rules whose results are others because of it."""
        rules: dict[str, dict[str, None]] = {}
        for finding in self.today.findings:
            one = compared[finding.key]
            for path in one.fields if one.changed else ():
                rules.setdefault(path, {})[finding.rule.id] = None
        for was in solved:
            for path in (*was.inputs, *was.unknown):
                rules.setdefault(path, {})[was.rule] = None
        return [one._replace(rules=tuple(sorted(rules.get(one.field, {})))) for one in self.changed.values()]


def _written(value: Value | None) -> str:
    if value is None:
        return ""
    return value.written + (f" ({value.basis})" if value.basis else "")


def _found_before(finding: Finding, was: Was) -> float | None:
    """What was found before, in SI, where it is another number now, as printed."""
    if finding.found is None or was.found is None:
        return None
    before = was.found
    if finding.quantity:
        try:
            before = from_unit(was.found, was.unit, KINDS[finding.quantity])
        except (KeyError, UnitError, OverflowError):
            return None  # in a unit that is none of the kind, so another number altogether
    elif was.unit != finding.unit:
        return None
    return before if _moved(before, finding.found) else None


def _moved(one: float, other: float) -> bool:
    return abs(one - other) > PRINTED * max(abs(one), abs(other))


# -- states ------------------------------------------------------------------------------------------------------
_FOR_ALL = ("open", "review", "fail")
"""The kinds of a result that can stand for all demands or parts of a rule, so that none is judged by itself."""
_KINDS = ("review", "due", "fail")
"""What asks somebody to do something, the least first."""


class _Standing(NamedTuple):
    kind: str
    due: bool
    level: str | None
    rule_level: str
    margin: float | None
    accepted: bool

    @property
    def answered(self) -> bool:
        return self.kind != "open"

    @property
    def trouble(self) -> str:
        return "due" if self.due else self.kind


def _of(one: Finding | Was) -> _Standing:
    if isinstance(one, Was):
        return _Standing(one.kind, one.due, one.level, one.rule_level, one.margin, one.accepted)
    return _of(was_of(one))


def _state(finding: Finding, was: Was | None) -> State:
    """How a result stands to the earlier one about the same, if there was one."""
    now = _of(finding)
    in_trouble = troubles(now.kind, now.due)
    if was is None:
        return "new" if in_trouble else "added"
    then = _of(was)
    if in_trouble and then.accepted and not now.accepted:
        return "new"  # nobody's signature holds for it any more
    if in_trouble and troubles(then.kind, then.due):
        return _among_troubles(then, now)
    if in_trouble:
        return "new"
    if troubles(then.kind, then.due):
        # What is not known any more is not solved; what is not owed yet is only less pressing.
        return "solved" if now.answered else "better" if then.due else "worse"
    if now.answered == then.answered:
        return "unchanged"
    return "better" if now.answered else "worse"


def _among_troubles(then: _Standing, now: _Standing) -> State:
    further = _by_margin(then.margin, now.margin)
    if then.trouble != now.trouble:
        # What failed by a number and has none now is known less than it was, whatever it is called.
        lost = then.trouble == "fail" and (now.trouble == "due" or (then.margin is not None and now.margin is None))
        graver = _KINDS.index(now.trouble) > _KINDS.index(then.trouble)
        return "worse" if lost or graver or further == "worse" else "better"
    levels = [one.rule_level if one.due or one.level is None else one.level for one in (then, now)]
    if then.trouble != "review" and levels[0] != levels[1]:
        return "worse" if LEVELS.index(levels[1]) < LEVELS.index(levels[0]) else "better"
    return further


def _by_margin(then: float | None, now: float | None) -> State:
    """Whether a result is further outside its limit, or less far; unchanged where that cannot be told."""
    if then is None or now is None or abs(now - then) <= PRINTED * max(1.0, abs(then)):
        return "unchanged"
    return "better" if now > then else "worse"


def _weight(was: Was) -> tuple[int, int, str, str, str]:
    """The worst first."""
    kind = _KINDS.index("due" if was.due else was.kind) if was.troubles else -1
    level = was.level or was.rule_level
    return -kind, LEVELS.index(level) if level in LEVELS else len(LEVELS), *was.key
