"""`swaplint draft`: what it writes can be read as it stands, and with any of its lines uncommented."""

from __future__ import annotations

import functools
import re
import tomllib
from pathlib import Path
from typing import Any

import jsonschema  # type: ignore[import-untyped]
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from swaplint.cli.program import run
from swaplint.host.packs import load_rule_base
from swaplint.inspecting.inspection import inspect
from swaplint.kit.edits import edited_spec
from swaplint.kit.trial import rule_base
from swaplint.spec.job import STAGES, Stage
from swaplint.spec.loading import load_text
from swaplint.spec.schema import build_schema
from swaplint.spec.shape import every_field
from swaplint.spec.systems import SYSTEMS
from swaplint.writing.asked import Asked, asked_by, pattern
from swaplint.writing.draft import draft, draft_of
from swaplint.writing.examples import inline
from swaplint.writing.profile import NOTHING_KNOWN, Profile

FUEL = "engine.fuel_type"
FIELD = re.compile(r"# ([a-z_.0-9]+) = ")
TABLE = re.compile(r"# \[+([A-Za-z0-9_.-]+)\]+$")


@functools.cache
def asked(fuel: str | None, systems: tuple[str, ...] = ()) -> dict[str, Asked]:
    """What the rules ask for: by far the longest part of a draft, and the same at every stage and for every system."""
    rules = [rule for _, rule in rule_base().rules if not systems or rule.system in systems]
    return asked_by(rule_base(), rules, Profile(fuel=fuel or "").stated())


@functools.cache
def text_of(stage: Stage = "plan", systems: tuple[str, ...] = (), fuel: str | None = None) -> str:
    rules = [rule for _, rule in rule_base().rules if not systems or rule.system in systems]
    known = asked(fuel, systems) if fuel else asked(None)
    return draft_of(rule_base(), rules, known, stage, Profile(fuel=fuel or ""))[0]


@functools.cache
def needed_text(stage: Stage) -> str:
    return draft_of(
        rule_base(), [rule for _, rule in rule_base().rules], asked(None), stage, NOTHING_KNOWN, only_needed=True
    )[0]


@pytest.fixture
def _asked_before(monkeypatch: pytest.MonkeyPatch) -> None:
    """Spare a test of the whole draft by the command what the rules ask for, which is known here."""
    monkeypatch.setattr(
        "swaplint.writing.draft.asked_by",
        lambda base, rules, known, *, stopped: asked(known.get("engine.fuel_type")),
    )


def uncommented(text: str) -> str:
    return "".join(line.removeprefix("# ") for line in text.splitlines(keepends=True))


def load(text: str) -> Any:
    return load_text(text, model=rule_base().model)


def stated(data: Any, path: str = "") -> set[str]:
    """The fields in TOML data, as the model writes them."""
    if isinstance(data, dict) and not (path and pattern(rule_base().model, path)):
        return set().union(*(stated(v, f"{path}.{k}" if path else k) for k, v in data.items()))
    if isinstance(data, list) and not pattern(rule_base().model, path):
        return set().union(*(stated(item, f"{path}[{i}]") for i, item in enumerate(data, 1)))
    found = pattern(rule_base().model, path)
    return {found} if found else set()


WITH_RULES = sorted({rule.system for _, rule in rule_base().rules})


@pytest.mark.parametrize("stage", STAGES)
@pytest.mark.parametrize("fuel", [None, "diesel", "petrol"])
def test_can_be_read_as_it_stands(stage: Stage, fuel: str | None) -> None:
    spec = load(text_of(stage, ("fuel", "exhaust", "gearing") if fuel else (), fuel))
    stage_stated = spec.stated("build.stage")
    assert stage_stated is not None
    assert stage_stated.value == stage
    fuel_stated = spec.stated("engine.fuel_type")
    assert (fuel_stated.value if fuel_stated else None) == fuel
    inspection, problems = inspect(rule_base(), spec)
    assert problems == []
    assert inspection.ask_next


@pytest.mark.parametrize("systems", [(), *((s,) for s in WITH_RULES)], ids=str)
def test_can_be_read_with_everything_uncommented(systems: tuple[str, ...]) -> None:
    text = uncommented(text_of("build", systems))
    load(text)
    data = tomllib.loads(text)
    assert list(jsonschema.Draft202012Validator(build_schema(rule_base().model)).iter_errors(_plain(data))) == []


