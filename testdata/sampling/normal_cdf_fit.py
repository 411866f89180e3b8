"""Coefficients of sampling/portable/normalcdf.go.

Run with Python 3 and mpmath 1.2.1:  python3 normal_cdf_fit.py
Near-minimax polynomials (Chebyshev interpolation, 40 digits), rounded to float64:
 - centre: (Phi(x) - 1/2)/x as a polynomial in x^2 on |x| <= 0.66;
 - tail: exp(x^2/2) Phi(-x) (x + k) as a polynomial in t, t = scale/(x + k) + shift in [-1, 1], on three stretches of x.
Each row ends with the largest relative error found for the rounded coefficients.
"""
import mpmath as mp

mp.mp.dps = 40


def tail(x):
    return mp.exp(x * x / 2) * mp.erfc(x / mp.sqrt(2)) / 2


def centre(s):
    x = mp.sqrt(s)
    return 1 / mp.sqrt(2 * mp.pi) if s == 0 else mp.erf(x / mp.sqrt(2)) / 2 / x


def show(name, c, extra, err):
    print(f"// {name}: largest relative error {mp.nstr(err, 2)}{extra}")
    for v in reversed(c):
        print(f"\t{float(v)!r},")


def worst(f, c, lo, hi, n=2000):
    c = [mp.mpf(float(v)) for v in c]
    xs = [lo + (hi - lo) * i / n for i in range(n + 1)]
    return max(abs(mp.polyval(c, x) / f(x) - 1) for x in xs)


hi = mp.mpf("0.66") ** 2
c = mp.chebyfit(centre, [0, hi], 10)
show("centre", c, "", worst(centre, c, mp.mpf(0), hi))
for lo, hi, k in ((0.64, 3, 3), (2.99, 8, 2), (7.99, 40, 3)):
    lo, hi, k = mp.mpf(lo), mp.mpf(hi), mp.mpf(k)
    w0, w1 = 1 / (hi + k), 1 / (lo + k)
    scale = mp.mpf(float(2 / (w1 - w0)))
    shift = mp.mpf(float(-(w0 + w1) / (w1 - w0)))

    def f(t):
        x = scale / (t - shift) - k
        return tail(x) * (x + k)

    c = mp.chebyfit(f, [-1, 1], 14)
    show(f"tail {mp.nstr(lo, 4)} to {mp.nstr(hi, 4)}", c, f"; k={mp.nstr(k, 3)} scale={float(scale)!r} shift={float(shift)!r}",
         worst(f, c, mp.mpf(-1), mp.mpf(1)))
