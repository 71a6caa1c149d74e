"""Recompute the reference values that come from general libraries.

    python3 -m venv venv && venv/bin/pip install -r requirements.txt
    venv/bin/python make_reference.py            # writes computed.csv beside this file
    venv/bin/python make_reference.py --check    # compares instead of writing

Nothing here calls the program: every figure is made by another route (a library's own
formula, a root found by bisection, an area integrated strip by strip).
"""

import csv
import math
import sys
from pathlib import Path

import fluids
import numpy as np
from iapws import IAPWS95
from iapws.iapws08 import SeaWater
from scipy.integrate import quad, solve_ivp
from scipy.interpolate import PchipInterpolator
from scipy.optimize import brentq

G = 9.80665
HERE = Path(__file__).parent
HEADER = ["id", "group", "what", "inputs", "expected", "unit", "tolerance", "source", "how"]


def row(id, group, what, inputs, expected, unit, tolerance, source, how):
    text = "; ".join(f"{key}={value}" for key, value in inputs.items())
    return [id, group, what, text, f"{expected:.12g}", unit, tolerance, source, how]


def friction():
    for n, (re, rough) in enumerate(
        [(4e3, 0), (5e3, 1e-3), (2e4, 5e-5), (6e4, 1e-5), (3e5, 3e-3), (2e6, 1e-6), (1e8, 1e-5), (4e3, 0.05)]
    ):
        yield row(
            f"CF-{n + 1}", "friction", "Darcy factor, turbulent",
            {"re": f"{re:g}", "relative_roughness": f"{rough:g}"},
            fluids.friction.Colebrook(re, rough), "-", "1e-9 rel",
            "Colebrook (1939), constants 3.7 and 2.51", "computed with fluids 1.3.1",
        )
    for size, bore_in in [("1", 1.049), ("4", 4.026), ("8", 7.981)]:
        rough = 0.0018 / bore_in
        yield row(
            f"CK-FT-{size}", "fittings", f"fully turbulent factor of {size} in steel pipe",
            {"bore_in": bore_in}, fluids.friction.von_Karman(rough), "-", "1e-9 rel",
            "Crane TP-410, roughness 0.0018 in", "computed with fluids 1.3.1 (von Karman rough-wall factor)",
        )
    yield row(
        "CK-CON", "fittings", "K of a sudden step down in bore", {"from_m": 0.104, "to_m": 0.052},
        fluids.fittings.contraction_sharp(0.104, 0.052, method="Crane"), "-", "1e-9 rel",
        "Crane TP-410", "computed with fluids 1.3.1",
    )
    yield row(
        "CK-KV", "fittings", "K of a valve from its Kv", {"kv_m3_h": 42, "bore_m": 0.0525},
        fluids.Kv_to_K(42, 0.0525), "-", "0.2%",
        "definition of Kv", "computed with fluids 1.3.1 (which rounds the constant)",
    )


def chord(y, d):
    return 2 * math.sqrt(max(y * (d - y), 0.0))


def area(y, d):
    """Strips of the chord, in the angle so that the ends are smooth."""
    end = math.acos(1 - 2 * y / d)
    return quad(lambda a: d * d / 2 * math.sin(a) ** 2, 0, end, epsabs=0, epsrel=1e-13)[0]


def wetted(y, d):
    return d * math.acos(1 - 2 * y / d)


def circle():
    for n, (y, d) in enumerate([(0.001, 0.1), (0.02, 0.1), (0.05, 0.1), (0.09, 0.1), (0.1, 0.1)]):
        given = {"depth_m": y, "bore_m": d}
        how = "computed with scipy 1.17.1, strips integrated"
        yield row(f"CC-A-{n + 1}", "part-full", "wetted area", given, area(y, d), "m2", "1e-9 rel", "geometry", how)
        yield row(
            f"CC-R-{n + 1}", "part-full", "hydraulic radius", given, area(y, d) / wetted(y, d),
            "m", "1e-9 rel", "geometry", how,
        )


def critical(q, d):
    def excess(y):
        return math.log(q * q * chord(y, d) / (G * area(y, d) ** 3))

    return brentq(excess, 1e-7 * d, d * (1 - 1e-12), xtol=1e-15, rtol=1e-14)


def critical_depth():
    flows = [(1e-5, 0.104), (5e-4, 0.104), (2e-3, 0.104), (4e-3, 0.104), (8e-3, 0.104), (2e-2, 0.104), (0.3, 0.6)]
    for n, (q, d) in enumerate(flows):
        yield row(
            f"CY-{n + 1}", "part-full", "critical depth", {"flow_m3_s": q, "bore_m": d},
            critical(q, d), "m", "1e-8 rel", "Q^2 T = g A^3", "computed with scipy 1.17.1 (root)",
        )


