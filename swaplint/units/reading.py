"""Reading a value as the trade writes it, and turning SI floats back into what people read."""

from __future__ import annotations

import functools
import math
import re
from collections.abc import Callable
from re import Match

from swaplint.units import awg
from swaplint.units.expression import Unit, normalised, quoted, resolve
from swaplint.units.kinds import KINDS, Kind
from swaplint.units.number import RefusedError, clear_decimals, number_value, split_number, two_readings

LONGEST = 100
"""The most characters that a value may have."""

SMALLEST, LARGEST = 1e-30, 1e30
"""The magnitudes, in SI, between which a number can be one of a build; products of several stay finite."""
_STEPS = frozenset(["temperature_difference", "sound_difference"])
"""The steps of kinds whose zero is chosen by agreement: no share of such a value means anything."""
_OTHER_SIGNS = frozenset("²³⁻¹⁴·⋅•∙°º%‰µμΩ\u2126−–‐‑′″’±≈≤≥℃℉\u212a½¼¾⅛⅜⅝⅞\u00a0\u202f\u2009")


class UnitError(ValueError):
    """A value or unit that cannot be read; the sentence says what was found and what is taken, with an example."""


Plausible = Callable[[], "tuple[float, float] | None"]
"""The range in which the value of a field lies on real vehicles, in SI; asked only where a text has two readings."""


def read(text: str, kind: Kind, *, signed: bool | None = None, plausible: Plausible | None = None) -> float:
    """Return the SI value of a text such as `1 1/2 in`.

    `signed` says whether a negative value is allowed; without it, the kind decides. `plausible` decides whether three
    digits after a lone comma or point are decimals, or part thousands; where it cannot, both are named. Without it a
    comma parts thousands and a point is a decimal point. The result is rounded to
    15 significant digits, so that `9 mm` and `0.009 m` are the same number. Anything else raises `UnitError`.

    >>> read("1 1/2 in", KINDS["length"])
    0.0381
    >>> read("260 lb-ft", KINDS["torque"])
    352.512666566164
    >>> read("4,5 kg", KINDS["mass"])
    Traceback (most recent call last):
        ...
    swaplint.units.reading.UnitError: "4,5 kg" has a comma where a decimal point belongs (write 4.5): this field \
takes a mass in kg, g, t, lb or oz, for example "1810 kg"
    """
    try:
        number, unit = _split(text, kind)
        value = _si(number, unit, kind)
        if plausible is not None:
            _refuse_two_readings(number, unit, kind, plausible)
        if value < 0.0 and kind.name == "temperature":
            raise RefusedError("is below absolute zero")
        if value < 0.0 and not (kind.signed if signed is None else signed):
            raise RefusedError(f"is negative, which {kind.words} cannot be here")
    except RefusedError as refusal:
        raise _refusal(text, _meant(text, kind) or str(refusal), kind) from None
    return value


def _meant(text: str, kind: Kind) -> str:
    # Imported here: only a mistake needs it.
    from swaplint.units.meant import meant

    plain = normalised(text) if len(text) <= LONGEST else ""
    return meant(plain, kind) if plain.isprintable() else ""


def _refuse_two_readings(number: Match[str], unit: str, kind: Kind, plausible: Plausible) -> None:
    """Refuse a number whose lone mark may part thousands or be a decimal one, unless the field knows only one."""
    readings = two_readings(number)
    limits = plausible() if readings is not None else None
    if readings is None or limits is None:
        return
    factor, offset = resolve(unit, kind)
    decimal, thousands = readings
    is_comma = "," in number.group()
    fits = [limits[0] <= si <= limits[1] for si in (decimal * factor + offset, thousands * factor + offset)]
    small, large = f"{clear_decimals(decimal)} {unit}", f"{thousands:.0f} {unit}"
    if fits == [True, True]:
        raise RefusedError(f"can be read in two ways, as {small} or as {large}: write the one that is meant")
    if is_comma and not fits[1]:
        raise RefusedError(f"has a comma where a decimal point belongs (write {small})")
    if not is_comma and fits == [False, True]:
        raise RefusedError(f"has a point between its thousands (write {large})")


