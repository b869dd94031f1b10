"""Hand checks of this implementation. Run: python -m unittest -v test_second_reading"""

import json
import math
import pathlib
import unittest

from balance import Brakes, answer, bar_for, failed_rate, first_lock, knee_for, utilisation
from brakes import air_volume, fluid_volume, shoe_factors
from lever import balance_locked, coupling_torque, other_layout, to_lock
from loads import G, Load, load
from main import run
from sheet import INCH, POUND, SheetError, build, parse, read

HERE = pathlib.Path(__file__).parent
CARS = sorted((HERE / "cars").glob("*.toml"))


def plain_sheet(**changes):
    disc = {"kind": "disc", "caliper": {"layout": "sliding", "pistons": ["40 mm"]}, "effective_radius": "0.1 m", "pad": {"friction": 0.4}}
    sheet = {
        "format": 1, "car": {"name": "plain"}, "weighed": {"front": "600 kg", "rear": "500 kg", "cg_height": "0.5 m"},
        "geometry": {"wheelbase": "2.5 m"}, "tyres": {"rolling_radius": "0.3 m"},
        "pedal": {"ratio": 1.0, "efficiency": 1.0, "preload": "0 N"}, "master": {"kind": "tandem", "bore": "20 mm", "split": "axle"},
        "front_brake": disc, "rear_brake": disc,
    }
    return sheet | changes


