"""Freezes counting statistics from scipy into src/science/counting/counting.known.json. No chance is used.

Run: python3 test/known/counting.py > src/science/counting/counting.known.json
"""
import json
import math
import sys

import numpy
import scipy
from scipy import optimize, stats

CONFIDENCES = (0.9, 0.95, 0.99)
PAIRS = [(0, 1, 3, 1), (3, 1, 0, 1), (3, 1, 10, 1), (20, 1, 6, 3), (5, 0.25, 2, 1), (11, 800, 21, 3011), (100, 2, 70, 2.5)]
SHARES = [(0, 20), (1, 29), (7, 10), (20, 20), (45, 50), (81, 263), (682, 925)]
BACKGROUNDS = (0.1, 0.5, 1, 2, 3, 5, 10, 20, 50)


def garwood(n, confidence):
    half = (1 - confidence) / 2
    return [0 if n == 0 else stats.chi2.ppf(half, 2 * n) / 2, stats.chi2.isf(half, 2 * n + 2) / 2]


def decision(x, m):
    return next(y for y in range(1, 9999) if stats.binom.sf(y - 1, x + y, 1 / (m + 1)) <= 0.05)


def known_decision(b):
    return next(y for y in range(1, 9999) if stats.poisson.sf(y - 1, b) <= 0.05)


def conditional(k1, e1, k2, e2, side):
    return stats.binomtest(k1, k1 + k2, e1 / (e1 + e2), alternative=side).pvalue


def melded(y, e, x, f, confidence):
    """Melded limits of y/e − x/f by direct integration over both gamma variables."""
    half = (1 - confidence) / 2

    def below(d, up):
        a, b = y + up, x + 1 - up
        if b == 0:
            return 0.0 if d < 0 else (1.0 if a == 0 else stats.gamma.cdf(d * e, a))
        g = lambda u: (1.0 if d + stats.gamma.ppf(u, b) / f >= 0 else 0.0) if a == 0 else stats.gamma.cdf(max(0, d + stats.gamma.ppf(u, b) / f) * e, a)
        u = (numpy.arange(40000) + 0.5) / 40000
        q = stats.gamma.ppf(u, b) / f
        if a == 0:
            return float((d + q >= 0).mean())
        return float(stats.gamma.cdf(numpy.maximum(0, d + q) * e, a).mean())

    reach = 10 * (y / e + x / f + 10 / e + 10 / f)
    return [optimize.brentq(lambda d: below(d, 0) - half, -reach, reach, xtol=1e-7),
            optimize.brentq(lambda d: below(d, 1) - (1 - half), -reach, reach, xtol=1e-7)]


known = {
    "from": f"scipy {scipy.__version__}, numpy {numpy.__version__}; script test/known/counting.py, no chance used",
    "garwood": [[n, c, *garwood(n, c)] for n in [0, 1, 2, 5, 17, 100, 2500] for c in CONFIDENCES],
    "decision": [[x, m, decision(x, m)] for x in [0, 1, 2, 3, 5, 10, 20, 75] for m in [0.5, 1, 2, 3, 5, 10]],
    "knownDecision": [[b, known_decision(b)] for b in BACKGROUNDS],
    "knownDetection": [[b, known_decision(b), optimize.brentq(lambda s: stats.poisson.sf(known_decision(b) - 1, b + s) - 0.95, 0, 500)] for b in BACKGROUNDS],
    "conditional": [[*p, *[conditional(*p, s) for s in ("greater", "less", "two-sided")]] for p in PAIRS],
    "eTest": [[*p, *[stats.poisson_means_test(p[0], p[1], p[2], p[3], alternative=s).pvalue for s in ("greater", "less", "two-sided")]] for p in PAIRS],
    "wilson": [[k, n, c, *stats.binomtest(k, n).proportion_ci(c, "wilson")] for k, n in SHARES for c in CONFIDENCES],
    "wilsonContinuity": [[k, n, c, *stats.binomtest(k, n).proportion_ci(c, "wilsoncc")] for k, n in SHARES for c in CONFIDENCES],
    "clopperPearson": [[k, n, c, *stats.binomtest(k, n).proportion_ci(c, "exact")] for k, n in SHARES for c in CONFIDENCES],
    "melded": [[*p, *melded(*p, 0.95)] for p in [(7, 1, 3, 1), (20, 1, 6, 3), (0, 1, 4, 2), (5, 0.5, 0, 1), (40, 2, 90, 4)]],
    "permutation": [],
}
for first, second in [([5, 7, 9, 4], [1, 2, 6, 3]), ([12, 3, 8], [2, 2, 9, 1, 0])]:
    result = stats.permutation_test((first, second), lambda a, b: numpy.mean(a) - numpy.mean(b), alternative="greater", n_resamples=math.inf)
    known["permutation"].append([first, second, float(result.pvalue)])


def plain(v):
    if isinstance(v, (list, tuple)):
        return [plain(x) for x in v]
    if isinstance(v, dict):
        return {k: plain(x) for k, x in v.items()}
    return float(v) if isinstance(v, numpy.floating) else v


json.dump(plain(known), sys.stdout, indent=1)
print()
