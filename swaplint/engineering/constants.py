"""Physical constants shared by the engineering functions, SI units."""

from __future__ import annotations

from typing import Final

G: Final = 9.80665
"""Standard acceleration of free fall, m/s² (3rd CGPM 1901; ISO 80000-3)."""

R_DRY_AIR: Final = 287.05287
"""Specific gas constant of dry air, J/(kg·K) (ISO 2533)."""
