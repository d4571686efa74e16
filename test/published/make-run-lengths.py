"""Reference values for the run lengths of run rules, written to run-lengths.json. Run by hand: python3 make-run-lengths.py

Written from the wording of the rules, independently of the library:
- rules of zones: dense transition matrix over histories of flags, NumPy linear solve and eigenvector;
- trend and alternation alone: exact recursion over the relative rank of the last point (distribution-free);
- all tests of Nelson 1984 together: simulation by sight over windows of the last fifteen points.
NumPy, SciPy.
"""
import json
import math
import numpy as np
from scipy.stats import norm

ZONES = [(-np.inf, -3), (-3, -2), (-2, -1), (-1, 0), (0, 1), (1, 2), (2, 3), (3, np.inf)]
MID = [-3.5, -2.5, -1.5, -0.5, 0.5, 1.5, 2.5, 3.5]


def signals(history, rules):
    """history: mids of the last points, oldest first, at most fifteen."""
    last = history[-1]
    if "beyond-limits" in rules and abs(last) > 3:
        return True
    for side in (1, -1):
        h = [side * v for v in history]
        if "two-of-three" in rules and h[-1] > 2 and sum(v > 2 for v in h[-3:]) >= 2:
            return True
        if "four-of-five" in rules and h[-1] > 1 and sum(v > 1 for v in h[-5:]) >= 4:
            return True
        for name, n in (("eight-in-a-row", 8), ("nine-in-a-row", 9)):
            if name in rules and len(h) >= n and all(v > 0 for v in h[-n:]):
                return True
    if "fifteen-inside" in rules and len(history) >= 15 and all(abs(v) < 1 for v in history[-15:]):
        return True
    if "eight-outside" in rules and len(history) >= 8:
        w = history[-8:]
        if all(abs(v) > 1 for v in w) and min(w) < 0 < max(w):
            return True
    return False


def forget(history, rules):
    """What of the past can still matter: as tuple of flags. Runs are cut where they end."""
    h = list(history)
    keep = []
    if "two-of-three" in rules:
        keep.append(tuple(int(np.sign(v)) if abs(v) > 2 else 0 for v in h[-2:]))
    if "four-of-five" in rules:
        keep.append(tuple(int(np.sign(v)) if abs(v) > 1 else 0 for v in h[-4:]))

    def tail(test):
        n = 0
        for v in reversed(h):
            if not test(v):
                break
            n += 1
        return n
    if "eight-in-a-row" in rules or "nine-in-a-row" in rules:
        keep.append((tail(lambda v: v > 0), tail(lambda v: v < 0)))
    if "fifteen-inside" in rules:
        keep.append(tail(lambda v: abs(v) < 1))
    if "eight-outside" in rules:
        n = min(7, tail(lambda v: abs(v) > 1))
        keep.append(tuple(int(np.sign(v)) for v in h[len(h) - n:]))
    return tuple(keep)


def chain(rules):
    start = forget([], rules)
    histories = {start: []}
    order = [start]
    rows = []
    for key in order:
        row = []
        for mid in MID:
            h = (histories[key] + [mid])[-15:]
            if signals(h, rules):
                row.append(-1)
                continue
            k = forget(h, rules)
            if k not in histories:
                histories[k] = h
                order.append(k)
            row.append(order.index(k))
        rows.append(row)
    return rows


def matrix(rows, shift):
    p = [norm.cdf(b - shift) - norm.cdf(a - shift) if b - shift < 0 else norm.sf(a - shift) - norm.sf(b - shift) for a, b in ZONES]
    q = np.zeros((len(rows), len(rows)))
    for i, row in enumerate(rows):
        for zone, j in enumerate(row):
            if j >= 0:
                q[i, j] += p[zone]
    return q


def zone_case(rules, shift):
    rows = chain(rules)
    q0, q = matrix(rows, 0), matrix(rows, shift)
    n = len(rows)
    values, vectors = np.linalg.eig(q0.T)
    k = int(np.argmax(values.real))
    steady = vectors[:, k].real
    steady = steady / steady.sum()
    lengths = np.linalg.solve(np.eye(n) - q, np.ones(n))
    alive = np.zeros(n)
    alive[0] = 1
    survival = [1.0]
    while survival[-1] > 0.04 and len(survival) < 200000:
        alive = alive @ q
        survival.append(float(alive.sum()))
    s = np.array(survival)
    shares = [0.05, 0.1, 0.25, 0.5, 0.75, 0.9, 0.95]
    return {"rules": rules, "shift": shift, "arl": float(lengths[0]), "steadyStateArl": float(steady @ lengths), "falseAlarm": float(1 - values[k].real),
            "percentiles": [int(np.argmax(1 - s >= share)) for share in shares], "survivalAt10": float(s[10]) if len(s) > 10 else None}


