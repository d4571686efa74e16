"""Writes distributions.json: 17 digits of the normal, gamma and chi-square functions, by mpmath at 40 digits.

Run by hand: python3 test/published/make-distributions.py  (needs mpmath; tests read the file it wrote).
"""
import json
import pathlib

import mpmath as m

m.mp.dps = 40


def digits(value):
    return float(m.nstr(value, 17))


def upper_tail(z):
    return m.erfc(m.mpf(z) / m.sqrt(2)) / 2


def chi_square_quantile(p, nu):
    """Bisection on the regularised incomplete gamma: slow, and nothing in it can go astray."""
    a, p = m.mpf(nu) / 2, m.mpf(p)
    low, high = m.mpf(0), m.mpf(20) + 20 * nu
    for _ in range(120):
        x = (low + high) / 2
        if m.gammainc(a, 0, x / 2, regularized=True) < p:
            low = x
        else:
            high = x
    return low


Z = [-8, -3, -1, -0.5, 0, 0.1, 0.3, 0.5, 0.67, 0.68, 1, 1.5, 2, 3, 4.5, 5, 5.65, 5.66, 6, 8, 12.34, 20, 30.3, 37, 37.5]
P = [1e-20, 1e-9, 0.00135, 0.025, 0.05, 0.1, 0.3, 0.4999, 0.7, 0.975, 0.999]
SHAPES = [0.5, 1, 3.7, 12, 62, 100, 500]
NU = [0.7, 1, 2, 5, 19, 90.4, 124, 1000]

document = {
    "source": "mpmath, 40 digits, written out with 17; see make-distributions.py",
    "normalUpperTail": [[z, digits(upper_tail(z))] for z in Z],
    "logNormalUpperTail": [[z, digits(m.log(upper_tail(z)))] for z in [-9, -1, 0, 3, 36.9, 37.1, 45, 200]],
    "normalQuantile": [[p, digits(-m.sqrt(2) * m.erfinv(1 - 2 * m.mpf(p)))] for p in P],
    "logGamma": [[x, digits(m.loggamma(m.mpf(x)))] for x in [1e-5, 0.5, 0.9, 1.1, 1.999, 2.5, 7, 14.5, 15, 100, 1e5]],
    "regularisedGamma": [
        [a, k * a, digits(m.gammainc(a, 0, k * a, regularized=True)), digits(m.gammainc(a, k * a, m.inf, regularized=True))]
        for a in SHAPES
        for k in [0.25, 0.5, 1, 1.25, 2]
    ],
    "chiSquareQuantile": [[p, nu, digits(chi_square_quantile(p, nu))] for nu in NU for p in [0.001, 0.025, 0.5, 0.95, 0.975, 0.999]],
}


def written(rows):
    return "[\n" + ",\n".join("    " + json.dumps(row) for row in rows) + "\n  ]"


lines = [f"  {json.dumps(key)}: {json.dumps(value) if isinstance(value, str) else written(value)}" for key, value in document.items()]
pathlib.Path(__file__).with_name("distributions.json").write_text("{\n" + ",\n".join(lines) + "\n}\n")
