"""The slow end of a course: implicit steps, each taken once whole and once in two halves.

Near its end a course is stiff and has corners, where solvers of differential equations creep.
Twice the two halves less the whole is right to second order, and keeps the water to rounding.
"""

import math

import numpy as np

import balance

ERROR_M = 5e-5
LEAST_S = 1e-3


def followed(network, levels, seconds, first_s, events):
    """Levels after `seconds`, or at the first event with its number, and the last step's length."""
    vessels, nv = network.layout.vessels, network.nv
    held = np.array([v.volume(h) for v, h in zip(vessels, levels)])
    gone, step = 0.0, first_s
    while gone < seconds:
        step = min(step, seconds - gone)
        halves, whole, solved = two_ways(network, levels, held, step)
        error = apart(vessels, halves, whole) if solved else math.inf
        if not solved and step < LEAST_S:
            raise ArithmeticError("the slow end: a step that is not solved")
        if error > ERROR_M and step > LEAST_S:
            step *= max(0.1, 0.8 * (ERROR_M / error) ** 0.5)
            continue
        water = [2 * v.volume(b) - v.volume(a) for v, a, b in zip(vessels, whole, halves)]
        reached = np.array([v.level(w) for v, w in zip(vessels, water)])
        now = np.concatenate([reached, halves[nv:]])
        found = crossed(events, levels, now)
        if found is not None and step > 0.05:
            step /= 4
            continue
        levels, held, gone = now, np.array(water), gone + step
        if found is not None:
            return levels, found, step
        step *= min(4.0, 0.8 * (ERROR_M / max(error, 1e-12)) ** 0.5)
    return levels, None, step


def apart(vessels, a, b):
    """The most that the water of a vessel differs, in metres of its plan area."""
    return max((abs(v.volume(x) - v.volume(y)) / v.top_area for v, x, y in zip(vessels, a, b)), default=0)


def two_ways(network, levels, held, step):
    whole, bad = balance.implicit(network, levels, held, step)
    half, bad_half = balance.implicit(network, (levels + whole) / 2, held, step / 2)
    between = np.array([v.volume(h) for v, h in zip(network.layout.vessels, half)])
    halves, bad_last = balance.implicit(network, whole, between, step / 2)
    return halves, whole, max(bad, bad_half, bad_last) <= balance.ENOUGH_M3_S


def crossed(events, before, after):
    """The first event whose value fell below 0."""
    for number, value in enumerate(events):
        if value(before) >= 0 > value(after):
            return number
    return None
