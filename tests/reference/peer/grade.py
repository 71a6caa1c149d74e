"""The grade of a gravity run: the gradually varied flow equation, integrated by scipy.

In one section and at one flow the energy E over the invert goes, upstream, as

    dE/dx = S_f(E) - S_0,   E never under that of critical depth          (docs/method/grade.md)

E has no singular point at critical depth, where the depth itself has one. All flows of a table are
integrated side by side as one system.
"""

import math

import numpy as np
from scipy.integrate import solve_ivp

from laws import area, critical_depth

SAMPLES = 72
PUSH_M = 1e-5
MOST_ASKED = 1500


class TooSlow(Exception):
    """The integration creeps."""


def wet(depth, bore):
    """Wetted area and hydraulic radius of depths in a round pipe."""
    angle = 4 * np.arcsin(np.sqrt(np.clip(depth / bore, 0, 1)))
    section = bore**2 / 8 * (angle - np.sin(angle))
    return section, section / (bore * angle / 2)


class Sections:
    """What the section of a run asks for at each of a row of flows: E and S_f from depth."""

    def __init__(self, run, flows):
        self.run, self.flows = run, np.asarray(flows, dtype=float)
        bore, g = run.bore, run.g
        self.full_head = self.velocity_head(self.flows / area(bore))
        self.full_slope = np.array([run.slope(q / area(bore), bore) for q in self.flows])
        self.critical = np.array([critical_depth(q, bore, g) for q in self.flows])
        self.least = self.energy(self.critical)
        self.crown = bore + self.full_head
        self.tabulate()

    def velocity_head(self, speed):
        return self.run.alpha * speed**2 / (2 * self.run.g)

    def energy(self, depth):
        """Energy over the invert at depths, one a flow; over the crown the pipe is full."""
        section, _ = wet(depth, self.run.bore)
        return depth + self.velocity_head(self.flows / np.maximum(section, 1e-300))

    def tabulate(self):
        """Depth and S_f by the root of E over its least, where both are smooth."""
        bore, run = self.run.bore, self.run
        spread = np.linspace(0, 1, SAMPLES) ** 2
        depths = self.critical[:, None] + (bore - self.critical)[:, None] * spread
        section, radius = wet(depths, bore)
        speeds = self.flows[:, None] / section
        energies = depths + self.velocity_head(speeds)
        slopes = np.array([
            [run.slope(v, 4 * r) for v, r in zip(vs, rs)] for vs, rs in zip(speeds, radius)
        ])
        slopes = np.maximum(slopes, self.full_slope[:, None])
        self.span = np.sqrt(np.maximum(self.crown - self.least, 1e-30))
        even = np.linspace(0, 1, 4 * SAMPLES)
        roots = np.sqrt(np.maximum(energies - self.least[:, None], 0)) / self.span[:, None]
        self.slopes = np.array([np.interp(even, r, s) for r, s in zip(roots, slopes)])
        self.depths = np.array([np.interp(even, r, y) for r, y in zip(roots, depths)])
        self.rows = np.arange(len(self.flows))

    def repeated(self, times):
        """The same flows, all of them once for each of `times` levels downstream."""
        made = object.__new__(Sections)
        made.run = self.run
        for name in ("flows", "full_head", "full_slope", "critical", "least", "crown", "span"):
            setattr(made, name, np.tile(getattr(self, name), times))
        made.slopes, made.depths = self.slopes, self.depths
        made.rows = np.tile(self.rows, times)
        return made

    def look(self, table, energy):
        last = table.shape[1] - 1
        root = np.sqrt(np.maximum(energy - self.least, 0)) / self.span
        at = np.clip(root * last, 0, last)
        low = np.minimum(at.astype(int), last - 1)
        part = at - low
        return table[self.rows, low] * (1 - part) + table[self.rows, low + 1] * part

    def slope_at(self, energy):
        return np.where(energy >= self.crown, self.full_slope, self.look(self.slopes, energy))

    def depth_at(self, energy):
        over = energy - self.full_head
        return np.where(energy >= self.crown, over, self.look(self.depths, energy))


def climb(sections, energy, leg):
    """Energy over the invert at the top of a leg from that at its foot."""
    energy = np.maximum(energy, sections.least)
    if leg.length == 0:
        return energy
    try:
        return integrated(sections, energy, leg, "LSODA", MOST_ASKED)
    except TooSlow:
        # At a corner of S_f the quick method may creep.
        return integrated(sections, energy, leg, "RK23", 1e9)


