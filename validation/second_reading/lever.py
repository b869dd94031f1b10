"""Can the lever stop the rear wheels, straight on and slowly enough to be in balance?"""

import dataclasses
import math

from brakes import Brakes
from loads import load
from sheet import interpolate, parse


# --- what ties the axles ------------------------------------------------------


def coupling_torque(centre, difference, rising=False):
    """Torque at the coupling for a speed difference (rad/s) there."""
    kind = centre["kind"]
    if kind in ("none", "open"):
        return 0.0
    if kind == "locked":
        return math.inf
    if kind == "plates":
        return parse(centre["preload"], "torque", "centre.preload")[0]
    curve = viscous_curve(centre)
    if rising and difference > curve[-1][0]:
        (x1, y1), (x2, y2) = curve[-2:]
        return y2 * (difference / x2) ** (math.log(y2 / y1) / math.log(x2 / x1))
    return interpolate(curve, difference)


def viscous_curve(centre):
    if "torque_at" not in centre:
        raise ValueError("centre.feel: no figures stand for it here; a curve is needed")
    return [(parse(x, "rotation")[0], parse(y, "torque")[0]) for x, y in centre["torque_at"]]


def coupling(car, speed, held):
    """Every reading of the coupling as (how it was read, torque at the axles)."""
    centre = car.centre if car.driven == "all" else {"kind": "none"}
    turns = car.turns_per_wheel_turn
    if centre["kind"] == "disengaging":
        lets_go = not held and car.lever is not None and car.lever.switch
        centre = centre.get("let_go", {"kind": "open"}) if lets_go else centre.get("held", {"kind": "locked"})
        if turns is None and "turns_per_wheel_turn" in centre:
            turns = parse(centre["turns_per_wheel_turn"], "number")[0]
    kind = centre["kind"]
    if kind in ("none", "open", "locked"):
        return [("locked" if kind == "locked" else "none", coupling_torque(centre, 0.0))]
    if turns is None:
        places = [("propshaft", car.final_drive)]
        if 0 < car.front_share < 1:
            # Case against front output, case against rear output: alike where the torque is shared evenly.
            places.append(("front output", car.final_drive * (1 - car.front_share)))
            if car.front_share != 0.5:
                places.append(("rear output", car.final_drive * car.front_share))
        places.append(("wheel", 1.0))
    else:
        places = [("wheel" if turns == 1.0 else "as given", turns)]
    readings = []
    for place, n in places:
        difference = n * speed / car.radius_front
        if kind == "plates":
            readings.append((f"{place}, preload", n * coupling_torque(centre, difference)))
            continue
        beyond = difference > viscous_curve(centre)[-1][0]
        readings.append((f"{place}, held flat" if beyond else f"{place}, on the curve", n * coupling_torque(centre, difference)))
        if beyond:
            readings.append((f"{place}, continued", n * coupling_torque(centre, difference, rising=True)))
    return readings


# --- the answer for one coupling torque ---------------------------------------


def balance_locked(car, state, grip, tie):
    """(z, torque needed at the rear axle, of which through the coupling, front dragged) with the rear stopped."""
    push = tie / car.radius_front
    z = (grip * state.a / state.wheelbase + push / state.weight) / (1 + grip * state.h / state.wheelbase)
    dragged = push == math.inf or push >= grip * state.front(z)
    if dragged:
        z = grip
    through = min(tie, grip * state.front(z) * car.radius_front)
    return z, grip * state.rear(z) * car.radius_rear + through, through, dragged