def side_hole_head(y, d, k):
    return y + area(y, d) / (2 * chord(y, d)) * (1 + k)


def side_hole():
    d, co = 0.083, 0.6
    full = math.pi / 4 * d * d
    for n, (q, k) in enumerate([(2e-5, 0.5), (6e-4, 0.5), (2e-3, 0.5), (2e-3, 0.2)]):
        yield row(
            f"CS-H-{n + 1}", "openings", "head over the invert of a side hole",
            {"flow_m3_s": q, "bore_m": d, "orifice": co, "entrance_k": k},
            side_hole_head(critical(q, d), d, k), "m", "1e-8 rel",
            "critical depth with an entrance loss", "computed with scipy 1.17.1 (root)",
        )
    yield row(
        "CS-H-5", "openings", "head over the invert of a drowned side hole",
        {"flow_m3_s": 5.2e-3, "bore_m": d, "orifice": co, "entrance_k": 0.5},
        d / 2 + (5.2e-3 / (co * full)) ** 2 / (2 * G), "m", "1e-8 rel",
        "orifice on the head over the centre", "closed form",
    )
    for n, (k, c) in enumerate([(0.5, 0.6), (0.2, 0.6), (0.5, 0.65)]):

        def excess(y):
            q = math.sqrt(G * area(y, d) ** 3 / chord(y, d))
            return q - c * full * math.sqrt(2 * G * (side_hole_head(y, d, k) - d / 2))

        # The largest root: walk down from a nearly full hole.
        ys = d * (1 - np.geomspace(1e-9, 0.3, 4000))
        first = next(i for i, y in enumerate(ys) if excess(y) < 0)
        y = brentq(excess, ys[first], ys[first - 1], xtol=1e-16, rtol=1e-14)
        yield row(
            f"CS-X-{n + 1}", "openings", "head over bore at which a side hole drowns",
            {"bore_m": d, "orifice": c, "entrance_k": k}, side_hole_head(y, d, k) / d, "-", "1e-6 rel",
            "critical depth against orifice, largest crossing", "computed with scipy 1.17.1 (root)",
        )


def lip():
    for n, (q, d) in enumerate([(2e-4, 0.05), (6e-4, 0.104), (4e-3, 0.05)]):
        weir = (q / (2 / 3 * 0.6 * math.sqrt(2 * G) * math.pi * d)) ** (2 / 3)
        orifice = (q / (0.6 * math.pi / 4 * d * d)) ** 2 / (2 * G)
        yield row(
            f"CL-H-{n + 1}", "openings", "head over the lip of an upstand", {"flow_m3_s": q, "bore_m": d},
            max(weir, orifice), "m", "1e-8 rel", "weir round the lip, then orifice, both 0.6", "closed form",
        )


def pump():
    flows = np.array([0, 0.5e-3, 1.2e-3, 2.0e-3, 2.6e-3])
    heads = np.array([6.0, 5.8, 5.0, 3.4, 1.2])
    curve = PchipInterpolator(flows, heads)
    given = {f"q{i}_l_s": f"{1000 * q:g}" for i, q in enumerate(flows)} | {f"h{i}_m": h for i, h in enumerate(heads)}
    how = "computed with scipy 1.17.1 (PchipInterpolator)"
    source = "Fritsch & Butland 1984"
    for n, q in enumerate([0.2e-3, 0.9e-3, 1.7e-3, 2.5e-3]):
        inputs = given | {"flow_l_s": f"{1000 * q:g}"}
        yield row(f"CP-H-{n + 1}", "pumps", "head on a curve through five points", inputs, float(curve(q)), "m", "1e-9 rel", source, how)
    for n, q in enumerate([0.9e-3, 2.5e-3]):
        inputs = given | {"flow_l_s": f"{1000 * q:g}"}
        yield row(f"CP-S-{n + 1}", "pumps", "slope of a curve through five points", inputs, float(curve(q, 1)), "s/m2", "1e-9 rel", source, how)
    drop = lambda n: (6.0 - 4.9) * 2 ** n - (6.0 - 1.8)
    n = brentq(drop, 1, 4, xtol=1e-14)
    yield row(
        "CP-FIT", "pumps", "head on h0 - c Q^n through three points",
        {"q1_l_s": 1, "q2_l_s": 2, "h0_m": 6, "h1_m": 4.9, "h2_m": 1.8, "flow_l_s": 1.5},
        6.0 - 1.1 * 1.5 ** n, "m", "1e-9 rel", "three-point power curve", "computed with scipy 1.17.1 (root)",
    )


