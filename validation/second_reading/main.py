"""`main.py VERB SHEET [options]`: prints one JSON object in the shape of the Rust program's `--json`."""

import argparse
import json
import math
import sys

from balance import balance, settings
from brakes import Brakes
from lever import lever
from loads import load, tank_volume
from sheet import SheetError, parse, read


def pressures(car, options):
    if options.foot is None and options.hand is None:
        raise ValueError("--foot or --hand is needed")
    if options.hand is not None and car.lever is None:
        raise ValueError("--hand: this car has no [lever]")
    state = load(car, options.fuel, options.crew)
    brakes = Brakes(car, options.cold, options.valve)
    z, point = brakes.braking(options.foot or 0.0, state, options.hand or 0.0, limited=True)
    travel, runs_out = brakes.pedal_travel(point)
    twin = car.master == "twin"

    def wheel(pressure, torque, radius, own=None):
        extra = {"lever_pressure_pa": own} if own is not None else {}
        return {"pressure_pa": pressure, **extra, "torque_nm": torque, "ground_force_n": torque / radius}

    front = wheel(point.front_master, point.torque_front, car.radius_front)
    rear = wheel(point.rear, point.torque_rear, car.radius_rear, point.lever_brake)
    total = point.force_front + point.force_rear
    return {
        "load": {
            "mass_kg": state.mass, "cg_aft_m": state.a, "cg_height_m": state.h,
            "front_static_n": state.front(0), "rear_static_n": state.rear(0),
        },
        "pedal": {
            "pushrod_n": point.pushrod, "master_pa": None if twin else point.front_master,
            "front_master_pa": point.front_master if twin else None, "rear_master_pa": point.rear_master if twin else None,
            "travel_m": travel, "runs_out": runs_out,
        },
        "lever": None if car.lever is None else {
            "own_pa": point.pull.own, "travel_m": point.pull.travel, "runs_out": point.pull.runs_out,
        },
        "wheels": {"front_left": front, "front_right": front, "rear_left": rear, "rear_right": rear},
        "braking_rate": z, "front_share": point.force_front / total if total > 0 else None,
    }


VERBS = {"pressures": pressures, "balance": balance, "settings": settings, "lever": lever}


def significant(value):
    """Ten significant digits, as the contract has it."""
    if isinstance(value, dict):
        return {k: significant(v) for k, v in value.items()}
    if isinstance(value, (list, tuple)):
        return [significant(v) for v in value]
    if isinstance(value, float):
        if not math.isfinite(value):
            raise ArithmeticError("a result is not finite")
        return float(f"{value:.9e}")
    return value


def run(verb, path, arguments=()):
    """The result of a verb as plain data."""
    parser = argparse.ArgumentParser(prog="main.py")
    for name in ("surface", "grip", "fuel", "speed", "foot", "hand", "valve", "grips"):
        parser.add_argument(f"--{name}")
    parser.add_argument("--wanted", default="front-first 5 %")
    parser.add_argument("--no-crew", dest="crew", action="store_false")
    parser.add_argument("--cold", action="store_true")
    parser.add_argument("--with", dest="overrides", action="append", default=[])
    options = parser.parse_args(list(arguments))

    car = read(path, [entry.split("=", 1) for entry in options.overrides])

    def quantity(name, dimension, default=None):
        text = getattr(options, name)
        return default if text is None else parse(text, dimension, f"--{name}")[0]

    options.grip_given, options.fuel_given = options.grip is not None, options.fuel is not None
    surface = options.surface or "hard gravel"
    if surface not in car.surfaces:
        raise ValueError(f"--surface: {surface!r} is none of {', '.join(car.surfaces)}")
    options.grip = quantity("grip", "number", car.surfaces[surface])
    options.fuel = quantity("fuel", "volume", tank_volume(car) / 2)
    options.speed = quantity("speed", "speed", 50 / 3.6)
    options.foot, options.hand = quantity("foot", "force"), quantity("hand", "force")
    options.valve = quantity("valve", "turns")
    options.grips = [float(g) for g in options.grips.split(",")] if options.grips else None
    state = {"surface": surface, "grip": options.grip, "crew": options.crew, "fuel_l": options.fuel * 1e3}
    return significant({"verb": verb, "state": state, **VERBS[verb](car, options)})


if __name__ == "__main__":
    try:
        print(json.dumps(run(sys.argv[1], sys.argv[2], sys.argv[3:]), indent=1))
    except (SheetError, ValueError, KeyError, IndexError) as error:
        print(f"wrong input: {error}", file=sys.stderr)
        sys.exit(2)
