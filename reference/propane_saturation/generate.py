"""Vapour pressure of propane at 200 temperatures from -40 to 140 degF, by its equation of state."""
from pathlib import Path

from CoolProp.CoolProp import PropsSI

COUNT = 200
lines = ["fahrenheit,pascal"]
for step in range(COUNT):
    fahrenheit = round(-40 + 180 * step / (COUNT - 1), 4)
    kelvin = (fahrenheit + 459.67) / 1.8
    lines.append(f"{fahrenheit},{PropsSI('P', 'T', kelvin, 'Q', 0, 'Propane'):.4f}")
Path(__file__).with_name("saturation.csv").write_text("\n".join(lines) + "\n")
