"""The end of a course: one implicit step so long that nothing but the balances counts."""

import numpy as np

LONG_S = 1e8
GOOD_M3_S = 1e-12
#: What is let be where it does not get better: joints that stand dry but for a trickle.
ENOUGH_M3_S = 1e-9
ROUNDING_M = 1e-14
IDLE = 1e-10
MOST_SWEEPS = 6
DAMPINGS = (0.0, 0.03, 0.3, 3.0, 30.0)
SHARES = (1.0, 0.5, 0.2, 0.05, 0.01, 2e-3)
#: How far a direction is opened by a step that is cut where it opens, m.
OPEN_M = (5e-3, 1e-4, 1e-6)
#: What is left of an imbalance after a step that helps much, and after one that does not help.
MUCH, CREEPS = 0.7, 0.98


def limit(network, start):
    """Levels after one implicit step of three years from `start`; none where it is not found."""
    levels = start.copy()
    held = np.array([v.volume(h) for v, h in zip(network.layout.vessels, start)])
    for seconds in (1e2, 1e4, 1e6, LONG_S):
        levels, worst = implicit(network, levels, held, seconds)
        if worst > 1e-6 and seconds < LONG_S:
            continue
    return levels if worst < ENOUGH_M3_S else None


def imbalance(network, levels, held, seconds):
    """What flows out of each node less what it loses, m³/s, with the slopes."""
    out, slopes = network.outflow(levels)
    for i, vessel in enumerate(network.layout.vessels):
        out[i] += (vessel.volume(levels[i]) - held[i]) / seconds
        slopes[i, i] += vessel.area(levels[i]) / seconds
    return out, slopes


def implicit(network, levels, held, seconds):
    """Newton's method, damped and cut where it does not help; the worst imbalance left, m³/s."""
    out, slopes = imbalance(network, levels, held, seconds)
    sweeps = 0
    for _ in range(200):
        if np.all(abs(out) < GOOD_M3_S + ROUNDING_M * np.diag(slopes)):
            break
        found, helps = stepped(network, levels, held, seconds, out, slopes)
        if found is not None:
            levels, out, slopes = found
        if not helps:
            if sweeps == MOST_SWEEPS or max(abs(out)) < ENOUGH_M3_S:
                break
            sweeps += 1
            levels = swept(network, levels, held, seconds)
            out, slopes = imbalance(network, levels, held, seconds)
    # A run that loses nothing ties two levels so closely that their last digit is a flow.
    return levels, max(abs(out) - ROUNDING_M * np.diag(slopes), default=0)


def stepped(network, levels, held, seconds, out, slopes):
    """The first step that helps much, else one that opens a direction, else the best of all.

    With it whether it is worth going on from: a step that just opens a direction lessens nothing yet.
    """
    before = abs(out).sum()
    least, best, opened = before, None, None
    for damping in DAMPINGS:
        whole = solved(slopes, out, damping)
        cuts = crossings(network, levels, whole)
        tries = [share * whole for share in cuts] + [share * np.clip(whole, -5, 5) for share in SHARES]
        for number, step in enumerate(tries):
            now, now_slopes = imbalance(network, levels + step, held, seconds)
            made = abs(now).sum(), (levels + step, now, now_slopes)
            if made[0] < least:
                least, best = made
            if least < MUCH * before:
                return best, True
            if number < len(cuts) and opened is None and made[0] <= before * (1 + 1e-9):
                opened = made[1]
    if opened is not None and least > CREEPS * before:
        return opened, True
    return best, least < CREEPS * before


def crossings(network, levels, step):
    """Shares of a step that just open the first closed direction: past it the balance is another one."""
    before, after = network.driving(levels), network.driving(levels + step)
    opens = (before <= 0) & (after > 0)
    if not opens.any():
        return []
    before, after = before[opens], after[opens]
    shares = [((over - before) / (after - before)).min() for over in OPEN_M]
    return [share for share in shares if share < 1]


def solved(slopes, out, damping):
    """A Newton step. What flows out of a node flows into another, so that a damped step, be it small,
    always lessens the sum of all imbalances."""
    own = np.diag(slopes)
    # A dry joint stays where it is: nothing but rounding would move it.
    idle = (own < IDLE) & (abs(out) < IDLE)
    least = 1e-13 + 1e-12 * abs(slopes).max(initial=0) + idle
    return np.linalg.solve(slopes + np.diag(least + damping * own), -out)


def swept(network, levels, held, seconds):
    """Each balance in turn by bisection in its own level: slow, and sure (Gauss-Seidel).

    Joints that are joined to each other are moved together first, by one height: one at a time they move by
    hardly anything, where what is let into them must find a way out.
    """
    levels = levels.copy()
    alone = [[i] for i in range(network.n)]
    for nodes in tied_joints(network) + alone:
        start = levels[nodes]

        def own(by):
            levels[nodes] = start + by
            return imbalance(network, levels, held, seconds)[0][nodes].sum()

        width, low, high = 1e-6, 0.0, 0.0
        sign = own(0.0)
        if sign == 0:
            continue
        while own(low if sign > 0 else high) * sign > 0 and width < 1e5:
            low, high = (low - width, high) if sign > 0 else (low, high + width)
            width *= 4
        for _ in range(60):
            middle = (low + high) / 2
            low, high = (low, middle) if own(middle) > 0 else (middle, high)
        levels[nodes] = start + (low + high) / 2
    return levels


def tied_joints(network):
    """Groups of two joints and more that runs join to each other."""
    group = {i: {i} for i in range(network.nv, network.n)}
    for a, b in zip(network.up, network.down):
        if a in group and b in group and group[a] is not group[b]:
            group[a] |= group[b]
            for i in group[b]:
                group[i] = group[a]
    return [sorted(g) for g in {id(g): g for g in group.values()}.values() if len(g) > 1]
