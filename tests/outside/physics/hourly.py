"""Makes hourly.toml: heat and moisture in time, worked out by scipy, an independent library.

Usage: pip install "scipy>=1.17,<2" numpy && python hourly.py   (writes beside itself)

Steps into a half space by erfc; a wet surface by bracketing its root; and three small walls as systems of differential
equations in the same cells as ours, by an implicit solver of high order with its own steps.
"""

import numpy
from rows import write
from scipy.integrate import solve_ivp
from scipy.optimize import brentq
from scipy.sparse import diags
from scipy.special import erfc

SOURCE = "scipy"
DELTA = 2e-10
GAS, EVAPORATION, VAPOUR, WATER = 461.5, 2.501e6, 1860.0, 4186.0
AIR = 1.23 * 1006.0
LEWIS = 7e-9


def full(celsius):
    celsius = numpy.asarray(celsius, dtype=float)
    over = 610.5 * numpy.exp(17.269 * celsius / (237.3 + celsius))
    ice = 610.5 * numpy.exp(21.875 * celsius / (265.5 + celsius))
    return numpy.where(celsius >= 0, over, ice)


def heat_in_vapour(celsius):
    return EVAPORATION + VAPOUR * celsius


def density(pressure, celsius):
    return pressure / (GAS * (celsius + 273.15))


class Wall:
    """Cells one behind another; each has temperature and relative humidity."""

    def __init__(self, pieces):
        self.depth, self.half, self.kind, self.data, self.piece = [], [], [], [], []
        self.extra = [0.0]
        for at, piece in enumerate(pieces):
            if piece[0] == "sheet":
                self.extra[-1] += piece[1] / DELTA
                continue
            if piece[0] == "gap":
                cells, depth, half = 1, piece[1], piece[2] / 2
            else:
                cells = int(piece[9])
                depth = piece[1] / cells
                half = depth / piece[2] / 2
            for _ in range(cells):
                self.depth.append(depth)
                self.half.append(half)
                self.kind.append(piece[0])
                self.data.append(piece)
                self.piece.append(at)
                self.extra.append(0.0)
        self.depth, self.half = numpy.array(self.depth), numpy.array(self.half)
        self.gap = numpy.array([kind == "gap" for kind in self.kind])
        column = lambda k, other: numpy.array([other if d[0] == "gap" else d[k] for d in self.data])
        self.dry_heat = column(3, 1.0) * column(4, 1.0)
        self.dry, self.wet = column(5, 1.0), column(6, 1.0)
        w80, wf = column(7, 1.0), column(8, 100.0)
        self.b, self.wf = 0.8 * (wf - w80) / (0.8 * wf - w80), wf

    def water(self, phi):
        return self.wf * (self.b - 1) * phi / (self.b - phi)

    def rates(self, films, outside, inside, changes):
        h_out, h_in = films
        count = len(self.depth)

        def f(_, y):
            t, phi = y[:count], y[count:]
            p = phi * full(t)
            share = numpy.clip((phi - 0.25) / 0.47, 0, 1)
            mu = 1 / (1 / self.dry + share * (1 / self.wet - 1 / self.dry))
            z = numpy.where(self.gap, numpy.minimum(0.01, self.depth), self.depth * mu) / 2 / DELTA
            r = self.half
            all_t = numpy.concatenate([[outside[0]], t, [inside[0]]])
            all_p = numpy.concatenate([[outside[1]], p, [inside[1]]])
            r_face = numpy.concatenate([[1 / h_out[0] + r[0]], r[:-1] + r[1:], [r[-1] + 1 / h_in[0]]])
            z_face = numpy.concatenate([[1 / h_out[1] + z[0]], z[:-1] + z[1:], [z[-1] + 1 / h_in[1]]])
            z_face = z_face + numpy.array(self.extra)
            g = (all_p[:-1] - all_p[1:]) / z_face
            q = (all_t[:-1] - all_t[1:]) / r_face + g * heat_in_vapour((all_t[:-1] + all_t[1:]) / 2)
            into_m, into_e = g[:-1] - g[1:], q[:-1] - q[1:]
            rho, rho_out = density(p, t), density(outside[1], outside[0])
            volumes = changes * self.depth * self.gap
            into_m = into_m + volumes * (rho_out - rho)
            into_e = into_e + volumes * (
                AIR * (outside[0] - t) + rho_out * heat_in_vapour(outside[0]) - rho * heat_in_vapour(t)
            )
            step = 1e-4
            slope_full = (full(t + step) - full(t - step)) / (2 * step)
            # Solids: water by humidity alone. Gaps: vapour by both.
            w, slope = self.water(phi), self.wf * (self.b - 1) * self.b / (self.b - phi) ** 2
            m_phi = numpy.where(self.gap, density(full(t), t), slope) * self.depth
            m_t = numpy.where(self.gap, rho * (slope_full / full(t) - 1 / (t + 273.15)), 0.0) * self.depth
            e_phi = numpy.where(self.gap, heat_in_vapour(t), WATER * t) * m_phi
            own = numpy.where(self.gap, AIR + rho * VAPOUR, self.dry_heat + w * WATER) * self.depth
            e_t = own + numpy.where(self.gap, heat_in_vapour(t), 0.0) * m_t
            det = e_t * m_phi - e_phi * m_t
            return numpy.concatenate([(into_e * m_phi - e_phi * into_m) / det, (e_t * into_m - m_t * into_e) / det])

        return f

    def march(self, films, start, weather, changes, seconds):
        y = numpy.concatenate([numpy.full(len(self.depth), start[0]), numpy.full(len(self.depth), start[1])])
        for t_out, phi_out, t_in, phi_in in weather:
            ends = (t_out, phi_out * float(full(t_out))), (t_in, phi_in * float(full(t_in)))
            f = self.rates(films, *ends, changes)
            y = solve_ivp(f, (0, seconds), y, method="BDF", rtol=1e-7, atol=1e-9).y[:, -1]
        return y[: len(self.depth)], y[len(self.depth) :]


