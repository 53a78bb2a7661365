package report

import (
	_ "embed"
	"sync"

	"example.org/pithball/examples/internal/fillpage"
	"example.org/pithball/units"
)

//go:embed goods.html
var goodsText string

var goodsFill = sync.OnceValue(func() *fillpage.Page { return fillpage.MustParse(compose(goodsText)) })

type goodsPage struct {
	Name, Note, Kind, Speed, File, Check, Unit, Body string
	Verdict                                          []htmlLine
	Ground                                           []Conductor
	Notices                                          []htmlNotice
	Charge                                           fillpage.HTML
	Stops                                            []goodsStop
	Readings                                         []goodsReading
	Sources                                          []goodsSource
	DampAt                                           string
	Damp                                             []goodsDamp
	Decisions                                        []htmlDecision // one
	Years                                            []Year
}

type goodsSource struct{ Name, Chance, Gain string }

// HTML writes the report as one page that needs nothing else.
func (r *Goods) HTML(years []Year) ([]byte, error) {
	g := r.in.Goods
	d := r.Decision()
	p := goodsPage{Name: g.Name, Note: g.Note, Kind: g.Kind.String(), Speed: r.speed(), File: r.in.Name,
		Check: "Earth check", Unit: r.unit, Body: shop[g.Kind].body, Verdict: leads(r.Lines()), Ground: d.Ground,
		Notices: pageNotices(r.Notices()), Stops: r.stops(), Readings: r.readings(), Years: years}
	if r.system == units.US {
		p.Check = "Ground check"
	}
	p.DampAt, p.Damp = r.damp()
	var names []string
	var bands [][3]float64
	for _, s := range r.now {
		names, bands = append(names, s.Name), append(bands, *scaled(s.Charge, r.scale))
	}
	b, err := wayPlot(names, bands, r.unit)
	if err != nil {
		return nil, err
	}
	p.Charge = fillpage.HTML(b)
	for _, s := range r.plan.Verdict {
		p.Sources = append(p.Sources, goodsSource{s.Name, Chance(s.Chance), band(s.Gain, r.scale)})
	}
	p.Decisions, p.Years = illustrate(d, years)
	return heldTogether(goodsFill().Fill(p))
}
