"""Makes psychrometrics.toml: moist air from −40 to 60 °C by psychrolib (ASHRAE form) and CoolProp (IAPWS steam and ice).

Usage: pip install "psychrolib==2.5.*" "CoolProp>=6.8,<8" && python psychrometrics.py   (writes beside itself, the same bytes
every time). What the libraries say is rounded before it is written.
"""

import psychrolib
import rows
from CoolProp.CoolProp import HAPropsSI, PropsSI

psychrolib.SetUnitSystem(psychrolib.SI)

AIR = 101325
ASHRAE = "psychrolib 2.5, the equations of the ASHRAE Handbook of Fundamentals 2017, chapter 1"
STEAM = "CoolProp, saturation of water and steam (IAPWS-95)"
ICE = "CoolProp, sublimation pressure of ice in moist air"


def digits(value, count):
    return float(f"{value:.{count - 1}e}")


def case(check, sum_, source, unit, tolerance, inputs, expected):
    return {
        "check": check,
        "sum": sum_,
        "source": source,
        "tag": "V",
        "unit": unit,
        "tolerance": tolerance,
        "inputs": inputs,
        "expected": expected,
    }


def saturations():
    for celsius in list(range(-40, 61, 5)) + [-1, 1]:
        given = {"temperature": celsius}
        by_ashrae = digits(psychrolib.GetSatVapPres(celsius), 7)
        name = f"saturation at {celsius} °C"
        yield case(f"{name}, ASHRAE form", "saturation", ASHRAE, "Pa", "0.001 %", given, [by_ashrae])
        if celsius > 0:
            by_steam = digits(PropsSI("P", "T", celsius + 273.15, "Q", 0, "Water"), 6)
            yield case(f"{name}, steam formulation", "saturation", STEAM, "Pa", "0.05 %", given, [by_steam])
        elif celsius < 0:
            # Moist air so thin that it does not press on the ice: its vapour at saturation is that of ice alone.
            share = HAPropsSI("psi_w", "T", celsius + 273.15, "P", 2000, "R", 1)
            by_ice = digits(share * 2000, 6)
            yield case(f"{name}, over ice", "saturation", ICE, "Pa", "0.1 %", given, [by_ice])


def states():
    for celsius in range(-40, 61, 20):
        for percent in (20, 60, 100):
            humidity = percent / 100
            given = {"temperature": celsius, "humidity": humidity}
            ratio = psychrolib.GetHumRatioFromRelHum(celsius, humidity, AIR)
            vapour = psychrolib.GetVapPresFromRelHum(celsius, humidity)
            name = f"{celsius} °C, {percent} %"
            figures = [
                ("humidity ratio", "humidity_ratio", "kg/kg", "0.01 %", digits(ratio, 7)),
                ("enthalpy", "enthalpy", "kJ/kg", 0.002, round(psychrolib.GetMoistAirEnthalpy(celsius, ratio) / 1e3, 4)),
                ("volume", "volume", "m³/kg", "0.01 %", digits(psychrolib.GetMoistAirVolume(celsius, ratio, AIR), 6)),
                ("density", "density", "kg/m³", "0.01 %", digits(psychrolib.GetMoistAirDensity(celsius, ratio, AIR), 6)),
                ("wet bulb", "wet_bulb", "°C", 0.003, round(psychrolib.GetTWetBulbFromHumRatio(celsius, ratio, AIR), 3)),
            ]
            dew = psychrolib.GetTDewPointFromVapPres(celsius, vapour)
            figures.append(("dew point", "dew_point", "°C", 0.01, round(dew, 3)))
            for title, sum_, unit, tolerance, expected in figures:
                yield case(f"{title} at {name}", sum_, ASHRAE, unit, tolerance, given, [expected])


rows.write(__file__, "Moist air", [*saturations(), *states()])