class PublishedExamples(unittest.TestCase):
    def test_proportioning_table(self):
        """Gillespie, Fundamentals of Vehicle Dynamics, chapter 3, example 1 (inputs from memory, outputs recomputed)."""
        car = build(plain_sheet(
            weighed={"front": "2210 lb", "rear": "1864 lb", "cg_height": "20.5 in"}, geometry={"wheelbase": "108.5 in"},
            tyres={"rolling_radius": "12.11 in"}, bias_valve={"kind": "fixed", "knee": "290 psi", "slope": 0.30},
        ))
        brakes, state = Brakes(car), load(car, 0.0)
        pound = POUND * G  # the table's pounds are weights at this model's g
        psi = pound / INCH**2
        brakes.front.gain, brakes.rear.gain = 20 * INCH**3, 14 * INCH**3  # in-lb per psi is a volume
        brakes.front.threshold = brakes.rear.threshold = 0.0
        brakes.area_front = brakes.area_rear = INCH**2
        table = [
            (100, 330.3, 100, 231.2, 0.1378, 0.1426, 0.1315, 96.6), (200, 660.6, 200, 462.4, 0.2757, 0.2727, 0.2800, 98.5),
            (300, 990.9, 293, 677.5, 0.4095, 0.3924, 0.4374, 93.6), (400, 1321.2, 323, 746.8, 0.5076, 0.5080, 0.5069, 99.9),
            (500, 1651.5, 353, 816.2, 0.6057, 0.6171, 0.5839, 98.2), (600, 1981.8, 383, 885.5, 0.7038, 0.7202, 0.6697, 97.7),
            (700, 2312.1, 413, 954.9, 0.8019, 0.8178, 0.7659, 98.1),
        ]
        for applied, front, rear_psi, rear, decel, mu_front, mu_rear, percent in table:
            z, point = brakes.braking(applied * pound, state, knee=290 * psi)
            f1, f2 = utilisation(state, z, point)
            self.assertAlmostEqual(point.force_front / pound, front, delta=0.06)
            self.assertAlmostEqual(point.rear / psi, rear_psi, delta=0.01)
            self.assertAlmostEqual(point.force_rear / pound, rear, delta=0.06)
            self.assertAlmostEqual(z, decel, delta=0.6e-4)
            self.assertAlmostEqual(f1, mu_front, delta=0.6e-4)
            self.assertAlmostEqual(f2, mu_rear, delta=0.6e-4)
            self.assertAlmostEqual(100 * z / max(f1, f2), percent, delta=0.06)

    def test_one_axle_or_both(self):
        """Khurmi, Theory of Machines, chapter on brakes (from memory, recomputed)."""
        car = build(plain_sheet(geometry={"wheelbase": "2.8 m"}, weighed={"front": "1.2 kg", "rear": "1.6 kg", "cg_height": "0.6 m"}))
        state = load(car, 0.0)
        self.assertAlmostEqual(state.b, 1.2)
        self.assertAlmostEqual(balance_locked(car, state, 0.6, 0.0)[0] * G, 2.9803, delta=5e-5)
        self.assertAlmostEqual(failed_rate(Brakes(car), state, 0.6, "front", foot=1e4), 2.8948, delta=5e-5)
        self.assertAlmostEqual(balance_locked(car, state, 0.6, math.inf)[0] * G, 5.886, delta=5e-5)

    def test_equal_forces(self):
        """Khurmi, Theory of Machines, chapter on brakes (from memory, recomputed)."""
        car = build(plain_sheet(geometry={"wheelbase": "3 m"}, weighed={"front": "400 kg", "rear": "600 kg", "cg_height": "0.75 m"}))
        first, _, z, _ = first_lock(Brakes(car), load(car, 0.0), 0.5, 1e5)
        self.assertEqual(first, "rear")
        self.assertAlmostEqual(z * G, 4.709, delta=5e-4)

    def test_long_shoe(self):
        """Bhandari, Design of Machine Elements, example 12.9 as solved in FOSSEE/Scilab-TBC-Uploads, book 764."""
        shoe = {"heel": math.radians(15), "toe": math.radians(75), "pivot_radius": 0.200, "force_arm": 0.200}
        leading, trailing = shoe_factors(shoe, 0.250, 0.3)
        self.assertAlmostEqual(2 * (leading + trailing) * 5025.457606 * 0.250, 2181.614276, delta=1e-3)
        self.assertAlmostEqual(leading, 0.5463, delta=5e-5)
        self.assertAlmostEqual(trailing, 0.3220, delta=5e-5)
        with self.assertRaises(SheetError):
            shoe_factors(shoe, 0.250, 1.2)

    def test_pad_edges(self):
        """Bhandari, example 12.12, same repository: mean friction radius of a sector pad, 100 to 150 mm."""
        disc = plain_sheet()["rear_brake"] | {"pad_edges": ["100 mm", "150 mm"]}
        self.assertAlmostEqual(build(plain_sheet(rear_brake=disc)).rear_brake.radius, 0.126667, delta=5e-7)

    def test_force_ratio(self):
        """OpenStax College Physics, example 11.6: 500 N on 5 mm makes 1.25e4 N on 25 mm."""
        car = build(plain_sheet(master={"kind": "tandem", "bore": "0.5 cm", "split": "axle"}, pedal={"ratio": 5.0, "efficiency": 1.0, "preload": "0 N"}))
        brakes = Brakes(car)
        self.assertAlmostEqual(brakes.masters(brakes.pushrod(100.0))[0] * math.pi / 4 * 0.025**2, 1.25e4, delta=1e-6)

    def test_entrained_air(self):
        """Isothermal air, 0.1013 MPa absolute, K 1.8 GPa, 60 mL (recomputed)."""
        for share, p, air, liquid in [(0.005, 3e6, 0.2902, 0.0995), (0.01, 3e6, 0.5804, 0.0990), (0.01, 1e7, 0.5940, 0.3300)]:
            self.assertAlmostEqual(air_volume(share * 60, p), air, delta=6e-5)
            self.assertAlmostEqual(fluid_volume((1 - share) * 60, p, 1.8e9), liquid, delta=6e-5)

    def test_rear_axle_on_a_slope(self):
        """Statics: standing on a slope is braking at z = -tan (nose up) or + tan (nose down)."""
        state = Load(1300.0, 2.5 - 1.05, 0.5, 2.5)
        slope = math.atan(0.2)
        grade = state.weight * math.sin(slope)
        self.assertAlmostEqual(grade, 2501.07, delta=5e-3)
        for z, rear, grip in [(-0.2, 7753.31, 0.3226), (0.2, 6752.89, 0.3704)]:
            self.assertAlmostEqual(state.rear(z) * math.cos(slope), rear, delta=6e-3)
            self.assertAlmostEqual(grade / (state.rear(z) * math.cos(slope)), grip, delta=5e-5)


