// Package tally counts what a diagnosis said of invented plants against the truth:
// how often its bands hold, what it named, and how often that was right.
package tally

import (
	"fmt"
	"io"
	"math"
	"slices"
	"text/tabwriter"

	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/line/survey/internal/plants"
)

// Count is a number of cases among others.
type Count struct{ In, Of int }

// Add counts a case.
func (c *Count) Add(in bool) {
	c.Of++
	if in {
		c.In++
	}
}

// Percent is the share [%], NaN of nothing.
func (c Count) Percent() float64 { return 100 * float64(c.In) / float64(c.Of) }

// Sum is the sum of two counts.
func (c Count) Sum(o Count) Count { return Count{c.In + o.In, c.Of + o.Of} }

// Row is the tally of one kind of plant.
type Row struct {
	Kind plants.Kind
	// Right and Wrong are surveys in which a source was named alone, Set and WrongSet
	// those in which a set of two or three, a pair, or a gap was.
	Surveys, Right, Wrong, Set, WrongSet int
	None, NoneWrong, Two, TwoWrong       int
	Unlisted, UnlistedWrong, Contradict  int
	Both                                 int   // two sources of like size, both in a set that says that both may be
	GapNamed                             int   // of Unlisted: the gap is right, but a contact in it was named
	A, B, Net, Change                    Count // bands that hold the truth
	// Of single sources: named where the plan reads the contact alone, in what is said
	// there, in what is said elsewhere.
	Alone, AloneUseful, OtherUseful Count
	// Hidden are those of OtherUseful that no plan of this kind can see: a balanced
	// layer read from free spans only.
	Hidden Count
	// Rise are stretches in which the net charge is said to pass the limit: of those said, where it
	// does.
	Rise Count
	// Chances are, in steps of 0.05 of the stated chance, how many were right, the sum
	// of what was stated and how many there were.
	Chances [20][3]float64
}

// Bands are all bands together.
func (r *Row) Bands() Count { return r.A.Sum(r.B).Sum(r.Net).Sum(r.Change) }

// Said is what was said of a source and was right, among all that was said.
func (r *Row) Said() Count {
	right := r.Right + r.Set + r.Two + r.Unlisted
	return Count{right, right + r.Wrong + r.WrongSet + r.TwoWrong + r.UnlistedWrong}
}

const micro = 1e-6

// Score adds one case.
func (r *Row) Score(c *plants.Case, d *survey.Diagnosis) {
	r.Surveys++
	r.bands(c, d)
	r.rises(c, d)
	t, a := &c.Truth, &d.Answer
	single := len(t.Main) == 1
	exact, useful := false, false
	before, gapNamed := r.Said(), r.GapNamed
	switch a.Kind {
	case survey.OneSource:
		exact = single && a.Sets[0][0] == t.Main[0]
		useful = exact
		switch {
		case exact:
			r.Right++
		case gap(t, a):
			r.Unlisted++
			r.GapNamed++
		default:
			r.Wrong++
		}
	case survey.OneOf:
		useful = single && slices.Contains(a.Sets[0], t.Main[0])
		switch {
		case useful || len(t.Main) == 2 && holds(a.Sets[0], t.Main):
			r.Set++
			if len(t.Main) == 2 && a.BothSaid() && slices.Contains(a.Sets[0], t.Main[0]) &&
				slices.Contains(a.Sets[0], t.Main[1]) {
				r.Both++
			}
		case gap(t, a):
			r.Unlisted++
		default:
			r.WrongSet++
		}
	case survey.TwoSources:
		if len(t.Main) == 2 && holds(a.Sets[0], t.Main) && holds(a.Sets[1], t.Main) {
			r.Two++
		} else {
			r.TwoWrong++
		}
	case survey.NotListed:
		if gap(t, a) {
			r.Unlisted++
		} else {
			r.UnlistedWrong++
		}
	case survey.NoneAbove:
		if c.Kind == plants.None {
			r.None++
		} else {
			r.NoneWrong++
		}
	case survey.Contradict:
		r.Contradict++
	}
	// A stated chance is that of what is said: of a contact that is named alone it
	// does not cover a gap that is right.
	if said := r.Said().Of; said > before.Of {
		i := min(int(a.Chance*20), 19)
		r.Chances[i][2]++
		r.Chances[i][1] += a.Chance
		if r.Said().In-r.GapNamed > before.In-gapNamed {
			r.Chances[i][0]++
		}
	}
	if single {
		if t.Alone {
			r.Alone.Add(exact)
			r.AloneUseful.Add(useful)
		} else {
			r.OtherUseful.Add(useful)
			if c.Kind == plants.Balanced {
				r.Hidden.Add(useful)
			}
		}
	}
}

