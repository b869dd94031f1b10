"""Which axle locks first, what is left when a circuit fails, and where the valve or bar goes."""

import math

import numpy as np
from scipy.optimize import brentq

from brakes import Brakes, Rod
from lever import coupling
from loads import G, load, tank_volume

FOOT_LIMIT = 1000.0
ROAD_FOOT_LIMIT = 500.0  # of the road rule alone
LEAST_RATE_FAILED = 2.44  # m/s2, UN R13-H Annex 3 (from memory)
GRIPS = [round(0.1 * i, 1) for i in range(1, 13)]
ROAD_GRIPS = [round(0.1 * i, 1) for i in range(1, 21)]
RATES = [round(0.05 * i, 2) for i in range(2, 21)]


# --- first lock ---------------------------------------------------------------


def first_crossing(f, high, cells=1, finest=None):
    """The smallest x in (0, high] at which f rises through zero, or None. One cell will do where f only rises.

    Cells are even, or grow from `finest` on.
    """
    low, below = 0.0, f(0.0)
    for x in np.geomspace(finest, high, cells) if finest else np.linspace(0.0, high, cells + 1)[1:]:
        above = f(x)
        if below < 0 <= above:
            return float(brentq(f, low, x, xtol=1e-12, rtol=1e-14))
        low, below = x, above
    return None


def first_lock(brakes, state, grip, limit, tie=0.0, knee=None):
    """(which, foot, z, Point) or ("neither", None, None, None). Searched over the pushrod's force.

    `tie` is the torque that a centre coupling can carry between the axles. An axle locks alone
    once its brakes ask more than its grip by that torque; where the whole car's grip is used up
    before, all four lock together.
    """
    car = brakes.car

    def excess(foot, axle):
        z, point = brakes.braking(Rod(foot), state, knee=knee)
        if axle == "front":
            return point.force_front - grip * state.front(z) - tie / car.radius_front
        if axle == "rear":
            return point.force_rear - grip * state.rear(z) - tie / car.radius_rear
        return point.force_front + point.force_rear - grip * state.weight

    feet = {}
    limit = brakes.pushrod(limit)
    if tie > 0:
        feet["together"] = first_crossing(lambda foot: excess(foot, "together"), limit)
    if tie < math.inf:
        # neither excess need rise all the way: the rear's braking loads the front, and a load-sensing valve
        # that lets the rear lock early takes its pressure away again as the car brakes harder
        sensing = car.valve is not None and car.valve.kind == "load-sensing" and knee is None
        feet["rear"] = first_crossing(lambda foot: excess(foot, "rear"), limit, *((240, 1.0) if sensing else ()))
        high = min(foot for foot in (limit, *feet.values()) if foot is not None)
        feet["front"] = first_crossing(lambda foot: excess(foot, "front"), high * (1 + 1e-9), cells=24)
    feet = {axle: foot for axle, foot in feet.items() if foot is not None and foot <= limit}
    if not feet:
        return "neither", None, None, None
    first = min(feet, key=feet.get)
    foot = feet[first]
    if tie == 0 and len(feet) == 2 and abs(feet["front"] - feet["rear"]) <= 1e-9 * foot:
        first = "together"
    z, point = brakes.braking(Rod(foot), state, knee=knee)
    return first, brakes.foot(foot), z, point


def lock(brakes, state, grip, limit, tie):
    """The first lock, as far as the master's stroke allows."""
    first, foot, z, point = first_lock(brakes, state, grip, limit, tie)
    if point is not None and brakes.runs_out(point.pushrod, point.knee):
        return "neither", None, None, None
    return first, foot, z, point


def utilisation(state, z, point):
    rear_load = state.rear(z)
    return point.force_front / state.front(z), point.force_rear / rear_load if rear_load > 0 else None


def at_rate(brakes, state, z, limit):
    """The Point at which the brakes ask for z, or None within the foot's limit."""
    rate = lambda rod: brakes.braking(Rod(rod), state)[0] - z
    limit = brakes.pushrod(limit)
    if rate(limit) < 0:
        return None
    return brakes.braking(Rod(brentq(rate, 0.0, limit, xtol=1e-12, rtol=1e-14)), state)[1]


