"""Sun positions at 500 random places and times, and clear-sky irradiance at the first 200 with the sun up."""
import random
from datetime import datetime, timedelta, timezone
from pathlib import Path

import pandas as pd
from pvlib import atmosphere, clearsky, irradiance, solarposition

COUNT = 500
SKIES = 200
here = Path(__file__).parent
source = random.Random(5)
# Parameters first: all positions are asked for in one way, one by one, since each has its own place.
first = datetime(2015, 1, 1, tzinfo=timezone.utc)
positions = ["time,latitude,longitude,altitude,zenith,apparent_zenith,azimuth"]
skies = [
    "time,latitude,longitude,altitude,turbidity,tilt,panel_azimuth,albedo,"
    "global,beam,diffuse,isotropic,hay_davies,perez"
]


def position(moment, latitude, longitude, altitude):
    pressure = atmosphere.alt2pres(altitude)
    return solarposition.spa_python(
        moment, latitude, longitude, altitude, pressure=pressure, temperature=12, delta_t=69.2
    ).iloc[0]


while len(positions) <= COUNT or len(skies) <= SKIES:
    moment = first + timedelta(seconds=source.randrange(25 * 365 * 86400))
    latitude = round(source.uniform(-66, 72), 4)
    longitude = round(source.uniform(-179.9, 179.9), 4)
    altitude = source.choice([0, source.randrange(0, 3500)])
    written = moment.strftime("%Y-%m-%dT%H:%M:%SZ")
    times = pd.DatetimeIndex([moment])
    sun = position(times, latitude, longitude, altitude)
    if len(positions) <= COUNT:
        positions.append(
            f"{written},{latitude},{longitude},{altitude},"
            f"{sun.zenith:.6f},{sun.apparent_zenith:.6f},{sun.azimuth:.6f}"
        )
    if sun.apparent_zenith >= 90 or len(skies) > SKIES:
        continue
    turbidity = round(source.uniform(2, 6), 2)
    tilt = source.choice([0, round(source.uniform(0, 60), 1)])
    panel = round(source.uniform(0, 360), 1)
    albedo = round(source.uniform(0.1, 0.6), 2)
    # The day of the year is that of the place's own mean solar time.
    local = times.tz_localize(None) + pd.Timedelta(hours=longitude / 15)
    outside = irradiance.get_extra_radiation(local).iloc[0]
    mass = atmosphere.get_relative_airmass(sun.apparent_zenith)
    absolute = atmosphere.get_absolute_airmass(mass, atmosphere.alt2pres(altitude))
    sky = clearsky.ineichen(sun.apparent_zenith, absolute, turbidity, altitude, outside)
    panels = [
        irradiance.get_total_irradiance(
            tilt, panel, sun.apparent_zenith, sun.azimuth, sky["dni"], sky["ghi"], sky["dhi"],
            dni_extra=outside, airmass=mass, albedo=albedo, model=model,
        )["poa_global"]
        for model in ("isotropic", "haydavies", "perez")
    ]
    numbers = [sky["ghi"], sky["dni"], sky["dhi"], *panels]
    skies.append(
        f"{written},{latitude},{longitude},{altitude},{turbidity},{tilt},{panel},{albedo},"
        + ",".join(f"{number:.4f}" for number in numbers)
    )

(here / "positions.csv").write_text("\n".join(positions) + "\n")
(here / "skies.csv").write_text("\n".join(skies) + "\n")
