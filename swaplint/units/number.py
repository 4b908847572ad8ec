"""The NUMBER of a value: cutting it off the front of the text, and what it is worth. Nothing is evaluated."""

from __future__ import annotations

import math
import re

# Every repetition is possessive (`++`), so that matching takes a time linear in the length of the text.
_DIGITS = r"(?:[0-9]{1,3}(?:,[0-9]{3})++(?![0-9,])|[1-9][0-9]{0,2}(?: [0-9]{3})++(?![0-9,/])|[0-9]++)"
_NUMBER = re.compile(
    rf"(?P<sign>[+-]?)(?:(?:(?P<whole>[0-9]++)(?: ++|-))?(?P<over>[0-9]++)/(?P<under>[0-9]++)(?![0-9/.,])"
    rf"|(?P<decimal>(?:{_DIGITS}(?:\.[0-9]++)?|\.[0-9]++)(?:[eE][+-]?[0-9]++)?))"
)
_COMMA = re.compile(r"[0-9.]*,[0-9.,]*")
_USUAL = (2, 4, 8, 16, 32, 64)
"""What stands below the line of a fraction of an inch."""


class RefusedError(ValueError):
    """Says, as the second half of a sentence, why a number or a unit cannot stand where it is."""


def split_number(text: str) -> tuple[re.Match[str], str]:
    """Return the number at the front of a text, and what follows it.

    >>> number, rest = split_number("1 1/2 in")
    >>> number.group(), rest
    ('1 1/2', 'in')
    """
    found = _NUMBER.match(text)
    if found is None:
        word = text.lstrip("+-").split(" ")[0].lower()
        if word in ("nan", "inf", "infinity"):
            raise RefusedError("is no finite number")
        raise RefusedError("does not begin with a number")
    rest = text[found.end() :]
    if rest[:1] == "," or ((found["decimal"] or "").startswith("0") and "," in found.group()):
        raise RefusedError(_about_comma(text.lstrip("+-")))
    if rest[:1] == ".":
        raise RefusedError("has a decimal point in the wrong place (write 5.0 or 5)")
    if rest[:1] in ("+", "*", "^", "(", "=", "x", "×") or rest[:2] in ("-(", "/("):
        raise RefusedError("is a calculation, and only one number and one unit can be written")
    unit = rest.lstrip(" ")
    if unit[:1].isdecimal() and not unit.startswith(("1/", "1 /")):
        raise RefusedError("has a space inside its number (write 1000 or 1,000)")
    if unit[:1] in ("/", "-", "+") or unit[:1] == "*":
        raise RefusedError("is a calculation or a range, and only one number and one unit can be written")
    return found, unit


def _about_comma(text: str) -> str:
    written = _COMMA.match(text)
    number = written.group().rstrip(",.") if written else ""
    if number.count(",") == 1 and "." not in number:
        return f"has a comma where a decimal point belongs (write {number.replace(',', '.')})"
    if number.count(",") == 1 and number.count(".") == 1 and number.index(".") < number.index(","):
        return f"has a comma where a decimal point belongs (write {number.replace('.', '').replace(',', '.')})"
    return "has commas that do not part thousands (write 1,234,567.8 or 1234567.8)"


def _no_usual_fraction(number: re.Match[str], size: float) -> str:
    whole = int(number["whole"] or 0) if len(number["whole"] or "") < 20 else 0
    one = f"{whole} and {number['over']}" if whole else number["over"]
    return (
        f"may be {whole + size:.6g}, or two values, {one} or {number['under']}: write the one that is meant "
        "(a fraction is a smaller number over 2, 4, 8, 16, 32 or 64)"
    )


_MARKED = re.compile(r"([1-9][0-9]{0,2})([.,])([0-9]{3})")


def two_readings(number: re.Match[str]) -> tuple[float, float] | None:
    """What a number with three digits after its only mark may be: with decimals, and with its thousands parted.

    >>> two_readings(split_number("3,175 mm")[0]), two_readings(split_number("3,175.5 mm")[0])
    ((3.175, 3175.0), None)
    """
    found = _MARKED.fullmatch(number["decimal"] or "")
    if found is None:
        return None
    sign = -1.0 if number["sign"] == "-" else 1.0
    return sign * float(f"{found[1]}.{found[3]}"), sign * float(f"{found[1]}{found[3]}")


def clear_decimals(value: float) -> str:
    """A number with decimals as it is written so that nobody takes its point for one that parts thousands.

    >>> clear_decimals(2.7), clear_decimals(3.175)
    ('2.7', '3.1750')
    """
    text = f"{value:.12g}"
    return f"{text}0" if _MARKED.fullmatch(text.lstrip("-")) else text


def number_value(number: re.Match[str]) -> float:
    """Return what a number is worth; refuse those that a computer cannot hold.

    >>> number_value(split_number("-1-1/2 in")[0])
    -1.5
    """
    if number["over"] is None:
        size = float(number["decimal"].replace(",", "").replace(" ", ""))
        if size == 0.0 and any(digit in "123456789" for digit in re.split("[eE]", number["decimal"])[0]):
            raise RefusedError("is too small to be told from nothing")
    else:
        under = int(number["under"])
        if under == 0:
            raise RefusedError("divides by zero")
        over = int(number["over"])
        size = over / under
        if number["whole"] is not None and size >= 1.0:
            raise RefusedError("has a fraction of one or more after a whole number (write 1 1/2 or 1.5)")
        if under not in _USUAL or over >= under:
            raise RefusedError(_no_usual_fraction(number, size))
        if number["whole"] is not None:
            size += int(number["whole"])
    if not math.isfinite(size):
        raise RefusedError("is too large for any build")
    return -size if number["sign"] == "-" and size else size
