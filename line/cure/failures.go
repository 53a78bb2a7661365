package cure

import (
	"fmt"
	"math"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/units"
)

// Failures is the table of what happens if one ioniser fails.
type Failures struct {
	Stations []string     // columns
	Rows     []FailureRow // all on, then each ioniser off
}

// FailureRow is the line with one ioniser off.
type FailureRow struct {
	Out  string      // the ioniser that is off; empty: none
	Net  []Quantiles // net charge density at each station [C/m²]
	Over []float64   // [1] chance that the net is over the limit there
	// Spare says that its loss changes nothing at the winder; Moves then names the
	// station where it changes most.
	Spare bool
	Moves string // see Spare
}

// IfOneFails gives the line with each ioniser switched off in turn, at every place
// and at the winder.
func (m *Calibrated) IfOneFails() Failures {
	if m.none() {
		return Failures{}
	}
	at := m.judged(nil)
	var f Failures
	for _, s := range at {
		f.Stations = append(f.Stations, m.stages[s].name)
	}
	limit := float64(m.line.Limit())
	row := func(out string, c *Calibrated) FailureRow {
		w := c.run(float64(c.at))
		r := FailureRow{Out: out}
		for _, s := range at {
			x := make([]float64, Draws)
			for i := range x {
				x[i] = w.a[s][i] + w.b[s][i]
			}
			r.Over = append(r.Over, shareOf(Draws, func(i int) bool { return math.Abs(x[i]) > limit }))
			r.Net = append(r.Net, quantiles(x))
		}
		return r
	}
	f.Rows = append(f.Rows, row("", m))
	for s := range m.stages {
		if b := m.stages[s].bar; b == nil || b.off {
			continue
		}
		c, err := m.Try(Switch{Station: m.stages[s].name})
		if err != nil {
			continue // switching off is never refused
		}
		r := row(m.stages[s].name, c)
		last := len(at) - 1
		most := 0.0
		for k := range at {
			if d := math.Abs(r.Net[k][1] - f.Rows[0].Net[k][1]); d > most {
				most, r.Moves = d, f.Stations[k]
			}
		}
		r.Spare = math.Abs(r.Net[last][1]-f.Rows[0].Net[last][1]) < tenth*limit
		f.Rows = append(f.Rows, r)
	}
	return f
}

// Fastest is the greatest speed within the limit.
type Fastest struct {
	Speed   units.Speed // 0: not even the slowest surveyed speed
	Station string      // that binds; empty where the range of the survey does
	Chance  float64     // [1] over the limit at that speed
	Beyond  bool        // the range of the survey binds, not the line: read at a higher speed first
}

// MaxSpeed returns the greatest speed up to which the chance that the net is over the
// limit at any place stays at or below chance, from the slowest surveyed speed up:
// the chance does not always rise with the speed. Beyond 1.5 times the fastest
// surveyed speed it does not look.
func (m *Calibrated) MaxSpeed(chance float64) Fastest { // [1]
	if m.none() {
		return Fastest{Speed: m.Speed(), Chance: math.NaN()}
	}
	over := func(v float64) float64 {
		net, _ := m.over(m.run(v), nil)
		return net
	}
	lo, end := m.surveyed[0], reachUp*m.surveyed[1]
	if c := over(lo); !(c <= chance) {
		return Fastest{Chance: c, Station: m.binds(lo)}
	}
	const steps = 24
	good, bad := lo, end
	for k := 1; k <= steps; k++ {
		v := lo * numeric.Pow(end/lo, float64(k)/steps)
		if over(v) > chance {
			bad = v
			break
		}
		good = v
	}
	if good >= end*(1-1e-12) {
		return Fastest{Speed: units.Speed(end), Chance: over(end), Beyond: true}
	}
	low, high := numeric.Edge(func(l float64) bool { return !(over(numeric.Exp(l)) > chance) }, math.Log(good),
		math.Log(bad), 0, 1e-4)
	good, bad = numeric.Exp(low), numeric.Exp(high)
	return Fastest{Speed: units.Speed(good), Station: m.binds(bad), Chance: over(good)}
}

