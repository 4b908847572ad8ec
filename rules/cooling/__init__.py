"""The cooling pack: does the heat leave the engine on every day and place of its work, and the coolant stay in?"""

from swaplint.api import INTERFACE, Pack, hookimpl, quantities_in, rules_in

from . import air, air_quantities, circuit, circuit_quantities, heat, heat_quantities, mixture


@hookimpl
def swaplint_pack() -> Pack:
    """Give the host this pack."""
    return Pack(
        "cooling",
        interface=INTERFACE,
        rules=rules_in(heat, air, mixture, circuit),
        quantities=quantities_in(heat_quantities, air_quantities, circuit_quantities),
    )
