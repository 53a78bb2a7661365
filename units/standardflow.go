package units

import (
	"math"
	"strconv"
	"unsafe"

	"example.org/pithball/internal/enum"
	"example.org/pithball/units/known"
)

// GasReference is a named reference state of gas flow. A "standard" or "normal"
// volume flow is an amount of gas per time, written as the volume that it has
// at such a state; states in use differ by up to 9 %, so the name is part of
// the quantity. The zero value is no reference and is refused.
type GasReference uint8

// The reference states.
const (
	noReference       GasReference = iota
	ReferenceDIN1343               // 0 °C, 101.325 kPa, dry: the "normal" state of Nm³ and NL
	ReferenceISO8778               // 20 °C, 100 kPa, 65 %RH: ANR of pneumatics
	Reference60F                   // 60 °F, 101.325 kPa, dry
	Reference68F                   // 68 °F = 20 °C, 101.325 kPa, dry
	Reference68FMoist              // 68 °F, 101.325 kPa (14.696 psia), 36 %RH: "standard air"
	ReferenceISO1217               // 20 °C, 100 kPa, dry: free air of compressors
	Reference15C                   // 15 °C, 101.325 kPa, dry: Sm³ of natural gas (ISO 13443)
	numReferences     = iota
)

type reference struct {
	name   string
	tag    string // in spellings, "L/min(ANR)"
	shown  string // unit that String writes
	t      float64
	p      float64
	rh     float64
	source known.Source
}

// The states; each row says how it is known.
var references = [numReferences]reference{
	noReference: {name: "no reference"},
	ReferenceDIN1343: {"DIN 1343: 0 °C, 101.325 kPa, dry", "DIN1343", "Nm³/h", 273.15, 101325, 0,
		known.Source{Provenance: known.Quoted, Cite: "DIN 1343:1990, Referenzzustand, Normzustand, Normvolumen; " +
			"Begriffe und Werte",
			Via: "Universal-Lexikon (2012), Normzustand; German Wikipedia, Normbedingungen"}},
	ReferenceISO8778: {"ISO 8778 ANR: 20 °C, 100 kPa, 65 %RH", "ANR", "L/min(ANR)", 293.15, 100000, 0.65,
		known.Source{Provenance: known.Quoted, Cite: "ISO 8778:2003, Pneumatic fluid power: Standard reference atmosphere",
			Via: "public programs for pneumatics", Note: "they print 20 °C, 1 bar and 1.185 kg/m³; " +
				"65 %RH was not compared with the standard"}},
	Reference60F: {"60 °F, 101.325 kPa, dry", "60°F", "scfm(60°F)", 288.70555555555555, 101325, 0,
		known.Source{Provenance: known.CommonPractice, Note: "15.56 °C and 1.01325 bar"}},
	Reference68F: {"68 °F, 101.325 kPa, dry", "68°F", "scfm(68°F)", 293.15, 101325, 0,
		known.Source{Provenance: known.CommonPractice}},
	Reference68FMoist: {"68 °F, 101.325 kPa, 36 %RH", "68°F,36%RH", "scfm(68°F,36%RH)", 293.15, 101325, 0.36,
		known.Source{Provenance: known.CommonPractice, Note: "printed as 14.696 to 14.70 psia and 0.075 lb/ft³"}},
	ReferenceISO1217: {"ISO 1217: 20 °C, 100 kPa, dry", "20°C,1bar", "L/s(20°C,1bar)", 293.15, 100000, 0,
		known.Source{Provenance: known.Memory, Cite: "ISO 1217:2009, Displacement compressors: Acceptance tests",
			Note: "state not compared with the standard; also 68 °F and 14.5 psia"}},
	Reference15C: {"ISO 13443: 15 °C, 101.325 kPa, dry", "15°C", "Sm³/h", 288.15, 101325, 0,
		known.Source{Provenance: known.Memory, Cite: "ISO 13443:1996, Natural gas: Standard reference conditions",
			Note: "state not compared with the standard"}},
}

func (r GasReference) row() *reference {
	if int(r) < len(references) {
		return &references[r]
	}
	return &references[noReference]
}

// of is a number of the state, NaN for no reference.
func (r GasReference) of(x float64) float64 {
	if r.row() == &references[noReference] {
		return math.NaN()
	}
	return x
}

// GasReferences lists the reference states.
func GasReferences() []GasReference {
	var out []GasReference
	for r := ReferenceDIN1343; int(r) < numReferences; r++ {
		out = append(out, r)
	}
	return out
}

// String returns the state in words, "DIN 1343: 0 °C, 101.325 kPa, dry", and "no
// reference" for the zero value.
func (r GasReference) String() string {
	if r == noReference {
		return "no reference"
	}
	return enum.Name("GasReference", referenceNames(), r)
}

// MarshalText writes the state in words; no reference is a [*known.FieldError].
func (r GasReference) MarshalText() ([]byte, error) {
	return enum.Write("reference", referenceNames(), r)
}

// UnmarshalText reads the state in words; anything else is a [*known.FieldError]
// and leaves the value as it was.
func (r *GasReference) UnmarshalText(b []byte) error {
	return enum.Read("reference", referenceNames(), b, r)
}

// referenceNames lists the states in words, none of them for the zero value.
func referenceNames() []string {
	names := make([]string, numReferences)
	for r := ReferenceDIN1343; int(r) < numReferences; r++ {
		names[r] = references[r].name
	}
	return names
}

// Temperature returns the temperature of the state, NaN for no reference.
func (r GasReference) Temperature() Temperature { return Temperature(r.of(r.row().t)) }

