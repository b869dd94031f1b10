"""Writes expected.json: what this implementation gives for the cars beside it.

Run: python make_expected.py
More of them, at random, for a file of one's own: python make_expected.py SEED COUNT FILE
"""

import json
import pathlib
import platform
import sys

import numpy
import scipy

from main import run
from sheet import SheetError
from vary import CARS, Dice

HERE = pathlib.Path(__file__).parent
GRIPS = ["--grips", "0.2,0.3,0.5,0.65,0.8,1.0"]

# every car
COMMON = [
    ("pressures", ["--foot", "250 N"]),
    ("balance", GRIPS),
    ("settings", ["--surface", "wet tarmac", "--fuel", "20 L"]),
    ("lever", []),
]
# cars without a cable lever
HYDRAULIC = [
    ("pressures", ["--hand", "180 N"]),
    ("pressures", ["--foot", "60 N", "--hand", "220 N"]),
]
SPECIAL = [
    ("ash", "pressures", ["--foot", "480 N", "--no-crew", "--fuel", "0 L"]),
    ("ash", "pressures", ["--foot", "300 N", "--hand", "40 N", "--valve", "4.5 turns"]),
    ("ash", "balance", [*GRIPS, "--with", "drivetrain.driven=front", "--valve", "5.5 turns", "--grip", "0.9"]),
    ("ash", "balance", [*GRIPS, "--with", "drivetrain.driven=rear", "--with", "car.road_registered=false", "--cold"]),
    ("ash", "lever", ["--surface", "wet clay", "--speed", "20 km/h"]),
    ("ash", "lever", ["--surface", "packed snow", "--cold", "--no-crew"]),
    ("ash", "settings", ["--grip", "0.8", "--wanted", "even"]),
    ("ash", "settings", ["--surface", "dry tarmac", "--wanted", "rear-first 3 %"]),
    ("ash", "settings", []),
    ("birch", "pressures", ["--foot", "120 N", "--hand", "260 N", "--cold"]),
    ("birch", "balance", [*GRIPS, "--with", "rear_brake.shoes=two-leading", "--no-crew"]),
    ("birch", "lever", ["--grip", "0.3", "--with", "rear_brake.shoes=servo"]),
    ("cedar", "pressures", ["--foot", "400 N", "--hand", "300 N", "--valve", "2"]),
    ("cedar", "settings", ["--wanted", "front-first 10 %", "--surface", "dry tarmac"]),
    ("cedar", "settings", ["--wanted", "even", "--surface", "loose gravel", "--with", "master.bar.front_share=0.42"]),
    ("dogwood", "pressures", ["--foot", "30 N", "--hand", "250 N"]),
    ("dogwood", "lever", ["--surface", "packed snow"]),
    ("dogwood", "lever", ["--with", "bias_valve.place=before-lever", "--no-crew"]),
    ("elder", "pressures", ["--foot", "420 N", "--hand", "150 N", "--fuel", "62 L"]),
    ("elder", "balance", [*GRIPS, "--with", "drivetrain.centre.kind=none", "--fuel", "0 L"]),
    ("elder", "balance", [
        "--grips", "0.5,0.8", "--with", "drivetrain.centre.kind=open", "--with", 'rear_brake.caliper.pistons=["48 mm"]',
        "--with", "bias_valve.slope=0.1", "--with", 'bias_valve.knee.empty=["3 kN", "10 bar"]', "--with", 'bias_valve.knee.laden=["6 kN", "70 bar"]',
    ]),
    ("elder", "settings", ["--wanted", "even", "--grip", "1.0", "--cold"]),
    ("elder", "lever", ["--hand", "420 N", "--grip", "0.75"]),
    ("fir", "pressures", ["--foot", "350 N", "--hand", "330 N", "--valve", "1.7 turns"]),
    ("fir", "balance", [*GRIPS, "--valve", "5 turns", "--fuel", "65 L"]),
    ("fir", "balance", [*GRIPS, "--with", "drivetrain.centre.held.preload=12 N m"]),
    ("fir", "lever", ["--with", "lever.switch=false"]),
    ("fir", "lever", ["--valve", "4.4 turns", "--surface", "loose gravel", "--speed", "90 km/h"]),
    ("gorse", "pressures", ["--foot", "200 N", "--hand", "150 N", "--cold"]),
    ("gorse", "lever", ["--surface", "dry tarmac", "--hand", "120 N"]),
    ("hazel", "balance", ["--grips", "0.1,0.15,0.25,0.3,0.35", "--with", "car.road_registered=false"]),
    ("hazel", "lever", ["--with", "drivetrain.centre.preload=500 N m", "--hand", "500 N", "--with", "lever.room=240 mm"]),
    ("hazel", "settings", ["--surface", "ice", "--wanted", "even"]),
    ("ivy", "pressures", ["--foot", "250 N", "--with", "air.rear=9 cm3"]),
    ("ivy", "balance", [*GRIPS, "--with", "lever.outlets=tandem", "--grip", "0.4"]),
    ("ivy", "lever", ["--with", "air.rear=0 cm3", "--surface", "ice"]),
    ("juniper", "pressures", ["--foot", "500 N"]),
    ("juniper", "balance", ["--grips", "0.5,0.7,0.9", "--with", "master.bar.front_share=0.40", "--with", "car.road_registered=false"]),
    ("juniper", "lever", ["--surface", "dry tarmac", "--speed", "80 km/h"]),
    ("larch", "pressures", ["--foot", "90 N", "--hand", "290 N", "--no-crew"]),
    ("larch", "lever", ["--surface", "loose gravel", "--fuel", "0 L", "--with", "lever.outlets=one"]),
    ("larch", "lever", ["--with", "drivetrain.centre.kind=locked", "--hand", "600 N", "--surface", "ice"]),
    ("elder", "pressures", ["--foot", "250 N", "--with", "master.bore=16 mm", "--with", "pedal.ratio=5.8"]),
    ("larch", "pressures", ["--foot", "560 N", "--with", "master.bore=17.3 mm"]),
    ("dogwood", "settings", ["--grip", "0.921", "--wanted", "front-first 7 %"]),
    ("birch", "settings", ["--surface", "loose gravel", "--with", "rear_brake.cylinder_bore=22.2 mm"]),
    ("maple", "pressures", ["--hand", "330 N", "--foot", "5 N"]),
    ("maple", "lever", ["--with", "lever.switch=true", "--with", "lever.room=240 mm", "--with", "lever.stroke=34 mm"]),
    ("maple", "lever", ["--with", "air.rear=0 cm3", "--with", "lever.room=200 mm", "--hand", "420 N"]),
]


