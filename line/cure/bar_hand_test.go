package cure

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"example.org/pithball/ionflow"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// blowing is a bar of 100 holes of 1 mm a metre at 0.3 bar, close to the web.
func blowing(t *testing.T) *Calibrated {
	b := &line.Bar{Kind: ionflow.DC, Current: 25 * units.MicroamperePerMetre, Gauge: 0.3 * units.BarGauge,
		Hole: units.Millimetre, HolePitch: 10 * units.Millimetre, Captured: 0.215}
	return foundBar(t, barLine(b, func(d *line.Description) { d.Stations[1].Ioniser.Distance = 0.035 }), 0.85e-6)
}

// TestOtherAirByHand: 7.3 L/min a hole at 0.3 bar (TestAirOfMakersData) are 730 a metre; at 1 and at 2 bar the holes
// are choked, and their flow goes as 2.013 to 3.013. Air at 0.11 kWh/m³ and 0.15 for 4000 h costs 237,600 a year for
// each m³/s. Where the air is the best already, no other one is offered.
func TestOtherAirByHand(t *testing.T) {
	m := blowing(t)
	flows := func(gauge units.GaugePressure) (is, was float64) {
		if _, err := fmt.Sscanf(m.airOf(Blow{"bar", gauge}), "%f instead of %f L/min of air per metre", &is,
			&was); err != nil {
			t.Fatal(err)
		}
		return is, was
	}
	one, was := flows(1 * units.BarGauge)
	two, _ := flows(2 * units.BarGauge)
	near(t, "as it is", was, 730, 0.03*730)
	near(t, "2 bar over 1", two/one, 3.013/2.013, 3e-3)
	if same, _ := flows(0.3 * units.BarGauge); same != was {
		t.Errorf("the same air: %v, was %v", same, was)
	}
	m.site.Prices = Prices{Currency: "EUR", Hours: 4000, Kilowatt: 0.15}
	side := try(t, m, Blow{"bar", 1 * units.BarGauge}).Predict().Side
	near(t, "more air", float64(side.Air)*60e3, one-was, 1) // of a web of one metre
	near(t, "its price", side.PerYear, float64(side.Air)*237600, 1e-6)
	weak, _ := flows(0.1 * units.BarGauge)
	less := try(t, m, Blow{"bar", 0.1 * units.BarGauge}).Predict().Side
	near(t, "less air", float64(less.Air)*60e3, weak-was, 1)
	near(t, "its price", less.PerYear, float64(less.Air)*237600, 1e-6)
	gauge, ok := m.bestAir(1)
	if !ok {
		t.Fatal("no better air")
	}
	best := try(t, m, Blow{"bar", gauge})
	if other, ok := best.bestAir(1); ok {
		t.Errorf("%v is better than the best, %v", other, gauge)
	}
	if _, ok := foundBar(t, barLine(strong(), nil), 1e-6).bestAir(1); ok {
		t.Error("air for a bar without air")
	}
}

