"""The SARIF 2.1.0 report: one log with one run for all specs of a call.

Two profiles: `whole` holds every result. `code-scanning` is for services that take every result for an alert,
whatever its kind and whether it is suppressed, and that refuse files beyond certain sizes: it holds unsuppressed fails,
and for each rule whose answer is due one alert at its level, where its first missing field belongs. What it leaves out
is said, never dropped in silence.

The log holds no times, no absolute paths and no names of machines: the same input gives the same bytes.
"""

from __future__ import annotations

import gzip
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Any, Literal

from swaplint.declare.verdicts import LEVELS
from swaplint.gating.gate import reviews_of_error_rules
from swaplint.host.packs import LoadedPack
from swaplint.host.problems import Problem
from swaplint.inspecting.results import KINDS, Finding, Inspection, Report
from swaplint.inspecting.selection import Selection
from swaplint.reports.json_report import selection_json
from swaplint.reports.json_text import Shared, json_pieces
from swaplint.reports.naming import counted, listed
from swaplint.reports.sarif.baseline import ABSENT, absent, baseline_state, compares
from swaplint.reports.sarif.files import STDIN_LABEL, Files
from swaplint.reports.sarif.findings import Inputs, result
from swaplint.reports.sarif.texts import message, sentence
from swaplint.reports.sarif.tool import NAME, TROUBLE, Tool, trouble_id

Json = dict[str, Any]
Profile = Literal["whole", "code-scanning"]

SCHEMA = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"

LEVELS_LAID_OUT = 4
"""Log, runs, run and results: each result stands on a line of its own."""

# What code-scanning services accept in one run.
MAX_RESULTS = 25_000
MAX_RULES = 25_000
MAX_PACKS = 100
MAX_LOCATIONS = 1_000
MAX_GZIPPED_BYTES = 10_000_000


