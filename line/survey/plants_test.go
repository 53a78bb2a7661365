package survey_test

import (
	"math"
	"slices"
	"testing"

	"example.org/pithball/line/survey/internal/plants"
	"example.org/pithball/line/survey/internal/tally"
)

// TestCoverage is the short version of go run ./line/survey/internal/coverage: two
// plants that share no model with the diagnosis. The floors are those that the
// whole table keeps, less three standard errors of the few surveys here; what is
// said of a source and what a chance promises have the sharpest.
func TestCoverage(t *testing.T) {
	each := 20
	if testing.Short() {
		each = 4
	}
	both := &tally.Row{}
	byKind := map[plants.Kind]*tally.Row{}
	for name, g := range plants.Generators() {
		for _, k := range plants.Kinds() {
			r, err := tally.Run(g, k, 5_000_000, each)
			if err != nil {
				t.Fatalf("%s, %s: %v", name, k, err)
			}
			both.Add(r)
			if byKind[k] == nil {
				byKind[k] = &tally.Row{Kind: k}
			}
			byKind[k].Add(r)
			if !testing.Short() && k != plants.Balanced && r.Bands().Percent() < 75 {
				t.Errorf("%s, %s: bands hold %.1f %%", name, k, r.Bands().Percent())
			}
		}
	}
	if testing.Short() {
		return // too few to judge
	}
	var rest tally.Row // a hidden layer is against every opinion: its bands say nothing of the others
	for k, r := range byKind {
		if k != plants.Balanced {
			rest.Add(r)
		}
	}
	if p := rest.Bands().Percent(); p < 87 || p > 95 {
		t.Errorf("5 … 95 %% bands hold %.1f %%", p)
	}
	t.Logf("two %d and %d wrongly, both in a set %d; none %d; gaps %d; said right %v of %v", byKind[plants.Two].Two,
		both.TwoWrong, byKind[plants.Two].Both, byKind[plants.None].None, byKind[plants.Unlisted].Unlisted, both.Said().In,
		both.Said().Of)
	if said := both.Said(); said.Percent() < 95 { // 97.5 less three standard errors
		t.Errorf("what is said of a source is right in %.1f %% of %d", said.Percent(), said.Of)
	}
	// 53 of some 300, 89 of them, and 67 of some 130, less three standard errors each.
	if both.Alone.Percent() < 44 || both.AloneUseful.Percent() < 83 || both.OtherUseful.Percent() < 54 {
		t.Errorf(
			"single sources: named %.0f %% and usefully %.0f %% where read alone, %.0f %% elsewhere",
			both.Alone.Percent(),
			both.AloneUseful.Percent(),
			both.OtherUseful.Percent(),
		)
	}
	n := 2 * each
	two, none := byKind[plants.Two], byKind[plants.None]
	hidden, balanced := byKind[plants.Unlisted], byKind[plants.Balanced]
	switch {
	case two.Wrong+two.Right > 7 || two.Two < 1 || two.Two+two.Both < 9: // of 40: 6 % and 46 %, three standard errors off
		t.Errorf("two of like size: %d of %d named as one, %d as two, %d in a set with both", two.Wrong, n, two.Two, two.Both)
	case none.Right+none.Wrong > n/20 || none.None < n/5: // as the table asks
		t.Errorf("none above the limit: %d of %d named, %d said", none.Wrong, n, none.None)
	case hidden.Unlisted < n*2/5:
		t.Errorf("missing from the description: the right gap in %d of %d", hidden.Unlisted, n)
	case balanced.Right+balanced.Wrong > 0:
		t.Errorf("a balanced layer named from free spans in %d of %d", balanced.Right+balanced.Wrong, n)
	}
	for i, c := range both.Chances {
		// Stated no more than 0.03 above what proves true, and two standard errors of the few here.
		p := c[1] / c[2]
		if c[2] > 30 && p-c[0]/c[2] > 0.03+2*math.Sqrt(p*(1-p)/c[2]) {
			t.Errorf("stated %.2f …: %.3f on average, true in %.3f of %.0f", float64(i)/20, c[1]/c[2], c[0]/c[2], c[2])
		}
	}
}

// TestNonsense: readings that cannot be true name few sources.
func TestNonsense(t *testing.T) {
	wrong, told, n := 0, 0, 0
	for _, g := range plants.Generators() {
		for _, k := range plants.Nonsense() {
			r, err := tally.Run(g, k, 5_000_000, 20)
			if err != nil {
				t.Fatal(err)
			}
			wrong, told, n = wrong+r.Wrong, told+r.Contradict, n+r.Surveys
		}
	}
	if wrong > n/10 || told < n/5 {
		t.Errorf("%d of %d named wrongly, %d told as a contradiction", wrong, n, told)
	}
}

// TestScoredOnce: every survey is counted once.
func TestScoredOnce(t *testing.T) {
	r, err := tally.Run(plants.Patchy, plants.One, 5_000_000, 10)
	if err != nil {
		t.Fatal(err)
	}
	said := r.Said()
	if r.Surveys != 10 || said.Of > 10 || r.Alone.Of+r.OtherUseful.Of != 10 || !slices.Contains(plants.Kinds(), r.Kind) {
		t.Errorf("%+v", r)
	}
}
