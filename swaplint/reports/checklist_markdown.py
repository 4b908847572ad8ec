"""The checklist as Markdown: boxes that can be ticked where such a page is read."""

from __future__ import annotations

import itertools

from swaplint.declare.cautions import CLOSING
from swaplint.declare.steps import MOMENTS
from swaplint.making.checklist import Checklist
from swaplint.making.steps import Entry
from swaplint.reports.checklist_words import Cautions, Place, Words, head_words, inspected, places_of, words_of
from swaplint.reports.rulebook_markdown import code_span, escaped
from swaplint.reports.takeoff_words import problem_words


def checklist_markdown(made: Checklist) -> str:
    """The list of one build."""
    name, what = head_words(made)
    lines = [f"# {escaped(name)}", "", escaped(what), ""]
    stated, cautions = inspected(made), Cautions()
    for moment, steps in made.moments():
        lines += [f"## {MOMENTS[moment].title}", ""]
        for entry in itertools.chain(*steps):
            new = cautions.new_in(entry)
            if new and lines[-1]:
                lines.append("")
            for number, caution in new:
                lines += [f"> **Caution {number}.** {escaped(caution)}", ""]
            lines += _step(entry, words_of(stated, entry), places_of(stated, entry), cautions.numbers(entry))
        lines.append("")
    if made.problems:
        lines += ["## Missing here, for it broke or could not be read", ""]
        lines += [*(f"- {escaped(problem_words(problem))}" for problem in made.problems), ""]
    if not made.entries:
        lines += ["No rule pack has a step for this build at this stage.", ""]
    lines += ["---", "", f"*{escaped(CLOSING)}*", ""]
    return "\n".join(lines)


def _step(entry: Entry, words: Words, places: list[Place], cautions: str) -> list[str]:
    title = f"{words.title}, {words.part}" if words.part else words.title
    box = "x" if entry.answered else " "
    lines = [f"- [{box}] **{entry.number}. {escaped(title)}**"]
    for label, text in (
        ("", words.unsure),
        ("With", words.instrument),
        ("How", words.how),
        ("Expect", words.expected),
        ("Limit", f"{words.limit}: {words.whose}" if words.whose else words.limit),
        ("Stop if", words.stop),
        ("Caution", cautions),
    ):
        if text:
            lines.append(f"  - {label}: {escaped(text)}" if label else f"  - {escaped(text)}")
    for number, place in enumerate(places):
        found = escaped(place.answered) if place.answered else f"\\_\\_\\_\\_\\_\\_ {escaped(place.takes)}".rstrip()
        lines.append(f"  - {'Note' if number else 'Found'}: {found}, {code_span(place.field)}")
    return lines
