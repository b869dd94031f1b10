"""Reads a car's sheet into plain SI data.

Only what loads, brakes, balance and lever need is read. Values are the middle of
their tolerance; the half-width is used once, for the self-locking test of a drum.
"""

import copy
import math
import re
import tomllib
from dataclasses import dataclass, field, replace

# --- quantities ---------------------------------------------------------------

INCH = 0.0254
POUND = 0.45359237
POUND_FORCE = POUND * 9.80665
UNITS = {
    "length": {"m": 1.0, "mm": 1e-3, "cm": 1e-2, "in": INCH, "ft": 12 * INCH},
    "pressure": {"Pa": 1.0, "kPa": 1e3, "MPa": 1e6, "bar": 1e5, "psi": POUND_FORCE / INCH**2},
    "force": {"N": 1.0, "kN": 1e3, "lbf": POUND_FORCE, "kgf": 9.80665},
    "mass": {"kg": 1.0, "g": 1e-3, "lb": POUND},
    "volume": {"m3": 1.0, "L": 1e-3, "mL": 1e-6, "cm3": 1e-6, "us gal": 231 * INCH**3, "imp gal": 4.54609e-3},
    "flex": {"cm3/bar": 1e-11, "mm3/bar": 1e-14, "cm3/MPa": 1e-12},
    "torque": {"N m": 1.0, "Nm": 1.0, "lbf ft": 12 * INCH * POUND_FORCE},
    "inertia": {"kg m2": 1.0},
    "speed": {"m/s": 1.0, "km/h": 1 / 3.6, "mph": 1609.344 / 3600},
    "rotation": {"rad/s": 1.0, "rpm": math.pi / 30},
    "angle": {"rad": 1.0, "deg": math.pi / 180},
    "turns": {"turns": 1.0, "turn": 1.0},
    "time": {"s": 1.0, "ms": 1e-3, "min": 60.0},
    "temperature": {"K": 1.0, "C": 1.0, "F": 5 / 9},
    "number": {},
}
OFFSET_K = {"K": 0.0, "C": 273.15, "F": 459.67 * 5 / 9}
NUMBER = re.compile(
    r"([+-]?)(?:(\d+)[- ](\d+)/(\d+)|(\d+)/(\d+)|(\d+(?:[.,]\d+)?(?:e[+-]?\d+)?))\s*(.*)", re.I
)


class SheetError(ValueError):
    pass


def magnitude(text):
    """"1-1/16 in" -> (1.0625, "in")."""
    match = NUMBER.fullmatch(text.strip())
    if not match:
        raise SheetError(f"not a quantity: {text!r}")
    sign, whole, top, bottom, over, under, plain, unit = match.groups()
    if whole:
        value = int(whole) + int(top) / int(bottom)
    elif over:
        value = int(over) / int(under)
    else:
        if re.search(r",\d{3}(?!\d)", plain):
            raise SheetError(f"{text!r}: a comma before three digits can be read in two ways")
        value = float(plain.replace(",", "."))
    return (-value if sign == "-" else value), unit.strip()


def parse(raw, dimension, what="value"):
    """The middle value and the half-width of a quantity, in SI."""
    if isinstance(raw, (int, float)) and not isinstance(raw, bool):
        if dimension not in ("number", "turns"):
            raise SheetError(f"{what}: a unit is missing behind {raw}")
        return float(raw), 0.0
    if not isinstance(raw, str):
        raise SheetError(f"{what}: {raw!r} is not a quantity")

    def convert(text, difference=False):
        value, unit = magnitude(text)
        if not unit and dimension in ("number", "turns"):
            return value
        units = UNITS[dimension]
        if unit not in units:
            raise SheetError(f"{what}: {unit!r} in {raw!r} is no unit of {dimension}: {', '.join(units)}")
        return value * units[unit] + (OFFSET_K[unit] if dimension == "temperature" and not difference else 0.0)

    between = re.fullmatch(r"\s*between\s+(.+?)\s+and\s+(.+)", raw)
    if between:
        low, high = (convert(part) for part in between.groups())
        return (low + high) / 2, (high - low) / 2
    middle, *tolerance = re.split(r"±|\+/-", raw)
    value = convert(middle)
    if not tolerance:
        return value, 0.0
    half = tolerance[0].strip()
    if half.endswith("%"):
        return value, abs(value) * magnitude(half[:-1])[0] / 100
    if not magnitude(half)[1]:  # no unit of its own: that of the value
        half = f"{half} {magnitude(middle)[1]}"
    return value, convert(half, difference=True)


