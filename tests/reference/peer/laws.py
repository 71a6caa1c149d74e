"""Friction, openings, pump curves and equipment, each as docs/method/ writes it. SI throughout."""

import functools
import math

import numpy as np
from fluids.friction import Colebrook
from iapws import IAPWS95
from scipy.interpolate import PchipInterpolator
from scipy.optimize import brentq, minimize_scalar

from refused import Refused

LINEAR = 1e-7
LAMINAR, TURBULENT = 2000.0, 4000.0


@functools.cache
def viscosity(temperature_c):
    """m²/s, fresh water at one atmosphere."""
    return IAPWS95(T=temperature_c + 273.15, P=0.101325).nu


def area(bore_m):
    return math.pi * bore_m**2 / 4


# --- friction -----------------------------------------------------------------------------


@functools.lru_cache(maxsize=4096)
def bridge(relative):
    """Value and slope of f·Re² at both ends of the gap between laminar and turbulent."""
    drag = lambda re: Colebrook(re, relative) * re * re
    step = 1.0
    slope = (drag(TURBULENT + step) - drag(TURBULENT - step)) / (2 * step)
    return 64 * LAMINAR, 64.0, drag(TURBULENT), slope


def drag(re, relative):
    """f·Re² of a round pipe."""
    if re <= LAMINAR:
        return 64 * re
    relative = min(relative, 0.5)
    if re >= TURBULENT:
        return Colebrook(re, relative) * re * re
    y0, m0, y1, m1 = bridge(relative)
    width = TURBULENT - LAMINAR
    t = (re - LAMINAR) / width
    rise = (1 + 2 * t) * (1 - t) ** 2 * y0 + t * t * (3 - 2 * t) * y1
    return rise + width * (t * (1 - t) ** 2 * m0 - t * t * (1 - t) * m1)


class Wall:
    """The wall of a run: `slope(speed, bore)` is the head that it takes per metre."""

    def __init__(self, roughness_m, viscosity_m2_s, gravity):
        self.roughness_m, self.nu, self.g = roughness_m, viscosity_m2_s, gravity

    def slope(self, speed, bore):
        re = speed * bore / self.nu
        return drag(re, self.roughness_m / bore) * self.nu**2 / (2 * self.g * bore**3)


class FixedFactor(Wall):
    def __init__(self, factor, viscosity_m2_s, gravity):
        super().__init__(0.0, viscosity_m2_s, gravity)
        self.factor = factor

    def slope(self, speed, bore):
        return self.factor * speed**2 / (2 * self.g * bore)


class HazenWilliams(Wall):
    def __init__(self, c, constant, viscosity_m2_s, gravity):
        super().__init__(0.0, viscosity_m2_s, gravity)
        self.c, self.k = c, constant

    def slope(self, speed, bore):
        flow = max(speed, 0.01) * area(bore)
        slope = self.k * flow**1.852 / (self.c**1.852 * bore**4.8704)
        return slope * min(1.0, speed / 0.01)


def minor(k, bore, flow, nu, g):
    """K·V²/2g with its laminar extension."""
    speed = flow / area(bore)
    re = speed * bore / nu
    return k * speed / (2 * g) * max(speed, 100 * nu / bore) if re > 0 else 0.0


def step_k(from_bore, to_bore):
    """K of a step in bore, on the smaller one (Borda and Carnot; Crane)."""
    if to_bore > from_bore:
        return (1 - (from_bore / to_bore) ** 2) ** 2
    return 0.5 * (1 - (to_bore / from_bore) ** 2)


# --- equipment ----------------------------------------------------------------------------


def equipment(given):
    """a and b of h = a·Q + b·Q²."""
    if "terms" in given:
        return given["terms"]["a"], given["terms"]["b"]
    points = [(p["flow_m3_s"], p["head_m"]) for p in given["points"]]
    if len(points) == 1:
        (q, h), = points
        return 0.0, h / q**2
    (q1, h1), (q2, h2) = points
    b = (h2 / q2 - h1 / q1) / (q2 - q1)
    a = h1 / q1 - b * q1
    if b < 0:
        return sum(q * h for q, h in points) / sum(q * q for q, _ in points), 0.0
    if a < 0:
        return 0.0, sum(q * q * h for q, h in points) / sum(q**4 for q, _ in points)
    return a, b


# --- pumps --------------------------------------------------------------------------------


def power_curve(h0, c, n):
    return lambda q: h0 - c * max(q, 0.0) ** n


def through_points(points):
    """Head by flow through the points of a sheet."""
    if any(b[1] > a[1] for a, b in zip(points, points[1:])):
        raise Refused("a pump curve that rises")
    if len(points) == 3 and points[0][0] == 0:
        (_, h0), (q1, h1), (q2, h2) = points
        if h0 > h1 > h2:
            n = math.log((h0 - h1) / (h0 - h2)) / math.log(q1 / q2)
            if 1 <= n <= 4:
                return power_curve(h0, (h0 - h2) / q2**n, n)
    flows, heads = zip(*points)
    if len(points) == 2:
        return beyond(lambda q: float(np.interp(q, flows, heads)), points)
    cubic = PchipInterpolator(flows, heads)
    return beyond(lambda q: float(cubic(q)), points)


