"""What the compliance rules say in each case, and where they turn: at, below and above each edge. All invented."""

import pytest
from advising import advised
from asked import build
from swaplint_rules.compliance import papers
from told import Row, by_trial, edited, says, told

from swaplint.kit.trial import step_of, trial

P = "build.places.state"
C = "engine.certificate"
MET = f"{P}.approvals.structure.met"
LIMIT = f"{P}.power_limits.power"
TICKET, VISIT = f"{P}.requirements.weighbridge", f"{P}.requirements.inspection"
SEE = "See Engine change order (invented), 2025. Ask Example Vehicle Office (invented)."
START = "measured.before_start.date"

SAID = [
    # looked up on 2026-03-01, judged on 2026-05-31; two years are 730.5 days
    ("jurisdiction", "", "pass", "What is known of Example State (invented) was last looked up on 2026-03-01."),
    ("jurisdiction", f"{P}.checked = 2024-05-31; quote.ready_on = 2026-05-31", "pass", "last looked up on 2024-05-31."),
    ("jurisdiction", f"{P}.checked = 2024-05-30", "fail",
     "too long ago: ask Example Vehicle Office (invented) what has changed."),
    ("jurisdiction", f"{P}.checked = 2026-05-31", "pass", "2026-05-31."),
    ("jurisdiction", f"{P}.checked = 2026-06-01", "review",
     "is said to be of 2026-06-01, after 2026-05-31, the day of judging. Look at the date."),
    ("jurisdiction", f"{P}.checked = 2024-12-30; quote.ready_on = 2026-12-31", "fail",
     "and the vehicle is promised for 2026-12-31: by then that is too long ago. Ask Example Vehicle Office"),
    ("jurisdiction", f"{P}.checked = 2024-12-31; quote.ready_on = 2026-12-31", "pass", "!promised"),
    ("jurisdiction", f"{P}.checked = 2024-01-01; quote.ready_on = 2026-12-31", "fail", "!promised"),
    # certificate
    ("emission-certificate use", "", "pass", "The engine's certificate is for a light road vehicle."),
    ("emission-certificate use", f"{C}.use = heavy-duty-road", "fail error",
     "a light vehicle must have one for a light road vehicle."),
    ("emission-certificate use", f"{C}.use = heavy-duty-road", "fail error", SEE),
    ("emission-certificate use", f"{C}.use = heavy-duty-road; vehicle.weight_class = heavy", "pass", ""),
    ("emission-certificate use", f"{P}.certificates.light_vehicle = []", "fail",
     "must have one for nothing that is known."),
    ("emission-certificate road-use", f"{C}.road_use = no", "fail error", "Its maker sells it for off the road only."),
    ("emission-certificate road-use", f"{C}.road_use = replacement-only", "review",
     "only in the place of the same engine"),
    ("emission-certificate road-use", "", "pass", "The engine maker lets it be used on the road."),
    ("emission-certificate installation", f"{C}.installation_approval = True; {C}.installation_approved = True",
     "pass", "approved the installation."),
    ("emission-certificate installation", f"{C}.installation_approval = True; {C}.installation_approved = False",
     "fail", "must approve the"),
    ("emission-certificate installation", "", "notApplicable", "does not ask to approve the installation."),
    # age: first registered 1998, model year 1998, built 1997
    ("engine-age model-year", f"{C}.model_year = 1998", "pass",
     "certified for model year 1998, and the vehicle counts as one of 1998."),
    ("engine-age model-year", f"{C}.model_year = 1997", "fail error",
     "one of 1998: Example State (invented) takes none older than 1998."),
    ("engine-age model-year", f"{C}.model_year = 1997; {P}.engine_age.against = manufacture", "pass", "one of 1997."),
    ("engine-age model-year", f"{C}.model_year = 1997; {P}.engine_age.against = model-year", "fail", ""),
    ("engine-age standard", f"{P}.engine_age.basis = both; {C}.standard = stage 2 (invented)", "pass",
     "meet the same standard, stage 2 (invented)."),
    ("engine-age standard", f"{P}.engine_age.basis = both", "pass",
     "The engine meets stage 3 (invented), the vehicle was approved to stage 2 (invented)."),
    ("engine-age standard", f"{P}.engine_age.basis = both; {C}.standard = stage 1 (invented)", "fail error",
     "takes none that is less strict."),
    ("engine-age standard", f"{P}.engine_age.basis = both; {C}.standard = stage 9 (invented)", "review",
     "Whether 'stage 9 (invented)' is at least as strict as 'stage 2 (invented)' the sheet of Example State"),
    ("engine-age", f"{P}.engine_age.basis = nothing", "pass",
     "Example State (invented) asks nothing of the engine's age."),
    # equipment
    ("emission-equipment particulate-filter", "", "pass", "There: the particulate filter."),
    ("emission-equipment particulate-filter", "vehicle.emissions.removed = ['particulate-filter']", "fail error",
     "Said to be removed or disabled: the particulate filter."),
    ("emission-equipment particulate-filter", "plumbing.exhaust.devices.filter.kind = silencer", "fail error",
     "Missing: the particulate filter."),
    ("emission-equipment calibration", "vehicle.emissions.calibration = other (invented)", "fail",
     "Missing: the certified software of the control unit."),
    ("emission-equipment closed-crankcase", "plumbing.intake.breather.exit = open-air", "fail",
     "Missing: the closed crankcase breather."),
    ("emission-equipment closed-crankcase", "plumbing.intake.breather.exit = before-sensor", "pass", "There:"),
    ("emission-equipment malfunction-lamp", "electrics.lamps.malfunction.fitted = False", "fail",
     "Missing: the malfunction lamp."),
    ("emission-equipment onboard-diagnosis", "electrics.diagnostic = {'fitted': False}", "fail",
     "Missing: on-board diagnosis"),
    ("emission-equipment", f"{P}.equipment.asked = nothing", "pass", "asks nothing of the emission equipment."),
    ("emission-equipment", f"{C}.equipment = []", "pass", "The list names no device."),
    # asked of vehicles first used from a year on
    ("emission-equipment particulate-filter",
     f"vehicle.emissions.removed = ['particulate-filter']; {P}.equipment.from_year = 1997", "fail", "!It is asked"),
    ("emission-equipment particulate-filter",
     f"vehicle.emissions.removed = ['particulate-filter']; {P}.equipment.from_year = 1998", "review",
     "It is asked for vehicles first used from 1998 on; this one is of 1998."),
    ("emission-equipment particulate-filter", f"{P}.equipment.from_year = 1999", "pass", ""),
    ("diagnosis-ready", "", "pass", "All tests have run, and no fault is stored."),
    ("diagnosis-ready", "vehicle.emissions.ready = False", "fail warning",
     "Not all tests have run, or a fault is stored"),
    ("diagnosis-ready", f"{P}.readiness.asked = False", "pass", "asks nothing of the readiness of on-board diagnosis."),
    ("diagnosis-ready", "engine.diagnostics.required = False", "notApplicable", "no part of the engine's certificate."),
    # class
    ("vehicle-class gross", "", "pass", "By its gross rating, 2800 kg, it is of the class 'light', as before."),
    ("vehicle-class gross", "vehicle.mass.gvwr = 3501 kg", "fail warning",
     "Its gross rating goes from 2800 kg to 3501 kg, and its class from 'light' to 'heavy'. That brings: another"),
    ("vehicle-class gross", "vehicle.mass.gvwr = 3500 kg", "pass", "of the class 'light'"),
    ("vehicle-class gross", f"{P}.classes.heavy = None; vehicle.mass.gvwr = 3501 kg", "fail",
     "its class from 'light' to 'none'."),
    ("vehicle-class gross", f"{P}.classes.heavy = None; {P}.classes.light.upto = 2000 kg", "pass",
     "of none of the classes that the sheet names, as before."),
    ("vehicle-class counted", "", "pass", "The spec calls the vehicle light, and so does Example State (invented)."),
    ("vehicle-class counted", f"{P}.classes.light.counts_as = heavy", "fail",
     "calls the vehicle light; at 2800 kg Example State (invented) calls it heavy."),
    ("vehicle-class counted", f"{P}.classes.light.counts_as = either", "notApplicable",
     "does not say what is light or heavy for this vehicle."),
    ("vehicle-class", f"{P}.classes = {{}}", "pass", "No class of vehicles matters in Example State (invented)"),
    # power: 94.35 kW; 1.3 · 85 = 110.5; 1.1 · 85 = 93.5 and 95 of the largest engine offered
    ("power-limit most", "", "pass",
     "The engine has 94.35 kW; Example State (invented) allows 110.5 kW, 1.3 times the old engine's."),
    ("power-limit most", f"{LIMIT}.factor = 1.1", "pass",
     "allows 95 kW, as the largest engine that it was offered with."),
    ("power-limit most", f"{LIMIT}.factor = 1.1; {LIMIT}.largest_option = None", "fail error",
     "allows 93.5 kW, 1.1 times the old engine's."),
    ("power-limit most", f"{LIMIT}.factor = 1.1; {LIMIT}.largest_option = None; {LIMIT}.binding = False", "review",
     "More is for the authority to approve."),
    # empty 1858 kg
    ("power-limit most", f"{LIMIT}.factor = None; {LIMIT}.largest_option = None; {LIMIT}.per_mass = 60 W/kg", "pass",
     "of the empty vehicle."),
    ("power-limit most", f"{LIMIT}.factor = None; {LIMIT}.largest_option = None; {LIMIT}.per_mass = 50 W/kg", "fail",
     "allows 92.9 kW, 50 W/kg of the"),
    ("power-limit most", f"{LIMIT}.quantity = displacement", "pass",
     "The engine has 2.8 L; Example State (invented) allows 3.12 L, 1.3 times"),
    ("power-limit most", f"{LIMIT}.quantity = displacement; {LIMIT}.factor = 1.1", "pass",
     "allows 2.8 L, as the largest engine"),
    ("power-limit most", f"{LIMIT}.gross_upto = 2800 kg", "pass", "The engine has"),
    ("power-limit", f"{LIMIT}.gross_upto = 2799 kg", "notApplicable", "asks this of vehicles up to 2799 kg only."),
    # 30 W/kg of 2800 kg are 84 kW, 34 are 95.2
    ("power-limit least", f"{LIMIT}.quantity = least-power; {LIMIT}.least_per_gross = 30 W/kg", "pass",
     "asks 30 W/kg of the gross rating: 84 kW."),
    ("power-limit least", f"{LIMIT}.quantity = least-power; {LIMIT}.least_per_gross = 34 W/kg", "fail error",
     "34 W/kg of the gross rating: 95.2 kW."),
    # kind
    ("engine-kind fuel", f"{P}.engine_kind.kept = ['fuel']", "fail error",
     "The fuel was petrol and becomes diesel, which Example State (invented) does not"),
    ("engine-kind fuel", f"{P}.engine_kind.kept = ['fuel']; vehicle.original.fuel_type = diesel", "pass",
     "The fuel stays as it was: diesel."),
    ("engine-kind other-energies", f"{P}.engine_kind.kept = ['fuel']", "pass", "It is driven by nothing besides."),
    ("engine-kind other-energies", f"{P}.engine_kind.kept = ['fuel']; vehicle.other_energies = ['lpg', 'electric']",
     "fail", "It is driven by lpg and electric besides, which"),
    ("engine-kind cylinders", f"{P}.engine_kind.kept = ['cylinders']", "pass",
     "The number of cylinders stays as it was: 4."),
    ("engine-kind cylinders", f"{P}.engine_kind.kept = ['cylinders']; vehicle.original.engine.cylinders = 6", "fail",
     "of cylinders was 6 and becomes 4"),
    ("engine-kind feed", f"{P}.engine_kind.kept = ['feed']", "fail",
     "The feed was carburettor and becomes common-rail"),
    ("engine-kind charger", "", "pass", "asks nothing of an added turbocharger or compressor."),
    ("engine-kind charger", f"{P}.engine_kind.charger_added = False", "fail",
     "The old engine was not charged, and Example State (invented) takes no added"),
    ("engine-kind charger", f"{P}.engine_kind.charger_added = False; vehicle.original.engine.charged = True", "pass",
     "The old engine was charged, too."),
    ("engine-kind charger", f"{P}.engine_kind.charger_added = False; engine.charged = False", "pass",
     "has neither turbocharger nor compressor."),
    # identity: 5 + 2 + 2 + 2 + 2 of 8
    ("identity points", "", "pass", "Original are chassis, suspension, axles, transmission, steering: 13 points of 8."),
    ("identity points", "build.replaced = ['chassis']", "pass",
     "Original are suspension, axles, transmission, steering: 8 points of 8."),
    ("identity points", "build.replaced = ['chassis', 'axles']", "fail warning", "6 points of 8."),
    ("identity points", "build.replaced = ['chassis', 'axles', 'suspension', 'transmission', 'steering']", "fail",
     "none of the counted parts: 0 points"),
    ("identity chassis", "", "pass", "Neither frame nor body structure is altered."),
    ("identity chassis", "build.alterations = ['frame', 'body-structure']", "fail",
     "Altered: frame and body structure. That ends the registration."),
    ("identity chassis", f"build.alterations = ['frame']; {P}.identity.altered_chassis_loses = False", "pass",
     "an altered chassis beyond its points"),
    ("identity", f"{P}.identity.counted = False", "pass", "asks nothing of the number of original parts."),
    # odometer: 4 % either way
    ("odometer", "", "pass",
     "It shows 100.0 % of the distance driven; Example State (invented) takes 4 % to either side."),
    ("odometer", "driveline.speedometer.correction = 1.039", "pass", "It shows 103.9 %"),
    ("odometer", "driveline.speedometer.correction = 1.041", "fail warning", "It shows 104.1 %"),
    ("odometer", "driveline.speedometer.correction = 0.959", "fail warning", "It shows 95.9 %"),
    # approvals
    ("structure-brakes-steering before", "", "pass",
     "At hand: the approval of a licensed engineer for cross member, needed before the work begins"),
    ("structure-brakes-steering before", f"{MET}.done = False", "fail",
     "Not at hand: the approval of a licensed engineer for cross member"),
    ("structure-brakes-steering after", f"{P}.approvals.structure.timing = after", "pass",
     "needed once the work is done"),
    ("structure-brakes-steering before", f"{MET}.date = 2026-06-01", "fail",
     "Not at hand on 2026-05-31, the day of judging"),
    ("structure-brakes-steering before", f"{MET}.date = 2026-05-18", "pass", "!too late"),
    ("structure-brakes-steering before", f"{MET}.date = 2026-05-19", "fail",
     "That is too late: on 2026-05-18 the work was done"),
    ("structure-brakes-steering after", f"{P}.approvals.structure.timing = after; {MET}.date = 2026-05-19", "pass",
     "!too late"),
    ("structure-brakes-steering before", f"{MET}.date = 2026-05-19; {START} = None", "pass", "!too late"),
    ("structure-brakes-steering before", "build.alterations = []; vehicle.cross_members = {}", "pass",
     "The swap alters nothing that it is asked for."),
    ("structure-brakes-steering before", "build.alterations = []", "pass", "for cross member"),
    # 94.35 kW for 85; 2.8 L for 2.4
    ("structure-brakes-steering before", f"{P}.approvals.structure.for_any = ['larger-engine']", "pass",
     "for larger engine, needed"),
    ("structure-brakes-steering before",
     f"{P}.approvals.structure.for_any = ['larger-engine']; vehicle.original.power = 95 kW; "
     "engine.displacement = 2.4 L",
     "pass", "alters nothing"),
    ("structure-brakes-steering before",
     f"{P}.approvals.structure.for_any = ['larger-engine']; vehicle.original.power = 95 kW",
     "pass", "for larger engine"),
    ("structure-brakes-steering before",
     f"{P}.approvals.structure.for_any = ['larger-engine']; engine.displacement = 2.4 L", "pass", "for larger engine"),
    ("structure-brakes-steering before", f"{P}.approvals.structure.for_any = ['other-engine']", "pass",
     "for other engine, needed"),
    # noise: 85 dB(A) of 90; plate 88, before 86
    ("noise-emc noise", "", "pass", "The stationary test comes to 85 dB(A), and the place's figure is 90 dB(A)."),
    ("noise-emc noise", "vehicle.noise.now = 90 dB(A)", "pass", "!must take off"),
    ("noise-emc noise", "vehicle.noise.now = 91 dB(A)", "fail warning",
     "is 90 dB(A): the silencer must take off 1 dB more."),
    ("noise-emc noise", f"{P}.noise.asked = plate; {P}.noise.over_plate = 2 dB", "pass",
     "the plate's figure with what the place adds is 90 dB(A)."),
    ("noise-emc noise", f"{P}.noise.asked = not-louder", "pass", "what it came to before the swap is 86 dB(A)."),
    ("noise-emc noise", f"{P}.noise.asked = nothing", "pass", "asks nothing of the noise."),
    ("noise-emc noise", f"{P}.noise.gross_upto = 2800 kg", "pass", "the place's figure"),
    ("noise-emc noise", f"{P}.noise.gross_upto = 2799 kg", "notApplicable",
     "asks this of vehicles up to 2799 kg only."),
    ("noise-emc marks", "", "pass", "Every electronic unit carries a mark of electromagnetic approval."),
    ("noise-emc marks", "vehicle.noise.units_marked = False", "fail warning", "An electronic unit carries no mark"),
    # papers
    ("inspection-plan commission @weighbridge", "", "pass",
     "At hand: weighbridge ticket of the finished vehicle; the workshop (invented), 2026-05-20, ticket 881."),
    ("inspection-plan commission @weighbridge", f"{TICKET}.met.done = False", "fail error",
     "Not at hand: weighbridge ticket of the finished vehicle."),
    ("inspection-plan commission @inspection", f"{VISIT}.met.date = 2026-05-17", "review",
     "the vehicle was not finished. Have it done anew."),
    ("inspection-plan commission @inspection", f"{VISIT}.met.date = 2026-05-18", "pass", "!not finished"),
    # a ticket is no inspection
    ("inspection-plan commission @weighbridge", f"{TICKET}.met.date = 2026-05-17", "pass", "!not finished"),
    ("inspection-plan build @inspection", f"{VISIT}.stage = build; {VISIT}.met.date = 2026-05-17", "pass",
     "!not finished"),
    ("who-and-when @inspection", "", "pass", "Met: inspection of the finished vehicle."),
    ("who-and-when @inspection", f"{VISIT}.met.done = False; {VISIT}.planned_for = 2026-05-31", "pass",
     "sees to it on 2026-05-31: inspection"),
    ("who-and-when @inspection", f"{VISIT}.met.done = False; {VISIT}.planned_for = 2026-05-30", "fail",
     "Planned for 2026-05-30, which is past, and not met"),
    ("who-and-when @inspection", f"{VISIT}.met.date = 2026-06-01; {VISIT}.planned_for = 2026-06-01", "pass",
     "sees to it on 2026-06-01"),
    ("who-and-when @inspection", f"{VISIT}.met.date = None; {VISIT}.planned_for = 2026-05-01", "pass",
     "Met: inspection"),
    ("who-and-when @inspection", f"{VISIT}.for_energies = ['lpg', 'electric']", "notApplicable",
     "driven by LPG or electricity only."),
    ("who-and-when @inspection", f"{VISIT}.for_energies = ['lpg']; vehicle.other_energies = ['lpg']", "pass", "Met:"),
    # the road
    ("road-parts", "", "pass", "No part is sold for use off the road only."),
    ("road-parts", "build.off_road_parts = ['filter', 'lamp']", "fail",
     "Sold for use off the road only: filter, lamp."),
    ("told insurer", "", "pass", "Told: the insurer."),
    ("told insurer", "build.told = []", "fail", "Not told: the insurer. Write before the vehicle is driven."),
    # lifting: 368 kg, 552 for the hoist; a leg 184/cos 30° = 212.5
    ("safety-equipment hoist", "build.safety.hoist_capacity = 552 kg", "pass",
     "It lifts 368 kg: a hoist of 552 kg at the reach in use is enough."),
    ("safety-equipment hoist", "build.safety.hoist_capacity = 551 kg", "fail warning", ""),
    ("safety-equipment sling", "build.safety.sling_leg_capacity = 213 kg", "pass",
     "At 30° from the vertical one leg carries 212 kg."),
    ("safety-equipment sling", "build.safety.sling_leg_capacity = 212 kg", "fail warning", ""),
    ("safety-equipment sling", "build.safety.sling_legs = 4", "pass", "one leg carries 212 kg."),
    ("safety-equipment sling", "build.safety.sling_legs = 1", "pass", "one leg carries 425 kg."),
    ("safety-equipment angle", "build.safety.sling_angle = 60 deg", "pass",
     "twice its share at 60° from the vertical."),
    ("safety-equipment angle", "build.safety.sling_angle = 61 deg", "fail warning", ""),
    ("safety-equipment checked", "", "pass", "were looked over within the year."),
    ("safety-equipment checked", "build.safety.gear_checked = False", "fail",
     "Have hoist and sling looked over first."),
    ("safety-equipment stands", "", "pass", "At hand: rated stands under the vehicle."),
    ("safety-equipment stands", "build.safety.stands = False", "fail", "Not at hand: rated stands under the vehicle."),
]  # fmt: skip


