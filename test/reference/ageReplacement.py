"""Recomputes the age-replacement values used in ageReplacement.test.ts, by a road of its own: scipy quadrature of
survival, and a root of the slope found by bracketing. Run: /usr/bin/python3 test/reference/ageReplacement.py > test/reference/ageReplacement.json
Conventions: Weibull shape and scale, cost rate = (replacement S(T) + leak F(T)) / integral of S (Barlow & Proschan 1965)."""
import json
import numpy as np
from scipy import integrate, optimize, special


def uptime(survival, age, points=()):
    ends = sorted({0.0, age, *[p for p in points if 0 < p < age]})
    return sum(integrate.quad(survival, a, b, epsabs=0, epsrel=1e-13, limit=400)[0] for a, b in zip(ends, ends[1:]))


def plain(shape, scale):
    s = lambda t: np.exp(-((t / scale) ** shape))
    mean = scale * special.gamma(1 + 1 / shape)
    grid = [scale * x for x in (0.05, 0.2, 0.5, 1, 1.5)]
    return s, mean, lambda t: uptime(s, t, grid), lambda t: shape / scale * (t / scale) ** (shape - 1)


def best(shape, scale, replacement, leak):
    s, mean, up, hazard = plain(shape, scale)
    # Least cost: hazard(T) * uptime(T) - F(T) = replacement / (leak - replacement).
    g = lambda t: hazard(t) * up(t) - (1 - s(t)) - replacement / (leak - replacement)
    age = optimize.brentq(g, scale * 1e-4, scale * 6, xtol=1e-15 * scale, rtol=1e-14)
    return {"age": age, "rate": (leak - replacement) * hazard(age), "run": leak / mean}


def faulty(p, fshape, fscale, wshape, wscale, replacement, early, wear):
    fe = lambda t: 1 - np.exp(-((t / fscale) ** fshape))
    fed = lambda t: fshape / fscale * (t / fscale) ** (fshape - 1) * np.exp(-((t / fscale) ** fshape))
    sw = lambda t: np.exp(-((t / wscale) ** wshape))
    s = lambda t: (1 - p * fe(t)) * sw(t)
    pts = [0.01, 0.1, 1, 5, 10, 20, 50, 100, 200, 400, 900]
    hazard_wear = lambda t: wshape / wscale * (t / wscale) ** (wshape - 1)

    def rate(t):
        up = uptime(s, t, pts)
        # u = Fe(x) takes the singularity of fe at 0 away: integral of p fe Sw dx = p * integral of Sw(x(u)) du.
        x = lambda u: fscale * (-np.log1p(-u)) ** (1 / fshape)
        e = p * integrate.quad(lambda u: sw(x(u)), 0, fe(t), epsabs=0, epsrel=1e-13, limit=400)[0]
        return (replacement * s(t) + early * e + wear * (1 - s(t) - e)) / up

    def slope(t):
        waiting = (early - replacement) * p * fed(t) / (1 - p * fe(t)) + (wear - replacement) * hazard_wear(t)
        return waiting - rate(t)

    age = optimize.brentq(slope, 200, 600, xtol=1e-11, rtol=1e-14)
    return {"age": age, "rate": rate(age), "run": rate(9000.0)}


def expected(n=40):
    x, w = np.polynomial.hermite.hermgauss(n)
    pairs = []
    for xi, wi in zip(x, w):
        for xj, wj in zip(x, w):
            a, b = np.sqrt(2) * xi, np.sqrt(2) * xj
            pairs.append((3 * np.exp(0.3 * a), 900 * np.exp(0.2 * (-0.5 * a + np.sqrt(0.75) * b)), wi * wj / np.pi))
    shape, scale, weight = map(np.array, zip(*pairs))

    def rates(t):
        h = (t / scale) ** shape
        up = scale / shape * special.gamma(1 / shape) * special.gammainc(1 / shape, h)
        return (np.exp(-h) + 10 * -np.expm1(-h)) / up, up, h

    mean = lambda t: float(weight @ rates(t)[0])

    def slope(t):
        g, up, h = rates(t)
        return float(weight @ (np.exp(-h) / up * (9 * shape * h / t - g)))

    age = optimize.brentq(slope, 250, 450, xtol=1e-11, rtol=1e-14)
    limit = 1.02 * mean(age)
    span = [optimize.brentq(lambda t: mean(t) - limit, a, b, xtol=1e-11) for a, b in ((150, age), (age, 600))]
    return {"age": age, "rate": mean(age), "within2percent": span}


def curve(shape, replacement, leak, ages):
    s, _, up, _ = plain(shape, 1.0)
    return [{"age": t, "rate": (replacement * s(t) + leak * (1 - s(t))) / up(t)} for t in ages]


def survival_target(p=0.03, fshape=0.8, fscale=10.0, wshape=3.0, wscale=900.0, days=180.0):
    s = lambda t: (1 - p * -np.expm1(-((t / fscale) ** fshape))) * np.exp(-((t / wscale) ** wshape))
    left = lambda a: s(a + days) / s(a)
    first = next(a for a in range(0, 1000) if a > 30 and left(a) <= s(days))
    return {"fresh": s(days), "left": {str(a): left(a) for a in (30, 90, 180, 365)}, "firstAgeWhereReplacingHelps": first}


def renewal_by_day(today=730, proposed=400, positions=600, shape=3.0, scale=900.0):
    """Expected diaphragms fitted in the first year after the interval is shortened, by day; all overdue ones on day one."""
    s = np.exp(-((np.arange(0, today + 367) / scale) ** shape))
    alive = s[:today] / s[:today].sum()
    f = s[:-1] - s[1:]
    overdue = positions * alive[proposed:].sum()
    births = np.zeros(366)
    births[0] = overdue
    for a in range(proposed):
        due = proposed - a
        for d in range(1, 366):
            if d > due:
                break
            gone = (s[a + d - 1] - s[a + d]) / s[a] + (s[a + d] / s[a] if d == due else 0)
            births[d] += positions * alive[a] * gone
    for d in range(1, 366):
        births[d] += sum(births[k] * f[d - k - 1] for k in range(d) if d - k < proposed)
    s_to = lambda t: integrate.quad(lambda x: np.exp(-((x / scale) ** shape)), 0, t, epsrel=1e-12)[0]
    return {
        "overdueOnDayOne": positions * (s_to(today) - s_to(proposed)) / s_to(today),
        "perYearToday": positions * 365.25 / s_to(today),
        "perYearProposed": positions * 365.25 / s_to(proposed),
        "firstYear": float(births.sum()),
    }


if __name__ == "__main__":
    print(json.dumps({
        "leastCost": [{"shape": b, "ratio": r, **best(b, 1.0, 1.0, float(r))}
                      for b in (1.5, 2.0, 2.5, 3.0, 4.0) for r in (2, 5, 10, 20, 50)],
        "curve": {"shape": 2.0, "replacement": 1.0, "leak": 5.0,
                  "points": curve(2.0, 1.0, 5.0, (0.2, 0.4, 0.6, 0.8, 1.0, 1.5, 2.0, 3.0))},
        "wholeLeakCost": best(3.0, 1000.0, 1.0, 5.0),
        "faults": faulty(0.03, 0.8, 10.0, 3.0, 900.0, 1.0, 4.0, 10.0),
        "stops": {name: best(3.0, 900.0, c, 40000.0) for name, c in (("whole", 16300.0), ("shared", 700.0), ("free", 300.0))},
        "expected": expected(),
        "survivalTarget": survival_target(),
        "wayThere": renewal_by_day(),
    }, indent=1))
