"""The inspection sheet: the text report of `inspect`."""

from __future__ import annotations

from dataclasses import replace
from itertools import groupby

from swaplint.cautions import CLOSING
from swaplint.host.packs import LoadedPack
from swaplint.reports.layout import Sheet
from swaplint.reports.values import limit_words, margin_words, number_words, stated_words
from swaplint.results import Finding, Inspection, Remedy, Report, sheet_citation
from swaplint.sources import Source

_TAG = {
    "error": ("ERROR", "bold red"),
    "warning": ("WARNING", "bold yellow"),
    "note": ("NOTE", "bold cyan"),
    "review": ("REVIEW", "bold magenta"),
    "open": ("OPEN", "bold blue"),
    "pass": ("PASS", "green"),
    "notApplicable": ("N/A", "dim"),
    "informational": ("INFO", "cyan"),
}
_HEADINGS = {
    "error": "MUST BE PUT RIGHT",
    "warning": "LIKELY TROUBLE",
    "note": "WORTH KNOWING",
    "review": "A PERSON MUST DECIDE",
    "open": "NOT ENOUGH KNOWN TO DECIDE",
    "pass": "PASSES",
    "notApplicable": "DOES NOT APPLY",
    "informational": "FOR INFORMATION",
}
_HANG = 10
_LABEL = 10
_LISTED_INPUTS = 12
"""How many inputs a finding lists one by one; a torque curve counts as one."""


def inspection_sheet(report: Report, width: int, gate: str, *, brief: bool = False) -> Sheet:
    """Every inspected spec, one after the other; `brief` leaves out what passes or does not apply."""
    sheet = Sheet.of_width(width)
    for inspection in report.inspections:
        _spec(sheet, report, inspection, gate, brief)
    if report.inspections:
        sheet.blank()
        sheet.wrapped(CLOSING, style="italic")
    return sheet


def _spec(sheet: Sheet, report: Report, inspection: Inspection, gate: str, brief: bool) -> None:
    name = inspection.stated("build.name")
    sheet.blank()
    sheet.wrapped(str(name.value) if name is not None else "Build without a name", style="bold")
    sheet.wrapped(f"{inspection.spec.label}, inspected for the {inspection.stage} stage with {_packs(report.packs)}")
    for weight, group in groupby(inspection.findings, key=lambda finding: finding.level or finding.kind):
        findings = list(group)
        kind = findings[0].kind
        if brief and kind in ("pass", "notApplicable"):
            continue
        sheet.heading(f"{_HEADINGS[weight]} ({len(findings)})")
        for system, of_system in groupby(_by_system(findings), key=lambda finding: finding.rule.system):
            sheet.blank()
            sheet.line((system, "bold underline"))
            if kind not in ("pass", "notApplicable"):
                for finding in of_system:
                    _full(sheet, inspection, finding)
                continue
            by_rule = sorted(of_system, key=lambda finding: finding.rule.id)
            for _, of_rule in groupby(by_rule, key=lambda finding: finding.rule.id):
                alike = list(of_rule)
                if len(alike) > 1:
                    _alike(sheet, inspection, alike)
                else:
                    _short(sheet, inspection, alike[0])
    _ask_next(sheet, inspection)
    _totals(sheet, inspection, gate)


def _by_system(findings: list[Finding]) -> list[Finding]:
    """In the order of the systems; first of all what nobody supplies yet, which a newcomer must see."""
    return sorted(findings, key=lambda f: (f.rule.system != "supply", f.sort_key[2], f.sort_key))


def _packs(packs: object) -> str:
    assert isinstance(packs, list | tuple)
    by_version: dict[str, list[str]] = {}
    for pack in packs:
        assert isinstance(pack, LoadedPack)
        by_version.setdefault(pack.version, []).append(pack.name)
    return "; ".join(f"{', '.join(names)} {version}" for version, names in by_version.items()) or "no rule pack"


# -- one finding -------------------------------------------------------------------------------------------------
def _full(sheet: Sheet, inspection: Inspection, finding: Finding) -> None:
    _head(sheet, finding)
    numbers = _numbers(finding)
    if numbers:
        sheet.wrapped(numbers, indent=_HANG, style="bold")
    sheet.wrapped(finding.message, indent=_HANG)
    place = inspection.spec.act_place(finding.subject)
    if finding.subject:
        sheet.leader(
            finding.subject, _line(inspection, place.file, place.line), indent=_HANG, label="about", hang=_LABEL
        )
    _inputs(sheet, inspection, finding)
    for remedy in finding.remedies:
        sheet.wrapped(_remedy(remedy), label="remedy", indent=_HANG, hang=_LABEL)
    for source in finding.sources:
        sheet.wrapped(source_words(inspection, source), label="source", indent=_HANG, hang=_LABEL)
    for caution in finding.cautions:
        sheet.wrapped(caution, label="caution", indent=_HANG, hang=_LABEL, style="yellow")
    sheet.blank()


