"""Computes the expected values of the rows IO-* of testdata/ionflow.json again, by means that share nothing with package ioniser, and compares.

Run from the root of the module:   /usr/bin/python3 .ci/crosscheck/ioniser.py [--print]

Columns (IO-S, IO-J, IO-T, IO-B): steady drift, diffusion, recombination and space charge of two species along a stream, in finite volumes with
exponentially fitted fluxes (Scharfetter and Gummel 1969), all unknowns by Newton with sparse factorisation, continuation in the space charge:
  (b J+-)' = -b (alpha n m + s n)     J = n (u +- mu F) - D n'      F' = (e/eps0) (n - m) b/B      F(d) + (1/h) int F dx = sigma/eps0
  mouth: G a/(w + a) leaves, a = max(u +- mu F, 0), or a fixed density         web: every ion that touches it stays
F pulls the counter-ions to the web. b breadth of the plume, B breadth over which its field spreads. Cells are graded into both ends.
Passes (IO-P, IO-B): int dsigma/I = 1/v by scipy.integrate.quad. Everything else: closed forms and brentq. Exit status 1 on disagreement."""
import json
import sys
import warnings
import numpy as np
from scipy.integrate import quad
from scipy.optimize import brentq
from scipy.sparse import coo_matrix
from scipy.sparse.linalg import spsolve

e, eps, VT = 1.602176634e-19, 8.8541878128e-12, 0.02526
args = sys.argv[1:]
warnings.filterwarnings("ignore")   # quad on an interpolated integrand reaches its digits without meeting its goal


def bern(z):
    """Bernoulli function z/(exp z - 1) and its slope"""
    small, neg, pos = np.abs(z) < 1e-4, z < -600, z > 600
    zz = np.where(small | neg | pos, 1., z)
    b = zz / np.expm1(zz)
    d = (b / zz) * (1 - b - zz)
    b = np.where(small, 1 - z / 2 + z * z / 12, np.where(neg, -z, np.where(pos, 0., b)))
    return b, np.where(small, -.5 + z / 6, np.where(neg, -1., np.where(pos, 0., d)))


