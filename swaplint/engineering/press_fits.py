"""Press fits: how much the bore of a bush closes when it is pressed in (thick cylinders after Lamé).

Source: Lamé's formulas for thick cylinders as any text on machine design has them, Shigley's chapter on press and
shrink fits among them (from memory).
"""

from __future__ import annotations

from typing import Final

from swaplint.engineering.guards import ImpossibleInput, not_negative, positive, said

STEEL_MODULUS: Final = 206e9
"""Young's modulus of steel, Pa (handbooks give 200 to 210 GPa)."""
BRONZE_MODULUS: Final = 105e9
"""Young's modulus of cast bronze, Pa (handbook value, from memory)."""
SINTERED_BRONZE_MODULUS: Final = 80e9
"""Young's modulus of sintered bronze of usual density, Pa (handbook value, from memory; 60 to 90 GPa)."""
POISSON: Final = 0.3
"""Poisson's ratio of steel; bronze has up to 0.34, which changes the closing by less than 2 %."""


def bore_closing(
    interference: float,
    bore: float,
    outer: float,
    housing_outer: float,
    bush_modulus: float,
    housing_modulus: float = STEEL_MODULUS,
) -> float:
    """Return how much the bore of a bush closes, m on the diameter, pressed in with an `interference`, m.

    `bore` and `outer` are the bush's diameters, `housing_outer` that of the part around it, m; moduli in Pa. The
    pressure at the joint is p = δ/(D·(((D_h² + D²)/(D_h² - D²) + ν)/E_h + ((D² + d²)/(D² - d²) - ν)/E_b)), and the bore
    closes by 2·p·d·D²/(E_b·(D² - d²)). Holds while both stay elastic; a rough bore flattens and closes it less.

    >>> round(bore_closing(0.04e-3, 0.015, 0.020, 0.060, BRONZE_MODULUS) * 1e6, 1)
    33.8
    """
    small, large, around = positive("bore", bore), positive("outer", outer), positive("housing_outer", housing_outer)
    if not small < large < around:
        raise ImpossibleInput(
            f"a bush of {said(small, 'mm')} by {said(large, 'mm')} does not fit into a part of {said(around, 'mm')}"
        )
    eb, eh = positive("bush_modulus", bush_modulus), positive("housing_modulus", housing_modulus)
    housing = ((around**2 + large**2) / (around**2 - large**2) + POISSON) / eh
    bush = ((large**2 + small**2) / (large**2 - small**2) - POISSON) / eb
    pressure = not_negative("interference", interference) / (large * (housing + bush))
    return 2.0 * pressure * small * large**2 / (eb * (large**2 - small**2))
