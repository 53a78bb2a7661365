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

// at returns the map after a time, another one if given.
func (in SheetInput) at(n NewEvolver, t units.Time, charge ...Map) (Map, error) {
	law, err := sheet.NewSheet(in.Sheet)
	if err != nil {
		return nil, err
	}
	spec := sheet.MapSpec{Charge: in.Charge, Rows: in.Rows, Pixel: in.Pixel, Law: law}
	if charge != nil {
		spec.Charge = charge[0]
	}
	e, err := n(spec)
	if err != nil {
		return nil, lawtest.Refused(err)
	}
	dst := make(Map, len(in.Charge))
	return dst, e.MapTo(dst, t)
}

// falls is the factor by which a wave of the wave number falls in T.
func (in SheetInput) falls(k float64) float64 { // k [rad/m]
	law, err := sheet.NewSheet(in.Sheet)
	if err != nil {
		panic(err) // at has made it
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
		Check: func(n NewEvolver, in SheetInput) error {
			got, err := in.at(n, 0)
			if err != nil {
				return err
			}
			return same(got, in.Charge, in.Charge.greatest())
		},
	}, {
		Name: "total", Says: "the total falls as e^{−rate(0)·t}: it stays where no path leads to earth",
		Source: "conservation of charge",
		// Charge leaves over the border of the mesh.
		Broken: spoil(func(v float64, _ int, _ units.Time) float64 { return v * (1 - 1e-6) }),
		Check: func(n NewEvolver, in SheetInput) error {
			got, err := in.at(n, in.T)
			if err != nil {
				return err
			}
			all := func(v float64) float64 { return v }
			want := in.Charge.sum(all) * in.falls(0)
			ok := math.Abs(got.sum(all)-want) <= sheetTol*in.Charge.greatest()*float64(len(got))
			return lawtest.That(ok, fmt.Sprint(want), got.sum(all))
		},
	}, {
		Name: "energy", Says: "Σσ² never grows", Source: "every wave falls",
		Broken: spoil(func(v float64, _ int, t units.Time) float64 { return v * (1 + float64(t)) }),
		Check: func(n NewEvolver, in SheetInput) error {
			a, err := in.at(n, in.T)
			if err != nil {
				return err
			}
			b, err := in.at(n, in.T+in.DT)
			if err != nil {
				return err
			}
			square := func(v float64) float64 { return v * v }
			ok := b.sum(square) <= a.sum(square)+sheetTol*square(in.Charge.greatest())*float64(len(a))
			return lawtest.That(ok, "the second no greater", a.sum(square), b.sum(square))
		},
	}, {
		Name: "semigroup", Says: "decay by t, then by dt, is decay by t + dt", Source: "the sheet has no memory",
		// A material that remembers when it was charged.
		Broken: spoil(func(v float64, _ int, t units.Time) float64 { return v / (1 + float64(t)*1e3) }),
		Check: func(n NewEvolver, in SheetInput) error {
			once, err := in.at(n, in.T+in.DT)
			if err != nil {
				return err
			}
			half, err := in.at(n, in.T)
			if err != nil {
				return err
			}
			twice, err := in.at(n, in.DT, half)
			if err != nil {
				return err
			}
			return same(twice, once, in.Charge.greatest())
		},
	}, {
		Name: "shift", Says: "a map moved along the sheet evolves to the moved map", Source: "the sheet is uniform",
		Broken: spoil(func(v float64, i int, _ units.Time) float64 {
			if i == 0 {
				return 0.99 * v
			}
			return v
		}),
		Check: func(n NewEvolver, in SheetInput) error {
			a, err := in.at(n, in.T)
			if err != nil {
				return err
			}
			b, err := in.at(n, in.T, in.Charge.moved(in.Rows, in.Shift))
			if err != nil {
				return err
			}
			return same(b, a.moved(in.Rows, in.Shift), in.Charge.greatest())
		},
	}, {
		Name: "superposition", Says: "maps added evolve to the sum", Source: "the sheet is linear",
		// A mobility: the field drives its own carriers.
		Broken: spoil(func(v float64, _ int, _ units.Time) float64 { return v - 1e-3*v*v }),
		Check: func(n NewEvolver, in SheetInput) error {
			sum := make(Map, len(in.Charge))
			for part := range 2 {
				some := slices.Clone(in.Charge)
				for i := range some {
					if (i%3 == 0) != (part == 0) {
						some[i] = 0
					}
				}
				v, err := in.at(n, in.T, some)
				if err != nil {
					return err
				}
				for i := range sum {
					sum[i] += v[i]
				}
			}
			got, err := in.at(n, in.T)
			if err != nil {
				return err
			}
			return same(got, sum, in.Charge.greatest())
		},
	}, {
		Name: "wave", Says: "a wave keeps its shape and falls as e^{−rate(k)·t}", Source: "definition of the rate",
		// ρ_s by the ring without its factor.
		Broken: func(s sheet.MapSpec) (Evolver, error) {
			law := s.Law
			s.Law = sheet.RateFunc(func(k float64) units.Frequency { return 1.01 * law.Rate(k) })
			return ChargeMaps(s)
		},
		Check: func(n NewEvolver, in SheetInput) error {
			cols := len(in.Charge) / in.Rows
			turn := 2 * math.Pi * float64(in.Waves) / float64(cols)
			wave := make(Map, len(in.Charge))
			for i := range wave {
				wave[i] = math.Cos(turn * float64(i%cols))
			}
			got, err := in.at(n, in.T, wave)
			if err != nil {
				return err
			}
			f := in.falls(turn / float64(in.Pixel))
			for i := range wave {
				wave[i] *= f
			}
			return same(got, wave, 1)
		},
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
