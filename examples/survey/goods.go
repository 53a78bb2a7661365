package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"

	"example.org/pithball/examples/outfile"
	"example.org/pithball/examples/survey/report"
	"example.org/pithball/line/cure"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// goodsOf reads the description where it is one of goods that are no web; nil where it
// is not: the schema in the file tells.
func goodsOf(o *options) (*report.GoodsInput, error) {
	if o.line == "" {
		return nil, nil
	}
	b, _, err := o.files.read(o.line, "")
	if err != nil || !isGoods(b) {
		return nil, nil // told by who reads a web
	}
	return o.goods(b)
}

// isGoods says that a description is one of goods that are no web.
func isGoods(b []byte) bool {
	var head struct {
		Schema string `json:"schema"`
	}
	return json.Unmarshal(bytes.TrimPrefix(b, []byte("\ufeff")), &head) == nil &&
		strings.HasPrefix(head.Schema, "pithball goods")
}

// goods reads a description of goods and what goes with it; all faults come back together.
func (o *options) goods(b []byte) (*report.GoodsInput, error) {
	var errs []error
	add := func(err error) { errs = append(errs, err) }
	for _, x := range []struct {
		given bool
		flag  string
		why   string
	}{{o.survey != "", "-survey", "readings of goods stand in the description"},
		{o.limit != "", "-limit", "the limit of goods stands in the description"},
		{o.speed != "", "-speed", "goods have -rate"},
		{o.faces, "-faces", "goods have one charge a body"}} {
		if x.given {
			add(&inputError{fmt.Errorf("%s: not for goods that are no web: %s", x.flag, x.why)})
		}
	}
	in := &report.GoodsInput{Name: o.line}
	var err error
	if in.Goods, err = cure.ReadGoods(bytes.NewReader(b)); err != nil {
		add(named(o.line, err))
	}
	if in.Site, err = o.answered(); err != nil {
		add(err)
	}
	if in.Goods != nil {
		if in.Route, err = cure.NewRoute(in.Goods, &in.Site); err != nil {
			add(named(o.line, err))
		}
		if in.Goods.Kind == cure.ProfileBody && o.rate != "" {
			add(errors.New("-rate: a profile has a speed, in its description"))
		}
	}
	if o.rate != "" {
		in.Rate, err = flagged("-rate", o.rate, units.Frequency(1e-4), units.Frequency(1e3))
		add(err)
	}
	if o.cold != "" {
		in.Cold, err = flagged("-cold", o.cold, units.Celsius(-40), units.Celsius(80))
		add(err)
	}
	if err := errors.Join(errs...); err != nil {
		return nil, &inputError{err}
	}
	return in, nil
}

// goodsVerdict is the bare command for goods.
func goodsVerdict(o *options, in *report.GoodsInput, stdout io.Writer) error {
	r, err := report.NewGoods(in, o.system)
	if err != nil {
		return &inputError{err}
	}
	var html []byte
	if o.html != "" {
		years, err := o.pageYears()
		if err != nil {
			return err
		}
		if html, err = r.HTML(years); err != nil {
			return err
		}
	}
	var b strings.Builder
	if o.json {
		err = r.JSON(&b)
	} else {
		err = r.Text(&b)
	}
	if err != nil {
		return err
	}
	return o.put(&b, html, stdout)
}

// put writes the page, if there is one, and then what is printed.
func (o *options) put(b *strings.Builder, html []byte, stdout io.Writer) error {
	if html != nil {
		path, err := outfile.Write(o.html, html, o.files.names()...)
		if err != nil {
			return &inputError{fmt.Errorf("-html: %w", err)}
		}
		if !o.json {
			fmt.Fprintf(b, "\nReport: %s\n", path)
		}
	}
	_, err := io.WriteString(stdout, b.String())
	return err
}

// goodsPlan is the plan for goods.
func goodsPlan(o *options, in *report.GoodsInput, stdout io.Writer) error {
	r, err := report.NewGoods(in, o.system)
	if err != nil {
		return &inputError{err}
	}
	if o.json {
		return r.JSON(stdout)
	}
	var b strings.Builder
	title(&b, in.Goods.Name, in.Goods.Note)
	r.Decision().Text(&b)
	notices(&b, r.Notices())
	_, err = io.WriteString(stdout, b.String())
	return err
}

// goodsTry tells what changes of goods bring.
func goodsTry(o *options, in *report.GoodsInput, stdout io.Writer) error {
	if o.changes == "" {
		return &inputError{errors.New("-changes: missing; want a file of changes for the goods of -line")}
	}
	var then *cure.Route
	list, err := changesOf(o.files, o.changes, "", goodsKinds, goodsKindNames, func(list []cure.GoodsChange) (err error) {
		then, err = in.Route.Try(list...)
		return err
	}, nil)
	if err != nil {
		return err
	}
	var words []string
	for _, c := range list {
		words = append(words, c.String())
	}
	now, p := in.Route.Predict(0), then.Predict(0)
	hazards := report.Merged(then.Hazards(), o.system)
	if o.json {
		return encode(stdout, struct {
			Schema  string                `json:"schema"`
			Line    string                `json:"line"`
			Note    string                `json:"note,omitempty"`
			Unit    string                `json:"unit"`
			Changes []string              `json:"changes"`
			Now     []cure.StopPrediction `json:"now"`
			Then    []cure.StopPrediction `json:"then"`
			Notices []known.Notice        `json:"notices"`
		}{"pithball try 1", in.Goods.Name, in.Goods.Note, in.Goods.Unit(), words, now, p, hazards})
	}
	var b strings.Builder
	title(&b, in.Goods.Name, in.Goods.Note)
	unit, scale := report.ShopUnit(in.Goods.Kind)
	fmt.Fprintf(&b, "Tried: %s.\n\nCharge in %s behind each stop, 5 … 95 %% in brackets; chance over the limit\n\n",
		report.Wrap(strings.Join(words, "; "), 88, "  "), unit)
	t := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "stop\tnow\t\tthen\t")
	for i, s := range p {
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\n", s.Name, report.Band(now[i].Charge, scale), report.Chance(now[i].Over),
			report.Band(s.Charge, scale), report.Chance(s.Over))
	}
	t.Flush()
	notices(&b, hazards)
	_, err = io.WriteString(stdout, b.String())
	return err
}
