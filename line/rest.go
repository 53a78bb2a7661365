package line

import (
	"math"

	"example.org/pithball/units"
)

// State is the charge of the web at one place of the line.
type State struct {
	A, B units.SurfaceChargeDensity // of each face
}

// Net returns the net charge density, σ_A + σ_B.
func (s State) Net() units.SurfaceChargeDensity { return s.A + s.B }

// Conditions are what the line runs under.
type Conditions struct {
	Speed units.Speed // of the web, above 0
}

// RunFrom walks the rest of the line from a state that was measured: the web as it
// leaves the given station carries s, whatever the description says of the stations
// before, and what the next ones make of it is written into dst, one result for each
// station behind it. It returns the number written, the smaller of len(dst) and the
// number of stations behind; 0 where the station is the last one, or none of the
// line. It allocates nothing.
//
// A contact that closes a part of the way to saturation passes the rest of what
// arrives on, so that the measured state counts less with each contact behind it.
// A state that is not finite and a speed that is not positive and finite give NaN.
func (l *Line) RunFrom(dst []Result, station int, s State, at Conditions) int {
	if station < 0 || station >= len(l.steps) {
		return 0
	}
	v := at.Speed
	if sum := float64(s.A) - float64(s.A) + float64(s.B) - float64(s.B); sum != 0 {
		v = units.Speed(math.NaN()) // NaN or infinite
	}
	return l.walk(dst, station+1, float64(s.A), float64(s.B), v)
}
