"""How a spec's results stand to an earlier inspection, for people: a short section, or all of it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from swaplint.inspecting.baseline import Baseline, Compared, FieldChange, Was
from swaplint.inspecting.results import Finding, Inspection
from swaplint.reports.layout import Sheet, cut
from swaplint.reports.naming import counted
from swaplint.reports.short_text import HANG, INDENT, about, cut_list, headline
from swaplint.reports.values import margin_words, number_words
from swaplint.spec.paths import path_key

MOST = 3
"""How many results of a state, and fields, the short sheet shows."""
STYLES = {"new": "bold red", "worse": "bold red", "solved": "green", "better": "green"}
BECAUSE = {
    "build": "because the build states something else",
    "rule": "because the rule is another, not the build",
    "both": "the build and the rule are others",
    "stage": "because of the stage",
    "day": "because of the day that it is judged on",
    "unknown": "the reason cannot be told from the report",
}


def counts_words(baseline: Baseline) -> str:
    """How many results there are of each state, in a sentence without its stop."""
    if not baseline.spec:
        return f"{baseline.file} holds no such spec: all of it counts as new"
    counts = baseline.counts()
    moved = sum(one.found_before is not None for one in baseline.compared.values())
    if not moved and not any(counts[state] for state in STYLES):
        return f"as in {_file(baseline)}"
    words = ", ".join(f"{counts[state]} {state}" for state in STYLES)
    return f"{words}, {counted(moved, 'number')} moved, against {_file(baseline)}"


def _file(baseline: Baseline) -> str:
    named = baseline.file
    return named if baseline.spec == named or not baseline.is_report else f"{named} ({baseline.spec})"


def add_compared(sheet: Sheet, inspection: Inspection, baseline: Baseline, *, whole: bool = False) -> None:
    """Add how the results stand to the earlier ones; `whole` leaves nothing out."""
    most = 100_000 if whole else MOST
    sheet.blank()
    add_counts(sheet, inspection, baseline)
    by_state: dict[str, list[tuple[Finding, Compared]]] = {}
    for finding in inspection.findings:
        one = baseline.compared[finding.key]
        by_state.setdefault(one.state, []).append((finding, one))
    if baseline.spec:
        _rows(sheet, "new", by_state.get("new", []), most, whole=whole)
    _rows(sheet, "worse", by_state.get("worse", []), most, whole=whole)
    _solved(sheet, baseline.solved, whole=whole)
    if whole:
        _rows(sheet, "better", by_state.get("better", []), most, whole=True)
        _moved(sheet, [pair for pairs in by_state.values() for pair in pairs])
    _fields(sheet, baseline, most)
    _not_judged(sheet, baseline.not_judged, most)


def add_counts(sheet: Sheet, inspection: Inspection, baseline: Baseline) -> None:
    """Add how many results there are of each state, and what to know of the comparison."""
    sheet.wrapped(f"COMPARED: {counts_words(baseline)}.", style="bold")
    if baseline.spec:
        for says in _remarks(inspection, baseline):
            sheet.wrapped(says, indent=INDENT, style="dim")


def since_words(baseline: Baseline, finding: Finding) -> str:
    """What a result is against the earlier one, in a few words; empty where nothing is new."""
    one = baseline.compared[finding.key]
    if one.state not in STYLES and one.found_before is None:
        return ""
    state = "another number" if one.state not in STYLES else one.state
    return f"{state} {_before(finding, one)}".strip()


def _remarks(inspection: Inspection, baseline: Baseline) -> Iterable[str]:
    if baseline.is_report and not baseline.accepts:
        yield "The report is of another spec: nothing in it is accepted, and the gate takes no notice of it."
    elif not baseline.is_report:
        yield f"Both are judged as at the {inspection.stage} stage; the gate takes no notice of the comparison."
    if baseline.stage != inspection.stage:
        yield f"Then it was judged as at the {baseline.stage} stage."
    if baseline.renamed:
        pairs = [f"{old} is {new} now" for old, new in baseline.renamed]
        yield f"Parts with another name or number, and else the same: {cut_list('', pairs, 300)}."


def _rows(sheet: Sheet, state: str, pairs: Sequence[tuple[Finding, Compared]], most: int, *, whole: bool) -> None:
    tag, style = state.upper().ljust(HANG), STYLES[state]
    for finding, one in pairs[:most]:
        before = _before(finding, one)
        if whole:
            text = f"{headline(finding, 1000)}  {before}".rstrip()
            sheet.wrapped(text, label=tag, hang=HANG, label_style=style)
            _why(sheet, one)
            continue
        if state == "new" and one.found_before is None and one.was is not None and one.was.kind == "pass":
            before = ""  # what is new passed before: that is the rule
        room = sheet.width - HANG
        head = headline(finding, max(40, room - len(before) - 2) if before else room)
        sheet.line((tag, style), (cut(f"{head}  {before}".rstrip(), room), ""))
        if one.because in ("rule", "both"):
            sheet.line((" " * HANG, ""), (cut(_rule_since(one), room), "dim"))
    if len(pairs) > most:
        sheet.line((" " * HANG, ""), (f"and {len(pairs) - most} more {state}", ""))


def _rule_since(one: Compared) -> str:
    """What the rule judges otherwise now, by its latest note."""
    too = ", too" if one.because == "both" else ""
    if not one.notes:
        return f"The rule changed{too}; its rulebook page does not say how."
    version, what = one.notes[-1]
    more = f" (and {counted(len(one.notes) - 1, 'change')} before)" if len(one.notes) > 1 else ""
    return f"The rule changed{too}, in {version}{more}: {what}"


def _why(sheet: Sheet, one: Compared) -> None:
    """What made it another."""
    says = BECAUSE.get(one.because or "", "")
    if one.fields and one.because in ("build", "both"):
        fields = cut_list("", one.fields, 200)
        says = f"because of {fields}" + ("; the rule changed, too" if one.because == "both" else "")
    if says:
        sheet.wrapped(f"{says[:1].upper()}{says[1:]}.", indent=HANG, style="dim")
    for version, what in one.notes:
        sheet.wrapped(f"The rule since {version}: {what}", indent=HANG, style="dim")


def _before(finding: Finding, one: Compared) -> str:
    """What it was then, in a few words."""
    if one.was is None:
        return ""
    words = _kind_words(one.was)
    if one.found_before is not None:
        words += f" with {number_words(one.found_before, finding.quantity, finding.unit, finding.rule.id)}"
    cause = {
        "rule": "; the rule changed",
        "both": "; the rule changed, too",
        "stage": "; the stage",
        "day": "; the day",
    }
    return f"[{words}{cause.get(one.because or '', '')}]"


def _kind_words(was: Was) -> str:
    level = was.rule_level if was.due else was.level
    kinds = {
        "fail": f"then {level}",
        "open": "then owed" if was.due else "then not known",
        "review": "then to review",
        "pass": "then passed",
        "notApplicable": "did not apply then",
        "informational": "then for information",
    }
    return "then signed for" if was.accepted else kinds[was.kind]


def _name(was: Was) -> str:
    return ", ".join(words for words in (was.rule, about(was)) if words)


def _solved(sheet: Sheet, solved: Sequence[Was], *, whole: bool) -> None:
    if not solved:
        return
    if whole:
        for was in solved:
            sheet.line(("SOLVED".ljust(HANG), STYLES["solved"]), (cut(_name(was), sheet.width - HANG), ""))
            sheet.wrapped(f"{_kind_words(was)[:1].upper()}{_kind_words(was)[1:]}: {was.message}", indent=HANG)
        return
    names = [_name(was) for was in solved]
    sheet.line(("SOLVED".ljust(HANG), STYLES["solved"]), (cut_list("", names, sheet.width - HANG), ""))


def _moved(sheet: Sheet, pairs: Sequence[tuple[Finding, Compared]]) -> None:
    """The numbers that moved without another state."""
    moved = [(f, one) for f, one in pairs if one.found_before is not None and one.state == "unchanged"]
    if not moved:
        return
    sheet.blank()
    sheet.wrapped(f"NUMBERS THAT MOVED, {len(moved)}", style="bold")
    for finding, one in moved:
        assert finding.found is not None
        assert one.found_before is not None
        words = [
            number_words(number, finding.quantity, finding.unit, finding.rule.id)
            for number in (one.found_before, finding.found)
        ]
        margins = [margin_words(margin) for margin in (one.was.margin if one.was else None, finding.margin)]
        margin = f", margin {margins[0]} → {margins[1]}" if all(margins) else ""
        name = ", ".join(piece for piece in (finding.rule.id, about(finding)) if piece)
        sheet.wrapped(f"{name}: {words[0]} → {words[1]}{margin}", hang=INDENT, label="")


def _fields(sheet: Sheet, baseline: Baseline, most: int) -> None:
    """What the build states otherwise, by part; what matters first. What was measured since is no other build."""
    fields = [one for one in baseline.fields if most != MOST or not one.field.startswith("measured.")]
    if not baseline.fields:
        return
    sheet.blank()
    readings = len(baseline.fields) - len(fields)
    if not fields:
        sheet.wrapped(f"MEASURED SINCE: {counted(readings, 'value')}; --whole lists all", style="bold")
        return
    told = "" if not baseline.is_report else ", as far as the report tells"
    matters = _matters(sum(bool(one.rules) for one in fields), len(fields))
    sheet.wrapped(f"STATED OTHERWISE{told}: {counted(len(fields), 'field')}, {matters}", style="bold")
    ordered = sorted(fields, key=lambda one: -len(one.rules))[:most] if most == MOST else fields
    part = None
    for one in ordered:
        keys = path_key(one.field)
        above = ".".join(map(str, keys[:-1]))
        if most != MOST and above != part:
            part = above
            sheet.line(("  " + (one.field.rpartition(".")[0] or "the build"), "bold"))
        _field(sheet, one, short=most == MOST)
    more = [f"{len(fields) - len(ordered)} more"] if len(fields) > len(ordered) else []
    more += [f"{counted(readings, 'value')} measured since"] if readings else []
    if more:
        sheet.line(("  ", ""), (f"and {' and '.join(more)}: --whole lists all", ""))


def _matters(number: int, fields: int) -> str:
    if number == fields:
        return "which changes a result" if number == 1 else "each of which changes a result"
    of_them = f"{number} of which {'change' if number > 1 else 'changes'} a result"
    return of_them if number else "which changes no result" if fields == 1 else "none of which changes a result"


def _field(sheet: Sheet, one: FieldChange, *, short: bool) -> None:
    name = one.field if short else one.field.rpartition(".")[2]
    change = f"{name}: {one.before or 'not stated'} → {one.now or 'not stated'}"
    if short:
        matters = f"; {cut_list('', one.rules, 60)}" if one.rules else "; changes no result"
        sheet.line(("  ", ""), (cut(change + matters, sheet.width - 2), ""))
        return
    matters = f"  changes {', '.join(one.rules)}" if one.rules else "  changes no result"
    sheet.wrapped(change + matters, indent=INDENT)


def _not_judged(sheet: Sheet, left: Sequence[Was], most: int) -> None:
    if not left:
        return
    names = [_name(was) for was in left]
    says = (
        f"Not solved, but not judged today, for their rule is no more or did not run: {cut_list('', names, 60 * most)}."
    )
    sheet.wrapped(says)