class Column:
    """u, b, B: functions of x; side: rate of side flow; mouth ('fixed', n) or ('return', G per metre and second, w)"""

    def __init__(self, d, u, b, B, mouth, mu, alpha, h=np.inf, side=lambda x: 0 * x, cells=480):
        t = np.linspace(0, 1, cells + 1)
        x = d * (.5 * t ** 2 * (3 - 2 * t) + .5 * t)
        self.x, self.dx, self.xc = x, np.diff(x), (x[1:] + x[:-1]) / 2
        self.u, self.bf, self.b, self.B = u(x), b(x) + 0 * x, b(self.xc) + 0 * self.xc, B(self.xc) + 0 * self.xc
        self.s = side(self.xc)
        self.mouth, self.mu, self.alpha, self.h, self.n = mouth, mu, alpha, h, cells
        self.y = None

    def residual(self, y, sigma, q):
        n = self.n
        c, m, F = y[:n], y[n:2 * n], y[2 * n:]
        N = self.scale
        R, I, J, V = np.zeros(3 * n + 1), [], [], []

        def put(i, j, v):
            i, j, v = np.broadcast_arrays(i, j, v)
            I.append(i.ravel()); J.append(j.ravel()); V.append(v.ravel())
        cell = np.arange(n)
        for k, (dens, sign, off) in enumerate(((c, 1., 0), (m, -1., n))):
            mu = self.mu[k]
            D = mu * VT
            w = self.u + sign * mu * F
            # inner faces
            hx = self.xc[1:] - self.xc[:-1]
            wi, bi = w[1:-1], self.bf[1:-1]
            z = wi * hx / D
            p, dp = bern(-z)
            r, dr = bern(z)
            f = bi * D / hx * (p * dens[:-1] - r * dens[1:])
            dfw = bi * (-dp * dens[:-1] - dr * dens[1:])
            left, right = cell[:-1], cell[1:]
            R[off + left] += f
            R[off + right] -= f
            for tgt, sg in ((left, 1.), (right, -1.)):
                put(off + tgt, off + left, sg * bi * D / hx * p)
                put(off + tgt, off + right, -sg * bi * D / hx * r)
                put(off + tgt, 2 * n + 1 + left, sg * dfw * sign * mu)
            # mouth
            w0 = w[0]
            if w0 > 0:
                if self.mouth[0] == 'fixed':
                    f0, d0 = self.bf[0] * self.mouth[1] / N * w0, self.bf[0] * self.mouth[1] / N
                else:
                    G, back = self.mouth[1] / N, self.mouth[2]
                    f0, d0 = G * w0 / (back + w0), G * back / (back + w0) ** 2
                put(off, 2 * n, -d0 * sign * mu)
            else:
                f0 = self.bf[0] * w0 * dens[0]
                put(off, off, -self.bf[0] * w0)
                put(off, 2 * n, -self.bf[0] * dens[0] * sign * mu)
            R[off] -= f0
            # web
            we = max(w[-1], 0.)
            hx = self.x[-1] - self.xc[-1]
            z = w[-1] * hx / D
            p, dp = bern(-z)
            fe = self.bf[-1] * D / hx * p * dens[-1]
            R[off + n - 1] += fe
            put(off + n - 1, off + n - 1, self.bf[-1] * D / hx * p)
            put(off + n - 1, 3 * n, -self.bf[-1] * dp * dens[-1] * sign * mu)
            if k == 0:
                self.out = [fe * N]
            else:
                self.out.append(fe * N)
            # losses
            rec = self.alpha * N * c * m
            R[off + cell] += self.b * self.dx * (rec + self.s * dens)
            put(off + cell, cell, self.b * self.dx * self.alpha * N * m)
            put(off + cell, n + cell, self.b * self.dx * self.alpha * N * c)
            put(off + cell, off + cell, self.b * self.dx * self.s)
        g = q * e / eps * N * self.dx * self.b / self.B
        R[2 * n + cell] = F[1:] - F[:-1] - g * (c - m)
        put(2 * n + cell, 2 * n + 1 + cell, 1.)
        put(2 * n + cell, 2 * n + cell, -1.)
        put(2 * n + cell, cell, -g)
        put(2 * n + cell, n + cell, g)
        w = np.zeros(n + 1)
        w[1:] += self.dx / 2
        w[:-1] += self.dx / 2
        w /= self.h
        w[-1] += 1
        R[3 * n] = w @ F - sigma / eps
        put(3 * n, 2 * n + np.arange(n + 1), w)
        A = coo_matrix((np.concatenate(V), (np.concatenate(I), np.concatenate(J))), shape=(3 * n + 1, 3 * n + 1)).tocsc()
        return R, A

    def solve(self, sigma):
        n = self.n
        self.scale = self.mouth[1] if self.mouth[0] == 'fixed' else self.mouth[1] / (self.bf[0] * (self.mouth[2] + self.u[0] + 1e-3))
        if self.y is None:
            y = np.concatenate([np.full(n, 1e-3), np.full(n, 1e-3), np.full(n + 1, sigma / eps / (1 + self.x[-1] / self.h))])
            steps = [1e-6, 1e-4, 1e-3, 1e-2, .03, .1, .2, .4, .7, 1.]
        else:
            y, steps = self.y.copy(), [1.]
        for q in steps:
            for it in range(200):
                R, A = self.residual(y, sigma, q)
                step = spsolve(A, -R)
                dens, field = step[:2 * n], step[2 * n:]
                top = max(y[:2 * n].max(), 1e-12)
                fs = np.abs(y[2 * n:]).max() + 1.
                t = min(1., .3 * fs / (np.abs(field).max() + 1e-300)) if it < 120 else min(.3, .1 * fs / (np.abs(field).max() + 1e-300))
                new = y + t * step
                new[:2 * n] = np.maximum(new[:2 * n], y[:2 * n] * .1)
                y = new
                if t == 1. and np.abs(dens).max() < 1e-9 * top and np.abs(field).max() < 1e-9 * fs:
                    break
            else:
                raise RuntimeError('no convergence at q = %g' % q)
        self.y = y
        self.residual(y, sigma, 1.)
        F = y[2 * n:]
        self.field, self.first = F[-1], F[0]
        self.voltage = float(((F[1:] + F[:-1]) / 2 * self.dx).sum())
        self.net = self.out[0] - self.out[1]
        return self


