package humidity

import (
	"errors"
	"fmt"
	"math"

	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Constant is the law of an inert material: humidity changes nothing. It is the
// default for a polymer that nobody has measured. It is immutable.
type Constant[Q Value] struct {
	v       Q
	decades float64
}

// NewConstant returns the law with the value and the standard deviation of its
// log10, 0 to 3.
func NewConstant[Q Value](v Q, decades float64) (Constant[Q], error) { // decades [1]
	err := errors.Join(positive("v", v), known.InRange("decades", decades, 0, 3))
	if err != nil {
		return Constant[Q]{}, err
	}
	return Constant[Q]{v, decades}, nil
}

// Value returns the value.
func (c Constant[Q]) Value(a Air) Q { return Q(float64(c.v) + 0*float64(a.t)) }

// Decades returns the spread.
func (c Constant[Q]) Decades(Air) float64 { return c.decades } // [1]

// Validity never flags.
func (c Constant[Q]) Validity(Air) known.Validity { return known.Inside }

// AdsorbedFilm is the law of a surface that adsorbs a film of water but absorbs
// none, such as glazed porcelain and glass:
//
//	ρ_s = ρ_d·exp[k (1 − h)²],  h = relative humidity over water
//
// with ρ_d the surface resistivity at saturation. Contamination changes ρ_d by
// decades. Source: W. G. Smail, R. J. Brooksbank, W. M. Thornton, J. IEE 69
// (1931) 427 (abstract). It is immutable; the zero value gives NaN.
type AdsorbedFilm[Q Value] struct {
	x0, l0, k  float64 // mean of (1 − h)² [1], log10 of the value there, decades per unit of (1 − h)²
	s0, n, sxx float64
	lo, hi     units.RelativeHumidity
	made       bool
}

// NewAdsorbedFilm states the law: the value at saturation, k (0 … 100), the
// standard deviation of log10 of the value (0 … 3) and the range of humidity that
// it stands for.
func NewAdsorbedFilm[Q Value](saturated Q, k, decades float64, lo, hi units.RelativeHumidity) (AdsorbedFilm[Q], error) { // k, decades [1]
	err := errors.Join(positive("saturated", saturated), known.InRange("k", k, 0, 100),
		known.InRange("decades", decades, 0, 3), checkSpan(lo, hi))
	if err != nil {
		return AdsorbedFilm[Q]{}, err
	}
	return AdsorbedFilm[Q]{l0: math.Log10(float64(saturated)), k: k / math.Ln10, s0: decades, lo: lo, hi: hi, made: true}, nil
}

// FitAdsorbedFilm fits the law to two or more points as [FitLogLinear] does,
// against (1 − h)².
func FitAdsorbedFilm[Q Value](points []Point[Q], settings *FitSettings) (AdsorbedFilm[Q], error) {
	x, y, s0, err := columnsOf(points, settings, func(rh float64) float64 { return (1 - rh) * (1 - rh) })
	if err != nil {
		return AdsorbedFilm[Q]{}, err
	}
	f, err := fitLine(x, y, s0, "points[].RH")
	if err != nil {
		return AdsorbedFilm[Q]{}, err
	}
	if f.slope < 0 {
		return AdsorbedFilm[Q]{}, rises()
	}
	return AdsorbedFilm[Q]{x0: f.x, l0: f.y, k: f.slope, s0: f.s, n: f.n, sxx: f.sxx,
		lo: units.RelativeHumidity(1 - math.Sqrt(f.hi)), hi: units.RelativeHumidity(1 - math.Sqrt(f.lo)), made: true}, nil
}

func rises() error {
	return known.Wrong("points", "values that rise with humidity", "values that do not; an inert material is a Constant")
}

func columnsOf[Q Value](points []Point[Q], settings *FitSettings, f func(rh float64) float64) (x, y []float64, s0 float64, err error) {
	s0, err = settings.decades()
	if len(points) < 2 {
		err = errors.Join(err, known.Wrong("points", len(points), "two or more"))
	}
	for i, p := range points {
		err = errors.Join(err, checkPoint(fmt.Sprintf("points[%d]", i), p))
	}
	for _, p := range points {
		x, y = append(x, f(float64(p.RH))), append(y, math.Log10(float64(p.Value)))
	}
	return x, y, s0, err
}

// At returns the value at a relative humidity over water; above 1 it is that at
// saturation. NaN gives NaN.
func (l AdsorbedFilm[Q]) At(rh units.RelativeHumidity) Q {
	if !l.made {
		return Q(math.NaN())
	}
	return Q(math.Pow(10, l.l0+l.k*(dry2(rh)-l.x0)))
}

func dry2(rh units.RelativeHumidity) float64 {
	d := 1 - float64(rh)
	if d < 0 {
		d = 0
	}
	return d * d
}

// K returns k of exp[k(1 − h)²].
func (l AdsorbedFilm[Q]) K() float64 { return l.k * math.Ln10 } // [1]

// Value returns the value in the air; see At.
func (l AdsorbedFilm[Q]) Value(a Air) Q { return l.At(a.RelativeHumidity()) }

// Decades returns the spread, growing where the points do not reach.
func (l AdsorbedFilm[Q]) Decades(a Air) float64 { // [1]
	return widen(l.s0, l.n, l.sxx, dry2(a.RelativeHumidity())-l.x0)
}

// Validity flags air drier or wetter than the range.
func (l AdsorbedFilm[Q]) Validity(a Air) known.Validity {
	return rangeOf(float64(a.RelativeHumidity()), float64(l.lo), float64(l.hi))
}

// MoisturePower is Hearle's law of absorbing fibres and sheets,
//
//	log10 x = log10 x₀ − n log10(M/M₀)
//
// with M in the one measure it was made with: [Regain] or [MoistureContent].
// n is 7 to 18 for textile fibres. Source: J. W. S. Hearle, J. Text. Inst. 44
// (1953) T117; the range 7 … 13 for wool, cotton, silk, rayon, acetate, nylon from
// the abstract of a later study in Text. Res. J. It is immutable; the zero value
// gives NaN.
type MoisturePower[Q Value, M Moisture] struct {
	x0, l0, n      float64 // log10 M₀, log10 of the value there, exponent
	s0, count, sxx float64
	lo, hi         M
}

// WetPoint is a value measured at a moisture.
type WetPoint[Q Value, M Moisture] struct {
	M     M // above 0, below 100 %
	Value Q // > 0
}

func (p WetPoint[Q, M]) check(field string) error {
	err := positive(field+".Value", p.Value)
	if !(p.M > 0 && p.M < 1) {
		err = errors.Join(err, known.Wrong(field+".M", p.M, "above 0, below 100 %"))
	}
	return err
}

// NewMoisturePower states the law: the value at a moisture, the exponent n (0 … 30),
// the standard deviation of log10 of the value (0 … 3) and the range of moisture.
func NewMoisturePower[Q Value, M Moisture](at WetPoint[Q, M], n, decades float64, lo, hi M) (MoisturePower[Q, M], error) { // n, decades [1]
	err := errors.Join(at.check("at"), known.InRange("n", n, 0, 30), known.InRange("decades", decades, 0, 3))
	if !(lo > 0 && hi >= lo && hi < 1) {
		err = errors.Join(err, known.Wrong("lo", lo, "above 0 and at most hi, hi below 100 %"))
	}
	if err != nil {
		return MoisturePower[Q, M]{}, err
	}
	return MoisturePower[Q, M]{x0: math.Log10(float64(at.M)), l0: math.Log10(float64(at.Value)), n: n, s0: decades, lo: lo, hi: hi}, nil
}

// FitMoisturePower fits the law to two or more points by least squares of the
// logarithms, with the spread of [FitLogLinear].
func FitMoisturePower[Q Value, M Moisture](points []WetPoint[Q, M], settings *FitSettings) (MoisturePower[Q, M], error) {
	s0, err := settings.decades()
	if len(points) < 2 {
		err = errors.Join(err, known.Wrong("points", len(points), "two or more"))
	}
	var x, y []float64
	for i, p := range points {
		err = errors.Join(err, p.check(fmt.Sprintf("points[%d]", i)))
		x, y = append(x, math.Log10(float64(p.M))), append(y, math.Log10(float64(p.Value)))
	}
	if err != nil {
		return MoisturePower[Q, M]{}, err
	}
	f, err := fitLine(x, y, s0, "points[].M")
	if err != nil {
		return MoisturePower[Q, M]{}, err
	}
	if f.slope > 0 {
		return MoisturePower[Q, M]{}, rises()
	}
	return MoisturePower[Q, M]{x0: f.x, l0: f.y, n: -f.slope, s0: f.s, count: f.n, sxx: f.sxx,
		lo: M(math.Pow(10, f.lo)), hi: M(math.Pow(10, f.hi))}, nil
}

// At returns the value at a moisture; moisture of 0 or below and NaN give NaN,
// for a bone-dry material has no value by this law.
func (l MoisturePower[Q, M]) At(m M) Q {
	if !(m > 0) || !(l.hi > 0) {
		return Q(math.NaN())
	}
	return Q(math.Pow(10, l.l0-l.n*(math.Log10(float64(m))-l.x0)))
}

// Exponent returns n.
func (l MoisturePower[Q, M]) Exponent() float64 { return l.n } // [1]

// DecadesAt returns the spread at a moisture.
func (l MoisturePower[Q, M]) DecadesAt(m M) float64 { // [1]
	return widen(l.s0, l.count, l.sxx, math.Log10(float64(m))-l.x0)
}

// Chained is the law RH → moisture → value from an isotherm and a
// [MoisturePower] that were measured on different samples. See [Chain].
type Chained[Q Value] struct {
	iso      Isotherm
	at       func(Regain) (v Q, decades float64)
	lo, hi   Regain
	mismatch float64
}

// Chain joins an isotherm, which gives regain, to a moisture law in either
// measure; a law in [MoistureContent] gets its regain converted. Isotherm and
// law from different sources do not fit each other: the handbook sets for
// textile fibres disagree at 65 %RH by 0.4 decades for cotton, 0.9 for viscose and
// 3.1 for acetate, because regain and moisture content are mixed in them. The
// mismatch (standard deviation in decades, 0 … 4) is therefore an argument of its own;
// it may be 0 only if both were measured on the same sample.
func Chain[Q Value, M Moisture](law MoisturePower[Q, M], iso Isotherm, mismatch float64) (Chained[Q], error) { // mismatch [1]
	err := known.InRange("mismatch", mismatch, 0, 4)
	if iso == nil {
		err = errors.Join(err, known.Wrong("iso", "", "an isotherm"))
	}
	if !(law.hi > 0) {
		err = errors.Join(err, known.Wrong("law", "the zero MoisturePower", "a law made by NewMoisturePower or FitMoisturePower"))
	}
	if err != nil {
		return Chained[Q]{}, err
	}
	c := Chained[Q]{iso: iso, mismatch: mismatch, lo: regainOf(law.lo), hi: regainOf(law.hi)}
	c.at = func(r Regain) (Q, float64) {
		m := measureOf[M](r)
		return law.At(m), law.DecadesAt(m)
	}
	return c, nil
}

func regainOf[M Moisture](m M) Regain {
	if c, ok := any(m).(MoistureContent); ok {
		return c.Regain()
	}
	return Regain(m)
}

func measureOf[M Moisture](r Regain) M {
	var z M
	if _, ok := any(z).(MoistureContent); ok {
		return M(r.Content())
	}
	return M(r)
}

// Value returns the value at the regain that the isotherm gives in the air.
func (c Chained[Q]) Value(a Air) Q {
	if c.iso == nil {
		return Q(math.NaN())
	}
	v, _ := c.at(c.iso.Regain(a.RelativeHumidity(), a.t))
	return v
}

// Decades returns the spread of the moisture law with the mismatch, root of the
// sum of squares.
func (c Chained[Q]) Decades(a Air) float64 { // [1]
	if c.iso == nil {
		return math.NaN()
	}
	_, d := c.at(c.iso.Regain(a.RelativeHumidity(), a.t))
	return math.Hypot(d, c.mismatch)
}

// Validity flags air in which the isotherm or the moisture law leaves its range.
func (c Chained[Q]) Validity(a Air) known.Validity {
	if c.iso == nil {
		return known.WrongShape
	}
	rh := a.RelativeHumidity()
	return c.iso.Validity(rh, a.t) | rangeOf(float64(c.iso.Regain(rh, a.t)), float64(c.lo), float64(c.hi))
}

// Held says what stayed the same while a resistivity was measured against
// temperature; the two give different activation energies.
type Held uint8

// What was held.
const (
	HeldMoisture Held = iota // the moisture of the specimen: sealed, or dry
	HeldHumidity             // the relative humidity of the air around it
)

var heldNames = [...]string{"moisture", "humidity"}

// String returns what was held.
func (h Held) String() string { return nameOf("Held", heldNames[:], h) }

// MarshalText writes the name; a value without one is a [*known.FieldError].
func (h Held) MarshalText() ([]byte, error) { return writeName("held", heldNames[:], h) }

// UnmarshalText reads a name as written by String.
func (h *Held) UnmarshalText(b []byte) error { return readName("held", heldNames[:], b, h) }

// Arrhenius is the law x = x₀·exp[(E_a/R)(1/T − 1/T₀)]. It is immutable; the zero value
// gives NaN.
type Arrhenius[Q Value] struct {
	x0, l0, ea float64 // 1/T₀ [1/K], ln of the value there, E_a/R [K]
	s0, n, sxx float64 // decades; 1/K
	lo, hi     units.Temperature
	held       Held
}

// HotPoint is a value measured at a temperature.
type HotPoint[Q Value] struct {
	T     units.Temperature // −100 … 200 °C
	Value Q                 // > 0
}

func (p HotPoint[Q]) check(field string) error {
	err := positive(field+".Value", p.Value)
	if !(p.T >= lowestT && p.T <= highestT) {
		err = errors.Join(err, known.Wrong(field+".T", p.T, "−100 … 200 °C"))
	}
	return err
}

// NewArrhenius states the law: the value at a temperature, the activation energy
// (0 … 400 kJ/mol; 96.485 kJ/mol is 1 eV), the standard deviation of log10 of the
// value (0 … 3), the range of temperature and what was held.
func NewArrhenius[Q Value](at HotPoint[Q], activation, decades float64, lo, hi units.Temperature, held Held) (Arrhenius[Q], error) { // activation [J/mol], decades [1]
	err := errors.Join(at.check("at"), known.InRange("decades", decades, 0, 3))
	if !(activation >= 0 && activation <= 400e3) {
		err = errors.Join(err, known.Wrong("activation", fmt.Sprint(activation, " J/mol"), "0 … 400 000 J/mol"))
	}
	if !(lo >= lowestT && hi >= lo && hi <= highestT) {
		err = errors.Join(err, known.Wrong("lo", lo, "−100 °C … hi, hi up to 200 °C"))
	}
	if held > HeldHumidity {
		err = errors.Join(err, known.Wrong("held", uint8(held), "HeldMoisture or HeldHumidity"))
	}
	if err != nil {
		return Arrhenius[Q]{}, err
	}
	return Arrhenius[Q]{x0: 1 / float64(at.T), l0: math.Log(float64(at.Value)), ea: activation / units.MolarGas, s0: decades, lo: lo, hi: hi, held: held}, nil
}

// FitArrhenius fits the law to two or more points by least squares of ln x against
// 1/T, with the spread of [FitLogLinear]. A value that rises with temperature is
// refused.
func FitArrhenius[Q Value](points []HotPoint[Q], held Held, settings *FitSettings) (Arrhenius[Q], error) {
	s0, err := settings.decades()
	if len(points) < 2 {
		err = errors.Join(err, known.Wrong("points", len(points), "two or more"))
	}
	if held > HeldHumidity {
		err = errors.Join(err, known.Wrong("held", uint8(held), "HeldMoisture or HeldHumidity"))
	}
	var x, y []float64
	for i, p := range points {
		err = errors.Join(err, p.check(fmt.Sprintf("points[%d]", i)))
		x, y = append(x, 1/float64(p.T)), append(y, math.Log10(float64(p.Value)))
	}
	if err != nil {
		return Arrhenius[Q]{}, err
	}
	f, err := fitLine(x, y, s0, "points[].T")
	if err != nil {
		return Arrhenius[Q]{}, err
	}
	if f.slope < 0 {
		return Arrhenius[Q]{}, known.Wrong("points", "values that rise with temperature", "values that fall")
	}
	return Arrhenius[Q]{x0: f.x, l0: f.y * math.Ln10, ea: f.slope * math.Ln10, s0: f.s, n: f.n, sxx: f.sxx,
		lo: units.Temperature(1 / f.hi), hi: units.Temperature(1 / f.lo), held: held}, nil
}

// At returns the value at a temperature. NaN and temperatures at or below 0 K
// give NaN.
func (l Arrhenius[Q]) At(t units.Temperature) Q {
	if !(t > 0) || l.x0 == 0 {
		return Q(math.NaN())
	}
	return Q(math.Exp(l.l0 + l.ea*(1/float64(t)-l.x0)))
}

// Activation returns the activation energy.
func (l Arrhenius[Q]) Activation() float64 { return l.ea * units.MolarGas } // [J/mol]

// Held returns what was held while the points were taken.
func (l Arrhenius[Q]) Held() Held { return l.held }

// Value returns the value at the air's temperature.
func (l Arrhenius[Q]) Value(a Air) Q { return l.At(a.t) }

// Decades returns the spread, growing where the points do not reach.
func (l Arrhenius[Q]) Decades(a Air) float64 { // [1]
	return widen(l.s0, l.n, l.sxx, 1/float64(a.t)-l.x0)
}

// Validity flags air colder or hotter than the range.
func (l Arrhenius[Q]) Validity(a Air) known.Validity {
	return rangeOf(float64(a.t), float64(l.lo), float64(l.hi))
}

// Warmed carries a law in humidity to other temperatures by an activation energy
// that was measured at constant relative humidity. It is immutable.
type Warmed[Q Value] struct {
	law Law[Q]
	by  Arrhenius[Q]
	t0  units.Temperature
}

// NewWarmed returns law(RH)·by(T)/by(t0), t0 being the temperature at which law was
// measured. An Arrhenius law measured at constant moisture is refused: at
// constant humidity the moisture changes with temperature too.
func NewWarmed[Q Value](law Law[Q], by Arrhenius[Q], t0 units.Temperature) (Warmed[Q], error) {
	var err error
	if law == nil {
		err = known.Wrong("law", "", "a law in humidity")
	}
	if by.x0 == 0 || by.held != HeldHumidity {
		err = errors.Join(err, known.Wrong("by", "a law at constant moisture", "an Arrhenius law measured at constant relative humidity"))
	}
	if !(t0 >= lowestT && t0 <= highestT) {
		err = errors.Join(err, known.Wrong("t0", t0, "−100 … 200 °C"))
	}
	if err != nil {
		return Warmed[Q]{}, err
	}
	return Warmed[Q]{law, by, t0}, nil
}

// Value returns the value in the air.
func (w Warmed[Q]) Value(a Air) Q {
	if w.law == nil {
		return Q(math.NaN())
	}
	return Q(float64(w.law.Value(a)) * math.Exp(w.by.ea*(1/float64(a.t)-1/float64(w.t0))))
}

// Decades returns the spread of the law: the activation energy adds none here.
func (w Warmed[Q]) Decades(a Air) float64 { // [1]
	if w.law == nil {
		return math.NaN()
	}
	return w.law.Decades(a)
}

// Validity joins the flags of both.
func (w Warmed[Q]) Validity(a Air) known.Validity {
	if w.law == nil {
		return known.WrongShape
	}
	return w.law.Validity(a) | w.by.Validity(a)
}
