package ionflow

import "example.org/pithball/internal/enum"

// Regime says what limited the charge that an ioniser put on a surface.
type Regime uint8

// The regimes.
const (
	Idle                Regime = iota // there was nothing to do, or the place sees no field
	ConductivityLimited               // the air conducted as if undisturbed: exponential approach, 1 − exp(−t/τ)
	SupplyLimited                     // the ions that the source brings were used up: a constant I'/v is taken off
	DriftLimited                      // the ions on the way to the surface held each other back (space charge)
	BelowOnset                        // too little field: a passive source does not start, or drawn ions do not arrive
	Undefined                         // an argument was NaN, infinite or negative; the deposit is NaN
	PointField                        // the field between emitter points and the surface drew the ions

)

var regimeNames = [...]string{"idle", "conductivity-limited", "supply-limited", "drift-limited", "below onset",
	"undefined", "drawn by the field of the points"}

// String returns the name, or "Regime(n)".
func (r Regime) String() string { return enum.Name("Regime", regimeNames[:], r) }

// MarshalText writes the name; a value without one is a [*known.FieldError].
func (r Regime) MarshalText() ([]byte, error) { return enum.Write("regime", regimeNames[:], r) }

// UnmarshalText reads a name; anything else is a [*known.FieldError] and leaves the value.
func (r *Regime) UnmarshalText(b []byte) error { return enum.Read("regime", regimeNames[:], b, r) }
