"""Reports that were kept, as they come back: whole, as a stream, of many specs, cut off, foreign, hostile."""

from __future__ import annotations

import contextlib
import copy
import json
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from swaplint import __version__
from swaplint.api import Build, Verdict, at_most
from swaplint.gating.comparison import compare_with_report
from swaplint.gating.earlier import EarlierReport, EarlierSpec
from swaplint.gating.earlier_report import NoReport, looks_like_json, read_report
from tests.core.tests_making import made
from tests.gating.comparing import Json, base_of, inspected, kept, lines_of, report_json, states


def _gvwr(build: Build) -> Verdict:
    return at_most(build.vehicle.mass.gvwr, 3000.0)


BASE = base_of([made("mass.gvwr", _gvwr), made("fit.none", lambda b: at_most(1.0, 2.0))])


def gvwr(kg: float) -> str:
    return f'[vehicle.mass]\ngvwr = {{ value = "{kg} kg", tol = "2 %", basis = "assumed" }}\n'


def data_of(*specs: tuple[str, float]) -> Json:
    return report_json(BASE, *(inspected(BASE, gvwr(kg), label=label) for label, kg in specs))


def written(folder: Path, text: str | bytes) -> str:
    file = folder / "old.json"
    file.write_bytes(text.encode() if isinstance(text, str) else text)
    return str(file)


def test_a_report_comes_back_as_it_was_whole_or_as_a_stream(tmp_path: Path) -> None:
    data = data_of(("a.toml", 3100), ("b.toml", 2900))
    whole = read_report(str(kept(tmp_path, data)))
    stream = read_report(written(tmp_path, lines_of(data)))
    alone = read_report(written(tmp_path, lines_of(data_of(("a.toml", 3100)))))
    assert whole == stream
    assert alone.specs == {"a.toml": whole.specs["a.toml"]}
    assert (whole.version, dict(whole.packs)) == (__version__, {"made-up": "1.0"})
    (was,) = (was for was in whole.specs["a.toml"].results if was.rule == "mass.gvwr")
    assert (was.kind, was.found, was.unit, was.inputs) == ("fail", 3100.0, "kg", ("vehicle.mass.gvwr",))
    today = inspected(BASE, gvwr(3100), label="a.toml")
    assert not compare_with_report(BASE, today, whole).fields


def test_a_stream_without_what_passes_is_known_as_one(tmp_path: Path) -> None:
    data = data_of(("a.toml", 3100))
    (spec,) = data["specs"]
    spec["results"] = [one for one in spec["results"] if one["kind"] == "fail"]
    today = inspected(BASE, gvwr(3100), label="a.toml")
    today.baseline = compare_with_report(BASE, today, read_report(written(tmp_path, lines_of(data))))
    assert today.baseline.partial
    assert states(today) == {"mass.gvwr": "unchanged", "fit.none": "unchanged"}


PATHS = [
    (("a.toml", "b.toml"), "b.toml", ("b.toml", True)),
    (("a.toml", "b.toml"), "./b.toml", ("b.toml", True)),
    (("quotes/a.toml", "quotes/b.toml"), "/srv/job 7/quotes/b.toml", ("quotes/b.toml", True)),
    (("/srv/quotes/a.toml", "b.toml"), "quotes/a.toml", ("/srv/quotes/a.toml", True)),
    (("quotes\\a.toml", "b.toml"), "quotes/a.toml", ("quotes\\a.toml", True)),
    (("x/a.toml", "y/a.toml"), "a.toml", (None, False)),  # either could be meant
    (("x/a.toml", "a.toml"), "a.toml", ("a.toml", True)),
    (("a.toml", "b.toml"), "c.toml", (None, False)),
    (("aa.toml", "b.toml"), "a.toml", (None, False)),
    (("a.toml",), "c.toml", ("a.toml", False)),  # compared with, and accepts nothing
]


@pytest.mark.parametrize(("labels", "asked", "found"), PATHS)
def test_specs_are_matched_by_path(labels: tuple[str, ...], asked: str, found: tuple[str | None, bool]) -> None:
    report = EarlierReport("old.json", specs={label: EarlierSpec(label, "plan") for label in labels})
    spec, same = report.of(asked)
    assert (spec.label if spec is not None else None, same) == found


def test_a_spec_that_the_report_does_not_hold_is_new_whole(tmp_path: Path) -> None:
    report = read_report(str(kept(tmp_path, data_of(("a.toml", 3100), ("b.toml", 2900)))))
    today = inspected(BASE, gvwr(3100), label="c.toml")
    today.baseline = compare_with_report(BASE, today, report)
    assert states(today) == {"mass.gvwr": "new", "fit.none": "added"}


def _without(*path: Any) -> Callable[[Json], None]:
    def change(data: Json) -> None:
        node: Any = data
        for key in path[:-1]:
            node = node[key]
        del node[path[-1]]

    return change


def _with(value: Any, *path: Any) -> Callable[[Json], None]:
    def change(data: Json) -> None:
        node: Any = data
        for key in path[:-1]:
            node = node[key]
        node[path[-1]] = value

    return change