class Quantities(unittest.TestCase):
    def test_numbers(self):
        for text, dimension, value, half in [
            ("1-1/16 in", "length", 0.0269875, 0), ("5/8 in", "length", 0.015875, 0), ("15,9 mm", "length", 0.0159, 0),
            ("1000 psi", "pressure", 6894757.293168, 0), ("0.42 ± 0.04", "number", 0.42, 0.04), ("1.30 m ± 5 %", "length", 1.3, 0.065),
            ("0.52 m +/- 30 mm", "length", 0.52, 0.03), ("between 0.38 and 0.46", "number", 0.42, 0.04),
            ("20 C ± 5 C", "temperature", 293.15, 5), ("-0.35 m", "length", -0.35, 0), ("34 lb", "mass", 15.42214058, 0),
        ]:
            got = parse(text, dimension)
            self.assertAlmostEqual(got[0] / value, 1.0, delta=1e-12, msg=text)
            self.assertAlmostEqual(got[1], half, delta=1e-12, msg=text)

    def test_refusals(self):
        for text, dimension in [("1,000 psi", "pressure"), ("34 lb", "force"), ("12", "length"), (12, "length"), ("5 mPa", "pressure")]:
            with self.assertRaises(SheetError, msg=text):
                parse(text, dimension)


class Identities(unittest.TestCase):
    def test_raised_axle_gives_the_height_back(self):
        """Weigh a car of known height on a tilt by moments, read the height from it, either end lifted."""
        front, rear, wheelbase, height, radius, by = 700.0, 500.0, 2.5, 0.56, 0.3, 0.45
        gain = (front + rear) * (height - radius) * math.tan(math.asin(by / wheelbase)) / wheelbase
        for lifted, key in [("rear", "front_gains"), ("front", "rear_gains")]:
            weighed = {"front": f"{front} kg", "rear": f"{rear} kg", "cg_raise": {"lifted": lifted, "by": f"{by} m", key: f"{gain} kg"}}
            car = build(plain_sheet(weighed=weighed, geometry={"wheelbase": f"{wheelbase} m"}))
            self.assertAlmostEqual(car.weighed.height, height, delta=1e-12)

    def test_knee_and_bar_give_the_wanted_margin(self):
        tried = 0
        for path in CARS:
            car = read(path)
            state, brakes = load(car, 0.01), Brakes(car)
            for grip in (0.5, 0.65, 1.0):
                for margin in (0.05, 0.0, -0.03):
                    knee = knee_for(brakes, state, grip, margin)
                    if car.valve and knee is not None and 0 < knee < math.inf:
                        _, _, z, point = first_lock(brakes, state, grip, 1e5, knee=knee)
                        f1, f2 = utilisation(state, z, point)
                        self.assertAlmostEqual(f1 / f2 - 1, margin, delta=1e-9)
                        self.assertAlmostEqual(max(f1, f2), grip, delta=1e-9)
                        tried += 1
                    bar = bar_for(brakes, state, grip, margin) if car.master == "twin" else None
                    if bar is not None:
                        _, _, z, point = first_lock(Brakes(car, bar_share=bar), state, grip, 1e5)
                        f1, f2 = utilisation(state, z, point)
                        self.assertAlmostEqual(f1 / f2 - 1, margin, delta=1e-9)
                        tried += 1
        self.assertGreater(tried, 40)

    def test_hand_force_to_lock_makes_the_torque_needed(self):
        tried = 0
        for path in CARS:
            car = read(path)
            state, brakes = load(car, 0.01), Brakes(car)
            for tie in (0.0, 300.0, math.inf):
                result, _ = to_lock(car, state, 0.5, 14.0, False, 250.0, tie, "")
                if result["hand_force_n"] is None or result["enough_travel"] is False:
                    continue
                point = brakes.at(0.0, result["hand_force_n"], result["rear_load_n"])
                self.assertAlmostEqual(2 * point.torque_rear / result["torque_needed_nm"], 1.0, delta=1e-9)
                if point.pull.travel is not None:
                    self.assertAlmostEqual(point.pull.travel, result["travel_m"], delta=1e-12)
                tried += 1
        self.assertGreater(tried, 15)

    def test_ground_forces_balance_with_the_rear_stopped(self):
        car = read(HERE / "cars" / "ash.toml")
        state = load(car, 0.02)
        for tie in (0.0, 500.0, 1e4):
            z, needed, through, _ = balance_locked(car, state, 0.6, tie)
            self.assertAlmostEqual(0.6 * state.rear(z) + through / car.radius_front, z * state.weight, delta=1e-8)
            self.assertAlmostEqual(needed, 0.6 * state.rear(z) * car.radius_rear + through, delta=1e-9)

    def test_an_axle_locks_alone_only_beyond_the_coupling(self):
        car = read(HERE / "cars" / "hazel.toml")
        state, brakes = load(car, 0.02), Brakes(car)
        free = first_lock(brakes, state, 0.3, 500.0)
        feet = []
        for tie in (1e-9, 70.0, 1e5):
            first, foot, z, point = first_lock(brakes, state, 0.3, 500.0, tie)
            feet.append(foot)
            if first == "front":
                self.assertAlmostEqual((point.force_front - 0.3 * state.front(z)) * car.radius_front, tie, delta=1e-6)
            else:
                self.assertAlmostEqual(z, 0.3, delta=1e-12)
        self.assertAlmostEqual(feet[0], free[1], delta=1e-6)
        self.assertLess(feet[0], feet[1])
        self.assertLess(feet[1], feet[2])

    def test_nothing_is_beyond_its_grip_before_the_first_lock(self):
        steep = [("drivetrain.centre.kind", "open"), ("bias_valve.slope", "0.1"), ("rear_brake.caliper.pistons", '["48 mm"]'),
                 ("bias_valve.knee.empty", '["3 kN", "10 bar"]'), ("bias_valve.knee.laden", '["6 kN", "70 bar"]')]
        cars = [read(path) for path in CARS] + [read(HERE / "cars" / "elder.toml", steep)]
        for car in cars:
            state, brakes = load(car, 0.0), Brakes(car)
            for grip in (0.3, 0.8):
                first, foot, _, _ = first_lock(brakes, state, grip, 1e4)
                self.assertNotEqual(first, "neither")
                for share in range(1, 100):
                    z, point = brakes.braking(foot * share / 100, state)
                    front, rear = utilisation(state, z, point)
                    self.assertLessEqual(max(front, rear), grip * (1 + 1e-9), car.name)

    def test_lever_that_runs_out_has_used_its_travel(self):
        car = read(HERE / "cars" / "maple.toml")
        brakes = Brakes(car)
        pull = brakes.pull(0.0, car.lever.hand_pull, math.inf)
        self.assertTrue(pull.runs_out)
        self.assertAlmostEqual(pull.travel, car.lever.room, delta=1e-12)
        self.assertAlmostEqual(brakes.grip_travel(brakes.stroke(0.0, pull.outlet, math.inf)), car.lever.room, delta=1e-12)

    def test_curve_goes_on_along_its_last_slope(self):
        centre = {"kind": "viscous", "torque_at": [["0 rpm", "0 N m"], ["100 rpm", "20 N m"], ["400 rpm", "40 N m"]]}
        at = lambda rpm, **how: coupling_torque(centre, rpm * math.pi / 30, **how)
        self.assertAlmostEqual(at(250), 30.0)
        self.assertAlmostEqual(at(1600), 40.0)
        self.assertAlmostEqual(at(1600, rising=True), 80.0)  # square root law


