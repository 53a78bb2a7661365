package decaytest

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"example.org/pithball/decay/sheet"
	"example.org/pithball/units"
)

// Evolver gives a charge map at a time; a [sheet.ChargeMap] is one.
type Evolver interface {
	// MapTo sets dst to the map at t ≥ 0.
	MapTo(dst []float64, t units.Time) error // dst [C/m²]
}

// NewEvolver makes the evolver under test from a spec.
type NewEvolver func(sheet.MapSpec) (Evolver, error)

// ChargeMaps makes pithball's own evolver.
func ChargeMaps(spec sheet.MapSpec) (Evolver, error) { return sheet.NewChargeMap(spec) }

// SheetInput is one problem on which a statement about sheets is tried.
type SheetInput struct {
	Spec  sheet.MapSpec // the map, its mesh and the law of the sheet
	T, DT units.Time    // times, ≥ 0
	Shift int           // values by which the map is moved along its rows
	Waves int           // waves along a row, at most half its values
}

// SheetLaw is one statement that holds for charge on every periodic, uniform,
// linear sheet.
type SheetLaw struct {
	Name   string // stable; name of the subtest
	Says   string // the relation in one line
	Source string // where physics says so
	// Check returns an error that starts with Name if the statement fails.
	Check func(n NewEvolver, in SheetInput) error
}

// SheetLaws returns all statements, the cheapest first.
func SheetLaws() []SheetLaw {
	return []SheetLaw{
		{"start", "the map at t = 0 is the map given", "definition", checkStart},
		{"total", "the total falls as e^{−rate(0)·t}: it stays where no path leads to earth", "conservation of charge", checkTotal},
		{"energy", "Σσ² never grows", "every wave falls", checkEnergy},
		{"semigroup", "decay by t, then by dt, is decay by t + dt", "the sheet has no memory", checkSemigroup},
		{"shift", "a map moved along the sheet evolves to the moved map", "the sheet is uniform", checkShift},
		{"superposition", "maps added evolve to the sum", "the sheet is linear", checkSuperposition},
		{"wave", "a wave keeps its shape and falls as e^{−rate(k)·t}", "definition of the rate", checkWave},
	}
}

// sheetTol is the slack of all statements, of the greatest value that went in:
// rounding of transforms, not physics.
const sheetTol = 1e-11

func evolve(n NewEvolver, spec sheet.MapSpec, t units.Time) ([]float64, error) {
	e, err := n(spec)
	if err != nil {
		return nil, err
	}
	dst := make([]float64, len(spec.Charge))
	return dst, e.MapTo(dst, t)
}

func greatest(v []float64) float64 {
	m := 0.0
	for _, x := range v {
		m = math.Max(m, math.Abs(x))
	}
	return m
}

// same compares maps; scale is the greatest value that went in.
func same(name string, got, want []float64, scale float64) error {
	for i := range want {
		if !(math.Abs(got[i]-want[i]) <= sheetTol*scale) {
			return fmt.Errorf("%s: value %d: got %g, want %g (greatest %g)", name, i, got[i], want[i], scale)
		}
	}
	return nil
}

func checkStart(n NewEvolver, in SheetInput) error {
	got, err := evolve(n, in.Spec, 0)
	if err != nil {
		return fmt.Errorf("start: %w", err)
	}
	return same("start", got, in.Spec.Charge, greatest(in.Spec.Charge))
}

func checkTotal(n NewEvolver, in SheetInput) error {
	got, err := evolve(n, in.Spec, in.T)
	if err != nil {
		return fmt.Errorf("total: %w", err)
	}
	a, b := 0.0, 0.0
	for i := range got {
		a += in.Spec.Charge[i]
		b += got[i]
	}
	want := a * math.Exp(-float64(in.Spec.Law.Rate(0))*float64(in.T))
	return same("total", []float64{b}, []float64{want}, greatest(in.Spec.Charge)*float64(len(got)))
}

func checkEnergy(n NewEvolver, in SheetInput) error {
	a, err1 := evolve(n, in.Spec, in.T)
	b, err2 := evolve(n, in.Spec, in.T+in.DT)
	if err := errors.Join(err1, err2); err != nil {
		return fmt.Errorf("energy: %w", err)
	}
	ea, eb := 0.0, 0.0
	for i := range a {
		ea += a[i] * a[i]
		eb += b[i] * b[i]
	}
	g := greatest(in.Spec.Charge)
	if !(eb <= ea+sheetTol*g*g*float64(len(a))) {
		return fmt.Errorf("energy: Σσ² grows from %g to %g", ea, eb)
	}
	return nil
}

