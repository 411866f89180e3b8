"""Reference values for the sensitivity estimators, by routes of their own.

From the repository root, with Debian 12's python3 3.11.2, python3-numpy 1.24.2,
python3-scipy 1.10.1 and python3-mpmath 1.2.1 (general-purpose numerical libraries):

    python3 testdata/sensitivity/reference.py > testdata/sensitivity/exact.csv
    python3 testdata/sensitivity/reference.py estimates > testdata/sensitivity/estimates.csv

exact.csv: exact indices of test functions. No closed form of an index is used: variances
of conditional means come from product quadrature (Gauss-Legendre, Gauss-Hermite) over all
inputs at once, or from all corners of a cube; Shapley effects from all orders or subsets;
normal laws from adaptive quadrature (30 digits) or linear algebra.

estimates.csv: estimators with plain numpy and scipy on columns that any program can
make again to the last bit (see column()). The quantity names the estimator.
"""
import csv
import itertools
import math
import platform
import sys

import mpmath as mp
import numpy as np
import scipy
from scipy import linalg, stats

mp.mp.dps = 30
ISHIGAMI = "Ishigami and Homma 1990, Proc. ISUMA"
G = "Saltelli and Sobol' 1995, Reliab. Eng. Syst. Saf. 50"
MORRIS = "Morris 1991, Technometrics 33; parameters as in Saltelli, Chan and Scott 2000, Sensitivity Analysis, ch. 2"
SOBOL = "Sobol' 1993, Math. Model. Comput. Exp. 1"
OWEN = "Owen and Prieur 2017, SIAM/ASA J. Uncertain. Quantif. 5"
BORGONOVO = "Borgonovo 2007, Reliab. Eng. Syst. Saf. 92"
PAWN = "Pianosi and Wagener 2015, Environ. Model. Softw. 67"
SPEAR = "Hornberger and Spear 1981, J. Environ. Manag. 12"

out = csv.writer(sys.stdout, lineterminator="\n")


def header(what, command, columns):
    print("#", what)
    print("# Made by: python3 testdata/sensitivity/reference.py%s" % command)
    print("# with Python %s, numpy %s, scipy %s, mpmath %s" % (
        platform.python_version(), np.__version__, scipy.__version__, mp.__version__))
    out.writerow(columns)


def row(function, parameters, quantity, value, source):
    value = float(value)
    if abs(value) < 1e-15:
        value = 0.0
    out.writerow([function, parameters, quantity, repr(value), source])


# --- independent inputs: all closed indices from one tensor of values ---


def closed(values, weights):
    """Var(E[Y|X_u]) of every subset u (a tuple), from the tensor of Y on a product rule."""
    d = values.ndim
    mean = contract(values, weights, range(d))
    return float(mean), {
        u: float(contract(contract(values - mean, weights, [i for i in range(d) if i not in u]) ** 2,
                          [weights[i] for i in u], range(len(u))))
        for k in range(d + 1) for u in itertools.combinations(range(d), k)}


def contract(values, weights, axes):
    for i in sorted(axes, reverse=True):
        values = np.tensordot(values, weights[i], axes=([i], [0]))
    return values


def shapley(cost, d):
    """Shapley effects from all orders (d at most 8: by subsets of each size)."""
    effect = np.zeros(d)
    for i in range(d):
        others = [j for j in range(d) if j != i]
        for k in range(d):
            share = 1 / (d * math.comb(d - 1, k))
            for u in itertools.combinations(others, k):
                effect[i] += share * (cost[tuple(sorted(u + (i,)))] - cost[u])
    return effect / cost[tuple(range(d))]


def name(u):
    return "{%s}" % ",".join(str(i + 1) for i in u)


def analysis(function, parameters, values, weights, source, pairs=(), groups=(), totals=(), players=()):
    d = values.ndim
    mean, cost = closed(values, weights)
    v = cost[tuple(range(d))]
    row(function, parameters, "mean", mean, source)
    row(function, parameters, "variance", v, source)
    for i in range(d):
        rest = tuple(j for j in range(d) if j != i)
        row(function, parameters, "S%d" % (i + 1), cost[(i,)] / v, source)
        row(function, parameters, "ST%d" % (i + 1), (v - cost[rest]) / v, source)
    for i, j in pairs:
        row(function, parameters, "S" + name((i, j)), (cost[i, j] - cost[(i,)] - cost[(j,)]) / v, source)
    for u in groups:
        row(function, parameters, "closed" + name(u), cost[u] / v, source)
    for u in totals:
        rest = tuple(j for j in range(d) if j not in u)
        row(function, parameters, "total" + name(u), (v - cost[rest]) / v, source)
    effects = shapley(cost, d)
    for i in players or range(d):
        row(function, parameters, "Shapley%d" % (i + 1), effects[i], source)
    row(function, parameters, "1-sum S", 1 - sum(cost[(i,)] for i in range(d)) / v, source)


