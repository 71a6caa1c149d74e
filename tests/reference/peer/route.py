"""The way of a run: its legs from the outlet upwards, stretched to its length."""

import math
from dataclasses import dataclass, replace

#: Heights closer than this are one, m: rounding.
SAME_M = 1e-6
SHORTEST_M = 1e-6
#: A leg that falls by more than this share of its length is plumb: steeper than 1:1.
PLUMB = math.sqrt(0.5)


@dataclass(frozen=True)
class Leg:
    """A straight piece; `top_m` is its invert where the water comes in, `foot_m` where it goes on."""

    length: float
    top_m: float
    foot_m: float
    plumb: bool
    sine: float
    vented: bool = False  # at its end upstream

    @property
    def rise(self):
        return self.top_m - self.foot_m


def points(start, route, stop):
    """Corners from the first end to the last, each (x, y, z, vented); heights are inverts."""
    corners = [(c["x_m"], c["y_m"], c["z_m"], bool(c.get("vented"))) for c in route]
    ends = [(*end.place, end.height_m, end.vented) for end in (start, stop)]
    return [ends[0], *corners, ends[1]]


def length(way):
    return sum(drawn(a, b) for a, b in zip(way, way[1:]))


def drawn(a, b):
    return math.dist(a[:3], b[:3])


def at_next(way, first, last):
    """The way with an end whose height was not given at the height of the next corner."""
    way = list(way)
    if len(way) > 2 and first:
        way[0] = (*way[0][:2], way[1][2], way[0][3])
    if len(way) > 2 and last:
        way[-1] = (*way[-1][:2], way[-2][2], way[-1][3])
    return way


def legs(way, length_m, turned):
    """Legs in the direction of the flow, of a way from inlet to outlet; `turned` says how the ends are."""
    upper, lower = turned
    if len(way) == 2:
        made = uncornered(way, length_m, upper, lower)
    else:
        # Where the water goes on under water the pipe leads down to its floor, or to a level that is fixed.
        way = at_next(way, upper == "unknown", False)
        drawn_m = length(way)
        stretch = length_m / drawn_m if drawn_m > SHORTEST_M else 1.0
        made = [replace(one, length=one.length * stretch) for one in map(straight, way, way[1:])]
    return [leg for leg in made if leg.length > (0 if leg.plumb else SHORTEST_M)]


def straight(a, b):
    return leg(drawn(a, b), a[2], b[2], a[3])


def leg(length_m, top_m, foot_m, vented=False):
    fall = abs(top_m - foot_m)
    sine = min(fall / length_m, 1.0) if length_m else 1.0
    return Leg(length_m, top_m, foot_m, fall > length_m * PLUMB, sine, vented)


def uncornered(way, length_m, upper, lower):
    """From a lip that faces up straight down and then level, else straight."""
    (*_, top, vented), (*_, foot, _) = way
    if upper == "unknown":
        top = foot
    if upper in ("up", "under"):
        down = min(abs(top - foot), length_m)
        plumb = Leg(down, top, foot, True, 1.0)
        return [plumb, leg(length_m - down, foot, foot)]
    return [leg(length_m, top, foot, vented)]


def cut(legs, along_m):
    """The legs with a boundary at a distance from the inlet, and the number of legs before it."""
    before = 0.0
    for number, one in enumerate(legs):
        rest = along_m - before
        if rest <= SHORTEST_M:
            return legs, number
        if rest < one.length - SHORTEST_M:
            middle = one.top_m - one.rise * rest / one.length
            first = replace(one, length=rest, foot_m=middle)
            second = replace(one, length=one.length - rest, top_m=middle, vented=False)
            return [*legs[:number], first, second, *legs[number + 1 :]], number + 1
        before += one.length
    return legs, len(legs)
