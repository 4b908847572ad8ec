"""Rules of the engine's papers: its certificate, its age, and the devices that the certificate lists."""

from __future__ import annotations

import functools
from collections.abc import Callable

from swaplint.api import (
    Build,
    Verdict,
    all_of,
    at_least,
    at_most,
    does_not_apply,
    given,
    holds,
    is_fitted,
    needs_review,
    path_of,
    practice,
    rule,
    sheet,
)
from swaplint.spec.systems.compliance import Place

from ..supply.quoted import day
from .law import ASKED, CAUTIONS, asks_nothing, by_law, places

CERTIFICATE = "engine.certificate"
STALE_AFTER = 730.5 * 86400.0
"""Two years: how long what was looked up of a place's law is relied on."""
LOOKED_UP = practice("what was looked up of a law more than two years ago is looked up again")

_USES = {
    "light-duty-road": "a light road vehicle",
    "heavy-duty-road": "a heavy road vehicle",
    "off-road": "plant and machines off the road",
    "none": "nothing: there is none",
}


# -- whose rules ------------------------------------------------------------------------------------------------------
@rule(
    "compliance.jurisdiction",
    level="warning",
    due="plan",
    sources=[LOOKED_UP.giving("limit", "two years")],
    cautions=CAUTIONS,
    about="build.places",
    each=places,
    bad=[
        {"build.places.state.checked": "2024-05-01"},
        {"build.places.state.checked": "2024-12-30", "quote.ready_on": "2026-12-31"},
    ],
    good=[{"build.places.state.checked": "2024-06-01", "quote.ready_on": "2026-05-31"}],
    without={"quote.ready_on": "While no day is promised, the day of judging counts."},
)
def jurisdiction(build: Build, place: Place) -> Verdict:
    """Is it known whose rules the vehicle must meet, and were they looked up lately?

    Computes: the time from the day on which the place's documents were last looked at to the day of judging, or to
    the later one on which the vehicle is promised: what counts then is the law of the day of registering.
    Limit: two years, common practice; the law may have changed any day.
    Consequence: Money is spent on what the authority no longer accepts.
    Remedy: ask the authority, put right what its sheet says, and the day on which that was done.
    Cannot tell: whether the sheet is right, and which further places ask something: the spec names those that count.
    """
    on, judged = f"{path_of(place)}.checked", build.build.judged_on
    age = (day(judged) - day(place.checked)).total_seconds()
    if age < 0:
        says = f"What is known of {place.name} is said to be of {place.checked}, after {judged}, the day of judging."
        return needs_review(f"{says} Look at the date.", on=on)
    says = f"What is known of {place.name} was last looked up on {place.checked}"
    promised = given(lambda: build.quote.ready_on) or judged
    at_hand_over = (day(promised) - day(place.checked)).total_seconds()
    if age <= STALE_AFTER < at_hand_over:
        says += f", and the vehicle is promised for {promised}: by then that is too long ago. "
        says += f"Ask {place.authority} again what has changed, before it is registered."
    else:
        says += "." if age <= STALE_AFTER else f", too long ago: ask {place.authority} what has changed."
    age = max(age, at_hand_over)
    return at_most(age, STALE_AFTER, says, on=on, unit=("duration", "day"))