func checkSemigroup(n NewEvolver, in SheetInput) error {
	once, err1 := evolve(n, in.Spec, in.T+in.DT)
	half, err2 := evolve(n, in.Spec, in.T)
	if err := errors.Join(err1, err2); err != nil {
		return fmt.Errorf("semigroup: %w", err)
	}
	s := in.Spec
	s.Charge = half
	twice, err := evolve(n, s, in.DT)
	if err != nil {
		return fmt.Errorf("semigroup: %w", err)
	}
	return same("semigroup", twice, once, greatest(in.Spec.Charge))
}

// moved returns v with every row moved by shift.
func moved(v []float64, rows, shift int) []float64 {
	cols := len(v) / max(rows, 1)
	out := make([]float64, len(v))
	for i := range v {
		r, c := i/cols, i%cols
		out[r*cols+(c+shift)%cols] = v[i]
	}
	return out
}

func checkShift(n NewEvolver, in SheetInput) error {
	a, err1 := evolve(n, in.Spec, in.T)
	s := in.Spec
	s.Charge = moved(s.Charge, s.Rows, in.Shift)
	b, err2 := evolve(n, s, in.T)
	if err := errors.Join(err1, err2); err != nil {
		return fmt.Errorf("shift: %w", err)
	}
	return same("shift", b, moved(a, in.Spec.Rows, in.Shift), greatest(in.Spec.Charge))
}

func checkSuperposition(n NewEvolver, in SheetInput) error {
	s1, s2 := in.Spec, in.Spec
	s1.Charge = make([]float64, len(in.Spec.Charge))
	s2.Charge = make([]float64, len(in.Spec.Charge))
	for i, v := range in.Spec.Charge {
		if i%3 == 0 {
			s1.Charge[i] = v
		} else {
			s2.Charge[i] = v
		}
	}
	a, err1 := evolve(n, s1, in.T)
	b, err2 := evolve(n, s2, in.T)
	c, err3 := evolve(n, in.Spec, in.T)
	if err := errors.Join(err1, err2, err3); err != nil {
		return fmt.Errorf("superposition: %w", err)
	}
	for i := range a {
		a[i] += b[i]
	}
	return same("superposition", c, a, greatest(in.Spec.Charge))
}

func checkWave(n NewEvolver, in SheetInput) error {
	s := in.Spec
	rows := max(s.Rows, 1)
	cols := len(s.Charge) / rows
	s.Charge = make([]float64, len(s.Charge))
	want := make([]float64, len(s.Charge))
	k := 2 * math.Pi * float64(in.Waves) / (float64(cols) * float64(s.Pixel))
	f := math.Exp(-float64(s.Law.Rate(k)) * float64(in.T))
	for i := range s.Charge {
		s.Charge[i] = math.Cos(2 * math.Pi * float64(in.Waves) * float64(i%cols) / float64(cols))
		want[i] = s.Charge[i] * f
	}
	got, err := evolve(n, s, in.T)
	if err != nil {
		return fmt.Errorf("wave: %w", err)
	}
	return same("wave", got, want, 1)
}

// AnySheet draws a sheet of package decay: on earth, in a span or on a thick
// dielectric, with and without bulk conduction and a plate above.
func AnySheet() *rapid.Generator[*sheet.Sheet] {
	return rapid.Custom(func(t *rapid.T) *sheet.Sheet {
		ten := func(name string, lo, hi float64) float64 {
			return math.Pow(10, rapid.Float64Range(lo, hi).Draw(t, "log "+name))
		}
		spec := sheet.SheetSpec{
			Support:              sheet.Support(rapid.IntRange(0, 2).Draw(t, "support")),
			RelativePermittivity: rapid.Float64Range(1, 8).Draw(t, "eps_r"),
			SurfaceResistivity:   units.SheetResistance(ten("rho_s", 8, 15)),
		}
		if spec.Support != sheet.OnDielectric {
			spec.Thickness = units.Length(ten("d", -6, -3))
		}
		if spec.Support != sheet.FreeSpan && rapid.Bool().Draw(t, "bulk") {
			spec.VolumeResistivity = units.VolumeResistivity(ten("rho_v", 9, 16))
		}
		if rapid.Bool().Draw(t, "plate") {
			spec.PlateDistance = units.Length(ten("h", -4, -1))
		}
		s, err := sheet.NewSheet(spec)
		if err != nil {
			panic(err) // the drawn arguments are inside the ranges
		}
		return s
	})
}

