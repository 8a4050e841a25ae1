"""Poisson tails, the spread of ratios by maximum likelihood, and bounds of shrunken ratios, by scipy.
Run: python3 standOuts.py > standOuts.json
"""
import json
import sys
import numpy as np
from scipy import optimize, stats

tails = [
    [x, m, float(stats.poisson.sf(x - 1, m))]
    for x in (1, 3, 7, 40, 400)
    for m in (1e-9, 1e-3, 0.42, 2.9, 6.9999, 7.0, 55.0, 399.0)
    if stats.poisson.sf(x - 1, m) > 1e-290
]
# Few with many leaks among many like the others; more alike than chance (k runs to its end); one leak in all.
cases = {
    "few bad ones": ([8, 7, 7, 5, 9] + [0, 1, 0, 2, 1, 0, 0, 1, 3, 0] * 6, [0.6, 0.5, 0.7, 0.9, 1.4] + [0.8, 1.1, 0.4, 1.9, 0.9, 0.3, 0.6, 1.0, 2.2, 0.5] * 6),
    "one leak": ([1, 0, 0, 0], [0.2, 0.3, 1e-6, 0.25]),
    "very uneven": ([40, 0, 0, 0, 0, 0, 1, 0, 0, 22], [3.0, 2.0, 4.0, 3.0, 2.5, 2.0, 3.0, 3.3, 2.1, 2.0]),
}
low, high = np.log(0.05), np.log(400)


def best_k(leaks, expected):
    leaks, expected = np.array(leaks), np.array(expected)
    f = lambda t: -stats.nbinom.logpmf(leaks, np.exp(t), np.exp(t) / (np.exp(t) + expected)).sum()
    grid = np.linspace(low, high, 400)
    g = grid[np.argmin([f(t) for t in grid])]
    found = optimize.minimize_scalar(f, bounds=(max(low, g - 0.05), min(high, g + 0.05)), method="bounded", options={"xatol": 1e-10})
    return float(np.exp(found.x))


spreads = {name: {"leaks": l, "expected": e, "k": float(f"{best_k(l, e):.5g}")} for name, (l, e) in cases.items()}
ratios = [
    [x, m, k, (x + k) / (m + k), *[float(stats.gamma.ppf(p, x + k, scale=1 / (m + k))) for p in (0.1, 0.9)]]
    for x, m, k in ((8, 0.54, 3.69), (0, 2.5, 0.05), (3, 1e-6, 400.0))
]
out = json.dumps({"tails": tails, "spreads": spreads, "ratios": ratios}, indent=1)
print(out) if len(sys.argv) < 2 else open(sys.argv[1], "w").write(out)
