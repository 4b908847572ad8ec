"""The functions that somebody may supply: the words of the scope of supply."""

from typing import Any

from swaplint.spec.fields import words

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
    "half-shafts": "the half-shafts from a gearbox with a final drive to the wheels, at the length that its place asks "
    "for",
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
