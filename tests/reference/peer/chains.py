"""Runs that meet at joints: one chain between free surfaces, with one state of its air."""

import math
from dataclasses import dataclass

from route import SAME_M


@dataclass
class Turns:
    """How the other runs go on from a joint."""

    rises: bool = False
    falls: bool = False
    lowest_m: float = math.inf


class Chains:
    """Of the runs of a layout; one that is shut is by itself."""

    def __init__(self, runs):
        self.runs = runs
        self.at = {}
        for number, run in enumerate(runs):
            for end in (run.first, run.last):
                if end.turned == "joint" and not run.shut:
                    self.at.setdefault(end.at, []).append((number, end is run.last))
        self.of = list(range(len(runs)))
        for met in self.at.values():
            joined = {self.of[number] for number, _ in met}
            self.of = [min(joined) if chain in joined else chain for chain in self.of]

    def members(self, chain):
        return [run for run, of in zip(self.runs, self.of) if of == chain]

    def pumped(self, on):
        """Chains that a running pump pushes."""
        return {self.of[number] for number, run in enumerate(self.runs) if run.pump and run.id in on}

    def beyond(self, number, at_last):
        """Turns of the other runs at an end of a run; none where that is no joint."""
        run = self.runs[number]
        end = run.last if at_last else run.first
        if end.turned != "joint":
            return None
        turns, seen, todo = Turns(), {number}, [end.at]
        while todo:
            for other, its_last in self.at.get(todo.pop(), []):
                if other in seen:
                    continue
                seen.add(other)
                far = self.away(turns, self.runs[other], its_last)
                if far:
                    todo.append(far)
        return turns

    def away(self, turns, run, from_last):
        """Adds how a run goes away from one of its ends; the joint behind it where it stays level."""
        heights = [p[2] for p in run.inverts()]
        heights = heights[::-1] if from_last else heights
        later = [z for z in heights if abs(z - heights[0]) > SAME_M]
        if not later:
            far = run.first if from_last else run.last
            return far.at if far.turned == "joint" else None
        if later[0] > heights[0]:
            turns.rises = True
            return None
        turns.falls, before = True, heights[0]
        for z in heights[1:]:
            if z > before + SAME_M:
                break
            turns.lowest_m, before = min(turns.lowest_m, z), z
        return None
