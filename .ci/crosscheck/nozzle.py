"""Computes ionflow's nozzle flow, isentropic ratios and compression work again with python3-fluids and compares.

Run from the root of the module:   go run ./.ci/crosscheck/nozzle | /usr/bin/python3 .ci/crosscheck/nozzle.py

What stands against what:
  mass flow, not choked   orifice equation with the isentropic expansibility of ISO 5167 (flow_meter), beta -> 0
  mass flow, choked       relief-valve equation of API 520, whose constant is printed with four digits: 1e-3
  exit and throat speed   first law with the isentropic work of expansion (compressible)
  critical ratio          P_critical_flow
  isentropic ratios       P_stagnation and T_stagnation_ideal; the area from continuity
  compression work        isothermal_work_compression, isentropic_work_compression stage by stage
The molar mass is taken so that both sides have the same specific gas constant. Exit status 1 on disagreement."""
import json
import math
import sys
from fluids.compressible import (P_critical_flow, P_stagnation, T_critical_flow, T_stagnation_ideal, isentropic_work_compression,
                                 isothermal_work_compression)
from fluids.constants import R as MOLAR
from fluids.flow_meter import flow_meter_discharge, nozzle_expansibility
from fluids.safety_valve import API520_A_g

d = json.load(sys.stdin)
k, R = d['Gamma'], d['R']
M = MOLAR / R                     # kg/mol, so that both sides have the same specific gas constant
CP = k / (k - 1) * R
worst, bad = {}, 0


def same(what, got, want, tol):
    global bad
    err = abs(got / want - 1)
    worst[what] = max(worst.get(what, (0, tol)), (err, tol))
    if not err <= tol:
        bad += 1
        print(f'{what}: pithball {got!r}, fluids {want!r}')


same('critical ratio', d['Critical'], P_critical_flow(1.0, k), 1e-12)
for f in d['Flow']:
    p0, pa, T = f['Gauge'] + f['Ambient'], f['Ambient'], f['T']
    if (pa <= P_critical_flow(p0, k)) != f['Choked']:
        bad += 1
        print('choking', f)
    if f['Choked']:
        pe, A = P_critical_flow(p0, k), math.pi / 4 * f['D']**2
        # API 520 gives the area for a flow; it is proportional to the flow.
        m = A / API520_A_g(m=1.0, T=T, Z=1.0, MW=M * 1e3, k=k, P1=p0, P2=pa, Kd=f['Cd'])
        same('choked mass flow', f['Mass'], m, 1e-3)
        same('throat temperature', T - f['Throat']**2 / (2 * CP), T_critical_flow(T, k), 1e-12)
    else:
        pe = pa
        D = 1e3 * f['D']          # a pipe so wide that beta**4 vanishes
        eps = nozzle_expansibility(D=D, Do=f['D'], P1=p0, P2=pa, k=k)
        m = flow_meter_discharge(D=D, Do=f['D'], P1=p0, P2=pa, rho=f['Density'], C=f['Cd'], expansibility=eps)
        same('subsonic mass flow', f['Mass'], m, 1e-9)
    w = -isentropic_work_compression(T1=T, k=k, P1=p0, P2=pe, eta=1) / M
    same('throat speed', f['Throat'], math.sqrt(2 * w), 1e-9)
    w = -isentropic_work_compression(T1=T, k=k, P1=p0, P2=pa, eta=1) / M
    same('ideal exit speed', f['Ideal'], math.sqrt(2 * w), 1e-9)
for s in d['Isentropic']:
    T0 = 300.0
    T = s['T'] * T0
    V = s['M'] * math.sqrt(k * R * T)
    same('T/T0', T_stagnation_ideal(T=T, V=V, Cp=CP), T0, 1e-12)
    same('p/p0', s['P'], 1 / P_stagnation(P=1.0, T=T, Tst=T0, k=k), 1e-12)
    same('rho/rho0', s['Rho'], s['P'] / s['T'], 1e-12)
    Tc, pc = T_critical_flow(T0, k), P_critical_flow(1.0, k)
    flux = s['P'] / (R * T) * V
    star = pc / (R * Tc) * math.sqrt(k * R * Tc)
    same('A/A*', s['A'], star / flux, 1e-12)
for w in d['Work']:
    p1, p2 = 101325., 101325. + w['Gauge']
    if w['Stages'] == 0:
        want = isothermal_work_compression(P1=p1, P2=p2, T=w['T']) / M
    else:
        r = (p2 / p1)**(1 / w['Stages'])
        want = sum(isentropic_work_compression(T1=w['T'], k=k, P1=p1 * r**i, P2=p1 * r**(i + 1), eta=1) for i in range(w['Stages'])) / M
    same('compression work', w['W'], want, 1e-9)
for what, (err, tol) in worst.items():
    print(f'{what:20s} largest difference {err:.1e} (allowed {tol:.0e})')
sys.exit(1 if bad else 0)
