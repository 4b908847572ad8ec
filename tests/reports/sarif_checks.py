"""What must hold of every SARIF log, and no public checker looks at: section numbers are those of SARIF 2.1.0."""

from __future__ import annotations

import re
from typing import Any

Json = dict[str, Any]

# RFC 3986, section 3.3: a relative reference of path segments, colons encoded
RELATIVE = re.compile(
    r"(?:[A-Za-z0-9._~!$&'()*+,;=@-]|%[0-9A-F]{2})+(?:/(?:[A-Za-z0-9._~!$&'()*+,;=@:-]|%[0-9A-F]{2})+)*"
)


def places(node: Any) -> list[Json]:
    """Every physicalLocation in a log."""
    found = [node["physicalLocation"]] if isinstance(node, dict) and "physicalLocation" in node else []
    children = node.values() if isinstance(node, dict) else node if isinstance(node, list) else []
    return found + [place for child in children for place in places(child)]


def component(run: Json, reference: Json) -> Json:
    """The tool component that a reference to a rule names (3.52.7)."""
    where = reference.get("toolComponent")
    made: Json = run["tool"]["extensions"][where["index"]] if where else run["tool"]["driver"]
    return made


def rule_of(run: Json, result: Json) -> Json:
    """The descriptor of a result's rule, by index; its id must be the one that the result names (3.27.5–7)."""
    if "rule" in result:
        assert "ruleId" not in result
        assert "ruleIndex" not in result
        reference = result["rule"]
    else:
        reference = {"id": result["ruleId"], "index": result["ruleIndex"]}
    made: Json = component(run, reference)["rules"][reference["index"]]
    assert made["id"] == reference["id"]
    return made


def expanded(template: str, arguments: list[str]) -> str:
    """A template with its arguments, braces of the text itself doubled (3.11.5)."""
    return re.sub(r"\{(\d+)\}", lambda m: arguments[int(m.group(1))].replace("{", "{{").replace("}", "}}"), template)


def check_log(log: Json) -> None:
    """Check a whole log."""
    assert log["version"] == "2.1.0"
    (run,) = log["runs"]
    assert run["columnKind"] == "unicodeCodePoints"  # 3.14.27
    assert isinstance(run["results"], list)  # 3.14.23
    _check_tool(run)
    _check_places(run, log)
    for result in run["results"]:
        _check_result(run, result)
    _check_fingerprints(run)
    for name in ("suppressions", "baselineState"):  # 3.27.23, 3.27.24: on all or on none
        assert len({name in result for result in run["results"]}) <= 1, name
    order = [(_start(r)[0], _start(r)[1], _start(r)[2], rule_of(run, r)["id"]) for r in run["results"]]
    assert order == sorted(order)
    _check_notifications(run)
    assert "Time" not in " ".join(_keys(log))  # appendix F: nothing that differs from run to run
    assert not {"machine", "account", "workingDirectory", "guid", "commandLine"} & set(_keys(log))


def _keys(node: Any) -> list[str]:
    if isinstance(node, dict):
        return [*node, *(key for child in node.values() for key in _keys(child))]
    return [key for child in node for key in _keys(child)] if isinstance(node, list) else []


def _start(result: Json) -> tuple[str, int, int]:
    where = result["locations"][0]["physicalLocation"]
    return where["artifactLocation"]["uri"], where["region"]["startLine"], where["region"]["startColumn"]


def _check_tool(run: Json) -> None:
    (taxonomy,) = run["taxonomies"]
    ids = [taxon["id"] for taxon in taxonomy["taxa"]]
    assert ids == sorted(set(ids))
    components = [run["tool"]["driver"], *run["tool"].get("extensions", [])]
    for made in components:
        rules = made["rules"]
        assert [rule["id"] for rule in rules] == sorted({rule["id"] for rule in rules})
        for rule in rules:
            assert re.fullmatch(r"[A-Z][A-Za-z0-9]*", rule["name"])  # 3.49.7
            assert rule["name"] != rule["id"]
            for text in ("shortDescription", "fullDescription"):
                assert 0 < len(rule[text]["text"]) <= 1024
            assert rule["help"]["text"]
            assert rule["help"]["markdown"]
            assert rule["defaultConfiguration"]["level"] in ("error", "warning", "note")
            assert rule["relationships"]
            for relation in rule["relationships"]:
                target = relation["target"]
                assert target["toolComponent"] == {"name": taxonomy["name"]}
                assert ids[target["index"]] == target["id"]
    for result in run["results"]:
        cited = [taxon["id"] for taxon in result.get("taxa", [])]
        assert cited == [ids[taxon["index"]] for taxon in result.get("taxa", [])]
        # 3.27.8: each once, and not again what the rule's descriptor relates to
        assert len({*cited, *(r["target"]["id"] for r in rule_of(run, result)["relationships"])}) == (
            len(cited) + len(rule_of(run, result)["relationships"])
        )


