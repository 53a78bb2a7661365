package survey

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"example.org/pithball/charge/hazard"
	"example.org/pithball/humidity"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// Verdict is the answer to a survey in at most six plain lines, in the order in
// which they should be read, and the hazard notices that go with it.
type Verdict struct {
	Earth   string `json:"earth"`             // what to earth first
	Source  string `json:"source"`            // the main source, or that these readings cannot tell
	Measure string `json:"measure,omitempty"` // which measurement would tell more
	Do      string `json:"do"`                // what to do next
	DoNot   string `json:"doNot,omitempty"`   // what not to do
	Outlook string `json:"outlook,omitempty"` // the wanted speed

	Notices []known.Notice `json:"notices"` // hazards and limits of use
}

// Lines returns the lines that are not empty.
func (v *Verdict) Lines() []string {
	var out []string
	for _, s := range []string{v.Earth, v.Source, v.Measure, v.Do, v.DoNot, v.Outlook} {
		if s != "" {
			out = append(out, s)
		}
	}
	return out
}

// micro writes a charge density with two significant figures and its sign.
func micro(x float64) string { return signed2(x * 1e6) } // x [C/m²]

// signed2 writes a number with two significant figures, its sign and no exponent.
func signed2(x float64) string {
	x = round2(x)
	if x == 0 {
		return "0"
	}
	decimals := max(0, 1-int(math.Floor(math.Log10(math.Abs(x))+1e-12)))
	return strings.Replace(fmt.Sprintf("%+.*f", decimals, x), "-", "−", 1)
}

// round2 rounds to two significant figures.
func round2(x float64) float64 {
	if x == 0 || math.IsNaN(x) || math.IsInf(x, 0) {
		return x
	}
	p := math.Pow(10, math.Floor(math.Log10(math.Abs(x)))-1)
	return math.Round(x/p) * p
}

func micros(e Estimate) string {
	lo, mid, hi := e.Band()
	return fmt.Sprintf("%s (%s … %s) µC/m²", micro(mid), micro(lo), micro(hi))
}

// factor is the share of the field that the ioniser at a station sees.
func (d *Diagnosis) factor(station int) float64 {
	f, _ := d.line.PlaceFactor(station, d.desc.Stations[station].Ioniser.Distance, 0)
	return f
}

func (d *Diagnosis) name(station int) string { return d.desc.Stations[station].Name }

// Verdict says what the diagnosis means, in metric units.
func (d *Diagnosis) Verdict() (Verdict, error) { return d.VerdictIn(units.Metric) }

// VerdictIn says what the diagnosis means, with speeds and distances in the units
// of the system; charge densities stay in µC/m².
func (d *Diagnosis) VerdictIn(system units.System) (Verdict, error) {
	v := Verdict{Earth: d.earthLine(), Source: d.sourceLine()}
	if d.Next != nil {
		v.Measure = "Measure next: " + d.measurement(d.Next) + fmt.Sprintf("; it would settle about %.0f %% of what is still open.", 100*d.Next.Removes)
	}
	layer := d.doubleLayer()
	v.Do = d.doLine(layer)
	v.DoNot = d.doNotLine(layer, system)
	if err := d.outlookLine(&v, layer, system); err != nil {
		return v, err
	}
	v.Notices = d.notices(layer)
	return v, nil
}

func (d *Diagnosis) earthLine() string {
	var isolated, missing []string
	measured := 0
	for _, g := range d.Ground {
		if !g.Measured {
			missing = append(missing, d.name(g.Station))
			continue
		}
		measured++
		if !g.Isolated {
			continue
		}
		s := fmt.Sprintf("%s (%s to earth", d.name(g.Station), units.Resistance(round2(float64(g.Resistance))))
		if iso, ok := d.Isolated(g); ok {
			s += fmt.Sprintf("; charges to about %.1f kV", float64(iso.Voltage)/1e3)
			if iso.HighVoltage > iso.Voltage {
				s += fmt.Sprintf(", perhaps %.1f kV", float64(iso.HighVoltage)/1e3)
			}
			s += fmt.Sprintf(" and %.1f mJ", float64(iso.Energy)*1e3)
			if iso.Sparks {
				s += ", and sparks"
			}
		}
		isolated = append(isolated, s+")")
	}
	var s string
	switch {
	case len(isolated) > 0:
		s = "Earth first: " + strings.Join(isolated, "; ") + "."
	case measured > 0:
		s = fmt.Sprintf("Earth: the %d conductors measured read at most %v to earth.", measured, GroundLimit)
	default:
		s = "Earth: no conductor's resistance to earth was measured; do that before anything else."
	}
	if len(missing) > 0 && measured > 0 {
		s += " Not measured: " + strings.Join(missing, ", ") + "."
	}
	return s
}