def integrated(sections, energy, leg, method, most):
    fall, asked = leg.rise / leg.length, 0

    def rate(_, e):
        nonlocal asked
        asked += 1
        if asked > most:
            raise TooSlow
        if method == "LSODA":
            # Under the least energy it is pushed back within a hundredth of a millimetre of leg.
            return sections.slope_at(e) - fall + np.maximum(sections.least - e, 0) / PUSH_M
        change = sections.slope_at(e) - fall
        return np.where(e <= sections.least, np.maximum(change, 0), change)

    # Each flow goes its own way, so the matrix of slopes is its diagonal.
    band = {"lband": 0, "uband": 0} if method == "LSODA" else {}
    done = solve_ivp(rate, (0, leg.length), energy, method=method, rtol=1e-6, atol=1e-6, **band)
    if done.status < 0:
        raise TooSlow
    return np.maximum(done.y[:, -1], sections.least)


class Walk:
    """The energy line of a run carried from its outlet upstream, one a flow.

    Every flow has its own level downstream; one that is too low to count leaves the outlet free.
    """

    def __init__(self, law, at, levels):
        self.law, self.at, self.levels = law, at, np.asarray(levels, float)
        self.energies = []
        self.reach(self.start())
        for leg in law.legs[::-1]:
            self.reach(self.climb(leg))

    def start(self):
        """Energy at the outlet."""
        law, at = self.law, self.at
        if law.down.turned == "joint":
            line = self.levels + 0.0 * at.flows
            return np.maximum(line, law.outlet_m + at.least) if law.marched else line
        tail = np.maximum(self.levels, law.outlet_m + law.mouth_over(at))
        if law.marched and law.legs and not law.legs[-1].plumb:
            foot = law.legs[-1].foot_m
            return foot + at.energy(np.maximum(tail - foot, at.critical))
        return tail + at.full_head

    def climb(self, leg):
        line, at = self.energies[-1], self.at
        if leg.plumb or not self.law.marched:
            return line + at.full_slope * leg.length
        foot = np.maximum(line - leg.foot_m, at.least)
        return leg.top_m + climb(at, foot, leg)

    def reach(self, line):
        """The line at a boundary: what sits there is lost, and a high point holds it up."""
        law, at, here = self.law, self.at, len(self.energies)
        for place in law.placed:
            if place.boundary == here:
                line = line + np.array([place.loss(q) for q in at.flows])
                if law.marched:
                    line = np.maximum(line, place.invert_m + at.least)
        for point in law.points:
            if point.boundary == here:
                held = point.shut_in_head(at.critical, law.bore, self.energies)
                line = np.maximum(line, point.invert_m + at.least + held)
        self.energies.append(line)

    def head(self):
        """Level upstream: the line with what the mouths take on the wet area there, and what always runs full."""
        law, at, line = self.law, self.at, self.energies[-1]
        full = at.flows / area(law.bore)
        beyond = law.mouths_k_full * full**2 / (2 * law.g) + np.array([law.full_only(q) for q in at.flows])
        if not law.marched or not law.legs or law.legs[0].plumb:
            return line + (law.mouths_k - law.alpha) * full**2 / (2 * law.g) + beyond
        top = law.legs[0].top_m
        depth = at.depth_at(line - top)
        return top + np.maximum(level(law, at, depth), level(law, at, at.critical)) + beyond

    def depth_over(self, point):
        """Depth at a high point, one a flow."""
        return self.at.depth_at(self.energies[point.boundary] - point.invert_m)


def held_back(law, levels):
    """Level upstream at which water just begins to pass, for each level downstream."""
    line = np.asarray(levels, float)
    if law.down.turned != "joint":
        rest = law.down.bore_m / 2 if law.down.turned == "horizontal" and not law.marched else 0.0
        line = np.maximum(line, law.outlet_m + rest)
    elif law.marched:
        line = np.maximum(line, law.outlet_m)
    passed = []
    for here in range(len(law.legs) + 1):
        if here:
            leg = law.legs[-here]
            if law.marched and not leg.plumb:
                line = np.maximum(line, max(leg.top_m, leg.foot_m))
        for place in law.placed:
            if place.boundary == here and law.marched:
                line = np.maximum(line, place.invert_m)
        for point in law.points:
            if point.boundary == here:
                held = point.shut_in_head(0.0, law.bore, passed)
                line = np.maximum(line, point.invert_m + held)
        passed.append(line)
    return line


def level(law, at, depth):
    section, _ = wet(np.minimum(depth, law.bore), law.bore)
    speed = at.flows / np.maximum(section, 1e-300)
    return depth + law.mouths_k * speed**2 / (2 * law.g)