// TestFactorByHand: k = k₀·(d/d₀)^a·(z/z₀)^b·(v/v₀)^c, and where the air was turned on or up the share of a decade of
// it. Twice the distance with a = 0.4 is 2^0.4, ten times the charge with b = 0.2 10^0.2, at most e^(4.6·0.2); ratio
// is the speed of the survey over that of now; 0.3 to 3 bar are a decade with 0.35.
func TestFactorByHand(t *testing.T) {
	m := foundBar(t, barLine(strong(), nil), 1.2e-6)
	base := *m.stages[1].bar.curve
	base.factor, base.shape = same(2), [4]column{same(0.4), same(0.2), same(-0.25), same(0.35)}
	base.z = same(3e-6)
	blown := func(gauge units.GaugePressure) func(c *curve) {
		return func(c *curve) { c.gauge, c.at.bar.Gauge = 0.3e5, gauge }
	}
	for _, x := range []struct {
		what       string
		set        func(c *curve)
		net, ratio float64
		want       float64
	}{
		{"as found", nil, 3e-6, 1, 2},
		{"the other sign", nil, -3e-6, 1, 2},
		{"half the speed", nil, 3e-6, 2, 2 * math.Pow(2, 0.25)},
		{"twice the speed", nil, 3e-6, 0.5, 2 * math.Pow(2, -0.25)},
		{"twice as far", func(c *curve) { c.far /= 2 }, 3e-6, 1, 2 * math.Pow(2, 0.4)},
		{"ten times the charge", nil, 30e-6, 1, 2 * math.Pow(10, 0.2)},
		{"a tenth of it", nil, -0.3e-6, 1, 2 * math.Pow(10, -0.2)},
		{"far beyond it", nil, 1, 1, 2 * math.Exp(0.2*4.6)},
		{"next to nothing", nil, 1e-15, 1, 2 * math.Exp(-0.2*4.6)},
		{"nothing", nil, 0, 1, 2},
		{"never read", func(c *curve) { c.z = nil }, 30e-6, 1, 2},
		{"a decade of air", blown(3e5), 3e-6, 1, 2 * math.Exp(0.35)},
		{"a third of one", blown(0.3e5 * 2.15443469), 3e-6, 1, 2 * math.Exp(0.35/3)},
		{"less air alike", blown(0.3e5 / 2.15443469), 3e-6, 1, 2 * math.Exp(0.35/3)},
		{"air off", blown(0), 3e-6, 1, 2 * math.Exp(0.35)},
	} {
		c := base
		if x.set != nil {
			x.set(&c)
		}
		near(t, x.what, c.factorAt(Draws, x.net, x.ratio), x.want, 1e-8)
	}
}

// TestMoreThanAll: a bar that is found to take 3.3 of 3 µC/m² has an imbalance: it takes 99.5 % of the net beyond an
// offset of 3 − 3.3/0.995 = −0.31658 µC/m², and its supply brings that, 3.3 µC/m²·4 m/s. So does one without data.
func TestMoreThanAll(t *testing.T) {
	for name, d := range map[string]*line.Description{"with data": barLine(strong(), nil),
		"without": barLine(nil, func(d *line.Description) { d.Stations[1].Ioniser.Zone = 0.05 })} {
		m := foundBar(t, d, -0.3e-6)
		b := m.stages[1].bar
		near(t, name+": offset", b.offset[Draws]/micro, 3-3.3/0.995, 1e-6)
		near(t, name+": left", behindBar(m)/micro, -0.3, 0.002)
		if !(b.supply[Draws] >= 13.2e-6) {
			t.Errorf("%s: supply %v A/m", name, b.supply[Draws])
		}
		near(t, name+": strength", b.strength[Draws], -math.Log(1-0.995), 1e-6)
	}
	// The share law by hand: of 4 µC/m² beyond an offset of −1 it takes 2; twice that is the least supply. A passive one
	// with an onset of 1 µC/m² at half the field factor sees 4 − 2.
	for _, c := range []struct {
		onset, got  float64 // µC/m²
		share, size float64
	}{{0, -2, 0.5, 4}, {1, -1, 0.5, 2}, {0, 0, 1e-3, 4}, {0, 2, 1e-3, 4}, {1, -3, 0.995, 2}, {3, -1, 1e-3, 1e-6}} {
		b := &bar{factor: 0.5, offset: same(-1e-6), onset: c.onset * micro, strength: same(0), size: same(0), supply: same(0)}
		b.share(0, 3e-6, c.got*micro, 4)
		near(t, "strength", b.strength[0], -math.Log(1-c.share), 1e-9)
		near(t, "size", b.size[0]/micro, c.size, 1e-9)
		near(t, "offset", b.offset[0]/micro, -1, 1e-9)
		if c.size > 1e-3 {
			near(t, "supply", b.supply[0]/micro, 2*c.share*c.size*4, 1e-9)
		}
	}
	// One with a curve has its imbalance from the curve: its share law leaves the offset alone.
	b := &bar{curve: strongCurve(t), factor: 0.5, offset: same(-1e-6), strength: same(0), size: same(0), supply: same(0)}
	b.share(0, 3e-6, -5e-6, 4)
	near(t, "offset of a curve", b.offset[0]/micro, -1, 1e-9)
}

// strongCurve is the curve of that bar.
func strongCurve(t *testing.T) *curve {
	return foundBar(t, barLine(strong(), nil), 1e-6).stages[1].bar.curve
}

