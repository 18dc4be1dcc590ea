"""What becomes of the solids in a water: what falls and dissolves, what an eye will see, what may stand together, where a
water turns in its life. Each takes its request as the other calculations do.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from ._asking import Request, calculated
from .nouns import Compatibility, LifePath, Precipitation

if TYPE_CHECKING:
    from . import request as ask


def precipitate(
    request: ask.PrecipitationRequest | Request | None = None,
    /,
    *,
    water: ask.SourceWater | None = None,
    temperature_c: float | None = None,
    co2: ask.Co2 | None = None,
    solids: Sequence[str] | None = None,
    blocked: Sequence[str] | None = None,
    powders: Sequence[ask.Powder] | None = None,
    haze_limits: Sequence[ask.HazeLimit] | None = None,
    visible_mg_per_l: float | None = None,
    strict: bool | None = None,
) -> Precipitation:
    """What a water lets fall, what it takes up, and what an eye will see of it.

    Args:
        request: the whole request, if it is not stated by keyword.
        water: the water before.
        temperature_c: temperature to which it is brought, in °C; its own unless given.
        co2: what holds its carbon dioxide while solids form and dissolve; `closed` unless given.
        solids: the solids that may form; every one that forms within the life of a drink unless given.
        blocked: solids that may not form.
        powders: solids that lie in the water at the start.
        haze_limits: limits of one's own to judge haze by.
        visible_mg_per_l: mass of a solid below which nothing is seen, in mg/L.
        strict: refuse every assumption.

    Raises:
        RequestRefused: with every fault of the request.

    Under a few bar of carbon dioxide chalk goes into solution; the same water in air keeps little of it:

    >>> import springwright
    >>> chalk = {"water": {"pure": True, "temperature_c": 20}, "powders": [{"solid": "calcite", "mg_per_l": 200}]}
    >>> keg = springwright.precipitate(chalk, co2={"state": "partial_pressure", "pco2_bar": 2})
    >>> air = springwright.precipitate(chalk, co2={"state": "open_to_air", "altitude_m": 0})
    >>> left = lambda told: next(one for one in told.solids if one.solid == "calcite").at_end_mg_per_l
    >>> left(keg) == 0 and left(air) > 100
    True
    """
    stated = {
        "water": water,
        "temperature_c": temperature_c,
        "co2": co2,
        "solids": solids,
        "blocked": blocked,
        "powders": powders,
        "haze_limits": haze_limits,
        "visible_mg_per_l": visible_mg_per_l,
        "strict": strict,
    }
    return calculated(Precipitation, "precipitation", request, stated)


def check_compatibility(
    request: ask.CompatibilityRequest | Request | None = None,
    /,
    *,
    salts: Sequence[ask.ShelfSalt] | None = None,
    water: ask.SourceWater | None = None,
    ph: float | None = None,
    co2: ask.Co2 | None = None,
    temperature_c: float | None = None,
    haze_limits: Sequence[ask.HazeLimit] | None = None,
    visible_mg_per_l: float | None = None,
    suggestions: bool | None = None,
    strict: bool | None = None,
) -> Compatibility:
    """Which salts may stand together, at the strengths and in the state in which they will be used.

    Args:
        request: the whole request, if it is not stated by keyword.
        salts: the salts on the shelf, each at the strength at which it would be used.
        water: the water that they meet in; pure water unless given.
        ph: pH that acid or base outside this list sets; without it the salts make their own.
        co2: what holds the carbon dioxide; `closed` unless given.
        temperature_c: temperature in °C; that of the water unless given.
        haze_limits: limits of one's own to judge haze by.
        visible_mg_per_l: mass of a solid below which nothing is seen, in mg/L.
        suggestions: tell what to use instead where two salts cloud; yes unless given.
        strict: refuse every assumption.

    Raises:
        RequestRefused: with every fault of the request.

    Two stock bottles that must not be one:

    >>> import springwright
    >>> told = springwright.check_compatibility(
    ...     salts=[
    ...         {"formula": "CaCl2·2H2O", "g_per_l": 40},
    ...         {"formula": "NaHCO3", "g_per_l": 40},
    ...         {"formula": "KCl", "g_per_l": 20},
    ...     ],
    ...     water={"pure": True, "temperature_c": 20},
    ... )
    >>> [(pair.first, pair.second, pair.outcome) for pair in told.pairs]
    [(1, 2, 'at_once'), (1, 3, 'never'), (2, 3, 'never')]
    """
    stated = {
        "salts": salts,
        "water": water,
        "ph": ph,
        "co2": co2,
        "temperature_c": temperature_c,
        "haze_limits": haze_limits,
        "visible_mg_per_l": visible_mg_per_l,
        "suggestions": suggestions,
        "strict": strict,
    }
    return calculated(Compatibility, "compatibility", request, stated)


def life_path(
    request: ask.LifePathRequest | Request | None = None,
    /,
    *,
    parts: Sequence[ask.MixturePart] | None = None,
    temperature_c: float | None = None,
    stages: Sequence[ask.LifeStage] | None = None,
    altitude_m: float | None = None,
    rating_bar: float | None = None,
    haze_limits: Sequence[ask.HazeLimit] | None = None,
    visible_mg_per_l: float | None = None,
    suggestions: bool | None = None,
    strict: bool | None = None,
) -> LifePath:
    """What becomes of a water from the stock bottles to the kettle: at each stage what an eye will see, the gas in it, the
    pressure on its vessel, and what to change.

    Args:
        request: the whole request, if it is not stated by keyword.
        parts: what is poured together; a part with salts is a stock and judged by itself too.
        temperature_c: temperature of the mix, in °C; 20 unless given.
        stages: what is done with it, in order: `carbonated`, `bottled`, `stands`, `opened`, `flat` or `kettle`.
        altitude_m: height above the sea, in m; 0 unless given.
        rating_bar: gauge pressure in bar for which the weakest shut vessel is rated.
        haze_limits: limits of one's own to judge haze by.
        visible_mg_per_l: mass of a solid below which nothing is seen, in mg/L.
        suggestions: tell what to change where a stage is not clear; yes unless given.
        strict: refuse every assumption.

    Raises:
        RequestRefused: with every fault of the request.

    A hard water stays bright in its keg and turns in the glass:

    >>> import springwright
    >>> tap = {
    ...     "ph": 7.4, "temperature_c": 12, "missing": {"Mg": "zero", "Na": "zero", "K": "zero", "SO4": "zero"},
    ...     "analysis": {"Ca": "110 mg/L", "Cl": "30 mg/L", "alkalinity": "230 mg/L as CaCO3"},
    ... }
    >>> told = springwright.life_path(
    ...     parts=[{"water": tap, "volume_l": 19}],
    ...     temperature_c=12,
    ...     stages=[
    ...         {"stage": "carbonated", "temperature_c": 4, "co2": {"state": "keg", "gauge_bar": 2}},
    ...         {"stage": "flat", "name": "glass", "temperature_c": 22},
    ...     ],
    ... )
    >>> [(stage.name, stage.verdict) for stage in told.stages][1:]
    [('carbonated', 'undersaturated'), ('glass', 'clouds')]
    >>> sorted(change.change for change in told.stages[-1].changes)
    ['alkalinity', 'carbon_dioxide', 'pure_water']
    """
    stated = {
        "parts": parts,
        "temperature_c": temperature_c,
        "stages": stages,
        "altitude_m": altitude_m,
        "rating_bar": rating_bar,
        "haze_limits": haze_limits,
        "visible_mg_per_l": visible_mg_per_l,
        "suggestions": suggestions,
        "strict": strict,
    }
    return calculated(LifePath, "life-path", request, stated)
