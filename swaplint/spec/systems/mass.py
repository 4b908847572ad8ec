"""Fields of the mass system: ratings, weighed masses and what is added or taken away."""

from __future__ import annotations

from swaplint.spec.fields import PLATE, Section, measure


class VehicleMass(Section):
    """Ratings from the plate, and the masses that the vehicle is found to have."""

    gvwr: float = measure(
        "highest mass that the laden vehicle may have, as it will be plated",
        "mass",
        "kg",
        typical=3000,
        plausible=(500, 40000),
        where=PLATE,
    )
    gcwr: float = measure(
        "highest mass that vehicle and trailer may have together; equal to gvwr where nothing may be towed",
        "mass",
        "kg",
        typical=3000,
        plausible=(500, 80000),
        where=PLATE,
    )