def _alike(sheet: Sheet, inspection: Inspection, findings: list[Finding]) -> None:
    """Several parts that one rule passes, or has nothing to say of: the rule once, and a line for each part."""
    rule, kind = findings[0].rule, findings[0].kind
    tag, style = _TAG[kind]
    sheet.wrapped(rule.id, label=tag, hang=_HANG, label_style=style)
    sheet.wrapped(rule.question, indent=_HANG)
    for finding in findings:
        says = finding.message if kind != "pass" or finding.practices or finding.found is None else ""
        words = "; ".join(piece for piece in (_numbers(finding), says) if piece)
        sheet.wrapped(f"{_part(finding.part)}: {words}" if finding.part else words, indent=_HANG + 3, hang=3)
    merged = replace(
        findings[0],
        inputs=tuple(dict.fromkeys(path for f in findings for path in f.inputs)),
        sources=tuple(dict.fromkeys(source for f in findings for source in f.sources)),
    )
    _from(sheet, inspection, merged)


def _short(sheet: Sheet, inspection: Inspection, finding: Finding) -> None:
    tag, style = _TAG[finding.kind]
    numbers = _numbers(finding)
    head = finding.rule.id + (f": {numbers}" if numbers else "")
    sheet.wrapped(head, label=tag, hang=_HANG, label_style=style)
    sheet.wrapped(_question(finding), indent=_HANG)
    if finding.message and (finding.kind != "pass" or finding.practices or not numbers):
        sheet.wrapped(finding.message, indent=_HANG)
    _from(sheet, inspection, finding)


def _from(sheet: Sheet, inspection: Inspection, finding: Finding) -> None:
    """What a short entry rests on, its sources and cautions."""
    if finding.kind == "pass":
        pieces = [_lines_read(inspection, finding)]
        pieces += [source_words(inspection, source) for source in finding.sources]
        sheet.wrapped("; ".join(piece for piece in pieces if piece), label="from", indent=_HANG, hang=6, style="dim")
        for caution in finding.cautions:
            sheet.wrapped(caution, label="mind", indent=_HANG, hang=6, style="dim yellow")
    elif finding.inputs:
        sheet.wrapped(_lines_read(inspection, finding), label="from", indent=_HANG, hang=6, style="dim")


def _head(sheet: Sheet, finding: Finding) -> None:
    tag, style = _TAG[finding.level or finding.kind]
    sheet.wrapped(
        _question(finding), label=tag, hang=_HANG, label_style=style, style="bold" if finding.kind == "fail" else ""
    )
    sheet.wrapped(finding.rule.id, indent=_HANG, style="dim")


def _question(finding: Finding) -> str:
    if not finding.part:
        return finding.rule.question
    return f"{_part(finding.part)}: {finding.rule.question}"


def _part(part: str) -> str:
    """A part's path, two of one list, or a part and a name: 'gearbox.ratios[1] to [2]', 'load_cases.laden, front'."""
    first, *others = part.split(" ")
    base = first.split("[", 1)[0]
    return first + "".join(f" to {o.removeprefix(base)}" if o.startswith(base + "[") else f", {o}" for o in others)


def _numbers(finding: Finding) -> str:
    if finding.found is None:
        return ""
    words = f"found {number_words(finding.found, finding.quantity, finding.unit)}"
    if finding.limit is not None:
        words += f", allowed {limit_words(finding)}"
    if finding.margin is not None:
        words += f", margin {margin_words(finding.margin)}"
    return words


def _inputs(sheet: Sheet, inspection: Inspection, finding: Finding) -> None:
    rows: list[tuple[str, str]] = []
    for base, group in groupby(finding.inputs, key=_collection):
        paths = list(group)
        place = inspection.spec.place(paths[0])
        where = _line(inspection, place.file, place.line)
        if len(paths) > 2:
            rows.append((f"{base} ({len(paths)} values)", where))
        else:
            for path in paths:
                place = inspection.spec.place(path)
                where = _line(inspection, place.file, place.line)
                rows.append((f"{path} = {stated_words(inspection, path)}", where))
    label = "rests on"
    for left, right in rows[:_LISTED_INPUTS]:
        sheet.leader(left, right, indent=_HANG, label=label, hang=_LABEL)
        label = ""
    if len(rows) > _LISTED_INPUTS:
        sheet.wrapped(f"and {len(rows) - _LISTED_INPUTS} more", indent=_HANG + _LABEL, style="dim")


