"""A layout at rest and running, by the written method."""

import math

import numpy as np

import balance
import polish
from follow import DRY_M, until_still
from network import Network
from refused import Refused

MOST_SWITCHES = 60
MOST_COURSES = 3
#: Difference of a level by tables and by laws that is let be, m.
AGREES_M = 2e-4


def solve(layout):
    """Levels and flows at rest and running: a dict of two `Answer`s."""
    cache = {}
    start = np.array([v.fill for v in layout.vessels] + layout.joint_heights)
    rest, _ = settled(Network(layout, set(), "built", cache), start)
    pumps = {run.id for run in layout.runs if run.pump}
    running = follow_pumps(layout, pumps, rest.levels, cache)
    return {"rest": rest, "running": running}


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


def follow_pumps(layout, pumps, start, cache):
    """Running: pumps that draw no water stop, and start again with two bores over the intake."""
    on, levels = set(pumps), start
    for _ in range(MOST_SWITCHES):
        events, whose = watch(layout, pumps, on)
        if any(at_once(e, levels) for e in events):
            found = next(i for i, e in enumerate(events) if at_once(e, levels))
        else:
            levels, found = settled(Network(layout, on, "tall", cache), levels, events)
            if found is None:
                return levels
        on ^= {whose[found]}
    raise Refused("pumps that switch for ever")


def at_once(event, levels):
    node, height, falling = event
    return levels[node] < height if falling else levels[node] > height


def watch(layout, pumps, on):
    """Levels at which a pump stops or starts: (node, height, falling) and whose they are."""
    events, whose = [], []
    for run in layout.runs:
        if run.id not in pumps:
            continue
        backward = run.pump.get("pushes", "forward") == "backward"
        intake = run.last if backward else run.first
        node = layout.number[intake.at]
        stops = run.pump.get("stops_when_dry", True)
        if not stops or node >= len(layout.vessels) or not math.isfinite(intake.lip_m):
            continue
        running = run.id in on
        events.append((node, intake.lip_m + (DRY_M if running else 2 * intake.bore_m), running))
        whose.append(run.id)
    return events, whose
