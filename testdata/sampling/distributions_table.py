"""Reference values for the marginals of package sampling/marginal.

Run with Python 3 and mpmath 1.2.1, 60 digits:  python3 distributions_table.py > distributions.csv
Everything is evaluated from the definition of the distribution, with the float64 parameters that the name of the case
shows (Python and Go read them alike), at chances down to 1e-300 in either tail. "quantile" and "cdf" count from below,
"upper" and "survival" from above. Moments of truncated distributions are quadratures of the density.
"""
import mpmath as mp

mp.mp.dps = 60
m = mp.mpf
print(f"# made by distributions_table.py with mpmath {mp.__version__}: python3 distributions_table.py > distributions.csv")
print("case,quantity,argument,value")
CHANCES = [1e-300, 1e-100, 1e-16, 1e-6, 0.001, 0.05, 0.25, 0.5, 0.75, 0.95, 0.999]


def show(case, what, arg, value):
    print(f"{case},{what},{arg!r},{mp.nstr(value, 25, min_fixed=0, max_fixed=0)}")


def cases(case, quantile, upper, cdf, survival, mean, sd, chances=CHANCES, narrow=()):
    for p in chances:
        show(case, "quantile", p, quantile(m(p)))
        show(case, "upper", p, upper(m(p)))
    for p in list(chances[3:]) + list(narrow):
        x = float(quantile(m(p)))
        show(case, "cdf", x, cdf(m(x)))
        show(case, "survival", x, survival(m(x)))
    show(case, "mean", 0.0, mean)
    show(case, "sd", 0.0, sd)


def Phi(x):
    return mp.erfc(-x / mp.sqrt(2)) / 2


def phi(x):
    return mp.exp(-x * x / 2) / mp.sqrt(2 * mp.pi)


def score(p):
    """Phi^-1 for p <= 1/2 or a little above, by Newton on log Phi."""
    if p > 0.5:
        return -score(1 - p)
    x = -mp.sqrt(-2 * mp.log(p)) if p < 0.05 else (p - m("0.5")) * m("2.5066")
    for _ in range(80):
        f = Phi(x)
        step = (mp.log(f) - mp.log(p)) * f / phi(x)
        x -= step
        if abs(step) < m(10) ** -50:
            break
    return x


def between(a, b):
    w = m(b) - m(a)
    cases(f"between({a!r};{b!r})", lambda p: m(a) + w * p, lambda q: m(b) - w * q, lambda x: (x - m(a)) / w,
          lambda x: (m(b) - x) / w, (m(a) + m(b)) / 2, w / mp.sqrt(12))


def log_between(a, b):
    a_, b_ = m(a), m(b)
    L = mp.log(b_ / a_)
    cases(f"log_between({a!r};{b!r})", lambda p: a_ * mp.exp(p * L), lambda q: b_ * mp.exp(-q * L), lambda x: mp.log(x / a_) / L,
          lambda x: mp.log(b_ / x) / L, (b_ - a_) / L, mp.sqrt((b_**2 - a_**2) / (2 * L) - ((b_ - a_) / L) ** 2))


def triangular(a, c, b):
    a_, c_, b_ = m(a), m(c), m(b)
    w = b_ - a_
    lo = lambda p: a_ + mp.sqrt(p * w * (c_ - a_))
    hi = lambda q: b_ - mp.sqrt(q * w * (b_ - c_))
    F = lambda x: (x - a_) ** 2 / (w * (c_ - a_)) if x < c_ else 1 - (b_ - x) ** 2 / (w * (b_ - c_))
    S = lambda x: 1 - (x - a_) ** 2 / (w * (c_ - a_)) if x < c_ else (b_ - x) ** 2 / (w * (b_ - c_))
    fc = (c_ - a_) / w
    cases(f"triangular({a!r};{c!r};{b!r})", lambda p: lo(p) if p <= fc else hi(1 - p), lambda q: hi(q) if q <= 1 - fc else lo(1 - q), F, S,
          (a_ + b_ + c_) / 3, mp.sqrt((a_ * a_ + b_ * b_ + c_ * c_ - a_ * b_ - a_ * c_ - b_ * c_) / 18))


