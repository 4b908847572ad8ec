"""The chassis pack: do brakes, steering, belts, cab heater and air conditioning still work with this engine?"""

from swaplint.api import INTERFACE, Pack, figures_in, hookimpl, listings_in, quantities_in, rules_in, steps_in


@hookimpl
def swaplint_pack() -> Pack:
    """Give the host this pack."""
    return Pack(
        "chassis",
        interface=INTERFACE,
        rules=rules_in(__name__),
        quantities=quantities_in(__name__),
        figures=figures_in(__name__),
        listings=listings_in(__name__),
        steps=steps_in(__name__),
    )
