"""Each calculation for many requests: one row each, in order. A bad request is a row with status `refused`."""

from __future__ import annotations

from ._asking import Requests
from .bulk import (
    BulkBlend,
    BulkCarbonation,
    BulkCompatibility,
    BulkConversion,
    BulkLifePath,
    BulkMixture,
    BulkPrecipitation,
    BulkReconciliation,
    BulkSaturation,
    BulkScaleUp,
    BulkSpeciation,
    BulkTitration,
    BulkWeighingPlan,
    answer_many,
)


def convert_many(requests: Requests, *, threads: int | None = None) -> list[BulkConversion]:
    """`convert` for many requests: one row each, in order. A bad request is a row with status `refused`.

    Args:
        requests: the requests in order, or by name; the names become the `id` of the rows.
        threads: on how many threads; as many as the machine offers unless given. The answers are the same bytes.
    """
    return answer_many(BulkConversion, "conversion", requests, threads)


def mix_many(requests: Requests, *, threads: int | None = None) -> list[BulkMixture]:
    """`mix` for many requests: one row each, in order. A bad request is a row with status `refused`.

    Args:
        requests: the requests in order, or by name; the names become the `id` of the rows.
        threads: on how many threads; as many as the machine offers unless given. The answers are the same bytes.
    """
    return answer_many(BulkMixture, "mixture", requests, threads)


def speciate_many(requests: Requests, *, threads: int | None = None) -> list[BulkSpeciation]:
    """`speciate` for many requests: one row each, in order. A bad request is a row with status `refused`.

    Args:
        requests: the requests in order, or by name; the names become the `id` of the rows.
        threads: on how many threads; as many as the machine offers unless given. The answers are the same bytes.
    """
    return answer_many(BulkSpeciation, "speciation", requests, threads)


def saturation_many(requests: Requests, *, threads: int | None = None) -> list[BulkSaturation]:
    """`saturation` for many requests: one row each, in order. A bad request is a row with status `refused`.

    Args:
        requests: the requests in order, or by name; the names become the `id` of the rows.
        threads: on how many threads; as many as the machine offers unless given. The answers are the same bytes.
    """
    return answer_many(BulkSaturation, "saturation", requests, threads)


def precipitate_many(requests: Requests, *, threads: int | None = None) -> list[BulkPrecipitation]:
    """`precipitate` for many requests: one row each, in order. A bad request is a row with status `refused`.

    Args:
        requests: the requests in order, or by name; the names become the `id` of the rows.
        threads: on how many threads; as many as the machine offers unless given. The answers are the same bytes.
    """
    return answer_many(BulkPrecipitation, "precipitation", requests, threads)


def check_compatibility_many(requests: Requests, *, threads: int | None = None) -> list[BulkCompatibility]:
    """`check_compatibility` for many requests: one row each, in order. A bad request is a row with status `refused`.

    Args:
        requests: the requests in order, or by name; the names become the `id` of the rows.
        threads: on how many threads; as many as the machine offers unless given. The answers are the same bytes.
    """
    return answer_many(BulkCompatibility, "compatibility", requests, threads)


def life_path_many(requests: Requests, *, threads: int | None = None) -> list[BulkLifePath]:
    """`life_path` for many requests: one row each, in order. A bad request is a row with status `refused`.

    Args:
        requests: the requests in order, or by name; the names become the `id` of the rows.
        threads: on how many threads; as many as the machine offers unless given. The answers are the same bytes.
    """
    return answer_many(BulkLifePath, "life-path", requests, threads)


def carbonate_to_many(requests: Requests, *, threads: int | None = None) -> list[BulkCarbonation]:
    """`carbonate_to` for many requests: one row each, in order. A bad request is a row with status `refused`.

    Args:
        requests: the requests in order, or by name; the names become the `id` of the rows.
        threads: on how many threads; as many as the machine offers unless given. The answers are the same bytes.
    """
    return answer_many(BulkCarbonation, "carbonation", requests, threads)


def titrate_many(requests: Requests, *, threads: int | None = None) -> list[BulkTitration]:
    """`titrate` for many requests: one row each, in order. A bad request is a row with status `refused`.

    Args:
        requests: the requests in order, or by name; the names become the `id` of the rows.
        threads: on how many threads; as many as the machine offers unless given. The answers are the same bytes.
    """
    return answer_many(BulkTitration, "titration", requests, threads)


def reconcile_many(requests: Requests, *, threads: int | None = None) -> list[BulkReconciliation]:
    """`reconcile` for many requests: one row each, in order. A bad request is a row with status `refused`.

    Args:
        requests: the requests in order, or by name; the names become the `id` of the rows.
        threads: on how many threads; as many as the machine offers unless given. The answers are the same bytes.
    """
    return answer_many(BulkReconciliation, "reconciliation", requests, threads)


def plan_weighing_many(requests: Requests, *, threads: int | None = None) -> list[BulkWeighingPlan]:
    """`plan_weighing` for many requests: one row each, in order. A bad request is a row with status `refused`.

    Args:
        requests: the requests in order, or by name; the names become the `id` of the rows.
        threads: on how many threads; as many as the machine offers unless given. The answers are the same bytes.
    """
    return answer_many(BulkWeighingPlan, "weighing", requests, threads)


def scale_batch_many(requests: Requests, *, threads: int | None = None) -> list[BulkScaleUp]:
    """`scale_batch` for many requests: one row each, in order. A bad request is a row with status `refused`.

    Args:
        requests: the requests in order, or by name; the names become the `id` of the rows.
        threads: on how many threads; as many as the machine offers unless given. The answers are the same bytes.
    """
    return answer_many(BulkScaleUp, "scale-up", requests, threads)


def solve_blend_many(requests: Requests, *, threads: int | None = None) -> list[BulkBlend]:
    """`solve_blend` for many requests: one row each, in order. A bad request is a row with status `refused`.

    Args:
        requests: the requests in order, or by name; the names become the `id` of the rows.
        threads: on how many threads; as many as the machine offers unless given. The answers are the same bytes.

    One shelf, two volumes, and a row that forgets its volume:

    >>> import springwright
    >>> shelf = {
    ...     "waters": [{"pure": True}],
    ...     "salts": [{"formula": "NaHCO3"}],
    ...     "target": [{"of": "Na", "near": "23 mg/L"}],
    ...     "balances": [{"step_g": 0.01, "most_g": 200}],
    ... }
    >>> rows = springwright.solve_blend_many(
    ...     {"ten": {**shelf, "volume_l": 10}, "twenty": {**shelf, "volume_l": 20}, "none": shelf}
    ... )
    >>> [(row.id, row.status) for row in rows]
    [('ten', 'answered'), ('twenty', 'answered'), ('none', 'refused')]
    >>> rows[2].problem.faults[0].pointer
    '/volume_l'
    """
    return answer_many(BulkBlend, "blend", requests, threads)
