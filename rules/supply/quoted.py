"""What the rules about the quote share: the lines that it holds, its days, and money as people write it."""

from __future__ import annotations

import datetime
from collections.abc import Iterator

from swaplint.api import Build, given, is_fitted, once, path_of, stated_values
from swaplint.spec.systems.supply import SupplyLine

BOUGHT = ("kit", "shop")
"""Who supplies the lines that the quote is about: what the owner brings, or what is there, is not on it."""
NONE = "Nothing is quoted here."
ASKED_BY = ("price", "lead_time", "valid_until", "offers")
"""What a line states only where somebody offers it: a quote then, whose other terms are asked for."""


@once
def is_quoted(build: Build) -> bool:
    """Whether there is a quote to judge.

    A builder who buys part by part has none and writes none down. Where neither a quote is stated nor any line has a
    price, a lead time or an offered value, nothing is asked; where one has, the quote that it comes from is.
    """
    stated = [path for path, _, _ in stated_values(build, "supply")]
    if any(path.startswith("quote.") for path in stated) or any(_offered(path) for path in stated):
        return is_fitted(build.quote)
    return given(lambda: is_fitted(build.quote)) or False


def _offered(path: str) -> bool:
    line, _, field = path.partition(".")
    return line.startswith("supply[") and field.split("[", 1)[0] in ASKED_BY


def bought_lines(build: Build) -> list[SupplyLine]:
    """The lines of the scope of supply that the quote is about."""
    return [line for line in build.supply if line.by in BOUGHT]


def lines_saying(build: Build, field: str) -> Iterator[SupplyLine]:
    """The lines that the quote is about and that state a field, then the first of those that do not.

    A rule that judges each line asks one question so, not one for every line of a quote that nobody has typed in.
    None where nothing is quoted.
    """
    if not is_quoted(build):
        return
    silent = []
    for line in bought_lines(build):
        if given(lambda line=line: getattr(line, field)) is None:  # type: ignore[misc]
            silent.append(line)
        else:
            yield line
    yield from silent[:1]


def item_of(line: SupplyLine) -> str:
    """A line as sentences name it."""
    return f"'{given(lambda: line.item) or path_of(line)}'"


def day(written: str) -> datetime.date:
    """A date out of the spec."""
    return datetime.date.fromisoformat(written)


def days(count: int) -> str:
    """A number of days in words."""
    return "1 day" if count == 1 else f"{count} days"


def money(amount: float) -> str:
    """An amount with two decimals and its thousands apart."""
    return f"{amount:,.2f}".replace(",", " ")
