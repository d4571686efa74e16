"""Reference values for the gauges folder, written to gauges.json. Run by hand: python3 test/published/make-gauges.py

Data, all quoted from memory; the printed results in each set are the check on the quotation:
  manual       the automotive industry reference manual on measurement systems analysis, 3rd/4th ed., chapter III: 10 parts, 3 appraisers, 3 trials
  impedance    Montgomery & Runger 1993, Quality Engineering 6: 20 parts, 3 operators, 2 trials
  linearity    the same manual, "Guidelines for determining linearity": 5 masters, 12 readings each
  norris       NIST Statistical Reference Datasets, Norris: certified line of 36 points
  diagnoses    Fleiss 1971, Psychological Bulletin 76: 30 patients, 6 psychiatrists, 5 diagnoses
  sclerosis    Landis & Koch 1977, Biometrics 33: multiple sclerosis, Winnipeg patients, two neurologists
Mean squares and interval arithmetic by numpy and scipy; kappa errors by the numerical delta method; nothing here shares code with the project.
"""
import json
from pathlib import Path

import numpy as np
from scipy import optimize, stats

here = Path(__file__).parent
out = {'programs': f'numpy {np.__version__}, scipy {__import__("scipy").__version__}'}

manual = '''0.29 -0.56 1.34 0.47 -0.80 0.02 0.59 -0.31 2.26 -1.36
0.41 -0.68 1.17 0.50 -0.92 -0.11 0.75 -0.20 1.99 -1.25
0.64 -0.58 1.27 0.64 -0.84 -0.21 0.66 -0.17 2.01 -1.31
0.08 -0.47 1.19 0.01 -0.56 -0.20 0.47 -0.63 1.80 -1.68
0.25 -1.22 0.94 1.03 -1.20 0.22 0.55 0.08 2.12 -1.62
0.07 -0.68 1.34 0.20 -1.28 0.06 0.83 -0.34 2.19 -1.50
0.04 -1.38 0.88 0.14 -1.46 -0.29 0.02 -0.46 1.77 -1.49
-0.11 -1.13 1.09 0.20 -1.07 -0.67 0.01 -0.56 1.45 -1.77
-0.15 -0.96 0.67 0.11 -1.45 -0.49 0.21 -0.49 1.87 -2.16'''
manual = np.array([[float(v) for v in line.split()] for line in manual.split('\n')]).reshape(3, 3, 10).transpose(2, 0, 1)

impedance = '''21 20 20 20 19 21
24 23 24 24 23 24
20 21 19 21 20 22
27 27 28 26 27 28
19 18 19 18 18 21
23 21 24 21 23 22
22 21 22 24 22 20
19 17 18 20 19 18
24 23 25 23 24 24
25 23 26 25 24 25
21 20 20 20 21 20
18 19 17 19 18 19
23 25 25 25 25 25
24 24 23 25 24 25
29 30 30 28 31 30
26 26 25 26 25 27
20 20 19 20 20 20
19 21 19 19 21 23
25 26 25 24 25 25
19 19 18 17 19 17'''
impedance = np.array([[float(v) for v in line.split()] for line in impedance.split('\n')]).reshape(20, 3, 2)


def crossed(x):
    p, o, r = x.shape
    g, c = x.mean(), x.mean(2)
    P, O = c.mean(1), c.mean(0)
    ss = [o * r * ((P - g) ** 2).sum(), p * r * ((O - g) ** 2).sum(), r * ((c - P[:, None] - O[None] + g) ** 2).sum(), ((x - c[:, :, None]) ** 2).sum()]
    df = [p - 1, o - 1, (p - 1) * (o - 1), p * o * (r - 1)]
    return ss, df, [s / d for s, d in zip(ss, df)]


