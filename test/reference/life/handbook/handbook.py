"""Probability plots, ranks, distances, chi-square bounds, a gamma prior and demonstration tests a second time: by other functions than those of
published.json (beta by root of the binomial tail, chi-square by root of Poisson sums, lines by numpy's lstsq). Run: python3 handbook.py > handbook.json"""
import json
import math
import os
import numpy as np
from scipy.optimize import brentq
from scipy.stats import binom, norm, poisson

with open(os.path.join(os.path.dirname(os.path.abspath(__file__)), "published.json")) as f:
    cases = json.load(f)
tight = dict(xtol=1e-16, rtol=4 * np.finfo(float).eps, maxiter=500)


def rank(i, n, p):
    """p at which i or more of n fail with chance p: at least i failures is binomial."""
    return brentq(lambda x: binom.sf(i - 1, n, x) - p, 1e-12, 1 - 1e-12, **tight)


def poisson_mean(r, p):
    """Mean at which more than r events come with chance p."""
    return brentq(lambda m: poisson.sf(r, m) - p, 1e-9, 1e4, **tight)


def line(x, y, w=None):
    """Least squares y = a + b x."""
    root = np.sqrt(np.ones(len(x)) if w is None else np.array(w, float))
    (a, b), *_ = np.linalg.lstsq(np.c_[np.ones(len(x)), x] * root[:, None], np.array(y) * root, rcond=None)
    return float(a), float(b)


def weibull_lines(t, n, ranks):
    x = np.log(t)
    i = np.arange(1, len(t) + 1)
    simple = {"benard": (i - 0.3) / (n + 0.4), "hazen": (i - 0.5) / n, "mean": i / (n + 1)}
    p = np.array([rank(int(k), n, 0.5) for k in i]) if ranks == "exact" else simple[ranks]
    y = np.log(-np.log1p(-p))
    a, b = line(x, y)
    c, d = line(y, x)
    r = float(np.corrcoef(x, y)[0, 1])
    return {"rank": [b, math.exp(-a / b)], "age": [1 / d, math.exp(c)], "r2": r * r}


out = {}
a3 = cases["A3"]["data"]
out["A3"] = {"benard": weibull_lines(a3["failures"], a3["n"], "benard"), "exact": weibull_lines(a3["failures"], a3["n"], "exact")}
bearings = cases["D5"]["data"]["millionRevs"]
out["D5"] = {k: weibull_lines(bearings, len(bearings), k) for k in ("benard", "exact", "hazen", "mean")}

a4 = cases["A4"]["data"]
middle, spread = [], []
for celsius, n in zip(a4["tempC"], a4["units"]):
    t = np.array(a4[f"cell{celsius}"], float)
    q = norm.ppf((np.arange(1, len(t) + 1) - 0.3) / (n + 0.4))
    c, d = line(q, np.log(t))
    middle.append(c)
    spread.append(d)
x = [11605 / (c + 273.15) for c in a4["tempC"]]
c, d = line(x, middle, cases["A4"]["inputs"]["weights"])
out["A4"] = {"lnT50": middle, "cellSigma": spread, "intercept": c, "deltaH": d}

t, r = cases["A7"]["data"]["totalTime"], cases["A7"]["data"]["failures"]
out["A7"] = {"low": t / poisson_mean(r, 0.95), "high": t / poisson_mean(r - 1, 0.05),
             "factors": [[r, r / poisson_mean(r, 0.95), r / poisson_mean(r - 1, 0.05)] for r in (1, 2, 5, 10, 20)]}
out["A8"] = {"testTime": 600 * poisson_mean(3, 0.8) - 1400, "median": 3309 / poisson_mean(3, 0.5), "low": 3309 / poisson_mean(3, 0.8),
             "credible": [3309 / poisson_mean(3, 0.9), 3309 / poisson_mean(3, 0.1)], "above500": float(poisson.sf(3, 3309 / 500))}
out["A9"] = [[poisson_mean(r, p) for p in cases["A9"]["data"]["conf"]] for r in cases["A9"]["data"]["r"]]
out["D1"] = [[rank(i, n, 0.5) for i in range(1, n + 1)] for n in range(1, 11)]
out["D2"] = {str(p): [[rank(i, n, p) for i in range(1, n + 1)] for n in range(1, 11)] for p in (0.05, 0.95)}


