package cure

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"example.org/pithball/internal/plain"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// mostBody is the greatest charge of a body in its unit, C/m², C, C/m or C/kg: far beyond
// what the air holds, so that a slip of the pen is told and a sum of squares stays finite.
// leastBody is far below what any instrument tells from 0.
const mostBody, leastBody = 1.0, 1e-18

// bounded checks that a charge is one that a body can have, with its spread. [unit of the body]
func bounded(field string, b known.Band) error {
	if err := b.Check(field); err != nil {
		return err
	}
	if math.Abs(b.Value) > mostBody || b.Spread != 0 && b.Kind == known.Normal &&
		!(b.Spread >= leastBody && b.Spread <= mostBody) ||
		b.Kind == known.LogNormal && b.Spread > 5 {
		return known.Wrong(field, b.Value, "a magnitude of at most 1 and a spread of 1e-18 … 1, in the unit of the body "+
			"(lognormal: a spread of at most 5)")
	}
	return nil
}

// checkBounds finds texts that could print a line of their own, and numbers that no plant has.
func (g *Goods) checkBounds() error {
	var errs []error
	text := func(field, s string) {
		if f := plain.Fault(s); f != "" {
			errs = append(errs, known.Wrong(field, strconv.Quote(s), "plain text in one line, without "+f))
		}
	}
	in := func(field string, v, lo, hi float64) { // [see the call]
		errs = append(errs, known.InRange(field, units.Ratio(v), units.Ratio(lo), units.Ratio(hi)))
	}
	text("name", g.Name)
	text("note", g.Note)
	if strings.TrimSpace(g.Name) == "" {
		errs = append(errs, known.Wrong("name", g.Name, "a name of the line"))
	}
	if len(g.Airs) > 100 || len(g.Conductors) > 1000 || len(g.Readings) > 1000 {
		errs = append(errs, known.Wrong("goods", fmt.Sprintf("%d airs, %d conductors, %d readings", len(g.Airs),
			len(g.Conductors), len(g.Readings)), "at most 100 airs, 1000 conductors and 1000 readings"))
	}
	if g.Limit != 0 {
		in("limit", g.Limit, leastBody, mostBody)
	}
	for i := range g.Airs {
		text(fmt.Sprintf("airs[%d].name", i), g.Airs[i].Name)
	}
	for i, c := range g.Conductors {
		at := fmt.Sprintf("conductors[%d]", i)
		text(at+".name", c.Name)
		in(at+".resistance", float64(c.Resistance), 0, 1e24)
		in(at+".current", float64(c.Current), -1, 1)
	}
	if s := g.Scatter; s != nil {
		for field, m := range map[string]units.Mass{"tolerance": s.Tolerance, "now": s.Now, "good": s.Good} {
			in("scatter."+field, float64(m), 1e-9, 100)
		}
		in("scatter.nowCharge", float64(s.NowCharge), -mostBody, mostBody)
		in("scatter.goodCharge", float64(s.GoodCharge), -mostBody, mostBody)
	}
	for i := range g.Stations {
		s := &g.Stations[i]
		at := fmt.Sprintf("stations[%d]", i)
		text(at+".name", s.Name)
		errs = append(errs, bounded(at+".change", s.Change))
		if s.Without != nil {
			in(at+".without.value", s.Without.Value, 0, 10)
			in(at+".without.spread", s.Without.Spread, 0, 10)
		}
		if n := s.Nozzle; n != nil {
			in(at+".nozzle.supply", float64(n.Supply), 0, 1)
		}
	}
	for i, r := range g.inBody() {
		at := fmt.Sprintf("readings[%d]", i)
		in(at+".charge", r.Charge, -mostBody, mostBody)
		if r.Spread != 0 {
			in(at+".spread", r.Spread, leastBody, mostBody)
		}
	}
	return errors.Join(errs...)
}
