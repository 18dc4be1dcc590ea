"""What Springwright takes: typed dicts, for editors and type checkers. Any mapping with these keys will do.

Written by generate/nouns.py from openapi/springwright.json.
"""

from .blend import Balance, BlendRequest, CountedBy, Objective, SaltChoice, Wish
from .carbonation import CarbonationRequest
from .conversion import ConversionRequest
from .mixture import MixturePart, MixtureRequest
from .parts import (
    AddedSalt,
    Amount,
    Analysis,
    Co2,
    Co2State,
    Comparator,
    Correlation,
    Measured,
    MissingRule,
    SourceWater,
    Uncertainty,
    UncertaintyMethod,
)
from .reconciliation import ReconciliationRequest
from .saturation import SaturationRequest
from .speciation import SpeciationRequest
from .titration import Titrant, TitrationRequest

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
    "ConversionRequest",
    "Correlation",
    "CountedBy",
    "Measured",
    "MissingRule",
    "MixturePart",
    "MixtureRequest",
    "Objective",
    "ReconciliationRequest",
    "SaltChoice",
    "SaturationRequest",
    "SourceWater",
    "SpeciationRequest",
    "Titrant",
    "TitrationRequest",
    "Uncertainty",
    "UncertaintyMethod",
    "Wish",
]
