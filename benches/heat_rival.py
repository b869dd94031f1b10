"""Heat of a stage in SciPy: the same two nodes a corner, LSODA with a right-hand side compiled by numba, a stretch at a
time. Reads the car and the stretches from standard input, and times the loosest tolerance at which the peaks are no
further off than the error that it is given. Prints: name, rtol, median s, slowest s, error.

Needs numpy, scipy and numba.
"""

import sys
import time

import numpy
from numba import njit
from scipy.integrate import solve_ivp

SIGMA = 5.670374419e-8


@njit(cache=False)
def friction(t, fade):
    """Four temperatures, the share of the warm friction at each, and the fall a kelvin beyond the last."""
    if t <= fade[0]:
        return fade[4]
    for i in range(3):
        if t <= fade[i + 1]:
            return fade[4 + i] + (fade[5 + i] - fade[4 + i]) * (t - fade[i]) / (fade[i + 1] - fade[i])
    return max(fade[7] + fade[8] * (t - fade[3]), 0.25)


@njit(cache=False)
def look(t, y, k, s, out):
    """Fills the rates of disc and caliper, front and rear (K/s)."""
    air, weight = k[0], k[1]
    speed = s[2] + (s[3] - s[2]) * (t - s[0]) / (s[1] - s[0])
    speed = max(speed, 0.0)
    forces = numpy.zeros(2)
    if s[4] > 0:
        # Both axles: force = scale gain (push pressure - threshold), pressure straight in the rod's force.
        scale = numpy.empty(2)
        for i in range(2):
            scale[i] = friction(y[2 * i], k[20 + 9 * i : 29 + 9 * i]) * k[2 + 8 * i + 6]
        wanted = s[4] * weight
        p0 = k[9], k[17]
        per = k[18], k[19]
        starts = p0[0] / per[0], p0[1] / per[1]
        first = 0 if starts[0] <= starts[1] else 1
        alone = wanted / (scale[first] * per[first]) + starts[first]
        if alone <= starts[1 - first]:
            rod = alone
        else:
            rod = (wanted + scale[0] * p0[0] + scale[1] * p0[1]) / (scale[0] * per[0] + scale[1] * per[1])
        for i in range(2):
            forces[i] = scale[i] * max(per[i] * rod - p0[i], 0.0)
    moved = speed**0.8
    for i in range(2):
        o = 2 + 8 * i
        iron, blown, plain, caliper, share, over = k[o], k[o + 1], k[o + 2], k[o + 3], k[o + 4], k[o + 5]
        td, tc = y[2 * i], y[2 * i + 1]
        q = forces[i] * speed / 2
        gives = (4 + 5 * moved) * blown * (td - air) + 0.6 * SIGMA * plain * (td**4 - air**4) + over * (td - tc)
        c = 450 + 0.4 * min(td - 273.15, 700.0)
        out[2 * i] = (0.93 * q - gives) / (iron * c)
        out[2 * i + 1] = (0.07 * share * q + over * (td - tc) - (0.60 + 0.16 * moved) * (tc - air)) / caliper


def drive(k, stretches, rtol):
    y = numpy.full(4, k[0])
    peaks = y.copy()
    for s in stretches:

        def rhs(t, y):
            out = numpy.empty(4)
            look(t, y, k, s, out)
            return out

        run = solve_ivp(rhs, (s[0], s[1]), y, "LSODA", rtol=rtol, atol=1e3 * rtol)
        y = run.y[:, -1]
        peaks = numpy.maximum(peaks, run.y.max(axis=1))
    return peaks


def main():
    read, stretches = {}, []
    for line in sys.stdin:
        name, *numbers = line.split()
        numbers = [float(number) for number in numbers]
        if name == "stretch":
            stretches.append(numpy.array(numbers))
        else:
            read[name] = numbers
    k = numpy.array([n for part in ("car", "front", "rear", "pressed", "front_fade", "rear_fade") for n in read[part]])
    exact, error = numpy.array(read["exact"]), read["error"][0]
    found = None
    for rtol in (1e-4, 3e-5, 1e-5, 3e-6, 1e-6, 3e-7, 1e-7, 3e-8, 1e-8, 1e-9, 1e-10):
        off = numpy.abs(drive(k, stretches, rtol) - exact).max()
        print(rtol, off, file=sys.stderr)
        found = (rtol, off)
        if off <= error:
            break
    taken = []
    for _ in range(20):
        begun = time.perf_counter()
        drive(k, stretches, found[0])
        taken.append(time.perf_counter() - begun)
    taken.sort()
    print("LSODA", f"{found[0]:g}", taken[10], taken[-1], found[1])


main()
