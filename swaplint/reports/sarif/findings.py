"""Findings as SARIF results."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from typing import Any

import tomli

from swaplint.inspecting.results import Finding, Inspection, Remedy, Suppression
from swaplint.reports.json_text import Shared
from swaplint.reports.naming import part_words
from swaplint.reports.sarif.baseline import BaselineState
from swaplint.reports.sarif.files import Files, act_place, own_value, region
from swaplint.reports.sarif.texts import literal, message, sentence, unlinked
from swaplint.reports.sarif.tool import TEMPLATES, Tool, digest
from swaplint.reports.values import limit_value, limit_words, number_words
from swaplint.spec.table_file import TableFile
from swaplint.spec.toml_source import TomlFile
from swaplint.units import KINDS, UnitError, unit_factor
from swaplint.units.output import in_unit

Json = dict[str, Any]

FINGERPRINT = "specFinding/v2"
"""By rule, part and demand: never by line or value, so that a finding stays the same while its numbers change."""


class Inputs:
    """The stated fields that findings rest on, as related locations: each is made once for all that rest on it.

    A result rests on some twenty fields, and they are most of a log. So, unless `spelled_out`, a related location names
    its field by the number in the run's `logicalLocations` (3.33.3), and leaves out what is so by default. The file is
    spelled out: services ask for it.
    """

    def __init__(self, files: Files, *, spelled_out: bool = False) -> None:
        """`files` are those of the log."""
        self._files = files
        self._spelled_out = spelled_out
        self._made: dict[tuple[int, str], Json] = {}
        self._numbers: dict[str, int] = {}

    @property
    def fields(self) -> list[Json]:
        """The fields that are named by their numbers, in order, for the run."""
        return [{"fullyQualifiedName": path} for path in self._numbers]

    def of(self, finding: Finding, inspection: Inspection) -> Shared:
        """The inputs of one finding, in order."""
        return Shared([self._one(path, inspection) for path in inspection.listed_inputs(finding)])

    def _one(self, path: str, inspection: Inspection) -> Json:
        key = id(inspection), path
        if key not in self._made:
            stated = inspection.stated(path)
            written = stated.written if stated is not None else "?"
            place = self._files.physical(inspection.spec.place(path))
            field: Json = {"fullyQualifiedName": path}
            if not self._spelled_out:
                del place["artifactLocation"]["index"]
                if place["region"]["endLine"] == place["region"]["startLine"]:
                    del place["region"]["endLine"]  # which is then the same (3.30.7)
                field = {"index": self._numbers.setdefault(path, len(self._numbers))}
            self._made[key] = {
                "physicalLocation": place,
                "logicalLocations": [field],
                "message": message(f"{path} = {written}"),
            }
        return self._made[key]


def result(
    finding: Finding,
    inspection: Inspection,
    tool: Tool,
    files: Files,
    inputs: Inputs,
    *,
    suppressions: bool = True,
    state: BaselineState | None = None,
) -> Json:
    """One finding. `suppressions` says whether the log speaks of suppressions at all.

    `state` is how it stands to an earlier result; None where the log compares nothing.
    """
    spec = inspection.spec
    finding = _with_sound_unit(finding)
    subject = finding.subject or finding.part
    location: Json = {"physicalLocation": files.physical(act_place(spec, finding.subject))}
    if subject:
        location["logicalLocations"] = [{"fullyQualifiedName": subject}]
    out: Json = {
        **tool.result_rule(finding.rule.id),
        "kind": finding.kind,
        "level": finding.level or finding.rule_level if finding.kind == "fail" else "none",
        "message": _message(finding),
        "locations": [location],
        "partialFingerprints": {FINGERPRINT: digest(*finding.key)},
        "properties": _properties(finding, inspection),
    }
    if finding.inputs:
        out["relatedLocations"] = inputs.of(finding, inspection)
    taxa = tool.taxa_beyond(finding.rule, finding.sources)
    if taxa:
        out["taxa"] = taxa
    if suppressions:
        out["suppressions"] = [_suppression(finding.suppression, files)] if finding.suppression else []
    if state is not None:
        out["baselineState"] = state
    fixes = [fix for remedy in finding.remedies if (fix := _fix(remedy, inspection, files))]
    if fixes:
        out["fixes"] = fixes
    return out


def _with_sound_unit(finding: Finding) -> Finding:
    """A finding without its unit where a pack names one that does not exist: its number is then shown without."""
    try:
        sound = not finding.quantity or bool(unit_factor(finding.unit, KINDS[finding.quantity]))
    except (KeyError, UnitError):
        sound = False
    return finding if sound else replace(finding, quantity="", unit="")


def _message(finding: Finding) -> Json:
    says = sentence(finding.message)
    if finding.kind == "fail" and not finding.due:
        consequence = sentence(finding.rule.consequence)
        says = f"{says} {consequence[:1].upper()}{consequence[1:]}"
    if finding.not_accepted:
        says = f"{says} {finding.not_accepted}"
    if finding.reweighed is not None:
        says = f"{says} {sentence(f'{finding.reweighed.words[:1].upper()}{finding.reweighed.words[1:]}')}"
    if finding.kind in ("fail", "review"):
        says = " ".join((says, *(f"Caution: {caution}" for caution in finding.cautions)))
    about = part_words(finding.part) or finding.subject or "build"
    arguments = [", ".join(words for words in (about, finding.demand) if words), says.removesuffix(".")]
    id = "words"
    if finding.found is not None:
        id = "found"
        arguments.append(number_words(finding.found, finding.quantity, finding.unit))
        if finding.limit is not None:
            id = "number"
            arguments.append(limit_words(finding))
    arguments = [unlinked(argument) for argument in arguments]
    return {
        "text": TEMPLATES[id].format(*(literal(argument) for argument in arguments)),
        "id": id,
        "arguments": arguments,
    }


def _properties(finding: Finding, inspection: Inspection) -> Json:
    quantity, unit = finding.quantity, finding.unit
    out: Json = {"stage": inspection.stage}
    if finding.found is not None and math.isfinite(finding.found):
        out["found"] = in_unit(finding.found, quantity, unit)
    if finding.limit is not None:
        out["limit"] = {"relation": finding.limit.relation, "value": limit_value(finding.limit, quantity, unit)}
    if finding.margin is not None and math.isfinite(finding.margin):
        out["margin"] = float(f"{finding.margin:.12g}")
    if unit:
        out["unit"] = unit
    lists = {
        "unknown": inspection.listed_unknown(finding),
        "practices": finding.practices,
        "deciding": inspection.listed_deciding(finding),
    }
    out.update({name: list(values) for name, values in lists.items() if values})
    out.update({name: words for name, words in (("part", finding.part), ("demand", finding.demand)) if words})
    more = {
        "moreInputs": inspection.more_inputs(finding),
        "moreUnknown": inspection.more_unknown(finding),
        "moreDeciding": inspection.more_deciding(finding),
    }
    out.update({name: count for name, count in more.items() if count})
    out.update({name: True for name in ("due", "usually_passes") if getattr(finding, name)})
    return out


def _suppression(made: Suppression, files: Files) -> Json:
    # A deviation stands in the spec that was inspected, `inSource`, or in a file of the shop's own. It is signed off.
    kind = "external" if made.external else "inSource"
    out: Json = {"kind": kind, "status": "accepted", "justification": made.justification}
    if made.place is not None:
        out["location"] = {"physicalLocation": files.physical(made.place)}
    properties = {"by": made.by, "date": made.date, "expires": made.expires, "upTo": made.up_to}
    properties = {name: value for name, value in properties.items() if value}
    return {**out, "properties": properties} if properties else out


def _fix(remedy: Remedy, inspection: Inspection, files: Files) -> Json | None:
    """A remedy as replacements of its fields' values; None where the spec does not state each itself, or more goes."""
    if remedy.drops or remedy.fits:
        return None  # what is to be stated anew, or of a part that is yet to be chosen, no tool can put in
    fields = remedy.fields or (remedy.field,)
    before: dict[str, None] = {}
    by_file: dict[str, list[Json]] = {}
    for path in fields:
        own, stated = own_value(inspection.spec, path), inspection.stated(path)
        if own is None or stated is None:
            return None
        file, (start, end) = own
        place = file.place(start, end)
        text = _new_text(file, remedy.written, file.text[start:end])
        if text is None:
            return None
        before[f"'{stated.written}'"] = None
        replacement = {"deletedRegion": region(place), "insertedContent": {"text": text}}
        by_file.setdefault(place.file, []).append(replacement)
    says = f"Change {remedy.field} from {' and '.join(before)} to '{_bare(remedy.written)}'."
    if remedy.breaks:
        says += f" This newly breaks: {', '.join(remedy.breaks)}."
    changes = [{"artifactLocation": files.location(file), "replacements": made} for file, made in by_file.items()]
    return {"description": message(says), "artifactChanges": changes}


