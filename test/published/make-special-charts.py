"""Writes special-charts.json: charts for short runs, rare events, small shifts and many heads, by scipy, numpy and R.

Run by hand: python3 test/published/make-special-charts.py  (tests read the file it wrote).
Every figure is computed here from its definition, by another route than the library's where there is one: quantiles by
scipy, EWMA limits in closed form, variances by numpy, run lengths by a linear system. Figures marked printed are from
the books named, quoted from memory, and checked here against the recomputed ones.
"""
import json
import math
import pathlib

import numpy as np
from scipy import stats

D2 = {2: 2 / math.sqrt(math.pi), 3: 3 / math.sqrt(math.pi), 5: 2.3259289473}
C4 = {n: math.sqrt(2 / (n - 1)) * math.exp(math.lgamma(n / 2) - math.lgamma((n - 1) / 2)) for n in range(2, 10)}

RINGS = """74.030 74.002 74.019 73.992 74.008
73.995 73.992 74.001 74.011 74.004
73.988 74.024 74.021 74.005 74.002
74.002 73.996 73.993 74.015 74.009
73.992 74.007 74.015 73.989 74.014
74.009 73.994 73.997 73.985 73.993
73.995 74.006 73.994 74.000 74.005
73.985 74.003 73.993 74.015 73.988
74.008 73.995 74.009 74.005 74.004
73.998 74.000 73.990 74.007 73.995
73.994 73.998 73.994 73.995 73.990
74.004 74.000 74.007 74.000 73.996
73.983 74.002 73.998 73.997 74.012
74.006 73.967 73.994 74.000 73.984
74.012 74.014 73.998 73.999 74.007
74.000 73.984 74.005 73.998 73.996
73.994 74.012 73.986 74.005 74.007
74.006 74.010 74.018 74.003 74.000
73.984 74.002 74.003 74.005 73.997
74.000 74.010 74.013 74.020 74.003
73.982 74.001 74.015 74.005 73.996
74.004 73.999 73.990 74.006 74.009
74.010 73.989 73.990 74.009 74.014
74.015 74.008 73.993 74.000 74.010
73.982 73.984 73.995 74.017 74.013"""


def moving(values):
    return np.abs(np.diff(values))


def rings():
    x = np.array([[float(v) for v in row.split()] for row in RINGS.split("\n")])
    means, ranges, sds = x.mean(axis=1), np.ptp(x, axis=1), x.std(axis=1, ddof=1)
    sigma_means = moving(means).mean() / D2[2]
    within = ranges.mean() / D2[5]
    variance = sigma_means**2 - within**2 / 5
    sizes = [5, 3, 5, 5, 5, 4, 4, 5, 4, 5, 5, 5, 3, 5, 3, 5, 4, 5, 5, 3, 5, 5, 5, 5, 5]
    short = [row[:n] for row, n in zip(x, sizes)]
    pooled = math.sqrt(sum((len(r) - 1) * r.var(ddof=1) for r in short) / sum(len(r) - 1 for r in short))
    centre_short = float(np.concatenate(short).mean())
    centre, sbar = float(x.mean()), float(sds.mean())
    return {
        "source": "Montgomery, Introduction to Statistical Quality Control, table 6.3 (diameters of rings) and 6.4 (samples of unequal size)",
        "subgroups": x.tolist(),
        "range": {"mean": float(ranges.mean()), "sigma": within},
        "sd": {"mean": sbar, "sigma": sbar / C4[5], "lower": centre - 3 * sbar / C4[5] / math.sqrt(5), "upper": centre + 3 * sbar / C4[5] / math.sqrt(5),
               "sdUpper": sbar + 3 * sbar / C4[5] * math.sqrt(1 - C4[5] ** 2)},
        "printed": {"centre": 74.001, "rbar": 0.02324, "sbar": 0.0094, "lower": 73.988, "upper": 74.014, "sdUpper": 0.0196, "pooled": 0.0103, "readings": 113,
                    "tolerance": {"abs": 0.0006}, "spreadTolerance": {"abs": 0.00006}},
        "betweenWithin": {"centre": float(means.mean()), "sigmaOfMeans": sigma_means, "sigmaWithin": within, "varianceBetween": variance,
                          "sigmaBetween": math.sqrt(max(0, variance)), "sigmaTotal": math.sqrt(max(0, variance) + within**2),
                          "lower": float(means.mean() - 3 * sigma_means), "upper": float(means.mean() + 3 * sigma_means)},
        "unequal": {"sizes": sizes, "pooled": pooled, "centre": centre_short, "lowerOfThree": centre_short - 3 * pooled / math.sqrt(3), "upperOfThree": centre_short + 3 * pooled / math.sqrt(3)},
    }


