"""The mass pack: what do the axles, tyres and springs carry after the swap, empty and loaded?"""

from swaplint.api import INTERFACE, Pack, figures_in, hookimpl, listings_in, quantities_in, rules_in, steps_in


@hookimpl
def swaplint_pack() -> Pack:
    """Give the host this pack."""
    return Pack(
        "mass",
        interface=INTERFACE,
        rules=rules_in(__name__),
        quantities=quantities_in(__name__),
        figures=figures_in(__name__),
        steps=steps_in(__name__),
        listings=listings_in(__name__),
    )
