"""The cautions that findings carry where the work can hurt someone. One plain line each."""

HIGH_PRESSURE_FUEL = (
    "Common-rail fuel is at well over 100 MPa: never loosen a line on a running or recently stopped engine. A fine "
    "jet goes through skin and is a surgical emergency. Never reuse or bend a high-pressure line."
)
FUEL_FIRE = (
    "Fuel and its vapour burn: disconnect the battery, no flame or sparks, ventilate, extinguisher at hand. A tank "
    "that held petrol is explosive until professionally cleaned; never weld it."
)
BATTERY_ARC = (
    "A battery can deliver a thousand amperes: remove rings, disconnect the negative first, cover the terminals. "
    "Batteries give off hydrogen."
)
HOT = "Hot coolant under pressure and exhaust parts burn: let them cool before opening or touching."
EXHAUST_GAS = "Exhaust gas kills: never run the engine indoors without extraction."
CRUSH = "Support the vehicle on stands and the engine on rated lifting gear; nobody under a hanging load."
ROTATING = "Keep hair, sleeves and hands from belts, fan and shafts; an electric fan can start by itself."
BRAKES = "Changes to brakes go before a licensed engineer or inspector before road use."
STEERING = "Changes to steering go before a licensed engineer or inspector before road use."
FRAME = (
    "Welding or cutting a frame, cross-member or mount goes before a licensed engineer; disconnect the battery and the "
    "control unit before welding."
)
REFRIGERANT = "Refrigerant is handled only by certified people with recovery equipment."
LAW = "Local rules and the engine maker's requirements come first; ask the authority before money is spent."
TYRES = "A tyre beyond its load or speed rating can fail without warning."

CLOSING = (
    "This is a planning aid. Local codes and the engine maker's own requirements come first. Alterations to structure, "
    "brakes, steering or emissions equipment go before a licensed engineer or inspector."
)
"""What every report ends with."""
