"""Solves ionflow's one-dimensional reference cases again with scipy.integrate.solve_bvp and compares.

Run from the root of the module:   go run ./.ci/crosscheck/bvp | /usr/bin/python3 .ci/crosscheck/bvp.py [--print]

Equations (x along the stream, cross-section a, side flow s, J = flux per area):
  n+' = (n+(u + mu+ E) - J+)/D+      (a J+)' = -a (alpha n+ n- + s n+)     phi' = -E
  n-' = (n-(u - mu- E) - J-)/D-      (a J-)' = -a (alpha n+ n- + s n-)     (a E)' = a (e/eps0)(n+ - n-)
  n(0) given, phi(0) = 0, n(L) = 0, and phi(L) given | E(L) = -sigma/eps0 | J+(L) = J-(L)
Only the starting guess comes from the Go program, and it is spoilt on purpose: fields and fluxes are left out and rebuilt
from slopes, densities are 3 % low, the potential is 2 % low. scipy starts on meshes of its own (401 and 631 nodes by the rule
below, then its own refinement), so that the two do not share a mesh although both collocate at fourth order; the two starts
must agree with each other. Exit status 1 on disagreement."""
import json
import sys
import numpy as np
from scipy.integrate import solve_bvp

FLUX, FIELD, DENSITY = 1e-8, 1e-8, 4e-5   # relative; scipy's own change between its two starts is printed beside


def mesh(L, n, a):
    """n nodes, graded geometrically into both ends from lengths of order a"""
    t = np.concatenate([np.geomspace(a, L / 2, 40001) - a, L - np.geomspace(L / 2, a, 40001)[1:] + a])
    w = np.log1p(t / a) + np.log((L + a) / (L - t + a)) + 8 * t / L
    x = np.interp(np.linspace(w[0], w[-1], n), w, t)
    x[0], x[-1] = 0, L
    return x


def solve(c, n, tol=1e-3):
    L, u0, x0 = c['L'], c['U0'], c['X0']
    kind = c['Flow']
    mup, mum, al = c['MuP'], c['MuM'], c['Alpha']
    vt = c['KB'] * c['T'] / c['E']
    Dp, Dm = mup * vt, mum * vt
    N = max(c['P'], c['M'])
    Er, Vr = 1000. / L, 1000.

    def geo(x):
        if kind == 'const':
            return u0, 0., 0.
        if kind == 'stagnation':
            return u0 * (1 - x / L), 0., u0 / L
        q = 1 + x / x0
        return u0 / q, 2 / (x0 * q), 0.

    k = c['E'] * N / c['Eps0'] / Er

    def fun(x, y):
        u, dl, s = geo(x)
        p, m, jp, jm, v, e = y
        E = e * Er
        r = al * N * p * m
        return np.vstack([(p * (u + mup * E) - jp * u0) / Dp, (m * (u - mum * E) - jm * u0) / Dm,
                          -(r + s * p) / u0 - dl * jp, -(r + s * m) / u0 - dl * jm, -E / Vr, k * (p - m) - dl * e])

    def jac(x, y):
        u, dl, s = geo(x)
        p, m, jp, jm, v, e = y
        J = np.zeros((6, 6, x.size))
        J[0, 0], J[0, 2], J[0, 5] = (u + mup * e * Er) / Dp, -u0 / Dp, p * mup * Er / Dp
        J[1, 1], J[1, 3], J[1, 5] = (u - mum * e * Er) / Dm, -u0 / Dm, -m * mum * Er / Dm
        w = al * N / u0
        J[2, 0], J[2, 1], J[2, 2] = -w * m - s / u0, -w * p, -dl
        J[3, 0], J[3, 1], J[3, 3] = -w * m, -w * p - s / u0, -dl
        J[4, 5] = -Er / Vr
        J[5, 0], J[5, 1], J[5, 5] = k, -k, -dl
        return J

    def bc(a, b):
        w = {'potential': b[4] - c['Value'] / Vr, 'charge': b[5] + c['Value'] / c['Eps0'] / Er, 'floating': b[2] - b[3]}[c['Wall']]
        return np.array([a[0] - c['P'] / N, a[1] - c['M'] / N, a[4], b[0], b[1], w])

    x = mesh(L, n, 2e-8)
    p, m, v = 0.97 * np.interp(x, c['X'], c['Np']) / N, 0.97 * np.interp(x, c['X'], c['Nm']) / N, 0.98 * np.interp(x, c['X'], c['Phi']) / Vr
    e = -np.gradient(v, x) * Vr / Er
    u = geo(x)[0]
    jp = (p * (u + mup * e * Er) - Dp * np.gradient(p, x)) / u0
    jm = (m * (u - mum * e * Er) - Dm * np.gradient(m, x)) / u0
    q = solve_bvp(fun, bc, x, np.vstack([p, m, jp, jm, v, e]), fun_jac=jac, tol=tol, max_nodes=60000)
    return q, dict(Jp=q.y[2, -1] * u0 * N, Jm=q.y[3, -1] * u0 * N, EWall=q.y[5, -1] * Er, E0=q.y[5, 0] * Er, V=q.y[4, -1] * Vr), N


def main():
    np.seterr(all='ignore')
    bad = 0
    for c in json.load(sys.stdin):
        q1, a, N = solve(c, 401)
        q, b, N = solve(c, 631)
        if q.status != 0 or q1.status != 0:
            print('case %s: scipy did not converge: %s' % (c['Name'], q.message))
            bad += 1
            continue
        flux = max(abs(b['Jp']), abs(b['Jm']))
        field = max(abs(b['EWall']), abs(b['E0']))
        volt = max(abs(c_) for c_ in c['Phi'] + [1.])
        scale = dict(Jp=flux, Jm=flux, EWall=field, E0=field, V=volt)
        tol = dict(Jp=FLUX, Jm=FLUX, EWall=FIELD, E0=FIELD, V=FIELD)
        out = []
        for key in ('Jp', 'Jm', 'EWall', 'E0', 'V'):
            d, own = abs(c[key] - b[key]) / scale[key], abs(a[key] - b[key]) / scale[key]
            out.append('%s %.1e (%.0e)' % (key, d, own))
            bad += not d <= tol[key]
        xs = c['L'] * np.array([.1, .3, .5, .7, .9])
        y = q.sol(xs)
        d = max(np.abs(np.interp(xs, c['X'], c['Np']) / N - y[0]).max(), np.abs(np.interp(xs, c['X'], c['Nm']) / N - y[1]).max())
        # the straight line between the Go program's nodes adds up to 3e-5 to its density tolerance of 1e-6
        bad += not d <= DENSITY
        out.append('densities %.0e' % d)
        print('case %s: %d nodes against %d; differences (and scipy\'s own change): %s' % (c['Name'], len(c['X']), q.x.size, ', '.join(out)))
        if '--print' in sys.argv:
            print(json.dumps(dict(name=c['Name'], **{k_: float('%.10g' % w) for k_, w in b.items()}, x=[float('%.4g' % w) for w in xs],
                                  n_p=[float('%.8g' % (w * N)) for w in y[0]], n_n=[float('%.8g' % (w * N)) for w in y[1]])))
    print('scipy agrees' if not bad else '%d disagreements' % bad)
    sys.exit(1 if bad else 0)


if __name__ == '__main__':
    main()
