"""Charge on a moving web in the free span between two earthed rollers, against
a second discretisation that shares nothing with the Go code but the physics.

Go:   collocation with the csch^2 kernel by the odd-point trapezium rule,
      finite volumes for the transport.
Here: piecewise linear Galerkin elements for potential and charge on another
      mesh; the electrostatic energy in its logarithmic form
          a(u,v) = int u v 2R/x^2 dx - (1/pi) iint u'(x) v'(x') ln(1 - exp(-2 pi R |1/x - 1/x'|)) dx dx'
      (the strip of width 1/(2R) that the inversion 1/x makes of the gap), by
      Gauss quadrature clustered at the singularity; transport in weak form.
The operator itself is checked first: the kernel against boundary elements on the
circles, and the logarithmic form by its Fourier transform.

Run from the root of the module: python3 .ci/crosscheck/web_span.py
Needs numpy and scipy. Exits with 1 on disagreement."""
import json, subprocess, sys
import numpy as np
import scipy.integrate as si
import scipy.linalg as sl

def gauss(n):
    t, w = np.polynomial.legendre.leggauss(n)
    return (t + 1) / 2, w / 2

def kern(R, d, xx):
    """-(1/pi) ln(1 - exp(-2 pi R |1/x - 1/y|)) from d = x - y and xx = x y."""
    return -np.log(-np.expm1(-2 * np.pi * R * np.abs(d / xx))) / np.pi

def energy(n, near, sep, size, R):
    """E_ij = iint over elements i, j of kern. near(e, f) is the distance to the tangent line at
    fraction f of element e, sep the distance of two such points."""
    E = np.zeros((n, n))
    t, w = gauss(6)
    e = np.arange(n)
    far = np.abs(np.subtract.outer(e, e)) > 1
    I, J = e[:, None], e[None, :]
    for a in range(len(t)):
        for b in range(len(t)):
            d = np.where(far, sep(I, t[a], J, t[b]), 1.0)
            E += w[a] * w[b] * np.where(far, kern(R, d, near(I, t[a]) * near(J, t[b])), 0)
    p, P = 5, gauss(28)
    c, cw = P[0] ** p, P[1] * p * P[0] ** (p - 1)             # clustered at 0
    for i in range(n):
        # Diagonal: twice the triangle, difference of fractions c, start uniform on 0 ... 1-c.
        f = (1 - c)[:, None] * t[None, :]
        K = kern(R, c[:, None] * size[i], near(i, f) * near(i, f + c[:, None]))
        E[i, i] = 2 * np.sum(cw[:, None] * (1 - c)[:, None] * w[None, :] * K)
        if i + 1 < n:
            d = c[:, None] * size[i] + c[None, :] * size[i + 1]
            K = kern(R, d, near(i, 1 - c)[:, None] * near(i + 1, c)[None, :])
            E[i, i + 1] = E[i + 1, i] = np.sum(cw[:, None] * cw[None, :] * K)
    return E * np.outer(size, size)

