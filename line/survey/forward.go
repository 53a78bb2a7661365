package survey

import (
	"slices"

	"example.org/pithball/line"
)

// forward walks samples along the path in the reference condition [µC/m²].
type forward struct {
	steps []forwardStep
	names []string
}

type forwardStep struct {
	net, diff float64 // left of net charge and of the difference on the way to the next station
	changes   []int   // unknowns that act here, on face A and on face B
	faces     []line.Face
	span      int // first unknown of a span that begins here, -1
}

func newForward(l *line.Line, desc *line.Description, lay *layout, at []float64) *forward {
	w := walker{line: l, desc: desc, layout: lay, at: at}
	f := &forward{}
	k := 0
	for i := range desc.Stations {
		s := forwardStep{net: 1, diff: 1, span: -1}
		if i+1 < len(desc.Stations) {
			s.net, s.diff = w.keep(i, 0)
		}
		for ; k < len(lay.changes) && lay.changes[k].Station == i; k++ {
			s.changes, s.faces = append(s.changes, k), append(s.faces, lay.changes[k].Face)
		}
		if j := slices.IndexFunc(lay.spans, func(p span) bool { return p.from == i }); j >= 0 {
			s.span = lay.unlisted + 2*j
		}
		f.steps = append(f.steps, s)
		f.names = append(f.names, desc.Stations[i].Name)
	}
	return f
}

func (f *forward) run(x []float64, off []string, visit func(station int, a, b float64)) {
	f.runTo(len(f.steps)-1, x, off, visit)
}

// runTo walks as far as a station.
func (f *forward) runTo(last int, x []float64, off []string, visit func(station int, a, b float64)) {
	var a, b float64
	for i := range f.steps[:last+1] {
		s := &f.steps[i]
		if i > 0 {
			p := &f.steps[i-1]
			net, diff := (a+b)*p.net, (a-b)*p.diff
			a, b = (net+diff)/2, (net-diff)/2
		}
		if len(off) == 0 || !slices.Contains(off, f.names[i]) {
			for j, k := range s.changes {
				if s.faces[j] == line.FaceA {
					a += x[k]
				} else {
					b += x[k]
				}
			}
		}
		visit(i, a, b)
		if s.span >= 0 {
			a += x[s.span]
			b += x[s.span+1]
		}
	}
}
