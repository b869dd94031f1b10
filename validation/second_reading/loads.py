"""Mass, centre of gravity and axle loads of the car in a state (SI; z = deceleration / g)."""

from dataclasses import dataclass

from sheet import Mass

G = 9.81


@dataclass(frozen=True)
class Load:
    mass: float
    a: float  # CG behind the front axle
    h: float
    wheelbase: float

    @property
    def b(self):
        return self.wheelbase - self.a

    @property
    def weight(self):
        return self.mass * G

    def front(self, z):
        return self.weight * (self.b + z * self.h) / self.wheelbase

    def rear(self, z):
        return self.weight * (self.a - z * self.h) / self.wheelbase


def load(car, fuel, crew=True):
    """The car as weighed, its fuel replaced by `fuel` (m3), with or without crew and items."""
    parts = [car.weighed]
    if car.tank:
        change = (fuel - car.fuel_aboard) * 740.0
        parts.append(Mass(change, car.tank.aft, car.tank.height))
    if crew:
        parts += car.aboard
    mass = sum(p.kg for p in parts)
    return Load(
        mass,
        sum(p.kg * p.aft for p in parts) / mass,
        sum(p.kg * p.height for p in parts) / mass,
        car.wheelbase,
    )


def tank_volume(car):
    return car.tank.kg / 740.0 if car.tank else 0.0
