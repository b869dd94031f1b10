//! What `lines` answers, as other programs read it.

use engine::balance::Leaking;
use engine::car::Wheel;
use plumbing::{Joint, Made, Meeting, NOT_TAPED, Part, pipe_name};
use schemars::JsonSchema;
use serde::Serialize;

use super::outcome::{Compared, Outcome};
use super::words::{change, why_not};
use crate::result::{Num, OrWhy};

/// What comes out, what to buy, what to cut, what is screwed into what.
#[derive(Serialize, JsonSchema)]
pub(super) struct LinesView {
    /// What stops the car before anything is bought for it: findings of `assess`.
    stops: Vec<StopView>,
    /// What is to be bought; `not_listed` says what is missing from it.
    parts: Vec<PartView>,
    /// What nobody knows yet, a sentence each: runs without a measured length, ports that nobody looked at.
    not_listed: Vec<String>,
    /// What the parts come to with the person's own prices.
    cost: OrWhy<CostView>,
    /// Every measured route, and how long it is cut.
    cuts: Vec<CutView>,
    /// Pipe and hose to order.
    order: Vec<OrderView>,
    joints: Vec<JointView>,
    /// The layouts of this car, the sheet's own first.
    layouts: Vec<LayoutView>,
    /// Layouts that this car cannot have.
    no_layouts: Vec<NoLayoutView>,
    /// What the new parts replace or make useless.
    comes_out: Vec<ComesOutView>,
    /// Fluid that stands in lines and brakes.
    fluid_m3: Num,
    /// Fluid inside the cabin: lines and reservoirs.
    fluid_in_cabin_m3: Num,
    /// Pipes, hoses, fittings and the fluid in them.
    mass_kg: Num,
    /// What hoses give back as travel.
    hoses: OrWhy<HosesView>,
    /// Rules of the trade that the sheet breaks or asks to mind.
    rules: Vec<CaughtView>,
}

#[derive(Serialize, JsonSchema)]
struct StopView {
    slug: &'static str,
    title: String,
}

#[derive(Serialize, JsonSchema)]
struct PartView {
    what: String,
    /// As far as runs were measured.
    count: Num,
    /// Runs that take more of it and were not measured.
    to_tape: usize,
    /// What it is counted in: `piece`, `m`, `bottle`.
    unit: &'static str,
    /// In trade terms.
    spec: String,
    /// What a price is written with in preferences.toml.
    code: String,
    /// Own price of one, in the person's money.
    each: OrWhy<Num>,
    sum: OrWhy<Num>,
}

#[derive(Serialize, JsonSchema)]
struct CostView {
    sum: Num,
    currency: String,
    /// Kinds of part that have no price.
    without: usize,
    /// Runs whose pipe or hose is not in it, because nobody measured them.
    to_tape: usize,
}

#[derive(Serialize, JsonSchema)]
struct CutView {
    run: String,
    /// As measured, port to port.
    length_m: OrWhy<Num>,
    /// Whether it is not touched.
    stays: bool,
    /// With what flares and bends take, or a hose's length seat to seat.
    cut_m: OrWhy<Num>,
    of: &'static str,
    /// `flared`, `made up`, `bought with its ends`, `direct`.
    made: &'static str,
    ends: [String; 2],
}

#[derive(Serialize, JsonSchema)]
struct OrderView {
    of: &'static str,
    length_m: Num,
}

#[derive(Serialize, JsonSchema)]
struct JointView {
    /// On list and drawing.
    number: usize,
    id: String,
    between: [String; 2],
    /// In words.
    place: String,
    thread: String,
    seat: String,
    mates: OrWhy<bool>,
    adapter: OrWhy<String>,
    /// Where nothing joins the two: what to change.
    change: OrWhy<String>,
    in_cabin: bool,
    /// Common practice; the maker's figure wins.
    torque_band_nm: OrWhy<[Num; 2]>,
}

#[derive(Serialize, JsonSchema)]
struct LayoutView {
    layout: String,
    on_sheet: bool,
    pieces: Num,
    /// Pipe and hose to be made, as far as it was measured.
    line_m: Num,
    /// Runs to be made that nobody measured.
    to_tape: usize,
    /// Whether it joins the two circuits, so that one leak empties both: not to be built.
    joins_circuits: bool,
    joints: usize,
    joints_in_cabin: usize,
    fluid_m3: Num,
    fluid_in_cabin_m3: Num,
    cost: OrWhy<CostView>,
    hand_force_n: OrWhy<Num>,
    travel_m: OrWhy<Num>,
    in_hand: OrWhy<Num>,
    /// Each run open, one after the other.
    failing: Vec<FailedView>,
    notes: Vec<String>,
}

