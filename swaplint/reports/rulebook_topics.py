"""A rule's page as headed topics, in the order in which a person reads them: what text and Markdown have in common."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from swaplint.declare.rule import Rule
from swaplint.declare.sources import Source
from swaplint.declare.versions import version_key
from swaplint.reports.naming import KNOWN_WORDS, gives_words, listed, title_words
from swaplint.reports.rulebook_page import FieldEntry, Page, choice_words, example_words, pack_words, typical_words
from swaplint.spec.facts import NONE_TOO
from swaplint.units.output import unit_shown
from swaplint.units.prose import told

LEVEL_WORDS = {"error": "an error", "warning": "a warning", "note": "a note"}


@dataclass(frozen=True, slots=True)
class Row:
    """One thing of several under a heading."""

    name: str
    """A field path, an id, a citation."""
    right: str = ""
    """What stands beside it in a few words."""
    notes: tuple[str, ...] = ()
    code: bool = True
    """Whether the name is a field path, an id or TOML, and not words."""


@dataclass(frozen=True, slots=True)
class Topic:
    """A heading with what stands under it."""

    heading: str
    paragraphs: tuple[str, ...] = ()
    rows: tuple[Row, ...] = ()


def heads(page: Page) -> list[str]:
    """What stands under the question: level, due stage, pack, earlier ids."""
    rule = page.rule
    lines = [
        f"A fail is {LEVEL_WORDS[rule.level]}, unless the limit below says otherwise.",
        f"Due from the {rule.due} stage on: what is still open then is owed, and shuts the gate as a fail would.",
        *(
            f"Of that, {name} is due from the {stage} stage on: nobody can answer it before."
            for name, stage in rule.later
        ),
        f"Pack {pack_words(page.pack)}.",
    ]
    if rule.aliases:
        lines.append(f"Earlier ids: {', '.join(rule.aliases)}.")
    if page.asked != rule.id:
        lines.append(f"{page.asked} is an earlier id of this rule.")
    return lines


def topics(page: Page) -> list[Topic]:
    """All topics that hold something."""
    rule = page.rule
    paragraphs = {label: told(text, rule.id) for label, text in rule.texts[1].items()}
    found = [
        Topic("What it computes", (_sentence(paragraphs["Computes"]),)),
        Topic(
            "The limit",
            (_sentence(paragraphs["Limit"]), *_no_error(rule)),
            tuple(_source(source, rule.id) for source in rule.sources),
        ),
        Topic(
            _FALLBACKS,
            ("Each may stand in for a value that nobody states, and is then named in the result.",),
            tuple(
                Row(
                    told(practice.name, rule.id),
                    notes=(
                        _citation(practice.source, rule.id),
                        *(("A person must decide on a pass with it.",) if practice.review else ()),
                        *((_BETWEEN,) if practice.between else ()),
                    ),
                    code=False,
                )
                for practice in rule.fallbacks
            ),
        ),
        Topic("What goes wrong if it stays", (_sentence(paragraphs["Consequence"]),)),
        Topic("What to do about it", (_sentence(paragraphs["Remedy"]),)),
        Topic("What may be chosen", (), tuple(_choice(entry) for entry in page.adjust)),
        Topic("Take care", tuple(told(caution, rule.id) for caution in rule.cautions)),
        Topic("What it cannot tell", (_sentence(paragraphs["Cannot tell"]),)),
        Topic("What it reads", (), tuple(_input(entry) for entry in page.inputs)),
        Topic("What it can do without", (), tuple(_silences(page))),
        Topic(
            "What it is computed from",
            (),
            tuple(
                Row(
                    quantity.id,
                    unit_shown(quantity.kind, quantity.unit, quantity.id) or "pure number",
                    (
                        _sentence(quantity.title),
                        f"Formula: {quantity.formula}",
                        *(_citation(source, quantity.id) for source in quantity.sources),
                    ),
                )
                for quantity in page.quantities
            ),
        ),
        Topic("What changed", (), tuple(Row(v, "", (_sentence(what),), code=False) for v, what in newest_first(rule))),
        Topic("Examples: edits to the sound spec", (), _examples(page)),
    ]
    return [topic for topic in found if topic.rows or (topic.paragraphs and topic.heading != _FALLBACKS)]


_FALLBACKS = "Common-practice fallbacks"


_BETWEEN = "An error that turns within what is found in practice of it is none: a person decides."


def _no_error(rule: Rule) -> Iterable[str]:
    """What is said of limits that are known from memory alone, where they would make errors."""
    if rule.level != "error":
        return
    limits = [source for source in rule.sources if source.gives == "limit"]
    by_demands: dict[tuple[str, ...], list[Source]] = {}
    for source in limits:
        by_demands.setdefault(source.demands, []).append(source)
    for demands, sources in by_demands.items():
        if all(source.known == "from memory" for source in sources):
            what = f"of the {_demands(demands)}" if demands else "where no other source gives it"
            law = any(source.kind == "regulation" for source in sources)
            ends = "what would be an error stays open until somebody looks it up" if law else "a person decides instead"
            yield f"The limit {what} is known from memory only, which makes no error: {ends}."


def newest_first(rule: Rule) -> list[tuple[str, str]]:
    """The versions since which a rule judges otherwise, each with what changed."""
    return sorted(rule.changed, key=lambda change: version_key(change[0]), reverse=True)


def _demands(names: Sequence[str]) -> str:
    return f"demand{'s' if len(names) > 1 else ''} {listed(names)}"


def _source(source: Source, about: str) -> Row:
    clause = f", {source.clause}" if source.clause else ""
    name = f"{source.title}: {source.field}" if source.field else f"{title_words(source, about)}{clause}"
    kind = "" if source.kind == source.known else source.kind.replace("-", " ")
    gives = (_sentence(gives_words(source, about)),) if gives_words(source) else ()
    known = f"Known: {KNOWN_WORDS[source.known]}."
    if source.demands:
        known = f"The limit of the {_demands(source.demands)}. {known}"
    return Row(name, kind, (*gives, known), code=False)


def _citation(source: Source, about: str) -> str:
    """A source on a line of its own, under what it gives."""
    row = _source(source, about)
    kind = f" ({row.right})" if row.right else ""
    return f"Source: {row.name}{kind}. {' '.join(row.notes)}"


def _choice(entry: FieldEntry) -> Row:
    choices = (f"What can be had is listed in {entry.facts.choices}.",) if entry.facts.choices else ()
    return Row(
        entry.path, "", (_sentence(told(entry.facts.description, entry.path)), _sentence(choice_words(entry)), *choices)
    )


def _silences(page: Page) -> Iterator[Row]:
    """Why a pass does not hang on some fields that nobody need state; each once."""
    rows: dict[Row, None] = {}
    for silence in page.silence:
        rows.update(dict.fromkeys(Row(field, notes=(told(why, page.rule.id),)) for field, why in silence.without))
        rows.update(
            dict.fromkeys(
                Row(field, notes=(f"Where it is not stated, {' or '.join(others)} takes its place.",))
                for field, others in silence.instead
            )
        )
    yield from rows


def _input(entry: FieldEntry) -> Row:
    facts = entry.facts
    options = (f"One of {', '.join(facts.options)}.",) if facts.options else ()
    where = (f"Normally from {facts.where}.",) if facts.where else ()
    none = (f"{NONE_TOO[:1].upper()}{NONE_TOO[1:]}.",) if facts.limit else ()
    estimated = (
        f"Where it is not stated, {way.estimate.id} estimates it within {way.estimate.within} from "
        f"{listed(way.measure)}."
        for way in entry.estimates
    )
    says = _sentence(told(facts.description, entry.path))
    return Row(entry.path, f"like {typical_words(entry)}", (says, *options, *none, *where, *estimated))


def _examples(page: Page) -> tuple[Row, ...]:
    bad = "fails" if page.rule.bad_ends == "fail" else "a person must decide"
    rows = [Row(_edits(edits), bad) for edits in page.rule.bad]
    return (*rows, *(Row(_edits(edits), "passes") for edits in page.rule.good))


def _edits(edits: Mapping[str, Any]) -> str:
    return ", ".join(f"{path} = {example_words(value)}" for path, value in edits.items()) or "the sound spec as it is"


def _sentence(text: str) -> str:
    text = text[:1].upper() + text[1:]
    return text if text.endswith((".", "?", "!")) else text + "."