# --- what is on the car -------------------------------------------------------


@dataclass(frozen=True)
class Mass:
    kg: float
    aft: float
    height: float


@dataclass(frozen=True)
class Brake:
    kind: str  # disc | drum
    area: float  # of one side's pistons, or of one wheel cylinder
    radius: float  # effective, or of the drum
    friction: float
    friction_high: float
    cold_friction: float
    clearance: float
    flex: float
    fluid: float  # standing in the caliper or the wheel cylinder
    threshold: float  # pressure below which nothing touches
    efficiency: float = 0.98
    shoes: str = ""
    shoe_factor: float | None = None  # at `friction`
    shoe: dict | None = None


@dataclass(frozen=True)
class Valve:
    kind: str
    slope: float
    place: str
    setting: float | None = None
    positions: bool = False
    line: tuple = ()  # (setting, knee) points of the knob
    knee: float | None = None  # fixed, limiting
    by_load: tuple | None = None  # ((N, Pa), (N, Pa))


@dataclass(frozen=True)
class Lever:
    kind: str
    bore: float
    rear_seal: float
    ratio: float
    efficiency: float
    stroke: float
    free_stroke: float
    free_play: float
    outlets: str
    hand_pull: float
    room: float
    switch: bool
    cable: dict | None


@dataclass(frozen=True)
class Run:
    length: float
    material: str


@dataclass(frozen=True)
class Line:
    pipe: str
    flexible_last: float
    flexible: str


@dataclass(frozen=True)
class Car:
    name: str
    road_registered: bool
    weighed: Mass
    fuel_aboard: float  # m3
    tank: Mass | None  # kg: of a full tank
    aboard: tuple  # crew and items
    wheelbase: float
    radius_front: float
    radius_rear: float
    wheel_inertia: float
    surfaces: dict  # name -> grip
    pedal_ratio: float
    pedal_efficiency: float
    preload: float  # of the foot, without a booster
    booster: tuple | None  # gain, run-out pressure, jump-in pressure
    master: str
    bore_front: float
    bore_rear: float
    master_stroke: float
    bar_share: float
    share_per_turn: float
    split: str
    valve: Valve | None
    lever: Lever | None
    front_brake: Brake
    rear_brake: Brake
    lever_brake: Brake | None
    driven: str
    centre: dict
    turns_per_wheel_turn: float | None
    final_drive: float
    front_share: float
    input_inertia: float
    routes: dict = field(default_factory=dict)  # name -> length, 0 where the car has no such route
    lines: dict = field(default_factory=dict)  # front, rear, lever -> Line
    air_rear: float = 0.0
    air_front: float = 0.0
    air_lever: float = 0.0


FUEL_DENSITY = 740.0
CREW = {"mass": "160 kg", "aft_of_front_axle": "1.50 m", "height": "0.55 m"}
SURFACES = {
    "dry tarmac": 1.00, "wet tarmac": 0.75, "hard gravel": 0.65,
    "loose gravel": 0.52, "packed snow": 0.35, "ice": 0.12,
}
BORES = {"steel 3/16 in": 3.3e-3, "copper-nickel 3/16 in": 3.3e-3, "steel 1/4 in": 4.93e-3,
         "copper-nickel 1/4 in": 4.93e-3, "braided hose -3": 3.2e-3, "rubber hose": 3.2e-3}
GROWTH = {"braided hose -3": 0.005e-11, "rubber hose": 0.016e-11}  # m3 per metre and pascal


def circle(diameter):
    return math.pi / 4 * diameter**2


class Reader:
    """A table of the sheet with the path that leads to it, for messages."""

    def __init__(self, table, path=""):
        self.table, self.path = table, path

    def __contains__(self, key):
        return key in self.table

    def sub(self, key):
        return Reader(self.table.get(key, {}), f"{self.path}{key}.")

    def raw(self, key, default=None):
        value = self.table.get(key, default)
        if value is None:
            raise SheetError(f"{self.path}{key} is missing")
        return value

    def both(self, key, dimension="number", default=None):
        value = self.raw(key, default)
        return parse(default if value == "guess" else value, dimension, self.path + key)

    def q(self, key, dimension="number", default=None):
        return self.both(key, dimension, default)[0]


