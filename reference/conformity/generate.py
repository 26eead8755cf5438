"""Probability of conformity of 500 random values, by SciPy's normal distribution."""
import random
from pathlib import Path

from scipy.stats import norm

COUNT = 500
source = random.Random(7)
lines = ["value,u,lower,upper,probability"]
for _ in range(COUNT):
    lower = round(source.uniform(-50, 100), 3)
    upper = round(lower + source.uniform(0.5, 30), 3)
    u = round(source.uniform(0.05, 8), 4)
    value = round(source.choice([lower, upper]) + source.gauss(0, 3) * u, 3)
    sides = source.choice(["both", "both", "lower", "upper"])
    low = lower if sides != "upper" else None
    high = upper if sides != "lower" else None
    if low is None:
        probability = norm.cdf(high, value, u)
    elif high is None:
        probability = norm.sf(low, value, u)
    elif value < low:
        probability = norm.sf(low, value, u) - norm.sf(high, value, u)
    else:
        probability = norm.cdf(high, value, u) - norm.cdf(low, value, u)
    written = ["" if side is None else str(side) for side in (low, high)]
    lines.append(f"{value},{u},{written[0]},{written[1]},{probability:.17g}")
(Path(__file__).parent / "probabilities.csv").write_text("\n".join(lines) + "\n")
