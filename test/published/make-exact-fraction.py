"""Writes exact-fraction.json: the incomplete beta as a binomial tail, and its quantile by bisection, mpmath at 50 digits.

Run by hand: python3 test/published/make-exact-fraction.py  (needs mpmath; tests read the file it wrote).
"""
import json
import pathlib

import mpmath as m

m.mp.dps = 50


def digits(value):
    return float(m.nstr(value, 17))


def beta_cdf(x, a, b):
    """Whole a and b: P(at least a of a+b-1 draws), summed term by term over the shorter side; nothing in it can go astray."""
    n, x = a + b - 1, m.mpf(x)
    def tail(start, stop):
        term = m.binomial(n, start) * x**start * (1 - x) ** (n - start)
        total = m.mpf(0)
        for j in range(start, stop):
            total += term
            term = term * (n - j) / (j + 1) * x / (1 - x)
        return total
    return 1 - tail(0, a) if a <= b else tail(a, n + 1)


def beta_quantile(p, a, b):
    low, high = m.mpf(0), m.mpf(1)
    for _ in range(160):
        middle = (low + high) / 2
        if beta_cdf(middle, a, b) < m.mpf(p):
            low = middle
        else:
            high = middle
    return low


CDF = [(0.3, 1, 1), (0.5, 2, 3), (0.05, 10, 90), (0.2, 10, 90), (0.31, 81, 183), (1e-6, 1, 20), (0.005, 500, 99501), (0.0056, 500, 99501), (0.5005, 5001, 5000), (1e-6, 3, 99998)]
QUANTILE = [(0.025, 81, 183), (0.975, 82, 182), (0.95, 1, 20), (0.05, 50, 9951), (1e-9, 3, 7), (0.999999, 3, 7), (0.95, 9, 1)]

document = {
    "source": "mpmath, 50 digits, binomial sums, written out with 17; see make-exact-fraction.py",
    "regularisedBeta": [[x, a, b, digits(beta_cdf(x, a, b))] for x, a, b in CDF],
    "betaQuantile": [[p, a, b, digits(beta_quantile(p, a, b))] for p, a, b in QUANTILE],
    "newcombe": {
        "source": "Newcombe 1998, Two-sided confidence intervals for the single proportion, Statistics in Medicine 17, table I, method 5 (Clopper-Pearson), four decimals, quoted from memory and recomputed here",
        "cases": [[81, 263, 0.2527, 0.3676], [15, 148, 0.0578, 0.1617], [0, 20, 0.0, 0.1684], [1, 29, 0.0009, 0.1776]],
    },
}
for found, n, low, high in document["newcombe"]["cases"]:
    again = (0 if found == 0 else beta_quantile(0.025, found, n - found + 1), beta_quantile(0.975, found + 1, n - found))
    assert abs(again[0] - low) < 6e-5 and abs(again[1] - high) < 6e-5, (found, n, again)
pathlib.Path(__file__).with_name("exact-fraction.json").write_text(json.dumps(document, indent=2) + "\n")
