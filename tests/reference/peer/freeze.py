"""Keep the answers of this method for some layouts, for the tests of the program.

    venv/bin/python peer/freeze.py PROGRAM    # writes sample/answers.csv and sample/rows.csv
    venv/bin/python peer/freeze.py --check    # compares instead of writing

The layouts are those in sample/. What their runs take up is the program's own figure, and kept with the answers.
"""

import csv
import io
import math
import pathlib
import sys

from compare import computed, told

SAMPLE = pathlib.Path(__file__).parent / "sample"
ROW = ["id", "group", "what", "inputs", "expected", "unit", "tolerance", "source", "how"]
WHAT = "levels, heads and flows at rest and running that are within 1 mm and 0.5 %"
HOW = "computed with scipy 1.17.1, fluids 1.3.1 and iapws 1.5.5 (peer/freeze.py)"


def figures(answers, in_runs_m3):
    """(state, kind, part, value) of everything that the program is held to; an empty vessel stands at its floor."""
    yield "running", "in runs", "all", in_runs_m3
    for state, answer in answers.items():
        for vessel, level in answer.vessels.items():
            yield state, "level", vessel, max(level, answer.floors[vessel])
        for joint, head in answer.joints.items():
            if joint not in answer.dry_joints:
                yield state, "head", joint, head
        for run, flow in answer.flows.items():
            yield state, "flow", run, flow if abs(flow) > 1e-12 else 0.0


def kept():
    """What runs hold by layout, m³, as it is kept."""
    with open(SAMPLE / "answers.csv") as rows:
        return {row["layout"]: float(row["value"]) for row in csv.DictReader(rows) if row["kind"] == "in runs"}


def tables(in_runs_m3):
    answers, rows = [["layout", "state", "kind", "part", "value"]], [ROW]
    for file in sorted(SAMPLE.glob("*.ron")):
        held = in_runs_m3(file)
        found = [*figures(computed(file, held), held)]
        answers += [[file.name, state, kind, part, f"{value:.9g}"] for state, kind, part, value in found]
        name = "PEER-" + file.stem.removeprefix("plain-")
        inputs = f"file=peer/sample/{file.name}"
        rows.append([name, "layouts at random", WHAT, inputs, len(found), "figures", "0 abs", "laws of docs/method", HOW])
    return {"answers.csv": answers, "rows.csv": rows}


def text(table):
    out = io.StringIO()
    csv.writer(out, lineterminator="\n").writerows(table)
    return out.getvalue()


def same(made, kept):
    """The tables agree, numbers to 1e-4 of themselves: courses are followed to some hundredths of a millimetre."""
    made, kept = ([*csv.reader(io.StringIO(t))] for t in (made, kept))
    heads = [row[:-1] for row in made] == [row[:-1] for row in kept]
    near = lambda a, b: a == b or math.isclose(float(a), float(b), rel_tol=1e-4, abs_tol=1e-8)
    return heads and all(near(a[-1], b[-1]) for a, b in zip(made[1:], kept[1:]))


def main():
    if "--check" in sys.argv:
        held = kept()
        of = lambda file: held[file.name]
    else:
        of = lambda file: told(sys.argv[1], file)["running"]["in_runs_m3"]
    for name, table in tables(of).items():
        path = SAMPLE / name
        if "--check" not in sys.argv:
            path.write_text(text(table))
        elif not same(text(table), path.read_text()):
            sys.exit(f"{name} differs")
        else:
            print(f"{name} agrees")


if __name__ == "__main__":
    main()
