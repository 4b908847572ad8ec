"""The quote as a whole."""

from swaplint.spec.fields import DECISION, QUOTE, RECORD, Part, day, flag, measure, number, part, text
from swaplint.spec.systems.supply.functions import covered
from swaplint.spec.systems.supply.work import WorkSteps


class Quote(Part):
    """The quote that the scope of supply is bought by. Its lines are those that the kit or the shop supplies."""

    currency: str = text("currency of its prices", typical="EUR", where=QUOTE)
    valid_until: str = day("last day on which it can be accepted", typical="2026-06-30", where=QUOTE)
    ordered_on: str = day("day on which it was accepted; left out until it is", typical="2026-05-31", where=RECORD)
    work_starts_on: str = day(
        "day on which the work starts and the parts are needed", typical="2026-08-31", where=DECISION
    )
    ready_on: str = day("day on which the vehicle is promised back", typical="2026-10-31", where=DECISION)
    work: WorkSteps = part("how long each step of the work takes")
    prices_include_tax: bool = flag("whether its prices hold the tax already", typical=False, where=QUOTE)
    tax: float = measure(
        "tax that is added to the prices", "share", "%", typical=20, plausible=(0, 40), where=QUOTE, zero=True
    )
    discount: float = measure(
        "discount on parts and work together", "share", "%", typical=0, plausible=(0, 60), where=QUOTE, zero=True
    )
    labour_hours: float = measure(
        "hours of work that it charges", "duration", "h", typical=60, plausible=(0, 1500), where=QUOTE, zero=True
    )
    labour_rate: float = number("price of an hour of work", typical=80, plausible=None, where=QUOTE, zero=True)
    core_deposit: float = number(
        "deposit that it charges on old parts until they are sent back, after tax; 0 for none",
        typical=0,
        plausible=None,
        where=QUOTE,
        zero=True,
    )
    down_payment: float = number(
        "part of the total to be paid with the order; 0 for none", typical=500, plausible=None, where=QUOTE, zero=True
    )
    total: float = number(
        "what there is to pay in all, deposit and tax included", typical=12000, plausible=None, where=QUOTE
    )
    excludes: list[str] = covered(
        "what of the list it says that it does not hold; empty where it excludes nothing",
        typical="heat-shields",
        where=QUOTE,
    )
    or_similar: bool = flag("whether it lets the supplier send something similar instead", typical=False, where=QUOTE)


PRICES = (
    "supply[].price",
    "quote.total",
    "quote.labour_rate",
    "quote.core_deposit",
    "quote.down_payment",
    "quote.discount",
)
"""The fields that tell what something costs, which a copy without prices leaves out."""
