//! Which wheels stand, which turn, and what holds them: dry friction of the brakes and the closed engine, and ties that
//! make wheels turn as one.
//!
//! A *stop* is something with dry friction: the four brakes, each on its wheel, and the engine's drag on the pinion. It
//! either turns, and then its torque is known, or it is held, and then its speed is. A held stop lets go when what
//! pulls at it is more than its friction. Locked differentials are rows of a constraint, so no stiff spring stands in
//! the equations.

use super::driveline::{Driveline, Tie};
use super::dynamics::{Entering, Firm, STOPS};

/// The engine's place among the stops.
const ENGINE: usize = 4;

/// A stop below this speed counts as standing when it is decided what is held (rad/s).
const STANDING_RAD_S: f64 = 1e-5;

type Vector = [f64; 4];
type Matrix = [[f64; 4]; 4];

/// What of the driveline is firm for a while.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Joined {
    /// The centre has let go.
    pub(super) let_go: bool,
    /// The clutch is up.
    pub(super) engine: bool,
}

impl Joined {
    const NOTHING: Self = Self {
        let_go: false,
        engine: false,
    };
}

/// Which stops are held, and what follows from it for the wheels' accelerations.
#[derive(Clone, Debug)]
pub(super) struct Mode {
    pub(super) held: [bool; STOPS],
    /// Ways, and accelerations over torques: `ω̇ = A Q`, held wheels and ties seen to.
    pub(super) firm: Firm<f64>,
    /// What a constraint or a held stop gives takes part in what enters a differential.
    pub(super) constrained: bool,
    /// Directions that the ties leave free, orthonormal.
    free: Basis,
    tied: bool,
}

#[derive(Clone, Copy, Debug)]
struct Basis {
    rows: [Vector; 4],
    count: usize,
}

fn dot(one: &Vector, other: &Vector) -> f64 {
    one[0] * other[0] + one[1] * other[1] + one[2] * other[2] + one[3] * other[3]
}

fn apply(matrix: &Matrix, vector: &Vector) -> Vector {
    [0, 1, 2, 3].map(|row| dot(&matrix[row], vector))
}

impl Basis {
    const EMPTY: Self = Self {
        rows: [[0.0; 4]; 4],
        count: 0,
    };

    /// Adds what is new in a direction; whether there was anything.
    fn add(&mut self, direction: &Vector) -> bool {
        let length = dot(direction, direction).sqrt();
        if self.count == 4 || length <= 0.0 {
            return false;
        }
        let mut rest = direction.map(|part| part / length);
        for _ in 0..2 {
            for row in &self.rows[..self.count] {
                let along = dot(row, &rest);
                for (part, of_row) in rest.iter_mut().zip(row) {
                    *part -= along * of_row;
                }
            }
        }
        let left = dot(&rest, &rest).sqrt();
        if left < 1e-9 {
            return false;
        }
        self.rows[self.count] = rest.map(|part| part / left);
        self.count += 1;
        true
    }

    /// Which axes these are, where each of them is one.
    fn axes(&self) -> Option<[bool; 4]> {
        let mut taken = [false; 4];
        for row in self.iter() {
            let mut along = (0..4).filter(|&axis| row[axis].abs() > 0.0);
            let (Some(axis), None) = (along.next(), along.next()) else {
                return None;
            };
            taken[axis] = true;
        }
        Some(taken)
    }

    /// The directions at right angles to all of these.
    fn complement(mut self) -> Self {
        if let Some(taken) = self.axes() {
            let mut other = Self::EMPTY;
            for axis in (0..4).filter(|&axis| !taken[axis]) {
                other.rows[other.count][axis] = 1.0;
                other.count += 1;
            }
            return other;
        }
        let taken = self.count;
        for axis in 0..4 {
            let mut unit = [0.0; 4];
            unit[axis] = 1.0;
            self.add(&unit);
        }
        let mut other = Self::EMPTY;
        for row in &self.rows[taken..self.count] {
            other.rows[other.count] = *row;
            other.count += 1;
        }
        other
    }

    fn iter(&self) -> impl Iterator<Item = &Vector> {
        self.rows[..self.count].iter()
    }
}

