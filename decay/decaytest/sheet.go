package decaytest

import (
	"fmt"
	"math"
	"slices"

	"example.org/pithball/decay/sheet"
	"example.org/pithball/units"
	"example.org/pithball/units/lawtest"
)

// Evolver gives a charge map at a time; a [sheet.ChargeMap] is one.
//
// Beyond physics, the laws ask: at t = 0 the map is the map given; the map is periodic
// in both directions; MapTo can be asked for any t ≥ 0 and does not depend on what it
// was asked before.
type Evolver interface {
	// MapTo sets dst to the map at t ≥ 0.
	MapTo(dst []float64, t units.Time) error // dst [C/m²]
}

// NewEvolver makes the evolver under test from a spec. An error refuses it; no more
// than half of those drawn may be refused.
type NewEvolver func(sheet.MapSpec) (Evolver, error)

// ChargeMaps makes pithball's own evolver.
func ChargeMaps(spec sheet.MapSpec) (Evolver, error) { return sheet.NewChargeMap(spec) }

// Map is a charge map in row-major order.
type Map []float64 // [C/m²]

// String lists what is not 0.
func (m Map) String() string {
	s := fmt.Sprintf("%d values, 0 but for", len(m))
	for i, v := range m {
		if v != 0 {
			s += fmt.Sprintf(" [%d] %v", i, v)
		}
	}
	return s
}

// SheetInput is one problem on which a law about sheets is tried.
type SheetInput struct {
	Sheet  sheet.SheetSpec // on earth, in a span or on a thick dielectric
	Charge Map             // at t = 0
	Rows   int             // of the map
	Pixel  units.Length    // distance of its values
	T, DT  units.Time      // times, ≥ 0
	Shift  int             // values by which the map is moved along its rows
	Waves  int             // waves along a row, at most half its values
}

// evolved is what a map becomes after a time.
type evolved func(t units.Time, charge Map) Map

// on makes a check that looks at the map after any time, and at what another map
// becomes.
func on(check func(in SheetInput, at evolved) error) func(n NewEvolver, in SheetInput) error {
	return func(n NewEvolver, in SheetInput) (fault error) {
		law, err := sheet.NewSheet(in.Sheet)
		if err != nil {
			return err
		}
		broken := check(in, func(t units.Time, charge Map) Map {
			dst := make(Map, len(charge))
			e, err := n(sheet.MapSpec{Charge: charge, Rows: in.Rows, Pixel: in.Pixel, Law: law})
			if err == nil {
				err = e.MapTo(dst, t)
			}
			if fault == nil {
				fault = lawtest.Refused(err)
			}
			return dst
		})
		if fault != nil {
			return fault
		}
		return broken
	}
}

// falls is the factor by which a wave of the wave number falls in T.
func (in SheetInput) falls(k float64) float64 { // k [rad/m]
	law, err := sheet.NewSheet(in.Sheet)
	if err != nil {
		panic(err) // on has made it
	}
	return math.Exp(-float64(law.Rate(k)) * float64(in.T))
}

func (m Map) greatest() float64 {
	g := 0.0
	for _, x := range m {
		g = math.Max(g, math.Abs(x))
	}
	return g
}

func (m Map) sum(of func(v float64) float64) float64 {
	s := 0.0
	for _, x := range m {
		s += of(x)
	}
	return s
}

// moved returns the map with every row moved.
func (m Map) moved(rows, shift int) Map {
	cols := len(m) / rows
	out := make(Map, len(m))
	for i, v := range m {
		out[i/cols*cols+(i%cols+shift)%cols] = v
	}
	return out
}

// sheetTol is the slack of all laws, of the greatest value that went in: rounding of
// transforms, not physics.
const sheetTol = 1e-11

// same compares maps; scale is the greatest value that went in.
func same(got, want Map, scale float64) error {
	for i := range want {
		if !(math.Abs(got[i]-want[i]) <= sheetTol*scale) {
			return lawtest.That(false, fmt.Sprintf("%v in value %d", want[i], i), got[i])
		}
	}
	return nil
}

