"""Reference values for sampling/portable.

Run with Python 3 and mpmath, 60 digits:  python3 portable_table.py > portable.csv
Arguments are float64 numbers written so that they read back exactly; values have 30 digits.
Grids and random arguments (random.Random(20)) over the whole range, denser where forms change.
"""
import math
import random

import mpmath as mp

mp.mp.dps = 60
rng = random.Random(20)
print(f"# made by portable_table.py with mpmath {mp.__version__}: python3 portable_table.py > portable.csv")
print("function,x,y,value")


def row(name, x, value, y=0.0):
    print(f"{name},{x!r},{y!r},{mp.nstr(value, 30, min_fixed=0, max_fixed=0)}")


def spread(n, lo, hi):
    return [rng.uniform(lo, hi) for _ in range(n)]


def decades(n, lo, hi):
    return [10 ** rng.uniform(lo, hi) for _ in range(n)]


def both(xs):
    return [s * x for x in xs for s in (1, -1)]


def phi(x):
    return mp.erfc(-x / mp.sqrt(2)) / 2


def quantile(p):
    p = mp.mpf(p)
    with mp.workdps(340):  # 1 - p keeps p = 1e-300
        p = mp.mpf(p)
        if p > 0.5:
            return -quantile(1 - p)
    x = -mp.sqrt(-2 * mp.log(p)) if p < 0.05 else (p - mp.mpf("0.5")) * mp.mpf("2.5066")
    for _ in range(60):  # Newton on log Phi, which is concave: always converges
        f = phi(x)
        step = (mp.log(f) - mp.log(p)) * f / (mp.exp(-x * x / 2) / mp.sqrt(2 * mp.pi))
        x -= step
        if abs(step) < mp.mpf(10) ** -50:
            break
    return x


for x in [1.0, -1.0, 0.5, 709.7, -708.0] + spread(120, -700, 700) + spread(60, -2, 2) + both(decades(20, -18, 0)):
    row("exp", x, mp.exp(x))
for x in [1.0, -1.0, 709.7, -38.0, 0.34657, 0.34658] + spread(60, -40, 700) + spread(100, -3, 3) + both(decades(30, -18, 1)):
    row("expm1", x, mp.expm1(x))
for x in [2.0, 0.5, 10.0, 5e-324, 1.7e308] + decades(100, -300, 300) + spread(100, 0.5, 2) + [1 + e for e in both(decades(20, -15, -1))]:
    row("log", x, mp.log(x))
for x in [1.0, -0.5, 1e300, -0.999] + decades(60, -18, 20) + [-t for t in decades(60, -18, -0.01)] + spread(100, -0.9, 3):
    row("log1p", x, mp.log1p(x))
for x, y in [(2.0, 0.5), (0.99999, 1e5), (1.0000001, 1e9), (10.0, 300.0), (10.0, -300.0)] + [(x, y) for x, y in zip(decades(120, -30, 30), spread(120, -9, 9))] + [
        (x, y) for x, y in zip(spread(120, 0.7, 1.4), spread(120, -900, 900))] + [(x, 5.25588) for x in spread(30, 0.5, 1.1)]:
    row("pow", x, mp.mpf(x) ** mp.mpf(y), y)
for x in [0.0, -37.0, -37.5] + spread(120, -37.5, -3) + spread(200, -4, 4) + both(decades(20, -10, 0)) + [
        s * e for e in (0.65, 0.6499999999999999, 3.0, 3.0000000000000004, 8.0, 8.000000000000002) for s in (1, -1)]:
    row("normalcdf", x, phi(mp.mpf(x)))
for p in [1e-300, 1e-100, 1e-16, 0.075, 0.07499999999999998, 0.925] + decades(120, -300, -1) + spread(200, 0.001, 0.999) + decades(60, -16, -1):
    row("normalquantile", p, quantile(p))
# where the largest errors were found among 9,050 other arguments
for p in [0.16155854761857277, 0.1614483031509317, 2.706360756405199e-4, 1.466323157369369e-224]:
    row("normalquantile", p, quantile(p))
q = math.pi / 4
for x in [q, 0.5] + spread(100, -q, q) + both(decades(20, -12, -0.2)):
    row("sin", x, mp.sin(x))
    row("cos", x, mp.cos(x))


# all angles: near multiples of pi/2, and large ones, where the reduction needs up to 1100 bits of 2/pi
def reduced(f, x):
    with mp.workdps(400):
        return f(mp.mpf(x))


angles = both(spread(60, 0, 4) + spread(40, 4, 1000) + decades(60, -12, 6) + decades(80, 5, 308)) + [
    k * math.pi / 2 for k in range(1, 30)] + [float(k) for k in range(1, 30)] + [5.3193726483265414e255, 6381956970095103.0 * 2.0 ** 797, 524288.0, 524288.0000001, 1.7e308, 355.0, 1e22] + [
    math.ldexp(math.pi / 2, e) for e in range(1, 1000, 41)]
for x in angles:
    row("sinall", x, reduced(mp.sin, x))
    row("cosall", x, reduced(mp.cos, x))
    row("tan", x, reduced(mp.tan, x))
units = both(spread(160, 0, 1) + decades(30, -12, -0.1) + [1 - t for t in decades(30, -15, -0.5)] + [0.5, 0.49999999999999994]) + [1.0, -1.0]
for x in units:
    row("asin", x, mp.asin(x))
    if x != 1:
        row("acos", x, mp.acos(x))
for x in both(spread(160, 0, 4) + decades(60, -12, 30) + [7 / 16, 11 / 16, 19 / 16, 39 / 16]):
    row("atan", x, mp.atan(x))
for y, x in zip(both(spread(160, 0, 4) + decades(100, -30, 30)), spread(260, -3, 3) + [s * t for t in decades(130, -30, 30) for s in (1, -1)]):
    row("atan2", y, mp.atan2(mp.mpf(y), mp.mpf(x)), x)