def pieces():
    board = ["solid", 0.012, 0.13, 600.0, 1600.0, 200.0, 60.0, 85.0, 480.0, 12]
    wool = ["solid", 0.1, 0.038, 30.0, 1030.0, 1.0, 1.0, 0.3, 300.0, 24]
    inner = ["solid", 0.0125, 0.25, 800.0, 1000.0, 10.0, 6.0, 7.0, 400.0, 12]
    clad = ["solid", 0.019, 0.12, 450.0, 1600.0, 50.0, 20.0, 72.0, 550.0, 12]
    gap, sheet = ["gap", 0.019, 0.18], ["sheet", 2.0]
    return {
        "one board between two airs": ([board], 0.0),
        "board, wool, sheet, board": ([board, wool, sheet, inner], 0.0),
        "cladding, open gap, board, wool, sheet, board": ([clad, gap, board, wool, sheet, inner], 20 / 3600),
    }


# Half days of weather: outside, inside; temperature in degrees C and relative humidity.
WEATHER = [(-8.0, 0.85, 21.0, 0.4), (2.0, 0.7, 21.0, 0.45), (-4.0, 0.9, 20.0, 0.4), (8.0, 0.6, 22.0, 0.5)] * 2
FILMS = (25.0, 20 * LEWIS), (1 / 0.13, 2.5 * LEWIS)


def walls():
    cases = []
    for name, (wall, changes) in pieces().items():
        fine = Wall(wall)
        t, phi = fine.march(FILMS, (10.0, 0.6), WEATHER, changes, 43200)
        inputs = {"pieces": wall, "start": [10.0, 0.6], "weather": [list(w) for w in WEATHER], "changes": changes}
        solids = [at for at, piece in enumerate(wall) if piece[0] != "sheet"]
        of = lambda at: numpy.array(fine.piece) == at
        mean = lambda values: [round(float(values[of(at)].mean()), 4) for at in solids]
        water = fine.water(phi) * fine.depth
        held = [round(float(water[of(at)].sum()), 6) for at in solids if wall[at][0] == "solid"]
        for what, unit, tolerance, expected in [
            ("temperature", "°C", 0.01, mean(t)),
            ("humidity", "1", 0.001, mean(phi)),
            ("water", "kg/m²", "0.1 %", held),
        ]:
            cases.append(
                {
                    "check": f"{what} after four days: {name}",
                    "sum": f"march_{what}",
                    "source": f"{SOURCE} solve_ivp (BDF), our own equations written again",
                    "tag": "V",
                    "unit": unit,
                    "tolerance": tolerance,
                    "inputs": inputs,
                    "expected": expected,
                }
            )
    return cases