def to_lock(car, state, grip, speed, cold, hand_pull, tie, read):
    brakes, lever = Brakes(car, cold), car.lever
    z, needed, through, dragged = balance_locked(car, state, grip, tie)
    knee = brakes.knee(state.rear(z))
    front_grip = grip * state.front(z) * car.radius_front

    result = {
        "rear_load_n": state.rear(z), "torque_needed_nm": needed, "of_which_coupling_nm": through,
        "drag": None if tie == math.inf else tie / front_grip, "coupling_read": read,
    }
    if lever.kind == "cable":
        per_newton = lever.cable["ratio"] * lever.cable["efficiency"] / 2 * brakes.rear.per_force
        hand = needed / 2 / per_newton
        have = 2 * per_newton * hand_pull
        result |= {"pressure_pa": None, "own_pa": None, "hand_force_n": hand, "travel_m": None,
                   "enough_force": hand <= hand_pull, "enough_travel": None}
    else:
        brake = brakes.lever_brake if brakes.separate else brakes.rear
        pressure = brake.pressure(needed / 2)
        own = brakes.before_valve(pressure, knee) if brakes.valve_after() else pressure
        result["pressure_pa"] = pressure
        if own == math.inf:  # a limiting valve caps it
            result |= {"own_pa": None, "hand_force_n": None, "travel_m": None, "enough_force": False, "enough_travel": None}
        else:
            hand = own / brakes.own_per_newton
            stroke = brakes.stroke(0.0, own, knee)
            result |= {"own_pa": own, "hand_force_n": hand, "travel_m": brakes.grip_travel(stroke),
                       "enough_force": hand <= hand_pull, "enough_travel": stroke <= brakes.stroke_limit}
        reached = brakes.pull(0.0, hand_pull, knee).outlet
        have = 2 * brake.torque(reached if brakes.separate else brakes.at_brake(reached, knee))

    result["in_hand"] = have / needed
    result["outcome"] = "none" if have < needed else "all-four" if dragged else "rear"
    return result, dragged


# --- the verb -----------------------------------------------------------------


def other_layout(car):
    """The same car with its lever in the other layout, or None."""
    lever = car.lever
    routes = dict(car.routes)

    def otherwise(name, length):
        routes[name] = routes[name] or length

    if lever.kind == "separate":
        half = routes["bulkhead_to_rear_tee"] / 2
        otherwise("bulkhead_to_lever", half)
        otherwise("lever_to_rear_tee", half)
        return "inline", dataclasses.replace(car, lever=dataclasses.replace(lever, kind="inline"), routes=routes)
    second = car.lever_brake or (car.rear_brake if car.rear_brake.kind == "disc" else None)
    if lever.kind == "cable" or second is None:
        return None
    otherwise("bulkhead_to_rear_tee", routes["bulkhead_to_lever"] + routes["lever_to_rear_tee"])
    otherwise("lever_to_lever_tee", routes["lever_to_rear_tee"])
    otherwise("lever_tee_to_left", routes["tee_to_rear_left"])
    otherwise("lever_tee_to_right", routes["tee_to_rear_right"])
    lines = car.lines if car.lever_brake else car.lines | {"lever": car.lines["rear"]}
    return "separate", dataclasses.replace(
        car, lever=dataclasses.replace(lever, kind="separate"), lever_brake=second, routes=routes, lines=lines
    )


def lever(car, options):
    if car.lever is None:
        raise ValueError("this car has no [lever]")
    if options.valve is not None and car.valve is not None:
        car = dataclasses.replace(car, valve=dataclasses.replace(car.valve, setting=options.valve))
    state = load(car, options.fuel, options.crew)
    hand = car.lever.hand_pull if options.hand is None else options.hand
    readings = coupling(car, options.speed, held=False)

    def lock(car, cold, reading):
        return to_lock(car, state, options.grip, options.speed, cold, hand, reading[1], reading[0])

    def worst_first(car):
        """Of every reading the one with the least in hand decides; sorting keeps the order of equal ones."""
        return sorted(readings, key=lambda reading: lock(car, options.cold, reading)[0]["in_hand"])

    decides, *rest = worst_first(car)
    warm, dragged = lock(car, options.cold, decides)
    other = other_layout(car)
    return {
        "to_lock": warm,
        "cold": lock(car, True, decides)[0],
        "front_dragged": dragged,
        "also": [
            {"if": reading[0], **{key: lock(car, options.cold, reading)[0][key] for key in ("outcome", "in_hand")}}
            for reading in rest
        ],
        "other_layout": {"layout": other[0], **lock(other[1], options.cold, worst_first(other[1])[0])[0]} if other else None,
    }
