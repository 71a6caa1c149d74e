"""The peer: the same networks solved with numpy and scipy's sparse LU, as well as they can.

The equations and the tolerances are those of docs/method/network.md and run-law.md for runs between
joints. Levels and flows together, the flows eliminated; every law as its straight line about the flow
that stands. All runs at once in numpy; the order of elimination is found in the first step and kept.

    python peer.py DIRECTORY REPEATS

reads nodes.csv and runs.csv, writes heads.f64, and prints one line of JSON.
"""

import json
import resource
import sys
import time
from pathlib import Path

import numpy as np
from scipy.sparse import csc_matrix
from scipy.sparse.linalg import splu

GRAVITY = 9.80665
LAMINAR, TURBULENT = 2000.0, 4000.0
TWO_OVER_LN_10 = 2.0 / np.log(10.0)
LEAST_RESISTANCE = 1e-7
ENERGY_M, FLOW_M3_S, FLOW_SHARE, MASS_M3_S = 1e-9, 1e-12, 1e-9, 1e-10
MOST_STEPS = 60
# What is tried, and the quickest kept; of a very large network only the first, which wins there by far.
ORDERS = ("MMD_AT_PLUS_A", "COLAMD")
VERY_LARGE = 50_000
QUICK = dict(diag_pivot_thresh=0.0, options=dict(SymmetricMode=True, Equil=False))


def colebrook(re, wall):
    """1/sqrt(f) and how much the factor still depends on Re; two Halley steps from a start by bits."""
    b = 2.51 / re
    start = wall + 7.0 * b
    x = -TWO_OVER_LN_10 * np.log(2.0) * (start.view(np.int64) * 2.0**-52 - 1022.957)
    for _ in range(2):
        total = wall + b * x
        rate = TWO_OVER_LN_10 * b / total
        rest = x + TWO_OVER_LN_10 * np.log(total)
        first = 1.0 + rate
        x = x - rest * first / (first * first + 0.5 / TWO_OVER_LN_10 * rest * rate * rate)
    return x, TWO_OVER_LN_10 * b / (wall + b * x)


def turbulent(re, wall):
    x, smoothness = colebrook(re, wall)
    factor = 1.0 / (x * x)
    return factor * re * re, 2.0 * factor * re / (1.0 + smoothness)


class Runs:
    """All runs at once: head lost and its slope."""

    def __init__(self, table):
        self.a, self.b = table[:, 0].astype(np.int64), table[:, 1].astype(np.int64)
        bore, length, rough, k, nu = table[:, 2:7].T
        self.check = table[:, 7] != 0.0
        self.h0, self.c = np.ascontiguousarray(table[:, 8]), np.ascontiguousarray(table[:, 9])
        self.pumped = np.flatnonzero(self.h0)
        area = np.pi / 4 * bore**2
        self.area = area
        self.re_per_flow = bore / (nu * area)
        self.wall = rough / bore / 3.7
        self.scale = length * nu**2 / (2 * GRAVITY * bore**3)
        self.k = k / (2 * GRAVITY * area**2)
        self.laminar_to = 100.0 * nu * area / bore
        # Drag where turbulence begins, of every run, once.
        self.top, self.top_slope = turbulent(np.full_like(bore, TURBULENT), self.wall)

    def loss(self, flow):
        """Head lost less the pump's, and the slope, at signed flows."""
        q = np.abs(flow)
        re = q * self.re_per_flow
        drag, slope = turbulent(np.maximum(re, TURBULENT), self.wall)
        low = np.flatnonzero(re < TURBULENT)
        drag[low], slope[low] = self.slow(re[low], low)
        fast = q >= self.laminar_to
        eddy = self.k * np.where(fast, q, self.laminar_to)
        head = self.scale * drag + (eddy + LEAST_RESISTANCE) * q
        by_flow = self.scale * slope * self.re_per_flow + np.where(fast, 2.0, 1.0) * eddy
        head, by_flow = np.copysign(head, flow), by_flow + LEAST_RESISTANCE
        p = self.pumped
        head[p] -= self.h0[p] - self.c[p] * q[p] ** 2
        by_flow[p] += 2.0 * self.c[p] * q[p]
        return head, by_flow

    def slow(self, re, which):
        width = TURBULENT - LAMINAR
        s = (re - LAMINAR) / width
        start, start_slope = 64.0 * LAMINAR, 64.0 * width
        rise, end_slope = self.top[which] - start, self.top_slope[which] * width
        c2, c3 = 3 * rise - 2 * start_slope - end_slope, start_slope + end_slope - 2 * rise
        laminar = re <= LAMINAR
        drag = np.where(laminar, 64.0 * re, start + s * (start_slope + s * (c2 + s * c3)))
        slope = np.where(laminar, 64.0, (start_slope + s * (2 * c2 + 3 * s * c3)) / width)
        return drag, slope


