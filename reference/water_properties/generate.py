"""Density (kg/m3) and viscosity (Pa s) of water at one atmosphere, 200 temperatures from 0.5 to 99 degC."""
from pathlib import Path

from iapws import IAPWS97

COUNT = 200
lines = ["celsius,density,viscosity"]
for step in range(COUNT):
    celsius = round(0.5 + 98.5 * step / (COUNT - 1), 4)
    water = IAPWS97(T=celsius + 273.15, P=0.101325)
    lines.append(f"{celsius},{water.rho:.6f},{water.mu:.9g}")
Path(__file__).with_name("water.csv").write_text("\n".join(lines) + "\n")
