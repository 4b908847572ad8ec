"""What the engine package's maker says of its parts: which a build may leave unused, which sizes he asks for."""

from swaplint.spec.fields import DATA_SHEET, DECISION, LOOK, Section, flag, measure, words

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
