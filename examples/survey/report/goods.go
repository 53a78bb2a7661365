package report

import (
	"cmp"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"
	"text/tabwriter"

	"example.org/pithball/charge/hazard"
	"example.org/pithball/humidity"
	"example.org/pithball/internal/written"
	"example.org/pithball/line/cure"
	"example.org/pithball/line/survey"
	"example.org/pithball/line/upkeep"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Goods is the report of goods that are no web: sheets, parts, a profile, doses.
type Goods struct {
	in      *GoodsInput
	system  units.System
	unit    string  // as the shop says it
	scale   float64 // [shop unit per unit of the body]
	plan    *cure.GoodsPlan
	chosen  []int // in plan.Cures
	after   float64
	slow    units.Frequency // of the set, where slowing down is one of several changes; 0: it is not
	now     []cure.StopPrediction
	then    []cure.StopPrediction // nil: nothing chosen
	hazards []upkeep.Hazard
	wish    []cure.StopPrediction // at the wanted rate; nil: none is wanted
}

// GoodsInput is described goods with the answers of the people who are responsible.
type GoodsInput struct {
	Goods *cure.Goods
	Route *cure.Route
	Site  cure.Site
	Name  string            // of the file, as the reader knows it
	Rate  units.Frequency   // wanted; 0: that of the description
	Cold  units.Temperature // of the coldest goods that come in; 0: not asked
}

// shop is the unit in which a charge of each body is spoken of.
var shop = map[cure.BodyKind]struct {
	unit  string
	scale float64
	body  string
}{cure.SheetBody: {"µC/m²", 1e6, "sheet"}, cure.PartBody: {"nC", 1e9, "part"},
	cure.ProfileBody: {"µC/m", 1e6, "metre of profile"}, cure.DoseBody: {"nC/g", 1e6, "gram of the dose"}}

// NewGoods works the report out.
func NewGoods(in *GoodsInput, system units.System) (*Goods, error) {
	s := shop[in.Goods.Kind]
	r := &Goods{in: in, system: system, unit: s.unit, scale: s.scale}
	route := in.Route
	r.now = route.Predict(0)
	if in.Rate > 0 {
		fast, err := route.Try(cure.Pace{Rate: in.Rate})
		if err != nil {
			return nil, err
		}
		route = fast
		r.wish = route.Predict(in.Rate)
	}
	r.plan = route.Plan(in.Cold)
	r.hazards = in.Route.Hazards()
	return r, r.choose(route)
}

// choose takes the first change that reaches the aim alone; else changes in their order
// until it is reached, each that helps; slowing down comes last, and only as far as the
// others leave it to do.
func (r *Goods) choose(route *cure.Route) error {
	r.after = r.plan.Before
	if r.plan.Stop != "" {
		return nil
	}
	const aim = 0.05
	if r.after <= aim {
		return nil
	}
	var changes []cure.GoodsChange
	add := func(k int, x cure.GoodsChange) bool {
		list := append(slices.Clone(changes), x)
		then, err := route.Try(list...)
		if err != nil {
			return false
		}
		after := left(then).Before
		if after >= r.after-0.005 {
			return false
		}
		changes, r.chosen = list, append(r.chosen, k)
		r.after, r.then = after, then.Predict(0)
		return true
	}
	for k, c := range r.plan.Cures {
		if c.Reaches && c.Change != nil && c.Step != cure.SlowDown && !strings.HasPrefix(c.Reason, "wets") {
			add(k, c.Change)
			return nil
		}
	}
	for k, c := range r.plan.Cures {
		if c.Change == nil || r.after <= aim || strings.HasPrefix(c.Reason, "wets") {
			continue
		}
		if c.Step != cure.SlowDown || len(changes) == 0 {
			add(k, c.Change)
			continue
		}
		then, err := route.Try(changes...)
		if err != nil {
			return err
		}
		if rate := left(then).MaxRate; rate > 0 && add(k, cure.Pace{Rate: r.whole(rate)}) {
			r.slow = r.whole(rate)
		}
	}
	return nil
}

// left is a plan without cures: what the goods are and how fast they may run.
func left(route *cure.Route) *cure.GoodsPlan { return route.Plan(0, []cure.GoodsChange{}...) }

func (r *Goods) band(q [3]float64) string { return band(q, r.scale) + " " + r.unit }

// whole is a rate that may not be exceeded, rounded down.
func (r *Goods) whole(f units.Frequency) units.Frequency {
	return units.Frequency(written.Rate(float64(f), float64(r.in.Goods.Rate)))
}

// pace writes a rate as the shop does, in the words that fit the described one.
func (r *Goods) pace(f units.Frequency) string {
	if written.Hourly(float64(r.in.Goods.Rate)) {
		return fmt.Sprintf("%.0f an hour", 3600*float64(f))
	}
	return strconv.FormatFloat(60*float64(f), 'g', 3, 64) + " a minute"
}

func (r *Goods) speed() string {
	if r.in.Goods.Kind == cure.ProfileBody {
		return units.Display(r.in.Goods.Speed, r.system, 3)
	}
	return r.pace(r.in.Goods.Rate)
}

// Decision is the plan in words.
func (r *Goods) Decision() *Decision {
	p := r.plan
	d := &Decision{Stop: p.Stop, Unit: r.unit, word: groundWord(r.system)}
	for _, c := range p.Ground {
		text := ohms(c.Resistance) + ", " + d.word + "ed"
		switch {
		case c.Resistance == 0:
			text = "not measured, counts as isolated"
		case c.Resistance > survey.GroundLimit:
			text = ohms(c.Resistance) + ", ISOLATED"
		}
		d.Ground = append(d.Ground, Conductor{c.Name, text})
	}
	cures := func(list []cure.GoodsCure) (out []Choice) {
		for i, c := range list {
			x := Choice{Number: i + 1, Step: c.Step.String(), What: c.What, More: c.Reason}
			x.chances(c.Step, c.Before, c.After)
			if p, ok := c.Change.(cure.Pace); ok {
				x.What = "run at " + r.pace(p.Rate)
				if r.slow > 0 && slices.Contains(r.chosen, i) {
					x.Set = "run at " + r.pace(r.slow)
					x.More = joined("with what is marked before it, at "+r.pace(r.slow), x.More)
				}
			}
			if c.Water > 0 {
				x.More = joined(signed(3600*float64(c.Water), 2)+" kg/h of water more", x.More)
			}
			if c.Needed > 0 {
				x.More = joined(fmt.Sprintf("asks for %s nA of ions, %s … %s come", signed(1e9*float64(c.Needed), 2),
					signed(1e9*float64(c.Brought[0]), 2), signed(1e9*float64(c.Brought[2]), 2)), x.More)
			}
			out = append(out, x)
		}
		return out
	}
	d.Cures, d.Refused = cures(p.Cures), cures(p.Refused)
	if p.Stop != "" {
		return d
	}
	for _, k := range r.chosen {
		d.Cures[k].Chosen = true
	}
	d.Aim = fmt.Sprintf("Aim: a chance of at most 5 %% of %s. If nothing is done: %s.", r.limitWords(), Chance(p.Before))
	switch {
	case p.Before <= 0.05:
		d.Chosen = "The aim is met as it is."
	case r.after <= 0.05:
		d.Chosen = "What is marked * reaches the aim: " + Chance(r.after) + "."
	case len(r.chosen) > 0:
		d.Chosen = "Nothing offered reaches the aim; what comes nearest is marked *: " + Chance(r.after) + "."
	default:
		d.Chosen = "Nothing offered brings the goods nearer to the aim."
	}
	if p.MaxRate > 0 {
		d.More = append(d.More, "Without any change the aim is met up to "+r.pace(r.whole(p.MaxRate))+".")
	}
	base := r.now
	if r.wish != nil {
		base = r.wish
	}
	for i, s := range r.then {
		d.Outlook = append(d.Outlook, Outlook{Name: s.Name, Now: band(base[i].Charge, r.scale), OverNow: Chance(base[i].Over),
			Then: band(s.Charge, r.scale), OverThen: Chance(s.Over), Display: "–", now: scaled(base[i].Charge, r.scale),
			then: scaled(s.Charge, r.scale)})
	}
	return d
}

// limitWords says what counts as too much.
func (r *Goods) limitWords() string {
	g := r.in.Goods
	switch {
	case g.Limit == 0 && g.Kind == cure.DoseBody:
		return fmt.Sprintf("more than 5 %% of the doses outside ±%v by the charge", g.Scatter.Tolerance)
	case g.Limit == 0:
		return fmt.Sprintf("a charge above %s %s, at which a sheet clings against its own weight",
			signed(r.in.Route.Limit()*r.scale, 2), r.unit)
	}
	return fmt.Sprintf("a charge above %s %s", signed(g.Limit*r.scale, 2), r.unit)
}

// Lines are the verdict, at most seven, in the order in which they are to be read.
func (r *Goods) Lines() []string {
	g := r.in.Goods
	var out []string
	word := groundWord(r.system)
	title := strings.ToUpper(word[:1]) + word[1:]
	var isolated, open []string
	for _, c := range g.Conductors {
		switch {
		case c.Resistance == 0:
			open = append(open, c.Name)
		case c.Resistance > survey.GroundLimit:
			isolated = append(isolated, fmt.Sprintf("%s (%s to %s)", c.Name, ohms(c.Resistance), word))
		}
	}
	earth := title + ": no metal part is listed; measure every one before anything else"
	switch {
	case len(isolated) > 0:
		earth = title + " first: " + strings.Join(isolated, "; ")
	case len(g.Conductors) > len(open):
		earth = fmt.Sprintf("%s: the parts measured read at most 1 MΩ to %s", title, word)
	case len(open) > 0:
		earth = title + ": no part was measured; do that before anything else"
	}
	if len(open) > 0 {
		earth += ". Not measured: " + strings.Join(open, ", ")
	}
	out = append(out, earth+".")
	v := r.plan.Verdict
	switch {
	case len(v) == 0:
		out = append(out, "Main source: none; no stop is thought to charge.")
	case v[0].Chance >= 0.5:
		out = append(out, fmt.Sprintf("Main source: %s gives %s to each %s; chance that it gives the most: %s.", v[0].Name,
			r.band(v[0].Gain), shop[g.Kind].body, Chance(v[0].Chance)))
	default:
		var list []string
		for _, s := range v[:min(3, len(v))] {
			list = append(list, s.Name+" "+Chance(s.Chance))
		}
		out = append(out, "Main source: these readings cannot tell ("+strings.Join(list,
			", ")+"); read the charge before and "+
			"behind each.")
	}
	out = append(out, r.state("Now, at "+r.speed(), r.now))
	if air := r.air(); air != "" {
		out = append(out, air)
	}
	if r.wish != nil {
		out = append(out, r.state("At "+r.pace(r.in.Rate), r.wish))
	}
	d := r.Decision()
	var next []string
	for _, c := range d.Cures {
		if c.Chosen {
			next = append(next, cmp.Or(c.Set, c.What))
		}
	}
	switch {
	case r.plan.Stop != "":
		first := ""
		if len(isolated)+len(open) > 0 || len(g.Conductors) == 0 {
			first = word + " what is not, and "
		}
		out = append(out, fmt.Sprintf("Do next: %shave zone and flammables decided (%s).", first, r.plan.Stop))
	case len(next) > 0:
		out = append(out, fmt.Sprintf("Do next: %s; the chance of too much falls from %s to %s.", strings.Join(next, "; "),
			Chance(r.plan.Before), Chance(r.after)))
	default:
		out = append(out, "Do next: "+strings.ToLower(d.Chosen[:1])+d.Chosen[1:])
	}
	var not []string
	for _, c := range d.Refused {
		not = append(not, c.What+" ("+c.More+")")
	}
	for _, c := range d.Cures {
		if strings.HasPrefix(c.More, "it treats") || strings.Contains(c.More, "wets goods") {
			not = append(not, "rely on "+c.What+" ("+c.More+")")
		}
	}
	if len(not) > 0 {
		out = append(out, "Do not: "+strings.Join(not, "; nor ")+".")
	}
	return out
}

func (r *Goods) state(lead string, at []cure.StopPrediction) string {
	k := r.counts(at)
	return fmt.Sprintf("%s: %s behind %s; chance of %s: %s.", lead, r.band(at[k].Charge), at[k].Name, r.limitWords(),
		Chance(at[k].Over))
}

// air says which humidity counts, where that is not the one at the hygrometer.
func (r *Goods) air() string {
	for i := range r.in.Goods.Airs {
		a := &r.in.Goods.Airs[i]
		if a.From == "" {
			continue
		}
		here, there := r.in.Route.Air(a.Name), r.in.Route.Air(a.From)
		return fmt.Sprintf("Air: %s at %s is %s; at %s, %s, the same water is only %s.", a.From,
			units.Display(there.Temperature(), r.system, 3), units.Display(there.RelativeHumidity(), r.system, 2), a.Name,
			units.Display(here.Temperature(), r.system, 3), units.Display(here.RelativeHumidity(), r.system, 2))
	}
	return ""
}

// Notices are the hazards, each condition once.
func (r *Goods) Notices() []known.Notice { return Merged(r.hazards, r.system) }

// Merged has each condition of a list once, with the figures of all its places.
func Merged(list []upkeep.Hazard, system units.System) []known.Notice {
	var out []known.Notice
	for _, h := range list {
		n := h.Notice
		if k := slices.IndexFunc(out, func(o known.Notice) bool { return o.Code == n.Code }); k >= 0 {
			out[k].Figure = joined(out[k].Figure, n.Figure)
			continue
		}
		if system == units.US {
			n = hazard.Grounding(n)
		}
		out = append(out, n)
	}
	return out
}

// ShopUnit is the unit in which a charge of a body is spoken of, and how many of it are
// one unit of the body.
func ShopUnit(kind cure.BodyKind) (unit string, scale float64) {
	return shop[kind].unit, shop[kind].scale
}

// Band writes quantiles times a scale: the middle, and 5 … 95 % in brackets.
func Band(q [3]float64, scale float64) string { return band(q, scale) }

// Text prints the verdict first, then the hazards, then the stops and the plan.
func (r *Goods) Text(w io.Writer) error {
	g := r.in.Goods
	var b strings.Builder
	fmt.Fprintln(&b, g.Name)
	if g.Note != "" {
		fmt.Fprintln(&b, Wrap(g.Note, 96, ""))
	}
	fmt.Fprintln(&b)
	for i, s := range r.Lines() {
		fmt.Fprintf(&b, "%d. %s\n", i+1, Wrap(s, 94, "   "))
	}
	fmt.Fprintln(&b, "\nHazards and limits of use")
	for _, n := range r.Notices() {
		fmt.Fprintf(&b, "- %s\n", Wrap(n.String(), 94, "  "))
	}
	fmt.Fprintf(&b, "\nStops at %s; charge in %s behind each, 5 … 95 %% in brackets\n\n", r.speed(), r.unit)
	t := tabwriter.NewWriter(&b, 0, 0, 2, ' ', 0)
	fmt.Fprintln(t, "stop\tkind\tair\tcharge\tover the limit")
	for _, s := range r.stops() {
		fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s\n", s.Name, s.Kind, s.Air, s.Charge, s.Over)
	}
	t.Flush()
	if list := r.readings(); len(list) > 0 {
		fmt.Fprintf(&b, "\nReadings beside what is expected after all of them, %s\n\n", r.unit)
		fmt.Fprintln(t, "behind\tread\texpected")
		for _, x := range list {
			fmt.Fprintf(t, "%s\t%s\t%s\n", x.Name, x.Read, x.Expected)
		}
		t.Flush()
	}
	if name, list := r.damp(); len(list) > 0 {
		fmt.Fprintf(&b, "\nCharge behind %s over the year, with the goods conditioned at that humidity, %s\n\n", name, r.unit)
		for _, x := range list {
			fmt.Fprintf(t, "%s\t%s\n", x.Air, x.Charge)
		}
		t.Flush()
	}
	fmt.Fprintf(&b, "\nWhere the charge may come from\n\n")
	fmt.Fprintf(t, "stop\tchance\tgives, %s\n", r.unit)
	for _, s := range r.plan.Verdict {
		fmt.Fprintf(t, "%s\t%s\t%s\n", s.Name, Chance(s.Chance), band(s.Gain, r.scale))
	}
	t.Flush()
	_, err := io.WriteString(w, b.String())
	return err
}

type goodsStop struct{ Name, Kind, Air, Charge, Over string }

func (r *Goods) stops() (out []goodsStop) {
	for i, s := range r.now {
		d := &r.in.Goods.Stations[i]
		x := goodsStop{s.Name, d.Kind.String(), "–", band(s.Charge, r.scale), Chance(s.Over)}
		if d.Air != "" {
			a := r.in.Route.Air(d.Air)
			x.Air = units.Display(a.RelativeHumidity(), r.system, 2) + " at " + units.Display(a.Temperature(), r.system, 3)
		}
		out = append(out, x)
	}
	return out
}

// goodsDamp is what humidity does to the charge at the stop that counts.
type goodsDamp struct{ Air, Charge string }

// damp has the charge where it counts over the humidities of a year; nil where moisture
// does nothing. The name is that of the stop.
func (r *Goods) damp() (name string, out []goodsDamp) {
	leaks := false
	for i := range r.in.Goods.Stations {
		s := &r.in.Goods.Stations[i]
		leaks = leaks || s.Slope > 0 || s.Path != 0 && r.in.Goods.Leak.Class != humidity.Inert
	}
	if !leaks {
		return "", nil
	}
	name = r.now[r.counts(r.now)].Name
	for rh := 20; rh <= 60; rh += 10 {
		x := cure.GoodsReading{Station: name, RelativeHumidity: units.RelativeHumidity(rh) / 100}
		out = append(out, goodsDamp{fmt.Sprintf("%d %%RH", rh), band(r.in.Route.Expect(&x), r.scale)})
	}
	return name, out
}

// counts is the stop whose charge is judged: the last, or of a dose whose grains scatter
// that with the greatest charge.
func (r *Goods) counts(at []cure.StopPrediction) int {
	k := len(at) - 1
	if r.in.Goods.Limit == 0 && r.in.Goods.Kind == cure.DoseBody {
		for i := range at {
			if math.Abs(at[i].Charge[1]) > math.Abs(at[k].Charge[1]) {
				k = i
			}
		}
	}
	return k
}

type goodsReading struct{ Name, Read, Expected string }

func (r *Goods) readings() (out []goodsReading) {
	list := r.in.Route.Readings()
	for i := range list {
		x := &list[i]
		name := x.Station
		if x.RelativeHumidity > 0 {
			name += ", " + units.Display(x.RelativeHumidity, r.system, 2)
		}
		out = append(out, goodsReading{name, written.Within(x.Charge*r.scale, x.Spread*r.scale),
			band(r.in.Route.Expect(x), r.scale)})
	}
	return out
}
