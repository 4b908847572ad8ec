"""The JSON report of `inspect`. Its format is a contract: fields are added, never renamed or dropped."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from swaplint import __version__
from swaplint.build.estimates import Estimated
from swaplint.declare.sources import Source
from swaplint.gating.gate import Gate, GateLevel, gate_of
from swaplint.host.packs import LoadedPack
from swaplint.host.problems import Problem
from swaplint.inspecting.results import (
    Ask,
    Finding,
    Inspection,
    Remedy,
    Report,
    Suppression,
    Terms,
    sheet_citation,
)
from swaplint.inspecting.selection import Selection
from swaplint.inspecting.ways import ways_to
from swaplint.reports.baseline_json import baseline_json, compared_json
from swaplint.reports.json_text import Making, Rendered, Shared, json_pieces, json_text
from swaplint.reports.naming import asked_for, whom_to_ask
from swaplint.reports.values import field_tolerance, field_value, limit_value
from swaplint.spec.facts import NO_LIMIT, Stated
from swaplint.units.output import in_unit, plain_number

FORMAT = 2
LEVELS = 4
"""How deep a report is laid out: each result, quantity, choice or row stands on a line of its own."""


def dumps(data: object) -> str:
    """A report as JSON text: each result, quantity, choice or row on a line of its own."""
    return json_text(data, levels=LEVELS)


def pieces(data: object) -> Iterator[str]:
    """The same text piece by piece."""
    return json_pieces(data, levels=LEVELS)


def line(data: object) -> str:
    """Data as one line of a stream."""
    return json_text(data, levels=0)


def in_report(spec: object) -> Rendered:
    """A spec's object as it stands in a report: the same text whatever stands beside it."""
    made = json_pieces(spec, levels=LEVELS - 2, start="\n    ")
    pieces = [piece.encode() for piece in made]
    return Rendered(pieces[:-1])  # the last one ends the text, and other text follows


def inspection_json(report: Report, level: GateLevel) -> dict[str, Any]:
    """A whole run as plain data."""
    return whole_json(report, [spec_json(inspection, level) for inspection in report.inspections])


def whole_json(report: Report, specs: list[Any]) -> dict[str, Any]:
    """A whole run with its specs as they are given."""
    return {
        "format": FORMAT,
        "tool": tool_json(report.packs),
        "specs": specs,
        "problems": [problem_json(problem) for problem in report.problems],
    }


def last_line_json(report: Report) -> dict[str, Any]:
    """What stands in the last line of a stream of specs."""
    whole = whole_json(report, [])
    del whole["specs"]
    return whole


def tool_json(packs: Iterable[LoadedPack]) -> dict[str, Any]:
    """The tool, its version and the packs that took part."""
    named = [{"name": pack.name, "version": pack.version} for pack in packs]
    return {"name": "swaplint", "version": __version__, "packs": named}


def problem_json(problem: Problem) -> dict[str, Any]:
    """Something that could not be read, loaded or run."""
    return {
        "what": problem.what,
        "pack": problem.pack,
        "rule": problem.rule,
        "file": problem.file,
        "line": problem.line,
        "column": problem.column,
    }


def spec_json(
    inspection: Inspection, level: GateLevel, *, whole: bool = True, as_written: bool = False
) -> dict[str, Any]:
    """One spec as plain data: the same alone and in company.

    Without `whole` its results are what fails, what a person must decide, and what is still owed. With `as_written`
    each result is made when the text of the report comes to it: all at once they take as much room as the text.
    """
    spec = inspection.spec
    asks = [_ask(inspection, ask) for ask in inspection.ask_next]
    inputs, sources = _Inputs(inspection, {ask["field"]: ask["whom"] for ask in asks}), _Sources(inspection)
    chosen = [f for f in inspection.findings if whole or f.kind in ("fail", "review") or f.due]
    results = (_finding(finding, inputs, sources) for finding in chosen)
    return {
        "spec": spec.label,
        "stage": inspection.stage,
        "stage_stated": not inspection.assumed_stage,
        "files": [{"file": file.label, "sha256": file.sha256} for file in spec.files()],
        "on": inspection.terms.on or None,
        "policy": policy_json(inspection.terms),
        "deviations": [{"file": file, "sha256": hash} for file, hash in inspection.terms.files.items()],
        "gate": gate_json(gate_of(inspection, level)),
        "selection": selection_json(inspection.selection),
        "counts": inspection.counts(),
        "results": Making(results) if as_written and chosen else list(results),
        "ask_next": asks,
        "baseline": None if inspection.baseline is None else baseline_json(inspection.baseline),
    }


