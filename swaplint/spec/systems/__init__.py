"""The fields of each system, one module or package of that name; `swaplint.spec.model` puts them in their sections.

These modules do without postponed annotations: pydantic would compile the text of each of more than a thousand of them
every time that the program starts.
"""

SYSTEMS = (
    "mass",
    "gearing",
    "driveline",
    "mounts",
    "cooling",
    "fuel",
    "intake",
    "exhaust",
    "power",
    "controls",
    "network",
    "chassis",
    "fit",
    "supply",
    "compliance",
    "commissioning",
)
"""The systems of the job, in the order of a report."""
