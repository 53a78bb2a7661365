package cure

import (
	"cmp"
	"math"
	"slices"

	"example.org/pithball/internal/progress"
)

// combination is a set of cures of a plan and what the line does with them.
type combination struct {
	set          []int // indices in Plan.Cures
	line         *Calibrated
	chance, load float64 // [1]
	steps        []Step  // of its cures, sorted
}

// before says which of two sets of one size that both reach the aim is chosen: that of the earlier steps, then the
// cheaper one by the year as far as prices are given, then that which lowers the load more. It is below 0 for c.
func (c *combination) before(o *combination) int {
	if x := slices.Compare(c.steps, o.steps); x != 0 {
		return x
	}
	if a, b := c.line.side(nil).PerYear, o.line.side(nil).PerYear; math.Abs(a-b) > 1e-9*(math.Abs(a)+math.Abs(b)) {
		return cmp.Compare(a, b)
	}
	if math.Abs(c.load-o.load) > 1e-9 {
		return cmp.Compare(c.load, o.load)
	}
	return 0
}

// mostTried is the number of sets of three up to which all are tried: those of 26 cures.
// A plan of plant A has a tenth of that.
const mostTried = 2600

// choose looks for the fewest cures that reach the aim. It adds the one that lowers the
// load most until the aim is reached, drops those that are not needed, and then looks
// whether one, two or three cures, all sets tried that have no two cures of one station, do
// what it found with more, or what it did not reach; of sets of one size the one of the
// earlier steps, then the cheaper one. The result is proven where no set that was not tried
// could come before it. Earthing is done beside any set and slowing down is no cure of a
// set. It returns the line with the set.
func (p *planner) choose(m *Calibrated, a *Aim) *Calibrated {
	progress.Begin(p.ctx, "adding cures", 0)
	best := p.greedy(m, a)
	reached := func(c *combination) bool { return c.chance <= a.Chance }
	better := func(c *combination) bool {
		return c != nil && c.line != nil && reached(c) && (!reached(best) || len(c.set) < len(best.set) ||
			len(c.set) == len(best.set) && c.before(best) < 0)
	}
	may := p.eligible(nil)
	n := 0 // all sets of so many were tried
	for n < min(3, a.Most) && !(reached(best) && len(best.set) <= n) {
		if k := len(may); n == 2 && k*(k-1)*(k-2)/6 > mostTried {
			break
		}
		n++
		trying := p.begin(may, n)
		p.sets(may, nil, n, func(set []int) {
			trying.Next()
			var c *combination
			if n < 2 || !p.fails(m, a, set) {
				c = p.combine(m, a, set)
			}
			if better(c) {
				best = c
			}
		})
	}
	p.Set = best.set
	slices.Sort(p.Set)
	p.After, p.Reached = best.chance, reached(best)
	p.Proven = p.Reached && len(p.Set) <= n || !p.Reached && n == a.Most
	return best.line
}

// setsOf names the sets that are tried by their size.
var setsOf = [...]string{1: "trying cures alone", 2: "trying pairs of cures", 3: "trying three cures at once"}

// begin tells how many sets of n cures will be tried, to whoever asks.
func (p *planner) begin(may []int, n int) *progress.Counter {
	if !progress.Asked(p.ctx) {
		return nil
	}
	sets := 0
	p.sets(may, nil, n, func([]int) { sets++ })
	return progress.Begin(p.ctx, setsOf[n], sets)
}

// sets calls visit with every set of n cures more of which no two are of one station.
func (p *planner) sets(may, set []int, n int, visit func(set []int)) {
	if n == 0 {
		visit(slices.Clone(set))
		return
	}
	for i, k := range may {
		if !slices.ContainsFunc(set, func(o int) bool { return p.alike(k, o) }) {
			p.sets(may[i+1:], append(set, k), n-1, visit)
		}
	}
}

// firstDraws is how many draws a set of two or three is tried on first.
const firstDraws = 200