def mls(c, ms, df, conf=0.95):
    """Graybill & Wang 1980, Ting et al. 1990, written out for the lower and the upper bound separately."""
    a = (1 - conf) / 2
    c, ms, df = map(np.asarray, (c, ms, df))
    keep = c != 0
    c, ms, df = c[keep], ms[keep], df[keep]
    G = 1 - 1 / (stats.chi2.ppf(1 - a, df) / df)
    H = 1 / (stats.chi2.ppf(a, df) / df) - 1
    est = (c * ms).sum()
    q, r = np.where(c > 0)[0], np.where(c < 0)[0]
    v = np.abs(c) * ms
    VL = (G[q] ** 2 * v[q] ** 2).sum() + (H[r] ** 2 * v[r] ** 2).sum()
    VU = (H[q] ** 2 * v[q] ** 2).sum() + (G[r] ** 2 * v[r] ** 2).sum()
    for i in q:
        for j in r:
            F1, F2 = stats.f.ppf(1 - a, df[i], df[j]), stats.f.ppf(a, df[i], df[j])
            VL += ((F1 - 1) ** 2 - G[i] ** 2 * F1 ** 2 - H[j] ** 2) / F1 * v[i] * v[j]
            VU += ((1 - F2) ** 2 - H[i] ** 2 * F2 ** 2 - G[j] ** 2) / F2 * v[i] * v[j]

    def star(which):
        s = 0.0
        for m, i in enumerate(which):
            for j in which[m + 1:]:
                n = df[i] + df[j]
                s += ((1 - n / stats.chi2.ppf(1 - a, n)) ** 2 * n ** 2 / (df[i] * df[j]) - G[i] ** 2 * df[i] / df[j] - G[j] ** 2 * df[j] / df[i]) / (len(which) - 1) * v[i] * v[j]
        return s
    if len(r):
        VL += star(q)
    if len(q):
        VU += star(r)
    return est, est - np.sqrt(max(0, VL)), est + np.sqrt(max(0, VU))


def ratio(num, den, ms, df):
    num, den = np.array(num), np.array(den)
    low = optimize.brentq(lambda t: mls(num - t * den, ms, df)[1], 1e-9, num @ ms / (den @ ms), xtol=1e-12)
    high = optimize.brentq(lambda t: mls(num - t * den, ms, df)[2], num @ ms / (den @ ms), 1e6, xtol=1e-10)
    return low, high


for name, x, printed in (('manual', manual, None), ('impedance', impedance, {'ss': [1185.425, 2.617, 27.05, 59.5], 'total': 1274.592, 'repeatability': 0.88, 'appraiser': 0.0106, 'part': 10.2513})):
    ss, df, ms = crossed(x)
    p, o, r = x.shape
    full = {'repeatability': [0, 0, 0, 1], 'appraiser': [0, 1 / (p * r), -1 / (p * r), 0], 'interaction': [0, 0, 1 / r, -1 / r], 'part': [1 / (o * r), 0, -1 / (o * r), 0],
            'gauge': [0, 1 / (p * r), (p - 1) / (p * r), (r - 1) / r], 'total': [1 / (o * r), 1 / (p * r), (p * o - p - o) / (p * o * r), (r - 1) / r]}
    e = (ss[2] + ss[3]) / (df[2] + df[3])
    pms, pdf = [ms[0], ms[1], e], [df[0], df[1], df[2] + df[3]]
    pool = {'repeatability': [0, 0, 1], 'appraiser': [0, 1 / (p * r), -1 / (p * r)], 'part': [1 / (o * r), 0, -1 / (o * r)], 'gauge': [0, 1 / (p * r), 1 - 1 / (p * r)], 'total': [1 / (o * r), 1 / (p * r), 1 - 1 / (p * r) - 1 / (o * r)]}
    out[name] = {'readings': x.tolist(), 'printed': printed, 'ss': ss, 'df': df, 'ms': ms, 'total': sum(ss),
                 'tests': [[ms[0] / ms[2], stats.f.sf(ms[0] / ms[2], df[0], df[2])], [ms[1] / ms[2], stats.f.sf(ms[1] / ms[2], df[1], df[2])], [ms[2] / ms[3], stats.f.sf(ms[2] / ms[3], df[2], df[3])]],
                 'kept': {k: mls(c, ms, df) for k, c in full.items()}, 'keptRatio': ratio(full['part'], full['gauge'], ms, df),
                 'pooled': {k: mls(c, pms, pdf) for k, c in pool.items()}, 'pooledRatio': ratio(pool['part'], pool['gauge'], pms, pdf)}

