"""Lines with the cooler in the return, and what is around them on their way."""

from swaplint.engineering.pipes import HOSE_BORES
from swaplint.spec.fields import (
    COMPONENT_SHEET,
    DECISION,
    LOOK,
    MARKING,
    METER,
    RECORD,
    TAPE,
    TYPICAL,
    Part,
    flag,
    measure,
    number,
    text,
    word,
    words,
)
from swaplint.spec.systems.chassis import consumer

FUEL_BORES_MM = tuple(round(bore * 1e3, 3) for bore in HOSE_BORES if bore <= 0.025)


class FuelLine(Part):
    """A run of fuel line."""

    bore: float = measure(
        "inside diameter of the line",
        "length",
        "mm",
        typical=10,
        plausible=(3, 38),
        where=DECISION,
        series=FUEL_BORES_MM,
    )
    length: float = measure("length of the line", "length", "m", typical=4, plausible=(0.2, 25), where=TAPE)
    fittings_k: float = number(
        "sum of the loss coefficients K of elbows, couplings, valves and entry; a hose elbow is 0.9 to 1.5",
        typical=4,
        plausible=(0, 40),
        where=TYPICAL,
        zero=True,
    )
    lift: float = measure(
        "how far the line's outlet end is above the fuel or port that it starts from, at the worst fuel level",
        "length",
        "m",
        typical=0.3,
        plausible=(-2, 3),
        where=TAPE,
        signed=True,
    )
    material: str = word(
        "what most of the line is made of",
        "hose",
        "steel",
        "stainless-steel",
        "aluminium",
        "polyamide",
        "copper",
        "brass",
        "galvanised-steel",
        typical="hose",
        where=LOOK,
    )
    hose_class: str = word(
        "class marked on the hose, of the line itself or of its flexible ends",
        "SAE J30R6",
        "SAE J30R7",
        "SAE J30R9",
        "SAE J30R10",
        "SAE J30R11",
        "SAE J30R13",
        "ISO 19013-1",
        "ISO 19013-2",
        "unmarked",
        typical="SAE J30R13",
        where=MARKING,
    )
    hose_pressure: float = measure(
        "working pressure that the hose is rated for",
        "gauge_pressure",
        "kPa",
        typical=300,
        plausible=(50, 2500),
        where=MARKING,
    )
    hose_temperature: float = measure(
        "hottest surroundings that the hose is rated for",
        "temperature",
        "degC",
        typical=125,
        plausible=(60, 200),
        where=MARKING,
    )
    surroundings_max: float = measure(
        "hottest air along the line", "temperature", "degC", typical=90, plausible=(20, 200), where=METER
    )
    clamps: str = word(
        "how the hose ends are held",
        "fuel-injection-clamp",
        "crimped",
        "quick-connector",
        "spring-clamp",
        "worm-drive",
        typical="fuel-injection-clamp",
        where=LOOK,
    )
    heater_power: float = measure(
        "electric heater along the line; 0 where there is none",
        "power",
        "W",
        typical=0,
        plausible=(0, 1000),
        where=COMPONENT_SHEET,
        zero=True,
    )
    load: str = consumer("its heater", "fuel_heater")


class ReturnLine(FuelLine):
    """The line that takes fuel back from the engine."""

    ends_in: str = word(
        "what the return line ends in: the tank, a tee in the supply line, the filler neck",
        "tank",
        "supply-tee",
        "filler-neck",
        typical="tank",
        where=LOOK,
    )
    outlet: str = word(
        "how the fuel leaves the line in the tank",
        "submerged",
        "on-wall",
        "free-fall",
        typical="submerged",
        where=LOOK,
    )
    to_pickup: float = measure(
        "distance in the tank between the return's end and the pick-up",
        "length",
        "mm",
        typical=400,
        plausible=(0, 2500),
        where=TAPE,
        zero=True,
    )
    check_valve_drop: float = measure(
        "pressure that a check valve in the line takes; 0 where there is none",
        "pressure_difference",
        "kPa",
        typical=0,
        plausible=(0, 50),
        where=COMPONENT_SHEET,
        zero=True,
    )


class FuelCooler(Part):
    """A cooler in the return line."""

    duty: float = measure(
        "heat that it takes from the return on the hottest day",
        "power",
        "kW",
        typical=0.8,
        plausible=(0.1, 10),
        where=COMPONENT_SHEET,
    )
    drop: float = measure(
        "pressure that it takes at the return flow",
        "pressure_difference",
        "kPa",
        typical=2,
        plausible=(0, 30),
        where=COMPONENT_SHEET,
        zero=True,
    )


class FuelRoute(Part):
    """A stretch of fuel line, or the tank, and what is around it."""

    carries: str = word("what lies there", "line", "tank", typical="line", where=LOOK)
    lines: list[str] = words(
        "which lines lie in this stretch, side by side", "supply", "return", "vent", typical="supply", where=LOOK
    )
    reaches: list[str] = words(
        "which ends of its lines lie in this stretch; empty where it begins and ends at other stretches",
        "tank",
        "engine",
        typical="engine",
        where=LOOK,
    )
    clearance: str = text(
        "name of the gap under `vehicle.clearances` that is its gap to the exhaust, where the engine's movement closes "
        "it: then it follows from that one, less the movement",
        typical="fuel_line",
        where=RECORD,
    )
    gap_to_exhaust: float = measure(
        "least gap to any exhaust part, with the engine at its stops; left out where `clearance` names it",
        "length",
        "mm",
        typical=200,
        plausible=(0, 5000),
        where=TAPE,
        zero=True,
    )
    shielded: bool = flag("whether a heat shield stands between", typical=False, where=LOOK)
    near_turbocharger: bool = flag(
        "whether the nearest exhaust part is the turbocharger or the manifold", typical=False, where=LOOK
    )
    clear_of_moving_parts: bool = flag(
        "whether nothing that turns or moves can touch it, with the suspension at its stops", typical=True, where=LOOK
    )
    through_cab: bool = flag("whether it passes through the space for people", typical=False, where=LOOK)
    ahead_of_front_axle: bool = flag("whether any of it is ahead of the front axle", typical=False, where=LOOK)
    beyond_width: bool = flag("whether any of it is outside the vehicle's sides", typical=False, where=LOOK)
    guarded: bool = flag("whether frame or guard protects it from blows from below", typical=True, where=LOOK)
    below_tank: float = measure(
        "how far it hangs below the tank's underside",
        "length",
        "mm",
        typical=0,
        plausible=(0, 300),
        where=TAPE,
        zero=True,
    )
    clip_spacing: float = measure(
        "greatest distance between two clips", "length", "mm", typical=400, plausible=(50, 2000), where=TAPE
    )
    flexible_to_engine: bool = flag(
        "whether a flexible piece takes up the engine's movement, where it reaches the engine", typical=True, where=LOOK
    )