def plume(kind, u0, b0, xc):
    if kind == 0 or xc == 0:
        return (lambda x: u0 + 0 * x), (lambda x: b0 + 0 * x)
    if kind == 2:
        return (lambda x: u0 / (1 + x / xc)), (lambda x: b0 * (1 + x / xc) ** 2)
    return (lambda x: u0 / np.sqrt(1 + x / xc)), (lambda x: b0 * (1 + x / xc))


def column(a, **kw):
    kind = 0 if a['core'] == 0 else 2 if a['row'] else 1
    u, b = plume(kind, a['speed'], a['width'], a['core'])
    mouth = ('fixed', a['density']) if a['density'] > 0 else ('return', a['emission'] / e, a['back'])
    side = lambda x: 0 * x
    if a['turns']:
        d, v = a['distance'], a['speed']
        u = lambda x: np.where(x < .85 * d, v, v * (d - x) / (.15 * d))
        side = lambda x: np.where(x < .85 * d, 0., v / (.15 * d))
    h = a['gap'] if a['gap'] < 1e9 else np.inf
    return Column(a['distance'], u, b, lambda x: np.maximum(b(x), a['wide']), mouth, (a['counter'], a['like']), a['alpha'], h, side, **kw)


def point_law(a, mu_plus, mu_minus, top=np.inf):
    d, body = a['distance'], a['body'] or a['distance']
    V, Vs, beta = a['voltage'], a['start'], a.get('balance', 0.)
    if V > 0:
        mu_plus = mu_minus = min(mu_plus, mu_minus)
    K = lambda mu: eps * mu * min(2 / (d * a['pitch']), 1.35 / d ** 2)
    Kp, Km = K(mu_plus) * (1 + beta), K(mu_minus) * (1 - beta)
    g = lambda x: np.sign(x) * abs(x) * max(abs(x) - Vs, 0)

    def current(phi):
        y = sum(.5 * (Km * max(g(phi + s * V), 0) - Kp * max(-g(phi + s * V), 0)) for s in (1, -1))
        return y * top / (abs(y) + top) if np.isfinite(top) else y

    def field(phi):
        if phi == 0:
            return 0.
        g1 = lambda x: np.sign(x) * max(abs(x) - Vs, 0)
        sp = min(max(sum(.5 * g1(phi + s * V) for s in (1, -1)) / phi, 0), 1)
        return phi * (1 / body + sp * (1.5 / d - 1 / body))
    return current, field


def point_pass(a):
    current, field = point_law(a, a['mobility'], a['mobility'], a['emission'])
    sig = lambda phi: eps * (field(phi) + phi / a['gap'])
    phi_of = lambda s: brentq(lambda p: sig(p) - s, 0, 3e6, xtol=1e-9, rtol=1e-14)
    floor = 0. if a['voltage'] > 0 else sig(a['start'])
    I = lambda s: current(phi_of(s))
    # time from net down to s, in ln(s - floor)
    T = lambda s: quad(lambda l: np.exp(l) / I(floor + np.exp(l)), np.log(s - floor), np.log(a['net'] - floor), limit=400, epsrel=1e-8)[0]
    lo = floor + (a['net'] - floor) * 1e-12
    if T(lo) < 1 / a['speed']:
        return floor
    return brentq(lambda s: T(s) - 1 / a['speed'], lo, a['net'] * (1 - 1e-12), rtol=1e-10, xtol=1e-20)


