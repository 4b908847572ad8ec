"""What the rules of the supply say in each of their branches, each sentence read for what it says of that build.

The numbers in them, by hand. The quote comes to 17 984.00, of it 17 784 the lines and the work with 20 % of tax, so
that the tax again is 3 556.80 and one line of 760 is 866.40; 2 per mille of the total, 35.97, may be off for a line to
be named as the cause. From 2026-05-31 to 2026-09-30 there are 122 days, the work takes 34; 9 L of concentrate make
18 L; to 0001-01-01 the calendar counts 739 766 days.
"""

from __future__ import annotations

import re
from typing import Any

import pytest

from swaplint.kit.trial import trial

QUOTE, ASKED, FILLS = "quote", "engine.prescribed", "supply[14].fills"
OFFER, CABLE, HOSE = "supply[13].offers[1]", "supply[13].metres_of_cable", "supply[10].metres_of_hose"
PUMP, DONE = "joints.lift_pump", "vehicle.optional_parts"
NO_ALTERNATOR = {"engine.alternator": {"fitted": False}}
MISSING = ("driveline.speedometer", "driveline.tyres", "driveline.clutch", "engine.starter", "plumbing.intake.filter",
           "plumbing.cooling.radiator", "electrics.key_switch")  # fmt: skip
BARE = {part: {"fitted": False} for part in MISSING}
BARER = {
    "plumbing.fuel.filters.primary": {"fitted": False},
    "electrics.cables": {"cab": {"fitted": False}},
    "electrics.openings": {"bulkhead": {"fitted": False}},
}
DIFFERS = {"field": "electrics.cables.starter.size", "value": "70 mm2", "agreed": "Ann"}