// binds names the place most likely over the limit at speed v [m/s].
func (m *Calibrated) binds(v float64) string {
	w := m.run(v)
	limit := float64(m.line.Limit())
	name, most := "", -1.0
	for _, s := range m.judged(nil) {
		c := shareOf(Draws, func(i int) bool { return math.Abs(w.a[s][i]+w.b[s][i]) > limit })
		if c > most {
			name, most = m.stages[s].name, c
		}
	}
	return name
}

// Test is a measurement that would make the plan surer.
type Test struct {
	What string // to do
	Why  string // what it settles
}

// test names the measurement that the plan rests on most: another speed if the line
// is to run at one that was not read, else the exposure of the leading contact.
func (m *Calibrated) test(a *Aim) Test {
	if v := float64(a.Speed); v < m.surveyed[0]/1.02 || v > m.surveyed[1]*1.02 {
		other := units.Speed(m.surveyed[0] / 1.5)
		s, _ := units.Format(other, "m/min", 2)
		return Test{"read every place again at " + s + " or slower, four readings each",
			"the exponents of speed are priors: two speeds a factor of 1.5 apart and more tell them"}
	}
	s := m.leading()
	if s < 0 {
		return Test{}
	}
	for k := s - 1; k >= 0; k-- {
		b := m.stages[k].bar
		if b == nil || b.off {
			continue
		}
		if !m.site.free() {
			return Test{"read the faces over earthed rollers before and behind " + m.stages[s].name,
				"how much of what arrives the contact passes on"}
		}
		return Test{"switch " + m.stages[k].name + " off and on and read before and behind " + m.stages[s].name,
			"how much of the shift comes through, which tells how the contact answers to another charge"}
	}
	return Test{"read the faces over earthed rollers before and behind " + m.stages[s].name,
		"how much of what arrives the contact passes on"}
}

// Proof is what the meter must show at a place.
type Proof struct {
	Station string               // the place
	Speed   units.Speed          // of the line
	Expect  Quantiles            // of one reading there [V]
	Pass    units.DisplayVoltage // magnitude that passes: the 95 % end of what is expected or the limit, the smaller
}

// prove gives the displays that show that a plan worked: each place that can be read,
// at the speed wanted and at the survey's, on the driest day that can be had.
func (m *Calibrated) prove(a *Aim) []Proof {
	var out []Proof
	speeds := []units.Speed{a.Speed}
	if v := units.Speed(m.speed); v != a.Speed {
		speeds = append(speeds, v)
	}
	for _, v := range speeds {
		c, err := m.Try(Run{v})
		if err != nil {
			continue
		}
		p := c.Predict()
		for _, s := range c.judged(a.Places) {
			q := p.Stations[s].Display
			look, ok := c.look(s)
			if !ok || math.IsNaN(q[1]) {
				continue
			}
			band, err := c.line.Expect(&look, c.line.Limit(), 0)
			if err != nil {
				continue
			}
			pass := min(max(math.Abs(q[0]), math.Abs(q[2])), math.Abs(band[1]))
			out = append(out, Proof{p.Stations[s].Name, v, q, units.DisplayVoltage(pass)})
		}
	}
	return out
}

// pair is what a driven pair must deliver where a balanced layer is over the limit.
func (m *Calibrated) pair() *PairNeed {
	w := m.run(float64(m.at))
	limit := float64(m.line.Limit())
	best, most := -1, 0.0
	for s := range m.stages {
		x := make([]float64, Draws)
		for i := range x {
			if a, b := w.a[s][i], w.b[s][i]; a*b < 0 && math.Abs(a+b) < max(math.Abs(a), math.Abs(b))/2 {
				x[i] = max(math.Abs(a), math.Abs(b))
			}
		}
		if q := quantiles(x)[2]; q > limit && q > most {
			best, most = s, q
		}
	}
	if best < 0 {
		return nil
	}
	return &PairNeed{m.stages[best].name, units.LineCurrent(most * float64(m.at))} // σ·v
}

// String is the table of the medians, for people who read it.
func (f Failures) String() string {
	s := ""
	for _, r := range f.Rows {
		name := "all on"
		if r.Out != "" {
			name = r.Out + " out"
		}
		s += name + ":"
		for k := range f.Stations {
			s += fmt.Sprintf(" %.1f", r.Net[k][1]/float64(units.MicrocoulombPerSquareMetre))
		}
		s += "\n"
	}
	return s
}