// SheetInputs draws problems on meshes of several shapes with times around those
// of the sheet.
func SheetInputs() *rapid.Generator[SheetInput] {
	return rapid.Custom(func(t *rapid.T) SheetInput {
		shape := rapid.SampledFrom([][2]int{{1, 64}, {1, 60}, {1, 256}, {8, 16}, {16, 8}, {5, 12}}).Draw(t, "shape")
		in := SheetInput{Spec: sheet.MapSpec{Rows: shape[0], Pixel: 2 * units.Millimetre, Law: AnySheet().Draw(t, "sheet")}}
		in.Spec.Charge = rapid.SliceOfN(rapid.Float64Range(-1, 1), shape[0]*shape[1], shape[0]*shape[1]).Draw(t, "map")
		// A wave as long as the map sets the scale of time.
		scale := 1 / float64(in.Spec.Law.Rate(2*math.Pi/(float64(shape[1])*float64(in.Spec.Pixel))))
		in.T = units.Time(scale * math.Pow(10, rapid.Float64Range(-3, 1).Draw(t, "log T")))
		in.DT = units.Time(scale * math.Pow(10, rapid.Float64Range(-3, 1).Draw(t, "log DT")))
		in.Shift = rapid.IntRange(1, shape[1]-1).Draw(t, "shift")
		in.Waves = rapid.IntRange(0, shape[1]/2).Draw(t, "waves")
		return in
	})
}

// RunSheet tries every statement on drawn problems, one subtest a statement.
func RunSheet(t *testing.T, n NewEvolver) {
	t.Helper()
	for _, s := range SheetLaws() {
		t.Run(s.Name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				if err := s.Check(n, SheetInputs().Draw(t, "in")); err != nil {
					t.Fatalf("%v (%s; %s)", err, s.Says, s.Source)
				}
			})
		})
	}
}

// CheckSheet tries every statement on the problems given and returns what fails,
// joined. It needs no test engine.
func CheckSheet(n NewEvolver, in ...SheetInput) error {
	var err error
	for _, s := range SheetLaws() {
		for _, x := range in {
			err = errors.Join(err, s.Check(n, x))
		}
	}
	return err
}

// wrongMap is an evolver that spoils another.
type wrongMap struct {
	Evolver
	spoil func(dst []float64, t units.Time)
}

func (w wrongMap) MapTo(dst []float64, t units.Time) error {
	err := w.Evolver.MapTo(dst, t)
	w.spoil(dst, t)
	return err
}

// BrokenSheets has, for the name of every statement, an evolver that breaks it.
func BrokenSheets() map[string]NewEvolver {
	spoilt := func(f func(dst []float64, t units.Time)) NewEvolver {
		return func(s sheet.MapSpec) (Evolver, error) {
			e, err := ChargeMaps(s)
			return wrongMap{e, f}, err
		}
	}
	return map[string]NewEvolver{
		"start": spoilt(func(dst []float64, _ units.Time) { dst[0] += 1e-6 }),
		"total": spoilt(func(dst []float64, _ units.Time) {
			for i := range dst { // charge leaves over the border of the mesh
				dst[i] *= 1 - 1e-6
			}
		}),
		"energy": spoilt(func(dst []float64, t units.Time) {
			for i := range dst {
				dst[i] *= 1 + float64(t)
			}
		}),
		"semigroup": spoilt(func(dst []float64, t units.Time) {
			for i := range dst { // a material that remembers when it was charged
				dst[i] /= 1 + float64(t)*1e3
			}
		}),
		"shift": spoilt(func(dst []float64, _ units.Time) { dst[len(dst)/2] *= 0.99 }),
		"superposition": spoilt(func(dst []float64, _ units.Time) {
			for i := range dst { // a mobility: the field drives its own carriers
				dst[i] -= 1e-3 * dst[i] * dst[i]
			}
		}),
		"wave": func(s sheet.MapSpec) (Evolver, error) {
			law := s.Law
			s.Law = sheet.RateFunc(func(k float64) units.Frequency { return 1.01 * law.Rate(k) }) // ρ_s by the ring without its factor
			return ChargeMaps(s)
		},
	}
}
