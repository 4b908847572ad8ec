"""A sentence says how it is: what a fail says is not said where the same demand is met, nor the other way round.

The words of each were read beside what was changed in the sound spec, one of the rule's own examples of a fail.
"""

from __future__ import annotations

import functools

import pytest

from swaplint.inspecting.results import Finding
from swaplint.kit.trial import rule_base, trial

SAID = {
    "chassis.air-conditioning": [
        (1, "", "person", "with recovery equipment may open", "refrigerant."),
        (2, "", "refrigerant", "fit one that is.", ""),
    ],
    "chassis.belt-drive": [
        (0, "accessory", "alignment", "tensioner", "compressor"),
        (2, "accessory", "tensioner", "Nothing tightens the belt: fit a", "The belt can be kept tight."),
    ],
    "chassis.brake-duty": [
        (0, "", "energy", "or less would do.", ""),
        (1, "", "descent", "An exhaust brake, or a lower", ""),
    ],
    "chassis.crank-nose-load": [
        (0, "", "torque", "Drive the rest from a power", ""),
    ],
    "chassis.heater-circuit": [
        (0, "", "", "An auxiliary heater makes up for", ""),
    ],
    "chassis.parking-brake": [
        (0, "", "there", "gone with what was taken out", "kept."),
        (2, "", "mechanical", "which leak away while nobody", "mechanical means alone"),
    ],
    "chassis.steering-flow": [
        (1, "", "rated-flow", "L/min: limit it by a valve.", ""),
    ],
    "chassis.steering-pressure": [
        (2, "", "effort", "times the reduction brings it back.", ""),
    ],
    "chassis.vacuum-consumers": [
        (1, "heater_flaps", "check-valve", "booster: branch it off ahead of", "does not empty"),
    ],
    "chassis.vacuum-reserve": [
        (0, "", "one-application", "That is a rule for heavier", ""),
    ],
    "chassis.vacuum-source": [
        (0, "", "source", "An intake or charge pipe gives", "is connected"),
        (3, "", "check-valve", "vacuum is lost as soon as", "vacuum."),
        (4, "", "lamp", "Nothing warns the driver that the", "failing assistance."),
        (5, "", "pump-oil", "cannot run back to the sump", "runs in"),
    ],
    "commissioning.charging-electrics": [
        (0, "", "voltage", "Nothing is charged.", ""),
    ],
    "commissioning.cooling-trial": [
        (1, "", "recirculation", "It comes back round the core", ""),
    ],
    "commissioning.crank-drop": [
        (1, "", "loop", "Measure each joint: one of more", ""),
    ],
    "commissioning.fuel-inlet": [
        (2, "", "no-air", "hose: find the joint that lets", "hose shows no air."),
        (3, "", "no-leaks", "Fuel leaks: stop the engine, find", "Tank, lines and joints stay dry."),
    ],
    "commissioning.gap-marks": [
        (0, "fuel_line", "touched", "it was touched.", ""),
    ],
    "commissioning.network-check": [
        (0, "", "resistance", "more than two terminators.", ""),
        (2, "", "active", "Active with the engine running: SPN", "No fault code is active."),
        (3, "", "stored", "codes were not explained yet.", "code was explained."),
    ],
    "commissioning.oil-pressure": [
        (0, "", "rise", "Stop at once in such a", ""),
    ],
    "commissioning.pre-start": [
        (0, "", "", "crank: priming the oil system.", "that comes"),
    ],
    "commissioning.reading-dates": [
        (0, "", "", "date right, or take the reading.", "vehicle is judged on"),
    ],
    "commissioning.running": [
        (2, "", "looked-at", "good yet: every warning lamp.", "All that is looked at was"),
    ],
    "controls.bulkhead-pass": [
        (1, "pedal", "edge.bulkhead", "bare edge: line it with a", "split"),
    ],
    "controls.diagnostic-access": [
        (2, "", "no-tool", "tool: free it.", "without"),
        (3, "", "in-reach", "seat: move it there.", "seat."),
        (4, "", "constant-feed", "node diagnostic: it takes one, fused.", "The diagnostic connector is fed"),
    ],
    "controls.ecm-environment": [
        (0, "", "temperature", "More distance to the exhaust, a", ""),
        (1, "", "protection", "Give it a drier place.", "and better against jets."),
    ],
    "controls.ecm-feed": [
        (2, "main", "loss", "It takes more copper, or a", ""),
    ],
    "controls.harness-reach": [
        (0, "pedal", "reach", "with the usual slack it", ""),
    ],
    "controls.immobiliser-signals": [
        (
            0,
            "engine",
            "",
            "waits for brake-switch, which nobody gives",
            "gets brake-switch from brake_switch, clutch-switch from",
        ),
    ],
    "controls.key-feed-crank": [
        (0, "switched", "live", "Live in both: terminal run. Take", "run and"),
        (1, "switched", "break", "It restarts in every start: take", ""),
        (2, "switched", "dead-in-off", "off, and the engine runs on.", "is dead"),
    ],
    "controls.key-load": [
        (0, "run", "", "put a relay into what", ""),
    ],
    "controls.key-off-stops": [
        (0, "", "held", "the relay between cab-fuses and", "off ecm-switched loses its feed."),
        (
            1,
            "",
            "alternator",
            "alternator feeds ecm-switched backwards through its",
            "alternator's excitation terminal.",
        ),
    ],
    "controls.pedal-match": [
        (0, "", "track-ratio", "Fit the pedal that the engine's", ""),
        (1, "", "connector", "Fit the pedal that the engine's", ""),
        (2, "", "unchanged-voltages", "voltages on the way to the", "Nothing changes"),
        (3, "", "returns-to-idle", "idle: find out why before it", "idle."),
    ],
    "controls.start-interlock": [
        (0, "", "interlock", "Put a clutch or neutral switch", "clutch switch,"),
        (1, "", "switch-rating", "Fit one of a higher rating.", ""),
        (2, "", "only-in-crank", "run and crank; it must be", "crank."),
    ],
    "controls.tach-signal": [
        (0, "", "", "too little.", "right."),
    ],
    "controls.warning-lamps": [
        (
            0,
            "",
            "complete",
            "oil-pressure (from a switch or sender",
            "brake, charge, coolant-temperature, fuel-level, malfunction, oil-pressure,",
        ),
        (3, "", "seen.malfunction", "or less beside it, not", ""),
        (4, "", "colour.malfunction", "be amber.", "amber, as it"),
    ],
    "cooling.added-heat": [
        (0, "", "", "The gearbox gives up to", "The gearbox has no converter to"),
    ],
    "cooling.ambient-capability": [
        (0, "rated", "sea-level", "It takes a larger core, or", ""),
    ],
    "cooling.boil-margin": [
        (0, "", "least-cap", "Fit a cap of that pressure", ""),
        (1, "", "borne.heater-core", "It bursts before the cap opens", ""),
        (2, "", "boiling", "It takes a cap of higher", ""),
    ],
    "cooling.charge-air": [
        (1, "", "drop", "It takes wider pipes with fewer", ""),
    ],
    "cooling.external-circuit": [
        (0, "", "speed.lower", "wider one would do.", ""),
        (0, "", "restriction", "The pump moves too little: it", ""),
        (0, "", "port.lower", "It throttles the port: fit one", ""),
        (2, "", "shape.lower", "is drawn flat: fit a moulded", "holds its shape."),
    ],
    "cooling.fan-flow": [
        (0, "", "flow.peak-torque", "It would have to turn faster", ""),
        (1, "", "speed", "Beyond that it can burst: gear", "engine's governed"),
        (2, "", "shroud", "The fan draws its air past", ""),
        (4, "", "idle-air-conditioning", "It takes a fan that moves", "sea level"),
        (4, "", "idle", "It takes a fan that moves", "sea level"),
    ],
    "cooling.fill-deaeration": [
        (0, "", "height", "radiator: air stays there. Raise the", "radiator."),
        (1, "", "fill-line", "The pump draws air instead of", ""),
        (2, "", "vents", "The engine also asks for: cylinder_head", "cylinder_head,"),
        (3, "", "rises.radiator", "must rise", "rises"),
    ],
    "cooling.freeze-protection": [
        (1, "", "share", "It takes less glycol.", ""),
        (2, "", "kind", "Drain it, flush with water and", ""),
    ],
    "cooling.radiator-capacity": [
        (0, "rated", "", "In the same air it would", ""),
    ],
    "cooling.thermostat-circuit": [
        (0, "", "", "to the port heater_in (heater-return), which", "as their use asks."),
    ],
    "driveline.adapter-pieces": [
        (0, "adapter", "located", "dowel and no bore or spigot", "dowels locate it."),
    ],
    "driveline.axle-torque": [
        (0, "rear", "torque", "That is with the axle loaded", ""),
        (3, "front", "teeth", "They differ by the low range", ""),
    ],
    "driveline.depth-stack": [
        (1, "", "nose-room", "before the joint closes.", "are left before the"),
        (2, "", "hub-on-spline", "The disc's hub leaves the", "are left beyond the disc's hub"),
    ],
    "driveline.housing-match": [
        (
            0,
            "engine_side",
            "pattern",
            "driveline.adapter.engine_side: they do not bolt together",
            "driveline.adapter.engine_side.",
        ),
        (1, "front_face", "centring", "too large for", "of play in"),
    ],
    "driveline.joint-angles": [
        (0, "rear", "phase", "the joints add up instead of", ""),
        (3, "rear", "needles.input_joint", "its needles do not roll and", ""),
    ],
    "driveline.pilot-fit": [
        (1, "", "press", "bore and falls out of it.", "larger"),
        (2, "", "running", "too narrow for the shaft's", "pilot's clearance on the shaft"),
    ],
    "driveline.runout": [
        (0, "", "bore", "would bring it within its", ""),
    ],
    "driveline.shaft-strength": [
        (0, "rear", "tube", "That is with the axle loaded", ""),
        (1, "front", "torque.input_joint", "m. That is with the", ""),
    ],
    "driveline.spline-match": [
        (0, "hub_spline", "teeth", "They are of one diameter, so", ""),
        (
            1,
            "hub_spline",
            "diameter",
            "driveline.gearbox.input_spline: the hub is smaller than",
            "driveline.gearbox.input_spline.",
        ),
        (3, "input_spline", "standard", "does not go", ""),
    ],
    "exhaust.back-pressure": [
        (0, "", "pressure", "No tube of the series would", ""),
    ],
    "exhaust.device-position": [
        (0, "catalyst", "distance-max", "Elsewhere the certificate does not hold.", ""),
        (1, "catalyst", "distance-min", "Elsewhere the certificate does not hold.", ""),
        (2, "catalyst", "inlet-temperature", "Insulate the pipe, or bring the", ""),
        (3, "filter", "held", "Only the pipes hold this device", "The device is held by itself."),
        (4, "filter", "as-shown", "must sit the way round and", "sits as"),
    ],
    "exhaust.flex-section": [
        (0, "", "piece", "movement: fit a bellows or braided", "flexible piece"),
        (1, "", "offset", "It tears, or pulls at the", ""),
        (2, "", "place", "What is ahead of it hangs", ""),
        (3, "", "twist", "twists a braided piece and tears", "does not twist the flexible piece,"),
        (4, "", "straight", "rest, which uses up its travel", "lies straight"),
    ],
    "exhaust.heat-clearance": [
        (0, "starter_cable", "", "Behind a shield", ""),
    ],
    "exhaust.outlet": [
        (0, "", "place", "ahead of the cab, where", "cab or above its roof."),
        (1, "", "clear-of-body", "or load, where gas gathers: lead", "and load."),
        (2, "", "distance-to-opening", "or more away from it", ""),
        (3, "", "direction", "blows on a tyre: turn the", "meets nothing that it harms."),
        (4, "", "sparks", "Nothing holds sparks back: fit a", "Sparks are held back by what"),
    ],
    "exhaust.reductant": [
        (0, "", "line-length", "Put tank and doser nearer to", ""),
        (1, "", "lift", "Put the tank higher.", ""),
        (2, "", "volume", "It runs dry before the fuel", ""),
        (3, "", "line-heating", "The lines stay frozen: fit stronger", ""),
        (4, "", "tank-heating", "heated: fit coolant hoses or a", "heated, and it is."),
        (5, "", "tank-temperature", "Shield it, or put it in", ""),
    ],
    "exhaust.regeneration": [
        (0, "", "run", "The filter will block and stop", ""),
        (1, "", "parked-switch", "The engine can burn its filter", "the burning clean while standing."),
        (2, "", "inhibit-switch", "is missing: the engine maker asks", "where that would be dangerous."),
        (3, "", "lamp", "filter: fit one (particulate-filter).", "filter."),
    ],
    "exhaust.sensor-lines": [
        (0, "inlet_temperature", "reach", "It must not be cut or", ""),
        (1, "inlet_temperature", "angle", "Water stands on it: weld the", ""),
        (2, "filter", "drains", "Water gathers in this line: let", "The line rises"),
    ],
    "exhaust.turbo-load": [
        (0, "", "force", "Hold the pipe nearer to the", ""),
        (1, "", "moment", "Hold the pipe nearer to the", ""),
        (2, "", "support-on", "frame, so that the moving engine", "moves with"),
    ],
    "fit.bay-box": [
        (0, "", "room.front", "The other side has no room", ""),
    ],
    "fit.fan-gap": [
        (1, "fan_shroud", "tips-apart", "would leave enough.", ""),
    ],
    "fit.gearbox-place": [
        (0, "", "lever", "too far back.", ""),
        (1, "", "mount", "too far forward.", ""),
        (2, "", "tunnel-roof", "The tunnel lacks", "are left"),
        (7, "", "transfer-lever", "too far back.", ""),
    ],
    "fit.installed-angle": [
        (1, "", "side", "crank: no lean does with this", "crank."),
    ],
    "fit.shaft-length": [
        (0, "rear", "length", "is stated.", ""),
    ],
    "fit.shaft-plunge-ground": [
        (0, "rear", "slip-in", "shortest; no other length does, it", "shortest."),
        (1, "rear", "slip-out", "longest; no other length does, it", "longest."),
    ],
    "fit.wading": [
        (0, "", "gearbox", "or more by a hose.", ""),
        (1, "", "axle.rear", "or more by a hose.", ""),
        (2, "", "electrical.starter", "Move it up, or fit one", ""),
        (3, "", "fan", "give it a switch, or", ""),
    ],
    "fuel.cold-flow": [
        (0, "", "", "To heat the whole supply flow", ""),
    ],
    "fuel.filtration": [
        (0, "", "water-separator", "high-pressure pump, and water kills it", "Water is parted"),
        (1, "", "flow.primary", "L/h, but a filter passes all", ""),
    ],
    "fuel.high-pressure": [
        (0, "", "home-made", "was made or bent in the", "is home-made."),
        (1, "", "lines-renewed", "not new: order it by position", "that was loosened"),
        (2, "", "leak-off", "free: join all of it.", "free."),
    ],
    "fuel.line-routing": [
        (1, "engine-bay", "outside-cab", "people, where a leak burns or", "stays out of"),
    ],
    "fuel.materials": [
        (0, "", "hose-class", "is wrong here: diesel takes SAE", "suits diesel."),
        (1, "", "return-material", "fuel, and its salts block the", "The line suits"),
        (4, "", "tank", "Diesel takes up zinc, which then", "suits the fuel."),
    ],
    "fuel.needed-parts": [
        (0, "", "tank", "tank: the engine gets no fuel.", "The build has a"),
        (1, "", "supply", "engine: the engine gets no fuel.", "The build has a"),
    ],
    "fuel.pickup-position": [
        (0, "", "height", "below the tank's top ends", ""),
        (1, "", "offset-across", "middle: it draws air on slopes", "middle."),
    ],
    "fuel.return-heating": [
        (0, "", "", "would keep it at the", ""),
    ],
    "fuel.return-pressure": [
        (1, "", "end", "circle to the engine's pump.", ""),
    ],
    "fuel.suction-loss": [
        (1, "", "", "would pass: lift and filters", ""),
    ],
    "fuel.supply-pump": [
        (0, "", "old-pump", "Take it out and join the", "is left"),
    ],
    "fuel.tank-conversion": [
        (0, "", "tank-cleaned", "by a specialist: have that done", "specialist has"),
        (1, "", "labelled", "in: put a label on it.", ""),
    ],
    "fuel.tank-place": [
        (0, "tank", "parted", "people: fit a closed metal wall", "is shut off"),
        (1, "tank", "filler", "The filler opens in the cab", "It is filled from outside."),
        (2, "tank", "rear-impact", "from the rear end: a", "ahead of"),
        (3, "tank", "lengthwise", "Fit wider straps, more brackets or", ""),
        (4, "tank", "across", "Fit wider straps, more brackets or", ""),
    ],
    "fuel.tilt-uncovering": [
        (0, "", "low-level-lamp", "Set it higher.", ""),
    ],
    "fuel.venting": [
        (0, "", "vent", "no vent: vacuum starves the engine", "vent."),
        (1, "", "path", "its cap only, which dust and", ""),
        (2, "", "bore", "dirt, a kink or ice", ""),
        (3, "", "rollover-valve", "vehicle on its side spills its", "roll-over valve."),
    ],
    "gearing.crawl": [
        (0, "", "", "the lowest gear of all has", "idle with"),
    ],
    "gearing.cruise-reserve": [
        (0, "", "grade", "does not hold", "slopes up to"),
    ],
    "gearing.cruise-rpm": [
        (0, "", "cruise-band", "gear: it races, above its cruise", "gear."),
        (1, "", "rated-speed", "with less and less power.", ""),
    ],
    "gearing.gradeability": [
        (0, "", "", "%, whatever the ratio.", ""),
    ],
    "gearing.reverse": [
        (0, "", "", "%. It takes", "in reverse."),
    ],
    "gearing.shift-step": [
        (0, "ratios[2]", "", "more, which is beyond the governor", "more."),
    ],
    "gearing.startability": [
        (0, "", "with-trailer", "It takes an overall ratio of", ""),
        (0, "", "solo", "It takes an overall ratio of", ""),
    ],
    "gearing.top-speed": [
        (0, "", "tyres", "limiter set to the tyres'", ""),
        (0, "", "tyres-downhill", "Take such hills in a lower", ""),
    ],
    "intake.boost-joints": [
        (0, "hot", "hose-pressure", "Fit hose rated for", ""),
        (1, "hot", "hose-temperature", "They soften and burst: fit silicone", ""),
        (2, "cold", "bead", "push the hose off it", "hose has a bead."),
        (3, "cold", "clamp", "lose their grip as the hose", "hold boost."),
    ],
    "intake.crankcase-vent": [
        (0, "", "pressure", "The pressure pushes oil past the", ""),
        (1, "", "low-loop", "loop, where oil and water gather", "loop."),
        (2, "", "stays-closed", "built and certified with a closed", "breather stays closed, as the"),
        (3, "", "entry", "sensor, which its oil falsifies: lead", "sensor and turbocharger or throttle."),
        (4, "", "separator", "turbocharger and charge-air cooler: fit a", "separator stands"),
    ],
    "intake.filter-capacity": [
        (0, "", "flow", "Fit a larger filter.", ""),
        (1, "", "dust", "Fit a larger filter or a", ""),
    ],
    "intake.flow-sensor-run": [
        (2, "", "bore", "of air is reported wrongly.", ""),
        (3, "", "dry-filter", "and falsifies it: fit", "ahead of"),
        (4, "", "as-shown", "must sit the way round and", "sits as"),
    ],
    "intake.inlet-air": [
        (0, "", "temperature", "of power goes for every", ""),
        (1, "", "height", "The bow wave reaches it: lead", ""),
        (2, "", "drain", "reaches the filter: give the lowest", "the filter."),
        (3, "", "exhaust-gas", "inlet: move one of the two.", "No exhaust"),
    ],
    "intake.restriction": [
        (0, "", "clean", "No bore of duct would do", ""),
        (2, "", "indicator", "It tells of a full filter", ""),
    ],
    "mass.axle-rating": [
        (0, "laden front", "", "back would do it, or", ""),
    ],
    "mass.calibration-window": [
        (0, "", "vehicle", "It takes a calibration for heavier", ""),
        (2, "", "combination", "It takes a calibration for heavier", ""),
    ],
    "mass.gross-rating": [
        (0, "laden", "vehicle", "too much.", "room for another"),
        (1, "laden", "combination", "too much, tow less.", ""),
    ],
    "mass.ledger-sense": [
        (0, "", "parts", "new exhaust goes in and", "engine, radiator, exhaust, tank, battery."),
        (3, "", "lines-counted", "no-such-item, which", "Every supplied line over"),
        (5, "", "lines-agree", "scope of supply that engine counts", "weighs less than the supplied lines"),
        (7, "", "out-when-weighed", "mounts does not come out with", "weighed with all its"),
        (8, "", "one-mass", "kg, and the parts that mounts", "No mass of the ledger"),
    ],
    "mass.load-cases": [
        (0, "", "gross-rating-reached", "of payload are never put", "gross rating: the cargo bed is"),
    ],
    "mass.plate-sense": [
        (0, "", "axle-ratings", "It cannot be loaded to its", ""),
        (1, "", "approved-mass", "Nobody has approved the higher mass", ""),
        (2, "", "combination", "Where nothing may be towed the", ""),
    ],
    "mass.ride-height": [
        (0, "front", "height", "side, or spacers, would", ""),
    ],
    "mass.side-balance": [
        (0, "driver_only rear", "", "more. To level it, move", ""),
    ],
    "mass.steering-axle-share": [
        (0, "laden", "usual-share", "forward by half the wheelbase", ""),
    ],
    "mass.tyre-pressure": [
        (1, "front", "", "and no higher pressure is", ""),
    ],
    "mounts.bracket-shock": [
        (1, "front_left", "two-bolts", "bracket: use two or more.", "bolts hold"),
        (2, "front_left", "frame-joint", "maker's or a licensed engineer's word.", "is of the usual kind."),
    ],
    "mounts.flexible-bridges": [
        (0, "fuel_feed", "", "is rigid: give it a hose.", "mm; free over four times that"),
    ],
    "mounts.isolation": [
        (0, "", "idle-firing", "in all would give", "N/mm."),
    ],
    "mounts.movement-envelope": [
        (2, "engine_unit", "", "times as stiff against roll would", ""),
    ],
    "mounts.rear-face-moment": [
        (0, "", "", "behind that face would leave", ""),
    ],
    "mounts.roll-mode": [
        (0, "", "idle-firing", "times as stiff would make it", ""),
    ],
    "mounts.static-share": [
        (0, "front_left", "", "it is too hard for", ""),
    ],
    "mounts.torque-reaction": [
        (1, "front_left", "captive", "Use a captive mount, or one", "It is captive."),
    ],
    "network.addresses": [
        (0, "cluster", "own", "as engine: give it another.", "the preferred one of: instrument cluster."),
        (2, "cluster", "listens-to", "which nobody on", "addresses that"),
    ],
    "network.bit-rate": [
        (0, "front", "rate.cluster", "set it, or use a", "as its bus does."),
        (1, "front", "protocol.cluster", "another protocol", "as its bus does."),
    ],
    "network.signal-availability": [
        (1, "cluster", "gets.100", "which no device on its bus", ""),
    ],
    "network.stub-length": [
        (0, "cluster", "length", "Move its tee nearer, or loop", ""),
        (2, "network", "apart", "or more are asked for.", "stands clear"),
    ],
    "network.termination": [
        (0, "front", "", "The one inside cluster stands at", ""),
    ],
    "network.trunk-length": [
        (1, "front", "shape", "meet at cluster-tee: a star. Make", "two ends."),
    ],
    "power.alternator-cable": [
        (0, "alternator", "fuse", "it may blow at full", ""),
    ],
    "power.battery-cold": [
        (1, "", "standard.main", "the two tests differ and the", "stated."),
        (2, "", "temperature", "Ask for its need at the", ""),
    ],
    "power.battery-location": [
        (1, "main", "away-from-fuel", "filter, where a leak meets a", "filter is above or below"),
    ],
    "power.circuit-drop": [
        (1, "ecm", "return-length", "The length counts both ways: taken", ""),
    ],
    "power.consumers-counted": [
        (0, "heater", "counted", "blower: its current is not counted.", "fan counts"),
    ],
    "power.crank-voltage": [
        (0, "", "control-unit", "That is with the battery three-quarters", ""),
        (0, "", "starter", "That is with the battery three-quarters", ""),
    ],
    "power.grounding": [
        (1, "", "ground.cab", "battery: fit a strap.", "battery."),
        (2, "", "control-unit", "frame: give it a conductor of", "does not return"),
    ],
    "power.isolation-shutdown": [
        (0, "", "after-run", "is fed through the main switch", "main switch open."),
        (1, "", "alternator", "and its voltage jumps: let it", "stops it"),
    ],
    "power.main-fuse": [
        (1, "heater", "bare-distance", "The limit is known from memory", ""),
        (2, "starter", "", "length and keep it clear of", "fuse, sleeved"),
    ],
    "power.system-voltage": [
        (0, "", "starter", "or a converter.", ""),
        (1, "", "consumers", "and no converter gives other", "Every consumer is"),
    ],
    "supply.consumables": [
        (0, "", "small-parts", "consumables and does not name hose-clamps", "build needs is on the quote."),
    ],
    "supply.end-date": [
        (0, "", "", "day too late.", "days in hand."),
    ],
    "supply.fluids": [
        (2, "engine-oil", "standard", "API CF is bought, and the", "that is bought meets a standard"),
        (4, "coolant", "family", "silicate is bought, and the", "that is bought meets a standard"),
    ],
    "supply.function-coverage": [
        (
            0,
            "heat-shields",
            "",
            "turbocharger: not in the engine package",
            "turbocharger. It comes with 'exhaust system'.",
        ),
    ],
    "supply.interface-adapters": [
        (0, "lift_pump", "", "do not fit, and nobody supplies", ""),
    ],
    "supply.lead-time": [
        (0, "supply[5]", "", "late. It was to be ordered", "in hand. Order it"),
    ],
    "supply.needed-parts": [
        (0, "", "speedometer", "speedometer, and there is none: fit", "speedometer."),
    ],
    "supply.quote-arithmetic": [
        (0, "", "total", "less. No single line, nor tax", ""),
        (2, "", "currency", "priced in USD and the quote", "Every price"),
        (3, "", "down-payment", "all: more than there is to", ""),
    ],
    "supply.quote-matches-spec": [
        (0, "supply[13]", "", "wiring': electrics.cables.starter.size", "specified."),
    ],
    "supply.quote-terms": [
        (0, "", "excludes", "'exhaust system' covers the heat shields", "nothing that its lines cover."),
        (1, "", "similar", "The quote lets something similar be", "What is sent is what is"),
    ],
    "supply.sheet-age": [
        (0, "", "", "ask its maker whether a later", ""),
    ],
    "supply.unused-parts": [
        (0, "pump_drive", "", "is not lubricated.", ""),
    ],
    "supply.validity": [
        (0, "", "offer", "have it confirmed anew.", "stands until"),
    ],
}
"""Of a rule: which of its examples fails, the end of the part, the demand, words of the fail, words of the pass."""

