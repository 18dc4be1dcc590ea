//! Steps of the least-squares program: from the corner to the optimum without hard rows, then one broken bound
//! after the other is mended while every held line keeps the right sign of its dual. The objective only grows, so
//! that it is a lower bound at every step.

use super::form::Form;
use super::program::{Meter, Verdict};
use super::sweep::{FLAT, Sweep};

/// Duals smaller than this count as zero when the sign is judged.
const QUIET: f64 = 1e-12;

/// A free line outside its bounds.
struct Broken {
    line: usize,
    target: f64,
    /// +1 when it must rise, −1 when it must fall.
    toward: f64,
}

impl Sweep {
    /// Steps until optimal, cut off, proved empty or capped.
    pub(super) fn run(&mut self, form: &Form, cutoff: f64, meter: &mut Meter) -> Verdict {
        meter.counts.relaxations += 1;
        meter.cells += self.table.cells();
        self.sound = false;
        if !self.begun {
            (0..form.width).for_each(|line| self.drive(line, self.lower[line]));
            self.descend(form, meter);
            self.begun = true;
        }
        self.follow_bounds(meter);
        let cap = 100 + 10 * self.lines;
        for _ in 0..cap {
            if self.worn() {
                self.rebuild(form);
                meter.cells += self.table.cells() * self.lines as u64;
            }
            self.bound = self.certified(form);
            if self.bound >= cutoff {
                return Verdict::Cut;
            }
            let Some(broken) = self.broken(form) else {
                self.sound = true;
                return Verdict::Optimal;
            };
            meter.counts.pivots += 1;
            meter.cells += self.table.cells();
            if self.table.at(broken.line, broken.line) > FLAT {
                self.toggle(broken.line);
                self.carry(broken.line, broken.target, meter);
            } else if !self.exchange_flat(&broken) {
                if self.might_move(&broken) {
                    return Verdict::Stalled;
                }
                self.bound = f64::INFINITY;
                return Verdict::Empty;
            }
        }
        Verdict::Stalled
    }

    /// From the corner of lower bounds to the optimum within the bounds, hard rows left aside.
    fn descend(&mut self, form: &Form, meter: &mut Meter) {
        for _ in 0..20 * form.width + 20 {
            let mut best: Option<(f64, usize)> = None;
            for line in (0..form.width).filter(|&l| !self.free[l] && !self.fixed(l)) {
                let curvature = self.table.at(line, line);
                let dual = self.response[line];
                let wrong = if self.high[line] { dual > QUIET } else { dual < -QUIET };
                let gain = dual * dual / curvature.max(FLAT);
                if wrong && curvature > FLAT && best.is_none_or(|(most, _)| gain > most) {
                    best = Some((gain, line));
                }
            }
            let Some((_, line)) = best else { return };
            self.release(form, line, meter);
        }
    }

    /// Moves a held line off its bound until its dual vanishes or it meets its other bound; free lines that meet a
    /// bound on the way are held there.
    fn release(&mut self, form: &Form, line: usize, meter: &mut Meter) {
        let toward = if self.high[line] { -1.0 } else { 1.0 };
        for _ in 0..=form.width {
            meter.counts.pivots += 1;
            meter.cells += self.table.cells();
            let curvature = self.table.at(line, line);
            let whole = if curvature > FLAT { self.response[line].abs() / curvature } else { f64::INFINITY };
            let range = if self.high[line] {
                self.driver[line] - self.lower[line]
            } else {
                self.upper[line] - self.driver[line]
            };
            let mut first: Option<(f64, usize, bool)> = None;
            for other in (0..form.width).filter(|&l| self.free[l]) {
                let rate = toward * self.table.at(other, line);
                let (bound, high) =
                    if rate > 0.0 { (self.upper[other], true) } else { (self.lower[other], false) };
                let room = ((bound - self.response[other]) / rate).max(0.0);
                if rate.abs() > FLAT && first.is_none_or(|(least, _, _)| room < least) {
                    first = Some((room, other, high));
                }
            }
            match first {
                Some((room, other, high)) if room < whole.min(range) => {
                    self.drive(line, self.driver[line] + toward * room);
                    self.response[other] = if high { self.upper[other] } else { self.lower[other] };
                    self.toggle(other);
                    self.high[other] = high;
                }
                _ if whole <= range => {
                    self.drive(line, self.driver[line] + toward * whole);
                    self.response[line] = 0.0;
                    self.toggle(line);
                    return;
                }
                _ => {
                    self.high[line] = !self.high[line];
                    self.drive(line, if self.high[line] { self.upper[line] } else { self.lower[line] });
                    return;
                }
            }
        }
    }

    /// Carries held lines along to bounds that were tightened.
    fn follow_bounds(&mut self, meter: &mut Meter) {
        for line in 0..self.lines {
            if !self.free[line] {
                let target = if self.high[line] { self.upper[line] } else { self.lower[line] };
                self.carry(line, target, meter);
            }
        }
    }