# --- a failed circuit ---------------------------------------------------------


def failed_rate(brakes, state, grip, left, foot=500.0):
    """Deceleration (m/s2) with `left` still working, each wheel held to its grip."""
    if left == "none":
        return 0.0

    def force(z):
        point = brakes.at(foot, 0.0, state.rear(z))
        front = min(point.force_front, grip * state.front(z))
        rear = max(min(point.force_rear, grip * state.rear(z)), 0.0)
        return {"front": front, "rear": rear, "one diagonal": (front + rear) / 2}[left]

    residual = lambda z: force(z) / state.weight - z
    if residual(0.0) <= 0:
        return 0.0
    return brentq(residual, 0.0, 3.0, xtol=1e-14, rtol=1e-14) * G


def failed_travel(brakes, state, chamber, left, foot=500.0):
    """(pedal travel, runs out) with one chamber left: 0 the first, 1 the second; a load-sensing knee as at rest.

    A tandem's failed half uses up its half of the stroke; a failed cylinder of twins bottoms, and the bar turns about it.
    """
    car = brakes.car
    pressure = brakes.masters(brakes.pushrod(foot))[chamber]
    stroke = car.master_stroke
    usable = stroke / 2 if car.master == "tandem" else stroke
    if left == "none":
        own, out = usable, True
    else:
        area = brakes.area_front if chamber == 0 else brakes.area_rear
        knee = brakes.knee(state.rear(0.0))
        own = {
            "front": lambda: brakes.front_branch.volume(pressure),
            "rear": lambda: brakes.rear_volume(pressure, knee),
            "one diagonal": lambda: brakes.diagonal_volume(chamber, pressure, knee),
        }[left]() / area
        out = own > usable
    if car.master == "tandem":
        return (stroke - usable + own) * car.pedal_ratio, out
    share = brakes.bar_share if chamber == 0 else 1 - brakes.bar_share
    return (share * own + (1 - share) * stroke) * car.pedal_ratio, out


def circuits_left(car):
    if car.split == "axle":
        return ["front", "rear"]
    joined = car.lever is not None and car.lever.kind == "inline" and car.lever.outlets == "one"
    return [("one diagonal", "none" if joined else "one diagonal")] * 2


# --- the whole answer ---------------------------------------------------------


def balance(car, options):
    state = load(car, options.fuel, options.crew)
    brakes = Brakes(car, options.cold, options.valve)
    limit = FOOT_LIMIT
    tie = coupling(car, options.speed, held=True)[0][1]
    result = {"lock": [], "utilisation": [], "ideal": []}
    for grip in options.grips or GRIPS:
        first, foot, z, point = lock(brakes, state, grip, limit, tie)
        row = {"grip": grip, "first": first}
        if point is None:
            row |= dict.fromkeys(("braking_rate", "efficiency", "foot_force_n", "master_pa", "rear_pa", "front_first_by"))
        else:
            front, rear = utilisation(state, z, point)
            twin = car.master == "twin"
            row |= {
                "braking_rate": z, "efficiency": z / grip, "foot_force_n": foot,
                "master_pa": None if twin else point.front_master,
                **({"front_master_pa": point.front_master, "rear_master_pa": point.rear_master} if twin else {}),
                "rear_pa": point.rear, "front_first_by": front / rear - 1 if rear else None,
            }
        result["lock"].append(row)

    for z in RATES:
        if state.rear(z) < 0:
            break
        result["ideal"].append({"braking_rate": z, "front_n": z * state.front(z), "rear_n": z * state.rear(z)})
        point = at_rate(brakes, state, z, limit)
        if point:
            front, rear = utilisation(state, z, point)
            result["utilisation"].append({"braking_rate": z, "front": front, "rear": rear})

    result["road_rules"] = road_rules(car, brakes, state, ROAD_FOOT_LIMIT)
    result["failed_circuit"] = []
    for chamber, left in enumerate(circuits_left(car)):
        name, working = left if isinstance(left, tuple) else (left, left)
        rate = failed_rate(brakes, state, options.grip, working)
        travel, runs_out = failed_travel(brakes, state, chamber, working)
        result["failed_circuit"].append({
            "left": name, "foot_force_n": 500.0, "rate_m_s2": rate,
            "met": rate >= LEAST_RATE_FAILED if car.road_registered else None,
            "travel_m": travel, "runs_out": runs_out,
        })
    return result


