"""What is used up: small parts by name, cable and hose by the metre."""

from swaplint.spec.fields import QUOTE, Section, measure, word

SMALL_PARTS: dict[str, str] = {
    "gaskets-and-seals": "gaskets, shaft seals and sealing washers of what is opened",
    "one-use-bolts": "bolts and nuts that are renewed each time: flywheel, mounts, propshafts",
    "thread-locking": "what keeps threads from turning and from leaking",
    "hose-clamps": "clamps for every hose, two each",
    "cable-lugs": "cable lugs, crimps and their sleeves",
    "clips-and-grommets": "clips, ties, sleeves and grommets that hold and guard hoses and cables",
    "exhaust-gaskets": "gaskets, clamps and studs of the exhaust",
    "fuel-washers": "sealing washers and clips of the fuel lines",
}
"""The small parts that stop a big job, each with what it means."""
HOSES = ("coolant", "fuel")
"""The hoses that may be quoted by the metre and that the spec has lengths of."""


class MetresOfCable(Section):
    """Cable of one size, by the metre."""

    size: float = measure("size of the conductor", "conductor", "mm2", typical=10, plausible=(0.3, 250), where=QUOTE)
    length: float = measure("length in all", "length", "m", typical=10, plausible=(0.1, 500), where=QUOTE)


class MetresOfHose(Section):
    """Hose of one bore, by the metre."""

    carries: str = word("what it carries", *HOSES, typical="fuel", where=QUOTE)
    inner: float = measure("inside diameter", "length", "mm", typical=10, plausible=(3, 100), where=QUOTE)
    length: float = measure("length in all", "length", "m", typical=5, plausible=(0.1, 200), where=QUOTE)