def read_tolerance(text: str, kind: Kind, value_si: float) -> float:
    """Return the half width in SI of a tolerance: a share of the value (`3 %`), or absolute (`50 kg`).

    The tolerance of a temperature is a temperature difference (`5 K`), that of a pressure a pressure difference.
    A per cent sign always means a share of the value, also where the value is itself in per cent; the absolute
    tolerance of such a value is in percentage points (`2 pp`).

    >>> read_tolerance("3 %", KINDS["mass"], 1810.0)
    54.3
    >>> read_tolerance("5 K", KINDS["temperature"], 293.15)
    5.0
    """
    step = KINDS[kind.step] if kind.step else kind
    what = f"a tolerance of {kind.words}"
    try:
        number, unit = _split(text.lstrip("±").lstrip(" "), step)
        if unit.lower() in ("%", "percent", "per cent"):
            if kind.step in _STEPS:
                raise RefusedError(f"is relative, and {kind.words} has no natural zero to take a share from")
            width = number_value(number) * abs(value_si) / 100.0
            if number_value(number) > 100.0:
                raise RefusedError("is more than the whole value")
        elif unit.lower() in ("pp", "percentage points", "percentage point") and kind.name in (
            "share",
            "grade",
        ):
            width = number_value(number) / 100.0
        else:
            if unit.lower() in ("awg", "sae"):
                raise RefusedError("is a size in a series, which has no width")
            width = _si(number, unit, step)
            _refuse_two_readings(number, unit, step, lambda: (0.0, abs(value_si)))
        if width < 0.0 or number["sign"] == "-":
            raise RefusedError("is negative, which a tolerance cannot be")
    except RefusedError as refusal:
        refusal = RefusedError(_meant(text.lstrip("±").lstrip(" "), step) or str(refusal))
        relative = "" if kind.step in _STEPS else " or relative in per cent"
        own = '"2 pp"' if kind.name in ("share", "grade") else f"in {step.units[0]}"
        example = step.example if step.name in _STEPS else "3 %"
        raise UnitError(
            f'{quoted(text)} {refusal}: this field takes {what}, {own}{relative}, for example "{example}"'
        ) from None
    return _rounded(width)


def unit_factor(unit: str, kind: Kind) -> float:
    """Return how many SI units one `unit` is (for a temperature scale: how many kelvin one degree is).

    >>> unit_factor("kPa", KINDS["gauge_pressure"])
    1000.0
    """
    return _resolved(unit, kind)[0]


def to_unit(si: float, unit: str, kind: Kind) -> float:
    """Return an SI value in a unit.

    >>> to_unit(293.15, "degC", KINDS["temperature"])
    20.0
    """
    factor, offset = _resolved(unit, kind)
    return _rounded((_rounded(si - offset) if offset else si) / factor)


def from_unit(value: float, unit: str, kind: Kind) -> float:
    """Return the SI value of a number in a unit.

    >>> from_unit(1800.0, "r/min", KINDS["rotation"])
    188.495559215388
    """
    factor, offset = _resolved(unit, kind)
    return _rounded(value * factor + offset)


def show(si: float, unit: str, kind: Kind, *, digits: int = 4) -> str:
    """Return an SI value as people read it: at least the whole number, and up to `digits` significant digits.

    From ten thousand on, a space parts the thousands. A conductor that is exactly an AWG or SAE size names it.

    >>> show(14500.0, "N", KINDS["force"])
    '14 500 N'
    >>> show(0.0013, "mohm", KINDS["resistance"])
    '1.3 mΩ'
    >>> show(read("2/0 AWG", KINDS["conductor"]), "mm2", KINDS["conductor"])
    '67.43 mm² (2/0 AWG)'
    """
    label = label_of(unit)
    gap = "" if label == "°" else " "  # ISO 80000-1, from memory: none before the degree of an angle
    shown = f"{_figures(to_unit(si, unit, kind), digits)}{gap}{label}"
    size = awg.name_of(si) if kind.name == "conductor" else None
    return f"{shown} ({size})" if size else shown


def _split(text: str, kind: Kind) -> tuple[Match[str], str]:
    """Cut a text into its number and its unit, having looked at every character once."""
    if len(text) > LONGEST:
        raise RefusedError(f"is {len(text)} characters long, and no value needs more than {LONGEST}")
    for char in text:
        if not (" " <= char <= "~" or char in _OTHER_SIGNS):
            if char.isnumeric():
                raise RefusedError("has digits or fractions other than 0 to 9 (write plain digits)")
            if not char.isprintable():
                raise RefusedError(f"holds the hidden character U+{ord(char):04X} (type it anew)")
    plain = normalised(text)
    if not plain:
        raise RefusedError("is empty")
    if kind.name == "conductor" and not plain[0].isdigit():
        plain = _size_first(plain)
    number, unit = split_number(plain)
    if not unit:
        raise RefusedError("has no unit")
    if unit[0] in "²³⁻¹⁴":
        raise RefusedError("has a raised digit in its number (write plain digits)")
    return number, unit


_SERIES_FIRST = re.compile(r"(?P<series>awg|sae)[ -]?#?(?P<size>[0-9]+(?:/0)?)|#(?P<rest>.+)", re.IGNORECASE)