def road_rules(car, brakes, state, limit):
    """UN R13-H Annex 5 (from memory): rear curve not above the front one for z 0.15 to 0.80; z >= 0.1 + 0.7(k - 0.2)."""
    if not car.road_registered:
        return {"applies": False, "rear_below_front": None, "least_rate_met": None}
    below = met = True
    for z in (i / 100 for i in range(5, 81)):
        point = at_rate(brakes, state, z, limit)
        if point is None or state.rear(z) <= 0:
            break
        front, rear = utilisation(state, z, point)
        if z >= 0.15:
            below &= rear <= front * (1 + 1e-9)
        k = max(front, rear)
        if 0.2 <= k <= 0.8:
            met &= z >= 0.1 + 0.7 * (k - 0.2) - 1e-12
    return {"applies": True, "rear_below_front": bool(below), "least_rate_met": bool(met)}


# --- settings -----------------------------------------------------------------


def wanted_margin(text):
    if text == "even":
        return 0.0
    side, number = text.replace("%", "").split()
    return float(number.replace(",", ".")) / 100 * {"front-first": 1, "rear-first": -1}[side]


def wanted_pressures(brakes, state, grip, margin):
    """(front, rear, rear load) at which the first axle is at its grip and f1/f2 - 1 = margin."""
    front_grip, rear_grip = (grip, grip / (1 + margin)) if margin >= 0 else (grip * (1 + margin), grip)
    z = (front_grip * state.b + rear_grip * state.a) / (state.wheelbase - (front_grip - rear_grip) * state.h)
    car = brakes.car
    front = brakes.front.pressure(front_grip * state.front(z) * car.radius_front / 2)
    rear = brakes.rear.pressure(rear_grip * state.rear(z) * car.radius_rear / 2)
    return front, rear, state.rear(z)


def knee_for(brakes, state, grip, margin):
    """The knee, `inf` where no valve is needed, `None` where a valve cannot do it."""
    front, rear, _ = wanted_pressures(brakes, state, grip, margin)
    inlet = front
    if brakes.car.master == "twin":
        inlet = brakes.masters(front * brakes.area_front / brakes.bar_share)[1]
    if rear >= inlet:
        return math.inf if margin > 0 else None
    slope = brakes.valve.slope if brakes.valve else 0.43
    return (rear - slope * inlet) / (1 - slope)


def bar_for(brakes, state, grip, margin):
    """The front share of the bar with the knee as it is, or None."""
    front, rear, rear_load = wanted_pressures(brakes, state, grip, margin)
    inlet = brakes.before_valve(rear, brakes.knee(rear_load))
    if inlet == math.inf:
        return None
    forces = front * brakes.area_front, inlet * brakes.area_rear
    return forces[0] / sum(forces)


def knob_for(valve, knee):
    """The setting that gives this knee, or None outside the knob's line."""
    line = sorted((k, s) for s, k in valve.line)
    if not line[0][0] <= knee <= line[-1][0]:
        return None
    for (k1, s1), (k2, s2) in zip(line, line[1:]):
        if knee <= k2:
            return s1 + (s2 - s1) * (knee - k1) / (k2 - k1)
    return line[0][1]