// fails says of a set that it cannot reach the aim, by its first draws: more of them are over
// the limit than all may be.
func (p *planner) fails(m *Calibrated, a *Aim, set []int) bool {
	if p.ctx.Err() != nil {
		return true
	}
	c, err := m.Try(p.changes(set)...)
	if err != nil {
		return true
	}
	w := c.blank()
	c.walk(w, float64(c.at), 0, firstDraws)
	limit, over := float64(c.line.Limit()), 0
	at := c.judged(a.Places)
	for i := range firstDraws {
		if slices.ContainsFunc(at, func(s int) bool { return w.load(s, i, a.Faces) > limit }) {
			over++
		}
	}
	return float64(over) > a.Chance*Draws
}

// load is the magnitude that is judged: of the net, or of the greater face. [C/m²]
func (w *walked) load(s, i int, faces bool) float64 {
	if faces {
		return max(math.Abs(w.a[s][i]), math.Abs(w.b[s][i]))
	}
	return math.Abs(w.a[s][i] + w.b[s][i])
}

// changes are those of a set.
func (p *planner) changes(set []int) []Change {
	var list []Change
	for _, k := range set {
		list = append(list, p.Cures[k].Changes...)
	}
	return list
}

// combine tries a set.
func (p *planner) combine(m *Calibrated, a *Aim, set []int) *combination {
	if p.ctx.Err() != nil {
		return &combination{set: set, chance: 1, load: math.Inf(1)}
	}
	c, err := m.Try(p.changes(set)...)
	if err != nil {
		return &combination{set: set, chance: 1, load: math.Inf(1)}
	}
	w := c.run(float64(c.at))
	out := &combination{set: set, line: c, chance: c.chance(w, a), load: c.load(w, a)}
	for _, k := range set {
		out.steps = append(out.steps, p.Cures[k].Step)
	}
	slices.Sort(out.steps)
	return out
}

// alike says that two cures are of one station: the second would undo the first.
func (p *planner) alike(k, o int) bool {
	return stationOf(p.Cures[k].Changes[0]) == stationOf(p.Cures[o].Changes[0])
}

// eligible are the cures that may join a set.
func (p *planner) eligible(set []int) []int {
	var out []int
	for k := range p.Cures {
		c := &p.Cures[k]
		used := slices.ContainsFunc(set, func(o int) bool { return p.alike(k, o) })
		if !used && c.Step != Earthing && c.Step != SlowDown && c.Helps {
			out = append(out, k)
		}
	}
	return out
}

// greedy adds always the cure that lowers the load most, then drops those that are not
// needed.
func (p *planner) greedy(m *Calibrated, a *Aim) *combination {
	best := p.combine(m, a, nil)
	for len(best.set) < a.Most && best.chance > a.Chance {
		next := best
		for _, k := range p.eligible(best.set) {
			// One of equal effect comes by its step, then by its place in the list.
			c := p.combine(m, a, append(slices.Clone(best.set), k))
			if c.line != nil && c.load < next.load-1e-9 {
				next = c
			}
		}
		if next == best {
			break
		}
		best = next
	}
	for i := 0; i < len(best.set) && len(best.set) > 1; {
		less := p.combine(m, a, slices.Delete(slices.Clone(best.set), i, i+1))
		if less.line != nil && less.chance <= a.Chance {
			best, i = less, 0
		} else {
			i++
		}
	}
	return best
}

// load is by how much the line is over its limit, summed over the places that count:
// it falls also while the chance of any stays at 1. [1]
func (m *Calibrated) load(w *walked, a *Aim) float64 {
	limit := float64(m.line.Limit())
	var sum float64
	for _, s := range m.judged(a.Places) {
		for i := range Draws {
			x := w.load(s, i, a.Faces)
			sum += max(x/limit-1, 0)
			if x > limit {
				sum++
			}
		}
	}
	return sum / Draws
}
