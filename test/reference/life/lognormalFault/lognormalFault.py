"""Lognormal wear-out beside a known part of faulty fittings, by maximum likelihood: an independent search in scipy."""
import json
import sys

import numpy as np
from scipy.optimize import minimize
from scipy.stats import norm

CASES = [
    {"name": "days", "share": 0.05, "shape": 0.7, "scale": 20,
     "lower": [0, 3.5, 11.5, 299.5, 380.5, 410.5, 455.5, 520.5, 365, 365, 548, 700, 90],
     "upper": [1, 4.5, 12.5, 300.5, 381.5, 411.5, 456.5, 521.5, None, None, None, None, None],
     "entry": [0, 0, 0, 100, 0, 0, 200, 0, 0, 0, 0, 300, 0],
     "count": [1, 2, 1, 1, 1, 2, 1, 1, 40, 12, 9, 2, 5]},
    {"name": "heavy censoring", "share": 0.01, "shape": 0.8, "scale": 15,
     "lower": [120.5, 333.5, 360.5, 365], "upper": [121.5, 334.5, 361.5, None],
     "entry": [0, 0, 0, 0], "count": [1, 1, 1, 400]},
    {"name": "no faults, narrow", "share": 0, "shape": 1, "scale": 1,
     "lower": [995.5, 1000.5, 1003.5, 1010.5, 1001], "upper": [996.5, 1001.5, 1004.5, 1011.5, None],
     "entry": [0, 0, 0, 0, 0], "count": [3, 2, 2, 1, 6]},
]


def fit(c):
    lower, entry, count = (np.array(c[k], float) for k in ("lower", "entry", "count"))
    upper = np.array([np.inf if u is None else u for u in c["upper"]], float)

    def minus(x):
        mu, sigma = x[0], np.exp(x[1])

        def left(t):
            with np.errstate(divide="ignore"):
                faults = 1 - c["share"] * -np.expm1(-((t / c["scale"]) ** c["shape"]))
                return np.where(t == np.inf, 0.0, faults * norm.sf((np.log(t) - mu) / sigma))

        with np.errstate(divide="ignore", invalid="ignore"):
            inside = left(np.maximum(lower, entry)) - np.where(upper == np.inf, 0, left(upper))
            value = -np.sum(count * (np.log(inside) - np.log(left(entry))))
        return value if np.isfinite(value) else 1e10

    ages = lower[(upper < np.inf) & (lower > 60)]
    best = None
    # More than one top is possible: an early leak may be the fault's or wear-out's.
    for x in [[np.log(ages).mean() + z * s, np.log(s)] for s in (0.005, 0.1, 0.4, 1.0) for z in (0.5, 1.5, 2.5)]:
        for _ in range(6):
            found = minimize(minus, x, method="Nelder-Mead", options={"xatol": 1e-11, "fatol": 1e-13, "maxiter": 4000})
            x = found.x
        if best is None or found.fun < best.fun:
            best = found
    return {**c, "mu": best.x[0], "sigma": float(np.exp(best.x[1])), "logLikelihood": -best.fun}


text = json.dumps({"source": "scipy, see lognormalFault.py", "cases": [fit(c) for c in CASES]}, indent=2)
if len(sys.argv) > 1:
    open(sys.argv[1], "w").write(text + "\n")
else:
    print(text)