# -- the certificate --------------------------------------------------------------------------------------------------
@rule(
    "compliance.emission-certificate",
    level="error",
    due="plan",
    sources=[
        ASKED.giving("limit", "the certificates that a light or heavy vehicle may have", demands=["use"]),
        sheet(f"{CERTIFICATE}.road_use").giving("limit", demands=["road-use"]),
        sheet(f"{CERTIFICATE}.installation_approval").giving("limit", demands=["installation"]),
    ],
    cautions=CAUTIONS,
    about=CERTIFICATE,
    each=places,
    later={"installation": "build"},
    bad=[
        {f"{CERTIFICATE}.use": "off-road"},
        {f"{CERTIFICATE}.use": "heavy-duty-road"},
        {f"{CERTIFICATE}.road_use": "no"},
        {f"{CERTIFICATE}.installation_approval": True, f"{CERTIFICATE}.installation_approved": False},
    ],
    good=[{f"{CERTIFICATE}.installation_approval": True, f"{CERTIFICATE}.installation_approved": True}],
)
def emission_certificate(build: Build, place: Place) -> Verdict:
    """Has the engine package a certificate that covers road use in this vehicle's class and place?

    Computes: nothing; what the certificate is for is compared with what the place lets a light or heavy vehicle have.
    The engine of plant and machines has another certificate than the same engine for the road.
    Limit: the place's, as its sheet states it; the engine maker's word on road use, and his approval of the
    installation where he asks for one.
    Consequence: The finished vehicle cannot be registered, whatever else is right.
    Remedy: ask the authority before the engine is bought; ask the engine maker for the version certified for the road.
    Cannot tell: how one office reads its rules, and single approvals.
    """
    return all_of(
        use=lambda: _use(build, place),
        road_use=lambda: _road_use(build),
        installation=lambda: _installation(build),
    )


def _use(build: Build, place: Place) -> Verdict:
    rule_of, weight = place.certificates, build.vehicle.weight_class
    accepted = rule_of.light_vehicle if weight == "light" else rule_of.heavy_vehicle
    use = build.engine.certificate.use
    right = use in list(accepted)
    says = f"The engine's certificate is for {_USES[use]}"
    says += "." if right else f"; in {place.name} a {weight} vehicle must have one for {_listed(accepted)}."
    return by_law(place, rule_of, holds(right, says, on=f"{CERTIFICATE}.use"))


def _listed(uses: list[str]) -> str:
    return " or ".join(_USES[use] for use in uses) or "nothing that is known"


def _road_use(build: Build) -> Verdict:
    said, on = build.engine.certificate.road_use, f"{CERTIFICATE}.road_use"
    if said == "replacement-only":
        return needs_review(
            "Its maker lets it be used on the road only in the place of the same engine: ask him about this one.",
            on=on,
        )
    says = (
        "The engine maker lets it be used on the road."
        if said == "yes"
        else "Its maker sells it for off the road only."
    )
    return holds(said == "yes", says, on=on)


def _installation(build: Build) -> Verdict:
    certificate, on = build.engine.certificate, f"{CERTIFICATE}.installation_approved"
    if not certificate.installation_approval:
        return does_not_apply("The engine maker does not ask to approve the installation.")
    done = certificate.installation_approved
    says = "The engine maker approved the installation." if done else "The engine maker must approve the installation."
    return holds(done, says, on=on)


# -- age --------------------------------------------------------------------------------------------------------------
@rule(
    "compliance.engine-age",
    level="error",
    due="plan",
    sources=[
        ASKED.giving("limit", "what the engine is held against"),
        ASKED.giving("limit", "which year counts", demands=["model-year"]),
    ],
    cautions=CAUTIONS,
    about=f"{CERTIFICATE}.model_year",
    each=places,
    bad=[
        {f"{CERTIFICATE}.model_year": 1997},
        {"build.places.state.engine_age.basis": "both", f"{CERTIFICATE}.standard": "stage 1 (invented)"},
    ],
    good=[
        {f"{CERTIFICATE}.model_year": 1998},
        {"build.places.state.engine_age.basis": "both", f"{CERTIFICATE}.standard": "stage 2 (invented)"},
        {"build.places.state.engine_age.basis": "nothing"},
    ],
)
def engine_age(build: Build, place: Place) -> Verdict:
    """Is the engine at least as new, in year or emission standard, as the place asks of this vehicle?

    Computes: the engine's model year against the year of the vehicle that counts in the place; the standard of its
    certificate against that of the vehicle in the place's own order of standards.
    Limit: same or newer, same or stricter, whichever the place's sheet names.
    Consequence: The vehicle is refused at inspection, and the engine must come out again.
    Remedy: the oldest model year, or the standard, that the result names. Ask for the certificate before paying.
    Cannot tell: exceptions for historic vehicles; standards that the place's sheet does not put in order.
    """
    fact = place.engine_age
    if fact.basis == "nothing":
        return asks_nothing(place, fact, "the engine's age")
    demands: dict[str, Callable[[], Verdict]] = {}
    if fact.basis in ("model-year", "both"):
        demands["model-year"] = lambda: _model_year(build, place)
    if fact.basis in ("emission-standard", "both"):
        demands["standard"] = lambda: _standard(build, place)
    return all_of(demands)


