//go:build ablate

package main

import (
	"fmt"
	"io"

	"example.org/pithball/line/survey/internal/plants"
	"example.org/pithball/line/survey/internal/tally"
	"example.org/pithball/line/survey/internal/without"
)

// ablation prints a table of what the diagnosis is worth without each ingredient: of both
// plants, all kinds but nonsense.
func ablation(w io.Writer, _ []plants.Kind, seed uint64, b budget) error {
	defer func() { without.Set(without.Nothing) }()
	fmt.Fprintln(w, "| without | bands | A | B | net | right | of | named rightly | wrongly "+
		"| exactly | usefully | elsewhere | two | none | gap |")
	fmt.Fprintln(w, "|---|---|---|---|---|---|---|---|---|---|---|---|---|---|---|")
	for out := range without.Count {
		without.Set(out)
		all := &tally.Row{}
		kinds := map[plants.Kind]*tally.Row{}
		for _, g := range plants.Generators() {
			rows, err := rowsOf(g, plants.Kinds(), b.each, seed, b.workers)
			if err != nil {
				return fmt.Errorf("without %s: %w", out, err)
			}
			for _, r := range rows {
				all.Add(r)
				if kinds[r.Kind] == nil {
					kinds[r.Kind] = &tally.Row{}
				}
				kinds[r.Kind].Add(r)
			}
		}
		two, none, hidden := kinds[plants.Two], kinds[plants.None], kinds[plants.Unlisted]
		share := func(n int, of *tally.Row) float64 { return tally.Count{In: n, Of: of.Surveys}.Percent() }
		fmt.Fprintf(w, "| %s | %.1f | %.0f | %.0f | %.0f | %.1f | %d | %d | %d "+
			"| %.0f | %.0f | %.0f | %.0f | %.0f | %.0f |\n", out, all.Bands().Percent(), all.A.Percent(),
			all.B.Percent(), all.Net.Percent(), all.Said().Percent(), all.Said().Of,
			all.Right, all.Wrong, all.Alone.Percent(), all.AloneUseful.Percent(), all.OtherUseful.Percent(),
			share(two.Two+two.Both, two), share(none.None, none), share(hidden.Unlisted, hidden))
	}
	return nil
}
