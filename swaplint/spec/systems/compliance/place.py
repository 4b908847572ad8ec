"""A place whose rules a vehicle must meet: a country, a state, a club that inspects."""

from swaplint.spec.fields import AUTHORITY, Part, day, part, parts, text, word, words
from swaplint.spec.stages import STAGES
from swaplint.spec.systems.compliance.evidence import Evidence
from swaplint.spec.systems.compliance.facts import (
    ALTERATIONS,
    LARGER_ENGINE,
    OTHER_ENGINE,
    AgeRule,
    CertificateRule,
    ConditionalFact,
    EquipmentRule,
    IdentityRule,
    KindRule,
    LawDocument,
    NoiseRule,
    OdometerRule,
    PowerLimit,
    ReadinessRule,
    VehicleClass,
)

TOPICS = (
    "paper",
    "inspection",
    "registration",
    "fuel-system",
    "lighting",
    "speedometer",
    "electromagnetic",
    "insurance",
    "other",
)
"""What a requirement of a place is about."""


class Approval(ConditionalFact):
    """An approval that a place asks for where something is altered."""

    for_any: list[str] = words(
        "the alterations that it is asked for",
        *ALTERATIONS,
        LARGER_ENGINE,
        OTHER_ENGINE,
        typical="frame",
        where=AUTHORITY,
    )
    who: str = text("who gives it", typical="a licensed engineer", where=AUTHORITY)
    timing: str = word(
        "whether it is needed before the work begins, or after it", "before", "after", typical="before", where=AUTHORITY
    )
    met: Evidence = part("what shows that it was given")


class Requirement(ConditionalFact):
    """A paper, an inspection or a condition that a place asks for."""

    topic: str = word("what it is about", *TOPICS, typical="paper", where=AUTHORITY)
    what: str = text("what is asked for, in a few words", typical="weighbridge ticket", where=AUTHORITY)
    stage: str = word("the stage of the job by which it is needed", *STAGES[1:], typical="commission", where=AUTHORITY)
    who: str = text(
        "who sees to it in this job: issues the paper, carries out the inspection, does the work",
        typical="A. Example, workshop manager",
        where=AUTHORITY,
    )
    planned_for: str = day("the day that it is planned for", typical="2026-06-20", where=AUTHORITY)
    met: Evidence = part("what shows that it was met")


class Place(Part):
    """A place whose rules the vehicle must meet, as its sheet states them."""

    name: str = text("what it is called", typical="Example State (invented)", where=AUTHORITY)
    authority: str = text("the office to ask", typical="Example Vehicle Office (invented)", where=AUTHORITY)
    checked: str = day("the day on which its documents were last looked at", typical="2026-11-28", where=AUTHORITY)
    documents: dict[str, LawDocument] = parts("the documents that say what it asks, each under a short name")
    certificates: CertificateRule = part("which emission certificates an engine may have")
    engine_age: AgeRule = part("how old an engine may be")
    equipment: EquipmentRule = part("which emission equipment must be there")
    readiness: ReadinessRule = part("whether on-board diagnosis must show that it is ready")
    classes: dict[str, VehicleClass] = parts(
        "its classes of vehicles, each under its name", may_be_empty="an authority may say that no class matters here"
    )
    power_limits: dict[str, PowerLimit] = parts(
        "how strong or large an engine may be, each limit under a name",
        may_be_empty="an authority may say that it limits neither",
    )
    engine_kind: KindRule = part("whether the engine may be of another kind")
    approvals: dict[str, Approval] = parts(
        "the approvals that it asks for, each under a name",
        may_be_empty="an authority may say that it asks for none",
    )
    noise: NoiseRule = part("how loud the vehicle may be")
    odometer: OdometerRule = part("how right the distance shown must be")
    identity: IdentityRule = part("from how many points for original parts the registration is kept")
    requirements: dict[str, Requirement] = parts(
        "papers, inspections and conditions that it asks for, each under a name",
        may_be_empty="an authority may say that it asks for none",
    )
