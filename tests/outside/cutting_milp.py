"""Makes cutting_milp.json: random small cutting orders and their optima by an exact whole-number program.

Usage: python cutting_milp.py   (needs scipy; writes beside itself; the same bytes every time)

Every way of filling one length that takes no further piece is written down; HiGHS then chooses how often each is cut, in
whole numbers and to a gap of nothing. The saw's cut is added to every piece and once to the stock. Lengths are millimetres.
"""

import json
import pathlib
import random

import numpy
import scipy
from scipy.optimize import Bounds, LinearConstraint, milp

random.seed(71530)
CASES = 80


def fillings(widths, counts, room):
    """Every filling of `room` that takes no further piece, by counts."""
    found = []

    def fill(at, left, taken):
        if at == len(widths):
            full = all(width > left or took == count for width, took, count in zip(widths, taken, counts))
            if full and any(taken):
                found.append(tuple(taken))
            return
        for took in range(min(counts[at], left // widths[at]) + 1):
            fill(at + 1, left - took * widths[at], taken + [took])

    fill(0, room, [])
    return found


def optimum(case):
    widths = [length + case["kerf"] for length, _ in case["wants"]]
    counts = [count for _, count in case["wants"]]
    ways = [(cost, way) for length, cost in case["stocks"] for way in fillings(widths, counts, length + case["kerf"])]
    costs = numpy.array([cost for cost, _ in ways], dtype=float)
    matrix = numpy.array([way for _, way in ways], dtype=float).T
    solved = milp(
        costs,
        integrality=numpy.ones(len(ways)),
        bounds=Bounds(0, numpy.inf),
        constraints=LinearConstraint(matrix, lb=counts),
        options={"mip_rel_gap": 0.0},
    )
    assert solved.status == 0, solved.message
    times = [round(times) for times in solved.x]
    for at, count in enumerate(counts):
        assert sum(time * way[at] for time, (_, way) in zip(times, ways)) >= count
    return sum(time * cost for time, (cost, _) in zip(times, ways))


def order(number):
    """In turn: one length, one length counted in pieces, two or three by length, two or three by price."""
    kind = number % 4
    lengths = sorted(random.sample([2440, 3050, 3660, 4270, 4880, 5490, 6100], 1 if kind < 2 else random.randint(2, 3)))
    if kind == 3:
        # Longer boards cost more by the metre, as they do.
        costs = [round(length * random.uniform(0.95, 1.25) * (1 + length / 60_000)) for length in lengths]
    else:
        costs = [1 if kind == 1 else length for length in lengths]
    # Longer pieces than a third of the stock make hard orders; shorter ones make many fillings.
    least = max(lengths) // random.choice([3, 4, 6])
    wanted = random.sample(range(least, min(max(lengths), 4400)), random.randint(3, 8))
    wants = [[length, random.randint(1, 14)] for length in sorted(wanted, reverse=True)]
    return {"kerf": random.choice([0, 2, 3, 4]), "stocks": list(map(list, zip(lengths, costs))), "wants": wants}


def main():
    cases = []
    for number in range(CASES):
        case = order(number)
        case["optimum"] = optimum(case)
        cases.append(case)
    head = {
        "source": "every filling written down, chosen by HiGHS in whole numbers, made by cutting_milp.py",
        "units": "lengths in mm; stocks as length and cost, wants as length and count",
    }
    rows = ",\n".join(json.dumps(case) for case in cases)
    text = "{" + json.dumps(head)[1:-1] + ', "cases": [\n' + rows + "\n]}\n"
    pathlib.Path(__file__).with_name("cutting_milp.json").write_text(text, encoding="utf-8")


if __name__ == "__main__":
    print("scipy", scipy.__version__)
    main()
