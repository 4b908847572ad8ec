"""The interface for rule authors: everything that a rule pack imports from swaplint.

This interface has a version, `INTERFACE`. Within one version names are added, never changed or taken away.
"""

from swaplint.build.reading import at, each_of, given, is_fitted, limit_or_none, name_of, once, path_of, section_of
from swaplint.build.stated import as_stated, declared_fields, stated_values, value_at
from swaplint.declare import cautions
from swaplint.declare.figures import (
    Axis,
    Band,
    Bar,
    Bars,
    Budget,
    Budgets,
    Chart,
    Curve,
    Limit,
    Link,
    Marks,
    Network,
    Node,
    Point,
    ScaleDrawing,
    Shape,
    Sketch,
    figure,
)
from swaplint.declare.listings import Cells, Listing, listing
from swaplint.declare.practices import Practice, or_practice, use_practice
from swaplint.declare.quantities import Quantity, quantity
from swaplint.declare.rule import Rule, rule
from swaplint.declare.sources import Source, book, owner, practice, regulation, sheet, standard
from swaplint.declare.steps import Expected, Step, expect, not_needed, step
from swaplint.declare.verdicts import (
    Verdict,
    advice,
    all_of,
    at_least,
    at_most,
    carried,
    does_not_apply,
    holds,
    informs,
    needs_review,
    within,
)
from swaplint.engineering import ImpossibleInput, OutsideRange
from swaplint.host.hooks import (
    INTERFACE,
    Pack,
    figures_in,
    hookimpl,
    listings_in,
    quantities_in,
    rules_in,
    steps_in,
)
from swaplint.spec import fields
from swaplint.spec.fields import Part, Section
from swaplint.spec.model import Build
from swaplint.spec.systems import SYSTEMS
from swaplint.units.output import in_unit_shown, shown, unit_shown
from swaplint.units.prose import told
from swaplint.units.value import Value

__all__ = [
    "INTERFACE",
    "SYSTEMS",
    "Axis",
    "Band",
    "Bar",
    "Bars",
    "Budget",
    "Budgets",
    "Build",
    "Cells",
    "Chart",
    "Curve",
    "Expected",
    "ImpossibleInput",
    "Limit",
    "Link",
    "Listing",
    "Marks",
    "Network",
    "Node",
    "OutsideRange",
    "Pack",
    "Part",
    "Point",
    "Practice",
    "Quantity",
    "Rule",
    "ScaleDrawing",
    "Section",
    "Shape",
    "Sketch",
    "Source",
    "Step",
    "Value",
    "Verdict",
    "advice",
    "all_of",
    "as_stated",
    "at",
    "at_least",
    "at_most",
    "book",
    "carried",
    "cautions",
    "declared_fields",
    "does_not_apply",
    "each_of",
    "expect",
    "fields",
    "figure",
    "figures_in",
    "given",
    "holds",
    "hookimpl",
    "in_unit_shown",
    "informs",
    "is_fitted",
    "limit_or_none",
    "listing",
    "listings_in",
    "name_of",
    "needs_review",
    "not_needed",
    "once",
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
    "step",
    "steps_in",
    "told",
    "unit_shown",
    "use_practice",
    "value_at",
    "within",
]
