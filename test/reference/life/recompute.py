"""A second road to the values of published.json: likelihoods written out here, maximised by scipy 1.10 from several starts and
polished by Newton on central differences; likelihood bounds by profile and root. Run: python3 recompute.py > recomputed.json"""
import json
import numpy as np
from scipy.optimize import brentq, minimize, minimize_scalar
from scipy.stats import chi2, norm

cases = json.load(open("published.json"))


def rows(case):
    d = case["data"]
    if "failures" in d:
        t = np.array(d["failures"] + d["censored"], float)
        return t, np.r_[np.ones(len(d["failures"])), np.zeros(len(d["censored"]))]
    if "millionRevs" in d:
        t = np.array(d["millionRevs"], float)
        return t, np.ones(len(t))
    if "km" in d:
        return np.array(d["km"], float), np.array(d["failed"], float)
    return np.array(d["hours"], float), np.array(d["status"], float)


def weibull(t, failed, entry=0.0):
    def loglik(x):
        k, e = np.exp(x[0]), np.exp(x[1])
        return np.sum(failed * (np.log(k / e) + (k - 1) * np.log(t / e)) - (t / e) ** k + (entry / e) ** k)
    return loglik


def lognormal(t, failed):
    def loglik(x):
        z = (np.log(t) - x[1]) / np.exp(x[0])
        return np.sum(np.where(failed > 0, norm.logpdf(z) - x[0] - np.log(t), norm.logsf(z)))
    return loglik


def best(f, starts):
    ends = [minimize(lambda x: -f(x), s, method="Nelder-Mead", options=dict(xatol=1e-11, fatol=1e-13, maxiter=5000, maxfev=9000)) for s in starts]
    x = min(ends, key=lambda r: r.fun).x
    for _ in range(4):
        g, h = slopes(f, x)
        x = x - np.linalg.solve(h, g)
    return x, f(x), slopes(f, x)[1]


def slopes(f, x, d=2e-4):
    n = len(x)
    eye = np.eye(n) * d
    g = np.array([(8 * (f(x + e) - f(x - e)) - (f(x + 2 * e) - f(x - 2 * e))) / (12 * d) for e in eye])
    h = np.zeros((n, n))
    D = 1e-3 * np.eye(n)
    for i in range(n):
        for j in range(n):
            h[i, j] = (f(x + D[i] + D[j]) - f(x + D[i] - D[j]) - f(x - D[i] + D[j]) + f(x - D[i] - D[j])) / (4 * 1e-6)
    return g, h


def profile_bounds(t, failed, conf, what, arg):
    f = weibull(t, failed)
    x, top, _ = best(f, [[0.5, np.log(np.mean(t))]])
    drop = chi2.ppf(conf, 1) / 2
    if what == "shape":
        here = x[0]
        prof = lambda g: -minimize_scalar(lambda e: -f([g, e]), bracket=(x[1] - 0.5, x[1] + 0.5), tol=1e-13).fun
    else:
        place = {"scale": lambda k, g: g, "B": lambda k, g: g - np.log(-np.log(1 - arg)) / k, "R": lambda k, g: np.log(arg) - g / k}[what]
        here = {"scale": x[1], "B": x[1] + np.log(-np.log(1 - arg)) / np.exp(x[0]) if what == "B" else 0,
                "R": np.exp(x[0]) * (np.log(arg) - x[1]) if what == "R" else 0}[what]
        prof = lambda g: -minimize_scalar(lambda b: -f([b, place(np.exp(b), g)]), bracket=(x[0] - 0.3, x[0] + 0.3), tol=1e-13).fun
    ends = []
    for way in (-1, 1):
        far = 0.1
        while prof(here + way * far) > top - drop:
            far *= 1.5
        ends.append(brentq(lambda g: prof(g) - top + drop, here, here + way * far, xtol=1e-12))
    back = (lambda g: float(np.exp(-np.exp(g)))) if what == "R" else (lambda g: float(np.exp(g)))
    return sorted(back(g) for g in ends)


out = {"fits": {}, "bounds": {}}
for name in ["A1", "A2", "C1", "C2", "C8"]:
    t, failed = rows(cases[name])
    x, top, h = best(weibull(t, failed), [[0.0, np.log(t.mean())], [1.0, np.log(t.max())]])
    y, ltop, _ = best(lognormal(t, failed), [[0.0, np.log(t.mean())]])
    out["fits"][name] = {"shape": np.exp(x[0]), "scale": np.exp(x[1]), "logLik": top, "information": (-h).ravel().tolist(),
                         "mu": y[1], "sigma": np.exp(y[0]), "lognormalLogLik": ltop}
d = cases["B9"]["data"]
f = weibull(np.array(d["exitAge"], float), np.array(d["status"], float), np.array(d["entryAge"], float))
x, top, _ = best(f, [[0.5, 7.0], [1.0, 7.2]])
out["fits"]["B9"] = {"shape": np.exp(x[0]), "scale": np.exp(x[1]), "logLik": top}
d = cases["B2"]["data"]
t, n, r = (np.array(d[k], float) for k in ("hoursHundreds", "inspected", "failed"))


def current_status(x):
    h = (t / np.exp(x[1])) ** np.exp(x[0])
    return np.sum(np.where(r > 0, r * np.log(-np.expm1(-h)), 0) - (n - r) * h)


x, top, _ = best(current_status, [[0.5, 3.5]])
out["fits"]["B2"] = {"shape": np.exp(x[0]), "scale": np.exp(x[1]), "logLik": top}
for name in ["G1", "G2", "G4"]:
    t, failed = rows(cases[name])
    at = cases[name]["inputs"]["reliabilityAt"]
    out["bounds"][name] = {what: profile_bounds(t, failed, 0.9, what, arg) for what, arg in
                           [("shape", 0), ("scale", 0), ("B", 0.1), ("R", at)]}
print(json.dumps(out, indent=1))
