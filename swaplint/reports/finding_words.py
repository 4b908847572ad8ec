"""What reports say of a finding, in words: under which heading it stands, its numbers, its place, what it rests on."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from swaplint.inspecting.findings import few_of
from swaplint.inspecting.results import Finding, Inspection, Remedy, sheet_citation
from swaplint.reports.naming import asked_for, counted, lines_words, listed, part_words, place_words, title_words
from swaplint.reports.values import limit_words, margin_words, number_words, stated_words
from swaplint.spec.loaded import LoadedSpec
from swaplint.spec.paths import path_key
from swaplint.spec.shape import pattern_at
from swaplint.spec.systems import SYSTEMS
from swaplint.units.prose import told

HEADINGS = {
    "error": "MUST BE PUT RIGHT",
    "warning": "LIKELY TROUBLE",
    "note": "WORTH KNOWING",
    "review": "A PERSON MUST DECIDE",
    "accepted": "ACCEPTED, SIGNED FOR",
    "due": "STILL OWED AT THIS STAGE",
    "open": "NOT ENOUGH KNOWN TO DECIDE",
    "pass": "PASSES",
    "notApplicable": "DOES NOT APPLY",
    "informational": "FOR INFORMATION",
}
"""The headings of a report, in its order, by what a finding weighs."""


def weight_of(finding: Finding) -> str:
    """Under which heading a finding stands."""
    if finding.suppression is not None:
        return "accepted"
    return finding.level or ("due" if finding.due else finding.kind)


def by_system(findings: list[Finding]) -> list[Finding]:
    """In the order of the systems; first of all what nobody supplies yet, which a newcomer must see."""
    return sorted(findings, key=lambda f: (f.rule.system != "supply", f.sort_key[2], f.sort_key))


def by_rule(findings: Iterable[Finding]) -> list[list[Finding]]:
    """The findings of each rule together: what fails in the order of the worst part, all else by the rules' ids."""
    together: dict[str, list[Finding]] = {}
    for finding in findings:
        together.setdefault(finding.rule.id, []).append(finding)
    groups = list(together.values())
    return groups if groups[0][0].kind in ("fail", "review") else sorted(groups, key=lambda alike: alike[0].rule.id)


def in_all(lists: Sequence[Sequence[str]]) -> dict[str, None]:
    """What stands in every list, in the order of the first."""
    sets = [set(one) for one in lists[1:]]
    return {path: None for path in lists[0] if all(path in one for one in sets)}


def question_words(finding: Finding) -> str:
    """What the rule asks, of which part."""
    about = about_words(finding)
    return f"{about}: {finding.rule.question}" if about else finding.rule.question


def about_words(finding: Finding) -> str:
    """The part and the demand that a finding is about, as far as there are several."""
    return ", ".join(words for words in (part_words(finding.part), finding.demand) if words)


def numbers_words(finding: Finding) -> str:
    """What is found against what is allowed; empty where there is no number."""
    if finding.found is None:
        return ""
    words = f"found {number_words(finding.found, finding.quantity, finding.unit)}"
    if finding.limit is not None:
        words += f", allowed {limit_words(finding)}"
    if finding.margin is not None:
        words += f", margin {margin_words(finding.margin)}"
    return words


def lacks_words(finding: Finding) -> str:
    """What one of several parts lacks, its own fields named as they are called in it."""
    inside = f"{finding.part.split(' ')[0]}."
    own = [path.removeprefix(inside) for path in finding.unknown if path.startswith(inside)]
    others = [path for path in finding.unknown if not path.startswith(inside)]
    pieces = [f"its {listed(own)}"] if own else []
    return f"lacks {'; and '.join([*pieces, *([listed(others)] if others else [])])}"


# -- places and what it rests on ---------------------------------------------------------------------------------
def where_words(inspection: Inspection, path: str) -> str:
    """Where the builder can act on a field; of one that nobody states, in which table it belongs."""
    spec = inspection.spec
    place = spec.act_place(path)
    line = place.line
    words = place_words(spec, place.file, line)
    if spec.has(path):
        return words
    if (line, place.column) == (1, 1):
        return "not stated"
    return f"not stated, see {place_words(spec, place.file, _commented(spec, path, line) or line)}"


