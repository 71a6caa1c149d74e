"""What changes the state of a chain: when its flows carry out all its air, and when air comes in again."""

import math

import numpy as np

import grade
import high

#: Flow under which a run stands still, m³/s.
STILL_M3_S = 1e-10
FILM_M = 1e-3


def froude(q, law):
    """V/√(gD) of the full bore."""
    return abs(q) / (math.pi / 4 * law.bore**2) / math.sqrt(law.g * law.bore)


class State:
    """The runs of one chain as they flow."""

    def __init__(self, network, levels, chain):
        self.network, self.h = network, network.levels(levels)
        flow = network.passing(levels)[0]
        self.runs = {}
        for k, (number, _, law) in enumerate(network.directions):
            if network.layout.chains.of[number] == chain:
                self.runs.setdefault(number, []).append((law, flow[k], k))

    def primes(self):
        """Over 0 where it primes by itself, in bores."""
        least = math.inf
        for number, ways in self.runs.items():
            if not any(not p.vented for law, _, _ in ways for p in law.all_points):
                continue
            law, q, k = max(ways, key=lambda way: way[1])
            if q < STILL_M3_S:
                return -1.0
            least = min(least, self.carried(law, q, self.h[self.network.down[k]]))
            if least < 0:
                return least
        return min(least, self.stays()) if least < math.inf else -1.0

    def carried(self, law, q, down):
        """By how much a flow carries the air out of all high points of a run; the dear part last."""
        points = [p for p in law.all_points if not p.vented]
        clears = min((froude(q, law) - p.clearing() for p in points), default=math.inf)
        if clears < 0 or not points:
            return clears
        walk = grade.Walk(law, grade.Sections(law, [q]), np.array([down]))
        return min(clears, *(self.fills(law, walk, p, down) for p in points))

    def fills(self, law, walk, point, down):
        """Depth at a high point over that from which it primes, in bores; air that is shut in asks for none."""
        above = point.fills_above(walk.at.critical, law.bore)[0] >= 1
        if point.foot is None:
            below = down > law.outlet_m + (law.bore if law.down.turned in ("horizontal", "joint") else 0.0)
        else:
            over = walk.energies[point.foot] - point.foot_m
            below = np.ravel(over)[0] >= sum(high.FILLING) / 2 * law.bore
        if above and below:
            return math.inf
        return min(walk.depth_over(point)[0] / law.bore, 1.0) - high.PRIMES

    def stays(self):
        """Over 0 while no air comes in, in bores of the run."""
        least = math.inf
        for number, ways in self.runs.items():
            run = self.network.layout.runs[number]
            flows = {law.backward: q for law, q, _ in ways}
            net = flows.get(False, 0.0) - flows.get(True, 0.0)
            for end, leaves in ((run.first, net < -STILL_M3_S), (run.last, net > STILL_M3_S)):
                least = min(least, self.keeps_out(run, end, (leaves, net, bool(flows))))
        return least

    def keeps_out(self, run, end, flow):
        leaves, net, open_ = flow
        if end.turned == "joint" or not math.isfinite(end.lip_m) or not open_:
            return math.inf
        level = self.h[self.network.layout.number[end.at]]
        if leaves:
            return max((level - end.lip_m) / run.bore, froude(net, run) - high.VENTS_ITSELF)
        inward = end is run.last
        if abs(net) <= STILL_M3_S and run.check and (run.check == "backward") != inward:
            return math.inf
        crown = end.bore_m if end.turned == "horizontal" else 0.0
        return (level - max(end.draws_over_m, end.lip_m + crown) - FILM_M) / run.bore


def can_prime(network, chain):
    """A run of it has a high point without a vent."""
    mine = (law for number, _, law in network.directions if network.layout.chains.of[number] == chain)
    return any(not p.vented for law in mine for p in law.all_points)
