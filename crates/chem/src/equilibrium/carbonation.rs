//! CO2 states: what stands over a water or was pressed into it.

use super::constants::{ATMOSPHERE, GAS};
use super::fault::EquilibriumError;
use super::gas::compression_factor;
use super::model::Model;
use super::speciation::Speciation;
use super::system::{Given, Known};
use super::water::vapour_pressure;
use libm::pow;

/// Molar volume of CO2 gas at 0 °C and 1 atm, L/mol (real gas; the ideal one would fill 22.414). The "volume" of the
/// carbonation charts.
pub const NORMAL_VOLUME: f64 = 22.263;
/// Molar mass of CO2, g/mol (IUPAC abridged weights: 12.011 + 2 × 15.999).
pub const CO2_MOLAR_MASS: f64 = 44.009;
/// Share of CO2 in dry air by volume; about 2024, rising by 2.5e-6 a year.
pub const AIR_SHARE: f64 = 4.25e-4;

/// How the CO2 of a water is stated.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CarbonDioxide {
    /// What is dissolved stays: all carbonate, mol per kg of water.
    Closed {
        /// Dissolved carbonate, mol/kg.
        dic: f64,
    },
    /// In equilibrium with air at an altitude.
    OpenToAir {
        /// Height above the sea, m.
        altitude_m: f64,
    },
    /// In equilibrium with a partial pressure of CO2.
    PartialPressure {
        /// Partial pressure, bar.
        pco2_bar: f64,
    },
    /// So many volumes of CO2 (0 °C, 1 atm) dissolved in one volume of the water.
    Volumes {
        /// Volumes.
        volumes: f64,
    },
    /// So much free CO2 dissolved.
    Dissolved {
        /// g per litre of the water.
        grams_per_l: f64,
    },
    /// Under CO2 in a keg, with the gauge against the air outside.
    Keg {
        /// Gauge pressure, bar.
        gauge_bar: f64,
        /// Height above the sea, m.
        altitude_m: f64,
    },
    /// Filled and closed with all carbonate in the water, under a headspace of air of one atmosphere; then part of the
    /// CO2 goes up.
    Bottle {
        /// Headspace, percent of the bottle.
        headspace_percent: f64,
        /// Carbonate in the water when the bottle was closed, mol/kg.
        dic: f64,
    },
}

/// Pressure of the air at a height in m, Pa (ICAO standard atmosphere, up to 11 km).
pub fn air_pressure(altitude_m: f64) -> f64 {
    ATMOSPHERE * pow(1.0 - 2.255_77e-5 * altitude_m, 5.255_88)
}

/// Gauge pressure, bar, of a keg in which CO2 at a partial pressure in bar and the vapour of the water are all that
/// stands over it, against the air outside at a height in m. Below zero where both together press less than the air does.
pub fn gauge_bar(model: &Model, pco2_bar: f64, altitude_m: f64) -> f64 {
    pco2_bar + (vapour_pressure(model.kelvin()) - air_pressure(altitude_m)) / 1e5
}

/// Volumes of CO2 (0 °C, 1 atm) dissolved in a volume of water: its molality, mol per kg, and the kg of water in a litre.
pub fn volumes(co2: f64, water_kg_per_l: f64) -> f64 {
    co2 * water_kg_per_l * NORMAL_VOLUME
}

/// A water in its bottle.
#[derive(Clone, Debug)]
pub struct Bottled {
    /// The water.
    pub state: Speciation,
    /// CO2 in the headspace, mol per kg of the water.
    pub headspace: f64,
    /// Pressure over that of the air, bar.
    pub gauge_bar: f64,
}

impl CarbonDioxide {
    /// The quantity of the carbonate system that this states, for a water with `water_kg_per_l` kg of water in a litre.
    /// A bottle has none before it is solved: see [`bottle`].
    ///
    /// # Errors
    /// A figure that is negative or not a number, a headspace not below 100 %, a pressure below that of the vapour.
    pub fn known(self, model: &Model, water_kg_per_l: f64) -> Result<Known, EquilibriumError> {
        let kelvin = model.kelvin();
        let dry = |total: f64| (total - vapour_pressure(kelvin)).max(0.0) / 1e5;
        let (what, value, known) = match self {
            CarbonDioxide::Closed { dic } | CarbonDioxide::Bottle { dic, .. } => {
                ("dissolved carbonate", dic, Known::Dic(dic))
            }
            CarbonDioxide::OpenToAir { altitude_m } => {
                let pressure = dry(air_pressure(altitude_m));
                ("altitude", altitude_m.max(0.0), Known::Pco2(AIR_SHARE * pressure))
            }
            CarbonDioxide::PartialPressure { pco2_bar } => ("CO2 pressure", pco2_bar, Known::Pco2(pco2_bar)),
            CarbonDioxide::Volumes { volumes } => {
                ("volumes of CO2", volumes, Known::Co2(volumes / NORMAL_VOLUME / water_kg_per_l))
            }
            CarbonDioxide::Dissolved { grams_per_l } => {
                ("dissolved CO2", grams_per_l, Known::Co2(grams_per_l / CO2_MOLAR_MASS / water_kg_per_l))
            }
            CarbonDioxide::Keg { gauge_bar, altitude_m } => {
                let pressure = dry(air_pressure(altitude_m) + gauge_bar * 1e5);
                ("gauge pressure", gauge_bar, Known::Pco2(pressure))
            }
        };
        if value.is_finite() && value >= 0.0 {
            Ok(known)
        } else {
            Err(EquilibriumError::Amount { what, value })
        }
    }
}

