package report

import (
	"fmt"
	"time"

	"example.org/pithball/examples/internal/fillpage"
)

// freshColour is the band with the chosen changes.
const freshColour = "#8fc1c6"

// outlookPlot draws each place without and with the chosen changes; empty without any.
func (d *Decision) outlookPlot() string {
	var names []string
	ys := [2]float64{}
	for _, o := range d.Outlook {
		for _, b := range []*[3]float64{o.now, o.then} {
			if b == nil {
				continue
			}
			if !finite(b[:]...) {
				return ""
			}
			widen(&ys, b[:]...)
		}
		names = append(names, o.Name)
	}
	if len(names) == 0 {
		return ""
	}
	if d.limit > 0 {
		widen(&ys, -1.1*d.limit, 1.1*d.limit)
	}
	f := newFigure(wide, 9*centimetre, names, [2]float64{-0.6, float64(len(names)) - 0.4}, ys)
	f.title = "Charge at each place without and with the chosen changes"
	f.saying = "For each place two bands of 5 to 95 %. The same numbers stand in the table below."
	f.axes("charge, " + d.Unit)
	for i, o := range d.Outlook {
		f.name(f.x(float64(i)), o.Name)
		f.band(barColour, float64(i)-0.2, 0.17, o.now)
		f.band(freshColour, float64(i)+0.2, 0.17, o.then)
	}
	f.key(barColour, "as it is")
	f.key(freshColour, "with what is marked *")
	if d.limit > 0 {
		for _, y := range []float64{d.limit, -d.limit} {
			f.path(stroke{plumColour, 1, "4 3"}, [2]float64{f.left, f.y(y)}, [2]float64{f.right, f.y(y)})
		}
	}
	return f.String()
}

// band draws 5 … 95 % with the middle; nothing for nil. x and half are data.
func (f *figure) band(colour string, x, half float64, b *[3]float64) {
	if b == nil {
		return
	}
	l, r, mid := f.x(x-half), f.x(x+half), f.y(b[1])
	f.filled(colour, l, f.y(b[0]), r, f.y(b[2]))
	f.path(stroke{inkColour, 1.2, ""}, [2]float64{l, mid}, [2]float64{r, mid})
}

// key explains a colour.
func (f *figure) key(colour, words string) {
	x, y := f.legend(words)
	f.filled(colour, x, y-4, x+22, y+4)
	f.path(stroke{inkColour, 1.2, ""}, [2]float64{x, y}, [2]float64{x + 22, y})
}

// wayPlot draws the charge behind each stop.
func wayPlot(names []string, bands [][3]float64, unit string) (string, error) {
	ys := [2]float64{}
	for i, b := range bands {
		if !finite(b[:]...) {
			return "", fmt.Errorf("the charge behind %s is no number", names[i])
		}
		widen(&ys, b[:]...)
	}
	f := newFigure(wide, 8*centimetre, names, [2]float64{-0.6, float64(len(names)) - 0.4}, ys)
	f.title = "Charge behind each stop"
	f.saying = "For each stop the band of 5 to 95 %. The same numbers stand in the table below."
	f.axes("charge, " + unit)
	for i := range bands {
		f.name(f.x(float64(i)), names[i])
		f.band(barColour, float64(i), 0.28, &bands[i])
	}
	f.key(barColour, "5 … 95 %, line at the middle")
	return f.String(), nil
}

// Year is a forecast for one limit, in words and as a calendar of weeks.
type Year struct {
	Limit   string
	Lines   []string
	Weeks   []float64 // [1] share of each week from 1 January on in which the place is too dry; nil: not known
	Picture fillpage.HTML
}

// weekPlot is the calendar: a bar a week, dark where more than half of it is too dry.
func weekPlot(weeks []float64) string {
	if len(weeks) == 0 || !finite(weeks...) {
		return ""
	}
	n := float64(len(weeks))
	f := newFigure(wide, 5.5*centimetre, []string{"Jan"}, [2]float64{-1, n}, [2]float64{0, 100})
	f.title = "Weeks of the year in which the place is too dry"
	many := 0
	f.axes("too dry, % of the week")
	for i, s := range weeks {
		colour := barColour
		if s > 0.5 {
			colour = plumColour
			many++
		}
		x := float64(i)
		f.filled(colour, f.x(x-0.4), f.y(0), f.x(x+0.4), f.y(100*min(max(s, 0), 1)))
	}
	for m := time.January; m <= time.December; m++ {
		f.text(f.x((float64(m)-0.5)*n/12-0.5), f.bottom+12, ` text-anchor="middle"`, m.String()[:3])
	}
	f.saying = fmt.Sprintf("%d weeks from January on; in %d of them more than half of the hours are too dry.",
		len(weeks), many)
	return f.String()
}

// illustrate fills in the pictures of what was decided and of the years.
func illustrate(d *Decision, years []Year) ([]htmlDecision, []Year) {
	for i := range years {
		years[i].Picture = fillpage.HTML(weekPlot(years[i].Weeks))
	}
	if d == nil {
		return nil, years
	}
	h := htmlDecision{Stop: d.Stop, Aim: d.Aim, Word: d.word, Unit: d.Unit, Chosen: d.Chosen, Test: d.Test, Cures: d.Cures,
		Refused: d.Refused, More: d.More, Outlook: d.Outlook, Prove: d.Prove, Listed: len(d.Cures)+len(d.Refused) > 0,
		Limits: d.limit > 0, Displays: d.displays(), Picture: fillpage.HTML(d.outlookPlot())}
	for i := range h.Outlook {
		h.Outlook[i].Shown = h.Displays
	}
	if d.Fail != nil {
		h.Fails = []Failing{*d.Fail}
	}
	return []htmlDecision{h}, years
}

type htmlDecision struct {
	Stop, Aim, Word, Unit, Chosen, Test string
	Cures, Refused                      []Choice
	More                                []string
	Outlook                             []Outlook
	Fails                               []Failing // one or none
	Prove                               []Proof
	Picture                             fillpage.HTML
	Listed, Limits, Displays            bool
}

// Picture is the outlook as SVG; empty where nothing was chosen.
func (d *Decision) Picture() string { return d.outlookPlot() }

// MonthPicture is a year as SVG: a bar a month, dark where more than half of it is too dry. shares [1].
func MonthPicture(shares [12]float64) string {
	if !finite(shares[:]...) {
		return ""
	}
	f := newFigure(wide, 5.5*centimetre, []string{"Jan"}, [2]float64{-1, 12}, [2]float64{0, 100})
	f.title = "Months of the year in which the place is too dry"
	f.axes("too dry, % of the month")
	many := 0
	for i, s := range shares {
		colour := barColour
		if s > 0.5 {
			colour = plumColour
			many++
		}
		x := float64(i)
		f.filled(colour, f.x(x-0.4), f.y(0), f.x(x+0.4), f.y(100*min(max(s, 0), 1)))
		f.text(f.x(x), f.bottom+12, ` text-anchor="middle"`, time.Month(i + 1).String()[:3])
	}
	f.saying = fmt.Sprintf("From January on; in %d months more than half of the hours are too dry.", many)
	return f.String()
}
