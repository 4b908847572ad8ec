"""The pages of `size` and `study`: which values work, what binds at each end, and the map of combinations."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from swaplint.inspecting.selection import Selection
from swaplint.reports import sizing as sizing_text
from swaplint.reports import study as study_text
from swaplint.reports.drawing.windows import TITLE, windows_svg, windows_words
from swaplint.reports.html.drawings import one_drawing
from swaplint.reports.html.elements import EMPTY, Html, Piece, el, joined, laid_out, scrolled, table
from swaplint.reports.html.figures import Figure, not_drawn
from swaplint.reports.html.page import page
from swaplint.reports.judging import Judging, add_not_judged
from swaplint.reports.layout import WITHOUT_END, Sheet
from swaplint.reports.naming import counted, listed
from swaplint.reports.study import Shared
from swaplint.reports.values import margin_words
from swaplint.solving.sizing import Sizing
from swaplint.solving.study import Row, Study
from swaplint.spec.loaded import LoadedSpec

MOST_ROWS = 400
"""How many combinations the page lists; all stand in a table for a spreadsheet."""
MOST_ON_A_SIDE = 40
"""Up to how many values of a field the map has room for."""


# -- size ------------------------------------------------------------------------------------------------------------
def sizing_page(
    spec: LoadedSpec, sizing: Sizing, judging: Judging, selection: Selection, troubles: Iterable[str] = ()
) -> str:
    """The page of `size`."""
    asked, answer, passes = (Sheet(WITHOUT_END, []) for _ in range(3))
    sizing_text.add_question(asked, spec, sizing, judging, selection)
    sizing_text.add_answer(answer, sizing, judging)
    sizing_text.add_passes(passes, sizing, judging)
    content = joined(
        _head(asked, answer, passed=sizing.best is not None), _windows(sizing, judging), laid_out(passes.lines)
    )
    return page(f"{sizing.pattern}: which values work", "Sizing sheet", el("article", content, cls="spec"), troubles)


def _head(asked: Sheet, answer: Sheet, *, passed: bool) -> Html:
    """What was asked, and the answer before all else."""
    first, *rest = asked.lines
    verdict = el("div", laid_out(answer.lines), cls=f"verdict answer {'open' if passed else 'shut'}")
    return el("header", el("h2", "".join(text for text, _ in first).strip()), verdict, laid_out(rest), cls="job")


def _windows(sizing: Sizing, judging: Judging) -> Html:
    if sizing.choices or not judging.judging or not (sizing.windows or sizing.by_rule):
        return EMPTY
    if not_drawn():
        return el("p", not_drawn())
    words = windows_words(sizing)
    figure = Figure(
        "size.windows", TITLE, words, windows_svg(sizing), f"From {counted(len(sizing.rules), 'rule')} that read it."
    )
    return el("section", el("h3", "Where it passes"), one_drawing(figure), cls="section")


# -- study -----------------------------------------------------------------------------------------------------------
def study_page(
    spec: LoadedSpec,
    study: Study,
    rows: Sequence[Row],
    judging: Judging,
    top: int | None,
    selection: Selection,
    troubles: Iterable[str] = (),
) -> str:
    """The page of `study`. `judging` is what can be said of the first of the combinations, best first."""
    asked, answer, left = (Sheet(WITHOUT_END, []) for _ in range(3))
    shared = study_text.add_question(asked, spec, study, rows, judging, selection)
    answer.wrapped(study_text.verdict_words(study, rows, judging), style="bold")
    add_not_judged(left, judging, study_text.fields_words(study))
    passed = bool(judging.judging) and any(not row.fails and not row.broken for row in rows)
    content = joined(
        _head(asked, answer, passed=passed),
        _section("The map", _map(study, rows, shared, judging)),
        _section("Best first", _best(study, rows[: top or MOST_ROWS], len(rows), shared, judging)),
        laid_out(left.lines),
    )
    title = f"{spec.label}: {counted(study.count, 'combination')}"
    return page(title, "Study sheet", el("article", content, cls="spec"), troubles)


def _section(heading: str, content: Html) -> Html:
    return el("section", el("h3", heading), content, cls="section") if content else EMPTY


def _best(study: Study, rows: Sequence[Row], count: int, shared: Shared, judging: Judging) -> Html:
    heads = ["rank", *study_text.heads_of(study), "what came of it"]
    lines = [
        [str(number), *study_text.row_words(study, row), study_text.outcome_words(row, shared, judging)]
        for number, row in enumerate(rows, 1)
    ]
    more = count - len(rows)
    return joined(
        scrolled("The combinations", table("The combinations", heads, lines, cls="rows", unseen=True)),
        el("p", f"and {more} more, see --top, or --format csv for all") if more else None,
    )


def _map(study: Study, rows: Sequence[Row], shared: Shared, judging: Judging) -> Html:
    """The combinations of the two fields with most values; of what else is varied the best stands in each place."""
    order = sorted(range(len(study.varied)), key=lambda n: -len(study.varied[n].values))[:2]
    if len(order) < 2 or not judging.judging or any(len(study.varied[n].values) > MOST_ON_A_SIDE for n in order):
        return EMPTY
    down, across = (study.varied[n] for n in order)
    best: dict[tuple[str, str], Row] = {}
    for row in rows:
        names = [study_text.number_or_word(row.values[n], study.varied[n]) for n in order]
        best.setdefault((names[0], names[1]), row)
    sides = [[study_text.number_or_word(value, one) for value in one.values] for one in (down, across)]
    rest = [n for n in range(len(study.varied)) if n not in order]

    def others(row: Row) -> str:
        return ", ".join(study_text.number_or_word(row.values[n], study.varied[n]) for n in rest)

    lines: list[list[Piece]] = [
        [name, *(_place(best[name, other], shared, others(best[name, other]), rows[0]) for other in sides[1])]
        for name in sides[0]
    ]
    says = (
        "Each place says how many rules fail there, but for those that fail in every combination, and the worst margin."
    )
    if rest:
        others_named = listed([study.varied[n].pattern for n in rest])
        says += f" It stands with the best of {others_named}, which is named."
    corner = study_text.short_name(down.pattern)
    caption = f"{down.pattern} down, {across.pattern} across"
    return joined(el("p", says), scrolled(caption, table(caption, [corner, *sides[1]], lines, cls="map")))


def _place(row: Row, shared: Shared, others: str, best: Row) -> Html:
    fails = [id for id in row.fails if id not in shared.fails]
    word = "not all ran" if row.broken else f"{len(fails)} fail" if fails else "nothing more" if row.fails else "passes"
    reviews = [id for id in row.reviews if id not in shared.reviews and id not in row.fails]
    opens = [id for id in row.opens if id not in shared.opens]
    cls = "shut" if fails or row.broken else "review" if reviews else "open"
    return el(
        "span",
        word,
        [" ", el("b", "best")] if row is best else None,
        el("i", f"with {others}") if others else None,
        el("i", f"{len(reviews)} to review") if reviews else None,
        el("i", f"{len(opens)} open") if opens else None,
        el("i", margin_words(row.worst_margin)),
        cls=f"spot {cls}",
    )
