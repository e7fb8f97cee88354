"""Both times of the same jobs in one run: this program beside what a user would script with well-known libraries.

Usage: pip install "shapely>=2,<3" ortools highspy numpy && python benches/user_compare.py [SECONDS]

SECONDS (60) is how long each solver may look for whole numbers. `cargo bench --bench user` does our side; CARGO names another
command for it. Clipping: 10 000 strips against a wall with 20 openings, by shapely one by one and vectorised. Cutting: the
published order of paper rolls, and 200 distinct lengths of 5 each, by column generation with HiGHS (prices by a knapsack table,
then whole numbers over the patterns found) and by the textbook assignment model in CP-SAT. Wanted: ten times as fast at
clipping, twenty times at cutting.
"""

import os
import pathlib
import subprocess
import sys
import time

import highspy
import numpy
import shapely
from ortools.sat.python import cp_model

CLIPPING, CUTTING = 10, 20


def ours():
    """Name of each job: seconds and what came out."""
    root = pathlib.Path(__file__).resolve().parent.parent
    command = [os.environ.get("CARGO", "cargo"), "bench", "--quiet", "--bench", "user"]
    done = subprocess.run(command, cwd=root, check=True, capture_output=True, text=True)
    rows = [line.split("\t") for line in done.stdout.splitlines() if line.count("\t") == 2]
    return {name: (float(seconds), found) for name, seconds, found in rows}


def clock(job):
    begun = time.perf_counter()
    found = job()
    return time.perf_counter() - begun, found


def parts(shape):
    return 0 if shape.is_empty else len(getattr(shape, "geoms", [shape]))


def clips():
    holes = [[(30 + 58 * k, 60), (30 + 58 * k, 180), (60 + 58 * k, 180), (60 + 58 * k, 60)] for k in range(20)]
    wall = shapely.Polygon([(0, 0), (1200, 0), (1200, 270), (0, 270)], holes)
    strips = [shapely.box(k * 0.12, -0.5, k * 0.12 + 0.095, 270.5) for k in range(10_000)]
    one = clock(lambda: sum(parts(strip.intersection(wall)) for strip in strips))
    shapely.prepare(wall)
    together = clock(lambda: sum(map(parts, shapely.intersection(numpy.array(strips), wall))))
    return {"clip_one_by_one": one, "clip_together": together}


def paper():
    widths = [1380, 1520, 1560, 1710, 1820, 1880, 1930, 2000, 2050, 2100, 2140, 2150, 2200]
    return 5600, widths, [22, 25, 12, 14, 18, 18, 20, 10, 12, 14, 16, 18, 20]


def random_lengths():
    state, found = 7, set()
    while len(found) < 200:
        state = (state * 6364136223846793005 + 1442695040888963407) % 2**64
        found.add(300 + ((state >> 33) % 2400))
    return 6000, sorted(found), [5] * 200


def best_filling(stock, lengths, counts, prices):
    """The dearest filling of one length: a table over every millimetre."""
    worth, taken = numpy.zeros(stock + 1), []
    for length, count, price in zip(lengths, counts, prices):
        took, next_worth = numpy.zeros(stock + 1, dtype=numpy.int8), worth.copy()
        for pieces in range(1, min(count, stock // length) + 1):
            with_them = worth[: stock + 1 - pieces * length] + pieces * price
            stretch = next_worth[pieces * length :]
            better = with_them > stretch + 1e-12
            stretch[better] = with_them[better]
            took[pieces * length :][better] = pieces
        worth = next_worth
        taken.append(took)
    filling, room = [0] * len(lengths), stock
    for at in reversed(range(len(lengths))):
        filling[at] = int(taken[at][room])
        room -= filling[at] * lengths[at]
    return worth[stock], filling


def by_columns(stock, lengths, counts, seconds):
    solver = highspy.Highs()
    solver.setOptionValue("output_flag", False)
    for count in counts:
        solver.addRow(float(count), highspy.kHighsInf, 0, numpy.array([], dtype=numpy.int32), numpy.array([]))

    def add(filling):
        rows = [at for at, pieces in enumerate(filling) if pieces]
        amounts = numpy.array([float(filling[at]) for at in rows])
        solver.addCol(1.0, 0.0, highspy.kHighsInf, len(rows), numpy.array(rows, dtype=numpy.int32), amounts)

    for at, (length, count) in enumerate(zip(lengths, counts)):
        add([min(count, stock // length) if other == at else 0 for other in range(len(lengths))])
    while True:
        solver.run()
        prices = [max(0.0, price) for price in solver.getSolution().row_dual]
        worth, filling = best_filling(stock, lengths, counts, prices)
        if worth <= 1 + 1e-7:
            break
        add(filling)
    bound = solver.getInfo().objective_function_value
    for column in range(solver.getNumCol()):
        solver.changeColIntegrality(column, highspy.HighsVarType.kInteger)
    solver.setOptionValue("time_limit", float(seconds))
    solver.run()
    return f"{solver.getInfo().objective_function_value:.0f} of at least {bound:.2f}"


def by_assignment(stock, lengths, counts, seconds):
    rolls = sum(-(-count // (stock // length)) for length, count in zip(lengths, counts))
    rolls = min(rolls, 2 * -(-sum(length * count for length, count in zip(lengths, counts)) // stock))
    model = cp_model.CpModel()
    used = [model.NewBoolVar("") for _ in range(rolls)]
    cut = [[model.NewIntVar(0, min(count, stock // length), "") for _ in used] for length, count in zip(lengths, counts)]
    for roll, on in enumerate(used):
        model.Add(sum(length * cut[at][roll] for at, length in enumerate(lengths)) <= stock * on)
    for pieces, count in zip(cut, counts):
        model.Add(sum(pieces) == count)
    for one, next_one in zip(used, used[1:]):
        model.Add(one >= next_one)
    model.Minimize(sum(used))
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    status = solver.Solve(model)
    if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        return "nothing found"
    return f"{solver.ObjectiveValue():.0f} of at least {solver.BestObjectiveBound():.0f}"


def tell(job, tool, theirs, mine, wanted):
    times = theirs[0] / mine[0]
    met = "met" if times >= wanted else "MISSED"
    print(f"{job:16} {tool:24} {theirs[0]:9.3f} s ({theirs[1]})   ours {mine[0]:9.6f} s ({mine[1]})   {times:8.1f} times, {wanted} wanted: {met}")


def main():
    seconds = float(sys.argv[1]) if len(sys.argv) > 1 else 60
    mine = ours()
    for job, theirs in clips().items():
        tell(job, f"shapely {shapely.__version__}", theirs, mine[job], CLIPPING)
    for job, order in [("cut_paper13", paper()), ("cut_random200x5", random_lengths())]:
        tell(job, "HiGHS, columns", clock(lambda: by_columns(*order, seconds)), mine[job], CUTTING)
        tell(job, "CP-SAT, assignment", clock(lambda: by_assignment(*order, seconds)), mine[job], CUTTING)


if __name__ == "__main__":
    main()