def _model_year(build: Build, place: Place) -> Verdict:
    fact = place.engine_age
    year = {
        "model-year": lambda: build.vehicle.emissions.model_year,
        "manufacture": lambda: build.vehicle.emissions.built,
        "first-registration": lambda: build.vehicle.first_registered,
    }[fact.against]()
    found, on = build.engine.certificate.model_year, f"{CERTIFICATE}.model_year"
    says = f"The engine is certified for model year {found:.0f}, and the vehicle counts as one of {year:.0f}"
    says += "." if found >= year else f": {place.name} takes none older than {year:.0f}."
    return by_law(place, fact, at_least(found, year, says, on=on, scale=10.0))


def _standard(build: Build, place: Place) -> Verdict:
    fact, on = place.engine_age, f"{CERTIFICATE}.standard"
    engine, vehicle = build.engine.certificate.standard, build.vehicle.emissions.standard
    if engine == vehicle:
        return by_law(place, fact, holds(True, f"Engine and vehicle meet the same standard, {engine}.", on=on))
    order = list(given(lambda: list(fact.standards)) or [])
    if engine not in order or vehicle not in order:
        says = f"Whether '{engine}' is at least as strict as '{vehicle}' the sheet of {place.name} does not say."
        return by_law(place, fact, needs_review(says, on=on))
    right = order.index(engine) >= order.index(vehicle)
    says = f"The engine meets {engine}, the vehicle was approved to {vehicle}"
    says += "." if right else f": {place.name} takes none that is less strict."
    return by_law(place, fact, holds(right, says, on=on))


# -- what the certificate lists ---------------------------------------------------------------------------------------
_NAMES = {
    "oxidation-catalyst": "the oxidation catalyst",
    "three-way-catalyst": "the three-way catalyst",
    "particulate-filter": "the particulate filter",
    "selective-catalyst": "the catalyst with reductant",
    "exhaust-gas-recirculation": "the exhaust-gas recirculation",
    "closed-crankcase": "the closed crankcase breather",
    "vapour-canister": "the canister for petrol vapour",
    "intake-heater": "the intake air heater",
    "onboard-diagnosis": "on-board diagnosis with its connector",
    "malfunction-lamp": "the malfunction lamp",
    "calibration": "the certified software of the control unit",
}


def _device(build: Build, kind: str) -> bool:
    devices = build.plumbing.exhaust.devices.values()
    return any(is_fitted(device) and device.kind == kind for device in devices)


_THERE: dict[str, Callable[[Build], bool]] = {
    "exhaust-gas-recirculation": lambda build: is_fitted(build.plumbing.exhaust.recirculation),
    "closed-crankcase": lambda build: (
        is_fitted(build.plumbing.intake.breather)
        and build.plumbing.intake.breather.exit in ("clean-air-pipe", "before-sensor")
    ),
    "vapour-canister": lambda build: is_fitted(build.plumbing.fuel.canister) and build.plumbing.fuel.canister.purged,
    "intake-heater": lambda build: is_fitted(build.engine.intake_heater),
    "onboard-diagnosis": lambda build: is_fitted(build.electrics.diagnostic),
    "malfunction-lamp": lambda build: any(
        is_fitted(lamp) and lamp.function == "malfunction" for lamp in build.electrics.lamps.values()
    ),
    "calibration": lambda build: build.vehicle.emissions.calibration == build.engine.certificate.calibration,
}
_PLACES = {
    "exhaust-gas-recirculation": "plumbing.exhaust.recirculation",
    "closed-crankcase": "plumbing.intake.breather.exit",
    "vapour-canister": "plumbing.fuel.canister",
    "intake-heater": "engine.intake_heater",
    "onboard-diagnosis": "electrics.diagnostic",
    "malfunction-lamp": "electrics.lamps",
    "calibration": "vehicle.emissions.calibration",
}


