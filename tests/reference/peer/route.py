"""The way of a run: its legs from the outlet upwards, stretched to its length."""

import math
from dataclasses import dataclass


@dataclass
class Leg:
    """A straight piece, seen from its lower end as water runs."""

    length: float
    rise: float
    plumb: bool


def points(start, route, stop):
    """Corners from the first end to the last, each (x, y, z)."""
    corners = [(c["x_m"], c["y_m"], c["z_m"]) for c in route]
    return [(*start.place, start.height_m), *corners, (*stop.place, stop.height_m)]


def length(way):
    return sum(math.dist(a, b) for a, b in zip(way, way[1:]))


def legs(way, length_m, upper_turned):
    """Legs from the outlet up to the inlet, of a way from inlet to outlet."""
    if len(way) == 2:
        return uncornered(way[0][2] - way[1][2], length_m, upper_turned)
    stretch = length_m / length(way) if length(way) > 1e-6 else 1.0
    if upper_turned == "unknown":
        way = [(*way[0][:2], way[1][2]), *way[1:]]
    made = []
    for a, b in zip(way, way[1:]):
        drawn, rise = math.dist(a, b), a[2] - b[2]
        if drawn > 0:
            made.append(Leg(drawn * stretch, rise, abs(rise) > drawn * math.sqrt(0.5)))
    return made[::-1]


def uncornered(rise, length_m, upper_turned):
    """From a lip that faces up straight down and then level, else straight."""
    if upper_turned == "unknown":
        rise = 0.0
    if upper_turned in ("up", "under"):
        down = min(abs(rise), length_m)
        made = [Leg(length_m - down, 0.0, False), Leg(down, rise, True)]
    else:
        made = [Leg(length_m, rise, abs(rise) > length_m * math.sqrt(0.5))]
    return [leg for leg in made if leg.length > 0]