def steps():
    depths = [0.005, 0.02, 0.05, 0.1]
    cases = []
    for name, conductivity, capacity, hours in [("wood", 0.12, 7.2e5, 6), ("concrete", 1.8, 2.3e6, 3), ("wool", 0.038, 3.1e4, 1)]:
        spread = 2 * (conductivity / capacity * hours * 3600) ** 0.5
        cases.append(
            {
                "check": f"a step of 10 K into deep {name}, {hours} h",
                "sum": "heat_step",
                "source": f"{SOURCE} erfc; half space, textbook",
                "tag": "V",
                "unit": "K",
                "tolerance": 0.02,
                "inputs": {"conductivity": conductivity, "capacity": capacity, "hours": hours, "depths": depths},
                "expected": [round(float(10 * erfc(x / spread)), 6) for x in depths],
            }
        )
    depths = [0.001, 0.004, 0.01]
    for factor, slope, days in [(10.0, 100.0, 2), (50.0, 60.0, 20), (6.0, 15.0, 0.25)]:
        spread = 2 * (DELTA / factor * float(full(20)) / slope * days * 86400) ** 0.5
        cases.append(
            {
                "check": f"a step of humidity from 30 to 80 % into a deep layer, factor {factor:g}, {slope:g} kg/m³, {days:g} d",
                "sum": "humidity_step",
                "source": f"{SOURCE} erfc; half space, straight isotherm, one temperature, textbook",
                "tag": "V",
                "unit": "1",
                "tolerance": 0.001,
                "inputs": {"factor": factor, "slope": slope, "days": days, "depths": depths},
                "expected": [round(float(0.3 + 0.5 * erfc(x / spread)), 6) for x in depths],
            }
        )
    return cases


def wet():
    cases = []
    for warm, humidity, film in [(25.0, 0.4, 10.0), (10.0, 0.8, 20.0), (35.0, 0.15, 5.0)]:
        p = humidity * float(full(warm))

        def left(t):
            lost = film * LEWIS * (float(full(t)) - p)
            return film * (warm - t) - lost * (heat_in_vapour((t + warm) / 2) - WATER * t)

        cases.append(
            {
                "check": f"a wet surface in air of {warm:g} °C and {100 * humidity:g} %, film {film:g} W/(m²·K)",
                "sum": "wet_surface",
                "source": f"{SOURCE} brentq on the balance of heat in and vapour out",
                "tag": "V",
                "unit": "°C",
                "tolerance": 0.05,
                "inputs": {"temperature": warm, "humidity": humidity, "film": film},
                "expected": [round(brentq(left, -10, warm), 5)],
            }
        )
    return cases


def in_the_sun():
    """A thin sheet of metal in the sun before a gap that is sealed behind: warmth of the gap, and its air changes an hour."""
    cases = []
    for warm, sun, sky, wind, draws in [(10.0, 500.0, 20.0, 0.0, 3e-5), (-5.0, 350.0, 30.0, 0.004, 3e-5), (25.0, 0.0, 60.0, 0.002, 1e-5)]:
        film, half, depth = 25.0, 0.09, 0.019
        lets = 1 / (1 / film + 0.001 / 160 + half)
        sol_air = warm + (sun - sky) / film
        changes = lambda t: (wind**2 + draws * (((t - warm) ** 2 + 1e-4) ** 0.5 - 0.01)) ** 0.5
        left = lambda t: lets * (sol_air - t) - depth * AIR * changes(t) * (t - warm)
        gap = brentq(left, warm - 20, warm + 40, xtol=1e-10)
        cases.append(
            {
                "check": f"a gap behind metal, air {warm:g} °C, sun {sun:g} and sky {sky:g} W/m²: its warmth and air changes",
                "sum": "gap_in_the_sun",
                "source": f"{SOURCE} brentq on what comes through the sheet and what air carries off",
                "tag": "V",
                "unit": "°C, 1/h",
                "tolerance": "0.2 %",
                "inputs": {"temperature": warm, "sun": sun, "sky": sky, "wind": wind, "draws": draws},
                "expected": [round(gap, 4), round(3600 * changes(gap), 4)],
            }
        )
    return cases


