"""The chassis pack: do brakes, steering, belts, cab heater and air conditioning still work with this engine?"""

from swaplint.api import INTERFACE, Pack, hookimpl, quantities_in, rules_in

from . import (
    belts,
    belts_quantities,
    brakes,
    brakes_quantities,
    cab,
    cab_quantities,
    steering,
    steering_quantities,
    vacuum,
    vacuum_quantities,
)


@hookimpl
def swaplint_pack() -> Pack:
    """Give the host this pack."""
    return Pack(
        "chassis",
        interface=INTERFACE,
        rules=rules_in(vacuum, brakes, steering, belts, cab),
        quantities=quantities_in(
            vacuum_quantities, brakes_quantities, steering_quantities, belts_quantities, cab_quantities
        ),
    )
