"""Values for the stock and demand functions that know no fleet, with scipy, from definitions: sums over chances, transforms,
numerical integrals and searches, nothing closed.
Run: /usr/bin/python3 test/reference/stock/library.py > test/reference/stock/library.json
Methods: Croston 1972, Syntetos & Boylan 2005, Shale, Boylan & Johnston 2006, Teunter, Syntetos & Babai 2011; Hadley & Whitin
1963; Nahmias (newsstand, mustard, pencils); Federgruen & Zheng 1992; Graves 1985. All from memory."""
import json
import numpy as np
from scipy.integrate import quad
from scipy.optimize import minimize_scalar
from scipy.stats import binom, nbinom, norm, poisson

SERIES = [0, 0, 3, 0, 0, 0, 1, 0, 2, 0, 0, 0, 0, 5, 0, 0, 1, 0, 0, 2, 0, 0, 0, 4]


def exponential(values, alpha):
    """Weights written out: the newest counts alpha, the one before alpha (1 - alpha), the first what is left."""
    w = [alpha * (1 - alpha) ** (len(values) - 1 - i) for i in range(len(values))]
    w[0] = (1 - alpha) ** (len(values) - 1)
    return float(np.dot(w, values))


def intermittent(alpha):
    at = [i + 1 for i, d in enumerate(SERIES) if d > 0]
    sizes = [d for d in SERIES if d > 0]
    gaps = list(np.diff([0] + at))
    z, z2, p = exponential(sizes, alpha), exponential([s * s for s in sizes], alpha), exponential(gaps, alpha)
    out = {"smoothing": alpha, "size": z, "interval": p}
    for name, factor in (("croston", 1), ("syntetosBoylan", 1 - alpha / 2), ("shaleBoylanJohnston", 1 - alpha / (2 - alpha))):
        mean = factor * z / p
        out[name] = {"mean": mean, "variance": factor * z2 / p - mean**2}
    n = len(sizes)
    chance = exponential([n / len(SERIES)] + [1.0 * (d > 0) for d in SERIES], alpha)
    size = exponential([sum(sizes) / n] + sizes, alpha)
    square = exponential([sum(s * s for s in sizes) / n] + [s * s for s in sizes], alpha)
    out["teunterSyntetosBabai"] = {"mean": chance * size, "variance": chance * square - (chance * size) ** 2}
    return out


def nb(mean, variance):
    return nbinom(mean**2 / (variance - mean), mean / variance)


def compound(jobs, sizes, n=4096):
    """By the discrete Fourier transform of the sizes."""
    f = np.zeros(n)
    f[: len(sizes)] = sizes
    return np.maximum(np.real(np.fft.ifft(np.exp(jobs * (np.fft.fft(f) - 1)))), 0)


def table(demand, h, n=1500):
    k = np.arange(n)
    if demand["kind"] == "poisson":
        return poisson.pmf(k, demand["mean"] * h)
    if demand["kind"] == "negativeBinomial":
        return nb(demand["mean"] * h, demand["variance"] * h).pmf(k)
    return compound(demand["jobs"] * h, demand["sizes"])[:n]


def review(demand, lead, every, point, quantity):
    k = np.arange(1500)
    ys = range(point + 1, point + quantity + 1)
    short = lambda h: np.mean([np.sum(np.maximum(k - y, 0) * table(demand, h)) for y in ys])
    ready = lambda h: np.mean([np.sum(table(demand, h)[: y + 1]) for y in ys])
    left = lambda h: np.mean([np.sum(np.maximum(y - k, 0) * table(demand, h)) for y in ys])
    mean = lambda f: quad(f, lead, lead + every, epsabs=1e-12, epsrel=1e-12, limit=200)[0] / every
    asked = np.sum(k * table(demand, every))
    return {"demand": demand, "lead": lead, "review": every, "point": point, "quantity": quantity,
            "fill": float(1 - (short(lead + every) - short(lead)) / asked), "ready": float(mean(ready)),
            "shortage": float(mean(short)), "onHand": float(mean(left)), "cycle": float(ready(lead + every))}


def jobs_case(jobs, sizes, point, quantity):
    """A job of v pieces at position y with D asked for before: min(v, what is there) is handed out."""
    pmf = compound(jobs, sizes)[:600]
    mean_size = sum(v * f for v, f in enumerate(sizes))
    filled, cycle, orders = 0.0, 0.0, 0.0
    for y in range(point + 1, point + quantity + 1):
        for v, f in enumerate(sizes):
            there = np.maximum(y - np.arange(600), 0)
            filled += f * float(np.sum(np.minimum(v, there) * pmf)) / quantity
            if f > 0 and y - v <= point and v > 0:
                orders += f / quantity
                cycle += f / quantity * float(np.sum(pmf[: max(0, y - v + 1)]))
    k = np.arange(600)
    ys = range(point + 1, point + quantity + 1)
    return {"jobs": jobs, "sizes": sizes, "point": point, "quantity": quantity, "fill": filled / mean_size,
            "cycle": cycle / orders, "ordersPerSpan": jobs * orders, "pmf": [float(x) for x in pmf[:40]],
            "ready": float(np.mean([np.sum(pmf[: y + 1]) for y in ys])),
            "shortage": float(np.mean([np.sum(np.maximum(k - y, 0) * pmf) for y in ys]))}


