"""The tank with its swirl pot, its vent and the canister."""

from swaplint.spec.fields import (
    COMPONENT_SHEET,
    DECISION,
    LOOK,
    MARKING,
    TAPE,
    TRIAL,
    TYPICAL,
    Part,
    flag,
    measure,
    part,
    word,
)
from swaplint.spec.systems.fuel.tank_place import PlacedTank


class SwirlPot(Part):
    """A small pot inside the tank that keeps fuel around the pick-up."""

    volume: float = measure(
        "fuel that the pot holds", "volume", "L", typical=1.2, plausible=(0.2, 5), where=COMPONENT_SHEET
    )


class FuelTank(PlacedTank):
    """The fuel tank, taken as a box."""

    length: float = measure(
        "inside length, along the vehicle", "length", "mm", typical=800, plausible=(200, 3000), where=TAPE
    )
    width: float = measure(
        "inside width, across the vehicle", "length", "mm", typical=450, plausible=(100, 2000), where=TAPE
    )
    height: float = measure("inside height", "length", "mm", typical=240, plausible=(80, 1000), where=TAPE)
    material: str = word(
        "what the tank is made of; terne is steel with a lead and tin coat",
        "steel",
        "stainless-steel",
        "aluminium",
        "galvanised-steel",
        "terne-steel",
        "plastic",
        typical="aluminium",
        where=LOOK,
    )
    reused: bool = flag("whether the tank has held the fuel of the old engine", typical=False, where=DECISION)
    baffled: bool = flag("whether a baffle parts the return from the pick-up", typical=True, where=LOOK)
    pickup_height: float = measure(
        "height of the pick-up's mouth above the tank floor",
        "length",
        "mm",
        typical=20,
        plausible=(2, 100),
        where=TAPE,
        zero=True,
    )
    pickup_x: float = measure(
        "place of the pick-up ahead of the tank's middle, negative behind it",
        "length",
        "mm",
        typical=0,
        plausible=(-1500, 1500),
        where=TAPE,
        signed=True,
    )
    pickup_y: float = measure(
        "place of the pick-up to the left of the tank's middle, negative to the right",
        "length",
        "mm",
        typical=0,
        plausible=(-1000, 1000),
        where=TAPE,
        signed=True,
    )
    swirl_pot: SwirlPot = part("a swirl pot around the pick-up")
    inner_hose: str = word(
        "class of the hose inside the tank, at an in-tank pump",
        "SAE J30R10",
        "other",
        "none",
        typical="SAE J30R10",
        where=MARKING,
    )
    low_level_lamp: float = measure(
        "fuel left in the tank when the low-fuel lamp comes on",
        "volume",
        "L",
        typical=12,
        plausible=(1, 200),
        where=TRIAL,
        settled="choice",
    )
    filler_breather: bool = flag(
        "whether the air leaves through a breather of its own while the tank is filled", typical=True, where=LOOK
    )
    filling_rate: float = measure(
        "flow of the filling nozzle, where its air leaves through the vent",
        "volume_flow",
        "L/min",
        typical=40,
        plausible=(5, 150),
        where=TYPICAL,
    )


class TankVent(Part):
    """The vent of the tank."""

    path: str = word(
        "which way the tank breathes",
        "own-line",
        "canister",
        "cap-only",
        typical="own-line",
        where=LOOK,
    )
    bore: float = measure(
        "inside diameter of the vent line", "length", "mm", typical=8, plausible=(2, 25), where=DECISION
    )
    length: float = measure("length of the vent line", "length", "m", typical=1, plausible=(0.1, 8), where=TAPE)
    opening_pressure: float = measure(
        "pressure that opens its valve; 0 where the vent is always open",
        "pressure_difference",
        "kPa",
        typical=0.2,
        plausible=(0, 10),
        where=COMPONENT_SHEET,
        zero=True,
    )
    rollover_valve: bool = flag("whether it closes when the vehicle rolls over", typical=True, where=LOOK)
    end_height: float = measure(
        "height of its open end above the ground", "length", "mm", typical=900, plausible=(100, 3500), where=TAPE
    )
    clear_of_heat: bool = flag(
        "whether its open end is away from exhaust, sparks and the cab's air", typical=True, where=LOOK
    )


class Canister(Part):
    """The canister that takes up petrol vapour."""

    purged: bool = flag("whether the engine purges it, as its control unit expects", typical=True, where=LOOK)