// rises counts those in which the truth passes the limit too: by more than the limit, without
// what bars did, to more than the limit of that sign.
func (r *Row) rises(c *plants.Case, d *survey.Diagnosis) {
	t, limit := &c.Truth, float64(c.Description.Limit.Net)/micro
	net := func(i int) float64 {
		if i < 0 {
			return 0
		}
		return t.State[i][0] + t.State[i][1]
	}
	for _, rise := range d.Rises() {
		step := net(rise.Between[1]) - net(rise.Between[0])
		for _, b := range t.Bars {
			if rise.Between[0] < b && b <= rise.Between[1] {
				step -= t.Change[b][0] + t.Change[b][1]
			}
		}
		v := net(rise.Between[1])
		r.Rise.Add(math.Abs(step) > limit && math.Abs(v) > limit && (step > 0) == (v > 0))
	}
}

// gap reports whether an unlisted source acts between the readings that an answer
// names.
func gap(t *plants.Truth, a *survey.Answer) bool {
	return t.After >= 0 && a.Between[0] <= t.After && (t.After < a.Between[1] || a.Between[1] < 0)
}

func holds(set, main []int) bool {
	return slices.ContainsFunc(set, func(i int) bool { return slices.Contains(main, i) })
}

func (r *Row) bands(c *plants.Case, d *survey.Diagnosis) {
	in := func(n *Count, e survey.Estimate, want float64) {
		lo, _, hi := e.Band()
		n.Add(lo <= want*micro && want*micro <= hi)
	}
	for i := range c.Truth.State {
		s := c.Truth.State[i]
		in(&r.A, d.States[i].A, s[0])
		in(&r.B, d.States[i].B, s[1])
		in(&r.Net, d.States[i].Net, s[0]+s[1])
	}
	for _, ch := range d.Changes {
		if c.Description.Stations[ch.Station].Kind == line.Ioniser {
			continue
		}
		in(&r.Change, ch.Found, c.Truth.Change[ch.Station][ch.Face-line.FaceA])
	}
}

// Add adds the counts of another row.
func (r *Row) Add(o *Row) {
	for _, p := range [][2]*int{
		{&r.Surveys, &o.Surveys}, {&r.Right, &o.Right}, {&r.Wrong, &o.Wrong}, {&r.Set, &o.Set}, {&r.WrongSet, &o.WrongSet},
		{&r.None, &o.None},
		{&r.NoneWrong, &o.NoneWrong}, {&r.Two, &o.Two}, {&r.TwoWrong, &o.TwoWrong}, {&r.Unlisted, &o.Unlisted},
		{&r.Both, &o.Both}, {&r.UnlistedWrong, &o.UnlistedWrong}, {&r.Contradict, &o.Contradict}, {&r.GapNamed, &o.GapNamed},
	} {
		*p[0] += *p[1]
	}
	for _, p := range [][2]*Count{
		{&r.A, &o.A}, {&r.B, &o.B}, {&r.Net, &o.Net}, {&r.Change, &o.Change},
		{&r.Alone, &o.Alone}, {&r.AloneUseful, &o.AloneUseful}, {&r.OtherUseful, &o.OtherUseful},
		{&r.Hidden, &o.Hidden}, {&r.Rise, &o.Rise},
	} {
		*p[0] = p[0].Sum(*p[1])
	}
	for i := range r.Chances {
		for j := range r.Chances[i] {
			r.Chances[i][j] += o.Chances[i][j]
		}
	}
}

