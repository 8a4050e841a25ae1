"""Median ranks by scipy's beta quantile, whole and broken order numbers; and straight lines on probability paper by numpy's polyfit
on points whose adjusted ranks are written out here life by life. Run: python3 ranks.py > ranks.json"""
import json
import numpy as np
from scipy.stats import beta, norm

orders = [(i, n) for n in (1, 2, 3, 6, 8, 21) for i in range(1, n + 1)]
orders += [(i, 1000) for i in (1, 2, 5, 37, 250, 500, 501, 730, 999, 1000)]
orders += [(i, 10**6) for i in (1, 3, 1000, 250000, 500000, 500001, 900000, 999990, 10**6)]
orders += [(1.125, 8), (2.4375, 8), (3.75, 8), (5.0625, 8), (6.375, 8), (17.71, 40), (0.6, 2.5), (812345.6, 10**6)]
median = [{"i": i, "n": n, "rank": float(beta.ppf(0.5, i, n - i + 1))} for i, n in orders]

SETS = {
    # Eight lives, five failures: the adjusted ranks of the handbook's worked example.
    "handbook": [(10, 0, 1), (30, 1, 1), (45, 0, 1), (49, 1, 1), (82, 1, 1), (90, 1, 1), (96, 1, 1), (100, 0, 1)],
    "sixUnits": [(16, 1, 1), (34, 1, 1), (53, 1, 1), (75, 1, 1), (93, 1, 1), (120, 1, 1)],
    "ties": [(120, 1, 3), (200, 0, 4), (200, 1, 2), (340, 1, 1), (340, 0, 2), (410, 1, 5), (500, 0, 6), (610, 1, 2), (700, 0, 9)],
}


def points(rows):
    """One life after another, failures first at an age; tied failures as one point at their mean order number."""
    lives = sorted(((t, 1 - f) for t, f, c in rows for _ in range(c)))
    n, order, at = len(lives), 0.0, {}
    for k, (t, censored) in enumerate(lives):
        if not censored:
            order += (n + 1 - order) / (1 + n - k)
            at.setdefault(t, []).append(order)
    age = sorted(at)
    return np.array(age, float), np.array([np.mean(at[t]) for t in age]), np.array([len(at[t]) for t in age], float), n


out = {}
for name, rows in SETS.items():
    t, i, w, n = points(rows)
    fits = []
    for ranks in ("exact", "benard"):
        p = beta.ppf(0.5, i, n - i + 1) if ranks == "exact" else (i - 0.3) / (n + 0.4)
        for kind in ("weibull", "lognormal"):
            x, y = np.log(t), np.log(-np.log1p(-p)) if kind == "weibull" else norm.ppf(p)
            r2 = np.cov(x, y, aweights=w)[0, 1] ** 2 / (np.cov(x, aweights=w) * np.cov(y, aweights=w))
            for regress in ("age", "rank"):
                if regress == "age":
                    slope, middle = np.polyfit(y, x, 1, w=np.sqrt(w))
                else:
                    b, a = np.polyfit(x, y, 1, w=np.sqrt(w))
                    slope, middle = 1 / b, -a / b
                pair = [1 / slope, np.exp(middle)] if kind == "weibull" else [middle, slope]
                fits.append({"ranks": ranks, "kind": kind, "regress": regress, "pair": [float(v) for v in pair], "r2": float(r2)})
    out[name] = {"age": [r[0] for r in rows], "failed": [r[1] for r in rows], "count": [r[2] for r in rows],
                 "order": i.tolist(), "fits": fits}
print(json.dumps({"median": median, "lines": out}, indent=1))