// TestPlateRatioByHand: of one plate voltage a web takes ε₀·V·(1/d … 1.5/d + 1/h), on average 1.25/d + 1/h with h =
// d·f/(1 − f) of the field factor: twice as far at the same factor half of it; a place without field changes nothing.
func TestPlateRatioByHand(t *testing.T) {
	at := func(d units.Length, f float64) *fixture { return &fixture{distance: d, factor: f} }
	near(t, "twice as far", plateRatio(at(0.05, 0.9), at(0.025, 0.9)), 0.5, 1e-9)
	near(t, "nearer to metal", plateRatio(at(0.025, 0.5), at(0.025, 0.9)), (1.25+1)/(1.25+1.0/9), 1e-9)
	near(t, "no field there", plateRatio(at(0.025, 0), at(0.025, 0.9)), 1, 0)
	near(t, "no field before", plateRatio(at(0.025, 0.9), at(0.025, 0)), 1, 0)
}

// TestDirtInTheSameDraws: with data and without the dirty draws are those whose chance is below a half, and no other
// one changes.
func TestDirtInTheSameDraws(t *testing.T) {
	b := strong()
	b.Current = 4 * units.MicroamperePerMetre
	m := foundBar(t, barLine(b, nil), 3e-6-0.5*1e-6) // half of the model
	then := try(t, m, Clean{Station: "bar"})
	dirty := chances("dirty", "bar")
	for i := range Draws {
		was, is := m.stages[1].bar.curve.factor[i], then.stages[1].bar.curve.factor[i]
		if (is > was) != (dirty[i] < 0.5) || is > was && is != 1 {
			t.Fatalf("draw %d, chance %v: %v -> %v", i, dirty[i], was, is)
		}
	}
}

// TestRemovedAndOther: what comes back under the name of what was taken away is that only if it is described alike;
// another distance makes it a new bar, of which nobody read anything.
func TestRemovedAndOther(t *testing.T) {
	m := foundBar(t, barLine(nil, func(d *line.Description) { d.Stations[1].Ioniser.Zone = 0.05 }), 1e-6)
	spec := m.desc.Stations[1]
	back := try(t, m, Remove{"bar"}, Add{spec})
	if !slices.Equal(back.stages[1].bar.strength, m.stages[1].bar.strength) {
		t.Error("it does not come back as it was")
	}
	ion := *spec.Ioniser
	ion.Distance = 40 * units.Millimetre
	spec.Ioniser = &ion
	other := try(t, m, Remove{"bar"}, Add{spec})
	near(t, "a new bar", other.stages[1].bar.strength[Draws], 2.5, 1e-9)
}

// TestEarthOfWhat: only a metal roller is earthed, up to 1 MΩ, and a better earth that was measured stays.
func TestEarthOfWhat(t *testing.T) {
	m := free(t, nil)
	m.stages, m.desc.Stations = slices.Clone(m.stages), slices.Clone(m.desc.Stations)
	nip := m.station("tension nip")
	r := *m.desc.Stations[nip].Roller
	r.Kind = line.InsulatingCover
	m.desc.Stations[nip].Roller = &r
	for name, ok := range map[string]bool{"idler 5": true, "tension nip": false, "bar B1": false, "winder": false,
		"nowhere": false} {
		if _, err := m.Try(Earth{Station: name}); (err == nil) != ok {
			t.Errorf("%s: %v", name, err)
		}
	}
	for res, ok := range map[units.Resistance]bool{0: true, 1e6: true, 1.01e6: false, -1: false} {
		if _, err := m.Try(Earth{Station: "idler 5", Resistance: res}); (err == nil) != ok {
			t.Errorf("%v: %v", res, err)
		}
	}
	for _, c := range []struct{ was, want ohms }{
		{ohms{4e9, true, true}, ohms{1e6, true, false}},
		{ohms{500, true, false}, ohms{500, true, false}},
		{ohms{500, false, true}, ohms{1e6, true, false}},
		{ohms{2e6, true, false}, ohms{1e6, true, false}},
	} {
		m.earth["idler 5"] = c.was
		if got := try(t, m, Earth{Station: "idler 5"}).earth["idler 5"]; got != c.want {
			t.Errorf("%+v becomes %+v, by hand %+v", c.was, got, c.want)
		}
	}
}