/// Direction in which a stop's torque acts on the wheels, and its speed over theirs.
fn direction(driveline: &Driveline, stop: usize) -> Vector {
    if stop == ENGINE {
        return driveline.pinion_turns;
    }
    let mut unit = [0.0; 4];
    unit[stop] = 1.0;
    unit
}

/// Rows of what is locked.
fn ties(driveline: &Driveline, joined: Joined) -> Basis {
    let mut rows = Basis::EMPTY;
    if driveline.front == Tie::Locked {
        rows.add(&[1.0, -1.0, 0.0, 0.0]);
    }
    if driveline.rear == Tie::Locked {
        rows.add(&[0.0, 0.0, 1.0, -1.0]);
    }
    if *driveline.centre_now(joined.let_go) == Tie::Locked {
        rows.add(&[1.0, 1.0, -1.0, -1.0]);
    }
    rows
}

/// `M = diag(J) + I_in c cᵀ`.
pub(super) fn mass(driveline: &Driveline, engine: bool) -> Matrix {
    let input = driveline.input_inertia_kg_m2
        + if engine {
            driveline.engine_inertia_kg_m2
        } else {
            0.0
        };
    let turns = &driveline.pinion_turns;
    let mut mass = [[0.0; 4]; 4];
    for (row, of_row) in mass.iter_mut().enumerate() {
        for (column, entry) in of_row.iter_mut().enumerate() {
            *entry = input * turns[row] * turns[column];
        }
        of_row[row] += driveline.wheel_inertia_kg_m2[row];
    }
    mass
}

/// `B (Bᵀ M B)⁻¹ Bᵀ`: accelerations over torques where only the directions of B are free.
fn response(mass: &Matrix, free: &Basis) -> Matrix {
    let count = free.count;
    let mut reduced = [[0.0; 8]; 4];
    for (row, left) in free.iter().enumerate() {
        let heavy = apply(mass, left);
        for (column, right) in free.iter().enumerate() {
            reduced[row][column] = dot(&heavy, right);
        }
        reduced[row][4 + row] = 1.0;
    }
    // Positive definite: no pivoting needed.
    for pivot in 0..count {
        let divisor = reduced[pivot][pivot];
        reduced[pivot].iter_mut().for_each(|entry| *entry /= divisor);
        let of_pivot = reduced[pivot];
        for (row, entries) in reduced.iter_mut().enumerate().take(count) {
            if row != pivot {
                let factor = entries[pivot];
                for (entry, from) in entries.iter_mut().zip(&of_pivot) {
                    *entry -= factor * from;
                }
            }
        }
    }
    let mut response = [[0.0; 4]; 4];
    for (one, left) in free.iter().enumerate() {
        for (other, right) in free.iter().enumerate() {
            let weight = reduced[one][4 + other];
            for (row, of_row) in response.iter_mut().enumerate() {
                for (column, entry) in of_row.iter_mut().enumerate() {
                    *entry += weight * left[row] * right[column];
                }
            }
        }
    }
    response
}

/// Speeds after ties have closed at once: `ω − M⁻¹Cᵀ(C M⁻¹Cᵀ)⁻¹C ω`, which keeps what momentum the ties leave free. A
/// brake's friction has no part in an impulse.
pub(super) fn closed(driveline: &Driveline, joined: Joined, spin: &Vector) -> Vector {
    let ties = ties(driveline, joined);
    if ties.iter().all(|row| dot(row, spin).abs() < 1e-12) {
        return *spin;
    }
    let mass = mass(driveline, joined.engine);
    apply(&response(&mass, &ties.complement()), &apply(&mass, spin))
}

/// Speed of a stop (rad/s).
pub(super) fn speed(driveline: &Driveline, stop: usize, spin: &Vector) -> f64 {
    if stop == ENGINE {
        dot(&driveline.pinion_turns, spin)
    } else {
        spin[stop]
    }
}

/// The way in which a stop turns.
fn way(speed_rad_s: f64) -> f64 {
    if speed_rad_s < 0.0 { -1.0 } else { 1.0 }
}

