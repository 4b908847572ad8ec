"""Fields of compliance: what a place asks, what engine and vehicle were certified to, and safety at work."""

from swaplint.spec.systems.compliance.certificates import (
    EngineCertificate,
    OriginalEngine,
    VehicleEmissions,
    VehicleNoise,
)
from swaplint.spec.systems.compliance.evidence import Evidence
from swaplint.spec.systems.compliance.facts import (
    ALTERATIONS,
    CERTIFICATE_USES,
    EMISSION_EQUIPMENT,
    ENERGIES,
    POINTED,
    TOLD,
    AgeRule,
    CertificateRule,
    ConditionalFact,
    EquipmentRule,
    Fact,
    IdentityRule,
    KindRule,
    LawDocument,
    NoiseRule,
    OdometerRule,
    PowerLimit,
    ReadinessRule,
    VehicleClass,
)
from swaplint.spec.systems.compliance.place import Approval, Place, Requirement
from swaplint.spec.systems.compliance.safety import WorkshopSafety

__all__ = [
    "ALTERATIONS",
    "CERTIFICATE_USES",
    "EMISSION_EQUIPMENT",
    "ENERGIES",
    "POINTED",
    "TOLD",
    "AgeRule",
    "Approval",
    "CertificateRule",
    "ConditionalFact",
    "EngineCertificate",
    "EquipmentRule",
    "Evidence",
    "Fact",
    "IdentityRule",
    "KindRule",
    "LawDocument",
    "NoiseRule",
    "OdometerRule",
    "OriginalEngine",
    "Place",
    "PowerLimit",
    "ReadinessRule",
    "Requirement",
    "VehicleClass",
    "VehicleEmissions",
    "VehicleNoise",
    "WorkshopSafety",
]