def smallest(reliability, level, failures):
    n = failures + 1
    while binom.cdf(failures, n, 1 - reliability) > 1 - level:
        n += 1
    return n


out["D8"] = {"lives": [[R, C, r, smallest(R, C, r)] for R, C, r in
                       [(0.9, 0.9, 0), (0.95, 0.9, 0), (0.99, 0.95, 0), (0.9, 0.9, 1), (0.99, 0.9, 5), (0.5, 0.75, 0), (0.999, 0.95, 2)]],
             # With failures: survival over the test at which r or fewer of n fail with chance 1 - level.
             "missions": [[R, C, r, n, b, (math.log(brentq(lambda s: binom.cdf(r, n, 1 - s) - (1 - C), 1e-12, 1 - 1e-12, **tight)) / math.log(R)) ** (1 / b)]
                          for R, C, r, n, b in [(0.9, 0.9, 0, 5, 2), (0.9, 0.9, 1, 10, 1.5), (0.99, 0.95, 0, 3, 3), (0.9, 0.9, 1, 60, 2), (0.8, 0.99, 4, 5, 0.5)]]}


def bartlett(t):
    r, t = len(t), np.array(t, float)
    return float(2 * r * (np.log(t.mean()) - np.log(t).mean()) / (1 + (r + 1) / (6 * r)))


out["H7"] = {name: bartlett(t) for name, t in cases["H7"]["data"].items()}

# Distances by scipy's own tests, Anderson and Darling's by its integral between the steps.
from scipy.integrate import quad
from scipy.stats import cramervonmises, kstest, lognorm, weibull_min


def distances(t, law):
    u, n = np.sort(law.cdf(np.array(t))), len(t)
    edges = np.r_[0, u, 1]
    a2 = sum(quad(lambda x, share: n * (share - x) ** 2 / (x * (1 - x)), edges[k], edges[k + 1], args=(k / n,), epsabs=1e-13)[0]
             for k in range(n + 1) if edges[k + 1] > edges[k])
    return {"A2": a2, "W2": float(cramervonmises(t, law.cdf).statistic),
            "Dplus": float(kstest(t, law.cdf, alternative="greater").statistic), "Dminus": float(kstest(t, law.cdf, alternative="less").statistic)}


t = cases["H5"]["data"]["millionRevs"]
logs = np.log(t)
out["H5"] = {"givenShape2Scale80": distances(t, weibull_min(2, scale=80)),
             "lognormalMLE": distances(t, lognorm(logs.std(), scale=math.exp(logs.mean()))),
             "lognormalSampleSd": {"mu": float(logs.mean()), "sigma": float(logs.std(ddof=1)), **distances(t, lognorm(logs.std(ddof=1), scale=math.exp(logs.mean())))}}

c6 = cases["C6"]["data"]
ratio = np.sort(np.concatenate([c6["system1"], c6["system2"], c6["system3"]])) / c6["endAge"]
b = (len(ratio) - 1) / -np.log(ratio).sum()
rng = np.random.default_rng(11)
e = rng.exponential(size=(200000, len(ratio)))
z = np.sort(np.exp(-e * ((len(ratio) - 1) / e.sum(axis=1))[:, None]), axis=1)
m = len(ratio)
null = 1 / (12 * m) + ((z - (2 * np.arange(1, m + 1) - 1) / (2 * m)) ** 2).sum(axis=1)
c6_statistic = float(cramervonmises(ratio ** b, "uniform").statistic)
out["C6"] = {"cramerVonMises": c6_statistic, "p": float((null >= c6_statistic).mean()), "upper10and5": [float(np.quantile(null, q)) for q in (0.9, 0.95)]}

# Every order of eight times between events, counted one after another.
from itertools import permutations

counts = {}
for order in permutations(range(8)):
    k = sum(order[j] > order[i] for i in range(8) for j in range(i + 1, 8))
    counts[k] = counts.get(k, 0) + 1
out["reversalsOfEight"] = [counts[k] / math.factorial(8) for k in range(29)]
print(json.dumps(out, indent=1))
