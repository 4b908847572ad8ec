"""What both sides of a joint have: faces that bolt together, splines."""

from swaplint.spec.fields import CALLIPER, COMPONENT_SHEET, DRIVELINE_SHEET, LOOK, Section, count, measure, text, word


class Face(Section):
    """One side of a bolted joint: the face of a housing, a flywheel or a flange."""

    pattern: str = text(
        "SAE number such as 'SAE 3', or the name of the maker's own pattern; 'own pattern' where it has no name",
        typical="SAE 3",
        where=COMPONENT_SHEET,
    )
    centred_by: str = word(
        "what centres this side: a bore, a spigot that enters one, or dowels alone",
        "bore",
        "spigot",
        "dowels",
        typical="bore",
        where=LOOK,
    )
    pilot: float = measure(
        "diameter of the bore or spigot, as measured or drawn",
        "length",
        "mm",
        typical=409.6,
        plausible=(10, 900),
        where=CALLIPER,
    )
    bolt_circle: float = measure(
        "diameter of the bolt circle", "length", "mm", typical=428.6, plausible=(20, 1000), where=CALLIPER
    )
    holes: float = count("number of bolt holes", typical=12, plausible=(2, 24), where=LOOK)


class Spline(Section):
    """A spline, on a shaft or in a hub."""

    teeth: float = count("number of teeth", typical=10, plausible=(4, 60), where=LOOK)
    outer_diameter: float = measure(
        "major diameter: over the teeth of the shaft, at the root of the hub",
        "length",
        "mm",
        typical=35,
        plausible=(10, 120),
        where=CALLIPER,
    )
    standard: str = text(
        "form of the teeth: standard and pressure angle, or 'straight'", typical="straight", where=DRIVELINE_SHEET
    )
    fit: str = word(
        "what centres the hub on the shaft: the flanks of the teeth, or the major diameter",
        "side",
        "major-diameter",
        typical="side",
        where=COMPONENT_SHEET,
    )
    root: str = word(
        "form of the root between the teeth of the hub", "flat", "fillet", typical="flat", where=COMPONENT_SHEET
    )
