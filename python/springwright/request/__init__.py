"""What Springwright takes: typed dicts, for editors and type checkers. Any mapping with these keys will do.

Written by generate/nouns.py from openapi/springwright.json.
"""

from .blend import BlendRequest, Objective, SaltChoice
from .carbonation import CarbonationRequest
from .compatibility import CompatibilityRequest, ShelfSalt
from .conversion import ConversionRequest
from .life_path import LifePathRequest, LifeStage, LifeStageKind
from .mixture import MixtureRequest
from .parts import (
    AddedSalt,
    Amount,
    Analysis,
    Balance,
    Co2,
    Co2State,
    Comparator,
    Correlation,
    CountedBy,
    HazeLimit,
    Measured,
    MissingRule,
    MixturePart,
    SourceWater,
    Uncertainty,
    UncertaintyMethod,
    Verdict,
    Wish,
)
from .precipitation import Powder, PrecipitationRequest
from .reconciliation import ReconciliationRequest
from .saturation import SaturationRequest
from .scale_up import ScaleUpRequest
from .speciation import SpeciationRequest
from .titration import Titrant, TitrationRequest
from .weighing import RecipeSalt, WeighingRequest

__all__ = [
    "AddedSalt",
    "Amount",
    "Analysis",
    "Balance",
    "BlendRequest",
    "CarbonationRequest",
    "Co2",
    "Co2State",
    "Comparator",
    "CompatibilityRequest",
    "ConversionRequest",
    "Correlation",
    "CountedBy",
    "HazeLimit",
    "LifePathRequest",
    "LifeStage",
    "LifeStageKind",
    "Measured",
    "MissingRule",
    "MixturePart",
    "MixtureRequest",
    "Objective",
    "Powder",
    "PrecipitationRequest",
    "RecipeSalt",
    "ReconciliationRequest",
    "SaltChoice",
    "SaturationRequest",
    "ScaleUpRequest",
    "ShelfSalt",
    "SourceWater",
    "SpeciationRequest",
    "Titrant",
    "TitrationRequest",
    "Uncertainty",
    "UncertaintyMethod",
    "Verdict",
    "WeighingRequest",
    "Wish",
]
