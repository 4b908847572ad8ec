"""The documents that several packs cite, each named once.

`known` says how the numbers in use are known. None of these citations names a clause, because nobody here had the
document open; where a number is marked "from memory", read it in the document before relying on it.
"""

from swaplint.api import book, practice, regulation, standard

VEHICLE_DYNAMICS = book("Gillespie, Fundamentals of Vehicle Dynamics", known="from memory")
TERRAMECHANICS = book("Wong, Theory of Ground Vehicles", known="from memory")
STANDARD_ATMOSPHERE = standard("ISO 2533, Standard Atmosphere")
TYRE_MARKINGS = regulation("UN Regulations No. 30 and No. 54, tyres")
TYRE_ROLLING = standard("ETRTO Standards Manual, dynamic rolling circumference factor", known="from memory")
SPEEDOMETER_RULE = regulation("UN Regulation No. 39, speedometer")
MASSES_RULE = regulation("Commission Regulation (EU) No 1230/2012, masses and dimensions", known="from memory")
KINEMATICS = practice("kinematics of a rolling wheel behind a gear train")
