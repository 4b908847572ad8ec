"""What keeps people safe while engine and gearbox are lifted, and the vehicle is worked on."""

from swaplint.spec.fields import DECISION, MARKING, RECORD, TAPE, Section, count, flag, measure


class WorkshopSafety(Section):
    """Lifting gear and what else is at hand."""

    hoist_capacity: float = measure(
        "what the hoist may lift, at the reach that it is used at",
        "mass",
        "kg",
        typical=1000,
        plausible=(50, 20000),
        where=MARKING,
    )
    lifted_together: bool = flag(
        "whether engine and gearbox, and what else is bolted to them, are lifted as one",
        typical=True,
        where=DECISION,
    )
    sling_legs: float = count("legs of the sling", typical=2, plausible=(1, 4), where=MARKING)
    sling_leg_capacity: float = measure(
        "what one leg of the sling may carry hanging straight down",
        "mass",
        "kg",
        typical=500,
        plausible=(25, 10000),
        where=MARKING,
    )
    sling_angle: float = measure(
        "greatest angle of a leg from the vertical, 0 for a single leg",
        "angle",
        "deg",
        typical=30,
        plausible=(0, 80),
        where=TAPE,
        zero=True,
        settled="choice",
    )
    gear_checked: bool = flag(
        "whether hoist and sling were looked over for damage within the last year", typical=True, where=RECORD
    )
    stands: bool = flag("whether rated stands hold the vehicle", typical=True, where=RECORD)
    extinguisher: bool = flag("whether a fire extinguisher for fuel is at hand", typical=True, where=RECORD)
    ventilation: bool = flag("whether exhaust gas and fuel vapour are drawn off", typical=True, where=RECORD)
    eyes_and_ears: bool = flag("whether there is protection for eyes and ears", typical=True, where=RECORD)
