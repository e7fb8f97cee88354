"""Makes airflow_scipy.json: flows through random gaps and networks of gaps, worked out by scipy, an independent library.

Usage: pip install "scipy>=1.11,<2" "numpy>=1.26,<3" && python airflow_scipy.py   (writes beside itself; the same bytes every time)

Twenty single gaps between two openings, each by bracketing its root, and twenty networks of gaps joined to each other, each as
one system of flows and pressures together. Flows are in m3/s, pressures in Pa, lengths in m, temperatures in degrees C. What is given
is rounded before it is used; what is found is rounded to 8 digits.
"""

import json
import pathlib
import random

import numpy
from scipy.optimize import brentq, root

random.seed(20262)


def digits(value, count=8):
    return float(f"{value:.{count - 1}e}")


def pick(low, high):
    return digits(random.uniform(low, high), 5)


def kelvin(celsius):
    return celsius + 273.15


def density(celsius):
    return 353.05 / kelvin(celsius)


def viscosity(celsius):
    return 1.716e-5 * (kelvin(celsius) / 273.15) ** 1.5 * (273.15 + 110.4) / (kelvin(celsius) + 110.4)


def friction(channel, flow, gap):
    """Darcy loss between parallel plates; the factor goes over from laminar to Blasius between 2300 and 2600."""
    if flow == 0:
        return 0.0
    hydraulic = 2 * channel["depth"]
    speed = abs(flow) / (channel["depth"] * channel["width"])
    reynolds = density(gap) * speed * hydraulic / viscosity(gap)
    laminar, blasius = 96 / reynolds, 0.3164 / reynolds**0.25
    share = min(max((reynolds - 2300) / 300, 0), 1)
    factor = laminar * (1 - share) + blasius * share
    return float(numpy.sign(flow)) * factor * channel["length"] / hydraulic * density(gap) * speed**2 / 2


def opening(slot, flow, outside, gap):
    """Loss of a slot with perhaps a screen; air is as outside when it comes in, as in the gap when it goes out or on."""
    rho = density(outside) if flow > 0 and slot["outer"] else density(gap)
    loss = rho / 2 * (flow / (0.61 * slot["area"])) ** 2
    if slot["open"] < 1:
        factor = 1.3 * (1 - slot["open"]) + (1 / slot["open"] - 1) ** 2
        loss += factor * rho / 2 * (flow / slot["area"]) ** 2
    return float(numpy.sign(flow)) * loss


def loss(link, flow, air):
    return friction(link, flow, air["gap"]) if link["kind"] == "channel" else opening(link, flow, air["outside"], air["gap"])


def a_slot(outer=True):
    return {"kind": "opening", "outer": outer, "area": pick(0.0002, 0.01), "open": random.choice([1.0, 1.0, 0.6, 0.4, 0.35])}


def a_channel():
    return {"kind": "channel", "depth": pick(0.006, 0.05), "width": pick(0.15, 1.2), "length": pick(0.05, 4.0)}


def air():
    return {"outside": pick(-25, 25), "gap": pick(-20, 45)}


def stack(air, height):
    return (density(air["outside"]) - density(air["gap"])) * 9.81 * height


def single(index):
    state = air()
    wind = pick(0, 60 if index % 4 == 0 else 3)
    channel, inlet, outlet = a_channel(), a_slot(), a_slot()
    links = [
        {"from": {"known": wind}, "to": {"node": 0}, "drive": 0.0, **inlet},
        {"from": {"node": 0}, "to": {"node": 1}, "drive": digits(stack(state, channel["length"])), **channel},
        {"from": {"known": 0.0}, "to": {"node": 1}, "drive": 0.0, **outlet},
    ]
    driving = wind + links[1]["drive"]

    def left_over(flow):
        taken = loss(links[0], flow, state) + loss(links[1], flow, state) - loss(links[2], -flow, state)
        return driving - taken

    flow = brentq(left_over, -5, 5, xtol=1e-16, rtol=1e-14, maxiter=1000)
    return {"name": f"gap {index}", "air": state, "nodes": 2, "links": links, "flows": [digits(flow), digits(flow), digits(-flow)]}


def network(index):
    """Bays of two to four levels side by side or one above the other, some joined to the next, each with openings of its own."""
    state = air()
    links, bays, nodes = [], [], 0
    for _ in range(random.randint(2, 6)):
        levels = random.randint(2, 4)
        bays.append((nodes, levels))
        channel = a_channel()
        for level in range(levels - 1):
            piece = {**channel, "length": pick(0.1, 2.5)}
            drive = digits(stack(state, piece["length"]))
            links.append({"from": {"node": nodes + level}, "to": {"node": nodes + level + 1}, "drive": drive, **piece})
        for level in sorted({0, levels - 1, random.randrange(levels)}):
            links.append({"from": {"known": pick(-4, 4)}, "to": {"node": nodes + level}, "drive": 0.0, **a_slot()})
        nodes += levels
    for (first, levels), (second, _) in zip(bays, bays[1:]):
        if random.random() < 0.7:
            passage = {"from": {"node": first + levels - 1}, "to": {"node": second}, "drive": 0.0, **a_slot(False)}
            links.append(passage)
    flows = solved(nodes, links, state)
    return {"name": f"network {index}", "air": state, "nodes": nodes, "links": links, "flows": [digits(flow) for flow in flows]}


def solved(nodes, links, state):
    """Flows (in L/s, so that all unknowns are of one size) and pressures as one system."""
    count = len(links)

    def pressure(end, pressures):
        return pressures[end["node"]] if "node" in end else end["known"]

    def system(unknown):
        flows, pressures = unknown[:count], unknown[count:]
        rest = [
            pressure(link["from"], pressures) - pressure(link["to"], pressures) + link["drive"] - loss(link, flow / 1000, state)
            for link, flow in zip(links, flows)
        ]
        sums = numpy.zeros(nodes)
        for link, flow in zip(links, flows):
            for end, sign in ((link["from"], -1), (link["to"], 1)):
                if "node" in end:
                    sums[end["node"]] += sign * flow
        return numpy.concatenate([rest, sums])

    best = None
    for attempt in range(60):
        start = numpy.random.default_rng(attempt).normal(0, 2, count + nodes)
        method = "hybr" if attempt % 2 == 0 else "lm"
        found = root(system, start, method=method, options={"xtol": 1e-15} if method == "lm" else {"xtol": 1e-15, "maxfev": 100000})
        found = root(system, found.x, method="hybr", options={"xtol": 1e-15, "maxfev": 100000})
        worst = float(numpy.max(numpy.abs(system(found.x))))
        if best is None or worst < best[0]:
            best = (worst, found.x)
        if worst < 1e-11:
            break
    assert best[0] < 1e-10, best[0]
    return best[1][:count] / 1000


cases = [single(index) for index in range(20)] + [network(index) for index in range(20)]
lines = ",\n".join(json.dumps(case) for case in cases)
source = "scipy 1.x, optimize.brentq and optimize.root"
text = f'{{"source": "{source}", "cases": [\n{lines}\n]}}\n'
pathlib.Path(__file__).with_suffix(".json").write_text(text)
