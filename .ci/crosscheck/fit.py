"""Fits of package decay against scipy.

Five records are fitted by both: a stretched exponential and two exponentials
with known noise (absolute and relative), the same stretched record with unknown
noise, an exponential with 20 % noise, and the cost of the wrong law (a plain exponential through a stretched
decay). Compared are parameters, standard errors, chi squared and the
profile-likelihood interval of one parameter, which scipy computes here by brute
force: minimise over the others at fixed value, find the crossing by brentq.

Run from the root of the module:  python3 .ci/crosscheck/fit.py
Needs numpy and scipy. Exits with 1 on a disagreement.
"""
import json
import subprocess
import sys

import numpy as np
from scipy.integrate import quad
from scipy.optimize import brentq, curve_fit, least_squares
from scipy.stats import norm, t as student

rng = np.random.default_rng(2026)
EXP, TWO, KWW = 0, 2, 3  # numbers of decay.Model


def exponential(t, v0, tau):
    return v0 * np.exp(-t / tau)


def two(t, v0, tau1, tau2, w):
    return v0 * (w * np.exp(-t / tau1) + (1 - w) * np.exp(-t / tau2))


def stretched(t, v0, tau, beta):
    return v0 * np.exp(-((t / tau) ** beta))


t = np.logspace(-1, 3, 60)
v_kww = stretched(t, 1000, 50, 0.6)
v_kww = v_kww + rng.normal(size=t.size) * np.hypot(2, 0.01 * v_kww)
v_two = two(t, -800, 5, 120, 0.55) + rng.normal(size=t.size) * 3
t_wrong = np.logspace(-1, 3, 25)
v_wrong = stretched(t_wrong, 1000, 50, 0.6)
t_rel = np.logspace(-0.5, 1.7, 24)
v_rel = exponential(t_rel, 1000, 12) * (1 + 0.2 * rng.normal(size=t_rel.size))

cases = [
    dict(model=KWW, t=t, v=v_kww, abs=2.0, rel=0.01, known=True, f=stretched, names=["V0", "tau", "beta"], p0=[900, 40, 0.7], profile="beta"),
    dict(model=TWO, t=t, v=v_two, abs=3.0, rel=0.0, known=True, f=two, names=["V0", "tau1", "tau2", "w1"], p0=[-700, 4, 100, 0.5], profile="tau2"),
    dict(model=KWW, t=t, v=v_kww, abs=0.0, rel=0.0, known=False, f=stretched, names=["V0", "tau", "beta"], p0=[900, 40, 0.7], profile="tau"),
    dict(model=EXP, t=t_rel, v=v_rel, abs=5.0, rel=0.2, known=False, f=exponential, names=["V0", "tau"], p0=[900, 10], profile="V0"),
    dict(model=EXP, t=t_wrong, v=v_wrong, abs=0.0, rel=0.0, known=False, f=exponential, names=["V0", "tau"], p0=[900, 40], profile="tau"),
]
records = [dict(model=c["model"], t_s=c["t"].tolist(), v_V=c["v"].tolist(), abs_V=c["abs"], rel=c["rel"], known=c["known"], profile=c["profile"]) for c in cases]
ours = json.loads(subprocess.run(["go", "run", ".ci/crosscheck/fit.go"], input=json.dumps(records), capture_output=True, text=True, check=True).stdout)

bad = 0


def compare(what, got, want, rel):
    global bad
    d = abs(got / want - 1)
    ok = d <= rel
    bad += not ok
    print(f"{'ok ' if ok else 'BAD'} {what}: pithball {got:.10g}, scipy {want:.10g}, relative difference {d:.2g} (allowed {rel:g})")


def noise(c, m):
    return np.hypot(c["abs"], c["rel"] * m) if c["abs"] or c["rel"] else np.ones_like(m)


def deviance(c, m, v):
    """Signed roots of 2 int_m^v (v - u)/noise(u)^2 du."""
    if not c["rel"]:
        return (m - v) / noise(c, m)
    d = [2 * quad(lambda u: (b - u) / (c["abs"] ** 2 + (c["rel"] * u) ** 2), a, b, epsabs=0, epsrel=1e-12)[0] for a, b in zip(m, v)]
    return np.sign(m - v) * np.sqrt(d)


for c, o in zip(cases, ours):
    sigma = noise(c, c["v"])
    p = c["p0"]
    for _ in range(60 if c["rel"] else 1):
        p, cov = curve_fit(c["f"], c["t"], c["v"], p0=p, sigma=sigma, absolute_sigma=c["known"], ftol=1e-15, xtol=1e-15, gtol=1e-15, maxfev=100000)
        sigma = noise(c, c["f"](c["t"], *p))
    for i, n in enumerate(c["names"]):
        # Both minimise the same sum; it is flat to the square root of rounding there.
        compare(f"{o['model']} {n}", o["params"][n], p[i], 1e-6)
        # scipy differentiates by differences: about 1e-7 in the Jacobian.
        compare(f"{o['model']} error of {n}", o["errors"][n], np.sqrt(cov[i, i]), 1e-5)
    res = (c["f"](c["t"], *p) - c["v"]) / sigma
    rss, dof = float(res @ res), c["t"].size - len(p)
    if c["known"]:
        compare(f"{o['model']} chi2", o["chi2"], rss, 1e-9)
    scale = 1.0 if c["known"] else rss / dof
    q = norm.ppf(0.975) if c["known"] else student.ppf(0.975, dof)
    j = c["names"].index(c["profile"])
    others = [i for i in range(len(p)) if i != j]
    least = float(np.sum(deviance(c, c["f"](c["t"], *p), c["v"]) ** 2))

    def rise(x):
        full = p.copy()
        full[j] = x

        def r(y):
            full[others] = y * p[others]
            return deviance(c, c["f"](c["t"], *full), c["v"])

        s = least_squares(r, np.ones(len(others)), ftol=1e-13, xtol=1e-13, gtol=1e-13)
        return np.sqrt(max(2 * s.cost - least, 0) / scale) - q

    se = np.sqrt(cov[j, j])
    lo = brentq(rise, p[j] - min(4 * q * se, 0.9 * p[j]), p[j], rtol=1e-10)
    hi = brentq(rise, p[j], p[j] + 6 * q * se, rtol=1e-10)
    # pithball stops at 1e-5 of the half-width.
    for side, got, want in (("low", o["profile"][0], lo), ("high", o["profile"][1], hi)):
        compare(f"{o['model']} profile {side} of {c['profile']}", got - p[j], want - p[j], 1e-4)

# Cost of the wrong law: what a straight line through ln V makes of the same data.
w = v_wrong > 1
slope, icpt = np.polyfit(t_wrong[w], np.log(v_wrong[w]), 1)
print(f"wrong law: exponential V0 {ours[-1]['params']['V0']:.4g} V, tau {ours[-1]['params']['tau']:.4g} s, t(100 V) "
      f"{ours[-1]['params']['tau'] * np.log(ours[-1]['params']['V0'] / 100):.4g} s; line through ln V: V0 {np.exp(icpt):.4g} V, tau {-1 / slope:.4g} s, "
      f"t(100 V) {(icpt - np.log(100)) / -slope:.4g} s; truth {50 * np.log(10) ** (1 / 0.6):.4g} s")
print("disagreements:", bad)
sys.exit(bool(bad))
