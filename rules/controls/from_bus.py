"""What a lamp or gauge that a message on the bus drives needs: a bus, and a device on it that takes the message."""

from __future__ import annotations

from swaplint.api import Build, given, is_fitted
from swaplint.engineering import j1939_numbers


def why_dead(build: Build, number: int) -> str:
    """Why nothing on the bus can show a parameter, as the end of a sentence; empty where a device takes it.

    Raises `Unknown` where nobody states what a device takes, and no other takes it.
    """
    bus = build.electrics.network
    if not is_fitted(bus):
        return "and the vehicle has none"
    nodes = [node for node in bus.nodes.values() if is_fitted(node)]
    stated = [given(lambda node=node: tuple(node.needs)) for node in nodes]  # type: ignore[misc]
    if any(number in {int(n) for n in needs or ()} for needs in stated):
        return ""
    for node in nodes:
        if number in {int(n) for n in node.needs}:  # not known of one: ends the rule
            return ""
    return f"and no device on it takes {j1939_numbers.parameter_name(number)}"