SEED, VARIED = 20260501, 3  # so many of each car


def cases():
    for car in CARS:
        verbs = COMMON + ([] if car == "gorse" else HYDRAULIC)
        for verb, options in verbs:
            # a car without a tank takes no fuel
            options = [o for o in options if o not in ("--fuel", "20 L")] if car == "gorse" else options
            yield car, verb, options
    yield from SPECIAL


def answered(car, verb, options):
    return {"car": f"cars/{car}.toml", "verb": verb, "options": options, "result": run(verb, HERE / "cars" / f"{car}.toml", options)}


def varied(seed, each=None, count=None):
    """Cases at random that make a car: so many of each, or so many in all."""
    dice, found = Dice(seed), []
    while len(found) < (count or each * len(CARS)):
        car = CARS[len(found) // each] if each else dice.one(CARS)
        verb = ("pressures", "lever", "balance", "settings")[len(found) % 4] if each else dice.verb()
        try:
            found.append(answered(car, verb, dice.options(car, verb)))
        except SheetError:
            continue
    return found


def main(arguments):
    if arguments:
        seed, count, file = arguments
        found, file = varied(int(seed), count=int(count)), pathlib.Path(file)
    else:
        found, file = [answered(*case) for case in cases()] + varied(SEED, each=VARIED), HERE / "expected.json"
    versions = {"python": platform.python_version(), "numpy": numpy.__version__, "scipy": scipy.__version__}
    file.write_text(json.dumps({"made_with": versions, "cases": found}, indent=1) + "\n")
    print(f"{len(found)} cases")


if __name__ == "__main__":
    main(sys.argv[1:])
