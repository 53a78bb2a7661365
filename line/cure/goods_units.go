package cure

import (
	"encoding/json"
	"regexp"
	"strconv"

	"example.org/pithball/internal/lazy"
	"example.org/pithball/units"
)

// ofBody are the numbers of a description that are charges of the body: limit, charge, value and spread, as a text with
// a unit. Other texts of these names (the spread of a hygrometer) are in other units and stay.
var ofBody = lazy.Value[*regexp.Regexp]{Make: func() *regexp.Regexp {
	return regexp.MustCompile(`"(limit|charge|value|spread)"(\s*:\s*)("(?:[^"\\]|\\.)*")`)
}}

// inNumbers writes charges that stand with the unit of the body ("6 µC/m²" of a sheet, "25 nC" of a part) as
// the numbers in its base unit. Lines stay where they are; what is no charge of that body stays for the reader to tell.
func inNumbers(b []byte) []byte {
	var head struct {
		Kind BodyKind `json:"kind"`
	}
	if json.Unmarshal(b, &head) != nil || head.Kind.unit() == "" {
		return b
	}
	pattern := ofBody.Get()
	return pattern.ReplaceAllFunc(b, func(field []byte) []byte {
		m := pattern.FindSubmatch(field)
		var s string
		if json.Unmarshal(m[3], &s) != nil {
			return field
		}
		x, err := head.Kind.charge(s)
		if err != nil {
			return field
		}
		return []byte(`"` + string(m[1]) + `"` + string(m[2]) + strconv.FormatFloat(x, 'g', -1, 64))
	})
}

// charge reads a charge of the body with its unit. [unit of the body]
func (k BodyKind) charge(s string) (float64, error) {
	switch k {
	case SheetBody:
		x, err := units.Parse[units.SurfaceChargeDensity](s)
		return float64(x), err
	case PartBody:
		x, err := units.Parse[units.Charge](s)
		return float64(x), err
	case ProfileBody:
		x, err := units.Parse[units.LineChargeDensity](s)
		return float64(x), err
	}
	x, err := units.Parse[units.ChargePerMass](s)
	return float64(x), err
}
