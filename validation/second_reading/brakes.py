"""Foot and hand to pressure, pressure to torque, volume and travel."""

import math
from dataclasses import dataclass

from scipy.optimize import brentq

from sheet import BORES, GROWTH, Run, SheetError, circle, interpolate

BULK_MODULUS = 1.9e9  # of brake fluid at 20 C
ATMOSPHERE = 101325.0


# --- one brake ----------------------------------------------------------------


def shoe_factors(shoe, radius, friction):
    """Leading and trailing factor (friction force over applied force) of a pivoted long shoe.

    Pressure goes with the sine of the angle from the pivot; the moments of friction and
    pressure about the pivot are integrated from heel to toe (Bhandari, Design of Machine
    Elements, chapter on brakes).
    """
    heel, toe, pivot, arm = shoe["heel"], shoe["toe"], shoe["pivot_radius"], shoe["force_arm"]
    sines = math.cos(heel) - math.cos(toe)  # integral of sin
    squares = (toe - heel) / 2 - (math.sin(2 * toe) - math.sin(2 * heel)) / 4  # of sin^2
    products = (math.sin(toe) ** 2 - math.sin(heel) ** 2) / 2  # of sin cos
    normal = pivot * squares
    drag = friction * (radius * sines - pivot * products)
    if normal <= drag:
        raise SheetError(f"shoe: this geometry locks itself at a friction of {friction:.3g}")
    turned = friction * sines * arm
    return turned / (normal - drag), turned / (normal + drag)


def shoe_factor(brake, friction):
    if brake.shoe is None:
        return brake.shoe_factor * (friction / brake.friction) ** 1.35
    shoe_factors(brake.shoe, brake.radius, max(brake.friction_high, friction))  # refuses self-locking
    leading, trailing = shoe_factors(brake.shoe, brake.radius, friction)
    if brake.shoes == "leading-trailing":
        return leading + trailing
    if brake.shoes == "two-leading":
        return 2 * leading
    # servo: the first shoe's foot pushes the second one. Moments about the drum's centre give its push.
    pivot, arm = brake.shoe["pivot_radius"], brake.shoe["force_arm"]
    push = ((arm - pivot) + leading * brake.radius) / pivot
    return leading * (1 + push)


WAKES = 20.0  # N of foot that wake a booster (from memory)


class Rod(float):
    """A pushrod force in the place of a foot: within a booster's leap no foot makes it."""


class WheelBrake:
    """One wheel's brake at one friction: torque = per_force * (area * efficiency * (p - threshold) + cable force)."""

    def __init__(self, brake, cold=False):
        friction = brake.cold_friction if cold else brake.friction
        factor = shoe_factor(brake, friction) if brake.kind == "drum" else 2 * friction
        self.per_force = factor * brake.radius
        self.gain = self.per_force * brake.area * brake.efficiency
        self.threshold = brake.threshold

    def torque(self, pressure, cable_force=0.0):
        return self.gain * max(pressure - self.threshold, 0.0) + self.per_force * cable_force

    def pressure(self, torque):
        return torque / self.gain + self.threshold


# --- volumes ------------------------------------------------------------------


@dataclass(frozen=True)
class Branch:
    """What a piece of the system takes in at a pressure."""

    take_up: float = 0.0
    threshold: float = 1.0
    elastic: float = 0.0  # m3 per Pa
    air: float = 0.0

    def volume(self, p):
        closing = self.take_up * min(max(p, 0.0) / self.threshold, 1.0)
        return closing + self.elastic * p + air_volume(self.air, p)


def air_volume(air, p):
    return air * (1 - ATMOSPHERE / (ATMOSPHERE + p))


def fluid_volume(volume, p, bulk_modulus=BULK_MODULUS):
    return volume * p / bulk_modulus


def branch(brake, runs, air=0.0, wheels=2):
    """So many wheels of `brake` (or none) and some runs of pipe."""
    fluid = sum(circle(BORES[run.material]) * run.length for run in runs)
    elastic = sum(GROWTH.get(run.material, 0.0) * run.length for run in runs)
    if brake is None:
        return Branch(elastic=elastic + fluid_volume(fluid, 1.0))
    fluid += wheels * brake.fluid
    return Branch(
        take_up=wheels * 2 * brake.area * brake.clearance, threshold=brake.threshold,
        elastic=elastic + wheels * brake.flex + fluid_volume(fluid, 1.0), air=air,
    )


# --- the whole system ---------------------------------------------------------


@dataclass(frozen=True)
class Pull:
    outlet: float  # at the lever's outlet
    own: float | None
    travel: float | None  # at the grip
    runs_out: bool


