package survey

import (
	"cmp"
	"math"
	"slices"

	"example.org/pithball/internal/enum"
	"example.org/pithball/line"
	"example.org/pithball/line/survey/internal/without"
)

// AnswerKind is what a survey says of where the charge comes from.
type AnswerKind uint8

// The answers.
const (
	CannotTell AnswerKind = iota // these readings cannot tell
	OneSource                    // one contact stands out
	TwoSources                   // two of like size
	OneOf                        // one of two or three that the readings cannot separate
	NoneAbove                    // nothing above the limit, where it was read
	NotListed                    // something that the description does not have
	Contradict                   // the readings contradict each other
)

var answerNames = [...]string{
	"cannot tell",
	"one source",
	"two sources",
	"one of",
	"none above the limit",
	"unlisted",
	"contradiction",
}

// String returns the name used in results, "AnswerKind(n)" without one.
func (k AnswerKind) String() string { return enum.Name("AnswerKind", answerNames[:], k) }

// MarshalText writes the name; a value without one is a [*known.FieldError].
func (k AnswerKind) MarshalText() ([]byte, error) { return enum.Write("outcome", answerNames[:], k) }

// UnmarshalText reads the name; anything else is a [*known.FieldError] and leaves the
// value as it was.
func (k *AnswerKind) UnmarshalText(b []byte) error { return enum.Read("outcome", answerNames[:], b, k) }

// Answer is where the charge comes from, as far as the readings tell.
type Answer struct {
	Kind    AnswerKind // which of the answers
	Sets    [][]int    // stations; two sets for two sources
	Between [2]int     // stations of the last reading before and the first after, -1 where there is none
	Chance  float64    // [1] that what is said holds
	Beside  float64    // [1] that something unlisted in the same gap did it
	Both    float64    // [1] of one of several: that two of them are of like size
	// Unlisted says that something unlisted between the two stations is one of the
	// things that the readings cannot separate.
	Unlisted bool
	// Scatter says that the means do not show it and the scatter of the spots does: faces
	// hold charges that cancel outside.
	Scatter bool
	Why     Unanswered // why the readings cannot tell
	// Rests is the reading without which the station in Sets would not lead, where
	// that is why the readings cannot tell; else -1.
	Rests int
	Clash *Clash // of readings that contradict each other
}

// Unanswered is why readings cannot tell.
type Unanswered uint8

// The reasons.
const (
	Answered      Unanswered = iota
	NoCharge                 // no reading sees the charge of the running web
	OneReading               // the leader rests on one reading
	FacesUnread              // the net is small, and no voltmeter saw the faces
	NothingStands            // no change stands out of what is open
	SeveralOpen              // more than can be named
	NetOpen                  // no change stands out, and the net charge that was read is not below the limit
)

// Thresholds of the answers. 0.90 is a ratio of losses: a wrong name costs as much
// as nine missed ones; on invented lines what passes it is right in 0.95 and more.
const (
	sure      = 0.90
	clear1    = 0.75 // chance that the source stands out by standOut and is above the limit
	standOut  = 1.25
	sureTwo   = 0.85
	twoHolds  = 0.75 // of what the samples say of two: on invented lines so much of it held
	sureNone  = 0.90
	sureOther = 0.80
	surest    = 0.97 // no chance above is stated: so much of what looks certain on invented lines is something else
	nearest   = 9    // stations that a set of neighbours may span
)

// lead fills Leads and returns the share of samples that each item wins.
func (d *Diagnosis) lead(c *contest) (wins []float64) {
	wins = make([]float64, len(c.stations)+len(c.spans))
	for j := range wins {
		wins[j] = c.win(j)
		d.likeliest = max(d.likeliest, wins[j])
	}
	for i, st := range c.stations {
		if wins[i] > 0 {
			d.Leads = append(d.Leads, Leads{st, wins[i]})
		}
	}
	slices.SortStableFunc(d.Leads, func(a, b Leads) int { return cmp.Compare(b.Chance, a.Chance) })
	return wins
}