def wide():
    """Subgroups of 26, 40 and 60 readings: factors beyond every table, sigma and limits from their definitions."""
    rng = np.random.default_rng(20)
    answer = []
    for n in (26, 40, 60):
        x = np.round(rng.normal(1.15, 0.02, (4, n)), 3)
        c4 = math.sqrt(2 / (n - 1)) * math.exp(math.lgamma(n / 2) - math.lgamma((n - 1) / 2))
        d2 = 2 * integrate(lambda z: z * n * stats.norm.cdf(z) ** (n - 1) * stats.norm.pdf(z))
        sbar, rbar, centre = x.std(axis=1, ddof=1).mean(), np.ptp(x, axis=1).mean(), x.mean()
        answer.append({"n": n, "subgroups": x.tolist(), "c4": c4, "d2": d2, "sigmaS": sbar / c4, "upperS": centre + 3 * sbar / c4 / math.sqrt(n),
                       "sigmaR": rbar / d2, "upperR": centre + 3 * rbar / d2 / math.sqrt(n), "sdUpper": sbar / c4 * (c4 + 3 * math.sqrt(1 - c4 * c4))})
    return answer


def integrate(f):
    from scipy.integrate import quad
    return quad(f, -9, 9, epsabs=1e-13, epsrel=1e-13, limit=200)[0]


def deviation():
    rows = [["A", 50, [50, 51, 52]], ["A", 50, [49, 50, 51]], ["A", 50, [48, 49, 52]], ["A", 50, [49, 53, 51]],
            ["B", 25, [24, 27, 26]], ["B", 25, [25, 27, 24]], ["B", 25, [27, 26, 23]], ["B", 25, [25, 24, 23]], ["B", 25, [24, 25, 25]], ["B", 25, [26, 24, 25]]]
    d = np.array([np.array(r) - t for _, t, r in rows], float)
    rbar, centre = np.ptp(d, axis=1).mean(), d.mean()
    sigma = rbar / D2[3]
    var = {p: (sum(np.var(x, ddof=1) * 2 for x, r in zip(d, rows) if r[0] == p) / (2 * sum(r[0] == p for r in rows)), 2 * sum(r[0] == p for r in rows)) for p in "AB"}
    nu = sum(f for _, f in var.values())
    pooled = sum(v * f for v, f in var.values()) / nu
    statistic = (nu * math.log(pooled) - sum(f * math.log(v) for v, f in var.values())) / (1 + (sum(1 / f for _, f in var.values()) - 1 / nu) / 3)
    return {
        "source": "Montgomery, Introduction to Statistical Quality Control, table 10.1 (deviations from nominal, two parts)",
        "checks": [{"product": p, "nominal": t, "readings": r} for p, t, r in rows],
        "centre": centre, "rbar": rbar, "sigma": sigma, "lower": centre - 3 * sigma / math.sqrt(3), "upper": centre + 3 * sigma / math.sqrt(3),
        "printed": {"centre": 0.17, "rbar": 2.7, "lower": -2.59, "upper": 2.93, "tolerance": {"abs": 0.007}},
        "test": {"statistic": statistic, "p": float(stats.chi2.sf(statistic, 1))},
    }


def bartlett():
    sprays = [[10, 7, 20, 14, 14, 12, 10, 23, 17, 20, 14, 13], [11, 17, 21, 11, 16, 14, 17, 17, 19, 21, 7, 13], [0, 1, 7, 2, 3, 1, 2, 1, 3, 0, 1, 4],
              [3, 5, 12, 6, 4, 3, 5, 5, 5, 5, 2, 4], [3, 5, 3, 5, 3, 6, 1, 1, 3, 2, 6, 4], [11, 9, 15, 22, 15, 16, 13, 10, 26, 26, 24, 13]]
    plants = [[4.17, 5.58, 5.18, 6.11, 4.5, 4.61, 5.17, 4.53, 5.33, 5.14], [4.81, 4.17, 4.41, 3.59, 5.87, 3.83, 6.03, 4.89, 4.32, 4.69], [6.31, 5.12, 5.54, 5.5, 5.37, 5.29, 4.92, 6.15, 5.8, 5.26]]
    answer = []
    # Statistic and p as printed to 12 digits by R 4.2.2: bartlett.test(count ~ spray, InsectSprays), bartlett.test(weight ~ group, PlantGrowth).
    for name, groups, statistic, p in (("InsectSprays", sprays, 25.9598253204, 9.08512233295e-05), ("PlantGrowth", plants, 2.87857378724, 0.237096773635)):
        answer.append({"name": name, "groups": [{"sd": float(np.std(g, ddof=1)), "freedom": len(g) - 1} for g in groups], "statistic": statistic, "p": p})
    return answer


