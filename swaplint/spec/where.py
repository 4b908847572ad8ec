"""Where the value of a field is normally found, whom that asks, and what settles a field that is found there."""

from typing import Literal

# Where the value of a field is normally found: said when the field is unknown. What is owed is listed by these places,
# so that one walk, one call or one document answers all of a place. What nobody states for an old vehicle is estimated;
# the description of the field then says from what.
DATA_SHEET = "the engine package's data sheet"
DRIVELINE_SHEET = "the gearbox, transfer or axle maker's sheet or tag"
COMPONENT_SHEET = "the component's own data sheet"
TURNS_COUNTED = "a maker's sheet or tag, or counted turns"
CLAMPED = "the component's own data sheet, or a clamp meter"
TITLE_PAGE = "the title page of the data sheet"
MANUAL = "the vehicle maker's workshop manual"
PLATE = "the vehicle's plate or registration papers"
MARKING = "the marking on the part itself"
TYRE = "the tyre's sidewall and its maker's load table"
LOOK = "a look at the vehicle"
TAPE = "a tape measure on the vehicle"
CALLIPER = "a calliper or micrometer on the part"
PROTRACTOR = "an inclinometer or protractor on the vehicle"
METER = "a multimeter, clamp or thermocouple on the vehicle"
WEIGHBRIDGE = "a weighbridge, axle by axle"
SCALES = "a scale under the part"
TRIAL = "a trial of the running vehicle"
OWNER = "the owner, or whoever will drive it"
DRAWING = "the drawing or layout of the swap"
DECISION = "the shop's own decision for the build"
RECORD = "the shop's own record of the job"
QUOTE = "the supplier's quote"
AUTHORITY = "the authority or a licensed engineer"
TYPICAL = "a table of typical values"
FUEL_SUPPLIER = "the fuel supplier's specification of the grade"
AIR_MEASURED = "an estimate from the fan's curve or size, or an anemometer"
BRIEF_PLACES = {
    DATA_SHEET: "data sheet",
    DRIVELINE_SHEET: "maker's sheet or tag",
    COMPONENT_SHEET: "its data sheet",
    TURNS_COUNTED: "tag, or turns counted",
    CLAMPED: "data sheet or clamp meter",
    TITLE_PAGE: "title page",
    MARKING: "marking",
    MANUAL: "workshop manual",
    PLATE: "plate or papers",
    TYRE: "sidewall, load table",
    LOOK: "look",
    TAPE: "tape measure",
    CALLIPER: "calliper",
    PROTRACTOR: "inclinometer",
    METER: "meter",
    WEIGHBRIDGE: "weighbridge",
    OWNER: "owner",
    DRAWING: "drawing",
    DECISION: "own decision",
    RECORD: "own record",
    TYPICAL: "typical values",
}
"""The same places where there is little room."""
WHOM = (
    "engine-supplier",
    "part-maker",
    "vehicle-maker",
    "owner",
    "authority",
    "quote-supplier",
    "fuel-supplier",
    "ourselves",
)
"""Whom to ask for what is not known; ourselves where it is measured, looked at or decided."""
_WHOM = {
    DATA_SHEET: "engine-supplier",
    TITLE_PAGE: "engine-supplier",
    DRIVELINE_SHEET: "part-maker",
    COMPONENT_SHEET: "part-maker",
    MANUAL: "vehicle-maker",
    PLATE: "owner",
    OWNER: "owner",
    QUOTE: "quote-supplier",
    AUTHORITY: "authority",
    FUEL_SUPPLIER: "fuel-supplier",
} | dict.fromkeys(
    (
        TURNS_COUNTED, CLAMPED, MARKING, TYRE, LOOK, TAPE, CALLIPER, PROTRACTOR, METER, WEIGHBRIDGE, SCALES, TRIAL,
        DRAWING, DECISION, RECORD, TYPICAL, AIR_MEASURED,
    ),
    "ourselves",
)  # fmt: skip


def whom_for(where: str) -> str | None:
    """Whom to ask for what is found in a place; None for a pack's own phrase.

    >>> whom_for(DATA_SHEET), whom_for(TAPE), whom_for("a crystal ball")
    ('engine-supplier', 'ourselves', None)
    """
    return _WHOM.get(where)


Nature = Literal["choice", "setting", "measured", "wish", "plate"]
"""What settles a field: the builder chooses it, as a part, a size or a place; he sets it on a part that stays; it is
measured and follows from what is built; it is what the owner wants; or an authority says so. A remedy changes nothing
but choices and settings."""
NATURES: dict[str, Nature] = {
    PLATE: "plate",
    AUTHORITY: "plate",
    OWNER: "wish",
    METER: "measured",
    WEIGHBRIDGE: "measured",
    SCALES: "measured",
    TRIAL: "measured",
    TYPICAL: "measured",
}
"""What settles a field that does not say so itself, by where its value is normally found; else the builder chooses."""
OF_A_PART = (COMPONENT_SHEET, DRIVELINE_SHEET, TURNS_COUNTED, MARKING, TYRE, CALLIPER)
"""Where it is found what a part was made as."""
