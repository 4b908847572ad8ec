"""The rule about the pressure that the tyres are kept at."""

from __future__ import annotations

from swaplint.api import (
    Build,
    Verdict,
    advice,
    at_most,
    cautions,
    given,
    holds,
    practice,
    rule,
    sheet,
    shown,
    use_practice,
)

from ..gearing.fitted_tyres import tyres_at
from . import quantities as q
from .words import named

TYRES = "driveline.tyres"
MARKED = practice(
    "a tyre of a van or truck is pumped up no higher than the pressure marked beside its load; car tyres stand more"
)


@rule(
    "mass.tyre-pressure",
    level="error",
    due="quote",
    sources=[
        sheet(f"{TYRES}.pressure_max"),
        MARKED.giving("limit", "the pressure at which it carries its load index, but for cars"),
    ],
    cautions=[cautions.TYRES],
    adjust=[f"{TYRES}.pressure_front", f"{TYRES}.pressure_rear"],
    each=q.axles,
    fallbacks=[q.FULL_PRESSURE],
    instead={f"{TYRES}.pressure_max": f"{TYRES}.reference_pressure"},
    bad=[
        {f"{TYRES}.pressure_rear": "560 kPa", f"{TYRES}.reference_pressure": "580 kPa"},
        {f"{TYRES}.pressure_front": "560 kPa", f"{TYRES}.pressure_max": None},
    ],
    good=[{f"{TYRES}.pressure_rear": "550 kPa"}],
)
def tyre_pressure(build: Build, axle: q.Axle) -> Verdict:
    """Are the tyres kept at no more than the pressure that they are made for?

    Computes: nothing; the pressure that is kept against what the tyre stands.
    Limit: the highest pressure marked on the tyre or in its maker's table. Where none is stated, the pressure at which
    it carries its load index: common practice for vans and trucks; tyres of cars (M1) stand more, so that there the
    tyre is asked. Where nobody says what the tyres are kept at, mass.tyre-load takes them at the pressure of their load
    index, which they stand.
    Consequence: An overblown tyre rides on its middle, is cut by stones and bursts, or the rim splits.
    Remedy: the lower pressure; where the load asks for more, a tyre of a higher load index.
    Cannot tell: what the wheel stands, and how much the pressure rises in a warm tyre.
    """
    name = f"{TYRES}.pressure_{axle}"
    kept = given(lambda: _kept(build, axle))
    if kept is None:
        use_practice(build, q.FULL_PRESSURE)
        return holds(True, f"{named(build, axle)} is taken at the pressure of its tyres' load index.", on=name)
    most = given(lambda: tyres_at(build, axle).pressure_max)
    if most is not None:
        says = f"{named(build, axle)} is kept at {shown(kept)}; its tyres bear {shown(most)}."
        return at_most(kept, most, says, on=name, advice=advice(name, most))
    marked = tyres_at(build, axle).reference_pressure
    if kept > marked and build.vehicle.category == "M1":
        marked = tyres_at(build, axle).pressure_max  # asks for it
    says = f"{named(build, axle)} is kept at {shown(kept)}; its tyres carry their load index at {shown(marked)}"
    says += "." if kept <= marked else ", and no higher pressure is stated that they bear."
    return at_most(kept, marked, says, on=name, advice=advice(name, marked))


def _kept(build: Build, axle: q.Axle) -> float:
    fitted = build.driveline.tyres
    return fitted.pressure_front if axle == "front" else fitted.pressure_rear
