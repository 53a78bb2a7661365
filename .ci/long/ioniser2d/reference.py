"""Reference currents and passes of ionflow/ioniser/plane_test.go. Takes an hour and more.

Run from the root of the module:   /usr/bin/python3 .ci/long/ioniser2d/reference.py [currents|passes] [coarse mesh]"""
import sys
import time

sys.path.insert(0, __file__.rsplit('/', 1)[0] or '.')
from ion2d import Case

what = sys.argv[1] if len(sys.argv) > 1 else 'currents'
mesh = float(sys.argv[2]) if len(sys.argv) > 2 else .7
currents = [(.03, 1e-7, 100), (.03, 1e-6, 100), (.03, 5e-6, 100), (.03, 1e-6, 0), (.1, 1e-6, 100), (.1, 1e-6, 0), (.3, 1e-6, 100), (.3, 1e-6, 0)]
passes = [(.03, 5e-6, 100, 40), (.1, 5e-6, 100, 30), (.1, 1e-6, 100, 30), (.1, 1e-7, 100, 20), (.3, 5e-6, 100, 10), (.3, 1e-6, 100, 5), (.3, 1e-6, 100, 15),
          (.3, 1e-7, 100, 10), (.03, 5e-6, 0, 20), (.03, 1e-6, 0, 10), (.1, 5e-6, 0, 20), (.1, 1e-6, 0, 5), (.3, 5e-6, 0, 10), (.3, 1e-6, 0, 3)]
if what == 'passes':
    for d, s, u, v in passes:
        c = Case(d, s, u, speed=v, mesh=.6)
        c.solve()
        print('d %g m, %g C/m2, air %g m/s, web %g m/s: left %.3f' % (d, s, u, v, c.left / s), flush=True)
else:
    for d, s, u in currents:
        got = []
        for m in (mesh, 2 * mesh):
            t = time.time()
            c = Case(d, s, u, mesh=m)
            c.solve()
            got.append(c.I)
            print('d %g m, %g C/m2, air %g m/s, mesh %g: %.5g A/m (%.0f s)' % (d, s, u, m, c.I, time.time() - t), flush=True)
        print('   half the mesh %.4f' % (got[0] / got[1]), flush=True)
