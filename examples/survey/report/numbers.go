package report

import (
	"fmt"
	"math"
	"time"
	"unicode"

	"example.org/pithball/internal/written"
	"example.org/pithball/line"
	"example.org/pithball/line/survey"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// kilo writes volts as kV with two significant figures.
func kilo(v float64) string {
	if math.IsNaN(v) {
		return "–"
	}
	if math.Abs(v) < 100 { // the last digit of a display is 10 V
		return signed(math.Round(v/10)/100, 1)
	}
	return signed(v/1e3, 2)
}

// nominal writes the distance of a meter: it stays the metric one that the maker set,
// with inches to the sixteenth beside it for a reader who works in them.
func nominal(l units.Length, s units.System) string {
	mm := units.Display(l, units.Metric, 2)
	if s != units.US {
		return mm
	}
	return fmt.Sprintf("%s (%v in)", mm, math.Round(16*float64(l)/float64(units.Inch))/16)
}

// ground is the word for the earth that goes with the units.
func (r *Report) ground() string { return groundWord(r.system) }

func groundWord(s units.System) string {
	if s == units.US {
		return "ground"
	}
	return "earth"
}

// least is what no meter of the trade resolves, in kV as in µC/m²: less is written as 0.
const least = 5e-4

// Figure writes a number with n significant figures, as the tables do.
func Figure(x float64, n int) string { return signed(x, n) }

// signed writes n significant figures with a true minus sign and no exponent.
func signed(x float64, n int) string {
	if math.IsNaN(x) {
		return "–"
	}
	if math.Abs(x) < least {
		return "0"
	}
	return written.Figure(x, n)
}

// band writes "mid (lo … hi)" with no digit that the band does not support.
func band(b [3]float64, scale float64) string {
	lo, mid, hi := bandOf(b, scale)
	if lo == "0" && hi == "0" {
		return "0"
	}
	return fmt.Sprintf("%s (%s … %s)", mid, lo, hi)
}

// signedBand is a band with the signs of positive figures.
func signedBand(b [3]float64, scale float64) string {
	lo, mid, hi := bandOf(b, scale)
	return fmt.Sprintf("%s (%s … %s)", written.Plus(mid), written.Plus(lo), written.Plus(hi))
}

func bandOf(b [3]float64, scale float64) (lo, mid, hi string) {
	for i := range b {
		if b[i] *= scale; math.Abs(b[i]) < least {
			b[i] = 0
		}
	}
	return written.Band(b[0], b[1], b[2])
}

// displayDigit is the last digit of a display. [kV]
const displayDigit = 0.01

// kiloBand writes a band of volts as kV.
func kiloBand(b [3]float64) string {
	lo, mid, hi := written.BandTo(displayDigit, b[0]/1e3, b[1]/1e3, b[2]/1e3)
	return fmt.Sprintf("%s kV (%s … %s)", mid, lo, hi)
}

func estimateBand(e survey.Estimate) [3]float64 {
	lo, mid, hi := e.Band()
	return [3]float64{lo, mid, hi}
}

func ruled(s stationRow) string {
	if s.Ruled == line.Nothing {
		return "–"
	}
	if f := flagged(s); f != "" {
		return s.Ruled.String() + " (" + f + ")"
	}
	return s.Ruled.String()
}

// flagged has the flags of the model of an ioniser in words, "" for none.
func flagged(s stationRow) string {
	if s.Validity == known.Inside {
		return ""
	}
	return s.Validity.String()
}

func limitWords(kind line.LimitKind) string {
	switch kind {
	case line.ClingLimit:
		return "image attraction equals the weight of the sheet"
	case line.FieldLimit:
		return "5 kV/in, one author's practice, not a standard"
	}
	return "chosen by the plant"
}

// position writes a place along the web path.
func position(at units.Length, s units.System) string {
	if s == units.US {
		return fmt.Sprintf("%.2f ft", float64(at)/float64(units.Foot))
	}
	return fmt.Sprintf("%.2f m", float64(at))
}

// measured is the day of the readings, or the first and the last; empty if none has a date.
func (r *Report) measured() string {
	var first, last time.Time
	for i := range r.in.Survey.Readings {
		t := r.in.Survey.Readings[i].Time
		if t.IsZero() {
			continue
		}
		if first.IsZero() || t.Before(first) {
			first = t
		}
		if t.After(last) {
			last = t
		}
	}
	const day = "2006-01-02"
	switch {
	case first.IsZero():
		return ""
	case first.Format(day) == last.Format(day):
		return "on " + first.Format(day)
	}
	return "from " + first.Format(day) + " to " + last.Format(day)
}

// trueMinus writes the sign of negative numbers in a text as a minus sign.
func trueMinus(s string) string {
	b := []rune(s)
	for i := 0; i+1 < len(b); i++ {
		if b[i] == '-' && unicode.IsDigit(b[i+1]) && (i == 0 || b[i-1] == ' ' || b[i-1] == '(') {
			b[i] = '−'
		}
	}
	return string(b)
}
