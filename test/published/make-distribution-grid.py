"""Writes distribution-grid.json: t, F, noncentral t, gamma, beta, binomial, hypergeometric, Poisson, Weibull, lognormal,
digamma and trigamma to 17 digits, by mpmath at 34 digits. Cumulative counts are plain sums of terms, the noncentral t
is the series in incomplete betas (Johnson, Kotz & Balakrishnan 1995, vol. 2, ch. 31), quantiles are bracketed roots.

Run by hand: python3 test/published/make-distribution-grid.py  (needs mpmath; tests read the file it wrote).
"""
import json
import pathlib

import mpmath as m

m.mp.dps = 34


def digits(value):
    return float(m.nstr(value, 17))


def ibeta(a, b, x):
    """Regularised incomplete beta by its continued fraction, Abramowitz & Stegun 1964, 26.5.8, on the short side."""
    a, b, x = m.mpf(a), m.mpf(b), m.mpf(x)
    if x > (a + 1) / (a + b + 2):
        return 1 - ibeta(b, a, 1 - x)
    # Forward recurrence of convergents, which shares no step with the code that is checked.
    front = m.exp(a * m.log(x) + b * m.log1p(-x) - m.log(a) + m.loggamma(a + b) - m.loggamma(a) - m.loggamma(b))
    before, now, below, bottom = m.mpf(1), m.mpf(1), m.mpf(0), m.mpf(1)
    last, j = m.mpf(0), 1
    while True:
        k = j // 2
        d = k * (b - k) * x / ((a + j - 1) * (a + j)) if j % 2 == 0 else -(a + k) * (a + b + k) * x / ((a + j - 1) * (a + j))
        before, now = now, now + d * before
        below, bottom = bottom, bottom + d * below
        if j % 2 == 0:
            if abs(bottom / now - last) <= abs(last) * m.mpf(10) ** -32:
                return front * bottom / now
            last = bottom / now
        j += 1


def beta_cdf(x, a, b):
    return ibeta(a, b, x)


def beta_upper(x, a, b):
    return ibeta(b, a, 1 - m.mpf(x))


def t_upper(t, nu):
    t, nu = m.mpf(t), m.mpf(nu)
    if t == 0:
        return m.mpf(0.5)
    half = ibeta(nu / 2, 0.5, nu / (nu + t * t)) / 2
    return half if t >= 0 else 1 - half


def f_upper(f, a, b):
    f, a, b = m.mpf(f), m.mpf(a), m.mpf(b)
    return ibeta(b / 2, a / 2, b / (b + a * f))


def f_cdf(f, a, b):
    f, a, b = m.mpf(f), m.mpf(a), m.mpf(b)
    return ibeta(a / 2, b / 2, a * f / (b + a * f))


def gamma_lower(a, x):
    return m.gammainc(m.mpf(a), 0, m.mpf(x), regularized=True)


def gamma_upper(a, x):
    return m.gammainc(m.mpf(a), m.mpf(x), m.inf, regularized=True)


def noncentral_t(t, nu, delta):
    t, nu, delta = m.mpf(t), m.mpf(nu), m.mpf(delta)
    if t < 0:
        return 1 - noncentral_t(-t, nu, -delta)
    x = t * t / (t * t + nu)
    half = delta * delta / 2
    total, scale = m.mpf(0), m.exp(-half)
    p, q = scale, scale * delta / (m.sqrt(2) * m.gamma(1.5))
    for j in range(4000):
        total += p * ibeta(j + 0.5, nu / 2, x) + q * ibeta(j + 1, nu / 2, x)
        p *= half / (j + 1)
        q *= half / (j + m.mpf(1.5))
        if j > half and p + abs(q) < m.mpf(10) ** -25:
            break
    return m.erfc(delta / m.sqrt(2)) / 2 + total / 2


def bisected(cdf, p, low, high):
    """Bisection until the root is enclosed within a tenth, then the Anderson-Bjorck regula falsi, which never leaves its bracket."""
    low, high, p = m.mpf(low), m.mpf(high), m.mpf(p)
    while high - low > (abs(low) + abs(high)) / 20:
        x = m.sqrt(low * high) if low > 0 else (low + high) / 2
        if cdf(x) < p:
            low = x
        else:
            high = x
    return m.findroot(lambda x: cdf(x) - p, (low, high), solver="anderson", tol=m.mpf(10) ** -50, verify=False)


