//! One step of the dual simplex method on sizes: a basic variable outside its bounds leaves, variables between two
//! bounds are flipped over as long as that does not exhaust the violation, and the first one that blocks enters.

use super::dictionary::Dictionary;
use super::form::Form;
use super::program::{Meter, Verdict};

/// Coefficients smaller than this count as zero.
const ZERO: f64 = 1e-11;
/// Ratios closer than this are a tie.
const TIE: f64 = 1e-12;

/// The basic variable that leaves.
struct Leaving {
    row: usize,
    /// Bound (or kink) that it goes to.
    target: f64,
    /// +1 when it must rise to the target, −1 when it must fall.
    toward: f64,
    /// How far away the target is.
    distance: f64,
    tolerance: f64,
    /// Whether it is a wished row, which may change its sign instead.
    wish: bool,
}

/// What blocks the price of the leaving variable.
enum Block {
    /// This column, after that much.
    Column(usize, f64),
    /// Nothing before the wished row has changed its sign.
    Sign,
    /// Nothing at all: the row cannot reach its target.
    Nothing,
    /// Nothing but coefficients too small to trust.
    Doubtful,
}

impl Dictionary {
    /// Steps until optimal, cut off, proved empty or capped.
    pub(super) fn run(&mut self, form: &Form, cutoff: f64, meter: &mut Meter) -> Verdict {
        meter.counts.relaxations += 1;
        meter.cells += self.table.cells();
        self.sound = false;
        let cap = 100 + 10 * (form.width + form.height);
        for _ in 0..cap {
            if self.worn() {
                self.rebuild(form);
                meter.cells += self.table.cells() * form.width as u64;
            }
            let sizes = self.slope.iter().zip(&self.value);
            self.bound = sizes.fold(0.0, |sum, (slope, value)| sum + slope * value);
            if self.bound >= cutoff {
                return Verdict::Cut;
            }
            let Some(leaving) = self.leaving(form) else {
                self.sound = true;
                return Verdict::Optimal;
            };
            meter.cells += self.table.cells();
            match self.first_block(form, &leaving) {
                Block::Nothing => {
                    self.bound = f64::INFINITY;
                    return Verdict::Empty;
                }
                Block::Doubtful => return Verdict::Stalled,
                Block::Sign => self.change_sign(&leaving),
                Block::Column(column, ratio) => {
                    meter.counts.pivots += 1;
                    self.enter(form, &leaving, column, ratio);
                }
            }
        }
        Verdict::Stalled
    }

    /// The row with the largest violation² / (1 + ‖row‖²).
    fn leaving(&self, form: &Form) -> Option<Leaving> {
        let mut best: Option<(f64, Leaving)> = None;
        for (row, &variable) in self.basic.iter().enumerate() {
            let variable = variable as usize;
            let (value, slope, wish) = (self.value[row], self.slope[row], form.is_wish(variable));
            let (low, high) = match wish {
                true if slope > 0.0 => (0.0, f64::INFINITY),
                true => (f64::NEG_INFINITY, 0.0),
                false => (self.lower[variable], self.upper[variable]),
            };
            let (toward, target, distance) =
                if value < low { (1.0, low, low - value) } else { (-1.0, high, value - high) };
            let tolerance = form.tolerance[variable];
            if distance <= tolerance {
                continue;
            }
            let norm = self.table.row(row).iter().fold(1.0, |sum, t| sum + t * t);
            let weight = distance * distance / norm;
            if best.as_ref().is_none_or(|(most, _)| weight > *most) {
                best = Some((weight, Leaving { row, target, toward, distance, tolerance, wish }));
            }
        }
        best.map(|(_, leaving)| leaving)
    }

    /// How much the price of the leaving variable may grow before this column's price becomes wrong, and the rate.
    fn ratio(&self, form: &Form, leaving: &Leaving, column: usize) -> Option<(f64, f64)> {
        let variable = self.nonbasic[column] as usize;
        let rate = leaving.toward * self.table.at(leaving.row, column);
        if rate.abs() <= ZERO || self.fixed(variable) {
            return None;
        }
        let price = self.price[column];
        let room = match (form.is_wish(variable), rate > 0.0) {
            (true, true) => price + 1.0,
            (true, false) => 1.0 - price,
            (false, true) if !self.high[column] => price,
            (false, false) if self.high[column] => -price,
            _ => return None,
        };
        Some(((room / rate.abs()).max(0.0), rate.abs()))
    }

