"""What Springwright takes: typed dicts, for editors and type checkers. Any mapping with these keys will do.

Written by generate/nouns.py from openapi/springwright.json.
"""

from .blend import Balance, BlendRequest, Co2, Co2State, CountedBy, Objective, SaltChoice, Wish
from .conversion import ConversionRequest
from .mixture import MixturePart, MixtureRequest
from .parts import AddedSalt, Amount, Analysis, Comparator, Measured, MissingRule, SourceWater

__all__ = [
    "AddedSalt",
    "Amount",
    "Analysis",
    "Balance",
    "BlendRequest",
    "Co2",
    "Co2State",
    "Comparator",
    "ConversionRequest",
    "CountedBy",
    "Measured",
    "MissingRule",
    "MixturePart",
    "MixtureRequest",
    "Objective",
    "SaltChoice",
    "SourceWater",
    "Wish",
]