/// A water that shares its carbonate with the gas over it.
#[derive(Clone, Debug)]
pub struct Shared {
    /// The water.
    pub state: Speciation,
    /// CO2 in the gas, mol per kg of the water.
    pub in_gas: f64,
}

/// A water with alkalinity given that was closed into a bottle under a headspace: CO2 in water and gas together is what
/// went in. The air in the headspace stays at one atmosphere of its own.
///
/// # Errors
/// As [`share`]; a headspace that is not 0 or more and below 100 %.
pub fn bottle(
    model: &Model,
    given: &Given,
    headspace_percent: f64,
    water_kg_per_l: f64,
) -> Result<Bottled, EquilibriumError> {
    if !(0.0..100.0).contains(&headspace_percent) {
        return Err(EquilibriumError::Amount { what: "headspace", value: headspace_percent });
    }
    let litres_per_kg = headspace_percent / (100.0 - headspace_percent) / water_kg_per_l;
    let Shared { state, in_gas } = share(model, given, litres_per_kg)?;
    let gauge_bar = state.pco2() + vapour_pressure(model.kelvin()) / 1e5;
    Ok(Bottled { state, headspace: in_gas, gauge_bar })
}

/// A water with alkalinity given and, as its dissolved carbonate, all that water and gas hold together, in balance with so
/// many litres of gas over each kg of it.
///
/// # Errors
/// As [`Model::speciate`]; carbonate that is not stated as an amount.
pub fn share(model: &Model, given: &Given, litres_per_kg: f64) -> Result<Shared, EquilibriumError> {
    let Some(slot) = given.carbonate.iter().position(|known| matches!(known, Known::Dic(_))) else {
        return Err(EquilibriumError::StatedTwice { first: "CO2 pressure", second: "headspace" });
    };
    let whole = given.carbonate[slot].value();
    let room = litres_per_kg * 1e-3;
    let kelvin = model.kelvin();
    let above = |pascal: f64| pascal * room / (compression_factor(kelvin, pascal) * GAS * kelvin);
    let at = |dic: f64| -> Result<(f64, Shared), EquilibriumError> {
        let mut trial = given.clone();
        trial.carbonate[slot] = Known::Dic(dic);
        let state = model.speciate(&trial)?;
        let in_gas = if room > 0.0 { above(state.pco2() * 1e5) } else { 0.0 };
        Ok((dic + in_gas - whole, Shared { state, in_gas }))
    };
    let (mut low, mut high) = (0.0, whole);
    let mut best = at(whole)?;
    let mut x = whole;
    let mut last: Option<(f64, f64)> = None;
    for _ in 0..100 {
        let (off, _) = best;
        if off.abs() <= 1e-13 * whole || high - low <= 1e-15 * whole {
            break;
        }
        if off > 0.0 {
            high = x;
        } else {
            low = x;
        }
        let slope = last.map_or(1.0, |(before, old)| (off - old) / (x - before));
        last = Some((x, off));
        let next = x - off / slope;
        x = if next > low && next < high { next } else { 0.5 * (low + high) };
        best = at(x)?;
    }
    Ok(best.1)
}

/// °C at which the carbonation charts set one volume at atmospheric pressure: 60 °F.
pub const CHART_CELSIUS: f64 = (60.0 - 32.0) / 1.8;

#[cfg(test)]
mod tests {
    use super::*;
    use crate::composition::pure_water::kell_1975;
    use crate::matter::component::Component;
    use crate::quantity::bounds::Celsius;

    fn model(t: f64) -> Model {
        Model::at(Celsius::new(t).unwrap()).unwrap()
    }

    fn dissolved(t: f64, state: CarbonDioxide) -> f64 {
        let water = kell_1975(t) / 1000.0;
        let model = model(t);
        let known = state.known(&model, water).unwrap();
        let given = Given::new(Known::Alkalinity(0.0), known);
        model.speciate(&given).unwrap().co2() * water * CO2_MOLAR_MASS
    }

