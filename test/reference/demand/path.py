"""Recomputes the demand values used in path.test.ts, by scipy and by recursions of its own.
Run: /usr/bin/python3 test/reference/demand/path.py > test/reference/demand/path.json
joint: 40 diaphragms of age 300 d, Weibull 3 / 800, replaced in 180 d unless they leak before; second and third leaks.
cohort: 200 diaphragms of age 400 d, Weibull 3 / 800, leaks in 90 d: Poisson-binomial, mixed over log scale sd 0.15
(Hong 2013; Hong, Meeker & McCalley 2009). jobs: 2 jobs, geometric mean 4 (Panjer 1981).
wayThere: 600 diaphragms replaced at 730 d in the long run, from today at 400 d, Weibull 3 / 900; recursion by an eighth of a day.
fault: 1 diaphragm of age 0, Weibull 2.5 / 500, fitting faults 5 % with Weibull 0.8 / 10, openings 0.3 a year, replaced at
200 d; expected leaks, openings and replacements in two years, recursion by an eighth of a day."""
import json
import numpy as np
from scipy import integrate, stats


def joint():
    s = lambda a: np.exp(-((a / 800) ** 3))
    f = lambda a: 3 / 800 * (a / 800) ** 2 * s(a)
    first = lambda t: f(300 + t) / s(300)
    each = 1 - s(480) / s(300)
    second = integrate.quad(lambda t: first(t) * (1 - s(180 - t)), 0, 180, epsabs=0, epsrel=1e-12)[0]
    inner = lambda t: integrate.quad(lambda u: f(u) * (1 - s(180 - t - u)), 0, 180 - t, epsabs=0, epsrel=1e-11)[0]
    third = integrate.quad(lambda t: first(t) * inner(t), 0, 180, epsabs=0, epsrel=1e-10)[0]
    return {"plannedExpected": 40 * (1 - each), "leaksFirst": 40 * each, "secondLeaks": 40 * second, "thirdLeaks": 40 * third}


def cohort():
    leak = lambda scale: -np.expm1((400 / scale) ** 3 - (490 / scale) ** 3)
    p = leak(800.0)
    law = stats.binom(200, p)
    nodes, weights = np.polynomial.hermite_e.hermegauss(81)
    weights = weights / weights.sum()
    chances = leak(800 * np.exp(0.15 * nodes))
    cdf = lambda k: float(np.sum(weights * stats.binom(200, chances).cdf(k)))
    ppf = lambda q: next(k for k in range(201) if cdf(k) >= q)
    return {"eachLeaks": p, "mean": 200 * p, "pmf": [float(x) for x in law.pmf([10, 20, 30])], "exact80": [int(law.ppf(0.1)), int(law.ppf(0.9))],
            "mixedMean": float(np.sum(weights * 200 * chances)), "mixed80": [ppf(0.1), ppf(0.9)], "mixed95": ppf(0.95),
            "nodes": [[float(800 * np.exp(0.15 * x)), float(w)] for x, w in zip(nodes, weights)]}


def jobs():
    size = stats.geom(0.25)
    n = 4096
    f = np.zeros(n)
    f[1:] = size.pmf(np.arange(1, n))
    # By the transform, not by Panjer's recursion: a road of its own.
    pmf = np.real(np.fft.ifft(np.exp(2 * (np.fft.fft(f) - 1))))
    cdf = np.cumsum(pmf)
    return {"mean": float(np.sum(np.arange(n) * pmf)), "variance": float(np.sum(np.arange(n) ** 2 * pmf) - 64),
            "level95": int(np.argmax(cdf >= 0.95)), "noShortAt13": float(cdf[13]), "first": [float(x) for x in pmf[:12]]}


def way_there():
    h = 1 / 8
    s = lambda a: np.exp(-((a / 900.0) ** 3))
    cells, due = round(730 / h), round(400 / h)
    age = (np.arange(0, cells) + 0.5) * h
    mass = s(age) / s(age).sum() * 600  # by age at the middle of the cell
    keep = s(age + h) / s(age)
    overdue = float(mass[due:].sum())
    steps = round(365.25 / h)
    total = np.zeros(5 * steps)
    for step in range(5 * steps):
        gone = mass[due:].sum()
        mass[due:] = 0
        left = mass * keep
        total[step] = gone + (mass - left).sum()
        mass = np.concatenate([[total[step]], left[:-1]])
    return {"overdue": overdue, "years": [float(total[y * steps : (y + 1) * steps].sum()) for y in range(5)]}


def fault():
    h = 1 / 8
    n = int(730.5 / h)
    w = 0.3 / 365.25
    s = lambda a: (1 - 0.05 * -np.expm1(-((a / 10) ** 0.8))) * np.exp(-((a / 500) ** 2.5))
    edges = np.arange(0, n + 1) * h
    both = s(edges) * np.exp(-w * edges)
    last = int(200 / h)
    removal = both[:-1] - both[1:]
    opened = w * h * (both[:-1] + both[1:]) / 2
    leaks = removal - opened
    removal[last:] = 0
    leaks[last:] = 0
    opened[last:] = 0
    births = np.zeros(n + 1)
    births[0] = 1
    out = np.zeros((3, n))
    # Births of a step are followed from its end: first order, with a step of an eighth of a day.
    for k in range(n):
        b = births[: k + 1][::-1]
        m = min(k + 1, last)
        out[0, k] = b[:m] @ leaks[:m]
        out[1, k] = b[:m] @ opened[:m]
        if k + 1 >= last:
            out[2, k] = births[k + 1 - last] * both[last]
        births[k + 1] = out[:, k].sum()
    months = np.minimum((edges[1:] - 1e-9) // 30.4375, 23).astype(int)
    by = lambda row: [float(x) for x in np.bincount(months, row, 24)]
    return {"leaks": by(out[0]), "opened": by(out[1]), "planned": by(out[2])}


print(json.dumps({"joint": joint(), "cohort": cohort(), "jobs": jobs(), "wayThere": way_there(), "fault": fault()}, indent=1))
