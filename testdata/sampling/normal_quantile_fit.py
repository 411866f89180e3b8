"""Coefficients of sampling/portable/normalquantile.go.

Run with Python 3 and mpmath 1.3.0:  python3 normal_quantile_fit.py
The quantile x of p is a straight line plus a small quotient of polynomials, so that only the line, a single fused operation,
rounds by much. The three stretches and their variables are those of Wichura (1988, AS 241), the coefficients our own:
 - centre, |q| <= 0.425, q = p - 1/2: x = q (slope + N(t)/D(t)), t = 0.425^2 - q^2;
 - middle and far, r = sqrt(-log p): x = slope (r - root) + N(t)/D(t), t = r - start.
N/D is near-minimax for the error relative to x: least squares at Chebyshev points, made linear by the denominator of the
step before and weighted anew by the errors (Lawson), 60 digits, rounded to float64.
Each stretch ends with the largest relative error of x found for the rounded coefficients.
"""
import mpmath as mp

mp.mp.dps = 60


def below(p):
    """The x with Phi(x) = p <= 1/2: Newton on log Phi, which is concave."""
    x = -mp.sqrt(-2 * mp.log(p)) if p < 0.05 else (p - mp.mpf("0.5")) * mp.mpf("2.5066")
    for _ in range(60):
        f = mp.erfc(-x / mp.sqrt(2)) / 2
        step = (mp.log(f) - mp.log(p)) * f / (mp.exp(-x * x / 2) / mp.sqrt(2 * mp.pi))
        x -= step
        if abs(step) < mp.mpf(10) ** -45:
            return x
    raise ArithmeticError(p)


def chebyshev(lo, hi, n):
    return [(lo + hi) / 2 + (hi - lo) / 2 * mp.cos(mp.pi * (k + mp.mpf(1) / 2) / n) for k in range(n)]


def fit(ts, g, scale, top, bottom):
    """Coefficients of N and D = 1 + ..., of degrees top and bottom, with N/D = g but for errors small beside scale."""
    d, lawson = [mp.mpf(1)] * len(ts), [mp.mpf(1)] * len(ts)
    best = None
    for _ in range(25):
        rows, right = [], []
        for t, v, s, q, w in zip(ts, g, scale, d, lawson):
            k = mp.sqrt(w) / (s * q)
            rows.append([k * t**i for i in range(top + 1)] + [-k * v * t**i for i in range(1, bottom + 1)])
            right.append(k * v)
        c, _ = mp.qr_solve(mp.matrix(rows), mp.matrix(right))
        n = [c[i] for i in range(top + 1)]
        m = [mp.mpf(1)] + [c[top + i] for i in range(1, bottom + 1)]
        d = [mp.polyval(m[::-1], t) for t in ts]
        e = [abs(mp.polyval(n[::-1], t) / q - v) / s for t, v, s, q in zip(ts, g, scale, d)]
        if best is None or max(e) < best[0]:
            best = max(e), n, m
        total = sum(w * x for w, x in zip(lawson, e))
        lawson = [len(ts) * w * x / total for w, x in zip(lawson, e)]
    return best[1], best[2]


def show(name, lo, hi, x_of, line, scale_of, top, bottom):
    lo, hi = mp.mpf(lo), mp.mpf(hi)
    ts = chebyshev(lo, hi, 80)
    g = [x_of(t) - line(t) for t in ts]
    n, m = fit(ts, g, [abs(scale_of(t)) for t in ts], top, bottom)
    n, m = [float(v) for v in n], [float(v) for v in m]
    worst = 0
    for t in chebyshev(lo, hi, 301) + [lo, hi]:
        quotient = mp.polyval([mp.mpf(v) for v in n[::-1]], t) / mp.polyval([mp.mpf(v) for v in m[::-1]], t)
        worst = max(worst, abs((line(t) + quotient - x_of(t)) / scale_of(t)))
    print(f"// {name}: largest relative error {mp.nstr(worst, 2)}")
    m += [0.0] * (top - bottom)
    for a, b in zip(n, m):
        print(f"\t\t{{{a!r}, {b!r}}},")


def main(top=8, bottom=7):
    width = mp.mpf(0.180625)

    def over_q(t):
        q = mp.sqrt(max(width - t, 0))
        return mp.sqrt(2 * mp.pi) if q < mp.mpf(10) ** -25 else -below(mp.mpf("0.5") - q) / q

    show("centre", 0, width, over_q, lambda t: mp.mpf(2.75), over_q, top, bottom)
    for name, start, lo, hi, slope, root in (
            ("middle", 1.625, 1.609, 5.0001, 1.53125, 0.65625), ("far", 5, 4.9999, 27.4, 1.421875, 0.3125)):
        start = mp.mpf(start)
        x_of = lambda t: -below(mp.exp(-(start + t) ** 2))
        line = lambda t: mp.mpf(slope) * (start + t - mp.mpf(root))
        show(name, lo - start, hi - start, x_of, line, x_of, top, bottom)


if __name__ == "__main__":
    main()
