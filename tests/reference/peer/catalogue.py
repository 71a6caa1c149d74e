"""Bores of pipe and K of fittings and valves, by the rules of docs/method/catalogue.md."""

import functools
import math
import pathlib
import re

import ron
from refused import Refused

ASSETS = pathlib.Path(__file__).parents[3] / "assets" / "catalogue"
CLEAN_STEEL_M = 0.0018 * 0.0254


@functools.cache
def rows(name):
    """The rows of `pipes`, `fittings` or `valves`, by key."""
    held = ron.read(ASSETS / f"{name}.ron")
    return {row["key"]: row for row in next(iter(held.values()))}


def plain(size):
    """A size as it is looked up: `1-1/2 in` and `1 1/2"` are one."""
    text = size.lower().replace('"', "").replace("mm", "").replace("in", "").replace("½", " 1/2")
    return re.sub(r"[\s-]+", " ", text.removeprefix("d")).strip()


def pipe(family, size):
    """Bore and roughness in metres, and C of Hazen-Williams, of a pipe that is bought."""
    held = rows("pipes").get(family)
    if held is None:
        raise Refused(f"pipe family {family}")
    for row in held["sizes"]:
        if plain(row["size"]) == plain(size):
            return row["bore_m"], held["roughness_m"], held["hazen_williams_c"]
    raise Refused(f"pipe size {family} {size}")


def turbulent_factor(bore_m):
    return (-2 * math.log10(CLEAN_STEEL_M / (3.7 * bore_m))) ** -2


def by_rows(table, x):
    """A straight line between the rows, the end rows beyond them."""
    if x <= table[0][0]:
        return table[0][1]
    for (x0, y0), (x1, y1) in zip(table, table[1:]):
        if x <= x1:
            return y0 + (y1 - y0) * (x - x0) / (x1 - x0)
    return table[-1][1]


def loss(rule, bore_m, factor):
    """K of a rule at a bore; `factor` is the Darcy factor by which a length counts."""
    name, given = rule if isinstance(rule, tuple) else (rule, None)
    if name == "Fixed":
        return given[0]
    if name == "TurbulentTimes":
        return given[0] * turbulent_factor(bore_m)
    if name == "BySize":
        return by_rows(given[0], bore_m)
    if name == "LengthBySize":
        return factor * by_rows(given[0], bore_m) / bore_m
    if name == "Diameters":
        return factor * given[0]
    raise Refused(f"rule {name}")


def choice(held, wanted):
    choices = held["choices"] if "choices" in held else held["open"]
    if wanted is None:
        return choices[0]["rule"]
    for row in choices:
        if row["source"] == wanted:
            return row["rule"]
    raise Refused(f"choice {wanted}")


def fitting(kind):
    held = rows("fittings").get(kind)
    if held is None:
        raise Refused(f"fitting {kind}")
    return held


def valve(kind, opening, bore_m, factor):
    """K of a valve, its K fully open, and whether the flow itself moves it."""
    held = rows("valves").get(kind)
    if held is None:
        raise Refused(f"valve {kind}")
    fully, check = loss(choice(held, None), bore_m, factor), held["acts"] == "Check"
    if check or opening >= 1:
        return fully, fully, check
    points = [(1.0, fully), *map(tuple, held["throttled"][0]["points"])]
    low, k_low = points[-1]
    if opening < low:
        partly = k_low * (low / max(opening, 1e-6)) ** 2
    else:
        logs = sorted((x, math.log(k)) for x, k in points)
        partly = math.exp(by_rows(logs, opening))
    return max(partly, fully), fully, check
