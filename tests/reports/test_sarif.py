"""The SARIF log as a whole: valid, consistent, complete, the same every time."""

from __future__ import annotations

import copy
import getpass
import json
import socket
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import jsonschema  # type: ignore[import-untyped]
import pytest
import sarif_pydantic  # type: ignore[import-untyped]
import sarif_world as world
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sarif_checks import check_log, places, rule_of

from swaplint.api import Build, Practice, Verdict, at_most, book, practice, sheet, use_practice, within
from swaplint.cli import main
from swaplint.host.packs import LoadedPack
from swaplint.host.problems import Problem
from swaplint.inspecting.results import Report
from swaplint.reports.sarif import dumps, sarif
from swaplint.reports.sarif.tool import source_id
from swaplint.spec.loading import load_spec, load_text

Json = dict[str, Any]
SCHEMA = Path(__file__).resolve().parents[3] / "shared" / "reference" / "sarif-schema-2.1.0.json"


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A working folder with a spec, and one with a name full of traps in a folder below."""
    monkeypatch.chdir(tmp_path)
    world.write_spec(tmp_path)
    world.write_spec(tmp_path / "my specs", name="a #1 50% ü:x.toml")
    return tmp_path


@pytest.fixture
def report(folder: Path) -> Report:
    """Two specs inspected, with trouble of each sort."""
    made = world.report_of(world.load("my specs/a #1 50% ü:x.toml"), world.load("spec.toml"))
    made.problems += [
        Problem("is not valid TOML: invented", "input", file="gone.toml", line=3, column=2),
        Problem("could not be loaded: /home/somebody/secret/pack.py is missing", "pack", "lost", file="pack.py"),
        Problem("the rule broke", "rule", "shop", "fuel.shop", "shop.py", 7),
        Problem("the rule is not declared soundly", "rule", "shop", "fuel.unsound", "shop.py", 9),
    ]
    return made


def as_json(report: Report, **options: Any) -> Json:
    """A log as a consumer reads it."""
    text = dumps(sarif(report, **options)[0])
    assert text.endswith("}\n")
    made: Json = json.loads(text.encode("utf-8"))
    return made


def results(log: Json) -> list[Json]:
    """The results of a log."""
    made: list[Json] = log["runs"][0]["results"]
    return made


def of(log: Json, rule: str, uri: str = "spec.toml") -> list[Json]:
    """The results of one rule on one file."""
    run = log["runs"][0]
    at = [r for r in results(log) if r["locations"][0]["physicalLocation"]["artifactLocation"]["uri"] == uri]
    return [r for r in at if rule_of(run, r)["id"] == rule]


# -- oracles from elsewhere ---------------------------------------------------------------------------------------
@pytest.mark.skipif(not SCHEMA.exists(), reason="the OASIS schema is not beside the project")
@pytest.mark.parametrize("profile", ["whole", "code-scanning"])
def test_valid_against_the_oasis_schema(report: Report, profile: str) -> None:
    schema = json.loads(SCHEMA.read_text())
    jsonschema.Draft4Validator(schema, format_checker=jsonschema.FormatChecker()).validate(
        as_json(report, profile=profile)
    )
    jsonschema.Draft4Validator(schema).validate(as_json(world.report_of(), profile=profile))


@pytest.mark.parametrize("profile", ["whole", "code-scanning"])
def test_another_library_reads_it(report: Report, profile: str) -> None:
    log = as_json(report, profile=profile)
    read = sarif_pydantic.Sarif.model_validate(log)
    run = read.runs[0]
    assert run.results is not None
    assert [r.kind for r in run.results] == [r["kind"] for r in results(log)]
    assert [r.message.text for r in run.results] == [r["message"]["text"] for r in results(log)]


# -- what checkers miss -------------------------------------------------------------------------------------------
@pytest.mark.parametrize("profile", ["whole", "code-scanning"])
def test_holds_what_checkers_miss(report: Report, profile: str) -> None:
    check_log(as_json(report, profile=profile))
    check_log(as_json(world.report_of(), profile=profile))


def _damage(path: str, value: Any) -> Callable[[Json], None]:
    def damage(log: Json) -> None:
        *way, last = path.split(".")
        node: Any = log["runs"][0]
        for step in way:
            node = node[int(step) if step.isdigit() else step]
        if value is None:
            del node[last]
        else:
            node[last] = value

    return damage


@pytest.mark.parametrize(
    "damage",
    [
        pytest.param(_damage("results.1.ruleIndex", 3), id="ruleIndex of another rule"),
        pytest.param(_damage("results.0.level", "warning"), id="a review with a level"),
        pytest.param(_damage("results.1.level", "none"), id="a fail without a level"),
        pytest.param(_damage("columnKind", None), id="no columnKind"),
        pytest.param(_damage("results.2.suppressions", None), id="suppressions on some"),
        pytest.param(_damage("results.2.baselineState", "new"), id="baselineState on some"),
        pytest.param(_damage("results.2.partialFingerprints", None), id="no partialFingerprints"),
        pytest.param(_damage("results.2.locations.0.physicalLocation.region.startColumn", None), id="no startColumn"),
        pytest.param(_damage("results.2.locations", []), id="no location"),
        pytest.param(_damage("results.2.message.text", "else"), id="text that differs from id and arguments"),
        pytest.param(_damage("results.0.ruleId", "fuel.shop"), id="rule and ruleId"),
        pytest.param(_damage("artifacts.0.location.uri", "my specs\\x.toml"), id="a path for a URI"),
        pytest.param(_damage("invocations.0.startTimeUtc", "2026-01-01T00:00:00Z"), id="a time"),
        pytest.param(_damage("invocations.0.executionSuccessful", True), id="a failed run called a success"),
        pytest.param(_damage("tool.driver.rules.0.relationships.0.target.index", 0), id="another source"),
        pytest.param(_damage("results", None), id="no results"),
    ],
)
def test_the_check_notices_damage(report: Report, damage: Callable[[Json], None]) -> None:
    log = as_json(report)
    check_log(copy.deepcopy(log))
    damage(log)
    with pytest.raises((AssertionError, KeyError, ValueError)):
        check_log(log)


# -- the tool -----------------------------------------------------------------------------------------------------
def test_every_rule_that_ran_is_described(report: Report) -> None:
    tool = as_json(report)["runs"][0]["tool"]
    assert {rule["id"] for rule in tool["driver"]["rules"]} == {rule.id for rule in world.OWN}
    assert [(e["name"], e["version"]) for e in tool["extensions"]] == [("shop", "2.0"), ("zz-empty", "1")]
    shop = tool["extensions"][0]["rules"][0]
    assert (shop["id"], shop["name"], shop["deprecatedIds"]) == ("fuel.shop", "FuelShop", ["fuel.shop-former"])
    assert "deprecatedIds" not in tool["driver"]["rules"][0]


@pytest.mark.parametrize("profile", ["whole", "code-scanning"])
def test_a_part_of_the_rules_is_said_to_be_one(
    report: Report, capsys: pytest.CaptureFixture[str], profile: str
) -> None:
    """Only rules that ran are described, and the run does not take the place of a whole one."""
    call = ["inspect", "spec.toml", "--format", "sarif", "--profile", profile, "--no-remedies"]
    assert main([*call, "--system", "mass", "--rule", "gearing.crawl"]) in (0, 1)
    log = json.loads(capsys.readouterr().out)
    check_log(log)
    (run,) = log["runs"]
    described = {rule["id"] for rule in run["tool"]["driver"]["rules"]}
    assert {id for id in described if not id.startswith("mass.")} == {"gearing.crawl"}
    assert len(described) > 2
    assert run["automationDetails"]["id"] == "swaplint/inspect/mass+gearing.crawl/"
    assert run["properties"]["selection"] == {"systems": ["mass"], "rules": ["gearing.crawl"]}
    everything = as_json(report, profile=profile)["runs"][0]
    assert everything["automationDetails"]["id"] == "swaplint/inspect/"
    assert "selection" not in everything["properties"]


@pytest.mark.parametrize("profile", ["whole", "code-scanning"])
def test_reviews_of_error_rules_are_counted_for_the_run(report: Report, profile: str) -> None:
    """Also where the profile leaves them out: no gate shuts by them, and a person must decide."""
    reviews = [f for i in report.inspections for f in i.findings if f.kind == "review" and f.rule.level == "error"]
    assert reviews
    (run,) = as_json(report, profile=profile)["runs"]
    assert run["properties"]["reviewsOfErrorRules"] == len(reviews)


def test_help_says_all_that_the_rule_says(report: Report) -> None:
    rules = as_json(report)["runs"][0]["tool"]["extensions"][0]["rules"]
    text = rules[0]["help"]["text"]
    labels = ("Computes: ", "Limit: ", "Consequence: ", "Remedy: ", "Cannot tell: ")
    for piece in (*labels, "from the 'quote' stage on the answer is due", "Invented handbook, table 1"):
        assert piece in text
    assert "Caution: Fuel and its vapour burn" in text
    assert "licensed engineer" in text
    assert "**Computes:** " in rules[0]["help"]["markdown"]
    assert "from memory" in rules[1]["help"]["text"]


def test_help_says_which_number_each_source_gives_and_how_it_is_known(folder: Path) -> None:
    sources = [
        book("Book of limits", "table 3", known="published").giving("limit", "least idle speed"),
        book("Book of sums").giving("formula", known="second-hand"),
        practice("what the trade does"),
        sheet("engine.speed.idle"),
        book("Book of nothing"),
    ]
    made = world.make("fit.cited", lambda build: None, about="engine", sources=sources)
    report = world.report_of(packs_in=[LoadedPack("own", "1", True, [made])])
    (rule,) = as_json(report)["runs"][0]["tool"]["driver"]["rules"]
    said = [line for line in rule["help"]["text"].split("\n\n") if line.startswith("Source: ")]
    assert said == [
        "Source: Book of limits, table 3 (handbook); gives the limit: least idle speed; "
        "known: published, read in the document itself.",
        "Source: Book of sums (handbook); gives the formula; known: second-hand, read in another text that states it.",
        "Source: what the trade does (common-practice); known: common practice of the trade.",
        "Source: data sheet, engine.speed.idle (data-sheet); gives the limit; "
        "known: as the build or its data sheet states it.",
        "Source: Book of nothing (handbook); known: from memory; read it in the document before relying on it.",
    ]
    for line in said:
        assert line.replace("Source:", "**Source:**") in rule["help"]["markdown"]


def test_long_descriptions_are_cut(folder: Path) -> None:
    long = world.make("fit.long", lambda build: None, question="Is it " + "very " * 400 + "long?", about="engine")
    packs = [LoadedPack("own", "1", True, [long])]
    rule = as_json(world.report_of(packs_in=packs))["runs"][0]["tool"]["driver"]["rules"][0]
    assert 1000 < len(rule["shortDescription"]["text"]) <= 1024
    assert len(rule["help"]["text"]) > 2000


def test_source_ids_tell_sources_apart_and_stay() -> None:
    one = book("Invented handbook", "table 1")
    assert source_id(one) == source_id(replace(one, known="published"))
    assert source_id(one) == source_id(one.giving("limit", "least idle speed"))
    others = [book("Invented handbook", "table 2"), book("Invented handbook"), sheet("engine.speed.rated")]
    assert len({source_id(source) for source in (one, *others, sheet("engine.speed.idle"))}) == 5


def test_taxa_say_how_the_number_is_known(report: Report) -> None:
    (taxonomy,) = as_json(report)["runs"][0]["taxonomies"]
    texts = {taxon["name"]: taxon["fullDescription"]["text"] for taxon in taxonomy["taxa"]}
    assert "from memory" in texts["Other invented book"]
    assert "published" in texts["Invented handbook, table 1"]
    assert "common-practice" in texts["invented practice"]


def test_a_document_is_one_taxon_whatever_numbers_it_gives(folder: Path) -> None:
    """And a result cites it once, however many numbers it takes from it."""
    tables = book("Invented tables", known="second-hand")
    rubber = Practice("grip of rubber 0.8", 0.8, tables)
    sand = Practice("grip on sand 0.4", 0.4, tables.giving("fallback", "grip on sand", known="published"))
    own = Practice("grip on ice 0.1", 0.1, world.BOOK.giving("fallback", "grip on ice"))

    def grips(build: Build) -> Verdict:
        return at_most(use_practice(build, own) + use_practice(build, sand), use_practice(build, rubber))

    made = world.make("fit.grips", grips, about="engine", sources=[world.BOOK.giving("formula")])
    report = world.report_of(world.load("spec.toml"), packs_in=[LoadedPack("o", "1", True, [made])])
    log = as_json(report)
    check_log(log)
    taxa = log["runs"][0]["taxonomies"][0]["taxa"]
    assert [taxon["name"] for taxon in taxa] == ["Invented handbook, table 1", "Invented tables"]
    assert taxa[1]["fullDescription"]["text"] == (
        "Invented tables (handbook). How the number is known: published, second-hand."
    )
    (found,) = of(log, "fit.grips")
    assert [taxa[taxon["index"]]["name"] for taxon in found["taxa"]] == ["Invented tables"]
    assert found["properties"]["practices"] == [own.name, sand.name, rubber.name]


def test_a_fallback_cites_its_own_source(report: Report) -> None:
    log = as_json(report)
    (made,) = of(log, "gearing.fallback")
    (taxon,) = made["taxa"]
    assert log["runs"][0]["taxonomies"][0]["taxa"][taxon["index"]]["name"] == "invented practice"
    assert made["properties"]["practices"] == ["invented grip 0.8"]


# -- results ------------------------------------------------------------------------------------------------------
def test_numbers_stand_in_the_unit_of_the_trade(report: Report) -> None:
    (made,) = of(as_json(report), "fuel.shop-tyres")
    assert made["message"]["arguments"][2:] == ["735 mm", "at least 800 mm"]
    properties = made["properties"]
    assert (properties["found"], properties["unit"]) == (735.0, "mm")
    assert properties["limit"] == {"relation": "at least", "value": 800.0}
    assert properties["margin"] == pytest.approx((735 - 800) / 800)


@pytest.mark.parametrize("unit", [("no such kind", "mm"), ("length", "no such unit"), ("length", "kg")])
def test_a_unit_that_does_not_exist_is_the_fault_of_the_rule(folder: Path, unit: tuple[str, str]) -> None:
    odd = world.make("fit.odd", lambda build: at_most(3.0, 2.0, unit=unit), about="engine")
    report = world.report_of(world.load("spec.toml"), packs_in=[LoadedPack("o", "1", True, [odd])])
    assert not of(as_json(report), "fit.odd")
    assert [problem.rule for problem in report.problems] == ["fit.odd"]


def test_a_pair_of_limits(folder: Path) -> None:
    pair = world.make("fit.pair", lambda build: within(3.0, 1.0, 2.0, unit=("length", "mm")), about="engine")
    report = world.report_of(world.load("spec.toml"), packs_in=[LoadedPack("o", "1", True, [pair])])
    (made,) = of(as_json(report), "fit.pair")
    assert made["message"]["arguments"][2:] == ["3000 mm", "from 1000 mm to 2000 mm"]
    assert made["properties"]["limit"] == {"relation": "within", "value": [1000.0, 2000.0]}


def test_all_kinds_are_there(report: Report) -> None:
    kinds = {result["kind"] for result in results(as_json(report))}
    assert kinds == {"fail", "review", "open", "pass", "notApplicable", "informational"}


def test_a_rule_for_each_part_gives_a_result_for_each(report: Report) -> None:
    made = of(as_json(report), "gearing.axles")
    assert [(r["kind"], r["properties"]["part"]) for r in made] == [
        ("pass", "driveline.axles.front"),
        ("fail", "driveline.axles.rear"),
    ]
    assert made[1]["locations"][0]["logicalLocations"] == [{"fullyQualifiedName": "driveline.axles.rear"}]
    assert made[1]["message"]["text"].startswith(
        "'driveline.axles.rear': The axle is too long. It wears out early. Found '3.9'"
    )
    assert "wears" not in made[0]["message"]["text"]


def test_each_demand_of_a_rule_is_a_result(report: Report) -> None:
    rated, overspeed = sorted(of(as_json(report), "gearing.demands"), key=lambda r: str(r["kind"]))
    assert (rated["kind"], rated["level"], rated["properties"]["demand"]) == ("fail", "warning", "rated")
    assert (overspeed["kind"], overspeed["level"], overspeed["properties"]["demand"]) == ("open", "none", "overspeed")
    assert rated["message"]["text"].startswith("'engine.speed.rated, rated': It turns too fast.")
    assert rated["partialFingerprints"] != overspeed["partialFingerprints"]


def test_an_open_result_names_what_is_unknown(report: Report) -> None:
    (made,) = of(as_json(report), "gearing.overspeed")
    assert made["properties"]["unknown"] == ["engine.speed.overspeed_max"]
    assert "due" not in made["properties"]


def test_what_is_due_stays_open(report: Report) -> None:
    made = of(as_json(report), "gearing.owed")
    assert [(r["kind"], r["level"], r["properties"]["part"]) for r in made] == [
        ("open", "none", "driveline.axles.front"),
        ("open", "none", "driveline.axles.rear"),
    ]
    assert [(r["properties"]["due"], r["properties"]["usually_passes"]) for r in made] == [(True, True)] * 2
    assert "The answer is due from the plan stage on." in made[0]["message"]["text"]
    assert "wears" not in made[0]["message"]["text"]


def test_a_fail_or_review_carries_the_caution(report: Report) -> None:
    log = as_json(report)
    assert "Caution: Fuel and its vapour burn" in of(log, "fuel.shop")[0]["message"]["text"]
    assert "Caution" not in of(log, "gearing.governed")[0]["message"]["text"]


def test_suppressions_carry_the_justification(report: Report) -> None:
    log = as_json(report)
    (made,) = of(log, "fuel.shop-tyres")
    assert made["suppressions"] == [
        {
            "kind": "inSource",
            "status": "accepted",
            "justification": "It never leaves the yard.",
            "properties": {"by": "the owner", "expires": "2027-01-31"},
        }
    ]
    assert sum(1 for result in results(log) if result["suppressions"]) == 2


def test_hostile_texts_are_neither_placeholders_nor_links(report: Report) -> None:
    (made,) = of(as_json(report), "fuel.shop")
    text = made["message"]["text"]
    assert "Tënder {{0}} [see] (1) № 7." in text
    assert "\n" not in text
    assert made["relatedLocations"][0]["message"]["text"] == "build.name = Tënder {{0}} [see] (1) № 7"


NAMES = st.text(st.characters(codec="utf-8", exclude_categories=["Cc", "Cs"]), min_size=1, max_size=60)


@given(name=NAMES)
@settings(suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_any_name_gives_a_sound_log(folder: Path, name: str) -> None:
    spec = load_text(f"[build]\nname = {json.dumps(name, ensure_ascii=False)}\n", label="spec.toml")
    log = as_json(world.report_of(spec))
    check_log(log)
    (made,) = of(log, "fuel.shop")
    shown = made["relatedLocations"][0]["message"]["text"].replace("{{", "{").replace("}}", "}")
    assert shown == "build.name = " + name.replace("](", "] (")


def test_a_text_that_is_no_unicode_can_be_written() -> None:
    made = world.report_of()
    made.problems.append(Problem("odd \udcff byte", "input"))
    assert "odd ? byte" in dumps(sarif(made)[0])


# -- fingerprints -------------------------------------------------------------------------------------------------
def _prints(log: Json) -> dict[str, tuple[str, str, str]]:
    """Which rule, part and demand each fingerprint stands for."""
    run = log["runs"][0]
    return {
        r["partialFingerprints"]["specFinding/v2"]: (
            rule_of(run, r)["id"],
            r["properties"].get("part", ""),
            r["properties"].get("demand", ""),
        )
        for r in results(log)
    }


def test_fingerprints_tell_results_apart(folder: Path) -> None:
    log = as_json(world.report_of(world.load("spec.toml")))
    assert len(_prints(log)) == len(results(log)) == len(set(_prints(log).values()))
    assert {("gearing.demands", "", "rated"), ("gearing.demands", "", "overspeed")} <= set(_prints(log).values())


def test_fingerprints_stay_when_lines_move_and_values_change(folder: Path) -> None:
    before = _prints(as_json(world.report_of(world.load("spec.toml"))))
    # Other lines, other values, an answer that was missing, a rule that passes now.
    changed = "# moved\n\n\n" + world.SPEC.replace('"3,500 kg"', '"2,700 kg"').replace("3.9", "3.85").replace(
        'rated = "2600 r/min"', 'rated = "2500 r/min"\noverspeed_max = "3100 r/min"'
    )
    world.write_spec(folder, text=changed)
    assert changed != world.SPEC
    assert _prints(as_json(world.report_of(world.load("spec.toml")))) == before
    world.write_spec(folder / "elsewhere", name="other.toml")
    assert _prints(as_json(world.report_of(world.load("elsewhere/other.toml")))) == before


# -- the same input gives the same bytes --------------------------------------------------------------------------
def test_same_bytes_again_and_in_any_order(folder: Path) -> None:
    def text(packs: list[LoadedPack]) -> str:
        return dumps(sarif(world.report_of(world.load("spec.toml"), packs_in=packs))[0])

    turned = [replace(pack, rules=pack.rules[::-1]) for pack in reversed(world.packs())]
    assert text(world.packs()) == text(world.packs()) == text(turned)


def test_nothing_of_this_machine(folder: Path, tmp_path_factory: pytest.TempPathFactory) -> None:
    outside = tmp_path_factory.mktemp("elsewhere")
    world.write_spec(outside, name="far.toml")
    made = world.report_of(world.load(folder / "spec.toml"), world.load(outside / "far.toml"))
    made.problems.append(Problem(f"its results for {outside}/far.toml are missing", "rule", "own", None))
    made.problems.append(Problem("it ended the process", "pack", file=f"{outside}/my secret specs/lost.toml"))
    log = as_json(made)
    check_log(log)
    text = dumps(log)
    assert "A pack (lost.toml): it ended the process." in text
    assert "secret" not in text
    for secret in (str(folder), str(outside), str(Path.home()), socket.gethostname(), f"/{getpass.getuser()}/"):
        if len(secret) > 3:
            assert secret not in text
    files = [place["artifactLocation"] for place in places(log["runs"][0]["results"])]
    uris = {(file["uriBaseId"], file["uri"]) for file in files}
    assert uris == {
        ("SPECROOT", "spec.toml"),
        ("SPECROOT", "sheets/Bauer%20100%25%20%232%20%C3%A4.toml"),
        ("OUTSIDE", "far.toml"),
        ("OUTSIDE", "sheets/Bauer%20100%25%20%232%20%C3%A4.toml"),
    }
    assert dumps(as_json(world.report_of(world.load("spec.toml")))) == dumps(
        as_json(world.report_of(world.load(folder / "spec.toml")))
    )


def test_two_specs_stand_in_one_run(report: Report) -> None:
    log = as_json(report)
    assert len(log["runs"]) == 1
    uris = [r["locations"][0]["physicalLocation"]["artifactLocation"]["uri"] for r in results(log)]
    assert uris.count("spec.toml") == uris.count("my%20specs/a%20%231%2050%25%20%C3%BC%3Ax.toml") == 16


def test_nothing_found_is_an_empty_list() -> None:
    log = as_json(world.report_of())
    assert results(log) == []
    assert log["runs"][0]["invocations"][0]["executionSuccessful"] is True


def test_standard_input_has_a_name(folder: Path) -> None:
    log = as_json(world.report_of(load_spec("-", stdin=world.SPEC.encode())))
    check_log(log)
    run = log["runs"][0]
    assert run["artifacts"][0]["location"]["uri"] == "standard-input.toml"
    assert run["artifacts"][0]["roles"] == ["analysisTarget", "standardStream"]
    assert run["invocations"][0]["stdin"]["index"] == 0


# -- trouble ------------------------------------------------------------------------------------------------------
def test_trouble_stands_in_notifications(report: Report) -> None:
    run = as_json(report)["runs"][0]
    (invocation,) = run["invocations"]
    broken = [n for n in invocation["toolExecutionNotifications"] if "boom on 272" in n["message"]["text"]]
    assert [n["associatedRule"]["id"] for n in broken] == ["gearing.broken"] * 2
    assert {n["level"] for n in invocation["toolExecutionNotifications"]} == {"warning"}
    unsound = [n for n in invocation["toolExecutionNotifications"] if "soundly" in n["message"]["text"]]
    assert "associatedRule" not in unsound[0]
    shop = [n for n in invocation["toolExecutionNotifications"] if "shop.py, line 7" in n["message"]["text"]]
    assert shop[0]["associatedRule"] == {"id": "fuel.shop", "index": 0, "toolComponent": {"index": 0}}
    unread, pack = invocation["toolConfigurationNotifications"]
    assert unread["level"] == "error"
    assert unread["locations"][0]["physicalLocation"]["region"] == {"startLine": 3, "startColumn": 2}
    assert unread["message"]["text"] == "gone.toml: is not valid TOML: invented."
    assert pack["message"]["text"] == "Pack 'lost' (pack.py): could not be loaded: pack.py is missing."
    assert invocation["executionSuccessful"] is False


@pytest.mark.parametrize("profile", ["whole", "code-scanning"])
@pytest.mark.parametrize(
    "problem",
    [
        Problem("cannot be read", "input", file="gone.toml"),
        Problem("could not be loaded", "pack", "lost"),
        Problem("the rule raised ValueError", "rule", "own", "mass.plated"),
    ],
    ids=lambda problem: str(problem.about),
)
def test_a_run_in_which_something_broke_is_no_success(folder: Path, profile: str, problem: Problem) -> None:
    sound = [replace(pack, rules=[r for r in pack.rules if r.id != "gearing.broken"]) for pack in world.packs()]
    made = world.report_of(world.load("spec.toml"), packs_in=sound)
    (invocation,) = as_json(made, profile=profile)["runs"][0]["invocations"]
    assert invocation == {
        "executionSuccessful": True,
        "toolExecutionNotifications": [],
        "toolConfigurationNotifications": [],
    }
    made.problems.append(problem)
    log = as_json(made, profile=profile)
    check_log(log)
    (invocation,) = log["runs"][0]["invocations"]
    assert invocation["executionSuccessful"] is False
    (said,) = invocation["toolExecutionNotifications"] + invocation["toolConfigurationNotifications"]
    assert problem.what in said["message"]["text"]
    assert said["level"] == ("error" if problem.about == "input" else "warning")
    # What ran all the same is reported.
    assert results(log)
