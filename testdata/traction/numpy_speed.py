#!/usr/bin/python3
"""Times the energy of 65,536 cars over UDDS in numpy, as a practised user writes it.

Steps outer, a block of cars inner, constants of a car once, no temporary where numpy can
write into one that is there; blocks of several sizes, the best counts. Prints nanoseconds
of processor time a car (NumPy on one thread), the smallest of ten.
Run it together with ours, on one machine:
  ./numpy_speed.py; go test ../../model/traction -run x -bench 'Reduced/.*udds|Total/.*udds'
"""
import os

os.environ.setdefault("OMP_NUM_THREADS", "1")
import time
from pathlib import Path

import numpy as np

PUBLISHED = Path(__file__).resolve().parent.parent.parent / "model" / "schedule" / "published"


def udds():
    v = []
    for line in (PUBLISHED / "udds.csv").read_text().splitlines():
        if line and not line.startswith("#"):
            v += [float(x) * 0.44704 for x in line.split(",")[1:] if x]
    v = np.array(v)
    mean, accel = (v[1:] + v[:-1]) / 2, np.diff(v)
    moving = mean > 0
    return mean[moving], accel[moving], int((~moving).sum())


def cars(n, random):
    typical = dict(mass=2010, rotating=0.03, rolling=167, slope=0.5, air=0.365, gear=8.7, radius=0.337, eta=0.95, torque=0.034,
                   spin=0.6, cubic=2e-7, idle=270, share=0.91, low=1.0, high=4.0, limit=60e3, aux=190, u=346, r=0.054)
    fixed = ("low", "high")
    return {k: x * np.ones(n) if k in fixed else x * random.uniform(0.95, 1.05, n) for k, x in typical.items()}


def energy(c, speeds, accels, rest):
    turn = c["gear"] / c["radius"]
    inertia, drive, brake = c["mass"] * (1 + c["rotating"]), 1 / c["eta"], c["eta"] * c["share"]
    cap = c["eta"] * c["limit"]
    kappa, c1, c3 = c["torque"] / turn ** 2, c["spin"] * turn, c["cubic"] * turn ** 3
    fixed, u2, r4 = c["idle"] + c["aux"], c["u"] ** 2, 4 * c["r"]
    fade = 1 / (c["high"] - c["low"])
    total, x, t, p = (np.zeros_like(fixed) for _ in range(4))
    for v, a in zip(speeds, accels):
        np.multiply(c["air"], v, out=t)
        t += c["slope"]
        t *= v
        t += c["rolling"]
        np.multiply(inertia, a, out=x)
        x += t                                      # force
        np.multiply(x, brake, out=t)
        if v < c["high"][0]:                        # the same for all cars
            t *= np.clip((v - c["low"]) * fade, 0, 1)
        np.maximum(t, -cap / v, out=t)
        np.multiply(x, drive, out=p)
        np.copyto(t, p, where=x > 0)                # shaft
        np.multiply(kappa, t, out=p)
        p += v
        p *= t
        np.multiply(c3, v * v, out=x)
        x += c1
        x *= v
        p += x
        p += fixed
        p *= r4
        np.subtract(u2, p, out=p)
        np.sqrt(p, out=p)
        np.subtract(c["u"], p, out=p)
        total += p
    return (total + rest * (c["u"] - np.sqrt(u2 - r4 * fixed))) * c["u"] / (2 * c["r"])


def main():
    speeds, accels, rest = udds()
    n = 65_536
    everyone = cars(n, np.random.default_rng(1))
    for block in (1024, 4096, 16384):
        parts = [{k: x[i:i + block] for k, x in everyone.items()} for i in range(0, n, block)]
        best = min(timed(parts, speeds, accels, rest) for _ in range(10))
        print(f"blocks of {block}: {best / n * 1e9:.0f} ns a car, {best / n / len(speeds) * 1e9:.2f} ns a car and moving second")


def timed(parts, speeds, accels, rest):
    began = time.process_time()
    for part in parts[: max(1, len(parts) // 8)]:
        energy(part, speeds, accels, rest)
    return (time.process_time() - began) * len(parts) / max(1, len(parts) // 8)


main()
