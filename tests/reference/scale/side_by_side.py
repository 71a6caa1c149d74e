"""Solves large networks with the program and with the peer, one after the other, and prints a table.

    python tests/reference/scale/side_by_side.py [--sizes 1000,10000,100000] [--families NAME,NAME]

Fails where the heads of the two part by more than 1e-5 m. Seconds are those of the processor, so that
other work on the machine counts as little as may be; each is the least of some repeats.
"""

import argparse
import json
import math
import os
import subprocess
import sys
import tempfile
from pathlib import Path

import numpy as np

HERE = Path(__file__).resolve().parent
ROOT = HERE.parents[2]
MOST_APART_M = 1e-5
# Their factors fill in: the first is too much for either, the second for the peer.
TOO_MUCH = {("scale-free", 100_000)}
TOO_MUCH_FOR_THE_PEER = {("cubic-lattice", 100_000)}
HEADINGS = (
    "family nodes runs steps peer-steps program-s peer-s ratio as-it-comes-s ratio jump/linear jump/library growth MB peer-MB apart-m"
).split()


def engine():
    """The path of the bench, built."""
    build = ["cargo", "bench", "--no-run", "--bench", "scale", "--message-format", "json"]
    out = subprocess.run(build, cwd=ROOT, check=True, stdout=subprocess.PIPE, text=True).stdout
    found = [json.loads(line) for line in out.splitlines() if line.startswith("{")]
    return [m["executable"] for m in found if m.get("target", {}).get("name") == "scale" and m.get("executable")][-1]


def said(*command):
    alone = dict(os.environ, OMP_NUM_THREADS="1", OPENBLAS_NUM_THREADS="1")
    words = [str(word) for word in command]
    return subprocess.run(words, check=True, stdout=subprocess.PIPE, text=True, env=alone).stdout


def compared(program, family, nodes, directory):
    """Both, one after the other: what each said, and how far their heads are apart."""
    repeats = max(1 if nodes > 50_000 else 3, 25_000 // nodes)
    said(program, "write", family, nodes, directory)
    ours = json.loads(said(program, "solve", family, nodes, min(2 * repeats, 9), directory))
    if (family, nodes) in TOO_MUCH_FOR_THE_PEER:
        return ours, None, math.nan
    heads = np.fromfile(directory / "heads.f64")
    peer = json.loads(said(sys.executable, HERE / "peer.py", directory, min(repeats, 5)))
    apart = float(np.abs(heads - np.fromfile(directory / "heads.f64")).max())
    plain = json.loads(said(sys.executable, HERE / "peer.py", directory, min(repeats, 2), "as-it-comes"))
    peer["plain_s"] = plain["cpu_s"]
    return ours, peer, apart


def row(family, ours, peer, apart, before):
    linear = ours["steps"] * ours["factor_s"]
    library = ours["steps"] * ours["library_s"]
    growth = math.nan
    if before:
        growth = math.log(ours["cpu_s"] / before["cpu_s"]) / math.log(ours["nodes"] / before["nodes"])
    cells = [family, str(ours["nodes"]), str(ours["runs"]), str(ours["steps"])]
    cells += [str(peer["steps"]) if peer else "-", f"{ours['cpu_s']:.4f}"]
    cells += [f"{peer['cpu_s']:.4f}", f"{peer['cpu_s'] / ours['cpu_s']:.1f}"] if peer else ["-", "-"]
    cells += [f"{peer['plain_s']:.4f}", f"{peer['plain_s'] / ours['cpu_s']:.1f}"] if peer else ["-", "-"]
    cells += [f"{ours['jump_s'] / linear:.2f}", f"{ours['jump_s'] / library:.2f}", f"{growth:.2f}", f"{ours['peak_mb']:.0f}"]
    cells += [f"{peer['peak_mb']:.0f}" if peer else "-", f"{apart:.0e}"]
    return "| " + " | ".join(cells) + " |"


def main():
    words = argparse.ArgumentParser()
    words.add_argument("--sizes", default="1000,10000,100000")
    words.add_argument("--families", default="")
    words.add_argument("--engine", default="")
    asked = words.parse_args()
    program = asked.engine or engine()
    names = [line.split()[0] for line in said(program, "list").splitlines()]
    wanted = [name for name in asked.families.split(",") if name] or names
    print("| " + " | ".join(HEADINGS) + " |\n|" + "---|" * len(HEADINGS))
    worst = 0.0
    for family in wanted:
        before = None
        for nodes in map(int, asked.sizes.split(",")):
            if (family, nodes) in TOO_MUCH:
                continue
            with tempfile.TemporaryDirectory() as directory:
                ours, peer, apart = compared(program, family, nodes, Path(directory))
            print(row(family, ours, peer, apart, before), flush=True)
            before, worst = ours, max(worst, 0.0 if math.isnan(apart) else apart)
    print(f"\nheads apart by at most {worst:.1e} m")
    sys.exit(worst > MOST_APART_M)


if __name__ == "__main__":
    main()
