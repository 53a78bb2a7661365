package report

import (
	"context"

	"example.org/pithball/humidity"
	"example.org/pithball/line/cure"
	"example.org/pithball/units"
)

// Plan plans for a web and works out the outlook of what was chosen.
func Plan(ctx context.Context, m *cure.Calibrated, a cure.Aim, system units.System) (*cure.Plan, *Decision, error) {
	p, err := m.PlanContext(ctx, a)
	if err != nil {
		return nil, nil, err
	}
	limit := units.SurfaceChargeDensity(m.Limit())
	if p.Stop != "" {
		return p, Decide(p, nil, nil, limit, system), nil
	}
	fast, err := m.Try(cure.Run{Speed: p.Aim.Speed})
	if err != nil {
		return nil, nil, err
	}
	var chosen []cure.Change
	for _, k := range p.Set {
		chosen = append(chosen, p.Cures[k].Changes...)
	}
	with, err := fast.Try(chosen...)
	if err != nil {
		return nil, nil, err
	}
	now, then := fast.Predict(), with.Predict()
	return p, Decide(p, &now, &then, limit, system), nil
}

// HTMLPlanned writes the page with the plan that reaches the aim, with the answers of the
// site, and with forecasts; without one it says of a material that takes up no water that
// no week differs. A survey that no line can be calibrated from has its page without a plan.
func (r *Report) HTMLPlanned(ctx context.Context, site *cure.Site, aim cure.Aim, years []Year) ([]byte, error) {
	if w := &r.desc.Web; years == nil && w.Humidity == humidity.Inert {
		years = []Year{{Lines: []string{w.Material + " takes up no water: no week of the year is better or worse by its " +
			"weather."}}}
	}
	m, err := cure.Calibrate(r.in.Diagnosis, site)
	if err != nil {
		return r.HTMLWith(nil, years)
	}
	_, d, err := Plan(ctx, m, aim, r.system)
	if err != nil {
		return nil, err
	}
	return r.HTMLWith(d, years)
}
