"""The two ends of a run: where they stand, what they take in, how they let water out."""

import math
from dataclasses import dataclass
from typing import Callable, Optional

import laws
from refused import Refused

NOWHERE = -math.inf
#: How much more than a lip an end deep under water takes in.
DEEP = 5000.0


@dataclass
class End:
    """One end of a run. `turned` is how it lets water out: up, down, horizontal, under (water), unknown
    (under water at a height that was not given), joint."""

    at: str
    place: tuple
    height_m: float  # where the pipe begins
    lip_m: float  # what it discharges against at least; -inf: nothing
    draws_over_m: float
    turned: str
    bore_m: float
    inlet: Optional[Callable]  # head over `draws_over_m` by flow; none: no limit
    entrance_k: float
    exit_k: float
    draws: bool = True
    vented: bool = False


def kind_of(opening):
    """Word and fields of a kind, which may be a text alone."""
    if opening is None:
        return "submerged", {}
    if isinstance(opening, str):
        return opening, {}
    (word, fields), = opening.items()
    return word, fields or {}


def deep_head(bore, coefficients, gravity):
    weir, orifice = DEEP * coefficients["weir"], DEEP * coefficients["orifice"]
    return laws.lip_head(bore, weir, orifice, gravity)


def joint_end(part, bore):
    """A joint's height is the centre of its pipes; the run begins at its own invert there."""
    invert, vented = part["elevation_m"] - bore / 2, bool(part.get("vented"))
    return End(part["id"], plan(part), invert, NOWHERE, NOWHERE, "joint", bore, None, 0.0, 0.0, True, vented)


def plan(part, end=None):
    place = (end or {}).get("place") or part.get("place") or {}
    return place.get("x_m", 0.0), place.get("y_m", 0.0)


def opening_end(end, part, bore, coefficients, gravity):
    """An end at a vessel or a fixed level."""
    if end.get("screen"):
        raise Refused("a screen")
    word, given = kind_of(end.get("opening"))
    own = given.get("bore_m") or bore
    lip = lambda: laws.lip_head(own, coefficients["weir"], coefficients["orifice"], gravity)
    hole = lambda: laws.hole_head(own, coefficients["entrance_k"], coefficients["orifice"], gravity)
    draws = True
    if word == "upstand":
        height, turned, inlet = given["crest_m"], "up", lip()
    elif word == "side_hole":
        height, turned, inlet = given["invert_m"], "horizontal", hole()
    elif word == "floor":
        height, turned, inlet = given.get("lip_m"), "up", lip()
        height = part["floor_m"] if height is None else height
    elif word == "mouth":
        turned = given.get("turned", "horizontal")
        height, inlet = given["lip_m"], hole() if turned == "horizontal" else lip()
        draws = not given.get("air_gap", False)
    elif word == "submerged":
        height, turned, inlet = given.get("lip_m"), "under", None
    else:
        raise Refused(f"opening {word}")
    lip_m = NOWHERE if height is None else height
    if height is None:
        turned = "unknown"
        height = part["floor_m"] if "floor_m" in part else part["level_m"]
    k_in, k_out = coefficients["entrance_k"], coefficients["exit_k"]
    # A vessel gives what stands over its floor; an end deep under water takes it to the last, or down to its lip.
    draws_over = max(lip_m, part.get("floor_m", NOWHERE))
    if inlet is None and draws_over != NOWHERE:
        inlet = deep_head(own, coefficients, gravity)
    return End(part["id"], plan(part, end), height, lip_m, draws_over, turned, own, inlet, k_in, k_out, draws)
