"""Hoses beside those of fuel, coolant, air and exhaust: heater, brake vacuum, steering, air conditioning."""

from swaplint.spec.fields import LOOK, MARKING, TAPE, Part, flag, measure, text, word

CARRIED = (
    "heater-feed",
    "heater-return",
    "brake-vacuum",
    "steering-pressure",
    "steering-return",
    "refrigerant-suction",
    "refrigerant-discharge",
    "refrigerant-liquid",
    "other",
)
"""What such a hose carries."""


class ServiceHose(Part):
    """A hose that the swap brings or keeps, beside those of fuel, coolant, air and exhaust."""

    carries: str = word("what it carries", *CARRIED, typical="heater-feed", where=LOOK)
    bore: float = measure(
        "inside diameter of the hose", "length", "mm", typical=16, plausible=(2, 80), where=MARKING, settled="choice"
    )
    length: float = measure(
        "length of the run that it takes, ends included",
        "length",
        "m",
        typical=1.2,
        plausible=(0.05, 15),
        where=TAPE,
        settled="choice",
    )
    marked: str = text("standard that is printed on it", typical="SAE J20 R3", where=MARKING)
    through: str = text(
        "name of the opening of `electrics.openings` that it passes through, where it crosses a panel",
        typical="bulkhead",
        where=LOOK,
    )
    kept: bool = flag("whether it is the vehicle's own and stays as it is", typical=False, where=LOOK)