# nested: 18 of the parts dealt out to 3 appraisers, all 6 readings of a part as its trials
ss, df, ms = crossed(impedance)
nested = impedance[:18].reshape(3, 6, 6)
o, p, r = nested.shape
A, P = nested.mean((1, 2)), nested.mean(2)
nss = [p * r * ((A - nested.mean()) ** 2).sum(), r * ((P - A[:, None]) ** 2).sum(), ((nested - P[:, :, None]) ** 2).sum()]
ndf = [o - 1, o * (p - 1), o * p * (r - 1)]
nms = [s / d for s, d in zip(nss, ndf)]
out['nested'] = {'ss': nss, 'df': ndf, 'gauge': mls([1 / (p * r), -1 / (p * r), 1], nms, ndf), 'part': mls([0, 1 / r, -1 / r], nms, ndf), 'total': mls([1 / (p * r), (p - 1) / (p * r), (r - 1) / r], nms, ndf)}

# How often the intervals hold the truth: gauge 1, part 4, 10 x 3 x 3, components repeatability .5, appraiser .3, interaction .2
rng = np.random.default_rng(7)
p, o, r = 10, 3, 3
df = np.array([9, 2, 18, 60])
theta = np.array([0.5 + r * 0.2 + o * r * 4, 0.5 + r * 0.2 + p * r * 0.3, 0.5 + r * 0.2, 0.5])
den = np.array([0, 1 / (p * r), (p - 1) / (p * r), (r - 1) / r])
num = np.array([1 / (o * r), 0, -1 / (o * r), 0])
hits, turns = np.zeros(3), 4000
for _ in range(turns):
    ms = theta * rng.chisquare(df) / df
    _, a, b = mls(den, ms, df)
    _, c, d = mls(num, ms, df)
    _, e, f = mls(num - 4 * den, ms, df)
    hits += [a <= 1 <= b, c <= 4 <= d, e <= 0 <= f]
out['coverage'] = {'turns': turns, 'gauge, part, ratio': (hits / turns).tolist()}

ref = [2, 4, 6, 8, 10]
rows = ['2.7 2.5 2.4 2.5 2.7 2.3 2.5 2.5 2.4 2.4 2.6 2.4', '5.1 3.9 4.2 5.0 3.8 3.9 3.9 3.9 3.9 4.0 4.1 3.8', '5.8 5.7 5.9 5.9 6.0 6.1 6.0 6.1 6.4 6.3 6.0 6.1',
        '7.6 7.7 7.8 7.7 7.8 7.8 7.8 7.7 7.8 7.5 7.6 7.7', '9.1 9.3 9.5 9.3 9.4 9.5 9.5 9.5 9.6 9.2 9.3 9.4']
rows = [[float(v) for v in row.split()] for row in rows]


def line(x, y, points):
    fit = stats.linregress(x, y)
    n = len(x)
    s = np.sqrt(((y - fit.intercept - fit.slope * x) ** 2).sum() / (n - 2))
    t = stats.t.ppf(0.975, n - 2)
    band = [t * s * np.sqrt(1 / n + (q - x.mean()) ** 2 / ((x - x.mean()) ** 2).sum()) for q in points]
    return {'slope': fit.slope, 'slopeSe': fit.stderr, 'intercept': fit.intercept, 'interceptSe': fit.intercept_stderr, 'slopeP': fit.pvalue,
            'slopeInterval': [fit.slope - t * fit.stderr, fit.slope + t * fit.stderr], 'residualSd': s, 'rSquared': fit.rvalue ** 2,
            'low': [fit.intercept + fit.slope * q - b for q, b in zip(points, band)], 'high': [fit.intercept + fit.slope * q + b for q, b in zip(points, band)]}


