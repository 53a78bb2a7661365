package cure

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"example.org/pithball/internal/progress"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Aim is what a plan is to reach. The zero value asks for 5 % at the present speed.
type Aim struct {
	Speed  units.Speed `json:"speed,omitempty"`  // wanted; 0: the present one
	Chance float64     `json:"chance,omitempty"` // [1] that any place is over the limit; 0: 5 %
	// whether single faces count as well: the next operation cuts sheets,
	// stacks, peels or lays the goods on metal, and a face that is left alone shows all
	// of its charge.
	Faces  bool     `json:"faces,omitempty"`
	Places []string `json:"places,omitempty"` // stations where it counts; none: every place and the winder
	Most   int      `json:"most,omitempty"`   // changes in a set; 0: 3
	Offer  []Change `json:"-"`                // what may be changed; nil: all that the line allows
}

func (a *Aim) check(m *Calibrated) error {
	if a.Speed == 0 {
		a.Speed = m.at
	}
	if a.Chance == 0 {
		a.Chance = 0.05
	}
	if a.Most == 0 {
		a.Most = 3
	}
	errs := []error{known.InRange("speed", a.Speed, 1e-4, 100), known.InRange("chance", a.Chance, 1e-3, 0.5),
		known.InRange("most", float64(a.Most), 1, 10)}
	for _, p := range a.Places {
		if m.station(p) < 0 {
			errs = append(errs, known.Wrong("places", p, "names of stations of the line"))
		}
	}
	return errors.Join(errs...)
}

// Plan is what to do, in the order in which it is to be done.
type Plan struct {
	// Stop says why nothing but earthing is planned: the question of zone and
	// flammables is not answered. Empty: it is.
	Stop   string
	Ground []ConductorPrediction // every conductor, whatever the aim: measured, not measured, isolated
	Aim    Aim                   // with its defaults
	// of the laws behind it, see [Prediction.Flags]: as the line runs now, at the speed wanted
	Flags   []string
	Before  float64 // [1] chance over the limit at the speed wanted, if nothing is done
	Cures   []Cure  // in the order of steps: earth, source, leak, neutralise, shield, slow down
	Refused []Cure  // with the reason, in the same order
	Set     []int   // indices in Cures: the fewest that reach the aim, or that come nearest
	After   float64 // [1] chance over the limit with the set
	Reached bool    // After is no more than Aim.Chance
	// Proven says that no smaller set of the cures reaches the aim, and none of the same size of earlier steps or at
	// a lower cost: all were tried, one change a station. More than 26 cures, and sets of more than three, are not.
	Proven  bool
	Fail    Failures  // what happens if one device of the set line fails
	Fastest Fastest   // of the set line
	Test    Test      // what to measure next
	Prove   []Proof   // what shows that it worked
	Pair    *PairNeed // where a balanced layer is over the limit that faces are judged by
}

// Cure is one change and what it brings at the speed wanted.
type Cure struct {
	Step          Step       // where it stands in the order
	Changes       Changes    // usually one
	Before, After float64    // [1] chance over the limit at any place that counts
	Prediction    Prediction // at every station
	// Raises are the stations whose net it raises by a tenth of the limit or more.
	Raises []string
	Helps  bool   // it moves the net or a face somewhere by a tenth of the limit
	Reason string // why it is refused, of no use here, or what it cannot do
}

// String says what is changed.
func (c Cure) String() string {
	s := c.Step.String() + ":"
	for i, x := range c.Changes {
		if i > 0 {
			s += ","
		}
		s += " " + x.String()
	}
	return s
}

// PairNeed is what two opposed emitters of opposite polarity must deliver at least
// to take a balanced layer off: σ·v on each face, by the greater face.
type PairNeed struct {
	Station string            // at which the layer is greatest
	PerFace units.LineCurrent // 95 % end
}

// Plan lists the cures that the line allows in the order of their steps, each with
// its effect at every station, refuses what cannot be done with the reason, and looks
// for the fewest that reach the aim. Zone and ground come first: while the question
// of zone and flammables is open it holds earthing only, whatever the aim. Errors are
// [*known.FieldError]s for the aim.
func (m *Calibrated) Plan(a Aim) (*Plan, error) { return m.PlanContext(context.Background(), a) }

