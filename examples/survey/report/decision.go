package report

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"text/tabwriter"

	"example.org/pithball/internal/written"
	"example.org/pithball/line"
	"example.org/pithball/line/cure"
	"example.org/pithball/units"
)

// Decision is what to do, in words, for text and page alike: a plan of cures with its
// outlook, what happens if one ioniser fails, and what proves it.
type Decision struct {
	Stop    string // why nothing but earthing is planned; empty: nothing stops it
	Ground  []Conductor
	Aim     string
	Cures   []Choice
	Refused []Choice
	Chosen  string   // what the marked ones reach
	More    []string // sentences: a driven pair, the greatest speed or rate
	Outlook []Outlook
	Unit    string   // of the outlook
	Fail    *Failing // nil: no ioniser
	Test    string
	Prove   []Proof

	limit float64 // [unit of the outlook] of the net charge, 0: none
	word  string  // earth or ground
}

// Conductor is a metal part and what is known of its path to earth.
type Conductor struct{ Name, Text string }

// Choice is one change.
type Choice struct {
	Number              int
	Step, What          string
	Before, After, More string // chances over the limit, empty of earthing: it changes none
	Chosen              bool
	Set                 string // what it is in the set, where that differs from what it is alone
}

// Outlook is a place without and with the chosen changes.
type Outlook struct {
	Name, Now, Then, OverNow, OverThen, Display string
	Shown                                       bool // whether a meter reads one of the places

	now, then *[3]float64 // [unit of the outlook]; nil: not there then
}

// Failing is the table of what happens if one ioniser fails: a row a place.
type Failing struct {
	Columns []string // all on, then each that is off
	Rows    []FailingRow
}

// FailingRow is one place.
type FailingRow struct {
	Name  string
	Cells []FailingCell
}

// FailingCell is the charge with its chance over the limit.
type FailingCell struct{ Label, Text string }

// Proof is what shows that it worked.
type Proof struct{ Place, Speed, Expect, Pass string }

// Chance writes a probability.
func Chance(x float64) string {
	switch {
	case x < 0.01:
		return "under 1 %"
	case x > 0.99:
		return "over 99 %"
	}
	return fmt.Sprintf("%.0f %%", 100*x)
}

// Kilovolts writes a display with two figures.
func Kilovolts(v float64) string { return kilo(v) }

// middle writes the middle of quantiles in millionths as their band would.
func middle(q cure.Quantiles) string {
	_, mid, _ := bandOf(q, 1e6)
	return written.Plus(mid)
}

// Micro writes quantiles in millionths.
func Micro(q cure.Quantiles) string { return signedBand(q, 1e6) }

// Volts writes the quantiles of a display in kV, "–" where no meter reads.
func Volts(q cure.Quantiles) string {
	if math.IsNaN(q[1]) {
		return "–"
	}
	return kiloBand(q)
}

// upTo writes a speed that may not be exceeded: rounded down to two figures in its unit.
func upTo(v units.Speed, s units.System) string {
	per := units.MetrePerMinute
	if s == units.US {
		per = units.FootPerMinute
	}
	return units.Display(units.Speed(written.Down(float64(v)/float64(per))*float64(per)), s, 2)
}

