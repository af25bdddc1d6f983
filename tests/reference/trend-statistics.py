"""Writes trend-statistics.json: answers of mpmath and SciPy, enumerations, and dense matrix algebra for the statistics of trends.

Run with those libraries installed; the versions go into the file:
    python tests/reference/trend-statistics.py
"""

import itertools
import json
import pathlib
from fractions import Fraction

import mpmath
import numpy as np
import scipy
from scipy import stats

rng = np.random.default_rng(12)
num = float
mpmath.mp.dps = 40
out = {
    "source": f"SciPy {scipy.__version__}, NumPy {np.__version__}, mpmath {mpmath.__version__}",
    "how": "tests/reference/trend-statistics.py",
}


def gamma_upper_quantile(tail, shape):
    """For whole shapes: the mean whose Poisson probability of fewer than `shape` events is `tail`, by Newton's steps."""
    x = mpmath.mpf(float(stats.gamma.isf(tail, shape)))
    for _ in range(3):
        term = mpmath.exp(-x + (shape - 1) * mpmath.log(x) - mpmath.loggamma(shape))
        total, k, piece = mpmath.mpf(0), shape - 1, term
        # From the largest term downwards: below 1e-60 of it nothing changes.
        while k >= 0 and piece > term * mpmath.mpf("1e-60"):
            total += piece
            piece = piece * k / x
            k -= 1
        x += (total - mpmath.mpf(tail)) / term
    return x


# 7,485 at 0.025 and its like are where Cephes' inverse gave up.
out["gamma_upper_quantile"] = [
    [tail, shape, num(gamma_upper_quantile(tail, shape))]
    for shape in [1, 3, 40, 7484, 7485, 7660, 7806, 7807, 9999, 30000, 250000] for tail in [0.005, 0.025, 0.975, 0.995]
]

out["student"] = []
for freedom in [0.7, 1, 1.5, 2.3, 4, 9.9, 30, 1000]:
    for p in [0.6, 0.9, 0.975, 0.9995]:
        t = mpmath.findroot(
            lambda t: 1 - mpmath.betainc(mpmath.mpf(freedom) / 2, 0.5, 0, freedom / (freedom + t * t), regularized=True) / 2 - mpmath.mpf(p),
            float(stats.t.ppf(p, freedom)),
        )
        out["student"].append([freedom, p, num(t)])


def s_of(x, y):
    return sum(int(np.sign(x[j] - x[i]) * np.sign(y[j] - y[i])) for i in range(len(x)) for j in range(i + 1, len(x)))


def orders(values):
    """Every different order of values with ties; all are equally likely."""
    if not values:
        yield ()
        return
    for value in sorted(set(values)):
        rest = list(values)
        rest.remove(value)
        for order in orders(rest):
            yield (value, *order)


out["kendall_ties_exact"] = []
for x, y in [
    ([1, 2, 2], [1, 1, 2]),
    ([1, 1, 2, 2], [1, 1, 2, 2]),
    ([1, 2, 3, 4, 5, 6, 7, 8, 9, 10], [3, 4, 4, 6, 5, 7, 8, 8, 9, 11]),
    *[(sorted(rng.integers(2015, 2015 + years, n).tolist()), rng.integers(0, top, n).tolist())
      for n, years, top in [(5, 3, 9), (6, 2, 3), (7, 4, 3), (8, 4, 4), (9, 4, 3), (10, 5, 2)]],
]:
    s = abs(s_of(x, y))
    # Orders of whichever variable has fewer of them.
    fewer, other = sorted([x, y], key=lambda values: -sum(values.count(v) ** 2 for v in set(values)))
    found = [abs(s_of(order, other)) >= s for order in orders(fewer)]
    out["kendall_ties_exact"].append({"x": x, "y": y, "s": s_of(x, y), "p": num(Fraction(sum(found), len(found)))})

target = pathlib.Path(__file__).with_suffix(".json")
target.write_text(json.dumps(out, separators=(",", ":")).replace('"],', '"],\n').replace('],"', '],\n"') + "\n")
