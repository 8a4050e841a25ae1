"""Money in stock by plain sums of probabilities (scipy): leaks a year that find the shelf empty, under laws written out term by term.

A review every R days, lead time L with spread, demand of a span negative binomial or Poisson by mean and variance; the position after a
review is spread evenly over level - lot + 1 to level; what is short in a review period is the rise of back orders from L to L + R.
Prints the JSON, or writes it to the path given.
"""
import json
import sys

import numpy as np
from scipy import stats


def law(mean, variance):
    if variance <= mean * (1 + 1e-9):
        return stats.poisson(mean)
    return stats.nbinom(mean * mean / (variance - mean), mean / variance)


def backorders(mean, variance, y):
    d = law(mean, variance)
    k = np.arange(0, int(mean + 60 * np.sqrt(variance) + 200))
    return float(np.sum(np.maximum(k - y, 0) * d.pmf(k)))


def moments(case, days):
    r, v, s, sd = case["perDay"], case["variancePerDay"], case["rateSd"], case["leadSd"]
    return r * days, v * days + (r * sd) ** 2 + s * s * (days * days + sd * sd)


def served(case, level, lot):
    if level <= 0:
        return 0.0
    spread = min(lot, level)
    total = 0.0
    for y in range(level - spread + 1, level + 1):
        late = backorders(*moments(case, case["lead"] + case["review"]), y)
        early = backorders(*moments(case, case["lead"]), y)
        total += (late - early) / (case["perDay"] * case["review"])
    return 1 - total / spread


CASES = [
    {"perDay": 0.02, "variancePerDay": 0.02, "rateSd": 0.0, "lead": 40, "leadSd": 10, "review": 7},
    {"perDay": 0.15, "variancePerDay": 0.4, "rateSd": 0.02, "lead": 60, "leadSd": 15, "review": 7},
    {"perDay": 0.004, "variancePerDay": 0.006, "rateSd": 0.001, "lead": 120, "leadSd": 0, "review": 28},
    {"perDay": 1.2, "variancePerDay": 1.2, "rateSd": 0.1, "lead": 25, "leadSd": 6, "review": 14},
]

out = {
    "served": [
        {**case, "rows": [[level, lot, served(case, level, lot)] for level in (0, 1, 3, 8, 20, 40) for lot in (1, 5)]}
        for case in CASES
    ]
}
text = json.dumps(out, indent=1) + "\n"
if len(sys.argv) > 1:
    open(sys.argv[1], "w").write(text)
else:
    sys.stdout.write(text)
