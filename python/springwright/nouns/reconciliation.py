"""The answer `Reconciliation` and what it alone is made of.

Written by generate/nouns.py from openapi/springwright.json.
"""

from __future__ import annotations

from typing import Literal, TypeAlias

from .._noun import Field, Noun, maybe, needed
from .._read import a_count, a_number, a_text, a_word, each, one, yes_or_no
from .parts import Assumption, Caution, Finding, Measured, NotJudged, Provenance, Water


class AcceptanceCheck(Noun):
    """A rule by which a whole analysis is accepted."""

    __slots__ = ()

    of = needed(
        a_text,
        "Name of the rule: `charge_balance`, `tds_measured_over_calculated`, "
        "`conductivity_measured_over_calculated`, `cations_over_conductivity` and "
        "`anions_over_conductivity` (100 times meq/L over µS/cm), `tds_over_conductivity`.",
    )
    value = needed(a_number, "What the sheet shows.")
    unit = needed(a_text, "Its unit.")
    at_least = needed(a_number, "Least that is accepted.")
    at_most = needed(a_number, "Most that is accepted.")
    accepted = needed(yes_or_no, "Whether it is.")
    source = needed(a_text, "Where the rule stands.")


class MissingIon(Noun):
    """Bounds of an ion of which a sheet is silent, if it alone were there. They hold the truth 19 times of 20
    where nothing else is wrong.
    """

    __slots__ = ()

    of = needed(a_text, "The component.")
    at_least_mg_per_l = needed(a_number, "Least, in mg/L; 0 where nothing asks for it.")
    likely_mg_per_l = needed(a_number, "Most likely, in mg/L.")
    at_most_mg_per_l = needed(a_number, "Most, in mg/L.")


# How a row stands to the rest of its sheet.
RowVerdict: TypeAlias = Literal["fits", "doubtful", "does_not_fit", "unchecked", "below_limit"]


class ReconciledRow(Noun):
    """A row of a sheet beside the most likely water."""

    __slots__ = ()

    pointer = needed(a_text, "JSON Pointer of the row in the request.")
    stated = needed(one(Measured), "As stated.")
    stated_uncertainty = needed(
        a_number,
        "Standard uncertainty that was reckoned with, in the unit and basis of the row: the stated one, or "
        "a usual one.",
    )
    likely = needed(one(Measured), "What the most likely water gives, with its standard uncertainty.")
    verdict: Field[RowVerdict] = needed(
        a_word("fits", "doubtful", "does_not_fit", "unchecked", "below_limit"),
        "The same in a word.",
    )
    residual = maybe(
        a_number,
        "Stated less likely, over the standard uncertainty of their difference: a standard normal number on "
        "a sheet that is right. Absent where nothing else on the sheet tells of the row.",
    )


class CorrectedRow(Noun):
    """A row as it may have been meant."""

    __slots__ = ()

    pointer = needed(a_text, "JSON Pointer of where it would stand.")
    measured = needed(one(Measured), "What it would say.")


class Suspicion(Noun):
    """Something that may be wrong on a sheet."""

    __slots__ = ()

    code = needed(
        a_text,
        "Stable code: `basis` (as N, as S, as CaCO3, …), `unit`, `decimal`, `digits` (swapped), `lumped` "
        "(Na with K), `exchanged` (two rows), `solids` (residue for sum of ions), `temperature` (of the "
        "conductivity), `hydrate` (of a salt), `missing` (an ion), `unexplained`.",
    )
    pointer = needed(a_text, "JSON Pointer of the row; where an ion is missing, of where it would stand.")
    text = needed(a_text, "What is suspected, in words with numbers.")
    odds = needed(
        a_number,
        "Odds of this mistake against none, by how well it explains the sheet and how usual it is; at most "
        "1e9.",
    )
    share = needed(a_number, "Its share of all suspicion.")
    chi_square = needed(a_number, "Chi-square of the sheet read so.")
    corrected = needed(
        each(one(CorrectedRow)),
        "What the rows would say; for a missing ion or a row that nothing explains, what the rest of the "
        "sheet tells.",
    )


class Reconciliation(Noun):
    """The most likely water behind an analysis, and what may be wrong with it."""

    __slots__ = ()

    water = needed(
        one(Water),
        "The most likely water if every row means what it says; solved where its carbonate is known.",
    )
    rows = needed(each(one(ReconciledRow)), "Each row of the sheet beside it.")
    chi_square = needed(
        a_number,
        "Sum of the squared distances of all rows from the most likely water, each over its standard "
        "uncertainty.",
    )
    degrees_of_freedom = needed(a_count, "How many independent checks the sheet offers.")
    probability = needed(a_number, "How often a sheet that is right shows as much or more by chance.")
    checks = needed(
        each(one(AcceptanceCheck)),
        "The rules by which a whole analysis is accepted, on the sheet as stated.",
    )
    suspicions = needed(
        each(one(Suspicion)),
        "What may be wrong, most likely first; empty where the sheet shows no more than chance does.",
    )
    missing = needed(
        each(one(MissingIon)),
        "How much there could be of each ion of which the sheet is silent, if that ion alone were there.",
    )
    not_judged = needed(each(one(NotJudged)), "What was not judged.")
    assumptions = needed(each(one(Assumption)), "What was taken for granted.")
    findings = needed(each(one(Finding)), "What the reader should know.")
    cautions = needed(each(one(Caution)), "Cautions for whoever drinks it.")
    provenance = needed(one(Provenance), "What the answer rests on.")