def beta_lower(al, be, p):
    """x with I_x = p, by bisection on log x."""
    lo, hi = mp.log(p) / al * 3 - 20, m(0)
    for _ in range(260):
        mid = (lo + hi) / 2
        if mp.betainc(al, be, 0, mp.exp(mid), regularized=True) < p:
            lo = mid
        else:
            hi = mid
    return mp.exp((lo + hi) / 2)


def pert(a, c, b):
    mp.mp.dps = 50
    a_, c_, b_ = m(a), m(c), m(b)
    w = b_ - a_
    al, be = 1 + 4 * (c_ - a_) / w, 1 + 4 * (b_ - c_) / w
    q = lambda p: a_ + w * beta_lower(al, be, p) if p <= 0.5 else b_ - w * beta_lower(be, al, 1 - p)
    u = lambda p: b_ - w * beta_lower(be, al, p) if p <= 0.5 else a_ + w * beta_lower(al, be, 1 - p)
    F = lambda x: mp.betainc(al, be, 0, (x - a_) / w, regularized=True)
    S = lambda x: mp.betainc(be, al, 0, (b_ - x) / w, regularized=True)
    cases(f"pert({a!r};{c!r};{b!r})", q, u, F, S, (a_ + 4 * c_ + b_) / 6, w * mp.sqrt(al * be / 252),
          [1e-100, 1e-30, 1e-16, 1e-12, 1e-9, 1e-6, 0.001, 0.05, 0.25, 0.4999, 0.75, 0.95, 0.999])
    mp.mp.dps = 60


def normal(mu, sd, name=None):
    mu_, s = m(mu), m(sd)
    cases(name or f"normal({mu!r};{sd!r})", lambda p: mu_ + s * score(p), lambda q: mu_ - s * score(q), lambda x: Phi((x - mu_) / s),
          lambda x: Phi((mu_ - x) / s), mu_, s)


def log_normal(name, mu, s):
    cases(name, lambda p: mp.exp(mu + s * score(p)), lambda q: mp.exp(mu - s * score(q)), lambda x: Phi((mp.log(x) - mu) / s),
          lambda x: Phi((mu - mp.log(x)) / s), mp.exp(mu + s * s / 2), mp.exp(mu + s * s / 2) * mp.sqrt(mp.expm1(s * s)))


def truncated(name, lo, hi, F, S, Q, U, density, chances=(1e-6, 0.001, 0.05, 0.25, 0.5, 0.75, 0.95, 0.999)):
    """Chances are differences of 60 digits, so the form does not matter."""
    Fa, Fb = (F(m(lo)) if lo is not None else m(0)), (F(m(hi)) if hi is not None else m(1))
    Sa, Sb = (S(m(lo)) if lo is not None else m(1)), (S(m(hi)) if hi is not None else m(0))
    Z = Sa - Sb if Fa > 0.5 else Fb - Fa
    q = lambda p: U(Sa - p * Z) if Fa > 0.5 else Q(Fa + p * Z)
    u = lambda p: Q(Fb - p * Z) if Fb <= 0.5 else U(Sb + p * Z)
    ends = [q(m(k) / 16) for k in range(1, 16)]
    ends = [m(lo) if lo is not None else q(m(10) ** -40)] + [q(m(10) ** -k) for k in (20, 9, 5, 3)] + ends
    ends += [u(m(10) ** -k) for k in (3, 5, 9, 20)] + [m(hi) if hi is not None else u(m(10) ** -40)]
    mean = mp.quad(lambda x: x * density(x) / Z, ends)
    var = mp.quad(lambda x: (x - mean) ** 2 * density(x) / Z, ends)
    cases(name, q, u, lambda x: (Sa - S(x)) / Z if Fa > 0.5 else (F(x) - Fa) / Z, lambda x: (Fb - F(x)) / Z if Fb <= 0.5 else (S(x) - Sb) / Z,
          mean, mp.sqrt(var), chances)


