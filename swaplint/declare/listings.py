"""Listings: what a pack adds to the take-off, which says what to buy, cut and make, and to the hand-over sheet.

    @listing("power.cables", "cables", each=lambda build: build.electrics.cables.values())
    def cable(build: Build, cable: Cable) -> Cells:
        '''One cable on the positive side.'''
        return {"size": lambda: cable.size, "to_cut": lambda: cable_to_cut(build, cable)}

There are the lists below, each with its columns. A listing gives one row of such a list, or one for each of
many parts: for each column that it knows a function that reads the build. What a cell reads and the spec does not state
leaves that cell open, and no other. A number is that of a field or of a quantity, never one that is typed here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any, Literal

from swaplint.declare.quantities import ID

Cells = Mapping[str, Callable[[], Any]]
"""The cells of a row by their column: each a function that reads the build."""


Sheet = Literal["take-off", "hand-over"]


@dataclass(frozen=True, slots=True)
class ListKind:
    """One list of the take-off, or of the hand-over sheet."""

    title: str
    columns: Mapping[str, str]
    """Each column with its heading. The first says what the row is about."""
    ordered: str = ""
    """The column with how much of it is bought; empty where each row is a piece."""
    alike: tuple[str, ...] = ()
    """The columns in which rows agree that are bought together; empty where nothing of it is bought."""
    on: tuple[Sheet, ...] = ("take-off",)
    """The sheets that it stands on."""


LISTS: Mapping[str, ListKind] = {
    "parts": ListKind(
        "Parts to get",
        {
            "what": "part",
            "by": "by",
            "pieces": "pieces",
            "lead_time": "lead time",
            "needed_on": "needed on",
            "note": "",
        },
        ordered="pieces",
        alike=("what", "by"),
    ),
    "cables": ListKind(
        "Cables to cut",
        {
            "what": "cable",
            "ends": "from, to",
            "size": "size",
            "material": "made of",
            "run": "run",
            "to_cut": "to cut",
            "lugs": "crimps",
        },
        ordered="to_cut",
        alike=("size", "material"),
    ),
    "fuses": ListKind(
        "Fuses and relays",
        {
            "what": "circuit",
            "fuse": "fuse",
            "after": "after the source",
            "relay": "relay",
            "coil": "its coil",
            "switched_by": "switched by",
        },
        alike=("fuse", "relay"),
        on=("take-off", "hand-over"),
    ),
    "lines": ListKind(
        "Hose and pipe to cut",
        {
            "what": "line",
            "bore": "bore",
            "outside": "outside",
            "wall": "wall",
            "material": "made of",
            "side_by_side": "side by side",
            "run": "run",
            "to_cut": "to cut",
        },
        ordered="to_cut",
        alike=("bore", "outside", "wall", "material"),
    ),
    "fluids": ListKind(
        "Fluids",
        {"what": "fluid", "kind": "which", "fill": "fill", "to_buy": "to buy"},
        ordered="to_buy",
        alike=("what", "kind"),
        on=("take-off", "hand-over"),
    ),
    "fasteners": ListKind(
        "Bolts of mounts and adapter",
        {
            "what": "joint",
            "kind": "",
            "pieces": "pieces",
            "size": "size",
            "strength": "class",
            "engaged": "screwed in",
            "torque": "tighten to",
            "circle": "on a circle of",
        },
        ordered="pieces",
        alike=("kind", "size", "strength"),
    ),
    "steel": ListKind(
        "Brackets and cross-members to make",
        {
            "what": "piece",
            "shape": "section",
            "pieces": "plates",
            "depth": "depth",
            "width": "width",
            "wall": "wall",
            "length": "arm or span",
            "steel": "steel",
            "throat": "weld throat",
        },
        alike=("shape", "pieces", "depth", "width", "wall", "length", "steel"),
    ),
    "shafts": ListKind(
        "Propshafts to order",
        {
            "what": "shaft",
            "length": "as stated",
            "distance": "as placed",
            "tube": "tube",
            "wall": "wall",
            "material": "made of",
            "ends": "flanges",
        },
        alike=("what", "length", "tube", "wall", "material", "ends"),
    ),
    "belts": ListKind(
        "Belts to order",
        {"what": "belt", "kind": "profile", "length": "length"},
        alike=("kind", "length"),
    ),
    "holes": ListKind(
        "Holes and grommets",
        {"what": "hole", "hole": "diameter", "grommet": "grommet", "passes": "what passes"},
        alike=("hole", "grommet"),
    ),
    "gaps": ListKind(
        "Gaps to keep",
        {
            "what": "gap",
            "kind": "to",
            "at_rest": "at rest",
            "moves": "engine moves",
            "left": "left then",
            "least": "maker wants",
        },
    ),
    "use": ListKind(
        "What it is built for, and not for more", {"what": "what", "value": "value", "note": ""}, on=("hand-over",)
    ),
    "papers": ListKind(
        "Approvals and papers",
        {"what": "what", "who": "of whom", "done": "at hand", "date": "of", "reference": "reference"},
        on=("hand-over",),
    ),
    "service": ListKind(
        "Service",
        {"what": "what", "interval": "how often", "lasts": "lasts", "note": ""},
        on=("hand-over",),
    ),
}
"""The lists, in the order of the sheets. Columns are added, never renamed or taken away."""


def lists_on(sheet: Sheet) -> dict[str, ListKind]:
    """The lists of a sheet, in its order."""
    return {name: kind for name, kind in LISTS.items() if sheet in kind.on}


@dataclass(frozen=True, slots=True)
class Listing:
    """What a pack adds to one list."""

    function: Callable[..., Cells | None]
    id: str
    list: str
    each: Callable[[Any], Iterable[Any]] | None

    @property
    def kind(self) -> ListKind:
        """The list that it adds to."""
        return LISTS[self.list]


def listing(
    id: str, list: str, *, each: Callable[[Any], Iterable[Any]] | None = None
) -> Callable[[Callable[..., Cells | None]], Listing]:
    """Declare rows of a list of the take-off or the hand-over sheet, one of `LISTS`.

    With `each` the function takes one of these parts as its second argument, and gives its row. None where the part
    needs no row.
    """

    def declare(function: Callable[..., Cells | None]) -> Listing:
        return Listing(function, id, list, each)

    return declare


def check_listing(made: Listing) -> None:
    """Check all that a listing declares. Raises `ValueError` with a sentence."""
    if not isinstance(made.id, str) or not ID.fullmatch(made.id):
        raise ValueError(f"{made.id!r:.60} is not the id of a listing; one looks like power.cables")
    if made.list not in LISTS:
        raise ValueError(f"{made.id}: there is no list {made.list!r:.40}; there are {', '.join(LISTS)}")
    if not (made.function.__doc__ or "").strip():
        raise ValueError(f"{made.id}: a listing needs a docstring that says what its rows are")


def wrong_with_cells(made: Listing, cells: object) -> str:
    """What is wrong with what a listing returned, as the end of a sentence; empty where it is sound."""
    if not isinstance(cells, Mapping):
        return f"a {type(cells).__name__} instead of cells by their columns"
    first = next(iter(made.kind.columns))
    strange = [column for column in cells if column not in made.kind.columns]
    if strange:
        return f"a cell {strange[0]!r:.40}, which is no column of {made.list}: {', '.join(made.kind.columns)}"
    if first not in cells or not all(callable(cell) for cell in cells.values()):
        return f"a row without {first!r}, or with a cell that is no function"
    return ""
