"""The last step: flows from the laws themselves instead of their tables."""

import numpy as np
from scipy.optimize import brentq

import balance
import grade

ROUNDS = 40
GOOD_M = 2e-6
#: What a law may still be out after the last round, m: a fifth of what counts as the same level.
LEFT_M = 2e-4
#: A round that leaves more than this of the miss before swings about the end: half shifts from then on.
SWINGS = 0.7


def polished(network, levels):
    """Levels with every law that holds a flow shifted onto its exact value, until none moves.

    None where the balance is not solved from where the tables led, or where the shifts do not settle.
    """
    share, before = 1.0, np.inf
    for _ in range(ROUNDS):
        moved = shift_all(network, levels, share)
        found = balance.limit(network, levels)
        if found is None:
            return None
        levels = found
        if moved < GOOD_M:
            break
        share, before = (share / 2 if moved > SWINGS * before and share > 0.2 else share), moved
    return levels if moved < LEFT_M else None


def shift_all(network, levels, share):
    """Shifts each law's head by a share of what its table is out at the flow that it gives.

    A walked law that does not hold the flow is looked at too: by its table it may be let off wrongly.
    """
    flow, _, _, held = network.passing(levels)
    h = network.levels(levels)
    worst = 0.0
    for k, (_, _, law) in enumerate(network.directions):
        if flow[k] <= 1e-9:
            continue
        up, down = h[network.up[k]], h[network.down[k]]
        error = up - needed(law, held[k], flow[k], down)
        network.shift[held[k]][k] += share * error
        worst = max(worst, abs(error))
        if law.walked and held[k] != "walk":
            worst = max(worst, call_in(network, levels, k, flow[k], share))
    return worst


def call_in(network, levels, k, q, share):
    """Shifts a walked law that would not pass the flow; by how much, in metres."""
    law, h = network.directions[k][2], network.levels(levels)
    lacking = needed(law, "walk", q, h[network.down[k]]) - h[network.up[k]]
    if lacking <= GOOD_M:
        return 0.0
    by_table, slope = network.walked_flow(levels, k)
    lacking += (by_table - q) / slope
    network.shift["walk"][k] -= share * lacking
    return lacking


def needed(law, what, q, down):
    """Level upstream that a law asks for at a flow."""
    if what == "inlet":
        return law.up.draws_over_m + law.up.inlet(q)
    rest = law.outlet_over_lip(0.0) if what == "lip" else 0.0
    if what == "walk":
        at = grade.Sections(law, [q])
        return float(grade.Walk(law, at, np.array([down])).head()[0]) - (law.curve(q) if law.curve else 0.0) + law.held_m
    head = law.loss(q) - (law.curve(q) if law.curve else 0.0) + law.held_m
    if what == "lip":
        return law.down.lip_m + law.outlet_over_lip(q) + head
    lip = -np.inf if law.walked or law.down.turned == "horizontal" else law.down.lip_m
    return max(down, lip) + head
