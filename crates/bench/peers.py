"""Times what the reference libraries need for the batches that `cargo xtask bench` computes, on one thread.

Called with a number of cases and a number of runs; prints one JSON object: the best time of each batch, in seconds, by
each way the library offers, and the mean of its main result, which must be ours.
"""
import json
import sys
import time
import warnings

import numpy as np
import pandas as pd
import psychrolib
from pvlib import atmosphere, clearsky, irradiance, solarposition

CASES, RUNS = int(sys.argv[1]), int(sys.argv[2])
LATITUDE, LONGITUDE, ALTITUDE = 43.5214, -73.2361, 150.0
warnings.simplefilter("ignore")


def best(work):
    """The best time on a processor of several runs, and what the work gave. The first run compiles, and is not counted."""
    result = work()
    times = []
    for _ in range(RUNS):
        start = time.thread_time()
        result = work()
        times.append(time.thread_time() - start)
    return min(times), result


def sun(times, how):
    return solarposition.spa_python(
        times, LATITUDE, LONGITUDE, ALTITUDE, pressure=atmosphere.alt2pres(ALTITUDE), temperature=12,
        delta_t=None, how=how, numthreads=1,
    )


def sky(times, how):
    zenith = sun(times, how)["apparent_zenith"].to_numpy()
    mass = atmosphere.get_absolute_airmass(
        atmosphere.get_relative_airmass(zenith), atmosphere.alt2pres(ALTITUDE)
    )
    outside = irradiance.get_extra_radiation(times).to_numpy()
    return clearsky.ineichen(zenith, mass, 3.0, ALTITUDE, outside)


def air(dry_bulb, humidity, pressure):
    ratio = psychrolib.GetHumRatioFromRelHum(dry_bulb, humidity, pressure)
    return (
        psychrolib.GetTWetBulbFromHumRatio(dry_bulb, ratio, pressure),
        psychrolib.GetTDewPointFromHumRatio(dry_bulb, ratio, pressure),
        psychrolib.GetMoistAirEnthalpy(dry_bulb, ratio),
        psychrolib.GetMoistAirVolume(dry_bulb, ratio, pressure),
        psychrolib.GetMoistAirDensity(dry_bulb, ratio, pressure),
    )


case = np.arange(CASES)
times = pd.DatetimeIndex(pd.to_datetime(1_704_067_200 + 315 * case, unit="s", utc=True))
results = {}

seconds, position = best(lambda: sun(times, "numpy"))
results["sun"] = {"numpy": seconds, "mean": float(position["zenith"].mean())}
results["sun"]["numba"] = best(lambda: sun(times, "numba"))[0]

seconds, skies = best(lambda: sky(times, "numpy"))
results["sky"] = {"numpy": seconds, "mean": float(np.nan_to_num(skies["ghi"]).mean())}
results["sky"]["numba"] = best(lambda: sky(times, "numba"))[0]

# With numba installed PsychroLib's functions are vectorised; it has no other vectorised form.
if not psychrolib.has_numba:
    sys.exit("PsychroLib found no numba: its functions are not vectorised")
psychrolib.SetUnitSystem(psychrolib.SI)
dry_bulb = -20.0 + 70.0 * ((case * 0.618_033_988_749_895) % 1.0)
humidity = 0.05 + 0.95 * ((case * 0.754_877_666_246_693) % 1.0)
pressure = np.full(CASES, 101_325.0 * (1 - 2.25577e-5 * ALTITUDE) ** 5.2559)
seconds, states = best(lambda: air(dry_bulb, humidity, pressure))
results["air"] = {"numba": seconds, "mean": float(states[0].mean())}
print(json.dumps(results))
