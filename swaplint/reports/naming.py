"""How reports name things: parts, places, packs, sources, and fields that nobody has stated yet."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from swaplint.declare.sources import Source
from swaplint.host.packs import LoadedPack
from swaplint.inspecting.results import Ask, Inspection, Suppression, sheet_citation
from swaplint.inspecting.ways import ways_to
from swaplint.spec.fields import Part, Section
from swaplint.spec.job import STAGES
from swaplint.spec.loaded import LoadedSpec
from swaplint.spec.shape import members, pattern_at
from swaplint.spec.where import whom_for
from swaplint.units.prose import told


def part_words(part: str) -> str:
    """A part's path, two of one list, or a part and a name.

    >>> part_words("gearbox.ratios[1] gearbox.ratios[2]"), part_words("load_cases.laden front")
    ('gearbox.ratios[1] to [2]', 'load_cases.laden, front')
    """
    first, *others = part.split(" ")
    base = first.split("[", 1)[0]
    return first + "".join(f" to {o.removeprefix(base)}" if o.startswith(base + "[") else f", {o}" for o in others)


def place_words(spec: LoadedSpec, file: str, line: int, last: int = 0) -> str:
    """Where something is written: a line of the spec or of a data sheet, or a stretch of lines."""
    return _in_file(spec, file, f"lines {line} to {last}" if last > line else f"line {line}")


def lines_words(spec: LoadedSpec, file: str, lines: Iterable[int]) -> str:
    """Every line of several, in the spec or in a data sheet."""
    numbers = sorted(set(lines))
    return _in_file(spec, file, f"{'lines' if len(numbers) > 1 else 'line'} {ranges(numbers)}")


def _in_file(spec: LoadedSpec, file: str, words: str) -> str:
    return words if file == spec.label else f"{file.rsplit('/', 1)[-1]}, {words}"


def ranges(numbers: Sequence[int]) -> str:
    """Sorted numbers, those that follow each other as a range.

    >>> ranges([3, 5, 6, 7])
    '3, 5-7'
    """
    out: list[str] = []
    start = previous = numbers[0]
    for number in [*numbers[1:], -1]:
        if number == previous + 1:
            previous = number
            continue
        out.append(str(start) if start == previous else f"{start}-{previous}")
        start = previous = number
    return ", ".join(out)


def listed(words: Sequence[str]) -> str:
    """Words as a sentence lists them.

    >>> listed(["a", "b", "c"])
    'a, b and c'
    """
    return f"{', '.join(words[:-1])} and {words[-1]}" if len(words) > 1 else "".join(words)


def counted(number: int, one: str, several: str = "") -> str:
    """A number with its noun.

    >>> counted(1, "rule"), counted(3, "rule")
    ('1 rule', '3 rules')
    """
    return f"{number} {one if number == 1 else several or one + 's'}"


def packs_words(packs: Iterable[LoadedPack]) -> str:
    """The packs that took part; the built-in ones together."""
    built_in: list[str] = []
    others: list[str] = []
    for pack in packs:
        if not pack.built_in:
            others.append(f"the pack {pack.name} {pack.version}")
        elif pack.version not in built_in:
            built_in.append(pack.version)
    return listed([*(f"the built-in rules {version}" for version in built_in), *others]) or "no rule pack"


# -- what was signed for ------------------------------------------------------------------------------------------
def signature_words(made: Suppression, spec: LoadedSpec) -> str:
    """Who accepted a result, up to which value, until when and why, and where that is written."""
    up_to = f"up to {made.up_to}, " if made.up_to else ""
    last = f"the {made.expires} stage" if made.expires in STAGES else made.expires
    where = f" ({place_words(spec, made.place.file, made.place.line)})" if made.place is not None else ""
    return f"{up_to}until {last}, by {made.by} on {made.date}: {made.justification}{where}"


# -- sources -----------------------------------------------------------------------------------------------------
def citations(inspection: Inspection, sources: Iterable[Source], about: str = "") -> list[str]:
    """Sources of a rule or quantity, by its id, as citations, what one document states together."""
    together: dict[tuple[str, str | None], list[tuple[str, int]]] = {}
    for source in sources:
        if not source.field:
            together[citation(source, about), ""] = []
            continue
        title, place = sheet_citation(inspection, source)
        key = title, None if place is None else place.file
        together.setdefault(key, []).append((source.field, 0 if place is None else place.line))
    out = []
    for (title, file), fields in together.items():
        names = listed(list(dict.fromkeys(name for name, _ in fields)))
        if not fields:
            out.append(title)
        elif file is None:
            out.append(f"{title}: {names}, not stated")
        else:
            out.append(f"{title}: {names}, {lines_words(inspection.spec, file, [line for _, line in fields])}")
    return out


def title_words(source: Source, about: str) -> str:
    """The title of a document as it is; a fact of the trade, which is a sentence, in the units in force."""
    return told(source.title, about) if source.kind == "common-practice" else source.title


def citation(source: Source, about: str = "") -> str:
    """A document as a citation, with what kind it is and how its number is known."""
    clause = f", {source.clause}" if source.clause else ""
    kind = source.kind.replace("-", " ")
    known = "" if source.known in (source.kind, "published") else f", {source.known}"
    gives = f"; {source.gives}: {told(source.what, about)}" if source.what and source.gives else ""
    return f"{title_words(source, about)}{clause} ({kind}{known}{gives})"


KNOWN_WORDS = {
    "published": "published, read in the document itself",
    "second-hand": "second-hand, read in another text that states it",
    "data-sheet": "as the build or its data sheet states it",
    "common-practice": "common practice of the trade",
    "from memory": "from memory; read it in the document before relying on it",
}
"""How a number is known, in words."""


def gives_words(source: Source, about: str = "") -> str:
    """Which number a source gives; empty where it is cited as a document and no more.

    >>> from swaplint.declare.sources import book
    >>> gives_words(book("A handbook of pipes").giving("formula", "pressure loss of pipe flow"))
    'gives the formula: pressure loss of pipe flow'
    """
    if not source.gives:
        return told(source.what, about)
    return f"gives the {source.gives}" + (f": {told(source.what, about)}" if source.what else "")


# -- fields ------------------------------------------------------------------------------------------------------
def asked_for(inspection: Inspection, ask: Ask) -> tuple[str, str]:
    """What a field or part to find out is, as sentences, and where most of it is found; each may be empty."""
    if ask.description:
        return told(_sentence(ask.description), ask.field), ask.where
    _, member = pattern_at(type(inspection.spec.build), ask.field)
    if member is None or member.model is None:
        return "", ask.where
    says = told(_sentence(member.description), ask.field)
    if member.role == "parts":
        says += f" Write a table for each, [{ask.field}.NAME]."
    elif member.role == "items":
        says += f" A list; each entry with {listed(list(_own(member.model))[:4])}."
    elif issubclass(member.model, Part):
        says += " Describe it, or write fitted = false where there is none."
    else:
        says += " Describe it."
    found = Counter(where for where in _own(member.model).values() if where)
    return says, ask.where or (found.most_common(1)[0][0] if found else "")


def whom_to_ask(inspection: Inspection, path: str, where: str) -> tuple[str | None, str | None]:
    """Whom to ask for a field that is found in a place: one of `WHOM`, and the name of a place's office.

    Each is None where that is not known.
    """
    whom = whom_for(where)
    start, _, rest = path.partition("build.places.")
    named = inspection.stated(f"build.places.{rest.partition('.')[0]}.authority") if rest and not start else None
    return whom, str(named.value) if whom == "authority" and named is not None else None


def estimates_words(inspection: Inspection, path: str) -> list[str]:
    """A sentence for each way to estimate a field that nobody knows: how closely, and what to measure for it."""
    return [
        f"Or {way.estimate.title[:1].lower()}{way.estimate.title[1:]}, within {way.estimate.within}: "
        f"measure {listed(way.measure)} ({way.estimate.id})."
        for way in ways_to(inspection.spec, path)
    ]


def _own(model: type[Section]) -> dict[str, str]:
    """The plain fields of a section with where each is found, without those that every part has."""
    every = members(Part) if issubclass(model, Part) else {}
    return {name: member.facts.where for name, member in members(model).items() if member.facts and name not in every}


def _sentence(text: str) -> str:
    text = text[:1].upper() + text[1:]
    return text if text.endswith((".", "?", "!")) else text + "."
