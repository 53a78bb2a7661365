package survey

import (
	"math"
	"slices"

	"example.org/pithball/internal/numeric"
	"example.org/pithball/line"
	"example.org/pithball/line/survey/internal/without"
	"example.org/pithball/units/known"
)

// UnknownKind is what an unknown of the posterior is.
type UnknownKind uint8

// The kinds of unknown.
const (
	ChangeUnknown   UnknownKind = iota // what one face gained at a contact or at a bar [µC/m²]
	UnlistedUnknown                    // what one face gained in a span, by nothing that is described [µC/m²]
	ExponentUnknown                    // departure of the exponent of speed of a station, in its described spreads [1]
)

// span is the way between two places that were read one after the other.
type span struct{ from, to int } // stations

// layout numbers the unknowns of the linear model, in µC/m² and V:
// the changes of all contacts and bars, what happens unlisted in each span on each
// face, then what other conditions do, then what the meters and places do.
type layout struct {
	changes []line.Unknown
	spans   []span
	conds   []condition
	bar     []bool // of each change: it is a bar's
	// First indices of the blocks of unknowns.
	unlisted, speed, layer, air, slack, deposit, leak, damp, meter, place, film, n int

	drawn     int          // the first so many are drawn from the posterior, layers included
	layerOf   []int        // of each change: the unknown of its double layer, -1
	layers    [][2]int     // of each layer: the changes of face A and of face B
	layerWide []float64    // of each layer: variance if there is one
	places    []int        // stations with an error of geometry
	leaks     []int        // stations with a leak path
	moist     [][]moist    // of each condition and leak: its air at the web there, nil if nothing follows it
	fall      [2]float64   // of log₁₀ of the leak times, and its standard deviation [1/%RH]
	prior     []float64    // variances
	mean      []float64    // of the description
	spread    []float64    // of each change, as described
	wide      []float64    // of each change: variance if the description is wrong
	typical   float64      // median of the described spreads
	exponent  []known.Band // of each change
	stations  []int        // with a change
	stationOf []int        // of each change: index of its station among these
}

// Judgements, not data: how wide things are when the description is right, how
// often it is not and how wide they are then. The chances are those of the
// design; halving or doubling them moves few answers.
const (
	unlistedSmall = 0.04 // of the typical spread: what any span does to the web
	unlistedLarge = 3.0  // of the typical spread: a source that nobody described

	// Most contacts of a line do little and a few do much: a contact is calm, a share
	// of its described spread, or it is not, and then what it is known for counts less
	// than what any contact can do. One that touches both faces may part them instead:
	// a double layer, which leaves no net charge.
	contactCalm = 0.5  // of the described spread, before anything is learnt: see calm.go
	contactWide = 2.0  // of the described spread, with
	contactAny  = 2.0  // of the typical spread
	layerWide   = 3.0  // of the described spread, with contactAny
	layerCalm   = 1e-3 // of the described spread: no double layer beside what the faces do

	chanceContact  = 0.15  // that a contact is not calm
	chanceLayer    = 0.20  // that one of both faces makes a double layer
	chanceUnlisted = 0.008 // that a span hides a source
	chanceReading  = 0.03  // that a reading is wrong
	chanceGroup    = 0.01  // that the robust mean of a group is wrong
	chanceUnproven = 0.06  // that a reading over a roller is wrong whose earth nobody measured

	airShared, airOwn = 0.25, 0.20 // relative change of all contacts and of each in another air
	dayShared, dayOwn = 0.10, 0.10 // on another day
	// One exponent of speed for each station, alike along a line: of its described
	// spread 0.25/0.30 is shared and 0.17/0.30 the station's own.
	exponentShared, exponentOwn = 0.827, 0.562

	depositWide = 30.0 // µC/m²: what a bar brings, before anything is read
	leakDoubt   = 0.5  // standard deviation of the logarithm of a described leak time
)

