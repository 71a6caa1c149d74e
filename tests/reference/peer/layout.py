"""A layout as `fallwright convert FILE --to json` gives it, with its defaults filled in."""

import laws
import vessels
from chains import Chains
from refused import Refused
from run import Run

COEFFICIENTS = {"weir": 0.6, "orifice": 0.6, "entrance_k": 0.5, "exit_k": 1.0, "rim": 1.7}


class Layout:
    def __init__(self, given):
        coefficients = given.get("coefficients") or {}
        filled = {k: v for k, v in coefficients.items() if v is not None}
        self.coefficients = {**COEFFICIENTS, **filled}
        self.gravity = filled.get("gravity_m_s2", 9.80665)
        self.hazen_williams_k = (filled.get("hazen_williams") or {}).get("k", 10.67)
        self.friction = given.get("friction") or "darcy_weisbach"
        self.viscosity = viscosity(given.get("water") or {})
        if (given.get("weather") or {}).get("rain_m_s"):
            raise Refused("rain")
        kinds = [given.get(name) or [] for name in ("vessels", "joints", "fixed")]
        held, joints, fixed = kinds
        self.joints = {j["id"] for j in joints}
        self.parts = {part["id"]: part for kind in kinds for part in kind}
        # Unknown levels first, fixed ones behind them.
        self.number = {name: i for i, name in enumerate(self.parts)}
        self.vessels = [vessels.Vessel(v, self) for v in held]
        self.joint_ids = [j["id"] for j in joints]
        self.joint_heights = [j["elevation_m"] for j in joints]
        self.sources = [part.get("make_up_m3_s") or 0.0 for part in held + joints]
        self.fixed_levels = [f["level_m"] for f in fixed]
        self.fixed_ids = [f["id"] for f in fixed]
        self.runs = [Run(r, self) for r in given.get("runs") or []]
        self.chains = Chains(self.runs)
        self.beyond = [tuple(self.chains.beyond(n, last) for last in (False, True)) for n in range(len(self.runs))]


def viscosity(water):
    if water.get("kinematic_viscosity_m2_s"):
        return water["kinematic_viscosity_m2_s"]
    if water.get("salinity_g_kg"):
        raise Refused("salt water")
    temperature = water.get("temperature_c")
    return laws.viscosity(20.0 if temperature is None else temperature)
