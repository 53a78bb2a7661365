package line_test

import (
	"bytes"
	"errors"
	"math"
	"os"
	"testing"

	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

func demoDescription(t testing.TB) *line.Description {
	t.Helper()
	f, err := os.Open("../examples/survey/demo/line.json")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	d, err := line.ReadDescription(f)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func newLine(t testing.TB, d *line.Description) *line.Line {
	t.Helper()
	l, err := line.New(d)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func TestRunToAllocatesNothing(t *testing.T) {
	l := newLine(t, demoDescription(t))
	res := make([]line.Result, l.Len())
	if n := testing.AllocsPerRun(100, func() { l.RunTo(res, 3) }); n != 0 {
		t.Errorf("%v allocations", n)
	}
	if n := l.RunTo(res[:3], 3); n != 3 {
		t.Errorf("short dst: %d stations", n)
	}
	for _, v := range []units.Speed{0, -1, units.Speed(math.NaN()), units.Speed(math.Inf(1))} {
		l.RunTo(res, v)
		for i := range res {
			if !math.IsNaN(float64(res[i].A)) {
				t.Errorf("speed %v gives %v", v, res[i].A)
			}
		}
	}
}

func TestNewRefuses(t *testing.T) {
	nan := math.NaN()
	for name, c := range map[string]struct {
		spoil func(d *line.Description)
		field string
	}{
		"schema":    {func(d *line.Description) { d.Schema = "x" }, "schema"},
		"thickness": {func(d *line.Description) { d.Web.Thickness = -20e-6 }, "web.thickness"},
		"nan":       {func(d *line.Description) { d.Web.Width = units.Length(nan) }, "web.width"},
		"speed":     {func(d *line.Description) { d.Speed = 0 }, "speed"},
		"order":     {func(d *line.Description) { d.Stations[3].At = 0.1 }, "stations[3] (idler 2).at"},
		"twice":     {func(d *line.Description) { d.Stations[3].Name = "idler 1" }, "stations[3].name"},
		"no change": {func(d *line.Description) { d.Stations[2].Change = nil }, "stations[2] (idler 1).change"},
		"off": {func(d *line.Description) { d.Stations[7].Off = []string{"bar B9"} },
			"stations[7] (A2 mid span, bar B1 off).off"},
		"gap":   {func(d *line.Description) { d.Stations[1].Gap = 0 }, "stations[1] (A1 after unwind).gap"},
		"limit": {func(d *line.Description) { d.Limit.Kind = 9 }, "limit.kind"},
		"few":   {func(d *line.Description) { d.Stations = d.Stations[:1] }, "stations"},
		"meter": {func(d *line.Description) { d.Meters[0].Nominal = 0 }, "meters[0].nominal"},
		"ion": {func(d *line.Description) { d.Stations[5].Ioniser.Distance = -1 },
			"stations[5] (bar B1).ioniser.distance"},
		"permittivity": {func(d *line.Description) { d.Web.RelativePermittivity.Value = 0.5 },
			"web.relativePermittivity.value"},
	} {
		t.Run(name, func(t *testing.T) {
			d := demoDescription(t)
			c.spoil(d)
			_, err := line.New(d)
			var f *known.FieldError
			if !errors.As(err, &f) {
				t.Fatalf("error %v", err)
			}
			if f.Field != c.field || f.Want == "" {
				t.Errorf("got %q, want the field %q first", err, c.field)
			}
		})
	}
	if _, err := line.New(nil); err == nil {
		t.Error("nil description accepted")
	}
}

// TestUnchangedByCaller: a line does not follow later changes of the description
// it was made from.
func TestUnchangedByCaller(t *testing.T) {
	d := demoDescription(t)
	l := newLine(t, d)
	d.Stations[2].Change[0].Median = 1
	d.Stations[5].Ioniser.Supply = 0
	got := l.Description()
	if got.Stations[2].Change[0].Median != 0 || got.Stations[5].Ioniser.Supply == 0 {
		t.Error("the line shares memory with the description")
	}
}

// FuzzReadDescription: no file makes the reader or the constructor panic, and a
// line that is accepted runs to finite charges.
func FuzzReadDescription(f *testing.F) {
	b, err := os.ReadFile("../examples/survey/demo/line.json")
	if err != nil {
		f.Fatal(err)
	}
	f.Add(b)
	f.Add([]byte("\ufeff{}"))
	f.Add([]byte(`{"schema":"pithball line 1","web":{"thickness":"-20 µm"}}`))
	f.Add([]byte(`{"stations":[{"name":"x","kind":"place","past":{}}]}`))
	f.Fuzz(func(t *testing.T, b []byte) {
		d, err := line.ReadDescription(bytes.NewReader(b))
		if err != nil {
			if _, again := line.New(d); d != nil && (again == nil || again.Error() != err.Error()) {
				t.Fatalf("a description beside an error is taken: %v", again)
			}
			return
		}
		l, err := line.New(d)
		if err != nil {
			return
		}
		res := make([]line.Result, l.Len())
		l.RunTo(res, d.Speed)
		for i, r := range res {
			if v := float64(r.A) + float64(r.B); math.IsNaN(v) || math.IsInf(v, 0) {
				t.Fatalf("station %d: %+v", i, r)
			}
		}
	})
}

// TestCoverIsFlagged: a roller cover that stands at what the gas leaves it is an
// estimate at its own station, the same nip of metal is not.
func TestCoverIsFlagged(t *testing.T) {
	for kind, want := range map[line.RollerKind]known.Validity{line.BareMetal: known.Inside,
		line.InsulatingCover: known.Estimate} {
		d := demoDescription(t)
		nip := 0
		for i := range d.Stations {
			if s := &d.Stations[i]; s.Name == "tension nip" {
				nip = i
				s.Roller = &line.RollerSpec{Radius: 60 * units.Millimetre, Kind: kind}
				if kind == line.InsulatingCover {
					s.Roller.Cover = 1000 * units.Second
				}
			}
		}
		l := newLine(t, d)
		u, changes, _ := l.Unknowns()
		for k := range u {
			changes[k] = 0
			if u[k].Station == nip && (k == 0 || u[k-1].Station != nip) {
				changes[k] = 10e-6
			}
		}
		l, err := l.With(changes, 3, nil)
		if err != nil {
			t.Fatal(err)
		}
		res := make([]line.Result, l.Len())
		l.RunTo(res, 3)
		if got := res[nip].Validity; got != want {
			t.Errorf("%s: %v, want %v (%+v)", kind, got, want, res[nip])
		}
	}
}
