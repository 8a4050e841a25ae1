"""Anderson-Darling statistics of complete samples by their sums (Stephens 1974), and chances by scipy's Monte Carlo test with the
parameters fitted anew to every sample drawn (stats.goodness_of_fit, location held at 0). The chances are good to 0.005.
Run: python3 goodness.py > goodness.json"""
import json
import numpy as np
from scipy import stats

bearings = [17.88, 28.92, 33, 41.52, 42.12, 45.6, 48.48, 51.84, 51.96, 54.12, 55.56, 67.8, 68.64, 68.64, 68.88, 84.12, 93.12, 98.64, 105.12, 105.84, 127.92, 128.04, 173.4]
# Two kinds of lives in one: half early, half late.
two = [3, 5, 8, 9, 12, 14, 15, 18, 21, 22, 310, 325, 331, 340, 352, 360, 371, 377, 390, 401]


def anderson(ages, law):
    x = np.sort(np.asarray(ages, float))
    n = len(x)
    i = np.arange(1, n + 1)
    return float(-n - np.mean((2 * i - 1) * (law.logcdf(x) + law.logsf(x)[::-1])))


def fitted(ages, name):
    kind = getattr(stats, name)
    shape, _, scale = kind.fit(ages, floc=0, method="MLE")
    # The library's own search stops early: sharpen it.
    from scipy.optimize import minimize
    best = minimize(lambda p: -np.sum(kind.logpdf(ages, np.exp(p[0]), 0, np.exp(p[1]))), np.log([shape, scale]),
                    method="Nelder-Mead", options={"xatol": 1e-12, "fatol": 1e-13, "maxiter": 10000})
    return np.exp(best.x)


out = {"bearings": bearings, "two": two, "given": anderson(bearings, stats.weibull_min(2, 0, 80)), "fits": []}
for data, name, kind in [("bearings", "weibull_min", "weibull"), ("bearings", "lognorm", "lognormal"), ("two", "weibull_min", "weibull")]:
    ages = {"bearings": bearings, "two": two}[data]
    shape, scale = fitted(ages, name)
    test = stats.goodness_of_fit(getattr(stats, name), ages, known_params={"loc": 0}, statistic="ad", n_mc_samples=4999,
                                 random_state=np.random.default_rng(5))
    out["fits"].append({"data": data, "kind": kind, "statistic": anderson(ages, getattr(stats, name)(shape, 0, scale)), "p": float(test.pvalue)})
print(json.dumps(out))
