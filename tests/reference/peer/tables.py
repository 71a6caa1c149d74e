"""Flow as a function of the head that drives it, looked up.

Of every law the logarithm of the conductance Q/D is kept on an even grid of ln D, as a cubic with
continuous slope. All laws of a layout are looked up at once.
"""

import math

import numpy as np
from scipy.interpolate import PchipInterpolator

LEAST_M, MOST_M, STEP = 1e-7, 2e4, 0.03
START = math.log(LEAST_M)
GRID = START + STEP * np.arange(int((math.log(MOST_M) - START) / STEP) + 2)


def row(heads, flows):
    """A row of the table from a law's points; heads over what it takes at rest, both rising."""
    heads, flows = np.asarray(heads, float), np.asarray(flows, float)
    keep = heads > 0
    heads, flows = heads[keep], flows[keep]
    rising = np.concatenate([[True], heads[1:] > np.maximum.accumulate(heads)[:-1] * (1 + 1e-12)])
    x, c = np.log(heads[rising]), np.log(flows[rising] / heads[rising])
    cubic = PchipInterpolator(x, c)
    inside = cubic(np.clip(GRID, x[0], x[-1]))
    first = (c[1] - c[0]) / (x[1] - x[0])
    last = (c[-1] - c[-2]) / (x[-1] - x[-2])
    return inside + first * np.minimum(GRID - x[0], 0) + last * np.maximum(GRID - x[-1], 0)


def of_law(head, bore, viscosity, besides=()):
    """A row from head by flow; flows from next to nothing to beyond what any layout drives.

    They are closest where laminar flow turns turbulent, since the law has its corners there, and at
    the flows that are named `besides`.
    """
    around = math.pi / 4 * bore * viscosity * np.geomspace(60.0, 9000.0, 170)
    flows = np.concatenate([math.pi / 4 * bore**2 * np.geomspace(1e-9, 700.0, 170), around, besides])
    flows = np.unique(flows)
    heads = []
    for q in flows:
        heads.append(head(q))
        if heads[-1] > MOST_M:
            break
    return row(heads, flows[: len(heads)])


class Table:
    def __init__(self):
        self.rows, self.slopes = [], []

    def add(self, row):
        self.rows.append(row)
        self.slopes.append(np.gradient(row))
        self.packed = None
        return len(self.rows) - 1

    def replace(self, number, row):
        self.rows[number], self.slopes[number] = row, np.gradient(row)
        self.packed = None

    def look(self, rows, heads):
        """Flows and their slopes; 0 where nothing drives."""
        if self.packed is None:
            self.packed = np.array(self.rows), np.array(self.slopes)
        values, slopes = self.packed
        at = (np.log(np.maximum(heads, LEAST_M)) - START) / STEP
        at = np.minimum(at, len(GRID) - 1.000001)
        low = at.astype(int)
        t = at - low
        y0, y1 = values[rows, low], values[rows, low + 1]
        m0, m1 = slopes[rows, low], slopes[rows, low + 1]
        rise = y1 - y0
        b = 3 * rise - 2 * m0 - m1
        a = m0 + m1 - 2 * rise
        conductance = np.exp(y0 + t * (m0 + t * (b + t * a)))
        bend = np.where(heads > LEAST_M, (m0 + t * (2 * b + 3 * t * a)) / STEP, 0.0)
        # Where nothing drives yet the slope is that of the first trickle, or levels that are equal
        # would not move together.
        flows = np.where(heads > 0, heads * conductance, 0.0)
        return flows, np.where(heads >= 0, conductance * (1 + bend), 0.0)