def apply_override(data, key, text):
    """`--with KEY=VALUE`: the value as TOML would read it, else as a string."""
    try:
        value = tomllib.loads(f"v = {text}")["v"]
    except tomllib.TOMLDecodeError:
        value = text
    *path, last = key.split(".")
    for part in path:
        if not isinstance(data.get(part), dict):
            data[part] = {}
        data = data[part]
    data[last] = value


def read(path, overrides=()):
    with open(path, "rb") as file:
        return build(tomllib.load(file), overrides)


def build(data, overrides=()):
    data = copy.deepcopy(data)
    for key, text in overrides:
        apply_override(data, key, text)
    top = Reader(data)
    if data.get("format") not in (1, 2):
        raise SheetError("format must be 1 or 2")
    if data["format"] == 2:
        data.setdefault("load", {}).setdefault("crew", CREW)

    tyres, drive, master, pedal = (top.sub(k) for k in ("tyres", "drivetrain", "master", "pedal"))
    radius = tyres.raw("rolling_radius")
    if isinstance(radius, dict):
        radii = [tyres.sub("rolling_radius").q(end, "length") for end in ("front", "rear")]
    else:
        radii = [tyres.q("rolling_radius", "length")] * 2
    wheelbase = top.sub("geometry").q("wheelbase", "length")
    weighed, fuel_aboard = read_weighed(top.sub("weighed"), wheelbase, radii)

    twin = master.raw("kind") == "twin"
    split = master.raw("split")
    booster = pedal.sub("booster") if isinstance(pedal.table.get("booster"), dict) else None
    bar = master.sub("bar")
    driven = drive.raw("driven", "front" if data["format"] == 1 else None)
    if driven == "all" and "kind" not in drive.sub("centre"):
        raise SheetError("drivetrain.centre is missing: what is taken for it on a car that drives all wheels is a guess")
    centre = drive.raw("centre", {"kind": "none"})
    lever = read_lever(top.sub("lever"), top) if "lever" in top else None
    separate = lever is not None and lever.kind == "separate"
    surfaces = dict(SURFACES)
    for entry in data.get("surface", []):
        surfaces[entry["name"]] = Reader(entry, "surface.").q("grip")

    return Car(
        name=top.sub("car").raw("name"),
        road_registered=top.sub("car").table.get("road_registered", False),
        weighed=weighed, fuel_aboard=fuel_aboard,
        **read_load(top.sub("load")),
        wheelbase=wheelbase, radius_front=radii[0], radius_rear=radii[1],
        wheel_inertia=tyres.q("wheel_inertia", "inertia", "1.1 kg m2"),
        surfaces=surfaces,
        pedal_ratio=pedal.q("ratio"), pedal_efficiency=pedal.q("efficiency", default="0.90"),
        preload=pedal.q("preload", "force", "65 N"),
        booster=read_booster(booster) if pedal.table.get("booster", "none") != "none" else None,
        master="twin" if twin else "tandem",
        bore_front=master.q("front_bore" if twin else "bore", "length"),
        bore_rear=master.q("rear_bore" if twin else "bore", "length"),
        master_stroke=master.q("stroke", "length", "34 mm"),
        bar_share=bar.q("front_share", default="0.5"),
        share_per_turn=bar.q("share_per_turn", default="0.012"),
        split=split,
        valve=read_valve(top, twin) if data.get("bias_valve", "none") != "none" else None,
        lever=lever,
        front_brake=read_brake(top.sub("front_brake"), "0.010 cm3/bar"),
        rear_brake=read_brake(top.sub("rear_brake"), "0.008 cm3/bar"),
        lever_brake=read_brake(top.sub("lever_brake"), "0.008 cm3/bar") if separate or "lever_brake" in top else None,
        driven=driven, centre=centre,
        turns_per_wheel_turn=Reader(centre).q("turns_per_wheel_turn") if "turns_per_wheel_turn" in centre else None,
        final_drive=drive.q("final_drive", default="4.1"),
        front_share=drive.q("front_share", default="0.5"),
        input_inertia=drive.q("input_inertia", "inertia", "0.08 kg m2"),
        routes=read_routes(top.sub("routes"), lever),
        lines={which: read_line(top.sub("lines"), which) for which in ("front", "rear", "lever")},
        **{f"air_{which}": top.sub("air").q(which, "volume", "0 cm3") for which in ("front", "rear", "lever")},
    )


