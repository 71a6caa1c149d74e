"""A run of a layout, and the head that each of its two directions needs by flow."""

import functools
import math
from dataclasses import dataclass, replace
from typing import Callable

import numpy as np

import catalogue
import high
import laws
import route
from ends import joint_end, opening_end
from refused import Refused

PLAIN_ENDS_K = 1.5


def ratio(bore, own):
    """What K on another bore counts on the run's."""
    return (bore / own) ** 4


@dataclass(frozen=True)
class Piece:
    """What sits in one place, `at_m` from `from`: its losses by flow, for either way."""

    at_m: float
    forward: Callable
    backward: Callable


@dataclass(frozen=True)
class Placed:
    """The same in one direction: legs between it and the outlet, the invert there, its loss by flow."""

    boundary: int
    invert_m: float
    loss: Callable


class Run:
    """What both directions share. K of fittings is on the run's bore where it has none of its own."""

    def __init__(self, given, layout):
        self.id, self.g = given["id"], layout.gravity
        refuse_strangers(given)
        self.bore, self.wall = pipe(given, layout)
        self.first = self.end(given["from"], layout)
        self.last = self.end(given["to"], layout)
        self.way = route.points(self.first, given.get("route") or [], self.last)
        length = given.get("length_m")
        self.length = self.centre_length(given) if length is None else length
        self.mouths(given, layout.coefficients)
        self.check = None if given.get("check_valve_failed") else given.get("check_valve")
        self.total_k, self.starts_primed = given.get("total_k"), bool(given.get("starts_primed"))
        self.entered, self.pieces = {}, []
        self.valves_k, self.shut = self.valves(given)
        self.fittings(given)
        self.equipment = self.filters(given)
        self.pump = given.get("pump")
        if self.pump and self.pump.get("float"):
            raise Refused("a float switch")
        self.curve = laws.pump_curve(self.pump) if self.pump else None

    def mouths(self, given, coefficients):
        """What the two mouths take in under deep water: by the pump that draws there, or the pipe that keeps air away."""
        pump = given.get("pump")
        draws = pump and ("to" if pump.get("pushes", "forward") == "backward" else "from")
        for side, end in (("from", self.first), ("to", self.last)):
            if end.inlet is None or end.turned in ("under", "unknown", "joint"):
                continue
            hole = end.turned == "horizontal"
            if draws == side:
                k_e = coefficients["entrance_k"]
                end.inlet = laws.suction_head(end.bore_m, coefficients["weir"], k_e, hole, self.g)
            elif self.closed_length(given, side) >= 3 * end.bore_m:
                end.inlet = laws.kept_from_air(end.inlet, end.bore_m, hole, self.g)

    def closed_length(self, given, side):
        """Length of pipe from an end to its first vent, or to its other end."""
        corners = given.get("route") or []
        way, drawn = self.way, route.length(self.way)
        if side == "to":
            corners, way = corners[::-1], way[::-1]
        for index, corner in enumerate(corners):
            if corner.get("vented") and drawn > 0:
                return self.length * route.length(way[: index + 2]) / drawn
        return self.length

    def centre_length(self, given):
        """Length as drawn, to the centres of joints."""
        lift = lambda end: replace(end, height_m=end.height_m + self.bore / 2) if end.turned == "joint" else end
        return route.length(route.points(lift(self.first), given.get("route") or [], lift(self.last)))

    def inverts(self):
        """The way with its inverts, from the first end to the last."""
        return route.at_next(self.way, self.first.turned == "unknown", self.last.turned == "unknown")

    def place(self, given):
        """How far from `from` a part sits, or none."""
        if given.get("at_m") is not None:
            return given["at_m"]
        return {"from": 0.0, "to": self.length, None: None}[given.get("near")]

    def minor(self, k, own):
        return lambda q: laws.minor(k, own, q, self.wall.nu, self.g)

    def filters(self, given):
        """a and b of the equipment that has no place; the rest goes to the pieces."""
        a, b = 0.0, 0.0
        for part in given.get("equipment") or []:
            if part.get("out"):
                continue
            own_a, own_b = laws.equipment(part["clean"])
            at = self.place(part)
            if at is None:
                a, b = a + own_a, b + own_b
            else:
                lost = lambda q, own_a=own_a, own_b=own_b: (own_a + own_b * q) * q
                self.pieces.append(Piece(at, lost, lost))
        return a, b

    def end(self, given, layout):
        part = layout.parts[given["at"]]
        if given["at"] in layout.joints:
            return joint_end(part, self.bore)
        return opening_end(given, part, self.bore, layout.coefficients, self.g)

    def valves(self, given):
        """K of the valves, and whether one is shut; a kind that the flow moves is a check valve."""
        total, shut, implied = 0.0, False, False
        for valve in given.get("valves") or []:
            opening = valve.get("opening", 1.0)
            shut |= opening <= 0
            k, fully, check = self.valve(valve, opening)
            implied |= check
            if given.get("total_k") is not None:
                k = max(k - fully, 0.0) if opening < 1 else 0.0
            at = self.place(valve)
            if at is None:
                total += k
            else:
                self.pieces.append(Piece(at, *[self.minor(k, self.bore)] * 2))
        if implied and not given.get("check_valve") and not given.get("check_valve_failed"):
            self.check = (given.get("pump") or {}).get("pushes", "forward")
        return total, shut

    def valve(self, valve, opening):
        if valve["kind"] not in catalogue.rows("valves") and valve.get("k") is not None:
            return valve["k"], 0.0, False
        k, fully, check = catalogue.valve(valve["kind"], opening, self.bore, self.factor(self.bore))
        return (k if valve.get("k") is None else valve["k"]), fully, check

    def factor(self, bore):
        """Darcy factor at 1 m/s, by which an equivalent length counts."""
        if isinstance(self.wall, laws.FixedFactor):
            return self.wall.factor
        re = bore / self.wall.nu
        return laws.drag(re, self.wall.roughness_m / bore) / re**2

    def fittings(self, given):
        """K along the run with the bore it is on, for either way; entrance and exit count both ways."""
        self.minors, self.minors_back = [], []
        for fitting in given.get("fittings") or []:
            own, count = fitting.get("bore_m") or self.bore, fitting.get("count", 1)
            known = fitting.get("k") is None or fitting["kind"] in catalogue.rows("fittings")
            row = catalogue.fitting(fitting["kind"]) if known else {"place": "Along"}
            (k, on), (k_back, on_back) = self.fitting(fitting, row, own)
            at = self.place(fitting)
            if at is not None and self.total_k is None:
                self.pieces.append(Piece(at, self.minor(k * count, on), self.minor(k_back * count, on_back)))
            elif row["place"] == "Along":
                self.minors.append((k * count, on))
                self.minors_back.append((k_back * count, on_back))
            else:
                self.entered.setdefault(row["place"], []).append((k * count, on))

    def fitting(self, fitting, row, own):
        """K with its bore, forward and backward."""
        if fitting.get("k") is not None:
            return ((fitting["k"], own),) * 2
        rule = catalogue.choice(row, fitting.get("choice"))
        if rule == "StepInBore":
            least = min(own, self.bore)
            return (laws.step_k(self.bore, own), least), (laws.step_k(own, self.bore), least)
        return ((catalogue.loss(rule, own, self.factor(own)), own),) * 2

    def direction(self, backward, air):
        """The law of one direction, or none where nothing passes."""
        up, down = (self.last, self.first) if backward else (self.first, self.last)
        passes = {None: True, "forward": not backward, "backward": backward}[self.check]
        if self.shut or not passes or not up.draws:
            return None
        return Direction(self, up, down, backward, air)


