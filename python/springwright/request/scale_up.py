"""The request `ScaleUpRequest`.

Written by generate/nouns.py from openapi/springwright.json.
"""

from __future__ import annotations

from typing import Required, TypedDict

from .weighing import WeighingRequest


class ScaleUpRequest(TypedDict, total=False):
    """Asks for a recipe in another volume: the waters to pour, bags and weighings, and at which volumes near
    it bags come out whole.
    """

    volume_l: Required[float]
    """Litres of finished water that are wanted, before gas comes or goes."""
    recipe: Required[WeighingRequest]
    """The recipe as it was tried, with the balances that weigh the large one."""
