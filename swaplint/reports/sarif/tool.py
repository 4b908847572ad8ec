"""The tool as SARIF describes it: rules, packs, cited sources, and the kinds of trouble."""

from __future__ import annotations

import functools
import hashlib
from collections.abc import Iterable, Sequence
from typing import Any
from urllib.parse import quote

from swaplint.declare.cautions import CLOSING
from swaplint.declare.rule import PARAGRAPHS, Rule
from swaplint.declare.sources import Source
from swaplint.host.packs import LoadedPack
from swaplint.reports.naming import KNOWN_WORDS, gives_words
from swaplint.reports.sarif.texts import LONGEST_NAME, escaped, literal, sentence, shortened

Json = dict[str, Any]

NAME = "swaplint"
ABOUT = "Checks a declarative engine-swap build spec."
# Consumers ask for an address that tells of the tool. It has no page of its own: this one carries its text itself
# (RFC 2397) and is to give way to a page as soon as there is one.
ADDRESS = "data:text/plain," + quote(f"{NAME}. {ABOUT} '{NAME} rulebook' lists the rules and explains each.")
TAXONOMY = "CitedSources"
TEMPLATES = {
    "number": "'{0}': {1}. Found '{2}', allowed '{3}'.",
    "found": "'{0}': {1}. Found '{2}'.",
    "words": "'{0}': {1}.",
}
"""The texts of results: what it is about, what is to say, what was found, what is allowed."""

TROUBLE = {
    "input": ("InputTrouble", "A build spec, a data sheet or the call could not be read."),
    "pack": ("PackTrouble", "A rule pack could not be loaded; its rules did not run."),
    "rule": ("RuleTrouble", "A rule is not declared soundly or broke; its results are missing."),
    "gate": ("GateTrouble", "A deviation accepts nothing, or a pack that the policy asks for is not there."),
}
"""The kinds of trouble, by what it is about: a name, and what it means."""


class Tool:
    """All that stands in `run.tool` and `run.taxonomies`, and where each of it stands."""

    def __init__(self, version: str, packs: Sequence[LoadedPack], cited: Iterable[Source]) -> None:
        """`packs` are all packs to describe; `cited` are sources that results cite beyond those of their rules."""
        self.version = version
        self.own = sorted((r for p in packs if p.built_in for r in p.rules), key=lambda rule: rule.id)
        self.packs = sorted((p for p in packs if not p.built_in), key=lambda pack: pack.name)
        self._where: dict[str, tuple[int | None, int]] = {r.id: (None, i) for i, r in enumerate(self.own)}
        for number, pack in enumerate(self.packs):
            for index, rule in enumerate(_rules(pack)):
                self._where[rule.id] = number, index
        self._taxa: dict[str, list[Source]] = {}
        for source in (*(s for pack in packs for rule in pack.rules for s in rule.sources), *cited):
            self._taxa.setdefault(source_id(source), []).append(source)
        self._taxon_index = {id: index for index, id in enumerate(sorted(self._taxa))}

    # -- where things stand ------------------------------------------------------------------------------------
    def result_rule(self, id: str) -> Json:
        """How a result names its rule."""
        extension, index = self._where[id]
        return {"ruleId": id, "ruleIndex": index} if extension is None else {"rule": self.rule(id)}

    def rule(self, id: str | None) -> Json | None:
        """A reference to a rule; None where the log does not describe it."""
        if id not in self._where:
            return None
        extension, index = self._where[id]
        reference: Json = {"id": id, "index": index}
        if extension is not None:
            reference["toolComponent"] = {"index": extension}
        return reference

    def taxon(self, source: Source) -> Json:
        """A reference to a cited source."""
        id = source_id(source)
        return {"id": id, "index": self._taxon_index[id], "toolComponent": {"name": TAXONOMY}}

    def taxa_beyond(self, rule: Rule, sources: Iterable[Source]) -> list[Json]:
        """References to the documents among some sources that a rule does not cite itself, each once."""
        own = {source_id(source) for source in rule.sources}
        others = {id: source for source in sources if (id := source_id(source)) not in own}
        return [self.taxon(source) for source in others.values()]

    # -- the components ----------------------------------------------------------------------------------------
    def tool(self) -> Json:
        """The driver with the built-in rules, and each other pack as an extension."""
        driver: Json = {
            "name": NAME,
            "version": self.version,
            "semanticVersion": self.version,
            "informationUri": ADDRESS,
            "shortDescription": _text(ABOUT),
            "fullDescription": _text(f"{ABOUT} {CLOSING}"),
            "rules": [self._descriptor(rule) for rule in self.own],
            "notifications": [_trouble(about) for about in TROUBLE],
            "supportedTaxonomies": [{"name": TAXONOMY}],
        }
        extensions = [
            {
                "name": pack.name,
                "version": pack.version,
                "shortDescription": _text(f"Rule pack '{pack.name}'."),
                "fullDescription": _text(f"Rule pack '{pack.name}', which is not part of {NAME}."),
                "rules": [self._descriptor(rule) for rule in _rules(pack)],
                "supportedTaxonomies": [{"name": TAXONOMY}],
            }
            for pack in self.packs
        ]
        return {"driver": driver, "extensions": extensions} if extensions else {"driver": driver}

    def taxonomy(self) -> Json:
        """The cited sources."""
        return {
            "name": TAXONOMY,
            "version": self.version,
            "shortDescription": _text("Sources that the rules cite."),
            "fullDescription": _text("Sources of limits and formulas, and how each number is known."),
            "isComprehensive": True,
            "taxa": [_taxon(id, self._taxa[id]) for id in sorted(self._taxa)],
        }

    def _descriptor(self, rule: Rule) -> Json:
        question, paragraphs = rule.texts
        text, markdown = _help(rule)
        references = {source_id(source): self.taxon(source) for source in rule.sources}
        out: Json = {
            "id": rule.id,
            "name": shortened(rule.name, LONGEST_NAME),
            "shortDescription": _text(question),
            "fullDescription": _text(f"{question} Computes: {paragraphs['Computes']}"),
            "help": {"text": literal(text), "markdown": escaped(markdown)},
            "messageStrings": {id: {"text": template} for id, template in TEMPLATES.items()},
            "defaultConfiguration": {"level": rule.level},
            "relationships": [{"target": references[id], "kinds": ["relevant"]} for id in sorted(references)],
            "properties": {"due": rule.due, "system": rule.system},
        }
        if rule.aliases:
            out["deprecatedIds"] = sorted(set(rule.aliases))
        return out