func (d *Diagnosis) sourceLine() string {
	if d.Main >= 0 {
		var parts []string
		for k := range d.Changes {
			if c := &d.Changes[k]; c.Station == d.Main {
				parts = append(parts, fmt.Sprintf("face %s %s", c.Face, micros(c.Found)))
			}
		}
		return fmt.Sprintf("Main source: %s, %s.", d.name(d.Main), strings.Join(parts, ", "))
	}
	var who []string
	for i, w := range d.Leads {
		if i < 3 && w.Chance >= 0.02 {
			who = append(who, d.name(w.Station))
		}
	}
	return "Main source: these readings cannot tell (open: " + strings.Join(who, ", ") +
		"). A field meter in a free span sees only the sum of both faces; what a nip puts on the two faces with opposite signs stays hidden from it."
}

func (d *Diagnosis) measurement(s *Suggestion) string {
	if s.Quantity == line.OverRoller {
		return fmt.Sprintf("face %s with a non-contact voltmeter over %s, earthed", s.Face, d.name(s.Station))
	}
	return fmt.Sprintf("the field in the free span after %s, mid-span, four spots across", d.name(s.Station))
}

// layered is a place where the web carries nearly balanced charges.
type layered struct {
	station int
	a, b    Estimate
	net     Estimate
}

// doubleLayer returns the station where the display deceives most: each face
// above the limit and known to two standard deviations, and the smallest net
// charge, which must be below a third of the larger face. Nil if there is none.
func (d *Diagnosis) doubleLayer() *layered {
	var best *layered
	for i, s := range d.States {
		a, b := math.Abs(s.A.Value), math.Abs(s.B.Value)
		if s.A.Value*s.B.Value >= 0 || min(a, b) < float64(d.line.Limit()) || math.Abs(s.Net.Value) > max(a, b)/3 {
			continue
		}
		if a < 2*s.A.SD || b < 2*s.B.SD {
			continue
		}
		if best == nil || math.Abs(s.Net.Value) < math.Abs(best.net.Value) {
			best = &layered{i, s.A, s.B, s.Net}
		}
	}
	return best
}

func (d *Diagnosis) doLine(layer *layered) string {
	var parts []string
	if d.Main >= 0 {
		switch s := &d.desc.Stations[d.Main]; s.Kind {
		case line.Nip:
			parts = append(parts, "cure "+s.Name+" itself (cover material, load, slip)")
		case line.Unwind:
			parts = append(parts, "look at the roll as delivered and at its peel")
		default:
			parts = append(parts, "cure "+s.Name+" itself (slip, wrap, bearing drag, cover)")
		}
	}
	for i := range d.desc.Stations {
		if s := d.barPlace(i); s != "" {
			parts = append(parts, s)
		}
	}
	if len(parts) == 0 {
		if d.Next != nil {
			return "Do next: take that measurement before any money is spent."
		}
		return "Do next: repeat the survey at a second speed, on a dry day."
	}
	return "Do next: " + strings.Join(parts, "; ") + "."
}

// barPlace says what a badly placed ioniser would gain in mid-span.
func (d *Diagnosis) barPlace(i int) string {
	s := &d.desc.Stations[i]
	if s.Kind != line.Ioniser || d.factor(i) > 0.5 {
		return ""
	}
	found := d.ioniserShare(i)
	text := fmt.Sprintf("move %s to mid-span: where it stands it sees %.0f %% of the field", s.Name, 100*d.factor(i))
	if found.SD < 0.3 {
		text += fmt.Sprintf(" and took about %.0f %% of the net charge (± %.0f)", 100*math.Max(0, found.Value), 100*known.Z95*found.SD)
	}
	return text
}

