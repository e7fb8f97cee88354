"""Heat in two dimensions by other means: Fourier's series, bilinear finite elements and plain volumes on scipy's sparse solver."""

import math
import random

import numpy as np
import scipy.sparse as sparse
import scipy.sparse.linalg as linear

import rows


def places(breaks, step):
    """Even steps of at most `step` between breaks."""
    lines = []
    for low, high in zip(breaks, breaks[1:]):
        count = max(2, math.ceil((high - low) / step - 1e-9))
        lines += [low + (high - low) * at / count for at in range(count)]
    return np.array(lines + [breaks[-1]])


def conductivity(regions, x, y):
    """Of the last region that holds the point."""
    found = 0.0
    for left, low, right, high, value in regions:
        if left < x < right and low < y < high:
            found = value
    return found


def elements(section, step):
    """Bilinear finite elements: flow of the first film in W/m, and temperatures at the points (which must lie on lines)."""
    regions, films, touches, points = (section[key] for key in ("regions", "films", "touches", "points"))
    breaks = [sorted({part[side] for part in regions + [t for t in touches] for side in sides} | {p[axis] for p in points})
              for axis, sides in enumerate(((0, 2), (1, 3)))]
    xs, ys = places(breaks[0], step), places(breaks[1], step)
    number = lambda i, j: j * len(xs) + i
    rows_, columns, values = [], [], []
    load = np.zeros(len(xs) * len(ys))
    used = np.zeros(len(load), bool)
    edge = np.array([[2, 1], [1, 2]]) / 6
    solid = lambda i, j: (0 <= i < len(xs) - 1 and 0 <= j < len(ys) - 1
                          and conductivity(regions, (xs[i] + xs[i + 1]) / 2, (ys[j] + ys[j + 1]) / 2))
    films_of = []
    for j in range(len(ys) - 1):
        for i in range(len(xs) - 1):
            value = solid(i, j)
            if not value:
                continue
            a, b = xs[i + 1] - xs[i], ys[j + 1] - ys[j]
            s = value / 6 * (b / a * np.array([[2, -2, -1, 1], [-2, 2, 1, -1], [-1, 1, 2, -2], [1, -1, -2, 2]])
                             + a / b * np.array([[2, 1, -1, -2], [1, 2, -2, -1], [-1, -2, 2, 1], [-2, -1, 1, 2]]))
            nodes = [number(i, j), number(i + 1, j), number(i + 1, j + 1), number(i, j + 1)]
            used[nodes] = True
            for r in range(4):
                for c in range(4):
                    rows_.append(nodes[r]); columns.append(nodes[c]); values.append(s[r, c])
            for way, pair, length in (((0, -1), (0, 1), a), ((1, 0), (1, 2), b), ((0, 1), (2, 3), a), ((-1, 0), (3, 0), b)):
                if solid(i + way[0], j + way[1]):
                    continue
                ends = [nodes[k] for k in pair]
                x = (xs[ends[0] % len(xs)] + xs[ends[1] % len(xs)]) / 2
                y = (ys[ends[0] // len(xs)] + ys[ends[1] // len(xs)]) / 2
                for left, low, right, high, film in touches:
                    if left - 1e-9 <= x <= right + 1e-9 and low - 1e-9 <= y <= high + 1e-9:
                        temperature, resistance = films[film]
                        for r in range(2):
                            load[ends[r]] += temperature * length / resistance / 2
                            for c in range(2):
                                rows_.append(ends[r]); columns.append(ends[c])
                                values.append(length / resistance * edge[r, c])
                        films_of.append((film, ends, length))
                        break
    free = np.flatnonzero(used)
    matrix = sparse.csc_matrix((values, (rows_, columns)), shape=(len(load),) * 2)[free][:, free]
    found = np.full(len(load), np.nan)
    found[free] = linear.spsolve(matrix, load[free])
    flow = sum(length / films[0][1] * (films[0][0] - found[ends].mean()) for film, ends, length in films_of if film == 0)
    at = lambda p: found[number(int(np.argmin(abs(xs - p[0]))), int(np.argmin(abs(ys - p[1]))))]
    return flow, [at(p) for p in points]


def volumes(xs, ys, values, inside, outside):
    """Volumes on given lines, inside on the left, outside on the right: flow in W/m and the temperatures of all cells."""
    nx, ny = len(xs) - 1, len(ys) - 1
    dx, dy = np.diff(xs), np.diff(ys)
    matrix, load = sparse.lil_matrix((nx * ny, nx * ny)), np.zeros(nx * ny)
    for j in range(ny):
        for i in range(nx):
            own = j * nx + i
            for di, dj in ((1, 0), (0, 1)):
                if i + di < nx and j + dj < ny:
                    other = (j + dj) * nx + i + di
                    far, near = values[j + dj][i + di], values[j][i]
                    length, a, b = (dy[j], dx[i], dx[i + 1]) if di else (dx[i], dy[j], dy[j + 1])
                    through = length / (a / 2 / near + b / 2 / far)
                    for one, two in ((own, other), (other, own)):
                        matrix[one, one] += through
                        matrix[one, two] -= through
            for at, (temperature, resistance) in ((0, inside), (nx - 1, outside)):
                if i == at:
                    through = dy[j] / (dx[i] / 2 / values[j][i] + resistance)
                    matrix[own, own] += through
                    load[own] += through * temperature
    found = linear.spsolve(matrix.tocsc(), load)
    first = found[::nx]
    flow = sum(dy[j] / (dx[0] / 2 / values[j][0] + inside[1]) * (inside[0] - first[j]) for j in range(ny))
    return flow, found


def series(x, y):
    """Half a square column, half as wide as high: 20 °C above, 0 °C on the left and below, nothing passes on the right."""
    total = 0.0
    for n in range(1, 400, 2):
        depth = n * math.pi * y / 2
        # sinh(n pi (2-y)/2) / sinh(n pi), without numbers too large to hold.
        ratio = math.exp(-depth) * (1 - math.exp(-2 * (n * math.pi - depth))) / (1 - math.exp(-2 * n * math.pi))
        total += 80 / (n * math.pi) * math.sin(n * math.pi * x / 2) * ratio
    return total


def rounded(numbers, digits):
    return [round(float(number), digits) for number in numbers]


def case(check, sum_, source, tag, unit, tolerance, section, expected, **more):
    return {"check": check, "sum": sum_, "source": source, "tag": tag, "unit": unit, "tolerance": tolerance,
            "inputs": section | more, "expected": expected}


CASES = []

# 1. Half square column. x from the left, y from below here; the table counts from the top.
COLUMN = {
    "regions": [[0, 0, 1, 2, 1.0]],
    "films": [[20, 0.0], [0, 0.0]],
    "touches": [[0, 2, 1, 2, 0], [0, 0, 0, 2, 1], [0, 0, 1, 0, 1]],
    "parts": 64,
    "points": [[x / 4, 2 - y / 4] for y in range(1, 8) for x in range(1, 5)],
}
TABLE = [9.7, 13.4, 14.7, 15.1, 5.3, 8.6, 10.3, 10.8, 3.2, 5.6, 7.0, 7.5, 2.0, 3.6, 4.7, 5.0, 1.3, 2.3, 3.0, 3.2,
         0.7, 1.4, 1.8, 1.9, 0.3, 0.6, 0.8, 0.9]
exact = [series(x, 2 - y) for x, y in COLUMN["points"]]
assert max(abs(a - b) for a, b in zip(exact, TABLE)) < 0.05
CASES.append(case("ISO 10211:2017 case 1: temperatures of the half square column", "temperatures",
                  "table from memory, which agrees with Fourier's series to its last digit; limit 0.1 K of the standard, from memory",
                  "V", "°C", 0.1, COLUMN, TABLE))
CASES.append(case("Half square column against Fourier's series", "temperatures", "series of 200 terms, conduction.py", "V", "°C",
                  0.01, COLUMN, rounded(exact, 6)))

# 2. Four materials, from memory: concrete, wood, insulation, and a profile of aluminium.
FOUR = {
    "regions": [[0, 0, 0.5, 0.0475, 0.029], [0, 0.0415, 0.5, 0.0475, 1.15], [0, 0.0365, 0.015, 0.0415, 0.12],
                [0, 0.035, 0.015, 0.0365, 230], [0, 0.0, 0.0015, 0.0365, 230], [0, 0.0, 0.5, 0.0015, 230]],
    "films": [[20, 0.11], [0, 0.06]],
    "touches": [[0, 0, 0.5, 0, 0], [0, 0.0475, 0.5, 0.0475, 1]],
    "points": [[0, 0.0475], [0.5, 0.0475], [0, 0.0415], [0.015, 0.0415], [0.5, 0.0415], [0, 0.0365], [0.015, 0.0365],
               [0, 0], [0.5, 0]],
}
MEMORY = "section, temperatures and flow from memory; no page was seen"
CASES.append(case("ISO 10211:2017 case 2: temperatures at A to I", "temperatures", MEMORY, "M", "°C", 0.1, FOUR,
                  [7.1, 0.8, 7.9, 6.3, 0.8, 16.4, 16.3, 16.8, 18.3], parts=32))
CASES.append(case("ISO 10211:2017 case 2: flow", "flow", MEMORY, "M", "W/m", 0.1, FOUR, [9.5], parts=32))
flow, temperatures = elements(FOUR, 0.0005)
CASES.append(case("The same section by finite elements: temperatures", "temperatures", "bilinear elements of 0.5 mm, conduction.py",
                  "V", "°C", 0.05, FOUR, rounded(temperatures, 4), parts=32))
CASES.append(case("The same section by finite elements: flow", "flow", "bilinear elements of 0.5 mm, conduction.py", "V", "W/m",
                  "0.3 %", FOUR, rounded([flow], 5), parts=32))

# 3. Stud wall, half a bay: outside on the left.
STUD = {
    "regions": [[0, 0, 0.011, 0.203, 0.13], [0.011, 0, 0.151, 0.203, 0.035], [0.011, 0, 0.151, 0.019, 0.12],
                [0.151, 0, 0.1635, 0.203, 0.25]],
    "films": [[20, 0.13], [-10, 0.13]],
    "touches": [[0.1635, 0, 0.1635, 0.203, 0], [0, 0, 0, 0.203, 1]],
    "points": [[0.1635, 0], [0.1635, 0.203], [0.011, 0], [0.011, 0.203]],
}
WORKED = "made here; worked elsewhere by bilinear finite elements on two meshes that agree to 1e-5"
CASES.append(case("Half a stud bay: flow", "flow", WORKED, "V", "W/m", "0.1 %", STUD, [1.6412]))
CASES.append(case("Half a stud bay: U", "transmittance", WORKED, "V", "W/(m²·K)", "0.1 %", STUD, [0.26949], height=0.203))
CASES.append(case("Half a stud bay: inner surface and inner face of the sheathing", "temperatures", WORKED, "V", "°C", 0.03, STUD,
                  [18.185, 19.112, -6.715, -8.533]))
again, _ = elements(STUD, 0.002)
assert abs(again - 1.6412) < 2e-4, again

# 4. A corner of a wall with a slab that passes the insulation: re-entrant, several films.
SLAB = {
    "regions": [[0, 0, 0.2, 1.2, 0.8], [0.2, 0, 0.3, 1.2, 0.035], [0, 0.5, 0.3, 0.7, 2.3], [-0.8, 0.5, 0, 0.7, 2.3]],
    "films": [[20, 0.13], [-10, 0.04], [18, 0.17]],
    "touches": [[-0.8, 0.7, 0, 1.2, 0], [0.3, 0, 0.3, 1.2, 1], [-0.8, 0, 0, 0.5, 2]],
    "points": [[0, 0.7], [0, 0.5], [0.2, 0.6], [0.3, 0.6], [0, 1.2], [-0.8, 0.7]],
}
flow, temperatures = elements(SLAB, 0.004)
CASES.append(case("A slab through the insulation, three temperatures: flow from the upper room", "flow",
                  "bilinear elements of 4 mm, conduction.py", "V", "W/m", "0.5 %", SLAB, rounded([flow], 4)))
CASES.append(case("A slab through the insulation, three temperatures: temperatures", "temperatures",
                  "bilinear elements of 4 mm, conduction.py", "V", "°C", 0.1, SLAB, rounded(temperatures, 4)))

# 5. Patchworks: the same volumes, put together and solved by scipy.
chance = random.Random(10211)
for turn in range(4):
    steps = lambda count: [0.0] + list(np.round(np.cumsum([chance.randint(10, 80) / 1000 for _ in range(count)]), 3))
    xs, ys = steps(12), steps(9)
    values = [[round(math.exp(chance.uniform(math.log(0.02), math.log(50))), 4) for _ in xs[1:]] for _ in ys[1:]]
    patch = {
        "regions": [[xs[i], ys[j], xs[i + 1], ys[j + 1], values[j][i]] for j in range(len(ys) - 1) for i in range(len(xs) - 1)],
        "films": [[20, 0.13], [-10, 0.04]],
        "touches": [[0, 0, 0, ys[-1], 0], [xs[-1], 0, xs[-1], ys[-1], 1]],
        "points": [[(xs[i] + xs[i + 1]) / 2, (ys[j] + ys[j + 1]) / 2] for i, j in ((0, 0), (5, 4), (11, 8), (3, 7))],
        "parts": 1,
    }
    flow, found = volumes(xs, ys, values, (20, 0.13), (-10, 0.04))
    SOURCE = "scipy.sparse.linalg.spsolve on the same volumes, conduction.py"
    CASES.append(case(f"Patchwork {turn + 1} of 108 materials: flow", "flow", SOURCE, "V", "W/m", 1e-6, patch, rounded([flow], 7)))
    CASES.append(case(f"Patchwork {turn + 1} of 108 materials: temperatures", "temperatures", SOURCE, "V", "°C", 1e-5, patch,
                      rounded([found[j * 12 + i] for i, j in ((0, 0), (5, 4), (11, 8), (3, 7))], 6)))

# 6. Layers in a row.
LAYERS = [(0.0125, 0.25), (0.14, 0.035), (0.011, 0.13), (0.076, 0.034), (0.019, 0.12)]
edges = [sum(t for t, _ in LAYERS[:k]) for k in range(len(LAYERS) + 1)]
resistance = 0.17 + sum(t / value for t, value in LAYERS)
ROW = {
    "regions": [[edges[k], 0, edges[k + 1], 0.6, value] for k, (_, value) in enumerate(LAYERS)],
    "films": [[20, 0.13], [-10, 0.04]],
    "touches": [[0, 0, 0, 0.6, 0], [edges[-1], 0, edges[-1], 0.6, 1]],
    "points": [],
}
CASES.append(case("Five layers in a row: U", "transmittance", "resistances in a row, by hand", "V", "W/(m²·K)", 1e-9, ROW,
                  [round(1 / resistance, 12)], height=0.6))

rows.write(__file__, "Heat in two dimensions", CASES)