def solve(P, S=26.0, n=330):
    L, U, vs, R1, R2, h0, x0 = (P[k] for k in ('length', 'speed', 'spreading', 'r1', 'r2', 'gap', 'deposit'))
    s = np.linspace(-S, S, n)
    x = L / (1 + np.exp(-s)); xi = L / (1 + np.exp(s))
    lo, hi = np.concatenate([[0], x]), np.concatenate([x, [L]])
    lo2, hi2 = np.concatenate([[L], xi]), np.concatenate([xi, [0]])
    m = len(lo)                                                # elements
    # Lengths without cancellation at either end.
    d = np.where(lo < L / 2, hi - lo, lo2 - hi2)
    near1 = lambda e, f: lo[e] + f * d[e]
    near2 = lambda e, f: hi2[e] + (1 - f) * d[e]
    sep = lambda i, a, j, b: np.where(lo[i] + lo[j] < L, near1(i, a) - near1(j, b), near2(j, b) - near2(i, a))
    E = energy(m, near1, sep, d, R1) + energy(m, near2, sep, d, R2)
    D = np.zeros((m, n))                                       # derivative of the hats, interior nodes
    for e in range(m):
        if e > 0: D[e, e - 1] = -1 / d[e]
        if e < n: D[e, e] = 1 / d[e]
    A = D.T @ E @ D
    t, w = gauss(16)
    M = np.zeros((n, n)); M0 = np.zeros(n); C = np.zeros((n, n)); C0 = np.zeros(n)
    for e in range(m):
        N0, N1 = 1 - t, t
        g1 = 2 * R1 / near1(e, t) ** 2 if e > 0 else 0 * t
        g2 = 2 * R2 / near2(e, t) ** 2 if e < m - 1 else 0 * t
        if e == 0: A[0, 0] += 2 * R1 / d[0]                    # hat = x/d
        if e == m - 1: A[-1, -1] += 2 * R2 / d[-1]
        for a, Na, ia in ((0, N0, e - 1), (1, N1, e)):
            for b, Nb, ib in ((0, N0, e - 1), (1, N1, e)):
                if not 0 <= ia < n: continue
                mass = d[e] * np.sum(w * Na * Nb)
                conv = -np.sum(w * Nb) * (1 if a else -1)      # -int N_b N_a'
                if 0 <= ib < n:
                    A[ia, ib] += d[e] * np.sum(w * Na * Nb * (g1 + g2)) if (e > 0 and e < m - 1) else (
                        d[e] * np.sum(w * Na * Nb * (g2 if e == 0 else g1)))
                    M[ia, ib] += mass; C[ia, ib] += conv
                elif ib == -1:
                    M0[ia] += mass; C0[ia] += conv
    K = D.T @ (d[:, None] * D); K0 = np.zeros(n); K0[0] = -1 / d[0]
    G = sl.solve(A, M, assume_a='pos'); G0 = sl.solve(A, M0, assume_a='pos')
    T = U * C + 2 * vs * K @ (G + h0 * np.eye(n))
    T0 = U * C0 + 2 * vs * (K @ G0 + h0 * K0)
    # Flux out at the right: the weak equation tested with the last hat, N_L.
    def out(sig):
        phi_last = G[-1] @ sig + h0 * sig[-1]
        return U * sig[-1] / 2 + 2 * vs * phi_last / d[-1]
    sig = sl.solve(T, -T0)
    mid = np.interp(L / 2, x, sig)
    shares = []
    sig_out = out(sig) + 2 * vs * G0[-1] / d[-1]
    j = np.searchsorted(x, x0); f = (x0 - x[j - 1]) / (x[j] - x[j - 1])
    b = np.zeros(n); b[j - 1], b[j] = 1 - f, f
    return dict(inlet_share=sig_out / U, mid=mid, deposit_share=out(sl.solve(T, b)))

def check_operator():
    """In w = 1/x a wave of wave number k must see k coth(kH), H = 1/(2R): the local part gives 1/H,
    the kernel (k coth kH - 1/H)/k^2."""
    worst = 0
    for R in (0.03, 0.2):
        H = 1 / (2 * R)
        for k in (0.1 / H, 1 / H, 7 / H):
            f = lambda t: -np.log(-np.expm1(-np.pi * t / H)) / np.pi
            cut = 12 * H                                       # exp(-12 pi)
            got = 2 * (si.quad(lambda u: f(u ** 4) * np.cos(k * u ** 4) * 4 * u ** 3, 0, (H / 10) ** .25, limit=200)[0]
                       + si.quad(f, H / 10, cut, weight='cos', wvar=k, limit=400)[0])
            worst = max(worst, abs(got / ((k / np.tanh(k * H) - 1 / H) / k ** 2) - 1))
    return worst

