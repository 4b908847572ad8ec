"""What a text that cannot be read as a value was probably meant to say, and how that is written here.

Nothing is guessed: the text is refused, and the sentence names the right way for whoever typed it.
"""

from __future__ import annotations

import math
import re

from swaplint.units.kinds import Kind

_N = r"[0-9]+(?:\.[0-9]+)?"
_OTHER_THOUSANDS = re.compile(r"[-+]?([0-9]{1,3}(?:['_’][0-9]{3})+|[0-9]{1,3}(?:\.[0-9]{3}){2,})(?![0-9.,])")
_RANGE = re.compile(rf"(?P<low>{_N}) ?(?:-|\.\.+|…|to|bis) ?(?P<high>{_N}) ?(?P<unit>[^0-9]*)")
_ABOUT = re.compile(r"(?:[≈~]|(?:ca|circa|about|approx|approximately|around)\b\.?) ?(?=[0-9])", re.IGNORECASE)
_ABOUT_AFTER = re.compile(
    r"(?P<value>[0-9].*?) ?(?:\?|\(?(?:approx|approximately|est|estimated|guess)\.?\)?)", re.IGNORECASE
)
_TOLERANCE = re.compile(r"(?P<value>[^±]*?) ?(?:±|\+/-) ?(?P<width>[^±]+)")
_FEET = re.compile(
    r"(?P<feet>[0-9]+) ?(?:'|ft|feet|foot)[ -]?(?P<inches>[0-9]+(?:\.[0-9]+| [0-9]+/[0-9]+)?|[0-9]+/[0-9]+)"
    r" ?(?:\"|''|in|inch|inches)?\.?"
)
_RATIO = re.compile(rf"(?P<first>{_N}) ?(?::|in) ?(?P<second>{_N})")
_LIMIT = re.compile(r"[<>≤≥]")


def meant(text: str, kind: Kind) -> str:
    r"""The rest of a sentence that says how a text is written here; empty where nothing can be said.

    >>> from swaplint.units.kinds import KINDS
    >>> meant("5'3\"", KINDS["length"])
    'is in feet and inches (write 63 in)'
    >>> meant("5 to 6 mm", KINDS["length"])
    'is a range (write its middle, { value = "5.5 mm", tol = "0.5 mm" })'
    """
    for explained in (_with_thousands, _with_tolerance, _about, _limit, _feet_and_inches, _ratio, _range):
        says = explained(text, kind)
        if says:
            return says
    return ""


def _with_thousands(text: str, kind: Kind) -> str:
    found = _OTHER_THOUSANDS.match(text)
    if found is None:
        return ""
    whole = int(re.sub(r"[^0-9]", "", found[1]))
    return f"parts thousands with a mark that is no comma (write {whole})"


def _with_tolerance(text: str, kind: Kind) -> str:
    found = _TOLERANCE.fullmatch(text)
    if found is None:
        return ""
    width, given = found["width"], bool(found["value"])
    unit = re.sub(rf"^{_N} ?", "", width)
    value = found["value"] or kind.example
    if re.fullmatch(_N, value):
        value = f"{value} {unit}".strip()
    if re.fullmatch(_N, width):
        width = f"{width} {kind.units[0]}"
    what = "is a value with a tolerance" if given else "is a tolerance without a value"
    return f'{what} (write {{ value = "{value}", tol = "{width}" }})'


def _about(text: str, kind: Kind) -> str:
    found = _ABOUT.match(text)
    after = _ABOUT_AFTER.fullmatch(text)
    if found is None and after is None:
        return ""
    value = text[found.end() :] if found is not None else after["value"] if after is not None else ""
    return f'says that it is about right (write {{ value = "{value}", tol = "5 %", basis = "assumed" }})'


def _limit(text: str, kind: Kind) -> str:
    if not _LIMIT.match(text):
        return ""
    return "is a limit and not a value (write the value, with a tolerance where it is not well known)"


def _feet_and_inches(text: str, kind: Kind) -> str:
    found = _FEET.fullmatch(text)
    if found is None or kind.name != "length":
        return ""
    whole, _, fraction = found["inches"].rpartition(" ")
    over, line, under = fraction.partition("/")
    inches = float(over) / float(under) if line and float(under) else 0.0 if line else float(fraction)
    inches += float(whole or 0) + 12 * int(found["feet"])
    return f"is in feet and inches (write {inches:.6g} in)"


def _ratio(text: str, kind: Kind) -> str:
    found = _RATIO.fullmatch(text)
    if found is None:
        return ""
    first, second = float(found["first"]), float(found["second"])
    if kind.name in ("grade", "share") and 0.0 < first <= second:
        return f"is a ratio (write {100 * first / second:.4g} %)"
    if second == 0.0 or not math.isfinite(first / second):
        return "is a ratio"
    return f"is a ratio, a number without a unit ({first / second:.6g})"


def _range(text: str, kind: Kind) -> str:
    found = _RANGE.fullmatch(text)
    if found is None or not float(found["low"]) < float(found["high"]):
        return ""
    low, high, unit = float(found["low"]), float(found["high"]), found["unit"].strip()
    middle, half = f"{(low + high) / 2:g} {unit}".strip(), f"{(high - low) / 2:g} {unit}".strip()
    return f'is a range (write its middle, {{ value = "{middle}", tol = "{half}" }})'
