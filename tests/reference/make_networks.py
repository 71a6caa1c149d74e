"""Recompute the networks and some of the worked layouts by other numerics.

    python3 -m venv venv && venv/bin/pip install -r requirements.txt
    venv/bin/python make_networks.py            # writes networks_computed.csv beside this file
    venv/bin/python make_networks.py --check    # compares instead of writing

Nothing here calls the program or reads its files: the data stand below in the units of their
sources. Networks are solved for the heads of their joints with scipy's root, every flow being
an explicit function of the head over its pipe (Colebrook turned round has no iteration). The
layouts are single scalar roots (brentq) and integrations in time (solve_ivp).
"""

import csv
import io
import math
import pathlib
import sys

from fluids.friction import friction_factor
from iapws import IAPWS95
from scipy.integrate import solve_ivp
from scipy.optimize import brentq, root

HERE = pathlib.Path(__file__).parent
G = 9.80665
FT = 0.3048
FT3 = FT**3
GPM = 3.785411784e-3 / 60


# --- pipes: flow from the head lost -------------------------------------------------------


def area(bore):
    return math.pi * bore**2 / 4


def colebrook_flow(length, bore, roughness, viscosity, g):
    """Flow by a head lost; Colebrook-White written for it, constants 3.7 and 2.51."""

    def flow(head):
        root_s = math.sqrt(2 * g * bore * max(abs(head), 1e-18) / length)
        inside = roughness / (3.7 * bore) + 2.51 * viscosity / (bore * root_s)
        return math.copysign(-2 * root_s * math.log10(inside) * area(bore), head)

    return flow


def fixed_flow(length, bore, factor, g):
    resistance = factor * length / (bore * 2 * g * area(bore) ** 2)
    return lambda head: math.copysign(math.sqrt(abs(head) / resistance), head)


def hazen_flow(length, bore, c, k):
    resistance = k * length / (c**1.852 * bore**4.8704)
    return lambda head: math.copysign((abs(head) / resistance) ** (1 / 1.852), head)


def nodal(levels, drawn, pipes, start):
    """Heads of the joints `drawn` (demand by name); `pipes` are (from, to, flow by head)."""
    names = list(drawn)

    def heads_of(x):
        return {**levels, **dict(zip(names, x))}

    def balance(x):
        heads = heads_of(x)
        rest = {name: -demand for name, demand in drawn.items()}
        for a, b, flow in pipes:
            passed = flow(heads[a] - heads[b])
            if a in rest:
                rest[a] -= passed
            if b in rest:
                rest[b] += passed
        return [rest[name] for name in names]

    solved = root(balance, start, method="hybr", options={"xtol": 1e-14})
    worst = max(abs(value) for value in balance(solved.x))
    assert worst < 1e-12, f"not solved: {worst}"
    heads = heads_of(solved.x)
    return heads, [flow(heads[a] - heads[b]) for a, b, flow in pipes]


def three_reservoirs():
    pipe = lambda length, bore, roughness: colebrook_flow(length, bore, roughness, 1.02e-6, 9.81)
    pipes = [
        ("j", "r1", pipe(100, 0.08, 0.24e-3)),
        ("r2", "j", pipe(150, 0.06, 0.12e-3)),
        ("r3", "j", pipe(80, 0.04, 0.20e-3)),
    ]
    return nodal({"r1": 20, "r2": 100, "r3": 40}, {"j": 0}, pipes, [35.0])


THREE_LOOPS = [
    ("a", "b", 250, 0.30, 0.01879),
    ("b", "c", 100, 0.20, 0.02075),
    ("c", "d", 125, 0.20, 0.02075),
    ("e", "d", 125, 0.20, 0.02075),
    ("a", "e", 100, 0.20, 0.02075),
    ("d", "f", 100, 0.15, 0.02233),
    ("f", "g", 125, 0.25, 0.01964),
    ("e", "g", 100, 0.15, 0.02233),
    ("c", "h", 100, 0.15, 0.02233),
    ("f", "h", 125, 0.25, 0.01964),
]


def three_loops(law):
    pipes = [(a, b, law(length, bore, factor)) for a, b, length, bore, factor in THREE_LOOPS]
    drawn = {"b": 0, "c": 0, "d": 0.04, "e": 0, "f": 0, "g": 0.02, "h": 0.02}
    return nodal({"a": 100}, drawn, pipes, [99.8, 99, 98.6, 99.1, 98.45, 98.43, 98.42])


