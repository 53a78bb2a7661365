package field

import (
	"errors"
	"math"

	"example.org/pithball/internal/enum"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// ChargedPileSpec describes a pile of equal charged sheets on an earthed plate.
type ChargedPileSpec struct {
	Thickness            units.Length               // of a sheet, more than 0
	RelativePermittivity float64                    // [1] of the sheet, 1 … 1e4
	Upper                units.SurfaceChargeDensity // on the upper face of each sheet
	Lower                units.SurfaceChargeDensity // on the lower face of each sheet
	AirGap               units.Length               // air under each sheet, 0 for pressed sheets
	Width                units.Length               // least width of the pile, more than 0
	// AirStrength is the field at which air breaks down, along the edge of the pile
	// and in its gaps; 0 for 3 MV/m. A gap below 327 V does not break down.
	AirStrength units.ElectricField
	// SheetStrength is the field at which a sheet breaks down; 0 for 100 MV/m, low
	// for films of some tens of micrometres (not compared with a source).
	SheetStrength units.ElectricField
}

// What breaks down where a description leaves it open.
const (
	airStrength   = 3 * units.MegavoltPerMetre // conventional, over centimetres: AIChE CCPS glossary
	sheetStrength = 100 * units.MegavoltPerMetre
	leastSpark    = 327 * units.Volt // least breakdown voltage of air
)

// Spark says where a pile or roll breaks down first.
type Spark uint8

// The places.
const (
	NoSpark      Spark = iota
	SparkOutside       // at the surface of the roll, or along the edge of the pile
	SparkInGap         // in the air under a sheet
	SparkInFilm        // through a sheet or wrap
)

var sparkNames = [...]string{"none", "outside", "in a gap", "through the film"}

// String returns the name of the place, or "Spark(n)".
func (s Spark) String() string { return enum.Name("Spark", sparkNames[:], s) }

// MarshalText writes the name; a value that is no place is a
// [*known.FieldError].
func (s Spark) MarshalText() ([]byte, error) { return enum.Write("spark", sparkNames[:], s) }

// UnmarshalText reads a name as written by String.
func (s *Spark) UnmarshalText(b []byte) error { return enum.Read("spark", sparkNames[:], b, s) }

// ChargedPile is a validated pile, made by [NewChargedPile]; the zero ChargedPile
// gives NaN.
type ChargedPile struct{ s ChargedPileSpec }

// NewChargedPile checks the specification.
func NewChargedPile(s ChargedPileSpec) (ChargedPile, error) {
	if err := errors.Join(
		known.Positive("pile.thickness", s.Thickness),
		known.InRange("pile.relative_permittivity", s.RelativePermittivity, 1, 1e4),
		known.Finite("pile.upper", s.Upper),
		known.Finite("pile.lower", s.Lower),
		known.NotNegative("pile.air_gap", s.AirGap),
		known.Positive("pile.width", s.Width),
		known.NotNegative("pile.air_strength", s.AirStrength),
		known.NotNegative("pile.sheet_strength", s.SheetStrength)); err != nil {
		return ChargedPile{}, err
	}
	if s.AirStrength == 0 {
		s.AirStrength = airStrength
	}
	if s.SheetStrength == 0 {
		s.SheetStrength = sheetStrength
	}
	return ChargedPile{s}, nil
}

// Spec returns what the pile was built from.
func (k ChargedPile) Spec() ChargedPileSpec { return k.s }

// coefficients of V(n) = lin·n + quad·n².
func (k ChargedPile) coefficients() (lin, quad float64) { // [V]
	s := &k.s
	sheet := float64(s.Thickness) / s.RelativePermittivity / units.Epsilon0
	gap := float64(s.AirGap) / units.Epsilon0
	net := float64(s.Upper) + float64(s.Lower)
	return float64(s.Upper)*sheet - net*sheet/2 + net*gap/2, net * (sheet + gap) / 2
}

// Height returns the height of n sheets with their air gaps.
func (k ChargedPile) Height(n int) units.Length {
	if k.s.Thickness == 0 {
		return units.Length(math.NaN())
	}
	return units.Length(float64(n) * (float64(k.s.Thickness) + float64(k.s.AirGap)))
}

// PileState is what a pile of so many sheets shows.
type PileState struct {
	Voltage units.Voltage       // of the top face over the earthed plate, cut where something breaks down first
	Free    units.Voltage       // the same if nothing leaked or broke down
	Height  units.Length        // with the air gaps
	Edge    units.ElectricField // mean field along the edge, |Free|/Height
	Gap     units.ElectricField // greatest in the air under a sheet, the lowest one's; 0 without air
	Sheet   units.ElectricField // greatest inside a sheet
	Spark   Spark               // what breaks down first, of those that do
	// Validity is AboveRange where something breaks down, WrongShape where the pile
	// is higher than half its width and the plane formula is high.
	Validity known.Validity
}

// At returns the state of n sheets with nothing else near, if no charge leaks:
//
//	Free = t/(ε0·ε_r)·[n·σ_upper + σ_net·n(n−1)/2] + g/ε0·σ_net·n(n+1)/2
//
// for sheets of thickness t with air gaps g under them. Below each sheet runs the
// flux of all charge above. Balanced sheets, σ_net = 0: linear, σ·t/(ε0·ε_r) a
// sheet. With net charge: quadratic, Free → ρ·H²/(2ε), until
//
//   - the edge of the pile flashes over: |Free|/H reaches the strength of air;
//   - the air under the lowest sheet does: n·σ_net·g/ε0 reaches the greater of
//     327 V and strength·g (the two faces of a gap are taken as insulating, so that
//     a discharge there leaves a part of the charge);
//   - a sheet breaks through.
//
// Voltage is then cut to what the edge holds, strength·H, and to what the flux that
// the gap or the sheet lets pass makes on n sheets: upper bounds, because a
// discharge leaves less than it needs. 250 sheets of 0.1 mm and 3 µC/m² do not stand
// at 380 kV; their edge holds 75. n < 0 and the zero ChargedPile give NaN.
func (k ChargedPile) At(n int) PileState {
	s := &k.s
	if n < 0 || !(s.Thickness > 0) {
		nan := math.NaN()
		return PileState{Voltage: units.Voltage(nan), Free: units.Voltage(nan), Height: units.Length(nan),
			Edge: units.ElectricField(nan),
			Gap:  units.ElectricField(nan), Sheet: units.ElectricField(nan), Validity: known.WrongShape}
	}
	lin, quad := k.coefficients()
	f := float64(n)
	x := PileState{Free: units.Voltage(f * (lin + f*quad)), Height: k.Height(n)}
	if n == 0 {
		return x
	}
	net := float64(s.Upper) + float64(s.Lower)
	// The flux is greatest in the lowest sheet, or in the top one if the faces nearly
	// cancel; between them it is linear in the number of sheets above.
	flux := max(math.Abs(float64(s.Upper)), math.Abs((f-1)*net+float64(s.Upper)))
	x.Sheet = units.ElectricField(flux / (units.Epsilon0 * s.RelativePermittivity))
	x.Edge = units.ElectricField(math.Abs(float64(x.Free)) / float64(x.Height))
	air, gap := float64(s.AirStrength), float64(s.AirGap)
	v := math.Abs(float64(x.Free))
	least := math.Inf(1) // how far the charge may grow before the first breakdown, relative to what it is
	breaks := func(at Spark, margin, bound float64) {
		if margin > 1 {
			return
		}
		if margin < least {
			least, x.Spark = margin, at
		}
		v = min(v, bound)
	}
	breaks(SparkOutside, air/float64(x.Edge), air*float64(x.Height))
	if gap > 0 {
		x.Gap = units.ElectricField(f * math.Abs(net) / units.Epsilon0)
		holds := max(float64(leastSpark), air*gap) // [V] across one gap
		breaks(SparkInGap, holds/(float64(x.Gap)*gap), f*holds*(1+float64(s.Thickness)/s.RelativePermittivity/gap))
	}
	strength := float64(s.SheetStrength)
	breaks(SparkInFilm, strength/float64(x.Sheet), f*strength*(float64(s.Thickness)+gap*s.RelativePermittivity))
	x.Voltage = units.Voltage(math.Copysign(v, float64(x.Free)))
	if x.Spark != NoSpark {
		x.Validity |= known.AboveRange
	}
	if float64(x.Height) > float64(s.Width)/2 {
		x.Validity |= known.WrongShape
	}
	return x
}

// SheetsToSpark returns the least number of sheets at which something breaks down,
// and what; false if nothing does up to 1e9 sheets.
func (k ChargedPile) SheetsToSpark() (int, Spark, bool) {
	sparks := func(n int) bool { return k.At(n).Spark != NoSpark }
	hi := 1
	for hi < 1e9 && !sparks(hi) {
		hi *= 2
	}
	hi = min(hi, 1e9)
	if !sparks(hi) {
		return 0, NoSpark, false
	}
	lo := hi / 2 // fields grow with the number of sheets, but for the edge of a pile whose faces nearly cancel
	for hi-lo > 1 {
		if mid := lo + (hi-lo)/2; sparks(mid) {
			hi = mid
		} else {
			lo = mid
		}
	}
	return hi, k.At(hi).Spark, true
}

// SheetsTo returns the least number of sheets whose top stands at |V| or more if
// nothing breaks down, and false if no number up to 1e9 does or something breaks
// down before ([ChargedPile.SheetsToSpark]). A voltage that is not above 0 gives false.
func (k ChargedPile) SheetsTo(v units.Voltage) (int, bool) {
	if !(v > 0) {
		return 0, false
	}
	lin, quad := k.coefficients()
	reach := func(n float64) bool { return math.Abs(n*(lin+n*quad)) >= float64(v) }
	// Where lin and quad have opposite signs |V| has a hump with its top at
	// −lin/(2·quad); before and after it |V| is monotone.
	lo, hi := 0.0, 1e9
	if quad != 0 {
		if top := math.Round(-lin / (2 * quad)); top >= 1 && top < hi {
			if reach(top) {
				hi = top
			} else {
				lo = top
			}
		}
	}
	if !reach(hi) {
		return 0, false
	}
	for hi-lo > 1 {
		if mid := math.Floor((lo + hi) / 2); reach(mid) {
			hi = mid
		} else {
			lo = mid
		}
	}
	if k.At(int(hi)).Spark != NoSpark {
		return 0, false
	}
	return int(hi), true
}