def rear_first_below(brakes, crew, grip, knee=None):
    """The highest grip, up to this one, at which some load locks the rear first; None if none does."""
    highest = None
    full = tank_volume(brakes.car)
    for fuel in sorted({0.0, full / 2, full}):
        state = load(brakes.car, fuel, crew)

        def lead(mu):
            _, _, z, point = first_lock(brakes, state, mu, 1e5, knee=knee)
            if point is None:
                return 1.0
            front, rear = utilisation(state, z, point)
            return (front - rear) / mu

        grips = [grip] + [mu for mu in np.arange(0.98, 0.0, -0.02) * grip]
        last = grip
        for mu in grips:
            if lead(mu) < -1e-9:
                found = grip if mu == grip else brentq(lambda m: lead(m) + 1e-9, mu, last, xtol=1e-10)
                highest = max(highest or 0.0, found)
                break
            last = mu
    return highest


def settings(car, options):
    brakes = Brakes(car, options.cold, options.valve)
    margin = wanted_margin(options.wanted)
    if options.surface or options.grip_given:
        grips = [(options.surface or "hard gravel", options.grip)]
    else:
        grips = list(car.surfaces.items())
    full = tank_volume(car)
    fuels = [options.fuel] if options.fuel_given else sorted({0.0, full / 2, full})
    uses = ["stage", "road"] if car.road_registered else ["stage"]
    rows = []
    road = road_setting(car, brakes, max(margin, 0.0)) if car.road_registered else None
    for surface, grip in grips:
        for fuel in fuels:
            state = load(car, fuel, options.crew)
            for use in uses:
                knee, bar = road if use == "road" else (
                    knee_for(brakes, state, grip, margin),
                    bar_for(brakes, state, grip, margin) if car.master == "twin" else None,
                )
                rows.append({
                    "surface": surface, "grip": grip, "fuel_l": fuel * 1e3, "for": use, "wanted": options.wanted,
                    "wanted_by": margin, **answer(car, options, brakes, grip, max(margin, 0.0) if use == "road" else margin, knee, bar),
                })
    return {"settings": rows}


def answer(car, options, brakes, grip, margin, knee, bar):
    turns, reachable, set_to = None, False, knee
    if knee == math.inf:
        reachable, set_to = True, None  # none needed: whatever stands there stays as it is
    elif knee is not None and car.valve is not None:
        if car.valve.kind == "adjustable":
            turns = knob_for(car.valve, knee)
            reachable = turns is not None
        elif car.valve.kind in ("fixed", "limiting"):
            set_to = car.valve.knee  # it stands where it stands; front first is met by a lower knee as well
            reachable = abs(knee - set_to) <= 1e-3 * set_to or (margin > 0 and set_to <= knee)
    if margin < 0:
        below = None
    elif reachable:
        below = rear_first_below(brakes, options.crew, grip, set_to)
    elif bar is not None:  # the bar does it, the knee stays
        below = rear_first_below(Brakes(car, options.cold, options.valve, bar), options.crew, grip)
    else:
        below = None
    return {
        "knee_pa": None if knee in (None, math.inf) else knee, "turns": turns,
        "bar_front_share": bar, "bar_turns": None if bar is None else (bar - car.bar_share) / car.share_per_turn,
        "reachable": reachable or bar is not None, "rear_first_below_grip": below,
    }


def road_setting(car, brakes, margin):
    """(knee, bar share) that keep the front first by the margin at every load and every grip up to the best surface's."""
    full = tank_volume(car)
    states = [load(car, fuel, crew) for fuel in sorted({0.0, full / 2, full}) for crew in (True, False)]
    grips = [grip for grip in ROAD_GRIPS if grip <= max(car.surfaces.values())]
    knees = [knee_for(brakes, state, grip, margin) for state in states for grip in grips]
    # with a margin of nothing "a valve cannot" means that the rear is weak enough as it is
    knee = min(math.inf if k is None else k for k in knees)
    bar = None
    if car.master == "twin":
        bars = [bar_for(brakes, state, grip, margin) for state in states for grip in grips]
        bar = max((b for b in bars if b is not None), default=None)  # None: a limiting valve holds the rear down anyway
    return knee, bar
