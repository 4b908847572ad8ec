"""The documents that give sizes of what is measured on a finished vehicle. Most show a size, and are no law."""

from swaplint.api import book, practice, regulation, standard

STARTING_TEST = book(
    "US Army TM 10-3930-671-24, starting circuit: 0.20 V for each 100 A, and 0.4 V in the battery cable",
    known="published",
)
CHARGING_TEST = book("US Army TM 5-3895-382-24, charging: 14.0 V or 28.0 V after ten minutes", known="published")
FUEL_LEAK_TEST = book("US Army TM 5-3895-359-14&P, fuel system leaks", known="published")
BRAKE_INSPECTION = regulation(
    "UK MOT inspection manual for cars, section 1, brakes, where no other inspection is named", known="published"
)
OIL_PRACTICE = practice(
    "oil pressure of three truck engines, hot: 97 to 344 kPa at idle, 241 to 350 kPa at rated speed, and within 15 s"
)
KEY_OFF_PRACTICE = practice("with the key off and all units asleep 10 to 50 mA, by the year of the vehicle")
VACUUM_PRACTICE = practice("a tight booster loses at most 3.3 kPa in 15 s after the engine was stopped, from 67 kPa")
STEADY_PRACTICE = practice("a cooling run is steady when the coolant moves by less than 1 K in three minutes")
RECIRCULATION_PRACTICE = practice("air at the core up to 3 K warmer than outside is usual; more comes back from behind")
NOISE_METER = standard(
    "ISO 5130, stationary noise of road vehicles: a meter that is more than 0.5 dB off its calibrator afterwards "
    "makes the test void",
    known="second-hand",
)
NOISE_SPEED = regulation(
    "Northern Ireland SR 2004/484, schedule 2, stationary noise: three quarters of rated speed, half of it above "
    "5000 r/min",
    known="published",
)
NOISE_READINGS = regulation(
    "UN Regulation No. 51, stationary noise: three readings within 2 dB, 10 dB above the background, speed within 5 %",
    known="from memory",
)
MARKED = practice("a gap that is kept while the engine moves is kept in the trial, too, and a mark at 0 was touched")
