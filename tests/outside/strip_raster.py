"""Measures the 100 mm check bar of every strip at full size in the raster, as a printer would set it.

Usage: python strip_raster.py OUT   (OUT is what `wythe emit` wrote; needs numpy, pillow, rsvg-convert and pdftoppm)

Each `layout/strips-*.svg` and each page of `layout/strips.pdf` is drawn at 254 dots to the inch, which is ten to the
millimetre. The bar is found by its eleven ticks; the middles of the first and the last must lie 100 mm apart within 0.2 mm,
and any two neighbours 10 mm. Ends with 1 where one does not, or where a sheet has no bar.
"""

import pathlib
import subprocess
import sys
import tempfile

import numpy
from PIL import Image

DOTS = 254
PER_MM = DOTS / 25.4
ALLOWED = 0.2
TICKS = 11


def middles(row):
    """Middles of the dark stretches of a row of the raster, in dots, weighed by how dark each dot is."""
    ink = 1 - row / 255
    dark = numpy.flatnonzero(ink > 0.15)
    if not len(dark):
        return []
    stretches = numpy.split(dark, numpy.flatnonzero(numpy.diff(dark) > 1) + 1)
    return [float((at * ink[at]).sum() / ink[at].sum() + 0.5) for at in stretches]


def bar(path):
    """Places of the ticks of the check bar of a sheet, in millimetres."""
    raster = numpy.asarray(Image.open(path).convert("L"))
    dark = raster < 128
    for y in range(raster.shape[0] - 1, 20, -1):
        edges = numpy.flatnonzero(numpy.diff(numpy.concatenate(([0], dark[y].view(numpy.int8), [0]))))
        for start, stop in zip(edges[::2], edges[1::2]):
            if not 90 * PER_MM < stop - start < 110 * PER_MM:
                continue
            # A millimetre above the line only the ticks are left.
            above = raster[y - round(1.0 * PER_MM), start - 6 : stop + 6]
            ticks = middles(above)
            if len(ticks) == TICKS:
                return [tick / PER_MM for tick in ticks]
    return None


def judge(name, path):
    ticks = bar(path)
    if ticks is None:
        return f"{name}: no check bar was found", None
    long = ticks[-1] - ticks[0]
    steps = [b - a for a, b in zip(ticks, ticks[1:])]
    if abs(long - 100) > ALLOWED or any(abs(step - 10) > ALLOWED for step in steps):
        return f"{name}: the bar is {long:.2f} mm, its steps {min(steps):.2f} to {max(steps):.2f}", long
    return None, long


def main():
    layout = pathlib.Path(sys.argv[1]) / "layout"
    faults, lengths = [], []
    with tempfile.TemporaryDirectory() as room:
        drawn = []
        for sheet in sorted(layout.glob("strips-*.svg")):
            png = pathlib.Path(room) / f"{sheet.stem}.png"
            scale = ["--dpi-x", str(DOTS), "--dpi-y", str(DOTS)]
            subprocess.run(["rsvg-convert", *scale, str(sheet), "--output", str(png)], check=True)
            drawn.append((sheet.name, png))
        pages = pathlib.Path(room) / "page"
        subprocess.run(["pdftoppm", "-r", str(DOTS), "-gray", str(layout / "strips.pdf"), str(pages)], check=True)
        drawn += [(f"strips.pdf, {page.stem}", page) for page in sorted(pathlib.Path(room).glob("page*.pgm"))]
        for name, path in drawn:
            fault, long = judge(name, path)
            faults += [fault] if fault else []
            lengths += [long] if long else []
    if not lengths or faults:
        sys.exit("\n".join(faults) or "there is no strip")
    print(f"{len(lengths)} sheets, check bars {min(lengths):.3f} to {max(lengths):.3f} mm")


if __name__ == "__main__":
    main()
