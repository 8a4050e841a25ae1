"""Generalised gamma lives in Prentice's parameters. For |q| from 0.05 by scipy 1.10 (stats.gengamma with a = 1 / q², c = q / sigma and
scale exp(mu) q^(2 sigma / q); a negative c is the branch of negative q). For smaller |q|, where scipy runs out of digits, the
incomplete gamma function in 60 digits by its power series, with Stirling's series for log Gamma.
Run: python3 generalisedGamma.py > generalisedGamma.json"""
import json
from decimal import Decimal as D, getcontext
from fractions import Fraction
import numpy as np
from scipy.stats import gengamma

getcontext().prec = 60
PI = D("3.14159265358979323846264338327950288419716939937510582097494459")
BERNOULLI = [Fraction(1, 6), Fraction(-1, 30), Fraction(1, 42), Fraction(-1, 30), Fraction(5, 66), Fraction(-691, 2730), Fraction(7, 6)]


def log_gamma(a):
    """Stirling's series; a is 400 or more here, so that seven terms leave less than 1e-36."""
    total = (a - D("0.5")) * a.ln() - a + (2 * PI).ln() / 2
    for k, b in enumerate(BERNOULLI, 1):
        total += D(b.numerator) / D(b.denominator) / (2 * k * (2 * k - 1)) / a ** (2 * k - 1)
    return total


def tails(a, x):
    """P and Q."""
    lead = (a * x.ln() - x - log_gamma(a + 1)).exp()
    term = total = D(1)
    n = 0
    while term > total * D("1e-58"):
        n += 1
        term *= x / (a + n)
        total += term
    p = lead * total
    return p, 1 - p


cases = []
for mu, sigma, q in [(6.0, 0.4, 0.05), (6.0, 0.4, 0.3), (6.0, 0.4, 1.0), (6.0, 0.7, 2.5), (5.0, 0.2, 7.0), (6.0, 0.4, -0.05), (6.0, 0.4, -0.3), (6.0, 0.45, -1.0), (6.0, 0.3, -1.6)]:
    law = gengamma(1 / q**2, q / sigma, scale=np.exp(mu) * abs(q) ** (2 * sigma / q))
    upper = [float(law.isf(p)) for p in (0.9, 0.5, 0.1, 1e-3, 1e-15, 1e-100, 1e-250)]
    lower = [float(law.ppf(p)) for p in (1e-250, 1e-100, 1e-15, 1e-6, 1e-2)]
    # Ages that scipy cannot hold come out as 0 or without limit.
    upper, lower = [[t for t in ages if 0 < t < np.inf] for ages in (upper, lower)]
    cases.append({
        "model": {"kind": "generalisedGamma", "mu": mu, "sigma": sigma, "q": q},
        "mean": float(law.mean()), "variance": float(law.var()),
        "upper": [[t, float(law.logsf(t)), float(law.logpdf(t))] for t in upper],
        "lower": [[t, float(law.cdf(t)), float(law.logpdf(t))] for t in lower],
        "quantiles": [[p, float(law.ppf(p))] for p in (1e-15, 1e-3, 0.1, 0.5, 0.9, 0.999) if law.ppf(p) > 0],
    })

# Standard law (mu 0, sigma 1) at ages whose logs are places w: log survival and log chance of failure.
small = []
for q in (0.02, 0.0101, 0.0099, 0.003, 0.001, -0.003, 0.0005):
    for w in (-36.0, -20.0, -8.0, -3.0, -1.0, -0.01, 0.0, 0.3, 2.0, 7.0):
        exact = D(q)
        p, upper = tails(1 / exact**2, (exact * D(w)).exp() / exact**2)
        failed, alive = (p, upper) if q > 0 else (upper, p)
        # 60 digits leave nothing of a complement below 1e-40.
        log = lambda own, other, exact: float(-other - other**2 / 2) if other < D("1e-25") else float(own.ln()) if exact or own > D("1e-40") else None
        row = {"q": q, "w": w, "logSurvival": log(alive, failed, q < 0), "logFailed": log(failed, alive, q > 0)}
        if failed == p == 0 or alive == p == 0:
            raise ValueError(row)
        # A complement that is all digits lost tells nothing about the other side either.
        if upper < D("1e-40"):
            row["logSurvival" if q > 0 else "logFailed"] = None
            row["logFailed" if q > 0 else "logSurvival"] = None
        small.append(row)
print(json.dumps({"cases": cases, "small": small}))
