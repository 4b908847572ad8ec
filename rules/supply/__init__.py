"""The supply pack: does somebody supply everything that the build needs, and only one of them each thing?"""

from swaplint.api import INTERFACE, Pack, hookimpl, listings_in, quantities_in, rules_in


@hookimpl
def swaplint_pack() -> Pack:
    """Give the host this pack."""
    return Pack(
        "supply",
        interface=INTERFACE,
        rules=rules_in(__name__),
        listings=listings_in(__name__),
        quantities=quantities_in(__name__),
    )
