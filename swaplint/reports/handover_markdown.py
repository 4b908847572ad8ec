"""The hand-over sheet as Markdown."""

from __future__ import annotations

from collections.abc import Iterator

from swaplint.declare.cautions import CLOSING
from swaplint.making.handover import HandOver
from swaplint.reports.handover_words import sections, title_words
from swaplint.reports.rulebook_markdown import escaped
from swaplint.reports.tables import Table


def handover_markdown(made: HandOver) -> str:
    """The whole sheet."""
    title, says = title_words(made)
    lines = [f"# {escaped(title)}", ""]
    for paragraph in says:
        lines += [escaped(paragraph), ""]
    for section in sections(made):
        lines += [f"## {escaped(section.title)}", ""]
        for paragraph in section.says:
            lines += [escaped(paragraph), ""]
        for above, table in section.tables:
            if above:
                lines += [f"**{escaped(above)}**", ""]
            lines += [*_table(table), ""]
        lines += [f"- {escaped(point)}" for point in section.points]
        if section.points:
            lines.append("")
    return "\n".join([*lines, "---", "", f"*{escaped(CLOSING)}*", ""])


def _table(table: Table) -> Iterator[str]:
    right = table.numeric or [False] * len(table.heads)
    yield f"| {' | '.join(escaped(head) for head in table.heads)} |"
    yield f"| {' | '.join('---:' if to_right else '---' for to_right in right)} |"
    for row in table.rows:
        yield f"| {' | '.join(escaped(cell) for cell in row)} |"
