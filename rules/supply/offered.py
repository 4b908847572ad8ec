"""Rules about what is offered: the values it names, what it leaves out, until when it stands."""

from __future__ import annotations

import math
from collections.abc import Iterator

from swaplint.api import (
    Build,
    Verdict,
    all_of,
    does_not_apply,
    given,
    holds,
    needs_review,
    path_of,
    practice,
    rule,
    shown,
    value_at,
)
from swaplint.spec.facts import FieldFacts
from swaplint.spec.shape import facts_at
from swaplint.spec.systems.supply import FUNCTIONS, OfferedValue, SupplyLine

from .quoted import NONE, bought_lines, day, days, is_quoted, item_of, lines_saying

SAME = practice("what is bought is what was computed: every offered size equals the specified one, or is agreed to")
LEFT_OUT = practice("what a quote excludes, somebody else supplies")
STANDS = practice("an offer is accepted before it ends, with two weeks in hand for questions")

COUNTS = practice("a certificate counts up to the last day that it names")

IN_HAND = 14
"""Days that an offer should still stand, for questions and the owner's answer."""


# -- what it says -----------------------------------------------------------------------------------------------------
def _lines_offering(build: Build) -> Iterator[SupplyLine]:
    yield from lines_saying(build, "offers")


@rule(
    "supply.quote-matches-spec",
    level="error",
    due="quote",
    sources=[SAME.giving("limit", "the specified value")],
    about="supply",
    each=_lines_offering,
    bad=[
        {"supply[13].offers[1].value": "35 mm2"},
        {"supply[13].offers[1].value": "a thick one"},
        {"supply[13].offers[1].field": "electrics.cables.starter.gauge"},
    ],
    good=[{"supply[13].offers[1].value": "0.5 cm2"}],
)
def quote_matches_spec(build: Build, line: SupplyLine) -> Verdict:
    """Is what is quoted what the spec has?

    Computes: reads each value that a line of the quote names in `offers` in the unit of the field of the spec that it
    answers to, and compares the two.
    Limit: the same value, but for the last digit of a conversion (0.1 %). Another one needs a word on who agreed to it.
    Consequence: The price is for another part: a thinner cable, another ratio, a narrower bore.
    Remedy: have the right part quoted; or put what is offered into the spec and see what the rules say of that.
    Cannot tell: what the quote does not say of a part, and whether what comes is what was quoted.
    """
    offers = list(line.offers)
    if not offers:
        return does_not_apply(f"{item_of(line)} names no value that the spec has a field for.")
    differing = [words for offer in offers if (words := _differs(build, offer))]
    agreed = [given(lambda offer=offer: offer.agreed) for offer in offers if _differs(build, offer)]  # type: ignore[misc]
    if not differing:
        return holds(True, f"{item_of(line)} is offered as specified.", on=path_of(line))
    says = f"{item_of(line)}: {'; '.join(differing)}."
    if all(agreed):
        return needs_review(f"{says} Agreed to: {'; '.join(map(str, agreed))}.", on=path_of(line))
    return holds(False, f"{says} Have it quoted as specified, or put into the spec what is offered.", on=path_of(line))


def _differs(build: Build, offer: OfferedValue) -> str:
    """What is wrong with an offered value, as a part of a sentence; empty where it is the specified one."""
    path, written = offer.field, offer.value
    facts = facts_at(Build, path)
    if facts is None or "*" in path:
        return f"'{path}' is no field of a build spec"
    try:
        offered = _read(facts, written)
    except ValueError as why:
        return f"'{written}' cannot be read as {facts.description} ({why})"
    try:
        wanted = value_at(build, path)
    except (LookupError, AttributeError):
        return f"the spec has nothing at {path}"
    if isinstance(wanted, float) and isinstance(offered, int | float):
        same = math.isclose(wanted, offered, rel_tol=1e-3)
    else:
        same = str(wanted).casefold() == str(offered).casefold()
    return "" if same else f"{path} is offered as {written}, and specified as {_shown(wanted)}"


def _read(facts: FieldFacts, written: str) -> float | bool | str:
    if facts.type in ("number", "count"):
        return float(written)
    if facts.type == "flag":
        if written not in ("true", "false"):
            raise ValueError("it is true or false")
        return written == "true"
    return facts.read(written).value


