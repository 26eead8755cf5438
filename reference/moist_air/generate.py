"""500 random states of moist air, by PsychroLib in SI."""
import random
from pathlib import Path

import psychrolib

COUNT = 500
psychrolib.SetUnitSystem(psychrolib.SI)
source = random.Random(6)
lines = [
    "dry_bulb,altitude,measure,given,wet_bulb,dew_point,humidity_ratio,relative_humidity,enthalpy,volume,density"
]
while len(lines) <= COUNT:
    dry_bulb = round(source.uniform(-25, 50), 2)
    altitude = source.choice([0, source.randrange(0, 3500)])
    pressure = psychrolib.GetStandardAtmPressure(altitude)
    humidity = round(source.uniform(0.03, 1), 4)
    measure = source.choice(["relative_humidity", "wet_bulb", "dew_point"])
    if measure == "relative_humidity":
        given = humidity
        ratio = psychrolib.GetHumRatioFromRelHum(dry_bulb, humidity, pressure)
    elif measure == "wet_bulb":
        given = round(psychrolib.GetTWetBulbFromRelHum(dry_bulb, humidity, pressure), 2)
        if given > dry_bulb:
            continue
        ratio = psychrolib.GetHumRatioFromTWetBulb(dry_bulb, given, pressure)
        if ratio <= 1e-5:
            continue
    else:
        given = round(psychrolib.GetTDewPointFromRelHum(dry_bulb, humidity), 2)
        if given > dry_bulb:
            continue
        ratio = psychrolib.GetHumRatioFromTDewPoint(given, pressure)
    if psychrolib.GetRelHumFromHumRatio(dry_bulb, ratio, pressure) > 1:
        continue
    numbers = [
        psychrolib.GetTWetBulbFromHumRatio(dry_bulb, ratio, pressure),
        psychrolib.GetTDewPointFromHumRatio(dry_bulb, ratio, pressure),
        ratio,
        psychrolib.GetRelHumFromHumRatio(dry_bulb, ratio, pressure),
        psychrolib.GetMoistAirEnthalpy(dry_bulb, ratio),
        psychrolib.GetMoistAirVolume(dry_bulb, ratio, pressure),
        psychrolib.GetMoistAirDensity(dry_bulb, ratio, pressure),
    ]
    lines.append(f"{dry_bulb},{altitude},{measure},{given}," + ",".join(f"{number:.8g}" for number in numbers))
(Path(__file__).parent / "states.csv").write_text("\n".join(lines) + "\n")
