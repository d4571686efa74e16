"""Reference values for run lengths of EWMA and CUSUM, written to scheme-references.json. Run by hand: python3 make-scheme-references.py

Written from the definitions, apart from the library and by other means:
- EWMA and one-sided sums: the integral equations on 240 Gauss-Legendre nodes, solved as dense linear systems (NumPy), the
  conditional steady state as the left eigenvector of the kernel, percentiles by powers of the kernel;
- two-sided sums: never followed together. Run-length distributions of the single sums are combined by renewal (who signals
  on one side starts afresh at zero on the other): convolution for the distribution, Van Dobben de Bruyn 1968 / Lucas &
  Crosier 1982 for the mean, and for the steady state the resolvent of the kernel at the decay rate of both sums;
- the same by sight: simulation of both sums, value by value.
- counts: SciPy binomial, Poisson and chi-square.
NumPy, SciPy.
"""
import json
import math
import numpy as np
from scipy.optimize import brentq
from scipy.stats import binom, chi2, norm, poisson

SHARES = [0.05, 0.1, 0.25, 0.5, 0.75, 0.9, 0.95]
NODES, WEIGHTS = np.polynomial.legendre.leggauss(240)


def ewma_kernel(lam, width, shift):
    c = width * math.sqrt(lam / (2 - lam))
    z, w = c * NODES, c * WEIGHTS
    row = lambda x: w / lam * norm.pdf((z - (1 - lam) * x) / lam - shift)
    return z, np.array([row(x) for x in z]), row


def cusum_kernel(k, h, shift):
    s, w = h / 2 * (NODES + 1), h / 2 * WEIGHTS
    row = lambda x: np.concatenate([[norm.cdf(k - shift - x)], w * norm.pdf(s - x + k - shift)])
    return np.concatenate([[0], s]), np.array([row(x) for x in np.concatenate([[0], s])]), row


def left_vector(q):
    values, vectors = np.linalg.eig(q.T)
    best = np.argmax(values.real)
    v = vectors[:, best].real
    return values[best].real, v / v.sum()


def survival_from(first, q, points):
    """P(no signal within 0..points), the first step by the row `first`."""
    out, v = [1.0], first
    for _ in range(points):
        out.append(v.sum())
        v = v @ q
    return np.array(out)


def percentiles(survival):
    return [int(np.argmax(survival <= 1 - share)) for share in SHARES]


def one(kernel, quiet, start, points=6000):
    """kernel and quiet: at the shift and without one."""
    _, q, row = kernel
    lengths = np.linalg.solve(np.eye(len(q)) - q, np.ones(len(q)))
    rho, settled = left_vector(quiet[1])
    survival = survival_from(row(start), q, points)
    return {"arl": 1 + row(start) @ lengths, "steadyStateArl": settled @ lengths, "falseAlarm": 1 - rho,
            "percentiles": percentiles(survival), "survivalAt10": survival[10]}


def both(k, h, shift, head):
    points = 3000
    up, down, quiet = cusum_kernel(k, h, shift), cusum_kernel(k, h, -shift), cusum_kernel(k, h, 0)
    length = [np.linalg.solve(np.eye(len(q)) - q, np.ones(len(q))) for _, q, _ in (up, down)]
    l0 = [x[0] for x in length]
    lh = [1 + kernel[2](head) @ x for kernel, x in zip((up, down), length)]
    arl = (lh[0] * l0[1] + l0[0] * lh[1] - l0[0] * l0[1]) / (l0[0] + l0[1])
    chance = lambda kernel, at: -np.diff(survival_from(kernel[2](at), kernel[1], points))
    f0 = [chance(up, 0), chance(down, 0)]
    f = [chance(up, head), chance(down, head)]
    a = [np.zeros(points), np.zeros(points)]
    for n in range(points):
        # index n is point n + 1: who signalled below at m starts afresh above.
        a[0][n] = f[0][n] - a[1][:n] @ f0[0][:n][::-1]
        a[1][n] = f[1][n] - a[0][:n] @ f0[1][:n][::-1]
    survival = np.concatenate([[1], 1 - np.cumsum(a[0] + a[1])])
    # Decay of both sums in control: where the generating function of the first signal of one sum is -1, beyond its pole.
    _, q, _ = quiet
    exits = 1 - q.sum(axis=1)
    e0 = np.eye(len(q))[0]
    resolvent = lambda rho: np.linalg.solve(np.eye(len(q)) - q.T / rho, e0)
    g = lambda rho: resolvent(rho) @ exits / rho + 1
    rho1 = left_vector(q)[0]
    low = next(rho1 - d * (1 - rho1) for d in np.arange(0.2, 6, 0.1) if g(rho1 - d * (1 - rho1)) > 0)
    rho = brentq(g, low, rho1 - 0.1 * (1 - rho1), xtol=1e-15)
    settled = resolvent(rho)
    settled /= settled.sum()
    m = [settled @ x for x in length]
    steady = (m[0] * l0[1] + l0[0] * m[1] - l0[0] * l0[1]) / (l0[0] + l0[1])
    return {"arl": arl, "steadyStateArl": steady, "falseAlarm": 1 - rho, "percentiles": percentiles(survival), "survivalAt10": survival[10]}


