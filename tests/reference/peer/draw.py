"""Draws layouts at random that have what air rules in: humps, dips, joints, vents, valves along a run, pumps over a hill.

    venv/bin/python peer/draw.py FOLDER [--first 0] [--count 300]

One file a seed, `air-000000-hump.json` and so on; the same seed draws the same layout.
"""

import argparse
import json
import pathlib
import random

BORES_M = (0.0204, 0.0272, 0.0326, 0.0409, 0.0525, 0.0603, 0.0779, 0.1036)


class Sheet:
    """A layout in the making."""

    def __init__(self, seed):
        self.dice = random.Random(seed)
        self.vessels, self.joints, self.fixed, self.runs = [], [], [], []

    def between(self, low, high, step=0.001):
        return round(round(self.dice.uniform(low, high) / step) * step, 6)

    def one(self, *choices):
        return self.dice.choice(choices)

    def chance(self, share):
        return self.dice.random() < share

    def bore(self, least=0):
        return self.dice.choice(BORES_M[least:])

    def flow(self, bore, most=0.5):
        """A flow that a bore may be asked for: up to a share of √g·D^2.5, mostly small."""
        share = most * self.dice.random() ** 1.5
        return float(f"{max(share, 0.004) * 9.80665**0.5 * bore**2.5:.4g}")

    def vessel(self, name, floor, tall, **more):
        area = self.between(0.2, 4.0, 0.01)
        fill = round(floor + self.between(0.05, 0.8) * tall, 4)
        row = {"id": name, "shape": {"prism": {"area_m2": area}}, "floor_m": round(floor, 4),
               "rim_m": round(floor + tall, 4), "fill_m": fill, **more}
        self.vessels.append(row)
        return row

    def level(self, name, level, x):
        self.fixed.append({"id": name, "role": "waste", "level_m": round(level, 4), "place": {"x_m": x, "y_m": 0.0}})

    def joint(self, name, elevation, x, **more):
        place = {"x_m": round(x, 3), "y_m": 0.0}
        self.joints.append({"id": name, "elevation_m": round(elevation, 4), "place": place, **more})

    def run(self, name, ends, bore, **more):
        (start, opening), (stop, out) = ends
        end = lambda at, kind: {"at": at} if kind is None else {"at": at, "opening": kind}
        pipe = {"own": {"bore_m": bore, "roughness_m": self.one(1.5e-6, 1.5e-6, 3e-5, 2e-4)}}
        row = {"id": name, "from": end(start, opening), "to": end(stop, out), "pipe": pipe, **more}
        self.runs.append({k: v for k, v in row.items() if v not in (None, [])})
        return self.runs[-1]

    def layout(self, title):
        water = {"kinematic_viscosity_m2_s": self.one(1e-6, 1.3e-6), "density_kg_m3": 1000.0}
        kinds = {"vessels": self.vessels, "joints": self.joints, "fixed": self.fixed, "runs": self.runs}
        return {"fallwright": 1, "title": title, "water": water, **kinds}

    # --- pieces

    def inlet(self, height):
        """An opening that lets water out of a vessel."""
        return self.one(
            {"side_hole": {"invert_m": height}}, {"side_hole": {"invert_m": height}}, {"floor": {"lip_m": height}},
            {"upstand": {"crest_m": height}}, {"mouth": {"lip_m": height, "turned": self.one("horizontal", "down")}},
        )

    def outlet(self, height):
        return self.one(
            {"mouth": {"lip_m": height, "turned": "horizontal"}}, {"mouth": {"lip_m": height, "turned": "down"}},
            {"mouth": {"lip_m": height, "turned": "horizontal"}}, {"submerged": {"lip_m": height}},
            {"submerged": {}}, {"mouth": {"lip_m": height, "turned": "up"}},
        )

    def corners(self, ends, stop_x, vents=0.15):
        """Corners along the way between two heights, with humps and dips."""
        start, stop = ends
        count = self.dice.randint(1, 4)
        places = sorted(self.between(0.02, 0.98) * stop_x for _ in range(count))
        made = []
        for x in places:
            straight = start + (stop - start) * x / stop_x
            z = round(straight + self.one(0.0, self.between(-0.15, 0.25), self.between(-0.5, 0.5)), 4)
            corner = {"x_m": round(x, 3), "y_m": 0.0, "z_m": z}
            if self.chance(0.2):  # a leg that stands
                made.append({**corner, "z_m": round(z - self.between(-0.4, 0.4), 4)})
            if self.chance(vents):
                corner["vented"] = True
            made.append(corner)
        return made

    def place(self, length):
        """Somewhere along a run, at one of its ends, or nowhere."""
        return self.one({"at_m": self.between(0.0, 1.0) * length}, {"near": self.one("from", "to")}, {})

    def losses(self, length):
        """Valves, fittings and a filter, each somewhere."""
        found = {}
        if self.chance(0.7):
            k = self.between(0.2, 40.0, 0.1)
            found["valves"] = [{"kind": "gate valve of the shed", "k": k, **self.place(length)}]
        if self.chance(0.4):
            found["fittings"] = [{"kind": "bend of the shed", "k": self.between(0.2, 2.0), "count": self.one(1, 2, 4),
                                  **self.place(length)}]
        if self.chance(0.3):
            found["equipment"] = [{"name": "Filter", "clean": {"terms": {"a": self.between(0, 60), "b": self.between(0, 2e4, 1)}},
                                   **self.place(length)}]
        return found

    def pump(self, name, lift, flow):
        head = self.between(1.15, 2.5) * lift
        steep = (head - 0.85 * lift) / flow**2
        return {"id": name, "curve": {"power": {"h0_m": round(head, 4), "c": float(f"{steep:.5g}"), "n": 2}}}