def counts():
    size = [10, 8, 13, 10, 9.5, 10, 12, 10.5, 12, 12.5]
    defects = [14, 12, 20, 11, 7, 10, 21, 16, 19, 23]
    d = [12, 8, 6, 9, 10, 12, 11, 16, 10, 6, 20, 15, 9, 8, 6, 8, 10, 7, 5, 8, 5, 8, 10, 6, 9]
    n = [100, 80, 80, 100, 110, 110, 100, 100, 90, 90, 110, 120, 120, 120, 110, 80, 80, 80, 90, 100, 100, 100, 100, 90, 90]
    pbar = sum(d) / sum(n)
    rng = np.random.default_rng(7)
    big_n = rng.integers(80_000, 130_000, 24)
    big_d = rng.binomial(big_n, np.clip(rng.normal(0.012, 0.0011, 24), 0, 1))
    pb = big_d.sum() / big_n.sum()
    zp = (big_d / big_n - pb) / np.sqrt(pb * (1 - pb) / big_n)
    sz = moving(zp).mean() / D2[2]
    ub = pb
    zu = (big_d / big_n - ub) / np.sqrt(ub / big_n)
    su = moving(zu).mean() / D2[2]
    return {
        "cloth": {"source": "Montgomery, Introduction to Statistical Quality Control, table 7.11 (defects in dyed cloth, rolls of unequal size)", "counts": defects, "sizes": size,
                  "centre": sum(defects) / sum(size), "lower": [sum(defects) / sum(size) - 3 * math.sqrt(sum(defects) / sum(size) / s) for s in size],
                  "printed": {"centre": 1.42, "lower": [0.29, 0.16, 0.43, 0.29, 0.26, 0.29, 0.39, 0.32, 0.39, 0.41], "upper": [2.55, 2.68, 2.41, 2.55, 2.58, 2.55, 2.45, 2.52, 2.45, 2.43], "tolerance": {"abs": 0.012}}},
        "orders": {"source": "Montgomery, Introduction to Statistical Quality Control, table 7.4 (proportions, samples of unequal size)", "defectives": d, "sizes": n, "centre": pbar, "above": [11],
                   "printed": {"defectives": 234, "units": 2450, "centre": 0.096, "tolerance": {"abs": 0.0006}}},
        "large": {"defectives": big_d.tolist(), "sizes": big_n.tolist(), "p": {"sigmaZ": sz, "upper": pb + 3 * sz * math.sqrt(pb * (1 - pb) / big_n[0])}, "u": {"sigmaZ": su, "upper": ub + 3 * su * math.sqrt(ub / big_n[0])}},
    }


def gaps():
    cases = []
    for p, alpha in ((0.0005, 0.00135), (0.01, 0.00135), (0.00002, 0.005), (0.2, 0.025), (0.002, 0.00135)):
        # scipy counts the draw on which the event falls, so a gap is one less.
        upper = int(stats.geom.isf(alpha, p)) - 1
        while upper > 0 and stats.geom.sf(upper, p) <= alpha:
            upper -= 1
        while stats.geom.sf(upper + 1, p) > alpha:
            upper += 1
        lower = 0
        while stats.geom.cdf(lower + 1, p) <= alpha:
            lower += 1
        centre = int(stats.geom.ppf(0.5, p)) - 1
        cases.append({"p": p, "alpha": alpha, "lower": lower, "centre": centre, "upper": upper, "below": float(stats.geom.cdf(lower, p)), "above": float(stats.geom.sf(upper + 1, p))})
    return {
        "cases": cases,
        "closedForm": {"source": "Xie & Goh 1992, formulas of the cumulative count of conforming", "p": 0.0005, "alpha": 0.00135,
                       "upper": math.log(0.00135) / math.log(1 - 0.0005), "centre": math.log(0.5) / math.log(1 - 0.0005), "lower": math.log(1 - 0.00135) / math.log(1 - 0.0005)},
    }


