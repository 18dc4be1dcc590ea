"""Numbers as people write them: no exponents, no more digits than mean something."""

from __future__ import annotations

from .nouns import Measured


def significant(value: float, digits: int) -> str:
    """A number to so many significant digits, in plain decimals.

    >>> significant(9.996, 3), significant(0.012345, 3), significant(123456.0, 3)
    ('10.0', '0.0123', '123456')
    """
    if value == 0.0:
        return "0"
    # Rounding in exponent form first, so that 9.996 to three digits is 10.0 and not 10.00.
    exponent = int(f"{value:.{digits - 1}e}".partition("e")[2])
    return f"{value:.{max(digits - 1 - exponent, 0)}f}"


def hundredths(value: float) -> str:
    """A number on a logarithmic scale, to two decimals, with its sign as people write it.

    >>> hundredths(7.846), hundredths(-0.691), hundredths(-0.001)
    ('7.85', '−0.69', '0.00')
    """
    text = f"{value:.2f}"
    return "0.00" if text == "-0.00" else text.replace("-", "−")


def words(identifier: str) -> str:
    """An id in words: `amorphous_silica` as `amorphous silica`."""
    return identifier.replace("_", " ")


def in_steps(steps: int, step: float) -> str:
    """A mass that is a whole number of steps, with just the decimals that the step has.

    >>> in_steps(135, 0.01), in_steps(7, 5.0), in_steps(12, 0.00001)
    ('1.35', '35', '0.00012')
    """
    decimals = len(f"{step:.9f}".rstrip("0").partition(".")[2])
    return f"{steps * step:.{decimals}f}"


def in_words(amount: Measured) -> str:
    """A measured amount as on a laboratory sheet."""
    parts = [f"{amount.comparator or ''}{significant(amount.value, 4)}"]
    if amount.uncertainty is not None:
        parts.append(f"± {significant(amount.uncertainty, 2)}")
    if amount.unit != "1":
        parts.append(amount.unit)
    if amount.basis is not None:
        parts.append(f"as {amount.basis}")
    if amount.uncertainty is not None and amount.coverage_factor is not None:
        parts.append(f"(k = {amount.coverage_factor:g})")
    return " ".join(parts)
