"""The mass pack: what do the axles, tyres and springs carry after the swap, empty and loaded?"""

from swaplint.api import INTERFACE, Pack, hookimpl, quantities_in, rules_in

from . import ledger, quantities, rules


@hookimpl
def swaplint_pack() -> Pack:
    """Give the host this pack."""
    return Pack("mass", interface=INTERFACE, rules=rules_in(rules, ledger), quantities=quantities_in(quantities))