    /// Flips what can be flipped and finds what blocks.
    fn first_block(&mut self, form: &Form, leaving: &Leaving) -> Block {
        self.flips.fill(false);
        let mut left = leaving.distance;
        loop {
            let mut first: Option<(usize, f64, f64)> = None;
            for column in (0..form.width).filter(|&c| !self.flips[c]) {
                let Some((ratio, rate)) = self.ratio(form, leaving, column) else { continue };
                let better = first.is_none_or(|(_, best, best_rate)| {
                    ratio < best - TIE || (ratio <= best + TIE && rate > best_rate)
                });
                if better {
                    first = Some((column, ratio, rate));
                }
            }
            let Some((column, ratio, rate)) = first.filter(|f| !leaving.wish || f.1 < 2.0) else {
                return self.unblocked(leaving, left);
            };
            let variable = self.nonbasic[column] as usize;
            let range = self.upper[variable] - self.lower[variable];
            if form.is_wish(variable) || left - rate * range <= leaving.tolerance {
                return Block::Column(column, ratio);
            }
            left -= rate * range;
            self.flips[column] = true;
        }
    }

    /// Nothing blocks: a wished row changes its sign; any other cannot be mended.
    fn unblocked(&self, leaving: &Leaving, left: f64) -> Block {
        if leaving.wish {
            return Block::Sign;
        }
        // Coefficients that count as zero might add up to what is left.
        let mut ignored = 0.0;
        for (column, &variable) in self.nonbasic.iter().enumerate() {
            let coefficient = self.table.at(leaving.row, column).abs();
            let variable = variable as usize;
            if coefficient > 0.0 && coefficient <= ZERO && !self.fixed(variable) {
                ignored += coefficient * (self.upper[variable] - self.lower[variable]).min(1e6);
            }
        }
        if left > leaving.tolerance + ignored { Block::Nothing } else { Block::Doubtful }
    }

    /// Adds `amount` of the leaving row's price to the prices, and flips the columns that were passed.
    fn advance(&mut self, leaving: &Leaving, amount: f64) {
        let factor = leaving.toward * amount;
        self.price.iter_mut().zip(self.table.row(leaving.row)).for_each(|(g, t)| *g -= factor * t);
        for column in 0..self.flips.len() {
            if self.flips[column] {
                self.flip(column);
            }
        }
    }

    /// After an empty program: the multiplier of each hard row (as stated, not as scaled) in the combination that
    /// no point within the bounds can satisfy.
    pub(super) fn combination(&self, form: &Form) -> Vec<f64> {
        let mut multipliers = vec![0.0; form.height - form.wishes];
        let Some(leaving) = self.leaving(form) else { return multipliers };
        let first = form.width + form.wishes;
        let mut set = |variable: usize, multiplier: f64| {
            if variable >= first {
                multipliers[variable - first] = multiplier * form.scale[variable - form.width];
            }
        };
        set(self.basic[leaving.row] as usize, 1.0);
        for (&variable, coefficient) in self.nonbasic.iter().zip(self.table.row(leaving.row)) {
            let small = coefficient.abs() <= ZERO;
            set(variable as usize, if small { 0.0 } else { -coefficient });
        }
        multipliers
    }

    fn change_sign(&mut self, leaving: &Leaving) {
        self.advance(leaving, 2.0);
        self.slope[leaving.row] = -self.slope[leaving.row];
    }

    fn enter(&mut self, form: &Form, leaving: &Leaving, column: usize, ratio: f64) {
        self.advance(leaving, ratio);
        let row = leaving.row;
        let left_slope = self.slope[row] - leaving.toward * ratio;
        let falls = leaving.toward * self.table.at(row, column) > 0.0;
        let entering = self.nonbasic[column] as usize;
        self.exchange(row, column, leaving.target);
        self.slope[row] = match form.is_wish(entering) {
            true if falls => 1.0,
            true => -1.0,
            false => 0.0,
        };
        self.price[column] = -left_slope;
        self.high[column] = leaving.toward < 0.0;
    }
}
