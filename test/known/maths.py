"""Freezes special-function values from scipy into src/science/maths/maths.known.json. No chance is used.

Run: python3 test/known/maths.py > src/science/maths/maths.known.json
"""
import json
import warnings

import numpy
import scipy
from scipy import special, stats

warnings.simplefilter("ignore")
tails = [1e-12, 1e-8, 1e-4, 0.025, 0.1, 0.5, 0.9, 0.975, 0.9999]
known = {
    "from": f"scipy {scipy.__version__}, numpy {numpy.__version__}; script test/known/maths.py, no chance used",
    "lnGamma": [[x, special.gammaln(x)] for x in [1e-5, 0.01, 0.5, 1.5, 2.5, 3, 7.25, 9.99, 10, 100.5, 12345.6, 1e8]],
    "digamma": [[x, special.digamma(x)] for x in [0.01, 0.5, 1, 2.5, 9, 40, 1e5]],
    "trigamma": [[x, float(special.polygamma(1, x))] for x in [0.01, 0.5, 1, 2.5, 9, 40, 1e5]],
    "gammaUpper": [[a, x, special.gammaincc(a, x)] for a in [0.01, 0.5, 1, 3.5, 20, 500, 1e4, 1e5]
                   for x in [a * 0.5, a * 0.9, a, a * 1.01, a * 1.2 + 1, a + 5 * a ** 0.5] if special.gammaincc(a, x) > 1e-200],
    "gammaLower": [[a, x, special.gammainc(a, x)] for a in [0.01, 0.5, 1, 3.5, 20, 500, 1e4, 1e5]
                   for x in [a * 0.3, a * 0.7, a * 0.95, a, a * 1.1] if special.gammainc(a, x) > 1e-200],
    "gammaQuantile": [[a, p, stats.gamma.ppf(p, a)] for a in [0.05, 0.5, 1, 2.5, 17, 300, 1000, 2e4, 1e5] for p in tails
                      if stats.gamma.ppf(p, a) > 1e-200],
    "betaLower": [[a, b, x, special.betainc(a, b, x)] for a, b in [(0.5, 0.5), (1, 3), (2.5, 7), (30, 4), (200, 300), (3, 1e5)]
                  for x in [1e-5, 0.01, 0.1, 0.4, 0.7, 0.99] if special.betainc(a, b, x) > 1e-200],
    "betaQuantile": [[a, b, p, stats.beta.ppf(p, a, b)] for a, b in [(0.5, 0.5), (1, 3), (2.5, 7), (30, 4), (200, 300), (3, 1e5)] for p in tails],
    "normalCdf": [[z, float(special.ndtr(z))] for z in [-37, -20, -8, -3, -1, -0.1, 0, 0.1, 1, 2.5, 6]],
    "normalQuantile": [[p, float(special.ndtri(p))] for p in [1e-300, 1e-30] + tails],
    "studentUpper": [[t, v, stats.t.sf(t, v)] for t in [-1, 0, 0.5, 2, 10] for v in [1, 2, 9, 30.5]],
    "poisson": [[k, m, stats.poisson.logpmf(k, m), stats.poisson.cdf(k, m), stats.poisson.sf(k - 1, m)]
                for k, m in [(0, 0.3), (3, 0.1), (5, 5), (12, 4), (100, 81.4), (10000, 10000), (9500, 10000)]],
    "binomial": [[k, n, p, stats.binom.logpmf(k, n, p), stats.binom.cdf(k, n, p), stats.binom.sf(k - 1, n, p)]
                 for k, n, p in [(0, 5, 0.3), (5, 5, 0.3), (3, 10, 0.5), (40, 100, 0.25), (700, 1000, 0.7), (20, 26, 0.25)]],
    "negativeBinomial": [[k, m, s, stats.nbinom.logpmf(k, s, s / (s + m)), stats.nbinom.cdf(k, s, s / (s + m)), stats.nbinom.sf(k - 1, s, s / (s + m))]
                         for k, m, s in [(0, 2, 0.5), (4, 2, 0.5), (10, 5, 2), (3, 8, 40), (300, 200, 3.3)]],
}


def plain(v):
    if isinstance(v, (list, tuple)):
        return [plain(x) for x in v]
    if isinstance(v, dict):
        return {k: plain(x) for k, x in v.items()}
    return float(v) if isinstance(v, numpy.floating) else v


print(json.dumps(plain(known), indent=1))
