"""What a coupling between a vehicle and its trailer must bear."""

from __future__ import annotations

from swaplint.engineering.constants import G
from swaplint.engineering.guards import positive


def coupling_force(vehicle_mass: float, trailer_mass: float) -> float:
    """Return the force between vehicle and trailer that a coupling is rated by, its D-value, N.

    D = g·T·R/(T + R), T the highest mass of the laden vehicle, nose load included, R that of the trailer, kg: the force
    that gives both of them, one pulling at the other, an acceleration of g between them (UN Regulation No. 55, as
    makers of couplings repeat it). For a trailer whose axles stand in its middle the regulation takes the load on those
    axles for R, which is less by the nose load. Masses above zero, else `ImpossibleInput`.

    >>> round(coupling_force(2800.0, 800.0))
    6102
    """
    vehicle, trailer = positive("vehicle mass", vehicle_mass), positive("trailer mass", trailer_mass)
    return G * vehicle * trailer / (vehicle + trailer)
