// Package testdata holds values that others published or computed, each row
// with its source, its provenance and its own tolerance, and the one loader for
// them. Tests, the *test packages and examples/validate read it; nothing at run
// time does.
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

// Row is one check value: a public computation, its arguments and what somebody
// else says the result is.
type Row struct {
	ID      string             `json:"id"`      // unique in its file
	What    string             `json:"what"`    // in words, with the conditions
	Compute string             `json:"compute"` // name in the registry of computations
	Args    map[string]float64 `json:"args"`    // [SI] by argument name
	Result  string             `json:"result"`  // name of the result
	Want    float64            `json:"want"`    // [SI] expected value
	// RelTol and AbsTol are what the source supports, not what the code reaches:
	// the row passes if |got−want| <= AbsTol + RelTol·|want|. [1], [SI]
	RelTol float64      `json:"rel_tol"`
	AbsTol float64      `json:"abs_tol"` // [SI] see RelTol
	TolWhy string       `json:"tol_why"` // where the tolerance comes from
	Source known.Source `json:"source"`  // who says so, and how it is known
}

// Proof reports whether the row may support a claim of validation: a row that
// rests on memory, on common practice or on a demo is an example only.
func (r *Row) Proof() bool {
	return r.Source.Provenance == known.Published || r.Source.Provenance == known.Computed
}

// Pass reports whether got meets the row; NaN never does.
func (r *Row) Pass(got float64) bool { // got [SI]
	return math.Abs(got-r.Want) <= r.AbsTol+r.RelTol*math.Abs(r.Want)
}

// Packages lists the files of rows, one for each package.
func Packages() []string { return []string{"units", "humidity", "charge", "decay", "ionflow"} }

// Rows returns the rows of one package. It fails on an unknown field, a row
// without id, source, provenance, tolerance or reason for it, a computed row
// that names no method, and a repeated id.
func Rows(pkg string) ([]Row, error) {
	name := pkg + ".json"
	b, err := files.ReadFile(name)
	if err != nil {
		return nil, err
	}
	var rows []Row
	d := json.NewDecoder(bytes.NewReader(b))
	d.DisallowUnknownFields()
	if err := d.Decode(&rows); err != nil {
		return nil, fmt.Errorf("testdata/%s: %w", name, err)
	}
	seen := map[string]bool{}
	for i := range rows {
		r := &rows[i]
		at := fmt.Sprintf("testdata/%s[%d]", name, i)
		switch {
		case r.ID == "" || seen[r.ID]:
			return nil, known.Wrong(at+".id", r.ID, "an id that no other row has")
		case r.What == "" || r.Compute == "" || r.Result == "":
			return nil, known.Wrong(at, r.ID, "what, compute and result filled in")
		case r.Source.Provenance == known.Unstated:
			return nil, known.Wrong(at+".source.provenance", r.ID, "a provenance")
		case r.Source.Cite == "" && r.Source.Provenance != known.CommonPractice:
			return nil, known.Wrong(at+".source.cite", r.ID, "the work, or for a computed row the independent method")
		case !(r.RelTol >= 0 && r.AbsTol >= 0 && r.RelTol+r.AbsTol > 0) || r.TolWhy == "":
			return nil, known.Wrong(at+".rel_tol", r.ID, "a tolerance of its own, with the reason in tol_why")
		case math.IsNaN(r.Want) || math.IsInf(r.Want, 0):
			return nil, known.Wrong(at+".want", r.Want, "a finite value")
		}
		seen[r.ID] = true
	}
	return rows, nil
}
