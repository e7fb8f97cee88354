"""Makes pieces_shapely.json: random walls in the language, and the boards shapely cuts for them.

Usage: pip install "shapely>=2,<3" && python pieces_shapely.py   (writes beside itself; the same bytes every time)

A wall has an outline (a box, a gable, a lean-to, a sloping or stepped base) and openings. Its boards lie level, one exposure
high from the datum up, and are longer than the wall, so that each stretch of a course between outline and openings is one
board. The expected boards are the parts of outline less openings that lie in the band of a course; what is thinner than 3 mm
is no board. Over an opening the cladding stays clear by what the product says. Millimetres.
"""

import json
import pathlib
import random

import shapely
from shapely.geometry import Polygon, box

random.seed(41926)
WALLS = 40
SPLINTER = 3


def outline(kind):
    """Edges of the outline from (0, 0), counterclockwise, each with its word."""
    width, eaves = random.randint(4000, 12000), random.randint(2400, 5400)
    if kind == "gable":
        apex = [random.randint(1500, width - 1500), eaves + random.randint(600, 3000)]
        return [("base", [width, 0]), ("right", [width, eaves]), ("rake", apex), ("rake", [0, eaves]), ("left", None)]
    if kind == "lean_to":
        low = random.randint(1800, eaves - 100)
        return [("base", [width, 0]), ("right", [width, low]), ("rake", [0, eaves]), ("left", None)]
    if kind == "sloping_base":
        fall = -random.randint(100, 900)
        return [("base", [width, fall]), ("right", [width, eaves]), ("top", [0, eaves]), ("left", None)]
    if kind == "stepped_base":
        step, fall = random.randint(1200, width - 1200), -random.randint(150, 900)
        return [("base", [step, 0]), ("step", [step, fall]), ("base", [width, fall]), ("right", [width, eaves]),
                ("top", [0, eaves]), ("left", None)]
    return [("base", [width, 0]), ("right", [width, eaves]), ("top", [0, eaves]), ("left", None)]


def openings(wall):
    """Openings that lie within the wall and 120 mm apart."""
    left, bottom, right, top = map(round, wall.bounds)
    found = []
    for _ in range(random.randint(0, 7) * 4):
        w, h = random.randint(400, 2400), random.randint(400, 2100)
        x, y = random.randint(left, right), random.randint(bottom, top)
        one = box(x, y, x + w, y + h)
        if wall.buffer(-60).contains(one) and all(one.distance(other) > 120 for other, _ in found):
            found.append((one, (x, y, w, h)))
    return [size for _, size in found]


def text(edges, holes, exposure, clear):
    lines = ["wythe 1", ""]
    lines += ["product plain board {", f"    size 10mm x {exposure}mm, stock 20m, lap 0mm, joint_gap 0mm, clearance {clear}mm", "}", ""]
    lines += ["assembly bare {", f"    layer boards plain 10mm, controls rain, exposure {exposure}mm..{exposure}mm", "}", ""]
    lines += ["building house {", "    faces wall", f"    story_pole exposure {exposure}mm..{exposure}mm start 0mm", "}", ""]
    lines += ["face wall {", "    measured to cladding", "    outline from (0, 0) {"]
    for word, to in edges:
        lines.append(f"        {word} to start" if to is None else f"        {word} to ({to[0]}mm, {to[1]}mm)")
    lines += ["    }", "    area all bare"]
    lines += [f"    window w{at} frame {w}mm x {h}mm at ({x}mm, {y}mm)" for at, (x, y, w, h) in enumerate(holes)]
    return "\n".join(lines + ["}", ""])


def boards(field, exposure):
    """Course, left, bottom, right, top and area of each board."""
    _, bottom, _, top = field.bounds
    found = []
    for course in range(int(bottom // exposure), int(top // exposure) + 1):
        band = field.intersection(box(-1e6, course * exposure, 1e6, (course + 1) * exposure))
        for part in getattr(band, "geoms", [band]):
            if not isinstance(part, Polygon) or part.is_empty:
                continue
            x0, y0, x1, y1 = part.bounds
            if x1 - x0 >= SPLINTER and y1 - y0 >= SPLINTER:
                found.append([course] + [round(value, 6) for value in (x0, y0, x1, y1, part.area)])
    return sorted(found)


def case(number):
    kind = ["box", "gable", "lean_to", "sloping_base", "stepped_base"][number % 5]
    edges, exposure, clear = outline(kind), random.choice([97, 120, 135, 150, 184]), random.choice([4, 6, 10])
    wall = Polygon([(0, 0)] + [to for _, to in edges if to])
    holes = openings(wall)
    field = wall
    for x, y, w, h in holes:
        field = field.difference(box(x, y, x + w, y + h + clear))
    return {
        "name": f"{kind} {number}",
        "text": text(edges, holes, exposure, clear),
        "area": round(field.area, 6),
        "boards": boards(field, exposure),
    }


def main():
    document = {
        "source": f"shapely {shapely.__version__} over GEOS {shapely.geos_version_string}, made by pieces_shapely.py",
        "units": "mm and mm²; boards as course, left, bottom, right, top, area",
    }
    rows = ",\n".join(json.dumps(case(number)) for number in range(WALLS))
    text = json.dumps(document, ensure_ascii=False)[:-1] + f', "cases": [\n{rows}\n]}}\n'
    json.loads(text)
    pathlib.Path(__file__).with_suffix(".json").write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
