"""What is poured in: how much each part takes, of which standard, and what a line of the quote holds of it."""

from typing import Any

from swaplint.spec.fields import (
    COMPONENT_SHEET,
    DATA_SHEET,
    DRIVELINE_SHEET,
    MANUAL,
    QUOTE,
    Part,
    Section,
    flag,
    measure,
    parts,
    word,
    words,
)

FLUIDS = ("engine-oil", "coolant", "gearbox-oil", "transfer-oil", "axle-oil", "other")
"""What a line may hold; `other` is brake, clutch and steering fluid."""
LOW_ASH_EXAMPLE = "API CK-4"


def _standards(where: str, typical: str) -> Any:
    return words(
        "standards that its maker allows, each as the can names it: one of them must be met",
        typical=typical,
        where=where,
    )


class Changed(Section):
    """Something that is poured in and changed again."""

    change_distance: float = measure(
        "distance after which it is changed",
        "length",
        "km",
        typical=20000,
        plausible=(500, 500000),
        where=MANUAL,
        settled="plate",
    )
    change_time: float = measure(
        "time after which it is changed, where that comes first",
        "duration",
        "weeks",
        typical=104,
        plausible=(2, 600),
        where=MANUAL,
        settled="plate",
    )


class WettedPart(Part):
    """A part whose seals a fluid touches."""

    made_for: list[str] = words(
        "standards of the fluids that its seals are made for, each as its data sheet or the lid of its reservoir names "
        "it",
        typical="DOT 4",
        where=COMPONENT_SHEET,
    )


class ServiceFluid(Changed):
    """The fluid of brakes, clutch or steering."""

    volume: float = measure(
        "fluid of a whole fill", "volume", "L", typical=0.8, plausible=(0.05, 20), where=MANUAL, settled="plate"
    )
    standards: list[str] = _standards(MANUAL, "DOT 4")
    parts: dict[str, WettedPart] = parts(
        "the parts that it touches, each under its name: master cylinder, wheel brakes, slave cylinder, pump; a "
        "hydraulic booster stands with the fluid of the pump that feeds it",
        needed=True,
    )


class EngineOilFill(Changed):
    """The engine's oil."""

    volume: float = measure(
        "oil of a first fill, the filter's included", "volume", "L", typical=8, plausible=(1, 60), where=DATA_SHEET
    )
    standards: list[str] = _standards(DATA_SHEET, LOW_ASH_EXAMPLE)


class GearOil(Changed):
    """The oil of a gearbox, a transfer case or an axle."""

    volume: float = measure(
        "oil of a fill, cooler and converter included",
        "volume",
        "L",
        typical=2.5,
        plausible=(0.2, 40),
        where=DRIVELINE_SHEET,
    )
    standards: list[str] = _standards(DRIVELINE_SHEET, "API GL-4")


class QuotedFluid(Section):
    """One fluid that a line of the quote holds."""

    fluid: str = word("what it is", *FLUIDS, typical="engine-oil", where=QUOTE)
    volume: float = measure(
        "how much in all, cans and drums together", "volume", "L", typical=10, plausible=(0.05, 250), where=QUOTE
    )
    standards: list[str] = words(
        "standards that it meets, each as the can names it; of coolant the family of its inhibitors",
        typical=LOW_ASH_EXAMPLE,
        where=QUOTE,
    )
    concentrate: bool = flag(
        "of coolant: whether it is concentrate, which water is added to", typical=False, where=QUOTE
    )
