"""The interface for rule authors: everything that a rule pack imports from swaplint.

This interface has a version, `INTERFACE`. Within one version names are added, never changed or taken away.
"""

from swaplint import cautions
from swaplint.engineering import ImpossibleInput, OutsideRange
from swaplint.host.hooks import INTERFACE, Pack, hookimpl, quantities_in, rules_in
from swaplint.nodes import Value
from swaplint.numbers import shown
from swaplint.quantities import Quantity, quantity
from swaplint.rule import SYSTEMS, Rule, rule
from swaplint.sources import Source, book, owner, practice, regulation, sheet, standard
from swaplint.spec import fields
from swaplint.spec.fields import Part, Section
from swaplint.spec.model import Build
from swaplint.stated import declared_fields, stated_values, value_at
from swaplint.verdicts import (
    Verdict,
    all_of,
    at_least,
    at_most,
    does_not_apply,
    holds,
    informs,
    needs_review,
    within,
)
from swaplint.view import Practice, each_of, given, is_fitted, name_of, or_practice, path_of, section_of, use_practice

__all__ = [
    "INTERFACE",
    "SYSTEMS",
    "Build",
    "ImpossibleInput",
    "OutsideRange",
    "Pack",
    "Part",
    "Practice",
    "Quantity",
    "Rule",
    "Section",
    "Source",
    "Value",
    "Verdict",
    "all_of",
    "at_least",
    "at_most",
    "book",
    "cautions",
    "declared_fields",
    "does_not_apply",
    "each_of",
    "fields",
    "given",
    "holds",
    "hookimpl",
    "informs",
    "is_fitted",
    "name_of",
    "needs_review",
    "or_practice",
    "owner",
    "path_of",
    "practice",
    "quantities_in",
    "quantity",
    "regulation",
    "rule",
    "rules_in",
    "section_of",
    "sheet",
    "shown",
    "standard",
    "stated_values",
    "use_practice",
    "value_at",
    "within",
]