// Decide puts a plan into words. now is the line without any change at the wanted
// speed, then with what was chosen; both are nil where the plan stops.
func Decide(p *cure.Plan, now, then *cure.Prediction, limit units.SurfaceChargeDensity, system units.System) *Decision {
	word := groundWord(system)
	d := &Decision{Stop: p.Stop, Unit: "µC/m²", limit: float64(limit) * 1e6, word: word}
	for i := range p.Ground {
		d.Ground = append(d.Ground, conductor(&p.Ground[i], word))
	}
	speed := func(v units.Speed) string { return units.Display(v, system, 3) }
	if p.Stop == "" {
		what := "the net charge"
		if p.Aim.Faces {
			what = "the net charge or a single face"
		}
		d.Aim = fmt.Sprintf("Aim: %s over the limit anywhere with at most %s at %s. If nothing is done: %s.", what,
			Chance(p.Aim.Chance), speed(p.Aim.Speed), Chance(p.Before))
	}
	for i := range p.Cures {
		c := &p.Cures[i]
		x := choice(c)
		x.Number = i + 1
		for _, k := range p.Set {
			x.Chosen = x.Chosen || k == i
		}
		if at := raised(c); len(at) > 0 {
			x.More = joined("raises the net at "+strings.Join(at, ", "), x.More)
		}
		x.More = joined(lowered(c, now, float64(limit)), x.More)
		d.Cures = append(d.Cures, x)
	}
	if p.Stop != "" {
		return d
	}
	for i := range p.Refused {
		d.Refused = append(d.Refused, choice(&p.Refused[i]))
	}
	switch {
	case p.Reached && len(p.Set) == 0:
		d.Chosen = "The aim is met as the line is: " + Chance(p.After) + "."
	case p.Reached:
		d.Chosen = "The fewest that reach the aim are marked *: " + Chance(p.After) + "."
		if !p.Proven {
			d.Chosen = "These reach the aim, marked *: " + Chance(p.After) + ". Not all sets were tried: fewer may do."
		}
	case len(p.Set) > 0:
		d.Chosen = "Nothing offered reaches the aim; what comes near it is marked *: " + Chance(p.After) + "."
		if !p.Proven {
			d.Chosen += " Not all sets were tried."
		}
	default:
		d.Chosen = "Nothing offered brings the line nearer to the aim."
	}
	if p.Pair != nil {
		d.More = append(d.More, fmt.Sprintf("A balanced layer goes at its source or by a driven pair of %s µA/m a face at "+
			"%s, by no other bar.", signed(1e6*float64(p.Pair.PerFace), 2), p.Pair.Station))
	}
	if then != nil && !p.Aim.Faces && then.AnyFace > 0.5 && then.AnyFace > p.After {
		d.More = append(d.More, fmt.Sprintf("This judges the net charge only: single faces stay over the limit with %s, "+
			"which shows "+
			"when the web is cut, stacked or peeled; plan with -faces for that.", Chance(then.AnyFace)))
	}
	switch {
	case p.Fastest.Speed > 0 && p.Fastest.Beyond:
		d.More = append(d.More, fmt.Sprintf("Greatest speed of that line: %s, where the range of the survey ends: read at a "+
			"higher speed first.", upTo(p.Fastest.Speed, system)))
	case p.Fastest.Speed > 0:
		d.More = append(d.More, fmt.Sprintf("Greatest speed of that line: %s; beyond it %s is over the limit first.",
			upTo(p.Fastest.Speed, system), p.Fastest.Station))
	}
	if p.Fastest.Speed == 0 && p.Fastest.Station != "" {
		d.More = append(d.More, fmt.Sprintf("No surveyed speed of that line keeps to the aim: %s is over the limit at the "+
			"slowest of them already. What a slower one brings, tells try with run; it costs output and comes last.",
			p.Fastest.Station))
	}
	d.outlook(now, then)
	d.failing(p)
	if p.Test.What != "" {
		d.Test = p.Test.What + " – " + p.Test.Why
	}
	for _, x := range p.Prove {
		d.Prove = append(d.Prove, Proof{x.Station, speed(x.Speed), kiloBand(x.Expect), kilo(float64(x.Pass)) +
			" kV either sign"})
	}
	return d
}

func joined(a, b string) string {
	if a == "" || b == "" {
		return a + b
	}
	return a + "; " + b
}

func choice(c *cure.Cure) Choice {
	var what []string
	for _, x := range c.Changes {
		what = append(what, strings.Join(strings.Fields(x.String()), " "))
	}
	x := Choice{Step: c.Step.String(), What: strings.Join(what, ", "), More: c.Reason}
	x.chances(c.Step, c.Before, c.After)
	return x
}

// chances writes what a cure does; of earthing, which does nothing to the goods, two equal figures would read like a
// cure that failed or like one that holds.
func (c *Choice) chances(step cure.Step, before, after float64) {
	if step != cure.Earthing {
		c.Before, c.After = Chance(before), Chance(after)
	}
}

// text is the cure in one paragraph.
func (c *Choice) text() string {
	head := c.Step + ": " + c.What
	if c.Before == "" {
		return head + " – " + c.More
	}
	return joined(fmt.Sprintf("%s – %s, then %s", head, c.Before, c.After), c.More)
}