// PlanContext is [Calibrated.Plan] that ends soon after ctx does; its error is then that of ctx.
func (m *Calibrated) PlanContext(ctx context.Context, a Aim) (*Plan, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if m.none() {
		return nil, errNone()
	}
	if err := a.check(m); err != nil {
		return nil, err
	}
	fast, err := m.Try(Run{a.Speed})
	if err != nil {
		return nil, err
	}
	p := &planner{Plan: Plan{Stop: m.site.Safety.Open(), Ground: fast.Conductors(), Aim: a}, ctx: ctx}
	w := fast.run(float64(a.Speed))
	p.Before = fast.chance(w, &a)
	base := fast.Predict()
	p.Flags = base.Flags()
	for _, c := range p.Ground {
		if c.Isolated {
			p.add(fast, &base, &a, Earth{Station: c.Station})
		}
	}
	if p.Stop != "" {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		return &p.Plan, nil
	}
	offer := a.Offer
	if offer == nil {
		offer = fast.allowed(ctx, &base, &a)
	}
	trying := progress.Begin(ctx, "trying changes", len(offer))
	for _, x := range offer {
		trying.Next()
		if _, earthed := x.(Earth); !earthed {
			p.add(fast, &base, &a, x)
		}
	}
	if a.Offer == nil {
		fast.leak(p, &base, &a)
	}
	byStep := func(x, y Cure) int { return int(x.Step) - int(y.Step) }
	slices.SortStableFunc(p.Cures, byStep)
	slices.SortStableFunc(p.Refused, byStep)
	best := p.choose(fast, &a)
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	progress.Begin(ctx, "looking for the greatest speed", 0)
	p.Fastest = best.MaxSpeed(a.Chance)
	if a.Speed > p.Fastest.Speed && p.Fastest.Speed > 0 && !p.Reached {
		p.add(fast, &base, &a, Run{p.Fastest.Speed})
	}
	progress.Begin(ctx, "trying failures", 0)
	p.Fail = best.IfOneFails()
	p.Test = best.test(&a)
	p.Prove = best.prove(&a)
	if a.Faces {
		p.Pair = best.pair()
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	return &p.Plan, nil
}

// planner is a plan while it is made.
type planner struct {
	Plan
	ctx context.Context // what it ends with
}

// chance is that of the aim: over the limit at any of its places.
func (m *Calibrated) chance(w *walked, a *Aim) float64 { // [1]
	net, face := m.over(w, a.Places)
	if a.Faces {
		return face
	}
	return net
}

// tenth is the share of the limit by which a cure must move a station to be of use.
const tenth = 0.1

// earthingOnly says what earthing does and what it does not.
const (
	earthingOnly = "first of all: " + earths
	earths       = "it ends the sparks from that metal and takes nothing of the charge of the "
)

// add tries a change and lists it among the cures or the refused.
func (p *planner) add(m *Calibrated, base *Prediction, a *Aim, x Change) {
	if p.ctx.Err() != nil {
		return
	}
	c := Cure{Step: x.Step(), Changes: []Change{x}, Before: p.Before}
	then, err := m.Try(x)
	if err != nil {
		c.Reason = whyNot(x, err)
		p.Refused = append(p.Refused, c)
		return
	}
	w := then.run(float64(then.at))
	c.After = then.chance(w, a)
	c.Prediction = then.Predict()
	limit := float64(m.line.Limit())
	for i := range c.Prediction.Stations {
		s := &c.Prediction.Stations[i]
		k := slices.IndexFunc(base.Stations, func(b StationPrediction) bool { return b.Name == s.Name })
		if k < 0 {
			continue
		}
		b := &base.Stations[k]
		moved := func(x, y Quantiles) bool { return math.Abs(x[1]-y[1]) >= tenth*limit }
		c.Helps = c.Helps || moved(s.Net, b.Net) || moved(s.A, b.A) || moved(s.B, b.B)
		if math.Abs(s.Net[1])-math.Abs(b.Net[1]) >= tenth*limit {
			c.Raises = append(c.Raises, s.Name)
		}
	}
	switch x := x.(type) {
	case Earth:
		c.Reason = earthingOnly + "web"
	case Shield:
		c.Reason = "it only delays: the charge stays on the web"
	case Blow:
		if c.Reason = "no use here"; c.Helps {
			c.Reason = m.airOf(x)
		}
	case Cover:
		c.Reason = "the gain is that of the other pair, not of a leaking cover: measure side by side before it is bought"
	default:
		if !c.Helps {
			c.Reason = "no use here"
		}
	}
	p.Cures = append(p.Cures, c)
}

// allowed lists the changes that the line allows, but for earthing and slowing down.
func (m *Calibrated) allowed(ctx context.Context, base *Prediction, a *Aim) []Change {
	var out []Change
	if s := m.leading(); s >= 0 {
		name := m.stages[s].name
		out = append(out, Load{Station: name, Times: 0.5})
		if m.stages[s].kind == line.Roller {
			out = append(out, Wrap{Station: name, Times: 0.5})
		}
		for _, t := range m.stages[s].touch {
			out = append(out, Cover{Station: name, Face: line.FaceA + line.Face(t.face), Strength: swap})
		}
	}
	for s := range m.stages {
		b := m.stages[s].bar
		if b == nil {
			continue
		}
		name, at, d := m.stages[s].name, m.desc.Stations[s].At, m.desc.Stations[s].Ioniser.Distance
		if b.off {
			out = append(out, Switch{name, true})
			continue
		}
		out = append(out, Clean{name})
		if gauge, ok := m.bestAir(s); ok {
			out = append(out, Blow{name, gauge})
		}
		first, second, from, to := m.span(at, true)
		if spot, err := BestSpotContext(ctx, first, second, to-from, d); err == nil {
			// Where no roller ends the span, its best place is that end: on the roll.
			edge := min(room, (to-from)/2)
			x := min(max(spot.At, edge), to-from-edge)
			if b.factor < flat*SpanFactor(first, second, to-from, x, d) {
				out = append(out, Move{Station: name, To: rounded(from + x)})
			}
		}
	}
	return append(out, m.bars(ctx, base, a)...)
}

// swap is the strength of another cover over the old one before any test: common
// practice, no source (charge.CoverSwap); 0.1 … 1.5 with 90 %.
var swap = known.Band{Value: 0.3872983346207417, Spread: 0.8231888104600644, Kind: known.LogNormal}

// leading is the contact that changes a face most, -1 without one.
func (m *Calibrated) leading() int {
	w := m.run(float64(m.at))
	best, most := -1, 0.0
	for s := range m.stages {
		if k := m.stages[s].kind; k != line.Roller && k != line.Nip {
			continue
		}
		x, y := make([]float64, Draws), make([]float64, Draws)
		for i := range x {
			a, b := m.arrives(w, s, i)
			x[i], y[i] = math.Abs(w.a[s][i]-a), math.Abs(w.b[s][i]-b)
		}
		if c := max(quantiles(x)[1], quantiles(y)[1]); c > most {
			best, most = s, c
		}
	}
	return best
}

// rounded is a position to the centimetre: nobody mounts a bar closer.
func rounded(x units.Length) units.Length {
	return units.Length(math.Round(float64(x)*100) / 100)
}

// room is what a bar leaves free to the roll, pile or roller behind it: no field factor
// keeps it off a roll, but the roll grows and turns there. A judgement.
const room = 100 * units.Millimetre

// bars proposes a bar in each span whose net is over the limit at a place that
// counts and where none stands before that place: at the begin of the range in which
// the field is that of the best place, so that as much of the span as can be is
// served. The last span gets one as well, and the nearest bar before it is offered
// there.
func (m *Calibrated) bars(ctx context.Context, base *Prediction, a *Aim) []Change {
	var out []Change
	const d = 25 * units.Millimetre
	done := map[units.Length]bool{}
	before := -1
	for _, s := range m.judged(a.Places) {
		if base.Stations[s].Over <= a.Chance {
			continue
		}
		at := m.desc.Stations[s].At
		first, second, from, to := m.span(at, false)
		served := false
		for k := range m.stages {
			if b := m.stages[k].bar; b != nil && m.desc.Stations[k].At <= at {
				before = k
				served = served || m.desc.Stations[k].At >= from && !b.off
			}
		}
		if done[from] || served {
			continue
		}
		done[from] = true
		spot, err := BestSpotContext(ctx, first, second, to-from, d)
		if err != nil {
			continue
		}
		x := rounded(from + max(spot.From, min(room, (to-from)/2)))
		out = append(out, Add{line.StationSpec{Name: "new bar behind " + m.behind(from), Kind: line.Ioniser, At: x,
			Ioniser: &line.IonSpec{Face: line.FaceA, Distance: d}}})
		if before >= 0 {
			out = append(out, Move{Station: m.stages[before].name, To: x})
		}
	}
	return out
}

// behind names the roller that stands at a position.
func (m *Calibrated) behind(at units.Length) string {
	for i := range m.desc.Stations {
		if s := &m.desc.Stations[i]; s.At == at && s.Kind != line.Place && s.Kind != line.Ioniser {
			return s.Name
		}
	}
	return fmt.Sprint(at)
}

// stationOf is the station that a change is of.
func stationOf(x Change) string {
	switch x := x.(type) {
	case Earth:
		return x.Station
	case Switch:
		return x.Station
	case Clean:
		return x.Station
	case Move:
		return x.Station
	case Blow:
		return x.Station
	case Remove:
		return x.Station
	case Add:
		return x.Station.Name
	case Cover:
		return x.Station + " " + x.Face.String()
	case Load:
		return x.Station
	case Wrap:
		return x.Station
	case Shield:
		return x.Station
	}
	return ""
}
