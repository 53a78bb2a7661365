package line_test

import (
	"math"
	"testing"

	"example.org/pithball/decay"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

const uC = float64(units.MicrocoulombPerSquareMetre)

// TestRunFromByHand: 4 and −1 µC/m² leave the unwind. On 1 m at 1 m/s along an
// earthed edge of 2 s the net of 3 falls to 3·e^−0.5 = 1.819592 and the difference
// of 5 stays (pairing takes days), so that 3.409796 and −1.590204 arrive. The roller
// on A of 10 µC/m² at saturation and exposure ln 2 goes halfway: 6.704898. At 4 m/s
// the saturation is 10·4^0.5 = 20 and the net falls to 3·e^−0.125 = 2.647491: A
// arrives with 3.823745 and leaves with 11.911873.
func TestRunFromByHand(t *testing.T) {
	const s = units.SurfaceChargeDensity(1e-6)
	d := &line.Description{Schema: line.Schema, Name: "by hand",
		Web: line.Web{Material: "film", Thickness: units.Length(20e-6), Width: units.Metre, Density: units.Density(900),
			RelativePermittivity: known.Band{Value: 2.2}, VolumeResistivity: units.VolumeResistivity(1e19), Humidity: 1},
		Speed: units.MetrePerSecond, Limit: line.Limit{Kind: line.ClingLimit},
		Air: line.AirSpec{Temperature: units.Celsius(22), RelativeHumidity: 30 * units.PercentRH, Pressure: units.Atmosphere},
		Stations: []line.StationSpec{
			{Name: "unwind", Kind: line.Unwind, Leak: &line.LeakSpec{Path: decay.EarthedEdge, Time: 2 * units.Second},
				Change: []line.ChangeSpec{{Face: line.FaceA, Median: -3 * s, Spread: s}, {Face: line.FaceB, Spread: s}}},
			{Name: "roller", Kind: line.Roller, At: units.Metre,
				Roller: &line.RollerSpec{Radius: 50 * units.Millimetre, Kind: line.BareMetal},
				// σ∞ = 5/(1 − e^−ln 2) = 10 µC/m²
				Change: []line.ChangeSpec{{Face: line.FaceA, Median: 5 * s, Spread: s, Exposure: math.Ln2,
					Speed: known.Band{Value: 0.5}}}},
			{Name: "winder", Kind: line.Winder, At: 2 * units.Metre},
		}}
	l := newLine(t, d)
	res := make([]line.Result, 5)
	start := line.State{A: 4e-6, B: -1e-6}
	if net := float64(start.Net()); !(math.Abs(net-3e-6) <= 1e-20) {
		t.Errorf("net %v", net)
	}
	for _, c := range []struct {
		speed             units.Speed
		a, b, gain, lostB float64 // µC/m²
	}{
		{1, 6.704898, -1.590204, 3.295102, 1.180408},
		{4, 11.911873, -1.176255, 8.088127, 0.352509},
	} {
		if n := l.RunFrom(res, 0, start, line.Conditions{Speed: c.speed}); n != 2 {
			t.Fatalf("%d stations", n)
		}
		for what, x := range map[string][2]float64{"A": {float64(res[0].A), c.a}, "B": {float64(res[0].B), c.b},
			"gain of A": {float64(res[0].GainA), c.gain}, "lost": {float64(res[0].Lost), c.lostB},
			"A at the winder": {float64(res[1].A), c.a}, "B at the winder": {float64(res[1].B), c.b}} {
			if !(math.Abs(x[0]/uC-x[1]) <= 2e-6) { // NaN is none
				t.Errorf("at %v: %s is %.6f µC/m², by hand %.6f", c.speed, what, x[0]/uC, x[1])
			}
		}
	}
	if n := l.RunFrom(res, 2, start, line.Conditions{Speed: 1}); n != 0 {
		t.Errorf("behind the winder: %d stations", n)
	}
}

// TestRunFromIsTheRestOfTheLine: started with what the line itself carries it goes
// on as the line does, to the last bit, and wrong input has its one answer.
func TestRunFromIsTheRestOfTheLine(t *testing.T) {
	l := newLine(t, demoDescription(t))
	whole, rest := make([]line.Result, l.Len()), make([]line.Result, l.Len())
	at := line.Conditions{Speed: 3}
	l.RunTo(whole, at.Speed)
	for i := range whole {
		n := l.RunFrom(rest, i, line.State{A: whole[i].A, B: whole[i].B}, at)
		if n != l.Len()-i-1 {
			t.Fatalf("behind station %d: %d stations", i, n)
		}
		for j := range n {
			if rest[j] != whole[i+1+j] {
				t.Fatalf("from station %d: station %d is %+v, in the whole line %+v", i, i+1+j, rest[j], whole[i+1+j])
			}
		}
	}
	if n := testing.AllocsPerRun(100, func() { l.RunFrom(rest, 2, line.State{A: 1e-6}, at) }); n != 0 {
		t.Errorf("%v allocations", n)
	}
	for _, i := range []int{-1, l.Len()} {
		if n := l.RunFrom(rest, i, line.State{}, at); n != 0 {
			t.Errorf("station %d: %d written", i, n)
		}
	}
	if n := l.RunFrom(rest[:2], 0, line.State{}, at); n != 2 {
		t.Errorf("short dst: %d written", n)
	}
	nan, inf := math.NaN(), math.Inf(1)
	for _, c := range []struct{ a, b, v float64 }{{nan, 0, 3}, {0, inf, 3}, {0, 0, 0}, {0, 0, nan}, {0, 0, inf}} {
		s := line.State{A: units.SurfaceChargeDensity(c.a), B: units.SurfaceChargeDensity(c.b)}
		n := l.RunFrom(rest, 0, s, line.Conditions{Speed: units.Speed(c.v)})
		for j := range n {
			if !math.IsNaN(float64(rest[j].A)) || !math.IsNaN(float64(rest[j].B)) {
				t.Errorf("%+v gives %+v", c, rest[j])
			}
		}
	}
}