// ioniserShare is the share of the net charge that an ioniser took, by the
// readings before and after it; its standard deviation to first order.
func (d *Diagnosis) ioniserShare(i int) Estimate {
	for k := range d.Changes {
		if d.Changes[k].Station != i {
			continue
		}
		x := d.mean[k]
		before := d.States[i].Net.Value - x
		if before == 0 {
			break
		}
		return Estimate{-x / before, math.Hypot(d.Changes[k].Found.SD/before, x*d.States[i].Net.SD/(before*before))}
	}
	return Estimate{math.NaN(), math.Inf(1)}
}

func (d *Diagnosis) doNotLine(layer *layered, system units.System) string {
	var parts []string
	if layer != nil {
		nominal := 25 * units.Millimetre
		if k := slices.IndexFunc(d.desc.Meters, func(m line.Meter) bool { return m.Kind == "field meter" }); k >= 0 {
			nominal = d.desc.Meters[k].Nominal
		}
		parts = append(parts, fmt.Sprintf("take a small display for no charge: after %s a meter %s off in mid-span shows only %s kV while the faces hold %s and %s µC/m²; they cancel outside, so no ordinary or passive bar removes them",
			d.name(layer.station), units.Display(nominal, system, 2), signed2(layer.net.Value/units.Epsilon0*float64(nominal)/1e3), micro(layer.a.Value), micro(layer.b.Value)))
	}
	if d.desc.Web.Humidity == humidity.Inert {
		parts = append(parts, "humidify for this: "+d.desc.Web.Material+" takes up no water and a free span has no path to earth")
	}
	if len(parts) == 0 {
		return ""
	}
	return "Do not: " + strings.Join(parts, "; nor ") + "."
}

func (d *Diagnosis) outlookLine(v *Verdict, layer *layered, system units.System) error {
	wish := d.desc.Wish
	if wish == 0 {
		return nil
	}
	o, err := d.At(wish)
	if err != nil {
		return err
	}
	at := d.line.Len() - 1
	if layer != nil {
		at = layer.station
	}
	worst := 0.0
	for _, p := range o.Over {
		worst = max(worst, p)
	}
	v.Outlook = fmt.Sprintf("At %s: after %s face A %s (%s … %s), face B %s (%s … %s) µC/m²", units.Display(wish, system, 3), d.name(at),
		micro(o.A[at][1]), micro(o.A[at][0]), micro(o.A[at][2]), micro(o.B[at][1]), micro(o.B[at][0]), micro(o.B[at][2]))
	switch {
	case layer != nil && d.Main >= 0:
		v.Outlook += "; not before " + d.name(d.Main) + " is cured."
	case worst > 0.5:
		v.Outlook += "; the net charge would be above the limit somewhere: not before the source is cured."
	default:
		v.Outlook += "."
	}
	return nil
}

// notices collects the hazards that the diagnosis touches and the cautions that
// go with every advice.
func (d *Diagnosis) notices(layer *layered) []known.Notice {
	var out []known.Notice
	add := func(id hazard.NoticeID, figure string) { out = append(out, id.Notice(figure)) }
	for _, g := range d.Ground {
		if g.Isolated {
			add(hazard.NoticeIsolatedConductor, fmt.Sprintf("%s, %v to earth", d.name(g.Station), units.Resistance(round2(float64(g.Resistance)))))
		}
	}
	if layer != nil {
		top := math.Max(math.Abs(layer.a.Value), math.Abs(layer.b.Value))
		add(hazard.NoticePropagatingBrush, fmt.Sprintf("%.2g µC/m² on a face, %.0f %% of 250 µC/m²; the layer's breakdown voltage is a second, separate condition", round2(top*1e6), 100*top/250e-6))
	}
	for i := range d.desc.Stations {
		if d.desc.Stations[i].Kind == line.Ioniser {
			add(hazard.NoticeHighVoltage, "")
			add(hazard.NoticeOzone, "")
			break
		}
	}
	add(hazard.NoticeReachIn, "")
	add(hazard.NoticeNotApproval, "")
	return out
}