def beyond(curve, points):
    """Constant before the first point, straight on behind the last."""
    first, last = points[0][0], points[-1][0]
    step = 1e-6 * (last - first)
    end = curve(last)
    slope = (3 * end - 4 * curve(last - step) + curve(last - 2 * step)) / (2 * step)

    def head(q):
        if q > last:
            return end + slope * (q - last)
        return curve(max(q, first))

    return head


def pump_curve(pump):
    """Head by flow at the pump's own speed, and the head at rest."""
    curve = pump["curve"]
    if "power" in curve:
        given = curve["power"]
        full = power_curve(given["h0_m"], given["c"], given["n"])
    else:
        full = through_points([(p["flow_m3_s"], p["head_m"]) for p in curve["points"]])
    speed = pump.get("speed", 1.0)
    if speed == 0:
        return lambda q: 0.0
    return lambda q: speed**2 * full(q / speed)


# --- openings -----------------------------------------------------------------------------


def lip_head(bore, weir, orifice, g):
    """Head over a lip by flow."""

    def head(q):
        over = (q / (2 / 3 * weir * math.sqrt(2 * g) * math.pi * bore)) ** (2 / 3)
        drowned = (q / (orifice * area(bore))) ** 2 / (2 * g)
        return max(over, drowned)

    return head


def hole_flow_and_head(depth, bore, k_e, g):
    """Flow and head over the invert of a hole at a critical depth."""
    angle = 2 * math.acos(1 - 2 * depth / bore)
    wet = bore**2 / 8 * (angle - math.sin(angle))
    width = bore * math.sin(angle / 2)
    return math.sqrt(g * wet**3 / width), depth + wet / (2 * width) * (1 + k_e)


def touching(bore, k_e, orifice, g):
    """Critical depth at which a hole that is too tight comes nearest to its orifice, and the share that it passes."""

    def ratio(depth):
        q, h = hole_flow_and_head(depth, bore, k_e, g)
        return q / (orifice * area(bore) * math.sqrt(2 * g * (h - bore / 2))) if h > bore / 2 else math.inf

    found = minimize_scalar(ratio, bounds=(0.4 * bore, (1 - 1e-9) * bore), method="bounded", options={"xatol": 1e-12})
    return found.x, 1 / found.fun


def hole_head(bore, k_e, orifice, g):
    """Head over the invert of a side hole by flow: critical, or drowned from the crossing on."""

    def drowned(q):
        return bore / 2 + (q / (orifice * area(bore))) ** 2 / (2 * g)

    def over(depth):
        q, h = hole_flow_and_head(depth, bore, k_e, g)
        return h - drowned(q)

    deep, shallow = (1 - 1e-9) * bore, 0.3 * bore
    if orifice >= 1 / math.sqrt(1 + k_e):
        raise Refused("a side hole that never drowns")
    # At half depth the critical head is the greater, near the crown the drowned one: the last crossing.
    samples = np.linspace(shallow, deep, 400)
    greater = [d for d in samples if over(d) > 0]
    share = 1.0
    if greater:
        last = max(greater)
        crossing = brentq(over, last, min(last + samples[1] - samples[0], deep), xtol=1e-14)
    else:
        crossing, share = touching(bore, k_e, orifice, g)
    most = share * hole_flow_and_head(crossing, bore, k_e, g)[0]

    def head(q):
        if q >= most:
            return drowned(q)
        q /= share
        if q <= 1e-8 * math.sqrt(g) * bore**2.5:
            return 0.0
        flow = lambda d: hole_flow_and_head(d, bore, k_e, g)[0] - q
        depth = brentq(flow, 1e-6 * bore, crossing, xtol=1e-14)
        return hole_flow_and_head(depth, bore, k_e, g)[1]

    return head


def kept_from_air(head, bore, hole, g):
    """A mouth that no air reaches from behind: its head is at most the submergence, of a hole over its centre."""
    over = 1.5 * bore if hole else bore
    return lambda q: min(head(q), over + 2.3 * bore * q / (area(bore) * math.sqrt(g * bore)))


def suction_head(bore, weir, k_e, hole, g):
    """A mouth that a pump draws from: a weir alone, of a hole critical in its mouth up to its crown."""
    if not hole:
        return lambda q: (q / (2 / 3 * weir * math.sqrt(2 * g) * math.pi * bore)) ** (2 / 3)
    crown = brentq(lambda d: hole_flow_and_head(d, bore, k_e, g)[1] - bore, 0.3 * bore, (1 - 1e-9) * bore, xtol=1e-14)
    most = hole_flow_and_head(crown, bore, k_e, g)[0]

    def head(q):
        if q >= most:
            return bore * (q / most) ** (2 / 3)
        if q <= 1e-8 * math.sqrt(g) * bore**2.5:
            return 0.0
        depth = brentq(lambda d: hole_flow_and_head(d, bore, k_e, g)[0] - q, 1e-6 * bore, crown, xtol=1e-14)
        return hole_flow_and_head(depth, bore, k_e, g)[1]

    return head


def critical_depth(q, bore, g):
    if q <= 1e-8 * math.sqrt(g) * bore**2.5:
        return 0.0
    if q > 20 * math.sqrt(g) * bore**2.5:
        return bore
    flow = lambda d: hole_flow_and_head(d, bore, 0.0, g)[0] - q
    top = (1 - 1e-12) * bore
    return brentq(flow, 1e-6 * bore, top, xtol=1e-15) if flow(top) > 0 else bore