def truncated_normal(mu, sd, lo, hi):
    mu_, s = m(mu), m(sd)
    truncated(f"normal({mu!r};{sd!r})[{lo};{hi}]", lo, hi, lambda x: Phi((x - mu_) / s), lambda x: Phi((mu_ - x) / s), lambda p: mu_ + s * score(p),
              lambda q: mu_ - s * score(q), lambda x: phi((x - mu_) / s) / s)


def truncated_log_normal(median, factor, lo, hi):
    mu, s = mp.log(m(median)), mp.log(m(factor))
    truncated(f"lognormal({median!r};{factor!r})[{lo};{hi}]", lo, hi, lambda x: Phi((mp.log(x) - mu) / s), lambda x: Phi((mu - mp.log(x)) / s),
              lambda p: mp.exp(mu + s * score(p)), lambda q: mp.exp(mu - s * score(q)), lambda x: phi((mp.log(x) - mu) / s) / s / x)


def percentiles(points):
    z = [score(m(p)) for p, _ in points]
    x = [m(v) for _, v in points]
    n = len(z)
    h = [z[k + 1] - z[k] for k in range(n - 1)]
    s = [(x[k + 1] - x[k]) / h[k] for k in range(n - 1)]
    slope = [s[0]] + [3 * (h[k - 1] + h[k]) / ((2 * h[k] + h[k - 1]) / s[k - 1] + (h[k] + 2 * h[k - 1]) / s[k]) for k in range(1, n - 1)] + [s[-1]]

    def H(w):
        if w <= z[0]:
            return x[0] + slope[0] * (w - z[0])
        if w >= z[-1]:
            return x[-1] + slope[-1] * (w - z[-1])
        k = max(i for i in range(n - 1) if z[i] <= w)
        t = (w - z[k]) / h[k]
        return ((1 + 2 * t) * (1 - t) ** 2 * x[k] + t * (1 - t) ** 2 * h[k] * slope[k] + t * t * (3 - 2 * t) * x[k + 1] + t * t * (t - 1) * h[k] * slope[k + 1])

    def inverse(v):
        lo, hi = m(-60), m(60)
        for _ in range(200):
            mid = (lo + hi) / 2
            lo, hi = (mid, hi) if H(mid) < v else (lo, mid)
        return lo

    ends = [m(-30), m(-10), m(-5)] + z + [m(5), m(10), m(30)]
    mean = mp.quad(lambda w: H(w) * phi(w), ends)
    var = mp.quad(lambda w: (H(w) - mean) ** 2 * phi(w), ends)
    cases("percentiles(" + ";".join(f"{p!r}:{v!r}" for p, v in points) + ")", lambda p: H(score(p)), lambda q: H(-score(q)),
          lambda v: Phi(inverse(v)), lambda v: Phi(-inverse(v)), mean, mp.sqrt(var))


def solve(f, slope, target, x, rising=True):
    """x > 0 with f(x) = target: Newton in (ln x, ln f), which is concave for these tails."""
    y = mp.log(x)
    for _ in range(3000):
        v = f(mp.exp(y))
        step = (mp.log(target) - mp.log(v)) * v / (mp.exp(y) * slope(mp.exp(y))) * (1 if rising else -1)
        step = max(min(step, 2), -2)
        y += step
        if abs(step) < m(10) ** -38:
            break
    return mp.exp(y)


