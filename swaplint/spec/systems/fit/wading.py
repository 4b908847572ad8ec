"""Fields of what water must not reach when the vehicle wades."""

from swaplint.spec.fields import COMPONENT_SHEET, TAPE, Part, Section, measure, part, parts, words


class Breather(Part):
    """The breather of a gearbox or axle. One that is sealed, or breathes into another part, is not fitted."""

    height: float = measure(
        "height above the ground of the place where it, or its hose, opens to the air",
        "length",
        "mm",
        typical=900,
        plausible=(100, 3000),
        where=TAPE,
    )


class WetPart(Part):
    """An electrical part that water may reach: a connector, a control unit, a motor or generator, a fuse box."""

    height: float = measure(
        "height of its lowest point above the ground", "length", "mm", typical=700, plausible=(50, 3000), where=TAPE
    )
    ip_codes: list[str] = words(
        "its degrees of protection, plugged in or with its cover on, each an IP code; empty where it has none",
        typical="IP67",
        where=COMPONENT_SHEET,
    )


class Wading(Section):
    """What water must not reach when the vehicle wades, besides air inlet, tank vent and engine control unit."""

    gearbox_breather: Breather = part("the breather of the gearbox")
    transfer_breather: Breather = part("the breather of the transfer case")
    axle_breathers: dict[str, Breather] = parts("the breathers of the axles, each under its axle's name")
    crankcase_breather: Breather = part("the crankcase breather, where it opens to the outside air")
    electrical: dict[str, WetPart] = parts(
        "connectors, control units and machines that hang low, each under its name; empty where none does",
        may_be_empty="all that is electric can hang above the water",
    )
