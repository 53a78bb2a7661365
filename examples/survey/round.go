package main

import (
	"errors"
	"fmt"

	"example.org/pithball/examples/outfile"
	"example.org/pithball/examples/survey/report"
	"example.org/pithball/line"
	"example.org/pithball/line/cure"
	"example.org/pithball/line/upkeep"
)

// round reads every file and flag that was given before anything is worked out and tells all that is wrong
// with them at once, file by file: who writes a folder of files wants to mend them in one round. Of changes to a
// line that is not sound, names and ranges are told. What only a sound line can tell of another file, as what a
// change of its place meets there, is told once the line is sound; names of goods are, too.
func (o *options) round() error {
	var errs []error
	add := func(err error) { errs = append(errs, err) }
	var web *report.Input
	var d *line.Description // as far as it could be read
	var goods *report.GoodsInput
	bodies := false // goods that are no web, sound or not
	b, _, err := o.files.read(o.line, "line.json")
	switch {
	case o.line == "" && o.limit == "" && o.meter == "" && o.care == "" && o.changes == "":
		// The demonstration is sound.
	case err == nil && isGoods(b):
		bodies = true
		goods, err = o.goods(b)
		add(err)
	default:
		web, d, err = o.web()
		add(err)
		if err == nil && web.Survey != nil {
			o.read = web
		}
		for _, x := range [][2]string{{"-rate", o.rate}, {"-cold", o.cold}} {
			if x[1] != "" {
				add(fmt.Errorf("%s: not for a web: want goods that are none", x[0]))
			}
		}
	}
	site := cure.Site{}
	if !bodies { // which read it
		site, err = o.answered()
		add(err)
	}
	sound := errors.Join(errs...) == nil
	if web != nil && sound {
		add(o.ofWeb(web.Line, &site))
	} else if goods != nil && sound {
		add(o.ofGoods(goods))
	} else {
		add(o.form(!bodies, d))
	}
	if !bodies {
		_, err = o.aim()
		add(err)
	}
	if o.season != "" {
		_, _, err = yearsOf(o.files, o.season)
		add(err)
	}
	add(o.output())
	if err := errors.Join(errs...); err != nil {
		return &inputError{err}
	}
	return nil
}

// output refuses a file for the page that is one of the inputs, before any work is done for it.
func (o *options) output() error {
	if err := outfile.Check(o.html, o.files.names()...); err != nil {
		return fmt.Errorf("-html: %w", err)
	}
	return nil
}

// ofWeb checks what goes with a sound line.
func (o *options) ofWeb(l *line.Line, site *cure.Site) error {
	var errs []error
	if o.care != "" || o.meter != "" {
		d := l.Description()
		c, care, err := o.webCare(&d)
		if err == nil {
			_, err = upkeep.Keep(l, d.Speed, c)
			err = ofKeep(care, err)
		}
		errs = append(errs, err)
	}
	if o.changes != "" {
		m, err := cure.Assume(l, site)
		if err != nil {
			return errors.Join(append(errs, err)...)
		}
		_, err = changesOf(o.files, o.changes, "", kinds, kindNames, func(list []cure.Change) error {
			_, err := m.Try(list...)
			return err
		}, func(list []cure.Change) error {
			d := l.Description()
			return cure.CheckChanges(&d, list...)
		})
		errs = append(errs, err)
	}
	return errors.Join(errs...)
}

// ofGoods checks what goes with sound goods.
func (o *options) ofGoods(in *report.GoodsInput) error {
	var errs []error
	if o.care != "" {
		c, care, err := o.goodsCare()
		if err == nil {
			_, err = in.Route.Keep(c)
			err = care.told(err)
		}
		errs = append(errs, err)
	}
	if o.changes != "" {
		_, err := changesOf(o.files, o.changes, "", goodsKinds, goodsKindNames, func(list []cure.GoodsChange) error {
			_, err := in.Route.Try(list...)
			return err
		}, nil)
		errs = append(errs, err)
	}
	return errors.Join(errs...)
}

// form checks the form of what goes with a line that is not sound, and the names that d has.
func (o *options) form(web bool, d *line.Description) error {
	var errs []error
	if o.care != "" {
		var err error
		if web {
			_, _, err = o.webCare(&line.Description{})
		} else {
			_, _, err = o.goodsCare()
		}
		errs = append(errs, err)
	}
	if o.changes != "" {
		var err error
		if web {
			check := func(list []cure.Change) error { return cure.CheckChanges(d, list...) }
			_, err = changesOf(o.files, o.changes, "", kinds, kindNames, check, check)
		} else {
			_, err = changesOf(o.files, o.changes, "", goodsKinds, goodsKindNames,
				func([]cure.GoodsChange) error { return nil }, nil)
		}
		errs = append(errs, err)
	}
	return errors.Join(errs...)
}
