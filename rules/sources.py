"""The documents that several packs cite, each named once.

`known` says how the number in use is known:

- "published": the number was read in the document itself, or in a full copy of it;
- "second-hand": it was read in a summary, a catalogue or another text that cites or uses the document;
- "from memory": nobody has looked it up. Read it in the document before relying on it;
- "data-sheet": the component's own sheet gives it, as the build names it;
- "common-practice": a fact of the trade with no published source known.

Where only some numbers of a document were read, the weaker word stands here, and the rule that uses one of those says
how that number is known. A document that was replaced or withdrawn says so in its title. No citation names a clause:
name one only with the document open.
"""

from swaplint.api import book, practice, regulation, standard

VEHICLE_DYNAMICS = book("Gillespie, Fundamentals of Vehicle Dynamics", known="from memory")
TERRAMECHANICS = book("Wong, Theory of Ground Vehicles", known="from memory")
STANDARD_ATMOSPHERE = standard("ISO 2533, Standard Atmosphere", known="second-hand")
TYRE_MARKINGS = regulation("UN Regulations No. 30 and No. 54, tyres", known="second-hand")
TYRE_ROLLING = standard("ETRTO Standards Manual, dynamic rolling circumference factor", known="from memory")
SPEEDOMETER_RULE = regulation("UN Regulation No. 39, speedometer", known="second-hand")
US_SPEEDOMETER = regulation("US 49 CFR 393.82, speedometer, buses and trucks", known="published")
MASSES_RULE = regulation(
    "Commission Regulation (EU) No 1230/2012, masses and dimensions, replaced by (EU) 2021/535", known="from memory"
)
POWER = practice("power is torque times speed of rotation")
KINEMATICS = practice("kinematics of a rolling wheel behind a gear train")
STATICS = practice("equilibrium of forces and moments, as in any statics text")
SPRINGS = practice("Hooke's law, two springs to an axle, their rate taken at the wheel")
TYRE_PRESSURE = standard("ETRTO Standards Manual, load capacity over inflation pressure", known="second-hand")
PIPE_FLOW = book("White, Fluid Mechanics, Darcy-Weisbach and Colebrook-White", known="from memory")
FITTINGS = book("Idelchik, Handbook of Hydraulic Resistance", known="from memory")
POROUS_FLOW = book("White, Fluid Mechanics, Darcy's law of flow through pores", known="from memory")
HEAT_TRANSFER = book("Incropera and DeWitt, Fundamentals of Heat and Mass Transfer", known="from memory")
DIESEL_GRADES = standard("EN 590, Automotive fuels, Diesel", known="second-hand")
PETROL_GRADES = standard("EN 228, Automotive fuels, Unleaded petrol", known="from memory")
PETROL_SEASONS = standard(
    "EN 228, Automotive fuels, Unleaded petrol, vapour pressure classes, as a French decree of 2009 lists them",
    known="second-hand",
)
PETROL_VAPOUR = standard("US EPA AP-42, chapter 7.1, figure 7.1-15, vapour pressure of petrol", known="second-hand")
VISCOSITY_LINE = standard("ASTM D341, viscosity-temperature charts for liquid petroleum products", known="from memory")
DENSITY_TABLES = standard("ASTM D1250, petroleum measurement tables", known="from memory")
COLD_FILTER_TEST = standard("EN 116, cold filter plugging point", known="from memory")
FUEL_HOSE = standard("SAE J30, fuel and oil hoses, older texts of June 1998 and February 2012", known="published")
DIESEL_HOSE = standard("ISO 19013-1, rubber hoses for fuel circuits, diesel fuels", known="second-hand")
HOSE_CLAMPS = standard("SAE J1508, hose clamp specifications", known="from memory")
FIRE_RISKS = regulation("UN Regulation No. 34, fire risks", known="second-hand")
US_FUEL_TANKS = regulation("US 49 CFR part 393, fuel systems of motor carriers", known="second-hand")
US_FUEL_ROUTES = regulation("California Code of Regulations, title 13, motor carrier fuel systems", known="published")
EXHAUST_GAPS = regulation(
    "Quebec, Regulation respecting safety standards for road vehicles, C-24.2, r. 32", known="published"
)
INJECTION_ENDS = standard("ISO 2974, high-pressure fuel pipe end-connections", known="from memory")
TANK_GEOMETRY = practice("geometry of a box")
CHARGING_TEST = book("US Army TM 5-3895-382-24, charging: 14.0 V or 28.0 V after ten minutes", known="published")
FLYWHEEL_HOUSINGS = standard("SAE J617, engine flywheel housings", known="second-hand")
FLYWHEELS = standard("SAE J620d, flywheels for industrial engines, older text", known="second-hand")
INCH_SPLINES = standard("ANSI B92.1, involute splines, basic dimensions", known="second-hand")
METRIC_SPLINES = standard("ANSI B92.2M, metric involute splines, basic dimensions", known="second-hand")
DIN_SPLINES = standard("DIN 5480, involute splines based on reference diameters", known="from memory")
STEELS = standard("EN 10025-2, hot rolled structural steels, yield and tensile strength by class", known="second-hand")
WELDS = standard("EN 1993-1-8, fillet welds, simplified method", known="second-hand")
MACHINE_DESIGN = book("Budynas and Nisbett, Shigley's Mechanical Engineering Design", known="from memory")
UNIVERSAL_JOINTS = book("Seherr-Thoss, Schmelz and Aucktor, Universal Joints and Driveshafts", known="from memory")
DRIVESHAFT_MANUAL = standard("SAE AE-7, Universal Joint and Driveshaft Design Manual", known="from memory")
WHIRLING = book("Den Hartog, Mechanical Vibrations, critical speeds", known="from memory")
CONDUCTOR_RESISTANCE = standard("IEC 60228, conductors of insulated cables, class 5", known="second-hand")
VEHICLE_CABLE = standard("SAE J1127 and SAE J1128, cable of road vehicles", known="second-hand")
COPPER = standard("IEC 60028, resistance of copper", known="second-hand")
SMALL_CRAFT_CABLES = regulation("US 33 CFR 183.425, conductors of small craft, by analogy", known="second-hand")
SMALL_CRAFT_METRIC = standard(
    "ISO 10133, small craft, direct current installations, withdrawn, replaced by ISO 13297, by analogy",
    known="from memory",
)
BOAT_BUNDLES = standard("ABYC E-11, electrical systems on boats, by analogy", known="second-hand")
FUSE_LINKS = standard("ISO 8820, road vehicles, fuse-links", known="from memory")
STARTER_CIRCUITS = standard("SAE J541, voltage drop for starting motor circuits", known="second-hand")
CRANKING_TEST_EN = standard("EN 50342-1, lead-acid starter batteries", known="second-hand")
CRANKING_TEST_SAE = standard("SAE J537, storage batteries", known="second-hand")
ALTERNATOR_CURVE = standard("ISO 8854, alternators with regulators, test methods", known="from memory")
LOAD_DUMP = standard("ISO 16750-2, electrical loads", known="second-hand")
US_BATTERIES = regulation("US 49 CFR 393.30, battery installation", known="second-hand")
MINE_CABLES = regulation("US 30 CFR 75.1910, diesel equipment, electrical systems, by analogy", known="second-hand")
STARTER_LOOPS = standard("SAE J3053, heavy-duty starter electrical circuits", known="second-hand")
BOLTS = standard("ISO 898-1, mechanical properties of fasteners", known="from memory")
OHM = practice("Ohm's law and resistances in series")
COMPACT_HEAT_EXCHANGERS = book("Kays and London, Compact Heat Exchangers", known="from memory")
RAOULT = book("Atkins, Physical Chemistry, Raoult's law", known="from memory")
STEAM_TABLES = standard("IAPWS R7-97, saturation line of water", known="second-hand")
GLYCOL_TABLES = book("ASHRAE Handbook Fundamentals, aqueous solutions of ethylene glycol", known="second-hand")
COOLING_TRIALS = standard("SAE J1393, heavy-duty vehicle cooling test code", known="second-hand")
COOLING_TERMS = standard("SAE J1004, glossary of engine cooling system terms", known="second-hand")
FILL_TESTS = standard("SAE J1436, engine cooling system filling, deaeration and drawdown tests", known="from memory")
PRESSURE_CAPS = standard("SAE J164, radiator caps and filler necks", known="from memory")
COOLANTS = standard("SAE J814, engine coolants", known="second-hand")
COOLANT_HOSE = standard("SAE J20, coolant system hoses", known="from memory")
FAN_LAWS = book("Fox and McDonald, Introduction to Fluid Mechanics, similarity laws of fans", known="from memory")
PUMP_LAWS = book("White, Fluid Mechanics, similarity laws of pumps", known="from memory")
ENGINES = book("Heywood, Internal Combustion Engine Fundamentals", known="from memory")
SPRINGS_AND_MASSES = book("Den Hartog, Mechanical Vibrations", known="from memory")
SHOCK_HANDBOOK = book("Harris, Shock and Vibration Handbook", known="from memory")
SOLID_GEOMETRY = practice("solid geometry of boxes and tilts")
ENGINE_CHANGES = regulation(
    "Australian National Code of Practice, Vehicle Standards Bulletin 14, engine changes", known="second-hand"
)
BRAKING_RULE = regulation(
    "UN Regulation No. 13, Revision 4 (older text), braking, secondary braking", known="second-hand"
)
CAR_BRAKING_RULE = regulation("UN Regulation No. 13-H, braking of passenger cars", known="second-hand")
SERVICE_BRAKING_RULE = regulation(
    "UN Regulations No. 13 and No. 13-H, service braking, as UN Regulation No. 79, annex 3, repeats it",
    known="second-hand",
)
BRAKE_DESIGN = book("Limpert, Brake Design and Safety", known="from memory")
US_VACUUM_RESERVE = regulation("US 49 CFR 393.50, reservoirs, older text", known="published")
US_VACUUM_CHECK = regulation("US 49 CFR 570.56, vacuum brake systems in use", known="published")
VACUUM_RECOVERY_RULE = regulation(
    "Western Australia, Road Traffic (Vehicles) Regulations 2014, vacuum brakes", known="published"
)
VACUUM_HOSE = standard("SAE J1403, vacuum brake hose", known="from memory")
VACUUM_TECHNIQUE = book(
    "O'Hanlon, A User's Guide to Vacuum Technology, pump-down of a tight vessel", known="from memory"
)
GAS_LAW = practice("Boyle's law: air at constant temperature")
STEERING_RULE = regulation("UN Regulation No. 79, Revision 4, steering equipment, efforts", known="published")
PARKING_EFFORT = book("Reimpell, The Automotive Chassis, parking torque of a tyre", known="from memory")
FLUID_POWER = practice("flow of a displacement pump, as in any fluid-power text")
RIBBED_BELTS = standard("ISO 9981, belt drives, PK profile", known="from memory")
BELT_THEORY = book("Khurmi and Gupta, Theory of Machines, belt drives", known="from memory")
REFRIGERANT_SAFETY = standard("SAE J639, safety of refrigerant systems", known="from memory")
GAS_PIPES = book("White, Fluid Mechanics, isothermal flow with friction in a duct", known="from memory")
AIR_CLEANERS = standard("ISO 5011, inlet air cleaning equipment, performance testing", known="from memory")
EXHAUST_RULE = regulation("US 49 CFR 393.83, exhaust systems of motor carriers", known="second-hand")
US_MUFFLER = regulation("Nebraska Revised Statutes, 60-6,286, mufflers", known="published")
SPARK_ARRESTERS = standard("SAE J350, spark arrester test procedure", known="second-hand")
REDUCTANT = book(
    "American Petroleum Institute, advice on diesel exhaust fluid (ISO 22241, AUS 32) in winter", known="second-hand"
)
APPARATUS_AIR = standard(
    "NFPA 1906, wildland fire apparatus, ember screen in the air intake, replaced by NFPA 1900", known="from memory"
)
PROTECTION_CODES = standard("ISO 20653, degrees of protection (IP code) of road vehicles", known="from memory")
PEDAL_SENSORS = standard("SAE J1843, accelerator pedal position sensor", known="second-hand")
US_ACCELERATORS = regulation("US 49 CFR 571.124, accelerator control systems", known="second-hand")
TELL_TALES = regulation("UN Regulation No. 121, hand controls, tell-tales and indicators", known="from memory")
DIAGNOSTIC_CONNECTOR = standard("SAE J1962, diagnostic connector", known="second-hand")
TRUCK_CONNECTOR = standard("SAE J1939-13, off-board diagnostic connector", known="from memory")
CAN_LINE = standard("ISO 11898-2, high-speed medium access unit", known="second-hand")
BUS_SHIELDED = standard("SAE J1939-11, physical layer, 250 kbit/s, shielded", known="second-hand")
BUS_FAST = standard("SAE J1939-14, physical layer, 500 kbit/s", known="second-hand")
BUS_UNSHIELDED = standard("SAE J1939-15, physical layer, 250 kbit/s, unshielded", known="second-hand")
BUS_ADDRESSES = standard("SAE J1939-81, network management", known="from memory")
BUS_PARAMETERS = standard("SAE J1939-71, vehicle application layer", known="second-hand")
BUS_PACKETS = standard("SAE J1939-21, data link layer", known="from memory")
FRAME_LENGTH = book(
    "Davis, Burns, Bril and Lukkien, Controller Area Network schedulability analysis, Real-Time Systems 35 (2007)",
    known="from memory",
)
LOUVRED = book(
    "Chang and Wang 1997, heat transfer of louvred fins, and a fit to it by depth, fins and speed", known="second-hand"
)
