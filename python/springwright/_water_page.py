"""A water on a notebook page: cations, then anions, each by falling meq/L, then the sums and what it may drop."""

from __future__ import annotations

from html import escape

from ._figure import hundredths, significant, words
from ._markup import table
from .nouns import Water


def shown(title: str, water: Water) -> list[str]:
    amounts = [(water.volume_l, "L"), (water.mass_kg, "kg")]
    stated = "".join(f", {significant(amount, 5)} {unit}" for amount, unit in amounts if amount is not None)
    head = f"{title}{stated} at {significant(water.temperature_c, 3)} °C"
    parts = [
        table(head, ["", "#mg/L", "#mmol/L", "#meq/L"], _ions(water)),
        table("", ["", "#", ""], [*_acidity(water), *_sums(water)]),
    ]
    if water.saturation:
        rows = [[words(one.solid), hundredths(one.si)] for one in water.saturation]
        parts.append(table("Saturation index (0 is just saturated)", ["", "#"], rows))
    if water.not_stated:
        names = escape(", ".join(water.not_stated))
        parts.append(f"<p>Not stated on any sheet, therefore unknown: {names}</p>")
    return parts


def _ions(water: Water) -> list[list[str]]:
    """Cations, then anions, each by falling meq/L, then what carries no charge."""
    rows = [
        (_side(ion.charge), ion.meq_per_l or 0.0, [name, *map(_amount, (ion.mg_per_l, ion.mmol_per_l, ion.meq_per_l))])
        for name, ion in water.ions.items()
    ]
    alkalinity = water.alkalinity_meq_per_l
    if "HCO3" not in water.ions and alkalinity is not None:
        # Without a solved state the hydrogencarbonate of a water is its alkalinity expressed as such.
        cells = ["HCO3 (alkalinity)", *map(_amount, (water.alkalinity_mg_per_l_hco3, None, alkalinity))]
        rows.append((_side(-1), alkalinity, cells))
    return [cells for _, _, cells in sorted(rows, key=lambda row: (row[0], -row[1], row[2][0]))]


def _amount(value: float | None) -> str:
    return "" if value is None else significant(value, 4)


def _side(charge: int) -> int:
    return 0 if charge > 0 else 1 if charge < 0 else 2


def _acidity(water: Water) -> list[list[str]]:
    rows = [("pH", water.ph), ("once it stands in air", water.ph_in_air)]
    return [[name, hundredths(ph), ""] for name, ph in rows if ph is not None]


def _sums(water: Water) -> list[list[str]]:
    conductivity = water.conductivity_us_per_cm
    hardness = water.hardness_mg_per_l_caco3
    total, carbonate, other = (
        (None, None, None) if hardness is None else (hardness.total, hardness.carbonate, hardness.noncarbonate)
    )
    sums = [
        ("conductivity at 25 °C", None if conductivity is None else conductivity.at_25c, 4, "µS/cm"),
        ("free carbon dioxide", water.co2_mg_per_l, 3, "mg/L"),
        ("its pressure", water.pco2_bar, 3, "bar"),
        ("pressure on the gauge", water.gauge_bar, 3, "bar"),
        ("dissolved solids", water.tds_mg_per_l, 4, "mg/L"),
        ("residue at 180 °C", water.residue_180c_mg_per_l, 4, "mg/L"),
        ("hardness", total, 4, "mg/L as CaCO3"),
        ("of it carbonate", carbonate, 4, "mg/L as CaCO3"),
        ("of it other", other, 4, "mg/L as CaCO3"),
        ("alkalinity", water.alkalinity_meq_per_l, 4, "meq/L"),
        ("dissolved carbonate", water.dic_mmol_per_l, 4, "mmol/L"),
        ("ionic strength", water.ionic_strength_mol_per_kg, 3, "mol/kg"),
        ("osmolality", water.osmolality_mosmol_per_kg, 3, "mosmol/kg"),
        ("density", water.density_kg_per_l, 5, "kg/L"),
        ("charge balance", water.charge_balance_percent, 2, "%"),
    ]
    return [[name, significant(value, digits), unit] for name, value, digits, unit in sums if value is not None]
