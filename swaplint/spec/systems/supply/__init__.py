"""Fields of the scope of supply and of the quote: who supplies what, at what price, until when, when it comes."""

from swaplint.spec.systems.supply.fluids import FLUIDS, EngineOilFill, GearOil, QuotedFluid
from swaplint.spec.systems.supply.functions import FUNCTIONS, covered
from swaplint.spec.systems.supply.joints import FORMS, LOOK_ALIKE, Joint, JointEnd
from swaplint.spec.systems.supply.lines import OfferedValue, SupplyLine
from swaplint.spec.systems.supply.package import TREATMENTS, OptionalPart, OptionalPartUse, Prescribed
from swaplint.spec.systems.supply.quote import PRICES, Quote
from swaplint.spec.systems.supply.small_parts import HOSES, SMALL_PARTS, MetresOfCable, MetresOfHose
from swaplint.spec.systems.supply.work import STEPS, WorkSteps

__all__ = [
    "FLUIDS",
    "FORMS",
    "FUNCTIONS",
    "HOSES",
    "LOOK_ALIKE",
    "PRICES",
    "SMALL_PARTS",
    "STEPS",
    "TREATMENTS",
    "EngineOilFill",
    "GearOil",
    "Joint",
    "JointEnd",
    "MetresOfCable",
    "MetresOfHose",
    "OfferedValue",
    "OptionalPart",
    "OptionalPartUse",
    "Prescribed",
    "Quote",
    "QuotedFluid",
    "SupplyLine",
    "WorkSteps",
    "covered",
]