def trouble_id(about: str) -> str:
    """The id of a kind of trouble."""
    return f"trouble.{about}"


def _trouble(about: str) -> Json:
    name, what = TROUBLE[about]
    return {
        "id": trouble_id(about),
        "name": name,
        "shortDescription": _text(what),
        "fullDescription": _text(f"{what} This is trouble with the tool or its input, not a finding."),
        "help": _text("The message says what went wrong, and where: in which file, pack or rule."),
    }


def citation(source: Source) -> str:
    """A source as people cite it."""
    return ", ".join(piece for piece in (source.title, source.clause, source.field) if piece)


@functools.lru_cache(4096)
def source_id(source: Source) -> str:
    """An id for a cited source that stays the same as long as the source is the same."""
    return f"{source.kind}-{digest(source.kind, source.title, source.clause, source.field)[:12]}"


def digest(*pieces: str) -> str:
    """A hash of several texts."""
    return hashlib.sha256("\0".join(pieces).encode("utf-8", "replace")).hexdigest()


def _rules(pack: LoadedPack) -> list[Rule]:
    return sorted(pack.rules, key=lambda rule: rule.id)


def _text(text: str) -> Json:
    return {"text": literal(shortened(sentence(text)))}


def _taxon(id: str, sources: list[Source]) -> Json:
    source = sources[0]
    known = ", ".join(sorted({s.known for s in sources}))
    return {
        "id": id,
        "name": shortened(citation(source), LONGEST_NAME),
        "shortDescription": _text(citation(source)),
        "fullDescription": _text(f"{citation(source)} ({source.kind}). How the number is known: {known}."),
    }


def _source_words(source: Source) -> str:
    says = (f"{citation(source)} ({source.kind})", gives_words(source), f"known: {KNOWN_WORDS[source.known]}")
    return "; ".join(words for words in says if words) + "."


def _help(rule: Rule) -> tuple[str, str]:
    question, paragraphs = rule.texts
    lines = [(label, paragraphs[label]) for label in PARAGRAPHS if label in paragraphs]
    lines.append(("Missing information", f"the result is open; from the '{rule.due}' stage on the answer is due."))
    lines += [("Source", _source_words(source)) for source in rule.sources]
    lines += [("Caution", text) for text in rule.cautions]
    lines.append(("Note", CLOSING))
    plain = "\n\n".join((question, *(f"{label}: {text}" for label, text in lines)))
    marked = "\n\n".join((question, *(f"**{label}:** {text}" for label, text in lines)))
    return plain, marked