@dataclass(frozen=True)
class Air:
    """How a run stands: its own pump runs, a pump pushes its chain, it is primed; what is beyond its joints."""

    running: bool
    pumped: bool
    primed: bool
    beyond: tuple

    def key(self):
        return self.running, self.pumped, self.primed, *(
            beyond and (beyond.rises, beyond.falls, beyond.lowest_m) for beyond in self.beyond
        )


class Direction:
    """One direction of a run: head needed upstream by flow, full or marched up its profile."""

    def __init__(self, run, up, down, backward, air):
        self.run, self.up, self.down, self.g, self.bore = run, up, down, run.g, run.bore
        self.air, self.backward = air, backward
        pushes = run.pump and (run.pump.get("pushes", "forward") == "backward") == backward
        self.running = bool(run.pump and air.running)
        self.curve = run.curve if self.running and pushes else None
        self.held_m = run.curve(0.0) if self.running and not pushes else 0.0
        self.standing_k = run.pump.get("stopped_k", 0.0) if run.pump and not self.running else 0.0
        self.marched = not air.pumped and not air.primed and down.turned in ("horizontal", "down", "joint")
        self.profile()
        self.share_ends()

    def profile(self):
        """Legs in the direction of the flow, what sits between them, and high points that count now."""
        run, air = self.run, self.air
        way = run.way[::-1] if self.backward else run.way
        legs = route.legs(way, run.length, (self.up.turned, self.down.turned))
        along = [(run.length - p.at_m, p.backward) if self.backward else (p.at_m, p.forward) for p in run.pieces]
        for at, _ in along:
            legs, _ = route.cut(legs, at)
        self.legs = legs
        self.placed = [self.put(at, loss) for at, loss in along]
        self.outlet_m = self.down.lip_m if math.isfinite(self.down.lip_m) else (
            self.down.height_m if self.down.turned == "joint" else -math.inf
        )
        beyond = air.beyond[::-1] if self.backward else air.beyond
        fills = air.pumped or self.up.turned == "unknown"
        risen = self.up.turned == "unknown" and len(way) > 2 and way[1][2] > way[0][2] + route.SAME_M
        self.all_points = high.find(legs, high.Around(*beyond, fills, risen))
        self.points = [p for p in self.all_points if p.vented or not air.primed]
        # Through a joint of no length nothing is marched.
        self.marched &= bool(legs) or self.down.turned != "joint"
        self.walked = self.marched or bool(self.points)

    def put(self, at, loss):
        _, before = route.cut(self.legs, at)
        last = before == len(self.legs)
        invert = (self.legs[-1].foot_m if last else self.legs[before].top_m) if self.legs else self.outlet_m
        return Placed(len(self.legs) - before, invert, loss)

    def share_ends(self):
        """K of the two ends, on the run's bore, and what is along the run."""
        run, entered = self.run, self.run.entered
        plain = self.up.entrance_k + self.down.exit_k
        self.along = run.minors_back if self.backward else run.minors
        self.ends = [
            *entered.get("Entrance", [(self.up.entrance_k, self.up.bore_m)]),
            *entered.get("Exit", [(self.down.exit_k, self.down.bore_m)]),
        ]
        if run.total_k is not None:
            at_ends = min(run.total_k, plain)
            self.ends, self.along = [(at_ends, run.bore)], [(run.total_k - at_ends, run.bore)]
        on_run = lambda held: sum(k * ratio(run.bore, own) for k, own in held)
        self.along_k = on_run(self.along)
        # The head of a joint is the energy line: the velocity head rides on through it.
        ends = on_run(self.ends) + (self.down.turned == "joint")
        self.mouths_k = min(ends, PLAIN_ENDS_K)
        self.mouths_k_full = ends - self.mouths_k
        self.alpha = min(ends, 1.0)

    # --- the full run

    def loss(self, q):
        """Head lost by the full run."""
        run, nu, g = self.run, self.run.wall.nu, self.g
        wall = run.wall.slope(q / laws.area(run.bore), run.bore) * run.length
        held = self.ends + self.along
        sits = sum(place.loss(q) for place in self.placed)
        return wall + sum(laws.minor(k, own, q, nu, g) for k, own in held) + sits + self.full_only(q)

    def full_only(self, q):
        """Valves, equipment and a pump that stands still, which always run full."""
        run = self.run
        a, b = run.equipment
        k = run.valves_k + self.standing_k
        return laws.minor(k, run.bore, q, run.wall.nu, self.g) + (a + b * q + laws.LINEAR) * q

    def outlet_over_lip(self, q):
        """Height of the grade over the lip of an outlet in air, of a run that is full."""
        if self.down.turned != "horizontal" or self.walked:
            return 0.0
        return (laws.critical_depth(q, self.down.bore_m, self.g) + self.down.bore_m) / 2

    def mouth_over(self, at):
        """The same of one that is walked, one a flow."""
        if self.down.turned != "horizontal":
            return 0.0
        return at.critical if self.marched else (at.critical + self.down.bore_m) / 2

    def driven(self, q):
        """Loss less gain, over what it is at rest."""
        gain = self.curve(0.0) - self.curve(q) if self.curve else 0.0
        return self.loss(q) + gain

    def duties(self):
        """Flows at which a running pump is looked at closely."""
        given = self.run.pump["curve"] if self.curve else {}
        most = max((p["flow_m3_s"] for p in given.get("points", [])), default=0.0)
        return np.linspace(0, 2 * most, 121)[1:] if most else ()

    @functools.cached_property
    def lift(self):
        """Head that the pump adds at rest; below 0 it stands against this direction."""
        return (self.curve(0.0) if self.curve else 0.0) - self.held_m

    # --- the march

    def slope(self, speed, bore):
        """S_f in a section: the wall on 4R and what stands along the run."""
        run = self.run
        along = self.along_k / run.length if run.length else 0.0
        return run.wall.slope(speed, bore) + along * speed**2 / (2 * self.g)

    def gained(self, q):
        """What a pump adds less than at rest."""
        return self.curve(0.0) - self.curve(q) if self.curve else 0.0

    def base(self, layout):
        """A level downstream from which on it counts, or the lowest that there is."""
        if math.isfinite(self.outlet_m):
            return self.outlet_m
        part = layout.parts[self.down.at]
        return part["floor_m"] if "floor_m" in part else part["level_m"]


def refuse_strangers(given):
    if given["pipe"] == "open":
        raise Refused("a run without a pipe")
    if given.get("siphon_break"):
        raise Refused("a siphon break")


def pipe(given, layout):
    """Bore and wall."""
    (word, pipe), = given["pipe"].items()
    if word == "own":
        bore, rough, c = pipe["bore_m"], 1.5e-6, 150.0
    else:
        bore, rough, c = catalogue.pipe(pipe["family"], pipe["size"])
    rough = rough if pipe.get("roughness_m") is None else pipe["roughness_m"]
    c = pipe.get("hazen_williams_c") or c
    nu, g = layout.viscosity, layout.gravity
    if given.get("friction_factor") is not None:
        return bore, laws.FixedFactor(given["friction_factor"], nu, g)
    if (given.get("friction") or layout.friction) == "hazen_williams":
        return bore, laws.HazenWilliams(c, layout.hazen_williams_k, nu, g)
    return bore, laws.Wall(rough, nu, g)