// TestDescriptionByHand: a contact that gives 3 µC/m² to a web that comes with 5, with an exposure of 0.3 ×/÷ 3 and an
// exponent of 0.4. A web that comes with nothing it would give 3 + 5·(1 − e^−0.3) = 4.2959, which is what a description
// states; of that 5·(1 − e^−n) is in doubt, from e^−0.1 to e^−0.9: (2.9672 − 0.4758)/3.2897 = 0.757.
func TestDescriptionByHand(t *testing.T) {
	p := known.Band{Value: 0.4, Spread: 0.2, Kind: known.Normal}
	d := oneContact(line.Roller, line.ChangeSpec{Face: line.FaceA, Median: 3e-6, Spread: 1e-9, Speed: p})
	d.Stations[0].Change[0].Median = 5e-6
	m, err := Assume(lineOf(t, d), ptr(nobody()))
	if err != nil {
		t.Fatal(err)
	}
	got, err := m.Description()
	if err != nil {
		t.Fatal(err)
	}
	c := got.Stations[1].Change[0]
	near(t, "change", float64(c.Median)/micro, 4.295909, 1e-6)
	near(t, "unwind", float64(got.Stations[0].Change[0].Median)/micro, 5, 1e-6)
	near(t, "exponent", c.Speed.Value, 0.4, 1e-9)
	near(t, "exposure", float64(c.Exposure), 0.3, 1e-6) // of a roller (package cure, judgement)
	near(t, "spread", float64(c.Spread)/micro, 0.757, 0.01)
	for k, want := range []float64{0, 0, 0.4} {
		near(t, "exponent of an unknown", m.middleExponent(m.line, k), want, 1e-9)
	}
	bar := foundBar(t, barLine(strong(), nil), 1e-6)
	near(t, "of an ioniser", bar.middleExponent(bar.line, 2), 0, 0)
}

// TestExtrapolatedByHand: speeds of 1 … 4 m/s were read: 0.7 … 6 m/s are within reach of them.
func TestExtrapolatedByHand(t *testing.T) {
	m := foundBar(t, barLine(strong(), nil), 1e-6)
	m.surveyed = [2]float64{1, 4}
	for v, want := range map[units.Speed]bool{0.69: true, 0.71: false, 1: false, 4: false, 5.9: false, 6.1: true} {
		if got := try(t, m, Run{v}).Predict().Extrapolated; got != want {
			t.Errorf("%v: extrapolated %t", v, got)
		}
	}
}

// TestArrivesByHand: what nobody described gives 2 µC/m² on the way behind the unwind at 4 m/s; it goes as the root
// of the speed, so that at 16 m/s 3 + 4 arrive.
func TestArrivesByHand(t *testing.T) {
	m := foundBar(t, barLine(strong(), nil), 1e-6)
	m.stages[0].hidden[0] = same(2e-6)
	for v, want := range map[units.Speed]float64{4: 5, 16: 7, 1: 4} {
		x := try(t, m, Run{v})
		a, b := x.arrives(x.run(float64(v)), 1, Draws)
		near(t, "A at "+v.String(), a/micro, want, 1e-7) // the faces pair a little
		near(t, "B at "+v.String(), b/micro, 0, 1e-7)
	}
	if a, b := m.arrives(m.run(4), 0, Draws); a != 0 || b != 0 {
		t.Errorf("before the unwind %v %v", a, b)
	}
}

// TestSpansByHand: unwind at 0, a roller of 50 mm radius at 1 m, winder at 3 m. A bar behind the roller has its best
// place where that of the span of 2 m is, a metre further along the path.
func TestSpansByHand(t *testing.T) {
	m, err := Assume(lineOf(t, oneContact(line.Roller, line.ChangeSpec{Face: line.FaceA, Spread: 1e-9})), nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		at     units.Length
		behind bool
		want   [4]units.Length
	}{{0.5, true, [4]units.Length{0, 0.05, 0, 1}}, {1, false, [4]units.Length{0, 0.05, 0, 1}},
		{1, true, [4]units.Length{0.05, 0, 1, 3}}, {2, false, [4]units.Length{0.05, 0, 1, 3}},
		{3, false, [4]units.Length{0.05, 0, 1, 3}}, {3, true, [4]units.Length{0, 0, 3, 3}}} {
		first, second, from, to := m.span(c.at, c.behind)
		if got := [4]units.Length{first, second, from, to}; got != c.want {
			t.Errorf("%v, behind %t: %v, by hand %v", c.at, c.behind, got, c.want)
		}
	}
	spot, err := BestSpot(0.05, 0, 2, 0.025)
	if err != nil {
		t.Fatal(err)
	}
	place, err := m.BestPlace("contact", 0.025)
	if err != nil || place != (BarSpot{spot.At + 1, spot.From + 1, spot.To + 1, spot.Factor}) {
		t.Errorf("%+v, %v: in the span %+v", place, err, spot)
	}
}