#[derive(Serialize, JsonSchema)]
struct FailedView {
    run: String,
    /// Wheels that the foot still brakes.
    foot: Vec<&'static str>,
    /// Wheels that the hand still brakes by fluid.
    hand: Vec<&'static str>,
    /// At 500 N of foot.
    rate_m_s2: Num,
}

#[derive(Serialize, JsonSchema)]
struct NoLayoutView {
    layout: String,
    why: &'static str,
}

#[derive(Serialize, JsonSchema)]
struct ComesOutView {
    part: String,
    did: String,
    replaced_by: String,
}

#[derive(Serialize, JsonSchema)]
struct HosesView {
    /// In the lever's cylinder, at the driver's pull.
    pressure_pa: Num,
    volume_m3: Num,
    /// At the grip.
    travel_m: Num,
    /// Of all the travel at that pull.
    share: Num,
}

#[derive(Serialize, JsonSchema)]
struct CaughtView {
    slug: &'static str,
    /// Whether it is only something to mind.
    mind: bool,
    title: &'static str,
    because: &'static str,
    #[serde(rename = "do")]
    remedy: &'static str,
    places: Vec<String>,
}

const NO_PRICE: &str = "no price under [prices] in preferences.toml";

fn cost(cost: Option<plumbing::prices::Cost>, currency: &str) -> OrWhy<CostView> {
    OrWhy::or(
        cost.map(|cost| CostView {
            sum: cost.sum.into(),
            currency: currency.to_owned(),
            without: cost.without,
            to_tape: cost.to_tape,
        }),
        NO_PRICE,
    )
}

impl LinesView {
    /// Of what came out.
    pub(super) fn of(outcome: &Outcome) -> Self {
        let plumbing = &outcome.plumbing;
        let part = |part: &Part| {
            let each = outcome.prices.each(part);
            PartView {
                what: part.kind.what(),
                count: part.count.into(),
                to_tape: part.to_tape,
                unit: part.kind.counted().word(),
                spec: part.kind.spec(),
                code: part.kind.code(),
                each: OrWhy::or(each, NO_PRICE),
                sum: OrWhy::or(each.map(|each| each * part.count), NO_PRICE),
            }
        };
        let fluid = &plumbing.fluid;
        let currency = &outcome.prices.currency;
        let ordered = engine_pipes().filter_map(|pipe| {
            let length = plumbing.order(pipe);
            (length.m() > 0.0).then(|| OrderView {
                of: pipe_name(pipe),
                length_m: length.m().into(),
            })
        });
        Self {
            stops: outcome
                .assessment
                .stops()
                .map(|stop| StopView {
                    slug: stop.slug,
                    title: stop.title.clone(),
                })
                .collect(),
            parts: plumbing.parts.iter().map(part).collect(),
            not_listed: outcome.not_listed(),
            cost: cost(outcome.prices.cost(&plumbing.parts), currency),
            cuts: plumbing.cuts.iter().map(cut).collect(),
            order: ordered.collect(),
            joints: plumbing.joints.iter().map(joint).collect(),
            layouts: outcome.can.iter().map(|found| layout(found, currency)).collect(),
            no_layouts: outcome
                .cannot
                .iter()
                .map(|other| NoLayoutView {
                    layout: other.name.clone(),
                    why: other.why,
                })
                .collect(),
            comes_out: outcome
                .comes_out
                .iter()
                .map(|part| ComesOutView {
                    part: part.part.clone(),
                    did: part.did.clone(),
                    replaced_by: part.replaced_by.clone(),
                })
                .collect(),
            fluid_m3: (fluid.lines + fluid.brakes).m3().into(),
            fluid_in_cabin_m3: (fluid.cabin_lines + fluid.cabin_reservoirs).m3().into(),
            mass_kg: plumbing.mass.kg().into(),
            hoses: OrWhy::or(
                outcome.hoses.map(|hoses| HosesView {
                    pressure_pa: hoses.pressure.pa().into(),
                    volume_m3: hoses.volume.m3().into(),
                    travel_m: hoses.travel.m().into(),
                    share: hoses.share.into(),
                }),
                "no lever works a cylinder",
            ),
            rules: outcome
                .caught
                .iter()
                .map(|caught| CaughtView {
                    slug: caught.rule.slug,
                    mind: caught.mind,
                    title: caught.rule.title,
                    because: caught.rule.because,
                    remedy: caught.rule.remedy,
                    places: caught.places.clone(),
                })
                .collect(),
        }
    }
}

