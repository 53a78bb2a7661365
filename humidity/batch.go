package humidity

import (
	"fmt"
	"math"
	"strings"

	"example.org/pithball/internal/enum"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Reference says over what a column of relative humidities is counted.
type Reference uint8

// The references.
const (
	OverWater Reference = iota // over liquid water at every temperature, as weather services report
	OverIce                    // over ice at every temperature; for air below 0.01 °C
	Mixed                      // over ice below 0.01 °C, over water from there, as ASHRAE programs count

	references
)

var referenceNames = [references]string{"over water", "over ice", "over ice below 0.01 °C"}

// String returns the reference in words.
func (r Reference) String() string { return enum.Name("Reference", referenceNames[:], r) }

// MarshalText writes the name; a value that is no reference is a
// [*known.FieldError].
func (r Reference) MarshalText() ([]byte, error) {
	return enum.Write("reference", referenceNames[:], r)
}

// UnmarshalText reads a name as written by String.
func (r *Reference) UnmarshalText(b []byte) error {
	return enum.Read("reference", referenceNames[:], b, r)
}

// States are columns of results of [AirModel.StatesTo]. Each has as many rows as
// the arguments, or is nil if it is not wanted.
type States struct {
	HumidityRatio     []units.HumidityRatio // W, per dry air
	CondensationPoint []units.Temperature   // frost point below 0.01 °C, else dew point
	WetBulb           []units.Temperature   // ice bulb below 0 °C
	Enthalpy          []units.EnergyPerMass // per dry air
}

// StatesTo computes columns of states from columns of dry-bulb temperature,
// relative humidity counted as ref says, and absolute pressure. It allocates
// nothing after the first call. It works from interpolated equations and
// agrees with [Air] to 2e-13 (W), 2e-12 K (condensation point) and 3e-10 K (wet
// bulb) by the ideal models, to 6e-12, 2e-9 K and 1e-8 K by [IAPWS].
//
// Rows that are no air (NaN, out of the ranges of [NewAir], above saturation
// over water, over ice from 0.01 °C) hold NaN in every column and are listed in the one error, a
// [*known.FieldError] for "rows"; the other rows are computed all the same.
// Columns of different lengths are a [*known.FieldError] and nothing is
// computed.
func (m AirModel) StatesTo(dst *States, t []units.Temperature, rh []units.Ratio, p []units.Pressure,
	ref Reference) error {
	n := len(t)
	for _, c := range []struct {
		name string
		n    int
		opt  bool
	}{{"rh", len(rh), false}, {"p", len(p), false}, {"dst.HumidityRatio", len(dst.HumidityRatio),
		dst.HumidityRatio == nil},
		{"dst.CondensationPoint", len(dst.CondensationPoint), dst.CondensationPoint == nil},
		{"dst.WetBulb", len(dst.WetBulb), dst.WetBulb == nil}, {"dst.Enthalpy", len(dst.Enthalpy), dst.Enthalpy == nil}} {
		if c.n != n && !c.opt {
			return known.Wrong(c.name, fmt.Sprint(c.n, " rows"), fmt.Sprint(n, " as t"))
		}
	}
	if err := m.checkSelf(); err != nil {
		return err
	}
	if ref >= references {
		return known.Wrong("ref", ref, "OverWater, OverIce or Mixed")
	}
	fast := fastModel[m].Get()
	var bad rowList
	var z fastBlock
	for lo := 0; lo < n; lo += fastRows {
		hi := min(lo+fastRows, n)
		fast.rows(&z, t[lo:hi], rh[lo:hi], p[lo:hi], ref)
		for r := range hi - lo {
			if z.ok[r] {
				continue
			}
			var ok bool
			z.w[r], z.td[r], z.tw[r], z.h[r], ok = m.slowState(t[lo+r], rh[lo+r], p[lo+r], ref)
			if !ok {
				bad.add(lo + r)
			}
		}
		fill(dst.HumidityRatio, z.w[:hi-lo], lo)
		fill(dst.CondensationPoint, z.td[:hi-lo], lo)
		fill(dst.WetBulb, z.tw[:hi-lo], lo)
		fill(dst.Enthalpy, z.h[:hi-lo], lo)
	}
	return bad.err("air of −100 … 200 °C, 1 kPa … 1.5 MPa, up to saturation over water")
}

// fill copies a block into a column that is wanted.
func fill[Q ~float64](dst []Q, src []float64, at int) {
	if dst == nil {
		return
	}
	for i, v := range src {
		dst[at+i] = Q(v)
	}
}

func (m AirModel) slowState(t units.Temperature, rh units.Ratio, p units.Pressure, ref Reference) (w, td, tw, h float64,
	ok bool) {
	k := rhWater
	if ref == OverIce || ref == Mixed && t < TriplePoint {
		k = rhIce
	}
	nan := math.NaN()
	if !(t >= lowestT && t <= highestT) || ref == OverIce && t >= TriplePoint || !(p >= lowestP && p <= highestP &&
		rh >= 0 && rh <= units.Ratio(3)) {
		return nan, nan, nan, nan, false
	}
	e := m.vapour(Given{k, float64(rh)}, float64(t), float64(p))
	if es, _ := m.water(float64(t), float64(p)); !(e <= es*(1+vapourDoubt) && e <= mostVapour*float64(p)) {
		return nan, nan, nan, nan, false
	}
	a := Air{t: t, p: p, e: units.Pressure(e), m: m}
	return float64(a.HumidityRatio()), float64(a.CondensationPoint()), float64(a.WetBulb()), float64(a.Enthalpy()), true
}

// RelativeHumidityAtTo sets dst[i] to the relative humidity over water of air a
// at the surface temperature t[i], for a web or roll whose temperature varies.
// It does not allocate unless a row is bad: NaN there, and one error.
func (a Air) RelativeHumidityAtTo(dst []units.RelativeHumidity, t []units.Temperature) error {
	if len(dst) != len(t) {
		return known.Wrong("dst", fmt.Sprint(len(dst), " rows"), fmt.Sprint(len(t), " as t"))
	}
	var bad rowList
	for i := range t {
		dst[i] = a.At(t[i]).RelativeHumidity()
		if math.IsNaN(float64(dst[i])) {
			bad.add(i)
		}
	}
	return bad.err("surface temperatures of −100 … 200 °C")
}

// rowList collects the numbers of bad rows.
type rowList struct {
	first []int
	n     int
}

func (r *rowList) add(i int) {
	if r.n++; len(r.first) < 20 {
		r.first = append(r.first, i)
	}
}

func (r *rowList) err(want string) error {
	if r.n == 0 {
		return nil
	}
	var b strings.Builder
	for k, i := range r.first {
		if k > 0 {
			b.WriteString(", ")
		}
		fmt.Fprint(&b, i)
	}
	if more := r.n - len(r.first); more > 0 {
		fmt.Fprintf(&b, " and %d more", more)
	}
	return known.Wrong("rows", b.String(), want)
}
