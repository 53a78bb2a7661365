package survey

import (
	"math"
	"slices"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/line"
)

// walker takes unit changes along the path: after station i the charge of a face
// is Σ h[k]·θ[k] + the constant in the last place, because everything that happens
// between contacts is linear, and what is not (a leak time, a condition times a
// change) is taken at the present estimates to first order.
type walker struct {
	line   *line.Line
	desc   *line.Description
	layout *layout
	at     []float64 // present estimates
	a, b   []float64 // of length n+1
}

func newWalker(l *line.Line, desc *line.Description, a *layout) *walker {
	w := &walker{
		line:   l,
		desc:   desc,
		layout: a,
		at:     slices.Clone(a.mean),
		a:      make([]float64, a.n+1),
		b:      make([]float64, a.n+1),
	}
	w.weak()
	return w
}

// weak puts the estimates at the weak end of what is thought of the law of the leaks: a
// span that leaks so fast that nothing is left says nothing of its time, so that the first
// steps that see a charge are taken from where it does.
func (w *walker) weak() {
	if a := w.layout; a.moist != nil && a.fall[1] > 0 {
		w.at[a.damp] = -min(a.fall[0]/a.fall[1], 2)
	}
}

// value is the present estimate of a row.
func (w *walker) value(h []float64) float64 {
	n := w.layout.n
	return dot(h[:n], w.at) + h[n]
}

// run walks the path in a condition with some devices off and calls visit after
// each station; bar is called with the web as it reaches a bar.
func (w *walker) run(
	cond int,
	off []string,
	bar func(change int, a, b []float64),
	visit func(station int, a, b []float64),
) {
	l := w.layout
	clear(w.a)
	clear(w.b)
	k, spanAt := 0, 0
	for i := range w.desc.Stations {
		if i > 0 {
			w.carry(i-1, cond)
		}
		skip := slices.Contains(off, w.desc.Stations[i].Name)
		for ; k < len(l.changes) && l.changes[k].Station == i; k++ {
			if skip {
				continue
			}
			h := w.a
			if l.changes[k].Face == line.FaceB {
				h = w.b
			}
			switch {
			case l.bar[k]:
				if bar != nil {
					bar(k, w.a, w.b)
				}
				h[l.barIndex(k, cond)]++
			case cond == 0:
				h[k]++
				if i := l.layerOf[k]; i >= 0 {
					h[i] += l.sign(k)
				}
			default:
				m, cols, slopes, used := l.multiplier(k, cond, w.at)
				h[k] += m
				if i := l.layerOf[k]; i >= 0 {
					h[i] += m * l.sign(k)
				}
				for j := range used {
					s := m * l.total(k, w.at) * slopes[j]
					h[cols[j]] += s
					h[l.n] -= s * w.at[cols[j]]
				}
				h[l.slack+(cond-1)*len(l.changes)+k]++
			}
		}
		visit(i, w.a, w.b)
		for ; spanAt < len(l.spans) && l.spans[spanAt].from == i; spanAt++ {
			m := numeric.Exp(0.5 * l.conds[cond].rho)
			w.a[l.unlisted+2*spanAt] += m
			w.b[l.unlisted+2*spanAt+1] += m
		}
	}
}

// barIndex is the unknown of what bar k brings in a condition.
func (l *layout) barIndex(k, cond int) int {
	if cond == 0 {
		return k
	}
	return l.deposit + (cond-1)*len(l.changes) + k
}

// carry takes the web from station i to the next.
func (w *walker) carry(i, cond int) {
	l := w.layout
	keepNet, keepDiff := w.keep(i, cond)
	leak := slices.Index(l.leaks, i)
	var slope float64
	if leak >= 0 {
		slope = -(w.value(w.a) + w.value(w.b)) * keepNet * math.Log(max(keepNet, 1e-300))
	}
	if keepNet == 1 && keepDiff == 1 {
		return
	}
	for j := range w.a {
		net, diff := w.a[j]+w.b[j], w.a[j]-w.b[j]
		net *= keepNet
		diff *= keepDiff
		w.a[j], w.b[j] = (net+diff)/2, (net-diff)/2
	}
	if leak >= 0 {
		follow := func(c int, slope float64) {
			w.a[c] += slope / 2
			w.b[c] += slope / 2
			w.a[l.n] -= slope * w.at[c] / 2
			w.b[l.n] -= slope * w.at[c] / 2
		}
		follow(l.leak+leak, slope)
		l.dampSlopes(cond, leak, func(c int, of float64) { follow(c, slope*of) })
	}
}

// keep is what is left of net charge and of the difference of the faces at the
// next station, with a leak time e^λ times the described one, and in another air what
// the law of the web makes of that.
func (w *walker) keep(i, cond int) (net, diff float64) {
	net, diff = w.line.Keep(i, w.layout.conds[cond].speed)
	if leak := slices.Index(w.layout.leaks, i); leak >= 0 {
		lambda := min(max(w.at[w.layout.leak+leak], -2), 2)
		net = numeric.Exp(math.Log(max(net, 1e-300)) * numeric.Exp(-lambda-w.layout.dampShift(cond, leak, w.at)))
	}
	return net, diff
}
