package survey

import (
	"math"
	"slices"
	"testing"

	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Parts of the model by themselves, with figures worked out by hand.

// TestWrongs: row 0 is wrong in the lesser explanation by itself and open in the leading one,
// 0.2 + 0.8·0.3; row 1 is open there only, 0.8·0.5. A contact is no row.
func TestWrongs(t *testing.T) {
	m := &model{rows: make([]row, 2), doubts: []doubt{{row: -1}, {row: 0}, {row: 1}}}
	p := &Posterior{modes: []mode{
		{weight: 0.8, on: []bool{true, false, false}, open: []opening{{doubt: 1, chance: 0.3}, {doubt: 2, chance: 0.5}}},
		{weight: 0.2, on: []bool{false, true, false}, open: []opening{{doubt: 0, chance: 0.7}}},
	}}
	if w := m.wrongs(p); !(math.Abs(w[0]-0.44) <= 1e-12) || !(math.Abs(w[1]-0.4) <= 1e-12) {
		t.Errorf("%v, by hand 0.44 and 0.4", w)
	}
}

// TestKeepCuts: a display taken as wrong cuts no sample, and neither do those beyond the
// sixteenth; covariances keep their places.
func TestKeepCuts(t *testing.T) {
	m := &model{d: &Diagnosis{}}
	sp := &space{cens: []censored{{row: 4, cov: []float64{1, 2, 3}}, {row: 5, cov: []float64{2, 4, 5}, dropped: true},
		{row: 7, cov: []float64{3, 5, 6}}}}
	got := m.keepCuts(sp)
	if len(got) != 2 || got[0].row != 4 || got[1].row != 7 || !slices.Equal(got[0].cov, []float64{1, 3}) ||
		!slices.Equal(got[1].cov, []float64{3, 6}) {
		t.Errorf("%+v", got)
	}
	sp = &space{}
	for i := range 20 {
		sp.cens = append(sp.cens, censored{row: i, cov: make([]float64, 20), dropped: i == 3})
	}
	if got = m.keepCuts(sp); len(got) != 16 || got[15].row != 16 {
		t.Errorf("%d displays are kept", len(got))
	}
}

// TestFolded: the rows of a matrix of two changes, a layer that both share and one more unknown.
func TestFolded(t *testing.T) {
	m := &model{d: &Diagnosis{}, lay: &layout{layer: 2, layers: [][2]int{{0, 1}}}}
	got := m.folded([]float64{1, 2, 10, 99, 3, 4, 20, 99, 5, 6, 30, 99}, 3, 4)
	if want := []float64{11, -8, 23, -16, 35, -24}; !slices.Equal(got, want) {
		t.Errorf("%v, by hand %v", got, want)
	}
}

// TestFreeMoments: of the covariance (4 3; 3 9) the deviations are 2 and 3, and to know one
// change takes 9/36 of the variance of the other.
func TestFreeMoments(t *testing.T) {
	f := &free{n: 2, cov: []float64{4, 3, 3, 9}}
	if f.sd(0) != 2 || f.sd(1) != 3 {
		t.Errorf("deviations %v and %v", f.sd(0), f.sd(1))
	}
	if f.trade(0, 1) != 0.25 || f.trade(1, 0) != 0.25 {
		t.Errorf("trade %v and %v", f.trade(0, 1), f.trade(1, 0))
	}
	if got := f.left(1); got != 9.0/1600 {
		t.Errorf("left %v of 40²", got)
	}
}

// TestMultiplier: at e^ρ times the speed a change whose exponent is 2 is e^2ρ times as large,
// within e^±3; it follows what all exponents share by 0.827 and its own by 0.562 of the spread
// of 0.3, times ρ.
func TestMultiplier(t *testing.T) {
	for rho, want := range map[float64]float64{1: math.Exp(2), -1.25: math.Exp(-2.5), 4: math.Exp(3), -4: math.Exp(-3)} {
		l := &layout{conds: []condition{{}, {rho: rho}}, stations: []int{5}, stationOf: []int{0}, speed: 1,
			exponent: []known.Band{{Value: 2, Spread: 0.3, Kind: known.Normal}}}
		got, cols, slopes, used := l.multiplier(0, 1, make([]float64, 3))
		if !(math.Abs(got-want) <= 1e-12*want) {
			t.Errorf("ρ %v: %v, by hand %v", rho, got, want)
		}
		lo, hi := l.exponent[0].Limits()
		sd := (hi - lo) / (2 * known.Z95)
		if used != 2 || cols[0] != 1 || cols[1] != 2 || !(math.Abs(slopes[0]-0.827*sd*rho) <= 1e-12) ||
			!(math.Abs(slopes[1]-0.562*sd*rho) <= 1e-12) {
			t.Errorf("ρ %v: %v %v, %d used", rho, cols, slopes, used)
		}
	}
}

// TestMost: the key that was counted most, the least of those that draw.
func TestMost(t *testing.T) {
	if k := most(map[string]int{"a": 2, "b": 5, "c": 5, "d": 1}); k != "b" {
		t.Errorf("%q", k)
	}
	if k := most(map[float64]int{0.7: 1, 0.3: 4}); k != 0.3 {
		t.Errorf("%v", k)
	}
}

// TestWhatIsOneThing: a field meter at two distances reads two things and its face is none, a
// voltmeter reads each face by itself at whatever distance.
func TestWhatIsOneThing(t *testing.T) {
	s := &Survey{}
	views, of := map[int]line.View{}, map[int]int{}
	var all []shown
	for i, r := range []struct {
		quantity line.Quantity
		face     line.Face
		distance units.Length
	}{
		{line.FieldMeter, line.FaceA, 0.025}, {line.FieldMeter, line.FaceB, 0.025}, {line.FieldMeter, line.FaceA, 0.05},
		{line.OverRoller, line.FaceA, 0.002}, {line.OverRoller, line.FaceA, 0.004}, {line.OverRoller, line.FaceB, 0.002},
	} {
		x := Reading{}
		x.Quantity, x.Face, x.Distance = r.quantity, r.face, r.distance
		s.Readings = append(s.Readings, x)
		views[i], of[i] = line.View{Station: 3, Edge: 1, OverFilm: r.quantity == line.OverRoller}, 0
		all = append(all, shown{volts: float64(i)})
	}
	var got [][]int
	for _, g := range grouped(s, views, of, 2, all) {
		got = append(got, g.readings)
	}
	if want := [][]int{{0, 1}, {2}, {3, 4}, {5}}; !slices.EqualFunc(got, want, slices.Equal) {
		t.Errorf("%v, want %v", got, want)
	}
}

// TestCommonScatter: four spots in front of faces that hold 10 µC/m² each, of either sign, and
// do not scatter: that both scatter together explains it, at the price of two nats. Where one
// face holds all, nothing speaks for it.
func TestCommonScatter(t *testing.T) {
	for _, c := range []struct{ faces, net, want float64 }{{100, 0.01, 0.99}, {50, 100, 0}} {
		g := &group{n: 4, spots: 4}
		g.OnA, g.OnB = 1e9, 1e9 // 1,000 V per µC/m²
		m := &model{d: &Diagnosis{desc: line.Description{Meters: []line.Meter{{}}}}, groups: []*group{g}, spots: 0.1,
			square: [][2]float64{{c.faces, c.faces}}, whole: []float64{c.net}, base: make([]float64, 1),
			scatS: make([]float64, 1)}
		if m.scatter(true); m.common != c.want {
			t.Errorf("faces %v, net %v: %v in common, want %v", c.faces, c.net, m.common, c.want)
		}
	}
}

// TestLastDigit: 10 V up to 2 kV and 100 V above, of either sign, 0.1 V of a voltmeter; a step
// of 1 has the deviation 1/√12.
func TestLastDigit(t *testing.T) {
	field, volt := &group{}, &group{}
	volt.OverFilm = true
	for _, c := range []struct {
		g        *group
		fit, own float64
	}{{field, 2000, 10}, {field, 2001, 100}, {field, -2001, 100}, {field, -1999, 10}, {volt, 5000, 0.1}} {
		if got := displayStep(c.g, c.fit); !(math.Abs(got-c.own/math.Sqrt(12)) <= 1e-12) {
			t.Errorf("%v V: %v", c.fit, got)
		}
	}
}

// TestEarthOfARoller: measured is what the ground check says of this roller.
func TestEarthOfARoller(t *testing.T) {
	d := &Diagnosis{Ground: []GroundFinding{{Station: 2, Measured: true}, {Station: 3}}}
	for station, want := range map[int]bool{1: false, 2: true, 3: false} {
		if d.earthMeasured(station) != want {
			t.Errorf("station %d measured: %v", station, !want)
		}
	}
}

// TestFacesRead: a voltmeter over a roller, or over a contact of both faces itself, sees the
// faces behind it as far as the next such contact; over that it reads behind both.
func TestFacesRead(t *testing.T) {
	kinds := []line.StationKind{line.Unwind, line.Roller, line.Nip, line.Place, line.Nip, line.Roller}
	for _, c := range []struct {
		over, missing []int
	}{
		{nil, []int{0, 2, 4}}, {[]int{1}, []int{2, 4}}, {[]int{2}, []int{0, 4}}, {[]int{4}, []int{0, 2}},
		{[]int{5}, []int{0, 2}}, {[]int{1, 2, 5}, nil},
	} {
		d := &Diagnosis{model: &model{}}
		for _, k := range kinds {
			d.desc.Stations = append(d.desc.Stations, line.StationSpec{Kind: k})
		}
		for _, s := range c.over {
			g := &group{}
			g.Station, g.OverFilm = s, true
			d.model.groups = append(d.model.groups, g)
		}
		free := &group{}
		free.Station = 3
		d.model.groups = append(d.model.groups, free)
		if ok, missing := d.facesRead(); ok != (c.missing == nil) || !slices.Equal(missing, c.missing) {
			t.Errorf("over %v: %v %v, want %v", c.over, ok, missing, c.missing)
		}
	}
}

// TestLookBehind: behind a roller 300 mm are taken for the free span; at a place the gap is the
// described one. The meter is the first of its kind, at its own distance.
func TestLookBehind(t *testing.T) {
	d := &Diagnosis{desc: line.Description{
		Meters: []line.Meter{{Name: "V", Kind: line.VoltmeterKind}, {Name: "F", Kind: line.FieldMeterKind, Nominal: 0.025},
			{Name: "G", Kind: line.FieldMeterKind, Nominal: 0.1}},
		Stations: []line.StationSpec{{Name: "R"}},
	}}
	for behind, gap := range map[bool]units.Length{true: 0.3, false: 0} {
		s := &Suggestion{Quantity: line.FieldMeter, Behind: behind}
		if l := s.look(d); l.Gap != gap || l.Meter != "F" || l.Distance != 0.025 || l.Face != line.FaceA ||
			l.Station != "R" {
			t.Errorf("behind %v: %+v", behind, l)
		}
	}
	volt := &Suggestion{Quantity: line.OverRoller, Face: line.FaceB}
	if l := volt.look(d); l.Meter != "V" || l.Face != line.FaceB {
		t.Errorf("%+v", l)
	}
}

// TestStrongest: of those that spark the one of most energy.
func TestStrongest(t *testing.T) {
	w := &words{f: &Findings{Earth: EarthFinding{Isolated: []IsolatedState{{Energy: 1, Sparks: true},
		{Energy: 3, Sparks: true}, {Energy: 9}, {Energy: 2, Sparks: true}}}}}
	if s := w.strongest(); s == nil || s.Energy != 3 {
		t.Errorf("%+v", s)
	}
	w.f.Earth.Isolated = w.f.Earth.Isolated[2:3]
	if s := w.strongest(); s != nil {
		t.Errorf("%+v", s)
	}
}

// TestTwoInOrder: station 3 is there in all samples and station 1 in 95 of 100: two sources, told
// in the order of the path.
func TestTwoInOrder(t *testing.T) {
	b := newBench([3]float64{10, 0, 10}, [3]float64{enough, 1, enough}, [][3]float64{{10, 1, 10}, {1, 1, 10}},
		[]int{95, 5})
	c, _ := b.contest()
	a, ok := b.d.two(c, 2)
	if !ok || len(a.Sets) != 2 || !slices.Equal(a.Sets[0], []int{1}) || !slices.Equal(a.Sets[1], []int{3}) ||
		!(math.Abs(a.Chance-0.75*0.95) <= 1e-12) {
		t.Errorf("%v %+v", ok, a)
	}
}
