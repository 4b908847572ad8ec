"""What is measured of the engine's data bus."""

from __future__ import annotations

from typing import Any

from swaplint.api import Build, Expected, expect, is_fitted, not_needed, step

from . import topology
from .quantities import bus_load, termination

BUS = "measured.bus"


def _engines_line(build: Build) -> Any:
    """One line of the bus that the engine is on; None where the spec knows none."""
    return next(
        (line for line in topology.lines(build) if topology.ENGINE in topology.bus_of(build, line).devices), None
    )


@step(
    "network.resistance",
    moment="before-power",
    instrument="multimeter between the two wires, ±0.5 %",
    write=f"{BUS}.resistance",
    also=[f"{BUS}.date", f"{BUS}.by"],
    accuracy=0.05,
)
def resistance(build: Build) -> Expected:
    """Measure the resistance between the two wires of the engine's data bus.

    How: Battery off; at the service socket. Wiggle the harness: a good reading proves no crimp. 120 Ω: one terminator
    is missing; 40 Ω: one is too many; near nothing or open: the wires.
    """
    line = _engines_line(build)
    if line is None:
        return not_needed("The engine is on no data bus.")
    return expect(lambda: termination(build, line))


@step(
    "network.active-codes",
    moment="first-hour",
    instrument="diagnostic reader",
    write=f"{BUS}.active_codes",
    also=[f"{BUS}.stored_codes_explained"],
)
def active_codes(build: Build) -> Expected:
    """Read the active fault codes with the engine running.

    How: Every unit; write an empty list where there is none. Read before anything is erased.
    """
    if not is_fitted(build.engine.ecm):
        return not_needed("The engine has no control unit.")
    return expect("none")


@step(
    "network.load",
    moment="first-hour",
    instrument="bus analyser, mean over one second",
    write=f"{BUS}.load",
)
def load(build: Build) -> Expected:
    """Read the load of the engine's data bus at idle.

    How: Every unit awake; without an analyser leave it blank.
    """
    line = _engines_line(build)
    if line is None:
        return not_needed("The engine is on no data bus.")
    return expect(lambda: bus_load(build, line))
