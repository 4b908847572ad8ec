"""Fields of the scope of supply and of the quote: who supplies what, at what price, until when, when it comes."""

from swaplint.spec.systems.supply.functions import FUNCTIONS, covered
from swaplint.spec.systems.supply.lines import OfferedValue, SupplyLine
from swaplint.spec.systems.supply.package import TREATMENTS, OptionalPart, OptionalPartUse, Prescribed
from swaplint.spec.systems.supply.quote import PRICES, Quote

__all__ = [
    "FUNCTIONS",
    "PRICES",
    "TREATMENTS",
    "OfferedValue",
    "OptionalPart",
    "OptionalPartUse",
    "Prescribed",
    "Quote",
    "SupplyLine",
    "covered",
]
