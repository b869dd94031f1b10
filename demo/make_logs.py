#!/usr/bin/env python3
"""Writes tarn/logs/shakedown.csv: an invented logger's file of an invented car.

A straight-line model of the car in tarn/car.toml is driven through five stops of the foot
and one pull of the handbrake; what its sensors would have said is written down, with their
noise, their offsets and one connector that lets go for a moment. The seed is fixed: the
same file comes out every time. Python 3.11, nothing to install:

    python3 demo/make_logs.py

What a reader of the log ought to find again stands in TRUTH, and is not quite what the
sheet says; events are printed as they happen. Rolling and air resistance act as well.
"""

import math
import pathlib
import random

G = 9.81
SEED = 20260502
STEP_S = 0.0005
SAMPLE_EVERY = 20  # steps: 100 samples a second

TRUTH = {
    "front pad friction": 0.405,  # the sheet: 0.43
    "rear pad friction": 0.415,  # the sheet: 0.42
    "knee, bar": 29.5,  # the sheet: 30.8 at 2.0 turns
    "slope": 0.38,  # the sheet: 0.40
    "rear pressure lag, s": 0.05,
}

# The car of the sheet, crew aboard, half a tank.
MASS_KG, CG_AFT_M, CG_HEIGHT_M, WHEELBASE_M = 1540.0, 1.201, 0.530, 2.61
RADIUS_M, WHEEL_J, TRACK_M = 0.312, 1.1, 1.50
FINAL_DRIVE, INPUT_J = 4.1, 0.08
FRONT_PISTONS_M2 = math.pi / 4 * (0.0413**2 + 0.0365**2)
REAR_PISTONS_M2 = math.pi / 4 * 0.040**2
FRONT_RADIUS_M, REAR_RADIUS_M = 0.127, 0.118
BAR_PER_HAND_N = 7.0 * 0.90 / (math.pi / 4 * 0.015875**2) / 1e5
HAND_N = 250.0
COUPLING = [(0, 0), (50, 90), (200, 170), (1000, 300), (2000, 360)]  # rpm, N m

# Peak, slip at the peak, sliding over peak, initial stiffness.
TARMAC = (1.00, 0.14, 0.80, 16.0)
GRAVEL = (0.65, 0.30, 0.93, 7.0)

# What the driver does: (what, figures). Speeds in km/h, pressures in bar, times in s.
DRIVE = [
    ("wait", 3.0),
    ("surface", TARMAC),
    ("accelerate", 82, 3.2),
    ("brake", 25, 30),
    ("accelerate", 96, 3.0),
    ("brake", 44, 26),
    ("accelerate", 101, 2.9),
    ("brake", 60, 22),
    ("accelerate", 92, 3.1),
    ("brake hard", 96, 66, 24),  # stamped on, and eased when the wheels stop
    ("accelerate", 34, 1.5),
    ("surface", GRAVEL),
    ("accelerate", 57, 1.7),
    ("coast", 1.2),
    ("pull", 1.0),
    ("wait", 3.0),
    ("accelerate", 42, 1.6),
    ("brake", 19, 0),
    ("wait", 2.0),
]


def tyre(surface, slip):
    """Friction used at a theoretical slip: Bakker and Pacejka's form, fitted to four figures."""
    peak, at, slide, stiffness = surface
    c = 2 - 2 / math.pi * math.asin(slide)
    b = stiffness / (c * peak)
    x = b * at
    e = (x - math.tan(math.pi / 2 / c)) / (x - math.atan(x))
    y = b * slip
    return peak * math.sin(c * math.atan(y - e * (y - math.atan(y))))


def ground_force(surface, load, speed, omega):
    """Force of the ground on an axle, positive forwards."""
    slip = (speed - omega * RADIUS_M) / max(abs(omega * RADIUS_M), 0.1)
    return -load * math.copysign(tyre(surface, abs(slip)), slip)


def coupling_torque(delta_rad_s):
    """What the centre passes on, at the half-shafts, from the faster to the slower axle."""
    rpm = abs(delta_rad_s) * FINAL_DRIVE * 30 / math.pi
    torque = COUPLING[-1][1]
    for (x0, y0), (x1, y1) in zip(COUPLING, COUPLING[1:]):
        if rpm <= x1:
            torque = y0 + (y1 - y0) * (rpm - x0) / (x1 - x0)
            break
    return math.copysign(torque * FINAL_DRIVE, delta_rad_s)


def axle_brake(pressure_bar, pistons_m2, friction, radius_m):
    """Both wheels of an axle, N m."""
    return 2 * 2 * friction * pistons_m2 * max(pressure_bar - 0.5, 0) * 1e5 * 0.98 * radius_m


def behind_valve(bar):
    knee = TRUTH["knee, bar"]
    return bar if bar <= knee else knee + TRUTH["slope"] * (bar - knee)


