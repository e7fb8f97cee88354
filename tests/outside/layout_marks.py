"""Makes layout_marks.json: marks, free areas and courses worked out with exact fractions and by trying everything.

Usage: python layout_marks.py   (standard library only; writes beside itself; the same bytes every time)

Lengths are whole nanometres. A mark that is no whole number of nanometres is rounded once, half away from zero. Courses
are found by trying every exposure (steps of 0.1 mm) and, where the first line is free, every start (steps of 0.1 mm).
"""

import json
import math
import pathlib
import random
from fractions import Fraction

MM = 1_000_000
INCH = 25_400_000
random.seed(40610)


def rounded(value):
    """Half away from zero."""
    return math.floor(value + Fraction(1, 2)) if value >= 0 else -math.floor(-value + Fraction(1, 2))


def length(low, high):
    """Between two lengths in millimetres: a quarter millimetre or a sixteenth of an inch, as on a tape."""
    if random.random() < 0.5:
        return random.randint(low * 4, high * 4) * MM // 4
    return random.randint(low * MM * 16 // INCH + 1, high * MM * 16 // INCH) * INCH // 16


def both_ends():
    piece, end, most = length(600, 6100), length(20, 90), length(150, 620)
    clear = Fraction(piece - 2 * end)
    spaces = math.ceil(clear / most)
    marks = [rounded(end + k * clear / spaces) for k in range(spaces + 1)]
    return {"piece": piece, "end": end, "most": most}, marks


def from_first():
    piece, first, spacing, end = length(900, 6100), length(20, 400), length(150, 620), length(20, 90)
    marks, k = [], 0
    while first + k * spacing <= piece - end:
        marks.append(first + k * spacing)
        k += 1
    return {"piece": piece, "first": first, "spacing": spacing, "end": end}, marks


def strips(from_x, to_x):
    """Furring of one width at one spacing, one strip moved a little, as on any real wall."""
    width, spacing = random.choice([38, 64, 89]) * MM, length(300, 620)
    centres = [k * spacing for k in range(to_x // spacing + 2)]
    moved = random.randrange(1, len(centres))
    centres[moved] += random.randint(-40, 40) * MM
    return width, sorted(centres)


def on_supports():
    start, piece, end = length(20, 900), length(1200, 4900), length(20, 90)
    width, centres = strips(start, start + piece)
    marks = [c - start for c in centres if start + end <= c <= start + piece - end]
    return {"start": start, "piece": piece, "end": end, "width": width, "centres": centres}, marks


def between_supports():
    start, piece, hole = length(20, 900), length(1200, 4900), random.choice([6, 8, 10, 12]) * MM
    width, centres = strips(start, start + piece)
    centres = [c for c in centres if start < c - width // 2 and c + width // 2 < start + piece]
    edges = [start] + [x for c in centres for x in (c - width // 2, c + width // 2)] + [start + piece]
    marks = []
    for left, right in zip(edges[::2], edges[1::2]):
        if right - left >= hole + 2 * 5 * MM:
            # Half a nanometre is cut off: marks of weeps are whole.
            marks.append((left + right) // 2 - start)
    return {"start": start, "piece": piece, "hole": hole, "width": width, "centres": centres}, marks


def studs():
    width, spacing = 3 * INCH // 2, random.choice([16, 19.2, 24])
    spacing = int(Fraction(str(spacing)) * INCH)
    near = spacing - width // 2
    wall = length(2400, 9800)
    marks, k = {width // 2, wall - width // 2}, 0
    while near + width // 2 + k * spacing <= wall - width // 2:
        marks.add(near + width // 2 + k * spacing)
        k += 1
    return {"width": width, "spacing": spacing, "first": near, "wall": wall}, sorted(marks)


def slot_area():
    height, spacing = random.randint(6, 40), random.randint(300, 620)
    strip, mesh = random.choice([38, 64, 89]), Fraction(random.randint(30, 95), 100)
    area = height * (1 - Fraction(strip, spacing)) * mesh * 1000
    return {"height": height, "strip": strip, "spacing": spacing, "mesh": float(mesh)}, [float(area)]


def rip(kind, height, exposure, start):
    rest = (height - start) % exposure
    if rest == 0:
        return exposure
    return rest if kind in ("sill", "top") else exposure - rest


def smallest(lines, exposure, start):
    return min(rip(kind, height, exposure, start) for kind, height in lines)


def lines_of_a_wall():
    base, sill = 0, random.randint(300, 1100)
    head = sill + random.randint(600, 1500)
    top = head + random.randint(300, 1500)
    lines = [("base", base), ("sill", sill), ("head", head), ("top", top)]
    return [(kind, height * MM) for kind, height in lines]


def coursing_from_base():
    """The greatest exposure with no sliver (50 mm, a third of the exposure); without one, that of the largest smallest strip."""
    lines = lines_of_a_wall()
    low, high = random.choice([(130, 140), (145, 155), (150, 152), (100, 115), (180, 200)])
    tried = [high * MM - k * MM // 10 for k in range((high - low) * 10 + 1)]
    found = None
    for exposure in tried:
        least = smallest(lines, exposure, 0)
        if least >= max(50 * MM, Fraction(exposure, 3)):
            found = exposure
            break
    solved = found is not None
    if not solved:
        # The first of equals is the greatest exposure.
        found = max(tried, key=lambda exposure: smallest(lines, exposure, 0))
    inputs = {"lines": lines, "low": low * MM, "high": high * MM}
    return inputs, [found, smallest(lines, found, 0), int(solved)]


def coursing_free():
    """One exposure, any start: that of the base if it leaves no sliver, else the largest smallest strip there is.

    Heights are whole millimetres, so the best start is a whole or a half one and no step of 0.1 mm misses it.
    """
    lines = lines_of_a_wall()
    exposure = random.randint(100, 200) * MM
    best = smallest(lines, exposure, 0)
    if best < max(50 * MM, Fraction(exposure, 3)):
        best = max(smallest(lines, exposure, -k * MM // 10) for k in range(exposure * 10 // MM))
    return {"lines": lines, "exposure": exposure}, [best]


KINDS = [
    (both_ends, 10),
    (from_first, 6),
    (on_supports, 6),
    (between_supports, 6),
    (studs, 4),
    (slot_area, 6),
    (coursing_from_base, 8),
    (coursing_free, 4),
]


def main():
    cases = []
    for make, count in KINDS:
        for number in range(count):
            inputs, expected = make()
            cases.append({"name": f"{make.__name__} {number}", "kind": make.__name__, **inputs, "expected": expected})
    assert len(cases) == 50
    head = {
        "source": "exact fractions and trying everything, made by layout_marks.py",
        "units": "lengths in nm; slots in mm, their areas in mm² per m; the last number of coursing_from_base is 1 without slivers",
    }
    rows = ",\n".join(json.dumps(case, ensure_ascii=False) for case in cases)
    text = "{" + json.dumps(head, ensure_ascii=False)[1:-1] + ', "cases": [\n' + rows + "\n]}\n"
    pathlib.Path(__file__).with_name("layout_marks.json").write_text(text, encoding="utf-8")


main()