def legendre(n, low, high, pieces=1):
    """Nodes and weights (sum 1) of the uniform law, n points in each of equal pieces."""
    x, w = np.polynomial.legendre.leggauss(n)
    edges = np.linspace(low, high, pieces + 1)
    nodes = np.concatenate([(a + b) / 2 + (b - a) / 2 * x for a, b in zip(edges, edges[1:])])
    return nodes, np.tile(w / 2 / pieces, pieces)


def hermite(n):
    x, w = np.polynomial.hermite_e.hermegauss(n)
    return x, w / w.sum()


def grid(*nodes):
    return np.meshgrid(*nodes, indexing="ij")


def ishigami():
    for a, b in ((7, 0.1), (7, 0.05), (5, 0.1), (2, 1)):
        x, w = legendre(40, -np.pi, np.pi)
        x1, x2, x3 = grid(x, x, x)
        y = np.sin(x1) + a * np.sin(x2) ** 2 + b * x3 ** 4 * np.sin(x1)
        analysis("ishigami", "a=%g b=%g" % (a, b), y, [w] * 3, ISHIGAMI,
                 pairs=((0, 1), (0, 2), (1, 2)), groups=((0, 2),), totals=((0, 1),))


def g_function():
    for a in ((0, 0, 0), (0, 0.5, 3, 9, 99, 99), (0, 1, 4.5, 9, 99, 99, 99, 99)):
        x, w = legendre(2, 0, 1, 2)  # exact: squares of straight pieces
        y = 1.0
        for c, u in zip(a, grid(*[x] * len(a))):
            y = y * (np.abs(4 * u - 2) + c) / (1 + c)
        analysis("g", "a=" + " ".join("%g" % c for c in a), y, [w] * len(a), G,
                 pairs=((0, 1),), groups=((0, 1),), totals=((0, 1),))
    many_g()


def many_g():
    """20 inputs: every one of the 2^20 parts of the variance."""
    a = [0] * 2 + [1] * 2 + [4.5] * 4 + [9] * 4 + [99] * 8
    x, w = legendre(2, 0, 1, 2)
    part, size, d = np.ones(1), np.zeros(1), len(a)
    for c in a:
        g = (np.abs(4 * x - 2) + c) / (1 + c)
        v = float(w @ (g - w @ g) ** 2)
        part, size = np.concatenate([part, part * v]), np.concatenate([size, size + 1])
    part[0] = 0
    of, p = np.arange(1 << d), "a=" + " ".join("%g" % c for c in a)
    total = part.sum()
    row("g", p, "mean", 1, G)
    row("g", p, "variance", total, G)
    for i in (0, 1, 2, 3, 4, 7, 8, 11, 12, 19):
        has = of >> i & 1 == 1
        row("g", p, "S%d" % (i + 1), part[1 << i] / total, G)
        row("g", p, "ST%d" % (i + 1), part[has].sum() / total, G)
        row("g", p, "Shapley%d" % (i + 1), (part[has] / size[has]).sum() / total, G)
    row("g", p, "closed{1,2}", (part[1] + part[2] + part[3]) / total, G)
    row("g", p, "total{1,2}", part[of & 3 != 0].sum() / total, G)


def small():
    x, w = zip(*(legendre(2, 0, high) for high in (1, 2, 0.5, 3)))
    x1, x2, x3, x4 = grid(*x)
    analysis("linear", "4x1-2x2+x3+0.5x4 on (0;1)(0;2)(0;0.5)(0;3)", 4 * x1 - 2 * x2 + x3 + 0.5 * x4, w, SOBOL)
    z, w = hermite(5)
    x1, x2 = grid(2 + 0.5 * z, 3 + z)
    analysis("product", "x1 normal 2 0.5; x2 normal 3 1", x1 * x2, [w] * 2, SOBOL, pairs=((0, 1),))
    x1, x2, x3 = grid(z, z, z)
    candidate, baseline, p = 3 * x1 + x2, 2.8 * x1 + x3, "(3x1+x2)-(2.8x1+x3); normal 0 1"
    analysis("paired", p, candidate - baseline, [w] * 3, SOBOL)
    _, one = closed(candidate, [w] * 3)
    _, two = closed(baseline, [w] * 3)
    row("paired", p, "variance separate draws", one[0, 1, 2] + two[0, 1, 2], SOBOL)