@pytest.mark.parametrize(("rule", "edits", "rows"), by_trial(SAID))
def test_what_is_said(rule: str, edits: str, rows: tuple[Row, ...]) -> None:
    says("compliance", edits, rows, "build")


@pytest.mark.parametrize(
    ("asked", "which"),
    [
        ("engine-list", {"particulate-filter", "calibration", "closed-crankcase"}),
        ("vehicle-list", {"vapour-canister"}),
        ("both", {"particulate-filter", "vapour-canister"}),
    ],
)
def test_whose_list_is_asked_for(asked: str, which: set[str]) -> None:
    made = {f.demand for f in trial("compliance.emission-equipment", {f"{P}.equipment.asked": asked})}
    assert which <= made
    assert ("vapour-canister" in made) is ("vehicle" in asked or asked == "both")


@pytest.mark.parametrize(
    ("known", "words", "kind"),
    [
        ("read", "See Engine change order (invented), 2025. Ask Example", "fail"),
        ("older", "See Engine change order (invented), 2025, in an older edition. Ask", "review"),
        ("quoted", "See Engine change order (invented), 2025, as another text quotes it. Ask", "review"),
        (
            "memory",
            "is for a heavy road vehicle; in Example State (invented) a light vehicle must have one for a light road",
            "open",
        ),
    ],
)
def test_how_a_fact_is_known_is_said(known: str, words: str, kind: str) -> None:
    edits = {f"{C}.use": "heavy-duty-road", f"{P}.certificates.known": known}
    found = told("compliance.emission-certificate use", f"{C}.use = heavy-duty-road; {P}.certificates.known = {known}")
    assert found.kind == kind, edits
    assert words in found.message or known == "memory"
    assert ("See Engine change order" in found.message) is (known != "memory")


