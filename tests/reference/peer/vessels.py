"""How much water a vessel holds at a level, and its rim."""

import math

import numpy as np

from ends import kind_of
from refused import Refused

#: Share of the plan area with which a vessel goes on under its floor: nearly nothing.
SLIVER = 1e-5


class Vessel:
    """Plan area by depth is a straight line between rows; volume and level are exact between them."""

    def __init__(self, given, layout):
        if given.get("float_valve"):
            raise Refused("a float valve")
        self.id, self.floor, self.rim, self.fill = (given[k] for k in ("id", "floor_m", "rim_m", "fill_m"))
        self.fill = given["fill_m"]
        word, shape = kind_of(given["shape"])
        depths, areas, around = rows(word, shape, self.rim - self.floor)
        medium = given.get("medium")
        if medium and word == "cone_bottom":
            raise Refused("a medium in a cone")
        if medium:
            depths, areas = porous(depths, areas, medium["top_m"] - self.floor, medium["porosity"])
        self.depths, self.areas = np.array(depths), np.array(areas)
        pieces = np.diff(self.depths) * (self.areas[:-1] + self.areas[1:]) / 2
        self.volumes = np.concatenate([[0.0], np.cumsum(pieces)])
        self.top_area, self.sliver = areas[-1], SLIVER * areas[-1]
        own = given.get("rim_perimeter_m")
        self.spill_factor = layout.coefficients["rim"] * (around if own is None else own)
        receiver = given.get("spills_to")
        self.receiver = layout.number[receiver] if receiver else None

    def area(self, level):
        depth = level - self.floor
        if depth <= 0:
            return self.sliver
        return max(float(np.interp(depth, self.depths, self.areas)), self.sliver)

    def volume(self, level):
        depth = level - self.floor
        if depth <= 0:
            return depth * self.sliver
        if depth >= self.depths[-1]:
            return self.volumes[-1] + (depth - self.depths[-1]) * self.top_area
        i = int(np.searchsorted(self.depths, depth, side="right")) - 1
        x = depth - self.depths[i]
        slope = (self.areas[i + 1] - self.areas[i]) / (self.depths[i + 1] - self.depths[i])
        return self.volumes[i] + self.areas[i] * x + slope * x * x / 2

    def level(self, volume):
        if volume <= 0:
            return self.floor + volume / self.sliver
        if volume >= self.volumes[-1]:
            return self.floor + self.depths[-1] + (volume - self.volumes[-1]) / self.top_area
        i = int(np.searchsorted(self.volumes, volume, side="right")) - 1
        rest, a = volume - self.volumes[i], self.areas[i]
        slope = (self.areas[i + 1] - a) / (self.depths[i + 1] - self.depths[i])
        x = 2 * rest / (a + math.sqrt(max(a * a + 2 * slope * rest, 0.0))) if rest > 0 else 0.0
        return self.floor + self.depths[i] + x


def rows(word, shape, tall):
    """Depths, areas, and the length of the rim."""
    if word == "round":
        d = shape["diameter_m"]
        area, around = math.pi * d * d / 4, math.pi * d
    elif word == "rectangular":
        l, w = shape["length_m"], shape["width_m"]
        area, around = l * w, 2 * (l + w)
    elif word == "prism":
        area = shape["area_m2"]
        around = 2 * math.sqrt(math.pi * area)
    elif word == "cone_bottom":
        return cone(shape, tall)
    else:
        raise Refused(f"shape {word}")
    return [0.0, tall], [area, area], around


def cone(shape, tall):
    """A cone in slices, close enough that its volume is right to a millionth."""
    d, height = shape["diameter_m"], shape["cone_height_m"]
    shares = np.linspace(0, 1, 401)
    depths = [*(shares * height), max(tall, 1.001 * height)]
    areas = [*(math.pi * d * d / 4 * shares**2), math.pi * d * d / 4]
    return depths, areas, math.pi * d * min(1.0, tall / height)


def porous(depths, areas, top, porosity):
    """Rows with the pores alone up to the top of a medium."""
    if top <= 0:
        return depths, areas
    area = areas[-1]
    step = 1e-9
    return [0.0, top, top + step, max(depths[-1], top + 2 * step)], [area * porosity] * 2 + [area] * 2