@dataclass(frozen=True)
class Point:
    """Everything at one foot and hand force."""

    pushrod: float
    front_master: float
    rear_master: float
    lever_inlet: float
    pull: Pull
    rear: float  # at the rear wheels, from the foot's circuit
    lever_brake: float | None
    torque_front: float  # a wheel
    torque_rear: float
    force_front: float  # an axle, at the ground
    force_rear: float
    knee: float


class Brakes:
    def __init__(self, car, cold=False, setting=None, bar_share=None):
        self.car, self.valve, self.lever = car, car.valve, car.lever
        self.setting = setting if setting is not None else (car.valve.setting if car.valve else None)
        self.front, self.rear = WheelBrake(car.front_brake, cold), WheelBrake(car.rear_brake, cold)
        self.lever_brake = WheelBrake(car.lever_brake, cold) if car.lever_brake else None
        self.area_front, self.area_rear = circle(car.bore_front), circle(car.bore_rear)
        self.bar_share = car.bar_share if bar_share is None else bar_share
        self.inline = self.lever is not None and self.lever.kind == "inline"
        self.separate = self.lever is not None and self.lever.kind == "separate"
        self.cable = self.lever is not None and self.lever.kind == "cable"
        self._branches()
        if self.inline or self.separate:
            abreast = self.lever.outlets == "side-by-side"
            self.lever_area = circle(self.lever.bore) * (2 if abreast else 1)
            self.own_per_newton = self.lever.ratio * self.lever.efficiency / self.lever_area
            self.free_stroke = self.lever.free_stroke * (2 if self.lever.outlets == "tandem" else 1)
            self.stroke_limit = min(self.lever.stroke, (self.lever.room - self.lever.free_play) / self.lever.ratio)

    def _branches(self):
        car = self.car
        twice = 2 if car.split == "diagonal" else 1

        def pipe(name, line):
            return [Run(car.routes[name], car.lines[line].pipe)]

        def to_wheels(names, line, before=""):
            """The runs that end at wheels, each in its hose; `before` belongs to both where no tee parts them."""
            runs = []
            for name in names:
                length = car.routes[name] + (car.routes[before] if before else 0.0)
                hose = min(car.lines[line].flexible_last, length)
                runs += [Run(length - hose, car.lines[line].pipe), Run(hose, car.lines[line].flexible)]
            return runs

        sides = ("left", "right")
        parted = self.lever is not None and self.lever.outlets != "one"

        def front(*sides):
            return to_wheels([f"master_to_front_{side}" for side in sides], "front")

        def rear(*sides):
            before = "lever_to_rear_tee" if self.inline and parted else ""
            return to_wheels([f"tee_to_rear_{side}" for side in sides], "rear", before)

        # a valve before the lever stands at the bulkhead, one after it at the lever's outlet
        self.upstream = branch(None, pipe("master_to_bulkhead", "rear") * twice)
        self.to_lever = branch(None, pipe("bulkhead_to_lever", "rear") * twice if self.inline else [])
        self.front_branch = branch(car.front_brake, front(*sides), car.air_front)
        to_tee = [] if self.inline and parted else pipe("lever_to_rear_tee", "rear") if self.inline else pipe("bulkhead_to_rear_tee", "rear") * twice
        self.downstream = branch(car.rear_brake, to_tee + rear(*sides), car.air_rear)
        self.lever_branch = self.downstream
        if self.separate:
            ends = [f"lever_tee_to_{side}" for side in sides]
            runs = to_wheels(ends, "lever", "lever_to_lever_tee") if parted else pipe("lever_to_lever_tee", "lever") + to_wheels(ends, "lever")
            self.lever_branch = branch(car.lever_brake, runs, car.air_lever)
        # one circuit of a diagonal split: front left with rear right, then the others
        self.diagonals = [
            (
                branch(car.front_brake, front(ahead), car.air_front / 2, 1),
                branch(None, pipe("master_to_bulkhead", "rear")),
                branch(None, pipe("bulkhead_to_lever", "rear") if self.inline else []),
                branch(car.rear_brake, to_tee[:1] + rear(behind), car.air_rear / 2, 1),
            )
            for ahead, behind in [sides, sides[::-1]]
        ]

    # the foot

    def pushrod(self, foot):
        if isinstance(foot, Rod):
            return float(foot)
        per_foot = self.car.pedal_ratio * self.car.pedal_efficiency
        if self.car.booster is None:
            return max(foot - self.car.preload, 0.0) * per_foot
        if foot < WAKES:
            return 0.0
        gain, knee, leap = self.booster()
        helped = leap + gain * foot * per_foot
        return helped if helped <= knee else knee + foot * per_foot - (knee - leap) / gain

    def foot(self, pushrod):
        per_foot = self.car.pedal_ratio * self.car.pedal_efficiency
        if self.car.booster is None:
            return self.car.preload + pushrod / per_foot
        gain, knee, leap = self.booster()
        force = (pushrod - leap) / gain if pushrod <= knee else (knee - leap) / gain + (pushrod - knee)
        return max(force / per_foot, WAKES)

    def booster(self):
        """Gain, the pushrod force beyond which it helps no more, and that at which its line meets no foot at all."""
        gain, run_out, jump_in = self.car.booster
        area = self.area_front if self.car.master == "tandem" else self.area_front + self.area_rear
        return gain, run_out * area, jump_in * area

    def masters(self, pushrod):
        if self.car.master == "tandem":
            return pushrod / self.area_front, pushrod / self.area_front
        return self.bar_share * pushrod / self.area_front, (1 - self.bar_share) * pushrod / self.area_rear

    # the valve

    def knee(self, rear_load):
        valve = self.valve
        if valve is None:
            return math.inf
        if valve.kind == "load-sensing":
            (n1, p1), (n2, p2) = valve.by_load
            return max(p1 + (p2 - p1) * (rear_load - n1) / (n2 - n1), 0.0)
        if valve.kind in ("fixed", "limiting"):
            return valve.knee
        return interpolate(valve.line, self.setting)

    def through_valve(self, p, knee):
        return p if p <= knee else knee + self.valve.slope * (p - knee)

    def before_valve(self, p, knee):
        """The inlet that gives this outlet; infinite where a limiting valve will not pass it."""
        if p <= knee:
            return p
        return knee + (p - knee) / self.valve.slope if self.valve.slope > 0 else math.inf

    def at_brake(self, p, knee):
        """Rear brake pressure from that at the lever's outlet."""
        return self.through_valve(p, knee) if self.valve_after() else p

    def valve_after(self):
        return self.valve is not None and self.inline and self.valve.place == "after-lever"

    # the lever

    def stroke(self, inlet, outlet, knee):
        """Of the lever's cylinder, from rest."""
        if self.separate:
            taken = self.lever_branch.volume(outlet)
        else:
            taken = self.downstream.volume(self.at_brake(outlet, knee)) - self.downstream.volume(self.at_brake(inlet, knee))
        return taken / self.lever_area + self.free_stroke

    def grip_travel(self, stroke):
        return stroke * self.lever.ratio + self.lever.free_play

    def pull(self, inlet, hand, knee):
        if self.lever is None or hand <= 0:
            return Pull(inlet, 0.0 if self.inline or self.separate else None, 0.0 if self.inline or self.separate else None, False)
        if self.cable:
            return Pull(inlet, None, None, False)
        if self.separate:
            inlet = 0.0
        own = hand * self.own_per_newton
        added = inlet * (1 - (self.lever.rear_seal / self.lever.bore) ** 2)
        outlet = max(inlet, own + added)
        if outlet <= inlet:  # the foot holds the pressure, the free stroke is taken up all the same
            return Pull(inlet, own, self.grip_travel(self.free_stroke), False)
        stroke = self.stroke(inlet, outlet, knee)
        if stroke <= self.stroke_limit:
            return Pull(outlet, own, self.grip_travel(stroke), False)
        limit = self.stroke_limit
        if limit <= self.free_stroke:
            outlet = inlet
        else:
            outlet = brentq(lambda p: self.stroke(inlet, p, knee) - limit, inlet, outlet, xtol=1e-6, rtol=1e-14)
        return Pull(outlet, max(outlet - added, 0.0), self.grip_travel(limit), True)

    # together

    def at(self, foot, hand, rear_load, knee=None, limited=False):
        """Pressures, torques and ground forces with this load on the rear axle; `limited`: by the master's stroke."""
        car = self.car
        knee = self.knee(rear_load) if knee is None else knee
        pushrod = self.pushrod(foot)
        front, rear_master = self.reached(pushrod, knee) if limited else self.masters(pushrod)
        inlet = self.lever_inlet(rear_master, knee)
        pull = self.pull(inlet, hand, knee)
        rear = self.at_brake(pull.outlet if self.inline else inlet, knee)
        cable_force = hand * self.lever.cable["ratio"] * self.lever.cable["efficiency"] / 2 if self.cable else 0.0
        own = pull.outlet if self.separate and hand > 0 else 0.0
        torque_front = self.front.torque(front)
        torque_rear = self.rear.torque(rear, cable_force)
        if self.separate:
            torque_rear += self.lever_brake.torque(own)
        return Point(
            pushrod, front, rear_master, inlet, pull, rear, own if self.separate else None,
            torque_front, torque_rear,
            2 * torque_front / car.radius_front, 2 * torque_rear / car.radius_rear, knee,
        )

    def lever_inlet(self, rear_master, knee):
        return rear_master if self.valve_after() else self.through_valve(rear_master, knee)

    def rear_volume(self, rear_master, knee):
        """What the rear circuit takes in by the foot alone."""
        inlet = self.lever_inlet(rear_master, knee)
        return self.upstream.volume(rear_master) + self.to_lever.volume(inlet) + self.downstream.volume(self.at_brake(inlet, knee))

    def diagonal_volume(self, number, pressure, knee):
        """What one circuit of a diagonal split takes in by the foot alone."""
        front, upstream, to_lever, rear = self.diagonals[number]
        inlet = self.lever_inlet(pressure, knee)
        return (front.volume(pressure) + upstream.volume(pressure) + to_lever.volume(inlet)
                + rear.volume(self.at_brake(inlet, knee)))

    def reached(self, pushrod, knee):
        """The masters' pressures, no higher than their strokes allow: a tandem's together, twin cylinders each its own."""
        front, rear = self.masters(pushrod)
        stroke = self.car.master_stroke

        def cut(pressure, taken, there_is):
            if taken(pressure) <= there_is:
                return pressure
            return brentq(lambda p: taken(p) - there_is, 0.0, pressure, xtol=1e-6, rtol=1e-14)

        if self.car.master == "tandem":
            both = cut(front, lambda p: self.front_branch.volume(p) + self.rear_volume(p, knee), stroke * self.area_front)
            return both, both
        return (
            cut(front, self.front_branch.volume, stroke * self.area_front),
            cut(rear, lambda p: self.rear_volume(p, knee), stroke * self.area_rear),
        )

    def braking(self, foot, load, hand=0.0, knee=None, limited=False):
        """(z, Point) where z is what the brakes ask of the ground, without a limit of grip."""

        def rate(z):
            point = self.at(foot, hand, load.rear(z), knee, limited)
            return (point.force_front + point.force_rear) / load.weight, point

        if self.valve is None or self.valve.kind != "load-sensing" or knee is not None:
            return rate(0.0)
        z = brentq(lambda z: rate(z)[0] - z, 0.0, 1e6, xtol=1e-15, rtol=1e-14)  # far beyond any brake
        inlet, lawful = self.masters(self.pushrod(foot))[1], self.knee(load.rear(z))
        held = self.held(inlet, lawful, load)
        if held <= lawful:
            return rate(z)
        knee = held
        return rate(0.0)

    def held(self, inlet, lawful, load):
        """The knee behind a load-sensing valve whose outlet may not fall while the foot rises: that of the greatest outlet so far.

        Up to the knee the outlet is the inlet; from there on its law is convex in the foot, so the greatest is at either end.
        """
        slope = self.valve.slope
        if inlet <= lawful or slope >= 1:
            return lawful

        def over(rod):
            def off(z):
                point = self.at(Rod(rod), 0.0, load.rear(z))
                return (point.force_front + point.force_rear) / load.weight - z

            z = brentq(off, 0.0, 1e6, xtol=1e-15, rtol=1e-14)
            return self.masters(rod)[1] - self.knee(load.rear(z))

        here = inlet * self.area_front if self.car.master == "tandem" else inlet * self.area_rear / (1 - self.bar_share)
        if over(0.0) >= 0 or over(here) <= 0:
            return lawful
        met = self.masters(brentq(over, 0.0, here, xtol=1e-10, rtol=1e-14))[1]
        return max(lawful, (met - slope * inlet) / (1 - slope))

    def pedal_travel(self, point):
        """(travel at the foot, runs out): what the foot's own pressures take in."""
        car = self.car
        front = self.front_branch.volume(point.front_master) / self.area_front
        rear = self.rear_volume(point.rear_master, point.knee) / self.area_rear
        if car.master == "tandem":
            stroke = front + rear
        else:
            stroke = self.bar_share * front + (1 - self.bar_share) * rear
        return stroke * car.pedal_ratio, self.runs_out(point.pushrod, point.knee)

    def runs_out(self, pushrod, knee):
        """Whether the force would move more fluid than the stroke has."""
        front, rear = self.masters(pushrod)
        strokes = self.front_branch.volume(front) / self.area_front, self.rear_volume(rear, knee) / self.area_rear
        return (sum(strokes) if self.car.master == "tandem" else max(strokes)) > self.car.master_stroke