def rank_recursion(kind, points):
    """P(no signal within n points), n = 0 .. points: number of orders of n points that avoid the pattern, over n!."""
    most = 5 if kind == "six-in-a-trend" else 13
    # f[d][k] = array over the rank of the last point among n, probability; d = 1 up, 0 down, k steps.
    f = {(0, 0): np.array([1.0])}
    out = [1.0, 1.0]
    for n in range(2, points + 1):
        g = {}
        for (d, k), a in f.items():
            # A new point takes rank r of n with probability 1/n; it is above the last when the last's rank is below r.
            below = np.concatenate([[0.0], np.cumsum(a)])
            for direction, mass in ((1, below), (-1, a.sum() - below)):
                if kind == "six-in-a-trend":
                    steps = k + 1 if d == direction else 1
                else:
                    steps = k + 1 if d == -direction else 1
                if steps >= most:
                    continue
                key = (direction, steps)
                g[key] = g.get(key, 0) + mass / n
        f = g
        out.append(float(sum(a.sum() for a in f.values())))
    return out


def rank_case(kind):
    s = rank_recursion(kind, 700)
    hazard = 1 - s[-1] / s[-2]
    return {"rules": [kind], "arl": float(sum(s[:-1]) + s[-1] / hazard), "falseAlarm": float(hazard), "survival": {str(n): s[n] for n in (6, 14, 20, 50, 100)}}


def by_sight(w, n, rules):
    """w: series x 15 last points, newest last; n: how many points have been taken (the same for all)."""
    fired = np.zeros(len(w), bool)
    last = w[:, -1]
    if "beyond-limits" in rules:
        fired |= np.abs(last) > 3
    for side in (1, -1):
        v = side * w
        if "two-of-three" in rules:
            fired |= (v[:, -1] > 2) & ((v[:, -3:] > 2).sum(1) >= 2)
        if "four-of-five" in rules:
            fired |= (v[:, -1] > 1) & ((v[:, -5:] > 1).sum(1) >= 4)
        for name, length in (("eight-in-a-row", 8), ("nine-in-a-row", 9)):
            if name in rules and n >= length:
                fired |= (v[:, -length:] > 0).all(1)
        if "six-in-a-trend" in rules and n >= 6:
            fired |= (np.diff(v[:, -6:], axis=1) > 0).all(1)
        if "fourteen-alternating" in rules and n >= 14:
            signs = np.sign(np.diff(v[:, -14:], axis=1))
            fired |= (signs * np.where(np.arange(13) % 2 == 0, 1, -1) > 0).all(1)
    if "fifteen-inside" in rules and n >= 15:
        fired |= (np.abs(w) <= 1).all(1)
    if "eight-outside" in rules and n >= 8:
        u = w[:, -8:]
        fired |= (np.abs(u) > 1).all(1) & (u.max(1) > 0) & (u.min(1) < 0)
    return fired


def simulate(rules, shift, series, quiet, rng):
    """Run lengths after `quiet` points in control without a signal (series with one are dropped)."""
    w = np.zeros((series, 15))
    n = 0
    for _ in range(quiet):
        n += 1
        w = np.concatenate([w[:, 1:], rng.standard_normal((len(w), 1))], axis=1)
        w = w[~by_sight(w, n, rules)]
    lengths = np.zeros(0)
    count = 0
    while len(w):
        n += 1
        count += 1
        w = np.concatenate([w[:, 1:], shift + rng.standard_normal((len(w), 1))], axis=1)
        fired = by_sight(w, n, rules)
        lengths = np.concatenate([lengths, np.full(int(fired.sum()), count)])
        w = w[~fired]
    return float(lengths.mean()), float(lengths.std() / math.sqrt(len(lengths)))


def main():
    rng = np.random.default_rng(19840716)
    western = ["beyond-limits", "two-of-three", "four-of-five", "eight-in-a-row"]
    nelson_zones = ["beyond-limits", "nine-in-a-row", "two-of-three", "four-of-five", "fifteen-inside", "eight-outside"]
    nelson = nelson_zones + ["six-in-a-trend", "fourteen-alternating"]
    zone = [zone_case(rules, shift) for rules in (western, nelson_zones, ["nine-in-a-row"], ["two-of-three", "eight-outside"], ["beyond-limits", "fifteen-inside"]) for shift in (0, 0.5, 1, 2)]
    ranks = [rank_case(kind) for kind in ("six-in-a-trend", "fourteen-alternating")]
    simulated = []
    for rules, shift, quiet in ((nelson, 0, 0), (nelson, 1, 0), (nelson, 2, 0), (nelson, 1, 40), (["beyond-limits", "six-in-a-trend"], 1, 0), (["beyond-limits", "six-in-a-trend"], 1.5, 60),
                                (["six-in-a-trend"], 2, 60), (["fourteen-alternating", "eight-in-a-row"], 0.5, 0), (western + ["six-in-a-trend", "fourteen-alternating"], 0.5, 0)):
        mean, error = simulate(rules, shift, 300000 if quiet == 0 else 500000, quiet, rng)
        simulated.append({"rules": rules, "shift": shift, "quiet": quiet, "mean": mean, "standardError": error})
        print(simulated[-1], flush=True)
    with open("run-lengths.json", "w") as file:
        line = lambda rows: "[\n    " + ",\n    ".join(json.dumps(row) for row in rows) + "\n  ]"
        file.write('{\n  "source": "make-run-lengths.py: NumPy %s; zone rules by dense linear solve and eigenvector, trend and alternation by exact recursion over ranks, mixed sets by simulation",\n  "zone": %s,\n  "ranks": %s,\n  "simulated": %s\n}\n' % (np.__version__, line(zone), line(ranks), line(simulated)))


main()