def morris():
    """The function is linear in each w_i, so that the two points mean -+ sd of each w_i
    stand for its law: all 2^20 corners, and the transform of Walsh and Hadamard."""
    d = 20
    curve = lambda x: 2 * (mp.mpf("1.1") * x / (x + mp.mpf("0.1")) - mp.mpf("0.5"))
    mean = mp.quad(curve, [0, 0.1, 0.5, 1])
    sd = mp.sqrt(mp.quad(lambda x: (curve(x) - mean) ** 2, [0, 0.1, 0.5, 1]))
    centre, spread = [0.0] * d, [math.sqrt(1 / 3)] * d
    for i in (2, 4, 6):
        centre[i], spread[i] = float(mean), float(sd)
    corner = np.arange(1 << d)
    w = [c + s * (2.0 * (corner >> i & 1) - 1) for i, (c, s) in enumerate(zip(centre, spread))]
    y = np.zeros(1 << d)
    for i in range(d):
        y += (20 if i < 10 else (-1) ** (i + 1)) * w[i]
        for j in range(i + 1, d):
            y += (-15 if j < 6 else (-1) ** (i + j)) * w[i] * w[j]
    for i, j, k in itertools.combinations(range(5), 3):
        y += -10 * w[i] * w[j] * w[k]
    y += 5 * w[0] * w[1] * w[2] * w[3]
    for i in range(d):
        y = y.reshape(-1, 2, 1 << i)
        y = np.stack([y[:, 0] + y[:, 1], y[:, 1] - y[:, 0]], axis=1) / 2
    y = y.reshape(-1)
    part, p = y ** 2, "20 inputs"
    part[0] = 0
    v = part.sum()
    row("morris", p, "mean", y[0], MORRIS)
    row("morris", p, "variance", v, MORRIS)
    for i in range(d):
        row("morris", p, "S%d" % (i + 1), part[1 << i] / v, MORRIS)
        row("morris", p, "ST%d" % (i + 1), part[corner >> i & 1 == 1].sum() / v, MORRIS)
    row("morris", p, "closed{1,2,3}", part[corner & ~7 == 0].sum() / v, MORRIS)
    row("morris", p, "total{8,9,10}", part[corner & 0x380 != 0].sum() / v, MORRIS)
    row("morris", p, "1-sum S", 1 - sum(part[1 << i] for i in range(d)) / v, MORRIS)


# --- normal laws ---


def phi(x):
    return mp.npdf(x)


def cdf(x):
    return mp.ncdf(x)


def over_normal(f, points=(-12, -6, -3, -1, 0, 1, 3, 6, 12)):
    return mp.quad(lambda x: phi(x) * f(x), points)


def crossings(x, rho):
    """Where the density of Y given X = x, normal (rho x, 1 - rho^2), meets that of Y."""
    s2 = 1 - rho ** 2
    # (y - rho x)^2 / s2 + ln s2 = y^2
    a, b, c = 1 / s2 - 1, -2 * rho * x / s2, (rho * x) ** 2 / s2 + mp.log(s2)
    root = mp.sqrt(b * b - 4 * a * c)
    return (-b - root) / (2 * a), (-b + root) / (2 * a)


def gaps(x, rho):
    return [cdf((y - rho * x) / mp.sqrt(1 - rho ** 2)) - cdf(y) for y in crossings(x, rho)]


def bivariate():
    for rho in ("0.1", "0.3", "0.5", "0.7", "0.9", "0.99"):
        r, p = mp.mpf(rho), "rho=" + rho
        half = (0, 0.25, 1, 3, 6, 12)
        row("bivariate normal", p, "S1", over_normal(lambda x: (r * x) ** 2), SOBOL)
        delta = 2 * over_normal(lambda x: abs(gaps(x, r)[0] - gaps(x, r)[1]), half)
        row("bivariate normal", p, "delta", delta, BORGONOVO)
        row("bivariate normal", p, "mean KS", 2 * over_normal(lambda x: max(map(abs, gaps(x, r))), half), PAWN)
        row("bivariate normal", p, "KS at x=1", max(map(abs, gaps(1, r))), PAWN)