class Car:
    def __init__(self, dice):
        self.dice = dice
        self.time = 0.0
        self.v = self.front = self.rear = self.acc = 0.0  # m/s, rad/s, rad/s, m/s2
        self.foot_bar = self.rear_bar = self.hand_bar = 0.0
        self.wander = 0.0  # of foot and hand
        self.surface = TARMAC
        self.gravel_from = math.inf
        self.disc = [48.0, 44.0]
        self.rows = []
        self.locked_since = [None, None]

    def step(self, foot_target=0.0, hand_target=0.0, drive=0.0):
        """One step; drive is the force asked of the engine, N; its clutch is down without any."""
        dt = STEP_S
        # Nobody holds a force still: it wanders by a fortieth, over some 0.4 s.
        self.wander += -self.wander * dt / 0.4 + math.sqrt(2 * dt / 0.4) * self.dice.gauss(0, 1)
        wanted = foot_target * (1 + 0.025 * self.wander)
        hand_target *= 1 + 0.025 * self.wander
        rate = 260 if wanted > self.foot_bar else 420
        self.foot_bar += max(-rate * dt, min(rate * dt, wanted - self.foot_bar))
        self.hand_bar += max(-1200 * dt, min(800 * dt, hand_target - self.hand_bar))
        wanted_rear = max(behind_valve(self.foot_bar), self.hand_bar)
        self.rear_bar += dt / TRUTH["rear pressure lag, s"] * (wanted_rear - self.rear_bar)

        weight = MASS_KG * G
        shift = -MASS_KG * self.acc * CG_HEIGHT_M / WHEELBASE_M
        front_load = weight * (WHEELBASE_M - CG_AFT_M) / WHEELBASE_M + shift
        rear_load = weight * CG_AFT_M / WHEELBASE_M - shift

        brake = [
            axle_brake(self.foot_bar, FRONT_PISTONS_M2, TRUTH["front pad friction"], FRONT_RADIUS_M),
            axle_brake(self.rear_bar, REAR_PISTONS_M2, TRUTH["rear pad friction"], REAR_RADIUS_M),
        ]
        tie = coupling_torque(self.front - self.rear)
        half_drive = drive * RADIUS_M / 2

        omega = [self.front, self.rear]
        forces, rates = [], []
        own_j = INPUT_J * (FINAL_DRIVE / 2) ** 2
        for axle, (load, pull) in enumerate(((front_load, -tie), (rear_load, tie))):
            w = omega[axle]
            force = ground_force(self.surface, load, self.v, w)
            push = half_drive + pull - RADIUS_M * force
            if abs(w) < 1e-6 and abs(push) <= brake[axle]:
                forces.append(force)
                rates.append(None)  # the brake holds the wheel
                continue
            torque = push - math.copysign(brake[axle], w if abs(w) > 1e-6 else push)
            h = 1e-4
            slope = (ground_force(self.surface, load, self.v, w + h) - force) / h
            inertia = 2 * WHEEL_J + own_j + dt * RADIUS_M * max(slope, 0.0)
            forces.append(force)
            rates.append(torque / inertia)
        for axle in (0, 1):
            if rates[axle] is None:
                omega[axle] = 0.0
                continue
            new = omega[axle] + rates[axle] * dt
            crossed = omega[axle] > 0 > new
            omega[axle] = 0.0 if crossed and brake[axle] > 0 else max(new, 0.0)

        resist = 0.015 * weight + 0.5 * 1.2 * 0.80 * self.v**2 if self.v > 0.05 else 0.0
        acc = (sum(forces) - resist) / MASS_KG
        if self.v < 0.15 and acc < 0 and drive == 0:
            self.v, omega, acc = 0.0, [0.0, 0.0], 0.0
        self.v = max(self.v + acc * dt, 0.0)
        self.acc += dt / 0.06 * (acc - self.acc)
        for axle, (mass, area) in enumerate(((6.8, 0.193), (4.2, 0.078))):
            power = brake[axle] * omega[axle] / 2
            loss = (4 + 5 * self.v**0.8) * area * (self.disc[axle] - 15)
            self.disc[axle] += dt * (0.93 * power - loss) / (mass * (450 + 0.4 * self.disc[axle]))
        self.front, self.rear = omega
        self.watch_locks()
        self.time += dt
        if round(self.time / dt) % SAMPLE_EVERY == 0:
            self.rows.append((self.time, self.foot_bar, self.rear_bar, self.v, self.front, self.rear, acc, *self.disc))

    def watch_locks(self):
        for axle, (name, w) in enumerate((("front", self.front), ("rear", self.rear))):
            locked = w * RADIUS_M < 0.05 and self.v > 1.0
            if locked and self.locked_since[axle] is None:
                self.locked_since[axle] = (self.time, self.rear_bar if axle else self.foot_bar, self.v)
            elif not locked and self.locked_since[axle]:
                since, bar, v = self.locked_since[axle]
                print(f"  {name} wheels stand from {since:.2f} s to {self.time:.2f} s; at first {bar:.1f} bar and {v * 3.6:.0f} km/h")
                self.locked_since[axle] = None

    def wait(self, seconds, **what):
        for _ in range(round(seconds / STEP_S)):
            self.step(**what)


