package line

import (
	"math"
	"testing"

	"example.org/pithball/decay"
	"example.org/pithball/units"
)

// TestResponseByHand: from the unwind 1 m at 1 m/s, a leak of 2 s for the net and pairing in τ = ε0·2.2·1e11 Ω·m
// = 1.947921 s for the difference: a unit on A becomes (e^−0.5 + e^−0.513368)/2 = (0.606531 + 0.598477)/2 = 0.602504
// on A and (0.606531 − 0.598477)/2 = 0.004027 on B. What is off adds nothing, the others what they add.
func TestResponseByHand(t *testing.T) {
	l := metered(t, func(d *Description) {
		d.Web.VolumeResistivity = 1e11
		d.Stations[0].Leak = &LeakSpec{Path: decay.EarthedEdge, Time: 2}
	})
	u, _, _ := l.Unknowns() // unwind A, B; roller A; nip A, B
	whole := l.Response(u, 1, nil)
	byHand(t, "A of A", whole[1][0][0], 0.602504)
	byHand(t, "A of B", whole[1][0][1], 0.004027)
	byHand(t, "B of A", whole[1][1][0], 0.004027)
	byHand(t, "B of B", whole[1][1][1], 0.602504)
	if whole[0][0][0] != 1 || whole[0][1][1] != 1 || whole[0][0][1] != 0 || whole[1][0][2] != 1 || whole[0][0][2] != 0 {
		t.Errorf("%v %v", whole[0], whole[1])
	}
	off := l.Response(u, 1, []string{"roller"})
	if off[1][0][2] != 0 || off[5][0][2] != 0 || off[1][0][0] != whole[1][0][0] || off[2][0][3] != 1 || off[2][1][4] != 1 {
		t.Errorf("%v, %v", off[1], off[2])
	}
}

// TestCapIsShared: what the gas takes of the net while the web parts comes off the faces that touched, half each. With
// the cap C 30 µC/m² on each face leave a nip as C/2 each; 48 and 12 as 48 − (60 − C)/2 and 12 − (60 − C)/2,
// of the other sign alike; off a roller that touches one face all of it comes from that.
func TestCapIsShared(t *testing.T) {
	const s = units.SurfaceChargeDensity(1e-6)
	// Saturated contacts make their medians of whatever arrives.
	run := func(kind StationKind, a, b units.SurfaceChargeDensity) (Result, float64) {
		l := metered(t, func(d *Description) {
			for i := range d.Stations[2].Change {
				d.Stations[2].Change[i].Exposure = 50
			}
			d.Stations[2].Change[0].Median, d.Stations[2].Change[1].Median = a, b
			if kind == Roller {
				d.Stations[1].Change[0].Median, d.Stations[1].Change[0].Exposure = a, 50
			}
		})
		res := make([]Result, l.Len())
		l.RunTo(res, 4)
		if kind == Roller {
			return res[1], float64(l.NetCap()) * 1e6
		}
		return res[2], float64(l.NetCap()) * 1e6
	}
	for _, c := range [][2]float64{{30, 30}, {48, 12}, {-48, -12}, {12, 48}} {
		r, most := run(Nip, units.SurfaceChargeDensity(c[0])*s, units.SurfaceChargeDensity(c[1])*s)
		over := math.Copysign(60-most, c[0]) / 2
		byHand(t, "face A", float64(r.A)*1e6, c[0]-over)
		byHand(t, "face B", float64(r.B)*1e6, c[1]-over)
		if r.Ruled != GasCap || most > 59 {
			t.Errorf("%v below a cap of %g µC/m²", r.Ruled, most)
		}
	}
	r, most := run(Roller, 60*s, 0)
	byHand(t, "face A of a roller", float64(r.A)*1e6, most)
	if r.B != 0 || r.Ruled != GasCap {
		t.Errorf("%+v", r)
	}
}

// TestSpanByHand: the free web about a station reaches from the last roller before to the first behind: from the nip
// at 2 m to the winder at 5 m about both places, from the unwind to the nip about the roller at 1 m.
func TestSpanByHand(t *testing.T) {
	l := metered(t, nil)
	for i, want := range []units.Length{0, 2, 4, 3, 3, 0} {
		if got := l.span(i); got != want {
			t.Errorf("about station %d: %v, by hand %v", i, got, want)
		}
	}
}
