"""Makes sun.toml: the sun's place and its light on walls by pvlib, an independent library of sun and sky; the night sky by numpy.

Usage: pip install "pvlib>=0.16,<0.17" numpy && python sun.py   (writes beside itself)

Solar time throughout: hour angles are given, no clock is asked. What pvlib has no function for (cloud from clearness, the sky of a
clouded night, heat lost to it) is worked out by numpy from the printed formulas.
"""

import numpy
import pandas
import pvlib
from rows import write

SIGMA = 5.670374419e-8
PLACES = [(46.0, 17, 12.5), (46.0, 80, 8.5), (46.0, 172, 15.5), (60.0, 300, 10.5), (35.0, 228, 6.5), (-33.0, 10, 17.5)]


def place(latitude, day, hour):
    declination = pvlib.solarposition.declination_spencer71(day)
    turned = numpy.radians(15 * (hour - 12))
    zenith = pvlib.solarposition.solar_zenith_analytical(numpy.radians(latitude), turned, declination)
    azimuth = pvlib.solarposition.solar_azimuth_analytical(numpy.radians(latitude), turned, declination, zenith)
    return float(numpy.degrees(zenith)), float(numpy.degrees(azimuth)) % 360


def row(check, what, source, unit, tolerance, inputs, expected):
    return {
        "check": check,
        "sum": what,
        "source": source,
        "tag": "V",
        "unit": unit,
        "tolerance": tolerance,
        "inputs": inputs,
        "expected": [round(float(value), 6) for value in expected],
    }


def positions():
    for latitude, day, hour in PLACES:
        zenith, azimuth = place(latitude, day, hour)
        yield row(
            f"height and bearing of the sun at {latitude:g}° north, day {day}, {hour:g} h",
            "sun_place",
            "pvlib solar_zenith_analytical, solar_azimuth_analytical, declination_spencer71",
            "°",
            1e-4,
            {"latitude": latitude, "day": day, "hour": hour},
            [90 - zenith, azimuth],
        )


def outside():
    days = [1, 60, 121, 186, 260, 330]
    expected = pvlib.irradiance.get_extra_radiation(numpy.array(days), method="spencer")
    yield row("sun outside the atmosphere", "beyond_air", "pvlib get_extra_radiation", "W/m²", 1e-3, {"days": days}, expected)
    heights = [1.0, 5.0, 15.0, 30.0, 60.0, 85.0]
    zenith = pandas.Series([90 - height for height in heights])
    expected = pvlib.clearsky.haurwitz(zenith)["ghi"]
    yield row("sun on level ground under a clear sky", "clear_sky", "pvlib haurwitz", "W/m²", 1e-3, {"heights": heights}, expected)


def taken_apart():
    for global_, height, day in [(60.0, 8.0, 17), (250.0, 25.0, 80), (700.0, 50.0, 150), (930.0, 66.0, 172), (12.0, 2.0, 300)]:
        found = pvlib.irradiance.erbs(global_, 90 - height, day)
        yield row(
            f"{global_:g} W/m² on level ground, sun at {height:g}°, day {day}: from the disc, from the sky",
            "apart",
            "pvlib erbs",
            "W/m²",
            1e-3,
            {"global": global_, "height": height, "day": day},
            [found["dni"], found["dhi"]],
        )


def walls():
    sides = [0.0, 90.0, 135.0, 180.0, 270.0]
    for latitude, day, hour in PLACES:
        zenith, azimuth = place(latitude, day, hour)
        global_ = 0.6 * float(pvlib.clearsky.haurwitz(pandas.Series([zenith]))["ghi"].iloc[0])
        light = pvlib.irradiance.erbs(global_, zenith, day)
        on = lambda looks: pvlib.irradiance.get_total_irradiance(
            90, looks, zenith, azimuth, light["dni"], global_, light["dhi"], albedo=0.2, model="isotropic"
        )["poa_global"]
        yield row(
            f"on walls that look {', '.join(f'{side:g}°' for side in sides)}: {latitude:g}° north, day {day}, {hour:g} h",
            "on_walls",
            "pvlib erbs, get_total_irradiance (isotropic, ground 0.2)",
            "W/m²",
            0.01,
            {"latitude": latitude, "day": day, "hour": hour, "global": global_, "sides": sides},
            [on(side) for side in sides],
        )


def night():
    for warm, dew, share in [(0.0, -5.0, 1.0), (20.0, 12.0, 0.7), (-15.0, -18.0, 0.5), (10.0, 9.0, 0.25)]:
        cloud = numpy.clip((1 - share) / 0.75, 0, 1) ** (1 / 3.4)
        clear = 0.711 + 0.56 * dew / 100 + 0.73 * (dew / 100) ** 2
        sky = (1 - 0.84 * cloud) * clear + 0.84 * cloud
        lost = 0.9 * 0.5 * SIGMA * ((warm + 273.15) ** 4 - sky * (warm + 273.15) ** 4)
        yield row(
            f"a wall under a sky with {share:g} of its sun, air {warm:g} °C, dew point {dew:g} °C: cloud, sky, loss",
            "night_sky",
            "numpy, from the printed formulas",
            "1, 1, W/m²",
            1e-4,
            {"temperature": warm, "dew_point": dew, "share": share},
            [cloud, sky, lost],
        )


def months():
    """Means of a clear sky by the month at 46° north, by a step of a minute."""
    expected = []
    day = 0
    for long in [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]:
        sums = []
        for _ in range(long):
            day += 1
            hours = numpy.arange(0, 24, 1 / 60) + 1 / 120
            declination = pvlib.solarposition.declination_spencer71(day)
            turned = numpy.radians(15 * (hours - 12))
            zenith = pvlib.solarposition.solar_zenith_analytical(numpy.radians(46.0), turned, declination)
            sums.append(pvlib.clearsky.haurwitz(pandas.Series(numpy.degrees(zenith)))["ghi"].mean())
        expected.append(numpy.mean(sums))
    yield row(
        "mean sun of a clear sky by the month, 46° north, hours against minutes",
        "clear_months",
        "pvlib haurwitz, every minute",
        "W/m²",
        "0.5 %",
        {"latitude": 46.0},
        expected,
    )


write(__file__, "Sun and night sky", [*positions(), *outside(), *taken_apart(), *walls(), *night(), *months()])
