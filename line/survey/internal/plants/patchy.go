package plants

import (
	"math"

	"example.org/pithball/line"
	"example.org/pithball/line/survey"
)

const epsilon0 = 8.8541878188e-12 // F/m

// lanes is the number of stripes across the web that differ lastingly.
const lanes = 12

// Patchy invents a plant whose contacts saturate and whose charge lies in patches
// of each face by themselves.
func Patchy(k Kind, seed uint64) *Case { return sound(k, seed, patchy) }

func patchy(k Kind, seed uint64) *Case {
	d := roll(1, seed)
	p := lay(
		d,
		k,
		habits{
			thin:     15e-6,
			thick:    80e-6,
			contacts: [2]int{4, 10},
			places:   0.7,
			wrong:    1,
			strong:   [2]float64{7, 25},
			weak:     0.6,
			past:     0.15,
			covered:  0.05,
		},
	)
	if k == Strong {
		for _, c := range p.main {
			p.want[c][0] *= 1.8
			p.want[c][1] *= 1.8
		}
	}
	w := &patchyWorld{path: p, d: d, spread: d.between(0.25, 0.4)}
	w.make()
	plan := p.walkRound(d, k, 0.7)
	isolated := -1
	if k == Isolated {
		isolated = p.isolate(d, plan)
	}
	c := &Case{
		Kind:        k,
		Description: p.desc,
		Survey:      &survey.Survey{},
		Truth: Truth{
			Main:   p.main,
			After:  p.after,
			Alone:  p.alone(plan, isolated),
			Hidden: p.hiddenSize(),
			Bars:   p.bars(),
		},
	}
	gain := [2]float64{1 + 0.07*d.NormFloat64(), 1 + 0.04*d.NormFloat64()}
	offset := [2]float64{40 * d.NormFloat64(), 3 * d.NormFloat64()}
	place := map[int]float64{}
	film := 1 + 0.05*d.NormFloat64() + d.between(0.3e-6, 1.5e-6)/p.film
	roller := d.sign() * d.between(40, 400)
	for _, s := range plan {
		a, b := w.at(s, true)
		var v float64
		if s.volt {
			face := a
			if s.face == 1 {
				face = b
			}
			v = face*micro*p.film/epsilon0*film*gain[1] + offset[1]
			if s.isolate {
				v += roller
			}
		} else {
			if _, ok := place[s.station]; !ok {
				place[s.station] = 1 + d.between(-0.08, 0.04)
			}
			v = (a+b)*micro/epsilon0*p.seen(s.station, 0.025+0.003*d.NormFloat64())*place[s.station]*0.025*gain[0] + offset[0]
		}
		c.Survey.Readings = append(c.Survey.Readings, p.row(s, v))
	}
	c.Truth.Wrong = blunders(d, k, c.Survey.Readings, 0.02, float64(p.desc.Meters[0].FullScale))
	c.Survey.Readings = append(c.Survey.Readings, p.earths(d, isolated, 0.9)...)
	c.Truth.Change, c.Truth.State = w.truth()
	return c
}

// seen is the share of the far-away field that reaches an earthed meter at
// distance d: two earthed planes with the web between them; behind a roller the
// gap to its surface, a tenth more for the field that comes round it.
func (p *path) seen(station int, d float64) float64 {
	s := &p.desc.Stations[station]
	d = max(d, 0.005)
	if s.Past != nil {
		r, x := float64(s.Past.Radius), float64(s.Past.X)
		gap := math.Hypot(r, x) - r
		return min(1, gap/(d+gap)*(1+0.12*d/(d+gap)))
	}
	return float64(s.Gap) / (d + float64(s.Gap))
}

// patchyWorld is the physics of [Patchy].
type patchyWorld struct {
	*path
	d       dice
	spread  float64        // of a patch, relative
	share   []float64      // of the way to saturation in one pass
	target  [][2]float64   // saturation
	feel    []float64      // how much a contact feels the net charge
	power   []float64      // exponent of speed
	air     []float64      // factor on the second day
	eta     []float64      // share that a bar takes
	left    []float64      // that a bar leaves
	stripes [][2][]float64 // lasting stripes of each contact
}

// sated bends the pull of a contact: far from saturation it gives less.
func sated(pull float64) float64 { return pull / (1 + math.Abs(pull)/400) }