/// Brings a stop to rest without moving what the ties join against each other.
pub(super) fn stopped(driveline: &Driveline, joined: Joined, stop: usize, spin: &Vector) -> Vector {
    let response = response(
        &mass(driveline, joined.engine),
        &ties(driveline, joined).complement(),
    );
    let direction = direction(driveline, stop);
    let moved = apply(&response, &direction);
    let share = dot(&direction, spin) / dot(&direction, &moved);
    if !share.is_finite() {
        return *spin;
    }
    let mut stopped = *spin;
    for (part, by) in stopped.iter_mut().zip(&moved) {
        *part -= share * by;
    }
    if stop != ENGINE {
        stopped[stop] = 0.0;
    }
    stopped
}

impl Mode {
    /// Nothing held, each stop turning its way: enough to tell the torques, and nothing of accelerations.
    pub(super) fn turning(driveline: &Driveline, spin: &Vector) -> Self {
        let ways = [0, 1, 2, 3, 4].map(|stop| way(speed(driveline, stop, spin)));
        let nothing = [[0.0; 4]; 4];
        let (inputs, constrained) = entering(driveline, Joined::NOTHING, &[false; STOPS]);
        Self {
            held: [false; STOPS],
            firm: Firm {
                ways,
                response: nothing,
                mass: nothing,
                inputs,
            },
            constrained,
            free: Basis::EMPTY,
            tied: false,
        }
    }

    /// With these stops held and the others turning their ways.
    fn new(driveline: &Driveline, joined: Joined, held: [bool; STOPS], ways: [f64; STOPS]) -> Self {
        let ties = ties(driveline, joined);
        let mut rows = ties;
        for (stop, _) in held.iter().enumerate().filter(|&(_, &held)| held) {
            rows.add(&direction(driveline, stop));
        }
        let mass = mass(driveline, joined.engine);
        let mut response = response(&mass, &rows.complement());
        // Wheels that stand stay at exactly zero.
        for wheel in 0..4 {
            if held[wheel] {
                response[wheel] = [0.0; 4];
                response.iter_mut().for_each(|row| row[wheel] = 0.0);
            }
        }
        let (inputs, constrained) = entering(driveline, joined, &held);
        Self {
            held,
            firm: Firm {
                ways,
                response,
                mass,
                inputs,
            },
            constrained,
            free: ties.complement(),
            tied: ties.count > 0,
        }
    }

    /// Which of the standing stops are held, given what pulls: of all choices the one that agrees with itself, holding
    /// as many as it can. `torques_nm` are those on the wheels without any friction, `frictions_nm` what each stop can hold.
    pub(super) fn decide(
        driveline: &Driveline,
        joined: Joined,
        spin: &Vector,
        torques_nm: &Vector,
        frictions_nm: &[f64; STOPS],
    ) -> Self {
        let mut standing = [0; STOPS];
        let mut count = 0;
        let mut ways = [0.0; STOPS];
        for (stop, way) in ways.iter_mut().enumerate() {
            let speed = speed(driveline, stop, spin);
            if frictions_nm[stop] > 0.0 && speed.abs() <= STANDING_RAD_S {
                standing[count] = stop;
                count += 1;
            } else {
                *way = self::way(speed);
            }
        }
        let standing = &standing[..count];
        let mut best: Option<(f64, Self)> = None;
        for choice in choices(standing.len()) {
            let (mut held, mut ways) = ([false; STOPS], ways);
            for (&stop, &way) in standing.iter().zip(&choice) {
                held[stop] = way == 0;
                ways[stop] = f64::from(way);
            }
            let mode = Self::new(driveline, joined, held, ways);
            let wrong = mode.disagreement(driveline, standing, torques_nm, frictions_nm);
            if wrong <= 1e-9 {
                return mode;
            }
            if best.as_ref().is_none_or(|(least, _)| wrong < *least) {
                best = Some((wrong, mode));
            }
        }
        best.map_or_else(
            || Self::new(driveline, joined, [false; STOPS], ways),
            |(_, mode)| mode,
        )
    }