def _new_text(file: TomlFile, written: str, now: str) -> str | None:
    """A value as its file holds it; None where it cannot stand there."""
    if not isinstance(file, TableFile):
        return toml_value(written, like=now)
    # Imported here: most specs have no tables.
    from swaplint.spec.editing.values import EditError
    from swaplint.spec.table_editing import written_in

    try:
        return written_in(file, _bare(written))
    except EditError:
        return None


def _bare(written: str) -> str:
    parsed = _parsed(written)
    return parsed if isinstance(parsed, str) else written


def _parsed(written: str) -> object:
    """What a text is as one TOML value; None where it is not exactly that."""
    try:
        table = tomli.loads(f"value = {written}")
    except (RecursionError, ValueError):
        return None
    return table["value"] if len(table) == 1 else None


def toml_value(written: str, *, like: str) -> str | None:
    """A value as TOML holds it, of the sort of the value that it replaces; None where it cannot be that.

    A text is quoted where it is not yet; a number or flag stands as it is.

    >>> toml_value("12 mm", like='"9 mm"'), toml_value('"12 mm"', like='"9 mm"'), toml_value("4.1", like="4")
    ('"12 mm"', '"12 mm"', '4.1')
    """
    parsed = _parsed(written)
    if not isinstance(_parsed(like), str):
        return written if isinstance(parsed, bool | int | float) else None
    if isinstance(parsed, str):
        return written
    # JSON and TOML write a quote, a backslash and a control character alike, but for U+007F.
    return json.dumps(written, ensure_ascii=False).replace("\x7f", "\\u007f") if written else None
