package transport

import (
	"errors"
	"fmt"
	"math"

	"example.org/pithball/ionflow/transport/internal/bvp"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Bernoulli returns B(z) = z/(eᶻ − 1) [1], the weight of the exponentially
// fitted flux between two nodes of a mesh,
//
//	J = (D/h)·[B(−Pe)·n₁ − B(Pe)·n₂],  Pe = (u ± μE)·h/D
//
// B(0) = 1, B(−z) = B(z) + z and B > 0 for all z (0 once it underflows, above
// z ≈ 700); NaN gives NaN. Accurate to a few units in the last place.
// Source: Scharfetter, Gummel, IEEE Trans. Electron Devices 16 (1969) 64–77.
func Bernoulli(z float64) float64 { return bvp.Bernoulli(z) } // z [1]

// FittedFlux returns the exponentially fitted flux [1/(m²·s)] between two nodes
// at distance h with densities n1 (upstream) and n2, for ions of diffusivity d
// carried at speed w = u ± μE. It is the exact steady flux where w and the flux
// do not change between the nodes, whatever h. NaN or a distance or diffusivity
// that is not above zero gives NaN.
// Source: as [Bernoulli].
func FittedFlux(n1, n2 units.NumberDensity, w units.Speed, d units.Diffusivity, h units.Length) float64 { // [1/(m²·s)]
	if !(h > 0) || !(d > 0) {
		return math.NaN()
	}
	pe := float64(w) * float64(h) / float64(d) // cell Péclet number
	return float64(d) / float64(h) * (bvp.Bernoulli(-pe)*float64(n1) - bvp.Bernoulli(pe)*float64(n2))
}

// FlowPoint is the state of an air stream at one distance from the inlet.
type FlowPoint struct {
	Speed units.Speed // along the axis, towards the surface
	Area  units.Ratio // cross-section over that of the inlet, above 0
	// Side is the rate at which air leaves sideways and takes ions with it,
	// s = max(0, −(1/A)·d(A·u)/dx). Air that enters sideways brings no ions and
	// needs no rate of its own: it is in A·u.
	Side units.Frequency
	// Crowding is the density in the part of the cross-section that the ions fill over the mean density: a plume
	// in a wider column, over which its field spreads, recombines that much faster. 0: 1, they fill it.
	Crowding units.Ratio
}

// FlowProfile is an air stream between the inlet and the surface.
type FlowProfile interface {
	// At returns the stream at a distance x from the inlet. It must be smooth, and
	// usable by many goroutines if the problem is solved by several goroutines.
	At(x units.Length) FlowPoint
}

// UniformFlow is a stream of constant speed and cross-section. The zero value is
// air at rest.
type UniformFlow struct {
	Speed units.Speed // towards the surface; negative away from it
}

// At returns the speed of the stream, area 1, no side flow.
func (f UniformFlow) At(units.Length) FlowPoint { return FlowPoint{Speed: f.Speed, Area: 1} }

// StagnationFlow is the stream that a wall at Distance stops: u = Speed·(1 −
// x/Distance), cross-section 1, side flow s = Speed/Distance (the plane or round
// stagnation flow of an ideal fluid along its axis; the boundary layer is not in
// it).
type StagnationFlow struct {
	Speed    units.Speed  // at the inlet
	Distance units.Length // from the inlet to the wall, above 0
}

// At returns the stream at x; beyond the wall the speed is 0.
func (f StagnationFlow) At(x units.Length) FlowPoint {
	t := float64(x) / float64(f.Distance)
	return FlowPoint{Speed: units.Speed(float64(f.Speed) * max(0, 1-t)), Area: 1,
		Side: units.Frequency(float64(f.Speed) / float64(f.Distance))}
}

// JetFlow is a free round jet in top-hat form with constant momentum: q = 1 +
// x/Origin, u = Speed/q, cross-section q². Entrained air dilutes the ions.
type JetFlow struct {
	Speed  units.Speed  // at the inlet
	Origin units.Length // distance from the virtual origin to the inlet, above 0
}

// At returns the stream at x.
func (f JetFlow) At(x units.Length) FlowPoint {
	q := 1 + float64(x)/float64(f.Origin)
	return FlowPoint{Speed: units.Speed(float64(f.Speed) / q), Area: units.Ratio(q * q)}
}

// flowAdapter hands a FlowProfile to the numerical kernels.
type flowAdapter struct{ f FlowProfile }

func (a *flowAdapter) Flow(x float64) (u, area, s, crowding float64) {
	p := a.f.At(units.Length(x))
	if p.Crowding == 0 {
		p.Crowding = 1
	}
	return float64(p.Speed), float64(p.Area), float64(p.Side), float64(p.Crowding)
}

// checkFlow samples the stream: speeds finite and below 1000 m/s, area above 0,
// side rate 0 or more.
func checkFlow(f FlowProfile, l units.Length) error {
	if f == nil {
		return known.Wrong("flow", "", "a flow profile, for example UniformFlow{}")
	}
	const samples = 16
	for i := range samples + 1 {
		x := units.Length(float64(l) * float64(i) / samples)
		p := f.At(x)
		if math.Abs(float64(p.Speed)) <= 1000 && p.Area > 0 && !math.IsInf(float64(p.Area), 0) && p.Side >= 0 &&
			!math.IsInf(float64(p.Side), 0) && p.Crowding >= 0 && !math.IsInf(float64(p.Crowding), 0) {
			continue
		}
		at := fmt.Sprintf("flow.at(%v)", x)
		var err error
		if !(math.Abs(float64(p.Speed)) <= 1000) {
			err = known.Wrong(at+".speed", p.Speed, "-1 km/s … 1 km/s")
		}
		return errors.Join(err, known.Positive(at+".area", p.Area), known.NotNegative(at+".side", p.Side),
			known.NotNegative(at+".crowding", p.Crowding))
	}
	return nil
}
