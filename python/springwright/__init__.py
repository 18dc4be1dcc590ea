"""From a tap analysis to grams on the scale.

`solve_blend` takes waters, salts, wishes and balances, and answers what to pour, what to weigh and the water that
results. `mix` pours waters together, `convert` restates one amount in another unit or basis, `salts` lists the
catalogue; `*_many` takes many requests at once. Amounts may be written as on a laboratory sheet:
`"190 ± 4 mg/L as CaCO3"`.

Answers are frozen, equal where all their fields are equal, and travel as pickle, dict or JSON; `to_json()` is byte
for byte what the HTTP service and the command answer. Errors are `SpringwrightError`s of a kind, each with its
`code` and all `faults`.
"""

from ._native import engine as _engine
from .bulk import BulkAnswer, BulkBlend, BulkConversion, BulkMixture
from .calculations import convert, convert_many, data_set, mix, mix_many, salts, solve_blend, solve_blend_many
from .errors import NotJson, OwnFailure, RequestRefused, ShapeRefused, SpringwrightError
from .nouns import (
    Assumption,
    Blend,
    Caution,
    Conversion,
    Fault,
    Finding,
    Hardness,
    Ion,
    Measured,
    Mixture,
    NotJudged,
    Pouring,
    Problem,
    Provenance,
    Reached,
    Reason,
    Relaxation,
    Residuals,
    Salt,
    SaltsPage,
    SolubilityPoint,
    Water,
    Weighing,
)

__version__: str = _engine()

__all__ = [
    "Assumption",
    "Blend",
    "BulkAnswer",
    "BulkBlend",
    "BulkConversion",
    "BulkMixture",
    "Caution",
    "Conversion",
    "Fault",
    "Finding",
    "Hardness",
    "Ion",
    "Measured",
    "Mixture",
    "NotJson",
    "NotJudged",
    "OwnFailure",
    "Pouring",
    "Problem",
    "Provenance",
    "Reached",
    "Reason",
    "Relaxation",
    "RequestRefused",
    "Residuals",
    "Salt",
    "SaltsPage",
    "ShapeRefused",
    "SolubilityPoint",
    "SpringwrightError",
    "Water",
    "Weighing",
    "__version__",
    "convert",
    "convert_many",
    "data_set",
    "mix",
    "mix_many",
    "salts",
    "solve_blend",
    "solve_blend_many",
]