def _shown(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    return shown(value) if isinstance(value, float) else str(value)


# -- what it leaves out -----------------------------------------------------------------------------------------------
@rule(
    "supply.quote-terms",
    level="error",
    due="quote",
    sources=[LEFT_OUT.giving("limit", "nothing both covered and excluded")],
    about="quote.excludes",
    bad=[{"quote.excludes": ["engineering-report", "heat-shields"]}, {"quote.or_similar": True}],
    good=[{"quote.excludes": ["inspection"]}],
)
def quote_terms(build: Build) -> Verdict:
    """Does the quote's small print take back what its lines promise?

    Computes: looks for functions that the quote excludes and that a line bought by it covers all the same.
    Limit: none may be both; and no "or similar", for every rule was asked of the part that the spec names.
    Consequence: Shop and owner each take the part for the other's: it is missing on the day it is needed.
    Remedy: have it taken into the quote, or name it in a line of who does supply it; have "or similar" struck out, or
    every replacement shown before it is sent.
    Cannot tell: what the quote leaves out without saying so; supply.function-coverage counts what the lines name.
    """
    if not is_quoted(build):
        return does_not_apply(NONE)
    return all_of(excludes=lambda: _excludes(build), similar=lambda: _similar(build))


def _excludes(build: Build) -> Verdict:
    left_out = list(build.quote.excludes)
    for line in bought_lines(build):
        both = [name for name in line.functions if name in left_out]
        if both:
            says = f"{item_of(line)} covers {FUNCTIONS[both[0]]}, and the quote excludes it: settle who supplies it."
            return holds(False, says, on="quote.excludes")
    return holds(True, "The quote excludes nothing that its lines cover.", on="quote.excludes")


def _similar(build: Build) -> Verdict:
    loose = build.quote.or_similar
    says = 'The quote lets something similar be sent: have "or similar" struck out, or each replacement shown first.'
    on = "quote.or_similar"
    return holds(not loose, says if loose else "What is sent is what is quoted.", level="warning", on=on)


# -- until when -------------------------------------------------------------------------------------------------------
@rule(
    "supply.validity",
    level="error",
    due="quote",
    sources=[
        STANDS.giving("limit", "the offer's last day; 14 days in hand", demands=["offer", "lines"]),
        COUNTS.giving("limit", "the certificate's last day", demands=["certificate"]),
    ],
    about="quote.valid_until",
    changed={"0.2.0": "An offer that is said to be accepted on a day still to come is not accepted."},
    bad=[
        {"quote.valid_until": "2026-05-30"},
        {"quote.valid_until": "2026-06-13"},
        {"build.judged_on": "2026-08-01"},
        {"supply[5].valid_until": "2026-05-01"},
        {"quote.ordered_on": "2026-08-02", "build.judged_on": "2026-08-03"},
        {"quote.ordered_on": "2026-06-01"},
        {"engine.certificate.valid_until": "2026-12-30"},
    ],
    good=[
        {"engine.certificate.valid_until": "2026-12-31"},
        {"quote.valid_until": "2026-06-14"},
        {"quote.ordered_on": "2026-06-30", "build.judged_on": "2026-09-01"},
    ],
)
def validity(build: Build) -> Verdict:
    """Do the offer and its prices stand when they are accepted, and the engine's certificate when it is needed?

    Computes: the days from the day of acceptance, or from today where it is not accepted yet, to the offer's last day;
    for each line with a last day of its own to that. From the day on which the vehicle is promised back, where that is
    stated, to the last day of the engine's certificate, where that has one.
    Limit: the offer's last day; while it is not accepted, fewer than 14 days in hand are a warning. One that is said to
    be accepted on a day still to come is not.
    Consequence: The price is another, or the part is gone, when the order is placed; or papers are refused.
    Remedy: ask whoever made the offer to confirm it in writing with a later day, or accept it before it ends; ask the
    engine's maker, and the authority, for which day the certificate counts.
    Cannot tell: what was promised by word of mouth; whether a part is still made.
    """
    certificate = {"certificate": lambda: _certificate(build)}
    if not is_quoted(build):
        return all_of({"offer": lambda: does_not_apply(NONE), "lines": lambda: does_not_apply(NONE), **certificate})
    return all_of({"offer": lambda: _offer(build), "lines": lambda: _line_prices(build), **certificate})


def _stands(build: Build, until: str, what: str, on: str) -> Verdict:
    accepted, judged = given(lambda: build.quote.ordered_on), build.build.judged_on
    left = (day(until) - day(accepted or judged)).days
    if accepted is not None and accepted > judged:
        says = f"{what} is said to be accepted on {accepted}, later than {judged}, the day of judging: leave it out "
        return holds(False, f"{says}until it is accepted, or put the date right.", on="quote.ordered_on")
    if accepted is not None:
        says = f"{what} stood until {until} and was accepted on {accepted}"
        says += "." if left >= 0 else f", {days(-left)} too late: have the price confirmed in writing."
        return holds(left >= 0, says, on=on)
    if left < 0:
        says = f"{what} ran out on {until}, {days(-left)} before {judged}: have it confirmed anew."
        return holds(False, says, on=on)
    says = f"{what} stands until {until}, {days(left)} from {judged}"
    says += "." if left >= IN_HAND else ": accept it soon, or ask for a later day."
    return holds(left >= IN_HAND, says, level="warning", on=on)


def _offer(build: Build) -> Verdict:
    return _stands(build, build.quote.valid_until, "The offer", "quote.valid_until")


def _line_prices(build: Build) -> Verdict:
    ends: list[tuple[str, SupplyLine]] = []
    for line in bought_lines(build):
        ends.append((given(lambda line=line: line.valid_until) or build.quote.valid_until, line))  # type: ignore[misc]
    own = [end for end in ends if end[0] != build.quote.valid_until]
    if not own:
        return does_not_apply("No line has a last day of its own.")
    until, line = min(own, key=lambda end: end[0])
    return _stands(build, until, f"The price of {item_of(line)}", "quote")


def _certificate(build: Build) -> Verdict:
    until = given(lambda: build.engine.certificate.valid_until)
    if until is None:
        return does_not_apply("The engine's certificate names no last day.")
    promised = given(lambda: build.quote.ready_on)
    needed = promised or given(lambda: build.quote.ordered_on) or build.build.judged_on
    left = (day(until) - day(needed)).days
    says = f"It counts until {until} and is needed on {needed}"
    says += "." if left >= 0 else f", {days(-left)} later: ask which day the authority counts, and for a later one."
    return holds(left >= 0, says, on="engine.certificate.valid_until")
