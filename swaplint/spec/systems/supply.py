"""Fields of the scope of supply: who supplies what."""

from typing import Any

from swaplint.spec.fields import (
    DATA_SHEET,
    DECISION,
    LOOK,
    QUOTE,
    RECORD,
    Part,
    Section,
    day,
    flag,
    items,
    measure,
    number,
    text,
    word,
    words,
)

FUNCTIONS: dict[str, str] = {
    # the engine package
    "engine": "the engine itself",
    "flywheel": "the flywheel or flex-plate, which clutch or converter bolts to",
    "flywheel-housing": "the flywheel housing, or the plate behind the block that stands in for it",
    "starter": "the starter motor",
    "alternator": "the alternator",
    "belts": "the belts with their pulleys and tensioner",
    "control-unit": "the engine's electronic control unit",
    "calibration": "the control unit's software for this vehicle, with the right to use it, free of any immobiliser",
    "engine-harness": "the wiring on the engine, from control unit to sensors and injectors",
    "vehicle-harness": "the wiring between the control unit and the vehicle: feeds, pedal, lamps, plugs",
    # the driveline
    "adapter": "the ring or plate that joins the engine to the gearbox",
    "pilot-bush": "the bush or bearing in the crank that carries the nose of the gearbox's input shaft",
    "clutch": "the clutch cover and disc",
    "clutch-release": "the release bearing with its fork, and the hydraulics or cable that move it",
    "converter": "the torque converter",
    "gearbox": "the gearbox",
    "gear-lever": "the gear lever with its linkage, reaching where the gearbox now is",
    "transfer-case": "the transfer case",
    "propshafts": "the propshafts, at the length that the new gearbox place asks for",
    "axle-gears": "the gear sets that give the axles their new ratio",
    "speedometer-drive": "what makes the speedometer read right again",
    # what holds it
    "mounts": "the rubber mounts under engine and gearbox",
    "brackets": "the brackets, and the cross-member where the old one does not fit",
    # fuel
    "fuel-tank": "the fuel tank",
    "fuel-sender": "the pick-up in the tank and the sender of the fuel gauge",
    "fuel-filler": "the filler neck with its cap and label, for the new fuel",
    "tank-vent": "the vent of the tank, with what closes it when the vehicle rolls over",
    "fuel-lines": "the fuel lines to the engine and back, with hoses and clamps",
    "fuel-filter": "the fuel filter between tank and engine; for diesel one that parts water off",
    "feed-pump": "the pump that feeds the engine's own: a lift pump, or one in the tank",
    "vapour-canister": "the canister that holds back petrol vapour, with its purge line",
    "fuel-cooler": "the cooler in the fuel return",
    # cooling
    "radiator": "the radiator",
    "cooling-fan": "the fan with its drive, and what switches it",
    "fan-shroud": "the shroud around the fan",
    "expansion-tank": "the expansion tank with its cap, fill line and vent lines",
    "coolant-hoses": "the hoses between engine and radiator, with clamps",
    "heater-hoses": "the hoses between engine and cab heater",
    "charge-air-cooler": "the cooler for the air between turbocharger and manifold",
    "charge-air-pipes": "the pipes and hoses from turbocharger to charge-air cooler and on to the manifold",
    "oil-coolers": "the coolers for oil of gearbox, steering or hydraulics",
    # air and exhaust
    "air-cleaner": "the air filter with its housing",
    "intake-ducts": "the ducts from the opening in the body to the engine",
    "pre-cleaner": "the pre-cleaner ahead of the air filter",
    "air-flow-sensor": "the air-mass sensor with its housing",
    "crankcase-breather": "the breather line from the crankcase, with its oil separator",
    "exhaust-pipes": "the exhaust pipes with flanges and hangers",
    "exhaust-flex": "the flexible piece between engine and exhaust",
    "aftertreatment": "the catalysts, filters and sensors that the engine is certified with",
    "reductant-tank": "the tank, pump and lines of the reductant",
    "silencer": "the silencer",
    "heat-shields": "the heat shields near exhaust and turbocharger",
    # brakes, steering, cab
    "brake-booster": "the brake booster",
    "vacuum-pump": "the pump that makes the vacuum for the brake booster",
    "vacuum-reservoir": "the vacuum reservoir, for the stops after the engine has died",
    "vacuum-hose": "the vacuum hose to the booster, with its check valve",
    "steering-pump": "the pump of the power steering",
    "steering-hoses": "the hoses of the power steering",
    "air-conditioning": "the refrigerant compressor with its bracket and lines",
    # electrics
    "battery": "the battery, or all of them",
    "battery-tray": "the tray, hold-down and covers of the battery",
    "starter-cable": "the cable from battery to starter",
    "alternator-cable": "the charging cable from the alternator",
    "main-fuse": "the fuses close to the battery, for every cable but the starter's",
    "fuse-box": "the fuses and relays of the new circuits",
    "ground-straps": "the ground cables between engine, battery, frame and cab",
    "isolator": "the main switch",
    "intake-heater-cable": "the cable and relay of the intake air heater or glow plugs",
    "voltage-converters": "the converters for consumers of another voltage",
    # what the driver works and sees
    "key-switch": "the key switch, and the circuits from it that wake the control unit and crank the starter",
    "start-interlock": "the switch that lets the starter turn only out of gear, or with the clutch pressed",
    "pedal": "the accelerator pedal that the control unit understands, with its plug",
    "gauges": "the gauges or display: engine speed, oil pressure, coolant temperature, fuel",
    "warning-lamps": "the warning lamps that the engine asks for",
    "data-bus": "the data bus between engine, displays and the rest, with its terminating resistors",
    "diagnostic-connector": "the connector for the diagnostic tool",
    # what is poured in, used up, or done
    "engine-oil": "engine oil of the right standard, and its filter",
    "coolant": "coolant of the right chemistry",
    "other-fluids": "fluids of gearbox, axles, clutch, brakes and steering",
    "consumables": "seals, one-use bolts, clamps, crimps and other small parts",
    "engineering-report": "the engineer's report on what is altered",
    "inspection": "the inspection, with its fee",
    "commissioning": "first start, trials and setting up",
    "other": "something that this list does not have",
}
"""What somebody may supply: the words of the scope of supply, each with what it means."""