def two_loops():
    inches = {"12": 18, "23": 10, "24": 16, "45": 4, "46": 16, "67": 10, "35": 10, "75": 1}
    pipes = [
        (ends[0], ends[1], hazen_flow(1000, size * 0.0254, 130, 10.667))
        for ends, size in inches.items()
    ]
    hourly = {"2": 100, "3": 100, "4": 120, "5": 270, "6": 330, "7": 200}
    drawn = {name: demand / 3600 for name, demand in hourly.items()}
    return nodal({"1": 210}, drawn, pipes, [203.2, 190.5, 198.4, 183.8, 195.4, 190.5])


# --- pumps --------------------------------------------------------------------------------


def pump_on_pipe():
    """Least squares a - c Q^2 through the three points; friction by fluids at every flow."""
    points = [(0, 81), (5000 * GPM / FT3, 60), (7850 * GPM / FT3, 20)]
    x = [q * q for q, _ in points]
    mean_x, mean_h = sum(x) / 3, sum(h for _, h in points) / 3
    c = -sum((xi - mean_x) * (h - mean_h) for xi, (_, h) in zip(x, points)) / sum(
        (xi - mean_x) ** 2 for xi in x
    )
    a = mean_h + c * mean_x
    bore, length, roughness = 20 / 12, 3884, 0.0005

    def over(flow):
        speed = flow / area(bore)
        factor = friction_factor(Re=speed * bore / 1.23e-5, eD=roughness / bore, Method="Colebrook")
        return a - c * flow**2 - 30 - factor * length / bore * speed**2 / (2 * 32.2)

    flow = brentq(over, 1, 20, xtol=1e-14)
    return flow, a - c * flow**2


def pumps_on_main(series, parallel):
    loss = 0.022 * 90 / (10 / 12 * 2 * 32.2 * area(10 / 12) ** 2)
    loss += 0.028 * 4900 / (8 / 12 * 2 * 32.2 * area(8 / 12) ** 2)
    curve = 20 * series / parallel**2
    flow = math.sqrt((365 * series - 290) / (loss + curve))
    return flow, 365 * series - curve * flow**2


# --- worked layouts -----------------------------------------------------------------------

VISCOSITY = IAPWS95(T=293.15, P=0.101325).nu
PLASTIC = 1.5e-6


def lip_capacity(head, bore):
    if head <= 0:
        return 0.0
    weir = 2 / 3 * 0.6 * math.sqrt(2 * G) * math.pi * bore * head**1.5
    return min(weir, 0.6 * area(bore) * math.sqrt(2 * G * head))


def hole_critical(depth, bore):
    """Flow and head over the invert for a critical depth, entrance K 0.5."""
    angle = 2 * math.acos(1 - 2 * depth / bore)
    wet = bore**2 / 8 * (angle - math.sin(angle))
    width = bore * math.sin(angle / 2)
    return math.sqrt(G * wet**3 / width), depth + wet / (2 * width) * 1.5


def hole_head(flow, bore):
    """Head over the invert by critical depth, while it is under the crossing with the orifice."""
    depth = brentq(lambda y: hole_critical(y, bore)[0] - flow, 1e-9 * bore, 0.999 * bore, xtol=1e-16)
    head = hole_critical(depth, bore)[1]
    assert head < 1.54 * bore, "over the crossing: the orifice holds"
    return head


def pipe_loss(flow, bore, length, k):
    speed = flow / area(bore)
    factor = friction_factor(Re=speed * bore / VISCOSITY, eD=PLASTIC / bore, Method="Colebrook")
    return (factor * length / bore + k) * speed**2 / (2 * G)


def three_drains():
    def passed(level):
        a = lip_capacity(level - 0.9, 0.05)
        b = lip_capacity(level - 0.93, 0.11)
        c = brentq(lambda q: hole_head(q, 0.063) - (level - 0.91), 1e-7, 2e-3, xtol=1e-16)
        return a, b, c

    level = brentq(lambda h: sum(passed(h)) - 0.0065, 0.94, 1.0, xtol=1e-14)
    return level, passed(level)


def raised_intake():
    flow, bore = 0.0011, 0.0603
    grade = max(1.0 + hole_head(flow, bore), 0.55 + pipe_loss(flow, bore, 1.4, 2.0))
    return grade + pipe_loss(flow, bore, 0.92, 1.3)