def simulate(k, h, shift, head, quiet, series, seed):
    """Both sums value by value: `quiet` points in control without a signal, then the shift; mean and its standard error."""
    rng = np.random.default_rng(seed)
    above, below = np.full(series, float(head)), np.full(series, float(head))
    for _ in range(quiet):
        x = rng.standard_normal(len(above))
        above, below = np.maximum(0, above + x - k), np.maximum(0, below - x - k)
        keep = (above <= h) & (below <= h)
        above, below = above[keep], below[keep]
    lengths, n = [], 0
    while len(above):
        n += 1
        x = rng.standard_normal(len(above)) + shift
        above, below = np.maximum(0, above + x - k), np.maximum(0, below - x - k)
        keep = (above <= h) & (below <= h)
        lengths.append(np.full((~keep).sum(), n))
        above, below = above[keep], below[keep]
    lengths = np.concatenate(lengths)
    return {"mean": lengths.mean(), "standardError": lengths.std(ddof=1) / math.sqrt(len(lengths))}


out = {"ewma": [], "oneSided": [], "twoSided": [], "simulated": []}
for lam, width, start in [(0.1, 2.7, 0), (0.25, 3, 0), (0.5, 3, 0), (0.03, 2.4, 0), (0.2, 2.86, 0.5), (1, 3, 0)]:
    for shift in (0, 0.5, -1, 3):
        out["ewma"].append({"lambda": lam, "width": width, "start": start, "shift": shift, **one(ewma_kernel(lam, width, shift), ewma_kernel(lam, width, 0), start)})
for k, h, head in [(0.5, 4, 0), (0.5, 5, 2.5), (0.25, 8, 0), (1, 2.5, 2)]:
    for shift in (0, 0.5, 1, 3, -0.5):
        # Down shifts make one-sided sums run for ages: no percentiles within the points followed.
        if shift >= 0:
            out["oneSided"].append({"k": k, "h": h, "headStart": head, "shift": shift, **one(cusum_kernel(k, h, shift), cusum_kernel(k, h, 0), head)})
for k, h, head in [(0.5, 4, 0), (0.5, 5, 2.5), (0.25, 5, 0), (1, 2.5, 1.25), (0.1, 6, 0)]:
    for shift in (0, 0.25, -1, 3):
        out["twoSided"].append({"k": k, "h": h, "headStart": head, "shift": shift, **both(k, h, shift, head)})
for seed, (k, h, shift, head, quiet) in enumerate([(0.5, 4, 0, 2, 0), (0.5, 4, 1, 0, 80), (0.25, 5, 0.5, 0, 60), (0.25, 5, 0, 2.75, 0), (0.1, 6, 0.3, 0, 80), (1, 2.5, -0.75, 0, 60)]):
    out["simulated"].append({"k": k, "h": h, "shift": shift, "headStart": head, "quiet": quiet, **simulate(k, h, shift, head, quiet, 300_000, 20261125 + seed)})

c4 = lambda n: math.sqrt(2 / (n - 1)) * math.exp(math.lgamma(n / 2) - math.lgamma((n - 1) / 2))


def sd_seen(n, ratio):
    lines = [1 + side * 3 * math.sqrt(1 - c4(n) ** 2) / c4(n) for side in (-1, 1)]
    at = [(n - 1) * (max(0, line) * c4(n) / ratio) ** 2 for line in lines]
    return chi2.cdf(at[0], n - 1) + chi2.sf(at[1], n - 1)


out["operating"] = {
    "sd": [{"n": n, "ratio": r, "seen": sd_seen(n, r)} for n, r in [(5, 1), (5, 1.5), (5, 0.2), (10, 1), (10, 0.3), (25, 2)]],
    "p": [{"n": n, "centre": c, "share": s, "seen": binom.cdf(lo - 1, n, s) + binom.sf(hi, n, s)} for n, c, lo, hi, s in [
        (50, 0.2, 2, 18, 0.2), (50, 0.2, 2, 18, 0.01), (50, 0.2, 2, 18, 0.5), (200, 0.01, 0, 6, 0.001), (200, 0.01, 0, 6, 0.05), (1000, 0.02, 7, 33, 0.02)]],
    "c": [{"centre": c, "mean": m, "seen": poisson.cdf(lo - 1, m) + poisson.sf(hi, m)} for c, lo, hi, m in [
        (19.85, 7, 33, 19.85), (19.85, 7, 33, 3), (19.85, 7, 33, 45), (16, 4, 28, 16), (4, 0, 10, 0.05), (4, 0, 10, 12)]],
}
with open("scheme-references.json", "w") as file:
    json.dump(out, file, indent=1, default=float)
    file.write("\n")