def check_rollers():
    """The kernel against boundary elements on the circles themselves, under a plane that holds the
    potential (4x(1-x))^4, and what superposing two rollers on one face costs."""
    pi = np.pi
    psi = lambda x: (4 * x * (1 - x)) ** 4
    at = np.array([.15, .25, .4, .5, .6, .8])
    x = (np.arange(4000) + .5) / 4000

    def circle(c, R, n=800):
        t = (np.arange(n) + .5) / n * 2 * pi                   # dense at the tangent point
        return c + R * np.exp(1j * (pi / 2 + t - .9 * np.sin(t))), R * (1 - .9 * np.cos(t)) * 2 * pi / n

    def elements(discs):
        """Field on the plane that the circles add to the half-plane's."""
        z, w = (np.concatenate(v) for v in zip(*[circle(c, R) for c, R in discs]))
        with np.errstate(divide='ignore'):
            A = (np.log(np.abs(z[:, None] - z.conj())) - np.log(np.abs(z[:, None] - z))) / (2 * pi)
        i = np.arange(len(z))                                  # logarithm on a periodic mesh
        A[i, i] = (np.log(np.abs(z - z.conj())) - np.log(w / (2 * pi))) / (2 * pi)
        Y = -z.imag[:, None]
        q = np.linalg.solve(A * w, -(psi(x) * Y / ((z.real[:, None] - x) ** 2 + Y ** 2)).mean(1) / pi)
        return -((q * w) * -z.imag / ((at[:, None] - z.real) ** 2 + z.imag ** 2)).sum(1) / pi

    def kernel(R, mirror):
        a, b = (1 - at, 1 - x) if mirror else (at, x)
        s = np.maximum(np.abs(pi * R * (a[:, None] - b) / (a[:, None] * b)), 1e-3)
        dk = pi * (R / (a[:, None] * b)) ** 2 * (1 / np.sinh(np.minimum(s, 300)) ** 2 - 1 / s ** 2)
        v = R * (1 / np.tanh(pi * R * (1 / a - 1)) + 1) / a ** 2 - 1 / (pi * a * (1 - a))
        return v * psi(at) + (dk * (psi(at)[:, None] - psi(x))).mean(1)

    ok = True
    for R in (.05, .1, .2):
        one, k1, k2 = elements([(-1j * R, R)]), kernel(R, False), kernel(R, True)
        err = np.abs(one / k1 - 1).max()                       # 4000 points: 1e-6
        both = np.abs(elements([(-1j * R, R), (1 - 1j * R, R)]) - k1 - k2).max() / 4.656
        ok = ok and err < 2e-6 and both < 5 * R ** 3
        print('roller R/L %.2f: kernel against boundary elements %.1e, two on one face off by %.1e of the greatest field' % (R, err, both))
    return ok

if __name__ == '__main__':
    worst = check_operator()
    bad = not worst < 1e-7
    bad |= not check_rollers()
    print('operator: log kernel against k coth kH, worst relative difference %.1e' % worst)
    cases = json.loads(subprocess.run(['go', 'run', './.ci/crosscheck/web_span'], check=True, capture_output=True).stdout)
    for c in cases:
        # Two meshes of each side, extrapolated in the square of the mesh width.
        fine, coarse = solve(c, n=660), solve(c, n=330)
        r = {k: fine[k] + (fine[k] - coarse[k]) / (3 + 12 / 663) for k in fine}
        for key in ('inlet_share', 'mid', 'deposit_share'):
            a, b = c[key], r[key]
            # What extrapolation leaves on either side (the sequences of this side
            # settle to 5e-7); for a share also of the part that goes back.
            ok = abs(a - b) <= 3e-5 * abs(b)
            if key != 'mid':
                ok = ok and abs(a - b) <= 1e-4 * (1 - b) + 1e-9
            bad |= not ok
            print('v_s/U %-6g R %.3g/%.3g h0 %.1e %-14s go %.9f here %.9f %s' % (
                c['spreading'] / c['speed'], c['r1'], c['r2'], c['gap'], key, a, b, 'ok' if ok else 'DISAGREES'))
    sys.exit(bad)
