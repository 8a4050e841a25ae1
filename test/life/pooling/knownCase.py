"""Recomputes the values of knownCase.test.ts by quadrature (numpy, scipy)."""
import numpy as np
from scipy.special import logsumexp

failures = np.array([9, 4, 2, 0, 1, 6.0])
exposure = np.array([4.0e6, 2.2e6, 3.0e6, 1.5e6, 0.3e6, 1.6e6])
log_rate = np.linspace(-22, -8, 2801)
like = failures[:, None] * log_rate - np.exp(log_rate) * exposure[:, None]
means = np.linspace(-17, -10, 281)
spreads = np.exp(np.linspace(np.log(1e-3), np.log(3), 240))
total = np.zeros((6, log_rate.size))
norm = 0.0
spread_sum = 0.0
peak = None
for tau in spreads:
    bell = -0.5 * ((log_rate[None, :] - means[:, None]) / tau) ** 2 - np.log(tau)
    step = log_rate[1] - log_rate[0]
    if tau < 2 * step:  # too narrow for the grid: all groups at the mean
        marg = np.stack([np.interp(means, log_rate, like[g]) for g in range(6)], 1)
        joint = None
    else:
        joint = like[:, None, :] + bell[None] + np.log(step / np.sqrt(2 * np.pi))
        marg = logsumexp(joint, axis=2).T
    log_weight = marg.sum(1) - tau**2 / (2 * 0.5**2) + np.log(tau)
    if peak is None:
        peak = log_weight.max()
    weight = np.exp(log_weight - peak)
    norm += weight.sum()
    spread_sum += tau * weight.sum()
    for g in range(6):
        if joint is None:
            total[g] += np.histogram(means, np.append(log_rate, log_rate[-1] + step), weights=weight)[0]
        else:
            total[g] += (weight[:, None] * np.exp(joint[g] - marg[:, g][:, None])).sum(0)
print("mean spread of log rate", spread_sum / norm)
for g in range(6):
    cdf = np.cumsum(total[g]) / total[g].sum()
    print([float(np.exp(-0.5 * np.interp(1 - p, cdf, log_rate))) for p in (0.05, 0.5, 0.95)])
