"""Fixtures for the tests of paired comparisons, running verdicts and spread points: writes paired_fixtures.json.

Tango's interval is found here from its definition, by maximising the likelihood of the three-way law numerically, without
the closed root of the quadratic that the program uses. The confidence sequence is found by root search on scipy's
binomial law; its error at all looks together is summed exactly. Sobol's points are scipy's (direction numbers of Joe and
Kuo 2008), unscrambled.

    python paired_fixtures.py
"""

import datetime
import json
import pathlib
import platform

import numpy
import scipy
from scipy import optimize, stats


def tango_score(b, c, n, d):
    """Score statistic of the paired difference d; the share of c most likely under d by bounded search."""
    low, high = max(0.0, -d), (1.0 - d) / 2.0

    def minus_log_likelihood(q):
        p = q + d
        rest = 1.0 - p - q
        out = 0.0
        for count, share in ((b, p), (c, q), (n - b - c, rest)):
            if count > 0:
                if share <= 0.0:
                    return 1e300
                out -= count * numpy.log(share)
        return out

    found = optimize.minimize_scalar(minus_log_likelihood, bounds=(low, high), method="bounded", options={"xatol": 1e-13})
    q = min((found.x, low, high), key=minus_log_likelihood)
    variance = n * (2.0 * q + d * (1.0 - d))
    return (b - c - n * d) / numpy.sqrt(variance)


def tango(b, c, n, level):
    z = stats.norm.ppf(0.5 + level / 2.0)
    middle = (b - c) / n
    low = optimize.brentq(lambda d: tango_score(b, c, n, d) - z, -1.0 + 1e-9, middle - 1e-12)
    high = optimize.brentq(lambda d: tango_score(b, c, n, d) + z, middle + 1e-12, 1.0 - 1e-9)
    return [low, high]


def sequence(k, n, level):
    """Confidence sequence of the uniform mixture: where the binomial law is above (1 - level) / (n + 1)."""
    bar = numpy.log((1.0 - level) / (n + 1.0))

    def gap(p):
        return stats.binom.logpmf(k, n, p) - bar

    low = 0.0 if k == 0 else optimize.brentq(gap, 1e-300, k / n, xtol=1e-15)
    high = 1.0 if k == n else optimize.brentq(gap, k / n, 1.0 - 1e-16, xtol=1e-15)
    return [low, high]


def error_at_any_look(p, last, level):
    """Probability that the sequence misses p at any of the first `last` trials, summed over all paths."""
    alive = {0: 1.0}
    missed = 0.0
    for n in range(1, last + 1):
        following = {}
        for k, chance in alive.items():
            for step, share in ((0, 1.0 - p), (1, p)):
                following[k + step] = following.get(k + step, 0.0) + chance * share
        alive = {}
        for k, chance in following.items():
            if stats.binom.logpmf(k, n, p) > numpy.log((1.0 - level) / (n + 1.0)):
                alive[k] = chance
            else:
                missed += chance
    return missed


def main():
    pairs = [(9, 2, 30), (12, 2, 50), (0, 1, 44), (1, 0, 200), (20, 20, 200), (30, 5, 200), (150, 10, 200), (4, 0, 200), (3, 3, 40)]
    sobol = stats.qmc.Sobol(21, scramble=False).random(64)
    out = {
        "made_by": "paired_fixtures.py",
        "python": platform.python_version(),
        "numpy": numpy.__version__,
        "scipy": scipy.__version__,
        "date": datetime.date.today().isoformat(),
        "tango": [
            {"up": b, "down": c, "n": n, "level": level, "interval": tango(b, c, n, level)}
            for b, c, n in pairs
            for level in (0.95, 0.995)
        ],
        "sequence": [
            {"held": k, "of": n, "level": level, "interval": sequence(k, n, level)}
            for k, n in ((0, 1), (30, 30), (28, 30), (190, 200), (0, 200), (480, 500), (9000, 10000))
            for level in (0.95, 0.999)
        ],
        "sequence_error": [
            {"p": p, "looks": 200, "level": 0.95, "error": error_at_any_look(p, 200, 0.95)} for p in (0.5, 0.9, 0.95)
        ],
        "sobol": [[float(x) for x in row] for row in sobol],
    }
    path = pathlib.Path(__file__).with_name("paired_fixtures.json")
    path.write_text(json.dumps(out, indent=1) + "\n")


if __name__ == "__main__":
    main()