x = np.repeat(ref, 12).astype(float)
y = np.array(rows).ravel() - x
tests = [stats.ttest_1samp(np.array(row) - q, 0) for q, row in zip(ref, rows)]
out['linearity'] = {'masters': [{'reference': q, 'values': row} for q, row in zip(ref, rows)], **line(x, y, ref),
                    't': [float(t.statistic) for t in tests], 'p': [float(t.pvalue) for t in tests],
                    'printed': {'slope': -0.13167, 'intercept': 0.73667, 'residualSd': 0.23954, 'rSquared': 0.714, 'slopeT': -12.043, 'interceptT': 10.158}}
norris = '0.1 0.2 338.8 337.4 118.1 118.2 888.0 884.6 9.2 10.1 228.1 226.5 668.5 666.3 998.5 996.3 449.1 448.6 778.9 777.0 559.2 558.2 0.3 0.4 0.1 0.6 778.1 775.5 668.8 666.9 339.3 338.0 448.9 447.5 10.8 11.6 557.7 556.0 228.3 228.1 998.0 995.8 888.8 887.6 119.6 120.2 0.3 0.3 0.6 0.3 557.6 556.8 339.3 339.1 888.0 887.2 998.5 999.0 778.9 779.0 10.2 11.1 117.6 118.3 228.9 229.2 668.4 669.1 449.2 448.9 0.2 0.5'
norris = np.array([float(v) for v in norris.split()]).reshape(-1, 2)
fit = stats.linregress(norris[:, 1], norris[:, 0])
out['norris'] = {'y': norris[:, 0].tolist(), 'x': norris[:, 1].tolist(), 'scipy': {'slope': fit.slope, 'slopeSe': fit.stderr, 'intercept': fit.intercept, 'interceptSe': fit.intercept_stderr},
                 'certified': {'slope': 1.00211681802045, 'slopeSe': 0.000429796848199937, 'intercept': -0.262323073774029, 'interceptSe': 0.232818234301152, 'residualSd': 0.884796396144373, 'rSquared': 0.999993745883712}}

one = np.array(rows[1])
tt = stats.ttest_1samp(one, 4)
ci = tt.confidence_interval(0.95)
out['master'] = {'values': rows[1], 'reference': 4, 'sd': one.std(ddof=1), 't': tt.statistic, 'p': tt.pvalue, 'bias': [ci.low - 4, ci.high - 4],
                 'sdInterval': [one.std(ddof=1) * np.sqrt(11 / stats.chi2.ppf(q, 11)) for q in (0.975, 0.025)]}


def kappa_of(p, w):
    p = p / p.sum()
    e = (w * np.outer(p.sum(1), p.sum(0))).sum()
    return ((w * p).sum() - e) / (1 - e)


def delta(table, w):
    """Standard errors from numerical derivatives by the multinomial shares, at the shares themselves and at independence."""
    def se(p, n):
        grad = np.zeros(p.shape)
        for at in np.ndindex(p.shape):
            h = 1e-6
            step = np.zeros(p.shape)
            step[at] = h
            grad[at] = (kappa_of_raw(p + step, w) - kappa_of_raw(p - step, w)) / (2 * h)
        return np.sqrt(((p * grad ** 2).sum() - (p * grad).sum() ** 2) / n)
    n = table.sum()
    p = table / n
    return se(p, n), se(np.outer(p.sum(1), p.sum(0)), n)


def kappa_of_raw(p, w):
    s = p.sum()
    e = (w * np.outer(p.sum(1), p.sum(0))).sum() / s ** 2
    return ((w * p).sum() / s - e) / (1 - e)


def weights(k, kind):
    d = np.abs(np.subtract.outer(range(k), range(k))) / (k - 1)
    return {'none': (d == 0).astype(float), 'linear': 1 - d, 'quadratic': 1 - d ** 2}[kind]