def _commented(spec: LoadedSpec, path: str, header: int) -> int | None:
    """The line below a table's header where a field stands in a comment, as in a draft; None where there is none."""
    keys = [str(key) for key in path_key(path)]
    own = [re.escape(".".join(keys[start:])) for start in range(1, len(keys))]
    field = re.compile(rf"#+ ?(?:{'|'.join(own)}) *=") if own else None
    for number, text in enumerate(spec.file.text.split("\n")[header:], header + 1):
        if text.startswith("["):
            return None
        if field is not None and field.match(text):
            return number
    return None


def input_rows(inspection: Inspection, paths: Iterable[str], part: str) -> list[tuple[str, str]]:
    """What a finding rests on, with its places: first what is stated of the part itself; many alike in one row."""
    model = type(inspection.spec.build)
    of_part = f"{part.split(' ')[0]}."
    groups: dict[str, list[str]] = {}
    for path in sorted(paths, key=lambda path: not path.startswith(of_part)):
        name = pattern_at(model, path)[0].split("[", 1)[0]
        if path.startswith(of_part):
            name = path.split("[", 1)[0]
        groups.setdefault(name, []).append(path)
    return [row for name, alike in groups.items() for row in _rows(inspection, name, alike)]


def _rows(inspection: Inspection, name: str, paths: Sequence[str]) -> list[tuple[str, str]]:
    places = [inspection.spec.place(path) for path in paths]
    if len(paths) <= 2:
        return [
            (f"{path} = {stated_words(inspection, path)}", place_words(inspection.spec, place.file, place.line))
            for path, place in zip(paths, places, strict=True)
        ]
    lines = sorted(place.line for place in places)
    one_file = len({place.file for place in places}) == 1
    where = place_words(inspection.spec, places[0].file, lines[0], lines[-1]) if one_file else "several files"
    return [(f"{name} ({len(paths)} values)", where)]


def lines_read(inspection: Inspection, paths: Iterable[str]) -> str:
    """The lines, of the spec and of data sheets, that some fields stand on."""
    by_file: dict[str, set[int]] = {inspection.spec.label: set()}
    for path in paths:
        place = inspection.spec.place(path)
        by_file.setdefault(place.file, set()).add(place.line)
    return "; ".join(lines_words(inspection.spec, file, lines) for file, lines in by_file.items() if lines)


def remedy_words(remedy: Remedy) -> str:
    """A change that makes the rule pass, as a sentence."""
    before = "" if remedy.before is None else f" from {_amount(remedy.before, remedy)}"
    words = f"{remedy.field}{before} to {_amount(remedy.after, remedy)} passes"
    if remedy.other_part and not remedy.fits:
        words += ": another part, which is made for that"
    if remedy.mends:
        words += f"; it also mends {', '.join(remedy.mends)}"
    if remedy.drops:
        words += f"; state {', '.join(remedy.drops)} anew, or take them out"
    if remedy.fits:
        words += f", with {', '.join(f'{path} = {written}' for path, written in remedy.fits)}"
    if remedy.breaks:
        words += f"; but it breaks {', '.join(remedy.breaks)}"
    return words + "."


def _amount(value: float | str, remedy: Remedy) -> str:
    return number_words(value, remedy.quantity, remedy.unit) if isinstance(value, float) else value


# -- of a system, at a glance --------------------------------------------------------------------------------------
COLUMNS = ("error", "warning", "note", "owed", "review", "open", "pass")
"""What the results of a system are counted by."""


def column_of(finding: Finding) -> str:
    """What a result counts as, of those that nobody signed for."""
    return finding.level or ("owed" if finding.due else finding.kind)


def counts_by_system(inspection: Inspection) -> list[tuple[str, list[int]]]:
    """How many results of each system there are in each column; without the systems of which there is none."""
    rows = []
    for system in SYSTEMS:
        findings = [f for f in inspection.findings if f.rule.system == system and f.suppression is None]
        counts = [sum(column_of(f) == name for f in findings) for name in COLUMNS]
        if any(counts):
            rows.append((system, counts))
    return rows