def t_quantile(p, nu):
    outside = min(m.mpf(p), 1 - m.mpf(p))
    size = bisected(lambda x: -t_upper(x, nu), -outside, m.mpf(10) ** -20, m.mpf(10) ** 12)
    return -size if p < 0.5 else size


def binomial_pmf(k, n, p):
    return m.binomial(n, k) * m.mpf(p) ** k * (1 - m.mpf(p)) ** (n - k)


def hypergeometric_pmf(k, lot, marked, n):
    return m.binomial(marked, k) * m.binomial(lot - marked, n - k) / m.binomial(lot, n)


def poisson_pmf(k, mean):
    return m.exp(-m.mpf(mean)) * m.mpf(mean) ** k / m.factorial(k)


T_NU = [1, 2, 2.5, 5, 9.3, 30, 120, 1000, 1e5]
T = [-40, -4.5, -1, -0.01, 0.3, 1.96, 3, 12, 60]
P = [1e-10, 1e-4, 0.00135, 0.025, 0.1, 0.4, 0.6, 0.9, 0.975, 0.999]
F = [[1, 1], [1, 20], [2, 7.5], [4, 10], [9.4, 3], [30, 60], [120, 2], [500, 800]]
FX = [0.01, 0.5, 1, 2.5, 10, 80]
NT = [[2, 1, 0], [1, 5, 2], [3, 9, 2.5], [-1, 9, 1], [-2, 4, -3], [10, 20, 8], [15.5, 29, 12], [6, 49, 5.5], [30, 3, 10], [1.7, 200, 1.7], [25, 1000, 26], [0.5, 2, 0.1]]
NTQ = [[0.95, 9, 4.1], [0.05, 9, 4.1], [0.5, 29, 16.4], [0.99, 4, 2.2], [0.9, 99, 13.3], [0.025, 19, -2]]
GAMMA = [[0.3, 1], [0.3, 0.001], [1, 5], [2.5, 0.4], [2.5, 9], [20, 4], [20, 60], [150, 120], [150, 260], [3000, 3100], [1e5, 99000]]
BETA = [[0.001, 0.5, 0.5], [0.3, 0.5, 20], [0.02, 2, 200], [0.5, 12, 7.5], [0.9, 12, 7.5], [0.97, 40, 3], [0.4, 300, 500], [0.25, 1, 30], [0.6, 5000, 3000]]
BINOMIAL = [[0, 10, 0.1], [3, 20, 0.2], [19, 20, 0.5], [0, 59, 0.05], [2, 125, 0.01], [5, 200, 0.065], [40, 100, 0.25], [13, 1000, 0.004], [450, 1000, 0.5], [20, 5000, 1e-3], [999, 1000, 0.999]]
HYPER = [[0, 50, 5, 10], [1, 50, 5, 10], [3, 100, 12, 20], [0, 1000, 8, 80], [2, 1200, 30, 125], [7, 300, 40, 50], [40, 500, 200, 90], [5, 20000, 100, 800], [9, 12, 10, 10]]
POISSON = [[0, 0.05], [3, 1.25], [2, 4], [9, 4], [20, 10], [0, 30], [60, 30], [110, 100], [1050, 1000]]
WEIBULL = [[1e-6, 2, 3], [1, 0.7, 4], [3, 2.5, 3.3], [10, 3.6, 8], [40, 1.2, 5]]
LOGNORMAL = [[0.01, 0, 1], [1.5, 0.4, 0.25], [9, 2, 0.1], [300, 1, 2], [2e-4, -1, 1.3]]


