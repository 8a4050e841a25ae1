"""Replacement policies by roads of their own: block replacement by the power series of the renewal function in decimal
arithmetic (Smith & Leadbetter 1963), and with fitting faults and openings by midpoint increments on two fine grids with
Richardson's extrapolation; minimal repair by minimising the cost rate; discounted cost, availability and the chance to hold over
a window by scipy quadrature and roots. Run: /usr/bin/python3 policies.py > policies.json"""
import json
import math
import sys
from decimal import Decimal as D, getcontext

import numpy as np
from scipy import integrate, optimize

getcontext().prec = 120
TERMS = 160


def root_pi():
    def arctan_inverse(x):
        total, term, k = D(0), D(1) / x, 0
        while abs(term) > D(10) ** -125:
            total += (1 if k % 2 == 0 else -1) * term / (2 * k + 1)
            term /= x * x
            k += 1
        return total

    return (4 * (4 * arctan_inverse(5) - arctan_inverse(239))).sqrt()


ROOT_PI = root_pi()


def gamma_half(halves):
    """Gamma(halves / 2)."""
    value, at = (D(1), 2) if halves % 2 == 0 else (ROOT_PI, 1)
    while at < halves:
        value *= D(at) / 2
        at += 2
    return value


def series(halves):
    """Coefficients of t^(n shape), shape = halves / 2."""
    gammas = [gamma_half(n * halves + 2) for n in range(TERMS + 1)]
    g = [gammas[n] / math.factorial(n) for n in range(TERMS + 1)]
    a = [D(0)]
    for n in range(1, TERMS + 1):
        a.append(g[n] - sum(g[j] * a[n - j] for j in range(1, n)))
    return [(1 if n % 2 == 1 else -1) * a[n] / gammas[n] if n else D(0) for n in range(TERMS + 1)]


def block_first(halves, ratio, coefficients):
    """First stationary point of (1 + ratio M(T)) / T and the rate there."""

    def count_and_slope(t):
        power, count, slope = (D(t) ** (D(halves) / 2)), D(0), D(0)
        term = D(1)
        for n in range(1, TERMS + 1):
            term *= power
            count += coefficients[n] * term
            slope += coefficients[n] * term * n * halves / 2
        return count, slope

    def f(t):
        count, slope = count_and_slope(t)
        return slope - count - D(1) / ratio

    low, step = D("0.02"), D("0.01")
    while f(low + step) < 0:
        low += step
        if low > D("1.4"):
            return None
    high = low + step
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if f(middle) < 0 else (low, middle)
    count, _ = count_and_slope(low)
    return float(low), float((1 + ratio * count) / low)


def block_cases():
    rows = []
    for halves in (3, 4, 5, 6, 8):
        coefficients = series(halves)
        for ratio in (2, 5, 10, 20, 50):
            first = block_first(halves, ratio, coefficients)
            rows.append({"shape": halves / 2, "ratio": ratio, "first": first and first[0], "rate": first and first[1]})
    return rows


MODEL = {"shape": 3.0, "scale": 900.0, "share": 0.05, "faultShape": 2.0, "faultScale": 15.0, "openings": 0.0006}
COSTS = {"replacement": 1.0, "early": 4.0, "wear": 10.0, "opening": 2.0}


def parts(t):
    m = MODEL
    early = (t / m["faultScale"]) ** m["faultShape"]
    wear = (t / m["scale"]) ** m["shape"]
    sound = 1 - m["share"] * -np.expm1(-early)
    sw = np.exp(-wear) * np.exp(-m["openings"] * t)
    fe = m["share"] * m["faultShape"] * (t / m["faultScale"]) ** (m["faultShape"] - 1) / m["faultScale"] * np.exp(-early)
    hw = m["shape"] * (t / m["scale"]) ** (m["shape"] - 1) / m["scale"]
    return sound * sw, fe * sw, sound * sw * hw


def incidence(times, which):
    """Chance that the life has ended by each time in one way, by 12 Gauss nodes between times."""
    x, w = np.polynomial.legendre.leggauss(12)
    a, b = times[:-1], times[1:]
    nodes = 0.5 * (a + b)[:, None] + 0.5 * (b - a)[:, None] * x
    pieces = (parts(nodes)[which] * w).sum(axis=1) * 0.5 * (b - a)
    return np.concatenate([[0.0], np.cumsum(pieces)])


def block_rate_on(T, steps):
    halves = np.linspace(0, T, 2 * steps + 1)
    early, wear = incidence(halves, 1), incidence(halves, 2)
    ended = 1 - parts(halves)[0]
    whole, half = ended[::2], ended[1::2]
    count, grown = np.zeros(steps + 1), np.zeros(steps + 1)
    for i in range(1, steps + 1):
        total = whole[i] + grown[1:i] @ half[i - 1:0:-1] - count[i - 1] * half[0]
        count[i] = total / (1 - half[0])
        grown[i] = count[i] - count[i - 1]
    leaks = [c[-1] + grown[1:] @ c[1::2][::-1] for c in (early, wear)]
    c = COSTS
    return (c["replacement"] + c["early"] * leaks[0] + c["wear"] * leaks[1]) / T + c["opening"] * MODEL["openings"]