def newsvendor_normal(mean, sd, short, left):
    cost = lambda q: left * quad(lambda x: (q - x) * norm.pdf(x, mean, sd), mean - 12 * sd, q, epsabs=1e-13)[0] + short * quad(
        lambda x: (x - q) * norm.pdf(x, mean, sd), q, mean + 12 * sd, epsabs=1e-13)[0]
    q = norm.ppf(short / (short + left), mean, sd)
    best = minimize_scalar(cost, bracket=(mean, mean + sd), tol=1e-9).x
    assert abs(best - q) < 1e-4
    return {"quantity": float(q), "cost": cost(q)}


def newsvendor_poisson(mean, short, left):
    k = np.arange(500)
    cost = [float(np.sum((left * np.maximum(q - k, 0) + short * np.maximum(k - q, 0)) * poisson.pmf(k, mean))) for q in range(200)]
    return {"mean": mean, "short": short, "left": left, "quantity": int(np.argmin(cost)), "cost": min(cost)}


def lot_and_point():
    """Whole cost a year searched over the point, with the best lot for each."""
    d, k, h, p, mu, sd = 200, 50, 2, 25, 100, 25
    n = lambda r: sd * (norm.pdf((r - mu) / sd) - (r - mu) / sd * norm.sf((r - mu) / sd))
    lot = lambda r: np.sqrt(2 * d * (k + p * n(r)) / h)
    cost = lambda r: d / lot(r) * (k + p * n(r)) + h * (lot(r) / 2 + r - mu)
    r = minimize_scalar(cost, bracket=(130, 150), tol=1e-15).x
    return {"quantity": float(lot(r)), "point": float(r), "cost": float(cost(r)), "shortPerCycle": float(n(r))}


def two_levels(level0, lead, stores):
    total = sum(s[1] for s in stores)
    k = np.arange(300)
    n0 = poisson.pmf(k, total * lead)
    owed = np.concatenate([[np.sum(n0[: level0 + 1])], n0[level0 + 1 :]])
    out = []
    for level, rate, transport in stores:
        part = np.array([np.sum(owed * binom.pmf(j, np.arange(len(owed)), rate / total)) for j in range(120)])
        pmf = np.convolve(part, poisson.pmf(np.arange(120), rate * transport))
        j = np.arange(len(pmf))
        mean = float(np.sum(j * pmf))
        out.append({"level": level, "rate": rate, "transport": transport, "mean": mean,
                    "variance": float(np.sum((j - mean) ** 2 * pmf)), "fill": float(np.sum(pmf[:level])),
                    "ready": float(np.sum(pmf[: level + 1])), "shortage": float(np.sum(np.maximum(j - level, 0) * pmf))})
    return {"level": level0, "lead": lead, "stores": out}


def main():
    geometric = [0.0] + [0.4 * 0.6 ** (v - 1) for v in range(1, 40)]
    geometric[-1] += 1 - sum(geometric)
    unit, wide = {"kind": "poisson", "mean": 0.2}, {"kind": "negativeBinomial", "mean": 0.5, "variance": 1.25}
    jobs = {"kind": "compound", "jobs": 0.1, "sizes": [0, 0.5, 0.2, 0, 0.3]}
    print(json.dumps({
        "intermittent": [intermittent(a) for a in (0.1, 0.2, 0.05)],
        "review": [
            review(unit, 40, 28, 12, 6), review(unit, 40, 7, 12, 6), review(unit, 40, 28, 15, 1), review(unit, 0, 30, 8, 1),
            review(wide, 12, 4, 10, 5), review(wide, 12, 4, 14, 1), review(jobs, 30, 14, 9, 4), review(jobs, 30, 14, -2, 4),
            review({"kind": "poisson", "mean": 0.001}, 40, 28, 0, 1), review({"kind": "poisson", "mean": 3}, 40, 100, 300, 20),
        ],
        "jobs": [jobs_case(2, geometric, 6, 5), jobs_case(1.5, [0, 0.5, 0.2, 0, 0.3], 3, 4), jobs_case(0.3, [0, 0, 0, 1], 2, 1),
                 jobs_case(4, [0.2, 0.3, 0.5], -1, 3)],
        "newsstand": newsvendor_normal(11.73, 4.74, 0.5, 0.15),
        "newsvendor": [newsvendor_poisson(4, 9, 1), newsvendor_poisson(1.2, 50, 3), newsvendor_poisson(20, 4, 1)],
        "lotAndPoint": lot_and_point(),
        "twoLevels": [
            two_levels(4, 60, [(2, 0.02, 10)] * 5), two_levels(0, 30, [(3, 0.05, 12), (1, 0.01, 30)]),
            two_levels(3, 20, [(2, 0.1, 5), (1, 0.05, 8), (4, 0.2, 10)]), two_levels(12, 60, [(1, 0.02, 10)] * 5),
        ],
    }, indent=1))


main()
