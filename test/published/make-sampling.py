"""Reference values for acceptance sampling, run by hand with Python 3.11 and SciPy: writes sampling.json.

Plans and finite lots are counted in whole numbers (fractions.Fraction) from the definitions; the curves are sums of
scipy.stats terms, and the worst outgoing quality is found by trying, not by a formula for its place.
"""
import json
import math
from fractions import Fraction
from pathlib import Path

import numpy as np
import scipy
from scipy.optimize import minimize_scalar
from scipy.stats import binom, hypergeom, poisson

C = math.comb


def hyper_at_most(k, lot, defective, n):
    return Fraction(sum(C(defective, j) * C(lot - defective, n - j) for j in range(min(k, n) + 1)), C(lot, n))


def zero_size(lot, defective, risk):
    return next(n for n in range(1, lot + 1) if Fraction(C(lot - defective, n), C(lot, n)) <= risk)


def finite_bounds(found, n, lot, alpha):
    """By trying every number of defectives that the lot can have."""
    possible = range(found, lot - (n - found) + 1)
    few = {d: hyper_at_most(found, lot, d, n) for d in possible}
    many = {d: 1 - hyper_at_most(found - 1, lot, d, n) if found else Fraction(1) for d in possible}
    return [min(d for d in possible if many[d] > alpha / 2), max(d for d in possible if few[d] > alpha / 2), max(d for d in possible if few[d] > alpha)]


def binomial_at_most(k, n, p):
    return sum(C(n, j) * p**j * (1 - p) ** (n - j) for j in range(min(k, n) + 1))


def plan(accept, most):
    """Smallest c that holds both risks with some n, and all such n; every pair is tried."""
    good, alpha, beta = accept["good"], Fraction(accept["alpha"]), Fraction(accept["beta"])
    at_most = {"binomial": lambda c, n, q: binomial_at_most(c, n, q), "hypergeometric": lambda c, n, q: hyper_at_most(c, accept["lot"], q, n), "poisson": lambda c, n, q: poisson.cdf(c, n * float(q))}[accept["model"]]
    to = (lambda q: Fraction(q)) if accept["model"] != "hypergeometric" else (lambda q: int(Fraction(q) * accept["lot"]))
    for c in range(0, 60):
        fits = [n for n in range(c + 1, most + 1) if at_most(c, n, to(accept["bad"])) <= beta and at_most(c, n, to(good)) >= 1 - alpha]
        if fits:
            return [fits[0], c, fits[-1]]
    raise ValueError("none")


def single(model, n, c, lot, share):
    if model == "hypergeometric":
        d = round(share * lot)
        accept = hypergeom.cdf(c, lot, d, n)
        outgoing = sum((d - x) / lot * hypergeom.pmf(x, lot, d, n) for x in range(0, min(c, d) + 1))
        return [accept, outgoing]
    cdf = binom.cdf(c, n, share) if model == "binomial" else poisson.cdf(c, n * share)
    return [cdf, cdf * share * (1 - n / lot if lot else 1)]


def double(model, n1, c1, r1, n2, c2, lot, share):
    d = round(share * lot) if model == "hypergeometric" else 0
    pmf = {"binomial": lambda x: binom.pmf(x, n1, share), "poisson": lambda x: poisson.pmf(x, n1 * share), "hypergeometric": lambda x: hypergeom.pmf(x, lot, d, n1)}[model]
    pmf2 = {"binomial": lambda x, y: binom.pmf(y, n2, share), "poisson": lambda x, y: poisson.pmf(y, n2 * share), "hypergeometric": lambda x, y: hypergeom.pmf(y, lot - n1, d - x, n2)}[model]
    left = lambda n, gone: (d - gone) / lot if model == "hypergeometric" else share * (1 - n / lot if lot else 1)
    first = [(x, pmf(x)) for x in range(c1 + 1)]
    middle = [(x, pmf(x)) for x in range(c1 + 1, r1)]
    both = [(x + y, w * pmf2(x, y)) for x, w in middle if w > 0 for y in range(c2 - x + 1)]
    pa1, pa2, undecided = sum(w for _, w in first), sum(w for _, w in both), sum(w for _, w in middle)
    outgoing = sum(w * left(n1, x) for x, w in first if w > 0) + sum(w * left(n1 + n2, x) for x, w in both if w > 0)
    return {"accept": pa1 + pa2, "sampled": n1 + n2 * undecided, "outgoing": outgoing, "inspected": n1 * pa1 + (n1 + n2) * pa2 + lot * (1 - pa1 - pa2) if lot else None}


