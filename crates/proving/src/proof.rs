//! The fold: entries, oldest first, to the state of every joint and check.

use engine::car::{Car, Date};

use crate::check::{Check, CheckFound, judged};
use crate::fact::{Fact, JointFound, Noted, Signature};
use crate::judged::CheckResult;
use plumbing::Plumbing;

/// How a joint stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Standing {
    /// Nobody has looked at it since it was last open.
    Untried,
    /// Tight, with a witness mark.
    Marked,
    /// Felt under pressure, and dry.
    Dry,
    /// Wet.
    Weep,
    /// Made anew, not yet felt.
    Remade,
}

impl Standing {
    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Untried => "untried",
            Self::Marked => "marked",
            Self::Dry => "dry",
            Self::Weep => "weep",
            Self::Remade => "remade",
        }
    }

    /// The state that a finding leads to, or why it does not count.
    ///
    /// # Errors
    /// A joint is not dry before it is tight and marked, and a weep is not dry before it is remade.
    pub const fn after(self, found: JointFound) -> Result<Self, &'static str> {
        match (self, found) {
            (_, JointFound::Marked) if matches!(self, Self::Weep) => {
                Err("a joint that weeps is remade, not only marked")
            }
            (_, JointFound::Marked) => Ok(Self::Marked),
            (Self::Untried, JointFound::Dry) => Err("it was not tightened and marked first"),
            (Self::Weep, JointFound::Dry) => Err("it weeps: remake it first"),
            (_, JointFound::Dry) => Ok(Self::Dry),
            (_, JointFound::Weep) => Ok(Self::Weep),
            (_, JointFound::Remade) => Ok(Self::Remade),
        }
    }
}

/// A joint's state.
#[derive(Clone, Debug, PartialEq)]
pub struct JointState {
    /// Its place in the plumbing's list.
    pub index: usize,
    /// Its number.
    pub number: usize,
    /// Its name.
    pub id: String,
    /// Where it is.
    pub place: String,
    /// How it stands.
    pub state: Standing,
    /// The entry that made it so, and its day.
    pub since: Option<(i64, Date)>,
}

/// A check's state.
#[derive(Clone, Debug, PartialEq)]
pub struct CheckState {
    /// Which.
    pub check: Check,
    /// How it stands; `None`: not made since something was last opened.
    pub judged: Option<CheckResult>,
    /// The entry that says so.
    pub since: Option<(i64, Date)>,
}

impl CheckState {
    /// Whether it stands in nobody's way.
    #[must_use]
    pub const fn is_settled(&self) -> bool {
        matches!(self.judged, Some(CheckResult::Holds(_) | CheckResult::Left(_)))
    }
}

/// An entry that does not count, and why.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ignored {
    /// The entry.
    pub id: i64,
    /// Why.
    pub why: String,
}

/// Where proving stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Proof {
    /// Every joint of the list.
    pub joints: Vec<JointState>,
    /// Every check of this car, in the order of the work.
    pub checks: Vec<CheckState>,
    /// What is still open, in words; empty: it may be signed.
    pub open: Vec<String>,
    /// Checks that were left, with their reasons: printed large.
    pub left: Vec<(Check, String)>,
    /// The signature that counts now.
    pub signed: Option<(i64, Date, Signature)>,
    /// Entries that do not count.
    pub ignored: Vec<Ignored>,
}

impl Proof {
    /// Whether it may be signed: every joint dry, every check settled.
    #[must_use]
    pub fn may_sign(&self) -> bool {
        self.open.is_empty()
    }

    /// How many joints are dry.
    #[must_use]
    pub fn dry(&self) -> usize {
        self.joints
            .iter()
            .filter(|joint| joint.state == Standing::Dry)
            .count()
    }

    /// How many weep.
    #[must_use]
    pub fn weeping(&self) -> usize {
        self.joints
            .iter()
            .filter(|joint| joint.state == Standing::Weep)
            .count()
    }

    /// The short answer: `14 of 19 dry, 1 weeps`.
    #[must_use]
    pub fn short(&self) -> String {
        let mut said = format!("{} of {} dry", self.dry(), self.joints.len());
        match self.weeping() {
            0 => {}
            1 => said.push_str(", 1 weeps"),
            some => said.push_str(&format!(", {some} weep")),
        }
        if self.signed.is_some() {
            said.push_str(", signed");
        }
        said
    }

    /// What is still to be done before a check can hold, in words; `None` where nothing stands in its way.
    #[must_use]
    pub fn stands_before(&self, check: Check) -> Option<String> {
        let (checks, joints_dry) = check.stands_on();
        let mut open = Vec::new();
        let wet = self.joints.len() - self.dry();
        if let Some(first) = self.joints.iter().find(|joint| joint.state != Standing::Dry)
            && joints_dry
        {
            open.push(format!(
                "{wet} of {} joints are not dry, the first {} ({}), which is {}",
                self.joints.len(),
                first.number,
                first.place,
                first.state.word()
            ));
        }
        open.extend(
            self.checks
                .iter()
                .filter(|state| checks.contains(&state.check) && !state.is_settled())
                .map(|state| format!("{} ({}) is open", state.check.words(), state.check.name())),
        );
        (!open.is_empty()).then(|| open.join("; "))
    }

    fn reopen_checks(&mut self) {
        for check in &mut self.checks {
            check.judged = None;
            check.since = None;
        }
    }

