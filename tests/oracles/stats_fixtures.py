"""Fixtures from scipy and numpy for the tests of distributions and intervals: writes stats_fixtures.json.

Every number is reached in two ways and the script stops where they differ: moments from scipy's closed forms against
numerical integration of the density, quantiles against the distribution function, intervals against their own
definition. Figures printed elsewhere are from memory of the source named beside them, to the digits given.

    python stats_fixtures.py
"""

import datetime
import json
import math
import pathlib
import platform

import numpy
import scipy
from scipy import integrate, optimize, special, stats

QUANTILES = (0.05, 0.5, 0.95)


def same(seen, expected, within, what):
    # written so that a NaN fails too
    if not abs(seen - expected) <= within * max(1.0, abs(expected)):
        raise SystemExit(f"{what}: {seen} against {expected}")


def lognormal(mean, cv):
    sigma = math.sqrt(math.log1p(cv * cv))
    mu = math.log(mean) - sigma * sigma / 2
    return stats.lognorm(sigma, scale=math.exp(mu)), {"mu": mu, "sigma": sigma}


def gamma(mean, cv):
    shape = 1 / (cv * cv)
    return stats.gamma(shape, scale=mean / shape), {"shape": shape, "scale": mean / shape}


def weibull(mean, cv):
    def excess(shape):
        return math.exp(special.gammaln(1 + 2 / shape) - 2 * special.gammaln(1 + 1 / shape)) - 1 - cv * cv

    shape = optimize.brentq(excess, 0.1, 100, xtol=1e-15, rtol=1e-15)
    scale = mean / special.gamma(1 + 1 / shape)
    return stats.weibull_min(shape, scale=scale), {"shape": shape, "scale": float(scale)}


def normal_cut_at_zero(underlying_mean, underlying_sd):
    kept = stats.norm.sf(0, underlying_mean, underlying_sd)
    cut = stats.truncnorm(-underlying_mean / underlying_sd, math.inf, underlying_mean, underlying_sd)
    # Johnson, Kotz and Balakrishnan, Continuous Univariate Distributions 1, from memory
    a = -underlying_mean / underlying_sd
    ratio = stats.norm.pdf(a) / stats.norm.sf(a)
    same(cut.mean(), underlying_mean + underlying_sd * ratio, 1e-10, "cut normal mean")
    same(cut.var(), underlying_sd**2 * (1 + a * ratio - ratio**2), 1e-10, "cut normal variance")
    return cut, {"share_kept": float(kept)}


def triangular(low, mode, high):
    return stats.triang((mode - low) / (high - low), low, high - low), {}


def pert(low, mode, high):
    alpha = 1 + 4 * (mode - low) / (high - low)
    beta = 1 + 4 * (high - mode) / (high - low)
    return stats.beta(alpha, beta, low, high - low), {"alpha": alpha, "beta": beta}


def uniform(low, high):
    return stats.uniform(low, high - low), {}


def exponential(mean):
    return stats.expon(scale=mean), {}


DISTRIBUTIONS = (
    ("lognormal", lognormal, {"mean": 27.0, "cv": 0.35}),
    ("gamma", gamma, {"mean": 2.0, "cv": 0.75}),
    ("weibull", weibull, {"mean": 3.0, "cv": 0.5}),
    ("normal_cut_at_zero", normal_cut_at_zero, {"underlying_mean": 10.0, "underlying_sd": 4.0}),
    # a cut that bites: about a sixth of the underlying normal lies below zero
    ("normal_cut_at_zero", normal_cut_at_zero, {"underlying_mean": 2.0, "underlying_sd": 2.0}),
    ("triangular", triangular, {"low": 0.5, "mode": 0.8, "high": 1.7}),
    ("pert", pert, {"low": 2.0, "mode": 5.0, "high": 11.0}),
    ("uniform", uniform, {"low": 2.0, "high": 5.0}),
    ("exponential", exponential, {"mean": 4.2}),
)