    /// Moves the primal of a held line to `target`; held lines whose dual vanishes on the way are freed.
    fn carry(&mut self, line: usize, target: f64, meter: &mut Meter) {
        let toward = if target < self.driver[line] { -1.0 } else { 1.0 };
        for _ in 0..=self.lines {
            let distance = (target - self.driver[line]).abs();
            let mut first: Option<(f64, usize)> = None;
            for other in (0..self.lines).filter(|&l| l != line && !self.free[l] && !self.fixed(l)) {
                let rate = toward * self.table.at(other, line);
                let falls = if self.high[other] { rate > FLAT } else { rate < -FLAT };
                let room = (self.response[other] / rate).abs();
                let steep = falls && self.table.at(other, other) > FLAT;
                if steep && room < distance && first.is_none_or(|(least, _)| room < least) {
                    first = Some((room, other));
                }
            }
            let Some((room, other)) = first else { break };
            meter.counts.pivots += 1;
            meter.cells += self.table.cells();
            self.drive(line, self.driver[line] + toward * room);
            self.response[other] = 0.0;
            self.toggle(other);
        }
        self.drive(line, target);
        // A line that had to rise is held at a lower bound, one that had to fall at an upper bound.
        self.high[line] = if self.fixed(line) { false } else { target == self.upper[line] };
    }

    /// The free line furthest outside its bounds.
    fn broken(&self, form: &Form) -> Option<Broken> {
        let mut best: Option<(f64, Broken)> = None;
        for line in (0..self.lines).filter(|&l| self.free[l]) {
            let value = self.response[line];
            let (toward, target, distance) = if value < self.lower[line] {
                (1.0, self.lower[line], self.lower[line] - value)
            } else {
                (-1.0, self.upper[line], value - self.upper[line])
            };
            let tolerance = form.tolerance[Self::variable(form, line)];
            if distance > tolerance && best.as_ref().is_none_or(|(most, _)| distance > *most) {
                best = Some((distance, Broken { line, target, toward }));
            }
        }
        best.map(|(_, broken)| broken)
    }

    /// A broken line without curvature: its dual grows until that of a held line vanishes, which is then freed and
    /// moved along without cost until the broken line stands at its bound. False when nothing can give way.
    fn exchange_flat(&mut self, broken: &Broken) -> bool {
        let line = broken.line;
        let mut first: Option<(f64, f64, usize)> = None;
        for other in (0..self.lines).filter(|&l| !self.free[l] && !self.fixed(l)) {
            let rate = broken.toward * self.table.at(other, line);
            let falls = if self.high[other] { rate > FLAT } else { rate < -FLAT };
            if !falls {
                continue;
            }
            let room = (self.response[other] / rate).abs();
            let better = first.is_none_or(|(least, steepest, _)| {
                room < least - 1e-12 || (room <= least + 1e-12 && rate.abs() > steepest)
            });
            if better {
                first = Some((room, rate.abs(), other));
            }
        }
        let Some((room, _, other)) = first else { return false };
        self.drive(line, broken.toward * room);
        self.response[other] = 0.0;
        let step = (broken.target - self.response[line]) / self.table.at(line, other);
        self.drive(other, self.driver[other] + step);
        self.response[line] = broken.target;
        self.toggle_both(line, other);
        self.high[line] = !self.fixed(line) && broken.target == self.upper[line];
        true
    }

    /// Whether responses that count as zero could together mend a broken line after all.
    fn might_move(&self, broken: &Broken) -> bool {
        let held = (0..self.lines).filter(|&l| !self.free[l] && !self.fixed(l));
        let ignored = held.map(|other| {
            let rate = self.table.at(broken.line, other).abs();
            if rate > 0.0 && rate <= FLAT {
                rate * (self.upper[other] - self.lower[other]).min(1e6)
            } else {
                0.0
            }
        });
        let distance = (broken.target - self.response[broken.line]).abs();
        ignored.fold(0.0, |sum, x| sum + x) >= distance
    }

    /// Values of the wished rows at the present point.
    pub(super) fn wish_values(&self, form: &Form) -> Vec<f64> {
        let mut values = form.constant[..form.wishes].to_vec();
        for (row, value) in values.iter_mut().enumerate() {
            let cells = form.row(row).iter().enumerate();
            *value = cells.fold(*value, |sum, (line, a)| sum + a * self.primal(line));
        }
        values
    }

    /// A lower bound computed anew from matrix, point and duals; valid whatever errors the table has gathered:
    /// F(z') ≥ F(z) + 2 (z' − z)·∇, and ∇ = slopes + hard rows times their duals.
    fn certified(&self, form: &Form) -> f64 {
        let values = self.wish_values(form);
        let mut bound = values.iter().fold(0.0, |sum, r| sum + r * r);
        let mut slopes = vec![0.0; form.width];
        for (row, r) in values.iter().enumerate() {
            slopes.iter_mut().zip(form.row(row)).for_each(|(w, a)| *w += a * r);
        }
        for line in form.width..self.lines {
            let dual = self.dual(line);
            let limit = if dual > 0.0 { self.lower[line] } else { self.upper[line] };
            if dual == 0.0 || !limit.is_finite() {
                continue;
            }
            let cells = form.row(form.wishes + line - form.width);
            let mut value = form.constant[form.wishes + line - form.width];
            for (index, h) in cells.iter().enumerate() {
                slopes[index] -= h * dual;
                value += h * self.primal(index);
            }
            bound += 2.0 * dual * (limit - value);
        }
        for (line, slope) in slopes.iter().enumerate() {
            let (down, up) = (self.lower[line] - self.primal(line), self.upper[line] - self.primal(line));
            bound += 2.0 * (slope * down).min(slope * up);
        }
        bound
    }
}
