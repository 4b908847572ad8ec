"""Answers as a person types them: what they would put into a build spec, or why they cannot stand there.

A value has its unit, `4.5 kg`, and may have a tolerance and a basis, `4.5 kg ± 2 %, measured`. Words, numbers and yes
or no are typed as they are, several values with semicolons or commas between them, a curve point by point. `not
fitted` says that the part is not there, `none` that there are no such parts, `unknown` that nobody knows. What TOML
would hold, in quotes, brackets or braces, is taken as it is.
A value that no real vehicle has is refused unless an exclamation mark behind it says that it is meant.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any, Literal, NamedTuple, cast

import tomli

from swaplint.spec.facts import BASES, FieldFacts, Stated, nearest
from swaplint.spec.fields import Part, Section
from swaplint.spec.loaded import LoadedSpec
from swaplint.spec.paths import path_key, path_text
from swaplint.spec.shape import Member, members, pattern_at, standing_at
from swaplint.spec.toml_source import PathKey
from swaplint.units.output import shown

Changes = Mapping[PathKey, object]
"""What an answer puts into the spec: values as TOML holds them, by path."""

NOT_KNOWN = "unknown"
NOT_FITTED = ("not fitted", "not-fitted", "not there")
_YES, _NO = ("yes", "y", "true", "fitted"), ("no", "n", "false", *NOT_FITTED)
_NAME = re.compile(r"[A-Za-z0-9_-]{1,60}")


class RefusedError(ValueError):
    """Says, as a sentence, why an answer cannot stand where it is given."""


class Target(NamedTuple):
    """What a path names: a value, a part, or several of them."""

    role: Literal["plain", "plain-list", "plain-item", "part", "parts", "named", "items", "item"]
    member: Member
    part: PathKey
    """The nearest part around it, or itself, that may be there or not; empty where there is none."""
    named: tuple[PathKey, ...]
    """The collections on the way in which it names a part."""


def target_of(model: type[Section], keys: PathKey) -> Target | None:
    """What a path names in a model; None for nothing."""
    shape: type[Section] | None = model
    role: str = "part"
    member: Member | None = None
    part: PathKey = ()
    named: list[PathKey] = []
    for at, key in enumerate(keys, 1):
        if role == "parts" and isinstance(key, str):
            role = "named"
            named.append(keys[: at - 1])
        elif role in ("items", "plain-list") and isinstance(key, int):
            role = "item" if role == "items" else "plain-item"
        else:
            member = members(shape).get(key) if shape is not None and isinstance(key, str) else None
            if member is None:
                return None
            role, shape = member.role, member.model
        if role in ("part", "named") and shape is not None and issubclass(shape, Part):
            part = keys[:at]
    if member is None:
        return None
    return Target(cast(Any, role), member, part if len(part) > 1 else (), tuple(named))


def changes_of(spec: LoadedSpec, path: str, answer: str) -> Changes:
    """What an answer puts into a spec. Raises `RefusedError`.

    `path` names a field, a part or a collection that the model has.
    """
    keys = path_key(path)
    target = target_of(type(spec.build), keys)
    if target is None:
        raise RefusedError(f"the build spec has no field {path}")
    answer = answer.strip()
    if not answer:
        raise RefusedError("is empty")
    _refuse_new_name(spec, keys, target)
    if answer.lower() == NOT_KNOWN and not (target.member.facts and NOT_KNOWN in target.member.facts.options):
        return _unknown_again(spec, path, target)
    if target.role in ("parts", "items") and answer.lower() in ("none", *_NO):
        if standing_at(spec.build, path):
            raise RefusedError("is stated: an answer takes nothing away that is there; do that by hand")
        if target.member.when_empty.gap:
            raise RefusedError(
                f"cannot be none, for every build has at least one ({target.member.description}); 'unknown' says that "
                "nobody knows yet"
            )
        return {keys: {} if target.role == "parts" else []}
    if answer.lower() in NOT_FITTED and target.member.name != "fitted":
        if not target.part:
            raise RefusedError(f"{path} belongs to no part that a vehicle may be without")
        return {(*target.part, "fitted"): False}
    match target.role:
        case "plain" | "plain-item":
            if target.role == "plain-item" and not _is_listed(spec, keys[:-1]):
                raise RefusedError(f"the spec itself does not hold the list: state {path_text(keys[:-1])} whole")
            return {keys: value_of(cast(FieldFacts, target.member.facts), answer)}
        case "plain-list":
            return {keys: _list_of(cast(FieldFacts, target.member.facts), answer)}
        case "items":
            return {keys: _items_of(target.member, answer)}
        case "parts":
            return _named_parts(spec, keys, answer)
        case "part" | "named":
            return _part(target, keys, answer, path)
    raise RefusedError(f"{path} holds several values: name one of them")


def _unknown_again(spec: LoadedSpec, path: str, target: Target) -> Changes:
    """What an answer of `unknown` changes: nothing where nobody states it, else what a base or data sheet states."""
    keys = path_key(path)
    if not _known(spec, path, target):
        return {}
    own = _in_file(spec, keys)
    if own is not None or spec.in_table(keys) is not None:
        raise RefusedError("is stated in the spec itself: an answer takes nothing away that is there; do that by hand")
    if any(isinstance(key, int) for key in keys):
        raise RefusedError("stands in a list, which is known or unknown as a whole: name the list")
    return {keys: {NOT_KNOWN: True}}


def _known(spec: LoadedSpec, path: str, target: Target) -> bool:
    """Whether the spec, or what it stands on, states something there."""
    if target.role == "plain":
        return spec.stated(path) is not None
    return bool(standing_at(spec.build, path)) if target.role in ("parts", "items") else spec.has(path)


def _in_file(spec: LoadedSpec, keys: PathKey) -> Any:
    """What the file of the spec itself holds at a path; None for nothing."""
    node: Any = spec.file.data
    for key in keys:
        if isinstance(node, list):
            node = node[key] if isinstance(key, int) and key < len(node) else None
        else:
            node = node.get(key) if isinstance(node, dict) else None
    return node


def _refuse_new_name(spec: LoadedSpec, keys: PathKey, target: Target) -> None:
    """Refuse a name that no part of a collection has which has parts already: most are slips."""
    for collection in target.named:
        name = keys[len(collection)]
        whole = pattern_at(type(spec.build), path_text(collection))[1]
        if whole is not None and whole.when_empty.grows:
            continue
        have = standing_at(spec.build, path_text(collection))
        if have and name not in have:
            near = nearest(str(name), set(have))
            hint = f"did you mean {near}?" if near else f"it has {', '.join(have)};"
            where = path_text(collection)
            raise RefusedError(f"{where} has no part {name}; {hint} The answer '{name}' to {where} adds one")


def _is_listed(spec: LoadedSpec, keys: PathKey) -> bool:
    return isinstance(_in_file(spec, keys), list)


# -- one value -----------------------------------------------------------------------------------------------------
_TOLERANCE = re.compile(r"(?P<value>.+?)\s*(?:±|\+/-)\s*(?P<tol>.+)")
_BASIS = re.compile(rf"(?P<value>.+?)\s*[,;]?\s+(?P<basis>{'|'.join(BASES)})")
_MEANT = re.compile(r"(?P<value>.*?)\s*!")
_PLAIN = re.compile(r"[-+]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][-+]?[0-9]{1,3})?")


def value_of(facts: FieldFacts, answer: str) -> object:
    """One value as TOML holds it. Raises `RefusedError`."""
    meant = _MEANT.fullmatch(answer)
    if meant is not None:
        answer = meant["value"]
    value = _in_toml(answer)
    if value is None:
        value = _typed(facts, answer)
    try:
        stated = facts.read(value)
    except ValueError as error:
        raise RefusedError(str(error)) from None
    if meant is None:
        _refuse_implausible(facts, stated)
    return value


def _in_toml(answer: str) -> Any:
    """An answer that is written as in the file; None for any other."""
    if answer[:1] not in ("'", '"', "{", "["):
        return None
    try:
        return tomli.loads(f"value = {answer}")["value"]
    except (ValueError, RecursionError):
        return None


def _typed(facts: FieldFacts, answer: str) -> object:
    """An answer as it is typed, as the field takes it."""
    if facts.type == "flag":
        word = answer.lower()
        if word not in (*_YES, *_NO):
            raise RefusedError(f"takes yes or no, not '{answer[:60]}'")
        return word in _YES
    if facts.type not in ("measure", "number", "count"):
        return answer
    table: dict[str, object] = {}
    basis = _BASIS.fullmatch(answer)
    if basis is not None:
        answer = basis["value"]
        table["basis"] = basis["basis"]
    tolerance = _TOLERANCE.fullmatch(answer)
    if tolerance is not None:
        answer = tolerance["value"]
        tol = tolerance["tol"].strip()
        if facts.type != "measure" and _PLAIN.fullmatch(tol):
            table = {"tol": float(tol), **table}
        else:
            table = {"tol": tol, **table}
    value: object = answer if facts.type == "measure" else _number(facts, answer)
    return {"value": value, **table} if table else value


def _number(facts: FieldFacts, answer: str) -> object:
    if _PLAIN.fullmatch(answer):
        number = float(answer)
        whole = number == int(number) if abs(number) < 1e15 else False
        return int(number) if whole and (facts.type == "count" or answer.lstrip("+-").isdigit()) else number
    comma = re.fullmatch(r"([-+]?[0-9]+),([0-9]+)", answer)
    if comma is None:
        return answer  # the field says what it takes, and whether it takes this word
    if len(comma[2]) == 3:
        raise RefusedError(
            f"'{answer}' can be read in two ways, as {comma[1]}.{comma[2]} or as {comma[1]}{comma[2]}: "
            "write the one that is meant"
        )
    raise RefusedError(f"'{answer}' has a comma where a decimal point belongs (write {comma[1]}.{comma[2]})")


def _refuse_implausible(facts: FieldFacts, stated: Stated) -> None:
    bounds = facts.plausible_si()
    if bounds is None or isinstance(stated.value, bool | str):
        return
    low, high = bounds
    if low < high and not low <= stated.value <= high:
        ends = [shown(end, facts.kind_name, facts.unit) for end in bounds]
        raise RefusedError(
            f"'{stated.written}' is no value of a real vehicle, which has {ends[0]} to {ends[1]}: "
            "put ! behind it if it is meant"
        )


# -- several values ------------------------------------------------------------------------------------------------
def _list_of(facts: FieldFacts, answer: str) -> list[object]:
    if facts.type in ("text", "word") and answer.lower() == "none":
        return []
    value = _in_toml(answer)
    if value is None:
        return [value_of(facts, piece) for piece in _pieces(answer, numbers=facts.type in ("number", "count"))]
    if not isinstance(value, list):
        raise RefusedError(f"takes a list of values, like [{facts.example()}]")
    for one in value:
        try:
            facts.read(one)
        except ValueError as error:
            raise RefusedError(str(error)) from None
    return value


def _pieces(answer: str, *, numbers: bool) -> list[str]:
    """Several values, with semicolons between them, else with commas or, if they are numbers, blanks."""
    if ";" in answer:
        pieces = answer.split(";")
    else:
        tight = re.findall(r"[0-9],[0-9]", answer)
        if numbers and tight and "." not in answer and (len(tight) == 1 or re.search(r"[0-9],? +[0-9]", answer)):
            one = re.search(r"[0-9]+,[0-9]+", answer)
            assert one is not None
            point, both = one.group().replace(",", "."), one.group().replace(",", "; ")
            raise RefusedError(f"'{one.group()}' may be {point} or two values: write {point}, or {both}")
        pieces = re.split(r",\s*|\s+", answer) if numbers else answer.split(",")
    return [piece.strip() for piece in pieces if piece.strip()]


def item_fields(member: Member) -> dict[str, FieldFacts]:
    """The fields of an item of a list in the order in which they are typed; none where it holds parts of its own."""
    assert member.model is not None
    inside = members(member.model)
    every = members(Part) if issubclass(member.model, Part) else {}
    own = {name: one for name, one in inside.items() if name not in every}
    if any(one.role != "plain" for one in own.values()):
        return {}
    return {name: one.facts for name, one in own.items() if one.facts is not None}


def _items_of(member: Member, answer: str) -> list[object]:
    value = _in_toml(answer)
    if isinstance(value, list):
        return value
    fields = item_fields(member)
    if not fields:
        raise RefusedError("takes a list of tables as TOML has it, like [{ … }, { … }]")
    out: list[object] = []
    for row in filter(str.strip, answer.split(";")):
        pieces = [piece.strip() for piece in row.split(",")]
        if len(pieces) > len(fields):
            names = ", ".join(fields)
            raise RefusedError(
                f"'{row.strip()}' has {len(pieces)} values; an entry has {names}, entries are parted by ;"
            )
        pairs = zip(fields.items(), pieces, strict=False)
        out.append({name: value_of(facts, piece) for (name, facts), piece in pairs if piece})
    return out


def _named_parts(spec: LoadedSpec, keys: PathKey, answer: str) -> Changes:
    names = _pieces(answer, numbers=False)
    for name in names:
        if not _NAME.fullmatch(name):
            raise RefusedError(
                f"'{name[:60]}' is not a name for a part: use letters, digits, hyphens and underscores, like rear-left"
            )
    have = standing_at(spec.build, path_text(keys)) or {}
    new = [name for name in names if name not in have]
    if not new:
        raise RefusedError(f"{path_text(keys)} has {', '.join(names)} already")
    return {(*keys, name): {} for name in new}


def _part(target: Target, keys: PathKey, answer: str, path: str) -> Changes:
    if not (target.member.model is not None and issubclass(target.member.model, Part)):
        raise RefusedError(f"{path} holds several fields: name one of them")
    if answer.lower() in _YES:
        return {(*keys, "fitted"): True}
    if answer.lower() in _NO:
        return {(*keys, "fitted"): False}
    if answer.lower().endswith(".toml"):
        return {(*keys, "sheet"): answer}
    raise RefusedError(f"takes fitted, not fitted or the file name of a data sheet, not '{answer[:60]}'")