def integral(law, of):
    """Expectation by adaptive integration of the density, piece by piece between quantiles (kinks at the mode too)."""
    knots = [law.ppf(p) for p in (0, 1e-12, 1e-6, 0.01, 0.1, 0.25, 0.5, 0.75, 0.9, 0.99, 1 - 1e-6, 1 - 1e-12)]
    knots = [k for k in knots if math.isfinite(k)] + [min(law.ppf(1), law.isf(1e-30))]
    return sum(
        integrate.quad(lambda x: of(x) * law.pdf(x), a, b, epsabs=1e-14, epsrel=1e-12, limit=500)[0]
        for a, b in zip(knots, knots[1:])
        if b > a
    )


def distributions():
    out = []
    for name, build, given in DISTRIBUTIONS:
        law, derived = build(**given)
        mean, variance = float(law.mean()), float(law.var())
        same(integral(law, lambda x: 1.0), 1.0, 1e-9, f"{name} density")
        same(integral(law, lambda x: x), mean, 1e-9, f"{name} mean")
        same(integral(law, lambda x: (x - mean) ** 2), variance, 1e-8, f"{name} variance")
        if "mean" in given:
            same(mean, given["mean"], 1e-12, f"{name} stated mean")
        if "cv" in given:
            same(math.sqrt(variance) / mean, given["cv"], 1e-12, f"{name} stated cv")
        quantiles = []
        for p in QUANTILES:
            x = float(law.ppf(p))
            same(law.cdf(x), p, 1e-12, f"{name} quantile {p}")
            quantiles.append({"p": p, "x": x})
        out.append(
            {"law": name, "given": given, "derived": derived, "mean": mean, "variance": variance, "quantiles": quantiles}
        )
    return out


# (k, n, level, limits printed elsewhere)
NEWCOMBE = "from memory of Newcombe 1998, Statistics in Medicine 17, 857-872, table I, score method"
WILSON = (
    (81, 263, 0.95, (0.2553, 0.3662)),
    (15, 148, 0.95, (0.0624, 0.1605)),
    (0, 20, 0.95, (0.0000, 0.1611)),
    (1, 29, 0.95, (0.0061, 0.1718)),
    (0, 1, 0.95, None),
    (1, 1, 0.95, None),
    (9, 10, 0.95, None),
    (10, 10, 0.95, None),
    (0, 200, 0.95, None),
    (1, 200, 0.95, None),
    (100, 200, 0.95, None),
    (190, 200, 0.95, None),
    (200, 200, 0.95, None),
    (953, 1000, 0.95, None),
    (190, 200, 0.99, None),
    (0, 200, 0.99, None),
    (20, 30, 0.90, None),
)


def wilson():
    out = []
    for k, n, level, printed in WILSON:
        ci = stats.binomtest(k, n).proportion_ci(confidence_level=level, method="wilson")
        low, high = float(ci.low), float(ci.high)
        z = stats.norm.ppf(0.5 + level / 2)
        for limit, end in ((low, 0), (high, n)):
            # the definition: the score statistic at the limit equals z; at k = 0 or n one limit is the end itself
            if k == end:
                same(limit, end / n, 1e-12, f"wilson {k}/{n} end")
            else:
                score = abs(k / n - limit) / math.sqrt(limit * (1 - limit) / n)
                same(score, z, 1e-9, f"wilson {k}/{n} score")
        row = {"k": k, "n": n, "level": level, "low": low, "high": high}
        if printed:
            same(low, printed[0], 5.1e-5, f"wilson {k}/{n} printed")
            same(high, printed[1], 5.1e-5, f"wilson {k}/{n} printed")
            row |= {"printed": list(printed), "source": NEWCOMBE}
        out.append(row)
    return out


T_FREEDOM = (1, 2, 3, 4, 9, 19, 29, 39, 99, 199, 999, 1999)
T_PROBABILITIES = (0.9, 0.95, 0.975, 0.995, 0.9995)
T_SOURCE = "from memory of the usual printed tables of Student's t, three decimals"
T_PRINTED = {(1, 0.975): 12.706, (4, 0.975): 2.776, (9, 0.975): 2.262, (19, 0.975): 2.093, (29, 0.95): 1.699}


