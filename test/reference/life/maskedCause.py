"""Weibull wear-out with fitting faults (share 0.03, Weibull 0.7 / 20) where the reason of some removals is not known: rows that
failed on a day, were sound, or ended on a day either by failure or by another cause of known daily hazard. The likelihood is
integrated row by row from the hazard itself (scipy's quad), with no closed form of the survival, and maximised by Nelder-Mead.
Run: python3 maskedCause.py > maskedCause.json"""
import json
import numpy as np
from scipy.integrate import quad
from scipy.optimize import minimize

share, b, eta = 0.03, 0.7, 20.0
leaks = [(3, 0), (190, 0), (260, 0), (310, 120), (402, 0), (455, 0), (520, 300)]
sound = [(90, 0), (365, 0), (365, 0), (366, 0), (370, 0), (500, 200), (640, 0), (700, 0)]
# (days, entry, hazard per day of all else)
unknown = [(0, 0, 4e-4), (5, 0, 3e-4), (150, 0, 2.5e-4), (364, 0, 0.03), (367, 100, 0.02), (430, 0, 6e-4), (560, 0, 9e-4), (610, 0, 1.2e-3)]


def early_hazard(t):
    Fe = -np.expm1(-(t / eta) ** b)
    return share * b / eta * (t / eta) ** (b - 1) * (1 - Fe) / (1 - share * Fe)


def cost(x):
    k, e = np.exp(x)
    hazard = lambda t: k / e * (t / e) ** (k - 1) + early_hazard(t)
    grow = lambda low, high: quad(lambda u: hazard(np.exp(u)) * np.exp(u), np.log(max(low, 1e-12)), np.log(high), epsabs=1e-13, epsrel=1e-12, limit=400)[0]
    day = lambda d: (max(d - 0.5, 0), 1 if d == 0 else d + 0.5)
    total = 0.0
    for d, entry in leaks:
        low, high = day(d)
        total += -grow(entry, low) if low > entry else 0
        total += np.log(-np.expm1(-grow(low, high)))
    for d, entry in sound:
        total -= grow(entry, d)
    for d, entry, other in unknown:
        low, high = day(d)
        total += -grow(entry, low) if low > entry else 0
        # Either it leaked on the day, or it did not and something else ended it.
        leaked = -np.expm1(-grow(low, high))
        total += np.log(leaked + (1 - leaked) * -np.expm1(-other))
    return -total


best = minimize(cost, np.log([2.0, 600.0]), method="Nelder-Mead", options=dict(xatol=1e-9, fatol=1e-13, maxiter=2000))
as_rows = lambda rows: [list(r) for r in rows]
print(json.dumps({"fault": {"share": share, "shape": b, "scale": eta}, "leaks": as_rows(leaks), "sound": as_rows(sound), "unknown": as_rows(unknown), "shape": float(np.exp(best.x[0])), "scale": float(np.exp(best.x[1])), "logLikelihood": -float(best.fun), "atTwo": {"shape": 2, "scale": 600, "logLikelihood": -float(cost(np.log([2.0, 600.0])))}}))
