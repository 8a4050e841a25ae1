"""The one Weibull that fits lives with fitting faults best, in the limit of ever more lives with exact ages, censored at 600 d: share
0.03, early law Weibull 0.8 / 10, wear-out Weibull 3 / 900. The expected log likelihood by scipy's quad over log age.
Run: python3 faultLimit.py > faultLimit.json"""
import json
import numpy as np
from scipy.integrate import quad
from scipy.optimize import minimize

share, end = 0.03, 600.0
Fe = lambda t: -np.expm1(-(t / 10) ** 0.8)
fe = lambda t: 0.08 * (t / 10) ** -0.2 * np.exp(-(t / 10) ** 0.8)
Sw = lambda t: np.exp(-(t / 900) ** 3)
fw = lambda t: 3 / 900 * (t / 900) ** 2 * Sw(t)
density = lambda t: share * fe(t) * Sw(t) + (1 - share * Fe(t)) * fw(t)
sound = (1 - share * Fe(end)) * Sw(end)
over = lambda g: quad(lambda u: density(np.exp(u)) * np.exp(u) * g(u), -60, np.log(end), limit=500, epsabs=1e-13, points=[0, 2, 4])[0]
log_age = over(lambda u: u)


def cost(x):
    k, e = np.exp(x)
    hazard = over(lambda u: np.exp(k * (u - x[1]))) + sound * (end / e) ** k
    return -((1 - sound) * (x[0] - k * x[1]) + (k - 1) * log_age - hazard)


best = minimize(cost, [np.log(1.3), np.log(1500)], method="Nelder-Mead", options=dict(xatol=1e-10, fatol=1e-15)).x
print(json.dumps({"shape": float(np.exp(best[0])), "scale": float(np.exp(best[1]))}))
