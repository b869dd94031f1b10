"""The turn's equations in SciPy: LSODA, Radau and DOP853 with a right-hand side compiled by numba, and the moments at
which a rear wheel stops or lets go found by its events. Reads the car from standard input, and times the loosest tolerance
at which the end is no further off than the error that it is given. Prints a line a method: name, rtol, median s,
longest s, error.

Needs numpy, scipy and numba.
"""

import math
import sys
import time

import numpy
from numba import njit
from scipy.integrate import solve_ivp

G = 9.81


@njit(cache=False)
def grip(slip, b, c, d, e):
    bent = b * slip - e * (b * slip - math.atan(b * slip))
    return d * math.sin(c * math.atan(bent))


@njit(cache=False)
def look(t, y, k, segment, held, ways, rates):
    """Fills the rates; gives what the two rear wheels lack to stand still, and what their brakes can hold."""
    m, iz, a, wheelbase, h, share = k[0], k[1], k[2], k[3], k[4], k[5]
    tf, tr, rf, rr = k[6], k[7], k[8], k[9]
    b, c, d, e, sensitivity = k[10], k[11], k[12], k[13], k[14]
    j, ji, turns, preload = k[15], k[16], k[17], k[18]
    gain, threshold, lag_p, lag_a = k[19], k[20], k[21], k[22]
    psi, u, v, r = y[2], y[3], y[4], y[5]
    ax, ay, p, steer = y[10], y[11], y[12], y[13]
    weight = m * G
    rear = weight * a / wheelbase
    moved = min(max(m * ax * h / wheelbase, -rear), weight - rear)
    fx = fy = mz = 0.0
    torque = numpy.empty(4)
    for w in range(4):
        front = w < 2
        axle = weight - rear - moved if front else rear + moved
        track = tf if front else tr
        part = share if front else 1 - share
        across = min(max(part * m * ay * h / track, -axle / 2), axle / 2)
        left = w % 2 == 0
        load = axle / 2 - across if left else axle / 2 + across
        px = a if front else a - wheelbase
        py = track / 2 if left else -track / 2
        along, side = u - r * py, v + r * px
        if front:
            co, si = math.cos(steer), math.sin(steer)
            along, side = along * co + side * si, side * co - along * si
        radius = rf if front else rr
        rolling = y[6 + w] * radius
        over = max(abs(rolling), 0.1)
        sx, sy = (along - rolling) / over, side / over
        s = math.sqrt(sx * sx + sy * sy)
        factor = max(1 - sensitivity * (load * 4 / weight - 1), 0.1)
        force = -load * factor * grip(s, b, c, d, e) / s if s > 1e-12 else 0.0
        if s <= 1e-12:
            force = -load * factor * b * c * d
        lx, ly = force * sx, force * sy
        torque[w] = -radius * lx
        if front:
            lx, ly = lx * co - ly * si, lx * si + ly * co
        fx += lx
        fy += ly
        mz += px * ly - py * lx
    tie = preload * math.tanh((y[8] - y[9]) / 0.1)
    torque[2] -= tie
    torque[3] += tie
    friction = gain * max(p - threshold, 0.0)
    coupled = ji * turns * turns
    pull2 = torque[2] - ways[0] * friction
    pull3 = torque[3] - ways[1] * friction
    both, one = j + coupled, coupled
    if held[0] and held[1]:
        w2 = w3 = 0.0
    elif held[0]:
        w2, w3 = 0.0, pull3 / both
    elif held[1]:
        w2, w3 = pull2 / both, 0.0
    else:
        det = both * both - one * one
        w2, w3 = (both * pull2 - one * pull3) / det, (both * pull3 - one * pull2) / det
    rates[0] = u * math.cos(psi) - v * math.sin(psi)
    rates[1] = u * math.sin(psi) + v * math.cos(psi)
    rates[2] = r
    rates[3] = fx / m + r * v
    rates[4] = fy / m - r * u
    rates[5] = mz / iz
    rates[6], rates[7], rates[8], rates[9] = torque[0] / j, torque[1] / j, w2, w3
    rates[10], rates[11] = (fx / m - ax) / lag_a, (fy / m - ay) / lag_a
    asked = segment[3] + (segment[4] - segment[3]) * (t - segment[0]) / (segment[1] - segment[0])
    rates[12] = (asked - p) / lag_p
    rates[13] = segment[2]
    return both * w2 + one * w3 - torque[2], one * w2 + both * w3 - torque[3], friction


def turn(k, segments, speed, method, rtol):
    y = numpy.zeros(14)
    y[3] = speed
    y[6], y[7], y[8], y[9] = speed / k[8], speed / k[8], speed / k[9], speed / k[9]
    held = numpy.zeros(2, numpy.bool_)
    ways = numpy.ones(2)
    rates = numpy.empty(14)
    scale = numpy.array([1, 1, 0.2, 2, 2, 0.5, 5, 5, 5, 5, 5, 5, 1e6, 0.2])
    for segment in segments:
        t = segment[0]

        def rhs(t, y):
            out = numpy.empty(14)
            look(t, y, k, segment, held, ways, out)
            return out

        def event(i):
            def value(t, y):
                lack = look(t, y, k, segment, held, ways, rates)
                if held[i]:
                    return lack[2] - abs(lack[i])
                return ways[i] * y[8 + i] if lack[2] > 0 else 1.0

            value.terminal, value.direction = True, -1
            return value

        events = [event(0), event(1)]
        while t < segment[1] - 1e-12:
            run = solve_ivp(rhs, (t, segment[1]), y, method, rtol=rtol, atol=rtol * scale, events=events)
            t, y = run.t[-1], run.y[:, -1].copy()
            if run.status != 1:
                continue
            for i in range(2):
                if not len(run.t_events[i]):
                    continue
                if held[i]:
                    lack = look(t, y, k, segment, held, ways, rates)
                    held[i], ways[i] = False, -math.copysign(1.0, lack[i])
                    continue
                y[8 + i] = 0.0
                held[i], ways[i] = True, 0.0
                lack = look(t, y, k, segment, held, ways, rates)
                if abs(lack[i]) > lack[2]:
                    held[i], ways[i] = False, -math.copysign(1.0, lack[i])
    return y


def main():
    read, segments = {}, []
    for line in sys.stdin:
        name, *numbers = line.split()
        numbers = [float(number) for number in numbers]
        if name == "segment":
            segments.append(numpy.array(numbers))
        else:
            read[name] = numbers
    k = numpy.array([n for part in ("body", "tracks", "radii", "grip", "wheels", "brake") for n in read[part]])
    speed, error = read["start"][0], read["error"][0]
    for method, repeats in (("LSODA", 60), ("Radau", 10), ("DOP853", 30)):
        found = None
        for rtol in (1e-2, 3e-3, 1e-3, 3e-4, 1e-4, 3e-5, 1e-5, 3e-6, 1e-6, 3e-7, 1e-7, 1e-8, 1e-9):
            y = turn(k, segments, speed, method, rtol)
            off = math.sqrt(sum((a - b) ** 2 for a, b in zip(y[:3], read["exact"])))
            print(method, rtol, off, file=sys.stderr)
            found = (rtol, off)
            if off <= error:
                break
        taken = []
        for _ in range(repeats):
            begun = time.perf_counter()
            turn(k, segments, speed, method, found[0])
            taken.append(time.perf_counter() - begun)
        taken.sort()
        print(method, f"{found[0]:g}", taken[repeats // 2], taken[-1], found[1])


main()
