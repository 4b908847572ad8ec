"""The intake pack: does the engine get enough cool, clean air, and do charge pipes and breather hold?"""

from swaplint.api import INTERFACE, Pack, figures_in, hookimpl, listings_in, quantities_in, rules_in, steps_in


@hookimpl
def swaplint_pack() -> Pack:
    """Give the host this pack."""
    return Pack(
        "intake",
        interface=INTERFACE,
        rules=rules_in(__name__),
        quantities=quantities_in(__name__),
        figures=figures_in(__name__),
        listings=listings_in(__name__),
        steps=steps_in(__name__),
    )
