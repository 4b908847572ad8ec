"""The places that come with the pack: each sheet is read, says how each fact is known, and runs through the rules."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import swaplint_rules.compliance
import tomli

from swaplint.inspecting.inspection import inspect
from swaplint.inspecting.selection import Selection
from swaplint.kit.edits import edited_spec, sound_spec
from swaplint.kit.trial import of_part, rule_base, trial
from swaplint.reports.json_report import spec_json
from swaplint.spec.loaded import SpecErrors
from swaplint.spec.shape import members
from swaplint.spec.systems.compliance import Fact, Place

SHEETS = sorted((Path(swaplint_rules.compliance.__file__).parent / "places").glob("*.place.toml"))
NAMES = [sheet.name for sheet in SHEETS]
PLACE = "build.places.here"


def named(name: str) -> dict[str, Any]:
    return {"build.places": {"here": {"sheet": name}}}


def facts_in(name: str) -> Iterator[tuple[str, dict[str, Any]]]:
    """Each fact of a sheet with where it stands."""
    sheet = tomli.loads(next(one for one in SHEETS if one.name == name).read_text(encoding="utf-8"))
    for key, member in members(Place).items():
        if key not in sheet or member.model is None or not issubclass(member.model, Fact):
            continue
        if member.role == "parts":
            yield from ((f"{key}.{part}", fact) for part, fact in sheet[key].items())
        else:
            yield key, sheet[key]


def test_there_are_places() -> None:
    assert len(NAMES) >= 19


@pytest.mark.parametrize("name", NAMES)
def test_each_fact_says_how_it_is_known_and_where_it_stands(name: str) -> None:
    sheet = tomli.loads(next(one for one in SHEETS if one.name == name).read_text(encoding="utf-8"))
    used = set()
    for where, fact in facts_in(name):
        assert fact["known"] in ("read", "older", "quoted", "memory"), f"{where} is invented, or says nothing"
        if fact["known"] != "memory":
            used.add(fact["document"])
    assert used <= sheet["documents"].keys()
    assert {"name", "authority", "checked"} <= sheet.keys()


@pytest.mark.parametrize("name", NAMES)
def test_each_place_is_judged_and_nothing_fails_on_what_was_not_read(name: str) -> None:
    base = rule_base()
    worst = {
        **named(name),
        "engine.certificate.use": "off-road",
        "engine.certificate.model_year": 1970,
        "engine.certificate.standard": "stage 1 (invented)",
        "vehicle.emissions.removed": ["particulate-filter", "vapour-canister"],
        "vehicle.original.power": "30 kW",
        "vehicle.noise.now": 110,
        "build.replaced": ["axles", "transmission", "steering"],
        "build.alterations": ["frame", "brakes"],
    }
    inspection, problems = inspect(base, sound_spec(base, worst), "plan", selection=Selection(("compliance",), ()))
    assert not problems
    known = {where: fact["known"] for where, fact in facts_in(name)}
    seen = [finding for finding in inspection.findings if finding.part.startswith(PLACE)]
    assert seen
    for finding in seen:
        cited = finding.sources[0].known
        if finding.kind == "fail" and finding.rule.id not in ("compliance.jurisdiction", "compliance.who-and-when"):
            assert cited in ("published", "data-sheet", "from memory"), finding.message
            if cited == "published":
                assert "read" in known.values()
                assert re.search(r"Ask \w.+\.$", finding.message), finding.message


def test_numbers_that_were_read_decide() -> None:
    # Norway: the higher of the largest engine offered, 95 kW, and 200 W for each of 1858 kg, 371.6 kW
    norway = {**named("no.place.toml"), "vehicle.original.engine.largest_power": "50 kW"}
    found = of_part("compliance.power-limit", f"{PLACE}.power_limits.power", norway)
    assert (found.kind, found.sources[0].known) == ("pass", "published")
    assert found.limit is not None
    assert found.limit.value == pytest.approx(371_600.0)
    # Brussels: 1.2 times 85 kW is 102 kW; 1.2 times 75 kW is 90 kW, and 1.2 times 2.4 L is 2.88 L
    brussels = named("be-brussels.place.toml")
    power, size = f"{PLACE}.power_limits.power", f"{PLACE}.power_limits.displacement"
    assert of_part("compliance.power-limit", power, brussels).kind == "pass"
    assert of_part("compliance.power-limit", power, {**brussels, "vehicle.original.power": "75 kW"}).kind == "fail"
    assert of_part("compliance.power-limit", size, brussels).kind == "pass"
    kind = {f.demand: f.kind for f in trial("compliance.engine-kind", brussels)}
    assert kind == {"fuel": "fail", "other-energies": "pass", "cylinders": "pass", "feed": "fail", "charger": "fail"}
    # Finland's 1.2 was a draft that a newspaper printed: never more than a review
    finland = {**named("fi.place.toml"), "vehicle.original.power": "75 kW"}
    assert of_part("compliance.power-limit", power, finland).kind == "review"
    # the United Kingdom's points: engine, transmission and axles changed leave 9 of 8, with the suspension 7
    gb = {**named("gb.place.toml"), "build.replaced": ["transmission", "axles", "suspension"]}
    assert of_part("compliance.identity", PLACE, gb, demand="points").kind == "review"
    assert of_part("compliance.engine-age", PLACE, gb, demand="standard").kind == "open"  # known from memory


def test_the_office_of_a_place_is_named_as_whom_to_ask() -> None:
    base = rule_base()
    spec = sound_spec(base, {"build.places.state.noise": None, "vehicle.tyres": None, "engine.certificate.use": None})
    inspection, _ = inspect(base, spec, "commission", selection=Selection(("compliance",), ()))
    report = spec_json(inspection, "error")
    asked = {ask["field"]: (ask["whom"], ask["whom_named"]) for ask in report["ask_next"]}
    assert asked["build.places.state.noise.asked"] == ("authority", "Example Vehicle Office (invented)")
    assert asked["engine.certificate.use"] == ("engine-supplier", None)
    waiting = {one["rule"]: one["whom"] for one in report["results"] if one["unknown"]}
    assert waiting["compliance.emission-certificate"] == ["engine-supplier"]


def test_a_wrong_name_of_a_place_is_met_with_the_nearest() -> None:
    with pytest.raises(SpecErrors) as caught:
        edited_spec(named("be-brussel.place.toml"), rule_base().model)
    assert "did you mean 'be-brussels.place.toml'?" in str(caught.value)
    with pytest.raises(SpecErrors) as caught:
        edited_spec(named("atlantis.place.toml"), rule_base().model)
    assert "there is no data sheet 'atlantis.place.toml'" in str(caught.value)


@pytest.mark.parametrize("name", ["", "*.place.toml", "[.place.toml", "../no.place.toml", "**", "a" * 400, ".", "x.**"])
def test_no_name_of_a_place_breaks_anything(name: str) -> None:
    with pytest.raises(SpecErrors):
        edited_spec(named(name), rule_base().model)


def test_a_place_of_one_s_own_beside_the_spec(tmp_path: Path) -> None:
    from swaplint.spec.loading import load_spec

    (tmp_path / "club.place.toml").write_text(
        'name = "Example club (invented)"\nauthority = "the club\'s inspector"\n'
        '[documents.rules]\ntitle = "Club rules (invented)"\n'
        '[certificates]\nlight_vehicle = ["light-duty-road", "off-road"]\nknown = "read"\ndocument = "rules"\n'
    )
    spec = tmp_path / "s.toml"
    spec.write_text(
        '[build.places.club]\nsheet = "club.place.toml"\n[vehicle]\nweight_class = "light"\n'
        '[engine.certificate]\nuse = "off-road"\n'
    )
    base = rule_base()
    read = load_spec(str(spec), model=base.model)
    found, _ = inspect(base, read, "plan", selection=Selection((), ("compliance.emission-certificate",)))
    use = next(finding for finding in found.findings if finding.demand == "use")
    assert (use.kind, use.sources[0].title) == ("pass", "Club rules (invented)")
    # a sheet of the pack's is named as one beside the spec, and told by the pack's name
    spec.write_text('[build.places.norway]\nsheet = "no.place.toml"\n')
    assert list(load_spec(str(spec), model=base.model).sheets) == ["compliance-sheets/no.place.toml"]


def test_gas_and_electric_drives_are_asked_for_by_name() -> None:
    gas = {"build.places": {"here": {"sheet": "de.place.toml"}}, "vehicle.other_energies": ["lpg"]}
    system, whole = f"{PLACE}.requirements.gas_system", f"{PLACE}.requirements.gas_inspection"
    assert f"{system}.met.done" in of_part("compliance.inspection-plan", system, gas).unknown
    refused = of_part("compliance.inspection-plan", whole, {**gas, f"{whole}.met.done": False})
    assert (refused.kind, "section 41a" in refused.message) == ("review", True)  # read in an older edition
    referee = f"{PLACE}.requirements.electric"
    taken_out = {**named("us-california.place.toml"), "vehicle.other_energies": ["electric"]}
    assert of_part("compliance.inspection-plan", referee, {**taken_out, f"{referee}.met.done": False}).kind == "fail"
    for name in NAMES:  # none of it is asked of a vehicle that burns petrol or diesel alone
        conditional = [where for where, fact in facts_in(name) if fact.get("for_energies")]
        for where in conditional:
            assert of_part("compliance.inspection-plan", f"{PLACE}.{where}", named(name)).kind == "notApplicable"