func (d *Diagnosis) answer() {
	defer d.room.back(d.room.mark())
	c := d.contest(d.samples)
	limit := float64(d.line.Limit()) * 1e6
	wins := d.lead(c)
	if d.Answer.Clash = d.clash(); d.Answer.Clash != nil {
		d.Answer.Kind, d.Answer.Between = Contradict, [2]int{-1, -1}
		return
	}
	a := d.decide(c, wins, limit)
	a.Rests = -1
	if a.Kind == OneSource && !without.Is(without.Survival) {
		if r := d.rests(a.Sets[0][0]); r >= 0 {
			a = Answer{Kind: CannotTell, Sets: a.Sets, Between: a.Between, Rests: r, Why: OneReading}
		}
	}
	a.Chance = min(a.Chance, surest)
	d.Answer = a
}

func (d *Diagnosis) decide(c *contest, wins []float64, limit float64) Answer {
	none := Answer{Kind: CannotTell, Between: [2]int{-1, -1}, Why: SeveralOpen}
	if !d.stands(c, limit) {
		none.Why = NothingStands
	}
	if d.Quiet > 0.5 && !d.stands(c, limit) {
		ok, _ := d.facesRead()
		switch {
		case d.netAbove() != nil:
			none.Why = NetOpen
		case ok && d.Quiet > sureNone && !d.dismissed:
			return Answer{Kind: NoneAbove, Between: [2]int{-1, -1}, Chance: d.Quiet}
		case !ok:
			none.Why = FacesUnread
		}
		return none
	}
	order := make([]int, len(c.stations))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(wins[b], wins[a]) })
	if len(order) == 0 {
		return none
	}
	if a, ok := d.two(c, limit); ok {
		return a
	}
	if best := d.smallest(c, order, wins, limit); best.Kind != CannotTell {
		return best
	}
	return d.notListed(c, wins, limit, none)
}

// smallest is the smallest set that holds the source; of those the one whose contacts
// are likeliest to be it or of its size. It grows while another of like size shows
// beside it, if a greater one can be said.
func (d *Diagnosis) smallest(c *contest, order []int, wins []float64, limit float64) Answer {
	best := Answer{}
	for size := 1; size <= 3; size++ {
		at, most := Answer{}, 0.0
		d.sets(c, order, size, limit, func(set []int) {
			if a, ok := d.oneOf(c, set, wins, limit); ok && a.Chance+c.likely(set, limit) > most {
				at, most = a, a.Chance+c.likely(set, limit)
			}
		})
		if at.Kind == CannotTell {
			continue
		}
		if best.Kind == CannotTell || !d.rivals(c, at.Sets[0], limit) {
			best = at
		}
		if best.Kind == OneSource || !d.rivals(c, best.Sets[0], limit) {
			break
		}
	}
	return best
}

// sets calls visit with the sets of so many stations, of those that lead: near ones,
// or such that two of them may well be of like size.
func (d *Diagnosis) sets(c *contest, order []int, size int, limit float64, visit func(set []int)) {
	top := order[:min(len(order), 5)]
	var grow func(set []int, from int)
	grow = func(set []int, from int) {
		if len(set) == size {
			lo, hi := c.stations[slices.Min(set)], c.stations[slices.Max(set)]
			if hi-lo <= nearest || c.likely(set, limit) > rivalShare {
				visit(set)
			}
			return
		}
		for i := from; i < len(top); i++ {
			grow(append(slices.Clone(set), top[i]), i+1)
		}
	}
	grow(nil, 0)
}