MET = {
    "chassis.air-conditioning": [
        ("", "idle", "The idle is held against the compressor."),
        ("", "switch", "A high-pressure switch stops the compressor."),
    ],
    "chassis.vacuum-reserve": [
        ("", "eight-applications", "Secondary braking is reached without any vacuum."),
    ],
    "chassis.vacuum-source": [
        ("", "hose", "The hose is made for brake vacuum."),
    ],
    "controls.bulkhead-pass": [
        ("cluster", "split.bulkhead", "A split grommet closes round the lead cluster"),
    ],
    "controls.diagnostic-access": [
        ("", "fuse", "A fuse protects its feed."),
    ],
    "controls.ecm-feed": [
        ("main", "constant", "The constant feed main comes from battery-positive."),
    ],
    "controls.immobiliser-signals": [
        ("engine", "", "The engine gets brake-switch from brake_switch"),
        ("immobiliser", "", "The immobiliser gets coded-key from key_reader"),
        ("body", "", "The body gets engine-running from the engine"),
    ],
    "controls.key-off-stops": [
        ("", "fan", "A fan that runs on feeds nothing that"),
    ],
    "controls.pedal-match": [
        ("", "idle-switch", "Pedal, idle switch: no; the control unit expects"),
        ("", "inverted", "Pedal, one track falling as the other rises:"),
    ],
    "controls.warning-lamps": [
        ("", "colour.brake", "The lamp for brake is red, as it"),
        ("", "output.filter", "The engine has a lamp output for particulate-filter."),
    ],
    "cooling.external-circuit": [
        ("", "hoses", "A hose is stated at every port to"),
    ],
    "cooling.fan-flow": [
        ("", "fitted", "Where the wind of driving is too little,"),
    ],
    "cooling.fill-deaeration": [
        ("", "entry.cylinder_head", "The vent cylinder_head enters the tank above the"),
        ("", "fill-line-end", "The fill line ends at the pump's inlet"),
        ("", "rises.cylinder_head", "The vent cylinder_head rises all the way to"),
    ],
    "cooling.freeze-protection": [
        ("", "kind", "The coolant is of the organic-acid family; the"),
    ],
    "driveline.damper-range": [
        ("", "damped-hub", "The disc's hub is damped: behind a diesel"),
        ("", "dual-mass-flywheel", "The engine maker does not ask for a"),
    ],
    "exhaust.device-position": [
        ("catalyst", "present", "The oxidation catalyst that the engine is certified"),
        ("filter", "insulation", "The pipe ahead of the device is insulated."),
    ],
    "exhaust.sensor-lines": [
        ("inlet_temperature", "place", "The build has a place for it."),
    ],
    "fit.fan-gap": [
        ("fan_shroud", "tips-apart", "fan_shroud: fan and shroud move apart."),
    ],
    "fit.service-access": [
        ("belt", "mounts-stay", "The belt comes out with the mounts in"),
        ("dipstick", "from-above", "The dipstick is a daily check and is"),
    ],
    "fuel.filtration": [
        ("", "final-fitted", "A final filter stands ahead of the pump."),
        ("", "water-sensor", "A sensor tells of water in the bowl."),
    ],
    "fuel.high-pressure": [
        ("", "tightened-to-sheet", "It was tightened as the engine maker says."),
        ("", "washers-renewed", "Every washer that was loosened is new."),
    ],
    "fuel.line-routing": [
        ("engine-bay", "behind-front-axle", "This stretch is behind the front axle."),
        ("engine-bay", "below-tank", "This stretch is guarded from below."),
        ("engine-bay", "flexible-end", "A flexible piece takes up the engine's movement."),
        ("engine-bay", "moving-parts", "Nothing that moves can touch this stretch."),
        ("engine-bay", "within-width", "This stretch is inside the vehicle's sides."),
    ],
    "fuel.materials": [
        ("", "line-material", "The line suits the fuel."),
    ],
    "fuel.return-pressure": [
        ("", "end", "The return ends in the tank."),
        ("", "outlet", "The return enters the tank without foaming."),
    ],
    "fuel.supply-pump": [
        ("", "feed-pump", "The engine sucks its fuel itself and needs"),
    ],
    "fuel.tank-conversion": [
        ("", "canister-gone", "No canister is left."),
        ("", "filler-suits-nozzle", "The filler suits the nozzle of the new"),
        ("", "labelled", "The filler says which fuel goes in."),
        ("", "papers-asked", "The registration authority was asked."),
        ("", "pickup-renewed", "Pick-up and strainer are new."),
        ("", "seals-suit-fuel", "Seals that are kept suit the new fuel."),
        ("", "sender-matched", "Gauge and level sender read right together."),
    ],
    "fuel.venting": [
        ("", "end-place", "The vent ends away from heat and sparks."),
        ("", "path", "The tank breathes through a line of its"),
    ],
    "intake.flow-sensor-run": [
        ("", "tested-box", "The filter box is the one that the"),
    ],
    "mass.ledger-sense": [
        ("", "kerb-mass", "The kerb mass is weighed."),
    ],
    "power.battery-location": [
        ("main", "cover", "The battery is covered, its live terminals insulated."),
    ],
    "power.grounding": [
        ("", "ground.engine", "A ground leads from the engine to the"),
    ],
    "supply.needed-parts": [
        ("", "alternator", "The engine has an alternator."),
        ("", "clutch", "There is a clutch."),
        ("", "gearbox", "There is a gearbox."),
        ("", "starter", "There is a starter."),
        ("", "tyres", "There is a set of tyres."),
    ],
    "supply.quote-arithmetic": [
        ("", "twice", "Nothing is on the quote twice under the"),
    ],
    "supply.unused-parts": [
        ("pump_drive", "", "pump_drive is not used; its maker wants it"),
    ],
}
"""Of a rule: the end of the part, the demand, how the sentence begins where the sound spec meets it."""


@functools.cache
def _found(rule: str, example: int) -> list[Finding]:
    declared = next(one for _, one in rule_base().rules if one.id == rule)
    return trial(rule, declared.bad[example] if example >= 0 else {})


def _sentence(rule: str, example: int, part: str, demand: str) -> str:
    (found,) = (f for f in _found(rule, example) if f.part.split(".")[-1] == part and f.demand == demand)
    assert (found.kind == "pass") is (example < 0), (found.kind, found.message)
    return found.message


@pytest.mark.parametrize("rule", SAID)
def test_a_fail_says_what_is_wrong_and_a_pass_does_not(rule: str) -> None:
    for example, part, demand, wrong, right in SAID[rule]:
        fails, passes = _sentence(rule, example, part, demand), _sentence(rule, -1, part, demand)
        assert wrong in fails
        assert wrong not in passes
        assert right in passes
        assert not right or right not in fails


@pytest.mark.parametrize("rule", MET)
def test_what_is_met_is_said_as_such(rule: str) -> None:
    for part, demand, begins in MET[rule]:
        assert _sentence(rule, -1, part, demand).startswith(begins)
