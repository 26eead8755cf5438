"""Vapour pressure of propane at 200 temperatures from -40 to 140 degF: by its equation of state, and by Wagner's
equation with the constants of Poling, Prausnitz and O'Connell (The Properties of Gases and Liquids, 5th ed.)."""
from pathlib import Path

from chemicals.vapor_pressure import Wagner
from CoolProp.CoolProp import PropsSI

COUNT = 200
POLING = dict(Tc=369.85, Pc=4247000.0, a=-6.76368, b=1.55481, c=-1.5872, d=-2.024)
lines = ["fahrenheit,pascal,wagner"]
for step in range(COUNT):
    fahrenheit = round(-40 + 180 * step / (COUNT - 1), 4)
    kelvin = (fahrenheit + 459.67) / 1.8
    pascal = PropsSI("P", "T", kelvin, "Q", 0, "Propane")
    lines.append(f"{fahrenheit},{pascal:.4f},{Wagner(kelvin, **POLING):.4f}")
Path(__file__).with_name("saturation.csv").write_text("\n".join(lines) + "\n")
