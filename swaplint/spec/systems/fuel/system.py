"""The whole from the filler to the engine and back, and the work that a change of fuel makes."""

from swaplint.spec.fields import (
    COMPONENT_SHEET,
    DATA_SHEET,
    LOOK,
    MANUAL,
    METER,
    PLATE,
    RECORD,
    Section,
    flag,
    measure,
    part,
    parts,
    word,
)
from swaplint.spec.systems.chassis import ApprovedVehicle
from swaplint.spec.systems.fuel.grade import FuelGrade
from swaplint.spec.systems.fuel.lines import FuelCooler, FuelLine, FuelRoute, ReturnLine
from swaplint.spec.systems.fuel.pumps import FuelFilter, FuelPump
from swaplint.spec.systems.fuel.tank import Canister, FuelTank, TankVent
from swaplint.spec.systems.fuel.tank_place import SecondTank


class FuelConversion(Section):
    """What a change from one kind of fuel to the other asks for."""

    tank_cleaned: bool = flag(
        "whether a specialist has cleaned and dried the tank that is kept", typical=True, where=RECORD
    )
    pickup_renewed: bool = flag("whether pick-up and strainer are new", typical=True, where=RECORD)
    seals_suit_fuel: bool = flag(
        "whether all seals that are kept suit the new fuel", typical=True, where=COMPONENT_SHEET
    )
    filler_suits_nozzle: bool = flag(
        "whether the filler takes the nozzle of the new fuel, and for petrol refuses the diesel one",
        typical=True,
        where=LOOK,
    )
    labelled: bool = flag("whether the filler says which fuel goes in", typical=True, where=LOOK)
    sender_matched: bool = flag("whether gauge and level sender read right together", typical=True, where=METER)
    papers_asked: bool = flag(
        "whether the registration authority was asked about the change of fuel", typical=True, where=RECORD
    )
    vapour_tight: bool = flag("whether tank and cap hold petrol vapour", typical=True, where=RECORD)
    filler_conductive: bool = flag(
        "whether filler neck and hose lead static charge to the bonded tank", typical=True, where=METER
    )


class HighPressureSide(Section):
    """The injection side: whether it was opened, and how it was closed."""

    opened: bool = flag(
        "whether any high-pressure line, rail or injector was loosened or moved", typical=False, where=RECORD
    )
    home_made_line: bool = flag(
        "whether any high-pressure line was made or bent in the workshop", typical=False, where=LOOK
    )
    lines_renewed: bool = flag("whether every line that was loosened is new", typical=True, where=RECORD)
    pipes_sound: bool = flag(
        "whether every pipe that was refitted has sound cones and nuts and was never bent, which mechanical injection "
        "takes again",
        typical=True,
        where=LOOK,
    )
    washers_renewed: bool = flag("whether every sealing washer that was loosened is new", typical=True, where=RECORD)
    tightened_to_sheet: bool = flag(
        "whether torque and sequence of the engine maker were used and written down", typical=True, where=RECORD
    )
    leak_off_connected: bool = flag("whether the injectors' leak-off is complete and free", typical=True, where=LOOK)


class FuelSystem(Section):
    """From the filler to the engine's fuel inlet, and back."""

    grade: FuelGrade = part("the fuel that goes into the tank")
    tank: FuelTank = part("the fuel tank")
    second_tank: SecondTank = part("a second fuel tank")
    vent: TankVent = part("the vent of the tank")
    canister: Canister = part("the canister for petrol vapour")
    supply: FuelLine = part(
        "the line from the tank to the engine's fuel inlet; its lift counts from the lowest fuel level"
    )
    return_line: ReturnLine = part("the line back to the tank")
    cooler: FuelCooler = part("a cooler in the return line")
    pump: FuelPump = part("the pump that feeds the engine's own: a lift pump or an in-tank pump")
    old_pump: FuelPump = part("a pump of the old engine that still stands in the supply line")
    filters: dict[str, FuelFilter] = parts(
        "the filters, each under its name: primary, final",
        may_be_empty="the engine package's own filter may be the only one, which fuel.filtration judges",
    )
    routes: dict[str, FuelRoute] = parts("stretches of line, and the tank, each under a name of its own", needed=True)
    conversion: FuelConversion = part("what was done about the change of fuel")
    high_pressure: HighPressureSide = part("what was done on the injection side")
    consumption: float = measure(
        "mixed consumption on the road",
        "distance_consumption",
        "L/100 km",
        typical=14,
        plausible=(4, 90),
        where="fuel receipts and odometer of this or a like vehicle",
    )
    stationary_burn: float = measure(
        "fuel burnt in standing work", "volume_flow", "L/h", typical=8, plausible=(0.5, 150), where=DATA_SHEET
    )


class OriginalVehicle(ApprovedVehicle):
    """The vehicle as it left the factory."""

    fuel_type: str = word("what the old engine burnt", "diesel", "petrol", typical="petrol", where=PLATE)
    canister: bool = flag(
        "whether the vehicle left the factory with a canister for petrol vapour", typical=True, where=MANUAL
    )