func (w *patchyWorld) make() {
	n := len(w.desc.Stations)
	w.share, w.target, w.feel = make([]float64, n), make([][2]float64, n), make([]float64, n)
	w.power, w.air, w.eta, w.left, w.stripes = make(
		[]float64,
		n,
	), make(
		[]float64,
		n,
	), make(
		[]float64,
		n,
	), make(
		[]float64,
		n,
	), make(
		[][2][]float64,
		n+1,
	)
	common := 0.5 + 0.25*w.d.NormFloat64()
	for i := range n {
		w.share[i] = w.d.between(0.03, 0.15)
		w.feel[i] = w.d.between(0, 0.3)
		w.power[i] = common + 0.17*w.d.NormFloat64()
		w.air[i] = math.Exp(0.25 * w.d.NormFloat64())
		w.eta[i] = w.d.between(0.3, 0.97)
		w.left[i] = 0.05 * w.d.NormFloat64()
	}
	for i := range w.stripes {
		for f := range 2 {
			w.stripes[i][f] = make([]float64, lanes)
			for j := range lanes {
				w.stripes[i][f][j] = w.spread * math.Sqrt(0.4) * w.d.NormFloat64()
			}
		}
	}
	// The saturation that makes the wanted change of the mean web.
	var a [2]float64
	for i := range n {
		for _, f := range w.faces(i) {
			pull := w.want[i][f] / w.share[i]
			pull /= 1 - math.Abs(pull)/400 // inverse of sated
			w.target[i][f] = pull + a[f] + w.feel[i]*(a[0]+a[1])
		}
		a = w.pass(i, a, spot{speed: 1}, nil, false)
	}
}

// at is the charge of the faces at one spot, with its patches.
func (w *patchyWorld) at(s spot, patches bool) (a, b float64) {
	off := w.desc.Stations[s.station].Off
	var q [2]float64
	for i := 0; i <= s.station; i++ {
		q = w.pass(i, q, s, off, patches)
	}
	return q[0], q[1]
}

// pass takes the web over station i.
func (w *patchyWorld) pass(i int, q [2]float64, s spot, off []string, patches bool) [2]float64 {
	st := &w.desc.Stations[i]
	lane := min(int(s.cross*lanes), lanes-1)
	factor := func(at, f int) float64 {
		if !patches {
			return 1
		}
		v := w.spread * w.spread
		x := math.Exp(w.stripes[at][f][lane] + w.spread*math.Sqrt(0.6)*w.d.NormFloat64() - v/2)
		if w.d.chance(0.02) {
			x = -x
		}
		return x
	}
	if i > 0 && i-1 == w.after {
		for f := range 2 {
			q[f] += w.hidden[f] * factor(len(w.stripes)-1, f)
		}
	}
	net := q[0] + q[1]
	next := q
	for _, f := range w.faces(i) {
		g := w.share[i] * sated(w.target[i][f]-q[f]-w.feel[i]*net) * factor(i, f) * math.Pow(s.speed, w.power[i])
		if s.day > 0 {
			g *= w.air[i]
		}
		next[f] += g
	}
	if st.Kind == line.Ioniser && !(len(off) > 0 && off[0] == st.Name) {
		eta := 1 - math.Pow(1-w.eta[i], 1/s.speed)
		next[int(st.Ioniser.Face-line.FaceA)] += w.left[i] - eta*net
	}
	// The air lets no more than this leave with the web; what is too much goes from
	// the faces that part from the roller.
	faces := w.faces(i)
	if over := math.Abs(next[0]+next[1]) - 26; over > 0 && len(faces) > 0 {
		for _, f := range faces {
			next[f] -= math.Copysign(over/float64(len(faces)), next[0]+next[1])
		}
	}
	return next
}

// truth walks the mean web.
func (w *patchyWorld) truth() (change, state [][2]float64) {
	var q [2]float64
	for i := range w.desc.Stations {
		before := q
		q = w.pass(i, q, spot{speed: 1}, nil, false)
		change = append(change, [2]float64{q[0] - before[0], q[1] - before[1]})
		if i > 0 && i-1 == w.after {
			change[i][0] -= w.hidden[0]
			change[i][1] -= w.hidden[1]
		}
		a, b := w.at(spot{station: i, speed: 1}, false)
		state = append(state, [2]float64{a, b})
	}
	return change, state
}
