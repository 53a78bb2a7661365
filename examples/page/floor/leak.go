package floor

import (
	"bytes"
	"math"

	"example.org/pithball/humidity"
	"example.org/pithball/line"
	"example.org/pithball/line/cure"
	"example.org/pithball/line/survey"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
)

// leastStep is how far apart the humidities of two decay times are to tell a slope.
const leastStep = 3 * units.PercentRH

// leak is how the goods lose charge against humidity, by the decay times among the readings.
type leak struct {
	law   humidity.LogLinear[units.Time]
	class humidity.Class
}

// leakOf fits the decay times of a survey, each at its humidity; nil: there are no two at unlike humidities.
func leakOf(s *survey.Survey, class humidity.Class) (*leak, error) {
	var points []humidity.Point[units.Time]
	low, high := math.Inf(1), math.Inf(-1)
	for i := range s.Readings {
		r := &s.Readings[i]
		if r.Quantity != line.DecayTime || !r.HasAir || r.AtLeast || !(r.Value > 0) {
			continue
		}
		points = append(points, humidity.Point[units.Time]{RH: r.AirHumidity, Value: units.Time(r.Value)})
		low, high = min(low, float64(r.AirHumidity)), max(high, float64(r.AirHumidity))
	}
	if !(high-low >= float64(leastStep)) {
		return nil, nil
	}
	law, err := humidity.FitLogLinear(points, nil)
	if err != nil {
		return nil, err
	}
	return &leak{law, class}, nil
}

// survey reads the readings alone, without a diagnosis.
func (q *files) survey() (*survey.Survey, error) {
	csv, err := SurveyFile(q.Rows)
	if err != nil {
		return nil, err
	}
	return survey.ReadSurvey(bytes.NewReader(csv))
}

// site is what was answered of the line, with its law of leak where the readings give one.
func (q *files) site(s *survey.Survey, d *line.Description) (*cure.Site, error) {
	site := &cure.Site{Safety: q.Safety}
	if s == nil {
		return site, nil
	}
	k, err := leakOf(s, d.Web.Humidity)
	if k == nil {
		return site, err
	}
	low, high := k.law.Range()
	at := (low + high) / 2
	site.Leak = &cure.LeakLaw{Class: k.class, At: at, Time: k.law.At(at), Decades: k.law.DecadesPerPercent(),
		Spread: k.law.DecadesAt(at)}
	return site, nil
}

// ratio reads a number that has no unit, as a share of what is now.
func ratio(field, s string) (units.Ratio, error) {
	v, err := units.Parse[units.Ratio](s)
	if err != nil || !(v > 0) {
		return 0, known.Wrong(field, s, "a number above 0, such as 0.5 for half of it")
	}
	return v, nil
}