def beta_(a, b, lo, hi, chances=CHANCES):
    al, be, lo_, hi_ = m(a), m(b), m(lo), m(hi)
    w = hi_ - lo_
    B = mp.beta(al, be)
    I = lambda a, b, x: x**a * (1 - x) ** b / (a * B) * mp.hyp2f1(a + b, 1, a + 1, x) if x * (a + b + 2) <= (a + 1) * (1 + m(10) ** -40) else 1 - I(b, a, 1 - x)
    dens = lambda a, b, x: x ** (a - 1) * (1 - x) ** (b - 1) / B

    def near(a, b, p):
        x = min((p * a * B) ** (1 / a), m("0.999"))
        y = mp.log(x)
        for _ in range(400):
            x = min(mp.exp(y), 1 - m(10) ** -30)
            v = I(a, b, x)
            step = (mp.log(p) - mp.log(v)) * v / (x * dens(a, b, x))
            y = mp.log(x) + max(min(step, 1), -1)
            if abs(step) < m(10) ** -38:
                break
        return mp.exp(y)

    q = lambda p: lo_ + w * near(al, be, p) if p <= 0.5 else hi_ - w * near(be, al, 1 - p)
    u = lambda p: hi_ - w * near(be, al, p) if p <= 0.5 else lo_ + w * near(al, be, 1 - p)
    cases(f"beta({a!r};{b!r};{lo!r};{hi!r})", q, u, lambda x: I(al, be, (x - lo_) / w), lambda x: I(be, al, (hi_ - x) / w),
          lo_ + w * al / (al + be), w * mp.sqrt(al * be / (al + be + 1)) / (al + be), chances)


def gamma_(k, scale, start, chances=CHANCES):
    a, s, f = m(k), m(scale), m(start)
    P = lambda x: mp.gammainc(a, 0, x, regularized=True)
    Q = lambda x: mp.gammainc(a, x, regularized=True)
    d = lambda x: x ** (a - 1) * mp.exp(-x) / mp.gamma(a)
    low = lambda p: solve(P, d, p, (p * mp.gamma(a + 1)) ** (1 / a))
    up = lambda p: solve(Q, d, p, a + 1 + 8 * mp.sqrt(a) - mp.log(p), False)
    cases(f"gamma({k!r};{scale!r};{start!r})", lambda p: f + s * (low(p) if p <= 0.5 else up(1 - p)), lambda p: f + s * (up(p) if p <= 0.5 else low(1 - p)),
          lambda x: P((x - f) / s), lambda x: Q((x - f) / s), f + a * s, s * mp.sqrt(a), chances)


def student_(nu, mid, scale):
    n, c, s = m(nu), m(mid), m(scale)
    S = lambda t: mp.betainc(n / 2, m(1) / 2, 0, n / (n + t * t), regularized=True) / 2
    d = lambda t: (1 + t * t / n) ** (-(n + 1) / 2) / (mp.sqrt(n) * mp.beta(n / 2, m(1) / 2))
    up = lambda p: m(0) if p == m("0.5") else solve(S, d, p, max(-score(p), m(1) / 100), False)
    q = lambda p: c - s * up(p) if p <= 0.5 else c + s * up(1 - p)
    u = lambda p: c + s * up(p) if p <= 0.5 else c - s * up(1 - p)
    below = lambda t: S(-t) if t < 0 else 1 - S(t)
    cases(f"student({nu!r};{mid!r};{scale!r})", q, u, lambda x: below((x - c) / s), lambda x: below((c - x) / s), c, s * mp.sqrt(n / (n - 2)))


def weibull_(k, scale, start):
    k_, s, f = m(k), m(scale), m(start)
    y = lambda p: f + s * (-mp.log1p(-p)) ** (1 / k_)
    u = lambda p: f + s * (-mp.log(p)) ** (1 / k_)
    cases(f"weibull({k!r};{scale!r};{start!r})", y, u, lambda x: -mp.expm1(-(((x - f) / s) ** k_)), lambda x: mp.exp(-(((x - f) / s) ** k_)),
          f + s * mp.gamma(1 + 1 / k_), s * mp.sqrt(mp.gamma(1 + 2 / k_) - mp.gamma(1 + 1 / k_) ** 2))