def until(levels, rate, seconds=None, stop=None):
    """Levels and time at `seconds`, or when `stop` of the levels becomes 0."""
    events = None
    if stop:
        events = lambda _, y: stop(y)
        events.terminal = True
    end = seconds or 1e5
    options = {"method": "LSODA", "rtol": 1e-11, "atol": 1e-13, "events": events, "max_step": 5.0}
    done = solve_ivp(lambda _, y: rate(y), (0, end), levels, **options)
    return done.y[:, -1], done.t[-1]


def two_ponds():
    a = area(0.1)

    def rate(y):
        flow = a * math.copysign(math.sqrt(2 * G * abs(y[0] - y[1]) / 2.4), y[0] - y[1])
        return [-flow / 14.0, flow / 6.5]

    return until([1.32, 0.9], rate, stop=lambda y: y[0] - y[1] - 0.05)


def cone(start, end):
    """Time from one depth to another through the tip, K 3.2 on 40 mm."""
    full, height = math.pi * 1.1**2 / 4, 0.6

    def rate(y):
        depth = max(y[0], 0.01)  # the search for the end may look beyond it
        surface = full * min(1.0, depth / height) ** 2
        return [-area(0.04) * math.sqrt(2 * G * depth / 3.2) / surface]

    return until([start], rate, stop=lambda y: y[0] - end)[1]


# --- the file -----------------------------------------------------------------------------

TIGHT = "1e-5 rel"


def rows():
    root_how = "computed with scipy 1.17.1 (root)"
    white = "White, Fluid Mechanics, three-reservoir example (6.18)"
    heads, flows = three_reservoirs()
    yield "N1C-HEAD", "networks", "head at the junction", heads["j"], "m", TIGHT, white, root_how
    for number, flow in enumerate(flows, 1):
        what = f"flow in pipe {number}"
        yield f"N1C-Q{number}", "networks", what, flow * 3600, "m3/h", TIGHT, white, root_how

    maurer = "Maurer 2023, Hydraulics and Water Resources (open textbook) Ex 4.7"
    laws = {
        "N11A": ("fixed factors", lambda l, d, f: fixed_flow(l, d, f, 9.81)),
        "N11B": ("Colebrook", lambda l, d, _: colebrook_flow(l, d, 0.25e-3, 1.023e-6, 9.81)),
    }
    for key, (name, law) in laws.items():
        heads, flows = three_loops(law)
        for number, flow in enumerate(flows, 1):
            what = f"flow in pipe {number}, {name}, converged"
            yield f"{key}C-Q{number}", "networks", what, flow, "m3/s", TIGHT, maurer, root_how
        for node in "bcdefgh":
            what = f"head at {node}, {name}, converged"
            yield f"{key}C-H{node}", "networks", what, heads[node], "m", "1e-5 abs", maurer, root_how

    shamir = "Alperovits & Shamir 1977, two loops"
    heads, flows = two_loops()
    for node in "234567":
        yield f"N13C-H{node}", "networks", f"head at node {node}", heads[node], "m", "1e-5 abs", shamir, root_how
    for number, flow in enumerate(flows, 1):
        what = f"flow in pipe {number}"
        yield f"N13C-Q{number}", "networks", what, flow * 3600, "m3/h", TIGHT, shamir, root_how

    how = "computed with scipy 1.17.1 (brentq) and fluids 1.3.1"
    source = "Maurer 2023, Hydraulics and Water Resources (open textbook) Ex 7.1-7.3, friction at the true flow"
    flow, head = pump_on_pipe()
    yield "N14C-Q", "networks", "duty flow of a pump on a pipe", flow, "ft3/s", TIGHT, source, how
    yield "N14C-H", "networks", "duty head of a pump on a pipe", head, "ft", TIGHT, source, how
    problem = "classroom problem (290 ft lift; h = 365 - 20 Q^2)"
    for key, name, count in (("ONE", "one pump", (1, 1)), ("SER", "two pumps in series", (2, 1)), ("PAR", "two pumps in parallel", (1, 2))):
        flow, head = pumps_on_main(*count)
        yield f"N15C-Q{key}", "networks", f"flow, {name}", flow, "ft3/s", TIGHT, problem, "closed form; the problem was read, not its answer"
        yield f"N15C-H{key}", "networks", f"head added, {name}", head, "ft", TIGHT, problem, "closed form; the problem was read, not its answer"

    law = "laws of docs/method"
    exact = "1e-6 abs"
    how = "computed with scipy 1.17.1 (brentq)"
    lip = brentq(lambda h: lip_capacity(h, 0.063) - 0.0009, 0, 1, xtol=1e-15)
    yield "LC-STANDPIPE", "layouts", "running level over a standpipe", 0.4 + lip, "m", exact, law, how
    yield "LC-HOLE", "layouts", "running level over a side hole", 0.7 + hole_head(0.0006, 0.083), "m", exact, law, how
    hard = 0.7 + 0.083 / 2 + (0.0052 / (0.6 * area(0.083))) ** 2 / (2 * G)
    yield "LC-HOLE-HARD", "layouts", "running level over a drowned side hole", hard, "m", exact, law, how
    drowned = 1.05 + pipe_loss(0.0014, 0.0514, 2.4, 2.6)
    yield "LC-DROWNED", "layouts", "running level over a drowned standpipe", drowned, "m", "1e-5 abs", law, "computed with fluids 1.3.1 and iapws 1.5.5"
    level, passed = three_drains()
    yield "LC-DRAINS", "layouts", "running level over three drains", level, "m", exact, law, how
    for name, flow in zip("abc", passed):
        yield f"LC-DRAINS-{name.upper()}", "layouts", f"flow in drain {name}", flow, "m3/s", TIGHT, law, how
    yield "LC-RAISED", "layouts", "running level over a raised intake", raised_intake(), "m", "1e-5 abs", law, how
    how = "computed with scipy 1.17.1 (solve_ivp, LSODA)"
    levels, time = two_ponds()
    yield "LC-PONDS", "layouts", "time until two ponds stand 5 cm apart", time, "s", "0.1%", law, how
    yield "LC-CONE-UPPER", "layouts", "time to empty the cylinder over a cone", cone(1.2, 0.6), "s", "0.1%", law, how
    yield "LC-CONE-LOWER", "layouts", "time to empty a cone to 0.1 m", cone(0.6, 0.1), "s", "0.1%", law, how


