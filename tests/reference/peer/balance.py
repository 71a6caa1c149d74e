"""The end of a course: one implicit step so long that nothing but the balances counts."""

import numpy as np

LONG_S = 1e8
GOOD_M3_S = 1e-12
ROUNDING_M = 1e-14
MOST_SWEEPS = 2
DAMPINGS = (0.0, 0.03, 0.3, 3.0, 30.0)


def limit(network, start):
    """Levels after one implicit step of three years from `start`; none where it is not found."""
    levels = start.copy()
    held = np.array([v.volume(h) for v, h in zip(network.layout.vessels, start)])
    for seconds in (1e2, 1e4, 1e6, LONG_S):
        levels, worst = implicit(network, levels, held, seconds)
        if worst > 1e-6 and seconds < LONG_S:
            continue
    return levels if worst < 1e-9 else None


def imbalance(network, levels, held, seconds):
    """What flows out of each node less what it loses, m³/s, with the slopes."""
    out, slopes = network.outflow(levels)
    for i, vessel in enumerate(network.layout.vessels):
        out[i] += (vessel.volume(levels[i]) - held[i]) / seconds
        slopes[i, i] += vessel.area(levels[i]) / seconds
    return out, slopes


def implicit(network, levels, held, seconds):
    """Newton's method, halved where it does not help; the worst imbalance left, m³/s."""
    out, slopes = imbalance(network, levels, held, seconds)
    sweeps = 0
    for _ in range(200):
        if np.all(abs(out) < GOOD_M3_S + ROUNDING_M * np.diag(slopes)):
            break
        for damping in DAMPINGS:
            step = solved(slopes, out, damping)
            tried = halved(network, levels, held, seconds, step, out, slopes)
            levels, out, slopes, better = tried
            if better:
                break
        if not better:
            if sweeps == MOST_SWEEPS:
                break
            sweeps += 1
            levels = swept(network, levels, held, seconds)
            before = abs(out).sum()
            out, slopes = imbalance(network, levels, held, seconds)
            if abs(out).sum() > 0.999999 * before:
                break
    return levels, max(abs(out), default=0)


def solved(slopes, out, damping):
    """A Newton step. What flows out of a node flows into another, so that a damped step, be it small,
    always lessens the sum of all imbalances."""
    least = 1e-13 + 1e-12 * abs(slopes).max(initial=0)
    return np.linalg.solve(slopes + np.diag(least + damping * np.diag(slopes)), -out)


def halved(network, levels, held, seconds, step, out, slopes):
    share, before = 1.0, abs(out).sum()
    while share > 1e-3:
        tried = levels + share * np.clip(step, -5, 5)
        now, now_slopes = imbalance(network, tried, held, seconds)
        if abs(now).sum() < (1 - 1e-4 * share) * before:
            return tried, now, now_slopes, True
        share /= 2
    return levels, out, slopes, False


def swept(network, levels, held, seconds):
    """Each balance in turn by bisection in its own level: slow, and sure (Gauss-Seidel)."""
    levels = levels.copy()
    for i in range(network.n):
        def own(h):
            levels[i] = h
            return imbalance(network, levels, held, seconds)[0][i]

        at = levels[i]
        width = 1e-6
        low = high = at
        sign = own(at)
        if sign == 0:
            continue
        while own(low if sign > 0 else high) * sign > 0 and width < 1e5:
            low, high = (low - width, high) if sign > 0 else (low, high + width)
            width *= 4
        for _ in range(60):
            middle = (low + high) / 2
            low, high = (low, middle) if own(middle) > 0 else (middle, high)
        levels[i] = (low + high) / 2
    return levels
