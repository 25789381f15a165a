"""Answers questions about distributions and tests with scipy. Reads lines "name,arg,arg…", writes one line of numbers each."""
import sys
import warnings

import numpy
from scipy import special, stats

warnings.simplefilter("ignore")
SIDES = ("greater", "less", "two-sided")


def permutation(first, second):
    result = stats.permutation_test((first, second), lambda a, b: numpy.mean(a) - numpy.mean(b), alternative="greater", n_resamples=numpy.inf)
    return [result.pvalue]


def mean_gap(a):
    n = int(a[0])
    return permutation(a[1:n + 1], a[n + 1:])


def e_test(k1, e1, k2, e2):
    """Krishnamoorthy and Thomson's sum. scipy's poisson_means_test loses outcomes that tie with the one seen (even the one
    seen itself) to rounding, so the sum is written out here over scipy's chances, with ties kept."""
    rate = (k1 + k2) / (e1 + e2)
    ranges = [numpy.arange(stats.poisson.ppf(1e-15, rate * e), stats.poisson.isf(1e-15, rate * e) + 2) for e in (e1, e2)]
    x1, x2 = numpy.meshgrid(*ranges, indexing="ij")
    chance = stats.poisson.pmf(x1, rate * e1) * stats.poisson.pmf(x2, rate * e2)

    def far(a, b):
        return (a / e1 - b / e2) / numpy.sqrt(a / e1 ** 2 + b / e2 ** 2)

    seen = far(k1, k2)
    t = far(x1, x2)
    slack = 1e-11 * abs(seen)
    return [float(chance[hit].sum()) for hit in (t >= seen - slack, t <= seen + slack, abs(t) >= abs(seen) - slack)]


ANSWERS = {
    "lnGamma": lambda a: [special.gammaln(a[0])],
    "gammaUpper": lambda a: [special.gammaincc(a[0], a[1])],
    "gammaQuantile": lambda a: [stats.gamma.ppf(a[1], a[0])],
    "betaLower": lambda a: [special.betainc(a[0], a[1], a[2])],
    "betaQuantile": lambda a: [stats.beta.ppf(a[2], a[0], a[1])],
    "normalQuantile": lambda a: [special.ndtri(a[0])],
    "studentUpperQuantile": lambda a: [stats.t.isf(a[0], a[1])],
    "garwood": lambda a: [0 if a[0] == 0 else stats.chi2.ppf((1 - a[1]) / 2, 2 * a[0]) / 2, stats.chi2.isf((1 - a[1]) / 2, 2 * a[0] + 2) / 2],
    "conditional": lambda a: [stats.binomtest(int(a[0]), int(a[0] + a[2]), a[1] / (a[1] + a[3]), alternative=s).pvalue for s in SIDES],
    "eTest": lambda a: e_test(*a),
    "wilson": lambda a: list(stats.binomtest(int(a[0]), int(a[1])).proportion_ci(a[2], "wilson")),
    "wilsonContinuity": lambda a: list(stats.binomtest(int(a[0]), int(a[1])).proportion_ci(a[2], "wilsoncc")),
    "clopperPearson": lambda a: list(stats.binomtest(int(a[0]), int(a[1])).proportion_ci(a[2], "exact")),
    "permutation": mean_gap,
    "negativeBinomial": lambda a: [stats.nbinom.logpmf(a[0], a[2], a[2] / (a[2] + a[1])), stats.nbinom.cdf(a[0], a[2], a[2] / (a[2] + a[1]))],
    "hypergeometric": lambda a: [stats.hypergeom.logpmf(a[0], a[1], a[2], a[3])],
}

for line in sys.stdin:
    name, *args = line.strip().split(",")
    if name in ANSWERS:
        print(",".join(repr(float(x)) for x in ANSWERS[name]([float(x) for x in args])))
    else:
        print("unknown")
