// Package testdata holds values that others measured, published or computed,
// each row with its source, its provenance and its own tolerance, the one loader
// for them and the one evaluation. Tests, the *test packages and
// examples/validate read it; nothing at run time does.
//
// A row is a [Row]. A row with a [Measured] part is a measurement: it asks
// whether the number that somebody measured lies where the model says, inside
// the model's band or within a tolerance. A measured row of use gate that lies
// outside must say why (known_disagreement), and must stop saying so when it
// comes to lie inside: [Outcome.Fault] reports both. [Row.Proof] says which rows
// may support a claim of validation.
package testdata

import (
	"bytes"
	"embed"
	"encoding/json"
	"fmt"
	"io/fs"
	"math"

	"example.org/pithball/units/known"
)

//go:embed *.json
var files embed.FS

// FS returns the files as a read-only file system.
func FS() fs.FS { return files }

// Packages lists the packages that have rows.
func Packages() []string { return []string{"units", "humidity", "charge", "decay", "ionflow", "line"} }

// Rows returns the rows of one package, those of the file of its name first, then
// those of its rooms and subjects (charge.json, charge_gas.json, …). It fails on an
// unknown field, a row without id, source, provenance, tolerance or reason for it, a
// measured row without use, conditions or kind of uncertainty, and a repeated id,
// and on what [known.Source.Check] refuses. The first fault is a
// [*known.FieldError] that names the row.
func Rows(pkg string) ([]Row, error) {
	more, err := fs.Glob(files, pkg+"_*.json")
	if err != nil {
		return nil, err
	}
	var all []Row
	from := map[string]string{}
	for _, name := range append([]string{pkg + ".json"}, more...) {
		b, err := files.ReadFile(name)
		if err != nil {
			return nil, err
		}
		rows, err := parse("testdata/"+name, b)
		if err != nil {
			return nil, err
		}
		for i := range rows {
			if f, twice := from[rows[i].ID]; twice {
				return nil, known.Wrong("testdata/"+name+".id", rows[i].ID, "an id that no row of "+f+" has")
			}
			from[rows[i].ID] = name
		}
		all = append(all, rows...)
	}
	return all, nil
}

func parse(name string, b []byte) ([]Row, error) {
	var rows []Row
	d := json.NewDecoder(bytes.NewReader(b))
	d.DisallowUnknownFields()
	if err := d.Decode(&rows); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	seen := map[string]bool{}
	for i := range rows {
		r := &rows[i]
		at := fmt.Sprintf("%s[%d]", name, i)
		if r.ID == "" || seen[r.ID] {
			return nil, known.Wrong(at+".id", r.ID, "an id that no other row has")
		}
		seen[r.ID] = true
		if err := r.check(at + " " + r.ID); err != nil {
			return nil, err
		}
	}
	return rows, nil
}

// check returns the first fault of a row; at names it.
func (r *Row) check(at string) error {
	banded := r.Measured != nil && r.Measured.banded()
	switch {
	case r.What == "":
		return known.Wrong(at+".what", r.What, "what is compared, in words")
	case r.Compute == "":
		return known.Wrong(at+".compute", r.Compute, "the name of a public computation")
	case r.Result == "" && !banded:
		return known.Wrong(at+".result", r.Result, "the name of a result")
	case math.IsNaN(r.Want) || math.IsInf(r.Want, 0):
		return known.Wrong(at+".want", r.Want, "a finite value")
	case !(r.RelTol >= 0) || math.IsInf(r.RelTol, 0):
		return known.Wrong(at+".rel_tol", r.RelTol, "a finite tolerance of 0 or more")
	case !(r.AbsTol >= 0) || math.IsInf(r.AbsTol, 0):
		return known.Wrong(at+".abs_tol", r.AbsTol, "a finite tolerance of 0 or more")
	case r.RelTol+r.AbsTol == 0 && !banded:
		return known.Wrong(at+".rel_tol", r.RelTol, "a tolerance of its own, relative or absolute")
	case r.TolWhy == "" && (!banded || r.RelTol+r.AbsTol > 0):
		return known.Wrong(at+".tol_why", r.TolWhy, "where the tolerance comes from")
	}
	if err := r.Source.Check(at + ".source"); err != nil || r.Measured == nil {
		return err
	}
	return r.Measured.check(at+".measured", r.Source.Provenance)
}
