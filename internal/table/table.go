// Package table reads the tables that packages ship as embedded JSON, and finds
// their rows by name and by the weight of their source. It knows no physics.
package table

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io/fs"
	"strings"
	"sync"

	"example.org/pithball/units/known"
)

// File is the file data/Name of Files with rows of T. It must not be copied.
type File[T any] struct {
	Files fs.FS
	Name  string
	once  sync.Once
	rows  []T
}

// Rows returns the rows of the file, read by the first call. It panics on a bad
// file: the file is part of the package that calls, and a test of that package
// reads it.
func (f *File[T]) Rows() []T {
	f.once.Do(func() {
		var err error
		if f.rows, err = decode[T](f.Files, f.Name); err != nil {
			panic(err.Error())
		}
	})
	return f.rows
}

func decode[T any](files fs.FS, name string) ([]T, error) {
	b, err := fs.ReadFile(files, "data/"+name)
	if err != nil {
		return nil, err
	}
	d := json.NewDecoder(bytes.NewReader(b))
	d.DisallowUnknownFields()
	var rows []T
	if err := d.Decode(&rows); err != nil {
		return nil, fmt.Errorf("data/%s: %w", name, err)
	}
	return rows, nil
}

// Heavy returns a copy of the rows that weigh at least as much as weight.
func Heavy[T any](all []T, origin func(*T) *known.Origin, weight known.Provenance) []T {
	var out []T
	for i := range all {
		if origin(&all[i]).Source.Provenance <= weight {
			out = append(out, all[i])
		}
	}
	return out
}

// Find returns the row with that name, letter case aside. A row that weighs
// less than weight is refused with an error that says so.
func Find[T any](what string, all []T, key func(*T) (name string, o *known.Origin), name string,
	weight known.Provenance) (T, error) {
	var zero T
	var names []string
	for i := range all {
		n, o := key(&all[i])
		if strings.EqualFold(n, name) {
			if p := o.Source.Provenance; p > weight {
				return zero, known.Wrong(what, name,
					fmt.Sprintf("an entry of provenance %v or better; this one is %v and must be asked for as such", weight, p))
			}
			return all[i], nil
		}
		if o.Source.Provenance <= weight {
			names = append(names, n)
		}
	}
	return zero, known.Wrong(what, name, "one of "+strings.Join(names, ", "))
}
