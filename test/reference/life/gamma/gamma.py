"""Gamma lives by scipy 1.10 (stats.gamma, special.gammaincc): survival to 1e-300, chances of failure to 1e-300, moments, quantiles.
Chances of failure and log density in 50 digits, because scipy's loses them to log Gamma where the shape is large (4e-9 at 3e6).
Run: python3 gamma.py > gamma.json"""
import json
from decimal import Decimal as D, getcontext
from scipy.stats import gamma

getcontext().prec = 50
PI = D("3.14159265358979323846264338327950288419716939937510582097494459")


def log_gamma(a):
    """Stirling's series from 200 on; below it by the recurrence."""
    steps = D(0)
    while a < 200:
        steps += a.ln()
        a += 1
    series = 1 / (12 * a) - 1 / (360 * a**3) + 1 / (1260 * a**5) - 1 / (1680 * a**7) + 1 / (1188 * a**9)
    return (a - D("0.5")) * a.ln() - a + (2 * PI).ln() / 2 + series - steps


def chance(shape, scale, t):
    """Chance of failure by the power series, which needs about 8 sqrt(shape) terms: scipy stops after 2000."""
    a, x = D(shape), D(t) / D(scale)
    term = total = D(1)
    n = 0
    while term > total * D("1e-30"):
        n += 1
        term *= x / (a + n)
        total += term
    return float((a * x.ln() - x - log_gamma(a)).exp() / a * total)


def log_density(shape, scale, t):
    a, x = D(shape), D(t) / D(scale)
    return float((a - 1) * x.ln() - x - log_gamma(a) - D(scale).ln())


cases = []
for shape, scale in [(0.05, 100.0), (0.5, 3.0), (1.0, 10.0), (2.5, 400.0), (37.0, 20.0), (190.0, 5.0), (850.0, 1.0), (20000.0, 0.05), (3e6, 1e-3)]:
    law = gamma(shape, scale=scale)
    upper = [float(law.isf(p)) for p in (0.9, 0.5, 0.1, 1e-3, 1e-15, 1e-100, 1e-300)]
    lower = [float(law.ppf(p)) for p in (1e-300, 1e-100, 1e-15, 1e-6, 1e-2)]
    lower = [t for t in lower if t > 1e-300]
    cases.append({
        "model": {"kind": "gamma", "shape": shape, "scale": scale},
        "mean": float(law.mean()), "variance": float(law.var()),
        "upper": [[t, float(law.logsf(t)), log_density(shape, scale, t)] for t in upper],
        "lower": [[t, chance(shape, scale, t), log_density(shape, scale, t)] for t in lower],
        "quantiles": [[p, float(law.ppf(p))] for p in (1e-15, 1e-3, 0.1, 0.5, 0.9, 0.999) if law.ppf(p) > 1e-300 and (shape < 1e5 or p > 0.01)],
    })
print(json.dumps(cases))
