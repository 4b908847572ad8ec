"""Reading a JSON report of `inspect` that was kept: a whole one, or a stream of one line a spec.

It may be of another version of the tool, cut off, or no report at all: nothing in it is trusted to be what it should.
"""

from __future__ import annotations

import contextlib
import json
import math
import os
import re
import stat
from collections.abc import Iterator
from typing import IO, Any

from swaplint.declare.verdicts import LEVELS
from swaplint.gating.earlier import EarlierReport, EarlierSpec, Value
from swaplint.inspecting.baseline import Was
from swaplint.inspecting.results import KINDS
from swaplint.spec.job import STAGES

FORMAT = 2
MAX_REPORT = 100_000_000
"""How long a report, or a line of a stream, may be, in bytes."""
MAX_STREAM = 4_000_000_000
LONGEST = 400
"""How much of a text of it is kept."""

_HOW = "write one with 'swaplint inspect SPEC --format json -o FILE'"


class NoReport(ValueError):
    """A file that is no report to compare with; says why, as the rest of a sentence about it."""


def looks_like_json(path: str) -> bool:
    """Whether a file begins as JSON does: no build spec begins with a brace. Raises `NoReport`."""
    with _opened(path) as stream:
        return stream.read(4096).removeprefix(b"\xef\xbb\xbf").lstrip()[:1] == b"{"


def read_report(path: str) -> EarlierReport:
    """A report that was kept. Raises `NoReport`."""
    with _opened(path) as stream:
        first = stream.readline(MAX_REPORT + 1)
        rest = stream.peek(1)[:1] if hasattr(stream, "peek") else b""
        one = _maybe_json(first) if rest else None
        if isinstance(one, dict):
            return _stream(path, one, stream)
        size = os.fstat(stream.fileno()).st_size
        if size > MAX_REPORT:
            raise NoReport(
                f"is {size / 1e6:.0f} MB; as one JSON report no more than {MAX_REPORT / 1e6:.0f} MB are read: "
                "--format jsonl writes one of many specs a line each"
            )
        return _whole(path, first + stream.read(MAX_REPORT + 1))


@contextlib.contextmanager
def _opened(path: str) -> Iterator[IO[bytes]]:
    try:
        facts = os.stat(path)
        if stat.S_ISDIR(facts.st_mode):
            raise NoReport("is a folder; name a build spec or a JSON report of 'swaplint inspect'")
        if not stat.S_ISREG(facts.st_mode):
            raise NoReport("is not a regular file")
        if facts.st_size > MAX_STREAM:
            raise NoReport(f"is {facts.st_size / 1e9:.1f} GB; no more than {MAX_STREAM / 1e9:.0f} GB are read")
        stream = open(path, "rb")  # noqa: SIM115 the caller's block closes it
    except FileNotFoundError:
        raise NoReport("there is no such file") from None
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) and error.strerror else str(error)
        raise error if isinstance(error, NoReport) else NoReport(f"cannot be read: {reason}") from None
    with stream:
        yield stream


def _not_finite(word: str) -> float:
    raise ValueError(f"{word} is no number of JSON")


def _json(raw: bytes) -> Any:
    return json.loads(raw.removeprefix(b"\xef\xbb\xbf").decode("utf-8"), parse_constant=_not_finite)


def _maybe_json(raw: bytes) -> Any:
    try:
        return _json(raw)
    except (ValueError, RecursionError):
        return None