// TestPathByHand: one station with a way to earth is enough.
func TestPathByHand(t *testing.T) {
	list := []line.StationSpec{{}, {}, {}}
	if hasPath(list) || hasPath(nil) {
		t.Error("a path of none")
	}
	list[1].Leak = &line.LeakSpec{}
	if !hasPath(list) {
		t.Error("no path of one")
	}
}

// TestBeforeByHand: of two sets that reach the aim the earlier steps come first, then less cost, then less load;
// nothing is before its equal.
func TestBeforeByHand(t *testing.T) {
	m, slow := foundBar(t, barLine(strong(), nil), 1e-6), (*Calibrated)(nil)
	m.site.Prices = Prices{Currency: "EUR", PerHour: 100, Hours: 4000}
	slow = try(t, m, Run{2}) // half of the output
	of := func(l *Calibrated, load float64, steps ...Step) *combination {
		return &combination{line: l, load: load, steps: steps}
	}
	for _, c := range []struct {
		a, b *combination
		want int
	}{
		{of(m, 1, AtSource), of(m, 1, AtSource), 0},
		{of(m, 2, AtSource), of(m, 1, Neutralise), -1},
		{of(m, 2, AtSource), of(slow, 1, AtSource), -1},
		{of(m, 1, AtSource), of(m, 2, AtSource), -1},
		{of(m, 1, AtSource), of(m, 1+1e-10, AtSource), 0},
	} {
		if got, back := c.a.before(c.b), c.b.before(c.a); got != c.want || back != -c.want {
			t.Errorf("%v %g and %v %g: %d and %d, by hand %d", c.a.steps, c.a.load, c.b.steps, c.b.load, got, back, c.want)
		}
	}
}

// TestWhatHelps: a cover that moves the median by less than a tenth of the limit does not help, however wide it
// spreads; one that takes it from 5 to 2 µC/m² of 20 does. Without an ioniser none is moved.
func TestWhatHelps(t *testing.T) {
	d := oneContact(line.Roller, line.ChangeSpec{Face: line.FaceA, Median: 5e-6, Spread: 1e-9})
	d.Limit.Net = 20e-6
	m, err := Assume(lineOf(t, d), ptr(nobody()))
	if err != nil {
		t.Fatal(err)
	}
	for strength, want := range map[known.Band]bool{
		{Value: 1, Spread: 0.8, Kind: known.LogNormal}: false, {Value: 0.4}: true, {Value: 0.7}: false, {Value: 1.5}: true} {
		p := planned(t, m, Aim{Offer: []Change{Cover{Station: "contact", Face: line.FaceA, Strength: strength}}})
		if got := p.Cures[len(p.Cures)-1]; got.Step != AtSource || got.Helps != want ||
			(len(got.Raises) > 0) != (strength.Value == 1.5) {
			t.Errorf("%+v: helps %t, raises %v", strength, got.Helps, got.Raises)
		}
	}
	d.Limit.Net = 1e-6
	if m, err = Assume(lineOf(t, d), ptr(nobody())); err != nil {
		t.Fatal(err)
	}
	bars := 0
	p := planned(t, m, Aim{})
	for _, c := range slices.Concat(p.Cures, p.Refused) {
		switch x := c.Changes[0].(type) {
		case Move:
			t.Errorf("%v of a line without ionisers", x)
		case Add:
			bars++
			if !strings.HasPrefix(x.Station.Name, "new bar behind contact") {
				t.Errorf("%+v", x)
			}
		}
	}
	if bars != 1 {
		t.Errorf("%d bars", bars)
	}
}
