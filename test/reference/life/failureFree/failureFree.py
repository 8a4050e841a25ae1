"""Weibull lives after a failure-free time by scipy 1.10: stats.exponweib with exponent 1 and loc.
Run: python3 failureFree.py > failureFree.json"""
import json
from math import log
from scipy.stats import exponweib, weibull_min

cases = []
for shape, scale, free in [(0.7, 500.0, 100.0), (1.0, 300.0, 50.0), (2.5, 700.0, 300.0), (9.0, 64.0, 256.0)]:
    law = exponweib(1.0, shape, loc=free, scale=scale)
    # exponweib's own upper tail is one minus its cdf: the log survival of weibull_min is exact there, its inverse is not.
    tail = weibull_min(shape, loc=free, scale=scale)
    upper = [free + scale * (-log(p)) ** (1 / shape) for p in (0.5, 0.1, 1e-3, 1e-15, 1e-100, 1e-300)]
    # Ages at which the time since is exact in binary, so that no digit is lost before the law begins.
    lower = [free + step for step in (2.0**-30, 2.0**-8, 1.0, 32.0)]
    cases.append({
        "model": {"kind": "weibull", "shape": shape, "scale": scale, "failureFree": free},
        "mean": float(tail.mean()), "variance": float(tail.var()),
        "upper": [[t, float(tail.logsf(t)), float(tail.logpdf(t))] for t in upper],
        "lower": [[t, float(law.cdf(t)), float(tail.logpdf(t))] for t in lower],
        "quantiles": [[p, float(tail.ppf(p))] for p in (1e-3, 0.1, 0.5, 0.9, 0.999)],
    })
print(json.dumps(cases))