def student_t():
    out = []
    for freedom in T_FREEDOM:
        for p in T_PROBABILITIES:
            t = float(stats.t.ppf(p, freedom))
            # the upper tail as an incomplete beta function
            tail = special.betainc(freedom / 2, 0.5, freedom / (freedom + t * t)) / 2
            same(float(tail), 1 - p, 1e-12, f"t {freedom} {p}")
            row = {"freedom": freedom, "p": p, "t": t}
            if (freedom, p) in T_PRINTED:
                same(t, T_PRINTED[freedom, p], 2e-4, f"t {freedom} {p} printed")
                row |= {"printed": T_PRINTED[freedom, p], "source": T_SOURCE}
            out.append(row)
    return out


RANK_SIZES = (2, 5, 6, 10, 20, 40, 59, 71, 72, 100, 200, 1000, 2000)
RANK_MEANING = (
    "interval from the low-th to the high-th smallest of n values (1 is the smallest) for the quantile p; each tail at "
    "most (1 - level) / 2: low is the largest rank with P(B < low) <= tail, high the smallest with P(B >= high) <= "
    "tail, B binomial(n, p); null where no rank of the sample will do; coverage P(low <= B < high), null unless both "
    "ranks exist; for a continuous law"
)
RANK_SOURCE = "from memory of the usual printed tables of the sign-test interval for a median"
RANKS_PRINTED = {(6, 0.5): (1, 6), (10, 0.5): (2, 9), (20, 0.5): (6, 15), (100, 0.5): (40, 61)}


def ranks_of(n, p, level):
    tail = (1 - level) / 2
    below = numpy.array([stats.binom.cdf(rank - 1, n, p) for rank in range(1, n + 1)])
    at_least = numpy.array([stats.binom.sf(rank - 1, n, p) for rank in range(1, n + 1)])
    # a tail met exactly would hang on the last bit: no fixture for it
    if min(abs(below - tail).min(), abs(at_least - tail).min()) < 1e-9:
        raise SystemExit(f"ranks {n} {p} {level}: a tie")
    low, high = numpy.flatnonzero(below <= tail), numpy.flatnonzero(at_least <= tail)
    return (int(low[-1]) + 1 if len(low) else None), (int(high[0]) + 1 if len(high) else None)


def order_statistics():
    out = []
    for level in (0.90, 0.95, 0.99):
        for n in RANK_SIZES:
            for p in QUANTILES:
                low, high = ranks_of(n, p, level)
                coverage = None
                if low and high:
                    coverage = float(stats.binom.cdf(high - 1, n, p) - stats.binom.cdf(low - 1, n, p))
                    direct = math.fsum(stats.binom.pmf(range(low, high), n, p))
                    same(direct, coverage, 1e-11, f"ranks {n} {p}")
                    same(min(coverage, level), level, 1e-12, f"coverage {n} {p}")
                row = {"n": n, "p": p, "level": level, "low": low, "high": high, "coverage": coverage}
                if level == 0.95 and (n, p) in RANKS_PRINTED:
                    if (low, high) != RANKS_PRINTED[n, p]:
                        raise SystemExit(f"ranks {n} {p}: {low}, {high}")
                    row |= {"printed": list(RANKS_PRINTED[n, p]), "source": RANK_SOURCE}
                out.append(row)
    return out


def fewest_for_both_ranks():
    out = []
    for level in (0.90, 0.95, 0.99):
        for p in QUANTILES:
            n = next(n for n in range(2, 1000) if None not in ranks_of(n, p, level))
            # both ends exist when neither "all below" nor "all above" is likelier than one tail
            expected = math.ceil(math.log((1 - level) / 2) / math.log(max(p, 1 - p)))
            same(n, expected, 0, f"fewest {p} {level}")
            out.append({"p": p, "level": level, "n": n})
    return out


def main():
    found = {
        "what": "outside figures for the tests of distributions and intervals",
        "library": f"scipy {scipy.__version__}",
        "numpy": numpy.__version__,
        "python": platform.python_version(),
        "date": datetime.date.today().isoformat(),
        "distributions": distributions(),
        "wilson": wilson(),
        "student_t": student_t(),
        "order_statistic_meaning": RANK_MEANING,
        "order_statistics": order_statistics(),
        "order_statistics_fewest_for_both_ranks": fewest_for_both_ranks(),
    }
    pathlib.Path(__file__).with_suffix(".json").write_text(json.dumps(found, indent=2) + "\n")


if __name__ == "__main__":
    main()
