"""What the program says of a layout, and where it differs from the other method."""

import json
import math
import subprocess

import ron
import states
from layout import Layout
from refused import Refused

FLOW_SHARE, FLOW_FLOOR_M3_S = 0.005, 1e-7
LEVEL_M = 1e-3
STATES = ("rest", "running")


def asked(program, *words):
    done = subprocess.run([program, *words], capture_output=True, text=True, timeout=300)
    if done.returncode not in (0, 1):
        raise RuntimeError(f"{' '.join(words)}: {done.stdout.strip()} {done.stderr.strip()}")
    return json.loads(done.stdout)


def told(program, file):
    """What the program says: by state, vessels, joints and flows by id."""
    said = {}
    for state in STATES:
        report = asked(program, "check", str(file), "--json", "--state", state)["states"].get(state)
        if report is None or not report["converged"]:
            raise RuntimeError(f"the program did not solve {state}")
        said[state] = {
            "vessels": {v["id"]: v["level_m"] for v in report["vessels"]},
            "joints": {j["id"]: j["head_m"] for j in report["joints"]},
            "flows": {r["id"]: r["flow_m3_s"] for r in report["runs"]},
            "cycle": report["cycle"] is not None,
            "outcome": report["outcome"],
            "in_runs_m3": report["in_runs_m3"],
        }
    return said


def computed(file, in_runs_m3):
    return states.solve(Layout(ron.layout(file)), in_runs_m3)


def differences(state, said, answer):
    """Everything that differs: (kind, id, the program's, the peer's, how much)."""
    found = []
    for vessel, level in answer.vessels.items():
        # A level under the floor is a device of either solver: both say that the vessel is empty.
        floor, program = answer.floors[vessel], said["vessels"][vessel]
        program = program if program is None else max(program, floor)
        found.append(("level", vessel, program, max(level, floor)))
    for joint, head in answer.joints.items():
        if joint not in answer.dry_joints:
            found.append(("head", joint, said["joints"][joint], head))
    for run, flow in answer.flows.items():
        found.append(("flow", run, said["flows"][run], flow))
    unlike = [Unlike(state, said["outcome"], answer.outcome)] if said["outcome"] != answer.outcome else []
    return unlike + [Difference(state, *one) for one in found]


class Unlike:
    """Air stands in the one and not in the other."""

    kind, bad, away, share = "outcome", True, 0.0, 0.0

    def __init__(self, state, program, peer):
        self.text = f"{state} outcome: program {program}, peer {peer}"

    def __str__(self):
        return self.text


class Difference:
    def __init__(self, state, kind, part, program, peer):
        self.state, self.kind, self.part, self.program, self.peer = state, kind, part, program, peer
        away = math.inf if program is None else abs(program - peer)
        self.away = away
        if kind == "flow":
            self.bad = not away <= FLOW_FLOOR_M3_S + FLOW_SHARE * abs(peer)
            self.share = away / abs(peer) if abs(peer) > 20 * FLOW_FLOOR_M3_S else 0.0
        else:
            self.bad = not away <= LEVEL_M

    def __str__(self):
        return f"{self.state} {self.kind} {self.part}: program {self.program}, peer {self.peer:.9g}"


def compared(program, file):
    """Refused(why), or a list of all `Difference`s."""
    said = told(program, file)
    try:
        answers = computed(file, said["running"]["in_runs_m3"])
    except Refused as why:
        return why
    found = []
    for state in STATES:
        if said[state]["cycle"]:
            return Refused("the program finds a cycle")
        found += differences(state, said[state], answers[state])
    return found
