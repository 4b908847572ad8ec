"""What is looked through, pressed and measured of the intake."""

from __future__ import annotations

from swaplint.api import Build, Expected, cautions, expect, not_needed, sheet, step

from .quantities import cases, restriction_clean

LOAD = "measured.full_load"


@step("intake.clean", moment="before-crank", write="measured.before_start.intake_clean")
def clean(build: Build) -> Expected:
    """Look through the intake as far as the turbocharger or throttle.

    How: Ducts off, lamp and mirror: no rag, no nut, no cap of a new part. Turn the compressor by hand.
    """
    return expect("clean and empty; the compressor turns freely")


@step("intake.tight", moment="before-crank", instrument="air, 14 to 21 kPa, through a regulator; soap water")
def tight(build: Build) -> Expected:
    """Press the intake from the filter on, and look for leaks with soap water.

    How: Inlet sealed, regulator set before the hose goes on. Never start the engine like that.
    """
    return expect("no bubbles at any joint")


@step(
    "intake.restriction",
    moment="first-drive",
    instrument="water gauge or vacuum gauge, ±0.1 kPa, in a straight piece ahead of the turbocharger or throttle",
    write=f"{LOAD}.intake_restriction",
    also=[f"{LOAD}.{field}" for field in ("torque_share", "air", "altitude", "filter_drop", "date", "by", "speed")],
    sources=[sheet("engine.air.restriction_max_clean")],
    after=["chassis.brake-test"],
    accuracy=0.25,
)
def restriction(build: Build) -> Expected:
    """Measure the depression in the intake at full load near rated speed.

    How: New filter; at least 95 % of the torque, else it tells nothing: it goes with the square of the flow.
    """
    return expect(
        lambda: restriction_clean(build, cases(build)[0]), at_most=lambda: build.engine.air.restriction_max_clean
    )


@step(
    "intake.boost",
    moment="first-drive",
    instrument="gauge, ±3 kPa, on the manifold",
    write=f"{LOAD}.boost",
    sources=[sheet("engine.charge_air.pressure_max")],
    cautions=[cautions.HOT],
    after=["intake.restriction"],
)
def boost(build: Build) -> Expected:
    """Read the boost in the same run.

    How: At full load near rated speed.
    Stop: it climbs above its limit: ease off at once.
    """
    charge = build.engine.charge_air
    if not charge.pressure_max:
        return not_needed("The engine has no turbocharger.")
    return expect("steady, without hunting", at_most=lambda: charge.pressure_max)


@step(
    "intake.filter-aged",
    moment="yearly",
    instrument="the service indicator",
    sources=[sheet("engine.air.restriction_max_dirty")],
)
def filter_aged(build: Build) -> Expected:
    """Read the service indicator at full load, and look behind the filter for dust.

    How: Change the filter at the limit, and not before: it filters worse new.
    """
    return expect(
        "no dust behind the filter",
        at_most=lambda: build.engine.air.restriction_max_dirty,
        unit=("pressure_difference", "kPa"),
    )
