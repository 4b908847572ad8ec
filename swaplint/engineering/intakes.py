"""Air filters, air-mass sensors and charge-air joints.

Sources: ISO 5011 (terms of the air cleaner test, from memory); the rest follows from definitions and from statics.
"""

from __future__ import annotations

from swaplint.engineering.guards import not_negative, positive, share
from swaplint.engineering.pipes import flow_area


def filter_life(dust_capacity: float, dust: float, flow: float, precleaner_efficiency: float = 0.0) -> float:
    """Return the running time, s, until a filter has taken up its dust: capacity/(dust·flow·(1 - pre-cleaner)).

    `dust_capacity` kg, `dust` kg/m³ in the outside air, `flow` m³/s, `precleaner_efficiency` the share of the dust
    kept from the filter, 0 up to but not 1. The filter itself is taken to keep all of it. Balance of masses.

    >>> round(filter_life(0.8, 20e-6, 450 / 3600, 0.8) / 3600)
    444
    """
    passed = 1.0 - share("pre-cleaner efficiency", precleaner_efficiency)
    load = positive("dust", dust) * positive("flow", flow) * positive("share of dust that is let through", passed)
    return positive("dust capacity", dust_capacity) / load


def meter_error(bore: float, calibrated_bore: float) -> float:
    """Return how much more air passes an air-mass sensor than it reports, as a share, in a housing of another bore.

    The sensor feels the velocity and is calibrated for the area of its own housing: (D/D_cal)² - 1, about twice the
    error of the bore; negative in a narrower housing. Bores in m. Conservation of mass, same velocity profile.

    >>> round(meter_error(0.0707, 0.070), 4)
    0.0201
    """
    return flow_area(bore) / flow_area(calibrated_bore) - 1.0


def blow_off_force(pressure: float, bore: float) -> float:
    """Return the force, N, that pushes a hose off a pipe end: gauge pressure [Pa] times the area of the bore [m].

    >>> round(blow_off_force(100e3, 0.070))
    385
    """
    return not_negative("pressure", pressure) * flow_area(bore)
