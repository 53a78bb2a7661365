"""Two-dimensional steady reference for package ioniser: a blown bar before a charged web.

Plane x (from the mouth to the web) and y (along the web, which moves to +y). Two species with drift, molecular and turbulent diffusion,
recombination and Poisson's equation; finite volumes with exponentially fitted fluxes, Newton on all unknowns, continuation in space charge.
In the mesh: bar body (earthed, |y| <= body/2, x <= 0) with the mouth in its front, the far earthed wall of the room at x = -room, the web with its charge,
earthed metal at h behind it. The air is a plane jet of the usual constants (spread 0.105, Goertler profile) that turns before the web and runs off as a
wall jet; its mass fluxes come from a stream function, so that they are free of divergence on the mesh. Eddy diffusivity 0.037 u_m y_half / 0.6.
"""
import sys, time
import numpy as np
from scipy.sparse import coo_matrix
from scipy.sparse.linalg import splu

e, eps, VT = 1.602176634e-19, 8.8541878128e-12, 0.02526


def bern(z):
    small, neg, pos = np.abs(z) < 1e-4, z < -600, z > 600
    zz = np.where(small | neg | pos, 1., z)
    b = zz / np.expm1(zz)
    d = (b / zz) * (1 - b - zz)
    b = np.where(small, 1 - z / 2 + z * z / 12, np.where(neg, -z, np.where(pos, 0., b)))
    return b, np.where(small, -.5 + z / 6, np.where(neg, -1., np.where(pos, 0., d)))


def graded(parts):
    """nodes from parts (start, end, n, first, last): lengths graded between first and last"""
    x = [parts[0][0]]
    for a, b, n, r0, r1 in parts:
        t = np.linspace(0, 1, n + 1)
        # density of nodes ~ 1/size, sizes from r0 to r1 relative, sinh-like by integrating geometric law
        s = np.exp(np.log(r0) + (np.log(r1) - np.log(r0)) * (t[1:] + t[:-1]) / 2)
        s *= (b - a) / s.sum()
        x += list(a + np.cumsum(s))
    return np.array(x)


class Jet:
    def __init__(self, u0, b0, d, delta=.158, grow=.113):
        self.u0, self.b0, self.d, self.delta, self.grow = u0, b0, d, delta, grow
        S = .105
        K = 1 / np.sqrt(S * np.sqrt(np.pi / (2 * np.log(2))))
        self.S, self.core = S, K * K * b0

    def free(self, x, y):
        """stream function of the half jet: int_0^y u dy; Gaussian of constant momentum, top hat with a mixing layer in the core by the same momentum"""
        x = np.maximum(x, 0)
        from scipy.special import erf
        um = np.where(x < self.core, self.u0, self.u0 * np.sqrt(self.core / np.maximum(x, self.core)))
        # half width at half speed; in the core the width that keeps the momentum flux of a flat top with Gaussian edge
        a = self.S / np.sqrt(np.log(2))
        g = np.where(x < self.core, a * x, a * x)          # e-folding width of the edge
        # flat part c: u0^2 (2c + g sqrt(pi/2)) = u0^2 b0
        c = np.where(x < self.core, np.maximum(self.b0 - g * np.sqrt(np.pi / 2), 0) / 2, 0)
        g = np.maximum(g, 1e-9)
        # past the core the width follows from momentum exactly
        g = np.where(x < self.core, g, self.b0 * self.u0 ** 2 / (um ** 2 * np.sqrt(np.pi / 2)))
        flat = np.minimum(y, c)
        edge = np.where(y > c, g * np.sqrt(np.pi) / 2 * erf((y - c) / g), 0)
        return um * (flat + edge), um, g

    def psi(self, x, y):
        """mass flux between the axis and y at x, to the web"""
        if self.u0 == 0:
            return 0 * x * y
        x1 = (1 - self.delta) * self.d
        p, _, _ = self.free(np.minimum(x, x1), y)
        g = 1 + self.grow * y / (self.delta * self.d)
        s = np.clip((self.d - x) / (self.delta * self.d * g), 0, 1)
        # free jet as far as the wall layer, in which the flux falls to nothing at the web; the wall jet keeps its momentum, so that its
        # flux grows as the root of its thickness
        return p * s * np.sqrt(g)

    def eddy(self, x, y):
        if self.u0 == 0:
            return 0 * x * y
        x1 = (1 - self.delta) * self.d
        _, um, g = self.free(np.minimum(x, x1), y)
        yh = g * np.sqrt(np.log(2))
        dt = .037 * um * yh / .6
        inside = np.exp(-np.maximum(y / (2.5 * yh) - 1, 0) ** 2)
        wall = np.clip((self.d - x) / (self.delta * self.d), 0, 1)   # eddies die at the web
        g = 1 + self.grow * y / (self.delta * self.d)
        layer = np.where(self.d - x < self.delta * self.d * g, .5 * np.sqrt(g), 0)
        return dt * np.maximum(inside, layer) * wall


