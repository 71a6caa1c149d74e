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


def head_needed(run, at, over):
    """Head that a marched run needs upstream, one a flow.

    `over` is the level downstream less the outlet's height, one a flow, at most the bore: with
    more it is the full run.
    """
    invert = run.outlet_m
    tail = np.maximum(over, 0.0 if run.outlet_down else at.critical)
    if not run.legs or run.legs[0].plumb:
        line = invert + tail + at.full_head
    else:
        line = invert + at.energy(np.maximum(tail, at.critical))
    for leg in run.legs:
        if leg.plumb:
            line = line + at.full_slope * leg.length
            invert += leg.rise
            continue
        foot = np.maximum(line - invert, at.least)
        invert += leg.rise
        line = invert + climb(at, foot, leg)
    return upper_end(run, at, line, invert) + np.array([run.full_only(q) for q in at.flows])


def upper_end(run, at, line, invert):
    """Level over the upper end: the line there with what entrance and exit take on the wet area."""
    full = at.flows / area(run.bore)
    beyond = run.ends_k_full * full**2 / (2 * run.g)
    if run.legs and run.legs[-1].plumb:
        return line + (run.ends_k - run.alpha) * full**2 / (2 * run.g) + beyond
    depth = at.depth_at(line - invert)
    return invert + np.maximum(level(run, at, depth), level(run, at, at.critical)) + beyond


def level(run, at, depth):
    section, _ = wet(np.minimum(depth, run.bore), run.bore)
    speed = at.flows / np.maximum(section, 1e-300)
    return depth + run.ends_k * speed**2 / (2 * run.g)
