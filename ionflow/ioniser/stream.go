package ioniser

import (
	"math"

	"example.org/pithball/units"
)

// Stream is the air between the mouth of a bar and the web: mean speed and breadth of the plume at a
// distance x from the mouth. A free jet is one; [Plume] is another, for air that has been measured.
type Stream interface {
	// MeanSpeed returns the speed of the air averaged over the breadth.
	MeanSpeed(x units.Length) units.Speed
	// Breadth returns the breadth of the plume.
	Breadth(x units.Length) units.Length
}

// Plume is a stream of constant momentum that is known by its mouth and by the length over which it
// begins to slow down: with s = 1 + x/Core,
//
//	plane:  u = Speed/√s, b = Width·s      row of holes before they merge:  u = Speed/s, b = Width·s²
//
// Core 0 is a stream that does not change. For a slot Core is about 6.3 times its height.
type Plume struct {
	Speed units.Speed  // at the mouth
	Width units.Length // of the plume at the mouth; of a row the area of its holes over their pitch
	Core  units.Length // 0: uniform
	Row   bool         // a row of holes instead of a slot
}

// MeanSpeed returns the mean speed of the plume.
func (p Plume) MeanSpeed(x units.Length) units.Speed {
	switch s := p.stretch(x); {
	case p.Row:
		return units.Speed(float64(p.Speed) / s)
	default:
		return units.Speed(float64(p.Speed) / math.Sqrt(s))
	}
}

// Breadth returns the breadth of the plume.
func (p Plume) Breadth(x units.Length) units.Length {
	s := p.stretch(x)
	if p.Row {
		s *= s
	}
	return units.Length(float64(p.Width) * s)
}

func (p Plume) stretch(x units.Length) float64 {
	if p.Core == 0 {
		return 1
	}
	return 1 + float64(x)/float64(p.Core)
}