def test_a_remark_of_the_sheet_is_a_sentence() -> None:
    for remark in ("Historic vehicles are spared", "Historic vehicles are spared."):
        edits = f"{C}.use = heavy-duty-road; {P}.certificates.remark = {remark}"
        message = told("compliance.emission-certificate use", edits).message
        assert "See Engine change order (invented), 2025. Historic vehicles are spared. Ask Example" in message


@pytest.mark.parametrize(
    ("edits", "says_so"),
    [
        ("", "at most 90 dB(A), the place's figure"),
        (
            f"{P}.noise.asked = plate; {P}.noise.over_plate = 2 dB",
            "at most 90 dB(A), the plate's figure with what the place adds",
        ),
        (f"{P}.noise.asked = not-louder", "no more than the 86 dB(A) before the swap"),
        (f"{P}.noise.asked = not-louder; vehicle.noise.before = None", "no louder than before the swap"),
    ],
)
def test_what_the_noise_is_to_come_to(edits: str, says_so: str) -> None:
    assert step_of("compliance.noise", edited(edits, "build")).says == says_so


def test_readings_of_noise_are_asked_where_a_place_asks() -> None:
    assert step_of("compliance.noise-readings").says == "within 2 dB of each other"
    assert step_of("compliance.noise-around").says == "at least 10 dB below the readings"
    quiet = edited(f"{P}.noise.asked = nothing", "build")
    for step in ("noise", "noise-readings", "noise-around"):
        with pytest.raises(AssertionError, match="0 times"):
            step_of(f"compliance.{step}", quiet)


@pytest.mark.parametrize(
    ("edits", "correction"),
    [
        ("driveline.speedometer.correction = 1.06", 1.0),
        # an axle of 4.3 where the speedometer was right with 4.0 turns it 1.075 times as fast
        ("driveline.speedometer.calibrated_axle_ratio = 4.0", 1 / 1.075),
    ],
)
def test_the_correction_that_sets_an_odometer_right(edits: str, correction: float) -> None:
    found = told("compliance.odometer", edits)
    assert advised(found) == {"driveline.speedometer.correction": pytest.approx(correction)}


def test_ten_years_are_a_whole_margin_of_an_engines_age() -> None:
    # certified for 2020, and the vehicle counts as one of 1998
    assert told("compliance.engine-age model-year", "").margin == pytest.approx(2.2)


@pytest.mark.parametrize(("done", "says"), [(True, "yes"), (False, "no")])
def test_a_paper_that_is_at_hand_stands_on_the_list_as_such(done: bool, says: str) -> None:
    made = build({f"{P}.requirements.weighbridge.met.done": done})
    requirement = made.build.places["state"].requirements["weighbridge"]
    cells = papers._met(requirement)
    assert [cells[name]() for name in ("done", "date", "reference")] == [says, "2026-05-20", "ticket 881"]