@pytest.mark.parametrize(
    ("rule", "part", "edits", "demand", "kind", "says"),
    [
        ("function-coverage", "starter", {}, "", "pass",
         "In the engine package: the starter motor."),
        ("function-coverage", "battery", {}, "", "pass",
         "Supplied by the shop: the battery, or all of them. It comes with 'battery'."),
        ("function-coverage", "battery", {"supply[5].by": "owner"}, "", "pass",
         "Supplied by the owner: the battery, or all of them. It comes with 'battery'."),
        ("function-coverage", "battery", {"supply[5].by": "existing", "supply[5].condition": "tested"}, "", "pass",
         "Already there: the battery, or all of them. Its condition: tested."),
        ("function-coverage", "battery", {"supply[5].by": "existing"}, "", "fail",
         "Already there: the battery, or all of them. Nothing says what shape it is in: look at it and state the "
         "line's condition, because what turns out to be worn is bought late."),
        ("function-coverage", "battery", {"supply[5].by": "not-required", "supply[5].reason": "it stays"}, "", "review",
         "Said to be not required: the battery, or all of them. As the spec stands the build needs it; the reason "
         "given: it stays."),
        ("function-coverage", "silencer", {"supply[3].by": "not-required", "supply[3].reason": "a turbine"}, "", "pass",
         "Said to be not required: the silencer. The reason given: a turbine."),
        ("function-coverage", "battery", {"supply[5].by": "not-required"}, "", "fail",
         "Said to be not required: the battery, or all of them. Nothing says why: state the line's reason."),
        ("function-coverage", "silencer", {"supply[3].by": "not-required"}, "", "fail",
         "Said to be not required: the silencer. Nothing says why: state the line's reason."),
        ("function-coverage", "battery", {"supply[5].functions": ["other"]}, "", "fail",
         "The battery, or all of them: not in the engine package, and no supplier is named; usually the owner "
         "arranges it. Name it in the line that covers it, functions = [\"battery\"]. What it must satisfy stands at "
         "electrics.batteries."),
        ("function-coverage", "inspection", {"supply[15].functions": ["engineering-report"]}, "", "fail",
         "The inspection, with its fee: not in the engine package, and no supplier is named; usually the owner "
         "arranges it. Name it in the line that covers it, functions = [\"inspection\"]."),
        ("function-coverage", "converter",
         {"supply[8].functions": ["adapter", "pilot-bush", "clutch"]},
         "", "notApplicable",
         "This build does without: the torque converter."),
        ("function-coverage", "starter", {"supply[5].functions": ["battery", "battery-tray", "starter"]}, "", "fail",
         "Named twice: the starter motor. It comes with the engine package and with 'battery' (by the shop). Either "
         "it is paid for twice, or each leaves it to the other: settle who supplies it, and name it there only."),
        ("function-coverage", "battery", {"supply[3].functions": ["battery"]}, "", "fail",
         "Named twice: the battery, or all of them. It comes with 'exhaust system' (by the shop) and with 'battery' "
         "(by the shop). Either it is paid for twice, or each leaves it to the other: settle who supplies it, and "
         "name it there only."),
        ("function-coverage", "battery",
         {"supply[3].functions": ["battery"], "supply[4].functions": ["battery"]},
         "", "fail",
         "Named three times: the battery, or all of them. It comes with 'exhaust system' (by the shop) and with "
         "'fuel tank, empty' (by the shop) and with 'battery' (by the shop). Either it is paid for three times, or "
         "each leaves it to the other: settle who supplies it, and name it there only."),
        ("function-coverage", "starter", {f"supply[{n}].functions": ["starter"] for n in (3, 4, 5)}, "", "fail",
         "Named several times: the starter motor. It comes with the engine package and with 'exhaust system' (by the "
         "shop) and with 'fuel tank, empty' (by the shop) and with 'battery' (by the shop). Either it is paid for "
         "several times, or each leaves it to the other: settle who supplies it, and name it there only."),
        ("function-coverage", "other-fluids",
         {"supply[5].functions": ["battery", "battery-tray", "other-fluids"]},
         "", "pass",
         "Supplied by the shop: fluids of gearbox, axles, clutch, brakes and steering. It comes with 'battery'."),
        ("function-coverage", "supply[4]", {"supply[4].functions": []}, "", "fail",
         "'fuel tank, empty' names nothing that it covers. Where the list of functions has no word for it, write "
         "[\"other\"]."),
        ("function-coverage", "supply[4]", {"supply[4].functions": [], "supply[4].item": None}, "", "fail",
         "'supply[4]' names nothing that it covers. Where the list of functions has no word for it, write "
         "[\"other\"]."),
        ("quote-arithmetic", "", {}, "currency", "pass",
         "Every price is in EUR."),
        ("quote-arithmetic", "", {}, "down-payment", "pass",
         "3 000.00 are to be paid with the order, of 17 984.00 in all."),
        ("quote-arithmetic", "", {}, "twice", "pass",
         "Nothing is on the quote twice under the same name and price."),
        ("quote-arithmetic", "", {}, "total", "pass",
         "Lines, work, discount and tax come to 17 984.00; the quote's total is 17 984.00."),
        ("quote-arithmetic", "", {"quote.total": 18084.0}, "total", "fail",
         "Lines, work, discount and tax come to 17 984.00; the quote's total is 18 084.00, 100.00 more. No single "
         "line, nor tax, discount or work explains that: ask for the sum line by line."),
        ("quote-arithmetic", "", {"quote.total": 17884.0}, "total", "fail",
         "Lines, work, discount and tax come to 17 984.00; the quote's total is 17 884.00, 100.00 less. No single "
         "line, nor tax, discount or work explains that: ask for the sum line by line."),
        ("quote-arithmetic", "", {"quote.total": 17684.0}, "total", "fail",
         "Lines, work, discount and tax come to 17 984.00; the quote's total is 17 684.00, 300.00 less. No single "
         "line, nor tax, discount or work explains that: ask for the sum line by line."),
        ("quote-arithmetic", "", {"quote.total": 21540.8}, "total", "fail",
         "Lines, work, discount and tax come to 17 984.00; the quote's total is 21 540.80, 3 556.80 more. That is as "
         "if the tax had been added twice."),
        ("quote-arithmetic", "", {"quote.total": 17184.8}, "total", "fail",
         "Lines, work, discount and tax come to 17 984.00; the quote's total is 17 184.80, 799.20 less. No single "
         "line, nor tax, discount or work explains that: ask for the sum line by line."),
        ("quote-arithmetic", "", {"quote.total": 17153.56}, "total", "fail",
         "Lines, work, discount and tax come to 17 984.00; the quote's total is 17 153.56, 830.44 less. That is as "
         "if 'cables, fuses and wiring' had been left out."),
        ("quote-arithmetic", "", {"quote.total": 17153.58}, "total", "fail",
         "Lines, work, discount and tax come to 17 984.00; the quote's total is 17 153.58, 830.42 less. No single "
         "line, nor tax, discount or work explains that: ask for the sum line by line."),
        ("quote-arithmetic", "", {"supply[5].currency": "eur"}, "currency", "pass",
         "Every price is in EUR."),
        ("quote-arithmetic", "", {"supply[5].currency": "USD"}, "currency", "fail",
         "'battery' is priced in USD and the quote in EUR: have it priced in EUR."),
        ("quote-arithmetic", "", {"quote.down_payment": 17984.0}, "down-payment", "pass",
         "17 984.00 are to be paid with the order, of 17 984.00 in all."),
        ("quote-arithmetic", "", {"quote.down_payment": 17985.0}, "down-payment", "fail",
         "17 985.00 are to be paid with the order, of 17 984.00 in all: more than there is to pay."),
        ("quote-arithmetic", "", {"supply[4].item": "Battery", "supply[4].price": 180.0}, "twice", "fail",
         "'battery' is on the quote twice at 180.00: state the quantity in one line."),
        ("quote-arithmetic", "", {"supply[4].item": "Battery", "supply[4].price": 181.0}, "twice", "pass",
         "Nothing is on the quote twice under the same name and price."),
        ("quote-arithmetic", "", {"supply[5].item": "first start and trials", "supply[5].price": 0.0}, "twice", "pass",
         "Nothing is on the quote twice under the same name and price."),
        ("quote-arithmetic", "", {"quote": {"fitted": False}}, "", "notApplicable",
         "Nothing is quoted here."),
        ("quote-matches-spec", "supply[13]", {}, "", "pass",
         "'cables, fuses and wiring' is offered as specified."),
        ("quote-matches-spec", "supply[5]", {}, "", "notApplicable",
         "'battery' names no value that the spec has a field for."),
        ("quote-matches-spec", "supply[13]", {f"{OFFER}.value": "50.04 mm2"}, "", "pass",
         "'cables, fuses and wiring' is offered as specified."),
        ("quote-matches-spec", "supply[13]", {f"{OFFER}.value": "50.06 mm2"}, "", "fail",
         "'cables, fuses and wiring': electrics.cables.starter.size is offered as 50.06 mm2, and specified as 50 "
         "mm². Have it quoted as specified, or put into the spec what is offered."),
        ("quote-matches-spec", "supply[13]",
         {f"{OFFER}.value": "70 mm2", f"{OFFER}.agreed": "the electrician"},
         "", "review",
         "'cables, fuses and wiring': electrics.cables.starter.size is offered as 70 mm2, and specified as 50 mm². "
         "Agreed to: the electrician."),
        ("quote-matches-spec", "supply[13]",
         {"supply[13].offers": [DIFFERS, {"field": "engine.fuel_type", "value": "petrol"}]},
         "", "fail",
         "'cables, fuses and wiring': electrics.cables.starter.size is offered as 70 mm2, and specified as 50 mm²; "
         "engine.fuel_type is offered as petrol, and specified as diesel. Have it quoted as specified, or put into "
         "the spec what is offered."),
        ("quote-matches-spec", "supply[13]",
         {"supply[13].offers": [DIFFERS, {"field": "engine.fuel_type", "value": "petrol", "agreed": "Bob"}]},
         "", "review",
         "'cables, fuses and wiring': electrics.cables.starter.size is offered as 70 mm2, and specified as 50 mm²; "
         "engine.fuel_type is offered as petrol, and specified as diesel. Agreed to: Ann; Bob."),
        ("quote-matches-spec", "supply[13]", {f"{OFFER}.field": "electrics.cables.*.size"}, "", "fail",
         "'cables, fuses and wiring': 'electrics.cables.*.size' is no field of a build spec. Have it quoted as "
         "specified, or put into the spec what is offered."),
        ("quote-matches-spec", "supply[13]", {f"{OFFER}.field": "electrics.cables.nowhere.size"}, "", "fail",
         "'cables, fuses and wiring': the spec has nothing at electrics.cables.nowhere.size. Have it quoted as "
         "specified, or put into the spec what is offered."),
        ("quote-matches-spec", "supply[13]", {f"{OFFER}.value": "a thick one"}, "", "fail",
         "'cables, fuses and wiring': 'a thick one' cannot be read as size of the conductor (\"a thick one\" does "
         "not begin with a number: this field takes a conductor size in mm2, AWG, SAE or kcmil, for example \"35 "
         "mm2\"). Have it quoted as specified, or put into the spec what is offered."),
        ("quote-matches-spec", "supply[13]",
         {f"{OFFER}.field": "quote.or_similar", f"{OFFER}.value": "false"},
         "", "pass",
         "'cables, fuses and wiring' is offered as specified."),
        ("quote-matches-spec", "supply[13]",
         {f"{OFFER}.field": "quote.or_similar", f"{OFFER}.value": "true"},
         "", "fail",
         "'cables, fuses and wiring': quote.or_similar is offered as true, and specified as false. Have it quoted as "
         "specified, or put into the spec what is offered."),
        ("quote-matches-spec", "supply[13]", {f"{OFFER}.field": "quote.or_similar", f"{OFFER}.value": "no"}, "", "fail",
         "'cables, fuses and wiring': 'no' cannot be read as whether it lets the supplier send something similar "
         "instead (it is true or false). Have it quoted as specified, or put into the spec what is offered."),
        ("quote-matches-spec", "supply[13]", {f"{OFFER}.field": "engine.cylinders", f"{OFFER}.value": "6"}, "", "fail",
         "'cables, fuses and wiring': engine.cylinders is offered as 6, and specified as 4. Have it quoted as "
         "specified, or put into the spec what is offered."),
        ("quote-terms", "", {"quote.excludes": ["heat-shields"]}, "excludes", "fail",
         "'exhaust system' covers the heat shields near exhaust and turbocharger, and the quote excludes it: settle "
         "who supplies it."),
        ("quote-terms", "", {"quote.excludes": ["inspection"]}, "excludes", "pass",
         "The quote excludes nothing that its lines cover."),
        ("quote-terms", "", {"quote.or_similar": True}, "similar", "fail",
         "The quote lets something similar be sent: have \"or similar\" struck out, or each replacement shown first."),
        ("validity", "", {}, "offer", "pass",
         "The offer stands until 2026-06-30, 30 days from 2026-05-31."),
        ("validity", "", {}, "certificate", "notApplicable",
         "The engine's certificate names no last day."),
        ("validity", "", {}, "lines", "notApplicable",
         "No line has a last day of its own."),
        ("validity", "", {"quote.valid_until": "2026-06-14"}, "offer", "pass",
         "The offer stands until 2026-06-14, 14 days from 2026-05-31."),
        ("validity", "", {"quote.valid_until": "2026-06-13"}, "offer", "fail",
         "The offer stands until 2026-06-13, 13 days from 2026-05-31: accept it soon, or ask for a later day."),
        ("validity", "", {"quote.valid_until": "2026-05-31"}, "offer", "fail",
         "The offer stands until 2026-05-31, 0 days from 2026-05-31: accept it soon, or ask for a later day."),
        ("validity", "", {"quote.valid_until": "2026-05-30"}, "offer", "fail",
         "The offer ran out on 2026-05-30, 1 day before 2026-05-31: have it confirmed anew."),
        ("validity", "", {"quote.ordered_on": "2026-06-01"}, "offer", "fail",
         "The offer is said to be accepted on 2026-06-01, later than 2026-05-31, the day of judging: leave it out "
         "until it is accepted, or put the date right."),
        ("validity", "", {"quote.ordered_on": "2026-05-31", "quote.valid_until": "2026-05-31"}, "offer", "pass",
         "The offer stood until 2026-05-31 and was accepted on 2026-05-31."),
        ("validity", "", {"quote.ordered_on": "2026-05-31", "quote.valid_until": "2026-05-30"}, "offer", "fail",
         "The offer stood until 2026-05-30 and was accepted on 2026-05-31, 1 day too late: have the price confirmed "
         "in writing."),
        ("validity", "",
         {"supply[5].valid_until": "2026-06-20", "supply[4].valid_until": "2026-06-15"},
         "lines", "pass",
         "The price of 'fuel tank, empty' stands until 2026-06-15, 15 days from 2026-05-31."),
        ("validity", "", {"supply[5].valid_until": "2026-07-20"}, "lines", "pass",
         "The price of 'battery' stands until 2026-07-20, 50 days from 2026-05-31."),
        ("validity", "", {"supply[5].valid_until": "2026-06-30"}, "lines", "notApplicable",
         "No line has a last day of its own."),
        ("validity", "", {"engine.certificate.valid_until": "2026-12-31"}, "certificate", "pass",
         "It counts until 2026-12-31 and is needed on 2026-12-31."),
        ("validity", "", {"engine.certificate.valid_until": "2026-12-30"}, "certificate", "fail",
         "It counts until 2026-12-30 and is needed on 2026-12-31, 1 day later: ask which day the authority counts, "
         "and for a later one."),
        ("validity", "",
         {"engine.certificate.valid_until": "2026-05-28", "quote.ready_on": None, "quote.ordered_on": "2026-05-30"},
         "certificate", "fail",
         "It counts until 2026-05-28 and is needed on 2026-05-30, 2 days later: ask which day the authority counts, "
         "and for a later one."),
        ("validity", "",
         {"engine.certificate.valid_until": "2026-05-31", "quote.ready_on": None},
         "certificate", "pass",
         "It counts until 2026-05-31 and is needed on 2026-05-31."),
        ("lead-time", "supply[5]", {}, "", "pass",
         "'battery' takes 3 days from the order, if it goes out on 2026-05-31, and is needed on 2026-09-30: 119 days "
         "in hand. Order it by 2026-09-27."),
        ("lead-time", "supply[5]", {"supply[5].lead_time": "122 days", "quote.ordered_on": "2026-05-31"}, "", "pass",
         "'battery' takes 122 days from the order, on 2026-05-31, and is needed on 2026-09-30: 0 days in hand."),
        ("lead-time", "supply[5]", {"supply[5].lead_time": "123 days", "quote.ordered_on": "2026-05-31"}, "", "fail",
         "'battery' takes 123 days from the order, on 2026-05-31, and is needed on 2026-09-30: it comes 1 day late. "
         "Have it sent faster, or begin later."),
        ("lead-time", "supply[5]", {"supply[5].lead_time": "17.5 weeks", "supply[5].needed_at": "strip"}, "", "fail",
         "'battery' takes 123 days from the order, if it goes out on 2026-05-31, and is needed on 2026-09-30: it "
         "comes 1 day late. It was to be ordered by 2026-05-30."),
        ("lead-time", "supply[5]", {"supply[5].lead_time": "1 day", "supply[5].needed_on": "0001-01-01"}, "", "fail",
         "'battery' takes 1 day from the order, if it goes out on 2026-05-31, and is needed on 0001-01-01: it comes "
         "739767 days late. It was to be ordered by a day before the calendar."),
        ("end-date", "", {"quote.ready_on": "2026-11-03"}, "", "pass",
         "Begun on 2026-09-30, it is ready on 2026-11-03 and promised for 2026-11-03: 0 days in hand. The work "
         "itself decides that; no part holds it up. Least time in hand: 'engine package' (80 days in hand, order by "
         "2026-08-19); 'adapter kit with clutch, or with converter' (80 days in hand, order by 2026-08-19); 'mounts, "
         "brackets and propshafts' (94 days in hand, order by 2026-09-02)."),
        ("end-date", "", {"quote.ready_on": "2026-11-02", "quote.ordered_on": "2026-05-31"}, "", "fail",
         "Begun on 2026-09-30, it is ready on 2026-11-03 and promised for 2026-11-02, 1 day too late. The work "
         "itself decides that; no part holds it up. Least time in hand: 'engine package' (80 days in hand); 'adapter "
         "kit with clutch, or with converter' (80 days in hand); 'mounts, brackets and propshafts' (94 days in "
         "hand)."),
        ("end-date", "", {"supply[1].lead_time": "122 days"}, "", "pass",
         "Begun on 2026-09-30, it is ready on 2026-11-03 and promised for 2026-12-31: 58 days in hand. The work "
         "itself decides that; no part holds it up. Least time in hand: 'engine package' (0 days in hand, order by "
         "2026-05-31); 'adapter kit with clutch, or with converter' (80 days in hand, order by 2026-08-19); 'mounts, "
         "brackets and propshafts' (94 days in hand, order by 2026-09-02)."),
        ("end-date", "", {"supply[1].lead_time": "123 days"}, "", "pass",
         "Begun on 2026-09-30, it is ready on 2026-11-04 and promised for 2026-12-31: 57 days in hand. Parts hold it "
         "up. Least time in hand: 'engine package' (1 day late, order by 2026-05-30); 'adapter kit with clutch, or "
         "with converter' (80 days in hand, order by 2026-08-19); 'mounts, brackets and propshafts' (94 days in "
         "hand, order by 2026-09-02)."),
        ("fluids", "engine-oil", {}, "standard", "pass",
         "The engine oil that is bought meets a standard that is allowed."),
        ("fluids", "engine-oil", {}, "volume", "pass",
         "10 L of engine oil; a fill takes 7.5 L."),
        ("fluids", "coolant", {}, "family", "pass",
         "The coolant that is bought meets a standard that is allowed."),
        ("fluids", "coolant", {}, "volume", "pass",
         "18 L of coolant, as mixed; a fill takes 16 L."),
        ("fluids", "coolant", {"plumbing.cooling.coolant.glycol": "0 %"}, "volume", "review",
         "Coolant concentrate is bought, and the spec's coolant has no glycol."),
        ("fluids", "coolant",
         {"plumbing.cooling.coolant.glycol": "0 %", f"{FILLS}[2].concentrate": False},
         "volume", "fail",
         "9 L of coolant, as mixed; a fill takes 16 L. Buy 16.8 L, so that some stays in hand."),
        ("fluids", "transfer-oil", {"driveline.transfer": {"fitted": False}}, "standard", "notApplicable",
         "Nothing in this build takes oil of the transfer case."),
        ("fluids", "transfer-oil", {"driveline.transfer": {"fitted": False}}, "volume", "notApplicable",
         "Nothing in this build takes oil of the transfer case."),
        ("fluids", "engine-oil", {f"{FILLS}[1].standards": []}, "standard", "fail",
         "What names no standard is bought, and the engine oil must be API CK-4 or API CJ-4."),
        ("fluids", "engine-oil", {f"{FILLS}[1].standards": ["API CF", "ACEA B3"]}, "standard", "fail",
         "API CF or ACEA B3 is bought, and the engine oil must be API CK-4 or API CJ-4."),
        ("fluids", "coolant", {f"{FILLS}[2].standards": ["silicate"]}, "family", "fail",
         "silicate is bought, and the coolant must be organic-acid."),
        ("fluids", "axle-oil", {"driveline.axles.rear.oil.standards": ["API GL-6"]}, "standard", "fail",
         "API GL-5 is bought, and the axle oil must be API GL-6."),
        ("fluids", "engine-oil", {f"{FILLS}[1].fluid": "other"}, "named", "fail",
         "'fluids and small parts' covers engine oil and names no litres of it."),
        ("fluids", "coolant", {f"{FILLS}[2].fluid": "other"}, "named", "fail",
         "'fluids and small parts' covers coolant and names no litres of it."),
        ("interface-adapters", "heater_stub", {}, "", "pass",
         "'hoses, pipes and ducts' joins 19 mm inner and 16 mm inner (hose)."),
        ("interface-adapters", "lift_pump", {}, "", "pass",
         "M16x1.5 inner and M16x1.5 outer (metric thread) fit."),
        ("interface-adapters", "lift_pump", {f"{PUMP}.known_by": "eye"}, "", "review",
         "M16x1.5 inner and M16x1.5 outer (metric thread) fit as far as the eye can tell: put a thread gauge on them "
         "before parts are ordered."),
        ("interface-adapters", "lift_pump",
         {f"{PUMP}.known_by": "eye", f"{PUMP}.other.form": "taper-pipe-thread", "supply[11].joins": ["lift_pump"]},
         "", "review",
         "'fuel system' is to join M16x1.5 inner (metric thread) and M16x1.5 outer (taper pipe thread), which are "
         "known by eye: put a thread gauge on them first."),
        ("interface-adapters", "lift_pump",
         {f"{PUMP}.other.form": "taper-pipe-thread", "supply[11].joins": ["lift_pump"]},
         "", "pass",
         "'fuel system' joins M16x1.5 inner (metric thread) and M16x1.5 outer (taper pipe thread)."),
        ("interface-adapters", "lift_pump",
         {f"{PUMP}.other.form": "hose", f"{PUMP}.known_by": "eye", "supply[11].joins": ["lift_pump"]},
         "", "review",
         "'fuel system' is to join M16x1.5 inner (metric thread) and M16x1.5 outer (hose), which are known by eye: "
         "put a thread gauge on them first."),
        ("interface-adapters", "lift_pump", {f"{PUMP}.other.side": "inner"}, "", "fail",
         "M16x1.5 inner and M16x1.5 inner (metric thread) do not fit, and nobody supplies what joins them: ask for "
         "an adapter, and name lift_pump in the joins of its line."),
        ("interface-adapters", "lift_pump", {f"{PUMP}.one.side": "alike"}, "", "fail",
         "M16x1.5 and M16x1.5 outer (metric thread) do not fit, and nobody supplies what joins them: ask for an "
         "adapter, and name lift_pump in the joins of its line."),
        ("needed-parts", "", {}, "alternator", "pass",
         "The engine has an alternator."),
        ("needed-parts", "", {}, "clutch", "pass",
         "There is a clutch."),
        ("needed-parts", "", {}, "gearbox", "pass",
         "There is a gearbox."),
        ("needed-parts", "", {}, "speedometer", "pass",
         "The vehicle has a speedometer."),
        ("needed-parts", "", {}, "starter", "pass",
         "There is a starter."),
        ("needed-parts", "", {}, "tyres", "pass",
         "There is a set of tyres."),
        ("needed-parts", "", BARE, "clutch", "fail",
         "The build is stated without a clutch: the engine cannot be parted from the gearbox, to start or to shift. "
         "Fit it, or state what there is."),
        ("needed-parts", "", BARE, "filter", "fail",
         "There is no air cleaner, and dust ruins the engine within hours: fit one."),
        ("needed-parts", "", BARE, "key-switch", "fail",
         "There is no key switch: state what switches the engine on and off in its place, with its terminals."),
        ("needed-parts", "", BARE, "radiator", "fail",
         "There is no radiator, and nothing takes the engine's heat: state what cools the coolant."),
        ("needed-parts", "", BARE, "speedometer", "fail",
         "A road vehicle needs a speedometer, and there is none: fit one that suits the new driveline."),
        ("needed-parts", "", BARE, "starter", "fail",
         "The build is stated without a starter: nothing turns the engine. Fit it, or state what there is."),
        ("needed-parts", "", BARE, "tyres", "fail",
         "The build is stated without a set of tyres: no load, speed or gear can be judged. Fit it, or state what "
         "there is."),
        ("needed-parts", "", {"driveline.gearbox": {"fitted": False}}, "gearbox", "fail",
         "The build is stated without a gearbox: nothing drives the axles. Fit it, or state what there is."),
        ("needed-parts", "",
         {"driveline.gearbox.kind": "automatic", "driveline.converter": {"fitted": True}},
         "clutch", "pass",
         "A converter takes the place of the clutch."),
        ("needed-parts", "", NO_ALTERNATOR, "alternator", "fail",
         "There is no alternator, and the engine's control unit runs from the battery until it is flat: fit one."),
        ("needed-parts", "", {**NO_ALTERNATOR, "engine.ecm.fitted": False}, "alternator", "fail",
         "There is no alternator, and 5 consumers run from the battery (engine): fit one."),
        ("needed-parts", "",
         {**NO_ALTERNATOR, "engine.ecm.fitted": False, "electrics.loads": {"lamps": {"fitted": False}}},
         "alternator", "pass",
         "Nothing takes current while driving, and so there is no alternator."),
        ("needed-parts", "",
         {**NO_ALTERNATOR, "electrics.alternators.second": {"charges": "starting"}},
         "alternator", "pass",
         "An alternator besides the engine package's charges the battery."),
        ("unused-parts", "pump_drive", {}, "", "pass",
         "pump_drive is not used; its maker wants it closed and lubricated, and so it is."),
        ("unused-parts", "pump_drive", {f"{DONE}.pump_drive.done": []}, "", "fail",
         "pump_drive is not used; its maker wants it closed and lubricated, and it is not closed and not lubricated."),
        ("unused-parts", "pump_drive", {f"{DONE}.pump_drive.done": ["lubricated"]}, "", "fail",
         "pump_drive is not used; its maker wants it closed and lubricated, and it is not closed."),
        ("unused-parts", "pump_drive", {"engine.optional_parts.pump_drive.if_unused": []}, "", "pass",
         "pump_drive is not used; its maker wants it left as it is, and so it is."),
        ("unused-parts", "pump_drive", {f"{DONE}.pump_drive": None}, "", "review",
         "Nobody says whether this build uses pump_drive, or what is done with it."),
        ("unused-parts", "heater_port", {}, "", "notApplicable",
         "The build uses heater_port."),
        ("prescribed-sizes", "", {}, "starter-cable", "pass",
         "Cable battery has 50 mm²; the maker asks for 50 mm² of copper or more."),
        ("prescribed-sizes", "", {}, "harness-hole", "pass",
         "The hole bulkhead has 64 mm; the maker asks for 60 mm or more."),
        ("prescribed-sizes", "", {}, "cap", "pass",
         "The cap opens at 100 kPa; the maker allows 120 kPa at most."),
        ("prescribed-sizes", "", {}, "fuel-supply", "pass",
         "The fuel supply line has a bore of 10 mm; the maker asks for 8 mm or more."),
        ("prescribed-sizes", "", {}, "fuel-return", "pass",
         "The fuel return line has a bore of 8 mm; the maker asks for 6 mm or more."),
        ("prescribed-sizes", "", {}, "primary-filter", "pass",
         "The primary fuel filter lets through 20 µm; the maker asks for 30 µm or finer."),
        ("prescribed-sizes", "",
         {f"{ASKED}.{field}": "none" for field in ("fuel_supply_bore_min", "cap_pressure_max")},
         "cap", "notApplicable",
         "The engine's maker prescribes no size here: what it takes is computed."),
        ("prescribed-sizes", "",
         {f"{ASKED}.{field}": "none" for field in ("fuel_supply_bore_min", "cap_pressure_max")},
         "fuel-supply", "notApplicable",
         "The engine's maker prescribes no size here: what it takes is computed."),
        ("prescribed-sizes", "", BARER, "primary-filter", "fail",
         "The maker asks for a primary fuel filter of 30 µm or finer, and there is none: fit one."),
        ("prescribed-sizes", "", BARER, "starter-cable", "fail",
         "The maker asks for a starter cable of 50 mm² or more, and none is stated."),
        ("prescribed-sizes", "", BARER, "harness-hole", "notApplicable",
         "The harness passes through no opening."),
        ("consumables", "", {}, "small-parts", "pass",
         "Every kind of small part that the build needs is on the quote."),
        ("consumables", "", {}, "coolant-hose", "pass",
         "2 m of coolant hose of 38 mm; the spec's come to 1.4 m."),
        ("consumables", "", {}, "cable", "pass",
         "4 m of cable of 50 mm²; the spec's come to 2.7 m."),
        ("consumables", "", {}, "fuel-hose", "notApplicable",
         "No fuel hose is quoted by the metre."),
        ("consumables", "",
         {"supply[14].functions": ["engine-oil", "coolant", "other-fluids"]},
         "small-parts", "notApplicable",
         "No line that is bought covers the consumables; supply.function-coverage asks who does."),
        ("consumables", "",
         {"supply[14].small_parts": ["gaskets-and-seals", "one-use-bolts", "thread-locking", "hose-clamps",
          "cable-lugs", "clips-and-grommets"]},
         "small-parts", "fail",
         "'fluids and small parts' covers the consumables and does not name exhaust-gaskets: gaskets, clamps and "
         "studs of the exhaust; fuel-washers: sealing washers and clips of the fuel lines."),
        ("consumables", "", {CABLE: []}, "cable", "notApplicable",
         "No cable is quoted by the metre."),
        ("consumables", "", {CABLE: [{"size": "1/0 AWG", "length": "1 m"}]}, "cable", "notApplicable",
         "The spec has no cable of a size that is quoted by the metre."),
        ("consumables", "", {HOSE: [{"carries": "fuel", "inner": "10 mm", "length": "4 m"}]}, "fuel-hose", "review",
         "Fuel hose is quoted by the metre, and the spec has none of it: ask what it is for."),
        ("consumables", "",
         {HOSE: [{"carries": "fuel", "inner": "10 mm", "length": "4 m"}]},
         "coolant-hose", "notApplicable",
         "No coolant hose is quoted by the metre."),
        ("consumables", "", {"plumbing.cooling.hoses": {}}, "coolant-hose", "review",
         "Coolant hose is quoted by the metre, and the spec has none of it: ask what it is for."),
        ("consumables", "",
         {"plumbing.fuel.supply.material": "hose", HOSE: [{"carries": "fuel", "inner": "10 mm", "length": "4.36 m"}]},
         "fuel-hose", "fail",
         "4.36 m of fuel hose of 10 mm; the spec's come to 3.8 m. Buy 4.4 m, for some is cut away."),
        ("sheet-age", "", {}, "", "pass",
         "The data sheet, revision 2, is of 2026-01-15, 136 days before 2026-05-31."),
        ("sheet-age", "", {"engine.document.revision": None, "engine.document.date": "2024-05-30"}, "", "fail",
         "The data sheet is of 2024-05-30, 731 days before 2026-05-31: ask its maker whether a later one is out."),
        ("sheet-age", "", {"engine.document.date": "2026-06-01"}, "", "review",
         "The data sheet, revision 2, is of 2026-06-01, 1 day after 2026-05-31, the day that it is judged on: look "
         "at the date."),
    ],
)  # fmt: skip
def test_what_is_said(rule: str, part: str, edits: dict[str, Any], demand: str, kind: str, says: str) -> None:
    found = [f for f in trial(f"supply.{rule}", edits) if f.part.endswith(part) and f.demand == demand]
    assert [f.kind for f in found] == [kind]
    told = found[0].message.split(" Common-practice fallback: ")[0]
    assert told == says or re.fullmatch(re.escape(says).replace("…", r"-?\d[\d. ]*"), told), told
