"""A whole layout as numbers: flows of all runs, and what each node lets out, from the levels."""

import math

import numpy as np

import grade
import tables

#: Levels over the outlet of a marched run, as shares of its bore, at which it is integrated.
SHARES = np.linspace(0, 1, 17)
#: Flows at which it is, in √g·D^2.5: closest where runs fill.
MARCHED_FLOWS = np.concatenate([np.geomspace(1e-4, 0.2, 14)[:-1], np.geomspace(0.2, 3, 40), [4, 6, 10]])
FADE_M = 0.005


class Network:
    """Directions of all runs side by side. `walls` is "tall" or "built"; `pumps` the ids that run."""

    def __init__(self, layout, pumps, walls, cache):
        self.layout, self.walls = layout, walls
        self.nv, self.nj = len(layout.vessels), len(layout.joint_ids)
        self.n = self.nv + self.nj
        self.table, self.directions, self.cache = tables.Table(), [], cache
        for number, run in enumerate(layout.runs):
            for backward in (False, True):
                law = run.direction(backward, run.id in pumps)
                if law:
                    self.directions.append((number, backward, law))
        self.arrays()

    def arrays(self):
        number = self.layout.number
        laws = [law for _, _, law in self.directions]
        of = lambda get: np.array([get(law) for law in laws])
        self.run_of = np.array([n for n, _, _ in self.directions], int)
        self.sign = np.array([-1.0 if b else 1.0 for _, b, _ in self.directions])
        self.up, self.down = (of(lambda l: number[l.up.at]).astype(int), of(lambda l: number[l.down.at]).astype(int))
        self.draws_over = of(lambda l: l.up.draws_over_m)
        self.lip = of(lambda l: l.down.lip_m)
        self.lift = of(lambda l: l.lift)
        self.limited = np.flatnonzero(np.isfinite(self.draws_over))
        self.marched = of(lambda l: l.marched).astype(bool)
        own_lip = of(lambda l: not l.marched and l.down.turned == "horizontal").astype(bool)
        self.lipped = np.flatnonzero(own_lip)
        self.at_rest = of(lambda l: l.outlet_over_lip(0.0))[self.lipped]
        # The lip is part of the full law where nothing but its height counts.
        self.full_lip = np.where(self.marched | own_lip, -np.inf, self.lip)
        self.march = np.flatnonzero(self.marched)
        self.inlet_rows = np.array([self.inlet(laws[k]) for k in self.limited], int)
        self.full_rows = np.array([self.full(law) for law in laws], int)
        self.lip_rows = np.array([self.own_lip(laws[k]) for k in self.lipped], int)
        marched = [laws[k] for k in self.march]
        self.march_bores, self.outlets, self.sills = (
            np.array([get(law) for law in marched])
            for get in (lambda l: l.bore, lambda l: l.outlet_m, lambda l: l.held_back(0.0))
        )
        self.march_rows = np.zeros((len(self.march), len(SHARES)), int)
        self.built = np.zeros(len(self.march), bool)
        for place, k in enumerate(self.march):
            self.march_rows[place] = self.kept(laws[k], "free", lambda: self.free_march(laws[k]))
        self.shift = {name: np.zeros(len(laws)) for name in ("inlet", "full", "lip", "march")}
        self.fixed = np.array(self.layout.fixed_levels)

    # --- rows of the table, kept from one network of a layout to the next

    def kept(self, law, what, make):
        key = (law.run.id, law.up is law.run.last, what, law.running if what in ("full", "lip") else None)
        if key not in self.cache:
            self.cache[key] = make()
        return self.table.add(self.cache[key])

    def inlet(self, law):
        return self.kept(law, "inlet", lambda: tables.of_law(law.up.inlet, law.up.bore_m, law.run.wall.nu))

    def full(self, law):
        return self.kept(law, "full", lambda: tables.of_law(law.driven, law.bore, law.run.wall.nu, law.duties()))

    def own_lip(self, law):
        rest = law.outlet_over_lip(0.0)
        head = lambda q: law.driven(q) + law.outlet_over_lip(q) - rest
        return self.kept(law, "lip", lambda: tables.of_law(head, law.bore, law.run.wall.nu, law.duties()))

    def sections(self, law):
        key = (law.run.id, law.up is law.run.last, "sections", None)
        if key not in self.cache:
            flows = MARCHED_FLOWS * math.sqrt(law.g) * law.bore**2.5
            self.cache[key] = grade.Sections(law, flows)
        return self.cache[key]

    def free_march(self, law):
        at = self.sections(law)
        heads = grade.head_needed(law, at, np.zeros(len(at.flows)))
        return tables.row(heads - law.held_back(0.0), at.flows)

    def drowned_march(self, place):
        """Rows for all levels over the outlet, when the first of them is asked for."""
        law = self.directions[self.march[place]][2]
        key = (law.run.id, law.up is law.run.last, "drowned", None)
        if key not in self.cache:
            at = self.sections(law)
            levels = SHARES[1:] * law.bore
            many = at.repeated(len(levels))
            heads = grade.head_needed(law, many, np.repeat(levels, len(at.flows)))
            heads = heads.reshape(len(levels), -1)
            held = [law.held_back(level) for level in levels]
            self.cache[key] = [tables.row(h - r, at.flows) for h, r in zip(heads, held)]
        for column, row in enumerate(self.cache[key], 1):
            self.march_rows[place, column] = self.table.add(row)
        self.built[place] = True

    # --- flows

    def levels(self, unknown):
        return np.concatenate([unknown, self.fixed])

    def terms(self, unknown):
        """Flows and slopes of every law that may hold a direction, as (what, which, q, dq/dup, dq/ddown)."""
        h = self.levels(unknown)
        up, down = h[self.up], h[self.down]
        k = self.limited
        q, s = self.table.look(self.inlet_rows, up[k] - self.draws_over[k] + self.shift["inlet"][k])
        yield "inlet", k, q, s, 0 * s
        lip = self.full_lip
        drowned = down > lip
        q, s = self.table.look(self.full_rows, up - np.maximum(down, lip) + self.lift + self.shift["full"])
        yield "full", np.arange(len(up)), q, s, np.where(drowned, -s, 0.0)
        k = self.lipped
        head = up[k] - self.lip[k] + self.lift[k] - self.at_rest + self.shift["lip"][k]
        q, s = self.table.look(self.lip_rows, head)
        yield "lip", k, q, s, 0 * s
        if len(self.march):
            yield self.march_terms(up, down)

    def march_terms(self, up, down):
        """A marched run, between the two levels downstream at which it was integrated."""
        k, bores = self.march, self.march_bores
        over = np.clip(down[k] - self.lip[k], 0, bores)
        for place in np.flatnonzero((over > 0) & ~self.built):
            if up[k[place]] > self.sills[place]:
                self.drowned_march(place)
        tail = self.outlets + over
        within = (over > 0) & (over < bores)
        held, held_slope = np.maximum(tail, self.sills), within & (tail > self.sills)
        at = over / bores * (len(SHARES) - 1)
        low = np.minimum(at.astype(int), len(SHARES) - 2)
        part, place = at - low, np.arange(len(k))
        head = up[k] - held + self.shift["march"][k]
        q0, s0 = self.table.look(self.march_rows[place, low], head)
        q1, s1 = self.table.look(self.march_rows[place, low + 1], head)
        q, s = q0 + part * (q1 - q0), s0 + part * (s1 - s0)
        across = (q1 - q0) * (len(SHARES) - 1) / bores * within
        return "march", k, q, s, across - s * held_slope

    def driving(self, unknown):
        """Head by which every direction stands open; below 0 it is closed by so much."""
        h = self.levels(unknown)
        up, down = h[self.up], h[self.down]
        head = up - np.maximum(down, self.full_lip) + self.lift
        head[self.limited] = np.minimum(head, up - self.draws_over)[self.limited]
        k = self.lipped
        head[k] = np.minimum(head[k], up[k] - self.lip[k] + self.lift[k] - self.at_rest)
        k = self.march
        over = np.clip(down[k] - self.lip[k], 0, self.march_bores)
        head[k] = np.minimum(head[k], up[k] - np.maximum(self.outlets + over, self.sills))
        return head

    def marched_flow(self, unknown, k):
        """Flow and slope of the marched law of a direction, whether it holds the flow or not."""
        h = self.levels(unknown)
        _, which, q, s, _ = self.march_terms(h[self.up], h[self.down])
        place = int(np.flatnonzero(which == k)[0])
        return q[place], s[place]

    def passing(self, unknown):
        """Flow of every direction with its slopes, and the law that holds it."""
        count = len(self.directions)
        flow, by_up, by_down = np.full(count, np.inf), np.zeros(count), np.zeros(count)
        held = np.empty(count, object)
        for what, k, q, s_up, s_down in self.terms(unknown):
            less = q < flow[k]
            chosen = k[less]
            flow[chosen], by_up[chosen], by_down[chosen] = q[less], s_up[less], s_down[less]
            held[chosen] = what
        return flow, by_up, by_down, held

    def run_flows(self, unknown):
        total = np.zeros(len(self.layout.runs))
        np.add.at(total, self.run_of, self.sign * self.passing(unknown)[0])
        return total

    def outflow(self, unknown):
        """Net flow out of every unknown node, and its matrix of slopes."""
        n = self.n
        size = n + len(self.fixed)
        flow, by_up, by_down, _ = self.passing(unknown)
        out, slopes = np.zeros(size), np.zeros((size, size))
        np.add.at(out, self.up, flow)
        np.add.at(out, self.down, -flow)
        np.add.at(slopes, (self.up, self.up), by_up)
        np.add.at(slopes, (self.up, self.down), by_down)
        np.add.at(slopes, (self.down, self.up), -by_up)
        np.add.at(slopes, (self.down, self.down), -by_down)
        self.sources(unknown, out, slopes)
        if self.walls == "built":
            self.spill(unknown, out, slopes)
        return out[:n], slopes[:n, :n]

    def sources(self, unknown, out, slopes):
        for i, q in enumerate(self.layout.sources):
            share = 1.0
            if q < 0 and i < self.nv:
                share = (unknown[i] - self.layout.vessels[i].floor) / FADE_M
                if 0 < share < 1:
                    slopes[i, i] -= q / FADE_M
                share = min(max(share, 0.0), 1.0)
            out[i] -= q * share

    def spill(self, unknown, out, slopes):
        for i, vessel in enumerate(self.layout.vessels):
            over = unknown[i] - vessel.rim
            if over > 0 and vessel.spill_factor:
                q, s = vessel.spill_factor * over**1.5, 1.5 * vessel.spill_factor * over**0.5
                out[i] += q
                slopes[i, i] += s
                if vessel.receiver is not None:
                    out[vessel.receiver] -= q
                    slopes[vessel.receiver, i] -= s
