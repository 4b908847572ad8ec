"""The short sheet of one spec: the answer in a minute, for somebody who stands beside a vehicle.

An error takes at most four lines, a warning two, a note one, a system one row; what is owed takes one row for each
place where it is found, so that one walk answers the row. All else is on the whole sheet, and the end says so.
"""

from __future__ import annotations

from collections.abc import Sequence

from swaplint.declare.verdicts import LEVELS
from swaplint.inspecting.baseline import Was
from swaplint.inspecting.results import Ask, Finding, Inspection, Remedy
from swaplint.inspecting.ways import ways_to
from swaplint.reports.finding_words import (
    COLUMNS,
    action_words,
    at_words,
    consequence_words,
    counts_by_system,
    decides_words,
    first_sentence,
    limit_from,
    owed_by_place,
    owed_fields,
    owed_laws,
    short_names,
)
from swaplint.reports.layout import Sheet, cut, cut_clause, wrapped_lines
from swaplint.reports.naming import (
    asked_for,
    counted,
    listed,
    part_words,
    place_words,
    signature_words,
)
from swaplint.reports.values import limit_words, margin_words, number_words
from swaplint.spec.shape import pattern_at
from swaplint.spec.systems import SYSTEMS
from swaplint.units.prose import told

TAGS = {
    "error": ("ERROR", "bold red"),
    "warning": ("WARNING", "bold yellow"),
    "note": ("NOTE", "bold cyan"),
    "review": ("REVIEW", "bold magenta"),
}
HANG = 9
"""The headline stands beside its tag."""
INDENT = 4
"""What goes with a headline stands below it, with more room."""
ERROR_LINES = 4
MOST_PLACES = 7
"""How many places to look at take a row each."""
NEXT = 5
"""How many facts to find out next are named."""


def add_short(sheet: Sheet, inspection: Inspection) -> None:
    """Add the short sheet of a spec, below its head."""
    _systems(sheet, inspection)
    standing = [f for f in inspection.findings if f.suppression is None]
    for level in LEVELS:
        _section(sheet, inspection, level, [f for f in standing if f.kind == "fail" and f.level == level])
    _section(sheet, inspection, "review", [f for f in standing if f.kind == "review"])
    _accepted(sheet, inspection)
    _owed(sheet, inspection)
    _next(sheet, inspection)
    _cautions(sheet, inspection)
    _more(sheet, inspection)


# -- one row a system --------------------------------------------------------------------------------------------
CELL = 9


def _systems(sheet: Sheet, inspection: Inspection) -> None:
    sheet.blank()
    first = max(map(len, SYSTEMS)) + 2
    wide = sheet.width >= first + CELL * len(COLUMNS)
    sizes = [CELL if wide else len(name) + 1 for name in COLUMNS]
    heads = [(name.rjust(size), "dim") for name, size in zip(COLUMNS, sizes, strict=True)]
    sheet.line((" " * first, ""), *heads)
    for system, counts in counts_by_system(inspection):
        cells = [
            (str(count or "·").rjust(size), TAGS[name][1] if count and name in TAGS else "" if count else "dim")
            for name, size, count in zip(COLUMNS, sizes, counts, strict=True)
        ]
        sheet.line((system.ljust(first), ""), *cells)


# -- what fails, and what a person must decide --------------------------------------------------------------------
def _section(sheet: Sheet, inspection: Inspection, level: str, findings: Sequence[Finding]) -> None:
    if not findings:
        return
    sheet.blank()
    together: dict[str, list[Finding]] = {}
    for finding in findings:
        together.setdefault(finding.rule.id, []).append(finding)
    for alike in together.values():
        for finding in _each_or_worst(alike, level):
            _one(sheet, inspection, finding, level)
        _others(sheet, alike, level)


MOST_ALIKE = 2
"""How many findings of one rule are shown by themselves, before the others take a line together."""


def _each_or_worst(alike: Sequence[Finding], level: str) -> Sequence[Finding]:
    return alike if len(alike) <= MOST_ALIKE else alike[:1]


def _others(sheet: Sheet, alike: Sequence[Finding], level: str) -> None:
    """The other parts and demands of a rule that fails many times, on one line."""
    if len(alike) <= MOST_ALIKE:
        return
    words = [f"{about(f)} ({margin_words(f.margin)})" if f.margin is not None else about(f) for f in alike[1:]]
    sheet.line((" " * INDENT, ""), (cut_list("likewise ", words, sheet.width - INDENT), ""))


def _one(sheet: Sheet, inspection: Inspection, finding: Finding, level: str) -> None:
    tag, style = TAGS[level]
    where, mend = _where(inspection, finding.subject), _mend(finding, whole=level == "error")
    head, room = headline(finding, sheet.width - HANG), sheet.width - INDENT
    below: list[str] = []
    if level == "error":
        below = _error_lines(inspection, finding, room, mend, where)
    elif level == "warning":
        consequence = finding.not_accepted or consequence_words(finding)
        if not mend and len(consequence) + 2 + len(where) > room:
            # What goes wrong is read to its end: the place stands above it, or gives way.
            fits = len(head) + 2 + len(where) <= sheet.width - HANG
            head, where = (f"{head}  {where}" if fits else head), ""
        below = [_two(consequence, mend or where, room)]
    elif level == "review":
        below = [_two(finding.not_accepted or decides_words(finding), where, room)]
    elif finding.not_accepted:
        below = [cut(finding.not_accepted, room)]
    elif where:
        head = f"{headline(finding, sheet.width - HANG - len(where) - 2)}  {where}"
    sheet.line((tag.ljust(HANG), style), (head, "bold"))
    for line in below:
        sheet.line((" " * INDENT, ""), (line, ""))


