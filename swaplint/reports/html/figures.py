"""The drawings of a page: what packs declare, and the margins of all results, as SVG with words and sources."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from swaplint.host.packs import LoadedPack
from swaplint.host.problems import Problem, first_line
from swaplint.inspecting.drawn import Drawn, drawn
from swaplint.inspecting.results import Inspection, sheet_citation
from swaplint.reports.drawing import canvas
from swaplint.reports.drawing.forms import svg_of_form, too_many
from swaplint.reports.drawing.margins import TITLE, margins_svg, margins_words, with_margins
from swaplint.reports.drawing.words import form_words
from swaplint.reports.naming import listed, title_words
from swaplint.reports.values import units_for
from swaplint.units.prose import told
from swaplint.units.showing import showing_in, telling_of

MOST_MISSING = 6
"""How many fields a figure that cannot be drawn names."""


@dataclass(frozen=True)
class Figure:
    """One drawing for a page."""

    id: str
    """Its id, as of a rule: what an anchor and the drawing's own ids are made of."""
    title: str
    words: str
    """What it shows, with its numbers, for who cannot see it. Plain text, not escaped."""
    svg: str
    """An SVG element for the body of a page, escaped, its colours variables of `figure_style`. Empty where it cannot be
    drawn yet: `words` then says what is missing."""
    source: str
    """What it was computed from and whose limits it shows. Plain text, not escaped."""


def figures(
    inspected: Inspection, packs: Sequence[LoadedPack] = (), problems: list[Problem] | None = None
) -> list[Figure]:
    """The drawings of an inspection: the margins first, then those of the packs by system, then what is missing.

    What breaks on the way is added to `problems`, and belongs on the page as every other problem does.
    """
    if not_drawn():
        return []
    out = []
    if with_margins(inspected.findings):
        out.append(
            Figure(
                "host.margins",
                TITLE,
                margins_words(inspected.findings),
                margins_svg(inspected.findings),
                "Every result of this report with a number and a limit; the source of each stands with it.",
            )
        )
    with showing_in(units_for(inspected.spec)):
        found, broken = drawn(packs, inspected.spec, inspected.selection)
        for one in found:
            try:
                out.append(_figure(inspected, one) if one.form is not None else _missing(one))
            except Exception as error:  # numbers that no axis takes: the page stands without the drawing
                what = f"the figure {one.figure.id} could not be drawn: {first_line(error)}"
                broken.append(Problem(what, "rule", one.pack))
        if problems is not None:
            problems += broken
    return sorted(out, key=lambda figure: not figure.svg)


def _figure(inspected: Inspection, one: Drawn) -> Figure:
    assert one.form is not None
    figure = one.figure
    many = too_many(one.form)
    if many:
        return Figure(figure.id, figure.title, f"Not drawn: {many}", "", "")
    with telling_of(figure.id):
        words = " ".join(part for part in (told(figure.explanation), form_words(one.form)) if part)
        svg = svg_of_form(one.form, figure.id, figure.title, words)
    return Figure(figure.id, figure.title, words, svg, _source(inspected, one))


def _source(inspected: Inspection, one: Drawn) -> str:
    """What a drawing was computed from: numbers of the worksheet, what stands in, the documents."""
    parts = []
    if one.quantities:
        parts.append(f"From the worksheet: {listed(one.quantities)}.")
    if one.practices:
        parts.append(f"Common practice stands in: {told('; '.join(one.practices))}.")
    if one.estimates:
        parts.append(f"Estimated: {listed(one.estimates)}.")
    titles = dict.fromkeys(
        sheet_citation(inspected, source)[0] if source.field else title_words(source, one.figure.id)
        for source in one.sources
    )
    if titles:
        parts.append(f"Sources: {'; '.join(titles)}.")
    return " ".join(parts)


def _missing(one: Drawn) -> Figure:
    """A figure that cannot be drawn: what must be stated first, or why it has no sense."""
    if one.lacks:
        first = listed(one.lacks[:MOST_MISSING])
        more = len(one.lacks) - MOST_MISSING
        words = f"Not drawn yet, for want of {first}" + (f", and {more} more." if more > 0 else ".")
    else:
        words = f"Not drawn: {one.why}"
    return Figure(one.figure.id, one.figure.title, words, "", "")


def not_drawn() -> str:
    """Why there are no drawings, as a sentence; empty where there are."""
    return canvas.can_draw()


def figure_style() -> str:
    """The colours of the drawings as CSS for the page: light and dark, light in print."""
    return canvas.style()