def covered(description: str, *, typical: str, where: str) -> Any:
    """Declare a list of functions: words out of `FUNCTIONS`."""
    return words(description, *FUNCTIONS, typical=typical, where=where)


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
    offers: list[OfferedValue] = items(
        "what the quote says of sizes, ratios, bores and materials, value by value",
        may_be_empty="a line may name no value that the spec has a field for",
    )
    mass: float = measure("mass of it", "mass", "kg", typical=10, plausible=(0.01, 3000), where=QUOTE)
    ledger: str = text("name of the item of the mass ledger that counts it", typical="exhaust", where=RECORD)
    note: str = text("a remark for people; no rule reads it", typical="includes bolts", where=RECORD)


# -- the quote as a whole ---------------------------------------------------------------------------------------------
class Quote(Part):
    """The quote that the scope of supply is bought by. Its lines are those that the kit or the shop supplies."""

    currency: str = text("currency of its prices", typical="EUR", where=QUOTE)
    valid_until: str = day("last day on which it can be accepted", typical="2026-06-30", where=QUOTE)
    ordered_on: str = day("day on which it was accepted; left out until it is", typical="2026-05-31", where=RECORD)
    work_starts_on: str = day(
        "day on which the work starts and the parts are needed", typical="2026-08-31", where=DECISION
    )
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


# -- what a build may leave unused ------------------------------------------------------------------------------------
TREATMENTS = ("closed", "plugged", "lubricated", "connected", "looped", "removed")
"""What is done with a part that is not used: an opening closed by a cover or plugged against dirt, a drive that turns
kept in oil, a signal or line connected all the same, two ports joined by a hose, the part taken off."""


class OptionalPart(Section):
    """A part of the engine package that a build may leave unused: a pump drive, a heater port, a bracket, a valve."""

    if_unused: list[str] = words(
        "what its maker asks for where it is not used; empty where nothing need be done",
        *TREATMENTS,
        typical="closed",
        where=DATA_SHEET,
    )


class OptionalPartUse(Section):
    """What the build does with one of the package's optional parts, under the same name."""

    used: bool = flag("whether the build uses it", typical=False, where=DECISION)
    done: list[str] = words(
        "what is done with it where it is not used; empty where nothing is", *TREATMENTS, typical="closed", where=LOOK
    )


# -- what the maker prescribes ----------------------------------------------------------------------------------------
class Prescribed(Section):
    """Sizes that the engine's maker asks for, whatever is computed. What the sheet does not name is not asked."""

    fuel_supply_bore_min: float = measure(
        "least bore of the fuel supply line", "length", "mm", typical=8, plausible=(3, 38), where=DATA_SHEET, limit=True
    )
    fuel_return_bore_min: float = measure(
        "least bore of the fuel return line", "length", "mm", typical=6, plausible=(3, 38), where=DATA_SHEET, limit=True
    )
    primary_filter_fineness_max: float = measure(
        "coarsest fineness of the fuel filter ahead of the feed pump",
        "length",
        "µm",
        typical=30,
        plausible=(2, 300),
        where=DATA_SHEET,
        limit=True,
    )
    starter_cable_min: float = measure(
        "least size of the copper cable from battery to starter",
        "conductor",
        "mm2",
        typical=50,
        plausible=(6, 240),
        where=DATA_SHEET,
        limit=True,
    )
    harness_hole_min: float = measure(
        "least hole that its harness is drawn through with its connector",
        "length",
        "mm",
        typical=55,
        plausible=(5, 200),
        where=DATA_SHEET,
        limit=True,
    )
    cap_pressure_max: float = measure(
        "greatest opening pressure of the radiator or tank cap",
        "gauge_pressure",
        "kPa",
        typical=120,
        plausible=(10, 250),
        where=DATA_SHEET,
        limit=True,
    )