tables = {
    'sclerosis': ([[38, 5, 0, 1], [33, 11, 3, 0], [10, 14, 5, 6], [3, 7, 3, 10]], {'none': 0.208}, 'Landis & Koch 1977, Biometrics 33, Winnipeg patients'),
    'cohen': ([[88, 14, 18], [10, 40, 10], [2, 6, 12]], {'none': 0.492}, 'Cohen 1960, Educational and Psychological Measurement 20 (shares of 200)'),
    'errors': ([[53, 5, 2], [11, 14, 5], [1, 6, 3]], {'none': 0.429}, 'Fleiss, Cohen & Everitt 1969, Psychological Bulletin 72'),
    'altman': ([[21, 12, 0, 0], [4, 17, 1, 0], [3, 9, 15, 2], [0, 0, 0, 1]], {'none': 0.47, 'linear': 0.57}, 'Altman 1991, Practical Statistics for Medical Research, table 14.3'),
}
out['tables'] = []
for name, (table, printed, source) in tables.items():
    table = np.array(table, float)
    figures = {}
    for kind in ('none', 'linear', 'quadratic'):
        w = weights(len(table), kind)
        figures[kind] = {'kappa': kappa_of(table, w), 'se': delta(table, w)[0], 'seNull': delta(table, w)[1]}
    out['tables'].append({'name': name, 'source': source, 'table': table.astype(int).tolist(), 'printed': printed, **figures})

diagnoses = '''0 0 0 6 0;0 3 0 0 3;0 1 4 0 1;0 0 0 0 6;0 3 0 3 0;2 0 4 0 0;0 0 4 0 2;2 0 3 1 0;2 0 0 4 0;0 0 0 0 6;1 0 0 5 0;1 1 0 4 0;0 3 3 0 0;1 0 0 5 0;0 2 0 3 1;0 0 5 0 1;3 0 0 1 2;5 1 0 0 0;0 2 0 4 0;1 0 2 0 3;0 0 0 0 6;0 1 0 5 0;0 2 0 1 3;2 0 0 4 0;1 0 0 4 1;0 5 0 1 0;4 0 0 0 2;0 2 0 4 0;1 0 5 0 0;0 0 0 0 6'''
d = np.array([[int(v) for v in row.split()] for row in diagnoses.split(';')])


def fleiss(d):
    n, m = len(d), d[0].sum()
    obs = np.mean((d ** 2).sum(1) - m) / (m * (m - 1))
    e = ((d.sum(0) / (n * m)) ** 2).sum()
    return (obs - e) / (1 - e)


pseudo = [30 * fleiss(d) - 29 * fleiss(np.delete(d, i, 0)) for i in range(30)]
shares = d.sum(0) / d.sum()
own = [fleiss(np.stack([d[:, j], 6 - d[:, j]], 1)) for j in range(5)]
# A two-category Fleiss kappa of one category against the rest is that category's kappa.
s = 30 * 6 * 5
q = shares * (1 - shares)
out['diagnoses'] = {'counts': d.tolist(), 'kappa': fleiss(d), 'shares': shares.tolist(), 'categories': own, 'se': np.std(pseudo, ddof=1) / np.sqrt(30),
                    'seNull': np.sqrt(2) / (q.sum() * np.sqrt(s)) * np.sqrt(q.sum() ** 2 - (q * (1 - 2 * shares)).sum()),
                    'printed': {'kappa': 0.430, 'observed': 0.556, 'byChance': 0.220, 'categories': [0.245, 0.245, 0.520, 0.471, 0.566]}}
houf = {'ms': [437.328, 19.633, 2.695, 0.5111], 'df': [9, 2, 18, 60]}
out['houf'] = houf
print('houf part', mls([1 / 9, 0, -1 / 9, 0], **houf), 'gauge', mls([0, 1 / 30, 9 / 30, 2 / 3], **houf))
for key in ('manual', 'impedance'):
    print(key, out[key]['ss'], out[key]['total'], out[key]['pooled'], out[key]['keptRatio'], out[key]['pooledRatio'])
print(out['coverage'], out['linearity']['slope'], out['linearity']['intercept'], out['linearity']['residualSd'], out['linearity']['rSquared'], out['norris']['scipy'])
for t in out['tables']:
    print(t['name'], t['printed'], t['none'], t['linear'], t['quadratic'])
print(out['diagnoses']['kappa'], own, out['diagnoses']['se'], out['diagnoses']['seNull'], shares)
(here / 'gauges.json').write_text(json.dumps(out, default=lambda v: v.tolist() if hasattr(v, 'tolist') else float(v)) + '\n')