def drain(sheet, vents, losses):
    """A tank that drains over humps and dips."""
    bore, far = sheet.bore(1), sheet.between(2.0, 15.0, 0.01)
    sheet.vessel("tank", -0.6, 3.0, make_up_m3_s=sheet.flow(bore))
    low = -sheet.between(0.0, 0.6)
    sheet.level("ditch", low + sheet.one(-1.0, sheet.between(-0.1, 0.5)), far)
    route = sheet.corners((0.0, low), far, vents)
    length = sheet.one(None, round(far * 1.2, 3)) if not losses else round(far * 1.15, 3)
    more = sheet.losses(length) if losses else {}
    return sheet.run("drain", (("tank", sheet.inlet(0.0)), ("ditch", sheet.outlet(low))), bore, route=route,
                     length_m=length, **more)


def hump(sheet):
    drain(sheet, 0.0, False)


def vent(sheet):
    drain(sheet, 0.6, False)


def valve(sheet):
    drain(sheet, 0.1, True)


def siphon(sheet):
    """A pipe up, across and down between two waters."""
    bore, across = sheet.bore(), sheet.between(0.3, 6.0)
    sheet.vessel("tank", -0.4, 3.0, make_up_m3_s=sheet.flow(bore, 0.9))
    if sheet.chance(0.5):
        sheet.level("pond", sheet.between(-0.3, 0.6), across)
        there = "pond"
    else:
        there = sheet.vessel("bed", -0.5, 1.6, place={"x_m": across, "y_m": 0.0})["id"]
        sheet.run("over", (("bed", {"upstand": {"crest_m": sheet.between(-0.2, 0.7)}}), ("ditch", {"submerged": {}})),
                  0.1036, length_m=2.0)
        sheet.level("ditch", -1.5, 0.0)
    top = sheet.between(0.2, 1.0)
    slope = sheet.one(0.0, sheet.between(-0.1, 0.1))
    route = [{"x_m": 0.0, "y_m": 0.0, "z_m": top}, {"x_m": across, "y_m": 0.0, "z_m": round(top + slope, 4)}]
    end = lambda z: sheet.one({"mouth": {"lip_m": z, "turned": "down"}}, {"submerged": {"lip_m": z}}, {"submerged": {}})
    sheet.run("over-the-top", (("tank", end(0.0)), (there, end(sheet.between(-0.3, 0.2)))), bore, route=route,
              starts_primed=sheet.chance(0.3) or None)


def joints(sheet):
    """Drains of one to three tanks that meet at joints on the way to a ditch."""
    bore = sheet.bore(3)
    count, reach = sheet.dice.randint(1, 3), sheet.between(1.0, 5.0, 0.01)
    height, before = 0.0, None
    for number in range(count):
        tank, tee = f"tank-{number}", f"tee-{number}"
        own = sheet.bore(2)
        height -= sheet.one(0.0, sheet.between(0.0, 0.2))
        top = round(height + sheet.between(-0.05, 0.6), 4)
        sheet.vessel(tank, top - 0.5, 2.5, make_up_m3_s=sheet.flow(own, 0.35), place={"x_m": number * reach, "y_m": 2.0})
        sheet.joint(tee, height, number * reach, **({"vented": True} if sheet.chance(0.15) else {}))
        route = sheet.corners((top, height), 2.0, 0.1) if sheet.chance(0.3) else []
        sheet.run(f"branch-{number}", ((tank, sheet.inlet(top)), (tee, None)), own, route=route,
                  length_m=None if route else sheet.one(None, 3.5))
        if before:
            sheet.run(f"main-{number}", ((before, None), (tee, None)), bore)
        before = tee
    low = round(height - sheet.between(0.0, 0.4), 4)
    sheet.level("ditch", low + sheet.one(-1.0, sheet.between(-0.1, 0.4)), count * reach)
    route = sheet.corners((height, low), reach, 0.1) if sheet.chance(0.3) else []
    for corner in route:
        corner["x_m"] = round(corner["x_m"] + (count - 1) * reach, 3)
    sheet.run("main", ((before, None), ("ditch", sheet.outlet(low))), bore, route=route)