def _plain(data: Any) -> Any:
    if isinstance(data, dict):
        return {key: _plain(value) for key, value in data.items()}
    if isinstance(data, list):
        return [_plain(value) for value in data]
    return data if isinstance(data, str | int | float | bool) else data.isoformat()


@settings(deadline=None, max_examples=50)
@given(st.data())
def test_can_be_read_with_any_lines_uncommented(data: st.DataObject) -> None:
    lines = text_of().splitlines()
    fields = [n for n, line in enumerate(lines) if FIELD.match(line)]
    tables = [n for n, line in enumerate(lines) if TABLE.match(line)]
    headers = [n for n, line in enumerate(lines) if line.startswith("[")]
    for number in data.draw(st.sets(st.sampled_from(fields), max_size=8)):
        lines[number] = lines[number].removeprefix("# ")
        # A field of a named part needs the header of its block.
        above = max((n for n in (*tables, *headers) if n < number), default=0)
        lines[above] = lines[above].removeprefix("# ")
    load("\n".join(lines))


@pytest.mark.parametrize("system", WITH_RULES)
def test_holds_every_field_that_the_rules_of_a_system_name(system: str) -> None:
    """Whatever an inspection says a rule read or lacks, on the sound spec and on an empty one, is there to fill in."""
    there = stated(tomllib.loads(uncommented(text_of("commission", (system,)))))
    assert named_by_rules()[system]
    assert named_by_rules()[system] <= there


@functools.cache
def named_by_rules() -> dict[str, set[str]]:
    """The fields that the findings on the sound spec and on an empty one name, by the system of their rules."""
    named: dict[str, set[str]] = {}
    for spec in (edited_spec({}, rule_base().model), load("")):
        inspection, _ = inspect(rule_base(), spec)
        for finding in inspection.findings:
            paths = (*finding.inputs, *finding.unknown, *finding.optional)
            found = {p for p in (pattern(rule_base().model, path) for path in paths) if p}
            named.setdefault(finding.rule.system, set()).update(found)
    return named


def test_reads_other_fields_for_another_answer() -> None:
    # The gearing rules read the plateau and the fuel only where the data sheet states no cruise band.
    there = stated(tomllib.loads(uncommented(text_of("plan", ("gearing",)))))
    assert {"engine.torque.plateau_low", "engine.fuel_type", "driveline.converter.stall_ratio"} <= there


def test_follows_the_model_and_repeats_nothing() -> None:
    order = [path for path, _ in every_field(rule_base().model)]
    table, block = "", ""
    keys: dict[str, list[str]] = {}
    for line in text_of().splitlines():
        header = TABLE.match(line) or re.match(r"\[(\w+)\]$", line)
        if header:
            table = block = header.group(1) + ("[1]" if "[[" in line else "")
        entry = re.match(r"(?:# )?([a-z_.0-9]+) = ", line)
        if entry:
            found = pattern(rule_base().model, f"{table}.{entry.group(1)}")
            where = f"{table}.{entry.group(1)}"
            if found:
                keys.setdefault(block, []).append(found)
            else:
                lists = {path[: at.start()] for path in order for at in re.finditer(r"\[\]", path)}
                named = (re.escape(path).replace(r"\*", r"[\w-]+").replace(r"\[\]", r"\[\d+\]") for path in lists)
                assert any(re.fullmatch(one, where) for one in named), where
    assert keys
    for block, found_here in keys.items():
        assert found_here == sorted(set(found_here), key=order.index), block


def test_a_line_says_meaning_unit_example_and_where() -> None:
    lines = text_of().splitlines()
    number = next(n for n, line in enumerate(lines) if "mass.gvwr" in line)
    line, more = lines[number : number + 2]
    facts = dict(every_field(rule_base().model))["vehicle.mass.gvwr"].facts
    assert facts is not None
    assert line.startswith(f"# mass.gvwr = {facts.example()} ")
    assert line.endswith(f"# [now] {facts.description}")
    assert re.fullmatch(r"## +\(plate or papers\)", more)


def test_no_line_runs_far_off_the_screen() -> None:
    for text in (text_of("build"), text_of("plan", ("gearing",)), *map(needed_text, STAGES)):
        assert max(map(len, text.splitlines())) <= 120


def test_marks_what_is_needed_at_the_stage() -> None:
    marked = {line.split(" = ")[0] for line in text_of("plan", ("gearing",)).splitlines() if "# [now] " in line}
    assert "# design.cruise_speed" in marked
    assert "# speed.cruise_low" not in marked, "a rule can do without it"