RISE = 1000.0


def liquid(absorption, saturated, filled, cells, depth, wetted, seconds):
    """Shares of free saturation after each of these times: liquid alone, its diffusivity rising by three powers of ten."""
    across = depth / cells
    full = 3.8 * (absorption / saturated) ** 2
    drives = lambda share: full * saturated / numpy.log(RISE) * (RISE ** (numpy.clip(share, 0, 1) - 1) - 1 / RISE)

    def f(_, share):
        u = drives(share)
        face = (drives(1.0) - u[0]) / (across / 2) if wetted else 0.0
        g = numpy.concatenate([[face], (u[:-1] - u[1:]) / across, [0.0]])
        return (g[:-1] - g[1:]) / across / saturated

    band = diags([1.0, 1.0, 1.0], [-1, 0, 1], shape=(cells, cells))
    found, before = [], 0.0
    for after in seconds:
        filled = solve_ivp(f, (before, after), filled, method="BDF", rtol=1e-7, atol=1e-9, jac_sparsity=band).y[:, -1]
        found.append(filled)
        before = after
    return found


def wicking():
    cases = []
    for name, absorption, saturated, depth in [("brick-like", 0.1, 300.0, 0.4), ("render-like", 0.02, 250.0, 0.1), ("wood-like", 0.004, 600.0, 0.01)]:
        hours, cells = [1.0, 4.0, 9.0], 800
        after = liquid(absorption, saturated, numpy.full(cells, 1e-4), cells, depth, True, [3600 * h for h in hours])
        held = [float((share - 1e-4).sum() * depth / cells * saturated) for share in after]
        inputs = {"absorption": absorption, "saturated": saturated, "depth": depth, "hours": hours}
        for against, source, tolerance, expected in [
            ("cells half as wide", f"{SOURCE} solve_ivp (BDF)", "0.5 %", held),
            ("A √t", "closed form A √t, which the absorption coefficient stands for; worked out by hourly.py", "2 %", [absorption * (3600 * h) ** 0.5 for h in hours]),
        ]:
            cases.append(
                {
                    "check": f"a wetted dry half space, {name}, after 1, 4 and 9 h: {against}",
                    "sum": "taken_up",
                    "source": source,
                    "tag": "V",
                    "unit": "kg/m²",
                    "tolerance": tolerance,
                    "inputs": inputs,
                    "expected": [round(value, 6) for value in expected],
                }
            )
    depth, cells, hours = 0.04, 800, 6.0
    start = numpy.where(numpy.arange(cells) < cells // 2, 1.0, 0.2)
    share = liquid(0.02, 250.0, start, cells, depth, False, [3600 * hours])[0]
    depths = [0.0051, 0.0151, 0.0181, 0.0221, 0.0251, 0.0301]
    middles = (numpy.arange(cells) + 0.5) * depth / cells
    cases.append(
        {
            "check": "a sealed layer whose outer half was full, after 6 h: shares of free saturation by depth",
            "sum": "spread",
            "source": f"{SOURCE} solve_ivp (BDF), cells a quarter as wide",
            "tag": "V",
            "unit": "1",
            "tolerance": 0.02,
            "inputs": {"absorption": 0.02, "saturated": 250.0, "depth": depth, "hours": hours, "depths": depths},
            "expected": [round(float(numpy.interp(at, middles, share)), 5) for at in depths],
        }
    )
    return cases


write(__file__, "Heat and moisture hour by hour", steps() + wet() + in_the_sun() + wicking() + walls())