def _whole(path: str, raw: bytes) -> EarlierReport:
    try:
        data = _json(raw)
    except UnicodeDecodeError:
        raise NoReport("is not UTF-8 text") from None
    except RecursionError:
        raise NoReport("is nested too deeply for a report") from None
    except json.JSONDecodeError as error:
        cut_off = not raw.rstrip().endswith((b"}", b"]"))
        why = "is cut off" if cut_off else "is not valid JSON"
        raise NoReport(f"{why}: {error.msg} in line {error.lineno}, column {error.colno}; {_HOW}") from None
    except ValueError as error:
        raise NoReport(f"is not valid JSON: {error}") from None
    report = _head(path, data)
    specs = data.get("specs")
    if not isinstance(specs, list):
        if "gate" in data and "results" in data:
            raise NoReport("is cut off: the last line of a stream, which names the tool, is missing")
        raise NoReport(f"is JSON, but no report of 'swaplint inspect'; {_HOW}")
    for number, spec in enumerate(specs, 1):
        _add(report, spec, f"spec {number}")
    return report


def _stream(path: str, first: dict[str, Any], stream: IO[bytes]) -> EarlierReport:
    """A stream: an object a line, the last without results, but with the tool and its packs."""
    report = EarlierReport(path)
    number, data = 1, first
    while True:
        if "results" not in data and "specs" not in data and "problems" in data:
            head = _head(path, data)
            report.version, report.packs = head.version, head.packs
            if stream.read(1):
                raise NoReport(f"goes on after line {number}, which is the last of a stream")
            return report
        if "specs" in data or "results" not in data:
            if number == 1:
                _head(path, data)
            raise NoReport(f"line {number} is no spec's line of 'swaplint inspect --format jsonl'")
        _add(report, data, f"line {number}")
        raw = stream.readline(MAX_REPORT + 1)
        if not raw.strip():
            raise NoReport("is cut off: the last line of a stream, which names the tool, is missing")
        if len(raw) > MAX_REPORT:
            raise NoReport(f"line {number + 1} is longer than {MAX_REPORT / 1e6:.0f} MB")
        number += 1
        data = _maybe_json(raw)
        if not isinstance(data, dict):
            cut_off = not raw.endswith(b"\n")
            raise NoReport(f"is cut off in line {number}" if cut_off else f"line {number} is not valid JSON")


def _head(path: str, data: Any) -> EarlierReport:
    """The report without its specs, if it is one that can be read."""
    if not isinstance(data, dict):
        raise NoReport(f"is JSON, but no report of 'swaplint inspect'; {_HOW}")
    if "runs" in data and "$schema" in data:
        raise NoReport(f"is a SARIF log; --earlier takes the JSON report: {_HOW}")
    tool = data.get("tool")
    if not isinstance(tool, dict) or tool.get("name") != "swaplint":
        raise NoReport(f"is JSON, but no report of 'swaplint inspect'; {_HOW}")
    format = data.get("format")
    if format != FORMAT or isinstance(format, bool):
        if isinstance(format, int) and not isinstance(format, bool) and format < FORMAT:
            raise NoReport(
                f"is a report of format {format}, whose results have no demands to be known again by; this version "
                f"reads format {FORMAT}: inspect the older spec again, or name that spec itself"
            )
        named = (
            f"format {format}"
            if isinstance(format, int) and not isinstance(format, bool)
            else "no format that is known here"
        )
        raise NoReport(f"is a report of {named}, of another version of the tool; this one reads format {FORMAT}")
    packs = tool.get("packs")
    versions = {
        _text(pack.get("name")): _text(pack.get("version"))
        for pack in (packs if isinstance(packs, list) else [])
        if isinstance(pack, dict)
    }
    return EarlierReport(path, _text(tool.get("version")), versions)


def _add(report: EarlierReport, data: Any, where: str) -> None:
    spec = _spec(data, where)
    report.specs[spec.label] = spec


class _Wrong(Exception):
    """Something that a report does not hold as it should."""


