"""A layout at rest and running, by the written method."""

import math

import numpy as np

import air
import balance
import polish
from follow import DRY_M, until_still
from network import Network
from refused import Refused

MOST_SWITCHES = 60
#: Turns of the air at one moment after which a chain is left as it is.
MOST_TURNS = 6
#: A moment in which vessels stay and joints come to rest, s.
MOMENT_S = 1e-6
MOST_COURSES = 3
#: Difference of a level by tables and by laws that is let be, m.
AGREES_M = 2e-4


def solve(layout, in_runs_m3=0.0):
    """Levels and flows at rest and running: a dict of two `Answer`s.

    `in_runs_m3`: what runs take up once the pumps run; it is missing from the vessels that pumps draw from.
    """
    cache = {}
    start = np.array([v.fill for v in layout.vessels] + layout.joint_heights)
    filled = {layout.chains.of[n] for n, run in enumerate(layout.runs) if run.starts_primed}
    rest = Switched(layout, cache, (set(), "built"))
    rest.primed = {chain for chain in filled if rest.can_prime(chain)}
    answer = rest.follow(start)
    pumps = {run.id for run in layout.runs if run.pump}
    running = Switched(layout, cache, (pumps, "tall"))
    running.primed = {chain for chain in rest.primed if running.can_prime(chain)}
    return {"rest": answer, "running": running.follow(without(layout, answer.levels, in_runs_m3))}


def without(layout, levels, in_runs_m3):
    """Levels with so much less water in the vessels that pumps draw from, as far as there is any."""
    levels = np.array(levels)
    for run in layout.runs:
        if not run.pump:
            continue
        intake = run.last if run.pump.get("pushes", "forward") == "backward" else run.first
        node = layout.number[intake.at]
        if node < len(layout.vessels):
            vessel = layout.vessels[node]
            held = vessel.volume(levels[node])
            taken = min(in_runs_m3, max(held, 0.0))
            levels[node] = vessel.level(held - taken)
            in_runs_m3 -= taken
    return levels


class Answer:
    def __init__(self, network, levels):
        layout = network.layout
        flows = network.run_flows(levels)
        self.levels = levels
        self.vessels = dict(zip((v.id for v in layout.vessels), levels))
        self.floors = {v.id: v.floor for v in layout.vessels}
        self.joints = dict(zip(layout.joint_ids, levels[network.nv :]))
        self.flows = dict(zip((r.id for r in layout.runs), flows))
        self.dry_joints = dry(network, levels)
        self.outcome = "with-air"


def dry(network, levels):
    """Joints that no run flows through."""
    flow = network.passing(levels)[0]
    wet = set(network.up[flow > 1e-12]) | set(network.down[flow > 1e-12])
    ids = network.layout.joint_ids
    return {ids[i] for i in range(network.nj) if i + network.nv not in wet}


def settled(network, start, events=()):
    """The end of a course, or its first event.

    Where the laws themselves end elsewhere than their tables, the course is followed once more with
    the tables shifted to where it ends: it may have left water behind by their errors.
    """
    for _ in range(MOST_COURSES):
        by_table, event = until_still(network, start, events)
        if event is not None:
            return by_table, event
        levels = polish.polished(network, by_table)
        if levels is not None and max(abs(levels - by_table), default=0) < AGREES_M:
            break
    if levels is None:
        raise ArithmeticError("the polished balance is not solved")
    return Answer(network, levels), None


class Switched:
    """A layout followed in time through everything that switches: pumps that draw no water, and chains of runs
    that hold air or are primed."""

    def __init__(self, layout, cache, situation):
        self.layout, self.cache = layout, cache
        self.pumps, self.walls = situation
        self.on, self.primed = set(self.pumps), set()
        self.chains = [c for c in sorted(set(layout.chains.of)) if self.can_prime(c)]

    def can_prime(self, chain):
        return air.can_prime(Network(self.layout, self.on, self.walls, self.cache), chain)

    def network(self):
        return Network(self.layout, self.on, self.walls, self.cache, frozenset(self.primed))

    def follow(self, levels):
        for _ in range(MOST_SWITCHES):
            if self.pumps_at_once(levels):
                continue
            left = self.settle_air(levels)
            network = self.network()
            events = self.pump_events() + [self.air_event(network, c) for c in self.chains if c not in left]
            levels, found = settled(network, levels, [value for value, _ in events])
            if found is not None:
                events[found][1]()
            elif not self.turns(network, levels.levels, left):
                levels.outcome = "primed" if self.chains and set(self.chains) <= self.primed else "with-air"
                return levels
            else:
                levels = levels.levels
        raise Refused("something switches for ever")

    def settle_air(self, levels):
        """Turns chains at levels that stay, for the flows that come of it; those that swing are left as they are."""
        for _ in range(MOST_TURNS if self.chains else 0):
            network = self.network()
            held = np.array([v.volume(h) for v, h in zip(self.layout.vessels, levels)])
            at_once, _ = balance.implicit(network, np.array(levels), held, MOMENT_S)
            if not self.turns(network, at_once, ()):
                return ()
        return tuple(self.chains)

    def turns(self, network, levels, left):
        """Turns what stands otherwise than its flows say; whether anything turned."""
        turned = False
        for chain in self.chains:
            if chain in left:
                continue
            state = air.State(network, levels, chain)
            if (state.stays() <= 0) if chain in self.primed else (state.primes() > 0):
                self.primed ^= {chain}
                turned = True
        return turned

    def air_event(self, network, chain):
        def value(levels):
            state = air.State(network, levels, chain)
            return state.stays() if chain in self.primed else -state.primes()

        def happens():
            self.primed ^= {chain}

        return value, happens

    def pump_events(self):
        """Levels at which a pump stops or starts: what falls below 0 then, and what it does."""
        found = []
        for run in self.layout.runs:
            if run.id not in self.pumps:
                continue
            backward = run.pump.get("pushes", "forward") == "backward"
            intake = run.last if backward else run.first
            node = self.layout.number[intake.at]
            stops = run.pump.get("stops_when_dry", True)
            if not stops or node >= len(self.layout.vessels) or not math.isfinite(intake.lip_m):
                continue
            found.append(self.pump_event(run, intake, node))
        return found

    def pump_event(self, run, intake, node):
        running = run.id in self.on
        height = intake.lip_m + (DRY_M if running else 2 * intake.bore_m)

        def happens():
            self.on ^= {run.id}

        return (lambda levels: (levels[node] - height) * (1 if running else -1)), happens

    def pumps_at_once(self, levels):
        for value, happens in self.pump_events():
            if value(levels) < 0:
                happens()
                return True
        return False