    fn say_open(&mut self) {
        self.open.clear();
        for joint in self.joints.iter().filter(|joint| joint.state != Standing::Dry) {
            self.open.push(format!(
                "joint {} ({}) is {}",
                joint.number,
                joint.place,
                match joint.state {
                    Standing::Weep => "weeping",
                    Standing::Marked => "marked, not yet felt dry",
                    Standing::Remade => "remade, not yet felt dry",
                    _ => "untried",
                }
            ));
        }
        self.left.clear();
        for check in &self.checks {
            match &check.judged {
                Some(CheckResult::Holds(_)) => {}
                Some(CheckResult::Left(because)) => self.left.push((check.check, because.clone())),
                Some(CheckResult::Fails(why)) => {
                    self.open.push(format!("{} fails: {why}", check.check.words()))
                }
                Some(CheckResult::TellsNothing(why)) => {
                    self.open
                        .push(format!("{} tells nothing: {why}", check.check.words()));
                }
                None => self.open.push(format!("{} is not done", check.check.words())),
            }
        }
    }
}

/// Folds entries, oldest first, into where proving stands. Struck entries are left out by whoever brings them.
#[must_use]
pub fn prove(car: &Car, plumbing: &Plumbing, entries: &[Noted]) -> Proof {
    let mut proof = Proof {
        joints: plumbing
            .joints
            .iter()
            .enumerate()
            .map(|(index, joint)| JointState {
                index,
                number: joint.number,
                id: joint.id.clone(),
                place: joint.place.clone(),
                state: Standing::Untried,
                since: None,
            })
            .collect(),
        checks: Check::of(car)
            .into_iter()
            .map(|check| CheckState {
                check,
                judged: None,
                since: None,
            })
            .collect(),
        open: Vec::new(),
        left: Vec::new(),
        signed: None,
        ignored: Vec::new(),
    };
    for entry in entries {
        let counted = match &entry.fact {
            Fact::Joint { joint, found } => found_at(&mut proof, plumbing, entry, joint, *found),
            Fact::Touched { what } => touched(&mut proof, plumbing, entry, what),
            Fact::Checked { check, said } => checked(&mut proof, car, entry, *check, said),
            Fact::Signed(signature) => {
                proof.say_open();
                if proof.may_sign() {
                    proof.signed = Some((entry.id, entry.day, signature.clone()));
                    Ok(())
                } else {
                    Err(format!(
                        "it signs while something is open: {}{}",
                        proof.open[0],
                        match proof.open.len() - 1 {
                            0 => String::new(),
                            more => format!(", and {more} more"),
                        }
                    ))
                }
            }
            _ => Ok(()),
        };
        if let Err(why) = counted {
            proof.ignored.push(Ignored { id: entry.id, why });
        }
    }
    proof.say_open();
    if !proof.may_sign() {
        proof.signed = None;
    }
    proof
}

fn found_at(
    proof: &mut Proof,
    plumbing: &Plumbing,
    entry: &Noted,
    joint: &str,
    found: JointFound,
) -> Result<(), String> {
    let index = plumbing
        .joint(joint)
        .map(|joint| joint.number - 1)
        .ok_or_else(|| format!("`{joint}` is no joint of this car as its sheet is now"))?;
    let before = proof.joints[index].state;
    let after = before
        .after(found)
        .map_err(|why| format!("joint {} ({}): {why}", index + 1, proof.joints[index].place))?;
    proof.joints[index].state = after;
    proof.joints[index].since = Some((entry.id, entry.day));
    // Once the pressure is off a joint, or fluid comes out of it, nothing that was tried with it holds.
    match after {
        Standing::Remade => {
            proof.signed = None;
            proof.reopen_checks();
        }
        Standing::Dry => {}
        Standing::Weep | Standing::Marked | Standing::Untried => proof.signed = None,
    }
    Ok(())
}

fn touched(proof: &mut Proof, plumbing: &Plumbing, entry: &Noted, what: &str) -> Result<(), String> {
    let numbers: Vec<usize> = match plumbing.joint(what) {
        Some(joint) => vec![joint.number],
        None => plumbing
            .joints_of(what)
            .iter()
            .map(|joint| joint.number)
            .collect(),
    };
    if numbers.is_empty() {
        return Err(format!(
            "`{what}` is no component, run or joint of this car as its sheet is now"
        ));
    }
    for number in numbers {
        let joint = &mut proof.joints[number - 1];
        joint.state = Standing::Untried;
        joint.since = Some((entry.id, entry.day));
    }
    proof.signed = None;
    proof.reopen_checks();
    Ok(())
}

fn checked(
    proof: &mut Proof,
    car: &Car,
    entry: &Noted,
    check: Check,
    said: &CheckFound,
) -> Result<(), String> {
    let judged = judged(check, said, car);
    // What fails counts whenever it was found; what holds does so only upon what it stands on.
    if let (CheckResult::Holds(_), Some(first)) = (&judged, proof.stands_before(check)) {
        return Err(format!("{} comes after other work: {first}", check.words()));
    }
    let state = proof
        .checks
        .iter_mut()
        .find(|state| state.check == check)
        .ok_or_else(|| format!("this car has no check `{}`", check.name()))?;
    if !matches!(judged, CheckResult::Holds(_) | CheckResult::Left(_)) {
        proof.signed = None;
    }
    state.judged = Some(judged);
    state.since = Some((entry.id, entry.day));
    Ok(())
}