def worst(f, model, lot):
    if model == "hypergeometric":
        heights = [f(d / lot) for d in range(lot + 1)]
        return [max(heights), int(np.argmax(heights)) / lot]
    grid = np.geomspace(1e-5, 1, 4000)
    i = int(np.argmax([f(p) for p in grid]))
    best = minimize_scalar(lambda p: -f(p), bounds=(grid[max(0, i - 1)], grid[min(len(grid) - 1, i + 1)]), method="bounded", options={"xatol": 1e-12})
    return [-best.fun, best.x]


zero = [(lot, d, risk) for lot, d in ((150, 3), (300, 3), (800, 8), (2000, 20), (5000, 25), (10, 1), (20, 20), (1000, 1), (60, 7)) for risk in ("0.1", "0.05", "0.01")]
finite = [(x, n, lot, conf) for x, n, lot in ((0, 20, 100), (0, 59, 60), (1, 30, 200), (3, 50, 500), (5, 10, 40), (20, 20, 100), (7, 125, 900), (0, 1, 5)) for conf in ("0.9", "0.95", "0.99")]
points = [
    {"model": "binomial", "good": "0.01", "alpha": "0.05", "bad": "0.06", "beta": "0.1", "lot": None}, {"model": "binomial", "good": "0.02", "alpha": "0.05", "bad": "0.08", "beta": "0.1", "lot": None},
    {"model": "binomial", "good": "0.005", "alpha": "0.01", "bad": "0.1", "beta": "0.05", "lot": None}, {"model": "poisson", "good": "0.01", "alpha": "0.05", "bad": "0.05", "beta": "0.1", "lot": None},
    {"model": "poisson", "good": "0.02", "alpha": "0.05", "bad": "0.15", "beta": "0.05", "lot": None}, {"model": "hypergeometric", "good": "0.01", "alpha": "0.05", "bad": "0.06", "beta": "0.1", "lot": 300},
    {"model": "hypergeometric", "good": "0.02", "alpha": "0.05", "bad": "0.1", "beta": "0.05", "lot": 100}, {"model": "hypergeometric", "good": "0.01", "alpha": "0.05", "bad": "0.04", "beta": "0.1", "lot": 500},
]
singles = [("binomial", 52, 3, 10000), ("binomial", 125, 0, None), ("binomial", 13, 13, 500), ("poisson", 80, 5, 1200), ("poisson", 200, 1, None), ("hypergeometric", 52, 3, 400), ("hypergeometric", 20, 0, 60)]
doubles = [("binomial", 50, 2, 7, 100, 6, None), ("binomial", 108, 2, 5, 108, 4, 4000), ("poisson", 32, 1, 4, 32, 4, 900), ("hypergeometric", 50, 2, 7, 100, 6, 600), ("hypergeometric", 20, 0, 3, 20, 3, 100), ("binomial", 77, 1, 4, 154, 4, 2000)]
shares = [0.0, 0.004, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0]
out = {
    "source": f"whole-number enumeration and SciPy {scipy.__version__}, make-sampling.py",
    "zero": [[lot, d, float(r), zero_size(lot, d, Fraction(r)), float(Fraction(C(lot - d, zero_size(lot, d, Fraction(r))), C(lot, zero_size(lot, d, Fraction(r)))))] for lot, d, r in zero],
    "finite": [[x, n, lot, float(conf), *finite_bounds(x, n, lot, 1 - Fraction(conf))] for x, n, lot, conf in finite],
    "plans": [{**p, "answer": plan(p, 600 if p["lot"] is None else p["lot"])} for p in points],
    "singles": [{"model": m, "n": n, "c": c, "lot": lot, "points": [[s, *map(float, single(m, n, c, lot, s))] for s in shares], "worst": worst(lambda p: single(m, n, c, lot, p)[1], m, lot)} for m, n, c, lot in singles],
    "doubles": [{"model": m, "n1": n1, "c1": c1, "r1": r1, "n2": n2, "c2": c2, "lot": lot, "points": [{"share": s, **double(m, n1, c1, r1, n2, c2, lot, s)} for s in shares], "worst": worst(lambda p: double(m, n1, c1, r1, n2, c2, lot, p)["outgoing"], m, lot)} for m, n1, c1, r1, n2, c2, lot in doubles],
}
Path(__file__).with_name("sampling.json").write_text(json.dumps(out, indent=1, default=float) + "\n")
