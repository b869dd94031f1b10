//! Keys of the drivetrain.

use quantity::Dimension::{Duration, Inertia, Ratio, Rotation, Torque};

use super::super::drawing::Drawing;
use super::super::key::{Form, Key, key, quantity};
use super::MEMORY_JUDGEMENT;
use super::measuring::{
    KEEP_THE_GUESS, LOCKING_VALUE, ONE_WHEEL, ONE_WHEEL_WRENCH, SLIP, SPIN, SPIN_CENTRE, TURN_BY_HAND,
};

const DIFFERENTIALS: &[&str] = &["open", "locked", "plates", "viscous"];
const COUPLINGS: &[&str] = &["open", "locked", "plates", "viscous"];

/// What the engine drives, and what ties wheels to each other.
pub(super) const DRIVETRAIN: &[Key] = &[
    key("drivetrain.driven", "driven wheels", Form::Word(&["front", "rear", "all"]), "Which wheels the engine drives: front, rear or all.").always().how("Look under the car: which axles have drive shafts.", Drawing::Shafts),
    key("drivetrain.front_diff.kind", "front differential", Form::Word(DIFFERENTIALS), "Differential of the front axle.").default("open", "left out: taken as open").way(ONE_WHEEL),
    key("drivetrain.rear_diff.kind", "rear differential", Form::Word(DIFFERENTIALS), "Differential of the rear axle.").default("open", "left out: taken as open").way(ONE_WHEEL),
    quantity("drivetrain.front_diff.preload", "preload of the front differential", Torque, "plates: torque moved with no input, at the half-shafts.").hard("0 N m", "1000 N m").usual("0 N m", "150 N m").default("50 N m ± 20 N m", MEMORY_JUDGEMENT).way(ONE_WHEEL_WRENCH),
    quantity("drivetrain.rear_diff.preload", "preload of the rear differential", Torque, "plates: torque moved with no input, at the half-shafts.").hard("0 N m", "1000 N m").usual("0 N m", "150 N m").default("50 N m ± 20 N m", MEMORY_JUDGEMENT).way(ONE_WHEEL_WRENCH),
    quantity("drivetrain.front_diff.bias", "bias of the front differential", Ratio, "plates: torque moved per input torque; half of a maker's locking value.").hard("0", "0.5").usual("0.05", "0.5").default("0.20 ± 0.08", MEMORY_JUDGEMENT).way(LOCKING_VALUE),
    quantity("drivetrain.rear_diff.bias", "bias of the rear differential", Ratio, "plates: torque moved per input torque; half of a maker's locking value.").hard("0", "0.5").usual("0.05", "0.5").default("0.25 ± 0.08", MEMORY_JUDGEMENT).way(LOCKING_VALUE),
    key("drivetrain.front_diff.torque_at", "torque of the front differential", Form::Rows { columns: &[Rotation, Torque], needed: 2 }, "viscous: torque over speed difference.").sometimes("with a viscous differential").hard("0 rpm", "20000 rpm").way(SPIN),
    key("drivetrain.rear_diff.torque_at", "torque of the rear differential", Form::Rows { columns: &[Rotation, Torque], needed: 2 }, "viscous: torque over speed difference.").sometimes("with a viscous differential").hard("0 rpm", "20000 rpm").way(SPIN),
    key("drivetrain.centre.kind", "centre coupling", Form::Word(&["viscous", "locked", "plates", "open", "disengaging", "guess", "none"]), "What ties the front and rear axles together; needed where all wheels are driven. open: a differential that ties nothing. guess: not known, each kind is computed. none: one driven axle.").sometimes("where all wheels are driven").way(TURN_BY_HAND),
    quantity("drivetrain.centre.preload", "preload of the centre", Torque, "plates: torque carried with no input, where the coupling turns.").hard("0 N m", "3000 N m").usual("0 N m", "200 N m").default("40 N m ± 20 N m", MEMORY_JUDGEMENT).way(SLIP),
    quantity("drivetrain.centre.bias", "bias of the centre", Ratio, "plates: torque moved per input torque.").hard("0", "0.5").usual("0.05", "0.5").default("0.20 ± 0.08", MEMORY_JUDGEMENT).way(LOCKING_VALUE),
    key("drivetrain.centre.torque_at", "torque of the centre", Form::Rows { columns: &[Rotation, Torque], needed: 2 }, "viscous: torque over speed difference, where the coupling turns.").sometimes("with a viscous coupling, unless feel is there").hard("0 rpm", "20000 rpm").way(SPIN_CENTRE),
    key("drivetrain.centre.feel", "how the centre feels", Form::Word(&["soft", "middle", "stiff"]), "viscous without a curve: how it feels pulled round by hand. A wide guess.").sometimes("with a viscous coupling, unless torque_at is there").way(SPIN_CENTRE),
    quantity("drivetrain.centre.turns_per_wheel_turn", "coupling turns to a wheel turn", Ratio, "Turns of the coupling a wheel turn. Left out: the final drive, a coupling on the propshaft. 1 where it sits behind the final drive.").hard("0.2", "20").usual("1", "5").how("Look where it sits: on the propshaft, between a centre differential's case and one output, or behind the final drive. Chalk on it and on a wheel: its turns to one turn of both wheels.", Drawing::Shafts),
    key("drivetrain.centre.held.kind", "centre while held", Form::Word(COUPLINGS), "disengaging: what it is while held.").sometimes("with a disengaging coupling").way(TURN_BY_HAND),
    quantity("drivetrain.centre.held.preload", "centre preload while held", Torque, "As centre.preload.").hard("0 N m", "3000 N m").usual("0 N m", "200 N m").default("40 N m ± 20 N m", MEMORY_JUDGEMENT).way(SLIP),
    quantity("drivetrain.centre.held.bias", "centre bias while held", Ratio, "As centre.bias.").hard("0", "0.5").usual("0.05", "0.5").default("0.20 ± 0.08", MEMORY_JUDGEMENT).way(LOCKING_VALUE),
    key("drivetrain.centre.held.torque_at", "centre torque while held", Form::Rows { columns: &[Rotation, Torque], needed: 2 }, "As for the centre itself.").sometimes("with a viscous coupling, unless feel is there").hard("0 rpm", "20000 rpm").way(SPIN_CENTRE),
    key("drivetrain.centre.held.feel", "centre feel while held", Form::Word(&["soft", "middle", "stiff"]), "As centre.feel.").sometimes("with a viscous coupling, unless torque_at is there").way(SPIN_CENTRE),
    key("drivetrain.centre.let_go.kind", "centre once let go", Form::Word(COUPLINGS), "disengaging: what is left once it has let go.").default("open", "left out: nothing is left").way(TURN_BY_HAND),
    quantity("drivetrain.centre.let_go.preload", "centre preload once let go", Torque, "As centre.preload.").hard("0 N m", "3000 N m").usual("0 N m", "200 N m").default("10 N m ± 10 N m", MEMORY_JUDGEMENT).way(SLIP),
    quantity("drivetrain.centre.let_go.bias", "centre bias once let go", Ratio, "As centre.bias.").hard("0", "0.5").usual("0", "0.5").default("0 ± 0.02", MEMORY_JUDGEMENT).way(LOCKING_VALUE),
    key("drivetrain.centre.let_go.torque_at", "centre torque once let go", Form::Rows { columns: &[Rotation, Torque], needed: 2 }, "As for the centre itself.").sometimes("with a viscous coupling, unless feel is there").hard("0 rpm", "20000 rpm").way(SPIN_CENTRE),
    key("drivetrain.centre.let_go.feel", "centre feel once let go", Form::Word(&["soft", "middle", "stiff"]), "As centre.feel.").sometimes("with a viscous coupling, unless torque_at is there").way(SPIN_CENTRE),
    quantity("drivetrain.centre.in", "time to let go", Duration, "disengaging: time to let go, and to hold again.").hard("0 s", "5 s").usual("20 ms", "400 ms").default("100 ms ± 60 ms", MEMORY_JUDGEMENT).how("A phone films switch and propshaft: frames between the click and the slip, over frames a second.", Drawing::Film),
    quantity("drivetrain.front_share", "front share of the engine's torque", Ratio, "Of the engine's torque, what reaches the front through the centre. 1 or 0: no differential there.").hard("0", "1").usual("0", "1").default("0.50", "left out: an even centre").how("From the maker; a plain bevel differential shares evenly.", Drawing::Papers),
    quantity("drivetrain.final_drive", "final drive", Ratio, "Propshaft turns a wheel turn.").hard("1", "12").usual("3", "6").default("4.1 ± 0.5", MEMORY_JUDGEMENT).how("Chalk on propshaft and wheels: turns of the shaft to one turn of both wheels.", Drawing::Shafts),
    quantity("drivetrain.input_inertia", "inertia at the pinion", Inertia, "Gearbox side at the pinion, clutch down.").hard("0 kg m2", "5 kg m2").usual("0.01 kg m2", "0.3 kg m2").default("0.08 kg m2 ± 0.04 kg m2", MEMORY_JUDGEMENT).way(KEEP_THE_GUESS),
    quantity("drivetrain.engine_inertia", "inertia of the engine", Inertia, "Engine and flywheel, at the crank.").hard("0 kg m2", "5 kg m2").usual("0.08 kg m2", "0.4 kg m2").default("0.18 kg m2 ± 0.06 kg m2", MEMORY_JUDGEMENT).way(KEEP_THE_GUESS),
    quantity("drivetrain.gear", "gear used for the turn", Ratio, "Engine turns a pinion turn in the gear used for the turn.").hard("0.3", "10").usual("0.9", "4").default("1.9 ± 0.4", MEMORY_JUDGEMENT).how("Chalk on crank pulley and propshaft, in that gear: turns of the crank to one of the shaft.", Drawing::Shafts),
];
