"""Renewal function of Weibull lives with scale 1 by the power series of Smith & Leadbetter (1963, Technometrics 5), in
decimal arithmetic with 300 digits: M(t) = sum over n of (-1)^(n-1) A_n t^(n shape) / Gamma(n shape + 1), with
g_n = Gamma(n shape + 1) / n! and A_n = g_n - sum over j < n of g_j A_(n-j). Shapes are multiples of a half, so that every
Gamma is a product and perhaps the root of pi. Run: python3 renewalSeries.py > renewalSeries.json"""
import json
from decimal import Decimal as D, getcontext

getcontext().prec = 300
HALVES = [1, 3, 4, 6, 8]
TIMES = ["0.01", "0.25", "1", "2", "4", "10"]


def root_pi():
    # Machin's formula.
    def arctan_inverse(x):
        total, term, k = D(0), D(1) / x, 0
        while abs(term) > D(10) ** -298:
            total += term / (2 * k + 1) * (1 if k % 2 == 0 else -1)
            term /= x * x
            k += 1
        return total
    return (4 * (4 * arctan_inverse(D(5)) - arctan_inverse(D(239)))).sqrt()


def gammas(count):
    """Gamma(m / 2 + 1) for m = 0, 1, 2 ..."""
    out = [D(1), root_pi() / 2]
    for m in range(2, count):
        out.append(out[m - 2] * D(m) / 2)
    return out


def renewal(halves, t, terms):
    gamma = gammas(halves * terms + 1)
    factorial = [D(1)]
    for n in range(1, terms + 1):
        factorial.append(factorial[-1] * n)
    g = [gamma[halves * n] / factorial[n] for n in range(terms + 1)]
    a = [D(0)] * (terms + 1)
    total, power, step = D(0), D(1), (D(t).sqrt()) ** halves
    for n in range(1, terms + 1):
        a[n] = g[n] - sum((g[j] * a[n - j] for j in range(1, n)), D(0))
        power *= step
        term = a[n] * power / gamma[halves * n]
        total += term if n % 2 == 1 else -term
        if n > 5 and abs(term) < D(10) ** -25 * abs(total):
            return total
    raise ValueError(f"no convergence: {halves} {t}")


rows = []
for halves in HALVES:
    for t in TIMES:
        if (halves > 3 and D(t) > 2) or (halves == 3 and D(t) > 4):
            continue
        rows.append({"shape": halves / 2, "t": float(t), "M": float(renewal(halves, t, 500))})
print(json.dumps(rows, indent=1))
