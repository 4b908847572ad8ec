"""Specs made from the model alone: any fields, with any values that their own declarations allow, or nearly."""

from __future__ import annotations

import math
import random
from typing import Any

from swaplint.spec.facts import BASES, FieldFacts
from swaplint.spec.fields import Part, Section
from swaplint.spec.shape import Member, members

TEXTS = ("plain words", "7/8 in, see drawing", "größer", "日本", "{0} %s", "](x)", " ", "x" * 400)
WITHOUT_A_SHARE = {"temperature": ["2 K", "30 K"], "sound_level": ["1 dB", "6 dB"]}
"""Tolerances of values that no share can be taken of, by kind."""


def random_spec(model: type[Section], dice: random.Random) -> dict[str, Any]:
    """A spec with some of the model's fields, as TOML data. It need not make sense; it can be read."""
    share = dice.choice([0.1, 0.3, 0.6, 0.9, 1.0])
    wild = dice.choice([0.0, 0.0, 0.02, 0.3])
    return _section(model, dice, share, wild)


def _section(model: type[Section], dice: random.Random, share: float, wild: float) -> dict[str, Any]:
    if issubclass(model, Part) and dice.random() < 0.05:
        return {"fitted": False}
    data = {}
    for name, member in members(model).items():
        if name in ("fitted", "sheet", "base", "format") or dice.random() > share:
            continue
        data[name] = _member(member, dice, share, wild)
    return data


def _member(member: Member, dice: random.Random, share: float, wild: float) -> Any:
    if member.role == "plain":
        assert member.facts is not None
        return value_for(member.facts, dice, wild)
    if member.role == "plain-list":
        assert member.facts is not None
        return [value_for(member.facts, dice, wild, bare=True) for _ in range(dice.randint(1, 5))]
    assert member.model is not None
    if member.role == "part":
        return _section(member.model, dice, share, wild)
    many = [_section(member.model, dice, share, wild) for _ in range(dice.randint(1, 3))]
    return dict(zip("abc", many, strict=False)) if member.role == "parts" else many


def value_for(facts: FieldFacts, dice: random.Random, wild: float, *, bare: bool = False) -> Any:
    """A value as one could write it in the field."""
    if facts.type == "flag":
        return dice.random() < 0.5
    if facts.type == "word":
        return dice.choice(facts.options)
    if facts.type == "text":
        return dice.choice(TEXTS)
    if facts.type == "date":
        return "2026-02-10"
    written = _written(facts, dice, wild)
    if bare or dice.random() < 0.8:
        return written
    kind = facts.kind.name if facts.kind is not None else ""
    tol = dice.choice(WITHOUT_A_SHARE.get(kind, ["1 %", "5 %", "40 %"]))
    return {"value": written, "tol": tol, "basis": dice.choice(BASES)}


def _is_temperature(facts: FieldFacts) -> bool:
    return facts.kind is not None and facts.kind.name == "temperature"


def _written(facts: FieldFacts, dice: random.Random, wild: float) -> Any:
    if facts.series and dice.random() < 0.5:
        number: Any = dice.choice(facts.series)
    elif isinstance(facts.typical, str):  # sizes that are names, like 2/0
        number = facts.typical
    else:
        number = _number(facts, dice, wild)
    if facts.type == "measure":
        return f"{number if isinstance(number, str) else _digits(number)} {facts.unit}"
    return max(1, round(number)) if facts.type == "count" else number


def _digits(number: float) -> str:
    """A number as nobody reads it in two ways: three digits behind a point may be thousands."""
    text = f"{number:.6g}"
    return f"{text}0" if len(text.partition(".")[2]) == 3 else text


def _number(facts: FieldFacts, dice: random.Random, wild: float) -> float:
    typical = float(facts.typical or 1.0)  # type: ignore[arg-type]
    low, high = facts.plausible or (typical / 3.0, typical * 3.0)
    how = dice.random()
    if how < wild and not _is_temperature(facts):
        return typical * 10.0 ** dice.uniform(-9.0, 9.0)
    if how < 0.3:
        return typical or high
    if how < 0.4:
        return dice.choice([low or high, high])
    if low > 0.0:
        return math.exp(dice.uniform(math.log(low), math.log(high)))
    return dice.uniform(low, high) or high