func newLayout(d *Diagnosis, groups []*group, conds []condition) *layout {
	a := &layout{conds: conds}
	var median, spread []float64
	a.changes, median, spread = d.line.Unknowns()
	ref := math.Log(float64(conds[0].speed) / float64(d.desc.Speed))
	var sizes []float64
	for k, u := range a.changes {
		st := &d.desc.Stations[u.Station]
		a.bar = append(a.bar, st.Kind == line.Ioniser)
		var e known.Band
		for _, c := range st.Change {
			if c.Face == u.Face {
				e = c.Speed
			}
		}
		a.exponent = append(a.exponent, e)
		// The description speaks of its own speed.
		scale := numeric.Exp(e.Value * ref)
		s, m := spread[k]*1e6*scale, median[k]*1e6*scale
		if a.bar[k] {
			s, m = depositWide, 0
		} else {
			lo, hi := e.Limits()
			s = math.Hypot(s, m*ref*(hi-lo)/(2*known.Z95))
			sizes = append(sizes, s)
		}
		a.spread = append(a.spread, s)
		if !a.bar[k] && !without.Is(without.ContactDoubt) {
			s *= contactCalm
		}
		a.prior, a.mean = append(a.prior, s*s), append(a.mean, m)
		i := slices.Index(a.stations, u.Station)
		if i < 0 {
			i = len(a.stations)
			a.stations = append(a.stations, u.Station)
		}
		a.stationOf = append(a.stationOf, i)
	}
	slices.Sort(sizes)
	if len(sizes) > 0 {
		a.typical = sizes[len(sizes)/2]
	}
	for _, s := range a.spread {
		a.wide = append(a.wide, sq(contactWide*s)+sq(contactAny*a.typical))
	}
	read := []int{0}
	for _, g := range groups {
		if !slices.Contains(read, g.Station) {
			read = append(read, g.Station)
		}
	}
	slices.Sort(read)
	for i := 1; i < len(read); i++ {
		a.spans = append(a.spans, span{read[i-1], read[i]})
	}
	add := func(count int, sd float64) (first int) {
		first = len(a.prior)
		for range count {
			a.prior, a.mean = append(a.prior, sd*sd), append(a.mean, 0)
		}
		return first
	}
	others := len(conds) - 1
	a.unlisted = add(2*len(a.spans), unlistedSmall*a.typical)
	if slices.ContainsFunc(conds, func(c condition) bool { return c.rho != 0 }) {
		a.speed = add(1+len(a.stations), 1)
	} else {
		a.speed = add(0, 0)
	}
	a.layer = len(a.prior)
	for k, u := range a.changes {
		a.layerOf = append(a.layerOf, -1)
		if k == 0 || a.bar[k] || a.changes[k-1].Station != u.Station || a.changes[k-1].Face == u.Face {
			continue
		}
		pair := [2]int{k - 1, k}
		if u.Face == line.FaceA {
			pair = [2]int{k, k - 1}
		}
		s := max(a.spread[k-1], a.spread[k])
		a.layerOf[k-1], a.layerOf[k] = len(a.prior), len(a.prior)
		a.layers = append(a.layers, pair)
		a.layerWide = append(a.layerWide, sq(layerWide*s)+sq(contactAny*a.typical))
		add(1, layerCalm*s)
	}
	a.drawn = len(a.prior)
	a.air = add(others*(1+len(a.stations)), 1)
	a.slack = add(others*len(a.changes), 0)
	a.deposit = add(others*len(a.changes), depositWide)
	for i := range d.desc.Stations {
		if d.desc.Stations[i].Leak != nil {
			a.leaks = append(a.leaks, i)
		}
	}
	a.leak = add(len(a.leaks), leakDoubt)
	a.damp = add(a.newDamp(&d.desc), 1)
	a.meter = len(a.prior)
	for i := range d.desc.Meters {
		// An error of nothing at all does not exist; a microvolt is nothing.
		add(1, max(float64(d.desc.Meters[i].Gain), 1e-5))
		add(1, max(float64(d.desc.Meters[i].Offset), 1e-6))
	}
	a.place = len(a.prior)
	for _, g := range groups {
		if !g.OverFilm && !slices.Contains(a.places, g.Station) {
			a.places = append(a.places, g.Station)
			add(1, max(g.PlaceSD, 1e-5))
		}
	}
	film := 1e-5
	for _, g := range groups {
		if g.OverFilm {
			film = max(film, g.PlaceSD)
		}
	}
	a.film = add(1, film)
	a.n = len(a.prior)
	return a
}

// multiplier is what a condition makes of the changes at station s at the present
// estimates, and by how much its logarithm follows each unknown.
func (a *layout) multiplier(k, cond int, at []float64) (factor float64, cols [4]int, slopes [4]float64, used int) {
	c := &a.conds[cond]
	s := a.stationOf[k]
	e := a.exponent[k]
	ln := e.Value * c.rho
	follow := func(col int, slope float64) {
		cols[used], slopes[used] = col, slope
		used++
		ln += slope * at[col]
	}
	if c.rho != 0 {
		lo, hi := e.Limits()
		sd := (hi - lo) / (2 * known.Z95)
		follow(a.speed, exponentShared*sd*c.rho)
		follow(a.speed+1+s, exponentOwn*sd*c.rho)
	}
	if c.otherAir || c.otherDay {
		shared, own := 0.0, 0.0
		if c.otherAir {
			shared, own = airShared, airOwn
		}
		if c.otherDay {
			shared, own = math.Hypot(shared, dayShared), math.Hypot(own, dayOwn)
		}
		first := a.air + (cond-1)*(1+len(a.stations))
		follow(first, shared)
		follow(first+1+s, own)
	}
	return numeric.Exp(min(max(ln, -3), 3)), cols, slopes, used
}
