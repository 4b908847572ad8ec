"""Published tables for conductors, as their sources print them.

Areas are given here in mm² and resistances in Ω/km because the sources do; `conductors` turns them into SI.
"looked up" means that a public page printing the table was read, "from memory" that none was.
"""

from __future__ import annotations

from typing import Final

CLASS_5_OHM_PER_KM: Final[dict[float, float]] = {
    0.5: 39.0,
    0.75: 26.0,
    1.0: 19.5,
    1.5: 13.3,
    2.5: 7.98,
    4.0: 4.95,
    6.0: 3.30,
    10.0: 1.91,
    16.0: 1.21,
    25.0: 0.780,
    35.0: 0.554,
    50.0: 0.386,
    70.0: 0.272,
    95.0: 0.206,
    120.0: 0.161,
    150.0: 0.129,
    185.0: 0.106,
    240.0: 0.0801,
}
"""Nominal area, mm², to largest resistance at 20 °C, Ω/km: plain copper, class 5 flexible conductor.

IEC 60228. Looked up: two public reprints of the table agree in every figure.
"""

AWG_GAUGES: Final[dict[str, int]] = {
    "20 AWG": 20,
    "18 AWG": 18,
    "16 AWG": 16,
    "14 AWG": 14,
    "12 AWG": 12,
    "10 AWG": 10,
    "8 AWG": 8,
    "6 AWG": 6,
    "4 AWG": 4,
    "3 AWG": 3,
    "2 AWG": 2,
    "1 AWG": 1,
    "1/0 AWG": 0,
    "2/0 AWG": -1,
    "3/0 AWG": -2,
    "4/0 AWG": -3,
}
"""Trade name to gauge number of the sizes sold as vehicle and boat cable (ASTM B258 numbering)."""

SAE_CIRCULAR_MILS: Final[dict[int, float]] = {
    18: 1537, 16: 2336, 14: 3702, 12: 5833, 10: 9343, 8: 14810, 6: 24538, 4: 37360, 2: 62450,
    0: 98980, -1: 125100, -3: 205500,
}  # fmt: skip
"""Gauge number to the least area, circular mils, of a conductor of US vehicle cable; 1/0 is 0, 4/0 is -3.

Looked up: columns "SAE" of two cable sellers' tables, of which one is shifted by a row for some sizes and was read
with the other; neither numbers its standard (SAE J1127 and J1128, from memory). No row for 20, 3, 1 and 3/0 was found.
"""

AWG_AMPACITY: Final[dict[int, dict[int, float]]] = {
    60: {
        18: 10, 16: 15, 14: 20, 12: 25, 10: 40, 8: 55, 6: 80, 4: 105, 3: 120, 2: 140,
        1: 165, 0: 195, -1: 225, -2: 260, -3: 300,
    },
    75: {
        18: 10, 16: 15, 14: 20, 12: 25, 10: 40, 8: 65, 6: 95, 4: 125, 3: 145, 2: 170,
        1: 195, 0: 230, -1: 265, -2: 310, -3: 360,
    },
    80: {
        18: 15, 16: 20, 14: 25, 12: 35, 10: 50, 8: 70, 6: 100, 4: 130, 3: 150, 2: 175,
        1: 210, 0: 245, -1: 285, -2: 330, -3: 385,
    },
    90: {
        18: 20, 16: 25, 14: 30, 12: 40, 10: 55, 8: 70, 6: 100, 4: 135, 3: 155, 2: 180,
        1: 210, 0: 245, -1: 285, -2: 330, -3: 385,
    },
    105: {
        18: 20, 16: 25, 14: 35, 12: 45, 10: 60, 8: 80, 6: 120, 4: 160, 3: 180, 2: 210,
        1: 245, 0: 285, -1: 330, -2: 385, -3: 445,
    },
    125: {
        18: 25, 16: 30, 14: 40, 12: 50, 10: 70, 8: 90, 6: 125, 4: 170, 3: 195, 2: 225,
        1: 265, 0: 305, -1: 355, -2: 410, -3: 475,
    },
    200: {
        18: 25, 16: 35, 14: 45, 12: 55, 10: 70, 8: 100, 6: 135, 4: 180, 3: 210, 2: 240,
        1: 280, 0: 325, -1: 370, -2: 430, -3: 510,
    },
}  # fmt: skip
"""Insulation rating, °C, to gauge number to allowable current, A, outside engine spaces at 30 °C ambient.

US 33 CFR 183.425 table 5, stranded copper. Looked up. The 105 °C column is also the single-conductor column
of the boat-cable trade tables to UL 1426 and ABYC E-11.
"""

AWG_ENGINE_SPACE_FACTOR: Final[dict[int, float]] = {
    60: 0.58,
    75: 0.75,
    80: 0.78,
    90: 0.82,
    105: 0.85,
    125: 0.89,
    200: 1.00,
}
"""Insulation rating, °C, to factor in an engine space at 50 °C ambient: 33 CFR 183.425 table 5 note 1.

0.85 for 105 °C looked up; the others from memory, each within 0.02 of √((T−50)/(T−30)) up to 125 °C.
"""

METRIC_AMPACITY: Final[dict[int, dict[float, float]]] = {
    70: {
        1.0: 14, 1.5: 18, 2.5: 25, 4.0: 35, 6.0: 45, 10.0: 65, 16.0: 90, 25.0: 120, 35.0: 160,
        50.0: 210, 70.0: 265,
    },
    105: {
        1.0: 20, 1.5: 25, 2.5: 35, 4.0: 45, 6.0: 60, 10.0: 90, 16.0: 130, 25.0: 170, 35.0: 210,
        50.0: 270, 70.0: 330, 95.0: 390, 120.0: 450,
    },
}  # fmt: skip
"""Insulation rating, °C, to nominal area, mm², to allowable current, A, outside engine spaces.

ISO 10133 annex A, small craft, single copper conductor. From memory: no public page printing the table was
found. Each 105 °C figure lies between those of the neighbouring gauges in the looked-up AWG table.
"""

METRIC_ENGINE_SPACE_FACTOR: Final[dict[int, float]] = {70: 0.75, 105: 0.85}
"""Insulation rating, °C, to factor in an engine space.

70 °C: ISO 10133, from memory. 105 °C: the looked-up AWG factor, taken over because the two tables agree
there.
"""

BUNDLE_FACTORS: Final[tuple[tuple[int, float], ...]] = ((1, 1.0), (3, 0.7), (4, 0.6), (7, 0.5), (25, 0.4))
"""Fewest loaded conductors in the bundle, this one included, to the factor that applies from there.

Boat-cable trade tables to ABYC E-11, looked up. 33 CFR 183 asks for them only at 50 V and more; applying them
to 12 V and 24 V vehicles is a cautious common practice.
"""
