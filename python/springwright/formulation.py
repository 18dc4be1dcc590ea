"""From a wanted water to grams on the scale."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from ._asking import Request, calculated
from .nouns import Blend, ScaleUp, WeighingPlan

if TYPE_CHECKING:
    from . import request as ask


def solve_blend(
    request: ask.BlendRequest | Request | None = None,
    /,
    *,
    volume_l: float | None = None,
    waters: Sequence[ask.SourceWater] | None = None,
    salts: Sequence[ask.SaltChoice] | None = None,
    target: Sequence[ask.Wish] | None = None,
    balances: Sequence[ask.Balance] | None = None,
    temperature_c: float | None = None,
    co2: ask.Co2 | None = None,
    most_salts: int | None = None,
    objective: ask.Objective | None = None,
    strict: bool | None = None,
) -> Blend:
    """From a wanted water to grams on the scale: what to pour, what to weigh, and the water that results.

    A wish that cannot be met is an answer: `status` is then `nearest` or `impossible`, and `reached` says why.

    Args:
        request: the whole request, if it is not stated by keyword.
        volume_l: litres of finished water at `temperature_c`.
        waters: the waters at hand; pure water must be said.
        salts: the salts on the shelf.
        target: the wishes: `near` is as close as possible; `at_least`, `at_most` and `exact` are held.
        balances: the balances at hand. The finest one that takes a mass weighs it.
        temperature_c: temperature of the finished water in °C; 20 unless given.
        co2: the state of the carbon dioxide; `closed` unless given.
        most_salts: greatest number of salts that are weighed in.
        objective: what is minimised over the `near` wishes; `relative_deviation` unless given.
        strict: refuse every assumption.

    Raises:
        RequestRefused: with every fault of the request.

    Ten litres of pure water with 24.3 mg/L of magnesium, one millimole a litre, take ten millimoles of Epsom salt,
    which weigh 2.46 g (246.5 g/mol):

    >>> import springwright
    >>> blend = springwright.solve_blend(
    ...     volume_l=10,
    ...     waters=[{"pure": True}],
    ...     salts=[{"formula": "MgSO4·7H2O"}],
    ...     target=[{"of": "Mg", "near": "24.3 mg/L"}],
    ...     balances=[{"step_g": 0.01, "most_g": 200}],
    ... )
    >>> blend.status
    'solved'
    >>> [round(weighing.mass_g, 2) for weighing in blend.weighings]
    [2.46]
    """
    stated = {
        "volume_l": volume_l,
        "temperature_c": temperature_c,
        "waters": waters,
        "salts": salts,
        "target": target,
        "co2": co2,
        "balances": balances,
        "most_salts": most_salts,
        "objective": objective,
        "strict": strict,
    }
    return calculated(Blend, "blend", request, stated)


def plan_weighing(
    request: ask.WeighingRequest | Request | None = None,
    /,
    *,
    parts: Sequence[ask.MixturePart] | None = None,
    poured_uncertainty_percent: float | None = None,
    temperature_c: float | None = None,
    co2: ask.Co2 | None = None,
    recipe: Sequence[ask.RecipeSalt] | None = None,
    balances: Sequence[ask.Balance] | None = None,
    target: Sequence[ask.Wish] | None = None,
    draws: int | None = None,
    seed: int | None = None,
    strict: bool | None = None,
) -> WeighingPlan:
    """What of a recipe to put on which balance, how far it may be off, and how likely the water is then what is wished.

    Args:
        request: the whole request, if it is not stated by keyword.
        parts: the waters that are poured together.
        poured_uncertainty_percent: standard uncertainty of what is poured, in percent.
        temperature_c: temperature of the finished water, in °C; 20 unless given.
        co2: how its carbon dioxide is held; `closed` unless given.
        recipe: the salts with their masses, not rounded yet.
        balances: the balances at hand; the finest one that takes a mass weighs it.
        target: what the finished water is to be.
        draws: number of draws behind the probabilities.
        seed: picks another stream of draws.
        strict: refuse every assumption.

    Raises:
        RequestRefused: with every fault of the request.

    Five milligrams are half a step of this balance; a stock solution brings them:

    >>> import springwright
    >>> plan = springwright.plan_weighing(
    ...     parts=[{"water": {"pure": True, "temperature_c": 20}, "volume_l": 1}],
    ...     temperature_c=20,
    ...     recipe=[{"formula": "NaHCO3", "mass_g": 0.4213}, {"formula": "KCl", "mass_g": 0.005}],
    ...     balances=[{"step_g": 0.01, "most_g": 200}],
    ... )
    >>> plan.weighings[0].steps
    42
    >>> plan.weighings[1].stock.text
    'dissolve 1.25 g in water, fill up to 500 mL, and dose 2.00 mL of it'
    """
    stated = {
        "parts": parts,
        "poured_uncertainty_percent": poured_uncertainty_percent,
        "temperature_c": temperature_c,
        "co2": co2,
        "recipe": recipe,
        "balances": balances,
        "target": target,
        "draws": draws,
        "seed": seed,
        "strict": strict,
    }
    return calculated(WeighingPlan, "weighing", request, stated)


def scale_batch(
    request: ask.ScaleUpRequest | Request | None = None,
    /,
    *,
    volume_l: float | None = None,
    recipe: ask.WeighingRequest | None = None,
) -> ScaleUp:
    """A recipe that was tried in a glass for a keg or a tank: waters to pour, whole bags and weighings.

    Args:
        request: the whole request, if it is not stated by keyword.
        volume_l: litres of finished water that are wanted.
        recipe: the recipe as it was tried, as `plan_weighing` takes it, with the balances that weigh the large one.

    Raises:
        RequestRefused: with every fault of the request.

    A glass for a tank of a thousand litres:

    >>> import springwright
    >>> glass = {
    ...     "parts": [{"water": {"pure": True, "temperature_c": 20}, "mass_kg": 0.2}],
    ...     "temperature_c": 20,
    ...     "recipe": [{"formula": "NaHCO3", "mass_g": 0.0842}],
    ...     "balances": [{"step_g": 1, "most_g": 5000}],
    ... }
    >>> tank = springwright.scale_batch(volume_l=1000, recipe=glass)
    >>> tank.plan.weighings[0].steps
    420
    """
    stated = {"volume_l": volume_l, "recipe": recipe}
    return calculated(ScaleUp, "scale-up", request, stated)
