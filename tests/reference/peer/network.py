"""A whole layout as numbers: flows of all runs, and what each node lets out, from the levels."""

import math

import numpy as np

import grade
import tables
from run import Air

#: Levels over the outlet of a walked run, as shares of its bore, at which it is looked at: level 0 is a free outlet.
SHARES = np.linspace(0, 1, 17)
#: Levels from the crown of the outlet to the highest crown; above that the whole run is full.
ABOVE = 12
#: Steps between two of them at which it is kept what holds a trickle back.
FINE = 24
#: Flows at which it is, in √g·D^2.5: closest where runs fill.
MARCHED_FLOWS = np.concatenate([np.geomspace(1e-4, 0.2, 14)[:-1], np.geomspace(0.2, 3, 40), [4, 6, 10]])
FADE_M = 0.005


class Network:
    """Directions of all runs side by side. `walls` is "tall" or "built"; `on` the ids of runs whose pump runs,
    `primed` the chains that are primed."""

    def __init__(self, layout, on, walls, cache, primed=frozenset()):
        self.layout, self.walls = layout, walls
        self.nv, self.nj = len(layout.vessels), len(layout.joint_ids)
        self.n = self.nv + self.nj
        self.table, self.directions, self.cache = tables.Table(), [], cache
        pumped = layout.chains.pumped(on)
        for number, run in enumerate(layout.runs):
            chain = layout.chains.of[number]
            air = Air(run.id in on, chain in pumped, chain in primed, layout.beyond[number])
            for backward in (False, True):
                law = run.direction(backward, air)
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
        self.walked = of(lambda l: l.walked).astype(bool)
        own_lip = of(lambda l: not l.walked and l.down.turned == "horizontal").astype(bool)
        self.lipped = np.flatnonzero(own_lip)
        self.at_rest = of(lambda l: l.outlet_over_lip(0.0))[self.lipped]
        # The lip is part of the full law where nothing but its height counts.
        self.full_lip = np.where(self.walked | own_lip, -np.inf, self.lip)
        self.walk = np.flatnonzero(self.walked)
        self.inlet_rows = np.array([self.inlet(laws[k]) for k in self.limited], int)
        self.full_rows = np.array([self.full(law) for law in laws], int)
        self.lip_rows = np.array([self.own_lip(laws[k]) for k in self.lipped], int)
        walked = [laws[k] for k in self.walk]
        self.bores = np.array([law.bore for law in walked])
        self.bases = np.array([law.base(self.layout) for law in walked])
        tops = np.array([top(law) for law in walked])
        self.tall = np.maximum(tops - self.bases, 0.0)
        self.sills = np.array([self.sill(law, *pair) for law, pair in zip(walked, zip(self.bases, self.tall))])
        self.walk_rows = np.zeros((len(self.walk), len(SHARES) + ABOVE), int)
        self.built = np.zeros(len(self.walk), bool)
        for place, k in enumerate(self.walk):
            self.walk_rows[place] = self.kept(laws[k], "free", lambda: self.free_walk(laws[k], self.bases[place]))
        self.shift = {name: np.zeros(len(laws)) for name in ("inlet", "full", "lip", "walk")}
        self.fixed = np.array(self.layout.fixed_levels)

    # --- rows of the table, kept from one network of a layout to the next

    def kept(self, law, what, make):
        key = (law.run.id, law.backward, what, law.air.key())
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
        key = (law.run.id, law.backward, "sections", law.air.key())
        if key not in self.cache:
            flows = MARCHED_FLOWS * math.sqrt(law.g) * law.bore**2.5
            self.cache[key] = grade.Sections(law, np.unique([*flows, *law.duties()]))
        return self.cache[key]

    def sill(self, law, base, tall):
        """What holds a trickle back, at levels closer than those of the rows."""
        places = np.arange((len(SHARES) + ABOVE - 1) * FINE + 1) / FINE
        return grade.held_back(law, level_at(places, base, law.bore, tall))

    def free_walk(self, law, base):
        at = self.sections(law)
        heads = grade.Walk(law, at, np.full(len(at.flows), base)).head() + self.gained(law, at.flows)
        return tables.row(heads - grade.held_back(law, np.array([base]))[0], at.flows)

    def gained(self, law, flows):
        return np.array([law.gained(q) for q in flows])

    def drowned_walk(self, place):
        """Rows for all levels over the outlet, when the first of them is asked for."""
        law = self.directions[self.walk[place]][2]
        key = (law.run.id, law.backward, "drowned", law.air.key())
        if key not in self.cache:
            at = self.sections(law)
            many = len(SHARES) + (ABOVE if self.tall[place] > 0 else 0)
            levels = level_at(np.arange(1, many), self.bases[place], law.bore, self.tall[place])
            heads = grade.Walk(law, at.repeated(len(levels)), np.repeat(levels, len(at.flows))).head()
            heads = heads.reshape(len(levels), -1) + self.gained(law, at.flows)
            rests = grade.held_back(law, levels)
            made = [tables.row(h - r, at.flows) for h, r in zip(heads, rests)]
            self.cache[key] = made + [made[-1]] * (len(SHARES) + ABOVE - 1 - len(made))
        for column, row in enumerate(self.cache[key], 1):
            self.walk_rows[place, column] = self.table.add(row)
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
        if len(self.walk):
            yield self.walk_terms(up, down)

    def places(self, down):
        """Where levels downstream are among those that were looked at, how fast that moves, and what stands over
        the highest."""
        over, bores, tall = down - self.bases, self.bores, np.maximum(self.tall, 1e-12)
        last, steps = len(SHARES) - 1, len(SHARES) + ABOVE - 1
        within = over / bores * last
        above = last + (over - bores) / tall * ABOVE
        low = over < bores
        at = np.where(low, within, np.where(self.tall > 0, above, steps))
        rate = np.where(low, last / bores, np.where(self.tall > 0, ABOVE / tall, 0.0))
        inside = (at > 0) & (at < steps)
        beyond = np.maximum(over - bores - self.tall, 0.0)
        return np.clip(at, 0, steps), np.where(inside, rate, 0.0), beyond

    def held(self, at, rate, beyond):
        """Level upstream at which water just begins to pass, and how fast it rises with the level downstream."""
        fine = at * FINE
        low = np.minimum(fine.astype(int), self.sills.shape[1] - 2)
        part, row = fine - low, np.arange(len(at))
        a, b = self.sills[row, low], self.sills[row, low + 1]
        slope = np.where(beyond > 0, 1.0, (b - a) * FINE * rate)
        return a + part * (b - a) + beyond, slope

    def walk_terms(self, up, down):
        """A walked run, between the two levels downstream at which it was looked at."""
        k = self.walk
        at, rate, beyond = self.places(down[k])
        held, held_slope = self.held(at, rate, beyond)
        for place in np.flatnonzero((at > 0) & ~self.built):
            if up[k[place]] + self.lift[k[place]] > held[place]:
                self.drowned_walk(place)
        low = np.minimum(at.astype(int), self.walk_rows.shape[1] - 2)
        part, place = at - low, np.arange(len(k))
        head = up[k] - held + self.lift[k] + self.shift["walk"][k]
        q0, s0 = self.table.look(self.walk_rows[place, low], head)
        q1, s1 = self.table.look(self.walk_rows[place, low + 1], head)
        q, s = q0 + part * (q1 - q0), s0 + part * (s1 - s0)
        return "walk", k, q, s, (q1 - q0) * rate - s * held_slope

    def driving(self, unknown):
        """Head by which every direction stands open; below 0 it is closed by so much."""
        h = self.levels(unknown)
        up, down = h[self.up], h[self.down]
        head = up - np.maximum(down, self.full_lip) + self.lift
        head[self.limited] = np.minimum(head, up - self.draws_over)[self.limited]
        k = self.lipped
        head[k] = np.minimum(head[k], up[k] - self.lip[k] + self.lift[k] - self.at_rest)
        k = self.walk
        if len(k):
            held, _ = self.held(*self.places(down[k]))
            head[k] = np.minimum(head[k], up[k] + self.lift[k] - held)
        return head

    def walked_flow(self, unknown, k):
        """Flow and slope of the walked law of a direction, whether it holds the flow or not."""
        h = self.levels(unknown)
        _, which, q, s, _ = self.walk_terms(h[self.up], h[self.down])
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


def top(law):
    """Level from which on the whole run is full, over the crown of its outlet; that crown where nothing is higher."""
    inverts = [z for leg in law.legs for z in (leg.top_m, leg.foot_m)] + [p.invert_m for p in law.points]
    return max(inverts, default=law.outlet_m)


def level_at(places, base, bore, tall):
    """Levels downstream at places of the table: through the bore of the outlet, then up to the highest crown."""
    last = len(SHARES) - 1
    places = np.asarray(places, float)
    return base + bore * np.minimum(places, last) / last + tall * np.maximum(places - last, 0) / ABOVE