WRONG = [
    (_with(1, "format"), "format 1"),
    (_with(3, "format"), "reads format 2"),
    (_with("2", "format"), "no format"),
    (_with(True, "format"), "no format"),
    (_without("format"), "no format"),
    (_without("tool"), "no report"),
    (_with("other", "tool", "name"), "no report"),
    (_with([], "tool"), "no report"),
    (_without("specs"), "no report"),
    (_with({}, "specs"), "no report"),
    (_with([7], "specs"), "spec 1"),
    (_without("specs", 0, "spec"), "spec 1"),
    (_with("soon", "specs", 0, "stage"), "stage"),
    (_without("specs", 0, "results"), "spec 1"),
    (_with(None, "specs", 0, "results", 1), "result 2"),
    (_with("fuel", "specs", 0, "results", 0, "rule"), "names no rule"),
    (_with(["fail"], "specs", 0, "results", 0, "kind"), "kind"),
    (_with("pass", "specs", 0, "results", 0, "kind"), "level"),
    (_with("fatal", "specs", 0, "results", 0, "level"), "level"),
]


@pytest.mark.parametrize(("change", "says"), WRONG)
def test_what_is_no_report_of_this_format_is_refused(change: Callable[[Json], None], says: str, tmp_path: Path) -> None:
    data = copy.deepcopy(data_of(("a.toml", 3100)))
    change(data)
    with pytest.raises(NoReport, match=says):
        read_report(str(kept(tmp_path, data)))


RAW = [
    (b"{", "cut off"),
    (b'{"format": 2, "tool": {"name": "swaplint"', "cut off"),
    (b'{"format": 2}}', "not valid JSON"),
    (b"\xff\xfe{", "UTF-8"),
    (b'{"a": "\xff"}', "UTF-8"),
    (b'{"format": NaN}', "NaN"),
    (b"[" * 100_000, "nested|cut off"),
    (b'{"a": ' * 100_000 + b"}", "nested|not valid"),
    (b"[]", "no report"),
    (b'{"$schema": "x", "runs": []}', "SARIF"),
    (b'{"format": ' + b"9" * 5000 + b"}", "not valid JSON"),
]


@pytest.mark.parametrize(("raw", "says"), RAW, ids=range(len(RAW)))
def test_text_that_is_none_is_refused(raw: bytes, says: str, tmp_path: Path) -> None:
    with pytest.raises(NoReport, match=says):
        read_report(written(tmp_path, raw))


def test_a_stream_that_is_cut_off_anywhere_is_refused(tmp_path: Path) -> None:
    text = lines_of(data_of(("a.toml", 3100), ("b.toml", 2900)))
    lines = text.splitlines(keepends=True)
    for cut in (*range(0, len(text) - 2, 97), len(lines[0]), len(lines[0]) + len(lines[1])):
        with pytest.raises(NoReport):
            read_report(written(tmp_path, text[:cut]))
    with pytest.raises(NoReport, match="goes on"):
        read_report(written(tmp_path, text + lines[0]))
    with pytest.raises(NoReport, match="line 2"):
        read_report(written(tmp_path, lines[0] + '{"what": "else"}\n' + lines[2]))


def test_files_that_are_none_are_refused(tmp_path: Path) -> None:
    for name, says in ((tmp_path, "folder"), (tmp_path / "none.json", "no such file"), (Path("/dev/null"), "regular")):
        with pytest.raises(NoReport, match=says):
            looks_like_json(str(name))
    os.mkfifo(tmp_path / "fifo")
    with pytest.raises(NoReport, match="regular"):
        looks_like_json(str(tmp_path / "fifo"))
    with pytest.raises(NoReport):
        looks_like_json("a\0b")


def test_what_could_steer_a_terminal_does_not_come_through(tmp_path: Path) -> None:
    data = data_of(("a.toml", 3100))
    data["specs"][0]["results"][0]["message"] = "\x1b[2J" + "x" * 10_000
    (was, _) = read_report(str(kept(tmp_path, data))).specs["a.toml"].results
    assert was.message.isprintable()
    assert len(was.message) < 2_000


ANY = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats(allow_nan=False, allow_infinity=False) | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=3),
    max_leaves=4,
)


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data())
def test_any_value_in_any_place_is_read_or_refused_in_a_sentence(data: st.DataObject, tmp_path: Path) -> None:
    whole = data_of(("a.toml", 3100))
    node: Any = whole
    while isinstance(node, dict | list) and node:
        key = data.draw(st.sampled_from(list(node) if isinstance(node, dict) else range(len(node))))
        if not isinstance(node[key], dict | list) or not node[key] or data.draw(st.integers(0, 3)) == 0:
            node[key] = data.draw(ANY)
            break
        node = node[key]
    file = tmp_path / "old.json"
    file.write_text(json.dumps(whole), encoding="utf-8")
    with contextlib.suppress(NoReport):
        report = read_report(str(file))
        today = inspected(BASE, gvwr(3100), label="a.toml")
        assert sum(compare_with_report(BASE, today, report).counts().values()) >= 1