def test_at_the_idea_stage_marks_what_the_next_needs() -> None:
    marked = [re.findall(r"^# (.*) = .*# \[now\] ", text_of(s, ("gearing",)), re.M) for s in ("idea", "plan")]
    assert marked[0] == marked[1] != []


def test_the_first_day_takes_what_the_axle_ratio_hangs_on_and_no_more() -> None:
    text = needed_text("idea")
    assert len(text.splitlines()) < 80
    assert "[now]" not in text  # all of it is
    there = stated(tomllib.loads(uncommented(text)))
    assert {"driveline.axles.*.ratio", "driveline.transfer.fitted", "engine.torque_curve[].torque"} <= there
    # A fallback would stand in for the cruise band, and answer otherwise than the engine's own sheet.
    assert {"engine.speed.cruise_low", "engine.speed.cruise_high"} <= there
    of_gearing = (of.fields for id, of in asked(None).items() if id.startswith("gearing."))
    assert there - {"build.name", "build.format", "build.stage"} <= set().union(*of_gearing)
    load(text)
    load(uncommented(text))


def test_what_is_asked_for_on_the_first_day_decides_the_gearing() -> None:
    rules = [rule for _, rule in rule_base().rules if rule.system == "gearing" and rule.due == "plan"]
    text = uncommented(needed_text("idea"))
    inspection, problems = inspect(rule_base(), load(text))
    assert problems == []
    ids = {rule.id for rule in rules}
    assert {f.rule.id for f in inspection.findings if f.kind == "open"}.isdisjoint(ids - {"gearing.shift-step"})


def test_a_later_stage_takes_what_its_rules_cannot_do_without() -> None:
    fields = [len(re.findall(r"^# [a-z_.0-9]+ = ", needed_text(stage), re.M)) for stage in STAGES]
    assert fields == sorted(fields)
    there = stated(tomllib.loads(uncommented(needed_text("quote"))))
    due = [rule.id for _, rule in rule_base().rules if rule.due in ("plan", "quote")]
    assert set().union(*(asked(None)[id].needed for id in due)) <= there


def test_parts_with_names_show_one_block() -> None:
    text = text_of("plan", ("gearing",))
    assert len(re.findall(r"^# \[driveline\.axles\.", text, re.M)) == 1
    assert re.search(r"^## the axles.*\n# \[driveline\.axles\.front\]\n# ", text, re.M)


def test_a_single_part_can_be_said_not_to_be_fitted() -> None:
    text = text_of("plan", ("gearing",))
    assert re.search(r"^# transfer\.fitted = true ", text, re.M)
    assert not re.search(r"^# fitted = .*\n# sheet", text, re.M)
    load(text.replace("# transfer.fitted = true", "transfer.fitted = false"))


def test_a_curve_has_more_than_one_point() -> None:
    # With one point the rules that read the curve would say that the values do not fit together.
    curve = tomllib.loads(uncommented(needed_text("idea")))["engine"]["torque_curve"]
    speeds = [int(point["speed"].split()[0]) for point in curve]
    assert speeds == sorted(set(speeds))
    assert len(speeds) == 2  # more do not fit on a line


def test_inline_values() -> None:
    value = {"a": [1, 2.5, True], "b": {"c": 'quoted "so"\nand back\\slash'}}
    assert tomllib.loads(f"v = {inline(value)}")["v"] == value