// apart is how far the seeds of two kinds lie apart, so that they are other plants.
const apart = 100_000

// Run invents surveys of a kind, by seeds of its own behind the first, and scores
// them.
func Run(g plants.Generator, k plants.Kind, first uint64, surveys int) (*Row, error) {
	r := &Row{Kind: k}
	first += apart * uint64(1+slices.Index(append(plants.Kinds(), plants.Nonsense()...), k))
	for i := range uint64(surveys) {
		c := g(k, first+i)
		l, err := line.New(c.Description)
		if err != nil {
			return nil, err
		}
		d, err := survey.Diagnose(l, c.Survey)
		if err != nil {
			return nil, fmt.Errorf("%v, seed %d: %w", c, first+i, err)
		}
		r.Score(c, d)
	}
	return r, nil
}

// Write prints the rows as a table: of each kind how many surveys named one source
// rightly and wrongly, gave a set rightly (of these with both of two sources, and
// saying that both may be) and wrongly, said two sources, none above
// the limit, a gap (of these with a contact in it named), a contradiction; how many
// of 100 bands hold; the share of what is said of a source that is right; of single
// sources the share that is named and that is in what is said where the plan reads
// the contact alone, and that is in what is said elsewhere.
func Write(w io.Writer, rows []*Row) {
	t := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(
		t,
		"kind\tone\twrong\tset\tboth\twrong\ttwo\twrong\tnone\twrong\tgap\tnamed\twrong\tclash\t"+
			"A\tB\tnet\tchange\tbands\tsaid right\talone\tuseful\telse useful\t",
	)
	for _, r := range rows {
		fmt.Fprintf(
			t,
			"%s\t%d\t%d\t%d\t%d\t%d\t%d\t%d\t%d\t%d\t%d\t%d\t%d\t%d\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t%s\t\n",
			r.Kind,
			r.Right,
			r.Wrong,
			r.Set,
			r.Both,
			r.WrongSet,
			r.Two,
			r.TwoWrong,
			r.None,
			r.NoneWrong,
			r.Unlisted,
			r.GapNamed,
			r.UnlistedWrong,
			r.Contradict,
			whole(
				r.A,
			),
			whole(r.B),
			whole(r.Net),
			whole(r.Change),
			tenth(r.Bands()),
			tenth(r.Said()),
			whole(r.Alone),
			whole(r.AloneUseful),
			whole(r.OtherUseful),
		)
	}
	t.Flush()
	for _, r := range rows {
		if r.Rise.Of > 0 {
			fmt.Fprintf(w, "%s: net charge said to pass the limit in a stretch %d times, rightly %.1f %%\n", r.Kind, r.Rise.Of,
				r.Rise.Percent())
		}
		if o, h := r.OtherUseful, r.Hidden; h.Of > 0 && o.Of > h.Of {
			fmt.Fprintf(w, "%s: elsewhere usefully without what no free span shows %.1f %% of %d\n", r.Kind,
				Count{o.In - h.In, o.Of - h.Of}.Percent(), o.Of-h.Of)
		}
	}
}

// WriteChances prints what was stated of a chance beside what proved true.
func WriteChances(w io.Writer, r *Row) {
	for i, c := range r.Chances {
		if c[2] > 0 {
			fmt.Fprintf(
				w,
				"stated %.2f to %.2f, on average %.3f: true in %.3f of %.0f\n",
				float64(i)/20,
				float64(i+1)/20,
				c[1]/c[2],
				c[0]/c[2],
				c[2],
			)
		}
	}
}

func whole(c Count) string {
	if c.Of == 0 {
		return "–"
	}
	return fmt.Sprintf("%.0f", c.Percent())
}

func tenth(c Count) string {
	if c.Of == 0 {
		return "–"
	}
	return fmt.Sprintf("%.1f", c.Percent())
}