def times():
    hours = [286, 948, 536, 124, 816, 729, 4, 143, 431, 8, 2837, 596, 81, 227, 603, 492, 1199, 1214, 2831, 96]
    printed = [4.80986, 6.70903, 5.72650, 3.81367, 6.43541, 6.23705, 1.46958, 3.96768, 5.39007, 1.78151, 9.09619, 5.89774, 3.38833, 4.51095, 5.91690, 5.59189, 7.16124, 7.18601, 9.09083, 3.55203]
    for h, y in zip(hours, printed):
        assert abs(h**0.2777 - y) < 2e-4, (h, h**0.2777, y)
    mean = float(np.mean(hours))
    y = np.array(hours) ** (1 / 3.6)
    centre, sigma = y.mean(), moving(y).mean() / D2[2]
    return {
        "source": "Montgomery, Introduction to Statistical Quality Control, table 7.14 (hours between failures of a valve)", "hours": hours, "printedTransformed": printed, "printedTolerance": {"rel": 1e-3},
        "mean": mean,
        "exponential": [{"alpha": a, "lower": float(stats.expon.ppf(a, scale=mean)), "centre": float(stats.expon.ppf(0.5, scale=mean)), "upper": float(stats.expon.isf(a, scale=mean))} for a in (0.00135, 0.005, 0.05)],
        "power": {"centre": centre, "sigma": sigma, "upper": (centre + 3 * sigma) ** 3.6, "lower": (centre - 3 * sigma) if centre > 3 * sigma else None},
    }


SMALL_SHIFT = [9.45, 7.99, 9.29, 11.66, 12.16, 10.18, 8.04, 11.46, 9.20, 10.34, 9.03, 11.47, 10.51, 9.40, 10.08, 9.37, 10.62, 10.31, 8.52, 10.84,
               10.90, 9.33, 12.29, 11.50, 10.60, 11.08, 10.38, 11.62, 11.31, 10.52]


def weighted():
    x = np.array(SMALL_SHIFT)
    lam, z, out = 0.1, 10.0, []
    for v in x:
        z = lam * v + (1 - lam) * z
        out.append(z)
    i = np.arange(1, 31)
    width = 2.7 * np.sqrt(lam / (2 - lam) * (1 - (1 - lam) ** (2 * i)))
    hi = lo = 0.0
    up, down = [], []
    for v in x:
        hi, lo = max(0.0, v - 10.5 + hi), max(0.0, 9.5 - v + lo)
        up.append(hi)
        down.append(lo)
    print("cusum at 28-30:", up[27:], "ewma at 28-30:", out[27:], [int(k) + 1 for k in np.where(np.abs(np.array(out) - 10) > width)[0]])
    head = [102, 97, 104, 93, 100, 105, 96, 98, 105, 99]
    hi = lo = 6.0
    fup, fdown = [], []
    for v in head:
        hi, lo = max(0.0, v - 103 + hi), max(0.0, 97 - v + lo)
        fup.append(hi)
        fdown.append(lo)
    print("head start", fup, fdown)
    handbook = [52, 47, 53, 49.3, 50.1, 47, 51, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]
    chemical = [102, 94.8, 98.3, 98.4, 102, 98.5, 99, 97.7, 100, 98.1, 101.3, 98.7, 101.1, 98.4, 97, 96.7, 100.3, 101.4, 97.2, 101]
    z, smooth = 50.0, []
    for v in handbook:
        z = 0.3 * v + 0.7 * z
        smooth.append(z)
    steady = 3 * 2.0539 * math.sqrt(0.3 / 1.7)
    return {
        "handbookEwma": {"source": "NIST/SEMATECH e-Handbook 6.3.2.4; limits printed as 52.5884 and 47.4115", "values": handbook, "target": 50, "sigma": 2.0539, "lambda": 0.3, "factor": 3,
                         "points": smooth, "lower": 50 - steady, "upper": 50 + steady, "firstUpper": [50 + steady * math.sqrt(1 - 0.7 ** (2 * i)) for i in (1, 2, 3)],
                         "printed": {"points": [50.6, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36, 49.52, 50.05, 49.38, 49.92, 50.73, 51.23, 51.94, 51.99], "tolerance": {"abs": 0.0051}, "lower": 47.4115, "upper": 52.5884, "limitTolerance": {"abs": 0.0002}}},
        "chemicalCusum": {"source": "Montgomery & Runger, Applied Statistics and Probability for Engineers, 3rd ed., table 16-8, p. 636; N+ at observation 20 is misprinted there as 0 beside a sum of 1.0", "values": chemical, "target": 99, "K": 1, "H": 10,
                          "above": [2, 0, 0, 0, 2, 0.5, 0, 0, 0, 0, 1.3, 0, 1.1, 0, 0, 0, 0.3, 1.7, 0, 1], "countAbove": [1, 0, 0, 0, 1, 2, 0, 0, 0, 0, 1, 0, 1, 0, 0, 0, 1, 2, 0, 1],
                          "below": [0, 3.2, 2.9, 2.5, 0, 0, 0, 0.3, 0, 0, 0, 0, 0, 0, 1, 2.3, 0, 0, 0.8, 0], "countBelow": [0, 1, 2, 3, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0, 1, 2, 0, 0, 1, 0]},
        "values": SMALL_SHIFT,
        "ewma": {"lambda": lam, "factor": 2.7, "target": 10, "sigma": 1, "points": out, "upper": (10 + width).tolist(), "out": [int(k) + 1 for k in np.where(np.abs(np.array(out) - 10) > width)[0]],
                 "printed": {"source": "Montgomery, Introduction to Statistical Quality Control, table 9.10", "points": [9.945, 9.7495, 9.70355, 9.8992, 10.1253, 10.1307, 9.92167, 10.0755, 9.98796, 10.0232], "tolerance": {"rel": 6e-6}, "finalUpper": 10.62, "finalTolerance": {"abs": 0.005}}},
        "cusum": {"target": 10, "sigma": 1, "k": 0.5, "h": 5, "above": up, "below": down,
                  "printed": {"source": "Montgomery, Introduction to Statistical Quality Control, table 9.2", "signal": 29, "sum": 5.28, "count": 7, "from": 23, "mean": 11.25, "tolerance": {"abs": 0.006}}},
        "headStart": {"source": "Montgomery, Introduction to Statistical Quality Control, table 9.5 (head start of half the decision interval)", "values": head, "target": 100, "sigma": 6, "k": 0.5, "h": 2, "start": 1, "above": fup, "below": fdown,
                      "printed": {"above": [5, 0, 1, 0, 0, 2, 0, 0, 2, 0], "below": [1, 1, 0, 4, 1, 0, 1, 0, 0, 0]}},
    }


