"""One spec's part of the page: verdict, systems, what fails, what is owed, what to find out, cautions, all results."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from swaplint.declare.verdicts import LEVELS
from swaplint.gating.gate import Gate
from swaplint.host.packs import LoadedPack
from swaplint.inspecting.results import Ask, Inspection
from swaplint.inspecting.worksheet import Worksheet
from swaplint.reports.finding_words import (
    COLUMNS,
    at_words,
    counts_by_system,
    owed_by_place,
    owed_fields,
    owed_laws,
    short_names,
    totals_words,
)
from swaplint.reports.head import broken_words, changed_levels, deviation_lines, judged_lines, name_of, verdict_words
from swaplint.reports.html.drawings import drawn_below, margins
from swaplint.reports.html.elements import EMPTY, Html, Long, Piece, around, el, in_pieces, joined, laid_out, table
from swaplint.reports.html.evidence import Evidence
from swaplint.reports.html.figures import Figure
from swaplint.reports.html.findings import every_result, in_full
from swaplint.reports.html.naming import link, place
from swaplint.reports.html.numbers import numbers
from swaplint.reports.layout import WITHOUT_END, Sheet
from swaplint.reports.naming import asked_for, counted, estimates_words
from swaplint.reports.values import stated_words
from swaplint.units.prose import told


@dataclass(frozen=True, slots=True)
class SpecSheet:
    """One spec's part of a page, with what a table of several says of it."""

    label: str
    name: str
    stage: str
    gate: str
    counts: tuple[int, ...]
    """Errors, warnings, notes, owed, to review."""
    body: Long


def spec_sheet(
    inspection: Inspection,
    worksheet: Worksheet,
    drawings: Sequence[Figure],
    packs: Sequence[LoadedPack],
    gate: Gate,
) -> SpecSheet:
    """The part of a page that is about one spec."""
    counts = inspection.counts()
    fails, due, review = counts["fail"], counts["due"], counts["review"]
    assert isinstance(fails, dict)
    assert isinstance(due, dict)
    assert isinstance(review, int)
    return SpecSheet(
        inspection.spec.label,
        name_of(inspection),
        inspection.stage + ("?" if inspection.assumed_stage else ""),
        _stamp(gate),
        (*(fails[level] for level in LEVELS), sum(due.values()), review),
        in_pieces(_head(inspection, packs, gate), _sections(inspection, worksheet, drawings)),
    )


def _sections(inspection: Inspection, worksheet: Worksheet, drawings: Sequence[Figure]) -> Long:
    evidence = Evidence(inspection, worksheet)
    sections: list[tuple[str, str, Html | Long]] = [
        ("compared", "Compared", _compared(inspection)),
        ("systems", "Systems at a glance", el("div", _systems(inspection), margins(drawings), cls="glance")),
        *in_full(evidence),
        ("owed", f"Still owed at this stage ({sum(f.due for f in inspection.findings)})", _owed(inspection)),
        ("next", "Worth finding out next", _next(inspection)),
        ("mind", "Mind", _cautions(inspection)),
        ("drawings", "Drawings", drawn_below(drawings)),
        ("results", "Every result", every_result(evidence)),
        ("numbers", "Every number", numbers(worksheet)),
    ]
    shown = [(name, heading, content) for name, heading, content in sections if content]
    return in_pieces(
        el(
            "nav",
            el("ul", [el("li", link("section", name, heading)) for name, heading, _ in shown]),
            aria_label="On this sheet",
        ),
        *(
            around("section", el("h3", heading, id=place("section", name)), content, cls="section")
            for name, heading, content in shown
        ),
    )


# -- the head --------------------------------------------------------------------------------------------------------
def _stamp(gate: Gate) -> str:
    if not gate.open:
        return "Gate shut"
    return "Gate open" if gate.level != "never" else "No gate"


def _head(inspection: Inspection, packs: Sequence[LoadedPack], gate: Gate) -> Html:
    # where no level shuts it, nothing is said by a colour either
    state = "shut" if not gate.open else "ungated" if gate.level == "never" else "review" if gate.reviews else "open"
    return el(
        "header",
        el("h2", name_of(inspection)),
        [el("p", words) for words in judged_lines(inspection, packs)],
        el("div", el("p", _stamp(gate), cls="stamp"), el("p", verdict_words(gate, inspection)), cls=f"verdict {state}"),
        el("p", totals_words(inspection), cls="totals"),
        _list(deviation_lines(inspection)),
        [el("p", words) for words in changed_levels(inspection)],
        el("p", broken_words(inspection), cls="broken") if inspection.broken else None,
        cls="job",
    )