// spoilt is an evolver that spoils another.
type spoilt struct {
	Evolver
	spoil func(v float64, i int, t units.Time) float64
}

func (s spoilt) MapTo(dst []float64, t units.Time) error {
	err := s.Evolver.MapTo(dst, t)
	for i, v := range dst {
		dst[i] = s.spoil(v, i, t)
	}
	return err
}

func spoil(f func(v float64, i int, t units.Time) float64) NewEvolver {
	return func(s sheet.MapSpec) (Evolver, error) {
		e, err := ChargeMaps(s)
		return spoilt{e, f}, err
	}
}

// Sheets returns the laws of charge on every periodic, uniform, linear sheet.
func Sheets() lawtest.Kit[NewEvolver, SheetInput] {
	return lawtest.Kit[NewEvolver, SheetInput]{Input: sheetInput, Laws: []lawtest.Law[NewEvolver, SheetInput]{{
		Name: "start", Says: "the map at t = 0 is the map given", Source: "definition",
		Broken: spoil(func(v float64, i int, _ units.Time) float64 { return v + 1e-6 }),
		Check: on(func(in SheetInput, at evolved) error {
			return same(at(0, in.Charge), in.Charge, in.Charge.greatest())
		}),
	}, {
		Name: "total", Says: "the total falls as e^{−rate(0)·t}: it stays where no path leads to earth",
		Source: "conservation of charge",
		// Charge leaves over the border of the mesh.
		Broken: spoil(func(v float64, _ int, _ units.Time) float64 { return v * (1 - 1e-6) }),
		Check: on(func(in SheetInput, at evolved) error {
			all := func(v float64) float64 { return v }
			got, want := at(in.T, in.Charge).sum(all), in.Charge.sum(all)*in.falls(0)
			ok := math.Abs(got-want) <= sheetTol*in.Charge.greatest()*float64(len(in.Charge))
			return lawtest.That(ok, fmt.Sprint(want), got)
		}),
	}, {
		Name: "energy", Says: "Σσ² never grows", Source: "every wave falls",
		Broken: spoil(func(v float64, _ int, t units.Time) float64 { return v * (1 + float64(t)) }),
		Check: on(func(in SheetInput, at evolved) error {
			square := func(v float64) float64 { return v * v }
			a, b := at(in.T, in.Charge).sum(square), at(in.T+in.DT, in.Charge).sum(square)
			ok := b <= a+sheetTol*square(in.Charge.greatest())*float64(len(in.Charge))
			return lawtest.That(ok, "the second no greater", a, b)
		}),
	}, {
		Name: "semigroup", Says: "decay by t, then by dt, is decay by t + dt", Source: "the sheet has no memory",
		// A material that remembers when it was charged.
		Broken: spoil(func(v float64, _ int, t units.Time) float64 { return v / (1 + float64(t)*1e3) }),
		Check: on(func(in SheetInput, at evolved) error {
			return same(at(in.DT, at(in.T, in.Charge)), at(in.T+in.DT, in.Charge), in.Charge.greatest())
		}),
	}, {
		Name: "shift", Says: "a map moved along the sheet evolves to the moved map", Source: "the sheet is uniform",
		Broken: spoil(func(v float64, i int, _ units.Time) float64 {
			if i == 0 {
				return 0.99 * v
			}
			return v
		}),
		Check: on(func(in SheetInput, at evolved) error {
			moved := at(in.T, in.Charge).moved(in.Rows, in.Shift)
			return same(at(in.T, in.Charge.moved(in.Rows, in.Shift)), moved, in.Charge.greatest())
		}),
	}, {
		Name: "superposition", Says: "maps added evolve to the sum", Source: "the sheet is linear",
		// A mobility: the field drives its own carriers.
		Broken: spoil(func(v float64, _ int, _ units.Time) float64 { return v - 1e-3*v*v }),
		Check: on(func(in SheetInput, at evolved) error {
			a, b := slices.Clone(in.Charge), slices.Clone(in.Charge)
			for i := range a {
				if i%3 == 0 {
					a[i] = 0
				} else {
					b[i] = 0
				}
			}
			a, b = at(in.T, a), at(in.T, b)
			for i := range a {
				a[i] += b[i]
			}
			return same(at(in.T, in.Charge), a, in.Charge.greatest())
		}),
	}, {
		Name: "wave", Says: "a wave keeps its shape and falls as e^{−rate(k)·t}", Source: "definition of the rate",
		// ρ_s by the ring without its factor.
		Broken: func(s sheet.MapSpec) (Evolver, error) {
			law := s.Law
			s.Law = sheet.RateFunc(func(k float64) units.Frequency { return 1.01 * law.Rate(k) })
			return ChargeMaps(s)
		},
		Check: on(func(in SheetInput, at evolved) error {
			cols := len(in.Charge) / in.Rows
			turn := 2 * math.Pi * float64(in.Waves) / float64(cols)
			wave, want := make(Map, len(in.Charge)), make(Map, len(in.Charge))
			f := in.falls(turn / float64(in.Pixel))
			for i := range wave {
				wave[i] = math.Cos(turn * float64(i%cols))
				want[i] = wave[i] * f
			}
			return same(at(in.T, wave), want, 1)
		}),
	}}}
}