def _spec(data: Any, where: str) -> EarlierSpec:
    if not isinstance(data, dict) or not isinstance(data.get("spec"), str) or not isinstance(data.get("results"), list):
        raise NoReport(f"{where} is not as 'swaplint inspect' writes one: it names no spec, or holds no results")
    label = _text(data["spec"], 4096)
    stage = data.get("stage")
    if stage not in STAGES:
        raise NoReport(f"{where}: its stage is none of {', '.join(STAGES)}")
    values: dict[str, Value] = {}
    results = []
    for number, result in enumerate(data["results"], 1):
        try:
            results.append(_result(result, values))
        except _Wrong as wrong:
            raise NoReport(f"{where}, result {number} is not as 'swaplint inspect' writes one: {wrong}") from None
    files = data.get("files")
    hashes = frozenset(
        _text(file.get("sha256"))
        for file in (files if isinstance(files, list) else [])
        if isinstance(file, dict) and isinstance(file.get("sha256"), str)
    )
    return EarlierSpec(label, stage, results, values, hashes=hashes, partial=_is_partial(data.get("counts"), results))


def _is_partial(counts: Any, results: list[Was]) -> bool:
    """Whether results with nothing wrong are left out, as a stream does unless it is told otherwise."""
    passing = counts.get("pass") if isinstance(counts, dict) else None
    there = sum(result.kind == "pass" and not result.accepted for result in results)
    return isinstance(passing, int) and passing > there


def _result(data: Any, values: dict[str, Value]) -> Was:
    if not isinstance(data, dict):
        raise _Wrong("it is no object")
    rule = data.get("rule")
    if not isinstance(rule, str) or not re.fullmatch(r"[a-z]+\.[a-z0-9-]+", rule[:LONGEST]):
        raise _Wrong("it names no rule")
    kind, level = data.get("kind"), data.get("level")
    if kind not in KINDS:
        raise _Wrong(f"its kind is none of {', '.join(KINDS)}")
    if (level in LEVELS) != (kind == "fail"):
        raise _Wrong("a fail has a level, and nothing else has one")
    rule_level = data.get("rule_level")
    found = data.get("found")
    found = found if isinstance(found, dict) else {}
    inputs = []
    for one in _list(data.get("inputs")):
        if isinstance(one, dict) and isinstance(one.get("field"), str) and (value := _value(one)) is not None:
            inputs.append(field := _text(one["field"]))
            values[field] = value
    return Was(
        rule,
        _text(data.get("part")),
        _text(data.get("demand")),
        kind,
        level,
        rule_level if rule_level in LEVELS else level or LEVELS[0],
        due=data.get("due") is True,
        found=_number(found.get("value")),
        unit=_text(found.get("unit")),
        margin=_number(data.get("margin")),
        subject=_text(data.get("subject")),
        message=_text(data.get("message"), 4 * LONGEST),
        accepted=isinstance(data.get("suppression"), dict),
        inputs=tuple(inputs),
        unknown=tuple(_text(path) for path in _list(data.get("unknown")) if isinstance(path, str)),
    )


def _value(one: dict[str, Any]) -> Value | None:
    value, unit = one.get("value"), _text(one.get("unit"))
    number = _number(value)
    if number is None and not isinstance(value, str | bool):
        return None
    if isinstance(value, str):
        value = _text(value)
        return Value(value, unit, 0.0, _text(one.get("basis")), value)
    if isinstance(value, bool):
        return Value(value, unit, 0.0, _text(one.get("basis")), "true" if value else "false")
    assert number is not None
    return Value(number, unit, _number(one.get("tol")) or 0.0, _text(one.get("basis")), f"{number:.6g} {unit}".rstrip())


def _list(data: Any) -> list[Any]:
    return data if isinstance(data, list) else []


def _number(data: Any) -> float | None:
    if isinstance(data, bool) or not isinstance(data, int | float):
        return None
    try:
        return float(data) if math.isfinite(data) else None
    except OverflowError:
        return None


def _text(data: Any, longest: int = LONGEST) -> str:
    """A text of a report as far as it is kept, without what could steer a terminal."""
    if not isinstance(data, str):
        return ""
    text = data[:longest]
    return text if text.isprintable() else "".join(c if c.isprintable() else "�" for c in text)
