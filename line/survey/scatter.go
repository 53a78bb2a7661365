package survey

import (
	"math"

	"example.org/pithball/line/survey/internal/without"
)

// Spots scatter with the charge of each face. Where patches of the two faces lie on
// each other, as those of a double layer may that parts at one contact, the sum
// scatters less than its parts: with a share c in common
//
//	var = ρ²·[(1−c)·(E[σA²] + E[σB²]) + c·E[(σA+σB)²]]
//
// for a meter that sees both. c is one for the survey and is found by what the
// groups scatter: four readings that agree in front of two charged faces say that
// what cancels there scatters together.
var commonShares = [...]float64{0, 0.3, 0.6, 0.8, 0.9, 0.95, 0.98, 0.99}

// faceScatter is the variance of a spot of group g by the charge of its faces.
func (m *model) faceScatter(gi int, common float64) float64 {
	g := m.groups[gi]
	on := [2]float64{g.OnA * 1e-6, g.OnB * 1e-6}
	least := sq(0.03)
	a, b := sq(on[0])*max(m.square[gi][0], least), sq(on[1])*max(m.square[gi][1], least)
	if g.OverFilm {
		return sq(m.spots) * (a + b)
	}
	whole := sq(g.perDensity()) * max(m.whole[gi], least)
	if without.Is(without.FacePatches) {
		return sq(m.spots) * whole
	}
	return sq(m.spots) * ((1-common)*(a+b) + common*min(whole, a+b))
}

// scatter follows what the groups scatter: first what the faces have in common, then
// by how much spots scatter more or less than described, one factor for the survey,
// then each group.
func (m *model) scatter(first bool) {
	n := len(m.groups)
	room := m.d.room
	defer room.back(room.mark())
	base, less := room.take(n), room.take(n)
	for gi, g := range m.groups {
		if g.over == 0 && g.n > 1 {
			less[gi] = m.scatterLess(gi, first)
		}
	}
	clear(m.base)
	best := math.Inf(-1)
	for _, c := range commonShares {
		num, den := 4.0, 4.0
		for gi, g := range m.groups {
			base[gi] = m.faceScatter(gi, c) + sq(g.step()) + sq(drift*float64(m.d.desc.Meters[g.Meter].Offset))
			if g.over == 0 && g.n > 1 {
				num += min(less[gi]/base[gi], 9*(g.n-1))
				den += g.n - 1
			}
		}
		kappa := num / den
		log := -commonDoubt * c
		for gi, g := range m.groups {
			if g.over == 0 && g.n > 1 {
				// The density of a sum of squares whose variance is known as by scatterPrior
				// degrees of freedom.
				v := kappa * base[gi]
				log -= 0.5*(g.n-1)*math.Log(v) + 0.5*(scatterPrior+g.n-1)*math.Log1p(less[gi]/(scatterPrior*v))
			}
		}
		if log > best {
			best, m.common, m.kappa = log, c, kappa
			copy(m.base, base)
		}
	}
	for gi, g := range m.groups {
		m.scatS[gi] = m.kappa * m.base[gi]
		if without.Is(without.FoundScatter) {
			m.kappa, m.scatS[gi] = 1, m.base[gi]
		} else if g.over == 0 && g.n > 1 {
			m.scatS[gi] = (scatterPrior*m.scatS[gi] + less[gi]) / (scatterPrior + g.n - 1)
		}
	}
}

// commonDoubt is how many nats must speak for patches that lie on each other.
const commonDoubt = 2.0

// own is the variance of the mean of n readings at so many spots: half of the
// scatter is in stripes that stay with the web, which repeats at one position do
// not average out.
func (m *model) own(gi int, fit, n, spots float64) float64 {
	g := m.groups[gi]
	if without.Is(without.Stripes) {
		return (m.scatS[gi] + sq(g.Sensitivity*fit) + sq(displayStep(g, fit))) / n
	}
	return m.scatS[gi]*(0.5/n+0.5*max(g.apart, stripesLeast)/spots) + (sq(g.Sensitivity*fit)+sq(displayStep(g, fit)))/n
}

// displayStep is the error of a last digit: 10 V below 2 kV, 100 V above; of a
// voltmeter 0.1 V.
func displayStep(g *group, fit float64) float64 {
	step := 10.0
	switch {
	case g.OverFilm:
		step = 0.1
	case math.Abs(fit) > 2000:
		step = 100
	}
	return step / math.Sqrt(12)
}

// scatterLess is the sum of squares of a group less what placing and display add,
// doubled where all readings stand at one spot.
func (m *model) scatterLess(gi int, first bool) float64 {
	g := m.groups[gi]
	fit := g.mean
	if !first {
		fit = m.fit(gi)
	}
	return m.lessDisplay(gi, fit, g.ss)
}

// lessDisplay takes off a sum of squares what placing and display add to it.
func (m *model) lessDisplay(gi int, fit, ss float64) float64 {
	g := m.groups[gi]
	ss = max(ss-(g.n-1)*(sq(g.Sensitivity*fit)+sq(displayStep(g, fit))), 0)
	if g.spots == 1 {
		ss *= 2
	}
	return ss
}
