"""Writes cluster-slope.json: cluster-robust slopes by dense matrix algebra (Bell & McCaffrey 2002), and extremes by enumeration.

Run with NumPy and SciPy installed; the versions go into the file:
    python tests/reference/cluster-slope.py
"""

import itertools
import json
import pathlib

import numpy as np
import scipy
from scipy import stats

rng = np.random.default_rng(7)
out = {"source": f"SciPy {scipy.__version__}, NumPy {np.__version__}", "how": "tests/reference/cluster-slope.py"}


def cr2(y, x, g):
    """Slope, standard error and Satterthwaite's degrees of freedom, each matrix written out as in the papers."""
    y, x, g = (np.asarray(v, float) for v in (y, x, g))
    n = len(y)
    X = np.column_stack([np.ones(n), x])
    M = np.linalg.inv(X.T @ X)
    hat = X @ M @ X.T
    e = y - hat @ y
    c = np.array([0.0, 1.0])
    variance, ps = 0.0, []
    for cluster in np.unique(g):
        at = g == cluster
        values, vectors = np.linalg.eigh(np.eye(at.sum()) - hat[np.ix_(at, at)])
        roots = np.array([1 / np.sqrt(v) if v > 1e-9 else 0.0 for v in values])
        a = vectors @ np.diag(roots) @ vectors.T @ X[at] @ M @ c
        variance += (a @ e[at]) ** 2
        ps.append((np.eye(n) - hat)[:, at] @ a)
    P = np.array(ps) @ np.array(ps).T
    return (M @ X.T @ y)[1], np.sqrt(variance), np.trace(P) ** 2 / (P**2).sum()


out["slopes"] = []
for n, clusters in [(6, 3), (12, 4), (20, 6), (34, 14), (60, 5)]:
    for _ in range(3):
        g = np.concatenate([np.arange(clusters), rng.integers(0, clusters, n - clusters)])
        x = rng.integers(2012, 2025, n)
        y = np.round(rng.normal(0, 1, n) + rng.normal(0, 1, clusters)[g] + 0.2 * (x - 2018), 3)
        slope, error, freedom = cr2(y, x, g)
        out["slopes"].append({
            "y": y.tolist(), "x": x.tolist(), "g": g.tolist(), "slope": slope, "error": error, "freedom": freedom,
            "p": 2 * stats.t.sf(abs(slope / error), freedom),
        })

out["ranges"] = []
for n, clusters, open_ in [(10, 5, 4), (16, 6, 6), (20, 8, 8)]:
    for _ in range(3):
        g = np.concatenate([np.arange(clusters), rng.integers(0, clusters, n - clusters)])
        x = np.sort(rng.integers(2015, 2022, n))
        y = (rng.uniform(size=n) < (x - 2014) / 8).astype(int)
        free = rng.choice(n, open_, replace=False)
        zs, ts = [], []
        for way in itertools.product([0, 1], repeat=open_):
            y[free] = way
            share = y.mean()
            z = 0.0 if share in (0, 1) else ((x - x.mean()) * y).sum() / np.sqrt(share * (1 - share) * ((x - x.mean()) ** 2).sum())
            slope, error, _ = cr2(y, x, g)
            zs.append(float(z))
            ts.append(float(slope / error) if slope > 1e-12 else 0.0)
        y[free] = -1
        out["ranges"].append({"y": y.tolist(), "x": x.tolist(), "g": g.tolist(), "z": [min(zs), max(zs)], "t": min(ts)})

pathlib.Path(__file__).with_suffix(".json").write_text(json.dumps(out, separators=(",", ":")).replace('},{', '},\n{') + "\n")