def runs():
    """Expected number of checks until one head has been the extreme r times in a row, by first-step equations."""
    answer = []
    for s, r in ((4, 4), (4, 5), (6, 4), (6, 5), (12, 3), (2, 9)):
        a = np.zeros((r - 1, r - 1))
        for j in range(r - 1):
            a[j, j] += 1
            a[j, 0] -= (s - 1) / s
            if j + 1 < r - 1:
                a[j, j + 1] -= 1 / s
        answer.append({"heads": s, "run": r, "averageRunLength": 1 + float(np.linalg.solve(a, np.ones(r - 1))[0])})
    return answer


def group():
    rng = np.random.default_rng(11)
    checks = np.round(rng.normal(0, 0.01, (15, 6, 4)) + 1.15 + np.array([0, 0.004, 0, 0, -0.003, 0])[None, :, None], 4)
    checks[9, 2] += 0.03
    ranges, centre = np.ptp(checks, axis=2), checks.mean()
    d2 = 2.0587507460
    sigma = ranges.mean() / d2
    means = checks.mean(axis=2)
    single = checks[:, :, 0]
    return {
        "checks": checks.tolist(), "centre": centre, "sigmaRange": sigma, "sigmaSd": float(checks.std(axis=2, ddof=1).mean() / C4[4]),
        "upper": centre + 3 * sigma / 2, "lower": centre - 3 * sigma / 2, "highest": means.argmax(axis=1).tolist(), "lowest": means.argmin(axis=1).tolist(),
        "beyond": [[int(i), int(h)] for i, h in zip(*np.where(np.abs(means - centre) > 1.5 * sigma))],
        "single": {"sigma": float(np.abs(np.diff(single, axis=0)).mean() / D2[2]), "centre": float(single.mean())},
    }


answer = {"made": "by make-special-charts.py", "rings": rings(), "wide": wide(), "deviation": deviation(), "bartlett": bartlett(), "counts": counts(), "gaps": gaps(), "times": times(), **weighted(), "runs": runs(), "group": group()}
pathlib.Path(__file__).with_name("special-charts.json").write_text(json.dumps(answer) + "\n")