class Case:
    """sigma: charge with which the web arrives; speed: of the web, None for a web that keeps sigma everywhere"""

    def __init__(self, d, sigma, u0, speed=None, h=.3, I=3e-4, w=200., b0=1e-3,
                 mu=(1.6e-4, 1.4e-4), alpha=1.6e-12, body=.02, room=.5, Y=None, mesh=1., plane=False):
        self.d, self.sigma, self.u0, self.h, self.G, self.w, self.b0, self.mu, self.alpha, self.speed = d, sigma, u0, h, I / e, w, b0, mu, alpha, speed
        m = mesh
        Y = Y or max(3 * d, .3)
        yb = body / 2
        N = lambda k: int(round(k * m))
        up = graded([(0, b0 / 2, N(4), 1, 1), (b0 / 2, yb, N(14), .25, 4), (yb, min(.12, Y / 2), N(16), 1, 10), (min(.12, Y / 2), Y, N(14), 1, 4)])
        self.yn = np.concatenate([-up[:0:-1], up])
        gap = graded([(0, d / 2, N(28), .02, 1), (d / 2, d, N(22), 1, .03)])
        back = graded([(d, d + h, N(14), .05, 1)])
        front = graded([(-room, 0, N(14), 1, .02)])
        self.xn = np.concatenate([front[:-1], gap[:-1], back])
        self.ix0, self.ix1 = N(14), N(14) + N(28) + N(22)
        mid = len(up) - 1
        nb, nbody = N(4), N(4) + N(14)
        if plane:
            nbody = mid
        self.jm = slice(mid - nb, mid + nb)                 # mouth
        self.jb = slice(mid - nbody, mid + nbody)           # front of the body
        self.jet = Jet(u0, b0, d)
        self.setup()

    def setup(self):
        x, y = self.xn, self.yn
        nx, ny = len(x) - 1, len(y) - 1
        self.nx, self.ny = nx, ny
        self.dx, self.dy = np.diff(x), np.diff(y)
        self.xc, self.yc = (x[1:] + x[:-1]) / 2, (y[1:] + y[:-1]) / 2
        solid = np.zeros((nx, ny), bool)
        solid[:self.ix0, self.jb] = True
        self.pid = -np.ones((nx, ny), int)
        self.pid[~solid] = np.arange((~solid).sum())
        self.cid = -np.ones((nx, ny), int)
        self.nc = (self.ix1 - self.ix0) * ny
        self.cid[self.ix0:self.ix1] = np.arange(self.nc).reshape(-1, ny)
        self.np_ = (~solid).sum()
        a, b, k = [], [], []
        for i in range(1, nx):
            if i == self.ix1:
                continue
            A, B = self.pid[i - 1], self.pid[i]
            ok = (A >= 0) & (B >= 0)
            a.append(A[ok]); b.append(B[ok]); k.append((self.dy / (self.xc[i] - self.xc[i - 1]))[ok])
        for j in range(1, ny):
            A, B = self.pid[:, j - 1], self.pid[:, j]
            ok = (A >= 0) & (B >= 0)
            a.append(A[ok]); b.append(B[ok]); k.append((self.dx / (self.yc[j] - self.yc[j - 1]))[ok])
        cat = np.concatenate
        self.pa, self.pb, self.pk = cat(a), cat(b), cat(k)
        g, gk = [self.pid[nx - 1]], [self.dy / (self.dx[-1] / 2)]
        A = self.pid[0]
        g.append(A[A >= 0]); gk.append((self.dy / (self.dx[0] / 2))[A >= 0])
        g.append(self.pid[self.ix0, self.jb]); gk.append(self.dy[self.jb] / (self.dx[self.ix0] / 2))
        for jj in (self.jb.stop, self.jb.start - 1):
            if 0 <= jj < ny:
                g.append(self.pid[:self.ix0, jj]); gk.append(self.dx[:self.ix0] / (self.dy[jj] / 2))
        self.ga, self.gk = cat(g), cat(gk)
        self.wa, self.wb = self.pid[self.ix1 - 1], self.pid[self.ix1]
        self.ka, self.kb = 2 / self.dx[self.ix1 - 1], 2 / self.dx[self.ix1]
        X, Yg = np.meshgrid(x, np.abs(y), indexing='ij')
        psi = self.jet.psi(X, Yg) * np.sign(y)
        fa, fb, fl, fd, fq, fD = [], [], [], [], [], []
        for i in range(self.ix0 + 1, self.ix1):
            fa.append(self.cid[i - 1]); fb.append(self.cid[i]); fl.append(self.dy); fd.append(np.full(ny, self.xc[i] - self.xc[i - 1]))
            fq.append(psi[i, 1:] - psi[i, :-1]); fD.append(self.jet.eddy(x[i] + 0 * self.yc, np.abs(self.yc)))
        r = np.arange(self.ix0, self.ix1)
        for j in range(1, ny):
            fa.append(self.cid[r, j - 1]); fb.append(self.cid[r, j]); fl.append(self.dx[r]); fd.append(np.full(len(r), self.yc[j] - self.yc[j - 1]))
            fq.append(-(psi[r + 1, j] - psi[r, j])); fD.append(self.jet.eddy(self.xc[r], np.abs(y[j]) + 0 * self.xc[r]))
        self.fa, self.fb, self.fl, self.fd, self.fq, self.fD = map(cat, (fa, fb, fl, fd, fq, fD))
        self.c2p = self.pid[self.ix0:self.ix1].ravel()
        self.carea = (self.dx[self.ix0:self.ix1, None] * self.dy[None, :]).ravel()
        row = self.cid[self.ix0]
        js = np.arange(ny)
        body = (js >= self.jb.start) & (js < self.jb.stop)
        mouth = (js >= self.jm.start) & (js < self.jm.stop)
        self.jmouth, self.jfront, self.jopen = js[mouth], js[body & ~mouth], js[~body]
        self.row = row
        self.web_c = self.cid[self.ix1 - 1]
        rr = slice(self.ix0, self.ix1)
        self.out_c = cat([self.cid[rr, ny - 1], self.cid[rr, 0]])
        qo = -(psi[self.ix0 + 1:self.ix1 + 1] - psi[self.ix0:self.ix1])
        self.out_q = cat([qo[:, ny], -qo[:, 0]])
        self.N = self.G / (self.b0 * (self.w + self.u0 + 1e-3))

    def residual(self, y, q):
        nc, npt, ny = self.nc, self.np_, self.ny
        c, m, V, s = y[:nc], y[nc:2 * nc], y[2 * nc:2 * nc + npt], y[2 * nc + npt:]     # s: charge of the web over sigma
        N = self.N
        n_all = 2 * nc + npt + ny
        R, I, J, W = np.zeros(n_all), [], [], []
        S = 1000.       # potentials in kV

        def put(i, j, v):
            i, j, v = np.broadcast_arrays(i, j, v)
            I.append(i.ravel()); J.append(j.ravel()); W.append(np.asarray(v, float).ravel())

        def add(i, v):
            R[:] += np.bincount(i, v, n_all)
        pot, web = 2 * nc, 2 * nc + npt
        a, b, k = self.pa, self.pb, self.pk
        f = k * (V[a] - V[b])
        add(pot + a, f); add(pot + b, -f)
        put(pot + a, pot + a, k); put(pot + a, pot + b, -k); put(pot + b, pot + b, k); put(pot + b, pot + a, -k)
        add(pot + self.ga, self.gk * V[self.ga]); put(pot + self.ga, pot + self.ga, self.gk)
        ka, kb, wa, wb = self.ka, self.kb, self.wa, self.wb
        js = np.arange(ny)
        # the web has -sigma s, so that positive ions are the counter-ions: ka (Vw - Va) + kb (Vw - Vb) = -sigma s/eps0
        ws = self.sigma / eps / S / (ka + kb)
        Vw = (ka * V[wa] + kb * V[wb]) / (ka + kb) - ws * s
        dy = self.dy
        add(pot + wa, ka * (V[wa] - Vw) * dy); add(pot + wb, kb * (V[wb] - Vw) * dy)
        put(pot + wa, pot + wa, ka * (1 - ka / (ka + kb)) * dy); put(pot + wa, pot + wb, -ka * kb / (ka + kb) * dy); put(pot + wa, web + js, ka * ws * dy)
        put(pot + wb, pot + wb, kb * (1 - kb / (ka + kb)) * dy); put(pot + wb, pot + wa, -ka * kb / (ka + kb) * dy); put(pot + wb, web + js, kb * ws * dy)
        g = q * e / eps * N / S * self.carea
        add(pot + self.c2p, -g * (c - m))
        ci = np.arange(nc)
        put(pot + self.c2p, ci, -g); put(pot + self.c2p, nc + ci, g)
        # charge of the web: speed (s_j - s_(j-1)) sigma + e (counter - like) = 0, or s = 1
        v = self.speed
        back = np.concatenate([[1.], s[:-1]])
        put(web + js, web + js, 1.)
        if v is None:
            R[web:] = s - 1
        else:
            R[web:] = s - back
            put(web + js[1:], web + js[:-1], -1.)
        self.to = {}
        for sp, (n, sign, off) in enumerate(((c, 1., 0), (m, -1., nc))):
            mu = self.mu[sp]
            D = mu * VT + self.fD
            fa, fb = self.fa, self.fb
            pa, pb = self.c2p[fa], self.c2p[fb]
            vel = self.fq / self.fl + sign * mu * (V[pa] - V[pb]) * S / self.fd
            z = vel * self.fd / D
            p, dp = bern(-z)
            r, dr = bern(z)
            kk = self.fl * D / self.fd
            f = kk * (p * n[fa] - r * n[fb])
            add(off + fa, f); add(off + fb, -f)
            put(off + fa, off + fa, kk * p); put(off + fa, off + fb, -kk * r); put(off + fb, off + fa, -kk * p); put(off + fb, off + fb, kk * r)
            dv = self.fl * (-dp * n[fa] - dr * n[fb]) * sign * mu * S / self.fd
            put(off + fa, pot + pa, dv); put(off + fa, pot + pb, -dv); put(off + fb, pot + pa, -dv); put(off + fb, pot + pb, dv)
            # mouth
            mc, L, h2 = self.row[self.jmouth], dy[self.jmouth], self.dx[self.ix0] / 2
            pm = self.c2p[mc]
            vel = self.u0 - sign * mu * V[pm] * S / h2
            flux = np.where(vel > 0, self.G / N / self.b0 * vel / (self.w + vel), vel * n[mc])
            dfl = np.where(vel > 0, self.G / N / self.b0 * self.w / (self.w + vel) ** 2, n[mc])
            add(off + mc, -flux * L)
            put(off + mc, pot + pm, dfl * L * sign * mu * S / h2)
            put(off + mc, off + mc, np.where(vel > 0, 0., -vel) * L)
            self.to['mouth', sp] = (flux * L).sum() * N

            def sink(cells, L, h2, key, Vf=0., parts=(), scale=None):
                """cells lose ions to a face at potential Vf = sum of parts (column, factor)"""
                pm = self.c2p[cells]
                vel = sign * mu * (V[pm] - Vf) * S / h2
                D = mu * VT
                p, dp = bern(-vel * h2 / D)
                f = L * D / h2 * p * n[cells]
                add(off + cells, f)
                put(off + cells, off + cells, L * D / h2 * p)
                d = L * (-dp) * n[cells] * sign * mu * S / h2
                put(off + cells, pot + pm, d)
                for col, fac in parts:
                    put(off + cells, col, -d * fac)
                self.to[key, sp] = f * N
                if scale is not None:      # the web takes it
                    t = scale * sign * e * N / (self.sigma * self.speed)
                    R[web:] += t * f
                    put(web + js, off + cells, t * L * D / h2 * p)
                    put(web + js, pot + pm, t * d)
                    for col, fac in parts:
                        put(web + js, col, -t * d * fac)
            sink(self.row[self.jfront], dy[self.jfront], self.dx[self.ix0] / 2, 'body')
            if len(self.jopen):
                po = self.pid[self.ix0 - 1, self.jopen]
                sink(self.row[self.jopen], dy[self.jopen], self.xc[self.ix0] - self.xc[self.ix0 - 1], 'open', V[po], ((pot + po, 1.),))
            sink(self.web_c, dy, self.dx[self.ix1 - 1] / 2, 'web', Vw,
                 ((pot + wa, ka / (ka + kb)), (pot + wb, kb / (ka + kb)), (web + js, -ws)), None if v is None else 1.)
            oc = self.out_c
            vq = np.maximum(self.out_q, 0)
            add(off + oc, vq * n[oc])
            put(off + oc, off + oc, vq)
            self.to['out', sp] = (vq * n[oc]) * N
            rec = self.alpha * N * c * m * self.carea
            add(off + ci, rec)
            put(off + ci, ci, self.alpha * N * m * self.carea); put(off + ci, nc + ci, self.alpha * N * c * self.carea)
        self.recombined = rec.sum() * N
        A = coo_matrix((np.concatenate(W), (np.concatenate(I), np.concatenate(J))), shape=(n_all, n_all)).tocsc()
        self.Vw = Vw * S
        return R, A

    def solve(self, y=None, log=False):
        nc, npt = self.nc, self.np_
        cold = y is None
        speed = self.speed
        if cold:
            y = np.zeros(2 * nc + npt + self.ny)
            y[:2 * nc] = 1e-6
            y[2 * nc + npt:] = 1.
            R, A = self.residual(y, 0.)
            k = slice(2 * nc, 2 * nc + npt)
            y[k] -= splu(A[k, k].tocsc()).solve(R[k])
        steps = [(1e-4, None), (1e-2, None), (.1, None), (.3, None), (.6, None), (1., None)] if cold else [(1., None)]
        if speed is not None:
            steps += [(1., speed * f) for f in (1000., 200., 60., 30., 20., 14., 10., 7., 5., 4., 3., 2.4, 2., 1.7, 1.4, 1.2, 1.)] if cold else [(1., speed)]
        for q, v in steps:
            self.speed = v
            for it in range(100):
                R, A = self.residual(y, q)
                st = splu(A).solve(-R)
                pv = slice(2 * nc, 2 * nc + npt)
                fs = np.abs(y[pv]).max() + 1e-3
                t = min(1., .3 * fs / (np.abs(st[pv]).max() + 1e-300), .3 / (np.abs(st[2 * nc + npt:]).max() + 1e-300))
                if it > 50:
                    t = min(t, .3)
                new = y + t * st
                new[:2 * nc] = np.maximum(new[:2 * nc], y[:2 * nc] * .1)
                w = slice(2 * nc + npt, None)
                ch = np.abs(st[:2 * nc]).max() / max(y[:2 * nc].max(), 1e-9)
                cv = max(np.abs(st[pv]).max() / fs, np.abs(st[w]).max())
                y = new
                if log:
                    print('   q %.3g v %s it %d dn %.2g dV %.2g t %.2f' % (q, v, it, ch, cv, t), flush=True)
                if t >= .3 and ch < 1e-5 and cv < 1e-6:
                    break
            else:
                self.speed = speed
                raise RuntimeError('no convergence at q %g speed %s' % (q, v))
        self.speed = speed
        self.residual(y, 1.)
        self.y = y
        self.I = e * (self.to['web', 0].sum() - self.to['web', 1].sum())
        self.left = y[-1] * self.sigma
        return self

    def summary(self):
        web = self.to['web', 0] - self.to['web', 1]
        up = self.yc > 0
        t = np.cumsum(web)
        place = [np.interp(f * t[-1], t, self.yn[1:]) for f in (.05, .25, .5, .75, .95)]
        mid = self.ny // 2
        F = (self.y[2 * self.nc + self.wa] * 1000. - self.Vw) / (self.dx[self.ix1 - 1] / 2)
        k = lambda x: float('%.4g' % x)
        return dict(I=k(self.I), left=k(self.left), mm=[int(round(p * 1e3)) for p in place], F0=k(F[mid]), Fin=k(F[0]),
                    Vw0=k(-self.Vw[mid]), mouth=k(e * self.to['mouth', 0]),
                    lost=k(e * self.to['out', 0].sum()), rec=k(e * self.recombined))