// oneOf asks whether a set holds the source: with the chance that is asked, and
// with all contacts that the readings cannot tell from those in it. A set of one
// without a fair chance of something unlisted beside it is a name.
func (d *Diagnosis) oneOf(c *contest, set []int, wins []float64, limit float64) (Answer, bool) {
	p, clear := c.holds(c.owned(set), limit, sure)
	var listed float64
	stations := make([]int, len(set))
	for i, k := range set {
		stations[i] = c.stations[k]
		listed += wins[k]
	}
	if p <= sure || clear <= clear1 || listed < 0.5*p {
		return Answer{}, false
	}
	slices.Sort(stations)
	evidence := d.evidence(stations)
	if evidence+c.heard(set, limit) < evidenceAsked || d.Quiet > quietMost {
		return Answer{}, false
	}
	scatter := evidence < evidenceAsked || d.still > quietMost
	for _, st := range stations {
		if scatter {
			break // what trades by the means says nothing of charges that cancel
		}
		if wins[slices.Index(c.stations, st)] < 0.1*p {
			continue // it is in the set because it trades with the leader
		}
		for _, o := range d.traders(st) {
			if !slices.Contains(stations, o) {
				return Answer{}, false
			}
		}
	}
	a := Answer{
		Kind:    OneOf,
		Sets:    [][]int{stations},
		Between: d.between(stations[0], stations[len(stations)-1]),
		Chance:  p,
		Beside:  max(p-listed, 0), // rounding
		Scatter: scatter,
	}
	if a.Scatter {
		a.Between = d.betweenPlaces(stations[0], stations[len(stations)-1])
	}
	for j, st := range c.stations {
		if a.Between[0] < st && st < a.Between[1] && wins[j] > neighbourLeast && !slices.Contains(stations, st) {
			return Answer{}, false // between the same readings, and not ruled out
		}
	}
	a.Unlisted = a.Beside > besideSaid
	if len(set) > 1 {
		a.Both = c.shared(set, limit)
	}
	if len(stations) == 1 && d.rivalled(c, set[0], limit) {
		return Answer{}, false
	}
	if len(stations) == 1 && !a.Unlisted && !a.Scatter && d.faceTold(stations[0]) {
		a.Kind, a.Chance = OneSource, listed
	}
	return a, true
}

// rivalled reports whether the readings show another contact of like size beside
// the one that leads: then it is no single source, however rare two may be.
func (d *Diagnosis) rivalled(c *contest, named int, limit float64) bool {
	any, all := 0.0, 0.0 // samples, rare or not, in which something else is of like size
	for i, b := range c.size {
		all += d.spot(i)
		for j, x := range b {
			if j != named && x > limit && x > likeSize*b[c.top[i]] {
				any += d.spot(i)
				break
			}
		}
	}
	if 2*any > all {
		return true
	}
	return d.rivals(c, []int{c.stations[named]}, limit)
}

// rivals reports whether the readings show a contact of like size beside the stations.
func (d *Diagnosis) rivals(c *contest, stations []int, limit float64) bool {
	for j, st := range c.stations {
		if slices.Contains(stations, st) {
			continue
		}
		like, all := 0.0, 0.0
		for i, b := range c.size {
			all += d.spot(i)
			if b[j] > limit && b[j] > likeSize*b[c.top[i]] {
				like += d.spot(i)
			}
		}
		if like > rivalShare*all && d.evidence([]int{st}) > evidenceAsked {
			return true
		}
	}
	return false
}

// rivalShare is the share of samples in which a contact of like size is one too many.
const rivalShare = 0.3

// faceTold reports whether a contact of both faces may be named alone: by free-span
// readings only, its net charge is told and what its faces hold is not.
func (d *Diagnosis) faceTold(station int) bool {
	if k := d.desc.Stations[station].Kind; k != line.Nip && k != line.Unwind {
		return true
	}
	_, missing := d.facesRead()
	return !slices.Contains(missing, station)
}

// tradeAsked is the share of the variance of a change that goes if another is known
// from which on the readings alone do not tell the two apart.
const tradeAsked = 0.9

// quietMost is the chance that nothing comes near the limit up to which a set is
// said to hold the source.
const quietMost = 0.6

// bothSaid is the chance from which on two of like size are named as a possibility
// among those that the readings leave open.
const bothSaid = 0.05

// BothSaid reports whether the sentence says that two of a set may be of like size.
func (a *Answer) BothSaid() bool { return a.Kind == OneOf && a.Both >= bothSaid }

// neighbourLeast is the chance from which on a contact between the same two readings
// belongs to what is said of another.
const neighbourLeast = 0.015

// besideSaid is the chance from which on something unlisted is named beside what
// is listed.
const besideSaid = 0.1

// traders lists the stations that the readings alone cannot tell from station st:
// those whose changes trade with its largest one, where that is not fixed to a
// third of itself.
func (d *Diagnosis) traders(st int) []int {
	l, f := d.model.lay, d.free
	best := -1
	for k, u := range l.changes {
		if u.Station == st &&
			(best < 0 || math.Abs(d.posterior.modes[0].mean[k]) > math.Abs(d.posterior.modes[0].mean[best])) {
			best = k
		}
	}
	var out []int
	if best < 0 || 3*f.sd(best) < math.Abs(f.mean[best]) {
		return out
	}
	for k, u := range l.changes {
		if u.Station != st && !l.bar[k] && f.trade(best, k) > tradeAsked && !slices.Contains(out, u.Station) {
			out = append(out, u.Station)
		}
	}
	return out
}

