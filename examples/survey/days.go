package main

import (
	"errors"
	"fmt"
	"io"
	"strings"

	"example.org/pithball/examples/internal/days"
	"example.org/pithball/examples/survey/report"
	"example.org/pithball/line/upkeep"
	"example.org/pithball/units/known"
)

const daysSchema = "pithball days 1"

// compare says whether a cure worked.
func compare(o *options, stdout io.Writer) error {
	f := &days.File{}
	var c upkeep.Comparison
	_, err := o.files.json(o.days, "days.json", f, func() (err error) {
		c, err = f.Compared()
		return errors.Join(schema(f.Schema, daysSchema), err)
	})
	if err != nil {
		return err
	}
	if o.json {
		return encode(stdout, comparisonJSON(f, &c))
	}
	var b strings.Builder
	title(&b, f.Name, f.Note)
	label := func(s *days.Side, or string) string {
		if s.Label != "" {
			return s.Label
		}
		return or
	}
	if f.Again != nil {
		fmt.Fprintf(&b, "%s against %s and off again; \"the weather\" is the drift between the two\n",
			label(&f.Before, "off"),
			label(&f.After, "on"))
	} else {
		fmt.Fprintf(&b, "%s against %s\n", label(&f.Before, "before"), label(&f.After, "after"))
	}
	if f.Scatters() {
		fmt.Fprintln(&b, "The standard deviations of the weights are compared, not their means.")
	}
	fmt.Fprintf(&b, "%s.\n", report.Wrap(strings.ToUpper(c.String()[:1])+c.String()[1:], 96, ""))
	if c.Turned {
		fmt.Fprintln(&b, "The sign turned; magnitudes are compared. Read both faces before explaining it.")
	}
	if c.DryDay.Middle > 0 {
		fmt.Fprintf(&b, "On the dry day the meter would show %s.\n",
			report.Volts([3]float64{c.DryDay.Low, c.DryDay.Middle, c.DryDay.High}))
	}
	switch {
	case c.P < 0.05:
	case c.More < 0:
		fmt.Fprintln(&b, "No number of readings on such days would tell: the error of the weather hides it. Compare "+
			"off, on and")
		fmt.Fprintln(&b, "off on one day, which needs no law of the weather (only where zone and flammables are "+
			"\"none\" and signed).")
	default:
		fmt.Fprintf(&b, "To tell an effect of that size, %d %s a side would be needed.\n", c.More, f.What())
	}
	if c.Validity != known.Inside {
		fmt.Fprintf(&b, "The law of the weather is used %v.\n", c.Validity)
	}
	notices(&b, ofCompare())
	_, err = io.WriteString(stdout, b.String())
	return err
}
