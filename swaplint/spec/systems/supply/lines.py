"""The lines of the scope of supply: what is supplied, by whom, at what price, when."""

from swaplint.spec.fields import DECISION, LOOK, QUOTE, RECORD, Section, day, items, measure, number, text, word, words
from swaplint.spec.systems.supply.fluids import QuotedFluid
from swaplint.spec.systems.supply.functions import covered
from swaplint.spec.systems.supply.small_parts import SMALL_PARTS, MetresOfCable, MetresOfHose
from swaplint.spec.systems.supply.work import STEPS


class OfferedValue(Section):
    """One value of what is offered, and the field of the spec that it answers to."""

    field: str = text(
        "field of this spec that the offered value answers to", typical="electrics.cables.starter.size", where=QUOTE
    )
    value: str = text("the value as the quote has it, with its unit", typical="50 mm2", where=QUOTE)
    agreed: str = text(
        "where another value than the specified one is meant: who agreed to it, and why",
        typical="the shop's electrician",
        where=DECISION,
    )


class SupplyLine(Section):
    """One line of the scope of supply."""

    item: str = text("what is supplied", typical="clutch kit", where=QUOTE)
    by: str = word("who supplies it", "kit", "shop", "owner", "existing", "not-required", typical="shop", where=QUOTE)
    functions: list[str] = covered("what of the list the line covers", typical="clutch", where=QUOTE)
    condition: str = text(
        "for what is there already: the shape that it is in, and how that is known",
        typical="pressure-tested, fins straight",
        where=LOOK,
    )
    reason: str = text(
        "for what is not required: why the build does without it", typical="remains mechanical", where=DECISION
    )
    quantity: float = number(
        "how many are quoted: pieces, or metres or litres where the price is that of one",
        typical=1,
        plausible=(0.01, 2000),
        where=QUOTE,
    )
    price: float = number(
        "price of one; 0 for what another line's price holds", typical=100, plausible=None, where=QUOTE, zero=True
    )
    currency: str = text("currency of the price, where it is another than the quote's", typical="EUR", where=QUOTE)
    valid_until: str = day(
        "last day that the price holds for, where it is another than the quote's", typical="2026-06-30", where=QUOTE
    )
    lead_time: float = measure(
        "time from the order until it is there; 0 days for what lies in the shop",
        "duration",
        "weeks",
        typical=3,
        plausible=(0, 60),
        where=QUOTE,
        zero=True,
    )
    needed_on: str = day(
        "day on which it is needed, where that is later than the start of the work",
        typical="2026-06-30",
        where=DECISION,
    )
    needed_at: str = word(
        "step of the work that it is needed at first, where that is not the first",
        *STEPS,
        typical="trial-fit",
        where=DECISION,
    )
    offers: list[OfferedValue] = items(
        "what the quote says of sizes, ratios, bores and materials, value by value",
        may_be_empty="a line may name no value that the spec has a field for",
    )
    fills: list[QuotedFluid] = items(
        "fluids that the line holds, each with how much of it", may_be_empty="most lines hold none"
    )
    small_parts: list[str] = words(
        "small parts that the line holds; empty where it holds none",
        *SMALL_PARTS,
        typical="hose-clamps",
        where=QUOTE,
    )
    metres_of_cable: list[MetresOfCable] = items(
        "cable that the line holds by the metre", may_be_empty="cables may come made up, to length"
    )
    metres_of_hose: list[MetresOfHose] = items(
        "hose that the line holds by the metre", may_be_empty="hoses may come moulded, to length"
    )
    joins: list[str] = words(
        "names of the joints that it makes fit; empty where it joins nothing", typical="lift_pump", where=QUOTE
    )
    mass: float = measure("mass of it", "mass", "kg", typical=10, plausible=(0.01, 3000), where=QUOTE)
    ledger: str = text("name of the item of the mass ledger that counts it", typical="exhaust", where=RECORD)
    note: str = text("a remark for people; no rule reads it", typical="includes bolts", where=RECORD)
