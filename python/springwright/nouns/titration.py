"""The answer `Titration` and what it alone is made of.

Written by generate/nouns.py from openapi/springwright.json.
"""

from __future__ import annotations

from .._noun import Noun, maybe, maybe_empty, needed
from .._read import a_number, a_text, each, one, yes_or_no
from .parts import Assumption, Caution, Finding, NotJudged, Provenance, Water


class Addition(Noun):
    """What is added of an article. Masses are as computed, not in steps of a balance."""

    __slots__ = ()

    salt = needed(a_text, "Id in the catalogue.")
    name = needed(a_text, "Its name.")
    assay_percent = needed(a_number, "g of the formula in 100 g weighed.")
    mmol_per_l = needed(a_number, "mmol of the formula per litre of the water before.")
    g_per_l = needed(a_number, "g to weigh per litre of the water before.")
    formula = maybe(a_text, "Its formula, water of crystallisation included.")
    lot = maybe(a_text, "The label that was given.")
    mass_g = maybe(a_number, "g to weigh for `volume_l`.")


class CurvePoint(Noun):
    """One point of a curve."""

    __slots__ = ()

    mmol_per_l = needed(
        a_number,
        "mmol added per litre of the water before: of the article, or of strong acid or base.",
    )
    ph = needed(a_number, "pH there.")
    g_per_l = maybe(a_number, "g weighed per litre of the water before, where an article was named.")


class EndPoint(Noun):
    """Alkalinity as a titration with strong acid finds it, and the identity with the charge form:
    `charge_form_meq_per_l` = `titrated_meq_per_l` + `left_meq_per_l`.
    """

    __slots__ = ()

    titrated_meq_per_l = needed(
        a_number,
        "Strong acid to the end point, in meq per litre of the water before.",
    )
    charge_form_meq_per_l = needed(
        a_number,
        "Strong cations less strong anions: what mixes and is conserved.",
    )
    left_meq_per_l = needed(
        a_number,
        "What weak acids and the carbonate that is left still hold at the end point, less the free acid.",
    )


class WhyNot(Noun):
    """Why a pH is not reached."""

    __slots__ = ()

    code = needed(
        a_text,
        "`moves_away`, `levels_off` (the least that comes within 0.01 of the nearest pH is told), "
        "`most_added` or `model_ends`.",
    )
    text = needed(a_text, "The same in words with numbers.")


class Titration(Noun):
    """What brings a water to a pH."""

    __slots__ = ()

    reached = needed(
        yes_or_no,
        "Whether the wanted pH is reached. Where it is not, what is added, and the water after, are those "
        "of the nearest pH.",
    )
    to_ph = needed(a_number, "The wanted pH.")
    ph = needed(a_number, "The pH that is reached.")
    before = needed(one(Water), "The water before, closed.")
    after = needed(one(Water), "The water after.")
    not_judged = needed(each(one(NotJudged)), "What was not judged.")
    assumptions = needed(each(one(Assumption)), "What was taken for granted.")
    findings = needed(each(one(Finding)), "What the reader should know.")
    cautions = needed(each(one(Caution)), "Cautions for whoever handles or drinks it.")
    provenance = needed(one(Provenance), "What the answer rests on.")
    acid_meq = maybe(a_number, "The same for `volume_l`, in meq.")
    acid_meq_per_l = maybe(
        a_number,
        "The equivalents of this titration: strong acid that brings the water to the wanted pH, in meq per "
        "litre of the water before; below zero strong base. Where no article was named and that pH is not "
        "reached, to the nearest; where one was named and even strong acid or base does not reach it, "
        "absent.",
    )
    addition = maybe(one(Addition), "What is added of the article that was named.")
    buffer_after_mmol_per_l = maybe(a_number, "Buffer capacity of the water after.")
    buffer_before_mmol_per_l = maybe(
        a_number,
        "Buffer capacity of the water before, in mmol of strong base per litre and unit of pH.",
    )
    co2_given_off_mg_per_l = maybe(
        a_number,
        "Carbon dioxide that leaves an open vessel, in mg per litre of the water before; below zero it "
        "comes in.",
    )
    co2_set_free_mg_per_l = maybe(
        a_number,
        "Carbon dioxide that bicarbonate and carbonate set free, in mg per litre of the water before; below "
        "zero it was bound. Absent where nothing tells how much carbonate the water before holds.",
    )
    curve = maybe_empty(each(one(CurvePoint)), "The curve that was asked for.")
    end_point = maybe(
        one(EndPoint),
        "Where the wanted pH is an end point of an alkalinity titration (3.5 to 5.5): what that titration "
        "finds.",
    )
    why_not = maybe(one(WhyNot), "Why it is not the wanted one.")
