"""What Springwright answers. Every class is frozen; its attributes are plain numbers, texts, tuples,
mappings and other nouns. Attributes carry their unit in the name.

Written by generate/nouns.py from openapi/springwright.json.
"""

from .blend import Blend, BlendStatus, Objective, Pouring, Reached, Reason, Relaxation, Weighing
from .carbonation import Carbonation, Headspace, Opened, PressureAt, SaturationChange
from .conversion import Conversion
from .mixture import Mixture
from .parts import (
    Assumption,
    Caution,
    Comparator,
    Conductivity,
    Contribution,
    ContributionOf,
    Finding,
    Hardness,
    Ion,
    IonUncertainty,
    Measured,
    NotJudged,
    Provenance,
    Residuals,
    SaturationIndex,
    SaturationIndexUncertainty,
    UncertaintyMethod,
    Water,
    WaterUncertainty,
)
from .problem import Fault, Problem
from .reconciliation import (
    AcceptanceCheck,
    CorrectedRow,
    MissingIon,
    ReconciledRow,
    Reconciliation,
    RowVerdict,
    Suspicion,
)
from .salts import Salt, SaltsPage, SolubilityPoint
from .saturation import Saturation, SaturationAt, SolidSaturation
from .speciation import DissolvedSpecies, Speciation
from .titration import Addition, CurvePoint, EndPoint, Titration, WhyNot

__all__ = [
    "AcceptanceCheck",
    "Addition",
    "Assumption",
    "Blend",
    "BlendStatus",
    "Carbonation",
    "Caution",
    "Comparator",
    "Conductivity",
    "Contribution",
    "ContributionOf",
    "Conversion",
    "CorrectedRow",
    "CurvePoint",
    "DissolvedSpecies",
    "EndPoint",
    "Fault",
    "Finding",
    "Hardness",
    "Headspace",
    "Ion",
    "IonUncertainty",
    "Measured",
    "MissingIon",
    "Mixture",
    "NotJudged",
    "Objective",
    "Opened",
    "Pouring",
    "PressureAt",
    "Problem",
    "Provenance",
    "Reached",
    "Reason",
    "ReconciledRow",
    "Reconciliation",
    "Relaxation",
    "Residuals",
    "RowVerdict",
    "Salt",
    "SaltsPage",
    "Saturation",
    "SaturationAt",
    "SaturationChange",
    "SaturationIndex",
    "SaturationIndexUncertainty",
    "SolidSaturation",
    "SolubilityPoint",
    "Speciation",
    "Suspicion",
    "Titration",
    "UncertaintyMethod",
    "Water",
    "WaterUncertainty",
    "Weighing",
    "WhyNot",
]
