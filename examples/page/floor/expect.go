package floor

import (
	"fmt"
	"math"

	"example.org/pithball/line"
	"example.org/pithball/line/cure"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// asked is the request for what a reading that is not yet taken should show.
type asked struct {
	files
	Look struct {
		Station  string `json:"station"`
		Quantity string `json:"quantity"`
		Face     string `json:"face"`
		Distance string `json:"distance"` // of a field meter
		Meter    string `json:"meter"`
	} `json:"look"`
}

// Expected is what such a reading shows.
type Expected struct {
	Faults  []Fault    `json:"faults"`
	Text    string     `json:"text"`    // "−4.2 … −1.1 kV"; empty: nothing can be said
	Band    [3]float64 `json:"band"`    // [V] 5, 50, 95 %
	Assumed bool       `json:"assumed"` // no reading of charge stands behind it
}

// expect joins what is known of the charge at a place with what a reading of it scatters by itself. Where the same was
// read before, it is the diagnosis' own band of that reading.
func expect(q *asked) (*Expected, error) {
	e := &Expected{Faults: []Fault{}}
	Fill(q.Line)
	_, l, fs := lineOf(&q.files)
	if fs != nil {
		e.Faults = fs
		return e, nil
	}
	look := line.Look{Station: q.Look.Station, Meter: q.Look.Meter, Running: true}
	err := look.Quantity.UnmarshalText([]byte(q.Look.Quantity))
	if err == nil {
		err = look.Face.UnmarshalText([]byte(q.Look.Face))
	}
	if err == nil && look.Quantity == line.FieldMeter {
		look.Distance, err = units.Parse[units.Length](q.Look.Distance)
	}
	var w line.View
	if err == nil {
		w, err = l.View(&look)
	}
	if err != nil {
		e.Faults = faults("", err)
		return e, nil
	}
	if w.Unused != "" {
		return e, nil
	}
	var a, b, net cure.Quantiles
	if e.Assumed = !q.charged(); e.Assumed {
		m, fs := calibrated(&q.files)
		if fs != nil {
			e.Faults = fs
			return e, nil
		}
		s := m.Predict().Stations[w.Station]
		a, b, net = s.A, s.B, s.Net
	} else {
		taken, g, fs := surveyOf(&q.files, l)
		if fs != nil {
			e.Faults = fs
			return e, nil
		}
		for _, f := range g.Fits {
			if r := &taken.Readings[f.Reading].Look; f.Used && r.Station == look.Station && r.Quantity == look.Quantity &&
				r.Face == look.Face && r.Distance == look.Distance && r.Meter == look.Meter {
				e.say(f.Band, look.Quantity) // it was read there: what place and meter have in common is known as well
				return e, nil
			}
		}
		s := g.States[w.Station]
		a, b = cure.Quantiles{s.A.Low, s.A.Value, s.A.High}, cure.Quantiles{s.B.Low, s.B.Value, s.B.High}
		net = cure.Quantiles{s.Net.Low, s.Net.Value, s.Net.High}
	}
	e.say(displayBand(l, &w, a, b, net), look.Quantity)
	return e, nil
}

func (e *Expected) say(band [3]float64, q line.Quantity) {
	unit, scale := "kV", 1e-3
	if q == line.OverRoller {
		unit, scale = "V", 1
	}
	e.Band, e.Text = band, fmt.Sprintf("%s … %s %s", figure(band[0]*scale), figure(band[2]*scale), unit)
}

// displayBand adds the spread of what is known and that of the reading: as squares, each to its side. A meter that sees
// both faces alike sees their sum, which is known better than either.
func displayBand(l *line.Line, w *line.View, a, b, net cure.Quantiles) [3]float64 {
	both := math.Min(w.OnA, w.OnB)
	restA, restB := w.OnA-both, w.OnB-both
	mid := both*net[1] + restA*a[1] + restB*b[1]
	own := known.Z95 * l.Deviation(w, mid)
	side := func(k int) float64 {
		return math.Sqrt(math.Pow(both*(net[k]-net[1]), 2) + math.Pow(restA*(a[k]-a[1]), 2) +
			math.Pow(restB*(b[k]-b[1]), 2) + own*own)
	}
	return [3]float64{mid - side(0), mid, mid + side(2)}
}
