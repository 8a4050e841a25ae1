"""Recomputes the stock values used in policies.test.ts with scipy, from the definitions: sums over chances, nothing closed.
Run: /usr/bin/python3 test/reference/stock/policies.py > test/reference/stock/policies.json
Cases: spares for a stated assurance (practice of MIL-HDBK-338B); one-for-one stock (Palm; Sherbrooke 2004, ch. 2); point
and quantity (Federgruen & Zheng 1992, their instances with demand 50, lead 1, holding 10, backorder 25); spares under an
uncertain rate (gamma posterior, negative binomial count); periodic review (Hadley & Whitin 1963, ch. 5)."""
import json
import numpy as np
from scipy.stats import nbinom, poisson


def sums(law, y, top):
    k = np.arange(0, top)
    p = law.pmf(k)
    return {
        "shortage": float(np.sum(np.maximum(k - y, 0) * p)),
        "onHand": float(np.sum(np.maximum(y - k, 0) * p)),
        "ready": float(np.sum(p[k <= y])),
        "fill": float(np.sum(p[k <= y - 1])),
    }


def base(mean, level):
    return {"mean": mean, "level": level, **sums(poisson(mean), level, int(mean + 40 * np.sqrt(mean) + 60))}


def lots(lam, lead, holding, backorder, order, point, quantity):
    each = [sums(poisson(lam * lead), y, 400) for y in range(point + 1, point + quantity + 1)]
    cost = (order * lam + sum(holding * e["onHand"] + backorder * e["shortage"] for e in each)) / quantity
    return {
        "mean": lam * lead, "point": point, "quantity": quantity, "holding": holding, "backorder": backorder,
        "orderCostPerTime": order * lam, "cost": cost,
        **{name: float(np.mean([e[name] for e in each])) for name in ("shortage", "onHand", "ready", "fill")},
    }


def uncertain(shape, rate, horizon):
    law = nbinom(shape, rate / (rate + horizon))
    return {"mean": float(law.mean()), "variance": float(law.var()), "cdf": [float(x) for x in law.cdf(range(12))],
            "spares95": int(law.ppf(0.95))}


def periodic(rate, lead, lead_sd, review, point, quantity):
    """Share handed out at once: back orders made per review period over demand per period, lead time gamma or fixed."""
    if lead_sd > 0:
        shape, scale = (lead / lead_sd) ** 2, lead_sd**2 / lead
        law_lead = nbinom(shape, 1 / (1 + rate * scale))
        early = lambda y: sums(law_lead, y, 2000)["shortage"]
        mean, var = rate * (lead + review), rate * (lead + review) + (rate * lead_sd) ** 2
        both = nbinom(mean**2 / (var - mean), mean / var)
        late = lambda y: sums(both, y, 2000)["shortage"]
    else:
        early = lambda y: sums(poisson(rate * lead), y, 2000)["shortage"]
        late = lambda y: sums(poisson(rate * (lead + review)), y, 2000)["shortage"]
    ys = range(point + 1, point + quantity + 1)
    if review == 0:
        law = nbinom(shape, 1 / (1 + rate * scale)) if lead_sd > 0 else poisson(rate * lead)
        return float(np.mean([law.cdf(y - 1) for y in ys]))
    return float(1 - np.mean([late(y) - early(y) for y in ys]) / (rate * review))


def main():
    out = {
        "assurance": [
            {"mean": m, "spares": {str(p): int(poisson.ppf(p, m)) for p in (0.8, 0.9, 0.95, 0.99, 0.999)}}
            for m in (0.1, 0.5, 1, 2, 3, 5, 8, 10, 15, 20, 30, 50, 100)
        ],
        "lamp": {"mean": 5, "spares": 9, "assurance": float(poisson.cdf(9, 5))},
        "oneForOne": [base(m, s) for m in (0.2, 1.0, 2.5, 6.0, 12.0) for s in (0, 1, 2, 3, 5, 8, 13, 18)],
        "large": [base(1e5, s) for s in (99000, 100000, 101000)],
        "lots": [lots(50, 1, 10, 25, *row) for row in ((1, 50, 7), (5, 48, 12), (25, 44, 23), (100, 38, 40), (1000, 15, 120))]
        + [lots(2, 1, 1, 20, 10, 2, 7), lots(6, 0.5, 2, 40, 15, 3, 11)],
        "uncertainRate": [uncertain(0.5, 1e5, 1.5e5), uncertain(3.5, 5e4, 2e4), uncertain(4, 5e4, 2e4), uncertain(4, 3309, 2000)],
        "mixedTarget": {"leadMean": 10 * 60 / 365.25, "fill2": base(10 * 60 / 365.25, 2)["fill"], "fill5": base(10 * 60 / 365.25, 5)["fill"]},
        "periodic": [
            {"rate": 0.2, "lead": 40, "leadSd": sd, "review": r, "point": 12, "quantity": 6, "served": periodic(0.2, 40, sd, r, 12, 6)}
            for sd in (0, 10) for r in (0, 7, 28)
        ],
    }
    print(json.dumps(out, indent=1))


main()