def water():
    for c in [2, 12, 18, 28, 38]:
        state = IAPWS95(T=c + 273.15, P=0.101325)
        line = IAPWS95(T=c + 273.15, x=0)
        given = {"temperature_c": c, "salinity_g_kg": 0}
        how = "computed with iapws 1.5.5"
        yield row(f"CW-RHO-{c}", "water", "density", given, state.rho, "kg/m3", "0.01 abs", "IAPWS-95", how)
        yield row(f"CW-MU-{c}", "water", "dynamic viscosity", given, 1000 * state.mu, "mPa s", "0.2%", "IAPWS 2008 viscosity", how)
        yield row(f"CW-PV-{c}", "water", "vapour pressure", given, 1e6 * line.P, "Pa", "0.1%", "IAPWS-95", how)
    for c, s in [(5, 10), (15, 25), (25, 40)]:
        sea = SeaWater(T=c + 273.15, P=0.101325, S=s / 1000)
        yield row(
            f"CW-SEA-{c}", "water", "density of salt water", {"temperature_c": c, "salinity_g_kg": s},
            sea.rho, "kg/m3", "0.05 abs", "IAPWS 2008 sea water", "computed with iapws 1.5.5",
        )


def darcy(re, rough):
    if re <= 2000:
        return 64 / re
    assert re >= 4000, "the bridge between is our own"
    f = 0.02
    for _ in range(200):
        f = 1 / (-2 * math.log10(rough / 3.7 + 2.51 / (re * math.sqrt(f)))) ** 2
    return f


def segment(y, d):
    """Area and wetted perimeter of a round bore, full from the crown on."""
    angle = 2 * math.acos(1 - 2 * min(y, d) / d)
    return d * d / 8 * (angle - math.sin(angle)), d * angle / 2


def climb(case, bed, start_m):
    """Depth at the upper end of one leg, from that at its lower end, by the equation of gradually varied flow.

    The energy over the bed is integrated, dE/dx = Sf - S0, where the derivative is finite at critical depth.
    """
    q, d, nu = case["flow_m3_s"], case["bore_m"], 1e-6
    full = math.pi / 4 * d * d
    yc = critical(q, d)

    def slope(y):
        a, p = segment(y, d)
        v, hydraulic = q / a, 4 * a / p
        wall = darcy(v * hydraulic / nu, case["roughness_m"] / hydraulic) * v * v / (2 * G * hydraulic)
        return wall + case["k"] / case["length_m"] * v * v / (2 * G)

    def energy(y):
        return y + (q / segment(y, d)[0]) ** 2 / (2 * G)

    least, crown = energy(yc), energy(d)

    def depth(e):
        if e >= crown:
            return d + e - crown
        if e <= least:
            return yc
        return brentq(lambda y: energy(y) - e, yc, d, xtol=1e-14, rtol=1e-14)

    def rate(_, e):
        # More than full is not carried part full.
        return [max(slope(depth(e[0])), slope(d)) - bed["rise_m"] / bed["length_m"]]

    held = lambda _, e: e[0] - (least - 1e-9)
    held.terminal = True
    end = solve_ivp(rate, (0, bed["length_m"]), [energy(max(start_m, yc))], rtol=1e-9, atol=1e-12, events=held, method="LSODA")
    return yc if len(end.t_events[0]) else depth(end.y[0][-1])