fn engine_pipes() -> impl Iterator<Item = engine::car::Pipe> {
    use engine::car::Pipe::{Braided3, CopperNickel14, CopperNickel316, Steel14, Steel316};
    [Steel316, CopperNickel316, Steel14, CopperNickel14, Braided3].into_iter()
}

fn cut(cut: &plumbing::Cut) -> CutView {
    let made = match cut.made {
        Made::Flared => "flared",
        Made::MadeUp => "made up",
        Made::Bought => "bought with its ends",
        Made::Direct => "direct",
    };
    let why = match cut.made {
        Made::Direct => "one part is screwed right onto the other",
        _ if cut.stays => "it stays: nothing is cut for it",
        _ => NOT_TAPED,
    };
    CutView {
        run: cut.run.clone(),
        length_m: OrWhy::or(cut.taped.then(|| cut.length.m()), NOT_TAPED),
        stays: cut.stays,
        cut_m: OrWhy::or(cut.cut().map(|to| to.m()), why),
        of: pipe_name(cut.pipe),
        made,
        ends: cut.ends.clone(),
    }
}

fn joint(joint: &Joint) -> JointView {
    let why = why_not(joint);
    let no_band = match &joint.meeting {
        Meeting::Crimped => "nothing is screwed there",
        _ => why.unwrap_or("a tapered thread is not tightened to a torque"),
    };
    JointView {
        number: joint.number,
        id: joint.id.clone(),
        between: joint.between.clone(),
        place: joint.place.clone(),
        thread: joint.thread().to_owned(),
        seat: joint.seat().to_owned(),
        mates: OrWhy::or(joint.meeting.mates(), why.unwrap_or_default()),
        adapter: OrWhy::or(
            joint.meeting.adapter().map(str::to_owned),
            why.unwrap_or("none is needed"),
        ),
        change: OrWhy::or(change(joint).map(str::to_owned), "nothing has to be changed"),
        in_cabin: joint.in_cabin,
        torque_band_nm: OrWhy::or(
            joint
                .torque_band
                .map(|(low, high)| [low.nm().into(), high.nm().into()]),
            no_band,
        ),
    }
}

fn layout(compared: &Compared, currency: &str) -> LayoutView {
    let (layout, to_lock) = (&compared.layout, compared.to_lock.as_ref());
    let no_lever = "no lever works a cylinder";
    LayoutView {
        layout: layout.name(),
        on_sheet: layout.on_sheet,
        pieces: layout.pieces.into(),
        line_m: layout.line.m().into(),
        to_tape: layout.to_tape,
        joins_circuits: layout.joined,
        joints: layout.plumbing.joints.len(),
        joints_in_cabin: layout.joints_in_cabin,
        fluid_m3: (layout.plumbing.fluid.lines + layout.plumbing.fluid.brakes)
            .m3()
            .into(),
        fluid_in_cabin_m3: layout.fluid_in_cabin.m3().into(),
        cost: cost(layout.cost, currency),
        hand_force_n: OrWhy::or(
            to_lock.and_then(|to_lock| to_lock.hand).map(|hand| hand.n()),
            no_lever,
        ),
        travel_m: OrWhy::or(
            to_lock
                .and_then(|to_lock| to_lock.travel)
                .map(|travel| travel.m()),
            no_lever,
        ),
        in_hand: OrWhy::or(to_lock.map(|to_lock| to_lock.in_hand), no_lever),
        failing: compared.leaking.iter().map(leaking).collect(),
        notes: layout.notes.clone(),
    }
}

fn leaking(leaking: &Leaking) -> FailedView {
    let names = |wheels: &[Wheel]| wheels.iter().map(|wheel| wheel.name()).collect();
    FailedView {
        run: leaking.run.clone(),
        foot: names(&leaking.foot),
        hand: names(&leaking.hand),
        rate_m_s2: leaking.rate.m_s2().into(),
    }
}