def headline(finding: Finding, room: int) -> str:
    """What is found against what is allowed, on one line."""
    name = ", ".join(words for words in (finding.rule.id, about(finding)) if words)
    says = _numbers(finding) or first_sentence(finding)
    if len(name) + len(says) + 2 > room and finding.found is None:
        return cut(f"{name}: {says}", room)
    return cut(f"{cut(name, max(20, room - len(says) - 2))}: {says}", room)


MOST_ACCEPTED = 6
"""How many departures that were accepted are shown by themselves."""


def _accepted(sheet: Sheet, inspection: Inspection) -> None:
    """What somebody signed for: it does not count, and is not hidden."""
    accepted = inspection.accepted
    if not accepted:
        return
    sheet.blank()
    sheet.wrapped(f"ACCEPTED, signed for: {counted(len(accepted), 'departure')}", style="bold")
    for finding in accepted[:MOST_ACCEPTED]:
        assert finding.suppression is not None
        weight = finding.level or finding.kind
        sheet.line(("  ", ""), (f"{headline(finding, sheet.width - 4 - len(weight))}, {weight}", ""))
        words = cut(signature_words(finding.suppression, inspection.spec), sheet.width - INDENT)
        sheet.line((" " * INDENT, ""), (words, ""))
    if len(accepted) > MOST_ACCEPTED:
        sheet.line(("  ", ""), (f"and {len(accepted) - MOST_ACCEPTED} more: --whole shows them", ""))


def _error_lines(inspection: Inspection, finding: Finding, room: int, mend: str, where: str) -> list[str]:
    """What goes wrong, what mends it, the place and whose limit it is: three lines at most."""
    last = "; ".join(words for words in (finding.not_accepted[:-1], where, limit_from(inspection, finding)) if words)
    left = ERROR_LINES - 1
    action = "" if mend else cut_clause(action_words(finding), room)
    pieces = [piece for piece in (consequence_words(finding), mend or action, last) if piece]
    lines: list[str] = []
    for number, piece in enumerate(pieces, 1):
        most = left - len(lines) - (len(pieces) - number)
        wrapped = wrapped_lines(piece, room)
        lines += wrapped if len(wrapped) <= most else [*wrapped[: most - 1], cut(" ".join(wrapped[most - 1 :]), room)]
    return lines


def _two(first: str, second: str, room: int) -> str:
    """Two pieces on one line; the first gives way."""
    if not second:
        return cut(first, room)
    second = cut(second, max(20, room - 24))
    return f"{cut_clause(first, room - len(second) - 2)}  {second}"


def about(finding: Finding | Was) -> str:
    """The part, by the last names of its path, and the demand: the rule's id before it says the system."""
    short = " ".join(_short(word) for word in finding.part.split(" "))
    return ", ".join(words for words in (part_words(short), finding.demand) if words)


def _short(path: str) -> str:
    """The last two names of a path; a star stands for parts of what is named before it."""
    names = path.split(".")
    return ".".join(names[-3 if "*" in names[-2:] else -2 :])


def _numbers(finding: Finding) -> str:
    if finding.found is None:
        return ""
    words = number_words(finding.found, finding.quantity, finding.unit)
    if finding.limit is not None:
        words += f", allowed {limit_words(finding)}"
    return words + (f" ({margin_words(finding.margin)})" if finding.margin is not None else "")


def _mend(finding: Finding, *, whole: bool) -> str:
    """The first thing that mends it; `whole` names its field by the whole path."""
    if not finding.remedies:
        return ""
    remedy = finding.remedies[0]
    field = remedy.field if whole else _short(remedy.field)
    now = "" if remedy.before is None else f"{_amount(remedy.before, remedy)} → "
    words = f"Mend: {field} {now}{_amount(remedy.after, remedy)}"
    if remedy.drops:
        words += f" (with other {', '.join(path.rsplit('.', 1)[-1] for path in remedy.drops[:2])})"
    if remedy.fits:
        words += " (fit it)"
    elif remedy.other_part:
        words += " (another part)"
    return words + (f" (breaks {', '.join(remedy.breaks)})" if remedy.breaks else "")


def _amount(value: float | str, remedy: Remedy) -> str:
    return number_words(value, remedy.quantity, remedy.unit) if isinstance(value, float) else value


def _where(inspection: Inspection, path: str) -> str:
    """Where the builder can act on a field."""
    if not path:
        return ""
    spec = inspection.spec
    place = spec.act_place(path)
    words = place_words(spec, place.file, place.line)
    if spec.has(path):
        return words
    return "" if (place.line, place.column) == (1, 1) else f"see {words}"