def selection_json(selection: Selection) -> dict[str, Any] | None:
    """What alone was asked for; None where it was everything."""
    return {"systems": list(selection.systems), "rules": list(selection.rules)} if selection else None


def policy_json(terms: Terms) -> dict[str, Any] | None:
    """The shop's policy that a spec is judged by, and the levels that it changes."""
    if terms.policy is None:
        return None
    return {
        **terms.policy._asdict(),
        "gate_on_reviews": terms.reviews_gate,
        "raised": [{"rule": rule, "to": level} for rule, level in terms.raised],
        "lowered": [{"rule": rule, "to": level, "reason": reason} for rule, level, reason in terms.lowered],
    }


def suppression_json(made: Suppression | None) -> dict[str, Any] | None:
    """Who accepted a result, why, up to what and until when, and where that is written."""
    if made is None:
        return None
    return {
        "kind": "external" if made.external else "inSource",
        "justification": made.justification,
        "by": made.by,
        "date": made.date or None,
        "expires": made.expires,
        "up_to": made.up_to or None,
        "file": made.place.file if made.place is not None else None,
        "line": made.place.line if made.place is not None else None,
    }


def gate_json(gate: Gate) -> dict[str, Any]:
    """Whether the gate is open, and what shuts it."""
    return {
        "level": gate.level,
        "open": gate.open,
        "shut_by": list(gate.shut_by),
        "not_run": list(gate.not_run),
        "packs_missing": list(gate.packs_missing),
        "taken": list(gate.taken),
        "packs_wanted": list(gate.packs_wanted),
        "deviations_wrong": gate.deviations,
        "reviews_of_error_rules": gate.reviews,
    }


def _ask(inspection: Inspection, ask: Ask) -> dict[str, Any]:
    description, where = asked_for(inspection, ask)
    whom, named = whom_to_ask(inspection, ask.field, where)
    return {
        "field": ask.field,
        "rules": list(ask.rules),
        "where": where,
        "whom": whom,
        "whom_named": named,
        "typical": ask.typical or None,
        "description": description,
        "estimates": [
            {
                "quantity": way.estimate.id,
                "title": way.estimate.title,
                "tolerance": plain_number(way.estimate.tolerance),
                "measure": list(way.measure),
            }
            for way in ways_to(inspection.spec, ask.field)
        ],
    }


def _finding(finding: Finding, inputs: _Inputs, sources: _Sources) -> dict[str, Any]:
    inspection = inputs.inspection
    found = limit = None
    if finding.found is not None:
        value = in_unit(finding.found, finding.quantity, finding.unit)
        found = {"value": value, "unit": finding.unit or None}
    if finding.limit is not None:
        limit = {
            "relation": finding.limit.relation,
            "value": limit_value(finding.limit, finding.quantity, finding.unit),
            "unit": finding.unit or None,
        }
    baseline = inputs.inspection.baseline
    compared = {} if baseline is None else {"baseline": compared_json(baseline, finding)}
    return {
        "rule": finding.rule.id,
        "demand": finding.demand or None,
        "part": finding.part or None,
        "kind": finding.kind,
        "level": finding.level,
        "rule_level": finding.rule_level,
        "subject": finding.subject,
        "question": finding.rule.question,
        "message": finding.message,
        "consequence": finding.rule.consequence,
        "found": found,
        "limit": limit,
        "margin": None if finding.margin is None else plain_number(finding.margin),
        "inputs": Shared([inputs[path] for path in inspection.listed_inputs(finding)]),
        "more_inputs": inspection.more_inputs(finding),
        "unknown": list(inspection.listed_unknown(finding)),
        "more_unknown": inspection.more_unknown(finding),
        "whom": sorted({whom for path in finding.unknown if (whom := inputs.whom.get(path))}),
        "due": finding.due,
        "usually_passes": finding.usually_passes,
        "fallbacks": list(finding.practices),
        "estimates": [_estimated(inspection, one) for one in finding.estimates],
        "deciding": list(inspection.listed_deciding(finding)),
        "more_deciding": inspection.more_deciding(finding),
        "remedies": [_remedy(remedy) for remedy in finding.remedies],
        "sources": Shared([sources.of(source) for source in finding.sources]),
        "cautions": list(finding.cautions),
        **compared,
        "level_before_policy": finding.reweighed.before if finding.reweighed is not None else None,
        "suppression": suppression_json(finding.suppression),
        "not_accepted": finding.not_accepted or None,
    }