def sump(sheet):
    """One that holds what the rest takes, mostly."""
    row = sheet.vessel("sump", -1.0, 1.2)
    row["fill_m"], row["shape"] = sheet.between(-0.4, 0.1), {"prism": {"area_m2": sheet.between(3.0, 9.0)}}


def hill(sheet):
    """A pump that lifts over a hill to a tank that drains back."""
    bore, far = sheet.bore(), sheet.between(2.0, 12.0, 0.01)
    sump(sheet)
    sheet.vessel("tank", 0.0, 1.5, place={"x_m": far, "y_m": 0.0})
    sheet.vessels[-1]["fill_m"] = 0.0
    crest, end = sheet.between(0.1, 0.6), sheet.between(0.05, 1.2)
    flow = sheet.flow(bore, 0.9)
    pump = {**sheet.pump("pump", max(end + 1.0, 0.8), flow)}
    route = sheet.corners((-0.9, end), far, 0.15)
    sheet.run("lift", (("sump", sheet.one({"submerged": {}}, {"mouth": {"lip_m": -0.9, "turned": "down"}})),
                       ("tank", sheet.outlet(end))), bore, route=route, pump=pump,
              check_valve=sheet.one(None, "forward"))
    sheet.run("back", (("tank", {"upstand": {"crest_m": crest}}), ("sump", sheet.outlet(sheet.between(-0.8, -0.1)))),
              sheet.dice.choice(BORES_M[4:]), length_m=round(far * 1.2, 3))


def returns(sheet):
    """A pump that pushes through joints to two or three ends, up and down, some with a valve."""
    bore, far = sheet.bore(2), sheet.between(1.0, 5.0, 0.01)
    sump(sheet)
    flow = sheet.flow(bore, 0.7)
    tee = sheet.between(-0.5, 1.2)
    sheet.joint("tee-0", tee, far)
    route = sheet.corners((-0.9, tee), far, 0.0) if sheet.chance(0.4) else []
    sheet.run("lift", (("sump", {"submerged": {}}), ("tee-0", None)), bore, route=route, pump=sheet.pump("pump", 1.8, flow),
              check_valve=sheet.one(None, "forward"))
    at = "tee-0"
    for number in range(sheet.dice.randint(1, 3)):
        bed, floor = f"bed-{number}", sheet.between(-0.2, 0.6)
        x = far * (number + 2)
        sheet.vessel(bed, floor, 1.0, place={"x_m": round(x, 3), "y_m": 0.0})
        sheet.vessels[-1]["fill_m"] = round(floor, 4)
        if number and sheet.chance(0.5):
            sheet.joint(f"tee-{number}", tee + sheet.one(0.0, sheet.between(-0.4, 0.4)), x - far)
            sheet.run(f"on-{number}", ((at, None), (f"tee-{number}", None)), bore)
            at = f"tee-{number}"
        end = round(floor + sheet.between(0.05, 1.1), 4)
        length = round(2 * far, 3)
        sheet.run(f"return-{number}", ((at, None), (bed, sheet.outlet(end))), sheet.bore(1), length_m=length,
                  **(sheet.losses(length) if sheet.chance(0.5) else {}))
        sheet.run(f"back-{number}", ((bed, {"upstand": {"crest_m": round(floor + sheet.between(0.05, 0.5), 4)}}),
                  ("sump", {"mouth": {"lip_m": sheet.between(-0.8, -0.1), "turned": "down"}})), 0.0779, length_m=2.5)


KINDS = (hump, siphon, joints, vent, valve, hill, returns)


def drawn(seed):
    """Name and layout of a seed."""
    kind = KINDS[seed % len(KINDS)]
    sheet = Sheet(seed)
    kind(sheet)
    return f"air-{seed:06}-{kind.__name__}", sheet.layout(f"Drawn at random, {seed}: {kind.__name__}")


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("folder", type=pathlib.Path)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--count", type=int, default=300)
    given = parser.parse_args()
    given.folder.mkdir(parents=True, exist_ok=True)
    for seed in range(given.first, given.first + given.count):
        name, layout = drawn(seed)
        (given.folder / f"{name}.json").write_text(json.dumps(layout, indent=1) + "\n")


if __name__ == "__main__":
    main()