    /// Dissolved CO2 by gauge pressure, g/L, worked apart from Weiss 1974 with vapour taken off and fugacity but without the
    /// work against pressure (0.6 % at 4 bar), one decimal: 0.05 g/L and 1 %.
    #[test]
    fn kegs_hold_what_the_solubility_tables_say() {
        let table = [
            (5.0, [4.2, 5.5, 8.3, 10.9, 13.6]),
            (10.0, [3.5, 4.6, 6.9, 9.2, 11.4]),
            (20.0, [2.5, 3.4, 5.0, 6.7, 8.3]),
        ];
        for (t, row) in table {
            for (gauge_bar, grams) in [0.5, 1.0, 2.0, 3.0, 4.0].iter().zip(row) {
                let got = dissolved(t, CarbonDioxide::Keg { gauge_bar: *gauge_bar, altitude_m: 0.0 });
                assert!(
                    (got - grams).abs() < 0.05 + 0.01 * grams,
                    "{t} °C {gauge_bar} bar: {got} for {grams}"
                );
            }
        }
    }

    /// Identity: the gauge that is read off a keg is the one that was set, and volumes are those that were asked (1e-12).
    #[test]
    fn a_gauge_reads_what_was_set() {
        let model = model(7.0);
        for (gauge, altitude_m) in [(0.0, 0.0), (2.5, 0.0), (2.5, 1600.0)] {
            let keg = CarbonDioxide::Keg { gauge_bar: gauge, altitude_m };
            let Known::Pco2(bar) = keg.known(&model, 1.0).unwrap() else { panic!("a keg states a pressure") };
            assert!((gauge_bar(&model, bar, altitude_m) - gauge).abs() < 1e-12);
        }
        let Known::Co2(co2) = (CarbonDioxide::Volumes { volumes: 3.5 }).known(&model, 0.99).unwrap() else {
            panic!("volumes state dissolved CO2")
        };
        assert!((volumes(co2, 0.99) - 3.5).abs() < 1e-12);
    }

    /// Trade chart: one volume at 60 °F under one atmosphere of CO2, 1.00 (Bunsen coefficient); 1.5 %. Frey 1958 at 1 atm
    /// total, g per 100 g: 0.232, 0.169, 0.126, 0.097 at 10 to 40 °C (from memory); 2 %.
    #[test]
    fn charts_agree() {
        let pco2_bar = ATMOSPHERE / 1e5;
        let grams = dissolved(CHART_CELSIUS, CarbonDioxide::PartialPressure { pco2_bar });
        assert!((grams / CO2_MOLAR_MASS * NORMAL_VOLUME - 1.0).abs() < 0.015);
        for (t, frey) in [(10.0, 2.32), (20.0, 1.69), (30.0, 1.26), (40.0, 0.97)] {
            let got = dissolved(t, CarbonDioxide::Keg { gauge_bar: 0.0, altitude_m: 0.0 });
            assert!((got / frey - 1.0).abs() < 0.02, "{t}: {got}");
        }
    }

    /// ICAO standard atmosphere: 898.7, 795.0 hPa at 1000 and 2000 m; 0.1 %.
    #[test]
    fn air_gets_thin() {
        assert!((air_pressure(1000.0) / 89_874.6 - 1.0).abs() < 1e-3);
        assert!((air_pressure(2000.0) / 79_495.2 - 1.0).abs() < 1e-3);
    }

    /// Identity: CO2 in water and headspace is what went in (1e-12), pressure falls as the headspace grows, and volumes and
    /// grams per litre say the same.
    #[test]
    fn a_bottle_keeps_its_carbon() {
        let model = model(8.0);
        let given = Given::new(Known::Alkalinity(0.003), Known::Dic(0.15))
            .with(Component::CA, 0.001)
            .with(Component::NA, 0.001);
        let mut before = f64::INFINITY;
        for percent in [0.0, 2.0, 5.0, 30.0, 90.0] {
            let bottled = bottle(&model, &given, percent, 0.9998).unwrap();
            assert!((bottled.state.dic + bottled.headspace - 0.15).abs() < 1e-12, "{percent}");
            assert!(bottled.state.pco2() < before);
            before = bottled.state.pco2();
        }
        let grams = dissolved(8.0, CarbonDioxide::Volumes { volumes: 3.0 });
        assert!((grams - 3.0 / NORMAL_VOLUME * CO2_MOLAR_MASS).abs() < 1e-9);
        assert!(bottle(&model, &given, 100.0, 1.0).is_err());
    }

    /// Rain and air: pure water under air of 425 ppm has pH 5.6 (textbooks), here 5.60 to 5.62 at 25 °C.
    #[test]
    fn pure_water_under_air() {
        let model = model(25.0);
        let known = CarbonDioxide::OpenToAir { altitude_m: 0.0 }.known(&model, 0.997).unwrap();
        let ph = model.speciate(&Given::new(Known::Alkalinity(0.0), known)).unwrap().ph;
        assert!((5.58..5.64).contains(&ph), "{ph}");
    }
}