@rule(
    "compliance.emission-equipment",
    level="error",
    due="quote",
    sources=[ASKED.giving("limit", "which list must be there in full")],
    cautions=CAUTIONS,
    about=f"{CERTIFICATE}.equipment",
    each=places,
    bad=[
        {"vehicle.emissions.removed": ["particulate-filter"]},
        {f"{CERTIFICATE}.equipment": ["selective-catalyst"]},
        {"vehicle.emissions.calibration": "C28-09 (invented)"},
    ],
    good=[{"vehicle.emissions.removed": ["vapour-canister"]}, {"build.places.state.equipment.asked": "nothing"}],
)
def emission_equipment(build: Build, place: Place) -> Verdict:
    """Are all devices that the certificate lists in the spec, joined and working, with the certified software?

    Computes: which of the listed devices the spec lacks or says to be removed, made to do nothing or programmed out.
    Limit: none missing, of the list that the place's sheet names: that of the engine's certificate, what the vehicle
    left the factory with, or both.
    Consequence: Tampering is an offence in many places, and the vehicle is refused at inspection.
    Remedy: fit what is missing, of the part number and in the place that the certificate names.
    Cannot tell: software that was altered without a word; what the certificate lists besides, so ask for it.
    """
    fact = place.equipment
    asked = fact.asked
    if asked == "nothing":
        return asks_nothing(place, fact, "the emission equipment")
    listed: list[str] = []
    if asked in ("engine-list", "both"):
        listed += build.engine.certificate.equipment
    if asked in ("vehicle-list", "both"):
        listed += build.vehicle.emissions.equipment
    if not listed:
        return by_law(place, fact, holds(True, "The list names no device.", on=f"{CERTIFICATE}.equipment"))
    return all_of(
        {str(name): functools.partial(_listed_one, build, place, str(name)) for name in dict.fromkeys(listed)}
    )


def _listed_one(build: Build, place: Place, name: str) -> Verdict:
    fact, what, on = place.equipment, _NAMES[name], _PLACES.get(name, "plumbing.exhaust.devices")
    removed = name in list(build.vehicle.emissions.removed)
    if removed:
        verdict = holds(False, f"Said to be removed or disabled: {what}.", on="vehicle.emissions.removed")
    else:
        there = _THERE[name](build) if name in _THERE else _device(build, name)
        verdict = holds(there, f"{'There' if there else 'Missing'}: {what}.", on=on)
    since = given(lambda: fact.from_year)
    if since is not None and verdict.kind == "fail" and build.vehicle.first_registered <= since:
        verdict = needs_review(
            f"{verdict.says} It is asked for vehicles first used from {since:.0f} on; this one is of "
            f"{build.vehicle.first_registered:.0f}.",
            on=verdict.on,
        )
    return by_law(place, fact, verdict)


@rule(
    "compliance.diagnosis-ready",
    level="warning",
    due="commission",
    sources=[ASKED.giving("limit", "all tests run, no fault stored")],
    cautions=CAUTIONS,
    about="vehicle.emissions.ready",
    each=places,
    bad=[{"vehicle.emissions.ready": False}],
    good=[{"build.places.state.readiness.asked": False}],
)
def diagnosis_ready(build: Build, place: Place) -> Verdict:
    """Does on-board diagnosis show at inspection that all its tests have run, with no fault stored?

    Computes: nothing; what the diagnostic tool shows is compared with what the place asks.
    Limit: the place's, as its sheet states it.
    Consequence: The vehicle is refused at inspection, although nothing may be wrong with it.
    Remedy: drive it through warm-up, town and road until all tests have run; mend what a stored fault names.
    Cannot tell: why a test does not come to its end.
    """
    fact = place.readiness
    if not fact.asked:
        return asks_nothing(place, fact, "the readiness of on-board diagnosis")
    if not build.engine.diagnostics.required:
        return does_not_apply("On-board diagnosis is no part of the engine's certificate.")
    ready = build.vehicle.emissions.ready
    says = (
        "All tests have run, and no fault is stored."
        if ready
        else "Not all tests have run, or a fault is stored: it must be ready when it is inspected."
    )
    return by_law(place, fact, holds(ready, says, on="vehicle.emissions.ready"))
