"""The commissioning pack: does the finished vehicle do what was reckoned, and is it fit to be handed over?"""

from swaplint.api import INTERFACE, Pack, hookimpl, quantities_in, rules_in, steps_in


@hookimpl
def swaplint_pack() -> Pack:
    """Give the host this pack."""
    return Pack(
        "commissioning",
        interface=INTERFACE,
        rules=rules_in(__name__),
        quantities=quantities_in(__name__),
        steps=steps_in(__name__),
    )
