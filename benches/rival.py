"""Times the second reading of the equations (numpy, scipy) and prints a line a question: name, median s, 99th percentile s."""

import pathlib
import sys
import time

sys.path.insert(0, str(pathlib.Path(__file__).parent.parent / "validation" / "second_reading"))

import balance  # noqa: E402
import lever  # noqa: E402
from brakes import Brakes  # noqa: E402
from loads import load, tank_volume  # noqa: E402
from sheet import read  # noqa: E402


class Options:
    cold, valve, crew, hand, grip, speed = False, None, True, None, 0.65, 50 / 3.6


def timed(name, repeats, question):
    question()
    taken = []
    for _ in range(repeats):
        begun = time.perf_counter()
        question()
        taken.append(time.perf_counter() - begun)
    taken.sort()
    print(name, taken[repeats // 2], taken[int(repeats * 0.99)], flush=True)


def main(path):
    car = read(path, [])
    options = Options()
    options.fuel = tank_volume(car) / 2
    state = load(car, options.fuel, True)
    brakes = Brakes(car, False, None)
    tie = lever.coupling(car, options.speed, held=True)[0][1]
    grips = [g / 10 for g in range(1, 11)]

    def both():
        lever.lever(car, options)
        for grip in grips:
            balance.first_lock(brakes, state, grip, 500.0, tie)

    timed("pressures", 1000, lambda: brakes.braking(300.0, state, 150.0, limited=True))
    timed("lever-and-balance", 200, both)


main(sys.argv[1])
