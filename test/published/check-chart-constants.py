"""Checks chart-constants.json by another road than the program takes: prints the largest difference.

d2 = integral of 1 - F^n - (1-F)^n; second moment of the range = 2 * double integral over x < y of
1 - F(y)^n - (1-F(x))^n + (F(y)-F(x))^n (Tippett 1925). c4 from the gamma function.
Run by hand: python3 test/published/check-chart-constants.py  (needs mpmath and numpy).
"""
import json
import pathlib

import mpmath as m
import numpy as np

table = json.loads(pathlib.Path(__file__).with_name("chart-constants.json").read_text())
nodes, weights = np.polynomial.legendre.leggauss(240)
REACH = 9.0
normal = np.vectorize(lambda x: float(m.ncdf(x)))


def row(n):
    x = REACH * nodes
    below = normal(x)
    d2 = float(np.sum(REACH * weights * (1 - below**n - (1 - below) ** n)))
    second = 0.0
    for node, weight, f in zip(x, weights, below):
        half = (REACH - node) / 2
        g = normal(node + half * (1 + nodes))
        second += 2 * REACH * weight * half * float(np.sum(weights * (1 - g**n - (1 - f) ** n + (g - f) ** n)))
    d3 = (second - d2 * d2) ** 0.5
    c4 = float(m.sqrt(m.mpf(2) / (n - 1)) * m.gamma(m.mpf(n) / 2) / m.gamma(m.mpf(n - 1) / 2))
    spread = 3 * (1 - c4 * c4) ** 0.5 / c4
    return {
        "d2": d2, "d3": d3, "c4": c4, "A2": 3 / (d2 * n**0.5), "A3": 3 / (c4 * n**0.5),
        "B3": max(0.0, 1 - spread), "B4": 1 + spread, "D3": max(0.0, 1 - 3 * d3 / d2), "D4": 1 + 3 * d3 / d2,
    }


worst = 0.0
for wanted in table["rows"] + table["beyondTheTable"]:
    got = row(wanted["n"])
    for key, value in wanted.items():
        if key != "n":
            worst = max(worst, abs(got[key] - value))
print(f"largest difference {worst:.2e}, allowed {table['tolerance']['abs']:.0e}")
