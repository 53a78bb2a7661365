package kits

import (
	"encoding/json"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"example.org/pithball/units/unitstest"
)

// torque is a quantity type of this module: a float64 in N·m.
type torque struct{}

var torqueUnits = map[string]float64{"N·m": 1, "N m": 1, "kN·m": 1000, "kgf·m": 9.80665, "lbf·ft": 1.3558179483314004}

func (torque) Name() string { return "torque" }

func (torque) Units() []string { return []string{"N·m", "N m", "kN·m", "kgf·m", "lbf·ft"} }

func (torque) Shifted() bool { return false }

func (torque) Parse(s string) (float64, error) {
	n, unit, _ := strings.Cut(s, " ")
	if strings.Trim(n, "+-.eE0123456789") != "" { // what only strconv takes for a number
		return 0, fmt.Errorf("torque: %q is no number", n)
	}
	x, err := strconv.ParseFloat(n, 64)
	k := torqueUnits[unit]
	if err != nil || k == 0 || math.IsInf(x*k, 0) {
		return 0, fmt.Errorf("torque: %q is no torque", s)
	}
	return x * k, nil
}

func (torque) Text(v float64) (string, error) {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return "", fmt.Errorf("torque: no text for %v", v)
	}
	return strconv.FormatFloat(v, 'g', -1, 64) + " N·m", nil
}

func (torque) In(v float64, unit string) (float64, error) {
	k := torqueUnits[unit]
	if k == 0 {
		return 0, fmt.Errorf("torque: unknown unit %q", unit)
	}
	return v / k, nil
}

func (c torque) Marshal(v float64) ([]byte, error) {
	s, err := c.Text(v)
	if err != nil {
		return nil, err
	}
	return json.Marshal(s)
}

func (c torque) Unmarshal(b []byte, old float64) (float64, error) {
	var s string
	if err := json.Unmarshal(b, &s); err != nil {
		return old, err
	}
	v, err := c.Parse(s)
	if err != nil {
		return old, err
	}
	return v, nil
}

// display writes for a display, and is read back.
type display struct{ torque }

func (d display) Text(v float64) (string, error) {
	_, err := d.torque.Text(v)
	return strconv.FormatFloat(v, 'g', 4, 64) + " N·m", err
}

func TestTorque(t *testing.T) { hold(t, unitstest.Quantities())(torque{}, display{}, "round trip") }

// quick reads whole newton metres without strconv, and the rest as torque does.
type quick struct {
	torque
	long bool // takes any number of digits for a number that has room in an int32
}

func (q quick) Parse(s string) (float64, error) {
	n, unit, _ := strings.Cut(s, " ")
	if unit != "N·m" || n == "" || len(n) > 9 && !q.long || strings.Trim(n, "0123456789") != "" {
		return q.torque.Parse(s)
	}
	v := int32(0)
	for _, c := range n {
		v = 10*v + c - '0'
	}
	return float64(v), nil
}

func TestQuickTorque(t *testing.T) {
	hold(t, unitstest.Like(torque{}))(quick{}, quick{long: true}, "like")
}