def read_weighed(weighed, wheelbase, radii):
    front, rear = weighed.q("front", "mass"), weighed.q("rear", "mass")
    total = front + rear
    aft = wheelbase * rear / total
    if "cg_raise" in weighed:
        lift = weighed.sub("cg_raise")
        by = lift.q("by", "length")
        gain = lift.q("front_gains" if lift.raw("lifted") == "rear" else "rear_gains", "mass")
        axles = (radii[0] * (wheelbase - aft) + radii[1] * aft) / wheelbase
        height = axles + gain * wheelbase * math.sqrt(wheelbase**2 - by**2) / (total * by)
    else:
        height = weighed.q("cg_height", "length")
    return Mass(total, aft, height), weighed.q("fuel_aboard", "volume", "0 L")


def read_booster(booster):
    run_out = booster.q("run_out", "pressure", "90 bar")
    jump_in = booster.q("jump_in", "pressure", "10 bar")
    if "jump_in" not in booster:
        jump_in = max(min(jump_in, run_out - 5e5), 0.0)
    return booster.q("gain"), run_out, jump_in


def read_load(load):
    def mass_of(table, kg):
        return Mass(kg, table.q("aft_of_front_axle", "length"), table.q("height", "length"))

    aboard = [load.sub("crew")] if load.table.get("crew", "none") != "none" else []
    aboard += [Reader(item, "load.item.") for item in load.table.get("item", [])]
    tank = load.sub("tank")
    return {
        "aboard": tuple(mass_of(table, table.q("mass", "mass")) for table in aboard),
        "tank": mass_of(tank, tank.q("capacity", "volume") * FUEL_DENSITY) if "tank" in load else None,
    }


def read_lever(lever, top):
    kind = lever.raw("kind")
    hydraulic = kind != "cable"
    bore = lever.q("bore", "length") if hydraulic else math.nan
    cable = lever.sub("cable")
    return Lever(
        kind=kind, bore=bore,
        rear_seal=lever.q("rear_seal", "length") if "rear_seal" in lever else bore,
        ratio=lever.q("ratio") if hydraulic else math.nan,
        efficiency=lever.q("efficiency", default="0.90"),
        stroke=lever.q("stroke", "length", "24 mm"),
        free_stroke=lever.q("free_stroke", "length", "1.2 mm"),
        free_play=lever.q("free_play", "length", "3 mm"),
        outlets=lever.raw("outlets", "one"),
        hand_pull=lever.q("hand_pull", "force", "250 N"),
        room=lever.q("room", "length", "180 mm"),
        switch=lever.table.get("switch", False),
        cable={"ratio": cable.q("ratio"), "efficiency": cable.q("efficiency")} if "cable" in lever else None,
    )


def read_brake(brake, flex):
    drum = brake.raw("kind") == "drum"
    lining = brake.sub("lining" if drum else "pad")
    friction, half = lining.both("friction")
    if "cold_friction" in lining:
        cold = lining.q("cold_friction")
    elif "friction_at" in lining:
        points = [(parse(t, "temperature")[0], parse(mu, "number")[0]) for t, mu in lining.raw("friction_at")]
        cold = interpolate(points, 293.15)
    else:
        cold = 0.80 * friction
    volume = brake.sub("volume")
    common = {
        "friction": friction, "friction_high": friction + half, "cold_friction": cold,
        "flex": volume.q("flex", "flex", flex),
    }
    if drum:
        area = circle(brake.q("cylinder_bore", "length"))
        shoe = brake.sub("shoe")
        return Brake(
            kind="drum", area=area, radius=brake.q("drum_radius", "length"), threshold=3e5,
            clearance=volume.q("clearance", "length", "0.30 mm"), fluid=area * 0.020,
            shoes=brake.raw("shoes"),
            shoe_factor=brake.q("shoe_factor") if "shoe_factor" in brake else None,
            shoe={
                "pivot_radius": shoe.q("pivot_radius", "length"), "heel": shoe.q("heel", "angle"),
                "toe": shoe.q("toe", "angle"), "force_arm": shoe.q("force_arm", "length"),
            } if "shoe" in brake else None,
            **common,
        )
    caliper = brake.sub("caliper")
    area = sum(circle(parse(d, "length", "pistons")[0]) for d in caliper.raw("pistons"))
    sides = 2 if caliper.raw("layout") == "opposed" else 1
    if "pad_edges" in brake:
        inner, outer = (parse(edge, "length", "pad_edges")[0] for edge in brake.raw("pad_edges"))
        radius = 2 / 3 * (outer**3 - inner**3) / (outer**2 - inner**2)
    else:
        radius = brake.q("effective_radius", "length")
    return Brake(
        kind="disc", area=area, radius=radius, threshold=0.5e5,
        clearance=volume.q("clearance", "length", "0.10 mm"),
        fluid=area * 0.012 * sides + 3e-6, **common,
    )


