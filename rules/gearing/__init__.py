"""The gearing pack: do engine, ratios, tyres and duty fit together?"""

from swaplint.api import INTERFACE, Pack, figures_in, hookimpl, quantities_in, rules_in, steps_in


@hookimpl
def swaplint_pack() -> Pack:
    """Give the host this pack."""
    return Pack(
        "gearing",
        interface=INTERFACE,
        rules=rules_in(__name__),
        quantities=quantities_in(__name__),
        figures=figures_in(__name__),
        steps=steps_in(__name__),
    )
