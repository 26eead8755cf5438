"""The Wilson score interval of 500 shares, by statsmodels."""
import random
from pathlib import Path

from statsmodels.stats.proportion import proportion_confint

COUNT = 500
source = random.Random(7)
cases = [(4, 20), (0, 1), (1, 1), (0, 10), (10, 10), (1, 10), (9, 10), (0, 100_000), (100_000, 100_000)]
while len(cases) < COUNT:
    whole = round(10 ** source.uniform(0, 6))
    cases.append((round(whole * source.random() ** 2), whole))
lines = ["part,whole,low,high"]
for part, whole in cases:
    low, high = proportion_confint(part, whole, alpha=0.05, method="wilson")
    lines.append(f"{part},{whole},{low:.17g},{high:.17g}")
(Path(__file__).parent / "intervals.csv").write_text("\n".join(lines) + "\n")