func conductor(c *cure.ConductorPrediction, word string) Conductor {
	text := "not measured, counts as isolated"
	switch {
	case c.Measured && c.Isolated && c.Current == 0:
		text = ohms(c.Resistance) + ", ISOLATED: takes no charge from the web as it runs"
	case c.Measured && c.Isolated && c.Voltage == 0:
		text = ohms(c.Resistance) + ", ISOLATED: what it charges to is not known, its sparkover voltage is not described"
	case c.Measured && c.Isolated && c.Energy == 0:
		text = fmt.Sprintf("%s, ISOLATED: up to %s kV; the energy of a spark is not known, its capacity is not described",
			ohms(c.Resistance), kilo(float64(c.Voltage)))
	case c.Measured && c.Isolated:
		text = fmt.Sprintf("%s, ISOLATED: up to %s kV and %s mJ", ohms(c.Resistance), kilo(float64(c.Voltage)),
			signed(1e3*float64(c.Energy), 2))
		if c.Every > 0 {
			text += fmt.Sprintf(", at worst a spark every %s s", signed(float64(c.Every), 1))
		}
	case c.Measured:
		text = ohms(c.Resistance) + ", " + word + "ed"
	}
	return Conductor{c.Station, text}
}

// ohms writes a resistance with two figures; what is far below any limit as such.
func ohms(r units.Resistance) string {
	if r < units.Ohm {
		return "below 1 Ω"
	}
	return units.Resistance(written.Round(float64(r), 2)).String()
}

// raised are the places and the winder among the stations whose net a cure raises.
func raised(c *cure.Cure) (out []string) {
	for _, name := range c.Raises {
		for i := range c.Prediction.Stations {
			if s := &c.Prediction.Stations[i]; s.Name == name && (s.Kind == line.Place || s.Kind == line.Winder) {
				out = append(out, name)
			}
		}
	}
	return out
}

// lowered says where a cure brings the net, or a face where no net falls, down most, by a tenth of the limit at least.
func lowered(c *cure.Cure, now *cure.Prediction, limit float64) string {
	if now == nil {
		return ""
	}
	net, face := "", ""
	mostNet, mostFace := 0.1*limit, 0.1*limit
	for i := range c.Prediction.Stations {
		s := &c.Prediction.Stations[i]
		k := slices.IndexFunc(now.Stations, func(o cure.StationPrediction) bool { return o.Name == s.Name })
		if k < 0 || s.Kind != line.Place && s.Kind != line.Winder {
			continue
		}
		was := &now.Stations[k]
		if fall := math.Abs(was.Net[1]) - math.Abs(s.Net[1]); fall > mostNet {
			mostNet = fall
			net = fmt.Sprintf("net at %s %s to %s", s.Name, middle(was.Net), middle(s.Net))
		}
		fall := max(math.Abs(was.A[1]), math.Abs(was.B[1])) - max(math.Abs(s.A[1]), math.Abs(s.B[1]))
		if fall > mostFace {
			mostFace = fall
			face = fmt.Sprintf("faces at %s %s/%s to %s/%s", s.Name, middle(was.A), middle(was.B),
				middle(s.A), middle(s.B))
		}
	}
	if net == "" || c.Step == cure.AtSource {
		net = joined(face, net)
	}
	if net != "" {
		net += " µC/m²"
	}
	return net
}

func (d *Decision) outlook(now, then *cure.Prediction) {
	if now == nil || then == nil {
		return
	}
	for i := range then.Stations {
		s := &then.Stations[i]
		if s.Kind != line.Place && s.Kind != line.Winder {
			continue
		}
		x := Outlook{Name: s.Name, Now: "new", OverNow: "–", Then: Micro(s.Net), OverThen: Chance(s.Over),
			Display: Volts(s.Display),
			then:    scaled(s.Net, 1e6)}
		for k := range now.Stations {
			if o := &now.Stations[k]; o.Name == s.Name {
				x.Now, x.OverNow, x.now = Micro(o.Net), Chance(o.Over), scaled(o.Net, 1e6)
			}
		}
		d.Outlook = append(d.Outlook, x)
	}
}

func scaled(q [3]float64, by float64) *[3]float64 {
	return &[3]float64{q[0] * by, q[1] * by, q[2] * by}
}