def drive_through(car):
    for what, *figures in DRIVE:
        begun = car.time
        if what == "surface":
            car.surface = figures[0]
            if car.surface is GRAVEL:
                car.gravel_from = car.time
            continue
        if what == "wait":
            car.wait(figures[0], foot_target=12.0 if car.v < 0.1 and car.time > 5 else 0.0)
        elif what == "coast":
            car.wait(figures[0])
        elif what == "accelerate":
            car.wait(0.35)
            target, rate = figures
            while car.v < target / 3.6:
                fade = min(1.0, (target / 3.6 - car.v) / 2.0 + 0.25)
                ease = min(1.0, (car.time - begun) / 0.5)
                car.step(drive=MASS_KG * rate * fade * ease)
            car.wait(0.25)
        elif what == "brake":
            bar, end = figures
            while car.v > end / 3.6 + 1e-9:
                car.step(foot_target=bar)
            car.wait(0.4)
        elif what == "brake hard":
            bar, eased, end = figures
            noticed = None
            while car.v > end / 3.6:
                if noticed is None and car.locked_since[0]:
                    noticed = car.time + 0.30  # a driver's reaction
                letting_go = noticed is not None and noticed < car.time < noticed + 0.25
                target = bar if noticed is None or car.time < noticed else eased
                car.step(foot_target=20.0 if letting_go else target)
            car.wait(0.4)
        elif what == "pull":
            while car.v > 0.0:
                car.step(hand_target=HAND_N * BAR_PER_HAND_N)
            car.wait(figures[0], hand_target=HAND_N * BAR_PER_HAND_N)
        print(f"{begun:6.2f} to {car.time:6.2f} s  {what} {figures}")


HEADS = [
    "time [s]",
    "front pressure [bar]",
    "rear pressure [bar]",
    "speed [km/h]",
    "wheel front left [km/h]",
    "wheel front right [km/h]",
    "wheel rear left [km/h]",
    "wheel rear right [km/h]",
    "longitudinal acceleration [m/s2]",
    "front disc [C]",
    "rear disc [C]",
]
REAR_LOOM = (2, 6, 7)  # the columns that share the connector


def as_logged(car, dice, dropout):
    """Truth to sensor: offsets, calibration, noise, a wheel sensor's blindness at a crawl."""
    wheel_scale = (1.002, 0.999, 1.001, 0.998)
    for t, front_bar, rear_bar, v, front, rear, acc, front_disc, rear_disc in car.rows:
        bend = 0.0025 * math.sin(t / 5.3) + 0.0012 * math.sin(t / 1.9 + 1.0)  # 1/m, the road is not quite straight
        wheels = []
        for side, omega in ((-1, front), (1, front), (-1, rear), (1, rear)):
            kmh = omega * RADIUS_M * 3.6 * (1 + side * bend * TRACK_M / 2)
            kmh = kmh * wheel_scale[len(wheels)] + dice.gauss(0, 0.12 + 0.0015 * kmh) if kmh > 1.5 else 0.0
            wheels.append(f"{max(kmh, 0.0):.1f}")
        rough = 0.12 if t < car.gravel_from else 0.35
        row = [
            f"{t:.2f}",
            f"{front_bar + 0.1 + dice.gauss(0, 0.18):.1f}",
            f"{rear_bar + 0.3 + dice.gauss(0, 0.18):.1f}",
            f"{max(v * 3.6 + dice.gauss(0, 0.10), 0.0):.1f}",
            *wheels,
            f"{acc + 0.04 + dice.gauss(0, rough if v > 0.5 else 0.03):.2f}",
            f"{front_disc + dice.gauss(0, 0.6):.0f}",
            f"{rear_disc + dice.gauss(0, 0.6):.0f}",
        ]
        if dropout[0] <= t < dropout[1]:
            for column in REAR_LOOM:
                row[column] = ""
        yield row


def main():
    dice = random.Random(SEED)
    car = Car(dice)
    print("What happens:")
    drive_through(car)
    third_stop = [row[0] for row in car.rows if row[1] > 55]
    dropout = (round(third_stop[0] + 0.9, 2), round(third_stop[0] + 1.32, 2))
    print(f"rear loom silent from {dropout[0]:.2f} s to {dropout[1]:.2f} s")
    for name, value in TRUTH.items():
        print(f"{name}: {value}")
    out = pathlib.Path(__file__).resolve().parent / "tarn" / "logs" / "shakedown.csv"
    out.parent.mkdir(parents=True, exist_ok=True)
    with out.open("w", encoding="utf-8", newline="\n") as file:
        file.write(",".join(HEADS) + "\n")
        for row in as_logged(car, dice, dropout):
            file.write(",".join(row) + "\n")
    print(f"{len(car.rows)} rows")


if __name__ == "__main__":
    main()
