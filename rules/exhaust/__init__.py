"""The exhaust pack: does the gas get out without harm to engine, vehicle and people, cleaned as certified?"""

from swaplint.api import INTERFACE, Pack, figures_in, hookimpl, listings_in, quantities_in, rules_in, steps_in


@hookimpl
def swaplint_pack() -> Pack:
    """Give the host this pack."""
    return Pack(
        "exhaust",
        interface=INTERFACE,
        rules=rules_in(__name__),
        quantities=quantities_in(__name__),
        figures=figures_in(__name__),
        listings=listings_in(__name__),
        steps=steps_in(__name__),
    )