class Readings(unittest.TestCase):
    """What AMBIGUITIES.md says was taken, where the two implementations had differed."""

    def lever_sheet(self, place="before-lever", **changes):
        lever = {"kind": "inline", "bore": "16 mm", "ratio": 8.0, "efficiency": 0.9, "free_stroke": "1.5 mm", "free_play": "4 mm"}
        valve = {"kind": "fixed", "knee": "20 bar", "slope": 0.4, "place": place}
        routes = {"master_to_bulkhead": "0.5 m", "bulkhead_to_lever": "1.5 m", "lever_to_rear_tee": "2 m"}
        lines = {"rear": {"pipe": "rubber hose"}}
        return plain_sheet(lever=lever, bias_valve=valve, routes=routes, lines=lines, **changes)

    def test_a_hand_too_weak_takes_up_the_free_stroke(self):
        brakes = Brakes(build(self.lever_sheet()))
        self.assertAlmostEqual(brakes.pull(50e5, 10.0, 20e5).travel, 0.0015 * 8 + 0.004, delta=1e-15)

    def test_the_valve_stands_at_the_bulkhead_or_behind_the_lever(self):
        """Rubber hose grows by 0.016 cm3 per metre and bar: 1.5 m of it at 60 instead of 36 bar takes 0.576 cm3 more."""
        volumes = []
        for place in ("before-lever", "after-lever"):
            brakes = Brakes(build(self.lever_sheet(place)))
            self.assertAlmostEqual(brakes.through_valve(60e5, 20e5), 36e5)
            volumes.append(brakes.rear_volume(60e5, 20e5))
        fluid = math.pi / 4 * 0.0032**2 * 1.5 * 24e5 / 1.9e9
        self.assertAlmostEqual(volumes[1] - volumes[0], 0.576e-6 + fluid, delta=1e-15)

    def test_a_described_line_has_the_hose_it_gives(self):
        for rear, hose in [(None, 0.40), ({"pipe": "steel 1/4 in"}, 0.0), ({"flexible_last": "0.3 m"}, 0.3)]:
            lines = {} if rear is None else {"lines": {"rear": rear}}
            self.assertEqual(build(plain_sheet(**lines)).lines["rear"].flexible_last, hose)

    def test_a_pedal_that_runs_out_has_used_its_stroke(self):
        for master in (
            {"kind": "tandem", "bore": "20 mm", "split": "axle", "stroke": "6 mm"},
            {"kind": "twin", "front_bore": "16 mm", "rear_bore": "19 mm", "split": "axle", "stroke": "4 mm", "bar": {"front_share": 0.6}},
        ):
            brakes = Brakes(build(self.lever_sheet(master=master)))
            point = brakes.at(4000.0, 0.0, 5000.0, limited=True)
            front, rear = brakes.front_branch.volume(point.front_master), brakes.rear_volume(point.rear_master, point.knee)
            travel, runs_out = brakes.pedal_travel(point)
            self.assertTrue(runs_out)
            if master["kind"] == "tandem":
                self.assertEqual(point.front_master, point.rear_master)
                self.assertAlmostEqual((front + rear) / brakes.area_front, 0.006, delta=1e-12)
                self.assertAlmostEqual(travel, 0.006, delta=1e-12)
            else:
                self.assertAlmostEqual(front / brakes.area_front, 0.004, delta=1e-12)
                self.assertAlmostEqual(rear / brakes.area_rear, 0.004, delta=1e-12)
                self.assertAlmostEqual(travel, 0.004, delta=1e-12)

    def test_a_fixed_valve_below_the_knee_needed_will_do_for_front_first(self):
        car = build(self.lever_sheet())
        options = type("Options", (), {"cold": False, "valve": None, "crew": True})
        for margin, knee, reachable in [(0.05, 30e5, True), (0.05, 15e5, False), (0.0, 30e5, False), (0.0, 20e5, True), (-0.05, 30e5, False)]:
            found = answer(car, options, Brakes(car), 0.6, margin, knee, None)
            self.assertEqual(found["reachable"], reachable, (margin, knee))
            if margin < 0:
                self.assertIsNone(found["rear_first_below_grip"])

    def test_the_other_layout_takes_the_routes_over(self):
        layout, other = other_layout(build(self.lever_sheet()))
        self.assertEqual(layout, "separate")
        self.assertEqual([other.routes[name] for name in ("bulkhead_to_rear_tee", "lever_to_lever_tee", "lever_tee_to_left")], [3.5, 2.0, 1.0])
        self.assertEqual(other.lines["lever"].pipe, "rubber hose")
        self.assertEqual(other.lever_brake, other.rear_brake)
        layout, back = other_layout(read(HERE / "cars" / "cedar.toml"))
        self.assertEqual(layout, "inline")
        self.assertAlmostEqual(back.routes["bulkhead_to_lever"], 10.5 * 12 * INCH / 2)
        self.assertAlmostEqual(back.routes["lever_to_rear_tee"], 10.5 * 12 * INCH / 2)


class Expected(unittest.TestCase):
    def test_every_case_again(self):
        cases = json.loads((HERE / "expected.json").read_text())["cases"]
        self.assertGreaterEqual(len(cases), 150)
        for case in cases:
            got = run(case["verb"], HERE / case["car"], case["options"])
            self.compare(got, case["result"], f"{case['car']} {case['verb']} {case['options']}")

    def compare(self, got, want, where):
        if isinstance(want, dict):
            self.assertEqual(got.keys(), want.keys(), where)
            for key in want:
                self.compare(got[key], want[key], f"{where}.{key}")
        elif isinstance(want, list):
            self.assertEqual(len(got), len(want), where)
            for index, (a, b) in enumerate(zip(got, want)):
                self.compare(a, b, f"{where}[{index}]")
        elif isinstance(want, float):
            self.assertAlmostEqual(got, want, delta=1e-8 * abs(want) + 1e-12, msg=where)
        else:
            self.assertEqual(got, want, where)


if __name__ == "__main__":
    unittest.main()
