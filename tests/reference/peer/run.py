"""A run of a layout, and the head that each of its two directions needs by flow."""

import functools
import math

import numpy as np

import catalogue
import laws
import route
from ends import joint_end, opening_end
from refused import Refused

PLAIN_ENDS_K = 1.5


def ratio(bore, own):
    """What K on another bore counts on the run's."""
    return (bore / own) ** 4


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
        self.length = route.length(self.way) if length is None else length
        self.check = None if given.get("check_valve_failed") else given.get("check_valve")
        self.valves_k, self.shut = self.valves(given)
        self.entered = {}
        self.fittings(given)
        parts = [e for e in given.get("equipment") or [] if not e.get("out")]
        sheets = [laws.equipment(e["clean"]) for e in parts]
        self.equipment = tuple(map(sum, zip((0.0, 0.0), *sheets)))
        self.total_k = given.get("total_k")
        self.pump = given.get("pump")
        if self.pump and self.pump.get("float"):
            raise Refused("a float switch")
        self.curve = laws.pump_curve(self.pump) if self.pump else None

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
            total += k
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
            if row["place"] == "Along":
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

    def direction(self, backward, pump_runs):
        """The law of one direction, or none where nothing passes."""
        up, down = (self.last, self.first) if backward else (self.first, self.last)
        passes = {None: True, "forward": not backward, "backward": backward}[self.check]
        if self.shut or not passes or not up.draws:
            return None
        return Direction(self, up, down, backward, pump_runs)


class Direction:
    """One direction of a run: head needed upstream by flow, full or marched up its profile."""

    def __init__(self, run, up, down, backward, pump_runs):
        self.run, self.up, self.down, self.g, self.bore = run, up, down, run.g, run.bore
        pushes = run.pump and (run.pump.get("pushes", "forward") == "backward") == backward
        self.running = bool(run.pump and pump_runs)
        self.curve = run.curve if self.running and pushes else None
        self.held_m = run.curve(0.0) if self.running and not pushes else 0.0
        self.standing_k = run.pump.get("stopped_k", 0.0) if run.pump and not pump_runs else 0.0
        way = run.way[::-1] if backward else run.way
        self.legs = route.legs(way, run.length, up.turned)
        self.outlet_m = way[-1][2]
        self.outlet_down = down.turned == "down"
        begin = way[1] if up.turned == "unknown" else way[0]
        siphon = any(p[2] > begin[2] + 1e-6 for p in way[1:-1])
        self.marched = not self.running and down.turned in ("horizontal", "down") and not siphon
        self.share_ends(backward)

    def share_ends(self, backward):
        """K of the two ends, on the run's bore, and what is along the run."""
        run, entered = self.run, self.run.entered
        plain = self.up.entrance_k + self.down.exit_k
        self.along = run.minors_back if backward else run.minors
        self.ends = [
            *entered.get("Entrance", [(self.up.entrance_k, self.up.bore_m)]),
            *entered.get("Exit", [(self.down.exit_k, self.down.bore_m)]),
        ]
        if run.total_k is not None:
            at_ends = min(run.total_k, plain)
            self.ends, self.along = [(at_ends, run.bore)], [(run.total_k - at_ends, run.bore)]
        on_run = lambda held: sum(k * ratio(run.bore, own) for k, own in held)
        ends, self.along_k = on_run(self.ends), on_run(self.along)
        self.ends_k = min(ends, PLAIN_ENDS_K)
        self.ends_k_full = ends - self.ends_k
        self.alpha = min(ends, 1.0)

    # --- the full run

    def loss(self, q):
        """Head lost by the full run."""
        run, nu, g = self.run, self.run.wall.nu, self.g
        wall = run.wall.slope(q / laws.area(run.bore), run.bore) * run.length
        held = self.ends + self.along
        return wall + sum(laws.minor(k, own, q, nu, g) for k, own in held) + self.full_only(q)

    def full_only(self, q):
        """Valves, equipment and a pump that stands still, which always run full."""
        run = self.run
        a, b = run.equipment
        k = run.valves_k + self.standing_k
        return laws.minor(k, run.bore, q, run.wall.nu, self.g) + (a + b * q + laws.LINEAR) * q

    def outlet_over_lip(self, q):
        """Height of the grade over the lip of an outlet in air."""
        if self.down.turned != "horizontal" or self.marched:
            return 0.0
        depth = laws.critical_depth(q, self.down.bore_m, self.g)
        return (depth + self.down.bore_m) / 2 if self.running else depth

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

    def held_back(self, over):
        """Level upstream at which water just begins to pass, for a level over the outlet."""
        line = invert = self.outlet_m
        line += max(over, 0.0)
        for leg in self.legs:
            invert += leg.rise
            if not leg.plumb:
                line = max(line, invert - leg.rise, invert)
        return line


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
