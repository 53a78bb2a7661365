package cure

import (
	"math"
	"testing"

	"example.org/pithball/charge"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// nipCover is the cover of the tables: Ø120 mm, 12 mm thick, the gas leaves 48 µC/m².
func nipCover(tau float64) *cover {
	return &cover{tau: tau, turn: 2 * math.Pi * 0.06, bound: 48 * micro}
}

const nipSpeed = 220.0 / 60

// TestCoverStrength: RUN-3, the saturation that a measured change implies.
func TestCoverStrength(t *testing.T) {
	g := -math.Expm1(-1)
	for _, c := range []struct {
		tau, kept, s, cover float64
		gas                 bool
	}{{266, 0.999614, 47.7614, -48, true}, {2.66, 0.962085, 46.8607, -48, true},
		{0.0266, 0.0209576, 23.9365, -15.8318, false}} {
		k := nipCover(c.tau)
		near(t, "kept", k.kept(nipSpeed), c.kept, 1e-6)
		s := k.strengthFor(-1.5*micro, 15.5*micro, g, k.kept(nipSpeed))
		near(t, "saturation", s/micro, c.s, 1e-3*c.s)
		after, gas := k.pass(-1.5*micro, s, g, k.kept(nipSpeed))
		near(t, "after", after/micro, 14, 1e-9)
		if gas != c.gas {
			t.Errorf("τ %g s: gas rules %v", c.tau, gas)
		}
	}
}

// TestCoverTimes: RUN-4, the same contact with other time constants of its cover, and
// RUN-9, 300 m/min with the exponent 0.6.
func TestCoverTimes(t *testing.T) {
	g := -math.Expm1(-1)
	for tau, want := range map[float64]float64{266: 15.5, 2.66: 16.0693, 0.5: 18.3139, 0.0266: 30.459, 0.001: 30.665} {
		k := nipCover(tau)
		after, _ := k.pass(-1.5*micro, 47.7614*micro, g, k.kept(nipSpeed))
		near(t, "change", after/micro+1.5, want, 1e-4*want)
	}
	k := nipCover(266)
	s := k.strengthFor(-1.5*micro, 15.5*micro, g, k.kept(nipSpeed)) * math.Pow(300.0/220, 0.6)
	after, _ := k.pass(-1.5*micro, s, g, k.kept(5))
	near(t, "capped at 300 m/min", after/micro+1.5, 21.6735, 0.02)
	metal := touch{strength: same((-1.5 + 15.5/g) * micro), closes: same(g)}
	face := []float64{-1.5 * micro}
	metal.pass(face, []float64{math.Pow(300.0/220, 0.6)}, make([]line.Mechanism, 1), nil, 5, 0)
	near(t, "metal at 300 m/min", face[0]/micro+1.5, 18.4763, 0.02)
}

// TestCoverIsThatOfCharge: the quick form agrees with package charge over time
// constants, speeds, exposures and charges, both ways.
func TestCoverIsThatOfCharge(t *testing.T) {
	for _, tau := range []float64{1e-3, 0.03, 0.5, 3, 266, 1e6} {
		for _, n := range []float64{0.05, 0.4, 1, 4} {
			for _, s := range []float64{-60, -20, 0, 5, 47} {
				for _, before := range []float64{-20, -1.5, 0, 8} {
					c, err := charge.NewContact(charge.ContactSpec{Saturation: units.SurfaceChargeDensity(s * micro), Exposure: n})
					if err != nil {
						t.Fatal(err)
					}
					r, err := charge.NewCoveredRoller(charge.CoveredRollerSpec{Contact: c, Radius: 60 * units.Millimetre,
						Tau: units.Time(tau)})
					if err != nil {
						t.Fatal(err)
					}
					k := &cover{tau: tau, turn: 2 * math.Pi * 0.06, bound: float64(r.Bound())}
					g := -math.Expm1(-n)
					for _, v := range []float64{0.1, nipSpeed, 12} {
						want := r.Steady(units.SurfaceChargeDensity(before*micro), units.Speed(v), 1)
						got, gas := k.pass(before*micro, s*micro, g, k.kept(v))
						if !(math.Abs(got-float64(want.Web)) <= 1e-11*(1+math.Abs(s))*micro) || gas != want.Gas {
							t.Fatalf("τ %g, n %g, S %g, before %g, v %g: %g %v, charge %v %v", tau, n, s, before, v, got, gas,
								want.Web, want.Gas)
						}
					}
					change := units.SurfaceChargeDensity(7 * micro)
					want, err := r.SaturationFor(units.SurfaceChargeDensity(before*micro), change, nipSpeed, 1)
					if err != nil {
						t.Fatal(err)
					}
					got := k.strengthFor(before*micro, 7*micro, g, k.kept(nipSpeed))
					if !(math.Abs(got-float64(want)) <= 1e-9*math.Abs(got)) {
						t.Fatalf("τ %g, n %g, before %g: saturation %g, charge %v", tau, n, before, got, want)
					}
				}
			}
		}
	}
}

// TestCoverSwap: CHA-8, a dissipative cover of another chemistry. A leaking cover by
// itself gives no gain: 0.52, 1.00 and 1.98 times the old change for strengths of a
// quarter, half and the same.
func TestCoverSwap(t *testing.T) {
	m := free(t, func(d *line.Description) {
		for i := range d.Stations {
			if d.Stations[i].Kind == line.Nip {
				r := *d.Stations[i].Roller
				r.Kind, r.Cover = line.InsulatingCover, 266*units.Second
				d.Stations[i].Roller = &r
			}
		}
	})
	s := m.station("tension nip")
	g := -math.Expm1(-1)
	for j := range m.stages[s].touch {
		m.stages[s].touch[j].cover = nipCover(266)
	}
	k := nipCover(266)
	m.stages[s].touch[0].strength = same(k.strengthFor(-1.5*micro, 15.5*micro, g, k.kept(nipSpeed)))
	m.stages[s-1].hidden = [2]column{} // B1 leaves −1.5 on A
	for ratio, want := range map[float64]float64{0.25: 0.517537, 0.5: 1.00449, 1: 1.97839} {
		c := try(t, m, Cover{Station: "tension nip", Face: line.FaceA, Strength: known.Band{Value: ratio},
			Time: units.Millisecond})
		w := c.run(nipSpeed)
		near(t, "change over the old one", (w.a[s][Draws]/micro+1.5)/15.5, want, 0.005*want)
	}
	if _, err := free(t, nil).Try(Cover{Station: "tension nip", Face: line.FaceA, Time: 1}); err == nil {
		t.Error("a time constant for a metal roller")
	}
}