func (d *Decision) failing(p *cure.Plan) {
	if len(p.Fail.Rows) < 2 {
		return
	}
	d.Fail = &Failing{}
	for _, r := range p.Fail.Rows {
		name := "all on"
		if r.Out != "" {
			name = r.Out + " out"
		}
		d.Fail.Columns = append(d.Fail.Columns, name)
	}
	for k, name := range p.Fail.Stations {
		row := FailingRow{Name: name}
		for i, r := range p.Fail.Rows {
			row.Cells = append(row.Cells, FailingCell{d.Fail.Columns[i], middle(r.Net[k]) + ", " + Chance(r.Over[k])})
		}
		d.Fail.Rows = append(d.Fail.Rows, row)
	}
}

// charge names what the outlook is of.
func (d *Decision) charge() string {
	if d.limit > 0 {
		return "net charge"
	}
	return "charge"
}

// displays says whether a meter of the description reads one of the places.
func (d *Decision) displays() bool {
	return slices.ContainsFunc(d.Outlook, func(o Outlook) bool { return o.Display != "–" })
}

// Text writes the decision for a terminal.
func (d *Decision) Text(b *strings.Builder) {
	if d.Stop != "" {
		fmt.Fprintf(b, "STOP: %s. Until then only %sing and reading.\n"+
			"The answers about the site settle it (-site of the survey program, site= in a notebook).\n\n",
			d.Stop, d.word)
	}
	fmt.Fprintf(b, "%s, before anything else:\n", strings.ToUpper(d.word[:1])+d.word[1:])
	for _, c := range d.Ground {
		fmt.Fprintf(b, "- %s: %s\n", c.Name, c.Text)
	}
	if d.Aim != "" {
		fmt.Fprintf(b, "\n%s\n", Wrap(d.Aim, 96, ""))
	}
	if len(d.Cures) > 0 {
		b.WriteString("\nCures in their order, each alone; chance over the limit before and after:\n")
	}
	for _, c := range d.Cures {
		mark := " "
		if c.Chosen {
			mark = "*"
		}
		fmt.Fprintf(b, "%s %2d. %s\n", mark, c.Number, Wrap(c.text(), 90, "      "))
	}
	for _, c := range d.Refused {
		fmt.Fprintf(b, "  no  %s\n", Wrap(c.Step+": "+c.What+" – "+c.More, 90, "      "))
	}
	if d.Chosen != "" {
		fmt.Fprintf(b, "\n%s\n", Wrap(d.Chosen, 96, ""))
	}
	for _, s := range d.More {
		fmt.Fprintf(b, "%s\n", Wrap(s, 96, ""))
	}
	t := tabwriter.NewWriter(b, 0, 0, 2, ' ', 0)
	if len(d.Outlook) > 0 {
		fmt.Fprintf(b, "\nWith what is marked: %s in %s, 5 … 95 %% in brackets; chance over the limit\n\n", d.charge(),
			d.Unit)
		fmt.Fprint(t, "place\tnow\t\tthen\t")
		if d.displays() {
			fmt.Fprint(t, "\tdisplay then")
		}
		fmt.Fprintln(t)
		for _, x := range d.Outlook {
			fmt.Fprintf(t, "%s\t%s\t%s\t%s\t%s", x.Name, x.Now, x.OverNow, x.Then, x.OverThen)
			if d.displays() {
				fmt.Fprintf(t, "\t%s", x.Display)
			}
			fmt.Fprintln(t)
		}
		t.Flush()
	}
	if d.Fail != nil {
		fmt.Fprintf(b, "\nIf one ioniser fails: net in %s, chance over the limit\n\n", d.Unit)
		fmt.Fprintf(t, "place\t%s\n", strings.Join(d.Fail.Columns, "\t"))
		for _, r := range d.Fail.Rows {
			fmt.Fprint(t, r.Name)
			for _, c := range r.Cells {
				fmt.Fprintf(t, "\t%s", c.Text)
			}
			fmt.Fprintln(t)
		}
		t.Flush()
	}
	if d.Test != "" {
		fmt.Fprintf(b, "\nMeasure next: %s\n", Wrap(d.Test, 82, "  "))
	}
	if len(d.Prove) > 0 {
		b.WriteString("\nProof that it worked, on a dry day, both faces\n\n")
		fmt.Fprintln(t, "place\tat\texpected\tpasses below")
		for _, x := range d.Prove {
			fmt.Fprintf(t, "%s\t%s\t%s\t%s\n", x.Place, x.Speed, x.Expect, x.Pass)
		}
		t.Flush()
	}
}
