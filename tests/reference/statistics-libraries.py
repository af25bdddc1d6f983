"""Writes statistics-libraries.json: answers of SciPy, NumPy, mpmath, statsmodels and scikit-learn for random and extreme cases.

Run with those libraries installed; the versions go into the file:
    python tests/reference/statistics-libraries.py
"""

import json
import pathlib
import warnings

import mpmath
import numpy as np
import scipy
import sklearn
import statsmodels
from scipy import special, stats
from sklearn import metrics
from statsmodels.stats import inter_rater, multitest, proportion
from statsmodels.stats.contingency_tables import Table

warnings.simplefilter("error", RuntimeWarning)
rng = np.random.default_rng(1)
num = float
out = {
    "source": f"SciPy {scipy.__version__}, NumPy {np.__version__}, mpmath {mpmath.__version__}, statsmodels {statsmodels.__version__}, "
    f"scikit-learn {sklearn.__version__}",
    "how": "tests/reference/statistics-libraries.py",
}

TAILS = [1e-4, 0.005, 0.025, 0.5, 0.975, 0.995, 0.9999]
SIZES = [1, 2, 5, 10, 30, 100, 1000, 10000, 100000]
SHARES = [0, 0.01, 0.1, 0.3, 0.5, 0.9, 0.99, 1]

# SciPy's normal and gamma functions descend from Cephes; mpmath's forty digits are an answer of another kind.
mpmath.mp.dps = 40


def normal_quantile(p):
    return mpmath.findroot(lambda z: mpmath.log(mpmath.ncdf(z)) - mpmath.log(p), float(special.ndtri(p)))


def gamma_upper_quantile(tail, shape):
    """For whole shapes: the mean whose Poisson probability of fewer than `shape` events is `tail`, by Newton's steps."""
    x = mpmath.mpf(float(special.gammainccinv(shape, tail)))
    for _ in range(4):
        term = total = mpmath.exp(-x)
        for k in range(1, shape):
            term = term * x / k
            total += term
        x += (total - mpmath.mpf(tail)) / term
    return x


