package survey

import (
	"errors"
	"fmt"
	"strconv"

	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// greatest is the greatest magnitude that a reading of the quantity can have, in SI:
// far beyond every instrument, so that a slip of the pen is told and a sum of
// squares stays finite.
func greatest(q line.Quantity) float64 {
	switch q {
	case line.FieldMeter, line.OverRoller:
		return 10e6
	case line.PailCharge:
		return 1
	case line.DecayTime:
		return 1e9
	}
	return 1e24
}

// show writes a value in SI with the quantity's unit.
func show(q line.Quantity, v float64) string {
	switch q {
	case line.FieldMeter, line.OverRoller:
		return units.Voltage(v).String()
	case line.PailCharge:
		return units.Charge(v).String()
	case line.DecayTime:
		return units.Time(v).String()
	}
	return units.Resistance(v).String()
}

// parseAs reads a value of the quantity with its unit, in SI; a field meter may show
// a field, then it is in V/m.
func parseAs(q line.Quantity, s string) (v float64, asField bool, err error) {
	v, err = parse(q, s)
	if err != nil && q == line.FieldMeter {
		if e, fieldErr := units.Parse[units.ElectricField](s); fieldErr == nil {
			return float64(e), true, nil
		}
		if errors.Is(err, units.ErrNoUnit) || errors.Is(err, units.ErrUnknownUnit) {
			err = fmt.Errorf("%w; or a field in V/m, kV/cm or kV/in", err)
		}
	}
	return v, false, err
}

// parse reads a value of the quantity with its unit, in SI.
func parse(q line.Quantity, s string) (float64, error) {
	switch q {
	case line.FieldMeter:
		v, err := units.Parse[units.DisplayVoltage](s)
		return float64(v), err
	case line.OverRoller:
		v, err := units.Parse[units.Voltage](s)
		return float64(v), err
	case line.PailCharge:
		v, err := units.Parse[units.Charge](s)
		return float64(v), err
	case line.EarthResistance:
		v, err := units.Parse[units.Resistance](s)
		return float64(v), err
	case line.DecayTime:
		v, err := units.Parse[units.Time](s)
		return float64(v), err
	}
	return 0, known.Wrong("quantity", "", "a quantity of a survey")
}

// nothing says that a text is a zero without a unit, which is nothing in every unit.
func nothing(s string) bool {
	v, err := strconv.ParseFloat(s, 64)
	return err == nil && v == 0
}