def arcsine_(lo, hi):
    a, b = m(lo), m(hi)
    w = b - a
    cases(f"arcsine({lo!r};{hi!r})", lambda p: a + w * mp.sin(mp.pi * p / 2) ** 2, lambda p: b - w * mp.sin(mp.pi * p / 2) ** 2,
          lambda x: 2 / mp.pi * mp.asin(mp.sqrt((x - a) / w)), lambda x: 2 / mp.pi * mp.asin(mp.sqrt((b - x) / w)), (a + b) / 2, w / mp.sqrt(8))


def by_density(name, ends, density, chance, chances=CHANCES):
    """A bounded distribution from its CDF between the kinks `ends`; quantiles by bisection of ln x from either end."""
    lo, hi = ends[0], ends[-1]
    mean = mp.quad(lambda x: x * density(x), ends)
    sd = mp.sqrt(mp.quad(lambda x: (x - mean) ** 2 * density(x), ends))

    def from_end(F, p):
        a, b = mp.log(p) - 20, mp.log(hi - lo)
        for _ in range(260):
            mid = (a + b) / 2
            a, b = (mid, b) if F(mp.exp(mid)) < p else (a, mid)
        return mp.exp((a + b) / 2)

    F = lambda t: chance(lo + t, t, True)
    S = lambda t: chance(hi - t, t, False)
    cases(name, lambda p: lo + from_end(F, p) if p <= 0.5 else hi - from_end(S, 1 - p), lambda p: hi - from_end(S, p) if p <= 0.5 else lo + from_end(F, 1 - p),
          lambda x: F(x - lo), lambda x: S(hi - x), mean, sd, chances)


def trapezoidal_(a, b, c, d):
    a_, b_, c_, d_ = m(a), m(b), m(c), m(d)
    h = 2 / (d_ - a_ + c_ - b_)

    def part(t, rise, flat, fall):
        if t <= rise and rise > 0:
            return h * t * t / rise / 2
        if t <= rise + flat:
            return h * (rise / 2 + (t - rise))
        r = rise + flat + fall - t
        return 1 - (h * r * r / fall / 2 if fall > 0 else 0)

    dens = lambda x: h * ((x - a_) / (b_ - a_) if x < b_ else 1 if x <= c_ else (d_ - x) / (d_ - c_))
    by_density(f"trapezoidal({a!r};{b!r};{c!r};{d!r})", sorted({a_, b_, c_, d_}), dens,
               lambda x, t, low: part(t, b_ - a_, c_ - b_, d_ - c_) if low else part(t, d_ - c_, c_ - b_, b_ - a_))


def curvilinear_(lo, hi, half):
    a, b, d = m(lo), m(hi), m(half)
    mid, w, v = (a + b) / 2, (b - a) / 2 + d, (b - a) / 2 - d
    dens = lambda x: mp.log(w / max(abs(x - mid), v)) / (4 * d)

    def part(t):  # within t of an end
        r = w - t
        if r >= v:
            return (t + r * mp.log(r / w)) / (4 * d)
        if r >= -v:
            return m("0.5") - r * mp.log(w / v) / (4 * d)
        return 1 - part(2 * w - t)

    mp.mp.dps = 80  # the difference of the logarithm loses digits near the ends
    by_density(f"curvilinear({lo!r};{hi!r};{half!r})", [mid - w, mid - v, mid + v, mid + w], dens, lambda x, t, low: part(t), [1e-30, 1e-16, 1e-9] + CHANCES[3:])
    mp.mp.dps = 60