out["normal_quantile"] = [[p, num(normal_quantile(p))] for p in [1e-300, 1e-100, 1e-10, 1e-5, 0.025, 0.3, 0.975, 1 - 1e-9]]
out["normal_two_sided"] = [[z, num(mpmath.erfc(z / mpmath.sqrt(2)))] for z in [0, 0.5, 1, 1.96, 3, 5, 8, 12, 20, 37, 40]]
out["beta_quantile"] = [
    [p, k + 1, n - k, num(special.betaincinv(k + 1, n - k, p))]
    for n in SIZES for k in sorted({int(f * (n - 1)) for f in SHARES}) for p in TAILS
]
out["gamma_upper_quantile"] = [
    [p, k + 1, num(gamma_upper_quantile(p, k + 1))] for k in [0, 1, 2, 5, 10, 30, 100, 300, 1000, 10000] for p in TAILS
]
out["binomial"] = [
    {"k": k, "n": n, "p": p, "exactly": num(stats.binom.pmf(k, n, p)), "at_most": num(stats.binom.cdf(k, n, p)),
     "at_least": num(stats.binom.sf(k - 1, n, p))}
    for n in [1, 2, 7, 40, 1000, 20000] for k in sorted({0, n // 10, n // 2, n - 1, n}) for p in [0.0, 0.001, 0.3, 0.5, 0.97, 1.0]
]

out["proportion"] = []
for n in [1, 2, 5, 12, 40, 333, 5000]:
    for k in sorted({0, 1, n // 3, n // 2, n - 1, n}):
        for level in [0.8, 0.95, 0.99]:
            w = proportion.proportion_confint(k, n, 1 - level, "wilson")
            c = stats.binomtest(k, n).proportion_ci(level, "exact")
            out["proportion"].append({"k": k, "n": n, "level": level, "wilson": [num(w[0]), num(w[1])], "exact": [num(c.low), num(c.high)]})

out["binomial_test"] = [
    {"k": k, "n": n, "p": p, "alternative": a, "p_value": num(stats.binomtest(k, n, p, alternative=a).pvalue)}
    for n in [1, 4, 10, 37, 200, 3000] for k in sorted({0, 1, n // 4, n // 2, n // 2 + 1, n}) if k <= n
    for p in [0.0, 0.1, 0.5, 0.73, 1.0] for a in ["two-sided", "less", "greater"]
]

out["kendall"] = []
for n, top in [(3, 3), (5, 4), (8, 30), (12, 6), (25, 1000), (30, 5), (200, 20)]:
    for tied_times in [False, True]:
        while True:
            x = rng.integers(0, max(2, n // 2), n) if tied_times else rng.permutation(n)
            y = rng.integers(0, top, n)
            if len(set(x)) > 1 and len(set(y)) > 1:
                break
        out["kendall"].append({"x": x.tolist(), "y": y.tolist(), "tau": num(stats.kendalltau(x, y).statistic)})
out["kendall_exact"] = []
for n in [2, 3, 4, 5, 8, 11, 20, 50]:
    y = rng.permutation(n)
    y = np.argsort(np.arange(n) + rng.normal(0, n / 4, n)) if n > 11 else y
    out["kendall_exact"].append({"y": y.tolist(), "p_value": num(stats.kendalltau(np.arange(n), y, method="exact").pvalue)})

out["theil_sen"] = []
for n in [3, 4, 5, 8, 13, 40, 150]:
    for level in [0.8, 0.95]:
        x = np.sort(rng.choice(1000, n, replace=False))
        y = np.round(rng.normal(0, 3, n) + x * rng.choice([-0.01, 0, 0.02]), int(rng.integers(0, 3)))
        line = stats.theilslopes(y, x, level)
        out["theil_sen"].append({"x": x.tolist(), "y": y.tolist(), "level": level, "slope": num(line.slope),
                                 "intercept": num(line.intercept), "low": num(line.low_slope), "high": num(line.high_slope)})

out["cochran_armitage"] = []
for groups in [2, 3, 6]:
    for _ in range(4):
        n = rng.integers(3, 60, groups)
        k = np.minimum(n, rng.binomial(n, np.linspace(0.2, rng.uniform(0.1, 0.9), groups)) + 1)
        scores = np.sort(rng.choice(30, groups, replace=False)) + 2000
        total, share = n.sum(), k.sum() / n.sum()
        # statsmodels' linear-by-linear test divides by N - 1 where Armitage's divides by N.
        test = Table(np.array([n - k, k]), shift_zeros=False).test_ordinal_association(np.array([0, 1]), scores)
        z = test.zscore * np.sqrt(total / (total - 1))
        out["cochran_armitage"].append({"k": k.tolist(), "n": n.tolist(), "scores": scores.tolist(), "z": num(z), "p": num(2 * stats.norm.sf(abs(z)))})

out["benjamini_hochberg"] = []
for n in [1, 2, 9, 60]:
    p = np.round(rng.uniform(0, 1, n) ** 3, 3)
    out["benjamini_hochberg"].append({"p": p.tolist(), "adjusted": stats.false_discovery_control(p).tolist(),
                                      "adjusted_statsmodels": multitest.multipletests(p, method="fdr_bh")[1].tolist()})

out["quantile"] = []
for n in [1, 2, 5, 10, 31]:
    values = np.round(rng.normal(100, 30, n), 1)
    out["quantile"].append({"values": values.tolist(), "at": [0, 0.1, 0.25, 0.5, 0.9, 1],
                            "quantiles": np.quantile(values, [0, 0.1, 0.25, 0.5, 0.9, 1]).tolist()})

out["entropy"] = []
for n in [1, 2, 5, 20]:
    p = rng.dirichlet(np.ones(n)).tolist()
    out["entropy"].append({"p": p, "bits": num(stats.entropy(p, base=2))})
out["mutual_information"] = []
for shape in [(2, 2), (3, 5), (6, 2)]:
    counts = rng.integers(0, 30, shape)
    counts[0, 0] = 0
    nats = metrics.mutual_info_score(None, None, contingency=counts)
    out["mutual_information"].append({"counts": counts.tolist(), "bits": num(nats / np.log(2))})

out["poisson_binomial"] = []
for n in [1, 3, 12, 60]:
    p = np.round(rng.uniform(0, 1, n), 3)
    if n > 3:
        p[:3] = [0, 1, 1]
    d = stats.poisson_binom(p)
    out["poisson_binomial"].append({"p": p.tolist(), "chances": d.pmf(np.arange(n + 1)).tolist(), "mean": num(d.mean()),
                                    "variance": num(d.var())})

out["scores"] = []
for n in [6, 200]:
    p = np.round(rng.uniform(0.01, 0.99, n), 3)
    y = rng.binomial(1, p)
    y[:2] = [0, 1]
    out["scores"].append({"probability": p.tolist(), "outcome": y.tolist(), "brier": num(metrics.brier_score_loss(y, p)),
                          "log_loss": num(metrics.log_loss(y, p))})
out["category_scores"] = []
for n, k in [(5, 3), (40, 6)]:
    p = rng.dirichlet(np.ones(k), n)
    y = rng.integers(0, k, n)
    out["category_scores"].append({
        "probabilities": p.tolist(), "truth": y.tolist(),
        "brier": num(metrics.brier_score_loss(y, p, labels=list(range(k)), scale_by_half=False)),
        "log_loss": num(metrics.log_loss(y, p, labels=list(range(k)))),
        "top": [num(metrics.top_k_accuracy_score(y, p, k=top, labels=list(range(k)))) for top in [1, 2, 3]] if k > 3 else [],
    })
out["kappa"] = []
for k in [2, 3, 5]:
    table = rng.integers(0, 20, (k, k)) + 10 * np.eye(k, dtype=int)
    out["kappa"].append({"table": table.tolist(), "kappa": num(inter_rater.cohens_kappa(table).kappa)})

target = pathlib.Path(__file__).with_suffix(".json")
target.write_text(json.dumps(out, separators=(",", ":")).replace('"],', '"],\n').replace('],"', '],\n"') + "\n")