def totals_words(inspection: Inspection) -> str:
    """How many results there are of each kind."""
    counts = inspection.counts()
    fails, owed = counts["fail"], counts["due"]
    assert isinstance(fails, dict)
    assert isinstance(owed, dict)
    pieces = [counted(number, name) for name, number in fails.items()]
    pieces += [f"{sum(owed.values())} still owed"]
    pieces += [f"{counts['review']} to review", f"{counts['open']} open", f"{counts['pass']} pass"]
    not_applicable = counts["notApplicable"]
    assert isinstance(not_applicable, int)
    pieces.append(counted(not_applicable, "does not apply", "do not apply"))
    if counts["suppressed"]:
        pieces.append(f"{counts['suppressed']} accepted")
    if counts["informational"]:
        pieces.append(f"{counts['informational']} for information")
    return ", ".join(pieces)


# -- what goes wrong, what decides, whose limit it is --------------------------------------------------------------
def consequence_words(finding: Finding) -> str:
    """What goes wrong on the vehicle if a fail stays; of two numbers that disagree what explains it."""
    if finding.carried:
        explained = finding.message.partition(". ")[2].partition(". ")[0]
        if explained:
            return f"{explained.rstrip('.')}."
    text = told(finding.rule.consequence, finding.rule.id)
    return text[:1].upper() + text[1:]


def action_words(finding: Finding) -> str:
    """What the rule says of mending a fail, where no choice of a value was found that mends it."""
    if finding.kind != "fail" or finding.remedies or finding.not_accepted:
        return ""
    return f"To do: {told(finding.rule.remedy, finding.rule.id)}"


def decides_words(finding: Finding) -> str:
    """What a person must look at to decide, and why."""
    if finding.deciding:
        verb = "decides" if len(finding.deciding) == 1 else "decide"
        return f"{few_of(finding.deciding)} {verb}: measure."
    if finding.from_memory:
        return finding.why
    if finding.practices:
        return f"Rests on a fallback: {told('; '.join(finding.practices), finding.rule.id)}."
    return first_sentence(finding) if finding.found is not None else "A person must look."


def first_sentence(finding: Finding) -> str:
    """The first sentence of what is said."""
    head, stop, _ = finding.message.partition(". ")
    return head + stop.strip()


def limit_from(inspection: Inspection, finding: Finding) -> str:
    """Whose limit it is, and how it is known where nobody read it in the document."""
    limits = [s for s in finding.sources if s.gives == "limit" and not (s.field and not inspection.spec.has(s.field))]
    if finding.practices and not any(source.field for source in limits):
        return f"limit by a fallback, {told(finding.practices[0], finding.rule.id)}"
    if not limits:
        return ""
    source = limits[0]
    title, _ = sheet_citation(inspection, source)
    if title == source.title and source.field:
        return f"limit: {source.field}"  # the spec states it itself
    known = f", {source.known}" if source.known not in (source.kind, "published") else ""
    return f"limit from {title_words(source, finding.rule.id) if title == source.title else title}{known}"


# -- what is owed ---------------------------------------------------------------------------------------------------
def owed_fields(inspection: Inspection) -> list[str]:
    """The facts that are still owed at this stage."""
    return list(dict.fromkeys(path for f in inspection.findings if f.due for path in f.unknown))


def owed_laws(inspection: Inspection) -> list[str]:
    """The rules for which somebody must look the law up."""
    return list(dict.fromkeys(f.rule.id for f in inspection.findings if f.due and f.from_memory))


def owed_by_place(inspection: Inspection) -> list[tuple[str, list[str]]]:
    """The facts that are owed by where they are found, so that one walk answers the row; the longest walk first."""
    places: dict[str, list[str]] = {}
    asks = {ask.field: ask for ask in inspection.ask_next}
    for path in owed_fields(inspection):
        where = asked_for(inspection, asks[path])[1] if path in asks else ""
        places.setdefault(where or "wherever it can be found", []).append(path)
    return sorted(places.items(), key=lambda place: -len(place[1]))


def at_words(where: str) -> str:
    """A place to look at, as a row begins."""
    return where[:1].upper() + where[1:]


def short_names(paths: Iterable[str]) -> list[str]:
    """Field paths, those of one part together: 'engine.speed rated, idle'."""
    together: dict[str, list[str]] = {}
    for path in paths:
        part, _, name = path.rpartition(".")
        together.setdefault(part, []).append(name)
    return [f"{part} {', '.join(names)}".strip() for part, names in together.items()]
