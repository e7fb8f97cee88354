"""Air in the gap behind cladding, worked out again by scipy's root finder: writes cavity.toml.

Stack and wind drive it; slots, screens and the friction of two plates take it. Equations: textbook, from memory.
"""

import math

from rows import write
from scipy.optimize import brentq

GAP = "textbook equations from memory, balance found by scipy `brentq`"
MEASURED = "measured in eight test walls in Belgium, public abstract"


def density(celsius):
    return 353.05 / (celsius + 273.15)


def viscosity(celsius):
    kelvin = celsius + 273.15
    return 1.716e-5 * (kelvin / 273.15) ** 1.5 * (273.15 + 110.4) / (kelvin + 110.4)


def screen(open_share):
    return 1.3 * (1 - open_share) + (1 / open_share - 1) ** 2


def friction(reynolds):
    return 96 / reynolds if reynolds < 2300 else 0.3164 / reynolds**0.25


def solve(height, depth, open, outside, gap, wind, coefficient, slot, screen_open):
    """Pressures, Reynolds number, L/s, m/s and changes of air in an hour, for each metre of wall."""
    area = depth / 1e3 * open
    out, inside = density(outside), density(gap)
    stack = (out - inside) * 9.81 * height
    blown = coefficient * 0.5 * out * wind**2
    twice = 2 * depth / 1e3

    def losses(flow):
        speed = flow / area
        reynolds = inside * speed * twice / viscosity(gap)
        channel = friction(reynolds) * height / twice * 0.5 * inside * speed**2
        through = [0.5 * rho * (flow / (0.61 * slot)) ** 2 for rho in (out, inside)]
        screens = 2 * screen(screen_open) * 0.5 * out * (flow / slot) ** 2 if screen_open < 1 else 0.0
        return [channel, *through, screens], reynolds

    flow = brentq(lambda flow: sum(losses(flow)[0]) - stack - blown, 1e-9, 1.0, xtol=1e-15)
    found, reynolds = losses(flow)
    return [stack, blown, *found, reynolds, flow * 1e3, flow / area, flow * 3600 / (height * area)]


def walls():
    """Four gaps, and inputs by name."""
    bays = 368 / 406
    for name, values in {
        "A, 19 mm, open slots": (2.6, 19, bays, 0, 5, 2, 0.1, 0.010, 1),
        "B, the same with screens": (2.6, 19, bays, 0, 5, 2, 0.1, 0.010, 0.6),
        "C, 10 mm, no wind": (2.6, 10, bays, 0, 5, 0, 0, 0.005, 1),
        "D, 25 mm behind brick with weeps": (2.6, 25, 1, 0, 3, 1, 0.05, 0.0010833, 1),
    }.items():
        keys = ("height", "depth", "open", "outside", "gap", "wind", "coefficient", "slot")
        inputs = dict(zip(keys, values)) | {"screen": values[-1]}
        yield name, inputs, solve(*values)


def case(check, sum, source, tag, unit, tolerance, inputs, expected):
    figures = [figure if isinstance(figure, dict) else float(f"{figure:.6g}") for figure in expected]
    return dict(check=check, sum=sum, source=source, tag=tag, unit=unit, tolerance=tolerance, inputs=inputs, expected=figures)


def cases():
    for name, inputs, expected in walls():
        what = "stack, wind, friction, in, out, screens; Re; L/s, m/s, changes an hour"
        yield case(f"gap {name}: {what}", "gap_flow", GAP, "V", "Pa, -, L/s, m/s, 1/h", "0.1 %", inputs, expected)
    siding, brick = list(walls())[1], list(walls())[3]
    yield case("siding on furring lies in the measured range: gap B", "gap_changes", MEASURED + "; inputs ours", "P", "1/h", 0,
               siding[1], [{"from": 100, "to": 1000}])
    still = brick[1] | {"wind": 0, "gap": 1}
    yield case("brick with weeps on a still day lies in the measured range: gap D without wind, 1 K warmer", "gap_changes",
               MEASURED + "; inputs ours", "C", "1/h", 0, still, [{"from": 1, "to": 10}])
    shares = [0.3, 0.5, 0.6, 0.8]
    yield case("loss factors of woven screens, 30 to 80 % open", "screen", "handbook of hydraulic resistance, from memory, medium to low",
               "M", "", 0.0001, {"open": shares}, [screen(share) for share in shares])
    numbers = [100, 621.5, 2000, 4000, 10000]
    yield case("friction factors between plates: 96/Re, then Blasius", "friction", "textbook, from memory; worked elsewhere in Python", "V",
               "", 1e-6, {"reynolds": numbers}, [friction(number) for number in numbers])
    warm = [-20, 0, 20, 40]
    yield case("viscosity of air at -20, 0, 20 and 40 °C, Sutherland's law", "viscosity", "Sutherland's law, textbook; worked elsewhere in Python",
               "V", "µPa·s", 0.001, {"celsius": warm}, [viscosity(at) * 1e6 for at in warm])
    yield case("viscosity of air at 0 and 20 °C in tables", "viscosity", "common tables of dry air, from memory", "M", "µPa·s", 0.1,
               {"celsius": [0, 20]}, [17.2, 18.2])
    yield case("density of dry air at -20, 0, 20 and 40 °C in tables", "density", "common tables of dry air, from memory", "M", "kg/m³", 0.002,
               {"celsius": warm}, [1.394, 1.292, 1.204, 1.127])
    yield case("share left by strips of 38 at 406", "open_fraction", "plain geometry, worked by hand", "C", "", 1e-5,
               {"strip": 38, "spacing": 406}, [0.906404])
    yield case("1/(12 μ) at 20 °C", "laminar_constant", "worked elsewhere in Python; cladding literature prints 4611, from memory", "V", "m·s/kg",
               1, {"celsius": 20}, [1 / (12 * viscosity(20))])


if __name__ == "__main__":
    assert math.isclose(viscosity(0), 1.716e-5)
    write(__file__, "Air in the gap", list(cases()))