def indicator():
    for rho, h in ((0, 0.5), ("0.05", 0), ("0.1", 0), ("0.3", 0), ("0.5", 0), ("0.8", 0), ("0.5", -1), ("0.8", -2), ("0.9", 1)):
        r, p = mp.mpf(rho), "rho=%s h=%g" % (rho, h)
        s = mp.sqrt(1 - r ** 2)
        chance = cdf(h)
        row("normal claim", p, "p", chance, SOBOL)
        if r:
            known = over_normal(lambda x: (cdf((h - r * x) / s) - chance) ** 2)
            row("normal claim", p, "S1", known / (chance * (1 - chance)), SOBOL)
            left = over_normal(lambda z: cdf((h - s * z) / r) * (1 - cdf((h - s * z) / r)))
            row("normal claim", p, "ST1", left / (chance * (1 - chance)), SOBOL)
        # The density of x is the same on both sides where the claim's chance is p.
        top = h * (1 - s) / r if r else mp.mpf(0)
        below = mp.quad(lambda x: phi(x) * cdf((h - r * x) / s), (-12, -6, -3, -1, top))
        row("normal claim", p, "KS of x, holds and fails",
            abs(below / chance - (cdf(top) - below) / (1 - chance)) if r else 0, SPEAR)


def gaussian(function, parameters, beta, sd, rho, totals=(), source=OWEN):
    d = len(beta)
    cov = np.diag(np.square(sd).astype(float))
    for i, j, r in rho:
        cov[i, j] = cov[j, i] = r * sd[i] * sd[j]
    beta = np.array(beta, float)
    with_y, cost = cov @ beta, {(): 0.0}
    for k in range(1, d + 1):
        for u in itertools.combinations(range(d), k):
            cost[u] = float(with_y[list(u)] @ linalg.solve(cov[np.ix_(u, u)], with_y[list(u)], assume_a="pos"))
    v = float(beta @ cov @ beta)
    row(function, parameters, "variance", v, source)
    for i, e in enumerate(shapley(cost, d)):
        row(function, parameters, "Shapley%d" % (i + 1), e, source)
    for i in range(d):
        row(function, parameters, "S%d" % (i + 1), cost[(i,)] / v, source)
    for i in totals:
        row(function, parameters, "ST%d" % (i + 1), 1 - cost[tuple(j for j in range(d) if j != i)] / v, source)


def dependent():
    for rho in (0, 0.5, -0.8, 0.9):
        gaussian("gaussian", "beta=1 1 sd=1 2 rho12=%g" % rho, (1, 1), (1, 2), ((0, 1, rho),), (0, 1))
    for rho in (0, 0.5, -0.5, 0.9):
        gaussian("gaussian", "beta=1 1 1 sd=1 1 2 rho23=%g" % rho, (1, 1, 1), (1, 1, 2), ((1, 2, rho),), (2,))
    gaussian("gaussian", "beta=2 -1 0.5 0 sd=1 1 2 1 rho12=0.3 rho14=0.8 rho23=-0.4", (2, -1, 0.5, 0),
             (1, 1, 2, 1), ((0, 1, 0.3), (0, 3, 0.8), (1, 2, -0.4)))


# --- estimators on columns ---

ROWS, INPUTS = 1440, 4


def column(j):
    """Column j: s <- 6364136223846793005 s + 1442695040888963407 mod 2^64 from s = j+1, with
    the top 53 bits of each new s plus a half, over 2^53. The first 10 are thrown away."""
    s, u = j + 1, []
    for k in range(ROWS + 10):
        s = (6364136223846793005 * s + 1442695040888963407) % 2 ** 64
        u.append(((s >> 11) + 0.5) / 2 ** 53)
    return np.array(u[10:])


def model(x):
    """x1 + 2 x2^2 + 3 x1 x3; x4 does nothing."""
    return x[0] + 2 * (x[1] * x[1]) + 3 * (x[0] * x[2])


def estimates():
    a, b = [column(j) for j in range(INPUTS)], [column(j + INPUTS) for j in range(INPUTS)]
    y, f_b = model(a), model(b)
    for i in range(INPUTS):
        one(i, a, b, y, f_b)
        classes(i, a[i], y)
        regional(i, a[i], y)
    regression(a, y)


def put(i, quantity, value, source):
    row("x1+2x2^2+3x1x3", "x%d" % (i + 1) if i is not None else "all", quantity, value, source)


