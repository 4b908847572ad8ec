"""Texts as SARIF wants them: placeholders, links and lengths."""

from __future__ import annotations

from typing import Any

LONGEST_TEXT = 1024
"""Longest short or full description that consumers accept, in characters."""
LONGEST_NAME = 255


def literal(text: str) -> str:
    """A text in which nothing is a placeholder (SARIF 2.1.0, 3.11.5) or a link (3.11.6).

    >>> literal("a {0} in [b](1)")
    'a {{0}} in [b] (1)'
    """
    return escaped(unlinked(text))


def escaped(text: str) -> str:
    """A text in which nothing is a placeholder."""
    return text.replace("{", "{{").replace("}", "}}")


def unlinked(text: str) -> str:
    """A text in which nothing from a spec becomes a link in a viewer."""
    return text.replace("](", "] (")


def message(text: str) -> dict[str, Any]:
    """A SARIF message of literal text."""
    return {"text": literal(text)}


def shortened(text: str, longest: int = LONGEST_TEXT) -> str:
    """A text cut to a length, at a word where there is one."""
    if len(text) <= longest:
        return text
    head = text[: longest - 2]
    return (head.rsplit(" ", 1)[0] or head) + " …"


def sentence(text: str) -> str:
    """A text on one line that ends as a sentence does."""
    text = " ".join(text.split())
    return text if text.endswith((".", "?", "!")) else f"{text}."
