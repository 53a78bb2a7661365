#!/usr/bin/env python3
"""Mesh study of three fields by finite elements (gmsh and getdp, as packaged by
Debian): the web behind a roller, the strip between two planes, the bare meter
face. Prints one line per case and mesh, and the extrapolated value:

    run.py > results.txt

Second-order triangles by gmsh's MeshAdapt (its default leaves flat triangles at
the sheet ends; a mesh with any warning is refused), with straight sides, because
curved ones overlap in the cusp between web and roller; hence the error falls as
K^2 there. The web behind the roller ends at 200 m, which lacks about d/(200 m pi) =
4e-5 of the field. The mesh size is scaled by K = 2, 1, 1/2. The value at
K -> 0 is extrapolated with the observed order; the error is taken as the larger
of the last step and the extrapolation step.
"""
import os, subprocess, sys, tempfile

HERE = os.path.dirname(os.path.abspath(__file__))


def field(geo, params, at, axi, k):
    with tempfile.TemporaryDirectory() as tmp:
        sets = [s for n, v in dict(params, K=k).items() for s in ("-setnumber", n, repr(float(v)))]
        msh = os.path.join(tmp, "m.msh")
        out = subprocess.run(["gmsh", "-2", "-algo", "meshadapt", "-order", "2", "-setnumber", "Mesh.SecondOrderLinear", "1", "-format", "msh2", "-v", "1", *sets, os.path.join(HERE, geo), "-o", msh],
                             check=True, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True).stdout
        if "Warning" in out:
            sys.exit(f"bad mesh: {geo} {params} K {k}: {out}")
        with open(msh) as f:
            for line in f:
                if line.startswith("$Nodes"):
                    nodes = int(next(f))
                    break
        # getdp writes its files beside the .pro
        pro = os.path.join(tmp, "laplace.pro")
        with open(os.path.join(HERE, "laplace.pro")) as src, open(pro, "w") as dst:
            dst.write(src.read())
        subprocess.run(["getdp", pro, "-msh", msh, "-solve", "Solve", "-pos", "Point", "-v", "1",
                        "-setnumber", "AXI", str(axi), "-setnumber", "PX", repr(at[0]), "-setnumber", "PY", repr(at[1])],
                       check=True, cwd=tmp, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
        with open(os.path.join(tmp, "point.txt")) as f:
            words = f.read().split()
        return nodes, float(words[-2])  # x y z of the vector end the line


def study(name, geo, params, at, axi, sign):
    got = []
    for k in (2, 1, 0.5):
        nodes, ey = field(geo, params, at, axi, k)
        got.append(sign * ey)
        print(f"{name:42s} K {k:<4g} nodes {nodes:7d}  E·eps0/sigma {sign * ey:.7f}", flush=True)
    a, b, c = got
    r = (a - b) / (b - c) if b != c else float("inf")
    best = c + (c - b) / (r - 1) if r > 1.5 else c
    err = max(abs(c - b), abs(best - c))
    print(f"{name:42s} value {best:.6f}  error {err:.1e}  ratio of steps {r:.1f}", flush=True)


def main():
    for cmd, flag in (("gmsh", "-version"), ("getdp", "-version")):
        v = subprocess.run([cmd, flag], stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True).stdout.split()[-1]
        print(cmd, v)
    for R, x in ((50, 10), (50, 30), (50, 100), (50, 300), (30, 100), (100, 30)):
        study(f"roller R {R} mm, x {x} mm, d 25 mm", "roller.geo", {"R": R / 1e3, "X": x / 1e3}, (x / 1e3, 0.025), 0, 1)
    for w, d, h in ((100, 25, 100), (50, 25, 25), (300, 25, 100), (100, 50, 20)):
        study(f"strip w {w} mm, d {d} mm, h {h} mm", "strip.geo", {"W": w / 1e3, "D": d / 1e3, "H": h / 1e3}, (0.0, 0.0), 0, -1)
    for b in (35, 100, 300):
        for h in (100, 300, 1000):
            # 0.05 mm before the face and 0.01 mm beside the axis: the field changes by
            # less than 1e-6 there, its slope is 0 in both directions.
            study(f"face b {b} mm, S 600 mm, d 25 mm, h {h} mm", "face.geo", {"B": b / 1e3, "H": h / 1e3}, (1e-5, h / 1e3 + 0.025 - 5e-5), 1, 1)


main()