def _check_places(run: Json, log: Json) -> None:
    for artifact in run["artifacts"]:
        assert run["artifacts"][artifact["location"]["index"]] is artifact
        assert artifact["roles"]
        assert artifact.get("encoding") == (None if "not be read" in artifact["description"]["text"] else "UTF-8")
    for place in places(log):
        location = place["artifactLocation"]
        assert RELATIVE.fullmatch(location["uri"]), location["uri"]
        own = [
            artifact["location"] for artifact in run["artifacts"] if location.items() <= artifact["location"].items()
        ]
        assert len(own) == 1
        assert location["uriBaseId"] in run["originalUriBaseIds"]
    assert not any("uri" in base for base in run["originalUriBaseIds"].values())


def _check_fingerprints(run: Json) -> None:
    """Each result on a spec has one of its own; what is solved has that of what stands there now, if anything does."""
    standing = [r for r in run["results"] if r.get("baselineState") != "absent"]
    prints = [(_start(r)[0], r["partialFingerprints"]["specFinding/v2"]) for r in standing]
    assert len(set(prints)) == len(prints)


def spelled_out(run: Json, related: Json) -> Json:
    """A related location with its field in the place of its number (3.33.3), its end line stated (3.30.7)."""
    physical = related["physicalLocation"]
    file, region = physical["artifactLocation"], physical["region"]
    (field,) = related["logicalLocations"]
    if "fullyQualifiedName" not in field:
        field = run["logicalLocations"][field["index"]]
    region = {"endLine": region["startLine"], **region}
    return {**related, "physicalLocation": {"artifactLocation": file, "region": region}, "logicalLocations": [field]}


def _check_result(run: Json, result: Json) -> None:
    rule = rule_of(run, result)
    if result["kind"] == "fail":  # 3.27.9, 3.27.10
        assert result["level"] in ("error", "warning", "note")
    else:
        assert result["level"] == "none"
        assert result["kind"] in ("review", "open", "pass", "notApplicable", "informational")
    assert "rank" not in result
    if result["properties"].get("due"):  # an open answer; where every result is an alert, one at its rule's level
        level = rule["defaultConfiguration"]["level"]
        assert (result["kind"], result["level"]) in (("open", "none"), ("fail", level))
        assert result["properties"]["unknown"]
    said = result["message"]
    assert said["text"] == expanded(rule["messageStrings"][said["id"]]["text"], said["arguments"])
    (location,) = result["locations"]  # 3.27.12: more than one only where each must change
    for made in (location, *result.get("relatedLocations", [])):
        where = made["physicalLocation"]["region"]
        end_line = where.get("endLine", where["startLine"])  # 3.30.7
        assert (1, 1) <= (where["startLine"], where["startColumn"]) < (end_line, where["endColumn"])
    for made in result.get("relatedLocations", []):
        spelled = spelled_out(run, made)
        (field,) = spelled["logicalLocations"]
        assert made["message"]["text"].startswith(f"{field['fullyQualifiedName']} = ".replace("{", "{{"))
    assert re.fullmatch(r"[0-9a-f]{64}", result["partialFingerprints"]["specFinding/v2"])
    assert "fingerprints" not in result  # 3.27.16
    assert result["properties"]["stage"] in ("idea", "plan", "quote", "build", "commission")


def _check_notifications(run: Json) -> None:
    (invocation,) = run["invocations"]
    known = run["tool"]["driver"]["notifications"]
    configuration = invocation["toolConfigurationNotifications"]
    execution = invocation["toolExecutionNotifications"]
    for made in (*configuration, *execution):
        assert known[made["descriptor"]["index"]]["id"] == made["descriptor"]["id"]
        if "associatedRule" in made:
            reference = made["associatedRule"]
            assert component(run, reference)["rules"][reference["index"]]["id"] == reference["id"]
    # 3.20.21, 3.20.22: an error means that the run failed. Here a rule or pack that broke does so, too: a gate is open
    # only if every rule ran. A deviation that accepts nothing shuts the gate, but everything ran.
    failed = [made for made in (*configuration, *execution) if made["descriptor"]["id"] != "trouble.gate"]
    assert invocation["executionSuccessful"] is not bool(failed)