def _size_first(text: str) -> str:
    """A wire gauge that is written as its series and its size, AWG 2 or #2 AWG, the other way round."""
    found = _SERIES_FIRST.fullmatch(text)
    return text if found is None else found["rest"] or f"{found['size']} {found['series']}"


def _si(number: Match[str], unit: str, kind: Kind) -> float:
    if unit.lower() == "awg" and kind.name == "conductor":
        area = awg.area_of(number.group())
        if area is None:
            raise RefusedError(f"is no AWG size ({awg.RANGE})")
        return _rounded(area)
    if unit.lower() == "sae" and kind.name == "conductor":
        area = awg.sae_area_of(number.group())
        if area is None:
            raise RefusedError(f"is no SAE size of vehicle cable ({awg.SAE_RANGE})")
        return _rounded(area)
    try:
        factor, offset = resolve(unit, kind)
    except RefusedError:
        _explain_slope(number, unit, kind)
        raise
    value = number_value(number)
    if offset and kind.name != "temperature":
        step = _figures(abs(value) * factor, 6)
        raise RefusedError(f"is a temperature and not a step between two (write {step} K)")
    si = value * factor + offset
    if value and not SMALLEST <= abs(si if not offset else value) <= LARGEST:
        raise RefusedError("is too large or too small for any build")
    return _rounded(si)


def _explain_slope(number: Match[str], unit: str, kind: Kind) -> None:
    """Say what an angle is as a grade, and a grade as an angle: the two are easily mixed up."""
    other = {"grade": "angle", "angle": "grade"}.get(kind.name)
    if other is None:
        return
    try:
        slope = number_value(number) * resolve(unit, KINDS[other])[0]
    except RefusedError:
        return
    if other == "grade":
        raise RefusedError(f"is a grade, rise over run (write {_figures(math.degrees(math.atan(slope)), 4)} deg)")
    if abs(slope) < math.radians(89.0):
        raise RefusedError(
            f"is an angle, and a grade is rise over run (write {_figures(100.0 * math.tan(slope), 4)} %)"
        )


_RESOLVED: dict[tuple[str, str], tuple[Kind, Unit]] = {}
"""The units that fields, quantities and verdicts are shown in, as they were resolved for a kind of that name."""


def _resolved(unit: str, kind: Kind) -> Unit:
    known = _RESOLVED.get((unit, kind.name))
    if known is None or known[0] is not kind:
        known = _RESOLVED[unit, kind.name] = kind, _resolved_now(unit, kind)
    return known[1]


def _resolved_now(unit: str, kind: Kind) -> Unit:
    try:
        found = resolve(normalised(unit), kind)
        if found[1] and kind.name != "temperature":
            raise RefusedError("is a temperature scale")
    except RefusedError as refusal:
        raise _refusal(unit, str(refusal), kind) from None
    return found


def _refusal(text: str, found: str, kind: Kind) -> UnitError:
    return UnitError(f'{quoted(text)} {found}: this field takes {kind.takes}, for example "{kind.example}"')


def _rounded(value: float) -> float:
    """Round to 15 significant digits: what is left is the number, what goes is the noise of conversion."""
    return float(f"{value:.15g}") + 0.0


def _figures(value: float, digits: int) -> str:
    if value == 0.0 or not math.isfinite(value):
        return f"{value + 0.0:g}"
    if not 1e-6 <= abs(value) < 1e15:
        return f"{value:.{digits - 1}e}"
    size = math.floor(math.log10(abs(float(f"{value:.{digits - 1}e}"))))
    text = f"{value:.{max(0, digits - 1 - size)}f}"
    return number_figures(float(text), len(text.partition(".")[2]))


def number_figures(value: float, decimals: int) -> str:
    """A number with at most so many decimals, without zeros at the end, a space between thousands from 10 000 on.

    >>> number_figures(1.25, 3), number_figures(14500.0, 0)
    ('1.25', '14 500')
    """
    text = f"{value:.{decimals}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    if abs(value) < 9999.5:
        return text
    return f"{float(text):,.{len(text.partition('.')[2])}f}".replace(",", " ")


_RAISED = {"2": "²", "3": "³", "4": "⁴"}


@functools.lru_cache(maxsize=1024)
def label_of(unit: str) -> str:
    """A unit as a report writes it.

    >>> label_of("degC"), label_of("mm2")
    ('°C', 'mm²')
    """
    if "H2O" in unit:
        return unit
    shown = unit.replace("deg", "°").replace("ohm", "Ω")
    return "".join(_RAISED.get(char, char) if at and shown[at - 1].isalpha() else char for at, char in enumerate(shown))
