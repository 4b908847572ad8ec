"""Fields of batteries."""

from swaplint.spec.fields import COMPONENT_SHEET, LOOK, MARKING, METER, Part, count, flag, measure, word
from swaplint.spec.systems.power.engine import CRANKING_STANDARDS


class Battery(Part):
    """One battery as it is sold."""

    use: str = word(
        "what it serves: starting, or other loads behind a separator, from the node auxiliary-positive",
        "starting",
        "auxiliary",
        typical="starting",
        where=LOOK,
    )
    voltage: float = measure(
        "nominal voltage of this one battery", "voltage", "V", typical=12, plausible=(6, 24), where=MARKING
    )
    cca: float = measure(
        "cold-cranking rating of this one battery",
        "current",
        "A",
        typical=700,
        plausible=(150, 1600),
        where=MARKING,
    )
    cca_standard: str = word(
        "standard that the rating is stated to", *CRANKING_STANDARDS, typical="EN 50342-1", where=MARKING
    )
    capacity: float = measure("rated capacity", "charge", "Ah", typical=90, plausible=(20, 300), where=MARKING)
    reserve: float = measure(
        "reserve capacity: how long it gives 25 A", "time", "min", typical=120, plausible=(20, 500), where=MARKING
    )
    step_current: float = measure(
        "by how much the current differs between two steady loads, 50 A at least, warm and well charged",
        "current",
        "A",
        typical=150,
        plausible=(20, 1000),
        where=METER,
    )
    step_voltage: float = measure(
        "by how much its voltage differs between those two loads, read within five seconds",
        "voltage",
        "V",
        typical=0.65,
        plausible=(0.05, 5),
        where=METER,
    )
    mass: float = measure(
        "mass of this one battery", "mass", "kg", typical=22, plausible=(5, 90), where=COMPONENT_SHEET
    )
    temperature_max: float = measure(
        "highest temperature that its maker allows around it",
        "temperature",
        "degC",
        typical=60,
        plausible=(35, 90),
        where=COMPONENT_SHEET,
        signed=True,
        limit=True,
    )
    place: str = word(
        "where it stands",
        "cab",
        "load-space",
        "engine-space",
        "frame",
        typical="engine-space",
        where=LOOK,
    )
    place_temperature: float = measure(
        "highest temperature of the air where it stands",
        "temperature",
        "degC",
        typical=50,
        plausible=(10, 110),
        where=METER,
        signed=True,
    )
    hold_down_bolts: float = count(
        "number of bolts or rods of its hold-down; 0 for none", typical=2, plausible=(0, 8), where=LOOK, zero=True
    )
    hold_down_bolt: str = word("thread of those bolts", "M5", "M6", "M8", "M10", "M12", typical="M8", where=LOOK)
    covered: bool = flag(
        "whether a fixed part of the vehicle or a removable cover protects it, its live terminals insulated",
        typical=True,
        where=LOOK,
    )
    vented_outside: bool = flag(
        "whether its gas goes outside the vehicle: a box with a vent pipe, or a place in the open air",
        typical=True,
        where=LOOK,
    )
    relative_to_tank: str = word(
        "where it stands as seen from the fuel tank, filler or filter",
        "apart",
        "beside",
        "above",
        "below",
        typical="apart",
        where=LOOK,
    )