#: The layout that a row is held to, by the start of its name.
FILES = {
    "N1C-": "networks/n1-three-reservoirs.ron",
    "N11AC-": "networks/n11-three-loops-fixed-f.ron",
    "N11BC-": "networks/n11-three-loops-colebrook.ron",
    "N13C-": "networks/n13-two-loops.ron",
    "N14C-": "networks/n14-true.ron",
    "N15C-QONE": "networks/n15-one-pump.ron",
    "N15C-HONE": "networks/n15-one-pump.ron",
    "N15C-QSER": "networks/n15-two-in-series.ron",
    "N15C-HSER": "networks/n15-two-in-series.ron",
    "N15C-QPAR": "networks/n15-two-in-parallel.ron",
    "N15C-HPAR": "networks/n15-two-in-parallel.ron",
    "LC-STANDPIPE": "layouts/standpipe.ron",
    "LC-HOLE": "layouts/side-hole-part-full.ron",
    "LC-HOLE-HARD": "layouts/side-hole-drowned.ron",
    "LC-DROWNED": "layouts/drowned-standpipe.ron",
    "LC-DRAINS": "layouts/three-drains.ron",
    "LC-RAISED": "layouts/raised-intake.ron",
    "LC-PONDS": "layouts/two-ponds.ron",
    "LC-CONE": "layouts/full-cone.ron",
}


def file_of(name):
    longest = max((start for start in FILES if name.startswith(start)), key=len)
    return f"file={FILES[longest]}"


def text():
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(["id", "group", "what", "inputs", "expected", "unit", "tolerance", "source", "how"])
    for name, group, what, value, unit, tolerance, source, how in rows():
        writer.writerow([name, group, what, file_of(name), f"{value:.12g}", unit, tolerance, source, how])
    return out.getvalue()


def same(made, kept):
    """The files agree, numbers to 1e-9 of themselves."""
    made, kept = (list(csv.reader(io.StringIO(t))) for t in (made, kept))
    if len(made) != len(kept):
        return False
    for a, b in zip(made, kept):
        if a[:4] + a[5:] != b[:4] + b[5:]:
            return False
        if a[0] != "id" and not math.isclose(float(a[4]), float(b[4]), rel_tol=1e-9):
            return False
    return True


if __name__ == "__main__":
    path = HERE / "networks_computed.csv"
    if "--check" in sys.argv:
        if not same(text(), path.read_text()):
            sys.exit("networks_computed.csv differs")
        print("networks_computed.csv agrees")
    else:
        path.write_text(text())