def blown_pass(a):
    """stream alone, turning law over a finite-volume column"""
    kind = 0 if a['core'] == 0 else 2 if a['row'] else 1
    u, b = plume(kind, a['mouth'], a['width'], a['core'])
    d = a['distance']
    L = b(d) + .82 * d
    w = a['mouth'] * (1 - a['captured']) / a['captured']
    c, s = (a['minus'], a['plus']) if a['net'] > 0 else (a['plus'], a['minus'])
    col = Column(d, u, b, lambda x: np.maximum(b(x), L), ('return', a['emission'] / e, w), (c, s), a['alpha'], a['gap'])
    ud, bd = u(d), b(d)

    def I(sigma):
        col.solve(sigma)
        G = col.out[1]
        drift = c * col.field
        n = col.out[0] / (bd * (ud + drift))
        G = G / (1 + a['alpha'] * n * .15 * d / ud * np.log1p(ud / drift))
        return e * (G + col.net) * drift * L / (ud * bd + drift * L)
    net = abs(a['net'])
    grid = np.geomspace(net, net / 200, 60)
    cur = np.array([I(x) for x in grid])
    lI = lambda l: np.interp(-l, -np.log(grid), np.log(cur))
    T = lambda x: quad(lambda l: np.exp(l - lI(l)), np.log(x), np.log(net), limit=400, epsrel=1e-8)[0]
    return brentq(lambda x: T(x) - 1 / a['speed'], net / 199, net * (1 - 1e-12), rtol=1e-9)


def value(row):
    a, k = row['args'], row['compute'].split('.')[-1]
    if k == 'Column':
        col = column(a).solve(a['net'])
        return e * (col.out[0] if a['turns'] else col.net)
    if k == 'PointLaw':
        current, _ = point_law(a, a['plus'], a['minus'])
        if row['result'] == 'current':
            return current(a['potential'])
        lo, hi = -2 * (a['voltage'] + a['start']), 2 * (a['voltage'] + a['start'])
        if a['balance'] == 1:   # positive ions alone: where they cease
            return a['voltage'] - a['start']
        return brentq(current, -(a['voltage'] - a['start']), a['voltage'] - a['start'], xtol=1e-10)
    if k == 'PointPass':
        return point_pass(a)
    if k == 'Onset':
        return eps * a['tip_start'] * a['body'] / (a['body'] - a['distance']) * (1 / a['body'] + 1 / a['gap'])
    if k == 'Drawn':
        F = a['net'] / eps / (1 + 2 * a['distance'] / 3 / a['gap'])
        return eps * a['mobility'] * F * F / (2 * a['distance'])
    if k == 'Bunches':
        m = 1 / (1 + (a['speed'] / (2 * a['frequency'] * a['breadth'])) ** 2)
        al = m * a['alpha'] + (1 - m) * 2 * e * a['mobility'] / eps
        return a['flux'] / (1 + al * a['flux'] * a['distance'] / (a['speed'] ** 2 * a['breadth']))
    if k == 'Blown':
        return blown_pass(a)
    raise KeyError(k)


if __name__ == '__main__':
    bad = 0
    for row in json.load(open('testdata/ionflow.json')):
        if not row['id'].startswith('IO-') or row['source']['provenance'] != 'computed':
            continue
        got = value(row)
        off = abs(got - row['want'])
        ok = off <= 2e-3 * abs(row['want']) + 1e-6 * (row['want'] == 0)
        bad += not ok
        if '--print' in args or not ok:
            print('%-8s %.6g, row %.6g, ratio %.5f%s' % (row['id'], got, row['want'], got / row['want'] if row['want'] else 1, '' if ok else '   DISAGREES'))
    print('ioniser rows: %d disagree' % bad)
    sys.exit(bad > 0)