def one(i, a, b, f_a, f_b):
    ab, ba = list(a), list(b)
    ab[i], ba[i] = b[i], a[i]
    f_ab, f_ba = model(ab), model(ba)
    mu = (f_a.mean() + f_b.mean()) / 2
    v = (((f_a - mu) ** 2).mean() + ((f_b - mu) ** 2).mean()) / 2
    put(i, "S Saltelli 2010 b", ((f_b - mu) * (f_ab - f_a)).mean() / v, "Saltelli et al. 2010, Comput. Phys. Commun. 181")
    put(i, "ST Jansen, V of A and B", ((f_a - f_ab) ** 2).mean() / 2 / v, "Jansen 1999, Comput. Phys. Commun. 117")
    put(i, "ST Jansen, V of A (n-1)", ((f_a - f_ab) ** 2).mean() / 2 / f_a.var(ddof=1), "Jansen 1999, Comput. Phys. Commun. 117")
    both = ((f_a - f_b) ** 2 + (f_ba - f_ab) ** 2).sum()
    put(i, "S four runs", 2 * ((f_ba - f_b) * (f_a - f_ab)).sum() / both, "Azzini, Mara and Rosati 2021, Environ. Model. Softw. 144")
    put(i, "ST four runs", ((f_b - f_ba) ** 2 + (f_a - f_ab) ** 2).sum() / both, "Azzini, Mara and Rosati 2021, Environ. Model. Softw. 144")
    step = b[i] - a[i]
    inside = np.minimum(a[i], b[i]) >= 0.005
    inside &= (np.maximum(a[i], b[i]) <= 0.995) & (np.abs(step) >= 0.05)
    e = ((f_ab - f_a)[inside] / step[inside])
    source = "Campolongo, Cariboni and Saltelli 2007, Environ. Model. Softw. 22"
    put(i, "EE rows", len(e), source)
    put(i, "EE mean", e.mean(), source)
    put(i, "EE mean absolute", np.abs(e).mean(), source)
    put(i, "EE sd", e.std(ddof=1), source)


def classes(i, x, y):
    order = np.argsort(x, kind="stable")
    total = ((y - y.mean()) ** 2).sum()
    cells = np.argsort(np.argsort(y)) * 20 // ROWS  # 20 cells of equal count
    for m in (10, 12, 15, 16, 18, 20, 24, 30, 36):
        parts = order.reshape(m, -1)
        size = parts.shape[1]
        between = size * ((y[parts].mean(axis=1) - y.mean()) ** 2).sum()
        noise = (y[parts].var(axis=1, ddof=1) * (1 - size / ROWS)).sum()
        put(i, "S classes %d raw" % m, between / total, "Plischke, Borgonovo and Smith 2013, Eur. J. Oper. Res. 226")
        put(i, "S classes %d corrected" % m, (between - noise) / total, "one-way random effects: Searle, Casella and McCulloch 1992, Variance Components")
        put(i, "KS classes %d mean" % m, np.mean([stats.ks_2samp(y[p], y).statistic for p in parts]), PAWN)
        share = np.stack([np.bincount(cells[p], minlength=20) / size for p in parts])
        put(i, "delta classes %d cells 20" % m, np.abs(share - 1 / 20).sum(axis=1).mean() / 2, BORGONOVO)


def regional(i, x, y):
    holds = y <= 1.5
    source = "scipy.stats.ks_2samp; " + SPEAR
    put(i, "claim y<=1.5 held", holds.sum(), source)
    put(i, "claim y<=1.5 KS", stats.ks_2samp(x[holds], x[~holds]).statistic, source)
    for side, rows in (("holds", x[holds]), ("fails", x[~holds])):
        for p in (10, 50, 90):
            put(i, "claim y<=1.5 %s P%d" % (side, p), np.percentile(rows, p), "numpy.percentile, type 7: Hyndman and Fan 1996, Am. Stat. 50")
    order, n = np.argsort(x), ROWS // 20
    put(i, "claim y<=1.5 chance lowest", holds[order[:n]].mean(), source)
    put(i, "claim y<=1.5 chance highest", holds[order[-n:]].mean(), source)


def regression(a, y):
    for what, x, z in (("SRC", np.array(a).T, y), ("SRRC", stats.rankdata(np.array(a).T, axis=0), stats.rankdata(y))):
        x, z = (x - x.mean(axis=0)) / x.std(axis=0), (z - z.mean()) / z.std()
        b = np.linalg.lstsq(x, z, rcond=None)[0]
        source = "numpy.linalg.lstsq; Draper and Smith 1998, Applied Regression Analysis; ranks: Iman and Conover 1979, Technometrics 21"
        for i in range(INPUTS):
            put(i, what, b[i], source)
        put(None, what + " R2", 1 - ((z - x @ b) ** 2).sum() / (z ** 2).sum(), source)


COLUMNS = ["function", "parameters", "quantity", "value", "source"]
if sys.argv[1:] == ["estimates"]:
    header("Estimators on columns: 1440 rows, four inputs, columns 0..3 for A and 4..7 for B (see column() and model() of the script)", " estimates", COLUMNS)
    estimates()
else:
    header("Exact values of test functions; sources are those of the function or quantity, the values were computed", "", COLUMNS)
    for part in (ishigami, g_function, small, morris, bivariate, indicator, dependent):
        part()
