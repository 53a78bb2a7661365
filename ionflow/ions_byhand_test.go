package ionflow

import (
	"math"
	"testing"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Elementary charge, permittivity and Boltzmann's constant of CODATA 2022, written out so that what stands beside a
// check is a product of numbers and not of the library's names.
const (
	eC = 1.602176634e-19  // [C]
	e0 = 8.8541878188e-12 // [F/m]
	kB = 1.380649e-23     // [J/K]
)

// byHand is one figure of a table: a name, what the library says, what a pencil says.
type byHand struct {
	what      string
	got, want float64
}

func holdTable(t *testing.T, rel float64, table []byHand) {
	t.Helper()
	for _, c := range table {
		near(t, c.what, c.got, c.want, rel)
	}
}

// Ions by hand. kT/e is 1 V at 11604.5 K and 25.852 mV at 300 K.
func TestIonsByHand(t *testing.T) {
	b := SmallIons()
	plusLow, plusHigh := b.Plus.Limits()
	minusLow, minusHigh := b.Minus.Limits()
	alphaLow, alphaHigh := b.Alpha.Limits()
	one := b.At(1, -1, 2)
	warm, _ := Ions{Plus: 1e-4, Minus: 2e-4, Alpha: 3e-12}.In(586.3, 202650)
	d := units.Diffusivity(2e-4 * kB * 300 / eC)
	holdTable(t, 1e-9, []byHand{
		// e^(±0.1·1.6448536) = 1.1787926, e^(±0.225·1.6448536) = 1.4478653
		{"μ+ 5 %", plusLow / 1.4e-4, math.Exp(-0.16448536269514722)},
		{"μ+ 95 %", plusHigh / 1.4e-4, math.Exp(0.16448536269514722)},
		{"μ− 5 %", minusLow / 1.7e-4, math.Exp(-0.16448536269514722)},
		{"μ− 95 %", minusHigh / 1.7e-4, math.Exp(0.16448536269514722)},
		{"α 5 %", alphaLow / 1.6e-12, math.Exp(-0.37009206606408126)},
		{"α 95 %", alphaHigh / 1.6e-12, math.Exp(0.37009206606408126)},
		{"μ+ at +1", float64(one.Plus), 1.4e-4 * math.Exp(0.1)},
		{"μ− at −1", float64(one.Minus), 1.7e-4 * math.Exp(-0.1)},
		{"α at +2", float64(one.Alpha), 1.6e-12 * math.Exp(0.45)},
		// twice the temperature and twice the pressure: 2^0.6/2
		{"μ+ at 586.3 K, 2 atm", float64(warm.Plus), 1e-4 * math.Pow(2, -0.4)},
		{"μ− at 586.3 K, 2 atm", float64(warm.Minus), 2e-4 * math.Pow(2, -0.4)},
		{"D at 300 K", float64(Diffusion(2e-4, 300)), 2e-4 * kB * 300 / eC},
		{"D consistent", 1 + float64(EinsteinMismatch(2e-4, d, 300)), 1},
		{"D thrice", float64(EinsteinMismatch(2e-4, 3*d, 300)), 2},
		// 2.566969966535570e-38/4.608537562335095e-31 m
		{"Coulomb length at 300 K", float64(CoulombLength(300)), 55.700315595e-9},
		{"Coulomb length at 600 K", float64(CoulombLength(600)), 27.8501577976e-9},
		// 1.602176634e-19·3e-4/8.8541878188e-12
		{"Langevin", float64(LangevinRecombination(1e-4, 2e-4)), 5.42853845024e-12},
		{"Langevin, exchanged", float64(LangevinRecombination(2e-4, 1e-4)), 5.42853845024e-12},
		{"conductivity of 1e12 of 1.5e-4", float64(PolarConductivity(1e12, 1.5e-4)), 2.403264951e-11},
	})
}

// Mobility where ratios are simple: 150 → 300 K at half the pressure, or twice 60 K for Sutherland's 120 K.
func TestMobilityByHand(t *testing.T) {
	at := func(law MobilityLaw, t0, p0, t1, p1 float64) float64 {
		mu, _ := MobilityAt(law, 1e-4, units.Temperature(t0), units.Pressure(p0), units.Temperature(t1),
			units.Pressure(p1))
		return float64(mu)
	}
	holdTable(t, 1e-12, []byHand{
		{"0.6, warmer", at(SmallIonExponent, 150, 1e5, 300, 1e5), 1e-4 * math.Exp2(0.6)},
		{"0.6, thinner", at(SmallIonExponent, 300, 1e5, 300, 25e3), 4e-4},
		{"langevin, warmer and denser", at(LangevinMobility, 100, 1e5, 300, 2e5), 1.5e-4},
		{"sutherland, 120 → 480 K", at(SutherlandMobility, 120, 1e5, 480, 1e5), 1e-4 * 8 * 240 / 600},
		{"sutherland, 480 → 120 K", at(SutherlandMobility, 480, 1e5, 120, 1e5), 1e-4 / 8 * 600 / 240},
		{"below one kelvin and pascal", at(LangevinMobility, 0.5, 0.5, 0.25, 0.25), 1e-4},
	})
	for i, c := range [][4]float64{{0, 1, 1, 1}, {1, 0, 1, 1}, {1, 1, 0, 1}, {1, 1, 1, 0}} {
		if mu := at(LangevinMobility, c[0], c[1], c[2], c[3]); !math.IsNaN(mu) {
			t.Errorf("state number %d without temperature or pressure: %v", i, mu)
		}
	}
}

// The law of recombination at states where its factors are whole: 300 K and 75 K (√4 and 4⁴), 273 K and 136.5 K (2^1.5)
// with Thomson's x = 0.81·(273/T)²·p/1 atm at 1 and 2.
func TestRecombinationByHand(t *testing.T) {
	at := func(law RecombinationLaw, t, p float64) float64 {
		a, _ := Recombination(law, units.Temperature(t), units.Pressure(p))
		return float64(a)
	}
	one := 1 - math.Pow(1-2/math.E, 2)*4             // f(1)
	two := 1 - math.Pow(1-3/(math.E*math.E), 2)*4/16 // f(2)
	holdTable(t, 1e-9, []byHand{
		{"constant", at(ConstantRecombination, 250, 5e4), 1.6e-12},
		// N = 2.69e25 at 300 K: 0.06e-12 + 1.702e-12
		{"altitude, 300 K", at(AltitudeRecombination, 300, 2.69e25*kB*300), 1.762e-12},
		// 240 K = 300/1.25 and half of that N
		{"altitude, 240 K", at(AltitudeRecombination, 240, 1.345e25*kB*240),
			6e-14*math.Sqrt(1.25) + 1.702e-12*math.Pow(1.25, -1.984)*math.Exp2(0.451)},
		{"three bodies, 300 K", at(ThreeBodySum, 300, 2.4e25*kB*300), 1.5e-12},
		{"three bodies, 75 K", at(ThreeBodySum, 75, 1e24*kB*75), 0.12e-12 + 15.36e-12},
		{"thomson, x = 1", at(Thomson, 273, 101325/0.81), 1.73e-11 / math.Sqrt(32) * one},
		{"thomson, x = 2", at(Thomson, 273, 2*101325/0.81), 1.73e-11 / math.Sqrt(32) * two},
		{"thomson, x = 1, 136.5 K", at(Thomson, 136.5, 101325/3.24), 1.73e-11 / 2 * one}, // 2^1.5/√32 = ½
	})
	// f = 4x/3 − 17x²/18 + 2x³/5 …, and of what the law drops below x = 1e-3 the second term is 17x/24 of the whole.
	for x, want := range map[float64]float64{9e-4: 4 * 9e-4 / 3, 1.2e-3: 4*1.2e-3/3 - 17./18*1.44e-6 + 0.4*1.728e-9} {
		near(t, "thomson, thin air", at(Thomson, 273, x*101325/0.81), 1.73e-11/math.Sqrt(32)*want, 1e-6)
	}
	// The standard atmosphere has 288.15 K at 101325 Pa.
	for off, in := range map[float64]bool{-10.1: false, -9.9: true, 9.9: true, 10.1: false} {
		if a := at(AltitudeRecombination, 288.15+off, 101325); math.IsNaN(a) == in {
			t.Errorf("%g K off the standard atmosphere: %v", off, a)
		}
	}
	for _, c := range []struct {
		t, p float64
		flag known.Validity
	}{
		{220, 2e4, known.Inside}, {310, 1.1e5, known.Inside}, {219.9, 1e5, known.BelowRange}, {310.1, 1e5, known.AboveRange},
		{300, 1.99e4, known.BelowRange}, {300, 1.101e5, known.AboveRange},
		{219, 1.2e5, known.BelowRange | known.AboveRange},
	} {
		if _, flag := Recombination(ConstantRecombination, units.Temperature(c.t), units.Pressure(c.p)); flag != c.flag {
			t.Errorf("%g K, %g Pa: %v, want %v", c.t, c.p, flag, c.flag)
		}
	}
	if a, b := at(ConstantRecombination, 0, 1e5), at(ConstantRecombination, 300, 0); !math.IsNaN(a) || !math.IsNaN(b) {
		t.Errorf("no temperature, no pressure: %v, %v", a, b)
	}
}

// Attachment and the air that ions move in. 2·16.71 µm·K/300 K = 111.4 nm: a particle of 100 nm and an ion of 11.4 nm
// make x the number of charges. At 296.15 K the factors of Tammet's air are 1, and at twice that 2^1.5 and 4 times
// 406.55/702.7.
func TestAttachmentByHand(t *testing.T) {
	charged := func(q float64) float64 { return float64(AttachmentCharged(q, 100e-9, 11.4e-9, 300)) }
	beta := func(d, dp float64) float64 {
		b, _ := Attachment(units.Diffusivity(d), units.Length(dp))
		return float64(b)
	}
	// Kn = 1.001 leaves e^−1 in Cunningham's factor.
	d := 2 * 67.3e-9 / 1.001
	mu, _ := MillikanMobility(units.Length(d), 296.15, 101300)
	holdTable(t, 1e-12, []byHand{
		{"100 nm more than 1.5 nm", beta(3e-6, 101.5e-9), 2 * math.Pi * 3e-13},
		{"10 nm more than 1.5 nm", beta(5e-6, 11.5e-9), 2 * math.Pi * 5e-14},
		{"one like charge", charged(1), 1 / (math.E - 1)},
		{"one unlike charge", charged(-1), math.E / (math.E - 1)},
		{"two like charges", charged(2), 2 / (math.E*math.E - 1)},
		{"next to no charge", charged(1.2e-5), 1 - 0.6e-5 + 0.12e-10}, // 1 − x/2 + x²/12
		{"less", charged(-1e-6), 1 + 0.5e-6 + 1e-12/12},
		{"hotter", float64(AttachmentCharged(2, 100e-9, 11.4e-9, 600)), 1 / (math.E - 1)},
		{"smaller", float64(AttachmentCharged(1, 40e-9, 15.7e-9, 300)), 2 / (math.E*math.E - 1)},
		{"viscosity", AirViscosity(296.15), 18.3245e-6},
		{"viscosity, hot", AirViscosity(592.3), 18.3245e-6 * math.Sqrt(8) * 406.55 / 702.7},
		{"free path", float64(MeanFreePath(296.15, 101300)), 67.3e-9},
		{"free path, hot and thin", float64(MeanFreePath(592.3, 50650)), 67.3e-9 * 8 * 406.55 / 702.7},
		{"millikan", float64(mu), eC * (1 + 1.001*(1.165+0.48/math.E)) / (3 * math.Pi * 18.3245e-6 * d)},
	})
	if b := beta(1e-5, 1.4e-9); b != 0 {
		t.Errorf("smaller than an ion: %v", b)
	}
	for _, c := range []struct {
		d                    units.Length
		attachment, millikan known.Validity
	}{
		{1.9e-9, known.BelowRange, known.BelowRange}, {2e-9, known.BelowRange, known.Inside},
		{4.9e-9, known.BelowRange, known.Inside}, {5e-9, known.Inside, known.Inside}, {1e-6, known.Inside, known.Inside},
		{1.1e-6, known.AboveRange, known.Inside}, {1e-5, known.AboveRange, known.Inside},
		{1.1e-5, known.AboveRange, known.AboveRange},
	} {
		_, a := Attachment(1e-5, c.d)
		_, m := MillikanMobility(c.d, 293, 1e5)
		if a != c.attachment || m != c.millikan {
			t.Errorf("%v: %v, %v", c.d, a, m)
		}
	}
}

// The equations that IonEquilibrium states, put together anew: ladder of charges, mean factors of both polarities, and
// what is left of both balances at the densities that it gives.
func TestIonEquilibriumMeetsItsEquations(t *testing.T) {
	for _, c := range []struct {
		i            Ions
		q, n, dp, di float64
	}{
		{Ions{1.4e-4, 1.6e-4, 1.5e-12}, 1e7, 5e9, 100e-9, 1.5e-9},
		{Ions{1.4e-4, 1.6e-4, 1.5e-12}, 1e7, 1e11, 300e-9, 0},
		{Ions{2.0e-4, 1.0e-4, 1.6e-12}, 1e8, 3e10, 20e-9, 2e-9},
		{Ions{1.2e-4, 2.1e-4, 0}, 1e6, 2e10, 1e-6, 1e-9},
	} {
		plus, minus, _ := IonEquilibrium(c.i, c.q, units.NumberDensity(c.n), units.Length(c.dp), units.Length(c.di), 290)
		p, m := float64(plus), float64(minus)
		one := 2 * 16.71e-6 / 290 / (c.dp + c.di)
		f := func(k int) float64 { // of an ion and k charges of its own sign
			if k == 0 {
				return 1
			}
			return one * float64(k) / (math.Exp(one*float64(k)) - 1)
		}
		means := func(ratio float64) (charge, withPlus, withMinus float64) {
			share := map[int]float64{0: 1}
			for k := 0; k < 60; k++ {
				share[k+1] = share[k] * ratio * f(k) / f(-k-1)
				share[-k-1] = share[-k] / ratio * f(k) / f(-k-1)
			}
			sum := 0.0
			for k, s := range share {
				sum += s
				charge += s * float64(k)
				withPlus += s * f(k)
				withMinus += s * f(-k)
			}
			return charge / sum, withPlus / sum, withMinus / sum
		}
		_, even, _ := means(1)
		charge, fp, fm := means(p * float64(c.i.Plus) / (m * float64(c.i.Minus)))
		attach := func(mu units.Mobility) float64 { // for all particles, at equal charging
			return 2 * math.Pi * float64(mu) * kB * 290 / eC * (c.dp - 1.5e-9) * c.n / even
		}
		holdTable(t, 1e-9, []byHand{
			{"positive ions", float64(c.i.Alpha)*p*m + attach(c.i.Plus)*fp*p, c.q},
			{"negative ions", float64(c.i.Alpha)*p*m + attach(c.i.Minus)*fm*m, c.q},
			{"charge", 1 + (p-m)/c.n + charge, 1},
		})
		// exchanged polarities exchange the densities
		x, y, _ := IonEquilibrium(Ions{c.i.Minus, c.i.Plus, c.i.Alpha}, c.q, units.NumberDensity(c.n), units.Length(c.dp),
			units.Length(c.di), 290)
		holdTable(t, 1e-9, []byHand{{"exchanged +", float64(x), m}, {"exchanged −", float64(y), p}})
	}
}

// Without particles √(q/α), 2e9 for q = 8e6 and α = 2e-12; what is impossible has no density.
func TestIonEquilibriumRefuses(t *testing.T) {
	i := Ions{1.4e-4, 1.6e-4, 2e-12}
	p, m, flag := IonEquilibrium(i, 8e6, 0, 1e-7, 0, 293)
	holdTable(t, 1e-12, []byHand{{"clean +", float64(p), 2e9}, {"clean −", float64(m), 2e9}})
	if _, _, far := IonEquilibrium(i, 8e6, 1e9, 2e-6, 0, 293); flag != known.Inside || far != known.AboveRange {
		t.Errorf("flags %v, %v", flag, far)
	}
	inf := math.Inf(1)
	for k, c := range []struct {
		i               Ions
		q, n, dp, di, t float64
		bad             bool
	}{
		{i, 1e7, 1e9, 1e-7, 1e-9, 293, false}, {i, 0.5, 0.5, 1e-4, 0, 0.5, false}, {i, 1, 0, 1.6e-9, 0, 293, false},
		{Ions{1.4e-4, 1.6e-4, 0}, 1e7, 1e9, 1e-7, 1e-9, 293, false},
		{i, 0, 1e9, 1e-7, 1e-9, 293, true}, {i, inf, 1e9, 1e-7, 1e-9, 293, true}, {i, 1e7, -1, 1e-7, 1e-9, 293, true},
		{i, 1e7, inf, 1e-7, 1e-9, 293, true}, {i, 1e7, 1e9, 1.5e-9, 1e-9, 293, true},
		{i, 1e7, 1e9, 1.01e-4, 1e-9, 293, true}, {i, 1e7, 1e9, 1e-7, -1e-9, 293, true},
		{i, 1e7, 1e9, 1e-7, inf, 293, true}, {i, 1e7, 1e9, 1e-7, 1e-9, 0, true},
		{Ions{1.4e-4, 1.6e-4, -1e-12}, 1e7, 1e9, 1e-7, 1e-9, 293, true},
		{Ions{1.4e-4, 1.6e-4, 0}, 1e7, 0, 1e-7, 1e-9, 293, true}, // nothing takes the ions
		{Ions{0, 1.6e-4, 1e-12}, 1e7, 1e9, 1e-7, 1e-9, 293, true},
		{Ions{1.6e-4, 0, 1e-12}, 1e7, 1e9, 1e-7, 1e-9, 293, true},
		{Ions{1, 0.9e-7, 1e-12}, 1e7, 1e9, 1e-7, 1e-9, 293, true},
		{Ions{0.9e-7, 1, 1e-12}, 1e7, 1e9, 1e-7, 1e-9, 293, true},
		{Ions{1, 1.1e-7, 1e-12}, 1e7, 1e9, 1e-7, 1e-9, 293, false},
		{Ions{1.1e-7, 1, 1e-12}, 1e7, 1e9, 1e-7, 1e-9, 293, false},
	} {
		p, m, _ := IonEquilibrium(c.i, c.q, units.NumberDensity(c.n), units.Length(c.dp), units.Length(c.di),
			units.Temperature(c.t))
		if math.IsNaN(float64(p)) != c.bad || math.IsNaN(float64(m)) != c.bad {
			t.Errorf("case %d: %v, %v", k, p, m)
		}
	}
}

// Both ends of what Ions.Check and MobilityAt's flag take.
func TestIonRanges(t *testing.T) {
	for _, c := range []struct {
		i     Ions
		field string
	}{
		{Ions{1e-9, 1e-9, 0}, ""}, {Ions{1e-2, 1e-2, 1e-9}, ""},
		{Ions{0.99e-9, 1e-4, 0}, "plus"}, {Ions{1.01e-2, 1e-4, 0}, "plus"}, {Ions{1e-4, 0.99e-9, 0}, "minus"},
		{Ions{1e-4, 1.01e-2, 0}, "minus"}, {Ions{1e-4, 1e-4, -1e-20}, "alpha"}, {Ions{1e-4, 1e-4, 1.01e-9}, "alpha"},
	} {
		if err := c.i.Check(); c.field == "" && err != nil {
			t.Errorf("%+v: %v", c.i, err)
		} else if c.field != "" {
			wantField(t, "ions", err, c.field)
		}
	}
	for temperature, want := range map[units.Temperature]known.Validity{199.9: known.BelowRange, 200: known.Inside,
		330: known.Inside, 330.1: known.AboveRange} {
		_, flag := MobilityAt(LangevinMobility, 1e-4, 300, 1e5, temperature, 1e5)
		_, in := Ions{Plus: 1e-4, Minus: 1e-4}.In(temperature, 1e5)
		if flag != want || in != want {
			t.Errorf("%v: %v, %v, want %v", temperature, flag, in, want)
		}
	}
}