class Matrix:
    """The sparse matrix in heads: where every entry goes is settled once."""

    def __init__(self, runs, row, size):
        self.runs, self.row, self.size = runs, row, size
        self.ra, self.rb = row[runs.a], row[runs.b]
        self.order = None
        self.settle(np.arange(size))

    def settle(self, place):
        """Rows and columns in the order `place`; sums of entries by one sparse product."""
        both = (self.ra >= 0) & (self.rb >= 0)
        self.only_a, self.only_b = np.flatnonzero(self.ra >= 0), np.flatnonzero(self.rb >= 0)
        self.both = np.flatnonzero(both)
        a, b = place[self.ra], place[self.rb]
        row = np.r_[a[self.only_a], b[self.only_b], a[self.both], b[self.both], np.arange(self.size)]
        col = np.r_[a[self.only_a], b[self.only_b], b[self.both], a[self.both], np.arange(self.size)]
        run = np.r_[self.only_a, self.only_b, self.both, self.both]
        sign = np.r_[np.ones(len(self.only_a) + len(self.only_b)), -np.ones(2 * len(self.both))]
        key = col * self.size + row
        keys, slot = np.unique(key, return_inverse=True)
        self.indices, cols = keys % self.size, keys // self.size
        self.indptr = np.searchsorted(cols, np.arange(self.size + 1))
        entries = len(run)
        self.least = np.zeros(len(keys))
        self.least[slot[entries:]] = 1e-12
        shape = (len(keys), len(self.ra))
        self.sums = csc_matrix((sign, (slot[:entries], run)), shape=shape).tocsr()
        self.place = place

    def factored(self, slope, spec):
        data = self.sums @ slope + self.least
        matrix = csc_matrix((data, self.indices, self.indptr), shape=(self.size, self.size))
        kept = self.order == spec
        factors = splu(matrix, permc_spec="NATURAL" if kept else spec, **QUICK)
        if not kept:
            self.order, order = spec, factors.perm_c
            self.settle(order[self.place])
            return lambda rhs: factors.solve(rhs)
        place = self.place

        def solve(rhs):
            moved = np.empty_like(rhs)
            moved[place] = rhs
            return factors.solve(moved)[place]

        return solve


def solved(nodes, runs, spec):
    """Heads, steps, and seconds of processor inside splu and its solves."""
    held = nodes[:, 0] == 1.0
    row = np.full(len(nodes), -1)
    row[~held] = np.arange((~held).sum())
    inner = ~held
    size = int(inner.sum())
    matrix = Matrix(runs, row, size)
    heads = np.where(held, nodes[:, 1], nodes[held, 1].mean())
    demand = -nodes[:, 2]
    # As the program starts; 0.3 m/s, which is more usual, asks for one step more.
    flow = 0.1 * runs.area
    inside = 0.0
    allowed = None
    for steps in range(MOST_STEPS):
        drop = heads[runs.a] - heads[runs.b]
        lost, by_flow = runs.loss(flow)
        error, slope = drop - lost, 1.0 / by_flow
        shut = runs.check & (flow == 0.0) & (drop + runs.h0 <= 0.0)
        line = flow + error * slope
        slope[shut], line[shut], error[shut] = 0.0, 0.0, 0.0
        out = demand.copy()
        out += np.bincount(runs.a, flow, len(nodes)) - np.bincount(runs.b, flow, len(nodes))
        moved = np.abs(line - flow)
        fits = (moved <= FLOW_M3_S + FLOW_SHARE * np.abs(flow)) & (np.abs(error) <= ENERGY_M)
        if np.all(fits) and np.abs(out[inner]).max() <= MASS_M3_S:
            return heads, steps, inside
        change = line - flow
        out += np.bincount(runs.a, change, len(nodes)) - np.bincount(runs.b, change, len(nodes))
        begun = time.process_time()
        step = matrix.factored(slope, spec)(-out[inner])
        inside += time.process_time() - begun
        full = np.zeros(len(nodes))
        full[inner] = step
        heads = heads + full
        flow = line + slope * (full[runs.a] - full[runs.b])
        flow = np.where(runs.check & (flow < 0.0), 0.0, flow)
    raise RuntimeError(f"not solved in {MOST_STEPS} steps")


def main():
    directory, repeats = Path(sys.argv[1]), int(sys.argv[2])
    nodes = np.loadtxt(directory / "nodes.csv", delimiter=",")
    table = np.loadtxt(directory / "runs.csv", delimiter=",")
    best = None
    for spec in ORDERS if len(nodes) < VERY_LARGE else ORDERS[:1]:
        for _ in range(repeats):
            wall, begun = time.perf_counter(), time.process_time()
            heads, steps, inside = solved(nodes, Runs(table), spec)
            took = time.process_time() - begun
            if best is None or took < best["cpu_s"]:
                best = dict(cpu_s=took, wall_s=time.perf_counter() - wall, steps=steps, inside_s=inside, order=spec)
                heads.tofile(directory / "heads.f64")
    best["peak_mb"] = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(json.dumps(best))


if __name__ == "__main__":
    main()