def profiles():
    smooth, rough = 1.5e-6, 1e-3
    # bore, flow, length and rise of the legs from the outlet, level over the outlet's invert, roughness, K along the run
    cases = [
        ("horizontal, free, a trickle", 0.104, 0.5e-3, [(3, 0)], 0, smooth, 0),
        ("horizontal, free, half full", 0.104, 2e-3, [(3, 0)], 0, smooth, 0),
        ("horizontal, free, filling", 0.104, 4e-3, [(3, 0)], 0, smooth, 0),
        ("horizontal, free, full at its upper end", 0.104, 8e-3, [(3, 0)], 0, smooth, 0),
        ("mild, free", 0.1036, 1.5e-3, [(12, 0.036)], 0, smooth, 0),
        ("mild, long enough for uniform depth", 0.15, 5e-3, [(300, 0.9)], 0, rough, 0),
        ("adverse, free", 0.1036, 2e-3, [(4, -0.02)], 0, smooth, 0),
        ("steep, free: critical at its top", 0.1036, 2e-3, [(5, 0.15)], 0, smooth, 0),
        ("horizontal, half drowned", 0.104, 2e-3, [(3, 0)], 0.08, smooth, 0),
        ("mild, nearly drowned", 0.1036, 1.5e-3, [(20, 0.06)], 0.09, smooth, 0),
        ("steep, drowned from below", 0.1036, 2e-3, [(2, 0.03)], 0.1, smooth, 0),
        ("steep, drowned at its foot only", 0.1036, 2e-3, [(5, 0.15)], 0.1, smooth, 0),
        ("steep, then level to the outlet", 0.1036, 3e-3, [(4, 0), (3, 0.09)], 0, smooth, 0),
        ("level, then steep to the outlet", 0.1036, 3e-3, [(3, 0.09), (4, 0)], 0, smooth, 0),
        ("with fittings along it", 0.069, 1.2e-3, [(2.5, 0.02)], 0, smooth, 1.8),
        ("a wide drain", 0.6, 0.12, [(80, 0.08)], 0, rough, 0),
        ("two kilometres, mild", 0.3, 0.02, [(2000, 3)], 0, rough, 0),
        ("two kilometres, horizontal", 0.3, 0.01, [(2000, 0)], 0.1, rough, 0),
    ]
    for n, (what, d, q, legs, over, eps, k) in enumerate(cases):
        case = {"flow_m3_s": q, "bore_m": d, "roughness_m": eps, "k": k, "length_m": sum(l for l, _ in legs)}
        z, y = 0.0, max(critical(q, d), over)
        for length, rise in legs:
            y = climb(case, {"length_m": length, "rise_m": rise}, y)
            z += rise
        given = {
            "bore_m": d, "flow_m3_s": q, "roughness_m": eps, "k": k, "level_m": over,
            "legs": " ".join(f"{length}:{rise}" for length, rise in legs),
        }
        yield row(
            f"GR-{n + 1}", "water-surface profiles", f"grade at the upper end: {what}", given, z + y, "m", "0.0002 abs" if d < 0.2 else "0.001 abs",
            "equation of gradually varied flow", "computed with scipy 1.17.1 (solve_ivp)",
        )


def channels():
    """Profiles in open channels; depths some way upstream of a known one."""
    # Data of the classic textbook example of a backwater behind a dam, in feet; its figures are from memory.
    b, z, s0, n, q, alpha, g = 20, 2, 0.0016, 0.025, 400, 1.10, 32.174
    area_of, wetted_of = lambda y: (b + z * y) * y, lambda y: b + 2 * y * math.sqrt(1 + z * z)

    def distance(y):
        sf = (n * q / (1.4859 * area_of(y) * (area_of(y) / wetted_of(y)) ** (2 / 3))) ** 2
        return (1 - alpha * q * q * (b + 2 * z * y) / (g * area_of(y) ** 3)) / (s0 - sf)

    given = {"width_ft": b, "side": z, "bed": s0, "n": n, "flow_ft3_s": q, "alpha": alpha, "depth_ft": 5}
    for number, y in enumerate([4.8, 4.4, 4.0, 3.6, 3.5, 3.4]):
        yield row(
            f"GR-DAM-{number + 1}", "water-surface profiles", f"depth in a trapezoidal channel where it is {y} ft",
            given | {"upstream_ft": f"{quad(distance, y, 5, epsabs=1e-9)[0]:.6f}"}, y, "ft", "0.01 abs",
            "Chow (1959) Example 10-1 (data from memory)", "computed with scipy 1.17.1 (quad)",
        )


def main():
    makers = [friction, circle, critical_depth, side_hole, lip, pump, water, profiles, channels]
    rows = [r for maker in makers for r in maker()]
    target = HERE / "computed.csv"
    if "--check" in sys.argv:
        with target.open(newline="") as file:
            kept = {r["id"]: float(r["expected"]) for r in csv.DictReader(file)}
        far = [r[0] for r in rows if abs(kept[r[0]] / float(r[4]) - 1) > 1e-7]
        print("differ:", far) if far else print(len(rows), "values agree")
        sys.exit(bool(far))
    with target.open("w", newline="") as file:
        writer = csv.writer(file, lineterminator="\n")
        writer.writerow(HEADER)
        writer.writerows(rows)
    print("wrote", len(rows), "rows")


main()
