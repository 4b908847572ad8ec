"""What a place asks, fact by fact. Each names the document that says so, and how it is known."""

from swaplint.spec.fields import AUTHORITY, Section, count, flag, measure, number, text, word, words

CERTIFICATE_USES = ("light-duty-road", "heavy-duty-road", "off-road", "none")
"""What an engine's emission certificate is for; off-road is that of a loose engine for plant and machines."""
EMISSION_EQUIPMENT = (
    "oxidation-catalyst",
    "three-way-catalyst",
    "particulate-filter",
    "selective-catalyst",
    "exhaust-gas-recirculation",
    "closed-crankcase",
    "vapour-canister",
    "intake-heater",
    "onboard-diagnosis",
    "malfunction-lamp",
    "calibration",
)
"""What an emission certificate lists: devices, and the software that the control unit runs."""
ALTERATIONS = (
    "frame",
    "cross-member",
    "body-structure",
    "brakes",
    "steering",
    "suspension",
    "axles",
    "wheel-track",
    "transmission",
    "seat-anchor",
    "belt-anchor",
    "airbag",
    "fuel-tank",
    "exhaust",
)
"""What a swap alters besides the engine."""
LARGER_ENGINE = "larger-engine"
"""Of what a place asks an approval for: seen from the figures of both engines, not stated."""
OTHER_ENGINE = "other-engine"
"""The same: an engine of another kind than the vehicle was offered with, which every swap is taken to be."""
ENERGIES = ("lpg", "cng", "lng", "hydrogen", "electric")
"""What a vehicle may be driven by besides petrol and diesel."""
POINTED = ("chassis", "suspension", "axles", "transmission", "steering", "engine")
"""What a place counts where the identity of a vehicle hangs on its original parts."""
TOLD = ("registration-office", "insurer", "tax-office")
"""Who must know of another engine."""
WAYS_OF_KNOWING = ("read", "older", "quoted", "memory", "invented")
KEPT = ("fuel", "cylinders", "feed")
"""What a place may want to stay as it was with the old engine; the feed is its carburettor or kind of injection."""


class LawDocument(Section):
    """A document that says what a place asks."""

    title: str = text("its title", typical="Engine change order (invented)", where=AUTHORITY)
    edition: str = text("its edition, or the day of the text that was read", typical="2025", where=AUTHORITY)
    address: str = text("where it is found", typical="none", where=AUTHORITY)


class Fact(Section):
    """Something that a place asks: from which document, and how it is known."""

    known: str = word(
        "how it is known: read in the document, read in an older edition that may not hold any more, quoted from "
        "another text, from memory, or invented for an example",
        *WAYS_OF_KNOWING,
        typical="read",
        where=AUTHORITY,
    )
    document: str = text("the document that says so, by its name among the place's", typical="order", where=AUTHORITY)
    remark: str = text("what else it says, in a sentence", typical="Older vehicles are free.", where=AUTHORITY)


class ConditionalFact(Fact):
    """Something that a place may ask of vehicles with a certain drive only."""

    for_energies: list[str] = words(
        "what a vehicle must be driven by for it to be asked; left out where it is asked of all",
        *ENERGIES,
        typical="lpg",
        where=AUTHORITY,
    )


class AgeRule(Fact):
    """How old an engine may be, or what its emissions must meet."""

    basis: str = word(
        "what the engine is held against: its model year, the emission standard that it meets, both, or nothing",
        "model-year",
        "emission-standard",
        "both",
        "nothing",
        typical="model-year",
        where=AUTHORITY,
    )
    against: str = word(
        "which year of the vehicle counts: model year, year of manufacture or of first registration",
        "model-year",
        "manufacture",
        "first-registration",
        typical="model-year",
        where=AUTHORITY,
    )
    standards: list[str] = words(
        "the emission standards of the place in their order, the least strict first",
        typical="stage 1",
        where=AUTHORITY,
    )


class CertificateRule(Fact):
    """Which emission certificates of an engine a road vehicle may have."""

    light_vehicle: list[str] = words(
        "those that a light vehicle may have", *CERTIFICATE_USES, typical="light-duty-road", where=AUTHORITY
    )
    heavy_vehicle: list[str] = words(
        "those that a heavy vehicle may have", *CERTIFICATE_USES, typical="heavy-duty-road", where=AUTHORITY
    )


class EquipmentRule(Fact):
    """What of the emission equipment must be there."""

    asked: str = word(
        "what must be there: all on the engine's certificate, all that the vehicle left the factory with, both lists, "
        "or nothing",
        "engine-list",
        "vehicle-list",
        "both",
        "nothing",
        typical="engine-list",
        where=AUTHORITY,
    )
    from_year: float = count(
        "year of first registration from which it is asked so; left out where it is asked of all",
        typical=2002,
        plausible=(1950, 2100),
        where=AUTHORITY,
    )


class ReadinessRule(Fact):
    """Whether on-board diagnosis must show that it is ready and has stored no fault."""

    asked: bool = flag("whether it is looked at when the vehicle is inspected", typical=True, where=AUTHORITY)


