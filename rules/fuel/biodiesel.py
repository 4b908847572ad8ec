"""The rule about biodiesel in the diesel."""

from __future__ import annotations

from swaplint.api import (
    Build,
    Practice,
    Verdict,
    all_of,
    at_most,
    cautions,
    does_not_apply,
    given,
    or_practice,
    rule,
    sheet,
    shown,
    standard,
)

from . import quantities as q

SHARE = "plumbing.fuel.grade.biodiesel"
PUMP_DIESEL = standard("EN 590, diesel, share of fatty acid methyl ester", known="from memory")
B7 = Practice("diesel engines take at most 7 % of biodiesel (B7)", 0.07, PUMP_DIESEL)


@rule(
    "fuel.biodiesel",
    level="error",
    due="quote",
    sources=[sheet("engine.fuel.biodiesel_max")],
    cautions=[cautions.FUEL_FIRE],
    about=SHARE,
    fallbacks=[B7],
    bad=[{SHARE: "20 %"}, {SHARE: "20 %", "engine.fuel.biodiesel_max": "10 %"}],
    good=[{SHARE: "20 %", "engine.fuel.biodiesel_max": "20 %"}],
)
def biodiesel(build: Build) -> Verdict:
    """Does the engine take the share of biodiesel in the diesel?

    Computes: nothing; the share in the fuel against what the engine takes.
    Limit: the engine's data sheet; where it is silent 7 %, as in pump diesel (from memory): a warning.
    Consequence: It thins the oil, swells seals and clogs filters; injection or exhaust cleaning fails.
    Remedy: fuel of a lower share, or an engine and calibration that take it, with its shorter oil changes.
    Cannot tell: the quality of the biodiesel, water or growth in fuel that stands. Coats of the tank: fuel.materials.
    """
    if not q.is_diesel(build):
        return does_not_apply("The engine burns petrol.")
    return all_of(engine=lambda: _engine(build))


def _engine(build: Build) -> Verdict:
    share, stated = build.plumbing.fuel.grade.biodiesel, given(lambda: build.engine.fuel.biodiesel_max)
    most = or_practice(lambda: build.engine.fuel.biodiesel_max, B7)
    says = f"The diesel holds up to {shown(share)} of biodiesel and the engine takes {shown(most, 'share', '%')}."
    if share > most:
        says += " Fill with one of a lower share, or ask the engine maker."
    return at_most(share, most, says, level="warning" if stated is None else None, on=SHARE)
