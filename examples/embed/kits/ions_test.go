package kits

import (
	"math"
	"testing"

	"example.org/pithball/ionflow/ionflowtest"
	"example.org/pithball/units"
)

const supply = 50 * units.MicroamperePerMetre

// blower is a bar whose air conducts over 10 cm of web, as long as its ions last.
func blower(net units.SurfaceChargeDensity, v units.Speed) units.SurfaceChargeDensity {
	if !(v >= 0) {
		return units.SurfaceChargeDensity(math.NaN())
	}
	const conductivity, zone = 2e-9, 0.1 // [S/m], [m]
	most := float64(supply) / float64(v)
	got := -float64(net) * -math.Expm1(-conductivity*zone/units.Epsilon0/float64(v))
	return units.SurfaceChargeDensity(math.Copysign(math.Min(math.Abs(got), most), got))
}

// spring has ions without end.
func spring(net units.SurfaceChargeDensity, v units.Speed) units.SurfaceChargeDensity {
	if !(v >= 0) {
		return units.SurfaceChargeDensity(math.NaN())
	}
	return -net
}

func TestBar(t *testing.T) {
	kit := ionflowtest.Actors(ionflowtest.Domain{Supply: supply})
	hold(t, kit)(ionflowtest.ActorFunc(blower), ionflowtest.ActorFunc(spring), "supply")
}

const alpha = 1.6e-12 // [m³/s]

// pairs recombines two densities that need not be equal: with d = n+ − n− constant,
// n− = d/((n+0/n−0)·e^{αdt} − 1).
func pairs(p, m units.NumberDensity, t units.Time) (units.NumberDensity, units.NumberDensity) {
	if p < m {
		m, p = pairs(m, p, t)
		return p, m
	}
	d, n := float64(p-m), float64(m)
	if x := alpha * d * float64(t); x < 1e-9 {
		n /= 1 + alpha*n*float64(t)*(1+x/2) // equal but for a trifle
	} else {
		n = d / (float64(p)/float64(m)*math.Exp(x) - 1)
	}
	return units.NumberDensity(d + n), units.NumberDensity(n)
}

// alike takes 1/(1 + αnt) of each, which holds for equal densities only.
func alike(p, m units.NumberDensity, t units.Time) (units.NumberDensity, units.NumberDensity) {
	f := func(n units.NumberDensity) units.NumberDensity {
		return units.NumberDensity(float64(n) / (1 + alpha*float64(n)*float64(t)))
	}
	return f(p), f(m)
}

func TestIons(t *testing.T) {
	hold(t, ionflowtest.Populations(ionflowtest.Domain{Alpha: alpha}))(pairs, alike, "pairs")
}
