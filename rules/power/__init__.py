"""The power pack: batteries, starting, cables, fuses, charging and grounds."""

from swaplint.api import INTERFACE, Pack, hookimpl, quantities_in, rules_in

from . import charging, charging_quantities, circuits, consumers, installation, protection, quantities, starting


@hookimpl
def swaplint_pack() -> Pack:
    """Give the host this pack."""
    return Pack(
        "power",
        interface=INTERFACE,
        rules=rules_in(starting, charging, consumers, protection, circuits, installation),
        quantities=quantities_in(quantities, charging_quantities),
    )