between(0.068, 0.07)
between(-3.0, 1e15)
log_between(0.001, 10.0)
log_between(68.0, 68.1)
log_between(1e-06, 1e15)
triangular(350.0, 550.0, 900.0)
triangular(0.0, 0.0, 1.0)
triangular(-1e-06, 0.0, 0.0)
pert(0.225, 0.235, 0.25)
pert(0.0, 0.9, 1.0)
pert(10.0, 10.0, 20.0)
pert(0.0, 0.0, 1e15)
pert(0.0, 1e-06, 1e-06)
normal(0.0, 1.0)
normal(480.0, 6.0)
normal(1e-06, 1e-07)
normal(450.0, float(m(36) / -score(m("0.05"))), "likely(450.0;36.0)")
log_normal("lognormal(1.5;1.25)", mp.log(m(1.5)), mp.log(m(1.25)))
log_normal("lognormal(1e-06;1.001)", mp.log(m(1e-06)), mp.log(m(1.001)))
log_normal("lognormal(1e+15;3.0)", mp.log(m(1e15)), mp.log(m(3)))
for M, D in ((100.0, 15.0), (1e15, 2e15)):
    v = mp.log1p((m(D) / m(M)) ** 2)
    log_normal(f"lognormal_mean_sd({M!r};{D!r})", mp.log(m(M)) - v / 2, mp.sqrt(v))
truncated_normal(0.0085, 0.0006, 0.006, None)
truncated_normal(0.0, 1.0, -1.0, 2.0)
truncated_normal(0.0, 1.0, 5.0, 6.0)
truncated_normal(10.0, 2.0, None, 0.0)
truncated_normal(0.0, 1.0, -0.001, 0.001)
truncated_normal(0.0, 1.0, 6.5, None)
truncated_normal(0.971, 0.0095, None, 0.995)
truncated_normal(0.0, 1.0, 30.0, 31.0)
truncated_log_normal(1.6487212707001282, 1.2840254166877414, 1.2, 2.0)
percentiles([(0.1, 10.0), (0.5, 14.0), (0.9, 22.0)])
percentiles([(0.05, 3.0), (0.25, 5.0), (0.5, 6.0), (0.95, 12.0)])
percentiles([(0.025, -1e-06), (0.975, 1e15)])
FEW = [1e-300, 1e-16, 1e-6, 0.001, 0.05, 0.25, 0.5, 0.75, 0.95, 0.999]
beta_(2.0, 5.0, 0.0, 1.0)
beta_(0.5, 0.5, 0.0, 1.0)
beta_(80.0, 3.0, 0.0, 1.0)
beta_(0.05, 2.0, 0.0, 1.0, CHANCES[2:])
beta_(1.0, 1.0, 10.0, 20.0)
beta_(400.0, 700.0, -1.0, 1.0, FEW)
gamma_(0.1, 1.0, 0.0, CHANCES[2:])
gamma_(0.9, 1e15, 0.0)
gamma_(1.0, 1.0, 0.0)
gamma_(2.5, 3.0, 0.0)
gamma_(100.0, 0.5, 5.0)
gamma_(3000.0, 1e-06, 0.0, FEW)
student_(3.0, 0.0, 1.0)
student_(2.1, 0.0, 1.0)
student_(5.5, 0.0, 1.0)
student_(18.0, 50000623.0, 25.0)
student_(30.0, 0.0, 1.0)
student_(1000.0, 0.0, 1e-06)
weibull_(1.5, 2.0, 0.0)
weibull_(0.3, 1e15, 0.0)
weibull_(40.0, 2.0, 1.0)
weibull_(1000.0, 1.0, 0.0)
arcsine_(-0.5, 0.5)
arcsine_(0.0, 1e15)
trapezoidal_(0.0, 1.0, 3.0, 4.0)
trapezoidal_(-2.0, -2.0, 0.5, 1.0)
trapezoidal_(1e-06, 2e-06, 2e-06, 2e-06)
curvilinear_(-1.0, 1.0, 0.1)
curvilinear_(-0.05, 0.05, 0.025)
curvilinear_(10.0, 12.0, 0.999)
