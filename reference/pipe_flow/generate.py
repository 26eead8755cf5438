"""Friction of water in pipes, part-full flow in drains, volumes in lying tanks: 200 random cases each."""
import math
import random
from pathlib import Path

from fluids.core import Reynolds
from fluids.friction import Swamee_Jain_1976
from fluids.geometry import A_partial_circle, V_from_h
from fluids.open_flow import V_Manning
from iapws import IAPWS97

HERE = Path(__file__).parent
GPM = 3.785411784e-3 / 60
INCH = 0.0254
COUNT = 200


def write(name, lines):
    (HERE / name).write_text("\n".join(lines) + "\n")


def friction(random_source):
    lines = ["flow,inside_diameter,length,roughness,temperature,drop"]
    while len(lines) <= COUNT:
        flow = round(math.exp(random_source.uniform(math.log(0.05), math.log(40))), 4)
        diameter = round(random_source.uniform(0.3, 2.1), 4)
        length = round(random_source.uniform(1, 200), 3)
        roughness = random_source.choice([0.0, 0.0015, 0.0015, 0.045, 0.15])
        temperature = round(random_source.uniform(35, 180), 2)
        water = IAPWS97(T=(temperature + 459.67) / 1.8, P=0.101325)
        d = diameter * INCH
        speed = flow * GPM / (math.pi / 4 * d**2)
        reynolds = Reynolds(V=speed, D=d, rho=water.rho, mu=water.mu)
        if 2250 < reynolds < 4100 or speed > 6:
            continue  # transitional, with room for the last digits of the viscosity; or too fast to be true
        factor = 64 / reynolds if reynolds < 2300 else Swamee_Jain_1976(reynolds, roughness / 1000 / d)
        drop = factor * length * 0.3048 / d * water.rho * speed**2 / 2
        lines.append(f"{flow},{diameter},{length},{roughness},{temperature},{drop:.8g}")
    write("friction.csv", lines)


def part_full(random_source):
    lines = ["diameter,depth,slope,roughness_n,flow,velocity"]
    for _ in range(COUNT):
        diameter = round(random_source.uniform(1.25, 12), 4)
        depth = round(random_source.uniform(0.02, 1.0) * diameter, 5)
        slope = round(random_source.uniform(0.3, 5), 4)
        n = round(random_source.uniform(0.009, 0.015), 4)
        d, h = diameter * INCH, depth * INCH
        area = A_partial_circle(D=d, h=h)
        wetted = d * math.acos(1 - 2 * h / d)
        velocity = V_Manning(area / wetted, slope / 100, n)
        lines.append(f"{diameter},{depth},{slope},{n},{area * velocity:.9g},{velocity:.9g}")
    write("part_full.csv", lines)


def tanks(random_source):
    lines = ["diameter,length,depth,volume"]
    for _ in range(COUNT):
        diameter = round(random_source.uniform(6, 60), 3)
        length = round(random_source.uniform(10, 150), 3)
        depth = round(random_source.uniform(0, 1) * diameter, 4)
        volume = V_from_h(h=depth, D=diameter, L=length, horizontal=True)
        lines.append(f"{diameter},{length},{depth},{volume:.10g}")
    write("tanks.csv", lines)


friction(random.Random(1))
part_full(random.Random(2))
tanks(random.Random(3))
