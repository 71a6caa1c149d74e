"""Compare the program with this method, layout by layout.

    venv/bin/python peer/peer.py PROGRAM FOLDER [--csv SUMMARY] [--jobs 2] [--first 0] [--count N]

FOLDER holds layouts (`*.ron`, `*.json`). The exit code is 1 where anything differs or breaks.
"""

import argparse
import csv
import os
import pathlib
import signal
import sys
import time
import traceback
from concurrent.futures import ProcessPoolExecutor

from compare import compared
from refused import Refused

#: Processor time after which a layout counts as broken, s.
LONGEST_S = 90

def too_long(*_):
    raise TimeoutError(f"more than {LONGEST_S} s of processor time")


def one(job):
    program, file = job
    start = time.process_time()
    signal.signal(signal.SIGVTALRM, too_long)
    signal.setitimer(signal.ITIMER_VIRTUAL, LONGEST_S)
    try:
        found = compared(program, file)
    except Exception:  # a break is counted as such, and is never a pass
        return file, "broken", traceback.format_exc(limit=3), [], time.process_time() - start
    took = time.process_time() - start
    if isinstance(found, Refused):
        return file, "refused", str(found), [], took
    bad = [d for d in found if d.bad]
    return file, "differs" if bad else "agrees", "; ".join(map(str, bad)), found, took


def worst(found, kind):
    values = [d.share if kind == "flow" else d.away for d in found if (d.kind == "flow") == (kind == "flow")]
    return max(values, default=0.0)


def words():
    parser = argparse.ArgumentParser()
    parser.add_argument("program")
    parser.add_argument("folder", type=pathlib.Path)
    parser.add_argument("--csv", type=pathlib.Path)
    parser.add_argument("--jobs", type=int, default=2)
    parser.add_argument("--first", type=int, default=0)
    parser.add_argument("--count", type=int)
    return parser.parse_args()


def judged(files, program, jobs):
    """A row for each layout, as soon as it is there; what is not plain agreement is printed."""
    with ProcessPoolExecutor(jobs) as pool:
        for file, verdict, why, found, took in pool.map(one, [(program, f) for f in files]):
            if verdict != "agrees":
                print(f"{file.name}: {verdict}: {why}", flush=True)
            figures = f"{worst(found, 'flow'):.2e}", f"{worst(found, 'level'):.2e}"
            yield file.name, verdict, len(found), *figures, f"{took:.1f}", why.split("; ")[0].strip().split("\n")[-1]


def main():
    given = words()
    files = sorted(f for f in given.folder.iterdir() if f.suffix in (".ron", ".json"))
    files = files[given.first :][: given.count]
    if not files:
        sys.exit(f"no layouts in {given.folder}")
    rows = []
    with open(given.csv or os.devnull, "w", newline="") as out:
        writer = csv.writer(out, lineterminator="\n")
        writer.writerow(["layout", "verdict", "figures", "flow_share", "level_m", "seconds", "why"])
        for row in judged(files, given.program, given.jobs):
            rows.append(row)
            writer.writerow(row)
            out.flush()
    report(rows)
    sys.exit(0 if {row[1] for row in rows} <= {"agrees", "refused"} else 1)


def report(rows):
    count = lambda verdict: sum(row[1] == verdict for row in rows)
    seen = [row for row in rows if row[1] in ("agrees", "differs")]
    print(f"compared {len(seen)} ({sum(row[2] for row in seen)} figures), agreeing {count('agrees')}, "
          f"differing {count('differs')}, refused {count('refused')}, broken {count('broken')}")
    for column, what, unit in ((3, "flow difference", "of it"), (4, "level difference", "m")):
        row = max(seen, key=lambda r: float(r[column]), default=None)
        if row:
            print(f"worst {what}: {float(row[column]):.2e} {unit} in {row[0]}")
    print(f"processor time of this method: {sum(float(r[5]) for r in rows) / len(rows):.1f} s a layout")


if __name__ == "__main__":
    main()
