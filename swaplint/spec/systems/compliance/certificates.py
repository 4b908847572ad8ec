"""What engine and vehicle were certified to."""

from swaplint.spec.fields import (
    DATA_SHEET,
    LOOK,
    MANUAL,
    METER,
    PLATE,
    RECORD,
    Section,
    count,
    day,
    flag,
    measure,
    text,
    word,
    words,
)
from swaplint.spec.systems.compliance.facts import CERTIFICATE_USES, EMISSION_EQUIPMENT
from swaplint.spec.systems.fuel import INJECTIONS


class EngineCertificate(Section):
    """The emission certificate of the engine package."""

    use: str = word(
        "what it is for: a light or heavy road vehicle, plant and machines off the road, or there is none",
        *CERTIFICATE_USES,
        typical="light-duty-road",
        where=DATA_SHEET,
    )
    authority: str = text("who issued it", typical="Example Air Board (invented)", where=DATA_SHEET)
    family: str = text("the engine family that it names", typical="EX28D (invented)", where=DATA_SHEET)
    standard: str = text("the emission standard that it is for", typical="stage 3 (invented)", where=DATA_SHEET)
    number: str = text("its number", typical="EX-2022-117 (invented)", where=DATA_SHEET)
    model_year: float = count("the model year that it is for", typical=2020, plausible=(1960, 2100), where=DATA_SHEET)
    valid_until: str = day(
        "last day on which an engine may be registered with it; left out where it has none",
        typical="2027-12-31",
        where=DATA_SHEET,
    )
    road_use: str = word(
        "whether the engine maker lets it be used on the road: yes, no, or only in the place of the same engine",
        "yes",
        "no",
        "replacement-only",
        typical="yes",
        where=DATA_SHEET,
    )
    equipment: list[str] = words(
        "what it lists of emission equipment; an empty list for nothing",
        *EMISSION_EQUIPMENT,
        typical="oxidation-catalyst",
        where=DATA_SHEET,
    )
    calibration: str = text("the software that it is for, by its number", typical="C28-04 (invented)", where=DATA_SHEET)
    installation_approval: bool = flag(
        "whether the engine maker must approve the installation", typical=False, where=DATA_SHEET
    )
    installation_approved: bool = flag("whether that was done", typical=True, where=RECORD)


class VehicleNoise(Section):
    """How loud the vehicle is, and marks of electromagnetic approval."""

    plate: float = measure(
        "the stationary figure on its plate or in its papers",
        "sound_level",
        "dB(A)",
        typical=88,
        plausible=(60, 115),
        where=PLATE,
        bare=True,
    )
    before: float = measure(
        "what it came to before the swap at the stationary test",
        "sound_level",
        "dB(A)",
        typical=86,
        plausible=(60, 115),
        where=METER,
        bare=True,
    )
    now: float = measure(
        "what it comes to at the stationary test",
        "sound_level",
        "dB(A)",
        typical=85,
        plausible=(60, 120),
        where=METER,
        bare=True,
    )
    units_marked: bool = flag(
        "whether every electronic unit that the swap brings, the engine's own included, carries a mark of "
        "electromagnetic approval",
        typical=True,
        where=LOOK,
    )


class VehicleEmissions(Section):
    """What the vehicle was certified to as it left the factory, and what it shows now."""

    model_year: float = count("its model year", typical=1995, plausible=(1900, 2100), where=PLATE)
    built: float = count("the year in which it was made", typical=1995, plausible=(1900, 2100), where=PLATE)
    standard: str = text("the emission standard that it was approved to", typical="stage 2 (invented)", where=PLATE)
    equipment: list[str] = words(
        "what it left the factory with of emission equipment; an empty list for nothing",
        *EMISSION_EQUIPMENT,
        typical="three-way-catalyst",
        where=MANUAL,
    )
    calibration: str = text(
        "the software that the engine's control unit runs, by its number", typical="C28-04 (invented)", where=METER
    )
    removed: list[str] = words(
        "emission equipment of the new engine or of the vehicle that is taken off, disabled or programmed out; an "
        "empty list for nothing",
        *EMISSION_EQUIPMENT,
        typical="particulate-filter",
        where=RECORD,
    )
    ready: bool = flag(
        "whether on-board diagnosis shows that all its tests have run, and has stored no fault",
        typical=True,
        where=METER,
    )


class OriginalEngine(Section):
    """The engine that the vehicle had, as it was approved."""

    displacement: float = measure(
        "swept volume of all cylinders of the old engine",
        "volume",
        "L",
        typical=2.4,
        plausible=(0.2, 20),
        where=PLATE,
    )
    cylinders: float = count("number of cylinders of the old engine", typical=4, plausible=(1, 16), where=PLATE)
    injection: str = word(
        "how the fuel got into the cylinders of the old engine", *INJECTIONS, typical="carburettor", where=LOOK
    )
    charged: bool = flag("whether a turbocharger or compressor charged it", typical=False, where=LOOK)
    largest_power: float = measure(
        "highest power of the strongest engine that the vehicle was offered with",
        "power",
        "kW",
        typical=95,
        plausible=(5, 600),
        where=MANUAL,
    )
    largest_displacement: float = measure(
        "swept volume of the largest engine that the vehicle was offered with",
        "volume",
        "L",
        typical=2.8,
        plausible=(0.2, 20),
        where=MANUAL,
    )