    /// How far a choice is from agreeing with itself: held stops that would need more than their friction, or turning
    /// ones that would turn the other way.
    fn disagreement(
        &self,
        driveline: &Driveline,
        standing: &[usize],
        torques_nm: &Vector,
        frictions_nm: &[f64; STOPS],
    ) -> f64 {
        let torques = self.with_friction(driveline, torques_nm, frictions_nm);
        let accelerations = self.firm.accelerations(&torques);
        let mut wrong = (self.effort(driveline, &torques, frictions_nm) - 1.0).max(0.0);
        for &stop in standing {
            if !self.held[stop] {
                let along = self.firm.ways[stop] * speed(driveline, stop, &accelerations);
                if along <= 0.0 {
                    wrong = wrong.max(1e-6 - along);
                }
            }
        }
        wrong
    }

    /// Torques with the friction of what turns.
    #[inline]
    pub(super) fn with_friction(
        &self,
        driveline: &Driveline,
        torques_nm: &Vector,
        frictions_nm: &[f64; STOPS],
    ) -> Vector {
        let mut torques = *torques_nm;
        let engine = self.firm.ways[ENGINE] * frictions_nm[ENGINE];
        for wheel in 0..4 {
            torques[wheel] -=
                self.firm.ways[wheel] * frictions_nm[wheel] + engine * driveline.pinion_turns[wheel];
        }
        torques
    }

    /// What the held stops have to give over what they can, 1 being the most; 0 where nothing is held.
    ///
    /// Where ties let several stops share, they can hold as long as *some* sharing is within each one's friction. That
    /// is so as long as on every motion that the pull could cause, it gives less work than their friction takes (virtual
    /// work); the motions to be tried are those on which all but enough of the stops rest.
    pub(super) fn effort(
        &self,
        driveline: &Driveline,
        torques_nm: &Vector,
        frictions_nm: &[f64; STOPS],
    ) -> f64 {
        if self.held == [false; STOPS] {
            return 0.0;
        }
        let missing = self.firm.missing_nm(torques_nm);
        self.brinks(driveline)
            .iter()
            .map(|brink| brink.effort(&missing, frictions_nm))
            .fold(0.0, f64::max)
    }

    /// The motions of which each would begin where the held stops give way.
    pub(super) fn brinks(&self, driveline: &Driveline) -> Brinks {
        let mut brinks = Brinks::default();
        if !self.tied && !self.held[ENGINE] {
            for wheel in (0..4).filter(|&wheel| self.held[wheel]) {
                let mut brink = Brink::default();
                brink.motion[wheel] = 1.0;
                brink.takes[wheel] = 1.0;
                brinks.add(brink);
            }
            return brinks;
        }
        // Everything below is seen from the directions that the ties leave free ...
        let mut pulls = [[0.0; 4]; STOPS];
        let mut holds = [0; STOPS];
        let (mut count, mut span) = (0, Basis::EMPTY);
        for stop in (0..STOPS).filter(|&stop| self.held[stop]) {
            let along = direction(driveline, stop);
            let mut pull = [0.0; 4];
            for (part, row) in pull.iter_mut().zip(self.free.iter()) {
                *part = dot(row, &along);
            }
            if dot(&pull, &pull) > 1e-18 {
                span.add(&pull);
                pulls[count] = pull;
                holds[count] = stop;
                count += 1;
            }
        }
        let pulls = &pulls[..count];
        // ... and of those, from the ones that the held stops span.
        for resting in subsets(count, span.count.saturating_sub(1)) {
            let mut rows = Basis::EMPTY;
            for (pull, _) in pulls.iter().zip(&resting).filter(|&(_, &rests)| rests) {
                rows.add(pull);
            }
            if rows.count + 1 != span.count {
                continue;
            }
            // The one motion within the span on which all those rest.
            let known = rows.count;
            for row in span.iter() {
                rows.add(row);
            }
            let motion = rows.rows[known];
            let mut brink = Brink::default();
            for (part, row) in motion.iter().zip(self.free.iter()) {
                for (of_wheel, of_row) in brink.motion.iter_mut().zip(row) {
                    *of_wheel += part * of_row;
                }
            }
            for (pull, &stop) in pulls.iter().zip(&holds) {
                brink.takes[stop] = dot(pull, &motion).abs();
            }
            brinks.add(brink);
        }
        brinks
    }
}