def block_with_faults():
    rows = []
    for T in (30.0, 200.0, 380.0, 700.0, 1300.0):
        coarse, middle, fine = (block_rate_on(T, n) for n in (1500, 3000, 6000))
        once, again = middle + (middle - coarse) / 3, fine + (fine - middle) / 3
        rows.append({"T": T, "rate": again + (again - once) / 15})
    return rows


def repair_cases():
    rows = []
    for kind, hazard, bracket in (
        ("lognormal", lambda t: -math.log(0.5 * math.erfc((math.log(t) - 6.8) / 0.4 / math.sqrt(2))), (100, 1500)),
        ("loglogistic", lambda t: math.log1p((t / 900) ** 4), (50, 900)),
        ("faults", lambda t: (t / 900) ** 3 - math.log1p(0.03 * math.expm1(-((t / 10) ** 0.8))), (50, 3000)),
    ):
        for repair in (2.0, 20.0):
            found = optimize.minimize_scalar(
                lambda t: (1 + repair * hazard(t)) / t, bounds=bracket, method="bounded", options={"xatol": 1e-9 * bracket[1]}
            )
            rows.append({"kind": kind, "repair": repair, "age": found.x, "rate": found.fun})
    return rows


def discounted_cases():
    points = [1, 5, 10, 20, 40, 100, 300, 600, 900]

    def quad(f, T):
        ends = [0.0] + [p for p in points if p < T] + [T]
        return sum(integrate.quad(f, a, b, epsabs=0, epsrel=1e-12, limit=200)[0] for a, b in zip(ends, ends[1:]))

    def cost(T, r):
        c, w = COSTS, MODEL["openings"]
        grown = lambda which: quad(lambda t: math.exp(-r * t) * parts(t)[which], T)
        paid = c["early"] * grown(1) + c["wear"] * grown(2) + c["opening"] * w * grown(0)
        ends = grown(1) + grown(2) + w * grown(0)
        if T < 5000:
            left = math.exp(-r * T) * parts(T)[0]
            paid, ends = paid + c["replacement"] * left, ends + left
        return paid / (1 - ends)

    rows = []
    for r in (1e-4, 1e-3, 5e-3):
        at = [{"T": T, "cost": cost(T, r)} for T in (50.0, 300.0, 800.0)]
        best = optimize.minimize_scalar(lambda T: cost(T, r), bounds=(150, 900), method="bounded", options={"xatol": 1e-7})
        rows.append({"rate": r, "at": at, "best": best.x, "bestCost": best.fun, "run": cost(6000.0, r)})
    return rows


def uptime_case():
    """Down 3 hours for a replacement and 20 for a leak, Weibull 3 / 900 days."""
    alive = lambda t: math.exp(-((t / 900) ** 3))
    up = lambda T: integrate.quad(alive, 0, T, epsabs=0, epsrel=1e-13)[0]
    down = lambda T: (3 * alive(T) + 20 * (1 - alive(T))) / 24
    best = optimize.minimize_scalar(lambda T: -up(T) / (up(T) + down(T)), bounds=(200, 900), method="bounded", options={"xatol": 1e-8})
    return {"age": best.x, "availability": -best.fun, "run": (m := up(4000.0)) / (m + 20 / 24)}


def holding_case():
    """K10 to the day and below: share 0.03 of faulty fittings, Weibull 0.8 / 10, wear-out 3 / 900, window 180, target 0.98."""
    alive = lambda t: (1 + 0.03 * math.expm1(-((t / 10) ** 0.8))) * math.exp(-((t / 900) ** 3))
    holds = lambda a: alive(a + 180) / alive(a)
    root = lambda f, a, b: optimize.brentq(f, a, b, xtol=1e-12, rtol=1e-14)
    return {
        "longest": root(lambda t: alive(t) - 0.98, 1, 100),
        "from": root(lambda a: holds(a) - 0.98, 1, 30),
        "to": root(lambda a: holds(a) - 0.98, 30, 200),
        "replaceFrom": root(lambda a: holds(a) - alive(180), 60, 300),
    }


values = {
    "block": block_cases(),
    "blockWithFaults": block_with_faults(),
    "repair": repair_cases(),
    "discounted": discounted_cases(),
    "uptime": uptime_case(),
    "holding": holding_case(),
}
text = json.dumps(values, indent=1)
if len(sys.argv) > 1:
    open(sys.argv[1], "w").write(text + "\n")
else:
    print(text)
