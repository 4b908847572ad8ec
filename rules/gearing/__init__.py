"""The gearing pack: do engine, ratios, tyres and duty fit together?"""

from swaplint.api import INTERFACE, Pack, hookimpl, quantities_in, rules_in

from . import hills, hills_quantities, quantities, rules


@hookimpl
def swaplint_pack() -> Pack:
    """Give the host this pack."""
    return Pack(
        "gearing",
        interface=INTERFACE,
        rules=rules_in(rules, hills),
        quantities=quantities_in(quantities, hills_quantities),
    )
