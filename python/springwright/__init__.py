"""From a tap analysis to grams on the scale.

`solve_blend` takes waters, salts, wishes and balances, and answers what to pour, what to weigh and the water that
results. `mix` pours waters together, `speciate` solves the state of a water (pH, carbon dioxide, conductivity, every
species), `saturation` tells how far it stands from each solid, `convert` restates one amount in another unit or basis,
`salts` lists the catalogue; `*_many` takes many requests at once. Amounts may be written as on a laboratory sheet:
`"190 ± 4 mg/L as CaCO3"`.

Answers are frozen, equal where all their fields are equal, and travel as pickle, dict or JSON; `to_json()` is byte
for byte what the HTTP service and the command answer. Errors are `SpringwrightError`s of a kind, each with its
`code` and all `faults`.
"""

from ._native import engine as _engine
from .bulk import BulkAnswer, BulkBlend, BulkConversion, BulkMixture, BulkSaturation, BulkSpeciation
from .calculations import (
    convert,
    convert_many,
    data_set,
    mix,
    mix_many,
    salts,
    saturation,
    saturation_many,
    solve_blend,
    solve_blend_many,
    speciate,
    speciate_many,
)
from .errors import NotJson, OwnFailure, RequestRefused, ShapeRefused, SpringwrightError
from .nouns import (
    Assumption,
    Blend,
    Caution,
    Conductivity,
    Conversion,
    DissolvedSpecies,
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
    Saturation,
    SaturationAt,
    SaturationIndex,
    SolidSaturation,
    SolubilityPoint,
    Speciation,
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
    "BulkSaturation",
    "BulkSpeciation",
    "Caution",
    "Conductivity",
    "Conversion",
    "DissolvedSpecies",
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
    "Saturation",
    "SaturationAt",
    "SaturationIndex",
    "ShapeRefused",
    "SolidSaturation",
    "SolubilityPoint",
    "Speciation",
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
    "saturation",
    "saturation_many",
    "solve_blend",
    "solve_blend_many",
    "speciate",
    "speciate_many",
]