def _estimated(inspection: Inspection, one: Estimated) -> dict[str, Any]:
    """A field that nobody states, as it was estimated."""
    facts = inspection.facts_of(one.field)
    value = Stated(one.value, one.tol, "calculated")
    return {
        "field": one.field,
        "value": field_value(value, facts),
        "unit": facts.unit or None if facts is not None else None,
        "basis": value.basis,
        "tol": field_tolerance(value, facts),
        "quantity": one.by.id,
        "from": [path for path in one.read if inspection.stated(path) is not None],
    }


class _Inputs(dict[str, dict[str, Any]]):
    """The stated fields of a spec as they stand in its results, each made once: many results rest on the same."""

    def __init__(self, inspection: Inspection, whom: Mapping[str, str | None]) -> None:
        self.inspection = inspection
        self.whom = whom
        """Whom to ask for each field that results wait for."""

    def __missing__(self, path: str) -> dict[str, Any]:
        made = self[path] = input_json(self.inspection, path)
        return made


class _Sources:
    """The sources that results cite, each made once."""

    def __init__(self, inspection: Inspection) -> None:
        self.inspection = inspection
        self.known: dict[int, tuple[Source, dict[str, Any]]] = {}
        """By identity, which is told faster than whether two sources say the same; each with the source itself."""

    def of(self, source: Source) -> dict[str, Any]:
        known = self.known.get(id(source))
        if known is None:
            known = self.known[id(source)] = source, source_json(self.inspection, source)
        return known[1]


def input_json(inspection: Inspection, path: str) -> dict[str, Any]:
    """A stated field: its value in its unit, and where it is written."""
    stated = inspection.stated(path)
    assert stated is not None
    facts = inspection.facts_of(path)
    place = inspection.spec.place(path)
    return {
        "field": path,
        "value": field_value(stated, facts),
        "unit": facts.unit or None if facts is not None and stated.value != NO_LIMIT else None,
        "basis": stated.basis,
        "tol": field_tolerance(stated, facts),
        "file": place.file,
        "line": place.line,
        "column": place.column,
    }


def source_json(inspection: Inspection | None, source: Source) -> dict[str, Any]:
    """A cited source; a data sheet is named by the document that this build uses."""
    title = source.title
    if inspection is not None and source.field:
        title, _ = sheet_citation(inspection, source)
    return {
        "kind": source.kind,
        "title": title,
        "clause": source.clause or source.field or None,
        "known": source.known,
        "gives": source.gives or None,
        "what": source.what or None,
    }


def _remedy(remedy: Remedy) -> dict[str, Any]:
    def value(number: float | str | None) -> float | str | None:
        return in_unit(number, remedy.quantity, remedy.unit) if isinstance(number, float) else number

    return {
        "field": remedy.field,
        "from": value(remedy.before),
        "to": value(remedy.after),
        "unit": remedy.unit or None,
        "breaks": list(remedy.breaks),
        "mends": list(remedy.mends),
        "written": remedy.written,
        "advised": remedy.advised,
        "drops": list(remedy.drops),
        "fits": [{"field": path, "written": written} for path, written in remedy.fits],
        "other_part": remedy.other_part,
    }