// notListed asks for a source that the description does not have.
func (d *Diagnosis) notListed(c *contest, wins []float64, limit float64, none Answer) Answer {
	best, at := 0.0, -1
	for j := range c.spans {
		if w := wins[len(c.stations)+j]; w > best {
			best, at = w, j
		}
	}
	if at < 0 {
		return none
	}
	// Neighbouring spans that meet at one reading are one stretch.
	from, to, all := c.spans[at].from, c.spans[at].to, best
	for _, j := range []int{at - 1, at + 1} {
		if j >= 0 && j < len(c.spans) && wins[len(c.stations)+j] > 0.1 {
			from, to = min(from, c.spans[j].from), max(to, c.spans[j].to)
			all += wins[len(c.stations)+j]
		}
	}
	if all > sureOther {
		return Answer{Kind: NotListed, Between: [2]int{from, to}, Chance: all}
	}
	return none
}

// two asks for two sources of like size that stand out together. Each is a station
// or a set of those that the readings cannot tell from it.
func (d *Diagnosis) two(c *contest, limit float64) (Answer, bool) {
	present := make([]float64, len(c.stations))
	for i, b := range c.size {
		for j := range c.stations {
			if b[j] > limit && b[j] > 0.4*b[c.top[i]] {
				present[j] += c.weight[i] / c.total
			}
		}
	}
	order := make([]int, len(c.stations))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(present[b], present[a]) })
	groups := map[int][]int{}
	group := func(i int) []int {
		g, ok := groups[i]
		if !ok {
			g = []int{i}
			for _, st := range d.traders(c.stations[i]) {
				if k := slices.Index(c.stations, st); present[k] > 0.02 {
					g = append(g, k)
				}
			}
			groups[i] = g
		}
		return g
	}
	best := Answer{}
	for y, j := range order[:min(len(order), 5)] {
		if present[j] < 0.3 {
			break
		}
		for _, i := range order[:y] {
			gi, gj := group(i), group(j)
			if len(gi) > 3 || len(gj) > 3 || slices.ContainsFunc(gi, func(k int) bool { return slices.Contains(gj, k) }) {
				continue
			}
			if p := c.pair(c.owned(gi), c.owned(gj), limit); p > sureTwo && twoHolds*p > best.Chance {
				best = Answer{Kind: TwoSources, Between: [2]int{-1, -1}, Chance: twoHolds * p}
				for _, g := range [][]int{gi, gj} {
					var set []int
					for _, k := range g {
						set = append(set, c.stations[k])
					}
					slices.Sort(set)
					best.Sets = append(best.Sets, set)
				}
			}
		}
	}
	if best.Kind != TwoSources {
		return best, false
	}
	if best.Sets[0][0] > best.Sets[1][0] {
		best.Sets[0], best.Sets[1] = best.Sets[1], best.Sets[0]
	}
	for _, set := range best.Sets {
		if d.evidence(set) < evidenceAsked {
			return Answer{}, false
		}
	}
	return best, true
}

// between is the pair of read stations around a stretch of the path: of readings
// that see what its stations changed, which a voltmeter over the other face does
// not, nor a field meter where the two faces cancel.
func (d *Diagnosis) between(from, to int) [2]int {
	l := d.model.lay
	mean := d.posterior.modes[0].mean
	var size [2]float64
	for k, u := range l.changes {
		if from <= u.Station && u.Station <= to && !l.bar[k] {
			f := u.Face - line.FaceA
			if math.Abs(mean[k]) > math.Abs(size[f]) {
				size[f] = mean[k]
			}
		}
	}
	top := max(math.Abs(size[0]), math.Abs(size[1]))
	out := [2]int{-1, -1}
	for _, g := range d.model.groups {
		sees := math.Abs(size[0]+size[1]) > top/3
		if g.OverFilm {
			sees = g.OnA != 0 && math.Abs(size[0]) > top/3 || g.OnB != 0 && math.Abs(size[1]) > top/3
		}
		if !sees {
			continue
		}
		if g.Station < from && g.Station > out[0] {
			out[0] = g.Station
		}
		if g.Station >= to && (out[1] < 0 || g.Station < out[1]) {
			out[1] = g.Station
		}
	}
	return out
}
