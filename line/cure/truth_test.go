package cure

import (
	"math"
	"os"
	"testing"

	"example.org/pithball/line"
	"example.org/pithball/units"
)

const micro = 1e-6

// plantDescription is that of plant A, with the exposures of its hidden truth.
func plantDescription(t testing.TB) *line.Description {
	t.Helper()
	f, err := os.Open("../../examples/survey/demo/line.json")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	d, err := line.ReadDescription(f)
	if err != nil {
		t.Fatal(err)
	}
	// The tables of the hidden truth were made with bars that take a share.
	for i := range d.Stations {
		if ion := d.Stations[i].Ioniser; ion != nil {
			ion.Bar, ion.Conductivity, ion.Zone, ion.Supply = nil, 1.6e-9, 50*units.Millimetre,
				300*units.MicroamperePerMetre
		}
	}
	return d
}

// plantChanges are the changes of plant A's hidden truth, in the order of
// line.Unknowns: faces −2.1/+0.6 at the unwind, −3.94987 and exposure 0.2 at idlers 1
// and 2 on B, 20 % of the net by B1, 15.5 and −14.6 at the nip, then idlers 4 to 6
// (13.4483 on A, −18.5332 on B), 92.3 % by B2, 1.1 at the lay-on [µC/m²].
func plantChanges() []float64 {
	g := -math.Expm1(-0.2)
	one := g * (-3.94987 - 0.6)
	two := -1.5 - one
	five := g * (-18.5332 + 15.5)
	return []float64{-2.1, 0.6, one, two, 0.6, 15.5, -14.6, -0.1, five, -1 - five, 2.4, 1.1}
}

// plant is plant A with its hidden truth in every draw: only exponents are drawn.
func plant(t testing.TB, edit func(*line.Description)) *Calibrated {
	t.Helper()
	d := plantDescription(t)
	if edit != nil {
		edit(d)
	}
	f := found{speed: float64(220 * units.MetrePerMinute), exposed: true}
	f.low, f.high = f.speed, f.speed
	for _, x := range plantChanges() {
		f.changes = append(f.changes, same(x*micro))
	}
	m, err := build(d, f, nil)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// hiddenExponents are those of plant A: 0.6 at the nip, 0.35 elsewhere.
func hiddenExponents(d *line.Description) {
	for i := range d.Stations {
		for j := range d.Stations[i].Change {
			c := &d.Stations[i].Change[j]
			if c.Speed.Value = 0.35; d.Stations[i].Kind == line.Nip {
				c.Speed.Value = 0.6
			}
		}
	}
}

// places are the stations of the tables.
var places = map[string]string{"A2": "A2 mid span, bar B1 off", "A3": "A3 after bar B1", "A4": "A4 after nip",
	"A5": "A5 after idlers 4-6", "A6": "A6 after bar B2", "A7": "A7 after lay-on"}

// middleFaces checks the faces of the middle line [µC/m²].
func middleFaces(t *testing.T, m *Calibrated, v units.Speed, tol float64, want map[string][2]float64) {
	t.Helper()
	w := m.run(float64(v))
	for place, x := range want {
		i := m.station(places[place])
		a, b := w.a[i][Draws]/micro, w.b[i][Draws]/micro
		if !(math.Abs(a-x[0]) <= tol && math.Abs(b-x[1]) <= tol) {
			t.Errorf("%s: %.4f/%.4f µC/m², the table %.4f/%.4f", place, a, b, x[0], x[1])
		}
	}
}

// TestPlantAsFound: CHA-0, the hidden truth as a chain gives the state of the survey.
func TestPlantAsFound(t *testing.T) {
	middleFaces(t, plant(t, nil), 220*units.MetrePerMinute, 0.002, map[string][2]float64{"A2": {-1.5, -0.9},
		"A3": {-1.5, -0.9}, "A4": {14, -15.5}, "A5": {13.9, -16.5}, "A6": {16.3, -16.5}, "A7": {17.4, -16.5}})
}

// TestPlantAtOtherSpeeds: CHA-4 and CHA-5, the hidden exponents.
func TestPlantAtOtherSpeeds(t *testing.T) {
	m := plant(t, hiddenExponents)
	middleFaces(t, m, 110*units.MetrePerMinute, 0.005, map[string][2]float64{"A3": {-0.800276, -0.706126},
		"A4": {9.30622, -10.2675}, "A5": {9.53192, -11.6764}, "A6": {11.6637, -11.6764}, "A7": {12.8976, -11.6764}})
	middleFaces(t, m, 300*units.MetrePerMinute, 0.005, map[string][2]float64{"A3": {-1.83602, -1.0032},
		"A4": {16.8527, -18.6405}, "A5": {16.5151, -19.3058}, "A6": {18.8804, -19.3058}, "A7": {19.872, -19.3058}})
}