// sheetInput draws problems on meshes of several shapes with times around those of
// the sheet: on earth, in a span or on a thick dielectric, with and without bulk
// conduction and a plate above.
func sheetInput(d *lawtest.Draw, _ NewEvolver) SheetInput {
	shape := lawtest.Pick(d, "shape", [2]int{1, 64}, [2]int{1, 60}, [2]int{1, 256}, [2]int{8, 16},
		[2]int{16, 8}, [2]int{5, 12})
	in := SheetInput{Rows: shape[0], Pixel: 2 * units.Millimetre, Charge: make(Map, shape[0]*shape[1])}
	in.Sheet = sheet.SheetSpec{
		Support:              lawtest.Pick(d, "support", sheet.FreeSpan, sheet.OnEarth, sheet.OnDielectric),
		RelativePermittivity: lawtest.Between(d, "permittivity", 1.0, 8),
		SurfaceResistivity:   lawtest.Decades(d, "surface resistivity", units.SheetResistance(1e8), 1e15),
	}
	if in.Sheet.Support != sheet.OnDielectric {
		in.Sheet.Thickness = lawtest.Decades(d, "thickness", units.Micrometre, units.Millimetre)
	}
	if in.Sheet.Support != sheet.FreeSpan && d.Bool("bulk") {
		in.Sheet.VolumeResistivity = lawtest.Decades(d, "volume resistivity", units.VolumeResistivity(1e9), 1e16)
	}
	if d.Bool("plate") {
		in.Sheet.PlateDistance = lawtest.Decades(d, "plate", 0.1*units.Millimetre, 0.1*units.Metre)
	}
	for i := range in.Charge {
		in.Charge[i] = lawtest.Between(d, "charge", -1.0, 1)
	}
	law, err := sheet.NewSheet(in.Sheet)
	if err != nil {
		panic(err) // the drawn arguments are inside the ranges
	}
	// A wave as long as the map sets the scale of time.
	scale := units.Time(1 / float64(law.Rate(2*math.Pi/(float64(shape[1])*float64(in.Pixel)))))
	in.T = lawtest.Decades(d, "t", scale/1000, 10*scale)
	in.DT = lawtest.Decades(d, "dt", scale/1000, 10*scale)
	in.Shift = d.Int("shift", 1, shape[1]-1)
	in.Waves = d.Int("waves", 0, shape[1]/2)
	return in
}
