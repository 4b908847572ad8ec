"""American wire gauge as it is written: from a size to its area and back, `4 AWG` as well as `4 SAE`.

The geometry (ASTM B258) is `engineering.conductors.awg_area`: the area is that of the solid round wire. US vehicle
cable sold under the same number holds less copper: that is an SAE size, and `engineering.conductors.sae_area`.
"""

from __future__ import annotations

from functools import lru_cache

RANGE = "4/0 to 1/0, then 1 to 36"
SAE_RANGE = "4/0, 2/0, 1/0, then 2 to 18 by twos"
_NAMES = ["4/0", "3/0", "2/0", "1/0", *(str(size) for size in range(1, 37))]
_OTHER_NAMES = {"0": "1/0", "00": "2/0", "000": "3/0", "0000": "4/0"}


@lru_cache(maxsize=1)
def _areas() -> dict[str, float]:
    # Imported only when a wire gauge turns up: most values do without, and reading them must stay cheap to import.
    from swaplint.engineering.conductors import awg_area

    return {name: awg_area(gauge) for gauge, name in enumerate(_NAMES, -3)}


@lru_cache(maxsize=1)
def _sae_areas() -> dict[str, float]:
    from swaplint.engineering.conductor_tables import SAE_CIRCULAR_MILS
    from swaplint.engineering.conductors import sae_area

    return {_NAMES[gauge + 3]: sae_area(gauge) for gauge in SAE_CIRCULAR_MILS}


def sae_area_of(size: str) -> float | None:
    """Return the area in m² of a size of US vehicle cable as it is written, or None if there is no such size.

    >>> round(sae_area_of("4") * 1e6, 2), sae_area_of("5")
    (18.93, None)
    """
    return _sae_areas().get(_OTHER_NAMES.get(size, size))


def area_of(size: str) -> float | None:
    """Return the area in m² of a size as it is written, or None if there is no such size.

    >>> round(area_of("2/0") * 1e6, 2)
    67.43
    >>> area_of("00") == area_of("2/0")
    True
    """
    return _areas().get(_OTHER_NAMES.get(size, size))


def name_of(area: float) -> str | None:
    """Return the size that has exactly this area (in m²), or None.

    >>> name_of(area_of("10")), name_of(sae_area_of("4")), name_of(35e-6)
    ('10 AWG', '4 SAE', None)
    """
    for series, areas in (("AWG", _areas()), ("SAE", _sae_areas())):
        for name, size in areas.items():
            if abs(area - size) <= 1e-9 * size:
                return f"{name} {series}"
    return None
