"""The rule about the quote's numbers."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from swaplint.api import Build, Verdict, all_of, at_most, does_not_apply, given, holds, practice, rule

from .quoted import NONE, bought_lines, is_quoted, item_of, money

ADDS_UP = practice("a quote adds up: prices times quantities, discount, tax and work are its total")
ROUNDING = 0.005
"""How far the total may be off: what rounding line by line comes to."""
DISPUTED = 0.01
"""From where it is no rounding any more."""
TELLS = 0.002
"""How close, as a share of the total, a line must come to the difference to be named as its likely cause."""
HOUR = 3600.0


class Bill(NamedTuple):
    """What the quote's own numbers come to."""

    parts: float
    work: float
    discount: float
    """A share."""
    tax: float
    """A share; 0 where the prices hold it."""
    core_deposit: float

    @property
    def factor(self) -> float:
        """What a price of a line weighs in the total."""
        return (1 - self.discount) * (1 + self.tax)

    @property
    def total(self) -> float:
        """What there is to pay."""
        return (self.parts + self.work) * self.factor + self.core_deposit


def bill(build: Build) -> Bill:
    """Add the quote up."""
    quote = build.quote
    parts = sum(float(line.quantity) * float(line.price) for line in bought_lines(build))
    hours = float(quote.labour_hours) / HOUR
    work = hours * float(quote.labour_rate) if hours else 0.0
    tax = 0.0 if quote.prices_include_tax else float(quote.tax)
    return Bill(parts, work, float(quote.discount), tax, float(quote.core_deposit))


@rule(
    "supply.quote-arithmetic",
    level="error",
    due="quote",
    sources=[ADDS_UP.giving("limit", "0.5 % for rounding, 1 % for an error; one currency, and nothing twice")],
    about="quote.total",
    bad=[
        {"quote.total": 9000.0},
        {"supply[5].quantity": 3.0},
        {"supply[5].currency": "USD"},
        {"quote.down_payment": 30000.0},
    ],
    good=[{"quote.total": 18030.0}],
)
def quote_arithmetic(build: Build) -> Verdict:
    """Do the quote's numbers add up?

    Computes: quantity times price over all lines that the kit or the shop supplies, plus the work, less the discount,
    plus the tax where prices do not hold it, plus the deposit on old parts; against the total. Looks for a line in
    another currency, a down payment of more than the total, and one thing that is on the quote twice at the same price.
    Limit: 0.5 %, which rounding line by line may come to; up to 1 % it is a warning.
    Consequence: A dispute, or money paid for what is not delivered.
    Remedy: ask for the quote again, with the line that explains the difference put right.
    Cannot tell: whether a price is fair; lines that are taxed differently; which currency is worth what.
    """
    if not is_quoted(build):
        return does_not_apply(NONE)
    return all_of(
        total=lambda: _total(build),
        currency=lambda: _currency(build),
        down_payment=lambda: _down_payment(build),
        twice=lambda: _twice(build),
    )


def _total(build: Build) -> Verdict:
    came, total = bill(build), float(build.quote.total)
    more = total - came.total
    if came.total <= 0:
        return holds(False, f"The lines come to nothing, and the total is {money(total)}.")
    off = round(abs(more) / came.total, 9)  # less is what binary fractions leave
    says = f"Lines, work, discount and tax come to {money(came.total)}; the quote's total is {money(total)}"
    if off <= ROUNDING:
        says += "."
    else:
        says += f", {money(abs(more))} {'more' if more > 0 else 'less'}. {_cause(build, came, more)}"
    level = "warning" if off <= DISPUTED else None
    return at_most(off, ROUNDING, says, unit=("share", "%"), level=level, on="quote.total")  # type: ignore[arg-type]


def _cause(build: Build, came: Bill, more: float) -> str:
    """The likeliest cause of a difference, as a sentence."""
    likely = min(_causes(build, came), key=lambda cause: abs(cause[0] - more), default=None)
    if likely is None or abs(likely[0] - more) > TELLS * came.total:
        return "No single line, nor tax, discount or work explains that: ask for the sum line by line."
    return f"That is as if {likely[1]}."


def _causes(build: Build, came: Bill) -> Iterator[tuple[float, str]]:
    """Slips that happen: by how much each makes the total larger than it should be, and in words."""
    for line in bought_lines(build):
        each, count = float(line.price) * came.factor, float(line.quantity)
        yield -each * count, f"{item_of(line)} had been left out"
        yield each * count, f"{item_of(line)} had been counted twice"
        if count != 1:
            yield each * (1 - count), f"{item_of(line)} had been counted once, not {count:g} times"
    gross = (came.parts + came.work) * came.factor
    yield -came.work * came.factor, "the work had been left out"
    yield gross / (1 + came.tax) - gross, "the tax had been left out"
    yield gross * came.tax, "the tax had been added twice"
    yield gross / (1 - came.discount) - gross if came.discount < 1 else 0.0, "the discount had not been taken off"
    yield -came.core_deposit, "the deposit on old parts had been left out"


def _currency(build: Build) -> Verdict:
    main = build.quote.currency
    for line in bought_lines(build):
        other = given(lambda line=line: line.currency)  # type: ignore[misc]
        if other is not None and other.casefold() != main.casefold():
            says = f"{item_of(line)} is priced in {other} and the quote in {main}: have it priced in {main}."
            return holds(False, says, on="quote.currency")
    return holds(True, f"Every price is in {main}.", on="quote.currency")


def _down_payment(build: Build) -> Verdict:
    ahead, total = float(build.quote.down_payment), float(build.quote.total)
    says = f"{money(ahead)} are to be paid with the order, of {money(total)} in all"
    says += "." if ahead <= total else ": more than there is to pay."
    return holds(ahead <= total, says, on="quote.down_payment")


def _twice(build: Build) -> Verdict:
    seen: dict[tuple[str, float], str] = {}
    for line in bought_lines(build):
        item, price = given(lambda line=line: line.item), float(line.price)  # type: ignore[misc]
        if not item or not price:
            continue
        if (item.casefold(), price) in seen:
            says = f"{item_of(line)} is on the quote twice at {money(price)}: state the quantity in one line."
            return holds(False, says, level="warning", on="quote")
        seen[item.casefold(), price] = item
    return holds(True, "Nothing is on the quote twice under the same name and price.", on="quote")
