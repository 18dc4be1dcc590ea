//! What a service proves before it says that it is ready: known calculations through the same call as every door.

use serde_json::{Value, json};
use springwright_contract::answer::calculate;
use springwright_contract::reading::Amounts;

/// Runs every known calculation.
///
/// # Errors
/// Which one came out wrong.
pub fn run() -> Result<(), &'static str> {
    alkalinity()?;
    salt_in_water()
}

/// 50 mg/L as CaCO3 are 61 mg/L as HCO3 by the atomic weights: 2 · 61.016 / 100.086.
fn alkalinity() -> Result<(), &'static str> {
    let request = json!({
        "of": "alkalinity", "measured": {"value": 50, "unit": "mg/L", "basis": "CaCO3"},
        "unit": "mg/L", "basis": "HCO3",
    });
    let expected = 50.0 * 2.0 * 61.016 / 100.086;
    let got = number("conversion", &request, "/measured/value");
    near(got, expected, 1e-3).then_some(()).ok_or("conversion")
}

/// 20.00 g of NaHCO3 in 20 L bring 273.7 mg/L of sodium: 22.990 / 84.006 of a gram a litre. Asked for that, the
/// blend weighs just this.
fn salt_in_water() -> Result<(), &'static str> {
    let request = json!({
        "volume_l": 20, "temperature_c": 20, "waters": [{"pure": true, "temperature_c": 20}],
        "salts": [{"salt": "sodium_bicarbonate", "assay_percent": 100}],
        "target": [{"of": "Na", "near": {"value": 1000.0 * 22.990 / 84.006, "unit": "mg/L"}}],
        "balances": [{"step_g": 0.01, "most_g": 200}],
    });
    let got = number("blend", &request, "/weighings/0/mass_g");
    near(got, 20.0, 1e-3).then_some(()).ok_or("blend")
}

fn number(name: &str, request: &Value, pointer: &str) -> Option<f64> {
    let answer = calculate(name, request.to_string().as_bytes(), Amounts::Objects).ok()?;
    serde_json::from_str::<Value>(&answer).ok()?.pointer(pointer)?.as_f64()
}

fn near(got: Option<f64>, expected: f64, relative: f64) -> bool {
    got.is_some_and(|got| (got - expected).abs() <= relative * expected)
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_known_calculations_come_out_right() {
        assert_eq!(super::run(), Ok(()));
    }
}
