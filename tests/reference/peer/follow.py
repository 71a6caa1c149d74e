"""A network followed in time until it is still, and the limit to which that leads."""

import numpy as np
from scipy.integrate import solve_ivp

import balance
import tail
from refused import Refused

#: What a joint is given to hold, m²: it makes an ordinary differential equation of its balance.
JOINT_M2 = 1e-5
STILL_M_S = 0.1e-3 / 3600
MOVED_M = 0.1e-3
LONGEST_S = 1e9
DRY_M = 1e-3
#: Rates that may be asked for in one piece before the slow end is followed by implicit steps.
MOST_ASKED = 1500


class TooSlow(Exception):
    """The solver of differential equations creeps."""


class Course:
    """Unknowns scaled to metres: water of a vessel over its plan area, head of a joint."""

    def __init__(self, network):
        self.network, self.nv = network, network.nv
        self.vessels = network.layout.vessels
        areas = [v.top_area for v in self.vessels]
        self.areas = np.array(areas + [JOINT_M2] * network.nj)

    def levels(self, y):
        held = [v.level(a * x) for v, a, x in zip(self.vessels, self.areas, y)]
        return np.concatenate([held, y[self.nv :]])

    def scaled(self, levels):
        held = [v.volume(h) / a for v, a, h in zip(self.vessels, self.areas, levels)]
        return np.concatenate([held, levels[self.nv :]])

    def surfaces(self, levels):
        """Area of the water in each vessel; of a joint what it is given."""
        return np.array([v.area(h) for v, h in zip(self.vessels, levels)] + [JOINT_M2] * self.network.nj)

    def rate(self, _, y):
        self.asked += 1
        if self.asked > MOST_ASKED:
            raise TooSlow
        return -self.network.outflow(self.levels(y))[0] / self.areas

    def slopes(self, _, y):
        levels = self.levels(y)
        by_level = self.network.outflow(levels)[1]
        # A level moves by plan area over water surface for each scaled metre.
        return -by_level / self.areas[:, None] * (self.areas / self.surfaces(levels))[None, :]

    def piece(self, levels, seconds, events):
        """Levels after `seconds`, or at the first event with its number."""
        self.asked = 0
        done = solve_ivp(
            self.rate, (0, seconds), self.scaled(levels), method="LSODA", jac=self.slopes,
            rtol=1e-6, atol=2e-7, events=[event_of(self, e) for e in events] or None,
        )
        if done.status < 0 or not np.all(np.isfinite(done.y[:, -1])):
            raise TooSlow
        found = [i for i, t in enumerate(done.t_events or []) if len(t)]
        return self.levels(done.y[:, -1]), found[0] if found else None


def until_still(network, levels, events=()):
    """Levels in the limit, or the levels at the first event and its number."""
    course = Course(network)
    seconds, gone, step, quick = 600.0, 0.0, 10.0, True
    highest = max([*levels, *network.fixed]) + 200
    while gone < LONGEST_S:
        before = levels
        if quick:
            try:
                levels, found = course.piece(levels, seconds, events)
            except TooSlow:
                quick = False
        if not quick:
            levels, found, step = tail.followed(network, levels, seconds, step, events)
        gone += seconds
        if found is not None:
            return levels, found
        if max(levels[: course.nv], default=0) > highest:
            raise Refused("a level that rises for ever")
        # Of levels that swing in the last digits the way that they went counts.
        if tail.apart(course.vessels, before, levels) < STILL_M_S * seconds:
            limit = balance.limit(network, levels)
            if limit is not None and tail.apart(course.vessels, limit, levels) < MOVED_M:
                return limit, None
        seconds = max(600.0, gone)
    raise Refused("never still")


def event_of(course, value):
    """An event is a function of the levels that falls below 0."""

    def over(_, y):
        return value(course.levels(y))

    over.terminal, over.direction = True, -1
    return over
