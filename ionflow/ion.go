package ionflow

import (
	"errors"
	"math"

	"example.org/pithball/internal/enum"
	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// State of the air to which [SmallIons] refers.
const (
	ReferenceTemperature = 293.15 * units.Kelvin // 20 °C
	ReferencePressure    = units.Atmosphere      // one standard atmosphere
)

// Ions are the small ions of both polarities in a stream and the coefficient with
// which they recombine, at one state of the air.
type Ions struct {
	Plus  units.Mobility                 // mobility of positive ions
	Minus units.Mobility                 // mobility of negative ions
	Alpha units.RecombinationCoefficient // ion–ion recombination coefficient
}

// Check returns joined [*known.FieldError]s unless both mobilities lie within
// 1e-9 … 1e-2 m²/(V·s) (a 1 µm particle; ions at a hundredth of an atmosphere)
// and α within 0 … 1e-9 m³/s: a slip between cm and m is caught.
func (i Ions) Check() error {
	return errors.Join(
		known.InRange("plus", i.Plus, 1e-9, 1e-2),
		known.InRange("minus", i.Minus, 1e-9, 1e-2),
		known.InRange("alpha", i.Alpha, 0, 1e-9),
	)
}

// IonBands are the properties of small ions with their spread, at
// [ReferenceTemperature] and [ReferencePressure].
type IonBands struct {
	Plus   known.Band   // [m²/(V·s)] mobility of positive ions
	Minus  known.Band   // [m²/(V·s)] mobility of negative ions
	Alpha  known.Band   // [m³/s] recombination coefficient
	Source known.Source // where the values come from
}

// SmallIons returns the small ions of room air: μ+ 1.4e-4, μ− 1.7e-4 m²/(V·s),
// each lognormal with 0.1 (5–95 %: a factor 1.18, about 1.2 … 1.65 and
// 1.44 … 2.0), and α = 1.6e-12 m³/s, lognormal with 0.225 (1.1 … 2.3). Ions in a
// jet are milliseconds old and sit at the fast end; aged ones at the slow end.
// No law of mobility against humidity could be read; its sign is known: ions take up water and get slower in moist
// air. Scale by a factor of your own between 0.85 and 1.1 if you have measured one.
//
// What was measured of α: 1.54e-12 … 1.64e-12 at 15 °C in older work; 2.3e-12 ± 0.7e-12 at 20 °C and 40 %RH, with a
// strong dependence on humidity; at 0.2 atm a fifth of its value at one. Measurements lie within 1.3e-12 … 2.3e-12; a
// band here is even in the logarithm, so that it begins at 1.1e-12. The upper end takes 30 % of what a nozzle
// brings to a dose of −96 nC at 0.4 m (79 -> 56 nA: 70 instead of 58 nC are left after half a second), 20 to 25 % of
// what a blown bar delivers to 0.2 … 1 µC/m², and nothing at 5 µC/m², whose field draws one polarity alone.
//
// Sources: N. Jonassen, "Neutralization of static charges by air ions", Part I,
// Compliance Engineering (2002): μ+ 1.3–1.4, μ− 1.8; A. Franchin et al., Atmos.
// Chem. Phys. 15 (2015) 7203, doi:10.5194/acp-15-7203-2015: 1.6e-12 as the
// usual value, 1.5 ± 0.6 at 5 °C and 2.3 ± 0.7 at 20 °C measured; M.
// Zauner-Wieczorek, J. Curtius, A. Kürten, Atmos. Chem. Phys. 22 (2022) 12443:
// 1.7e-12. The width of the bands is a judgement over these.
func SmallIons() IonBands {
	return IonBands{
		Plus:  known.Band{Value: 1.4e-4, Spread: 0.1, Kind: known.LogNormal},
		Minus: known.Band{Value: 1.7e-4, Spread: 0.1, Kind: known.LogNormal},
		Alpha: known.Band{Value: 1.6e-12, Spread: 0.225, Kind: known.LogNormal},
		Source: known.Source{Provenance: known.Published,
			Cite: "N. Jonassen, Neutralization of Static Charges by Air Ions, Part I, Theory, Compliance Engineering (2002); " +
				"M. Zauner-Wieczorek et al., Atmos. Chem. Phys. 22 (2022) 12443, abstract; " +
				"A. Franchin et al., Atmos. Chem. Phys. 15 (2015) 7203, abstract",
			Note: "mobilities of room air, young ions; recombination at 1 atm is a choice between 1.5e-12, 1.7e-12 and " +
				"2.3 ± 0.7e-12 m³/s; the spread is a judgement over the published values"},
	}
}

// At returns the ions at standard normal scores of the three bands, 0 for the
// median. NaN gives NaN.
func (b IonBands) At(plus, minus, alpha float64) Ions { // plus, minus, alpha [1] standard normal scores
	return Ions{
		Plus:  units.Mobility(b.Plus.At(plus)),
		Minus: units.Mobility(b.Minus.At(minus)),
		Alpha: units.RecombinationCoefficient(b.Alpha.At(alpha)),
	}
}

// MobilityLaw says how mobility follows the temperature of the air at constant
// pressure.
type MobilityLaw uint8

// The laws.
const (
	// SmallIonExponent is μ ∝ T^0.6, the logarithmic slope of real small ions at
	// 1.5e-4 m²/(V·s): H. Tammet, J. Geophys. Res. 103 (1998) 13933.
	SmallIonExponent MobilityLaw = iota
	// SutherlandMobility is μ ∝ T^1.5/(T+120 K), as L. Zhou and B. A. Tinsley,
	// J. Geophys. Res. 112 (2007) D11203 scale theirs; slope 0.79 at 293 K.
	SutherlandMobility
	// LangevinMobility is μ ∝ T, constant at constant number density of the gas.
	// It is too steep for real small ions and stands here for comparison.
	LangevinMobility
)

var mobilityLaws = [...]string{"small-ion exponent 0.6", "sutherland", "langevin"}

// String returns the name, or "MobilityLaw(n)".
func (l MobilityLaw) String() string { return enum.Name("MobilityLaw", mobilityLaws[:], l) }

// MarshalText writes the name; a value without one is a [*known.FieldError].
func (l MobilityLaw) MarshalText() ([]byte, error) {
	return enum.Write("mobility_law", mobilityLaws[:], l)
}

// UnmarshalText reads a name; anything else is a [*known.FieldError] and leaves the value.
func (l *MobilityLaw) UnmarshalText(b []byte) error {
	return enum.Read("mobility_law", mobilityLaws[:], b, l)
}

// MobilityAt returns a mobility known at (t0, p0) for air at (t, p):
//
//	μ = μ0·(p0/p)·g(t)/g(t0)
//
// with g as the law says. 1/p is exact for a fixed ion at fixed temperature
// (μ ∝ 1/N); the ion itself is taken as unchanged. The flag is set outside
// 200 … 330 K, and an unknown law or a temperature or pressure that is not
// positive gives NaN.
func MobilityAt(law MobilityLaw, mu0 units.Mobility, t0 units.Temperature, p0 units.Pressure, t units.Temperature,
	p units.Pressure) (units.Mobility, known.Validity) {
	if !(t > 0) || !(t0 > 0) || !(p > 0) || !(p0 > 0) {
		return units.Mobility(math.NaN()), known.Inside
	}
	r := float64(t) / float64(t0)
	var g float64
	switch law {
	case SmallIonExponent:
		g = numeric.Pow(r, 0.6)
	case SutherlandMobility:
		g = numeric.Pow(r, 1.5) * (float64(t0) + 120) / (float64(t) + 120)
	case LangevinMobility:
		g = r
	default:
		g = math.NaN()
	}
	return units.Mobility(float64(mu0) * float64(p0) / float64(p) * g), within(float64(t), 200, 330)
}

// within flags a value outside lo … hi.
func within(x, lo, hi float64) known.Validity {
	switch {
	case x < lo:
		return known.BelowRange
	case x > hi:
		return known.AboveRange
	}
	return known.Inside
}

// Diffusion returns the diffusivity D = μkT/e of an ion, exact in equilibrium.
//
// Source: A. Einstein, Ann. Phys. 17 (1905) 549.
func Diffusion(mu units.Mobility, t units.Temperature) units.Diffusivity {
	return units.Diffusivity(float64(mu) * float64(units.ThermalVoltage(t))) // m²/(V·s) · V
}

// EinsteinMismatch returns D/(μkT/e) − 1, which is 0 for a consistent pair of
// mobility and diffusivity: a check of given inputs.
func EinsteinMismatch(mu units.Mobility, d units.Diffusivity, t units.Temperature) units.Ratio {
	return units.Ratio(float64(d)/float64(Diffusion(mu, t)) - 1)
}

// CoulombLength returns e²/(4πε0kT), at which two elementary charges have the
// thermal energy; 57 nm at 20 °C.
//
// Source: L. Onsager, Phys. Rev. 54 (1938) 554.
func CoulombLength(t units.Temperature) units.Length {
	return units.Length(units.ElementaryCharge * units.ElementaryCharge /
		(4 * math.Pi * units.Epsilon0 * units.Boltzmann * float64(t)))
}

// LangevinRecombination returns the drift limit of recombination,
// α_L = e(μ+ + μ−)/ε0, which holds for a dense gas. At one atmosphere the real
// coefficient is about 0.3 of it, so that the space charge of a plume relaxes
// faster than its ions recombine. If α were α_L and the mobilities equal, an
// unconfined mixture would obey [LangevinParcel].
//
// Source: P. Langevin, Ann. Chim. Phys. 28 (1903) 433.
func LangevinRecombination(plus, minus units.Mobility) units.RecombinationCoefficient {
	return units.RecombinationCoefficient(units.ElementaryCharge * (float64(plus) + float64(minus)) / units.Epsilon0)
}

// RecombinationLaw names a law for the recombination coefficient of small ions.
// Even the sign of dα/dT near room temperature is not settled, which is why
// the default is a constant with a band ([SmallIons]).
type RecombinationLaw uint8

// The laws.
const (
	// ConstantRecombination is 1.6e-12 m³/s: see [SmallIons].
	ConstantRecombination RecombinationLaw = iota
	// AltitudeRecombination is B. A. Tinsley and L. Zhou, J. Geophys. Res. 111
	// (2006) D16205, for heights below 10 km: 6e-14(300/T)^½ +
	// 1.702e-12(300/T)^−1.984·(N/2.69e25)^−0.451. It follows the real atmosphere,
	// where T and N fall together: it is no law of T at constant pressure, and refuses air more than 10 K off
	// the standard atmosphere of its pressure, T = 288.15 K·(p/101325 Pa)^0.190263 (ISO 2533:1975, from memory).
	AltitudeRecombination
	// ThreeBodySum is 6e-14(300/T)^½ + 6e-38·N·(300/T)⁴ in m³/s, of the form used
	// for the lower atmosphere. Not compared with a source.
	ThreeBodySum
	// Thomson is 1.73e-11(273/T)^1.5·M^−½·f(x), f = 1 − (4/x⁴)(1 − e^−x(x+1))²,
	// x = 0.81(273/T)²p/1 atm, in m³/s with M = 32 the molar mass in g/mol.
	// Not compared with a source.
	Thomson
)

var recombinationLaws = [...]string{"constant", "altitude fit", "three-body sum", "thomson"}

// String returns the name, or "RecombinationLaw(n)".
func (l RecombinationLaw) String() string {
	return enum.Name("RecombinationLaw", recombinationLaws[:], l)
}

// MarshalText writes the name; a value without one is a [*known.FieldError].
func (l RecombinationLaw) MarshalText() ([]byte, error) {
	return enum.Write("recombination_law", recombinationLaws[:], l)
}

// UnmarshalText reads a name; anything else is a [*known.FieldError] and leaves the value.
func (l *RecombinationLaw) UnmarshalText(b []byte) error {
	return enum.Read("recombination_law", recombinationLaws[:], b, l)
}

// Recombination returns the recombination coefficient of air at temperature t and
// pressure p by the named law, and whether the law is used inside its range:
// the constant and the altitude fit for 220 … 310 K and 20 … 110 kPa; the laws that
// rest on memory are always flagged [known.Unpublished]. An unknown law or a
// temperature or pressure that is not positive gives NaN; so does the altitude fit,
// with [known.WrongShape], away from the standard atmosphere.
func Recombination(law RecombinationLaw, t units.Temperature,
	p units.Pressure) (units.RecombinationCoefficient, known.Validity) {
	if !(t > 0) || !(p > 0) {
		return units.RecombinationCoefficient(math.NaN()), known.Inside
	}
	tk := float64(t)
	n := float64(p) / (units.Boltzmann * tk) // [1/m³] density of the gas
	flag := within(tk, 220, 310) | within(float64(p), 2e4, 1.1e5)
	var a float64
	switch law {
	case ConstantRecombination:
		a = 1.6e-12
	case AltitudeRecombination:
		if math.Abs(tk-288.15*numeric.Pow(float64(p)/101325, 0.190263)) > 10 {
			return units.RecombinationCoefficient(math.NaN()), flag | known.WrongShape
		}
		a = 6e-14*math.Sqrt(300/tk) + 1.702e-12*numeric.Pow(300/tk, -1.984)*numeric.Pow(n/2.69e25, -0.451)
	case ThreeBodySum:
		a, flag = 6e-14*math.Sqrt(300/tk)+6e-38*n*numeric.Pow(300/tk, 4), flag|known.Unpublished
	case Thomson:
		x := 0.81 * numeric.Pow(273/tk, 2) * float64(p) / float64(units.Atmosphere)
		w := -math.Expm1(-x) - x*numeric.Exp(-x) // 1 − e^−x(x+1)
		f := 1 - 4*w*w/(x*x*x*x)
		if x < 1e-3 {
			f = 4 * x / 3 // two leading terms cancel; the next is x²
		}
		a, flag = 1.73e-11*numeric.Pow(273/tk, 1.5)/math.Sqrt(32)*f, flag|known.Unpublished
	default:
		a = math.NaN()
	}
	return units.RecombinationCoefficient(a), flag
}

// Attachment returns the rate coefficient with which small ions of diffusivity d
// attach to aerosol particles of diameter dp, averaged over the charge that the
// particles take:
//
//	β = 2πD(dp − 1.5 nm)
//
// It is published for dp of some 10 nm to some 100 nm; outside 5 nm … 1 µm the
// flag is set, and at or below 1.5 nm the result is 0. In a jet it is nothing; in a
// room it can be the main loss.
//
// Source: H. Tammet, ion equilibrium algorithm, University of Tartu repository,
// hdl 10062/50287.
func Attachment(d units.Diffusivity, dp units.Length) (units.RecombinationCoefficient, known.Validity) {
	return units.RecombinationCoefficient(2 * math.Pi * float64(d) * max(float64(dp)-1.5e-9, 0)),
		within(float64(dp), 5e-9, 1e-6)
}

// AttachmentCharged returns the factor x/(eˣ−1) by which q elementary charges on
// the particle change the attachment of an ion: x = 2q·(16.71 µm·K/T)/(dp + di),
// q positive when ion and particle have the same polarity, di the diameter of the
// ion. Source as [Attachment].
func AttachmentCharged(q float64, dp, di units.Length, t units.Temperature) units.Ratio { // q [1] charges
	x := 2 * q * 16.71e-6 / float64(t) / (float64(dp) + float64(di))
	switch {
	case math.Abs(x) < 1e-5:
		return units.Ratio(1 - x/2)
	case x > 700:
		return 0
	}
	return units.Ratio(x / math.Expm1(x))
}

// AirViscosity returns the dynamic viscosity of air in Pa·s by Sutherland's law
// as H. Tammet writes it, 18.3245 µPa·s·(T/296.15)^1.5·406.55/(T+110.4).
func AirViscosity(t units.Temperature) float64 { // [Pa·s]
	return 18.3245e-6 * sutherland(float64(t), 1.5)
}

// MeanFreePath returns the mean free path of air, 67.3 nm at 296.15 K and 1013 mbar,
// scaled by (T/296.15)²·(1013 mbar/p)·406.55/(T+110.4 K). Source as
// [MillikanMobility].
func MeanFreePath(t units.Temperature, p units.Pressure) units.Length {
	return units.Length(67.3e-9 * sutherland(float64(t), 2) * 101300 / float64(p))
}

func sutherland(t, power float64) float64 {
	return numeric.Pow(t/296.15, power) * 406.55 / (t + 110.4)
}

// MillikanMobility returns the mobility of a singly charged sphere of diameter d:
//
//	μ = e·C/(3πηd), C = 1 + Kn(1.165 + 0.48·exp(−1.001/Kn)), Kn = 2ℓ/d
//
// with η and ℓ of [AirViscosity] and [MeanFreePath]. Below 2 nm the size of the
// gas molecules and the elasticity of collisions matter and the formula is too
// fast (2.05e-4 for 1 nm): the flag is set, as above 10 µm. A diameter that is
// not positive gives NaN.
//
// Source: H. Tammet, plain Millikan mobility algorithm, University of Tartu
// repository, hdl 10062/50287.
func MillikanMobility(d units.Length, t units.Temperature, p units.Pressure) (units.Mobility, known.Validity) {
	if !(d > 0) {
		return units.Mobility(math.NaN()), known.Inside
	}
	kn := 2 * float64(MeanFreePath(t, p)) / float64(d)
	c := 1 + kn*(1.165+0.48*numeric.Exp(-1.001/kn))
	return units.Mobility(units.ElementaryCharge * c / (3 * math.Pi * AirViscosity(t) * float64(d))),
		within(float64(d), 2e-9, 1e-5)
}

// IonEquilibrium returns the steady densities of small ions in air at rest in
// which q ion pairs are made per m³ and second, ions recombine with i.Alpha and
// attach to N particles per m³ of diameter dp:
//
//	q = α·n+·n− + β±·N·n±     n+ − n− + N·c = 0
//
// β± is [Attachment] times the mean of [AttachmentCharged] over the charges of the particles,
// relative to that mean where both polarities attach at the same rate, for which Attachment
// stands. The charges, whose mean is c, are distributed in detailed balance,
//
//	p(k+1)·n−·μ−·f(−k−1) = p(k)·n+·μ+·f(k)
//
// with f(k) AttachmentCharged of k charges and the ion diameter di. Without particles both densities are
// √(q/α). The flag says if the size is outside that of [Attachment]. q must be above 0, N and di 0 or
// more, dp above 1.5 nm and at most 0.1 mm, all finite, α above 0 unless there are particles; else NaN.
//
// Source as [Attachment].
func IonEquilibrium(i Ions, q float64, particles units.NumberDensity, dp, di units.Length,
	t units.Temperature) (plus, minus units.NumberDensity, flag known.Validity) { // q [1/(m³·s)]
	a := float64(i.Alpha)
	nan := units.NumberDensity(math.NaN())
	if !(q > 0 && q <= math.MaxFloat64) || !(particles >= 0 && float64(particles) <= math.MaxFloat64) || !(a >= 0) ||
		!(t > 0) ||
		!(float64(dp) > 1.5e-9 && float64(dp) <= 1e-4) || !(di >= 0 && float64(di) <= math.MaxFloat64) ||
		(particles == 0 && a == 0) {
		return nan, nan, known.Inside
	}
	if particles == 0 {
		n := units.NumberDensity(math.Sqrt(q / a))
		return n, n, known.Inside
	}
	if !(i.Plus > 0 && i.Minus > 0 && float64(i.Plus) <= 1e7*float64(i.Minus) && float64(i.Minus) <= 1e7*float64(i.Plus)) {
		return nan, nan, known.Inside
	}
	dPlus, flag := Attachment(Diffusion(i.Plus, t), dp)
	dMinus, _ := Attachment(Diffusion(i.Minus, t), dp)
	np := float64(particles)
	_, even := chargesOf(0, dp, di, t)
	at := func(l float64) (n, m, c float64) { // at l = ln(n+μ+/(n−μ−))
		c, f := chargesOf(l, dp, di, t)
		bp := float64(dPlus) * f / even * np
		bm := float64(dMinus) * f * numeric.Exp(l) / even * np // detailed balance: μ+n+⟨f⟩ = μ−n−⟨f(−)⟩
		// b+n = b−m, so α(b+/b−)n² + b+n = q.
		n = 2 * q / (bp + math.Sqrt(bp*bp+4*a*q*bp/bm))
		return n, n * bp / bm, c
	}
	// n − m + N·c rises with l. Its root lies between equal attachment, where c = 0, and equal densities.
	lo, hi := 0.0, math.Log(float64(i.Plus)/float64(i.Minus))
	if hi < 0 {
		lo, hi = hi, lo
	}
	charge := func(l float64) float64 { n, m, c := at(l); return n - m + np*c }
	l := hi
	if charge(lo) >= 0 {
		l = lo
	} else if x, err := numeric.Brent(charge, lo, hi, 0, 1e-17); err == nil {
		l = x
	}
	n, m, _ := at(l)
	return units.NumberDensity(n), units.NumberDensity(m), flag
}

// chargesOf returns the mean charge of particles in detailed balance at l = ln(n+μ+/(n−μ−)), and the
// mean over them of the factor by which positive ions attach.
func chargesOf(l float64, dp, di units.Length, t units.Temperature) (mean, factor float64) {
	f := func(k int) float64 { return float64(AttachmentCharged(float64(k), dp, di, t)) }
	sum, charge, attach := 1.0, 0.0, f(0)
	for _, sign := range [2]int{1, -1} {
		p := 1.0
		for k := 0; k != sign*40000; k += sign {
			// p(k±1) = p(k)·e^(±l)·f(±k)/f(∓(k±1))
			r := numeric.Exp(float64(sign)*l) * f(sign*k) / f(-sign*(k+sign))
			p *= r
			sum += p
			charge += p * float64(k+sign)
			attach += p * f(k+sign)
			if r < 1 && p < 1e-17*sum {
				break
			}
		}
	}
	return charge / sum, attach / sum
}

// In returns the ions, given for [ReferenceTemperature] and [ReferencePressure], in air at t and
// p: mobilities by [MobilityAt] with the exponent of real small ions, α unchanged, for not
// even the sign of its slope is settled. The flag is that of MobilityAt.
func (i Ions) In(t units.Temperature, p units.Pressure) (Ions, known.Validity) {
	plus, flag := MobilityAt(SmallIonExponent, i.Plus, ReferenceTemperature, ReferencePressure, t, p)
	minus, _ := MobilityAt(SmallIonExponent, i.Minus, ReferenceTemperature, ReferencePressure, t, p)
	return Ions{Plus: plus, Minus: minus, Alpha: i.Alpha}, flag
}
