"""The intake pack: does the engine get enough cool, clean air, and do charge pipes and breather hold?"""

from swaplint.api import INTERFACE, Pack, hookimpl, quantities_in, rules_in

from . import joints, quantities, suction


@hookimpl
def swaplint_pack() -> Pack:
    """Give the host this pack."""
    return Pack("intake", interface=INTERFACE, rules=rules_in(suction, joints), quantities=quantities_in(quantities))