def _compared(inspection: Inspection) -> Html:
    """How the results stand to earlier ones: how many of each kind, and folded all of them."""
    baseline = inspection.baseline
    if baseline is None:
        return EMPTY
    # Imported here: most calls compare nothing.
    from swaplint.reports.baseline_text import add_compared, add_counts

    short, whole = Sheet(WITHOUT_END, []), Sheet(WITHOUT_END, [])
    add_counts(short, inspection, baseline)
    add_compared(whole, inspection, baseline, whole=True)
    rest = whole.lines[len(short.lines) :]
    fold = el("details", el("summary", "What changed"), el("div", laid_out(rest), cls="inside"), cls="line plain")
    return joined(laid_out(short.lines), fold if rest else None)


def _list(words: Iterable[Piece]) -> Html:
    items = [el("li", one) for one in words]
    return el("ul", items) if items else EMPTY


# -- systems ---------------------------------------------------------------------------------------------------------
def _systems(inspection: Inspection) -> Html:
    rows: list[list[Piece]] = [
        [link("system", system, system), *(_count(name, count) for name, count in zip(COLUMNS, counts, strict=True))]
        for system, counts in counts_by_system(inspection)
    ]
    if not rows:
        return EMPTY
    return table("How many results each system has", ["system", *COLUMNS], rows, cls="systems", unseen=True)


def _count(name: str, count: int) -> Piece:
    return el("b", str(count), cls=name) if count else el("span", "0", cls="none")


# -- what is owed, and what to find out --------------------------------------------------------------------------
def _owed(inspection: Inspection) -> Html:
    fields, laws = owed_fields(inspection), owed_laws(inspection)
    if not fields and not laws:
        return EMPTY
    answers = sum(finding.due for finding in inspection.findings)
    facts = counted(len(fields) + len(laws), "fact")
    rows = [["The law itself", str(len(laws)), "; ".join(laws)]] if laws else []
    rows += [
        [at_words(where), str(len(paths)), "; ".join(short_names(paths))] for where, paths in owed_by_place(inspection)
    ]
    return joined(
        el("p", f"{counted(answers, 'answer')}, for want of {facts}."),
        table("What is owed by where to look", ["where to look", "facts", "which"], rows, cls="where", unseen=True),
    )


def _next(inspection: Inspection) -> Html:
    asks = inspection.ask_next
    if not asks:
        return EMPTY
    first, rest = asks[:FIRST_ASKED], asks[FIRST_ASKED:]
    more = f"{counted(len(rest), 'more fact')} to find out"
    return joined(
        el("p", "What most answers wait for comes first; a rule whose fail is an error weighs most."),
        _asks(inspection, first),
        el("details", el("summary", more), _asks(inspection, rest), cls="line plain") if rest else None,
    )


FIRST_ASKED = 8
"""How many facts to find out stand unfolded."""


def _asks(inspection: Inspection, asks: Sequence[Ask]) -> Html:
    heads = ["fact", "rules waiting", "what it is, and where to find it"]
    rows = [[el("code", ask.field), str(len(ask.rules)), _asked(inspection, ask)] for ask in asks]
    return table("What to find out", heads, rows, cls="ask", unseen=True)


def _asked(inspection: Inspection, ask: Ask) -> str:
    what, found = asked_for(inspection, ask)
    now = stated_words(inspection, ask.field)
    words = (
        what,
        f"Normally from {found}." if found else "",
        f"So far stated as {now}." if now else "",
        *(estimates_words(inspection, ask.field) if not now else ()),
    )
    return " ".join(piece for piece in words if piece)


def _cautions(inspection: Inspection) -> Html:
    """The cautions of all that fails or that a person must decide on, each once."""
    shown = [f for f in inspection.findings if f.kind in ("fail", "review")]
    return _list(dict.fromkeys(told(caution, finding.rule.id) for finding in shown for caution in finding.cautions))
