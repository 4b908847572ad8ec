"""Exhaust pipes: growth by heat, cooling of the gas on its way, weight on the outlet flange.

Sources: Budynas and Nisbett, Shigley's Mechanical Engineering Design (coefficients of expansion); Incropera and
DeWitt, Fundamentals of Heat and Mass Transfer (gas in a cooled pipe); statics. From memory.
"""

from __future__ import annotations

from typing import Final

from swaplint.engineering.constants import G
from swaplint.engineering.guards import finite, not_negative, positive, within_range

EXPANSION: Final = {
    "mild-steel": 12e-6,
    "aluminised-steel": 12e-6,
    "ferritic-stainless": 11e-6,
    "austenitic-stainless": 17e-6,
}
"""Mean coefficients of expansion near room temperature, 1/K (handbook values, from memory).

Up to 600 °C the mean rises: by some 20 % for carbon and ferritic steel, by some 10 % for austenitic.
"""


def thermal_growth(length: float, expansion: float, rise: float) -> float:
    """Return how much longer a pipe gets, m: α·L·ΔT; `length` m, `expansion` 1/K, `rise` K.

    >>> round(thermal_growth(1.0, 17e-6, 500.0) * 1e3, 1)
    8.5
    """
    return positive("expansion", expansion) * not_negative("length", length) * finite("rise", rise)


def gas_temperature_after(inlet: float, loss: float, length: float) -> float:
    """Return the temperature, K, of exhaust gas after a length of pipe: T - k·L.

    `inlet` K, `loss` k in K/m at the gas flow in question, `length` m. A straight line stands for the exponential
    that the gas really follows: good for a few metres, refused where it would fall below 250 K.

    >>> gas_temperature_after(773.15, 50.0, 0.6)
    743.15
    """
    out = positive("inlet temperature", inlet) - not_negative("loss", loss) * not_negative("length", length)
    return within_range("gas temperature", out, 250.0, 2000.0, "it falls in a straight line only near the inlet", "°C")


def hung_force(mass: float, shock: float) -> float:
    """Return the force, N, of a hung mass [kg] under a shock of `shock` times its weight: m·g·n.

    >>> round(hung_force(3.0, 4.0))
    118
    """
    return positive("mass", mass) * G * positive("shock", shock)


def hung_moment(mass: float, shock: float, distance: float) -> float:
    """Return the moment, N·m, on a flange of a mass [kg] hung at `distance` [m] from it, under a shock: m·g·n·x.

    >>> round(hung_moment(3.0, 4.0, 0.15), 1)
    17.7
    """
    return hung_force(mass, shock) * not_negative("distance", distance)
