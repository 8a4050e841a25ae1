"""Smallest extreme value lives by scipy 1.10: stats.gumbel_l; mean and variance of max(0, life) by quad over survival from age 0.
Run: python3 smallestValue.py > smallestValue.json"""
import json
import numpy as np
from scipy.integrate import quad
from scipy.stats import gumbel_l

cases = []
for location, scale in [(1000.0, 20.0), (1000.0, 100.0), (1000.0, 400.0), (3.0, 2.0)]:
    law = gumbel_l(location, scale)
    end, middle = location + 6.7 * scale, [max(location - k * scale, 1e-3 * scale) for k in (8, 3, 1)] + [location, location + 2 * scale]
    over = lambda f: quad(f, 0, end, points=middle, epsabs=0, epsrel=1e-13, limit=500)[0]
    mean = over(law.sf)
    # From the middle, so that nothing cancels; the share failed at age 0 lies at a distance of the mean.
    variance = over(lambda t: (t - mean) ** 2 * law.pdf(t)) + law.cdf(0) * mean**2
    upper = [float(law.isf(p)) for p in (0.5, 0.1, 1e-3, 1e-15, 1e-100, 1e-300)]
    lower = [float(t) for t in np.array([0.0, 0.1, 0.4, 0.8]) * location]
    cases.append({
        "model": {"kind": "smallestValue", "location": location, "scale": scale},
        "mean": mean, "variance": variance,
        "upper": [[t, float(law.logsf(t)), float(law.logpdf(t))] for t in upper],
        "lower": [[t, float(law.cdf(t)), float(law.logpdf(t))] for t in lower],
        "quantiles": [[p, float(max(0, law.ppf(p)))] for p in (1e-15, 1e-3, 0.1, 0.5, 0.9, 0.999)],
    })
print(json.dumps(cases))
