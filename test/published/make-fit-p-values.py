"""Critical values of Anderson-Darling for Weibull and gamma with both parameters estimated by maximum likelihood, by simulation,
and the surfaces of p fitted to them (libs/statistics/capability/fits/fit-p-values.ts). Written to fit-p-values.json.

Run by hand, a few minutes: python3 test/published/make-fit-p-values.py. NumPy and SciPy; seeds are fixed. It asserts that the printed tables 4.17 and
4.21 of D'Agostino & Stephens 1986, Goodness-of-Fit Techniques (quoted from memory), are met.
"""
import json
from pathlib import Path

import numpy as np
from scipy.special import digamma, gammainc, gammaincc, polygamma

levels = [0.9, 0.75, 0.5, 0.25, 0.1, 0.05, 0.025, 0.01, 0.001]
sizes = (10, 20, 50, 150)
shapes = (0.3, 0.5, 1, 2, 5, 20, 200)


def gamma_statistic(x):
    n = x.shape[1]
    x = np.sort(x, 1)
    s = np.log(x.mean(1)) - np.log(x).mean(1)
    k = (3 - s + np.sqrt((s - 3) ** 2 + 24 * s)) / (12 * s)
    for _ in range(20):
        k = 1 / (1 / k + (-s + np.log(k) - digamma(k)) / (k * k * (1 / k - polygamma(1, k))))
    k = k[:, None]
    u = x * k / x.mean(1)[:, None]
    below, above = (np.log(np.maximum(f(k, u), 1e-300)) for f in (gammainc, gammaincc))
    return -n - ((2 * np.arange(n) + 1) * (below + above[:, ::-1])).sum(1) / n


def weibull_statistic(logs):
    n = logs.shape[1]
    top = logs.max(1, keepdims=True)
    d = logs - top
    k = 1.28 / logs.std(1, keepdims=True)
    for _ in range(40):
        p = np.exp(k * d)
        s = p.sum(1, keepdims=True)
        w = (p * d).sum(1, keepdims=True) / s
        slope = (p * d * d).sum(1, keepdims=True) / s - w * w + 1 / k**2
        k = np.maximum(k - (w - 1 / k - d.mean(1, keepdims=True)) / slope, k / 3)
    y = np.exp(k * (d - np.log(np.exp(k * d).mean(1, keepdims=True)) / k))
    return -n - ((2 * np.arange(n) + 1) * (np.log(-np.expm1(-y)) - y[:, ::-1])).sum(1) / n


rng = np.random.default_rng(20261125)
gamma = []
for n in sizes:
    for shape in shapes:
        a2 = np.concatenate([gamma_statistic(rng.gamma(shape, size=(10000, n)) + 1e-290) for _ in range(8 if n < 100 else 6)])
        gamma.append({'n': n, 'shape': shape, 'a2': [round(float(v), 4) for v in np.quantile(a2, 1 - np.array(levels))]})
rng = np.random.default_rng(5)
weibull = []
for n in sizes:
    a2 = np.concatenate([weibull_statistic(np.sort(np.log(rng.exponential(size=(10000, n))), 1)) for _ in range(20)])
    weibull.append({'n': n, 'a2': [float(v) for v in np.quantile(a2, 1 - np.array(levels))]})


def surface(rows, terms):
    x = np.array([terms(a, row) for row in rows for a in row['a2']])
    y = np.array([np.log((1 - p) / p) for _ in rows for p in levels])
    weight = np.array([0.5 if p < 0.005 else 1 for _ in rows for p in levels])
    found, *_ = np.linalg.lstsq(x * weight[:, None], y * weight, rcond=None)
    return found.round(4)


def gamma_terms(a, row):
    g = 1 / (row['shape'] + 0.5)
    return [1, np.log(a), a, a**0.5, g, g * a, g * g * a, a / row['n']]


def weibull_terms(a, row):
    return [1, np.log(a), a, a**0.5, a / row['n']]


gamma_surface, weibull_surface = surface(gamma, gamma_terms), surface(weibull, weibull_terms)
p_of = lambda found, terms: 1 / (1 + np.exp(np.dot(found, terms)))
for a, p in zip((0.474, 0.637, 0.757, 0.877, 1.038), (0.25, 0.1, 0.05, 0.025, 0.01)):
    assert abs(p_of(weibull_surface, weibull_terms(a, {'n': 1e9})) / p - 1) < 0.03
for a, p in zip((0.486, 0.657, 0.786, 0.917, 1.092), (0.25, 0.1, 0.05, 0.025, 0.01)):
    assert abs(p_of(gamma_surface, gamma_terms(a, {'n': 1e9, 'shape': 1})) / p - 1) < 0.03
print('weibull', weibull_surface.tolist())
print('gamma', gamma_surface.tolist())
for row in weibull:
    row['a2'] = [round(v, 4) for v in row['a2']]
(Path(__file__).parent / 'fit-p-values.json').write_text(json.dumps({'source': f'NumPy {np.__version__}, by make-fit-p-values.py', 'levels': levels, 'weibull': weibull, 'gamma': gamma}, indent=1) + '\n')
