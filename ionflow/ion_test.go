package ionflow

import (
	"errors"
	"math"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

func TestSmallIonsCoverThePublishedValues(t *testing.T) {
	b := SmallIons()
	for _, c := range []struct {
		name   string
		band   known.Band
		values []float64
	}{
		// Jonassen 2002; Zhou and Tinsley 2007; fastest lines of drift tubes, humid and dry
		{"mobility +", b.Plus, []float64{1.3e-4, 1.4e-4, 1.45e-4, 1.24e-4}},
		{"mobility −", b.Minus, []float64{1.8e-4, 1.9e-4}}, // Jonassen 2002; Zhou and Tinsley 2007
		// Tammet; Franchin et al. 2015, usual; Zauner-Wieczorek et al. 2022; Franchin et al. at 20 °C
		{"recombination", b.Alpha, []float64{1.5e-12, 1.6e-12, 1.7e-12, 2.3e-12}},
	} {
		lo, hi := c.band.Limits()
		for _, v := range c.values {
			if !(v >= lo && v <= hi) {
				t.Errorf("%s: published %g outside the band %g … %g", c.name, v, lo, hi)
			}
		}
		if err := c.band.Check(c.name); err != nil {
			t.Error(err)
		}
	}
	if err := b.At(0, 0, 0).Check(); err != nil {
		t.Error(err)
	}
	if i := b.At(math.NaN(), 0, 0); !math.IsNaN(float64(i.Plus)) {
		t.Error("NaN score")
	}
}

func TestIonsAtAltitude(t *testing.T) {
	i, flag := testIons.In(ReferenceTemperature, 84500) // 1500 m: 20 % faster
	near(t, "+", float64(i.Plus), 1.2*1.4e-4, 0.002)
	near(t, "−", float64(i.Minus), 1.2*1.6e-4, 0.002)
	if i.Alpha != testIons.Alpha || flag != known.Inside {
		t.Errorf("%+v %v", i, flag)
	}
}

func TestIonsCheckCatchesCentimetres(t *testing.T) {
	var fe *known.FieldError
	if err := (Ions{Plus: 1.4, Minus: 1.6e-4, Alpha: 1.6e-12}).Check(); !errors.As(err, &fe) || fe.Field != "plus" {
		t.Errorf("mobility in cm²/(V·s): %v", err)
	}
	if err := (Ions{Plus: 1.4e-4, Minus: 1.6e-4, Alpha: 1.6e-6}).Check(); !errors.As(err, &fe) || fe.Field != "alpha" {
		t.Errorf("recombination in cm³/s: %v", err)
	}
}

func TestMobilityLaws(t *testing.T) {
	// d ln μ/d ln T at 293 K: 0.6 by definition, 0.79 for the Sutherland type, 1 for Langevin.
	for law, want := range map[MobilityLaw]float64{SmallIonExponent: 0.6, SutherlandMobility: 1.5 - 293.15/(293.15+120),
		LangevinMobility: 1} {
		const h = 1e-4
		a, _ := MobilityAt(law, 1e-4, 293.15, 101325, 293.15*(1-h), 101325)
		b, _ := MobilityAt(law, 1e-4, 293.15, 101325, 293.15*(1+h), 101325)
		near(t, law.String(), math.Log(float64(b)/float64(a))/(2*h), want, 1e-6)
		m, _ := MobilityAt(law, 1e-4, 293.15, 101325, 293.15, 84500) // 1500 m: 20 % faster
		near(t, law.String()+" at altitude", float64(m), 1.2e-4, 0.002)
	}
	if _, f := MobilityAt(LangevinMobility, 1e-4, 293, 1e5, 400, 1e5); f != known.AboveRange {
		t.Errorf("400 K: %v", f)
	}
	if m, _ := MobilityAt(9, 1e-4, 293, 1e5, 293, 1e5); !math.IsNaN(float64(m)) {
		t.Error("unknown law")
	}
	if m, _ := MobilityAt(0, 1e-4, 293, 1e5, -1, 1e5); !math.IsNaN(float64(m)) {
		t.Error("negative temperature")
	}
}

func TestRecombinationLaws(t *testing.T) {
	// From memory, as an example of spread and not as proof: at 293 K and 1 atm every law lies
	// within 1.3e-12 … 2.3e-12.
	for law := ConstantRecombination; law <= Thomson; law++ {
		a, flag := Recombination(law, 293.15, 101325)
		if !(a >= 1.3e-12 && a <= 2.3e-12) {
			t.Errorf("%v: %v", law, a)
		}
		if (law >= ThreeBodySum) != (flag&known.Unpublished != 0) {
			t.Errorf("%v: flag %v", law, flag)
		}
	}
	// Thomson's factor starts linear in pressure: the series must join the formula.
	lo, _ := Recombination(Thomson, 273, 124)
	hi, _ := Recombination(Thomson, 273, 126)
	near(t, "series joins", float64(hi)/float64(lo), 126./124, 2e-3)
	// 15 °C at sea level and −25 °C at 50 kPa are the standard atmosphere; 35 °C and 50 kPa at 20 °C are not.
	for _, c := range []struct {
		t, p float64
		ok   bool
	}{{288.15, 101325, true}, {252.7, 50e3, true}, {308, 101325, false}, {293, 50e3, false}} {
		a, flag := Recombination(AltitudeRecombination, units.Temperature(c.t), units.Pressure(c.p))
		if math.IsNaN(float64(a)) == c.ok || (flag&known.WrongShape == 0) != c.ok {
			t.Errorf("%g K, %g Pa: %v, %v", c.t, c.p, a, flag)
		}
	}
	if a, _ := Recombination(9, 293, 1e5); !math.IsNaN(float64(a)) {
		t.Error("unknown law")
	}
}

func TestAttachmentCharged(t *testing.T) {
	// Bernoulli's function: B(−x) = B(x) + x, with x = 2·16.71e-6/(300·1e-7) for one charge on 100 nm.
	x := 2 * 16.71e-6 / 300 / 1e-7
	a, b := AttachmentCharged(1, 1e-7, 0, 300), AttachmentCharged(-1, 1e-7, 0, 300)
	near(t, "B(−x) − B(x)", float64(b)-float64(a), x, 1e-12)
	near(t, "no charge", float64(AttachmentCharged(0, 1e-7, 0, 300)), 1, 1e-15)
	if v := AttachmentCharged(1e6, 1e-9, 0, 300); v != 0 {
		t.Errorf("huge like charge: %v", v)
	}
}

func TestMillikanFlagsSmallSizes(t *testing.T) {
	if m, f := MillikanMobility(units.Nanometre, 293.15, 101300); f != known.BelowRange ||
		!(math.Abs(float64(m)-2.05e-4) < 0.02e-4) {
		t.Errorf("1 nm: %v %v", m, f) // 2.05e-4, too fast: the flag says so
	}
	if m, _ := MillikanMobility(0, 293, 1e5); !math.IsNaN(float64(m)) {
		t.Error("no size")
	}
}

func TestIonEquilibriumBalances(t *testing.T) {
	i := Ions{Plus: 1.4e-4, Minus: 1.6e-4, Alpha: 1.5e-12}
	p, m, _ := IonEquilibrium(i, 1e7, 5e9, 1e-7, 1.5e-9, 293.15)
	// The faster ion attaches more and is rarer.
	if !(m < p) {
		t.Errorf("%v %v", p, m)
	}
	q, _, _ := IonEquilibrium(i, 1e7, 1, 1e-7, 1.5e-9, 293.15) // next to no particles
	near(t, "clean air", float64(q), math.Sqrt(1e7/1.5e-12), 1e-6)
	if p, _, _ := IonEquilibrium(i, -1, 0, 1e-7, 0, 293); !math.IsNaN(float64(p)) {
		t.Error("negative production")
	}
	for _, bad := range [][2]float64{{math.NaN(), 0}, {1e-9, 0}, {1, 0}, {1e-7, math.NaN()}, {1e-7, -2e-7}} {
		if p, m, _ := IonEquilibrium(i, 1e7, 5e9, units.Length(bad[0]), units.Length(bad[1]), 293); !math.IsNaN(float64(p)) ||
			!math.IsNaN(float64(m)) {
			t.Errorf("particle and ion of %v m: %v %v", bad, p, m)
		}
	}
	// So many particles that they hold nearly all charge: attachment is even and n+μ+ = n−μ−.
	p, m, _ = IonEquilibrium(i, 1e7, 1e13, 1e-7, 1.5e-9, 293.15)
	near(t, "crowd", float64(p)*1.4, float64(m)*1.6, 1e-4)
	// The largest particles and the most unequal ions still end.
	if p, m, _ := IonEquilibrium(Ions{Plus: 1e-9, Minus: 1e-2}, 1e7, 1e6, 1e-4, 0, 293); !(p > 0) || !(m > 0) {
		t.Errorf("extremes: %v %v", p, m)
	}
}
