"""The calculations on a water. Each takes keyword arguments, or one mapping or JSON text, or both: what is stated by
keyword stands over what the mapping states. Each lets other threads run while it computes.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from . import _native
from ._asking import Request, calculated, told
from ._body import body_of
from .nouns import Carbonation, Conversion, Mixture, Reconciliation, SaltsPage, Saturation, Speciation, Titration

if TYPE_CHECKING:
    from . import request as ask


def convert(
    request: ask.ConversionRequest | Request | None = None,
    /,
    *,
    measured: ask.Amount | None = None,
    unit: str | None = None,
    of: str | None = None,
    basis: str | None = None,
    density_kg_per_l: float | None = None,
    water_kg_per_l: float | None = None,
    strict: bool | None = None,
) -> Conversion:
    """One amount in another unit or basis.

    Args:
        request: the whole request, if it is not stated by keyword.
        measured: the amount as stated.
        unit: the unit wanted.
        of: what it is an amount of: a component (`Ca`, `citrate`), `hardness`, `alkalinity`, `tds`, or the formula
            of a salt with its water.
        basis: the basis wanted, where it is not the thing itself.
        density_kg_per_l: density of the water, needed between litres and kilograms.
        water_kg_per_l: kg of solvent water in a litre, needed for amounts per kg of solvent.
        strict: refuse every assumption.

    Raises:
        RequestRefused: with every fault of the request.

    Two milliequivalents of alkalinity weigh as much as 100 mg of calcium carbonate, one equivalent being half a mole:

    >>> import springwright
    >>> told = springwright.convert(of="alkalinity", measured="2 meq/L", unit="mg/L", basis="CaCO3")
    >>> round(told.measured.value)
    100
    """
    stated = {
        "of": of,
        "measured": measured,
        "unit": unit,
        "basis": basis,
        "density_kg_per_l": density_kg_per_l,
        "water_kg_per_l": water_kg_per_l,
        "strict": strict,
    }
    return calculated(Conversion, "conversion", request, stated)


def mix(
    request: ask.MixtureRequest | Request | None = None,
    /,
    *,
    parts: Sequence[ask.MixturePart] | None = None,
    temperature_c: float | None = None,
    co2: ask.Co2 | None = None,
    uncertainty: ask.Uncertainty | None = None,
    strict: bool | None = None,
) -> Mixture:
    """The water that results when waters are poured together.

    Args:
        request: the whole request, if it is not stated by keyword.
        parts: what is poured, in any order: `water`, and `volume_l` or `mass_kg` of it.
        temperature_c: temperature of the finished water in °C; 20 unless given.
        co2: how its carbon dioxide is held; `closed` unless given.
        uncertainty: how the uncertainties of the inputs are carried into the answer.
        strict: refuse every assumption.

    Raises:
        RequestRefused: with every fault of the request.

    Equal masses of a water and of pure water hold half of what the water held:

    >>> import springwright
    >>> tap = {"analysis": {"Ca": "40 mg/L", "Cl": "70.8 mg/L"}}
    >>> made = springwright.mix(
    ...     parts=[{"water": tap, "mass_kg": 1}, {"water": {"pure": True}, "mass_kg": 1}], temperature_c=20
    ... )
    >>> round(made.water.ions["Ca"].mg_per_l, 1)
    20.0
    """
    stated = {"parts": parts, "temperature_c": temperature_c, "co2": co2, "uncertainty": uncertainty, "strict": strict}
    return calculated(Mixture, "mixture", request, stated)


def speciate(
    request: ask.SpeciationRequest | Request | None = None,
    /,
    *,
    water: ask.SourceWater | None = None,
    temperature_c: float | None = None,
    co2: ask.Co2 | None = None,
    uncertainty: ask.Uncertainty | None = None,
    strict: bool | None = None,
) -> Speciation:
    """What stands in a water, species by species, with its pH and all that follows.

    Two of alkalinity, pH, dissolved carbonate (`dic`), free carbon dioxide (`co2`) and its pressure must be known.

    Args:
        request: the whole request, if it is not stated by keyword.
        water: the water.
        temperature_c: temperature to which it is brought, in °C; its own unless given.
        co2: how its carbon dioxide is held; `closed` unless given.
        uncertainty: how the uncertainties of the inputs are carried into the answer.
        strict: refuse every assumption.

    Raises:
        RequestRefused: with every fault of the request.

    Baking soda in still water gives a pH between 8 and 9 (common practice, no published source):

    >>> import springwright
    >>> soda = {"pure": True, "temperature_c": 20, "added": [{"formula": "NaHCO3", "mg_per_l": 300}]}
    >>> 8 < springwright.speciate(water=soda).water.ph < 9
    True
    """
    stated = {"water": water, "temperature_c": temperature_c, "co2": co2, "uncertainty": uncertainty, "strict": strict}
    return calculated(Speciation, "speciation", request, stated)


def saturation(
    request: ask.SaturationRequest | Request | None = None,
    /,
    *,
    water: ask.SourceWater | None = None,
    temperature_c: float | None = None,
    co2: ask.Co2 | None = None,
    solids: Sequence[str] | None = None,
    temperatures_c: Sequence[float] | None = None,
    uncertainty: ask.Uncertainty | None = None,
    strict: bool | None = None,
) -> Saturation:
    """How far a water stands from the solids that it could make.

    Args:
        request: the whole request, if it is not stated by keyword.
        water: the water.
        temperature_c: temperature to which it is brought, in °C; its own unless given.
        co2: how its carbon dioxide is held; `closed` unless given.
        solids: the solids that are asked for; every one that the water could make unless given.
        temperatures_c: further temperatures in °C at which the same water, closed, is judged too.
        uncertainty: how the uncertainties of the inputs are carried into the answer.
        strict: refuse every assumption.

    Raises:
        RequestRefused: with every fault of the request.

    A hard water that is just clear when cold is over the line when hot:

    >>> import springwright
    >>> tap = {
    ...     "ph": 7.4, "temperature_c": 10, "missing": {"Mg": "zero", "Na": "zero", "K": "zero", "SO4": "zero"},
    ...     "analysis": {"Ca": "100 mg/L", "Cl": "35 mg/L", "alkalinity": "200 mg/L as CaCO3"},
    ... }
    >>> told = springwright.saturation(water=tap, solids=["calcite"], temperatures_c=[60])
    >>> told.saturation[0].si < told.at_temperatures[0].saturation[0].si
    True
    """
    stated = {
        "water": water,
        "temperature_c": temperature_c,
        "co2": co2,
        "solids": solids,
        "temperatures_c": temperatures_c,
        "uncertainty": uncertainty,
        "strict": strict,
    }
    return calculated(Saturation, "saturation", request, stated)


def carbonate_to(
    request: ask.CarbonationRequest | Request | None = None,
    /,
    *,
    water: ask.SourceWater | None = None,
    co2: ask.Co2 | None = None,
    temperature_c: float | None = None,
    volume_l: float | None = None,
    altitude_m: float | None = None,
    strict: bool | None = None,
) -> Carbonation:
    """How a water is carbonated: grams of carbon dioxide, the pressure to set, and what becomes of it once opened.

    Args:
        request: the whole request, if it is not stated by keyword.
        water: the still water.
        co2: the wanted state: `volumes`, `dissolved`, `keg`, `partial_pressure`, `open_to_air` or `bottle`.
        temperature_c: temperature at which it is carbonated and stands, in °C; that of the water unless given.
        volume_l: litres of the still water.
        altitude_m: height above the sea in m at which gauges are read.
        strict: refuse every assumption.

    Raises:
        RequestRefused: with every fault of the request.

    The colder the keg, the less pressure the same sparkle takes:

    >>> import springwright
    >>> soda = {"pure": True, "temperature_c": 12, "added": [{"formula": "NaHCO3", "mg_per_l": 200}]}
    >>> told = springwright.carbonate_to(water=soda, co2={"state": "volumes", "volumes": 3}, altitude_m=0)
    >>> told.pressures[0].gauge_bar < told.pressures[-1].gauge_bar
    True
    """
    stated = {
        "water": water,
        "co2": co2,
        "temperature_c": temperature_c,
        "volume_l": volume_l,
        "altitude_m": altitude_m,
        "strict": strict,
    }
    return calculated(Carbonation, "carbonation", request, stated)


def titrate(
    request: ask.TitrationRequest | Request | None = None,
    /,
    *,
    water: ask.SourceWater | None = None,
    to_ph: float | None = None,
    titrant: ask.Titrant | None = None,
    vessel: ask.Co2 | None = None,
    temperature_c: float | None = None,
    volume_l: float | None = None,
    curve_points: int | None = None,
    strict: bool | None = None,
) -> Titration:
    """What brings a water to a pH: an acid or base of the catalogue, or strong acid in equivalents.

    Args:
        request: the whole request, if it is not stated by keyword.
        water: the water before.
        to_ph: the wanted pH.
        titrant: what is added; without it hydrochloric acid or sodium hydroxide, in equivalents.
        vessel: what becomes of the carbon dioxide on the way; `closed` unless given.
        temperature_c: temperature of the water in °C; its own unless given.
        volume_l: litres of the water before.
        curve_points: points of a curve of pH against what is added.
        strict: refuse every assumption.

    Raises:
        RequestRefused: with every fault of the request.

    Nearly all of a bicarbonate water's alkalinity is gone at pH 4.5:

    >>> import springwright
    >>> soda = {"pure": True, "temperature_c": 20, "added": [{"formula": "NaHCO3", "mg_per_l": 336.024}]}
    >>> 3.8 < springwright.titrate(water=soda, to_ph=4.5).acid_meq_per_l < 4.0
    True
    """
    stated = {
        "water": water,
        "to_ph": to_ph,
        "titrant": titrant,
        "vessel": vessel,
        "temperature_c": temperature_c,
        "volume_l": volume_l,
        "curve_points": curve_points,
        "strict": strict,
    }
    return calculated(Titration, "titration", request, stated)


def reconcile(
    request: ask.ReconciliationRequest | Request | None = None,
    /,
    *,
    water: ask.SourceWater | None = None,
    conductivity: ask.Amount | None = None,
    conductivity_temperature_c: float | None = None,
    tds: ask.Amount | None = None,
    residue_180c: ask.Amount | None = None,
    strict: bool | None = None,
) -> Reconciliation:
    """The water that an analysis most likely means, and which of its numbers may be wrong.

    Args:
        request: the whole request, if it is not stated by keyword.
        water: the water with its analysis.
        conductivity: conductivity as measured.
        conductivity_temperature_c: temperature in °C that it refers to; 25 unless given.
        tds: dissolved solids as the sheet sums them.
        residue_180c: residue after drying at 180 °C.
        strict: refuse every assumption.

    Raises:
        RequestRefused: with every fault of the request.

    A sheet that states sulfur where sulfate is meant does not add up, and is told:

    >>> import springwright
    >>> sheet = {
    ...     "ph": 7.5, "temperature_c": 20,
    ...     "analysis": {
    ...         "Ca": "86 mg/L", "Mg": "14 mg/L", "Na": "12 mg/L", "K": "2 mg/L",
    ...         "Cl": "21 mg/L", "SO4": "26 mg/L", "NO3": "6 mg/L", "alkalinity": "205 mg/L as CaCO3",
    ...     },
    ... }
    >>> told = springwright.reconcile(water=sheet, conductivity="556 uS/cm")
    >>> told.suspicions[0].pointer
    '/water/analysis/SO4'
    """
    stated = {
        "water": water,
        "conductivity": conductivity,
        "conductivity_temperature_c": conductivity_temperature_c,
        "tds": tds,
        "residue_180c": residue_180c,
        "strict": strict,
    }
    return calculated(Reconciliation, "reconciliation", request, stated)


def salts(
    *,
    search: str | None = None,
    gives: str | None = None,
    food: bool | None = None,
    limit: int | None = None,
    cursor: str | None = None,
) -> SaltsPage:
    """A page of the catalogue, by id. All filters must hold.

    Args:
        search: part of an id, name, synonym, old name or formula.
        gives: a component that it must give, such as `Ca`.
        food: only what food law knows for general use.
        limit: at most so many rows; 50 unless given.
        cursor: where the last page ended: its `next_cursor`.

    Raises:
        RequestRefused: with every fault of the query.

    A formula with its water names one row:

    >>> import springwright
    >>> [salt.id for salt in springwright.salts(search="MgSO4·7H2O").salts]
    ['magnesium_sulfate_heptahydrate']
    """
    query = {"search": search, "gives": gives, "food": food, "limit": limit, "cursor": cursor}
    return told(SaltsPage, _native.salts(body_of(None, query)))


def data_set() -> str:
    """SHA-256 of the compiled-in data tables, in hex: the same in the provenance of every answer."""
    return _native.data_set()