class VehicleClass(Fact):
    """A class of vehicles, by a mass."""

    mass: str = word(
        "which mass divides: the gross rating, the kerb mass, or the reference mass, which is kerb mass and 100 kg",
        "gross",
        "kerb",
        "reference",
        typical="gross",
        where=AUTHORITY,
    )
    above: float = measure(
        "mass above which it begins; left out for the lightest class",
        "mass",
        "kg",
        typical=3500,
        plausible=(300, 60000),
        where=AUTHORITY,
    )
    upto: float = measure(
        "mass up to which it goes; left out for the heaviest class",
        "mass",
        "kg",
        typical=3500,
        plausible=(300, 60000),
        where=AUTHORITY,
    )
    counts_as: str = word(
        "what `vehicle.weight_class` calls it; either where the place does not divide by it",
        "light",
        "heavy",
        "either",
        typical="light",
        where=AUTHORITY,
    )
    brings: str = text(
        "what belonging to it brings: licence, tax, brakes, tachograph, inspection",
        typical="another licence",
        where=AUTHORITY,
    )


class PowerLimit(Fact):
    """How strong or large an engine may be; of several bounds that it states the highest counts."""

    quantity: str = word(
        "what is limited: the power, the displacement, or the least power that the vehicle must have",
        "power",
        "displacement",
        "least-power",
        typical="power",
        where=AUTHORITY,
    )
    factor: float = number(
        "how many times that of the old engine is allowed", typical=1.2, plausible=(0.5, 5), where=AUTHORITY
    )
    per_mass: float = measure(
        "power allowed for each kilogram of kerb mass, without a driver",
        "specific_power",
        "W/kg",
        typical=200,
        plausible=(5, 1000),
        where=AUTHORITY,
    )
    largest_option: bool = flag(
        "whether as much is allowed as the largest engine that the vehicle was offered with has",
        typical=True,
        where=AUTHORITY,
    )
    least_per_gross: float = measure(
        "least power for each kilogram of the gross rating",
        "specific_power",
        "W/kg",
        typical=5,
        plausible=(0.5, 100),
        where=AUTHORITY,
    )
    binding: bool = flag(
        "whether more is refused; where not, more is for the authority to approve", typical=False, where=AUTHORITY
    )
    gross_upto: float = measure(
        "gross rating up to which it is asked; left out where it is asked of all",
        "mass",
        "kg",
        typical=3500,
        plausible=(300, 60000),
        where=AUTHORITY,
    )


class KindRule(Fact):
    """Whether the engine may be of another kind than the old one."""

    kept: list[str] = words(
        "what must stay as it was; an empty list for nothing", *KEPT, typical="fuel", where=AUTHORITY
    )
    charger_added: bool = flag(
        "whether a turbocharger or compressor may be added where the old engine had none",
        typical=False,
        where=AUTHORITY,
    )


class NoiseRule(Fact):
    """How loud the vehicle may be."""

    asked: str = word(
        "what is asked: no more than a figure, no more than the plate's figure, not louder than it was, or nothing",
        "figure",
        "plate",
        "not-louder",
        "nothing",
        typical="figure",
        where=AUTHORITY,
    )
    figure: float = measure(
        "that figure", "sound_level", "dB(A)", typical=90, plausible=(60, 120), where=AUTHORITY, bare=True
    )
    over_plate: float = measure(
        "what may be added to the plate's figure",
        "sound_difference",
        "dB",
        typical=5,
        plausible=(0, 10),
        where=AUTHORITY,
        zero=True,
        bare=True,
    )
    method: str = text("how it is measured", typical="stationary, at three quarters of rated speed", where=AUTHORITY)
    gross_upto: float = measure(
        "gross rating up to which it is asked so; left out where it is asked of all",
        "mass",
        "kg",
        typical=3500,
        plausible=(300, 60000),
        where=AUTHORITY,
    )


class OdometerRule(Fact):
    """How right the distance that is shown must be."""

    error_max: float = measure(
        "greatest error of the distance shown, to either side",
        "share",
        "%",
        typical=4,
        plausible=(0.5, 20),
        where=AUTHORITY,
    )


class IdentityRule(Fact):
    """From how many points for original parts a vehicle keeps its registration."""

    counted: bool = flag("whether it counts such points", typical=False, where=AUTHORITY)
    chassis: float = count("points for the chassis", typical=5, plausible=(0, 20), where=AUTHORITY, zero=True)
    suspension: float = count("points for the suspension", typical=2, plausible=(0, 20), where=AUTHORITY, zero=True)
    axles: float = count("points for the axles", typical=2, plausible=(0, 20), where=AUTHORITY, zero=True)
    transmission: float = count("points for the transmission", typical=2, plausible=(0, 20), where=AUTHORITY, zero=True)
    steering: float = count("points for the steering", typical=2, plausible=(0, 20), where=AUTHORITY, zero=True)
    engine: float = count("points for the engine", typical=1, plausible=(0, 20), where=AUTHORITY, zero=True)
    keeps_from: float = count("how many points it must have", typical=8, plausible=(1, 60), where=AUTHORITY)
    altered_chassis_loses: bool = flag(
        "whether an altered chassis or body structure costs the registration whatever the sum",
        typical=True,
        where=AUTHORITY,
    )
