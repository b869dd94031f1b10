"""Cars and questions at random: the same seed asks the same.

Figures stay within what the sheet allows, and go well beyond what is usual.
"""

import random

from sheet import SURFACES

CARS = ["ash", "birch", "cedar", "dogwood", "elder", "fir", "gorse", "hazel", "ivy", "juniper", "larch", "maple"]
TWIN, STEPPED, CABLE = {"cedar", "hazel", "juniper"}, {"cedar"}, {"gorse"}
DRUMS = {"front": {"hazel", "maple"}, "rear": {"birch", "gorse", "hazel", "juniper"}}
OWN_CALIPERS = {"cedar", "juniper"}
ROUTES = [
    "master_to_bulkhead", "bulkhead_to_lever", "lever_to_rear_tee", "bulkhead_to_rear_tee", "tee_to_rear_left", "tee_to_rear_right",
    "master_to_front_left", "master_to_front_right", "lever_to_lever_tee", "lever_tee_to_left", "lever_tee_to_right",
]
PIPES = ["steel 3/16 in", "copper-nickel 1/4 in", "braided hose -3", "rubber hose"]


class Dice:
    def __init__(self, seed):
        self.random = random.Random(seed)

    def chance(self, share):
        return self.random.random() < share

    def one(self, words):
        return self.random.choice(list(words))

    def between(self, low, high, unit=""):
        return f"{self.random.uniform(low, high):.3g} {unit}".strip()

    def verb(self, verbs=("pressures", "balance", "settings", "lever")):
        return self.one(verbs)

    def overrides(self, car):
        """`--with KEY=VALUE` for some of the keys."""
        found = {}

        def maybe(share, key, low, high=None, unit=""):
            if self.chance(share):
                found[key] = self.one(low) if high is None else self.between(low, high, unit)

        maybe(0.2, "pedal.ratio", 2.5, 7)
        maybe(0.2, "pedal.efficiency", 0.7, 1)
        if self.chance(0.15):
            found["pedal.booster.gain"] = self.between(1, 7)
            found["pedal.booster.run_out"] = self.between(15, 110, "bar")
        maybe(0.3, "master.stroke", 8, 40, "mm")
        if car in TWIN:
            maybe(0.3, "master.front_bore", 14, 26, "mm")
            maybe(0.3, "master.rear_bore", 14, 26, "mm")
            maybe(0.4, "master.bar.front_share", 0.2, 0.8)
            maybe(0.2, "master.bar.share_per_turn", 0.005, 0.03)
        else:
            maybe(0.3, "master.bore", 16, 30, "mm")
            maybe(0.3, "master.split", ["axle", "diagonal"])
        if self.chance(0.5):
            found |= self.valve(car)
        if car not in CABLE:
            maybe(0.3, "lever.bore", 10, 26, "mm")
            maybe(0.3, "lever.ratio", 4, 12)
            maybe(0.3, "lever.stroke", 6, 36, "mm")
            maybe(0.3, "lever.free_stroke", 0, 2.5, "mm")
            maybe(0.3, "lever.free_play", 0, 12, "mm")
            maybe(0.3, "lever.room", 75, 350, "mm")
            maybe(0.3, "lever.outlets", ["one", "tandem", "side-by-side"])
            maybe(0.2, "lever.rear_seal", 4, 9.9, "mm")
            maybe(0.2, "lever.efficiency", 0.6, 1)
        if car in OWN_CALIPERS:
            maybe(0.3, "lever.kind", ["inline", "separate"])
        maybe(0.3, "lever.hand_pull", 80, 500, "N")
        maybe(0.3, "lever.switch", ["true", "false"])
        for route in ROUTES:
            maybe(0.15, f"routes.{route}", 0, 3, "m")
        for line in ("front", "rear", "lever"):
            maybe(0.15, f"lines.{line}.pipe", PIPES)
            maybe(0.15, f"lines.{line}.flexible_last", 0, 1.2, "m")
            maybe(0.1, f"lines.{line}.flexible", PIPES[2:])
            maybe(0.15, f"air.{line}", 0, 6, "cm3")
        for end in ("front", "rear"):
            drum = car in DRUMS[end]
            if drum:
                maybe(0.2, f"{end}_brake.lining.friction", 0.25, 0.4)
                maybe(0.2, f"{end}_brake.cylinder_bore", 14, 30, "mm")
            else:
                maybe(0.2, f"{end}_brake.pad.friction", 0.2, 0.6)
                if self.chance(0.2):
                    found[f"{end}_brake.caliper.pistons"] = f'["{self.between(26, 60, "mm")}"]'
                maybe(0.2, f"{end}_brake.caliper.layout", ["opposed", "sliding"])
            maybe(0.2, f"{end}_brake.volume.clearance", 0, 0.8, "mm")
            maybe(0.2, f"{end}_brake.volume.flex", 0, 0.05, "cm3/bar")
            maybe(0.3, f"weighed.{end}", 350, 900, "kg")
        maybe(0.2, "geometry.wheelbase", 2.2, 2.9, "m")
        maybe(0.2, "drivetrain.driven", ["front", "rear", "all"])
        if self.chance(0.25):
            kind = self.one(["none", "open", "locked", "plates"])
            found["drivetrain.centre.kind"] = kind
            if kind == "plates":
                found["drivetrain.centre.preload"] = self.between(0, 400, "N m")
        maybe(0.2, "drivetrain.centre.turns_per_wheel_turn", 1, 5)
        maybe(0.2, "drivetrain.final_drive", 3, 6)
        maybe(0.15, "car.road_registered", ["true", "false"])
        return [word for key, value in found.items() for word in ("--with", f"{key}={value}")]

    def valve(self, car):
        kind = self.one(["fixed", "limiting", "load-sensing"] + ([] if car in STEPPED else ["adjustable"]))
        found = {"bias_valve.kind": kind, "bias_valve.slope": self.between(0, 0.9)}
        found["bias_valve.place"] = self.one(["before-lever", "after-lever"])
        if kind in ("fixed", "limiting"):
            found["bias_valve.knee"] = self.between(0, 60, "bar")
        elif kind == "load-sensing":
            found["bias_valve.knee.empty"] = f'["{self.between(2, 6, "kN")}", "{self.between(0, 40, "bar")}"]'
            found["bias_valve.knee.laden"] = f'["{self.between(6.2, 9, "kN")}", "{self.between(10, 80, "bar")}"]'
        else:
            found["bias_valve.knee.at_fewest"] = self.between(0, 20, "bar")
            found["bias_valve.knee.at_most"] = self.between(25, 100, "bar")
            found["bias_valve.knee.turns"] = self.between(6, 9, "turns")
            found["bias_valve.setting"] = self.between(0, 6, "turns")
        return found

    def options(self, car, verb):
        """Everything behind verb and sheet."""
        found = []

        def maybe(share, name, value):
            if self.chance(share):
                found.extend([name, value()])

        found += ["--cold"] if self.chance(0.3) else []
        found += ["--no-crew"] if self.chance(0.3) else []
        if car not in CABLE:
            maybe(0.3, "--fuel", lambda: self.between(0, 60, "L"))
        maybe(0.3, "--surface", lambda: self.one(SURFACES))
        maybe(0.2, "--grip", lambda: self.between(0.1, 1.2))
        maybe(0.3, "--speed", lambda: self.between(5, 120, "km/h"))
        if verb == "pressures":
            maybe(0.7, "--foot", lambda: self.between(1, 700, "N"))
            if "--foot" not in found or self.chance(0.6):
                found += ["--hand", self.between(1, 500, "N")]
        elif verb == "lever":
            maybe(0.3, "--hand", lambda: self.between(50, 600, "N"))
        elif verb == "balance":
            found += ["--grips", ",".join(self.between(0.05, 1.3) for _ in range(5))]
        else:
            wanted = {"even": "even", "front": f"front-first {self.between(0, 20)} %", "rear": f"rear-first {self.between(0, 10)} %"}
            found += ["--wanted", wanted[self.one(wanted)]]
            if "--surface" not in found and "--grip" not in found:
                found += ["--grip", self.between(0.1, 1.2)]
            if "--fuel" not in found and car not in CABLE:
                found += ["--fuel", self.between(0, 60, "L")]
        return found + self.overrides(car)
