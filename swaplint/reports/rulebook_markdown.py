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
            f"## {_words(system)}",
            "",
            "| rule | question | level | due | pack |",
            "| --- | --- | --- | --- | --- |",
        ]
        lines += [
            f"| {_code(rule.id)} | {_words(rule.question)} | {rule.level} | {rule.due} | {_words(pack.name)} |"
            for pack, rule in rules
        ]
        lines.append("")
    return "\n".join(lines)


def page_markdown(page: Page) -> str:
    """One rule, whole."""
    lines = [f"# {_words(page.rule.id)}", "", f"**{_words(page.rule.question)}**", ""]
    for line in heads(page):
        lines += [_words(line), ""]
    for topic in topics(page):
        lines += [f"## {_words(topic.heading)}", ""]
        for paragraph in topic.paragraphs:
            lines += [_words(paragraph), ""]
        lines += [_row(row) for row in topic.rows]
        if topic.rows:
            lines.append("")
    lines += ["---", "", f"*{_words(CLOSING)}*", ""]
    return "\n".join(lines)


def _row(row: Row) -> str:
    name = _code(row.name) if row.code else _words(row.name)
    right = f" ({_words(row.right)})" if row.right else ""
    notes = "".join(f"\n  - {_words(note)}" for note in row.notes)
    return f"- {name}{right}{notes}"


def _words(text: str) -> str:
    """Text of a pack, so that it means nothing to Markdown."""
    return _SPECIAL.sub(r"\\\1", safe(text))


def _code(text: str) -> str:
    """A code span. Where the text holds backticks itself, a longer run of them encloses it."""
    text = safe(text)
    longest = max((len(run) for run in re.findall("`+", text)), default=0)
    fence = "`" * (longest + 1)
    return f"{fence} {text} {fence}" if longest else f"{fence}{text}{fence}"
