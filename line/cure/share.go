package cure

import "math"

// seen is the net beyond offset and onset, above 0. [C/m²]
func (b *bar) seen(i int, net float64) float64 {
	size := math.Abs(net - b.offset[i])
	if b.onset > 0 {
		size -= b.onset / b.factor
	}
	return max(size, 1e-12)
}

// leastShare is the share below which nothing is made of what a bar was found to do.
const leastShare = 1e-3

// fit gives the bar the strength with which it deposits got out of a net charge. More
// than nearly all of it is imbalance: a bar does not take more than it sees.
func (b *bar) fit(i int, net, got, v float64) {
	if b.curve != nil {
		b.curve.fit(b, i, net, got, v)
	}
	b.share(i, net, got, v)
}

// share gives the bar the strength of its share law: what a like bar without data is held to.
func (b *bar) share(i int, net, got, v float64) {
	z := net - b.offset[i]
	size := math.Abs(z)
	if b.onset > 0 {
		size = max(size-b.onset/b.factor, 0)
	}
	share := 0.0
	if size > 0 {
		share = -got * math.Copysign(1, z) / size
	}
	if share > mostShare {
		share = mostShare
		if b.onset == 0 && b.curve == nil {
			b.offset[i] = net + got/mostShare
			size = math.Abs(net - b.offset[i])
		}
	}
	share = max(share, leastShare)
	b.strength[i] = -math.Log1p(-share)
	b.size[i] = max(size, 1e-12)
	b.supply[i] = max(b.supply[i], 2*share*size*v)
}

// twins draws the law of each ioniser, and which like one it resembles.
func (m *Calibrated) twins() {
	for s := range m.stages {
		t := &m.stages[s]
		if t.bar == nil {
			continue
		}
		var like []*bar
		for o := range m.stages {
			if x := m.stages[o].bar; x != nil && o != s && x.passive == t.bar.passive {
				like = append(like, x)
			}
		}
		t.bar.draw(t.name, like)
	}
}

// draw draws the law of a bar and its twin.
func (b *bar) draw(name string, like []*bar) {
	laws := 2.0
	if len(like) > 0 {
		laws = 3
		b.twin, b.twinPlace = make(column, Draws+1), make(column, Draws+1)
	}
	for i, u := range chances("law of ioniser", name) {
		b.law[i] = barLaw(laws * u)
	}
	which := chances("twin", name)
	for i := range b.twin {
		x := like[int(float64(len(like))*which[i])]
		b.twin[i], b.twinPlace[i] = x.strength[i]/x.found, x.found
	}
	b.law[Draws] = byConduction
}
