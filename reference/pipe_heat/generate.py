"""Heat through pipe insulation and the time until standing water reaches 32 degF, 200 random cases."""
import math
import random
from pathlib import Path

from ht.conduction import R_cylinder

INCH = 0.0254
K = 0.1442279  # W/(m K) for 1 Btu in/(h ft2 degF), to seven digits
COUNT = 200
# Volumetric heat of water as the handbook's equation has it: 62.4 lb/ft3, 1 Btu/(lb degF).
HEAT = 62.4 * 0.45359237 / 0.3048**3 * 4186.8

source = random.Random(4)
lines = ["inside,outside,insulation,conductivity,water,air,hours,watts_a_metre"]
for _ in range(COUNT):
    inside = round(source.uniform(0.3, 4), 3)
    outside = round(inside * source.uniform(1.05, 1.4), 3)
    insulation = round(outside + 2 * source.uniform(0.2, 2.5), 3)
    conductivity = round(source.uniform(0.2, 0.4), 4)
    water = round(source.uniform(35, 70), 2)
    air = round(source.uniform(-30, 31), 2)
    # Through one metre of insulation, K/W.
    resistance = R_cylinder(Di=outside * INCH, Do=insulation * INCH, k=conductivity * K, L=1.0)
    content = HEAT * math.pi / 4 * (inside * INCH) ** 2  # J/(m K)
    hours = content * resistance * math.log((water - air) / (32 - air)) / 3600
    watts = (water - air) / 1.8 / resistance
    lines.append(f"{inside},{outside},{insulation},{conductivity},{water},{air},{hours:.8g},{watts:.8g}")
Path(__file__).with_name("pipe_heat.csv").write_text("\n".join(lines) + "\n")
