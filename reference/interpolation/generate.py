"""Values between scattered readings, by two libraries that know the same surface by different names."""
import random
from pathlib import Path

import numpy as np
from pykrige.ok import OrdinaryKriging
from scipy.interpolate import RBFInterpolator
from scipy.spatial import Delaunay

SETS = 40
QUESTIONS = 5
source = random.Random(8)
lines = ["x,y,percent,at_x,at_y,radial,kriging"]
for _ in range(SETS):
    count = source.randrange(5, 16)
    x = [round(source.uniform(0, 4), 2) for _ in range(count)]
    y = [round(source.uniform(0, 2.4), 2) for _ in range(count)]
    values = [round(source.uniform(7, 28), 1) for _ in range(count)]
    points = np.column_stack([x, y])
    assert len({*zip(x, y)}) == count
    radial = RBFInterpolator(points, values, kernel="linear")
    kriging = OrdinaryKriging(
        x, y, values, variogram_model="linear", variogram_parameters={"slope": 10, "nugget": 0}, exact_values=True
    )
    hull = Delaunay(points)
    asked = 0
    while asked < QUESTIONS:
        at = [round(source.uniform(0, 4), 3), round(source.uniform(0, 2.4), 3)]
        if hull.find_simplex([at])[0] < 0:
            continue
        asked += 1
        one = float(radial([at])[0])
        two = float(kriging.execute("points", [at[0]], [at[1]])[0][0])
        assert abs(one - two) < 1e-6, (one, two)
        texts = [" ".join(map(str, column)) for column in (x, y, values)]
        lines.append(",".join(texts) + f",{at[0]},{at[1]},{one:.10f},{two:.10f}")
(Path(__file__).parent / "values.csv").write_text("\n".join(lines) + "\n")
