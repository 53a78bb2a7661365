package humidity

import (
	"context"
	"example.org/pithball/units"
	"example.org/pithball/units/compute"
	"example.org/pithball/units/known"
)

// outdoors is the outdoor air of an entry.
type outdoors struct {
	Model       AirModel
	Temperature units.Temperature
	RH          float64
	Reference   Reference
	Pressure    units.Pressure
}

func (o outdoors) air() (Air, error) {
	return o.Model.AirFrom(o.Pressure, DryBulb(o.Temperature), given(o.Reference, o.RH))
}

func roomComputations() []compute.Entry {
	balance := known.Source{Provenance: known.Computed, Cite: "balance of dry air and water of a " +
		"ventilated room, closed form"}
	heat := known.Source{Provenance: known.Computed, Cite: "analogy of heat and mass transfer (Lewis), " +
		"integrated by Runge-Kutta"}
	const outside = aModel + "; outdoor" + anyT + ": outdoor dry bulb; rh [1] 0…3: outdoor relative humidity; " + aOver +
		"; " + aPressure
	const room = "volume 1…1e7: of the hall; ventilation 1e-6…1e4: outdoor air; counted {indoor|outdoor}: state at " +
		"which the flow is counted; " +
		"gain -10…10: moisture gain; _"
	const indoor = "indoor" + anyT + ": indoor temperature"
	type rhs = units.RelativeHumidity
	return []compute.Entry{
		compute.Of("Room", func(o outdoors, t units.Temperature, start rhs, dt units.Time, rs RoomSpec) (steady rhs,
			ratio units.HumidityRatio, after rhs, changes units.Frequency, dew units.Temperature, err error) {
			out, err := o.air()
			if err != nil {
				return
			}
			r, err := NewRoom(rs)
			if err != nil {
				return
			}
			in, err := r.Steady(out, t)
			if err != nil {
				return
			}
			first, err := o.Model.Air(t, start, o.Pressure)
			if err != nil {
				return
			}
			later, err := r.After(dt, first, out)
			if err != nil {
				return
			}
			back, err := r.OutdoorFor(in, out.Temperature())
			return in.RelativeHumidity(), in.HumidityRatio(), later.RelativeHumidity(), r.AirChanges(), back.DewPoint(), err
		}, balance, "= Indoor air of a ventilated hall against outdoor air: steady, and a time after it was at a start "+
			"humidity. W_in = W_out + G/ṁ.",
			outside, indoor, "start 0…1: indoor relative humidity over water at the start; time 0…1e9: since the start", room,
			"-> rh_steady: relative humidity, steady; ratio_steady: humidity ratio, steady; rh_after: relative "+
				"humidity after the time; "+
				"air_changes: ventilation over volume; outdoor_dew_point: outdoor dew point that gives the steady "+
				"state, found backwards"),
		compute.Of52("Room.SeriesTo", func(o outdoors, t units.Temperature, start rhs, dt units.Time, rs RoomSpec) (rhs,
			error) {
			r, err := NewRoom(rs)
			if err != nil {
				return 0, err
			}
			out, err := o.air()
			if err != nil {
				return 0, err
			}
			first, err := o.Model.Air(t, start, o.Pressure)
			if err != nil {
				return 0, err
			}
			var one [1]Air
			err = r.SeriesTo(one[:], dt, first, []Air{out})
			return one[0].RelativeHumidity(), err
		}, balance, outside, indoor, "start 0…1: indoor relative humidity over water at the start; time 1e-3…1e9: step", room,
			"-> rh_after: relative humidity after one step"),
		compute.Of("Humidifier", func(o outdoors, t units.Temperature, hold rhs, feed units.Temperature,
			rs RoomSpec) (water units.MassFlow,
			steam, evaporation units.Power, held rhs, err error) {
			out, err := o.air()
			if err != nil {
				return
			}
			r, err := NewRoom(rs)
			if err != nil {
				return
			}
			target, err := o.Model.Air(t, hold, o.Pressure)
			if err != nil {
				return
			}
			d, err := r.Humidify(out, target, feed)
			if err != nil {
				return
			}
			wet, err := r.Adding(d.Water)
			if err != nil {
				return
			}
			in, err := wet.Steady(out, t)
			return d.Water, d.Steam, d.Evaporation, in.RelativeHumidity(), err
		}, balance, "= Water and heat to hold a hall at a humidity: H = ṁ(W_target − W_out) − G.",
			outside, indoor, "target 0…1: relative humidity over water to hold; feed 273.15…373.15: temperature "+
				"of the feed water", room,
			"! humidity", "-> water: evaporated; steam: heat of steam; evaporation: heat taken from the room by evaporation; "+
				"rh_held: relative humidity with that water set free"),
		compute.Of43("SpellsBelow", func(rh rhs, t units.Temperature, p units.Pressure, hours [3]rhs) (total,
			longest units.Time, err error) {
			series := make([]Air, len(hours))
			for i, h := range hours {
				if series[i], err = NewAir(t, h, p); err != nil {
					return
				}
			}
			s, err := SpellsBelow(series, units.Hour, t, rh)
			return s.Total, s.Longest, err
		}, known.Source{Provenance: known.Computed, Cite: "counting of hours"},
			"rh 0…1: relative humidity over water needed; temperature"+anyT+": of the place", aPressure,
			"hour# 0…1: relative humidity in that hour -> below: time below; longest: longest unbroken time below"),
		compute.Of("ColdBody", func(ctx context.Context, t units.Temperature, rh rhs, p units.Pressure,
			start units.Temperature, cs ColdBodySpec) (condenses bool,
			peak units.BasisWeight, until, dry units.Time, err error) {
			air, err := NewAir(t, rh, p)
			if err != nil {
				return
			}
			b, err := NewColdBody(cs)
			if err != nil {
				return
			}
			w, err := b.WetContext(ctx, air, start)
			return Condenses(air, start), w.Peak, w.WetUntil, w.DryAt, err
		}, heat, "= Condensation on a cold metal body brought into a room: greatest water film, when it stops "+
			"gathering, when the body is dry.",
			"temperature 273.15…330: room; rh 0…1: relative humidity of the room over water", aPressure,
			"start 213.15…330: body when it comes in; heat_per_area [J/(m²·K)] 100…1e8: heat capacity per exposed area; "+
				"convection [W/(m²·K)] 0.5…500: film coefficient; radiation [W/(m²·K)] 0…10: linearised",
			"-> condenses: water condenses; peak: greatest film; wet_until: water stops gathering; dry_at: last water gone"),
		compute.Of11("SteelRoll", func(d units.Length) float64 { return SteelRoll(d).HeatPerArea },
			known.Source{Provenance: known.CommonPractice, Note: "7850 kg/m³, 490 J/(kg·K)"},
			"= Heat capacity per exposed area of a solid steel cylinder, ρ c d/4.",
			"diameter 1e-3…5: of the roll -> heat_per_area [J/(m²·K)]: heat capacity per area"),
	}
}
