package ioniser

import (
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/ionflow"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Place is a source before a web with earthed metal at one distance behind it: two tables, for either sign of
// the web, that every pass looks up. It is immutable and large; make it once and keep it.
type Place struct {
	source       *Source
	gap          units.Length
	low, high    float64 // [C/m²] interval in which no net current flows
	below, above passes
	bounds       [2]float64 // [C/m²] ends of the offset that the source may have
	lone         *[2]passes // of the stream alone, where something else acts too
	loneEnds     [2]float64 // [C/m²] its interval of rest
}

// NoMetal is the gap behind a web with no earthed metal there: +Inf.
func NoMetal() units.Length { return units.Length(math.Inf(1)) }

// GapOf returns the gap behind the web with which the share factor of the charge's field goes to an earthed
// face at the distance d, h = d·f/(1 − f): the inverse of the field factor h/(d + h). A factor of 1 gives
// [NoMetal]; outside 0 … 1 NaN.
func GapOf(d units.Length, factor float64) units.Length { // factor [1]
	switch {
	case !(factor >= 0 && factor <= 1):
		return units.Length(math.NaN())
	case factor == 1:
		return NoMetal()
	}
	return units.Length(float64(d) * factor / (1 - factor))
}

// laid is a channel before metal at one gap.
type laid struct {
	ch           *channel
	below, above track
	low, high    float64 // [C/m²]
}

// At returns the source before metal at the gap behind the web, an air-equivalent distance above 0 ([NoMetal]
// for none, [GapOf] for a known field factor). A web on metal has a gap of its thickness over its relative
// permittivity.
func (s *Source) At(gap units.Length) (*Place, error) {
	if !(gap > 0) {
		return nil, known.Wrong("gap", gap, "more than 0; NoMetal() for none")
	}
	per := 1 / float64(gap)
	p := &Place{source: s, gap: gap}
	lanes := make([]laid, len(s.channels))
	for k := range s.channels {
		ch := &s.channels[k]
		l := &lanes[k]
		l.ch, l.low, l.high = ch, ch.low.charge(per), ch.high.charge(per)
		l.above.lay(ch.above, &ch.highOrigin, 1, per)
		l.below.lay(ch.below, &ch.lowOrigin, -1, per)
	}
	p.low, p.high = balance(lanes)
	if s.only <= 0 {
		p.below.fill(func(z float64) (float64, ionflow.Regime, bool, float64) { return deliver(lanes, p.low-z, -1) })
	}
	if s.only >= 0 {
		p.above.fill(func(z float64) (float64, ionflow.Regime, bool, float64) { return deliver(lanes, p.high+z, 1) })
	}
	if s.only != 0 {
		return p, nil
	}
	p.bounds = [2]float64{p.low, p.high}
	if len(lanes) > 0 && lanes[0].ch.kind == streamChannel {
		if !s.spec.Air.Through {
			// A stream that turns leaves its surplus sideways, and then the charge may as well end at nothing.
			p.bounds = [2]float64{min(p.low, lanes[0].low, 0), max(p.high, lanes[0].high, 0)}
		}
		if len(lanes) > 1 {
			p.lone = new([2]passes)
			one := lanes[:1]
			p.loneEnds[0], p.loneEnds[1] = balance(one)
			p.lone[0].fill(func(z float64) (float64, ionflow.Regime, bool, float64) {
				return deliver(one,
					p.loneEnds[0]-z, -1)
			})
			p.lone[1].fill(func(z float64) (float64, ionflow.Regime, bool, float64) {
				return deliver(one,
					p.loneEnds[1]+z, 1)
			})
		}
	}
	return p, nil
}

// net returns the current of one channel at a charge, positive where it lowers the charge, and the point of the
// curve.
func (l *laid) net(sigma float64) (i float64, at *point) {
	switch {
	case sigma > l.high:
		i, k := l.above.current(sigma - l.high)
		if l.above.n == 0 {
			return 0, nil
		}
		return min(i, l.ch.aboveTop), &l.above.from[k]
	case sigma < l.low:
		i, k := l.below.current(l.low - sigma)
		if l.below.n == 0 {
			return 0, nil
		}
		return -min(i, l.ch.belowTop), &l.below.from[k]
	}
	return 0, nil
}

// deliver returns the current with which a web of charge sigma beyond the interval of rest goes back to it
// (sign 1 from above, −1 from below): of the channels that drive it back the one that delivers most, less the
// one that drives it on most. Where channels are equal the greater of them is up to a factor of 2 cautious.
func deliver(lanes []laid, sigma, sign float64) (current float64, r ionflow.Regime, soft bool, peak float64) {
	var most, against, stream float64
	var at *point
	for k := range lanes {
		i, p := lanes[k].net(sigma)
		i *= sign
		if lanes[k].ch.kind == streamChannel {
			stream = i
		}
		if i > most {
			most, at = i, p
		}
		against = max(against, -i)
		if p != nil {
			peak = max(peak, p.peak)
		}
	}
	if at == nil || !(most > against) {
		return 0, ionflow.Idle, false, peak
	}
	soft = at.soft || len(lanes) > 0 && lanes[0].ch.kind == streamChannel && most > 1.3*stream
	return most - against, at.regime, soft, peak
}

// balance returns the interval of charges at which the channels together deliver nothing.
func balance(lanes []laid) (low, high float64) { // [C/m²]
	low, high = math.Inf(-1), math.Inf(1)
	for k := range lanes {
		low, high = max(low, lanes[k].low), min(high, lanes[k].high)
	}
	if low <= high {
		return low, high
	}
	a, b := high, low
	sum := func(sigma float64) float64 {
		up, down := 0.0, 0.0
		for k := range lanes {
			i, _ := lanes[k].net(sigma)
			up, down = max(up, i), max(down, -i)
		}
		return up - down
	}
	// At the lower end no channel lowers the charge and at the upper one none raises it: the root lies between.
	at, _ := numeric.Brent(sum, a, b, 1e-14, 0)
	return at, at
}
