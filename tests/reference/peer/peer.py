"""Compare the program with this method, layout by layout.

    venv/bin/python peer/peer.py PROGRAM FOLDER [--csv SUMMARY] [--jobs 2] [--first 0] [--count N]

FOLDER holds layouts (`*.ron`, `*.json`). The exit code is 1 where anything differs or breaks.
"""

import argparse
import csv
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


def main():
    given = words()
    files = sorted(f for f in given.folder.iterdir() if f.suffix in (".ron", ".json"))
    files = files[given.first :][: given.count]
    if not files:
        sys.exit(f"no layouts in {given.folder}")
    counts, rows = {}, []
    with ProcessPoolExecutor(given.jobs) as pool:
        for file, verdict, why, found, took in pool.map(one, [(given.program, f) for f in files]):
            counts[verdict] = counts.get(verdict, 0) + 1
            flow, level = worst(found, "flow"), worst(found, "level")
            rows.append((file.name, verdict, f"{flow:.2e}", f"{level:.2e}", f"{took:.1f}", why.split("\n")[0] if verdict == "refused" else ""))
            if verdict != "agrees":
                print(f"{file.name}: {verdict}: {why}", flush=True)
    report(counts, rows)
    if given.csv:
        with given.csv.open("w", newline="") as out:
            writer = csv.writer(out, lineterminator="\n")
            writer.writerow(["layout", "verdict", "flow_share", "level_m", "seconds", "why"])
            writer.writerows(rows)
    sys.exit(0 if set(counts) <= {"agrees", "refused"} else 1)


def report(counts, rows):
    seen = [row for row in rows if row[1] in ("agrees", "differs")]
    print(f"compared {len(seen)}, agreeing {counts.get('agrees', 0)}, differing {counts.get('differs', 0)}, "
          f"refused {counts.get('refused', 0)}, broken {counts.get('broken', 0)}")
    for column, what, unit in ((2, "flow difference", "of it"), (3, "level difference", "m")):
        row = max(seen, key=lambda r: float(r[column]), default=None)
        if row:
            print(f"worst {what}: {float(row[column]):.2e} {unit} in {row[0]}")
    print(f"processor time a layout: {sum(float(r[4]) for r in rows) / len(rows):.1f} s")


if __name__ == "__main__":
    main()
