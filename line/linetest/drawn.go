package linetest

import (
	"fmt"

	"example.org/pithball/decay"
	"example.org/pithball/humidity"
	"example.org/pithball/line"
	"example.org/pithball/units"
	"example.org/pithball/units/known"
	"example.org/pithball/units/lawtest"
)

// description draws a valid line.
func description(d *lawtest.Draw) *line.Description {
	l := &line.Description{Schema: line.Schema, Name: "drawn",
		Web: line.Web{Material: "film", Thickness: units.Length(20e-6), Width: units.Metre, Density: units.Density(900),
			RelativePermittivity: known.Band{Value: 2.2}, Humidity: humidity.Inert,
			VolumeResistivity: lawtest.Decades(d, "resistivity", units.VolumeResistivity(1e8), units.VolumeResistivity(1e17))},
		Speed: units.MetrePerSecond, Limit: line.Limit{Kind: line.ClingLimit},
		Air: line.AirSpec{Temperature: units.Celsius(22), RelativeHumidity: 30 * units.PercentRH, Pressure: units.Atmosphere}}
	const most = units.SurfaceChargeDensity(80e-6)
	change := func(f line.Face) line.ChangeSpec {
		return line.ChangeSpec{Face: f, Spread: units.MicrocoulombPerSquareMetre,
			Median:   lawtest.Between(d, "change", -most, most),
			Exposure: lawtest.Between(d, "exposure", units.Ratio(0.01), units.Ratio(5)),
			Speed:    known.Band{Value: lawtest.Between(d, "exponent", -1.0, 1)}}
	}
	face := func() line.Face { return lawtest.Pick(d, "face", line.FaceA, line.FaceB) }
	l.Stations = append(l.Stations, line.StationSpec{Name: "unwind", Kind: line.Unwind,
		Change: []line.ChangeSpec{change(line.FaceA), change(line.FaceB)}})
	at := units.Length(0)
	between := lawtest.List(d, "station", 0, 7, func(i int) line.StationSpec {
		at += lawtest.Between(d, "step", 50*units.Millimetre, 3*units.Metre) // zones of bars must not overlap
		s := line.StationSpec{Name: fmt.Sprint("station ", i+1), At: at,
			Kind: lawtest.Pick(d, "kind", line.Place, line.Roller, line.Nip, line.Ioniser)}
		switch s.Kind {
		case line.Roller, line.Nip:
			s.Roller = &line.RollerSpec{Radius: 50 * units.Millimetre, Kind: line.BareMetal}
			if d.Bool("insulating") {
				s.Roller.Kind, s.Roller.Cover = line.InsulatingCover,
					lawtest.Decades(d, "cover", 1e-3*units.Second, 1e4*units.Second)
			}
			s.Change = []line.ChangeSpec{change(face())}
			if s.Kind == line.Nip {
				s.Change = append(s.Change, change(s.Change[0].Face.Other()))
			}
		case line.Ioniser:
			s.Gap = lawtest.Between(d, "gap", units.Millimetre, units.Metre)
			s.Ioniser = &line.IonSpec{Face: face(), Distance: 25 * units.Millimetre, Zone: 50 * units.Millimetre,
				Conductivity: lawtest.Decades(d, "conductivity", units.Conductivity(1e-12), units.Conductivity(1e-7)),
				Supply:       lawtest.Between(d, "supply", units.LineCurrent(1e-7), units.LineCurrent(1e-3))}
		case line.Place:
			s.Gap = 300 * units.Millimetre
		}
		if d.Bool("leaks") {
			s.Leak = &line.LeakSpec{Path: decay.EarthedEdge,
				Time: lawtest.Decades(d, "leak", 1e-3*units.Second, 1e3*units.Second)}
		}
		return s
	})
	winder := line.StationSpec{Name: "winder", Kind: line.Winder, At: at + units.Metre}
	l.Stations = append(append(l.Stations, between...), winder)
	return l
}

// spoiled is a model whose results are changed after the run.
type spoiled struct {
	Model
	d     *line.Description
	spoil func(d *line.Description, res []line.Result)
}

func (s spoiled) RunTo(dst []line.Result, v units.Speed) int {
	n := s.Model.RunTo(dst, v)
	s.spoil(s.d, dst[:n])
	return n
}

// spoil makes a maker whose models are spoiled.
func spoil(f func(d *line.Description, res []line.Result)) Maker {
	return func(d *line.Description) (Model, error) {
		m, err := line.New(d)
		return spoiled{m, d, f}, err
	}
}

func last(res []line.Result) *line.Result { return &res[len(res)-1] }

// longer takes each span 1 mm longer than it is.
func longer(d *line.Description) (Model, error) {
	e := *d
	e.Stations = append([]line.StationSpec(nil), d.Stations...)
	for i := range e.Stations {
		e.Stations[i].At += units.Length(float64(i) * 1e-3)
		if e.Stations[i].Leak == nil {
			e.Stations[i].Leak = &line.LeakSpec{Path: decay.EarthedEdge, Time: units.Second}
		}
	}
	return line.New(&e)
}