document = {
    "source": "mpmath, 34 digits, written out with 17; see make-distribution-grid.py",
    "studentT": [[t, nu, digits(t_upper(t, nu)), digits(t_upper(-t, nu))] for nu in T_NU for t in T],
    "studentTQuantile": [[p, nu, digits(t_quantile(p, nu))] for nu in T_NU for p in P],
    "f": [[f, a, b, digits(f_cdf(f, a, b)), digits(f_upper(f, a, b))] for a, b in F for f in FX],
    "fQuantile": [[p, a, b, digits(bisected(lambda x: f_cdf(x, a, b), p, m.mpf(10) ** -25, m.mpf(10) ** 12))] for a, b in F for p in [0.001, 0.05, 0.5, 0.95, 0.99]],
    "noncentralT": [[t, nu, delta, digits(noncentral_t(t, nu, delta))] for t, nu, delta in NT],
    "noncentralTQuantile": [[p, nu, delta, digits(bisected(lambda x: noncentral_t(x, nu, delta), p, -60, 80))] for p, nu, delta in NTQ],
    "gamma": [[a, x, digits(gamma_lower(a, x)), digits(gamma_upper(a, x))] for a, x in GAMMA],
    "gammaQuantile": [[p, shape, scale, digits(scale * bisected(lambda x: gamma_lower(shape, x), p, m.mpf(10) ** -40, m.mpf(10) ** 5))] for shape, scale in [[0.3, 2], [1, 0.5], [2.5, 7], [40, 0.01], [900, 3]] for p in [0.00135, 0.1, 0.5, 0.9, 0.99865]],
    "beta": [[x, a, b, digits(beta_cdf(x, a, b)), digits(beta_upper(x, a, b))] for x, a, b in BETA],
    "betaQuantile": [[p, a, b, digits(bisected(lambda x: beta_cdf(x, a, b), p, m.mpf(10) ** -40, 1))] for a, b in [[0.5, 0.5], [1, 30], [3, 48], [12, 7.5], [200, 5]] for p in [0.001, 0.025, 0.5, 0.975]],
    "binomial": [[k, n, p, digits(binomial_pmf(k, n, p)), digits(sum(binomial_pmf(i, n, p) for i in range(k + 1))), digits(sum(binomial_pmf(i, n, p) for i in range(k + 1, n + 1)))] for k, n, p in BINOMIAL],
    "hypergeometric": [[k, lot, marked, n, digits(hypergeometric_pmf(k, lot, marked, n)), digits(sum(hypergeometric_pmf(i, lot, marked, n) for i in range(k + 1)))] for k, lot, marked, n in HYPER],
    "poisson": [[k, mean, digits(poisson_pmf(k, mean)), digits(sum(poisson_pmf(i, mean) for i in range(k + 1))), digits(sum(poisson_pmf(i, mean) for i in range(k + 1, k + 2000)))] for k, mean in POISSON],
    "weibull": [[x, shape, scale, digits(-m.expm1(-((m.mpf(x) / m.mpf(scale)) ** m.mpf(shape))))] for x, shape, scale in WEIBULL],
    "weibullQuantile": [[p, shape, scale, digits(m.mpf(scale) * (-m.log1p(-m.mpf(p))) ** (1 / m.mpf(shape)))] for _x, shape, scale in WEIBULL for p in [1e-6, 0.00135, 0.5, 0.99865]],
    "lognormal": [[x, mu, sigma, digits(m.erfc(-(m.log(m.mpf(x)) - m.mpf(mu)) / (m.mpf(sigma) * m.sqrt(2))) / 2)] for x, mu, sigma in LOGNORMAL],
    "lognormalQuantile": [[p, mu, sigma, digits(m.exp(m.mpf(mu) - m.mpf(sigma) * m.sqrt(2) * m.erfinv(1 - 2 * m.mpf(p))))] for _x, mu, sigma in LOGNORMAL for p in [1e-6, 0.00135, 0.5, 0.99865]],
    "polygamma": [[x, digits(m.digamma(m.mpf(x))), digits(m.polygamma(1, m.mpf(x)))] for x in [0.01, 0.3, 1, 1.4616, 2.5, 7, 40, 1e4]],
    "normalFarTail": [[z, digits(m.erfc(m.mpf(z) / m.sqrt(2)) / 2)] for z in [7, 9, 11, 13, 15, 17, 19, 22, 25, 28, 31, 33, 35, 36, 37, 37.5]],
}


def written(rows):
    return "[\n" + ",\n".join("    " + json.dumps(row) for row in rows) + "\n  ]"


lines = [f"  {json.dumps(key)}: {json.dumps(value) if isinstance(value, str) else written(value)}" for key, value in document.items()]
pathlib.Path(__file__).with_name("distribution-grid.json").write_text("{\n" + ",\n".join(lines) + "\n}\n")
