"""High points of a run, where air gathers: hydraulics of sections 9.1 and 9.2 of the design, docs/method/grade.md.

A high point is a local maximum of the invert; its falling leg goes on to the next low point or the outlet.
"""

import math
from dataclasses import dataclass
from typing import Optional

import numpy as np

from route import SAME_M

#: Clearing velocity V/√(gD) = 0.56·√(sin θ) + 0.61, θ at most 22.5° (Escarameia 2007).
STEEPEST = math.sin(math.radians(22.5))
#: Depth over bore from which a high point can prime by itself.
PRIMES = 0.8
#: Froude number under which an outlet in air vents itself.
VENTS_ITSELF = 0.3
#: Depths over bore between which a pipe comes to count as filled, so that air is shut in without a step (a choice).
FILLING = 0.9, 1.0


@dataclass(frozen=True)
class HighPoint:
    """`boundary` counts legs from the outlet; `foot` is that of a low point, none where the outlet ends it."""

    boundary: int
    invert_m: float
    foot: Optional[int]
    foot_m: float
    upstream_m: float  # lowest invert from here back to a surface or another high point; -inf: it is full there
    sine: float
    vented: bool

    def clearing(self):
        return 0.56 * math.sqrt(min(self.sine, STEEPEST)) + 0.61

    def fills_above(self, critical, bore):
        return filled((self.invert_m + critical - self.upstream_m) / bore)

    def shut_in_head(self, critical, bore, energies):
        """p: head of the air that is shut in, one a flow. `energies` by boundary, as far as it was walked."""
        if self.foot is None or self.vented:
            return 0.0
        over = energies[self.foot] - self.foot_m
        # By the energy: the depth there falls where the flow grows against a head that stays.
        below = filled(over / bore)
        return self.fills_above(critical, bore) * below * np.maximum(over, 0.0)


def filled(share):
    low, high = FILLING
    return np.clip((share - low) / (high - low), 0.0, 1.0)


@dataclass(frozen=True)
class Around:
    """What lies beyond the two ends of a run, where they are joints (`chains.Turns`), else none."""

    upper: Optional[object]
    lower: Optional[object]
    fills: bool  # no air comes with the water: it is pumped, or comes from deep under water
    risen: bool = False  # it has come up to its first corner from an end under water of no given height


def find(legs, around):
    """High points of legs in the direction of the flow, from the outlet upwards."""
    found, lowest, rising = [], start_lowest(legs, around), around.risen or is_top(around.upper)
    for number, one in enumerate(legs):
        lowest = min(lowest, one.top_m)
        if one.rise < -SAME_M:
            rising = True
        elif one.rise > SAME_M and rising:
            found.append(point(legs, number, around, lowest))
            rising, lowest = False, math.inf
    return found[::-1]


def is_top(beyond):
    """Seen from a run that falls from a joint: everything else falls from it too."""
    return beyond is not None and beyond.falls and not beyond.rises


def start_lowest(legs, around):
    if around.fills:
        return -math.inf
    return math.inf if around.upper is None else around.upper.lowest_m


def point(legs, number, around, lowest):
    """The high point at the top of a leg that falls."""
    top, sine, last = legs[number].top_m, 0.0, number
    foot = None
    for index in range(number, len(legs)):
        rise = legs[index].rise
        if rise < -SAME_M:
            foot = last
            break
        if rise > SAME_M:
            sine, last = max(sine, legs[index].sine), index
    if foot is None and around.lower is not None and around.lower.rises and not around.lower.falls:
        foot = last
    count = len(legs)
    boundary = None if foot is None else count - foot - 1
    foot_m = top if foot is None else legs[foot].foot_m
    return HighPoint(count - number, top, boundary, foot_m, lowest, sine, has_vent(legs, number))


def has_vent(legs, number):
    """A vent anywhere on the level reach before a fall."""
    if legs[number].vented:
        return True
    while number > 0 and abs(legs[number - 1].rise) <= SAME_M:
        number -= 1
        if legs[number].vented:
            return True
    return False