def _collection(path: str) -> str:
    return path.split("[", 1)[0] if "[" in path else path


def _line(inspection: Inspection, file: str, line: int) -> str:
    return f"line {line}" if file == inspection.spec.label else f"{file.rsplit('/', 1)[-1]}, line {line}"


def _lines_read(inspection: Inspection, finding: Finding) -> str:
    by_file: dict[str, set[int]] = {inspection.spec.label: set()}
    for path in finding.inputs:
        place = inspection.spec.place(path)
        by_file.setdefault(place.file, set()).add(place.line)
    pieces = []
    for file, lines in by_file.items():
        if not lines:
            continue
        name = "" if file == inspection.spec.label else f"{file.rsplit('/', 1)[-1]} "
        pieces.append(f"{name}{'line' if len(lines) == 1 else 'lines'} {_ranges(sorted(lines))}")
    return ", ".join(pieces)


def _ranges(numbers: list[int]) -> str:
    out: list[str] = []
    start = previous = numbers[0]
    for number in [*numbers[1:], -1]:
        if number == previous + 1:
            previous = number
            continue
        out.append(str(start) if start == previous else f"{start}-{previous}")
        start = previous = number
    return ", ".join(out)


def source_words(inspection: Inspection | None, source: Source) -> str:
    """A source as a citation, with what kind it is and how its number is known."""
    if source.field:
        return _field_source(inspection, source)
    clause = f", {source.clause}" if source.clause else ""
    kind = source.kind.replace("-", " ")
    known = "" if source.known in (source.kind, "published") else f", {source.known}"
    return f"{source.title}{clause} ({kind}{known})"


def _field_source(inspection: Inspection | None, source: Source) -> str:
    """A limit that a field states: the data sheet it stands in, or the spec."""
    if inspection is None:
        return f"{source.title}: {source.field}"
    title, place = sheet_citation(inspection, source)
    if place is None:
        return f"{title}: {source.field}, not stated"
    return f"{title}: {source.field}, {_line(inspection, place.file, place.line)}"


def _remedy(remedy: Remedy) -> str:
    before = "" if remedy.before is None else f" from {_amount(remedy.before, remedy)}"
    words = f"{remedy.field}{before} to {_amount(remedy.after, remedy)} passes"
    if remedy.mends:
        words += f"; it also mends {', '.join(remedy.mends)}"
    if remedy.breaks:
        words += f"; but it breaks {', '.join(remedy.breaks)}"
    return words + "."


def _amount(value: float | str, remedy: Remedy) -> str:
    return number_words(value, remedy.quantity, remedy.unit) if isinstance(value, float) else value


# -- what comes last ------------------------------------------------------------------------------------------------
def _ask_next(sheet: Sheet, inspection: Inspection) -> None:
    if not inspection.ask_next:
        return
    sheet.heading("FIND OUT NEXT")
    for ask in inspection.ask_next:
        count = "1 rule waits" if len(ask.rules) == 1 else f"{len(ask.rules)} rules wait"
        sheet.leader(ask.field, count)
        what = ask.description[:1].upper() + ask.description[1:]
        where = f"Normally from {ask.where}." if ask.where else ""
        if what or where:
            sheet.wrapped(f"{what}. {where}" if what else where, indent=3, style="dim")


def _totals(sheet: Sheet, inspection: Inspection, gate: str) -> None:
    counts = inspection.counts()
    fails = counts["fail"]
    assert isinstance(fails, dict)
    pieces = [f"{number} {level}{'s' if number != 1 else ''}" for level, number in fails.items()]
    pieces += [f"{counts['review']} to review", f"{counts['open']} open", f"{counts['pass']} pass"]
    pieces += [f"{counts['notApplicable']} do not apply"]
    if counts["informational"]:
        pieces.append(f"{counts['informational']} for information")
    sheet.heading("TOTALS")
    sheet.wrapped(", ".join(pieces))
    if gate == "never":
        sheet.wrapped("No level of fail shuts the gate.")
    elif inspection.shuts(gate):
        sheet.wrapped(f"The gate is shut: at least one fail is at the level {gate} or above.", style="bold")
    else:
        sheet.wrapped(f"The gate is open: no fail is at the level {gate} or above.")