# -- what is owed, and what to find out next ----------------------------------------------------------------------
def _owed(sheet: Sheet, inspection: Inspection) -> None:
    """What is still owed at this stage: one row for each place where it is found."""
    owed, laws = owed_fields(inspection), owed_laws(inspection)
    if not owed and not laws:
        return
    answers = sum(f.due for f in inspection.findings)
    sheet.blank()
    fields = counted(len(owed) + len(laws), "fact")
    sheet.wrapped(f"STILL OWED at this stage: {counted(answers, 'answer')}, for want of {fields}", style="bold blue")
    ordered = owed_by_place(inspection)
    if laws:
        sheet.line(("  ", ""), (cut(f"The law itself, {len(laws)}: {'; '.join(laws)}", sheet.width - 2), ""))
    for where, paths in ordered[:MOST_PLACES]:
        row = f"{at_words(where)}, {len(paths)}: {'; '.join(short_names(paths))}"
        sheet.line(("  ", ""), (cut(row, sheet.width - 2), ""))
    rest = ordered[MOST_PLACES:]
    if rest:
        facts = counted(sum(len(paths) for _, paths in rest), "fact")
        sheet.line(("  ", ""), (f"and {counted(len(rest), 'place')} more, with {facts}", ""))


def cut_list(start: str, words: Sequence[str], room: int) -> str:
    """As many of some words as a line takes, and how many it leaves out.

    >>> cut_list("at: ", ["one", "two", "three"], 18)
    'at: one and 2 more'
    >>> cut_list("at: ", ["one", "two", "three"], 30)
    'at: one, two, three'
    """
    shown = start + ", ".join(words)
    if len(shown) <= room:
        return shown
    for kept in range(len(words) - 1, 0, -1):
        shown = f"{start}{', '.join(words[:kept])} and {len(words) - kept} more"
        if len(shown) <= room:
            return shown
    return cut(f"{start}{words[0]}", room - 12) + (f" and {len(words) - 1} more" if len(words) > 1 else "")


def _next(sheet: Sheet, inspection: Inspection) -> None:
    asks = inspection.ask_next[:NEXT]
    if not asks:
        return
    sheet.blank()
    left = len(inspection.ask_next) - len(asks)
    more = f", then {left} more" if left else ""
    sheet.wrapped(f"WORTH FINDING OUT NEXT{more}", style="bold")
    for ask in asks:
        sheet.line(("  ", ""), (_ask(inspection, ask, sheet.width - 2), ""))
    choice = _choice(inspection, asks[0])
    if choice:
        spec = inspection.spec.label
        call = f"Which values work: swaplint size {f'{spec!r}' if ' ' in spec else spec} {choice}"
        sheet.wrapped(call, indent=2)


def _choice(inspection: Inspection, ask: Ask) -> str:
    """The field to find out first, where it is chosen rather than found out: rules name it as what makes them pass."""
    pattern, member = pattern_at(type(inspection.spec.build), ask.field)
    chosen = any(pattern in finding.rule.adjust for finding in inspection.findings)
    return ask.field if chosen and member is not None and member.role == "plain" else ""


def _ask(inspection: Inspection, ask: Ask, room: int) -> str:
    _, where = asked_for(inspection, ask)
    _, member = pattern_at(type(inspection.spec.build), ask.field)
    one_of_many = member is not None and member.role == "plain-list"  # what one entry is like says nothing of the list
    typical = "" if one_of_many else ask.typical.strip('"')
    waits = counted(len(ask.rules), "rule waits", "rules wait")
    found = f"{_by_measuring(inspection, ask)}from {where}" if where else ""
    pieces = [f"{ask.field} ({waits})", f"often {typical}" if typical else "", found]
    return cut("; ".join(piece for piece in pieces if piece), room)


def _by_measuring(inspection: Inspection, ask: Ask) -> str:
    """What to measure for an estimate, where there is one: for the way that takes least."""
    ways = ways_to(inspection.spec, ask.field)
    least = min((way.measure for way in ways), key=len, default=())
    names = listed([path.removeprefix(f"{ask.field.rpartition('.')[0]}.") for path in least])
    return f"by {names}, or " if names else ""


# -- what comes last ------------------------------------------------------------------------------------------------
def _cautions(sheet: Sheet, inspection: Inspection) -> None:
    """The cautions of all that fails or that a person must decide on, each once."""
    shown = [f for f in inspection.findings if f.kind in ("fail", "review")]
    cautions = dict.fromkeys(told(caution, finding.rule.id) for finding in shown for caution in finding.cautions)
    sheet.blank()
    for caution in cautions:
        sheet.wrapped(caution, label="MIND", hang=6, style="yellow", label_style="bold yellow")


def _more(sheet: Sheet, inspection: Inspection) -> None:
    sheet.blank()
    name = next((f.rule.id for f in inspection.findings), "ID")
    sheet.wrapped(f"More: --whole shows everything, --system NAME or --rule {name} one thing whole.", style="dim")