def sarif(report: Report, *, profile: Profile = "whole") -> tuple[dict[str, object], list[str]]:
    """A report as a SARIF log, and lines for standard error that say what the profile left out."""
    chosen = [(inspection, finding) for inspection in report.inspections for finding in inspection.findings]
    packs = _asked_for(report)
    if profile == "whole":
        return _log(report, packs, chosen, absent(report)), []
    said: list[str] = []
    packs = _first_packs(packs, said)
    chosen = _alerts(chosen, packs, said)
    chosen = _first(chosen, MAX_RESULTS, f"at most {MAX_RESULTS} results are accepted", said)
    packs = _first_rules(packs, chosen, said)
    while True:
        log = _log(report, packs, chosen, alerts=True)
        trimmed = _trim_locations(log)
        if not chosen or not _too_big(log):
            return log, said + trimmed
        why = f"at most {MAX_GZIPPED_BYTES / 1e6:g} MB are accepted, compressed"
        chosen = _first(chosen, len(chosen) // 2, why, said)


def _asked_for(report: Report) -> list[LoadedPack]:
    """The packs with the rules that were asked for: a rule that the log describes without a result is one that ran."""
    takes = report.selection.takes
    return [replace(pack, rules=[rule for rule in pack.rules if takes(rule)]) for pack in report.packs]


def dumps(log: dict[str, object]) -> str:
    """A log as JSON text: keys sorted, each result on a line of its own."""
    return "".join(pieces(log))


def pieces(log: Json) -> Iterator[str]:
    """The same text piece by piece."""
    return json_pieces(log, levels=LEVELS_LAID_OUT, sort_keys=True, unicode_only=True, compact=True)


Chosen = list[tuple[Inspection, Finding]]
Gone = Sequence[tuple[Inspection, Finding]]


# -- the log ------------------------------------------------------------------------------------------------------
def _log(
    report: Report, packs: Sequence[LoadedPack], chosen: Chosen, gone: Gone = (), *, alerts: bool = False
) -> dict[str, object]:
    """The log. `alerts` is for services that take every result for an alert, and read no more than they must."""
    unread = {p.file for p in report.problems if p.about == "input" and p.file}
    files = Files([inspection.spec for inspection in report.inspections], unread, _beside(report))
    tool = Tool(report.version, packs, (source for _, finding in chosen for source in finding.sources))
    inputs = Inputs(files, spelled_out=alerts)
    compared = compares(report)
    results = [
        result(
            finding,
            inspection,
            tool,
            files,
            inputs,
            suppressions=not alerts,
            state=baseline_state(finding, inspection) if compared else None,
        )
        for inspection, finding in chosen
    ]
    results += [
        result(finding, inspection, tool, files, inputs, suppressions=not alerts, state=ABSENT)
        for inspection, finding in gone
    ]
    results.sort(key=_order)
    run: Json = {
        "tool": tool.tool(),
        "automationDetails": {"id": _category(report.selection)},
        "columnKind": "unicodeCodePoints",
        "defaultEncoding": "UTF-8",
        "defaultSourceLanguage": "toml",
        "originalUriBaseIds": files.bases(),
        "artifacts": files.artifacts,
        "invocations": [_invocation(report, tool, files)],
        "taxonomies": [tool.taxonomy()],
        "results": results,
        "properties": {"reviewsOfErrorRules": sum(map(reviews_of_error_rules, report.inspections))},
    }
    if inputs.fields:
        run["logicalLocations"] = inputs.fields
    policy = _policy(report, files)
    if policy is not None:
        run["policies"] = [policy]
    days = [inspection.terms.on for inspection in report.inspections if inspection.terms.on]
    if days:
        run["properties"]["on"] = days[0]
    if compared:
        named = (i.baseline.file for i in report.inspections if i.baseline is not None)
        run["properties"]["comparedWith"] = sorted({files.shown(file) for file in named})
    if report.selection:
        run["properties"]["selection"] = selection_json(report.selection)
    return {"$schema": SCHEMA, "version": "2.1.0", "runs": [run]}


def _beside(report: Report) -> dict[str, str]:
    """The files that the call judges by, each with its role."""
    out: dict[str, str] = {}
    for inspection in report.inspections:
        if inspection.terms.policy is not None:
            out[inspection.terms.policy.file] = "policy"
        out.update(dict.fromkeys(inspection.terms.files, "userSpecifiedConfiguration"))
    return out


def _policy(report: Report, files: Files) -> Json | None:
    """The shop's policy. The levels that it changes stand in the invocation, see `_overrides`."""
    cited = report.inspections[0].terms.policy if report.inspections else None
    if cited is None:
        return None
    return {
        "name": cited.name,
        "version": cited.revision,
        "releaseDateUtc": cited.date,
        "shortDescription": message(f"{cited.name}, revision {cited.revision}."),
        "locations": [files.location(cited.file)],
    }


def _overrides(report: Report, tool: Tool) -> list[Json]:
    """The levels that the policy gives to rules, by their ids."""
    levels: dict[str, str] = {}
    for inspection in report.inspections:
        for finding in inspection.findings:
            if finding.reweighed is not None:
                levels[finding.rule.id] = finding.rule_level
    return [
        {"descriptor": descriptor, "configuration": {"level": levels[id]}}
        for id in sorted(levels)
        if (descriptor := tool.rule(id)) is not None
    ]


def _category(selection: Selection) -> str:
    """What the run is one of. A run of some rules is of a category of its own.

    Services close alerts that a later run of the same category does not hold.
    """
    some = "+".join((*selection.systems, *selection.rules))
    return f"{NAME}/inspect/{some}/" if selection else f"{NAME}/inspect/"


def _order(made: Json) -> tuple[str, str, int, int, str, str, str]:
    where = made["locations"][0]["physicalLocation"]
    at, region = where["artifactLocation"], where["region"]
    return (
        at["uri"],
        at["uriBaseId"],
        region["startLine"],
        region["startColumn"],
        made.get("ruleId") or made["rule"]["id"],
        made["properties"].get("part", ""),
        made["message"]["text"],
    )


def _invocation(report: Report, tool: Tool, files: Files) -> Json:
    ordered = sorted(
        report.problems,
        key=lambda p: (p.about, p.pack or "", p.rule or "", p.file or "", p.line or 0, p.column or 0, p.what),
    )
    # A notification is an error only for what could not be read: a broken rule or pack costs its own results. But a run
    # in which not everything could be asked is no success. What shuts the gate alone is none of that.
    out: Json = {
        "executionSuccessful": not any(problem.about != "gate" for problem in ordered),
        "toolExecutionNotifications": [_notification(p, tool, files) for p in ordered if p.about == "rule"],
        "toolConfigurationNotifications": [_notification(p, tool, files) for p in ordered if p.about != "rule"],
    }
    overrides = _overrides(report, tool)
    if overrides:
        out["ruleConfigurationOverrides"] = overrides
    if files.has_stdin:
        out["stdin"] = files.location(STDIN_LABEL)
    return out


_PLACED = ("input", "gate")
"""Trouble with what was handed in, which has its place there."""


def _notification(problem: Problem, tool: Tool, files: Files) -> Json:
    says = files.tidy(problem.what)
    if problem.about in _PLACED:
        says = f"{files.shown(problem.file)}: {says}" if problem.file else says
    else:
        owner = f"Pack '{problem.pack}'" if problem.pack else "A pack"
        line = f", line {problem.line}" if problem.line else ""
        where = f" ({files.shown(problem.file)}{line})" if problem.file else ""
        says = f"{owner}{where}: {says}"
    out: Json = {
        "descriptor": {"id": trouble_id(problem.about), "index": list(TROUBLE).index(problem.about)},
        "level": "error" if problem.about == "input" else "warning",
        "message": message(sentence(says)),
    }
    associated = tool.rule(problem.rule)
    if associated is not None:
        out["associatedRule"] = associated
    if problem.about in _PLACED and problem.file and files.knows(problem.file):
        physical: Json = {"artifactLocation": files.location(problem.file)}
        if problem.line:
            physical["region"] = {"startLine": problem.line, "startColumn": problem.column or 1}
        out["locations"] = [{"physicalLocation": physical}]
    return out


# -- the code-scanning profile ------------------------------------------------------------------------------------
def _first_packs(packs: Sequence[LoadedPack], said: list[str]) -> list[LoadedPack]:
    others = sorted((pack for pack in packs if not pack.built_in), key=lambda pack: pack.name)
    beyond = len(others) - MAX_PACKS
    if beyond > 0:
        said.append(_left_out(f"{beyond} packs and what their rules found", f"at most {MAX_PACKS} are accepted"))
    return [pack for pack in packs if pack.built_in] + others[:MAX_PACKS]


def _alerts(chosen: Chosen, packs: Sequence[LoadedPack], said: list[str]) -> Chosen:
    kept = {rule.id for pack in packs for rule in pack.rules}
    chosen = [pair for pair in chosen if pair[1].rule.id in kept]
    weighing = [pair for pair in chosen if pair[1].kind == "fail" or pair[1].due]
    others = Counter[str](finding.kind for _, finding in chosen if finding.kind != "fail" and not finding.due)
    counts = [f"{others[kind]} {kind}" for kind in KINDS if others[kind]]
    suppressed = sum(1 for _, finding in weighing if finding.suppression)
    if suppressed:
        counts.insert(0, f"{suppressed} with a signed-off deviation")
    if counts:
        said.append(_left_out(", ".join(counts), "such services take every result for an alert"))
    standing = [pair for pair in weighing if not pair[1].suppression]
    fails = [pair for pair in standing if not pair[1].due]
    return sorted([*fails, *_owed(standing)], key=lambda pair: _seriousness(pair[1]))


def _seriousness(alert: Finding) -> tuple[Any, ...]:
    """The worst level first, and of one level what fails before what is owed."""
    return LEVELS.index(alert.level or alert.rule_level), alert.due, alert.sort_key


def _owed(chosen: Chosen) -> Chosen:
    """What is due as one alert for each spec and rule."""
    together: dict[tuple[int, str], list[Finding]] = {}
    inspections: dict[int, Inspection] = {}
    for inspection, finding in chosen:
        if finding.due:
            inspections[id(inspection)] = inspection
            together.setdefault((id(inspection), finding.rule.id), []).append(finding)
    return [(inspections[key], _owed_alert(inspections[key], due)) for (key, _), due in together.items()]


def _owed_alert(inspection: Inspection, due: list[Finding]) -> Finding:
    """All that one rule is owed, where its first missing field belongs. An alert with a level is a fail (3.27.9)."""
    first = due[0]
    unknown = tuple(dict.fromkeys(path for finding in due for path in finding.unknown))
    lacking = [f"{listed(unknown)} {'is' if len(unknown) == 1 else 'are'} not stated."] if unknown else []
    lacking += dict.fromkeys(finding.why for finding in due if finding.why)
    return replace(
        first,
        kind="fail",
        level=first.rule_level,
        subject=unknown[0] if unknown else first.subject,
        message=f"Still owed at the {inspection.stage} stage: {' '.join(lacking)}",
        part="",
        demand="",
        unknown=unknown,
        inputs=tuple(dict.fromkeys(path for finding in due for path in finding.inputs)),
        practices=tuple(dict.fromkeys(name for finding in due for name in finding.practices)),
        usually_passes=all(finding.usually_passes for finding in due),
    )


def _first(chosen: Chosen, most: int, why: str, said: list[str]) -> Chosen:
    if len(chosen) > most:
        said.append(_left_out(f"{counted(len(chosen) - most, 'alert')}, the least serious", why))
    return chosen[:most]


def _first_rules(packs: list[LoadedPack], chosen: Chosen, said: list[str]) -> list[LoadedPack]:
    total = sum(len(pack.rules) for pack in packs)
    if total <= MAX_RULES:
        return packs
    hit = {finding.rule.id for _, finding in chosen}
    said.append(_left_out(f"{total - len(hit)} rules without a result", f"at most {MAX_RULES} are accepted"))
    return [replace(pack, rules=[rule for rule in pack.rules if rule.id in hit]) for pack in packs]


def _trim_locations(log: dict[str, Any]) -> list[str]:
    dropped = 0
    for made in log["runs"][0]["results"]:
        related = made.get("relatedLocations", [])
        dropped += max(0, len(related) + 1 - MAX_LOCATIONS)
        if related:
            made["relatedLocations"] = Shared(related[: MAX_LOCATIONS - 1])
    return (
        [_left_out(f"{dropped} inputs", f"at most {MAX_LOCATIONS} places per result are accepted")] if dropped else []
    )


def _too_big(log: dict[str, object]) -> bool:
    text = dumps(log).encode()
    return len(text) > MAX_GZIPPED_BYTES and len(gzip.compress(text, mtime=0)) > MAX_GZIPPED_BYTES


def _left_out(what: str, why: str) -> str:
    return f"Left out of the code-scanning report: {what} ({why})."
