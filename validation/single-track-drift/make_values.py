"""Makes the values of data.toml out of the package that they come from and prints them.

    python -m venv venv && venv/bin/pip install commonroad-vehicle-models==3.0.2
    venv/bin/python make_values.py

Made with commonroad-vehicle-models 3.0.2 (BSD-3) on Python 3.11.
"""

import math

import vehiclemodels.utils.tire_model as tyre
from vehiclemodels.parameters_vehicle2 import parameters_vehicle2
from vehiclemodels.vehicle_dynamics_st import vehicle_dynamics_st
from vehiclemodels.vehicle_dynamics_std import vehicle_dynamics_std

LOAD = 4000.0


def pure():
    """Forces of pure slip, shifts left out: braking slip s = 1 - R w/u, slip angle in rad."""
    p = parameters_vehicle2().tire
    p.p_hx1 = p.p_vx1 = 0.0
    slips = [0.02, 0.05, 0.1, 0.2, 0.5, 1.0]
    angles = [0.01, 0.03, 0.06, 0.1, 0.2, 0.4]
    print("pure along", [round(tyre.formula_longitudinal(s, 0, LOAD, p), 4) for s in slips])
    print("pure across", [round(tyre.formula_lateral(a, 0, LOAD, p)[0], 4) for a in angles])


def combined():
    p = parameters_vehicle2().tire
    rows = [(0.05, 0.05), (0.1, 0.1), (0.2, 0.1), (0.5, 0.2), (1.0, 0.1), (1.0, 0.3), (1.0, 0.6), (1.0, 1.2), (-0.1, 0.1)]
    along, across = [], []
    for s, alpha in rows:
        fx = tyre.formula_longitudinal(s, 0, LOAD, p)
        fy, mu = tyre.formula_lateral(alpha, 0, LOAD, p)
        along.append(round(tyre.formula_longitudinal_comb(s, alpha, fx, p), 3))
        across.append(round(tyre.formula_lateral_comb(s, alpha, 0, mu, LOAD, fy, p), 3))
    print("combined along", along)
    print("combined across", across)


X = [2.0233348142065677, 0.0041907137716636, 0.0197545248559617, 15.7216236334290116, 0.0025857914776859,
     0.0529001056654038, 0.0033012170610298, 53.6551710641082451, 56.7917911784219598]
INPUT = [0.15, 0.63 * 9.81]


def derivatives():
    """The package's own test of the drift model expects what comes out without load transfer; as released it has one."""
    p = parameters_vehicle2()
    print("drift derivative", vehicle_dynamics_std(X[:], INPUT, p))
    height, p.h_s = p.h_s, 0.0
    print("the same without load transfer", vehicle_dynamics_std(X[:], INPUT, p))
    p.h_s = height
    print("linear derivative", vehicle_dynamics_st(X[:7], INPUT, p))


def follow(p, x, inputs, times, step=5e-5):
    """Classic fourth-order steps; prints x, y, v, heading, yaw rate, side slip, both wheels."""
    t, rows = 0.0, []
    for stop in times:
        while t < stop - step / 2:
            u = inputs(t + step / 2)

            def rate(at):
                return vehicle_dynamics_std(list(at), u, p)

            def moved(by, k):
                return [a + by * b for a, b in zip(x, k)]

            k1 = rate(x)
            k2 = rate(moved(step / 2, k1))
            k3 = rate(moved(step / 2, k2))
            k4 = rate(moved(step, k3))
            x = [a + step / 6 * (b + 2 * c + 2 * d + e) for a, b, c, d, e in zip(x, k1, k2, k3, k4)]
            x[7], x[8] = max(0.0, x[7]), max(0.0, x[8])
            t += step
        rows.append([round(x[i], 5) for i in (0, 1, 3, 4, 5, 6, 7, 8)])
    for name, column in zip(("x", "y", "speed", "heading", "yaw rate", "side slip", "front", "rear"), zip(*rows)):
        print(" ", name, list(column))


def handbrake():
    p = parameters_vehicle2()
    p.T_sb = 0.0
    start = [0, 0, 0, 15.0, 0, 0, 0, 15 / p.R_w, 15 / p.R_w]
    print("handbrake turn")
    follow(p, start, lambda t: [0.4 if t < 0.5 else 0.0, -6.0 if t > 0.3 else 0.0], [0.3, 0.4, 0.5, 0.6, 0.8, 1.0])


def stop():
    p = parameters_vehicle2()
    start = [0, 0, 0, 20.0, 0, 0, 0, 20 / p.R_w, 20 / p.R_w]
    print("straight stop")
    follow(p, start, lambda t: [0.0, -6.0], [0.5, 1.0, 2.0])


assert math.isclose(parameters_vehicle2().R_w, 0.344)
pure()
combined()
derivatives()
handbrake()
stop()
