"""Makes shapely_areas.json: areas and piece counts of wall-like shapes worked out by shapely, an independent library.

Usage: pip install "shapely>=2,<3" && python shapely_areas.py   (writes beside itself; the same bytes every time)

Coordinates are whole nanometres, in quarter millimetres so that they are exact as doubles; areas are in mm². Each case is a
set of added polygons less a set of removed ones, then perhaps cut to a band of heights.
"""

import json
import pathlib
import random

import shapely
from shapely import box, unary_union
from shapely.geometry import MultiPolygon, Polygon

QUARTER = 250_000  # nm
random.seed(20261)


def quarter(low, high):
    """A whole number of quarter millimetres between two lengths in millimetres, as nanometres."""
    return random.randint(low * 4, high * 4) * QUARTER


def rectangle(x, y, w, h):
    return [[x, y], [x + w, y], [x + w, y + h], [x, y + h]]


def openings(width, height, count):
    return [
        rectangle(quarter(0, width), quarter(0, height), quarter(200, 1500), quarter(200, 1800))
        for _ in range(count)
    ]


def wall_less_openings():
    width, height = random.randint(3000, 12000), random.randint(2400, 6000)
    wall = rectangle(0, 0, width * 4 * QUARTER, height * 4 * QUARTER)
    return [wall], openings(width, height, random.randint(1, 7)), None


def gable():
    width, eaves, rise = random.randint(5000, 10000), random.randint(2400, 5000), random.randint(800, 3500)
    mm = 4 * QUARTER
    wall = [[0, 0], [width * mm, 0], [width * mm, eaves * mm], [quarter(1000, width - 1000), (eaves + rise) * mm], [0, eaves * mm]]
    band = sorted([quarter(0, eaves + rise), quarter(0, eaves + rise)])
    return [wall], openings(width, eaves + rise, random.randint(0, 5)), band if random.random() < 0.5 else None


def sloped_base():
    width, height = random.randint(4000, 12000), random.randint(2400, 5000)
    mm = 4 * QUARTER
    step = quarter(1000, width - 1000)
    wall = [[0, 0], [step, quarter(-600, 600)], [step, quarter(-1200, -601)], [width * mm, quarter(-2000, 500)],
            [width * mm, height * mm], [0, height * mm]]
    return [wall], openings(width, height, random.randint(0, 5)), None


def overlapping_strips():
    strips = []
    for _ in range(random.randint(3, 14)):
        across = random.random() < 0.5
        w, h = (quarter(1000, 5000), quarter(30, 90)) if across else (quarter(30, 90), quarter(1000, 5000))
        strips.append(rectangle(quarter(0, 4000), quarter(0, 4000), w, h))
    return strips, openings(5000, 5000, random.randint(0, 3)), None


def battens_in_a_gap():
    width, height = random.randint(2000, 9000), random.randint(1500, 4000)
    mm = 4 * QUARTER
    pitch = random.choice([300, 400, 406, 600])
    battens = [rectangle(x * mm, 0, 38 * mm, height * mm) for x in range(0, width, pitch)]
    return [rectangle(0, 0, width * mm, height * mm)], battens + openings(width, height, random.randint(0, 3)), None


def shape(polygons):
    return unary_union([Polygon([(x / 1e6, y / 1e6) for x, y in polygon]) for polygon in polygons])


def is_upright(polygon):
    return all(a[0] == b[0] or a[1] == b[1] for a, b in zip(polygon, polygon[1:] + polygon[:1]))


def case(kind, index):
    added, removed, band = kind()
    result = shape(added).difference(shape(removed)) if removed else shape(added)
    if band:
        result = result.intersection(box(-1e6, band[0] / 1e6, 1e6, band[1] / 1e6))
    pieces = [piece for piece in getattr(result, "geoms", [result]) if isinstance(piece, Polygon) and piece.area > 0]
    return {
        "name": f"{kind.__name__} {index}",
        "upright": all(is_upright(polygon) for polygon in added + removed),
        "added": added,
        "removed": removed,
        "band": band,
        "area_mm2": MultiPolygon(pieces).area,
        "pieces": len(pieces),
        "holes": sum(len(piece.interiors) for piece in pieces),
    }


def main():
    kinds = [wall_less_openings, gable, sloped_base, overlapping_strips, battens_in_a_gap]
    document = {
        "source": f"shapely {shapely.__version__} over GEOS {shapely.geos_version_string}, made by shapely_areas.py",
        "units": "coordinates in nm, areas in mm²",
        "cases": [case(kind, index) for kind in kinds for index in range(12)],
    }
    lines = ",\n".join(json.dumps(case) for case in document.pop("cases"))
    head = json.dumps(document, ensure_ascii=False)[:-1]
    text = f'{head}, "cases": [\n{lines}\n]}}\n'
    json.loads(text)
    pathlib.Path(__file__).with_suffix(".json").write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
