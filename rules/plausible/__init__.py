"""The pack of plausible values: could a real vehicle have what is stated, or did a unit or a decimal point slip?"""

from swaplint.api import INTERFACE, Pack, hookimpl

from . import rules


@hookimpl
def swaplint_pack() -> Pack:
    """Give the host this pack."""
    return Pack("plausible", interface=INTERFACE, rules=rules.every_rule())