def test_fields_of_a_pack(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    pack = tmp_path / "acme.py"
    pack.write_text(
        "from swaplint.api import *\n"
        "class Own(Section):\n"
        "    '''Fields of the pack.'''\n"
        "    width: float = fields.measure(\n"
        "        'width of it', 'length', 'mm', typical=5, plausible=(1, 9), where='a rule')\n"
        "@rule('fit.width', level='note', due='plan', about='acme.width',\n"
        "      sources=[practice('example').giving('limit', '6 mm')],\n"
        "      bad=[{'acme.width': '9 mm'}], good=[{'acme.width': '4 mm'}])\n"
        "def width(build):\n"
        "    '''Is it narrow?\n\n    Computes: nothing.\n    Consequence: none.\n    Limit: 6 mm.\n"
        "    Remedy: file it.\n    Cannot tell: all.\n    '''\n"
        "    return at_most(build.acme.width, 0.006)\n"
        "@hookimpl\n"
        "def swaplint_pack():\n"
        "    return Pack('acme', interface=INTERFACE, rules=[width], section=Own)\n",
        encoding="utf-8",
    )
    assert run(["draft", "-", "--pack", str(pack), "--system", "fit"]) == 0
    text = capsys.readouterr().out
    assert re.search(r'^\[acme\]\n# width = "5 mm" +# \[now\] width of it \(a rule\)$', text, re.M)
    load_text(uncommented(text), model=load_rule_base([str(pack)]).model)


# -- the command -------------------------------------------------------------------------------------------------
@pytest.mark.usefixtures("_asked_before")
def test_writes_a_file_that_inspect_reads(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    target = tmp_path / "my swap.toml"
    assert run(["draft", str(target)]) == 0
    captured = capsys.readouterr()
    assert captured.out == ""
    text = target.read_text(encoding="utf-8")
    assert text == needed_text("idea")
    assert text.startswith("#:schema ./swaplint.schema.json\n")
    fields = [line for line in text.splitlines() if FIELD.match(line)]
    assert captured.err == f'wrote {target}: {len(fields)} fields to fill in; next: swaplint fill "{target}"\n'
    assert run(["inspect", str(target), "--gate", "never"]) == 0
    assert capsys.readouterr().err == ""


@pytest.mark.usefixtures("_asked_before")
def test_writes_every_field_where_that_is_asked_for(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    target = tmp_path / "all.toml"
    assert run(["draft", str(target), "--stage", "plan", "--whole"]) == 0
    text = target.read_text(encoding="utf-8")
    assert text == text_of()
    fields = [line for line in text.splitlines() if FIELD.match(line)]
    first = sum("# [now] " in line for line in fields)
    assert 0 < first < len(fields)
    assert (
        f"{len(fields)} fields to fill in, {first} of them first, which are marked [now]; " in capsys.readouterr().err
    )


def test_writes_to_standard_output(capsys: pytest.CaptureFixture[str]) -> None:
    """The command asks the rules itself, and gets what this file reads from what all of them ask for."""
    assert (
        run(["draft", "-", "--stage", "quote", "--system", "gearing", "--system", "exhaust", "--fuel", "petrol"]) == 0
    )
    caught = capsys.readouterr()
    assert caught.out == text_of("quote", ("gearing", "exhaust"), "petrol")
    assert caught.err == ""


def test_the_fields_of_one_rule(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["draft", "-", "--stage", "plan", "--rule", "gearing.crawl"]) == 0
    there = stated(tomllib.loads(uncommented(capsys.readouterr().out)))
    of_rule = asked_by(rule_base(), [r for _, r in rule_base().rules if r.id == "gearing.crawl"], {})
    assert of_rule["gearing.crawl"].fields <= there
    assert "engine.speed.idle" in there
    assert len(there) < len(stated(tomllib.loads(uncommented(text_of("plan", ("gearing",)))))) / 2


def test_does_not_write_over_a_file_unless_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    target = tmp_path / "mine.toml"
    target.write_text("# a week of work\n", encoding="utf-8")
    assert run(["draft", str(target)]) == 2
    assert target.read_text(encoding="utf-8") == "# a week of work\n"
    assert "--replace" in capsys.readouterr().err
    assert run(["draft", str(target), "--replace", "--system", "compliance"]) == 0
    assert target.read_text(encoding="utf-8") == text_of("idea", ("compliance",))


def test_does_not_follow_a_dangling_link(tmp_path: Path) -> None:
    link = tmp_path / "link.toml"
    link.symlink_to(tmp_path / "elsewhere.toml")
    assert run(["draft", str(link)]) == 2
    assert not (tmp_path / "elsewhere.toml").exists()


def test_says_what_it_cannot_write(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["draft", str(tmp_path / "no-such-folder" / "a.toml"), "--system", "compliance"]) == 2
    said = capsys.readouterr().err
    assert "cannot be written" in said
    assert "wrote" not in said


def test_says_that_a_system_has_no_rules(capsys: pytest.CaptureFixture[str]) -> None:
    without = [system for system in SYSTEMS if system not in WITH_RULES]
    for system in without[:1]:
        assert run(["draft", "-", "--system", system]) == 0
        caught = capsys.readouterr()
        assert system in caught.err
        load(caught.out)


def test_same_call_same_bytes() -> None:
    assert draft(load_rule_base(), systems=("gearing", "exhaust"))[0] == text_of("plan", ("gearing", "exhaust"))