/// Most brinks of a mode: ways to choose two or three of five stops.
pub(super) const MOST_BRINKS: usize = 10;

/// A motion that the pull could cause: it does not as long as it gives less work than the frictions take.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Brink {
    /// Of the wheels.
    pub(super) motion: [f64; 4],
    /// How far each stop moves in it; zero where it is not held.
    pub(super) takes: [f64; STOPS],
}

impl Brink {
    fn effort(&self, missing_nm: &Vector, frictions_nm: &[f64; STOPS]) -> f64 {
        let mut taken = 0.0;
        for (takes, friction) in self.takes.iter().zip(frictions_nm) {
            taken += takes * friction;
        }
        dot(missing_nm, &self.motion).abs() / taken
    }
}

/// The brinks of a mode.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Brinks {
    all: [Brink; MOST_BRINKS],
    count: usize,
}

impl Brinks {
    fn add(&mut self, brink: Brink) {
        if let Some(place) = self.all.get_mut(self.count) {
            *place = brink;
            self.count += 1;
        }
    }

    pub(super) fn iter(&self) -> core::slice::Iter<'_, Brink> {
        self.all[..self.count].iter()
    }
}

/// What enters the differentials while these stops are held, as shares, and whether a constraint takes part. A locked
/// centre and an engine that stands give what their constraint takes; where wheels of both axles are held by their brakes
/// that cannot be told apart from the brakes' own, and nothing is counted.
fn entering(driveline: &Driveline, joined: Joined, held: &[bool; STOPS]) -> (Entering<f64>, bool) {
    let turns = [driveline.axle_turns(0), driveline.axle_turns(1)];
    let (locked, stands) = (*driveline.centre_now(joined.let_go) == Tie::Locked, held[ENGINE]);
    let mut entering = Entering {
        inertia_kg_m2: driveline.input_inertia_kg_m2
            + if joined.engine {
                driveline.engine_inertia_kg_m2
            } else {
                0.0
            },
        pinion: f64::from(u8::from(!stands)),
        bracket: [0.0; 2],
        centre: f64::from(u8::from(!locked)),
        centre_of_bracket: 0.0,
        centre_of_axles: [0.0; 2],
    };
    if locked || stands {
        let free = |axle: usize| !held[2 * axle] && !held[2 * axle + 1];
        match (free(0), free(1)) {
            (true, true) => {
                if stands && turns[0] + turns[1] > 0.0 {
                    entering.bracket = [1.0 / (turns[0] + turns[1]); 2];
                }
                if locked {
                    entering.centre_of_axles[0] = -1.0;
                    if stands {
                        entering.centre_of_bracket = turns[0];
                    }
                }
            }
            (true, false) if locked => entering.centre_of_axles[0] = -1.0,
            (false, true) if locked => entering.centre_of_axles[1] = 1.0,
            (true, false) if turns[0] > 0.0 => entering.bracket[0] = 1.0 / turns[0],
            (false, true) if turns[1] > 0.0 => entering.bracket[1] = 1.0 / turns[1],
            _ => {}
        }
    }
    (entering, locked || stands)
}

/// All ways to hold (0) stops or let them turn forward (1) or backward (−1), the most held first.
fn choices(stops: usize) -> Vec<[i8; STOPS]> {
    let mut all = vec![[0_i8; STOPS]];
    for stop in 0..stops {
        for index in 0..all.len() {
            for way in [1, -1] {
                let mut other = all[index];
                other[stop] = way;
                all.push(other);
            }
        }
    }
    all.sort_by_key(|choice| choice.iter().filter(|&&way| way != 0).count());
    all
}

/// All ways to mark `marked` of `count` things.
fn subsets(count: usize, marked: usize) -> impl Iterator<Item = [bool; STOPS]> {
    (0..1_u32 << count)
        .filter(move |bits| bits.count_ones() as usize == marked)
        .map(|bits| {
            let mut marks = [false; STOPS];
            for (place, mark) in marks.iter_mut().enumerate() {
                *mark = bits >> place & 1 == 1;
            }
            marks
        })
}