def read_valve(top, twin):
    table = top.sub("bias_valve")
    kind = table.raw("kind")
    valve = Valve(
        kind=kind, place=table.raw("place", "before-lever"),
        slope=0.0 if kind == "limiting" else table.q("slope", default="0.43" if kind == "adjustable" else "0.30"),
    )
    if kind == "load-sensing":
        knee = table.sub("knee")
        ends = (knee.raw(end) for end in ("empty", "laden"))
        return replace(valve, by_load=tuple((parse(n, "force")[0], parse(p, "pressure")[0]) for n, p in ends))

    measured = measured_knees(top, valve.slope, twin)
    if kind in ("fixed", "limiting"):
        if not measured:
            return replace(valve, knee=table.q("knee", "pressure"))
        return replace(valve, knee=sum(knee for _, knee in measured) / len(measured))

    knee = table.sub("knee")
    stepped = "positions" in knee
    if measured and "knee" not in table:
        line = measured
    else:
        first, last = (1.0, knee.q("positions")) if stepped else (0.0, knee.q("turns", "turns"))
        low, high = (first, knee.q("at_fewest", "pressure")), (last, knee.q("at_most", "pressure"))
        line = [point for point in measured if first <= point[0] <= last]
        line = line if line and line[0][0] == first else [low, *line]
        line = line if line[-1][0] == last else [*line, high]
    return replace(valve, setting=table.q("setting", "turns"), positions=stepped, line=tuple(line))


def measured_knees(top, slope, twin):
    """One knee a setting from the gauge readings: rear = slope front + (1 - slope) knee, averaged."""
    found = {}
    for entry in top.sub("measured").table.get("valve", []):
        reading = Reader(entry, "measured.valve.")
        inlet, outlet = reading.q("front", "pressure"), reading.q("rear", "pressure")
        if twin:  # the front gauge does not show the valve's inlet
            master, share = top.sub("master"), top.sub("master").sub("bar").q("front_share", default="0.5")
            areas = [circle(master.q(f"{end}_bore", "length")) for end in ("front", "rear")]
            inlet = inlet * areas[0] / share * (1 - share) / areas[1]
        if outlet < inlet:  # else the knee lies above this reading
            found.setdefault(reading.q("setting", "turns", "0"), []).append(max((outlet - slope * inlet) / (1 - slope), 0.0))
    return [(setting, sum(knees) / len(knees)) for setting, knees in sorted(found.items())]


def read_routes(routes, lever):
    """The length of every route. A route that this car has and the sheet does not give is 1 m; one that it lacks, 0."""
    inline = lever is not None and lever.kind == "inline"
    separate = lever is not None and lever.kind == "separate"
    there = {
        "master_to_bulkhead": True, "bulkhead_to_lever": inline, "bulkhead_to_rear_tee": not inline,
        "lever_to_rear_tee": inline and lever.outlets == "one",
        "tee_to_rear_left": True, "tee_to_rear_right": True, "master_to_front_left": True, "master_to_front_right": True,
        "lever_to_lever_tee": separate, "lever_tee_to_left": separate, "lever_tee_to_right": separate,
    }
    return {name: routes.q(name, "length", "1.0 m" if used else "0 m") for name, used in there.items()}


def read_line(lines, which):
    """What a line is made of. Described at all: a hose at its end only if the sheet gives one its length."""
    line = lines.sub(which)
    return Line(
        line.raw("pipe", "steel 3/16 in"),
        line.q("flexible_last", "length", "0 m" if which in lines else "0.40 m"),
        line.raw("flexible", "rubber hose"),
    )


def interpolate(points, x):
    """Linear between points, held at both ends."""
    if x <= points[0][0]:
        return points[0][1]
    for (x1, y1), (x2, y2) in zip(points, points[1:]):
        if x <= x2:
            return y1 + (y2 - y1) * (x - x1) / (x2 - x1)
    return points[-1][1]
