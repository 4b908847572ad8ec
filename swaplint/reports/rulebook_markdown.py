"""The rulebook as Markdown, for a wiki or a repository."""

from __future__ import annotations

import re

from swaplint.declare.cautions import CLOSING
from swaplint.reports.layout import safe
from swaplint.reports.rulebook_page import Page
from swaplint.reports.rulebook_text import Groups
from swaplint.reports.rulebook_topics import Row, heads, topics

_SPECIAL = re.compile(r"([\\`*_{}\[\]<>|#&~])")


def list_markdown(groups: Groups) -> str:
    """Every rule with its question, one table for each system."""
    lines = ["# Rulebook", ""]
    for system, rules in groups:
        lines += [
            f"## {escaped(system)}",
            "",
            "| rule | question | level | due | pack |",
            "| --- | --- | --- | --- | --- |",
        ]
        lines += [
            f"| {code_span(rule.id)} | {escaped(rule.question)} | {rule.level} | {rule.due} | {escaped(pack.name)} |"
            for pack, rule in rules
        ]
        lines.append("")
    return "\n".join(lines)


def page_markdown(page: Page) -> str:
    """One rule, whole."""
    lines = [f"# {escaped(page.rule.id)}", "", f"**{escaped(page.rule.question)}**", ""]
    for line in heads(page):
        lines += [escaped(line), ""]
    for topic in topics(page):
        lines += [f"## {escaped(topic.heading)}", ""]
        for paragraph in topic.paragraphs:
            lines += [escaped(paragraph), ""]
        lines += [_row(row) for row in topic.rows]
        if topic.rows:
            lines.append("")
    lines += ["---", "", f"*{escaped(CLOSING)}*", ""]
    return "\n".join(lines)


def _row(row: Row) -> str:
    name = code_span(row.name) if row.code else escaped(row.name)
    right = f" ({escaped(row.right)})" if row.right else ""
    notes = "".join(f"\n  - {escaped(note)}" for note in row.notes)
    return f"- {name}{right}{notes}"


def escaped(text: str) -> str:
    """Text of a pack, so that it means nothing to Markdown."""
    return _SPECIAL.sub(r"\\\1", safe(text))


def code_span(text: str) -> str:
    """A code span. Where the text holds backticks itself, a longer run of them encloses it."""
    text = safe(text)
    longest = max((len(run) for run in re.findall("`+", text)), default=0)
    fence = "`" * (longest + 1)
    return f"{fence} {text} {fence}" if longest else f"{fence}{text}{fence}"