// Pressure returns the absolute pressure of the state, NaN for no reference.
func (r GasReference) Pressure() Pressure { return Pressure(r.of(r.row().p)) }

// RelativeHumidity returns the relative humidity of the state, NaN for no
// reference.
func (r GasReference) RelativeHumidity() RelativeHumidity { return RelativeHumidity(r.of(r.row().rh)) }

// Source says where the state was found.
func (r GasReference) Source() known.Source { return r.row().source }

// StandardFlow is an amount of gas per time, given as the volume flow that it
// would have at a named reference state. Its vapour counts as gas: flows at a
// moist reference are of moist gas. The zero value is refused by its text
// methods and computes NaN.
type StandardFlow struct {
	volume    VolumeFlow
	reference GasReference
}

// NewStandardFlow returns the flow that has the volume at the reference state.
// Errors are [*known.FieldError]s for volume (finite) and reference.
func NewStandardFlow(volume VolumeFlow, reference GasReference) (StandardFlow, error) {
	if err := known.Finite("volume", volume); err != nil {
		return StandardFlow{}, err
	}
	if reference == noReference || int(reference) >= numReferences {
		return StandardFlow{}, known.Wrong("reference", uint8(reference), "one of GasReferences")
	}
	return StandardFlow{volume, reference}, nil
}

// Reference returns the reference state.
func (f StandardFlow) Reference() GasReference { return f.reference }

// Volume returns the volume flow at its reference state; NaN for the zero value,
// which has none.
func (f StandardFlow) Volume() VolumeFlow {
	if f.reference == noReference {
		return VolumeFlow(math.NaN())
	}
	return f.volume
}

// Molar returns the amount of gas per time by the ideal gas law, p·V̇/(R·T).
// Real air is 0.06 % denser at 0 °C and 101.325 kPa (Z = 0.9994, CIPM-2007).
func (f StandardFlow) Molar() MolarFlow {
	r := f.reference.row()
	return MolarFlow(r.p * float64(f.volume) / (MolarGas * r.t)) // n = pV/(RT)
}

// At returns the same amount of gas as a volume at another reference state by
// the ideal gas law: V̇·(p1/p2)·(T2/T1). The vapour of a moist reference stays
// in the gas.
func (f StandardFlow) At(reference GasReference) StandardFlow {
	r := reference.row()
	return StandardFlow{f.Actual(Temperature(r.t), Pressure(r.p)), reference}
}

// Actual returns the volume flow at a temperature and absolute pressure by the
// ideal gas law: V̇·(p_ref/p)·(T/T_ref). NaN where t or p is not above 0.
func (f StandardFlow) Actual(t Temperature, p Pressure) VolumeFlow {
	if !(t > 0 && p > 0) {
		return VolumeFlow(math.NaN())
	}
	r := f.reference.row()
	return VolumeFlow(float64(f.volume) * (r.p / float64(p)) * (float64(t) / r.t)) // pV/T is the same at both states
}

// Mass returns the mass flow of a gas that has the density at the reference
// state. The density is the caller's: 1.185 kg/m³ is printed for ISO 8778, where
// the CIPM-2007 equation gives 1.1820.
func (f StandardFlow) Mass(density Density) MassFlow {
	if f.reference == noReference {
		return MassFlow(math.NaN())
	}
	return MassFlow(float64(density) * float64(f.volume)) // ρ·V̇
}

// ParseStandardFlow reads a flow with its reference state, "120 L/min(ANR)",
// "35 scfm(68°F)" or "60 Nm³/h", as [Parse] does. A unit without a reference,
// "scfm", is an error.
func ParseStandardFlow(s string) (StandardFlow, error) {
	v, u, err := parse(s, &kindStandardFlow)
	if err != nil {
		return StandardFlow{}, err
	}
	return StandardFlow{VolumeFlow(v), u.ref}, nil
}

// String returns the flow with its unit and reference state; the text parses
// back to the same bits.
func (f StandardFlow) String() string {
	b, err := f.AppendText(make([]byte, 0, 48))
	if err != nil {
		return strconv.FormatFloat(float64(f.volume), 'g', -1, 64) + " m³/s(" + f.reference.String() + ")"
	}
	return string(b)
}

// AppendText appends the text of String to b. It fails for NaN and Inf and for
// the zero StandardFlow, which has no reference.
func (f StandardFlow) AppendText(b []byte) ([]byte, error) {
	v := float64(f.volume)
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return b, notFinite(kindStandardFlow.name)
	}
	if f.reference == noReference || int(f.reference) >= numReferences {
		return b, known.Wrong("reference", uint8(f.reference), "one of GasReferences")
	}
	show := kindStandardFlow.find(references[f.reference].shown)
	if out, ok := appendShortestIn(b, v, show); ok {
		return appendSymbol(out, show.symbol), nil
	}
	var buf [32]byte
	neg, digits, exp := split(strconv.AppendFloat(buf[:0], v, 'e', -1, 64))
	if neg {
		b = append(b, '-')
	}
	b = append(appendDecimal(b, digits, exp), " m³/s("...)
	return append(append(b, references[f.reference].tag...), ')'), nil
}

// MarshalText returns the text of String. It fails where AppendText does.
func (f StandardFlow) MarshalText() ([]byte, error) { return f.AppendText(nil) }

// UnmarshalText reads a flow as [ParseStandardFlow] does; on error the value
// stays as it was.
func (f *StandardFlow) UnmarshalText(b []byte) error {
	v, err := ParseStandardFlow(unsafe.String(unsafe.SliceData(b), len(b)))
	if err != nil {
		return err
	}
	*f = v
	return nil
}
